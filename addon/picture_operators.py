"""The panel's buttons for cameras, pictures, papers, exports and assets."""

import importlib.util
from pathlib import Path

import bpy
from bpy.props import BoolProperty, EnumProperty, StringProperty

from massing.scene.errors import SceneError

from .reporting import INSIDE, PLAIN, UNDOABLE, Open, Reporting, redraw, session

_QUALITY = {
    "name": "Quality",
    "description": "Draft for looking, final for keeping",
    "items": [
        ("draft", "Draft", "Good enough to judge form and shadow"),
        ("final", "Final", "Larger and finer, in a folder of their own"),
    ],
}
# What a study's sheets and figures need besides what the window needs, and what papers need.
FOR_STUDY = ("PIL", "embreex", "matplotlib", "rich")
FOR_PAPERS = (*FOR_STUDY, "typst", "ezdxf", "reportlab", "shapely", "openpyxl")

_kept_views = []  # Blender reads dynamic choices after we return


def _views(self, context):
    names = [view.name for view in context.scene.massing.views] if context else []
    _kept_views[:] = [(name, name.capitalize(), "") for name in names] or [("", "", "")]
    return _kept_views


# --- pictures ----------------------------------------------------------------------------------

_run = None  # the study that is being rendered, one at a time


def _carries(cls, needed):
    lacking = [name for name in needed if importlib.util.find_spec(name) is None]
    if lacking:
        cls.poll_message_set(f"Not in this package of the extension: {', '.join(lacking)}")
    return not lacking


class MASSING_OT_place_cameras(Open, Reporting, bpy.types.Operator):
    """Place a camera for each view of the scene file, framed for all its designs alike"""

    bl_idname = "massing.place_cameras"
    bl_label = "Place Cameras"
    bl_options = UNDOABLE

    quality: EnumProperty(**_QUALITY)

    def act(self, context):
        """Place them."""
        from . import pictures

        placed = pictures.place_cameras(context.scene, self.quality)
        return f"Cameras: {', '.join(o.name for o in placed)}"


class MASSING_OT_render_view(Open, Reporting, bpy.types.Operator):
    """Render one view of the design as shown, in the light of the hour, beside the scene file"""

    bl_idname = "massing.render_view"
    bl_label = "Render View"
    bl_options = PLAIN

    view: EnumProperty(name="View", description="Which of the scene file's views", items=_views)
    quality: EnumProperty(**_QUALITY)

    def act(self, context):
        """Render it; with a window, in Blender's own render view."""
        from . import pictures

        scene = context.scene
        own, path = pictures.ready(scene, self.view, self.quality)
        state = scene.massing

        def done(fault):
            state.outcome = fault or f"Picture: {path.name}"
            state.outcome_folder = str(path.parent)

        pictures.take(own, path, done)
        return f"Picture: {path}"


class _InBackground(Open):
    """What is made by processes of its own, one at a time, with a button that stops it."""

    def invoke(self, context, event):
        """Work in the background, telling how far it is."""
        if not self._begin(context):
            return {"CANCELLED"}
        self._timer = context.window_manager.event_timer_add(0.5, window=context.window)
        context.window_manager.modal_handler_add(self)
        return {"RUNNING_MODAL"}

    def modal(self, context, event):
        """Look how far it is."""
        if event.type != "TIMER":
            return {"PASS_THROUGH"}
        if _run is not None and _run.running:
            context.scene.massing.progress = _run.words
            redraw(context)
            return {"PASS_THROUGH"}
        context.window_manager.event_timer_remove(self._timer)
        return self._end(context)

    def execute(self, context):
        """Make it and wait until all is done."""
        if not self._begin(context):
            return {"CANCELLED"}
        _run.wait()
        return self._end(context)

    def _begin(self, context):
        global _run
        if _run is not None and _run.running:
            self.report({"ERROR"}, "Something is being made; stop it, or wait for it")
            return False
        try:
            _run = self.work(context)
        except SceneError as fault:
            self.report({"ERROR"}, str(fault))
            return False
        context.scene.massing.outcome = ""
        _run.start()
        return True

    def _end(self, context):
        global _run
        run, _run = _run, None
        if run is None:
            return {"CANCELLED"}
        state = context.scene.massing
        state.progress = ""
        state.outcome_folder = str(run.folder)
        lines, state.outcome = run.told()
        for line in lines:
            self.report({"ERROR"}, line)
        if not lines:
            self.report({"INFO"}, f"{state.outcome}: {run.folder}")
        redraw(context)
        return {"CANCELLED"} if lines else {"FINISHED"}


def _idle(cls):
    if _run is not None and _run.running:
        cls.poll_message_set("Something is being made; stop it, or wait for it")
        return False
    return True


