"""Sizes of openings in the builder's schedule: windows, their heads, doors and their steps."""

from __future__ import annotations

from collections.abc import Sequence

from massing.canon.arcades import impost_members
from massing.design.design import Design
from massing.design.opening import (
    DoorOpening,
    FrenchWindow,
    LandingDesign,
    Opening,
    SurroundDesign,
    WindowOpening,
)
from massing.practice.joinery_sizes import head_reach, hood_cornice
from massing.present.reports.sizes import Size, length_text, rounded, stacked
from massing.settingout.doorways import archivolt_over
from massing.units import floor_name

_FILLINGS = {"casement": "casement", "tripartite": "tripartite window", "fixed": "fixed window"}


def opening_rows(design: Design, step: float) -> list[Size]:
    """Openings of one wall and storey alike in size and height, counted together."""
    floors = design.house.storey_floors_z_m
    alike: dict[tuple[str, str, float, float, float], int] = {}
    for opening in design.house.openings:
        storey = floor_name(opening.storey or 0, design.units)
        height, width = rounded(opening.height_m, step), rounded(opening.width_m, step)
        group = f"House: {opening.wall_seen}, {storey}"
        key = (
            group,
            _item(opening),
            height,
            width,
            _head(opening, floors, step),
        )
        alike[key] = alike.get(key, 0) + 1
    return [
        Size(group, kind, count, height, head, "its floor", width, "width of opening")
        for (group, kind, height, width, head), count in alike.items()
    ]


def head_rows(design: Design, step: float) -> list[Size]:
    """What frames or spans the windows, one row a kind and width; hoods member by member."""
    alike: dict[tuple[str, float, float], int] = {}
    for opening in design.house.openings:
        if not isinstance(opening, DoorOpening):
            size = (opening.width_m, opening.soffit.rise_m)
            key = (opening.head, rounded(size[0], step), rounded(size[1], step))
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
            rows += stacked(group, members, foot, datum, count, step, out)
    return rows


def _item(opening: Opening) -> str:
    """What a schedule calls it."""
    if isinstance(opening, WindowOpening):
        return _FILLINGS.get(opening.filling, "window")
    return "French window" if isinstance(opening, FrenchWindow) else opening.kind


def _head(opening: Opening, floors: Sequence[float], step: float) -> float:
    floor = max((z for z in floors if z <= opening.sill_z_m + 1e-9), default=0.0)
    return rounded(opening.head_z_m - floor, step)


def door_rows(design: Design, step: float) -> list[Size]:
    """Leaves, lights, surround and steps of each door."""
    rows: list[Size] = []
    for opening in design.house.doors:
        work = opening.door
        door = "Entrance" if opening.entrance else "Side door"
        leaf = rounded(opening.leaf_width_m / work.leaves, step)
        tall = rounded(opening.leaf_height_m, step)
        item = f"leaf, {work.panels} panels"
        rows.append(Size(door, item, work.leaves, tall, across_m=leaf, across_of="width of leaf"))
        if work.fanlight != "none":
            springing = rounded(opening.height_m, step) - rounded(opening.soffit.rise_m, step)
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
        rows += _surround(door, opening, work.surround, step) if work.surround else []
        if work.steps:
            rows += _flight(f"{door}: landing and steps", work.steps, step)
    return rows


def _surround(door: str, opening: Opening, design: SurroundDesign, step: float) -> list[Size]:
    """The order about a doorway, from the floor before it."""
    order, datum = design.order, "the floor before it"
    count = 2
    axis = rounded(design.axis_m, step)
    rows = [Size(f"{door}: order", "axis from the middle", count, across_m=axis, across_of="axis")]
    rows += stacked(f"{door}: base", order.base, 0.0, datum, count, step, "diameter")
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
    rows += stacked(f"{door}: capital", order.capital, foot, datum, count, step, "diameter")
    foot = order.column_height_m
    for name, members in (
        ("architrave", order.architrave),
        ("frieze", order.frieze),
        ("cornice", order.cornice),
    ):
        of = "projection from the frieze"
        rows += stacked(f"{door}: {name}", members, foot, datum, 1, step, of)
        foot += sum(m.height for m in members)
    if design.arch:
        module, group = order.diameter_m / 2.0, f"{door}: arch"
        for name, members in (
            ("Impost", impost_members(module)),
            ("Archivolt", archivolt_over(opening, design)),
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
