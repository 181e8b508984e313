"""A validation fault in the words of a scene's writer: field, given, allowed."""

from __future__ import annotations

import difflib
import types
import typing
from collections.abc import Iterator, Sequence
from typing import Any

import annotated_types
from pydantic import BaseModel, WithJsonSchema
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from massing.units import COMPASS_FORMS, LENGTH_FORMS, compass_point, format_length

Path = tuple[str | int, ...]

_LONGEST_GIVEN = 60


def dotted(path: Path) -> str:
    """A field's path as written in messages; list items are counted from one.

    >>> dotted(("house", "windows", 1, "height"))
    'house.windows[2].height'
    """
    text = ""
    for step in path:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def given(value: Any) -> str:
    """A value as it stands in the file, shortened."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a group of fields"
    if isinstance(value, (list, tuple)):
        return f"a list of {len(value)}"
    text = str(value)
    return text if len(text) <= _LONGEST_GIVEN else text[: _LONGEST_GIVEN - 3] + "..."


def written(info: FieldInfo, value: Any, units: str) -> str:
    """A field's value as a designer would write it."""
    forms = _forms(info)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and LENGTH_FORMS in forms:
        return format_length(value, units)
    if isinstance(value, float) and "rise:run" in forms:
        return f"{12.0 * value:g}:12"
    if isinstance(value, float) and COMPASS_FORMS in forms:
        return f"{value:g}° ({compass_point(value)})"
    if isinstance(value, tuple) and isinstance(value[0], float):
        return ", ".join(f"{v:g}" for v in value)
    if isinstance(value, tuple):
        return " over ".join(f"{across}x{up or 'by rule'}" for across, up in value)
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return f"{value:g}" if isinstance(value, float) else str(value)


def _forms(info: FieldInfo) -> str:
    """The written forms that a field's type allows, from its schema."""
    inner = [a for a in typing.get_args(info.annotation) if typing.get_origin(a) is not None]
    rules = [*info.metadata, *(m for a in inner for m in getattr(a, "__metadata__", ()))]
    schemas = [rule.json_schema for rule in rules if isinstance(rule, WithJsonSchema)]
    return " ".join(str((schema or {}).get("description", "")) for schema in schemas)


def nearest(name: str, known: Sequence[str]) -> str | None:
    """The known name most like ``name``, if any is much like it."""
    match = difflib.get_close_matches(name.lower(), known, n=1, cutoff=0.6)
    return match[0] if match else None


SAME = {
    "stories": "storeys",
    "storys": "storeys",
    "color": "colour",
    "colors": "colours",
    "lat": "latitude",
    "lon": "longitude",
    "lng": "longitude",
    "long": "longitude",
    "town": "place",
    "city": "place",
    "timezone": "time_zone",
    "facing": "front_faces",
    "orientation": "front_faces",
    "aspect": "front_faces",
    "siding": "walls",
    "cladding": "walls",
    "roofing": "covering",
    "panes": "lights",
    "intercolumniation": "spacing",
    "number_of_columns": "columns",
    "column_diameter": "diameter",
    "stairs": "steps",
    "handrail": "rail",
    "going": "tread",
    "surroundings": "setting",
    "options": "alternatives",
    "variants": "alternatives",
    "schemes": "alternatives",
}
"""What a designer may call a field and mean it alone, read as that field (practice, no source)."""

OTHER_NAMES = SAME | {
    "floors": "storeys",
    "slope": "pitch",
    "steepness": "pitch",
    "muntins": "lights",
    "grilles": "lights",
    "divisions": "lights",
    "railing": "balustrade",
    "parapet": "balustrade",
    "azimuth": "front_faces",
    "elevation": "altitude",
    "material": "walls",
    "facing_material": "walls",
    "material_of_roof": "covering",
    "eaves": "overhang",
    "projection": "overhang",
    "windowsill": "sill",
    "blinds": "shutters",
    "thickness": "diameter",
    "style": "order",
    "railings": "guard",
    "rise": "riser",
    "run": "tread",
    "name": "title",
    "designs": "alternatives",
    "hours": "times",
    "bays_spacing": "bay_spacing",
    "rhythm_of_bays": "rhythm",
}
"""What a designer may call a field (common practice, no source), for the hint beside a fault."""


def our_name(written: str) -> str:
    """A field's name as we have it, of one as a writer may have it.

    >>> our_name("Front faces"), our_name("stories"), our_name("depth")
    ('front_faces', 'storeys', 'depth')
    """
    plain = "_".join(written.lower().replace("-", " ").split())
    return SAME.get(plain, plain)


