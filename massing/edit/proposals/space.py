"""Every porch that the limits allow, set out by columns of numbers before any is resolved.

A porch is a place in a grid of twelve ways to vary it. What fixes its proportions is worked out for
the whole grid at once; where no canon bears it (too slender, too close, wider than the house) the
place is left out. What is left is for the resolver, which alone knows what can be built.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from massing.canon import plate, spacings
from massing.design.design import Design
from massing.edit.proposals.limits import Limits
from massing.edit.proposals.setting import KEPT, Setting, triglyph_step
from massing.findings.finding import SLACK
from massing.geometry.mesh import Floats
from massing.practice.rules import rule
from massing.resolve.bays import column_gaps
from massing.scene.spec import Scene
from massing.units import INCH_M, format_length, whole_steps

Place = tuple[int, ...]
"""Where a porch stands in the grid: a choice of each of :attr:`Space.ways`."""

STEP_M = {"feet": 0.5 * INCH_M, "metric": 0.01}
"""Of sizes that are proposed: what a builder reads off a rule (a choice)."""

HEIGHT_STEP_M = {"feet": 3.0 * INCH_M, "metric": 0.05}
SHARES_OF_STOREY = (0.66, 0.7, 0.74, 0.78, 0.82, 0.86, 0.9)
"""Heights of an order between the floor and the storey's top that are tried (a choice)."""

CLEAR_BETWEEN_NAMES = tuple(k / 8.0 for k in range(13, 32) if k / 8.0 not in (2.0, 2.25, 3.0))
"""Clear spacings in diameters that are tried beside the named ones, by eighths (a choice)."""

CORE = 9  # ways that fix a porch's proportions
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
_DEEPER = 1.1  # of a quarter: the depth from which findings call an entablature deep


