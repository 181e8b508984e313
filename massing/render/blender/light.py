"""Sun and sky that agree with each other and with the clear sky of the hour.

The lamp has the sun's true disc and the colour of the sky model's own sun; the sky is the same
model without its disc, turned to the same sun. Their strengths keep the ratio of beam to
diffuse of the clear sky.
"""

from __future__ import annotations

from math import atan2, pi, radians

import bpy
import numpy as np
from mathutils import Vector
from numpy.typing import ArrayLike

from massing.render.blender.nodes import HAZE_COLOURS, HAZE_OVER_M, foliage_glow, haze
from massing.render.blender.objects import OWN
from massing.render.driver.camera_exposure import sun_and_sky_w_m2
from massing.render.driver.sky_table import LUMINANCE, beam_rgb, horizon_rgb, sky_rgb

SUN_DISC_DEG = 0.533  # mean diameter, from a semidiameter of 0.2666 deg (low-precision almanac)
LAMP_PER_W_M2 = 0.003  # brings a clear noon near Cycles' unit range; exposure does the rest
SEEN_SKY_GAIN = 0.9
SKY_LIGHT_GREYED = 0.65  # how far the sky's light goes to grey of its own luminance: a choice
CLOUDS = {
    "clear": 0.0,
    "high cloud": 0.75,
    "dusk": 0.0,
}  # how far cloud covers the sky behind it, at its thickest
# Seen against the horizon streaks run together; a choice, like their colour (strength 1).
CLOUD_CURVE, CLOUD_STRETCH, CLOUD_BETWEEN = 0.16, (0.55, 1.5), (0.44, 0.80)
CLOUD_RGB = (16.5, 17.0, 17.2)
# Dusk: irradiance of the afterglow on the level where the exposure is that of dusk, and how many
# times the sky model's own radiance is seen: choices, by eye. The model's figures with its sun 3
# degrees down are read off panoramas of it in Blender 5.0.1 (between those at 2 and 4).
DUSK_LEVEL, DUSK_SEEN = 0.50, 0.45
DUSK_SKY_ON_LEVEL = 0.145
DUSK_HAZE_RGB = ((0.80, 0.43, 0.32), (0.14, 0.14, 0.26), (0.025, 0.09, 0.24))
FOLIAGE_IN_SUN, FOLIAGE_IN_SKY = 0.22, 0.6  # of a crown, what beam and sky reach (a choice)


def set_light(
    scene: bpy.types.Scene,
    sun_direction: ArrayLike,
    altitude_deg: float,
    *,
    beam_w_m2: float | None = None,
    diffuse_w_m2: float | None = None,
    sky: str = "clear",
) -> tuple[float, float]:
    """Light the scene; returns (beam facing the sun, diffuse on the level), W/m2.

    Args:
        sun_direction: ``(3,)`` towards the sun in the house frame.
        altitude_deg: the sun's altitude, for colours (refraction is the caller's).
        beam_w_m2, diffuse_w_m2: the hour's clear sky; by default the table's.
        sky: one of :data:`CLOUDS`; the light is a clear sky's in either.

    Raises:
        ValueError: the sun is below the horizon, and the sky is not that of dusk.
    """
    world = _sky(scene)
    if sky == "dusk":
        return _dusk(_lamp(scene), world, sun_direction, altitude_deg)
    light = shine(
        _lamp(scene),
        world,
        sun_direction,
        altitude_deg,
        beam_w_m2=beam_w_m2,
        diffuse_w_m2=diffuse_w_m2,
    )
    world.node_tree.nodes["cloud"].outputs[0].default_value = CLOUDS[sky]
    direction = np.asarray(sun_direction, dtype=float)
    level = direction[:2] / max(float(np.hypot(*direction[:2])), 1e-9)
    air = haze().nodes
    for axis, value in enumerate(level):
        air["sun"].inputs[axis].default_value = float(value)
    for name, rgb in zip(HAZE_COLOURS, horizon_rgb(altitude_deg), strict=True):
        air[name].outputs[0].default_value = (*rgb, 1.0)
    seen = world.node_tree.nodes["seen background"].inputs["Strength"].default_value
    air["strength"].outputs[0].default_value = seen
    air["density"].outputs[0].default_value = 1.0 / HAZE_OVER_M
    beam, diffuse = light
    glow = LAMP_PER_W_M2 * (FOLIAGE_IN_SUN * beam + FOLIAGE_IN_SKY * diffuse) / pi
    foliage_glow().nodes["strength"].outputs[0].default_value = float(glow)
    return light


