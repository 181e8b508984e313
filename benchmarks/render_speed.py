"""How fast a picture is made, and how good it is, beside Blender's default Cycles settings.

    python benchmarks/render_speed.py [SCENE] [--design NAME] [--view VIEW] [--look LOOK]
                                      [--size 1600x1000] [--reference 4096] [--keep FILE.png]
                                      [--tries] [--reference-only]

One scene, one picture, rendered with: many plain samples without denoising (the reference),
Blender's own defaults, ours for final and for draft. All share camera, light, materials,
exposure and tone. Quality is the structural similarity (SSIM, scikit-image) of the 8-bit
pictures to the reference. Times are of the whole frame, scene synchronisation and denoising
included: by the clock, and processor seconds of all threads, which other work on the machine
disturbs less. The reference takes long: ``--keep FILE.png`` keeps it, and finds it there the
next time.
"""

from __future__ import annotations

import argparse
import os
import platform
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import bpy
import numpy as np
from PIL import Image
from skimage.metrics import structural_similarity

from massing.render.blender.quality import set_engine
from massing.render.blender.studio import Studio, empty_blender
from massing.render.driver.shots import LOOKS, Shot
from massing.study.pictures import focus_points
from massing.study.study import read_study
from massing.view.cameras import VIEWS, camera_for

SCENE = Path(__file__).parents[1] / "scenes" / "marsh_road.yaml"


def main() -> None:
    """Render each way in turn and print a table."""
    options = _options()
    study = read_study(options.scene)
    design = next(d for d in study.designs if options.design in ("", d.name))
    width, height = map(int, options.size.split("x"))
    camera = camera_for(
        options.view,
        study.bounds_m,
        width_px=width,
        height_px=height,
        focus=focus_points(study.designs),
        ground=design.site.ground,
        sun_side=study.sun_side,
        outline_m=study.outline_m,
    )
    sun = study.suns[0]
    ways: dict[str, Callable[[bpy.types.Scene], None]] = {
        f"reference, {options.reference} samples": lambda s: _plain(s, options.reference),
        "Blender's defaults": _defaults,
        "final": lambda s: set_engine(s, "final", seed=1),
        "draft": lambda s: set_engine(s, "draft", seed=1),
    }
    if options.tries:
        ways |= {f"final, {name}": _tried(values) for name, values in TRIES.items()}
    if options.reference_only:
        ways = dict(list(ways.items())[:1])
    in_parts: dict[str, Callable[[bpy.types.Scene, Path], None]] = {}
    if options.tries and not options.reference_only:
        in_parts = {
            "24 samples, guides of 96": _guided,
            "indirect light at half the size": _half_indirect,
        }
    print(f"{platform.platform()}, {os.cpu_count()} cores, Blender {bpy.app.version_string}")
    print(
        f"{study.loaded.scene.title}: {design.name}, {options.view}, {options.look}, "
        f"{sun.label}, {width}x{height}"
    )
    print(f"{'':30}{'clock s':>9}{'cpu s':>9}{'SSIM':>9}{'times faster':>14}")
    with tempfile.TemporaryDirectory() as folder:
        empty_blender("processor")
        studio = Studio(study.models[design.name], "processor")
        reference = None
        slowest = 0.0
        for name in [*ways, *in_parts]:
            shot = Shot(
                camera,
                Path(folder) / f"{sum(name.encode())}.png",
                sun.direction,
                sun.altitude_deg,
                options.look,
                beam_w_m2=sun.dni_w_m2,
                diffuse_w_m2=sun.dhi_w_m2,
            )
            if reference is None and options.keep and options.keep.exists():
                reference = _pixels(options.keep)
                print(f"{name:30}{'kept':>9}")
                continue
            scene = studio.compose(shot)
            if name in ways:
                ways[name](scene)
            scene.render.filepath = str(shot.output)
            clock, cpu = time.perf_counter(), time.process_time()
            with _silent():
                if name in ways:
                    bpy.ops.render.render(write_still=True, scene=scene.name)
                else:
                    in_parts[name](scene, shot.output)
            clock, cpu = time.perf_counter() - clock, time.process_time() - cpu
            picture = _pixels(shot.output)
            if reference is None:
                reference = picture
                if options.keep:
                    shutil.copyfile(shot.output, options.keep)
            slowest = cpu if name == "Blender's defaults" else slowest
            ssim = structural_similarity(reference, picture, channel_axis=2)
            faster = f"{slowest / cpu:.1f}" if slowest and cpu < slowest else ""
            print(f"{name:30}{clock:9.1f}{cpu:9.1f}{ssim:9.4f}{faster:>14}", flush=True)


TRIES: dict[str, dict[str, object]] = {
    "guides denoised with care": {"denoising_prefilter": "ACCURATE"},
    "the same, 30 samples": {"denoising_prefilter": "ACCURATE", "samples": 30},
    "guides as they are": {"denoising_prefilter": "NONE"},
    "56 samples": {"samples": 56},
    "64 samples by noise left": {
        "samples": 64,
        "adaptive_threshold": 0.01,
        "adaptive_min_samples": 16,
    },
    "three bounces": {"max_bounces": 3, "diffuse_bounces": 3},
    "two bounces": {"max_bounces": 2, "diffuse_bounces": 2},
    "last bounce from the sky": {"use_fast_gi": True, "ao_bounces_render": 2},
}
"""What is tried beside the final: Cycles settings over its own."""


