"""What a scene was understood to say, in a few lines, and what of it looks like a slip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from math import acos, cos, radians, sin
from zoneinfo import ZoneInfo

from massing.design.design import Design
from massing.design.site import SiteDesign
from massing.edit.towns import Town, towns_named
from massing.findings.measures import windows_by_storey
from massing.practice.rules import country
from massing.sun.instants import every, midnight
from massing.sun.position import SunTime, front_day, on_front, site_positions, to_house_frame
from massing.sun.times import offset_text, time_zone_at
from massing.units import compass_point, format_length

FEET_AND_INCHES = ("US", "CA")
"""Countries whose builders work in feet and inches (common practice, no source)."""
FAR_KM = 150.0  # a house may name the next large town
EARTH_KM = 6371.0  # mean radius
WIDEST_OF_BAY = 0.8  # a window's opening of its bay (common practice, no source)


def understood(
    designs: Sequence[Design], suns: Sequence[SunTime], today: date | None = None
) -> list[str]:
    """Place, sun, front, house, each porch and the times, a line each; then what to look at again.

    Args:
        designs: as drawn first.
        suns: one for each of the scene's times.
        today: the day of sunrise and sunset; by default the clock's.
    """
    drawn = designs[0]
    return [
        *_site_lines(drawn.site, today or date.today()),
        _house_line(drawn),
        *(f"  {design.name}: {_porch_words(design)}" for design in designs),
        *(f"  {_time_words(sun)}" for sun in suns),
        *(f"  Look again: {slip}" for slip in slips(designs)),
    ]


def _site_lines(site: SiteDesign, today: date) -> Iterator[str]:
    north = f"{abs(site.latitude_deg):g}° {'N' if site.latitude_deg >= 0 else 'S'}"
    east = f"{abs(site.longitude_deg):g}° {'E' if site.longitude_deg >= 0 else 'W'}"
    offset = datetime.combine(today, time(12), ZoneInfo(site.time_zone)).utcoffset()
    zone = f"{site.time_zone} (UTC{offset_text(offset or timedelta(0))})"
    day = front_day(today, site)
    yield f"  {site.place}: {north}, {east}, the clock of {zone}; {day.horizon_words}"
    facing = f"{compass_point(site.front_azimuth_deg)} ({site.front_azimuth_deg:g}°)"
    yield f"  The front faces {facing}; {day.front_words}"


def _house_line(design: Design) -> str:
    house = design.house
    wide, deep = (format_length(v, design.units) for v in (house.width_m, house.depth_m))
    floors, bays = len(house.storey_floors_z_m), len(house.bay_centres_m)
    floors_words = "one floor" if floors == 1 else f"{floors} floors"
    return f"  The house: {wide} wide, {deep} deep, {floors_words}, {bays} bays along the front"


def _porch_words(design: Design) -> str:
    porch, units = design.porch, design.units
    order = porch.order
    kind = "piers" if order.order == "pier" else f"{order.order.title()} columns"
    high = format_length(order.column_height_m, units)
    gaps = sorted({format_length(gap, units) for gap in porch.gaps_m})
    apart = f", {' and '.join(gaps)} axis to axis" if 0 < len(gaps) <= 3 else ""
    words = f"{len(porch.axes_m)} {kind}, {format_length(order.diameter_m, units)} thick"
    return f"{words}, {high} high{apart}; a porch {format_length(porch.depth_m, units)} deep"


def _time_words(sun: SunTime) -> str:
    where = f"the sun {sun.altitude_deg:.0f}° high in the {compass_point(sun.azimuth_deg)}"
    lit = "on the front" if sun.on_front else "behind the front"
    when = f" ({sun.when:%Y-%m-%d %H:%M})" if sun.when else ""
    return f"{sun.label}{when}: {where}, {lit}"


def slips(designs: Sequence[Design], *, placed: bool = True, faced: bool = True) -> Iterator[str]:
    """What is allowed and yet likely not meant.

    Nothing is said of the place where that is not known (``placed``), nor of the sun on the front
    where its place or its way is not (``faced``).
    """
    site = designs[0].site
    if placed:
        yield from _place_slips(site, designs[0].units)
    if placed and faced:
        yield from _dark_fronts(site)
    for design in designs:
        yield from _window_slips(design)


def _dark_fronts(site: SiteDesign) -> Iterator[str]:
    winter = 12 if site.latitude_deg >= 0 else 6
    if max(_hours_on_front(date(site.year, month, 21), site) for month in (3, 9, winter)) < 1.0:
        yield "the front has next to no direct sun from autumn to spring"


def _place_slips(site: SiteDesign, units: str) -> Iterator[str]:
    """A place far from where its name says, or units of another country."""
    where = f"{site.latitude_deg:g}, {site.longitude_deg:g}"
    towns = towns_named(site.place) if "," in site.place else []
    if towns and min(_apart_km(site, t.latitude_deg, t.longitude_deg) for t in towns) > FAR_KM:
        town = towns[0]
        meant = _meant(site, town)
        yield (
            f"{where} is in {site.time_zone}, and {town.words} is at {town.latitude_deg:g}, "
            f"{town.longitude_deg:g}{meant}"
        )
        return
    if units != "feet" or country(site.time_zone) in FEET_AND_INCHES:
        return
    mirrored = time_zone_at(site.latitude_deg, -site.longitude_deg)
    if country(mirrored) in FEET_AND_INCHES:
        yield (
            f"longitude {site.longitude_deg:g} is in {site.time_zone}; west is negative: "
            f"did you mean {-site.longitude_deg:g}, in {mirrored}?"
        )


def _meant(site: SiteDesign, town: Town) -> str:
    """The sign that puts a place where its name says, if one does."""
    lat, lon = site.latitude_deg, site.longitude_deg
    for name, at in (
        (f"longitude {-lon:g}", (lat, -lon)),
        (f"latitude {-lat:g}", (-lat, lon)),
        (f"latitude {-lat:g} and longitude {-lon:g}", (-lat, -lon)),
        (f"latitude {lon:g} and longitude {lat:g}", (lon, lat)),
    ):
        near = abs(at[0] - town.latitude_deg) < 1.0 and abs(at[1] - town.longitude_deg) < 1.0
        if near:
            return f": did you mean {name}?"
    return ""


def _apart_km(site: SiteDesign, latitude_deg: float, longitude_deg: float) -> float:
    """About how far a point is from the site, along the ground."""
    lat, other = radians(site.latitude_deg), radians(latitude_deg)
    across = radians(longitude_deg - site.longitude_deg)
    inner = sin(lat) * sin(other) + cos(lat) * cos(other) * cos(across)
    return EARTH_KM * acos(max(-1.0, min(1.0, inner)))


def _window_slips(design: Design) -> Iterator[str]:
    """Windows that leave hardly any wall between them."""
    centres = design.house.bay_centres_m
    if len(centres) < 2:
        return
    spacing_m = min(b - a for a, b in pairwise(sorted(centres)))
    for window in windows_by_storey(design):
        if window.width_m > WIDEST_OF_BAY * spacing_m:
            wide, apart = (format_length(v, design.units) for v in (window.width_m, spacing_m))
            yield (
                f"{design.name}: windows {wide} wide in bays of {apart} leave hardly any wall "
                "between them"
            )
            return


def _hours_on_front(day: date, site: SiteDesign) -> float:
    """About how long direct sun is on the front, by steps of ten minutes."""
    zone = ZoneInfo(site.time_zone)
    step = timedelta(minutes=10)
    sun = site_positions(every(midnight(day, zone), midnight(day + timedelta(1), zone), step), site)
    to_sun = to_house_frame(sun.altitude_deg, sun.azimuth_deg, site.front_azimuth_deg)
    return float(on_front(to_sun).sum()) / 6.0
