"""Plates of the orders: a line drawing with every member's height and reach in parts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from massing.canon import FittedOrder, Member, Plate, fit_order, plate, rounded, with_shaft
from massing.canon.mouldings import stack
from massing.canon.sources import source
from massing.canon.tables import scaled
from massing.design.design import Design
from massing.geometry.mesh import Floats
from massing.geometry.solids import square_lathe
from massing.parts.orders.column import carved_lines, column, flute_lines, shaft_profile
from massing.parts.orders.entablature import entablature
from massing.parts.part import Part
from massing.practice.cautions import CAUTION
from massing.present.plots.style import (
    INK_COLOUR,
    PALE_COLOUR,
    RULE_COLOUR,
    STYLE,
    quiet_axis,
    save_plot,
)
from massing.present.reports.sizes import length_text
from massing.units import whole_steps
from massing.view.outlines import front_lines

SHEET_IN = (11.7, 16.5)  # A3
_FINE, _HAIR = 0.55, 0.35
_LABEL = 0.17  # least distance of two labels, modules


def in_parts(value: float) -> str:
    """Parts as a book writes them: a plain fraction, else hundredths.

    >>> in_parts(16.5), in_parts(0.25), in_parts(7.0), in_parts(7.2), in_parts(7.84)
    ('16 1/2', '1/4', '7', '7 1/5', '7.84')
    """
    nearest = Fraction(value).limit_denominator(9)
    if abs(float(nearest) - value) > 2e-3:
        return f"{value:.2f}"
    whole, rest = divmod(nearest, 1)
    return f"{whole} {rest}" if whole and rest else str(rest if rest else whole)


def spread_labels(wanted: Sequence[float], gap: float) -> Floats:
    """Places near ``wanted`` (rising), at least ``gap`` apart, moved as little as need be.

    >>> spread_labels([0.0, 0.1, 5.0], 1.0).tolist()
    [-0.45, 0.55, 5.0]
    """
    groups: list[list[float]] = []  # sum of wanted less offset, count
    for value in wanted:
        groups.append([value, 1])
        while len(groups) > 1:
            (a, n), (b, m) = groups[-2:]
            if a / n + gap * (n - 1) / 2.0 + gap / 2.0 <= b / m - gap * (m - 1) / 2.0 - gap / 2.0:
                break
            groups[-2:] = [[a + b, n + m]]
    places = [
        total / count + gap * (i - (count - 1) / 2.0)
        for total, count in groups
        for i in range(int(count))
    ]
    return np.array(places)


@dataclass(frozen=True)
class _Sheet:
    """What a plate shows: an order drawn in parts, and how its sizes are written beside it.

    Attributes:
        fitted: the order with its parts as metres.
        table: the canon's plate that it follows.
        title, subtitle: at the head.
        size: a length in parts as it is written under "high" and "out".
        canon: the canon's own order, whose heights stand beside.
        step: how far apart the columns of figures are, in modules.
    """

    fitted: FittedOrder
    table: Plate
    title: str
    subtitle: str
    size: Callable[[float], str]
    canon: FittedOrder | None = None
    stands: bool = True  # on the pedestal that is drawn
    step: float = 0.65


def draw_plate(order: str, canon: str = "vignola") -> Figure:
    """One order on a sheet: the whole at the left, its three groups enlarged at the right.

    Heights and reaches are in parts of the module, reaches of base and capital from the
    column's axis and those of the entablature from the frieze's face. The foot of the sheet
    names the source and says of each group how its values are known.

    Raises:
        ValueError: order or canon is unknown.
    """
    table = plate(order, canon)
    fitted = fit_order(order, canon, diameter_m=table.diameter, pedestal=True)  # parts as metres
    parts = f"{table.parts_per_module:.0f} parts"
    swelling = "" if table.entasis == "none" else f"; entasis: {table.entasis}"
    module = f"the module is half the diameter {fitted.diameter_at}, in {parts}"
    subtitle = f"{_after(table)}; {module}{swelling}"
    return _draw(_Sheet(fitted, table, _title(table), subtitle, in_parts))


def draw_design_plate(design: Design) -> Figure:
    """The order of a design's porch as it is fitted, beside its canon's own heights.

    Sizes are rounded as in the builder's schedule; the last column has the canon's height for
    the same diameter.
    """
    order = rounded(design.porch.order, design.rounding_m)
    table = plate(order.order, order.canon)
    part_m = order.diameter_m / table.diameter
    canon = fit_order(order.order, order.canon, diameter_m=table.diameter, pedestal=True)
    drawn = _in_units(order, part_m)
    stands = bool(drawn.pedestal)
    drawn = drawn if stands else replace(drawn, pedestal=canon.pedestal)
    subtitle = f"{design.name}: {table.order} {_after(table)}, as fitted, beside the canon"

    half = design.rounding_m / 2.0  # of reaches from the axis, whose widths are on the fraction

    def size(parts: float) -> str:
        return length_text(whole_steps(parts * part_m, half) * half, design, half)

    return _draw(_Sheet(drawn, table, _title(table), subtitle, size, canon, stands, 1.0))


def _in_units(order: FittedOrder, unit_m: float) -> FittedOrder:
    """An order with all its lengths in ``unit_m``."""
    share = 1.0 / unit_m
    groups = (
        "pedestal",
        "base",
        "shaft_foot",
        "shaft_head",
        "capital",
        "architrave",
        "frieze",
        "cornice",
    )
    return replace(
        order,
        diameter_m=order.diameter_m * share,
        upper_diameter_m=order.upper_diameter_m * share,
        shaft_height_m=order.shaft_height_m * share,
        triglyph_width_m=order.triglyph_width_m * share,
        capital_sizes=tuple((name, size * share) for name, size in order.capital_sizes),
        **{g: tuple(scaled(m, share, share) for m in getattr(order, g)) for g in groups},  # type: ignore[arg-type]
    )


def _draw(sheet: _Sheet) -> Figure:
    fitted, table = sheet.fitted, sheet.table
    shaft = column(with_shaft(fitted, fluted=None if fitted.square else False))
    flutes = [*flute_lines(fitted), *carved_lines(fitted)]
    span = 1.05 * _cut(fitted, table)
    half = fitted.upper_diameter_m / 2.0
    path = [(-half, span), (-half, -half), (span, -half)]
    axes = [(0.0, 0.0), (0.0, 4.0 * span)]
    beam = entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes[:1])
    height = fitted.column_height_m
    whole = [*shaft, *(_raised(p, height) for p in beam)]
    with matplotlib.rc_context(STYLE):
        figure = Figure(figsize=SHEET_IN)
        FigureCanvasAgg(figure)
        figure.text(0.5, 0.955, sheet.title, ha="center", fontsize=26, color=INK_COLOUR)
        figure.text(0.5, 0.928, sheet.subtitle, ha="center", fontsize=12, color=PALE_COLOUR)
        left = figure.add_axes((0.03, 0.13, 0.25, 0.77))
        _whole(left, whole, flutes, sheet)
        right = figure.add_axes((0.31, 0.13, 0.67, 0.77))
        _details(right, shaft, flutes, beam, sheet)
        _footer(figure, table)
    return figure


def save_plate(order: str, canon: str, path: Path) -> None:
    """Draw a plate to a file; the ending chooses the format, such as ``.svg`` or ``.pdf``.

    Raises:
        ValueError: order or canon is unknown.
    """
    save_plot(draw_plate(order, canon), path)


def save_design_plate(design: Design, path: Path) -> None:
    """Draw the plate of a design's order to a file, as :func:`save_plate` does."""
    save_plot(draw_design_plate(design), path)


