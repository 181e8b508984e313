"""Scenery -> parts: the planting, paths and neighbourhood of a picture, and people for scale.

A model keeps for its figures the plain masses that throw shadows; for a picture those are
replaced by what they stand for, and the rest of the setting is added. All is under
``("setting", ...)``; what the scene did not place itself is under ``("setting", "scenery", ...)``.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

import numpy as np

from massing.design.setting import SCENERY, Scenery
from massing.design.site import GroundDesign
from massing.geometry.mesh import Floats
from massing.geometry.solids import turned_about_z
from massing.parts.part import Model, Part
from massing.parts.site.ground import laid
from massing.parts.site.paving import bed, street, strip
from massing.parts.site.people import people
from massing.parts.site.shrubs import leafy_hedge, shrub
from massing.parts.site.townhouse import townhouse
from massing.parts.site.trees import grow
from massing.parts.site.turf import TIERS, turf
from massing.settingout.garden import SIZES_M, Garden, garden

OWN = ("setting", "scenery")
BARE = "bare"  # the word in the path of leaves that fall in winter
NEAR = (*OWN, "near")
SHADE = (*OWN, "shade")  # a tree behind the eye, of which a picture shows the shadow alone
TURF = (*OWN, "turf")  # blades, laid by a picture on the lawn before its eye
PEOPLE = ("setting", "people")
REPLACED = (
    "setting/walk",
    "setting/figure",
    "setting/hedge",
    "setting/trees",
    "setting/neighbours",
)
LEAVES = {
    "oak": "foliage/leaves",
    "pine": "foliage/needles",
    "cypress": "foliage/cypress",
    "palm": "foliage/fronds",
    "magnolia": "foliage/glossy",
}
_NEIGHBOUR_RISE = 0.55
AFAR_M = 48.0  # trees farther from the house have coarser leaves


def pictured(model: Model) -> Model:
    """The model as a picture shows it; one without scenery is returned as it is."""
    if SCENERY not in model.notes:
        return model
    scenery = Scenery.read(model.notes[SCENERY])
    lie = GroundDesign(scenery.along, scenery.back)
    replaced = {part.key for part in model.select(*REPLACED)}
    kept = [part for part in model.parts if part.key not in replaced]
    plan = garden(scenery)
    parts = [*kept, *_asked(scenery, lie), *_ways(plan, lie), *_planting(plan, lie)]
    if scenery.setting.kind != "none":
        height, spread = SIZES_M["oak"][0]
        parts += [part.under(*SHADE) for part in _tree_parts("oak", height, spread, 0)]
    if scenery.figure:
        parts += people()
    somewhere = np.eye(4)[None]  # a picture says where
    parts += [
        Part((*TURF, str(tier)), "grass/blades", turf(tier), placements=somewhere, solid=False)
        for tier in range(len(TIERS))
    ]
    return Model(tuple(parts), model.name, model.notes)


def _asked(scenery: Scenery, lie: GroundDesign) -> list[Part]:
    """The trees, hedges and neighbours that the scene itself places."""
    setting, parts = scenery.setting, []
    for i, tree in enumerate(setting.trees):
        frame = _frames([(tree.x_m, tree.y_m, 2.4 * i)], lie)
        for part in _tree_parts(tree.habit, tree.height_m, tree.spread_m, i):
            parts.append(part.under("setting", "trees", str(i + 1)).placed(frame))
    for i, hedge in enumerate(setting.hedges):
        for part in _hedge_parts(hedge.low_m, hedge.high_m, hedge.height_m, i):
            parts.append(laid(part.under("setting", "hedge"), lie))
    for i, near in enumerate(setting.neighbours):
        (x0, y0), (x1, y1) = near.low_m, near.high_m
        wide, deep = round(x1 - x0, 3), round(y1 - y0, 3)
        house = townhouse(wide, deep, near.eaves_z_m, near.ridge_z_m - near.eaves_z_m, 2 * i)
        frame = _frames([((x0 + x1) / 2.0, y0, 0.0)], lie)
        parts += [p.under("setting", "neighbours", str(i + 1)).placed(frame) for p in house]
    return parts


def _ways(plan: Garden, lie: GroundDesign) -> list[Part]:
    made: list[Part] = []
    for piece in plan.strips:
        made += strip(piece.plan, piece.laid, kerbs=piece.kerbs)
    for place in plan.beds:
        made += bed(place)
    if plan.street_y_m is not None:
        far, near = plan.street_y_m
        made += street(near, far)
    for i, hedge in enumerate(plan.hedges):
        made += _hedge_parts(hedge.low_m, hedge.high_m, hedge.height_m, 50 + i)
    return [laid(part.under(*OWN), lie) for part in made]


def _planting(plan: Garden, lie: GroundDesign) -> list[Part]:
    """Trees, shrubs and houses, those alike as copies."""
    parts: list[Part] = []
    places: dict[Any, list[tuple[float, float, float]]] = defaultdict(list)
    for i, tree in enumerate((*plan.trees, *plan.edge)):
        place = (tree.x_m, tree.y_m, tree.turn_rad)
        if np.hypot(tree.x_m, tree.y_m) <= AFAR_M:
            # By itself, so that a picture can leave its shadow away.
            alike = _tree_parts(tree.habit, tree.height_m, tree.spread_m, tree.variant)
            frame = _frames([place], lie)
            parts += [part.under(*NEAR, str(i + 1)).placed(frame) for part in alike]
            continue
        kind = ("tree", tree.habit, tree.height_m, tree.spread_m, 0, True)
        places[kind].append((tree.x_m, tree.y_m, tree.turn_rad))
    for bush in plan.shrubs:
        places["shrub", bush.kind, bush.size_m].append((bush.x_m, bush.y_m, bush.turn_rad))
    for house in plan.houses:
        town = ("house", house.width_m, house.depth_m, house.eaves_m, house.variant)
        places[town].append((house.x_m, house.y_m, house.turn_rad))
    for kind, where in places.items():
        frames = _frames(where, lie)
        match kind:
            case ("tree", habit, height, spread, variant, afar):
                alike = _tree_parts(habit, height, spread, variant, afar)
            case ("shrub", name, size):
                alike = _bush_parts(shrub(name, size))
            case (_, width, depth, eaves, variant):
                alike = list(townhouse(width, depth, eaves, _NEIGHBOUR_RISE * depth / 2.0, variant))
            case _:
                raise AssertionError(kind)
        step = " ".join(map(str, kind))
        parts += [part.under(*OWN, step).placed(frames) for part in alike]
    return parts


def _tree_parts(
    habit: Any, height_m: float, spread_m: float, seed: int, afar: bool = False
) -> list[Part]:
    grown = grow(habit, height_m, spread_m, seed, afar=afar)
    fall = (BARE,) if habit == "oak" else ()
    parts = [
        Part(("wood",), "bark/palm" if habit == "palm" else "bark", grown.wood, solid=False),
        Part((*fall, "leaves"), LEAVES[habit], grown.leaves, solid=False),
    ]
    if len(grown.flowers.faces):
        parts.append(Part(("flowers",), "blossom/white", grown.flowers, solid=False))
    return parts


def _bush_parts(bush: Any) -> list[Part]:
    parts = [
        Part(("body",), "foliage/dark", bush.body),
        Part(("leaves",), "foliage/box", bush.leaves, solid=False),
    ]
    if len(bush.blossom.faces):
        parts.append(Part(("blossom",), "blossom", bush.blossom, solid=False))
    return parts


def _hedge_parts(
    low: tuple[float, float], high: tuple[float, float], height_m: float, seed: int
) -> list[Part]:
    return [p.under("hedge") for p in _bush_parts(leafy_hedge(low, high, height_m, seed))]


def _frames(where: Iterable[tuple[float, float, float]], lie: GroundDesign) -> Floats:
    return np.array([turned_about_z(t, (x, y, float(lie.z_m(x, y)))) for x, y, t in where])


def shades(low: Floats, high: Floats, building: Floats, to_sun: Floats) -> bool:
    """Whether what fills the box from ``low`` to ``high`` throws its shadow on a building.

    Args:
        low, high: ``(3,)`` corners of a crown's box, metres.
        building: ``(2, 3)`` bounds of what is to be left in the sun.
        to_sun: ``(3,)`` towards the sun.
    """
    middle, half = (low + high) / 2.0, (high - low) / 2.0
    near, far = building[0] - half - middle, building[1] + half - middle
    way = -np.asarray(to_sun, dtype=float)
    with np.errstate(divide="ignore", invalid="ignore"):
        a, b = near / way, far / way
    flat = np.abs(way) < 1e-9
    if (flat & ((near > 0.0) | (far < 0.0))).any():
        return False
    enters = np.where(flat, -np.inf, np.minimum(a, b)).max()
    leaves = np.where(flat, np.inf, np.maximum(a, b)).min()
    return bool(leaves >= max(enters, 0.0))
