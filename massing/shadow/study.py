"""Shadows over time: chosen moments, a day, a year, and the hours of raking light."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import UTC, date, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from massing.design.design import Design
from massing.design.site import SiteDesign
from massing.findings.shadow import (
    UnderCorona,
    cornice_shadow_m,
    cornice_shadow_most_m,
    shadow_under_corona,
)
from massing.geometry.mesh import Floats
from massing.geometry.rays import threads
from massing.shadow.elevation import Elevation, facade_only, see_elevation
from massing.shadow.front import Front, thinned
from massing.shadow.measure import (
    HOURS_WITHIN,
    Depth,
    in_sun,
    shade_depths,
    shares_in_sun,
    sun_hours,
    sun_reaches,
    surface_hours,
)
from massing.shadow.surfaces import surface_group
from massing.sun.angles import penumbra_width, shadow_depth
from massing.sun.instants import every, instants, midnight
from massing.sun.position import (
    FrontDay,
    SunTime,
    clear_sky,
    front_day,
    on_front,
    site_positions,
    sun_times,
    to_house_frame,
)
from massing.sun.times import season_instant

DAY_STEP_MIN = 10
# No part of a day: a step of an hour would always ask at the same minutes of the clock, and miss
# or give a part of the last hour before shade, day after day.
YEAR_STEP_MIN = 53
FACADE_POINTS = 20_000
SEASONS = ("summer half", "winter half")


# --- moments and days ----------------------------------------------------------------------


@dataclass(frozen=True)
class Moment:
    """What is in sun and in shade on one front at one sun.

    Attributes:
        design: its name.
        sun: the sun.
        cornice_rule_m: the cornice's shadow down the frieze's plane by the profile angle; None
            when the sun is not on the front.
        soft_edge_m: height of that shadow's soft edge, from the sun's disc; None likewise.
        shade: depths of shade measured on the model; empty when the sun is not on the front.
        reach: how far in the sun reaches over the porch floor; empty when the sun is down.
        in_sun: share of each named surface in direct sun; ``within`` how close each is, nineteen
            times of twenty.
        cornice_rule_most_m: as ``cornice_rule_m``, under mutules, modillions and dentils.
        under_corona: the shadow under the corona on the faces it falls on, by the same angle.
    """

    design: str
    sun: SunTime
    cornice_rule_m: float | None
    soft_edge_m: float | None
    shade: tuple[Depth, ...]
    reach: tuple[Depth, ...]
    in_sun: dict[str, float]
    within: dict[str, float]
    cornice_rule_most_m: float | None
    under_corona: UnderCorona | None


def measure(front: Front, suns: Sequence[SunTime]) -> list[Moment]:
    """One front at each of the suns."""
    if not suns:
        return []
    shares = shares_in_sun(front, [sun.direction for sun in suns])

    def one(i: int) -> Moment:
        sun = suns[i]
        rule = cornice_shadow_m(front.design, sun)
        return Moment(
            front.design.name,
            sun,
            rule,
            None if rule is None else soft_edge_m(rule, sun),
            shade_depths(front, sun.direction) if sun.on_front else (),
            sun_reaches(front, sun.direction) if sun.is_up else (),
            {name: float(share.mean[i]) for name, share in shares.items()},
            {name: float(share.within[i]) for name, share in shares.items()},
            cornice_shadow_most_m(front.design, sun),
            shadow_under_corona(front.design, sun),
        )

    with ThreadPoolExecutor(threads()) as pool:
        return list(pool.map(one, range(len(suns))))


def soft_edge_m(depth_m: float, sun: SunTime) -> float:
    """Height of the soft edge of a straight cornice's shadow of that depth on the front."""
    edge_before_face = depth_m / float(shadow_depth(1.0, sun.direction))
    return float(penumbra_width(edge_before_face, sun.direction))


