"""A scene in hand: open, change, look at what changed, go back, save.

The text is the state. A change of a field is a change in the text; the text is read as the file
itself would be, so that a fault is the same one line. While a text is at fault, the last house
that could be built stands.

>>> scene = SceneInHand.of_text('''
... title: By the ford
... site: {place: Savannah, latitude: 32.08, longitude: -81.09, front_faces: S 20 E}
... times: [equinox 10:00]
... house: {width: 48 ft, depth: 32 ft, storeys: [11 ft, 10 ft]}
... porch: {order: pier, columns: 4, diameter: 12 in}  # as built
... ''')
>>> scene.set("porch.spacing", "9 ft").moved
('porch/column/base', 'porch/column/shaft', 'porch/column/capital')
>>> scene.standing("porch.spacing").shown, scene.undo(), scene.standing("porch.spacing").shown
('9 ft', True, '9\\'-7 3/16"')
>>> nothing = scene.set("porch.columns", 99)
>>> print(scene.fault.detail.partition(" (")[0])
porch.columns: given 99, allowed: a whole number, 2 to 16
>>> scene.model().select("porch/column/shaft")[0].count
4
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from massing.design.design import Design
from massing.edit import writing
from massing.edit.difference import Difference, difference
from massing.edit.fields import (
    Standing,
    found_fields,
    rule_value,
    scene_fields,
    standing,
    standings,
)
from massing.edit.reading import Reading, reading
from massing.edit.scene_field import SceneField, typed
from massing.files import write_users_own
from massing.findings.finding import Finding
from massing.parts.part import Model
from massing.scene.edit import FieldPath
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field
from massing.scene.load import load_scene
from massing.scene.text import read_text
from massing.sun.position import SunTime

UNTITLED = "untitled.yaml"


@dataclass(frozen=True)
class Step:
    """One state of the history: the text, and which design of it is shown."""

    text: str
    shown: str
    said: str  # what led here, in a few words
    stroke: str = ""


class SceneInHand:
    """A scene file's text in hand, with undo without end.

    Attributes:
        path: the file that the text is, or will be.
        fault: what is wrong with the text in hand, or None; :meth:`model` and the rest then
            speak of the last text that could be built.
        written: the text as last read from disk or written there; None before the first time.
    """

    def __init__(self, path: Path | str, text: str, written: str | None) -> None:
        """Take a text in hand; raises SceneError where it cannot be read and built."""
        self.path = Path(path)
        self.written = written
        first = reading(str(self.path), text)
        name = first.drawn
        self._stands: Model = first.model(name)
        self._good: Reading = first
        self._steps = [Step(text, name, "opened")]
        self._at = 0
        self._shown_good = name
        self.fault: SceneError | None = None

    @classmethod
    def open(cls, path: Path | str) -> SceneInHand:
        """Take a scene file in hand.

        Raises:
            SceneError: it cannot be read, or its design as drawn cannot be built; one line.
        """
        text = read_text(Path(path))
        return cls(path, text, text)

    @classmethod
    def of_text(cls, text: str, path: Path | str = UNTITLED) -> SceneInHand:
        """Take a text in hand that is no file yet.

        Raises:
            SceneError: as :meth:`open`.
        """
        return cls(path, text, None)

    # --- what stands ------------------------------------------------------------------------

    @property
    def text(self) -> str:
        """The text in hand, at fault or not."""
        return self._steps[self._at].text

    @property
    def reading(self) -> Reading:
        """The last text that could be read and built."""
        return self._good

    @property
    def shown(self) -> str:
        """The design that is shown."""
        return self._shown_good

    @property
    def designs(self) -> tuple[str, ...]:
        """The designs by name, as drawn first."""
        return self._good.names

    @property
    def is_edited(self) -> bool:
        """Whether the text in hand is another than the file's."""
        return self.text != self.written

    def design(self, name: str | None = None) -> Design:
        """A design, by default the one shown; raises SceneError where it cannot stand."""
        return self._good.design(name or self.shown)

    def model(self, name: str | None = None) -> Model:
        """A design's model, by default of the one shown; raises SceneError if it has none."""
        return self._stands if name in (None, self.shown) else self._good.model(str(name))

    def findings(self, name: str | None = None) -> list[Finding]:
        """What canons, codes and practice say of a design, by default of the one shown."""
        return self._good.findings(name or self.shown)

    def sun(self, time: str, name: str | None = None) -> SunTime:
        """The sun at a written time, which need not be one of the scene's."""
        return self._good.sun(name or self.shown, time)

    def fields(self, search: str = "", name: str | None = None) -> list[Standing]:
        """How the fields stand in a design: those that ``search`` finds, or all, first ones first.

        What is written, and where, is of the text in hand even while that is at fault; values
        are those that hold. See :class:`~massing.edit.fields.Standing`.
        """
        name = name or self.shown
        found = found_fields(scene_fields(self._good, name), search)
        return standings(self._good, name, found, self.text)

    def standing(self, field: str | FieldPath, name: str | None = None) -> Standing:
        """How one field stands in a design; raises KeyError where there is none such."""
        return standing(self._good, name or self.shown, _path(field), self.text)

    @property
    def fault_field(self) -> FieldPath | None:
        """Which field the fault names, where it names one of the design shown."""
        if self.fault is None:
            return None
        place = self.fault.detail
        for lead in (
            f"{writing.ALTERNATIVES}.{self.shown}.",
            f"{writing.ALTERNATIVES}.{self.shown}: ",
        ):
            place = place.removeprefix(lead)
        for each in scene_fields(self._good, self.shown):
            if place.startswith(f"{each.name}:"):
                return each.path
        return None

    def rule_value(self, field: str | FieldPath, name: str | None = None) -> str:
        """What the rule would give for a field; raises SceneError where it must be given."""
        return rule_value(self._good, name or self.shown, _path(field))

    # --- changes ----------------------------------------------------------------------------

    def set(
        self, field: str | FieldPath, value: Any, name: str | None = None, *, stroke: str = ""
    ) -> Difference:
        """Give a field a value as it would be written in the file; ``None`` is "by rule".

        What all designs share is set for all. Changes that follow each other with the same
        ``stroke`` (of a slider, say) are one step of undo.

        Args:
            field: its path as written in messages (``house.windows[1].height``) or in steps.
            value: ``"8 ft"``, ``6``, ``True``, ``{}`` for a group with all by rule, ``None``.
            name: the design that changes, by default the one shown.
            stroke: what the change is one of many of.

        Returns:
            What changed in the model of the design shown; nothing while the text is at fault.
        """
        path = _path(field)
        text = writing.set_field(self.text, path, value, self._alternative(name))
        return self._take(text, f"{_said(path)} set", stroke)

    def type_in(
        self, field: str | FieldPath, text: str, name: str | None = None, *, stroke: str = ""
    ) -> Difference:
        """Give a field what was typed for it, see :func:`~massing.edit.fields.typed`."""
        each: SceneField = self.standing(field, name).field
        return self.set(each.path, typed(each, text), name, stroke=stroke)

    def set_fields(
        self, changes: Mapping[FieldPath, Any], name: str | None = None, *, said: str
    ) -> Difference:
        """Give several fields their values at once, as one step; see :meth:`set`.

        ``None`` takes away what is written of a field and adds nothing where nothing is.
        """
        text, alternative = self.text, self._alternative(name)
        for path, value in changes.items():
            if value is None:
                text = writing.unset_field(text, path, alternative)
            else:
                text = writing.set_field(text, path, value, alternative)
        return self._take(text, said)

    def unset(self, field: str | FieldPath, name: str | None = None) -> Difference:
        """Take away what a design itself says of a field: it is as drawn again, or by rule."""
        path = _path(field)
        text = writing.unset_field(self.text, path, self._alternative(name))
        return self._take(text, f"{_said(path)} left out")

    def add(self, field: str | FieldPath, value: Any) -> Difference:
        """One more item in a list that all designs share, such as a time or a view."""
        path = _path(field)
        return self._take(writing.add_item(self.text, path, value), f"{_said(path)} added to")

    def replace_text(self, text: str) -> Difference:
        """Put another text in hand as a whole, as after typing in it."""
        return self._take(text, "text changed")

    def show(self, name: str) -> Difference:
        """Show another design.

        Raises:
            SceneError: it cannot be built; the one that is shown stays.
        """
        if name not in self.designs:
            raise SceneError(self.path, None, f"given {name}, allowed: {', '.join(self.designs)}")
        self._good.model(name)
        return self._take(self.text, f"{name} shown", shown=name)

    def add_alternative(self, name: str, like: str | None = None) -> Difference:
        """Add an alternative that is like a design, by default the one shown, and show it.

        Raises:
            SceneError: no name for one; nothing has changed.
        """
        if name in self.designs:
            raise SceneError(self.path, None, f"given {name} again, allowed: a name of its own")
        like = self._alternative(like)
        text = writing.add_alternative(self.text, name, like)
        return self._take_whole(text, f"{name} added", shown=name)

    def rename_design(self, name: str, new: str) -> Difference:
        """Call a design otherwise, the one as drawn too.

        Raises:
            SceneError: no name for one; nothing has changed.
        """
        if new in self.designs and new != name:
            raise SceneError(self.path, None, f"given {new} again, allowed: a name of its own")
        if self._alternative(name) is None:
            text = writing.set_field(self.text, ("as_drawn",), new)
        else:
            text = writing.rename_alternative(self.text, name, new)
        shown = new if name == self.shown else self.shown
        return self._take_whole(text, f"{name} called {new}", shown=shown)

    def delete_alternative(self, name: str) -> Difference:
        """Take an alternative out.

        Raises:
            SceneError: it is the design as drawn, or there is none such; nothing has changed.
        """
        if self._alternative(name) is None:
            raise SceneError(self.path, None, f"given {name}, allowed: an alternative to it")
        text = writing.delete_alternative(self.text, name)
        shown = self._good.drawn if name == self.shown else self.shown
        return self._take_whole(text, f"{name} taken out", shown=shown)

    def order_alternatives(self, names: Sequence[str]) -> Difference:
        """Put the alternatives in another order; all of them are named.

        Raises:
            SceneError: others, or not all, are named; nothing has changed.
        """
        try:
            text = writing.order_alternatives(self.text, names)
        except KeyError:
            allowed = ", ".join(self.designs[1:]) or "no name: there is no alternative"
            given = ", ".join(names) or "none"
            raise SceneError(self.path, None, f"given {given}, allowed: {allowed}") from None
        return self._take_whole(text, "alternatives put in order")

    # --- back and forth ---------------------------------------------------------------------

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return self._at > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a step that was taken back."""
        return self._at + 1 < len(self._steps)

    @property
    def history(self) -> tuple[str, ...]:
        """What led to each state, oldest first, in a few words."""
        return tuple(step.said for step in self._steps)

    def undo(self) -> bool:
        """Take the last step back; whether there was one."""
        if not self.can_undo:
            return False
        self._at -= 1
        self._settle()
        return True

    def redo(self) -> bool:
        """Take a step again that was taken back; whether there was one."""
        if not self.can_redo:
            return False
        self._at += 1
        self._settle()
        return True

    # --- the file ---------------------------------------------------------------------------

    def on_disk(self) -> Literal["same", "changed", "gone", "new"]:
        """How the file on disk stands to the text that was read from it or written to it."""
        if self.written is None:
            return "new"
        try:
            return "same" if read_text(self.path) == self.written else "changed"
        except SceneError:
            return "changed" if self.path.exists() else "gone"

    def take_disk(self, *, lose_edits: bool = False) -> Difference:
        """Take up what changed in the file elsewhere; one step of undo.

        Raises:
            SceneError: the text in hand has changes too, and may not lose them; or the file
                cannot be used. Nothing has changed.
        """
        text = read_text(self.path)
        if self.is_edited and text != self.written and not lose_edits:
            raise SceneError(
                self.path,
                None,
                "given changes on disk and changes here, allowed: one of them; write this state "
                "under another name, or open the file again",
            )
        if text == self.written:
            return Difference()
        found = self._take_whole(text, "taken from disk")
        self.written = text
        return found

    def save(self, path: Path | str | None = None, *, over: bool = False) -> Path:
        """Write the text in hand; comments and all that did not change are letter for letter.

        Args:
            path: another file than the one in hand; it is the one in hand from then on.
            over: write even where the file in hand changed on disk since it was read.

        Raises:
            SceneError: a design is at fault, or the file on disk is not the one that was read;
                nothing is written.
            OSError: it could not be written.
        """
        target = self.path if path is None else Path(path)
        if self.fault is not None:
            raise self.fault
        self._good.check()
        if not over and target == self.path and self.on_disk() == "changed":
            raise SceneError(
                target, None, "given changes on disk since it was read, allowed: another name"
            )
        write_users_own(target, self.text)
        if target != self.path:
            self.path = target
            self._good = reading(str(target), self._good.text)
        self.written = self.text
        return target

    # --- inside -----------------------------------------------------------------------------

    def _alternative(self, name: str | None) -> str | None:
        name = name or self.shown
        if name not in self.designs:
            raise SceneError(self.path, None, f"given {name}, allowed: {', '.join(self.designs)}")
        return None if name == self._good.drawn else name

    def _take_whole(self, text: str, said: str, shown: str | None = None) -> Difference:
        """Take a text in hand that has to be valid, or raise and leave all as it was."""
        load_scene(self.path, text)
        steps, at = self._steps, self._at
        found = self._take(text, said, shown=shown)
        fault = self.fault
        if fault is not None:
            self._steps, self._at = steps, at
            self._settle()
            raise fault
        return found

    def _take(self, text: str, said: str, stroke: str = "", shown: str | None = None) -> Difference:
        now = self._steps[self._at]
        step = Step(text, shown or now.shown, said, stroke)
        if (step.text, step.shown) == (now.text, now.shown):
            return Difference()
        follows = stroke and stroke == now.stroke and self._at > 0
        self._steps = [*self._steps[: self._at + (0 if follows else 1)], step]
        self._at = len(self._steps) - 1
        return self._settle()

    def _settle(self) -> Difference:
        """Read and build the step in hand; on a fault, what stood before stands."""
        step = self._steps[self._at]
        try:
            read = reading(str(self.path), step.text)
            name = step.shown if step.shown in read.names else read.drawn
            model = read.model(name)
        except SceneError as fault:
            self.fault = fault
            return Difference()
        found = difference(self._stands, model)
        self.fault = None
        self._good, self._stands, self._shown_good = read, model, name
        return found


def _path(field: str | FieldPath) -> FieldPath:
    return parse_field(field) if isinstance(field, str) else field


def _said(path: FieldPath) -> str:
    return ".".join(str(step + 1) if isinstance(step, int) else step for step in path)
