"""What the canons and the codes say of a design: figures, and findings in plain words.

Ratios of the orders are checked against published plates (:mod:`massing.canon`); safety limits
are those of the model code named beside each. Findings inform; they never change a design.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import numpy as np

from massing.canon import ORDERS, FittedOrder, balustrade_table, plate, rules, spacings, vitruvius
from massing.design.design import BalustradeDesign, Design, Opening, PorchDesign, StepsDesign
from massing.units import format_feet_inches, format_length

Unit = Literal["length", "ratio", "fraction", "diameters", "degrees", "count"]
Severity = Literal["note", "check", "caution"]

_LOCAL = "local codes and licensed practice decide"
_CLOSE = 0.005  # a half per cent: of diminutions, which differ by little
_SLACK = 1.02  # departures under two per cent are not worth a word


@dataclass(frozen=True)
class Figure:
    """One number about a design.

    Attributes:
        key: a stable name for tables and files.
        name: what a designer would call it.
        value: metres for ``length``; a plain number otherwise.
        unit: ``length``, ``ratio`` (the n of 1:n), ``fraction``, ``diameters``, ``degrees`` or
            ``count``.
        note: how it is measured.
    """

    key: str
    name: str
    value: float
    unit: Unit
    note: str

    def written(self, units: str = "feet") -> str:
        """The value as text; lengths in ``feet`` or ``metric``.

        >>> Figure("slenderness", "Column", 8.0, "ratio", "").written()
        '1:8.0'
        """
        match self.unit:
            case "length":
                return format_length(self.value, units)
            case "ratio":
                return f"1:{self.value:.1f}"
            case "diameters":
                return f"{self.value:.2f} D"
            case "degrees":
                return f"{self.value:.1f}°"
            case "count":
                return f"{self.value:.0f}"
            case _:
                return f"{self.value:.3f}"


@dataclass(frozen=True)
class Finding:
    """One remark on a design: ``note`` informs, ``check`` questions a proportion, ``caution``
    touches safety. ``key`` is stable; ``source`` says whose rule it is."""

    key: str
    severity: Severity
    text: str
    source: str


# --- measures ------------------------------------------------------------------------------


def clear_intercolumniations(design: Design) -> tuple[float, ...]:
    """Clear distances between neighbouring shafts at the foot, in lower diameters.

    Where columns are coupled, those between the couples.
    """
    d = design.porch.order.diameter_m
    return tuple(gap / d - 1.0 for gap in design.porch.open_gaps_m)


def slenderness(design: Design) -> float:
    """Column height over lower diameter (or pier width), of the lower order."""
    return _slenderness(design.porch.order)


def entablature_ratio(design: Design) -> float:
    """Entablature height over column height, of the lower order."""
    return _entablature_ratio(design.porch.order)


def _slenderness(order: FittedOrder) -> float:
    return order.column_height_m / order.diameter_m


def _entablature_ratio(order: FittedOrder) -> float:
    return order.entablature_height_m / order.column_height_m


def windows_by_storey(design: Design) -> tuple[Opening, ...]:
    """One window of each storey of the front, from the ground up."""
    storeys: dict[str, Opening] = {}
    for opening in design.house.openings:
        if opening.wall == "front" and opening.kind == "window":
            storeys.setdefault(opening.name.split("/")[1], opening)
    return tuple(sorted(storeys.values(), key=lambda o: o.sill_z_m))


def clear_gap_m(balustrade: BalustradeDesign) -> float:
    """Widest clear opening that may come between balusters, at their necks, metres.

    Balusters are set out at the design's spacing or closer, to keep their gaps equal.
    """
    table = balustrade_table()
    return balustrade.baluster_spacing_m - balustrade.belly_m * table.neck / table.belly


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
        and "ground" in o.name
        and bool((np.abs(axes - o.along_m) < o.width_m / 2.0 + reach).any())
    )


# --- figures -------------------------------------------------------------------------------


def figures(design: Design) -> list[Figure]:
    """The figures that tell one alternative from another, in reading order."""
    porch, order, house = design.porch, design.porch.order, design.house
    member = "pier" if order.square else "column"
    gaps = clear_intercolumniations(design)
    rows = [
        Figure("order_height", "Order height", order.order_height_m, "length",
               f"{member} and entablature"),
        Figure("column_height", f"{member.capitalize()} height", order.column_height_m, "length",
               "base, shaft and capital"),
        Figure("diameter", "Width" if order.square else "Lower diameter", order.diameter_m,
               "length", "at the foot of the shaft"),
        Figure("slenderness", f"{member.capitalize()}, width to height", _slenderness(order),
               "ratio", "lower diameter to height"),
        *_slenderness_by_vitruvius(order, gaps),
        Figure("diminution", "Upper to lower diameter", order.upper_diameter_m / order.diameter_m,
               "fraction", "at the neck"),
        *_diminution_by_vitruvius(order),
        Figure("entablature_height", "Entablature height", order.entablature_height_m, "length",
               "architrave, frieze and cornice"),
        Figure("entablature_ratio", f"Entablature to {member}", _entablature_ratio(order),
               "fraction", f"of the {member}'s height"),
        *_architrave_by_vitruvius(order),
        Figure("cornice_projection", "Cornice projection", order.cornice_projection_m, "length",
               "from the frieze's face"),
        Figure("clear_widest", "Widest clear spacing", max(gaps), "diameters",
               "between shafts at the foot"),
        Figure("clear_narrowest", "Narrowest clear spacing", min(gaps), "diameters",
               "between shafts at the foot"),
        Figure("columns", f"{member.capitalize()}s across the front", len(porch.axes_m), "count",
               "standing free"),
        Figure("porch_depth", "Porch depth", porch.depth_m, "length",
               "front wall's face to the wall behind" if porch.anta_m
               else f"wall face to {member} axis"),
        Figure("porch_to_house", "Porch width to house", (porch.axes_m[-1] - porch.axes_m[0]
               + order.diameter_m) / house.width_m, "fraction", "over the outermost shafts"),
        Figure("porch_top", "Top of entablature", porch.highest.top_z_m, "length",
               "above the ground"),
        Figure("wall_top", "Wall top", house.wall_top_z_m, "length", "above the ground"),
    ]  # fmt: skip
    if porch.pair_m:
        rows.append(
            Figure("clear_in_couple", "Clear within a couple",
                   porch.pair_m / order.diameter_m - 1.0, "diameters",
                   "between shafts at the foot")
        )  # fmt: skip
    if porch.break_m:
        rows.append(
            Figure("break_forward", "Entablature breaks forward", porch.break_m, "length",
                   f"over each {member}")
        )  # fmt: skip
    if porch.upper is not None:
        rows += _upper_figures(porch.upper.order)
    if porch.highest.blocking_course_m:
        rows.append(
            Figure("blocking_course", "Blocking course", porch.highest.blocking_course_m, "length",
                   "height over the cornice")
        )  # fmt: skip
    if porch.highest.balustrade:
        height = porch.highest.balustrade.height_m
        rows += [
            Figure("balustrade_height", "Balustrade height", height, "length",
                   "above the entablature"),
            Figure("balustrade_ratio", "Balustrade to entablature",
                   height / porch.highest.order.entablature_height_m, "fraction",
                   "of its height"),
        ]  # fmt: skip
    rows += list(_window_figures(design))
    rows.append(
        Figure("openings_masked", "Openings behind a column", len(columns_before_openings(design)),
               "count", "ground floor, seen square on")
    )  # fmt: skip
    return rows


# Vitruvius' Doric (IV.3) and Tuscan (IV.7) have rules of their own.
_ARCHITRAVE_BY_HEIGHT = ("ionic", "corinthian", "composite")


def _diminution_by_vitruvius(order: FittedOrder) -> Iterator[Figure]:
    if not order.square:
        ratio = vitruvius.upper_diameter_ratio(order.column_height_m)
        yield Figure("vitruvius_diminution", "… by Vitruvius for this height", ratio, "fraction",
                     "Ten Books, III.3.12")  # fmt: skip


def _slenderness_by_vitruvius(order: FittedOrder, gaps: tuple[float, ...]) -> Iterator[Figure]:
    if not order.square:
        spacing = vitruvius.nearest_spacing(min(gaps))
        yield Figure("vitruvius_slenderness", "… by Vitruvius for this spacing",
                     vitruvius.slenderness_by_spacing(spacing), "ratio",
                     f"{spacing}, the nearest named spacing; III.3.7 and 10")  # fmt: skip


def _architrave_by_vitruvius(order: FittedOrder) -> Iterator[Figure]:
    if order.order in _ARCHITRAVE_BY_HEIGHT:
        height = vitruvius.architrave_height_m(order.column_height_m, order.diameter_m)
        yield Figure("architrave_height", "Architrave height", order.architrave_height_m,
                     "length", "of the entablature")  # fmt: skip
        yield Figure("vitruvius_architrave", "… by Vitruvius for this height", height, "length",
                     "Ten Books, III.5.8")  # fmt: skip


def _upper_figures(order: FittedOrder) -> list[Figure]:
    return [
        Figure("upper_order_height", "Upper order height", order.order_height_m, "length",
               "column and entablature"),
        Figure("upper_diameter", "Upper order, lower diameter", order.diameter_m, "length",
               "at the foot of the shaft"),
        Figure("upper_slenderness", "Upper column, width to height", _slenderness(order),
               "ratio", "lower diameter to height"),
        Figure("upper_entablature_ratio", "Upper entablature to column", _entablature_ratio(order),
               "fraction", "of the column's height"),
    ]  # fmt: skip


def _window_figures(design: Design) -> Iterator[Figure]:
    windows = windows_by_storey(design)
    for i, window in enumerate(windows):
        name = window.name.split("/")[1]
        yield Figure(f"window_height_{i}", f"Window height, {name}", window.height_m, "length",
                     "opening")  # fmt: skip
        yield Figure(f"window_shape_{i}", f"Window height to width, {name}",
                     window.height_m / window.width_m, "fraction", "opening")  # fmt: skip
    for i, (lower, upper) in enumerate(pairwise(windows)):
        yield Figure(f"graduation_{i}", "Upper to lower window height",
                     upper.height_m / lower.height_m, "fraction", "graduation")  # fmt: skip


# --- findings ------------------------------------------------------------------------------


def findings(design: Design) -> list[Finding]:
    """Remarks on a design, gravest first: cautions, checks, notes."""
    from massing.findings.doors import door_findings  # which build on this module
    from massing.findings.ground import ground_findings, lowest_by_porch_m
    from massing.findings.house import house_findings

    porch, low_z = design.porch, lowest_by_porch_m(design)
    storeys = [("", porch)] + ([("upper ", porch.upper)] if porch.upper else [])
    every = [
        *(f for which, p in storeys for f in _of_columns(p.order, which)),
        *(f for which, p in storeys for f in _of_flutes(p.order, which)),
        *(f for which, p in storeys for f in _of_entablature(p.order, which, design.units)),
        *(f for which, p in storeys for f in _of_height(p.order, which, design.units)),
        *_of_slender_for_spacing(design),
        *_of_spacing(design),
        *_of_upper(porch),
        *_of_openings(design),
        *_of_crowning(design),
        *(f for which, p in storeys for f in _of_guard(p, which, low_z, design.units)),
        *_of_steps(design),
        *_of_roof(design),
        *_of_roof_flat(design),
        *house_findings(design),
        *_of_recess(porch, design.units),
        *door_findings(design),
        *ground_findings(design),
        _of_structure(),
    ]
    rank = {"caution": 0, "check": 1, "note": 2}
    return sorted(every, key=lambda f: rank[f.severity])


def _of_columns(order: FittedOrder, which: str) -> Iterator[Finding]:
    ratio = _slenderness(order)
    stout, slender = rules()["slenderness_tuscan"], rules()["slenderness_corinthian"]
    member = which + ("piers" if order.square else "columns")
    range_ = f"Tuscan 1:{stout.value:.0f} to Corinthian 1:{slender.value:.0f}"
    if ratio > slender.value * _SLACK:
        yield Finding(
            "slender", "check",
            f"The {member} are 1:{ratio:.1f}, slenderer than any canonical order ({range_}).",
            slender.source,
        )  # fmt: skip
    elif ratio < stout.value / _SLACK:
        yield Finding(
            "stout", "note",
            f"The {member} are 1:{ratio:.1f}, stouter than any canonical order ({range_}).",
            stout.source,
        )  # fmt: skip
    elif not order.square:
        own = plate(order.order, order.canon)
        if not 1 / _SLACK < ratio / own.column_diameters < _SLACK:
            word = "slenderer" if ratio > own.column_diameters else "stouter"
            yield Finding(
                "off canon", "note",
                f"The {member} are 1:{ratio:.1f}, {word} than their order's "
                f"1:{own.column_diameters:.1f}.",
                own.source,
            )  # fmt: skip


def _of_flutes(order: FittedOrder, which: str) -> Iterator[Finding]:
    if order.flutes and not plate(order.order, order.canon).flutes:
        yield Finding(
            "fluted", "note",
            f"The {which}columns are fluted, with the Doric's {order.flutes} channels; the "
            f"{order.order.title()} alone of the orders has none.",
            "an encyclopaedia's article Flutings, read; Ware, The American Vignola, pp. 11-14",
        )  # fmt: skip


def _of_entablature(order: FittedOrder, which: str, units: str) -> Iterator[Finding]:
    ratio = _entablature_ratio(order)
    least, most = rules()["entablature_least"], rules()["entablature_most"]

    def length(share: float) -> str:
        return format_length(share * order.column_height_m, units)

    height = format_length(order.entablature_height_m, units)
    if ratio < least.value / _SLACK:
        yield Finding(
            "shallow entablature", "check",
            f"The {which}entablature, {height}, is {_as_fraction(ratio)} of the column's height: "
            f"too shallow to seem to carry. The canons give a fifth to a quarter, "
            f"{length(least.value)} to {length(most.value)}.",
            f"{most.source}; {least.source}",
        )  # fmt: skip
    elif ratio > most.value * 1.1:
        yield Finding(
            "deep entablature", "note",
            f"The {which}entablature, {height}, is {_as_fraction(ratio)} of the column's height, "
            f"deeper than the canons' quarter, {length(most.value)}.",
            most.source,
        )  # fmt: skip


def _of_height(order: FittedOrder, which: str, units: str) -> Iterator[Finding]:
    """Tall columns diminish less and carry a deeper architrave."""
    if order.square:
        return
    height = order.column_height_m
    ratio, own = vitruvius.upper_diameter_ratio(height), order.upper_diameter_m / order.diameter_m
    written = format_length(height, units)
    if ratio > own * (1.0 + _CLOSE) and height > vitruvius.short_column_m():
        neck = format_length(ratio * order.diameter_m, units)
        yield Finding(
            "diminution", "note",
            f"The {which}columns are {written} high and diminish to {own:.3f}; Vitruvius lets "
            f"columns of that height keep {ratio:.3f}, {neck} at the neck, for the eye's sake.",
            "Vitruvius, Ten Books, III.3.12",
        )  # fmt: skip
    if order.order not in _ARCHITRAVE_BY_HEIGHT:
        return
    wanted = vitruvius.architrave_height_m(height, order.diameter_m)
    if order.architrave_height_m < wanted / 1.1:
        yield Finding(
            "shallow architrave", "note",
            f"The {which}architrave is {format_length(order.architrave_height_m, units)} high; "
            f"for columns of {written} Vitruvius gives {format_length(wanted, units)}.",
            "Vitruvius, Ten Books, III.5.8",
        )  # fmt: skip


def _of_slender_for_spacing(design: Design) -> Iterator[Finding]:
    """The wider the spacing, the stouter the column."""
    order = design.porch.order
    if order.square:
        return
    clear = min(clear_intercolumniations(design))
    name = vitruvius.nearest_spacing(clear)
    wanted, ratio = vitruvius.slenderness_by_spacing(name), _slenderness(order)
    if ratio > wanted * 1.1:
        yield Finding(
            "slender for spacing", "note",
            f"The columns are 1:{ratio:.1f} and stand {clear:.1f} diameters apart; for {name}, "
            f"the nearest named spacing, Vitruvius has 1:{wanted:g}: the wider, the stouter.",
            "Vitruvius, Ten Books, III.3.10-11",
        )  # fmt: skip


def _as_fraction(ratio: float) -> str:
    """A ratio as one part in so many.

    >>> _as_fraction(1 / 15)
    '1/15'
    """
    parts = 1.0 / ratio
    return f"1/{parts:.0f}" if abs(parts - round(parts)) < 0.05 else f"1/{parts:.1f}"


def _of_spacing(design: Design) -> Iterator[Finding]:
    gaps, named = clear_intercolumniations(design), spacings()
    widest, narrowest = max(gaps), min(gaps)
    wide, loose, close = named["araeostyle"], named["diastyle"], named["pycnostyle"]
    if widest > wide.clear * _SLACK:
        yield Finding(
            "wide spacing", "check",
            f"The widest clear spacing is {widest:.1f} diameters, wider even than araeostyle "
            f"({wide.clear:.0f} by later convention) and diastyle ({loose.clear:.0f}).",
            f"{loose.source}.4-5; araeostyle's 4 by later convention",
        )  # fmt: skip
    elif widest > loose.clear * _SLACK:
        yield Finding(
            "araeostyle", "note",
            f"The widest clear spacing is {widest:.1f} diameters, beyond diastyle "
            f"({loose.clear:.0f}): araeostyle, which wants beams of timber.",
            f"{wide.source}.5",
        )  # fmt: skip
    if narrowest < close.clear / _SLACK:
        yield Finding(
            "close spacing", "check",
            f"The narrowest clear spacing is {narrowest:.1f} diameters, closer than pycnostyle "
            f"({close.clear}).",
            f"{close.source}.2",
        )  # fmt: skip
    yield from _of_couples(design.porch)
    yield from _of_triglyphs(design)


def _of_couples(porch: PorchDesign) -> Iterator[Finding]:
    if not porch.pair_m:
        return
    within, between = rules()["coupled_clear"], rules()["coupled_between"]
    d = porch.order.diameter_m
    own, across = porch.pair_m / d - 1.0, max(porch.open_gaps_m) / d - 1.0
    if max(own / within.value, across / between.value) > 1.1:
        yield Finding(
            "couples", "note",
            f"The couples stand {own:.2f} diameters clear and {across:.2f} from each other; the "
            f"handbook's coupled columns stand {within.value} clear and {between.value} apart.",
            within.source,
        )  # fmt: skip


def _of_upper(porch: PorchDesign) -> Iterator[Finding]:
    """One order over another: the slighter above, on the neck of the stouter below."""
    if porch.upper is None:
        return
    lower, upper = porch.order, porch.upper.order
    if upper.diameter_m > lower.upper_diameter_m * _SLACK:
        share = upper.diameter_m / lower.upper_diameter_m
        yield Finding(
            "upper order wide", "check",
            f"The upper columns are {share:.2f} times as wide at the foot as the lower at the "
            f"neck; an order that stands on another is at most as wide.",
            "Scamozzi's rule for orders over orders, from memory",
        )  # fmt: skip
    if ORDERS.index(upper.order) < ORDERS.index(lower.order):
        yield Finding(
            "upper order stout", "check",
            f"The {upper.order} stands over the {lower.order}: the stouter order belongs below.",
            "common practice, no source",
        )  # fmt: skip


def _of_triglyphs(design: Design) -> Iterator[Finding]:
    order = design.porch.order
    for member in order.frieze:
        if member.row is None or member.row.kind != "triglyph":
            continue
        worst = max(
            (_metope(gap, member.row.spacing) - member.row.width for gap in design.porch.gaps_m),
            key=lambda w: abs(w - order.frieze_height_m),
        )  # fmt: skip
        shape = worst / order.frieze_height_m
        if abs(shape - 1.0) > 0.1:
            yield Finding(
                "metopes", "check",
                f"The metopes come out {shape:.2f} as wide as high, not square; column spacings "
                f"that are whole triglyph spacings, "
                f"{format_length(member.row.spacing, design.units)}, would square them.",
                "Ware, The American Vignola, pp. 13-14",
            )  # fmt: skip


def _metope(axis_m: float, spacing_m: float) -> float:
    """Triglyph spacing that a column spacing comes to."""
    return axis_m / max(1, round(axis_m / spacing_m))


def _of_openings(design: Design) -> Iterator[Finding]:
    windows = windows_by_storey(design)
    sixth, tall, squat = (rules()[k] for k in ("upper_storey", "window_tall", "window_squat"))
    for lower, upper in pairwise(windows):
        ratio = upper.height_m / lower.height_m
        if ratio > 0.97:
            word = "taller than" if ratio > 1.03 else "as tall as"
            yield Finding(
                "no graduation", "check",
                f"The upper windows are {word} the lower: no storey leads. Upper openings fall "
                f"to about {_as_share(sixth.value)} of the height of those below.",
                sixth.source,
            )  # fmt: skip
    for window in windows:
        if window.filling == "tripartite":
            continue  # its middle light is what has a shape
        shape, name = window.height_m / window.width_m, window.name.split("/")[1]
        if shape > tall.value * _SLACK:
            yield Finding(
                "tall windows", "note",
                f"The {name} windows are {shape:.2f} times as high as wide; the handbooks stop "
                f"at two, or a little over.",
                tall.source,
            )  # fmt: skip
        elif shape < squat.value / _SLACK:
            yield Finding(
                "squat windows", "note",
                f"The {name} windows are only {shape:.2f} times as high as wide; the handbooks "
                f"give 1.41 to 2 for principal windows.",
                squat.source,
            )  # fmt: skip
    masked = columns_before_openings(design)
    if masked:
        names = ", ".join(o.name.split("/")[-1] for o in masked)
        yield Finding(
            "masked openings", "check",
            f"A column stands before the front's ground-floor {names}, seen square on.",
            "common practice, no source",
        )  # fmt: skip


def _as_share(value: float) -> str:
    return str(Fraction(value).limit_denominator(12))


def _of_crowning(design: Design) -> Iterator[Finding]:
    balustrade, order = design.porch.highest.balustrade, design.porch.highest.order
    if balustrade is None:
        return
    ratio = balustrade.height_m / order.entablature_height_m
    least, most = rules()["balustrade_least"], rules()["balustrade_most"]
    if not least.value / _SLACK < ratio < most.value * _SLACK:
        word = "more than 4/5" if ratio > most.value else "less than 2/3"
        yield Finding(
            "balustrade height", "note",
            f"The balustrade is {ratio:.2f} of the entablature's height, {word}.",
            f"{most.source} (at most 4/5); {least.source} (at least 2/3)",
        )  # fmt: skip
    guard = rules()["guard_height"]
    gap = clear_gap_m(balustrade)
    if balustrade.height_m < guard.value - 1e-6 or gap >= rules()["guard_sphere"].value:
        yield Finding(
            "balustrade no guard", "caution",
            f"The balustrade over the porch is ornament, not a guard: "
            f"{format_length(balustrade.height_m, design.units)} high, gaps to "
            f"{format_length(gap, design.units)}. A roof that people may walk on needs a guard of "
            f"{format_feet_inches(guard.value)} or more that a 4 in sphere cannot pass; {_LOCAL}.",
            f"{guard.source}; {rules()['guard_sphere'].source}",
        )  # fmt: skip


def _of_guard(porch: PorchDesign, which: str, ground_z_m: float, units: str) -> Iterator[Finding]:
    drop = rules()["guard_drop"]
    tall, sphere = rules()["guard_height"], rules()["guard_sphere"]
    height = porch.floor_z_m - ground_z_m
    floor = format_length(height, units)
    if porch.guard is None:
        if height > drop.value + 1e-6:
            yield Finding(
                "guard missing", "caution",
                f"The {which}porch floor is {floor} above the ground and its edge is open: over "
                f"30 in a guard is required; {_LOCAL}.",
                drop.source,
            )  # fmt: skip
        return
    if porch.guard.height_m < tall.value - 1e-6:
        yield Finding(
            "guard low", "caution",
            f"The {which}guard is {format_length(porch.guard.height_m, units)} high, under the "
            f"36 in of the model code; {_LOCAL}.",
            tall.source,
        )  # fmt: skip
    shafts = porch.pair_m - porch.order.diameter_m
    if porch.pair_m and shafts >= sphere.value:
        yield Finding(
            "guard between couples", "caution",
            f"The {which}guard stops at the couples, whose shafts stand "
            f"{format_length(shafts, units)} apart: a 4 in sphere must not pass; {_LOCAL}.",
            sphere.source,
        )  # fmt: skip
    gap = clear_gap_m(porch.guard)
    if gap >= sphere.value:
        yield Finding(
            "guard gaps", "caution",
            f"The {which}guard's balusters stand {format_length(gap, units)} apart at their "
            f"necks; a 4 in sphere must not pass; {_LOCAL}.",
            sphere.source,
        )  # fmt: skip


def _of_steps(design: Design) -> Iterator[Finding]:
    steps = design.porch.steps
    yield from of_flight(steps, "", design.units)
    stride = 2.0 * steps.riser_m + steps.tread_m
    short, long = rules()["stride_least"], rules()["stride_most"]
    if steps.risers > 1 and not short.value - 1e-6 <= stride <= long.value + 1e-6:
        yield Finding(
            "stride", "check",
            f"Two risers and a tread come to {format_length(stride, design.units)}: "
            f"{'short' if stride < short.value else 'long'} of step; 24 to 27 in is usual.",
            short.source,
        )  # fmt: skip


def of_flight(steps: StepsDesign, door: str, units: str) -> Iterator[Finding]:
    """What the model code asks of a flight; ``door`` names whose it is, "" being the porch's."""
    whose, code = (f"The {door}'s", f"{door} ") if door else ("The", "")
    riser, tread, rail = (rules()[k] for k in ("riser_most", "tread_least", "handrail_risers"))
    if steps.riser_m > riser.value + 1e-6:
        yield Finding(
            f"{code}riser", "caution",
            f"{whose} risers are {format_length(steps.riser_m, units)}, over the model code's "
            f"7 3/4 in; {_LOCAL}.",
            riser.source,
        )  # fmt: skip
    if steps.risers > 1 and steps.tread_m < tread.value - 1e-6:
        yield Finding(
            f"{code}tread", "caution",
            f"{whose} treads are {format_length(steps.tread_m, units)}, under the model "
            f"code's 10 in; {_LOCAL}.",
            tread.source,
        )  # fmt: skip
    if steps.risers >= rail.value and steps.rail == "none":
        yield Finding(
            f"{code}handrail", "caution",
            f"{whose} flight has {steps.risers} risers and no handrail is drawn; four or more "
            f"want one at least; {_LOCAL}.",
            rail.source,
        )  # fmt: skip


