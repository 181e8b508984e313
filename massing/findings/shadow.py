"""The cornice's shadow at each sun time, in closed form."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack
from massing.canon.order import corona_index
from massing.design.design import Design
from massing.files import slug
from massing.findings.figure import Figure
from massing.geometry.mesh import Floats
from massing.sun.angles import shadow_depth, stepped_depth
from massing.sun.position import SunTime

_APART = ("mutule", "modillion")  # brackets that stand apart, with the soffit between them


def cornice_shadow_m(design: Design, sun: SunTime) -> float | None:
    """Depth of the porch cornice's shadow on its frieze and below, metres.

    By the profile-angle rule, projection times the tangent of the profile angle, measured from
    the cornice's foot down the plane of the frieze: every arris of the cornice's mouldings is
    tried, and the lowest shadow counts. Mutules, modillions and dentils are left out; see
    :func:`cornice_shadow_most_m`. ``None`` when the sun is not on the front.

    Source: vertical shadow angle, ASHRAE Fundamentals, Fenestration; see
    :func:`massing.sun.angles.stepped_depth`.
    """
    return _on_the_frieze(_arrises(design.porch.order.cornice), sun)


def cornice_shadow_most_m(design: Design, sun: SunTime) -> float | None:
    """The same where a mutule, a modillion or a dentil stands over the place, metres.

    Their lower outer edges cast too; under them the shadow is as deep as this at the most,
    between them as :func:`cornice_shadow_m` has it at the least. A triglyph's face takes less,
    as it stands before the frieze.
    """
    cornice = design.porch.order.cornice
    return _on_the_frieze(np.concatenate([_arrises(cornice), _hung(cornice)]), sun)


def _on_the_frieze(arrises: Floats, sun: SunTime) -> float | None:
    if not sun.on_front:
        return None
    return float(stepped_depth(-arrises[:, 0], arrises[:, 1], [0.0], [0.0], sun.direction)[0])


def _arrises(members: Sequence[Member]) -> Floats:
    """Edges of members ``(2 n, 2)``: reach from the frieze, height over the cornice's foot."""
    feet = np.concatenate([[0.0], np.cumsum([m.height for m in members])])
    below = [(m.foot, z) for m, z in zip(members, feet, strict=False)]
    above = [(m.head, z) for m, z in zip(members, feet[1:], strict=True)]
    return np.array([*below, *above])


def _hung(members: Sequence[Member]) -> Floats:
    """Lower outer edges of the ornaments ``(n, 2)``; they hang from the tops of their members."""
    tops = np.cumsum([m.height for m in members])
    rows = [
        (m.row.reach, top - m.row.height)
        for m, top in zip(members, tops, strict=True)
        if m.row is not None
    ]
    return np.array(rows).reshape(-1, 2)


# --- what the eye calls the cornice's shadow -------------------------------------------------


_NEARLY = 0.8  # of the corona's reach


@dataclass(frozen=True)
class UnderCorona:
    """The shadow under the corona, on the faces that it falls on.

    Attributes:
        depth_m: from the corona's lower edge down to the shadow's.
        on: the member that the shadow's edge lies on, such as ``dentil band`` or ``frieze``.
    """

    depth_m: float
    on: str


