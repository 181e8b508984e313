"""Figures measured on a built porch, against the section's geometry."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from massing.build.house import build
from massing.canon.mouldings import stack
from massing.findings.shadow import (
    cornice_shadow_m,
    cornice_shadow_most_m,
    shadow_under_corona,
)
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from massing.shadow.elevation import facade_only, see_elevation
from massing.shadow.front import Front, ready_front
from massing.shadow.lines import SHAFTS, UNDER_CORONA, WALL_IN_PORCH, WALL_UNDER_EAVES
from massing.shadow.measure import (
    SHARE_WITHIN,
    Depth,
    in_sun,
    shade_depths,
    shade_from_start,
    shares_in_sun,
    sun_hours,
    sun_reaches,
    surface_hours,
)
from massing.shadow.surfaces import ARCHITRAVE, FRIEZE, RAYS, opening_label, spaced
from massing.sun.angles import CONVENTIONAL_LIGHT, shadow_depth, stepped_depth
from massing.sun.position import sun_time, to_house_frame

SCENE = """\
title: Measured porch
site: {place: Nowhere, latitude: 41, longitude: -74, front_faces: S}
times: [equinox 12:00]
house:
  width: 50 ft
  depth: 30 ft
  floor: 2 ft
  storeys: [11 ft, 10 ft]
  bays: 5
