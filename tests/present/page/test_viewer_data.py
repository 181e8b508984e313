"""Finishes, views and models as the viewer is handed them."""

from __future__ import annotations

import gzip

import numpy as np
import pygltflib
import pytest

from massing.practice.finishes import finish_of, part_role
from massing.present.page.viewer_data import finishes_json, packed_models, views_json
from massing.study.pictures import focus_points
from massing.study.study import read_study
from massing.view.cameras import VIEWS, camera_for
from tests.present.page.conftest import SCENES


@pytest.fixture(scope="module")
def lane():
    return read_study(SCENES / "foundry_lane.yaml")


def test_every_view_looks_at_the_middle_of_its_picture(lane):
    focus = focus_points(lane.designs)
    for name, view in views_json(lane.bounds_m, focus, tuple(VIEWS)).items():
        camera = camera_for(name, lane.bounds_m, focus=focus)
        assert view["kind"] == camera.kind
        stand, target = np.array(view["position"]), np.array(view["target"])
        far = np.linalg.norm(target - stand)
        right, up, _ = camera.axes
        shifted = target + far * (view["shift"][0] * right + view["shift"][1] * up)
        middle = camera.project([shifted])[0]
        expected = [camera.width_px / 2, camera.height_px / 2]
        np.testing.assert_allclose(middle, expected, atol=1.5, err_msg=name)


def test_the_front_leaves_out_what_stands_before_it_and_only_that(lane):
    models = [lane.models[design.name] for design in lane.designs]
    views = views_json(lane.bounds_m, focus_points(lane.designs), models=models)
    assert views["elevation"]["hides"]
    assert all(key.startswith("setting/trees/") for key in views["elevation"]["hides"])
    assert views["street"]["hides"] == []


def test_every_role_of_the_models_has_a_finish_of_its_own(lane):
    table = finishes_json()["materials"]
    for model in lane.models.values():
        for part in model.parts:
            role = part_role(part.role, model.notes)
            assert role in table, role
            assert table[role]["colour"] == pytest.approx(finish_of(role).colour, abs=1e-4)


def test_packed_models_are_one_scene_to_a_design_and_the_same_each_time(study):
    models = [study.models[design.name] for design in study.designs[:2]]
    packed = packed_models(models)
    assert packed_models(models) == packed
    file = pygltflib.GLTF2.load_from_bytes(gzip.decompress(packed))
    assert [scene.name for scene in file.scenes] == [model.name for model in models]
    assert set(file.extensionsRequired) == {"EXT_mesh_gpu_instancing", "KHR_mesh_quantization"}
