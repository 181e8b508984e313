"""What handbooks and the codes say of a design's doors, in plain words."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon import ORDERS, rules
from massing.design.design import Design, DoorDesign, Opening
from massing.findings.ground import landing_drop_m
from massing.findings.proportion import Finding, of_flight
from massing.units import format_length

_LOCAL = "local codes and licensed practice decide"
_PRACTICE = "common practice, no source"
_LEAF_IN_OPENING_M = 0.05  # what an open leaf and its stop take of the way through: practice
_SLACK = 1.02


def clear_width(opening: Opening) -> float:
    """The way through a door with one leaf open square, metres."""
    leaves = opening.door.leaves if opening.door else 1
    return opening.leaf_width_m / leaves - _LEAF_IN_OPENING_M


def door_findings(design: Design) -> Iterator[Finding]:
    """Remarks on egress, leaves, glass, landings and steps, and the order about a doorway."""
    doors = [o for o in design.house.openings if o.kind == "door" and o.leaf_height_m > 0.0]
    if doors:
        yield from _of_egress(doors, design.units)
    for opening in doors:
        name, work = _called(opening), opening.door or DoorDesign()
        yield from _of_leaf(opening, work, name, design.units)
        yield from _of_surround(work, name, design)
        if work.steps is not None:
            yield from _of_landing(opening, work, name, design)
            yield from of_flight(work.steps, name, design.units)


def _called(opening: Opening) -> str:
    return "entrance" if opening.wall == "front" else "side door"


def _said(source: str, mark: str) -> str:
    return f"{source} (from memory)" if mark == "from memory" else source


def _of_egress(doors: list[Opening], units: str) -> Iterator[Finding]:
    wide, tall = rules()["egress_width"], rules()["egress_height"]
    best = max(doors, key=lambda o: min(clear_width(o) / wide.value, o.leaf_height_m / tall.value))
    clear = clear_width(best)
    if clear < wide.value - 1e-6 or best.leaf_height_m < tall.value - 1e-6:
        yield Finding(
            "egress door", "caution",
            f"The widest door opens about {format_length(clear, units)} by "
            f"{format_length(best.leaf_height_m, units)} clear; one door of a house wants "
            f"{format_length(wide.value, units)} by {format_length(tall.value, units)}; {_LOCAL}.",
            _said(wide.source, wide.mark),
        )  # fmt: skip


def _of_leaf(opening: Opening, work: DoorDesign, name: str, units: str) -> Iterator[Finding]:
    width = format_length(opening.leaf_width_m, units)
    if work.leaves == 1:
        most = rules()["door_leaf_most"]
        if opening.leaf_width_m > most.value * _SLACK:
            yield Finding(
                "wide leaf", "check",
                f"The {name} is one leaf {width} wide; over "
                f"{format_length(most.value, units)} the handbook hangs two.",
                most.source,
            )  # fmt: skip
        ratio = opening.leaf_width_m / opening.leaf_height_m
        small, large = rules()["door_small"], rules()["door_large"]
        if not small.value / _SLACK < ratio < large.value * _SLACK:
            word = "narrower" if ratio < small.value else "wider"
            yield Finding(
                "door proportion", "note",
                f"The {name} is {ratio:.2f} as wide as high, {word} than the handbook's "
                f"{small.value:.2f} (3:7, small doors) to {large.value:.2f} (1:2, large ones).",
                small.source,
            )  # fmt: skip
        return
    least, most = rules()["door_pair_least"], rules()["door_pair_most"]
    if not least.value / _SLACK < opening.leaf_width_m < most.value * _SLACK:
        yield Finding(
            "door pair", "note",
            f"The {name}'s two leaves take {width}; the handbook gives a pair "
            f"{format_length(least.value, units)} to {format_length(most.value, units)}.",
            least.source,
        )  # fmt: skip


def _of_surround(work: DoorDesign, name: str, design: Design) -> Iterator[Finding]:
    if work.surround is None:
        return
    order, least = work.surround.order, rules()["entablature_least"]
    ratio = order.entablature_height_m / order.column_height_m
    if ratio < least.value / _SLACK:
        yield Finding(
            "doorway entablature", "note",
            f"The {name}'s entablature is {ratio:.2f} of its column's height, under the "
            f"fifth that the canons allow.",
            least.source,
        )  # fmt: skip
    if ORDERS.index(order.order) < ORDERS.index(design.porch.order.order):
        yield Finding(
            "doorway order", "note",
            f"The {name}'s {order.order} is stouter than the porch's "
            f"{design.porch.order.order}; the smaller order is more usually the slighter.",
            _PRACTICE,
        )  # fmt: skip


def _of_landing(opening: Opening, work: DoorDesign, name: str, design: Design) -> Iterator[Finding]:
    """Landing and the drop to it; the entrance's is the porch."""
    assert work.steps is not None
    units = design.units
    deep, drop = rules()["landing_depth"], rules()["landing_drop"]
    if work.landing_m < deep.value - 1e-6:
        yield Finding(
            "landing", "caution",
            f"The {name}'s landing is {format_length(work.landing_m, units)} deep, under the "
            f"model code's {format_length(deep.value, units)}; {_LOCAL}.",
            _said(deep.source, deep.mark),
        )  # fmt: skip
    down = opening.sill_z_m - work.steps.top_z_m
    if down > drop.value + 1e-6:
        yield Finding(
            "landing drop", "caution",
            f"The {name}'s landing lies {format_length(down, units)} below its threshold; "
            f"{_LOCAL}.",
            _said(drop.source, drop.mark),
        )  # fmt: skip
    guard, height = rules()["guard_drop"], landing_drop_m(design)
    if height > guard.value + 1e-6:
        yield Finding(
            "side door guard", "caution",
            f"The {name}'s landing is {format_length(height, units)} above the ground and its "
            f"edge is open: over 30 in a guard is required; {_LOCAL}.",
            guard.source,
        )  # fmt: skip
