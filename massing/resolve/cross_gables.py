"""Gables over parts of the front and the back, and over wings as high as the main walls."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from massing.design.house import HouseDesign
from massing.design.kinds import Filling, HeadName
from massing.design.opening import WindowOpening
from massing.design.porch import PorchDesign
from massing.design.roof import CrossGable, RoofDesign
from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import apart, clear_hole, inside, opened, outwards
from massing.practice.defaults import default, default_rule, share, sourced
from massing.practice.joinery_sizes import SILL_HEIGHT_M, casing_width, head_reach
from massing.resolve.bays import place_m
from massing.resolve.windows import curved_by_rule, with_lights
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import FrontGable, GableOpening, Roof, Window
from massing.settingout.cross_gables import (
    cross_gable_hole,
    cross_gable_planes,
    eaves_half_m,
    return_m,
    span_m,
)
from massing.settingout.cross_roofs import porch_hole
from massing.settingout.eaves import eaves_reach
from massing.settingout.main_roof import main_slope_of
from massing.settingout.porch_roofs import porch_edge
from massing.settingout.sashes import check_window
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
OF_WALL = default("gables.width")
FROM_EDGE_M = default("gables.from_edge")
FOOT_OF_RISE = default("gables.foot")
OPENING_OF_RISE = default("gables.opening")
TALL_OF_WIDTH = default("gables.tall")
OPENING_LIMITS_M = default("gables.least"), default("gables.most")
CLEAR_M = default("gables.clear")
_FILLINGS: dict[str, Filling] = {
    "louvre": "louvre",
    "sash": "hung",
    "casement": "casement",
    "fixed": "fixed",
}


def gable_designs(
    spec: Roof, house: HouseDesign, roof: RoofDesign, porch: PorchDesign, origins: Origins
) -> tuple[CrossGable, ...]:
    """The gables on the main walls.

    Args:
        spec: what is asked of the main roof.
        house: the main block with its wings.
        roof: its roof, without gables of their own yet.
        porch: what stands before the front.
        origins: takes a note of where each number comes from.

    Raises:
        DesignError: one does not run back into its slope, or meets what else is there.
    """
    made: list[CrossGable] = []
    for i, each in enumerate(spec.gables):
        made.append(_gable(each, i, house, roof, porch, made, origins))
    return tuple(made)


def _gable(
    spec: FrontGable,
    i: int,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    others: list[CrossGable],
    origins: Origins,
) -> CrossGable:
    at = ("roof", "gables", i)
    named = f"roof.gables.{i}"
    slope = roof.slope if spec.pitch is None else spec.pitch
    source = "as the main roof" if spec.pitch is None else origins.given((*at, "pitch"))
    origins.say(f"{named}.pitch", f"{12.0 * slope:.4g}:12", source, slope)
    reach = eaves_reach(house, roof)
    most = most_width_m(slope, house, roof)
    width = origins.choose(
        (*at, "width"),
        spec.width,
        min(OF_WALL * house.width_m, most),
        sourced(f"{OF_WALL:g} of the wall, its ridge under the main one", "gables.width"),
    )
    least = 2.0 * return_m(house) + 2.0 * reach
    if not least - HAIR_M <= width <= most + HAIR_M:
        raise DesignError(
            f"{named}.width",
            format_length(width, origins.units),
            f"{at_least(least, origins.units)} to {at_most(most, origins.units)}, its ridge under "
            "the main one",
        )
    if spec.wall == "back" and isinstance(spec.along, str):
        raise DesignError(f"{named}.along", spec.along, "a length, for one at the back")
    along = place_m(spec.along, house.bay_centres_m, f"{named}.along")
    made = CrossGable(spec.wall, along, width, slope, spec.foot)
    check_on_slope(made, f"{named}.along", house, roof, origins.units)
    _check_free(made, f"{named}.along", house, roof, porch, others, origins.units)
    half, asked = eaves_half_m(made, house, roof), "opening" in spec.model_fields_set
    opening = opening_under(
        spec.opening, half, slope, house, (*at, "opening"), origins, asked=asked
    )
    return replace(made, opening=opening)


def most_width_m(slope: float, house: HouseDesign, roof: RoofDesign) -> float:
    """The widest wall under a gable whose ridge runs out on the main slope below its head."""
    main = main_slope_of(house, roof)
    rise = float(main[:, 2].max() - main[0, 2]) - FROM_EDGE_M
    return 2.0 * (rise / slope - eaves_reach(house, roof))


def check_on_slope(
    gable: CrossGable, field: str, house: HouseDesign, roof: RoofDesign, units: str
) -> None:
    """Raise DesignError where a gable's valleys pass the hips or verges of their slope."""
    slope = main_slope_of(house, roof)
    valleys = [v.line[:, :2] for v in cross_gable_planes(gable, house, roof).valleys]
    hips = slope[:, :2].copy()
    hips[0] += 100.0 * (slope[0, :2] - slope[-1, :2])
    hips[1] += 100.0 * (slope[1, :2] - slope[2, :2])
    # A valley at the eaves and a hip that rises from the same eaves are as far apart there.
    lines = [line + [gable.along_m, 0.0] for line in valleys]
    if all(inside(hips, line, FROM_EDGE_M) for line in lines):
        return
    low, high = _room(gable, lines, hips)
    raise DesignError(
        field,
        format_length(gable.along_m, units),
        f"{format_length(low, units)} to {format_length(high, units)}, its valleys clear of hips "
        "and verges"
        if low <= high
        else "a narrower gable: this one's valleys pass the hips or verges of its slope",
    )