def _guided(scene: bpy.types.Scene, output: Path) -> None:
    """Noisy light of few samples, denoised by albedo and normal of many, made without bounces."""
    set_engine(scene, "final", seed=1)
    scene.cycles.samples, scene.cycles.use_denoising = 24, False
    guides = scene.copy()
    guides.cycles.samples, guides.cycles.max_bounces = 96, 0
    guides.cycles.seed = 3
    guides.world = None
    for each in (scene, guides):
        each.view_layers[0].cycles.denoising_store_passes = True
    tree = bpy.data.node_groups.new("second pass", "CompositorNodeTree")
    tree.interface.new_socket("Image", in_out="OUTPUT", socket_type="NodeSocketColor")
    light, guide = (tree.nodes.new("CompositorNodeRLayers") for _ in range(2))
    light.scene, guide.scene = scene, guides
    clean, out = tree.nodes.new("CompositorNodeDenoise"), tree.nodes.new("NodeGroupOutput")
    tree.links.new(light.outputs["Image"], clean.inputs["Image"])
    tree.links.new(guide.outputs["Denoising Albedo"], clean.inputs["Albedo"])
    tree.links.new(guide.outputs["Denoising Normal"], clean.inputs["Normal"])
    tree.links.new(clean.outputs[0], out.inputs[0])
    scene.compositing_node_group, scene.render.use_compositing = tree, True
    scene.render.filepath = str(output)
    bpy.ops.render.render(write_still=True, scene=scene.name)
    scene.compositing_node_group = None
    scene.view_layers[0].cycles.denoising_store_passes = False
    bpy.data.node_groups.remove(tree)
    bpy.data.scenes.remove(guides)


def _half_indirect(scene: bpy.types.Scene, output: Path) -> None:
    """Direct light at full size, and what the bounces add at half the size, laid over it."""

    def light(bounces: int, percent: int) -> np.ndarray:
        set_engine(scene, "final", seed=1)
        scene.cycles.max_bounces = scene.cycles.diffuse_bounces = bounces
        scene.render.resolution_percentage = percent
        image = scene.render.image_settings
        image.file_format, image.color_depth = "OPEN_EXR", "32"
        scene.render.filepath = str(output.with_suffix(".exr"))
        bpy.ops.render.render(write_still=True, scene=scene.name)
        read = bpy.data.images.load(scene.render.filepath)
        width, height = read.size
        made = np.array(read.pixels[:], dtype=np.float32).reshape(height, width, 4)
        bpy.data.images.remove(read)
        return made

    kept = scene.render.image_settings.file_format, scene.render.image_settings.color_depth
    direct = light(0, 100)
    more = light(4, 50) - light(0, 50)
    tall, wide = direct.shape[:2]
    at_y, at_x = (np.arange(n) / 2.0 - 0.25 for n in (tall, wide))
    y, x = np.clip(at_y, 0, more.shape[0] - 1), np.clip(at_x, 0, more.shape[1] - 1)
    y0, x0 = y.astype(int), x.astype(int)
    y1, x1 = np.minimum(y0 + 1, more.shape[0] - 1), np.minimum(x0 + 1, more.shape[1] - 1)
    fy, fx = (y - y0)[:, None, None], (x - x0)[None, :, None]
    low = more[y0][:, x0] * (1 - fx) + more[y0][:, x1] * fx
    high = more[y1][:, x0] * (1 - fx) + more[y1][:, x1] * fx
    whole = np.maximum(direct + low * (1 - fy) + high * fy, 0.0)
    laid = bpy.data.images.new("laid", wide, tall, float_buffer=True)
    laid.pixels.foreach_set(whole.astype(np.float32).ravel())
    scene.render.resolution_percentage = 100
    scene.render.image_settings.file_format, scene.render.image_settings.color_depth = kept
    laid.save_render(str(output), scene=scene)
    bpy.data.images.remove(laid)


def _tried(values: dict[str, object]) -> Callable[[bpy.types.Scene], None]:
    def prepare(scene: bpy.types.Scene) -> None:
        set_engine(scene, "final", seed=1)
        for name, value in values.items():
            setattr(scene.cycles, name, value)

    return prepare


def _pixels(path: Path) -> np.ndarray:
    return np.asarray(Image.open(path).convert("RGB"))


def _plain(scene: bpy.types.Scene, samples: int) -> None:
    found = scene.world.cycles.sampling_method
    _defaults(scene)
    scene.world.cycles.sampling_method = found  # the same light, a quarter faster
    scene.cycles.samples = samples
    scene.cycles.seed = 7
    scene.cycles.use_adaptive_sampling = scene.cycles.use_denoising = False


def _defaults(scene: bpy.types.Scene) -> None:
    """Every Cycles setting of the render as Blender ships it, read from Blender itself."""
    for name in scene.cycles.bl_rna.properties.keys():  # noqa: SIM118 - Blender's collection
        if name not in ("rna_type", "name", "device") and not name.startswith("preview"):
            scene.cycles.property_unset(name)
    scene.world.cycles.property_unset("sampling_method")


class _silent:
    """Blender's own words go nowhere meanwhile."""

    def __enter__(self) -> None:
        sys.stdout.flush()
        self.kept = os.dup(1)
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.close(nowhere)

    def __exit__(self, *_: object) -> None:
        os.dup2(self.kept, 1)
        os.close(self.kept)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("scene", nargs="?", type=Path, default=SCENE)
    parser.add_argument("--design", default="")
    parser.add_argument("--view", default="street", choices=VIEWS)
    parser.add_argument("--look", default="materials", choices=LOOKS)
    parser.add_argument("--size", default="1600x1000")
    parser.add_argument("--reference", type=int, default=4096, help="samples of the reference")
    parser.add_argument("--tries", action="store_true", help="other settings of final besides")
    parser.add_argument("--reference-only", action="store_true", help="make that, to be kept")
    parser.add_argument("--keep", type=Path, help="where the reference is, or goes")
    return parser.parse_args()


if __name__ == "__main__":
    main()
