"""Massing inside Blender: open a scene file, change the porch, see it in the sun of an hour.

A face only: what is built, what is right and where the sun stands are decided by the
``massing`` library, which never learns that Blender is there.
"""

from . import gizmos, operators, over, panel, picture_operators, preferences, state, window

_ROOMS = (preferences, state, window, operators, picture_operators, panel, gizmos, over)


def register() -> None:
    """Add the panel, the operators and the scene's state to Blender."""
    for room in _ROOMS:
        room.register()


def unregister() -> None:
    """Take all of it away again."""
    for room in reversed(_ROOMS):
        room.unregister()
