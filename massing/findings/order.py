"""The order of the porch: how slender, how deep its entablature, what stands on it."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon import ORDERS, FittedOrder, books, plate, vitruvius
from massing.design.design import Design
from massing.findings.figure import Row, of_the_books
from massing.findings.finding import SLACK, Remarks, Saying
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.practice.rules import Rule, rules
from massing.units import format_length

_CLOSE = 0.005  # a half per cent: of diminutions, which differ by little


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


def _ends(said: vitruvius.Given | None) -> tuple[float, float] | None:
    return None if said is None else (said.least, said.most)


def _column_of_vitruvius(design: Design) -> vitruvius.Given | None:
    return vitruvius.column_by_spacing(design.porch.order.order, _nearest(design))


def _neck_of_vitruvius(design: Design) -> vitruvius.Given | None:
    order = design.porch.order
    return vitruvius.neck_by_height(order.order, order.column_height_m)


def _architrave_of_vitruvius(design: Design) -> vitruvius.Given | None:
    order = design.porch.order
    return vitruvius.architrave_m(order.order, order.column_height_m, order.diameter_m)


def _note(design: Design, said: vitruvius.Given | None) -> str:
    return "" if said is None else f"of the {design.porch.order.order.title()}; {said.cited}"


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
    of_the_books("books_slenderness", "ratio", books.column),
    Row(
        "vitruvius_slenderness",
        "… by Vitruvius of its order at this spacing",
        "ratio",
        lambda d: f"{_nearest(d)}, the nearest named spacing; {_note(d, _column_of_vitruvius(d))}",
        lambda d: _ends(_column_of_vitruvius(d)),
    ),
    Row(
        "diminution",
        lambda d: f"Upper to {'greatest' if d.porch.order.swelled else 'lower'} diameter",
        "fraction",
        "at the neck",
        lambda d: d.porch.order.upper_diameter_m / d.porch.order.diameter_m,
        above=True,
    ),
    of_the_books("books_diminution", "fraction", books.neck),
    Row(
        "vitruvius_diminution",
        "… by Vitruvius of its order at this height",
        "fraction",
        lambda d: _note(d, _neck_of_vitruvius(d)),
        lambda d: _ends(_neck_of_vitruvius(d)),
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
    of_the_books("books_entablature", "fraction", books.entablature),
    Row(
        "architrave_height",
        "Architrave height",
        "length",
        "of the entablature",
        lambda d: d.porch.order.architrave_height_m if _architrave_of_vitruvius(d) else None,
    ),
    Row(
        "vitruvius_architrave",
        "… by Vitruvius of its order at this height",
        "length",
        lambda d: _note(d, _architrave_of_vitruvius(d)),
        lambda d: _ends(_architrave_of_vitruvius(d)),
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


@remark("off canon", "note")
def off_canon(design: Design) -> Iterator[Saying]:
    """Columns that are not as the books have their order; authors who differ are a range."""
    for which, order in _orders(design):
        said, own = books.column(order.order), plate(order.order, order.canon).column_diameters
        ratio = slenderness(order)
        if said is None or _none_is_so(ratio) or 1 / SLACK < ratio / own < SLACK:
            continue
        word = "slenderer" if ratio > own else "stouter"
        within = said.least / SLACK <= ratio <= said.most * SLACK
        name = order.order.title()
        if within:
            yield (
                f"The {_members(which, order)} are 1:{ratio:.1f}, {word} than "
                f"{order.canon.title()}'s {name}, 1:{own:.1f}, but as the books have it, "
                f"{_span(said)} ({said.said()})",
                said.cited,
            )
        else:
            yield (
                f"The {_members(which, order)} are 1:{ratio:.1f}, {word} than the books have the "
                f"{name}: {_span(said)} ({said.said()})",
                said.cited,
            )


def _none_is_so(ratio: float) -> bool:
    """Beyond all the orders, which a remark of its own says."""
    least, most = rules()["slenderness_tuscan"], rules()["slenderness_corinthian"]
    return not least.value / SLACK <= ratio <= most.value * SLACK


def _span(said: books.Range) -> str:
    return " to ".join(dict.fromkeys(f"1:{end:.1f}" for end in (said.least, said.most)))


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


@remark("diminution", "note")
def diminution(design: Design) -> Iterator[Saying]:
    """Tall columns diminish less, by him who says so of their order."""
    for which, order in _orders(design):
        said = vitruvius.neck_by_height(order.order, order.column_height_m)
        if said is None or order.column_height_m <= vitruvius.short_column_m():
            continue
        ratio, own = said.least, order.upper_diameter_m / order.diameter_m
        if ratio > own * (1.0 + _CLOSE):
            written = format_length(order.column_height_m, design.units)
            neck = format_length(ratio * order.diameter_m, design.units)
            yield (
                f"The {which}columns are {written} high and diminish to {own:.3f}; Vitruvius "
                f"lets {order.order.title()} columns of that height keep {ratio:.3f}, {neck} at "
                "the neck, for the eye's sake",
                said.cited,
            )


@remark("shallow architrave", "note")
def shallow_architrave(design: Design) -> Iterator[Saying]:
    """Tall columns carry a deeper architrave, by him who says so of their order."""
    for which, order in _orders(design):
        said = vitruvius.architrave_m(order.order, order.column_height_m, order.diameter_m)
        if said is not None and order.architrave_height_m < said.least / 1.1:
            own, tall, more = (
                format_length(length, design.units)
                for length in (order.architrave_height_m, order.column_height_m, said.least)
            )
            yield (
                f"The {which}architrave is {own} high; over {order.order.title()} columns of "
                f"{tall} Vitruvius gives {more}",
                said.cited,
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
