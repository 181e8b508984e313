"""The porch's floor: a masonry base and paving stones with an easy nosing."""

from __future__ import annotations

import numpy as np

from massing.design.house import RecessDesign
from massing.design.porch import PorchDesign, WrappedPorch
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, extrude, loft, translations
from massing.parts.part import Part
from massing.practice.joinery_sizes import FOUNDATION_PROJECTION_M, NOSING_M, PAVING_M, joinery_size

_BORDER_M = joinery_size("floor.border")
_FLAG_M = joinery_size("floor.flag")
_EASE_M = 0.004


def porch_floor(design: PorchDesign, back_y_m: float = -FOUNDATION_PROJECTION_M) -> list[Part]:
    """Base and paving from the ground to ``design.floor_z_m``, back to the wall's foundation.

    Border stones run round the three open edges and carry the nosing; flags fill the field.
    Joints are V-cut, so stones butt and nothing shows through.

    Args:
        design: the porch.
        back_y_m: where the floor meets the house, metres.

    Raises:
        ValueError: a column's plinth would stand over the floor's edge.
    """
    half_plinth = design.order.plinth_width_m / 2.0
    if half_plinth > design.floor_edge_m - NOSING_M + 1e-9:
        raise ValueError(
            f"a plinth {2 * half_plinth:.3f} m wide overhangs the porch's base, which goes "
            f"{design.floor_edge_m - NOSING_M:.3f} m beyond the column axis"
        )
    x0, x1 = design.axes_m[0] - design.floor_edge_m, design.axes_m[-1] + design.floor_edge_m
    y0, top = -(design.depth_m + design.floor_edge_m), design.floor_z_m
    bed = top - PAVING_M
    if isinstance(design, WrappedPorch):
        return _round_corners(design, (x0, y0, x1), back_y_m)
    base = box_between((x0 + NOSING_M, y0 + NOSING_M, 0.0), (x1 - NOSING_M, back_y_m, bed))
    b = _BORDER_M
    runs = {
        ("border", "front"): _stones(x0, x1, y0, y0 + b, (3.0 * b, b)),
        ("border", "left"): _stones(x0, x0 + b, y0 + b, back_y_m, (b, 3.0 * b)),
        ("border", "right"): _stones(x1 - b, x1, y0 + b, back_y_m, (b, 3.0 * b)),
        ("flags",): _stones(x0 + b, x1 - b, y0 + b, back_y_m, (_FLAG_M, _FLAG_M)),
    }
    return [
        Part(("floor", "base"), "foundation", base),
        *(
            Part(("floor", *path), "stone", stone.shifted(z_m=bed), translations(feet))
            for path, (stone, feet) in runs.items()
        ),
    ]


def _round_corners(
    design: WrappedPorch, edges: tuple[float, float, float], back_y_m: float
) -> list[Part]:
    """The same of a porch that goes round a corner: border stones round every open edge."""
    x0, y0, x1 = edges
    bed, b, n = design.floor_z_m - PAVING_M, _BORDER_M, NOSING_M
    end_y, by_wall = design.wrap_m + design.floor_edge_m, design.house_half_m - back_y_m
    bases = [box_between((x0 + n, y0 + n, 0.0), (x1 - n, back_y_m, bed))]
    runs: dict[tuple[str, ...], tuple[Mesh, Floats]] = {
        ("border", "front"): _stones(x0, x1, y0, y0 + b, (3.0 * b, b))
    }
    fields = [_stones(x0 + b, x1 - b, y0 + b, back_y_m, (_FLAG_M, _FLAG_M))]
    for side, outer, sign in (("left", x0, -1.0), ("right", x1, 1.0)):
        xs = sorted((outer, outer - sign * b))
        if not design.goes_round(side):
            runs["border", side] = _stones(xs[0], xs[1], y0 + b, back_y_m, (b, 3.0 * b))
            continue
        inner = sorted((outer - sign * n, sign * by_wall))
        bases.append(box_between((inner[0], back_y_m, 0.0), (inner[1], end_y - n, bed)))
        runs["border", side] = _stones(xs[0], xs[1], y0 + b, end_y - b, (b, 3.0 * b))
        end = sorted((outer, sign * by_wall))
        runs["border", f"{side} end"] = _stones(end[0], end[1], end_y - b, end_y, (3.0 * b, b))
        within = sorted((outer - sign * b, sign * by_wall))
        fields.append(_stones(within[0], within[1], back_y_m, end_y - b, (_FLAG_M, _FLAG_M)))
    for i, field in enumerate(fields):
        runs["flags", str(i + 1)] = field
    return [
        Part(("floor", "base"), "foundation", merged(bases)),
        *(
            Part(("floor", *path), "stone", stone.shifted(z_m=bed), translations(feet))
            for path, (stone, feet) in runs.items()
        ),
    ]


