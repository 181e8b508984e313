"""A scene file, read with its line numbers: one whole, valid spec for each alternative.

An alternative is the design as drawn with only its own changes laid over: groups of fields
merge, lists and single values replace, ``null`` gives a field its default again.
"""

from __future__ import annotations

import errno
import re
import sys
import unicodedata
from collections.abc import Container, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.constructor import RoundTripConstructor
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from massing.canon.own import ENDINGS as CANON_ENDINGS
from massing.canon.own import own_canon
from massing.files import read_bounded, slug
from massing.scene import explain
from massing.scene.errors import DesignError, SceneError
from massing.scene.spec import Alterable, Scene, Site
from massing.scene.spec.pictures import LookName, ViewName
from massing.sun.times import parse_time, time_zone_at
from massing.sun.written_times import read_time
from massing.units import in_system

FieldPath = tuple[str | int, ...]
Lines = dict[FieldPath, int]

STANDARD_INPUT = Path("-")
CHANGEABLE = tuple(Alterable.model_fields)
MAX_BYTES = 100_000  # read in about a second; the bundled scenes have 2 to 4 thousand
MAX_FIELDS = 20_000
MOST_ALTERNATIVES = 40
MOST_TIMES = 40
MOST_DEEP = 100  # brackets in brackets
LARGEST = 10**15
MOST_SEPARATORS = 12_000  # read in about a second
LONGEST_NAME = 60
OWN_FOLDERS = tuple(
    "sheets pairs shadows masks series overlay models plates board page drawings profiles "
    "film proposals".split()
)
_TURNING = "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_SEPARATORS = ",:[{\n"  # between any two fields stands one of these


class _DatesAsText(RoundTripConstructor):
    """Leaves dates as written, for :mod:`massing.sun.written_times` to read."""


_DatesAsText.add_constructor("tag:yaml.org,2002:timestamp", RoundTripConstructor.construct_yaml_str)


@dataclass(frozen=True)
class LoadedScene:
    """A valid scene file.

    Attributes:
        path: the file.
        designs: a whole spec for each design by name, as drawn first, in the file's order.
        lines: for each design, the line that set a field, by its path
            (``("porch", "columns")``; ``("house", "windows", 0, "height")``).
        file_lines: the line of every field in the file, ``alternatives`` included.
    """

    path: Path
    designs: dict[str, Scene]
    lines: dict[str, Lines]
    file_lines: Lines

    @property
    def scene(self) -> Scene:
        """The design as drawn, with what all designs share: site, times, views, looks."""
        return next(iter(self.designs.values()))

    @property
    def name(self) -> str:
        """The file's name without its ending."""
        return "scene" if self.path == STANDARD_INPUT else self.path.stem

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
        return SceneError(self.path, _line_above(self.file_lines, at), detail, where)

    def build_error(self, name: str, fault: ValueError) -> SceneError:
        """A fault found while building one design, at the line where it begins."""
        own = () if name == self.scene.as_drawn else ("alternatives", name)
        where = explain.dotted(own) or self.scene.as_drawn
        words = in_system(str(fault), self.scene.units)
        return SceneError(self.path, _line_above(self.file_lines, own), f"{where}: {words}", own)

    def time_error(self, index: int, fault: ValueError) -> SceneError:
        """The fault of one of the scene's times (counted from none) with its file and line."""
        field = ("times", index)
        problem, _, allowed = str(fault).partition("; allowed: ")
        written = self.scene.times[index]
        detail = f"given {written}, allowed: {allowed}" if allowed else problem
        return _fault(self.path, self.file_lines, field, detail)


def load_scene(path: Path | str, text: str | None = None) -> LoadedScene:
    """Read a scene file, or take ``text`` as what the file would hold.

    Raises:
        SceneError: the file cannot be read, is not YAML, or a field is wrong; one line.
    """
    path = Path(path)
    fields, lines = read_fields(path, text)
    loaded = loaded_scene(path, fields, lines)
    if isinstance(loaded, LoadedScene):
        return loaded
    raise loaded[0]


def read_fields(path: Path, text: str | None = None) -> tuple[dict[str, Any], Lines]:
    """A scene file, or ``text`` in its place, as plain values; and the line of each field.

    Raises:
        SceneError: the file cannot be read, or is not YAML with fields; one line.
    """
    return _read(path, read_text(path) if text is None else text)


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
    taken = _kept_names()
    faults = list(_faulty_names(path, lines, base, taken))
    try:
        alternatives = _alternatives(path, lines, raw, taken)
    except SceneError as fault:
        return [*faults, fault]
    for name, changes in alternatives.items():
        at: FieldPath = ("alternatives", name)
        own = _validated(path, lines, laid_over(drawn, changes), at)
        if isinstance(own, list):
            faults += own
            continue
        designs[name] = own
        own_lines[name] = _changed_lines(drawn_lines, changes, lines, at)
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


def parse_field(text: str) -> FieldPath:
    """A dotted field as its steps; list items as ``[1]``, counted from one, or ``.0``, from none.

    >>> parse_field("house.windows[2].height"), parse_field("house.windows.1.height")
    (('house', 'windows', 1, 'height'), ('house', 'windows', 1, 'height'))
    """
    steps: list[str | int] = []
    for step in text.split("."):
        name, *items = re.split(r"[\[\]]+", step.rstrip("]"))
        if name:
            steps.append(int(name) if name.isdecimal() else name)
        steps.extend(int(item) - 1 for item in items)
    return tuple(steps)


def _kept_names() -> dict[str, str]:
    """File names that nothing in a scene may have, and what each names."""
    kept = dict.fromkeys(OWN_FOLDERS, "a folder of the tool's own")
    kept |= dict.fromkeys(map(slug, get_args(ViewName)), "a view")
    return kept | dict.fromkeys(map(slug, get_args(LookName)), "a look")


def _faulty_names(
    path: Path, lines: Lines, base: Scene, taken: dict[str, str]
) -> Iterator[SceneError]:
    """One namespace for all that names files: no two names may make one file name.

    What has a file name is noted in ``taken``, for what comes after to keep clear of.
    """
    named: list[tuple[FieldPath, str, str]] = [
        (("as_drawn",), base.as_drawn, "the design as drawn"),
        *((("cameras", i, "name"), c.name, "a camera") for i, c in enumerate(base.cameras)),
    ]
    for field, name, what in named:
        allowed = _take_name(name, what, taken)
        if allowed:
            detail = f"given {explain.given(name)}, allowed: {allowed}"
            yield _fault(path, lines, field, detail)
    if len(base.times) > MOST_TIMES:
        detail = f"given {len(base.times)}, allowed: up to {MOST_TIMES}"
        yield _fault(path, lines, ("times",), detail)
    for index, text in enumerate(base.times):
        if taken.get(slug(text)) == "a time":
            yield _fault(path, lines, ("times", index), f"given {text} again, allowed: once")
        elif slug(text) in taken:
            detail = f"given {text}, allowed: a time whose words name nothing else"
            yield _fault(path, lines, ("times", index), detail)
        taken[slug(text)] = "a time"


def _take_name(name: str, what: str, taken: dict[str, str]) -> str:
    """Note a name's file name; or what would be allowed instead."""
    own = slug(name)
    if not own or len(name) > LONGEST_NAME:
        return f"a name of its own with letters or figures, up to {LONGEST_NAME}"
    if own in taken:
        return f"a name of its own; {own} names {taken[own]}"
    taken[own] = what
    return ""


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
                faults.append(_fault(path, lines, at, str(fault)))
            return node
        return {key: walk(value, (*at, key)) for key, value in node.items()}

    return walk(raw, ()), faults


def read_text(path: Path) -> str:
    """The text of a scene file; of standard input where the path is :data:`STANDARD_INPUT`.

    Raises:
        SceneError: the file cannot be read; one line.
    """
    try:
        if path == STANDARD_INPUT:
            return _standard_input().decode("utf-8-sig")
        if path.is_dir():
            raise SceneError(path, None, "is a folder; allowed: a scene file")
        return read_bounded(path, MAX_BYTES).decode("utf-8-sig")
    except FileNotFoundError:
        raise SceneError(path, None, "no such file") from None
    except UnicodeDecodeError:
        raise SceneError(path, None, "not text; allowed: YAML in UTF-8") from None
    except OSError as fault:
        if fault.errno == errno.EFBIG:
            problem = f"too long for a scene; allowed: {MAX_BYTES} bytes"
        else:
            problem = f"cannot be read: {fault.strerror}"
        raise SceneError(path, None, problem) from None
    except SceneError:
        raise
    except ValueError:
        raise SceneError(
            str(path).replace("\0", "?"), None, "no such name; allowed: one without a NUL"
        ) from None


@cache
def _standard_input() -> bytes:
    """What was piped in; it can be read once only, and is asked for more often."""
    data = sys.stdin.buffer.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise OSError(errno.EFBIG, "too long")
    return data


def _read(path: Path, text: str) -> tuple[dict[str, Any], Lines]:
    """A file's text as plain data, and the line of each of its fields."""
    if len(text) > MAX_BYTES or sum(map(text.count, _SEPARATORS)) > MOST_SEPARATORS:
        raise SceneError(path, None, f"too much for a scene; allowed: {MAX_FIELDS} fields")
    if _depth(text) > MOST_DEEP:
        raise SceneError(path, None, "not a scene: nested too deeply")
    try:
        reader = YAML(typ="rt", pure=True)
        reader.Constructor = _DatesAsText
        data = reader.load(text)
    except MarkedYAMLError as fault:
        mark = fault.problem_mark or fault.context_mark
        problem = str(fault.problem).split(' in "<unicode string>"')[0]
        duplicate = re.match(r'found duplicate key "([^"]*)"', problem)
        if duplicate:
            problem = f"{duplicate[1]}: given twice, allowed: once"
        else:
            problem = f"not YAML: {problem}"
        raise SceneError(path, mark.line + 1 if mark else None, problem) from None
    except YAMLError as fault:
        raise SceneError(path, None, f"not YAML: {fault}") from None
    except RecursionError:
        raise SceneError(path, None, "not a scene: nested too deeply") from None
    except Exception:  # strange text can trip the reader itself
        raise SceneError(path, None, "not YAML: it cannot be read") from None
    if data is None:
        raise SceneError(path, None, "empty; allowed: a scene with title, site, house, ...")
    if not isinstance(data, dict):
        found = "a list" if isinstance(data, list) else f"the text {explain.given(data)!r}"
        raise SceneError(path, 1, f"not a scene: given {found}, allowed: fields with values")
    lines: Lines = {}
    return _plain(path, data, (), lines, 1, ()), lines


def _plain(
    path: Path, node: Any, at: FieldPath, lines: Lines, line: int, owners: tuple[int, ...]
) -> Any:
    """The node as plain Python values; notes the line of every field in ``lines``."""
    if len(lines) > MAX_FIELDS:  # repeated anchors can unfold a small file without end
        raise SceneError(path, line, f"too much for a scene; allowed: {MAX_FIELDS} fields")
    if id(node) in owners:
        raise SceneError(path, line, f"{explain.dotted(at)}: refers to itself")
    inside = (*owners, id(node))
    if isinstance(node, CommentedMap):
        plain = {}
        for key, value in node.items():
            if not _shown(str(key)):
                raise SceneError(path, line, f"{explain.dotted(at)}: a name with an unseen sign")
            step = (*at, str(key))
            own = node.lc.data.get(key, [line - 1])[0] + 1 if node.lc.data else line
            lines[step] = own
            plain[str(key)] = _plain(path, value, step, lines, own, inside)
        return plain
    if isinstance(node, CommentedSeq):
        items = []
        for index, value in enumerate(node):
            step = (*at, index)
            own = node.lc.data[index][0] + 1 if node.lc.data else line
            lines[step] = own
            items.append(_plain(path, value, step, lines, own, inside))
        return items
    if isinstance(node, str) and not _shown(node):
        raise SceneError(path, line, f"{explain.dotted(at)}: given a sign that is not seen")
    if node is None or isinstance(node, bool):
        return node
    if isinstance(node, int) and abs(node) > LARGEST:
        raise SceneError(path, line, f"{explain.dotted(at)}: too large a number")
    for kind in (int, float):
        if isinstance(node, kind):
            return kind(node)
    return str(node)


def _depth(text: str) -> int:
    """How deep a text's brackets stand in one another; those in quoted words count too."""
    depth = most = 0
    for bracket in re.findall(r"[\[\]{}]", text):
        depth = depth + 1 if bracket in "[{" else max(depth - 1, 0)
        most = max(most, depth)
    return most


def _shown(text: str) -> bool:
    """Whether a text holds no sign that steers a terminal or turns the way of writing."""
    return not any(
        unicodedata.category(c) in ("Cc", "Cs", "Co", "Cn") or c in _TURNING
        for c in text
        if c not in "\n\t"
    )


def without_nulls(node: Any) -> Any:
    """Plain values without the fields that are null: those are left to their rules."""
    if isinstance(node, dict):
        return {key: without_nulls(value) for key, value in node.items() if value is not None}
    return node


def laid_over(base: Any, changes: Any) -> Any:
    """Plain values of a design with an alternative's changes laid over them; null takes away."""
    if not isinstance(changes, dict):
        return changes
    merged = dict(base) if isinstance(base, dict) else {}
    for key, value in changes.items():
        if value is None:
            merged.pop(key, None)
        else:
            merged[key] = laid_over(merged.get(key), value)
    return merged


def _changed_lines(drawn: Lines, changes: dict[str, Any], lines: Lines, at: FieldPath) -> Lines:
    """The lines of an alternative's fields: those as drawn, but for what it changes."""
    changed = dict(drawn)

    def lay(node: Any, field: FieldPath) -> None:
        if not isinstance(node, dict):
            for old in [k for k in changed if k[: len(field)] == field]:
                del changed[old]
        if node is None:
            return
        changed[field] = lines[(*at, *field)]
        if isinstance(node, dict):
            for key, value in node.items():
                lay(value, (*field, key))
        elif isinstance(node, list):
            for index, value in enumerate(node):
                lay(value, (*field, index))

    for key, value in changes.items():
        lay(value, (key,))
    return changed


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
        raise _fault(path, lines, ("alternatives",), detail)
    if len(alternatives) > MOST_ALTERNATIVES:
        detail = f"given {len(alternatives)}, allowed: up to {MOST_ALTERNATIVES}"
        raise _fault(path, lines, ("alternatives",), detail)
    for name, changes in alternatives.items():
        at = ("alternatives", name)
        allowed = _take_name(name, "an alternative", taken)
        if allowed:
            raise _fault(path, lines, at, f"given {explain.given(name)}, allowed: {allowed}")
        if not isinstance(changes, dict) or not changes:
            detail = f"given {explain.given(changes)}, allowed: changes to {_join(CHANGEABLE)}"
            raise _fault(path, lines, at, detail)
        for field in changes:
            if field not in CHANGEABLE:
                detail = explain.unknown_field(field, CHANGEABLE)
                raise _fault(path, lines, (*at, field), detail)
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
        line = _line_above(lines, where) or 0
        ranked.append((order.get(fault["type"], 1), line, where, explain.explain(Scene, fault)))
    ranked.sort(key=lambda r: r[:2])
    return [_fault(path, lines, where, detail) for *_, where, detail in ranked]


def _fault(path: Path, lines: Lines, field: FieldPath, detail: str) -> SceneError:
    line = _line_above(lines, field)
    return SceneError(path, line, f"{explain.dotted(field)}: {detail}", field)


def _line_above(lines: Lines, field: FieldPath) -> int | None:
    """The line of a field, or of the nearest group that it would stand in."""
    for length in range(len(field), 0, -1):
        if field[:length] in lines:
            return lines[field[:length]]
    return 1 if lines else None


def _join(words: tuple[str, ...]) -> str:
    return ", ".join(words[:-1]) + f" or {words[-1]}"
