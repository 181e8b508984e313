"""A take-off under way: the answers so far, one click after another; every step a new value.

>>> off = TakeOff(metres_per_pixel=0.02)
>>> off.question.key, off.asks
('ground', 'The line of the ground')
>>> off = off.clicked(100.0, 400.0, None, 6.0)
>>> off.question.key, off.marks["ground"][0].y, off.taken_back().question.key
('floor', 400.0, 'ground')
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from massing.edit.takeoff.questions import BY_KEY, LIKE, QUESTIONS, Question
from massing.edit.takeoff.snapping import Picture

_COLUMN_BAND = 1.6  # of a column's width: the rows that others are compared in, up and down
MOST_MARKS = 40


@dataclass(frozen=True)
class Mark:
    """A place that was clicked, right and down in pixels, and whether a line was found there."""

    x: float
    y: float
    on_x: bool = False
    on_y: bool = False


Marks = tuple[Mark, ...]


@dataclass(frozen=True)
class TakeOff:
    """The answers of a take-off.

    Attributes:
        metres_per_pixel: the picture's scale.
        marks: the places clicked, by the key of their question; a question that was passed as
            not drawn has none.
        at: which question is asked, counted from none; as many as there are when all are
            answered.
    """

    metres_per_pixel: float
    marks: Mapping[str, Marks] = field(default_factory=dict)
    at: int = 0

    @property
    def done(self) -> bool:
        """Whether nothing more is asked."""
        return self.at >= len(QUESTIONS)

    @property
    def question(self) -> Question:
        """What is asked; the last question when all are answered."""
        return QUESTIONS[min(self.at, len(QUESTIONS) - 1)]

    @property
    def asks(self) -> str:
        """What to do next, one sentence."""
        asks = self.question.asks
        return asks[min(len(self.marks.get(self.question.key, ())), len(asks) - 1)]

    # --- answers ------------------------------------------------------------------------------

    def clicked(self, x: float, y: float, picture: Picture | None, radius_px: float) -> TakeOff:
        """With one click more; it goes to the line that it meant, where the picture has one."""
        if self.done:
            return self
        question = self.question
        known = self.marks.get(question.key, ())
        if question.kind == "inside":
            return self._pointed(x, y, picture)
        if len(known) >= MOST_MARKS:
            return self
        marks = {**self.marks, question.key: (*known, snapped(question, x, y, picture, radius_px))}
        found = replace(self, marks=marks)
        if question.clicks is not None and len(marks[question.key]) >= question.clicks:
            found = found._on(picture)
        return found

    def passed(self, picture: Picture | None = None) -> TakeOff:
        """On to the next question: the others are as marked, or it is not drawn."""
        if self.done:
            return self
        question = self.question
        known = self.marks.get(question.key, ())
        if question.clicks is not None and not question.may_lack and len(known) < question.clicks:
            return self
        marks = dict(self.marks)
        if question.clicks is not None and len(known) < question.clicks:
            marks[question.key] = ()
        else:
            marks.setdefault(question.key, ())
        return replace(self, marks=marks)._on(picture)

    def taken_back(self) -> TakeOff:
        """Without the last click, or back to the question before."""
        key = self.question.key
        if not self.done and self.question.kind != "inside" and self.marks.get(key):
            return self._without_last(key, self.at)
        at = min(self.at, len(QUESTIONS)) - 1
        while at > 0 and self._skipped(QUESTIONS[at]):
            at -= 1
        if at < 0:
            return self
        marks = {k: v for k, v in self.marks.items() if k != key or self.done}
        back = replace(self, marks=marks, at=at)
        before = QUESTIONS[at]
        return back if before.kind == "inside" else back._without_last(before.key, at)

    def _without_last(self, key: str, at: int) -> TakeOff:
        marks = dict(self.marks)
        left = marks.pop(key, ())[:-1]
        if left:
            marks[key] = left
        return replace(self, marks=marks, at=at)

    def asked(self, key: str) -> TakeOff:
        """Back to one question, to answer it anew; what follows from it too.

        Raises:
            KeyError: there is none such.
        """
        marks = dict(self.marks)
        marks.pop(key, None)
        for follows, of in LIKE.items():
            if of == key:
                marks.pop(follows, None)
        return replace(self, marks=marks, at=QUESTIONS.index(BY_KEY[key]))

    def _on(self, picture: Picture | None) -> TakeOff:
        """The next question that is not answered yet, the likes of what was drawn marked."""
        at = self.at + 1
        while at < len(QUESTIONS) and (
            QUESTIONS[at].key in self.marks or self._skipped(QUESTIONS[at])
        ):
            at += 1
        found = replace(self, at=at)
        if at < len(QUESTIONS) and (of := LIKE.get(QUESTIONS[at].key)) and picture is not None:
            box = found.box(of)
            likes = picture.repeats(box)[:MOST_MARKS]
            row = tuple(Mark(x, (box[1] + box[3]) / 2.0, True, True) for x in likes)
            found = replace(found, marks={**found.marks, QUESTIONS[at].key: row})
        return found

    def _skipped(self, question: Question) -> bool:
        """Whether a question has no sense, as nothing was drawn that others could be like."""
        of = LIKE.get(question.key)
        if of is not None:
            return len(self.marks.get(of, ())) < 2
        kind, _, number = question.key.partition(" ")
        return (
            kind == "window" and int(number) > 1 and not self.marks.get(f"window {int(number) - 1}")
        )

    def _pointed(self, x: float, y: float, picture: Picture | None) -> TakeOff:
        question = self.question
        known = self.marks.get(question.key, ())
        box = self.box(LIKE[question.key])
        half = (box[2] - box[0]) / 2.0
        left = tuple(mark for mark in known if abs(mark.x - x) > half)
        if len(left) == len(known) < MOST_MARKS:
            middle = picture.one_at(box, x) if picture is not None else x
            left = (*known, Mark(middle, y, middle != x, False))
        return replace(self, marks={**self.marks, question.key: left})

    def box(self, key: str) -> tuple[float, float, float, float]:
        """Left, top, right and foot of the one of its kind that was drawn."""
        a, b = self.marks[key][:2]
        left, right = sorted((a.x, b.x))
        top, foot = sorted((a.y, b.y))
        if BY_KEY[key].kind == "upright":
            middle, reach = (top + foot) / 2.0, max(_COLUMN_BAND * (right - left), 12.0)
            top, foot = middle - reach, middle + reach
        return left, top, right, foot

    # --- kept ---------------------------------------------------------------------------------

    def plain(self) -> dict[str, Any]:
        """As plain values, to be kept; :meth:`of_plain` reads them."""
        marks = {
            key: [[m.x, m.y, m.on_x, m.on_y] for m in marks] for key, marks in self.marks.items()
        }
        return {"metres_per_pixel": self.metres_per_pixel, "marks": marks, "at": self.at}

    @classmethod
    def of_plain(cls, given: Mapping[str, Any]) -> TakeOff:
        """What :meth:`plain` gave; raises ValueError, TypeError or KeyError for anything else."""
        marks = {
            str(key): tuple(Mark(float(x), float(y), bool(a), bool(b)) for x, y, a, b in rows)
            for key, rows in dict(given["marks"]).items()
            if key in BY_KEY
        }
        scale = float(given["metres_per_pixel"])
        if not 0.0 < scale < 1e3:
            raise ValueError("no scale")
        return cls(scale, marks, min(max(int(given["at"]), 0), len(QUESTIONS)))


def snapped(
    question: Question, x: float, y: float, picture: Picture | None, radius_px: float
) -> Mark:
    """Where a click for a question comes to: only the ways that it asks for are moved."""
    if picture is None:
        return Mark(x, y)
    found = picture.snap(x, y, radius_px)
    on_x = found.on_x and question.kind in ("upright", "corner")
    on_y = found.on_y and question.kind in ("across", "corner")
    return Mark(found.x if on_x else x, found.y if on_y else y, on_x, on_y)
