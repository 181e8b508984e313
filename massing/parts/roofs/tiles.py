"""Two-piece barrel tiles laid on a roof's slopes, with hip and ridge tiles and their mortar.

Pans and covers are tapered half barrels of one shape. A pan lies hollow side up with its wide
end uphill, a cover hollow side down with its wide end downhill; the taper over one exposure is
the tile's thickness and a little play, so every course nests in the next on one straight axis
and nothing passes through anything.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.booleans import cut_copies
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, prism
from massing.parts.part import Part
from massing.parts.roofs.bedding import Laid, lay_bedding, near, valley_bands
from massing.parts.roofs.flashings import lay_flashings
from massing.parts.roofs.laying import (
    CLEAR,
    PLAY_M,
    SlopeField,
    Unevenness,
    at,
    meet_holes,
    without_holes,
)
from massing.parts.roofs.ridges import Barrel, BarrelLines, lay_barrel_lines
from massing.parts.roofs.saddles import lay_saddles
from massing.practice.coverings import Covering
from massing.settingout.roof_planes import RoofPlanes

_CHANNEL_M = 0.045  # field tiles are cut this far from a hip, ridge or verge
_HAND = Unevenness(0.0008, 0.0025, 0.012, 0.0017)  # within the clearance


def lay_tiles(planes: RoofPlanes, covering: Covering, seed: int = 0) -> list[Part]:
    """Cover every slope, hip and ridge with barrel tiles.

    Whole tiles are instances; those cut at a hip, ridge or wall are one mesh of many closed
    bodies. The same seed lays the same roof.

    Raises:
        ValueError: the covering is not a barrel tile.
    """
    if covering.kind != "barrel":
        raise ValueError(f"{covering.name!r} is not laid as barrel tiles")
    barrel = _barrel(covering)
    pan_axis = barrel.wide_m + PLAY_M
    cover_axis = pan_axis + _cover_drop(covering, barrel) + covering.clearance_m
    how = Laid(
        barrel,
        covering.spacing_m,
        covering.exposure_m,
        covering.overhang_m,
        pan_axis,
        cover_axis,
    )
    rng = np.random.default_rng(seed)
    field_top_m = cover_axis + barrel.wide_m
    lines = BarrelLines(
        barrel=_ridge_barrel(covering, barrel),
        exposure_m=covering.exposure_m,
        overhang_m=covering.overhang_m,
        clearance_m=covering.clearance_m,
        channel_m=_CHANNEL_M,
        field_top_m=field_top_m,
        role=covering.role,
    )
    short_m = 0.75 * covering.ridge_width_m
    parts = [
        *_slopes(planes, covering, how, rng),
        *lay_barrel_lines(planes, lines),
        *lay_flashings(planes, field_top_m, short_m),
        *lay_saddles(planes, field_top_m, short_m, lines.barrel.wide_m),
    ]
    return [p for p in parts if p.count and len(p.mesh.faces)]


def _slopes(
    planes: RoofPlanes, covering: Covering, how: Laid, rng: np.random.Generator
) -> list[Part]:
    """Pans and covers of every slope, what closes them at the eaves, and beds in the valleys."""
    pan, cover = how.barrel.mesh(pan=True), how.barrel.mesh(pan=False)
    closure = _closure(covering, how.barrel, how.cover_axis_m)
    pans: list[Floats] = []
    covers: list[Floats] = []
    stops, cut, starters, beds = [], [], [], []
    for ring in planes.slopes:
        field = SlopeField.of(ring, planes, _CHANNEL_M, _CHANNEL_M)
        bands = valley_bands(field, planes)
        about: list[Mesh] = []
        sets = ((pans, pan, 0.0, how.pan_axis_m), (covers, cover, 0.5, how.cover_axis_m))
        for whole, mesh, shift, axis in sets:
            u, v = field.lattice(
                covering.spacing_m, covering.exposure_m, covering.overhang_m, shift
            )
            placed, trimmed = field.lay(mesh, at(u, v, axis), _HAND.draw(len(u), rng))
            whole.append(placed)
            cut += trimmed
            if bands:
                by = placed[near(mesh, placed, bands, PLAY_M)]
                about += [*trimmed, *([Part(("",), "", mesh, by).world_mesh()] if len(by) else [])]
        stops.append(_stops(field, cover, closure, np.unique(u), how.cover_axis_m))
        starters.append(_starter(field, how.barrel))
        beds += lay_bedding(field, planes, how, about)
    parts = [
        Part(("tiles", "pans"), covering.role, pan, np.concatenate(pans)),
        Part(("tiles", "covers"), covering.role, cover, np.concatenate(covers)),
        Part(("tiles", "eaves closures"), "mortar", closure, np.concatenate(stops)),
        Part(("tiles", "eaves starter"), "mortar", merged(starters)),
    ]
    if cut:
        parts.append(Part(("tiles", "cut"), covering.role, merged(cut)))
    if beds:
        parts.append(Part(("tiles", "valley mortar"), "mortar", merged(beds)))
    return parts


def _stops(field: SlopeField, cover: Mesh, closure: Mesh, u: Floats, cover_axis_m: float) -> Floats:
    """Where the covers' open ends at the eaves are closed: under every whole one."""
    stop = at(u, np.zeros(len(u)), cover_axis_m)
    crossed, laid = field.crossings(cover, stop)
    stop = field.frame @ stop[laid & ~crossed.any(axis=1)]
    return stop[meet_holes(closure, stop, field.holes) == CLEAR]