_LEAST_SLOPES = {
    "slate": ("slate", "slate_slope"),
    "wood shingle": ("wood shingle", "wood_shingle_slope"),
    "standing seam": ("standing seam", "standing_seam_slope"),
}


def _of_roof(design: Design) -> Iterator[Finding]:
    slopes = {"main roof": design.roof.slope}
    if design.roof.form == "gambrel":
        slopes = {
            "main roof's upper slope": design.roof.slope,
            "main roof's lower slope": design.roof.lower_slope,
        }
    if design.porch.highest.roof in ("hipped", "pediment"):
        slopes["porch roof"] = design.porch.highest.roof_slope
    for row in design.roof.dormers:
        if row.kind != "segmental":
            slopes["dormers' roof"] = row.roof_slope
    steep = rules()["pediment_steep"]
    if design.porch.highest.roof == "pediment" and slopes["porch roof"] > steep.value * _SLACK:
        yield Finding(
            "steep pediment", "note",
            f"The pediment rises {12 * slopes['porch roof']:.3g}:12, steeper than the handbooks' "
            f"{12 * steep.value:.3g}:12 at most; Vitruvius has {12 * 2 / 9:.3g}:12.",
            f"{steep.source} (from memory); Vitruvius, Ten Books, III.5.12",
        )  # fmt: skip
    tiled = "tile" in design.roof.covering
    if not tiled and design.roof.covering not in _LEAST_SLOPES:
        return
    name, key = ("clay tile", "tile_slope") if tiled else _LEAST_SLOPES[design.roof.covering]
    least, double = rules()[key], rules()["tile_double_layer"]
    for roof, slope in slopes.items():
        pitch = f"{12 * slope:.3g}:12"
        if slope < least.value - 1e-9:
            yield Finding(
                "roof pitch", "caution",
                f"The {roof} is {pitch}, too flat for {name} ({12 * least.value:.3g}:12 at least); "
                f"{_LOCAL}.",
                f"{least.source}{' (from memory)' if least.mark == 'from memory' else ''}",
            )  # fmt: skip
        elif tiled and slope < double.value - 1e-9:
            yield Finding(
                "tile underlayment", "note",
                f"The {roof} is {pitch}; clay tile below 4:12 wants a double underlayment.",
                double.source,
            )  # fmt: skip


