"""A scene file, read with its line numbers: one whole, valid spec for each alternative.

An alternative is the design as drawn with only its own changes laid over: groups of fields
merge, lists and single values replace, ``null`` gives a field its default again.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from massing.canon.own import ENDINGS as CANON_ENDINGS
from massing.canon.own import own_canon
from massing.design.faults import BuildFault
from massing.scene import explain
from massing.scene.errors import DesignError, SceneError
from massing.scene.layers import changed_lines, laid_over, without_nulls
from massing.scene.lines import FieldPath, Lines, fault_at, line_above, parse_field
from massing.scene.names import faulty_names, kept_names, take_name
from massing.scene.other_names import in_our_names
from massing.scene.spec import Alterable, Scene, Site
from massing.scene.text import STANDARD_INPUT, read_text, read_yaml
from massing.sun.times import parse_time, time_zone_at
from massing.sun.written_times import read_time
from massing.units import in_system

CHANGEABLE = tuple(Alterable.model_fields)

MOST_ALTERNATIVES = 40


@dataclass(frozen=True)
class LoadedScene:
    """A valid scene file.

    Attributes:
        path: the file.
        designs: a whole spec for each design by name, as drawn first, in the file's order.
        lines: for each design, the line that set a field, by its path
            (``("porch", "columns")``; ``("house", "windows", 0, "height")``).
        file_lines: the line of every field in the file, ``alternatives`` included.
        text: what it was read from; empty where only its fields were given.
    """

    path: Path
    designs: dict[str, Scene]
    lines: dict[str, Lines]
    file_lines: Lines
    text: str = ""

    @property
    def scene(self) -> Scene:
        """The design as drawn, with what all designs share: site, times, views, looks."""
        return next(iter(self.designs.values()))

    @property
    def name(self) -> str:
        """The file's name without its ending."""
        return "scene" if self.path == STANDARD_INPUT else self.path.stem

    @property
    def file_name(self) -> str:
        """The file's name, or what stands for it where it came by standard input."""
        return "scene" if self.path == STANDARD_INPUT else self.path.name

    def error(self, name: str, fault: DesignError) -> SceneError:
        """The fault of one design with its file and line, and the alternative's name."""
        field = parse_field(fault.field)
        own = () if name == self.scene.as_drawn else ("alternatives", name)
        words = f"given {fault.given}, allowed: {fault.allowed}"
        detail = f"{explain.dotted(field)}: {in_system(words, self.scene.units)}"
        if own:
            joint = "." if (*own, *field) in self.file_lines else ": "
            detail = explain.dotted(own) + joint + detail
        at = (*own, *field)
        where = at if at in self.file_lines else field if field in self.file_lines else own
        return SceneError(self.path, line_above(self.file_lines, at), detail, where)

    def build_error(self, name: str, fault: ValueError) -> SceneError:
        """A fault found while building one design, at its field, or where the design begins."""
        if isinstance(fault, BuildFault):
            return self.error(name, DesignError(fault.field, fault.given, fault.allowed))
        own = () if name == self.scene.as_drawn else ("alternatives", name)
        where = explain.dotted(own) or self.scene.as_drawn
        words = in_system(str(fault), self.scene.units)
        return SceneError(self.path, line_above(self.file_lines, own), f"{where}: {words}", own)

    def time_error(self, index: int, fault: ValueError) -> SceneError:
        """The fault of one of the scene's times (counted from none) with its file and line."""
        field = ("times", index)
        problem, _, allowed = str(fault).partition("; allowed: ")
        written = self.scene.times[index]
        detail = f"given {written}, allowed: {allowed}" if allowed else problem
        return fault_at(self.path, self.file_lines, field, detail)


def load_scene(path: Path | str, text: str | None = None) -> LoadedScene:
    """Read a scene file, or take ``text`` as what the file would hold.

    Raises:
        SceneError: the file cannot be read, is not YAML, or a field is wrong; one line.
    """
    path = Path(path)
    text = read_text(path) if text is None else text
    fields, lines = read_fields(path, text)
    loaded = loaded_scene(path, fields, lines)
    if isinstance(loaded, LoadedScene):
        return replace(loaded, text=text)
    raise loaded[0]


def read_fields(path: Path, text: str | None = None) -> tuple[dict[str, Any], Lines]:
    """A scene file, or ``text`` in its place, as plain values; and the line of each field.

    Fields of other names in the trade stand under ours.

    Raises:
        SceneError: the file cannot be read, or is not YAML with fields; one line.
    """
    fields, lines = read_yaml(path, read_text(path) if text is None else text)
    return in_our_names(fields, lines, Scene)


def loaded_scene(path: Path, raw: dict[str, Any], lines: Lines) -> LoadedScene | list[SceneError]:
    """What :func:`read_fields` read, as valid designs; or every fault that can be seen at once.

    The first of the faults is the one to say where only one is said.
    """
    raw, canon_faults = _with_canons(path, raw, lines)
    if canon_faults:
        return canon_faults
    drawn = without_nulls({key: value for key, value in raw.items() if key != "alternatives"})
    base = _validated(path, lines, drawn, ())
    if isinstance(base, list):
        return base
    drawn_lines = {k: v for k, v in lines.items() if k[0] != "alternatives"}
    designs, own_lines = {base.as_drawn: base}, {base.as_drawn: drawn_lines}
    taken = kept_names()
    faults = list(faulty_names(path, lines, base, taken))
    try:
        alternatives = _alternatives(path, lines, raw, taken)
    except SceneError as fault:
        return [*faults, fault]
    for name, changes in alternatives.items():
        at: FieldPath = ("alternatives", name)
        under = drawn
        if isinstance(drawn.get("setting"), str) and isinstance(changes.get("setting"), dict):
            under = {**drawn, "setting": {"kind": drawn["setting"]}}  # as the word alone means
        own = _validated(path, lines, laid_over(under, changes), at)
        if isinstance(own, list):
            faults += own
            continue
        designs[name] = own
        own_lines[name] = changed_lines(drawn_lines, changes, lines, at)
    loaded = LoadedScene(path, designs, own_lines, lines)
    for index, text in enumerate(base.times):
        try:
            _check_time(text, base.site)
        except ValueError as fault:
            faults.append(loaded.time_error(index, fault))
    return faults or loaded