def _raised(part: Part, z_m: float) -> Part:
    matrix = np.eye(4)
    matrix[2, 3] = z_m
    return part.moved(matrix)


def _title(table: Plate) -> str:
    return "A Square Pier" if table.order == "pier" else f"The {table.order.title()} Order"


def _after(table: Plate) -> str:
    whose = f"after {table.canon.title()}"
    if table.members_of:
        whose += f" (his totals, the members of {table.members_of.title()} scaled to them)"
    return whose


def _footer(figure: Figure, table: Plate) -> None:
    groups = ("pedestal", "shaft", "base", "capital", "architrave", "frieze", "cornice")
    whose = source(table.source)
    lines = [f"Source: {whose.name or whose.mark}. {_sentence(table.marks['plate'])}"]
    lines += [f"{g.title()}: {_sentence(table.marks[g])}" for g in groups]
    lines.append(CAUTION)
    text = "\n".join(_wrapped(line, 205) for line in lines)
    figure.text(0.05, 0.012, text, fontsize=7.5, color=PALE_COLOUR, va="bottom", linespacing=1.3)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."


def _wrapped(text: str, width: int) -> str:
    import textwrap

    return "\n".join(textwrap.wrap(text, width))


def _strokes(axes: Axes, lines: Floats, width: float = _FINE) -> None:
    """All segments as one broken path, which keeps the file small."""
    gaps = np.full((len(lines), 1, 2), np.nan)
    x, z = np.concatenate([lines, gaps], axis=1).reshape(-1, 2).T
    axes.plot(x, z, color=INK_COLOUR, linewidth=width, solid_capstyle="round", snap=False)


