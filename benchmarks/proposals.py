"""How long a search for better porches takes: designs resolved and measured, processor seconds.

python benchmarks/proposals.py scenes/marsh_road.yaml
"""

from __future__ import annotations

import argparse
import os
import time
from pathlib import Path

from massing.edit.proposals.search import begin, search


def main() -> None:
    """Search each scene and print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("scenes", nargs="+", type=Path)
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    for path in options.scenes:
        before, wall = os.times(), time.perf_counter()
        begun = begin(path, path.read_text(encoding="utf-8"))
        outcome = search(begun, workers=options.workers)
        after = os.times()
        spent = sum(after[:4]) - sum(before[:4])
        print(
            f"{path.stem}: {outcome.tried:,} designs resolved and measured of "
            f"{len(begun.space.places):,} in the space ({begun.space.borne.size:,} proportions set "
            f"out), {len(outcome.built):,} can be built, {len(outcome.front):,} on the front, "
            f"{len(outcome.clusters)} proposals: {spent:.1f} processor s, "
            f"{time.perf_counter() - wall:.1f} s on {options.workers} processes"
        )


if __name__ == "__main__":
    main()
