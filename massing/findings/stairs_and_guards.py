"""What someone may fall from or stumble on: guards, balustrades, flights and landings."""

from __future__ import annotations

from collections.abc import Iterator

from massing.design.design import Design
from massing.design.opening import DoorOpening, LandingDesign, StepsDesign
from massing.design.porch import PorchDesign
from massing.design.roof import DeckRoof
from massing.findings.figure import Row
from massing.findings.finding import HAIR_M, SLACK, Remarks, Saying
from massing.findings.measures import clear_gap_m, landing_drop_m, lowest_by_porch_m
from massing.practice.rules import Rule
from massing.units import format_length


def _balustrade_height(design: Design) -> float | None:
    balustrade = design.porch.highest.balustrade
    return balustrade.height_m if balustrade else None


def _balustrade_ratio(design: Design) -> float | None:
    height = _balustrade_height(design)
    return height and height / design.porch.highest.order.entablature_height_m


FIGURES = (
    Row(
        "balustrade_height",
        "Balustrade height",
        "length",
        "above the entablature",
        _balustrade_height,
    ),
    Row(
        "balustrade_ratio",
        "Balustrade to entablature",
        "fraction",
        "of its height",
        _balustrade_ratio,
    ),
)

remark = Remarks()


# --- guards and balustrades ----------------------------------------------------------------


@remark("balustrade height", "note", "balustrade_most", "balustrade_least")
def balustrade_height(design: Design, most: Rule, least: Rule) -> Iterator[Saying]:
    """A balustrade out of proportion to the entablature that it crowns."""
    ratio = _balustrade_ratio(design)
    if ratio is not None and not least.value / SLACK < ratio < most.value * SLACK:
        more = ratio > most.value
        word = f"more than {most.written}" if more else f"less than {least.written}"
        yield f"The balustrade is {ratio:.2f} of the entablature's height, {word}"


@remark("balustrade no guard", "caution", "guard_height", "guard_sphere")
def balustrade_no_guard(design: Design, tall: Rule, sphere: Rule) -> Iterator[Saying]:
    """A balustrade over the porch that is ornament."""
    balustrade = design.porch.highest.balustrade
    if balustrade is None:
        return
    gap = clear_gap_m(balustrade)
    if balustrade.height_m < tall.value - HAIR_M or gap >= sphere.value:
        yield (
            "The balustrade over the porch is ornament, not a guard: "
            f"{format_length(balustrade.height_m, design.units)} high, gaps to "
            f"{format_length(gap, design.units)}. A roof that people may walk on needs a guard "
            f"of {tall.said(design.units)} or more that a {sphere.said(design.units)} sphere "
            "cannot pass"
        )


def _floors(design: Design) -> Iterator[tuple[str, PorchDesign, float]]:
    """The porch's floors with the word before what is on them, and how high each is."""
    ground_z_m = lowest_by_porch_m(design)
    yield "", design.porch, design.porch.floor_z_m - ground_z_m
    if design.porch.upper is not None:
        yield "upper ", design.porch.upper, design.porch.upper.floor_z_m - ground_z_m


@remark("guard missing", "caution", "guard_drop")
def guard_missing(design: Design, drop: Rule) -> Iterator[Saying]:
    """A high floor with an open edge."""
    for which, porch, height in _floors(design):
        if porch.guard is None and height > drop.value + HAIR_M:
            yield (
                f"The {which}porch floor is {format_length(height, design.units)} above the "
                f"ground and its edge is open: over {drop.said(design.units)} a guard is required"
            )


@remark("guard low", "caution", "guard_height")
def guard_low(design: Design, tall: Rule) -> Iterator[Saying]:
    """A guard that is too low."""
    for which, porch, _ in _floors(design):
        if porch.guard is not None and porch.guard.height_m < tall.value - HAIR_M:
            yield (
                f"The {which}guard is {format_length(porch.guard.height_m, design.units)} high, "
                f"under the {tall.said(design.units)} of the model code"
            )


@remark("guard between couples", "caution", "guard_sphere")
def guard_between_couples(design: Design, sphere: Rule) -> Iterator[Saying]:
    """A guard that stops at couples with a gap between their shafts."""
    for which, porch, _ in _floors(design):
        shafts = (porch.couple_axis_m or 0.0) - porch.order.diameter_m
        if porch.guard is not None and porch.couple_axis_m and shafts >= sphere.value:
            yield (
                f"The {which}guard stops at the couples, whose shafts stand "
                f"{format_length(shafts, design.units)} apart: a {sphere.said(design.units)} "
                "sphere must not pass"
            )


@remark("guard gaps", "caution", "guard_sphere")
def guard_gaps(design: Design, sphere: Rule) -> Iterator[Saying]:
    """Balusters too far apart at their necks."""
    for which, porch, _ in _floors(design):
        gap = clear_gap_m(porch.guard) if porch.guard is not None else 0.0
        if gap >= sphere.value:
            yield (
                f"The {which}guard's balusters stand {format_length(gap, design.units)} apart "
                f"at their necks; a {sphere.said(design.units)} sphere must not pass"
            )


@remark("roof flat open", "caution", "guard_height", "guard_sphere")
def roof_flat_open(design: Design, tall: Rule, _: Rule) -> Iterator[Saying]:
    """A flat on top of the roof without a balustrade."""
    if isinstance(design.roof, DeckRoof) and design.roof.deck_balustrade is None:
        yield (
            "The flat on the roof has an open edge: if people may walk on it, it needs a guard "
            f"of {tall.said(design.units)} or more and a safe way up"
        )


