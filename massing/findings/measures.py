"""Measures of a design that figures, findings and captions share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from massing.canon import FittedOrder, balustrade_table
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.opening import DoorOpening, FrenchWindow, Opening, WindowOpening
from massing.design.porch import BalustradeDesign
from massing.practice.joinery_sizes import SASH
from massing.resolve.ground import ground_before_wall, house_plan, lowest_over, porch_plan
from massing.settingout.sashes import casement_leaves, daylights, hung_sashes

_LEAF_IN_OPENING_M = 0.05  # what an open leaf and its stop take of the way through: practice


def slenderness(order: FittedOrder) -> float:
    """Column height over its diameter, or pier width."""
    return order.column_height_m / order.diameter_m


def entablature_ratio(order: FittedOrder) -> float:
    """Entablature height over column height."""
    return order.entablature_height_m / order.column_height_m


def clear_intercolumniations(design: Design) -> tuple[float, ...]:
    """Clear distances between neighbouring shafts where they are widest, in diameters.

    Where columns are coupled, those between the couples.
    """
    d = design.porch.order.diameter_m
    return tuple(gap / d - 1.0 for gap in design.porch.open_gaps_m)


def windows_by_storey(design: Design) -> tuple[WindowOpening, ...]:
    """One window of each storey of the front, from the ground up."""
    storeys: dict[int | None, WindowOpening] = {}
    for opening in design.house.windows:
        if opening.wall == "front":
            storeys.setdefault(opening.storey, opening)
    return tuple(sorted(storeys.values(), key=lambda o: o.sill_z_m))


def columns_before_openings(design: Design) -> tuple[Opening, ...]:
    """Ground-floor openings of the front that have a column standing before their middle part.

    A column counts where its shaft overlaps the opening by more than a tenth of its diameter.
    """
    reach = 0.4 * design.porch.order.diameter_m
    axes = np.asarray(design.porch.axes_m)
    return tuple(
        o
        for o in design.house.openings
        if o.wall == "front"
        and o.sill_z_m < design.porch.column_top_z_m
        and o.storey == 0
        and bool((np.abs(axes - o.along_m) < o.width_m / 2.0 + reach).any())
    )


def clear_gap_m(balustrade: BalustradeDesign) -> float:
    """Widest clear opening that may come between balusters, at their necks, metres.

    Balusters are set out at the design's spacing or closer, to keep their gaps equal.
    """
    table = balustrade_table()
    return balustrade.baluster_spacing_m - balustrade.belly_m * table.neck / table.belly


def clear_width_m(opening: DoorOpening) -> float:
    """The way through a door with one leaf open square, metres."""
    return opening.leaf_width_m / opening.door.leaves - _LEAF_IN_OPENING_M


@dataclass(frozen=True)
class SashSizes:
    """What a window comes to, in metres: a tripartite window's middle, a casement's leaves."""

    pane_width_m: float
    pane_height_m: float
    glass_foot_m: float  # above the opening's foot
    clear_width_m: float  # with the lower sash raised, or the leaves open
    clear_height_m: float


def sash_sizes(opening: WindowOpening) -> SashSizes:
    """Panes and clear opening of a window, by its members' sections.

    Raises:
        ValueError: the opening is too small for its lights.
    """
    s, holes = SASH, daylights(opening)
    hole = holes[len(holes) // 2]
    wide = hole.right_m - hole.left_m
    across = opening.lower_lights[0]
    if opening.filling in ("casement", "fixed"):
        opens = opening.filling == "casement"
        leaf = casement_leaves(opening)[0]
        span = float(np.ptp(leaf.outline[:, 0]))
        return SashSizes(
            pane_width_m=(span - 2.0 * s.stile_m - (across - 1) * s.bar_m) / across,
            pane_height_m=leaf.pane_height_m,
            glass_foot_m=hole.foot_z_m + s.leaf_clear_m + s.bottom_rail_m,
            clear_width_m=wide if opens else 0.0,
            clear_height_m=(hole.top.springing_z_m - hole.foot_z_m) if opens else 0.0,
        )
    made = hung_sashes(hole, opening.upper_lights, opening.lower_lights)
    lower = made.meet_z_m - hole.foot_z_m
    return SashSizes(
        pane_width_m=(wide - 2.0 * s.stile_m - (across - 1) * s.bar_m) / across,
        pane_height_m=made.pane_height_m,
        glass_foot_m=hole.foot_z_m + s.bottom_rail_m,
        clear_width_m=wide,
        clear_height_m=min(lower, hole.top.springing_z_m - hole.foot_z_m - lower),
    )


def patterns(house: HouseDesign) -> list[Opening]:
    """One opening for each kind and storey, in the order they stand."""
    kinds: dict[tuple[object, ...], Opening] = {}
    for o in house.openings:
        kinds.setdefault(same_size(o), o)
    return list(kinds.values())


def same_size(opening: Opening) -> tuple[object, ...]:
    """What openings of one pattern have in common."""
    o = opening
    size = (o.kind, o.sill_z_m, o.width_m, o.height_m, o.soffit.rise_m)
    match o:
        case WindowOpening():
            return (*size, o.filling, o.lower_lights, o.upper_lights)
        case FrenchWindow():
            return (*size, o.lights)
    return size


def lowest_by_house_m(design: Design) -> float:
    """Height of the lowest ground at the walls of house and wings; 0 where it is level."""
    return min(lowest_over(design.site.ground, p) for p in house_plan(design.house).values())


def lowest_by_porch_m(design: Design) -> float:
    """The same at the porch's floor."""
    return lowest_over(design.site.ground, porch_plan(design.porch))


def landing_drop_m(design: Design) -> float:
    """The highest side door's landing above the lowest ground at its edges; 0 without one."""
    house, drops = design.house, [0.0]
    for block, on_plan in [(house, None), *((w.house, w.on_plan) for w in house.wings)]:
        for opening in block.doors:
            steps = opening.door.steps
            if steps:
                half, out = steps.width_m / 2.0, steps.landing_m
                at = [
                    ground_before_wall(
                        block, opening.wall, opening.along_m + x, design.site.ground, on_plan
                    )
                    for x in (-half, half)
                ]
                drops.append(steps.top_z_m - min(h(y) for h in at for y in (0.0, out)))
    return max(drops)
