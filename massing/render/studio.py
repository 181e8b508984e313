"""One model built once, photographed many times."""

from __future__ import annotations

import os
from pathlib import Path

import bpy

from massing.mesh import Model
from massing.render.camera import place_camera
from massing.render.light import set_light
from massing.render.materials import apply_look
from massing.render.scene import build_model
from massing.render.setting import add_horizon, show_sheet
from massing.render.settings import set_colour, set_engine, set_file
from massing.render.shots import Shot


class Studio:
    """A Blender scene holding one model, ready for any number of shots."""

    def __init__(self, model: Model) -> None:
        """Empty Blender and build the model in it."""
        bpy.ops.wm.read_factory_settings(use_empty=True)
        self.scene = bpy.context.scene
        self.model = model
        root = self.scene.collection
        self.objects = build_model(model, root) + add_horizon(model, root)
        self.look = ""

    def compose(self, shot: Shot) -> None:
        """Set camera, look, light and quality for a shot without rendering it."""
        if shot.look != self.look:
            apply_look(self.objects, shot.look, self.model.notes)
            self.look = shot.look
        place_camera(self.scene, shot.camera)
        exposure = set_light(
            self.scene,
            shot.sun_direction,
            shot.altitude_deg,
            beam_w_m2=shot.beam_w_m2,
            diffuse_w_m2=shot.diffuse_w_m2,
        )
        if shot.exposure_stops is not None:
            exposure = shot.exposure_stops
        show_sheet(shot.camera, exposure, self.scene.collection)
        set_engine(self.scene, shot.quality)
        set_colour(self.scene, exposure)
        set_file(self.scene, shot.output.suffix.lower(), shot.depth_bits)

    def take(self, shot: Shot) -> None:
        """Render a shot to its file, which appears whole or not at all."""
        self.compose(shot)
        shot.output.parent.mkdir(parents=True, exist_ok=True)
        suffix = shot.output.suffix
        temporary = shot.output.with_name(f".{shot.output.stem}.{os.getpid()}.tmp{suffix}")
        try:
            self.scene.render.filepath = str(temporary)
            bpy.ops.render.render(write_still=True)
            if not temporary.exists():
                raise OSError(f"Blender wrote no picture for {shot.output.name}")
            if shot.metadata:
                _label(temporary, dict(shot.metadata), shot.depth_bits)
            temporary.replace(shot.output)
        finally:
            temporary.unlink(missing_ok=True)


def _label(path: Path, metadata: dict[str, str], depth_bits: int) -> None:
    """Write metadata into a finished PNG or JPEG; other kinds are left alone."""
    from PIL import Image
    from PIL.PngImagePlugin import PngInfo

    if path.suffix.lower() == ".png" and depth_bits == 8:
        info = PngInfo()
        for key, value in metadata.items():
            info.add_itxt(key, value)
        with Image.open(path) as picture:
            picture.load()
        picture.save(path, pnginfo=info, optimize=False)
