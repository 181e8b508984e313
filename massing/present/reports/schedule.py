"""The builder's schedule of sizes: every member with its height and projection.

Every size is in whole steps of the builder's fraction (1/16 in or 1 mm, unless the scene says
otherwise). An order is rounded member by member (:func:`massing.canon.rounded`), other heights
as differences of rounded running heights, so that rounded figures add up to their rounded total.
"""

from __future__ import annotations

import io
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from massing.build.porch import entablature_of
from massing.canon import FittedOrder, Member
from massing.canon import rounded as rounded_order
from massing.canon.arcades import archivolt_members, impost_members
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.opening import LandingDesign, Opening, SurroundDesign
from massing.design.porch import BalustradeDesign, PorchDesign, RecessedPorch, SemicircularPorch
from massing.design.roof import DeckRoof, GambrelRoof
from massing.parts.orders.column import shaft_profile
from massing.parts.orders.ornament import gutta
from massing.parts.part import Part
from massing.practice.cautions import comment
from massing.practice.joinery_sizes import RAIL_HEIGHT_M, head_reach, hood_cornice
from massing.present.names import CsvTable
from massing.settingout.cross_roofs import cornice_out_m, half_m
from massing.units import INCH_M, floor_name, format_feet_inches, format_metric, whole_steps


@dataclass(frozen=True)
class Size:
    """One row: lengths in metres, already rounded to the builder's fraction.

    Attributes:
        group: what it belongs to, e.g. ``Column: capital``.
        item: the member's name.
        count: how many are alike.
        height_m: its own height, and ``top_m`` its upper edge over ``datum``.
        across_m: width, projection or spacing, as ``across_of`` says.
    """

    group: str
    item: str
    count: int
    height_m: float | None = None
    top_m: float | None = None
    datum: str = ""
    across_m: float | None = None
    across_of: str = ""


def schedule(design: Design) -> list[Size]:
    """Every size of a design that a builder sets out, ground to ridge."""
    step = design.rounding_m
    return [
        *_levels(design, step),
        *_ground(design, step),
        *_porch_floor(design, step),
        *_setting_out(design, step),
        *_order(design.porch, design.house, "", step, carried=design.porch.upper is None),
        *(
            _order(design.porch.upper, design.house, "Above", step, carried=True)
            if design.porch.upper
            else ()
        ),
        *_eaves(design, step),
        *_corner_pilasters(design, step),
        *_roof(design, step),
        *_openings(design, step),
        *_heads(design, step),
        *_doors(design, step),
        *_dormers(design, step),
        *_wings(design, step),
    ]


def rounded(length_m: float, step_m: float) -> float:
    """The length to the nearest builder's fraction."""
    return whole_steps(length_m, step_m) * step_m


def _stacked(
    group: str,
    members: Iterable[Member],
    foot_m: float,
    datum: str,
    count: int,
    step: float,
    across: str,
) -> list[Size]:
    """Members standing on one another from ``foot_m`` over the datum."""
    rows = []
    running = foot_m
    for member in members:
        below = rounded(running, step)
        running += member.height
        top = rounded(running, step)
        of = "side" if member.square and across == "diameter" else across
        reach = 2.0 * member.reach if across == "diameter" else member.reach
        rows.append(
            Size(group, member.name, count, top - below, top, datum, rounded(reach, step), of)
        )
    return rows


def _levels(design: Design, step: float) -> list[Size]:
    house = design.house
    tops = [*house.storey_floors_z_m, house.wall_top_z_m]
    floors = range(len(house.storey_floors_z_m))
    labels = [*(floor_name(i, design.units).capitalize() for i in floors), "Wall top"]
    rows = []
    before = 0.0
    for label, level in zip(labels, tops, strict=True):
        top = rounded(level, step)
        rows.append(Size("House: levels", label, 1, top - before, top, "the ground"))
        before = top
    plan = (("Front", house.width_m), ("Side", house.depth_m), ("Wall", house.wall_thickness_m))
    for label, length in plan:
        of = "thickness" if label == "Wall" else "width"
        rows.append(Size("House: plan", label, 1, across_m=rounded(length, step), across_of=of))
    return rows


