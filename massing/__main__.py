"""``python -m massing``, and the ``massing`` command."""

import gc
import os
import sys


def run() -> int:
    """Run one command; returns its exit code."""
    leave_the_working_folder()
    if "OPENBLAS_NUM_THREADS" not in os.environ:  # small arrays, on which threads only wait
        os.environ["OPENBLAS_NUM_THREADS"] = "1"
    # Nothing that happens to be installed has a say in how a scene is read; to look takes 15 ms.
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "true"
    gc.set_threshold(100_000, 50, 50)  # hardly anything made here hangs together in circles
    from massing.cli import main

    code = main()
    gc.freeze()  # nothing is looked through for what is given back as a whole
    return code


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
