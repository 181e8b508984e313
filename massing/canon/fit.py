"""Scaling a plate to metres from whatever dimensions a designer pins."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from massing.canon.entasis import CURVES
from massing.canon.order import FittedCornice, FittedOrder, Member, Ornament
from massing.canon.tables import PEDESTAL, Plate, plate, scaled, spacings
from massing.units import whole_steps

__all__ = [
    "Departure",
    "FittedCornice",
    "FittedOrder",
    "Member",
    "Ornament",
    "departures",
    "fit_cornice",
    "fit_order",
    "rounded",
    "spacing_axis_m",
    "with_shaft",
]

_SUM_TOLERANCE_M = 5e-4  # half a millimetre: rounding of written feet and inches
_LEAST_SHAFT = 2.0  # diameters; shorter is no column
_DORIC_CHANNELS = 20  # for a shaft whose plate is plain


def _heights(
    ratio: float,
    slenderness: float,
    diameter_m: float | None,
    column_height_m: float | None,
    entablature_m: float | None,
    order_height_m: float | None,
    rule: str,
) -> tuple[dict[str, float], dict[str, str]]:
    """Diameter, column and entablature from any subset, each with its origin.

    ``ratio`` is entablature over column, ``slenderness`` column height in diameters.
    """
    given = {
        "diameter_m": diameter_m,
        "column_height_m": column_height_m,
        "entablature_m": entablature_m,
        "order_height_m": order_height_m,
    }
    for name, value in given.items():
        if value is not None and not value > 0.0:
            raise ValueError(f"{name} must be more than nothing, got {value}")
    size = {name: value for name, value in given.items() if value is not None}
    if not size:
        raise ValueError(
            "an order needs one dimension to scale from: its diameter, column height, "
            "entablature or whole height"
        )
    origin = dict.fromkeys(size, "given")

    def derive(name: str, value: float, how: str) -> None:
        size[name], origin[name] = value, how

    if order_height_m is not None:
        _share_out(size, derive, ratio, rule)
    if "column_height_m" not in size:
        if "diameter_m" not in size:
            d = size["entablature_m"] / (ratio * slenderness)
            derive("diameter_m", d, f"entablature / {ratio * slenderness:.4g} ({rule})")
        h = size["diameter_m"] * slenderness
        derive("column_height_m", h, f"{slenderness:.4g} diameters ({rule})")
    if "diameter_m" not in size:
        d = size["column_height_m"] / slenderness
        derive("diameter_m", d, f"column height / {slenderness:.4g} ({rule})")
    if "entablature_m" not in size:
        e = size["column_height_m"] * ratio
        derive("entablature_m", e, f"{ratio:.4g} of the column's height ({rule})")
    if "order_height_m" not in size:
        total = size["column_height_m"] + size["entablature_m"]
        derive("order_height_m", total, "column and entablature")
    return size, origin


def _share_out(
    size: dict[str, float], derive: Callable[[str, float, str], None], ratio: float, rule: str
) -> None:
    """Share an order's height between column and entablature, one of which may be given.

    Raises:
        ValueError: both are given and do not make it up, or nothing is left for one of them.
    """
    whole, column, beam = map(size.get, ("order_height_m", "column_height_m", "entablature_m"))
    assert whole is not None
    if column is not None and beam is not None:
        if abs(whole - (column + beam)) > _SUM_TOLERANCE_M:
            raise ValueError(
                f"the order's height {whole:.4f} m is not its column {column:.4f} m and "
                f"entablature {beam:.4f} m, which make {column + beam:.4f} m"
            )
    elif column is not None:
        derive("entablature_m", whole - column, "order height less column height")
    elif beam is not None:
        derive("column_height_m", whole - beam, "order height less entablature")
    else:
        derive(
            "column_height_m", whole / (1.0 + ratio), f"order height / {1.0 + ratio:.4g} ({rule})"
        )
    for name, words in (("entablature_m", "entablature"), ("column_height_m", "column")):
        if name in size and not size[name] > 0.0:
            raise ValueError(f"the order's height {whole:.4f} m leaves nothing for the {words}")


def _whole_ratio(table: Plate) -> float:
    """Pedestal, column and entablature over column and entablature."""
    return 1.0 + table.pedestal_diameters / (table.column_diameters + table.entablature_diameters)


def _rule(table: Plate) -> str:
    return f"{table.order}, {table.canon}{' totals' if table.members_of else ''}"


def fit_order(
    order: str,
    canon: str = "vignola",
    *,
    diameter_m: float | None = None,
    column_height_m: float | None = None,
    entablature_m: float | None = None,
    order_height_m: float | None = None,
    whole_height_m: float | None = None,
    pedestal: bool = False,
) -> FittedOrder:
    """A plate scaled to metres from any subset of its main dimensions.

    From any one the rest follows by the canon. Base, capital and all reaches of the column
    keep to the diameter, and the shaft takes up what is left of a pinned column height;
    the entablature is scaled as a whole by its height, so that its mouldings keep their
    character. With the order's height and the diameter pinned, the height is shared between
    column and entablature as in the canon.

    With ``pedestal`` the column stands on one; with ``whole_height_m`` in place of
    ``order_height_m``, that height takes it in, in the canon's share.

    >>> fitted = fit_order("tuscan", column_height_m=3.5)
    >>> fitted.diameter_m, round(fitted.entablature_height_m, 6)
    (0.5, 0.875)

    Raises:
        ValueError: nothing is given, a size is not positive, the heights contradict each
            other, the column is too short for its diameter, or order or canon is unknown.
    """
    table = plate(order, canon)
    if whole_height_m is not None:
        if order_height_m is not None:
            raise ValueError("an order is scaled by its height with or without pedestal, not both")
        order_height_m, pedestal = whole_height_m / _whole_ratio(table), True
    size, origin = _heights(
        table.entablature_diameters / table.column_diameters,
        table.column_diameters,
        diameter_m,
        column_height_m,
        entablature_m,
        order_height_m,
        _rule(table),
    )
    part = size["diameter_m"] / table.diameter
    beam = size["entablature_m"] / (table.entablature_diameters * table.diameter)
    stand: tuple[Member, ...] = ()
    if whole_height_m is not None:
        origin["order_height_m"] = f"whole height / {_whole_ratio(table):.4g} ({_rule(table)})"
        rest = whole_height_m - size["order_height_m"]
        rise = rest / table.group_height(PEDESTAL)
        stand = tuple(scaled(m, rise, part) for m in table.groups[PEDESTAL])
    elif pedestal:
        stand = _scaled(table, PEDESTAL, part)
    origin["upper_diameter_m"] = (
        f"{table.upper_radius / table.parts_per_module:.4g} of the lower diameter ({_rule(table)})"
    )
    return _sprung(replace(_fitted(table, size, part, beam, origin), pedestal=stand))


def _fitted(
    table: Plate,
    size: Mapping[str, float],
    part: float,
    beam: float,
    origin: Mapping[str, str],
) -> FittedOrder:
    """The plate in metres, ``part`` and ``beam`` of them to a part of column and entablature."""
    base, capital = _scaled(table, "base", part), _scaled(table, "capital", part)
    frieze = _scaled(table, "frieze", beam)
    triglyphs = [m.row.width for m in frieze if m.row and m.row.kind == "triglyph"]
    return FittedOrder(
        order=table.order,
        canon=table.canon,
        diameter_m=size["diameter_m"],
        upper_diameter_m=2.0 * table.upper_radius * part,
        base=base,
        shaft_height_m=_shaft_height_m(size, base, capital),
        capital=capital,
        architrave=_scaled(table, "architrave", beam),
        frieze=frieze,
        cornice=_scaled(table, "cornice", beam),
        square=table.square,
        triglyph_width_m=triglyphs[0] if triglyphs else 0.0,
        origins=tuple(origin.items()),
        shaft_foot=tuple(scaled(m, part, part) for m in table.shaft_foot),
        shaft_head=tuple(scaled(m, part, part) for m in table.shaft_head),
        entasis=table.entasis,
        flutes=table.flutes,
        flute_kind=table.flute_kind,
        clear_spacing_diameters=table.clear_spacing_diameters,
        capital_kind=table.capital_kind,
        capital_sizes=tuple((name, size * part) for name, size in table.capital_sizes),
    )


def _scaled(table: Plate, group: str, scale: float) -> tuple[Member, ...]:
    """A group's members with heights and reaches in metres."""
    return tuple(scaled(m, scale, scale) for m in table.groups[group])


