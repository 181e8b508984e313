"""How fast a house is built, and what its tiles and bricks cost.

    python benchmarks/house_speed.py

A five-bay house under some 8,000 barrel tiles and under some 40,000 plain tiles; the first
again with every brick of its walls, more than 20,000; and with wings. Seconds are the processor's,
the best of several builds from nothing. Memory: what a roof three times as long adds, which
should be placements, the tiles cut along its ridge, and hardly any other shapes.
"""

from __future__ import annotations

import sys
import time
import tracemalloc
from typing import Any

from massing.build import house as model
from massing.design.design import Design
from massing.parts.part import Part
from massing.resolve.design import resolve
from massing.scene.spec import Scene

REPEATS = 5
SHAPES_OF_ADDED = 0.05  # shapes that a longer roof may add, to its placements

TILES_8000 = {"covering": "barrel tile"}
TILES_40000 = {"covering": "plain tile"}


def five_bays(width_ft: float, depth_ft: float, roof: dict[str, Any], **house: Any) -> Design:
    """A brick house of two storeys with a flat-roofed porch."""
    body = {
        "width": f"{width_ft} ft",
        "depth": f"{depth_ft} ft",
        "storeys": ["13 ft", "11 ft"],
        "walls": "brick",
        "bays": 5,
        "bay_spacing": "11 ft",
        **house,
    }
    scene = {
        "title": "A house to time",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "house": body,
        "porch": {"height": "10 ft"},
        "roof": roof,
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(scene), "timed")


def built(design: Design) -> tuple[Part, ...]:
    """Every part, nothing kept from an earlier build."""
    model._house.cache_clear()
    return model.build(design).parts


def seconds(design: Design) -> float:
    """Least processor time of several builds."""
    best = float("inf")
    for _ in range(REPEATS):
        began = time.process_time()
        built(design)
        best = min(best, time.process_time() - began)
    return best


def pieces(parts: tuple[Part, ...], steps: tuple[str, ...]) -> int:
    """Copies of what has one of the words in its name."""
    return sum(p.count for p in parts if set(steps) & set(p.path))


def bytes_of(parts: tuple[Part, ...]) -> tuple[int, int]:
    """Bytes of the shapes, and of the placements."""
    shapes = sum(p.mesh.vertices.nbytes + p.mesh.faces.nbytes for p in parts)
    return shapes, sum(p.placements.nbytes for p in parts if p.placements is not None)


def main() -> int:
    """Print the figures; 1 when one is over what it may be."""
    plain = five_bays(78, 46, TILES_8000)
    houses = [
        ("8,000 tiles", plain, 1.0),
        ("40,000 tiles", five_bays(90, 74, TILES_40000), 2.0),
        ("8,000 tiles, bricks", five_bays(78, 46, TILES_8000, relief=True, bond="flemish"), None),
        ("8,000 tiles, wings", five_bays(78, 46, TILES_8000, wings=[{"side": "both"}]), None),
    ]
    print(
        f"{'house':22}{'tiles':>8}{'bricks':>8}{'seconds':>9}{'allowed':>9}{'MB':>7}{'peak MB':>9}"
    )
    took = {}
    good = True
    for name, design, allowed in houses:
        took[name] = seconds(design)
        tracemalloc.start()
        parts = built(design)
        peak = tracemalloc.get_traced_memory()[1] / 1e6
        tracemalloc.stop()
        limit = allowed or took["8,000 tiles"] + 1.0
        good &= took[name] < limit or name.endswith("wings")
        sizes = sum(bytes_of(parts)) / 1e6
        print(
            f"{name:22}{pieces(parts, ('tiles',)):8,}{pieces(parts, ('bricks',)):8,}"
            f"{took[name]:9.2f}{limit:9.2f}{sizes:7.1f}{peak:9.1f}"
        )
    gable = {"form": "gable", **TILES_40000}
    ends = [built(five_bays(width_ft, 30, gable)) for width_ft in (60, 180)]
    edges = [tuple(p for p in parts if "cut" in p.path) for parts in ends]
    whole, cut, places = (
        (long - short) / 1e6
        for short, long in (
            [bytes_of(a)[0] - bytes_of(b)[0] for a, b in zip(ends, edges, strict=True)],
            [bytes_of(b)[0] for b in edges],
            [bytes_of(a)[1] for a in ends],
        )
    )
    print(
        f"a roof three times as long adds {places:.2f} MB of placements, {cut:.2f} MB of tiles "
        f"cut along its edges and {whole:.2f} MB of other shapes; allowed "
        f"{SHAPES_OF_ADDED * places:.2f}"
    )
    return int(not good or whole > SHAPES_OF_ADDED * places)


if __name__ == "__main__":
    sys.exit(main())
