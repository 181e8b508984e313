"""Each remark's whole sentence, of a design whose sizes were set for it.

Limits are the sources' numbers: International Residential Code 2018 by section; Ware, The American
Vignola, p. 8 and p. 44; Vitruvius III.3; Vignola's arcades; the Edinburgh price book on doors;
common practice, no source, else. The house is 14 by 9 m, floors at 0.7 and 4 m, walls' top at 7 m,
bays 4 m apart; the porch 9 m, of Tuscan columns 3.4 m high and 0.5 m thick, 3 m apart.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from massing.canon import FittedCornice, Member
from massing.design.arcade import ArcadeDesign, ArchBay
from massing.design.design import Design
from massing.design.house import ChimneyDesign, WingDesign
from massing.design.opening import (
    DoorDesign,
    FloorWindow,
    Opening,
    ShuttersDesign,
    SurroundDesign,
    WindowOpening,
)
from massing.design.porch import RecessedPorch, StraightPorch
from massing.design.roof import CrossGable, DeckRoof, GabledDormer, GambrelRoof, HipRoof
from massing.design.side_porch import SidePorchDesign
from massing.design.site import GroundDesign
from massing.findings.report import figures, findings
from tests.findings.test_change_words import sun
from tests.findings.test_limits_of_findings import design, flight, guard, leaf, side_door, wing
from tests.helpers.house_designs import door_at, headed, house, porch, window_at

METRIC: dict[str, Any] = {"units": "metric"}


def walled(*openings: Opening, ground: GroundDesign | None = None, **changes: Any) -> Design:
    """The house with openings."""
    return design(ground=ground, house=house(openings, **changes), **METRIC)


def above(along_m: float = 3.0, sill_z_m: float = 4.7, **changes: Any) -> Opening:
    """A window of the upper storey."""
    return window_at(along_m, sill_z_m, storey=1, **changes)


def pane(along_m: float = 0.0, sill_z_m: float = 1.4, **changes: Any) -> WindowOpening:
    """One sheet of fixed glass."""
    single: dict[str, Any] = {"leaves": 1, "upper_lights": (1, 1), "lower_lights": (1, 1)}
    return window_at(along_m, sill_z_m, filling="fixed", **single, **changes)


DORMER = GabledDormer(
    side="front", centres_m=(0.0,), width_m=0.7, height_m=1.05, upper_lights=(3, 2),
    lower_lights=(3, 2), sill_z_m=7.8, face_y_m=0.5, drop_m=0.1, main_slope=0.5, cheeks="boards",
    cornice=FittedCornice((Member("corona", "fillet", 0.1, 0.1, 0.1),)), roof_slope=0.5,
)  # fmt: skip


def dormered(row: GabledDormer, *openings: Opening) -> Design:
    roof = HipRoof(0.5, 0.05, "slate", "slate", dormers=(row,))
    return design(openings, roof=roof, **METRIC)


def ordered(upper: Any = None, **changes: Any) -> Design:
    """The porch with its order changed; an entablature in three equal parts."""
    order = porch().order
    if "entablature_m" in changes:
        each = changes.pop("entablature_m") / 3
        for name in ("architrave", "frieze"):
            changes[name] = (Member(name, "fillet", each, 0.0, 0.0),)
        changes["cornice"] = (Member("corona", "fillet", each, 0.3, 0.3),)
    return design(porch=porch(order=replace(order, **changes), upper=upper), **METRIC)


def roofed(kind: str, slope: float, order: str = "tuscan", covering: Any = None) -> Design:
    named = replace(porch().order, order=order)
    stands = porch(roof=kind, roof_pitch=slope, roof_covering=covering, order=named)
    return design(porch=stands, **METRIC)


def under(slope: float, covering: Any) -> Design:
    return design(roof=HipRoof(slope, 0.05, covering, "slate"), **METRIC)


def chimney(over_wall_m: float) -> Design:
    """A stack so high over the walls' top."""
    stack = ChimneyDesign((-0.4, 4.0), (0.4, 5.0), 7.0 + over_wall_m)
    roof = HipRoof(0.1, 0.05, "slate", "slate")
    return design(house=replace(house(), chimneys=(stack,)), roof=roof, **METRIC)


def framed(order: str = "tuscan", of_porch: str = "tuscan", entablature: float = 0.9) -> Design:
    """A doorway with the porch's own order about it."""
    made = ordered(entablature_m=entablature).porch.order
    frame = SurroundDesign(replace(made, order=order), "pilasters", 1.5, 0.05)
    door = replace(door_at(storey=0), door=DoorDesign(surround=frame))
    named = replace(porch().order, order=of_porch)
    return design((door,), porch=porch(order=named), **METRIC)


def spaced(*gaps: float) -> Design:
    places = [-sum(gaps) / 2]
    for gap in gaps:
        places.append(places[-1] + gap)
    return design(porch=porch(axes_m=tuple(places)), **METRIC)


def coupled(couple_m: float, between_m: float) -> Design:
    """Two couples, so far from column to column within them and from one to the next."""
    axes = (-between_m / 2 - couple_m, -between_m / 2, between_m / 2, between_m / 2 + couple_m)
    return design(porch=porch(couple_axis_m=couple_m, axes_m=axes), **METRIC)


def aside(
    middle_m: float, *openings: Opening, bays: tuple[float, ...] = (-4.0, 0.0, 4.0)
) -> Design:
    """A porch of two columns 3 m apart, its middle beside the front's."""
    stands = porch(centre_m=middle_m, axes_m=(middle_m - 1.5, middle_m + 1.5))
    return design(house=house(openings, bay_centres_m=bays), porch=stands, **METRIC)


def bayed(*bays: float) -> Design:
    return design(house=house(bay_centres_m=bays), **METRIC)


def winged(*wings: WingDesign) -> Design:
    return design(house=replace(house(), wings=wings), **METRIC)


def ahead(width_m: float = 9.6, out_m: float = 2.5) -> WingDesign:
    """A wing before the front: its own frame is turned, so that its depth is its front."""
    block = replace(house(), width_m=out_m, depth_m=width_m, wall_top_z_m=4.0)
    return WingDesign("front", 5.0, -out_m, block, HipRoof(0.5, 0.05, "slate", "slate"))


