"""One HTML file that holds everything: opened from a disk or sent by mail, it asks for nothing.

The words stand in the file as they are read; pictures beyond the first, the model and its
viewer are carried along and unpacked by ``static/page.js`` when the page is open.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from html import escape

from PIL import Image

from massing import __version__
from massing.findings.change import length_words, telling_sun, time_words
from massing.findings.changes import changes
from massing.findings.figure import Figure
from massing.findings.report import findings
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.practice.cautions import CAUTION, cautions
from massing.present.page.files import (
    MODULES,
    base64_text,
    data_url,
    module_source,
    pressed,
    script_json,
    static_text,
    style,
)
from massing.present.page.marks import (
    compared_cell,
    facing,
    key_of,
    look_words,
    named,
    radios,
    view_words,
)
from massing.present.page.subject import Shown, Subject
from massing.present.page.sun_table import sun_table
from massing.present.page.viewer_data import finishes_json, packed_models, views_json
from massing.present.remarks import remark_text
from massing.present.reports.tables import FEW, figure_rows, key_line
from massing.present.words import date_text, light_line, mark, set_text, sun_text
from massing.scene.spec import Sheet

_MODEL_VIEWS = {
    "elevation": "Elevation",
    "street": "Street",
    "close-up": "Close",
    "walk": "Walk",
    "roof": "Above",
}


def page_html(subject: Subject) -> str:
    """The whole page. The same subject gives the same text."""
    return _Page(subject).html()


class _Page:
    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        self.designs = subject.designs
        scene = subject.loaded.scene
        self.sheet = scene.sheet or Sheet()
        self.title = self.sheet.project or scene.title
        self.units = scene.units
        self.light = telling_sun(subject.suns) or subject.suns[0]
        self.webp = dict(zip(map(_key, subject.pictures), pressed(subject.pictures), strict=True))
        self.first = self._first_choice()

    def called(self, name: str) -> str:
        """A design's name after the letter that it is spoken of by."""
        place = [design.name for design in self.designs].index(name)
        return f"{mark(place)} · {named(name)}" if place else named(name)

    def html(self) -> str:
        sections = [
            self.before_and_after(),
            self.side_by_side(),
            self.model(),
            self.changed(),
            self.figures(),
            self.findings(),
            self.colophon(),
        ]
        links = [(name, title) for name, title, _ in sections]
        body = "\n".join(content for _, _, content in sections if content)
        contents = "".join(
            f'<li><a href="#{name}">{escape(title)}</a></li>'
            for (name, title), (_, _, content) in zip(links, sections, strict=True)
            if content
        )
        return (
            '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            f"<title>{escape(self.title)}</title>\n"
            f'<meta name="generator" content="massing {__version__}">\n'
            f'<meta name="description" content="{escape(CAUTION)}">\n'
            '<link rel="icon" href="data:,">\n'
            f"<style>\n{style()}</style>\n</head>\n<body>\n"
            f'<a class="skip" href="#content">To the content</a>\n{self.head()}\n'
            f"{self.coming()}"
            f'<nav aria-label="Sheets"><ol>{contents}</ol></nav>\n'
            f'<main id="content">\n{body}\n</main>\n{self.enlarged()}\n{self.scripts()}\n'
            "</body>\n</html>\n"
        )

    def coming(self) -> str:
        """While pictures are being made: how many are to come, on a page that reloads itself."""
        count = self.subject.coming
        if not count:
            return ""
        return (
            f'<p class="note coming" id="coming" role="status" data-coming="{count}">'
            f"<span>{count} pictures are still being made; this page takes them in by itself "
            "as long as no hand is on it.</span></p>\n"
        )

    # --- the title block ---

    def head(self) -> str:
        site, sheet = self.designs[0].site, self.sheet
        facts = [
            ("Place", self.subject.loaded.scene.site.place),
            ("Front faces", facing(site.front_azimuth_deg)),
            ("Designs", f"{len(self.designs)}, the first as drawn"),
            ("Designer", sheet.designer),
            ("Client", sheet.client),
            ("Date", sheet.date),
            ("Issue", sheet.issue),
        ]
        cells = "".join(
            f"<div><dt>{name}</dt><dd>{escape(str(value))}</dd></div>"
            for name, value in facts
            if value
        )
        return f'<header class="block"><h1>{escape(self.title)}</h1><dl>{cells}</dl></header>'

    # --- pictures ---

    def _first_choice(self) -> tuple[str, str, str]:
        """View, sun and look that the page opens with: the elevation in the telling light."""
        has = {(p.view, p.sun.label, p.look) for p in self.subject.pictures}
        for look in ("materials", "clay", "drawn"):
            for view in ("elevation", "street"):
                if (view, self.light.label, look) in has:
                    return view, self.light.label, look
        return next(iter(sorted(has)), ("", "", ""))

    def _of(self, design: str) -> bytes | None:
        return self.webp.get((design, *self.first))

    def _image(self, design: str, role: str = "") -> str:
        data = self._of(design)
        if data is None:
            return ""
        with Image.open(io.BytesIO(data)) as image:
            width, height = image.size
        view, label, look = self.first
        words = f"{named(design)}: {view_words(view)}, {look_words(look)}, {label}"
        return (
            f'<img class="picture{role}" data-design="{escape(design)}" width="{width}" '
            f'height="{height}" alt="{escape(words)}" src="{data_url(data, "image/webp")}">'
        )

    def choices(self) -> str:
        """What picks the pictures of the first two sheets."""
        pictures = self.subject.pictures
        views = list(dict.fromkeys(p.view for p in pictures))
        lights = list(dict.fromkeys(p.sun.label for p in pictures))
        looks = list(dict.fromkeys(p.look for p in pictures))
        view, light, look = self.first
        return (
            '<form class="choices" id="choices">'
            + radios("View", "view", [(v, view_words(v, short=True)) for v in views], view)
            + radios("Light", "light", [(s, s[:1].upper() + s[1:]) for s in lights], light)
            + radios("Look", "look", [(k, look_words(k).capitalize()) for k in looks], look)
            + "</form>"
        )

    def before_and_after(self) -> tuple[str, str, str]:
        title = "Before and after"
        drawn = self.designs[0].name
        others = [d.name for d in self.designs[1:] if self._of(d.name)]
        if not others or not self._of(drawn):
            return "before-and-after", title, ""
        after = others[0]
        beside = [(name, self.called(name)) for name in others]
        return (
            "before-and-after",
            title,
            f'<section id="before-and-after" aria-labelledby="h-before">'
            f'<h2 id="h-before">{title}</h2><div class="sheet">'
            f'<figure class="divided" id="divided">'
            f'<div class="both">{self._image(drawn, " left")}{self._image(after, " right")}'
            '<span class="line" aria-hidden="true"></span>'
            '<input type="range" id="divider" min="0" max="100" step="0.5" value="50" '
            'aria-label="Divider between the design as drawn, on the left, and the alternative, '
            'on the right"></div>'
            f'<figcaption><span class="left-name">{escape(named(drawn))}</span>'
            f'<span class="light-words" data-light>{escape(self._light_words())}</span>'
            f'<span class="right-name" data-after>{escape(self.called(after))}</span></figcaption>'
            '</figure><div class="column"><form class="choices" id="after">'
            f"{radios('Beside the design as drawn', 'after', beside, after)}"
            f"</form>{self.choices()}</div></div></section>",
        )

    def _light_words(self) -> str:
        sun = next((s for s in self.subject.suns if s.label == self.first[1]), self.light)
        return light_line(self.subject.loaded.scene.site.place, sun)

    def side_by_side(self) -> tuple[str, str, str]:
        title = "Side by side"
        shown = [design for design in self.designs if self._of(design.name)]
        if not shown:
            return "side-by-side", title, ""
        figures = "".join(
            f'<figure><button type="button" class="enlarge" data-design="{escape(d.name)}" '
            f'aria-label="Enlarge: {escape(named(d.name))}">{self._image(d.name)}</button>'
            f"<figcaption><strong>{escape(self.called(d.name))}</strong>"
            f"<span>{escape(set_text(key_line(d, self.light)))}</span></figcaption></figure>"
            for d in shown
        )
        threes = " threes" if len(shown) in (3, 6) else ""  # no row with one alone
        note = (
            "One framing and one light for all. A line under each: the column's diameter to its "
            "height, the entablature to the column, clear spacing in diameters, and the cornice's "
            f"shadow {time_words(self.light)}. A picture enlarges."
        )
        return (
            "side-by-side",
            title,
            f'<section id="side-by-side" aria-labelledby="h-side"><h2 id="h-side">{title}</h2>'
            f'<div class="grid{threes}">{figures}</div>'
            f'<p class="note">{escape(note)}</p></section>',
        )

    def enlarged(self) -> str:
        return (
            '<dialog id="enlarged" aria-labelledby="enlarged-name"><form method="dialog">'
            '<p id="enlarged-name"></p>'
            '<button type="button" id="last-picture">Previous</button>'
            '<button type="button" id="next-picture">Next</button>'
            "<button>Close</button></form>"
            '<img id="enlarged-picture" alt="" hidden></dialog>'
        )

    # --- the model ---

    def model(self) -> tuple[str, str, str]:
        title = "The model"
        names = [design.name for design in self.designs]
        first = names[1] if len(names) > 1 else names[0]
        panes = [("1", "One")]
        panes += [("2", "Two, one as drawn")] if len(names) > 1 else []
        panes += [("4", "Four" if len(names) >= 4 else "All")] if len(names) > 2 else []
        suns = "".join(
            f'<button type="button" data-day="{sun.when.timetuple().tm_yday - 1}" '
            f'data-minute="{60 * sun.when.hour + sun.when.minute}">'
            f"{escape(sun.label[:1].upper() + sun.label[1:])}</button>"
            for sun in self.subject.suns
            if sun.when
        )
        return (
            "model",
            title,
            '<section id="model" aria-labelledby="h-model">'
            f'<h2 id="h-model">{title}</h2>'
            '<div class="sheet"><div class="model">'
            '<div class="stage" id="stage" tabindex="0" role="application" '
            'aria-label="The model in three dimensions. Drag to turn, pinch or wheel to come '
            'nearer; arrow keys turn, plus and minus come nearer and go back" '
            'aria-describedby="sun-words"><p id="waiting">The model is being set up …</p></div>'
            '<ul class="pane-names" id="pane-names" aria-hidden="true"></ul>'
            '<form class="light-desk" id="light-desk">'
            '<label><span>Hour</span><input type="range" id="hour" step="5" min="0" max="1440" '
            'value="720"><output id="hour-words" for="hour"></output></label>'
            '<label><span>Day</span><input type="range" id="day" step="1" min="0" max="364" '
            'value="0"><output id="day-words" for="day"></output></label>'
            f'<p id="sun-words" role="status"></p><div class="times">{suns}</div></form>'
            '<p class="note" id="picked" role="status">A click on the model names the part, and '
            "the wheel then comes nearer.</p>"
            '</div><div class="column"><form class="choices" id="model-choices">'
            + radios("Design", "design", [(n, self.called(n)) for n in names], first)
            + (radios("At once", "panes", panes, "1") if len(panes) > 1 else "")
            + radios("View", "stand", list(_MODEL_VIEWS.items()), "elevation")
            + radios("Look", "model-look", [("clay", "Clay"), ("materials", "Materials")], "clay")
            + '<fieldset><legend>Scale figure</legend><label><input type="checkbox" id="figure" '
            "checked><span>Shown</span></label></fieldset></form></div></div></section>",
        )

    # --- words and figures ---

    def changed(self) -> tuple[str, str, str]:
        title = "What changed and why"
        if len(self.designs) < 2:
            return "changed", title, ""
        articles = []
        for design in self.designs[1:]:
            said = changes(self.designs[0], design, self.subject.suns)
            lines = "".join(
                f"<li>{escape(set_text(change.text))} <cite>{escape(change.source)}</cite></li>"
                for change in said
            )
            articles.append(
                f"<article><h3>{escape(self.called(design.name))}</h3><ul>{lines}</ul></article>"
            )
        return (
            "changed",
            title,
            f'<section id="changed" aria-labelledby="h-changed"><h2 id="h-changed">{title}</h2>'
            f'<div class="columns">{"".join(articles)}</div></section>',
        )

    def figures(self) -> tuple[str, str, str]:
        title = "Figures"
        rows = figure_rows(self.designs, self.subject.suns)
        few = [row for row in rows if key_of(row[1]) in FEW]
        shadow = [cornice_shadow_m(design, self.light) for design in self.designs]
        spoken = ["–" if depth is None else length_words(depth, self.units) for depth in shadow]
        last = f"Cornice shadow {time_words(self.light)}"
        under = [shadow_under_corona(design, self.light) for design in self.designs]
        eye = ["–" if u is None else length_words(u.depth_m, self.units) for u in under]
        short = [(name, self._cells(values)) for name, values in few]
        short += [(last, spoken), ("… from the corona's lower edge", eye)]
        whole = [(name, self._cells(values)) for name, values in rows]
        return (
            "figures",
            title,
            f'<section id="figures" aria-labelledby="h-figures"><h2 id="h-figures">{title}</h2>'
            f"{self._table(short, 'Figures that explain the difference')}"
            f"<details><summary>Every figure</summary>"
            f"{self._table(whole, 'Every figure')}</details></section>",
        )

    def _cells(self, values: Iterable[Figure | None]) -> list[str]:
        return [self._written(figure) if figure else "–" for figure in values]

    def _written(self, figure: Figure) -> str:
        if figure.key.endswith("entablature_ratio"):
            return f"1/{1.0 / figure.value:.1f}"  # as the canons have it
        return figure.written(self.units)

    def _table(self, rows: Sequence[tuple[str, Sequence[str]]], caption: str) -> str:
        heads = "".join(f'<th scope="col">{escape(self.called(d.name))}</th>' for d in self.designs)
        body = "".join(
            f'<tr><th scope="row">{escape(name)}</th>'
            + "".join(compared_cell(cell, cells[0]) for cell in cells)
            + "</tr>"
            for name, cells in rows
        )
        return (
            f'<div class="table" tabindex="0" role="region" aria-label="{escape(caption)}"><table>'
            f'<caption class="unseen">{escape(caption)}</caption>'
            f"<thead><tr><td></td>{heads}</tr></thead><tbody>{body}</tbody></table></div>"
        )

    def findings(self) -> tuple[str, str, str]:
        title = "Findings"
        words = {"caution": "Caution", "check": "Question", "note": "Note"}
        articles = []
        for design in self.designs:
            items = "".join(
                f'<li class="{finding.severity}"><b>{words.get(finding.severity, "Note")}</b> '
                f"{escape(set_text(remark_text(finding, design.units)))} "
                f"<cite>{escape(finding.source)}</cite></li>"
                for finding in findings(design)
            )
            said = f"<ul>{items}</ul>" if items else "<p>Nothing to remark.</p>"
            articles.append(
                f"<details><summary>{escape(self.called(design.name))}</summary>{said}</details>"
            )
        return (
            "findings",
            title,
            f'<section id="findings" aria-labelledby="h-findings"><h2 id="h-findings">{title}</h2>'
            '<p class="note">What published canons and common practice say of each design. They '
            "inform; they never overrule the designer.</p>"
            f"{''.join(articles)}</section>",
        )

    def colophon(self) -> tuple[str, str, str]:
        title = "Cautions and sources"
        lines = "".join(f"<li>{escape(line)}</li>" for line in cautions())
        suns = "".join(
            f"<li>{escape(sun.label)}: "
            f"{escape(date_text(sun.when) if sun.when else 'a drawing convention')}, "
            f"{escape(sun_text(sun))}</li>"
            for sun in self.subject.suns
        )
        return (
            "cautions",
            title,
            f'<section id="cautions" aria-labelledby="h-cautions"><h2 id="h-cautions">{title}</h2>'
            f'<p>{escape(CAUTION)}</p><div class="columns"><ul>{lines}</ul>'
            f"<ul>{suns}</ul></div>"
            f'<p class="note">{escape(self.subject.loaded.file_name)} · massing {__version__} · '
            "the sun by NREL's algorithm, clear sky · three.js, MIT licence · EB Garamond, SIL "
            "Open Font License</p></section>",
        )

    # --- what is carried along ---

    def scripts(self) -> str:
        """The viewer and the model before the many pictures, so that it need not wait for them."""
        scene = {
            "designs": [design.name for design in self.designs],
            "called": {design.name: self.called(design.name) for design in self.designs},
            "sun": sun_table(self.designs[0].site),
            "start": self._start(),
            "finishes": finishes_json(),
            "views": views_json(
                self.subject.bounds_m,
                self.subject.focus,
                tuple(_MODEL_VIEWS),
                self.designs[0].site.ground,
                [self.subject.models[design.name] for design in self.designs],
            ),
        }
        modules = "".join(
            f'<script type="text/plain" data-module="{name}">{module_source(name)}</script>\n'
            for name in MODULES
        )
        models = self.subject.packed or packed_models(
            [self.subject.models[d.name] for d in self.designs]
        )
        pictures = {"|".join(key): base64_text(data) for key, data in self.webp.items()}
        coming = f"\n<script>\n{static_text('coming.js')}</script>" if self.subject.coming else ""
        lights = {
            sun.label: light_line(self.subject.loaded.scene.site.place, sun)
            for sun in self.subject.suns
        }
        return (
            f'<script type="application/json" id="scene">{script_json(scene)}</script>\n{modules}'
            f'<script type="text/plain" id="models">{base64_text(models)}</script>\n'
            f"<script>\n{static_text('page.js')}</script>\n"
            f'<script type="application/json" id="lights">{script_json(lights)}</script>\n'
            f'<script type="application/json" id="pictures">{script_json(pictures)}</script>'
            f"{coming}"
        )

    def _start(self) -> dict[str, int]:
        when = self.light.when or next((s.when for s in self.subject.suns if s.when), None)
        if when is None:
            return {"day": 79, "minute": 630}
        return {"day": when.timetuple().tm_yday - 1, "minute": 60 * when.hour + when.minute}


def _key(picture: Shown) -> tuple[str, str, str, str]:
    return picture.design, picture.view, picture.sun.label, picture.look
