"""Hypothesis without a deadline: a busy machine must not fail a slow example. Ctrl-C is heard."""

import os
import signal

import pytest
from hypothesis import settings

from massing.scene.origins import Origins

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    # Shells start what runs in the background without it, and its children inherit that.
    signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile("unhurried", deadline=None)
settings.register_profile("same each time", deadline=None, derandomize=True)
settings.load_profile("same each time" if os.environ.get("CI") else "unhurried")


@pytest.fixture
def rules_hold(monkeypatch):
    """Defaults that do not give way, so that a check is seen at work on a rule's value."""

    def as_it_stands(scene, lines, resolver):
        return resolver(scene, Origins(lines, scene.units))

    monkeypatch.setattr("massing.resolve.design.with_defaults_giving_way", as_it_stands)
