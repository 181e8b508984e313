"""What comes out of the main roof: dormers, and the gable of a porch as high as the eaves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from massing.canon import fit_cornice
from massing.design.house import HouseDesign
from massing.design.kinds import DormerSlope
from massing.design.opening import WindowOpening
from massing.design.porch import PorchDesign
from massing.design.roof import (
    DormerDesign,
    GabledDormer,
    RoofDesign,
    SegmentalDormer,
    ShedDormer,
)
from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import INSETS_M, apart, clear_hole, inside, opened
from massing.practice.defaults import default, default_rule, sourced
from massing.resolve.windows import PANE_M
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Dormers
from massing.settingout.cross_gables import cross_gable_hole, cross_gables
from massing.settingout.cross_roofs import (
    cornice_out_m,
    dormer_frame,
    dormer_holes,
    half_m,
    least_drop_m,
    porch_gable,
    porch_gable_hole,
    porch_hole,
    runs_back,
    top_m,
)
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.main_roof import main_slope_of
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
OF_WINDOW_BELOW = default("dormers.of_window_below")
WIDTH_LIMITS_M = (default("dormers.least_width"), default("dormers.most_width"))
HEIGHT_OF_WIDTH = default("dormers.height")
LEAST_HEIGHT_M = default("dormers.least_height")
SILL_M = default("dormers.sill")
CORNICE_OF_WIDTH = default("dormers.cornice")
STEEPEST_GABLE = default("dormers.steepest")
SHED_OF_MAIN, SHED_PITCH = default("dormers.shed_of_main"), default("dormers.shed_pitch")
ARC_OF_CHORD = default("dormers.arc")
FROM_EDGE_M = default("dormers.from_edge")
BETWEEN_M = default("dormers.between")
_FIELD = "roof.dormers"


def dormer_designs(
    spec: Dormers | None,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    origins: Origins,
) -> tuple[DormerDesign, ...]:
    """One row for each slope that has dormers.

    Raises:
        DesignError: they do not fit the slope, or run into one another, into a chimney or
            into the porch's gable.
    """
    if spec is None:
        return ()
    if spec.count is not None and spec.centres is not None:
        raise DesignError(f"{_FIELD}.count", "a count and centres", "one of the two")
    both: tuple[DormerSlope, ...] = ("front", "back")
    sides = both if spec.slope == "both" else (spec.slope,)
    return tuple(_row(spec, side, house, roof, porch, origins) for side in sides)


def _row(
    spec: Dormers,
    side: DormerSlope,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    origins: Origins,
) -> DormerDesign:
    slope = main_slope_of(house, roof, side)
    one = _pattern(spec, side, house, roof, slope, origins)
    centres = spec.centres or _over_bays(one, spec.count, slope, house, roof, porch)
    made = replace(one, centres_m=tuple(sorted(centres)))
    if spec.count is not None and spec.count != len(centres):
        raise _miscounted(
            spec.count, one, slope, house, roof, porch, "more on the slope than there are bays"
        )
    for field, given, allowed in _faults(made, slope, house, roof, porch, origins.units):
        if field == "centres" and spec.count is not None:
            raise _miscounted(spec.count, one, slope, house, roof, porch, f"{given} not {allowed}")
        raise DesignError(f"{_FIELD}.{field}", given, allowed)
    where = origins.given(("roof", "dormers", "centres")) if spec.centres else "over the bays"
    origins.say(f"{_FIELD}.{side}", str(len(centres)), where, len(centres))
    return made


def _miscounted(
    given: int,
    one: DormerDesign,
    slope: Floats,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    why: str,
) -> DesignError:
    """Of a number of dormers that cannot all stand over the bays, with the numbers that can."""
    fit = []
    for n in range(1, len(house.bay_centres_m) + 1):
        row = replace(one, centres_m=_over_bays(one, n, slope, house, roof, porch))
        if next(_faults(row, slope, house, roof, porch, "feet"), None) is None:
            fit.append(str(n))
    words = f"{' or '.join(fit)} over these bays" if fit else "none, or their centres"
    return DesignError(f"{_FIELD}.count", f"{given}, which puts {why}", words)


def _sourced(of: str, name: str) -> str:
    """A row's share as it is written, with its source."""
    return sourced(f"{default_rule(name).written} {of}", name)


