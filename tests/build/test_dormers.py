"""Dormers, and a pediment at the eaves: as a scene asks for them, resolved and built."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from massing.build.dormers import dormer_frames, dormer_parts
from massing.build.house import build
from massing.geometry.mesh import merged
from massing.geometry.plan_polygons import opened, outwards
from massing.parts.orders.pediment import segmental_pediment
from massing.parts.part import Part
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.settingout.cross_roofs import (
    dormer_holes,
    dormer_planes,
    half_m,
    porch_gable,
    roof_half_m,
)
from massing.settingout.main_roof import main_slope_of
from tests.helpers.house_designs import CORNICE
from tests.helpers.mesh_faults import faults
from tests.helpers.shapes import assert_closed, extent, overlaps

EAVES = {"height": "eaves", "roof": "pediment", "spacing": "8 ft", "depth": "9 ft"}


def design(roof=None, porch=None, house=None):
    data = {
        "title": "Test house",
        "site": {"place": "Savannah", "latitude": 32.08, "longitude": -81.09, "front_faces": "S"},
        "house": {
            "width": "54 ft",
            "depth": "36 ft",
            "storeys": ["12 ft", "10 ft"],
            **(house or {}),
        },
        "porch": {"order": "tuscan", "columns": 4, **(porch or {})},
        "roof": {"form": "gable", "pitch": "10:12", "covering": "slate", **(roof or {})},
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(data), "test")


def in_hole(part: Part, ring) -> bool:
    """Whether a triangle has its middle in a plan polygon, by more than cleaning moves it."""
    middles = part.world_mesh().triangles.mean(axis=1)[:, :2]
    normal = outwards(ring)
    return bool((middles @ normal.T - np.einsum("ij,ij->i", normal, ring) < -1e-4).all(1).any())


def check(made):
    """What must hold of any house with dormers."""
    model = build(made)
    assert_closed(model.parts)
    covering = [p for p in model.select("house/roof/tiles") if not p.name.endswith("flashing")]
    for row in made.roof.dormers:
        for frame in dormer_frames(row, made.house):
            for hole in dormer_holes(row, made.roof.covering):
                ring = opened([hole.moved(frame)])[0]
                assert not any(in_hole(p, ring) for p in covering)
        slope = main_slope_of(made.house, made.roof, row.side)
        across, up = np.array([0.0, 0.0, 1.0]), slope.mean(axis=0)
        assert across @ up > made.house.wall_top_z_m
        ridge_z = slope[:, 2].max()
        parts = model.select(f"house/roof/dormers/{row.side}")
        assert parts
        deck = [
            p for p in parts if not p.name.startswith(f"house/roof/dormers/{row.side}/roof/til")
        ]
        assert extent(deck)[1, 2] < ridge_z
        assert {p.count for p in parts if p.name.endswith("/face")} == {len(row.centres_m)}
        if row.kind != "segmental":
            for valley in dormer_planes(row).valleys:
                z = row.main_slope * valley.line[:, 1] - row.drop_m
                assert valley.line[:, 2] == pytest.approx(z, abs=1e-9)
    return model


@pytest.mark.parametrize("kind", ["gabled", "shed", "segmental"])
@pytest.mark.parametrize("form", ["hip", "gable"])
def test_dormers_stand_over_the_bays_of_both_slopes(kind, form):
    made = design({"form": form, "pitch": "12:12", "dormers": {"kind": kind, "slope": "both"}})
    front, back = made.roof.dormers
    assert front.centres_m == back.centres_m
    assert set(front.centres_m) <= set(made.house.bay_centres_m)
    assert (front.side, back.side) == ("front", "back")
    check(made)


@pytest.mark.parametrize("covering", ["barrel tile", "slate", "standing seam"])
def test_nothing_passes_through_a_dormer(covering):
    made = design(
        {"pitch": "12:12", "covering": covering, "dormers": {"slope": "back", "count": 1}},
        {"columns": 2, "spacing": "6 ft"},
        {"width": "24 ft", "depth": "26 ft", "bays": 3},
    )
    model = check(made)
    dormer = model.select("house/roof/dormers")
    main = model.select("house/roof/tiles", "house/roof/deck")
    # The flashing goes up behind the cornice's foot.
    known = {"house/roof/tiles/flashing"}
    shared = [pair for pair in overlaps([*main, *dormer], 2e-5) if pair[0] not in known]
    panes = [pair for pair in shared if "glass" not in pair[1]]  # housed in their sashes
    assert panes == []


def test_the_sizes_by_rule():
    made = design({"dormers": {}})
    (row,) = made.roof.dormers
    below = next(o for o in made.house.openings if o.name.startswith("front/first/window"))
    assert row.width_m == pytest.approx(0.75 * below.width_m)  # common practice, no source
    assert row.height_m == pytest.approx(1.5 * row.width_m)
    assert row.roof_slope == pytest.approx(10 / 12)
    assert row.face_y_m > -1e-9  # over the wall or behind it
    assert (row.upper_lights, row.lower_lights) == (below.upper_lights, below.lower_lights)


def test_a_face_stands_where_its_sill_says():
    made = design({"dormers": {"sill": "4 ft", "count": 1, "width": "30 in", "height": "40 in"}})
    (row,) = made.roof.dormers
    model = build(made)
    (glass,) = model.select("house/roof/dormers/front/window/glass")
    assert glass.world_mesh().bounds[0, 2] > made.house.wall_top_z_m + 4 * 0.3048
    (face,) = model.select("house/roof/dormers/front/face")
    assert face.world_mesh().bounds[0, 1] == pytest.approx(row.face_y_m)
    size = np.diff(face.world_mesh().bounds, axis=0)[0]
    assert size[0] == pytest.approx(2.0 * half_m(row))


@pytest.mark.parametrize(
    ("dormers", "field", "said"),
    [
        ({"height": "15 ft"}, "height", "below the head"),
        ({"centres": ["-1 ft", "2 ft"]}, "centres", "clear of dormer 1"),
        ({"centres": ["27 ft"]}, "centres", "hips and of verges"),
        ({"centres": ["-15 ft"]}, "centres", "clear of chimney 1"),
        ({"sill": "1 ft"}, "sill", "clear of the eaves"),
        ({"count": 2, "centres": ["0 ft", "9 ft"]}, "count", "one of the two"),
        ({"kind": "shed", "pitch": "12:12"}, "pitch", "flatter than"),
        ({"kind": "gabled", "pitch": "1:12"}, "pitch", "clear its cornice"),
        ({"kind": "segmental", "pitch": "5:12"}, "pitch", "only on a gabled"),
        ({"kind": "segmental", "rise": "2 in"}, "rise", " to "),
        ({"kind": "gabled", "rise": "9 in"}, "rise", "only on a segmental"),
    ],
)
def test_what_cannot_be_is_refused_by_name(dormers, field, said):
    house = {"chimneys": [{"along": "-15 ft", "back": "6 ft"}]}
    with pytest.raises(DesignError, match=said) as refusal:
        design({"dormers": dormers}, house=house)
    assert f"roof.dormers.{field}:" in str(refusal.value)


def test_a_flat_roof_has_no_room_for_dormers(rules_hold):
    with pytest.raises(DesignError, match="steeper or deeper"):
        design({"pitch": "4:12", "dormers": {}})


def test_no_length_that_is_refused_is_less_than_nothing(rules_hold):
    with pytest.raises(DesignError, match="steeper or deeper") as refusal:
        design({"form": "gambrel", "dormers": {}})
    assert not refusal.value.given.startswith("-")


def test_dormers_keep_clear_of_the_porch_gable(rules_hold):
    with pytest.raises(DesignError, match="porch's gable"):
        design({"dormers": {"centres": ["12 ft"]}}, EAVES)
    check(design({"dormers": {"centres": ["-20 ft", "20 ft"]}}, EAVES))


def test_by_rule_they_stand_over_the_bays_beside_the_porch_gable():
    made = design({"dormers": {}}, EAVES)
    (row,) = made.roof.dormers
    assert row.centres_m == (made.house.bay_centres_m[0], made.house.bay_centres_m[-1])
    assert design({"dormers": {"count": 2}}, EAVES).roof.dormers[0].centres_m == row.centres_m
    check(made)


def test_a_number_that_the_porch_gable_does_not_let_stand_is_refused_by_itself():
    with pytest.raises(DesignError, match="allowed: 2 over these bays") as refusal:
        design({"dormers": {"count": 3}}, EAVES)
    assert refusal.value.field == "roof.dormers.count"


@pytest.mark.parametrize("kind", ["gabled", "shed", "segmental"])
@pytest.mark.parametrize("form", ["hip", "gable"])
def test_flashing_looks_outwards_and_lies_in_no_other_plane(kind, form):
    made = design({"form": form, "pitch": "12:12", "dormers": {"kind": kind, "count": 1}})
    assert [str(f) for f in faults(build(made)) if "flashing" in str(f)] == []


# --- a pediment at the eaves -----------------------------------------------------------------


@pytest.mark.parametrize("form", ["hip", "gable"])
@pytest.mark.parametrize("covering", ["barrel tile", "slate", "standing seam", "plain"])
def test_a_pediment_at_the_eaves_runs_back_into_the_main_roof(form, covering):
    made = design({"form": form, "pitch": "8:12", "covering": covering}, EAVES)
    model = build(made)
    assert_closed(model.parts)
    planes = porch_gable(made.porch, made.house, made.roof)
    slope = main_slope_of(made.house, made.roof)
    normal = np.cross(slope[1] - slope[0], slope[-1] - slope[0])
    for valley in planes.valleys:
        assert np.abs((valley.line - slope[0]) @ normal / np.linalg.norm(normal)).max() < 1e-9
        # Its foot is the corner of both eaves, which are level.
        assert valley.line[0, 1:] == pytest.approx(slope[0, 1:])
    # What shows: nothing of the main covering under the porch's roof, nor before its valleys.
    ring = np.array(
        [planes.valleys[1].line[0], planes.valleys[1].line[1], planes.valleys[0].line[0]]
    )
    for part in model.select("house/roof/tiles"):
        if not part.name.endswith("flashing"):
            assert not in_hole(part, ring[:, :2])
    # The house's cornice stops at the porch's, and the level one runs on under the tympanum.
    front = list(model.select("porch/entablature", "porch/pediment"))
    level = extent([p for p in model.parts if p.name == "porch/pediment/cornice"])
    assert level[0, 0] < -made.porch.half_width_m
    assert level[1, 0] > made.porch.half_width_m
    house_cornice = merged([p.world_mesh() for p in model.select("house/cornice")])
    shared = overlaps([Part(("house",), "order", house_cornice), *front], 1e-6)
    assert shared == []


def test_the_porch_ridge_stays_below_the_main_one():
    with pytest.raises(DesignError, match="under the main ridge") as refusal:
        design({"pitch": "4:12"}, {**EAVES, "roof_pitch": "9:12"})
    assert "porch.roof_pitch" in str(refusal.value)


def test_its_valleys_stay_within_a_hip():
    with pytest.raises(DesignError, match="hips, verges"):
        design(
            {"form": "hip", "pitch": "6:12"},
            {**EAVES, "spacing": "11.9 ft", "roof_pitch": "5:12"},
            {"width": "38 ft", "depth": "60 ft", "bays": 3},
        )


def test_a_hipped_porch_roof_does_not_go_round_at_the_eaves():
    with pytest.raises(DesignError, match="flat, pediment or gable"):
        design({}, {"height": "eaves", "roof": "hipped"})


# --- parts ---------------------------------------------------------------------------------


@given(width=st.floats(0.8, 4.0), rise=st.floats(0.32, 0.4))
def test_a_segmental_pediment_is_closed_and_as_high_as_its_arc(width, rise):
    members = [m.__class__(**{**m.__dict__, "name": "cymatium"}) for m in CORNICE.members]
    level = [
        m.__class__(**{**m.__dict__, "name": "corona", "height": 0.1}) for m in CORNICE.members
    ]
    parts = segmental_pediment([*level, *members], width, back_m=0.02, rise_m=rise)
    assert_closed(parts)
    assert extent(parts)[1, 2] == pytest.approx(0.4 + rise)
    with pytest.raises(ValueError, match="arc"):
        segmental_pediment([*level, *members], width, back_m=0.02, rise_m=0.05)


@settings(deadline=None, max_examples=12, suppress_health_check=[HealthCheck.too_slow])
@given(
    kind=st.sampled_from(["gabled", "shed", "segmental"]),
    form=st.sampled_from(["hip", "gable"]),
    main=st.integers(7, 16),
    own=st.none() | st.integers(2, 14),
    width=st.none() | st.integers(20, 60),
    covering=st.sampled_from(["slate", "standing seam", "plain", "barrel tile"]),
    cheeks=st.sampled_from(["boards", "plain"]),
    count=st.none() | st.integers(1, 4),
)
def test_any_dormer_stands_or_is_refused(kind, form, main, own, width, covering, cheeks, count):
    dormers = {"kind": kind, "cheeks": cheeks}
    if own and kind != "segmental":
        dormers["pitch"] = f"{own}:12"
    if width:
        dormers["width"] = f"{width} in"
    if count:
        dormers["count"] = count
    try:
        made = design(
            {"form": form, "pitch": f"{main}:12", "covering": covering, "dormers": dormers}
        )
    except DesignError as refusal:
        event("refused: " + str(refusal).split(":")[0])
        return
    event("built")
    check(made)
    (row,) = made.roof.dormers
    gaps = np.diff(row.centres_m)
    assert (gaps > 2.0 * roof_half_m(row)).all()
    assert all(
        p.count == len(row.centres_m)
        for p in dormer_parts(row, made.house, made.roof)
        if p.mesh is not None and p.name.endswith(("face", "cheeks", "inside"))
    )