def _room(gable: CrossGable, lines: list[Floats], hips: Floats) -> tuple[float, float]:
    """From and to where a gable's middle may stand for its valleys to keep off hips and verges."""
    normal = outwards(hips)
    points = np.concatenate(lines) - [gable.along_m, 0.0]
    off = np.einsum("ij,ij->i", normal, hips) - FROM_EDGE_M - (points @ normal.T).max(axis=0)
    low = max((o / n[0] for o, n in zip(off, normal, strict=True) if n[0] < -1e-6), default=-np.inf)
    high = min((o / n[0] for o, n in zip(off, normal, strict=True) if n[0] > 1e-6), default=np.inf)
    return float(low), float(high)


def _check_free(
    gable: CrossGable,
    field: str,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    others: list[CrossGable],
    units: str,
) -> None:
    """Raise DesignError where a gable meets another, a wing's, a chimney or the porch's roof."""
    given = format_length(gable.along_m, units)
    own = opened([cross_gable_hole(gable, house, roof)])
    low, high = span_m(gable, house, roof)
    for name, other in _named(house, others):
        a, b = span_m(other, house, roof)
        if other.wall == gable.wall and low < b + FROM_EDGE_M and a - FROM_EDGE_M < high:
            raise DesignError(field, given, f"clear of {name}")
    for wing in house.wings:
        if wing.side == gable.wall and wing.gable is None:
            x0, x1 = wing.run_m
            if low < x1 and x0 < high:
                raise DesignError(field, given, f"clear of the {wing.side} wing")
    for k, stack in enumerate(house.chimneys):
        if not all(apart(r, clear_hole(stack.low_m, stack.high_m).ring, 0.0) for r in own):
            raise DesignError(field, given, f"clear of chimney {k + 1}")
    if gable.wall != "front":
        return
    for name, x0, x1 in _of_porch(porch, house, roof):
        if low < x1 + FROM_EDGE_M and x0 - FROM_EDGE_M < high:
            raise DesignError(field, given, f"clear of {name}")


def _named(house: HouseDesign, others: list[CrossGable]) -> Iterator[tuple[str, CrossGable]]:
    for i, other in enumerate(others):
        yield f"gable {i + 1}", other
    for wing in house.wings:
        if wing.gable:
            yield f"the {wing.side} wing's roof", wing.gable


def _of_porch(
    porch: PorchDesign, house: HouseDesign, roof: RoofDesign
) -> Iterator[tuple[str, float, float]]:
    """What of the porch is at the main eaves: its name, and from and to along the front."""
    top = porch.highest
    if top.roof == "main slope":
        half, _ = porch_edge(top, roof)
        x = top.centre_m
        yield "the main slope that is carried down over the porch", x - half, x + half
    elif house.cornice_continues_porch:
        hole = porch_hole(porch, house, roof)
        half = top.half_width_m + top.order.cornice_projection_m
        if hole is not None:
            half = max(half, float(np.ptp(hole.ring[:, 0])) / 2.0)
        x = top.centre_m
        yield "the porch, which is as high as the eaves", x - half, x + half


