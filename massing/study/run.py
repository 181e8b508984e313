"""The main job: which pictures a scene asks for, which of them are new, and their sheets.

The comparison comes first: figures, then small pictures of every view, then hour by hour and view
by view all designs, each sheet laid as its last picture lands; what is measured comes last.

A picture is made again only when something it depends on has changed: the built model, the
sun, the camera, the look, the quality, or the code that renders. What each file was made from
is kept in ``study.json`` beside the pictures. Files appear whole or not at all, and
one run at a time writes to a folder, so that a run can be stopped at any moment and taken up
again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from massing.files import sole_use, write_whole
from massing.findings.change import telling_sun
from massing.present.reports.tables import (
    figures_csv,
    figures_json,
    figures_text,
    findings_text,
)
from massing.present.words import SMALL
from massing.render.driver.cluster import hands, render_pictures
from massing.render.driver.labels import relabel
from massing.render.driver.run import ShotResult
from massing.render.driver.shots import DRAWN, Shot
from massing.study.code import code_hash
from massing.study.manifest import Manifest, hash_of, model_hash
from massing.study.page import PAGE, PageAlongTheWay
from massing.study.pictures import Picture, choose, pictures, shot_of, small_pictures
from massing.study.sheets import lay_sheets, sheet_of
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
    small_only: bool = False,
    page: PageAlongTheWay | None = None,
    on_sheet: Callable[[Sequence[Path]], object] = lambda paths: None,
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
        small_only: stop after the small pictures of every view.
        page: the study's page, made again as sheets are laid.
        on_sheet: told of sheets as they are laid, and the page made.
        render_options: handed to :func:`massing.render.driver.cluster.render_pictures`.

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
        manifest = Manifest(folder)
        made = _write_figures(study, folder)
        todo = _in_order(study, [p for p in picked if not _picture_stands(study, manifest, p)])
        for picture in picked:
            if picture not in todo:
                _relabel(study, manifest, picture)
        waiting = {sheet_of(p) for p in todo}
        made += lay_sheets(
            study, manifest, asked, [p for p in picked if sheet_of(p) not in waiting], pairs
        )
        small = small_pictures(study, asked)
        first = _small_first(manifest, todo, small)
        if small_only:
            todo = []

        def landed(picture: Picture, coming: int) -> None:
            group = [p for p in picked if sheet_of(p) == sheet_of(picture)]
            laid = lay_sheets(study, manifest, asked, group, pairs, small)
            made.extend(laid)
            if page is not None:
                page.make_if_due(coming)
            on_sheet([folder / path for path in laid])

        pictures_made, failed = _render(
            study, manifest, first, todo, landed, progress, say, render_options
        )
        made += pictures_made
        if page is not None and page.finish(manifest):
            made.append(PAGE)
        if shadows:
            made += _measure_shadows(study, manifest, say, render_options.get("workers"))
        kept = [p.path for p in picked if p.path not in made and p.path not in failed]
    return Outcome(folder, tuple(dict.fromkeys(made)), tuple(kept), failed)


def _in_order(study: Study, todo: Sequence[Picture]) -> list[Picture]:
    """All designs of a sheet one after another: the most telling hour first, then as the scene
    has its hours, views and looks."""
    telling = telling_sun(study.suns)
    sheets = list(dict.fromkeys(map(sheet_of, todo)))
    sheets.sort(key=lambda sheet: sheet[0] != telling)
    return sorted(todo, key=lambda picture: sheets.index(sheet_of(picture)))


def _small_first(
    manifest: Manifest, todo: Sequence[Picture], small: Mapping[str, Picture]
) -> list[Picture]:
    """The small pictures to begin with: of each view the first sheet that is to come."""
    firsts = {p.view: sheet_of(p) for p in reversed(todo) if p.look != DRAWN}
    wanted = [small[p.path] for p in todo if p.path in small and sheet_of(p) == firsts.get(p.view)]
    return [p for p in wanted if not manifest.stands(p.path, p.key)]


def _render(
    study: Study,
    manifest: Manifest,
    first: Sequence[Picture],
    todo: Sequence[Picture],
    landed: Callable[[Picture, int], object],
    progress: Callable[[int, int, str], object],
    say: Callable[[str], object],
    options: dict[str, Any],
) -> tuple[list[str], dict[str, str]]:
    """Render the small pictures first, then the others, by one worker.

    The manifest is on disk after every finished picture, and ``landed`` is told of the last of
    each sheet, and how many are to come. A small picture that failed is not spoken of: it is
    tried again large.
    """
    made: list[str] = []
    failed: dict[str, str] = {}
    folder = manifest.folder
    total, done = len(first) + len(todo), 0
    order = [*first, *todo]
    shots = [shot_of(study, picture, folder) for picture in order]
    of = {
        id(shot): (i, picture) for i, (shot, picture) in enumerate(zip(shots, order, strict=True))
    }
    open_sheets = [
        Counter(sheet_of(p) for p in first),
        Counter(sheet_of(p) for p in todo),
    ]
    progress(0, total, "")
    for shot in shots:
        shot.output.parent.mkdir(parents=True, exist_ok=True)

    def finished(result: ShotResult) -> None:
        nonlocal done
        index, picture = of[id(result.shot)]
        is_small = index < len(first)
        if not result.error:
            manifest.record(_files(result.shot, folder), picture.key, result.shot.metadata)
            made.append(picture.path)
        elif not is_small:
            failed[picture.path] = result.error
        done += 1
        still_open = open_sheets[not is_small]
        still_open[sheet_of(picture)] -= 1
        if not still_open[sheet_of(picture)]:
            landed(picture, total - done)
        progress(done, total, _words(picture, is_small))

    def started(shot: Shot) -> None:
        index, picture = of[id(shot)]
        progress(done, total, _words(picture, index < len(first)))

    if shots:
        render_pictures(
            [(study.models[p.design], shot) for p, shot in zip(order, shots, strict=True)],
            log_path=folder / RENDER_LOG,
            on_start=started,
            on_done=finished,
            on_quiet=say,
            **options,
        )
    return made, failed


def _picture_stands(study: Study, manifest: Manifest, picture: Picture) -> bool:
    """Whether the picture stands as it would be made now, in every kind of file asked for."""
    shot = shot_of(study, picture, manifest.folder)
    return all(manifest.stands(path, picture.key) for path in _files(shot, manifest.folder))


def _relabel(study: Study, manifest: Manifest, picture: Picture) -> None:
    """Put the scene's present title and place into the files of a picture that stands."""
    shot = shot_of(study, picture, manifest.folder)
    for path in _files(shot, manifest.folder):
        if not manifest.says(path, shot.metadata):
            relabel(manifest.folder / path, shot.metadata)
            manifest.record([path], picture.key, shot.metadata)


