"""What a scene would cost to photograph, estimated before anything is built or rendered.

A piece takes about 0.8 kB, as measured on houses and trees of many sizes; a pixel about 200
bytes while its picture is in hand.
"""

from __future__ import annotations

import os
from collections.abc import Sequence

from massing.design.design import Design
from massing.edit.budget import pieces

MOST_PICTURES = 5_000
MOST_PIXELS_IN_ALL = 20_000_000_000
LEAST_PX, LONGEST_PX, MOST_PX = 16, 8_000, 34_000_000  # up to 7680 x 4320
PIECE_BYTES, PIXEL_BYTES = 800, 200


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
