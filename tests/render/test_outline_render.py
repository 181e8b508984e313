"""The drawn elevations' outline against the renderer's, square and without perspective."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import shapely

from massing.build.house import build
from massing.parts.part import Model
from massing.present.drawings.elevations import building, elevation_view, view_extent
from massing.present.drawings.items import Line
from massing.render.driver.modelfile import save_model
from massing.render.driver.requirements import check_blender
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from massing.view.camera import Camera
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT, Square

SCENE = """\
title: Porch for two outlines
site: {place: Nowhere, latitude: 41, longitude: -74, front_faces: S}
times: [equinox 12:00]
house:
  width: 36 ft
  depth: 26 ft
  floor: 2 ft
  storeys: [11 ft, 9 ft]
  bays: 3
porch: {order: tuscan, columns: 4, depth: 8 ft, roof: pediment}
roof: {form: gable, covering: standing seam}
"""
WIDTH_PX = 300
YAW_DEG = {FRONT: 0.0, RIGHT: 90.0, BACK: 180.0, LEFT: 270.0}


def cover(model: Model, view: Square, folder: Path) -> tuple[np.ndarray, Camera]:
    """What Blender says the building covers, and the camera that it was seen by."""
    low, high = view_extent(model.parts, view)
    middle = (low + high) / 2.0
    stand = middle @ view.axes[:2] - 60.0 * view.axes[2]
    camera = Camera(
        view.name,
        "ortho",
        (float(stand[0]), float(stand[1]), float(stand[2])),
        yaw_rad=float(np.radians(YAW_DEG[view])),
        ortho_width_m=1.04 * float(high[0] - low[0]),
        width_px=WIDTH_PX,
        height_px=int(WIDTH_PX * 1.06 * (high[1] - low[1]) / (high[0] - low[0])),
    )
    assert camera.axes == pytest.approx(view.axes, abs=1e-9)
    save_model(model, folder / "model.npz")
    job = {"camera": camera.to_json(), "suns": [[0.0, 0.0, 1.0]], "cover": True}
    (folder / "job.json").write_text(json.dumps(job))
    files = [str(folder / name) for name in ("model.npz", "job.json", "cover.npy")]
    done = subprocess.run(
        [sys.executable, "-m", "tests.helpers.cycles_mask", *files],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return np.load(files[-1])[0] > 0.5, camera


def crossings(mask: np.ndarray) -> np.ndarray:
    """Pixel places ``(n, 2)``, right and down, where what is covered ends between two middles."""
    down, right = np.nonzero(mask[:, 1:] != mask[:, :-1])
    level = np.column_stack([right + 1.0, down + 0.5])
    down, right = np.nonzero(mask[1:] != mask[:-1])
    return np.concatenate([level, np.column_stack([right + 0.5, down + 1.0])])


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")
@pytest.mark.parametrize("view", [FRONT], ids=lambda v: v.name)
def test_an_elevation_has_the_renders_outline_within_a_pixel(view: Square, tmp_path: Path) -> None:
    loaded = load_scene("porch.yaml", SCENE)
    (name, spec), *_ = loaded.designs.items()
    design = resolve(spec, name, loaded.lines[name])
    whole = build(design)
    mask, camera = cover(Model(tuple(building(whole))), view, tmp_path)
    assert 0.3 < mask.mean() < 0.95
    drawn = elevation_view(whole, view, design.site.ground)
    lines = [item.points for item in drawn.items if isinstance(item, Line)]
    ground = next(i.points for i in drawn.items if isinstance(i, Line) and i.layer == "GROUND")
    own = [
        camera.project(np.column_stack([p, np.zeros(len(p))]) @ view.axes) for p in (*lines, ground)
    ]
    *inked, foot = (shapely.linestrings(p) for p in own)
    ink = shapely.union_all(inked)
    found = crossings(mask)
    above = found[found[:, 1] < foot.bounds[1] - 1.0]
    assert len(above) > 300
    away = shapely.distance(ink, shapely.points(above))
    assert away.max() <= 1.0, above[away > 1.0]
    # and nothing is drawn that the render does not cover, within a pixel
    house = [p for p in inked if not p.equals(foot)]
    places = np.concatenate([shapely.get_coordinates(shapely.segmentize(p, 0.5)) for p in house])
    tall, wide = mask.shape
    near = np.zeros(len(places), dtype=bool)
    for dx in (-1.0, 0.0, 1.0):
        for dy in (-1.0, 0.0, 1.0):
            x = np.clip((places[:, 0] + dx).astype(int), 0, wide - 1)
            y = np.clip((places[:, 1] + dy).astype(int), 0, tall - 1)
            near |= mask[y, x]
    assert near.all()
