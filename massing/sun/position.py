"""Where the sun is, how strong it is, and when it is on the front of the house.

Positions are the NREL solar position algorithm. Compass azimuths are degrees
clockwise from north. The house's own frame has X to the right along the front as seen from
the street, Y into the house and Z up, so the front looks along -Y; a front that faces south
has X to the east and Y to the north.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import ArrayLike, NDArray

from massing.geometry.mesh import Floats
from massing.sun.angles import CONVENTIONAL_LIGHT, vertical_shadow_angle
from massing.sun.instants import Instants, datetimes, every, instants, midnight, unix_s
from massing.sun.sky import (
    LUMINOUS_EFFICACY_LM_W,
    ClearSky,
    extraterrestrial_w_m2,
    ineichen_perez,
    turbidity,
)
from massing.sun.sky import pressure_pa as standard_pressure_pa
from massing.sun.spa import refraction_deg, topocentric
from massing.sun.times import parse_time, rise_noon_set
from massing.sun.written_times import BEST_HOUR, DUSK, SunTimeSpec, read_time

if TYPE_CHECKING:
    from massing.design.site import SiteDesign

RAKING_INCIDENCE_DEG = 70.0
"""Light that meets the front at more than this from square picks out relief (a choice)."""

DEEPEST = 1.4
"""A cornice's shadow, in projections, deeper than which the sun stands too steep (a choice)."""
SIDE_SPREAD_DEG = 24.0

Bools = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class SunPositions:
    """Sun positions at one place.

    Attributes:
        times: ``(n,)`` instants in UTC.
        altitude_deg: ``(n,)`` above the horizon as seen, bent by the air.
        geometric_altitude_deg: ``(n,)`` as if there were no air.
        azimuth_deg: ``(n,)`` clockwise from north, 0 to 360.
    """

    times: Instants
    altitude_deg: Floats
    geometric_altitude_deg: Floats
    azimuth_deg: Floats

    def __len__(self) -> int:
        return len(self.times)


def sun_positions(
    times: Instants | Sequence[datetime],
    latitude_deg: float,
    longitude_deg: float,
    altitude_m: float = 0.0,
    *,
    pressure_pa: float | None = None,
    temperature_c: float = 12.0,
) -> SunPositions:
    """Sun positions by NREL's algorithm (Reda and Andreas, NREL/TP-560-34302).

    Args:
        times: ``(n,)`` aware datetimes, or instants in UTC.
        pressure_pa: for the refraction; default by the standard atmosphere at ``altitude_m``.

    >>> from datetime import timezone
    >>> noon = datetime(2026, 6, 21, 12, 2, tzinfo=timezone.utc)
    >>> float(sun_positions([noon], 51.5, 0.0).altitude_deg[0].round(2))
    61.95

    Raises:
        ValueError: a time without a zone.
    """
    moments = instants(times)
    if pressure_pa is None:
        pressure_pa = float(standard_pressure_pa(altitude_m))
    geometric, azimuth = topocentric(unix_s(moments), latitude_deg, longitude_deg, altitude_m)
    seen = geometric + refraction_deg(geometric, pressure_pa, temperature_c)
    return SunPositions(moments, seen, geometric, azimuth)


def site_positions(times: Instants | Sequence[datetime], site: SiteDesign) -> SunPositions:
    """:func:`sun_positions` at the site of a design."""
    return sun_positions(times, site.latitude_deg, site.longitude_deg, site.altitude_m)


