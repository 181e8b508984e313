"""Lamps at dusk: a lantern under the porch's ceiling, and rooms lit behind their panes."""

from __future__ import annotations

import bpy
import numpy as np

from massing.design.setting import SCENERY, Scenery
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.practice.finishes import METAL
from massing.render.blender.nodes import LAMPLIGHT_RGB, matte, room_light
from massing.render.blender.objects import OWN

LANTERN_M = (0.13, 0.40)  # half its width, its height: common practice, no source
# The rod at the least; its top over the floor, or as a share of the ceiling, the more of both.
ROD_M, OVER_FLOOR_M, OF_CEILING = 0.35, 2.7, 0.66
LANTERN_W = 55.0  # for a scene whose dusk is as bright as the exposure at dusk asks; a choice
ROOM_STRENGTH = 2.0
_LANTERN = "lantern"


def light_lamps(scene: bpy.types.Scene, model: Model, lit: bool) -> None:
    """Hang and light the lantern and light the rooms, or put all out and take it away."""
    nodes = room_light().nodes
    nodes["lamps"].outputs[0].default_value = ROOM_STRENGTH if lit else 0.0
    parent = scene.collection
    for old in [o for o in parent.all_objects if o.get(OWN) == _LANTERN]:
        bpy.data.objects.remove(old)
    place = lantern_place(model) if lit else None
    if place is None:
        return
    light = bpy.data.lights.new(_LANTERN, "POINT")
    light.energy, light.color, light.shadow_soft_size = LANTERN_W, LAMPLIGHT_RGB, 0.09
    top, ceiling = place
    for made in (bpy.data.objects.new(_LANTERN, light), *_lantern(top, ceiling)):
        made[OWN] = _LANTERN
        parent.objects.link(made)
        if made.data is light:
            made.location = top - [0.0, 0.0, 0.5 * LANTERN_M[1]]


def lantern_place(model: Model) -> tuple[Floats, float] | None:
    """A lantern's top, under the middle of the porch's lowest ceiling, and that height; or None."""
    porch = [p for p in model.parts if p.within("porch") and p.role == "ceiling"]
    if not porch or SCENERY not in model.notes:
        return None
    low, high = min((p.world_mesh().bounds for p in porch), key=lambda box: float(box[0, 2]))
    floor = Scenery.read(model.notes[SCENERY]).floor_m
    ceiling = float(low[2])
    z = floor + max(OVER_FLOOR_M, OF_CEILING * (ceiling - floor))
    at = [(low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0]
    return np.array([*at, min(z, ceiling - ROD_M)]), ceiling


def _lantern(top: Floats, ceiling_m: float) -> list[bpy.types.Object]:
    """Glass and frame: a four-sided lantern that narrows downward, its cap and its rod."""
    half, tall = LANTERN_M
    x, y, z = top
    glass = _tapered((x, y), (0.62 * half, z - tall), (half, z), "lantern glass")
    glow = bpy.data.materials.get("lantern glow") or _glow()
    glass.data.materials.append(glow)
    glass.visible_shadow = glass.visible_diffuse = False
    metal = bpy.data.materials.get("lantern metal") or matte(METAL)("lantern metal")
    made = [
        _tapered((x, y), (1.15 * half, z), (0.25 * half, z + 0.16), "lantern cap"),
        _tapered((x, y), (0.08 * half, z + 0.16), (0.08 * half, ceiling_m), "lantern rod"),
        _tapered((x, y), (0.72 * half, z - tall - 0.03), (0.66 * half, z - tall), "lantern foot"),
    ]
    for sx in (-1.0, 1.0):
        for sy in (-1.0, 1.0):
            low = (x + sx * 0.62 * half, y + sy * 0.62 * half, z - tall)
            high = (x + sx * half, y + sy * half, z)
            made.append(_bar(low, high, 0.009))
    for piece in made:
        piece.data.materials.append(metal)
        piece.visible_shadow = False
    return [glass, *made]


def _tapered(
    at: tuple[float, float], low: tuple[float, float], high: tuple[float, float], name: str
) -> bpy.types.Object:
    """A square frustum about an upright axis, between two half widths at two heights."""
    rings = [
        (at[0] + sx * half, at[1] + sy * half, z)
        for half, z in (low, high)
        for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    return _solid(name, rings)


def _bar(
    low: tuple[float, float, float], high: tuple[float, float, float], half: float
) -> bpy.types.Object:
    rings = [
        (x + sx * half, y + sy * half, z)
        for x, y, z in (low, high)
        for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    return _solid("lantern bar", rings)


def _solid(name: str, rings: list[tuple[float, float, float]]) -> bpy.types.Object:
    sides = [(i, (i + 1) % 4, 4 + (i + 1) % 4, 4 + i) for i in range(4)]
    data = bpy.data.meshes.new(name)
    data.from_pydata(rings, [], [(3, 2, 1, 0), (4, 5, 6, 7), *sides])
    return bpy.data.objects.new(name, data)


def _glow() -> bpy.types.Material:
    material = bpy.data.materials.new("lantern glow")
    if material.node_tree is None:
        material.use_nodes = True
    nodes, links = material.node_tree.nodes, material.node_tree.links
    nodes.clear()
    shine, output = nodes.new("ShaderNodeEmission"), nodes.new("ShaderNodeOutputMaterial")
    shine.inputs[0].default_value = (*LAMPLIGHT_RGB, 1.0)
    shine.inputs[1].default_value = 9.0
    links.new(shine.outputs[0], output.inputs[0])
    material.cycles.emission_sampling = "NONE"
    return material