porch: {order: tuscan, columns: 4, height: 11.75 ft, depth: 8 ft}
roof: {covering: plain}
"""


def front_of(text: str) -> Front:
    loaded = load_scene("porch.yaml", text)
    (name, spec), *_ = loaded.designs.items()
    found = resolve(spec, name, loaded.lines[name])
    return ready_front(found, build(found))


@pytest.fixture(scope="module")
def front() -> Front:
    return front_of(SCENE)


def depth_of(front: Front, name: str, sun: np.ndarray) -> Depth:
    return next(d for d in shade_depths(front, sun) if d.name == name)


def section_depth(front: Front, sun: np.ndarray) -> float:
    """Shade below the cornice on the frieze by its section, every arris and curve tried."""
    out, up = stack(front.design.porch.order.cornice).T
    return float(stepped_depth(-out, up, [0.0], [0.0], sun)[0])


def test_cornice_shadow_on_the_frieze_is_the_sections_to_a_millimetre(front: Front) -> None:
    rng = np.random.default_rng(11)
    height = front.design.porch.order.frieze_height_m
    found = 0
    for _ in range(40):
        sun = to_house_frame(rng.uniform(5, 60), 180 + rng.uniform(-60, 60), 180.0)
        expected = section_depth(front, sun)
        measured = depth_of(front, FRIEZE, sun)
        assert measured.length_m == pytest.approx(height)
        if expected < height - 0.002:
            found += 1
            assert measured.most_m == pytest.approx(expected, abs=1e-3)
            assert measured.whole == 0
        else:
            assert measured.whole > 0.5
    assert found > 10


def test_depths_are_in_order(front: Front) -> None:
    for altitude in (15.0, 35.0, 55.0, 75.0):
        for depth in shade_depths(front, to_house_frame(altitude, 215.0, 180.0)):
            assert 0 <= depth.least_m <= depth.mean_m <= depth.most_m <= depth.length_m + 1e-9
            assert 0 <= depth.whole <= 1


def test_a_higher_sun_shades_deeper(front: Front) -> None:
    names = (FRIEZE, ARCHITRAVE, SHAFTS, UNDER_CORONA, WALL_IN_PORCH, WALL_UNDER_EAVES)
    for name in names:
        depths = [depth_of(front, name, to_house_frame(a, 180.0, 180.0)) for a in (10, 40, 60, 78)]
        assert (np.diff([d.mean_m for d in depths]) >= -1e-6).all()
        assert depths[-1].mean_m > depths[0].mean_m


def test_eaves_cornice_on_the_wall(front: Front) -> None:
    house = front.design.house
    out, up = stack(house.cornice.members).T
    # the cornice stands on a frieze board, whose own foot is its lowest arris
    sun = to_house_frame(40.0, 180.0, 180.0)
    board = max(0.0, float(stepped_depth([-0.03], [0.0], [0.0], [0.0], sun)[0]))
    expected = max(board, float(stepped_depth(-out - 0.03, up, [0.0], [0.0], sun)[0]))
    assert depth_of(front, WALL_UNDER_EAVES, sun).mean_m == pytest.approx(expected, abs=1e-3)


def test_sun_under_the_architrave_on_the_wall_in_the_porch(front: Front) -> None:
    # square on, the architrave's outer foot throws its shadow its distance from the wall times
    # the tangent of the altitude below itself; the light above it comes over no other edge
    porch = front.design.porch
    sun = to_house_frame(30.0, 180.0, 180.0)
    depth = depth_of(front, WALL_IN_PORCH, sun)
    out = porch.depth_m + porch.frieze_half_depth_m
    soffit = porch.ceiling_z_m - porch.column_top_z_m
    assert depth.least_m == pytest.approx(soffit + shadow_depth(out, sun), abs=2e-3)


def test_sun_reaches_over_the_floor_by_the_same_angle(front: Front) -> None:
    # square on at 60 degrees, in the middle bay, the lowest and the outermost arris of the
    # entablature vie for the edge of the sun on the floor
    porch = front.design.porch
    sun = to_house_frame(60.0, 180.0, 180.0)
    order = porch.order
    out, up = stack([*order.architrave, *order.frieze, *order.cornice]).T
    out = np.append(out, -order.upper_diameter_m) + porch.depth_m + porch.frieze_half_depth_m
    up = np.append(up, 0.0) + porch.column_top_z_m - porch.floor_z_m
    edge = (out - up / np.tan(np.radians(60.0))).max()
    assert edge > 0.3
    (lines,) = front.reach
    shade = shade_from_start(front.caster, lines, sun)
    middle = np.abs(lines.points[:, 0, 0]) < 0.5
    assert middle.any()
    assert shade[middle] == pytest.approx(edge, abs=2e-3)
    (reach,) = sun_reaches(front, sun)
    assert reach.most_m >= lines.length_m - edge - 2e-3


def test_shares_in_sun(front: Front) -> None:
    low, behind = to_house_frame(8.0, 180.0, 180.0), to_house_frame(40.0, 0.0, 180.0)
    shares = in_sun(front, [low, behind])
    assert {"frieze", "architrave", "columns", "porch floor", "door, first floor"} <= set(shares)
    assert {"wall, first floor", "wall, second floor"} <= set(shares)
    windows = [name for name in shares if name.startswith("window")]
    assert len(windows) == 9
    for share in shares.values():
        assert ((share >= 0) & (share <= 1)).all()
        assert share[1] == 0 or share is shares["porch floor"]
    assert shares["frieze"][0] > 0.8
    assert shares["window 1, second floor"][0] > 0.5
    assert shares["wall, second floor"][0] > 0.7


@pytest.mark.parametrize("altitude", [5.0, 12.0, 20.0, 26.0])
def test_the_share_of_the_frieze_in_sun_is_its_sections(front: Front, altitude: float) -> None:
    # square on, where no end of the cornice matters, what the section leaves of its height
    sun = to_house_frame(altitude, 180.0, 180.0)
    height = front.design.porch.order.frieze_height_m
    expected = 1.0 - min(section_depth(front, sun) / height, 1.0)
    measured = shares_in_sun(front, [sun])["frieze"]
    assert measured.within[0] <= SHARE_WITHIN
    assert measured.mean[0] == pytest.approx(expected, abs=max(measured.within[0], 2e-3))


def test_more_points_are_asked_until_a_share_is_as_close_as_is_said(front: Front) -> None:
    suns = [to_house_frame(a, d, 180.0) for a, d in ((20, 150), (35, 200), (50, 230))]
    fine, coarse = (shares_in_sun(front, suns, wanted) for wanted in (0.0, 0.05))
    for name, whole in fine.items():
        close = coarse[name]
        assert (np.abs(close.mean - whole.mean) <= close.within + whole.within + 1e-9).all()
        assert (close.within <= 0.05).all()
    assert any((coarse[n].within > 2 * fine[n].within).any() for n in fine)  # fewer were asked


def test_hours_on_a_window_are_those_of_a_fine_grid(front: Front) -> None:
    opening = next(o for o in front.design.house.openings if o.wall == "front" and o.storey == 0)
    suns = np.array([to_house_frame(a, 180 + d, 180.0) for a, d in ((15, -50), (25, -30), (35, 0))])
    half = opening.width_m / 2.0
    xs = spaced(opening.along_m - half, opening.along_m + half, 0.004)
    zs = spaced(opening.sill_z_m, opening.head_z_m, 0.004)
    x, z = (a.ravel() for a in np.meshgrid(xs, zs))
    origins = np.column_stack([x, np.full(x.size, opening.back_m - 1e-3), z])
    hits = front.caster.first_hit(origins, np.array([0.0, 1.0, 0.0]))
    lit = front.caster.lit_by_each(hits.points[hits.outside], hits.normals[hits.outside], suns)
    found = surface_hours(front, suns, np.ones((3, 1)))[opening_label(opening, "feet")]
    assert found.mean[0] == pytest.approx(lit.mean(axis=1).sum(), abs=found.within[0] + 0.005)
    assert 0.3 < found.mean[0] < 2.9


def test_the_shadow_under_the_corona_is_the_sections(front: Front) -> None:
    """By rays on the built model, and in closed form, also over dentils."""
    met = set()
    for made in (front, front_of(SCENE.replace("order: tuscan", "order: ionic"))):
        for altitude in (3.0, 8.0, 14.0, 22.0, 30.0, 40.0):
            sun = replace(
                sun_time("conventional light", made.design.site),
                direction=tuple(to_house_frame(altitude, 180.0, 180.0)),
            )
            said = shadow_under_corona(made.design, sun)
            assert said is not None
            met.add(said.on)
            measured = depth_of(made, UNDER_CORONA, np.array(sun.direction))
            if said.on != "shaft":
                assert measured.middle_m == pytest.approx(said.depth_m, abs=2e-3), said
    assert met >= {"bed mould", "dentil band", "frieze"}


def test_the_shade_of_shafts_is_measured_on_the_shaft(front: Front) -> None:
    order, porch = front.design.porch.order, front.design.porch
    lines = next(line for line in front.shade if line.name == SHAFTS)
    head = porch.column_top_z_m - order.capital_height_m
    z = lines.points[..., 2][lines.valid]
    assert z.max() == pytest.approx(head, abs=2e-3)
    assert z.min() == pytest.approx(head - order.shaft_height_m, abs=2e-3)
    assert lines.length_m == pytest.approx(order.shaft_height_m)


def test_the_closed_form_takes_mutules_into_account() -> None:
    """Between mutules the shadow is the straight mouldings', under them that of their edges."""
    made = front_of(SCENE.replace("order: tuscan", "order: mutular doric"))
    sun = replace(
        sun_time("conventional light", made.design.site),
        direction=tuple(to_house_frame(22.0, 180.0, 180.0)),
    )
    least, most = cornice_shadow_m(made.design, sun), cornice_shadow_most_m(made.design, sun)
    assert least is not None
    assert most is not None
    assert most > least + 0.02
    measured = depth_of(made, FRIEZE, np.array(sun.direction))
    triglyph = next(m.row for m in made.design.porch.order.frieze if m.row).reach
    slack = triglyph * np.tan(np.radians(22.0)) + 2e-3  # its face stands before the frieze's
    assert least - slack <= measured.least_m <= least + 2e-3
    assert most - slack <= measured.most_m <= most + 2e-3


