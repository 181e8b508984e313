"""What is laid on the walls where they are free: boards, bricks or stones, quoins, belt courses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from massing.build.corner_pilasters import between_pilasters, corner_pilasters, pilaster_cut
from massing.build.doorway import surround_cut
from massing.build.gables import wing_gables
from massing.build.recess import recess_facing
from massing.build.wings import on_wing, outline_on_wall, scribed, wall_behind
from massing.design.house import HouseDesign
from massing.design.roof import RoofDesign
from massing.geometry.mesh import Floats
from massing.parts.openings.head import head_cut
from massing.parts.part import Part
from massing.parts.walls.ashlar import Band, ashlar
from massing.parts.walls.facing import belt_course, bricks, clapboards, quoin_cut, quoins
from massing.parts.walls.wall import wall_frame
from massing.practice.joinery_sizes import BELT_M
from massing.settingout.bay_windows import on_front
from massing.settingout.wall_faces import WALL_NAMES, Cut, CutShape, Gable, run_m

INTO_WALL_M = 0.005  # less than this a facing stands into its wall


def is_faced(house: HouseDesign) -> bool:
    """Whether anything is laid on the walls."""
    bands = house.rustication != "none" or house.belt_courses_z_m or house.corner_pilasters
    return bool(house.relief or house.quoins or bands)


def facing(
    house: HouseDesign,
    roof: RoofDesign,
    met: Mapping[str, list[Cut]],
    over: Mapping[str, Sequence[Gable]],
) -> list[Part]:
    """Boards, bricks or stones, quoins and belt courses, clear of openings and wings.

    ``met`` is what the porch covers of a wall, ``over`` the gables over walls.
    """
    if not is_faced(house):
        return []
    cuts = tuple((name, tuple(met[name])) for name in sorted(met))
    above = tuple((name, tuple(over[name])) for name in sorted(over))
    return list(laid_on_walls(house, roof, cuts, above))


@lru_cache(maxsize=8)
def laid_on_walls(
    house: HouseDesign,
    roof: RoofDesign,
    cuts: tuple[tuple[str, tuple[Cut, ...]], ...],
    above: tuple[tuple[str, tuple[Gable, ...]], ...],
) -> tuple[Part, ...]:
    """Kept by what it looks at: of a porch only what of it touches the walls."""
    met, over = {name: list(found) for name, found in cuts}, dict(above)
    top_z = house.wall_top_z_m - house.cornice.height_m
    parts = [
        *_belt_courses(house, met.get("front", ())),
        *corner_pilasters(house),
        *(quoins(house, top_z) if house.quoins else ()),
        *_face_work(house, top_z, _kept_clear(house, met, top_z), over),
    ]
    parts = scribed(house, parts, INTO_WALL_M)
    for wing in house.wings:
        own = wing_gables(wing, house, roof)
        parts += on_wing(wing, facing(wing.house, wing.roof, {}, own))
    return tuple(parts)


def _belt_courses(house: HouseDesign, front: Sequence[Cut]) -> list[Part]:
    """The bands about the walls, broken where something stands before the front."""
    parts = []
    for z in house.belt_courses_z_m:
        taken = [c.over(z - BELT_M, z) if isinstance(c, CutShape) else c for c in front]
        gap = [(c[0], c[2]) for c in taken if c[1] < z and c[3] > z - BELT_M]
        reach = (min(g[0] for g in gap), max(g[1] for g in gap)) if gap else None
        parts.append(between_pilasters(house, belt_course(house, z, reach)))
    return parts


def _kept_clear(
    house: HouseDesign, met: Mapping[str, list[Cut]], top_z: float
) -> dict[str, list[Cut]]:
    """What boards, bricks and stones leave free of each wall, besides its openings."""
    clear: dict[str, list[Cut]] = {name: [*met.get(name, ())] for name in WALL_NAMES}
    for opening in house.openings:
        clear[opening.wall] += head_cut(opening)
        clear[opening.wall] += surround_cut(opening)
    for wing in house.wings:
        clear[wing.side].append(wall_behind(house, wing))
    for bay in house.bay_windows:
        clear["front"] += on_front(bay)
    for name in WALL_NAMES:
        half = run_m(house, name) / 2.0
        clear[name] += [(-half, z - BELT_M, half, z) for z in house.belt_courses_z_m]
        clear[name] += pilaster_cut(house, name)
        if house.quoins:
            clear[name] += quoin_cut(house, name, top_z)
    return clear


def _face_work(
    house: HouseDesign,
    top_z: float,
    clear: dict[str, list[Cut]],
    over: Mapping[str, Sequence[Gable]],
) -> list[Part]:
    """Boards, bricks or stones of the walls, of a recess in them and of their gables."""
    frames = {name: wall_frame(house, name) for name in WALL_NAMES}
    rims = {w.side: outline_on_wall(house, w) for w in house.wings}
    near: dict[str, tuple[float, float, float, float]] = {
        side: (*rim.min(axis=0), *rim.max(axis=0)) for side, rim in rims.items()
    }
    parts: list[Part] = []
    if house.relief and house.walls == "clapboard":
        parts += clapboards(house, frames, top_z, house.clapboard_exposure_m, clear, over)
    if house.relief and house.walls == "brick":
        parts += bricks(house, frames, top_z, house.bond, clear, scribed=near, gables=over)
    parts += recess_facing(house)
    worked = _stone_bands(house, top_z)
    if worked:
        role = "ashlar" if house.walls == "limestone" else "wall"
        parts += ashlar(house, frames, worked, clear, role, near)
    if house.relief and house.walls == "limestone":
        parts += _stone_gables(house, frames, over, near)
    return parts


def _stone_gables(
    house: HouseDesign,
    frames: Mapping[str, Floats],
    over: Mapping[str, Sequence[Gable]],
    near: Mapping[str, tuple[float, float, float, float]],
) -> list[Part]:
    """The gables' stones, those of gables alike in height as one band."""
    bands: dict[tuple[float, float], list[dict[str, Gable]]] = {}
    for wall, rows in over.items():
        for gable in rows:
            alike = bands.setdefault((gable.foot_z_m, gable.top_z_m), [{}])
            if wall in alike[-1]:
                alike.append({})
            alike[-1][wall] = gable
    stones = [
        Band(foot, top, house.coursing, gables)
        for (foot, top), rows in bands.items()
        for gables in rows
    ]
    made = ashlar(house, frames, stones, scribed=near)
    return [p.renamed("house", "house", "gables") for p in made]


def _stone_bands(house: HouseDesign, top_z_m: float) -> list[Band]:
    """How each height of the wall between belt courses is worked in stone, if it is."""
    feet = [house.floor_z_m, *house.belt_courses_z_m]
    tops = [*(z - BELT_M for z in house.belt_courses_z_m), top_z_m]
    if house.rustication != "none" and not house.belt_courses_z_m:
        above = [z for z in house.storey_floors_z_m[1:2] if z < top_z_m]
        feet, tops = [*feet, *above], [*above, top_z_m]
    ashlar_too = house.relief and house.walls == "limestone"
    works: list[str] = [house.coursing if ashlar_too else "none"] * len(feet)
    if house.rustication != "none":
        works[0] = house.rustication
    stretches = zip(feet, tops, works, strict=True)
    return [Band(*s) for s in stretches if s[2] != "none" and s[1] > s[0] + 0.1]