def given_fields(
    scene: Scene, lines: Lines, known: Container[str] = ()
) -> list[tuple[str, str, str]]:
    """What a design's fields hold besides those ``known``: field, value, given or default."""
    rows = []
    for path, info, value in _leaves(scene, ()):
        name = ".".join(map(str, path))
        if value is None or name in known or path[0] in ("title", "alternatives", "as_drawn"):
            continue
        line = lines.get(path)
        origin = f"given, line {line}" if line else "default"
        rows.append((explain.dotted(path), explain.written(info, value, scene.units), origin))
    return rows


def _leaves(model: BaseModel, at: FieldPath) -> Iterator[tuple[FieldPath, FieldInfo, Any]]:
    for name, info in type(model).model_fields.items():
        value = getattr(model, name)
        if isinstance(value, BaseModel):
            yield from _leaves(value, (*at, name))
        elif isinstance(value, list) and name not in ("views", "looks"):
            for index, item in enumerate(value):
                if isinstance(item, BaseModel):
                    yield from _leaves(item, (*at, name, index))
                else:
                    yield (*at, name, index), info, item
        else:
            yield (*at, name), info, value


def _check_time(text: str, site: Site) -> None:
    spec = read_time(text)
    if spec.conventional or spec.best:  # an hour to be found, once the site is known
        return
    zone = site.time_zone or time_zone_at(site.latitude, site.longitude)
    where = {"latitude_deg": site.latitude, "longitude_deg": site.longitude}
    parse_time(text, time_zone=zone, year=site.year, **where)


def _with_canons(
    path: Path, raw: dict[str, Any], lines: Lines
) -> tuple[dict[str, Any], list[SceneError]]:
    """The fields with each file of a canon of one's own read, and its name in the file's place."""
    faults: list[SceneError] = []

    def walk(node: Any, at: FieldPath) -> Any:
        if isinstance(node, list):
            return [walk(item, (*at, i)) for i, item in enumerate(node)]
        if not isinstance(node, dict):
            if at[-1:] != ("canon",) or not str(node).lower().endswith(CANON_ENDINGS):
                return node
            try:
                return own_canon(path.parent, str(node))
            except ValueError as fault:
                faults.append(fault_at(path, lines, at, str(fault)))
            return node
        return {key: walk(value, (*at, key)) for key, value in node.items()}

    return walk(raw, ()), faults


def _alternatives(
    path: Path, lines: Lines, raw: dict[str, Any], taken: dict[str, str]
) -> dict[str, dict[str, Any]]:
    """The changes of each alternative, known to be groups of fields that may change."""
    alternatives = raw.get("alternatives")
    if alternatives is None:
        return {}
    if not isinstance(alternatives, dict):
        allowed = "a name for each, then what it changes"
        detail = f"given {explain.given(alternatives)}, allowed: {allowed}"
        raise fault_at(path, lines, ("alternatives",), detail)
    if len(alternatives) > MOST_ALTERNATIVES:
        detail = f"given {len(alternatives)}, allowed: up to {MOST_ALTERNATIVES}"
        raise fault_at(path, lines, ("alternatives",), detail)
    for name, changes in alternatives.items():
        at = ("alternatives", name)
        allowed = take_name(name, "an alternative", taken)
        if allowed:
            raise fault_at(path, lines, at, f"given {explain.given(name)}, allowed: {allowed}")
        if not isinstance(changes, dict) or not changes:
            detail = f"given {explain.given(changes)}, allowed: changes to {_join(CHANGEABLE)}"
            raise fault_at(path, lines, at, detail)
        for field in changes:
            if field not in CHANGEABLE:
                detail = explain.unknown_field(field, CHANGEABLE)
                raise fault_at(path, lines, (*at, field), detail)
    return alternatives


def _validated(
    path: Path, lines: Lines, data: dict[str, Any], at: FieldPath
) -> Scene | list[SceneError]:
    """One design's data as a spec, or its faults, the first to be said first.

    ``at`` is where its changes stand, if it is an alternative.
    """
    try:
        return Scene.model_validate(data)
    except ValidationError as invalid:
        faults = invalid.errors(include_url=False)
    order = {"extra_forbidden": 0, "missing": 2}
    ranked = []
    for fault in faults:
        field = tuple(fault["loc"])
        where = (*at, *field) if (*at, *field) in lines else field
        line = line_above(lines, where) or 0
        ranked.append((order.get(fault["type"], 1), line, where, explain.explain(Scene, fault)))
    ranked.sort(key=lambda r: r[:2])
    return [fault_at(path, lines, where, detail) for *_, where, detail in ranked]


def _join(words: tuple[str, ...]) -> str:
    return ", ".join(words[:-1]) + f" or {words[-1]}"
