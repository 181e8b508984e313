"""Starts a render worker in a Blender of its own: ``worker.py PATHS JOB``, after any ``--``.

A Blender started afresh knows nothing of the extension's packages, so their places are handed
over.
"""

import json
import os
import sys


def main() -> None:
    """Find the library where the parent found it, render the job, leave with its code."""
    paths, job = sys.argv[-2:]
    sys.path += [path for path in json.loads(paths) if path not in sys.path]
    from massing.render.blender.worker import main as render

    code = render(job)
    sys.stdout.flush()
    os._exit(code)  # Blender has no window to go back to


if __name__ == "__main__":
    main()
