"""Roofs: pediments, the least pitch of each covering, dormers, chimneys."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from massing.canon.sources import cited
from massing.design.design import Design
from massing.design.roof import GambrelRoof, PitchedDormer
from massing.findings.finding import SLACK, Remarks, Saying
from massing.practice.defaults import default_rule
from massing.practice.rules import Rule, code_for
from massing.settingout.cross_gables import cross_gables, eaves_half_m
from massing.settingout.porch import flat_fall
from massing.settingout.roof_heights import roof_rise_m
from massing.units import INCH_M, format_feet_inches, format_length

_SAME_SLOPE = 0.25 / 12.0
_OFF_BAY_M = 0.05
_LEAST_SLOPES = {
    "slate": "slate_slope",
    "wood shingle": "wood_shingle_slope",
    "standing seam": "standing_seam_slope",
}

remark = Remarks()


def _twelfths(slope: float) -> str:
    return f"{12 * slope:.3g}:12"


def _in_twelve(fall: float) -> str:
    """A flat's fall as a roofer says it.

    >>> _in_twelve(1 / 96), _in_twelve(1 / 48), _in_twelve(0.02)
    ('1/8 in 12', '1/4 in 12', '15/64 in 12')
    """
    return f"{format_feet_inches(12.0 * fall * INCH_M, 64).removesuffix(chr(34))} in 12"


def _slopes(design: Design) -> dict[str, float]:
    """The slopes laid in the main roof's covering, by the words for them."""
    slopes = {"main roof": design.roof.slope}
    if isinstance(design.roof, GambrelRoof):
        slopes = {
            "main roof's upper slope": design.roof.slope,
            "main roof's lower slope": design.roof.lower_slope,
        }
    if design.porch.highest.roof != "flat" and design.porch.highest.roof_covering is None:
        slopes["porch roof"] = design.porch.highest.roof_slope
    for row in design.roof.dormers:
        if isinstance(row, PitchedDormer):
            slopes["dormers' roof"] = row.roof_slope
    return slopes


@remark("steep pediment", "note", "pediment_steep", "pediment_vitruvius")
def steep_pediment(design: Design, most: Rule, least: Rule) -> Iterator[Saying]:
    """A pediment steeper than the books'."""
    porch = design.porch.highest
    if porch.roof == "pediment" and porch.roof_slope > most.value * SLACK:
        his = least.speaks_of(porch.order.order)
        yield (
            f"The pediment rises {_twelfths(porch.roof_slope)}, steeper than the books' "
            f"{most.written} at most"
            + (f"; over the Ionic Vitruvius has {_twelfths(least.value)}" if his else ""),
            cited([most.source, least.source] if his else most.source),
        )


@remark("roof pitch", "caution")
def roof_pitch(design: Design) -> Iterator[Saying]:
    """A slope too flat for what is laid on it, by the code held for the place."""
    code = code_for(design.site.time_zone)
    porch = design.porch.highest
    laid = [(design.roof.covering, _slopes(design))]
    if porch.roof != "flat" and porch.roof_covering is not None:
        laid.append((porch.roof_covering, {"porch roof": porch.roof_slope}))
    for covering, slopes in laid:
        tiled = "tile" in covering
        key = "tile_slope" if tiled else _LEAST_SLOPES.get(covering)
        name = "clay tile" if tiled else covering
        least = code.limits.get(key) if code and key else None
        for roof, slope in slopes.items():
            if least is not None and slope < least.value - 1e-9:
                yield (
                    f"The {roof} is {_twelfths(slope)}, too flat for {name} ({least.written} at "
                    "least)",
                    cited(least.source),
                )


@remark("tile underlayment", "note", "tile_double_layer", "tile_slope")
def tile_underlayment(design: Design, double: Rule, least: Rule) -> Iterator[Saying]:
    """Tile on a slope that wants two layers under it."""
    if "tile" not in design.roof.covering:
        return
    for roof, slope in _slopes(design).items():
        if least.value - 1e-9 <= slope < double.value - 1e-9:
            yield (
                f"The {roof} is {_twelfths(slope)}; clay tile below {double.written} wants a "
                "double underlayment"
            )


