"""From what the scene says to a design with every dimension known.

Each number is either given in the scene or follows from a rule named here; ``Design.origins``
records which, so that the designer can ask where any size came from.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import combinations, pairwise
from typing import Any

from massing.canon import FittedCornice, FittedOrder, fit_cornice, fit_order, spacing_axis_m
from massing.scene.design import (
    BalustradeDesign,
    ChimneyDesign,
    Design,
    HedgeDesign,
    HouseDesign,
    NeighbourDesign,
    Opening,
    PorchDesign,
    RoofDesign,
    SettingDesign,
    SiteDesign,
    StepsDesign,
    TreeDesign,
)
from massing.scene.errors import DesignError
from massing.scene.spec import (
    Balustrade,
    Door,
    Hedge,
    House,
    Neighbour,
    Porch,
    Scene,
    Site,
    Steps,
    Tree,
    UpperPorch,
    Window,
)
from massing.sections import (
    BELT_M,
    CLAPBOARD_EXPOSURE_M,
    SEGMENT_OF_WIDTH,
    SILL_HEIGHT_M,
    head_reach,
)
from massing.times import time_zone_at
from massing.units import FOOT_M, INCH_M, format_length

# Common practice, no source, unless a line says otherwise.
FLOOR_M = 2.0 * FOOT_M
WALL_THICKNESS_M = {"stucco": 12 * INCH_M, "clapboard": 6 * INCH_M}
MASONRY_THICKNESS_M = 14 * INCH_M
REVEAL_M = {"clapboard": 1.5 * INCH_M}
MASONRY_REVEAL_M = 4 * INCH_M
WINDOW_OF_BAY = 0.38
WINDOW_WIDTH_LIMITS_M = (0.75, 1.15)
SILL_M = 2 * FOOT_M
HEAD_CLEARANCE_M = 2 * INCH_M  # casing to the floor, ceiling or frieze above
LEAST_STOREY_M = 1.8  # a porch ceiling lower than this cuts the storey's windows
UPPER_WINDOW_RATIO = 5.0 / 6.0  # heights fall by about a sixth a storey; see proportion.py
MAX_LEAF_WIDTH_M = 3.5 * FOOT_M  # single leaf (Edinburgh Encyclopaedia, doors)
PORCH_STEP_DOWN_M = 2 * INCH_M
CLEAR_OF_WALL_M = 2.5 * INCH_M  # an end column's foot to the wall
FLOOR_BEYOND_PLINTH_M = 3 * INCH_M
RISER_M = 6.5 * INCH_M
TREAD_M = 13 * INCH_M
CORNICE_OF_WALL = 1.0 / 18.0
FRIEZE_BOARD_M = 1 * INCH_M
ROOF_BEYOND_CORNICE_M = 2 * INCH_M
CROWNING_BALUSTRADE_OF_ENTABLATURE = 0.75  # between 2/3 and 4/5; see proportion.py
GUARD_HEIGHT_M = 3 * FOOT_M  # IRC R312.1.2: at least 36 in
GUARD_GAP_M = 3.75 * INCH_M  # under the 4 in sphere of IRC R312.1.3
GUARD_POST_M = 5.5 * INCH_M
GUARD_BELLY_M = 4.5 * INCH_M
RAIL_OF_BALUSTER = 1.0 / 6.0  # W. R. Ware, The American Vignola, p. 39
PLINTH_OF_BALUSTER = 2.0 / 6.0  # the same
BELLY_OF_BALUSTER = 1.0 / 3.0  # the same
UNDER_HIPPED_ROOF = 0.72  # share of the storey's height
DECK_M = 0.08  # flooring of an upper porch over the cornice it stands on
# Orders are superposed from the heaviest to the lightest (Vitruvius V.1.3, from memory).
NEXT_LIGHTER = {
    "pier": "pier",
    "tuscan": "doric",
    "doric": "ionic",
    "mutular doric": "ionic",
    "ionic": "corinthian",
    "corinthian": "composite",
    "composite": "composite",
}
CHIMNEY_M = (2.5 * FOOT_M, 2.0 * FOOT_M, 3.0 * FOOT_M)  # width, depth, height above the ridge
CHIMNEY_GAP_M = 0.6
FRENCH_PANE_M = (11 * INCH_M, 15 * INCH_M)
SETTING_GAP_M = 0.1
CHEEK_M = 16 * INCH_M
WALK_M = 30.0
PORCH_ROOF_THICKNESS_M = 0.3  # edge, covering and flashing
# A pediment's tympanum is a ninth of its front high (Vitruvius III.5.12).
PORCH_ROOF_SLOPES = {"flat": 0.0, "hipped": 3.0 / 12.0, "pediment": 2.0 / 9.0}


class _Origins:
    """Writes down where each number came from."""

    def __init__(self, lines: Mapping[tuple[Any, ...], int], units: str) -> None:
        self.lines, self.units = lines, units
        self.notes: dict[str, str] = {}

    def given(self, path: tuple[Any, ...]) -> str:
        line = self.lines.get(path)
        return f"given, line {line}" if line else "given"

    def note(self, name: str, value_m: float, source: str) -> float:
        self.notes[name] = f"{format_length(value_m, self.units)} · {source}"
        return value_m

    def choose(self, path: tuple[Any, ...], given: float | None, rule_m: float, why: str) -> float:
        name = ".".join(str(p) for p in path)
        if given is not None:
            return self.note(name, given, self.given(path))
        return self.note(name, rule_m, why)


def resolve(scene: Scene, name: str, lines: Mapping[tuple[Any, ...], int] | None = None) -> Design:
    """The design that ``scene`` (one alternative, already merged) asks for.

    Args:
        scene: the validated fields.
        name: the alternative's name.
        lines: line of each field in the scene file, for the origins.

    Raises:
        DesignError: the fields are each allowed but cannot stand together.
    """
    origins = _Origins(lines or {}, scene.units)
    site = _site(scene.site, origins)
    levels = _levels(scene.house, origins)
    bays = _bay_centres(scene.house, origins)
    porch = _porch(scene, levels, bays, origins)
    house = _house(scene.house, levels, bays, porch, origins)
    _check_porch_against_house(porch, house, scene)
    roof = RoofDesign(
        form=scene.roof.form,
        slope=scene.roof.pitch,
        overhang_m=origins.choose(
            ("roof", "overhang"), scene.roof.overhang, ROOF_BEYOND_CORNICE_M, "common practice"
        ),
        covering=scene.roof.covering,
        colour=scene.roof.colour,
    )
    house = replace(house, chimneys=_chimneys(scene.house, house, roof, origins))
    return Design(
        name=name,
        site=site,
        house=house,
        porch=porch,
        roof=roof,
        setting=_setting(scene, house, porch),
        units=scene.units,
        scale_figure=scene.scale_figure,
        origins=origins.notes,
    )


def _site(site: Site, origins: _Origins) -> SiteDesign:
    zone = site.time_zone or time_zone_at(site.latitude, site.longitude)
    origins.notes["site.time_zone"] = (
        f"{zone} · {origins.given(('site', 'time_zone')) if site.time_zone else 'by position'}"
    )
    return SiteDesign(
        place=site.place,
        latitude_deg=site.latitude,
        longitude_deg=site.longitude,
        altitude_m=site.altitude,
        time_zone=zone,
        front_azimuth_deg=site.front_faces,
        year=site.year,
    )


def _levels(house: House, origins: _Origins) -> tuple[float, ...]:
    """Heights of the floors and, last, of the wall top, above the ground."""
    levels = [origins.choose(("house", "floor"), house.floor, FLOOR_M, "common practice: 2 ft up")]
    for i, storey in enumerate(house.storeys):
        origins.note(f"house.storeys.{i}", storey, origins.given(("house", "storeys", i)))
        levels.append(levels[-1] + storey)
    origins.note("house.wall_top", levels[-1], "floor and storeys added up")
    return tuple(levels)


def _bay_centres(house: House, origins: _Origins) -> tuple[float, ...]:
    spacing = origins.choose(
        ("house", "bay_spacing"),
        house.bay_spacing,
        house.width / house.bays,
        "width over the number of bays",
    )
    centres = tuple((i - (house.bays - 1) / 2.0) * spacing for i in range(house.bays))
    if centres[-1] + 0.3 > house.width / 2.0:
        raise DesignError(
            "house.bay_spacing",
            format_length(spacing, origins.units),
            f"{house.bays} bays inside a width of {format_length(house.width, origins.units)}",
        )
    return centres


# --- the porch -----------------------------------------------------------------------------


def _porch(
    scene: Scene, levels: tuple[float, ...], bays: tuple[float, ...], origins: _Origins
) -> PorchDesign:
    porch = scene.porch
    floor_z = origins.choose(
        ("porch", "floor"),
        porch.floor,
        levels[0] - PORCH_STEP_DOWN_M,
        "2 in below the ground floor (common practice)",
    )
    if floor_z > levels[0]:
        raise DesignError(
            "porch.floor",
            format_length(floor_z, scene.units),
            f"at most the ground floor's {format_length(levels[0], scene.units)}",
        )
    order = _fit(porch, floor_z, levels, ("porch",), origins)
    axis_gaps = _gaps(porch, order, bays, origins)
    if porch.shape == "semicircular":
        _check_semicircular(porch)
        depth, axes = _on_a_semicircle(porch, order, axis_gaps, origins)
    else:
        axes = _in_line(axis_gaps)
        depth = origins.choose(
            ("porch", "depth"),
            porch.depth,
            (porch.side_columns + 1) * max(axis_gaps),
            "one intercolumniation to each bay of the returns (common practice)",
        )
    if depth < 1.5 * order.diameter_m:
        raise DesignError(
            "porch.depth",
            format_length(depth, scene.units),
            f"at least 1 1/2 diameters, {format_length(1.5 * order.diameter_m, scene.units)}",
        )
    closest = min(*axis_gaps, depth / (porch.side_columns + 1))
    if closest - order.foot_width_m < 0.1:
        raise DesignError(
            "porch.spacing",
            format_length(closest, scene.units),
            f"wider than the plinths' {format_length(order.foot_width_m, scene.units)}",
        )
    if porch.roof_pitch is not None and porch.roof == "flat":
        raise DesignError("porch.roof_pitch", "a pitch", "only with a hipped roof or a pediment")
    if porch.roof == "pediment":
        _check_pediment(porch, order)
    lower = PorchDesign(
        order=order,
        axes_m=axes,
        depth_m=depth,
        floor_z_m=floor_z,
        floor_edge_m=order.foot_width_m / 2.0 + FLOOR_BEYOND_PLINTH_M,
        steps=_steps(porch.steps, floor_z, axes, order, origins),
        balustrade=_crowning(porch.balustrade, order, origins),
        guard=_guard(porch.guard, order, origins),
        roof=porch.roof,
        roof_slope=porch.roof_pitch or PORCH_ROOF_SLOPES[porch.roof],
        side_columns=porch.side_columns,
        shape=porch.shape,
        responds=porch.responds,
    )
    if porch.upper is None:
        return lower
    return replace(lower, upper=_upper(porch, porch.upper, lower, levels, origins))


def _check_pediment(porch: Porch, order: FittedOrder) -> None:
    if not any(m.name == "cymatium" for m in order.cornice):
        raise DesignError(
            "porch.roof",
            f"a pediment over a {porch.order}",
            "an order whose cornice has a cymatium",
        )
    if porch.balustrade is not None:
        raise DesignError("porch.balustrade", "a balustrade", "none over a pediment")


def _upper(
    porch: Porch,
    upper: UpperPorch,
    lower: PorchDesign,
    levels: tuple[float, ...],
    origins: _Origins,
) -> PorchDesign:
    """The order that stands on the first, on the same axes."""
    name = upper.order or NEXT_LIGHTER[porch.order]
    asked = porch.model_copy(
        update={
            "order": name,
            "height": upper.height or "eaves",
            "diameter": upper.diameter,
            "column_height": upper.column_height,
            "entablature": upper.entablature,
            "upper": None,
        }
    )
    floor_z = lower.top_z_m
    order = _fit(asked, floor_z, levels, ("porch", "upper"), origins)
    if min(b - a for a, b in pairwise(lower.axes_m)) - order.plinth_width_m < 0.1:
        raise DesignError(
            "porch.upper",
            f"plinths {format_length(order.plinth_width_m, origins.units)} wide",
            "columns that clear each other on the axes below",
        )
    return replace(
        lower,
        order=order,
        floor_z_m=floor_z,
        steps=StepsDesign(0.0, 0, 0.0, 0.0),
        balustrade=lower.balustrade,
        guard=_guard(upper.guard, order, origins),
    )


def _height_rule(porch: Porch) -> str:
    if porch.height is None and porch.upper is not None:
        return "from the porch floor to just below the floor above"
    if porch.height is None and porch.roof != "flat":
        return f"{UNDER_HIPPED_ROOF} of the storey, to leave room for its roof (common practice)"
    return f"from the porch floor to the {porch.height or 'storey'}'s top"


def _fit(
    porch: Porch,
    floor_z: float,
    levels: tuple[float, ...],
    where: tuple[str, ...],
    origins: _Origins,
) -> FittedOrder:
    """The order scaled to what the scene pins; else to the height there is to fill."""
    height: float | None
    if porch.height is None or isinstance(porch.height, str):
        top_z = levels[-1] if porch.height == "eaves" else levels[1]
        if porch.height is None and porch.upper is not None:
            top_z -= PORCH_STEP_DOWN_M
        elif porch.height is None and porch.roof != "flat":
            top_z = floor_z + UNDER_HIPPED_ROOF * (top_z - floor_z)
        pinned = [porch.column_height, porch.entablature]
        height = None if porch.height is None and all(pinned) else top_z - floor_z
    else:
        height = porch.height
    dotted = ".".join(where)
    try:
        order = fit_order(
            porch.order,
            porch.canon,
            diameter_m=porch.diameter,
            column_height_m=porch.column_height,
            entablature_m=porch.entablature,
            order_height_m=None if porch.pedestals else height,
            whole_height_m=height if porch.pedestals else None,
            pedestal=porch.pedestals,
        )
    except ValueError as error:
        raise DesignError(
            f"{dotted}.height",
            format_length(height, origins.units) if height else "nothing",
            " ".join(str(error).split()),
        ) from None
    for key, text in order.origins:
        field = "height" if key == "order_height_m" else key.removesuffix("_m")
        if text == "given":
            text = origins.given((*where, field))
            if field == "height" and not isinstance(porch.height, float):
                text = _height_rule(porch)
        value_m = getattr(order, key.replace("entablature_m", "entablature_height_m"))
        origins.note(f"{dotted}.{field}", value_m, text)
    return order


def _in_line(gaps: list[float]) -> tuple[float, ...]:
    """Column axes along the front, left to right, symmetrical about the middle."""
    positions = [-sum(gaps) / 2.0]
    for gap in gaps:
        positions.append(positions[-1] + gap)
    return tuple(positions)


def _on_a_semicircle(
    porch: Porch, order: FittedOrder, gaps: list[float], origins: _Origins
) -> tuple[float, tuple[float, ...]]:
    """Radius to the axes and their places along the front, the end columns by the wall."""
    by_wall = order.foot_width_m / 2.0 + CLEAR_OF_WALL_M
    radius = origins.choose(
        ("porch", "depth"),
        porch.depth,
        (sum(gaps) + 2.0 * by_wall) / math.pi,
        "the radius on which the columns keep their spacing",
    )
    if radius < 2.0 * by_wall:
        raise DesignError(
            "porch.depth",
            format_length(radius, origins.units),
            f"a radius of {format_length(2.0 * by_wall, origins.units)} or more",
        )
    end = math.asin(by_wall / radius)
    step = (math.pi - 2.0 * end) / (porch.columns - 1)
    return radius, tuple(-radius * math.cos(end + k * step) for k in range(porch.columns))


def _check_semicircular(porch: Porch) -> None:
    for field, asked, allowed in (
        ("roof", porch.roof != "flat", "flat, over a semicircular porch"),
        ("guard", porch.guard is not None, "none, on a semicircular porch"),
        ("upper", porch.upper is not None, "none, over a semicircular porch"),
        ("side_columns", porch.side_columns > 0, "none, on a semicircular porch"),
        ("centre_spacing", porch.centre_spacing is not None, "none, on a semicircular porch"),
    ):
        if asked:
            raise DesignError(f"porch.{field}", getattr(porch, field), allowed)
    if porch.balustrade is not None and porch.balustrade.filling != "balusters":
        raise DesignError("porch.balustrade.filling", "parapet", "balusters, on a curve")


def _gaps(
    porch: Porch, order: FittedOrder, bays: tuple[float, ...], origins: _Origins
) -> list[float]:
    """Axis to axis of successive columns, left to right."""
    path = ("porch", "spacing")
    centre: float | None = porch.centre_spacing
    if porch.spacing == "bays":
        if len(bays) < 2:
            raise DesignError("porch.spacing", "bays", "a house of two or more bays, or a length")
        axis, why = bays[1] - bays[0], "the house's bays"
    elif isinstance(porch.spacing, str):
        axis, named_centre = spacing_axis_m(order, porch.spacing)
        centre = centre or named_centre
        why = f"{porch.spacing}, {origins.given(path)}"
    else:
        axis, why = porch.spacing, origins.given(path)
    origins.note("porch.spacing", axis, why)
    n = porch.columns
    gaps = [axis] * (n - 1)
    if centre is not None:
        if n % 2:
            raise DesignError(
                "porch.columns", n, "an even number where the middle spacing is wider"
            )
        gaps[(n - 1) // 2] = origins.note(
            "porch.centre_spacing",
            centre,
            origins.given(("porch", "centre_spacing")) if porch.centre_spacing else why,
        )
    return gaps


def _steps(
    steps: Steps, floor_z: float, axes: tuple[float, ...], order: FittedOrder, origins: _Origins
) -> StepsDesign:
    riser = origins.choose(
        ("porch", "steps", "riser"), steps.riser, RISER_M, "common practice: about 6 1/2 in"
    )
    count = max(1, math.ceil(floor_z / riser - 1e-9))
    origins.note("porch.steps.riser", floor_z / count, f"{count} equal risers to the porch floor")
    right = [a for a in axes if a > 1e-9]
    outer = right[1] if len(axes) >= 6 else right[0]
    return StepsDesign(
        width_m=origins.choose(
            ("porch", "steps", "width"),
            steps.width,
            2.0 * outer - order.foot_width_m,
            "the middle bay, or three of five or more, between plinths (common practice)",
        ),
        risers=count,
        riser_m=floor_z / count,
        tread_m=origins.choose(
            ("porch", "steps", "tread"), steps.tread, TREAD_M, "common practice: 13 in"
        ),
    )


def _crowning(
    balustrade: Balustrade | None, order: FittedOrder, origins: _Origins
) -> BalustradeDesign | None:
    if balustrade is None:
        return None
    height = origins.choose(
        ("porch", "balustrade", "height"),
        balustrade.height,
        CROWNING_BALUSTRADE_OF_ENTABLATURE * order.entablature_height_m,
        "3/4 of the entablature, between the 2/3 and 4/5 of the handbooks",
    )
    baluster = height / (1.0 + RAIL_OF_BALUSTER + PLINTH_OF_BALUSTER)
    return BalustradeDesign(
        height_m=height,
        plinth_m=baluster * PLINTH_OF_BALUSTER,
        rail_m=baluster * RAIL_OF_BALUSTER,
        pedestal_width_m=order.upper_diameter_m,
        baluster_spacing_m=origins.choose(
            ("porch", "balustrade", "baluster_spacing"),
            balustrade.baluster_spacing,
            1.4 * BELLY_OF_BALUSTER * baluster,
            "gaps of two fifths of the belly",
        ),
        belly_m=BELLY_OF_BALUSTER * baluster,
        panelled=balustrade.panelled,
        half_balusters=balustrade.half_balusters,
        filling=balustrade.filling,
    )


def _guard(
    guard: Balustrade | None, order: FittedOrder, origins: _Origins
) -> BalustradeDesign | None:
    if guard is None:
        return None
    height = origins.choose(
        ("porch", "guard", "height"), guard.height, GUARD_HEIGHT_M, "IRC R312.1.2: 36 in or more"
    )
    rail, plinth = 3.5 * INCH_M, 4.5 * INCH_M
    if height < 4 * (rail + plinth) / 2:
        raise DesignError(
            "porch.guard.height", format_length(height, origins.units), "1'-6\" or more"
        )
    return BalustradeDesign(
        height_m=height,
        plinth_m=plinth,
        rail_m=rail,
        pedestal_width_m=GUARD_POST_M,
        baluster_spacing_m=origins.choose(
            ("porch", "guard", "baluster_spacing"),
            guard.baluster_spacing,
            GUARD_BELLY_M * 0.45 + GUARD_GAP_M,
            "clear gap under 4 in at the necks (IRC R312.1.3)",
        ),
        belly_m=GUARD_BELLY_M,
    )


# --- the house -----------------------------------------------------------------------------


def _house(
    house: House,
    levels: tuple[float, ...],
    bays: tuple[float, ...],
    porch: PorchDesign,
    origins: _Origins,
) -> HouseDesign:
    wall = origins.choose(
        ("house", "wall_thickness"),
        house.wall_thickness,
        WALL_THICKNESS_M.get(house.walls, MASONRY_THICKNESS_M),
        f"common practice for {house.walls}",
    )
    reveal = origins.choose(
        ("house", "reveal"),
        house.reveal,
        REVEAL_M.get(house.walls, MASONRY_REVEAL_M),
        f"common practice for {house.walls}",
    )
    if reveal > wall - 0.1:
        raise DesignError(
            "house.reveal",
            format_length(reveal, origins.units),
            f"at most {format_length(wall - 0.1, origins.units)} in a wall of "
            f"{format_length(wall, origins.units)}, to leave room for the sash",
        )
    for field, size in (("width", house.width), ("depth", house.depth)):
        if size < 4 * wall + 1.0:
            raise DesignError(
                f"house.{field}",
                format_length(size, origins.units),
                f"at least {format_length(4 * wall + 1.0, origins.units)} with these walls",
            )
    highest = porch.highest
    continues = abs(highest.top_z_m - levels[-1]) < 1e-6
    if continues:
        cornice = FittedCornice((*highest.order.frieze, *highest.order.cornice))
        origins.note(
            "house.cornice", cornice.height_m, "the porch's frieze and cornice carried round"
        )
    else:
        cornice = fit_cornice(
            origins.choose(
                ("house", "cornice"),
                house.cornice,
                CORNICE_OF_WALL * levels[-1],
                "an eighteenth of the wall (common practice)",
            )
        )
    ceilings = _ceilings(levels, levels[-1] - cornice.height_m, porch)
    if house.belt_courses:
        ceilings = (
            *(min(c, z - BELT_M) for c, z in zip(ceilings[:-1], levels[1:-1], strict=True)),
            ceilings[-1],
        )
    if house.quoins and house.walls == "clapboard":
        raise DesignError("house.quoins", "quoins", "only with walls of masonry or stucco")
    if house.relief and house.walls not in ("clapboard", "brick"):
        raise DesignError("house.relief", "relief", "only with walls: clapboard or brick")
    if house.clapboard_exposure and not 2 * INCH_M <= house.clapboard_exposure <= FOOT_M:
        raise DesignError(
            "house.clapboard_exposure",
            format_length(house.clapboard_exposure, origins.units),
            "2 in to 12 in",
        )
    openings = _openings(house, levels, ceilings, bays, wall, porch.axes_m[-1], origins)
    return HouseDesign(
        width_m=house.width,
        depth_m=house.depth,
        wall_thickness_m=wall,
        reveal_m=reveal,
        walls=house.walls,
        floor_z_m=levels[0],
        storey_floors_z_m=levels[:-1],
        wall_top_z_m=levels[-1],
        bay_centres_m=bays,
        openings=openings,
        cornice=cornice,
        cornice_continues_porch=continues,
        relief=house.relief,
        bond=house.bond,
        clapboard_exposure_m=origins.choose(
            ("house", "clapboard_exposure"),
            house.clapboard_exposure,
            CLAPBOARD_EXPOSURE_M,
            "common practice",
        ),
        quoins=house.quoins,
        belt_courses_z_m=levels[1:-1] if house.belt_courses else (),
    )


def _chimneys(
    spec: House, house: HouseDesign, roof: RoofDesign, origins: _Origins
) -> tuple[ChimneyDesign, ...]:
    """Stacks within the walls, each topping the ridge."""
    reach = FRIEZE_BOARD_M + house.cornice.projection_m + roof.overhang_m
    sides = (house.width_m, house.depth_m) if roof.form == "hip" else (house.depth_m,)
    ridge_z = house.wall_top_z_m + roof.slope * (min(sides) / 2.0 + reach)
    made = []
    for i, chimney in enumerate(spec.chimneys):
        at = ("house", "chimneys", i)
        width, depth, height = (
            origins.choose((*at, field), given, rule, "common practice")
            for field, given, rule in (
                ("width", chimney.width, CHIMNEY_M[0]),
                ("depth", chimney.depth, CHIMNEY_M[1]),
                ("height", chimney.height, CHIMNEY_M[2]),
            )
        )
        for field, off, half, limit in (
            ("along", abs(chimney.along), width / 2.0, house.width_m / 2.0),
            ("back", abs(chimney.back - house.depth_m / 2.0), depth / 2.0, house.depth_m / 2.0),
        ):
            if off + half > limit:
                raise DesignError(
                    f"house.chimneys.{i}.{field}",
                    format_length(getattr(chimney, field), origins.units),
                    "a stack within the walls of the house",
                )
        made.append(
            ChimneyDesign(
                low_m=(chimney.along - width / 2.0, chimney.back - depth / 2.0),
                high_m=(chimney.along + width / 2.0, chimney.back + depth / 2.0),
                top_z_m=ridge_z + height,
            )
        )
    for (i, one), (j, other) in combinations(enumerate(made), 2):
        if _meet((*one.low_m, *one.high_m), (*other.low_m, *other.high_m), CHIMNEY_GAP_M):
            raise DesignError(
                f"house.chimneys.{j}.along",
                format_length(spec.chimneys[j].along, origins.units),
                f"clear of chimney {i + 1}",
            )
    return tuple(made)


Plan = tuple[float, float, float, float]  # low x, low y, high x, high y


def _meet(one: Plan, other: Plan, gap_m: float = 0.0) -> bool:
    return (
        one[0] < other[2] + gap_m
        and other[0] < one[2] + gap_m
        and one[1] < other[3] + gap_m
        and other[1] < one[3] + gap_m
    )


def _setting(scene: Scene, house: HouseDesign, porch: PorchDesign) -> SettingDesign:
    """Hedges, trees and neighbours, clear of the house, the porch and the way to it."""
    half = house.width_m / 2.0 + SETTING_GAP_M
    side = porch.axes_m[-1] + porch.floor_edge_m
    foot = -(porch.depth_m + porch.floor_edge_m + porch.steps.risers * porch.steps.tread_m)
    way = porch.steps.width_m / 2.0 + CHEEK_M
    taken: dict[str, Plan] = {
        "house": (-half, -SETTING_GAP_M, half, house.depth_m + SETTING_GAP_M),
        "porch": (-side, -(porch.depth_m + porch.floor_edge_m), side, 0.0),
        "steps and walk": (-way, foot - WALK_M, way, 0.0),
    }

    def plan(kind: str, i: int, item: Hedge | Tree | Neighbour, x: float, y: float) -> Plan:
        box = (
            item.along - x / 2.0,
            -item.before - y / 2.0,
            item.along + x / 2.0,
            -item.before + y / 2.0,
        )
        for name, other in taken.items():
            if _meet(box, other):
                raise DesignError(
                    f"setting.{kind}.{i}.along",
                    format_length(item.along, scene.units),
                    f"a place clear of the {name}",
                )
        return box

    hedges, trees, neighbours = [], [], []
    for i, bush in enumerate(scene.setting.hedges):
        box = plan("hedges", i, bush, bush.length, bush.width)
        if min(bush.length, bush.width) < 0.3 or bush.height < 0.3:
            raise DesignError(
                f"setting.hedges.{i}.width",
                format_length(min(bush.length, bush.width, bush.height), scene.units),
                "1 ft each way at least",
            )
        hedges.append(HedgeDesign(box[:2], box[2:], bush.height))
    for i, wood in enumerate(scene.setting.trees):
        plan("trees", i, wood, 0.12 * wood.height, 0.12 * wood.height)
        if wood.height < 6 * FOOT_M or wood.spread > 2 * wood.height:
            raise DesignError(
                f"setting.trees.{i}.height",
                format_length(wood.height, scene.units),
                "6 ft at least, and a spread of at most twice the height",
            )
        trees.append(TreeDesign(wood.along, -wood.before, wood.height, wood.spread))
    for i, near in enumerate(scene.setting.neighbours):
        box = plan("neighbours", i, near, near.width + 0.8, near.depth + 0.8)
        if near.ridge <= near.eaves:
            raise DesignError(
                f"setting.neighbours.{i}.ridge",
                format_length(near.ridge, scene.units),
                f"above its eaves at {format_length(near.eaves, scene.units)}",
            )
        neighbours.append(
            NeighbourDesign(
                (box[0] + 0.4, box[1] + 0.4), (box[2] - 0.4, box[3] - 0.4), near.eaves, near.ridge
            )
        )
    return SettingDesign(tuple(hedges), tuple(trees), tuple(neighbours))


def _ceilings(levels: tuple[float, ...], cornice_z: float, porch: PorchDesign) -> tuple[float, ...]:
    """What each storey's windows must stay under: floor, cornice or porch ceiling."""
    limits = []
    for floor_z, above_z in pairwise(levels):
        limit = min(above_z, cornice_z)
        for ceiling_z in (porch.ceiling_z_m, porch.highest.ceiling_z_m):
            if floor_z + LEAST_STOREY_M < ceiling_z < limit:
                limit = ceiling_z
        limits.append(limit)
    return tuple(limits)


