"""The panel's buttons. Each does one thing, says in one line what is wrong, and can be undone."""

import contextlib
import importlib.util
from math import radians
from pathlib import Path

import bpy
from bpy.props import BoolProperty, EnumProperty, IntProperty, StringProperty
from mathutils import Euler

from massing.scene.errors import SceneError

_PLAIN, _UNDOABLE = {"REGISTER"}, {"REGISTER", "UNDO"}
_INSIDE = {"INTERNAL"}
_QUIET = {"INTERNAL", "UNDO"}  # undone, but no entry in the search of operators
_ENDINGS = "*.yaml;*.yml"
_QUALITY = {
    "name": "Quality",
    "description": "Draft for looking, final for keeping",
    "items": [
        ("draft", "Draft", "Good enough to judge form and shadow"),
        ("final", "Final", "Larger and finer, in a folder of their own"),
    ],
}
BUNDLED = (Path(__file__).parent / "scenes", Path(__file__).parents[1] / "scenes")
# What a study's sheets and figures need besides what the window needs.
FOR_STUDY = ("PIL", "embreex", "matplotlib", "rich")

_kept_views = []  # Blender reads dynamic choices after we return


def _session():
    from . import session

    return session


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
        try:
            line = self.act(context)
        except SceneError as fault:
            self.report({"ERROR"}, str(fault))
            return {"CANCELLED"}
        except OSError as fault:
            self.report({"ERROR"}, " ".join(str(fault).split()))
            return {"CANCELLED"}
        if line:
            self.report({"INFO"}, line)
        return {"FINISHED"}


# --- the file ----------------------------------------------------------------------------------


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
        _session().open_file(context.scene, path)
        _face(context)
        return f"{path.name}: {', '.join(d.name for d in context.scene.massing.designs)}"


class MASSING_OT_open_bundled(_Reporting, bpy.types.Operator):
    """Open one of the scenes that come with the extension, to look at or to begin from"""

    bl_idname = "massing.open_bundled"
    bl_label = "Open Bundled Scene"
    bl_options = _UNDOABLE

    name: EnumProperty(
        name="Scene",
        items=[
            ("marsh_road", "Marsh Road", "A two-storey house by a tidal river, in feet and inches"),
            ("vineyard_cottage", "Vineyard cottage", "A cottage of one storey, in metres"),
            ("foundry_lane", "Foundry Lane", "A brick town house between two low wings"),
            ("osier_turn", "Osier Turn", "One house four ways: what a scene may ask for"),
            (
                "heron_bluff",
                "Heron Bluff",
                "Thin columns far apart against arcades of three orders",
            ),
            ("pecan_street", "Pecan Street", "A cottage under four porch roofs"),
            ("orchard_road", "Orchard Road", "A wide house with the usual faults, and three cures"),
        ],
    )

    def act(self, context):
        """Open its text; it is no file of the user's until it is written."""
        path = next(f / f"{self.name}.yaml" for f in BUNDLED if (f / f"{self.name}.yaml").exists())
        session = _session()
        from massing.scene.text import read_text

        text = read_text(path)
        session.open_text(context.scene, Path(f"{self.name}.yaml"), text)
        _face(context)
        return f"{path.name}: write it to a folder of your own to keep it"


class MASSING_OT_new_house(_Reporting, bpy.types.Operator):
    """Begin a house from eight answers, with three porches to set against the one as drawn"""

    bl_idname = "massing.new_house"
    bl_label = "New House"
    bl_options = _UNDOABLE

    units: EnumProperty(
        name="Sizes in",
        items=[
            ("feet", "Feet", "Feet and inches"),
            ("metric", "Metric", "Metres and millimetres"),
        ],
    )
    place: StringProperty(
        name="Town", description="A town, or latitude, longitude; empty for the one proposed"
    )
    front_faces: StringProperty(
        name="Front faces", description="A compass point, S 25 E, or degrees from north"
    )
    width: StringProperty(name="Width", description="Of the house, such as 48 ft or 14.4 m")
    depth: StringProperty(name="Depth", description="Of the house, such as 34 ft or 10.2 m")
    storeys: StringProperty(name="Storeys", description="1, 2 or 3")
    bays: StringProperty(name="Bays", description="Windows and door along the front, odd, 3 to 9")
    porch: EnumProperty(
        name="Porch as drawn",
        items=[
            ("thin piers", "Thin piers", "Too slender, as builders draw it"),
            ("one storey", "One storey", "An order under the upper windows"),
            ("full height", "Full height", "An order up to the eaves"),
        ],
    )

    def invoke(self, context, event):
        """Ask, with an answer to everything proposed."""
        from massing.edit.begin import questions

        for question in questions(self.units):
            if question.field not in ("units", "porch") and not getattr(self, question.field):
                setattr(self, question.field, question.default)
        return context.window_manager.invoke_props_dialog(self)

    def act(self, context):
        """Open the text that the answers make; it is no file until it is written."""
        from massing.edit.begin import answer, new_scene, questions

        fields = [question.field for question in questions()]
        try:
            text = new_scene(answer({field: getattr(self, field) for field in fields}))
        except ValueError as fault:
            raise SceneError("new house", None, fault) from None
        _session().open_text(context.scene, Path("new_house.yaml"), text)
        _face(context)
        return "A new house: write it to a folder of your own to keep it"


