"""Drawn elevations against orthographic renders: how far the outlines are apart, in pixels.

    python benchmarks/outlines.py                       # the bundled scenes as drawn, four sides
    python benchmarks/outlines.py --only orchard --width 1600 --processes 8

Blender says what the building covers, seen square from each side; printed is how far from a
drawn line that ends at the most, in pixels and millimetres, and how many places of lines lie where
nothing is covered. A pixel is the aim; exit code 1 where one is further.
"""

from __future__ import annotations

import argparse
import multiprocessing
import sys
import tempfile
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, ".")


def compared(path: Path, index: int, side: int, width_px: int) -> tuple[float, str]:
    """The most that one side is apart, and what is printed of it."""
    from massing.study.study import read_study
    from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT
    from tests.helpers.outlines import apart

    study = read_study(path)
    design, view = study.designs[index], (FRONT, RIGHT, BACK, LEFT)[side]
    with tempfile.TemporaryDirectory() as folder:
        found = apart(design, study.models[design.name], view, Path(folder), width_px)
    most, at = float(found.away_px.max()), int(found.away_px.argmax())
    words = f"{path.stem}/{design.name}, {view.name}: {most:.2f} px apart at the most, at "
    x, y = found.places_px[at]
    words += f"{x:.0f}, {y:.0f}; {(found.away_px > 1.0).sum()} places of {len(found.away_px)} "
    return most, words + f"over a pixel; {len(found.stray_px)} of lines on nothing"


def main() -> int:
    """Compare every side of every scene asked for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--only", default="", help="scenes with this in their name")
    parser.add_argument("--design", type=int, default=0, help="0 is the design as drawn")
    parser.add_argument("--width", type=int, default=1200, help="of the render, pixels")
    parser.add_argument("--processes", type=int, default=1, help="how many at once")
    options = parser.parse_args()
    scenes = [p for p in sorted(Path("scenes").glob("*.yaml")) if options.only in p.stem]
    asked = [(path, options.design, side, options.width) for path in scenes for side in range(4)]
    worst = 0.0
    with ProcessPoolExecutor(
        options.processes, mp_context=multiprocessing.get_context("spawn")
    ) as pool:
        for waiting in [pool.submit(compared, *one) for one in asked]:
            most, words = waiting.result()
            worst = max(worst, most)
            print(words, flush=True)
    print(f"{worst:.2f} px at the most")
    return int(worst > 1.0)


if __name__ == "__main__":
    sys.exit(main())
