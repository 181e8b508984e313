"""Shadows over time, and what is written of them."""

from __future__ import annotations

import io
import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from rich.console import Console

from massing.cli import main
from massing.design.site import SiteDesign
from massing.findings.shadow import cornice_shadow_m
from massing.present.plots.shadows import (
    below_cornice_m,
    day_line,
    depth_plot,
    mask_image,
    mask_view,
    shade_plot,
    shade_rows,
)
from massing.present.plots.sky import sky_view_plot, sky_xy, sun_path_plot
from massing.present.plots.style import save_plot
from massing.present.reports.shadow_tables import (
    moments_csv,
    print_moments,
    print_raking,
    print_year,
    shadows_json,
)
from massing.shadow.front import Front, ready_front, thinned
from massing.shadow.measure import in_sun
from massing.shadow.study import (
    day_suns,
    days_of,
    facade_grid,
    measure,
    raking_calendar,
    raking_day,
    sky_view,
    soft_edge_m,
    year_of,
    year_suns,
)
from massing.shadow.surfaces import FRIEZE
from massing.study.shadows import write_shadows
from massing.study.study import Study, read_study
from massing.sun.position import front_day, sun_time, to_house_frame
from massing.sun.times import rise_noon_set
from tests.helpers.tables import rows as table_rows
from tests.helpers.written_on_figures import crossed, overlapping

SCENE = """\
title: Shadows over time
site: {place: Nowhere, latitude: 41, longitude: -74, front_faces: S 20 E}
times: [equinox 10:00, winter solstice 15:00]
house: {width: 40 ft, depth: 26 ft, floor: 2 ft, storeys: [13 ft], bays: 5}
porch: {order: pier, columns: 4, height: 10 ft, depth: 8 ft}
roof: {covering: plain}
alternatives:
  Tuscan: {porch: {order: tuscan}}
"""


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Study:
    path = tmp_path_factory.mktemp("scene") / "porch.yaml"
    path.write_text(SCENE, encoding="utf-8")
    return read_study(path)


@pytest.fixture(scope="module")
def fronts(study: Study) -> list[Front]:
    return [ready_front(design, study.models[design.name]) for design in study.designs]


@pytest.fixture(scope="module")
def site(study: Study) -> SiteDesign:
    return study.designs[0].site


# --- days ----------------------------------------------------------------------------------


def test_a_days_suns_are_those_on_the_front(site: SiteDesign) -> None:
    day = date(2026, 3, 20)
    suns = day_suns(day, site)
    assert all(sun.on_front for sun in suns)
    clocks = [sun.when for sun in suns]
    assert {b - a for a, b in pairwise(clocks)} == {timedelta(minutes=10)}
    spell = front_day(day, site)
    assert timedelta(0) <= clocks[0] - spell.first_sun < timedelta(minutes=10)
    assert timedelta(0) <= spell.last_sun - clocks[-1] < timedelta(minutes=10)
    assert days_of(suns) == [day]


def test_a_front_without_sun_has_an_empty_day(site: SiteDesign) -> None:
    assert day_suns(date(2026, 12, 21), replace(site, front_azimuth_deg=0.0)) == []


def test_the_day_of_the_clock_change_has_every_sun_once(site: SiteDesign) -> None:
    for day in (date(2026, 3, 8), date(2026, 11, 1)):
        instants = [sun.when.timestamp() for sun in day_suns(day, site)]
        assert len(set(instants)) == len(instants) > 50


def test_moments_measure_what_the_rule_says(fronts: list[Front], site: SiteDesign) -> None:
    suns = day_suns(date(2026, 12, 21), site, step_min=60)
    checked = 0
    for front in fronts:
        for moment in measure(thinned(front), suns):
            frieze = next(d for d in moment.shade if d.name == FRIEZE)
            assert moment.cornice_rule_m == cornice_shadow_m(front.design, moment.sun)
            assert 0 < moment.soft_edge_m < 0.1 * moment.cornice_rule_m + 1e-3
            if frieze.whole == 0:
                checked += 1
                assert frieze.most_m == pytest.approx(moment.cornice_rule_m, abs=0.002)
                assert below_cornice_m(moment, front.design) == frieze.middle_m
            assert len(moment.reach) == 1
    assert checked > 4


