"""Everything about sun and shadow that a scene asks for, measured and written to a folder."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from massing.build.house import build
from massing.design.design import Design
from massing.files import slug, write_by, write_whole
from massing.present.plots.shadows import (
    depth_plot,
    mask_image,
    mask_view,
    shade_plot,
    sun_hours_plot,
)
from massing.present.plots.sky import sky_view_plot, sun_path_plot
from massing.present.plots.style import save_plot
from massing.present.reports.shadow_tables import moments_csv, shadows_json, year_csv
from massing.present.sheets.paper import saver
from massing.shadow.front import Front, ready_front, thinned
from massing.shadow.study import (
    Moment,
    Raking,
    Year,
    YearSuns,
    day_suns,
    days_of,
    measure,
    raking_calendar,
    sky_view,
    year_of,
    year_suns,
)
from massing.shadow.surfaces import surface_group
from massing.sun.position import SunTime, front_day
from massing.units import floor_name

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from massing.study.study import Study

Say = Callable[[str], object]
_Asked = tuple[Sequence[SunTime], Sequence[Sequence[SunTime]], YearSuns | None]


@dataclass(frozen=True, eq=False)
class ShadowReport:
    """What was measured of a scene, and the files it was written to.

    ``moments`` go sun by sun, in each the designs in their order.
    """

    moments: tuple[Moment, ...]
    raking: tuple[Raking, ...]
    years: tuple[Year, ...]
    suns: YearSuns | None
    made: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class _Measured:
    """One design at the scene's suns, through each of their days, and through the year."""

    moments: list[Moment]
    days: list[list[Moment]]
    year: Year | None


def _of_front(
    front: Front,
    suns: Sequence[SunTime],
    days: Sequence[Sequence[SunTime]],
    all_suns: YearSuns | None,
) -> _Measured:
    sparse = thinned(front)
    return _Measured(
        measure(front, suns),
        [measure(sparse, of_day) for of_day in days],
        None if all_suns is None else year_of(front, all_suns),
    )


def _of_design(asked: _Asked, design: Design) -> _Measured:
    """The same where no front stands ready, as on another machine."""
    return _of_front(ready_front(design, build(design)), *asked)


def write_shadows(
    study: Study,
    folder: Path,
    *,
    year: bool = False,
    others: Executor | None = None,
    say: Say,
) -> ShadowReport:
    """Measure every design at the scene's suns, through their days and, if asked, the year.

    Args:
        study: a scene made ready.
        folder: where the tables, plots and masks go.
        year: also the hours of sun over the year, some seconds for each design.
        others: what measures instead, a design at a time, such as other machines.
        say: is told what is in hand, and of days without sun on the front.
    """
    site = study.designs[0].site
    fronts = []
    for design in study.designs:
        say(f"{design.name}: made ready for the rays")
        fronts.append(ready_front(design, study.models[design.name]))
    lit = {day: day_suns(day, site) for day in days_of(study.suns)}
    all_suns = year_suns(site) if year else None
    measured = _measured(study, fronts, lit, all_suns, others, say)
    moments = tuple(
        m for at_one_sun in zip(*(m.moments for m in measured), strict=True) for m in at_one_sun
    )
    raking = tuple(raking_calendar(site))
    paper = _Paper(folder)
    paper.text("shadows.csv", moments_csv(moments))
    paper.plot("sun_path.png", sun_path_plot(site, study.suns))
    _plot_skies(study, fronts, paper, say)
    paper.made += _write_masks(fronts, study, folder)
    _plot_days(study, fronts, lit, measured, paper, say)
    years = [m.year for m in measured if m.year is not None]
    if all_suns is not None:
        paper.text("sun_hours.csv", year_csv(years, all_suns))
        paper.plot("sun_hours.png", sun_hours_plot(years, fronts, all_suns))
    paper.text("shadows.json", shadows_json(site, moments, raking, years, all_suns))
    return ShadowReport(moments, raking, tuple(years), all_suns, tuple(paper.made))


@dataclass
class _Paper:
    """What is written into a folder, and its names in their order."""

    folder: Path
    made: list[str] = field(default_factory=list)

    def plot(self, name: str, figure: Figure) -> None:
        save_plot(figure, self.folder / name)
        self.made.append(name)

    def text(self, name: str, content: str) -> None:
        write_whole(self.folder / name, content)
        self.made.append(name)


def _measured(
    study: Study,
    fronts: Sequence[Front],
    lit: Mapping[date, Sequence[SunTime]],
    all_suns: YearSuns | None,
    others: Executor | None,
    say: Say,
) -> list[_Measured]:
    """Every design at the scene's suns, through its days and the year, here or by others."""
    asked = (study.suns, [suns for suns in lit.values() if suns], all_suns)
    if all_suns is not None:
        say(f"through the year, {len(all_suns.to_sun)} suns")
    if others is None:
        return [_of_front(front, *asked) for front in fronts]
    say(f"{len(fronts)} designs measured by others")
    return list(others.map(partial(_of_design, asked), study.designs))


def _plot_skies(study: Study, fronts: Sequence[Front], paper: _Paper, say: Say) -> None:
    """From where the sun reaches the lowest windows and the porch's floor, where all have them."""
    lowest = floor_name(0, _units(study))
    for group in (f"windows, {lowest}", "porch floor"):
        if not all(group in map(surface_group, _names(front)) for front in fronts):
            continue
        say(f"{group}: from where the sun reaches it")
        views = [sky_view(front, group) for front in fronts]
        plot = sky_view_plot(views, study.designs[0].site)
        paper.plot(f"sky_{slug(group)}.png", plot)


def _plot_days(
    study: Study,
    fronts: Sequence[Front],
    lit: Mapping[date, Sequence[SunTime]],
    measured: Sequence[_Measured],
    paper: _Paper,
    say: Say,
) -> None:
    """Depths and shares in shade through each of the scene's days that has sun on the front."""
    by_day = iter(zip(*(m.days for m in measured), strict=True))
    for day, suns in lit.items():
        if not suns:
            say(front_day(day, study.designs[0].site).front_words)
            continue
        say(f"{day}: through the day")
        by_design = next(by_day)
        stamp = day.isoformat()
        paper.text(f"day_{stamp}.csv", moments_csv([m for of_one in by_design for m in of_one]))
        paper.plot(
            f"day_{stamp}_depth.png", depth_plot(by_design, study.designs, day, _units(study))
        )
        paper.plot(f"day_{stamp}_shade.png", shade_plot(fronts, suns, day, _units(study)))


def _names(front: Front) -> list[str]:
    return [surface.name for surface in front.surfaces]


def _units(study: Study) -> str:
    return study.loaded.scene.units


def _write_masks(fronts: list[Front], study: Study, folder: Path) -> list[str]:
    """Each front's shadow mask at each sun that is on it."""
    made = []
    suns = [sun for sun in study.suns if sun.on_front]
    for front in fronts if suns else []:
        view = mask_view(front)
        for sun in suns:
            name = f"masks/{slug(front.design.name)}_{slug(sun.label)}.png"
            write_by(folder / name, saver(mask_image(front, view, sun)))
            made.append(name)
    return made