def test_windows_are_seen_as_glass_and_sash_and_walls_without_them(front: Front) -> None:
    surfaces = {s.name: s for s in front.surfaces}
    reveal = front.design.house.reveal_m
    for opening in front.design.house.openings:
        if opening.wall == "front":
            seen = surfaces[opening_label(opening, "feet")]
            over_the_sill = seen.points[:, 2] > opening.sill_z_m + 0.02
            assert (seen.points[over_the_sill, 1] > 0.2 * reveal).all()
            assert len(seen.points) > 0.6 * RAYS
    for name in ("wall, first floor", "wall, second floor"):
        wall = surfaces[name]
        assert (np.abs(wall.points[:, 1]) < 1e-3).all()
        for opening in front.design.house.openings:
            if opening.wall == "front":
                inside = (np.abs(wall.points[:, 0] - opening.along_m) < opening.width_m / 2) & (
                    (wall.points[:, 2] > opening.sill_z_m) & (wall.points[:, 2] < opening.head_z_m)
                )
                assert not inside.any()


def test_hours_add_up_over_the_elevation(front: Front) -> None:
    suns = to_house_frame([20.0, 40.0, 60.0, 30.0], [150.0, 180.0, 210.0, 20.0], 180.0)
    hours = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 2.0], [1.0, 0.0]])
    seen = see_elevation(front.caster, np.arange(-8, 8, 0.25), np.arange(8, 0.5, -0.25))
    maps = sun_hours(front.caster, seen, suns, hours)
    on_facade = seen.of(facade_only)
    assert maps.shape == (2, *seen.owner.shape)
    assert (np.isfinite(maps[0]) == on_facade).all()
    assert np.nanmax(maps[0]) == pytest.approx(2.0)
    assert set(np.unique(maps[1][on_facade])) <= {0.0, 2.0}
    means = surface_hours(front, suns, hours)
    shares = in_sun(front, suns)
    for name, mean in means.items():
        assert mean.mean == pytest.approx(hours.T @ shares[name])


