"""Every view and look of scenes at final size, to be looked at, with the tones of each.

    python -m benchmarks.finals FOLDER [--scenes NAME ...] [--size 1600x1000] [--quality final]
                                       [--processes 16] [--threads 4] [--pack]

Of each scene one design that shows most, at the hour that shows its cornice best, in the scene's
own views and looks; of the first two scenes all views besides, a street under high cloud and one at
dusk. Prints for each picture its clock's seconds, the share of pixels clipped at white and near
black, and the tone that 99 of 100 pixels stay under. ``--pack`` lays the pictures into tar files
of 15 MB at the most.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import sys
import tarfile
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from massing.files import slug
from massing.findings.change import telling_sun
from massing.study.pictures import Picture, focus_points, shot_of
from massing.study.study import Study, read_study
from massing.view.camera import Camera
from massing.view.cameras import VIEWS, camera_for

SCENES = Path(__file__).parents[1] / "scenes"
SHOWN = {  # of each scene a design whose porch is worth a look
    "marsh_road": "doric",
    "foundry_lane": "",
    "osier_turn": "gambrel",
    "vineyard_cottage": "pediment",
    "heron_bluff": "",
    "pecan_street": "",
    "orchard_road": "",
}
ALL_VIEWS_OF = ("marsh_road", "foundry_lane")
ELEVATIONS = ("elevation", "right elevation", "rear elevation", "left elevation")
LARGEST_TAR = 15_000_000
NEAR_BLACK = 10


@dataclass(frozen=True)
class Asked:
    """One picture: scene, view, look and sky."""

    scene: str
    view: str
    look: str
    sky: str = ""

    @property
    def name(self) -> str:
        return f"{self.scene}_{slug(self.view)}_{self.look}{self.sky and '_' + slug(self.sky)}.jpg"


def main() -> None:
    """Make the pictures in processes of their own and print a row for each."""
    options = _options()
    options.folder.mkdir(parents=True, exist_ok=True)
    asked = list(dict.fromkeys(one for name in options.scenes for one in _asked(name)))
    # Each process takes a few of one scene: its model is built once for them.
    groups = [
        list(of[i : i + options.each])
        for of in (_alike(asked, key) for key in sorted({(a.scene, a.sky) for a in asked}))
        for i in range(0, len(of), options.each)
    ]
    groups.sort(key=len, reverse=True)
    start = time.perf_counter()
    print(f"{'':58}{'s':>8}{'white':>9}{'black':>9}{'99 %':>6}", flush=True)
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(options.processes, mp_context=context) as pool:
        waiting = [pool.submit(_made, group, options) for group in groups]
        for each in waiting:
            for row in each.result():
                print(row, flush=True)
    print(f"{len(asked)} pictures in {time.perf_counter() - start:.0f} s", flush=True)
    if options.pack:
        _pack(options.folder)


def _alike(asked: Sequence[Asked], key: tuple[str, str]) -> list[Asked]:
    return [a for a in asked if (a.scene, a.sky) == key]


def _asked(name: str) -> Iterator[Asked]:
    scene = read_study(SCENES / f"{name}.yaml").loaded.scene
    views = list(VIEWS) if name in ALL_VIEWS_OF else list(dict.fromkeys(scene.views))
    for view in views:
        looks = dict.fromkeys([*scene.looks, "materials"])
        for look in looks:
            if look != "drawn" or view in ELEVATIONS:
                yield Asked(name, view, look)
    yield Asked(name, "elevation", "drawn")
    if name in ALL_VIEWS_OF:
        yield Asked(name, "street", "materials", "high cloud")
        yield Asked(name, "street", "materials", "dusk")


def _made(group: Sequence[Asked], options: argparse.Namespace) -> list[str]:
    """Rows of a few pictures of one scene under one sky."""
    from massing.render.blender.studio import Studio, empty_blender

    path = SCENES / f"{group[0].scene}.yaml"
    text = path.read_text(encoding="utf-8")
    study = read_study(path, text + (f"\nsky: {group[0].sky}\n" if group[0].sky else ""))
    shown = SHOWN[group[0].scene]
    design = next(d for d in study.designs if shown in d.name.lower())
    sun = telling_sun(study.suns) or study.suns[0]
    with _silent():
        empty_blender(options.device)
        studio = Studio(study.models[design.name], options.device)
    rows = []
    for asked in dict.fromkeys(group):
        target = options.folder / asked.name
        if target.exists():
            continue
        start = time.perf_counter()
        try:
            _take(
                study,
                studio,
                Picture(
                    design.name,
                    asked.view,
                    sun,
                    asked.look,
                    options.quality,
                    _camera(study, asked, options),
                    "",
                ),
                target,
                options,
            )
        except Exception as fault:  # one that fails is told, the rest are made
            rows.append(f"{asked.name:58} failed: {fault!r}")
            continue
        took = time.perf_counter() - start
        rgb = np.asarray(Image.open(target).convert("RGB"))
        white, black = (rgb.min(axis=2) >= 254).mean(), (rgb.max(axis=2) <= NEAR_BLACK).mean()
        high = float(np.percentile(rgb.max(axis=2), 99.0))
        rows.append(f"{asked.name:58}{took:8.1f}{white:9.3%}{black:9.2%}{high:6.0f}")
    return rows


def _take(
    study: Study, studio: Any, picture: Picture, target: Path, options: argparse.Namespace
) -> None:
    whole = target.with_suffix(".png")
    shot = replace(shot_of(study, picture, options.folder), output=whole)
    with _silent():
        if picture.look != "drawn":
            studio.compose(shot)
            for stage in studio._stages.values():
                stage.scene.render.threads_mode = "FIXED"
                stage.scene.render.threads = options.threads
        studio.take(shot)
    with Image.open(whole) as image:
        image.convert("RGB").save(target, quality=88)
    whole.unlink()


def _camera(study: Study, asked: Asked, options: argparse.Namespace) -> Camera:
    width, height = map(int, options.size.split("x"))
    return camera_for(
        asked.view,
        study.bounds_m,
        width_px=width,
        height_px=height,
        focus=focus_points(study.designs),
        ground=study.designs[0].site.ground,
        sun_side=study.sun_side,
        outline_m=study.outline_m,
    )


def _pack(folder: Path) -> None:
    """Lay the pictures into tar files of :data:`LARGEST_TAR` and take the loose ones away."""
    tars: list[list[Path]] = [[]]
    for path in sorted(folder.glob("*.jpg")):
        if sum(p.stat().st_size for p in [*tars[-1], path]) > LARGEST_TAR:
            tars.append([])
        tars[-1].append(path)
    for number, paths in enumerate(tars, start=1):
        with tarfile.open(folder / f"pictures_{number}.tar", "w") as tar:
            for path in paths:
                tar.add(path, path.name)
                path.unlink()


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
    parser.add_argument("folder", type=Path)
    parser.add_argument("--scenes", nargs="*", default=list(SHOWN), choices=list(SHOWN))
    parser.add_argument("--size", default="1600x1000")
    parser.add_argument("--quality", default="final", choices=("draft", "final"))
    parser.add_argument("--device", default="processor")
    parser.add_argument("--processes", type=int, default=16)
    parser.add_argument("--threads", type=int, default=4, help="of each process")
    parser.add_argument("--each", type=int, default=4, help="pictures to a process at the most")
    parser.add_argument("--pack", action="store_true", help="into tar files")
    return parser.parse_args()


if __name__ == "__main__":
    main()
