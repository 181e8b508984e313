"""The panel's rows: which fields have one, and how each field stands in the design shown."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import bpy

from massing.edit.fields import (
    FIRST,
    Standing,
    found_fields,
    rule_value,
    scene_fields,
    standing,
    standings,
)
from massing.edit.reading import Reading
from massing.edit.scene_field import SceneField
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field

from .held import in_hand, read_of

MOST_FOUND = 30  # rows under the search box
_SITE = ("site.latitude", "site.longitude", "site.front_faces")
BY_RULE = "by rule"
_filling = 0


def is_filling() -> bool:
    """Whether properties are being set from the text, not by the user."""
    return _filling > 0


@contextmanager
def filled() -> Iterator[None]:
    """Properties set inside do not count as the user's changes."""
    global _filling
    _filling += 1
    try:
        yield
    finally:
        _filling -= 1


def field_stands(state: bpy.types.PropertyGroup, field: str) -> Standing:
    """How a field stands in the design shown.

    Raises:
        SceneError: there is no such field.
    """
    try:
        return standing(read_of(state), state.shown, parse_field(field), in_hand(state))
    except KeyError:
        raise SceneError(state.path, None, f"{field}: no such field") from None


def field_words(state: bpy.types.PropertyGroup, field: str) -> str:
    """What a field is, where its value is from, and what the rule would give."""
    stands = field_stands(state, field)
    each = stands.field
    lines = [f"{each.name}: {each.description or each.label}", f"Allowed: {each.allowed}"]
    if not stands.applies:
        lines.append(f"Waits for {stands.waits_for}")
    elif stands.source == "rule":
        lines.append(f"By rule: {stands.rule}" if stands.rule else "Left out")
    else:
        where = f" in line {stands.line}" if stands.line else ""
        lines.append(
            "As in the design as drawn" if stands.source == "as drawn" else f"Given{where}"
        )
        try:
            told = rule_value(read_of(state), state.shown, each.path)
            lines.append(f"The rule gives {told}" if told else "Without it: nothing")
        except SceneError:
            lines.append("It must be given here")
    return "\n".join(lines)


def search(scene: bpy.types.Scene) -> None:
    """Fill the rows of what the search box asks for."""
    state = scene.massing
    with filled():
        fill_found(state, read_of(state))


def fill_found(state: bpy.types.PropertyGroup, read: Reading) -> None:
    """Which fields have rows: those that come first always, and what was searched for."""
    fields = scene_fields(read, state.shown)
    known = {each.path: each for each in fields}
    first = [known[path] for path in FIRST if path in known]
    first += [known[parse_field(name)] for name in _SITE]
    found = found_fields(fields, state.search)[:MOST_FOUND] if state.search.strip() else []
    for rows, wanted in ((state.first, first), (state.found, found)):
        if [row.path for row in rows] != [each.name for each in wanted]:
            rows.clear()
            groups = {each.path for each in wanted if each.kind == "group"}
            for each in wanted:
                _begin_row(rows.add(), each, under=each.path[:-1] in groups)
    fill_rows(state)


def _begin_row(row: bpy.types.PropertyGroup, each: SceneField, under: bool) -> None:
    *above, last = [
        str(step + 1) if isinstance(step, int) else step.replace("_", " ") for step in each.path
    ]
    if last.isdecimal():  # one of a list: its number needs the list's name
        *above, last = (*above[:-1], f"{above[-1]} {last}") if above else (last,)
    row.name = last.capitalize()
    if under:  # its group stands over it
        row.name = f"Its {each.label.lower()}"
        above.pop()
    group = " ".join(above) or "scene"
    row.path, row.kind, row.group = each.name, each.kind, group.capitalize()
    row.choices = "\n".join(map(str, each.choices or each.names))
    row.by_rule = each.optional and each.default is None


def fill_rows(state: bpy.types.PropertyGroup) -> None:
    """How each row's field stands now; rows are filled in place, for one may be in use."""
    read = read_of(state)
    rows = [*state.first, *state.found]
    known = {each.name: each for each in scene_fields(read, state.shown)}
    wanted = [known[row.path] for row in rows if row.path in known]
    stand = {s.field.name: s for s in standings(read, state.shown, wanted, in_hand(state))}
    fault = state.fault.rpartition("alternatives.")[2] if state.fault else ""
    with filled():
        for row in rows:
            stands = stand.get(row.path)
            if stands is None:
                continue
            row.source, row.applies = stands.source, stands.applies
            row.waits_for, row.text, row.word = stands.waits_for, stands.shown, stands.shown
            row.at_fault = f"{row.path}: " in f"{fault} "
            _fill_plain(row, stands)


def _fill_plain(row: bpy.types.PropertyGroup, stands: Standing) -> None:
    """The value as a number, a switch or a choice, where it can be one."""
    value = stands.value if stands.written is None else stands.written
    row.plain = "word" if row.choices else "text"
    if row.kind == "switch" and isinstance(value, bool):
        row.switch, row.plain = value, "switch"
    elif row.kind == "group":
        row.switch, row.plain = stands.value is not None, "switch"
    elif row.kind == "count" and isinstance(value, int) and not isinstance(value, bool):
        row.count, row.plain = value, "count"
    elif row.kind == "choice":
        word = str(value) if value is not None else BY_RULE
        if word in (*row.choices.split("\n"), *((BY_RULE,) if row.by_rule else ())):
            row.choice, row.plain = word, "choice"


def row_value(row: bpy.types.PropertyGroup, plain: str) -> Any:
    """What a row's number, switch or choice would be in the file."""
    if plain == "switch":
        return row.switch if row.kind == "switch" else {} if row.switch else None
    if plain == "count":
        return row.count
    word = row.choice
    return None if word == BY_RULE else int(word) if word.isdecimal() else word
