"""What is said of alternatives, sentence by sentence, of designs whose findings are set by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from massing.design.design import Design
from massing.findings import comparison
from massing.findings.comparison import SUBJECTS, Compared, compared, three_sentences
from massing.findings.finding import Finding
from tests.findings.test_change_words import sun
from tests.findings.test_limits_of_findings import design
from tests.helpers.house_designs import porch

# Tuscan columns of 3.4 m, 0.5 m thick: 1:6.8; entablature 0.9 m, 1/3.8 of them.
THEIRS = "Tuscan columns of 1:6.8 under an entablature of 1/3.8"
NOON = sun()


def found(*keys: str) -> list[Finding]:
    """Findings by key; a note where the key is followed by a sign of interrogation."""
    return [
        Finding(key.rstrip("?!"), {"?": "note", "!": "caution"}.get(key[-1], "check"), "said.", "s")
        for key in keys
    ]


class Told:
    """Designs of the same house by name, with what is found on each and how deep it is shaded."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.found: dict[str, list[Finding]] = {}
        self.deep: dict[str, float | None] = {}
        patch.setattr(comparison, "findings", lambda d: self.found[d.name])
        patch.setattr(comparison, "cornice_shadow_m", lambda d, _: self.deep[d.name])

    def design(self, name: str, *keys: str, deep: float | None = 0.4, **changes: object) -> Design:
        self.found[name], self.deep[name] = found(*keys), deep
        return replace(design(units="metric", **changes), name=name)


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> Told:
    return Told(monkeypatch)


# --- better and worse ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("was", "now", "better", "worse", "still"),
    [
        ((), (), (), (), ()),
        (("slender",), (), ("slender",), (), ()),
        ((), ("slender",), (), ("slender",), ()),
        (("slender",), ("slender",), (), (), ("slender",)),
        # a question that is only noted is better, a note that is asked is worse
        (("slender",), ("slender?",), ("slender",), (), ()),
        (("slender?",), ("slender",), (), ("slender",), ()),
        (("slender?",), ("slender?",), (), (), ("slender",)),
        (("slender?",), (), ("slender",), (), ()),
        ((), ("slender?",), (), ("slender",), ()),
        # cautions are no matter of proportion
        (("structure!",), (), (), (), ()),
        ((), ("structure!",), (), (), ()),
        # one subject under two keys has the graver's weight, whichever comes first
        (("slender", "stout?"), ("stout",), (), (), ("slender",)),
        (("stout?", "slender"), ("stout",), (), (), ("slender",)),
        (("stout?", "slender"), ("stout?",), ("slender",), (), ()),
    ],
)
def test_what_is_better_and_what_is_worse(
    told: Told,
    was: Sequence[str],
    now: Sequence[str],
    better: Sequence[str],
    worse: Sequence[str],
    still: Sequence[str],
) -> None:
    drawn, other = told.design("drawn", *was), told.design("other", *now)
    expected = (tuple(SUBJECTS[key] for key in keys) for keys in (better, worse, still))
    assert compared(drawn, other) == Compared(*expected)


def test_a_key_without_a_subject_of_its_own_speaks_for_itself(told: Told) -> None:
    drawn, other = told.design("drawn", "of another kind"), told.design("other")
    assert compared(drawn, other).better == ("of another kind",)


# --- as drawn ------------------------------------------------------------------------------------


def said(told: Told, *others: Design, drawn: Design) -> list[str]:
    return three_sentences([drawn, *others], [NOON])


@pytest.mark.parametrize(
    ("keys", "sentence"),
    [
        (
            (),
            "As drawn the porch keeps within the canons: Tuscan columns of 1:6.8, an entablature "
            "of 1/3.8 of their height.",
        ),
        (
            ("metopes", "even bays"),
            "As drawn the porch keeps within the canons: Tuscan columns of 1:6.8, an entablature "
            "of 1/3.8 of their height; to look at again: the metopes and the middle of the front.",
        ),
        (
            ("even bays", "no middle bay"),
            "As drawn the porch keeps within the canons: Tuscan columns of 1:6.8, an entablature "
            "of 1/3.8 of their height; to look at again: the middle of the front.",
        ),
        (("slender",), "As drawn the Tuscan columns are too thin for their height (1:6.8)."),
        (
            ("wide spacing",),
            "As drawn the Tuscan columns stand too far apart (5.0 of their widths in the clear).",
        ),
        (
            ("close spacing",),
            "As drawn the Tuscan columns stand too close (3.0 of their widths in the clear).",
        ),
        (
            ("masked openings", "slender", "metopes"),
            "As drawn the Tuscan columns are too thin for their height (1:6.8) and stand before "
            "openings.",
        ),
        (
            ("shallow entablature",),
            "As drawn the entablature, 1/3.8 of their height, is too shallow to seem to carry "
            "anything.",
        ),
        (
            ("no graduation", "slender", "shallow entablature", "wide spacing"),
            "As drawn the Tuscan columns are too thin for their height (1:6.8) and stand too far "
            "apart (5.0 of their widths in the clear); the entablature, 1/3.8 of their height, is "
            "too shallow to seem to carry anything; no storey's windows lead.",
        ),
        (
            ("slender?",),  # a note is not held against it
            "As drawn the porch keeps within the canons: Tuscan columns of 1:6.8, an entablature "
            "of 1/3.8 of their height.",
        ),
    ],
)
def test_what_is_wrong_as_drawn(told: Told, keys: Sequence[str], sentence: str) -> None:
    # of 3, 2 and 3 m: 5, 3 and 5 D in the clear
    drawn = told.design("drawn", *keys, porch=porch(axes_m=(-4.0, -1.0, 1.0, 4.0)))
    assert said(told, drawn=drawn)[0] == sentence


