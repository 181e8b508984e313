"""Tone of a street, measured on a tiny picture: whites keep detail, shade is not black.

The bounds are those of the trade's printers: common practice, no source.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from massing.render.driver.requirements import check_blender
from massing.render.driver.run import render_shots
from massing.study.pictures import pictures, shot_of
from massing.study.study import read_study
from massing.view.framing import box_corners
from tests.helpers.scene_files import HEAD

SCENES = Path(__file__).parents[2] / "scenes"
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
NEAR_BLACK = 25


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="needs Blender's module")
@pytest.mark.parametrize(("scene", "sun"), [("osier_turn", 0)])
def test_a_street_keeps_its_whites_and_its_shade(scene: str, sun: int, tmp_path: Path) -> None:
    study = read_study(SCENES / f"{scene}.yaml")
    design = study.designs[-1]
    asked = [
        p
        for p in pictures(study, "draft", (160, 100))
        if (p.design, p.view, p.look) == (design.name, "street", "materials")
        and p.sun is study.suns[sun]
    ]
    shot = replace(shot_of(study, asked[0], tmp_path), output=tmp_path / "street.png")
    results = render_shots(study.models[design.name], [shot], log_path=tmp_path / "log")
    assert not [result.error for result in results if result.error]
    rgb = np.asarray(Image.open(shot.output).convert("RGB")).astype(float)
    tone = rgb @ LUMINANCE
    assert (rgb.min(axis=2) >= 254).mean() < 0.001  # clipped
    assert (tone < NEAR_BLACK).mean() < 0.05
    assert np.percentile(tone, 99) > 185  # and whites are white
    # No shade on the frieze under a twenty-fifth of white.
    focus = shot.camera.project(frieze_points(design))
    near = [tone[int(y), int(x)] for x, y in focus if 0 <= x < 160 and 0 <= y < 100]
    assert near
    assert min(near) > 255 * 0.04


def frieze_points(design: object) -> np.ndarray:
    """Points on the middle of the frieze's front, where there is a straight one."""
    porch = design.porch.highest  # type: ignore[attr-defined]
    order = porch.order
    z = porch.column_top_z_m + order.architrave_height_m + order.frieze_height_m / 2.0
    y = porch.column_y_m - porch.frieze_half_depth_m
    return np.array([[x, y, z] for x in np.linspace(porch.axes_m[0], porch.axes_m[-1], 15)])


DARK = f"""{HEAD}
views: [elevation]
looks: [materials]
house:
  width: 40 ft
  depth: 28 ft
  storeys: [11 ft, 10 ft]
  bays: 5
  windows: [{{shutters: louvred}}, {{shutters: panelled}}]
porch: {{order: tuscan, columns: 4, spacing: bays}}
colours: {{shutters: "#101214"}}
"""


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="needs Blender's module")
def test_the_darkest_shutters_keep_their_detail_in_sun_and_shade(tmp_path: Path) -> None:
    """No leaf is darker than sRGB 12, and near-black is less than a twentieth of the front."""
    file = tmp_path / "dark.yaml"
    file.write_text(DARK, encoding="utf-8")
    study = read_study(file)
    model = study.models[study.designs[0].name]
    shot = shot_of(study, pictures(study, "draft", (240, 150))[0], tmp_path)
    shot = replace(shot, output=tmp_path / "front.png")
    results = render_shots(model, [shot], log_path=tmp_path / "log")
    assert not [result.error for result in results if result.error]
    tone = np.asarray(Image.open(shot.output).convert("RGB")).astype(float) @ LUMINANCE
    assert (tone < NEAR_BLACK).mean() < 0.05
    means = []
    for part in model.parts:
        if part.role != "shutter" or part.placements is None:
            continue
        corners = box_corners(part.mesh.bounds)
        for frame in part.placements:
            world = corners @ frame[:3, :3].T + frame[:3, 3]
            if world[:, 1].max() > 0.5:  # of a side
                continue
            (x0, y0), (x1, y1) = (f(shot.camera.project(world), axis=0) for f in (np.min, np.max))
            leaf = tone[round(y0) + 1 : round(y1) - 1, round(x0) + 1 : round(x1) - 1]
            if leaf.size:
                means.append(float(leaf.mean()))
    assert len(means) >= 8
    assert min(means) >= 12.0, sorted(means)[:5]
