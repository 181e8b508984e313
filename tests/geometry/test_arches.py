import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.design.opening import CurvedHead
from massing.geometry.arches import HeadLine
from massing.parts.openings.joinery import casing
from massing.parts.walls.wall import walls
from tests.helpers.house_designs import door_at, house, window_at
from tests.helpers.shapes import assert_closed

SOFFITS = st.builds(
    lambda width, share, curve: HeadLine(width, 2.5, share * width, curve),
    st.floats(0.5, 3.0),
    st.floats(0.2, 0.5),
    st.sampled_from(["segment", "ellipse"]),
)


def test_half_an_ellipse_with_equal_axes_is_a_semicircle():
    # Geometry: x^2 / a^2 + z^2 / b^2 = 1.
    round_, oval = (HeadLine(1.0, 2.0, 0.5, curve) for curve in ("segment", "ellipse"))
    assert round_.line(32) == pytest.approx(oval.line(32), abs=1e-5)
    assert round_.springing_z_m == pytest.approx(1.5)
    flat = HeadLine(2.0, 2.0, 0.5, "ellipse")
    assert flat.height_at(0.6) == pytest.approx(1.5 + 0.5 * 0.8)
    assert flat.half_at(1.5 + 0.5 * 0.6) == pytest.approx(0.8)


@given(soffit=SOFFITS)
def test_every_point_of_the_line_is_where_height_and_width_say(soffit):
    line = soffit.line(24)
    assert line[0] == pytest.approx([soffit.width_m / 2, soffit.springing_z_m], abs=1e-6)
    assert line[12] == pytest.approx([0.0, 2.5], abs=1e-6)
    assert line == pytest.approx(line[::-1] * [-1.0, 1.0], abs=1e-6)
    assert soffit.height_at(line[1:-1, 0]) == pytest.approx(line[1:-1, 1], abs=1e-5)
    upper = line[np.abs(line[:, 0]) > 0.05 * soffit.width_m]
    assert soffit.half_at(upper[:, 1]) == pytest.approx(np.abs(upper[:, 0]), abs=1e-5)
    apart = np.linalg.norm(np.diff(line, axis=0), axis=1)
    assert np.ptp(apart) < 0.02 * apart.mean()


@given(soffit=SOFFITS, by=st.floats(0.01, 0.09))
def test_an_inset_soffit_stands_inside_by_what_was_asked(soffit, by):
    inner = soffit.inset(by)
    assert inner.crown_z_m == pytest.approx(2.5 - by)
    assert inner.width_m == pytest.approx(soffit.width_m - 2 * by)
    points = inner.line()
    near = np.min(np.linalg.norm(points[:, None] - soffit.line(400)[None], axis=2), axis=1)
    assert (near < by + 0.003).all()
    assert (near > 0.55 * by).all()
    if soffit.curve == "segment":
        assert near[1:-1] == pytest.approx(by, abs=2e-3)


def test_a_level_soffit_is_two_points():
    level = HeadLine(1.0, 2.0)
    assert level.line().tolist() == [[0.5, 2.0], [-0.5, 2.0]]
    assert level.moved_out(0.1).tolist() == [[0.5, 2.1], [-0.5, 2.1]]
    assert level.inset(0.1) == HeadLine(0.8, 1.9)
    assert level.half_at([1.0, 2.1]).tolist() == [0.5, 0.0]


def test_an_inset_that_leaves_nothing_is_refused():
    with pytest.raises(ValueError, match="leaves nothing"):
        HeadLine(1.0, 2.0).inset(0.5)
    with pytest.raises(ValueError, match="leaves nothing"):
        HeadLine(1.0, 2.0, 0.1, "ellipse").inset(0.1)


@settings(deadline=None, max_examples=20)
@given(soffit=SOFFITS, kind=st.sampled_from(["window", "door"]))
def test_the_walls_hole_is_the_opening_under_its_curve(soffit, kind):
    make = window_at if kind == "window" else door_at
    curved = CurvedHead(soffit.rise_m, soffit.curve) if soffit.rise_m else None
    opening = make(width_m=soffit.width_m, height_m=2.5, curved=curved)
    assert opening.soffit == soffit
    whole, cut = (
        next(p for p in walls(house(o)) if p.name == "house/wall/front") for o in ((), (opening,))
    )
    assert_closed([cut])
    sill = 0.0 if kind == "door" else cut_by_sill(opening)
    line = soffit.line()
    area = -np.sum(np.diff(line[:, 0]) * (line[1:, 1] + line[:-1, 1]) / 2.0)
    taken = (whole.mesh.volume_m3 - cut.mesh.volume_m3) / 0.3
    assert taken == pytest.approx(area + sill, rel=1e-6)


def cut_by_sill(opening):
    from massing.practice.joinery_sizes import SILL_HEIGHT_M, sill_length

    return SILL_HEIGHT_M * sill_length(opening.width_m, opening.face_m)


@settings(deadline=None, max_examples=20)
@given(soffit=SOFFITS)
def test_a_casing_follows_the_curve(soffit):
    made = casing(soffit.width_m, soffit.crown_z_m, 0.12, soffit)
    assert made.to_trimesh().is_watertight
    assert made.volume_m3 > 0
    assert made.bounds[1, 2] == pytest.approx(2.5 + 0.12, abs=2e-3)
