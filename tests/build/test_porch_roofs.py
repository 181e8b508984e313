"""Porch roofs of ordinary houses, each asked for through a scene file."""

from __future__ import annotations

import numpy as np
import pytest

from massing.build.house import build
from massing.scene.errors import SceneError
from massing.settingout.main_roof import main_slope_of
from massing.units import FOOT_M, INCH_M
from tests.helpers.scene_files import design_of
from tests.helpers.shapes import assert_closed

COTTAGE = "width: 44 ft\ndepth: 30 ft\nstoreys: [10 ft]\n"
TWO = "width: 44 ft\ndepth: 30 ft\nstoreys: [10 ft, 9 ft]\n"
SHINGLE = 'roof: {covering: wood shingle, pitch: "8:12"}'


def roof_parts(design):
    return [p for p in build(design).parts if p.path[:2] == ("porch", "roof")]


def test_a_cottage_of_one_ordinary_storey_has_a_pitched_porch_roof(tmp_path):
    for kind in ("lean-to", "hipped", "main slope"):
        made = design_of(tmp_path, COTTAGE, f"roof: {kind}\ndepth: 7 ft", SHINGLE)
        parts = roof_parts(made)
        assert_closed(parts)
        top = max(p.world_mesh().bounds[1, 2] for p in parts)
        house = made.house
        if kind != "main slope":
            assert top < house.wall_top_z_m - house.cornice.height_m
        assert made.porch.top_z_m - made.porch.floor_z_m > 7 * FOOT_M  # head room under its beam


def test_the_pitch_gives_way_under_the_eaves_and_metal_is_laid_where_it_is_flat(tmp_path):
    made = design_of(tmp_path, COTTAGE, "roof: lean-to\ndepth: 7 ft", SHINGLE)
    assert 1 / 12 - 1e-9 <= made.porch.roof_slope < 2.5 / 12
    assert made.porch.roof_covering == "standing seam"
    assert "eaves leave room" in str(made.origins["porch.roof_pitch"])
    assert any(p.path[-1] == "seams" for p in roof_parts(made))
    high = design_of(tmp_path, TWO, "roof: lean-to\ndepth: 7 ft", SHINGLE)
    assert high.porch.roof_slope == pytest.approx(3 / 12)  # common practice, no source
    assert high.porch.roof_covering is None


def test_what_is_given_does_not_give_way(tmp_path):
    with pytest.raises(SceneError, match="main slope"):
        design_of(tmp_path, COTTAGE, 'roof: lean-to\nroof_pitch: "6:12"\nheight: 8 ft', SHINGLE)


def test_the_main_slope_goes_on_from_under_the_main_eaves(tmp_path):
    made = design_of(tmp_path, COTTAGE, "roof: main slope\ndepth: 7 ft", SHINGLE)
    ring = main_slope_of(made.house, made.roof)
    deck = next(p for p in roof_parts(made) if p.path[-1] == "deck").mesh.bounds
    covers = [p.world_mesh().bounds for p in roof_parts(made) if "tiles" in p.path]
    assert deck[1, 1] == pytest.approx(ring[0, 1])  # up to the main deck's edge
    assert max(b[1, 2] for b in covers) < ring[0, 2]  # its covering passes under the main one
    assert max(b[1, 2] for b in covers) > ring[0, 2] - 5 * INCH_M
    asked = design_of(tmp_path, COTTAGE, 'roof: main slope\nroof_pitch: "2:12"', SHINGLE)
    assert asked.porch.roof_slope == pytest.approx(2 / 12, abs=2e-3)


def test_a_main_slope_must_fall_from_the_eaves_no_steeper_than_the_roof(tmp_path, rules_hold):
    with pytest.raises(SceneError, match="for a slope from 1:12"):
        design_of(tmp_path, COTTAGE, "roof: main slope\nheight: 10 ft", SHINGLE)
    with pytest.raises(SceneError, match="none, under porch"):
        design_of(
            tmp_path, COTTAGE, "roof: main slope", SHINGLE.replace("{", "{gutter: half round, ")
        )


def test_a_plain_gable_runs_back_into_the_main_roof_at_the_eaves(tmp_path):
    made = design_of(
        tmp_path, COTTAGE, "roof: gable\nheight: eaves\nspacing: 4 ft\ndepth: 7 ft", SHINGLE
    )
    parts = {p.name: p for p in build(made).parts}
    assert_closed([p for p in parts.values() if p.path[:2] == ("porch", "roof")])
    assert made.porch.roof_slope == pytest.approx(8 / 12)  # as the main roof's
    gable = parts["porch/roof/gable"].mesh.bounds
    assert gable[1, 2] > made.house.wall_top_z_m + 3 * FOOT_M
    cornice = [p for p in parts.values() if p.path[-2:] == ("entablature", "cornice")]
    front = min(p.mesh.bounds[0, 1] for p in cornice)
    middle = [
        p
        for p in cornice
        if (np.abs(p.mesh.vertices[p.mesh.vertices[:, 1] < front + 0.1, 0]) < 0.5).any()
    ]
    assert cornice
    assert not middle  # but for its returns the cornice is left out under the gable