def _files(shot: Shot, folder: Path) -> list[str]:
    """The files that a shot is written to, as the record names them."""
    return [path.relative_to(folder).as_posix() for path in (shot.output, *shot.also_files)]


def _words(picture: Picture, small: bool) -> str:
    words = f"{picture.design} · {picture.view} · {picture.sun.label} · {picture.look}"
    return f"{words}{SMALL}" if small else words


def _measure_shadows(
    study: Study, manifest: Manifest, say: Callable[[str], object], workers: str | None
) -> list[str]:
    """Sun and shadow on the models, measured again only when models, suns or code changed."""
    from massing.study.shadows import write_shadows

    shapes = [model_hash(study.models[design.name]) for design in study.designs]
    suns = [[sun.label, sun.when and sun.when.isoformat(), sun.direction] for sun in study.suns]
    code = code_hash("massing.study.shadows")
    key = hash_of(shapes, suns, asdict(study.designs[0].site), study.loaded.scene.units, code)
    before = [path for path in manifest.entries if path.startswith(f"{SHADOWS}/")]
    if before and all(manifest.stands(path, key) for path in before):
        return []
    for path in before:
        del manifest.entries[path]
    with hands(workers, manifest.folder / "study.json", say) as others:
        report = write_shadows(study, manifest.folder / SHADOWS, others=others, say=say)
    made = [f"{SHADOWS}/{name}" for name in report.made]
    manifest.record(made, key)
    return made


def _write_figures(study: Study, folder: Path) -> list[str]:
    """Figures and findings, as files that are touched only when they change."""
    contents = {
        "figures.json": figures_json(study.designs, study.suns),
        "figures.csv": figures_csv(study.designs, study.suns),
        "figures.txt": figures_text(study.designs, study.suns),
        "findings.txt": findings_text(study.designs, study.suns),
    }
    made = []
    for name, text in contents.items():
        path = folder / name
        if not path.exists() or path.read_bytes() != text.encode("utf-8"):
            write_whole(path, text)
            made.append(name)
    return made