# --- what answers it -----------------------------------------------------------------------------

MANY = ("slender", "shallow entablature", "metopes")


def answered(told: Told, drawn: Sequence[str], *others: tuple[str, Sequence[str]]) -> str:
    first = told.design("drawn", *drawn)
    rest = [told.design(name, *keys) for name, keys in others]
    return said(told, *rest, drawn=first)[1]


def test_nothing_to_set_beside_it(told: Told) -> None:
    assert answered(told, MANY) == "No alternative is drawn yet to set beside it."


def test_one_answers_most(told: Told) -> None:
    words = answered(told, MANY, ("first", ()), ("second", ("metopes",)))
    assert words == f"Most of that is answered by first, {THEIRS}."
    words = answered(told, MANY, ("first", MANY), ("second", ("metopes", "couples")))
    assert words == (
        f"Most of that is answered by second, {THEIRS}; to look at again: the metopes and the "
        "couples' spacing."
    )


def test_two_answer_it(told: Told) -> None:
    words = answered(told, MANY, ("first", ("metopes",)), ("second", ("metopes",)))
    assert words == (
        f"Both answer it alike: first, {THEIRS}; second, {THEIRS}; to look at again: the metopes."
    )
    words = answered(told, MANY, ("first", ()), ("second", ()), ("third", MANY))
    assert words == f"Both answer it alike: first, {THEIRS}; second, {THEIRS}."
    words = answered(told, MANY, ("first", ("metopes",)), ("second", ("couples",)))
    assert words == (
        f"Both answer it as far: first, {THEIRS}, with the metopes to look at; second, {THEIRS}, "
        "with the couples' spacing to look at."
    )


def test_of_more_than_three_three_are_told(told: Told) -> None:
    others = [(name, ("metopes",)) for name in ("a", "b", "c", "d")]
    words = answered(told, MANY, *others)
    assert words == (
        f"Four answer it alike: a, {THEIRS}; b, {THEIRS}; c, {THEIRS}; to look at again: the "
        "metopes."
    )
    others[3] = ("d", ("couples",))
    words = answered(told, MANY, *others)
    assert words.startswith("Four answer it as far: a, ")
    assert words.count("with the metopes to look at") == 3
    assert "d, " not in words


def test_none_answers_it(told: Told) -> None:
    words = answered(told, ("metopes",), ("first", ("couples",)), ("second", ("slender",)))
    assert words == "None of the alternatives leaves fewer questions than the design as drawn."
    words = answered(told, ("metopes",), ("first", ("couples",)))
    assert words == (
        "None of the alternatives answers a question left as drawn; first leaves the fewest, the "
        "couples' spacing."
    )
    words = answered(told, (), ("first", ()))
    assert words == (
        "None of the alternatives answers a question left as drawn; first leaves none either."
    )
    words = answered(told, (), ("a", ("couples",)), ("b", ("couples",)), ("c", MANY))
    assert words == (
        "None of the alternatives answers a question left as drawn; a and b leave the fewest, the "
        "couples' spacing."
    )
    # two findings of one subject are one question
    words = answered(told, ("stout", "slender"), ("first", ("slender",)), ("second", MANY))
    assert "first leaves the fewest, how slender the columns are" in words


# --- in the light --------------------------------------------------------------------------------

WHEN = "In the draughtsman's light, at 45°"
EYE = "the cornice's shadow, by which the eye measures its depth,"


def lit(told: Told, deep: float | None, *others: float | None) -> str:
    drawn = told.design("drawn", deep=deep)
    rest = [told.design(name, deep=d) for name, d in zip("abcd", others, strict=False)]
    return said(told, *rest, drawn=drawn)[2]


@pytest.mark.parametrize(
    ("deep", "others", "sentence"),
    [
        (0.3, (), f"{WHEN} its cornice's shadow falls 300 mm deep."),
        (0.3, (0.5,), f"{WHEN} {EYE} falls 500 mm with a, where as drawn it falls 300 mm."),
        (
            0.3,
            (0.5, 0.2, 0.4),
            f"{WHEN} {EYE} falls 500 mm with a and 200 mm with b, where as drawn it falls 300 mm.",
        ),
        (
            0.3,
            (0.5, 0.5),
            f"{WHEN} {EYE} falls 500 mm with every alternative, where as drawn it falls 300 mm.",
        ),
        # no shadow counts as none; a tenth of a millimetre is no difference, and the first is named
        (
            0.3,
            (0.5, None),
            f"{WHEN} {EYE} falls 500 mm with a and 0 mm with b, where as drawn it falls 300 mm.",
        ),
        (
            0.3,
            (0.5, 0.2, 0.5001, 0.1999),
            f"{WHEN} {EYE} falls 500 mm with a and 200 mm with b, where as drawn it falls 300 mm.",
        ),
        (
            0.3,
            (0.5, 0.2, 0.5011, 0.1989),
            f"{WHEN} {EYE} falls 500 mm with c and 200 mm with d, where as drawn it falls 300 mm.",
        ),
        (
            None,
            (0.5,),
            "At none of the scene's hours does the sun stand on the front to show its cornice.",
        ),
    ],
)
def test_what_the_light_shows(
    told: Told, deep: float | None, others: tuple[float | None, ...], sentence: str
) -> None:
    assert lit(told, deep, *others) == sentence


def test_without_a_sun_on_the_front_nothing_is_shown(told: Told) -> None:
    words = three_sentences([told.design("drawn"), told.design("a")], [sun(profile=None)])[2]
    assert words.startswith("At none of the scene's hours")
    assert three_sentences([told.design("drawn")], [])[2] == words