def superposed(diameter_m: float, upper: str = "tuscan", lower: str = "tuscan") -> Design:
    stands = porch(order=replace(porch().order, order=lower))
    order = replace(stands.order, diameter_m=diameter_m, order=upper)
    return design(porch=replace(stands, upper=replace(stands, order=order)), **METRIC)


def arcaded(clear_m: float, crown_m: float, pier_m: float = 0.75, arches: int = 3) -> Design:
    stands = porch()
    bays = tuple(ArchBay(3.0 * k, clear_m, crown_m - clear_m / 2) for k in range(arches))
    arcade = ArcadeDesign(
        bays=bays, pier_m=pier_m, end_m=5.0, behind_m=0.1, thick_m=0.4, plinth_m=0.25,
        impost=(), archivolt=(), keystone=False,
    )  # fmt: skip
    assert isinstance(stands, StraightPorch)
    return design(porch=replace(stands, arcade=arcade), **METRIC)


# key, a design of which it is said, and the sentence
SAID: list[tuple[str, Callable[[], Design], str]] = [
    (
        "uneven heads",
        lambda: walled(window_at(-3.0), window_at(3.0, 1.43)),
        "The heads of the ground floor's windows are at 2.650 m and 2.680 m above it: heads"
        " in one line tie a front together, and sills may differ under them.",
    ),
    (
        "mixed heads",
        lambda: walled(headed("segmental arch", -3.0), headed("jack arch", 3.0)),
        "The front mixes jack arch and segmental arch heads; one kind to a front, or one to"
        " a storey from the heavier below, is more usual.",
    ),
    (
        "masonry heads",
        lambda: walled(headed("segmental arch"), walls="clapboard"),
        "A segmental arch stands in a wall of boards: a timber wall has a casing, which may"
        " be hooded or follow a round or oval head.",
    ),
    (
        "no graduation",
        lambda: walled(window_at(), above(height_m=1.92)),
        "The upper windows are as tall as the lower: no storey leads. Upper openings fall "
        "to about 5/6 of the height of those below.",
    ),
    (
        "no graduation",
        lambda: walled(window_at(), above(height_m=2.02)),
        "The upper windows are taller than the lower: no storey leads. Upper openings fall "
        "to about 5/6 of the height of those below.",
    ),
    (
        "tall windows",
        lambda: walled(window_at(width_m=0.85)),
        "The ground floor's windows are 2.29 times as high as wide; the books stop at two, "
        "or at 2.17.",
    ),
    (
        "squat windows",
        lambda: walled(window_at(width_m=1.42)),
        "The ground floor's windows are only 1.37 times as high as wide; the books give "
        "1.41 to 2 for principal windows.",
    ),
    (
        "masked openings",
        lambda: walled(window_at(-1.5), window_at(1.7), window_at(3.0), door_at(0.0, storey=0)),
        "A column stands before the ground floor's window at -1.5, window at 1.7, seen "
        "square on the front.",
    ),
    (
        "shutters that do not close",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred", side="left"))),
        "front/ground/window at 0.0 has a shutter on its left alone: leaves hang in pairs, "
        "each to cover half of its opening, 520 mm.",
    ),
    (
        "shutters that do not close",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred", leaf_m=0.48))),
        "The shutters of front/ground/window at 0.0 are 480 mm wide, narrower than half its"
        " opening, 520 mm: a leaf covers half its opening, so that the pair can close it.",
    ),
    (
        "shutters that do not close",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred", leaf_m=0.56))),
        "The shutters of front/ground/window at 0.0 are 560 mm wide, wider than half its "
        "opening, 520 mm: a leaf covers half its opening, so that the pair can close it.",
    ),
    (
        "shutters under an arch",
        lambda: walled(headed("segmental arch", shutters=ShuttersDesign("louvred"))),
        "The shutters of front/ground/window at 0.0 are square and stop at the springing: "
        "closed, they leave 131 mm of its head uncovered.",
    ),
    (
        "wide shutters",
        lambda: walled(window_at(width_m=1.6, shutters=ShuttersDesign("louvred"))),
        "Shutters 800 mm wide, half the opening each, are wider than 30 in (762 mm): heavy "
        "on their hinges, and such windows seldom had any.",
    ),
    (
        "shutters on fixed glass",
        lambda: walled(pane(shutters=ShuttersDesign("louvred"))),
        "front/ground/window at 0.0 has shutters beside fixed glass: they are drawn to from"
        " within, by a sash that opens; a picture window had none.",
    ),
    (
        "hold-backs beside the leaf",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred", hold_backs="beside"))),
        "The hold-backs of front/ground/window at 0.0 stand at the side of the leaves: the "
        "heavy end hangs down by its own weight and holds the leaf from under its foot, so "
        "it sits low; at the side belongs to windows that go down to the floor.",
    ),
    (
        "picture windows",
        lambda: walled(pane(-3.0), pane(3.0, width_m=1.8)),
        "front/ground/window at 3.0 is one sheet of fixed glass, 1.800 m by 1.950 m: it has"
        " neither the upright shape nor the panes that give the other windows their scale, "
        "and lets in no air.",
    ),
    (
        "window to the floor",
        lambda: walled(window_at(5.5, 0.7, kind=FloorWindow)),
        "front/ground/window at 5.5 opens to the floor, 700 mm above the ground and off the"
        " porch: it wants a guard, or sashes that stop; local codes and licensed practice "
        "decide.",
    ),
    (
        "safety glazing",
        lambda: walled(pane(0.0, 0.9, width_m=1.6, height_m=1.6)),
        "The panes of front/ground/window at 0.0 are over 9 sq ft and begin 323 mm above "
        "the floor: safety glazing; local codes and licensed practice decide.",
    ),
    (
        "window fall",
        lambda: walled(above(sill_z_m=4.5), ground=GroundDesign(back=-0.05)),
        "front/first/window at 3.0 opens 544 mm above its floor and 4.950 m above the "
        "ground: it wants a guard or a limiter; local codes and licensed practice decide.",
    ),
    (
        "escape window",
        lambda: walled(above(height_m=1.0, width_m=0.7)),
        "front/first/window at 3.0 opens 611 mm by 452 mm clear: too little for a bedroom's"
        " way of escape, which wants 5.7 sq ft, 24 in (610 mm) high and 20 in (508 mm) "
        "wide, its sill 44 in (1.118 m) up at most; local codes and licensed practice "
        "decide.",
    ),
    (
        "escape window",
        lambda: walled(above(sill_z_m=5.2, height_m=2.4, width_m=1.4)),
        "front/first/window at 3.0 opens 1.311 m by 1.152 m clear: too little for a "
        "bedroom's way of escape, which wants 5.7 sq ft, 24 in (610 mm) high and 20 in (508"
        " mm) wide, its sill 44 in (1.118 m) up at most; local codes and licensed practice "
        "decide.",
    ),
    (
        "dormer escape",
        lambda: dormered(DORMER),
        "The dormers open 611 mm by 477 mm clear: too little for the way of escape of a "
        "bedroom under the roof, which wants 5.7 sq ft; local codes and licensed practice "
        "decide.",
    ),
    (
        "heavy dormers",
        lambda: dormered(replace(DORMER, width_m=1.3, height_m=1.7), window_at()),
        "The dormers' windows, 1.300 m by 1.700 m, are larger than those of the storey "
        "below; lighter ones upwards are more usual.",
    ),
    (
        "dormers off the bays",
        lambda: dormered(replace(DORMER, centres_m=(0.06,))),
        "A dormer stands neither over a bay nor midway between two.",
    ),
    (
        "steep pediment",
        lambda: roofed("pediment", 0.52),
        "The pediment rises 6.24:12, steeper than the books' 6:12 at most.",
    ),
    (
        "steep pediment",
        lambda: roofed("pediment", 0.52, order="ionic"),
        "The pediment rises 6.24:12, steeper than the books' 6:12 at most; over the Ionic "
        "Vitruvius has 2.67:12.",
    ),
    (
        "roof pitch",
        lambda: under(0.2, "barrel tile"),
        "The main roof is 2.4:12, too flat for clay tile (2 1/2:12 at least); local codes "
        "and licensed practice decide.",
    ),
    (
        "roof pitch",
        lambda: under(0.32, "slate"),
        "The main roof is 3.84:12, too flat for slate (4:12 at least); local codes and "
        "licensed practice decide.",
    ),
    (
        "roof pitch",
        lambda: under(0.24, "wood shingle"),
        "The main roof is 2.88:12, too flat for wood shingle (3:12 at least); local codes "
        "and licensed practice decide.",
    ),
    (
        "roof pitch",
        lambda: under(0.02, "standing seam"),
        "The main roof is 0.24:12, too flat for standing seam (1/4:12 at least); local "
        "codes and licensed practice decide.",
    ),
    (
        "roof pitch",
        lambda: roofed("hipped", 0.2),
        "The porch roof is 2.4:12, too flat for clay tile (2 1/2:12 at least); local codes "
        "and licensed practice decide.",
    ),
    (
        "roof pitch",
        lambda: roofed("hipped", 0.3, covering="slate"),
        "The porch roof is 3.6:12, too flat for slate (4:12 at least); local codes and "
        "licensed practice decide.",
    ),
    (
        "roof pitch",
        lambda: design(
            roof=GambrelRoof(
                0.2, 0.05, "barrel tile", "terracotta", lower_slope=1.5, break_run_m=1.0
            ),
            **METRIC,
        ),
        "The main roof's upper slope is 2.4:12, too flat for clay tile (2 1/2:12 at least);"
        " local codes and licensed practice decide.",
    ),
    (
        "tile underlayment",
        lambda: under(0.3, "plain tile"),
        "The main roof is 3.6:12; clay tile below 4:12 wants a double underlayment.",
    ),
    (
        "tile underlayment",
        lambda: roofed("hipped", 0.25),
        "The porch roof is 3:12; clay tile below 4:12 wants a double underlayment.",
    ),
    (
        "flat roof",
        lambda: design(porch=porch(), house=house((), cornice_continues_porch=True), **METRIC),
        "The porch's flat roof falls 1/8 in 12, less than 1/4 in 12: water stands on it "
        "unless its sheet, outlets and upstands are made for that.",
    ),
    (
        "low chimney",
        lambda: chimney(0.9),
        "Chimney 1 tops the ridge by less than 2 ft (610 mm); local codes and licensed "
        "practice decide.",
    ),
    (
        "guard missing",
        lambda: design(porch=porch(floor_z_m=0.8), **METRIC),
        "The porch floor is 800 mm above the ground and its edge is open: over 30 in (762 "
        "mm) a guard is required; local codes and licensed practice decide.",
    ),
    (
        "guard missing",
        lambda: design(porch=porch(floor_z_m=0.7), ground=GroundDesign(back=0.05), **METRIC),
        "The porch floor is 842 mm above the ground and its edge is open: over 30 in (762 "
        "mm) a guard is required; local codes and licensed practice decide.",
    ),
    (
        "guard low",
        lambda: design(porch=porch(guard=guard(0.9)), **METRIC),
        "The guard is 900 mm high, under the 36 in (914 mm) of the model code; local codes "
        "and licensed practice decide.",
    ),
    (
        "guard between couples",
        lambda: design(
            porch=porch(guard=guard(), couple_axis_m=0.62, axes_m=(-2.12, -1.5, 1.5, 2.12)),
            **METRIC,
        ),
        "The guard stops at the couples, whose shafts stand 120 mm apart: a 4 in (102 mm) "
        "sphere must not pass; local codes and licensed practice decide.",
    ),
    (
        "guard gaps",
        lambda: design(porch=porch(guard=replace(guard(), baluster_spacing_m=0.15)), **METRIC),
        "The guard's balusters stand 118 mm apart at their necks; a 4 in (102 mm) sphere "
        "must not pass; local codes and licensed practice decide.",
    ),
    (
        "balustrade no guard",
        lambda: design(porch=porch(balustrade=guard(0.6)), **METRIC),
        "The balustrade over the porch is ornament, not a guard: 600 mm high, gaps to 88 "
        "mm. A roof that people may walk on needs a guard of 36 in (914 mm) or more that a "
        "4 in (102 mm) sphere cannot pass; local codes and licensed practice decide.",
    ),
    (
        "balustrade no guard",
        lambda: design(
            porch=porch(balustrade=replace(guard(1.0), baluster_spacing_m=0.15)), **METRIC
        ),
        "The balustrade over the porch is ornament, not a guard: 1.000 m high, gaps to 118 "
        "mm. A roof that people may walk on needs a guard of 36 in (914 mm) or more that a "
        "4 in (102 mm) sphere cannot pass; local codes and licensed practice decide.",
    ),
    (
        "roof flat open",
        lambda: design(roof=DeckRoof(0.4, 0.05, "slate", "slate", deck_run_m=2.0), **METRIC),
        "The flat on the roof has an open edge: if people may walk on it, it needs a guard "
        "of 36 in (914 mm) or more and a safe way up; local codes and licensed practice "
        "decide.",
    ),
    (
        "roof balustrade no guard",
        lambda: design(
            roof=DeckRoof(0.4, 0.05, "slate", "slate", deck_run_m=2.0, deck_balustrade=guard(0.9)),
            **METRIC,
        ),
        "The balustrade round the roof's flat is 900 mm high, gaps to 88 mm: a flat to walk"
        " on wants a guard of 36 in (914 mm) or more that a 4 in (102 mm) sphere cannot "
        "pass; local codes and licensed practice decide.",
    ),
    (
        "riser",
        lambda: design(porch=porch(flight=flight(riser_m=0.2)), **METRIC),
        "The risers are 200 mm, over the model code's 7 3/4 in (197 mm); local codes and "
        "licensed practice decide.",
    ),
    (
        "tread",
        lambda: design(porch=porch(flight=flight(tread_m=0.25)), **METRIC),
        "The treads are 250 mm, under the model code's 10 in (254 mm); local codes and "
        "licensed practice decide.",
    ),
    (
        "handrail",
        lambda: design(porch=porch(flight=flight(risers=5)), **METRIC),
        "The flight has 5 risers and no handrail is drawn; 4 or more want one at least; "
        "local codes and licensed practice decide.",
    ),
    (
        "stride",
        lambda: design(porch=porch(flight=flight(riser_m=0.15, tread_m=0.3)), **METRIC),
        "Two risers and a tread come to 600 mm: short of step; 24 in (610 mm) to 27 in (686"
        " mm) is usual.",
    ),
    (
        "stride",
        lambda: design(porch=porch(flight=flight(riser_m=0.15, tread_m=0.4)), **METRIC),
        "Two risers and a tread come to 700 mm: long of step; 24 in (610 mm) to 27 in (686 "
        "mm) is usual.",
    ),
    (
        "side door riser",
        lambda: walled(side_door(riser_m=0.2)),
        "The side door's risers are 200 mm, over the model code's 7 3/4 in (197 mm); local "
        "codes and licensed practice decide.",
    ),
    (
        "side door tread",
        lambda: walled(side_door(tread_m=0.25)),
        "The side door's treads are 250 mm, under the model code's 10 in (254 mm); local "
        "codes and licensed practice decide.",
    ),
    (
        "side door handrail",
        lambda: walled(side_door(risers=4)),
        "The side door's flight has 4 risers and no handrail is drawn; 4 or more want one "
        "at least; local codes and licensed practice decide.",
    ),
    (
        "landing",
        lambda: walled(side_door(landing_m=0.9)),
        "The side door's landing is 900 mm deep, under the model code's 36 in (914 mm); "
        "local codes and licensed practice decide.",
    ),
    (
        "landing drop",
        lambda: walled(side_door(sill_z_m=0.68)),
        "The side door's landing lies 200 mm below its threshold, over the model code's 7 "
        "3/4 in (197 mm); local codes and licensed practice decide.",
    ),
    (
        "side door guard",
        lambda: walled(side_door(riser_m=0.16, risers=5, sill_z_m=0.9)),
        "The side door's landing is 800 mm above the ground and its edge is open: over 30 "
        "in (762 mm) a guard is required; local codes and licensed practice decide.",
    ),
    (
        "egress door",
        lambda: walled(leaf(0.8, 2.1)),
        "The widest door opens about 750 mm by 2.100 m clear; one door of a house wants 813"
        " mm by 1.981 m; local codes and licensed practice decide.",
    ),
    (
        "wide leaf",
        lambda: walled(leaf(1.1, 2.4)),
        "The entrance is one leaf 1.100 m wide; over 3 ft 6 in (1.067 m) the book hangs two.",
    ),
    (
        "door pair",
        lambda: walled(leaf(2.6, 2.6, leaves=2)),
        "The entrance's two leaves take 2.600 m; the book gives a pair 6 ft (1.829 m) to 8 "
        "ft (2.438 m).",
    ),
    (
        "door pair",
        lambda: walled(leaf(1.7, 2.6, leaves=2)),
        "The entrance's two leaves take 1.700 m; the book gives a pair 6 ft (1.829 m) to 8 "
        "ft (2.438 m).",
    ),
    (
        "door proportion",
        lambda: walled(leaf(0.85, 2.1)),
        "The entrance is 0.40 as wide as high, narrower than the book's 0.43 (3:7, small "
        "doors) to 0.50 (1:2, large ones).",
    ),
    (
        "door proportion",
        lambda: walled(leaf(1.05, 2.0)),
        "The entrance is 0.53 as wide as high, wider than the book's 0.43 (3:7, small "
        "doors) to 0.50 (1:2, large ones).",
    ),
    (
        "doorway entablature",
        lambda: framed(entablature=0.5),
        "The entrance's entablature is 0.15 of its column's height, under the 1/5 that the "
        "canons allow.",
    ),
    (
        "doorway order",
        lambda: framed(order="tuscan", of_porch="doric"),
        "The entrance's tuscan is stouter than the porch's doric; the smaller order is more"
        " usually the slighter.",
    ),
    (
        "slender",
        lambda: ordered(diameter_m=0.33),
        "The columns are 1:10.3, slenderer than any canonical order (Tuscan 1:7 to "
        "Corinthian 1:10).",
    ),
    (
        "stout",
        lambda: ordered(diameter_m=0.5),
        "The columns are 1:6.8, stouter than any canonical order (Tuscan 1:7 to Corinthian 1:10).",
    ),
    (
        "shallow entablature",
        lambda: ordered(entablature_m=0.6),
        "The entablature, 600 mm, is 1/5.7 of the column's height: too shallow to seem to "
        "carry. The canons give 1/5 to 1/4, 680 mm to 850 mm.",
    ),
    (
        "deep entablature",
        lambda: ordered(entablature_m=0.95),
        "The entablature, 950 mm, is 1/3.6 of the column's height, deeper than the canons' "
        "1/4, 850 mm.",
    ),
    (
        "wide spacing",
        lambda: spaced(2.0, 2.6, 2.0),
        "The widest clear spacing is 4.2 diameters, wider even than araeostyle (4 by later "
        "convention) and diastyle (3).",
    ),
    (
        "araeostyle",
        lambda: spaced(2.0, 2.3, 2.0),
        "The widest clear spacing is 3.6 diameters, beyond diastyle (3): araeostyle, which "
        "wants beams of timber.",
    ),
    (
        "close spacing",
        lambda: spaced(1.2, 1.6, 1.2),
        "The narrowest clear spacing is 1.4 diameters, closer than pycnostyle (1.5).",
    ),
    (
        "couples",
        lambda: coupled(0.8, 2.0),
        "The couples stand 0.60 diameters clear and 3.00 from each other; Ware's coupled "
        "columns stand 0.5 clear and 3.5 apart.",
    ),
    (
        "couples",
        lambda: coupled(0.7, 3.2),
        "The couples stand 0.40 diameters clear and 5.40 from each other; Ware's coupled "
        "columns stand 0.5 clear and 3.5 apart.",
    ),
    (
        "porch off the bays",
        lambda: aside(1.2),
        "The porch's middle stands 1.200 m to the right of the front's and matches no bay, "
        "nor the middle between two: the nearest is 800 mm away, so that columns and "
        "openings fall out of step.",
    ),
    (
        "porch off the bays",
        lambda: aside(-4.4),
        "The porch's middle stands 4.400 m to the left of the front's and matches no bay, "
        "nor the middle between two: the nearest is 400 mm away, so that columns and "
        "openings fall out of step.",
    ),
    (
        "porch off centre",
        lambda: aside(2.0, bays=(-6.0, -2.0, 2.0, 6.0)),
        "The front's 4 bays stand alike to both sides of its middle and the porch does not:"
        " it is 2.000 m to the right of the front's.",
    ),
    (
        "door off the porch",
        lambda: aside(2.0, door_at(0.0)),
        "The entrance stands 2.000 m from the porch's middle, beside its columns: the porch"
        " shelters wall and not the door.",
    ),
    (
        "door off the porch",
        lambda: aside(2.0, door_at(-2.4)),
        "The entrance stands 4.400 m from the porch's middle, beside its columns: the porch"
        " shelters wall and not the door.",
    ),
    (
        "even bays",
        lambda: bayed(-3.0, -1.0, 1.0, 3.0),
        "The front has 4 bays: none in the middle for the door to stand in.",
    ),
    (
        "no middle bay",
        lambda: bayed(-3.0, 1.0, 3.0),
        "No bay stands in the middle of the front, where the porch's steps lead.",
    ),
    (
        "wide wing",
        lambda: winged(wing(width_m=15.0)),
        "The left wing is 15.000 m wide, more than the main block's 14.000 m: which of the "
        "two leads?",
    ),
    (
        "leading wing",
        lambda: winged(ahead()),
        "The wing before the front is 9.600 m wide and 2.500 m out, beside a porch of 9.420"
        " m and 2.400 m: the nearest and widest gable is read first, and here it is not the"
        " one over the door.",
    ),
    (
        "high wing",
        lambda: winged(wing(wall_top_z_m=6.2)),
        "The left wing's walls are 5.500 m high beside 6.300 m: a wing is plainly lower "
        "than the main block, 0.85 of it at most.",
    ),
    (
        "flush wing",
        lambda: winged(wing(set_back_m=0.8)),
        "The left wing stands 800 mm back, less than 3 ft (914 mm): too little to give the "
        "main block its own corner and shadow.",
    ),
    (
        "upper order wide",
        lambda: superposed(0.5),
        "The upper columns are 1.19 times as wide at the foot as the lower at the neck; an "
        "order that stands on another is at most as wide.",
    ),
    (
        "upper order stout",
        lambda: superposed(0.4, "tuscan", "doric"),
        "The tuscan stands over the doric: the stouter order belongs below.",
    ),
    (
        "arch proportion",
        lambda: arcaded(2.0, 3.6),
        "An arch of the arcade is 1.80 times as high as wide, lower than the 2.00 of "
        "Vignola's Tuscan arcade.",
    ),
    (
        "arch proportion",
        lambda: arcaded(2.0, 4.4),
        "An arch of the arcade is 2.20 times as high as wide, higher than the 2.00 of "
        "Vignola's Tuscan arcade.",
    ),
    (
        "slight piers",
        lambda: arcaded(2.0, 4.0, pier_m=0.7),
        "The arcade's piers are 700 mm broad, less than the 3 modules, 750 mm, of "
        "Vignola's; an arch thrusts sideways, and whether they carry it is for an engineer.",
    ),
    (
        "pier in the middle",
        lambda: arcaded(2.0, 4.0, arches=2),
        "The arcade has 2 arches, so that a pier stands in the middle of the front; an odd "
        "number would open there.",
    ),
    (
        "arches thrust",
        lambda: arcaded(2.0, 4.0),
        "Arches push outwards: the end piers and what ties them want an engineer, whether "
        "they are masonry or framed and cased; local codes and licensed practice decide.",
    ),
    (
        "foundation reveal",
        lambda: design(ground=GroundDesign(back=0.07), **METRIC),
        "The house's floor is 70 mm over the ground at its highest: the foundation wants to"
        " show 6 in (152 mm); local codes and licensed practice decide.",
    ),
    (
        "lowest riser",
        lambda: design(ground=GroundDesign(along=0.01), **METRIC),
        "The ground slopes across the foot of the porch's steps: their lowest riser is 13 "
        "mm higher at one end than at the middle and as much lower at the other. Risers may"
        " differ by 3/8 in (10 mm): the walk wants levelling at the foot; local codes and "
        "licensed practice decide.",
    ),
    (
        "ground drainage",
        lambda: design(ground=GroundDesign(along=0.025), **METRIC),
        "The ground falls towards the right wall at 1 in 40, and brings water to it. The "
        "model code asks for a fall away from the house of 6 in in the first 10 ft, or "
        "swales and drains that lead it round; the picture shows the plain slope; local "
        "codes and licensed practice decide.",
    ),
]

