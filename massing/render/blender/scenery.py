"""What of a setting a picture shows, and what the planting's shadows fall on.

The sun on a house is the measured sun: no tree that the scene did not place throws its shadow on
the building, at any hour.
"""

from __future__ import annotations

from collections.abc import Iterable

import bpy
import numpy as np

from massing.build.scenery import BARE, NEAR, OWN, PEOPLE, SHADE, TURF, shades
from massing.design.setting import SCENERY, Scenery
from massing.geometry.mesh import Floats
from massing.geometry.solids import turned_about_z
from massing.parts.part import Model, Part
from massing.parts.site.ground import lie_of
from massing.parts.site.turf import PATCH_M, TIERS
from massing.render.blender.objects import PART, ROLE, fill_carrier
from massing.render.driver.shots import Shot
from massing.settingout.garden import garden, on_lawn
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
        _lay_turf(objects, shown, shot.camera)
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
    # A tree keeps the sun off as a whole: else its wood would throw a shadow without its leaves.
    shading = set()
    for key, part in parts.items():
        low, high = boxes[key] + (shade if part.within(*SHADE) else 0.0)
        if shades(low, high, building, to_sun):
            shading.add(_tree_of(key))
    for made in objects:
        key = made.get(PART, "")
        if key not in parts:
            continue
        if parts[key].within(*SHADE):
            # Its trunk would show as a dark disc on the ground that it stands on.
            made.hide_render = made[ROLE].startswith("bark")
            made.visible_camera = made.visible_glossy = False
            made.location = shade
        made.visible_shadow = _tree_of(key) not in shading


def _tree_of(key: str) -> str:
    """The steps of a part's name that all parts of one tree share."""
    steps = key.split("/")
    return "/".join(steps[: len(NEAR) + 1 if key.startswith(_starts(NEAR)) else len(SHADE)])


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


def _lay_turf(objects: list[bpy.types.Object], shown: Model, camera: Camera) -> None:
    """Blades on the lawn before the eye, as far as they are wider than a part of a pixel."""
    tiers = {
        o[PART].split("/")[-1]: o for o in objects if o.get(PART, "").startswith(_starts(TURF))
    }
    if not tiers:
        return
    places = turf_places(shown, camera)
    for tier, made in tiers.items():
        at = places[int(tier)]
        made.hide_render = not len(at)
        made.visible_diffuse = made.visible_glossy = made.visible_transmission = False
        made.visible_shadow = tier == "0"  # farther off it would only darken the lawn
        if len(at):
            fill_carrier(made.parent.data, at)


def turf_places(shown: Model, camera: Camera) -> list[Floats]:
    """Frames ``(k, 4, 4)`` of the patches of each tier on the lawn that a camera sees."""
    eye = np.asarray(camera.position_m)
    lie = lie_of(shown)
    height = eye[2] - float(lie.z_m(eye[0], eye[1]))
    scenery = Scenery.read(shown.notes[SCENERY])
    far = TIERS[-1][0]
    steps = np.arange(-far, far + PATCH_M, PATCH_M)
    start = np.round(eye[:2] / PATCH_M) * PATCH_M
    x, y = (grid.ravel() for grid in np.meshgrid(start[0] + steps, start[1] + steps))
    away = np.hypot(x - eye[0], y - eye[1])
    rng = np.random.default_rng(5)
    places = np.column_stack([x, y]) + rng.uniform(-0.2, 0.2, (len(x), 2)) * PATCH_M
    turn = rng.uniform(0.0, 2.0 * np.pi, len(x))
    z = np.asarray(lie.z_m(places[:, 0], places[:, 1]), dtype=float)
    at = camera.project(np.column_stack([places, z]))
    spare = 0.08 * camera.width_px
    with np.errstate(invalid="ignore"):
        seen = (np.abs(at[:, 0] - camera.width_px / 2.0) < camera.width_px / 2.0 + spare) & (
            at[:, 1] < camera.height_px + spare
        )
    seen &= on_lawn(scenery, garden(scenery), places, 0.5 * PATCH_M)
    # Thinner with distance, so that the blades end nowhere.
    thin = np.clip((far - away) / (far - TIERS[0][0]), 0.0, 1.0) ** 1.4
    seen &= rng.uniform(size=len(x)) < thin
    made, near = [], 0.0
    for reach, *_ in TIERS:
        chosen = seen & (away >= near) & (away < reach) & (height < reach)
        rows = zip(turn[chosen], *places[chosen].T, z[chosen], strict=True)
        frames = [turned_about_z(t, (a, b, c)) for t, a, b, c in rows]
        made.append(np.array(frames).reshape(-1, 4, 4))
        near = reach
    return made


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
