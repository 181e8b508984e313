"""Entablatures: mitred solids, ornaments evenly set on the columns' axes."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.canon import fit_cornice, fit_order, plates
from massing.parts.orders.entablature import cornice, entablature
from massing.parts.orders.ornament import HOUSED_M
from massing.settingout.ornament_rows import (
    bay_step_m,
    corner_step_m,
    stations,
    with_corners,
)

EVERY = sorted(plates())


def check_solid(part):
    mesh = part.mesh.to_trimesh()
    assert mesh.is_watertight, part.name
    assert mesh.is_winding_consistent, part.name
    assert mesh.volume > 0, part.name


def porch(fitted, columns=4, axis=None, depth=3.0):
    """Path of a porch's frieze and the axes of its columns, open towards +Y."""
    axis = axis or 3.75 * fitted.diameter_m
    r, span = fitted.upper_diameter_m / 2.0, axis * (columns - 1)
    path = [(-r, depth), (-r, -r), (span + r, -r), (span + r, depth)]
    return np.array(path), np.array([(i * axis, 0.0) for i in range(columns)])


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_parts_are_solids_of_the_fitted_height(canon, order):
    fitted = fit_order(order, canon, diameter_m=0.5)
    path, axes = porch(fitted)
    parts = entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes)
    for part in parts:
        check_solid(part)
    bounds = np.array([p.world_mesh().bounds for p in parts])
    assert bounds[:, 0, 2].min() == pytest.approx(0.0)
    assert bounds[:, 1, 2].max() == pytest.approx(fitted.entablature_height_m)
    reach = fitted.cornice_projection_m
    assert bounds[:, 0, 1].min() == pytest.approx(path[1, 1] - reach)
    assert bounds[:, 1, 1].max() == pytest.approx(3.0)  # nothing enters the wall


@settings(max_examples=25)
@given(
    key=st.sampled_from(EVERY),
    diameter=st.floats(0.2, 1.0),
    beam=st.floats(0.5, 1.5),
    columns=st.integers(2, 8),
    spacing=st.floats(2.5, 6.0),
)
def test_any_porch_is_closed_and_symmetrical(key, diameter, beam, columns, spacing):
    fitted = fit_order(key[1], key[0], diameter_m=diameter, entablature_m=2 * diameter * beam)
    path, axes = porch(fitted, columns, spacing * diameter)
    middle = axes[:, 0].mean()
    for part in entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes):
        check_solid(part)
        low, high = part.world_mesh().bounds[:, 0]
        assert middle - low == pytest.approx(high - middle, abs=1e-6)


CONCAVE = np.array([(0, 0), (8, 0), (8, 3), (11, 3), (11, 7), (0, 7)], dtype=float)


@pytest.mark.parametrize("order", ["pier", "tuscan", "doric"])
def test_a_house_with_a_re_entrant_corner_closes(order):
    fitted = fit_cornice(0.5, order)
    parts = cornice(fitted, CONCAVE, closed=True, back_m=0.3)
    for part in parts:
        check_solid(part)
    reach = fitted.projection_m
    assert parts[0].mesh.bounds[:, :2] == pytest.approx(
        np.array([[-reach, -reach], [11 + reach, 7 + reach]])
    )


def test_a_frieze_is_its_section_times_its_run():
    """A plain face mitred round a square: the volume is that of a hollow box."""
    fitted = fit_order("tuscan", diameter_m=0.5)
    square = [(0, 0), (4, 0), (4, 4), (0, 4)]
    parts = entablature(fitted, square, closed=True, back_m=0.3)
    (frieze,) = (p for p in parts if p.name.endswith("/frieze"))
    assert frieze.mesh.volume_m3 == pytest.approx((16 - 3.4**2) * fitted.frieze_height_m)


def centres(parts, name, axis=0):
    (part,) = (p for p in parts if p.name.endswith(name))
    return part.placements[:, :3, 3]


