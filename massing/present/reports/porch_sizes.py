"""Sizes of the porch in the builder's schedule: floor, axes, arcades and balustrades."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from massing.canon import FittedOrder
from massing.canon import rounded as rounded_order
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.porch import (
    BalustradeDesign,
    PorchDesign,
    RecessedPorch,
    SemicircularPorch,
    WrappedPorch,
)
from massing.practice.joinery_sizes import RAIL_HEIGHT_M
from massing.present.reports.order_sizes import column_rows, entablature_rows, ornament_rows
from massing.present.reports.sizes import Size, rounded, stacked
from massing.settingout.porch import on_step_along
from massing.settingout.side_porches import design_of_side


def porch_floor_rows(design: Design, step: float) -> list[Size]:
    """Floor, steps and rails."""
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


def setting_out_rows(design: Design, step: float) -> list[Size]:
    """Where the columns' axes stand, along the front and before the wall."""
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
    if porch.centre_m:
        off = rounded(abs(porch.centre_m), step)
        side = "left" if porch.centre_m < 0 else "right"
        item = f"Porch's middle, {side} of the front's"
        rows.append(Size(group, item, 1, across_m=off, across_of="axis"))
    for i, axis in enumerate(porch.axes_m):
        where = on_step_along(porch, axis, step)
        side = "left of the middle" if where < 0 else "right of the middle"
        item = f"Axis {i + 1}, {side if where else 'in the middle'}"
        rows.append(Size(group, item, 1, across_m=abs(where), across_of="axis"))
    curved = isinstance(porch, SemicircularPorch)
    axes = [on_step_along(porch, axis, step) for axis in porch.axes_m]
    for i, (chord, (a, b)) in enumerate(zip(porch.gaps_m, pairwise(axes), strict=True)):
        gap = rounded(chord, step) if curved else b - a
        rows.append(
            Size(group, f"Axes {i + 1} to {i + 2}", 1, across_m=gap, across_of="axis to axis")
        )
    middle = "the porch's middle" if porch.centre_m else "the middle"
    if isinstance(porch, RecessedPorch):
        anta = rounded(porch.anta_axis_m, step)
        rows.append(Size(group, f"Anta's middle from {middle}", 2, across_m=anta, across_of="axis"))
    if porch.couple_axis_m:
        pair = rounded(porch.couple_axis_m, step)
        rows.append(Size(group, "Each couple", 1, across_m=pair, across_of="axis to axis"))
    if porch.breaks_forward_m:
        out = rounded(porch.breaks_forward_m, step)
        item = "Entablature over each column"
        rows.append(Size(group, item, 1, across_m=out, across_of="before the run between"))
    if isinstance(porch, WrappedPorch):
        sides = sum(bool(side) for side in porch.sides_m)
        for k, y in enumerate(porch.side_axes_m):
            item = f"Axis {k + 1} along {'each' if sides > 1 else 'the'} side, behind the front"
            rows.append(Size(group, item, sides, across_m=rounded(y, step), across_of="axis"))
    for k, y in enumerate(porch.return_axes_m):
        item = f"Axis {k + 1} of each return, from the wall"
        rows.append(Size(group, item, 2, across_m=rounded(-y, step), across_of="axis"))
    return rows


def order_rows(
    porch: PorchDesign, house: HouseDesign, lead: str, step: float, *, carried: bool
) -> list[Size]:
    """Column, entablature and balustrades of one order; ``lead`` names it in the groups."""
    order = rounded_order(porch.order, step)
    rows = [
        *column_rows(order, len(porch.perimeter_axes_m), step),
        *entablature_rows(order, step),
        *_arcade(porch, step),
        *ornament_rows(porch, house, step, carried=carried),
        *_responds(porch, order, step),
        *_blocking_course(porch, step),
        *balustrade_rows("Balustrade over the entablature", porch.balustrade, step),
        *balustrade_rows("Guard between the columns", porch.guard, step),
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
        rows.append(
            size(
                f"Impost: {member.name}",
                count + 1,
                member.height,
                foot,
                member.reach,
                "from the pier",
            )
        )
    for k, bay in enumerate(design.bays):
        name = f"Arch {k + 1} from the left"
        rows.append(size(name, 1, bay.crown_m, bay.crown_m, bay.clear_m, "between piers"))
        middle = rounded(bay.middle_m, step)
        rows.append(Size(group, f"{name}: middle", 1, across_m=middle, across_of="of the front"))
    for member in design.archivolt:
        sizes = [rounded(x, step) for x in (member.height, member.reach)]
        rows.append(
            Size(
                group,
                f"Archivolt: {member.name}",
                count,
                sizes[0],
                across_m=sizes[1],
                across_of="from the pier",
            )
        )
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
        Size(
            group,
            porch.responds,
            count,
            order.column_height_m,
            top,
            datum,
            rounded(width, step),
            of,
        )
    ]
    stand = stacked("Responds: pedestal", order.pedestal, 0.0, datum, count, step, "diameter")
    return [*stand, *rows]


def _blocking_course(porch: PorchDesign, step: float) -> list[Size]:
    if not porch.blocking_course_m or porch.upper is not None:
        return []
    foot = rounded(porch.order.column_height_m + porch.order.entablature_height_m, step)
    top = rounded(foot + porch.blocking_course_m, step)
    return [Size("Blocking course", "course", 1, top - foot, top, "the porch floor")]


def balustrade_rows(group: str, design: BalustradeDesign | None, step: float) -> list[Size]:
    """Plinth course, balusters, rail and die of one balustrade, from its foot."""
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


def side_porch_rows(design: Design, step: float) -> list[Size]:
    """Each side porch as the front one is scheduled, by its own name."""
    rows = []
    for one in design.side_porches:
        own = design_of_side(design, one)
        porch = own.porch
        found = setting_out_rows(own, step)
        if porch.flight is not None:
            found = [*porch_floor_rows(own, step), *found]
        else:
            group = "Porch: way under it"
            wide, high = (rounded(m, step) for m in (one.clear_width_m, one.clear_height_m))
            found.append(Size(group, "Clear", 1, high, high, "the drive", wide, "clear width"))
        found += order_rows(porch, own.house, "", step, carried=False)
        if porch.upper is not None:
            found += order_rows(porch.upper, own.house, "Above", step, carried=False)
        name = one.name.capitalize()
        for row in found:
            group = row.group.removeprefix("Porch: ")
            item = row.item.replace("the front's", "the side's")
            rows.append(replace(row, group=f"{name}: {group[:1].lower()}{group[1:]}", item=item))
    return rows
