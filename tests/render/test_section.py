"""A section as a picture: to scale, its cuts by material, its hollows lit, no lawn and no sky."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from massing.practice.finishes import POCHE, poche
from massing.present.drawings.picture_levels import levels_px
from massing.render.driver.requirements import check_blender
from massing.render.driver.run import render_shots
from massing.study.pictures import pictures, shot_of
from massing.study.study import Study, read_study
from tests.helpers.scene_files import HEAD

SCENE = f"""{HEAD}
views: [section]
looks: [materials, drawn]
house: {{width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft], walls: brick}}
porch: {{order: tuscan, columns: 4, roof: flat}}
alternatives:
  Narrow: {{porch: {{columns: 2, spacing: 6 ft}}}}
"""
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Study:
    path = tmp_path_factory.mktemp("section") / "ford.yaml"
    path.write_text(SCENE, encoding="utf-8")
    return read_study(path)


def test_it_is_to_scale_cuts_every_porch_between_its_columns_and_is_not_inked(study: Study) -> None:
    asked = pictures(study, "draft", (320, 200))
    assert {p.look for p in asked} == {"materials"}
    for picture in asked:
        assert picture.camera.kind == "ortho"
        assert picture.camera.metres_per_pixel > 0.0
        assert picture.camera.cut is not None
        at = -picture.camera.cut[3]
        for design in study.designs:
            axes = np.array(design.porch.axes_m)
            assert abs(at) < axes[-1]
            assert np.abs(axes - at).min() > design.porch.order.plinth_width_m / 2.0


def test_heights_stand_beside_it_where_the_house_has_them(study: Study) -> None:
    picture = pictures(study, "draft", (320, 200))[0]
    shot = shot_of(study, picture)
    said = {name.split(" +")[0]: y for name, y in levels_px(shot.camera, shot.levels)}
    house, scale = study.designs[0].house, shot.camera.metres_per_pixel
    assert {"Ground", "First floor", "Second floor", "Underside of architrave"} <= set(said)
    rise = house.storey_floors_z_m[1] - house.storey_floors_z_m[0]
    assert said["First floor"] - said["Second floor"] == pytest.approx(rise / scale, abs=0.6)
    assert [name for name, _ in shot.levels if "14'" in name or "13'" in name]


def test_a_cut_is_washed_by_what_it_cuts() -> None:
    assert poche("wall/brick") == poche("wall") == "masonry"
    assert poche("order") == poche("trim") == "timber"
    assert poche("metal") == "metal"
    assert len({POCHE[kind] for kind in POCHE}) == 4


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="needs Blender's module")
def test_masonry_and_timber_are_told_apart_and_no_hollow_is_black(
    study: Study, tmp_path: Path
) -> None:
    picture = pictures(study, "draft", (240, 150))[0]
    shot = replace(shot_of(study, picture, tmp_path), output=tmp_path / "section.png", levels=())
    results = render_shots(study.models[picture.design], [shot], log_path=tmp_path / "log")
    assert not [result.error for result in results if result.error]
    rgb = np.asarray(Image.open(shot.output).convert("RGB")).astype(float)
    assert (rgb @ LUMINANCE < 25).mean() < 0.05
    red, green, blue = rgb.transpose(2, 0, 1)
    masonry = (red > 1.25 * green) & (np.abs(green - blue) < 0.25 * green)
    timber = (red > 1.05 * green) & (green > 1.2 * blue)
    assert masonry.mean() > 0.004
    assert timber.mean() > 0.01
    lawn = (green > 1.08 * red) & (green > 1.08 * blue)
    assert lawn[:, :40].mean() < 0.001  # before the house; its door is green
    # the sheet behind is one even tone, not a sky
    sheet = rgb[5:60, 3:20].reshape(-1, 3)
    assert sheet.std(axis=0).max() < 2.5
