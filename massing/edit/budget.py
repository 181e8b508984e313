"""How many pieces a design would be built of, estimated before anything is.

Counted roughly, from areas: leaves of trees, bricks in relief, the pieces of a roof.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, pi

from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.roof import RoofDesign
from massing.scene.errors import DesignError

MOST_PIECES = 3_000_000

# Pieces to the square metre, as the builders here lay them.
_LEAVES, _BRICKS, _SLATES = 8.3, 69.0, 20.0
_CROWN_HALF = 0.42  # of a tree's height
_THOMSEN = 1.6075  # exponent of Thomsen's formula for an ellipsoid's surface


def pieces(design: Design) -> dict[str, float]:
    """About how many pieces a design is built of, by the field of the scene that asks for them."""
    wings = [wing.house for wing in design.house.wings]
    roofs = [wing.roof for wing in design.house.wings]
    return {
        "setting.trees": sum(_leaves(t.height_m, t.spread_m) for t in design.setting.trees),
        "house.relief": sum(map(_bricks, (design.house, *wings))),
        "roof": sum(map(_covered, (design.house, *wings), (design.roof, *roofs))),
    }


def _leaves(height_m: float, spread_m: float) -> float:
    half, tall = spread_m / 2.0, _CROWN_HALF * height_m
    mean = ((half**_THOMSEN) ** 2 + 2.0 * (half * tall) ** _THOMSEN) / 3.0
    return _LEAVES * 4.0 * pi * mean ** (1.0 / _THOMSEN)


def _bricks(house: HouseDesign) -> float:
    if not house.relief or house.walls != "brick":
        return 0.0
    walls_m2 = 2.0 * (house.width_m + house.depth_m) * house.wall_top_z_m
    return _BRICKS * (walls_m2 - sum(o.width_m * o.height_m for o in house.openings))


def _covered(house: HouseDesign, roof: RoofDesign) -> float:
    plan_m2 = (house.width_m + 2 * roof.overhang_m) * (house.depth_m + 2 * roof.overhang_m)
    return _SLATES * plan_m2 * hypot(1.0, roof.slope)


def check_pieces(designs: Sequence[Design]) -> None:
    """Refuse what would be too much to build.

    Raises:
        DesignError: naming the field that asks for the most.
    """
    counts = [pieces(design) for design in designs]
    total = sum(sum(count.values()) for count in counts)
    if total <= MOST_PIECES:
        return
    by_field = {field: sum(count[field] for count in counts) for field in counts[0]}
    most = max(by_field, key=lambda field: by_field[field])
    what = "one design" if len(designs) == 1 else f"{len(designs)} designs"
    raise DesignError(
        most,
        f"about {total / 1e6:.1f} million pieces in {what}",
        f"up to {MOST_PIECES // 10**6} million; {_LESS[most]}",
    )


_LESS = {
    "setting.trees": "fewer or smaller trees",
    "house.relief": "no relief, a smaller house, or fewer alternatives",
    "roof": "a smaller house or fewer alternatives",
}
