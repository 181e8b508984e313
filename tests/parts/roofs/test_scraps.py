"""What a plane leaves of a hollow tile at a hip is laid only where a roofer would lay it."""

from __future__ import annotations

from pathlib import Path

from massing.build.house import build
from massing.geometry.solids import bodies
from massing.resolve.design import resolve
from massing.scene.load import load_scene


def test_no_tip_of_a_cut_tile_lies_about():
    loaded = load_scene(Path(__file__).parents[3] / "scenes" / "vineyard_cottage.yaml")
    scene = loaded.scene
    model = build(resolve(scene, scene.as_drawn, loaded.lines[scene.as_drawn]))
    (cut,) = model.select("house/roof/tiles/cut")
    # a roofer lays no piece smaller than a thimble (common practice, no source)
    assert min(body.volume_m3 for body in bodies(cut.mesh)) > 3e-6
