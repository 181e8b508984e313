"""The order of the porch: how slender, how deep its entablature, what stands on it."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon import ORDERS, FittedOrder, plate, vitruvius
from massing.canon.sources import cited
from massing.design.design import Design
from massing.findings.figure import Row
from massing.findings.finding import SLACK, Remarks, Saying
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.practice.rules import Rule
from massing.units import format_length

_CLOSE = 0.005  # a half per cent: of diminutions, which differ by little
_BY_SPACING = ("vitruvius III.3.7", "vitruvius III.3.10")
# Vitruvius' Doric (IV.3) and Tuscan (IV.7) have rules of their own.
_ARCHITRAVE_BY_HEIGHT = ("ionic", "corinthian", "composite")


def _orders(design: Design) -> Iterator[tuple[str, FittedOrder]]:
    """The orders of the porch with the word before their members, "" and "upper "."""
    yield "", design.porch.order
    if design.porch.upper is not None:
        yield "upper ", design.porch.upper.order


# --- figures -------------------------------------------------------------------------------


def _diameter_named(design: Design) -> str:
    order = design.porch.order
    return "Width" if order.square else "Diameter" if order.swelled else "Lower diameter"


def _nearest(design: Design) -> str:
    return vitruvius.nearest_spacing(min(clear_intercolumniations(design)))


def _by_height(design: Design) -> bool:
    return design.porch.order.order in _ARCHITRAVE_BY_HEIGHT


def _diminution_of_vitruvius(design: Design) -> float | None:
    order = design.porch.order
    return None if order.square else vitruvius.upper_diameter_ratio(order.column_height_m)


def _architrave_of_vitruvius(design: Design) -> float | None:
    order = design.porch.order
    if not _by_height(design):
        return None
    return vitruvius.architrave_height_m(order.column_height_m, order.diameter_m)


FIGURES = (
    Row(
        "order_height",
        "Order height",
        "length",
        "{member} and entablature",
        lambda d: d.porch.order.order_height_m,
        above=True,
    ),
    Row(
        "column_height",
        "{Member} height",
        "length",
        "base, shaft and capital",
        lambda d: d.porch.order.column_height_m,
        above=True,
    ),
    Row(
        "diameter",
        _diameter_named,
        "length",
        lambda d: f"two modules; of the shaft, {d.porch.order.diameter_at}",
        lambda d: d.porch.order.diameter_m,
        above=True,
    ),
    Row(
        "foot_diameter",
        "Diameter at the foot",
        "length",
        "where it is less than at a third",
        lambda d: d.porch.order.foot_diameter_m if d.porch.order.swelled else None,
        above=True,
    ),
    Row(
        "slenderness",
        "{Member}, width to height",
        "ratio",
        lambda d: f"{_diameter_named(d).lower()} to height",
        lambda d: slenderness(d.porch.order),
        above=True,
    ),
    Row(
        "vitruvius_slenderness",
        "… by Vitruvius for this spacing",
        "ratio",
        lambda d: f"{_nearest(d)}, the nearest named spacing; {cited(_BY_SPACING)}",
        lambda d: None if d.porch.order.square else vitruvius.slenderness_by_spacing(_nearest(d)),
    ),
    Row(
        "diminution",
        lambda d: f"Upper to {'greatest' if d.porch.order.swelled else 'lower'} diameter",
        "fraction",
        "at the neck",
        lambda d: d.porch.order.upper_diameter_m / d.porch.order.diameter_m,
        above=True,
    ),
    Row(
        "vitruvius_diminution",
        "… by Vitruvius for this height",
        "fraction",
        cited("vitruvius III.3.12"),
        _diminution_of_vitruvius,
    ),
    Row(
        "entablature_height",
        "Entablature height",
        "length",
        "architrave, frieze and cornice",
        lambda d: d.porch.order.entablature_height_m,
        above=True,
    ),
    Row(
        "entablature_ratio",
        "Entablature to {member}",
        "fraction",
        "of the {member}'s height",
        lambda d: entablature_ratio(d.porch.order),
        above=True,
    ),
    Row(
        "architrave_height",
        "Architrave height",
        "length",
        "of the entablature",
        lambda d: d.porch.order.architrave_height_m if _by_height(d) else None,
    ),
    Row(
        "vitruvius_architrave",
        "… by Vitruvius for this height",
        "length",
        cited("vitruvius III.5.8"),
        _architrave_of_vitruvius,
    ),
    Row(
        "cornice_projection",
        "Cornice projection",
        "length",
        "from the frieze's face",
        lambda d: d.porch.order.cornice_projection_m,
        above=True,
    ),
)


# --- findings ------------------------------------------------------------------------------

remark = Remarks()


def _range(stout: Rule, slender: Rule) -> str:
    return f"Tuscan 1:{stout.written} to Corinthian 1:{slender.written}"


def _members(which: str, order: FittedOrder) -> str:
    return which + ("piers" if order.square else "columns")


@remark("slender", "check", "slenderness_corinthian", "slenderness_tuscan")
def slender(design: Design, most: Rule, least: Rule) -> Iterator[Saying]:
    """Columns slenderer than the Corinthian."""
    for which, order in _orders(design):
        if (ratio := slenderness(order)) > most.value * SLACK:
            yield (
                f"The {_members(which, order)} are 1:{ratio:.1f}, slenderer than any canonical "
                f"order ({_range(least, most)})"
            )


@remark("stout", "note", "slenderness_tuscan", "slenderness_corinthian")
def stout(design: Design, least: Rule, most: Rule) -> Iterator[Saying]:
    """Columns stouter than the Tuscan."""
    for which, order in _orders(design):
        if (ratio := slenderness(order)) < least.value / SLACK:
            yield (
                f"The {_members(which, order)} are 1:{ratio:.1f}, stouter than any canonical "
                f"order ({_range(least, most)})"
            )


@remark("off canon", "note", "slenderness_tuscan", "slenderness_corinthian")
def off_canon(design: Design, least: Rule, most: Rule) -> Iterator[Saying]:
    """Columns within the range of the orders, but not their own order's."""
    for which, order in _orders(design):
        ratio, own = slenderness(order), plate(order.order, order.canon)
        within = least.value / SLACK <= ratio <= most.value * SLACK
        if not order.square and within and not 1 / SLACK < ratio / own.column_diameters < SLACK:
            word = "slenderer" if ratio > own.column_diameters else "stouter"
            yield (
                f"The {_members(which, order)} are 1:{ratio:.1f}, {word} than their order's "
                f"1:{own.column_diameters:.1f}",
                cited(own.source),
            )


