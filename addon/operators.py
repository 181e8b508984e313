"""The panel's buttons. Each does one thing, says in one line what is wrong, and can be undone."""

import contextlib
from math import radians
from pathlib import Path

import bpy
from bpy.props import BoolProperty, EnumProperty, StringProperty
from mathutils import Euler

from massing.render.driver.shots import QUALITIES
from massing.scene.errors import SceneError

from . import session
from .state import say

_PLAIN, _UNDOABLE = {"REGISTER"}, {"REGISTER", "UNDO"}
_ENDINGS = "*.yaml;*.yml"
_QUALITY = {
    "name": "Quality",
    "description": "Draft for looking, final for keeping",
    "items": [(word, word.capitalize(), "") for word in QUALITIES],
}


_kept_views = []  # Blender reads dynamic choices after we return


def _views(self, context):
    names = [view.name for view in context.scene.massing.views] if context else []
    _kept_views[:] = [(name, name.capitalize(), "") for name in names] or [("", "", "")]
    return _kept_views


class _Open:
    """Operators that need a scene file in hand."""

    @classmethod
    def poll(cls, context):
        """Whether a scene file is in hand."""
        if context.scene is None or not context.scene.massing.is_open:
            cls.poll_message_set("Open a scene file first")
            return False
        return True


class _Reporting:
    """Operators whose faults come out as one line, with nothing changed."""

    def execute(self, context):
        """Do it, or report why not."""
        state = context.scene.massing
        try:
            line = self.act(context)
        except SceneError as fault:
            self.report({"ERROR"}, str(fault))
            return {"CANCELLED"}
        except OSError as fault:
            self.report({"ERROR"}, " ".join(str(fault).split()))
            return {"CANCELLED"}
        state.fault = state.time_fault = ""
        say(context, state)
        if line:
            self.report({"INFO"}, line)
        return {"FINISHED"}


class MASSING_OT_open(_Reporting, bpy.types.Operator):
    """Open a scene file and build its design as drawn"""

    bl_idname = "massing.open"
    bl_label = "Open Scene File"
    bl_options = _UNDOABLE

    filepath: StringProperty(name="Scene file", subtype="FILE_PATH")
    filter_glob: StringProperty(default=_ENDINGS, options={"HIDDEN"})

    def invoke(self, context, event):
        """Ask for the file."""
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def act(self, context):
        """Open it and turn the views to it."""
        path = Path(bpy.path.abspath(self.filepath))
        session.open_file(context.scene, path)
        _face(context)
        return f"{path.name}: {', '.join(d.name for d in context.scene.massing.designs)}"


class MASSING_OT_refresh(_Open, _Reporting, bpy.types.Operator):
    """Read the scene file again if it changed, and rebuild what is missing or out of date"""

    bl_idname = "massing.refresh"
    bl_label = "Refresh"
    bl_options = _UNDOABLE

    def act(self, context):
        """Refresh."""
        count = len(session.refresh(context.scene))
        return f"{count} parts rebuilt" if count else "Everything is up to date"


class MASSING_OT_write(_Open, _Reporting, bpy.types.Operator):
    """Write what the panel shows as a scene file; comments and all that did not change stay"""

    bl_idname = "massing.write"
    bl_label = "Write Scene File"
    bl_options = _PLAIN

    filepath: StringProperty(name="Scene file", subtype="FILE_PATH")
    filter_glob: StringProperty(default=_ENDINGS, options={"HIDDEN"})
    check_existing: BoolProperty(default=True, options={"HIDDEN"})

    def invoke(self, context, event):
        """Ask for the file, by default the one in hand."""
        self.filepath = context.scene.massing.path
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def act(self, context):
        """Write it."""
        given = self.filepath or context.scene.massing.path
        path = Path(bpy.path.abspath(given))
        session.write_file(context.scene, path)
        return f"Written: {path}"


