"""What the panel works on: a scene file's text in hand, and the design of it that is shown.

The text is the state, kept in Blender's own properties so that Blender's undo takes it back. What
a change does to the text, and what the text says, is :mod:`massing.edit`'s; here its answers are
put into properties and objects. Text, fields and objects change together or not at all.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import bpy

from massing.design.design import Design
from massing.edit import writing
from massing.edit.fields import (
    FIRST,
    Standing,
    found_fields,
    rule_value,
    scene_fields,
    standing,
    standings,
)
from massing.edit.reading import Reading, reading
from massing.edit.scene_field import SceneField, typed
from massing.edit.side_by_side import MOST, alone, places_m
from massing.edit.viewpoints import camera_entry
from massing.files import write_users_own
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.present.words import sun_text
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field
from massing.scene.text import read_text
from massing.sun.position import SunTime
from massing.sun.written_times import read_time
from massing.units import format_length

from . import light, tree

MOST_FOUND = 30  # rows under the search box
NUDGE_M = {"feet": 0.0254, "metric": 0.01}

_filling = 0
_opened: set[Path] = set()  # scene files opened or written in this session


def is_filling() -> bool:
    """Whether properties are being set from the text, not by the user."""
    return _filling > 0


# --- opening, closing, the file ---------------------------------------------------------------


def open_file(scene: bpy.types.Scene, path: Path) -> None:
    """Read a scene file and show its design as drawn in place of the house that was open.

    Raises:
        SceneError: nothing has changed.
    """
    text = read_text(path)
    open_text(scene, path, text)
    scene.massing.written = text
    _opened.add(path.resolve())


def open_text(scene: bpy.types.Scene, path: Path, text: str) -> None:
    """Show a text's design as drawn in place of the house that was open.

    Raises:
        SceneError: nothing has changed.
    """
    read = reading(str(path), text)
    name = read.drawn
    read.model(name)
    read.sun(name, read.loaded.scene.times[0])
    close(scene)
    state = scene.massing
    with _filled():
        state.path, state.text, state.written = str(path), text, ""
        state.house = uuid.uuid4().hex
        state.search = ""
    tree.put_aside(scene)
    light.begin(scene)
    _show(scene, read, name)
    pick_time(scene, 0)


def close(scene: bpy.types.Scene) -> None:
    """Put the house away, and give back what was put aside for it."""
    state = scene.massing
    if not state.is_open:
        return
    root = tree.house_collection(scene, state.root, state.house)
    if root is not None:
        tree.clear(scene, root)
    light.end(scene)
    tree.bring_back(scene)
    with _filled():
        for key in ("path", "text", "written", "tried", "house", "shown", "fault", "time_fault"):
            setattr(state, key, "")
        state.root = None
        for entries in (state.designs, state.times, state.views, state.findings):
            entries.clear()
        state.first.clear()
        state.found.clear()


def refresh(scene: bpy.types.Scene) -> list[str]:
    """Take up what changed in the file, and rebuild what is missing or out of date.

    Returns the keys of the parts that were touched.

    Raises:
        SceneError: the file changed, and so did the text in hand; or it cannot be used.
    """
    state = scene.massing
    path = scene_path(state)
    text = in_hand(state)
    if path.exists() and state.written:
        on_disk = read_text(path)
        if on_disk not in (state.written, text):
            if text != state.written:
                raise SceneError(
                    path,
                    None,
                    "given changes on disk and changes here, allowed: one of them; write this "
                    "state under another name, or open the file again",
                )
            text = on_disk
        if text == on_disk:
            state.written = on_disk
    read = reading(str(path), text)
    name = state.shown if state.shown in read.names else read.drawn
    read.model(name)
    touched = _show(scene, read, name)
    _relight(scene, read)
    return touched


def write_file(scene: bpy.types.Scene, path: Path) -> None:
    """Write the text in hand, which is valid, as a scene file; the panel goes on with that file.

    Raises:
        SceneError: the state is at fault, or the file on disk is not the one that was read.
    """
    state = scene.massing
    text = in_hand(state)
    reading(state.path, text).check()
    if path == scene_path(state) and path.exists() and read_text(path) != state.written:
        raise SceneError(
            path, None, "given changes on disk since it was read, allowed: another name"
        )
    write_users_own(path, text)
    _opened.add(path.resolve())
    with _filled():
        state.path, state.text, state.written = str(path), text, text


def scene_path(state: bpy.types.PropertyGroup) -> Path:
    """Where the scene file is: as it was opened, or where it stands to the file of Blender's."""
    path = Path(state.path)
    if state.beside and bpy.data.filepath and not path.exists():
        beside = Path(bpy.data.filepath).parent / state.beside
        if beside.exists():
            return beside
    return path


