"""The panel's buttons for file, fields, alternatives and hours.

Each does one thing, says in one line what is wrong, and can be undone.
"""

import contextlib
from pathlib import Path

import bpy
from bpy.props import BoolProperty, EnumProperty, IntProperty, StringProperty

from massing.scene.errors import SceneError

from .preferences import preferred_units
from .reporting import PLAIN, QUIET, UNDOABLE, Open, Reporting, session
from .window import face, shade

_ENDINGS = "*.yaml;*.yml"
BUNDLED = (Path(__file__).parent / "scenes", Path(__file__).parents[1] / "scenes")

# --- the file ----------------------------------------------------------------------------------


class MASSING_OT_open(Reporting, bpy.types.Operator):
    """Open a scene file and build its design as drawn"""

    bl_idname = "massing.open"
    bl_label = "Open Scene File"
    bl_options = UNDOABLE

    filepath: StringProperty(name="Scene file", subtype="FILE_PATH")
    filter_glob: StringProperty(default=_ENDINGS, options={"HIDDEN"})

    def invoke(self, context, event):
        """Ask for the file."""
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def act(self, context):
        """Open it and turn the views to it."""
        path = Path(bpy.path.abspath(self.filepath))
        session().open_file(context.scene, path)
        face(context)
        shade(context)
        return f"{path.name}: {', '.join(d.name for d in context.scene.massing.designs)}"


class MASSING_OT_open_bundled(Reporting, bpy.types.Operator):
    """Open one of the scenes that come with the extension, to look at or to begin from"""

    bl_idname = "massing.open_bundled"
    bl_label = "Open Bundled Scene"
    bl_options = UNDOABLE

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
        from massing.scene.text import read_text

        text = read_text(path)
        session().open_text(context.scene, Path(f"{self.name}.yaml"), text)
        face(context)
        shade(context)
        return f"{path.name}: write it to a folder of your own to keep it"


class MASSING_OT_new_house(Reporting, bpy.types.Operator):
    """Begin a house from eight answers, with three porches to set against the one as drawn"""

    bl_idname = "massing.new_house"
    bl_label = "New House"
    bl_options = UNDOABLE

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

        self.units = preferred_units(context)
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
        session().open_text(context.scene, Path("new_house.yaml"), text)
        face(context)
        shade(context)
        return "A new house: write it to a folder of your own to keep it"


class MASSING_OT_close(Open, Reporting, bpy.types.Operator):
    """Take the house out of the scene and give back the world and what was put aside for it"""

    bl_idname = "massing.close"
    bl_label = "Put House Away"
    bl_options = UNDOABLE

    def act(self, context):
        """Put it away; the scene file stays as it is."""
        from . import pictures

        pictures.put_away(context.scene)
        session().close(context.scene)
        shade(context, back=True)


class MASSING_OT_refresh(Open, Reporting, bpy.types.Operator):
    """Read the scene file again if it changed, and rebuild what is missing or out of date"""

    bl_idname = "massing.refresh"
    bl_label = "Refresh"
    bl_options = UNDOABLE

    def act(self, context):
        """Refresh."""
        count = len(session().refresh(context.scene))
        return f"{count} parts rebuilt" if count else "Everything is up to date"


class MASSING_OT_write(Open, Reporting, bpy.types.Operator):
    """Write what the panel shows as a scene file; comments and all that did not change stay"""

    bl_idname = "massing.write"
    bl_label = "Write Scene File"
    bl_options = PLAIN

    filepath: StringProperty(name="Scene file", subtype="FILE_PATH")
    filter_glob: StringProperty(default=_ENDINGS, options={"HIDDEN"})
    check_existing: BoolProperty(default=True, options={"HIDDEN"})

    def invoke(self, context, event):
        """Ask for the file, by default the one in hand."""
        self.filepath = str(session().scene_path(context.scene.massing))
        context.window_manager.fileselect_add(self)
        return {"RUNNING_MODAL"}

    def act(self, context):
        """Write it."""
        if not self.filepath:
            raise SceneError(context.scene.massing.path, None, "given no file, allowed: a name")
        path = Path(bpy.path.abspath(self.filepath))
        session().write_file(context.scene, path)
        return f"Written: {path}"


# --- fields ------------------------------------------------------------------------------------


class _OfField(Open, Reporting):
    """Operators on one field; what it is and where its value is from is their tooltip."""

    @classmethod
    def description(cls, context, properties):
        """The field in the trade's words, with the rule behind it."""
        with contextlib.suppress(Exception):
            words = session().field_words(context.scene.massing, properties.field)
            return f"{cls.__doc__}.\n{words}"
        return cls.__doc__

    def execute(self, context):
        """Do it; what is refused but kept is a step of undo too."""
        state = context.scene.massing
        before = state.tried
        done = super().execute(context)
        return {"FINISHED"} if state.tried != before else done


