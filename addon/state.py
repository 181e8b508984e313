"""The properties on Blender's scene that hold an open scene file and what the panel shows.

Nothing of the library is loaded here: that waits until a scene file is opened.
"""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import bpy
from bpy.props import (
    BoolProperty,
    CollectionProperty,
    EnumProperty,
    FloatProperty,
    FloatVectorProperty,
    IntProperty,
    PointerProperty,
    StringProperty,
)

_kept: dict[str, list[tuple[Any, ...]]] = {}  # Blender reads dynamic choices after we return

LOOKS = ("clay", "materials", "drawn")


def _session() -> Any:
    from . import session

    return session


def _following(
    action: Callable[[Any, Any], object], fault_key: str = ""
) -> Callable[[Any, bpy.types.Context], None]:
    """An update callback that follows the user's change, or keeps in one line why it cannot.

    ``action`` gets the session and what was changed. With ``fault_key`` the line is kept there;
    else the session has kept it.
    """

    def update(self: Any, context: bpy.types.Context) -> None:
        state = self.id_data.massing
        if not state.is_open or _session().is_filling():
            return
        from massing.scene.errors import SceneError

        try:
            action(_session(), self)
        except SceneError as error:
            if fault_key:
                setattr(state, fault_key, error.detail)
        else:
            if fault_key:
                setattr(state, fault_key, "")

    return update


# --- a field's row -----------------------------------------------------------------------------


def _set_plain(kind: str) -> Callable[[Any, bpy.types.Context], None]:
    return _following(
        lambda session, row: session.set_field(row.id_data, row.path, session.row_value(row, kind))
    )


_type_in = _following(lambda session, row: session.type_in(row.id_data, row.path, row.text))

_type_word = _following(lambda session, row: session.type_in(row.id_data, row.path, row.word))


def _suggested(self: Any, context: bpy.types.Context, typed: str) -> list[str]:
    words = [word for word in self.choices.split("\n") if word]
    return [word for word in words if typed.lower() in word.lower()]


def _choices(self: Any, context: bpy.types.Context | None) -> list[tuple[str, str, str]]:
    words = [word for word in self.choices.split("\n") if word]
    if self.by_rule:
        words.insert(0, "by rule")
    key = "\n".join(words)
    if key not in _kept:
        _kept[key] = [(w, w.capitalize(), "") for w in words] or [("", "", "")]
    return _kept[key]


class MassingField(bpy.types.PropertyGroup):
    """A field of the scene file as a row of the panel; its name is what the panel calls it."""

    path: StringProperty(name="Field")
    kind: StringProperty(name="Kind")
    group: StringProperty(name="Group")
    choices: StringProperty(name="Choices")
    by_rule: BoolProperty(name="May be by rule")
    plain: StringProperty(name="Shown as")
    source: StringProperty(name="Source")
    applies: BoolProperty(name="Applies", default=True)
    waits_for: StringProperty(name="Waits for")
    at_fault: BoolProperty(name="At fault")
    text: StringProperty(
        name="Value",
        description="As the scene file writes it, such as 8 ft, 5'-6 1/2\" or 2.4 m; "
        "left empty it follows its rule",
        update=_type_in,
    )
    word: StringProperty(
        name="Value or word",
        description="As the scene file writes it, or one of the words that may stand for it; "
        "left empty it follows its rule",
        update=_type_word,
        search=_suggested,
        search_options={"SUGGESTION"},
    )
    choice: EnumProperty(
        name="Choice",
        description="One of what the scene file may say here",
        items=_choices,
        update=_set_plain("choice"),
    )
    switch: BoolProperty(
        name="Switch", description="There, or not there", update=_set_plain("switch")
    )
    count: IntProperty(
        name="Count", description="How many there are", min=0, update=_set_plain("count")
    )


# --- the whole ---------------------------------------------------------------------------------


