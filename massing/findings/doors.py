"""Doors: egress, leaves, glass in and beside them, the order about a doorway."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon import ORDERS
from massing.design.design import Design
from massing.design.opening import DoorDesign, DoorOpening, FrenchWindow
from massing.findings.finding import HAIR_M, SLACK, Remarks, Saying
from massing.findings.measures import clear_width_m, entablature_ratio, patterns
from massing.practice.rules import Rule
from massing.units import format_length

remark = Remarks()


def _doors(design: Design) -> list[tuple[DoorOpening, DoorDesign, str]]:
    """The doors with their leaves and what each is called."""
    return [(o, o.door, "entrance" if o.entrance else "side door") for o in design.house.doors]


@remark("door glazing", "caution", "safety_door")
def door_glazing(design: Design, _: Rule) -> Iterator[Saying]:
    """Glass in doors and beside them."""
    names = []
    for o in patterns(design.house):
        if isinstance(o, FrenchWindow):
            names.append("the French windows")
        elif isinstance(o, DoorOpening):
            which = "the entrance" if o.entrance else "the side door"
            names += [f"{which}'s sidelights"] if o.sidelights else []
            names += [f"{which}'s leaves"] if o.door.glazed else []
    if names:
        yield f"Glass in {' and '.join(names)} is safety glazing"


@remark("egress door", "caution", "egress_width", "egress_height")
def egress_door(design: Design, wide: Rule, tall: Rule) -> Iterator[Saying]:
    """No door wide and high enough to leave the house by."""
    doors = [o for o, _, _ in _doors(design)]
    if not doors:
        return
    best = max(
        doors, key=lambda o: min(clear_width_m(o) / wide.value, o.leaf_height_m / tall.value)
    )
    clear = clear_width_m(best)
    if clear < wide.value - HAIR_M or best.leaf_height_m < tall.value - HAIR_M:
        yield (
            f"The widest door opens about {format_length(clear, design.units)} by "
            f"{format_length(best.leaf_height_m, design.units)} clear; one door of a house wants "
            f"{format_length(wide.value, design.units)} by "
            f"{format_length(tall.value, design.units)}"
        )


@remark("wide leaf", "check", "door_leaf_most")
def wide_leaf(design: Design, most: Rule) -> Iterator[Saying]:
    """One leaf where two would hang."""
    for opening, work, name in _doors(design):
        if work.leaves == 1 and opening.leaf_width_m > most.value * SLACK:
            yield (
                f"The {name} is one leaf {format_length(opening.leaf_width_m, design.units)} "
                f"wide; over {most.said(design.units)} the book hangs two"
            )


@remark("door proportion", "note", "door_small", "door_large")
def door_proportion(design: Design, small: Rule, large: Rule) -> Iterator[Saying]:
    """A leaf narrower or wider than the book's."""
    for opening, work, name in _doors(design):
        ratio = opening.leaf_width_m / opening.leaf_height_m
        if work.leaves == 1 and not small.value / SLACK < ratio < large.value * SLACK:
            word = "narrower" if ratio < small.value else "wider"
            yield (
                f"The {name} is {ratio:.2f} as wide as high, {word} than the book's "
                f"{small.value:.2f} ({small.written}, small doors) to {large.value:.2f} "
                f"({large.written}, large ones)"
            )


@remark("door pair", "note", "door_pair_least", "door_pair_most")
def door_pair(design: Design, least: Rule, most: Rule) -> Iterator[Saying]:
    """A pair narrower or wider than the book's."""
    for opening, work, name in _doors(design):
        width = opening.leaf_width_m
        if work.leaves > 1 and not least.value / SLACK < width < most.value * SLACK:
            yield (
                f"The {name}'s two leaves take {format_length(width, design.units)}; the book "
                f"gives a pair {least.said(design.units)} to {most.said(design.units)}"
            )


@remark("doorway entablature", "note", "entablature_least")
def doorway_entablature(design: Design, least: Rule) -> Iterator[Saying]:
    """A surround's entablature under what the canons allow."""
    for _, work, name in _doors(design):
        if work.surround and entablature_ratio(work.surround.order) < least.value / SLACK:
            ratio = entablature_ratio(work.surround.order)
            yield (
                f"The {name}'s entablature is {ratio:.2f} of its column's height, under the "
                f"{least.written} that the canons allow"
            )


@remark("doorway order", "note", source="practice")
def doorway_order(design: Design) -> Iterator[Saying]:
    """A surround stouter than the porch."""
    porch = design.porch.order.order
    for _, work, name in _doors(design):
        if work.surround and ORDERS.index(work.surround.order.order) < ORDERS.index(porch):
            yield (
                f"The {name}'s {work.surround.order.order} is stouter than the porch's {porch}; "
                "the smaller order is more usually the slighter"
            )
