"""One model built once, photographed many times; several may stand beside each other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil
from pathlib import Path

import bpy

from massing.build.scenery import pictured
from massing.files import put_in_place, temporary_name
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.render.blender.backdrop import (
    add_horizon,
    catch_shadows,
    light_hollows,
    show_before,
    show_sheet,
    show_slope,
    wash_cuts,
)
from massing.render.blender.camera import place_camera
from massing.render.blender.lamps import light_lamps
from massing.render.blender.light import set_light
from massing.render.blender.materials import LOOK_EXPOSURE, apply_look
from massing.render.blender.objects import build_model
from massing.render.blender.quality import set_colour, set_device, set_engine, set_file
from massing.render.blender.scenery import show_scenery
from massing.render.driver.camera_exposure import (
    DUSK_STOPS,
    DUSK_WHITE_K,
    even_tone,
    exposure_stops,
    facing_sun,
    white_k,
)
from massing.render.driver.shots import DRAWN, DUSK, Shot
from massing.view.foreground import standing_before
from massing.view.ground_line import GroundLine, ground_line
from massing.view.section import cut_model

DRAWN_FINENESS = {"draft": 2, "final": 3}
THIN_M = 0.0127  # a metal roof's seam, not to be missed between two rays
MOST_FINENESS = 4


@dataclass
class _Stage:
    """One model as Blender's objects, in a scene of its own, and the look they have on."""

    scene: bpy.types.Scene
    objects: list[bpy.types.Object]
    shown: Model
    look: str = ""


def empty_blender(device: str = "auto") -> str:
    """Take everything out of Blender; the device that it will render on, in words."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    return set_device(bpy.context.scene, device)


class Studio:
    """A Blender scene holding one model, ready for any number of shots.

    Studios of several models stand side by side, each in a scene of its own; a section's cut model
    has one too.
    """

    def __init__(self, model: Model, device: str = "auto", staging: Path | None = None) -> None:
        """Build the model.

        Args:
            model: what to photograph.
            device: one of ``shots.DEVICES``.
            staging: the folder for unfinished files, on the disk of the finished ones; else they
                stand beside them.
        """
        self.model = model
        self.staging = staging
        self.device = device
        self._stages: dict[tuple[float, float, float, float] | None, _Stage] = {}
        self._stage(None)

    def _stage(self, cut: tuple[float, float, float, float] | None) -> _Stage:
        """The model whole or cut, built when it is first asked for."""
        if cut not in self._stages:
            scene = bpy.data.scenes.new("massing")
            set_device(scene, self.device)
            root = scene.collection
            shown = pictured(self.model) if cut is None else _cut_open(self.model, cut)
            objects = build_model(shown, root) + add_horizon(self.model, root)
            self._stages[cut] = _Stage(scene, objects, shown)
        return self._stages[cut]

    def leave(self) -> None:
        """Take the model out of Blender again."""
        for stage in self._stages.values():
            bpy.data.batch_remove(list(stage.scene.collection.all_objects))
            bpy.data.batch_remove(list(stage.scene.collection.children_recursive))
            bpy.data.scenes.remove(stage.scene)
        self._stages.clear()
        bpy.data.orphans_purge(do_recursive=True)

    def compose(self, shot: Shot) -> bpy.types.Scene:
        """Set camera, look, light and quality for a shot without rendering it."""
        cut = shot.camera.cut
        stage = self._stage(cut)
        worn = f"{shot.look}{' weathered' if shot.weathered else ''}"
        if worn != stage.look:
            opened, weathered = cut is not None, shot.weathered
            notes = self.model.notes
            apply_look(stage.objects, shot.look, notes, opened=opened, weathered=weathered)
            stage.look = worn
        line = ground_line(self.model, shot.camera) if shot.camera.is_elevation else None
        tone = set_up(stage.scene, shot, stage.scene.collection, line)
        show_slope(stage.scene, stage.objects, line)
        show_before(stage.objects, standing_before(stage.shown, shot.camera))
        show_scenery(stage.objects, stage.shown, shot)
        light_lamps(stage.scene, stage.shown, shot.sky == DUSK)
        catch_shadows(stage.scene, stage.objects, shot.catcher)
        if cut is not None:
            wash_cuts(stage.objects, tone, {part.name: part.role for part in self.model.parts})
        return stage.scene

    def take(self, shot: Shot) -> None:
        """Render a shot to its files, each of which appears whole or not at all."""
        shot.output.parent.mkdir(parents=True, exist_ok=True)
        further = [path for path in shot.also_files if path != shot.output]
        temporary = {path: self._unfinished(path) for path in (shot.output, *further)}
        try:
            if shot.look == DRAWN:
                self._draw(shot, temporary)
            else:
                self._render(shot, temporary)
            from massing.render.driver.labels import write_metadata  # only files need it

            # The picture itself comes last: where it stands, the others stand too.
            for path in reversed(temporary):
                if not temporary[path].exists():
                    raise OSError(f"Blender wrote no picture for {path.name}")
                write_metadata(temporary[path], shot.metadata)
                put_in_place(temporary[path], path)
        finally:
            for path in temporary.values():
                path.unlink(missing_ok=True)

    def _unfinished(self, path: Path) -> Path:
        return (self.staging or path.parent) / temporary_name(path).name

    def _render(self, shot: Shot, files: Mapping[Path, Path]) -> None:
        """Render once and write every file from that."""
        scene = self.compose(shot)
        scene.render.filepath = str(files[shot.output])
        bpy.ops.render.render(write_still=True, scene=scene.name)
        if shot.levels and shot.depth_bits == 8:
            from massing.present.drawings.picture_levels import mark_levels

            mark_levels(files[shot.output], shot.camera, shot.levels)
        for path, bits in shot.also_files.items():
            set_file(scene, path.suffix, bits, shot.metadata)
            bpy.data.images["Render Result"].save_render(str(files[path]), scene=scene)

    def _draw(self, shot: Shot, files: Mapping[Path, Path]) -> None:
        if shot.output.suffix.lower() == ".exr" or shot.depth_bits != 8:
            raise ValueError("a drawn elevation is written as PNG or JPEG of 8 bits")
        from massing.present.ink.elevation import draw_elevation
        from massing.present.ink.lettering import Lettering

        image = draw_elevation(
            self.model,
            shot.camera,
            shot.sun_direction,
            fineness=_fineness(shot),
            lettering=Lettering(*shot.lettering) if shot.lettering else None,
        )
        for path in files.values():
            image.save(path, quality=92)


def _cut_open(model: Model, cut: tuple[float, float, float, float]) -> Model:
    """The house beyond a section's plane: what is planted and built about it is not drawn."""
    kept = [p for p in model.parts if not p.within("setting") or p.within("setting", "ground")]
    return cut_model(replace(model, parts=tuple(kept)), cut[:3], cut[3])


