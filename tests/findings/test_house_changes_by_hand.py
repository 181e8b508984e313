"""What an alternative changes of its house, and what stayed, sentence by sentence, worked by hand.

The house as drawn: 14 by 9 m, bays 4 m apart, stuccoed, under a hip of 6:12 in terracotta tile; its
porch of Tuscan columns 3.4 m high and 0.5 m thick (1:6.8), 5 diameters apart, entablature 0.9 m.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from massing.design.design import Design
from massing.design.opening import Opening
from massing.design.roof import CrossGable, GableRoof, HipRoof
from massing.findings import changes as all_changes
from massing.findings import house_changes
from massing.findings.change import Change
from massing.findings.changes import changes
from massing.findings.house_changes import (
    bays_changed,
    covering_changed,
    gables_changed,
    masking_changed,
    roof_changed,
    walls_changed,
    width_changed,
    windows_changed,
    wings_changed,
)
from tests.findings.test_change_words import sun
from tests.findings.test_limits_of_findings import design, wing
from tests.helpers.house_designs import house, porch, window_at

METRIC: dict[str, Any] = {"units": "metric"}


def text(said: Iterable[Change]) -> str:
    told = list(said)
    assert len(told) <= 1
    return told[0].text if told else ""


def walled(*openings: Opening, **changed: Any) -> Design:
    return design(house=house(openings, **changed), **METRIC)


def storeys(*sizes: tuple[float, float]) -> Design:
    """A house with a window, so wide and so high, in each storey."""
    return walled(
        *(
            window_at(3.0, 1.4 + 3.2 * k, storey=k, width_m=w, height_m=h)
            for k, (w, h) in enumerate(sizes)
        )
    )


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ([(1.0, 2.0), (1.0, 1.6)], [(1.0, 2.0), (1.0, 1.6)], ""),
        ([(1.0, 2.0), (1.0, 1.6)], [(1.0, 2.0), (1.0, 1.65)], ""),  # under four per cent
        (
            [(1.0, 2.0), (1.0, 2.0)],
            [(1.0, 2.0), (1.0, 1.6)],
            "The windows are 2.00 m high below and 1.60 m above, where both were 2.00 m: the "
            "lowest storey leads.",
        ),
        (
            [(1.0, 2.0), (1.0, 1.6)],
            [(1.0, 1.8), (1.0, 1.8)],
            "The windows are 1.80 m high below and 1.80 m above, where they were 2.00 m and "
            "1.60 m: no storey leads.",
        ),
        (
            [(1.0, 2.0), (1.0, 1.6)],
            [(1.0, 2.0), (1.0, 1.4)],
            "The windows are 2.00 m high below and 1.40 m above, where they were 2.00 m and "
            "1.60 m.",
        ),
        (
            [(1.0, 2.0)],
            [(1.0, 1.6)],
            "The lowest storey's windows go from 2.00 to 1.60 times as high as wide; the books "
            "give 1.41 to 2.17.",
        ),
        (
            [(1.0, 2.0), (1.0, 1.6)],
            [(1.0, 1.5)],
            "The lowest storey's windows go from 2.00 to 1.50 times as high as wide; the books "
            "give 1.41 to 2.17.",
        ),
        ([(1.0, 2.0)], [(1.0, 1.95)], ""),
        ([], [(1.0, 2.0)], ""),
        ([(1.0, 2.0)], [], ""),
    ],
)
def test_windows(was: list[tuple[float, float]], now: list[tuple[float, float]], said: str) -> None:
    assert text(windows_changed(storeys(*was), storeys(*now))) == said


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        (0, 0, ""),
        (2, 2, ""),
        (0, 1, "One opening stands behind a column, seen square on, where none does as drawn."),
        (1, 2, "Two openings stand behind a column, seen square on, where one does as drawn."),
        (3, 0, "No openings stand behind a column, seen square on, where three do as drawn."),
    ],
)
def test_openings_behind_columns(
    monkeypatch: pytest.MonkeyPatch, was: int, now: int, said: str
) -> None:
    counts = {"a": [0] * was, "b": [0] * now}
    monkeypatch.setattr(house_changes, "columns_before_openings", lambda d: counts[d.name])
    a, b = (replace(walled(), name=name) for name in "ab")
    assert text(masking_changed(a, b)) == said


def roofed(roof: Any) -> Design:
    return design(roof=roof, **METRIC)


def test_roofs() -> None:
    hip = HipRoof(0.5, 0.05, "barrel tile", "terracotta")
    assert text(roof_changed(roofed(hip), roofed(hip))) == ""
    assert text(roof_changed(roofed(hip), roofed(replace(hip, slope=0.505)))) == ""
    assert text(roof_changed(roofed(hip), roofed(replace(hip, slope=2 / 3)))) == (
        "The house has a hip roof of 8:12 where it had a hip roof of 6:12."
    )
    gable = GableRoof(0.5, 0.05, "barrel tile", "terracotta")
    assert text(roof_changed(roofed(hip), roofed(gable))) == (
        "The house has a gable roof of 6:12 where it had a hip roof of 6:12."
    )
    slate = replace(hip, covering="slate")
    assert text(covering_changed(roofed(hip), roofed(slate))) == (
        "The roof is slate where it was barrel tile in terracotta."
    )
    assert text(covering_changed(roofed(slate), roofed(replace(slate, colour="slate")))) == ""
    curved = replace(hip, covering="s tile")
    assert text(covering_changed(roofed(hip), roofed(curved))) == (
        "The roof is S tile in terracotta where it was barrel tile in terracotta."
    )
    grey = replace(hip, colour="slate")
    assert text(covering_changed(roofed(hip), roofed(grey))) == (
        "The roof is barrel tile in slate where it was barrel tile in terracotta."
    )


def winged(*sides: str) -> Design:
    wings = tuple(replace(wing(), side=side) for side in sides)
    return design(house=replace(house(), wings=wings), **METRIC)


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ((), (), ""),
        (("left",), ("left",), ""),
        ((), ("left",), "The house has one wing on the left where it had no wings."),
        (
            ("left",),
            ("right",),
            "The house has one wing on the right where it had one wing on the left.",
        ),
        (("left", "right"), (), "The house has no wings where it had two wings."),
        ((), ("front",), "The house has one wing before the front where it had no wings."),
        (
            ("left",),
            ("right", "left", "front"),
            "The house has two wings and one wing before the front where it had one wing on the "
            "left.",
        ),
    ],
)
def test_wings(was: tuple[str, ...], now: tuple[str, ...], said: str) -> None:
    assert text(wings_changed(winged(*was), winged(*now))) == said


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        (0, 0, ""),
        (0, 1, "one gable of its own in the roof where it had no gables"),
        (1, 2, "two gables of its own in the roof where it had one gable"),
        (2, 0, "no gables of its own in the roof where it had two gables"),
    ],
)
def test_gables(was: int, now: int, said: str) -> None:
    def made(count: int) -> Design:
        front = [CrossGable("front", 4.0 * k, 3.0, 0.5, "returns") for k in range(count)]
        back = CrossGable("back", 0.0, 3.0, 0.5, "returns")
        return roofed(HipRoof(0.5, 0.05, "slate", "slate", gables=(*front, back)))

    assert text(gables_changed(made(was), made(now))) == (said and f"The front has {said}.")


def test_walls_bays_and_width() -> None:
    drawn = walled()
    assert text(walls_changed(drawn, walled(walls="brick"))) == (
        "The walls are brick where they were stucco."
    )
    assert text(walls_changed(drawn, drawn)) == ""
    assert text(bays_changed(drawn, walled(bay_centres_m=(-5.0, -2.5, 0.0, 2.5, 5.0)))) == (
        "The front has five bays where it had three."
    )
    assert text(bays_changed(drawn, drawn)) == ""
    assert text(width_changed(drawn, walled(width_m=15.0))) == (
        "The house is 15.00 m wide where it was 14.00 m."
    )
    assert text(width_changed(drawn, walled(width_m=14.2))) == ""  # under two per cent


# --- which of them are told ----------------------------------------------------------------------


def test_where_nothing_changed_what_stayed_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = walled()
    monkeypatch.setattr(all_changes, "cornice_shadow_m", lambda *_: 0.3)
    monkeypatch.setattr(all_changes, "shadow_under_corona", lambda *_: None)
    said = changes(drawn, drawn, [sun()])
    assert [c.text for c in said] == [
        f"The Tuscan columns stay as drawn: 1:6.8, 500 mm {drawn.porch.order.diameter_at}.",
        "The entablature stays 900 mm high, 1/3.8 of the column's height.",
        "The widest clear spacing stays 5.0 diameters.",
    ]
    assert all(c.kept for c in said)
    piers = replace(drawn, porch=porch(order=replace(drawn.porch.order, square=True)))
    assert changes(piers, piers, [])[0].text == "The piers stay as drawn: 1:6.8, 500 mm wide."


def test_what_changed_is_told_before_what_stayed(monkeypatch: pytest.MonkeyPatch) -> None:
    class Eye:
        depth_m = 0.2

    monkeypatch.setattr(all_changes, "cornice_shadow_m", lambda *_: 0.3)
    monkeypatch.setattr(all_changes, "shadow_under_corona", lambda *_: Eye())
    drawn = walled()
    order = replace(drawn.porch.order, diameter_m=0.4)
    slim = replace(drawn, porch=porch(order=order, axis_depth_m=3.0))
    said = changes(drawn, slim, [sun()])
    assert [(c.key, c.kept) for c in said] == [
        ("columns", False),
        ("spacing", False),
        ("depth", False),
    ]
    deep = replace(drawn, porch=porch(axis_depth_m=3.0))
    said = changes(drawn, deep, [sun()])
    assert [(c.key, c.kept) for c in said] == [
        ("depth", False),
        ("columns", True),
        ("entablature", True),
    ]
    wide = replace(drawn, porch=porch(axis_depth_m=3.0, axes_m=(-3.6, -1.2, 1.2, 3.6), order=order))
    assert len(changes(drawn, wide, [sun()])) == 3


def test_no_more_than_six_are_told() -> None:
    drawn = walled()
    order = replace(drawn.porch.order, diameter_m=0.4, shaft_height_m=2.4)
    other = design(
        house=house(walls="brick", width_m=18.0, bay_centres_m=(0.0,)),
        porch=porch(order=order, axis_depth_m=3.0, axes_m=(-1.5, 1.5), roof="hipped"),
        roof=GableRoof(0.8, 0.05, "slate", "slate"),
        **METRIC,
    )
    said = changes(drawn, other, [])
    assert [c.key for c in said] == [
        "columns",
        "entablature",
        "spacing",
        "roof",
        "walls",
        "porch roof",
    ]


def test_the_shadow_stays_where_only_it_is_left_to_tell(monkeypatch: pytest.MonkeyPatch) -> None:
    """With all of columns, entablature and spacing told as changed it is not reached; so alone."""

    class Eye:
        depth_m = 0.2

    monkeypatch.setattr(all_changes, "cornice_shadow_m", lambda *_: 0.3)
    monkeypatch.setattr(all_changes, "shadow_under_corona", lambda *_: Eye())
    kept = list(all_changes._kept(walled(), sun()))
    assert [c.key for c in kept] == ["columns", "entablature", "spacing", "shadow"]
    assert kept[-1].text == (
        "In the draughtsman's light, at 45° the cornice's shadow stays 300 mm deep, 200 mm from "
        "the corona's edge down."
    )
    assert [c.key for c in all_changes._kept(walled(), None)] == [c.key for c in kept[:-1]]
