"""What the library makes of a scene file's text: each design, its model, its sun, kept by text."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from massing.build.house import build
from massing.design.design import Design
from massing.edit.budget import check_pieces
from massing.findings.finding import Finding
from massing.findings.report import findings
from massing.parts.part import Model
from massing.resolve.design import resolve
from massing.scene.errors import DesignError, SceneError
from massing.scene.load import LoadedScene, load_scene
from massing.sun.position import SunTime, sun_time


class Reading:
    """A scene file's text, read; designs and models are made when asked for, and kept.

    Attributes:
        path: the file that the text is, or will be.
        text: as given.
        loaded: the valid scene.
    """

    def __init__(self, path: Path, text: str) -> None:
        """Read a text; raises SceneError, one line, where it is no valid scene."""
        self.path, self.text = path, text
        self.loaded: LoadedScene = load_scene(path, text)
        self._designs: dict[str, Design] = {}
        self._models: dict[str, Model] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """The designs, as drawn first, then the alternatives in the file's order."""
        return tuple(self.loaded.designs)

    @property
    def drawn(self) -> str:
        """The name of the design as drawn."""
        return self.loaded.scene.as_drawn

    def design(self, name: str) -> Design:
        """A design with every dimension known.

        Raises:
            SceneError: its fields cannot stand together; the line of the one at fault.
        """
        if name not in self._designs:
            loaded = self.loaded
            try:
                self._designs[name] = resolve(loaded.designs[name], name, loaded.lines[name])
            except DesignError as fault:
                raise loaded.error(name, fault) from None
        return self._designs[name]

    def model(self, name: str) -> Model:
        """A design's model.

        Raises:
            SceneError: the design cannot be built, or is of too many pieces.
        """
        if name not in self._models:
            self._models[name] = self._built(name, self.design(name))
        return self._models[name]

    def light_model(self, name: str) -> Model:
        """A design's model without coverings and bonds piece by piece, for a hand that moves.

        Raises:
            SceneError: as :meth:`model`.
        """
        design = self.design(name)
        self._check_pieces(name, design)
        made = self._built(name, design.unlaid)
        relief = {"in relief": design.house.walls} if design.house.relief else {}
        return replace(made, notes={**made.notes, **relief})  # the walls' finish stays as it is

    def covered_as(self, name: str, other: Reading) -> bool:
        """Whether a design's coverings are those it has in another reading, and soon laid.

        They are where its house and roof are the same and, where its walls are laid with bricks
        or boards, its porch, which those are cut to.

        Raises:
            SceneError: as :meth:`design`.
        """
        if name not in other.names:
            return False
        mine, its = self.design(name), other.design(name)
        alike = (mine.house, mine.roof) == (its.house, its.roof)
        return alike and (not mine.house.relief or mine.porch == its.porch)

    def _built(self, name: str, design: Design) -> Model:
        self._check_pieces(name, design)
        try:
            return build(design)
        except DesignError as fault:
            raise self.loaded.error(name, fault) from None
        except ValueError as fault:
            raise self.loaded.build_error(name, fault) from None

    def _check_pieces(self, name: str, design: Design) -> None:
        try:
            check_pieces([design])
        except DesignError as fault:
            raise self.loaded.error(name, fault) from None

    def findings(self, name: str) -> list[Finding]:
        """What canons, codes and common practice say of a design."""
        return list(findings(self.design(name)))

    def sun(self, name: str, time: str) -> SunTime:
        """The sun at a written time, before a design's front.

        Raises:
            SceneError: no such time; with the line of the scene's time, where it is one.
        """
        try:
            return sun_time(time, self.design(name).site)
        except ValueError as fault:
            times = self.loaded.scene.times
            if time in times:
                raise self.loaded.time_error(times.index(time), fault) from None
            raise SceneError(self.path, None, f"time: {fault}") from None

    def check(self) -> None:
        """Resolve every design; raises SceneError at the first that cannot stand."""
        for name in self.names:
            self.design(name)


@lru_cache(maxsize=6)
def reading(path: str, text: str) -> Reading:
    """The reading of a text, kept for the last few.

    Raises:
        SceneError: the text is no valid scene; one line.
    """
    return Reading(Path(path), text)
