"""A scene's own cameras, from the file to the frame."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from massing.scene.errors import SceneError
from massing.study.pictures import choose, pictures
from massing.study.study import read_study

SCENE = """\
title: House by the weir
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [equinox 9:30]
views: [elevation]
looks: [clay, drawn]
cameras:
  - name: from the gate
    stand: {along: -6 m, before: 14 m}
    look_at: {along: 2 m, before: 1 m, height: 4 m}
    lens: 50 mm
house: {width: 12 m, depth: 9 m, storeys: [3.4 m, 3 m]}
porch: {order: tuscan, columns: 4}
"""


@pytest.fixture
def scene(tmp_path: Path) -> Path:
    path = tmp_path / "weir.yaml"
    path.write_text(SCENE, encoding="utf-8")
    return path


def test_an_own_camera_stands_and_looks_where_the_file_says(scene: Path) -> None:
    study = read_study(scene)
    made = {(p.view, p.look): p.camera for p in pictures(study, "draft")}
    # The drawn look is for elevations; an own camera is in perspective.
    assert set(made) == {("elevation", "clay"), ("elevation", "drawn"), ("from the gate", "clay")}
    camera = made["from the gate", "clay"]
    assert camera.position_m == pytest.approx((-6.0, -14.0, 1.6))
    assert camera.project([[2.0, -1.0, 4.0]]) == pytest.approx(np.array([[400.0, 250.0]]))
    # 50 mm on a 36 mm film: a metre across at ten metres is 50/36/10 of the width.
    near = np.array(camera.position_m) + 10.0 * camera.axes[2]
    a, b = camera.project([near, near + camera.axes[0]])
    assert b[0] - a[0] == pytest.approx(800.0 * 50.0 / 36.0 / 10.0)
    assert choose(study, ["gate"])["views"] == {"from the gate"}


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("from the gate", "street", "a name that no view has"),
        ("{along: 2 m, before: 1 m, height: 4 m}", "{along: -6 m, before: 14 m}", "clear of stand"),
        ("lens: 50 mm", "lens: 50", "a length with its unit"),
        ("stand: {along: -6 m, before: 14 m}", "stand: {along: -6 m}", "before"),
    ],
)
def test_a_camera_at_fault_is_one_clear_line(scene: Path, old: str, new: str, words: str) -> None:
    scene.write_text(SCENE.replace(old, new), encoding="utf-8")
    with pytest.raises(SceneError) as fault:
        read_study(scene)
    assert words in str(fault.value)
    assert "weir.yaml:" in str(fault.value)
    assert "\n" not in str(fault.value)


def test_two_cameras_of_one_name_are_refused(scene: Path) -> None:
    again = SCENE.replace(
        "house:",
        "  - {name: from the gate, stand: {along: 1 m, before: 9 m}, "
        "look_at: {along: 0 m, before: 0 m}}\nhouse:",
        1,
    )
    scene.write_text(again, encoding="utf-8")
    with pytest.raises(SceneError, match="not from the gate twice"):
        read_study(scene)
