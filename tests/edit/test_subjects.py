"""Every field of a scene has a subject of its own, not one for want of a better."""

from __future__ import annotations

from pathlib import Path

from massing.edit.session import SceneInHand
from massing.edit.subjects import SUBJECTS, named_subject, subject

SCENES = Path(__file__).parents[2] / "scenes"
OF_THE_WHOLE = {"title", "units", "rounding", "drawing"}  # they go under House


def test_every_field_has_a_subject():
    for scene in sorted(SCENES.glob("*.yaml")):
        for standing in SceneInHand.open(scene).fields():
            path = standing.field.path
            assert named_subject(path) or path[0] in OF_THE_WHOLE, path
            assert subject(path) in SUBJECTS
