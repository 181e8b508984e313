"""Figures, findings and sizes as tables, read back: of a cottage under three porches."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from rich.console import Console

from massing.findings.report import figures, findings
from massing.practice.cautions import CAUTION
from massing.present.reports import tables
from massing.present.words import sun_text
from massing.study.study import read_study
from tests.present.reports.test_worked_houses import worked

COTTAGE = Path(__file__).parents[3] / "scenes" / "vineyard_cottage.yaml"


@pytest.fixture(scope="module")
def study():
    return read_study(COTTAGE)


def printed(do, *arguments, width=200):
    out = io.StringIO()
    do(Console(file=out, width=width, color_system=None, markup=False), *arguments)
    return out.getvalue()


def cells(text, name):
    """The cells of the row of a table that begins with a name."""
    line = next(row for row in text.splitlines() if row.startswith(name))
    return [cell for cell in re.split(r"\s{2,}", line[len(name) :].strip()) if cell]


def figure(study, index, key):
    return next(f for f in figures(study.designs[index], study.suns) if f.key == key)


def test_each_figure_has_a_row_and_each_design_a_cell(study):
    rows = dict(tables.figure_rows(study.designs, study.suns))
    by_key = {next(f.key for f in row if f): row for row in rows.values()}
    assert "books_slenderness" in {f.key for _, row in tables.figure_rows(study.designs, study.suns)
                                   for f in row if f}  # fmt: skip
    assert rows["Column height"] == [figure(study, i, "column_height") for i in range(3)]
    assert by_key["foot_diameter"][:2] == [None, None]  # piers and Tuscan shafts have no other
    assert by_key["foot_diameter"][2] == figure(study, 2, "foot_diameter")
    assert "Pier height" not in rows  # two of three call it a column
    keys = [next(f.key for f in row if f) for _, row in tables.figure_rows(study.designs, [])]
    assert keys.index("slenderness") + 1 == keys.index("books_slenderness")
    assert keys.index("books_slenderness") + 1 == keys.index("vitruvius_slenderness")
    assert keys[:3] == ["order_height", "column_height", "diameter"]
    assert len(keys) == len(set(keys))


def test_a_name_that_designs_share_stands_for_all(study):
    piers = dict(tables.figure_rows(study.designs[:1], []))
    assert "Pier height" in piers
    assert "Column height" not in piers


def test_figures_print_with_the_works_they_are_from(study):
    text = printed(tables.print_figures, study.designs, study.suns)
    assert cells(text, "Column height") == ["2.500 m", "2.480 m", "2.480 m"]
    assert cells(text, "Diameter at the foot") == ["–", "–", "263 mm"]
    assert "as drawn" in text.splitlines()[0]
    sun = study.suns[0]
    assert cells(text, sun.label)[1:] == [sun_text(sun), f"{sun.profile_angle_deg:.1f}°"]
    works = tables.works_cited(study.designs, study.suns)
    said = " ".join(text.split())
    assert f"The books: {'; '.join(works)}" in said
    assert len(works) == len(set(works)) >= 8
    assert all(work.endswith(("(read)", "(from memory)")) for work in works)
    for design in study.designs:  # whatever the books have has its works below
        for f in figures(design, study.suns):
            if f.key.startswith(("books_", "vitruvius_")):
                assert any(work in f.note for work in works), f.key
    assert tables.works_cited(study.designs[:1]) == []  # of piers the books do not speak
    assert "The books:" not in printed(tables.print_figures, study.designs[:1], study.suns)


def test_departures_say_by_how_much_and_what_the_canon_s_would_be(study):
    rows = dict(tables.departure_rows(study.designs))
    assert rows["Order and canon"] == ["pier, common practice", "tuscan, vignola", "ionic, vignola"]
    # 160 mm piers: 8 diameters are 1.280 m, and they stand 2.500 m high
    assert rows["Column height"] == ["+95.3% (canon 1.280 m)", "–", "–"]
    assert rows["Entablature height"] == ["-37.5% (canon 320 mm)", "–", "–"]
    text = printed(tables.print_figures, study.designs, study.suns)
    assert "Departures from the canon, at the same diameter" in text
    assert cells(text, "Entablature height")  # of the figures
    assert "The members of a group are scaled together" in text


def test_a_second_order_has_rows_of_its_own():
    rows = dict(tables.departure_rows([worked("arcade"), worked("tuscan")]))
    assert rows["Order and canon"] == ["mutular doric, vignola", "tuscan, vignola"]
    assert rows["Above: order and canon"] == ["ionic, vignola", "–"]
    assert not any(
        name.startswith("Above") for name in dict(tables.departure_rows([worked("bow")]))
    )


def test_figures_as_json_hold_all_in_metres(study):
    held = json.loads(tables.figures_json(study.designs, study.suns))
    assert set(held) == {"suns", "designs", "caution"}
    assert [d["name"] for d in held["designs"]] == ["as drawn", "Tuscan", "Ionic with a pediment"]
    tuscan = held["designs"][1]
    by_key = {f["key"]: f for f in tuscan["figures"]}
    assert by_key["column_height"] == {
        "key": "column_height",
        "name": "Column height",
        "value": pytest.approx(2.48),
        "unit": "m",
        "note": "base, shaft and capital",
        "most": None,
        "written": "2.480 m",
    }
    units = {key: by_key[key]["unit"] for key in ("slenderness", "clear_widest", "columns")}
    assert units == {"slenderness": "1:n", "clear_widest": "diameters", "columns": ""}
    assert [f["text"] for f in tuscan["findings"]] == [f.text for f in findings(study.designs[1])]
    pier = held["designs"][0]["orders"]
    assert len(pier) == 1
    assert (pier[0]["order"], pier[0]["canon"]) == ("pier", "common practice")
    column = next(d for d in pier[0]["departures"] if d["name"] == "column height")
    assert column["share"] == pytest.approx(2.5 / 1.28 - 1.0, abs=1e-5)
    assert column["share"] == round(column["share"], 5)
    first, sun = held["suns"][0], study.suns[0]
    assert first["time"] == sun.label
    assert first["clock"] == sun.when.isoformat()
    assert first["altitude_deg"] == round(sun.altitude_deg, 4)
    assert first["azimuth_deg"] == round(sun.azimuth_deg, 4)
    assert first["profile_angle_deg"] == round(sun.profile_angle_deg, 4)
    assert first["on_front"] is True
    assert held["caution"] == CAUTION
    assert tables.figures_json(study.designs, study.suns).endswith("}\n")


def test_figures_as_csv_have_a_row_each(study):
    lines = tables.figures_csv(study.designs, study.suns).splitlines()
    assert lines[0] == f"# {CAUTION}"
    rows = list(csv.DictReader(lines[1:]))
    assert list(rows[0]) == ["design", "key", "figure", "value", "unit", "written", "note", "most"]
    assert len(rows) == sum(len(list(figures(d, study.suns))) for d in study.designs)
    neck = next(r for r in rows if (r["design"], r["key"]) == ("Tuscan", "books_diminution"))
    assert (neck["value"], neck["most"]) == ("0.75", "0.791667")
    assert neck["note"].endswith("IV.7.2 (read)")
    deep = next(r for r in rows if (r["design"], r["key"]) == ("Tuscan", "porch_depth"))
    assert (deep["figure"], deep["value"], deep["unit"], deep["written"], deep["most"]) == (
        "Porch depth",
        "2.4",
        "m",
        "2.400 m",
        "",
    )


def test_findings_print_with_their_marks_and_sources_and_cautions_once(study):
    text = printed(tables.print_findings, study.designs)
    said = " ".join(text.split())
    assert text.startswith("? questions a proportion, · informs, ! touches safety")
    for design in study.designs:
        for finding in findings(design):
            mark = {"check": "?", "note": "·", "caution": "!"}[finding.severity]
            line = " ".join(f"{mark} {finding.text} [{finding.source}]".split())
            assert line in said
            if finding.severity == "caution":
                assert said.count(line) == 1
    assert f"Cautions for {'every design'}" in text
    assert said.endswith(CAUTION)
    drawn, other = text.index("\nas drawn"), text.index("\nTuscan")
    assert drawn < other < text.index("Cautions for")
    assert "better than as drawn: " in text[other:]
    assert "better than as drawn" not in text[drawn:other]
    alone = printed(tables.print_findings, study.designs[1:2])
    assert "than as drawn" not in alone
    assert "Cautions for Tuscan" in alone
    beside = printed(tables.print_findings, study.designs[1:2], study.designs[0])
    assert "better than as drawn: " in beside


def test_the_text_of_findings_begins_in_short_where_suns_are_given(study):
    plain, short = (
        tables.findings_text(study.designs),
        tables.findings_text(study.designs, study.suns),
    )
    assert short.startswith("In short\n")
    assert short.endswith(plain)
    assert not any(line.endswith(" ") for line in short.splitlines())
    assert max(map(len, short.splitlines())) <= 100


def test_what_there_is_first_is_what_explains_the_difference(study):
    text = printed(tables.print_first, study.designs, study.suns)
    assert cells(text, "Column height") == ["2.500 m", "2.480 m", "2.480 m"]
    assert "Wall top" not in text
    assert "in the books of its order" not in text
    assert sum(line.startswith(("Shadow", "… below", "… to")) for line in text.splitlines()) <= 3
    drawn = [f for f in findings(study.designs[0]) if f.severity == "check"]
    said = " ".join(text.split())
    assert drawn
    assert all(" ".join(f"? {f.text} [{f.source}]".split()) in said for f in drawn)
    assert "better than as drawn: " in text
    calm = printed(tables.print_first, study.designs[1:2], study.suns)
    asked = [f for f in findings(study.designs[1]) if f.severity == "check"]
    assert ("nothing questions its proportions" in calm) == (not asked)
    same = printed(tables.print_first, [study.designs[0], study.designs[0]], [])
    assert "in its proportions as drawn" in same


def test_origins_print_field_value_and_source_by_group(study):
    design = study.designs[1]
    text = printed(tables.print_origins, design, [("site.place", "Swellendam", "given")])
    assert text.startswith(design.name)
    rows = [re.split(r"\s{2,}", line.strip()) for line in text.splitlines()[3:] if "  " in line]
    fields = [row[0] for row in rows if "." in row[0]]
    groups = list(dict.fromkeys(field.split(".")[0] for field in fields))
    assert groups[:4] == ["site", "house", "porch", "roof"]
    assert ["site.place", "Swellendam", "given"] in rows
    origin = design.origins["porch.diameter"]
    assert ["porch.diameter", origin.written, origin.source] in rows
    assert " ".join(text.split()).endswith(CAUTION)


def test_sizes_print_group_by_group_over_one_datum(study):
    text = printed(tables.print_schedule, study.designs[1])
    assert "Column: base, over the porch floor" in text
    base = text[text.index("Column: base") :]
    assert cells(base, "  plinth")[:1] == ["4"]
    assert "House: plan\n" in re.sub(r" +\n", "\n", text)
    heads = [line for line in text.splitlines() if "Height" in line and "Top at" in line]
    assert len(heads) == 1