def _shaft_height_m(
    size: Mapping[str, float], base: Sequence[Member], capital: Sequence[Member]
) -> float:
    """What base and capital leave of a column's height.

    Raises:
        ValueError: too little for a shaft.
    """
    ends = sum(m.height for m in (*base, *capital))
    shaft = size["column_height_m"] - ends
    if shaft < _LEAST_SHAFT * size["diameter_m"]:
        least = ends + _LEAST_SHAFT * size["diameter_m"]
        raise ValueError(
            f"a column {size['column_height_m']:.4f} m high is too short for its diameter of "
            f"{size['diameter_m']:.4f} m; it needs at least {least:.4f} m"
        )
    return shaft


def _sprung(fitted: FittedOrder) -> FittedOrder:
    """The order with the apophyge at its shaft's foot meeting the shaft there."""
    if not fitted.shaft_foot:
        return fitted
    *below, last = fitted.shaft_foot
    met = replace(last, head=fitted.foot_diameter_m / 2.0)
    return replace(fitted, shaft_foot=(*below, met))


def with_shaft(
    fitted: FittedOrder, *, entasis: str | None = None, fluted: bool | None = None
) -> FittedOrder:
    """The order with its shaft's outline and flutes chosen; ``None`` keeps to the canon's.

    A shaft whose plate is plain takes the Doric's channels. ``entasis`` is a key of
    :data:`massing.canon.entasis.CURVES`.

    >>> with_shaft(fit_order("tuscan", diameter_m=0.4), fluted=True).flutes
    20

    Raises:
        ValueError: the entasis is unknown, or the order is a square pier, which has neither.
    """
    if fitted.square and (entasis not in (None, "none") or fluted):
        raise ValueError("a square pier has neither entasis nor flutes")
    if entasis is not None and entasis not in CURVES:
        raise ValueError(f"entasis {entasis!r} is unknown; allowed: {', '.join(CURVES)}")
    flutes, kind = fitted.flutes, fitted.flute_kind
    if fluted is not None:
        flutes = (flutes or _DORIC_CHANNELS) if fluted else 0
        kind = kind or ("arris" if fluted else "")
    return _sprung(
        replace(fitted, entasis=entasis or fitted.entasis, flutes=flutes, flute_kind=kind)
    )


