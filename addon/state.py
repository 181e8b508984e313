"""The properties on Blender's scene that hold an open scene file and what the panel shows."""

from collections.abc import Callable
from math import radians
from typing import Any

import bpy
from bpy.props import (
    BoolProperty,
    CollectionProperty,
    EnumProperty,
    FloatProperty,
    IntProperty,
    PointerProperty,
    StringProperty,
)

from massing.scene.errors import SceneError
from massing.scene.spec import MAX_LENGTH_M, Scene

from . import session
from .fields import FIELDS, Field

_said: dict[str, str] = {}  # what the status bar shows of ours
_kept: dict[str, list[tuple[Any, ...]]] = {}  # Blender reads dynamic choices after we return


def _following(
    action: Callable[[bpy.types.Scene], object], fault_key: str
) -> Callable[[Any, bpy.types.Context], None]:
    """An update callback that follows the user's change, or says in one line why it cannot."""

    def update(self: Any, context: bpy.types.Context) -> None:
        if session.is_filling() or not self.path:
            return
        try:
            action(self.id_data)
            fault = ""
        except SceneError as error:
            fault = str(error)
        setattr(self, fault_key, fault)
        say(context, self)

    return update


def say(context: bpy.types.Context, state: Any) -> None:
    """Put what is at fault, if anything, in the status bar."""
    fault = state.fault or state.time_fault
    workspace = getattr(context, "workspace", None)
    if workspace is not None and not bpy.app.background and fault != _said.get("fault", ""):
        workspace.status_text_set(fault or None)
        _said["fault"] = fault


def _pick_design(scene: bpy.types.Scene) -> None:
    state = scene.massing
    wanted = state.design
    try:
        session.pick_design(scene, wanted)
    except SceneError:
        session.keep_design(state)
        raise


def _pick_time(scene: bpy.types.Scene) -> None:
    session.pick_time(scene, scene.massing.time_index)


_reshape = _following(session.reshape, "fault")
_resite = _following(session.resite, "fault")
_relight = _following(session.relight, "time_fault")


def _choices(key: str, entries: str, named: bool) -> Callable[..., list[tuple[Any, ...]]]:
    def items(self: Any, context: bpy.types.Context | None) -> list[tuple[Any, ...]]:
        names = [entry.name for entry in getattr(self, entries)]
        found = [(n if named else str(i), n, "", i) for i, n in enumerate(names)]
        _kept[key] = found or [("", "", "", 0)]
        return _kept[key]

    return items


def _properties(field: Field) -> dict[str, Any]:
    """Blender's properties for one field of the scene file."""
    follow = _resite if field.path[0] == "site" else _reshape
    about = {"name": field.label, "description": field.description, "update": follow}
    match field.kind:
        case "choice":
            return {field.key: EnumProperty(items=_listed(field.choices), **about)}
        case "count":
            return {field.key: IntProperty(**field.bounds, **about)}
        case "present":
            return {field.key: BoolProperty(**about)}
        case "degrees":
            return {field.key: FloatProperty(precision=4, step=10, **about)}
        case "compass":
            limits = {"min": 0.0, "max": radians(360.0), "step": 100}
            return {field.key: FloatProperty(subtype="ANGLE", unit="ROTATION", **limits, **about)}
    way = {**about, "description": f"How it is given. {field.description}"}
    length = {"min": 0.0, "max": MAX_LENGTH_M, "precision": 4, "step": 1}
    return {
        field.key: FloatProperty(subtype="DISTANCE", unit="LENGTH", **length, **about),
        f"{field.key}_by": EnumProperty(items=_listed(field.ways), **way),
    }


def _listed(words: tuple[str, ...]) -> list[tuple[str, str, str]]:
    return [(word, word.capitalize(), "") for word in words]


class MassingName(bpy.types.PropertyGroup):
    """One of a list of names."""


class MassingFinding(bpy.types.PropertyGroup):
    """One remark on the design; its name is its text."""

    severity: StringProperty(name="Severity", description="note, check or caution")
    source: StringProperty(name="Source", description="Whose rule it is")


_LOOKS = _listed(Scene.model_fields["looks"].annotation.__args__[0].__args__)

_OWN = {
    "path": StringProperty(
        name="Scene file", description="The scene file in hand", subtype="FILE_PATH"
    ),
    "text": StringProperty(name="Text", description="The scene file's text with the changes made"),
    "written": StringProperty(name="Written", description="The scene file's text on disk"),
    "shown": StringProperty(name="Shown", description="The design that the fields describe"),
    "designs": CollectionProperty(type=MassingName),
    "times": CollectionProperty(type=MassingName),
    "views": CollectionProperty(type=MassingName),
    "findings": CollectionProperty(type=MassingFinding),
    "design": EnumProperty(
        name="Design",
        description="The design as drawn, or one of its alternatives",
        items=_choices("design", "designs", named=True),
        update=_following(_pick_design, "fault"),
    ),
    "time": EnumProperty(
        name="Time",
        description="One of the scene file's times",
        items=_choices("time", "times", named=False),
        update=_following(_pick_time, "time_fault"),
    ),
    "time_text": StringProperty(name="Time as written"),
    "day": StringProperty(
        name="Day",
        description="Such as summer solstice, 14 May or 2026-05-14; or conventional light",
        update=_relight,
    ),
    "hour": FloatProperty(
        name="Hour",
        description="By the clock of the place, daylight saving included",
        min=0.0,
        max=24.0,
        precision=2,
        step=25,
        update=_relight,
    ),
    "look": EnumProperty(
        name="Look",
        description="White model, or the materials of the house",
        items=_LOOKS,
        update=_following(session.pick_look, "fault"),
    ),
    "sun_words": StringProperty(name="Sun"),
    "sun_note": StringProperty(name="Sun on the front"),
    "fault": StringProperty(name="At fault", options={"SKIP_SAVE"}),
    "time_fault": StringProperty(name="Time at fault", options={"SKIP_SAVE"}),
    "progress": StringProperty(name="Progress", options={"SKIP_SAVE"}),
}


class MassingState(bpy.types.PropertyGroup):
    """An open scene file, as the panel shows it; the text is the state, the rest its reading."""

    __annotations__ = {
        **_OWN,
        **{key: made for field in FIELDS for key, made in _properties(field).items()},
    }

    @property
    def time_index(self) -> int:
        """Which of the scene file's times is shown, counted from none."""
        return int(self.time or 0)

    @property
    def is_open(self) -> bool:
        """Whether a scene file is in hand."""
        return bool(self.path)


@bpy.app.handlers.persistent
def _say_again(*_: Any) -> None:
    """After undo, redo or loading, the status bar says what is at fault now."""
    context = bpy.context
    if context.scene is not None:
        say(context, context.scene.massing)


def _handlers() -> tuple[list[Callable[..., None]], ...]:
    on = bpy.app.handlers
    return on.undo_post, on.redo_post, on.load_post


_CLASSES = (MassingName, MassingFinding, MassingState)


def register() -> None:
    """Add the state to every scene."""
    for kind in _CLASSES:
        bpy.utils.register_class(kind)
    bpy.types.Scene.massing = PointerProperty(type=MassingState)
    for handlers in _handlers():
        handlers.append(_say_again)


def unregister() -> None:
    """Take the state's definition away; its data stays in the file for the next time."""
    for handlers in _handlers():
        handlers.remove(_say_again)
    del bpy.types.Scene.massing
    for kind in reversed(_CLASSES):
        bpy.utils.unregister_class(kind)
    _kept.clear()
