"""The front against brute force, and the few picked of it."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from massing.edit.proposals.front import front, standing
from massing.edit.proposals.kinds import Kind, clusters


def by_hand(values: np.ndarray) -> list[int]:
    """Every pair held against each other, by the definition."""
    kept = []
    for i, own in enumerate(values):
        betters = ((values <= own).all(axis=1)) & ((values < own).any(axis=1))
        twin = any((values[j] == own).all() for j in range(i))
        if not betters.any() and not twin:
            kept.append(i)
    return kept


@pytest.mark.parametrize("seed", range(6))
def test_the_front_is_that_of_every_pair_held_against_each_other(seed):
    values = np.random.default_rng(seed).integers(0, 5, size=(160, 4)).astype(float)
    assert front(values).tolist() == by_hand(values)


def test_a_whole_grid_has_its_one_best_corner():
    grid = np.array(list(itertools.product(range(4), repeat=3)), dtype=float)
    assert front(grid).tolist() == [0]


def test_standing_is_the_sum_of_ranks_worked_by_hand():
    # measure 1 ranks 0, 1, 2; measure 2 has two alike at the foot (1/2 each), then 2
    assert standing(np.array([[1.0, 5.0], [2.0, 3.0], [3.0, 3.0]])).tolist() == [2.0, 1.5, 2.5]
    # and does not mind the unit
    values = np.random.default_rng(3).random((20, 3))
    assert (standing(values) == standing(values * [1.0, 1000.0, 0.01])).all()


PLAIN = Kind("tuscan", 4, "storey", "flat", False, False, 0, False, 5)


def test_proposals_differ_in_kind_and_every_design_is_in_a_cluster():
    orders = ("tuscan", "doric", "ionic")
    kinds = [
        replace(PLAIN, order=order, columns=n, roof=roof, pedestals=stand)
        for order in orders
        for n in (2, 4, 6)
        for roof in ("flat", "pediment")
        for stand in (False, True)
    ]
    values = np.random.default_rng(1).random((len(kinds), 3))
    found = clusters(values, kinds)
    assert 5 <= len(found) <= 8
    assert sum(cluster.size for cluster in found) == len(kinds)
    chosen = [kinds[cluster.chosen] for cluster in found]
    for one, other in itertools.combinations(chosen, 2):
        assert one.chief != other.chief
        assert one.unlike(other) >= 2
    assert found[0].chosen == int(np.argmin(standing(values)))


def test_of_porches_that_differ_in_inches_one_is_proposed():
    values = np.random.default_rng(2).random((12, 3))
    assert len(clusters(values, [PLAIN] * 12)) == 1
    assert clusters(values[:0], []) == []
