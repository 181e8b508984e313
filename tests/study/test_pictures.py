"""Which pictures a scene asks for, and what the renderer is handed for each."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from massing import __version__
from massing.practice.cautions import METADATA
from massing.study import pictures as made
from massing.study.pictures import (
    SIZES_PX,
    choose,
    focus_points,
    own_camera,
    pictures,
    shot_of,
    small_pictures,
    spare_sky,
)
from massing.study.study import read_study
from massing.view.cameras import looking

SCENE = """\
title: House by the ford
site:
  {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S, ground_slope: {along: "1:20"}}
times: [winter solstice 12:00, conventional light, summer solstice 10:00]
framing: shared
views: [elevation, close-up, section, elevation]
looks: [clay, drawn, clay]
cameras:
  - name: from the gate
    stand: {along: 4 m, before: 20 m}
    look_at: {along: 1 m, before: 0 m, height: 3 m}
    lens: 50 mm
sheet: {border: true}
house: {width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}
porch: {order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}
alternatives:
  Taller:
    porch: {floor: 30 in, balustrade: {}, depth: 9 ft}
    house: {floor: 30 in}
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("pictures")


def study_of(folder, text):
    path = folder / "scene.yaml"
    path.write_text(text)
    return read_study(path)


@pytest.fixture(scope="module")
def study(folder):
    return study_of(folder, SCENE)


@pytest.fixture(scope="module")
def asked(study):
    return pictures(study, "draft", (64, 40), ("jpg",))


def test_every_design_sun_view_and_look_once(asked):
    found = [(p.design, p.sun.label, p.view, p.look) for p in asked]
    views = [("elevation", "clay"), ("elevation", "drawn"), ("close-up", "clay")]
    views += [("section", "clay"), ("from the gate", "clay")]
    suns = ("winter solstice 12:00", "conventional light", "summer solstice 10:00")
    assert found == [
        (design, sun, view, look)
        for design in ("as drawn", "Taller")
        for sun in suns
        for view, look in views
    ]
    assert asked[0].path == "as-drawn/elevation_winter-solstice-12-00_clay.png"
    assert asked[-1].path == "taller/from-the-gate_summer-solstice-10-00_clay.png"
    assert len({p.path for p in asked}) == len({p.key for p in asked}) == len(asked) == 30
    for picture in asked:
        assert (picture.quality, picture.also) == ("draft", ("jpg",))
        assert (picture.camera.width_px, picture.camera.height_px) == (64, 40)


def test_designs_share_a_camera_of_each_view(asked):
    cameras = {(p.view, p.camera) for p in asked}
    assert len(cameras) == 4
    assert {camera.name for _, camera in cameras} == {view for view, _ in cameras}


def test_sizes_follow_the_quality(study):
    assert SIZES_PX == {"draft": (800, 500), "final": (1600, 1000)}
    for quality, size in SIZES_PX.items():
        camera = pictures(study, quality)[0].camera
        assert (camera.width_px, camera.height_px) == size
    assert pictures(study, "final")[0].also == ()


def test_small_pictures_stand_for_those_at_least_twice_as_wide(study, asked):
    assert small_pictures(study, []) == {}
    assert small_pictures(study, asked) == {}
    for width, height, tall in ((640, 400, 200), (900, 601, 214)):
        larger = pictures(study, "final", (width, height))
        small = small_pictures(study, larger)
        assert set(small) == {p.path for p in larger}
        assert {(p.camera.width_px, p.camera.height_px) for p in small.values()} == {(320, tall)}
        assert {p.quality for p in small.values()} == {"draft"}
    assert small_pictures(study, pictures(study, "draft", (639, 400))) == {}


