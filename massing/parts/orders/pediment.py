"""Pediments: a cornice without its crown, a tympanum, and two raking cornices that meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from massing.canon import Member
from massing.canon.mouldings import stack, without_straights
from massing.geometry.arches import segment
from massing.geometry.booleans import cut_copies, less
from massing.geometry.cleaning import without_scraps
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import loft, prism, sweep
from massing.parts.orders.carved_mouldings import carved_mouldings, sunk
from massing.parts.orders.enrichments import enrichments
from massing.parts.orders.runs import Run, runs_along
from massing.parts.part import Part

_HOUSED_M = 0.002  # a return's end in the wall
VITRUVIAN_SLOPE = 2.0 / 9.0
"""Tympanum a ninth of the cornice's front in height (Vitruvius III.5.12, read)."""
_ARC_STEPS = 24
# Common practice, no source.
_LEAD_M, _LEAD_LIP_M, _LEAD_FALL = 0.004, 0.006, 1.0 / 10.0
_SCRAP_M3 = 2e-6


def without_crown(members: Sequence[Member]) -> tuple[Member, ...]:
    """The members below the cymatium, which a pediment carries up its rakes instead.

    Raises:
        ValueError: no member is called cymatium.
    """
    names = [m.name for m in members]
    if "cymatium" not in names:
        raise ValueError(f"a cornice with a cymatium is needed, got {', '.join(names)}")
    return tuple(members[: names.index("cymatium")])


def pediment(
    members: Sequence[Member],
    width_m: float,
    *,
    back_m: float,
    slope: float = VITRUVIAN_SLOPE,
    returns: bool = False,
    leaded: bool = False,
) -> list[Part]:
    """A pediment over a front, its frieze face on y = 0 and its middle on x = 0.

    It takes the front run's cornice in place of the level one: z = 0 is the cornice's foot.
    The level cornice goes without its crown; the raking cornices have every member, plumb over
    its level one, so that at the corners their edges meet the eaves that return along the
    sides. Those returns are mitred runs of the same cornice, not made here.

    Args:
        members: the cornice's members, metres.
        width_m: between the outer faces of the frieze's two ends.
        back_m: depth behind the frieze's face.
        slope: rise over run of the rakes.
        returns: the level cornice only turns the corners and goes back into the wall, just past
            where the rakes come down on it.
        leaded: a weathered cap of lead lies on the level cornice before the rakes.

    Raises:
        ValueError: a size is not positive, the rakes do not clear the level cornice, or its
            returns would meet.
    """
    if not (width_m > 0.0 and back_m > 0.0 and slope > 0.0):
        raise ValueError("a pediment needs a positive width, depth and slope")
    half = width_m / 2.0
    reach = max(m.reach for m in members)
    level = without_crown(members)
    level_m = sum(m.height for m in level)
    if slope * (half + reach) <= level_m:
        raise ValueError(
            f"rakes of {slope:.3f} over a front of {width_m:.3f} m rise only "
            f"{slope * (half + reach):.3f} m and do not clear a cornice of {level_m:.3f} m"
        )
    # At any height the rakes reach no farther than the level cornice, so below its top they
    # would only lie within it.
    rakes = _rakes(members, half, reach, back_m, slope)
    above = (np.array([0.0, 0.0, 1.0]), level_m)
    length = return_length_m(members, slope)
    if returns and 2.5 * length > width_m:
        raise ValueError(f"returns {length:.2f} m long would meet on a front of {width_m:.2f} m")
    paths = _return_paths(half, length, back_m) if returns else [_across(half)]
    ring = _section([sunk(m) for m in level], back_m)
    fronts = merged([sweep(ring, p, before=a, after=b) for p, a, b in paths])
    runs = [run for p, a, b in paths for run in _runs(p, a, b)]
    parts = [
        Part(("pediment", "cornice"), "order", fronts),
        *enrichments(("pediment", "cornice"), level, 0.0, runs),
        *carved_mouldings(("pediment", "cornice"), level, 0.0, runs),
        Part(("pediment", "tympanum"), "order", _tympanum(half, reach, level_m, back_m, slope)),
        Part(("pediment", "raking cornice"), "order", cut_copies(rakes, np.eye(4)[None], [above])),
    ]
    if leaded:
        sheet = weathering(level, back_m) + [0.0, level_m]
        caps = merged([sweep(sheet, p, before=a, after=b) for p, a, b in paths])
        parts.append(
            Part(("pediment", "weathering"), "metal", without_scraps(less(caps, rakes), _SCRAP_M3))
        )
    return parts + _raking_enrichments(members, half, reach, level_m, slope)