class MASSING_OT_close(_Open, _Reporting, bpy.types.Operator):
    """Take the house out of the scene and give back the world and what was put aside for it"""

    bl_idname = "massing.close"
    bl_label = "Put House Away"
    bl_options = _UNDOABLE

    def act(self, context):
        """Put it away; the scene file stays as it is."""
        from . import pictures

        pictures.put_away(context.scene)
        _session().close(context.scene)
        _shade(context, back=True)


class MASSING_OT_refresh(_Open, _Reporting, bpy.types.Operator):
    """Read the scene file again if it changed, and rebuild what is missing or out of date"""

    bl_idname = "massing.refresh"
    bl_label = "Refresh"
    bl_options = _UNDOABLE

    def act(self, context):
        """Refresh."""
        count = len(_session().refresh(context.scene))
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
        self.filepath = str(_session().scene_path(context.scene.massing))
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def act(self, context):
        """Write it."""
        if not self.filepath:
            raise SceneError(context.scene.massing.path, None, "given no file, allowed: a name")
        path = Path(bpy.path.abspath(self.filepath))
        _session().write_file(context.scene, path)
        return f"Written: {path}"


# --- fields ------------------------------------------------------------------------------------


class _OfField(_Open, _Reporting):
    """Operators on one field; what it is and where its value is from is their tooltip."""

    @classmethod
    def description(cls, context, properties):
        """The field in the trade's words, with the rule behind it."""
        with contextlib.suppress(Exception):
            words = _session().field_words(context.scene.massing, properties.field)
            return f"{cls.__doc__}.\n{words}"
        return cls.__doc__


class MASSING_OT_set_field(_OfField, bpy.types.Operator):
    """Give a field a value as the scene file writes it; nothing leaves it to its rule"""

    bl_idname = "massing.set_field"
    bl_label = "Set Field"
    bl_options = _UNDOABLE

    field: StringProperty(name="Field", description="Such as porch.depth")
    value: StringProperty(name="Value", description="Such as 8 ft or 2.4 m; empty is by rule")

    def act(self, context):
        """Set it."""
        _session().type_in(context.scene, self.field, self.value)


class MASSING_OT_unset_field(_OfField, bpy.types.Operator):
    """Leave the field out: an alternative follows the design as drawn again, that its rule"""

    bl_idname = "massing.unset_field"
    bl_label = "Leave Field Out"
    bl_options = _QUIET

    field: StringProperty(name="Field")

    def act(self, context):
        """Take it out of the text."""
        _session().unset_field(context.scene, self.field)


class MASSING_OT_nudge_field(_OfField, bpy.types.Operator):
    """Make the length an inch, or ten millimetres, longer or shorter"""

    bl_idname = "massing.nudge_field"
    bl_label = "Nudge Length"
    bl_options = _QUIET

    field: StringProperty(name="Field")
    steps: IntProperty(name="Steps", default=1)

    def act(self, context):
        """Make it longer or shorter."""
        _session().nudge(context.scene, self.field, self.steps)


# --- alternatives ------------------------------------------------------------------------------


class _Naming(_Open, _Reporting):
    def invoke(self, context, event):
        """Ask for the name."""
        return context.window_manager.invoke_props_dialog(self)


class MASSING_OT_add_alternative(_Naming, bpy.types.Operator):
    """Add an alternative that begins like the design shown"""

    bl_idname = "massing.add_alternative"
    bl_label = "New Alternative"
    bl_options = _UNDOABLE

    name: StringProperty(name="Name", default="Another porch")

    def act(self, context):
        """Add it and show it."""
        _session().add_alternative(context.scene, self.name.strip())


