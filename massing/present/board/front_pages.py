"""The pages that show the front: the alternatives together, alone, before and after."""

from __future__ import annotations

from typing import Any

from massing.design.design import Design
from massing.findings.changes import changes
from massing.present.board.elevation import Window
from massing.present.board.layout import (
    Grid,
    Scale,
    grid,
    scale_within,
)
from massing.present.board.maker import Maker
from massing.present.board.pictures import least_cut, png
from massing.present.board.subject import BuildersDrawing, Subject
from massing.present.board.words import (
    change_said,
    marked,
    named,
    sentence,
    shadow_key,
)
from massing.present.reports.beside_the_books import beside_the_books, lede_finding
from massing.present.reports.tables import key_line
from massing.present.words import set_text

_OF_A_DRAWING = tuple(
    (
        "order_height diameter entablature_height cornice_projection porch_depth wall_top "
        "window_height_0 window_height_1"
    ).split()
)


MOST_CUT = 0.14  # of a picture's height, which is sky


def together(maker: Maker) -> dict[str, Any]:
    """All designs in elevation at one scale."""
    subject, page = maker.subject, maker.page
    wide, tall = page.inner_mm
    window = maker.whole
    short, full = 9.5 * page.size, 30.0 * page.size
    size, gap = (window.width_m, window.height_m), 0.6 * page.gap_mm
    count = len(subject.designs)
    least, told = (grid(count, size, (wide, tall), gap, h, subject.units) for h in (short, full))
    # proportions beside the books' stand under each where that costs the drawings nothing
    chosen, label = (told, full) if told.scale == least.scale else (least, short)
    left_over = tall - chosen.rows * (
        1000.0 * window.height_m / chosen.scale.ratio + label + 0.6 * page.gap_mm
    )
    return {
        "kind": "together",
        "porches": _porches(maker, chosen, left_over),
        "title": "The alternatives in elevation",
        "heading": maker.block["project"],
        "light": f"The alternatives in elevation · {maker.light_words}",
        "scale": maker.scaled(chosen.scale, 0.25 * wide),
        "columns": chosen.columns,
        "rows": chosen.rows,
        "label": label,
        "cells": [
            {
                "name": set_text(marked(subject.designs, design)),
                **beside(subject, design, full=label > short),
                "drawing": maker.drawing(design, window, chosen.scale, subject.light, "together"),
            }
            for design in subject.designs
        ],
    }


def beside(subject: Subject, design: Design, *, full: bool) -> dict[str, Any]:
    """What stands under a front: a line of figures; or its shadow, each proportion as drawn, in
    the books and here, and the finding that matters."""
    line = key_line(design, subject.light)
    if not full:
        return {"line": set_text(line), "numbers": [], "finding": ""}
    drawn = subject.designs[0]
    heads = ["", "as drawn", "the books", *(["here"] if design is not drawn else [])]
    rows = [[r.name, r.drawn, r.books, r.here] for r in beside_the_books(drawn, design)]
    return {
        "line": set_text(line.rsplit(" · ", 1)[-1]),
        "numbers": [[set_text(cell) for cell in row[: len(heads)]] for row in [heads, *rows]],
        "finding": set_text(lede_finding(design)),
    }


def _porches(maker: Maker, chosen: Grid, left_over_mm: float) -> dict[str, Any] | None:
    """A row of the porches alone, where the fronts leave room to draw them larger."""
    subject, page = maker.subject, maker.page
    if chosen.rows > 1:
        return None
    wide, _ = page.inner_mm
    across = (wide - 0.6 * page.gap_mm * (chosen.columns - 1)) / chosen.columns
    label = 6.0 * page.size
    half, top = [], []
    for design in subject.designs:
        porch = design.porch.highest
        rail = porch.balustrade.height_m if porch.balustrade else 0.0
        slope = porch.roof_pitch or 0.0
        rise = slope * (
            porch.half_width_m if porch.roof in ("pediment", "gable") else design.porch.depth_m
        )
        far = abs(porch.centre_m) + porch.half_width_m
        half.append(far + porch.order.cornice_projection_m)
        top.append(porch.stands_on_z_m + max(rail, rise))
    reach = min(max(half) + 0.6, maker.whole.width_m / 2.0)
    foot, least = maker.whole.foot_m, min(max(top) + 0.4, maker.whole.top_m)
    room = left_over_mm - label
    scale = scale_within(2.0 * reach, least - foot, across, room, subject.units)
    highest = min(maker.whole.top_m, foot + room * scale.ratio / 1000.0)
    window = Window(-reach, reach, foot, max(least, highest))
    if scale.ratio >= 0.9 * chosen.scale.ratio:
        return None
    return {
        "words": set_text(f"The porch, {scale.words}"),
        "label": label,
        "drawings": [
            maker.drawing(design, window, scale, subject.light, "porch")
            for design in subject.designs
        ],
    }


