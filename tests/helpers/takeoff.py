"""Clicks on the bundled scene's builder's drawing, as a hand made them, and what it was drawn by.

The drawing's own sizes are those of ``scenes/drawings/marsh_road_front.py``, which draws it with
its own hand and not with the model.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.design.design import Design
from massing.units import FOOT_M, INCH_M

DRAWING = Path(__file__).parents[2] / "scenes" / "drawings" / "marsh_road_front.png"
KNOWN = ((125.0, 560.0), (1115.0, 560.0))  # the front's corners,
KNOWN_LENGTH = "66 ft"  # as the drawing's own dimension says
ON = "on"

# Right and down in pixels, each a pixel or more off the line, as a hand is; ``on`` is the button
# by which what is marked is taken, or something is not drawn.
CLICKS: tuple[tuple[str, tuple[float, float] | str], ...] = (
    ("ground", (80.0, 604.5)),
    ("floor", (170.0, 572.5)),
    ("corners", (126.5, 455.0)),
    ("corners", (1113.5, 430.0)),
    ("storeys", ON),
    ("eaves", (172.0, 202.0)),
    ("ridge", (108.5, 205.0)),
    ("ridge", (410.0, 55.0)),
    ("column", (286.5, 515.0)),
    ("column", (301.0, 514.0)),
    ("axes", ON),
    ("entablature", (440.0, 221.0)),
    ("entablature", (440.0, 204.0)),
    ("window 1", (193.0, 532.5)),
    ("window 1", (254.5, 460.0)),
    ("others 1", ON),
    ("window 2", (191.0, 347.0)),
    ("window 2", (257.0, 269.5)),
    ("others 2", ON),
    ("window 3", ON),
    ("door", (596.0, 570.0)),
    ("door", (644.0, 468.5)),
)

# What it was drawn by; and the porch's height, which is the eaves'.
DRAWN_M: dict[str, float] = {
    "house.floor": 28 * INCH_M,
    "house.width": 66 * FOOT_M,
    "house.storeys[1]": 12.5 * FOOT_M,
    "house.storeys[2]": 12 * FOOT_M,
    "house.bay_spacing": 13.2 * FOOT_M,
    "house.windows[1].width": 4.25 * FOOT_M,
    "house.windows[1].height": 5 * FOOT_M,
    "house.windows[1].sill": 2.5 * FOOT_M,
    "house.windows[2].width": 4.25 * FOOT_M,
    "house.windows[2].height": 5 * FOOT_M,
    "house.windows[2].sill": 2.5 * FOOT_M,
    "house.door.width": 3.4 * FOOT_M,
    "house.door.height": 6.9 * FOOT_M,
    "porch.diameter": 14 * INCH_M,
    "porch.entablature": 15 * INCH_M,
    "porch.spacing": 14.5 * FOOT_M,
}
WITHIN = 0.01  # of each size


def sizes_m(design: Design) -> dict[str, float]:
    """The sizes of :data:`DRAWN_M` as a design has them."""
    house, porch = design.house, design.porch
    levels = (*house.storey_floors_z_m, house.wall_top_z_m)
    front = [o for o in house.openings if o.wall == "front"]
    door = next(o for o in front if o.kind == "door")
    found = {
        "house.floor": house.floor_z_m,
        "house.width": house.width_m,
        "house.bay_spacing": house.bay_centres_m[1] - house.bay_centres_m[0],
        "house.door.width": door.leaf_width_m,
        "house.door.height": door.leaf_height_m,
        "porch.diameter": porch.order.diameter_m,
        "porch.entablature": porch.order.entablature_height_m,
        "porch.spacing": porch.axes_m[1] - porch.axes_m[0],
    }
    for storey in range(2):
        at = f"house.windows[{storey + 1}]"
        window = next(o for o in front if o.kind == "window" and o.storey == storey)
        found[f"house.storeys[{storey + 1}]"] = levels[storey + 1] - levels[storey]
        found[f"{at}.width"], found[f"{at}.height"] = window.width_m, window.height_m
        found[f"{at}.sill"] = window.sill_z_m - levels[storey]
    return found


def is_as_drawn(design: Design) -> None:
    """Every size of a design is within 1 % of what the drawing was drawn by."""
    found = sizes_m(design)
    assert set(found) == set(DRAWN_M)
    for field, drawn_m in DRAWN_M.items():
        assert found[field] == pytest.approx(drawn_m, rel=WITHIN), field
    assert (len(design.house.bay_centres_m), len(design.porch.axes_m)) == (5, 4)
    assert design.roof.slope == pytest.approx(0.5, rel=WITHIN)
    assert design.porch.top_z_m == pytest.approx(design.house.wall_top_z_m), "up to the eaves"
