"""The scene file in hand: its text and designs, where it is, what may be written beside it."""

from __future__ import annotations

from pathlib import Path

import bpy

from massing.design.design import Design
from massing.edit.reading import Reading, reading
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.scene.errors import SceneError
from massing.scene.text import read_text

opened: set[Path] = set()  # scene files opened or written in this session
_looked: dict[str, tuple[int, str, bool]] = {}


def read_of(state: bpy.types.PropertyGroup) -> Reading:
    return reading(state.path, state.text)


def in_hand(state: bpy.types.PropertyGroup) -> str:
    """The text with all changes, those at fault too."""
    return str(state.tried or state.text)


def alternative_of(state: bpy.types.PropertyGroup) -> str | None:
    return None if state.shown == read_of(state).drawn else str(state.shown)


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
    if path.resolve() in opened and path.exists():
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


def views(state: bpy.types.PropertyGroup) -> tuple[str, ...]:
    """The scene file's views and cameras, by name."""
    scene = read_of(state).loaded.scene
    return (*dict.fromkeys(scene.views), *(camera.name for camera in scene.cameras))


def shown_design(state: bpy.types.PropertyGroup) -> Design:
    """The design that is shown, every dimension known."""
    return read_of(state).design(state.shown)


def shown_model(state: bpy.types.PropertyGroup) -> Model:
    """The model of the design that is shown."""
    return read_of(state).model(state.shown)


def bounds(scene: bpy.types.Scene) -> Floats:
    """``(2, 3)`` box round the house that is shown, metres."""
    state = scene.massing
    return read_of(state).model(state.shown).building_bounds
