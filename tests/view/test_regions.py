import numpy as np
import pytest
import shapely

from massing.geometry.rays import Caster
from massing.geometry.solids import box_between
from massing.parts.part import Part
from massing.view.hidden_lines import FRONT, nearest_m, visible_lines
from massing.view.regions import CAST, SHADE, regions, seen_from

SUN = np.array([-1.0, -1.0, 1.0]) / np.sqrt(3.0)


def porch():
    """A slab that stands 1.0 m out from a wall, on a post."""
    return [
        Part(("wall",), "wall", box_between((-3.0, 0.0, 0.0), (3.0, 0.3, 3.0))),
        Part(("slab",), "order", box_between((-2.0, -1.0, 2.5), (2.0, 0.0, 2.7))),
        Part(("post",), "order", box_between((1.5, -0.9, 0.0), (1.7, -0.7, 2.5))),
    ]


def drawn(parts, spacing_m=0.01, lines=None):
    labelling = seen_from(Caster(parts), FRONT, nearest_m(parts, FRONT) - 1.0, [1, 2, 3], SUN)
    return labelling, regions(labelling, (-3.1, -0.1), (3.1, 3.1), spacing_m, lines)


def test_a_material_is_what_is_seen_of_it():
    _, (materials, *_) = drawn(porch())
    assert materials[2].area == pytest.approx(
        4.0 * 0.2,
        abs=5e-3,  # half a millimetre round it
    )
    assert materials[1].area == pytest.approx(6.0 * 3.0 - 0.8 - 0.2 * 2.5, abs=5e-3)
    assert materials[1].bounds == pytest.approx((-3.0, 0.0, 3.0, 3.0), abs=1e-3)


def test_a_shadow_at_45_degrees_is_as_deep_as_what_throws_it_stands_out():
    _, (_, shadows, _) = drawn(porch())
    cast = shadows[CAST]
    assert cast.contains(shapely.Point(0.0, 1.52))  # under the slab's far edge, 1.0 m down
    assert not cast.contains(shapely.Point(0.0, 1.48))
    # the slab's end throws a slanting edge: from (-2, 2.5) one down for each to the right
    assert cast.distance(shapely.Point(-2.0 + 0.5, 2.0)) < 2e-3
    assert not cast.contains(shapely.Point(-2.0 + 0.49, 2.0))
    assert SHADE not in shadows  # no face that is seen turns from this sun


@pytest.mark.parametrize("fine_all_over", [True, False])
def test_shadows_agree_with_rays_to_5_mm(fine_all_over):
    parts = porch()
    lines = None if fine_all_over else visible_lines(parts).ends
    labelling, (_, shadows, _) = drawn(parts, lines=lines)
    places = np.random.default_rng(7).uniform((-3.0, 0.0), (3.0, 3.0), (40_000, 2))
    rays = labelling(places)[:, 1] == CAST
    points = shapely.points(places)
    shapely.prepare(shadows[CAST])
    wrong = shapely.contains(shadows[CAST], points) != rays
    away = shapely.distance(shapely.boundary(shadows[CAST]), points[wrong])
    assert away.size == 0 or away.max() < 0.005


def test_corners_are_kept():
    parts = [Part(("plate",), "order", box_between((0.0, 0.0, 0.0), (1.003, 0.1, 0.507)))]
    labelling = seen_from(Caster(parts), FRONT, -2.0, [1])
    ((plate,), _) = (list(regions(labelling, (-0.1, -0.1), (1.2, 0.7), 0.02)[0].values()), None)
    corner = shapely.Point(1.003, 0.507)
    assert plate.distance(corner) < 5e-3  # the grid alone would miss 14 mm
    assert plate.area == pytest.approx(1.003 * 0.507, abs=1e-3)


def test_what_is_met_at_all_is_the_outline_of_everything():
    _, (materials, _, met) = drawn(porch())
    assert list(met) == [1]
    assert met[1].area == pytest.approx(sum(m.area for m in materials.values()), abs=1e-2)
    assert met[1].bounds == pytest.approx((-3.0, 0.0, 3.0, 3.0), abs=1e-3)
