"""Processor seconds of a command from nothing: ``python benchmarks/start_speed.py``.

Prints the least of five runs of each command on each bundled scene, its modules compiled before,
as they are where it is installed.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from pathlib import Path

SCENES = sorted((Path(__file__).parent.parent / "scenes").glob("*.yaml"))
RUNS = 5
COMPILED = tempfile.mkdtemp()


def processor_s(*arguments: str) -> float:
    """Of one command, its children too."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, "-m", "massing", *arguments],
        check=True,
        capture_output=True,
        env={k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        | {"PYTHONPYCACHEPREFIX": COMPILED},
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Print them."""
    asked = [["--help"], ["schema"]]
    asked += [[command, str(scene)] for scene in SCENES for command in ("check", "sizes")]
    for arguments in asked:
        least = min(processor_s(*arguments) for _ in range(RUNS))
        print(f"{least:6.2f} s  massing {' '.join(Path(a).name for a in arguments)}")


if __name__ == "__main__":
    main()
