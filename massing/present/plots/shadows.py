"""Plots of sun and shadow in the house style.

``depth_plot``      shadow depth through a day, a line for each design
``shade_plot``      what of the front's height is in shade through a day, a panel for each design
``sun_hours_plot``  hours of sun over the elevation, summer and winter half-year
``mask_image``      the front's shadow mask as a picture
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter
from PIL import Image

from massing.design.design import Design
from massing.design.site import SiteDesign
from massing.geometry.mesh import Floats
from massing.geometry.rays import Bools, Caster
from massing.present.plots.style import (
    INK_COLOUR,
    LINES,
    PALE_COLOUR,
    STYLE,
    SUN_MAP,
    WASH,
    plot_figure,
    quiet_axis,
)
from massing.present.reports.shadow_tables import site_line
from massing.settingout.roof_heights import roof_rise_m
from massing.shadow.elevation import Elevation, facade_only, see_elevation, shadow_mask
from massing.shadow.front import Front
from massing.shadow.lines import SHAFTS
from massing.shadow.study import SEASONS, Moment, Year, YearSuns, facade_grid
from massing.shadow.surfaces import ARCHITRAVE, FRIEZE, spaced
from massing.sun.position import SunTime
from massing.sun.times import offset_text
from massing.units import INCH_M, floor_name, format_feet_inches

_ROW_STEP_M = 0.04


# --- a day ---------------------------------------------------------------------------------


def day_line(day: date, site: SiteDesign) -> str:
    """Site, date, zone and daylight saving, under a plot's title."""
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=ZoneInfo(site.time_zone))
    offset = noon.utcoffset()
    assert offset is not None
    saving = ", daylight saving time" if noon.dst() else ""
    return f"{day.day} {day:%B %Y}, clock at UTC{offset_text(offset)}{saving} · {site_line(site)}"


def _hours(suns: Sequence[SunTime]) -> Floats:
    clocks = [sun.when for sun in suns if sun.when]
    return np.array([c.hour + c.minute / 60.0 for c in clocks])


def _clock_axis(axes: Axes) -> None:
    axes.xaxis.set_major_formatter(FuncFormatter(lambda h, _: f"{int(h)}:00"))
    low, high = axes.get_xlim()
    axes.set_xticks(np.arange(np.ceil(low), np.floor(high) + 1e-9, 1 if high - low < 11 else 2))


_FEET_STEPS = (1, 2, 3, 6, 12, 24, 60, 120, 240)  # inches
_METRIC_STEPS = (0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)


def _length_axis(axes: Axes, units: str, label: str) -> None:
    """Lengths in the scene's own units: feet and inches, or metres."""
    feet = units == "feet"
    choices = [i * INCH_M for i in _FEET_STEPS] if feet else _METRIC_STEPS
    low, high = sorted(axes.get_ylim())
    every = next((c for c in choices if (high - low) / c <= 9), choices[-1])
    axes.yaxis.set_major_formatter(
        FuncFormatter(lambda m, _: format_feet_inches(m, 1) if feet else f"{m:g}")
    )
    axes.set_yticks(np.arange(np.ceil(low / every) * every, high + 1e-9, every))
    axes.set_ylabel(label if feet else f"{label}, metres")


def below_cornice_m(moment: Moment, design: Design) -> float:
    """How far the shade reaches down from the cornice's foot over frieze, architrave and shaft.

    Measured face by face: the next is asked when most of the one above is in shade. Where the
    whole entablature is, what is in shade of the shafts counts, with the capitals over it.
    """
    order, depths = design.porch.order, {d.name: d for d in moment.shade}
    start = 0.0
    for name, height in (
        (FRIEZE, order.frieze_height_m),
        (ARCHITRAVE, order.architrave_height_m),
    ):
        if depths[name].whole <= 0.5:
            return start + depths[name].middle_m
        start += height
    shaft = depths[SHAFTS].middle_m
    return start + (order.capital_height_m + shaft if shaft > 0.0 else 0.0)


