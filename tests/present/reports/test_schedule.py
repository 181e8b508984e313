"""The builder's schedule: rounded members add up to rounded totals."""

from __future__ import annotations

import math
from itertools import groupby
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.design.design import Design
from massing.present.reports.schedule import schedule, text_rows
from massing.present.reports.sizes import Size
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene

INCH_M = 0.0254
FEET = ["1/4 in", "1/8 in", "1/16 in", "1/32 in"]
METRIC = ["1 mm", "2 mm", "5 mm"]


def design(porch: dict[str, Any], **more: Any) -> Design:
    scene = {
        "title": "Any house",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "house": {"width": "56 ft", "depth": "32 ft", "storeys": ["13 ft", "11 ft"]},
        "porch": porch,
        "times": ["equinox 10:00"],
        **more,
    }
    return resolve(Scene.model_validate(scene), "any")


def of_the_order(sizes: list[Size]) -> list[Size]:
    names = ("Pedestal", "Column", "Entablature")
    return [s for s in sizes if s.group.startswith(names) and s.height_m is not None]


@example(order="tuscan", height=105, pedestals=False, units_step=("metric", "2 mm"))
@settings(max_examples=40, deadline=None)
@given(
    order=st.sampled_from(["pier", "tuscan", "doric", "ionic", "corinthian", "composite"]),
    height=st.integers(105, 150),
    pedestals=st.booleans(),
    units_step=st.sampled_from(
        [("feet", s) for s in [None, *FEET]] + [("metric", s) for s in [None, *METRIC]]
    ),
)
def test_members_add_up_to_the_rounded_total(order, height, pedestals, units_step):
    units, rounding = units_step
    try:
        any_house = design(
            {"order": order, "height": f"{height} in", "pedestals": pedestals},
            units=units,
            rounding=rounding,
        )
    except DesignError as refusal:
        said = str(refusal)
        any_house = None
    if any_house is None:
        assert rounding in ("1/4 in", "5 mm")
        assert "not lost" in said
        return
    step = any_house.rounding_m
    rows = of_the_order(schedule(any_house))
    running = 0.0
    for row in rows:
        assert row.height_m / step == pytest.approx(round(row.height_m / step), abs=1e-6)
        assert row.height_m > 0.5 * step
        running += row.height_m
        assert row.top_m == pytest.approx(running, abs=1e-9)
    assert abs(running - any_house.porch.order.whole_height_m) <= 0.501 * step
    half_up = math.floor(height * INCH_M / step + 0.5 + 1e-6) * step
    assert running == pytest.approx(half_up, abs=1e-9)


def test_a_pinned_order_keeps_its_pins_to_the_fraction():
    """Heights that are whole eighths stay as they were given."""
    pinned = design(
        {"order": "ionic", "diameter": "13 in", "height": "12 ft", "entablature": "2 ft 3 in"},
        rounding="1/8 in",
    )
    heights = {
        group: sum(s.height_m for s in rows) / INCH_M
        for group, rows in groupby(
            of_the_order(schedule(pinned)), key=lambda s: s.group.split(":")[0]
        )
    }
    assert heights == {"Column": pytest.approx(117.0), "Entablature": pytest.approx(27.0)}
    written = {row[1]: row for row in text_rows(pinned)}
    assert written["shaft a third up"][6] == "1'-1\""  # the Ionic's is widest there
    assert written["shaft at the foot"][6] == "1'-0 3/8\""
    assert written["flutes of each, between fillets"][2] == "24"


def test_one_dimension_is_rounded_once():
    """A necking as wide as the shaft's head is so in any fraction."""
    for inches in range(100, 150, 3):
        neat = {
            (s.group, s.item): s
            for s in schedule(design({"order": "doric", "height": f"{inches} in"}))
        }
        necking = neat["Column: capital", "necking"].across_m
        assert necking == neat["Column: shaft", "shaft at the head"].across_m
        assert neat["Column: shaft", "apophyge"].across_m is not None


def named(order):
    rows = schedule(design({"order": order, "columns": 4, "height": "12 ft"}))
    return {s.item: s for s in rows if s.group in ("Column: shaft", "On the entablature", "Shaft")}


