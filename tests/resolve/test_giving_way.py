"""Defaults give way to what is typed; only what is typed clashes."""

import re

import pytest
from ruamel.yaml import YAML

from massing.findings.report import findings
from massing.resolve.design import resolve
from massing.resolve.ways import begins, ways
from massing.scene.errors import DesignError, SceneError
from massing.scene.load import load_scene
from massing.units import parse_length
from tests.helpers.random_scenes import DRAWS, design_fields, fields_by_path, scene, words_of
from tests.helpers.refusals import as_text, fits, outcome

PLAIN = """
title: By the ford
units: feet
site: {place: Savannah, latitude: 32.08, longitude: -81.09, front_faces: S 20 E}
times: [equinox 10:00]
house:
  width: 48 ft
  depth: 32 ft
  storeys: [11 ft, 10 ft]
"""


def resolved(more=""):
    loaded = load_scene("ford.yaml", PLAIN + more)
    name = loaded.scene.as_drawn
    try:
        return resolve(loaded.scene, name, loaded.lines[name])
    except DesignError as refusal:
        raise loaded.error(name, refusal) from None


def gave(design):
    return {name: origin for name, origin in design.origins.items() if origin.instead_of}


def test_where_rules_can_be_kept_nothing_gives_way():
    design = resolved()
    assert not gave(design)
    assert not [f for f in findings(design) if f.key == "gave way"]


def test_a_default_gives_way_no_further_than_it_must_and_says_so():
    design = resolved("  wall_thickness: 5 in\n  walls: stucco\n")
    origin = design.origins["house.reveal"]
    # Four inches by rule; the sash wants 0.1 m of the wall's 5 in: 1.063 in, in sixteenths 1 in.
    assert design.house.reveal_m == pytest.approx(0.0254)
    assert origin.written == '1"'
    assert origin.instead_of == '4"'
    assert "to leave room for the sash" in str(origin)
    (said,) = [f.text for f in findings(design) if f.key == "gave way"]
    assert said.startswith('house.reveal is 1" instead of 4" by rule')


def test_what_is_typed_never_gives_way():
    design = resolved("  bays: 3\nporch: {columns: 4, order: tuscan, height: 9 ft}\n")
    assert len(design.porch.axes_m) == 4
    assert design.porch.order.order_height_m == pytest.approx(9 * 0.3048)


def test_typed_fields_that_clash_are_named_with_the_change_that_fits():
    with pytest.raises(SceneError) as refusal:
        resolved("  windows: [{height: 9 ft, sill: 2 ft, width: 36 in}]\n")
    said = refusal.value
    assert said.line == 10
    assert said.detail.startswith("house.windows[1].height: given 9'-0\"")
    offered = re.search(r"fits with house\.windows\[1\]\.height (.+?) \(line 10\)", said.detail)
    height = offered[1]
    design = resolved(f"  windows: [{{height: {height}, sill: 2 ft, width: 36 in}}]\n")
    assert design.origins["house.windows.0.height"].value == pytest.approx(parse_length(height))
    with pytest.raises(SceneError):  # no default gives a whole foot more
        resolved("  windows: [{height: 8 ft, sill: 2 ft, width: 36 in}]\n")


def test_a_refusal_found_at_a_default_blames_what_was_typed():
    with pytest.raises(SceneError) as refusal:
        resolved("porch: {diameter: 6 ft, columns: 8}\n")
    assert refusal.value.field == ("porch", "diameter")
    assert refusal.value.line == 10


def test_lengths_are_said_in_the_scene_s_units():
    with pytest.raises(SceneError) as refusal:
        resolved("porch: {column_height: 9 ft, entablature: 2 ft, height: 10 ft}\n")
    assert not re.search(r"\d m\b", refusal.value.detail)


def test_a_count_of_none_that_clashes_is_told_too():
    with pytest.raises(SceneError) as refusal:
        resolved("  side_bays: 0\n  side_door: {wall: left, bay: 1}\n")
    assert "fits with house.side_bays 1 (line 10)" in refusal.value.detail


def test_the_same_scene_gives_way_the_same_way():
    text = as_text(scene(1_000_014, common=True))
    loaded = load_scene("any.yaml", text)
    (name,) = loaded.designs
    one, other = (resolve(loaded.scene, name, loaded.lines[name]) for _ in range(2))
    assert one == other
    assert one.origins == other.origins


def test_every_field_of_a_design_has_a_draw():
    for name, info in design_fields():
        assert words_of(info) or name in DRAWS or name.startswith("Placed."), name


def test_random_scenes_are_built_or_refused_by_a_typed_field_in_words_that_can_be_followed():
    for seed in range(60):
        got = outcome(scene(5_000_000 + seed), built=False)
        assert got.kind in ("built", "refused"), (seed, got.said)
        assert not got.flaws, (seed, got.said, got.flaws)
        if got.kind == "refused" and seed % 4 == 0:
            for change in fits(got):
                assert change.builds, (seed, got.said, change)


def test_houses_of_common_practice_stand():
    built = [outcome(scene(6_000_000 + seed, common=True), built=False).kind for seed in range(60)]
    assert built.count("built") >= 57  # 95 in 100


def test_a_scene_is_drawn_in_a_form_that_reads_back():
    drawn = scene(7)
    assert YAML(typ="safe", pure=True).load(as_text(drawn)) == drawn


def test_every_row_of_what_may_give_way_names_a_field_and_refusals_that_exist():
    known = {*fields_by_path(), "house.wings.*.storeys.0", "site.ground_slope"}
    for way in ways():
        assert way.field in known, way.field
        for start in way.clears:
            assert any(begins(start, name.split(".")) for name in known), (way.field, start)
