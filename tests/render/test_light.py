"""The lamp and the sky measured as light: pictures of white planes, read as numbers."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import massing
from massing.render.driver.requirements import check_blender
from massing.render.driver.sky_table import horizon_rgb

pytestmark = [
    pytest.mark.render,
    pytest.mark.skipif(check_blender() is not None, reason="no Blender module here"),
]

# A white plane photographed square from above through a camera that leans with it; what is read is
# the mean linear colour of the picture. For a plane of reflectance 1 that is irradiance / pi.
MEASURE = '''
import json, sys
import bpy, numpy as np
from mathutils import Vector
from massing.render.blender import light

out = sys.argv[-1]
bpy.ops.wm.read_factory_settings(use_empty=True)
scene = bpy.context.scene
scene.render.engine = "CYCLES"
scene.cycles.samples, scene.cycles.use_denoising = 64, False
scene.cycles.max_bounces = 0
scene.render.resolution_x = scene.render.resolution_y = 8
scene.render.image_settings.file_format = "OPEN_EXR"
scene.render.image_settings.color_depth = "32"
bpy.ops.mesh.primitive_plane_add(size=2)
plane = bpy.context.object
white = bpy.data.materials.new("white")
white.use_nodes = True
tree = white.node_tree
tree.nodes.clear()
diffuse, end = tree.nodes.new("ShaderNodeBsdfDiffuse"), tree.nodes.new("ShaderNodeOutputMaterial")
diffuse.inputs[0].default_value = (1, 1, 1, 1)
tree.links.new(diffuse.outputs[0], end.inputs[0])
plane.data.materials.append(white)
eye = bpy.data.objects.new("eye", bpy.data.cameras.new("eye"))
eye.data.type, eye.data.ortho_scale = "ORTHO", 0.5
scene.collection.objects.link(eye)
scene.camera = eye


def mean(name):
    scene.render.filepath = f"{out}/{name}.exr"
    bpy.ops.render.render(write_still=True)
    image = bpy.data.images.load(scene.render.filepath)
    got = np.array(image.pixels[:]).reshape(-1, 4)[:, :3].mean(axis=0)
    bpy.data.images.remove(image)
    return got.tolist()


def turned(normal):
    """Plane and eye face along a normal."""
    turn = Vector(normal).to_track_quat("Z", "Y").to_euler()
    plane.rotation_euler = eye.rotation_euler = turn
    eye.location = Vector(normal) * 5


def seen(towards):
    """What the camera sees of the sky in a direction."""
    plane.hide_render = True
    eye.rotation_euler = Vector(towards).to_track_quat("-Z", "Y").to_euler()
    eye.data.type, eye.data.angle = "PERSP", 0.02
    got = mean("sky")
    plane.hide_render, eye.data.type = False, "ORTHO"
    return got


answers = {}
for name, sun, altitude, beam, sky, clouds in json.loads(sys.argv[-2]):
    told = light.set_light(
        scene, sun, altitude, beam_w_m2=beam, diffuse_w_m2=sky, sky=clouds
    )
    lamp = next(o for o in scene.objects if o.type == "LIGHT")
    found = {"told": told, "disc_rad": lamp.data.angle}
    turned(sun)
    found["facing"] = mean("facing")
    turned((0, 0, 1))
    found["level"] = mean("level")
    lamp.hide_render = True
    found["level_sky"] = mean("level sky")
    turned(sun)
    found["facing_sky"] = mean("facing sky")
    lamp.hide_render = False
    side = np.array([sun[0], sun[1], 0.0]) / np.hypot(sun[0], sun[1])
    found["under_sun"] = seen((side[0], side[1], 0.035))
    found["opposite"] = seen((-side[0], -side[1], 0.035))
    answers[name] = found
light.put_out(lamp, scene.world)
turned((0, 0, 1))
answers["out"] = mean("out")
answers["lights"] = sum(o.type == "LIGHT" for o in scene.objects)
try:
    light.set_light(scene, (0.0, -1.0, -0.01), -0.5)
except ValueError as error:
    answers["below"] = str(error)
print("ANSWERS" + json.dumps(answers))
'''


def towards(altitude_deg: float, right_deg: float) -> list[float]:
    """A sun so far right of the front's outward normal, in the house's frame."""
    a, d = np.radians([altitude_deg, right_deg])
    return [float(np.sin(d) * np.cos(a)), float(-np.cos(d) * np.cos(a)), float(np.sin(a))]


SUNS = {
    # name: direction, altitude, beam and diffuse of the hour (None: the table's), sky
    "morning": (towards(30.0, -50.0), 30.0, 700.0, 120.0, "clear"),
    "noon": (towards(60.0, 20.0), 60.0, None, None, "clear"),
    "clouded": (towards(30.0, -50.0), 30.0, 700.0, 120.0, "high cloud"),
}
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # of linear sRGB: ITU-R BT.709


@pytest.fixture(scope="module")
def light(tmp_path_factory: pytest.TempPathFactory) -> dict:
    folder = tmp_path_factory.mktemp("light")
    script = folder / "measure.py"
    script.write_text(MEASURE)
    asked = json.dumps([(name, *values) for name, values in SUNS.items()])
    done = subprocess.run(
        [sys.executable, str(script), asked, str(folder)],
        capture_output=True,
        text=True,
        check=False,
        env=_with_this_massing(),
    )
    lines = [line for line in done.stdout.splitlines() if line.startswith("ANSWERS")]
    assert lines, done.stderr[-2000:]
    return json.loads(lines[0].removeprefix("ANSWERS"))


def _with_this_massing() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(Path(massing.__file__).parents[1])}


def luminance(rgb: list[float]) -> float:
    return float(LUMINANCE @ np.array(rgb))


@pytest.mark.parametrize("name", ["morning", "noon"])
def test_the_lamp_shines_from_the_sun_with_the_beam_that_is_told(light: dict, name: str) -> None:
    found, (_sun, altitude, *_given) = light[name], SUNS[name]
    beam, sky = found["told"]
    # Lambert: the level plane gets sin(altitude) of what a plane facing the sun gets
    facing = luminance(found["facing"]) - luminance(found["facing_sky"])
    level = luminance(found["level"]) - luminance(found["level_sky"])
    assert level == pytest.approx(facing * np.sin(np.radians(altitude)), rel=0.01)
    # beam and sky in the picture stand to each other as in the hour's clear sky
    assert facing / luminance(found["level_sky"]) == pytest.approx(beam / sky, rel=0.04)


def test_the_hours_own_strengths_are_taken_and_the_tables_else(light: dict) -> None:
    assert light["morning"]["told"] == [700.0, 120.0]
    # simplified Solis clear sky at 60 degrees (Ineichen, Solar Energy 82 (2008), 758-762: from
    # memory; as pvlib computes it for an aerosol depth of 0.1 and 1 cm of water)
    assert light["noon"]["told"] == pytest.approx([927.1, 121.9], abs=0.1)
    # a picture's unit is the same at every hour: strengths of light go as the watts told
    ratio = luminance(light["morning"]["level_sky"]) / luminance(light["noon"]["level_sky"])
    assert ratio == pytest.approx(120.0 / 121.9, rel=0.04)


def test_the_disc_is_the_suns(light: dict) -> None:
    # 1.919 arc seconds times 1000 of mean diameter: 31' 59" (Astronomical Almanac: from memory)
    assert np.degrees(light["morning"]["disc_rad"]) == pytest.approx(0.533, abs=0.001)


def test_the_lower_the_sun_the_redder(light: dict) -> None:
    def red_to_blue(name: str) -> float:
        found = light[name]
        beam = np.array(found["facing"]) - np.array(found["facing_sky"])
        return float(beam[0] / beam[2])

    assert red_to_blue("morning") > red_to_blue("noon") > 1.3
    sky = np.array(light["noon"]["level_sky"])
    # And the sky is blue: the model's own light (13.68 to 7.31), 0.65 of the way to grey, a choice.
    grey = LUMINANCE @ [7.31, 9.29, 13.68]
    expected = (0.35 * 13.68 + 0.65 * grey) / (0.35 * 7.31 + 0.65 * grey)
    assert sky[2] / sky[0] == pytest.approx(expected, rel=0.04)


@pytest.mark.parametrize("name", ["morning", "noon"])
def test_the_sky_is_brightest_over_the_horizon_on_the_suns_side(light: dict, name: str) -> None:
    seen, opposite = light[name]["under_sun"], light[name]["opposite"]
    table = horizon_rgb(SUNS[name][1])
    # read off a panorama of the sky by itself: the two sides stand to each other as there
    expected = luminance(list(table[0])) / luminance(list(table[2]))
    assert luminance(seen) / luminance(opposite) == pytest.approx(expected, rel=0.08)
    assert luminance(seen) > 1.02 * luminance(opposite)


def test_high_cloud_is_before_the_eye_and_not_before_the_sun(light: dict) -> None:
    for plane in ("facing", "level", "level_sky"):
        assert light["clouded"][plane] == pytest.approx(light["morning"][plane], rel=0.02)


def test_a_sun_that_is_down_is_refused_and_light_can_be_put_out(light: dict) -> None:
    assert light["below"] == "the sun is below the horizon"
    assert max(light["out"]) == 0.0
    assert light["lights"] == 1  # an hour turns the lamp that is there
