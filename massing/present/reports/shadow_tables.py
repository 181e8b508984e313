"""Figures of sun and shadow as tables: in the terminal, as CSV, as JSON."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from datetime import datetime
from itertools import groupby
from typing import Any

import numpy as np
from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from massing.design.site import SiteDesign
from massing.practice.cautions import CAUTION, comment
from massing.present.names import CsvTable
from massing.present.words import sun_text
from massing.shadow.lines import FINE_STATION_M, LINE_STEP_M, STATION_M
from massing.shadow.measure import HOURS_WITHIN, SHARE_WITHIN, Depth
from massing.shadow.study import SEASONS, Moment, Raking, Year, YearSuns
from massing.shadow.surfaces import surface_group
from massing.sun.position import SunTime, front_light
from massing.sun.times import clock_text
from massing.units import compass_point, format_feet_inches, format_length


def site_line(site: SiteDesign) -> str:
    """Place, zone and the way the front looks, for titles."""
    front = f"front faces {site.front_azimuth_deg:g}° ({compass_point(site.front_azimuth_deg)})"
    return f"{site.place} · {site.time_zone} · {front}"


def grouped_shares(shares: dict[str, float]) -> dict[str, float]:
    """Shares in sun with the openings of a floor taken together.

    >>> grouped_shares({"frieze": 0.5, "window 1, first floor": 0.2,
    ...                 "window 2, first floor": 0.4})
    {'frieze': 0.5, 'windows, first floor': 0.30000000000000004}
    """
    rows: dict[str, list[float]] = {}
    for name, share in shares.items():
        rows.setdefault(surface_group(name), []).append(share)
    return {name: float(np.mean(values)) for name, values in rows.items()}


# --- terminal ------------------------------------------------------------------------------


def print_moments(console: Console, moments: Sequence[Moment], units: str) -> None:
    """For each sun a table: what is in shade and in sun, the designs side by side."""
    for sun, group in groupby(moments, key=lambda moment: moment.sun):
        _print_sun(console, sun, list(group), units)
    console.print(Text(f"{legend(units)} {within_text(moments)}", style="italic"))
    console.print()


LEGEND = (
    "Depths are measured on the built model, edges to a tenth of a millimetre, streaks of light "
    "lower than {step} passed over, at stations {fine} apart on frieze and architrave and {wide} "
    "on walls and floors: mean (least to most) over the face; all, where it is wholly in shade. "
    "Those under the corona run from its lower edge down over whatever faces "
    "stand there, those of the shafts from their own heads. The profile angle's are those of a "
    "long straight cornice, without the roof and whatever stands beside; where there are mutules, "
    "modillions or dentils, between and under them."
)


def legend(units: str) -> str:
    """How the depths were measured."""
    step, fine, wide = (format_length(m, units) for m in (LINE_STEP_M, FINE_STATION_M, STATION_M))
    return LEGEND.format(step=step, fine=fine, wide=wide)


def within_text(moments: Sequence[Moment]) -> str:
    """How close the shares in sun are: what was asked, or what was reached where it was less."""
    most = max((w for m in moments for w in m.within.values()), default=0.0)
    close = max(SHARE_WITHIN, most)
    return (
        f"Shares in sun are of the area as the elevation shows it, within {100 * close:.1f} % of "
        "it, nineteen times of twenty."
    )


def light_text(sun: SunTime) -> str:
    """How bright the front is in sun and in shade."""
    light = front_light(sun)
    shade = f"{_round_lux(light.shade_lux)} lx in open shade"
    if not sun.on_front:
        return f"Clear sky, the front: {shade}"
    lit = _round_lux(light.sun_lux + light.shade_lux)
    return f"Clear sky, the front: {lit} lx in sun, {shade}, {light.contrast:.1f} to 1"


def _round_lux(lux: float) -> str:
    step = 1000 if lux >= 10_000 else 100
    return f"{round(lux / step) * step:,}".replace(",", " ")


def _soft_text(edge_m: float | None, units: str) -> str:
    if edge_m is None:
        return "–"
    return format_feet_inches(edge_m, 64) if units == "feet" else f"{1000 * edge_m:.1f} mm"


def _print_sun(console: Console, sun: SunTime, moments: list[Moment], units: str) -> None:
    """A sun's table: a row for each depth of shadow, a column for each design."""
    clock = f" · {clock_text(sun.when)}" if sun.when else ""
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False)
    console.print(Text(f"{sun.label}{clock} · {sun_text(sun)}", style="bold"))
    table.add_column("")
    for moment in moments:
        table.add_column(Text(moment.design))
    if sun.note:
        console.print(Text(sun.note))
    if sun.is_up:
        console.print(Text(light_text(sun)))
    for row in _rows_of_sun(sun, moments, units):
        table.add_row(*row)
    console.print(table)
    console.print()


