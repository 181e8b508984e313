"""Three numbers of each proportion: as drawn, in the books, as proposed.

What the books have is written here as they write it: Ware, The American Vignola, p. 8 (orders of
7 to 10 diameters; entablature a fifth to a quarter), Vitruvius III.3 (pycnostyle 1 1/2 D), and
araeostyle at 4 D, common practice.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from massing.design.design import Design
from massing.findings.figure import Figure
from massing.present.reports import beside_the_books as beside
from tests.findings.test_limits_of_findings import design
from tests.helpers.house_designs import porch


def with_order(**changes: object) -> Design:
    made = porch()
    return design(porch=replace(made, order=replace(made.order, **changes)))


def rows(drawn: Design, here: Design) -> dict[str, tuple[str, str, str]]:
    return {b.name: (b.drawn, b.books, b.here) for b in beside.beside_the_books(drawn, here)}


def test_drawn_and_proposed_stand_each_in_its_place() -> None:
    # column 0.25 + 2.9 + 0.25 = 3.4 m; entablature 0.9 m; axes 3 m apart
    drawn, here = design(), with_order(shaft_height_m=3.1, diameter_m=0.6)
    found = rows(drawn, here)
    assert list(found) == ["column", "entablature", "clear spacing"]
    assert found["column"] == ("1:6.8", "1:7", "1:6")
    assert found["entablature"][0] == "1/3.8"
    assert found["entablature"][2] == "1/4"
    assert found["clear spacing"][0] == "5 D"
    assert found["clear spacing"][2] == "4 D"


def test_a_pier_stands_beside_all_the_orders() -> None:
    pier = with_order(order="pier", square=True)
    assert pier.porch.order.square
    found = rows(design(), pier)
    assert list(found) == ["pier", "entablature", "clear spacing"]
    assert found["pier"][1] == "1:7 to 1:10"
    assert found["entablature"][1] == "1/5 to 1/4"
    assert found["clear spacing"][1] == "1.5 D to 4 D"


@pytest.mark.parametrize(
    ("unit", "value", "most", "said"),
    [
        ("fraction", 0.25, None, "1/4"),
        ("fraction", 0.2, 0.25, "1/5 to 1/4"),
        ("fraction", 0.3, None, "1/3.3"),
        ("ratio", 7.0, None, "1:7"),
        ("ratio", 7.04, 7.0, "1:7"),
        ("ratio", 7.0, 8.5, "1:7 to 1:8.5"),
        ("diameters", 2.25, None, "2.2 D"),
        ("diameters", 3.0, 4.0, "3 D to 4 D"),
    ],
)
def test_a_figure_is_said_briefly(unit: str, value: float, most: float | None, said: str) -> None:
    assert beside._said(Figure("key", "", value, unit, "", most=most)) == said  # type: ignore[arg-type]


def test_the_lede_is_the_first_question_up_to_its_colon(monkeypatch: pytest.MonkeyPatch) -> None:
    def said(*rows: tuple[str, str, str]) -> str:
        found = [replace(_a_finding(), key=key, severity=how, text=t) for key, how, t in rows]
        monkeypatch.setattr(beside, "findings", lambda design: found)
        return beside.lede_finding(design())

    shallow = ("depth", "check", "The entablature is shallow: 1/6: not 1/4.")
    assert said(shallow) == "The entablature is shallow"
    assert said(("depth", "check", "The columns are thin.")) == "The columns are thin"
    assert said(("depth", "note", "A note."), shallow) == "The entablature is shallow"
    for work in ("flat roof", "tile underlayment", "gave way"):
        assert said((work, "check", "A work: of roofs."), shallow) == "The entablature is shallow"
        assert said((work, "check", "A work: of roofs.")) == beside.NOTHING
    assert said() == beside.NOTHING


def _a_finding():
    from massing.findings.finding import Finding

    return Finding(key="", severity="note", text="", source="practice")
