"""The outline of a drawn elevation against the renderer's, square and without perspective."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely
from PIL import Image, ImageFilter

from massing.design.design import Design
from massing.parts.part import Model
from massing.present.drawings.elevations import building, elevation_view, view_extent
from massing.present.drawings.items import Line
from massing.render.driver.modelfile import save_model
from massing.view.camera import Camera
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT, Square

GAP_M = 0.024
"""Between small pieces, such as shingles seen at their ends; common practice, no source."""

YAW_DEG = {FRONT: 0.0, RIGHT: 90.0, BACK: 180.0, LEFT: 270.0}


@dataclass(frozen=True, eq=False)
class Apart:
    """How a drawing and a render agree.

    Attributes:
        away_px: ``(n,)`` from where the render's cover ends, over the ground, to the next line.
        places_px: ``(n, 2)`` where that is, right and down.
        stray_px: ``(m, 2)`` where lines are that the render covers nowhere within a pixel.
        cover: the render's, ``(h, w)``.
    """

    away_px: np.ndarray
    places_px: np.ndarray
    stray_px: np.ndarray
    cover: np.ndarray


def cover(model: Model, view: Square, folder: Path, width_px: int) -> tuple[np.ndarray, Camera]:
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
        width_px=width_px,
        height_px=int(width_px * 1.06 * (high[1] - low[1]) / (high[0] - low[0])),
    )
    assert np.allclose(camera.axes, view.axes, atol=1e-9)
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


def _gaps_closed(mask: np.ndarray, gap_px: float) -> np.ndarray:
    """The cover without the daylight in gaps as narrow as drawings close up between pieces."""
    across = 2 * int(np.ceil(gap_px / 2.0)) + 1
    wide = Image.fromarray(np.pad(mask, across).astype(np.uint8) * 255)
    wide = wide.filter(ImageFilter.MaxFilter(across)).filter(ImageFilter.MinFilter(across))
    return np.asarray(wide)[across:-across, across:-across] > 127


def apart(design: Design, whole: Model, view: Square, folder: Path, width_px: int) -> Apart:
    """Draw and render one side of a design, and compare."""
    mask, camera = cover(Model(tuple(building(whole))), view, folder, width_px)
    drawn = elevation_view(whole, view, design.site.ground)
    lines = [item for item in drawn.items if isinstance(item, Line)]
    own = [
        shapely.linestrings(
            camera.project(np.column_stack([item.points, np.zeros(len(item.points))]) @ view.axes)
        )
        for item in lines
    ]
    grounds = [i for i, item in enumerate(lines) if item.layer == "GROUND"]
    house = [run for i, run in enumerate(own) if i not in grounds]
    foot = own[grounds[0]]
    found = crossings(
        _gaps_closed(mask, GAP_M * camera.width_px / float(camera.ortho_width_m or 1.0))
    )
    xs, ys = shapely.get_coordinates(foot).T
    order = np.argsort(xs)
    above = found[found[:, 1] < np.interp(found[:, 0], xs[order], ys[order]) - 1.0]
    away = shapely.distance(shapely.union_all(own), shapely.points(above))
    places = np.concatenate([shapely.get_coordinates(shapely.segmentize(p, 0.5)) for p in house])
    tall, wide = mask.shape
    near = np.zeros(len(places), dtype=bool)
    for dx in (-1.0, 0.0, 1.0):
        for dy in (-1.0, 0.0, 1.0):
            x = np.clip((places[:, 0] + dx).astype(int), 0, wide - 1)
            y = np.clip((places[:, 1] + dy).astype(int), 0, tall - 1)
            near |= mask[y, x]
    return Apart(away, above, places[~near], mask)
