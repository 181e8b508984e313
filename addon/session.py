"""What the panel works on: a scene file's text in hand, and the design of it that is shown.

The text is the state, kept in Blender's own properties so that Blender's undo takes it back. What
a change does to the text, and what the text says, is :mod:`massing.edit`'s; here its answers are
put into properties and objects. Text, fields and objects change together or not at all.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

import bpy

from massing.edit import writing
from massing.edit.reading import Reading, reading
from massing.edit.scene_field import typed
from massing.edit.side_by_side import MOST, alone, places_m
from massing.edit.viewpoints import camera_entry
from massing.files import write_users_own
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field
from massing.scene.text import read_text
from massing.units import format_length

from . import light, tree
from .held import (
    alternative_of,
    bounds,
    changed_on_disk,
    in_hand,
    opened,
    output_home,
    read_of,
    remember_place,
    scene_path,
    shown_design,
    shown_model,
    views,
)
from .hours import (
    look_at_hour,
    pick_time,
    relight,
    shown_sun,
    step_hour,
    sun_time_of,
)
from .rows import (
    field_stands,
    field_words,
    fill_found,
    fill_rows,
    filled,
    is_filling,
    row_value,
    search,
)

__all__ = [
    "add_alternative",
    "beside",
    "bounds",
    "changed_on_disk",
    "close",
    "delete_alternative",
    "field_stands",
    "field_words",
    "in_hand",
    "is_filling",
    "keep_design",
    "keep_time",
    "keep_view",
    "look_at_hour",
    "move_alternative",
    "nudge",
    "open_file",
    "open_text",
    "output_home",
    "pick_design",
    "pick_look",
    "pick_time",
    "refresh",
    "remember_place",
    "rename_design",
    "row_value",
    "scene_path",
    "search",
    "set_field",
    "settle",
    "settle_soon",
    "shown_design",
    "shown_model",
    "shown_sun",
    "stand_beside",
    "step_hour",
    "take_back",
    "try_out",
    "type_in",
    "unset_field",
    "views",
    "write_file",
]

NUDGE_M = {"feet": 0.0254, "metric": 0.01}


# --- opening, closing, the file ---------------------------------------------------------------


def open_file(scene: bpy.types.Scene, path: Path) -> None:
    """Read a scene file and show its design as drawn in place of the house that was open.

    Raises:
        SceneError: nothing has changed.
    """
    text = read_text(path)
    open_text(scene, path, text)
    scene.massing.written = text
    opened.add(path.resolve())


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
    with filled():
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
    with filled():
        for key in ("path", "text", "written", "tried", "house", "shown", "fault", "time_fault"):
            setattr(state, key, "")
        state.root, state.unsettled = None, False
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
    relight(scene, read)
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
    opened.add(path.resolve())
    with filled():
        state.path, state.text, state.written = str(path), text, text


# --- changes ----------------------------------------------------------------------------------


def set_field(scene: bpy.types.Scene, field: str, value: Any) -> list[str]:
    """Give a field of the design shown a value as it would be written; parts that were touched.

    Raises:
        SceneError: it cannot stand; the change is kept, the model stands as it was.
    """
    state = scene.massing
    path = parse_field(field)
    return _change(scene, lambda text: writing.set_field(text, path, value, alternative_of(state)))


def type_in(scene: bpy.types.Scene, field: str, text: str) -> list[str]:
    """Give a field what was typed for it; nothing is by rule. As :func:`set_field`."""
    each = field_stands(scene.massing, field).field
    return set_field(scene, field, typed(each, text))


def try_out(scene: bpy.types.Scene, field: str, text: str, *, light: bool = False) -> None:
    """Show what a field would give, while a hand is still about it; :func:`take_back` ends it.

    A light model is shown without new coverings, and the rows stay as they were.

    Raises:
        SceneError: it cannot be built; nothing has changed.
    """
    state = scene.massing
    each = field_stands(state, field).field
    changed = writing.set_field(in_hand(state), each.path, typed(each, text), alternative_of(state))
    if not light:
        _take(scene, changed, state.shown)
        return
    read = reading(state.path, changed)
    tree.lay(scene, _root(scene, read), read.light_model(state.shown), state.look, light=True)
    with filled():
        state.text = changed


def take_back(scene: bpy.types.Scene, text: str) -> None:
    """Show a text again that stood before."""
    _take(scene, text, scene.massing.shown)


# --- coverings, which take longest, a moment after the rest -----------------------------------

_waits = not bpy.app.background  # without a window there is no moment after
_MOMENT_S = 0.15


def settle(scene: bpy.types.Scene) -> None:
    """Lay the coverings of what was shown without them, if any wait."""
    state = scene.massing
    if state.is_open and state.unsettled:
        read = read_of(state)
        _lay(scene, _root(scene, read), read, state.shown)
        with filled():
            state.unsettled = False


def settle_soon() -> None:
    """Let what waits settle when no change has come for a moment."""
    if bpy.app.timers.is_registered(_settle_all):
        bpy.app.timers.unregister(_settle_all)
    bpy.app.timers.register(_settle_all, first_interval=_MOMENT_S)


def _settle_all() -> None:
    for scene in bpy.data.scenes:
        if scene.library is None:
            try:
                settle(scene)
            except SceneError as fault:  # the rest stands; the panel says what does not
                with filled():
                    scene.massing.fault, scene.massing.unsettled = fault.detail, False


def unset_field(scene: bpy.types.Scene, field: str) -> list[str]:
    """Take away what the design shown itself says of a field. As :func:`set_field`."""
    state = scene.massing
    path = parse_field(field)
    return _change(scene, lambda text: writing.unset_field(text, path, alternative_of(state)))


def nudge(scene: bpy.types.Scene, field: str, steps: int) -> list[str]:
    """Make a length longer or shorter by steps of an inch or of ten millimetres."""
    state = scene.massing
    stands = field_stands(state, field)
    units = read_of(state).loaded.scene.units
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
    read = read_of(state)
    if name in read.names:
        raise SceneError(state.path, None, f"given {name} again, allowed: a name of its own")
    text = writing.add_alternative(in_hand(state), name, alternative_of(state))
    _take(scene, text, name)


def rename_design(scene: bpy.types.Scene, new: str) -> None:
    """Call the design shown otherwise. Raises SceneError as :func:`add_alternative`."""
    state = scene.massing
    old = state.shown
    if new in read_of(state).names and new != old:
        raise SceneError(state.path, None, f"given {new} again, allowed: a name of its own")
    alternative = alternative_of(state)
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
    alternative = alternative_of(state)
    if alternative is None:
        raise SceneError(state.path, None, f"given {state.shown}, allowed: an alternative to it")
    read = read_of(state)
    _take(scene, writing.delete_alternative(in_hand(state), alternative), read.drawn)


def move_alternative(scene: bpy.types.Scene, steps: int) -> None:
    """Move the alternative shown up or down among the others."""
    state = scene.massing
    names = list(read_of(state).names[1:])
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
        with filled():
            state.tried = text
            state.fault = (
                fault.detail if fault.line is None else f"line {fault.line}: {fault.detail}"
            )
            fill_rows(state)
        raise


def _take(scene: bpy.types.Scene, text: str, name: str) -> list[str]:
    """Take up a text and show a design of it; raises SceneError with nothing changed."""
    state = scene.massing
    read = reading(state.path, text)
    name = name if name in read.names else read.drawn
    light = _waits and name == state.shown and not read.covered_as(name, read_of(state))
    model = read.light_model(name) if light else read.model(name)
    sun_time_of(read, name, state.time_text)
    touched = _show(scene, read, name, model if light else None)
    relight(scene, read)
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
    with filled():
        state.design = state.shown


def keep_view(
    scene: bpy.types.Scene, name: str, eye_m: Floats, look: Floats, lens_mm: float
) -> None:
    """Write where an eye stands into the text as a camera of the scene file.

    Raises:
        SceneError: no name for a camera, or it looks straight up or down; nothing has changed.
    """
    state = scene.massing
    read = read_of(state)
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
    sun_time_of(read_of(state), state.shown, state.time_text)
    index = len(read_of(state).loaded.scene.times) if added else state.time_index
    text = in_hand(state)
    if added:
        text = writing.add_item(text, ("times",), state.time_text)
    else:
        text = writing.set_field(text, ("times", index), state.time_text)
    _take(scene, text, state.shown)
    with filled():
        state.time = str(index)


def pick_look(scene: bpy.types.Scene) -> None:
    """Give what is shown the materials of the look; those of the user's stay."""
    state = scene.massing
    read = read_of(state)
    tree.look_at(scene, _root(scene, read), read.model(state.shown), state.look)


