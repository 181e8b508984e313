"""Pictures in a row: the sun's day over a design, and one hour in four seasons.

A day gives a film and a strip of stills; the seasons give a strip with a row for each design.
Every still carries its date, hour and sun. A still that stands already, made from the same
model, sun, camera, look and quality, is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from massing import __version__
from massing.files import slug, sole_use, temporary_folder, write_by
from massing.practice.cautions import METADATA
from massing.practice.seasons import trees_are_bare
from massing.present import words
from massing.present.sheets.paper import saver
from massing.present.sheets.strips import Row, captioned, strip
from massing.render.driver.cluster import render_shots
from massing.render.driver.run import ShotResult, encode_film
from massing.render.driver.shots import Shot
from massing.study.manifest import Manifest, model_hash
from massing.study.pictures import SIZES_PX, focus_points, picture_key
from massing.study.run import RENDER_LOG
from massing.study.study import Study
from massing.sun.position import SunTime, front_day, sun_time, sun_times
from massing.sun.times import parse_time
from massing.view.camera import Camera
from massing.view.cameras import camera_for

SEASONS = ("spring equinox", "summer solstice", "autumn equinox", "winter solstice")
LOWEST_SUN_DEG = 2.0  # a day's film starts and ends above the dusk
STRIP_STILLS = 8
MARGIN_OF_WIDTH, ABOVE_M = 0.08, 0.6  # about the porch in a strip, and over its cornice
MOST_OF_PICTURE = 0.7  # a porch that takes more of it is shown with the whole picture
FRAMES_PER_SECOND = 8

Progress = Callable[[int, int, str], object]


@dataclass(frozen=True)
class SeriesOutcome:
    """Files made, and errors of the stills that failed by their names."""

    folder: Path
    made: tuple[Path, ...]
    failed: dict[str, str]


def day_suns(study: Study, day: str, step_min: float) -> list[SunTime]:
    """The suns of a written day from low in the morning to low in the evening.

    Args:
        day: such as ``summer solstice`` or ``14 May``.
        step_min: minutes from one to the next.

    Raises:
        ValueError: not a day, a step of nothing, or a day without enough sun.
    """
    if not step_min > 0.0:
        raise ValueError(f"step: given {step_min:g} minutes, allowed: more than nothing")
    site = study.designs[0].site
    noon = _instant(study, f"{day} solar noon")
    around = front_day(noon.date(), site)
    start = around.sunrise or noon - timedelta(hours=12)
    end = around.sunset or noon + timedelta(hours=12)
    step = timedelta(minutes=step_min)
    hours = [start + i * step for i in range(int((end - start) / step) + 1)]
    found = [sun for sun in sun_times(hours, site) if sun.altitude_deg >= LOWEST_SUN_DEG]
    if len(found) < 2:
        raise ValueError(f"{day}: the sun is not up long enough for a series; {around.front_words}")
    return found


def season_suns(study: Study, clock: str) -> list[SunTime]:
    """The suns of one clock time on the equinoxes and solstices.

    Raises:
        ValueError: not a clock time, or a season in which the sun is down at that hour.
    """
    found = [sun_time(f"{season} {clock}", study.designs[0].site) for season in SEASONS]
    for sun in found:
        if not sun.is_up:
            raise ValueError(f"given {clock}, allowed: an hour with the sun up; {sun.note}")
    return found


def _instant(study: Study, text: str) -> datetime:
    site = study.designs[0].site
    return parse_time(
        text,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        time_zone=site.time_zone,
        year=site.year,
    )


def run_day(
    study: Study,
    folder: Path,
    *,
    day: str,
    design: str,
    view: str = "street",
    look: str = "materials",
    step_min: float = 20.0,
    quality: str = "draft",
    size_px: tuple[int, int] | None = None,
    progress: Progress = lambda done, total, what: None,
    **render_options: Any,
) -> SeriesOutcome:
    """A day over one design: ``FOLDER/name.mp4`` and ``FOLDER/name.png``, a strip of stills.

    Raises:
        ValueError: unknown design, view, look or day.
    """
    suns = day_suns(study, day, step_min)
    name = slug(f"{design} {view} {look} {day}")
    with sole_use(folder, lambda: None):
        series = _Series(study, folder, view, look, quality, size_px or SIZES_PX[quality])
        ((stills,), failed) = series.stills([design], suns, progress, render_options)
        if failed:
            return SeriesOutcome(folder, (), failed)
        scene = study.loaded.scene
        with temporary_folder(folder / "frames") as frames_folder:
            frames = []
            for i, (still, sun) in enumerate(zip(stills, suns, strict=True)):
                left = f"{scene.title}: {design} · {_hour(sun)}"
                frames.append(frames_folder / f"{i:04d}.png")
                captioned(Image.open(still), left, words.sun_text(sun)).save(frames[-1])
            film = folder / f"{name}.mp4"
            log = folder / RENDER_LOG
            encode_film(frames, film, frames_per_second=FRAMES_PER_SECOND, log_path=log)
        chosen = evenly(len(suns), STRIP_STILLS)
        board = folder / f"{name}.png"
        image = strip(
            f"{scene.title}: {design}",
            f"{words.view_and_look(view, look)} · {scene.site.place} · {day}",
            [f"{_hour(suns[i])} · {words.sun_text(suns[i])}" for i in chosen],
            [
                Row(
                    "",
                    [
                        _small(stills[i], len(chosen), box)
                        for box in [porch_box(study, [design], series.camera())]
                        for i in chosen
                    ],
                )
            ],
        )
        write_by(board, saver(image))
    return SeriesOutcome(folder, (film, board), {})


def run_seasons(
    study: Study,
    folder: Path,
    *,
    clock: str,
    designs: Sequence[str] = (),
    view: str = "elevation",
    look: str = "clay",
    quality: str = "draft",
    size_px: tuple[int, int] | None = None,
    progress: Progress = lambda done, total, what: None,
    **render_options: Any,
) -> SeriesOutcome:
    """One clock time in four seasons: a strip with a row for each design.

    Raises:
        ValueError: unknown design, view or look, or a season with the sun down at that hour.
    """
    suns = season_suns(study, clock)
    names = list(designs) or [design.name for design in study.designs]
    with sole_use(folder, lambda: None):
        series = _Series(study, folder, view, look, quality, size_px or SIZES_PX[quality])
        rows, failed = series.stills(names, suns, progress, render_options)
        if failed:
            return SeriesOutcome(folder, (), failed)
        scene = study.loaded.scene
        board = folder / f"{slug(f'four seasons {clock} {view} {look}')}.png"
        image = strip(
            scene.title,
            f"{words.view_and_look(view, look)} · {scene.site.place} · one hour in four seasons",
            [f"{season}, {_hour(sun)}" for season, sun in zip(SEASONS, suns, strict=True)],
            [
                Row(name, [_small(still, len(suns), box) for still in stills])
                for box in [porch_box(study, names, series.camera())]
                for name, stills in zip(names, rows, strict=True)
            ],
        )
        write_by(board, saver(image))
    return SeriesOutcome(folder, (board,), {})


def evenly(count: int, most: int) -> list[int]:
    """At most ``most`` indices spread over ``count``, first and last among them.

    >>> evenly(25, 4), evenly(3, 8)
    ([0, 8, 16, 24], [0, 1, 2])
    """
    if count <= most:
        return list(range(count))
    return [round(i * (count - 1) / (most - 1)) for i in range(most)]


@dataclass(frozen=True)
class _Series:
    """What the stills of one series have in common."""

    study: Study
    folder: Path
    view: str
    look: str
    quality: str
    size_px: tuple[int, int]

    def camera(self) -> Camera:
        return camera_for(
            self.view,
            self.study.bounds_m,
            width_px=self.size_px[0],
            height_px=self.size_px[1],
            focus=focus_points(self.study.designs),
            ground=self.study.designs[0].site.ground,
            sun_side=self.study.sun_side,
            outline_m=self.study.outline_m,
        )

    def stills(
        self,
        designs: Sequence[str],
        suns: Sequence[SunTime],
        progress: Progress,
        options: dict[str, Any],
    ) -> tuple[list[list[Path]], dict[str, str]]:
        """The stills of each design, made where they do not stand; and errors by file name."""
        for name in designs:
            if name not in self.study.models:
                raise ValueError(f"given {name}, allowed: {', '.join(self.study.models)}")
        camera = self.camera()
        shots = {name: [self.shot(name, sun, camera) for sun in suns] for name in designs}
        manifest = Manifest(self.folder)
        keys: dict[Path, str] = {}
        for name, made in shots.items():
            shape = model_hash(self.study.models[name])
            keys |= {s.output: picture_key(shape, s) for s in made}

        def path_of(shot: Shot) -> str:
            return shot.output.relative_to(self.folder).as_posix()

        todo = {
            name: [s for s in made if not manifest.stands(path_of(s), keys[s.output])]
            for name, made in shots.items()
        }
        total, done = sum(map(len, todo.values())), 0
        failed: dict[str, str] = {}
        progress(0, total, "")

        def finished(result: ShotResult) -> None:
            nonlocal done
            done += 1
            if result.error:
                failed[result.shot.output.name] = result.error
            else:
                manifest.record(
                    [path_of(result.shot)], keys[result.shot.output], result.shot.metadata
                )
            progress(done, total, result.shot.output.stem)

        for name, wanted in todo.items():
            if wanted:
                model, log = self.study.models[name], self.folder / RENDER_LOG
                render_shots(model, wanted, log_path=log, on_done=finished, **options)
        return [[shot.output for shot in made] for made in shots.values()], failed

    def shot(self, design: str, sun: SunTime, camera: Camera) -> Shot:
        assert sun.when is not None
        stem = f"{slug(self.view)}_{sun.when:%Y-%m-%d_%H-%M}_{slug(self.look)}"
        scene = self.study.loaded.scene
        return Shot(
            camera=camera,
            output=self.folder / slug(design) / f"{stem}.png",
            sun_direction=sun.direction,
            altitude_deg=sun.altitude_deg,
            look=self.look,
            quality=self.quality,
            beam_w_m2=sun.dni_w_m2,
            diffuse_w_m2=sun.dhi_w_m2,
            bare=trees_are_bare(sun.when.date(), self.study.designs[0].site.latitude_deg),
            sky=scene.sky,
            metadata={
                "Title": f"{scene.title}: {design}",
                "Description": f"{words.view_and_look(self.view, self.look)}; "
                f"{words.light_line(scene.site.place, sun)}",
                "Software": f"massing {__version__}, {self.quality}",
                **METADATA,
            },
        )


def _hour(sun: SunTime) -> str:
    assert sun.when is not None
    return f"{sun.when.day} {sun.when:%B %Y, %H:%M}"


Box = tuple[int, int, int, int]


def porch_box(study: Study, names: Sequence[str], camera: Camera) -> Box | None:
    """What of a picture the porches of these designs take, with a margin: left, top, right, foot.

    A strip shows so much of each still, large enough for the eye to follow the shadows. None where
    that is most of the picture anyway.
    """
    corners = []
    for design in study.designs:
        if design.name not in names:
            continue
        porch = design.porch
        out, ends = porch.highest.order.cornice_projection_m, porch.highest.frieze_x_m
        foot, top = 0.0, porch.highest.top_z_m + ABOVE_M
        front = porch.column_y_m - porch.floor_edge_m
        across = ends[0] - out, ends[1] + out
        corners += [(x, y, z) for x in across for y in (front, 0.0) for z in (foot, top)]
    seen = camera.project(np.array(corners))
    if not np.isfinite(seen).all():
        return None
    (x0, y0), (x1, y1) = seen.min(axis=0), seen.max(axis=0)
    margin = MARGIN_OF_WIDTH * (x1 - x0)
    left, right = max(0, int(x0 - margin)), min(camera.width_px, int(x1 + margin) + 1)
    high, low = max(0, int(y0 - margin)), min(camera.height_px, int(y1 + margin) + 1)
    small = (right - left) * (low - high) < MOST_OF_PICTURE * camera.width_px * camera.height_px
    return (left, high, right, low) if small and right > left and low > high else None


def _small(path: Path, count: int, box: Box | None = None, most_px: int = 3200) -> Image.Image:
    """The picture, or a box of it, made smaller where ``count`` in a row would be too wide."""
    with Image.open(path) as picture:
        image = picture.convert("RGB")
    if box is not None:
        image = image.crop(box)
    width = min(image.width, most_px // count)
    return image.resize(
        (width, round(image.height * width / image.width)), Image.Resampling.LANCZOS
    )