def remember_place(scene: bpy.types.Scene, blend: Path) -> None:
    """Keep how the scene file stands to the file that Blender is about to save."""
    state = scene.massing
    if state.is_open:
        path = scene_path(state).absolute()
        home = blend.absolute().parent
        state.beside = path.relative_to(home).as_posix() if path.is_relative_to(home) else ""


def output_home(state: bpy.types.PropertyGroup) -> Path:
    """The folder beside which pictures may be written: that of a scene file known to be one.

    What another's file says of paths is not followed: a scene file counts that was opened or
    written here, or that lies with the Blender file.

    Raises:
        SceneError: it is neither.
    """
    path = scene_path(state)
    if path.resolve() in _opened and path.exists():
        return path.parent
    home = Path(bpy.data.filepath).parent.resolve() if bpy.data.filepath else None
    if home is not None and path.exists() and path.resolve().is_relative_to(home):
        return path.parent
    raise SceneError(
        path,
        None,
        "given by a Blender file from elsewhere, allowed: a scene file opened or written here; "
        "write this one first",
    )


# --- changes ----------------------------------------------------------------------------------


def in_hand(state: bpy.types.PropertyGroup) -> str:
    """The text with all changes, those at fault too."""
    return str(state.tried or state.text)


def set_field(scene: bpy.types.Scene, field: str, value: Any) -> list[str]:
    """Give a field of the design shown a value as it would be written; parts that were touched.

    Raises:
        SceneError: it cannot stand; the change is kept, the model stands as it was.
    """
    state = scene.massing
    path = parse_field(field)
    return _change(scene, lambda text: writing.set_field(text, path, value, _alternative(state)))


def type_in(scene: bpy.types.Scene, field: str, text: str) -> list[str]:
    """Give a field what was typed for it; nothing is by rule. As :func:`set_field`."""
    each = field_stands(scene.massing, field).field
    return set_field(scene, field, typed(each, text))


def try_out(scene: bpy.types.Scene, field: str, text: str) -> None:
    """Show what a field would give, while a hand is still about it; :func:`take_back` ends it.

    Raises:
        SceneError: it cannot be built; nothing has changed.
    """
    state = scene.massing
    each = field_stands(state, field).field
    changed = writing.set_field(in_hand(state), each.path, typed(each, text), _alternative(state))
    _take(scene, changed, state.shown)


def take_back(scene: bpy.types.Scene, text: str) -> None:
    """Show a text again that stood before."""
    _take(scene, text, scene.massing.shown)


def unset_field(scene: bpy.types.Scene, field: str) -> list[str]:
    """Take away what the design shown itself says of a field. As :func:`set_field`."""
    state = scene.massing
    path = parse_field(field)
    return _change(scene, lambda text: writing.unset_field(text, path, _alternative(state)))


def nudge(scene: bpy.types.Scene, field: str, steps: int) -> list[str]:
    """Make a length longer or shorter by steps of an inch or of ten millimetres."""
    state = scene.massing
    stands = field_stands(state, field)
    units = _read(state).loaded.scene.units
    value = stands.value if isinstance(stands.value, float) else _length(stands.shown)
    step = NUDGE_M[units]
    wanted = (round(value / step) + steps) * step
    return set_field(scene, field, format_length(max(wanted, step), units))


def add_alternative(scene: bpy.types.Scene, name: str) -> None:
    """Add an alternative like the design shown, and show it.

    Raises:
        SceneError: no name for one; nothing has changed.
    """
    state = scene.massing
    read = _read(state)
    if name in read.names:
        raise SceneError(state.path, None, f"given {name} again, allowed: a name of its own")
    text = writing.add_alternative(in_hand(state), name, _alternative(state))
    _take(scene, text, name)


def rename_design(scene: bpy.types.Scene, new: str) -> None:
    """Call the design shown otherwise. Raises SceneError as :func:`add_alternative`."""
    state = scene.massing
    old = state.shown
    if new in _read(state).names and new != old:
        raise SceneError(state.path, None, f"given {new} again, allowed: a name of its own")
    alternative = _alternative(state)
    text = in_hand(state)
    if alternative is None:
        text = writing.set_field(text, ("as_drawn",), new)
    else:
        text = writing.rename_alternative(text, alternative, new)
    read = reading(state.path, text)
    read.model(new)
    root = _root(scene, read)
    tree.rename_design(root, old, new)
    _show(scene, read, new)