# --- what is in it -------------------------------------------------------------------------


def opening_under(
    spec: GableOpening,
    half_m: float,
    slope: float,
    house: HouseDesign,
    at: tuple[str | int, ...],
    origins: Origins,
    *,
    asked: bool,
) -> WindowOpening | None:
    """The window or louvre under two rakes that rise from the walls' top.

    Args:
        spec: what is asked.
        half_m: the gable's middle to where the deck's underside is level with the walls' top.
        slope: rise over run.
        house: whose walls it is in.
        at: the field's path.
        origins: takes a note of where each number comes from.
        asked: whether the scene names it; else it is left out where there is no room.

    Raises:
        DesignError: it does not stand within the rakes, or its fields do not go together.
    """
    named = ".".join(map(str, at))
    if spec.kind == "none":
        _check_none(spec, named)
        return None
    _check_head(spec, named)
    rise = slope * half_m
    low, high = OPENING_LIMITS_M
    rule = min(max(OPENING_OF_RISE * rise, low), high)
    width = origins.choose(
        (*at, "width"), spec.width, rule, sourced("by the gable's rise", "gables.opening")
    )
    height = origins.choose(
        (*at, "height"),
        spec.height,
        TALL_OF_WIDTH * width,
        sourced(f"{default_rule('gables.tall').written} times its width", "gables.tall"),
    )
    over = SILL_HEIGHT_M + 0.03
    sill = origins.choose(
        (*at, "sill"),
        spec.sill,
        max(FOOT_OF_RISE * rise, over),
        sourced(f"{share('gables.foot')} of the gable's rise", "gables.foot"),
    )
    if sill < over - HAIR_M:
        raise DesignError(
            f"{named}.sill",
            format_length(sill, origins.units),
            f"at least {at_least(over, origins.units)}, its stone over the walls' top",
        )
    most = rise - sill - _over_m(spec.head, width, slope)
    if height > most + HAIR_M:
        if not asked:
            origins.say(named, "left out", "the gable is too low for one")
            return None
        raise DesignError(
            f"{named}.height",
            format_length(height, origins.units),
            f"at most {at_most(max(most, 0.0), origins.units)}, under the rakes: a lower sill, a "
            "narrower one, or a steeper or wider gable",
        )
    made = WindowOpening(
        "gable window",
        "front",
        0.0,
        house.wall_top_z_m + sill,
        width,
        height,
        head=spec.head,
        curved=curved_by_rule(spec.head, width),
        filling=_FILLINGS[spec.kind],
    )
    if spec.kind == "louvre" and spec.lights is not None:
        raise DesignError(f"{named}.lights", "lights", "of a window: a louvre has slats")
    window = Window(kind="sash" if spec.kind == "louvre" else spec.kind, lights=spec.lights)
    made = with_lights(window, made, named)
    try:
        check_window(made)
    except ValueError as fault:
        raise DesignError(
            f"{named}.height",
            f"{format_length(width, origins.units)} by {format_length(height, origins.units)}, "
            f"{fault}",
            "a larger one, or fewer lights",
        ) from None
    return made


def _over_m(head: HeadName, width_m: float, slope: float) -> float:
    """Crown of an opening up to the rakes' apex, where its casing or arch just clears them."""
    beside, above = head_reach(width_m, head)
    out, curved = width_m / 2.0 + max(beside, casing_width(width_m)), curved_by_rule(head, width_m)
    if curved:
        # The farthest of an ellipse in the direction square to the rake.
        out = width_m / 2.0 + above
        high = float(np.hypot(slope * out, curved.rise_m + above)) - curved.rise_m
    else:
        high = slope * out + above
    return high + CLEAR_M * float(np.hypot(1.0, slope))


def _check_none(spec: GableOpening, named: str) -> None:
    for field in sorted(spec.model_fields_set - {"kind"}):
        raise DesignError(f"{named}.{field}", str(getattr(spec, field)), "only with a kind")


def _check_head(spec: GableOpening, named: str) -> None:
    if spec.head.startswith("hood"):
        raise DesignError(f"{named}.head", spec.head, "a casing or an arch, under the rakes")
