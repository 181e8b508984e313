"""What stands round the model in a picture: far ground, and the sheet behind an elevation."""

from __future__ import annotations

import bpy
import numpy as np

from massing.cutaway import CUT_ROLE
from massing.mesh import Model
from massing.render.materials import CUT, Rgb
from massing.render.scene import OWN, ROLE
from massing.views import Camera

HORIZON_M = 6_000.0
BELOW_GROUND_M = 0.02  # keeps the far ground clear of the model's own
SHEET: Rgb = (0.50, 0.56, 0.64)
EARTH: Rgb = (0.10, 0.095, 0.085)


def add_horizon(model: Model, parent: bpy.types.Collection) -> list[bpy.types.Object]:
    """Ground out to the horizon, unless the model brings its own."""
    for part in model.select("setting"):
        size = np.diff(part.mesh.bounds, axis=0)[0]
        if min(size[0], size[1]) > HORIZON_M / 2.0:
            return []
    s = HORIZON_M
    z = -BELOW_GROUND_M if model.select("setting/ground") else 0.0
    made = _quad("far ground", [(-s, -s, z), (s, -s, z), (s, s, z), (-s, s, z)], parent)
    made[ROLE] = "grass"
    return [made]


def show_sheet(camera: Camera, exposure_stops: float, parent: bpy.types.Collection) -> None:
    """Behind an orthographic view a plain sheet, before it the earth cut at the ground.

    Both are seen by the camera only, and keep their tone whatever the exposure.
    """
    for old in [o for o in parent.all_objects if o.get(OWN) in ("sheet", "earth")]:
        bpy.data.objects.remove(old)
    if camera.kind != "ortho" or camera.pitch_rad != 0.0:
        return
    right, up, forward = camera.axes
    at = np.array(camera.position_m)
    w = camera.ortho_width_m * 3.0

    def corners(depth_m: float, bottom_z: float, top_z: float) -> list[tuple[float, ...]]:
        middle = at + depth_m * forward
        return [
            tuple(middle + sx * w * right + (z - at[2]) * up)
            for sx, z in ((-1, bottom_z), (1, bottom_z), (1, top_z), (-1, top_z))
        ]

    gain = 2.0**-exposure_stops
    for name, depth, low, high, colour in (
        ("sheet", 4_000.0, at[2] - w, at[2] + w, SHEET),
        ("earth", 0.5, at[2] - w, 0.0, EARTH),
    ):
        made = _quad(name, corners(depth, low, high), parent)
        made[OWN] = name
        made.hide_viewport = True
        made.data.materials.append(glowing(name, colour, gain))
        made.visible_shadow = False
        seen_by_camera_only(made)


def seen_by_camera_only(made: bpy.types.Object) -> None:
    """Keep a glowing object from lighting others."""
    made.visible_diffuse = made.visible_glossy = made.visible_transmission = False


def wash_cuts(objects: list[bpy.types.Object], exposure_stops: float) -> None:
    """The faces of a section in one even tone, as a draughtsman washes them."""
    for made in objects:
        if made[ROLE] == CUT_ROLE:
            made.data.materials[0] = glowing("cut", CUT, 2.0**-exposure_stops)
            seen_by_camera_only(made)


def glowing(name: str, colour: Rgb, gain: float) -> bpy.types.Material:
    """A material of an even tone, whatever the light."""
    material = next((m for m in bpy.data.materials if m.get(OWN) == name), None)
    if material is None:
        material = bpy.data.materials.new(name)
        material[OWN] = name
    if material.node_tree is None:
        material.use_nodes = True
    nodes, links = material.node_tree.nodes, material.node_tree.links
    nodes.clear()
    emission, output = nodes.new("ShaderNodeEmission"), nodes.new("ShaderNodeOutputMaterial")
    emission.inputs[0].default_value = (*colour, 1.0)
    emission.inputs[1].default_value = gain
    links.new(emission.outputs[0], output.inputs[0])
    return material


def _quad(
    name: str, corners: list[tuple[float, ...]], parent: bpy.types.Collection
) -> bpy.types.Object:
    data = bpy.data.meshes.new(name)
    data.from_pydata(corners, [], [(0, 1, 2, 3)])
    made = bpy.data.objects.new(name, data)
    parent.objects.link(made)
    return made
