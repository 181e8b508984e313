"""What is written on a figure, and whether any of it lies on other writing or on a curve."""

from __future__ import annotations

import numpy as np
from matplotlib.figure import Figure
from matplotlib.text import Text

LEAST_PX = 1.0  # that two boxes share before they are said to overlap


def boxes(figure: Figure) -> list[tuple[str, np.ndarray]]:
    """Every text that is seen, with its box ``(2, 2)`` in pixels; a title ends in a line of its
    own for what stands under it, and is left out."""
    figure.canvas.draw()
    found = []
    for text in figure.findobj(Text):
        words = text.get_text()
        if words.strip() and text.get_visible() and not words.endswith("\n"):
            box = text.get_window_extent()
            found.append((words, np.array([[box.x0, box.y0], [box.x1, box.y1]])))
    return found


def overlapping(figure: Figure) -> list[tuple[str, str]]:
    """Texts that lie on one another."""
    named = boxes(figure)
    low, high = (np.array([box[k] for _, box in named]) for k in (0, 1))
    shared = np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])
    met = np.triu((shared > LEAST_PX).all(axis=-1), 1)
    return [(named[i][0], named[j][0]) for i, j in np.argwhere(met)]


def crossed(figure: Figure, colours: set[object] | None = None) -> list[str]:
    """Texts that a drawn line runs through: those with a name, or of the given colours."""
    named = boxes(figure)
    met = []
    for axes in figure.axes:
        for line in axes.get_lines():
            points = line.get_transform().transform(np.column_stack(line.get_data()))
            wanted = (
                not str(line.get_label()).startswith("_")
                if colours is None
                else line.get_color() in colours
            )
            if not wanted or len(points) < 2:
                continue
            start, end = points[:-1], points[1:]
            drawn = np.isfinite(start).all(axis=1) & np.isfinite(end).all(axis=1)
            start, end = start[drawn], end[drawn]
            below, above = np.minimum(start, end), np.maximum(start, end)
            for words, (low, high) in named:
                near = ((above > low + LEAST_PX) & (below < high - LEAST_PX)).all(axis=1)
                share = np.linspace(0.0, 1.0, 65)[None, :, None]
                dense = start[near, None] * (1 - share) + end[near, None] * share
                inside = (dense > low + LEAST_PX) & (dense < high - LEAST_PX)
                if inside.all(axis=-1).any():
                    met.append(words)
    return met
