"""What a take-off asks for, in order, and how many clicks answer it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

MOST_ROWS = 3  # storeys of windows
Kind = Literal["across", "upright", "corner", "inside"]


@dataclass(frozen=True)
class Question:
    """One thing to point at.

    Attributes:
        key: its name in the answers.
        words: what it is called in a list.
        asks: what to do, one sentence to each click; the last is asked again where there are
            more.
        kind: the line that is meant: one ``across``, one ``upright``, a ``corner``, or one like
            what was drawn before, ``inside`` which to click.
        clicks: how many answer it; None for as many as there are.
        may_lack: whether it may not be drawn.
    """

    key: str
    words: str
    asks: tuple[str, ...]
    kind: Kind
    clicks: int | None = 1
    may_lack: bool = False


def _row(number: int) -> tuple[Question, Question]:
    which = ("lowest", "second", "third")[number - 1]
    return (
        Question(
            f"window {number}",
            f"windows, {which} row",
            (
                f"One window of the {which} row: its opening's lower left corner",
                "The same opening's upper right corner",
            ),
            "corner",
            2,
            may_lack=True,
        ),
        Question(
            f"others {number}",
            "the others of that row",
            ("Those that are like it are marked; click inside one to add it or take it off",),
            "inside",
            None,
        ),
    )


QUESTIONS: tuple[Question, ...] = (
    Question("ground", "ground", ("The line of the ground",), "across"),
    Question("floor", "lowest floor", ("The line of the lowest floor",), "across"),
    Question(
        "corners", "corners", ("The left corner of the wall", "The right corner"), "upright", 2
    ),
    Question(
        "storeys",
        "upper floors",
        (
            "Each floor above, from below; where none is drawn, the sills of the windows will "
            "tell the height of a storey",
        ),
        "across",
        None,
        may_lack=True,
    ),
    Question("eaves", "eaves", ("The top of the wall, where the roof begins",), "across"),
    Question(
        "ridge",
        "ridge",
        ("The roof's foot at its left end", "The left end of the ridge"),
        "corner",
        2,
        may_lack=True,
    ),
    Question(
        "column",
        "first column",
        ("The first column from the left: its left edge, near the foot", "Its right edge"),
        "upright",
        2,
        may_lack=True,
    ),
    Question(
        "axes",
        "the other columns",
        ("Those that are like it are marked; click inside one to add it or take it off",),
        "inside",
        None,
    ),
    Question(
        "entablature",
        "entablature",
        ("The entablature's foot, over the columns", "The entablature's top"),
        "across",
        2,
        may_lack=True,
    ),
    *(question for number in range(1, MOST_ROWS + 1) for question in _row(number)),
    Question(
        "door",
        "door",
        ("The door's leaf: its lower left corner", "Its upper right corner"),
        "corner",
        2,
        may_lack=True,
    ),
)
BY_KEY = {question.key: question for question in QUESTIONS}
LIKE = {"axes": "column", **{f"others {n}": f"window {n}" for n in range(1, MOST_ROWS + 1)}}
"""Which answer holds the one that others are like."""
