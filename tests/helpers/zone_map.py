"""Makes ``massing/sun/zones.bin``: where whole squares of the world keep one time zone.

    python -m tests.helpers.zone_map

A square of a quarter of a degree is written down where it lies in one zone of tzfpy's shapes,
looked at every twentieth of a degree, and the eight about it in no other, the open sea apart.
Elsewhere a place is left to the shapes themselves.
"""

from __future__ import annotations

import zlib
from pathlib import Path

import numpy as np
import tzfpy

OUT = Path(__file__).parents[2] / "massing" / "sun" / "zones.bin"
STEP = 4  # squares to a degree
LOOKS = 5  # to a square, each way


def main() -> None:
    """Look, and write it."""
    fine = STEP * LOOKS
    longitudes = -180.0 + (np.arange(360 * fine) + 0.5) / fine
    latitudes = -90.0 + (np.arange(180 * fine) + 0.5) / fine
    names: dict[str, int] = {"": 0}
    seen = np.zeros((len(latitudes), len(longitudes)), dtype=np.uint16)
    for row, latitude in enumerate(latitudes):
        seen[row] = [
            names.setdefault(tzfpy.get_tz(longitude, latitude), len(names))
            for longitude in longitudes.tolist()
        ]
    squares = seen.reshape(180 * STEP, LOOKS, 360 * STEP, LOOKS)
    sea = [number for name, number in names.items() if not name or name.startswith("Etc/")]
    at_sea = np.isin(squares, sea)
    own_low, own_high = squares.min(axis=(1, 3)), squares.max(axis=(1, 3))
    low = np.where(at_sea, np.iinfo(np.uint16).max, squares).min(axis=(1, 3))
    high = np.where(at_sea, 0, squares).max(axis=(1, 3))
    for axis in (0, 1):
        low = np.minimum.reduce([np.roll(low, by, axis) for by in (-1, 0, 1)])
        high = np.maximum.reduce([np.roll(high, by, axis) for by in (-1, 0, 1)])
    sure = (own_low == own_high) & (low == high) & ~np.isin(own_low, sea)
    sure[0] = sure[-1] = False
    low = own_low
    kept = np.where(sure, low, 0)
    used = [name for name, number in names.items() if not number or (kept == number).any()]
    place = np.zeros(len(names), dtype="<u2")
    place[[names[name] for name in used]] = np.arange(len(used))
    table = place[kept].astype("<u2")
    OUT.write_bytes(zlib.compress("\n".join(used).encode() + b"\n\n" + table.tobytes(), 9))
    print(f"{OUT}: {OUT.stat().st_size / 1e3:.0f} kB, {len(used) - 1} zones, ", end="")
    print(f"{(table > 0).mean():.0%} of the world's squares")


if __name__ == "__main__":
    main()
