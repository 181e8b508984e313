"""Figures and findings as tables: in the terminal, as JSON, as CSV, as plain text."""

from __future__ import annotations

import io
import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict
from itertools import groupby

from rich import box
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from massing.canon import FittedOrder, departures, plate
from massing.canon.sources import MARKS as MARKS_OF_SOURCES
from massing.design.design import Design
from massing.findings.change import telling_sun
from massing.findings.comparison import compared, three_sentences
from massing.findings.figure import Figure
from massing.findings.finding import Finding
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.findings.report import figures, findings
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.practice.cautions import CAUTION, comment
from massing.present.names import CsvTable
from massing.present.reports.schedule import text_rows
from massing.present.words import sun_text
from massing.scene.explain import dotted
from massing.scene.lines import parse_field
from massing.sun.position import SunTime
from massing.sun.times import clock_text
from massing.units import format_length

UNITS = {
    "length": "m",
    "ratio": "1:n",
    "fraction": "",
    "diameters": "diameters",
    "degrees": "degrees",
    "count": "",
}
_TEXT_WIDTH = 100


def figure_rows(
    designs: Sequence[Design], suns: Sequence[SunTime]
) -> list[tuple[str, list[Figure | None]]]:
    """Each figure's name with its value in every design, ``None`` where it has none.

    Where designs name it differently (pier, column) the commonest name stands.
    """
    columns = [{f.key: f for f in figures(design, suns)} for design in designs]
    keys: list[str] = []
    for column in sorted(columns, key=len, reverse=True):
        before = -1  # a row that others lack stands after the one it follows
        for key in column:
            if key not in keys:
                keys.insert(before + 1, key)
            before = keys.index(key)
    rows = [[column.get(key) for column in columns] for key in keys]
    return [(Counter(f.name for f in row if f).most_common(1)[0][0], row) for row in rows]


def figures_json(designs: Sequence[Design], suns: Sequence[SunTime]) -> str:
    """All figures, findings and suns, for other programs; lengths in metres."""
    content = {
        "suns": [_sun_values(sun) for sun in suns],
        "designs": [
            {
                "name": design.name,
                "figures": [
                    {**asdict(f), "unit": UNITS[f.unit], "written": f.written(design.units)}
                    for f in figures(design, suns)
                ],
                "findings": [asdict(finding) for finding in findings(design)],
                "orders": [
                    _departures_json(porch.order)
                    for porch in (design.porch, design.porch.upper)
                    if porch is not None
                ],
            }
            for design in designs
        ],
        "caution": CAUTION,
    }
    return json.dumps(content, indent=1, ensure_ascii=False) + "\n"


def _sun_values(sun: SunTime) -> dict[str, object]:
    return {
        "time": sun.label,
        "clock": sun.when.isoformat() if sun.when else None,
        "altitude_deg": round(sun.altitude_deg, 4),
        "azimuth_deg": round(sun.azimuth_deg, 4),
        "on_front": sun.on_front,
        "profile_angle_deg": (
            None if sun.profile_angle_deg is None else round(sun.profile_angle_deg, 4)
        ),
    }


def figures_csv(designs: Sequence[Design], suns: Sequence[SunTime]) -> str:
    """One row for each figure of each design; lengths in metres and as written."""
    buffer = io.StringIO()
    buffer.write(comment())
    table = CsvTable(buffer)
    table.writerow(["design", "key", "figure", "value", "unit", "written", "note", "most"])
    for design in designs:
        for figure in figures(design, suns):
            written = figure.written(design.units)
            value, unit = f"{figure.value:.6g}", UNITS[figure.unit]
            name, most = figure.name, "" if figure.most is None else f"{figure.most:.6g}"
            row = [design.name, figure.key, name, value, unit, written, figure.note, most]
            table.writerow(row)
    return buffer.getvalue()


def figures_text(designs: Sequence[Design], suns: Sequence[SunTime]) -> str:
    """The tables of :func:`print_figures` as plain text."""
    buffer = io.StringIO()
    width = 36 + 30 * len(designs)
    console = Console(file=buffer, width=width, color_system=None, markup=False)
    print_figures(console, designs, suns)
    console.print(Text(CAUTION))
    return "\n".join(line.rstrip() for line in buffer.getvalue().splitlines()) + "\n"


def findings_text(designs: Sequence[Design], suns: Sequence[SunTime] = ()) -> str:
    """The findings of every design as plain text; before them, with ``suns``, all in short."""
    buffer = io.StringIO()
    console = Console(file=buffer, width=_TEXT_WIDTH, color_system=None, markup=False)
    if suns:
        print_in_short(console, designs, suns)
        console.print()
    print_findings(console, designs)
    return "\n".join(line.rstrip() for line in buffer.getvalue().splitlines()) + "\n"