def test_a_sun_behind_the_front_has_no_depths(fronts: list[Front], site: SiteDesign) -> None:
    (moment,) = measure(fronts[0], [sun_time("summer solstice 18:30", site)])
    assert moment.cornice_rule_m is None
    assert moment.shade == ()
    assert moment.in_sun["frieze"] == 0
    (night,) = measure(fronts[0], [sun_time("summer solstice 23:30", site)])
    assert night.reach == ()
    assert set(night.in_sun.values()) == {0.0}
    assert measure(fronts[0], []) == []


def test_the_conventional_light_is_measured_like_a_sun(
    fronts: list[Front], site: SiteDesign
) -> None:
    (moment,) = measure(fronts[1], [sun_time("conventional light", site)])
    frieze = next(d for d in moment.shade if d.name == FRIEZE)
    assert frieze.most_m == pytest.approx(moment.cornice_rule_m, abs=0.002)
    assert ",conventional light,," in moments_csv([moment])


def test_soft_edge_of_the_conventional_shadow(site: SiteDesign) -> None:
    # half a metre before the wall: 11.4 mm, as in the closed forms' published values
    light = sun_time("conventional light", site)
    assert 1000 * soft_edge_m(0.5, light) == pytest.approx(11.4, abs=0.06)


# --- the year ------------------------------------------------------------------------------


def test_a_years_daylight_is_the_sum_of_its_days(site: SiteDesign) -> None:
    suns = year_suns(site, step_min=20)
    days = [date(2026, 1, 1) + timedelta(days=k) for k in range(0, 365, 5)]
    spans = [rise_noon_set(d, 41.0, -74.0, site.time_zone) for d in days]
    mean_h = np.mean([(b - a).total_seconds() / 3600 for a, _, b in spans])
    # sunrise to sunset takes in the disc's half and the air's bending at the horizon
    assert suns.daylight_h.sum() == pytest.approx(365 * mean_h, rel=0.012)
    assert sum(suns.days) == pytest.approx(365)
    assert suns.days[0] == pytest.approx(186.4, abs=0.1)  # equinox to equinox, northern summer
    assert suns.daylight_h[0] > suns.daylight_h[1]
    assert (suns.on_front_h < suns.daylight_h).all()


@pytest.mark.parametrize("faces", [90.0, 145.0, 265.0])
def test_hours_on_a_front_do_not_hang_on_the_minutes_that_are_asked(
    site: SiteDesign, faces: float
) -> None:
    turned = replace(site, front_azimuth_deg=faces)
    usual, dense = (year_suns(turned, *step) for step in ((), (4,)))
    a_day = [suns.on_front_h / np.array(suns.days) for suns in (usual, dense)]
    assert a_day[0] == pytest.approx(a_day[1], abs=0.02)


def test_the_summer_half_is_the_hemispheres_own(site: SiteDesign) -> None:
    south = replace(site, latitude_deg=-41.0)
    suns = year_suns(south)
    assert suns.daylight_h[0] > suns.daylight_h[1]
    assert suns.days[0] == pytest.approx(178.6, abs=0.1)


def test_polar_year(site: SiteDesign) -> None:
    suns = year_suns(replace(site, latitude_deg=78.0))
    assert suns.daylight_h[0] > 3800
    assert suns.daylight_h[1] < 800


def test_a_years_hours_are_within_what_the_sky_gives(fronts: list[Front], site: SiteDesign) -> None:
    suns = year_suns(site, step_min=240)
    year = year_of(fronts[1], suns, points=1500)
    assert 700 < np.isfinite(year.map_h[0]).sum() < 1700
    assert np.nanmin(year.map_h) >= 0
    assert (np.nanmax(year.map_h, axis=(1, 2)) <= suns.daylight_h + 1e-9).all()
    for name in ("frieze", "wall, first floor", "window 1, first floor"):
        hours = year.surfaces[name]
        assert (hours <= suns.on_front_h + 1e-9).all()
        assert hours.sum() > 0
    # a summer sun stands high and is kept off by the cornice
    assert year.surfaces["frieze"][0] < year.surfaces["frieze"][1]


def test_facade_grid_has_about_the_points_asked(study: Study) -> None:
    xs, zs = facade_grid(study.designs[0], 20_000)
    assert len(xs) * len(zs) == pytest.approx(20_000, rel=0.03)
    assert np.diff(xs).mean() == pytest.approx(-np.diff(zs).mean())


