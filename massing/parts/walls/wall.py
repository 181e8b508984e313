"""The body of the house: foundation, four walls with their openings cut, and what is inside."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.design.bay_window import BayWindowDesign
from massing.design.house import HouseDesign, RecessDesign
from massing.design.opening import Opening, RecessMouth
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import box_between, extrude, frame, prism, sweep
from massing.parts.part import Part
from massing.practice.joinery_sizes import (
    FOUNDATION_PROJECTION_M,
    PAVING_M,
    SILL_HEIGHT_M,
    sill_length,
)
from massing.settingout.bay_windows import WALL_M, outline
from massing.settingout.wall_faces import plan_path

WALL_NAMES = ("front", "right", "back", "left")
_FLOOR_M = 0.25
_ROOM_M = 4.0
_TOUCH_M = 1e-6


def wall_frame(house: HouseDesign, wall: str) -> Floats:
    """The ``(4, 4)`` frame of a wall: origin on the ground at the middle of its outer face.

    Local x runs to the right as the wall is seen from outside, y into the wall, z up.

    Raises:
        ValueError: not one of front, right, back, left.
    """
    half, depth = house.width_m / 2.0, house.depth_m
    z = (0.0, 0.0, 1.0)
    match wall:
        case "front":
            return frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), z)
        case "right":
            return frame((half, depth / 2.0, 0.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), z)
        case "back":
            return frame((0.0, depth, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), z)
        case "left":
            return frame((-half, depth / 2.0, 0.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0), z)
    raise ValueError(f"{wall!r} is not a wall; allowed: {', '.join(WALL_NAMES)}")


def opening_frame(house: HouseDesign, opening: Opening) -> Floats:
    """The ``(4, 4)`` frame of an opening: its foot's middle on the wall's outer face."""
    matrix = wall_frame(house, opening.wall)
    matrix[:3, 3] += matrix[:3, :3] @ [opening.along_m, opening.back_m, opening.sill_z_m]
    return matrix


def walls(house: HouseDesign) -> list[Part]:
    """Foundation, the four walls with their openings, floors and the plain inside.

    The front and back walls run the whole width, the side walls butt between them. A
    window's hole takes in the bed of its stone sill; a door's hole is open at the floor.

    Raises:
        ValueError: an opening leaves its wall, meets a corner, or two openings collide.
    """
    own = [_wall(house, name) for name in WALL_NAMES if name != house.open_side]
    parts = [foundation(house), *own, *_inside(house)]
    return parts if house.recess is None else _recessed(house, house.recess, parts)


def _plan(house: HouseDesign, inset_m: float = 0.0) -> Floats:
    half, low, high = house.width_m / 2.0, inset_m, house.depth_m - inset_m
    x0 = -half + inset_m * (house.open_side != "left")
    x1 = half - inset_m * (house.open_side != "right")
    return np.array([[x0, low], [x1, low], [x1, high], [x0, high]])


def water_table(top_z_m: float) -> list[tuple[float, float]]:
    """The foundation's face from the ground up, (out from the wall, height)."""
    out = FOUNDATION_PROJECTION_M
    return [(out, 0.0), (out, top_z_m - out), (0.0, top_z_m)]


def foundation(house: HouseDesign) -> Part:
    """The wall below the floor, a little proud, its upper edge weathered."""
    top, back = house.floor_z_m, -house.wall_thickness_m
    profile = [(back, 0.0), *water_table(top), (back, top)]
    mesh = sweep(np.array(profile), plan_path(house, _plan(house)), closed=not house.open_side)
    return Part(("house", "foundation"), foundation_role(house), mesh)


def foundation_role(house: HouseDesign) -> str:
    """The material of what stands below the floor."""
    return "foundation" if house.foundation == "concrete" else f"foundation/{house.foundation}"


def _wall(house: HouseDesign, wall: str) -> Part:
    whole = wall in ("front", "back")
    half = house.width_m / 2.0 if whole else house.depth_m / 2.0 - house.wall_thickness_m
    clear = half - house.wall_thickness_m if whole else half
    low, high = house.floor_z_m, house.wall_top_z_m
    openings = [o for o in house.openings if o.wall == wall and not o.back_m]
    for opening in openings:
        _check_inside(opening, clear, low, high)
    if wall == "front":
        openings += [_bay_mouth(bay) for bay in house.bay_windows]
    if house.recess and wall == "front":
        openings.append(_mouth(house, house.recess))
    mesh = _pierced(openings, half, low, high, house.wall_thickness_m)
    return Part(("house", "wall", wall), "wall", mesh.moved(wall_frame(house, wall)))


