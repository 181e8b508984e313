"""Whole schedules and quantities of six invented houses, worked by hand from their scenes.

The shafts are so thick that a part of the plate is a whole number of millimetres (half inches in
``coupled``): Tuscan 360, 480 and 576 mm, a part 15, 20 and 24; Doric 480 mm and 12 in, a part
20 mm and 1/2 in; Ionic 360 mm, a part 10. So each member is its parts in ``MEMBERS`` and
``VIGNOLA`` of ``tests/published/test_orders.py``, which name their sources, times that; floors,
axes, openings and flights are what the scene says or their sums and even divisions.
``worked/*.sizes`` has a row for each size, in millimetres: member, number, height, top, over what,
across, of what.

A run of moulding is the front and two returns as long as the frieze's face, and four times its
projection for two outer corners; eaves go round the house and have eight.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from massing.build.house import build
from massing.present.reports.quantities import in_words, quantities
from massing.present.reports.schedule import HEADINGS, schedule, schedule_csv, text_rows
from massing.present.reports.sizes import Size, length_text, rounded
from massing.resolve.design import resolve
from massing.scene.spec import Scene

WORKED = Path(__file__).parent / "worked"
HOUSES = sorted(path.stem for path in WORKED.glob("*.yaml"))


def worked(name):
    text = (WORKED / f"{name}.yaml").read_text(encoding="utf-8")
    return resolve(Scene.model_validate(YAML(typ="safe", pure=True).load(text)), name)


@cache
def house(name):
    return worked(name)


def mm(length_m):
    return "" if length_m is None else f"{1000 * length_m:.3f}".rstrip("0").rstrip(".")


def row(size: Size):
    sizes = [mm(size.height_m), mm(size.top_m), size.datum, mm(size.across_m), size.across_of]
    return " | ".join([size.group, size.item, str(size.count), *sizes]).rstrip()


@pytest.mark.parametrize("name", HOUSES)
def test_every_size_of_a_house_worked_by_hand(name):
    wanted, group = [], ""
    for line in (WORKED / f"{name}.sizes").read_text(encoding="utf-8").splitlines():
        if line.startswith("# "):
            group = line[2:]
        else:
            wanted.append(f"{group} | {line}")
    assert [row(size) for size in schedule(worked(name))] == wanted


def test_there_are_six_houses():
    assert HOUSES == ["arcade", "bow", "coupled", "gabled", "in_antis", "tuscan"]


RUNS = {
    # 2 x 4.59 m along the front, 2 x 3.19 back to the wall
    ("tuscan", "Entablature: frieze", "frieze"): 15.56,
    ("tuscan", "Entablature: architrave", "taenia"): 15.56 + 4 * 0.04,
    ("tuscan", "Entablature: cornice", "cymatium"): 15.56 + 4 * 0.36,
    ("tuscan", "House cornice", "cymatium"): 2 * 25.0 + 8 * 0.54,
    ("tuscan", "House cornice", "bed mould"): 2 * 25.0 + 8 * 0.12,
    # 2 x 3.8 and 2 x 3.2; the order on it has a neck of 300 mm and stands on the same axes
    ("arcade", "Entablature: frieze", "frieze"): 14.0,
    ("arcade", "Entablature: cornice", "cymatium"): 14.0 + 4 * 0.47,
    ("arcade", "Above, Entablature: frieze", "frieze"): 13.8,
    ("arcade", "Above, Entablature: architrave", "fillet"): 13.8 + 4 * 0.05,
}
PIECES = {
    ("tuscan", "Porch: pieces", "columns"): 6,
    ("tuscan", "Porch: pieces", "pilasters"): 2,
    ("coupled", "Porch: pieces", "columns"): 4,
    ("coupled", "Porch: pieces", "engaged columns"): 2,
    ("coupled", "Porch: pieces", "triglyphs"): 23,
    ("bow", "Porch: pieces", "columns"): 4,
    ("bow", "House: pieces", "pilasters"): 2,
    ("arcade", "Porch: pieces", "columns"): 8,
    # over every axis and two between, six to a return: 10 and 2 x 6, and that at the corner twice
    ("arcade", "Porch: pieces", "triglyphs"): 23,
    ("arcade", "Porch: pieces", "mutules"): 23,
}
AREAS = {
    # 50 m round, 9.8 high; 15 windows of 1.2 x 2.2, a door of 1.24 x 2.32, 16 of 0.9 x 1.6
    ("tuscan", "House: walls"): 490.0 - 15 * 2.64 - 1.24 * 2.32 - 16 * 1.44,
    # 56 m round, 9.6 high, less where wings 4 m and 7 m broad stand against it
    ("bow", "House: walls"): 537.6 - 4 * 6.2 - 7 * 4.1 - 7 * 2.0 - 1.04 * 2.698 - 11 * 1.35,
    ("bow", "Front wing: walls"): (2 * 3 + 4) * 6.2 - 3 * 2.0,
    ("bow", "Right wing: walls"): (2 * 5 + 7) * 4.1 - 4 * 2.0 - 1.14 * 2.2543,
}


@cache
def amounts(name):
    design = house(name)
    return {(q.group, q.item): q for q in quantities(design, build(design))}


@pytest.mark.parametrize(("name", "group", "item"), RUNS)
def test_a_moulding_s_length_is_its_path_and_its_corners(name, group, item):
    found = amounts(name)[group, item]
    assert found.unit == "m"
    assert found.amount == pytest.approx(RUNS[name, group, item], abs=1e-6)
    assert "at its outer edge" in found.how or "round the house" in found.how


@pytest.mark.parametrize(("name", "group", "item"), PIECES)
def test_pieces_are_counted_by_what_they_are(name, group, item):
    found = amounts(name)[group, item]
    assert (found.amount, found.unit, found.how) == (PIECES[name, group, item], "", "as built")


@pytest.mark.parametrize(("name", "group"), AREAS)
def test_walls_are_their_faces_less_openings_and_wings(name, group):
    found = amounts(name)[group, "net area"]
    assert found.unit == "m2"
    assert found.amount == pytest.approx(AREAS[name, group], abs=0.01)


def test_a_house_without_columns_on_its_walls_counts_none():
    assert ("House: pieces", "pilasters") not in amounts("tuscan")
    assert ("Porch: pieces", "engaged columns") not in amounts("tuscan")
    assert ("Above, Entablature: frieze", "frieze") not in amounts("tuscan")


def test_only_eaves_that_go_round_are_measured_round():
    assert ("House cornice", "cymatium") not in amounts("coupled")  # under a gable
    assert ("House cornice", "cymatium") in amounts("bow")


@pytest.mark.parametrize(
    ("amount", "unit", "units", "words"),
    [
        (3.048, "m", "feet", (10.0, "ft")),
        (1.0, "m2", "feet", (10.8, "sq ft")),  # 1 / 0.3048^2 = 10.764
        (2.346, "m", "metric", (2.35, "m")),
        (2.346, "m2", "metric", (2.35, "m2")),
        (7, "", "feet", (7, "")),
        (7, "", "metric", (7, "")),
    ],
)
def test_amounts_are_in_the_builder_s_units(amount, unit, units, words):
    from massing.present.reports.quantities import Quantity

    assert in_words(Quantity("", "", amount, unit, ""), units) == words


# --- as text -------------------------------------------------------------------------------


def test_the_text_has_each_size_under_its_heading():
    assert HEADINGS == ("Part", "Member", "No.", "Height", "Top at", "Over", "Across", "Of")
    rows = text_rows(house("tuscan"))
    assert (
        "Column: base",
        "plinth",
        "6",
        "120 mm",
        "120 mm",
        "the porch floor",
        "660 mm",
        "side",
    ) in rows
    assert ("Porch: floor and steps", "Step", "6", "154 mm", "", "", "300 mm", "tread") in rows
    feet = text_rows(house("coupled"))
    assert (
        "Pedestal",
        "second plinth",
        "4",
        '1 1/4"',
        '3 1/4"',
        "the porch floor",
        "1'-9\"",
        "side",
    ) in feet
    assert len(rows) == len(schedule(house("tuscan")))


def test_the_csv_has_lengths_in_writing_and_in_millimetres():
    lines = schedule_csv([house("tuscan"), house("coupled")]).splitlines()
    assert lines[0].startswith("#")
    assert lines[1] == (
        "design,part,member,count,height,height_mm,top,top_mm,top_over,across,across_mm,across_of"
    )
    plinth = (
        "tuscan,Column: base,plinth,6,120 mm,120.0,120 mm,120.0,the porch floor,660 mm,660.0,side"
    )
    assert plinth in lines
    assert "tuscan,Porch: floor and steps,Step,6,154 mm,154.0,,,,300 mm,300.0,tread" in lines
    assert any(line.startswith('coupled,Pedestal,die,4,"2\'-0""",609.6,') for line in lines)
    assert len(lines) == 2 + len(schedule(house("tuscan"))) + len(schedule(house("coupled")))


@pytest.mark.parametrize(
    ("length_m", "step", "whole"),
    [
        (0.0014, 0.001, 0.001),
        (0.0016, 0.001, 0.002),
        (0.0254 / 2, 0.0254, 0.0254),
        (0.3, 0.0254 / 16, 189 * 0.0254 / 16),
    ],
)
def test_a_length_is_rounded_to_the_nearest_fraction(length_m, step, whole):
    assert rounded(length_m, step) == pytest.approx(whole, abs=1e-12)


def test_a_length_is_written_in_the_builder_s_fraction():
    feet, metric = house("coupled"), house("tuscan")
    assert feet.rounding_m == pytest.approx(0.0254 / 8)
    assert length_text(None, feet) == ""
    assert length_text(5.125 * 0.0254, feet) == '5 1/8"'
    assert length_text(5.0625 * 0.0254, feet, 0.0254 / 16) == '5 1/16"'
    assert length_text(5.03 * 0.0254, feet, 2 * 0.0254) == '5"'
    assert length_text(0.154, metric) == "154 mm"