def _pattern(
    spec: Dormers,
    side: DormerSlope,
    house: HouseDesign,
    roof: RoofDesign,
    slope: Floats,
    origins: Origins,
) -> DormerDesign:
    """A dormer's sizes, before its places are known."""
    below = [o for o in house.windows if o.wall == "front"]
    highest = max(below, key=lambda o: o.sill_z_m, default=None)
    low, high = WIDTH_LIMITS_M
    rule = OF_WINDOW_BELOW * highest.width_m if highest else low
    at = ("roof", "dormers")
    width = origins.choose(
        (*at, "width"),
        spec.width,
        min(max(rule, low), high),
        _sourced("of the windows below", "dormers.of_window_below"),
    )
    upper, lower = _lights(spec, highest, width)
    main = _pitch_of(slope)
    cornice_m = origins.choose(
        (*at, "cornice"),
        spec.cornice,
        CORNICE_OF_WIDTH * width,
        _sourced("of the width", "dormers.cornice"),
    )
    sizes: dict[str, Any] = {
        "side": side,
        "centres_m": (),
        "width_m": width,
        "height_m": HEIGHT_OF_WIDTH * width,
        "upper_lights": upper,
        "lower_lights": lower,
        "sill_z_m": 0.0,
        "face_y_m": 0.0,
        "drop_m": least_drop_m(roof.covering, main),
        "main_slope": main,
        "cheeks": spec.cheeks,
        "cornice": fit_cornice(cornice_m),
    }
    one = _of_kind(spec, sizes, main, origins)
    _check_roof(one, origins.units)
    one = _at_its_sill(spec, one, house, roof, slope, origins)
    return replace(one, height_m=_height(spec, one, slope, origins))


def _lights(
    spec: Dormers, highest: WindowOpening | None, width_m: float
) -> tuple[tuple[int, int], tuple[int, int]]:
    """Lights of the upper and the lower sash: as asked, or as in the windows below."""
    lights = ((3, 2), (3, 2)) if highest is None else (highest.upper_lights, highest.lower_lights)
    upper, lower = spec.lights or lights
    if not upper[1]:  # only so many lights wide: rows follow from the height
        pane_m = width_m / upper[0] * PANE_M[1] / PANE_M[0]
        sash_m = (spec.height or HEIGHT_OF_WIDTH * width_m) / 2.0
        upper = lower = (upper[0], max(1, round(sash_m / pane_m)))
    return upper, lower


def _at_its_sill(
    spec: Dormers,
    one: DormerDesign,
    house: HouseDesign,
    roof: RoofDesign,
    slope: Floats,
    origins: Origins,
) -> DormerDesign:
    """The dormer at the height of its sill, its face where the slope passes under that."""
    foot_z, out = float(slope[0, 2]), eaves_reach(house, roof)
    over_wall = foot_z + one.main_slope * out + one.drop_m - house.wall_top_z_m
    sill = origins.choose(
        ("roof", "dormers", "sill"),
        spec.sill,
        max(SILL_M, over_wall),
        f"{default_rule('dormers.sill').said(origins.units)} over the walls' top, or what "
        "keeps the face off the eaves (common practice)",
    )
    sill_z = house.wall_top_z_m + sill
    face_y = (sill_z - one.drop_m - foot_z) / one.main_slope - out
    return replace(one, sill_z_m=sill_z, face_y_m=face_y)


def _height(spec: Dormers, one: DormerDesign, slope: Floats, origins: Origins) -> float:
    """The window's height, as asked or by its width, where its slope leaves so much."""

    def length(value_m: float) -> str:
        return format_length(value_m, origins.units)

    main, top_z = one.main_slope, float(slope[:, 2].max())
    room = top_z - main * (FROM_EDGE_M + 3.0 * INSETS_M["valley"]) - one.sill_z_m
    grows = main / (main - one.roof_slope) if isinstance(one, ShedDormer) else 1.0
    most = one.height_m + (room - top_m(one)) / grows
    height = origins.choose(
        ("roof", "dormers", "height"),
        spec.height,
        min(one.height_m, most),
        _sourced("times its width", "dormers.height")
        if one.height_m <= most
        else "what the slope leaves",
    )
    if not LEAST_HEIGHT_M - 1e-9 <= height <= most + 1e-9:
        fits = most >= LEAST_HEIGHT_M
        raise DesignError(
            f"{_FIELD}.height",
            length(max(height, 0.0)),
            f"{at_least(LEAST_HEIGHT_M, origins.units)} to {at_most(most, origins.units)}, below "
            "the head of its slope"
            if fits
            else f"a steeper or deeper main roof: this slope leaves {length(max(most, 0.0))} "
            f"below its head, and a window wants {length(LEAST_HEIGHT_M)}",
        )
    return height


def _pitch_of(ring: Floats) -> float:
    normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
    return float(np.hypot(normal[0], normal[1]) / normal[2])


