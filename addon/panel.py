"""The panel in the 3D view's sidebar. It draws what the state holds and works nothing out."""

import blf
import bpy

from .reporting import session

_MOST_BESIDE = 3
# At a scale of 1, in pixels: what a sidebar's tabs and a panel's margins take of its width, what
# stands about words, a button with a picture alone, and the size of words.
_MARGINS, _PAD, _UNIT, _POINTS = 44.0, 14.0, 20.0, 11.0
_NAME = 0.36  # of a row's width: the name of its field
_CLOSED = {"DEFAULT_CLOSED"}
_CLOSE = 0.75  # running text, closer than fields
_ICONS = {"caution": "ERROR", "check": "QUESTION", "note": "INFO"}
_WEIGHTS = (("caution", "Cautions"), ("check", "To check"), ("note", "Notes"))
_SOURCES = {"given": "LOOP_BACK", "as drawn": "LINKED", "rule": "DOT"}


class _Panel:
    bl_space_type = "VIEW_3D"
    bl_region_type = "UI"
    bl_category = "House and Porch"


class _Section(_Panel):
    """A section that needs a scene file in hand."""

    bl_parent_id = "MASSING_PT_file"

    @classmethod
    def poll(cls, context):
        """Whether a scene file is in hand."""
        return context.scene.massing.is_open


class MASSING_PT_file(_Panel, bpy.types.Panel):
    """The scene file and its designs"""

    bl_idname = "MASSING_PT_file"
    bl_label = "House and Porch"

    def draw(self, context):
        """The file, and which design is shown."""
        state = context.scene.massing
        column = self.layout.column()
        if not state.is_open:
            column.operator("massing.open", icon="FILE_FOLDER")
            column.operator("massing.new_house", icon="HOME")
            column.operator_menu_enum("massing.open_bundled", "name", text="Bundled Scenes")
            column.operator("massing.help", icon="HELP")
            return
        row = column.row(align=True)
        called = bpy.path.basename(state.path) + (" *" if state.is_edited else "")
        fits = _width(called) + _PAD + _UNIT < _room(context) - 4.0 * _UNIT
        name = row.row()
        # A fault is told in full under the fields, which so stay where they are.
        name.alert = bool(state.fault)
        name.label(text=called, icon="CANCEL" if state.fault else "NONE")
        if not fits:
            row = column.row(align=True)
        row.operator("massing.open", text="", icon="FILE_FOLDER")
        row.operator("massing.refresh", text="", icon="FILE_REFRESH")
        row.operator("massing.write", text="", icon="FILE_TICK")
        row.operator("massing.close", text="", icon="X")
        if session().changed_on_disk(state):
            row = column.row(align=True)
            row.alert = True
            row.label(text="Changed on disk", icon="ERROR")
            row.operator("massing.refresh", text="Take It Up")
        column.prop(state, "design", text="")
        if _width(state.shown) + _PAD + _UNIT > _room(context):
            _words(column.column(align=True), context, state.shown)
        row = column.row(align=True)
        row.operator("massing.rename_design", text="", icon="GREASEPENCIL")
        row.operator("massing.add_alternative", text="", icon="ADD")
        drawn = not state.designs or state.shown == state.designs[0].name
        row = row.row(align=True)
        row.enabled = not drawn
        row.operator("massing.delete_alternative", text="", icon="REMOVE")
        row.operator("massing.move_alternative", text="", icon="TRIA_UP").steps = -1
        row.operator("massing.move_alternative", text="", icon="TRIA_DOWN").steps = 1


class MASSING_PT_first(_Section, bpy.types.Panel):
    """What a designer asks of a porch and its house first"""

    bl_label = "Porch and House"

    def draw(self, context):
        """The first fields, and under them what is at fault."""
        state = context.scene.massing
        column = self.layout.column()
        _rows(column, context, [row for row in state.first if row.group != "Site"])
        _fault(column, context, state.fault)


