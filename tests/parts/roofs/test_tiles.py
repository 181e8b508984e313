import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.geometry.booleans import cut_copies
from massing.geometry.rays import Caster
from massing.geometry.solids import box_between, translations
from massing.parts.part import Part
from massing.parts.roofs.deck import deck
from massing.parts.roofs.tiles import lay_tiles
from massing.practice.coverings import covering, coverings
from massing.settingout.roof_planes import hip_planes, lean_to_planes
from massing.units import INCH_M
from tests.helpers.shapes import assert_closed, body_overlaps, manifold

BARREL = covering("barrel tile")
TILE = lay_tiles(hip_planes((0, 0), (3, 3), 3.0, 0.5), BARREL)[0].mesh


def test_the_barrel_tile_is_of_a_published_size():
    # Common practice, no source: mission tile 8 to 12 in wide, 16 to 19 in long; US Navy,
    # NAVEDTRA 14044 (read): covers exposed 6 to 14 in.
    assert 8 * INCH_M <= BARREL.width_m <= 12 * INCH_M
    assert 16 * INCH_M <= BARREL.length_m <= 19 * INCH_M
    assert 6 * INCH_M - 1e-9 <= BARREL.exposure_m <= 14 * INCH_M + 1e-9


def test_an_unknown_covering_is_named():
    with pytest.raises(ValueError, match="thatch"):
        covering("thatch")
    assert "barrel tile" in coverings()


@pytest.mark.parametrize(
    "planes",
    [
        hip_planes((-1.4, -1.0), (1.4, 1.0), 3.0, 0.5),
        hip_planes((-1.0, -1.0), (1.0, 1.0), 3.0, 0.35),
        lean_to_planes((-1.3, -1.0), (1.3, 0.0), 3.0, 0.3),
    ],
    ids=["hip", "pyramid", "lean-to"],
)
def test_no_tile_passes_through_another_or_the_deck(planes):
    parts = lay_tiles(planes, BARREL, seed=5)
    assert_closed(parts)
    assert body_overlaps([*parts, Part(("deck",), "trim", deck(planes))]) == []


def test_courses_lap_and_reach_past_the_fascia():
    planes = hip_planes((-6.0, 0.0), (6.0, 8.0), 5.0, 0.5)
    parts = {p.name: p for p in lay_tiles(planes, BARREL)}
    pans = parts["tiles/pans"]
    assert np.ptp(pans.mesh.vertices[:, 1]) == pytest.approx(BARREL.length_m)
    front = pans.placements[pans.placements[:, 1, 1] > 0.8]  # the slope over the front
    up = np.array([0.0, np.cos(np.arctan(0.5)), np.sin(np.arctan(0.5))])
    foot = (front[:, :3, 3] - [0.0, 0.0, 5.0]) @ up
    courses = (foot + BARREL.overhang_m) / BARREL.exposure_m
    assert courses == pytest.approx(np.round(courses), abs=0.01)  # a tiler's hand: 2.5 mm
    assert (np.diff(np.unique(np.round(courses))) == 1).all()
    assert foot.min() == pytest.approx(-BARREL.overhang_m, abs=0.003)


def test_rain_straight_down_meets_a_tile_everywhere():
    """A grid of plumb lines over the roof: each meets tile or mortar before the deck."""
    planes = hip_planes((-2.0, 0.0), (2.0, 3.0), 3.0, 0.5)
    parts = lay_tiles(planes, BARREL, seed=2)
    import trimesh

    shell = trimesh.util.concatenate([p.world_mesh().to_trimesh() for p in parts])
    x, y = np.meshgrid(np.linspace(-1.97, 1.97, 120), np.linspace(0.03, 2.97, 90))
    origins = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, 9.0)])
    down = np.tile([0.0, 0.0, -1.0], (len(origins), 1))
    assert shell.ray.intersects_any(origins, down).all()


def test_the_same_seed_lays_the_same_roof():
    planes = hip_planes((-2.0, 0.0), (2.0, 3.0), 3.0, 0.5)
    one, two, other = (lay_tiles(planes, BARREL, seed=s) for s in (1, 1, 2))
    assert all(
        np.array_equal(a.mesh.vertices, b.mesh.vertices) for a, b in zip(one, two, strict=True)
    )
    assert np.array_equal(one[0].placements, two[0].placements)
    assert not np.array_equal(one[0].placements, other[0].placements)


def test_a_house_of_sixty_feet_is_tiled_with_few_meshes():
    planes = hip_planes((-9.5, 0.0), (9.5, 12.2), 7.0, 0.5)
    parts = lay_tiles(planes, BARREL)
    assert sum(p.count for p in parts) > 4000
    assert len(parts) <= 8


@settings(max_examples=15, deadline=None)
@given(width=st.floats(2.0, 12.0), depth=st.floats(2.0, 9.0), slope=st.floats(0.21, 1.2))
def test_any_hipped_roof_is_laid_closed(width, depth, slope):
    for planes in (
        hip_planes((0.0, 0.0), (width, depth), 3.0, slope),
        lean_to_planes((0.0, 0.0), (width, depth), 3.0, slope),
    ):
        assert_closed(lay_tiles(planes, BARREL))


def test_cut_copies_keep_the_volume_before_the_plane():
    cube = box_between((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))
    frames = translations([(0.0, 0.0, 0.0), (2.0, 0.0, 0.0), (9.0, 0.0, 0.0)])
    normal = np.array([-1.0, 0.0, 0.0])
    cut = cut_copies(cube, frames, [(normal, -2.25)])
    assert_closed([Part(("cut",), "tile", cut)])
    assert cut.volume_m3 == pytest.approx(1.25)
    slanted = np.array([-1.0, -1.0, 0.0]) / np.sqrt(2.0)
    both = cut_copies(cube, frames[:2], [(normal, -2.25), (slanted, -1.0 / np.sqrt(2.0))])
    assert_closed([Part(("cut",), "tile", both)])
    assert both.volume_m3 == pytest.approx(0.5)


@settings(deadline=None)
@given(turn=st.floats(0.0, 6.28), tip=st.floats(-1.5, 1.5), offset=st.floats(-0.4, 0.4))
def test_cutting_agrees_with_a_solid_modeller(turn, tip, offset):
    normal = np.array([np.cos(turn) * np.cos(tip), np.sin(turn) * np.cos(tip), np.sin(tip)])
    cut = cut_copies(TILE, np.eye(4)[None], [(normal, offset)])
    asked = manifold(TILE).trim_by_plane(tuple(normal), offset).volume()
    assert cut.volume_m3 == pytest.approx(asked, abs=1e-9)


def test_lead_covers_the_head_of_a_hip_at_a_wall():
    """Plumb lines about a hip's head, to 12 mm from the wall: none meets mortar or deck first."""
    planes = lean_to_planes((-2.0, -1.2), (2.0, 0.0), 3.0, 0.3)
    parts = [*lay_tiles(planes, BARREL, seed=2), Part(("deck",), "trim", deck(planes))]
    assert_closed(parts)
    assert any(p.name == "tiles/saddles" for p in parts)
    head = planes.hips[0, 1]
    x, y = np.meshgrid(np.linspace(-0.3, 0.3, 61), np.linspace(-0.25, -0.006, 40))
    origins = np.column_stack([x.ravel() + head[0], y.ravel(), np.full(x.size, 9.0)])
    hits = Caster(parts).first_hit(origins, [0.0, 0.0, -1.0])
    roles = np.array([p.role for p in parts])[hits.owner]
    assert np.isin(roles, ["tile", "metal"]).mean() > 0.99
