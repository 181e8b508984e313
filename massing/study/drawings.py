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
    heading_of,
    paper_for,
    write_set,
)
from massing.present.drawings.notes import finding_notes
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
    sheets = drawing_set(design, model, heading, on, finding_notes(design), light)
    return write_set(sheets, heading, folder, design.rounding_m, formats)
