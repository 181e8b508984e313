"""Gables over parts of a wall, and wings as high as the main walls: joined to the main roof."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from massing.build.house import build
from massing.design.design import Design
from massing.findings.report import findings
from massing.present.drawings.joinery import placed
from massing.present.reports.schedule import schedule
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.load import load_scene
from massing.scene.spec import Scene
from massing.settingout.cross_gables import (
    cross_gable_hole,
    cross_gable_planes,
    cross_gables,
    eaves_runs,
    main_slope_before,
    return_m,
)
from tests.helpers.mesh_faults import faults_of_part, floating
from tests.helpers.shapes import extent

AHEAD = {"side": "front", "depth": "8 ft", "along": "14.5 ft", "width": "11 ft"}
LEFT = {"along": "-13 ft", "width": "13 ft"}


def drawn(roof: dict[str, Any], porch: dict[str, Any] | None = None, **house: Any) -> Design:
    """A cottage of one storey, 44 by 30 ft."""
    scene = {
        "title": "A cottage with gables",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "house": {
            "width": "44 ft",
            "depth": "30 ft",
            "storeys": ["13 ft"],
            "windows": [{"height": "5 ft", "sill": "2 ft"}],
            "door": {"transom": False},
            **house,
        },
        "porch": porch or {"columns": 2, "depth": "6 ft", "height": "10.5 ft"},
        "roof": {"pitch": "8:12", "covering": "plain", **roof},
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(scene), "any")


def wrong(design: Design) -> list[str]:
    """All faults of its meshes."""
    model = build(design)
    own = [fault for part in model.parts for fault in faults_of_part(part)]
    return [str(fault) for fault in (*own, *floating(model))]


@pytest.mark.parametrize(
    ("roof", "house"),
    [
        ({"form": "gable", "covering": "slate", "gables": [LEFT]}, {}),
        ({"gables": [{**LEFT, "foot": "across"}]}, {"walls": "brick", "relief": True}),
        ({"gables": [LEFT, {"wall": "back"}]}, {"walls": "limestone", "relief": True}),
        ({"form": "deck", "gables": [LEFT]}, {"walls": "clapboard", "relief": True}),
        ({"form": "gambrel", "pitch": None, "gables": [LEFT]}, {}),
        (
            {
                "form": "gable",
                "gable": "raking cornice",
                "gutter": "half round",
                "gables": [{**LEFT, "opening": {"kind": "casement"}}],
            },
            {},
        ),
        ({"covering": "barrel tile", "gables": [LEFT]}, {}),
        ({"form": "gable", "gable_opening": {"kind": "sash"}}, {"walls": "brick", "relief": True}),
    ],
)
def test_a_gable_on_any_roof_is_closed_and_nothing_of_it_floats(roof, house):
    assert wrong(drawn(roof, **house)) == []


@pytest.mark.parametrize("form", ["hip", "gable"])
@pytest.mark.parametrize("end", ["hip", "gable"])
def test_a_wing_as_high_as_the_main_walls_is_joined_by_valleys(form, end):
    wing = {"side": "front", "depth": "8 ft", "roof": {"form": end}}
    design = drawn({"form": form, "covering": "slate"}, wings=[wing])
    assert wrong(design) == []
    (made,) = design.house.wings
    assert made.house.wall_top_z_m == design.house.wall_top_z_m
    assert made.gable is not None
    planes = cross_gable_planes(made.gable, design.house, design.roof)
    main = main_slope_before(made.gable, design.house, design.roof)
    normal = np.cross(main[1] - main[0], main[-1] - main[0])
    for valley in planes.valleys:
        assert np.abs((valley.line - main[0]) @ normal).max() < 1e-9
    assert len(planes.hips) == (2 if end == "hip" else 0)
    # One cornice goes round both; the wing has none of its own.
    names = {part.key for part in build(design).parts}
    assert not [n for n in names if n.startswith("house/front wing") and "cornice" in n]
    crown = [p for p in build(design).parts if p.key.startswith("house/cornice")]
    out = design.house.cornice.projection_m
    assert extent(crown)[0, 1] == pytest.approx(-made.depth_m - out, abs=0.04)


def test_no_slate_of_the_main_roof_lies_under_a_gable():
    design = drawn({"covering": "slate", "gables": [LEFT]})
    ring = cross_gable_hole(design.roof.gables[0], design.house, design.roof).ring
    low, high = ring.min(axis=0), ring.max(axis=0)
    slates = [
        p
        for p in build(design).select("house/roof/tiles")
        if p.placements is not None and p.path[-1] == "courses"
    ] or [p for p in build(design).select("house/roof/tiles") if p.placements is not None]
    middle = np.concatenate([p.placements[:, :2, 3] for p in slates if p.placements is not None])
    apex = ring[np.argmax(ring[:, 1])]
    inside = (np.abs(middle[:, 0] - apex[0]) < 0.2 * (high[0] - low[0])) & (
        middle[:, 1] < low[1] + 0.5 * (high[1] - low[1])
    )
    assert len(middle) > 500
    assert not inside.any()


def test_the_eaves_turn_in_under_a_gables_feet_or_run_across():
    design = drawn({"gables": [LEFT]})
    house, roof, gable = design.house, design.roof, design.roof.gables[0]
    left, right = eaves_runs(house, roof, "front", 0.03)
    foot = gable.along_m - gable.width_m / 2.0
    assert left.path[-1].tolist() == pytest.approx([foot + return_m(house), 0.0])
    assert right.path[0].tolist() == pytest.approx([foot + gable.width_m - return_m(house), 0.0])
    assert (left.from_corner, left.to_corner, right.to_corner) == (True, False, True)
    across = drawn({"gables": [{**LEFT, "foot": "across"}]})
    assert len(eaves_runs(across.house, across.roof, "front", 0.03)) == 1
    assert len(eaves_runs(house, roof, "back", 0.03)) == 1


def test_a_gable_is_said_in_a_line_of_a_scene_and_has_a_louvre(tmp_path: Path):
    path = tmp_path / "cottage.yaml"
    path.write_text(
        "title: Cottage\n"
        "site: {place: Natchez, latitude: 31.56, longitude: -91.4, front_faces: S}\n"
        "times: [equinox 10:00]\n"
        "house: {width: 44 ft, depth: 30 ft, storeys: [11 ft]}\n"
        "porch: {columns: 2, roof: lean-to}\n"
        "roof: {pitch: '8:12', covering: slate, gables: [{along: 12 ft}]}\n"
    )
    loaded = load_scene(path)
    name = loaded.scene.as_drawn
    design = resolve(loaded.designs[name], name, loaded.lines[name])
    (gable,) = design.roof.gables
    assert gable.width_m == pytest.approx(0.3 * design.house.width_m)
    assert gable.opening is not None
    assert gable.opening.filling == "louvre"
    names = {part.key for part in build(design).parts}
    assert "house/roof/gables/1/gable window/slats" in names
    assert any(n.startswith("house/roof/gables/1/tiles/flashing") for n in names)
    rows = {row.group for row in schedule(design)}
    assert "Roof: gable 1, front" in rows
    where = {one.where: one.middle_m for one in placed(design)}
    assert where["gable, front"] == pytest.approx((gable.along_m, 0.0))


def test_a_gables_verge_stands_two_inches_before_the_main_eaves():
    # 50 mm, so that the boards of its rakes pass the eaves: common practice, no source.
    parts = {part.key: part for part in build(drawn({"gables": [{"along": "12 ft"}]})).parts}
    eaves, boards, deck = (
        parts[f"house/roof/{name}"].world_bounds[0][1]
        for name in ("deck", "gables/1/barge boards", "gables/1/deck")
    )
    assert eaves - deck == pytest.approx(0.05)
    assert boards == pytest.approx(deck)


def test_a_gable_stands_over_the_bays_that_it_names():
    for named, asked in (("bay 4", (3,)), ("bays 4 and 5", (3, 4))):
        design = drawn({"gables": [{"along": named, "width": "10 ft"}]}, bays=5)
        middle = np.mean([design.house.bay_centres_m[i] for i in asked])
        assert design.roof.gables[0].along_m == pytest.approx(middle)


def test_a_gables_window_stands_within_its_rakes():
    opening = {"kind": "sash", "width": "2 ft", "height": "3 ft"}
    design = drawn({"pitch": "12:12", "gables": [{**LEFT, "opening": opening}]})
    (gable,) = design.roof.gables
    made = gable.opening
    assert made is not None
    half = gable.width_m / 2.0
    corner = made.width_m / 2.0 + made.face_m
    under = design.house.wall_top_z_m + gable.slope * (half - corner)
    assert made.top_z_m < under + gable.slope * 1.0
    tall = {**opening, "height": "8 ft"}
    with pytest.raises(DesignError) as refusal:
        drawn({"pitch": "12:12", "gables": [{**LEFT, "opening": tall}]})
    assert refusal.value.field == "roof.gables.0.opening.height"


@pytest.mark.parametrize(
    ("gable", "more", "field"),
    [
        ({"width": "40 ft", "pitch": "8:12"}, {}, "width"),
        ({"width": "2 ft"}, {}, "width"),
        ({"along": "19 ft", "width": "13 ft"}, {}, "along"),
        ({"along": "0 ft", "width": "12 ft"}, {"porch": {"roof": "main slope"}}, "along"),
        ({**LEFT, "opening": {"kind": "none", "width": "2 ft"}}, {}, "opening.width"),
        ({**LEFT, "opening": {"kind": "louvre", "lights": "2x2"}}, {}, "opening.lights"),
        ({**LEFT, "opening": {"head": "hood"}}, {}, "opening.head"),
        ({**LEFT, "opening": {"sill": "1 in"}}, {}, "opening.sill"),
        ({**LEFT, "pitch": "8:12"}, {"chimneys": [{"along": "-13 ft", "back": "6 ft"}]}, "along"),
        ({"along": "10 ft"}, {"wings": [{"side": "front", "depth": "8 ft"}]}, "along"),
        ({"along": "bay 8"}, {}, "along"),
        ({"along": "bay 1", "wall": "back"}, {}, "along"),
    ],
)
def test_what_cannot_stand_is_refused_by_its_own_field(gable, more, field):
    with pytest.raises(DesignError) as refusal:
        drawn({"gables": [gable]}, **more)
    assert refusal.value.field == f"roof.gables.0.{field}"


def test_two_gables_in_one_place_are_refused():
    with pytest.raises(DesignError, match="clear of gable 1"):
        drawn({"gables": [LEFT, LEFT]})


@pytest.mark.parametrize(
    ("wing", "field"),
    [
        ({"cornice": "12 in"}, "cornice"),
        ({"roof": {"covering": "slate"}}, "roof.covering"),
        ({"roof": {"form": "hip", "gable_foot": "across"}}, "roof.gable_foot"),
        ({"roof": {"pitch": "30:12"}}, "width"),
    ],
)
def test_a_level_wing_has_its_eaves_and_roof_of_the_main_block(wing, field, rules_hold):
    with pytest.raises(DesignError) as refusal:
        drawn({}, wings=[{**AHEAD, **wing}])
    assert refusal.value.field == f"house.wings.0.{field}"


@pytest.mark.parametrize(
    ("gables", "found"),
    [
        ([{"along": "12 ft", "width": "13 ft", "pitch": "6:12"}], "gable pitch"),
        ([{"along": "10 ft", "width": "13 ft"}], "gable off the bays"),
        ([{"along": "-12.5 ft", "width": "14 ft"}, {"along": "12.5 ft", "width": "14 ft"}], "many"),
    ],
)
def test_what_a_designer_would_question_of_gables_is_said(gables, found):
    # Common practice, no source.
    said = {f.key for f in findings(drawn({"gables": gables}, bays=3, bay_spacing="12 ft"))}
    keys = {k for k in said if k.startswith(found)}
    assert keys
    plain = {
        f.key
        for f in findings(
            drawn({"gables": [{"along": "12 ft", "width": "13 ft"}]}, bays=3, bay_spacing="12 ft")
        )
    }
    assert not keys & plain


def test_a_wing_that_is_lower_may_have_a_window_in_its_gable():
    wing = {"side": "front", "along": "15 ft", "depth": "8 ft", "width": "14 ft"}
    design = drawn(
        {"form": "gable"},
        storeys=["10 ft", "9 ft"],
        width="50 ft",
        wings=[{**wing, "roof": {"gable_opening": {"kind": "louvre"}}}],
    )
    assert cross_gables(design.house, design.roof) == []
    assert any("gable window" in part.key for part in build(design).parts)
    assert wrong(design) == []
