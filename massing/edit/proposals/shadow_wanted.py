"""The other way round: from a shadow that is wanted to the sizes that throw it.

What is wanted is a share of the frieze or of the door in shadow or in sun at an hour. The cornice's
projection, the order's plate, the porch's depth and the front's bearing are each tried alone. What
the scene can say is measured by rays on the built model, so that what is told is what the model
shows, columns and all; a projection, which no field says alone, is found in closed form.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from massing.build.house import build
from massing.canon import canons, plates
from massing.design.design import Design
from massing.design.porch import StraightPorch
from massing.design.site import SiteDesign
from massing.findings.change import length_words
from massing.findings.shadow import cornice_shadow_m
from massing.geometry.mesh import Floats
from massing.shadow.front import ready_front
from massing.shadow.measure import in_sun
from massing.sun.angles import stepped_depth
from massing.sun.position import SunTime, sun_time, to_house_frame
from massing.units import compass_point

Surface = Literal["frieze", "door"]
SURFACES: tuple[Surface, ...] = ("frieze", "door")
FORMS = (
    "frieze or door, how much of it (half, a third, a quarter, two thirds, 40 %; else all), "
    "in sun or in shadow, at a time: frieze half in shadow at 14 May 10:00"
)
CLOSE = 0.05  # of the surface: a share nearer than this is what was wanted
LEAST_DEPTH, MOST_DEPTH = 1.5, 3.0
"""A porch's depth at the least, in lower diameters (the resolver's), and at the most that is tried,
in intercolumniations (a choice)."""

_DEPTHS_TRIED = 7

_SHARES = {
    "half": 0.5,
    "a half": 0.5,
    "a third": 1.0 / 3.0,
    "two thirds": 2.0 / 3.0,
    "a quarter": 0.25,
    "three quarters": 0.75,
    "wholly": 1.0,
    "all": 1.0,
    "": 1.0,
}
_WISH = re.compile(
    r"(?:the )?(?P<surface>[a-z]+)"
    r"(?: (?P<share>(?:an? |two |three )?[a-z]+|\d+(?:\.\d+)? ?%))??"
    r" in (?:the )?(?P<light>sun|shadow|shade)(?: at| on)? (?P<time>.+)"
)
_CLOCK = r"(?P<clock>\d{1,2}(?::\d{2})?(?: ?[ap]\.?m\.?)?|solar noon)"
_CLOCK_FIRST = re.compile(rf"{_CLOCK} (?:on|in|at)(?: the)? (?P<day>.+)")
_SEASON = {
    "winter": "winter solstice",
    "summer": "summer solstice",
    "midwinter": "winter solstice",
    "midsummer": "summer solstice",
    "spring": "spring equinox",
    "autumn": "autumn equinox",
    "fall": "autumn equinox",
}


@dataclass(frozen=True)
class Wish:
    """A shadow that is wanted: how much of a surface lies in sun at an hour."""

    surface: Surface
    in_sun: float
    sun: SunTime
    words: str


@dataclass(frozen=True)
class Way:
    """One size or direction that may give it.

    Attributes:
        field: of the scene, and ``written`` what it would be; empty where no field says it.
        words: what it is, for a person.
        reached: the share in sun that it gives, by rays where the scene can say it.
        by_rays: whether that was measured on the built model.
        within: whether it keeps within the limits of the canons.
    """

    field: str
    written: str
    words: str
    reached: float
    by_rays: bool
    within: bool


@dataclass(frozen=True)
class Answer:
    """What was found for a wish.

    Attributes:
        wish: what was wanted.
        now: share in sun as it is, by rays.
        ways: the ways tried, the nearest first.
        lines: the answer in words.
    """

    wish: Wish
    now: float
    ways: tuple[Way, ...]
    lines: tuple[str, ...]


def read_wish(text: str, site: SiteDesign) -> Wish:
    """What a wish says, its sun set in place.

    A clock time without minutes, and one before its day, are understood; a season is its solstice
    or equinox.

    Raises:
        ValueError: not a wish, or a time when the sun does not reach the front.
    """
    clean = " ".join(text.lower().replace(",", " ").split())
    match = _WISH.fullmatch(clean)
    share = _share(match["share"] or "") if match else None
    if match is None or share is None or match["surface"] not in SURFACES:
        raise ValueError(f"given {text}, allowed: {FORMS}")
    sun = sun_time(_time(match["time"]), site)
    if not sun.is_up:
        raise ValueError(f"given {text}, allowed: an hour with the sun up; {sun.note}")
    surface: Surface = "frieze" if match["surface"] == "frieze" else "door"
    light = share if match["light"] == "sun" else 1.0 - share
    return Wish(surface, light, sun, text)


def _share(words: str) -> float | None:
    if words in _SHARES:
        return _SHARES[words]
    if words.endswith("%"):
        value = float(words.rstrip("% ")) / 100.0
        return value if value <= 1.0 else None
    return None


def _time(words: str) -> str:
    """A time as the scene has it, its day first."""
    words = words.strip()
    turned = _CLOCK_FIRST.fullmatch(words)
    if turned:
        words = f"{turned['day']} {turned['clock']}"
    day, _, clock = words.rpartition(" ")
    if clock == "noon":
        day, clock = day.removesuffix(" solar"), "solar noon"
    if clock.isdecimal() and len(clock) <= 2:
        clock += ":00"
    day = day.removeprefix("in ").removeprefix("on ").removeprefix("the ")
    return f"{_SEASON.get(day, day)} {clock}"


# --- closed forms --------------------------------------------------------------------------


def frieze_in_sun(design: Design, sun: SunTime) -> float:
    """Share of the frieze in sun under the porch's cornice, by the profile angle."""
    depth = cornice_shadow_m(design, sun)
    if depth is None:
        return 0.0
    return float(np.clip(1.0 - depth / design.porch.order.frieze_height_m, 0.0, 1.0))


