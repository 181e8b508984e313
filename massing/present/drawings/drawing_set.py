"""The set of sheets for one design, and their files."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike

from massing.design.design import Design
from massing.files import slug, write_whole
from massing.geometry.rays import threads
from massing.parts.part import Model
from massing.practice.cautions import CAUTION
from massing.present.drawings.dxf import dxf
from massing.present.drawings.elevations import (
    CONVENTIONAL,
    Ready,
    elevation_scale,
    elevation_sheet,
    view_extent,
)
from massing.present.drawings.elevations import building as building_parts
from massing.present.drawings.frame import Heading, room_mm
from massing.present.drawings.openings import openings_sheets
from massing.present.drawings.order_details import balustrade_sheet, order_sheet
from massing.present.drawings.pdf import pdf
from massing.present.drawings.plans import ground_plan_sheet, setting_out_sheet
from massing.present.drawings.porch_section import section_sheet
from massing.present.drawings.scales import PAPERS_MM
from massing.present.drawings.sheet import Sheet
from massing.present.drawings.svg import svg
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT

FORMATS = ("dxf", "svg", "pdf")
_ROOM_BESIDE_MM = (92.0, 56.0)
_SMALLEST = {"feet": 64.0, "metric": 50.0}  # scale of the front on the smaller paper
_PAPERS = {"feet": ("arch c", "arch d"), "metric": ("A2", "A1")}


@dataclass(frozen=True)
class Light:
    """Where the drawn shadows' light comes from, and how a note says it."""

    to_sun: ArrayLike
    words: str


CONVENTIONAL_LIGHT = Light(
    CONVENTIONAL,
    "Shadows in the conventional light of drawings: the diagonal of a cube, from the left, so "
    "that a shadow is as deep as what throws it stands out.",
)


def heading_of(
    design: Design, project: str, today: datetime.date, given: Mapping[str, str | None]
) -> Heading:
    """The title block's words, those ``given`` by the scene's ``sheet`` before the others."""
    return Heading(
        project=given.get("project") or project,
        design=design.name,
        place=design.site.place,
        date=given.get("date") or today.isoformat(),
        designer=given.get("designer") or "",
        client=given.get("client") or "",
        issue=given.get("issue") or "",
        front_azimuth_deg=design.site.front_azimuth_deg,
    )


def paper_for(design: Design, model: Model) -> str:
    """The smaller usual paper, or the larger where the front needs it for its usual scale."""
    low, high = view_extent(building_parts(model), FRONT)
    smaller, larger = _PAPERS[design.units]
    _, _, wide, tall = room_mm(PAPERS_MM[smaller])
    room = np.array([wide - _ROOM_BESIDE_MM[0], tall - _ROOM_BESIDE_MM[1]])
    fits = ((high - low) * 1000.0 / _SMALLEST[design.units] <= room).all()
    return smaller if fits else larger


def drawing_set(
    design: Design,
    model: Model,
    heading: Heading,
    paper: str,
    notes: Sequence[str] = (),
    light: Light | None = CONVENTIONAL_LIGHT,
    after: Callable[[Sheet], object] = lambda sheet: None,
) -> list[Sheet]:
    """All sheets of a design, in their order.

    Args:
        paper: a key of :data:`PAPERS_MM`.
        notes: what is written on the front elevation beside the sheet's own notes.
        light: without it no shadows are drawn.
        after: is handed each sheet as soon as it is drawn, on the thread that drew it.
    """
    size = PAPERS_MM[paper]
    sun = None if light is None else light.to_sun
    words = "" if light is None else light.words
    porch = design.porch
    ready = Ready.of(model, sun is not None)
    makers: list[Callable[..., Sheet]] = [
        partial(
            elevation_sheet,
            design,
            model,
            FRONT,
            heading,
            size,
            notes=notes,
            to_sun=sun,
            light=words,
            ready=ready,
        )
    ]
    scale = elevation_scale(design, model, FRONT, size)
    for view in (RIGHT, BACK, LEFT):
        lit = sun if sun is not None and light is CONVENTIONAL_LIGHT else None
        turned = None if lit is None else view.axes.T @ np.array([-1.0, 1.0, -1.0]) / np.sqrt(3.0)
        makers.append(
            partial(
                elevation_sheet,
                design,
                model,
                view,
                heading,
                size,
                notes=(),
                to_sun=turned,
                light=words if lit is not None else "",
                least_scale=scale,
                ready=ready,
            )
        )
    makers += [
        partial(ground_plan_sheet, design, model, heading, size, notes=()),
        partial(setting_out_sheet, design, model, heading, size, notes=()),
        partial(section_sheet, design, model, heading, size, notes=()),
        partial(order_sheet, design, heading, size, notes=()),
    ]
    rails = {
        "Balustrade over the entablature": porch.highest.balustrade,
        "Guard between the columns": porch.guard,
    }
    for title, rail in rails.items():
        if rail is not None:
            makers.append(
                partial(balustrade_sheet, design, rail, heading, size, notes=(), title=title)
            )
    makers.append(partial(openings_sheets, design, model, heading, size, notes=()))
    count = len(makers)

    def made(i: int) -> Sheet:
        sheet = makers[i](number=str(i + 1), sheets=count)
        after(sheet)
        return sheet

    with ThreadPoolExecutor(threads()) as pool:
        waiting = [pool.submit(made, i) for i in range(count)]
        return [one.result() for one in waiting]


def files_of(
    sheet: Sheet, heading: Heading, step_m: float, formats: Sequence[str] = FORMATS
) -> dict[str, str]:
    """The texts of a sheet's own files, DXF and SVG, by their names."""
    name = f"{int(sheet.number):02d}-{sheet.name}"
    made = {}
    if "dxf" in formats:
        made[f"{name}.dxf"] = dxf(sheet, comment=CAUTION, step_m=step_m)
    if "svg" in formats:
        title = f"{heading.project}: {sheet.title}"
        made[f"{name}.svg"] = svg(sheet, title=title, description=CAUTION)
    return made


def write_set(
    sheets: Sequence[Sheet],
    heading: Heading,
    folder: Path,
    step_m: float,
    formats: Sequence[str] = FORMATS,
    texts: Mapping[str, Mapping[str, str]] | None = None,
) -> list[Path]:
    """Write each sheet as DXF and SVG, and all as one PDF; the files' paths.

    ``texts`` are what :func:`files_of` made of each sheet, by its number, where a caller has them.
    """
    made = []
    for sheet in sheets:
        own = (texts or {}).get(sheet.number) or files_of(sheet, heading, step_m, formats)
        for name, text in own.items():
            made.append(folder / name)
            write_whole(made[-1], text)
    if "pdf" in formats:
        made.append(folder / f"{slug(heading.design)}.pdf")
        title = f"{heading.project}: {heading.design}"
        write_whole(made[-1], pdf(sheets, title=title, subject=CAUTION, author=heading.designer))
    return made
