"""What each page of a board shows, as plain values for the typesetter, and the files it needs.

Nothing here is typeset: lengths are millimetres on paper, text is text, and pictures and
drawings are files by name.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from massing import __version__
from massing.canon import plate
from massing.canon.sources import cited
from massing.design.design import Design
from massing.files import slug
from massing.findings.changes import Change, changes, time_words
from massing.findings.figure import Figure
from massing.findings.report import findings
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.practice.cautions import CAUTION, cautions
from massing.present.board.elevation import Front, Window
from massing.present.board.layout import (
    Grid,
    Page,
    Scale,
    bar,
    clock_ticks,
    depth_ticks,
    grid,
    scale_within,
)
from massing.present.reports.tables import figure_rows, key_line
from massing.present.words import light_line, view_and_look
from massing.scene.load import LoadedScene
from massing.scene.spec import Sheet
from massing.sun.position import SunTime, sun_time, sun_times
from massing.units import format_length

VIEWS = ("street", "close-up")
SEASONS = ("spring equinox", "summer solstice", "autumn equinox", "winter solstice")
_DAYS = ("summer solstice", "spring equinox", "winter solstice")
_STEP_MIN = 10
_SIZES = (
    "columns", "column_height", "diameter", "slenderness", "entablature_height",
    "entablature_ratio", "cornice_projection", "clear_widest", "porch_depth", "porch_top",
    "upper_diameter", "upper_slenderness", "blocking_course", "balustrade_height",
    "window_height_0", "window_height_1", "window_height_2",
)  # fmt: skip
_OF_A_DRAWING = (
    "order_height", "diameter", "entablature_height", "cornice_projection", "porch_depth",
    "wall_top", "window_height_0", "window_height_1",
)  # fmt: skip
_JPEG_QUALITY = 92
_CUTS = (0.0, 0.02, 0.04, 0.06, 0.08, 0.10, 0.12, 0.14, 0.16)  # of a picture's sky
_MOST_ROWS = 5  # of designs in one page of seasons
_LONGEST_WORD = 18


@dataclass(frozen=True)
class BuildersDrawing:
    """The builder's own elevation beside the model's.

    Attributes:
        given, over: the drawing, and the model's lines over it, of one size.
        metres_per_pixel: of both.
        window: what part of the front they show.
        words: how they agree, in lines.
    """

    given: Image.Image
    over: Image.Image
    metres_per_pixel: float
    window: Window
    words: tuple[str, ...]


@dataclass(frozen=True)
class Subject:
    """All that a board is made from.

    Attributes:
        models: of each design by name.
        pictures: the files of each design by name, then by view, those of :data:`VIEWS`.
        look: of the pictures.
        light: the sun of the pictures and elevations.
        logo: an image file's ending and content.
        printed_on: where the scene gives no date.
    """

    loaded: LoadedScene
    designs: tuple[Design, ...]
    models: Mapping[str, Model]
    suns: tuple[SunTime, ...]
    pictures: Mapping[str, Mapping[str, Path]]
    look: str
    light: SunTime
    printed_on: date
    logo: tuple[str, bytes] | None = None
    drawing: BuildersDrawing | None = None
    after: str | None = None

    @property
    def units(self) -> str:
        """``feet`` or ``metric``."""
        return self.loaded.scene.units

    @cached_property
    def bounds_m(self) -> Floats:
        """``(2, 3)`` box round the buildings of all designs."""
        boxes = np.array([self.models[d.name].building_bounds for d in self.designs])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


@dataclass
class Contents:
    """A board ready to be typeset.

    Attributes:
        values: plain values, for JSON.
        files: pictures and drawings by the names that ``values`` has.
    """

    values: dict[str, Any]
    files: dict[str, bytes] = field(default_factory=dict)


Say = Callable[[int, int, str], object]


def contents(subject: Subject, page: Page, say: Say = lambda done, total, what: None) -> Contents:
    """The board's pages in order: the alternatives together, each by itself, before and after,
    the builder's drawing, the day, the year, sizes and sources.

    Args:
        say: told how many elevations are drawn, of how many, and which is in hand.
    """
    made = _Maker(subject, page, say)
    pages = [made.together()]
    pages += [made.alone(design) for design in subject.designs[1:]]
    if len(subject.designs) > 1:
        pages.append(made.before_and_after())
    if subject.drawing is not None:
        pages.append(made.builders(subject.drawing))
    pages.append(made.day())
    pages += made.year()
    pages.append(made.sizes())
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
        "date": _ymd(subject),
        "block": made.block,
        "caution": set_text(CAUTION),
        "pages": pages,
    }
    return Contents(values, made.files)


class _Maker:
    """Makes the pages, and keeps the drawings that several of them show."""

    def __init__(self, subject: Subject, page: Page, say: Say) -> None:
        self.subject, self.page = subject, page
        self.files: dict[str, bytes] = {}
        self.block = self._block()
        self.fronts: dict[str, Front] = {}
        for i, design in enumerate(subject.designs):
            say(i, len(subject.designs), f"{design.name}, elevation")
            self.fronts[design.name] = Front(subject.models[design.name])
        say(len(subject.designs), len(subject.designs), "")

    # --- drawings and pictures -------------------------------------------------------------

    @cached_property
    def whole(self) -> Window:
        """The front of every design, and a little round it."""
        (left, _, _), (right, _, top) = self.subject.bounds_m
        along = self.subject.designs[0].site.ground.along
        foot = min(0.0, along * left, along * right) - 0.3
        return Window(float(left) - 0.3, float(right) + 0.3, foot, float(top) + 0.15)

    def drawing(
        self,
        design: Design,
        window: Window,
        scale: Scale,
        sun: SunTime | None,
        name: str,
        *,
        washes: bool = True,
    ) -> dict[str, Any]:
        """A vector elevation, as its file and its size on paper."""
        drawn = self.fronts[design.name].drawn(window, scale.ratio, sun, washes=washes)
        file = f"{slug(design.name)}_{name}.svg"
        self.files[file] = drawn.svg.encode()
        return {
            "file": file,
            "width": drawn.width_mm,
            "height": drawn.height_mm,
            "alt": set_text(f"{_named(design)}, front elevation, {scale.words}"),
        }

    def picture(self, design: Design, view: str, aspect: float | None = None) -> dict[str, Any]:
        """A picture of the study, as its file and its height over its width.

        Args:
            aspect: cut to this; what is too tall loses sky, what is too wide both sides.
        """
        path = self.subject.pictures[design.name][view]
        with Image.open(path) as found:
            image = found.convert("RGB")
        if aspect is not None:
            image = _cut(image, aspect)
        file = f"{slug(design.name)}_{slug(view)}_{image.width}x{image.height}.jpg"
        if file not in self.files:
            self.files[file] = _jpeg(image)
        words = view_and_look(view, self.subject.look)
        return {
            "file": file,
            "aspect": image.height / image.width,
            "alt": set_text(f"{_named(design)}: {words}"),
        }

    def scaled(self, scale: Scale, longest_mm: float) -> dict[str, Any]:
        """A scale in words and as a bar."""
        units = self.subject.units
        made = bar(longest_mm, scale, units)
        return {
            "words": set_text(scale.words),
            "division": 1000.0 * made.division_m / scale.ratio,
            "labels": list(made.labels),
        }

    @cached_property
    def light_words(self) -> str:
        """The light of pictures and elevations."""
        return set_text(light_line(self.subject.loaded.scene.site.place, self.subject.light))

    @cached_property
    def short_light(self) -> str:
        """The same, as it is spoken."""
        return set_text(time_words(self.subject.light))

    def _block(self) -> dict[str, Any]:
        scene = self.subject.loaded.scene
        sheet = scene.sheet or Sheet()
        logo = None
        if self.subject.logo is not None:
            ending, content = self.subject.logo
            logo = f"logo{ending}"
            self.files[logo] = content
        day = sheet.date or self.subject.printed_on.isoformat()
        return {
            "project": set_text(sheet.project or scene.title),
            "place": set_text(scene.site.place),
            "designer": set_text(sheet.designer or ""),
            "client": set_text(sheet.client or ""),
            "date": set_text(_day_words(day)),
            "issue": set_text(sheet.issue or ""),
            "logo": logo,
        }

    # --- pages -----------------------------------------------------------------------------

    def together(self) -> dict[str, Any]:
        """All designs in elevation at one scale."""
        subject, page = self.subject, self.page
        wide, tall = page.inner_mm
        label = 9.5 * page.size
        window = self.whole
        chosen = grid(
            len(subject.designs),
            (window.width_m, window.height_m),
            (wide, tall),
            0.6 * page.gap_mm,
            label,
            subject.units,
        )
        left_over = tall - chosen.rows * (
            1000.0 * window.height_m / chosen.scale.ratio + label + 0.6 * page.gap_mm
        )
        return {
            "kind": "together",
            "porches": self._porches(chosen, left_over),
            "title": "The alternatives in elevation",
            "heading": self.block["project"],
            "light": f"The alternatives in elevation · {self.light_words}",
            "scale": self.scaled(chosen.scale, 0.25 * wide),
            "columns": chosen.columns,
            "rows": chosen.rows,
            "label": label,
            "cells": [
                {
                    "name": set_text(_named(design)),
                    "line": set_text(key_line(design, subject.light)),
                    "drawing": self.drawing(
                        design, window, chosen.scale, subject.light, "together"
                    ),
                }
                for design in subject.designs
            ],
        }

    def _porches(self, chosen: Grid, left_over_mm: float) -> dict[str, Any] | None:
        """A row of the porches alone, where the fronts leave room to draw them larger."""
        subject, page = self.subject, self.page
        if chosen.rows > 1:
            return None
        wide, _ = page.inner_mm
        across = (wide - 0.6 * page.gap_mm * (chosen.columns - 1)) / chosen.columns
        label = 6.0 * page.size
        half, top = [], []
        for design in subject.designs:
            porch = design.porch.highest
            rail = porch.balustrade.height_m if porch.balustrade else 0.0
            slope = porch.roof_slope if porch.roof != "flat" else 0.0
            rise = slope * (
                porch.half_width_m if porch.roof in ("pediment", "gable") else design.porch.depth_m
            )
            half.append(porch.half_width_m + porch.order.cornice_projection_m)
            top.append(porch.stands_on_z_m + max(rail, rise))
        reach = min(max(half) + 0.6, self.whole.width_m / 2.0)
        foot, least = self.whole.foot_m, min(max(top) + 0.4, self.whole.top_m)
        room = left_over_mm - label
        scale = scale_within(2.0 * reach, least - foot, across, room, subject.units)
        highest = min(self.whole.top_m, foot + room * scale.ratio / 1000.0)
        window = Window(-reach, reach, foot, max(least, highest))
        if scale.ratio >= 0.9 * chosen.scale.ratio:
            return None
        return {
            "words": set_text(f"The porch, {scale.words}"),
            "label": label,
            "drawings": [
                self.drawing(design, window, scale, subject.light, "porch")
                for design in subject.designs
            ],
        }

    def alone(self, design: Design) -> dict[str, Any]:
        """One alternative: seen from the street and close to, drawn, and what it changes."""
        subject, page = self.subject, self.page
        wide, tall = page.inner_mm
        left = 0.625 * wide
        caption = 5.0 * page.size
        natural = self.picture(design, "street")["aspect"]
        window = self.whole

        def under(aspect: float) -> tuple[Scale, float]:
            below = tall - left * aspect - 2.0 * caption - 0.4 * page.gap_mm
            size = (window.width_m, window.height_m, 0.64 * left, below)
            return scale_within(*size, subject.units), below

        aspect = _least_cut(natural, lambda aspect: under(aspect)[0])
        scale, below = under(aspect)
        street = self.picture(design, "street", aspect)
        drawing = self.drawing(design, window, scale, subject.light, "alone")
        close = left - drawing["width"] - page.gap_mm
        right = wide - left - page.gap_mm
        said = changes(subject.designs[0], design, subject.suns)
        return {
            "kind": "alone",
            "title": set_text(_named(design)),
            "light": self.light_words,
            "left": left,
            "below": below,
            "caption": caption,
            "street": street,
            "close": self.picture(design, "close-up", below / close),
            "before": self.picture(subject.designs[0], "street", below / right),
            "before_name": set_text(_named(subject.designs[0])),
            "drawing": drawing,
            "scale": self.scaled(scale, 0.2 * wide),
            "figures": set_text(key_line(design, subject.light)),
            "changes": [_change(change) for change in said],
            "short_light": self.short_light,
        }

    def before_and_after(self) -> dict[str, Any]:
        """The design as drawn beside one alternative, and half of each in one elevation."""
        subject, page = self.subject, self.page
        drawn = subject.designs[0]
        after = next((d for d in subject.designs if d.name == subject.after), subject.designs[1])
        wide, tall = page.inner_mm
        across = (wide - page.gap_mm) / 2.0
        natural = self.picture(drawn, "street")["aspect"]
        caption = 5.5 * page.size
        window = self.whole

        def under(aspect: float) -> tuple[Scale, float]:
            below = tall - across * aspect - 2.0 * caption - 0.6 * page.gap_mm
            size = (window.width_m, window.height_m, across, below)
            return scale_within(*size, subject.units), below

        aspect = _least_cut(natural, lambda aspect: under(aspect)[0])
        scale, below = under(aspect)
        before, then = (self.picture(design, "street", aspect) for design in (drawn, after))
        left = Window(window.left_m, 0.0, window.foot_m, window.top_m)
        right = Window(0.0, window.right_m, window.foot_m, window.top_m)
        keys = (
            "columns", "slenderness", "entablature_height", "entablature_ratio",
            "clear_widest", "cornice_projection", "window_height_0", "window_height_1",
            _shadow_key(subject.light),
        )  # fmt: skip
        return {
            "kind": "before and after",
            "title": "Before and after",
            "light": self.light_words,
            "names": [set_text(_named(d)) for d in (drawn, after)],
            "pictures": [before, then],
            "halves": [
                self.drawing(drawn, left, scale, subject.light, "left-half"),
                self.drawing(after, right, scale, subject.light, "right-half"),
            ],
            "scale": self.scaled(scale, 0.2 * wide),
            "caption": caption,
            "below": below,
            "rows": self.rows(keys, (drawn, after)),
        }

    def builders(self, drawing: BuildersDrawing) -> dict[str, Any]:
        """The builder's drawing beside the model, and the model over it."""
        page, drawn = self.page, self.subject.designs[0]
        wide, tall = page.inner_mm
        aspect = drawing.given.height / drawing.given.width
        caption = 5.5 * page.size
        across = min((wide - page.gap_mm) / 2.0, (tall / 2.0 - 2.0 * caption) / aspect)
        ratio = 1000.0 * drawing.window.width_m / across
        scale = Scale(ratio, "at the drawing's scale")
        beside = self.drawing(drawn, drawing.window, scale, None, "beside", washes=False)
        for name, image in (("given", drawing.given), ("over", drawing.over)):
            self.files[f"builders_{name}.png"] = _png(image)
        return {
            "kind": "builder's drawing",
            "title": set_text("The builder's drawing and the model"),
            "light": "The model in line, at the scale that its known points give the drawing",
            "across": across,
            "aspect": aspect,
            "caption": caption,
            "given": "builders_given.png",
            "over": "builders_over.png",
            "drawing": beside,
            "name": set_text(_named(drawn)),
            "words": [set_text(_sentence(line)) for line in drawing.words],
            "rows": self.rows(_OF_A_DRAWING, (drawn,)),
        }

    def day(self) -> dict[str, Any]:
        """How deep the cornice's shadow hangs through three days of the year."""
        subject = self.subject
        panels, hours = [], [12.0]
        deepest = max(1.3 * _below_cornice_m(design) for design in subject.designs)
        for design in subject.designs:
            curves = []
            for name, suns in self.days.items():
                runs = _runs(design, suns, deepest)
                hours += [hour for run in runs for hour, _ in run]
                curves.append({"name": name, "runs": runs})
            order = design.porch.order
            panels.append(
                {
                    "name": set_text(_named(design)),
                    "frieze": order.frieze_height_m,
                    "architrave": _below_cornice_m(design),
                    "line": set_text(self._day_line(design)),
                    "curves": curves,
                }
            )
        first, last = np.floor(min(hours)), np.ceil(max(hours))
        return {
            "kind": "day",
            "title": set_text("The day: how deep the cornice's shadow hangs"),
            "light": set_text(
                f"{subject.loaded.scene.site.place} · by the clock, daylight saving where it "
                f"is kept · from the cornice's foot down the frieze, by the profile angle"
            ),
            "panels": panels,
            "first": float(first),
            "last": float(last),
            "deepest": deepest,
            "hours": [[hour, f"{hour}:00"] for hour in clock_ticks(first, last)],
            "depths": [[depth, set_text(w)] for depth, w in depth_ticks(deepest, subject.units)],
        }

    @cached_property
    def days(self) -> dict[str, list[SunTime]]:
        """The suns of three days, ten minutes apart."""
        site = self.subject.designs[0].site
        found = {}
        for name in _DAYS:
            noon = sun_time(f"{name} 12:00", site).when
            assert noon is not None
            steps = [divmod(minute, 60) for minute in range(0, 24 * 60, _STEP_MIN)]
            instants: list[datetime] = [noon.replace(hour=h, minute=m) for h, m in steps]
            label = "equinox" if "equinox" in name else name
            found[label] = sun_times(instants, site)
        return found

    def _day_line(self, design: Design) -> str:
        depth_m = cornice_shadow_m(design, self.subject.light)
        if depth_m is None:
            return "no sun on the front"
        words = format_length(depth_m, self.subject.units)
        return f"{words} deep {time_words(self.subject.light)}{self._from_corona(design)}"

    def _from_corona(self, design: Design) -> str:
        """The shadow as the eye takes it, over the bed mouldings too."""
        under = shadow_under_corona(design, self.subject.light)
        if under is None:
            return ""
        return f", {format_length(under.depth_m, self.subject.units)} from the corona's edge"

    def year(self) -> list[dict[str, Any]]:
        """The porch's cornice at one hour in four seasons, a row for each design."""
        subject, page = self.subject, self.page
        when = subject.light.when
        clock = f"{when:%H:%M}" if when else "10:30"
        suns = [sun_time(f"{season} {clock}", subject.designs[0].site) for season in SEASONS]
        wide, tall = page.inner_mm
        count = len(subject.designs)
        sheets = -(-count // _MOST_ROWS)
        per_sheet = -(-count // sheets)
        head, name, line = 9.0 * page.size, 5.5 * page.size, 4.5 * page.size
        each = (tall - head) / per_sheet - name - line
        across = (wide - 3.0 * page.gap_mm) / 4.0
        scale, windows = _porch_corners(subject.designs, across, each, subject.units)
        pages = []
        for start in range(0, count, per_sheet):
            shown = subject.designs[start : start + per_sheet]
            pages.append(
                {
                    "kind": "year",
                    "title": f"The year: one hour in four seasons, {clock}",
                    "light": set_text(
                        f"{subject.loaded.scene.site.place} · the porch's right end, and how "
                        f"deep the cornice's shadow falls from its foot"
                    ),
                    "head": head,
                    "name": name,
                    "line": line,
                    "scale": self.scaled(scale, 0.2 * wide),
                    "seasons": [
                        {"name": season.capitalize(), "sun": set_text(_season_words(sun))}
                        for season, sun in zip(SEASONS, suns, strict=True)
                    ],
                    "rows": [
                        {
                            "name": set_text(_named(design)),
                            "cells": [
                                self._season(design, windows[design.name], scale, season, sun)
                                for season, sun in zip(SEASONS, suns, strict=True)
                            ],
                        }
                        for design in shown
                    ],
                }
            )
        return pages

    def _season(
        self, design: Design, window: Window, scale: Scale, season: str, sun: SunTime
    ) -> dict[str, Any]:
        depth_m = cornice_shadow_m(design, sun) if sun.is_up else None
        under = shadow_under_corona(design, sun) if sun.is_up else None
        words = (
            f"shadow {format_length(depth_m, self.subject.units)}, from the corona "
            f"{format_length(under.depth_m, self.subject.units)}"
            if depth_m is not None and under is not None
            else "no sun on the front"
            if sun.is_up
            else "the sun is down"
        )
        light = sun if sun.is_up else None
        return {
            "drawing": self.drawing(design, window, scale, light, slug(season)),
            "line": set_text(words),
        }

    def rows(self, keys: Sequence[str], designs: Sequence[Design]) -> list[dict[str, Any]]:
        """Rows of a table: a figure's name and its value in each design."""
        by_key: dict[str, list[Figure | None]] = {}
        for _, values in figure_rows(designs, self.subject.suns):
            by_key[next(f.key for f in values if f)] = values
        return [
            {
                "name": set_text(_row_name(by_key[key])),
                "cells": [self._written(figure) for figure in by_key[key]],
            }
            for key in keys
            if key in by_key
        ]

    def _written(self, figure: Figure | None) -> str:
        if figure is None:
            return "–"
        if figure.key.endswith("entablature_ratio"):
            return f"1/{1.0 / figure.value:.1f}"  # as the canons have it
        return set_text(figure.written(self.subject.units))

    def sizes(self) -> dict[str, Any]:
        """Sizes at a glance, cautions, sources, and what the board was made from."""
        subject = self.subject
        orders = [
            "piers" if d.porch.order.square
            else f"{d.porch.order.order.title()}, "
            f"{plate(d.porch.order.order, d.porch.order.canon).authority.title()}"
            for d in subject.designs
        ]  # fmt: skip
        rows = [{"name": "Order and canon", "cells": [set_text(o) for o in orders]}]
        rows += self.rows((*_SIZES, *(_shadow_key(sun) for sun in subject.suns)), subject.designs)
        content = subject.loaded.path.read_bytes()
        return {
            "kind": "sizes",
            "title": "Sizes at a glance",
            "light": set_text("For comparing; the builder's sizes are in the schedule"),
            "names": [set_text(_named(d)) for d in subject.designs],
            "rows": rows,
            "cautions": [set_text(text) for text in _cautions(subject.designs)],
            "local": [set_text(text) for text in cautions()],
            "sources": [set_text(text) for text in self._sources()],
            "made_from": set_text(
                f"{subject.loaded.path.name}, SHA-256 {hashlib.sha256(content).hexdigest()}; "
                f"massing {__version__}; {self.block['date']}."
            ),
        }

    def _sources(self) -> list[str]:
        subject = self.subject
        drawn = subject.designs[0]
        said = [c.source for d in subject.designs[1:] for c in changes(drawn, d, subject.suns)]
        said += [f.source for d in subject.designs for f in findings(d) if f.severity == "caution"]
        plates = [plate(d.porch.order.order, d.porch.order.canon) for d in subject.designs]
        said += [cited(each.source) for each in plates]
        pieces = [piece for source in said for piece in source.split("; ")]
        return sorted(dict.fromkeys(piece[:1].upper() + piece[1:] for piece in pieces))


# --- words ---------------------------------------------------------------------------------


def set_text(text: str) -> str:
    """Text as a typesetter has it: primes after figures, curled apostrophes, and room to break
    a word that no line would hold.

    >>> set_text("the cornice's foot, 5'-6 1/2\\"")
    'the cornice’s foot, 5′-\\u20606\\xa01/2″'
    """
    text = re.sub(r"(?<=\d)'", "′", text)
    text = re.sub(r'(?<=\d)"', "″", text)
    text = re.sub(r"(?<=[\d])-(?=\d+[″\s/])|(?<=′)-(?=\d)", "-\u2060", text)
    text = re.sub(r"(?<=\d) (?=\d+/\d+″)", "\xa0", text)
    text = re.sub(r"(?<=\d) (?=(?:mm|m|in|ft)\b)", "\xa0", text)
    text = text.replace("'", "’")
    return re.sub(rf"\S{{{_LONGEST_WORD + 1},}}", _breakable, text)


def _breakable(word: re.Match[str]) -> str:
    whole = word[0]
    return "\u200b".join(whole[i : i + 8] for i in range(0, len(whole), 8))


def _row_name(figures: Sequence[Figure | None]) -> str:
    """A figure's name as the last design has it; a pier's width is said to be one's."""
    name = next(figure.name for figure in reversed(figures) if figure)
    return "Pier width" if name == "Width" else name


def _named(design: Design) -> str:
    return design.name[:1].upper() + design.name[1:]


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _change(change: Change) -> dict[str, Any]:
    source = change.source[:1].upper() + change.source[1:]
    return {"text": set_text(change.text), "source": set_text(source)}


def _day_words(text: str) -> str:
    """A date in words where it is written in figures, else as it is written.

    >>> _day_words("2026-11-27"), _day_words("Michaelmas 2026")
    ('27 November 2026', 'Michaelmas 2026')
    """
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return text
    return f"{day.day} {day:%B %Y}"


def _ymd(subject: Subject) -> list[int]:
    sheet = subject.loaded.scene.sheet
    try:
        day = date.fromisoformat(sheet.date) if sheet and sheet.date else subject.printed_on
    except ValueError:
        day = subject.printed_on
    return [day.year, day.month, day.day]


def _season_words(sun: SunTime) -> str:
    if sun.when is None or not sun.is_up:
        return "the sun is down"
    return f"{sun.when.day} {sun.when:%B}, sun {sun.altitude_deg:.0f}° high"


def _cautions(designs: Sequence[Design]) -> list[str]:
    """Each caution once, with whose it is where it is not everybody's."""
    whose: dict[str, list[str]] = {}
    for design in designs:
        for finding in findings(design):
            if finding.severity == "caution":
                whose.setdefault(finding.text, []).append(_named(design))
    common = [text for text, names in whose.items() if len(names) == len(designs)]
    own = [f"{', '.join(n)}: {t}" for t, n in whose.items() if len(n) < len(designs)]
    return common + own


def _shadow_key(sun: SunTime) -> str:
    return f"cornice_shadow_{slug(sun.label).replace('-', '_')}"


# --- measures ------------------------------------------------------------------------------


def _below_cornice_m(design: Design) -> float:
    order = design.porch.order
    return order.frieze_height_m + order.architrave_height_m


def _runs(design: Design, suns: Sequence[SunTime], deepest_m: float) -> list[list[list[float]]]:
    """Hours and depths of the cornice's shadow, in runs while the sun is on the front."""
    runs: list[list[list[float]]] = [[]]
    for sun in suns:
        depth_m = cornice_shadow_m(design, sun) if sun.is_up and sun.when else None
        if depth_m is None or sun.when is None:
            runs.append([])
            continue
        hour = sun.when.hour + sun.when.minute / 60.0
        runs[-1].append([hour, round(min(max(depth_m, 0.0), deepest_m), 5)])
    return [run for run in runs if len(run) > 1]


def _porch_corners(
    designs: Sequence[Design], across_mm: float, down_mm: float, units: str
) -> tuple[Scale, dict[str, Window]]:
    """The right end of each porch's entablature, with what is over and under it, by the design's
    name: all filling one place on paper at the largest standard scale that holds their heights."""
    ends: dict[str, tuple[float, float, float]] = {}
    for design in designs:
        porch = design.porch.highest
        rail = porch.balustrade.height_m if porch.balustrade else 0.0
        right = porch.half_width_m + porch.order.cornice_projection_m
        foot = porch.column_top_z_m - 0.12 * porch.order.column_height_m
        top = porch.stands_on_z_m + rail + 0.1
        ends[design.name] = (right, foot, top)
    tallest = max(top - foot for _, foot, top in ends.values())
    scale = scale_within(0.0, tallest, across_mm, down_mm, units)
    wide_m, tall_m = (mm * scale.ratio / 1000.0 for mm in (across_mm, down_mm))
    windows = {}
    for name, (right, _, top) in ends.items():
        end = right + 0.12 * wide_m
        windows[name] = Window(end - wide_m, end, top - tall_m, top)
    return scale, windows


# --- files ---------------------------------------------------------------------------------


def _least_cut(natural: float, scale_at: Callable[[float], Scale]) -> float:
    """The height over width that a picture is cut to, by as little as lets the drawing under it
    have the largest scale."""
    aspects = [natural * (1.0 - cut) for cut in _CUTS]
    return min(aspects, key=lambda aspect: (scale_at(aspect).ratio, -aspect))


def _cut(image: Image.Image, aspect: float) -> Image.Image:
    """The picture cut to a height over width: off the top, or off both sides."""
    wide, tall = image.size
    if tall > aspect * wide:
        return image.crop((0, tall - max(1, round(aspect * wide)), wide, tall))
    kept = max(1, round(tall / aspect))
    left = (wide - kept) // 2
    return image.crop((left, 0, left + kept, tall))


def _jpeg(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", quality=_JPEG_QUALITY, subsampling=0, optimize=True)
    return buffer.getvalue()


def _png(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.convert("RGB").save(buffer, "PNG", optimize=True)
    return buffer.getvalue()
