"""The heights that drawings, schedule and figures have in common, in the builder's fraction."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from massing.canon import FittedOrder
from massing.canon import rounded as rounded_order
from massing.design.design import Design
from massing.design.porch import PorchDesign
from massing.design.roof import GambrelRoof, PitchedDormer
from massing.parts.part import Model
from massing.present.drawings.lettering import Figures
from massing.settingout.cross_gables import peak_z_m
from massing.units import floor_name


def figures_of(design: Design) -> Figures:
    """How this design's lengths are written."""
    return Figures(design.units, design.rounding_m)


def order_of(design: Design, porch: PorchDesign | None = None) -> FittedOrder:
    """The porch's order with every member on the builder's fraction, as the schedule has it."""
    return rounded_order((porch or design.porch).order, design.rounding_m)


def porch_levels(design: Design) -> list[tuple[str, float]]:
    """Names and heights over the ground of the porch's parts, from its floor up."""
    figures = figures_of(design)
    porch = design.porch
    levels = []
    foot = figures.on_step(porch.floor_z_m)
    levels.append(("Porch floor", foot))
    while True:
        order = order_of(design, porch)
        if order.pedestal_height_m:
            levels.append(("Top of pedestals", foot + order.pedestal_height_m))
        top = foot + order.pedestal_height_m + order.column_height_m
        levels.append(("Underside of architrave", top))
        top += order.entablature_height_m
        levels.append(("Top of cornice", top))
        if porch.upper is None:
            break
        foot, porch = top, porch.upper
    if porch.blocking_course_m:
        top += figures.on_step(porch.blocking_course_m)
        levels.append(("Top of blocking course", top))
    if porch.balustrade is not None:
        top += figures.on_step(porch.balustrade.height_m)
        levels.append(("Top of balustrade", top))
    return levels


def arcade_levels(design: Design) -> list[tuple[str, float]]:
    """Names and heights of an arcade's springings and crowns, of arches alike once."""
    figures, porch = figures_of(design), design.porch
    if porch.arcade is None:
        return []
    foot = figures.on_step(porch.floor_z_m)
    bays = porch.arcade.bays
    springs = {foot + figures.on_step(bay.spring_m) for bay in bays}
    crowns = {foot + figures.on_step(bay.crown_m) for bay in bays}
    made = [("Springing of an arch", z) for z in sorted(springs)]
    return made + [("Crown of an arch", z) for z in sorted(crowns)]


def ceiling_levels(design: Design) -> list[tuple[str, float]]:
    """Names and heights of the undersides of the porch's ceilings, the lowest first."""
    figures, levels = figures_of(design), []
    porch: PorchDesign | None = design.porch
    while porch is not None:
        levels.append(("Porch ceiling", figures.on_step(porch.ceiling_z_m)))
        porch = porch.upper
    return levels


def opening_levels(design: Design, wall: str) -> list[tuple[str, float]]:
    """Names and heights of a wall's sills and heads, those of most windows of each storey."""
    figures, levels = figures_of(design), []
    for storey in range(len(design.house.storey_floors_z_m)):
        rows = [
            (figures.on_step(o.sill_z_m), figures.on_step(o.head_z_m))
            for o in design.house.windows
            if o.wall == wall and o.storey == storey
        ]
        if rows:
            floor = floor_name(storey, design.units)
            for name, heights in zip(("Sills", "Heads"), zip(*rows, strict=True), strict=True):
                usual = max(sorted(set(heights)), key=heights.count)
                levels.append((f"{name}, {floor}", usual))
    return levels


def pitches(design: Design) -> list[tuple[str, float]]:
    """Rise over run of each sloping roof, with the names of the roofs that have it."""
    house, roof = design.house, design.roof
    found: list[tuple[str, float]] = []
    if isinstance(roof, GambrelRoof):
        found += [("lower slope", roof.lower_slope), ("upper slope", roof.slope)]
    else:
        found.append(("main roof", roof.slope))
    porch = design.porch.highest
    if porch.roof_pitch is not None:
        found.append(("porch roof", porch.roof_pitch))
    found += [(f"{wing.side} wing", wing.roof.slope) for wing in house.wings]
    found += [("gables", gable.slope) for gable in roof.gables]
    for row in roof.dormers:
        if isinstance(row, PitchedDormer):
            found.append(("dormers", row.roof_slope))
    alike: dict[float, tuple[float, list[str]]] = {}
    for name, slope in found:
        _, names = alike.setdefault(round(slope, 4), (slope, []))
        if name not in names:
            names.append(name)
    return [(", ".join(names).capitalize(), slope) for slope, names in alike.values()]


