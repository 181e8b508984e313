"""An arcade: its arches and piers against the order's own measures."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon.arcades import ArcadeRule, arcade_rule
from massing.design.design import Design
from massing.findings.figure import Row
from massing.findings.finding import Remarks, Saying
from massing.units import format_length

_CLOSE = 0.05


def _rule(design: Design) -> ArcadeRule | None:
    order = design.porch.order
    return arcade_rule(order.order, pedestals=bool(order.pedestal))


def _widest(design: Design) -> float | None:
    arcade = design.porch.arcade
    return None if arcade is None else max(b.clear_m for b in arcade.bays)


def _highest(design: Design) -> float | None:
    arcade = design.porch.arcade
    return None if arcade is None else max(b.crown_m for b in arcade.bays)


def _slimness(design: Design) -> float | None:
    arcade = design.porch.arcade
    return None if arcade is None else max(b.crown_m / b.clear_m for b in arcade.bays)


def _pier(design: Design) -> float | None:
    arcade = design.porch.arcade
    return None if arcade is None else arcade.pier_m


FIGURES = (
    Row("arch_clear", "Arch width", "length", "between piers, the widest", _widest),
    Row("arch_height", "Arch height", "length", "porch floor to crown", _highest),
    Row("arch_ratio", "Arch height to width", "ratio", "the slimmest", _slimness),
    Row("pier_breadth", "Pier breadth", "length", "between two arches", _pier),
)

remark = Remarks()


@remark("arch proportion", "note", source="moxon VII")
def arch_proportion(design: Design) -> Iterator[Saying]:
    """Arches slimmer or broader than the order's own."""
    arcade, rule = design.porch.arcade, _rule(design)
    if arcade is None or rule is None:
        return
    own = rule.high / rule.clear
    worst = max((b.crown_m / b.clear_m for b in arcade.bays), key=lambda r: abs(r / own - 1.0))
    if abs(worst / own - 1.0) > _CLOSE:
        word = "higher" if worst > own else "lower"
        yield (
            f"An arch of the arcade is {worst:.2f} times as high as wide, {word} than the "
            f"{own:.2f} of Vignola's {design.porch.order.order.title()} arcade"
        )


@remark("slight piers", "note", source="moxon VII")
def slight_piers(design: Design) -> Iterator[Saying]:
    """Piers narrower than the order's own."""
    arcade, rule = design.porch.arcade, _rule(design)
    if arcade is None or rule is None:
        return
    module = design.porch.order.diameter_m / 2.0
    if arcade.pier_m < (1.0 - _CLOSE) * rule.pier * module:
        wide, own = (format_length(x, design.units) for x in (arcade.pier_m, rule.pier * module))
        yield (
            f"The arcade's piers are {wide} broad, less than the {rule.pier:g} modules, {own}, "
            "of Vignola's; an arch thrusts sideways, and whether they carry it is for an engineer"
        )


@remark("pier in the middle", "check", source="practice")
def pier_in_the_middle(design: Design) -> Iterator[Saying]:
    """An even number of arches has a pier before the door."""
    arcade = design.porch.arcade
    if arcade is not None and len(arcade.bays) % 2 == 0:
        yield (
            f"The arcade has {len(arcade.bays)} arches, so that a pier stands in the middle of "
            "the front; an odd number would open there"
        )


@remark("arches thrust", "caution", source="practice")
def arches_thrust(design: Design) -> Iterator[Saying]:
    """Arches push their piers apart, the end ones most."""
    if design.porch.arcade is not None:
        yield (
            "Arches push outwards: the end piers and what ties them want an engineer, whether "
            "they are masonry or framed and cased"
        )