def front(points, y):
    """Sorted x of those on the front run."""
    return np.sort(points[np.abs(points[:, 1] - y) < 1e-9][:, 0])


def test_triglyphs_stand_on_the_axes_evenly_between_with_guttae_under_each():
    fitted = fit_order("doric", diameter_m=0.5)
    path, axes = porch(fitted)
    parts = entablature(fitted, path, back_m=0.4, column_axes=axes)
    y = path[1, 1]
    at = front(centres(parts, "triglyphs"), y)
    assert len(at) == 10  # three spacings to each of three bays
    assert np.diff(at) == pytest.approx(np.full(9, 1.25 * 0.5), abs=1e-9)
    for axis in axes[:, 0]:
        assert np.abs(at - axis).min() < 1e-9
    regulae, guttae = centres(parts, "regulae"), centres(parts, "guttae")
    assert front(regulae, y) == pytest.approx(at)
    assert len(front(guttae, y)) == 6 * len(at)
    assert guttae[:, 2].max() == pytest.approx(regulae[:, 2].max())


def test_dentils_are_even_sit_on_axes_and_turn_the_corner():
    fitted = fit_order("doric", diameter_m=0.5)
    path, axes = porch(fitted)
    parts = entablature(fitted, path, back_m=0.4, column_axes=axes)
    at = front(centres(parts, "/dentils"), path[1, 1])
    assert np.diff(at) == pytest.approx(np.full(len(at) - 1, 0.5 / 8), abs=1e-9)
    for axis in axes[:, 0]:
        assert np.abs(at - axis).min() < 1e-9
    (corner,) = (p for p in parts if p.name.endswith("corner dentils"))
    row = next(m.row for m in fitted.cornice if m.row)
    low = corner.mesh.bounds[0]
    assert low[0] == pytest.approx(path[1, 0] - row.reach)
    # the corner dentil's inner edge is one gap from the last of the row
    blocks = corner.mesh.vertices
    near = blocks[(blocks[:, 0] < axes[0, 0]) & (blocks[:, 1] < path[1, 1])]
    gap = at[0] - row.width / 2.0 - near[:, 0].max()
    assert gap == pytest.approx(row.spacing - row.width, abs=1e-9)


def boxes(part):
    """Lowest and highest corner of each copy of a part."""
    corners = part.world_mesh().vertices.reshape(part.count, -1, 3)
    return corners.min(axis=1), corners.max(axis=1)


def worst_overlap(parts):
    """Depth by which any two ornaments of one kind enter each other; negative if they are clear.

    Bodies of a corner part count one by one.
    """
    worst = -np.inf
    for kind in ("dentils", "triglyphs", "regulae", "mutules", "modillions"):
        found = [p for p in parts if p.name.endswith(kind)]
        if not found:
            continue
        bounds = []
        for part in found:
            if part.placements is None:
                bounds += [b.bounds for b in part.mesh.to_trimesh().split()]
            else:
                bounds += list(np.stack(boxes(part), axis=1))
        low, high = np.array(bounds)[:, 0], np.array(bounds)[:, 1]
        overlap = np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])
        depth = overlap.min(axis=2)
        np.fill_diagonal(depth, -np.inf)
        worst = max(worst, depth.max())
    return worst


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_no_two_ornaments_overlap_round_a_house(canon, order):
    assert worst_overlap(
        cornice(fit_cornice(0.5, order, canon), CONCAVE, closed=True, back_m=0.3)
    ) < (1e-9)


@settings(max_examples=40)
@given(
    key=st.sampled_from(EVERY),
    beam=st.floats(0.7, 1.4),
    columns=st.integers(2, 6),
    spacing=st.floats(2.4, 5.0),
)
def test_no_two_ornaments_overlap_on_any_porch(key, beam, columns, spacing):
    fitted = fit_order(key[1], key[0], diameter_m=0.5)
    fitted = fit_order(
        key[1], key[0], diameter_m=0.5, entablature_m=beam * fitted.entablature_height_m
    )
    path, axes = porch(fitted, columns, spacing * 0.5)
    parts = entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes)
    # a corner dentil is an L about the row's corner: its box may enter that of the next dentil's
    # only by the housing of their backs
    assert worst_overlap(parts) < HOUSED_M + 1e-9