class MASSING_OT_rename_design(_Naming, bpy.types.Operator):
    """Call the design shown otherwise"""

    bl_idname = "massing.rename_design"
    bl_label = "Rename Design"
    bl_options = _UNDOABLE

    name: StringProperty(name="Name")

    def invoke(self, context, event):
        """Ask for the name, beginning with the present one."""
        self.name = context.scene.massing.shown
        return super().invoke(context, event)

    def act(self, context):
        """Rename it."""
        _session().rename_design(context.scene, self.name.strip())


class MASSING_OT_delete_alternative(_Open, _Reporting, bpy.types.Operator):
    """Take the alternative shown out of the scene file"""

    bl_idname = "massing.delete_alternative"
    bl_label = "Delete Alternative"
    bl_options = _UNDOABLE

    def act(self, context):
        """Take it out and show the design as drawn."""
        _session().delete_alternative(context.scene)


class MASSING_OT_move_alternative(_Open, _Reporting, bpy.types.Operator):
    """Move the alternative shown up or down in the list, as pictures stand side by side"""

    bl_idname = "massing.move_alternative"
    bl_label = "Move Alternative"
    bl_options = _QUIET

    steps: IntProperty(name="Steps", default=1)

    def act(self, context):
        """Move it."""
        _session().move_alternative(context.scene, self.steps)


# --- the sun -----------------------------------------------------------------------------------


class MASSING_OT_step_hour(_Open, _Reporting, bpy.types.Operator):
    """Look a quarter of an hour earlier or later; the scene file's times stay"""

    bl_idname = "massing.step_hour"
    bl_label = "Step Hour"
    bl_options = _QUIET

    minutes: IntProperty(name="Minutes", default=15)

    def act(self, context):
        """Move the clock."""
        _session().step_hour(context.scene, self.minutes)


class MASSING_OT_keep_time(_Open, _Reporting, bpy.types.Operator):
    """Keep the hour that is looked at as one of the scene file's times"""

    bl_idname = "massing.keep_time"
    bl_label = "Keep This Hour"
    bl_options = _UNDOABLE

    added: BoolProperty(name="As one more", description="Else in place of the time picked")

    def act(self, context):
        """Put it into the text."""
        _session().keep_time(context.scene, added=self.added)


# --- pictures ----------------------------------------------------------------------------------

_run = None  # the study that is being rendered, one at a time


def _can_study(cls):
    lacking = [name for name in FOR_STUDY if importlib.util.find_spec(name) is None]
    if lacking:
        cls.poll_message_set(f"Not in this package of the extension: {', '.join(lacking)}")
    return not lacking


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

        scene = context.scene
        own, path = pictures.ready(scene, self.view, self.quality)
        state = scene.massing

        def done(fault):
            state.outcome = fault or f"Picture: {path.name}"
            state.outcome_folder = str(path.parent)

        pictures.take(own, path, done)
        return f"Picture: {path}"


class MASSING_OT_render_study(_Open, bpy.types.Operator):
    """Render every design, time, view and look of the scene file, with sheets and figures"""

    bl_idname = "massing.render_study"
    bl_label = "Render Study"
    bl_options = _PLAIN

    quality: EnumProperty(**_QUALITY)

    @classmethod
    def poll(cls, context):
        """Whether a scene file is in hand and no study is being rendered."""
        if not super().poll(context):
            return False
        if _run is not None and _run.running:
            cls.poll_message_set("A study is being rendered")
            return False
        return _can_study(cls)

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
        if _run.running:
            context.scene.massing.progress = _run.words
            _redraw(context)
            return {"PASS_THROUGH"}
        context.window_manager.event_timer_remove(self._timer)
        return self._end(context)

    def execute(self, context):
        """Render and wait until all is done."""
        if not self._begin(context):
            return {"CANCELLED"}
        _run.wait()
        return self._end(context)

    def _begin(self, context):
        global _run
        from . import pictures

        try:
            _run = pictures.StudyRun(context.scene, self.quality)
        except SceneError as fault:
            self.report({"ERROR"}, str(fault))
            return False
        context.scene.massing.outcome = ""
        _run.start()
        return True

    def _end(self, context):
        global _run
        run, _run = _run, None
        state = context.scene.massing
        state.progress = ""
        state.outcome_folder = str(run.folder)
        if run.outcome is None:
            state.outcome = run.fault
            self.report({"ERROR"}, run.fault)
            return {"CANCELLED"}
        failed = [f"{path}: {error}" for path, error in run.outcome.failed.items()]
        for line in failed:
            self.report({"ERROR"}, line)
        made, kept = len(run.outcome.made), len(run.outcome.kept)
        state.outcome = f"{made} files made, {kept} pictures kept" + (
            f", {len(failed)} failed" if failed else ""
        )
        self.report({"INFO"}, f"{state.outcome}: {run.folder}")
        _redraw(context)
        return {"CANCELLED"} if failed else {"FINISHED"}