def _ground(design: Design, step: float) -> list[Size]:
    """Sloping ground at the corners of the house, over that at the middle of its front."""
    lie, house = design.site.ground, design.house
    if lie.level:
        return []
    half, depth = house.width_m / 2.0, house.depth_m
    corners = {
        "Front left": (-half, 0.0),
        "Front right": (half, 0.0),
        "Back left": (-half, depth),
        "Back right": (half, depth),
    }
    of = "the ground at the middle of the front"
    return [
        Size("House: ground", name, 1, None, rounded(float(lie.z_m(*at)), step), of)
        for name, at in corners.items()
    ]


def _porch_floor(design: Design, step: float) -> list[Size]:
    porch = design.porch
    steps, group = porch.steps, "Porch: floor and steps"
    floor = rounded(porch.floor_z_m, step)
    depth = porch.back_y_m - porch.column_y_m + porch.floor_edge_m
    rail = rounded(RAIL_HEIGHT_M, step)
    railed = steps.rail != "none"
    return [
        Size(group, "Floor", 1, floor, floor, "the ground", rounded(depth, step), "wall to edge"),
        Size(
            group,
            "Step",
            steps.risers,
            rounded(steps.riser_m, step),
            across_m=rounded(steps.tread_m, step),
            across_of="tread",
        ),
        Size(
            group,
            "Flight",
            1,
            rounded(steps.top_z_m - steps.foot_z_m, step),
            across_m=rounded(steps.width_m, step),
            across_of="width",
        ),
        *([Size(group, f"Rail, {steps.rail}", 2, rail, rail, "the nosings")] if railed else []),
    ]


def _corner_pilasters(design: Design, step: float) -> list[Size]:
    """The three parts of a corner pilaster, from its floor; one on each face of a corner."""
    house = design.house
    order = house.corner_pilasters
    if order is None:
        return []
    feet = [0.0, order.base_height_m, order.base_height_m + order.shaft_height_m]
    tops = [*feet[1:], order.column_height_m]
    wide = (order.foot_width_m, order.upper_diameter_m, order.upper_diameter_m)
    datum = f"the {floor_name(0, design.units)}"
    rows = []
    for item, foot, top_m, across in zip(
        ("base", "shaft", "capital"), feet, tops, wide, strict=True
    ):
        top = rounded(top_m, step)
        height, width = top - rounded(foot, step), rounded(across, step)
        of = "plinth" if item == "base" else "shaft's face"
        rows.append(Size("House: corner pilasters", item, 4, height, top, datum, width, of))
    return rows


def _setting_out(design: Design, step: float) -> list[Size]:
    porch, group = design.porch, "Porch: setting out"
    rows = [
        Size(
            group,
            "Column axis from the wall",
            1,
            across_m=rounded(porch.back_y_m - porch.column_y_m, step),
            across_of="axis",
        )
    ]
    for i, axis in enumerate(porch.axes_m):
        where = rounded(axis, step)
        side = "left of the middle" if where < 0 else "right of the middle"
        item = f"Axis {i + 1}, {side if where else 'in the middle'}"
        rows.append(Size(group, item, 1, across_m=abs(where), across_of="axis"))
    curved = isinstance(porch, SemicircularPorch)
    axes = [rounded(axis, step) for axis in porch.axes_m]
    for i, (chord, (a, b)) in enumerate(zip(porch.gaps_m, pairwise(axes), strict=True)):
        gap = rounded(chord, step) if curved else b - a
        rows.append(
            Size(group, f"Axes {i + 1} to {i + 2}", 1, across_m=gap, across_of="axis to axis")
        )
    if isinstance(porch, RecessedPorch):
        anta = rounded(porch.anta_axis_m, step)
        rows.append(
            Size(group, "Anta's middle from the middle", 2, across_m=anta, across_of="axis")
        )
    if porch.couple_axis_m:
        pair = rounded(porch.couple_axis_m, step)
        rows.append(Size(group, "Each couple", 1, across_m=pair, across_of="axis to axis"))
    if porch.breaks_forward_m:
        out = rounded(porch.breaks_forward_m, step)
        item = "Entablature over each column"
        rows.append(Size(group, item, 1, across_m=out, across_of="before the run between"))
    for k, y in enumerate(porch.return_axes_m):
        item = f"Axis {k + 1} of each return, from the wall"
        rows.append(Size(group, item, 2, across_m=rounded(-y, step), across_of="axis"))
    return rows


