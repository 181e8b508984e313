"""What the books say of one order, author by author, so that they can be told as a range.

Only what is an author's own: where a canon has but its totals, the members scaled to them are
another's, and so are the shaft's diminution and, unless it is among the totals, the spacing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from massing.canon import vitruvius
from massing.canon.sources import cited
from massing.canon.tables import PRACTICE, Plate, plates


@dataclass(frozen=True)
class Range:
    """What authors give of one measure of an order.

    Attributes:
        least, most: over the authors.
        by_author: each author's own least and most.
        sources: keys of the register, an author's each.
    """

    least: float
    most: float
    by_author: Mapping[str, tuple[float, float]]
    sources: tuple[str, ...]

    def said(self, write: Callable[[float], str] = "{:.3g}".format) -> str:
        """The authors with their figures, those who agree together.

        >>> column("tuscan").said()
        'Chambers, Gibbs, Palladio, Vignola, Vitruvius, Ware 7'
        """
        alike: dict[tuple[str, ...], list[str]] = {}
        for author, (least, most) in sorted(self.by_author.items()):
            ends = tuple(dict.fromkeys((write(least), write(most))))
            alike.setdefault(ends, []).append(author)
        return "; ".join(f"{', '.join(who)} {' to '.join(ends)}" for ends, who in alike.items())

    @property
    def cited(self) -> str:
        """The works as they are printed, with their marks."""
        return cited(self.sources)


def _range(
    order: str, measure: Callable[[Plate], float | None], of_vitruvius: vitruvius.Given | None
) -> Range | None:
    found: dict[str, tuple[float, float]] = {}
    sources: list[str] = []
    names = (order, order.removeprefix("mutular "))  # a Doric's shaft whatever its cornice
    for (canon, name), plate in plates().items():
        value = measure(plate) if name in names and canon != PRACTICE else None
        if value is not None:
            found[canon.title()] = (value, value)
            sources.append(plate.source)
    if found and of_vitruvius is not None:
        found["Vitruvius"] = (of_vitruvius.least, of_vitruvius.most)
        sources += of_vitruvius.sources
    if not found:
        return None
    ends = [end for pair in found.values() for end in pair]
    return Range(min(ends), max(ends), found, tuple(dict.fromkeys(sources)))


def column(order: str) -> Range | None:
    """Column height over diameter; None for what is no order of the books.

    >>> column("pier")
    """
    return _range(order, lambda p: p.column_diameters, vitruvius.column(order))


def entablature(order: str) -> Range | None:
    """Entablature over the column's height."""
    return _range(order, lambda p: p.entablature_diameters / p.column_diameters, None)


def neck(order: str) -> Range | None:
    """Upper over lower diameter, by those who give it whatever the column's height."""

    def own(plate: Plate) -> float | None:
        return None if plate.members_of else plate.upper_radius / plate.parts_per_module

    return _range(order, own, vitruvius.neck(order))


def clear(order: str) -> Range | None:
    """Clear distance between the shafts in diameters, without an arch between."""
    return _range(order, lambda p: p.clear_spacing_diameters if p.clear_is_own else None, None)
