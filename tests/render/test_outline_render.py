"""The drawn elevations' outline against the renderer's, square and without perspective."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.build.house import build
from massing.render.driver.requirements import check_blender
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from massing.view.hidden_lines import FRONT, RIGHT, Square
from tests.helpers.outlines import apart

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


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")
@pytest.mark.parametrize("view", [FRONT, RIGHT], ids=lambda v: v.name)
def test_an_elevation_has_the_renders_outline_within_a_pixel(view: Square, tmp_path: Path) -> None:
    loaded = load_scene("porch.yaml", SCENE)
    (name, spec), *_ = loaded.designs.items()
    design = resolve(spec, name, loaded.lines[name])
    found = apart(design, build(design), view, tmp_path, WIDTH_PX)
    assert 0.3 < found.cover.mean() < 0.95
    assert len(found.away_px) > 300
    assert found.away_px.max() <= 1.0, found.places_px[found.away_px > 1.0]
    # and nothing is drawn that the render does not cover, within a pixel
    assert not len(found.stray_px)
