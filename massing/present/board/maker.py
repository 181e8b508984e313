"""What several pages of a board share: its drawings, pictures, scales and rows."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Any

from PIL import Image

from massing.design.design import Design
from massing.files import slug
from massing.findings.change import time_words
from massing.findings.figure import Figure
from massing.present.board.elevation import Front, Window
from massing.present.board.layout import (
    Page,
    Scale,
    bar,
)
from massing.present.board.pictures import cut_to, jpeg
from massing.present.board.subject import Say, Subject
from massing.present.board.words import (
    day_words,
    named,
    row_name,
)
from massing.present.reports.tables import figure_rows
from massing.present.words import light_line, set_text, view_and_look
from massing.scene.spec import Sheet
from massing.sun.position import SunTime


class Maker:
    """Keeps the drawings, pictures and rows that several pages of a board show."""

    def __init__(self, subject: Subject, page: Page, say: Say) -> None:
        self.subject, self.page = subject, page
        self.files: dict[str, bytes] = {}
        self.block = self._block()
        self.fronts: dict[str, Front] = {}
        for i, design in enumerate(subject.designs):
            say(i, len(subject.designs), f"{design.name}, elevation")
            self.fronts[design.name] = Front(subject.models[design.name])
        say(len(subject.designs), len(subject.designs), "")

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
            "alt": set_text(f"{named(design)}, front elevation, {scale.words}"),
        }

    def picture(self, design: Design, view: str, aspect: float | None = None) -> dict[str, Any]:
        """A picture of the study, as its file and its height over its width.

        Args:
            aspect: cut to this, see :func:`~massing.present.board.pictures.cut_to`.
        """
        path = self.subject.pictures[design.name][view]
        with Image.open(path) as found:
            image = found.convert("RGB")
        if aspect is not None:
            image = cut_to(image, aspect, self.subject.sky.get(view, 0.0))
        file = f"{slug(design.name)}_{slug(view)}_{image.width}x{image.height}.jpg"
        if file not in self.files:
            self.files[file] = jpeg(image)
        words = view_and_look(view, self.subject.look)
        return {
            "file": file,
            "aspect": image.height / image.width,
            "alt": set_text(f"{named(design)}: {words}"),
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
            "date": set_text(day_words(day)),
            "issue": set_text(sheet.issue or ""),
            "logo": logo,
        }

    def rows(self, keys: Sequence[str], designs: Sequence[Design]) -> list[dict[str, Any]]:
        """Rows of a table: a figure's name and its value in each design."""
        by_key: dict[str, list[Figure | None]] = {}
        for _, values in figure_rows(designs, self.subject.suns):
            by_key[next(f.key for f in values if f)] = values
        return [
            {
                "name": set_text(row_name(by_key[key])),
                "cells": [self.written(figure) for figure in by_key[key]],
            }
            for key in keys
            if key in by_key
        ]

    def written(self, figure: Figure | None) -> str:
        if figure is None:
            return "–"
        if figure.key.endswith("entablature_ratio"):
            return f"1/{1.0 / figure.value:.1f}"  # as the canons have it
        return set_text(figure.written(self.subject.units))
