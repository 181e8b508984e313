"""Drawn elevations: lines and washes where plain geometry puts them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from massing.build.house import build
from massing.design.design import Design
from massing.geometry.solids import box_between, lathe
from massing.parts.part import Model, Part
from massing.present.ink.elevation import draw_elevation, line_drawing
from massing.present.ink.washes import role_wash
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from massing.view.camera import Camera
from massing.view.foreground import standing_before

PROJECTION_M, EDGE_Z_M = 0.5, 3.0
CAMERA = Camera(
    "elevation", "ortho", (0.0, -20.0, 1.75), ortho_width_m=7.0, width_px=280, height_px=160
)


def towards(altitude_deg: float, right_deg: float) -> np.ndarray:
    a, d = np.radians([altitude_deg, right_deg])
    return np.array([np.sin(d) * np.cos(a), -np.cos(d) * np.cos(a), np.sin(a)])


def slab_over_wall() -> Model:
    wall = box_between([-3.0, 0.0, 0.0], [3.0, 0.3, 3.5])
    slab = box_between([-3.0, -PROJECTION_M, EDGE_Z_M], [3.0, 0.01, 3.2])
    return Model((Part(("house", "wall"), "wall", wall), Part(("house", "slab"), "trim", slab)))


@pytest.mark.parametrize("right_deg", [0.0, -45.0])
def test_the_cast_wash_ends_at_the_depth_of_the_profile_angle(right_deg: float) -> None:
    # Conventional light gives a depth equal to the projection (the books of shades and
    # shadows); in general it is the projection times tan(altitude) / cos(azimuth).
    altitude = 35.26439 if right_deg else 50.0
    depth_m = PROJECTION_M * np.tan(np.radians(altitude)) / np.cos(np.radians(right_deg))
    if right_deg:
        assert depth_m == pytest.approx(PROJECTION_M, abs=1e-6)
    image = draw_elevation(slab_over_wall(), CAMERA, towards(altitude, right_deg))
    column = np.asarray(image, dtype=float)[:, 140:148].mean(axis=(1, 2))
    edge = CAMERA.project([[0.0, 0.0, EDGE_Z_M - depth_m]])[0, 1]
    under = int(CAMERA.project([[0.0, 0.0, EDGE_Z_M]])[0, 1]) + 3
    found = under + int(np.argmax(np.diff(column[under : int(edge) + 15]))) + 1
    assert abs(found - edge) <= 1.0
    assert column[int(edge) + 6] > 1.3 * column[int(edge) - 6]


def test_the_same_drawing_twice_and_only_of_elevations() -> None:
    one = draw_elevation(slab_over_wall(), CAMERA, towards(40.0, 20.0), title="t", caption="c")
    two = draw_elevation(slab_over_wall(), CAMERA, towards(40.0, 20.0), title="t", caption="c")
    assert one.size == (280, 160)
    assert np.array_equal(np.asarray(one), np.asarray(two))
    street = replace(CAMERA, kind="perspective", name="street", focal_mm=35.0)
    with pytest.raises(ValueError, match="is no elevation"):
        draw_elevation(slab_over_wall(), street, towards(40.0, 20.0))


def test_tiles_and_walls_are_washed_by_their_kind() -> None:
    green = role_wash("tile", {"roof colour": "green glazed"})
    red = role_wash("tile", {"roof colour": "terracotta"})
    assert green[1] > green[0]
    assert red[0] > red[1]
    assert role_wash("order", {}) == (1.0, 1.0, 1.0)


def test_a_neighbour_before_the_building_is_left_out_but_keeps_its_shadow() -> None:
    plain = slab_over_wall()
    block = box_between([-2.0, -6.0, 0.0], [2.0, -5.0, 4.0])
    beyond = box_between([4.0, 8.0, 0.0], [6.0, 9.0, 3.0])
    blocked = Model(
        (
            *plain.parts,
            Part(("setting", "neighbours", "1", "walls"), "neighbour", block),
            Part(("setting", "neighbours", "2", "walls"), "neighbour", beyond),
        )
    )
    assert [p.name for p in standing_before(blocked, CAMERA)] == ["setting/neighbours/1/walls"]
    assert standing_before(blocked, replace(CAMERA, pitch_rad=-0.3)) == []
    # The sun stands at 20 degrees: the shadow of 4 m climbs 5 tan 20 = 1.82 m less than that.
    sun = towards(20.0, 0.0)
    top_m = 4.0 - 5.0 * np.tan(np.radians(20.0))
    empty, image = (np.asarray(draw_elevation(m, CAMERA, sun), float) for m in (plain, blocked))
    edge = int(CAMERA.project([[0.0, 0.0, top_m]])[0, 1])
    under, over = (slice(edge + 6, edge + 20), slice(edge - 20, edge - 6))
    assert image[under, 140:148].mean() < 0.8 * empty[under, 140:148].mean()
    assert image[over, 140:148] == pytest.approx(empty[over, 140:148], abs=2.0)


def test_a_shaft_s_outline_is_steady_whatever_stands_behind_it() -> None:
    # The near board behind its lower half is so close that its jump alone would draw a thin line.
    far, near = (
        box_between([-3.0, 2.4, 0.0], [3.0, 2.6, 3.5]),
        box_between([-3.0, 0.42, 0.0], [3.0, 0.5, 1.2]),
    )
    shaft = lathe([(0.37, 0.0), (0.40, 0.9), (0.33, 3.0)], 96)
    parts = (
        Part(("wall",), "wall", far),
        Part(("board",), "wall", near),
        Part(("column", "shaft"), "order", shaft),
    )
    ink = line_drawing(Model(parts, "a shaft"), CAMERA)
    rows = [
        int(CAMERA.project([[0.0, 0.0, z]])[0, 1])
        for z in np.linspace(0.2, 2.6, 40)
        if abs(z - 1.2) > 0.06
    ]
    drawn = []
    for row in rows:
        columns = np.arange(118, 140)
        drawn.append(float(ink[row, columns].sum()))
    assert min(drawn) > 0.3
    assert max(drawn) - min(drawn) < 0.25 * np.mean(drawn)


SCENE = """\
title: A brick house with a wing before it
site: {place: Natchez, latitude: 31.56, longitude: -91.4, front_faces: S}
times: [equinox 10:00]
house:
  {width: 44 ft, depth: 28 ft, storeys: [12 ft], bays: 3, side_bays: 0, walls: brick, relief: true,
   wings: [{side: front, along: 14 ft, width: 12 ft, depth: 8 ft, side_bays: 0}]}
