"""What crowns the house: its eaves cornice, the main roof with its covering, the chimneys."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.canon import FittedCornice, Member
from massing.mesh import Part
from massing.parts.chimney import chimney, chimney_hole
from massing.parts.entablature import cornice
from massing.parts.roof import gable_roof, hip_roof
from massing.placing import EAVES_EDGE_M, covered, eaves_reach, house_outline, raised, under
from massing.porchplan import FRIEZE_BOARD_M, joints, path_before
from massing.roofplanes import gable_planes, hip_planes
from massing.scene.design import HouseDesign, PorchDesign, RoofDesign
from massing.wings import eaves_path, wing_roof


def _plain(members: tuple[Member, ...]) -> tuple[Member, ...]:
    """Members without the triglyphs, which belong over columns."""
    return tuple(
        replace(m, row=None) if m.row is not None and m.row.kind == "triglyph" else m
        for m in members
    )


def eaves(house: HouseDesign, porch: PorchDesign | None) -> list[Part]:
    """The cornice at the wall's top; where it carries on the porch's, it meets it on a mitre."""
    crown = FittedCornice(_plain(house.cornice.members))
    foot_z = house.wall_top_z_m - crown.height_m
    corners = house_outline(house, FRIEZE_BOARD_M)
    if house.open_side:
        runs = cornice(crown, eaves_path(house, FRIEZE_BOARD_M), back_m=FRIEZE_BOARD_M)
    elif porch is not None and house.cornice_continues_porch and porch.shape != "recessed":
        left, right = joints(porch)
        turn = path_before(porch, -FRIEZE_BOARD_M)
        path = np.array([right, corners[2], corners[3], corners[0], corners[1], left])
        runs = cornice(crown, path, back_m=FRIEZE_BOARD_M, before=turn[-2], after=turn[1])
    else:
        runs = cornice(crown, corners, closed=True, back_m=FRIEZE_BOARD_M)
    return raised(runs, foot_z)


def main_roof(house: HouseDesign, roof: RoofDesign) -> list[Part]:
    corners = house_outline(house, eaves_reach(house, roof))
    low, high, eaves_z = corners.min(axis=0), corners.max(axis=0), house.wall_top_z_m
    if house.open_side:
        body, planes = wing_roof(house, roof)
    elif roof.form == "gable":
        half = house.width_m / 2.0
        planes = gable_planes(low, high, eaves_z + EAVES_EDGE_M, roof.slope)
        body = gable_roof(
            low, high, eaves_z, roof.slope, (-half, half), house.wall_thickness_m, EAVES_EDGE_M
        )
    else:
        planes = hip_planes(low, high, eaves_z + EAVES_EDGE_M, roof.slope)
        body = hip_roof(low, high, eaves_z, roof.slope, EAVES_EDGE_M)
    deck = body[0].mesh
    stacks = []
    for i, stack in enumerate(house.chimneys):
        made = chimney(stack.low_m, stack.high_m, deck, stack.top_z_m)
        stacks += under(f"chimneys/{i + 1}", made)
    holes = tuple(chimney_hole(c.low_m, c.high_m) for c in house.chimneys)
    return under("roof", covered(body, replace(planes, holes=holes), roof)) + stacks