# and designs at the other side of the same, of which it is not
QUIET: list[tuple[str, Callable[[], Design]]] = [
    ("uneven heads", lambda: walled(window_at(-3.0), window_at(3.0, 1.42))),
    ("uneven heads", lambda: walled(window_at(-3.0), window_at(3.0, 1.9, wall="left"))),
    ("uneven heads", lambda: walled(window_at(-3.0), above(height_m=1.5))),
    (
        "mixed heads",
        lambda: walled(headed("segmental arch", -3.0), headed("segmental arch", 3.0), window_at()),
    ),
    (
        "mixed heads",
        lambda: walled(headed("segmental arch", -3.0), headed("jack arch", 3.0, wall="left")),
    ),
    ("masonry heads", lambda: walled(headed("elliptical casing"), walls="clapboard")),
    ("masonry heads", lambda: walled(headed("segmental arch", wall="left"), walls="clapboard")),
    ("no graduation", lambda: walled(window_at(), above(height_m=1.88))),
    ("tall windows", lambda: walled(window_at(width_m=0.8, filling="tripartite"))),
    ("tall windows", lambda: walled(window_at(width_m=0.9))),
    ("squat windows", lambda: walled(window_at(width_m=1.6, filling="tripartite"))),
    (
        "masked openings",
        lambda: walled(window_at(0.75), window_at(-1.5, storey=1), window_at(-1.5, wall="left")),
    ),
    ("masked openings", lambda: walled(window_at(-1.5, 4.6))),
    (
        "shutters that do not close",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred", leaf_m=0.5))),
    ),
    (
        "shutters that do not close",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred", leaf_m=0.55))),
    ),
    ("shutters under an arch", lambda: walled(headed("segmental arch"))),
    (
        "wide shutters",
        lambda: walled(window_at(width_m=1.6, shutters=ShuttersDesign("louvred", leaf_m=0.7))),
    ),
    (
        "shutters on fixed glass",
        lambda: walled(window_at(shutters=ShuttersDesign("louvred")), pane()),
    ),
    (
        "hold-backs beside the leaf",
        lambda: walled(
            window_at(
                0.0, 0.7, kind=FloorWindow, shutters=ShuttersDesign("louvred", hold_backs="beside")
            )
        ),
    ),
    ("hold-backs beside the leaf", lambda: walled(window_at(shutters=ShuttersDesign("louvred")))),
    ("picture windows", lambda: walled(pane(wall="left"))),
    ("window to the floor", lambda: walled(window_at(3.9, 0.7, kind=FloorWindow))),
    ("window to the floor", lambda: walled(window_at(-3.9, 0.7, kind=FloorWindow))),
    ("safety glazing", lambda: walled(pane(0.0, 0.9, width_m=0.9, height_m=0.9))),
    ("safety glazing", lambda: walled(pane(0.0, 1.1, width_m=1.6, height_m=1.6))),
    ("window fall", lambda: walled(above(sill_z_m=4.6))),
    ("window fall", lambda: walled(window_at(0.0, 1.2))),
    ("escape window", lambda: walled(above(height_m=2.4, width_m=1.4))),
    ("escape window", lambda: walled(window_at(height_m=1.0, width_m=0.7))),
    ("escape window", lambda: walled(above(sill_z_m=5.11, height_m=2.4, width_m=1.4))),
    ("dormer escape", lambda: dormered(replace(DORMER, width_m=1.3, height_m=2.0))),
    ("heavy dormers", lambda: dormered(DORMER, window_at())),
    (
        "heavy dormers",
        lambda: dormered(DORMER, window_at(wall="left", width_m=0.4, height_m=0.4), window_at()),
    ),
    ("dormers off the bays", lambda: dormered(replace(DORMER, centres_m=(-2.0, 0.04, 4.0)))),
    ("steep pediment", lambda: roofed("pediment", 0.505)),
    ("steep pediment", lambda: roofed("gable", 0.6)),
    ("roof pitch", lambda: under(0.21, "barrel tile")),
    ("roof pitch", lambda: under(0.34, "slate")),
    ("roof pitch", lambda: under(0.26, "wood shingle")),
    ("roof pitch", lambda: under(0.1, "standing seam")),
    ("roof pitch", lambda: under(0.02, "plain")),
    ("roof pitch", lambda: roofed("hipped", 0.1, covering="standing seam")),
    ("tile underlayment", lambda: under(0.34, "plain tile")),
    ("tile underlayment", lambda: under(0.2, "plain tile")),
    ("tile underlayment", lambda: under(0.3, "slate")),
    ("tile underlayment", lambda: roofed("hipped", 0.25, covering="slate")),
    ("flat roof", lambda: design(porch=porch(), **METRIC)),
    ("flat roof", lambda: roofed("hipped", 0.3)),
    ("low chimney", lambda: chimney(1.6)),
    ("guard missing", lambda: design(porch=porch(floor_z_m=0.8, guard=guard()), **METRIC)),
    ("guard low", lambda: design(porch=porch(guard=guard(0.92)), **METRIC)),
    (
        "guard between couples",
        lambda: design(
            porch=porch(guard=guard(), couple_axis_m=0.6, axes_m=(-2.1, -1.5, 1.5, 2.1)), **METRIC
        ),
    ),
    (
        "guard between couples",
        lambda: design(porch=porch(couple_axis_m=0.7, axes_m=(-2.2, -1.5, 1.5, 2.2)), **METRIC),
    ),
    ("guard gaps", lambda: design(porch=porch(guard=guard()), **METRIC)),
    ("balustrade no guard", lambda: design(porch=porch(balustrade=guard(1.0)), **METRIC)),
    (
        "roof flat open",
        lambda: design(
            roof=DeckRoof(0.4, 0.05, "slate", "slate", deck_run_m=2.0, deck_balustrade=guard()),
            **METRIC,
        ),
    ),
    (
        "roof balustrade no guard",
        lambda: design(
            roof=DeckRoof(
                0.4,
                0.05,
                "slate",
                "slate",
                deck_run_m=2.0,
                deck_balustrade=replace(guard(), baluster_spacing_m=0.15, filling="parapet"),
            ),
            **METRIC,
        ),
    ),
    ("doorway entablature", lambda: framed(entablature=0.68)),
    ("doorway order", lambda: framed(order="doric", of_porch="tuscan")),
    ("doorway order", lambda: framed()),
    ("slender", lambda: ordered(diameter_m=0.335)),
    ("stout", lambda: ordered(diameter_m=0.49)),
    ("shallow entablature", lambda: ordered(entablature_m=0.67)),
    ("deep entablature", lambda: ordered(entablature_m=0.93)),
    ("wide spacing", lambda: spaced(2.0, 2.53, 2.0)),
    ("araeostyle", lambda: spaced(2.0, 2.02, 2.0)),
    ("araeostyle", lambda: spaced(2.0, 2.6, 2.0)),
    ("close spacing", lambda: spaced(1.24, 1.6, 1.24)),
    ("couples", lambda: coupled(0.75, 2.0)),
    ("couples", lambda: design(porch=porch(), **METRIC)),
    ("porch off the bays", lambda: aside(2.04)),
    ("porch off the bays", lambda: aside(4.0)),
    ("porch off the bays", lambda: aside(0.0, bays=(-3.0, 3.0))),
    ("porch off centre", lambda: aside(2.0)),
    ("porch off centre", lambda: aside(2.0, bays=(-6.0, -2.0, 2.0, 6.2))),
    ("porch off centre", lambda: aside(0.0, bays=(-6.0, -2.0, 2.0, 6.0))),
    ("door off the porch", lambda: aside(2.0, door_at(2.04))),
    ("door off the porch", lambda: aside(2.0)),
    ("even bays", lambda: bayed(-3.0, 0.0, 3.0)),
    ("even bays", lambda: bayed()),
    ("no middle bay", lambda: bayed(-3.0, 0.0, 3.0)),
    ("no middle bay", lambda: bayed(1.0)),
    ("wide wing", lambda: winged(wing(width_m=13.9))),
    ("leading wing", lambda: winged(ahead(9.3, 2.5))),
    ("leading wing", lambda: winged(ahead(9.6, 2.3))),
    ("leading wing", lambda: winged(wing(width_m=9.6))),
    ("high wing", lambda: winged(wing(wall_top_z_m=6.0))),
    ("flush wing", lambda: winged(ahead())),
    ("upper order wide", lambda: superposed(0.42)),
    ("upper order stout", lambda: superposed(0.4, "doric", "tuscan")),
    ("upper order stout", lambda: superposed(0.4)),
    ("arch proportion", lambda: arcaded(2.0, 3.82)),
    ("arch proportion", lambda: arcaded(2.0, 4.18)),
    ("slight piers", lambda: arcaded(2.0, 4.0, pier_m=0.72)),
    ("pier in the middle", lambda: arcaded(2.0, 4.0)),
    ("wide spacing", lambda: design(porch=arcaded(2.0, 4.0).porch, **METRIC)),
]


