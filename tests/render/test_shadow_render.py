"""The rays' shadow mask against the renderer's, pixel by pixel, on a whole porch."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from massing.build.house import build
from massing.geometry.rays import Bools, Caster
from massing.parts.part import Model
from massing.render.driver.modelfile import save_model
from massing.render.driver.requirements import check_blender
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from massing.shadow.elevation import Elevation, see_elevation, shadow_mask
from massing.shadow.front import casting_parts
from massing.sun.angles import CONVENTIONAL_LIGHT, SUN_DISC_RAD
from massing.sun.position import to_house_frame
from massing.view.camera import Camera

SCENE = """\
title: Porch for two masks
site: {place: Nowhere, latitude: 41, longitude: -74, front_faces: S}
times: [equinox 12:00]
house:
  width: 44 ft
  depth: 30 ft
  floor: 2 ft
  storeys: [11 ft, 9 ft]
  bays: 5
porch: {order: doric, columns: 4, height: 11.75 ft, depth: 8 ft, balustrade: {}}
roof: {covering: barrel tile}
"""
SUNS = np.array(
    [
        *to_house_frame([20.0, 38.0, 60.0, 33.0], [130.0, 195.0, 225.0, 250.0], 180.0),
        CONVENTIONAL_LIGHT,
    ]
)
GRAZING = 0.06  # 64-sided shafts are shaded as round ones: their shade line is off by 3 degrees


@pytest.fixture(scope="module")
def model() -> Model:
    loaded = load_scene("porch.yaml", SCENE)
    (name, spec), *_ = loaded.designs.items()
    whole = build(resolve(spec, name, loaded.lines[name]))
    return Model(tuple(casting_parts(whole)))


@pytest.fixture(scope="module")
def camera(model: Model) -> Camera:
    low, high = model.building_bounds
    middle = (low + high) / 2.0
    return Camera(
        "front",
        "ortho",
        (middle[0], low[1] - 20.0, middle[2]),
        ortho_width_m=1.02 * (high[0] - low[0]),
        width_px=360,
        height_px=200,
    )


def pixel_middles(camera: Camera) -> tuple[np.ndarray, np.ndarray]:
    step = camera.metres_per_pixel
    x, _, z = camera.position_m
    xs = x + (np.arange(camera.width_px) + 0.5 - camera.width_px / 2) * step
    zs = z - (np.arange(camera.height_px) + 0.5 - camera.height_px / 2) * step
    return xs, zs


def soft(caster: Caster, seen: Elevation, sun: np.ndarray) -> Bools:
    """Where the sun's disc is neither whole nor hidden, or only grazes the face."""
    u = np.cross(sun, [0.0, 0.0, 1.0])
    u /= np.linalg.norm(u)
    v = np.cross(sun, u)
    turn = np.linspace(0.0, 2.0 * np.pi, 12, endpoint=False)
    limb = sun + 1.1 * np.tan(SUN_DISC_RAD / 2) * (
        np.outer(np.cos(turn), u) + np.outer(np.sin(turn), v)
    )
    masks = np.array([shadow_mask(caster, seen, s / np.linalg.norm(s)) for s in [sun, *limb]])
    facing = np.nan_to_num(seen.normals @ sun)
    return masks.any(axis=0) & ~masks.all(axis=0) | (np.abs(facing) < GRAZING)


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")
def test_rays_and_renderer_agree_on_the_shadow_of_a_porch(
    model: Model, camera: Camera, tmp_path: Path
) -> None:
    save_model(model, tmp_path / "model.npz")
    job = {"camera": camera.to_json(), "suns": SUNS.tolist()}
    (tmp_path / "job.json").write_text(json.dumps(job))
    files = [str(tmp_path / name) for name in ("model.npz", "job.json", "masks.npy")]
    done = subprocess.run(
        [sys.executable, "-m", "tests.helpers.cycles_mask", *files],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    rendered = np.load(files[-1]) > 1e-4
    caster = Caster(model.parts)
    seen = see_elevation(caster, *pixel_middles(camera))
    house = seen.of(lambda part: not part.within("setting"))
    assert house.mean() > 0.4
    for sun, picture in zip(SUNS, rendered, strict=True):
        lit = shadow_mask(caster, seen, sun)
        sure = house & ~soft(caster, seen, sun)
        assert sure.sum() > 0.8 * house.sum()
        agree = (lit == picture)[sure].mean()
        assert agree >= 0.995, f"{agree:.4%} of {sure.sum()} pixels agree"
        assert 0.1 < lit[sure].mean() < 0.95