class MASSING_OT_render_study(_InBackground, bpy.types.Operator):
    """Render every design, time, view and look of the scene file, with sheets and figures"""

    bl_idname = "massing.render_study"
    bl_label = "Render Study"
    bl_options = PLAIN

    quality: EnumProperty(**_QUALITY)

    @classmethod
    def poll(cls, context):
        """Whether a scene file is in hand and no study is being rendered."""
        return super().poll(context) and _idle(cls) and _carries(cls, FOR_STUDY)

    def work(self, context):
        """The study."""
        from . import pictures

        return pictures.StudyRun(context.scene, self.quality)


class MASSING_OT_make_paper(_InBackground, bpy.types.Operator):
    """Make a paper of the scene file as it is in hand, beside it in renders/"""

    bl_idname = "massing.make_paper"
    bl_label = "Make Paper"
    bl_options = PLAIN

    kind: EnumProperty(
        name="Paper",
        items=[
            ("board", "Board for the Client", "The alternatives laid out, as a PDF to print"),
            ("page", "Page for the Client", "One file for a browser, with the model to turn"),
            ("drawings", "Drawings for the Builder", "Of the design shown, to scale, PDF and DXF"),
            ("sizes", "Sizes for the Builder", "A table of every size, design beside design"),
        ],
    )

    @classmethod
    def poll(cls, context):
        """Whether a scene file is in hand and nothing is being made."""
        return super().poll(context) and _idle(cls) and _carries(cls, FOR_PAPERS)

    def work(self, context):
        """The command that makes it."""
        from .papers import PaperRun

        return PaperRun(context.scene, self.kind)


class MASSING_OT_export(Open, Reporting, bpy.types.Operator):
    """Write the design shown for another program, its copies as instances under their names"""

    bl_idname = "massing.export"
    bl_label = "Export Design"
    bl_options = PLAIN

    filepath: StringProperty(name="File", subtype="FILE_PATH")
    filter_glob: StringProperty(default="*.glb;*.obj", options={"HIDDEN"})
    check_existing: BoolProperty(default=True, options={"HIDDEN"})
    setting: BoolProperty(name="With its setting", description="Ground, figure, trees, neighbours")

    def invoke(self, context, event):
        """Ask for the file."""
        from massing.files import slug

        state = context.scene.massing
        self.filepath = str(session().scene_path(state).with_name(f"{slug(state.shown)}.glb"))
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def act(self, context):
        """Write it."""
        from massing.present.models import FORMATS, building, write_model

        path = Path(bpy.path.abspath(self.filepath))
        kind = path.suffix.lower()[1:]
        if kind not in ("glb", "obj"):
            raise SceneError(path, None, f"given .{kind}, allowed: a name in .glb or .obj")
        model = session().shown_model(context.scene.massing)
        written = write_model(model if self.setting else building(model), path)
        return f"Written: {', '.join(str(each) for each in written)}; {FORMATS[kind]}"


class MASSING_OT_mark_assets(Open, Reporting, bpy.types.Operator):
    """Mark columns, balusters, windows, doors and shutters of the design shown as assets"""

    bl_idname = "massing.mark_assets"
    bl_label = "Mark as Assets"
    bl_options = UNDOABLE

    def act(self, context):
        """Mark them."""
        from . import assets

        made = assets.mark(context.scene)
        return f"Assets: {', '.join(each.name for each in made)}"


class MASSING_OT_stop_study(bpy.types.Operator):
    """End what is being made after the piece in hand; what is finished is kept"""

    bl_idname = "massing.stop_study"
    bl_label = "Stop"
    bl_options = INSIDE

    @classmethod
    def poll(cls, context):
        """Whether something is being made."""
        return _run is not None and _run.running

    def execute(self, context):
        """Ask it to end."""
        _run.stop()
        context.scene.massing.progress = _run.words
        return {"FINISHED"}


class MASSING_OT_show_folder(bpy.types.Operator):
    """Open the folder that the pictures were written to"""

    bl_idname = "massing.show_folder"
    bl_label = "Show Folder"
    bl_options = INSIDE

    @classmethod
    def poll(cls, context):
        """Whether there is such a folder."""
        return Path(context.scene.massing.outcome_folder or "/nowhere").is_dir()

    def execute(self, context):
        """Open it as the system does."""
        bpy.ops.wm.path_open(filepath=context.scene.massing.outcome_folder)
        return {"FINISHED"}


_CLASSES = (
    MASSING_OT_place_cameras,
    MASSING_OT_render_view,
    MASSING_OT_render_study,
    MASSING_OT_make_paper,
    MASSING_OT_export,
    MASSING_OT_mark_assets,
    MASSING_OT_stop_study,
    MASSING_OT_show_folder,
)


def register():
    """Add the operators."""
    for kind in _CLASSES:
        bpy.utils.register_class(kind)


def unregister():
    """Take them away; what is being made ends after the piece in hand."""
    if _run is not None:
        _run.stop()
    for kind in reversed(_CLASSES):
        bpy.utils.unregister_class(kind)