def told(made: Design, key: str) -> list[str]:
    return [f.text for f in findings(made) if f.key == key]


@pytest.mark.parametrize(
    ("key", "made", "text"), SAID, ids=[f"{k} {key}" for k, (key, *_) in enumerate(SAID)]
)
def test_a_remark_says_its_figures(key: str, made: Callable[[], Design], text: str) -> None:
    assert told(made(), key)[:1] == [text]


@pytest.mark.parametrize(
    ("key", "made"), QUIET, ids=[f"{k} {key}" for k, (key, _) in enumerate(QUIET)]
)
def test_a_remark_is_silent_within_its_limit(key: str, made: Callable[[], Design]) -> None:
    assert not told(made(), key)


# --- beside the house, and over it ---------------------------------------------------------------


def at_side(kind: str = "porch", *doors: Opening, **changes: Any) -> Design:
    """A porch on the left side, of two columns 3 m apart about its middle, 2.6 m deep."""
    fill = {name: changes.pop(name) for name in ("fill", "upper_fill") if name in changes}
    base: dict[str, Any] = {"axes_m": (-1.5, 1.5), "axis_depth_m": 2.6}
    one = porch(**{**base, **changes})
    side = SidePorchDesign("left", kind, one, **{"fill": "open", "upper_fill": "open", **fill})
    return replace(design(doors, **METRIC), side_porches=(side,))