def _barrel(covering: Covering) -> Barrel:
    """The tile, its taper just enough for the courses to nest."""
    taper = covering.thickness_m + covering.clearance_m
    taper *= covering.length_m / covering.exposure_m
    wide = covering.width_m / 2.0
    return Barrel(
        wide, wide - taper, covering.length_m, covering.thickness_m, covering.half_angle_rad
    )


def _ridge_barrel(covering: Covering, barrel: Barrel) -> Barrel:
    wide = covering.ridge_width_m / 2.0
    narrow = wide - (barrel.wide_m - barrel.narrow_m)
    return Barrel(wide, narrow, barrel.length_m, barrel.thickness_m, barrel.half_angle)


def _cover_drop(covering: Covering, barrel: Barrel) -> float:
    """Least height of the covers' axis above the pans' at which they only touch.

    Both ends of each are tried in every section where courses lap: the cover's feet in the
    pan's hollow, the pan's edges under the cover.
    """
    sine, cosine = np.sin(barrel.half_angle), np.cos(barrel.half_angle)
    wide, narrow, thick = barrel.wide_m, barrel.narrow_m, barrel.thickness_m
    least = -np.inf
    for pan, cover in ((narrow, narrow), (narrow, wide), (wide, narrow)):
        for foot_of, hollow_of in ((cover, pan), (pan, cover)):
            hollow = hollow_of - thick
            for radius in (foot_of, foot_of - thick):
                x = covering.spacing_m / 2.0 - radius * sine
                if abs(x) < hollow:
                    least = max(least, -np.sqrt(hollow**2 - x**2) - radius * cosine)
    return float(least)


def _closure(covering: Covering, barrel: Barrel, cover_axis_m: float) -> Mesh:
    """The mortar that stops a cover's mouth at the eaves, standing on the deck, from y = 0."""
    half = covering.spacing_m / 2.0 - barrel.narrow_m - covering.clearance_m
    radius = barrel.wide_m - barrel.thickness_m - 2.0 * covering.clearance_m
    limit = np.arcsin(min(half / radius, 1.0))
    angle = np.linspace(limit, -limit, 9)
    top = np.column_stack([np.sin(angle), np.cos(angle)]) * radius
    outline = np.concatenate([[(-half, -cover_axis_m), (half, -cover_axis_m)], top])
    return prism(outline, (0.0, 0.03, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.03)


def _starter(field: SlopeField, barrel: Barrel) -> Mesh:
    """A strip of mortar under the first pans, a little back from the eave."""
    low, high = 0.032, 0.06
    height = barrel.wide_m - barrel.narrow_m - 4.0 * PLAY_M
    mesh = box_between((0.0, low, 0.0), (field.local[1, 0], high, height))
    return without_holes(cut_copies(mesh, field.frame[None], field.planes()), field.holes)