def to_house_frame(
    altitude_deg: ArrayLike, azimuth_deg: ArrayLike, front_azimuth_deg: float
) -> Floats:
    """Unit vectors towards the sun, ``(..., 3)``, in the house's frame.

    With d the sun's azimuth less the front's: (-cos alt sin d, -cos alt cos d, sin alt).

    >>> to_house_frame(45.0, 270.0, 180.0).round(3) + 0.0  # south front, sun in the west
    array([-0.707,  0.   ,  0.707])
    >>> to_house_frame(0.0, 180.0, 180.0).round(3) + 0.0  # straight before the front
    array([ 0., -1.,  0.])
    """
    altitude = np.radians(np.asarray(altitude_deg, dtype=float))
    across = np.radians(np.asarray(azimuth_deg, dtype=float) - front_azimuth_deg)
    return np.stack(
        np.broadcast_arrays(
            -np.cos(altitude) * np.sin(across),
            -np.cos(altitude) * np.cos(across),
            np.sin(altitude),
        ),
        axis=-1,
    )


def on_front(to_sun: ArrayLike) -> Bools:
    """Whether direct sun meets the plane of the front, ``(...)``, for directions ``(..., 3)``."""
    to_sun = np.asarray(to_sun, dtype=float)
    return (to_sun[..., 2] > 0.0) & (to_sun[..., 1] < 0.0)


def front_incidence_deg(to_sun: ArrayLike) -> Floats:
    """Angle between the sun and the front's outward normal, degrees, for ``(..., 3)``.

    >>> float(front_incidence_deg(CONVENTIONAL_LIGHT).round(4))  # arccos(1 / sqrt 3)
    54.7356
    """
    return np.degrees(np.arccos(np.clip(-np.asarray(to_sun, dtype=float)[..., 1], -1.0, 1.0)))


def clear_sky(
    positions: SunPositions, latitude_deg: float, longitude_deg: float, altitude_m: float = 0.0
) -> ClearSky:
    """Clear-sky light by Ineichen and Perez's model with the site's usual haze for the month.

    The Linke turbidity is the map's of the half degree that holds the place, the air mass Kasten
    and Young's, the distance of the sun Spencer's; sources in :mod:`~.sky`.
    """
    return ineichen_perez(
        positions.altitude_deg,
        turbidity(positions.times, latitude_deg, longitude_deg),
        altitude_m,
        extraterrestrial_w_m2(positions.times),
    )


@dataclass(frozen=True)
class SunTime:
    """One asked sun time at a site.

    Attributes:
        label: as the scene has it.
        when: the instant in the site's zone; None for the conventional light.
        altitude_deg: apparent, above the horizon.
        azimuth_deg: clockwise from north.
        direction: unit vector towards the sun in the house's frame.
        on_front: direct sun meets the plane of the front.
        incidence_deg: from the front's normal.
        profile_angle_deg: vertical shadow angle on the front; None when not ``on_front``.
        dni_w_m2, dhi_w_m2: clear-sky direct (square to the sun) and diffuse (on the level).
        note: what the designer must know: sun down, or no sun on the front. Else empty.
    """

    label: str
    when: datetime | None
    altitude_deg: float
    azimuth_deg: float
    direction: tuple[float, float, float]
    on_front: bool
    incidence_deg: float
    profile_angle_deg: float | None
    dni_w_m2: float
    dhi_w_m2: float
    note: str = ""

    @property
    def is_up(self) -> bool:
        """The sun is above the horizon, so that a picture can be lit by it."""
        return self.altitude_deg > 0.0

    @property
    def raking(self) -> bool:
        """The sun is on the front and more than 70 degrees from square."""
        return self.on_front and self.incidence_deg > RAKING_INCIDENCE_DEG


def sun_time(text: str, site: SiteDesign) -> SunTime:
    """A written time, with the sun it gives at a site.

    ``conventional light`` gives the draughtsman's light (down, right and back along the
    diagonal of a cube), with the strength of a clear sun at its altitude on the day of the
    spring equinox.

    Raises:
        ValueError: not a time, or one that the clock change skips or doubles.
    """
    spec = read_time(text)
    if spec.conventional:
        return _conventional_time(text, site)
    when = _best_hour(spec, site) if spec.best else _instant(text, site)
    sun = replace(sun_times([when], site)[0], label=text)
    return replace(sun, note=_note(sun, when, site))