class MASSING_OT_set_field(_OfField, bpy.types.Operator):
    """Give a field a value as the scene file writes it; nothing leaves it to its rule"""

    bl_idname = "massing.set_field"
    bl_label = "Set Field"
    bl_options = UNDOABLE

    field: StringProperty(name="Field", description="Such as porch.depth")
    value: StringProperty(name="Value", description="Such as 8 ft or 2.4 m; empty is by rule")

    def act(self, context):
        """Set it."""
        session().type_in(context.scene, self.field, self.value)


class MASSING_OT_unset_field(_OfField, bpy.types.Operator):
    """Leave the field out: an alternative follows the design as drawn again, that its rule"""

    bl_idname = "massing.unset_field"
    bl_label = "Leave Field Out"
    bl_options = QUIET

    field: StringProperty(name="Field")

    def act(self, context):
        """Take it out of the text."""
        session().unset_field(context.scene, self.field)


class MASSING_OT_nudge_field(_OfField, bpy.types.Operator):
    """Make the length an inch, or ten millimetres, longer or shorter"""

    bl_idname = "massing.nudge_field"
    bl_label = "Nudge Length"
    bl_options = QUIET

    field: StringProperty(name="Field")
    steps: IntProperty(name="Steps", default=1)

    def act(self, context):
        """Make it longer or shorter."""
        session().nudge(context.scene, self.field, self.steps)


# --- alternatives ------------------------------------------------------------------------------


class _Naming(Open, Reporting):
    def invoke(self, context, event):
        """Ask for the name."""
        return context.window_manager.invoke_props_dialog(self)


class MASSING_OT_add_alternative(_Naming, bpy.types.Operator):
    """Add an alternative that begins like the design shown"""

    bl_idname = "massing.add_alternative"
    bl_label = "New Alternative"
    bl_options = UNDOABLE

    name: StringProperty(name="Name", default="Another porch")

    def act(self, context):
        """Add it and show it."""
        session().add_alternative(context.scene, self.name.strip())


class MASSING_OT_rename_design(_Naming, bpy.types.Operator):
    """Call the design shown otherwise"""

    bl_idname = "massing.rename_design"
    bl_label = "Rename Design"
    bl_options = UNDOABLE

    name: StringProperty(name="Name")

    def invoke(self, context, event):
        """Ask for the name, beginning with the present one."""
        self.name = context.scene.massing.shown
        return super().invoke(context, event)

    def act(self, context):
        """Rename it."""
        session().rename_design(context.scene, self.name.strip())


class MASSING_OT_delete_alternative(Open, Reporting, bpy.types.Operator):
    """Take the alternative shown out of the scene file"""

    bl_idname = "massing.delete_alternative"
    bl_label = "Delete Alternative"
    bl_options = UNDOABLE

    def act(self, context):
        """Take it out and show the design as drawn."""
        session().delete_alternative(context.scene)


class MASSING_OT_move_alternative(Open, Reporting, bpy.types.Operator):
    """Move the alternative shown up or down in the list, as pictures stand side by side"""

    bl_idname = "massing.move_alternative"
    bl_label = "Move Alternative"
    bl_options = QUIET

    steps: IntProperty(name="Steps", default=1)

    def act(self, context):
        """Move it."""
        session().move_alternative(context.scene, self.steps)


# --- the sun -----------------------------------------------------------------------------------


class MASSING_OT_step_hour(Open, Reporting, bpy.types.Operator):
    """Look a quarter of an hour earlier or later; the scene file's times stay"""

    bl_idname = "massing.step_hour"
    bl_label = "Step Hour"
    bl_options = QUIET

    minutes: IntProperty(name="Minutes", default=15)

    def act(self, context):
        """Move the clock."""
        session().step_hour(context.scene, self.minutes)


class MASSING_OT_keep_time(Open, Reporting, bpy.types.Operator):
    """Keep the hour that is looked at as one of the scene file's times"""

    bl_idname = "massing.keep_time"
    bl_label = "Keep This Hour"
    bl_options = UNDOABLE

    added: BoolProperty(name="As one more", description="Else in place of the time picked")

    def act(self, context):
        """Put it into the text."""
        session().keep_time(context.scene, added=self.added)


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
)


def register():
    """Add the operators and the entry under File, Import."""
    for kind in _CLASSES:
        bpy.utils.register_class(kind)
    bpy.types.TOPBAR_MT_file_import.append(_import_entry)


def unregister():
    """Take them away."""
    bpy.types.TOPBAR_MT_file_import.remove(_import_entry)
    for kind in reversed(_CLASSES):
        bpy.utils.unregister_class(kind)