_Path = tuple[Floats, Floats, Floats]  # corners (k, 2), and the points before and after them


def _across(half: float) -> _Path:
    """The level cornice's way from corner to corner."""
    return np.array([(-half, 0.0), (half, 0.0)]), np.array((-half, 1.0)), np.array((half, 1.0))


def return_length_m(members: Sequence[Member], slope: float) -> float:
    """The frieze's corner to where a return goes back into the wall.

    Members and slope are those of :func:`pediment`.
    """
    level, reach = without_crown(members), max(m.reach for m in members)
    landing = sum(m.height for m in level) / slope - 0.5 * reach
    return max(landing, 1.2 * max(m.reach for m in level))


def _return_paths(half: float, length_m: float, back_m: float) -> list[_Path]:
    """Round each corner, along the front a little and back into the wall."""
    inwards = back_m + _HOUSED_M
    left = np.array([(-half, 0.0), (length_m - half, 0.0), (length_m - half, inwards)])
    right = (left * [-1.0, 1.0])[::-1]
    return [
        (left, np.array((-half, 1.0)), left[2] + [0.0, 1.0]),
        (right, right[0] + [0.0, 1.0], np.array((half, 1.0))),
    ]


def _runs(path: Floats, before: Floats, after: Floats) -> list[Run]:
    """Where the level cornice's ornaments go: on its stretches along the front."""
    level = np.flatnonzero(path[:, 1] == 0.0)
    points = path[level]
    before = path[level[0] - 1] if level[0] > 0 else before
    after = path[level[-1] + 1] if level[-1] + 1 < len(path) else after
    return runs_along(points, False, None, None, before, after)


def weathering(level: Sequence[Member], back_m: float) -> Floats:
    """Section (out, up) of the lead on a level cornice, from its top, its nib before its edge."""
    out = max(m.reach for m in level) + _LEAD_LIP_M
    back = _LEAD_M + _LEAD_FALL * (out + back_m)
    return np.array([(-back_m, 0.0), (out, 0.0), (out, _LEAD_M), (-back_m, back)])


def apex_m(members: Sequence[Member], width_m: float, slope: float = VITRUVIAN_SLOPE) -> float:
    """Height of the pediment's top edge over the cornice's foot."""
    reach = max(m.reach for m in members)
    return sum(m.height for m in members) + slope * (width_m / 2.0 + reach)


def _section(members: Sequence[Member], back_m: float) -> Floats:
    edge = stack(members)
    top = sum(m.height for m in members)
    return without_straights(np.concatenate([edge, [[-back_m, top], [-back_m, 0.0]]]))


def _rakes(
    members: Sequence[Member], half: float, reach: float, back_m: float, slope: float
) -> Mesh:
    """Both rakes in one: plumb sections at the two mitred corners and at the apex."""
    ring = _section(members, back_m)
    out, up = ring.T
    side = half + out
    sections = [
        np.column_stack([x, -out, up + slope * (half + reach - np.abs(x))])
        for x in (-side, np.zeros_like(side), side)
    ]
    return loft(np.array(sections))


def _tympanum(half: float, reach: float, level_m: float, back_m: float, slope: float) -> Mesh:
    """A triangular wall on the level cornice, its top edges under the rakes."""
    foot = level_m
    rise = slope * (half + reach)
    spread = min((rise - foot) / slope, half)
    shoulder = rise - slope * spread
    outline = [(-spread, foot), (spread, foot), (0.0, rise)]
    if shoulder > foot + 1e-6:
        outline[2:] = [(spread, shoulder), (0.0, rise), (-spread, shoulder)]
    depth = 0.9 * back_m
    return prism(outline, (0.0, depth, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), depth)


