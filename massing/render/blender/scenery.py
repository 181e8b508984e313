"""What of a setting a picture shows, and what the planting's shadows fall on."""

from __future__ import annotations

from collections.abc import Iterable

import bpy

from massing.build.scenery import BARE, OWN
from massing.render.blender.objects import PART
from massing.render.driver.shots import Shot

SHOWN_IN = "materials"


def show_scenery(objects: Iterable[bpy.types.Object], shot: Shot) -> None:
    """Leave the planting out of elevations, sections and white models; leaves out of winter."""
    shown = shot.look == SHOWN_IN and shot.camera.kind != "ortho" and shot.camera.cut is None
    own = "/".join(OWN) + "/"
    for made in objects:
        key = made.get(PART, "")
        if key.startswith(own):
            made.hide_render = not shown
        if f"/{BARE}/" in key:
            made.hide_render = made.hide_render or shot.bare
