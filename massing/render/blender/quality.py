"""Engine, quality and colour. Figures behind the choices: benchmarks/render_speed.py."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass

import bpy

from massing.render.driver.shots import GPU_KINDS, GRAPHICS, PROCESSOR, QUALITIES

VIEW_TRANSFORM = "AgX"
CONTRAST = "AgX - Medium High Contrast"


@dataclass(frozen=True)
class Sampling:
    """How long Cycles works on a picture."""

    samples: int
    least_samples: int


SAMPLING = {"draft": Sampling(12, 4), "final": Sampling(40, 8)}
# So low that only what has no noise, sky and sheet, stops early; elsewhere an even number of
# samples came out better than any spread by Cycles' own guess at the noise.
ADAPTIVE_THRESHOLD = 0.002
assert set(SAMPLING) == set(QUALITIES)


def set_engine(scene: bpy.types.Scene, quality: str, *, seed: int = 0) -> None:
    """Cycles with denoising by albedo and normal, few bounces, no caustics."""
    sampling = SAMPLING[quality]
    scene.render.engine = "CYCLES"
    cycles = scene.cycles
    cycles.samples = sampling.samples
    cycles.sampling_pattern = (
        "TABULATED_SOBOL"  # as Blender's own startup file; a new scene differs
    )
    cycles.use_adaptive_sampling = True
    cycles.adaptive_threshold = ADAPTIVE_THRESHOLD
    cycles.adaptive_min_samples = sampling.least_samples
    try:
        cycles.denoiser = "OPENIMAGEDENOISE"
    except TypeError:  # some distributions build Blender without it
        cycles.use_denoising = False
        print("this Blender has no denoiser: pictures are grainier", file=sys.stderr)
    else:
        cycles.use_denoising = True
        cycles.denoising_input_passes = "RGB_ALBEDO_NORMAL"
        cycles.denoising_prefilter = "FAST"
    cycles.max_bounces = cycles.diffuse_bounces = 4
    cycles.glossy_bounces = 2
    cycles.transmission_bounces = 0
    cycles.transparent_max_bounces = 2
    cycles.caustics_reflective = cycles.caustics_refractive = False
    cycles.sample_clamp_indirect = 10.0
    cycles.use_light_tree = False  # there is one lamp
    cycles.seed = seed


def set_device(scene: bpy.types.Scene, wanted: str) -> str:
    """Render on the wanted kind of device where there is one, else on the processor.

    Returns what is used, in words fit for a log: ``processor``, ``CUDA: name of the card`` or
    ``processor (no graphics card found)``.
    """
    scene.cycles.device = "CPU"
    if wanted == PROCESSOR:
        return PROCESSOR
    addon = bpy.context.preferences.addons.get("cycles")
    kinds = (wanted,) if wanted in GPU_KINDS else GPU_KINDS
    for kind in kinds if addon is not None else ():
        preferences = addon.preferences
        try:
            preferences.compute_device_type = kind.upper()
        except TypeError:  # not built for this system
            continue
        preferences.refresh_devices()
        cards = [d for d in preferences.devices if d.type == kind.upper()]
        if cards:
            for device in preferences.devices:
                device.use = device in cards
            scene.cycles.device = "GPU"
            scene.cycles.denoising_use_gpu = True
            return f"{kind.upper()}: {', '.join(card.name for card in cards)}"
    sought = {"auto": "", GRAPHICS: " (no graphics card found)"}
    return PROCESSOR + sought.get(wanted, f" (no {wanted.upper()} card found)")


def set_colour(scene: bpy.types.Scene, exposure_stops: float, white_k: float) -> None:
    """The same rendering of tones for every picture; exposure and white follow hour and view."""
    scene.display_settings.display_device = "sRGB"
    view = scene.view_settings
    view.view_transform = VIEW_TRANSFORM
    view.look = CONTRAST
    view.exposure, view.gamma = exposure_stops, 1.0
    if hasattr(view, "use_white_balance"):
        view.use_white_balance = True
        view.white_balance_temperature = white_k
        view.white_balance_tint = 10.0


def set_file(
    scene: bpy.types.Scene,
    suffix: str,
    depth_bits: int,
    metadata: Mapping[str, str] | None = None,
) -> None:
    """File type by suffix: ``.png`` with 8 or 16 bits, ``.exr`` (16-bit float), ``.jpg``.

    Blender's own stamps, which change from run to run, are left out. An OpenEXR file gets
    ``metadata`` as its note; the others are labelled once written.

    Raises:
        ValueError: another suffix.
    """
    image = scene.render.image_settings
    if hasattr(image, "media_type"):
        image.media_type = "IMAGE"
    kinds = {".png": "PNG", ".exr": "OPEN_EXR", ".jpg": "JPEG", ".jpeg": "JPEG"}
    if suffix not in kinds:
        raise ValueError(f"pictures are written as {', '.join(kinds)}, not {suffix!r}")
    image.file_format = kinds[suffix]
    image.color_mode = "RGB"
    if suffix == ".png":
        image.color_depth, image.compression = str(depth_bits), 15
    elif suffix == ".exr":
        image.color_depth, image.exr_codec = "16", "ZIP"
    else:
        image.quality = 92
    for name in scene.render.bl_rna.properties.keys():  # noqa: SIM118 - Blender's own collection
        if name.startswith("use_stamp"):
            setattr(scene.render, name, False)
    if suffix == ".exr" and metadata:
        scene.render.use_stamp_note = True
        scene.render.stamp_note_text = "; ".join(f"{k}: {v}" for k, v in metadata.items())
    scene.render.use_file_extension = False
    scene.render.film_transparent = False