def _of_recess(porch: PorchDesign, units: str) -> Iterator[Finding]:
    if not porch.anta_m:
        return
    span = max(*porch.open_gaps_m, porch.anta_m - porch.axes_m[-1])
    yield Finding(
        "wall over recess", "caution",
        f"The house's front wall and floors over the recess stand on the beam within the "
        f"entablature, up to {format_length(span, units)} from column to column: for an engineer "
        f"to size, with its columns; {_LOCAL}.",
        "common practice, no source",
    )  # fmt: skip


def _of_roof_flat(design: Design) -> Iterator[Finding]:
    """What a flat on top of the roof wants at its edge."""
    if design.roof.form != "deck":
        return
    rail = design.roof.deck_balustrade
    tall, sphere = rules()["guard_height"], rules()["guard_sphere"]
    source = f"{tall.source}; {sphere.source}"
    if rail is None:
        yield Finding(
            "roof flat open", "caution",
            f"The flat on the roof has an open edge: if people may walk on it, it needs a guard of "
            f"{format_feet_inches(tall.value)} or more and a safe way up; {_LOCAL}.",
            source,
        )  # fmt: skip
        return
    gap = clear_gap_m(rail) if rail.filling == "balusters" else 0.0
    if rail.height_m < tall.value - 1e-6 or gap >= sphere.value:
        yield Finding(
            "roof balustrade no guard", "caution",
            f"The balustrade round the roof's flat is {format_length(rail.height_m, design.units)} "
            f"high, gaps to {format_length(gap, design.units)}: a flat to walk on wants a guard of "
            f"{format_feet_inches(tall.value)} or more that a 4 in sphere cannot pass; {_LOCAL}.",
            source,
        )  # fmt: skip


def _of_structure() -> Finding:
    return Finding(
        "structure", "caution",
        "Sizes here follow proportion, not load: columns, hollow casings and the beam within "
        "the entablature are for an engineer to size, with their footings and uplift ties.",
        "common practice, no source",
    )  # fmt: skip
