"""What a scene would cost to build and to photograph, estimated before anything is.

Counted roughly, from areas: leaves of trees, bricks in relief, the pieces of a roof. A piece
takes about 0.8 kB, as measured on houses and trees of many sizes; a pixel about 200 bytes while
its picture is in hand.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from math import hypot, pi

from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.roof import RoofDesign
from massing.scene.errors import DesignError

MOST_PIECES = 3_000_000
MOST_PICTURES = 5_000
MOST_PIXELS_IN_ALL = 20_000_000_000
LEAST_PX, LONGEST_PX, MOST_PX = 16, 8_000, 34_000_000  # up to 7680 x 4320
PIECE_BYTES, PIXEL_BYTES = 800, 200

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
    return _BRICKS * 2.0 * (house.width_m + house.depth_m) * house.wall_top_z_m


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


def check_size(width_px: int, height_px: int) -> None:
    """Refuse pictures of a size that cannot be made.

    Raises:
        ValueError: what was given and what is allowed.
    """
    sides = min(width_px, height_px) >= LEAST_PX and max(width_px, height_px) <= LONGEST_PX
    if sides and width_px * height_px <= MOST_PX:
        return
    raise ValueError(
        f"given {width_px}x{height_px}, allowed: {LEAST_PX} to {LONGEST_PX} pixels each way, "
        f"up to {MOST_PX // 10**6} million in all"
    )


def check_pictures(count: int, size_px: tuple[int, int], designs: Sequence[Design]) -> None:
    """Refuse more pictures, pixels or memory than a run can have.

    Raises:
        ValueError: what was asked for and what is allowed.
    """
    pixels = size_px[0] * size_px[1]
    if count > MOST_PICTURES:
        raise ValueError(f"given {count} pictures, allowed: up to {MOST_PICTURES}, by --only")
    if count * pixels > MOST_PIXELS_IN_ALL:
        given, most = count * pixels / 1e9, MOST_PIXELS_IN_ALL / 1e9
        raise ValueError(
            f"given {given:.0f} thousand million pixels in {count} pictures, "
            f"allowed: up to {most:.0f}, by --only or --size"
        )
    held = sum(sum(pieces(design).values()) for design in designs) * PIECE_BYTES
    needed, there = held + pixels * PIXEL_BYTES, memory_bytes()
    if there is not None and needed > there:
        raise ValueError(
            f"given pictures that need about {needed / 2**30:.1f} GB of memory, "
            f"allowed: up to the {there / 2**30:.1f} GB that this machine has, by --size"
        )


def memory_bytes() -> int | None:
    """This machine's memory, or None where it does not say."""
    try:
        return os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")
    except (AttributeError, OSError, ValueError):
        return None