def day_suns(day: date, site: SiteDesign, step_min: int = DAY_STEP_MIN) -> list[SunTime]:
    """The suns of a local day that are on the front, every ``step_min`` minutes of the clock."""
    zone = ZoneInfo(site.time_zone)
    start, end = midnight(day, zone), midnight(day + timedelta(days=1), zone)
    times = every(start, end, timedelta(minutes=step_min))
    positions = site_positions(times, site)
    lit = on_front(
        to_house_frame(positions.altitude_deg, positions.azimuth_deg, site.front_azimuth_deg)
    )
    return sun_times(times[lit], site) if lit.any() else []


def days_of(suns: Iterable[SunTime]) -> list[date]:
    """The calendar days of some suns, each once, in order."""
    return sorted({sun.when.date() for sun in suns if sun.when})


# --- the year ------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class YearSuns:
    """All daylight of a year as suns that each stand for a span of time.

    Attributes:
        to_sun: ``(k, 3)`` towards each sun in the house's frame.
        hours: ``(k, 2)`` hours each stands for, in the summer and in the winter half.
        days: days in each half.
    """

    to_sun: Floats
    hours: Floats
    days: tuple[float, float]

    @property
    def daylight_h(self) -> Floats:
        """``(2,)`` hours with the sun up."""
        return self.hours.sum(axis=0)

    @property
    def on_front_h(self) -> Floats:
        """``(2,)`` hours with the sun on the plane of the front, were nothing in its way."""
        return self.hours[on_front(self.to_sun)].sum(axis=0)


def year_suns(site: SiteDesign, step_min: int = YEAR_STEP_MIN) -> YearSuns:
    """Every sun that is up in the site's year, at the middles of steps of ``step_min``.

    The halves are from equinox to equinox; the summer half is the hemisphere's own.
    """
    zone = ZoneInfo(site.time_zone)
    start, end = (midnight(date(year, 1, 1), zone) for year in (site.year, site.year + 1))
    step = timedelta(minutes=step_min)
    times = every(start.astimezone(UTC) + step / 2, end, step)
    positions = site_positions(times, site)
    up = positions.altitude_deg > 0.0
    march, september = instants([season_instant(m, site.year) for m in ("march", "september")])
    northern_summer = (times >= march) & (times < september)
    summer = northern_summer if site.latitude_deg >= 0 else ~northern_summer
    halves = np.column_stack([summer, ~summer]) * (step_min / 60.0)
    to_sun = to_house_frame(
        positions.altitude_deg[up], positions.azimuth_deg[up], site.front_azimuth_deg
    )
    whole = halves.sum(axis=0) / 24.0
    return YearSuns(to_sun, halves[up], (float(whole[0]), float(whole[1])))


@dataclass(frozen=True, eq=False)
class Year:
    """A year of sun on one front.

    Attributes:
        design: its name.
        surfaces: mean hours on each named surface, ``(2,)``, summer and winter half; ``within``
            how close they are, nineteen times of twenty.
        elevation: the façade's points.
        map_h: ``(2, h, w)`` hours on the elevation, NaN off the façade.
    """

    design: str
    surfaces: dict[str, Floats]
    elevation: Elevation
    map_h: Floats
    within: dict[str, Floats]


def facade_grid(design: Design, points: int = FACADE_POINTS) -> tuple[Floats, Floats]:
    """Even steps ``(w,)`` across and ``(h,)`` down over a front, about ``points`` in all."""
    left, right = np.array(design.house.reach_x_m) + np.array([-1.0, 1.0]) * (
        design.house.cornice.projection_m
    )
    rail = design.porch.balustrade.height_m if design.porch.balustrade else 0.0
    top = max(design.house.wall_top_z_m, design.porch.top_z_m + rail)
    step = np.sqrt((right - left) * top / points)
    xs = np.arange(left + step / 2.0, right, step)
    zs = np.arange(top - step / 2.0, 0.0, -step)
    return xs, zs