class MASSING_PT_over(_Section, bpy.types.Panel):
    """What is drawn over the view, and designs side by side"""

    bl_label = "In the View"

    def draw(self, context):
        """Lines, sizes, shadow; which designs stand beside the one shown."""
        state = context.scene.massing
        column = self.layout.column()
        column.operator("massing.face", icon="HOME")
        column.prop(state, "lines_over")
        row = column.row()
        row.prop(state, "sizes_over")
        row.prop(state, "shadow_over")
        others = [entry for entry in state.designs if entry.name != state.shown]
        if others:
            column.separator(factor=0.5)
            column.label(text="Side by side with it")
            full = sum(entry.beside for entry in others) >= _MOST_BESIDE
            for entry in others:
                row = column.row()
                row.enabled = entry.beside or not full
                fits = _width(entry.name) + _PAD + _UNIT < _room(context)
                row.prop(entry, "beside", text=entry.name if fits else "")
                if not fits:
                    _words(row.column(align=True), context, entry.name, less=_UNIT)
            column.prop(state, "apart")


class MASSING_PT_find(_Section, bpy.types.Panel):
    """Every other field of the scene file, by a word"""

    bl_label = "Find a Field"

    def draw(self, context):
        """The box, and what it finds."""
        state = context.scene.massing
        column = self.layout.column()
        column.prop(state, "search", text="", icon="VIEWZOOM")
        if state.search.strip() and not state.found:
            column.label(text="Nothing of that name")
        _rows(column, context, state.found)


class MASSING_PT_sun(_Section, bpy.types.Panel):
    """The site, the day and the hour"""

    bl_label = "Site and Sun"

    def draw(self, context):
        """The hour first, then the place."""
        state = context.scene.massing
        column = self.layout.column()
        column.prop(state, "time", text="")
        row = column.row(align=True)
        row.prop(state, "day", text="")
        row = column.row(align=True)
        row.operator("massing.step_hour", text="", icon="TRIA_LEFT").minutes = -15
        row.prop(state, "hour", text="Hour")
        row.prop(state, "minute", text="Minute")
        row.operator("massing.step_hour", text="", icon="TRIA_RIGHT").minutes = 15
        row = column.row(align=True)
        row.enabled = state.time_moved
        row.operator("massing.keep_time", text="Keep in Its Place").added = False
        row.operator("massing.keep_time", text="Add This Hour").added = True
        row = column.row(align=True)
        row.operator("massing.shade", text="Shadow").way = "shadow"
        row.operator("massing.shade", text="Daylight").way = "daylight"
        lines = column.column(align=True)
        for line in (state.sun_words, state.sun_note):
            if line:
                _words(lines, context, line)
        _fault(column, context, state.time_fault)
        _rows(column, context, [row for row in state.first if row.group == "Site"])


class MASSING_PT_pictures(_Section, bpy.types.Panel):
    """Cameras and pictures"""

    bl_label = "Pictures and Papers"
    bl_options = _CLOSED

    def draw(self, context):
        """Look, cameras, one view, the whole study."""
        state = context.scene.massing
        column = self.layout.column()
        column.prop(state, "look", text="Look")
        column.operator("massing.place_cameras", icon="CAMERA_DATA")
        column.operator("massing.keep_view", icon="ADD")
        column.operator_menu_enum("massing.render_view", "view", icon="RENDER_STILL")
        column.operator_menu_enum("massing.render_study", "quality", icon="RENDERLAYERS")
        column.operator_menu_enum("massing.make_paper", "kind", icon="DOCUMENTS")
        column.operator("massing.export", icon="EXPORT")
        column.operator("massing.mark_assets", icon="ASSET_MANAGER")
        if state.progress:
            _words(column.column(align=True), context, state.progress, "SORTTIME")
            column.operator("massing.stop_study", icon="CANCEL")
        elif state.outcome:
            _words(column.column(align=True), context, state.outcome)
            column.operator("massing.show_folder", icon="FILE_FOLDER")