class MASSING_OT_place_cameras(_Open, _Reporting, bpy.types.Operator):
    """Place a camera for each view of the scene file, framed for all its designs alike"""

    bl_idname = "massing.place_cameras"
    bl_label = "Place Cameras"
    bl_options = _UNDOABLE

    quality: EnumProperty(**_QUALITY)

    def act(self, context):
        """Place them."""
        from . import pictures

        placed = pictures.place_cameras(context.scene, self.quality)
        return f"Cameras: {', '.join(o.name for o in placed)}"


class MASSING_OT_render_view(_Open, _Reporting, bpy.types.Operator):
    """Render one view of the design as shown, in the light of the hour, beside the scene file"""

    bl_idname = "massing.render_view"
    bl_label = "Render View"
    bl_options = _PLAIN

    view: EnumProperty(name="View", description="Which of the scene file's views", items=_views)
    quality: EnumProperty(**_QUALITY)

    def act(self, context):
        """Render it; with a window, in Blender's own render view."""
        from . import pictures

        path = pictures.ready(context.scene, self.view, self.quality)
        path.parent.mkdir(parents=True, exist_ok=True)
        how = "EXEC_DEFAULT" if bpy.app.background else "INVOKE_DEFAULT"
        bpy.ops.render.render(how, write_still=True)
        return f"Picture: {path}"


class MASSING_OT_render_study(_Open, bpy.types.Operator):
    """Render every design, time, view and look of the scene file, with sheets and figures"""

    bl_idname = "massing.render_study"
    bl_label = "Render Study"
    bl_options = _PLAIN

    quality: EnumProperty(**_QUALITY)

    def invoke(self, context, event):
        """Work in the background, telling how far it is; Esc ends after the picture in hand."""
        if not self._begin(context):
            return {"CANCELLED"}
        self._timer = context.window_manager.event_timer_add(0.5, window=context.window)
        context.window_manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context, event):
        """Look how far it is."""
        state = context.scene.massing
        if event.type == "ESC" and self._run.running:
            self._run.stop()
            return {"RUNNING_MODAL"}
        if event.type != "TIMER":
            return {"PASS_THROUGH"}
        if self._run.running:
            state.progress = self._run.words
            for area in context.screen.areas:
                if area.type == "VIEW_3D":
                    area.tag_redraw()
            return {"PASS_THROUGH"}
        context.window_manager.event_timer_remove(self._timer)
        return self._end(context)

    def execute(self, context):
        """Render and wait until all is done."""
        if not self._begin(context):
            return {"CANCELLED"}
        self._run.wait()
        return self._end(context)

    def _begin(self, context):
        from . import pictures

        try:
            self._run = pictures.StudyRun(context.scene, self.quality)
        except SceneError as fault:
            self.report({"ERROR"}, str(fault))
            return False
        self._run.start()
        return True

    def _end(self, context):
        context.scene.massing.progress = ""
        run = self._run
        if run.outcome is None:
            self.report({"ERROR"}, run.fault)
            return {"CANCELLED"}
        failed = [f"{path}: {error}" for path, error in run.outcome.failed.items()]
        for line in failed:
            self.report({"ERROR"}, line)
        made, kept = len(run.outcome.made), len(run.outcome.kept)
        self.report({"INFO"}, f"{made} files made, {kept} pictures kept as they were: {run.folder}")
        return {"CANCELLED"} if failed else {"FINISHED"}


def _face(context):
    """Turn the 3D views to the house, seen from the street."""
    low, high = session.bounds(context.scene)
    for area in getattr(context.screen, "areas", ()):
        if area.type == "VIEW_3D":
            view = area.spaces.active.region_3d
            with contextlib.suppress(AttributeError):
                view.view_perspective = "PERSP"
                view.view_rotation = Euler((radians(82.0), 0.0, radians(30.0))).to_quaternion()
                view.view_location = (low + high) / 2.0
                view.view_distance = 1.3 * float((high - low)[:2].max())


_CLASSES = (
    MASSING_OT_open,
    MASSING_OT_refresh,
    MASSING_OT_write,
    MASSING_OT_place_cameras,
    MASSING_OT_render_view,
    MASSING_OT_render_study,
)

register, unregister = bpy.utils.register_classes_factory(_CLASSES)
