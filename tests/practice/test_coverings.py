import numpy as np
import pytest

from massing.parts.part import Part
from massing.parts.roofs.deck import deck
from massing.parts.roofs.seam import lay_seams
from massing.parts.roofs.slates import lay_plates
from massing.parts.roofs.tiles import lay_tiles
from massing.practice.coverings import covering, coverings
from massing.practice.rules import codes
from massing.settingout.roof_planes import gable_planes, hip_planes, lean_to_planes
from massing.units import INCH_M
from tests.helpers.shapes import assert_closed, body_overlaps

ROOFS = {
    "hip": hip_planes((-1.2, -0.9), (1.2, 0.9), 3.0, 0.7),
    "gable": gable_planes((-0.9, -0.9), (0.9, 0.9), 3.0, 0.7),
    "lean-to": lean_to_planes((-1.2, -0.9), (1.2, 0.0), 3.0, 0.7),
}


def laid(planes, name):
    c = covering(name)
    match c.kind:
        case "barrel":
            return lay_tiles(planes, c, seed=4)
        case "plate":
            return lay_plates(planes, c, seed=4)
    return lay_seams(planes, c)


@pytest.mark.parametrize("roof", ROOFS)
@pytest.mark.parametrize("name", coverings())
def test_every_covering_is_closed_and_nothing_passes_through(name, roof):
    parts = laid(ROOFS[roof], name)
    assert_closed(parts)
    assert body_overlaps([*parts, Part(("deck",), "trim", deck(ROOFS[roof]))]) == []


@pytest.mark.parametrize("roof", ROOFS)
@pytest.mark.parametrize("name", coverings())
def test_rain_straight_down_meets_the_covering_everywhere(name, roof):
    """A grid of plumb lines over the roof: each meets what is laid before the deck."""
    import trimesh

    planes = ROOFS[roof]
    parts = laid(planes, name)
    shell = trimesh.util.concatenate([p.world_mesh().to_trimesh() for p in parts])
    low, high = deck(planes).bounds[:, :2] + [[0.03, 0.03], [-0.03, -0.03]]
    if roof == "lean-to":
        high[1] -= 0.02  # the apron's foot covers the joint at the wall; the wall is not here
    x, y = np.meshgrid(np.linspace(low[0], high[0], 83), np.linspace(low[1], high[1], 61))
    origins = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, 9.0)])
    wet = shell.ray.intersects_any(origins, np.tile([0.0, 0.0, -1.0], (len(origins), 1)))
    # Joints between pieces let a plumb line through to the course below, never to the deck;
    # beside a mitre there may be a scrap's width.
    assert wet.mean() > 0.998


def test_slate_is_laid_by_the_published_rule():
    # Cyclopedia of Architecture, Carpentry and Building (read): 8 x 16 and 10 x 20 in, 3/16 to
    # 1/4 in thick, 3 in of lap at least; Griffith, Carpentry (read): exposure half
    # of length less lap.
    slate = covering("slate")
    assert (slate.width_m, slate.length_m) == pytest.approx((10 * INCH_M, 20 * INCH_M))
    assert slate.exposure_m == pytest.approx((slate.length_m - 3 * INCH_M) / 2)
    assert 3 / 16 * INCH_M <= slate.thickness_m <= INCH_M / 4 + 1e-9


def test_shingles_keep_three_layers():
    # IRC R905.7.5 (from memory): 18 in shingles show 5 1/2 in on 4:12 and steeper.
    shingle = covering("wood shingle")
    assert shingle.exposure_m == pytest.approx(5.5 * INCH_M)
    assert shingle.length_m >= 3 * shingle.exposure_m
    # Common practice, no source: five butts make 2 1/4 in.
    assert 5 * shingle.thickness_m == pytest.approx(2.25 * INCH_M)


def test_every_covering_has_its_least_slope():
    # IRC R905.3.2 (read): clay tile 2 1/2 in 12; R905.6.2 and R905.7.2 (from memory): slate 4 in
    # 12, shingles 3 in 12.
    limits = codes()["US"].limits
    assert limits["tile_slope"].value == pytest.approx(2.5 / 12)
    assert limits["slate_slope"].value == pytest.approx(4 / 12)
    assert limits["wood_shingle_slope"].value == pytest.approx(3 / 12)


def test_slates_break_joint():
    parts = {p.name: p for p in laid(ROOFS["gable"], "slate")}
    places = parts["tiles/pieces"].placements
    front = places[places[:, 1, 1] > 0]
    course = np.round((front[:, 1, 3] - front[:, 1, 3].min()) / 0.176).astype(int)
    one = front[course == course.min(), 0, 3]
    spacing = covering("slate").spacing_m
    for k in range(course.min(), course.max()):
        a, b = front[course == k, 0, 3], front[course == k + 1, 0, 3]
        if len(a) and len(b):
            shift = (b[0] - a[0]) / spacing % 1.0
            assert shift == pytest.approx(0.5, abs=0.05)
    assert len(one) > 3


@pytest.mark.parametrize(
    ("lay", "wrong"), [(lay_plates, "barrel tile"), (lay_seams, "slate"), (lay_tiles, "slate")]
)
def test_a_covering_is_laid_its_own_way(lay, wrong):
    with pytest.raises(ValueError, match=wrong):
        lay(ROOFS["hip"], covering(wrong))
