"""What a scene was understood to say, in a few lines, and what of it looks like a slip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from massing.design.design import Design
from massing.design.site import SiteDesign
from massing.practice.rules import country
from massing.sun.instants import every, midnight
from massing.sun.position import SunTime, front_day, on_front, site_positions, to_house_frame
from massing.sun.times import offset_text, time_zone_at
from massing.units import compass_point, format_length

FEET_AND_INCHES = ("US", "CA")
"""Countries whose builders work in feet and inches (common practice, no source)."""


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
        *(f"  Look again: {slip}" for slip in _slips(drawn)),
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


def _slips(design: Design) -> Iterator[str]:
    """What is allowed and yet likely not meant."""
    site = design.site
    here = country(site.time_zone)
    mirrored = time_zone_at(site.latitude_deg, -site.longitude_deg)
    if (
        design.units == "feet"
        and here not in FEET_AND_INCHES
        and country(mirrored) in FEET_AND_INCHES
    ):
        yield (
            f"longitude {site.longitude_deg:g} is in {site.time_zone}; west is negative: "
            f"{-site.longitude_deg:g} would be in {mirrored}"
        )
    winter = 12 if site.latitude_deg >= 0 else 6
    if max(_hours_on_front(date(site.year, month, 21), site) for month in (3, 9, winter)) < 1.0:
        yield "the front has next to no direct sun from autumn to spring"


def _hours_on_front(day: date, site: SiteDesign) -> float:
    """About how long direct sun is on the front, by steps of ten minutes."""
    zone = ZoneInfo(site.time_zone)
    step = timedelta(minutes=10)
    sun = site_positions(every(midnight(day, zone), midnight(day + timedelta(1), zone), step), site)
    to_sun = to_house_frame(sun.altitude_deg, sun.azimuth_deg, site.front_azimuth_deg)
    return float(on_front(to_sun).sum()) / 6.0
