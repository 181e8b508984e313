"""A refusal can be followed: the limit that it prints is taken when it is typed back."""

from __future__ import annotations

import pytest

from tests.helpers.random_scenes import scene
from tests.helpers.refusals import limits, outcome


@pytest.mark.parametrize(
    ("seed", "field"),
    [
        (9100031, "house.reveal"),
        (9100085, "house.windows.1.height"),
        (9100123, "porch.ceiling_height"),
        (9100131, "house.wings.0.depth"),
        (9100180, "porch.steps.width"),
        (9100202, "house.windows.1.height"),
        (72000006, "house.reveal"),
    ],
)
def test_a_limit_is_taken_when_it_is_typed_back(seed, field):
    refused = outcome(scene(seed), built=False)
    assert ".".join(map(str, refused.field)) == field, refused.said
    changes = limits(refused)
    assert changes, refused.said
    for change in changes:
        assert change.builds, f"{refused.said}\n{change.value} -> {change.said}"