def _of_kind(spec: Dormers, sizes: dict[str, Any], main: float, origins: Origins) -> DormerDesign:
    """The dormer with a roof of its kind: its own pitch, or the rise of its curve."""
    if spec.kind != "segmental":
        if spec.rise is not None:
            raise DesignError(f"{_FIELD}.rise", "a rise", "only on a segmental dormer")
        if spec.kind == "shed":
            rule = min(SHED_OF_MAIN * main, SHED_PITCH)
            return ShedDormer(**sizes, roof_slope=spec.pitch or rule)
        return GabledDormer(**sizes, roof_slope=spec.pitch or min(main, STEEPEST_GABLE))
    if spec.pitch is not None:
        raise DesignError(f"{_FIELD}.pitch", "a pitch", "only on a gabled or a shed dormer")
    one = SegmentalDormer(**sizes, rise_m=0.0)
    chord = 2.0 * (half_m(one) + cornice_out_m(one))
    path = ("roof", "dormers", "rise")
    rise = origins.choose(
        path, spec.rise, ARC_OF_CHORD * chord, sourced("a sixth of the arc's chord", "dormers.arc")
    )
    return replace(one, rise_m=rise)


def _check_roof(one: DormerDesign, units: str) -> None:
    """Raise DesignError where a dormer's roof cannot stand over its cornice or on its slope."""
    half = half_m(one) + cornice_out_m(one)
    if isinstance(one, ShedDormer) and one.roof_slope > one.main_slope - 1.0 / 12.0:
        raise DesignError(
            f"{_FIELD}.pitch",
            f"{12 * one.roof_slope:.3g}:12",
            f"at most {12 * one.main_slope - 1:.3g}:12, flatter than the slope it stands on",
        )
    if isinstance(one, GabledDormer) and one.roof_slope * half < 1.2 * one.cornice.height_m:
        raise DesignError(
            f"{_FIELD}.pitch",
            f"{12 * one.roof_slope:.3g}:12",
            f"{12 * 1.2 * one.cornice.height_m / half:.3g}:12 or more, to clear its cornice",
        )
    if isinstance(one, SegmentalDormer) and not (
        1.2 * one.cornice.height_m <= one.rise_m <= 0.9 * half
    ):
        raise DesignError(
            f"{_FIELD}.rise",
            format_length(one.rise_m, units),
            f"{at_least(1.2 * one.cornice.height_m, units)} to {at_most(0.9 * half, units)}",
        )