def _dusk(
    lamp: bpy.types.Object, world: bpy.types.World, sun_direction: ArrayLike, altitude_deg: float
) -> tuple[float, float]:
    """The afterglow where the sun went down, and no sun; (0, diffuse) in W/m2."""
    lamp.data.energy = 0.0
    direction = np.asarray(sun_direction, dtype=float)
    nodes = world.node_tree.nodes
    for sky in (nodes["sky"], nodes["seen sky"]):
        sky.sun_elevation = radians(altitude_deg)
        sky.sun_rotation = atan2(direction[0], direction[1]) % (2.0 * pi)
    nodes["background"].inputs["Strength"].default_value = DUSK_LEVEL / DUSK_SKY_ON_LEVEL
    nodes["seen background"].inputs["Strength"].default_value = DUSK_SEEN
    nodes["cloud"].outputs[0].default_value = 0.0
    level = direction[:2] / max(float(np.hypot(*direction[:2])), 1e-9)
    air = haze().nodes
    for axis, value in enumerate(level):
        air["sun"].inputs[axis].default_value = float(value)
    for name, rgb in zip(HAZE_COLOURS, DUSK_HAZE_RGB, strict=True):
        air[name].outputs[0].default_value = (*rgb, 1.0)
    air["strength"].outputs[0].default_value = DUSK_SEEN
    air["density"].outputs[0].default_value = 1.0 / HAZE_OVER_M
    glow = FOLIAGE_IN_SKY * DUSK_LEVEL / pi
    foliage_glow().nodes["strength"].outputs[0].default_value = float(glow)
    return 0.0, DUSK_LEVEL / LAMP_PER_W_M2


def shine(
    lamp: bpy.types.Object,
    world: bpy.types.World,
    sun_direction: ArrayLike,
    altitude_deg: float,
    *,
    beam_w_m2: float | None = None,
    diffuse_w_m2: float | None = None,
    gain: float = 1.0,
) -> tuple[float, float]:
    """Turn and colour a lamp of :func:`sun_lamp` and a world of :func:`sky_world`.

    As :func:`set_light`; ``gain`` makes both so many times stronger, for a scene whose exposure
    is left alone.
    """
    direction = np.asarray(sun_direction, dtype=float)
    direction = direction / np.linalg.norm(direction)
    if direction[2] <= 0.0:
        raise ValueError("the sun is below the horizon")
    beam, diffuse = sun_and_sky_w_m2(altitude_deg, beam_w_m2, diffuse_w_m2)

    rgb = beam_rgb(altitude_deg)
    lamp.rotation_euler = Vector(direction.tolist()).to_track_quat("Z", "Y").to_euler()
    lamp.data.color = tuple(rgb / rgb.max())
    lamp.data.energy = float(gain * beam * LAMP_PER_W_M2 * rgb.max() / (LUMINANCE @ rgb))

    nodes = world.node_tree.nodes
    for sky in (nodes["sky"], nodes["seen sky"]):
        sky.sun_elevation = radians(max(altitude_deg, 0.0))
        # Blender turns its sky clockwise from +Y, which here points into the house.
        sky.sun_rotation = atan2(direction[0], direction[1]) % (2.0 * pi)
    strength = float(gain * diffuse * LAMP_PER_W_M2 / (LUMINANCE @ sky_rgb(altitude_deg)))
    nodes["background"].inputs["Strength"].default_value = strength
    nodes["seen background"].inputs["Strength"].default_value = SEEN_SKY_GAIN * strength
    return beam, diffuse


def _high_cloud(tree: bpy.types.NodeTree, sky: bpy.types.NodeSocket) -> bpy.types.NodeSocket:
    """The sky's colour with streaks of ice cloud before it, as far as the node ``cloud`` says.

    Only the camera sees them: beam and diffuse light stay those of the clear sky.
    """

    def node(kind: str, **values: object) -> bpy.types.Node:
        made = tree.nodes.new("ShaderNode" + kind)
        for name, value in values.items():
            setattr(made, name, value)
        return made

    def math(operation: str, a: object, b: object = 0.0) -> bpy.types.NodeSocket:
        made = node("Math", operation=operation)
        for socket, value in zip(made.inputs, (a, b), strict=False):
            if isinstance(value, bpy.types.NodeSocket):
                tree.links.new(value, socket)
            else:
                socket.default_value = value
        return made.outputs[0]

    way = node("SeparateXYZ")
    tree.links.new(node("TexCoord").outputs["Generated"], way.inputs[0])
    height = math("MAXIMUM", way.outputs[2], 0.0)
    far = math("ADD", height, CLOUD_CURVE)
    at = node("CombineXYZ")
    for axis, stretch in enumerate(CLOUD_STRETCH):
        place = math("MULTIPLY", math("DIVIDE", way.outputs[axis], far), stretch)
        tree.links.new(place, at.inputs[axis])
    streaks = node("TexNoise")
    streaks.inputs["Scale"].default_value, streaks.inputs["Detail"].default_value = 1.0, 6.0
    streaks.inputs["Distortion"].default_value = 0.9
    tree.links.new(at.outputs[0], streaks.inputs["Vector"])
    veil = node("MapRange", interpolation_type="SMOOTHSTEP", clamp=True)
    tree.links.new(streaks.outputs[0], veil.inputs["Value"])
    veil.inputs["From Min"].default_value, veil.inputs["From Max"].default_value = CLOUD_BETWEEN
    amount = node("Value")
    amount.name, amount.outputs[0].default_value = "cloud", 0.0
    mix = node("Mix", data_type="RGBA")
    tree.links.new(math("MULTIPLY", veil.outputs[0], amount.outputs[0]), mix.inputs[0])
    tree.links.new(sky, mix.inputs[6])
    mix.inputs[7].default_value = (*CLOUD_RGB, 1.0)
    return mix.outputs[2]