def _raking_enrichments(
    members: Sequence[Member], half: float, reach: float, level_m: float, slope: float
) -> list[Part]:
    """Plumb ornaments up the rakes, from where they clear the level cornice to the apex."""
    parts: list[Part] = []
    z = 0.0
    for member in members:
        row = member.row
        if row is not None:
            low = z + member.height - row.height - row.gutta_height
            start = max(0.0, (level_m - low) / slope - reach) + row.width
            length = half - start
            if length > row.spacing:
                foot = z + slope * (start + reach)
                right = foot + slope * length
                middle = np.array([length - row.spacing / 2.0])
                up = Run(np.array([(-length, 0.0), (0.0, 0.0)]), None, None, middle, slope)
                down = replace(
                    up,
                    points=np.array([(0.0, 0.0), (length, 0.0)]),
                    anchors=np.array([row.spacing / 2.0]),
                    slope=-slope,
                )
                name = ("pediment", "raking cornice")
                parts += [
                    *enrichments((*name, "left"), [member], foot, [up]),
                    *enrichments((*name, "right"), [member], right, [down]),
                ]
        z += member.height
    return parts


def segmental_pediment(
    members: Sequence[Member], width_m: float, *, back_m: float, rise_m: float
) -> list[Part]:
    """A pediment whose upper cornice is one arc; as :func:`pediment`, but for small fronts.

    Args:
        members, width_m, back_m: as of :func:`pediment`; ornaments are left out.
        rise_m: of the arc, over its chord between the cornices' outermost edges.

    Raises:
        ValueError: a size is not positive, or the arc does not clear the level cornice.
    """
    if not (width_m > 0.0 and back_m > 0.0 and rise_m > 0.0):
        raise ValueError("a pediment needs a positive width, depth and rise")
    half, reach = width_m / 2.0, max(m.reach for m in members)
    level = without_crown(members)
    level_m = sum(m.height for m in level)
    if not level_m < rise_m <= half + reach:
        raise ValueError(
            f"an arc of {rise_m:.3f} m over a front of {width_m:.3f} m must rise more than the "
            f"cornice's {level_m:.3f} m and no more than half its chord, {half + reach:.3f} m"
        )
    radius, centre, _ = segment(2.0 * (half + reach), rise_m, rise_m)

    def over(x: Floats) -> Floats:
        return centre + np.sqrt(np.maximum(radius**2 - x**2, 0.0))

    ring = _section(members, back_m)
    out, up = ring.T
    sections = [
        np.column_stack([t * (half + out), -out, up + over(t * (half + out))])
        for t in np.linspace(-1.0, 1.0, _ARC_STEPS + 1)
    ]
    above = (np.array([0.0, 0.0, 1.0]), level_m)
    spread = min(half, float(np.sqrt(radius**2 - (level_m - centre) ** 2)))
    x = np.linspace(spread, -spread, _ARC_STEPS + 1)
    crown = np.column_stack([x, np.maximum(over(x), level_m)])
    foot = [(-spread, level_m), (spread, level_m)]
    if crown[0, 1] - level_m < 1e-6:
        crown = crown[1:-1]
    depth = 0.9 * back_m
    tympanum = prism([*foot, *crown], (0.0, depth, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), depth)
    front = sweep(
        _section(level, back_m),
        np.array([(-half, 0.0), (half, 0.0)]),
        before=(-half, 1.0),
        after=(half, 1.0),
    )
    arc = cut_copies(loft(np.array(sections)), np.eye(4)[None], [above])
    return [
        Part(("pediment", "cornice"), "order", front),
        Part(("pediment", "tympanum"), "order", tympanum),
        Part(("pediment", "curved cornice"), "order", arc),
    ]
