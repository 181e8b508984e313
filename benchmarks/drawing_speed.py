"""Seconds that a set of drawings takes, for one alternative of each bundled scene.

    python benchmarks/drawing_speed.py
    python benchmarks/drawing_speed.py osier_turn foundry_lane

Runs the command ``massing drawings`` in a process of its own, all files written, and prints by
the clock and of the processors (children counted in), and the sheets. On a quiet machine of two
cores 20 s by the clock is the aim.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

AIM_S = 20.0


def timed(scene: str) -> tuple[float, float, int]:
    """Clock and processor seconds of a scene's set as drawn, and its sheets."""
    with tempfile.TemporaryDirectory() as folder:
        before, start = os.times(), time.perf_counter()
        command = [sys.executable, "-m", "massing", "drawings", f"scenes/{scene}.yaml", "-q"]
        subprocess.run([*command, "-o", folder], check=True, stdout=subprocess.DEVNULL)
        clock, after = time.perf_counter() - start, os.times()
        used = after.children_user + after.children_system
        used -= before.children_user + before.children_system
        return clock, used, len(list(Path(folder).glob("*.dxf")))


def main() -> int:
    """Time each scene's set; 1 where one takes longer than the aim."""
    scenes = sys.argv[1:] or sorted(path.stem for path in Path("scenes").glob("*.yaml"))
    slowest = 0.0
    for scene in scenes:
        clock, used, sheets = timed(scene)
        slowest = max(slowest, clock)
        print(f"{scene}: {sheets} sheets, {clock:.1f} s, of processors {used:.1f} s", flush=True)
    print(f"slowest {slowest:.1f} s by the clock on {os.cpu_count()} cores; the aim is {AIM_S:g} s")
    return int(slowest > AIM_S)


if __name__ == "__main__":
    sys.exit(main())
