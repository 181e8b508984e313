"""A board for the client: the pictures it needs, made where they do not stand, and its PDF."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from massing.files import read_bounded, write_whole
from massing.findings.change import telling_sun
from massing.parts.part import Model
from massing.present.board.elevation import Window
from massing.present.board.layout import page
from massing.present.board.pages import contents
from massing.present.board.subject import VIEWS, BuildersDrawing, Subject
from massing.present.board.typeset import TypesetError, typeset
from massing.present.ink.elevation import line_drawing
from massing.present.ink.overlay import mixed
from massing.present.sheets.given_image import given_image, given_path
from massing.render.driver.shots import DRAWN
from massing.scene.errors import DesignError
from massing.scene.load import LoadedScene
from massing.study.overlay import camera_over, fit_lines, read_sheet
from massing.study.pictures import pictures
from massing.study.run import run_study
from massing.study.study import Study
from massing.sun.position import SunTime
from massing.view.camera import Camera

MOST_SVG_BYTES = 2_000_000
LOGO_PX = 1200  # larger marks are made smaller
MOST_ALTERNATIVES = 8

Progress = Callable[[int, int, str], object]


@dataclass(frozen=True)
class Board:
    """What was made, and errors of pictures that failed, without which there is no PDF."""

    path: Path
    pages: int
    made: tuple[str, ...]
    failed: dict[str, str]


def check_board(study: Study) -> None:
    """Refuse what no board can be made of, before anything is made.

    Raises:
        SceneError: one line: a logo or builder's drawing that cannot be used, or too many
            alternatives.
    """
    read_logo(study.loaded)
    if study.loaded.scene.drawing is not None:
        read_sheet(study.loaded)
    count = len(study.designs) - 1
    if count > MOST_ALTERNATIVES:
        fault = DesignError("alternatives", f"{count}", f"up to {MOST_ALTERNATIVES} for a board")
        raise study.loaded.error(study.loaded.scene.as_drawn, fault)


def make_board(
    study: Study,
    folder: Path,
    path: Path,
    *,
    paper: str | None = None,
    quality: str = "final",
    after: str | None = None,
    printed_on: date | None = None,
    size_px: tuple[int, int] | None = None,
    progress: Progress = lambda done, total, what: None,
    say: Callable[[str], object] = lambda text: None,
    **render_options: Any,
) -> Board:
    """Make the pictures that are missing in ``folder``, then the PDF at ``path``.

    Args:
        folder: the study's, whose pictures are taken where they stand as they would be made now.
        paper: one of :data:`massing.present.board.layout.PAPERS`, else the scene's own, else by
            its units.
        quality: of the pictures.
        after: the alternative that stands beside the design as drawn; the first by default.
        printed_on: the date where the scene gives none; today by default.
        progress, say, size_px, render_options: as of :func:`massing.study.run.run_study`.

    Raises:
        SceneError: see :func:`check_board`.
        ValueError: no such paper.
        OSError: the PDF cannot be written.
    """
    check_board(study)
    block = study.loaded.scene.sheet
    sheet_of_paper = page(paper or (block.paper if block else None), study.loaded.scene.units)
    light = board_light(study)
    wider = _with_views(study)
    look = board_look(study)
    only = [light.label, *VIEWS, look]
    outcome = run_study(
        wider,
        folder,
        only=only,
        quality=quality,
        size_px=size_px,
        progress=progress,
        say=say,
        **render_options,
    )
    if outcome.failed:
        return Board(path, 0, outcome.made, outcome.failed)
    found: dict[str, dict[str, Path]] = {design.name: {} for design in study.designs}
    sky: dict[str, float] = {}
    for picture in pictures(wider, quality, size_px):
        if picture.view in VIEWS and picture.look == look and picture.sun == light:
            found[picture.design][picture.view] = folder / picture.path
            sky[picture.view] = _sky_over(study, picture.camera)
    subject = Subject(
        loaded=study.loaded,
        designs=study.designs,
        models=study.models,
        suns=study.suns,
        pictures=found,
        look=look,
        light=light,
        printed_on=printed_on or date.today(),
        logo=read_logo(study.loaded),
        drawing=builders_drawing(study),
        after=after,
        sky=sky,
    )
    made = contents(subject, sheet_of_paper, progress)
    try:
        pdf = typeset(made)
    except TypesetError as fault:
        raise OSError(f"{path.name}: {fault}") from None
    write_whole(path, pdf)
    return Board(path, len(made.values["pages"]), outcome.made, {})


AIR = 0.03  # of a picture's height, left between the highest roof and the edge


def _sky_over(study: Study, camera: Camera) -> float:
    """The share of a picture's height that is sky over every design's house, but for a little."""
    top = float(camera.project(study.outline_m)[:, 1].min()) / camera.height_px
    return max(0.0, top - AIR)


def board_light(study: Study) -> SunTime:
    """The sun of a board's pictures: of the scene's times the one that shows a cornice best."""
    return telling_sun(study.suns) or study.suns[0]


def board_look(study: Study) -> str:
    """Materials where the scene asks for them, else its first look that is photographed."""
    looks = [look for look in study.loaded.scene.looks if look != DRAWN]
    return "materials" if "materials" in looks or not looks else looks[0]


def _with_views(study: Study) -> Study:
    """The same study, asking for a board's views and look besides its own."""
    views = list(dict.fromkeys([*study.loaded.scene.views, *VIEWS]))
    looks = list(dict.fromkeys([*study.loaded.scene.looks, board_look(study)]))
    designs = {
        name: spec.model_copy(update={"views": views, "looks": looks})
        for name, spec in study.loaded.designs.items()
    }
    wider = replace(study, loaded=replace(study.loaded, designs=designs))
    wider.__dict__["models"] = study.models  # built once
    return wider