def left_door(along_m: float = 0.0) -> Opening:
    return door_at(along_m, wall="left", place="side door")


@pytest.mark.parametrize(
    ("key", "made", "text"),
    [
        (
            "side porch without a door",
            lambda: at_side(),
            "No door opens on the left porch: house.side_door puts one there.",
        ),
        (
            "side porch without a door",
            lambda: at_side("porch", left_door(1.6)),
            "No door opens on the left porch: house.side_door puts one there.",
        ),
        (
            "side porch without a door",
            lambda: at_side("porte-cochere"),
            "No door opens under the left porte-cochere, where one would be set down in the dry.",
        ),
        (
            "side cornice off the front's",
            lambda: at_side("porch", left_door(), floor_z_m=0.9),
            "The left porch's cornice lies 260 mm above the front porch's: so near they are seen "
            "as meant to be level.",
        ),
        (
            "side cornice off the front's",
            lambda: at_side("porch", left_door(), floor_z_m=0.44),
            "The left porch's cornice lies 200 mm below the front porch's: so near they are seen "
            "as meant to be level.",
        ),
        (
            "riser",
            lambda: at_side("porch", left_door(), flight=flight(riser_m=0.2)),
            "Left porch: the risers are 200 mm, over the model code's 7 3/4 in (197 mm); local "
            "codes and licensed practice decide.",
        ),
    ],
)
def test_what_is_said_of_a_porch_at_a_side(key: str, made: Callable[[], Design], text: str) -> None:
    assert told(made(), key) == [text]


