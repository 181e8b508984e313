"""Gables faced as the walls below them, and the lead on the cornices at their feet."""

from __future__ import annotations

from functools import cache

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.gables import gables, rakes
from massing.build.house import build
from massing.geometry.rays import Caster
from massing.geometry.solids import signed_area
from massing.practice.joinery_sizes import BRICK_COURSE_M, CLAPBOARD_EXPOSURE_M
from massing.settingout.wall_faces import CutShape, scribe
from tests.helpers.shapes import assert_closed, overlaps
from tests.resolve.test_house import design

ROLES = {"brick": "brick", "clapboard": "siding", "limestone": "ashlar"}
ROOFS = {
    "gable": {"form": "gable", "covering": "slate"},
    "gambrel": {"form": "gambrel", "pitch": None, "covering": "wood shingle"},
    "across": {"form": "gable", "gable": "raking cornice", "covering": "slate"},
    "returns": {
        "form": "gable",
        "gable": "raking cornice",
        "gable_foot": "returns",
        "covering": "slate",
    },
}


@cache
def made(walls, roof):
    asked = design({"walls": walls, "relief": True}, ROOFS[roof])
    return asked, build(asked)


def facing(model, walls):
    return [p for p in model.parts if p.role == ROLES[walls]]


@pytest.mark.parametrize("roof", ROOFS)
@pytest.mark.parametrize("walls", ROLES)
def test_a_gable_is_faced_up_to_its_rakes_and_passes_through_nothing(walls, roof):
    asked, model = made(walls, roof)
    faced = facing(model, walls)
    assert_closed(faced)
    x0 = asked.house.width_m / 2.0
    (gable,) = gables(asked.house, asked.porch.highest, asked.roof)["right"]
    # Seen square on, what is not under the cornices' or the boards' own feet is all faced.
    z = np.linspace(gable.foot_z_m + 0.4, gable.top_z_m - 0.6, 40)
    rows = [
        (y, at)
        for at in z
        for y in np.linspace(-1.0, 1.0, 41) * (gable.half_m - 0.1)
        if not any(
            f.low_z_m < at < f.high_z_m and abs(y - f.x_m) < f.half_m(at) + 0.1
            for f in gable.taken
            if isinstance(f, CutShape)
        )
    ]
    y, z = np.array(rows).T
    starts = np.column_stack([np.full(len(y), x0 + 0.05), y + asked.house.depth_m / 2.0, z])
    near = [*faced, *(p for p in model.parts if p.name == "house/roof/gable/right")]
    owner = Caster(near).first_hit(starts, (-1.0, 0.0, 0.0)).owner
    share = np.mean(owner < len(faced))
    assert len(rows) > 300
    # A brick with its joint is 8 3/8 by 2 2/3 in, of which 8 by 2 1/4 are brick.
    assert share == 1.0 if walls == "clapboard" else share > 0.75
    others = ("deck", "barge", "cornice", "weathering", "pediment")
    about = [p for p in model.parts if any(word in p.name for word in others)]
    about = [p for p in about if p.name.startswith("house/")]
    for part in faced:  # a board's end may be housed some mm under a return's corona
        assert [o for other in about for o in overlaps([part, other], 1e-5)] == []


@pytest.mark.parametrize("roof", ROOFS)
def test_courses_in_a_gable_are_in_line_with_those_below(roof):
    for walls, course in (("brick", BRICK_COURSE_M), ("clapboard", CLAPBOARD_EXPOSURE_M)):
        asked, model = made(walls, roof)
        if walls == "brick":
            part = next(p for p in model.parts if p.name == "house/bricks/stretchers")
            feet = part.placements[:, 2, 3]
        else:
            part = next(p for p in model.parts if p.name == "house/clapboards/right")
            corners = part.mesh.triangles
            across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
            downwards = across[:, 2] < -0.99 * np.linalg.norm(across, axis=1)
            feet = corners[downwards, 0, 2]
        up = feet[feet > asked.house.wall_top_z_m + 0.1] - asked.house.floor_z_m
        assert len(up) > 20
        beds = (up / course + 0.25) % 1.0  # a brick's foot is half a joint over its course
        assert np.ptp(beds) < 1e-6


def test_walls_that_are_not_faced_leave_their_gables_plain():
    model = build(design({"walls": "brick"}, ROOFS["gable"]))
    assert not facing(model, "brick")
    asked = design({"walls": "brick", "relief": True}, {"covering": "slate"})
    assert gables(asked.house, asked.porch.highest, asked.roof) == {}


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-3, 3), st.floats(0, 4)), min_size=1, max_size=12),
    st.floats(1.0, 3.0),
    st.floats(0.5, 4.0),
    st.floats(0.0, 0.02),
    st.floats(0.2, 0.8),
)
def test_pieces_are_cut_to_the_rakes_exactly(places, half, rise, gap, knee):
    """What is left of each piece is what a solid modeller leaves of it."""
    edge = [(half, 0.5), (half * knee, 0.5 + 0.7 * rise), (0.0, 0.5 + rise)]
    cuts = rakes(edge)
    rows = np.array([(x, x + 0.3, z, z + 0.1) for x, z in places])
    whole, pieces = scribe(rows, cuts, gap)
    taken = manifold3d.CrossSection.batch_boolean(
        [manifold3d.CrossSection([f.outline(gap)]) for f in cuts], manifold3d.OpType.Add
    )
    want = 0.0
    for x0, x1, z0, z1 in rows:
        ring = manifold3d.CrossSection([[(x0, z0), (x1, z0), (x1, z1), (x0, z1)]])
        want += (ring - taken).area()
    got = len(whole) * 0.03 + sum(signed_area(ring) for _, ring in pieces)
    assert got == pytest.approx(want, abs=2e-4 * len(rows) + 1e-9)
    assert all((abs(r[1]) < 4.0) for r in whole)


@pytest.mark.parametrize("roof", ["across", "returns"])
def test_a_level_cornice_under_rakes_is_leaded_and_sheds_water(roof):
    """That lead covers it and falls outwards: common practice, no source."""
    _, model = made("brick", roof)
    caps = [p for p in model.parts if p.name.endswith("pediment/weathering")]
    assert [p.role for p in caps] == ["metal", "metal"]
    near = [p for p in model.parts if p.name.startswith("house/cornice") or "/pediment/" in p.name]
    near = [p for p in near if p not in caps]
    for cap in caps:
        assert [o for p in near for o in overlaps([cap, p], 1e-7)] == []
    right = max(caps, key=lambda p: p.mesh.bounds[1, 0])
    (x0, y0, _), (x1, y1, z1) = right.mesh.bounds
    y = np.linspace(y0 + 0.05, y1 - 0.05, 60)
    x = np.linspace(x0 + 0.02, x1 - 0.02, 8)
    starts = np.array([(a, b, z1 + 0.01) for a in x for b in y])
    hits = Caster([right]).first_hit(starts, (0.0, 0.0, -1.0))
    met = hits.owner >= 0
    assert met.sum() > 40
    normals = hits.normals[met]
    fall = np.hypot(normals[:, 0], normals[:, 1]) / normals[:, 2]
    assert fall.min() > 0.09
    # It falls away from the wall, or at a return's end along it.
    ends = np.abs(normals[:, 1]) > np.abs(normals[:, 0])
    assert (normals[~ends, 0] > 0.0).all()
    if roof == "across":
        assert not ends.any()