def _whole(axes: Axes, parts: Sequence[Part], flutes: Sequence[Floats], sheet: _Sheet) -> None:
    """The order entire, beside a scale of modules, with the shaft's diameters."""
    fitted, table = sheet.fitted, sheet.table
    _strokes(axes, front_lines(parts, drawn=flutes, turned=True), 0.45)
    quiet_axis(axes)
    axes.set_aspect("equal", anchor="C")
    m, top = table.parts_per_module, fitted.order_height_m
    widest = fitted.cornice_projection_m + fitted.upper_diameter_m / 2.0
    left = -widest - 0.5 * m
    axes.plot([left, left], [0, top], color=PALE_COLOUR, linewidth=_HAIR)
    for i in range(int(top / m + 1e-9) + 1):
        tick = 0.35 * m if i % 5 == 0 else 0.18 * m
        axes.plot([left - tick, left], [i * m, i * m], color=PALE_COLOUR, linewidth=_HAIR)
        if i % 5 == 0:
            axes.text(
                left - 0.5 * m,
                i * m,
                str(i),
                ha="right",
                va="center",
                fontsize=8,
                color=PALE_COLOUR,
            )
    axes.text(left, top + 0.8 * m, "modules", ha="center", fontsize=8, color=PALE_COLOUR)
    if fitted.diameter_m != fitted.upper_diameter_m:
        _diameters(axes, sheet)
    axes.axvline(0.0, color=RULE_COLOUR, linewidth=_HAIR, linestyle=(0, (12, 3, 2, 3)), zorder=0)
    axes.set_xlim(left - 1.4 * m, max(1.05 * _cut(fitted, table), _beside(fitted, table) + 0.9 * m))
    axes.set_ylim(-0.5 * m, top + 1.6 * m)


def _cut(fitted: FittedOrder, table: Plate) -> float:
    """How far to the right of the axis a plate is drawn: base, capital and pedestal are whole."""
    members = (*fitted.pedestal, *fitted.base, *fitted.capital)
    return max(0.9 * table.diameter, max(x.reach for x in members) + 0.06 * table.diameter)


def _beside(fitted: FittedOrder, table: Plate) -> float:
    """Right of everything that the column has, where its widths are written."""
    sizes = dict(fitted.capital_sizes)
    volute = 0.0
    if fitted.capital_kind == "ionic":  # its first quarter runs 8 1/2 half eyes out
        _, channel, rim, *_ = fitted.capital
        volute = sizes["eye"] + 8.5 * (channel.height + rim.height) / 4.0
    reach = max(volute, *(x.reach for x in (*fitted.base, *fitted.capital)))
    return max(1.2 * table.parts_per_module, reach + 0.12 * table.parts_per_module)


def _diameters(axes: Axes, sheet: _Sheet) -> None:
    """The shaft's diameter at its foot, its thirds and its neck."""
    fitted, table = sheet.fitted, sheet.table
    foot = fitted.base_height_m
    body = fitted.shaft_height_m - sum(x.height for x in fitted.shaft_head)
    m, profile = table.parts_per_module, shaft_profile(fitted)
    low, x = sum(k.height for k in fitted.shaft_foot), _beside(fitted, table)
    for y in (low, body / 3.0, 2.0 * body / 3.0, body):
        radius = float(np.interp(y, profile[:, 1], profile[:, 0]))
        z = foot + y
        axes.plot([radius + 0.05 * m, x], [z, z], color=RULE_COLOUR, linewidth=_HAIR)
        axes.text(x + 0.05 * m, z, sheet.size(2.0 * radius), va="center", fontsize=8)
    axes.text(
        x + 0.05 * m,
        foot + body + 0.45 * m,
        "across",
        fontsize=8,
        color=PALE_COLOUR,
        style="italic",
    )


