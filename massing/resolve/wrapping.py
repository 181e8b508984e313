"""A porch that goes round a corner: its columns by the bays, on along the side of the house."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from massing.canon import FittedOrder, spacings
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign, StraightPorch, WrappedPorch
from massing.practice.defaults import default, default_rule
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Porch, Scene
from massing.settingout.porch import floor_plans
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
DEPTH_M = default("porch.wrap_depth")
LENGTH = default("porch.wrap_length")
SET_IN_M = 0.02  # frieze of an end that stays before the front, within the corner's face
WAY_M = default("porch.wrap_way")
_SLACK = 1.015  # within which findings say nothing
FROM_CORNER_M = default("side_porch.from_corner")


def hipped_round_corners(scene: Scene) -> Scene:
    """The scene with a hipped porch roof where the porch goes round a corner and none is said."""
    porch = scene.porch
    if porch.wraps == "none" or "roof" in porch.model_fields_set:
        return scene
    return scene.model_copy(update={"porch": porch.model_copy(update={"roof": "hipped"})})


def check_wrapping(porch: Porch) -> None:
    """Raise DesignError for what a porch round a corner cannot have."""
    height = porch.height if isinstance(porch.height, str) else ""
    named = isinstance(porch.spacing, str) and porch.spacing != "bays"
    for field, asked, allowed in (
        ("shape", porch.shape != "straight", "straight, round a corner"),
        ("roof", porch.roof != "hipped", "hipped, or left out, round a corner"),
        ("columns", "columns" in porch.model_fields_set, "left out, round a corner: a spacing"),
        ("spacing", named, "bays, or a length, round a corner"),
        ("centre_spacing", porch.centre_spacing is not None, "left out, round a corner"),
        ("paired", bool(porch.paired), "false, round a corner"),
        ("arcade", porch.arcade is not None, "none, round a corner"),
        ("responds", porch.responds != "none", "none, round a corner"),
        ("breaking_forward", bool(porch.breaking_forward), "false, round a corner"),
        ("blocking_course", bool(porch.blocking_course), "false, under a hipped roof"),
        ("balustrade", porch.balustrade is not None, "none, over a hipped roof"),
        ("upper", porch.upper is not None, "none, round a corner"),
        ("side_columns", porch.side_columns > 0, "left out, round a corner"),
        ("ceiling", porch.ceiling == "coffered", "boards, round a corner"),
        ("height", height == "eaves", "a length under the eaves, round a corner"),
    ):
        if asked:
            given = getattr(porch, field)
            words = given if isinstance(given, (str, int, float)) else "a group of fields"
            raise DesignError(f"porch.{field}", words, allowed)


def wrapped_porch(
    porch: Porch,
    order: FittedOrder,
    house: House,
    bays: tuple[float, ...],
    common: dict[str, Any],
    origins: Origins,
) -> WrappedPorch:
    """The porch with its columns: between the front's bays, at the corners, and along the sides.

    Raises:
        DesignError: it has no room along a side, or is too short for its hipped end.
    """
    half, reach = house.width / 2.0, order.upper_diameter_m / 2.0
    row = default_rule("porch.wrap_depth")
    depth = origins.choose(
        ("porch", "depth"), porch.depth, DEPTH_M, f"{row.said(origins.units)} (common practice)"
    )
    length = origins.choose(
        ("porch", "wrap_length"), porch.wrap_length, LENGTH * house.depth, "half of the side"
    )
    sides = [porch.wraps in (side, "both") for side in ("left", "right")]
    ends = [half + depth if goes else half - reach - SET_IN_M for goes in sides]
    if isinstance(porch.spacing, float):
        axes = _evenly(-ends[0], ends[1], porch.spacing)
        step = porch.spacing
        why: str = origins.given(("porch", "spacing"))
    else:
        axes, why = _by_bays(bays, house.width, sides, ends, order)
        step = max(b - a for a, b in pairwise(axes))
    origins.note("porch.spacing", step, why)
    for i, (a, b) in enumerate(pairwise(axes)):
        origins.note(f"porch.spacing.{i}", b - a, why)
    along = _evenly(0.0, length, step)
    made = WrappedPorch(
        axes_m=axes,
        axis_depth_m=depth,
        wraps=porch.wraps,
        house_half_m=half,
        side_axes_m=along,
        **common,
    )
    _check_length(made, house, origins.units)
    return made


def _by_bays(
    bays: tuple[float, ...],
    width_m: float,
    sides: list[bool],
    ends: list[float],
    order: FittedOrder,
) -> tuple[tuple[float, ...], str]:
    """Columns between the bays, and at the corners; or two to a bay, where one stands too far.

    Two leave the bay's opening free between them, and a way to the door.
    """
    half, bay = width_m / 2.0, min((b - a for a, b in pairwise(bays)), default=width_m)
    loose = spacings()["araeostyle"].clear * _SLACK
    if bay / order.diameter_m - 1.0 > loose and bay / 2.0 - order.foot_width_m >= WAY_M:
        within = [c + s * bay / 4.0 for c in bays for s in (-1.0, 1.0)]
        left = _evenly(-ends[0], within[0], bay / 2.0)[:-1]
        right = _evenly(within[-1], ends[1], bay / 2.0)[1:]
        return (*left, *within, *right), "two to each of the house's bays"
    between = [(a + b) / 2.0 for a, b in pairwise(bays)]
    corners = [s * half for s, goes in zip((-1.0, 1.0), sides, strict=True) if goes]
    return tuple(sorted([-ends[0], *between, *corners, ends[1]])), "between the house's bays"


def _evenly(start_m: float, end_m: float, step_m: float) -> tuple[float, ...]:
    """Places from start to end, as near a step apart as comes out even, both ends among them."""
    count = max(1, round((end_m - start_m) / step_m))
    return tuple(start_m + (end_m - start_m) * k / count for k in range(count)) + (end_m,)


def _check_length(porch: WrappedPorch, house: House, units: str) -> None:
    most = house.depth - FROM_CORNER_M - porch.floor_edge_m - porch.order.cornice_projection_m
    if not porch.depth_m - HAIR_M <= porch.wrap_m <= most + HAIR_M:
        raise DesignError(
            "porch.wrap_length",
            format_length(porch.wrap_m, units),
            f"{at_least(porch.depth_m, units)}, for its hipped end, to {at_most(most, units)}, "
            "clear of the back corner",
        )


def closest_m(porch: WrappedPorch) -> float:
    """The least axis to axis of its columns."""
    return min(*porch.gaps_m, *(b - a for a, b in pairwise((porch.column_y_m, *porch.side_axes_m))))


def check_round_corners(scene: Scene, porch: WrappedPorch) -> None:
    """Raise DesignError for what stands at a corner or a side that the porch goes round to."""
    house, wraps = scene.house, scene.porch.wraps
    for field, asked, given in (
        ("house.quoins", house.quoins, "true"),
        ("house.corner_pilasters", house.corner_pilasters != "none", house.corner_pilasters),
        ("house.belt_courses", house.belt_courses, "true"),
        ("house.rustication", house.rustication != "none", house.rustication),
    ):
        if asked:
            allowed = "none" if given != "true" else "false"
            raise DesignError(field, given, f"{allowed}, where the porch goes round a corner")
    for i, wing in enumerate(house.wings):
        if wing.side == "both" or (wing.side != "front" and porch.goes_round(wing.side)):
            raise DesignError(
                f"house.wings.{i}.side", wing.side, f"a side that porch.wraps: {wraps} leaves free"
            )
    for i, one in enumerate(scene.side_porches):
        if porch.goes_round(one.side):
            raise DesignError(
                f"side_porches.{i}.side", one.side, f"a side that porch.wraps: {wraps} leaves free"
            )


def before_sides(porch: PorchDesign, house: HouseDesign) -> dict[str, PorchDesign]:
    """What of a porch round a corner stands before each side wall, as a porch in its frame."""
    if not isinstance(porch, WrappedPorch):
        return {}
    middle = house.depth_m / 2.0
    found: dict[str, PorchDesign] = {}
    for side in ("left", "right"):
        if porch.goes_round(side):
            ends = (-middle, porch.wrap_m - middle)
            axes = ends if side == "right" else (-ends[1], -ends[0])
            found[side] = StraightPorch(
                order=porch.order,
                axes_m=axes,
                centre_m=sum(axes) / 2.0,
                floor_z_m=porch.floor_z_m,
                floor_edge_m=porch.floor_edge_m,
                flight=None,
                axis_depth_m=porch.axis_depth_m,
                ceiling_up_m=porch.ceiling_up_m,
            )
    return found


def side_runs_m(porch: WrappedPorch, house_depth_m: float) -> dict[str, tuple[float, float]]:
    """From and to where it stands before each side wall that it goes round to, in that frame."""
    back = floor_plans(porch)[-1][3]
    middle = house_depth_m / 2.0
    runs = {"right": (-middle, back - middle), "left": (middle - back, middle)}
    return {side: run for side, run in runs.items() if porch.goes_round(side)}