# --- what others ask ---------------------------------------------------------------------------


def _length(shown: str) -> float:
    from massing.units import parse_length

    try:
        return parse_length(shown)
    except ValueError:
        return 0.0


# --- what is shown -----------------------------------------------------------------------------


def _root(scene: bpy.types.Scene, read: Reading) -> bpy.types.Collection:
    state = scene.massing
    root = tree.house_collection(scene, state.root, state.house)
    if root is None:
        root = tree.own_collection(scene, "house", state.house, read.loaded.scene.title)
    state.root = root
    return root


def _show(
    scene: bpy.types.Scene, read: Reading, name: str, light: Model | None = None
) -> list[str]:
    """Show a design; of a ``light`` model the coverings follow when a moment has passed."""
    state = scene.massing
    root = _root(scene, read)
    if light is not None:
        touched = tree.lay(scene, root, light, state.look, light=True)
        settle_soon()
    else:
        touched = _lay(scene, root, read, name)
    tree.keep_designs(scene, root, read.names)
    with filled():
        new = state.shown != name
        state.text, state.tried, state.fault, state.shown = read.text, "", "", name
        state.unsettled = light is not None
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
            fill_found(state, read)
        fill_rows(state)
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
    read = read_of(state)
    for entry in state.designs:
        if entry.beside and entry.name != state.shown:
            try:
                read.model(entry.name)
            except SceneError:
                with filled():
                    entry.beside = False
                raise
    _show(scene, read, state.shown)
