"""The builder's schedule and quantities as a workbook for spreadsheet programs (XLSX)."""

from __future__ import annotations

import io
from collections.abc import Sequence

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from massing.design.design import Design
from massing.parts.part import Model
from massing.practice.cautions import CAUTION
from massing.present.reports.quantities import in_words, quantities
from massing.present.reports.schedule import HEADINGS, schedule
from massing.present.reports.sizes import length_text

_SIZES = (*HEADINGS[:4], "Height, mm", HEADINGS[4], "Top, mm", *HEADINGS[5:7], "Across, mm", "Of")
_AMOUNTS = ("Part", "Item", "Amount", "Unit", "How it was counted")


def workbook(designs: Sequence[tuple[Design, Model]]) -> bytes:
    """Two sheets for each design, its sizes and its quantities, as the bytes of a file.

    Lengths stand as the trade writes them and, as numbers, in millimetres.
    """
    book = Workbook()
    book.remove(book.active)
    book.properties.title = "Sizes and quantities"
    book.properties.description = CAUTION
    book.properties.creator = "massing"
    for i, (design, model) in enumerate(designs, start=1):
        _sizes(book.create_sheet(_tab(i, design, "sizes")), design)
        _amounts(book.create_sheet(_tab(i, design, "amounts")), design, model)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _tab(number: int, design: Design, what: str) -> str:
    """A sheet's name, within what spreadsheets allow: 31 letters, none of ``[]:*?/\\``."""
    plain = "".join(" " if c in "[]:*?/\\'" else c for c in design.name)
    return f"{number} {plain[: 28 - len(what) - len(str(number))].strip()} {what}"


def _head(page: Worksheet, design: Design, headings: Sequence[str]) -> None:
    page.append([design.name])
    page.append([CAUTION])
    page.append([])
    page.append(list(headings))
    page["A1"].font = Font(bold=True, size=14)
    page["A2"].font = Font(italic=True)
    for cell in page[4]:
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
    page.freeze_panes = "A5"


def _sizes(page: Worksheet, design: Design) -> None:
    _head(page, design, _SIZES)
    for size in schedule(design):
        row: list[str | int | float | None] = [size.group, size.item, size.count]
        for length_m, of in (
            (size.height_m, None),
            (size.top_m, size.datum),
            (size.across_m, size.across_of),
        ):
            millimetres = None if length_m is None else round(length_m * 1000.0, 1)
            row += [length_text(length_m, design) or None, millimetres]
            row += [of or None] if of is not None else []
        page.append(row)
    _fitted(page)


def _amounts(page: Worksheet, design: Design, model: Model) -> None:
    _head(page, design, _AMOUNTS)
    for quantity in quantities(design, model):
        amount, unit = in_words(quantity, design.units)
        page.append([quantity.group, quantity.item, amount, unit or None, quantity.how])
    _fitted(page)


def _fitted(page: Worksheet) -> None:
    """Columns as wide as their longest cell under the head; ready to print on one page's width."""
    for column in page.iter_cols(min_row=5):
        longest = max((len(str(c.value)) for c in column if c.value is not None), default=6)
        letter = get_column_letter(column[0].column)
        page.column_dimensions[letter].width = min(60.0, max(8.0, longest + 2.0))
    page.page_setup.orientation = "landscape"
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
