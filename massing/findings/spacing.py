"""The spacing of the columns, by Vitruvius' names and by the triglyphs over them."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from massing.canon import books, spacings, vitruvius
from massing.canon.arcades import ArcadeRule, arcade_rule
from massing.canon.sources import cited
from massing.design.design import Design
from massing.design.porch import SemicircularPorch
from massing.findings.figure import Row, of_the_books
from massing.findings.finding import SLACK, Remarks, Saying
from massing.findings.measures import clear_intercolumniations, slenderness
from massing.practice.joinery_sizes import casing_width
from massing.practice.rules import Rule
from massing.settingout.ornament_rows import bay_step_m, corner_step_m
from massing.units import format_length

_EVEN = 0.01  # of a diameter
_SEEN = 0.03  # of a spacing: a change that the eye finds along a row


def _within_couple(design: Design) -> float | None:
    porch = design.porch
    return porch.couple_axis_m / porch.order.diameter_m - 1.0 if porch.couple_axis_m else None


_COLONNADE = of_the_books("books_clear", "diameters", books.clear)


def _clear_of_the_books(design: Design) -> float | tuple[float, float] | None:
    """Of a colonnade what the books have; of an arcade, whose piers carry, the arcade's own."""
    own = _arcade_rule(design)
    return _COLONNADE.measure(design) if own is None else own.axis / 2.0 - 1.0


def _arcade_rule(design: Design) -> ArcadeRule | None:
    order = design.porch.order
    if design.porch.arcade is None:
        return None
    return arcade_rule(order.order, pedestals=bool(order.pedestal))


def _clear_note(design: Design) -> str:
    own, note = _arcade_rule(design), _COLONNADE.note
    if own is None:
        return note if isinstance(note, str) else note(design)
    return f"{own.axis:g} modules from axis to axis of an arcade by Vignola; {own.mark}"


FIGURES = (
    Row(
        "clear_widest",
        "Widest clear spacing",
        "diameters",
        lambda d: f"between shafts {d.porch.order.diameter_at}",
        lambda d: max(clear_intercolumniations(d)),
        above=True,
    ),
    Row(
        "clear_narrowest",
        "Narrowest clear spacing",
        "diameters",
        lambda d: f"between shafts {d.porch.order.diameter_at}",
        lambda d: min(clear_intercolumniations(d)),
        above=True,
    ),
    Row("books_clear", _COLONNADE.name, "diameters", _clear_note, _clear_of_the_books, above=True),
    Row(
        "clear_in_couple",
        "Clear within a couple",
        "diameters",
        lambda d: f"between shafts {d.porch.order.diameter_at}",
        _within_couple,
    ),
    Row(
        "columns",
        "{Member}s across the front",
        "count",
        "standing free",
        lambda d: len(d.porch.axes_m),
    ),
)

remark = Remarks()


@remark("slender for spacing", "note")
def slender_for_spacing(design: Design) -> Iterator[Saying]:
    """The wider the spacing, the stouter the column, by him who says so of their order."""
    if design.porch.arcade is not None:
        return  # the piers carry, and the arches have measures of their own
    order, clears = design.porch.order, _of_a_row(design)
    if not clears:
        return
    clear = min(clears)
    name = vitruvius.nearest_spacing(clear)
    said, ratio = vitruvius.column_by_spacing(order.order, name), slenderness(order)
    if said is not None and ratio > said.least * 1.1:
        yield (
            f"The columns are 1:{ratio:.1f} and stand {clear:.1f} diameters apart; for the "
            f"{order.order.title()} and {name}, the nearest named spacing, Vitruvius has "
            f"1:{said.least:.3g}: the wider, the stouter",
            said.cited,
        )


@remark("wide spacing", "check")
def wide_spacing(design: Design) -> Iterator[Saying]:
    """Wider than every named spacing; but for a middle pair no wider than its doorway wants."""
    if design.porch.arcade is not None:
        return  # the piers carry, and the arches have measures of their own
    widest, named = max(_of_a_row(design), default=0.0), spacings()
    wide, loose = named["araeostyle"], named["diastyle"]
    if widest > wide.clear * SLACK:
        yield (
            f"The widest clear spacing is {widest:.1f} diameters, wider even than araeostyle "
            f"({wide.clear:.0f} by later convention) and diastyle ({loose.clear:.0f})",
            cited([loose.source, wide.source]),
        )


@remark("araeostyle", "note")
def araeostyle(design: Design) -> Iterator[Saying]:
    """Beyond diastyle, which wants beams of timber; but for the middle pair before the door.

    Vitruvius lets the middle of a eustyle front stand wider than its sides for the way in
    (III.3.6); how much wider a house's door wants it is no kind of temple.
    """
    if design.porch.arcade is not None:
        return  # the piers carry, and the arches have measures of their own
    named, all_clear = spacings(), clear_intercolumniations(design)
    wide, loose = named["araeostyle"], named["diastyle"]
    beside = _beside_the_door(design, all_clear)
    if loose.clear * SLACK < max(beside, default=0.0) and max(all_clear) <= wide.clear * SLACK:
        yield (
            f"The widest clear spacing is {max(beside):.1f} diameters, beyond diastyle "
            f"({loose.clear:.0f}): araeostyle, which wants beams of timber",
            cited("vitruvius III.3.5"),
        )