@remark("flat roof", "check", source="practice")
def flat_roof(design: Design) -> Iterator[Saying]:
    """A flat over the porch that falls less than the book, or the code held here, would have it."""
    porch, wanted = design.porch.highest, default_rule("roof.flat_fall")
    code = code_for(design.site.time_zone)
    least = code.limits.get("flat_slope") if code else None
    asked = max(wanted.value, least.value if least else 0.0)
    fall = flat_fall(porch, under_eaves=design.house.cornice_continues_porch)
    if porch.roof == "flat" and fall < asked - 1e-9:
        drawn = f"falls {_in_twelve(fall)}" if fall else "is drawn level"
        sources = ["practice", least.source] if least else ["practice"]
        yield (
            f"The porch's flat roof {drawn}, less than {_in_twelve(asked)}"
            ": water stands on it unless its sheet, outlets and upstands are made for that",
            cited(sources),
        )


@remark("heavy dormers", "note", source="practice")
def heavy_dormers(design: Design) -> Iterator[Saying]:
    """Dormers with larger windows than the storey below."""
    below = [o for o in design.house.windows if o.wall == "front"]
    highest = max(below, key=lambda o: o.sill_z_m, default=None)
    for row in design.roof.dormers[:1]:
        if highest and row.width_m * row.height_m > highest.width_m * highest.height_m:
            wide, tall = (format_length(m, design.units) for m in (row.width_m, row.height_m))
            yield (
                f"The dormers' windows, {wide} by {tall}, are larger than those of the storey "
                "below; lighter ones upwards are more usual"
            )


@remark("dormers off the bays", "note", source="practice")
def dormers_off_the_bays(design: Design) -> Iterator[Saying]:
    """Dormers neither over a bay nor midway between two."""
    bays = design.house.bay_centres_m
    stand = {*bays, *((a + b) / 2.0 for a, b in pairwise(bays))}
    for row in design.roof.dormers[:1]:
        if any(min(abs(x - bay) for bay in stand) > _OFF_BAY_M for x in row.centres_m):
            yield "A dormer stands neither over a bay nor midway between two"


@remark("gable pitch", "note", source="practice")
def gable_pitch(design: Design) -> Iterator[Saying]:
    """A gable whose rakes are not parallel to the main roof's."""
    for i, gable in enumerate(design.roof.gables):
        if abs(gable.slope - design.roof.eaves_slope) > _SAME_SLOPE:
            yield (
                f"Gable {i + 1} rises {_in_twelve(gable.slope)}, the main roof "
                f"{_in_twelve(design.roof.eaves_slope)}: roofs of one house keep one pitch"
            )


@remark("gable off the bays", "note", source="practice")
def gable_off_the_bays(design: Design) -> Iterator[Saying]:
    """A gable neither over a bay nor midway between two."""
    bays = design.house.bay_centres_m
    stand = {*bays, *((a + b) / 2.0 for a, b in pairwise(bays))}
    for i, gable in enumerate(design.roof.gables):
        if gable.wall != "front":
            continue
        if stand and min(abs(gable.along_m - bay) for bay in stand) > _OFF_BAY_M:
            yield (
                f"Gable {i + 1} stands neither over a bay nor midway between two, so that its "
                "ridge and its window are over nothing"
            )


@remark("many gables", "check", source="practice")
def many_gables(design: Design) -> Iterator[Saying]:
    """Gables over the front that together leave less than half of its eaves."""
    house, roof = design.house, design.roof
    there = [g for g in cross_gables(house, roof) if g.wall == "front"]
    taken = sum(2.0 * eaves_half_m(g, house, roof) for g in there)
    if len(there) > 1 and taken > house.width_m / 2.0:
        yield (
            f"{len(there)} gables take {taken / house.width_m:.0%} of the front's eaves: none "
            "leads, and the main roof is lost behind them"
        )


@remark("low chimney", "caution", "chimney_above")
def low_chimney(design: Design, above: Rule) -> Iterator[Saying]:
    """Chimneys that hardly top the ridge."""
    house, roof = design.house, design.roof
    out = house.cornice.projection_m
    ridge_z = house.wall_top_z_m + roof_rise_m(roof, house.width_m, house.depth_m, out)
    for i, stack in enumerate(house.chimneys):
        if stack.top_z_m - ridge_z < above.value:
            yield f"Chimney {i + 1} tops the ridge by less than {above.said(design.units)}"
