"""What the panel works on: a scene file's text in hand, and the design of it that is shown.

The text is the state. A property that changes becomes a change in the text; the text is read by
the library as the file itself would be, so that a fault is the same one line. Text, fields and
objects change together or not at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

import bpy

from massing.build.house import build
from massing.design.design import Design
from massing.files import write_whole
from massing.findings.report import findings
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.present.words import sun_text
from massing.render.blender.light import set_light, set_night
from massing.resolve.design import resolve
from massing.scene.edit import edit_scene
from massing.scene.errors import DesignError, SceneError
from massing.scene.load import LoadedScene, load_scene, read_text
from massing.sun.position import SunTime, sun_time

from . import fields, tree

_filling = False


def is_filling() -> bool:
    """Whether properties are being set from the text, not by the user."""
    return _filling


# --- what the panel's buttons and properties ask for ---------------------------------------


def open_file(scene: bpy.types.Scene, path: Path) -> None:
    """Read a scene file and show its design as drawn in place of what was open.

    Raises:
        SceneError: nothing has changed.
    """
    text = read_text(path)
    loaded = _read(str(path), text)
    name = loaded.scene.as_drawn
    model = _model(loaded, name)
    sun = _sun(loaded, name, 0, loaded.scene.times[0])
    tree.clear(scene)
    state = scene.massing
    with _filled():
        state.path, state.text, state.written = str(path), text, text
    feet = loaded.scene.units == "feet"
    scene.unit_settings.system = "IMPERIAL" if feet else "METRIC"
    scene.unit_settings.use_separate = feet
    _show(scene, loaded, text, name, model)
    _show_time(scene, loaded, 0)
    _light(scene, sun)


def refresh(scene: bpy.types.Scene) -> list[str]:
    """Take up what changed in the file, and rebuild what is missing or out of date.

    Returns the names of the parts that were touched.

    Raises:
        SceneError: the file changed, and so did the text in hand; or it cannot be used.
    """
    state = scene.massing
    path = Path(state.path)
    on_disk, in_hand = read_text(path), edited(state)
    if on_disk != state.written and in_hand != state.written:
        raise SceneError(
            path,
            None,
            "given changes on disk and changes here, allowed: one of them; write this state "
            "under another name, or open the file again",
        )
    text = on_disk if on_disk != state.written else in_hand
    loaded = _read(str(path), text)
    name = state.shown if state.shown in loaded.designs else loaded.scene.as_drawn
    model = _model(loaded, name)
    index = min(state.time_index, len(loaded.scene.times) - 1)
    sun = _sun(loaded, name, index, loaded.scene.times[index])
    with _filled():
        state.written = on_disk
    touched = _show(scene, loaded, text, name, model)
    _show_time(scene, loaded, index)
    _light(scene, sun)
    return touched


def reshape(scene: bpy.types.Scene) -> list[str]:
    """Bring the model in line with the properties; names of the parts that were touched.

    Raises:
        SceneError: the properties cannot be built; the model stands as it was.
    """
    state = scene.massing
    text = edited(state)
    loaded = _read(state.path, text)
    return _show(scene, loaded, text, state.shown, _model(loaded, state.shown))


def resite(scene: bpy.types.Scene) -> None:
    """Bring the light in line with the site and the hour; the model stays.

    Raises:
        SceneError: no such place or time; the light stands as it was.
    """
    state = scene.massing
    text = edited(state)
    loaded = _read(state.path, text)
    design = _design(loaded, state.shown)
    sun = _sun(loaded, state.shown, state.time_index, state.time_text)
    with _filled():
        state.text = text
        _fill_fields(state, loaded, design)
    _light(scene, sun)


def relight(scene: bpy.types.Scene) -> None:
    """Bring the light in line with the day and the hour.

    Raises:
        SceneError: no such time; the light stands as it was.
    """
    state = scene.massing
    text = fields.time_of(state.day, state.hour)
    with _filled():
        state.time_text = text
    loaded = _loaded(state)
    sun = _sun(loaded, state.shown, state.time_index, text)
    with _filled():
        state.times[state.time_index].name = text
    _light(scene, sun)


def pick_design(scene: bpy.types.Scene, name: str) -> list[str]:
    """Show another design of the scene file; names of the parts that were touched.

    Raises:
        SceneError: the design in hand is at fault, or the other cannot be built.
    """
    state = scene.massing
    text = edited(state)
    loaded = _read(state.path, text)
    if text != state.text:
        _model(loaded, state.shown)  # do not leave behind what cannot be built
    return _show(scene, loaded, text, name, _model(loaded, name))


def keep_design(state: bpy.types.PropertyGroup) -> None:
    """Put the choice of design back to the one that is shown."""
    with _filled():
        state.design = state.shown


def pick_time(scene: bpy.types.Scene, index: int) -> None:
    """Show one of the scene file's times.

    Raises:
        SceneError: the time in hand is at fault.
    """
    state = scene.massing
    text = edited(state)
    loaded = _read(state.path, text)
    sun = _sun(loaded, state.shown, index, loaded.scene.times[index])
    with _filled():
        state.text = text
    _show_time(scene, loaded, index)
    _light(scene, sun)


def pick_look(scene: bpy.types.Scene) -> None:
    """Give what is shown the materials of the look."""
    state = scene.massing
    tree.look_at(scene, _model(_loaded(state), state.shown), state.look)


def write_file(scene: bpy.types.Scene, path: Path) -> None:
    """Write the text in hand, which is valid, as a scene file; the panel goes on with that file.

    Raises:
        SceneError: the state is at fault, or the file on disk is not the one that was read.
    """
    state = scene.massing
    text = edited(state)
    loaded = _read(state.path, text)
    for name in loaded.designs:
        _design(loaded, name)
    if path == Path(state.path) and path.exists() and read_text(path) != state.written:
        raise SceneError(
            path, None, "given changes on disk since it was read, allowed: another name"
        )
    write_whole(path, text)
    with _filled():
        state.path, state.text, state.written = str(path), text, text
    _fill_lists(state, _read(str(path), text))


def edited(state: bpy.types.PropertyGroup) -> str:
    """The text in hand with what the properties have changed."""
    loaded = _loaded(state)
    spec = loaded.designs[state.shown]
    own, shared = {}, {}
    for field, value in fields.changes(state, spec):
        (shared if field.path in fields.SHARED else own)[field.path] = value
    if state.time_text != loaded.scene.times[state.time_index]:
        shared["times", state.time_index] = state.time_text
    text = edit_scene(state.text, shared) if shared else state.text
    alternative = None if state.shown == loaded.scene.as_drawn else state.shown
    return edit_scene(text, own, alternative) if own else text


def shown_design(state: bpy.types.PropertyGroup) -> Design:
    """The design that is shown, with every dimension known."""
    return _design(_loaded(state), state.shown)


def bounds(scene: bpy.types.Scene) -> Floats:
    """``(2, 3)`` box round the house that is shown, metres."""
    state = scene.massing
    return _model(_loaded(state), state.shown).building_bounds


# --- what the library says of the text -----------------------------------------------------


@lru_cache(maxsize=4)
def _read(path: str, text: str) -> LoadedScene:
    return load_scene(path, text)


def _loaded(state: bpy.types.PropertyGroup) -> LoadedScene:
    return _read(state.path, state.text)


def _design(loaded: LoadedScene, name: str) -> Design:
    try:
        return resolve(loaded.designs[name], name, loaded.lines[name])
    except DesignError as fault:
        raise loaded.error(name, fault) from None


def _model(loaded: LoadedScene, name: str) -> Model:
    design = _design(loaded, name)
    try:
        return build(design)
    except ValueError as fault:
        raise SceneError(loaded.path, None, f"{name}: {fault}") from None


def _sun(loaded: LoadedScene, name: str, index: int, text: str) -> SunTime:
    try:
        return sun_time(text, _design(loaded, name).site)
    except ValueError as fault:
        line = loaded.file_lines.get(("times", index))
        raise SceneError(loaded.path, line, f"times[{index + 1}]: {fault}") from None


# --- what is shown -------------------------------------------------------------------------


@contextmanager
def _filled() -> Iterator[None]:
    """Properties set inside do not count as the user's changes."""
    global _filling
    before, _filling = _filling, True
    try:
        yield
    finally:
        _filling = before