def delete_alternative(scene: bpy.types.Scene) -> None:
    """Take the alternative shown out of the file, and show the design as drawn."""
    state = scene.massing
    alternative = _alternative(state)
    if alternative is None:
        raise SceneError(state.path, None, f"given {state.shown}, allowed: an alternative to it")
    read = _read(state)
    _take(scene, writing.delete_alternative(in_hand(state), alternative), read.drawn)


def move_alternative(scene: bpy.types.Scene, steps: int) -> None:
    """Move the alternative shown up or down among the others."""
    state = scene.massing
    names = list(_read(state).names[1:])
    if state.shown in names:
        at = names.index(state.shown)
        names.insert(min(max(at + steps, 0), len(names) - 1), names.pop(at))
        _take(scene, writing.order_alternatives(in_hand(state), names), state.shown)


def _change(scene: bpy.types.Scene, step: Callable[[str], str]) -> list[str]:
    state = scene.massing
    text = step(in_hand(state))
    try:
        return _take(scene, text, state.shown)
    except SceneError as fault:
        with _filled():
            state.tried = text
            state.fault = (
                fault.detail if fault.line is None else f"line {fault.line}: {fault.detail}"
            )
            _fill_rows(state)
        raise


def _take(scene: bpy.types.Scene, text: str, name: str) -> list[str]:
    """Take up a text and show a design of it; raises SceneError with nothing changed."""
    state = scene.massing
    read = reading(state.path, text)
    name = name if name in read.names else read.drawn
    read.model(name)
    sun_time_of(read, name, state.time_text)
    touched = _show(scene, read, name)
    _relight(scene, read)
    return touched


# --- designs, times, looks ---------------------------------------------------------------------


def pick_design(scene: bpy.types.Scene, name: str) -> list[str]:
    """Show another design of the scene file; keys of the parts that were touched.

    Raises:
        SceneError: the design in hand is at fault, or the other cannot be built.
    """
    state = scene.massing
    read = reading(state.path, in_hand(state))
    read.model(state.shown)  # do not leave behind what cannot be built
    read.model(name)
    return _show(scene, read, name)


def keep_design(state: bpy.types.PropertyGroup) -> None:
    """Put the choice of design back to the one that is shown."""
    with _filled():
        state.design = state.shown


def pick_time(scene: bpy.types.Scene, index: int) -> None:
    """Show one of the scene file's times."""
    state = scene.massing
    read = _read(state)
    text = read.loaded.scene.times[index]
    when = read.sun(state.shown, text).when
    with _filled():
        state.time = str(index)
        state.time_text, state.day = text, day_of(text)
        if when is not None:
            state.hour, state.minute = when.hour, when.minute
    _relight(scene, read)


def look_at_hour(scene: bpy.types.Scene) -> None:
    """Turn the light to the day and the clock of the panel; the file's times stay.

    Raises:
        SceneError: no such time; the light stands as it was.
    """
    state = scene.massing
    text = time_of(state.day, state.hour, state.minute)
    read = _read(state)
    sun_time_of(read, state.shown, text)
    with _filled():
        state.time_text = text
    _relight(scene, read)


def step_hour(scene: bpy.types.Scene, minutes: int) -> None:
    """Move the clock of the panel on or back, within the day."""
    state = scene.massing
    at = min(max(state.hour * 60 + state.minute + minutes, 0), 24 * 60 - 1)
    with _filled():
        state.hour, state.minute = divmod(at, 60)
    look_at_hour(scene)


def keep_view(
    scene: bpy.types.Scene, name: str, eye_m: Floats, look: Floats, lens_mm: float
) -> None:
    """Write where an eye stands into the text as a camera of the scene file.

    Raises:
        SceneError: no name for a camera, or it looks straight up or down; nothing has changed.
    """
    state = scene.massing
    read = _read(state)
    if name in views(state):
        raise SceneError(state.path, None, f"given {name} again, allowed: a name of its own")
    try:
        entry = camera_entry(name, eye_m, look, lens_mm, read.loaded.scene.units)
    except ValueError as fault:
        raise SceneError(state.path, None, str(fault)) from None
    _take(scene, writing.add_item(in_hand(state), ("cameras",), entry), state.shown)


def keep_time(scene: bpy.types.Scene, *, added: bool) -> None:
    """Write the time that is looked at into the text: over the one picked, or as one more.

    Raises:
        SceneError: the scene has it already, or it is none; nothing has changed.
    """
    state = scene.massing
    sun_time_of(_read(state), state.shown, state.time_text)
    index = len(_read(state).loaded.scene.times) if added else state.time_index
    text = in_hand(state)
    if added:
        text = writing.add_item(text, ("times",), state.time_text)
    else:
        text = writing.set_field(text, ("times", index), state.time_text)
    _take(scene, text, state.shown)
    with _filled():
        state.time = str(index)


