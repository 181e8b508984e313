"""The proposals side by side on one sheet, with the design as drawn: PDF, SVG and PNG."""

from __future__ import annotations

import io
import json
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from PIL.PngImagePlugin import PngInfo

from massing.edit.proposals.measures import MEASURES
from massing.edit.proposals.sayings import Proposal
from massing.edit.proposals.search import Outcome
from massing.practice.cautions import CAUTION, METADATA
from massing.present.board.elevation import Drawn
from massing.present.board.typeset import FONTS
from massing.present.words import sun_text
from massing.sun.position import SunTime

WIDTH_MM = 118.0  # of an elevation
PNG_PPI = 150.0
_TEMPLATE = "proposals.typ"
_FIRST = ("off_canon", "covered", "below_frieze", "daylight_lost", "moved", "shafts", "mouldings")


@dataclass(frozen=True)
class Panel:
    """One design on the sheet."""

    letter: str
    name: str
    why: str
    figures: str
    drawn: Drawn


def panel(proposal: Proposal, drawn: Drawn) -> Panel:
    """A proposal with its elevation."""
    units = proposal.design.units
    figures = ", ".join(
        f"{measure.name.lower()} {measure.written(value, units)}"
        for measure, value in zip(MEASURES, proposal.found.values, strict=True)
        if measure.key in _FIRST
    )
    return Panel(proposal.letter, proposal.name, proposal.why, figures, drawn)


def sheet(
    outcome: Outcome, title: str, panels: Sequence[Panel], sun: SunTime | None
) -> Mapping[str, bytes]:
    """The sheet by its file's ending: ``.pdf``, ``.svg``, ``.png``.

    Raises:
        OSError: no room for the temporary files.
    """
    import typst

    values = {
        "title": title,
        "place": outcome.begun.drawn.site.place,
        "subject": _subject(outcome, sun),
        "width": WIDTH_MM,
        "columns": 2 if len(panels) in (1, 2, 4) else 3,
        "panels": [
            {
                "letter": each.letter,
                "name": each.name,
                "why": each.why,
                "figures": each.figures,
                "file": f"{i}.svg",
            }
            for i, each in enumerate(panels)
        ],
        "foot": _foot(outcome),
        "caution": CAUTION,
    }
    made: dict[str, bytes] = {}
    with tempfile.TemporaryDirectory(prefix="massing-proposals-") as folder:
        root = Path(folder)
        template = Path(__file__).with_name(_TEMPLATE).read_bytes()
        (root / _TEMPLATE).write_bytes(template)
        (root / "proposals.json").write_text(json.dumps(values), encoding="utf-8")
        for i, each in enumerate(panels):
            (root / f"{i}.svg").write_text(each.drawn.svg, encoding="utf-8")
        for form in ("pdf", "svg", "png"):
            content = typst.compile(
                str(root / _TEMPLATE),
                root=str(root),
                font_paths=[str(FONTS)],
                ignore_system_fonts=True,
                format=form,
                ppi=PNG_PPI if form == "png" else None,
                timestamp=0,
            )
            assert isinstance(content, bytes)
            made[f".{form}"] = content
    made[".svg"] = _described(made[".svg"])
    made[".png"] = _noted(made[".png"])
    return made


def _subject(outcome: Outcome, sun: SunTime | None) -> str:
    light = (
        f"; shadows of {sun.label}, {sun_text(sun)}" if sun is not None else "; no sun on the front"
    )
    return f"Better porches, from {outcome.begun.name}{light}"


def _foot(outcome: Outcome) -> str:
    return (
        f"{outcome.tried:,} porches were resolved and measured; {len(outcome.built):,} of them can "
        f"be built, and {len(outcome.front):,} of these nothing of their own character betters in "
        "every measure. The few stand for the kinds among these. No measure weighs more than "
        "another. Coverings, bricks and flutes are left out of the drawings."
    )


def _described(svg: bytes) -> bytes:
    """The drawing with the caution in its description."""
    at = svg.index(b">", svg.index(b"<svg")) + 1
    return svg[:at] + f"<desc>{CAUTION}</desc>".encode() + svg[at:]


def _noted(png: bytes) -> bytes:
    """The picture with the caution in its text fields."""
    words = PngInfo()
    for key, value in METADATA.items():
        words.add_text(key, value)
    out = io.BytesIO()
    Image.open(io.BytesIO(png)).convert("RGB").save(out, "PNG", pnginfo=words)
    return out.getvalue()
