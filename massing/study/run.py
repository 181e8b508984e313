"""The main job: which pictures a scene asks for, which of them are new, and their sheets.

A picture is made again only when something it depends on has changed: the built model, the
sun, the camera, the look, the quality, or the code that renders. What each file was made from
is kept as a hash in ``study.json`` beside the pictures. Files appear whole or not at all, and
one run at a time writes to a folder, so that a run can be stopped at any moment and taken up
again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from massing import __version__
from massing.files import sole_use, sweep, write_whole
from massing.present import words
from massing.present.reports.tables import (
    figures_csv,
    figures_json,
    figures_text,
    findings_text,
)
from massing.render.driver.run import ShotResult, render_shots
from massing.render.driver.shots import Shot
from massing.study.manifest import (
    code_hash,
    hash_of,
    model_hash,
    read_manifest,
    stands,
    write_manifest,
)
from massing.study.pictures import Picture, choose, pictures
from massing.study.sheets import lay_sheets
from massing.study.study import Study

SHADOWS = "shadows"
RENDER_LOG = "render.log"


@dataclass(frozen=True)
class Outcome:
    """What a run did: files made anew, pictures that stood already, errors of those that failed."""

    folder: Path
    made: tuple[str, ...]
    kept: tuple[str, ...]
    failed: dict[str, str]


def run_study(
    study: Study,
    folder: Path,
    *,
    only: Iterable[str] = (),
    quality: str = "draft",
    size_px: tuple[int, int] | None = None,
    progress: Callable[[int, int, str], object] = lambda done, total, what: None,
    say: Callable[[str], object] = lambda text: None,
    shadows: bool = False,
    also: Sequence[str] = (),
    pairs: bool = False,
    **render_options: Any,
) -> Outcome:
    """Make what is new: pictures, sheets, figures and findings.

    Args:
        folder: where to; made if need be.
        only: names of designs, times, views or looks; see :func:`choose`.
        quality: ``draft`` or ``final``.
        size_px: width and height of a picture, else by quality.
        progress: told how many pictures are done, of how many, and which is in hand or done.
        say: told what a designer should know meanwhile.
        shadows: also measure sun and shadow on the models, in ``shadows/``.
        also: kinds of file, besides PNG, that each picture is written as.
        pairs: also lay each alternative beside the design as drawn, in ``sheets/pairs/``.
        render_options: handed to :func:`massing.render.driver.run.render_shots`.

    Raises:
        ValueError: ``only`` names nothing.
    """
    choice = choose(study, only)
    asked = pictures(study, quality, size_px, also)
    picked = [
        p
        for p in asked
        if p.design in choice["designs"]
        and p.sun.label in choice["times"]
        and p.view in choice["views"]
        and p.look in choice["looks"]
    ]
    with sole_use(folder, lambda: say(f"{folder} is in use by another run; waiting for it")):
        sweep(folder)
        manifest = read_manifest(folder)
        todo = [p for p in picked if not _picture_stands(study, folder, manifest, p, quality)]
        made, failed = _render(study, folder, manifest, todo, quality, progress, render_options)
        made += lay_sheets(study, folder, manifest, asked, picked, pairs)
        made += _write_figures(study, folder)
        if shadows:
            made += _measure_shadows(study, folder, manifest, say)
        kept = [p.path for p in picked if p.path not in made and p.path not in failed]
    return Outcome(folder, tuple(made), tuple(kept), failed)


def _render(
    study: Study,
    folder: Path,
    manifest: dict[str, str],
    todo: Sequence[Picture],
    quality: str,
    progress: Callable[[int, int, str], object],
    options: dict[str, Any],
) -> tuple[list[str], dict[str, str]]:
    """Render, design by design; the manifest is on disk after every finished picture."""
    made: list[str] = []
    failed: dict[str, str] = {}
    progress(0, len(todo), "")
    for name in dict.fromkeys(p.design for p in todo):
        mine = {folder / p.path: p for p in todo if p.design == name}
        for path in mine:
            path.parent.mkdir(parents=True, exist_ok=True)

        def finished(result: ShotResult, mine: dict[Path, Picture] = mine) -> None:
            picture = mine[result.shot.output]
            if result.error:
                failed[picture.path] = result.error
            else:
                made.append(picture.path)
                for path in (result.shot.output, *result.shot.also_files):
                    manifest[path.relative_to(folder).as_posix()] = picture.key
                write_manifest(folder, manifest)
            progress(len(made) + len(failed), len(todo), _words(picture))

        def started(shot: Shot, mine: dict[Path, Picture] = mine) -> None:
            progress(len(made) + len(failed), len(todo), _words(mine[shot.output]))

        shots = [_shot(study, picture, path, quality) for path, picture in mine.items()]
        log = folder / RENDER_LOG
        hooks: dict[str, Any] = {"on_start": started, "on_done": finished}
        render_shots(study.models[name], shots, log_path=log, **hooks, **options)
    return made, failed


def _picture_stands(
    study: Study, folder: Path, manifest: dict[str, str], picture: Picture, quality: str
) -> bool:
    """Whether the picture stands as it would be made now, in every kind of file asked for."""
    shot = _shot(study, picture, folder / picture.path, quality)
    files = [path.relative_to(folder).as_posix() for path in (shot.output, *shot.also_files)]
    return all(stands(folder, manifest, path, picture.key) for path in files)


def _words(picture: Picture) -> str:
    return f"{picture.design} · {picture.view} · {picture.sun.label} · {picture.look}"


def _shot(study: Study, picture: Picture, path: Path, quality: str) -> Shot:
    sun = picture.sun
    return Shot(
        camera=picture.camera,
        output=path,
        sun_direction=sun.direction,
        altitude_deg=sun.altitude_deg,
        look=picture.look,
        quality=quality,
        beam_w_m2=sun.dni_w_m2,
        diffuse_w_m2=sun.dhi_w_m2,
        metadata={
            "Title": f"{study.loaded.scene.title}: {picture.design}",
            "Description": f"{words.view_and_look(picture.view, picture.look)}; "
            f"{words.light_line(study.loaded.scene.site.place, sun)}",
            "Software": f"massing {__version__}, {quality}",
        },
        also=picture.also,
    )


def _measure_shadows(
    study: Study, folder: Path, manifest: dict[str, str], say: Callable[[str], object]
) -> list[str]:
    """Sun and shadow on the models, measured again only when models, suns or code changed."""
    from massing.study.shadows import write_shadows

    shapes = [model_hash(study.models[design.name]) for design in study.designs]
    suns = [[sun.label, sun.when and sun.when.isoformat(), sun.direction] for sun in study.suns]
    code = [code_hash("."), code_hash("present")]
    key = hash_of(shapes, suns, asdict(study.designs[0].site), study.loaded.scene.units, code)
    mark = f"{SHADOWS}/shadows.csv"
    if stands(folder, manifest, mark, key):
        return []
    report = write_shadows(study, folder / SHADOWS, say=say)
    manifest[mark] = key
    write_manifest(folder, manifest)
    return [f"{SHADOWS}/{name}" for name in report.made]


def _write_figures(study: Study, folder: Path) -> list[str]:
    """Figures and findings, as files that are touched only when they change."""
    contents = {
        "figures.json": figures_json(study.designs, study.suns),
        "figures.csv": figures_csv(study.designs, study.suns),
        "figures.txt": figures_text(study.designs, study.suns),
        "findings.txt": findings_text(study.designs),
    }
    made = []
    for name, text in contents.items():
        path = folder / name
        if not path.exists() or path.read_bytes() != text.encode("utf-8"):
            write_whole(path, text)
            made.append(name)
    return made