def _order(
    porch: PorchDesign, house: HouseDesign, lead: str, step: float, *, carried: bool
) -> list[Size]:
    """Column, entablature and balustrades of one order; ``lead`` names it in the groups."""
    order = rounded_order(porch.order, step)
    rows = [
        *_column(order, len(porch.perimeter_axes_m), step),
        *_entablature(order, step),
        *_arcade(porch, step),
        *_ornaments(porch, house, step, carried=carried),
        *_responds(porch, order, step),
        *_blocking_course(porch, step),
        *_balustrade("Balustrade over the entablature", porch.balustrade, step),
        *_balustrade("Guard between the columns", porch.guard, step),
    ]
    if not lead:
        return rows
    group = "{}: {}".format
    return [
        replace(
            row,
            group=group(lead, row.group[:1].lower() + row.group[1:]),
            datum=row.datum.replace("the porch floor", "the upper floor"),
        )
        for row in rows
    ]


def _arcade(porch: PorchDesign, step: float) -> list[Size]:
    """Piers and arches, from the porch floor."""
    design, group, datum = porch.arcade, "Arcade", "the porch floor"
    if design is None:
        return []
    count = len(design.bays)

    def size(item: str, count: int, high: float, top: float, across: float, of: str) -> Size:
        sizes = [rounded(x, step) for x in (high, top, across)]
        return Size(group, item, count, sizes[0], sizes[1], datum, sizes[2], of)

    first = design.bays[0]
    rows = [
        size("Pier", count + 1, first.spring_m, first.spring_m, design.pier_m, "breadth"),
        size("Pier's depth", count + 1, first.spring_m, first.spring_m, design.thick_m, "depth"),
        size("Plinth", count + 1, design.plinth_m, design.plinth_m, design.pier_m, "of the pier"),
    ]
    foot = first.spring_m - design.impost_m
    for member in design.impost:
        foot += member.height
        rows.append(size(f"Impost: {member.name}", count + 1, member.height, foot, member.reach,
                         "from the pier"))  # fmt: skip
    for k, bay in enumerate(design.bays):
        name = f"Arch {k + 1} from the left"
        rows.append(size(name, 1, bay.crown_m, bay.crown_m, bay.clear_m, "between piers"))
        middle = rounded(bay.middle_m, step)
        rows.append(Size(group, f"{name}: middle", 1, across_m=middle, across_of="of the front"))
    for member in design.archivolt:
        sizes = [rounded(x, step) for x in (member.height, member.reach)]
        rows.append(Size(group, f"Archivolt: {member.name}", count, sizes[0], across_m=sizes[1],
                         across_of="from the pier"))  # fmt: skip
    return rows


def _column(order: FittedOrder, count: int, step: float) -> list[Size]:
    datum = "the porch floor"
    across = "side" if order.square else "diameter"
    stand = _stacked("Pedestal", order.pedestal, 0.0, datum, count, step, "diameter")
    foot = order.pedestal_height_m
    base = _stacked("Column: base", order.base, foot, datum, count, step, "diameter")
    foot += order.base_height_m
    top = rounded(foot + order.shaft_height_m, step)
    ends = sum(m.height for m in order.shaft_foot), sum(m.height for m in order.shaft_head)
    thick = rounded(order.foot_diameter_m, step)
    ending = _stacked(
        "Column: shaft", order.shaft_head, top - ends[1], datum, count, step, "diameter"
    )
    shaft = [
        *_stacked("Column: shaft", order.shaft_foot, foot, datum, count, step, "diameter"),
        Size(
            "Column: shaft",
            "shaft at the foot",
            count,
            rounded(order.shaft_height_m - sum(ends), step),
            rounded(top - ends[1], step),
            datum,
            thick,
            across,
        ),
        *(replace(s, item=s.item.replace("fillet", "neck fillet")) for s in ending),
        *_swelling(order, count, foot, datum, step),
        Size(
            "Column: shaft",
            "shaft at the head",
            count,
            across_m=order.upper_diameter_m,
            across_of=across,
        ),
    ]
    if order.flutes:
        pitch = math.pi * order.diameter_m / order.flutes
        kind = "arrises" if order.flute_kind == "arris" else "fillets"
        item = f"flutes of each, between {kind}"
        spread = rounded(pitch, step)
        shaft.append(
            Size("Column: shaft", item, order.flutes, across_m=spread, across_of="round the foot")
        )
    capital = _stacked("Column: capital", order.capital, top, datum, count, step, "diameter")
    whole = Size("Shaft", "whole, with its mouldings", count, order.shaft_height_m, top, datum)
    return [*stand, *base, *shaft, whole, *capital]


