"""Hypothesis without a deadline: a busy machine must not fail a slow first example."""

import os

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.register_profile("same each time", deadline=None, derandomize=True)
settings.load_profile("same each time" if os.environ.get("CI") else "unhurried")