def test_a_shot_is_the_picture_in_the_renderer_s_words(study, asked, folder):
    first, drawn = asked[0], asked[1]
    shot = shot_of(study, first, Path("out"))
    assert shot.output == Path("out/as-drawn/elevation_winter-solstice-12-00_clay.png")
    assert shot_of(study, first).output == Path(first.path)
    assert (shot.camera, shot.look, shot.quality, shot.also) == (
        first.camera,
        "clay",
        "draft",
        ("jpg",),
    )
    sun = study.suns[0]
    assert (shot.sun_direction, shot.altitude_deg) == (sun.direction, sun.altitude_deg)
    assert (shot.beam_w_m2, shot.diffuse_w_m2) == (sun.dni_w_m2, sun.dhi_w_m2)
    assert sun.dni_w_m2 > 100.0 > 10.0 < sun.dhi_w_m2
    assert shot.sky == "clear"
    assert shot.metadata["Title"] == "House by the ford: as drawn"
    said = shot.metadata["Description"]
    assert said.startswith("Front elevation, clay model; Anywhere · 21 December ")
    assert shot.metadata["Software"] == f"massing {__version__}, draft"
    assert METADATA.items() <= shot.metadata.items()
    assert shot_of(study, drawn).look == "drawn"
    clouded = study_of(folder, f"sky: high cloud\n{SCENE}")
    assert shot_of(clouded, first).sky == "high cloud"


def test_broad_leaved_trees_are_bare_in_the_winter_of_the_place(study, asked):
    by_sun = {p.sun.label: shot_of(study, p).bare for p in asked}
    assert by_sun == {
        "winter solstice 12:00": True,
        "conventional light": False,
        "summer solstice 10:00": False,
    }
    south = tuple(replace(d, site=replace(d.site, latitude_deg=-44.0)) for d in study.designs)
    turned = replace(study, designs=south)
    assert {p.sun.label: shot_of(turned, p).bare for p in asked} == {
        "winter solstice 12:00": False,
        "conventional light": False,
        "summer solstice 10:00": True,
    }


def test_a_border_is_lettered_where_the_scene_asks_for_one(study, asked, folder):
    by = {(p.design, p.sun.label, p.look, p.view): shot_of(study, p).lettering for p in asked}
    assert by["as drawn", "conventional light", "drawn", "elevation"] == (
        "as drawn",
        "House by the ford · front elevation · conventional light",
        "feet",
    )
    line = "House by the ford · front elevation · summer solstice 10:00"
    assert by["Taller", "summer solstice 10:00", "drawn", "elevation"] == ("Taller", line, "feet")
    assert {letters for key, letters in by.items() if key[2] == "clay"} == {()}
    for sheet, words in (
        (
            "sheet: {border: true, project: The Mill}",
            "The Mill · front elevation · conventional light",
        ),
        ("sheet: {border: false, project: The Mill}", None),
        ("", None),
    ):
        other = study_of(folder, SCENE.replace("sheet: {border: true}", sheet))
        picture = next(p for p in asked if p.look == "drawn" and p.sun.when is None)
        found = shot_of(other, picture).lettering
        assert found == (() if words is None else ("as drawn", words, "feet"))


def test_a_section_alone_has_heights_at_its_side(study, asked):
    for picture in asked:
        levels = shot_of(study, picture).levels
        if picture.view != "section":
            assert levels == ()
            continue
        heights = [z for _, z in levels]
        assert heights == sorted(heights)
        assert len(set(heights)) == len(heights) >= 6
        design = next(d for d in study.designs if d.name == picture.design)
        named = {z: name for name, z in levels}
        assert "0" not in named[0.0].split()[-1]  # the ground bears no figure
        floor = round(design.porch.floor_z_m, 3)
        top = round(design.porch.top_z_m, 3)
        assert floor in named
        assert top in named
        whole = "2'-6\"" if picture.design == "Taller" else named[floor].rsplit(" ", 1)[-1]
        assert whole in named[floor]


def test_one_s_own_camera_stands_and_looks_over_the_ground_there(study, asked):
    picture = next(p for p in asked if p.view == "from the gate")
    ground = study.designs[0].site.ground
    at, to = (float(ground.z_m(x, y)) for x, y in ((4.0, -20.0), (1.0, 0.0)))
    assert at != to
    wanted = looking(
        "from the gate",
        (4.0, -20.0, 1.6 + at),
        (1.0, 0.0, 3.0 + to),
        focal_mm=50.0,
        width_px=64,
        height_px=40,
    )
    assert picture.camera == wanted
    assert picture.camera.project(np.array([[1.0, 0.0, 3.0 + to]]))[0, :2] == pytest.approx(
        [32, 20]
    )
    level = own_camera(study.loaded.scene.cameras[0], 64, 40)
    assert level.position_m == pytest.approx((4.0, -20.0, 1.6))