def _openings(
    house: House,
    levels: tuple[float, ...],
    ceilings: tuple[float, ...],
    bays: tuple[float, ...],
    wall_m: float,
    porch_half_m: float,
    origins: _Origins,
) -> tuple[Opening, ...]:
    """Windows on all four walls, a door in the middle bay of the front."""
    storeys = ("ground", "first", "second")
    spacing = bays[1] - bays[0] if len(bays) > 1 else house.width
    openings: list[Opening] = []
    width = height = None
    for i, floor_z in enumerate(levels[:-1]):
        window = house.windows[min(i, len(house.windows) - 1)] if house.windows else Window()
        own = i < len(house.windows)
        where = ("house", "windows", min(i, max(len(house.windows) - 1, 0)))
        width = origins.choose(
            (*where, "width") if own else ("house", "windows", i, "width"),
            window.width,
            width or _clip(WINDOW_OF_BAY * spacing, *WINDOW_WIDTH_LIMITS_M),
            "as the storey below" if width else "0.38 of the bay, within common sizes",
        )
        sill = origins.choose(
            ("house", "windows", i, "sill"), window.sill, SILL_M, "common practice: 2 ft"
        )
        above = head_reach(width, window.head)[1]
        room = ceilings[i] - HEAD_CLEARANCE_M - above - floor_z - sill
        rule = 2.0 * width if height is None else height * UPPER_WINDOW_RATIO
        why = (
            "twice the width (Palladio, by a 19th-century house book)"
            if height is None
            else "five sixths of the storey below"
        )
        height = origins.choose(
            ("house", "windows", i, "height"),
            window.height if own or house.windows else None,
            min(rule, room),
            why if rule <= room else "what the storey leaves",
        )
        if height > room + 1e-9 or height < 0.3:
            raise DesignError(
                f"house.windows.{min(i, max(len(house.windows) - 1, 0))}.height",
                format_length(height, origins.units),
                f"1 ft to {format_length(max(room, 0.0), origins.units)} on the {storeys[i]} "
                "storey, under the floor, cornice or porch ceiling above",
            )
        upper, lower = window.lights or ((3, 2), (3, 2))
        rise = 0.0
        if window.head == "segmental arch":
            rise = origins.choose(
                ("house", "windows", i, "rise"),
                window.rise,
                SEGMENT_OF_WIDTH * width,
                "an eighth of the width (common practice)",
            )
        pattern = Opening(
            "", "front", "window", 0.0, floor_z + sill, width, height, upper, lower,
            head=window.head,
            rise_m=rise,
            shutters=window.shutters,
            shutters_closed=window.shutters_closed,
            panel_below_m=window.panel_below or 0.0,
        )  # fmt: skip
        _check_window(window, pattern, floor_z, i, origins)
        half = pattern.reach_m
        for field, centres, length in (
            ("bay_spacing", bays, house.width),
            ("side_bays", _side_centres(house), house.depth),
        ):
            between = min((b - a for a, b in pairwise(centres)), default=math.inf)
            reach = max(centres, default=-math.inf) + half
            if reach > length / 2.0 - wall_m - 1e-6 or 2.0 * half > between - 1e-6:
                raise DesignError(
                    f"house.{field}",
                    f"a window {format_length(2.0 * half, origins.units)} wide over all "
                    f"in {len(centres)} bays of {format_length(length, origins.units)}",
                    "bays that hold it, clear of its neighbour and of the corner",
                )
        for wall, centres in (
            ("front", bays),
            ("right", _side_centres(house)),
            ("back", bays),
            ("left", _side_centres(house)),
        ):
            for j, along in enumerate(centres):
                if wall == "front" and i == 0 and 2 * j == len(bays) - 1:
                    head_z = floor_z + sill + height
                    openings.append(_door(house.door, floor_z, head_z, spacing, origins))
                    continue
                name = f"{wall}/{storeys[i]}/window {j + 1}"
                made = replace(pattern, name=name, wall=wall, along_m=along)
                on_porch = wall == "front" and abs(along) + half < porch_half_m
                if window.kind == "french" and i == 0 and on_porch:
                    made = _french(made, floor_z)
                openings.append(made)
    return tuple(openings)