def _rows_of_sun(sun: SunTime, moments: list[Moment], units: str) -> Iterator[tuple[str, ...]]:
    """A label and a cell for each design: depths of shadow, reaches of sun, shares in sun."""
    if sun.on_front:
        yield from _rows_by_angle(moments, units)
    for name in dict.fromkeys(d.name for m in moments for d in (*m.shade, *m.reach)):
        found = [_depth_named(m, name) for m in moments]
        label = f"sun in over the {name.partition(',')[0]}" if _is_reach(moments, name) else name
        yield label, *(depth_text(d, units) if d else "–" for d in found)
    shares = [grouped_shares(m.in_sun) for m in moments]
    for name in dict.fromkeys(name for share in shares for name in share):
        cells = (f"{share[name]:.0%}" if name in share else "–" for share in shares)
        yield f"{name} in sun", *cells


def _rows_by_angle(moments: list[Moment], units: str) -> Iterator[tuple[str, ...]]:
    """What the profile angle gives, of the cornice and of its corona, and the soft edge."""
    depths = [m.cornice_rule_m for m in moments]
    changes = (
        "–" if d is None else _with_change(d, depths[0] if i else None, units)
        for i, d in enumerate(depths)
    )
    yield "cornice shadow by the profile angle", *changes
    if any(_differs(m) for m in moments):
        yield "… between and under its brackets", *_under(moments, units)
    under = [m.under_corona for m in moments]
    on = (f"{format_length(u.depth_m, units)}, on the {u.on}" if u else "–" for u in under)
    yield "shadow under the corona, by the profile angle", *on
    soft = (_soft_text(m.soft_edge_m, units) for m in moments)
    yield "its soft edge, from the sun's disc", *soft


def _with_change(depth_m: float, base_m: float | None, units: str) -> str:
    text = format_length(depth_m, units)
    if base_m is None:
        return text
    change = depth_m - base_m
    sign = "+" if change >= 0 else "−"
    return f"{text} ({sign}{format_length(abs(change), units)})"


def _differs(moment: Moment) -> bool:
    least, most = moment.cornice_rule_m, moment.cornice_rule_most_m
    return least is not None and most is not None and most > least + 5e-4


def _under(moments: Sequence[Moment], units: str) -> list[str]:
    """The cornice's shadow between its brackets, and under them."""
    return [
        f"{format_length(m.cornice_rule_m, units)} to {format_length(m.cornice_rule_most_m, units)}"
        if _differs(m) and m.cornice_rule_m is not None and m.cornice_rule_most_m is not None
        else "–"
        for m in moments
    ]


def _is_reach(moments: Sequence[Moment], name: str) -> bool:
    return any(d.name == name for m in moments for d in m.reach)


def _depth_named(moment: Moment, name: str) -> Depth | None:
    return next((d for d in (*moment.shade, *moment.reach) if d.name == name), None)


def depth_text(depth: Depth, units: str) -> str:
    """A depth in words: its mean, and its least and most where they differ.

    >>> depth_text(Depth("frieze", 0.2, 0.21, 0.25, 0.21, 0.0, 0.5), "metric")
    '210 mm (200 to 250)'
    >>> depth_text(Depth("frieze", 0.5, 0.5, 0.5, 0.5, 1.0, 0.5), "metric")
    'all'
    """
    if depth.whole > 0.999:
        return "all"
    if depth.most_m < 5e-4:
        return "none"
    text = format_length(depth.mean_m, units)
    if depth.most_m - depth.least_m < 0.003:
        return text
    if units == "metric":
        return (
            f"{text} ({_bare(depth.least_m, depth.mean_m)} to {_bare(depth.most_m, depth.mean_m)})"
        )
    return f"{text} ({format_length(depth.least_m, units)} to {format_length(depth.most_m, units)})"