def depth_plot(
    days: Sequence[Sequence[Moment]], designs: Sequence[Design], day: date, units: str
) -> Figure:
    """Shadow depth below the cornice through a day, a line for each design, whole in the frame.

    Over it the entablature, where the cornice's shadow is read, to its foot; under it the shafts.

    Args:
        days: the moments of each design on that day.
        designs: in the same order.
    """
    site = designs[0].site
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(
            9.0, 7.6, "Depth of the cornice's shadow through the day", day_line(day, site)
        )
        axes, shafts = figure.subplots(2, 1, sharex=True, height_ratios=(3, 2))
        deepest = max(_entablature_below(d) for d in designs)
        for moments, design, (colour, dash) in zip(
            days, designs, _cycle(len(designs)), strict=True
        ):
            hours = _hours([m.sun for m in moments])
            down = np.array([below_cornice_m(m, design) for m in moments])
            axes.plot(
                hours,
                np.minimum(down, _entablature_below(design)),
                dash,
                color=colour,
                label=design.name,
            )
            on_shaft = [next(d.middle_m for d in m.shade if d.name == SHAFTS) for m in moments]
            shafts.plot(hours, on_shaft, dash, color=colour)
        marks: list[tuple[float, str, str]] = []
        for design, (colour, dash) in zip(designs, _cycle(len(designs)), strict=True):
            marks += _foot_marks(axes, design, colour, dash)
        axes.set_ylim(1.06 * deepest, -0.02 * deepest)
        _name_levels(axes, marks, deepest)
        tallest = max(d.porch.order.shaft_height_m for d in designs)
        shafts.set_ylim(1.03 * tallest, -0.02 * tallest)
        if any(days):
            clocks = np.concatenate([_hours([m.sun for m in moments]) for moments in days])
            axes.set_xlim(clocks.min() - 0.2, clocks.max() + 0.2)
        axes.set_title("down the frieze and architrave, to their foot", fontsize=10)
        shafts.set_title("down the shafts, from their heads", fontsize=10)
        _clock_axis(shafts)
        _length_axis(axes, units, "Below the cornice's foot")
        _length_axis(shafts, units, "Below the capital")
        figure.legend(
            *axes.get_legend_handles_labels(), loc="outside lower left", ncols=min(3, len(designs))
        )
    return figure


def _entablature_below(design: Design) -> float:
    return design.porch.order.frieze_height_m + design.porch.order.architrave_height_m


def _foot_marks(axes: Axes, design: Design, colour: str, dash: str) -> list[tuple[float, str, str]]:
    """Draw where a design's frieze and architrave end; returns their levels, names, colours."""
    order = design.porch.order
    levels = [
        (order.frieze_height_m, "foot of frieze", colour),
        (_entablature_below(design), "foot of architrave", colour),
    ]
    for level, _, _ in levels:
        axes.axhline(level, color=colour, linewidth=0.8, alpha=0.6, linestyle=dash)
    return levels


def _name_levels(axes: Axes, marks: list[tuple[float, str, str]], span: float) -> None:
    """Name levels beside the frame, moved apart; of the same at one height one stands."""
    chosen: list[tuple[float, str, str]] = []
    for level, name, colour in sorted(marks):
        if not any(name == n and abs(level - at) < 0.035 * span for at, n, _ in chosen):
            chosen.append((level, name, colour))
    places = _apart([-level for level, _, _ in chosen], [1] * len(chosen), 0.062 * span)
    for (_, name, colour), place in zip(chosen, places, strict=True):
        axes.annotate(
            name,
            (1.01, -place),
            xycoords=("axes fraction", "data"),
            va="center",
            fontsize=8.5,
            color=colour,
            annotation_clip=False,
        )


def _cycle(count: int) -> list[tuple[str, str]]:
    return [LINES[i % len(LINES)] for i in range(count)]


def _bay_stations(design: Design) -> Floats:
    """Stations across the porch that see between the columns."""
    porch = design.porch
    half = max(porch.order.plinth_width_m, porch.order.abacus_width_m) / 2.0
    axes = porch.axes_m
    return np.concatenate([spaced(a + half, b - half, 0.12) for a, b in pairwise(axes)])


def shade_rows(front: Front, suns: Sequence[SunTime], top_z: float) -> tuple[Floats, Floats]:
    """Share in sun of the front between the columns at every height, through a day.

    Returns:
        Heights ``(h,)`` from the top down, metres, and shares ``(h, k)`` for k suns.
    """
    zs = np.arange(top_z - _ROW_STEP_M / 2.0, 0.0, -_ROW_STEP_M)
    seen = see_elevation(front.caster, _bay_stations(front.design), zs)
    met = seen.owner >= 0
    lit = front.caster.lit_by_each(
        seen.points[met], seen.normals[met], [sun.direction for sun in suns]
    )
    every = np.full((len(suns), *met.shape), np.nan)
    every[:, met] = lit
    with np.errstate(invalid="ignore"):
        seen_share = met.sum(axis=1)
        share = np.nansum(every, axis=2) / np.where(seen_share > 0, seen_share, np.nan)
    return zs, share.T


