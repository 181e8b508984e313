"""The fields of a scene file that the panel offers: how each is read and how it is written.

No Blender here, and no rules: what may be said is the scene file's own spec.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import degrees, radians
from typing import Any, get_args

from pydantic.fields import FieldInfo

from massing.scene.edit import FieldPath
from massing.scene.spec import HEIGHT_NAMES, SPACING_NAMES, Scene
from massing.sun.times import read_time
from massing.units import format_length, parse_length

BY_RULE, MEASURED = "by rule", "measured"


@dataclass(frozen=True)
class Field:
    """One field of the scene file.

    Attributes:
        key: the property's name; a length has a second property, ``<key>_by``, for how it is
            given: by rule, by one of ``names``, or measured.
        path: where it stands in the scene file.
        label: what the panel calls it.
        kind: ``choice``, ``count``, ``length``, ``present`` (a group that is there or not),
            ``degrees`` or ``compass``.
        names: words that may stand for a length.
    """

    key: str
    path: tuple[str, ...]
    label: str
    kind: str
    names: tuple[str, ...] = ()

    @property
    def info(self) -> FieldInfo:
        """What the spec says of it."""
        model: Any = Scene
        for step in self.path:
            info = model.model_fields[step]
            inner = [t for t in (info.annotation, *get_args(info.annotation)) if _is_group(t)]
            model = inner[0] if inner else None
        return info

    @property
    def description(self) -> str:
        """The spec's words on it."""
        return self.info.description or self.label

    @property
    def ways(self) -> tuple[str, ...]:
        """The ways in which a length may be given."""
        return (*((BY_RULE,) if self.info.default is None else ()), *self.names, MEASURED)

    @property
    def choices(self) -> tuple[str, ...]:
        """What a choice is between."""
        return get_args(self.info.annotation)

    @property
    def bounds(self) -> dict[str, int]:
        """``min`` and ``max`` of a count."""
        found = {}
        for rule in self.info.metadata:
            for ours, theirs in (("min", "ge"), ("max", "le")):
                if hasattr(rule, theirs):
                    found[ours] = getattr(rule, theirs)
        return found


def _is_group(kind: Any) -> bool:
    return isinstance(kind, type) and hasattr(kind, "model_fields")


PORCH = (
    Field("order", ("porch", "order"), "Order", "choice"),
    Field("columns", ("porch", "columns"), "Columns", "count"),
    Field("spacing", ("porch", "spacing"), "Spacing", "length", SPACING_NAMES),
    Field("height", ("porch", "height"), "Height", "length", HEIGHT_NAMES),
    Field("diameter", ("porch", "diameter"), "Diameter", "length"),
    Field("entablature", ("porch", "entablature"), "Entablature", "length"),
    Field("depth", ("porch", "depth"), "Depth", "length"),
    Field("balustrade", ("porch", "balustrade"), "Balustrade", "present"),
    Field("balustrade_height", ("porch", "balustrade", "height"), "Its height", "length"),
)
HOUSE = (
    Field("bays", ("house", "bays"), "Bays", "count"),
    Field("covering", ("roof", "covering"), "Roof covering", "choice"),
    Field("colour", ("roof", "colour"), "Its colour", "choice"),
)
SITE = (
    Field("latitude", ("site", "latitude"), "Latitude", "degrees"),
    Field("longitude", ("site", "longitude"), "Longitude", "degrees"),
    Field("front", ("site", "front_faces"), "Front looks", "compass"),
)
FIELDS = (*PORCH, *HOUSE, *SITE)
SHARED = frozenset(field.path for field in SITE)


def shown(field: Field, spec: Scene, origins: Mapping[str, str]) -> dict[str, Any]:
    """What the properties of a field show of a design: values by property name.

    A length by rule shows what the rule gave, from the resolved design's ``origins``.
    """
    value = _value(spec, field.path)
    match field.kind:
        case "length":
            measured = isinstance(value, float)
            way = MEASURED if measured else value or BY_RULE
            found = {f"{field.key}_by": way}
            length_m = value if measured else _resolved(field.path, origins)
            return found if length_m is None else {**found, field.key: length_m}
        case "present":
            return {field.key: value is not None}
        case "compass":
            return {field.key: radians(value)}
    return {field.key: value}


def _resolved(path: FieldPath, origins: Mapping[str, str]) -> float | None:
    note = origins.get(".".join(map(str, path)), "")
    try:
        return parse_length(note.partition(" · ")[0])
    except ValueError:
        return None


def changes(state: Any, spec: Scene) -> Iterator[tuple[Field, Any]]:
    """Fields whose properties on ``state`` differ from the spec, with the value to write."""
    for field in FIELDS:
        if field.key == "balustrade_height" and not (state.balustrade and spec.porch.balustrade):
            continue
        value = _from_state(field, state, spec.units)
        if value != _from_spec(field, spec):
            yield field, value


def _from_state(field: Field, state: Any, units: str) -> Any:
    """A field's value as it would be written in the scene file."""
    value = getattr(state, field.key)
    match field.kind:
        case "length":
            way = getattr(state, f"{field.key}_by")
            named = None if way == BY_RULE else way
            return format_length(value, units) if way == MEASURED else named
        case "present":
            return {} if value else None
        case "compass":
            return round(degrees(value), 1) % 360.0
        case "degrees":
            return round(value, 4)
    return value


def _from_spec(field: Field, spec: Scene) -> Any:
    value = _value(spec, field.path)
    match field.kind:
        case "length" if isinstance(value, float):
            return format_length(value, spec.units)
        case "present":
            return None if value is None else {}
        case "compass":
            return round(value, 1) % 360.0
        case "degrees":
            return round(value, 4)
    return value


def _value(spec: Any, path: tuple[str, ...]) -> Any:
    for step in path:
        spec = getattr(spec, step, None)
    return spec


# --- times ---------------------------------------------------------------------------------

_HOUR = re.compile(
    r"[\s,]+(solar noon|\d{1,2}:\d{2}\s*(am|pm)?(\s*(utc)?[+−-]\d{2}:?\d{2})?)\s*$", re.IGNORECASE
)


def day_of(text: str) -> str:
    """The day of a written time, in its own words.

    >>> day_of("summer solstice 10:00"), day_of("14 May 4:00 pm"), day_of("conventional light")
    ('summer solstice', '14 May', 'conventional light')
    """
    return _HOUR.sub("", text.strip())


def time_of(day: str, hour: float) -> str:
    """A written time from a day's words and an hour of the clock.

    >>> time_of("summer solstice", 10.25), time_of("equinox", 23.999)
    ('summer solstice 10:15', 'equinox 23:59')
    """
    try:
        if read_time(day).conventional:
            return day
    except ValueError:
        pass  # a day alone is no time yet
    minutes = min(round(hour * 60.0), 24 * 60 - 1)
    return f"{day} {minutes // 60}:{minutes % 60:02d}"
