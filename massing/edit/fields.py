"""The fields a scene may have, and how each stands in a design: its value, where that came from.

Everything here is read from the scene's own spec (:mod:`massing.scene.spec`) and from the
resolved design; the one table of our own, :data:`APPLIES`, says which fields wait for another.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from ruamel.yaml.error import YAMLError

from massing.design.origin import Origin
from massing.edit.reading import Reading
from massing.edit.scene_field import SceneField, walk
from massing.edit.writing import ALTERNATIVES, unset_field
from massing.scene import explain
from massing.scene.edit import FieldPath, plain_scene
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field
from massing.scene.spec import Scene

_WINDOWS = ("house", "windows")

FIRST = tuple(
    parse_field(name)
    for name in (
        "porch.order",
        "porch.columns",
        "porch.diameter",
        "porch.spacing",
        "porch.entablature",
        "porch.height",
        "porch.depth",
        "porch.balustrade",
        "porch.balustrade.height",
        "porch.roof",
        "house.bays",
        "house.bay_spacing",
        "house.walls",
        "roof.form",
        "roof.pitch",
        "roof.covering",
        "roof.colour",
    )
)
"""What a designer asks of a porch first, in that order."""

Condition = tuple[str, tuple[Any, ...]]

_FLAT_HEADS = ("segmental arch", "elliptical arch", "stone elliptical arch", "elliptical casing")

APPLIES: Mapping[str, Condition] = {
    "roof.lower_pitch": ("roof.form", ("gambrel",)),
    "roof.break_height": ("roof.form", ("gambrel",)),
    "roof.deck_width": ("roof.form", ("deck",)),
    "roof.deck_surface": ("roof.form", ("deck",)),
    "roof.deck_balustrade": ("roof.form", ("deck",)),
    "roof.gable_opening": ("roof.form", ("gable",)),
    "roof.gutter_width": ("roof.gutter", ("half round", "moulded")),
    "roof.gutter_metal": ("roof.gutter", ("half round", "moulded")),
    "roof.dormers.rise": ("roof.dormers.kind", ("segmental",)),
    "roof.dormers.pitch": ("roof.dormers.kind", ("gabled", "shed")),
    "porch.roof_pitch": ("porch.roof", ("hipped", "pediment", "gable", "lean-to", "main slope")),
    "porch.roof_covering": (
        "porch.roof",
        ("hipped", "pediment", "gable", "lean-to", "main slope"),
    ),
    "porch.wrap_length": ("porch.wraps", ("left", "right", "both")),
    "side_porches[].roof_pitch": ("side_porches[].roof", ("lean-to", "hipped", "gable")),
    "side_porches[].roof_covering": ("side_porches[].roof", ("lean-to", "hipped", "gable")),
    "house.centre_bay": ("house.rhythm", ("wide centre",)),
    "house.pair_spacing": ("house.rhythm", ("paired",)),
    "house.bond": ("house.walls", ("brick",)),
    "house.coursing": ("house.walls", ("limestone",)),
    "house.clapboard_exposure": ("house.walls", ("clapboard",)),
    "house.door.fanlight_rise": ("house.door.fanlight", ("elliptical",)),
    "house.door.fanlight_lights": ("house.door.fanlight", ("semicircular", "elliptical")),
    "house.door.fanlight_ring": ("house.door.fanlight", ("semicircular", "elliptical")),
    "house.side_door.fanlight_rise": ("house.side_door.fanlight", ("elliptical",)),
    "house.side_door.fanlight_lights": (
        "house.side_door.fanlight",
        ("semicircular", "elliptical"),
    ),
    "house.side_door.fanlight_ring": ("house.side_door.fanlight", ("semicircular", "elliptical")),
    "house.wings[].door.fanlight_rise": ("house.wings[].door.fanlight", ("elliptical",)),
    "house.wings[].door.fanlight_lights": (
        "house.wings[].door.fanlight",
        ("semicircular", "elliptical"),
    ),
    "house.wings[].door.fanlight_ring": (
        "house.wings[].door.fanlight",
        ("semicircular", "elliptical"),
    ),
    "house.windows[].leaves": ("house.windows[].kind", ("casement",)),
    "house.windows[].rise": ("house.windows[].head", _FLAT_HEADS),
    **{
        f"house.windows[].{field}": (
            "house.windows[].shutters",
            ("louvred", "panelled", "board"),
        )
        for field in ("shutter_width", "shutter_side", "hold_backs")
    },
    "house.windows[].shutters_closed": (
        "house.windows[].shutters",
        ("louvred", "panelled", "board"),
    ),
}
"""A field, and the values of another that it waits for; ``[]`` is any item of a list."""


@dataclass(frozen=True)
class Standing:
    """A field as it stands in one design.

    Attributes:
        field: the field.
        written: as the file has it for this design, or None where it is left out.
        shown: the value that holds, as the trade writes it; "" where nothing is there.
        source: ``given``, ``as drawn`` (an alternative has it from the design as drawn), or
            ``rule``.
        line: where it is given.
        rule: by which rule a value that is not given came about, in words.
        value: the value that holds, in metres, degrees, words or plain numbers.
        applies: whether it has a say in this design.
        waits_for: what it waits for where it does not apply, such as ``roof.form: gambrel``.
    """

    field: SceneField
    written: Any
    shown: str
    source: str
    line: int | None
    rule: str
    value: Any
    applies: bool = True
    waits_for: str = ""


def scene_fields(reading: Reading, name: str) -> list[SceneField]:
    """Every field that a design may give, those of groups that are not there included.

    Of lists, the items that stand; of windows, one for each storey.
    """
    spec = reading.loaded.designs[name]
    return list(walk(Scene, spec, (), len(spec.house.storeys)))


def found_fields(fields: list[SceneField], words: str) -> list[SceneField]:
    """Those fields in whose name, words or choices every one of ``words`` occurs.

    With no words, :data:`FIRST` come first.
    """
    wanted = words.lower().split()
    if not wanted:
        ranks = {path: rank for rank, path in enumerate(FIRST)}
        return sorted(fields, key=lambda f: ranks.get(f.path, len(ranks)))
    return [f for f in fields if all(word in _searched(f) for word in wanted)]


@lru_cache(maxsize=4096)
def _searched(each: SceneField) -> str:
    path = f"{each.name} {each.name.replace('.', ' ').replace('_', ' ')}"
    words = (path, each.label, each.description, *map(str, each.choices), *each.names)
    return " ".join(words).lower()


def standings(
    reading: Reading, name: str, fields: list[SceneField], text: str | None = None
) -> list[Standing]:
    """How fields stand in a design.

    With ``text``, what is written is of that text: one in hand that cannot be read as a scene.
    """
    data = _plain_data(reading, text)
    own = {} if name == reading.drawn else (data.get(ALTERNATIVES) or {}).get(name) or {}
    try:
        origins: Mapping[str, Origin] = reading.design(name).origins
    except SceneError:
        origins = {}
    return [_standing(reading, name, each, data, own, origins) for each in fields]


def _plain_data(reading: Reading, text: str | None) -> dict[str, Any]:
    if text is not None and text != reading.text:
        try:
            return plain_scene(text)
        except (YAMLError, ValueError, RecursionError):
            pass  # not even YAML: what stood before
    return plain_scene(reading.text)


def standing(reading: Reading, name: str, path: FieldPath, text: str | None = None) -> Standing:
    """How one field stands in a design.

    Raises:
        KeyError: a design has no such field.
    """
    for each in scene_fields(reading, name):
        if each.path == path:
            return standings(reading, name, [each], text)[0]
    raise KeyError(explain.dotted(path))


def rule_value(reading: Reading, name: str, path: FieldPath) -> str:
    """What the rule would give for a field, as the trade writes it, with the rule's name.

    Raises:
        SceneError: without this field the design cannot be read or built.
    """
    alternative = None if name == reading.drawn else name
    text = reading.text
    if alternative is not None:
        text = unset_field(text, path, alternative)
    text = unset_field(text, path)
    without = Reading(reading.path, text)
    without.design(name)
    (found,) = standings(without, name, [_field_at(without, name, path)])
    return f"{found.shown} · {found.rule}" if found.rule else found.shown


def _field_at(reading: Reading, name: str, path: FieldPath) -> SceneField:
    return next(each for each in scene_fields(reading, name) if each.path == path)


def _standing(
    reading: Reading,
    name: str,
    each: SceneField,
    data: dict[str, Any],
    own: dict[str, Any],
    origins: Mapping[str, Origin],
) -> Standing:
    spec = reading.loaded.designs[name]
    here, written = _written(own, each.path) if own else (False, None)
    source = "given"
    if not here:
        here, written = _written(data, each.path)
        source = "as drawn" if here and own and not each.shared else "given"
    value, info = _value(spec, each.path)
    if written is None and not (here and each.kind == "group" and value is not None):
        source = "rule"
    note = origins.get(".".join(map(str, each.path)))
    shown, rule = (note.written, note.source) if note else ("", "")
    if source != "rule":
        rule = ""
        shown = _said(written)
    elif not note and value is not None and info is not None and _plainly(value):
        shown, rule = explain.written(info, value, spec.units), "default"
    if source == "rule" and shown and each.path[:2] == _WINDOWS and len(each.path) > 2:
        rule = "as the storey below" if int(each.path[2]) >= len(spec.house.windows) > 0 else rule
    line = reading.loaded.lines[name].get(each.path) if source != "rule" else None
    applies, waits_for = _applies(spec, each.path)
    return Standing(each, written, shown, source, line, rule, value, applies, waits_for)


def _plainly(value: Any) -> bool:
    """Whether a value can be said in a few words; groups cannot."""
    items = value if isinstance(value, list) else [value]
    return not any(isinstance(item, BaseModel) for item in items)


def _said(written: Any) -> str:
    if isinstance(written, bool):
        return "yes" if written else "no"
    if isinstance(written, list):
        return ", ".join("..." if isinstance(item, (dict, list)) else str(item) for item in written)
    return "" if isinstance(written, dict) else str(written)


def _written(data: Any, path: FieldPath) -> tuple[bool, Any]:
    """Whether a field is written, and as what; under a group that is null it is, as null."""
    for step in path:
        if isinstance(data, dict) and step in data:
            data = data[step]
            if data is None:
                return True, None
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return False, None
    return True, data


def _value(spec: Any, path: FieldPath) -> tuple[Any, FieldInfo | None]:
    info = None
    for step in path:
        if isinstance(spec, BaseModel):
            info = type(spec).model_fields.get(str(step))
            spec = getattr(spec, str(step), None)
        elif isinstance(spec, list) and isinstance(step, int):
            spec = spec[min(step, len(spec) - 1)] if spec else None
        else:
            return None, info
    return spec, info


def _applies(spec: Scene, path: FieldPath) -> tuple[bool, str]:
    for depth in range(1, len(path)):
        group, _ = _value(spec, path[:depth])
        if group is None and isinstance(path[depth - 1], str):
            return False, explain.dotted(path[:depth])
    items = [step for step in path if isinstance(step, int)]
    condition = APPLIES.get(_pattern(path))
    if condition is None:
        return True, ""
    other, values = condition
    where = parse_field(other.replace("[]", f"[{items[0] + 1}]") if items else other)
    if _value(spec, where)[0] in values:
        return True, ""
    return False, f"{explain.dotted(where)}: {' or '.join(map(str, values))}"


def _pattern(path: FieldPath) -> str:
    return "".join("[]" if isinstance(s, int) else f".{s}" for s in path).lstrip(".")
