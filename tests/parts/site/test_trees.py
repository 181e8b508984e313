"""Trees, shrubs and people for pictures: as high and wide as asked, the same for a seed."""

from typing import get_args

import numpy as np
import pytest

from massing.design.kinds import Habit
from massing.parts.site.people import HEIGHTS_M, silhouette
from massing.parts.site.shrubs import leafy_hedge, shrub
from massing.parts.site.townhouse import townhouse
from massing.parts.site.trees import grow
from massing.units import FOOT_M, INCH_M

SIZES = {
    "oak": (12.5, 13.5),
    "pine": (19.0, 7.5),
    "cypress": (8.0, 1.6),
    "palm": (8.0, 4.8),
    "magnolia": (8.5, 6.0),
}


@pytest.mark.parametrize("habit", get_args(Habit))
@pytest.mark.parametrize("afar", [False, True])
def test_a_tree_is_as_high_and_wide_as_asked(habit: Habit, afar: bool) -> None:
    height, spread = SIZES[habit]
    tree = grow(habit, height, spread, 3, afar=afar)
    low, high = tree.leaves.bounds
    assert high[2] == pytest.approx(height, rel=0.09)
    assert (high[:2] - low[:2]).max() == pytest.approx(spread, rel=0.30)
    assert tree.wood.bounds[0, 2] <= 0.0
    assert np.isfinite(tree.leaves.vertices).all()


def test_habits_tell_each_other_apart() -> None:
    """A pine is bare below its crown, a cypress a column, a magnolia leafy to the ground."""
    crowns = {h: grow(h, *SIZES[h], 1).leaves.bounds for h in get_args(Habit)}
    share = {h: b[0, 2] / SIZES[h][0] for h, b in crowns.items()}
    assert share["pine"] > 0.35
    assert 0.05 < share["oak"] < 0.4
    assert share["magnolia"] < 0.1
    assert share["cypress"] < 0.1
    wide = np.ptp(crowns["cypress"], axis=0)
    assert wide[2] > 4.0 * wide[0]


def test_a_tree_seen_from_afar_has_fewer_leaves() -> None:
    near, afar = (grow("oak", 12.5, 13.5, 0, afar=far) for far in (False, True))
    assert len(afar.leaves.faces) < 0.3 * len(near.leaves.faces)


def test_the_same_seed_grows_the_same_tree_and_another_does_not() -> None:
    a, b = (grow.__wrapped__("oak", 9.0, 9.0, seed) for seed in (1, 2))
    again = grow.__wrapped__("oak", 9.0, 9.0, 1)
    assert np.array_equal(a.leaves.vertices, again.leaves.vertices)
    assert not np.array_equal(a.leaves.vertices[:50], b.leaves.vertices[:50])


def test_what_is_no_tree_is_refused() -> None:
    with pytest.raises(ValueError, match="allowed: oak, pine, cypress, palm, magnolia"):
        grow("willow", 5.0, 5.0, 0)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="not a tree"):
        grow("oak", 0.0, 5.0, 0)
    with pytest.raises(ValueError, match="allowed: box, loose, bloom"):
        shrub("rose", 0.5)


@pytest.mark.parametrize("kind", ["box", "loose", "bloom"])
def test_a_shrub_is_as_high_as_asked(kind: str) -> None:
    bush = shrub(kind, 0.7)
    assert bush.leaves.bounds[1, 2] == pytest.approx(0.7, rel=0.25)
    assert bush.leaves.bounds[0, 2] >= -0.1
    assert bool(len(bush.blossom.faces)) == (kind == "bloom")


def test_a_hedge_fills_its_plan() -> None:
    hedge = leafy_hedge((0.0, 0.0), (3.0, 0.8), 1.2)
    assert hedge.leaves.bounds == pytest.approx(np.array([[0, 0, 0], [3.0, 0.8, 1.2]]), abs=0.2)


def test_people_are_of_their_heights() -> None:
    """Heights are common practice, no source."""
    tall = {"man": 69.0 * INCH_M, "woman": 65.0 * INCH_M, "child": 3.75 * FOOT_M}
    assert tall == pytest.approx(HEIGHTS_M)
    for who, height in tall.items():
        low, high = silhouette(who).bounds
        assert high[2] - low[2] == pytest.approx(height, rel=0.03)
        assert high[1] - low[1] < 0.03  # cut out flat


def test_a_town_house_has_panes_on_every_storey() -> None:
    one, two = (townhouse(12.0, 9.0, eaves, 3.0, 0) for eaves in (4.3, 7.0))
    panes = [next(p for p in parts if p.path == ("panes",)) for parts in (one, two)]
    assert len(panes[1].mesh.faces) > 1.7 * len(panes[0].mesh.faces)
    with pytest.raises(ValueError, match="needs a width"):
        townhouse(0.0, 9.0, 7.0, 3.0, 0)
