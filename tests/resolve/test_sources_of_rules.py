"""A number that follows from a share says whose share it is, with its mark."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from massing.canon import CANONS, ORDERS
from massing.canon.sources import MARKS
from massing.study.study import read_study

SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.yaml"))
# What says a share: a fraction, a decimal or a word for one. Whole counts and lengths are geometry.
SHARE = re.compile(
    r"\b\d+/\d+ of\b|\b\d\.\d+ of\b|\b(?:half|twice|quarter|thirds?|fifths?|sixths?|sevenths?|"
    r"eighths?|ninths?|tenths?|twelfth|eighteenth)\b|\btimes its\b|\bof the books\b"
)
MARKED = re.compile(
    "|".join(
        map(re.escape, (*(m for m in MARKS if m != "read"), "(read", "read)", "common practice"))
    )
    + f"|\\((?:{'|'.join(ORDERS)}), (?:{'|'.join(CANONS)})"
)


def unmarked(origins):
    """What was chosen by a share without saying by whom; a value that gave way tells both."""
    return {
        field: origin.source
        for field, origin in origins.items()
        if SHARE.search(origin.source)
        and not MARKED.search(origin.source)
        and not origin.source.startswith(("given", "gives way"))
    }


@pytest.mark.parametrize("scene", SCENES, ids=lambda path: path.stem)
def test_every_share_has_its_source_and_mark(scene):
    for design in read_study(scene).designs:
        assert unmarked(design.origins) == {}


def test_what_is_looked_for_is_found():
    class Said:
        def __init__(self, source):
            self.source = source

    bare = ["1/7 of the width", "0.38 of the bay", "a fifth of the depth", "twice the width"]
    fine = ["1/7 of the width (common practice)", "5 equal risers", "given, line 3",
            "0.25 of the column's height (tuscan, vignola)",
            "twice the width (A. Palladio, Four Books, I.25 (read))"]  # fmt: skip
    assert len(unmarked(dict(enumerate(map(Said, bare))))) == len(bare)
    assert unmarked(dict(enumerate(map(Said, fine)))) == {}