@remark("fluted", "note", source=("nicholson Flutings", "ware pp. 11-14"))
def fluted(design: Design) -> Iterator[Saying]:
    """Flutes where the canon has none."""
    for which, order in _orders(design):
        if order.flutes and not plate(order.order, order.canon).flutes:
            yield (
                f"The {which}columns are fluted, with the Doric's {order.flutes} channels; the "
                f"{order.order.title()} alone of the orders has none"
            )


@remark("shallow entablature", "check", "entablature_most", "entablature_least")
def shallow_entablature(design: Design, most: Rule, least: Rule) -> Iterator[Saying]:
    """An entablature too shallow to look as if it carried anything."""
    for which, order in _orders(design):
        if (ratio := entablature_ratio(order)) < least.value / SLACK:
            low, high = (
                format_length(share.value * order.column_height_m, design.units)
                for share in (least, most)
            )
            yield (
                f"The {which}entablature, "
                f"{format_length(order.entablature_height_m, design.units)}, is "
                f"{as_fraction(ratio)} of the column's height: too shallow to seem to carry. The "
                f"canons give {least.written} to {most.written}, {low} to {high}"
            )


@remark("deep entablature", "note", "entablature_most")
def deep_entablature(design: Design, most: Rule) -> Iterator[Saying]:
    """An entablature deeper than the canons' quarter."""
    for which, order in _orders(design):
        if (ratio := entablature_ratio(order)) > most.value * 1.1:
            height = format_length(order.entablature_height_m, design.units)
            quarter = format_length(most.value * order.column_height_m, design.units)
            yield (
                f"The {which}entablature, {height}, is {as_fraction(ratio)} of the column's "
                f"height, deeper than the canons' {most.written}, {quarter}"
            )


@remark("diminution", "note", source="vitruvius III.3.12")
def diminution(design: Design) -> Iterator[Saying]:
    """Tall columns diminish less."""
    for which, order in _orders(design):
        if order.square or order.column_height_m <= vitruvius.short_column_m():
            continue
        ratio = vitruvius.upper_diameter_ratio(order.column_height_m)
        own = order.upper_diameter_m / order.diameter_m
        if ratio > own * (1.0 + _CLOSE):
            written = format_length(order.column_height_m, design.units)
            neck = format_length(ratio * order.diameter_m, design.units)
            yield (
                f"The {which}columns are {written} high and diminish to {own:.3f}; Vitruvius "
                f"lets columns of that height keep {ratio:.3f}, {neck} at the neck, for the "
                "eye's sake"
            )


@remark("shallow architrave", "note", source="vitruvius III.5.8")
def shallow_architrave(design: Design) -> Iterator[Saying]:
    """Tall columns carry a deeper architrave."""
    for which, order in _orders(design):
        if order.order not in _ARCHITRAVE_BY_HEIGHT:
            continue
        wanted = vitruvius.architrave_height_m(order.column_height_m, order.diameter_m)
        if order.architrave_height_m < wanted / 1.1:
            own, tall, more = (
                format_length(length, design.units)
                for length in (order.architrave_height_m, order.column_height_m, wanted)
            )
            yield (
                f"The {which}architrave is {own} high; for columns of {tall} Vitruvius gives {more}"
            )


@remark("upper order wide", "check", source="scamozzi VI, orders over orders")
def upper_order_wide(design: Design) -> Iterator[Saying]:
    """An order that stands on another is no wider than the other's neck."""
    if design.porch.upper is None:
        return
    lower, upper = design.porch.order, design.porch.upper.order
    if upper.foot_diameter_m > lower.upper_diameter_m * SLACK:
        share = upper.foot_diameter_m / lower.upper_diameter_m
        yield (
            f"The upper columns are {share:.2f} times as wide at the foot as the lower at the "
            "neck; an order that stands on another is at most as wide"
        )


@remark("upper order stout", "check", source="practice")
def upper_order_stout(design: Design) -> Iterator[Saying]:
    """The slighter order above, on the stouter below."""
    if design.porch.upper is None:
        return
    lower, upper = design.porch.order, design.porch.upper.order
    if ORDERS.index(upper.order) < ORDERS.index(lower.order):
        yield f"The {upper.order} stands over the {lower.order}: the stouter order belongs below"


def as_fraction(ratio: float) -> str:
    """A ratio as one part in so many.

    >>> as_fraction(1 / 15)
    '1/15'
    """
    parts = 1.0 / ratio
    return f"1/{parts:.0f}" if abs(parts - round(parts)) < 0.05 else f"1/{parts:.1f}"
