"""Plots of the sky over a site: the sun's paths, and what of the sky a front looks at.

``sun_path_plot``   the sun's path at the site and what of the sky the front sees
``sky_view_plot``   from where in the sky the sun reaches a surface of the built front
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke

from massing.design.site import SiteDesign
from massing.geometry.mesh import Floats
from massing.present.plots.style import (
    INK_COLOUR,
    LINES,
    PALE_COLOUR,
    PAPER_COLOUR,
    RULE_COLOUR,
    SHADE_WASH,
    STYLE,
    WASH,
    plot_figure,
    quiet_axis,
)
from massing.present.reports.shadow_tables import site_line
from massing.shadow.study import SkyView
from massing.sun.instants import every
from massing.sun.position import RAKING_INCIDENCE_DEG, SunTime, site_positions
from massing.sun.times import season_day

_HALO = [withStroke(linewidth=2.5, foreground=PAPER_COLOUR)]


def sky_xy(altitude_deg: Floats, azimuth_deg: Floats) -> tuple[Floats, Floats]:
    """Place of a sky direction on a plan with the zenith in the middle and north up.

    Stereographic: distance from the middle is tan((90 - altitude) / 2), the horizon at 1.

    >>> x, y = sky_xy(np.array([90.0, 0.0]), np.array([0.0, 90.0]))
    >>> x.round(6).tolist(), (y.round(6) + 0).tolist()
    ([0.0, 1.0], [0.0, 0.0])
    """
    distance = np.tan(np.radians(90.0 - np.asarray(altitude_deg)) / 2.0)
    azimuth = np.radians(azimuth_deg)
    return distance * np.sin(azimuth), distance * np.cos(azimuth)


def sun_path_plot(site: SiteDesign, suns: Sequence[SunTime] = ()) -> Figure:
    """The sun's path at a site, what of the sky the front sees, and where the sun rakes it."""
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(
            7.6,
            9.0,
            "The sun's path and the front's field of view",
            f"{site.year} · {site_line(site)}",
        )
        axes = figure.subplots()
        _sky_plan(axes)
        _field_of_view(axes, site.front_azimuth_deg)
        taken = [_day_paths(axes, site), _front_lines(site.front_azimuth_deg)]
        shown = [sun for sun in suns if sun.when and sun.is_up]
        taken += [
            _mark_sun(axes, sun, letter) for sun, letter in zip(shown, _LETTERS, strict=False)
        ]
        _hour_lines(axes, site, np.concatenate(taken), 0.29)
        handles, names = axes.get_legend_handles_labels()
        figure.legend(handles, names, loc="outside lower left", ncols=3)
        axes.text(0.5, -0.02, _KEY, transform=axes.transAxes, ha="center", va="bottom", fontsize=9)
    return figure


def sky_view_plot(views: Sequence[SkyView], site: SiteDesign) -> Figure:
    """From where in the sky the sun reaches a surface, a panel for each design.

    Light where a sun would reach all of it, dark where none; the sun's paths lie over it.
    """
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(
            4.7 * len(views) + 0.3,
            6.3,
            f"When the sun reaches: {views[0].surface}",
            f"{site.year} · {site_line(site)} · light: all of it in the sun, dark: none; "
            "hours are standard time",
        )
        panels = figure.subplots(1, len(views), squeeze=False)[0]
        for axes, view in zip(panels, views, strict=True):
            azimuth, altitude = np.meshgrid(view.azimuth_edges_deg, view.altitude_edges_deg)
            x, y = sky_xy(altitude, azimuth)
            axes.pcolormesh(x, y, view.share, cmap=WASH, vmin=0.0, vmax=1.0, linewidth=0)
            _sky_plan(axes)
            paths = _day_paths(axes, site)
            _hour_lines(axes, site, paths, 0.5)
            axes.set_title(view.design)
        handles, names = panels[0].get_legend_handles_labels()
        figure.legend(handles, names, loc="outside lower left", ncols=3)
    return figure


def _sky_plan(axes: Axes) -> None:
    """A plan of the sky: horizon, altitudes, compass."""
    quiet_axis(axes)
    axes.set_aspect("equal")
    axes.set_xlim(-1.16, 1.16)
    axes.set_ylim(-1.2, 1.16)
    _sky_grid(axes)