def _over_bays(
    one: DormerDesign,
    count: int | None,
    slope: Floats,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
) -> tuple[float, ...]:
    """The most dormers over the bays, or every other bay, that the slope holds.

    Beside a porch's gable, in which those over the middle would stand, over the bays clear of it.
    """
    bays = house.bay_centres_m
    step = bays[1] - bays[0] if len(bays) > 1 else house.width_m
    counts = [count] if count else range(len(bays), 0, -2)
    centres: tuple[float, ...] = (0.0,)
    for n in counts:
        # Where the number lets it stand over bays either way, every other bay comes first.
        for stride in sorted((2, 1), key=lambda s: (len(bays) - 1 - (n - 1) * s) % 2):
            run = (n - 1) * stride
            if run >= len(bays):
                continue
            first, between = divmod(len(bays) - 1 - run, 2)
            centres = bays[first : first + run + 1 : stride]
            if between:
                centres = tuple(stride * step * (k - (n - 1) / 2.0) for k in range(n))
            tried = replace(one, centres_m=centres)
            if next(_faults(tried, slope, house, roof, porch, "feet"), None) is None:
                return centres
    beside = _beside_gable(one, bays, house, roof, porch)
    for n in (count,) if count else range(len(beside), 0, -2):
        if n % 2 or n > len(beside):
            continue
        inner = (len(beside) - n) // 2
        for few in (beside[inner : inner + n], beside[: n // 2] + beside[len(beside) - n // 2 :]):
            tried = replace(one, centres_m=few)
            if next(_faults(tried, slope, house, roof, porch, "feet"), None) is None:
                return few
    return centres


def _beside_gable(
    one: DormerDesign,
    bays: tuple[float, ...],
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
) -> tuple[float, ...]:
    """The bays over which a dormer is clear of the porch's gable; none without one."""
    gable = porch_hole(porch, house, roof) if one.side == "front" else None
    holes = [] if gable is None else [gable]
    holes += [
        cross_gable_hole(g, house, roof) for g in cross_gables(house, roof) if g.wall == one.side
    ]
    if not holes:
        return ()
    rings = opened(holes)
    return tuple(x for x in bays if _clear(_taken(one, x, house, roof), rings))


def _taken(row: DormerDesign, x_m: float, house: HouseDesign, roof: RoofDesign) -> list[Floats]:
    """The plan that a dormer takes of the main covering."""
    at = dormer_frame(row, x_m, house.depth_m)
    return opened([h.moved(at) for h in dormer_holes(row, roof.covering)])


def _faults(
    row: DormerDesign,
    slope: Floats,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    units: str,
) -> Iterator[tuple[str, str, str]]:
    """Field, given, allowed of what does not fit."""
    taken = [_taken(row, x, house, roof) for x in row.centres_m]
    names = [
        f"dormer {i + 1} of the {row.side} at {format_length(x, units)}"
        for i, x in enumerate(row.centres_m)
    ]
    for name, rings in zip(names, taken, strict=True):
        yield from _off_its_slope(name, rings, slope[:, :2], units)
    for i, one in enumerate(taken):
        for j in range(i + 1, len(taken)):
            if not _clear(one, taken[j]):
                yield "centres", names[j], f"clear of {names[i]}"
        for k, stack in enumerate(house.chimneys):
            if not _clear(one, [clear_hole(stack.low_m, stack.high_m).ring]):
                yield "centres", names[i], f"clear of chimney {k + 1}"
    gable = porch_hole(porch, house, roof) if row.side == "front" else None
    through = [] if gable is None else [("the porch's gable", gable)]
    through += [
        ("a gable", cross_gable_hole(g, house, roof))
        for g in cross_gables(house, roof)
        if g.wall == row.side
    ]
    for said, hole in through:
        for name, one in zip(names, taken, strict=True):
            if not _clear(one, opened([hole])):
                yield "centres", name, f"clear of {said}"


def _off_its_slope(
    name: str, rings: list[Floats], bounds: Floats, units: str
) -> Iterator[tuple[str, str, str]]:
    """Where a dormer's holes leave the plan of their slope, or come too near its edge."""
    if all(inside(bounds, ring, FROM_EDGE_M) for ring in rings):
        return
    clear = f"{at_least(FROM_EDGE_M, units)} or more clear of"
    past_eave_only = inside(_without_eave(bounds), rings[0], FROM_EDGE_M)
    if past_eave_only and not inside(bounds, rings[0], FROM_EDGE_M):
        yield "sill", name, f"{clear} the eaves"
    else:
        yield "centres", name, f"on its slope, {clear} the ridge, of hips and of verges"


def _clear(some: list[Floats], others: list[Floats]) -> bool:
    return all(apart(a, b, BETWEEN_M) for a in some for b in others)


# --- the porch's gable ---------------------------------------------------------------------


def check_porch_gable(porch: PorchDesign, house: HouseDesign, roof: RoofDesign, units: str) -> None:
    """Raise DesignError where a pediment at the eaves cannot run back into the main roof."""
    high = porch.highest
    if not runs_back(porch, house):
        return
    slope = main_slope_of(house, roof)
    out = high.order.cornice_projection_m + roof.overhang_m
    front = high.depth_m + high.frieze_half_depth_m + out
    if front < eaves_reach(house, roof) + FROM_EDGE_M:
        raise DesignError(
            "porch.depth",
            format_length(high.depth_m, units),
            "a porch that stands before the main eaves, under a pediment",
        )
    ridge_z = high.top_z_m + EAVES_EDGE_M + high.roof_slope * (high.half_width_m + out)
    limit_z = float(slope[:, 2].max()) - FROM_EDGE_M
    if ridge_z > limit_z + HAIR_M:
        raise DesignError(
            "porch.roof_pitch",
            f"a pediment whose ridge runs back at {format_length(ridge_z, units)}",
            f"at most {at_most(limit_z, units)}, under the main ridge",
        )
    planes = porch_gable(high, house, roof)
    sides = [v.line[:, :2] + [[0.0, 1e-6], [0.0, 0.0]] for v in planes.valleys]
    hips = _without_eave(slope[:, :2])
    if not all(inside(hips, line, FROM_EDGE_M) for line in sides):
        raise DesignError(
            "porch.roof",
            "a pediment whose valleys run past the main roof's front slope",
            f"valleys {at_least(FROM_EDGE_M, units)} or more clear of hips, verges and ridge",
        )
    hole = opened([porch_gable_hole(planes, roof.covering)])
    for i, stack in enumerate(house.chimneys):
        if not _clear([clear_hole(stack.low_m, stack.high_m).ring], hole):
            raise DesignError(
                f"house.chimneys.{i}.along",
                format_length((stack.low_m[0] + stack.high_m[0]) / 2.0, units),
                "clear of the porch's gable",
            )


def _without_eave(bounds: Floats) -> Floats:
    """A slope's plan drawn far out past its eave."""
    far = bounds.copy()
    far[0] += 100.0 * (bounds[0] - bounds[-1])
    far[1] += 100.0 * (bounds[1] - bounds[2])
    return far