def test_close_views_of_one_s_own_stand_before_each_porch_at_one_scale(folder, asked):
    own = study_of(folder, SCENE.replace("framing: shared", "framing: own"))
    found = {(p.design, p.view): p.camera for p in pictures(own, "draft", (64, 40))}
    for view in ("elevation", "section", "from the gate"):
        assert found["as drawn", view] == found["Taller", view]
    near, far = found["as drawn", "close-up"], found["Taller", "close-up"]
    assert near != far
    assert (near.width_px, near.height_px) == (far.width_px, far.height_px) == (64, 40)
    lengths = []
    for design in own.designs:
        camera = found[design.name, "close-up"]
        corner = focus_points([design])["capital"][-1]
        ends = np.array([corner, corner + camera.axes[0]])  # a metre across its view
        across = camera.project(ends)[:, 0]
        lengths.append(across[1] - across[0])
        assert 0.0 < across[0] < 64.0
    assert lengths[0] == pytest.approx(lengths[1])
    assert made.CLOSE_VIEWS == ("close-up", "cornice", "under the porch", "walk")


# --- what is picked ------------------------------------------------------------------------


def test_what_is_not_picked_of_a_kind_is_whole(study):
    found = choose(study, ["taller", "FROM  the gate"])
    assert found == {
        "designs": {"Taller"},
        "times": {"winter solstice 12:00", "conventional light", "summer solstice 10:00"},
        "views": {"from the gate"},
        "looks": {"clay", "drawn"},
    }
    assert choose(study, [])["designs"] == {"as drawn", "Taller"}
    assert choose(study, ["winter", "summer"])["times"] == {
        "winter solstice 12:00",
        "summer solstice 10:00",
    }
    assert choose(study, ["clay", "close", "light"])["times"] == {"conventional light"}
    for word, allowed in (
        ("solstice", "one of winter solstice 12:00, summer solstice 10:00 by more of its name"),
        ("nothing", "as drawn, Taller, winter solstice 12:00, conventional light, "),
        (" ", "as drawn, Taller, winter solstice 12:00, "),
    ):
        with pytest.raises(ValueError, match=f"--only: given {word}, allowed: {allowed}"):
            choose(study, [word])


def test_a_word_that_begins_a_name_goes_before_one_that_holds_it(folder):
    text = SCENE.replace("Taller:", "Drawn again:")
    by_name = choose(study_of(folder, text), ["drawn"])  # a look of that very name goes first
    assert by_name["designs"] == {"as drawn", "Drawn again"}
    assert by_name["looks"] == {"drawn"}
    by_its_beginning = choose(study_of(folder, text.replace(" drawn,", "")), ["drawn"])
    assert by_its_beginning["designs"] == {"Drawn again"}


# --- what the close views look at ----------------------------------------------------------


def test_close_views_look_at_the_ends_of_every_porch(study):
    found = focus_points(study.designs)
    plain, tall = (d.porch for d in study.designs)
    ends = [
        [x, p.column_y_m, p.column_top_z_m]
        for p in (plain, tall)
        for x in (p.axes_m[0], p.axes_m[-1])
    ]
    assert found["capital"] == pytest.approx(np.array(ends))
    reach = [p.order.upper_diameter_m / 2 + p.order.cornice_projection_m for p in (plain, tall)]
    across = max(p.axes_m[-1] + r for p, r in zip((plain, tall), reach, strict=True))
    front = min(p.column_y_m - r for p, r in zip((plain, tall), reach, strict=True))
    tops = [p.top_z_m for p in (plain, tall)]
    low = min(p.column_top_z_m for p in (plain, tall))
    assert found["entablature"] == pytest.approx(
        np.array([[-across, front, low], [across, 0.0, max(tops)]])
    )
    (left, foremost, foot), (right, back, top) = found["porch"]
    assert (left, right, back) == pytest.approx((-across, across, 0.0))
    steps = [p.column_y_m - (p.floor_edge_m + p.steps.run_m) for p in (plain, tall)]
    assert min(steps) < front
    assert foremost == pytest.approx(min(steps))
    assert foot == pytest.approx(min(0.0, *(p.steps.foot_z_m for p in (plain, tall))))
    assert top == pytest.approx(tall.top_z_m + tall.balustrade.height_m)
    assert plain.balustrade is None


