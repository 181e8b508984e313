"""Paths, drives, pavements and a street for pictures, with their kerbs and beds."""

from __future__ import annotations

from massing.design.setting import Plan
from massing.geometry.mesh import merged
from massing.geometry.solids import box_between
from massing.parts.part import Part

_LAID_M = 0.025
_BED_M = 0.05
KERB_M = (0.11, 0.055)  # width, height over the ground: practice
STREET_KERB_M = (0.16, 0.13)
_REACH_M = 400.0
_INTO_M = 0.05
EDGING_M = (0.10, 0.06)


def strip(plan: Plan, laid: str, *, kerbs: bool) -> list[Part]:
    """A level strip of ``gravel``, ``brick`` or ``flags``, kerbs along its long sides."""
    x0, y0, x1, y1 = plan
    top = _LAID_M if kerbs else 0.6 * _LAID_M
    parts = [Part(("path",), f"paving/{laid}", box_between((x0, y0, -_INTO_M), (x1, y1, top)))]
    if not kerbs:
        return parts
    wide, high = KERB_M
    if y1 - y0 > x1 - x0:
        sides = [((x0 - wide, y0), (x0, y1)), ((x1, y0), (x1 + wide, y1))]
    else:
        sides = [((x0, y0 - wide), (x1, y0)), ((x0, y1), (x1, y1 + wide))]
    role = "kerb/brick" if laid == "brick" else "kerb"
    edge = merged(box_between((*a, -_INTO_M), (*b, high)) for a, b in sides)
    return [*parts, Part(("kerb",), role, edge)]


def bed(plan: Plan) -> list[Part]:
    """Dug earth within a narrow edging of brick."""
    x0, y0, x1, y1 = plan
    wide, high = EDGING_M
    earth = box_between((x0, y0, -_INTO_M), (x1, y1, _BED_M))
    rims = [
        ((x0 - wide, y0 - wide), (x1 + wide, y0)),
        ((x0 - wide, y1), (x1 + wide, y1 + wide)),
        ((x0 - wide, y0), (x0, y1)),
        ((x1, y0), (x1 + wide, y1)),
    ]
    edge = merged(box_between((*a, -_INTO_M), (*b, high)) for a, b in rims)
    return [Part(("bed",), "earth", earth), Part(("edging",), "kerb/brick", edge)]


def street(near_y_m: float, far_y_m: float) -> list[Part]:
    """A street along the front between two kerbs; ``near`` is the side of the house."""
    wide, high = STREET_KERB_M
    r = _REACH_M
    surface = box_between((-r, far_y_m, -0.2), (r, near_y_m, 0.008))
    kerbs = [
        box_between((-r, near_y_m, -0.2), (r, near_y_m + wide, high)),
        box_between((-r, far_y_m - wide, -0.2), (r, far_y_m, high)),
    ]
    return [
        Part(("street",), "paving/street", surface),
        Part(("street kerbs",), "kerb", merged(kerbs)),
    ]