def _bare(length_m: float, beside_m: float) -> str:
    return f"{length_m * 1000:.0f}" if abs(beside_m) < 1.0 else f"{length_m:.3f}"


def print_year(console: Console, years: Sequence[Year], suns: YearSuns, site: SiteDesign) -> None:
    """Mean hours of direct sun a day on every surface, in the summer and winter half-year."""
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False)
    title = (
        f"Hours of direct sun a day, summer half / winter half · {site.year} · {site_line(site)}"
    )
    console.print(Text(title, style="bold"))
    table.add_column("")
    for year in years:
        table.add_column(Text(year.design), justify="right")
    days = np.array(suns.days)
    plane = "plane of the front, nothing in the way"
    table.add_row(plane, *(_halves(suns.on_front_h / days) for _ in years))
    for name in dict.fromkeys(name for year in years for name in year.surfaces):
        cells = (
            _halves(year.surfaces[name] / days) if name in year.surfaces else "–" for year in years
        )
        table.add_row(name, *cells)
    console.print(table)
    console.print(Text(hours_within_text(years, suns), style="italic"))
    console.print()


def hours_within_text(years: Sequence[Year], suns: YearSuns) -> str:
    """How close the hours are: what was asked, or what was reached where it was less."""
    days = np.array(suns.days)
    reached = [float((w / days).max()) for year in years for w in year.within.values()]
    close = max([HOURS_WITHIN, *reached])
    return (
        f"Mean over each surface's area as the elevation shows it, within {close:.2f} h a day, "
        "nineteen times of twenty; a clear sky throughout."
    )


def _halves(hours: Iterable[float]) -> str:
    return " / ".join(f"{h:.1f}" for h in hours)


def print_raking(console: Console, days: Sequence[Raking], site: SiteDesign) -> None:
    """When the sun is on the front and when it rakes it, through the year."""
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False)
    console.print(Text(f"Raking light on the front · {site_line(site)}", style="bold"))
    for heading in ("Day", "On the front", "Raking, over 70° from square", "Best", "From"):
        table.add_column(heading)
    for day in days:
        best = day.best
        strongest = "–" if best is None else f"{best.label}, sun {best.altitude_deg:.0f}° high"
        table.add_row(
            f"{day.day.day.day} {day.day.day:%b}",
            spells_text(day.day.front_sun) or "never",
            spells_text(day.day.raking) or "–",
            strongest,
            day.from_where or "–",
        )
    console.print(table)
    console.print()


def spells_text(spells: Sequence[tuple[datetime, datetime]]) -> str:
    """Spells of time as clock times."""
    return ", ".join(f"{a:%H:%M} to {b:%H:%M}" for a, b in spells)


# --- files ---------------------------------------------------------------------------------


def moments_csv(moments: Sequence[Moment]) -> str:
    """One row for every figure of every design and sun; metres, degrees and shares."""
    buffer = io.StringIO()
    buffer.write(comment())
    table = CsvTable(buffer)
    table.writerow(
        "design time clock altitude_deg azimuth_deg profile_angle_deg figure where "
        "least_m mean_m most_m middle_m whole share within".split()
    )
    for moment in moments:
        sun = moment.sun
        profile = "" if sun.profile_angle_deg is None else f"{sun.profile_angle_deg:.4f}"
        start = [
            moment.design,
            sun.label,
            sun.when.isoformat() if sun.when else "",
            f"{sun.altitude_deg:.4f}",
            f"{sun.azimuth_deg:.4f}",
            profile,
        ]
        under = moment.under_corona
        if under is not None:
            name = "shadow under the corona by the profile angle"
            row = [name, under.on, "", f"{under.depth_m:.4f}", "", "", "", "", ""]
            table.writerow([*start, *row])
        for figure, length in (
            ("cornice shadow by the profile angle", moment.cornice_rule_m),
            ("the same under mutules and dentils", moment.cornice_rule_most_m),
            ("its soft edge", moment.soft_edge_m),
        ):
            if length is not None:
                table.writerow([*start, figure, "", "", f"{length:.4f}", "", "", "", "", ""])
        for figure, depths in (("shade", moment.shade), ("sun reaches in", moment.reach)):
            for d in depths:
                sizes = [f"{v:.4f}" for v in (d.least_m, d.mean_m, d.most_m, d.middle_m, d.whole)]
                table.writerow([*start, figure, d.name, *sizes, "", ""])
        for name, share in moment.in_sun.items():
            close = f"{moment.within[name]:.4f}"
            table.writerow([*start, "in sun", name, "", "", "", "", "", f"{share:.4f}", close])
    return buffer.getvalue()