def _named(key: str, entries: str, named: bool) -> Callable[..., list[tuple[Any, ...]]]:
    def items(self: Any, context: bpy.types.Context | None) -> list[tuple[Any, ...]]:
        names = [entry.name for entry in getattr(self, entries)]
        found = [(n if named else str(i), n, "", i) for i, n in enumerate(names)]
        _kept[key] = found or [("", "", "", 0)]
        return _kept[key]

    return items


def _pick_design(session: Any, state: Any) -> None:
    from massing.scene.errors import SceneError

    try:
        session.pick_design(state.id_data, state.design)
    except SceneError:
        session.keep_design(state)
        raise


def _drawn_over(self: Any, context: bpy.types.Context) -> None:
    for window in context.window_manager.windows if context.window_manager else ():
        for area in window.screen.areas:
            if area.type == "VIEW_3D":
                area.tag_redraw()


class MassingName(bpy.types.PropertyGroup):
    """One of a list of names."""

    beside: BoolProperty(
        name="Stands beside",
        description="Stand this design to the right of the one shown, in the same light",
        update=_following(lambda session, entry: session.stand_beside(entry.id_data), "fault"),
    )


class MassingFinding(bpy.types.PropertyGroup):
    """One remark on the design; its name is its text."""

    severity: StringProperty(name="Severity", description="note, check or caution")
    source: StringProperty(name="Source", description="Whose rule it is")


_look_at_hour = _following(lambda session, state: session.look_at_hour(state.id_data), "time_fault")


class MassingState(bpy.types.PropertyGroup):
    """An open scene file, as the panel shows it; the text is the state, the rest its reading."""

    path: StringProperty(name="Scene file", description="The scene file in hand")
    beside: StringProperty(name="Beside", description="The scene file, from the Blender file")
    text: StringProperty(name="Text", description="The scene file's text with the changes made")
    tried: StringProperty(name="Tried", description="The text with a change that is at fault")
    written: StringProperty(name="Written", description="The scene file's text on disk")
    house: StringProperty(name="House", description="What marks this house's objects as its own")
    root: PointerProperty(type=bpy.types.Collection)
    sky: PointerProperty(type=bpy.types.World)
    their_world: PointerProperty(type=bpy.types.World)
    their_light: FloatVectorProperty(name="Light of plain shading, put by")
    shown: StringProperty(name="Shown", description="The design that the fields describe")
    first: CollectionProperty(type=MassingField)
    found: CollectionProperty(type=MassingField)
    designs: CollectionProperty(type=MassingName)
    times: CollectionProperty(type=MassingName)
    views: CollectionProperty(type=MassingName)
    findings: CollectionProperty(type=MassingFinding)
    search: StringProperty(
        name="Find",
        description="Fields by their name, their words or what they may say, such as dormer "
        "pitch, sash or eustyle",
        update=_following(lambda session, state: session.search(state.id_data)),
    )
    design: EnumProperty(
        name="Design",
        description="The design as drawn, or one of its alternatives",
        items=_named("design", "designs", named=True),
        update=_following(_pick_design, "fault"),
    )
    time: EnumProperty(
        name="Time",
        description="One of the scene file's times",
        items=_named("time", "times", named=False),
        update=_following(
            lambda session, state: session.pick_time(state.id_data, state.time_index), "time_fault"
        ),
    )
    time_text: StringProperty(name="Time as written")
    day: StringProperty(
        name="Day",
        description="Such as summer solstice, 14 May or 2026-05-14; or conventional light",
        update=_look_at_hour,
    )
    hour: IntProperty(
        name="Hour",
        description="By the clock of the place, daylight saving included",
        min=0,
        max=23,
        update=_look_at_hour,
    )
    minute: IntProperty(
        name="Minute",
        description="By the clock of the place, daylight saving included",
        min=0,
        max=59,
        step=5,
        update=_look_at_hour,
    )
    look: EnumProperty(
        name="Look",
        description="White model, for form and shadow, or the materials of the house",
        items=[
            ("clay", "Clay", "A white model, for form and shadow"),
            ("materials", "Materials", "The finishes of the scene file"),
            ("drawn", "Drawn", "In this view as clay; elevations of the study in ink and wash"),
        ],
        default="materials",
        update=_following(lambda session, state: session.pick_look(state.id_data), "fault"),
    )
    apart: FloatProperty(
        name="Apart",
        description="Clear between the walls of designs that stand side by side",
        default=6.0,
        min=0.0,
        soft_max=50.0,
        unit="LENGTH",
        update=_following(lambda session, state: session.stand_beside(state.id_data), "fault"),
    )
    sizes_over: BoolProperty(
        name="Sizes",
        description="Draw the porch's first sizes over the view: spacing, heights, diameter, depth",
        update=_drawn_over,
    )
    shadow_over: BoolProperty(
        name="Shadow Depth",
        description="Draw where the cornice's shadow ends at the hour, and how deep it is",
        update=_drawn_over,
    )
    lines_over: BoolProperty(
        name="Lines to Drag",
        description="Arrows on the lines of the porch, or of the house when a part of it is "
        "selected; drag one to change the size that it is",
        default=True,
        update=_drawn_over,
    )
    sun_words: StringProperty(name="Sun")
    sun_note: StringProperty(name="Sun on the front")
    fault: StringProperty(name="At fault")
    unsettled: BoolProperty(name="Coverings wait to be laid")
    time_fault: StringProperty(name="Time at fault", options={"SKIP_SAVE"})
    progress: StringProperty(name="Progress", options={"SKIP_SAVE"})
    outcome: StringProperty(name="Outcome", options={"SKIP_SAVE"})
    outcome_folder: StringProperty(name="Folder of the outcome", options={"SKIP_SAVE"})

    @property
    def time_index(self) -> int:
        """Which of the scene file's times is shown, counted from none."""
        return int(self.time or 0)

    @property
    def is_open(self) -> bool:
        """Whether a scene file is in hand."""
        return bool(self.path)

    @property
    def is_edited(self) -> bool:
        """Whether the text in hand is another than the file's."""
        return bool(self.tried) or self.text != self.written

    @property
    def time_moved(self) -> bool:
        """Whether the light is that of an hour which the file does not have."""
        return self.is_open and self.time_text not in [entry.name for entry in self.times]