@given(gaps=st.lists(st.floats(0.5, 5.0), min_size=1, max_size=6), spacing=st.floats(0.1, 0.45))
def test_stations_hold_every_anchor_and_are_equal_between(gaps, spacing):
    anchors = np.concatenate([[1.0], 1.0 + np.cumsum(gaps)])
    found = stations(anchors, spacing, 0.0, anchors[-1] + 1.0)
    for a, b in pairwise(anchors):
        assert np.abs(found - a).min() < 1e-9
        between = found[(found > a - 1e-9) & (found < b + 1e-9)]
        steps = np.diff(between)
        assert steps == pytest.approx(np.full(len(steps), steps[0]), abs=1e-9)
        assert abs(steps[0] - spacing) < 0.5 * spacing
    assert (found > -1e-9).all()
    assert (found < anchors[-1] + 1.0 + 1e-9).all()


def test_depth_must_be_positive():
    fitted = fit_order("tuscan", diameter_m=0.5)
    with pytest.raises(ValueError, match="depth behind"):
        entablature(fitted, [(0, 0), (3, 0)], back_m=0.0)


def arc(radius, turn_deg, steps, start_deg=180.0):
    """A bow to the front: outwards is to the right of travel."""
    angle = np.radians(np.linspace(start_deg, start_deg + turn_deg, steps + 1))
    return radius * np.column_stack([np.cos(angle), np.sin(angle)])


@pytest.mark.parametrize("order", ["doric", "ionic", "corinthian"])
def test_a_semicircle_carries_its_ornaments_evenly(order):
    fitted = fit_order(order, diameter_m=0.4)
    half = fitted.upper_diameter_m / 2.0
    axes = arc(3.0 - half, 180.0, 4)
    parts = entablature(fitted, arc(3.0, 180.0, 48), back_m=2 * half, column_axes=axes)
    for part in parts:
        check_solid(part)
    assert not any("corner" in p.name for p in parts)
    for part in parts:
        if part.placements is None or "guttae" in part.name:
            continue
        at = part.placements[:, :3, 3]
        angle = np.unwrap(np.arctan2(at[:, 1], at[:, 0]))
        steps = np.abs(np.diff(angle))
        # measured along chords; an arc's radians between them differ by well under a hundredth
        assert steps == pytest.approx(np.full(len(steps), steps.mean()), rel=0.02)
        if part.path[-1] == "rosettes":
            continue  # which stand between the modillions
        inner = np.arctan2(axes[1:-1, 1], axes[1:-1, 0])
        for want in inner:
            assert np.abs(np.exp(1j * angle) - np.exp(1j * want)).min() < 0.002, part.name


def test_a_ring_closes_without_a_seam():
    fitted = fit_order("ionic", diameter_m=0.4)
    half = fitted.upper_diameter_m / 2.0
    axes = arc(3.0 - half, 360.0, 8)[:-1]
    path = arc(3.0, 360.0, 64)[:-1]
    parts = entablature(fitted, path, closed=True, back_m=2 * half, column_axes=axes)
    (dentils,) = (p for p in parts if p.name.endswith("/dentils"))
    at = dentils.placements[:, :3, 3]
    angle = np.sort(np.arctan2(at[:, 1], at[:, 0]))
    steps = np.diff(np.append(angle, angle[0] + 2 * np.pi))
    assert dentils.count % 8 == 0
    assert steps == pytest.approx(np.full(len(steps), 2 * np.pi / dentils.count), rel=0.02)


