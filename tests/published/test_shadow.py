"""Closed forms of shadow against published ones. Marks: R read, M from memory, C computed."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from massing.sun.angles import (
    CONVENTIONAL_LIGHT,
    SUN_DISC_RAD,
    horizontal_shadow_angle,
    penumbra_width,
    shadow_depth,
    shadow_shift,
    stepped_depth,
    vertical_shadow_angle,
)
from massing.sun.position import front_incidence_deg, sun_positions, to_house_frame

pytestmark = pytest.mark.published


def test_conventional_light_is_the_cubes_diagonal() -> None:
    # Plan and elevation of the ray at 45 degrees: R Gwilt, Encyclopaedia of Architecture, art.
    # 2460 (title M). True altitude 35 deg 15 min
    # 52 s: M McGoodwin, Architectural Shades and Shadows, 1904; atan(1/sqrt 2) C.
    x, y, z = CONVENTIONAL_LIGHT
    assert -z / x == pytest.approx(1.0)  # in elevation, falling to the right
    assert y / x == pytest.approx(1.0)  # in plan
    altitude = np.degrees(np.arcsin(z))
    assert altitude == pytest.approx(35 + 15 / 60 + 52 / 3600, abs=0.5 / 3600)
    assert front_incidence_deg(CONVENTIONAL_LIGHT) == pytest.approx(np.degrees(np.arccos(z)))


@pytest.mark.parametrize("projection_m", [0.05, 0.4, 1.7])
def test_shadow_is_as_broad_as_what_casts_it(projection_m: float) -> None:
    # R Gwilt, art. 2460: in the conventional light the shadow's breadth is the projection
    assert shadow_depth(projection_m, CONVENTIONAL_LIGHT) == pytest.approx(projection_m)
    assert shadow_shift(projection_m, CONVENTIONAL_LIGHT) == pytest.approx(projection_m)
    # the shadow of a line square to the plane is the diagonal of the square on it: R Ware,
    # Shades and Shadows, 1912, art. 31, p. 32
    length = np.hypot(
        shadow_depth(projection_m, CONVENTIONAL_LIGHT),
        shadow_shift(projection_m, CONVENTIONAL_LIGHT),
    )
    assert length == pytest.approx(projection_m * np.sqrt(2))


def test_profile_angle_textbook_example() -> None:
    # Duffie and Beckman, Solar Engineering of Thermal Processes, ex. 1.9.1: zenith 70.3, sun
    # 66.8 west of south, surface 25 west of south: profile angle 25.7 degrees. M.
    sun = to_house_frame(90 - 70.3, 180 + 66.8, 180 + 25.0)
    assert np.degrees(vertical_shadow_angle(sun)) == pytest.approx(25.7, abs=0.06)


@pytest.mark.parametrize(
    ("altitude", "d", "profile", "depth", "shift"),
    [  # tan W = tan(alt) / cos(d), depth p tan W, shift p tan d: M ASHRAE Fundamentals,
        # Fenestration; values C by vector geometry
        (45, 0, 45.0000, 1.00000, 0.0),
        (45, 30, 49.1066, 1.15470, 0.57735),
        (45, 45, 54.7356, 1.41421, 1.00000),
        (45, 60, 63.4349, 2.00000, 1.73205),
        (30, 0, 30.0000, 0.57735, 0.0),
        (30, 45, 39.2315, 0.81650, 1.00000),
        (60, 45, 67.7923, 2.44949, 1.00000),
        (20, 75, 54.5834, 1.40627, 3.73205),
        (39.88838, 14.34024, 40.7832, 0.86266, 0.25564),
    ],
)
def test_shadow_angles(
    altitude: float, d: float, profile: float, depth: float, shift: float
) -> None:
    for side in (1, -1):
        sun = to_house_frame(altitude, 180 + side * d, 180.0)
        assert np.degrees(vertical_shadow_angle(sun)) == pytest.approx(profile, abs=5e-5)
        assert np.degrees(horizontal_shadow_angle(sun)) == pytest.approx(side * d)
        assert shadow_depth(1.0, sun) == pytest.approx(depth, abs=5e-6)
        assert shadow_shift(1.0, sun) == pytest.approx(side * shift, abs=5e-6)


def test_profile_angle_is_the_altitude_only_when_the_sun_is_square_to_the_wall() -> None:
    # The definition of the vertical shadow angle, IES RP-16-17: R
    square = to_house_frame(33.0, 200.0, 200.0)
    assert np.degrees(vertical_shadow_angle(square)) == pytest.approx(33.0)
    for d in (10, 40, 80):
        aside = to_house_frame(33.0, 200.0 + d, 200.0)
        assert np.degrees(vertical_shadow_angle(aside)) > 33.0


@pytest.mark.parametrize("latitude", [25.0, 41.0, 52.0])
def test_at_the_equinox_the_profile_angle_of_a_south_wall_stands_still(latitude: float) -> None:
    # The sun then goes round a great circle through east and west, which a south wall sees as
    # one plane: 90 less the latitude from morning to evening. From memory, and geometry.
    times = pd.date_range("2026-03-20 07:30", "2026-03-20 16:30", freq="30min", tz="UTC")
    sun = sun_positions(times, latitude, 0.0)
    to_sun = to_house_frame(sun.geometric_altitude_deg, sun.azimuth_deg, 180.0)
    angles = np.degrees(vertical_shadow_angle(to_sun))
    assert angles == pytest.approx(np.full(len(times), 90.0 - latitude), abs=0.4)


def test_disc_of_the_sun() -> None:
    # Semidiameter 0.2666 degree at one astronomical unit: Astronomical Almanac, M
    assert np.degrees(SUN_DISC_RAD) == pytest.approx(2 * 0.2666)


@pytest.mark.parametrize(
    ("altitude", "d", "millimetres"),
    [(45, 0, 9.3), (35.26439, 45, 11.4), (60, 0, 18.6), (20, 0, 5.3), (45, 60, 29.4)],
)
def test_soft_edge_under_half_a_metre(altitude: float, d: float, millimetres: float) -> None:
    # C: difference of the shadow depths by the upper and lower limb, checked below
    sun = to_house_frame(altitude, 180 + d, 180.0)
    assert 1000 * penumbra_width(0.5, sun) == pytest.approx(millimetres, abs=0.06)


def test_soft_edge_is_the_spread_of_the_discs_limb() -> None:
    rng = np.random.default_rng(1)
    for _ in range(50):
        sun = to_house_frame(rng.uniform(10, 70), 180 + rng.uniform(-70, 70), 180.0)
        u = np.cross(sun, [0.3, 0.2, 0.9])
        u /= np.linalg.norm(u)
        turn = np.linspace(0, 2 * np.pi, 720)[:, None]
        ring = np.cos(turn) * u + np.sin(turn) * np.cross(sun, u)
        limb = sun + np.tan(SUN_DISC_RAD / 2) * ring
        spread = np.ptp(shadow_depth(0.8, limb))
        assert penumbra_width(0.8, sun) == pytest.approx(spread, rel=2e-3)


def test_stepped_entablature_in_conventional_light() -> None:
    # Classical rule, values C: the shadow of the cornice's edge drops below it by the edge's
    # projection over each face, so it jumps by the set-back between architrave and wall.
    edge_y, edge_z = [-1.30], [6.0]
    faces_y, tops = [-0.55, -0.55, 0.0], [5.8, 5.2, 4.6]
    depth = stepped_depth(edge_y, edge_z, faces_y, tops, CONVENTIONAL_LIGHT)
    assert np.array(tops) - depth == pytest.approx([6 - 0.75, 5.2, 4.6])  # frieze only
    steep = to_house_frame(60.0, 180.0, 180.0)
    depth = stepped_depth(edge_y, edge_z, faces_y, tops, steep)
    k = np.sqrt(3)
    assert np.array(tops) - depth == pytest.approx([6 - 0.75 * k, 6 - 0.75 * k, 6 - 1.30 * k])