def sun_time_of(read: Reading, name: str, time: str) -> SunTime:
    """The sun at a time that is looked at."""
    return read.sun(name, time or read.loaded.scene.times[0])


def pick_look(scene: bpy.types.Scene) -> None:
    """Give what is shown the materials of the look; those of the user's stay."""
    state = scene.massing
    read = _read(state)
    tree.look_at(scene, _root(scene, read), read.model(state.shown), state.look)


def _relight(scene: bpy.types.Scene, read: Reading) -> None:
    state = scene.massing
    sun = sun_time_of(read, state.shown, state.time_text)
    light.show(scene, sun)
    with _filled():
        state.time_fault = ""
        state.sun_words = sun_text(sun)
        state.sun_note = sun.note.partition(": ")[2]


# --- what others ask ---------------------------------------------------------------------------


def shown_design(state: bpy.types.PropertyGroup) -> Design:
    """The design that is shown, every dimension known."""
    return _read(state).design(state.shown)


def shown_model(state: bpy.types.PropertyGroup) -> Model:
    """The model of the design that is shown."""
    return _read(state).model(state.shown)


_looked: dict[str, tuple[int, str, bool]] = {}


def changed_on_disk(state: bpy.types.PropertyGroup) -> bool:
    """Whether the scene file is another than was read; it is read again only when it is newer."""
    if not state.written:
        return False
    path = scene_path(state)
    try:
        stamp = path.stat().st_mtime_ns
        known = _looked.get(str(path))
        if known is None or known[:2] != (stamp, state.written):
            differs = read_text(path) not in (state.written, in_hand(state))
            known = _looked[str(path)] = (stamp, state.written, differs)
    except (OSError, SceneError):
        return False
    return known[2]


def shown_sun(state: bpy.types.PropertyGroup) -> SunTime:
    """The sun that is shown."""
    return sun_time_of(_read(state), state.shown, state.time_text)


def views(state: bpy.types.PropertyGroup) -> tuple[str, ...]:
    """The scene file's views and cameras, by name."""
    scene = _read(state).loaded.scene
    return (*dict.fromkeys(scene.views), *(camera.name for camera in scene.cameras))


def bounds(scene: bpy.types.Scene) -> Floats:
    """``(2, 3)`` box round the house that is shown, metres."""
    state = scene.massing
    return _read(state).model(state.shown).building_bounds


def field_stands(state: bpy.types.PropertyGroup, field: str) -> Standing:
    """How a field stands in the design shown.

    Raises:
        SceneError: there is no such field.
    """
    try:
        return standing(_read(state), state.shown, parse_field(field), in_hand(state))
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
            told = rule_value(_read(state), state.shown, each.path)
            lines.append(f"The rule gives {told}" if told else "Without it: nothing")
        except SceneError:
            lines.append("It must be given here")
    return "\n".join(lines)


def search(scene: bpy.types.Scene) -> None:
    """Fill the rows of what the search box asks for."""
    state = scene.massing
    with _filled():
        _fill_found(state, _read(state))


def _read(state: bpy.types.PropertyGroup) -> Reading:
    return reading(state.path, state.text)


def _alternative(state: bpy.types.PropertyGroup) -> str | None:
    return None if state.shown == _read(state).drawn else str(state.shown)


def _length(shown: str) -> float:
    from massing.units import parse_length

    try:
        return parse_length(shown)
    except ValueError:
        return 0.0


# --- what is shown -----------------------------------------------------------------------------


@contextmanager
def _filled() -> Iterator[None]:
    """Properties set inside do not count as the user's changes."""
    global _filling
    _filling += 1
    try:
        yield
    finally:
        _filling -= 1


def _root(scene: bpy.types.Scene, read: Reading) -> bpy.types.Collection:
    state = scene.massing
    root = tree.house_collection(scene, state.root, state.house)
    if root is None:
        root = tree.own_collection(scene, "house", state.house, read.loaded.scene.title)
    state.root = root
    return root


def _show(scene: bpy.types.Scene, read: Reading, name: str) -> list[str]:
    state = scene.massing
    root = _root(scene, read)
    touched = _lay(scene, root, read, name)
    tree.keep_designs(scene, root, read.names)
    with _filled():
        new = state.shown != name
        state.text, state.tried, state.fault, state.shown = read.text, "", "", name
        for entries, names in (
            (state.designs, read.names),
            (state.times, read.loaded.scene.times),
            (state.views, views(state)),
        ):
            if [entry.name for entry in entries] != list(names):
                entries.clear()
                for each in names:
                    entries.add().name = each
        state.design = name
        if new or not state.first:
            _fill_found(state, read)
        _fill_rows(state)
        state.findings.clear()
        for finding in read.findings(name):
            entry = state.findings.add()
            entry.name, entry.severity, entry.source = (
                finding.text,
                finding.severity,
                finding.source,
            )
    return touched


