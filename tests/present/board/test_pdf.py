"""The printed board, read back by PDFium: sizes, scale, words, fonts; and nothing overflows."""

from __future__ import annotations

import hashlib
import io
import re
import shutil
import subprocess
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c
import pytest
from PIL import Image

from massing.findings.changes import changes
from massing.practice.cautions import CAUTION
from massing.present.board import light_pages, maker
from massing.present.board.elevation import Drawn, Front, Window
from massing.present.board.front_pages import beside
from massing.present.board.layout import Page, page
from massing.present.board.pages import contents, sizes
from massing.present.board.subject import VIEWS, BuildersDrawing, Contents, Subject
from massing.present.board.typeset import TypesetError, typeset
from massing.present.reports.tables import works_cited
from massing.present.words import set_text
from massing.study.board import board_light
from massing.study.study import Study, read_study

POINTS_PER_MM = 72.0 / 25.4
SCENE = """
title: House by the ford
units: {units}
site: {{place: Swellendam, latitude: -34.02, longitude: 20.44, front_faces: N}}
times: [summer solstice 13:00, equinox 10:30]
house:
  width: {width}
  depth: 8 m
  storeys: [4.45 m]
  bays: 3
  windows: [{{width: 1 m, height: 1.5 m, sill: 0.5 m}}]
porch:
  {{columns: 4, diameter: 160 mm, entablature: 200 mm, height: 2.7 m, spacing: 2.4 m, roof: flat}}
roof: {{covering: plain}}
alternatives:
"""
CHANGE = "{{order: {order}, diameter: null, entablature: null, height: {height} m}}"
BLOCK = """
sheet:
  project: {name}
  designer: {name}
  client: {name}
  date: 2026-11-27
  issue: {name}
"""
LONG = "A house with a very long name that goes on, beyond the second line, and past the orchard"
WORD = "Donaudampfschifffahrtsgesellschaftskapitaenshausvariante"


def _study(
    folder: Path, count: int, units: str = "metric", width: str = "12 m", block: str = ""
) -> Study:
    text = SCENE.format(units=units, width=width)
    for i in range(count):
        order = ("tuscan", "doric", "ionic")[i % 3]
        name = (f"{order.title()}", f"{order.title()} {LONG}"[:58], WORD)[i % 3] + f" {i}"[:2]
        change = CHANGE.format(order=order, height=3.1 + 0.02 * i)
        text += f"  {name[:60]}:\n    porch: {change.replace('{{', '{').replace('}}', '}')}\n"
    path = folder / "scene.yaml"
    path.write_text(text + block, encoding="utf-8")
    return read_study(path)


def _subject(study: Study, folder: Path) -> Subject:
    folder.mkdir(exist_ok=True)
    pictures: dict[str, dict[str, Path]] = {}
    for i, design in enumerate(study.designs):
        pictures[design.name] = {}
        for view in VIEWS:
            path = folder / f"{i}-{view}.png"
            Image.new("RGB", (320, 200), (120 + 10 * i, 150, 190)).save(path)
            pictures[design.name][view] = path
    return Subject(
        loaded=study.loaded,
        designs=study.designs,
        models=study.models,
        suns=study.suns,
        pictures=pictures,
        look="materials",
        light=board_light(study),
        printed_on=date(2026, 11, 27),
    )


class _Plain:
    """In place of a front: a box of the right size, where only the layout is looked at."""

    def __init__(self, model: object) -> None:
        self.model = model

    def drawn(self, window: Window, scale: float, sun: object = None, **_: object) -> Drawn:
        wide, tall = 1000.0 * window.width_m / scale, 1000.0 * window.height_m / scale
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{tall}mm" '
            f'viewBox="0 0 {wide} {tall}"><path stroke="#000" fill="none" '
            f'd="M0 0H{wide}V{tall}H0z"/></svg>'
        )
        return Drawn(svg, wide, tall, scale)


@dataclass(frozen=True)
class Read:
    """What is read back of one page, points from its upper left corner.

    Attributes:
        words: boxes of runs of text and what they say.
        images: boxes of pictures.
    """

    size: tuple[float, float]
    words: list[tuple[tuple[float, float, float, float], str]]
    images: list[tuple[float, float, float, float]]
    text: str


