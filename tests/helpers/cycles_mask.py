"""A front's share of the sun's disc at each pixel, by Cycles: run as a program of its own.

``python -m tests.helpers.cycles_mask MODEL.npz JOB.json OUT.npy``. The job names the camera and the
suns. The lamp is the studio's own, with the true disc; the sky and all bounces are off and
every part is white, so that light in a pixel is the sun seen from it.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path

import bpy
import numpy as np

from massing.render.blender.camera import place_camera
from massing.render.blender.light import set_light
from massing.render.blender.objects import build_model
from massing.render.driver.modelfile import load_model
from massing.view.camera import Camera

SAMPLES = 16


def main(model: str, job: str, out: str) -> None:
    """Render every sun of the job and save ``(k, h, w)`` brightness, top row first."""
    values = json.loads(Path(job).read_text())
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    white = bpy.data.materials.new("white")
    for made in build_model(load_model(Path(model)), scene.collection):
        made.data.materials.clear()
        made.data.materials.append(white)
    camera = Camera.from_json(values["camera"])
    place_camera(scene, camera)
    _raw(scene)
    channel = 3 if values.get("cover") else 1
    pictures = [_picture(scene, sun, camera)[..., channel] for sun in values["suns"]]
    np.save(out, np.array(pictures))


def _raw(scene: bpy.types.Scene) -> None:
    scene.render.engine = "CYCLES"
    cycles = scene.cycles
    cycles.samples, cycles.use_adaptive_sampling, cycles.use_denoising = SAMPLES, False, False
    cycles.max_bounces = cycles.diffuse_bounces = cycles.glossy_bounces = 0
    cycles.pixel_filter_type, cycles.filter_width = "GAUSSIAN", 0.01  # its middle
    scene.render.film_transparent = True
    scene.view_settings.view_transform = "Raw"
    image = scene.render.image_settings
    if hasattr(image, "media_type"):
        image.media_type = "IMAGE"
    image.file_format, image.color_mode, image.color_depth = "OPEN_EXR", "RGBA", "32"


def _picture(scene: bpy.types.Scene, sun: list[float], camera: Camera) -> np.ndarray:
    """Red, green, blue and cover ``(h, w, 4)``, top row first."""
    set_light(scene, sun, float(np.degrees(np.arcsin(sun[2]))))
    for node in scene.world.node_tree.nodes:
        if node.type == "BACKGROUND":
            for link in list(node.inputs["Strength"].links):
                scene.world.node_tree.links.remove(link)
            node.inputs["Strength"].default_value = 0.0
    scene.objects["sun"].data.energy = 1.0
    scene.objects["sun"].data.color = (1.0, 1.0, 1.0)
    with tempfile.TemporaryDirectory() as folder:
        scene.render.filepath = str(Path(folder) / "mask.exr")
        bpy.ops.render.render(write_still=True)
        loaded = bpy.data.images.load(scene.render.filepath)
        pixels = np.empty(4 * camera.width_px * camera.height_px, dtype=np.float32)
        loaded.pixels.foreach_get(pixels)
        bpy.data.images.remove(loaded)
    return pixels.reshape(camera.height_px, camera.width_px, 4)[::-1]


if __name__ == "__main__":
    main(*sys.argv[1:])