def _swelling(order: FittedOrder, count: int, foot_m: float, datum: str, step: float) -> list[Size]:
    """Diameters a third and two thirds of the way up, by the order's entasis."""
    if order.diameter_m == order.upper_diameter_m:
        return []
    height = order.shaft_height_m - sum(m.height for m in order.shaft_head)
    profile = shaft_profile(order)
    rows = []
    for name, part in (("a third up", 1 / 3), ("two thirds up", 2 / 3)):
        radius = float(np.interp(part * height, profile[:, 1], profile[:, 0]))
        at = rounded(foot_m + part * height, step)
        across = rounded(2.0 * radius, step)
        item = f"shaft {name}"
        rows.append(Size("Column: shaft", item, count, None, at, datum, across, "diameter"))
    return rows


def _responds(porch: PorchDesign, order: FittedOrder, step: float) -> list[Size]:
    """Pilasters or half columns on the wall, and the pedestals they stand on."""
    if porch.responds == "none":
        return []
    group, datum, count = "Responds", "the porch floor", 2
    top = order.pedestal_height_m + order.column_height_m
    width = order.upper_diameter_m if porch.responds == "pilasters" else order.foot_diameter_m
    of = "width" if porch.responds == "pilasters" else "diameter at the foot"
    rows = [
        Size(group, porch.responds, count, order.column_height_m, top, datum,
             rounded(width, step), of)
    ]  # fmt: skip
    stand = _stacked("Responds: pedestal", order.pedestal, 0.0, datum, count, step, "diameter")
    return [*stand, *rows]


def _entablature(order: FittedOrder, step: float) -> list[Size]:
    rows = []
    foot = order.pedestal_height_m + order.column_height_m
    for name, members in (
        ("architrave", order.architrave),
        ("frieze", order.frieze),
        ("cornice", order.cornice),
    ):
        rows += _stacked(
            f"Entablature: {name}",
            members,
            foot,
            "the porch floor",
            1,
            step,
            "projection from the frieze",
        )
        foot += sum(m.height for m in members)
    return rows


_ORNAMENTS = {
    "regula": "regulae",
    "triglyph": "triglyphs",
    "dentil": "dentils",
    "mutule": "mutules",
    "modillion": "modillions",
}
_MOST_SPACINGS = 4  # of one ornament that are written down


def _ornaments(porch: PorchDesign, house: HouseDesign, step: float, *, carried: bool) -> list[Size]:
    """What is set along the entablature: sizes by the order, numbers and spacings as built."""
    order, group = porch.order, "On the entablature"
    built = {part.path[-1]: part for part in entablature_of(porch, house, carried=carried)}
    rows = []
    for member in (*order.architrave, *order.frieze, *order.cornice):
        row = member.row
        part = built.get(_ORNAMENTS[row.kind]) if row is not None else None
        if row is None or part is None:
            continue
        wide, out = rounded(row.width, step), rounded(row.reach, step)
        height = rounded(row.height, step)
        rows.append(Size(group, row.kind, part.count, height, None, "", wide, "width"))
        rows.append(
            Size(group, f"{row.kind}'s face", part.count, None, None, "", out,
                 "projection from the frieze")
        )  # fmt: skip
        rows += [
            Size(
                group, f"{_ORNAMENTS[row.kind]} on centres", gaps, None, None, "", gap, "on centres"
            )
            for gap, gaps in _front_spacings(part, step)
        ]
        drops = built.get("guttae" if row.kind == "regula" else f"{row.kind} guttae")
        if row.guttae and drops is not None:
            one = gutta(1.0, 1.0, 1.0)
            each = drops.count * len(drops.mesh.faces) // len(one.faces) // part.count
            item, pitch = f"guttae of each {row.kind}", rounded(row.width / row.guttae, step)
            long = rounded(row.gutta_height, step)
            rows.append(Size(group, item, each, long, None, "", pitch, "on centres"))
    return rows