@pytest.mark.parametrize(
    ("key", "made"),
    [
        ("side porch without a door", lambda: at_side("porch", left_door(1.4))),
        ("side porch without a door", lambda: at_side("porte-cochere", left_door(3.0))),
        ("side cornice off the front's", lambda: at_side("porch", left_door())),
        ("side cornice off the front's", lambda: at_side("porch", left_door(), floor_z_m=1.6)),
        ("shallow side porch", lambda: at_side("porch", left_door())),
        ("shallow side porch", lambda: at_side("porte-cochere", left_door(), axis_depth_m=1.5)),
        ("riser", lambda: at_side("porte-cochere", left_door(), flight=None)),
        ("screens no guard", lambda: at_side("porch", left_door())),
    ],
)
def test_a_porch_at_a_side_is_let_be(key: str, made: Callable[[], Design]) -> None:
    assert not told(made(), key)


def test_a_shallow_side_porch_and_a_screened_one() -> None:
    [text] = told(at_side("porch", left_door(), axis_depth_m=1.5), "shallow side porch")
    assert text.startswith("The left porch is 1.500 m deep: under ")
    upper = porch(axes_m=(-1.5, 1.5), axis_depth_m=2.6, floor_z_m=4.9)
    screened = at_side("porch", left_door(), upper=upper, upper_fill="screens")
    [text] = told(screened, "screens no guard")
    assert text.startswith("The left porch's sleeping porch is closed by screens alone: over 30 in")
    guarded = replace(upper, guard=guard())
    safe = at_side("porch", left_door(), upper=guarded, upper_fill="screens")
    assert not told(safe, "screens no guard")
    bare = at_side("porch", left_door(), upper=upper)
    assert not told(bare, "screens no guard")