class MASSING_PT_proportions(_Section, bpy.types.Panel):
    """What the canons and the codes say of the design"""

    bl_label = "Proportions"
    bl_options = _CLOSED

    def draw(self, context):
        """Every finding in full, with its source, the weightiest first."""
        state = context.scene.massing
        if not state.findings:
            self.layout.label(text="Nothing to remark")
        for weight, heading in _WEIGHTS:
            found = [finding for finding in state.findings if finding.severity == weight]
            if found:
                self.layout.label(text=f"{heading}: {len(found)}", icon=_ICONS[weight])
            for finding in found:
                box = self.layout.box().column(align=True)
                _words(box, context, finding.name)
                source = box.column(align=True)
                source.active = False
                _words(source, context, finding.source)


def _rows(column, context, rows):
    group = None
    for row in rows:
        if row.group != group:
            group = row.group
            column.separator(factor=0.5)
            _words(column.column(align=True), context, group)
        _row(column, context, row)


def _row(column, context, field):
    """One field: its name, its value as it is written, and where that is from.

    Where name or value want more than their share of the width, the name has a line of its own.
    """
    room, nudged = _room(context), field.kind == "length"
    buttons = _UNIT * (3.0 if nudged else 1.0)
    shown = field.choice if field.plain == "choice" else field.text
    wants = _width(shown) + _PAD + (_UNIT if field.plain in ("choice", "word") else 0.0)
    if _width(field.name) + _PAD < _NAME * room and wants + buttons < (1.0 - _NAME) * room:
        split = column.split(factor=_NAME, align=True)
        split.enabled, split.alert = field.applies or field.source != "rule", field.at_fault
        split.row().label(text=field.name)
        right = split.row(align=True)
    else:
        above = column.column(align=True)
        above.enabled, above.alert = field.applies or field.source != "rule", field.at_fault
        _words(above.column(align=True), context, field.name)
        right = above.row(align=True)
    value = right.row(align=True)
    value.active = field.source != "rule"
    value.prop(field, field.plain or "text", text="", toggle=False)
    if nudged:
        for steps, icon in ((-1, "REMOVE"), (1, "ADD")):
            nudge = right.operator("massing.nudge_field", text="", icon=icon)
            nudge.field, nudge.steps = field.path, steps
    back = right.operator(
        "massing.unset_field", text="", icon=_SOURCES.get(field.source, "DOT"), emboss=False
    )
    back.field = field.path
    if wants + buttons > room and field.plain not in ("switch", "count"):
        _words(column.column(align=True), context, shown)


def _fault(column, context, fault):
    if fault:
        box = column.box().column(align=True)
        box.alert = True
        _words(box, context, fault, "CANCEL")


def _room(context):
    """Pixels of a panel's width at a scale of 1."""
    return context.region.width / context.preferences.system.ui_scale - _MARGINS


def _width(text):
    """Pixels that a text takes at a scale of 1."""
    blf.size(0, _POINTS)
    return blf.dimensions(0, text)[0]


def _words(column, context, text, icon="NONE", less=0.0):
    """Text over as many lines as the panel's width asks for."""
    room = _room(context) - 2.0 * _PAD - less - (_UNIT if icon != "NONE" else 0.0)
    column.scale_y = _CLOSE
    line, lines = "", []
    for word in (piece for each in text.split() for piece in _pieces(each, room)):
        longer = f"{line} {word}".strip()
        if line and _width(longer) > room:
            lines.append(line)
            longer = word
        line = longer
    for each in (*lines, line):
        column.label(text=each, icon=icon)
        icon = "BLANK1" if icon != "NONE" else "NONE"


def _pieces(word, room):
    """A word, or where it is wider than a line, such as a field's whole path, pieces of it."""
    while _width(word) > room and len(word) > 1:
        most = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or _width(word[:n]) <= room)
        most = max(word.rfind(mark, 1, most) + 1 for mark in "./") or most
        yield word[:most]
        word = word[most:]
    yield word


_CLASSES = (
    MASSING_PT_file,
    MASSING_PT_first,
    MASSING_PT_find,
    MASSING_PT_over,
    MASSING_PT_sun,
    MASSING_PT_pictures,
    MASSING_PT_proportions,
)

register, unregister = bpy.utils.register_classes_factory(_CLASSES)