@dataclass(frozen=True)
class Space:
    """The grid of porches for one design to begin from.

    Attributes:
        fields: the design's own fields, as plain values.
        start: the same, resolved.
        limits: what is allowed.
        units: of what is written.
    """

    fields: Mapping[str, Any]
    start: Design
    limits: Limits
    units: str
    spec: Scene

    # --- ways to vary -----------------------------------------------------------------------

    @cached_property
    def ways(self) -> dict[str, list[Any]]:
        """What there is to choose from, by the name of the way; the first nine fix proportions."""
        limits = self.limits
        keep, without = limits.keep, limits.without
        named = [name for name in spacings() if name != "pycnostyle"]
        return {
            "order": list(limits.orders),
            "columns": list(limits.columns),
            "spacing": [KEPT]
            if "spacing" in keep
            else ["bays", *named, "pycnostyle", "as wide", *CLEAR_BETWEEN_NAMES],
            "middle": ["equal"] if "spacing" in keep else ["equal", "wider", "door", "bay"],
            "height": self._heights(),
            "diameter": ["canon", "spacing", *(["largest"] * bool(limits.largest_diameter_m))],
            "entablature": ["given"] if limits.entablature_m else ["canon", "a fifth"],
            "pedestals": [False] if "pedestals" in without else [False, True],
            "bays": list(limits.bays),
            "top": [
                top
                for top in ("flat", "balustrade", "hipped", "pediment")
                if ("flat" if top == "balustrade" else top) in limits.roofs and top not in without
            ],
            "sides": [0] if "side columns" in without else [0, 1],
            "windows": ["drawn"]
            if "windows" in keep or not self.spec.house.windows
            else ["drawn", "heights", "heights and sills"],
        }

    def _heights(self) -> list[tuple[str | None, float]]:
        """Order heights, pedestal and all: as written, None as it is, and in metres."""
        start = self.start
        floor, levels = start.porch.floor_z_m, start.house.storey_floors_z_m
        eaves = start.house.wall_top_z_m - floor
        storey = (levels[1] if len(levels) > 1 else start.house.wall_top_z_m) - floor
        drawn = start.porch.order.whole_height_m
        if "height" in self.limits.keep:
            return [(KEPT, drawn)]
        step = HEIGHT_STEP_M[self.units]
        found: dict[float, str] = {round(eaves, 4): "eaves"}
        found.setdefault(round(storey, 4), "storey")
        for height in (
            drawn,
            *(whole_steps(share * storey, step) * step for share in SHARES_OF_STOREY),
        ):
            found.setdefault(round(height, 4), format_length(height, self.units))
        return [(written, height) for height, written in sorted(found.items(), reverse=True)]

    @cached_property
    def shape(self) -> tuple[int, ...]:
        """How many choices each way has."""
        return tuple(len(way) for way in self.ways.values())

    # --- proportions of the whole grid at once ----------------------------------------------

    @cached_property
    def proportions(self) -> dict[str, Floats]:
        """Main dimensions over the first nine ways, metres or plain numbers, of one shape.

        ``diameter``, ``column``, ``entablature``, ``slenderness``, ``share`` (of entablature to
        column), ``least`` and ``most`` (clear between shafts, in diameters), ``half`` (middle of
        the front to the frieze's end), ``tall`` (the whole, pedestals and all).
        """
        ways = list(self.ways.values())[:CORE]
        found = Setting(
            orders=ways[0],
            columns=ways[1],
            spacings=ways[2],
            middles=ways[3],
            heights=ways[4],
            diameters=ways[5],
            entablatures=ways[6],
            pedestals=ways[7],
            bays=ways[8],
            plates=[plate(order, self.spec.porch.canon) for order in ways[0]],
            porch=self.start.porch,
            limits=self.limits,
            bay_gaps_m=self._bay_gaps(),
            door_m=2.0 * self._door_half_m(),
            step_m=STEP_M[self.units],
        ).proportions()
        whole = tuple(len(way) for way in ways)
        return {name: np.broadcast_to(value, whole) for name, value in found.items()}

    def _bay_gaps(self) -> Floats:
        """Widest spacing that follows the bays, by number of columns and of bays; NaN for none."""
        own, width = self.start.house.bay_centres_m, self.start.house.width_m
        found = np.full((len(self.limits.columns), len(self.limits.bays)), math.nan)
        for j, bays in enumerate(self.limits.bays):
            equal = tuple((i - (bays - 1) / 2.0) * width / bays for i in range(bays))
            for i, columns in enumerate(self.limits.columns):
                gaps = column_gaps(own if bays == len(own) else equal, columns)
                found[i, j] = max(gaps) if gaps else math.nan
        return found

    @cached_property
    def borne(self) -> NDArray[np.bool_]:
        """Where in the first nine ways a porch has proportions that some canon bears.

        The bounds are those of the findings that question a proportion: columns from the Tuscan's
        to the Corinthian's, an entablature from a fifth to a quarter, a clear spacing from
        pycnostyle to araeostyle; and the limits given. Beyond diastyle only Tuscan columns and
        piers go, over beams of timber (Vitruvius III.3.5), but for a middle before the door. The
        rest is common practice, no source: a middle is half as wide again as the others at the
        most; an order that stands through two storeys has four columns or more; a porch is half as
        wide as it is high at the least, as a doorway is; a column a tenth slenderer or stouter than
        its order's is another order's.
        """
        p, limits, named = self.proportions, self.limits, spacings()
        with np.errstate(invalid="ignore"):
            good = p["slenderness"] <= rule("slenderness_corinthian").value * SLACK
            good &= p["slenderness"] >= rule("slenderness_tuscan").value / SLACK
            good &= (p["most"] + 1.0) <= _WIDEST_MIDDLE * (p["least"] + 1.0) + 1e-9
            plates = [plate(order, self.spec.porch.canon) for order in self.ways["order"]]
            own = np.array([t.column_diameters for t in plates])[:, *([None] * (CORE - 1))]
            good &= abs(p["slenderness"] / own - 1.0) <= _STILL_ITS_ORDER
            good &= p["least"] >= named["pycnostyle"].clear / SLACK
            good &= p["most"] <= named["araeostyle"].clear * SLACK
            if limits.entablature_m is None:
                good &= p["share"] >= rule("entablature_least").value / SLACK
                good &= p["share"] <= rule("entablature_most").value * _DEEPER
            far = np.array([o in _ARAEOSTYLE for o in self.ways["order"]])
            good &= far[:, *([None] * (CORE - 1))] | (p["least"] <= named["diastyle"].clear * SLACK)
            if len(self.start.house.storey_floors_z_m) > 1:
                giant = np.array([written == "eaves" for written, _ in self.ways["height"]])
                pair = np.array([count < _GIANT_FROM for count in self.ways["columns"]])
                good &= ~(pair[:, None, None, None] & giant)[..., *([None] * 4)]
            good &= ~self._odd_metopes()
            clear = self._clear_of_openings()
            good &= clear if (good & clear).any() else True
            good &= 2.0 * p["half"] >= _NARROWEST * p["tall"]
            room = min(limits.width_m or math.inf, self.start.house.width_m)
            good &= 2.0 * p["half"] <= room + STEP_M[self.units]
            if limits.largest_diameter_m is not None:
                good &= p["diameter"] <= limits.largest_diameter_m + 1e-6
        return np.asarray(good)

    def _odd_metopes(self) -> NDArray[np.bool_]:
        """Where triglyphs would not come over columns: spacings by eighths are not theirs."""
        plates = [plate(order, self.spec.porch.canon) for order in self.ways["order"]]
        triglyphs = ~np.isnan([triglyph_step(table) for table in plates])
        by_hand = np.array([not isinstance(name, str) for name in self.ways["spacing"]])
        odd = triglyphs[:, None, None] & by_hand
        return odd[..., *([None] * (CORE - 3))]

    def _door_half_m(self) -> float:
        """Middle of the front to the side of the doorway's opening; 0 without a door there."""
        doors = [o for o in self.start.house.doors if o.entrance]
        return max((o.width_m / 2.0 for o in doors), default=0.0)

    def _clear_of_openings(self) -> NDArray[np.bool_]:
        """Where no column stands before a window of the lowest storey, nor beside the door's leaf.

        As the finding has it a window may be covered by a tenth of a diameter; the doorway
        stands free.
        """
        p, house = self.proportions, self.start.house
        lowest = [o for o in house.windows if o.wall == "front" and o.storey == 0]
        window = max((o.width_m for o in lowest), default=0.0)
        door = self._door_half_m()
        diameter, least, most = p["diameter"], p["least"], p["most"]
        clear = np.ones(diameter.shape, dtype=bool)
        for j, bays in enumerate(self.limits.bays):
            at = (slice(None),) * (CORE - 1) + (j,)
            if bays == len(house.bay_centres_m):
                centres = np.array(house.bay_centres_m)
            else:
                centres = (np.arange(bays) - (bays - 1) / 2.0) * house.width_m / bays
            windows = centres[np.abs(centres) > _MIDDLE_M] if door else centres
            for i, columns in enumerate(self.limits.columns):
                row = (slice(None), i)
                d, gap, middle = diameter[at][row], least[at][row], most[at][row]
                for k in range(columns // 2):
                    axis = ((middle + 1.0) / 2.0 + k * (gap + 1.0)) * d
                    if columns % 2:
                        axis = (k + 1.0) * (gap + 1.0) * d
                    off = np.abs(axis[..., None] - windows).min(axis=-1) if len(windows) else np.inf
                    free = off >= window / 2.0 + 0.4 * d
                    if door:
                        free = free & (axis >= door + d / 2.0 - _MIDDLE_M)
                    clear[:, i, ..., j] &= free
        return clear

    # --- places -----------------------------------------------------------------------------

    @cached_property
    def places(self) -> NDArray[np.intp]:
        """Every place that a canon bears, as flat indices into the whole grid, in order."""
        tops, *others = self.shape[CORE:]
        whole = self.borne[..., None] & self._roofs_that_go()[..., *([None] * (CORE - 5)), :]
        rest = math.prod(others)
        core = np.flatnonzero(whole.reshape(-1, tops))
        return (core[:, None] * rest + np.arange(rest)).ravel()

    def _roofs_that_go(self) -> NDArray[np.bool_]:
        """By height and top of the porch: no hipped roof where its cornice is carried round."""
        wall_m = self.start.house.wall_top_z_m - self.start.porch.floor_z_m
        eaves = np.array([abs(height - wall_m) < 1e-3 for _, height in self.ways["height"]])
        hipped = np.array([top == "hipped" for top in self.ways["top"]])
        return ~(eaves[:, None] & hipped)

    def spread(self, most: int) -> list[Place]:
        """At most so many places, evenly over all of them by a golden-ratio walk."""
        places = self.places
        if len(places) > most:
            rank = np.argsort((np.arange(len(places)) * _GOLDEN) % 1.0, kind="stable")
            places = places[np.sort(rank[:most])]
        return [tuple(map(int, p)) for p in np.column_stack(np.unravel_index(places, self.shape))]

    def beside(self, place: Place) -> list[Place]:
        """The places that differ from one in a single way."""
        found = []
        for way, size in enumerate(self.shape):
            for choice in range(size):
                other = (*place[:way], choice, *place[way + 1 :])
                goes = self._roofs_that_go()[other[4], other[CORE]]
                if choice != place[way] and self.borne[other[:CORE]] and goes:
                    found.append(other)
        return found

    def changes(self, place: Place) -> dict[str, Any]:
        """What a porch at a place changes of the design, as plain values; null is by rule."""
        chosen = {name: way[i] for (name, way), i in zip(self.ways.items(), place, strict=True)}
        sizes = {name: float(value[place[:CORE]]) for name, value in self.proportions.items()}
        porch: dict[str, Any] = dict.fromkeys(_STRAIGHT)
        porch |= self._of_order(chosen, sizes) | self._of_spacing(chosen, sizes)
        porch |= self._of_roof_and_sides(chosen)
        house = self._of_house(chosen)
        return {"porch": porch} | ({"house": house} if house else {})

    def _of_order(self, chosen: Mapping[str, Any], sizes: Mapping[str, float]) -> dict[str, Any]:
        """The order, its height and its proportions."""
        porch = {"order": chosen["order"], "columns": chosen["columns"], "column_height": None}
        porch["pedestals"] = chosen["pedestals"] or None
        if chosen["order"] == "pier" or self.spec.porch.order == "pier":
            porch |= {"entasis": None, "fluted": None}
        written = chosen["height"][0]
        if written is not KEPT:
            porch["height"] = written
        elif self.spec.porch.height is None and self.start.porch.order.whole_height_m:
            porch["height"] = format_length(self.start.porch.order.whole_height_m, self.units)
        for name in ("diameter", "entablature"):
            porch[name] = None if chosen[name] == "canon" else self._written(sizes[name])
        return porch

    def _of_spacing(self, chosen: Mapping[str, Any], sizes: Mapping[str, float]) -> dict[str, Any]:
        """Axis to axis, and in the middle."""
        if chosen["spacing"] is KEPT:
            return {}
        by_length = chosen["spacing"] == "as wide" or not isinstance(chosen["spacing"], str)
        axis = self._written((sizes["least"] + 1.0) * sizes["diameter"])
        middle = self._written((sizes["most"] + 1.0) * sizes["diameter"])
        return {
            "spacing": axis if by_length else chosen["spacing"],
            "centre_spacing": None if chosen["middle"] == "equal" else middle,
        }

    def _of_roof_and_sides(self, chosen: Mapping[str, Any]) -> dict[str, Any]:
        """What stands over the entablature, and the returns."""
        top = chosen["top"]
        porch: dict[str, Any] = {"roof": "flat" if top == "balustrade" else top}
        if porch["roof"] != self.spec.porch.roof:
            porch |= {"roof_pitch": None, "roof_covering": None}
        drawn = self._own("porch").get("balustrade")
        porch["balustrade"] = (drawn or {}) if top == "balustrade" else None
        porch["side_columns"] = chosen["sides"] or None
        deeper = chosen["sides"] and "depth" not in self.limits.keep
        if deeper or self.start.porch.shape != "straight":
            porch["depth"] = None
        if "steps" in self._own("porch"):
            porch["steps"] = {"width": None}
        return porch

    def _of_house(self, chosen: Mapping[str, Any]) -> dict[str, Any]:
        """Bays and windows, where they are not as drawn."""
        house: dict[str, Any] = {}
        if chosen["bays"] != len(self.start.house.bay_centres_m):
            house |= {"bays": chosen["bays"], "bay_spacing": None}
        if chosen["windows"] != "drawn":
            left = ("height",) if chosen["windows"] == "heights" else ("height", "sill")
            house["windows"] = [
                {k: v for k, v in window.items() if k not in left}
                for window in self._own("house")["windows"]
            ]
        return house

    def _written(self, length_m: float) -> str:
        step = STEP_M[self.units]
        return format_length(math.floor(length_m / step + 0.5) * step, self.units)

    def _own(self, group: str) -> dict[str, Any]:
        found = self.fields.get(group)
        return found if isinstance(found, dict) else {}


_ARAEOSTYLE = ("pier", "tuscan")
_GIANT_FROM = 4
_STILL_ITS_ORDER = 0.1
_NARROWEST = 0.5
_WIDEST_MIDDLE = 1.5  # of the others, axis to axis
_MIDDLE_M = 1e-6


_STRAIGHT = (
    "shape",
    "paired",
    "upper",
    "breaking_forward",
    "blocking_course",
    "arcade",
    "ceiling_height",
    "wraps",
    "wrap_length",
)
"""What is not looked for: a proposal is a straight porch of single columns, one order high, before
the front alone, its ceiling by rule."""
