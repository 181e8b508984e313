"""Runs a command line's command in a Blender of its own: ``command.py PATHS WORKER ARGUMENTS``.

A Blender started afresh knows nothing of the extension's packages, so their places are handed over,
and how a worker is started that takes pictures.
"""

import json
import os
import sys


def main() -> None:
    """Find the library where the parent found it, do as the command does, leave with its code."""
    paths, worker, arguments = sys.argv[-3:]
    sys.path += [path for path in json.loads(paths) if path not in sys.path]
    from massing.cli.program import main as command
    from massing.render.driver.process import start_workers_by

    start_workers_by(json.loads(worker))
    try:
        code = command(json.loads(arguments))
    except SystemExit as left:
        code = left.code if isinstance(left.code, int) else 1
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code or 0)  # Blender has no window to go back to


if __name__ == "__main__":
    main()