def _instant(text: str, site: SiteDesign) -> datetime:
    return parse_time(
        text,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        time_zone=site.time_zone,
        year=site.year,
    )


def shows_front(suns: ArrayLike, dni_w_m2: ArrayLike, dhi_w_m2: ArrayLike) -> Floats:
    """How well suns ``(n, 3)`` show a front, 0 to 1, for beam and diffuse ``(n,)``.

    The depth of a cornice's shadow over its projection, up to :data:`DEEPEST`; times how near the
    sun stands to 45 degrees beside the front, where shafts are best modelled; times the share of
    beam in the light on the wall, by which a shadow is legible. Nothing where the sun is not on the
    front or only grazes it. The weights are a choice.
    """
    x, y, z = np.asarray(suns, dtype=float).reshape(-1, 3).T
    facing = np.maximum(-y, 1e-9)
    aside = np.degrees(np.arctan2(np.abs(x), facing))
    side = np.exp(-(((aside - 45.0) / SIDE_SPREAD_DEG) ** 2))
    beam = np.asarray(dni_w_m2) * facing
    legible = beam / np.maximum(beam + 0.5 * np.asarray(dhi_w_m2), 1e-9)
    score: Floats = np.minimum(z / facing, DEEPEST) / DEEPEST * side * legible
    met = (z > 0.0) & (-y > np.cos(np.radians(RAKING_INCIDENCE_DEG)))
    return np.where(met, score, 0.0)


def _best_hour(spec: SunTimeSpec, site: SiteDesign) -> datetime:
    """The time of a day, or of the year's months, that shows the front best, to ten minutes.

    Raises:
        ValueError: the sun is never well on the front then.
    """
    if spec.any_day:
        days = [f"{site.year}-{month:02d}-21" for month in range(1, 13)]
    else:
        days = [" ".join(spec.text.lower().split()).removesuffix(BEST_HOUR).strip(" ,")]
    noons = [_instant(f"{day} solar noon", site) for day in days]
    steps = [timedelta(minutes=10 * i) for i in range(-72, 73)]
    ten = timedelta(minutes=10)
    hours = [
        noon - (noon - datetime.min.replace(tzinfo=noon.tzinfo)) % ten + s
        for noon in noons
        for s in steps
    ]
    suns = sun_times(hours, site)
    scores = shows_front(
        [sun.direction for sun in suns],
        [sun.dni_w_m2 for sun in suns],
        [sun.dhi_w_m2 for sun in suns],
    )
    best = int(np.argmax(scores))
    if not scores[best] > 0.0:
        raise ValueError(
            f"given {spec.text}, allowed: a day on which the sun stands well on the front"
        )
    return hours[best]


def sun_times(times: Instants | Sequence[datetime], site: SiteDesign) -> list[SunTime]:
    """Many instants at once, labelled by their clock time; notes are left empty."""
    zone = ZoneInfo(site.time_zone)
    positions = site_positions(times, site)
    sky = clear_sky(positions, site.latitude_deg, site.longitude_deg, site.altitude_m)
    directions = to_house_frame(
        positions.altitude_deg, positions.azimuth_deg, site.front_azimuth_deg
    )
    found = []
    for i, when in enumerate(datetimes(positions.times, zone)):
        found.append(_sun_time(f"{when:%H:%M}", when, positions, directions, sky, i))
    return found


DUSK_DEG = 3.0
"""How far the sun is down when lamps are lit and the sky still glows (a choice; civil twilight ends
at 6)."""


def dusk(sun: SunTime, site: SiteDesign) -> SunTime | None:
    """The evening of a time's day, the sun :data:`DUSK_DEG` down; None where it does not go down,
    and of the conventional light, which has no day."""
    if sun.when is None:
        return None
    setting = rise_noon_set(sun.when.date(), site.latitude_deg, site.longitude_deg, site.time_zone)[
        2
    ]
    if setting is None:
        return None
    after = sun_times([setting + timedelta(minutes=m) for m in range(240)], site)
    found = next((s for s in after if s.altitude_deg <= -DUSK_DEG), None)
    return found and replace(found, label=DUSK)


