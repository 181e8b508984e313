"""What the operators share: when they may run, and how they say what is wrong."""

from massing.scene.errors import SceneError

PLAIN, UNDOABLE = {"REGISTER"}, {"REGISTER", "UNDO"}
INSIDE = {"INTERNAL"}
QUIET = {"INTERNAL", "UNDO"}  # undone, but no entry in the search of operators


class Open:
    """Operators that need a scene file in hand."""

    @classmethod
    def poll(cls, context):
        """Whether a scene file is in hand."""
        if context.scene is None or not context.scene.massing.is_open:
            cls.poll_message_set("Open a scene file first")
            return False
        return True


class Reporting:
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


def redraw(context):
    """Draw the 3D views again."""
    for area in getattr(context.screen, "areas", ()):
        if area.type == "VIEW_3D":
            area.tag_redraw()


def session():
    """The session, which loads the library: not before it is asked for."""
    from . import session as loaded

    return loaded
