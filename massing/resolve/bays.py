"""Where the bays of a front stand: equal, a wide centre, pairs, or centres one by one."""

from __future__ import annotations

from itertools import pairwise

from massing.practice.defaults import default
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, bays_named
from massing.units import format_length

# Common practice, no source.
WIDE_CENTRE_OF_BAY = default("bays.wide_centre")
PAIR_OF_BAY = default("bays.pair")
LEAST_BESIDE_M = default("bays.beside")
SAME_M = 1e-6


def bay_centres(house: House, origins: Origins) -> tuple[float, ...]:
    """Centres of the front's bays, left to right, about the middle of the front.

    Raises:
        DesignError: fields that do not go together, or bays beyond the house's corners.
    """
    if house.bay_centres is not None:
        return _free(house, origins)
    _check_rhythm(house, origins)
    n, wide = house.bays, house.rhythm == "wide centre"
    spacing = _spacing(house, origins)
    centres = tuple((i - (n - 1) / 2.0) * spacing for i in range(n))
    if wide and n > 1:
        more = (_wide_centre(house, spacing, origins) - spacing) / 2.0
        centres = tuple(c + _side(c) * more for c in centres)
    if house.rhythm == "paired":
        centres = _in_pairs(house, spacing, origins)
    if max(map(abs, centres)) + LEAST_BESIDE_M > house.width / 2.0:
        raise DesignError(
            "house.bay_spacing",
            format_length(spacing, origins.units),
            f"{n} bays inside a width of {format_length(house.width, origins.units)}",
        )
    return centres


def _check_rhythm(house: House, origins: Origins) -> None:
    """Raise DesignError where a length belongs to another rhythm."""
    for field, belongs in (("centre_bay", "wide centre"), ("pair_spacing", "paired")):
        asked = getattr(house, field)
        if asked is not None and house.rhythm != belongs:
            said = format_length(asked, origins.units)
            raise DesignError(f"house.{field}", said, f"only with rhythm: {belongs}")


def _spacing(house: House, origins: Origins) -> float:
    """Centre to centre of the bays: the width shared out, a wide centre's share the larger."""
    n, wide = house.bays, house.rhythm == "wide centre"
    centre = house.centre_bay if wide else None
    shares = n - 1 + WIDE_CENTRE_OF_BAY if wide and n > 1 else n
    rule = house.width / shares if centre is None else (house.width - centre) / max(n - 1, 1)
    return origins.choose(
        ("house", "bay_spacing"),
        house.bay_spacing,
        rule,
        "width over the number of bays" if shares == n else "what the wide centre leaves",
    )


def _wide_centre(house: House, spacing: float, origins: Origins) -> float:
    """Width of the middle bay, wider than the others."""
    centre = origins.choose(
        ("house", "centre_bay"),
        house.centre_bay,
        WIDE_CENTRE_OF_BAY * spacing,
        "a third wider than the others (common practice)",
    )
    if centre < spacing - SAME_M:
        raise DesignError(
            "house.centre_bay",
            format_length(centre, origins.units),
            f"at least the other bays' {format_length(spacing, origins.units)}",
        )
    return centre


def _side(value: float) -> float:
    return 0.0 if abs(value) < SAME_M else 1.0 if value > 0.0 else -1.0


def _in_pairs(house: House, spacing: float, origins: Origins) -> tuple[float, ...]:
    """Pairs about the middle; an odd number keeps a single bay there, as many pairs each side."""
    n = house.bays
    if n < 2 or n % 4 == 3:
        raise DesignError(
            "house.bays",
            n,
            "an even number, or 5, 9 or 13, in pairs: a single bay in the middle wants as many "
            "pairs to its left as to its right",
        )
    close = origins.choose(
        ("house", "pair_spacing"),
        house.pair_spacing,
        PAIR_OF_BAY * spacing,
        "seven tenths of the bay (common practice)",
    )
    pairs, single = n // 2, n % 2
    # Each pair takes two bays of the width, so that the pairs stand evenly.
    middles = [(k - (pairs - 1) / 2.0) * 2.0 * spacing for k in range(pairs)]
    middles = [m + _side(m) * single * spacing / 2.0 for m in middles]
    found = [m + side * close / 2.0 for m in middles for side in (-1.0, 1.0)]
    if close > spacing + SAME_M:
        raise DesignError(
            "house.pair_spacing",
            format_length(close, origins.units),
            f"at most the bay's {format_length(spacing, origins.units)}",
        )
    return tuple(sorted(found + [0.0] * single))