def year_of(front: Front, suns: YearSuns, points: int = FACADE_POINTS) -> Year:
    """Hours of sun over a year on every surface of a front and all over its elevation."""
    elevation = see_elevation(front.caster, *facade_grid(front.design, points))
    wanted_h = HOURS_WITHIN * min(suns.days)
    found = surface_hours(front, suns.to_sun, suns.hours, wanted_h)
    return Year(
        front.design.name,
        {name: hours.mean for name, hours in found.items()},
        elevation,
        sun_hours(front.caster, elevation, suns.to_sun, suns.hours, facade_only),
        {name: hours.within for name, hours in found.items()},
    )


# --- the sky -------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class SkyView:
    """From where in the sky the sun would reach a surface.

    Attributes:
        design, surface: their names.
        altitude_edges_deg: ``(a + 1,)`` edges of the cells; ``azimuth_edges_deg`` ``(b + 1,)``.
        share: ``(a, b)`` share of the surface in sun, were the sun in the middle of the cell.
    """

    design: str
    surface: str
    altitude_edges_deg: Floats
    azimuth_edges_deg: Floats
    share: Floats


def sky_view(front: Front, group: str, step_deg: float = 3.0) -> SkyView:
    """The sky as a surface sees it; ``group`` is one surface or such as ``windows, first floor``.

    Raises:
        ValueError: the front has no such surface.
    """
    chosen = tuple(s for s in thinned(front).surfaces if surface_group(s.name) == group)
    if not chosen:
        known = dict.fromkeys(surface_group(s.name) for s in front.surfaces)
        raise ValueError(f"{group!r} is not a surface of this front; allowed: {'; '.join(known)}")
    altitude = np.arange(0.0, 90.0 + 1e-9, step_deg)
    azimuth = np.arange(0.0, 360.0 + 1e-9, step_deg)
    half = step_deg / 2.0
    high, way = np.meshgrid(altitude[:-1] + half, azimuth[:-1] + half, indexing="ij")
    suns = to_house_frame(high, way, front.design.site.front_azimuth_deg)
    shares = in_sun(replace(front, surfaces=chosen), suns.reshape(-1, 3))
    share = np.mean(list(shares.values()), axis=0).reshape(high.shape)
    return SkyView(front.design.name, group, altitude, azimuth, share)


# --- raking light --------------------------------------------------------------------------


@dataclass(frozen=True)
class Raking:
    """One day's raking light on the front.

    Attributes:
        day: the day's sun.
        best: the raking moment with the strongest direct sun, or None.
    """

    day: FrontDay
    best: SunTime | None

    @property
    def from_where(self) -> str:
        """Where the best raking light comes from, as seen from the street.

        Light from the side shows columns, reveals and flutes, light from above shows mouldings.
        """
        if self.best is None:
            return ""
        x, _, z = self.best.direction
        if z > abs(x):
            return "above"
        return "the right" if x > 0 else "the left"


def raking_calendar(site: SiteDesign, day_of_month: int = 21) -> list[Raking]:
    """The raking light of one day in each month, with its best moment to the minute."""
    return [raking_day(date(site.year, m, day_of_month), site) for m in range(1, 13)]


def raking_day(day: date, site: SiteDesign) -> Raking:
    """A day's raking light on the front and its best moment."""
    found = front_day(day, site)
    up = timedelta(seconds=59)  # spells are to the second, so this goes up to the whole minute
    minutes = [instants([a + up, b]).astype("datetime64[m]") for a, b in found.raking]
    step = np.timedelta64(1, "m")
    times = np.concatenate([instants([]), *(np.arange(a, b + step, step) for a, b in minutes)])
    if not len(times):
        return Raking(found, None)
    positions = site_positions(times, site)
    sky = clear_sky(positions, site.latitude_deg, site.longitude_deg, site.altitude_m)
    best = int(np.argmax(sky.dni_w_m2))
    return Raking(found, sun_times(times[best : best + 1], site)[0])
