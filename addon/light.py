"""The sun and the sky in the user's scene: a lamp and a world of the house's own.

The user's world is put by, not changed, and comes back when the house is put away, as does the
light of plain shading; render settings and exposure are left alone, so lamp and sky are as strong
as a picture is exposed.
"""

from __future__ import annotations

import bpy

from massing.render.blender.light import put_out, shine, sky_world, sun_lamp
from massing.render.blender.objects import OWN
from massing.render.driver.camera_exposure import exposure_stops, sun_and_sky_w_m2
from massing.sun.position import SunTime

from . import tree

LIGHT = "light"


def begin(scene: bpy.types.Scene) -> None:
    """Give the scene a sky of its own, and remember the user's world."""
    state = scene.massing
    if state.sky is None or state.sky.library is not None:
        state.sky = sky_world("sky")
    if scene.world != state.sky:
        state.their_world = scene.world
        scene.world = state.sky
    state.their_light = scene.display.light_direction


def end(scene: bpy.types.Scene) -> None:
    """Take lamp and sky away and give the user's world back."""
    state = scene.massing
    if state.sky is not None and scene.world == state.sky:
        scene.world = state.their_world
    scene.display.light_direction = state.their_light
    sky, state.sky, state.their_world = state.sky, None, None
    if sky is not None and sky.library is None and sky.users == 0:
        bpy.data.worlds.remove(sky)
    home = _home(scene)
    for lamp in [o for o in home.objects if o.get(OWN) == "sun" and o.library is None]:
        data = lamp.data
        bpy.data.objects.remove(lamp)
        if data.users == 0:
            bpy.data.lights.remove(data)
    if not home.all_objects:
        bpy.data.collections.remove(home)


def show(scene: bpy.types.Scene, sun: SunTime) -> None:
    """Turn lamp and sky to an hour; both are out while the sun is down."""
    lamp, sky = _lamp(scene), scene.massing.sky
    if sky is None:
        return
    if not sun.is_up:
        put_out(lamp, sky)
        return
    x, y, z = sun.direction  # plain shading counts its axes in an order of its own
    scene.display.light_direction = (x, z, -y)
    beam, diffuse = sun_and_sky_w_m2(sun.altitude_deg, sun.dni_w_m2, sun.dhi_w_m2)
    shine(
        lamp,
        sky,
        sun.direction,
        sun.altitude_deg,
        beam_w_m2=sun.dni_w_m2,
        diffuse_w_m2=sun.dhi_w_m2,
        gain=2.0 ** exposure_stops(beam, diffuse),
    )


def _home(scene: bpy.types.Scene) -> bpy.types.Collection:
    return tree.own_collection(scene, LIGHT, scene.massing.house, "sunlight")


def _lamp(scene: bpy.types.Scene) -> bpy.types.Object:
    home = _home(scene)
    lamp = next((o for o in home.objects if o.get(OWN) == "sun" and o.library is None), None)
    if lamp is None:
        lamp = sun_lamp("sun")
        home.objects.link(lamp)
    return lamp
