"""``python -m massing``, and the ``massing`` command."""

import os
import sys


def run() -> int:
    """Run one command; returns its exit code."""
    leave_the_working_folder()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small arrays, on which threads only wait
    from massing.cli import main

    return main()


def leave_the_working_folder() -> None:
    """Let no module be found in the working folder, unless ``PYTHONPATH`` names it in full.

    Python looks there first for ``-m``, and for an empty entry of ``PYTHONPATH``. A scene may
    lie in a folder from a stranger, and a ``queue.py`` beside it must not run.
    """
    here = os.getcwd()
    asked = os.environ.get("PYTHONPATH", "").split(os.pathsep)
    sys.path[:] = [p for p in sys.path if p in asked or os.path.abspath(p or ".") != here]


if __name__ == "__main__":
    sys.exit(run())
