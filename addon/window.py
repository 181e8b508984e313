"""The 3D views: turned to the house, shaded so that the hour shows, and where an eye stands."""

import contextlib
from math import radians

import bpy
from bpy.props import EnumProperty, StringProperty
from mathutils import Euler, Vector

from .reporting import INSIDE, UNDOABLE, Open, Reporting, session


def _spaces(context):
    for area in getattr(context.screen, "areas", ()):
        if area.type == "VIEW_3D":
            yield area.spaces.active


def face(context):
    """Turn the 3D views to the house, seen from the street."""
    low, high = session().bounds(context.scene)
    for space in _spaces(context):
        view = space.region_3d
        with contextlib.suppress(AttributeError):
            view.view_perspective = "PERSP"
            view.view_rotation = Euler((radians(82.0), 0.0, radians(30.0))).to_quaternion()
            view.view_location = (low + high) / 2.0
            view.view_distance = 1.5 * float((high - low)[:2].max())
            space.clip_end = max(space.clip_end, 1000.0)


_shaded = {}  # how each view was shaded before
_SHADED = ("type", "show_shadows", "shadow_intensity", "use_scene_lights", "use_scene_world")


def shade(context, back=False, daylight=False):
    """Shadows of the hour at once, or daylight with its sky, which takes a graphics card."""
    for space in _spaces(context):
        shading, key = space.shading, space.as_pointer()
        if back:
            for name, value in _shaded.pop(key, {}).items():
                setattr(shading, name, value)
            continue
        _shaded.setdefault(key, {name: getattr(shading, name) for name in _SHADED})
        if daylight:
            shading.type = "MATERIAL"
            shading.use_scene_lights = shading.use_scene_world = True
        else:
            shading.type = "SOLID"
            shading.show_shadows, shading.shadow_intensity = True, 0.6


class MASSING_OT_face(Open, bpy.types.Operator):
    """Turn the 3D views to the house again, seen from the street"""

    bl_idname = "massing.face"
    bl_label = "Face the House"
    bl_options = INSIDE

    def execute(self, context):
        """Turn them."""
        face(context)
        return {"FINISHED"}


class MASSING_OT_shade(Open, bpy.types.Operator):
    """Shade the 3D views so that the hour shows"""

    bl_idname = "massing.shade"
    bl_label = "Shade Views"
    bl_options = INSIDE

    way: EnumProperty(
        name="Way",
        items=[
            ("shadow", "Shadow", "Plain shading with the shadows of the hour, at once"),
            ("daylight", "Daylight", "Sun, sky and finishes; wants a graphics card"),
        ],
    )

    def execute(self, context):
        """Shade them."""
        shade(context, daylight=self.way == "daylight")
        return {"FINISHED"}


class MASSING_OT_keep_view(Open, Reporting, bpy.types.Operator):
    """Add where this 3D view stands to the scene file, as a camera of its own, level"""

    bl_idname = "massing.keep_view"
    bl_label = "Add This View"
    bl_options = UNDOABLE

    name: StringProperty(name="Name", description="What the view is called", default="My view")

    @classmethod
    def poll(cls, context):
        """Whether there is a view in perspective."""
        return super().poll(context) and getattr(context, "region_data", None) is not None

    def invoke(self, context, event):
        """Ask for the name."""
        return context.window_manager.invoke_props_dialog(self)

    def act(self, context):
        """Add it."""
        view, space = context.region_data, context.space_data
        if view.view_perspective == "CAMERA" and context.scene.camera is not None:
            placed = context.scene.camera
            eye, turn, lens = (
                placed.matrix_world.translation,
                placed.matrix_world.to_quaternion(),
                0,
            )
            lens = placed.data.lens if placed.type == "CAMERA" else 35.0
        else:
            eye, turn = view.view_matrix.inverted().translation, view.view_rotation
            lens = space.lens / 2.0  # the window's own lens is for a film twice as wide
        look = turn @ Vector((0.0, 0.0, -1.0))
        session().keep_view(context.scene, self.name.strip(), tuple(eye), tuple(look), lens)
        return f"Camera added: {self.name.strip()}"


_CLASSES = (MASSING_OT_face, MASSING_OT_shade, MASSING_OT_keep_view)


def register():
    """Add the operators."""
    for kind in _CLASSES:
        bpy.utils.register_class(kind)


def unregister():
    """Take them away, and forget how views were shaded."""
    for kind in reversed(_CLASSES):
        bpy.utils.unregister_class(kind)
    _shaded.clear()
