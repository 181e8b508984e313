"""Sizes of an order in the builder's schedule: column, entablature and what is set along it."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import numpy as np

from massing.build.porch import entablature_of
from massing.canon import FittedOrder
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.parts.orders.column import shaft_profile
from massing.parts.orders.ornament import gutta
from massing.parts.part import Part
from massing.present.reports.sizes import Size, rounded, stacked


def column_rows(order: FittedOrder, count: int, step: float) -> list[Size]:
    """Pedestal, base, shaft and capital member by member, from the porch floor."""
    datum = "the porch floor"
    across = "side" if order.square else "diameter"
    stand = stacked("Pedestal", order.pedestal, 0.0, datum, count, step, "diameter")
    foot = order.pedestal_height_m
    base = stacked("Column: base", order.base, foot, datum, count, step, "diameter")
    foot += order.base_height_m
    top = rounded(foot + order.shaft_height_m, step)
    ends = sum(m.height for m in order.shaft_foot), sum(m.height for m in order.shaft_head)
    thick = rounded(order.foot_diameter_m, step)
    ending = stacked(
        "Column: shaft", order.shaft_head, top - ends[1], datum, count, step, "diameter"
    )
    shaft = [
        *stacked("Column: shaft", order.shaft_foot, foot, datum, count, step, "diameter"),
        Size(
            "Column: shaft",
            "shaft at the foot",
            count,
            rounded(order.shaft_height_m - sum(ends), step),
            rounded(top - ends[1], step),
            datum,
            thick,
            across,
        ),
        *(replace(s, item=s.item.replace("fillet", "neck fillet")) for s in ending),
        *_swelling(order, count, foot, datum, step),
        Size(
            "Column: shaft",
            "shaft at the head",
            count,
            across_m=order.upper_diameter_m,
            across_of=across,
        ),
    ]
    if order.flutes:
        pitch = math.pi * order.foot_diameter_m / order.flutes
        kind = "arrises" if order.flute_kind == "arris" else "fillets"
        item = f"flutes of each, between {kind}"
        spread = rounded(pitch, step)
        shaft.append(
            Size("Column: shaft", item, order.flutes, across_m=spread, across_of="round the foot")
        )
    capital = stacked("Column: capital", order.capital, top, datum, count, step, "diameter")
    whole = Size("Shaft", "whole, with its mouldings", count, order.shaft_height_m, top, datum)
    return [*stand, *base, *shaft, whole, *capital]


def _swelling(order: FittedOrder, count: int, foot_m: float, datum: str, step: float) -> list[Size]:
    """Diameters a third and two thirds of the way up, by the order's entasis."""
    if order.diameter_m == order.upper_diameter_m:
        return []
    height = order.shaft_height_m - sum(m.height for m in order.shaft_head)
    profile = shaft_profile(order)
    rows = []
    for name, part in (("a third up", 1 / 3), ("two thirds up", 2 / 3)):
        radius = float(np.interp(part * height, profile[:, 1], profile[:, 0]))
        at = rounded(foot_m + part * height, step)
        across = rounded(2.0 * radius, step)
        item = f"shaft {name}"
        rows.append(Size("Column: shaft", item, count, None, at, datum, across, "diameter"))
    return rows


def entablature_rows(order: FittedOrder, step: float) -> list[Size]:
    """Architrave, frieze and cornice member by member, from the porch floor."""
    rows = []
    foot = order.pedestal_height_m + order.column_height_m
    for name, members in (
        ("architrave", order.architrave),
        ("frieze", order.frieze),
        ("cornice", order.cornice),
    ):
        rows += stacked(
            f"Entablature: {name}",
            members,
            foot,
            "the porch floor",
            1,
            step,
            "projection from the frieze",
        )
        foot += sum(m.height for m in members)
    return rows


_ORNAMENTS = {
    "regula": "regulae",
    "triglyph": "triglyphs",
    "dentil": "dentils",
    "mutule": "mutules",
    "modillion": "modillions",
}

_MOST_SPACINGS = 4  # of one ornament that are written down


def ornament_rows(
    porch: PorchDesign, house: HouseDesign, step: float, *, carried: bool
) -> list[Size]:
    """What is set along the entablature: sizes by the order, numbers and spacings as built."""
    order, group = porch.order, "On the entablature"
    built = {part.path[-1]: part for part in entablature_of(porch, house, carried=carried)}
    rows = []
    for member in (*order.architrave, *order.frieze, *order.cornice):
        row = member.row
        part = built.get(_ORNAMENTS[row.kind]) if row is not None else None
        if row is None or part is None:
            continue
        wide, out = rounded(row.width, step), rounded(row.reach, step)
        height = rounded(row.height, step)
        rows.append(Size(group, row.kind, part.count, height, None, "", wide, "width"))
        rows.append(
            Size(
                group,
                f"{row.kind}'s face",
                part.count,
                None,
                None,
                "",
                out,
                "projection from the frieze",
            )
        )
        rows += [
            Size(
                group, f"{_ORNAMENTS[row.kind]} on centres", gaps, None, None, "", gap, "on centres"
            )
            for gap, gaps in _front_spacings(part, step)
        ]
        drops = built.get("guttae" if row.kind == "regula" else f"{row.kind} guttae")
        if row.guttae and drops is not None:
            one = gutta(1.0, 1.0, 1.0)
            each = drops.count * len(drops.mesh.faces) // len(one.faces) // part.count
            item, pitch = f"guttae of each {row.kind}", rounded(row.width / row.guttae, step)
            long = rounded(row.gutta_height, step)
            rows.append(Size(group, item, each, long, None, "", pitch, "on centres"))
    return rows


def _front_spacings(part: Part, step: float) -> list[tuple[float, int]]:
    """Distances on centres of copies along the front with their numbers, the commonest first."""
    if part.placements is None:
        return []
    at = part.placements[:, :2, 3]
    _, which, counts = np.unique(at[:, 1].round(5), return_inverse=True, return_counts=True)
    if counts.max() < 2:  # on a curve no two stand in one line
        return []
    front = np.sort(at[which == np.argmax(counts), 0])
    gaps = Counter(rounded(float(gap), step) for gap in np.diff(front))
    return sorted(gaps.items(), key=lambda pair: -pair[1])[:_MOST_SPACINGS]