def _read(pdf: bytes) -> list[Read]:
    found = []
    for sheet in pdfium.PdfDocument(pdf):
        wide, tall = sheet.get_size()
        words = sheet.get_textpage()
        marks = range(words.count_chars())
        shown = [i for i in marks if not chr(pdfium_c.FPDFText_GetUnicode(words, i)).isspace()]
        ink = np.array([words.get_charbox(i) for i in shown])
        boxes = []
        for i in range(words.count_rects()):
            left, low, right, high = words.get_rect(i)
            text = words.get_text_bounded(left, low, right, high)
            if text[-1:].isspace():  # a line's last space is no ink
                row = (ink[:, 1] < high) & (ink[:, 3] > low) & (ink[:, 0] >= left - 0.1)
                inside = row & (ink[:, 2] <= right + 0.1)
                right = float(ink[inside, 2].max()) if inside.any() else right
            boxes.append(((left, tall - high, right, tall - low), text))
        images = []
        for thing in sheet.get_objects(filter=[pdfium_c.FPDF_PAGEOBJ_IMAGE], max_depth=6):
            left, low, right, high = thing.get_bounds()
            images.append((left, tall - high, right, tall - low))
        found.append(Read((wide, tall), boxes, images, words.get_text_range()))
    return found


def _shared(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, float]:
    """How far two boxes lie over one another, across and down; not above nothing apart."""
    return (
        min(a[2], b[2]) - max(a[0], b[0]),
        min(a[3], b[3]) - max(a[1], b[1]),
    )


def _plain(text: str) -> str:
    """Text as it is searched: without marks that only say where lines may break."""
    text = re.sub(r"[\u2060\u200b\ufffe\u00ad]", "", text)
    return " ".join(text.replace("\xa0", " ").split())


def assert_nothing_overflows(read: list[Read], sheet: Page) -> None:
    margin = sheet.margin_mm * POINTS_PER_MM - 1.0
    for number, one in enumerate(read, 1):
        wide, tall = one.size
        assert (wide, tall) == pytest.approx(
            (sheet.width_mm * POINTS_PER_MM, sheet.height_mm * POINTS_PER_MM), abs=0.5
        )
        block = tall - (sheet.margin_mm + sheet.foot_mm) * POINTS_PER_MM
        for box, text in [*one.words, *((image, "a picture") for image in one.images)]:
            where = f"page {number}: {text!r} at {box}"
            assert box[0] >= margin, where
            assert box[1] >= margin, where
            assert box[2] <= wide - margin, where
            assert box[3] <= tall - margin, where
            # nothing of the page runs into the title block
            assert not box[1] < block - 0.5 < box[3] - 1.0, where
        for (a, said_a), (b, said_b) in combinations(one.words, 2):
            across, down = _shared(a, b)
            least = min(a[3] - a[1], b[3] - b[1])
            # letters that lean over their neighbours on one line are no fault
            apart = across < 0.3 * least or down < 0.35 * least
            assert apart, f"page {number}: {said_a!r} on {said_b!r}"
        for box, text in one.words:
            for image in one.images:
                across, down = _shared(box, image)
                assert across < 0.6 or down < 0.6, f"page {number}: {text!r} on a picture"


@pytest.fixture(scope="module")
def study(tmp_path_factory: pytest.TempPathFactory) -> Study:
    return _study(tmp_path_factory.mktemp("scene"), 2)


@pytest.fixture(scope="module")
def subject(study: Study, tmp_path_factory: pytest.TempPathFactory) -> Subject:
    return _subject(study, tmp_path_factory.mktemp("pictures"))


@pytest.fixture(scope="module")
def made(subject: Subject) -> Contents:
    return contents(subject, page(None, "metric"))


@pytest.fixture(scope="module")
def pdf(made: Contents) -> bytes:
    return typeset(made)


def test_the_pages_are_those_that_a_client_needs(pdf: bytes, made: Contents) -> None:
    kinds = [one["kind"] for one in made.values["pages"]]
    assert kinds == ["together", "alone", "alone", "before and after", "day", "year", "sizes"]
    assert len(pdfium.PdfDocument(pdf)) == len(kinds)