def alone(maker: Maker, design: Design) -> dict[str, Any]:
    """One alternative: seen from the street and close to, drawn, and what it changes."""
    subject, page = maker.subject, maker.page
    wide, tall = page.inner_mm
    left = 0.625 * wide
    caption = 5.0 * page.size
    natural = maker.picture(design, "street")["aspect"]
    window = maker.whole

    def under(aspect: float) -> tuple[Scale, float]:
        below = tall - left * aspect - 2.0 * caption - 0.4 * page.gap_mm
        size = (window.width_m, window.height_m, 0.64 * left, below)
        return scale_within(*size, subject.units), below

    aspect = least_cut(natural, lambda aspect: under(aspect)[0])
    scale, below = under(aspect)
    street = maker.picture(design, "street", aspect)
    drawing = maker.drawing(design, window, scale, subject.light, "alone")
    close = left - drawing["width"] - page.gap_mm
    right = wide - left - page.gap_mm
    said = changes(subject.designs[0], design, subject.suns)
    before = max(below / right, (1.0 - MOST_CUT) * natural)  # else narrower, and whole
    return {
        "kind": "alone",
        "title": set_text(marked(subject.designs, design)),
        "light": maker.light_words,
        "left": left,
        "below": below,
        "caption": caption,
        "street": street,
        "close": maker.picture(design, "close-up", below / close),
        "before": maker.picture(subject.designs[0], "street", before),
        "before_wide": min(right, below / before),
        "before_name": set_text(named(subject.designs[0])),
        "drawing": drawing,
        "scale": maker.scaled(scale, 0.2 * wide),
        "figures": set_text(key_line(design, subject.light)),
        "changes": [change_said(change) for change in said],
        "short_light": maker.short_light,
    }


def before_and_after(maker: Maker) -> dict[str, Any]:
    """The design as drawn beside one alternative, and half of each in one elevation."""
    subject, page = maker.subject, maker.page
    drawn = subject.designs[0]
    after = next((d for d in subject.designs if d.name == subject.after), subject.designs[1])
    wide, tall = page.inner_mm
    across = (wide - page.gap_mm) / 2.0
    natural = maker.picture(drawn, "street")["aspect"]
    caption = 5.5 * page.size
    window = maker.whole

    def under(aspect: float) -> tuple[Scale, float]:
        below = tall - across * aspect - 2.0 * caption - 0.6 * page.gap_mm
        size = (window.width_m, window.height_m, across, below)
        return scale_within(*size, subject.units), below

    aspect = least_cut(natural, lambda aspect: under(aspect)[0])
    scale, below = under(aspect)
    before, then = (maker.picture(design, "street", aspect) for design in (drawn, after))
    left = Window(window.left_m, 0.0, window.foot_m, window.top_m)
    right = Window(0.0, window.right_m, window.foot_m, window.top_m)
    keys = (
        "columns",
        "slenderness",
        "entablature_height",
        "entablature_ratio",
        "clear_widest",
        "cornice_projection",
        "window_height_0",
        "window_height_1",
        shadow_key(subject.light),
    )
    return {
        "kind": "before and after",
        "title": "Before and after",
        "light": maker.light_words,
        "names": [set_text(marked(subject.designs, d)) for d in (drawn, after)],
        "pictures": [before, then],
        "halves": [
            maker.drawing(drawn, left, scale, subject.light, "left-half"),
            maker.drawing(after, right, scale, subject.light, "right-half"),
        ],
        "scale": maker.scaled(scale, 0.2 * wide),
        "caption": caption,
        "below": below,
        "rows": maker.rows(keys, (drawn, after)),
    }


def builders(maker: Maker, drawing: BuildersDrawing) -> dict[str, Any]:
    """The builder's drawing beside the model, and the model over it."""
    page, drawn = maker.page, maker.subject.designs[0]
    wide, tall = page.inner_mm
    aspect = drawing.given.height / drawing.given.width
    caption = 5.5 * page.size
    across = min((wide - page.gap_mm) / 2.0, (tall / 2.0 - 2.0 * caption) / aspect)
    ratio = 1000.0 * drawing.window.width_m / across
    scale = Scale(ratio, "at the drawing's scale")
    laid = maker.drawing(drawn, drawing.window, scale, None, "beside", washes=False)
    for name, image in (("given", drawing.given), ("over", drawing.over)):
        maker.files[f"builders_{name}.png"] = png(image)
    return {
        "kind": "builder's drawing",
        "title": set_text("The builder's drawing and the model"),
        "light": "The model in line, at the scale that its known points give the drawing",
        "across": across,
        "aspect": aspect,
        "caption": caption,
        "given": "builders_given.png",
        "over": "builders_over.png",
        "drawing": laid,
        "name": set_text(named(drawn)),
        "words": [set_text(sentence(line)) for line in drawing.words],
        "rows": maker.rows(_OF_A_DRAWING, (drawn,)),
    }
