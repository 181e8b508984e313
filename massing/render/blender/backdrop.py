"""What stands round the model in a picture: far ground, and the sheet behind an elevation."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import bpy
import numpy as np
from mathutils import Vector

from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.practice.finishes import POCHE, Rgb, poche
from massing.render.blender.light import LAMP_PER_W_M2
from massing.render.blender.objects import MAY_HIDE, OWN, PART, ROLE
from massing.render.blender.panes import GLOW
from massing.view.camera import Camera
from massing.view.ground_line import GroundLine
from massing.view.section import CUT_ROLE

HOLLOW_LIGHT = 0.16  # of the sun's, in a section
ROOM_GLOW = 0.12  # of a room in a section, as a share of white
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
    made = _face("far ground", [(-s, -s, z), (s, -s, z), (s, s, z), (-s, s, z)], parent)
    made[ROLE] = "grass"
    return [made]


def show_sheet(
    camera: Camera,
    tone: Floats,
    parent: bpy.types.Collection,
    line: GroundLine | None = None,
) -> None:
    """Behind an orthographic view a plain sheet, before it the earth cut at the ground.

    Both are seen by the camera only, and keep their tone whatever exposure and white: ``tone``
    is :func:`massing.render.driver.camera_exposure.even_tone`. Without a ``line`` the ground is
    level.
    """
    for old in [o for o in parent.all_objects if o.get(OWN) in ("sheet", "earth")]:
        bpy.data.objects.remove(old)
    if not camera.is_elevation:
        return
    right, up, forward = camera.axes
    at = np.array(camera.position_m)
    w = camera.ortho_width_m * 3.0

    line = line or GroundLine(camera)
    across = np.linspace(-w, w, 241)
    tops = line.heights_m(across)
    # Straight but where the slope ends.
    kept = np.abs(np.diff(tops, 2, prepend=np.inf, append=np.inf)) > 1e-9

    def ring(depth_m: float, places: list[tuple[float, float]]) -> list[tuple[float, ...]]:
        middle = at + depth_m * forward
        return [tuple(middle + x * right + (z - at[2]) * up) for x, z in places]

    low, high = at[2] - w, at[2] + w
    earth = [(w, low), (-w, low), *zip(across[kept], tops[kept], strict=True)]
    before = max(0.5, line.from_m + 0.01)
    for name, depth, outline, colour in (
        ("sheet", 4_000.0, [(-w, low), (w, low), (w, high), (-w, high)], SHEET),
        ("earth", before, earth, EARTH),
    ):
        made = _face(name, ring(depth, outline), parent)
        made[OWN] = name
        made.hide_viewport = True
        made.data.materials.append(glowing(name, colour, tone))
        made.visible_shadow = False
        seen_by_camera_only(made)


def show_slope(
    scene: bpy.types.Scene, objects: Iterable[bpy.types.Object], line: GroundLine | None
) -> None:
    """Leave out of an elevation the sloping ground that would hide the building.

    ``line`` is the elevation's; None for any other view, which shows everything.
    """
    hidden = line is not None and not line.lie.level and not line.seen
    for made in objects:
        if made.get(ROLE) == "grass":
            made.visible_camera = not hidden
    if line is not None and line.from_m:
        scene.camera.data.clip_start = line.from_m


def catch_shadows(
    scene: bpy.types.Scene, objects: Iterable[bpy.types.Object], wanted: bool
) -> None:
    """Leave of the ground only the shadows on it, and nothing behind, or show both again.

    The ground still throws light upward on what stands on it.
    """
    for made in objects:
        if made.get(ROLE) == "grass":
            made.is_shadow_catcher = wanted
    scene.render.film_transparent = wanted
    scene.render.image_settings.color_mode = "RGBA" if wanted else "RGB"


def show_before(objects: Iterable[bpy.types.Object], before: Iterable[Part]) -> None:
    """Leave out of an elevation the parts ``before`` the building; they keep their shadows."""
    keys = {part.key for part in before}
    for made in objects:
        if made.get(MAY_HIDE):
            made.visible_camera = made[PART] not in keys


def seen_by_camera_only(made: bpy.types.Object) -> None:
    """Keep a glowing object from lighting others."""
    made.visible_diffuse = made.visible_glossy = made.visible_transmission = False


def wash_cuts(objects: list[bpy.types.Object], tone: Floats, roles: Mapping[str, str]) -> None:
    """The faces of a section in even tones by what is cut, as a draughtsman washes them; rooms
    less dark. ``roles`` are those of whole parts by their names."""
    for made in objects:
        nodes = made.data.materials[0].node_tree.nodes
        if GLOW in nodes:
            nodes[GLOW].outputs[0].default_value = ROOM_GLOW * float(tone.mean())
        if made[ROLE] == CUT_ROLE:
            kind = poche(roles.get(str(made[PART]).split(" #")[0].removesuffix(" cut"), ""))
            made.data.materials[0] = glowing(f"cut {kind}", POCHE[kind], tone)
            seen_by_camera_only(made)


def light_hollows(
    scene: bpy.types.Scene, camera: Camera, parent: bpy.types.Collection, beam_w_m2: float
) -> None:
    """A weak light into a section from the eye's side, or what it opens would be black."""
    for old in [o for o in parent.all_objects if o.get(OWN) == "section light"]:
        bpy.data.objects.remove(old)
    if camera.cut is None:
        return
    data = bpy.data.lights.new("section light", "SUN")
    data.energy = HOLLOW_LIGHT * LAMP_PER_W_M2 * beam_w_m2
    data.angle = 0.5
    lamp = bpy.data.objects.new("section light", data)
    lamp[OWN] = "section light"
    parent.objects.link(lamp)
    right, up, forward = camera.axes
    towards = -forward + 0.04 * right + 0.02 * up
    lamp.rotation_euler = Vector(towards.tolist()).to_track_quat("Z", "Y").to_euler()


def glowing(name: str, colour: Rgb, tone: Floats) -> bpy.types.Material:
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
    strength = float(tone.max())
    emission.inputs[0].default_value = (*(np.array(colour) * tone / strength), 1.0)
    emission.inputs[1].default_value = strength
    links.new(emission.outputs[0], output.inputs[0])
    return material


def _face(
    name: str, corners: list[tuple[float, ...]], parent: bpy.types.Collection
) -> bpy.types.Object:
    data = bpy.data.meshes.new(name)
    data.from_pydata(corners, [], [tuple(range(len(corners)))])
    made = bpy.data.objects.new(name, data)
    parent.objects.link(made)
    return made