@remark("roof balustrade no guard", "caution", "guard_height", "guard_sphere")
def roof_balustrade_no_guard(design: Design, tall: Rule, sphere: Rule) -> Iterator[Saying]:
    """A balustrade round the roof's flat that is no guard."""
    rail = design.roof.deck_balustrade if isinstance(design.roof, DeckRoof) else None
    if rail is None:
        return
    gap = clear_gap_m(rail) if rail.filling == "balusters" else 0.0
    if rail.height_m < tall.value - HAIR_M or gap >= sphere.value:
        yield (
            f"The balustrade round the roof's flat is {format_length(rail.height_m, design.units)}"
            f" high, gaps to {format_length(gap, design.units)}: a flat to walk on wants a guard "
            f"of {tall.said(design.units)} or more that a {sphere.said(design.units)} sphere "
            "cannot pass"
        )


# --- flights -------------------------------------------------------------------------------


def _side_doors(design: Design) -> Iterator[tuple[DoorOpening, LandingDesign]]:
    house = design.house
    for opening in (*house.doors, *(o for w in house.wings for o in w.house.doors)):
        if opening.door.steps:
            yield opening, opening.door.steps


def _riser(steps: StepsDesign, whose: str, most: Rule, units: str) -> Iterator[Saying]:
    if steps.riser_m > most.value + HAIR_M:
        yield (
            f"{whose} risers are {format_length(steps.riser_m, units)}, over the model code's "
            f"{most.said(units)}"
        )


def _tread(steps: StepsDesign, whose: str, least: Rule, units: str) -> Iterator[Saying]:
    if steps.risers > 1 and steps.tread_m < least.value - HAIR_M:
        yield (
            f"{whose} treads are {format_length(steps.tread_m, units)}, under the model code's "
            f"{least.said(units)}"
        )


def _handrail(steps: StepsDesign, whose: str, least: Rule) -> Iterator[Saying]:
    if steps.risers >= least.value and steps.rail == "none":
        yield (
            f"{whose} flight has {steps.risers} risers and no handrail is drawn; "
            f"{least.written} or more want one at least"
        )


@remark("riser", "caution", "riser_most")
def riser(design: Design, most: Rule) -> Iterator[Saying]:
    """High risers of the porch's flight."""
    yield from _riser(design.porch.steps, "The", most, design.units)


@remark("tread", "caution", "tread_least")
def tread(design: Design, least: Rule) -> Iterator[Saying]:
    """Narrow treads of the porch's flight."""
    yield from _tread(design.porch.steps, "The", least, design.units)


@remark("handrail", "caution", "handrail_risers")
def handrail(design: Design, least: Rule) -> Iterator[Saying]:
    """A flight of the porch's without a rail."""
    yield from _handrail(design.porch.steps, "The", least)


@remark("stride", "check", "stride_least", "stride_most")
def stride(design: Design, short: Rule, long: Rule) -> Iterator[Saying]:
    """Two risers and a tread that do not make a pace."""
    steps = design.porch.steps
    pace = 2.0 * steps.riser_m + steps.tread_m
    if steps.risers > 1 and not short.value - HAIR_M <= pace <= long.value + HAIR_M:
        word = "short" if pace < short.value else "long"
        yield (
            f"Two risers and a tread come to {format_length(pace, design.units)}: {word} of "
            f"step; {short.said(design.units)} to {long.said(design.units)} is usual"
        )


@remark("side door riser", "caution", "riser_most")
def side_door_riser(design: Design, most: Rule) -> Iterator[Saying]:
    """High risers of a side door's flight."""
    for _, steps in _side_doors(design):
        yield from _riser(steps, "The side door's", most, design.units)


@remark("side door tread", "caution", "tread_least")
def side_door_tread(design: Design, least: Rule) -> Iterator[Saying]:
    """Narrow treads of a side door's flight."""
    for _, steps in _side_doors(design):
        yield from _tread(steps, "The side door's", least, design.units)


@remark("side door handrail", "caution", "handrail_risers")
def side_door_handrail(design: Design, least: Rule) -> Iterator[Saying]:
    """A side door's flight without a rail."""
    for _, steps in _side_doors(design):
        yield from _handrail(steps, "The side door's", least)


# --- landings ------------------------------------------------------------------------------


@remark("landing", "caution", "landing_depth")
def landing(design: Design, least: Rule) -> Iterator[Saying]:
    """A side door's shallow landing; the entrance's is the porch."""
    for _, steps in _side_doors(design):
        if steps.landing_m < least.value - HAIR_M:
            yield (
                f"The side door's landing is {format_length(steps.landing_m, design.units)} deep, "
                f"under the model code's {least.said(design.units)}"
            )


@remark("landing drop", "caution", "landing_drop")
def landing_drop(design: Design, most: Rule) -> Iterator[Saying]:
    """A landing far below its threshold."""
    for opening, steps in _side_doors(design):
        down = opening.sill_z_m - steps.top_z_m
        if down > most.value + HAIR_M:
            yield (
                f"The side door's landing lies {format_length(down, design.units)} below its "
                f"threshold, over the model code's {most.said(design.units)}"
            )


@remark("side door guard", "caution", "guard_drop")
def side_door_guard(design: Design, drop: Rule) -> Iterator[Saying]:
    """A high landing with an open edge."""
    height = landing_drop_m(design)
    if height > drop.value + HAIR_M:
        yield (
            f"The side door's landing is {format_length(height, design.units)} above the ground "
            f"and its edge is open: over {drop.said(design.units)} a guard is required"
        )