@pytest.mark.parametrize(
    ("gables", "keys"),
    [
        ([(4.0, 4.0, 0.5)], set()),
        ([(2.0, 4.0, 0.5)], set()),
        ([(3.0, 4.0, 0.5)], {"gable off the bays"}),
        ([(4.04, 4.0, 0.5)], set()),
        ([(4.06, 4.0, 0.5)], {"gable off the bays"}),
        ([(4.0, 4.0, 0.75)], {"gable pitch"}),
        ([(-4.0, 2.0, 0.5), (4.0, 2.0, 0.5)], set()),
        ([(-4.0, 3.0, 0.5), (4.0, 3.0, 0.5)], {"many gables"}),
        ([(4.0, 7.0, 0.5)], set()),
    ],
)
def test_gables_over_a_front(gables: list[tuple[float, float, float]], keys: set[str]) -> None:
    """Half of 14 m is 7; its eaves go past a gable's wall by 30 mm, 300 of cornice, 50 of roof."""
    made = tuple(CrossGable("front", x, w, s, "returns") for x, w, s in gables)
    roof = HipRoof(0.5, 0.05, "slate", "slate", gables=made)
    said = {f.key for f in findings(design(roof=roof, **METRIC))}
    assert said & {"gable off the bays", "gable pitch", "many gables"} == keys
    back = replace(roof, gables=tuple(replace(g, wall="back") for g in made))
    behind = {f.key for f in findings(design(roof=back, **METRIC))}
    assert not behind & {"gable off the bays", "many gables"}


