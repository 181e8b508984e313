"""What each field of a scene means: its words, values, default and rule, source, an example.

Everything is read from the scene's spec, from what the rules gave in the scenes that are handed
in, and from those scenes' own text; nothing is told twice.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ruamel.yaml import YAML

from massing.edit.fields import APPLIES
from massing.edit.scene_field import SceneField, spec_fields
from massing.practice.cautions import CAUTION
from massing.practice.palette import PAINTED
from massing.scene.edit import plain_scene
from massing.scene.explain import OTHER_NAMES, nearest
from massing.scene.spec import Scene
from massing.study.study import Study
from massing.units import LENGTH_FORMS

_SAMPLES: dict[str, Any] = {
    "switch": True,
    "length": "12 in",
    "switch or length": "12 in",
    "pitch": "6:12",
    "slope": "1:20",
    "compass": "S 20 E",
    "lights": "6 over 6",
}
_OWN_SAMPLES: dict[str, Any] = {
    **{f"colours.{word}": "chalk" for word in PAINTED},
    "rounding": "1/8 in",
    "site.time_zone": "America/New_York",
    "sheet.logo": "drawings/mark.png",
    "house.bay_centres": ["-13 ft", "0 ft", "13 ft"],
    "roof.dormers.centres": ["-13 ft", "13 ft"],
    "porch.along": "bay 2",
    "roof.gables[].along": "bay 2",
    "propose.columns": [4, 6],
    "propose.bays": [5, 7],
    "drawing.height.foot": [129, 606],
    "drawing.height.top": [129, 205],
    "drawing.height.length": "26'-10\"",
    "photograph.points[].pixel": [412, 566],
    "photograph.shadow.pixel": [731, 498],
    "photograph.time": "2026-05-14 10:00",
    "photograph.mask": "drawings/trees.png",
    "drawing.rectangle.corners": [[212, 604], [1085, 560], [1080, 190], [205, 230]],
}


@dataclass(frozen=True)
class Entry:
    """One field, as it is explained.

    Attributes:
        name: its path, with ``[]`` for any item of a list.
        field: as the spec has it.
        left_out: what holds where it is left out, and by which rule; "" where it must be given.
        waits_for: the other field that it has a say with, such as ``roof.form: gambrel``.
        example: lines of a scene file.
        holds: the fields within, of a group or a list.
    """

    name: str
    field: SceneField
    left_out: str
    waits_for: str
    example: str
    holds: tuple[str, ...]

    @property
    def allowed(self) -> str:
        """What may be given, in words."""
        if self.name == "alternatives":
            return "a group of changed fields for each, under its name"
        if self.holds:
            return "a list of groups" if self.field.kind == "list" else "a group of fields"
        return self.field.allowed


def entries(studies: Sequence[Study]) -> dict[str, Entry]:
    """Every field of a scene by name, in the order of the file.

    Args:
        studies: scenes whose rules and text serve as examples.
    """
    rules, written = _rules(studies), _written(studies)
    fields = dict(spec_fields(Scene))
    made = {}
    for name, field in fields.items():
        head = re.compile(rf"{re.escape(name)}(\[\])?\.[^.]+")
        holds = tuple(other for other in fields if head.fullmatch(other))
        made[name] = Entry(
            name,
            field,
            _left_out(name, field, rules),
            _waits_for(name),
            "" if holds and name not in written else _example(name, field, written),
            holds,
        )
    return made


def found(every: Mapping[str, Entry], words: str) -> list[Entry]:
    """The entries that a user may mean: that very field, or all that have each of the words.

    The last step of a name is enough where no other field ends so; other words of the trade and
    slips of the pen are known.
    """
    wanted = words.strip().lower().replace(" ", "_").replace("-", "_")
    wanted = re.sub(r"\[\d*\]|\.\d+(?=\.|$)", "[]", wanted)
    plain = {name.replace("[]", ""): name for name in every}
    if wanted.replace("[]", "") in plain:
        return [every[plain[wanted.replace("[]", "")]]]
    lasts = [entry for name, entry in every.items() if name.split(".")[-1] == wanted]
    if lasts:
        return lasts
    parts = [part for part in re.split(r"[_.\s]+", wanted) if part]
    held = [e for e in every.values() if parts and all(part in _searched(e) for part in parts)]
    if held:
        return held
    steps = sorted({name.split(".")[-1] for name in every})
    like = OTHER_NAMES.get(wanted) or nearest(wanted, steps)
    return [entry for name, entry in every.items() if name.split(".")[-1] == like]


def _searched(entry: Entry) -> str:
    words = (entry.name, entry.field.description, *map(str, entry.field.choices))
    return " ".join(words).lower()


def explained(entry: Entry, every: Mapping[str, Entry]) -> Iterator[str]:
    """One field in lines: what it is, what may be given, what holds else, an example."""
    yield f"{entry.name}: {entry.field.description}"
    yield f"  values: {entry.allowed}"
    if entry.left_out:
        yield f"  left out: {entry.left_out}"
    elif not entry.field.optional:
        yield "  must be given"
    if entry.waits_for:
        yield f"  has a say with {entry.waits_for}"
    for name in entry.holds:
        yield f"  {name}: {every[name].field.description}"
    if entry.example:
        yield "  example:"
        yield from (f"    {line}" for line in entry.example.splitlines())


def fields_page(every: Mapping[str, Entry]) -> str:
    """The reference page of all fields, as Markdown."""
    lines = [
        "# Every field of a scene",
        "",
        "Made by `massing explain --all`; `massing explain porch.depth` says the same of one "
        "field, with an example. Lengths are written as the trade writes them (`5'-6 1/2\"`, "
        "`16 in`, `1.2 m`, `450 mm`). What is left out follows from the rule beside it; a number "
        "that stands there is what the rule gave in a bundled scene.",
        "",
        f"*{CAUTION}*",
    ]
    groups = [e for e in every.values() if e.holds]
    top = tuple(name for name, e in every.items() if "." not in name and not e.holds)
    sections = [("The scene", "", top), *((e.name, e.field.description, e.holds) for e in groups)]
    for title, words, names in sections:
        lines += ["", f"## {title}", ""]
        lines += [f"{words}.", ""] if words else []
        lines += ["| field | what it is | values | left out |", "|---|---|---|---|"]
        for name in names:
            entry = every[name]
            last = name.rsplit(".", 1)[-1]
            link = f"[`{last}`](#{_anchor(name)})" if entry.holds else f"`{last}`"
            waits = f"; with {entry.waits_for}" if entry.waits_for else ""
            left_out = entry.left_out or ("" if entry.field.optional else "must be given")
            allowed = entry.allowed.replace(LENGTH_FORMS, "a length")
            cells = (link, f"{entry.field.description}{waits}", allowed, left_out)
            lines.append(f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |")
    return "\n".join(lines) + "\n"


def _anchor(name: str) -> str:
    return re.sub(r"[^\w-]", "", name.lower().replace(" ", "-"))


# --- what holds where a field is left out --------------------------------------------------


def _rules(studies: Iterable[Study]) -> dict[str, tuple[str, str]]:
    """What a rule gave for a field somewhere, and the rule's words, by the field's name."""
    given: dict[str, tuple[str, str]] = {}
    for study in studies:
        for design in study.designs:
            for name, origin in design.origins.items():
                pattern = re.sub(r"\.\d+", "[]", name)
                if origin.source and not origin.given:
                    given.setdefault(pattern, (origin.written, origin.source))
    return given


def _left_out(name: str, field: SceneField, rules: Mapping[str, tuple[str, str]]) -> str:
    if not field.optional:
        return ""
    if field.kind not in ("group", "list") and field.default is not None:
        return _plainly(field.default)
    if name == "alternatives":
        return "none"
    if name in rules:
        value, rule = rules[name]
        return f"{value}: {rule}" if value else rule
    if field.kind == "group":
        return "none" if field.default is None else "as its fields say"
    if field.kind == "list":
        return _plainly(field.default) if field.default else "none, or by rule"
    return "by rule" if "default" not in field.description.lower() else "as said"


def _plainly(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (list, tuple)):
        return ", ".join(map(str, value))
    return f"{value:g}" if isinstance(value, float) else str(value)


def _waits_for(name: str) -> str:
    if name not in APPLIES:
        return ""
    other, values = APPLIES[name]
    return f"{other}: {' or '.join(map(str, values))}"


# --- examples ------------------------------------------------------------------------------


def _written(studies: Iterable[Study]) -> dict[str, Any]:
    """A value that a bundled scene has for a field, by the field's name."""
    values: dict[str, Any] = {}

    def walk(node: Any, at: str) -> None:
        if isinstance(node, dict):
            for key, inner in node.items():
                name = f"{at}.{key}".lstrip(".")
                if inner is not None:
                    values.setdefault(name, inner)
                walk(inner, name)
        elif isinstance(node, list):
            for inner in node:
                walk(inner, f"{at}[]")

    for study in studies:
        scene = plain_scene(study.loaded.path.read_text(encoding="utf-8"))
        for changes in (scene.pop("alternatives", None) or {}).values():
            walk(changes, "")
        walk(scene, "")
    return values


def sample(name: str, field: SceneField, written: Mapping[str, Any]) -> Any:
    """A value that the field may have: from a bundled scene, or else one of its kind."""
    if name in written:
        return written[name]
    if name in _OWN_SAMPLES:
        return _OWN_SAMPLES[name]
    if field.choices:
        others = [choice for choice in field.choices if choice != field.default]
        return [others[0]] if field.kind == "list" else others[0]
    if field.kind in ("count", "number"):
        return int(max(field.least or 0, min(field.most or 2, 2)))
    if name.startswith("colours."):
        return "chalk"
    if field.kind == "text":
        return field.default or field.label
    return _SAMPLES.get(field.kind)


def _example(name: str, field: SceneField, written: Mapping[str, Any]) -> str:
    """Lines of a scene file with the field, in its groups."""
    value = sample(name, field, written)
    if value is None:
        return ""
    for step in reversed(name.split(".")):
        key = step.removesuffix("[]")
        value = {key: [value] if step.endswith("[]") else value}
    writer = YAML()
    writer.default_flow_style = None
    writer.width = 200
    buffer = io.StringIO()
    writer.dump(value, buffer)
    return buffer.getvalue()
