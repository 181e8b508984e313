"""Rays against solids whose shadows are known in closed form."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from massing.geometry.mesh import Mesh
from massing.geometry.rays import Caster
from massing.geometry.solids import box_between, lathe, translations
from massing.parts.part import Part
from massing.shadow.elevation import see_elevation, shadow_mask
from massing.shadow.lines import Lines
from massing.shadow.measure import shade_from_start
from massing.sun.angles import CONVENTIONAL_LIGHT, shadow_depth, shadow_shift
from massing.sun.position import to_house_frame

FACING_STREET = np.array([0.0, -1.0, 0.0])


def part(name: str, mesh: Mesh, placements: np.ndarray | None = None) -> Part:
    return Part((name,), "trim", mesh, placements)


def block(name: str, low: tuple, high: tuple) -> Part:
    return part(name, box_between(low, high))


def wall(half_m: float = 60.0, top_m: float = 60.0) -> Part:
    return block("wall", (-half_m, 0.0, 0.0), (half_m, 0.3, top_m))


def upright_lines(xs: np.ndarray, top_z: float, length: float, y: float = 0.0) -> Lines:
    """Lines on a plane facing the street, at 1 cm."""
    along = np.arange(0.001, length, 0.01)
    x, z = np.meshgrid(xs, top_z - along, indexing="ij")
    points = np.stack([x, np.full(x.shape, y), z], axis=-1)
    normals = np.broadcast_to(FACING_STREET, points.shape)

    def see(rows, down):
        at = np.column_stack([xs[rows], np.full(len(rows), y), top_z - down])
        return met(at, FACING_STREET)

    return Lines("plane", points, normals, np.ones(x.shape, bool), along, length, see)


def met(points: np.ndarray, normal: np.ndarray) -> tuple[SimpleNamespace, np.ndarray]:
    """As rays would meet a face: all of it there."""
    normals = np.broadcast_to(normal, points.shape)
    return SimpleNamespace(points=points, normals=normals), np.ones(len(points), bool)


def random_suns(count: int, seed: int, low: float = 5.0, high: float = 80.0) -> np.ndarray:
    rng = np.random.default_rng(seed)
    return to_house_frame(rng.uniform(low, high, count), rng.uniform(100, 260, count), 180.0)


def test_slab_over_wall_at_200_random_suns_to_a_millimetre() -> None:
    p, edge = 0.62, 50.0
    caster = Caster([wall(), block("slab", (-60.0, -p, edge), (60.0, 0.0, edge + 0.2))])
    lines = upright_lines(np.array([-0.7, 0.0, 0.4]), edge, 25.0)
    for sun in random_suns(200, seed=5):
        expected = shadow_depth(p, sun)
        assert expected < 25.0
        assert abs(shadow_shift(p, sun)) < 59.0
        assert shade_from_start(caster, lines, sun) == pytest.approx(expected, abs=1e-3)


def test_shadow_starts_its_projection_in_from_the_sunward_end() -> None:
    p = 0.5
    caster = Caster([wall(), block("slab", (-2.0, -p, 5.0), (2.0, 0.0, 5.1))])
    xs = np.array([-2 + 0.1, -2 + 0.3, -2 + 0.49, -2 + 0.51, 0.0, 1.9])
    depth = shade_from_start(caster, upright_lines(xs, 5.0, 2.0), CONVENTIONAL_LIGHT)
    # the end's own shadow slants down at 45 degrees to the full depth
    assert depth == pytest.approx([0.1, 0.3, 0.49, 0.5, 0.5, 0.5], abs=1e-3)


@pytest.mark.parametrize(
    ("sun", "area"),
    [
        # a cap w x h x p on a wall shades p(w + h) of it beyond itself in the conventional
        # light, p(w tan W + h tan d) in general: classical shades and shadows, computed
        (CONVENTIONAL_LIGHT, 0.5 * (1.0 + 0.4)),
        (to_house_frame(45.0, 210.0, 180.0), 0.6928),
    ],
)
def test_cap_on_a_wall(sun: np.ndarray, area: float) -> None:
    cap = block("cap", (-0.5, -0.5, 3.0), (0.5, 0.0, 3.4))
    caster = Caster([wall(), cap])
    step = 0.005
    xs, zs = np.arange(-1.5, 2.0, step) + step / 2, np.arange(4.0, 1.0, -step) - step / 2
    seen = see_elevation(caster, xs, zs)
    assert set(np.unique(seen.owner)) == {0, 1}
    lit = shadow_mask(caster, seen, sun)
    dark = ~lit & (seen.owner == 0)
    assert dark.sum() * step**2 == pytest.approx(area, abs=0.006)
    assert lit[seen.owner == 1].all()  # the cap's own face is in the sun


@pytest.mark.parametrize(
    ("turn_deg", "depth"),
    [
        (-80, None),
        (-60, 0.3938),
        (-45, 0.5050),
        (-20, 0.3422),
        (0, 0.3000),
        (20, 0.3422),
        (44, 0.4965),
    ],
)
def test_square_abacus_on_a_round_shaft_in_conventional_light(
    turn_deg: float, depth: float | None
) -> None:
    # depth is the lesser of a - r cos t and a + r sin t, deepest at -45 degrees: the classical
    # case of shades and shadows; values computed for a = 1, r = 0.7
    a, r, t = 1.0, 0.7, np.radians(turn_deg)
    if depth is None:
        depth = min(a - r * np.cos(t), a + r * np.sin(t))
    shaft = lathe([[r, 0.0], [r, 3.0]], segments=1440)
    caster = Caster([part("shaft", shaft), block("abacus", (-a, -a, 3.0), (a, a, 3.2))])
    along = np.arange(0.001, 1.0, 0.01)
    normal = np.array([np.sin(t), -np.cos(t), 0.0])
    # just clear of the facets' flats, which lie within their circle
    points = np.column_stack([np.tile(1.00001 * r * normal[:2], (len(along), 1)), 3.0 - along])

    def see(rows, down):
        at = np.tile(1.00001 * r * normal[:2], (len(down), 1))
        return met(np.column_stack([at, 3.0 - down]), normal)

    lines = Lines(
        "generator",
        points[None],
        np.broadcast_to(normal, (1, len(along), 3)),
        np.ones((1, len(along)), bool),
        along,
        1.0,
        see,
    )
    found = shade_from_start(caster, lines, CONVENTIONAL_LIGHT)
    assert found == pytest.approx([depth], abs=2e-3)


def test_cylinder_before_a_wall() -> None:
    # a cylinder of radius r, axis c before the wall: shadow 2 sqrt 2 r wide, shifted by c
    r, c = 0.3, 1.0
    pole = part("pole", lathe([[r, 0.0], [r, 8.0]], segments=720).shifted(y_m=-c))
    caster = Caster([wall(), pole])
    xs = np.arange(-1.0, 3.0, 0.002)
    points = np.column_stack([xs, np.zeros_like(xs), np.full_like(xs, 2.0)])
    dark = xs[~caster.lit(points, FACING_STREET, CONVENTIONAL_LIGHT)]
    assert np.ptp(dark) == pytest.approx(2 * np.sqrt(2) * r, abs=0.005)
    assert dark.mean() == pytest.approx(c, abs=0.003)


def test_sphere_is_lit_where_it_faces_the_sun_without_speckle() -> None:
    angle = np.linspace(-np.pi / 2, np.pi / 2, 181)
    ball = lathe(np.column_stack([np.cos(angle).clip(0), np.sin(angle)]), segments=360)
    ball = ball.shifted(x_m=7.0, y_m=-3.0, z_m=11.0)
    caster = Caster([part("ball", ball)])
    a, b, c = np.moveaxis(ball.triangles, 1, 0)
    across = np.cross(b - a, c - a)
    size = np.linalg.norm(across, axis=1)
    good = size > 1e-8
    normals = across[good] / size[good, None]
    centres = ((a + b + c) / 3)[good]
    for sun in random_suns(20, seed=2):
        facing = normals @ sun
        sure = np.abs(facing) > 1e-3
        lit = caster.lit(centres, normals, sun)
        assert (lit == (facing > 0))[sure].all()


def test_a_sun_that_is_down_lights_nothing() -> None:
    caster = Caster([wall()])
    points = np.array([[0.0, 0.0, 2.0]])
    assert not caster.lit(points, FACING_STREET, to_house_frame(-0.1, 180.0, 180.0)).any()
    assert caster.lit(points, FACING_STREET, to_house_frame(0.1, 180.0, 180.0)).all()
    assert not caster.lit(points, -FACING_STREET, to_house_frame(30.0, 180.0, 180.0)).any()


def test_copies_cast_as_the_shape_itself() -> None:
    post = box_between((-0.05, -0.05, 0.0), (0.05, 0.05, 3.0))
    places = translations([(x, -1.0, 0.0) for x in np.arange(-3, 3, 0.5)])
    copies = Caster([wall(), part("posts", post, places)])
    each = Caster([wall(), *(part(f"post {i}", post.moved(m)) for i, m in enumerate(places))])
    assert copies.triangle_count == each.triangle_count
    xs, zs = np.arange(-3.5, 3.5, 0.03), np.arange(3.5, 0.1, -0.03)
    for sun in random_suns(5, seed=9, low=10, high=35):
        masks = [shadow_mask(c, see_elevation(c, xs, zs), sun) for c in (copies, each)]
        assert (masks[0] == masks[1]).all()
        assert 0.2 < masks[0].mean() < 0.99


def test_many_suns_agree_with_one_at_a_time() -> None:
    caster = Caster([wall(), block("slab", (-2.0, -0.5, 5.0), (2.0, 0.0, 5.1))])
    rng = np.random.default_rng(3)
    points = np.column_stack([rng.uniform(-3, 3, 500), np.zeros(500), rng.uniform(0, 6, 500)])
    normals = np.broadcast_to(FACING_STREET, points.shape)
    suns = np.concatenate([random_suns(40, seed=1), to_house_frame([-3.0, 20.0], [180, 0], 180)])
    each = caster.lit_by_each(points, normals, suns)
    assert (each == [caster.lit(points, normals, s) for s in suns]).all()
    assert not each[-2:].any()
    weights = rng.uniform(0, 2, (len(suns), 2)) * (rng.random((len(suns), 2)) > 0.3)
    sums = caster.lit_sums(points, normals, suns, weights)
    assert sums == pytest.approx(each.T @ weights)


def test_first_hit_says_what_and_from_which_side() -> None:
    caster = Caster([wall(), block("slab", (-2.0, -0.5, 5.0), (2.0, 0.0, 5.1))])
    origins = [(0, -9, 2.0), (0, -9, 5.05), (1, -0.2, 5.05), (0, -9, -1.0)]
    hits = caster.first_hit(origins, (0.0, 1.0, 0.0))
    assert [caster.parts[i].name if i >= 0 else "" for i in hits.owner[[0, 1, 3]]] == [
        "wall",
        "slab",
        "",
    ]
    assert hits.points[0] == pytest.approx([0, 0, 2])
    assert hits.points[1] == pytest.approx([0, -0.5, 5.05])
    assert hits.normals[:2] == pytest.approx(np.array([FACING_STREET] * 2))
    assert hits.outside.tolist()[:2] == [True, True]
    assert not hits.outside[3]
    assert np.isnan(hits.points[3]).all()
    inside = caster.first_hit([(1, -0.2, 5.05)], (1.0, 0.0, 0.0))
    assert not inside.outside[0]


def test_nothing_to_cast_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing"):
        Caster([])
