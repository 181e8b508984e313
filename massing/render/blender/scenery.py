"""What of a setting a picture shows, and what the planting's shadows fall on.

The sun on a house is the measured sun: no tree that the scene did not place throws its shadow on
the building, at any hour.
"""

from __future__ import annotations

from collections.abc import Iterable

import bpy
import numpy as np

from massing.build.scenery import BARE, NEAR, OWN, PEOPLE, SHADE, shades
from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.parts.site.ground import lie_of
from massing.render.blender.objects import PART, ROLE
from massing.render.driver.shots import Shot
from massing.view.camera import Camera
from massing.view.people import spots_beside_the_path, standing_places

SHOWN_IN = "materials"
# Where the tree behind the eye throws its shadow: so many times as far as the ground at the
# picture's lower edge, and so far to the side as a share of the frame.
SHADE_FAR, SHADE_ASIDE = 1.0, -0.5


def show_scenery(objects: Iterable[bpy.types.Object], shown: Model, shot: Shot) -> None:
    """Leave planting out of elevations, sections and white models, and leaves out of winter.

    People are stood where they hide no column, and turned to the eye.
    """
    objects = list(objects)
    planted = shot.look == SHOWN_IN and shot.camera.kind != "ortho" and shot.camera.cut is None
    own = _starts(OWN)
    for made in objects:
        key = made.get(PART, "")
        if key.startswith(own):
            made.hide_render = not planted
            # A crown keeps the sun off the ground; what sky it would keep off is left out, for rays
            # that go about in leaves take longer than the house.
            made.visible_diffuse = made.visible_transmission = not _is_tree(key)
        if f"/{BARE}/" in key:
            made.hide_render = made.hide_render or shot.bare
    if planted:
        _keep_the_sun(objects, shown, shot)
    _stand_people(objects, shown, shot)


def _is_tree(key: str) -> bool:
    return key.startswith((_starts(NEAR), _starts(SHADE), "/".join((*OWN, "tree"))))


def _starts(path: tuple[str, ...]) -> str:
    return "/".join(path) + "/"


def _keep_the_sun(objects: list[bpy.types.Object], shown: Model, shot: Shot) -> None:
    """Take the shadow from trees whose shadow would fall on the building."""
    building, to_sun = shown.building_bounds, np.asarray(shot.sun_direction)
    parts = {part.key: part for part in shown.parts if part.within(*NEAR) or part.within(*SHADE)}
    boxes = {key: part.world_mesh().bounds for key, part in parts.items()}
    shade = _shade_place(shot.camera, to_sun, boxes, parts)
    for made in objects:
        key = made.get(PART, "")
        if key not in parts:
            continue
        low, high = boxes[key]
        if parts[key].within(*SHADE):
            # Its trunk would show as a dark disc on the ground that it stands on.
            made.hide_render = made[ROLE].startswith("bark")
            made.visible_camera = made.visible_glossy = False
            made.location = shade
            low, high = low + shade, high + shade
        made.visible_shadow = not shades(low, high, building, to_sun)


def _shade_place(
    camera: Camera, to_sun: Floats, boxes: dict[str, Floats], parts: dict[str, Part]
) -> Floats:
    """Where a tree stands whose shadow lies across the ground before the eye."""
    right, _, forward = camera.axes
    across = 36.0 / camera.focal_mm
    lower = camera.shift_y * across - 0.5 * across * camera.height_px / camera.width_px
    eye = np.asarray(camera.position_m)
    far = SHADE_FAR * eye[2] / max(-lower, 0.02)
    spot = eye + far * forward + SHADE_ASIDE * across * far * right
    tops = [boxes[key][1, 2] for key, part in parts.items() if part.within(*SHADE)]
    crown = 0.6 * max(tops, default=0.0)
    back = crown * to_sun / max(float(to_sun[2]), 0.05)
    return np.array([spot[0] + back[0], spot[1] + back[1], 0.0])


def _stand_people(objects: list[bpy.types.Object], shown: Model, shot: Shot) -> None:
    people = {o.get(PART, "").split("/")[-1]: o for o in objects if _is_person(o)}
    if not people:
        return
    places = {}
    if shot.camera.cut is None:
        places = standing_places(shown, shot.camera, spots_beside_the_path(shown))
    ground = lie_of(shown)
    for who, made in people.items():
        made.hide_render = who not in places
        if who in places:
            x, y = places[who]
            made.location = (x, y, float(ground.z_m(x, y)))
            made.rotation_euler = (0.0, 0.0, shot.camera.yaw_rad)


def _is_person(made: bpy.types.Object) -> bool:
    return str(made.get(PART, "")).startswith(_starts(PEOPLE))
