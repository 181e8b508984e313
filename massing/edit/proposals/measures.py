"""What is good in a porch, as numbers of which less is better, each with its source.

None weighs more than another: they are never added up. Each is a plain function of the design, of
the design as drawn, and of the scene's suns, that a hand can follow.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from massing.canon import departures, spacings, vitruvius
from massing.canon.sources import cited
from massing.design.design import Design
from massing.design.opening import Opening
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.findings.shadow import cornice_shadow_m
from massing.practice.rules import rule
from massing.sun.position import SunTime
from massing.units import FOOT_M

_HAIR_M = 1e-6
_SAME_M = 1e-4  # an opening that moves by less stays where it is


@dataclass(frozen=True)
class Measure:
    """A number about a proposal.

    Attributes:
        key: a stable name.
        name: its heading in tables.
        words: how it is measured, and that less of it is better.
        source: whose rule it goes by, with its mark.
        unit: ``share``, ``gain`` (a share less, or under nothing more, than as drawn),
            ``diameters``, ``count`` or ``length``.
        value: of a design, against the design as drawn, at the scene's suns.
        good, bad: what is said of a proposal that does best, or worst, in it; ``{}`` is the value.
    """

    key: str
    name: str
    words: str
    source: str
    unit: str
    value: Callable[[Design, Design, Sequence[SunTime]], float]
    good: str
    bad: str

    def written(self, value: float, units: str = "feet") -> str:
        """A value as it is printed."""
        match self.unit:
            case "share":
                return f"{100.0 * value + 0.0:.0f} %"
            case "diameters":
                return f"{value:.2f} D"
            case "gain":
                share = abs(100.0 * value)
                return f"{share:.0f} % {'less' if value > 0.0 else 'more'}"
            case "length":
                return f"{value / FOOT_M:,.0f} ft" if units == "feet" else f"{value:,.0f} m"
            case _:
                return f"{value:.0f}"


# --- the order -----------------------------------------------------------------------------


def off_canon(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How far the group of members that is farthest from its plate stands from it, as a share."""
    return max((abs(d.share) for d in departures(design.porch.order, 0.0)), default=0.0)


def slenderest(order: str, clear_diameters: float) -> float | None:
    """Column height in diameters that Vitruvius gives an order so spaced, the most where he gives
    two; None of an order that he does not speak of.

    >>> slenderest("ionic", 2.3), slenderest("doric", 2.3), slenderest("composite", 2.3)
    (8.5, 7.5, None)
    """
    name = vitruvius.nearest_spacing(clear_diameters)
    given = vitruvius.column_by_spacing(order, name) or vitruvius.column(order)
    return None if given is None else given.most