def door_in_sun(design: Design, sun: SunTime) -> float:
    """Share of the doorway's height in sun under the porch, by the profile angle; its sides and the
    columns left aside."""
    door = _door(design)
    if door is None or not sun.on_front:
        return 0.0
    porch = design.porch
    out = porch.depth_m + porch.frieze_half_depth_m
    edges_y = [-out, -out - porch.order.cornice_projection_m]
    edges_z = [porch.column_top_z_m, porch.top_z_m]
    depth = stepped_depth(edges_y, edges_z, [0.0], [door[1]], sun.direction)
    return float(np.clip(1.0 - depth[0] / (door[1] - door[0]), 0.0, 1.0))


def _door(design: Design) -> tuple[float, float] | None:
    """Foot and head of the doorway in the front."""
    door = design.house.entrance
    return (door.sill_z_m, door.head_z_m) if door else None


def by_rays(design: Design, to_suns: ArrayLike, surface: Surface) -> Floats:
    """Share of a surface in sun on the built model, metopes and columns and all.

    Args:
        to_suns: ``(k, 3)`` directions, for each of which there is a share.

    Raises:
        ValueError: there is no such surface.
    """
    front = ready_front(design, build(design))
    own = tuple(s for s in front.surfaces if s.name.partition(",")[0] == surface)
    if not own:
        raise ValueError(f"the front has no {surface}")
    return in_sun(replace(front, surfaces=own[:1]), to_suns)[own[0].name]


def _at_once(design: Design, sun: SunTime, surface: Surface) -> float:
    return float(by_rays(design, [sun.direction], surface)[0])


# --- ways ----------------------------------------------------------------------------------


def find(wish: Wish, design: Design) -> Answer:
    """The sizes that give what is wanted, each alone; or what comes nearest.

    Raises:
        ValueError: the front has no such surface.
    """
    now = _at_once(design, wish.sun, wish.surface)
    if abs(now - wish.in_sun) <= CLOSE:
        return Answer(wish, now, (), tuple(_lines(wish, now, [])))
    ways = list(_bearings(wish, design))
    if wish.surface == "frieze":
        ways = [*_projections(wish, design), *_plates(wish, design), *ways]
    elif isinstance(design.porch, StraightPorch):
        ways = [*_depths(wish, design, design.porch), *ways]
    ways.sort(key=lambda way: (not way.within, round(abs(way.reached - wish.in_sun), 6)))
    return Answer(wish, now, tuple(ways), tuple(_lines(wish, now, ways)))


def _projections(wish: Wish, design: Design) -> Iterator[Way]:
    """The cornice's projection alone, its heights kept: linear in the share of the frieze."""
    sun, order = wish.sun, design.porch.order
    if not sun.on_front:
        return
    slope = math.tan(math.radians(sun.profile_angle_deg or 0.0))
    own = order.cornice_projection_m

    def share(factor: float) -> float:
        wide = tuple(replace(m, foot=m.foot * factor, head=m.head * factor) for m in order.cornice)
        changed = replace(design, porch=replace(design.porch, order=replace(order, cornice=wide)))
        return frieze_in_sun(changed, sun)

    factor = _nearest(share, wish.in_sun, 0.2, 2.5)
    low, high = _projection_limits()
    kept = factor * own / order.cornice_height_m
    said = length_words(factor * own, design.units)
    limits = f"the canons' cornices project {low:.2f} to {high:.2f} of their height"
    yield Way(
        "",
        "",
        f"a cornice that projects {said}, {kept:.2f} of its height (as it is "
        f"{length_words(own, design.units)}; {limits})",
        share(factor),
        False,
        low - 0.005 <= kept <= high + 0.005 and slope > 0.0,
    )


def _projection_limits() -> tuple[float, float]:
    """Least and most projection of a cornice over its height among the plates held here.

    Ware, p. 8, has them as equal, the Doric's more.
    """
    found = []
    for (canon, _), table in plates().items():
        if canon in canons():
            reach = max(m.reach for m in table.groups["cornice"])
            found.append(reach / table.group_height("cornice"))
    return min(found), max(found)


