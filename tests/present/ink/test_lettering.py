"""What is lettered on a drawn elevation, and the light that drawings take by convention."""

from __future__ import annotations

import numpy as np
import pytest

from massing.present.ink.elevation import draw_elevation
from massing.present.ink.lettering import FRAME, Lettering
from massing.study.board import read_logo
from massing.study.pictures import pictures, shot_of
from massing.study.study import read_study
from tests.helpers.scene_files import HEAD
from tests.present.ink.test_elevation import CAMERA, slab_over_wall, towards

SCENE = f"""{HEAD.replace("equinox 10:30", "conventional light")}
house: {{width: 40 ft, depth: 30 ft, storeys: [11 ft]}}
porch: {{order: tuscan, columns: 4}}
"""


def test_a_border_a_name_and_a_scale_are_lettered_on_request():
    sun = towards(40.0, 20.0)
    plain, framed = (
        np.asarray(draw_elevation(slab_over_wall(), CAMERA, sun, lettering=words), float)
        for words in (None, Lettering("Tuscan", "House by the ford", "metric"))
    )
    changed = np.abs(plain - framed).max(axis=2) > 20
    edge = round(FRAME[0] * CAMERA.width_px)
    assert changed[10:-10, edge].mean() > 0.9  # the border's upright
    assert changed[edge, 10:-10].mean() > 0.9
    assert changed[8:30, 8:100].mean() > 0.02  # the name
    # the bar is a round length: 1 m of 5 divisions is 40 pixels to the metre
    fullest = max(changed[8:24, 150:270], key=np.count_nonzero)
    assert np.ptp(np.flatnonzero(fullest)) + 1 == pytest.approx(40, abs=2)
    assert not changed[60:150, 20:260].any()  # nothing on the house


@pytest.mark.parametrize("border", [False, True])
def test_the_scene_asks_for_it_and_for_the_light_of_45_degrees(tmp_path, border):
    path = tmp_path / "ford.yaml"
    said = f"sheet: {{border: {str(border).lower()}, paper: A3}}\n"
    text = SCENE + said + "views: [elevation]\nlooks: [drawn, clay]\n"
    path.write_text(text, encoding="utf-8")
    study = read_study(path)
    drawn, clay = (
        shot_of(study, next(p for p in pictures(study, "draft", (80, 50)) if p.look == look))
        for look in ("drawn", "clay")
    )
    assert bool(drawn.lettering) == border
    assert clay.lettering == ()
    # The diagonal of a cube, from the left: each way by the same (the books of shades and shadows).
    assert drawn.sun_direction == pytest.approx(np.array([-1.0, -1.0, 1.0]) / np.sqrt(3.0))
    assert "conventional light" in drawn.lettering[1] if border else True
    assert study.loaded.scene.sheet.paper == "A3"
    assert read_logo(study.loaded) is None
