"""An arcade: piers behind the columns, their imposts, and arches with archivolt and keystone.

In the front's own frame: x along it from its middle, the piers' face on y = 0 facing -Y, z = 0
on the floor.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from massing.canon.mouldings import stack
from massing.canon.order import Member
from massing.design.arcade import ArcadeDesign, ArchBay
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import loft, prism, sweep
from massing.parts.orders.ornament import HOUSED_M
from massing.parts.part import Part

_STEPS = 32  # of a half circle
_FRONT = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
_PLINTH_OUT = 1.0 / 12.0  # of the module: common practice
_KEY_SHARE = 1.0 / 15.0  # of the half circle (common practice, no source)
_KEY_PROUD = 1.3  # of the archivolt's projection


def arcade(design: ArcadeDesign, top_m: float) -> list[Part]:
    """Piers and spandrels up to ``top_m``, their plinths and imposts, archivolts, keystones.

    Raises:
        ValueError: an arch rises above the top.
    """
    if max(b.crown_m for b in design.bays) >= top_m:
        raise ValueError("an arch of the arcade rises above its top")
    piers = _piers(design)
    parts = [
        Part(("arcade", "piers"), "order", _wall(design, top_m)),
        Part(
            ("arcade", "plinths"), "order", _round_each(_plinth(design), piers, 0.0, design.thick_m)
        ),
    ]
    # From the piers: beside a higher arch on both sides a bay's own springing has none.
    for spring in sorted({round(p[2], 6) for p in piers}):
        own = [p for p in piers if round(p[2], 6) == spring]
        mould = _round_each(design.impost, own, spring - design.impost_m, design.thick_m)
        parts.append(Part(("arcade", "imposts"), "order", mould))
    arches = [archivolt(design.archivolt, b) for b in design.bays]
    parts.append(Part(("arcade", "archivolts"), "order", merged(arches)))
    if design.keystone:
        keys = [keystone(design.archivolt, b, top_m) for b in design.bays]
        parts.append(Part(("arcade", "keystones"), "order", merged(keys)))
    return parts


def _piers(design: ArcadeDesign) -> list[tuple[float, float, float]]:
    """Sides of each pier along the front, and the springing it carries."""
    bays = design.bays
    lefts = [-design.end_m, *(b.middle_m + b.clear_m / 2.0 for b in bays)]
    rights = [*(b.middle_m - b.clear_m / 2.0 for b in bays), design.end_m]
    springs = [bays[0].spring_m]
    springs += [max(a.spring_m, b.spring_m) for a, b in pairwise(bays)]
    springs += [bays[-1].spring_m]
    return list(zip(lefts, rights, springs, strict=True))


def _wall(design: ArcadeDesign, top_m: float) -> Mesh:
    """The whole front with its arches cut out, from the floor up."""
    outline = [(-design.end_m, 0.0)]
    for bay in design.bays:
        half = bay.clear_m / 2.0
        turn = np.linspace(np.pi, 0.0, _STEPS + 1)
        arc = np.column_stack([np.cos(turn), np.sin(turn)]) * half + [bay.middle_m, bay.spring_m]
        outline += [(bay.middle_m - half, 0.0), *map(tuple, arc), (bay.middle_m + half, 0.0)]
    outline += [(design.end_m, 0.0), (design.end_m, top_m), (-design.end_m, top_m)]
    return prism(np.array(outline), (0.0, design.thick_m, 0.0), *_FRONT, design.thick_m)


def _plinth(design: ArcadeDesign) -> tuple[Member, ...]:
    out = _PLINTH_OUT * design.impost_m
    return (Member("plinth", "fillet", design.plinth_m, out, out),)


def _round_each(
    members: Sequence[Member],
    piers: Sequence[tuple[float, float, float]],
    foot_m: float,
    thick_m: float,
) -> Mesh:
    """Mouldings round each pier, mitred at its four corners."""
    edge = stack(members, foot_m)
    section = np.concatenate(
        [edge, [[-HOUSED_M, edge[-1, 1]], [-HOUSED_M, edge[0, 1]]]],
    )
    rings = []
    for left, right, _ in piers:
        path = np.array([(left, thick_m), (left, 0.0), (right, 0.0), (right, thick_m)])
        rings.append(sweep(section, path, closed=True))
    return merged(rings)


def archivolt(members: Sequence[Member], bay: ArchBay) -> Mesh:
    """A half ring of mouldings on the wall's face, from the arch outwards."""
    edge = stack(members)  # (out, from the arch)
    ring = np.concatenate([edge, [[-HOUSED_M, edge[-1, 1]], [-HOUSED_M, edge[0, 1]]]])
    turn = np.linspace(np.pi, 0.0, 2 * _STEPS + 1)
    radius = bay.clear_m / 2.0 + ring[:, 1]
    x = bay.middle_m + radius * np.cos(turn)[:, None]
    z = bay.spring_m + radius * np.sin(turn)[:, None]
    return loft(np.stack([x, np.broadcast_to(-ring[:, 0], x.shape), z], axis=-1))


def keystone(members: Sequence[Member], bay: ArchBay, top_m: float) -> Mesh:
    """A wedge from the arch up to the architrave, its sides on the arch's own radii.

    ``members`` are the archivolt's, beyond which it stands out.
    """
    radius = bay.clear_m / 2.0
    half = np.pi * _KEY_SHARE / 2.0
    out = _KEY_PROUD * max(m.reach for m in members)
    top = top_m - bay.spring_m
    low = [(np.sin(t) * radius, np.cos(t) * radius) for t in np.linspace(half, -half, 5)]
    outline = np.array([*low, (-np.tan(half) * top, top), (np.tan(half) * top, top)])
    shifted = outline + [bay.middle_m, bay.spring_m]
    return prism(shifted, (0.0, HOUSED_M, 0.0), *_FRONT, out + HOUSED_M)


def arch_about(
    archivolt_members: Sequence[Member],
    impost_members: Sequence[Member],
    bay: ArchBay,
    reach_m: float,
    top_m: float,
) -> list[Part]:
    """Imposts, archivolt and keystone about an arched opening in a wall.

    Args:
        archivolt_members, impost_members: their mouldings, from the wall's face on y = 0.
        bay: the opening.
        reach_m: its middle to the outer end of the imposts.
        top_m: underside of what the keystone carries.
    """
    high = sum(m.height for m in impost_members)
    edge = stack(impost_members, bay.spring_m - high)
    section = np.concatenate([edge, [[-HOUSED_M, edge[-1, 1]], [-HOUSED_M, edge[0, 1]]]])
    half = bay.clear_m / 2.0
    strips = [
        sweep(section, np.array([(bay.middle_m + a, 0.0), (bay.middle_m + b, 0.0)]))
        for a, b in ((-reach_m, -half), (half, reach_m))
    ]
    return [
        Part(("arch", "imposts"), "order", merged(strips)),
        Part(("arch", "archivolt"), "order", archivolt(archivolt_members, bay)),
        Part(("arch", "keystone"), "order", keystone(archivolt_members, bay, top_m)),
    ]
