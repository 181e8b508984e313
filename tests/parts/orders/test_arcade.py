"""Piers, imposts and arches of an arcade."""

from __future__ import annotations

import pytest

from massing.design.arcade import ArcadeDesign, ArchBay
from massing.parts.orders.arcade import arcade
from tests.helpers.house_designs import CORNICE
from tests.helpers.shapes import assert_closed


@pytest.mark.parametrize("springs", [(2.0, 2.0, 2.0), (2.4, 2.0, 2.4), (2.0, 2.4, 2.0)])
def test_imposts_stand_where_piers_carry_arches(springs):
    bays = tuple(ArchBay(3.0 * (k - 1), 2.2, spring) for k, spring in enumerate(springs))
    members = tuple(CORNICE.members)
    design = ArcadeDesign(bays, 0.8, 4.9, 0.1, 0.4, 0.3, members, members)
    parts = arcade(design, 5.0)
    assert_closed(parts)
    tops = [p.mesh.bounds[1, 2] for p in parts if p.path == ("arcade", "imposts")]
    high = sum(m.height for m in members)
    # A pier between two arches goes up to the higher springing: one lower bay has none of its own.
    assert max(tops) == pytest.approx(max(springs), abs=high)
    assert len(tops) == len(set(springs) if springs[0] < springs[1] else {max(springs)})
