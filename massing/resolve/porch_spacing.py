"""The spacing of a porch's columns that a scene leaves to its rule.

The house's bays, where columns that follow them stand no wider than the books have it, square
their metopes, and clear door and windows; or where their diameter is given, so that what is drawn
is drawn and judged. Otherwise the middle pair as far apart as the door wants, and the others as
near eustyle as suits the order and clears the windows; where the number is left out too, and four
columns would stand beyond diastyle or before windows, two.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from massing.canon import FittedOrder, spacings, vitruvius
from massing.practice.joinery_sizes import casing_width
from massing.practice.rules import rule
from massing.resolve.bays import SAME_M, about, closest, column_gaps, entrance_bay
from massing.resolve.door_leaves import FRAME_M, LEAF_WIDTH_M, PAIR_WIDTH_M, SIDELIGHT_M
from massing.resolve.windows import WINDOW_OF_BAY, WINDOW_WIDTH_LIMITS_M
from massing.scene.spec import House, Porch
from massing.settingout.ornament_rows import corner_step_m

# Shaft before an opening by no more than a tenth of the diameter is not before it (as findings do).
_BEFORE_OF_DIAMETER = 0.4
_SLENDER = 1.1  # beyond Vitruvius' slenderness for a spacing: as findings do
_SLACK = 1.015  # within which findings say nothing
_EVEN = 0.005  # of a diameter
_HAIR_M = 0.001
_NEARLY = (1.0, 0.95, 1.05)  # of whole triglyphs: metopes within a tenth of square
_TRIED = (2.25, 2.0, 2.5, 1.75, 2.75, 1.5, 3.0, 3.5, 4.0)  # eustyle first, then from it


@dataclass(frozen=True)
class _Front:
    """What columns have to clear, as far as it is known before the house is resolved.

    Places are from the porch's middle.
    """

    centres_m: tuple[float, ...]
    halves_m: tuple[float, ...]
    reach_m: float  # to the nearer corner of the house

    def clear(self, axes: list[float], diameter_m: float) -> bool:
        reach = _BEFORE_OF_DIAMETER * diameter_m
        return not any(
            abs(axis - centre) < half + reach - 1e-6
            for axis in axes
            for centre, half in zip(self.centres_m, self.halves_m, strict=False)
        )

    def under_the_beam(self, end_axis_m: float, order: FittedOrder) -> bool:
        """Whether a window, casing and all, stands half under the porch and half beside it."""
        inner = end_axis_m - order.upper_diameter_m / 2.0
        outer = end_axis_m + order.upper_diameter_m / 2.0 + order.cornice_projection_m
        return any(
            abs(centre) - half - casing_width(2.0 * half) < outer
            and abs(centre) + half + casing_width(2.0 * half) > inner
            for centre, half in zip(self.centres_m, self.halves_m, strict=False)
        )


def gaps_by_rule(
    porch: Porch,
    house: House,
    order: FittedOrder,
    bays: tuple[float, ...],
    centre_m: float,
    count: int,
    pair_m: float,
) -> tuple[list[float], str]:
    """Axis to axis of ``count`` columns, or middle to middle of couples, and why so.

    Args:
        porch: what is asked.
        house: what is asked of the house, for its openings and its width.
        order: the order that stands there.
        bays: the centres of the front's bays, metres.
        centre_m: the porch's middle.
        count: of columns, or of couples; where it is left to the rule two may come of it.
        pair_m: axis to axis within a couple; 0 for single columns.
    """
    front = _front(house, bays, centre_m)
    follow = column_gaps(about(bays, centre_m), count)
    following = follow is not None and _stands(porch, follow, order, front, pair_m)
    given = porch.diameter is not None and _clears(porch, follow or [], order, front, pair_m)
    near = following and (porch.arcade or not _loose(follow or [], order, pair_m))
    if follow is not None and (near or given or (pair_m and following)):
        return follow, "the house's bays"
    if pair_m:
        between = (rule("coupled_between").value + 1.0) * order.diameter_m + pair_m
        why = f"as coupled ({rule('coupled_between').cited})"
        return [_whole(between, order)] * (count - 1), why
    best = _best_stepping_out(porch, order, front, count)
    loose = best is None or _loose(best, order)
    if loose and _number_is_free(porch):
        pair = next(_stepping_out(porch, order, front, 2), None)
        pair = pair or next(_stepping_out(porch, order, front, 2, wide=True), None)
        if pair is not None:
            return pair, "two columns, where four would stand far apart or before the windows"
    if loose and follow is not None and following:
        return follow, "the house's bays"
    if best is not None:
        return best, "what suits the order and clears the openings"
    axis = _whole((1.0 + spacings()["eustyle"].clear) * order.diameter_m, order)
    return [axis] * (count - 1), "eustyle"


def _best_stepping_out(
    porch: Porch, order: FittedOrder, front: _Front, count: int
) -> list[float] | None:
    """Gaps that clear the openings, close ones and those with no window under the beam first."""
    stepped = list(_stepping_out(porch, order, front, count))
    if not stepped:  # a door wider than any spacing is not stood before
        stepped = list(_stepping_out(porch, order, front, count, wide=True))
    stepped.sort(key=lambda gaps: _loose(gaps, order))
    beside = (gaps for gaps in stepped if not front.under_the_beam(sum(gaps) / 2.0, order))
    return next(beside, None) or next(iter(stepped), None)


def _number_is_free(porch: Porch) -> bool:
    """Whether the number of columns is left to the rule, and nothing else counts on it."""
    counted = porch.side_columns or porch.centre_spacing or porch.diameter
    counted = counted or porch.arcade is not None or porch.upper is not None
    return "columns" not in porch.model_fields_set and porch.shape == "straight" and not counted


def _front(house: House, bays: tuple[float, ...], centre_m: float) -> _Front:
    window = house.windows[0].width if house.windows else None
    low, high = WINDOW_WIDTH_LIMITS_M
    wide = window or min(max(WINDOW_OF_BAY * closest(bays, house.width), low), high)
    door = house.door
    leaf = door.width or (PAIR_WIDTH_M if door.leaves == 2 else LEAF_WIDTH_M)
    doorway = leaf + 2.0 * FRAME_M + (2.0 * SIDELIGHT_M if door.sidelights else 0.0)
    at = entrance_bay(house, centre_m, bays)
    halves = tuple((doorway if i == at else wide) / 2.0 for i in range(len(bays)))
    places = tuple(c - centre_m for c in bays)
    return _Front(places, halves, house.width / 2.0 - abs(centre_m))


def _stands(
    porch: Porch,
    gaps: list[float],
    order: FittedOrder,
    front: _Front,
    pair_m: float,
    wide: bool = False,
) -> bool:
    """Whether columns at these gaps draw no remark and stay within the house."""
    open_gaps = [gap - pair_m for i, gap in enumerate(gaps) if not (wide and i == len(gaps) // 2)]
    widest = spacings()["araeostyle"].clear * _SLACK
    if not open_gaps:
        return True
    clears = [gap / order.diameter_m - 1.0 for gap in open_gaps]
    if max(clears) > widest or min(clears) < spacings()["pycnostyle"].clear:
        return False
    if any(abs(gap - _whole(gap, order)) > 0.051 * gap for gap in open_gaps):
        return False
    return not _too_slender(order, min(clears)) and _clears(porch, gaps, order, front, pair_m)


def _loose(gaps: list[float], order: FittedOrder, pair_m: float = 0.0) -> bool:
    """Whether columns stand araeostyle but for the middle pair, before the door."""
    middle = len(gaps) // 2 if len(gaps) % 2 else None
    clears = [(gap - pair_m) / order.diameter_m - 1.0 for i, gap in enumerate(gaps) if i != middle]
    return max(clears, default=0.0) > spacings()["diastyle"].clear * _SLACK


def _clears(
    porch: Porch, gaps: list[float], order: FittedOrder, front: _Front, pair_m: float
) -> bool:
    """Whether columns at these gaps stay within the house and before no opening."""
    reach = sum(gaps) / 2.0 + pair_m / 2.0 + order.upper_diameter_m / 2.0
    if reach > front.reach_m:
        return False
    return porch.shape != "straight" or front.clear(_axes(gaps, pair_m), order.diameter_m)


def _stepping_out(
    porch: Porch, order: FittedOrder, front: _Front, count: int, wide: bool = False
) -> Iterator[list[float]]:
    """Gaps that stand, the best first: the middle no wider than the door wants.

    With ``wide`` it may be wider than the books have it.
    """
    d = order.diameter_m
    steps = _triglyphs(order)
    wholes = [k * share * steps / d - 1.0 for share in _NEARLY for k in (2, 3, 4)]
    clears = wholes if steps else _under_modillions(order)
    for middle in _middles(front, order, clears, count, wide) if count % 2 == 0 else [None]:
        for clear in clears:
            side = (1.0 + clear) * d
            gaps = [side] * (count - 1)
            if middle is not None:
                if middle < side - _EVEN * d:
                    continue
                gaps[(count - 1) // 2] = middle
            if _stands(porch, gaps, order, front, 0.0, wide):
                yield gaps


def _middles(
    front: _Front, order: FittedOrder, clears: list[float], count: int, wide: bool
) -> list[float]:
    """Middle gaps to try: eustyle's or the door's, whichever is wider, then all others."""
    d = order.diameter_m
    openings = zip(front.centres_m, front.halves_m, strict=True)
    door = next((h for c, h in openings if abs(c) < SAME_M), 0.0)
    beside = _BEFORE_OF_DIAMETER * d
    if count == 2:  # the beam's ends meet the wall beside the doorway's casing
        beside = casing_width(2.0 * door) + order.upper_diameter_m / 2.0
    least = 2.0 * (door + beside + _HAIR_M)
    step = _triglyphs(order) or corner_step_m(order)
    if wide:
        return [step * ceil(least / step - 1e-6) if step else least]
    widest = (1.0 + _SLACK * spacings()["araeostyle"].clear) * d - _HAIR_M
    wanted = max(min(least, widest), (1.0 + (spacings()["eustyle"].centre or 3.0)) * d)
    if step:
        wanted = step * ceil(max(least, wanted if not _triglyphs(order) else 0.0) / step - 1e-6)
    return [wanted, *sorted((1.0 + clear) * d for clear in clears)]


def _axes(gaps: list[float], pair_m: float) -> list[float]:
    places = [-sum(gaps) / 2.0]
    for gap in gaps:
        places.append(places[-1] + gap)
    offsets = (-pair_m / 2.0, pair_m / 2.0) if pair_m else (0.0,)
    return [place + off for place in places for off in offsets]


def _too_slender(order: FittedOrder, clear: float) -> bool:
    said = vitruvius.column_by_spacing(order.order, vitruvius.nearest_spacing(clear))
    return said is not None and order.column_height_m / order.diameter_m > said.least * _SLENDER


def _triglyphs(order: FittedOrder) -> float:
    """The spacing of the triglyphs; 0 where the frieze has none."""
    rows = [member.row for member in order.frieze if member.row is not None]
    return next((row.spacing for row in rows if row.kind == "triglyph"), 0.0)


def _under_modillions(order: FittedOrder) -> list[float]:
    """Clear spacings to try, so that modillions come out even where there are any."""
    step = (corner_step_m(order) or 0.0) / order.diameter_m
    if not step:
        return list(_TRIED)
    return list(dict.fromkeys(step * round((1.0 + clear) / step) - 1.0 for clear in _TRIED))


def _whole(axis_m: float, order: FittedOrder) -> float:
    """The nearest spacing that is a whole number of triglyph spacings, where there are any."""
    step = _triglyphs(order)
    return step * max(1, round(axis_m / step)) if step else axis_m
