"""``python -m massing``."""

import sys

from massing.cli import main

sys.exit(main())
