"""Gutters, brackets and downspouts, and raking cornices on the main gables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.geometry.rays import Caster
from massing.parts.roofs.gutter import downspout, gutters, outlet
from massing.scene.errors import DesignError
from massing.units import INCH_M
from tests.helpers.shapes import assert_closed, overlaps
from tests.resolve.test_house import design, names

RING = np.array([(0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (0.0, 6.0)])
CORNICE = np.array([(0.0, 6.5), (0.1, 6.6), (0.35, 6.7), (0.4, 7.0)])


@settings(max_examples=40, deadline=None)
@given(
    kind=st.sampled_from(["half round", "moulded"]),
    width=st.floats(0.09, 0.25),
    closed=st.booleans(),
    spacing=st.floats(0.3, 1.0),
)
def test_any_gutter_is_closed_and_hangs_clear_of_the_deck(kind, width, closed, spacing):
    runs = [RING] if closed else [RING[:2]]
    parts = gutters(
        kind, runs, closed=closed, rim_z_m=5.0, width_m=width, spacing_m=spacing, role="copper"
    )
    assert_closed(parts)
    trough, brackets = parts
    low, high = trough.mesh.bounds
    assert high[1] <= 6.0 + width + 0.02 if closed else high[1] < 0.0
    assert low[1] >= -width - 0.02
    assert high[2] <= 5.0 + 0.008
    assert low[2] >= 5.0 - 0.81 * width - 0.003
    along = brackets.placements[:, :2, 3]
    front = np.sort(along[np.isclose(along[:, 1], 0.0), 0])
    assert np.diff(front).max() <= spacing + 1e-9
    assert front[0] <= spacing


@settings(max_examples=40, deadline=None)
@given(out=st.floats(0.45, 0.9), radius=st.floats(0.03, 0.07), top=st.floats(6.6, 7.0))
def test_a_downspout_clears_the_cornice_and_bends_45_degrees(out, radius, top):
    """City of Irving, Gutters and downspouts (read): no bend over 45 degrees."""
    wall = 0.045 + radius
    pipe, straps = downspout((out + radius, top), wall, CORNICE, radius, "copper")
    assert_closed([pipe, straps])
    points = pipe.mesh.vertices * [1.0, -1.0, 1.0]  # y is out from the wall
    for edge_out, edge_z in CORNICE:
        distance = np.hypot(points[:, 1] - edge_out, points[:, 2] - edge_z)
        assert distance.min() > 0.0
    rings = points.reshape(-1, 16, 3).mean(axis=1)
    steps = np.diff(rings, axis=0)
    steps /= np.linalg.norm(steps, axis=1)[:, None]
    assert np.einsum("ij,ij->i", steps[:-1], steps[1:]).min() > np.cos(np.radians(46.0))
    assert points[:, 1].min() == pytest.approx(0.045, abs=1e-6)
    assert 0.0 < points[:, 2].min() < 0.15


def test_a_pipe_needs_a_wall_to_come_down():
    with pytest.raises(ValueError, match="too near the ground"):
        downspout((0.5, 0.9), 0.09, CORNICE - [0.0, 6.0], 0.04, "copper")
    with pytest.raises(ValueError, match="half round"):
        gutters(
            "square", [RING], closed=True, rim_z_m=1.0, width_m=0.1, spacing_m=1.0, role="metal"
        )
    assert outlet("half round", 0.12)[1] == pytest.approx(0.06)


@pytest.mark.parametrize(
    "roof",
    [
        {"covering": "barrel tile", "gutter": "half round"},
        {"covering": "slate", "pitch": "12:12", "gutter": "moulded", "gutter_metal": "painted"},
        {"form": "gable", "covering": "s tile", "gutter": "moulded"},
        {"form": "gambrel", "pitch": None, "covering": "wood shingle", "gutter": "half round"},
        {"form": "deck", "covering": "standing seam", "gutter": "half round"},
        {"form": "gable", "gable": "raking cornice", "covering": "slate", "gutter": "half round"},
    ],
)
def test_gutters_pass_through_nothing(roof):
    model = build(design(roof=roof))
    assert_closed(model.parts)
    hung = [p for p in model.parts if "/gutter/" in p.name or p.name.endswith("downspout/pipe")]
    assert len(hung) == 3
    near = [p for p in model.parts if p.name.startswith(("house/", "porch/"))]
    near = [p for p in near if p not in hung and "interior" not in p.name]
    for part in hung:
        found = [o for other in near for o in overlaps([part, other])]
        assert [o for o in found if "straps" not in o[1]] == []


def test_downspouts_by_published_sizes():
    """City of Irving, Gutters and downspouts (read): gutters 5 in wide or more, hangers at 3 ft
    or less, a square inch of pipe to 100 square feet of roof."""
    roof = design(roof={"gutter": "half round"}).roof
    assert roof.gutter.width_m >= 5 * INCH_M - 1e-9
    assert roof.gutter.bracket_spacing_m <= 36 * INCH_M
    assert len(roof.gutter.downspouts) == 4
    area_ft2 = 52 * 34 / 4.0
    assert np.pi * (roof.gutter.downspout_m / INCH_M) ** 2 / 4.0 >= area_ft2 / 100.0


@pytest.mark.usefixtures("rules_hold")
def test_a_downspout_in_the_way_goes_round_the_corner_or_is_refused():
    window = {"width": "1.2 m", "shutters": "louvred"}
    wide = {"walls": "clapboard", "bay_spacing": "3.25 m", "windows": [window]}
    roof = design(wide, {"gutter": "half round"}).roof
    assert {wall for wall, _ in roof.gutter.downspouts if wall in ("left", "right")} == {
        "left",
        "right",
    }
    with pytest.raises(DesignError) as refusal:
        design(wide, {"form": "gable", "gutter": "half round"})
    assert refusal.value.field == "roof.gutter"
    assert "window" in refusal.value.given
    with pytest.raises(DesignError, match=r"roof\.gutter_width"):
        design(roof={"gutter_width": "5 in"})


@pytest.mark.parametrize("foot", ["across", "returns"])
@pytest.mark.parametrize("pitch", ["5:12", "9:12", "14:12"])
def test_a_raking_cornice_crowns_both_gables(foot, pitch):
    made = design(
        roof={
            "form": "gable",
            "pitch": pitch,
            "gable": "raking cornice",
            "gable_foot": foot,
            "covering": "slate",
        }
    )
    model = build(made)
    assert_closed(model.parts)
    assert "house/roof/barge boards" not in names(model)
    rakes = [p for p in model.parts if p.name.endswith("pediment/raking cornice")]
    deck = next(p for p in model.parts if p.name == "house/roof/deck")
    assert len(rakes) == 2
    assert overlaps([*rakes, deck]) == []
    top = max(p.mesh.bounds[1, 2] for p in rakes)
    # The deck lies on the rakes: its top is one upright edge, 5 cm, above theirs.
    assert deck.mesh.bounds[1, 2] - top == pytest.approx(0.05, abs=1e-6)
    level = [p for p in model.parts if p.name.endswith("pediment/cornice")]
    wall = next(p for p in model.parts if p.name == "house/roof/gable/right")
    assert wall.role == "wall"
    along = np.concatenate([p.mesh.triangles[:, :, 1] for p in level]) - made.house.depth_m / 2.0
    crossing = (along.min(axis=1) < 0.0) & (along.max(axis=1) > 0.0)
    assert crossing.any() == (foot == "across")


def test_a_raking_cornice_too_flat_is_refused():
    with pytest.raises(DesignError, match=r"roof\.pitch"):
        design(
            {"cornice": "4 ft", "storeys": ["16 ft", "16 ft"]},
            {"form": "gable", "pitch": "2:12", "gable": "raking cornice"},
        )


@pytest.mark.parametrize("kind", ["half round", "moulded"])
@pytest.mark.parametrize("form", ["hip", "gable"])
def test_a_gutter_is_stopped_where_the_porch_gable_cuts_it(form, kind):
    porch = {"height": "eaves", "roof": "pediment", "spacing": "8 ft", "depth": "9 ft"}
    made = design(porch=porch, roof={"form": form, "covering": "slate", "gutter": kind})
    model = build(made)
    trough = next(p for p in model.parts if p.name == "house/roof/gutter/trough")
    assert_closed([trough])
    points = trough.mesh.vertices
    front = points[points[:, 1] < points[:, 1].min() + 0.2]
    for side in (-1.0, 1.0):  # a look along the trough from before the gable meets a plate
        end = np.abs(front[front[:, 0] * side > 0.0, 0]).min()
        assert 1.0 < end < made.house.width_m / 2.0 - 1.0
        width, top = made.roof.gutter.width_m, front[:, 2].max()
        start = (0.0, front[:, 1].max() - 0.35 * width, top - 0.25 * width)
        hit = Caster([trough]).first_hit([start], (side, 0.0, 0.0))
        assert hit.owner[0] == 0
        assert abs(hit.points[0, 0]) == pytest.approx(end, abs=1e-4)
