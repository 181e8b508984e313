"""What one address serves: a scene at the desk, or eight questions until there is one."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

from massing.cli.desk.better import Porches
from massing.cli.desk.desk import Desk
from massing.cli.desk.jobs import Pictures
from massing.cli.desk.refusal import Refusal
from massing.scene.errors import SceneError

MOST_TITLE = 80
MOST_TOWNS = 8


class Office:
    """The desk that is open, its pictures and its search for porches.

    Attributes:
        folder: where a new scene is written.
    """

    def __init__(self, scene: Path | None, out: Path | None = None, folder: Path = Path()) -> None:
        """Open a scene; none, and the page asks for a new one.

        ``out`` is where its pictures go, by default ``renders/`` and the scene's name.

        Raises:
            SceneError: the scene cannot be opened.
        """
        self.folder, self._out = folder, out
        self.porches = Porches()
        self._lock = threading.Lock()
        self._desk: Desk | None = None
        self._pictures: Pictures | None = None
        if scene is not None:
            self._open(scene)

    def _open(self, scene: Path) -> None:
        from massing.cli.shared import DEFAULT_FOLDER

        self._desk = Desk(scene)
        self._pictures = Pictures(self._out or DEFAULT_FOLDER / scene.stem)

    @property
    def is_open(self) -> bool:
        """Whether a scene is on the desk."""
        return self._desk is not None

    @property
    def desk(self) -> Desk:
        """The desk; raises Refusal before there is a scene."""
        if self._desk is None:
            raise Refusal("no scene is open yet: answer the questions first")
        return self._desk

    @property
    def pictures(self) -> Pictures:
        """The scene's pictures; raises Refusal before there is a scene."""
        if self._pictures is None:
            raise Refusal("no scene is open yet: answer the questions first")
        return self._pictures

    def close(self) -> None:
        """End what is being made."""
        if self._pictures is not None:
            self._pictures.stop()

    # --- a new scene --------------------------------------------------------------------------

    def questions(self, units: str) -> list[dict[str, Any]]:
        """The eight questions, with what is usual for the units."""
        from massing.edit.begin import PORCHES, UNITS, questions

        choices = {"units": UNITS, "porch": PORCHES}
        return [
            {**asdict(each), "choices": list(choices.get(each.field, ()))}
            for each in questions(units if units in UNITS else UNITS[0])
        ]

    def towns(self, text: str) -> list[str]:
        """The towns that a beginning of a name may mean, the largest first."""
        from massing.edit.towns import towns_named

        return [town.words for town in towns_named(text[:MOST_TITLE], MOST_TOWNS)]

    def begin(self, given: Mapping[str, Any]) -> dict[str, Any]:
        """Write a new scene from the answers and open it; where it was written.

        Raises:
            Refusal: an answer that cannot be read, or a name that is taken; nothing is written.
        """
        from massing.edit.begin import answer, new_scene
        from massing.files import slug, write_users_own

        title = " ".join(str(given.get("title", "")).split())[:MOST_TITLE] or "A new house"
        answers = {str(k): str(v) for k, v in given.items() if k != "title"}
        with self._lock:
            if self._desk is not None:
                raise Refusal(f"{self._desk.path.name} is open already")
            path = self.folder / f"{slug(title)}.yaml"
            if path.exists():
                raise Refusal(f"{path.name} is there already, allowed: another name for the house")
            try:
                text = new_scene(answer(answers), title)
            except ValueError as fault:
                raise Refusal(str(fault)) from None
            write_users_own(path, text)
            try:
                self._open(path)
            except SceneError as fault:
                raise Refusal(fault.detail) from None
            return {"file": path.name}
