"""One neutral description of a drawing, which the writers turn into DXF, SVG and PDF.

A sheet's coordinates are metres at the building's own size, from the paper's lower left corner:
at 1:48 a sheet 610 mm wide is 29.28 m wide. Sizes that belong to the paper, such as letters and
symbols, are millimetres on it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from massing.present.drawings.items import Item


@dataclass
class Sheet:
    """A sheet of paper and what is drawn on it.

    Attributes:
        number: such as ``A1``; ``name`` is for files, ``title`` for the title block.
        paper_mm: width and height.
        scale: the building's size over the paper's, such as 48.
        units: ``feet`` or ``metric``.
    """

    number: str
    name: str
    title: str
    paper_mm: tuple[float, float]
    scale: float
    units: str
    items: list[Item] = field(default_factory=list)

    @property
    def size_m(self) -> tuple[float, float]:
        """The paper at the building's size."""
        return self.mm(self.paper_mm[0]), self.mm(self.paper_mm[1])

    def mm(self, on_paper: float) -> float:
        """Millimetres on the paper as metres of the building."""
        return on_paper * self.scale / 1000.0

    def add(self, items: Iterable[Item], at: ArrayLike = (0.0, 0.0)) -> None:
        """Draw more, moved by ``at``."""
        by = np.asarray(at, dtype=float)
        self.items += [item.moved(by) for item in items]
