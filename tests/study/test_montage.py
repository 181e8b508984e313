"""A photograph that a scene names: read, its camera and sun found, or refused in a line."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from massing import cli
from massing.design.site import GroundDesign
from massing.study.montage import _on_ground, lines_said, read_photograph
from massing.study.study import read_study
from massing.view.camera import Camera
from massing.view.photograph import bent

SIZE = (600, 400)
FRONT = [  # right of the middle, before the face, above the ground; metres
    (-6.0, 0.0, 0.6),
    (6.0, 0.0, 0.6),
    (-6.0, 0.0, 6.4),
    (6.0, 0.0, 6.4),
    (-3.0, 2.4, 0.6),
    (3.0, 2.4, 0.6),
    (-3.0, 2.4, 3.4),
    (3.0, 2.4, 3.4),
]
SCENE = """\
title: House by the ford
units: metric
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
house: {width: 12 m, depth: 9 m, floor: 0.6 m, storeys: [3.2 m, 3 m]}
porch: {order: pier, columns: 2, spacing: 2.6 m, depth: 2.4 m, height: storey}
"""


def camera(turn_deg: float = 28.0, up_m: float = 1.6, pitch_rad: float = 0.06) -> Camera:
    turn = np.radians(turn_deg)
    return Camera(
        "photograph",
        "perspective",
        (19.0 * float(np.sin(turn)), -19.0 * float(np.cos(turn)), up_m),
        yaw_rad=float(turn),
        pitch_rad=pitch_rad,
        focal_mm=28.0,
        width_px=SIZE[0],
        height_px=SIZE[1],
    )


def seen(points, bend=0.0, by=None):
    by, house = by or camera(), np.array(points) * [1.0, -1.0, 1.0]
    return bent(by.project(house), by, bend) - 0.5


def photograph(bend=0.0, more="", points=FRONT, image="site.png", wrong=None, by=None):
    lines = [f"photograph:\n  image: {image}\n  points:"]
    for i, ((x, b, z), (u, v)) in enumerate(zip(points, seen(points, bend, by), strict=True)):
        off = 30.0 if i == wrong else 0.0
        pixel = f"[{u + off:.3f}, {v:.3f}]"
        lines.append(f"    - {{pixel: {pixel}, along: {x} m, before: {b} m, height: {z} m}}")
    return "\n".join([SCENE.rstrip(), *lines, more, ""])


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Image.new("RGB", SIZE, (150, 150, 150)).save(tmp_path / "site.png")
    Image.new("L", SIZE, 0).save(tmp_path / "trees.png")
    Image.new("L", (300, 300), 0).save(tmp_path / "square.png")
    return tmp_path


def read(folder, text, longest_px=1200):
    (folder / "scene.yaml").write_text(text)
    study = read_study(folder / "scene.yaml")
    return read_photograph(study.loaded, study.designs[0], longest_px)


@pytest.mark.parametrize("bend", [0.0, -0.1])
def test_the_camera_is_found_by_the_scene_s_points(here, bend) -> None:
    site = read(here, photograph(bend))
    assert site.found.camera.focal_mm == pytest.approx(28.0, rel=0.005)
    assert np.linalg.norm(np.subtract(site.found.camera.position_m, camera().position_m)) < 0.02
    assert site.found.miss_px < 0.1
    assert "lens of 28.0 mm" in lines_said(site, "metric")[0]
    bends = [line for line in lines_said(site, "metric") if "inward in the corners" in line]
    assert len(bends) == (1 if bend else 0)


def test_a_smaller_montage_has_the_same_camera(here) -> None:
    site = read(here, photograph(), longest_px=300)
    assert site.image.size == (300, 200)
    assert site.found.camera.focal_mm == pytest.approx(28.0, rel=0.005)
    assert site.given_px[0] == pytest.approx((seen(FRONT)[0] + 0.5) / 2.0, abs=1e-2)


def test_a_bad_point_is_named(here) -> None:
    site = read(here, photograph(wrong=2))
    said = " ".join(lines_said(site, "metric"))
    assert "point 3 lies 30 px off and agrees with no others: left out" in said
    assert site.found.miss_px < 0.1


def test_a_vertical_a_width_and_the_horizon_are_enough(here) -> None:
    level = SIZE[1] / 2 + 28 / 36 * SIZE[0] * np.tan(0.06) - 0.5
    text = photograph(points=[FRONT[i] for i in (0, 2, 1, 3)], more=f"  horizon: {level:.3f}")
    assert read(here, text).found.camera.focal_mm == pytest.approx(28.0, rel=0.005)


@pytest.mark.parametrize("surface", ["wall", "ground"])
def test_one_shadow_gives_the_sun(here, surface) -> None:
    to_sun = np.array([-0.4, -0.6, 0.7]) / np.linalg.norm([0.4, 0.6, 0.7])
    thrower = np.array([-1.0, -2.4, 3.4])
    far = 2.4 / -to_sun[1] if surface == "wall" else 3.4 / to_sun[2]
    falls = thrower - far * to_sun
    (pixel,) = seen([falls * [1, -1, 1]])
    more = (
        f"  shadow: {{along: -1 m, before: 2.4 m, height: 3.4 m, falls_on: {surface}, "
        f"pixel: [{pixel[0]:.3f}, {pixel[1]:.3f}]}}"
    )
    light = read(here, photograph(more=more)).light
    assert np.degrees(np.arccos(np.dot(light.direction, to_sun))) < 0.1
    assert light.altitude_deg == pytest.approx(np.degrees(np.arcsin(to_sun[2])), abs=0.1)


def test_a_shadow_on_a_slope_is_met_on_the_slope(here) -> None:
    found = read(here, photograph()).found
    lie = GroundDesign(0.03, -0.05)
    at = np.array([[-2.0, -8.0, float(lie.z_m(-2.0, -8.0))]])
    assert _on_ground(found, found.project(at)[0], lie) == pytest.approx(at[0], abs=0.01)


def test_the_sun_is_that_of_its_own_time_or_the_scene_s_first(here) -> None:
    first = read(here, photograph()).light
    own = read(here, photograph(more="  time: winter solstice 12:00")).light
    assert first.altitude_deg > 45.0 > 25.0 > own.altitude_deg
    assert "winter solstice" in own.said


def test_what_a_montage_is_known_by_is_another_with_photograph_mask_or_points(here) -> None:
    def known():
        site = read(here, photograph(more="  mask: trees.png"))
        return site.sha256, site.found.camera

    first = known()
    assert known() == first
    Image.new("L", SIZE, 9).save(here / "trees.png")
    second = known()
    Image.new("RGB", SIZE, (150, 150, 151)).save(here / "site.png")
    third = known()
    assert len({first[0], second[0], third[0]}) == 3
    lines = photograph(more="  mask: trees.png").replace("height: 3.4 m", "height: 3.45 m", 1)
    assert read(here, lines).found.camera != third[1]


FAULTS = {
    "no photograph": (SCENE, "photograph: given nothing, allowed: an image and six known"),
    "no such file": (photograph(image="gone.jpg"), "photograph.image: given gone.jpg, no such"),
    "no image": (photograph(image="scene.yaml"), "given scene.yaml, which cannot"),
    "elsewhere": (photograph(image="../site.png"), "a path within the scene file's folder"),
    "a mask of another shape": (
        photograph(more="  mask: square.png"),
        "photograph.mask: given square.png, 300 by 300 pixels, allowed: of the photograph's shape",
    ),
    "five points": (
        photograph(points=FRONT[:5]),
        "allowed: 6 points or more, or 4 with the horizon, not 5 without it",
    ),
    "at night": (
        photograph(more="  time: winter solstice 22:00"),
        "photograph.time: given winter solstice 22:00, allowed: a time with the sun up",
    ),
    "no time": (photograph(more="  time: teatime"), "photograph.time: given teatime, allowed: "),
    "time and shadow": (
        photograph(
            more="  time: equinox 10:00\n  shadow: {along: 0 m, before: 1 m, height: 3 m, "
            "pixel: [1, 1]}"
        ),
        "allowed: one of them, and not both",
    ),
    "a shadow over what throws it": (
        photograph(more="  shadow: {along: 0 m, before: 0 m, height: 1 m, pixel: [300, 120]}"),
        "photograph.shadow.pixel: given [300, 120], allowed: a shadow that falls lower",
    ),
    "a shadow on the ground in the sky": (
        photograph(
            more="  shadow: {along: 0 m, before: 0 m, height: 1 m, pixel: [300, 20], "
            "falls_on: ground}"
        ),
        "allowed: a place below the horizon",
    ),
    "one wall": (
        photograph(points=[(x, 0.0, z) for x in (-6.0, 6.0) for z in (2.0, 2.001, 2.002)]),
        "photograph.points: given 6 points that do not tell the camera, allowed: points by which",
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_a_photograph_that_cannot_be_used_is_one_line_and_nothing_is_written(
    here, capsys, fault
) -> None:
    text, words = FAULTS[fault]
    (here / "scene.yaml").write_text(text)
    before = sorted(here.iterdir())
    assert cli.main(["montage", "scene.yaml"]) == 2
    said = capsys.readouterr()
    assert (said.out, said.err.count("\n")) == ("", 1)
    assert said.err.startswith("scene.yaml")
    assert words in said.err
    assert sorted(here.iterdir()) == before


def test_a_pixel_outside_the_photograph_is_named(here, capsys) -> None:
    text = photograph()
    first = text.split("pixel: ")[1].split(", along")[0]
    (here / "scene.yaml").write_text(text.replace(first, "[700, 20]"))
    assert cli.main(["montage", "scene.yaml"]) == 2
    words = "photograph.points[1].pixel: given [700, 20], allowed: within the photograph's 600 by"
    assert words in capsys.readouterr().err
