"""Washes of drawn elevations, each where light and shade ask for it."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from massing.design.setting import SCENERY
from massing.geometry.solids import box_between, lathe
from massing.parts.part import Model, Part
from massing.practice.finishes import PAINTED_NOTE
from massing.present.ink.elevation import draw_elevation
from massing.present.ink.planting import plants
from massing.present.ink.washes import role_wash
from massing.study.pictures import pictures
from massing.study.study import read_study
from tests.present.ink.test_elevation import CAMERA, slab_over_wall, towards

SCENES = Path(__file__).parents[3] / "scenes"
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


def tone(model: Model, sun: np.ndarray, camera=CAMERA) -> np.ndarray:
    image = np.asarray(draw_elevation(model, camera, sun, fineness=3), dtype=float)
    return image @ LUMINANCE


def test_a_shaft_turns_into_shade_and_takes_light_again_at_its_far_edge():
    shaft = Part(("column", "shaft"), "order", lathe([(1.0, 0.0), (1.0, 3.3)], 64))
    row = tone(Model((shaft,), "a shaft"), towards(35.26, -45.0))[60:120].mean(axis=0)
    smooth = np.convolve(row, np.ones(3) / 3, mode="same")

    def at(x: float) -> float:  # 1 m is 40 pixels about the middle of 280
        return float(smooth[140 + round(40 * x)])

    # The sun stands 45 degrees to the left: it is faced at -0.7 and left behind at 0.7.
    assert at(-0.7) > at(-0.1) + 6.0 > at(0.3) + 20.0
    assert int(np.argmin(smooth[105:177])) + 105 - 140 == pytest.approx(0.707 * 40, abs=3)
    assert at(0.7) < 0.75 * at(-0.7)
    assert at(0.92) > at(0.7) + 8.0
    assert np.diff(smooth[114:165]).max() < 2.0  # by degrees, and only darker


def test_a_cast_shadow_is_cool_and_softer_above_than_at_its_edge():
    wall = box_between([-3.0, 0.0, 0.0], [3.0, 0.3, 3.5])
    slab = box_between([-3.0, -1.5, 3.0], [3.0, 0.01, 3.2])
    model = Model((Part(("w",), "order", wall), Part(("s",), "trim", slab)), "a shelf")
    image = np.asarray(draw_elevation(model, CAMERA, towards(45.0, 0.0), fineness=3), float)
    top, foot = (int(CAMERA.project([[0.0, 0.0, z]])[0, 1]) for z in (3.0, 1.5))
    column = image[:, 135:145].mean(axis=1)
    upper, lower = column[top + 4 : top + 7].mean(axis=0), column[foot - 12 : foot - 6].mean(axis=0)
    assert upper @ LUMINANCE > 1.08 * (lower @ LUMINANCE)
    lit = column[foot + 6 : foot + 20].mean(axis=0)
    assert lower[2] / lower[0] > 1.1 * lit[2] / lit[0]  # bluer than the light
    assert lower @ LUMINANCE < 0.72 * (lit @ LUMINANCE)


def test_a_window_is_darker_towards_its_head():
    wall = Part(("wall",), "wall", box_between([-3.0, 0.0, 0.0], [3.0, 0.3, 3.5]))
    pane = Part(("glass",), "glass", box_between([-1.0, -0.02, 0.5], [1.0, 0.0, 3.0]))
    grey = tone(Model((wall, pane), "a window"), towards(40.0, 20.0))[:, 130:150].mean(axis=1)
    z = np.linspace(0.8, 2.7, 12)
    rows = CAMERA.project(np.column_stack([0 * z, 0 * z, z]))[:, 1].astype(int)
    smooth = [grey[r - 2 : r + 3].mean() for r in rows]
    assert np.diff(smooth).max() < 0.0
    assert smooth[-1] < 0.65 * smooth[0]


def test_the_scene_s_colours_are_taken_by_the_washes():
    notes = {"walls": "stucco", PAINTED_NOTE: json.dumps({"walls": "#8a3b2a", "door": "#1f3a2d"})}
    red, green, blue = role_wash("wall", notes)
    assert red > green > blue
    assert green < 0.7 < role_wash("wall", {"walls": "stucco"})[1]
    door = role_wash("door", notes)
    assert door[1] > max(door[0], door[2])
    assert role_wash("order", notes) == (1.0, 1.0, 1.0)


def test_a_painted_house_is_drawn_in_its_colour():
    plain = slab_over_wall()
    painted = replace(plain, notes={PAINTED_NOTE: json.dumps({"walls": "#8a3b2a"})})
    white, red = (
        np.asarray(draw_elevation(m, CAMERA, towards(40.0, 0.0)), float)[120:140, 100:180]
        for m in (plain, painted)
    )
    assert (red[..., 0] - red[..., 2]).mean() > (white[..., 0] - white[..., 2]).mean() + 30.0


@pytest.fixture(scope="module")
def cottage():
    study = read_study(SCENES / "vineyard_cottage.yaml")
    asked = next(p for p in pictures(study, "draft", (320, 200)) if p.view == "elevation")
    return study.models[study.designs[0].name], asked.camera


def test_planting_stands_beside_and_behind_but_never_tall_before_the_front(cottage):
    model, camera = cottage
    found = plants(model, camera, lambda x: 0.1 * x)
    assert {"shrub"} < {plant.habit for plant in found}
    low, high = model.building_bounds
    front = float((low - camera.position_m) @ camera.axes[2])
    for plant in found:
        if low[0] < plant.x_m < high[0] and plant.depth_m < front + 0.1:
            assert plant.habit == "shrub"
        assert plant.foot_m == pytest.approx(0.1 * plant.x_m)  # on the ground, that slopes here
    assert [p.depth_m for p in found] == sorted((p.depth_m for p in found), reverse=True)


def test_shrubs_are_green_and_inked_and_the_house_hides_what_grows_behind(cottage):
    model, camera = cottage
    image = np.asarray(draw_elevation(model, camera, towards(45.0, 30.0)), float)
    bare = replace(model, notes={k: v for k, v in model.notes.items() if k != SCENERY})
    plain = np.asarray(draw_elevation(bare, camera, towards(45.0, 30.0)), float)
    changed = np.abs(image - plain).max(axis=2) > 12
    low = [p for p in plants(model, camera, lambda x: 0.1 * x) if p.habit == "shrub"]
    feet = camera.project([[p.x_m + camera.position_m[0], 0.0, 0.4 * p.height_m] for p in low])
    at = [image[int(y), int(x)] for x, y in feet if 0 <= x < 320 and 0 <= y < 200]
    assert np.mean([g - b for _, g, b in at]) > 12
    # the wall over the shrubs is as it was
    x, y = camera.project([[0.0, 0.0, float(model.building_bounds[1, 2]) - 1.2]])[0].astype(int)
    assert not changed[y - 4 : y + 4, x - 60 : x + 60].any()


def test_the_sky_is_graded_and_the_earth_below_is_no_blank(cottage):
    model, camera = cottage
    image = np.asarray(draw_elevation(model, camera, towards(45.0, 30.0)), float)
    ground = int(camera.project([[0.0, 0.0, 0.0]])[0, 1])
    earth = image[ground + 2 :]
    assert len(earth) <= 0.045 * camera.height_px + 1
    assert earth.mean(axis=(0, 1))[2] < 205
    sky = image[:, -12:].mean(axis=1)
    assert sky[4, 2] - sky[4, 0] > sky[ground - 40, 2] - sky[ground - 40, 0] + 8
