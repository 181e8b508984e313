"""The house style of plots: the sheets' paper and ink, and colours that all eyes tell apart."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Any

import matplotlib
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.font_manager import fontManager

from massing.files import write_by
from massing.practice.cautions import CAUTION
from massing.present.sheets.paper import INK, PALE_INK, PAPER, RULE

Colour = tuple[float, float, float]


def _unit(rgb: tuple[int, int, int]) -> Colour:
    r, g, b = (v / 255.0 for v in rgb)
    return (r, g, b)


PAPER_COLOUR, INK_COLOUR, PALE_COLOUR, RULE_COLOUR = map(_unit, (PAPER, INK, PALE_INK, RULE))

# Told apart in the common kinds of colour blindness and by their lightness; dashes tell again.
LINES: tuple[tuple[str, str], ...] = (
    ("#14506e", "-"),
    ("#c8641e", "--"),
    ("#2f8f7f", "-."),
    ("#8b3a62", ":"),
    ("#a58a1c", "-"),
    ("#7767b3", "--"),
)
SUN_MAP = "cividis"  # even in lightness, and made for colour-blind readers
SUN_PALE = "#f4e3b5"
SHADE_WASH = "#8b96a3"
WASH = LinearSegmentedColormap.from_list("wash", [SHADE_WASH, SUN_PALE])  # shade to sun


def _wide_families() -> list[str]:
    """Fonts of this machine for names in Chinese, Japanese or Korean letters, if it has any."""
    known = {entry.name for entry in fontManager.ttflist}
    return sorted(n for n in known if "CJK" in n or n in ("Droid Sans Fallback", "SimSun"))[:2]


STYLE: dict[Any, Any] = {
    "figure.facecolor": PAPER_COLOUR,
    "savefig.facecolor": PAPER_COLOUR,
    "axes.facecolor": PAPER_COLOUR,
    "axes.edgecolor": RULE_COLOUR,
    "axes.labelcolor": INK_COLOUR,
    "axes.titlecolor": INK_COLOUR,
    "axes.titlelocation": "left",
    "axes.titlesize": 11,
    "axes.labelsize": 10,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": False,
    "text.color": INK_COLOUR,
    "xtick.color": PALE_COLOUR,
    "ytick.color": PALE_COLOUR,
    "xtick.labelsize": 9,
    "ytick.labelsize": 9,
    "font.family": ["STIXGeneral", *_wide_families(), "DejaVu Sans"],
    "mathtext.fontset": "stix",
    "text.parse_math": False,  # a dollar in a name is a dollar
    "legend.frameon": False,
    "legend.fontsize": 10,
    "lines.linewidth": 1.8,
}


def plot_figure(width_in: float, height_in: float, title: str, subtitle: str) -> Figure:
    """A sheet for plots with its heading; make it and draw on it under :data:`STYLE`."""
    figure = Figure(figsize=(width_in, height_in), layout="constrained")
    FigureCanvasAgg(figure)
    figure.suptitle(f"{title}\n", x=0.012, ha="left", fontsize=15)
    figure.text(0.012, 1.0 - 0.47 / height_in, subtitle, ha="left", va="top", fontsize=10.5)
    return figure


_CAUTION_FIELDS = {".png": "Disclaimer", ".svg": "Description", ".pdf": "Subject"}
"""The text field of each format in which a plot carries the caution."""


def save_plot(figure: Figure, path: Path, dpi: int = 130) -> None:
    """Write a plot that appears whole or not at all, in the format of its suffix."""
    # A sign that no font has is set as a box: seen, and no matter for a warning.
    with matplotlib.rc_context(STYLE), warnings.catch_warnings(action="ignore"):
        field = _CAUTION_FIELDS.get(path.suffix.lower())
        said = {field: CAUTION} if field else None
        write_by(path, lambda temporary: figure.savefig(temporary, dpi=dpi, metadata=said))


def quiet_axis(axes: Axes) -> None:
    """Leave nothing of the axes but what is drawn in them."""
    axes.set_xticks([])
    axes.set_yticks([])
    for spine in axes.spines.values():
        spine.set_visible(False)