@given(
    columns=st.integers(2, 6),
    spacing=st.floats(2.4, 5.0),
    canon=st.sampled_from(["vignola", "ware"]),
)
@settings(max_examples=15)
def test_a_modillion_stands_over_every_axis_and_every_corner(columns, spacing, canon):
    """The last one's side flush with the band it stands on, over the corner's double dentil (W. R.
    Ware, The American Vignola, pp. 19-20, where the axes are whole modillions apart)."""
    fitted = fit_order("corinthian", canon, diameter_m=0.5)
    path, axes = porch(fitted, columns, spacing * 0.5)
    parts = entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes)
    brackets = next(p for p in parts if p.path[-1] == "modillions")
    front = brackets.placements[np.abs(brackets.placements[:, 1, 0]) < 1e-9]
    x = np.sort(front[:, 0, 3])
    member = next(m for m in fitted.cornice if m.row and m.row.kind == "modillion")
    corner = path[:, 0].max() + member.reach - member.row.width / 2.0
    assert x[-1] == pytest.approx(corner, abs=HOUSED_M + 1e-9)
    far = path[:, 0].min() - member.reach + member.row.width / 2.0
    assert x[0] == pytest.approx(far, abs=HOUSED_M + 1e-9)
    for axis in np.unique(axes[:, 0].round(9)):
        assert np.abs(x - axis).min() < 1e-6


def test_the_plates_corner_modillion_is_a_whole_spacing_from_the_axis():
    """24 parts on centres, one over the axis (Ware, p. 19): axes 96 parts apart need no change."""
    fitted = fit_order("corinthian", diameter_m=36.0)
    assert corner_step_m(fitted) == pytest.approx(24.0)
    assert bay_step_m(fitted, 96.0) == pytest.approx(24.0)
    near = with_corners([1.0], 0.9, 3.0, 0.2, (True, True))  # 1 serves for its corner
    assert near.tolist() == [1.0, 2.9]


@pytest.mark.parametrize("order", ["corinthian", "composite"])
def test_carved_mouldings_keep_their_profile(order):
    """Carving stands within the moulding's own reach and height, an egg over every axis."""
    fitted = fit_order(order, diameter_m=0.5)
    path, axes = porch(fitted)
    parts = entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes)
    z = fitted.architrave_height_m + fitted.frieze_height_m
    seen = set()
    for member in fitted.cornice:
        if member.carving:
            units = next(p for p in parts if p.path[-1] == member.carving)
            low, high = units.world_mesh().bounds
            assert low[2] == pytest.approx(z, abs=1e-6)
            assert high[2] == pytest.approx(z + member.height, abs=1e-6)
            assert low[1] >= path[:, 1].min() - member.reach - 1e-6
            at = units.placements[np.abs(units.placements[:, 1, 0]) < 1e-9][:, 0, 3]
            for axis in np.unique(axes[:, 0].round(9)):
                assert np.abs(at - axis).min() < 1e-6
            seen.add(member.carving)
        z += member.height
    assert "egg and dart" in seen
    assert "bead and reel" in seen


def test_a_caisson_stands_between_every_two_modillions_and_at_the_corner():
    """J. Gwilt, An Encyclopaedia of Architecture, art. 2584 (read): a sunk panel on the soffit."""
    fitted = fit_order("corinthian", diameter_m=0.5)
    path, axes = porch(fitted)
    parts = {
        p.path[-1]: p
        for p in entablature(fitted, path, back_m=fitted.upper_diameter_m, column_axes=axes)
    }
    front = [
        np.sort(m[np.abs(m[:, 1, 0]) < 1e-9][:, 0, 3])
        for m in (parts["modillions"].placements, parts["rosettes"].placements)
    ]
    brackets, roses = front
    middles = (brackets[:-1] + brackets[1:]) / 2.0
    assert all(np.abs(roses - m).min() < 1e-6 for m in middles)
    corner = parts["corner rosettes"].placements
    assert len(corner) == 2
    assert corner[:, 0, 3].min() < brackets.min()
    soffit = parts["cornice"].mesh.bounds
    assert soffit[1, 2] > parts["rosettes"].world_mesh().bounds[1, 2]