def _front_spacings(part: Part, step: float) -> list[tuple[float, int]]:
    """Distances on centres of copies along the front with their numbers, the commonest first."""
    if part.placements is None:
        return []
    at = part.placements[:, :2, 3]
    _, which, counts = np.unique(at[:, 1].round(5), return_inverse=True, return_counts=True)
    if counts.max() < 2:  # on a curve no two stand in one line
        return []
    front = np.sort(at[which == np.argmax(counts), 0])
    gaps = Counter(rounded(float(gap), step) for gap in np.diff(front))
    return sorted(gaps.items(), key=lambda pair: -pair[1])[:_MOST_SPACINGS]


def _blocking_course(porch: PorchDesign, step: float) -> list[Size]:
    if not porch.blocking_course_m or porch.upper is not None:
        return []
    foot = rounded(porch.order.column_height_m + porch.order.entablature_height_m, step)
    top = rounded(foot + porch.blocking_course_m, step)
    return [Size("Blocking course", "course", 1, top - foot, top, "the porch floor")]


def _balustrade(group: str, design: BalustradeDesign | None, step: float) -> list[Size]:
    if design is None:
        return []
    rows = []
    running = 0.0
    belly = rounded(design.belly_m, step)
    for item, height, across, of in (
        ("plinth course", design.plinth_m, None, ""),
        ("baluster", design.baluster_m, belly, "belly"),
        ("rail", design.rail_m, None, ""),
    ):
        below = rounded(running, step)
        running += height
        top = rounded(running, step)
        rows.append(Size(group, item, 1, top - below, top, "its foot", across, of))
    spacing = rounded(design.baluster_spacing_m, step)
    rows.append(Size(group, "balusters", 1, across_m=spacing, across_of="axis to axis at the most"))
    if design.pedestal_width_m:
        width = rounded(design.pedestal_width_m, step)
        rows.append(Size(group, "die", 1, across_m=width, across_of="width"))
    return rows


_WINDOWS = {"casement": "casement", "tripartite": "tripartite window", "fixed": "fixed window"}


def _openings(design: Design, step: float) -> list[Size]:
    """Openings of one wall and storey alike in size and height, counted together."""
    floors = design.house.storey_floors_z_m
    alike: dict[tuple[str, str, float, float, float], int] = {}
    for opening in design.house.openings:
        storey = floor_name(opening.storey or 0, design.units)
        height, width = rounded(opening.height_m, step), rounded(opening.width_m, step)
        group = f"House: {opening.wall}, {storey}"
        key = (
            group,
            _WINDOWS.get(opening.filling, opening.kind),
            height,
            width,
            _head(opening, floors, step),
        )
        alike[key] = alike.get(key, 0) + 1
    return [
        Size(group, kind, count, height, head, "its floor", width, "width of opening")
        for (group, kind, height, width, head), count in alike.items()
    ]


def _heads(design: Design, step: float) -> list[Size]:
    """What frames or spans the windows, one row a kind and width; hoods member by member."""
    alike: dict[tuple[str, float, float], int] = {}
    for opening in design.house.openings:
        if opening.kind != "door":
            key = (opening.head, rounded(opening.width_m, step), rounded(opening.rise_m, step))
            alike[key] = alike.get(key, 0) + 1
    rows = []
    for (head, width, rise), count in alike.items():
        beside, above = (rounded(reach, step) for reach in head_reach(width, head))
        group = f"Window heads: {head}"
        of = "each side of the opening"
        item = f"over an opening {length_text(width, design)} wide"
        datum = "the opening's head"
        rows.append(Size(group, item, count, above, above, datum, beside, of))
        if rise:
            rows.append(Size(group, "rise of its curve", count, rise, rise, "the springing"))
        if head.startswith("hood"):
            foot = rounded(above, step) - hood_cornice(width).height_m
            members, out = hood_cornice(width).members, "projection from the wall"
            rows += _stacked(group, members, foot, datum, count, step, out)
    return rows


def _head(opening: Opening, floors: Sequence[float], step: float) -> float:
    floor = max((z for z in floors if z <= opening.sill_z_m + 1e-9), default=0.0)
    return rounded(opening.head_z_m - floor, step)