def _french(window: Opening, floor_z: float) -> Opening:
    """A pair of leaves in the place of a sash, from the floor to the same head."""
    height = window.head_z_m - floor_z
    across = max(1, round(window.width_m / 2.0 / FRENCH_PANE_M[0]))
    up = max(2, round(0.75 * height / FRENCH_PANE_M[1]))
    return replace(
        window,
        kind="french",
        sill_z_m=floor_z,
        height_m=height,
        lower_lights=(across, up),
        head="casing",
        rise_m=0.0,
        shutters="none",
        panel_below_m=0.0,
    )


def _check_window(
    window: Window, pattern: Opening, floor_z: float, i: int, origins: _Origins
) -> None:
    """Raise DesignError for what a window's own fields cannot have together."""
    at = f"house.windows.{i}"
    if pattern.sill_z_m - floor_z < SILL_HEIGHT_M - 1e-9:
        raise DesignError(
            f"{at}.sill",
            format_length(pattern.sill_z_m - floor_z, origins.units),
            f"at least {format_length(SILL_HEIGHT_M, origins.units)}, the depth of its stone",
        )
    low = pattern.sill_z_m - floor_z - SILL_HEIGHT_M
    if pattern.panel_below_m > low + 1e-9:
        raise DesignError(
            f"{at}.panel_below",
            format_length(pattern.panel_below_m, origins.units),
            f"at most {format_length(max(low, 0.0), origins.units)}, from the sill to the floor",
        )
    if window.rise is not None and window.head != "segmental arch":
        raise DesignError(f"{at}.rise", "a rise", "only with head: segmental arch")
    if pattern.rise_m > min(pattern.width_m / 2.0, 0.3 * pattern.height_m):
        raise DesignError(
            f"{at}.rise",
            format_length(pattern.rise_m, origins.units),
            "at most half the window's width and three tenths of its height",
        )
    if window.kind == "french" and i > 0:
        raise DesignError(f"{at}.kind", "french", "sash: only the ground storey opens on a porch")


