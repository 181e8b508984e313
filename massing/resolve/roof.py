"""The main roof of a design: pitches, break, flat, gables, from what the scene says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import atan, degrees, pi, sin, tan
from typing import NamedTuple

from massing.design.house import HouseDesign
from massing.design.kinds import Covering, RoofColour, Wall
from massing.design.porch import BalustradeDesign, PorchDesign, WrappedPorch
from massing.design.roof import (
    DeckRoof,
    GableRoof,
    GambrelRoof,
    GutterDesign,
    HipRoof,
    RoofDesign,
)
from massing.design.side_porch import SidePorchDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule, said_default, share, sourced
from massing.resolve.cross_gables import opening_under
from massing.resolve.ground import ground_before_wall
from massing.resolve.porch_guards import (
    BELLY_OF_BALUSTER,
    GUARD_HEIGHT_M,
    PLINTH_OF_BALUSTER,
    RAIL_OF_BALUSTER,
    baluster_spacing,
)
from massing.resolve.wrapping import side_runs_m
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Balustrade, Roof
from massing.settingout.corner_pilasters import block_leg
from massing.settingout.cross_gables import span_m
from massing.settingout.eaves import eaves_reach, reach_m
from massing.settingout.main_roof import deck_sinks_m
from massing.settingout.roof_heights import nose_m
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source, unless a line says otherwise.
BEYOND_CORNICE_M = default("roof.beyond_cornice")
PITCH = default("roof.pitch")
# The upper half of a regular octagon: four equal rafters in a semicircle, at 67 1/2 and
# 22 1/2 degrees (carpenters' construction: common practice, no source).
GAMBREL_UPPER_RAD = pi / 8.0
_INSCRIBED_RAD = pi / 4.0  # chords of a semicircle that meet, one from its foot, one to its top
DECK_RUN_OF_HALF = default("roof.deck")
LEAST_DECK_M = default("roof.least_deck")
DIE_OF_BALUSTRADE = default("roof.die")
GAP_OF_BELLY = default("roof.gap")
GUTTER_M = default("roof.gutter")
BRACKET_M = default("roof.bracket")
PIPE_AREA_OF_ROOF = default("roof.pipe")
PIPES_M = tuple(default(f"roof.pipe_{size}") for size in ("small", "middle", "large"))
PIPE_FROM_CORNER_M = default("roof.pipe_from_corner")
PIPE_CLEAR_M = default("roof.pipe_clear")
CLEAR_OF_CURB_M = default("roof.clear_of_curb")


def roof_design(spec: Roof, house: HouseDesign, origins: Origins) -> RoofDesign:
    """The main roof over a house.

    Raises:
        DesignError: fields of one form given for another, or slopes that do not meet.
    """
    _check_form(spec, house)
    upper = PITCH if spec.form != "gambrel" else tan(GAMBREL_UPPER_RAD)
    why = "common practice" if spec.form != "gambrel" else "half an octagon, as carpenters set out"
    common = _Common(
        _pitch("pitch", spec.pitch, upper, why, origins),
        origins.choose(("roof", "overhang"), spec.overhang, BEYOND_CORNICE_M, "common practice"),
        spec.covering,
        spec.colour,
    )
    match spec.form:
        case "hip":
            return HipRoof(*common)
        case "gable":
            roof = GableRoof(*common, gable=spec.gable, gable_foot=spec.gable_foot)
            if roof.raked:
                _check_rakes(roof, house, origins)
            return _with_opening(spec, roof, house, origins)
        case "gambrel":
            return _gambrel(spec, common, house, origins)
        case "deck":
            return _decked(spec, common, house, origins)


def _with_opening(spec: Roof, roof: GableRoof, house: HouseDesign, origins: Origins) -> GableRoof:
    """The roof with the window or louvre that is asked for in each gable."""
    if spec.gable_opening is None:
        return roof
    half = house.depth_m / 2.0 + eaves_reach(house, roof) - deck_sinks_m(roof) / roof.slope
    at = ("roof", "gable_opening")
    made = opening_under(spec.gable_opening, half, roof.slope, house, at, origins, asked=True)
    return replace(roof, opening=made)


class _Common(NamedTuple):
    """What roofs of all forms have."""

    slope: float
    overhang_m: float
    covering: Covering
    colour: RoofColour


def _check_form(spec: Roof, house: HouseDesign) -> None:
    """Raise DesignError where a field belongs to another form."""
    for field, given, form in (
        ("lower_pitch", spec.lower_pitch is not None, "gambrel"),
        ("break_height", spec.break_height is not None, "gambrel"),
        ("deck_width", spec.deck_width is not None, "deck"),
        ("deck_surface", spec.deck_surface != "metal", "deck"),
        ("deck_balustrade", spec.deck_balustrade is not None, "deck"),
        ("gable", spec.gable != "barge boards", "gable"),
        ("gable_opening", spec.gable_opening is not None, "gable"),
    ):
        if given and spec.form != form:
            raise DesignError(f"roof.{field}", f"with form: {spec.form}", f"form: {form}")
    if spec.gable_foot != "across" and spec.gable != "raking cornice":
        raise DesignError("roof.gable_foot", spec.gable_foot, "only with gable: raking cornice")
    if spec.gable == "raking cornice" and not any(
        m.name == "cymatium" for m in house.cornice.members
    ):
        raise DesignError(
            "roof.gable", "a raking cornice", "a house cornice that has a cymatium to rake"
        )


def _check_rakes(roof: RoofDesign, house: HouseDesign, origins: Origins) -> None:
    """Raise DesignError where rakes so flat would not clear the level cornice."""
    out = house.cornice.projection_m
    least = 1.5 * house.cornice.height_m / (house.depth_m / 2.0 + out)
    if roof.slope < least:
        raise DesignError(
            "roof.pitch",
            f"{12.0 * roof.slope:.3g}:12 under a raking cornice "
            f"{format_length(house.cornice.height_m, origins.units)} high",
            f"{12.0 * least:.3g}:12 or more",
        )


def _pitch(field: str, given: float | None, rule: float, why: str, origins: Origins) -> float:
    slope = rule if given is None else given
    source = why if given is None else origins.given(("roof", field))
    origins.say(f"roof.{field}", f"{12.0 * slope:.4g}:12", source, slope)
    return slope


def _gambrel(spec: Roof, base: _Common, house: HouseDesign, origins: Origins) -> GambrelRoof:
    """Both slopes in a semicircle over the eaves, where the scene does not say otherwise."""
    radius = house.depth_m / 2.0 + reach_m(house, base.overhang_m)
    steep = atan(base.slope) + _INSCRIBED_RAD
    if spec.lower_pitch is None and steep > 0.48 * pi:
        raise DesignError(
            "roof.pitch",
            f"{12.0 * base.slope:.3g}:12 over a gambrel",
            "under 10:12, or give lower_pitch",
        )
    lower = _pitch(
        "lower_pitch",
        spec.lower_pitch,
        tan(steep),
        "both slopes in a semicircle: the lower half a right angle steeper",
        origins,
    )
    if lower <= base.slope + 0.05:
        raise DesignError(
            "roof.lower_pitch", f"{12.0 * lower:.3g}:12", f"steeper than {12.0 * base.slope:.3g}:12"
        )
    if spec.break_height is None and lower <= 1.05:
        raise DesignError(
            "roof.lower_pitch",
            f"{12.0 * lower:.3g}:12, {degrees(atan(lower)):.0f} degrees",
            "over 12 1/2:12 for a break on a semicircle, or give break_height",
        )
    turn = pi - 2.0 * atan(lower)  # of the break on the circle, from the eaves up
    rise = origins.choose(
        ("roof", "break_height"),
        spec.break_height,
        radius * sin(turn),
        "on a semicircle over the eaves, as carpenters set out",
    )
    run = rise / lower
    design = GambrelRoof(*base, lower_slope=lower, break_run_m=run)
    # What is left of the upper slope must hold a few courses.
    most = radius - max(nose_m(design), 0.6)
    if rise < 0.3 - HAIR_M or run > most + HAIR_M:
        raise DesignError(
            "roof.break_height",
            format_length(rise, origins.units),
            f"{at_least(0.3, origins.units)} to {at_most(most * lower, origins.units)}",
        )
    return design


def _decked(spec: Roof, base: _Common, house: HouseDesign, origins: Origins) -> DeckRoof:
    """A hip cut off level at a share of its run."""
    half = min(house.width_m, house.depth_m) / 2.0 + reach_m(house, base.overhang_m)
    width = origins.choose(
        ("roof", "deck_width"),
        spec.deck_width,
        2.0 * half * (1.0 - DECK_RUN_OF_HALF),
        sourced(f"the hip cut off at {share('roof.deck')} of its run", "roof.deck"),
    )
    most = 2.0 * (half - 0.6)
    if not LEAST_DECK_M - HAIR_M <= width <= most + HAIR_M:
        raise DesignError(
            "roof.deck_width",
            format_length(width, origins.units),
            f"{at_least(LEAST_DECK_M, origins.units)} to {at_most(most, origins.units)}",
        )
    return DeckRoof(
        *base,
        deck_run_m=half - width / 2.0,
        deck_surface=spec.deck_surface,
        deck_balustrade=_balustrade(spec.deck_balustrade, width, origins),
    )


def check_chimneys(house: HouseDesign, roof: RoofDesign, origins: Origins) -> None:
    """Raise DesignError where a stack would cut the curb round a flat, or its balustrade."""
    if not isinstance(roof, DeckRoof):
        return
    x = house.width_m / 2.0 + eaves_reach(house, roof) - roof.deck_run_m
    y = house.depth_m / 2.0 + eaves_reach(house, roof) - roof.deck_run_m
    rail = roof.deck_balustrade
    inside = CLEAR_OF_CURB_M if rail is None else 1.5 * rail.pedestal_width_m + CLEAR_OF_CURB_M
    for i, stack in enumerate(house.chimneys):
        (x0, y0), (x1, y1) = stack.low_m, stack.high_m
        near = max(x0, -x1) - x, max(y0 - house.depth_m / 2.0, house.depth_m / 2.0 - y1) - y
        far = max(x1, -x0) - x, max(y1 - house.depth_m / 2.0, house.depth_m / 2.0 - y0) - y
        if max(near) < CLEAR_OF_CURB_M and max(far) > -inside:
            raise DesignError(
                f"house.chimneys.{i}.back",
                f"a stack {format_length((y0 + y1) / 2.0, origins.units)} back, on the edge of "
                f"the roof's flat",
                "one that stands wholly on the slopes, or on the flat clear of its edge",
            )


def drained(
    spec: Roof,
    house: HouseDesign,
    porch: PorchDesign,
    roof: RoofDesign,
    ground: GroundDesign,
    origins: Origins,
    beside: Sequence[SidePorchDesign] = (),
) -> RoofDesign:
    """The roof with its gutters and a downspout at each corner that has room for one.

    Raises:
        DesignError: a run of gutter would have none, or a width without a gutter.
    """
    if spec.gutter == "none":
        if spec.gutter_width is not None:
            raise DesignError("roof.gutter_width", "a width", "gutter: half round or moulded")
        return roof
    width = origins.choose(
        ("roof", "gutter_width"),
        spec.gutter_width,
        GUTTER_M,
        f"at least {said_default('roof.gutter')}",
    )
    if not 0.09 - HAIR_M <= width <= 0.25 + HAIR_M:
        raise DesignError(
            "roof.gutter_width",
            format_length(width, origins.units),
            f"{at_least(0.09, origins.units)} to {at_most(0.25, origins.units)}",
        )
    places = _downspouts(spec, house, porch, roof, beside)
    reach = eaves_reach(house, roof)
    area = (house.width_m + 2.0 * reach) * (house.depth_m + 2.0 * reach) / len(places)
    asked = PIPE_AREA_OF_ROOF * area
    enough = [d for d in PIPES_M if pi * d**2 / 4.0 >= asked]
    pipe = enough[0] if enough else PIPES_M[-1]
    pipe_row = default_rule("roof.pipe")
    of_pipe, of_roof = pipe_row.written.split(":")
    origins.note(
        "roof.downspout", pipe, f"{of_pipe} of pipe to {of_roof} of roof ({pipe_row.cited})"
    )
    gutter = GutterDesign(
        kind=spec.gutter,
        metal=spec.gutter_metal,
        width_m=width,
        bracket_spacing_m=BRACKET_M,
        downspout_m=pipe,
        downspouts=tuple(places),
        downspout_feet_m=tuple(
            0.0 if ground.level else ground_before_wall(house, *place, ground)(0.0)
            for place in places
        ),
    )
    return replace(roof, gutter=gutter)


def _downspouts(
    spec: Roof,
    house: HouseDesign,
    porch: PorchDesign,
    roof: RoofDesign,
    beside: Sequence[SidePorchDesign],
) -> list[tuple[Wall, float]]:
    """A place by each corner, on front or back, else round the corner where a hip allows."""
    order = house.corner_pilasters
    from_corner = PIPE_FROM_CORNER_M + (block_leg(order) if order else 0.0)
    placed: list[tuple[Wall, float]] = []
    walls: tuple[Wall, ...] = ("front", "back")
    for wall in walls:
        found: list[tuple[Wall, float]] = []
        said = ""
        for side in (-1.0, 1.0):
            x = side * (house.width_m / 2.0 - from_corner)
            choices: list[tuple[Wall, float]] = [(wall, x)]
            if roof.hipped:
                # A wall is seen from outside: the back's right end is the house's left.
                right = (side > 0.0) == (wall == "front")
                y = house.depth_m / 2.0 - from_corner
                choices.append(
                    ("right", -y if wall == "front" else y)
                    if right
                    else ("left", y if wall == "front" else -y)
                )
            for choice in choices:
                said = _in_the_way(*choice, house, porch, roof, beside)
                if not said:
                    found.append(choice)
                    break
        if not found:
            raise DesignError(
                "roof.gutter",
                f"{spec.gutter}, its downspouts at the {wall}'s corners behind {said}",
                f"a corner of the {wall} with a clear strip of wall, or gutter: none",
            )
        placed += found
    return placed


def _in_the_way(
    wall: Wall,
    along_m: float,
    house: HouseDesign,
    porch: PorchDesign,
    roof: RoofDesign,
    beside: Sequence[SidePorchDesign],
) -> str:
    """What stands where a downspout would go; nothing if it is free."""
    half = PIPES_M[-1] / 2.0 + PIPE_CLEAR_M
    for opening in house.openings:
        if opening.wall == wall and abs(along_m - opening.along_m) < opening.reach_m + half:
            return opening.name
    if isinstance(porch, WrappedPorch):
        low, high = side_runs_m(porch, house.depth_m).get(wall, (0.0, 0.0))
        if wall == "front" or low - half < along_m < high + half:
            return "the porch"
    before: list[PorchDesign] = [one.porch for one in beside if one.side == wall]
    if before or wall == "front":
        for part in before or [porch, porch.highest]:
            reach = part.half_width_m + part.order.cornice_projection_m + roof.overhang_m
            floor = part.axes_m[-1] - part.centre_m + part.floor_edge_m
            if part.from_middle_m(along_m) < max(reach, floor) + half:
                return "a porch" if before else "the porch"
    for gable in roof.gables:
        low, high = span_m(gable, house, roof)
        if gable.wall == wall and low - half < along_m < high + half:
            return "a gable"
    for wing in house.wings:
        reach = eaves_reach(wing.house, wing.roof) + half
        clear = wing.ahead and abs(along_m - wing.x_m) > wing.width_m / 2.0 + reach
        if wing.side == wall and not clear:
            return f"the {wall} wing"
    return ""


def _balustrade(
    spec: Balustrade | None, width_m: float, origins: Origins
) -> BalustradeDesign | None:
    """The balustrade round a flat, high enough to guard it where the scene does not say."""
    if spec is None:
        return None
    path = ("roof", "deck_balustrade")
    height = origins.choose(
        (*path, "height"), spec.height, GUARD_HEIGHT_M, said_default("guards.guard", origins.units)
    )
    if (
        not 0.4 - HAIR_M <= height <= 2.0 + HAIR_M
        or 3.0 * DIE_OF_BALUSTRADE * height > width_m + HAIR_M
    ):
        raise DesignError(
            "roof.deck_balustrade.height",
            format_length(height, origins.units),
            f"{at_least(0.4, origins.units)} to {at_most(2.0, origins.units)}, and at "
            f"most the flat's {format_length(width_m, origins.units)}",
        )
    baluster = height / (1.0 + RAIL_OF_BALUSTER + PLINTH_OF_BALUSTER)
    belly = BELLY_OF_BALUSTER * baluster
    spacing = baluster_spacing(
        path,
        spec,
        (1.0 + GAP_OF_BELLY) * belly,
        sourced("gaps of two fifths of the belly", "roof.gap"),
        belly,
        origins,
    )
    return BalustradeDesign(
        height_m=height,
        plinth_m=baluster * PLINTH_OF_BALUSTER,
        rail_m=baluster * RAIL_OF_BALUSTER,
        pedestal_width_m=DIE_OF_BALUSTRADE * height,
        baluster_spacing_m=spacing,
        belly_m=belly,
        panelled=spec.panelled,
        half_balusters=spec.half_balusters,
        filling=spec.filling,
    )