def _doors(design: Design, step: float) -> list[Size]:
    """Leaves, lights, surround and steps of each door."""
    rows: list[Size] = []
    for opening in (o for o in design.house.openings if o.kind == "door" and o.door):
        work = opening.door
        assert work is not None
        door = "Entrance" if opening.wall == "front" else "Side door"
        leaf = rounded(opening.leaf_width_m / work.leaves, step)
        tall = rounded(opening.leaf_height_m, step)
        item = f"leaf, {work.panels} panels"
        rows.append(Size(door, item, work.leaves, tall, across_m=leaf, across_of="width of leaf"))
        if work.fanlight != "none":
            springing = rounded(opening.height_m, step) - rounded(opening.rise_m, step)
            crown = rounded(opening.height_m, step)
            width = rounded(opening.width_m, step)
            rows += [
                Size(door, "springing of the fanlight", 1, top_m=springing, datum="its floor"),
                Size(
                    door,
                    f"{work.fanlight} fanlight, {work.fanlight_lights} lights",
                    1,
                    crown - springing,
                    crown,
                    "its floor",
                    width,
                    "width of opening",
                ),
            ]
        rows += _surround(door, work.surround, step) if work.surround else []
        if work.steps:
            rows += _flight(f"{door}: landing and steps", work.steps, step)
    return rows


def _surround(door: str, design: SurroundDesign, step: float) -> list[Size]:
    """The order about a doorway, from the floor before it."""
    order, datum = design.order, "the floor before it"
    count = 2
    axis = rounded(design.axis_m, step)
    rows = [Size(f"{door}: order", "axis from the middle", count, across_m=axis, across_of="axis")]
    rows += _stacked(f"{door}: base", order.base, 0.0, datum, count, step, "diameter")
    top = rounded(order.base_height_m + order.shaft_height_m, step)
    width = order.upper_diameter_m if design.engaged == "pilasters" else order.foot_diameter_m
    rows.append(
        Size(
            f"{door}: shaft",
            "pilaster" if design.engaged == "pilasters" else "half column at the foot",
            count,
            top - rounded(order.base_height_m, step),
            top,
            datum,
            rounded(width, step),
            "width" if design.engaged == "pilasters" else "diameter",
        )
    )
    foot = order.base_height_m + order.shaft_height_m
    rows += _stacked(f"{door}: capital", order.capital, foot, datum, count, step, "diameter")
    foot = order.column_height_m
    for name, members in (
        ("architrave", order.architrave),
        ("frieze", order.frieze),
        ("cornice", order.cornice),
    ):
        of = "projection from the frieze"
        rows += _stacked(f"{door}: {name}", members, foot, datum, 1, step, of)
        foot += sum(m.height for m in members)
    if design.arch:
        module, group = order.diameter_m / 2.0, f"{door}: arch"
        for name, members in (
            ("Impost", impost_members(module)),
            ("Archivolt, a module broad", archivolt_members(module)),
        ):
            for member in members:
                high, out = rounded(member.height, step), rounded(member.reach, step)
                item, of = f"{name}: {member.name}", "projection from the casing"
                rows.append(Size(group, item, 1, high, across_m=out, across_of=of))
    return rows


def _flight(group: str, steps: LandingDesign, step: float) -> list[Size]:
    floor = rounded(steps.top_z_m, step)
    riser, tread = rounded(steps.riser_m, step), rounded(steps.tread_m, step)
    deep, width = rounded(steps.landing_m, step), rounded(steps.width_m, step)
    return [
        Size(group, "Landing", 1, floor, floor, "the ground", deep, "wall to edge"),
        Size(group, "Step", steps.risers, riser, across_m=tread, across_of="tread"),
        Size(
            group,
            "Flight",
            1,
            rounded(steps.top_z_m - steps.foot_z_m, step),
            across_m=width,
            across_of="width",
        ),
    ]


