"""What each page of a board shows, as plain values for the typesetter, and the files it needs.

Nothing here is typeset: lengths are millimetres on paper, text is text, and pictures and
drawings are files by name.
"""

from __future__ import annotations

import hashlib
from typing import Any

from massing import __version__
from massing.canon import plate
from massing.canon.sources import cited
from massing.findings.changes import changes
from massing.findings.report import findings
from massing.practice.cautions import CAUTION, cautions
from massing.present.board.front_pages import alone, before_and_after, builders, together
from massing.present.board.layout import Page
from massing.present.board.light_pages import day, year
from massing.present.board.maker import Maker
from massing.present.board.subject import Contents, Say, Subject
from massing.present.board.words import (
    cautions_of,
    marked,
    shadow_key,
    year_month_day,
)
from massing.present.reports.tables import works_cited
from massing.present.words import set_text

_SIZES = tuple(
    (
        "columns column_height diameter slenderness entablature_height entablature_ratio "
        "cornice_projection clear_widest porch_depth porch_top upper_diameter upper_slenderness "
        "blocking_course balustrade_height window_height_0 window_height_1 window_height_2"
    ).split()
)


def contents(subject: Subject, page: Page, say: Say = lambda done, total, what: None) -> Contents:
    """The board's pages in order: the alternatives together, each by itself, before and after,
    the builder's drawing, the day, the year, sizes and sources.

    Args:
        say: told how many elevations are drawn, of how many, and which is in hand.
    """
    made = Maker(subject, page, say)
    pages = [together(made)]
    pages += [alone(made, design) for design in subject.designs[1:]]
    if len(subject.designs) > 1:
        pages.append(before_and_after(made))
    if subject.drawing is not None:
        pages.append(builders(made, subject.drawing))
    pages.append(day(made))
    pages += year(made)
    pages.append(sizes(made))
    values = {
        "paper": {
            "width": page.width_mm,
            "height": page.height_mm,
            "margin": page.margin_mm,
            "head": page.head_mm,
            "foot": page.foot_mm,
            "gap": page.gap_mm,
            "size": page.size,
        },
        "title": set_text(f"{made.block['project']}: the alternatives"),
        "author": made.block["designer"],
        "date": year_month_day(subject),
        "block": made.block,
        "caution": set_text(CAUTION),
        "pages": pages,
    }
    return Contents(values, made.files)


def sizes(maker: Maker) -> dict[str, Any]:
    """Sizes at a glance, cautions, sources, and what the board was made from."""
    subject = maker.subject
    orders = [
        "piers"
        if d.porch.order.square
        else f"{d.porch.order.order.title()}, "
        f"{plate(d.porch.order.order, d.porch.order.canon).authority.title()}"
        for d in subject.designs
    ]
    rows = [{"name": "Order and canon", "cells": [set_text(o) for o in orders]}]
    rows += maker.rows((*_SIZES, *(shadow_key(sun) for sun in subject.suns)), subject.designs)
    path = subject.loaded.path
    content = path.read_bytes() if path.exists() else subject.loaded.text.encode()
    return {
        "kind": "sizes",
        "title": "Sizes at a glance",
        "light": set_text("For comparing; the builder's sizes are in the schedule"),
        "names": [set_text(marked(subject.designs, d)) for d in subject.designs],
        "rows": rows,
        "cautions": [set_text(text) for text in cautions_of(subject.designs)],
        "local": [set_text(text) for text in cautions()],
        "sources": [set_text(text) for text in _sources(maker)],
        "made_from": set_text(
            f"{subject.loaded.file_name}, SHA-256 {hashlib.sha256(content).hexdigest()}; "
            f"massing {__version__}; {maker.block['date']}."
        ),
    }


def _sources(maker: Maker) -> list[str]:
    subject = maker.subject
    drawn = subject.designs[0]
    said = [c.source for d in subject.designs[1:] for c in changes(drawn, d, subject.suns)]
    said += [f.source for d in subject.designs for f in findings(d) if f.severity == "caution"]
    plates = [plate(d.porch.order.order, d.porch.order.canon) for d in subject.designs]
    said += [cited(each.source) for each in plates]
    said += works_cited(subject.designs)  # of what stands as the books' under a front
    pieces = [piece for source in said for piece in source.split("; ")]
    return sorted(dict.fromkeys(piece[:1].upper() + piece[1:] for piece in pieces))