def pitch_text(slope: float, units: str) -> str:
    """A roof's slope as the trade writes it: rise in a run of 12, or degrees.

    >>> pitch_text(7.0 / 12.0, "feet"), pitch_text(7.0 / 12.0, "metric")
    ('7 in 12', '30.3°')
    """
    if units == "metric":
        return f"{np.degrees(np.arctan(slope)):.1f}°"
    return f"{round(12.0 * slope, 2):g} in 12"


def house_levels(design: Design, model: Model) -> list[tuple[str, float]]:
    """Names and heights of the house's floors, wall top and ridge."""
    figures = figures_of(design)
    floors = [
        (floor_name(i, design.units).capitalize(), figures.on_step(z))
        for i, z in enumerate(design.house.storey_floors_z_m)
    ]
    roof = [
        p.world_mesh().bounds[1, 2]
        for p in model.parts
        if p.name.startswith("house/roof/") and "balustrade" not in p.name
    ]
    levels = [
        ("Ground", 0.0),
        *floors,
        ("Wall top", figures.on_step(design.house.wall_top_z_m)),
    ]
    if roof:
        levels.append(("Ridge", figures.on_step(float(max(roof)))))
    return levels


def block_levels(design: Design, model: Model) -> list[tuple[str, float]]:
    """Names and heights of the wings' wall tops and ridges, of wings alike once, and of gables."""
    figures = figures_of(design)
    found: dict[tuple[float, float], list[str]] = {}
    for wing in design.house.wings:
        tops = [
            float(p.world_bounds[1, 2])
            for p in model.parts
            if p.name.startswith(f"house/{wing.side} wing/roof/") and "dormers" not in p.name
        ]
        top = figures.on_step(wing.house.wall_top_z_m)
        sides = found.setdefault((top, figures.on_step(max(tops, default=top))), [])
        if wing.side not in sides:
            sides.append(wing.side)
    made = []
    for (top, ridge), sides in found.items():
        of = f"{' and '.join(sides)} wing" + ("s" if len(sides) > 1 else "")
        made += [(f"Wall top, {of}", top), (f"Ridge, {of}", ridge)]
    roof = design.roof
    peaks = {figures.on_step(peak_z_m(gable, design.house, roof)) for gable in roof.gables}
    return made + [("Ridge, gable", peak) for peak in sorted(peaks)]


def dormer_levels(design: Design, wall: str) -> list[tuple[str, float]]:
    """Names and heights of the sills and heads of a side's dormers."""
    figures = figures_of(design)
    made: list[tuple[str, float]] = []
    for row in design.roof.dormers:
        if row.side == wall:
            sill = figures.on_step(row.sill_z_m)
            made += [
                ("Dormers' sills", sill),
                ("Dormers' heads", sill + figures.on_step(row.height_m)),
            ]
    return made


def spread(places: Sequence[float], least: float) -> list[float]:
    """Places at least so far from one another and as near as that lets them be to those given.

    >>> spread([0.0, 0.1, 5.0], 1.0)
    [-0.45, 0.55, 5.0]
    """
    order = sorted(range(len(places)), key=lambda i: places[i])
    groups: list[tuple[float, list[int]]] = []
    for i in order:
        groups.append((places[i], [i]))
        while len(groups) > 1:
            (low, first), (high, second) = groups[-2], groups[-1]
            if high - low >= least * (len(first) + len(second)) / 2.0 - 1e-12:
                break
            both = first + second
            middle = sum(places[j] for j in both) / len(both)
            groups[-2:] = [(middle, both)]
    made = [0.0] * len(places)
    for middle, members in groups:
        for k, i in enumerate(members):
            made[i] = round(middle + (k - (len(members) - 1) / 2.0) * least, 9)
    return made
