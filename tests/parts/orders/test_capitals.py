"""The leafed capitals, measured on their meshes in parts of a module of 18."""

from __future__ import annotations

import numpy as np
import pytest

from massing.canon import fit_order
from massing.geometry.mesh import Floats
from massing.parts.orders.column import carved_lines, column
from massing.parts.part import Part
from tests.helpers.shapes import assert_closed

LEAFED = [
    ("corinthian", "vignola"),
    ("corinthian", "palladio"),
    ("corinthian", "chambers"),
    ("composite", "vignola"),
]
MOST_TRIANGLES = 160_000  # of one capital with its abacus


def _capital(order: str, canon: str = "vignola") -> tuple[dict[str, Part], float]:
    """The capital's parts by their last word, its neck at z = 0, one part for a metre."""
    fitted = fit_order(order, canon, diameter_m=36.0)
    neck = fitted.base_height_m + fitted.shaft_height_m
    down = np.eye(4)
    down[2, 3] = -neck
    parts = [p.moved(down) for p in column(fitted)]
    found = {p.path[-1]: p for p in parts if "capital" in p.path or p.path[-1] == "abacus"}
    return found, fitted.capital_height_m


def _one(part: Part, turn: int) -> Floats:
    """The corners of one copy."""
    assert part.placements is not None
    return part.mesh.moved(part.placements[turn]).vertices


@pytest.mark.parametrize(("order", "canon"), LEAFED)
def test_leaves_touch_the_line_from_abacus_to_astragal(order: str, canon: str) -> None:
    """In elevation, from the abacus's utmost point to the astragal (J. Moxon, Vignola, XXIII,
    read); none passes it, each rank touches it."""
    capital, height = _capital(order, canon)
    fitted = fit_order(order, canon, diameter_m=36.0)
    astragal = fitted.shaft_head[-1]
    foot = np.array([astragal.reach, -astragal.height / 2.0])
    head = np.array([dict(fitted.capital_sizes)["abacus"], height])
    for rank in ("lower leaves", "upper leaves"):
        corners = capital[rank].world_mesh().vertices
        reach = np.hypot(corners[:, 0], corners[:, 1])
        line = foot[0] + (corners[:, 2] - foot[1]) / (head[1] - foot[1]) * (head[0] - foot[0])
        assert (reach - line).max() == pytest.approx(0.0, abs=0.05)


def test_the_ranks_are_a_third_and_two_thirds_of_the_bell() -> None:
    """Leaves to 12 and 24 of the bell's 36 parts, tips bent down 3 (W. R. Ware, The American
    Vignola, p. 20, read); they stand out 6 and 9 fortieths of a diameter from the shaft
    (Cyclopedia of Architecture, on the Corinthian capital, read), within six tenths of a part."""
    capital, _ = _capital("corinthian")
    for rank, top, out in (("lower leaves", 12.0, 6.0), ("upper leaves", 24.0, 9.0)):
        leaf = capital[rank].mesh.vertices
        reach = np.hypot(leaf[:, 0], leaf[:, 1])
        assert leaf[:, 2].max() == pytest.approx(top, abs=0.4)
        tip = leaf[reach > reach.max() - 1.5]
        assert top - tip[:, 2].min() == pytest.approx(3.0, abs=0.4)
        assert reach.max() - 15.0 == pytest.approx(out * 36.0 / 40.0, abs=0.6)


def test_eight_leaves_to_a_rank_and_sixteen_of_the_calyxes() -> None:
    """The upper on faces and corners, the lower between them (Ware, p. 20, read)."""
    capital, _ = _capital("corinthian")
    for rank, first in (("lower leaves", 22.5), ("upper leaves", 0.0)):
        middles = [_one(capital[rank], i).mean(axis=0) for i in range(capital[rank].count)]
        angle = np.degrees([np.arctan2(m[0], -m[1]) for m in middles]) % 45.0
        assert len(middles) == 8
        assert np.abs((angle - first + 22.5) % 45.0 - 22.5).max() < 1e-6
    one = capital["calyx leaves"]
    tops = [_one(one, i)[:, 2].max() for i in range(one.count)]
    assert 2 * one.count == 16
    assert np.ptp(tops) < 1e-6


def test_volutes_meet_under_the_horns_and_helices_under_the_flower() -> None:
    """Two and two, back to back (Ware, p. 20, read)."""
    capital, _ = _capital("corinthian")
    scrolls = capital["volutes"]
    right = [v for i in range(scrolls.count) if (v := _one(scrolls, i)).mean(axis=0)[0] > 0]
    front = next(v for v in right if v.mean(axis=0)[1] < -abs(v.mean(axis=0)[0]))
    high = front[:, 2] > 27.0
    away = front @ np.array([1.0, 1.0, 0.0]) / np.sqrt(2.0)  # from the plane of the diagonal
    beyond = away[high & (front[:, 0] > 12.0)].max()
    assert 0.0 <= beyond < 1.45  # it touches its neighbour, and sinks in by less than half
    assert front[high, 0].min() == pytest.approx(0.0, abs=0.5)  # the helix, at the middle
    horn = capital["abacus"].mesh.vertices[:, 0].max()
    assert front[:, 0].max() < horn
    assert front[high, 2].max() <= 36.0 + 1e-6


def test_composite_scrolls_are_nine_sixths_of_a_diameter_over_all() -> None:
    """54 parts across, nearly half a diameter high, over half the abacus and down to the upper
    leaves (Ware, p. 22, read)."""
    capital, height = _capital("composite")
    low, high = capital["scrolls"].world_mesh().bounds
    assert high[0] - low[0] == pytest.approx(54.0, abs=0.2)
    assert high[1] - low[1] == pytest.approx(54.0, abs=0.2)
    assert high[2] - low[2] == pytest.approx(17.0, abs=0.05)
    assert high[2] == pytest.approx(height - 3.0, abs=0.05)
    assert low[2] < capital["upper leaves"].world_mesh().bounds[1, 2]


@pytest.mark.parametrize(("order", "canon"), LEAFED)
def test_solids_are_closed_and_few_enough(order: str, canon: str) -> None:
    capital, _ = _capital(order, canon)
    assert_closed(list(capital.values()))
    assert sum(p.count * len(p.mesh.faces) for p in capital.values()) < MOST_TRIANGLES


def test_the_raffles_of_a_flat_leaf_do_not_fold() -> None:
    """Every body of a leaf turns outwards, none inside out."""
    capital, _ = _capital("corinthian")
    for rank in ("lower leaves", "upper leaves"):
        bodies = capital[rank].mesh.to_trimesh().split(only_watertight=False)
        assert len(bodies) == 7  # three raffles to a side and the tongue
        assert all(b.volume > 0.0 for b in bodies)


@pytest.mark.parametrize("order", ["corinthian", "composite"])
def test_an_engraver_draws_every_leaf(order: str) -> None:
    """Lines lie on the leaves they are of."""
    fitted = fit_order(order, diameter_m=36.0)
    lines = carved_lines(fitted)
    leaves = [p for p in column(fitted) if p.carved and p.path[-1] != "calyx leaves"]
    box = np.array([p.world_mesh().bounds for p in leaves])
    points = np.concatenate(lines)
    assert len(lines) >= 16 * 7 * 2
    assert (points[:, :2].max(axis=0) <= box[:, 1, :2].max(axis=0) + 6.0).all()
    assert points[:, 2].min() > box[:, 0, 2].min() - 0.2
