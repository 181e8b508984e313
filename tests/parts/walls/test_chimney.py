from dataclasses import replace

import numpy as np
import pytest

from massing.parts.roofs.deck import gable_roof, hip_roof
from massing.parts.roofs.slates import lay_plates
from massing.parts.roofs.tiles import lay_tiles
from massing.parts.walls.chimney import chimney, chimney_hole
from massing.practice.coverings import covering
from massing.settingout.roof_planes import gable_planes, hip_planes
from tests.helpers.shapes import assert_closed, body_overlaps, extent

LOW, HIGH = (-2.0, -1.5), (2.0, 1.5)
PLACES = {"ridge": ((-0.5, -0.3), (0.2, 0.3)), "slope": ((0.6, -1.1), (1.0, -0.7))}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", ["barrel tile", "slate"])
def test_a_chimney_comes_through_a_covering_cut_round_it(place, name):
    plan = PLACES[place]
    planes = hip_planes(LOW, HIGH, 3.05, 0.6)
    planes = replace(planes, holes=(chimney_hole(*plan),))
    (deck,) = hip_roof(LOW, HIGH, 3.0, 0.6, 0.05)
    lay = lay_tiles if name == "barrel tile" else lay_plates
    parts = [*lay(planes, covering(name)), *chimney(*plan, deck.mesh, 5.4), deck]
    assert_closed(parts)
    assert body_overlaps(parts) == []


def test_the_stack_stands_on_the_deck_and_reaches_its_height():
    (deck,) = hip_roof(LOW, HIGH, 3.0, 0.6, 0.05)
    parts = {p.name: p for p in chimney(*PLACES["slope"], deck.mesh, 5.0)}
    assert parts["chimney/cap"].mesh.bounds[1, 2] == pytest.approx(5.0)
    foot = parts["chimney/stack"].mesh.bounds[0, 2]
    assert foot == pytest.approx(3.05 + 0.6 * (1.5 - 1.1))  # the slope at its lower edge
    sizes = np.diff(extent([parts["chimney/stack"]]), axis=0)[0]
    assert sizes[:2] == pytest.approx([0.4, 0.4])


def test_the_collar_stands_as_high_on_every_face_over_a_solid_roof_and_a_slab():
    hipped = hip_roof(LOW, HIGH, 3.0, 0.6, 0.05)[0].mesh
    gabled = gable_roof(LOW, HIGH, 3.0, 0.6, (-1.7, 1.7), 0.25, 0.05)[0].mesh
    for deck in (hipped, gabled):
        parts = {p.name: p.mesh for p in chimney(*PLACES["slope"], deck, 5.0)}
        points = parts["chimney/collar"].vertices
        over = points[:, 2] - (3.05 + 0.6 * (1.5 - np.abs(points[:, 1])))
        assert np.unique(np.round(over, 6)) == pytest.approx([0.0, 8 * 0.0254], abs=1e-6)


@pytest.mark.parametrize(
    ("low", "high", "top", "said"),
    [
        ((-3.0, 0.0), (-2.5, 0.4), 5.0, "stand on the roof"),
        ((-0.3, -0.3), (0.3, 0.3), 3.6, "clear the roof"),
    ],
)
def test_a_chimney_that_cannot_be_is_refused(low, high, top, said):
    (deck,) = hip_roof(LOW, HIGH, 3.0, 0.6, 0.05)
    with pytest.raises(ValueError, match=said):
        chimney(low, high, deck.mesh, top)


def test_a_gabled_roof_stands_on_its_gables():
    parts = gable_roof(LOW, HIGH, 3.0, 0.7, (-1.7, 1.7), 0.25, 0.05)
    covering_parts = lay_tiles(gable_planes(LOW, HIGH, 3.05, 0.7), covering("barrel tile"))
    assert_closed(parts)
    assert body_overlaps([*parts, *covering_parts]) == []
    by_name = {p.name: p for p in parts}
    left = by_name["gable/left"].mesh.bounds
    assert left[:, 0] == pytest.approx([-1.7, -1.45])
    assert left[:, 2] == pytest.approx([3.0, 3.0 + 0.7 * 1.5])
    # A slab of one upright thickness on both slopes.
    assert by_name["deck"].mesh.volume_m3 == pytest.approx(4.0 * 3.0 * 0.05)


def test_a_gable_outside_its_verge_is_refused():
    with pytest.raises(ValueError, match="gables"):
        gable_roof(LOW, HIGH, 3.0, 0.7, (-2.0, 2.0), 0.25)