# --- figures of what not every porch has ----------------------------------------------------------


def test_an_arcade_s_figures() -> None:
    """The widest, the highest, the slimmest; its own axis of 6 1/2 and 3 modules: 3.75 D clear."""
    made = arcaded(2.0, 4.0)
    arcade = made.porch.arcade
    assert arcade is not None
    uneven = replace(
        arcade, bays=(ArchBay(-3.0, 2.0, 3.0), ArchBay(0.0, 2.4, 2.9), ArchBay(3.0, 1.6, 3.4))
    )
    told_of = {
        f.key: f for f in figures(replace(made, porch=replace(made.porch, arcade=uneven)), [])
    }
    assert told_of["arch_clear"].value == 2.4
    assert told_of["arch_height"].value == pytest.approx(3.4 + 0.8)
    assert told_of["arch_ratio"].value == pytest.approx(4.2 / 1.6)
    assert told_of["pier_breadth"].value == 0.75
    assert told_of["books_clear"].value == pytest.approx(9.5 / 2 - 1)
    assert "9.5 modules from axis to axis of an arcade by Vignola" in told_of["books_clear"].note
    on_pedestals = replace(made.porch.order, pedestal=(Member("die", "fillet", 0.8, 0.4, 0.4),))
    high = replace(made, porch=replace(made.porch, order=on_pedestals))
    clear = {f.key: f.value for f in figures(high, [])}["books_clear"]
    assert clear == pytest.approx((8.75 + 4) / 2 - 1)
    bare = {f.key for f in figures(design(**METRIC), [])}
    assert not bare & {"arch_clear", "arch_height", "arch_ratio", "pier_breadth"}


def test_words_of_figures_are_of_what_stands_there() -> None:
    def named(made: Design) -> dict[str, tuple[str, str]]:
        return {f.key: (f.name, f.note) for f in figures(made, [])}

    columns = named(design(**METRIC))
    assert columns["porch_depth"][1] == "wall face to column axis"
    assert columns["columns"][0] == "Columns across the front"
    piers = named(ordered(square=True))
    assert piers["porch_depth"][1] == "wall face to pier axis"
    assert piers["columns"][0] == "Piers across the front"
    assert (columns["diameter"][0], piers["diameter"][0]) == ("Lower diameter", "Width")
    straight = porch()
    fields = {
        name: getattr(straight, name)
        for name in ("order", "axes_m", "floor_z_m", "floor_edge_m", "flight", "roof", "roof_pitch")
    }
    recessed = RecessedPorch(**fields, recess_depth_m=2.4, anta_axis_m=6.0)
    within = named(design(porch=recessed, **METRIC))
    assert within["porch_depth"][1] == "front wall's face to the wall behind"
    off = named(aside(2.0))
    assert off["porch_off_centre"][1] == "to the right of the front's"
    assert named(aside(-2.0))["porch_off_centre"][1] == "to the left of the front's"
    assert named(aside(0.5))["porch_off_centre"][1] == "to the right of the front's"
    assert "porch_off_centre" not in columns
    two = named(superposed(0.4))
    assert two["upper_diameter"][0] == "Above: lower diameter"


def test_what_a_window_s_figures_are_called() -> None:
    made = walled(window_at(width_m=1.0, height_m=2.0), above(width_m=1.0, height_m=1.5))
    rows = {f.key: f for f in figures(made, [])}
    assert rows["window_height_0"].name == "Window height, ground floor"
    assert rows["window_shape_1"].name == "Window height to width, first floor"
    assert rows["graduation_0"].name == "Upper to lower window height"
    assert {rows[k].note for k in ("window_height_0", "window_shape_0")} == {"opening"}
    assert rows["graduation_0"].note == "graduation"


def test_shadows_are_told_of_both_orders() -> None:
    light = sun()
    rows = {f.key: f for f in figures(superposed(0.4), [light])}
    below = [key for key in rows if "shadow" in key and not key.startswith("upper_")]
    assert below
    for key in below:
        assert f"upper_{key}" in rows
        assert rows[f"upper_{key}"].name.startswith("Above: ")