class MASSING_OT_stop_study(bpy.types.Operator):
    """End the study after the picture in hand; what is finished is kept"""

    bl_idname = "massing.stop_study"
    bl_label = "Stop"
    bl_options = _INSIDE

    @classmethod
    def poll(cls, context):
        """Whether a study is being rendered."""
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
    bl_options = _INSIDE

    @classmethod
    def poll(cls, context):
        """Whether there is such a folder."""
        return Path(context.scene.massing.outcome_folder or "/nowhere").is_dir()

    def execute(self, context):
        """Open it as the system does."""
        bpy.ops.wm.path_open(filepath=context.scene.massing.outcome_folder)
        return {"FINISHED"}


# --- the window --------------------------------------------------------------------------------


def _redraw(context):
    for area in getattr(context.screen, "areas", ()):
        if area.type == "VIEW_3D":
            area.tag_redraw()


def _spaces(context):
    for area in getattr(context.screen, "areas", ()):
        if area.type == "VIEW_3D":
            yield area.spaces.active


def _face(context):
    """Turn the 3D views to the house, seen from the street, in a shading that shows shadow."""
    low, high = _session().bounds(context.scene)
    for space in _spaces(context):
        view = space.region_3d
        with contextlib.suppress(AttributeError):
            view.view_perspective = "PERSP"
            view.view_rotation = Euler((radians(82.0), 0.0, radians(30.0))).to_quaternion()
            view.view_location = (low + high) / 2.0
            view.view_distance = 1.5 * float((high - low)[:2].max())
            space.clip_end = max(space.clip_end, 1000.0)
    _shade(context)


_shaded = {}  # how each view was shaded before
_SHADED = ("type", "show_shadows", "shadow_intensity", "use_scene_lights", "use_scene_world")


def _shade(context, back=False, daylight=False):
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


class MASSING_OT_shade(_Open, bpy.types.Operator):
    """Shade the 3D views so that the hour shows"""

    bl_idname = "massing.shade"
    bl_label = "Shade Views"
    bl_options = _INSIDE

    way: EnumProperty(
        name="Way",
        items=[
            ("shadow", "Shadow", "Plain shading with the shadows of the hour, at once"),
            ("daylight", "Daylight", "Sun, sky and finishes; wants a graphics card"),
        ],
    )

    def execute(self, context):
        """Shade them."""
        _shade(context, daylight=self.way == "daylight")
        return {"FINISHED"}


def _import_entry(self, context):
    self.layout.operator(MASSING_OT_open.bl_idname, text="House and Porch scene (.yaml)")


_CLASSES = (
    MASSING_OT_open,
    MASSING_OT_open_bundled,
    MASSING_OT_new_house,
    MASSING_OT_close,
    MASSING_OT_refresh,
    MASSING_OT_write,
    MASSING_OT_set_field,
    MASSING_OT_unset_field,
    MASSING_OT_nudge_field,
    MASSING_OT_add_alternative,
    MASSING_OT_rename_design,
    MASSING_OT_delete_alternative,
    MASSING_OT_move_alternative,
    MASSING_OT_step_hour,
    MASSING_OT_keep_time,
    MASSING_OT_shade,
    MASSING_OT_place_cameras,
    MASSING_OT_render_view,
    MASSING_OT_render_study,
    MASSING_OT_stop_study,
    MASSING_OT_show_folder,
)


def register():
    """Add the operators and the entry under File, Import."""
    for kind in _CLASSES:
        bpy.utils.register_class(kind)
    bpy.types.TOPBAR_MT_file_import.append(_import_entry)


def unregister():
    """Take them away; a study that is being rendered ends after the picture in hand."""
    bpy.types.TOPBAR_MT_file_import.remove(_import_entry)
    if _run is not None:
        _run.stop()
    for kind in reversed(_CLASSES):
        bpy.utils.unregister_class(kind)
    _shaded.clear()
