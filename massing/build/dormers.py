"""Dormers put together: face, window, cheeks, cornice, roof; each kind once, and its places."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.build.placing import covered, raised
from massing.canon import FittedCornice
from massing.design.house import HouseDesign
from massing.design.roof import (
    DormerDesign,
    GabledDormer,
    PitchedDormer,
    RoofDesign,
    SegmentalDormer,
    ShedDormer,
)
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.plan_polygons import Hole, clipped, slab
from massing.geometry.solids import translations
from massing.parts.openings.window import window
from massing.parts.orders.entablature import cornice
from massing.parts.orders.pediment import pediment, segmental_pediment
from massing.parts.part import Part, under
from massing.parts.roofs.dormer import REVEAL_M, cheeks, curved_roof, face, lining, well
from massing.parts.roofs.laying import CLEAR, meet_holes, without_holes
from massing.practice.joinery_sizes import DORMER_FACE_M
from massing.settingout.cross_roofs import (
    DECK_M,
    OVERHANG_M,
    PROUD_M,
    arch,
    back_edge,
    cornice_foot_m,
    cornice_out_m,
    dormer_frame,
    dormer_holes,
    dormer_planes,
    half_m,
    window_of,
)
from massing.settingout.roof_planes import RoofPlanes

_ON_DECK_M = 0.0015  # what stands on the main deck stands on its metal
_SHEET_M = 0.0012
_ROOM_M = 2.0  # depth of the room that shows behind the glass
_FLOOR_M = 0.7  # its floor below the sill, where the main roof is that deep
_HAIR_M = 0.001


def dormer_parts(dormer: DormerDesign, house: HouseDesign, roof: RoofDesign) -> list[Part]:
    """Every part of a row of dormers, in their places."""
    frames = dormer_frames(dormer, house)
    own = [*_body(dormer), lining(_room(dormer, house))]
    own += [p.under("window") for p in window(window_of(dormer), REVEAL_M, DORMER_FACE_M)]
    own += _cornice(dormer)
    own += _roof(dormer, roof)
    if roof.covering != "plain":
        own.append(_flanks(dormer, roof.covering))
    return under("dormers", under(dormer.side, [p.placed(frames) for p in own]))


def dormer_frames(dormer: DormerDesign, house: HouseDesign) -> Floats:
    """Frames ``(k, 4, 4)`` of a row of dormers."""
    places = [dormer_frame(dormer, x, house.depth_m) for x in dormer.centres_m]
    return np.array(places).reshape(-1, 4, 4)


def holes_for(dormer: DormerDesign, house: HouseDesign, covering_name: str) -> list[Hole]:
    """What a row of dormers asks of the main covering."""
    own = dormer_holes(dormer, covering_name)
    return [hole.moved(at) for at in dormer_frames(dormer, house) for hole in own]


def with_rooms(body: list[Part], house: HouseDesign, roof: RoofDesign) -> list[Part]:
    """The main roof's deck with the rooms behind the dormers' windows cut out of it."""
    rooms = [
        _room(row, house).moved(at) for row in roof.dormers for at in dormer_frames(row, house)
    ]
    if not rooms:
        return body
    cut = merged(rooms)
    return [replace(p, mesh=less(p.mesh, cut)) if p.path == ("deck",) else p for p in body]


def clear_of(parts: list[Part], hole: Hole) -> list[Part]:
    """The parts (gutters at the eaves) less what of them stands in a hole of the roof."""
    kept = []
    for part in parts:
        if part.placements is None:
            mesh = without_holes(part.mesh, [hole.ring])
            if len(mesh.faces):
                kept.append(replace(part, mesh=mesh))
            continue
        clear = meet_holes(part.mesh, part.placements, [hole.ring]) == CLEAR
        if clear.any():
            kept.append(replace(part, placements=part.placements[clear]))
    return kept


def on_deck(parts: list[Part], other: Floats, floor_m: float) -> list[Part]:
    """The parts less what of them is under another roof's deck, ``floor_m`` deep."""
    ground = slab(other, other[:, :2], -floor_m, _ON_DECK_M)
    return [replace(p, mesh=less(p.mesh, ground)) for p in parts]


def _under_roof(dormer: DormerDesign) -> Floats:
    """The main slope under a dormer, ``(4, 3)``, no farther than it reaches."""
    edge = back_edge(dormer)
    x, y = np.abs(edge[:, 0]).max() + 1.0, float(edge[:, 1].max()) + 1.0
    plan = np.array([(-x, -1.5), (x, -1.5), (x, y), (-x, y)])
    return np.column_stack([plan, dormer.main_slope * plan[:, 1] - dormer.drop_m])


