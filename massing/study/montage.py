"""The alternatives stood in a photograph of the site.

The camera is found from known points of the house as it stands, the sun from when the photograph
was taken or from one shadow in it. Each design is rendered from that camera with the shadow that it
throws on the ground, exposed as the house as it stands is in the photograph, given its grain, and
laid in behind what the mask keeps in front. What the scene says of trees, hedges and neighbours is
left out: the photograph has its own.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from massing import __version__
from massing.design.design import Design
from massing.design.setting import SCENERY
from massing.design.site import GroundDesign
from massing.files import slug, sole_use, temporary_folder, write_by
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.practice.cautions import METADATA
from massing.present import words
from massing.present.sheets.given_image import given_image
from massing.present.sheets.in_photograph import (
    Mark,
    between_pixels,
    exposure_gain,
    laid_in,
    marked,
    not_shaded_twice,
)
from massing.render.driver.run import ShotResult, render_pictures
from massing.render.driver.shots import Shot
from massing.scene.errors import DesignError
from massing.scene.load import LoadedScene
from massing.scene.spec import Photograph
from massing.study.code import code_hash
from massing.study.manifest import Manifest, hash_of, model_hash
from massing.study.pictures import picture_key
from massing.study.run import RENDER_LOG
from massing.study.study import Study
from massing.sun.position import sun_time
from massing.units import format_length
from massing.view.photograph import Photographed, solve_camera, sun_by_shadow

LONGEST_PX = {"draft": 1200, "final": 2400}  # of a montage; a larger photograph is made smaller
SHORTEST_PX = 64
SPARE_PX = 8  # about a bent photograph's edge, so that none of it is left without a render

Progress = Callable[[int, int, str], object]


@dataclass(frozen=True)
class Sunlight:
    """The sun of a photograph, and how it is known in words."""

    direction: tuple[float, float, float]
    altitude_deg: float
    beam_w_m2: float | None
    diffuse_w_m2: float | None
    said: str


@dataclass(frozen=True)
class Site:
    """A photograph made ready to build in.

    Attributes:
        image: in plain colours, as large as the montage.
        kept: ``(h, w)`` share of each pixel that stays before the house.
        found: its camera, of that size.
        given_px: ``(n, 2)`` the known points in it.
        points_m: ``(n, 3)`` where they are on the house.
        scale: pixels here to one of the file's.
        light: the sun.
        sha256: of what was read.
    """

    image: Image.Image
    kept: Floats
    found: Photographed
    given_px: Floats
    points_m: Floats
    scale: float
    light: Sunlight
    sha256: str


def read_photograph(loaded: LoadedScene, design: Design, longest_px: int) -> Site:
    """The scene's photograph, its camera and its sun.

    Args:
        design: as drawn, for the site and the lie of its ground.
        longest_px: the montage's longer side at the most.

    Raises:
        SceneError: no photograph, or one that cannot be used; one line.
    """
    scene = loaded.scene
    try:
        if scene.photograph is None:
            raise DesignError("photograph", "nothing", "an image and six known points in it")
        return _read(loaded, scene.photograph, design, longest_px)
    except DesignError as fault:
        raise loaded.error(scene.as_drawn, fault) from None


def _read(loaded: LoadedScene, asked: Photograph, design: Design, longest_px: int) -> Site:
    folder = loaded.path.parent
    whole = _opened(folder, asked.image, "photograph.image")
    scale = min(1.0, longest_px / max(whole.size))
    size = (round(whole.width * scale), round(whole.height * scale))
    shapes = np.array(size) / whole.size
    if min(size) < SHORTEST_PX:
        raise DesignError("photograph.image", asked.image, f"{SHORTEST_PX} pixels or more each way")
    for i, point in enumerate(asked.points):
        right, down = point.pixel
        if right > whole.width or down > whole.height:
            allowed = f"within the photograph's {whole.width} by {whole.height} pixels"
            raise DesignError(f"photograph.points.{i}.pixel", f"[{right:g}, {down:g}]", allowed)
    pixels = np.array([point.pixel for point in asked.points]) + 0.5
    there = np.array([(p.along, -p.before, p.height) for p in asked.points])
    horizon = None if asked.horizon is None else asked.horizon + 0.5
    try:
        found = solve_camera(pixels, there, whole.size, horizon_px=horizon)
    except ValueError as fault:
        given = f"{len(there)} points that do not tell the camera"
        raise DesignError("photograph.points", given, str(fault)) from None
    smaller = replace(found.camera, width_px=size[0], height_px=size[1])
    found = replace(found, camera=smaller, misses_px=scale * found.misses_px)
    kept = np.zeros((size[1], size[0]))
    mask = None
    if asked.mask is not None:
        mask = _opened(folder, asked.mask, "photograph.mask")
        if abs(mask.width / mask.height * whole.height / whole.width - 1.0) > 0.01:
            given = f"{asked.mask}, {mask.width} by {mask.height} pixels"
            allowed = f"of the photograph's shape, {whole.width} by {whole.height} pixels"
            raise DesignError("photograph.mask", given, allowed)
        kept = np.asarray(mask.convert("L").resize(size, Image.Resampling.LANCZOS)) / 255.0
    digest = hashlib.sha256(whole.tobytes() + (mask.tobytes() if mask else b""))
    return Site(
        whole if scale == 1.0 else whole.resize(size, Image.Resampling.LANCZOS),
        kept,
        found,
        pixels * shapes,
        there,
        scale,
        _light(loaded, asked, design, found, shapes),
        digest.hexdigest(),
    )


def _opened(folder: Path, name: str, field: str) -> Image.Image:
    try:
        image = given_image(folder, name)
    except ValueError as fault:
        given, _, allowed = str(fault).removeprefix("given ").partition(", allowed: ")
        raise DesignError(field, given, allowed) from None
    if image.mode[0] in "IF":
        raise DesignError(field, f"{name}, of more than 8 bits to a colour", "one of 8 bits")
    plain = Image.new("RGBA", image.size, "black")
    plain.alpha_composite(image.convert("RGBA"))
    return plain.convert("RGB")


def _light(
    loaded: LoadedScene, asked: Photograph, design: Design, found: Photographed, shapes: Floats
) -> Sunlight:
    if asked.shadow is not None:
        shadow = asked.shadow
        seen = (np.array(shadow.pixel) + 0.5) * shapes
        given = f"[{shadow.pixel[0]:g}, {shadow.pixel[1]:g}]"
        try:
            if shadow.falls_on == "wall":
                falls = _on_wall(found, seen, -shadow.wall_before)
            else:
                falls = _on_ground(found, seen, design.site.ground)
            to_sun = sun_by_shadow((shadow.along, -shadow.before, shadow.height), falls)
        except ValueError as fault:
            raise DesignError("photograph.shadow.pixel", given, str(fault)) from None
        altitude = float(np.degrees(np.arcsin(to_sun[2])))
        return Sunlight(to_sun, altitude, None, None, f"the sun {altitude:.1f}° up, by a shadow")
    written = asked.time or loaded.scene.times[0]
    try:
        sun = sun_time(written, design.site)
        if not sun.is_up:
            raise ValueError(f"allowed: a time with the sun up; {sun.note}")
    except ValueError as fault:
        field = "photograph.time" if asked.time else "times.0"
        allowed = str(fault).rpartition("allowed: ")[2]
        raise DesignError(field, written, allowed) from None
    light = words.light_line(loaded.scene.site.place, sun)
    return Sunlight(sun.direction, sun.altitude_deg, sun.dni_w_m2, sun.dhi_w_m2, light)


def _ray(found: Photographed, seen: Floats) -> tuple[Floats, Floats]:
    camera = found.camera
    straight = found.straight(seen[None])[0]
    right, up, forward = camera.axes
    x, y = (straight - np.array([camera.width_px, camera.height_px]) / 2.0) / found.focal_px
    return np.array(camera.position_m), forward + x * right - y * up


def _on_wall(found: Photographed, seen: Floats, y_m: float) -> Floats:
    eye, way = _ray(found, seen)
    far = (y_m - eye[1]) / way[1] if abs(way[1]) > 1e-9 else -1.0
    if far <= 0.0:
        raise ValueError("a place on a wall that the camera faces")
    return eye + far * way


def _on_ground(found: Photographed, seen: Floats, lie: GroundDesign) -> Floats:
    eye, way = _ray(found, seen)
    if way[2] >= -1e-6:
        raise ValueError("a place below the horizon")
    at, z = eye, 0.0
    for _ in range(30):  # a gentle slope is met in a few
        at = eye + (z - eye[2]) / way[2] * way
        z = float(lie.z_m(at[0], at[1]))
    return at


def lines_said(site: Site, units: str) -> list[str]:
    """What was found: the camera, how the points agree, bad ones by name, the sun."""
    found, camera = site.found, site.found.camera
    x, y, z = camera.position_m
    side = "right" if x > 0 else "left"
    said = [
        f"taken with a lens of {camera.focal_mm:.1f} mm (for a 36 mm wide film), "
        f"{format_length(abs(x), units)} {side} of the front's middle, "
        f"{format_length(-y, units)} before it, {format_length(z, units)} up; "
        f"sure to {100.0 * found.unsure:.1f} % and {format_length(found.unsure_m, units)} for a "
        "pixel's error of the points"
    ]
    kept = [i for i in range(len(found.misses_px)) if i not in found.bad]
    misses = found.misses_px / site.scale
    worst = max(kept, key=lambda i: misses[i])
    said.append(
        f"the points lie {found.miss_px / site.scale:.1f} px from where the camera sees them "
        f"(root of the mean square), point {worst + 1} farthest, by {misses[worst]:.1f} px"
    )
    said += [
        f"point {i + 1} lies {misses[i]:.0f} px off and agrees with no others: left out; "
        "look at its pixel and its sizes again"
        for i in found.bad
    ]
    if abs(found.bend) > 0.002:
        corner = float(np.hypot(camera.width_px, camera.height_px)) / 2.0 / found.focal_px
        share = found.bend * corner**2
        way = "outward" if share > 0 else "inward"
        said.append(f"the lens bends straight lines: {abs(share):.1%} {way} in the corners")
    said.append(f"light: {site.light.said}")
    return said


# --- making them -----------------------------------------------------------------------------


@dataclass(frozen=True)
class MontageOutcome:
    """Files made or standing, and errors by design."""

    made: tuple[Path, ...]
    failed: dict[str, str]


def make_montages(
    study: Study,
    designs: Sequence[Design],
    folder: Path,
    site: Site,
    *,
    quality: str = "draft",
    progress: Progress = lambda done, total, what: None,
    **render_options: Any,
) -> MontageOutcome:
    """Stand designs in the photograph: ``FOLDER/name_montage.png``, and its points marked.

    A montage that stands already, of the same model, photograph, mask, points, sun and quality, is
    kept.
    """
    with sole_use(folder, lambda: None):
        manifest = Manifest(folder)
        reference = study.designs[0]
        base = _shot(study, site, reference, "draft", Path())
        shape = model_hash(_standing_alone(study.models[reference.name]))
        first = picture_key(shape, base)
        wanted = []
        for design in designs:
            path = folder / f"{slug(design.name)}_montage.png"
            shot = _shot(study, site, design, quality, Path())
            own = picture_key(model_hash(_standing_alone(study.models[design.name])), shot)
            key = hash_of(first, own, site.sha256, site.found.bend, code_hash(__name__))
            wanted.append(_Wanted(design, path, shot, key))
        made = [folder / "points.png"]
        write_by(made[0], lambda temporary: _save(_with_points(site), temporary, {}))
        todo = [w for w in wanted if not manifest.stands(w.path.name, w.key)]
        made += [w.path for w in wanted if w not in todo]
        failed: dict[str, str] = {}
        if todo:
            with temporary_folder(folder / "renders") as renders:
                log = folder / RENDER_LOG
                options = {**render_options, "log_path": log}
                drawn = _photographed(study, base, todo, renders, progress, options)
                laid, failed = _laid_in(site, study.designs[0].name, todo, drawn, manifest)
                made += laid
    return MontageOutcome(tuple(made), failed)


class _Wanted(NamedTuple):
    """A montage that is to stand: of which design, where, how it is photographed, its key."""

    design: Design
    path: Path
    shot: Shot
    key: str


def _photographed(
    study: Study,
    base: Shot,
    todo: Sequence[_Wanted],
    renders: Path,
    progress: Progress,
    render_options: dict[str, Any],
) -> list[ShotResult]:
    """The design as drawn, which tells the light, and then each that is wanted."""
    reference = study.designs[0].name
    shots = [replace(base, output=renders / "as-it-stands.png")]
    models = [_standing_alone(study.models[reference])]
    for i, each in enumerate(todo):
        shots.append(replace(each.shot, output=renders / f"{i}.png"))
        models.append(_standing_alone(study.models[each.design.name]))
    pairs = list(zip(models, shots, strict=True))
    names = [f"{reference}, for its light", *(each.design.name for each in todo)]
    ended: list[str] = []

    def one_more(result: ShotResult) -> None:
        ended.append(names[shots.index(result.shot)])
        progress(len(ended), len(pairs), ended[-1])

    progress(0, len(pairs), "")
    return render_pictures(pairs, on_done=one_more, **render_options)


def _laid_in(
    site: Site,
    reference: str,
    todo: Sequence[_Wanted],
    drawn: Sequence[ShotResult],
    manifest: Manifest,
) -> tuple[list[Path], dict[str, str]]:
    """The montages written, and by design why another could not be made."""
    first, *done = drawn
    if first.error:
        names = zip(todo, done, strict=True)
        why = {w.design.name: r.error or first.error for w, r in names}
        return [], {reference: first.error, **why}
    photograph = np.asarray(site.image, dtype=float) / 255.0
    standing = _drawn_in(site, first.shot)
    gain = exposure_gain(photograph, standing, site.kept)
    made, failed = [], {}
    for each, result in zip(todo, done, strict=True):
        if result.error:
            failed[each.design.name] = result.error
            continue
        render = not_shaded_twice(_drawn_in(site, result.shot), standing)
        laid = laid_in(photograph, render, site.kept, gain)
        image = Image.fromarray(np.round(255.0 * laid).astype(np.uint8))
        _write(each.path, image, each.shot.metadata)
        manifest.record([each.path.name], each.key, each.shot.metadata)
        made.append(each.path)
    return made, failed


def _write(path: Path, image: Image.Image, metadata: Any) -> None:
    write_by(path, lambda temporary: _save(image, temporary, metadata))


def _save(image: Image.Image, path: Path, metadata: Any) -> None:
    info = PngInfo()
    for key, value in {**METADATA, **dict(metadata)}.items():
        info.add_itxt(key, value)
    image.save(path, pnginfo=info)


def _with_points(site: Site) -> Image.Image:
    seen = site.found.project(site.points_m)
    return marked(
        site.image,
        [
            Mark((float(g[0]), float(g[1])), (float(s[0]), float(s[1])), i in site.found.bad)
            for i, (g, s) in enumerate(zip(site.given_px, seen, strict=True))
        ],
    )


def _standing_alone(model: Model) -> Model:
    """The house on its ground, without what the photograph has its own of."""
    kept = [p for p in model.parts if not p.within("setting") or p.within("setting", "ground")]
    notes = {key: value for key, value in model.notes.items() if key != SCENERY}
    return Model(tuple(kept), model.name, notes)


def _spare(found: Photographed) -> tuple[int, int]:
    """Pixels that a straight picture needs more at each side and edge, to be bent."""
    wide, tall = found.camera.width_px, found.camera.height_px
    if found.bend == 0.0:
        return 0, 0
    edge = [(x, y) for x in (0.0, wide / 2.0, wide) for y in (0.0, tall / 2.0, tall)]
    straight = found.straight(edge)
    more = np.maximum(-straight.min(axis=0), straight.max(axis=0) - [wide, tall])
    right, down = (int(np.ceil(max(v, 0.0))) + SPARE_PX for v in more)
    return right, down


def _shot(study: Study, site: Site, design: Design, quality: str, folder: Path) -> Shot:
    scene = study.loaded.scene
    right, down = _spare(site.found)
    camera = site.found.camera
    wide = camera.width_px + 2 * right
    wider = replace(
        camera,
        width_px=wide,
        height_px=camera.height_px + 2 * down,
        focal_mm=camera.focal_mm * camera.width_px / wide,
    )
    return Shot(
        camera=wider,
        output=folder / "montage.png",
        sun_direction=site.light.direction,
        altitude_deg=site.light.altitude_deg,
        look="materials",
        quality=quality,
        beam_w_m2=site.light.beam_w_m2,
        diffuse_w_m2=site.light.diffuse_w_m2,
        metadata={
            "Title": f"{scene.title}: {design.name}",
            "Description": f"stood in a photograph; {site.light.said}",
            "Software": f"massing {__version__}, {quality}",
            **METADATA,
        },
        catcher=True,
    )


def _drawn_in(site: Site, shot: Shot) -> Floats:
    """``(h, w, 4)`` tones and alpha of a render, as the photograph's own lens draws it."""
    with Image.open(shot.output) as opened:
        straight = np.asarray(opened.convert("RGBA"), dtype=float) / 255.0
    right, down = _spare(site.found)
    if not right and not down:
        return straight
    wide, tall = site.image.size
    at_y, at_x = np.mgrid[0:tall, 0:wide] + 0.5
    places = site.found.straight(np.stack([at_x, at_y], axis=-1)) + [right, down]
    flat = straight.copy()
    flat[..., :3] *= straight[..., 3:]
    made = between_pixels(flat, places)
    alpha = np.maximum(made[..., 3:], 1e-6)
    return np.concatenate([made[..., :3] / alpha, made[..., 3:]], axis=-1)
