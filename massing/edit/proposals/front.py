"""What nothing betters: the front of a set of designs in all of their measures at once.

A dozen lines of numpy: the libraries for it bring scipy and hundreds of megabytes, which this
project does without (DEVELOPERS.md says why), for one comparison of rows.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats

_SAME = 1e-9  # measures nearer than this are equal: what is left of adding up in another order


def front(values: Floats) -> NDArray[np.intp]:
    """Indices of the rows that no other row betters, in their order.

    A row betters another where none of its measures is more and one is less (V. Pareto, Manuale di
    economia politica, 1906: from memory). Of rows that are all alike the first is kept.

    Args:
        values: ``(n, k)`` measures of n designs, of which less is better.

    >>> front(np.array([[1.0, 2.0], [2.0, 1.0], [2.0, 2.0], [1.0, 2.0]]))
    array([0, 1])
    """
    steps = np.round(np.asarray(values, dtype=float) / _SAME) * _SAME
    alive = np.ones(len(steps), dtype=bool)
    order = np.lexsort(steps.T[::-1])  # what betters a row stands before it
    for place, index in enumerate(order):
        if not alive[index]:
            continue
        rest = order[place + 1 :]
        rest = rest[alive[rest]]
        alive[rest[(steps[rest] >= steps[index]).all(axis=1)]] = False
    # Rows that are alike fall to the one that the sort puts first, which is the earliest.
    return np.flatnonzero(alive)


def standing(values: Floats) -> Floats:
    """How each row of a set stands by the sum of its ranks, ``(n,)``; less is better.

    Each measure ranks the rows, those that are alike in the middle of their places, and has one
    vote: none weighs more than another, and their units do not matter (J.-C. de Borda, Memoire sur
    les elections au scrutin, 1781: from memory).

    >>> standing(np.array([[0.0, 4.0], [0.5, 3.0], [9.0, 3.0]]))
    array([2. , 1.5, 2.5])
    """
    steps = np.round(np.asarray(values, dtype=float) / _SAME)
    ranks = np.zeros(len(steps))
    for column in steps.T:
        _, place, counts = np.unique(column, return_inverse=True, return_counts=True)
        before = np.cumsum(counts) - counts
        ranks += (before + (counts - 1) / 2.0)[place.reshape(-1)]
    return ranks