def _show(
    scene: bpy.types.Scene, loaded: LoadedScene, text: str, name: str, model: Model
) -> list[str]:
    state = scene.massing
    design = _design(loaded, name)
    touched = tree.lay(scene, loaded.scene.title, model, state.look)
    with _filled():
        state.text, state.shown = text, name
        _fill_lists(state, loaded)
        _fill_fields(state, loaded, design)
        state.findings.clear()
        for finding in findings(design):
            entry = state.findings.add()
            entry.name, entry.severity, entry.source = (
                finding.text,
                finding.severity,
                finding.source,
            )
    return touched


def _fill_lists(state: bpy.types.PropertyGroup, loaded: LoadedScene) -> None:
    with _filled():
        for entries, names in (
            (state.designs, loaded.designs),
            (state.times, loaded.scene.times),
            (state.views, dict.fromkeys(loaded.scene.views)),
        ):
            entries.clear()
            for name in names:
                entries.add().name = name
        state.design = state.shown


def _fill_fields(state: bpy.types.PropertyGroup, loaded: LoadedScene, design: Design) -> None:
    spec = loaded.designs[state.shown]
    for field in fields.FIELDS:
        for key, value in fields.shown(field, spec, design.origins).items():
            setattr(state, key, value)


def _show_time(scene: bpy.types.Scene, loaded: LoadedScene, index: int) -> None:
    state = scene.massing
    text = loaded.scene.times[index]
    when = _sun(loaded, state.shown, index, text).when
    with _filled():
        state.time = str(index)
        state.time_text, state.day = text, fields.day_of(text)
        if when is not None:
            state.hour = when.hour + when.minute / 60.0 + when.second / 3600.0


def _light(scene: bpy.types.Scene, sun: SunTime) -> None:
    state = scene.massing
    if sun.is_up:
        set_light(
            scene,
            sun.direction,
            sun.altitude_deg,
            beam_w_m2=sun.dni_w_m2,
            diffuse_w_m2=sun.dhi_w_m2,
        )
    else:
        set_night(scene)
    with _filled():
        state.sun_words = sun_text(sun)
        state.sun_note = sun.note.partition(": ")[2]