@pytest.mark.parametrize(
    ("order", "items"),
    [
        ("doric", {"regula", "guttae of each regula", "triglyph", "dentil"}),
        ("mutular doric", {"regula", "triglyph", "mutule", "guttae of each mutule"}),
        ("ionic", {"dentil", "cincture"}),
        ("corinthian", {"dentil", "modillion"}),
    ],
)
def test_the_shop_has_every_ornament_with_width_spacing_and_number(order, items):
    rows = named(order)
    assert {"astragal", "neck fillet", "apophyge", "shaft at the foot"} | items <= set(rows)
    for kind in items - {"cincture"}:
        assert rows[kind].count > 1
        assert rows[kind].across_of == ("on centres" if "guttae" in kind else "width")
        assert rows[kind].across_m > 0
        assert rows[kind].height_m > 0
        if not kind.startswith("guttae"):
            spaced = "regulae on centres" if kind == "regula" else f"{kind}s on centres"
            assert rows[kind].across_m < rows[spaced].across_m < 10 * rows[kind].across_m
            assert f"{kind}'s face" in rows
    shaft = [s for s in rows.values() if s.group == "Column: shaft" and s.height_m is not None]
    whole = rows["whole, with its mouldings"].height_m
    apophyges = schedule(design({"order": order, "columns": 4, "height": "12 ft"}))
    heights = [s.height_m for s in apophyges if s.group == "Column: shaft" and s.height_m]
    assert sum(heights) == pytest.approx(whole)
    assert shaft


def test_ornaments_are_counted_on_the_built_porch():
    any_house = design({"order": "doric", "columns": 4, "height": "12 ft", "spacing": "canon"})
    model = build(any_house)
    rows = {s.item: s for s in schedule(any_house) if s.group == "On the entablature"}
    for kind, word in (("triglyph", "triglyphs"), ("regula", "regulae"), ("dentil", "dentils")):
        built = [p for p in model.parts if p.path[0] == "porch" and p.path[-1] == word]
        assert rows[kind].count == sum(p.count for p in built)
        across = built[0].mesh.bounds[:, 0]
        assert rows[kind].across_m == pytest.approx(across[1] - across[0], abs=0.001)
    order = any_house.porch.order
    pitch = next(m.row for m in order.frieze if m.row).spacing
    assert rows["triglyphs on centres"].across_m == pytest.approx(pitch, abs=any_house.rounding_m)
    assert rows["guttae of each regula"].count == 6
    mutular = schedule(design({"order": "mutular doric", "columns": 4, "height": "12 ft"}))
    assert {s.item: s.count for s in mutular}["guttae of each mutule"] in (18, 36)  # Ware, p. 14


def test_finer_fractions_are_written_out():
    fine = design({"order": "tuscan", "height": "121 1/32 in"}, rounding="1/32 in")
    assert any("/32" in cell for row in text_rows(fine) for cell in row)


@pytest.mark.parametrize(
    ("units", "rounding", "words"),
    [
        ("feet", "1/3 in", "1/16 or 1/32 in"),
        ("feet", "1 mm", "1/16 or 1/32 in"),
        ("metric", "1/8 in", "1, 2, 5 or 10 mm"),
        ("metric", "3 mm", "1, 2, 5 or 10 mm"),
        ("feet", "1 in", "not lost"),
    ],
)
def test_a_fraction_that_no_builder_has_is_refused(units, rounding, words):
    with pytest.raises(DesignError, match="rounding") as refusal:
        design({"order": "ionic", "height": "12 ft"}, units=units, rounding=rounding)
    assert words in str(refusal.value)


def test_the_sizes_of_every_door_reach_the_builder():
    house = {
        "width": "56 ft",
        "depth": "32 ft",
        "storeys": ["14 ft", "11 ft"],
        "door": {"width": "3 ft", "surround": {"order": "tuscan"}},
        "side_door": {"wall": "left", "bay": 1, "width": "2'-8\""},
    }
    sizes = schedule(design({"order": "tuscan", "columns": 4}, house=house))
    leaves = {s.group: s.across_m for s in sizes if s.item.startswith("leaf, ")}
    assert leaves == {
        "Entrance": pytest.approx(36 * INCH_M),
        "Side door": pytest.approx(32 * INCH_M),
    }
    groups = {s.group for s in sizes}
    assert {"Entrance: order", "Side door: landing and steps"} <= groups