def year_csv(years: Sequence[Year], suns: YearSuns) -> str:
    """Hours of direct sun on every surface in each half of the year."""
    buffer = io.StringIO()
    buffer.write(comment())
    table = CsvTable(buffer)
    table.writerow(["design", "where", "half", "hours", "hours_a_day", "days", "within_a_day"])
    for year in years:
        rows = {"plane of the front": suns.on_front_h, **year.surfaces}
        for name, hours in rows.items():
            for half, total, days in zip(SEASONS, hours, suns.days, strict=True):
                spread = year.within.get(name)
                close = "" if spread is None else f"{spread[SEASONS.index(half)] / days:.3f}"
                row = [year.design, name, half, f"{total:.1f}", f"{total / days:.3f}"]
                table.writerow([*row, f"{days:.2f}", close])
    return buffer.getvalue()


def shadows_json(
    site: SiteDesign,
    moments: Sequence[Moment],
    raking: Sequence[Raking],
    years: Sequence[Year] = (),
    suns: YearSuns | None = None,
) -> str:
    """Everything measured, for other programs; metres, degrees, hours and shares."""
    content: dict[str, Any] = {
        "site": asdict(site),
        "moments": [_moment_values(moment) for moment in moments],
        "raking": [_raking_values(day) for day in raking],
    }
    if suns is not None:
        content["year"] = {
            "halves": list(SEASONS),
            "days": list(suns.days),
            "daylight_h": suns.daylight_h.tolist(),
            "on_front_h": suns.on_front_h.tolist(),
            "designs": {
                year.design: {
                    name: hours.round(2).tolist() for name, hours in year.surfaces.items()
                }
                for year in years
            },
        }
    content["caution"] = CAUTION
    return json.dumps(content, indent=1, ensure_ascii=False) + "\n"


def _moment_values(moment: Moment) -> dict[str, Any]:
    return {
        "design": moment.design,
        "sun": _sun_values(moment.sun),
        "cornice_rule_m": moment.cornice_rule_m,
        "cornice_rule_most_m": moment.cornice_rule_most_m,
        "under_corona": asdict(moment.under_corona) if moment.under_corona else None,
        "soft_edge_m": moment.soft_edge_m,
        "shade": [asdict(d) for d in moment.shade],
        "sun_reaches_in": [asdict(d) for d in moment.reach],
        "in_sun": moment.in_sun,
        "in_sun_within": moment.within,
    }


def _sun_values(sun: SunTime) -> dict[str, Any]:
    values = asdict(sun)
    values["when"] = sun.when.isoformat() if sun.when else None
    values["front_lux"] = asdict(front_light(sun))
    return values


def _raking_values(day: Raking) -> dict[str, Any]:
    def spells(found: Sequence[tuple[datetime, datetime]]) -> list[list[str]]:
        return [[a.isoformat(), b.isoformat()] for a, b in found]

    found = day.day
    return {
        "day": found.day.isoformat(),
        "sunrise": found.sunrise.isoformat() if found.sunrise else None,
        "solar_noon": found.solar_noon.isoformat(),
        "sunset": found.sunset.isoformat() if found.sunset else None,
        "on_front": spells(found.front_sun),
        "raking": spells(found.raking),
        "best": _sun_values(day.best) if day.best else None,
        "from": day.from_where,
    }
