"""People stand in the picture, before no column, not in the doorway."""

from pathlib import Path

import numpy as np
import pytest

from massing.study.pictures import focus_points
from massing.study.study import read_study
from massing.view.cameras import camera_for
from massing.view.framing import box_corners
from massing.view.people import (
    GROUP_M,
    SHOULDERS_M,
    TALLEST_M,
    spots_beside_the_path,
    standing_places,
)

SCENES = Path(__file__).parents[2] / "scenes"


@pytest.mark.parametrize("scene", ["marsh_road", "vineyard_cottage"])
@pytest.mark.parametrize("view", ["elevation", "street", "street left", "walk"])
def test_nobody_stands_before_a_column(scene: str, view: str) -> None:
    study = read_study(SCENES / f"{scene}.yaml")
    stood = 0
    for design in study.designs:
        model = study.models[design.name]
        camera = camera_for(
            view, study.bounds_m, focus=focus_points(study.designs), outline_m=study.outline_m
        )
        places = standing_places(model, camera, spots_beside_the_path(model))
        stood += bool(places)
        assert len(places) in ((0, 1) if view == "elevation" else (0, len(GROUP_M)))
        right = camera.axes[0][:2]
        shafts = [p for p in model.parts if p.within("porch", "column", "shaft")]
        for x, y in places.values():
            ends = [
                (x + s * SHOULDERS_M * right[0], y + s * SHOULDERS_M * right[1], z)
                for s in (-1.0, 1.0)
                for z in (0.0, TALLEST_M)
            ]
            a, c = np.sort(camera.project(ends)[:, 0])[[0, -1]]
            assert a > 0.0
            assert c < camera.width_px
            for shaft in shafts:
                for frame in shaft.placements if shaft.placements is not None else [np.eye(4)]:
                    seen = box_corners(shaft.mesh.bounds) @ frame[:3, :3].T + frame[:3, 3]
                    low, high = np.sort(camera.project(seen)[:, 0])[[0, -1]]
                    assert c <= low or a >= high, (design.name, view)
    assert stood or view == "walk"