def _sky_grid(axes: Axes) -> None:
    turn = np.linspace(0.0, 360.0, 361)
    for altitude in range(0, 90, 15):
        x, y = sky_xy(np.full(turn.shape, float(altitude)), turn)
        axes.plot(x, y, color=RULE_COLOUR, linewidth=1.2 if altitude == 0 else 0.6)
        if altitude:
            axes.text(0.0, y[0], f"{altitude}°", fontsize=8, color=PALE_COLOUR, ha="center")
    for azimuth in range(0, 360, 30):
        x, y = sky_xy(np.array([0.0, 75.0]), np.array([azimuth, azimuth]))
        axes.plot(x, y, color=RULE_COLOUR, linewidth=0.5)
        name = {0: "N", 90: "E", 180: "S", 270: "W"}.get(azimuth, f"{azimuth}°")
        reach = 1.07
        axes.text(
            reach * np.sin(np.radians(azimuth)),
            reach * np.cos(np.radians(azimuth)),
            name,
            ha="center",
            va="center",
            fontsize=12 if len(name) == 1 else 8.5,
            color=INK_COLOUR if len(name) == 1 else PALE_COLOUR,
        )


def _field_of_view(axes: Axes, front_azimuth_deg: float) -> None:
    """Sky behind the front washed over; between it and the dashed line the sun rakes."""
    turn = np.linspace(90.0, 270.0, 181)
    x, y = sky_xy(np.zeros(turn.shape), front_azimuth_deg + turn)
    axes.fill(x, y, color=SHADE_WASH, alpha=0.45, linewidth=0)
    x, y = _incidence_line(RAKING_INCIDENCE_DEG, front_azimuth_deg)
    axes.plot(x, y, color=INK_COLOUR, linewidth=1.0, linestyle=(0, (5, 3)))
    fx, fy = np.sin(np.radians(front_azimuth_deg)), np.cos(np.radians(front_azimuth_deg))
    axes.plot([-fy, fy], [fx, -fx], color=INK_COLOUR, linewidth=2.2)
    axes.annotate(
        "",
        xy=(0.16 * fx, 0.16 * fy),
        xytext=(0, 0),
        arrowprops={"arrowstyle": "-|>", "color": INK_COLOUR},
    )


_KEY = (
    "Heavy line: the front, arrow the way it looks. Grey: sky the front cannot see. "
    "Dashed: the sun is 70° from square;\nbetween it and the grey the light rakes. "
    "Hours along the paths are standard time; asked times are clock time."
)


def _incidence_line(incidence_deg: float, front_azimuth_deg: float) -> tuple[Floats, Floats]:
    across = np.linspace(-90.0, 90.0, 361)
    with np.errstate(invalid="ignore"):
        # cos(incidence) = cos(altitude) cos(azimuth from the front)
        altitude = np.degrees(
            np.arccos(np.cos(np.radians(incidence_deg)) / np.cos(np.radians(across)))
        )
    real = np.isfinite(altitude)
    return sky_xy(altitude[real], front_azimuth_deg + across[real])


def _front_lines(front_azimuth_deg: float) -> Floats:
    """Points ``(n, 2)`` of the line of the front and of the raking sun's."""
    fx, fy = np.sin(np.radians(front_azimuth_deg)), np.cos(np.radians(front_azimuth_deg))
    along = np.linspace(-1.0, 1.0, 201)
    front = np.column_stack([-fy * along, fx * along])
    arrow = np.linspace(0.0, 0.16, 17)[:, None] * [fx, fy]
    raking = np.column_stack(_incidence_line(RAKING_INCIDENCE_DEG, front_azimuth_deg))
    return np.concatenate([front, arrow, raking])


def _day_paths(axes: Axes, site: SiteDesign) -> Floats:
    """Draw the sun's paths; the points ``(n, 2)`` of those that have names."""
    zone = ZoneInfo(site.time_zone)
    days = [
        (season_day(name, site.year, site.latitude_deg, zone), colour, dash)
        for name, (colour, dash) in zip(
            ("summer solstice", "spring equinox", "winter solstice"),
            (LINES[1], LINES[2], LINES[0]),
            strict=True,
        )
    ]
    for month in range(1, 13):
        _path(axes, date(site.year, month, 21), site, RULE_COLOUR, 0.8, "-")
    named = [
        _path(axes, day, site, colour, 2.0, dash, f"{day.day} {day:%B}")
        for day, colour, dash in days
    ]
    points = np.concatenate(named)
    shown: Floats = points[np.isfinite(points).all(axis=1)]
    return shown