def shade_plot(fronts: Sequence[Front], suns: Sequence[SunTime], day: date, units: str) -> Figure:
    """What is in shade at every height of the porch's front through a day.

    Each column of a panel is the front between the columns at that hour: light where the sun
    reaches, dark where shade lies, grey between where a part of the breadth is in sun.
    """
    site = fronts[0].design.site
    top = max(f.design.porch.top_z_m for f in fronts) + 0.3
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(
            1.2 + 4.6 * len(fronts),
            5.8,
            "Sun and shade on the porch's front through the day",
            f"{day_line(day, site)} · between the columns, to the wall behind",
        )
        panels = figure.subplots(1, len(fronts), sharey=True, squeeze=False)[0]
        hours = _hours(suns)
        step = np.diff(hours).min() / 2.0 if len(hours) > 1 else 0.1
        for axes, front in zip(panels, fronts, strict=True):
            zs, share = shade_rows(front, suns, top)
            axes.imshow(
                share,
                extent=(hours[0] - step, hours[-1] + step, zs[-1], zs[0]),
                aspect="auto",
                cmap=WASH,
                vmin=0.0,
                vmax=1.0,
                interpolation="nearest",
            )
            axes.set_title(front.design.name)
            _level_lines(axes, front.design, top)
            axes.set_ylim(0.0, top)
            _clock_axis(axes)
        _length_axis(panels[0], units, "Height above ground")
    return figure


def _level_lines(axes: Axes, design: Design, top_z: float) -> None:
    """The members and openings of a front, named in the panel's right margin."""
    porch, order = design.porch, design.porch.order
    soffit = porch.column_top_z_m
    bed = soffit + order.architrave_height_m
    foot = bed + order.frieze_height_m
    bands = [
        ("cornice", foot, porch.top_z_m),
        ("frieze", bed, foot),
        ("architrave", soffit, bed),
    ]
    axes.axhline(porch.floor_z_m, color=INK_COLOUR, linewidth=0.7)
    for _, low, high in bands:
        axes.axhline(low, color=INK_COLOUR, linewidth=0.7)
        axes.axhline(high, color=INK_COLOUR, linewidth=0.7)
    storeys = dict.fromkeys(
        (floor_name(o.storey or 0, design.units), o.sill_z_m, o.head_z_m)
        for o in design.house.windows
        if o.wall == "front" and o.sill_z_m < soffit
    )
    for storey, sill, head in storeys:
        bands.append((f"windows,\n{storey}", sill, head))
        for level in (sill, head):
            axes.axhline(level, color=INK_COLOUR, linewidth=0.5, linestyle=(0, (3, 3)))
    middles = [(low + high) / 2.0 for _, low, high in bands]
    lines = [1 + name.count("\n") for name, _, _ in bands]
    for (name, _, _), place in zip(bands, _apart(middles, lines, 0.034 * top_z), strict=True):
        axes.annotate(
            name,
            (1.01, place),
            xycoords=("axes fraction", "data"),
            va="center",
            fontsize=8.5,
            color=PALE_COLOUR,
            annotation_clip=False,
        )


def _apart(places: Sequence[float], lines: Sequence[int], line_m: float) -> list[float]:
    """Heights for names that do not overlap, each as near its place as the one above allows.

    >>> _apart([3.0, 2.9, 1.0], [1, 1, 1], 0.5)
    [3.0, 2.5, 1.0]
    """
    order = sorted(range(len(places)), key=lambda i: -places[i])
    found = list(places)
    for above, here in pairwise(order):
        gap = line_m * (lines[above] + lines[here]) / 2.0
        found[here] = min(found[here], found[above] - gap)
    return found


# --- the year ------------------------------------------------------------------------------


def sun_hours_plot(years: Sequence[Year], fronts: Sequence[Front], suns: YearSuns) -> Figure:
    """Mean hours of direct sun a day over each design's elevation, summer and winter half."""
    site = fronts[0].design.site
    days = np.array(suns.days)
    most = max(float(np.nanmax(year.map_h / days[:, None, None])) for year in years)
    shape = years[0].elevation
    width = 5.4
    tall = width * len(shape.z_m) / len(shape.x_m) + 0.45
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(
            2 * width + 1.3,
            1.1 + tall * len(years),
            "Hours of direct sun on the front",
            f"{site.year}, a day's mean in each half-year, equinox to equinox · {site_line(site)}",
        )
        panels = figure.subplots(len(years), 2, squeeze=False)
        for row, year, front in zip(panels, years, fronts, strict=True):
            lines = outline_mask(front.caster, front.design)
            for axes, half, hours, count in zip(row, SEASONS, year.map_h, days, strict=True):
                drawn = _draw_map(axes, year.elevation, hours / count, most)
                _draw_outlines(axes, *lines)
                axes.set_title(f"{year.design}, {half}")
        bar = figure.colorbar(drawn, ax=panels, shrink=0.6, aspect=30, pad=0.02)
        bar.set_label("hours of direct sun a day")
        bar.outline.set_visible(False)
    return figure