def read_logo(loaded: LoadedScene) -> tuple[str, bytes] | None:
    """The ending and content of the scene's own mark, if it names one.

    Raises:
        SceneError: no such file, or not an image that can be printed.
    """
    sheet = loaded.scene.sheet
    if sheet is None or sheet.logo is None:
        return None
    folder = loaded.path.parent
    try:
        if sheet.logo.lower().endswith(".svg"):
            return ".svg", _plain_svg(folder, sheet.logo)
        image = given_image(folder, sheet.logo).convert("RGBA")
    except ValueError as problem:
        given, _, allowed = str(problem).removeprefix("given ").partition(", allowed: ")
        fault = DesignError("sheet.logo", given, allowed)
        raise loaded.error(loaded.scene.as_drawn, fault) from None
    image.thumbnail((LOGO_PX, LOGO_PX))
    buffer = io.BytesIO()
    image.save(buffer, "PNG")
    return ".png", buffer.getvalue()


def _plain_svg(folder: Path, name: str) -> bytes:
    """A vector drawing that asks for nothing outside itself.

    Raises:
        ValueError: no such file, or not such a drawing; the text says what is allowed.
    """
    allowed = "an SVG drawing without pictures, entities or styles of other files"
    try:
        content = read_bounded(given_path(folder, name), MOST_SVG_BYTES)
    except FileNotFoundError:
        raise ValueError(f"given {name}, no such file, allowed: {allowed}") from None
    except OSError as fault:
        raise ValueError(f"given {name}, {fault.strerror}, allowed: {allowed}") from None
    outside = re.search(rb"<!ENTITY|<[^>]*image|@import|<\?xml-stylesheet|<script", content, re.I)
    if not re.search(rb"<(\w+:)?svg[\s>]", content) or outside:
        raise ValueError(f"given {name}, which cannot be printed, allowed: {allowed}")
    return content


def builders_drawing(study: Study) -> BuildersDrawing | None:
    """The builder's drawing with the design as drawn over it, if the scene names one."""
    scene = study.loaded.scene
    if scene.drawing is None:
        return None
    sheet = read_sheet(study.loaded)
    built = study.models[study.designs[0].name]
    house = tuple(p for p in built.parts if not p.within("setting"))
    model = Model(house, built.name, built.notes)
    camera = camera_over(sheet, model)
    scale = camera.metres_per_pixel
    half_x, half_z = (scale * n / 2.0 for n in sheet.image.size)
    middle_x, _, middle_z = camera.position_m
    return BuildersDrawing(
        given=sheet.image,
        over=mixed(sheet.image, line_drawing(model, camera)),
        metres_per_pixel=scale,
        window=Window(middle_x - half_x, middle_x + half_x, middle_z - half_z, middle_z + half_z),
        words=tuple(fit_lines(scene.drawing, sheet.fit, scene.units)),
    )