def too_slender(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How much slenderer the columns are than Vitruvius has them, so spaced, as a share.

    The wider Ionic and Corinthian columns stand, the stouter they are; stouter is no fault.
    """
    order = design.porch.order
    most = slenderest(order.order, min(clear_intercolumniations(design)))
    return 0.0 if most is None else max(0.0, slenderness(order) / most - 1.0)


def off_entablature(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How far the entablature lies outside a fifth to a quarter of the column, as a share."""
    low, high = rule("entablature_least").value, rule("entablature_most").value
    ratio = entablature_ratio(design.porch.order)
    return max(0.0, low / ratio - 1.0, ratio / high - 1.0)


# --- the spacing ---------------------------------------------------------------------------


def off_names(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How far the opening that is farthest from any named intercolumniation is from it, diameters.

    Eustyle's wider middle, three diameters, is diastyle's width.
    """
    named = [s.clear for s in spacings().values()]
    gaps = clear_intercolumniations(design)
    return max(min(abs(gap - name) for name in named) for gap in gaps)


def _before(design: Design) -> list[Opening]:
    """The front's openings that the porch stands before, its columns reaching up to them."""
    porch = design.porch
    return [
        o
        for o in design.house.openings
        if o.wall == "front"
        and porch.from_middle_m(o.along_m) < porch.half_width_m
        and o.sill_z_m < porch.column_top_z_m
    ]


def covered(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How much of the openings' breadth behind the porch stands behind shafts, seen square on.

    Windows over each other count once each.
    """
    half = design.porch.order.diameter_m / 2.0
    hidden = whole = 0.0
    for o in _before(design):
        low, high = o.along_m - o.width_m / 2.0, o.along_m + o.width_m / 2.0
        whole += o.width_m
        for axis in design.porch.axes_m:
            hidden += max(0.0, min(high, axis + half) - max(low, axis - half))
    return hidden / whole if whole else 0.0


def off_bays(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How far the columns stand from the middle between two bays, in the mean, of a bay.

    Beyond the last bay the middles go on at its spacing. A half is as far as can be.
    """
    bays = design.house.bay_centres_m
    if len(bays) < 2:
        return 0.0
    middles = [(a + b) / 2.0 for a, b in pairwise(bays)]
    first, last = bays[1] - bays[0], bays[-1] - bays[-2]
    middles = [middles[0] - first, *middles, middles[-1] + last]
    axes = design.porch.axes_m
    off = sum(min(abs(axis - middle) for middle in middles) for axis in axes) / len(axes)
    return off / min(b - a for a, b in pairwise(bays))


def door_narrow(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How much narrower the opening before the door is than the widest; 1 behind a column."""
    porch = design.porch
    door = design.house.entrance
    if door is None:
        return 0.0
    half = (door.width_m + porch.order.diameter_m) / 2.0
    if any(abs(axis - door.along_m) < half - _HAIR_M for axis in porch.axes_m):
        return 1.0
    gaps = list(pairwise(porch.axes_m))
    own = next((b - a for a, b in gaps if a < door.along_m < b), None)
    return 0.0 if own is None else 1.0 - own / max(b - a for a, b in gaps)


# --- light ---------------------------------------------------------------------------------


def below_frieze(design: Design, _drawn: Design, suns: Sequence[SunTime]) -> float:
    """How much of the cornice's shadow falls below the frieze, in the mean of the scene's hours.

    At an hour when the shadow ends within the frieze it is none; hours without sun on the front do
    not count.
    """
    frieze = design.porch.order.frieze_height_m
    depths = [d for d in (cornice_shadow_m(design, sun) for sun in suns) if d is not None]
    shares = [max(0.0, 1.0 - frieze / d) if d > 0.0 else 0.0 for d in depths]
    return sum(shares) / len(shares) if shares else 0.0


def daylight(design: Design) -> float:
    """Area of the front's openings times the angle of sky each sees, square metres by radians.

    The angle is measured in the section square to the front, from the horizon up to the porch's
    soffit where there is one before the opening, from the opening's middle; behind columns only the
    share of the porch's breadth between the shafts counts.
    """
    porch = design.porch
    out = -porch.column_y_m + porch.frieze_half_depth_m
    edges = (
        (out, porch.column_top_z_m),
        (out + porch.order.cornice_projection_m, porch.top_z_m),
    )
    shafts = len(porch.axes_m) * porch.order.diameter_m
    open_share = max(0.0, 1.0 - shafts / (2.0 * porch.half_width_m))
    total = 0.0
    for o in design.house.openings:
        if o.wall != "front":
            continue
        middle = o.sill_z_m + o.height_m / 2.0
        sky, share = math.pi / 2.0, 1.0
        within = porch.from_middle_m(o.along_m) < porch.half_width_m
        if within and o.sill_z_m < porch.column_top_z_m:
            sky = max(0.0, min(math.atan2(z - middle, y + o.back_m) for y, z in edges))
            share = open_share
        total += o.width_m * o.height_m * sky * share
    return total


def daylight_lost(design: Design, drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How much less daylight the front's openings have than as drawn, as a share; less than
    nothing where they have more."""
    return 1.0 - daylight(design) / daylight(drawn)


# --- work ----------------------------------------------------------------------------------


def moved(design: Design, drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How many of the house's openings and heights are not as drawn.

    Openings that come, go, move or change size count one each, wings' too; so do the walls' top,
    the eaves' cornice and the porch's floor.
    """
    old, new = (
        {(o.wing, o.wall, o.storey, o.place, o.kind): _sizes(o) for o in _openings(each)}
        for each in (drawn, design)
    )
    count = len(old.keys() ^ new.keys())
    count += sum(_differ(old[key], new[key]) for key in old.keys() & new.keys())
    heights = [
        (each.house.wall_top_z_m, each.house.cornice.height_m, each.porch.floor_z_m)
        for each in (drawn, design)
    ]
    return float(count + sum(abs(a - b) > _SAME_M for a, b in zip(*heights, strict=True)))


def _openings(design: Design) -> list[Opening]:
    wings = [o for wing in design.house.wings for o in wing.house.openings]
    return [*design.house.openings, *wings]


def _sizes(o: Opening) -> tuple[float, ...]:
    return (o.along_m, o.sill_z_m, o.width_m, o.height_m)


def _differ(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return any(abs(a - b) > _SAME_M for a, b in zip(one, other, strict=True))


def shafts(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """How many shafts there are to turn, those of the returns too."""
    return float(len(design.porch.perimeter_axes_m))


def mouldings(design: Design, _drawn: Design, _suns: Sequence[SunTime]) -> float:
    """Running metres of the members of entablature, pedestals and balustrade, straight runs alone.

    A member of the entablature runs along the front and back to the wall at both sides, and round
    the house where the porch's frieze and cornice are carried round it; a pediment's cornice runs
    up both rakes too; a pedestal's members go about it; a balustrade has its rail and its plinth.
    """
    porch, order, house = design.porch, design.porch.order, design.house
    run = 2.0 * (porch.half_width_m - porch.column_y_m)
    carried = len(order.frieze) + len(order.cornice)
    total = run * (len(order.architrave) + carried)
    if house.cornice_continues_porch:
        total += carried * (2.0 * (house.width_m + house.depth_m) - 2.0 * porch.half_width_m)
    if porch.roof == "pediment":
        rakes = 2.0 * porch.half_width_m * math.hypot(1.0, porch.roof_slope)
        total += rakes * len(order.cornice)
    about = 4.0 * order.foot_width_m if order.pedestal else 0.0
    total += about * len(order.pedestal) * len(porch.perimeter_axes_m)
    if porch.balustrade is not None:
        total += 2.0 * run
    return total


MEASURES = (
    Measure(
        "off_canon",
        "Off the canon",
        "the group of members that is farthest from its order's plate, for the same diameter",
        "the order's own plate; " + cited("ware p. 8"),
        "share",
        off_canon,
        "every member as its canon has it",
        "its members up to {} off the canon",
    ),
    Measure(
        "too_slender",
        "Slenderer than Vitruvius",
        "over the column he gives the order, so spaced where he goes by the spacing",
        cited(("vitruvius III.3.7", "vitruvius III.3.10", "vitruvius IV.3.4", "vitruvius IV.7.2")),
        "share",
        too_slender,
        "columns no slenderer than Vitruvius has them",
        "columns {} slenderer than Vitruvius has them",
    ),
    Measure(
        "off_entablature",
        "Entablature out of range",
        "outside a fifth to a quarter of the column's height",
        cited("ware p. 8"),
        "share",
        off_entablature,
        "an entablature between a fifth and a quarter of the column",
        "an entablature {} out of a fifth to a quarter",
    ),
    Measure(
        "off_names",
        "Off the named spacings",
        "the opening farthest from any named intercolumniation, in lower diameters",
        cited(("vitruvius III.3.2", "vitruvius III.3.4-5", "vitruvius III.3.6")),
        "diameters",
        off_names,
        "openings of a named width",
        "an opening {} from any named width",
    ),
    Measure(
        "covered",
        "Openings behind shafts",
        "of the breadth of the openings behind the porch, seen square on",
        cited("practice"),
        "share",
        covered,
        "no column before a window",
        "{} of the windows' breadth behind columns",
    ),
    Measure(
        "off_bays",
        "Columns off the bays",
        "from the middle between two bays, in the mean, of a bay",
        cited("practice"),
        "share",
        off_bays,
        "its columns midway between the bays",
        "columns {} of a bay off the middle between bays",
    ),
    Measure(
        "door_narrow",
        "Door's opening narrow",
        "how much narrower than the widest; 100 % behind a column",
        cited("vitruvius III.3.6"),
        "share",
        door_narrow,
        "the door in the widest opening",
        "the door's opening {} narrower than the widest",
    ),
    Measure(
        "below_frieze",
        "Cornice shadow below the frieze",
        "of its depth, in the mean of the scene's hours with sun on the front",
        "profile angle, ASHRAE Fundamentals, Fenestration (from memory)",
        "share",
        below_frieze,
        "a cornice shadow that keeps most to the frieze",
        "{} of the cornice's shadow below the frieze",
    ),
    Measure(
        "daylight_lost",
        "Daylight to the windows",
        "area of the front's openings times the angle of sky they see, against as drawn",
        cited("littlefair average daylight factor"),
        "gain",
        daylight_lost,
        "the most daylight left to the rooms",
        "the least daylight left to the rooms",
    ),
    Measure(
        "moved",
        "House that changes",
        "openings, and heights of walls, eaves' cornice and porch floor, not as drawn",
        cited("derived"),
        "count",
        moved,
        "least of the builder's house changed",
        "{} openings and heights of the house changed",
    ),
    Measure(
        "shafts",
        "Shafts",
        "columns to turn, those of the returns too",
        cited("derived"),
        "count",
        shafts,
        "the fewest shafts",
        "{} shafts to turn",
    ),
    Measure(
        "mouldings",
        "Run of moulding",
        "running length of the members of entablature, pedestals and balustrade",
        cited("derived"),
        "length",
        mouldings,
        "the least moulding to run",
        "{} of moulding to run",
    ),
)
"""In the order in which they are told."""


def measured(design: Design, drawn: Design, suns: Sequence[SunTime]) -> tuple[float, ...]:
    """Every measure of a design, in the order of :data:`MEASURES`."""
    return tuple(measure.value(design, drawn, suns) for measure in MEASURES)
