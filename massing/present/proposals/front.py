"""The front as a table for other programs, as a table to read, and as a plot."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from massing.edit.proposals.measures import MEASURES
from massing.edit.proposals.sayings import Proposal
from massing.edit.proposals.search import Outcome
from massing.practice.cautions import comment
from massing.present.names import CsvTable

if TYPE_CHECKING:
    from rich.table import Table

_KIND = ("order", "columns", "reach", "roof", "pedestals", "balustrade", "side_columns", "bays")


def front_csv(outcome: Outcome, chosen: Sequence[Proposal]) -> str:
    """Every design of the front with its kind and measures; a letter where it is a proposal.

    The caution stands in the first line. Shares are plain numbers, lengths metres.
    """
    out = io.StringIO()
    out.write(comment())
    table = CsvTable(out)
    table.writerow(["proposal", *_KIND, *_ways(outcome), *(m.key for m in MEASURES)])
    letters = {each.found.place: each.letter for each in chosen}
    for found in outcome.front:
        kind = [getattr(found.kind, name) for name in _KIND]
        ways = list(_ways_of(outcome, found.place).values())
        values = [f"{value:.6g}" for value in found.values]
        table.writerow([letters.get(found.place, ""), *kind, *ways, *values])
    return out.getvalue()


_EVEN = 1e-3  # a measure that varies by less is drawn level
_MARKS = "osD^vPX*"
_TOLD = ("spacing", "middle", "height", "diameter", "entablature", "windows")


def _ways(outcome: Outcome) -> list[str]:
    return [f"chosen {name}" for name in _TOLD]


def _ways_of(outcome: Outcome, place: tuple[int, ...]) -> dict[str, Any]:
    ways = outcome.begun.space.ways
    chosen = {name: way[i] for (name, way), i in zip(ways.items(), place, strict=True)}
    chosen["height"] = chosen["height"][0] or "as it is"
    return {name: "as it is" if chosen[name] is None else chosen[name] for name in _TOLD}


def measures_table(outcome: Outcome, chosen: Sequence[Proposal]) -> Table:
    """The proposals' measures beside those of the design that they begin from."""
    from rich.table import Table

    from massing.edit.proposals.measures import measured

    begun = outcome.begun
    start = measured(begun.space.start, begun.drawn, begun.suns)
    table = Table(box=None, pad_edge=False, header_style="italic")
    table.add_column("Less is better", max_width=34)
    for heading in (begun.name, *(each.letter for each in chosen)):
        table.add_column(heading, justify="right", max_width=14)
    for i, measure in enumerate(MEASURES):
        values = [start[i], *(each.found.values[i] for each in chosen)]
        table.add_row(measure.name, *(measure.written(v, begun.space.units) for v in values))
    return table


def sources() -> Iterator[str]:
    """How each measure is taken, and by whose rule, a line each."""
    for measure in MEASURES:
        yield f"{measure.name}: {measure.words} ({measure.source})"


def plot_front(outcome: Outcome, chosen: Sequence[Proposal], path: Path, title: str) -> None:
    """The front's designs as lines across all measures, the proposals among them in colour.

    Each measure's axis runs from its least on the front, at the foot, to its most.
    """
    import matplotlib
    import numpy as np

    from massing.present.plots.style import LINES, PALE_COLOUR, STYLE, plot_figure, save_plot

    values, units = outcome.values, outcome.begun.space.units
    low, high = values.min(axis=0), values.max(axis=0)
    span = np.where(high - low > _EVEN, high - low, np.inf)
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(
            13.0, 6.4, title, "What nothing of its own character betters; lower is better in each"
        )
        axes = figure.add_subplot()
        x = np.arange(len(MEASURES))
        scaled = (values - low) / span
        paths = np.stack([np.broadcast_to(x, scaled.shape), scaled], axis=-1)
        lines = matplotlib.collections.LineCollection(
            list(paths), colors=[(*PALE_COLOUR, 0.12)], linewidths=0.6
        )
        axes.add_collection(lines)
        for i, each in enumerate(chosen):
            colour, dash = LINES[i % len(LINES)]
            own = (np.array(each.found.values) - low) / span
            label = f"{each.letter}  {each.name}"
            axes.plot(x, own, dash, color=colour, label=label, marker=_MARKS[i % len(_MARKS)])
        axes.set_xlim(-0.4, len(MEASURES) - 0.6)
        axes.set_ylim(-0.06, 1.06)
        axes.set_yticks([])
        axes.spines["left"].set_visible(False)
        names = [_two_lines(m.name) for m in MEASURES]
        least = [m.written(v, units) for m, v in zip(MEASURES, low, strict=True)]
        most = [m.written(v, units) for m, v in zip(MEASURES, high, strict=True)]
        axes.set_xticks(x, [f"{v}\n{name}" for v, name in zip(least, names, strict=True)])
        for at, word in zip(x, most, strict=True):
            axes.axvline(at, color=PALE_COLOUR, linewidth=0.5, zorder=0)
            axes.text(at, 1.08, word, ha="center", va="bottom", fontsize=9, color=PALE_COLOUR)
        figure.legend(loc="outside lower center", ncols=2)
        save_plot(figure, path)


def _two_lines(name: str) -> str:
    """A name broken into lines of about a dozen letters."""
    import textwrap

    return "\n".join(textwrap.wrap(name, 13))
