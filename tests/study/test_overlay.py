"""The model laid over a drawing of known scale: it falls where the drawing says it stands."""

from __future__ import annotations

import runpy
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from massing import cli
from massing.present.ink.elevation import line_drawing
from massing.present.ink.overlay import RED_INK, mixed
from massing.study.overlay import LONGEST_PX, camera_over, fit_points, read_sheet
from massing.study.study import read_study
from massing.units import FOOT_M
from massing.view.camera import Camera

DEMO = Path(__file__).parents[2] / "scenes" / "marsh_road.yaml"
PX_FOOT = 12.0  # of the synthetic drawing
MIDDLE, GROUND = 330.5, 420.5  # pixels; the middle of pixel 330 and of pixel 420
HALF_FT, TOP_FT = 20.0, 23.0
SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
house: {width: 40 ft, depth: 30 ft, floor: 2 ft, storeys: [11 ft, 10 ft], walls: limestone}
porch: {order: pier, columns: 2, spacing: 8 ft, depth: 8 ft, height: storey}
drawing:
  image: front.png
  points:
    - {pixel: [90, 420], along: -20 ft, height: 0 ft}
    - {pixel: [570, 144], along: 20 ft, height: 23 ft}
"""


@pytest.fixture
def scene(tmp_path, monkeypatch):
    """Write a scene beside its drawing, a plain outline of the wall 12 pixels to the foot."""
    monkeypatch.chdir(tmp_path)
    image = Image.new("L", (660, 480), 250)
    pen = ImageDraw.Draw(image)
    pen.rectangle((90, 144, 570, 420), outline=0)
    image.save(tmp_path / "front.png")

    def write(text: str = SCENE, was: str = "", becomes: str = ""):
        path = tmp_path / "scene.yaml"
        assert was in text
        path.write_text(text.replace(was, becomes) if was else text, encoding="utf-8")
        return path

    return write


@given(
    scale=st.floats(0.002, 0.2),
    origin=st.tuples(st.floats(-500, 3000), st.floats(-500, 3000)),
    one=st.tuples(st.floats(-20, 20), st.floats(0, 15)),
    away=st.tuples(st.floats(3, 20), st.floats(3, 15)),
)
def test_any_scale_is_found_again(scale, origin, one, away):
    places = np.array([one, np.add(one, away)])
    pixels = np.array(origin) + places / scale * [1.0, -1.0]
    fit = fit_points(pixels, places)
    assert fit.metres_per_pixel == pytest.approx(scale, rel=1e-6)
    assert fit.origin_px == pytest.approx(origin, abs=1e-4)
    assert (fit.across, fit.up) == pytest.approx((0.0, 0.0), abs=1e-6)


def test_a_drawing_stretched_along_the_front_is_said_to_be_wider():
    places = np.array([(-10.0, 0.0), (10.0, 8.0)])
    pixels = places * [1.03, -1.0] * 40.0
    fit = fit_points(pixels, places)
    assert fit.across > 0.0 > fit.up
    assert (1.0 + fit.across) / (1.0 + fit.up) == pytest.approx(1.03)


def test_points_in_one_line_give_the_scale_alone():
    fit = fit_points([(100, 300), (500, 300)], [(-5.0, 0.0), (5.0, 0.0)])
    assert fit.metres_per_pixel == pytest.approx(0.025)
    assert fit.up is None


@pytest.mark.parametrize(
    ("pixels", "places"),
    [
        ([(100, 300), (104, 303)], [(-5.0, 0.0), (5.0, 4.0)]),
        ([(500, 300), (100, 100)], [(-5.0, 0.0), (5.0, 1.0)]),
        ([(100, 300), (500, 300)], [(-5.0, 0.0), (5.0, 9.0)]),
        ([(100, 300), (500, 100)], [(-5.0, 0.0), (5.0, 20.0)]),
    ],
)
def test_points_that_give_no_scale_are_refused(pixels, places):
    with pytest.raises(ValueError, match="points"):
        fit_points(pixels, places)


def test_the_model_s_corners_land_on_the_drawing_s(scene):
    study = read_study(scene())
    sheet = read_sheet(study.loaded)
    model = study.models["as drawn"]
    camera = camera_over(sheet, model)
    assert camera.metres_per_pixel == pytest.approx(FOOT_M / PX_FOOT)
    corner = [[-HALF_FT * FOOT_M, 0.0, 0.0], [HALF_FT * FOOT_M, 0.0, TOP_FT * FOOT_M]]
    assert camera.project(corner) == pytest.approx(np.array([[90.5, 420.5], [570.5, 144.5]]))
    # In the drawn lines, not only in the camera: the wall's upright edge, clear of the eaves
    # and of windows in the side walls.
    ink = line_drawing(model, camera)
    band = ink[round(GROUND - 13.4 * PX_FOOT), :]
    inked = np.flatnonzero(band > 0.3)
    assert abs(inked.min() - 90) <= 1
    assert abs(inked.max() - 570) <= 1
    ground = np.flatnonzero(ink[:, 20] > 0.3)
    assert abs(np.median(ground) - 420) <= 1


def test_the_model_is_laid_over_in_red_and_the_drawing_shows_through():
    image = Image.new("L", (4, 2), 0)
    ink = np.zeros((2, 4), dtype=np.float32)
    ink[0, 1] = 1.0
    picture = np.asarray(mixed(image, ink), dtype=float) / 255.0
    assert picture[0, 1] == pytest.approx(RED_INK, abs=0.12)
    assert 0.2 < picture[1, 3, 0] < 0.8
    assert np.ptp(picture[1, 3]) < 0.01


def test_a_known_height_does_as_well_as_two_points(scene):
    height = "  height: {foot: [330, 420], top: [330, 144], length: 23 ft}\n"
    path = scene(SCENE.partition("  points:")[0] + height)
    fit = read_sheet(read_study(path).loaded).fit
    assert fit.metres_per_pixel == pytest.approx(FOOT_M / PX_FOOT)
    assert fit.origin_px == pytest.approx((MIDDLE, GROUND))


def test_a_photograph_from_one_side_is_straightened_by_a_rectangle(scene, tmp_path):
    """Four corners of the wall; a mark elsewhere on it then stands where it is on the house."""
    eye = Camera(
        "photograph",
        "perspective",
        (9.0, -16.0, 1.7),
        yaw_rad=0.45,
        pitch_rad=0.05,
        focal_mm=24.0,
        width_px=900,
        height_px=600,
    )
    wall = [(-6.0, 0.6), (6.0, 0.6), (6.0, 6.6), (-6.0, 6.6)]
    mark = (-2.5, 4.0)
    v, u = np.mgrid[0:600, 0:900] + 0.5
    x, y = (u - 450.0) / 600.0, (300.0 - v) / 600.0  # 24 mm of 36 in 900 pixels
    right, up, forward = eye.axes
    ways = forward + x[..., None] * right + y[..., None] * up
    hit = np.array(eye.position_m) - eye.position_m[1] / ways[..., 1:2] * ways
    near = np.hypot(hit[..., 0] - mark[0], hit[..., 2] - mark[1]) < 0.1
    Image.fromarray(np.where(near, 0, 255).astype(np.uint8)).save(tmp_path / "side.png")
    corners = eye.project([(a, 0.0, z) for a, z in wall]) - 0.5
    written = ", ".join(f"[{a:.3f}, {b:.3f}]" for a, b in corners)
    text = SCENE.partition("drawing:")[0] + (
        f"drawing: {{image: side.png, rectangle: {{corners: [{written}], width: 12 m, "
        "height: 6 m, along: -6 m, above: 0.6 m}}\n"
    )
    study = read_study(scene(text))
    sheet = read_sheet(study.loaded)
    camera = camera_over(sheet, study.models["as drawn"])
    dark = np.argwhere(np.asarray(sheet.image.convert("L")) < 128)[:, ::-1].mean(axis=0) + 0.5
    there = camera.project([(mark[0], 0.0, mark[1])])[0]
    assert camera.metres_per_pixel < 0.03
    assert dark == pytest.approx(there, abs=1.0)
    first, *rest = written.split("], ")
    turned = text.replace(written, f"{'], '.join(rest[::-1])}, {first}]".replace("]]", "]"))
    assert cli.main(["overlay", str(scene(turned))]) == 2


def test_a_large_scan_is_made_smaller_with_its_points(scene, tmp_path):
    with Image.open(tmp_path / "front.png") as small:
        small.resize((6600, 4800)).save(tmp_path / "large.jpg")
    text = SCENE.replace("front.png", "large.jpg").replace("[90, 420]", "[905, 4205]")
    sheet = read_sheet(read_study(scene(text.replace("[570, 144]", "[5705, 1445]"))).loaded)
    assert max(sheet.image.size) == LONGEST_PX
    assert sheet.fit.metres_per_pixel * LONGEST_PX == pytest.approx(660 / PX_FOOT * FOOT_M)


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGBA", "CMYK", "I;16"])
def test_images_of_any_kind_are_read(scene, tmp_path, mode):
    grey = Image.fromarray(np.full((480, 660), 200, dtype=np.uint8))
    image = Image.fromarray(np.full((480, 660), 60000, np.uint16)) if mode == "I;16" else grey
    ending = "tif" if mode == "CMYK" else "png"
    (image if mode == "I;16" else image.convert(mode)).save(tmp_path / f"scan.{ending}")
    sheet = read_sheet(read_study(scene(SCENE, "front.png", f"scan.{ending}")).loaded)
    assert sheet.image.mode == "RGB"


def test_the_command_writes_both_pictures_and_says_how_they_agree(scene, tmp_path, capsys):
    assert cli.main(["overlay", str(scene())]) == 0
    out = capsys.readouterr().out
    assert "A pixel is 1 in" in out
    assert "no wider and no taller than the house" in out
    made = sorted(p.name for p in (tmp_path / "renders" / "scene" / "overlay").glob("*.png"))
    assert made == ["as-drawn_laid-over.png", "as-drawn_side-by-side.png"]


BAD = {
    "no file": ("front.png", "other.png", 7, "drawing.image"),
    "not an image": ("front.png", "scene.yaml", 7, "drawing.image"),
    "a folder": ("front.png", ".", 7, "drawing.image"),
    "a pixel outside": ("[570, 144]", "[870, 144]", 10, "drawing.points[2].pixel"),
    "a pixel that is none": ("[570, 144]", "[570]", 10, "drawing.points[2].pixel"),
    "mirrored": ("along: -20 ft", "along: 60 ft", 8, "drawing.points"),
    "two scales": ("height: 23 ft", "height: 60 ft", 8, "drawing.points"),
    "one point": ("    - {pixel: [570, 144], along: 20 ft, height: 23 ft}\n", "", 8, "points"),
    "no measure": (SCENE.partition("front.png\n")[2], "", 6, "drawing"),
}


@pytest.mark.parametrize("case", BAD)
def test_what_cannot_be_laid_over_is_one_line_and_nothing_written(scene, tmp_path, capsys, case):
    was, becomes, line, field = BAD[case]
    assert cli.main(["overlay", str(scene(SCENE, was, becomes))]) == 2
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert f"scene.yaml:{line}:" in err
    assert field in err
    assert "allowed" in err
    assert not (tmp_path / "renders").exists()


def test_a_scene_without_a_drawing_is_told_so(scene, capsys):
    assert cli.main(["overlay", str(scene(SCENE.partition("drawing:")[0]))]) == 2
    assert "drawing: given nothing" in capsys.readouterr().err


def test_the_bundled_drawing_has_the_scene_s_sizes():
    fit = read_sheet(read_study(DEMO).loaded).fit
    assert (fit.across, fit.up) == pytest.approx((0.0, 0.0), abs=1e-6)
    drawn = runpy.run_path(str(DEMO.parent / "drawings" / "marsh_road_front.py"))
    as_drawn = read_study(DEMO).designs[0]
    house, porch = as_drawn.house, as_drawn.porch
    sizes_ft = {
        "HALF_WIDTH": house.width_m / 2.0,
        "FLOOR": house.storey_floors_z_m[0],
        "UPPER": house.storey_floors_z_m[1],
        "WALL_TOP": house.wall_top_z_m,
        "PIER": porch.order.diameter_m,
        "BEAM": porch.order.entablature_height_m,
        "PORCH_FLOOR": porch.floor_z_m,
        "BAYS": house.bay_centres_m,
        "AXES": porch.axes_m,
    }
    for name, size_m in sizes_ft.items():
        assert np.multiply(drawn[name], FOOT_M) == pytest.approx(np.array(size_m), abs=0.01), name
