"""The garden about a house: what it may hide, what it must leave free."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from massing.build.house import scenery_of
from massing.design.setting import Scenery, in_common
from massing.settingout.garden import (
    SHRUB_SIZES_M,
    STREET_M,
    VERGE_M,
    extent,
    eyes_m,
    garden,
    low_before_porch_m,
    on_lawn,
)
from massing.study.study import read_study

SCENES = [
    Path(__file__).parents[2] / "scenes" / f"{name}.yaml"
    for name in ("marsh_road", "osier_turn", "vineyard_cottage")
]
KINDS = ("open country", "village street", "garden", "none")


@pytest.fixture(scope="module")
def sceneries() -> list[Scenery]:
    found = []
    for path in SCENES:
        for design in read_study(path).designs:
            found.append(scenery_of(design))
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_no_tree_or_house_stands_before_the_front(sceneries: list[Scenery], kind: str) -> None:
    """From both street views, lines to the front's corners and the porch's are free."""
    for scenery in sceneries:
        asked = replace(scenery, setting=replace(scenery.setting, kind=kind))
        made = garden(asked)
        x0, _, x1, _ = extent(asked)
        px0, py0, px1, _ = asked.porch
        aims = np.array([(x0, 0.0), (x1, 0.0), (px0, py0), (px1, py0), (0.0, py0)])
        round_things = [(t.x_m, t.y_m, 0.45 * t.spread_m) for t in made.trees]
        round_things += [
            (h.x_m, h.y_m + (h.depth_m / 2 if h.turn_rad == 0.0 else -h.depth_m / 2), h.width_m / 2)
            for h in made.houses
        ]
        for eye in np.array(eyes_m(asked)):
            for x, y, reach in round_things:
                for aim in aims:
                    way = aim - eye
                    t = np.clip((np.array([x, y]) - eye) @ way / (way @ way), 0.0, 1.0)
                    assert np.linalg.norm(eye + t * way - (x, y)) > reach, (kind, x, y)


def test_what_grows_before_the_porch_is_lower_than_its_floor(sceneries: list[Scenery]) -> None:
    for scenery in sceneries:
        px0, py0, px1, _ = scenery.porch
        for bush in garden(scenery).shrubs:
            if px0 < bush.x_m < px1 and py0 - 1.6 < bush.y_m < py0:
                assert bush.size_m <= max(low_before_porch_m(scenery), SHRUB_SIZES_M[0])
                assert bush.size_m < scenery.floor_m


def test_steps_and_path_are_free(sceneries: list[Scenery]) -> None:
    for scenery in sceneries:
        for bush in garden(scenery).shrubs:
            on_the_way = abs(bush.x_m) < scenery.way_m and bush.y_m < 0.0
            assert not on_the_way or bush.y_m < scenery.foot_y_m - 1.5
            for a, b, c, d in scenery.blocks:
                assert not (a < bush.x_m < c and b < bush.y_m < d)


def test_the_eye_stands_at_the_far_kerb_of_a_village_s_street(sceneries: list[Scenery]) -> None:
    for scenery in sceneries:
        asked = replace(scenery, setting=replace(scenery.setting, kind="village street"))
        far, near = garden(asked).street_y_m or (0.0, 0.0)
        assert near - far == pytest.approx(STREET_M)
        eye = eyes_m(asked)[0][1]
        assert (
            far - VERGE_M < eye < far or eye > near
        )  # the street lies before it, or there is none


def test_turf_is_laid_on_the_lawn_alone(sceneries: list[Scenery]) -> None:
    for scenery in sceneries:
        made = garden(scenery)
        way, middle = scenery.foot_y_m, scenery.way_x_m
        x0, y0, x1, y1 = made.beds[0]
        bare = [
            (middle, way - 3.0),  # the path
            (middle, way + 0.2),  # the steps
            ((x0 + x1) / 2.0, (y0 + y1) / 2.0),
            ((scenery.blocks[0][0] + 0.5), 1.0),
        ]
        if made.street_y_m is not None:
            bare.append((30.0, sum(made.street_y_m) / 2.0))
        assert not on_lawn(scenery, made, np.array(bare), 0.1).any()
        grass = np.array([(middle + 6.0, way - 3.4), (middle - 7.0, way - 3.8)])
        assert on_lawn(scenery, made, grass, 0.1).all()
        edge = np.array([(middle + scenery.way_m + 5.0, way - 3.4)])
        assert on_lawn(scenery, made, edge, 0.1).all()
        assert not on_lawn(scenery, made, edge, 50.0).any()


def test_a_scene_has_always_the_same_garden_and_none_has_a_path_alone(
    sceneries: list[Scenery],
) -> None:
    assert garden(sceneries[0]) == garden(sceneries[0])
    bare = replace(sceneries[0], setting=replace(sceneries[0].setting, kind="none"))
    made = garden(bare)
    assert [made.trees, made.shrubs, made.houses, made.edge, made.hedges] == [[]] * 5
    assert len(made.strips) == 1


def test_scenery_reads_back_as_it_was_written(sceneries: list[Scenery]) -> None:
    for scenery in sceneries:
        once = Scenery.read(scenery.written())  # to a tenth of a millimetre
        assert Scenery.read(once.written()) == once
        assert once.porch == pytest.approx(scenery.porch, abs=1e-4)


def test_designs_that_are_compared_stand_on_one_street(sceneries: list[Scenery]) -> None:
    narrow = replace(sceneries[0], setting=replace(sceneries[0].setting, kind="village street"))
    _, y0, x1, y1 = narrow.blocks[0]
    wide = replace(narrow, blocks=(narrow.blocks[0], (x1, y0 + 2.0, x1 + 6.0, y1)))
    apart = [garden(s) for s in (narrow, wide)]
    assert apart[0].street_y_m != apart[1].street_y_m
    one, other = (garden(s) for s in in_common([narrow, wide]))
    assert one.street_y_m == other.street_y_m
    assert one.houses == other.houses
    assert one.edge == other.edge
    assert one.beds != other.beds


@pytest.mark.parametrize(
    "path", sorted(SCENES[0].parent.glob("*.yaml")), ids=lambda path: path.stem
)
def test_every_bed_has_length_and_breadth(path: Path) -> None:
    """Also where a porch is as wide as the house and takes the whole foundation."""
    made = [scenery_of(design) for design in read_study(path).designs]
    for scenery in (*made, *in_common(made)):
        for bed in garden(scenery).beds:
            assert bed[2] - bed[0] > 0.3
            assert bed[3] - bed[1] > 0.3
