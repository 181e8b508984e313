"""The set of sheets for one design, and their files."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from massing.design.design import Design
from massing.files import slug, write_whole
from massing.parts.part import Model
from massing.practice.cautions import CAUTION
from massing.present.drawings.dxf import dxf
from massing.present.drawings.elevation_sheets import elevation_scale, elevation_sheet
from massing.present.drawings.elevations import CONVENTIONAL, Ready, view_extent
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
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT, Square

FORMATS = ("dxf", "svg", "pdf")
_ROOM_BESIDE_MM = (92.0, 56.0)
_SMALLEST = {"feet": 64.0, "metric": 50.0}  # scale of the front on the smaller paper
_PAPERS = {"feet": ("arch c", "arch d"), "metric": ("A2", "A1")}


@dataclass(frozen=True)
class Light:
    """Where the drawn shadows' light comes from, and how a note says it.

    Attributes:
        to_sun: ``(3,)`` unit vector.
        every_side: it is the draughtsman's, which turns with the paper; a sun's is drawn on the
            front alone.
    """

    to_sun: ArrayLike
    words: str
    every_side: bool = False


CONVENTIONAL_LIGHT = Light(
    CONVENTIONAL,
    "Shadows in the conventional light of drawings: the diagonal of a cube, from the left, so "
    "that a shadow is as deep as what throws it stands out.",
    every_side=True,
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


@dataclass(frozen=True, eq=False)
class Wanted:
    """What a set is drawn of.

    Attributes:
        paper: a key of :data:`PAPERS_MM`.
        notes: what is written on the front elevation beside the sheet's own notes.
        light: without it no shadows are drawn.
    """

    design: Design
    model: Model
    heading: Heading
    paper: str
    notes: Sequence[str] = ()
    light: Light | None = CONVENTIONAL_LIGHT

    @cached_property
    def ready(self) -> Ready:
        """The building made ready for the elevations' rays, when the first is drawn."""
        return Ready.of(self.model, self.light is not None)

    def __getstate__(self) -> dict[str, Any]:
        return {name: value for name, value in vars(self).items() if name != "ready"}

    def makers(self) -> list[Callable[[], Sheet]]:
        """What draws each sheet, in their order."""
        design, model, heading = self.design, self.model, self.heading
        size = PAPERS_MM[self.paper]
        own = (design, model, heading, size)
        made: list[Callable[..., Sheet]] = [
            partial(self._elevation, view) for view in (FRONT, RIGHT, BACK, LEFT)
        ]
        made += [
            partial(ground_plan_sheet, *own, notes=()),
            partial(setting_out_sheet, *own, notes=()),
            partial(section_sheet, *own, notes=()),
            partial(order_sheet, design, heading, size, notes=()),
        ]
        rails = {
            "Balustrade over the entablature": design.porch.highest.balustrade,
            "Guard between the columns": design.porch.guard,
        }
        for title, rail in rails.items():
            if rail is not None:
                made.append(
                    partial(balustrade_sheet, design, rail, heading, size, notes=(), title=title)
                )
        made.append(partial(openings_sheets, *own, notes=()))
        return [partial(f, number=str(i + 1), sheets=len(made)) for i, f in enumerate(made)]

    def _elevation(self, view: Square, number: str, sheets: int) -> Sheet:
        size = PAPERS_MM[self.paper]
        design, model, light = self.design, self.model, self.light
        sun = None if light is None else np.asarray(light.to_sun)
        scale, notes = 1.0, self.notes
        if view is not FRONT:
            turned = view.axes.T @ np.array([-1.0, 1.0, -1.0]) / np.sqrt(3.0)
            sun = turned if light is not None and light.every_side else None
            scale, notes = elevation_scale(design, model, FRONT, size), ()
        return elevation_sheet(
            design,
            model,
            view,
            self.heading,
            size,
            number,
            notes,
            to_sun=sun,
            light="" if light is None or sun is None else light.words,
            sheets=sheets,
            least_scale=scale,
            ready=self.ready,
        )


def drawing_set(
    design: Design,
    model: Model,
    heading: Heading,
    paper: str,
    notes: Sequence[str] = (),
    light: Light | None = CONVENTIONAL_LIGHT,
) -> list[Sheet]:
    """All sheets of a design, in their order; the arguments are those of :class:`Wanted`."""
    wanted = Wanted(design, model, heading, paper, notes, light)
    return [make() for make in wanted.makers()]


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
    sheets: Iterable[Sheet],
    heading: Heading,
    folder: Path,
    step_m: float,
    formats: Sequence[str] = FORMATS,
    texts: Mapping[str, Mapping[str, str]] | None = None,
) -> list[Path]:
    """Write each sheet as DXF and SVG, and all as one PDF; the files' paths.

    Nothing is written before the last of ``sheets`` is drawn. ``texts`` are what
    :func:`files_of` made of each sheet, by its number, where a caller has them.
    """
    drawn: list[Sheet] = []

    def pages() -> Iterator[Sheet]:
        for sheet in sheets:
            drawn.append(sheet)
            yield sheet

    title = f"{heading.project}: {heading.design}"
    pages_made = b""
    if "pdf" in formats:
        pages_made = pdf(pages(), title=title, subject=CAUTION, author=heading.designer)
    else:
        drawn += sheets
    made = []
    for sheet in drawn:
        own = (texts or {}).get(sheet.number) or files_of(sheet, heading, step_m, formats)
        for name, text in own.items():
            made.append(folder / name)
            write_whole(made[-1], text)
    if "pdf" in formats:
        made.append(folder / f"{slug(heading.design)}.pdf")
        write_whole(made[-1], pages_made)
    return made
