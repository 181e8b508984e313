"""Which pictures a scene asks for: views, framing common to all designs, and each one's key."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from massing import __version__
from massing.design.design import Design
from massing.design.site import LEVEL, GroundDesign
from massing.files import slug
from massing.geometry.mesh import Floats
from massing.practice.cautions import METADATA
from massing.practice.seasons import trees_are_bare
from massing.present import words
from massing.render.driver.shots import DRAWN, Shot
from massing.scene.spec import OwnCamera
from massing.study.code import code_hash
from massing.study.manifest import hash_of, model_hash
from massing.study.study import Study
from massing.sun.position import SunTime, dusk
from massing.sun.written_times import DUSK
from massing.view.camera import Camera
from massing.view.cameras import at_one_scale, camera_for, looking
from massing.view.framing import box_corners

SIZES_PX = {"draft": (800, 500), "final": (1600, 1000)}
SMALL_PX = (320, 200)  # of the first pictures of a run, which larger ones replace


@dataclass(frozen=True)
class Picture:
    """One picture that a scene asks for; ``path`` is under the study's folder.

    ``also`` names the kinds of file it is written as besides; see :data:`~.shots.ALSO`.
    """

    design: str
    view: str
    sun: SunTime
    look: str
    quality: str
    camera: Camera
    path: str
    also: tuple[str, ...] = ()
    key: str = ""


def choose(study: Study, only: Iterable[str]) -> dict[str, set[str]]:
    """What ``only`` picks of each kind: ``designs``, ``times``, ``views``, ``looks``.

    A word picks what it names, or what alone begins with it or holds it, in any case of
    letters. A kind of which nothing is named is left whole.

    Raises:
        ValueError: a word that names nothing, or several things alike.
    """
    scene = study.loaded.scene
    kinds: dict[str, Sequence[str]] = {
        "designs": [design.name for design in study.designs],
        "times": scene.times,
        "views": [*scene.views, *(camera.name for camera in scene.cameras)],
        "looks": scene.looks,
    }
    picked: dict[str, set[str]] = {kind: set() for kind in kinds}
    everything = [(kind, name) for kind, names in kinds.items() for name in dict.fromkeys(names)]
    for word in only:
        wanted = " ".join(word.lower().split())
        found: list[tuple[str, str]] = []
        for like in (str.__eq__, str.startswith, str.__contains__):
            found = found or [item for item in everything if like(item[1].lower(), wanted)]
        names = [name for _, name in found]
        if len(found) != 1 or not wanted:
            given = f"--only: given {word}, allowed: "
            if found and wanted:
                raise ValueError(f"{given}one of {', '.join(names)} by more of its name")
            raise ValueError(f"{given}{', '.join(name for _, name in everything)}")
        picked[found[0][0]].add(found[0][1])
    return {kind: picked[kind] or set(names) for kind, names in kinds.items()}


def pictures(
    study: Study,
    quality: str,
    size_px: tuple[int, int] | None = None,
    also: Sequence[str] = (),
) -> list[Picture]:
    """Every picture that the scene asks for, grouped by design."""
    width_px, height_px = size_px or SIZES_PX[quality]
    scene = study.loaded.scene
    focus = focus_points(study.designs)
    ground = study.designs[0].site.ground
    cameras: dict[str, Camera] = {
        view: camera_for(
            view,
            study.bounds_m,
            width_px=width_px,
            height_px=height_px,
            focus=focus,
            ground=ground,
            sun_side=study.sun_side,
            outline_m=study.outline_m,
        )
        for view in dict.fromkeys(scene.views)
    }
    cameras |= {own.name: own_camera(own, width_px, height_px, ground) for own in scene.cameras}
    own = _own_framing(study, cameras) if scene.framing == "own" else {}
    made = []
    for design in study.designs:
        shape = model_hash(study.models[design.name])
        for sun in study.suns:
            for view, shared in cameras.items():
                camera = own.get((design.name, view), shared)
                for look in dict.fromkeys(scene.looks):
                    if look == DRAWN and not (camera.is_elevation and camera.cut is None):
                        continue
                    path = f"{slug(design.name)}/{_file_name(view, sun, look)}"
                    picture = Picture(
                        design.name, view, sun, look, quality, camera, path, tuple(also)
                    )
                    key = picture_key(shape, shot_of(study, picture))
                    made.append(replace(picture, key=key))
    return made


CLOSE_VIEWS = ("close-up", "cornice", "under the porch", "walk")


def _own_framing(study: Study, shared: dict[str, Camera]) -> dict[tuple[str, str], Camera]:
    """Cameras of the close views by design and view, each of its own porch, at one scale."""
    own: dict[tuple[str, str], Camera] = {}
    for view in CLOSE_VIEWS:
        if view not in shared:
            continue
        of: dict[str, tuple[Camera, Floats]] = {}
        for design in study.designs:
            focus = focus_points([design])
            camera = camera_for(
                view,
                study.models[design.name].building_bounds,
                width_px=shared[view].width_px,
                height_px=shared[view].height_px,
                focus=focus,
                ground=design.site.ground,
            )
            of[design.name] = camera, focus["capital"][-1]
        for name, camera in zip(of, at_one_scale(list(of.values())), strict=True):
            own[name, view] = camera
    return own


def small_pictures(study: Study, asked: Sequence[Picture]) -> dict[str, Picture]:
    """Small drafts of the pictures asked, by path, to compare before those are made.

    None where those are not much larger. Each has the path of the picture that will replace it.
    """
    if not asked or asked[0].camera.width_px < 2 * SMALL_PX[0]:
        return {}
    wide, tall = asked[0].camera.width_px, asked[0].camera.height_px
    size = (SMALL_PX[0], round(SMALL_PX[0] * tall / wide))
    return {picture.path: picture for picture in pictures(study, "draft", size)}


def shot_of(study: Study, picture: Picture, folder: Path = Path()) -> Shot:
    """What the renderer is asked for; its file stands under ``folder``."""
    scene = study.loaded.scene
    sun = light(study, picture)
    by_day = "clear" if scene.sky == DUSK else scene.sky
    return Shot(
        camera=picture.camera,
        output=folder / picture.path,
        sun_direction=sun.direction,
        altitude_deg=sun.altitude_deg,
        look=picture.look,
        quality=picture.quality,
        beam_w_m2=sun.dni_w_m2,
        diffuse_w_m2=sun.dhi_w_m2,
        bare=trees_are_bare(sun.when and sun.when.date(), study.designs[0].site.latitude_deg),
        weathered=scene.weathering == "light" and picture.look == "materials",
        sky=DUSK if sun.label == DUSK else by_day,
        metadata={
            "Title": f"{scene.title}: {picture.design}",
            "Description": f"{words.view_and_look(picture.view, picture.look)}; "
            f"{words.light_line(scene.site.place, sun)}",
            "Software": f"massing {__version__}, {picture.quality}",
            **METADATA,
        },
        also=picture.also,
        levels=_levels(study, picture),
        lettering=_lettering(study, picture),
    )


def light(study: Study, picture: Picture) -> SunTime:
    """The hour that a picture is made in: its own, or dusk where the scene asks for that.

    Elevations, sections and white models are looked at for their shadows and keep their hour.
    """
    asked = study.loaded.scene.sky == DUSK and picture.look == "materials"
    if not asked or picture.camera.kind == "ortho":
        return picture.sun
    return dusk(picture.sun, study.designs[0].site) or picture.sun


def _lettering(study: Study, picture: Picture) -> tuple[str, ...]:
    """What a drawing is lettered with where the scene asks for a border."""
    scene = study.loaded.scene
    if picture.look != DRAWN or scene.sheet is None or not scene.sheet.border:
        return ()
    view = words.VIEW_WORDS.get(picture.view, picture.view)
    light = "conventional light" if picture.sun.when is None else picture.sun.label
    said = f"{scene.sheet.project or scene.title} · {view.lower()} · {light}"
    return (picture.design, said, scene.units)


def _levels(study: Study, picture: Picture) -> tuple[tuple[str, float], ...]:
    """Heights that stand at the side of a section: ground, floors, the order, wall top."""
    if picture.camera.cut is None:
        return ()
    # What sections alone need is not in every package of the Blender extension.
    from massing.present.drawings.heights import figures_of, house_levels, porch_levels

    design = next(d for d in study.designs if d.name == picture.design)
    said = [*house_levels(design, study.models[design.name]), *porch_levels(design)]
    named: dict[float, str] = {}
    for name, z in said:
        named.setdefault(round(z, 3), name)
    figures = figures_of(design)
    return tuple(
        (f"{name} {figures.level(z)}" if z else name, z) for z, name in sorted(named.items())
    )


def picture_key(shape: str, shot: Shot) -> str:
    """A hash of everything that a picture is made from, but for where it goes.

    The words inside the file count only where they are drawn; elsewhere they can be changed
    without making the picture again.

    Args:
        shape: the model's hash.
        shot: camera, sun, look, quality and size.
    """
    asked = shot.to_json() | {"output": "", "also": []}
    if shot.look != DRAWN:
        asked["metadata"] = {}
    return hash_of(shape, asked, code_hash("massing.render.blender.worker"))


def own_camera(
    own: OwnCamera, width_px: int, height_px: int, ground: GroundDesign = LEVEL
) -> Camera:
    """A scene's own camera in the house's frame."""
    stand, target = (
        (p.along, -p.before, p.height + float(ground.z_m(p.along, -p.before)))
        for p in (own.stand, own.look_at)
    )
    return looking(
        own.name,
        stand,
        target,
        focal_mm=1000.0 * own.lens,
        width_px=width_px,
        height_px=height_px,
    )


def _file_name(view: str, sun: SunTime, look: str) -> str:
    return f"{slug(view)}_{slug(sun.label)}_{slug(look)}.png"


SKY_SHARE = 0.16  # of an elevation's height, over the highest roof, that a page or sheet shows


def spare_sky(study: Study, camera: Camera) -> float:
    """The share of an elevation's height, from the top, that is blank sky and no more: a wide low
    house leaves much. Nothing of any other view."""
    if not camera.is_elevation or camera.cut is not None:
        return 0.0
    top = float(camera.project(box_corners(study.bounds_m))[:, 1].min()) / camera.height_px
    return max(0.0, (top - SKY_SHARE) / (1.0 - SKY_SHARE))


def focus_points(designs: Sequence[Design]) -> dict[str, Floats]:
    """What the close views look at, common to all designs; see ``view.cameras.Subject``."""
    capitals, lows, highs = [], [], []
    for design in designs:
        porch = design.porch.highest
        reach = porch.frieze_half_depth_m + porch.order.cornice_projection_m
        front_y = porch.column_y_m - reach
        capitals += [
            [x, porch.column_y_m, porch.column_top_z_m]
            for x in porch.axes_m[:: len(porch.axes_m) - 1]
        ]
        lows.append([porch.axes_m[0] - reach, front_y, porch.column_top_z_m])
        highs.append([porch.axes_m[-1] + reach, design.porch.back_y_m, porch.top_z_m])
    low, high = np.min(lows, axis=0), np.max(highs, axis=0)
    front_y = min(_foremost_y(design) for design in designs)
    foot_z = min(0.0, *(design.porch.steps.foot_z_m for design in designs))
    top_z = max(_topmost_z(design) for design in designs)
    return {
        "capital": np.array(capitals),
        "entablature": np.array([low, high]),
        "porch": np.array([[low[0], front_y, foot_z], [high[0], high[1], top_z]]),
        "bay": np.array([[_open_bay_m(designs), 0.0, 0.0]]),
    }


def _foremost_y(design: Design) -> float:
    """Where the porch on its ground reaches farthest before the house: cornice or steps."""
    porch, steps = design.porch, design.porch.steps
    cornice = porch.frieze_half_depth_m + porch.order.cornice_projection_m
    return porch.column_y_m - max(cornice, porch.floor_edge_m + steps.run_m)


def _topmost_z(design: Design) -> float:
    """The top of the porch: its entablature, or the balustrade over it."""
    porch = design.porch.highest
    rail = porch.balustrade.height_m if porch.balustrade else 0.0
    return porch.stands_on_z_m + rail


def _open_bay_m(designs: Sequence[Design]) -> float:
    """A place along the front within every design's porch and clear of its columns: the first
    porch's middle if it is, else in a bay from there to the right."""
    axes = np.concatenate([design.porch.axes_m for design in designs])
    bays = np.concatenate(
        [(np.array(d.porch.axes_m[1:]) + d.porch.axes_m[:-1]) / 2 for d in designs]
    )
    middle = designs[0].porch.centre_m
    narrowest = min(float(design.porch.axes_m[-1]) for design in designs)
    bays = np.append(middle, bays[(bays >= middle - 1e-9) & (bays < narrowest)])
    clear = np.abs(bays[:, None] - axes).min(axis=1)
    widest = max(design.porch.order.plinth_width_m for design in designs)
    return float(bays[0] if clear[0] > widest else bays[np.argmax(clear)])