def shadow_under_corona(design: Design, sun: SunTime) -> UnderCorona | None:
    """How deep the shadow lies below the corona's lower edge, on whatever faces stand there.

    In the section square to the front the ray over the corona's edge, or over a higher one that
    reaches lower, is followed down to the first face it meets: bed mouldings and dentils, then
    frieze, architrave and shaft. Mutules and modillions, which stand apart, are left out; dentils
    are taken as the face they make. ``None`` when the sun is not on the front. (Derived.)
    """
    if not sun.on_front:
        return None
    order = design.porch.order
    slope = float(shadow_depth(1.0, sun.direction))
    corona = index = corona_index(order.cornice)
    edge_z = sum(m.height for m in order.cornice[:corona])
    while index and _overhangs_with(order.cornice[index - 1], order.cornice[corona]):
        index -= 1  # as the moulding between modillions and corona, whose edge casts as well
    foot_z = sum(m.height for m in order.cornice[:index])
    casting = _arrises(order.cornice[index:]) + [0.0, foot_z]
    # the ray of each edge is z = reach slope - sunk: the most sunk is the lowest on any face
    sunk = float((slope * casting[:, 0] - casting[:, 1]).max())
    for member, face in _faces_below(order, index):
        over = face[:, 1] - (slope * face[:, 0] - sunk)  # above the ray: in shade
        lit = over < 0.0
        if not lit.any():
            continue
        first = int(lit.argmax())
        level = face[first, 1]
        if first:  # between two points the face is taken as straight
            share = over[first - 1] / (over[first - 1] - over[first])
            level = face[first - 1, 1] + share * (level - face[first - 1, 1])
        return UnderCorona(edge_z - float(level), member)
    return UnderCorona(edge_z + sunk, "shaft")


def _overhangs_with(member: Member, corona: Member) -> bool:
    """Whether a moulding under the corona stands out nearly as far, clear of what is below."""
    return member.row is None and member.foot > _NEARLY * corona.foot


def _faces_below(order: FittedOrder, index: int) -> Iterator[tuple[str, Floats]]:
    """The faces under the corona from the top down: a member's name and its edge ``(n, 2)``.

    Edges are reach and height over the cornice's foot, so those of frieze and architrave lie
    below nothing; dentils stand before their band.
    """
    top = sum(m.height for m in order.cornice[:index])
    below = (*order.architrave, *order.frieze, *order.cornice[:index])
    for member in reversed(below):
        low, row = top - member.height, member.row
        if row is not None and row.kind == "dentil":
            yield member.name, np.array([[row.reach, top], [row.reach, top - row.height]])
        edge = stack([member], low)[::-1]
        if row is not None and row.kind == "dentil":
            edge = _below_level(edge, top - row.height)
        if len(edge):
            yield member.name, edge
        top = low


def _below_level(edge: Floats, level: float) -> Floats:
    """What of a face ``(n, 2)``, given from the top down, lies below a level, cut off there."""
    below = edge[edge[:, 1] < level - 1e-12]
    if not len(below):
        return below
    reach = np.interp(level, edge[::-1, 1], edge[::-1, 0])
    return np.vstack([[reach, level], below])


# --- figures -------------------------------------------------------------------------------


def shadow_figures(design: Design, sun: SunTime) -> Iterator[Figure]:
    """The cornice's shadow at one sun time; nothing when the sun is not on the front."""
    depth_m, most_m = cornice_shadow_m(design, sun), cornice_shadow_most_m(design, sun)
    under = shadow_under_corona(design, sun)
    if depth_m is None or most_m is None or under is None:
        return
    order = design.porch.order
    below_m = order.frieze_height_m + order.architrave_height_m
    key = slug(sun.label).replace("-", "_")
    yield Figure(
        f"corona_shadow_{key}",
        f"Shadow under the corona, {sun.label}",
        under.depth_m,
        "length",
        f"from the corona's lower edge down, its edge on the {under.on}; by the profile angle",
    )
    apart = any(m.row is not None and m.row.kind in _APART for m in order.cornice)
    yield Figure(
        f"cornice_shadow_{key}",
        f"… below the cornice's foot, {sun.label}",
        depth_m,
        "length",
        "down the frieze's plane, by the profile angle"
        + ("; between the brackets, and under them" if apart and most_m > depth_m else ""),
        most_m if most_m > depth_m + 5e-4 else None,
    )
    yield Figure(
        f"cornice_shadow_share_{key}",
        "… to frieze and architrave",
        depth_m / below_m,
        "fraction",
        "of their height; 1 and more: both in shade",
    )
