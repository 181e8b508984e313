"""The builder's schedule of sizes: every member with its height and projection.

Every size is in whole steps of the builder's fraction (1/16 in or 1 mm, unless the scene says
otherwise). An order is rounded member by member (:func:`massing.canon.rounded`), other heights
as differences of rounded running heights, so that rounded figures add up to their rounded total.
"""

from __future__ import annotations

import io
from collections.abc import Sequence

from massing.design.design import Design
from massing.practice.cautions import comment
from massing.present.names import CsvTable
from massing.present.reports.house_sizes import (
    bay_window_rows,
    corner_pilaster_rows,
    dormer_rows,
    eaves_rows,
    gable_rows,
    ground_rows,
    level_rows,
    roof_rows,
    wing_rows,
)
from massing.present.reports.opening_sizes import door_rows, head_rows, opening_rows
from massing.present.reports.porch_sizes import (
    order_rows,
    porch_floor_rows,
    setting_out_rows,
    side_porch_rows,
)
from massing.present.reports.sizes import Size, length_text


def schedule(design: Design) -> list[Size]:
    """Every size of a design that a builder sets out, ground to ridge."""
    step = design.rounding_m
    return [
        *level_rows(design, step),
        *ground_rows(design, step),
        *porch_floor_rows(design, step),
        *setting_out_rows(design, step),
        *order_rows(design.porch, design.house, "", step, carried=design.porch.upper is None),
        *(
            order_rows(design.porch.upper, design.house, "Above", step, carried=True)
            if design.porch.upper
            else ()
        ),
        *side_porch_rows(design, step),
        *eaves_rows(design, step),
        *corner_pilaster_rows(design, step),
        *roof_rows(design, step),
        *opening_rows(design, step),
        *head_rows(design, step),
        *door_rows(design, step),
        *dormer_rows(design, step),
        *gable_rows(design, step),
        *bay_window_rows(design, step),
        *wing_rows(design, step),
    ]


# --- as text -------------------------------------------------------------------------------

_CSV_HEADINGS = (
    "design part member count height height_mm top top_mm top_over across across_mm across_of"
)

HEADINGS = ("Part", "Member", "No.", "Height", "Top at", "Over", "Across", "Of")


def text_rows(design: Design) -> list[tuple[str, ...]]:
    """The schedule as text under :data:`HEADINGS`."""
    return [
        (
            size.group,
            size.item,
            str(size.count),
            length_text(size.height_m, design),
            length_text(size.top_m, design),
            size.datum,
            length_text(size.across_m, design),
            size.across_of,
        )
        for size in schedule(design)
    ]


def schedule_csv(designs: Sequence[Design]) -> str:
    """The schedules of all designs as one table, lengths in writing and in millimetres.

    Its first line is a comment, the caution; the headings follow.
    """
    buffer = io.StringIO()
    buffer.write(comment())
    table = CsvTable(buffer)
    table.writerow(_CSV_HEADINGS.split())
    for design in designs:
        for size in schedule(design):
            row: list[str | int] = [design.name, size.group, size.item, size.count]
            for length_m, of in (
                (size.height_m, None),
                (size.top_m, size.datum),
                (size.across_m, size.across_of),
            ):
                millimetres = "" if length_m is None else f"{length_m * 1000:.1f}"
                row += [length_text(length_m, design), millimetres]
                row += [of] if of is not None else []
            table.writerow(row)
    return buffer.getvalue()