def test_a_board_of_a_text_handed_over_tells_what_it_was_made_from(subject: Subject) -> None:
    """As from the command's standard input, where there is no file to be read again."""
    handed = replace(subject.loaded, path=Path("-"))
    last = sizes(maker.Maker(replace(subject, loaded=handed), page(None, "metric"), print))
    told = str(last["made_from"])
    plain = re.sub(r"[^0-9a-z]", "", told)
    assert hashlib.sha256(subject.loaded.text.encode()).hexdigest() in plain
    assert "scene" in told


def test_alternatives_are_lettered_and_stand_beside_the_books(
    pdf: bytes, study: Study, subject: Subject
) -> None:
    whole = [_plain(one.text) for one in _read(pdf)]
    for letter, design, text in zip("AB", study.designs[1:], whole[1:3], strict=True):
        assert text.startswith(f"{letter} · {design.name[:10]}")
        assert f"{letter} · {design.name[:6]}" in whole[0]
    assert "… below" not in whole[-1]  # no row that wants the one before it
    drawn, other = (beside(subject, design, full=True) for design in study.designs[:2])
    assert drawn["numbers"][0] == ["", "as drawn", "the books"]
    assert other["numbers"][0] == ["", "as drawn", "the books", "here"]
    # Ware (p. 8): the Tuscan column is 7 diameters high, its entablature a quarter of it
    assert other["numbers"][1][2:] == ["1:7", "1:7"]
    assert other["numbers"][2][2:] == ["1/4", "1/4"]
    assert "slender" in drawn["finding"]
    assert beside(subject, study.designs[0], full=False)["numbers"] == []


def test_nothing_overflows(pdf: bytes) -> None:
    assert_nothing_overflows(_read(pdf), page(None, "metric"))


def test_many_sources_are_set_smaller_and_stay_on_their_page(made: Contents) -> None:
    last = made.values["pages"][-1]
    many = [f"{k}. {source}" for k in range(2) for source in last["sources"]]
    crowded = {**last, "sources": many}
    values = {**made.values, "pages": [*made.values["pages"][:-1], crowded]}
    read = _read(typeset(replace(made, values=values)))
    assert len(read) == len(made.values["pages"])
    assert_nothing_overflows(read, page(None, "metric"))
    assert "SHA-256" in read[-1].text


def test_text_is_there_to_be_searched(pdf: bytes, study: Study) -> None:
    read = _read(pdf)
    whole = [_plain(one.text) for one in read]
    assert all(_plain(set_text(CAUTION)) in text for text in whole)
    for design, text in zip(study.designs[1:], whole[1:3], strict=True):
        for change in changes(study.designs[0], design, study.suns):
            assert _plain(set_text(change.text)) in text
    digest = hashlib.sha256(study.loaded.path.read_bytes()).hexdigest()
    assert digest in whole[-1].replace(" ", "")
    assert "scene.yaml" in whole[-1]
    works = works_cited(study.designs)
    assert len(works) >= 6
    for work in works:  # whatever stands as the books' under a front
        assert _plain(set_text(work)) in whole[-1]