def _pierced(openings: list[Opening], half: float, low: float, high: float, thick: float) -> Mesh:
    """A wall about x = 0 with its openings, its outer face on y = 0."""
    openings = sorted(openings, key=lambda o: o.along_m)
    _check_apart(openings)
    outline: list[tuple[float, float]] = [(-half, low)]
    holes = []
    for o in openings:
        left, right = o.along_m - o.width_m / 2.0, o.along_m + o.width_m / 2.0
        if not o.sill_height_m and o.sill_z_m <= low + _TOUCH_M:
            top = o.soffit.line()[::-1] + [o.along_m, o.sill_z_m]
            outline += [(left, low), *(tuple(p) for p in top), (right, low)]
        else:
            holes.append(hole_of_opening(o))
    outline += [(half, low), (half, high), (-half, high)]
    across, up = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)
    return prism(np.array(outline), (0.0, thick, 0.0), across, up, thick, holes)


def _bay_mouth(bay: BayWindowDesign) -> RecessMouth:
    """The front wall's opening behind a bay window, as wide as the room within it."""
    inner = outline(bay, -WALL_M)
    wide, high = float(np.ptp(inner[:, 0])), bay.front.head_z_m - bay.floor_z_m
    return RecessMouth("a bay window", "front", bay.along_m, bay.floor_z_m, wide, high)


def _mouth(house: HouseDesign, recess: RecessDesign) -> RecessMouth:
    """The front wall's opening before a recess."""
    foot, width = house.floor_z_m, 2.0 * recess.opening_m
    middle, high = recess.centre_m, recess.ceiling_z_m - foot
    return RecessMouth("the recess", "front", middle, foot, width, high)


def _recessed(house: HouseDesign, recess: RecessDesign, parts: list[Part]) -> list[Part]:
    """The same with the recess taken out of floors and foundation, and its own walls."""
    thick, low = house.wall_thickness_m, house.floor_z_m
    top = recess.ceiling_z_m + thick
    outer = recess.half_width_m + thick
    bed = low - PAVING_M
    wide = max(outer, recess.opening_m)
    middle = recess.centre_m

    def across(half_m: float) -> tuple[float, float]:
        return middle - half_m, middle + half_m

    (a, b), (c, d), (e, f) = across(wide), across(recess.opening_m), across(recess.apron_m)
    room = box_between((a, thick, bed), (b, recess.depth_m + thick, top))
    mouth = box_between((c, -1.0, bed), (d, thick, low + 1.0))
    apron = box_between((e, -1.0, bed), (f, 0.0, low + 1.0))
    kept = []
    for part in parts:
        if part.within("house", "interior"):
            part = replace(part, mesh=less(part.mesh, room))
        elif part.path == ("house", "foundation"):
            part = replace(part, mesh=less(less(part.mesh, mouth), apron))
        kept.append(part)
    within = [replace(o, along_m=o.along_m - middle) for o in house.openings if o.back_m]
    for opening in within:
        _check_inside(opening, recess.half_width_m, low, recess.ceiling_z_m)
    back = _pierced(within, outer, low, top, thick).shifted(x_m=middle, y_m=recess.depth_m)
    kept.append(Part(("house", "wall", "recess back"), "wall", back))
    for name, side in (("left", -1.0), ("right", 1.0)):
        xs = sorted((middle + side * recess.half_width_m, middle + side * outer))
        wall = box_between((xs[0], recess.side_y_m, low), (xs[1], recess.depth_m, top))
        if recess.side_y_m < thick:  # within the mouth, under and beside the front wall
            beyond = sorted((middle + side * recess.opening_m, middle + side * (outer + 1.0)))
            over = box_between((xs[0], -1.0, recess.ceiling_z_m), (xs[1], thick, top + 1.0))
            beside = box_between((beyond[0], -1.0, 0.0), (beyond[1], thick, top + 1.0))
            wall = less(less(wall, over), beside)
        kept.append(Part(("house", "wall", f"recess {name}"), "wall", wall))
    return kept


