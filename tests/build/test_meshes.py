"""Every mesh of whole houses: bundled ones, and ones drawn at random over every field.

``benchmarks/random_houses.py --meshes`` asks the same of thousands.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.build.house import build
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from tests.helpers.mesh_faults import coplanar, faults_of_part, floating
from tests.helpers.random_scenes import scene
from tests.helpers.refusals import outcome

SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.yaml"))


DESIGNS = [(path, name) for path in SCENES for name in load_scene(path).designs]


@pytest.mark.parametrize(
    ("path", "name"), DESIGNS, ids=[f"{path.stem}: {name}" for path, name in DESIGNS]
)
def test_no_mesh_of_a_bundled_design_has_a_fault(path, name):
    loaded = load_scene(path)
    model = build(resolve(loaded.designs[name], name, loaded.lines[name]))
    own = [fault for part in model.parts for fault in faults_of_part(part)]
    assert [str(fault) for fault in (*own, *floating(model))] == []


@pytest.mark.parametrize("seed", [12, 23, 37, 41, 58, 91000241])
def test_no_mesh_of_a_house_drawn_at_random_has_a_fault(seed):
    got = outcome(scene(seed, common=True), built=False)
    assert got.kind == "built", got.said
    model = build(got.design)
    own = [fault for part in model.parts for fault in faults_of_part(part)]
    assert [str(fault) for fault in (*own, *floating(model))] == []


@pytest.mark.parametrize("name", ["pecan_street", "marsh_road"])
def test_no_faces_of_two_materials_lie_in_one_plane(name):
    loaded = load_scene(SCENES[0].with_name(f"{name}.yaml"))
    scene = loaded.scene
    model = build(resolve(scene, scene.as_drawn, loaded.lines[scene.as_drawn]))
    assert [str(fault) for fault in coplanar(model)] == []
