"""One model built once, photographed many times."""

from __future__ import annotations

import os
from pathlib import Path

import bpy

from massing.cutaway import cut_model
from massing.mesh import Model
from massing.present.drawn import draw_elevation
from massing.render.camera import place_camera
from massing.render.exposure import exposure_stops, facing_sun
from massing.render.labels import write_metadata
from massing.render.light import set_light
from massing.render.materials import LOOK_EXPOSURE, apply_look
from massing.render.scene import build_model
from massing.render.setting import add_horizon, show_sheet, wash_cuts
from massing.render.settings import set_colour, set_device, set_engine, set_file
from massing.render.shots import DRAWN, Shot

DRAWN_FINENESS = {"draft": 2, "final": 3}


class Studio:
    """A Blender scene holding one model, ready for any number of shots."""

    def __init__(self, model: Model, device: str = "auto") -> None:
        """Empty Blender and build the model in it; ``device`` is one of ``shots.DEVICES``."""
        self.model = model
        self.wanted_device = device
        self._stand(None)

    def _stand(self, cut: tuple[float, float, float, float] | None) -> None:
        bpy.ops.wm.read_factory_settings(use_empty=True)
        self.scene = bpy.context.scene
        self.device = set_device(self.scene, self.wanted_device)
        root = self.scene.collection
        shown = self.model if cut is None else cut_model(self.model, cut[:3], cut[3])
        self.objects = build_model(shown, root) + add_horizon(self.model, root)
        self.look, self.cut = "", cut

    def compose(self, shot: Shot) -> None:
        """Set camera, look, light and quality for a shot without rendering it."""
        if shot.camera.cut != self.cut:
            self._stand(shot.camera.cut)
        if shot.look != self.look:
            opened = self.cut is not None
            apply_look(self.objects, shot.look, self.model.notes, opened=opened)
            self.look = shot.look
        exposure = set_up(self.scene, shot, self.scene.collection)
        if self.cut is not None:
            wash_cuts(self.objects, exposure)

    def take(self, shot: Shot) -> None:
        """Render a shot to its file, which appears whole or not at all."""
        shot.output.parent.mkdir(parents=True, exist_ok=True)
        suffix = shot.output.suffix
        temporary = shot.output.with_name(f".{shot.output.stem}.{os.getpid()}.tmp{suffix}")
        try:
            if shot.look == DRAWN:
                self._draw(shot, temporary)
            else:
                self.compose(shot)
                self.scene.render.filepath = str(temporary)
                bpy.ops.render.render(write_still=True)
            if not temporary.exists():
                raise OSError(f"Blender wrote no picture for {shot.output.name}")
            write_metadata(temporary, shot.metadata)
            temporary.replace(shot.output)
        finally:
            temporary.unlink(missing_ok=True)

    def _draw(self, shot: Shot, path: Path) -> None:
        if path.suffix.lower() == ".exr" or shot.depth_bits != 8:
            raise ValueError("a drawn elevation is written as PNG or JPEG of 8 bits")
        image = draw_elevation(
            self.model,
            shot.camera,
            shot.sun_direction,
            fineness=DRAWN_FINENESS[shot.quality],
            title=shot.metadata.get("Title", ""),
            caption=shot.metadata.get("Description", ""),
        )
        image.save(path, quality=92)


def set_up(scene: bpy.types.Scene, shot: Shot, parent: bpy.types.Collection) -> float:
    """Set the camera, light, sheet (under ``parent``), engine, colour and file of a shot.

    Returns the exposure in stops.
    """
    place_camera(scene, shot.camera)
    beam, diffuse = set_light(
        scene,
        shot.sun_direction,
        shot.altitude_deg,
        beam_w_m2=shot.beam_w_m2,
        diffuse_w_m2=shot.diffuse_w_m2,
    )
    exposure = shot.exposure_stops
    if exposure is None:
        facing = facing_sun(shot.camera, shot.sun_direction)
        exposure = exposure_stops(beam, diffuse, facing)
    exposure += LOOK_EXPOSURE[shot.look]
    show_sheet(shot.camera, exposure, parent)
    set_engine(scene, shot.quality)
    set_colour(scene, exposure)
    set_file(scene, shot.output.suffix.lower(), shot.depth_bits, shot.metadata)
    return exposure