def unknown_field(name: str, known: Sequence[str]) -> str:
    """The words for a field that does not exist.

    >>> unknown_field("stories", ["width", "storeys"])
    'no such field (did you mean storeys?); allowed: width, storeys'
    """
    other = OTHER_NAMES.get(name.lower().replace(" ", "_").replace("-", "_"))
    like = other if other in known else nearest(name, known)
    hint = f" (did you mean {like}?)" if like else ""
    return f"no such field{hint}; allowed: {', '.join(known)}"


def explain(model: type[BaseModel], fault: ErrorDetails) -> str:
    """What is wrong with one field of ``model``, without the field's own name.

    Args:
        model: the model that was being validated.
        fault: one entry of :meth:`pydantic.ValidationError.errors`.
    """
    path: Path = tuple(fault["loc"])
    kind = fault["type"]
    if kind == "extra_forbidden":
        owner = _model_at(model, path[:-1])
        return unknown_field(str(path[-1]), list(owner.model_fields) if owner else [])
    if kind == "missing":
        return f"missing; allowed: {_allowed(_field_at(model, path), fault)}"
    return f"given {given(fault['input'])}, allowed: {_allowed(_field_at(model, path), fault)}"


def _allowed(info: FieldInfo | None, fault: ErrorDetails) -> str:
    message = fault["msg"].removeprefix("Value error, ")
    if fault["type"] == "value_error":
        return message.partition("allowed: ")[2] or message
    if fault["type"] == "literal_error":
        return str(fault["ctx"]["expected"]).replace("'", "")
    if info is None:
        return message
    description = f" ({info.description})" if info.description else ""
    return _kind(info) + description


def _kind(info: FieldInfo) -> str:
    """The sort of value a field takes, with its bounds."""
    bare = _without_none(info.annotation)
    low, high = _bounds(info)
    if typing.get_origin(bare) is list:
        return f"a list{_range(low, high, ' of ')}"
    if typing.get_origin(bare) is typing.Literal:
        return ", ".join(map(str, typing.get_args(bare)))
    if isinstance(bare, type) and issubclass(bare, BaseModel):
        return f"a group with the fields {', '.join(bare.model_fields)}"
    plain = {bool: "true or false", int: "a whole number", float: "a number", str: "text"}
    word = plain.get(bare, "a group of fields") if isinstance(bare, type) else "a value"
    if bare is float and any(type(m).__name__ == "BeforeValidator" for m in info.metadata):
        word = "a length with its unit"
    return word + (_range(low, high, ", ") if bare in (int, float) else "")


def _range(low: Any, high: Any, lead: str) -> str:
    if low is None and high is None:
        return ""
    if high is None:
        return f"{lead}{low:g} or more"
    return f"{lead}up to {high:g}" if low is None else f"{lead}{low:g} to {high:g}"


def _bounds(info: FieldInfo) -> tuple[Any, Any]:
    low = high = None
    for rule in info.metadata:
        if isinstance(rule, (annotated_types.Ge, annotated_types.MinLen)):
            low = rule.ge if isinstance(rule, annotated_types.Ge) else rule.min_length
        if isinstance(rule, (annotated_types.Le, annotated_types.MaxLen)):
            high = rule.le if isinstance(rule, annotated_types.Le) else rule.max_length
    return low, high


def _without_none(annotation: Any) -> Any:
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        rest = [a for a in typing.get_args(annotation) if a is not type(None)]
        if len(rest) == 1:
            annotation = rest[0]
    if typing.get_origin(annotation) is typing.Annotated:
        return typing.get_args(annotation)[0]
    return annotation


def _steps(model: type[BaseModel], path: Path) -> Iterator[tuple[type[BaseModel], FieldInfo]]:
    for step in path:
        if isinstance(step, int):
            continue
        info = model.model_fields.get(step)
        if info is None:
            return
        yield model, info
        inner = _without_none(info.annotation)
        if typing.get_origin(inner) is list:
            inner = typing.get_args(inner)[0]
        if not (isinstance(inner, type) and issubclass(inner, BaseModel)):
            return
        model = inner


def _field_at(model: type[BaseModel], path: Path) -> FieldInfo | None:
    names = [step for step in path if isinstance(step, str)]
    found = list(_steps(model, path))
    return found[-1][1] if found and len(found) == len(names) else None


def _model_at(model: type[BaseModel], path: Path) -> type[BaseModel] | None:
    info = _field_at(model, path)
    if info is None:
        return model if not path else None
    inner = _without_none(info.annotation)
    if typing.get_origin(inner) is list:
        inner = typing.get_args(inner)[0]
    return inner if isinstance(inner, type) and issubclass(inner, BaseModel) else None