def _conventional_time(text: str, site: SiteDesign) -> SunTime:
    altitude_deg = np.degrees(np.arcsin(CONVENTIONAL_LIGHT[2:]))
    azimuth_deg = np.array([(site.front_azimuth_deg + 45.0) % 360.0])
    day = instants([datetime(site.year, 3, 20, tzinfo=UTC)])
    position = SunPositions(day, altitude_deg, altitude_deg, azimuth_deg)
    sky = clear_sky(position, site.latitude_deg, site.longitude_deg, site.altitude_m)
    return _sun_time(text, None, position, CONVENTIONAL_LIGHT[None], sky, 0)


def _sun_time(
    label: str,
    when: datetime | None,
    positions: SunPositions,
    directions: Floats,
    sky: ClearSky,
    index: int,
) -> SunTime:
    direction = directions[index]
    lit = bool(on_front(direction))
    profile = float(np.degrees(vertical_shadow_angle(direction))) if lit else None
    x, y, z = (float(c) for c in direction)
    return SunTime(
        label=label,
        when=when,
        altitude_deg=float(positions.altitude_deg[index]),
        azimuth_deg=float(positions.azimuth_deg[index]),
        direction=(x, y, z),
        on_front=lit,
        incidence_deg=float(front_incidence_deg(direction)),
        profile_angle_deg=profile,
        dni_w_m2=float(sky.dni_w_m2[index]),
        dhi_w_m2=float(sky.dhi_w_m2[index]),
    )


def _note(sun: SunTime, when: datetime, site: SiteDesign) -> str:
    if sun.on_front:
        return ""
    day = front_day(when.date(), site)
    if not sun.is_up:
        below = f"{-sun.altitude_deg:.1f}° below the horizon"
        return f"{sun.label}: the sun is {below}; {day.horizon_words}"
    return f"{sun.label}: the sun is behind the front; {day.front_words}"


GROUND_REFLECTANCE = 0.2
"""Of grass and paving together, for light thrown up at the front (common practice, no source)."""


@dataclass(frozen=True)
class FrontLight:
    """Illuminance on the plane of the front under a clear sky, lux.

    Attributes:
        sun_lux: by the sun alone, where it reaches.
        shade_lux: by open sky and lit ground, in sun and shade alike.
    """

    sun_lux: float
    shade_lux: float

    @property
    def contrast(self) -> float:
        """Light in the sun over light in open shade; 1 when the sun is not on the front."""
        return (self.sun_lux + self.shade_lux) / self.shade_lux if self.shade_lux else 1.0


def front_light(sun: SunTime) -> FrontLight:
    """How bright the front is in sun and in open shade at one sun time.

    Even sky and even ground, of which an upright plane sees half of each (Liu and Jordan,
    Solar Energy 4 (1960), 1-19: from memory); deep shade within a porch sees less of either.
    """
    on_level = sun.dni_w_m2 * max(sun.direction[2], 0.0) + sun.dhi_w_m2
    sky = sun.dhi_w_m2 / 2.0
    ground = GROUND_REFLECTANCE * on_level / 2.0
    direct = sun.dni_w_m2 * -sun.direction[1] if sun.on_front else 0.0
    return FrontLight(direct * LUMINOUS_EFFICACY_LM_W, (sky + ground) * LUMINOUS_EFFICACY_LM_W)


