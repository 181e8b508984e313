"""What the user prefers, kept with Blender's preferences; and the help that comes along."""

from pathlib import Path

import bpy
from bpy.props import EnumProperty

from .reporting import INSIDE

HELP = Path(__file__).with_name("README.md")


class MassingPreferences(bpy.types.AddonPreferences):
    """How new houses begin; a scene file's own units and fraction hold for that file"""

    bl_idname = __package__

    units: EnumProperty(
        name="New houses in",
        description="The units that New House proposes; a scene file keeps its own",
        items=[
            ("feet", "Feet", "Feet, inches and sixteenths"),
            ("metric", "Metric", "Metres and millimetres"),
        ],
    )

    def draw(self, context):
        """The units, and the way to the help."""
        self.layout.prop(self, "units")
        self.layout.operator("massing.help", icon="HELP")


def preferred_units(context):
    """The units for new houses; feet where the extension is not switched on as one."""
    found = context.preferences.addons.get(__package__)
    return found.preferences.units if found and found.preferences else "feet"


class MASSING_OT_help(bpy.types.Operator):
    """Open the page of help that comes with the extension"""

    bl_idname = "massing.help"
    bl_label = "Help"
    bl_options = INSIDE

    def execute(self, context):
        """Open it as the system does."""
        bpy.ops.wm.path_open(filepath=str(HELP))
        return {"FINISHED"}


register, unregister = bpy.utils.register_classes_factory((MassingPreferences, MASSING_OT_help))