def _fineness(shot: Shot) -> int:
    """Rays along a pixel of a drawing: more where the pixels are large."""
    enough = ceil(shot.camera.metres_per_pixel / THIN_M)
    return max(DRAWN_FINENESS[shot.quality], min(enough, MOST_FINENESS))


def set_up(
    scene: bpy.types.Scene,
    shot: Shot,
    parent: bpy.types.Collection,
    line: GroundLine | None = None,
) -> Floats:
    """Set the camera, light, sheet (under ``parent``), engine, colour and file of a shot.

    Returns the even tone of what keeps its own colour: :func:`even_tone`.
    """
    place_camera(scene, shot.camera)
    beam, diffuse = set_light(
        scene,
        shot.sun_direction,
        shot.altitude_deg,
        beam_w_m2=shot.beam_w_m2,
        diffuse_w_m2=shot.diffuse_w_m2,
        sky=shot.sky,
    )
    exposure = shot.exposure_stops
    facing = facing_sun(shot.camera, shot.sun_direction)
    if exposure is None:
        at_dusk = shot.sky == DUSK
        exposure = DUSK_STOPS if at_dusk else exposure_stops(beam, diffuse, facing)
    exposure += LOOK_EXPOSURE[shot.look]
    white = DUSK_WHITE_K if shot.sky == DUSK else white_k(facing)
    tone = even_tone(exposure, white)
    show_sheet(shot.camera, tone, parent, line)
    light_hollows(scene, shot.camera, parent, beam)
    set_engine(scene, shot.quality)
    set_colour(scene, exposure, white)
    set_file(scene, shot.output.suffix.lower(), shot.depth_bits, shot.metadata)
    return tone