def _details(
    axes: Axes,
    shaft: Sequence[Part],
    flutes: Sequence[Floats],
    beam: Sequence[Part],
    sheet: _Sheet,
) -> None:
    """Entablature, capital, and base on its pedestal, enlarged to one scale."""
    fitted, table = sheet.fitted, sheet.table
    quiet_axis(axes)
    axes.set_aspect("equal", anchor="C")
    m, half = table.parts_per_module, fitted.upper_diameter_m / 2.0
    gap = 0.9 * m
    neck = fitted.base_height_m + fitted.shaft_height_m
    head = sum(x.height for x in fitted.shaft_head) + 0.25 * m
    foot = sum(x.height for x in fitted.shaft_foot) + 0.3 * m
    stand, die = _shortened(fitted.pedestal, 0.9 * m)
    stand_m = sum(x.height for x in stand)
    spare = [
        _LABEL * m * len(g) - h for g, h in ((stand, stand_m), (fitted.base, fitted.base_height_m))
    ]
    base_z = stand_m + gap + sum(max(0.0, x) for x in spare) / 2.0
    base_top = base_z + fitted.base_height_m + foot
    capital_z = base_top + gap - (neck - head)
    beam_z = fitted.column_height_m + capital_z + gap
    lines = front_lines(shaft, drawn=flutes, turned=True)
    bands = ((0.0, base_top - base_z, base_z), (neck - head, np.inf, capital_z))
    for low, high, shift in bands:
        _strokes(axes, _between(lines, low, high) + [0.0, shift])
    base_lines = front_lines([Part(("pedestal",), "order", square_lathe(stack(stand)))])
    for low, high in ((0.0, die - 0.06 * m), (die + 0.06 * m, np.inf)):
        _strokes(axes, _between(base_lines, low, high))
    reach = next(x.reach for x in stand if x.name == "die")
    _break(axes, reach, die - 0.06 * m)
    _break(axes, reach, die + 0.06 * m)
    cut = _cut(fitted, table)
    _strokes(axes, _left_of(front_lines(beam), cut) + [0.0, beam_z])
    _break(axes, fitted.diameter_m / 2.0, base_top)
    _break(axes, half, neck - head + capital_z)

    # figures stand at the left, where the cornice reaches farthest
    column_x = -(fitted.cornice_projection_m + half) - 0.5 * m
    place = (column_x, m)
    below = "pedestal, from the axis" if sheet.stands else "pedestal, the canon's; none here"
    _figure_column(axes, sheet, below, stand, 0.0, 0.0, *place)
    _figure_column(axes, sheet, "base, from the axis", fitted.base, base_z, 0.0, *place)
    upper = (*fitted.shaft_head, *fitted.capital)
    start = fitted.base_height_m + fitted.shaft_height_m - sum(x.height for x in fitted.shaft_head)
    _figure_column(axes, sheet, "capital, from the axis", upper, start + capital_z, 0.0, *place)
    members = (*fitted.architrave, *fitted.frieze, *fitted.cornice)
    _figure_column(axes, sheet, "entablature, from the frieze", members, beam_z, half, *place)
    axes.plot(
        [0.0, 0.0],
        [-0.3 * m, beam_z - 0.2 * m],
        color=RULE_COLOUR,
        linewidth=_HAIR,
        linestyle=(0, (12, 3, 2, 3)),
        zorder=0,
    )
    axes.set_xlim(column_x - (3.9 if sheet.canon is None else 5.8) * m, cut)
    axes.set_ylim(-0.6 * m, beam_z + fitted.entablature_height_m + 1.4 * m)


