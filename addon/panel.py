"""The panel in the 3D view's sidebar. It draws what the state holds and works nothing out."""

import textwrap

import bpy

from . import fields

_CLOSED = {"DEFAULT_CLOSED"}
_CLOSE = 0.75  # running text, closer than fields
_ICONS = {"caution": "ERROR", "check": "QUESTION", "note": "INFO"}


class _Panel:
    bl_space_type = "VIEW_3D"
    bl_region_type = "UI"
    bl_category = "Massing"


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
        """The file, what is at fault, and which design is shown."""
        state = context.scene.massing
        column = self.layout.column()
        column.operator("massing.open", icon="FILE_FOLDER")
        for fault in (state.fault, state.time_fault):
            if fault:
                box = column.box().column(align=True)
                box.alert = True
                _words(box, context, fault, "CANCEL")
        if not state.is_open:
            return
        changed = " *" if state.text != state.written else ""
        column.label(text=bpy.path.basename(state.path) + changed)
        column.prop(state, "design", text="")
        row = column.row(align=True)
        row.operator("massing.refresh", icon="FILE_REFRESH")
        row.operator("massing.write", text="Write", icon="FILE_TICK")


class MASSING_PT_porch(_Section, bpy.types.Panel):
    """The porch's order and main dimensions"""

    bl_label = "Porch"

    def draw(self, context):
        """The porch's fields."""
        state = context.scene.massing
        column = _column(self.layout)
        for field in fields.PORCH:
            if field.key != "balustrade_height" or state.balustrade:
                _field(column, state, field)


class MASSING_PT_house(_Section, bpy.types.Panel):
    """The house behind the porch"""

    bl_label = "House and Roof"
    bl_options = _CLOSED

    def draw(self, context):
        """The house's fields."""
        column = _column(self.layout)
        for field in fields.HOUSE:
            _field(column, context.scene.massing, field)


class MASSING_PT_sun(_Section, bpy.types.Panel):
    """The site, the day and the hour"""

    bl_label = "Site and Sun"

    def draw(self, context):
        """The hour first, then the place."""
        state = context.scene.massing
        column = _column(self.layout)
        column.prop(state, "time")
        column.prop(state, "day")
        column.prop(state, "hour", slider=True)
        lines = self.layout.column(align=True)
        for line in (state.sun_words, state.sun_note):
            if line:
                _words(lines, context, line)
        column = _column(self.layout)
        for field in fields.SITE:
            _field(column, state, field)


class MASSING_PT_pictures(_Section, bpy.types.Panel):
    """Cameras and pictures"""

    bl_label = "Pictures"
    bl_options = _CLOSED

    def draw(self, context):
        """Look, cameras, one view, the whole study."""
        state = context.scene.massing
        column = _column(self.layout)
        column.prop(state, "look")
        column = self.layout.column()
        column.operator("massing.place_cameras", icon="CAMERA_DATA")
        column.operator_menu_enum("massing.render_view", "view", icon="RENDER_STILL")
        column.operator_menu_enum("massing.render_study", "quality", icon="RENDERLAYERS")
        if state.progress:
            column.label(text=state.progress, icon="SORTTIME")


class MASSING_PT_proportions(_Section, bpy.types.Panel):
    """What the canons and the codes say of the design"""

    bl_label = "Proportions"

    def draw(self, context):
        """Every finding in full, with its source."""
        state = context.scene.massing
        if not state.findings:
            self.layout.label(text="Nothing to remark")
        for finding in state.findings:
            box = self.layout.box().column(align=True)
            _words(box, context, finding.name, _ICONS.get(finding.severity, "DOT"))
            source = box.column(align=True)
            source.active = False
            _words(source, context, finding.source)


def _column(layout):
    layout.use_property_split = True
    layout.use_property_decorate = False
    return layout.column(align=False)


def _field(column, state, field):
    if field.kind != "length":
        column.prop(state, field.key)
        return
    pair = column.column(align=True)
    pair.prop(state, f"{field.key}_by", text=field.label)
    length = pair.row()
    length.enabled = getattr(state, f"{field.key}_by") == fields.MEASURED
    length.prop(state, field.key, text=" ")


def _words(column, context, text, icon="NONE"):
    """Text over as many lines as the panel's width asks for."""
    scale = context.preferences.system.ui_scale
    wide = max(int(context.region.width / (7.0 * scale)) - (4 if icon == "NONE" else 8), 16)
    column.scale_y = _CLOSE
    for line in textwrap.wrap(text, wide):
        column.label(text=line, icon=icon)
        icon = "BLANK1" if icon != "NONE" else "NONE"


_CLASSES = (
    MASSING_PT_file,
    MASSING_PT_porch,
    MASSING_PT_house,
    MASSING_PT_sun,
    MASSING_PT_pictures,
    MASSING_PT_proportions,
)

register, unregister = bpy.utils.register_classes_factory(_CLASSES)