def _extent(elevation: Elevation) -> tuple[float, float, float, float]:
    step_x = elevation.x_m[1] - elevation.x_m[0]
    step_z = elevation.z_m[0] - elevation.z_m[1]
    left, right = elevation.x_m[0] - step_x / 2.0, elevation.x_m[-1] + step_x / 2.0
    low, high = elevation.z_m[-1] - step_z / 2.0, elevation.z_m[0] + step_z / 2.0
    return float(left), float(right), float(low), float(high)


def _draw_map(
    axes: Axes, elevation: Elevation, hours: Floats, most: float
) -> matplotlib.image.AxesImage:
    quiet_axis(axes)
    # roof and setting in a pale tone, so that the front is seen whole
    aside = np.where((elevation.owner >= 0) & np.isnan(hours), 0.12, 0.0)
    axes.imshow(_washed(aside), extent=_extent(elevation), interpolation="nearest")
    return axes.imshow(
        hours, extent=_extent(elevation), cmap=SUN_MAP, vmin=0.0, vmax=most, interpolation="nearest"
    )


def outline_mask(caster: Caster, design: Design, step_m: float = 0.025) -> tuple[Bools, Elevation]:
    """Where the elevation has edges: another part, or a break in depth or slope."""
    xs, zs = facade_grid(design)
    fine = see_elevation(
        caster,
        np.arange(xs[0], xs[-1], step_m),
        np.arange(zs[0], zs[-1], -step_m),
    )
    edge = np.zeros(fine.owner.shape, dtype=bool)
    depth = np.nan_to_num(fine.points[..., 1], nan=1e3)
    normals = np.nan_to_num(fine.normals)
    for axis in (0, 1):
        breaks = (
            (np.diff(fine.owner, axis=axis) != 0)
            | (np.abs(np.diff(depth, axis=axis)) > 2.0 * step_m)
            | (np.abs(np.diff(normals, axis=axis)).max(axis=-1) > 0.5)
        )
        edge[tuple(slice(None, -1) if a == axis else slice(None) for a in (0, 1))] |= breaks
    return edge & fine.of(facade_only), fine


def _draw_outlines(axes: Axes, edges: Bools, elevation: Elevation) -> None:
    axes.imshow(
        _washed(np.where(edges, 0.55, 0.0)), extent=_extent(elevation), interpolation="antialiased"
    )


def _washed(strength: Floats) -> Floats:
    """Ink laid on in the given strengths ``(h, w)``, as ``(h, w, 4)``."""
    ink = np.empty((*strength.shape, 4))
    ink[..., :3], ink[..., 3] = INK_COLOUR, strength
    return ink


# --- the mask ------------------------------------------------------------------------------


def mask_view(front: Front, metres_per_pixel: float = 0.02) -> Elevation:
    """The elevation that masks of a front are made on, a point for each pixel."""
    left, right = front.design.house.reach_x_m
    xs = spaced(left - 1.5, right + 1.5, metres_per_pixel)
    zs = spaced(0.0, _top_of(front.design), metres_per_pixel)[::-1]
    return see_elevation(front.caster, xs, zs)


def mask_image(front: Front, view: Elevation, sun: SunTime) -> Image.Image:
    """The front's shadow mask: white in sun, dark in shade, clear where there is sky."""
    lit = shadow_mask(front.caster, view, sun.direction)
    pixels = np.zeros((*lit.shape, 2), dtype=np.uint8)
    pixels[..., 0] = np.where(lit, 255, 70)
    pixels[..., 1] = np.where(view.owner >= 0, 255, 0)
    return Image.fromarray(pixels, "LA")


def _top_of(design: Design) -> float:
    house, roof = design.house, design.roof
    out = house.cornice.projection_m + roof.overhang_m
    return house.wall_top_z_m + roof_rise_m(roof, house.width_m, house.depth_m, out) + 0.5