def _side_centres(house: House) -> tuple[float, ...]:
    between = house.depth / max(house.side_bays, 1)
    return tuple((j - (house.side_bays - 1) / 2.0) * between for j in range(house.side_bays))


def _door(door: Door, floor_z: float, head_z: float, bay: float, origins: _Origins) -> Opening:
    width = origins.choose(
        ("house", "door", "width"), door.width, 3 * FOOT_M, "common practice: 3 ft"
    )
    room = head_z - floor_z
    leaf = origins.choose(
        ("house", "door", "height"),
        door.height,
        min(7 * FOOT_M, room - (0.35 if door.transom else 0.0)),
        "common practice: 7 ft, under the window heads",
    )
    frame = 0.12
    height = max(room, leaf + 0.06) if not door.transom else max(room, leaf + 0.3)
    opening_width = width + 2 * frame + (2 * 0.42 if door.sidelights else 0.0)
    if opening_width > bay:
        raise DesignError(
            "house.door.width",
            format_length(width, origins.units),
            f"a doorway within its bay of {format_length(bay, origins.units)}",
        )
    return Opening(
        "front/ground/door",
        "front",
        "door",
        0.0,
        floor_z,
        opening_width,
        height if door.transom else leaf + frame,
        leaf_width_m=width,
        leaf_height_m=leaf,
        sidelights=door.sidelights,
        transom=door.transom,
    )