def landing(
    width_m: float,
    depth_m: float,
    floor_z_m: float,
    back_y_m: float = -FOUNDATION_PROJECTION_M,
) -> list[Part]:
    """A landing before a door, about x = 0, its nosing ``depth_m`` before the wall's face.

    Raises:
        ValueError: the floor is lower than its paving is thick.
    """
    bed, half = floor_z_m - PAVING_M, width_m / 2.0
    if not bed > 0.0:
        raise ValueError(f"a landing {floor_z_m:.3f} m up is lower than its paving is thick")
    base = box_between((NOSING_M - half, NOSING_M - depth_m, 0.0), (half - NOSING_M, back_y_m, bed))
    stone, feet = _stones(-half, half, -depth_m, back_y_m, (_FLAG_M, _FLAG_M))
    return [
        Part(("landing", "base"), "foundation", base),
        Part(("landing", "flags"), "stone", stone.shifted(z_m=bed), translations(feet)),
    ]


def _stones(
    x0: float, x1: float, y0: float, y1: float, about_m: tuple[float, float]
) -> tuple[Mesh, Floats]:
    """Equal stones filling a rectangle: one stone on z = 0 and the corner of each."""
    across = max(1, round((x1 - x0) / about_m[0]))
    deep = max(1, round((y1 - y0) / about_m[1]))
    width, depth = (x1 - x0) / across, (y1 - y0) / deep
    i, j = np.meshgrid(np.arange(across), np.arange(deep))
    corners = np.column_stack([x0 + width * i.ravel(), y0 + depth * j.ravel(), np.zeros(i.size)])
    return eased_stone(width, depth, PAVING_M), corners


def eased_stone(width_m: float, depth_m: float, height_m: float) -> Mesh:
    """A paving stone from its corner, upper edges eased."""
    e = _EASE_M
    rings = [(0.0, 0.0), (0.0, height_m - e), (e, height_m)]
    sections = [
        [
            (inset, inset, z),
            (width_m - inset, inset, z),
            (width_m - inset, depth_m - inset, z),
            (inset, depth_m - inset, z),
        ]
        for inset, z in rings
    ]
    return loft(np.array(sections))


def round_floor(
    radius_m: float, floor_z_m: float, back_y_m: float = -FOUNDATION_PROJECTION_M
) -> list[Part]:
    """Base and paving of a semicircular porch about the origin; ``radius_m`` is the nosing's.

    Raises:
        ValueError: the floor is lower than its paving is thick.
    """
    bed = floor_z_m - PAVING_M
    if not bed > 0.0:
        raise ValueError(f"a floor {floor_z_m:.3f} m up is lower than its paving is thick")
    base = extrude(_half_disc(radius_m - NOSING_M, back_y_m), bed)
    paving = extrude(_half_disc(radius_m, back_y_m), PAVING_M).shifted(z_m=bed)
    return [Part(("floor", "base"), "stone", base), Part(("floor", "paving"), "stone", paving)]


def recess_floor(design: PorchDesign, recess: RecessDesign) -> list[Part]:
    """The floor of a recessed porch: paving back to its wall, and a landing before the front.

    The landing carries what stands before the front wall's face; it butts the foundation, whose
    top is taken out under the paving.

    Raises:
        ValueError: the floor is lower than its paving is thick.
    """
    top, bed = design.floor_z_m, design.floor_z_m - PAVING_M
    if not bed > 0.0:
        raise ValueError(f"a floor {top:.3f} m up is lower than its paving is thick")
    y0 = design.column_y_m - design.floor_edge_m
    (x0, x1), (in0, in1), (mouth0, mouth1) = (
        (recess.centre_m - half, recess.centre_m + half)
        for half in (recess.apron_m, recess.half_width_m, recess.opening_m)
    )
    base = box_between(
        (x0 + NOSING_M, y0 + NOSING_M, 0.0), (x1 - NOSING_M, -FOUNDATION_PROJECTION_M, bed)
    )
    runs = {
        ("border", "front"): _stones(x0, x1, y0, 0.0, (3.0 * _BORDER_M, -y0)),
        ("flags",): _stones(in0, in1, 0.0, recess.depth_m, (_FLAG_M, _FLAG_M)),
        ("antae", "left"): _stones(mouth0, in0, 0.0, recess.side_y_m, (1.0, 1.0)),
        ("antae", "right"): _stones(in1, mouth1, 0.0, recess.side_y_m, (1.0, 1.0)),
    }
    return [
        Part(("floor", "base"), "foundation", base),
        *(
            Part(("floor", *path), "stone", stone.shifted(z_m=bed), translations(feet))
            for path, (stone, feet) in runs.items()
        ),
    ]


def _half_disc(radius_m: float, back_y_m: float, steps: int = 96) -> Floats:
    start = np.arcsin(-back_y_m / radius_m)
    turn = np.linspace(np.pi - start, start, steps + 1)
    return radius_m * np.column_stack([np.cos(turn), -np.sin(turn)])