@bpy.app.handlers.persistent
def _remember_places(*given: Any) -> None:
    """Before a file is saved: keep where the scene files stand to it."""
    named = [word for word in given if isinstance(word, str) and word]
    blend = named[0] if named else bpy.data.filepath
    if blend:
        for scene in bpy.data.scenes:
            if scene.library is None and scene.massing.is_open:
                _session().settle(scene)
                _session().remember_place(scene, Path(blend))


@bpy.app.handlers.persistent
def _settle_again(*given: Any) -> None:
    """After a step of undo, which is as it was before its coverings were laid."""
    if any(s.massing.unsettled for s in bpy.data.scenes if s.library is None):
        _session().settle_soon()


_CLASSES = (MassingField, MassingName, MassingFinding, MassingState)


def register() -> None:
    """Add the state to every scene."""
    for kind in _CLASSES:
        bpy.utils.register_class(kind)
    bpy.types.Scene.massing = PointerProperty(type=MassingState)
    bpy.app.handlers.save_pre.append(_remember_places)
    bpy.app.handlers.undo_post.append(_settle_again)
    bpy.app.handlers.redo_post.append(_settle_again)


def unregister() -> None:
    """Take the state's definition away; its data stays in the file for the next time."""
    bpy.app.handlers.redo_post.remove(_settle_again)
    bpy.app.handlers.undo_post.remove(_settle_again)
    bpy.app.handlers.save_pre.remove(_remember_places)
    loaded = sys.modules.get(f"{__package__}.session")
    if loaded is not None and bpy.app.timers.is_registered(loaded._settle_all):
        bpy.app.timers.unregister(loaded._settle_all)
    del bpy.types.Scene.massing
    for kind in reversed(_CLASSES):
        bpy.utils.unregister_class(kind)
    _kept.clear()