def _beside_the_door(design: Design, clears: tuple[float, ...]) -> tuple[float, ...]:
    """Clear spacings of a front but for the middle one, where a door is behind it."""
    doors = (o for o in design.house.doors if o.entrance)
    middle = len(clears) // 2
    off = design.porch.from_middle_m
    if len(clears) % 2 == 0 or not any(off(door.along_m) < _SEEN for door in doors):
        return clears
    return clears[:middle] + clears[middle + 1 :]


def _of_a_row(design: Design) -> tuple[float, ...]:
    """The clear spacings, less a middle one that stands as its doorway wants."""
    clears = clear_intercolumniations(design)
    if max(clears) <= _before_the_doorway(design):
        return _beside_the_door(design, clears)
    return clears


def _before_the_doorway(design: Design) -> float:
    """Clear spacing at which two columns just leave the doorway before the middle free.

    Their beam's ends meet the wall beside its casing, and the frieze's or the cornice's rows come
    out whole (common practice, no source).
    """
    doors = (o for o in design.house.doors if o.entrance)
    door = next((o for o in doors if design.porch.from_middle_m(o.along_m) < _SEEN), None)
    if door is None:
        return 0.0
    order = design.porch.order
    axis_m = door.width_m + 2.0 * casing_width(door.width_m) + order.upper_diameter_m
    rows = [m.row.spacing for m in order.frieze if m.row is not None and m.row.kind == "triglyph"]
    step_m = rows[0] if rows else corner_step_m(order) or 0.0
    if step_m:
        axis_m = step_m * ceil(axis_m / step_m - 1e-6)
    return axis_m / order.diameter_m - 1.0 + _EVEN


@remark("close spacing", "check")
def close_spacing(design: Design) -> Iterator[Saying]:
    """Closer than every named spacing."""
    narrowest, close = min(clear_intercolumniations(design)), spacings()["pycnostyle"]
    if narrowest < close.clear / SLACK:
        yield (
            f"The narrowest clear spacing is {narrowest:.1f} diameters, closer than pycnostyle "
            f"({close.clear})",
            cited(close.source),
        )


@remark("couples", "note", "coupled_clear", "coupled_between")
def couples(design: Design, within: Rule, between: Rule) -> Iterator[Saying]:
    """Coupled columns wider apart than the book's."""
    porch = design.porch
    own = _within_couple(design)
    if own is None:
        return
    across = max(porch.open_gaps_m) / porch.order.diameter_m - 1.0
    if max(own / within.value, across / between.value) > 1.1:
        yield (
            f"The couples stand {own:.2f} diameters clear and {across:.2f} from each other; "
            f"Ware's coupled columns stand {within.written} clear and {between.written} apart"
        )


@remark("metopes", "check", source="ware pp. 13-14")
def metopes(design: Design) -> Iterator[Saying]:
    """Metopes that come out oblong."""
    order = design.porch.order
    for member in order.frieze:
        if member.row is None or member.row.kind != "triglyph":
            continue
        widths = (_metope(gap, member.row.spacing) for gap in design.porch.gaps_m)
        high = order.frieze_height_m
        worst = max((w - member.row.width for w in widths), key=lambda w: abs(w - high))
        if abs(worst / high - 1.0) > 0.1:
            yield (
                f"The metopes come out {worst / high:.2f} as wide as high, not square; column "
                "spacings that are whole triglyph spacings, "
                f"{format_length(member.row.spacing, design.units)}, would square them"
            )


@remark("corner modillions", "note", source="ware pp. 19-20")
def corner_modillions(design: Design) -> Iterator[Saying]:
    """Modillions whose spacing changes so that axis and corner both have one."""
    porch = design.porch
    if isinstance(porch, SemicircularPorch):
        return
    at_corner = corner_step_m(porch.order)
    bays = [step for gap in porch.gaps_m if (step := bay_step_m(porch.order, gap)) is not None]
    if at_corner is None or not bays:
        return
    worst = max(bays, key=lambda step: abs(step / at_corner - 1.0))
    if abs(worst / at_corner - 1.0) > _SEEN:
        wide, near = (format_length(x, design.units) for x in (worst, at_corner))
        yield (
            f"So that every column and every corner has its modillion, they stand {wide} on "
            f"centres between columns and {near} beyond the last one, "
            f"{100 * abs(worst / at_corner - 1.0):.0f} % apart; column spacings that are whole "
            "modillion spacings would make them even"
        )


def _metope(axis_m: float, spacing_m: float) -> float:
    """Triglyph spacing that a column spacing comes to."""
    return axis_m / max(1, round(axis_m / spacing_m))