def test_where_the_cornice_reaches_beyond_the_steps_it_is_the_foremost(study):
    design = study.designs[0]
    porch = replace(design.porch, floor_edge_m=0.0, flight=replace(design.porch.steps, risers=1))
    order = porch.order
    wanted = porch.column_y_m - order.upper_diameter_m / 2 - order.cornice_projection_m
    assert focus_points([replace(design, porch=porch)])["porch"][0, 1] == pytest.approx(wanted)


def porches(*axes, plinth=0.5):
    order = SimpleNamespace(plinth_width_m=plinth)
    of = [SimpleNamespace(axes_m=a, order=order, centre_m=0.0) for a in axes]
    return [SimpleNamespace(porch=porch) for porch in of]


@pytest.mark.parametrize(
    ("axes", "plinth", "place"),
    [
        ([(-3.0, -1.0, 1.0, 3.0)], 0.5, 0.0),  # a bay in the middle
        ([(-4.0, 0.0, 4.0)], 0.5, 2.0),  # a column there: the next bay to the right
        ([(-3.0, -1.0, 1.0, 3.0), (-4.0, 0.0, 4.0)], 0.5, 2.0),  # clear of both
        ([(-4.0, -1.0, 1.0, 4.0)], 1.0, 2.5),  # the middle no wider than a plinth
        ([(-4.0, -1.0, 1.0, 4.0)], 0.99, 0.0),
        ([(-5.0, -2.0, 2.0, 5.0), (-1.5, 1.5)], 0.5, 0.0),
        ([(-6.0, 0.0, 6.0), (-2.5, 0.0, 2.5)], 0.5, 1.25),  # within the narrowest
    ],
)
def test_the_view_along_a_porch_goes_through_a_bay_of_all(axes, plinth, place):
    assert made._open_bay_m(porches(*axes, plinth=plinth)) == pytest.approx(place)


def test_blank_sky_over_a_wide_low_house(study):
    """A sixth of the picture's height, and a little less, is left over the highest roof."""
    camera = pictures(study, "draft", (64, 400))[0].camera
    corners = study.bounds_m
    top = camera.project(np.array([[0.0, 0.0, corners[1, 2]]]))[0, 1] / 400
    assert top > 0.3
    assert spare_sky(study, camera) == pytest.approx((top - 0.16) / 0.84)
    wide = pictures(study, "draft", (640, 40))[0].camera
    assert spare_sky(study, wide) == 0.0
    for view in ("close-up", "section"):
        other = next(p for p in pictures(study, "draft", (64, 400)) if p.view == view).camera
        assert spare_sky(study, other) == 0.0


EVENING = SCENE.replace("looks: [clay, drawn, clay]", "looks: [materials, clay]\nsky: dusk")
EVENING = EVENING.replace("[elevation, close-up, section, elevation]", "[elevation, street]")


def test_at_dusk_streets_in_materials_are_of_the_evening_and_the_rest_keep_their_hour(folder):
    evening = study_of(folder, EVENING)
    for picture in pictures(evening, "draft", (64, 40)):
        shot = shot_of(evening, picture)
        late = picture.look == "materials" and picture.camera.kind != "ortho"
        late = late and picture.sun.when is not None  # the conventional light has no day
        assert shot.sky == ("dusk" if late else "clear")
        assert (shot.sun_direction[2] < 0.0) == late
        assert ("dusk, lamps lit" in shot.metadata["Description"]) == late


def test_a_house_is_weathered_where_the_scene_says_so_and_in_its_materials(folder):
    worn = study_of(folder, EVENING.replace("sky: dusk", "weathering: light"))
    for picture in pictures(worn, "draft", (64, 40)):
        assert shot_of(worn, picture).weathered == (picture.look == "materials")
    plain = study_of(folder, EVENING)
    assert not any(shot_of(plain, p).weathered for p in pictures(plain, "draft", (64, 40)))
