"""Hypothesis without a deadline: a busy machine must not fail a slow first example."""

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