def _shortened(members: Sequence[Member], die_m: float) -> tuple[list[Member], float]:
    """A pedestal's members with the die cut short to ``die_m``, and the height of the cut."""
    short = [replace(x, height=die_m) if x.name == "die" else x for x in members]
    index = next(i for i, x in enumerate(short) if x.name == "die")
    return short, sum(x.height for x in short[:index]) + die_m / 2.0


def _between(lines: Floats, low: float, high: float) -> Floats:
    """Segments clipped to a band of heights."""
    a, b = lines[:, 0], lines[:, 1]
    rise = b[:, 1] - a[:, 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.stack([(low - a[:, 1]) / rise, (high - a[:, 1]) / rise])
    first, last = np.clip(np.nanmin(t, axis=0), 0, 1), np.clip(np.nanmax(t, axis=0), 0, 1)
    flat = np.abs(rise) < 1e-12
    inside = (a[:, 1] >= low - 1e-9) & (a[:, 1] <= high + 1e-9)
    first, last = np.where(flat, 0.0, first), np.where(flat, inside * 1.0, last)
    keep = last > first
    ray = b - a
    return np.stack([a + first[:, None] * ray, a + last[:, None] * ray], 1)[keep]


def _left_of(lines: Floats, x: float) -> Floats:
    swapped = _between(lines[..., ::-1], -np.inf, x)
    return swapped[..., ::-1]


def _break(axes: Axes, half: float, z: float) -> None:
    """A broken edge across a shaft that goes on."""
    t = np.linspace(-1.0, 1.0, 41)
    wave = 0.05 * half * np.sin(3 * np.pi * t)
    axes.plot(half * t, z + wave, color=PALE_COLOUR, linewidth=_HAIR)


def _figure_column(
    axes: Axes,
    sheet: _Sheet,
    from_what: str,
    members: Sequence[Member],
    foot: float,
    face: float,
    x: float,
    m: float,
) -> None:
    """Each member's height, reach and name beside it, on leaders from its edges."""
    heights = np.array([k.height for k in members])
    edges = foot + np.concatenate([[0.0], np.cumsum(heights)])
    middles = (edges[:-1] + edges[1:]) / 2.0
    places = spread_labels(middles.tolist(), _LABEL * m)
    ends = [members[0].foot, *(k.reach for k in members)]
    for z, reach in zip(edges, ends, strict=True):
        axes.plot(
            [x, -(face + reach) - 0.08 * m], [z, z], color=RULE_COLOUR, linewidth=_HAIR, zorder=0
        )
    axes.plot([x, x], [edges[0], edges[-1]], color=PALE_COLOUR, linewidth=_HAIR)
    for z in edges:
        axes.plot([x - 0.08 * m, x + 0.08 * m], [z, z], color=PALE_COLOUR, linewidth=_HAIR)
    group = from_what.partition(",")[0]
    named, canon = _members_of(sheet.fitted, group), None
    heads = ["high", "out", from_what]
    if sheet.canon is not None:
        canon, heads = _members_of(sheet.canon, group), ["high", "out", "canon", from_what]
    offsets = [0.5 + i * sheet.step for i in range(len(heads))]
    for i, (middle, place) in enumerate(zip(middles, places, strict=True)):
        axes.plot([x - 0.1 * m, x - 0.4 * m], [middle, place], color=RULE_COLOUR, linewidth=_HAIR)
        cells = [sheet.size(named[i].height), sheet.size(named[i].reach), named[i].name]
        if canon is not None:
            cells.insert(2, sheet.size(canon[i].height))
        for offset, text in zip(offsets, cells, strict=True):
            axes.text(x - offset * m, place, text, ha="right", va="center", fontsize=9)
    top = max(edges[-1], places[-1]) + 0.2 * m
    for offset, text in zip(offsets, heads, strict=True):
        axes.text(
            x - offset * m,
            top,
            text,
            ha="right",
            va="bottom",
            fontsize=8,
            color=PALE_COLOUR,
            style="italic",
        )


def _members_of(order: FittedOrder, group: str) -> Sequence[Member]:
    """The members of one enlarged detail, bottom to top, at their full heights."""
    return {
        "pedestal": order.pedestal,
        "base": order.base,
        "capital": (*order.shaft_head, *order.capital),
        "entablature": (*order.architrave, *order.frieze, *order.cornice),
    }[group]