def _path(
    axes: Axes,
    day: date,
    site: SiteDesign,
    colour: str | tuple[float, float, float],
    width: float,
    dash: str,
    label: str | None = None,
) -> Floats:
    start = datetime(day.year, day.month, day.day, tzinfo=UTC)
    start -= timedelta(minutes=4 * site.longitude_deg)  # from midnight to midnight of the sun
    times = every(start, start + timedelta(days=1), timedelta(minutes=5), with_end=True)
    sun = site_positions(times, site)
    x, y = sky_xy(sun.altitude_deg, sun.azimuth_deg)
    down = sun.altitude_deg <= 0
    x, y = np.where(down, np.nan, x), np.where(down, np.nan, y)
    axes.plot(x, y, linestyle=dash, color=colour, linewidth=width, label=label)
    return np.column_stack([x, y])


def _hour_lines(axes: Axes, site: SiteDesign, taken: Floats, inch: float) -> None:
    """Where the sun stands at each full hour of standard time, through the year.

    An hour's name stands beside the highest of its places, clear of the points ``taken`` and of
    other names, or is left out where there is no room; ``inch`` is one on paper.
    """
    size = np.array([0.105, 0.125]) * inch
    spots = [taken, _grid_names()]
    offset = _standard_offset(site)
    for hour in range(24):
        start = datetime(site.year, 1, 1, hour, tzinfo=UTC) - offset
        sun = site_positions(every(start, start + timedelta(days=369), timedelta(days=3)), site)
        x, y = sky_xy(sun.altitude_deg, sun.azimuth_deg)
        down = sun.altitude_deg <= 0
        if down.all():
            continue
        axes.plot(
            np.where(down, np.nan, x), np.where(down, np.nan, y), color=RULE_COLOUR, linewidth=0.7
        )
        top = int(np.argmax(np.where(down, -1.0, sun.altitude_deg)))
        half = size * [len(str(hour)), 1.0] / 2.0
        place = _clear_place(np.array([x[top], y[top]]), half, np.concatenate(spots))
        if place is None:
            continue
        spots.append(place + np.array([(i, j) for i in (-1, 0, 1) for j in (-1, 0, 1)]) * half)
        drawn = axes.text(place[0], place[1], str(hour), fontsize=8, color=PALE_COLOUR, zorder=4)
        drawn.set(ha="center", va="center", path_effects=_HALO)


def _grid_names() -> Floats:
    """Where the altitudes are written, as points ``(n, 2)``."""
    y = [sky_xy(np.array([float(a)]), np.array([0.0]))[1][0] for a in range(15, 90, 15)]
    return np.array([(i, v + j) for v in y for i in (-0.03, 0.0, 0.03) for j in (0.0, 0.02, 0.04)])


def _clear_place(at: Floats, half: Floats, taken: Floats) -> Floats | None:
    """The place nearest to a point at which a name of half width and height clears others."""
    turns = np.radians(np.arange(90.0, 450.0, 22.5))
    for reach in (1.0, 1.5, 2.1):
        for turn in turns:
            place: Floats = at + reach * (half + 0.012) * [np.cos(turn), np.sin(turn)] * 1.2
            if not (np.abs(taken - place) < half + 0.012).all(axis=1).any():
                return place
    return None


def _standard_offset(site: SiteDesign) -> timedelta:
    zone = ZoneInfo(site.time_zone)
    year = [datetime(site.year, month, 1, 12, tzinfo=zone) for month in (1, 7)]
    standard = min(year, key=lambda when: when.dst() or timedelta(0))
    return standard.utcoffset() or timedelta(0)


_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def _mark_sun(axes: Axes, sun: SunTime, letter: str) -> Floats:
    """A sun with its letter, named in the legend; the points ``(n, 2)`` that it takes up."""
    x, y = sky_xy(np.array(sun.altitude_deg), np.array(sun.azimuth_deg))
    axes.plot(
        [x],
        [y],
        "o",
        markersize=13,
        color="#e0a11b",
        markeredgecolor=INK_COLOUR,
        zorder=5,
        linestyle="none",
        label=f"{letter}: {sun.label}",
    )
    axes.text(float(x), float(y), letter, ha="center", va="center_baseline", fontsize=9.5, zorder=6)
    turn = np.linspace(0.0, 2.0 * np.pi, 13)
    return np.array([x, y]) + 0.03 * np.column_stack([np.cos(turn), np.sin(turn)])
