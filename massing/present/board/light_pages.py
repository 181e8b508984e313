"""The pages of the light: the day, and one hour in four seasons."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import numpy as np

from massing.design.design import Design
from massing.files import slug
from massing.findings.change import time_words
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.present.board.elevation import Window
from massing.present.board.layout import (
    Scale,
    clock_ticks,
    depth_ticks,
    scale_within,
)
from massing.present.board.maker import Maker
from massing.present.board.words import (
    marked,
    season_words,
)
from massing.present.words import set_text
from massing.sun.position import SunTime, sun_time, sun_times
from massing.units import format_length

SEASONS = ("spring equinox", "summer solstice", "autumn equinox", "winter solstice")
_DAYS = ("summer solstice", "spring equinox", "winter solstice")
_STEP_MIN = 10
_MOST_ROWS = 5  # of designs in one page of seasons


def day(maker: Maker) -> dict[str, Any]:
    """How deep the cornice's shadow hangs through three days of the year."""
    subject = maker.subject
    panels, hours = [], [12.0]
    deepest = max(1.3 * _below_cornice_m(design) for design in subject.designs)
    for design in subject.designs:
        curves = []
        for name, suns in days(maker).items():
            runs = _runs(design, suns, deepest)
            hours += [hour for run in runs for hour, _ in run]
            curves.append({"name": name, "runs": runs})
        order = design.porch.order
        panels.append(
            {
                "name": set_text(marked(subject.designs, design)),
                "frieze": order.frieze_height_m,
                "architrave": _below_cornice_m(design),
                "line": set_text(_day_line(maker, design)),
                "curves": curves,
            }
        )
    first, last = np.floor(min(hours)), np.ceil(max(hours))
    return {
        "kind": "day",
        "title": set_text("The day: how deep the cornice's shadow hangs"),
        "light": set_text(
            f"{subject.loaded.scene.site.place} · by the clock, daylight saving where it "
            f"is kept · from the cornice's foot down the frieze, by the profile angle"
        ),
        "panels": panels,
        "first": float(first),
        "last": float(last),
        "deepest": deepest,
        "hours": [[hour, f"{hour}:00"] for hour in clock_ticks(first, last)],
        "depths": [[depth, set_text(w)] for depth, w in depth_ticks(deepest, subject.units)],
    }


def days(maker: Maker) -> dict[str, list[SunTime]]:
    """The suns of three days, ten minutes apart."""
    site = maker.subject.designs[0].site
    found = {}
    for name in _DAYS:
        noon = sun_time(f"{name} 12:00", site).when
        assert noon is not None
        steps = [divmod(minute, 60) for minute in range(0, 24 * 60, _STEP_MIN)]
        instants: list[datetime] = [noon.replace(hour=h, minute=m) for h, m in steps]
        label = "equinox" if "equinox" in name else name
        found[label] = sun_times(instants, site)
    return found


def _day_line(maker: Maker, design: Design) -> str:
    depth_m = cornice_shadow_m(design, maker.subject.light)
    if depth_m is None:
        return "no sun on the front"
    words = format_length(depth_m, maker.subject.units)
    return f"{words} deep {time_words(maker.subject.light)}{_from_corona(maker, design)}"


def _from_corona(maker: Maker, design: Design) -> str:
    """The shadow as the eye takes it, over the bed mouldings too."""
    under = shadow_under_corona(design, maker.subject.light)
    if under is None:
        return ""
    return f", {format_length(under.depth_m, maker.subject.units)} from the corona's edge"