def test_a_gable_stands_against_the_wall_of_a_higher_house_under_its_sills(tmp_path):
    made = design_of(tmp_path, TWO, "roof: gable\nspacing: 4 ft\ndepth: 7 ft", SHINGLE)
    parts = roof_parts(made)
    assert_closed(parts)
    sills = [o.foot_z_m for o in made.house.openings if o.storey == 1 and o.wall == "front"]
    assert max(p.world_mesh().bounds[1, 2] for p in parts) < min(sills)


def test_the_ceiling_lies_where_it_is_asked_for_within_the_beam(tmp_path):
    made = design_of(tmp_path, TWO, "ceiling: coffered\nentablature: 30 in\nceiling_height: 8'-8\"")
    porch = made.porch
    parts = [p for p in build(made).parts if p.path[:2] == ("porch", "ceiling")]
    assert_closed(parts)
    assert porch.ceiling_z_m == pytest.approx(porch.floor_z_m + 104 * INCH_M)
    assert min(p.mesh.bounds[0, 2] for p in parts) == pytest.approx(porch.ceiling_z_m)
    assert max(p.mesh.bounds[1, 2] for p in parts) < porch.top_z_m
    with pytest.raises(SceneError, match="within the beam's height"):
        design_of(tmp_path, TWO, "ceiling_height: 12 ft")


def test_a_deep_entablature_does_not_bring_the_ceiling_down_on_the_windows(tmp_path):
    windows = "windows: [{height: 6 ft, sill: 2 ft, width: 3 ft}, {height: 4 ft}]\n"
    made = design_of(tmp_path, TWO + windows, "entablature: 36 in\ncolumn_height: 7'-4\"")
    porch = made.porch
    assert porch.ceiling_z_m > porch.column_top_z_m + porch.order.architrave_height_m
    heads = [o.top_z_m for o in made.house.openings if o.wall == "front" and o.storey == 0]
    assert max(heads) < porch.ceiling_z_m


@pytest.mark.parametrize("covering", ["barrel tile", "slate", "wood shingle", "standing seam"])
def test_flashings_go_right_to_the_hips_and_never_past_the_corner(tmp_path, covering):
    house = "width: 40 ft\ndepth: 28 ft\nstoreys: [11 ft, 9 ft]\n"
    wide = "columns: 6\nspacing: full width\ndepth: 7 ft\nroof: hipped"
    made = design_of(tmp_path, house, wide, f"roof: {{covering: {covering}}}")
    parts = roof_parts(made)
    metal = [p.world_mesh() for p in parts if p.path[-1] in ("flashing", "saddles")]
    half = made.house.width_m / 2.0
    assert max(np.abs(m.bounds[:, 0]).max() for m in metal) < half + 0.005
    # Along the wall there is metal from corner to corner: aprons, and saddles at the hips.
    up = [x for m in metal for x in spans_on_wall(m)]
    covered = 0.0
    end = -half
    for low, high in sorted(up):
        covered += max(0.0, min(high, half) - max(low, end))
        end = max(end, high)
    assert covered > 2.0 * half - 0.25


def spans_on_wall(mesh):
    """From and to, in x, of each triangle of a mesh that lies on the wall's face."""
    corners = mesh.vertices[mesh.faces]
    on = (np.abs(corners[:, :, 1]) < 0.006).all(axis=1)
    x = corners[on][:, :, 0]
    return list(zip(x.min(axis=1), x.max(axis=1), strict=True))


def test_under_a_plain_covering_boards_are_not_cut_to_a_flashing(tmp_path):
    house = "width: 40 ft\ndepth: 28 ft\nstoreys: [11 ft, 9 ft]\nwalls: clapboard\nrelief: true\n"
    made = design_of(tmp_path, house, "roof: lean-to\ndepth: 7 ft", "roof: {covering: plain}")
    model = build(made)
    assert not [p for p in model.parts if p.path[-1] == "flashing"]
    top = max(p.world_mesh().bounds[1, 2] for p in model.parts if p.path[:2] == ("porch", "roof"))
    boards = next(p for p in model.parts if p.path == ("house", "clapboards", "front")).mesh
    at = boards.vertices[boards.faces]
    over_middle = (at[:, :, 0].min(axis=1) < 0.5) & (at[:, :, 0].max(axis=1) > 0.5)
    z = at[over_middle][:, :, 2].min(axis=1)
    assert z[z > top - 0.02].min() < top + 0.011  # the boards come down to the roof itself
