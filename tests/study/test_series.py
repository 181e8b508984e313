"""Rows of pictures: which suns, which stills are kept, what comes out."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from massing.present.sheets.strips import Row, captioned, strip
from massing.render.driver.requirements import check_blender
from massing.render.driver.run import encode_film
from massing.study.series import (
    LOWEST_SUN_DEG,
    _Series,
    day_suns,
    porch_box,
    run_day,
    run_seasons,
    season_suns,
)
from massing.study.study import Study, read_study
from tests.helpers.scene_files import HEAD

SCENE = Path(__file__).parents[2] / "scenes" / "vineyard_cottage.yaml"


@pytest.fixture(scope="module")
def study() -> Study:
    return read_study(SCENE)


def test_a_day_runs_from_low_sun_to_low_sun_in_even_steps(study: Study) -> None:
    suns = day_suns(study, "equinox", 30.0)
    heights = [sun.altitude_deg for sun in suns]
    assert min(heights) >= LOWEST_SUN_DEG
    assert heights[0] < 10.0
    assert heights[-1] < 10.0
    # At an equinox the sun culminates at 90 degrees less the latitude; steps of half an hour
    # and a declination within half a degree keep the best still near it.
    latitude = abs(study.designs[0].site.latitude_deg)
    assert max(heights) == pytest.approx(90.0 - latitude, abs=1.5)
    times = [sun.when for sun in suns if sun.when is not None]
    assert {(b - a).total_seconds() for a, b in pairwise(times)} == {1800.0}


def test_a_day_of_nothing_is_refused(study: Study) -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        day_suns(study, "equinox", 0.0)
    with pytest.raises(ValueError, match="not a time"):
        day_suns(study, "someday", 30.0)
    with pytest.raises(ValueError, match="long enough"):
        day_suns(study, "equinox", 1400.0)


def test_the_seasons_are_those_of_the_hemisphere(study: Study) -> None:
    heights = [sun.altitude_deg for sun in season_suns(study, "12:00")]
    assert heights[1] == max(heights)
    assert heights[3] == min(heights)
    with pytest.raises(ValueError, match="an hour with the sun up"):
        season_suns(study, "23:00")


def test_captions_leave_the_picture_as_it_is_and_even_its_sides() -> None:
    picture = Image.linear_gradient("L").convert("RGB").resize((201, 99))
    made = captioned(picture, "left", "right")
    assert (made.width % 2, made.height % 2) == (0, 0)
    assert np.array_equal(np.asarray(made)[:99, :200], np.asarray(picture)[:, :200])


def test_a_strip_needs_pictures_alike() -> None:
    one, other = Image.new("RGB", (60, 40)), Image.new("RGB", (50, 40))
    assert strip("t", "s", ["a", "b"], [Row("", [one, one])]).width > 120
    with pytest.raises(ValueError, match="all of one size"):
        strip("t", "s", ["a", "b"], [Row("", [one, other])])
    with pytest.raises(ValueError, match="as many pictures"):
        strip("t", "s", ["a", "b"], [Row("", [one])])


def test_unknown_designs_and_views_are_named(study: Study, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="allowed: as drawn"):
        run_day(study, tmp_path, day="equinox", design="Gothic")
    with pytest.raises(ValueError, match="not a view"):
        run_seasons(study, tmp_path, clock="12:00", view="plan")


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")
def test_a_short_day_gives_a_film_and_a_strip_and_keeps_its_stills(
    study: Study, tmp_path: Path
) -> None:
    design = study.designs[0].name
    totals: list[int] = []

    def run() -> list[Path]:
        outcome = run_day(
            study,
            tmp_path,
            day="equinox",
            design=design,
            step_min=300.0,
            size_px=(64, 40),
            progress=lambda done, total, what: totals.append(total),
        )
        assert outcome.failed == {}
        return list(outcome.made)

    film, board = run()
    assert film.read_bytes()[4:8] == b"ftyp"  # ISO base media file, ISO/IEC 14496-12
    assert Image.open(board).width > 64
    stills = sorted((tmp_path / "as-drawn").iterdir())
    assert len(stills) == totals[0] > 1
    before = [still.stat().st_mtime_ns for still in stills]
    run()
    assert totals[-1] == 0
    assert [still.stat().st_mtime_ns for still in stills] == before
    own = {".in-use", ".massing", "study.json", "render.log", "as-drawn"}
    left = {p.name for p in tmp_path.iterdir()} - own
    assert left == {film.name, board.name}


def test_a_film_of_nothing_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="all in one folder"):
        encode_film([], tmp_path / "a.mp4", frames_per_second=8, log_path=tmp_path / "log")


def test_a_strip_shows_the_porch_large_with_all_of_its_columns_and_cornice(tmp_path) -> None:
    made = design_study(tmp_path)
    series = _Series(made, tmp_path, "elevation", "clay", "draft", (800, 500))
    camera = series.camera()
    left, top, right, foot = porch_box(made, [made.designs[0].name], camera)
    porch = made.designs[0].porch
    half = porch.half_width_m + porch.order.cornice_projection_m
    ends = camera.project([(-half, porch.column_y_m, porch.top_z_m), (half, porch.column_y_m, 0.0)])
    assert left < ends[0, 0]
    assert right > ends[1, 0]
    assert top < ends[0, 1]
    assert foot > ends[1, 1]
    assert right - left < 1.3 * (ends[1, 0] - ends[0, 0])  # the porch, not the house


def design_study(folder):
    file = folder / "ford.yaml"
    file.write_text(
        f"{HEAD}house: {{width: 60 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}}\n"
        "porch: {columns: 4, spacing: 7 ft}\n",
        encoding="utf-8",
    )
    return read_study(file)
