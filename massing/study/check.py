"""Every fault of a scene at once, each with its line, for one who is writing it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from massing.build.house import build
from massing.design.design import Design
from massing.resolve.design import resolve
from massing.scene.errors import DesignError, SceneError
from massing.scene.explain import nearest
from massing.scene.lines import FieldPath, Lines
from massing.scene.load import LoadedScene, loaded_scene, read_fields
from massing.scene.spec import Scene
from massing.study.study import lit_times

MOST_FAULTS = 30

_STAND_INS: dict[FieldPath, Any] = {
    ("title",): "Untitled",
    ("site", "place"): "Anywhere",
    ("site", "latitude"): 40.0,
    ("site", "longitude"): 0.0,
    ("site", "front_faces"): "S",
}
"""For fields that must be given and on which no size depends."""


def every_fault(path: Path | str, text: str | None = None) -> list[SceneError]:
    """The faults of a scene file, in the order of its lines; none where it is fine."""
    return faults_and_rest(path, text)[0]


def faults_and_rest(
    path: Path | str, text: str | None = None
) -> tuple[list[SceneError], list[Design]]:
    """The faults of a scene file, in the order of its lines, and the designs of what is left.

    After each fault the field at fault is left to its rule and the scene read again, so that what
    else is wrong comes to light. What only follows from a fault is therefore not said; what hides
    behind a size that must be given is not found.

    Args:
        path: the scene file.
        text: what the file would hold.
    """
    path = Path(path)
    try:
        fields, lines = read_fields(path, text)
    except SceneError as fault:
        return [fault], []
    found: dict[FieldPath, SceneError] = {}
    rounds = _Rounds(path, fields, lines)
    while len(found) < MOST_FAULTS:
        faults = rounds.faults(
            placed=not {("site", "latitude"), ("site", "longitude")} & set(found)
        )
        fresh = {fault.field: fault for fault in reversed(faults) if fault.field not in found}
        found |= fresh
        mended = [_left_to_its_rule(fields, field) for field in fresh]
        if True not in mended:
            break
    told = [fault for field, fault in found.items() if not _misspelt(field, found)]
    return sorted(told, key=lambda fault: fault.line or 0)[:MOST_FAULTS], rounds.designs


def _misspelt(missing: FieldPath, found: dict[FieldPath, SceneError]) -> bool:
    """Whether a field is missing only because another fault is its name written wrong."""
    if not missing or ": missing" not in found[missing].detail:
        return False
    beside = [f for f in found if f[:-1] == missing[:-1] and "no such field" in found[f].detail]
    return any(nearest(str(field[-1]), [str(missing[-1])]) for field in beside)


class _Rounds:
    """A scene that is read again and again while its faults are mended."""

    def __init__(self, path: Path, fields: dict[str, Any], lines: Lines) -> None:
        self.path, self.fields, self.lines = path, fields, lines
        self.stuck: set[str] = set()  # designs whose next fault cannot be got at
        self.built: dict[str, Scene] = {}  # what was built without a fault
        self.designs: list[Design] = []  # of the last round that was resolved

    def faults(self, placed: bool) -> list[SceneError]:
        """What can be seen to be wrong now, of the first kind that has any.

        The fields; the design as drawn; the alternatives, which might only suffer from its faults,
        with the times if the place is known; and what shows when the designs are built.
        """
        loaded = loaded_scene(self.path, self.fields, self.lines)
        if not isinstance(loaded, LoadedScene):
            return loaded
        faults, designs = [], {}
        for name, spec in loaded.designs.items():
            if name in self.stuck:
                continue
            try:
                designs[name] = resolve(spec, name, loaded.lines[name])
            except DesignError as fault:
                faults.append(self._noted(name, loaded.error(name, fault)))
                if name == loaded.scene.as_drawn and name not in self.stuck:
                    return faults
        self.designs = list(designs.values())
        if placed and designs:
            faults += lit_times(loaded, next(iter(designs.values())).site)[1]
        return faults or self._faults_of_building(loaded, designs)

    def _faults_of_building(
        self, loaded: LoadedScene, designs: dict[str, Design]
    ) -> list[SceneError]:
        faults = []
        for name, design in designs.items():
            if self.built.get(name) == loaded.designs[name]:
                continue
            try:
                build(design.unadorned)
                self.built[name] = loaded.designs[name]
            except DesignError as fault:
                faults.append(self._noted(name, loaded.error(name, fault)))
            except ValueError as fault:
                faults.append(self._noted(name, loaded.build_error(name, fault)))
        return faults

    def _noted(self, name: str, fault: SceneError) -> SceneError:
        if not _stands(self.fields, fault.field):
            self.stuck.add(name)
        return fault


def _stands(fields: dict[str, Any], field: FieldPath) -> bool:
    """Whether a field is given, so that it can be left to its rule."""
    node: Any = fields
    steps: tuple[Any, ...] = field
    for step in steps:
        in_list = isinstance(node, list) and isinstance(step, int) and step < len(node)
        if not in_list and not (isinstance(node, dict) and step in node):
            return False
        node = node[step]
    return bool(field)


def _left_to_its_rule(fields: dict[str, Any], field: FieldPath) -> bool:
    """Take a field out of the scene; says whether the scene can be read on.

    What must be given and decides no size gets a stand-in. A single item of a list becomes as
    another that is not at fault, so that those after it keep their places.
    """
    if field in _STAND_INS and (len(field) == 1 or isinstance(fields.get("site"), dict)):
        (fields["site"] if len(field) == 2 else fields)[str(field[-1])] = _STAND_INS[field]
        return True
    if not _stands(fields, field):
        return False
    owner: Any = fields
    steps: tuple[Any, ...] = field
    for step in steps[:-1]:
        owner = owner[step]
    last = steps[-1]
    if field[:-1] == ("times",) and isinstance(owner, list):
        owner[last] = f"2026-06-{10 + last % 20} 12:00"  # any day on which the sun is up at noon
        return True
    if isinstance(owner, list):
        others = [item for item in owner if item != owner[last]]
        if not others:
            return False
        owner[last] = others[0]
        return True
    del owner[last]
    if field[0] == "alternatives" and len(field) == 3 and not owner:
        del fields["alternatives"][field[1]]
    return True