def _lay(scene: bpy.types.Scene, root: bpy.types.Collection, read: Reading, name: str) -> list[str]:
    """The design shown in its place, and those that stand beside it in theirs."""
    state = scene.massing
    others = [each for each in beside(state, name) if each in read.names]
    if not others:
        touched = tree.lay(scene, root, read.model(name), state.look)
        tree.stand_at(scene, root, name, 0.0)
        tree.show_only(root, [name])
        return touched
    names = [name, *others]
    places = places_m([read.design(each) for each in names], state.apart)
    touched = []
    for each, place in zip(names, places, strict=True):
        touched += tree.lay(scene, root, alone(read.model(each), first=each == name), state.look)
        tree.stand_at(scene, root, each, place)
    tree.show_only(root, names)
    return touched


def beside(state: bpy.types.PropertyGroup, shown: str) -> list[str]:
    """The designs that were chosen to stand beside the one shown, in the file's order."""
    chosen = [entry.name for entry in state.designs if entry.beside and entry.name != shown]
    return chosen[: MOST - 1]


def stand_beside(scene: bpy.types.Scene) -> None:
    """Bring the scene in line with what was chosen to stand side by side.

    Raises:
        SceneError: one of them cannot be built; it is not chosen any more.
    """
    state = scene.massing
    read = _read(state)
    for entry in state.designs:
        if entry.beside and entry.name != state.shown:
            try:
                read.model(entry.name)
            except SceneError:
                with _filled():
                    entry.beside = False
                raise
    _show(scene, read, state.shown)


_SITE = ("site.latitude", "site.longitude", "site.front_faces")


def _fill_found(state: bpy.types.PropertyGroup, read: Reading) -> None:
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
    _fill_rows(state)


def _begin_row(row: bpy.types.PropertyGroup, each: SceneField, under: bool) -> None:
    steps = [step for step in each.path if isinstance(step, str)]
    if len(steps) == 1:
        group, words = "scene", steps
    else:
        group, words = (steps[0], steps[1:]) if len(steps) < 4 else (" ".join(steps[:2]), steps[2:])
    items = [step + 1 for step in each.path if isinstance(step, int)]
    label = " ".join(words).replace("_", " ")
    row.name = label.capitalize() + (f" {items[0]}" if items else "")
    if under:  # its group stands over it
        row.name = f"Its {each.label.lower()}"
    row.path, row.kind, row.group = each.name, each.kind, group.replace("_", " ").capitalize()
    row.choices = "\n".join(map(str, each.choices or each.names))
    row.by_rule = each.optional and each.default is None


def _fill_rows(state: bpy.types.PropertyGroup) -> None:
    """How each row's field stands now; rows are filled in place, for one may be in use."""
    read = _read(state)
    rows = [*state.first, *state.found]
    known = {each.name: each for each in scene_fields(read, state.shown)}
    wanted = [known[row.path] for row in rows if row.path in known]
    stand = {s.field.name: s for s in standings(read, state.shown, wanted, in_hand(state))}
    fault = state.fault.rpartition("alternatives.")[2] if state.fault else ""
    with _filled():
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


BY_RULE = "by rule"


def row_value(row: bpy.types.PropertyGroup, plain: str) -> Any:
    """What a row's number, switch or choice would be in the file."""
    if plain == "switch":
        return row.switch if row.kind == "switch" else {} if row.switch else None
    if plain == "count":
        return row.count
    word = row.choice
    return None if word == BY_RULE else int(word) if word.isdecimal() else word


# --- times -------------------------------------------------------------------------------------

_CLOCK = re.compile(
    r"[\s,]+(solar noon|\d{1,2}:\d{2}\s*(am|pm)?(\s*(utc)?[+−-]\d{2}:?\d{2})?)\s*$", re.IGNORECASE
)


def day_of(text: str) -> str:
    """The day of a written time, in its own words: ``summer solstice`` of ``... 10:00``."""
    return _CLOCK.sub("", text.strip())


def time_of(day: str, hour: int, minute: int) -> str:
    """A written time from a day's words and the clock."""
    try:
        if read_time(day).conventional:
            return day
    except ValueError:
        pass  # a day alone is no time yet
    return f"{day} {hour}:{minute:02d}"
