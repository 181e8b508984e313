"""Runs one module of this package: ``python -P start.py MODULE ARGUMENTS``.

The package is taken from where this file stands, and nothing else from there: the folder around
it is no place to look for modules once the package is found.
"""

import runpy
import sys
from pathlib import Path

if __name__ == "__main__":
    home = str(Path(__file__).resolve().parents[3])
    sys.path.insert(0, home)
    import massing  # noqa: F401

    sys.path.remove(home)
    del sys.argv[0]
    runpy.run_module(sys.argv[0], run_name="__main__", alter_sys=True)
