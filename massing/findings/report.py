"""Every figure and finding of a design: the one place that asks all the files beside it.

Ratios of the orders are checked against published plates (:mod:`massing.canon`), the rest
against the book of rules and the code held for the place (:mod:`massing.practice.rules`).
Findings inform; they never change a design.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from massing.design.design import Design
from massing.findings import (
    arcade,
    doors,
    giving_way,
    ground,
    house,
    openings,
    order,
    porch_place,
    roof,
    side_porches,
    spacing,
)
from massing.findings import stairs_and_guards as guards
from massing.findings.figure import Figure, Row, Rows
from massing.findings.finding import Finding, Remark
from massing.findings.shadow import shadow_figures
from massing.sun.position import SunTime

FIGURES: Rows = (
    *order.FIGURES,
    *spacing.FIGURES,
    *arcade.FIGURES,
    *house.FIGURES,
    *porch_place.FIGURES,
    *guards.FIGURES,
    *openings.FIGURES,
)
"""In reading order."""

REMARKS: tuple[Remark, ...] = (
    *order.remark,
    *spacing.remark,
    *arcade.remark,
    *openings.remark,
    *guards.remark,
    *roof.remark,
    *house.remark,
    *porch_place.remark,
    *side_porches.remark,
    *doors.remark,
    *ground.remark,
    *giving_way.remark,
)
"""In reading order, but that questions of proportion come first and cautions last."""

_RANK = {"check": 0, "note": 1, "caution": 2}


def figures(design: Design, suns: Sequence[SunTime] = ()) -> list[Figure]:
    """Proportions first, then shadows, in the order of the times given.

    A second order standing on the first has its own rows, after those of the whole; its keys
    begin with ``upper_``.
    """
    rows = [figure for row in FIGURES for figure in row(design)]
    rows += [figure for sun in suns for figure in shadow_figures(design, sun)]
    if design.porch.upper is not None:
        above = replace(design, porch=design.porch.upper)
        own = [f for row in FIGURES if isinstance(row, Row) and row.above for f in row(above)]
        own += [figure for sun in suns for figure in shadow_figures(above, sun)]
        rows += [replace(f, key=f"upper_{f.key}", name=f"Above: {_lowered(f.name)}") for f in own]
    return rows


def findings(design: Design) -> list[Finding]:
    """Remarks on a design: what questions its proportions, what is noted, what touches safety."""
    every = [finding for remark in REMARKS for finding in remark.on(design)]
    every += side_porches.of_each(design, REMARKS)
    return sorted(every, key=lambda finding: _RANK[finding.severity])


def _lowered(name: str) -> str:
    return name[:1].lower() + name[1:]