def test_conventional_light_is_the_drawn_one(front: Front) -> None:
    # the cornice's shadow is as deep as the arris that casts it stands out: Gwilt, art. 2460
    out, up = stack(front.design.porch.order.cornice).T
    expected = (out - up).max()
    measured = depth_of(front, FRIEZE, CONVENTIONAL_LIGHT)
    assert measured.most_m == pytest.approx(expected, abs=1e-3)


def test_spaced_never_exceeds_its_step() -> None:
    for high in (0.01, 0.3, 1.0, 7.77):
        points = spaced(0.0, high, 0.1)
        assert (np.diff(points) <= 0.1 + 1e-9).all()
        assert points.mean() == pytest.approx(high / 2)


def test_under_a_corinthian_corona_the_moulding_over_its_modillions_casts_as_well() -> None:
    """The shadow lies on what stands well below the corona, and not on the moulding close under
    its edge; at 45 degrees as far down as the moulding's edge stands out before it (derived)."""
    made = front_of(SCENE.replace("order: tuscan", "order: corinthian"))
    order = made.design.porch.order
    sun = replace(
        sun_time("conventional light", made.design.site),
        direction=tuple(to_house_frame(45.0, 180.0, 180.0)),
    )
    said = shadow_under_corona(made.design, sun)
    assert said is not None
    index = next(i for i, m in enumerate(order.cornice) if m.name == "corona")
    over, corona = order.cornice[index - 1], order.cornice[index]
    assert said.on not in {over.name, "modillion band"}
    least = max(corona.foot, over.foot + over.height) - max(
        m.row.reach if m.row and m.row.kind == "dentil" else m.reach
        for m in order.cornice[: index - 2]
    )
    assert said.depth_m > least