def test_the_scale_bar_is_as_long_as_it_says(made: Contents, pdf: bytes) -> None:
    scale = made.values["pages"][0]["scale"]
    ratio = float(scale["words"].split(":")[1])
    count = len(scale["labels"]) - 1
    metres = float(scale["labels"][-1].split()[0])
    # on the page: the bar's upper edge, the one unbroken line of the heading
    paper = page(None, "metric")
    image = pdfium.PdfDocument(pdf)[0].render(scale=4.0).to_pil().convert("L")
    dark = np.asarray(image) < 128
    pixels_per_mm = image.width / paper.width_mm
    top = round(paper.margin_mm * pixels_per_mm)
    foot = round((paper.margin_mm + paper.head_mm) * pixels_per_mm)
    longest = 0.0
    for row in dark[top:foot, image.width * 6 // 10 :]:
        places = np.flatnonzero(row)
        if len(places) and row[places[0] : places[-1] + 1].mean() > 0.95:
            longest = max(longest, len(places) / pixels_per_mm)
    assert count * scale["division"] == pytest.approx(1000.0 * metres / ratio)
    assert longest == pytest.approx(1000.0 * metres / ratio, abs=0.4)


def test_drawings_are_vectors_at_the_printed_scale(made: Contents, study: Study) -> None:
    one = made.values["pages"][0]
    ratio = float(one["scale"]["words"].split(":")[1])
    for cell in one["cells"]:
        drawing = cell["drawing"]
        svg = made.files[drawing["file"]].decode()
        assert "<image" not in svg
        wide = 1000.0 * float(np.ptp(study.bounds_m[:, 0])) / ratio
        assert drawing["width"] == pytest.approx(wide + 600.0 / ratio, abs=0.01)


def test_every_font_is_embedded(pdf: bytes) -> None:
    document = pdfium.PdfDocument(pdf)
    fonts = 0
    for sheet in document:
        for thing in sheet.get_objects(filter=[pdfium_c.FPDF_PAGEOBJ_TEXT], max_depth=6):
            font = pdfium_c.FPDFTextObj_GetFont(thing.raw)
            assert pdfium_c.FPDFFont_GetIsEmbedded(font) == 1
            fonts += 1
    assert fonts > 100


def test_the_same_contents_give_the_same_bytes(made: Contents, pdf: bytes) -> None:
    assert typeset(made) == pdf


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not installed")
def test_qpdf_finds_no_fault(pdf: bytes, tmp_path: Path) -> None:
    path = tmp_path / "board.pdf"
    path.write_bytes(pdf)
    checked = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "WARNING" not in checked.stdout + checked.stderr


@pytest.mark.parametrize(
    ("count", "units", "width", "paper"),
    [
        (1, "feet", "40 ft", "letter"),
        (2, "metric", "30 m", "A4"),
        (3, "feet", "30 ft", "A3"),
        (4, "metric", "10 m", "letter"),
        (6, "feet", "90 ft", "tabloid"),
        (7, "feet", "40 ft", "A4"),
        (5, "feet", "40 ft", "tabloid"),
        (8, "metric", "12 m", "A4"),
        (8, "feet", "60 ft", "letter"),
        (8, "metric", "12 m", "A3"),
    ],
)
def test_long_names_many_alternatives_and_wide_houses_fit(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    count: int,
    units: str,
    width: str,
    paper: str,
) -> None:
    monkeypatch.setattr(maker, "Front", _Plain)
    monkeypatch.setattr(light_pages, "_STEP_MIN", 60)
    study = _study(tmp_path, count, units, width, BLOCK.format(name=LONG))
    subject = _subject(study, tmp_path / "pictures")
    window = Window(-8.0, 8.0, -1.0, 9.0)
    grey = Image.new("RGB", (320, 200), (230, 230, 230))
    words = (f"{LONG}, and {LONG}",) * 6
    subject = replace(
        subject,
        logo=(".png", _png(600, 100)),
        drawing=BuildersDrawing(grey, grey, 0.05, window, words),
    )
    sheet = page(paper, units)
    read = _read(typeset(contents(subject, sheet)))
    assert_nothing_overflows(read, sheet)
    for design, one in zip(study.designs[1:], read[1:], strict=False):
        assert _plain(design.name[1:]) in _plain(one.text)


def test_a_check_that_sees_an_overflow(pdf: bytes) -> None:
    sheet = page(None, "metric")
    read = _read(pdf)
    box, text = read[1].words[0]
    beyond = (box[0], box[1], read[1].size[0], box[3])
    read[1] = replace(read[1], words=[(beyond, text), *read[1].words[1:]])
    with pytest.raises(AssertionError, match=r"page 2: .* at "):
        assert_nothing_overflows(read, sheet)


def test_a_logo_that_the_typesetter_cannot_read_is_one_line(made: Contents) -> None:
    values = {**made.values, "block": {**made.values["block"], "logo": "logo.svg"}}
    broken = Contents(values, {**made.files, "logo.svg": b"<svg nothing"})
    with pytest.raises(TypesetError) as fault:
        typeset(broken)
    assert "\n" not in str(fault.value)


def test_front_is_what_pages_draw_by(made: Contents) -> None:
    assert maker.Front is Front


def _png(wide: int, tall: int) -> bytes:
    buffer = io.BytesIO()
    Image.new("RGB", (wide, tall), (120, 40, 20)).save(buffer, "PNG")
    return buffer.getvalue()