def _dormers(design: Design, step: float) -> list[Size]:
    """Each row of dormers: windows, faces and cornices, and where they stand."""
    rows = []
    for row in design.roof.dormers:
        group, count = f"Roof: dormers, {row.side}", len(row.centres_m)
        sill = rounded(row.sill_z_m - design.house.wall_top_z_m, step)
        height, over = rounded(row.height_m, step), "the walls' top"
        width, face = rounded(row.width_m, step), rounded(2.0 * half_m(row), step)
        back = rounded(row.face_y_m, step)
        cornice, out = rounded(row.cornice.height_m, step), rounded(cornice_out_m(row), step)
        rows += [
            Size(group, "window", count, height, sill + height, over, width, "width of opening"),
            Size(group, "face", count, across_m=face, across_of="width"),
            Size(group, "face behind the wall's", count, across_m=back, across_of="face to face"),
            Size(group, "cornice", count, cornice, across_m=out, across_of="projection"),
        ]
        for i, axis in enumerate(row.centres_m):
            where = rounded(axis, step)
            side = "left of the middle" if where < 0 else "right of the middle"
            item = f"Dormer {i + 1}, {side if where else 'in the middle'}"
            rows.append(Size(group, item, 1, across_m=abs(where), across_of="axis"))
    return rows


def _eaves(design: Design, step: float) -> list[Size]:
    house = design.house
    if house.cornice_continues_porch:
        return []
    foot = house.wall_top_z_m - house.cornice.height_m
    members, of = house.cornice.members, "projection from the wall"
    return _stacked("House: cornice", members, foot, "the ground", 1, step, of)


def _wings(design: Design, step: float) -> list[Size]:
    """Each wing as the house is scheduled, and where it stands."""
    rows = []
    for wing in design.house.wings:
        own = replace(design, house=wing.house)
        name = f"{wing.side} wing".capitalize()
        back = rounded(wing.set_back_m, step)
        rows.append(
            Size(f"{name}: plan", "Set back", 1, across_m=back, across_of="behind the front")
        )
        for size in [*_levels(own, step), *_eaves(own, step), *_openings(own, step)]:
            rows.append(replace(size, group=size.group.replace("House", name, 1)))
    return rows


def _roof(design: Design, step: float) -> list[Size]:
    """Setting out of a roof that breaks or is cut off, and the balustrade on it."""
    roof, group = design.roof, "House: roof"
    if isinstance(roof, GambrelRoof):
        rise = rounded(roof.lower_slope * roof.break_run_m, step)
        run = rounded(roof.break_run_m, step)
        return [Size(group, "Break of the slopes", 2, rise, rise, "the eaves", run, "from eaves")]
    if isinstance(roof, DeckRoof):
        run = rounded(roof.deck_run_m, step)
        rise = rounded(roof.slope * roof.deck_run_m, step)
        flat = Size(group, "Curb of the flat", 1, rise, rise, "the eaves", run, "from eaves")
        return [flat, *_balustrade("Balustrade on the roof", roof.deck_balustrade, step)]
    return []


# --- as text -------------------------------------------------------------------------------

_CSV_HEADINGS = (
    "design part member count height height_mm top top_mm top_over across across_mm across_of"
)
HEADINGS = ("Part", "Member", "No.", "Height", "Top at", "Over", "Across", "Of")


def length_text(length_m: float | None, design: Design, step_m: float | None = None) -> str:
    """A length in the design's builder's fraction, or in steps of another."""
    if length_m is None:
        return ""
    if design.units == "metric":
        return format_metric(length_m)
    return format_feet_inches(length_m, max(1, round(INCH_M / (step_m or design.rounding_m))))


def text_rows(design: Design) -> list[tuple[str, ...]]:
    """The schedule as text under :data:`HEADINGS`."""
    return [
        (
            size.group,
            size.item,
            str(size.count),
            length_text(size.height_m, design),
            length_text(size.top_m, design),
            size.datum,
            length_text(size.across_m, design),
            size.across_of,
        )
        for size in schedule(design)
    ]


def schedule_csv(designs: Sequence[Design]) -> str:
    """The schedules of all designs as one table, lengths in writing and in millimetres.

    Its first line is a comment, the caution; the headings follow.
    """
    buffer = io.StringIO()
    buffer.write(comment())
    table = CsvTable(buffer)
    table.writerow(_CSV_HEADINGS.split())
    for design in designs:
        for size in schedule(design):
            row: list[str | int] = [design.name, size.group, size.item, size.count]
            for length_m, of in (
                (size.height_m, None),
                (size.top_m, size.datum),
                (size.across_m, size.across_of),
            ):
                millimetres = "" if length_m is None else f"{length_m * 1000:.1f}"
                row += [length_text(length_m, design), millimetres]
                row += [of] if of is not None else []
            table.writerow(row)
    return buffer.getvalue()