def print_figures(console: Console, designs: Sequence[Design], suns: Sequence[SunTime]) -> None:
    """The designs side by side, a row for each figure; then the suns."""
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False)
    table.add_column("")
    for design in designs:
        table.add_column(Text(design.name))
    for name, values in figure_rows(designs, suns):
        cells = (
            f.written(design.units) if f else "–" for f, design in zip(values, designs, strict=True)
        )
        table.add_row(Text(name), *map(Text, cells))
    console.print(table)
    works = works_cited(designs, suns)
    if works:
        console.print(Text(f"The books: {'; '.join(works)}"))
    console.print()
    lights = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False)
    for heading in ("Time", "Clock", "Sun", "Profile angle on the front"):
        lights.add_column(heading)
    for sun in suns:
        clock = clock_text(sun.when) if sun.when else "a drawing convention"
        profile = "–" if sun.profile_angle_deg is None else f"{sun.profile_angle_deg:.1f}°"
        lights.add_row(Text(sun.label), Text(clock), Text(sun_text(sun)), Text(profile))
    _print_departures(console, designs)
    console.print(lights)
    for sun in suns:
        if sun.note:
            console.print(Text(sun.note))
    console.print()


def works_cited(designs: Sequence[Design], suns: Sequence[SunTime] = ()) -> list[str]:
    """The works that figures of the designs are from, each once with its mark."""
    notes = (f.note for design in designs for f in figures(design, suns))
    parts = (part for note in notes for part in note.split("; "))
    marks = tuple(f"({mark})" for mark in MARKS_OF_SOURCES)
    return list(dict.fromkeys(part for part in parts if part.endswith(marks)))


def _print_departures(console: Console, designs: Sequence[Design]) -> None:
    """Where each design's order leaves its canon, at its own diameter."""
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, title_justify="left")
    table.title = Text("Departures from the canon, at the same diameter", style="italic")
    table.add_column("")
    for design in designs:
        table.add_column(Text(design.name))
    for name, cells in departure_rows(designs):
        table.add_row(Text(name), *map(Text, cells))
    console.print(table)
    console.print(Text("The members of a group are scaled together and keep their shape."))
    console.print()


def departure_rows(designs: Sequence[Design]) -> list[tuple[str, list[str]]]:
    """Whose canon each design follows, then each dimension that departs in any of them.

    A cell says by how much, and what the canon's would be; a dash where it does not depart.
    """
    rows: list[tuple[str, list[str]]] = []
    for lead, orders in _storeys(designs):
        followed = [f"{o.order}, {plate(o.order, o.canon).authority}" if o else "–" for o in orders]
        rows.append((f"{lead}order and canon".capitalize(), followed))
        found = [{d.name: d for d in departures(o)} if o else {} for o in orders]
        for name in dict.fromkeys(name for each in found for name in each):
            cells = []
            for each, design in zip(found, designs, strict=True):
                d = each.get(name)
                canon = format_length(d.canon_m, design.units) if d else ""
                cells.append(f"{d.share:+.1%} (canon {canon})" if d else "–")
            rows.append((f"{lead}{name}".capitalize(), cells))
    return rows


def _storeys(designs: Sequence[Design]) -> list[tuple[str, list[FittedOrder | None]]]:
    uppers = [d.porch.upper.order if d.porch.upper else None for d in designs]
    lower: list[tuple[str, list[FittedOrder | None]]] = [("", [d.porch.order for d in designs])]
    return lower + ([("above: ", uppers)] if any(uppers) else [])


def _departures_json(order: FittedOrder) -> dict[str, object]:
    return {
        "order": order.order,
        "canon": plate(order.order, order.canon).authority,
        "departures": [{**asdict(d), "share": round(d.share, 5)} for d in departures(order)],
    }


MARKS = {"check": "?", "note": "·", "caution": "!"}
MARKS_WORDS = "? questions a proportion, · informs, ! touches safety"


def print_findings(
    console: Console, designs: Sequence[Design], drawn: Design | None = None
) -> None:
    """What the canons, codes and common practice say of each design, with the source.

    Proportions come first, with what is better and worse than as drawn; cautions last, those that
    several designs share once.

    Args:
        drawn: the design as drawn, where it is not the first of ``designs``.
    """
    said = {design.name: findings(design) for design in designs}
    console.print(Text(MARKS_WORDS, style="italic"))
    console.print()
    for design in designs:
        console.print(Text(design.name, style="bold"))
        for line in _comparison_lines(drawn or designs[0], design):
            console.print(Padding(Text(line), (0, 0, 0, 2)))
        own = [f for f in said[design.name] if f.severity != "caution"]
        if not own:
            console.print(Text("  nothing to remark on its proportions"))
        for finding in own:
            _print_finding(console, finding)
        console.print()
    shared: dict[tuple[str, ...], list[Finding]] = {}
    for finding in dict.fromkeys(f for each in said.values() for f in each):
        if finding.severity == "caution":
            of = tuple(name for name, each in said.items() if finding in each)
            shared.setdefault(of, []).append(finding)
    for of in sorted(shared, key=lambda names: -len(names)):
        whose = "every design" if 1 < len(of) == len(designs) else "; ".join(of)
        console.print(Text(f"Cautions for {whose}", style="bold"))
        for finding in shared[of]:
            _print_finding(console, finding)
        console.print()
    console.print(Text(CAUTION, style="italic"))