def fit_cornice(height_m: float, order: str = "tuscan", canon: str = "vignola") -> FittedCornice:
    """An order's cornice alone, scaled as a whole to ``height_m``, for a wall without columns.

    Raises:
        ValueError: the height is not positive, or order or canon is unknown.
    """
    if not height_m > 0.0:
        raise ValueError(f"a cornice's height must be more than nothing, got {height_m}")
    table = plate(order, canon)
    part = height_m / table.group_height("cornice")
    return FittedCornice(tuple(scaled(m, part, part) for m in table.groups["cornice"]))


def spacing_axis_m(fitted: FittedOrder, name: str) -> tuple[float, float | None]:
    """Column axis to axis by a named intercolumniation, and the middle one where it is wider.

    ``name`` is one of :func:`massing.canon.spacings`, or ``canon`` for the order's own.
    Where the frieze has triglyphs, each spacing is the nearest whole number of triglyph
    spacings, so that a triglyph stands over every column; a wider middle stays wider.

    >>> fitted = fit_order("tuscan", diameter_m=0.4)
    >>> spacing_axis_m(fitted, "eustyle")
    (1.3, 1.6)

    Raises:
        ValueError: the name is unknown.
    """
    if name == "canon":
        clear, centre_clear = fitted.clear_spacing_diameters, None
    elif name in spacings():
        clear, centre_clear = spacings()[name].clear, spacings()[name].centre
    else:
        allowed = ", ".join([*spacings(), "canon"])
        raise ValueError(f"spacing {name!r} is unknown; allowed: {allowed}")
    d = fitted.diameter_m
    axis = (clear + 1.0) * d
    centre = None if centre_clear is None else (centre_clear + 1.0) * d
    pitches = [m.row.spacing for m in fitted.frieze if m.row and m.row.kind == "triglyph"]
    if pitches:
        count = max(1, round(axis / pitches[0]))
        axis = count * pitches[0]
        if centre is not None:
            centre = max(count + 1, round(centre / pitches[0])) * pitches[0]
    return axis, centre


# --- departures and rounding ---------------------------------------------------------------


@dataclass(frozen=True)
class Departure:
    """A main dimension that a pin has drawn away from the canon's, metres."""

    name: str
    canon_m: float
    fitted_m: float

    @property
    def share(self) -> float:
        """Fitted over canon, less one: 0.1 is a tenth more."""
        return self.fitted_m / self.canon_m - 1.0