def year(maker: Maker) -> list[dict[str, Any]]:
    """The porch's cornice at one hour in four seasons, a row for each design."""
    subject, page = maker.subject, maker.page
    when = subject.light.when
    clock = f"{when:%H:%M}" if when else "10:30"
    suns = [sun_time(f"{season} {clock}", subject.designs[0].site) for season in SEASONS]
    wide, tall = page.inner_mm
    count = len(subject.designs)
    sheets = -(-count // _MOST_ROWS)
    per_sheet = -(-count // sheets)
    head, name, line = 9.0 * page.size, 5.5 * page.size, 4.5 * page.size
    each = (tall - head) / per_sheet - name - line
    across = (wide - 3.0 * page.gap_mm) / 4.0
    scale, windows = _porch_corners(subject.designs, across, each, subject.units)
    pages = []
    for start in range(0, count, per_sheet):
        shown = subject.designs[start : start + per_sheet]
        pages.append(
            {
                "kind": "year",
                "title": f"The year: one hour in four seasons, {clock}",
                "light": set_text(
                    f"{subject.loaded.scene.site.place} · the porch's right end, and how "
                    f"deep the cornice's shadow falls from its foot"
                ),
                "head": head,
                "name": name,
                "line": line,
                "scale": maker.scaled(scale, 0.2 * wide),
                "seasons": [
                    {"name": season.capitalize(), "sun": set_text(season_words(sun))}
                    for season, sun in zip(SEASONS, suns, strict=True)
                ],
                "rows": [
                    {
                        "name": set_text(marked(subject.designs, design)),
                        "cells": [
                            _season(maker, design, windows[design.name], scale, season, sun)
                            for season, sun in zip(SEASONS, suns, strict=True)
                        ],
                    }
                    for design in shown
                ],
            }
        )
    return pages


def _season(
    maker: Maker, design: Design, window: Window, scale: Scale, season: str, sun: SunTime
) -> dict[str, Any]:
    depth_m = cornice_shadow_m(design, sun) if sun.is_up else None
    under = shadow_under_corona(design, sun) if sun.is_up else None
    words = (
        f"shadow {format_length(depth_m, maker.subject.units)}, from the corona "
        f"{format_length(under.depth_m, maker.subject.units)}"
        if depth_m is not None and under is not None
        else "no sun on the front"
        if sun.is_up
        else "the sun is down"
    )
    light = sun if sun.is_up else None
    return {
        "drawing": maker.drawing(design, window, scale, light, slug(season)),
        "line": set_text(words),
    }


def _below_cornice_m(design: Design) -> float:
    order = design.porch.order
    return order.frieze_height_m + order.architrave_height_m


def _runs(design: Design, suns: Sequence[SunTime], deepest_m: float) -> list[list[list[float]]]:
    """Hours and depths of the cornice's shadow, in runs while the sun is on the front."""
    runs: list[list[list[float]]] = [[]]
    for sun in suns:
        depth_m = cornice_shadow_m(design, sun) if sun.is_up and sun.when else None
        if depth_m is None or sun.when is None:
            runs.append([])
            continue
        hour = sun.when.hour + sun.when.minute / 60.0
        runs[-1].append([hour, round(min(max(depth_m, 0.0), deepest_m), 5)])
    return [run for run in runs if len(run) > 1]


def _porch_corners(
    designs: Sequence[Design], across_mm: float, down_mm: float, units: str
) -> tuple[Scale, dict[str, Window]]:
    """The right end of each porch's entablature, with what is over and under it, by the design's
    name: all filling one place on paper at the largest standard scale that holds their heights."""
    ends: dict[str, tuple[float, float, float]] = {}
    for design in designs:
        porch = design.porch.highest
        rail = porch.balustrade.height_m if porch.balustrade else 0.0
        right = porch.frieze_x_m[1] + porch.order.cornice_projection_m
        foot = porch.column_top_z_m - 0.12 * porch.order.column_height_m
        top = porch.stands_on_z_m + rail + 0.1
        ends[design.name] = (right, foot, top)
    tallest = max(top - foot for _, foot, top in ends.values())
    scale = scale_within(0.0, tallest, across_mm, down_mm, units)
    wide_m, tall_m = (mm * scale.ratio / 1000.0 for mm in (across_mm, down_mm))
    windows = {}
    for name, (right, _, top) in ends.items():
        end = right + 0.12 * wide_m
        windows[name] = Window(end - wide_m, end, top - tall_m, top)
    return scale, windows