def _plates(wish: Wish, design: Design) -> Iterator[Way]:
    """The order's plate by another authority, which divides the entablature otherwise."""
    from massing.canon import fit_order

    order = design.porch.order
    found = []
    for canon in canons():
        try:
            fitted = fit_order(
                order.order,
                canon,
                diameter_m=order.diameter_m,
                column_height_m=order.column_height_m,
                entablature_m=order.entablature_height_m,
                pedestal=bool(order.pedestal),
            )
        except ValueError:
            continue
        if canon != order.canon and fitted.canon == canon:
            changed = replace(design, porch=replace(design.porch, order=fitted))
            found.append((abs(frieze_in_sun(changed, wish.sun) - wish.in_sun), canon, changed))
    if found:
        _, canon, changed = min(found, key=lambda f: f[:2])
        yield Way(
            "porch.canon",
            canon,
            f"canon: {canon}, whose entablature is divided otherwise",
            _at_once(changed, wish.sun, wish.surface),
            True,
            True,
        )


def _depths(wish: Wish, design: Design, porch: StraightPorch) -> Iterator[Way]:
    """The porch's depth alone: the deeper, the less sun."""
    units = design.units
    low, high = LEAST_DEPTH * porch.order.diameter_m, MOST_DEPTH * max(porch.open_gaps_m)

    def with_depth(depth_m: float) -> Design:
        return replace(design, porch=replace(porch, axis_depth_m=depth_m))

    by_profile = _nearest(lambda d: door_in_sun(with_depth(d), wish.sun), wish.in_sun, low, high)
    tried = [by_profile, *np.linspace(low, high, _DEPTHS_TRIED).tolist()]
    shares = [_at_once(with_depth(d), wish.sun, wish.surface) for d in tried]
    best = min(
        range(len(tried)),
        key=lambda i: (round(abs(shares[i] - wish.in_sun), 2), abs(tried[i] - porch.depth_m)),
    )
    depth, reached = tried[best], shares[best]
    yield Way(
        "porch.depth",
        length_words(depth, units),
        f"depth: {length_words(depth, units)}, wall to column axis (as it is "
        f"{length_words(porch.depth_m, units)}; tried from {length_words(low, units)} to "
        f"{length_words(high, units)})",
        reached,
        True,
        True,
    )


def _bearings(wish: Wish, design: Design) -> Iterator[Way]:
    """The front's bearing alone, the nearest to what it is that gives it."""
    site, sun = design.site, wish.sun
    if sun.when is None:
        return
    turns = np.arange(-180, 180)
    facing = (site.front_azimuth_deg + turns) % 360.0
    to_suns = np.array([to_house_frame(sun.altitude_deg, sun.azimuth_deg, f) for f in facing])
    off = np.round(np.abs(by_rays(design, to_suns, wish.surface) - wish.in_sun), 2)
    best = int(np.lexsort((np.abs(turns), off))[0])
    if turns[best]:
        share = float(by_rays(design, to_suns[best : best + 1], wish.surface)[0])
        yield Way(
            "site.front_faces",
            f"{facing[best]:.0f}",
            f"front_faces: {facing[best]:.0f} ({compass_point(facing[best])}), the house turned by "
            f"{abs(turns[best])} degrees",
            share,
            True,
            True,
        )


def _nearest(share: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    """Where a share that falls as its size grows comes nearest to what is wanted.

    Where a whole stretch gives it, as where all is in sun, the end of it nearest the middle sizes.
    """
    if share(low) <= wanted:
        return low
    if share(high) >= wanted:
        return high
    for _ in range(60):
        middle = (low + high) / 2.0
        if share(middle) > wanted + 1e-9:
            low = middle
        else:
            high = middle
    return low if wanted >= 1.0 else high


def _lines(wish: Wish, now: float, ways: list[Way]) -> Iterator[str]:
    part = f"the {wish.surface}"
    yield (
        f"Wanted: {part} {_percent(wish.in_sun)} in sun, {_percent(1.0 - wish.in_sun)} in shadow, "
        f"at {wish.sun.label} (sun {wish.sun.altitude_deg:.1f} degrees high, azimuth "
        f"{wish.sun.azimuth_deg:.1f}). As it is: {_percent(now)} in sun."
    )
    if abs(now - wish.in_sun) <= CLOSE:
        yield "That is what was wanted: nothing needs to change."
        return
    if not wish.sun.on_front:
        yield "The sun is behind the front then: no size of the porch brings it there."
    gives = [w for w in ways if w.within and abs(w.reached - wish.in_sun) <= CLOSE]
    rest = [w for w in ways if w not in gives]
    if gives:
        yield "Any one of these gives it:"
        yield from (_said(way) for way in gives)
    else:
        near = _percent(CLOSE)
        yield f"Within the canons' limits nothing gives it to within {near}. Nearest come:"
    if gives and rest:
        yield "The others come no nearer than:"
    for way in rest:
        outside = "" if way.within else "; outside the canons' limits"
        yield f"{_said(way)}{outside}"


def _said(way: Way) -> str:
    how = "by rays" if way.by_rays else "by the profile angle; no field of the scene says it alone"
    return f"  {way.words}: {_percent(way.reached)} in sun, {how}"


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %"
