"""Gambrels and hips with a flat on top: planes, bodies, coverings, and what a scene may ask."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, hypot, pi, radians, tan

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.build.placing import covered
from massing.design.roof import DeckRoof, GambrelRoof
from massing.findings.report import findings
from massing.parts.roofs.deck import decked_roof, gambrel_roof, roof_flat
from massing.practice.coverings import covering, coverings
from massing.scene.errors import DesignError
from massing.settingout.roof_heights import curb_m, nose_m, roof_rise_m
from massing.settingout.roof_planes import decked_planes, gambrel_planes
from tests.helpers.shapes import assert_closed, body_overlaps, overlaps
from tests.resolve.test_house import design, names

EDGE_M = 0.05


def gambrel(name, depth=3.0, upper=0.45, lower=2.2, run=0.45):
    roof = GambrelRoof(upper, 0.05, name, "terracotta", lower_slope=lower, break_run_m=run)
    low, high = (-0.9, 0.0), (0.9, depth)
    nose = nose_m(roof)
    planes = gambrel_planes(low, high, 3.0, (lower, upper), (run, lower * run), nose, EDGE_M)
    body = gambrel_roof(
        low, high, 3.0 - EDGE_M, (lower, upper), run, nose, (-0.6, 0.6), 0.2, EDGE_M
    )
    return roof, planes, body


def decked(name, size=(2.6, 2.2), slope=0.6, run=0.7):
    roof = DeckRoof(slope, 0.05, name, "terracotta", deck_run_m=run)
    planes, flat = decked_planes((0.0, 0.0), size, 3.0, slope, run)
    return roof, planes, flat


@pytest.mark.parametrize("name", coverings())
def test_courses_of_a_gambrel_lap_at_the_break_and_touch_nothing(name):
    roof, planes, body = gambrel(name)
    lower, upper = (covered([], p, roof) for p in planes)
    assert_closed([*lower, *upper, *body])
    assert body_overlaps([*lower, *upper, body[0]]) == []
    heads = max(p.world_mesh().bounds[1, 2] for p in lower)
    soffit = planes[0].heads[0, 0, 2]
    assert heads == pytest.approx(soffit, abs=0.006)  # tucked up to the soffit, not past it
    # The upper course drips clear of the lower one's face.
    foot = min(p.world_mesh().bounds[0, 1] for p in upper if "verge" not in p.name)
    assert foot < planes[1].slopes[0][0, 1] - 0.9 * covering(name).overhang_m


@pytest.mark.parametrize("name", coverings())
def test_rain_on_a_gambrel_meets_the_covering_everywhere(name):
    roof, planes, _ = gambrel(name)
    parts = [p for r in planes for p in covered([], r, roof)]
    shell = trimesh.util.concatenate([p.world_mesh().to_trimesh() for p in parts])
    x, y = np.meshgrid(np.linspace(-0.87, 0.87, 60), np.linspace(0.02, 2.98, 150))
    origins = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, 9.0)])
    down = np.tile([0.0, 0.0, -1.0], (len(origins), 1))
    assert shell.ray.intersects_any(origins, down).mean() > 0.998


@pytest.mark.parametrize("name", coverings())
def test_a_covering_runs_up_to_the_curb_of_a_flat(name):
    roof, planes, flat = decked(name)
    body = [*decked_roof(planes, flat, EDGE_M), *roof_flat(flat, curb_m(roof), "metal")]
    laid = covered([], planes, roof)
    assert_closed([*body, *laid])
    found = body_overlaps([*laid, *body])
    assert [pair for pair in found if pair != ("deck", "flat/curb")] == []
    shell = trimesh.util.concatenate([p.world_mesh().to_trimesh() for p in [*laid, *body[1:]]])
    x, y = np.meshgrid(np.linspace(0.03, 2.57, 90), np.linspace(0.03, 2.17, 80))
    origins = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, 9.0)])
    down = np.tile([0.0, 0.0, -1.0], (len(origins), 1))
    assert shell.ray.intersects_any(origins, down).mean() > 0.995


@settings(max_examples=40, deadline=None)
@given(
    size=st.tuples(st.floats(3.0, 14.0), st.floats(3.0, 12.0)),
    slope=st.floats(0.1, 1.5),
    share=st.floats(0.15, 0.85),
    surface=st.sampled_from(["metal", "boards"]),
    curb=st.floats(0.1, 0.5),
)
def test_any_flat_on_a_hip_is_closed_and_drains(size, slope, share, surface, curb):
    run = share * (min(size) / 2.0 - 0.4)
    planes, flat = decked_planes((0.0, 0.0), size, 3.0, slope, run)
    body, top = decked_roof(planes, flat, EDGE_M), roof_flat(flat, curb, surface)
    assert_closed([*body, *top])
    assert flat[:, 2] == pytest.approx(3.0 + slope * run)
    for ring in planes.slopes:
        normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
        assert hypot(*normal[:2]) / normal[2] == pytest.approx(slope)
    allowed = {("deck", "flat/curb")}  # housed
    assert {pair[:2] for pair in overlaps([*body, *top])} <= allowed
    if surface == "metal":  # a quarter inch in the foot, common practice
        _, edge, peak = np.unique(top[1].mesh.vertices[:, 2].round(9))
        half = np.diff(top[1].mesh.bounds, axis=0)[0, :2].min() / 2.0
        assert peak - edge == pytest.approx(half / 48.0)


@settings(max_examples=40, deadline=None)
@given(
    depth=st.floats(5.0, 14.0),
    upper=st.floats(0.15, 0.7),
    steeper=st.floats(0.3, 2.5),
    share=st.floats(0.1, 0.6),
    name=st.sampled_from([*sorted(coverings()), "plain"]),
)
def test_any_gambrel_is_closed_and_each_slope_has_its_pitch(depth, upper, steeper, share, name):
    lower = upper + steeper
    roof = GambrelRoof(upper, 0.05, name, "terracotta", lower_slope=lower, break_run_m=0.0)
    nose, half = nose_m(roof), depth / 2.0
    run = min(share * half, half - nose - 0.3)
    knee = run + (EDGE_M + upper * nose) / steeper
    if run < 0.2 or run < nose or knee >= half:
        return
    low, high = (-4.0, 0.0), (4.0, depth)
    planes = gambrel_planes(low, high, 3.0, (lower, upper), (run, lower * run), nose, EDGE_M)
    body = gambrel_roof(
        low, high, 3.0 - EDGE_M, (lower, upper), run, nose, (-3.5, 3.5), 0.3, EDGE_M
    )
    assert_closed(body)
    assert overlaps(body) == []
    for roofs, slope in zip(planes, (lower, upper), strict=True):
        for ring in roofs.slopes:
            normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
            assert abs(normal[1] / normal[2]) == pytest.approx(slope)
    top = planes[1].ridges[0, 0, 2]
    assert body[0].mesh.bounds[1, 2] == pytest.approx(top)
    share_m = roof_rise_m(replace(roof, break_run_m=run), 8.0, depth, 0.0)
    assert top - 3.0 == pytest.approx(share_m + EDGE_M)


@settings(max_examples=15, deadline=None)
@given(
    name=st.sampled_from(sorted(coverings())),
    depth=st.floats(3.0, 5.0),
    slope=st.floats(0.3, 0.6),
    run=st.floats(0.3, 0.6),
)
def test_every_point_of_a_covering_lies_above_its_slope(name, depth, slope, run):
    roof, roofs, _ = gambrel(name, depth, slope, 2.4, run)
    flat, on_hip, _ = decked(name, (depth, depth - 0.4), slope, run)
    for one, how in ((roofs[0], roof), (roofs[1], roof), (on_hip, flat)):
        for part in covered([], one, how):
            points = part.world_mesh().vertices
            over = np.full(len(points), -np.inf)  # a convex roof: above the lowest of its planes
            for ring in one.slopes:
                normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
                over = np.maximum(over, (points - ring[0]) @ normal / np.linalg.norm(normal))
            assert over.min() > -1e-6, part.name


def test_a_gambrel_by_rule_is_half_an_octagon():
    """Carpenters' construction (common practice, no source): the upper half of an octagon, rafters
    at 22 1/2 and 67 1/2 degrees, all four of one length."""
    made = design(roof={"form": "gambrel", "pitch": None, "covering": "slate"})
    roof = made.roof
    assert degrees(atan(roof.slope)) == pytest.approx(22.5)
    assert degrees(atan(roof.lower_slope)) == pytest.approx(67.5)
    planes = next(p for p in build(made).parts if p.name == "house/roof/deck")
    half = np.ptp(planes.mesh.bounds[:, 1]) / 2.0
    rise = roof.lower_slope * roof.break_run_m
    lower = hypot(roof.break_run_m, rise)
    assert lower == pytest.approx(2.0 * half * np.sin(pi / 8.0))
    assert hypot(half - roof.break_run_m, roof.slope * (half - roof.break_run_m)) == pytest.approx(
        lower
    )


def test_a_given_upper_pitch_keeps_both_slopes_in_the_semicircle():
    # Thales: chords from a point of a semicircle's arc to the ends of its right half.
    roof = design(roof={"form": "gambrel", "pitch": 30, "covering": "slate"}).roof
    assert roof.lower_slope == pytest.approx(tan(radians(75)))


@pytest.mark.parametrize(
    ("roof", "field"),
    [
        ({"form": "hip", "lower_pitch": "20:12"}, "roof.lower_pitch"),
        ({"form": "gable", "deck_width": "10 ft"}, "roof.deck_width"),
        ({"form": "gambrel", "deck_balustrade": {}}, "roof.deck_balustrade"),
        ({"form": "gambrel", "pitch": "14:12"}, "roof.pitch"),
        ({"form": "gambrel", "pitch": "6:12", "lower_pitch": "6:12"}, "roof.lower_pitch"),
        ({"form": "gambrel", "pitch": "4:12", "lower_pitch": "9:12"}, "roof.lower_pitch"),
        ({"form": "gambrel", "pitch": "4:12", "break_height": "60 ft"}, "roof.break_height"),
        ({"form": "deck", "deck_width": "2 ft"}, "roof.deck_width"),
        ({"form": "deck", "deck_width": "40 ft"}, "roof.deck_width"),
        ({"form": "deck", "deck_balustrade": {"height": "9 ft"}}, "roof.deck_balustrade.height"),
        ({"form": "hip", "gable": "raking cornice"}, "roof.gable"),
        ({"form": "gable", "gable_foot": "returns"}, "roof.gable_foot"),
    ],
)
def test_what_does_not_belong_to_a_form_is_refused(roof, field, rules_hold):
    with pytest.raises(DesignError) as refusal:
        design(roof=roof)
    assert refusal.value.field == field


def test_a_flat_carries_its_balustrade_and_a_chimney_comes_through_it():
    stacks = [{"along": "10 ft", "back": "17 ft"}, {"along": "22 ft", "back": "17 ft"}]
    made = design(
        {"chimneys": stacks},
        {"form": "deck", "pitch": "8:12", "covering": "slate", "deck_balustrade": {}},
    )
    model = build(made)
    assert "house/roof/flat/balustrade/balusters" in names(model)
    assert_closed(model.parts)
    rail = next(p for p in model.parts if p.name == "house/roof/flat/balustrade/base")
    sheet = next(p for p in model.parts if p.name == "house/roof/flat/metal")
    assert (rail.mesh.bounds[0, :2] > sheet.mesh.bounds[0, :2]).all()
    assert (rail.mesh.bounds[1, :2] < sheet.mesh.bounds[1, :2]).all()
    stack = next(p for p in model.parts if p.name == "house/chimneys/1/chimney/stack")
    assert stack.mesh.bounds[0, 2] > sheet.mesh.bounds[0, 2]  # through the flat, not the slope


def test_a_chimney_keeps_off_the_edge_of_a_flat(rules_hold):
    with pytest.raises(DesignError, match=r"house\.chimneys\.0\.back"):
        design(
            {"chimneys": [{"along": "0 ft", "back": "12 ft"}]},
            {"form": "deck", "covering": "slate"},
        )


def test_findings_name_the_slope_and_the_edge():
    """IRC R905 (from memory): slate from 4:12; IRC R312.1 (read): guards of 36 in."""

    def said(**roof):
        return {f.key: f.text for f in findings(design(roof=roof))}

    flat = said(form="gambrel", pitch="3:12", covering="slate")
    assert "upper slope" in flat["roof pitch"]
    assert "roof pitch" not in said(form="gambrel", pitch="5:12", covering="slate")
    assert "guard" in said(form="deck")["roof flat open"]
    low = said(form="deck", deck_balustrade={"height": "30 in"})
    assert "local codes" in low["roof balustrade no guard"]
    assert "roof flat open" not in low


def test_boards_need_a_flat_to_lie_on():
    with pytest.raises(ValueError, match="too small"):
        roof_flat([(0, 0, 3), (0.3, 0, 3), (0.3, 0.3, 3), (0, 0.3, 3)], 0.2, "boards")
    with pytest.raises(ValueError, match="surface"):
        roof_flat([(0, 0, 3), (3, 0, 3), (3, 3, 3), (0, 3, 3)], 0.2, "glass")