def put_out(lamp: bpy.types.Object, world: bpy.types.World) -> None:
    """Put out lamp and sky, for an hour with the sun down; :func:`shine` lights them again."""
    lamp.data.energy = 0.0
    nodes = world.node_tree.nodes
    for name in ("background", "seen background"):
        nodes[name].inputs["Strength"].default_value = 0.0


def _lamp(scene: bpy.types.Scene) -> bpy.types.Object:
    lamp = next((o for o in scene.objects if o.get(OWN) == "sun"), None)
    if lamp is None:
        lamp = sun_lamp("sun")
        scene.collection.objects.link(lamp)
    return lamp


def _sky(scene: bpy.types.Scene) -> bpy.types.World:
    if scene.world is None or OWN not in scene.world:
        scene.world = sky_world("sky")
    return scene.world


def sun_lamp(name: str) -> bpy.types.Object:
    """A lamp with the sun's disc, not yet in any collection."""
    lamp = bpy.data.objects.new(name, bpy.data.lights.new(name, "SUN"))
    lamp[OWN] = "sun"
    lamp.data.angle = radians(SUN_DISC_DEG)
    return lamp


def sky_world(name: str) -> bpy.types.World:
    """A world whose nodes are the clear sky; no scene has it yet."""
    world = bpy.data.worlds.new(name)
    world[OWN] = "sky"
    # A sky without a disc is even enough to be met by chance: looking for it costs a quarter more
    # time and lessens no noise.
    world.cycles.sampling_method = "NONE"
    if world.node_tree is None:
        world.use_nodes = True
    tree = world.node_tree
    if "sky" not in tree.nodes:
        tree.nodes.clear()
        sky = tree.nodes.new("ShaderNodeTexSky")
        sky.name = "sky"
        sky.sky_type = "SINGLE_SCATTERING" if bpy.app.version >= (5, 0, 0) else "NISHITA"
        sky.sun_disc = False
        sky.altitude = 100.0
        background = tree.nodes.new("ShaderNodeBackground")
        background.name = "background"
        output = tree.nodes.new("ShaderNodeOutputWorld")
        # As strong as before and less blue: the eye takes the blue of shade off white paint, and a
        # picture's white, which is one for light and shade, cannot.
        grey = tree.nodes.new("ShaderNodeRGBToBW")
        tree.links.new(sky.outputs[0], grey.inputs[0])
        paler = tree.nodes.new("ShaderNodeMix")
        paler.name, paler.data_type = "paler", "RGBA"
        paler.inputs[0].default_value = SKY_LIGHT_GREYED
        tree.links.new(sky.outputs[0], paler.inputs[6])
        tree.links.new(grey.outputs[0], paler.inputs[7])
        tree.links.new(paler.outputs[2], background.inputs["Color"])
        # One scattering leaves the sky seen behind a house dark above and drab at the horizon.
        # The camera alone sees many scatterings; the light, whose strength is set, does not.
        seen = tree.nodes.new("ShaderNodeTexSky")
        seen.name = "seen sky"
        seen.sky_type = "MULTIPLE_SCATTERING" if bpy.app.version >= (5, 0, 0) else "NISHITA"
        seen.sun_disc = False
        seen_background = tree.nodes.new("ShaderNodeBackground")
        seen_background.name = "seen background"
        tree.links.new(_high_cloud(tree, seen.outputs[0]), seen_background.inputs["Color"])
        path = tree.nodes.new("ShaderNodeLightPath")
        mix = tree.nodes.new("ShaderNodeMixShader")
        tree.links.new(path.outputs["Is Camera Ray"], mix.inputs[0])
        tree.links.new(background.outputs[0], mix.inputs[1])
        tree.links.new(seen_background.outputs[0], mix.inputs[2])
        tree.links.new(mix.outputs[0], output.inputs["Surface"])
    return world
