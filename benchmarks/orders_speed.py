"""How fast the orders are built, and what their ornaments cost.

    python benchmarks/orders_speed.py

A porch of six Corinthian columns with modillions, dentils and a whole balustrade, built
several times over; then the same with twice the columns, to show that memory goes with
distinct shapes and only its placements with repeats.
"""

from __future__ import annotations

import sys
import time
import tracemalloc
from statistics import median

import numpy as np

from massing.canon import fit_order, plates, spacing_axis_m
from massing.design.porch import BalustradeDesign
from massing.geometry.mesh import Floats
from massing.geometry.solids import translations
from massing.parts.orders.balustrade import balustrade
from massing.parts.orders.column import column
from massing.parts.orders.entablature import entablature
from massing.parts.part import Part

MOST_SECONDS = 1.0
REPEATS = 5


def porch(order: str, columns: int, depth_m: float = 3.0) -> list[Part]:
    """Columns, entablature and crowning balustrade of a porch, half a metre in diameter."""
    fitted = fit_order(order, diameter_m=0.5)
    axis, _ = spacing_axis_m(fitted, "canon")
    axes = np.column_stack([axis * np.arange(columns), np.zeros(columns)])
    half, span = fitted.upper_diameter_m / 2.0, axis * (columns - 1)
    path = [(-half, depth_m), (-half, -half), (span + half, -half), (span + half, depth_m)]
    feet = translations(np.column_stack([axes, np.zeros(columns)]))
    parts = [p.placed(feet) for p in column(fitted)]
    parts += entablature(fitted, path, back_m=2.0 * half, column_axes=axes)
    height = 0.75 * fitted.entablature_height_m
    baluster = height / 1.5
    design = BalustradeDesign(
        height, baluster / 3, baluster / 6, 2 * half, 1.4 * baluster / 3, baluster / 3
    )
    back = axes[[0, -1]] + [0.0, depth_m]
    runs = [(i, i + 1) for i in range(columns - 1)] + [(columns, 0), (columns - 1, columns + 1)]
    return parts + balustrade(design, axes, runs, free_ends=back)


def bytes_of(parts: list[Part]) -> tuple[int, int]:
    """Bytes of the shapes, and of the placements."""
    shapes = sum(p.mesh.vertices.nbytes + p.mesh.faces.nbytes for p in parts)
    return shapes, sum(p.placements.nbytes for p in parts if p.placements is not None)


def seconds(order: str, columns: int) -> float:
    """Median time to build."""
    times: list[float] = []
    for _ in range(REPEATS):
        began = time.perf_counter()
        porch(order, columns)
        times.append(time.perf_counter() - began)
    return median(times)


def triangles(parts: list[Part]) -> Floats:
    """Distinct and placed triangles."""
    return np.array(
        [[len(p.mesh.faces), len(p.mesh.faces) * p.count] for p in parts], dtype=float
    ).sum(axis=0)


def main() -> int:
    """Print the figures; 1 when the porch takes longer than it may."""
    began = time.perf_counter()
    count = len(plates())
    print(f"reading the canon: {count} plates in {time.perf_counter() - began:.2f} s")
    print(
        f"{'order':15}{'columns':>8}{'seconds':>9}{'shapes MB':>11}{'places MB':>11}"
        f"{'triangles':>12}{'placed':>12}"
    )
    slow = 0.0
    for order, columns in (
        ("tuscan", 6),
        ("doric", 6),
        ("ionic", 6),
        ("corinthian", 6),
        ("corinthian", 12),
        ("composite", 6),
    ):
        took = seconds(order, columns)
        parts = porch(order, columns)
        shapes, places = bytes_of(parts)
        distinct, placed = triangles(parts)
        print(
            f"{order:15}{columns:8}{took:9.3f}{shapes / 1e6:11.2f}{places / 1e6:11.3f}"
            f"{distinct:12,.0f}{placed:12,.0f}"
        )
        if columns == 6:
            slow = max(slow, took)
    tracemalloc.start()
    porch("corinthian", 6)
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    print(f"peak while building six Corinthian columns: {peak:.0f} MB")
    print(f"slowest six-column porch {slow:.2f} s, allowed {MOST_SECONDS:.0f} s")
    return int(slow > MOST_SECONDS)


if __name__ == "__main__":
    sys.exit(main())