# --- the sky -------------------------------------------------------------------------------


def test_sky_view_agrees_with_the_suns_themselves(fronts: list[Front], site: SiteDesign) -> None:
    view = sky_view(fronts[1], "windows, first floor", step_deg=6.0)
    assert view.share.shape == (15, 60)
    rng = np.random.default_rng(8)
    for a, b in zip(rng.integers(0, 15, 6), rng.integers(0, 60, 6), strict=True):
        sun = to_house_frame(6.0 * a + 3, 6.0 * b + 3, site.front_azimuth_deg)
        shares = in_sun(thinned(fronts[1]), [sun])
        windows = [s[0] for name, s in shares.items() if name.startswith("window")]
        assert view.share[a, b] == pytest.approx(np.mean(windows))
    middle = view.azimuth_edges_deg[:-1] + 3
    behind = np.cos(np.radians(middle - site.front_azimuth_deg)) < -0.1
    assert (view.share[:, behind] == 0).all()
    assert view.share[:3, ~behind].max() > 0.6


def test_sky_view_of_no_surface_says_what_there_is(fronts: list[Front]) -> None:
    with pytest.raises(ValueError, match="allowed: frieze; architrave; columns"):
        sky_view(fronts[0], "attic")


# --- raking light --------------------------------------------------------------------------


def test_best_raking_light_is_raking_and_strong(site: SiteDesign) -> None:
    for raking in raking_calendar(site)[::3]:
        assert raking.best is not None
        assert raking.best.raking
        inside = [a <= raking.best.when <= b for a, b in raking.day.raking]
        assert any(inside)
        assert raking.from_where in ("above", "the left", "the right")


def test_where_raking_light_comes_from(site: SiteDesign) -> None:
    south = replace(site, front_azimuth_deg=180.0)
    assert raking_day(date(2026, 6, 21), south).from_where == "above"
    winter = raking_day(date(2026, 12, 21), replace(site, front_azimuth_deg=240.0))
    assert winter.from_where == "the right"  # a morning sun on a front that looks south-west
    north = raking_day(date(2026, 12, 21), replace(site, front_azimuth_deg=0.0))
    assert north.best is None
    assert north.from_where == ""


# --- tables --------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def moments(study: Study, fronts: list[Front]) -> list:
    by_front = [measure(front, study.suns) for front in fronts]
    return [m for group in zip(*by_front, strict=True) for m in group]


def printed(show) -> str:
    console = Console(file=io.StringIO(), width=140, color_system=None)
    show(console)
    return console.file.getvalue()


def test_moments_are_printed_side_by_side(moments: list) -> None:
    text = printed(lambda console: print_moments(console, moments, "feet"))
    assert "equinox 10:00 · 2026-03-20 10:00 EDT (UTC-04:00, daylight saving time)" in text
    assert "as drawn" in text
    assert "Tuscan" in text
    for row in ("cornice shadow by the profile angle", FRIEZE, "windows, first floor in sun"):
        assert row in text
    assert "(+" in text or "(−" in text  # how much deeper than as drawn
    assert "lx in open shade" in text


def test_a_note_is_printed_where_there_is_no_sun(fronts: list[Front], site: SiteDesign) -> None:
    found = measure(fronts[0], [sun_time("summer solstice 18:30", site)])
    text = printed(lambda console: print_moments(console, found, "metric"))
    assert "the sun is behind the front" in text


def test_csv_and_json_say_the_same(moments: list, site: SiteDesign) -> None:
    rows = table_rows(moments_csv(moments))
    values = json.loads(shadows_json(site, moments, raking_calendar(site)[:1]))
    assert {row["design"] for row in rows} == {m["design"] for m in values["moments"]}
    first = values["moments"][0]
    shade = next(d for d in first["shade"] if d["name"] == FRIEZE)
    row = next(r for r in rows if r["figure"] == "shade" and r["where"] == FRIEZE)
    assert float(row["mean_m"]) == pytest.approx(shade["mean_m"], abs=1e-4)
    assert row["clock"] == first["sun"]["when"]
    share = next(r for r in rows if r["figure"] == "in sun" and r["where"] == "frieze")
    assert float(share["share"]) == pytest.approx(first["in_sun"]["frieze"], abs=1e-4)
    assert all(len(row) == 15 and None not in row for row in rows)