def _body(dormer: DormerDesign) -> list[Part]:
    """Face and cheeks up to the cornice's top, or to the underside of a shed roof."""
    half, shed = half_m(dormer), isinstance(dormer, ShedDormer)
    low = -dormer.drop_m - 0.3
    top = cornice_foot_m(dormer) + dormer.cornice.height_m
    back = float(back_edge(dormer)[:, 1].max())
    high = top + (dormer.roof_slope * back if isinstance(dormer, ShedDormer) else 0.0)
    parts = [
        face(dormer.width_m, dormer.height_m, half, low, high if shed else top),
        cheeks(half, low, high, back, dormer.cheeks == "boards"),
    ]
    if isinstance(dormer, ShedDormer):
        under_deck = slab(_shed_plane(dormer), _shed_plane(dormer)[:, :2], -_HAIR_M, 9.0)
        parts = [replace(p, mesh=less(p.mesh, under_deck)) for p in parts]
    return on_deck(parts, _under_roof(dormer), 9.0)


def _shed_plane(dormer: ShedDormer) -> Floats:
    """Underside of a shed roof's deck, ``(4, 3)``, somewhat beyond it."""
    ring = dormer_planes(dormer).slopes[0]
    plan = (ring[:, :2] - ring[:, :2].mean(axis=0)) * 1.5 + ring[:, :2].mean(axis=0)
    rise = dormer.roof_slope * (plan[:, 1] - ring[0, 1])
    return np.column_stack([plan, ring[0, 2] - DECK_M + rise])


def _room(dormer: DormerDesign, house: HouseDesign) -> Mesh:
    floor = max(-_FLOOR_M, house.wall_top_z_m + 0.03 - dormer.sill_z_m)
    ceiling = cornice_foot_m(dormer)
    back = min((ceiling + dormer.drop_m) / dormer.main_slope, DORMER_FACE_M + _ROOM_M)
    return well(half_m(dormer), floor, ceiling, back)


def _cornice(dormer: DormerDesign) -> list[Part]:
    """Along the cheeks and over the face: a pediment, or on a shed roof sheared to its pitch."""
    half, back = half_m(dormer) + PROUD_M, float(back_edge(dormer)[:, 1].max())
    foot, members = cornice_foot_m(dormer), dormer.cornice.members
    corners = np.array([(-half, back), (-half, -PROUD_M), (half, -PROUD_M), (half, back)])
    fitted = FittedCornice(members)
    if isinstance(dormer, ShedDormer):
        runs = cornice(fitted, corners, back_m=PROUD_M)
        skew = np.eye(4)
        skew[2, 1] = dormer.roof_slope
        runs = [p.moved(skew) for p in raised(runs, foot)]
        return on_deck(runs, _under_roof(dormer), 9.0)
    left, right = corners[:2], corners[2:]
    runs = cornice(fitted, left, back_m=PROUD_M, after=corners[2])
    runs += cornice(fitted, right, back_m=PROUD_M, before=corners[1])
    sides = Part(("cornice",), "trim", merged(p.world_mesh() for p in runs))
    if isinstance(dormer, GabledDormer):
        front = pediment(members, 2.0 * half, back_m=PROUD_M, slope=dormer.roof_slope)
    else:
        assert isinstance(dormer, SegmentalDormer)
        front = segmental_pediment(members, 2.0 * half, back_m=PROUD_M, rise_m=dormer.rise_m)
    front = [p.moved(translations([(0.0, -PROUD_M, foot)])[0]) for p in front]
    return [*on_deck(raised([sides], foot), _under_roof(dormer), 9.0), *front]


def _roof(dormer: DormerDesign, roof: RoofDesign) -> list[Part]:
    """The deck on the cornices, cut to the main one, and what covers it."""
    front_y = -cornice_out_m(dormer) - OVERHANG_M
    if isinstance(dormer, SegmentalDormer):
        back = float(back_edge(dormer)[:, 1].max())
        shell = curved_roof(arch(dormer, OVERHANG_M), DECK_M, front_y, back)
        return under("roof", on_deck(shell, _under_roof(dormer), 9.0))
    assert isinstance(dormer, PitchedDormer)
    planes = dormer_planes(dormer)
    boards = on_deck([deck_of(planes, DECK_M)], _under_roof(dormer), 9.0)
    return under("roof", covered(boards, planes, roof))


def _flanks(dormer: DormerDesign, covering_name: str) -> Part:
    """Metal on the main deck beside the cheeks, where the eaves come down to it."""
    ring, main = dormer_holes(dormer, covering_name)[1].ring, _under_roof(dormer)
    sides = [clipped(ring, (x, 0.0), half_m(dormer)) for x in (-1.0, 1.0)]
    return Part(("flashing",), "metal", merged(slab(main, side, 0.0, _SHEET_M) for side in sides))


def deck_of(planes: RoofPlanes, thickness_m: float) -> Part:
    """Boards under a roof's slopes, upright at their edges."""
    plates = [slab(ring, ring[:, :2], -thickness_m, 0.0) for ring in planes.slopes]
    return Part(("deck",), "trim", merged(plates))