def hole_of_opening(opening: Opening) -> Floats:
    """Outline of a hole in the wall's plane, with the slot of the sill below a window."""
    x, foot = opening.width_m / 2.0, opening.sill_z_m
    top = opening.soffit.shifted(foot).line()
    ring = [(x, foot), *(tuple(p) for p in top), (-x, foot)]
    if opening.sill_height_m:
        lug, bed = sill_length(opening.width_m, opening.face_m) / 2.0, foot - SILL_HEIGHT_M
        ring += [(-lug, foot), (-lug, bed), (lug, bed), (lug, foot)]
    return np.array(ring) + [opening.along_m, 0.0]


def _reach(opening: Opening) -> tuple[float, float, float, float]:
    """Half length along the wall, and lowest and highest point, of all that is cut."""
    if opening.sill_height_m:
        half = sill_length(opening.width_m, opening.face_m) / 2.0
        return (
            opening.along_m - half,
            opening.along_m + half,
            opening.sill_z_m - SILL_HEIGHT_M,
            opening.head_z_m,
        )
    half = opening.width_m / 2.0
    return opening.along_m - half, opening.along_m + half, opening.sill_z_m, opening.head_z_m


def _check_inside(opening: Opening, clear_m: float, low_z_m: float, high_z_m: float) -> None:
    left, right, foot, head = _reach(opening)
    if max(-left, right) >= clear_m:
        raise ValueError(
            f"{opening.name} reaches {max(-left, right):.2f} m from the middle of the "
            f"{opening.wall} wall; allowed: less than {clear_m:.2f} m, clear of the corner"
        )
    if foot < low_z_m - _TOUCH_M or head >= high_z_m:
        raise ValueError(
            f"{opening.name} stands from {foot:.2f} to {head:.2f} m; allowed: within the wall, "
            f"{low_z_m:.2f} to {high_z_m:.2f} m"
        )


def _check_apart(openings: list[Opening]) -> None:
    for i, one in enumerate(openings):
        a = _reach(one)
        for other in openings[i + 1 :]:
            b = _reach(other)
            if a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]:
                raise ValueError(f"{one.name} and {other.name} collide")


def _inside(house: HouseDesign) -> list[Part]:
    """Floors, a ceiling, and a core with four party walls to the corners.

    The party walls keep daylight from running through from one front to another.
    """
    inset = house.wall_thickness_m
    plan = _plan(house, inset)
    (x0, y0), (x1, y1) = plan[0], plan[2]
    floors = sorted({*house.storey_floors_z_m, house.floor_z_m})
    floors = [z for z in floors if z < house.wall_top_z_m - _FLOOR_M]
    parts = [
        Part(
            ("house", "interior", f"floor {i + 1}"),
            "interior",
            box_between((x0, y0, max(z - _FLOOR_M, 0.0)), (x1, y1, z)),
        )
        for i, z in enumerate(floors)
    ]
    ceilings = [z - _FLOOR_M for z in floors[1:]] + [house.wall_top_z_m - _FLOOR_M]
    parts.append(
        Part(
            ("house", "interior", "ceiling"),
            "interior",
            box_between((x0, y0, ceilings[-1]), (x1, y1, house.wall_top_z_m)),
        )
    )
    core = _core_outline(plan)
    for i, (z, top) in enumerate(zip(floors, ceilings, strict=True)):
        mesh = extrude(core, top - z).shifted(z_m=z)
        parts.append(Part(("house", "interior", f"core {i + 1}"), "interior", mesh))
    return parts


def _core_outline(plan: Floats) -> Floats:
    """A block in the middle with a thin wall from each of its corners to the house's."""
    room = min(_ROOM_M, 0.3 * float((plan[2] - plan[0]).min()))
    thick = 0.1
    points = []
    for k in range(4):
        corner, before, after = plan[k], plan[k - 1], plan[(k + 1) % 4]
        back = (before - corner) / np.linalg.norm(before - corner)
        on = (after - corner) / np.linalg.norm(after - corner)
        inner = corner + room * (back + on)
        points += [inner + thick * back, corner + thick * back, corner, corner + thick * on]
        points += [inner + thick * on]
    return np.array(points)