@dataclass(frozen=True)
class FrontDay:
    """The sun's day at a site, and its hours on the front. Instants are in the site's zone.

    Attributes:
        day: the local calendar day.
        sunrise, solar_noon, sunset: rise and set are None in polar day or night.
        noon_altitude_deg: apparent altitude at solar noon.
        front_sun: spells of direct sun on the plane of the front, start and end; a spell that
            reaches midnight ends there.
        raking: the parts of these spells with an incidence over 70 degrees.
    """

    day: date
    sunrise: datetime | None
    solar_noon: datetime
    sunset: datetime | None
    noon_altitude_deg: float
    front_sun: tuple[tuple[datetime, datetime], ...]
    raking: tuple[tuple[datetime, datetime], ...]

    @property
    def first_sun(self) -> datetime | None:
        """When direct sun first touches the front."""
        return self.front_sun[0][0] if self.front_sun else None

    @property
    def last_sun(self) -> datetime | None:
        """When direct sun leaves the front for the last time that day."""
        return self.front_sun[-1][1] if self.front_sun else None

    @property
    def front_hours(self) -> float:
        """Hours of direct sun on the plane of the front, were nothing in its way."""
        return sum((b - a).total_seconds() for a, b in self.front_sun) / 3600.0

    @property
    def horizon_words(self) -> str:
        """Sunrise and sunset in words."""
        if self.sunrise is None or self.sunset is None:
            state = "does not set" if self.noon_altitude_deg > 0 else "does not rise"
            return f"on {self.day} it {state} there"
        return f"on {self.day} it is up from {self.sunrise:%H:%M} to {self.sunset:%H:%M}"

    @property
    def front_words(self) -> str:
        """The spells of sun on the front in words."""
        if not self.front_sun:
            return f"on {self.day} the front has no direct sun"
        spells = " and ".join(f"from {a:%H:%M} to {b:%H:%M}" for a, b in self.front_sun)
        return f"on {self.day} it is on the front {spells}"


def front_day(day: date, site: SiteDesign) -> FrontDay:
    """Sunrise, noon and sunset of a local day, and when the sun is on the front or rakes it.

    Spells are found on a grid of minutes and drawn to the second by straight interpolation.
    """
    zone = ZoneInfo(site.time_zone)
    sunrise, noon, sunset = rise_noon_set(
        day, site.latitude_deg, site.longitude_deg, site.time_zone
    )
    start, end = midnight(day, zone), midnight(day + timedelta(days=1), zone)
    times = every(start, end, timedelta(minutes=1), with_end=True)
    positions = site_positions(times, site)
    to_sun = to_house_frame(positions.altitude_deg, positions.azimuth_deg, site.front_azimuth_deg)
    # Positive where the sun is on the front: up, and on the street's side of its plane.
    lit = np.minimum(to_sun[:, 2], -to_sun[:, 1])
    rakes = np.minimum(lit, np.cos(np.radians(RAKING_INCIDENCE_DEG)) + to_sun[:, 1])
    return FrontDay(
        day,
        sunrise,
        noon,
        sunset,
        float(site_positions([noon], site).altitude_deg[0]),
        _spells(times, lit, zone),
        _spells(times, rakes, zone),
    )


def _spells(
    times: Instants, value: Floats, zone: ZoneInfo
) -> tuple[tuple[datetime, datetime], ...]:
    """Where ``value`` is positive, its zeros placed by interpolation between samples."""
    positive = np.concatenate([[False], value > 0.0, [False]])
    starts = np.flatnonzero(~positive[:-1] & positive[1:])
    ends = np.flatnonzero(positive[:-1] & ~positive[1:]) - 1
    seconds = unix_s(times)

    def at(inside: int, outside: int) -> datetime:
        moment = seconds[inside]
        if 0 <= outside < len(times):
            share = value[inside] / (value[inside] - value[outside])
            moment += share * (seconds[outside] - seconds[inside])
        return datetime.fromtimestamp(round(float(moment)), UTC).astimezone(zone)

    return tuple(
        (at(i, i - 1), at(j, j + 1)) for i, j in zip(starts.tolist(), ends.tolist(), strict=True)
    )