def _free(house: House, origins: Origins) -> tuple[float, ...]:
    given = house.bay_centres or []
    for field in ("rhythm", "bay_spacing", "centre_bay", "pair_spacing"):
        asked = getattr(house, field)
        if field in house.model_fields_set and asked not in (None, "equal"):
            said = asked if isinstance(asked, str) else format_length(asked, origins.units)
            raise DesignError(f"house.{field}", said, "left out with bay_centres")
    if "bays" in house.model_fields_set and house.bays != len(given):
        raise DesignError("house.bays", house.bays, f"{len(given)}, as many as bay_centres")
    centres = tuple(sorted(given))
    for i, centre in enumerate(given):
        origins.note(f"house.bay_centres.{i}", centre, origins.given(("house", "bay_centres", i)))
        if abs(centre) + LEAST_BESIDE_M > house.width / 2.0:
            raise DesignError(
                f"house.bay_centres.{i}",
                format_length(centre, origins.units),
                f"inside a width of {format_length(house.width, origins.units)}",
            )
    for one, other in pairwise(centres):
        if other - one < SAME_M:
            raise DesignError(
                f"house.bay_centres.{given.index(other)}",
                f"{format_length(other, origins.units)} twice",
                "a centre of its own for each bay",
            )
    return centres


def closest(centres: tuple[float, ...], alone_m: float) -> float:
    """Centre to centre of the two bays nearest each other; ``alone_m`` of a single bay."""
    return min((b - a for a, b in pairwise(centres)), default=alone_m)


def porch_centre(along: float | str | None, bays: tuple[float, ...], origins: Origins) -> float:
    """Where the porch's middle stands, right of the front's.

    Raises:
        DesignError: it names a bay that the front has not.
    """
    if along is None:
        return 0.0
    at = ("porch", "along")
    return origins.note("porch.along", place_m(along, bays, "porch.along"), origins.given(at))


def place_m(along: float | str, bays: tuple[float, ...], field: str) -> float:
    """A place along the front, right of its middle: as given, or the middle of the bays named.

    Raises:
        DesignError: it names a bay that the front has not.
    """
    if not isinstance(along, str):
        return along
    numbers = bays_named(along)
    if not all(1 <= n <= len(bays) for n in numbers):
        most = f"bay 1 to {len(bays)}" if len(bays) > 1 else "bay 1"
        raise DesignError(field, along, f"{most}, from the left, or a length")
    return sum(bays[n - 1] for n in numbers) / len(numbers)


def entrance_bay(house: House, porch_m: float, centres: tuple[float, ...]) -> int | None:
    """Which bay the entrance is in: as said, or the one at the porch's middle; None if none is.

    Before an off-centre porch that stands at no bay it is the bay nearest its middle.

    Raises:
        DesignError: it is said to be in a bay that the front has not.
    """
    asked = house.door.bay
    if asked is not None:
        if asked > len(centres):
            most = f"1 to {len(centres)}" if len(centres) > 1 else "1"
            raise DesignError("house.door.bay", asked, f"{most}, from the left")
        return asked - 1
    off = [abs(c - porch_m) for c in centres]
    nearest = sorted(range(len(off)), key=off.__getitem__)
    if not off or (abs(porch_m) < SAME_M and off[nearest[0]] >= SAME_M):
        return None
    if len(off) > 1 and off[nearest[1]] - off[nearest[0]] < SAME_M:
        return None  # between two of them
    return nearest[0]


def door_bay(centres: tuple[float, ...]) -> int | None:
    """Which bay stands in the middle of the front, where the door is; None if none does."""
    return next((i for i, c in enumerate(centres) if abs(c) < SAME_M), None)


def about(centres: tuple[float, ...], middle_m: float) -> tuple[float, ...]:
    """Bays from a porch's middle; of one off the front's, those that stand alike to both sides.

    Of equal bays the next one is taken to stand beyond the front's last.
    """
    if not middle_m:
        return centres
    off = [c - middle_m for c in centres]
    alike = tuple(c for c in off if any(abs(c + other) < SAME_M for other in off))
    gaps = [b - a for a, b in pairwise(centres)]
    if len(alike) == 1 and gaps and max(gaps) - min(gaps) < SAME_M:
        return (-gaps[0], alike[0], gaps[0])
    return alike


def column_gaps(centres: tuple[float, ...], columns: int) -> list[float] | None:
    """Axis to axis of columns that follow the bays, left to right about the middle.

    ``centres`` are from the porch's middle. Columns stand between the bays where that leaves as
    many on each side, otherwise before them; beyond the last bay they go on at its spacing. None
    if the bays are not symmetrical about the middle or fewer than two.
    """
    n = len(centres)
    if n < 2 or any(abs(a + b) > SAME_M for a, b in zip(centres, reversed(centres), strict=True)):
        return None
    gaps = [b - a for a, b in pairwise(centres)]
    if max(gaps) - min(gaps) < SAME_M:
        return [gaps[0]] * (columns - 1)
    places = list(centres)
    if (columns - n) % 2:
        places = [(a + b) / 2.0 for a, b in pairwise(centres)]
    while len(places) < columns:
        places = [places[0] - gaps[0], *places, places[-1] + gaps[-1]]
    spare = (len(places) - columns) // 2
    places = places[spare : len(places) - spare]
    return [b - a for a, b in pairwise(places)]
