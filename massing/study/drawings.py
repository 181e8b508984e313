"""A design's sheets for the builder."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from massing.design.design import Design
from massing.present.drawings.drawing_set import (
    CONVENTIONAL_LIGHT,
    FORMATS,
    Light,
    drawing_set,
    files_of,
    heading_of,
    paper_for,
    write_set,
)
from massing.present.drawings.notes import finding_notes
from massing.present.drawings.sheet import Sheet
from massing.study.study import Study


def make_drawings(
    study: Study,
    design: Design,
    folder: Path,
    *,
    paper: str | None = None,
    light: Light | None = CONVENTIONAL_LIGHT,
    formats: Sequence[str] = FORMATS,
) -> list[Path]:
    """Draw a design's set of sheets into ``folder``; the files' paths.

    Args:
        paper: one of :data:`massing.present.drawings.scales.PAPERS_MM`, else by the front's size.
        light: of the front's shadows; none are drawn without it.
        formats: of :data:`massing.present.drawings.drawing_set.FORMATS`.

    Raises:
        SceneError: parts of the design collide.
        OSError: a file cannot be written.
    """
    model = study.models[design.name]
    scene = study.loaded.scene
    given = scene.sheet.model_dump() if scene.sheet else {}
    heading = heading_of(design, scene.title, date.today(), given)
    on = paper or paper_for(design, model)
    step = design.rounding_m
    texts: dict[str, dict[str, str]] = {}

    def written(sheet: Sheet) -> None:
        texts[sheet.number] = files_of(sheet, heading, step, formats)

    notes = finding_notes(design)
    # a sheet's files are put into words while the next is drawn, and all written at the end
    sheets = drawing_set(design, model, heading, on, notes, light, written)
    return write_set(sheets, heading, folder, step, formats, texts)