_MAIN = (
    "pedestal_height_m",
    "column_height_m",
    "base_height_m",
    "shaft_height_m",
    "capital_height_m",
    "upper_diameter_m",
    "entablature_height_m",
    "architrave_height_m",
    "frieze_height_m",
    "cornice_height_m",
    "cornice_projection_m",
)


def departures(fitted: FittedOrder, tolerance: float = 0.005) -> list[Departure]:
    """Where an order leaves its canon by more than ``tolerance``, for the same diameter.

    The members of a group are scaled together, so each departs as its group does.

    >>> pinned = fit_order("tuscan", diameter_m=0.4, column_height_m=3.5, entablature_m=0.7)
    >>> [(d.name, round(d.share, 3)) for d in departures(pinned)]
    [('column height', 0.25), ('shaft height', 0.292)]
    """
    canon = fit_order(
        fitted.order, fitted.canon, diameter_m=fitted.diameter_m, pedestal=bool(fitted.pedestal)
    )
    rows = [
        Departure(
            field.removesuffix("_m").replace("_", " "),
            getattr(canon, field),
            getattr(fitted, field),
        )
        for field in _MAIN
        if getattr(canon, field)
    ]
    return [row for row in rows if abs(row.share) > tolerance]


def rounded(fitted: FittedOrder, step_m: float) -> FittedOrder:
    """The order in whole steps of a builder's rule, such as a sixteenth of an inch.

    Diameters, heights and reaches from the frieze become multiples of ``step_m``; so do the widths
    of what stands round the axis, so that its reaches are multiples of half a step, and a necking
    as wide as the shaft's head is so when both are rounded. The top of each group stands
    at the multiple nearest to where it stood, so that the whole rounds as the whole; within a
    group none of the members is lost and they add up, the largest taking up the difference.
    Ornaments keep their spacing.

    Raises:
        ValueError: the step is not positive, or too coarse for the members of a group.
    """
    if not step_m > 0.0:
        raise ValueError(f"a step must be more than nothing, got {step_m}")

    def whole(value: float) -> float:
        return whole_steps(value, step_m) * step_m

    def group(members: Sequence[Member], steps: int, share: int = 1) -> tuple[Member, ...]:
        counts = _whole_counts([m.height / step_m for m in members], steps)
        return tuple(
            replace(
                m,
                height=n * step_m,
                foot=whole(share * m.foot) / share,
                head=whole(share * m.head) / share,
            )
            for m, n in zip(members, counts, strict=True)
        )

    def round_the_axis(members: Sequence[Member], steps: int) -> tuple[Member, ...]:
        return group(members, steps, share=2)

    def alone(members: Sequence[Member]) -> tuple[Member, ...]:
        return round_the_axis(members, whole_steps(sum(m.height for m in members), step_m))

    names = ("pedestal", "base", "shaft", "capital", "architrave", "frieze", "cornice")
    steps, top_m, below = {}, 0.0, 0
    for name in names:
        top_m += getattr(fitted, f"{name}_height_m")
        steps[name] = whole_steps(top_m, step_m) - below
        below += steps[name]
    return replace(
        fitted,
        diameter_m=whole(fitted.diameter_m),
        upper_diameter_m=whole(fitted.upper_diameter_m),
        pedestal=round_the_axis(fitted.pedestal, steps["pedestal"]),
        base=round_the_axis(fitted.base, steps["base"]),
        shaft_height_m=steps["shaft"] * step_m,
        shaft_foot=alone(fitted.shaft_foot),
        shaft_head=alone(fitted.shaft_head),
        capital=round_the_axis(fitted.capital, steps["capital"]),
        architrave=group(fitted.architrave, steps["architrave"]),
        frieze=group(fitted.frieze, steps["frieze"]),
        cornice=group(fitted.cornice, steps["cornice"]),
    )


def _whole_counts(heights: Sequence[float], total: int) -> list[int]:
    """Whole numbers near ``heights``, none under 1, whose sum is ``total``."""
    counts = [max(1, round(h)) for h in heights]
    excess = sum(counts) - total
    for i in sorted(range(len(counts)), key=lambda i: -heights[i]):
        change = min(excess, counts[i] - 1)
        counts[i] -= change
        excess -= change
    if excess:
        raise ValueError("the step is too coarse for the smallest members")
    return counts
