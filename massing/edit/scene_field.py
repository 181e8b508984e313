"""One field of the scene, as the spec has it: its kind, its choices, what is typed into it."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

import annotated_types
from pydantic import BaseModel, WithJsonSchema
from pydantic.fields import FieldInfo

from massing.scene import explain
from massing.scene.edit import FieldPath
from massing.scene.load import CHANGEABLE
from massing.scene.spec import LIGHTS_FORMS, PITCH_FORMS, SLOPE_FORMS
from massing.units import COMPASS_FORMS, LENGTH_FORMS

KINDS = (
    "choice",
    "switch",
    "count",
    "number",
    "length",
    "switch or length",
    "pitch",
    "slope",
    "compass",
    "lights",
    "text",
    "list",
    "group",
)

_FORMS = {
    LENGTH_FORMS: "length",
    PITCH_FORMS: "pitch",
    SLOPE_FORMS: "slope",
    COMPASS_FORMS: "compass",
    LIGHTS_FORMS: "lights",
}

_LEAVE_OUT = ("alternatives", "as_drawn")  # edited by their own steps


@dataclass(frozen=True)
class SceneField:
    """One field of the scene file, as the spec has it.

    Attributes:
        path: where it stands; list items are counted from none.
        kind: one of :data:`KINDS`.
        label: its last step in plain words.
        description: the spec's words.
        choices: what a choice, or an item of a list, is between.
        names: words that may stand for a length.
        least, most: bounds of a count or number, or of a list's length, where there are any.
        optional: whether it may be left to its rule.
        default: what it is when left out; None where a rule gives it, or it must be given.
        grouped: whether it is a list of groups, whose fields are typed and not itself.
    """

    path: FieldPath
    kind: str
    label: str
    description: str = ""
    choices: tuple[str | int, ...] = ()
    names: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    optional: bool = True
    default: Any = field(default=None, hash=False)
    grouped: bool = False

    @property
    def name(self) -> str:
        """Its path as written in messages, items counted from one."""
        return explain.dotted(self.path)

    @property
    def shared(self) -> bool:
        """Whether all designs of a scene have it in common."""
        return self.path[0] not in CHANGEABLE

    @property
    def allowed(self) -> str:
        """What may be given, in words."""
        if self.choices:
            words = ", ".join(map(str, self.choices))
            return f"any of {words}" if self.kind == "list" else words
        ends = [f"{v:g}" for v in (self.least, self.most) if v is not None]
        span = " to ".join(ends) if len(ends) == 2 else ""
        if not span and self.least is not None:
            span = f"{self.least:g} or more"
        if not span and self.most is not None:
            span = f"up to {self.most:g}"
        forms = {
            "switch": "yes or no",
            "count": f"a whole number {span}".strip(),
            "number": f"a number {span}".strip(),
            "length": LENGTH_FORMS,
            "switch or length": f"yes, no, or {LENGTH_FORMS}",
            "pitch": PITCH_FORMS,
            "slope": SLOPE_FORMS,
            "compass": COMPASS_FORMS,
            "lights": LIGHTS_FORMS,
            "text": "text",
            "list": f"a list {f'of {span}' if span else ''}".strip(),
            "group": "there or not",
        }[self.kind]
        return f"{', '.join(self.names)}, or {forms}" if self.names else forms


def walk(model: type[BaseModel], spec: Any, at: FieldPath, storeys: int) -> Iterator[SceneField]:
    for name, info in model.model_fields.items():
        path = (*at, name)
        if not at and name in _LEAVE_OUT:
            continue
        kind, optional = _bare(info.annotation)
        value = getattr(spec, name, None)
        if _is_group(kind):
            if optional:
                yield replace(_described(path, info), kind="group")
            yield from walk(kind, value, path, storeys)
        elif typing.get_origin(kind) is list and _is_group(_bare(typing.get_args(kind)[0])[0]):
            yield replace(_described(path, info), kind="list", choices=(), grouped=True)
            items = list(value or ())
            if name == "windows":
                items += (items[-1:] or [None]) * (storeys - len(items))
            for index, item in enumerate(items):
                inner = _bare(typing.get_args(kind)[0])[0]
                yield from walk(inner, item, (*path, index), storeys)
        else:
            yield _described(path, info)


_infos: dict[int, FieldInfo] = {}


def spec_fields(model: type[BaseModel], at: str = "") -> Iterator[tuple[str, SceneField]]:
    """Every field that a scene may have, groups before what they hold, by its pattern.

    A pattern has ``[]`` for any item of a list: ``house.windows[].sill``.
    """
    for name, info in model.model_fields.items():
        pattern = f"{at}.{name}".lstrip(".")
        kind, optional = _bare(info.annotation)
        found = _described(tuple(pattern.replace("[]", "").split(".")), info)
        if typing.get_origin(kind) is list:
            inner = _bare(typing.get_args(kind)[0])[0]
            yield pattern, found
            if _is_group(inner):
                yield from spec_fields(inner, f"{pattern}[]")
        elif _is_group(kind):
            yield pattern, replace(found, kind="group", default=None if optional else {})
            yield from spec_fields(kind, pattern)
        else:
            yield pattern, found


@lru_cache(maxsize=4096)
def _described_at(path: FieldPath, key: int) -> SceneField:
    info = _infos[key]
    bare, _ = _bare(info.annotation)
    extra = _metadata(info)
    least = next((m.ge for m in extra if isinstance(m, annotated_types.Ge)), None)
    most = next((m.le for m in extra if isinstance(m, annotated_types.Le)), None)
    least = next((m.min_length for m in extra if isinstance(m, annotated_types.MinLen)), least)
    most = next((m.max_length for m in extra if isinstance(m, annotated_types.MaxLen)), most)
    kind, choices, names = _kind(bare, extra)
    missing = info.is_required()
    default = None if missing or info.default_factory is not None else info.default
    last = next(step for step in reversed(path) if isinstance(step, str))
    return SceneField(
        path=path,
        kind=kind,
        label=last.replace("_", " ").capitalize(),
        description=info.description or "",
        choices=choices,
        names=names,
        least=least if kind != "text" else None,  # type: ignore[arg-type]
        most=most if kind != "text" else None,  # type: ignore[arg-type]
        optional=not missing,
        default=None if default is ... else default,
    )


def _described(path: FieldPath, info: FieldInfo) -> SceneField:
    _infos[id(info)] = info
    return _described_at(path, id(info))


def _kind(bare: Any, extra: list[Any]) -> tuple[str, tuple[Any, ...], tuple[str, ...]]:
    if typing.get_origin(bare) is list:
        inner, _ = _bare(typing.get_args(bare)[0])
        return "list", typing.get_args(inner) if _is_literal(inner) else (), ()
    schemas = [m.json_schema or {} for m in extra if isinstance(m, WithJsonSchema)]
    for schema in schemas:
        form = _FORMS.get(str(schema.get("description", "")))
        if form:
            return form, (), ()
        for option in schema.get("anyOf", ()):
            if "enum" in option:
                return "length", (), tuple(option["enum"])
            if option.get("type") == "boolean":
                return "switch or length", (), ()
    if typing.get_origin(bare) is typing.Literal:
        return "choice", typing.get_args(bare), ()
    plain = {bool: "switch", int: "count", float: "number", str: "text"}
    return plain.get(bare, "text"), (), ()


def _metadata(info: FieldInfo) -> list[Any]:
    found = list(info.metadata)
    for inner in typing.get_args(info.annotation):
        found += getattr(inner, "__metadata__", ())
    return found


def _bare(annotation: Any) -> tuple[Any, bool]:
    """A type without ``None`` and without its notes, and whether it may be None."""
    optional = False
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        rest = [a for a in typing.get_args(annotation) if a is not type(None)]
        optional = len(rest) < len(typing.get_args(annotation))
        if len(rest) == 1:
            annotation = rest[0]
    if typing.get_origin(annotation) is typing.Annotated:
        annotation = typing.get_args(annotation)[0]
    return annotation, optional


def _is_group(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


def _is_literal(kind: Any) -> bool:
    return typing.get_origin(kind) is typing.Literal


_YES, _NO = ("yes", "true", "on"), ("no", "false", "off")


def typed(each: SceneField, text: str) -> Any:
    """What is typed into a field, as it would be written in the file; nothing is by rule.

    Whether it can stand is for the scene's own reading to say.

    >>> columns = SceneField(("porch", "columns"), "count", "Columns")
    >>> typed(columns, " 6 "), typed(columns, "six"), typed(columns, "")
    (6, 'six', None)
    """
    clean = text.strip()
    if clean.lower() in ("", "by rule"):
        return None
    if each.kind in ("switch", "switch or length") and clean.lower() in (*_YES, *_NO):
        return clean.lower() in _YES
    if each.kind == "group":
        return {} if clean.lower() in _YES else None if clean.lower() in _NO else clean
    if each.kind == "list":
        return [item.strip() for item in clean.split(",")]
    whole = each.kind == "count" or (each.kind == "choice" and clean in map(str, each.choices))
    for kind in (int, float) if each.kind in ("number", "compass", "pitch") else (int,):
        if whole or kind is float or each.kind in ("number", "compass", "pitch"):
            try:
                return kind(clean)
            except ValueError:
                continue
    return clean