def test_year_and_raking_tables(fronts: list[Front], site: SiteDesign) -> None:
    suns = year_suns(site, step_min=480)
    years = [year_of(front, suns, points=300) for front in fronts]
    text = printed(lambda console: print_year(console, years, suns, site))
    assert "Nowhere" in text
    assert "America/New_York" in text
    assert "window 1, first floor" in text
    text = printed(lambda console: print_raking(console, raking_calendar(site), site))
    assert text.count("21 ") >= 12


# --- plots ---------------------------------------------------------------------------------


def words_of(figure) -> str:
    found = [t.get_text() for t in figure.texts]
    found += [figure.get_suptitle()]
    for axes in figure.axes:
        found += [axes.get_title(loc="left"), *(t.get_text() for t in axes.texts)]
    for legend in (*figure.legends, *filter(None, (a.get_legend() for a in figure.axes))):
        found += [t.get_text() for t in legend.get_texts()]
    return "\n".join(found)


def test_plots_say_site_date_and_zone(
    study: Study, fronts: list[Front], site: SiteDesign, tmp_path: Path
) -> None:
    day = date(2026, 3, 20)
    suns = day_suns(day, site, step_min=60)
    by_design = [measure(thinned(front, 30), suns) for front in fronts]
    figures = {
        "depth": depth_plot(by_design, study.designs, day, "feet"),
        "shade": shade_plot(fronts, suns, day, "metric"),
        "path": sun_path_plot(site, study.suns),
        "sky": sky_view_plot([sky_view(f, "porch floor", 10.0) for f in fronts], site),
    }
    for name, figure in figures.items():
        assert overlapping(figure) == [], name
        assert [t for t in crossed(figure) if len(t) > 1] == [], name  # a sun's letter is on it
        words = words_of(figure)
        assert "Nowhere" in words
        assert "America/New_York" in words
        assert "2026" in words
        save_plot(figure, tmp_path / f"{name}.png", dpi=40)
        with Image.open(tmp_path / f"{name}.png") as picture:
            assert picture.width > 250
    assert {p.name for p in tmp_path.iterdir()} == {f"{name}.png" for name in figures}
    assert "foot of frieze" in words_of(figures["depth"])
    ticks = [t.get_text() for a in figures["depth"].axes for t in a.get_yticklabels()]
    assert "1'-0\"" in ticks  # feet and inches, of a scene in feet
    for axes in figures["depth"].axes:
        low, high = sorted(axes.get_ylim())
        for line in axes.get_lines():
            y = np.asarray(line.get_ydata(), dtype=float)
            assert ((y >= low) & (y <= high)).all()  # each curve is whole in the frame
    assert "Tuscan" in words_of(figures["depth"])
    assert "architrave" in words_of(figures["shade"])
    assert "equinox 10:00" in words_of(figures["path"])


def test_day_line_states_daylight_saving(site: SiteDesign) -> None:
    assert "UTC-04:00, daylight saving time" in day_line(date(2026, 7, 1), site)
    assert "daylight" not in day_line(date(2026, 1, 1), site)


def test_rows_of_shade_follow_the_sun(fronts: list[Front], site: SiteDesign) -> None:
    suns = [sun_time("2026-12-21 12:00", site), sun_time("summer solstice 13:00", site)]
    zs, share = shade_rows(fronts[1], suns, top_z=4.0)
    assert share.shape == (len(zs), 2)
    assert ((share >= 0) & (share <= 1))[np.isfinite(share)].all()
    assert np.nanmean(share[:, 0]) > np.nanmean(share[:, 1])


def test_sky_plan() -> None:
    x, y = sky_xy(np.array([0.0, 0.0, 90.0]), np.array([0.0, 270.0, 10.0]))
    assert (x, y) == (pytest.approx([0, -1, 0]), pytest.approx([1, 0, 0]))


