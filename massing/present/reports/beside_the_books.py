"""What was drawn, what the books have, what is proposed: three numbers each, and one finding."""

from __future__ import annotations

from dataclasses import dataclass

from massing.canon import spacings
from massing.design.design import Design
from massing.findings.figure import Figure
from massing.findings.report import figures, findings
from massing.practice.rules import rules

_ASKED = (
    ("slenderness", "books_slenderness"),
    ("entablature_ratio", "books_entablature"),
    ("clear_widest", "books_clear"),
)
_NAMES = {"entablature_ratio": "entablature", "clear_widest": "clear spacing"}
_WORK = ("flat roof", "tile underlayment", "gave way")  # of what is asked, no proportion
NOTHING = "Nothing to question in its proportions"


@dataclass(frozen=True)
class Beside:
    """One proportion: as drawn, in the books of the design's own order, and in the design."""

    name: str
    drawn: str
    books: str
    here: str


def beside_the_books(drawn: Design, design: Design) -> tuple[Beside, ...]:
    """The column's slenderness, the entablature's depth and the clear spacing, each three ways.

    For a square pier, of which the books do not speak, they are those of all the orders.
    """
    was, now = ({f.key: f for f in figures(d, [])} for d in (drawn, design))
    rows = []
    for key, books in _ASKED:
        if key not in now or key not in was:
            continue
        name = _NAMES.get(key, "pier" if design.porch.order.square else "column")
        said = now.get(books) or _of_all_orders(key)
        rows.append(Beside(name, _said(was[key]), _said(said), _said(now[key])))
    return tuple(rows)


def _of_all_orders(key: str) -> Figure:
    """From the stoutest order to the most slender, as the books have them."""
    said = rules()
    match key:
        case "slenderness":
            ends = said["slenderness_tuscan"].value, said["slenderness_corinthian"].value
            return Figure(key, "", ends[0], "ratio", "", most=ends[1])
        case "entablature_ratio":
            ends = said["entablature_least"].value, said["entablature_most"].value
            return Figure(key, "", ends[0], "fraction", "", most=ends[1])
    named = [s.clear for s in spacings().values()]
    return Figure(key, "", min(named), "diameters", "", most=max(named))


def _said(figure: Figure) -> str:
    """A figure as briefly as it is spoken of: 1:7.0, 1/4.0, 3.2 D.

    >>> _said(Figure("entablature_ratio", "", 0.25, "fraction", ""))
    '1/4'
    >>> _said(Figure("books_slenderness", "", 7.0, "ratio", "", most=8.0))
    '1:7 to 1:8'
    """
    ends = [figure.value] if figure.most is None else [figure.value, figure.most]
    if figure.unit == "fraction":
        words = [f"1/{_short(1.0 / end)}" for end in ends]
    elif figure.unit == "ratio":
        words = [f"1:{_short(end)}" for end in ends]
    else:
        words = [f"{_short(end)} D" for end in ends]
    return " to ".join(dict.fromkeys(words))


def _short(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def lede_finding(design: Design) -> str:
    """The finding that matters most of a design's proportions, as far as its first colon."""
    asked = (f for f in findings(design) if f.severity == "check" and f.key not in _WORK)
    first = next(asked, None)
    if first is None:
        return NOTHING
    lede, _, _ = first.text.partition(": ")
    return lede.strip().removesuffix(".")