porch: {order: tuscan, columns: 2, height: 9 ft, along: -4 ft, depth: 6 ft}
roof: {covering: plain}
scale_figure: false
"""


@pytest.fixture(scope="module")
def brick_house(tmp_path_factory: pytest.TempPathFactory) -> tuple[Design, Model]:
    path = tmp_path_factory.mktemp("scene") / "brick.yaml"
    path.write_text(SCENE)
    loaded = load_scene(path)
    name = loaded.scene.as_drawn
    design = resolve(loaded.designs[name], name, loaded.lines[name])
    return design, build(design)


def about(x_m: float, z_m: float) -> Camera:
    """A part of an elevation at 12 mm a pixel, about a place on the front."""
    at = (x_m, -40.0, z_m)
    return Camera("elevation", "ortho", at, ortho_width_m=4.8, width_px=400, height_px=200)


def test_a_brick_corner_of_a_front_wing_is_a_line_and_no_row_of_dots(brick_house) -> None:
    design, model = brick_house
    x = design.house.wings[0].plan_m[0]
    camera = about(x, 2.0)
    ink = line_drawing(model, camera)
    middle = camera.width_px // 2
    darkest = ink[20:-20, middle - 3 : middle + 4].max(axis=1)
    assert darkest.min() > 0.4
    assert np.ptp(darkest) < 0.155


def test_a_scenes_shaft_has_an_outline_of_one_weight(brick_house) -> None:
    design, model = brick_house
    porch = design.porch
    order, axis = porch.order, porch.axes_m[0]
    foot = porch.floor_z_m + order.base_height_m
    camera = about(axis, foot + order.shaft_height_m / 2.0)
    ink = line_drawing(model, camera)
    left = camera.project([[axis - order.diameter_m / 2.0, porch.column_y_m, foot]])[0, 0]
    columns = slice(int(left) - 3, int(left) + 6)
    near = ink[45:-45, columns]
    rows = (near[:, :-1] + near[:, 1:]).max(axis=1)  # a stroke lies over two pixels
    assert rows.min() > 0.4
    assert np.ptp(rows) < 0.35 * rows.mean()