def _clip(value: float, low: float, high: float) -> float:
    return min(max(value, low), high)


def _check_porch_against_house(porch: PorchDesign, house: HouseDesign, scene: Scene) -> None:
    """Raise DesignError where porch and house cannot both stand as asked."""

    def length(value_m: float) -> str:
        return format_length(value_m, scene.units)

    reach = max(porch.half_width_m, porch.highest.half_width_m)
    room = house.width_m / 2.0
    if reach > room + 1e-9:
        raise DesignError(
            "porch.spacing",
            f"a porch {length(2 * reach)} wide over its entablature",
            f"at most the house's {length(house.width_m)}",
        )
    highest = porch.highest
    if highest.top_z_m > house.wall_top_z_m + 1e-6:
        raise DesignError(
            "porch.height" if porch.upper is None else "porch.upper.height",
            f"an order {length(highest.order.order_height_m)} high on a floor at "
            f"{length(highest.floor_z_m)}",
            f"a top at or below the wall's {length(house.wall_top_z_m)}",
        )
    if house.cornice_continues_porch and porch.roof != "flat":
        raise DesignError(
            "porch.roof", porch.roof, "flat, where the porch's cornice is carried round"
        )
    if porch.upper is not None:
        _check_openings(porch, porch.top_z_m + DECK_M, "porch.height", house, length)
    if not house.cornice_continues_porch:
        field = "porch.height" if porch.upper is None else "porch.upper.height"
        runs = {"flat": 0.0, "hipped": highest.depth_m, "pediment": highest.axes_m[-1]}
        out = highest.frieze_half_depth_m + highest.order.cornice_projection_m
        rise = porch.roof_slope * (runs[porch.roof] + out)
        roof_z = highest.top_z_m + rise + PORCH_ROOF_THICKNESS_M
        limit_z = house.wall_top_z_m - house.cornice.height_m
        if roof_z > limit_z:
            raise DesignError(
                field,
                f"a porch whose roof meets the wall at {length(roof_z)}",
                f"at most {length(limit_z)}, under the house's cornice, or height: eaves",
            )
        _check_openings(highest, roof_z, field, house, length)


def _check_openings(
    porch: PorchDesign,
    roof_z: float,
    field: str,
    house: HouseDesign,
    length: Callable[[float], str],
) -> None:
    """Raise DesignError where ceiling, beam or roof of one order crosses an opening."""
    reach = porch.half_width_m
    half_width = reach + porch.order.cornice_projection_m
    inner = reach - porch.order.upper_diameter_m
    for opening in house.openings:
        near = abs(opening.along_m) - opening.width_m / 2.0
        far = abs(opening.along_m) + opening.width_m / 2.0
        if opening.wall != "front" or near > half_width:
            continue
        foot_z = porch.column_top_z_m if far > inner else porch.ceiling_z_m
        top_z = opening.top_z_m
        if opening.foot_z_m < roof_z and top_z > foot_z:
            raise DesignError(
                field,
                f"a porch that takes up the wall from {length(foot_z)} to {length(roof_z)} "
                f"and crosses {opening.name}",
                f"clear of its {length(opening.foot_z_m)} to {length(top_z)}, sill to head",
            )