def test_mask_is_white_in_sun_dark_in_shade_clear_in_the_sky(
    fronts: list[Front], site: SiteDesign
) -> None:
    sun = sun_time("winter solstice 12:00", site)
    image = mask_image(fronts[1], mask_view(fronts[1], metres_per_pixel=0.05), sun)
    assert image.mode == "LA"
    grey, alpha = (np.asarray(band) for band in image.split())
    assert set(np.unique(grey[alpha == 255])) == {70, 255}
    assert (alpha[0] == 0).mean() > 0.5  # sky over the roof
    assert alpha[-1, alpha.shape[1] // 2] == 255  # the steps
    assert (grey[alpha == 255] == 255).mean() > 0.4


# --- the report ----------------------------------------------------------------------------


@pytest.fixture
def coarse(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few suns and few points, for speed."""
    report = "massing.study.shadows."
    monkeypatch.setattr(report + "day_suns", lambda day, site: day_suns(day, site, 60))
    monkeypatch.setattr(report + "year_suns", lambda site: year_suns(site, 1980))
    monkeypatch.setattr(report + "year_of", lambda front, suns: year_of(front, suns, 2000))
    monkeypatch.setattr(report + "sky_view", lambda front, group: sky_view(front, group, 10.0))
    monkeypatch.setattr(report + "mask_view", lambda front: mask_view(front, 0.05))


@pytest.mark.usefixtures("coarse")
def test_report_writes_whole_files_and_says_what_it_cannot_show(tmp_path: Path) -> None:
    path = tmp_path / "north.yaml"
    path.write_text(SCENE.replace("S 20 E", "N"), encoding="utf-8")
    study = read_study(path)
    said: list[str] = []
    folder = tmp_path / "out"
    report = write_shadows(study, folder, say=said.append)
    assert "on 2026-12-21 the front has no direct sun" in said
    assert set(report.made) == {
        p.relative_to(folder).as_posix()
        for p in folder.rglob("*")
        if p.is_file() and p.name != ".massing"  # the mark of the tool's own folder
    }
    assert "shadows.csv" in report.made
    assert "shadows.json" in report.made
    assert not any(name.startswith("day_2026-12-21") for name in report.made)
    assert not any("masks" in name and "winter" in name for name in report.made)
    assert len(report.moments) == 4
    assert report.years == ()


@pytest.mark.usefixtures("coarse")
def test_designs_measured_by_others_give_the_same_files(tmp_path: Path) -> None:
    path = tmp_path / "porch.yaml"
    path.write_text(SCENE, encoding="utf-8")
    study = read_study(path)
    write_shadows(study, tmp_path / "here", say=lambda text: None)
    with ThreadPoolExecutor(1) as others:
        write_shadows(study, tmp_path / "there", others=others, say=lambda text: None)
    for name in ("shadows.csv", "shadows.json", "day_2026-03-20.csv"):
        assert (tmp_path / "here" / name).read_bytes() == (tmp_path / "there" / name).read_bytes()


@pytest.mark.usefixtures("coarse")
def test_command_prints_tables_and_names_the_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    scene = tmp_path / "porch.yaml"
    scene.write_text(SCENE.replace("equinox 10:00, ", ""), encoding="utf-8")
    folder = tmp_path / "out"
    assert main(["shadows", str(scene), "--out", str(folder)]) == 0
    said = capsys.readouterr()
    assert "cornice shadow by the profile angle" in said.out
    assert "Raking light on the front" in said.out
    assert str(folder) in said.out.replace("\n", "")
    assert (folder / "shadows.json").exists()
    scene.write_text(SCENE.replace("equinox 10:00", "2026-03-08 02:30"), encoding="utf-8")
    assert main(["shadows", str(scene), "--out", str(tmp_path / "none")]) == 2
    refused = capsys.readouterr().err
    assert "porch.yaml:3: times" in refused
    assert "does not exist in America/New_York" in refused
    assert not (tmp_path / "none").exists()


@pytest.mark.usefixtures("coarse")
def test_report_of_a_year(study: Study, tmp_path: Path) -> None:
    report = write_shadows(study, tmp_path, year=True, say=lambda text: None)
    assert {"sun_hours.csv", "sun_hours.png"} <= set(report.made)
    values = json.loads((tmp_path / "shadows.json").read_text())
    assert set(values["year"]["designs"]) == {"as drawn", "Tuscan"}
    assert (tmp_path / "masks").is_dir()
    rows = table_rows((tmp_path / "sun_hours.csv").read_text())
    front = [r for r in rows if r["where"] == "plane of the front" and r["design"] == "Tuscan"]
    assert sum(float(r["hours"]) for r in front) == pytest.approx(
        report.suns.on_front_h.sum(), abs=0.2
    )