def _print_finding(console: Console, finding: Finding) -> None:
    line = Text(f"{MARKS[finding.severity]} {finding.text} ")
    line.append(f"[{finding.source}]", style="dim")
    console.print(Padding(line, (0, 0, 0, 2)))


def _comparison_lines(drawn: Design, design: Design) -> list[str]:
    if design is drawn:
        return []
    against = compared(drawn, design)
    lines = {"better than as drawn": against.better, "worse than as drawn": against.worse}
    return [f"{lead}: {', '.join(subjects)}" for lead, subjects in lines.items() if subjects]


def print_in_short(console: Console, designs: Sequence[Design], suns: Sequence[SunTime]) -> None:
    """The three sentences that a designer would say to a client."""
    console.print(Text("In short", style="bold"))
    for sentence in three_sentences(designs, suns):
        console.print(Padding(Text(sentence), (0, 0, 0, 2)))


FEW = tuple(
    (
        "columns column_height diameter slenderness entablature_height entablature_ratio "
        "clear_widest cornice_projection porch_depth window_height_0 window_height_1"
    ).split()
)
"""The figures that explain the difference of designs; the page shows the same."""


def print_first(console: Console, designs: Sequence[Design], suns: Sequence[SunTime]) -> None:
    """What there is to see before any picture: the figures that explain the difference, the
    shadow in the most telling light, what is questioned as drawn and what of it is answered."""
    sun = telling_sun(suns)
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False)
    table.add_column("")
    for design in designs:
        table.add_column(Text(design.name))
    for name, values in figure_rows(designs, [sun] if sun else []):
        key = next(f.key for f in values if f)
        if key in FEW or key.startswith("cornice_shadow"):
            cells = (f.written(d.units) if f else "–" for f, d in zip(values, designs, strict=True))
            table.add_row(Text(name), *map(Text, cells))
    console.print(table)
    console.print()
    drawn = designs[0]
    console.print(Text(drawn.name, style="bold"))
    questions = [f for f in findings(drawn) if f.severity == "check"]
    for finding in questions:
        _print_finding(console, finding)
    if not questions:
        console.print(Text("  nothing questions its proportions"))
    for design in designs[1:]:
        console.print(Text(design.name, style="bold"))
        lines = _comparison_lines(drawn, design) or ["in its proportions as drawn"]
        for line in lines:
            console.print(Padding(Text(line), (0, 0, 0, 2)))
    console.print()


def print_origins(console: Console, design: Design, given: Sequence[tuple[str, str, str]]) -> None:
    """Every dimension of a design and where it came from.

    Args:
        given: field, value and origin of what the scene says besides dimensions.
    """
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, title_justify="left")
    table.title = Text(design.name, style="bold")
    for heading in ("Field", "Value", "From"):
        table.add_column(heading)
    rows = list(given)
    for field, origin in design.origins.items():
        rows.append((dotted(parse_field(field)), origin.written, origin.source))
    order = {name: i for i, name in enumerate(("site", "house", "porch", "roof"))}
    for row in sorted(rows, key=lambda row: order.get(row[0].split(".")[0], len(order))):
        table.add_row(*map(Text, row))
    console.print(table)
    console.print(Text(CAUTION, style="italic"))
    console.print()


def print_schedule(console: Console, design: Design) -> None:
    """The builder's schedule of sizes."""
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, title_justify="left")
    table.title = Text(design.name, style="bold")
    for heading in ("", "No.", "Height", "Top at", "Across", "of"):
        table.add_column(heading, justify="right" if heading in _RIGHT else "left")
    for group, rows in groupby(text_rows(design), key=lambda row: row[0]):
        members = list(rows)
        over = next((row[5] for row in members if row[5]), "")
        title = f"{group}, over {over}" if over else group
        table.add_row(Text(title, style="italic"))
        for _, item, count, height, top, _, across, of in members:
            table.add_row(*map(Text, (f"  {item}", count, height, top, across, of)))
    console.print(table)
    console.print(Text(CAUTION, style="italic"))
    console.print()


_RIGHT = ("No.", "Height", "Top at", "Across")


def key_line(design: Design, sun: SunTime) -> str:
    """The figures that explain a picture, in one line."""
    clear = clear_intercolumniations(design)
    spread = f"{min(clear):.1f}"
    if max(clear) - min(clear) > 0.05:
        spread += f" to {max(clear):.1f}"
    depth_m, under = cornice_shadow_m(design, sun), shadow_under_corona(design, sun)
    shadow = "no sun on the front"
    if depth_m is not None and under is not None:
        whole, below = (format_length(x, design.units) for x in (under.depth_m, depth_m))
        shadow = f"shadow {whole} from the corona down, {below} below the cornice"
    part = 1.0 / entablature_ratio(design.porch.order)
    slender = slenderness(design.porch.order)
    return f"1:{slender:.1f} · entablature 1/{part:.1f} · spacing {spread} D · {shadow}"
