"""Reading the canon: the plates and spacings kept as YAML beside this file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Any

from massing.canon.order import Member, Ornament
from massing.canon.sources import source
from massing.files import table

GROUPS = ("base", "capital", "architrave", "frieze", "cornice")
PRACTICE = "common practice"
_OUTSIDE = ("pier",)  # plates that belong to no author
PEDESTAL = "pedestal"  # beneath them, and not counted in an order's height


@dataclass(frozen=True)
class Plate:
    """One order of one canon, in parts of the module (half the lower diameter).

    ``source`` is a key of the register (:mod:`massing.canon.sources`); ``marks`` says of each
    group how its values are known: read, from memory, derived or common practice.
    """

    order: str
    canon: str
    source: str
    parts_per_module: float
    upper_radius: float
    shaft_height: float
    groups: Mapping[str, tuple[Member, ...]]
    shaft_foot: tuple[Member, ...]
    shaft_head: tuple[Member, ...]
    entasis: str
    square: bool
    flutes: int
    flute_kind: str
    clear_spacing_diameters: float
    marks: Mapping[str, str]
    capital_kind: str = "turned"
    capital_sizes: tuple[tuple[str, float], ...] = ()
    members_of: str = ""  # another canon, where only the totals are this one's own
    clear_is_own: bool = True  # the spacing is this author's, not of him whose members these are

    @property
    def authority(self) -> str:
        """Whose proportions these are: ``vignola``, or ``gibbs (totals; members of vignola)``."""
        if not self.members_of:
            return self.canon
        return f"{self.canon} (totals; members of {self.members_of}, scaled)"

    def group_height(self, group: str) -> float:
        """Sum of a group's members, in parts."""
        return sum(m.height for m in self.groups[group])

    @property
    def diameter(self) -> float:
        """The lower diameter in parts."""
        return 2.0 * self.parts_per_module

    @property
    def column_diameters(self) -> float:
        """Height of base, shaft and capital in lower diameters."""
        parts = self.group_height("base") + self.shaft_height + self.group_height("capital")
        return parts / self.diameter

    @property
    def pedestal_diameters(self) -> float:
        """Height of the pedestal in lower diameters."""
        return self.group_height(PEDESTAL) / self.diameter

    @property
    def entablature_diameters(self) -> float:
        """Height of the entablature in lower diameters."""
        return sum(self.group_height(g) for g in GROUPS[2:]) / self.diameter


@dataclass(frozen=True)
class Spacing:
    """A named clear intercolumniation in lower diameters; ``centre`` where the middle differs.

    ``source`` is a key of the register (:mod:`massing.canon.sources`).
    """

    clear: float
    centre: float | None
    source: str


def read_table(name: str) -> Any:
    """A YAML table of this package, as plain values."""
    return table("massing.canon", name)


def member_of(row: Mapping[str, Any]) -> Member:
    reach = row.get("reach")
    return Member(
        name=row["name"],
        kind=row["kind"],
        height=float(row["height"]),
        foot=float(row.get("foot", reach)),
        head=float(row.get("head", reach)),
        square=row.get("square", False),
        recess=float(row.get("recess", 0.0)),
        row=Ornament(**row["row"]) if "row" in row else None,
        carving=row.get("carving", ""),
    )


def _plate(data: Mapping[str, Any]) -> Plate:
    shaft, flutes = data["shaft"], data.get("flutes", {})
    marks = {"plate": data["mark"], "upper radius": data["upper_radius"]["mark"]}
    marks |= {g: data[g]["mark"] for g in (*GROUPS, PEDESTAL, "shaft")}
    marks["clear spacing"] = data["clear_spacing"]["mark"]
    return Plate(
        order=data["order"],
        canon=data["canon"],
        source=source(data["source"]).key,
        parts_per_module=float(data["parts_per_module"]),
        upper_radius=float(data["upper_radius"]["parts"]),
        shaft_height=float(shaft["height"]),
        groups={g: tuple(member_of(m) for m in data[g]["members"]) for g in (*GROUPS, PEDESTAL)},
        shaft_foot=tuple(member_of(m) for m in shaft.get("foot", [])),
        shaft_head=tuple(member_of(m) for m in shaft.get("head", [])),
        entasis=data["entasis"],
        square=data.get("square", False),
        flutes=flutes.get("count", 0),
        flute_kind=flutes.get("kind", ""),
        clear_spacing_diameters=float(data["clear_spacing"]["diameters"]),
        marks=marks,
        capital_kind=data["capital"].get("kind", "turned"),
        capital_sizes=tuple((k, float(v)) for k, v in data["capital"].get("sizes", {}).items()),
    )


def _by_totals(
    plate: Plate, canon: str, key: str, totals: Mapping[str, Any], entasis: str
) -> Plate:
    """Another authority's totals (diameters) laid over a plate, members scaled in each group."""
    d = plate.diameter
    height = {g: totals[g] * d / plate.group_height(g) for g in GROUPS if g in totals}
    out = dict.fromkeys(GROUPS, 1.0)
    if "entablature" in totals:
        share = totals["entablature"] / plate.entablature_diameters
        height |= dict.fromkeys(GROUPS[2:], share)
        out |= dict.fromkeys(GROUPS[2:], share)
    if "projection" in totals:
        out["cornice"] = totals["projection"] * d / max(m.reach for m in plate.groups["cornice"])
    groups = {
        g: tuple(
            _with_own(scaled(m, height.get(g, 1.0), out[g]), totals, d) for m in plate.groups[g]
        )
        for g in GROUPS
    } | {PEDESTAL: plate.groups[PEDESTAL]}
    shaft = totals["column"] * d - sum(m.height for g in ("base", "capital") for m in groups[g])
    mark = f"totals {totals['mark']}; members of {plate.canon}, scaled"
    return replace(
        plate,
        canon=canon,
        members_of=plate.canon,
        source=key,
        groups=groups,
        shaft_height=shaft,
        entasis=entasis,
        clear_is_own="clear" in totals,
        clear_spacing_diameters=totals.get("clear", plate.clear_spacing_diameters),
        marks={**plate.marks, **dict.fromkeys(("plate", "shaft", *GROUPS), mark)},
    )


def _with_own(member: Member, totals: Mapping[str, Any], diameter: float) -> Member:
    """A member with what its author gives of it himself, in diameters, besides his totals."""
    row = member.row
    if member.name in totals.get("reaches", {}):
        reach = totals["reaches"][member.name] * diameter
        share = reach / member.reach
        row = row and replace(row, reach=row.reach * share)
        member = replace(member, foot=member.foot * share, head=member.head * share, row=row)
    if row is not None and row.kind == "modillion" and "modillion" in totals:
        long = totals["modillion"] * diameter
        member = replace(member, row=replace(row, reach=member.reach + long))
    return member


def scaled(member: Member, up: float, out: float) -> Member:
    """A member with its heights multiplied by ``up`` and its reaches by ``out``.

    Widths and spacings along the run follow ``out``.
    """
    row = member.row
    if row is not None:
        row = replace(
            row,
            width=row.width * out,
            spacing=row.spacing * out,
            reach=row.reach * out,
            height=row.height * up,
            gutta_height=row.gutta_height * up,
        )
    return replace(
        member,
        height=member.height * up,
        foot=member.foot * out,
        head=member.head * out,
        recess=member.recess * up,
        row=row,
    )


@cache
def _files() -> Mapping[tuple[str, str], str]:
    """The file of each plate by (canon, order), by the files' names; totals by (canon, "")."""
    found = {}
    for file in resources.files("massing.canon").iterdir():
        stem, _, ending = file.name.partition(".")
        canon, _, rest = stem.partition("_")
        if ending != "yaml" or not (rest or stem in _OUTSIDE):
            continue
        key = (canon, rest.replace("_", " ")) if rest else (PRACTICE, stem)
        found[(canon, "") if rest == "totals" else key] = file.name
    return found


@cache
def _totals(canon: str) -> Mapping[str, Any]:
    return dict(read_table(_files()[canon, ""]))


@cache
def _find(canon: str, order: str) -> Plate | None:
    """A plate, read from its file or made from another's by totals; None if there is none."""
    if (canon, order) in _files() and order:
        return _plate(read_table(_files()[canon, order]))
    if (canon, "") not in _files() or order not in _totals(canon)["orders"]:
        return None
    table = _totals(canon)
    members = _find(table["members_of"], order)
    if members is None:
        raise ValueError(f"{table['members_of']} has no {order} for {canon} to scale")
    key, entasis = source(table["source"]).key, table["entasis"]
    return _by_totals(members, canon, key, table["orders"][order], entasis)


def plates() -> Mapping[tuple[str, str], Plate]:
    """Every plate by (canon, order)."""
    keys = [key for key in _files() if key[1]]
    keys += [(c, order) for c, none in _files() if not none for order in _totals(c)["orders"]]
    return {(c, o): found for c, o in sorted(keys) if (found := _find(c, o)) is not None}


def canons() -> tuple[str, ...]:
    """The names of the canons."""
    return tuple(sorted({canon for canon, _ in _files()} - {PRACTICE}))


@cache
def spacings() -> Mapping[str, Spacing]:
    """The named intercolumniations."""
    table = read_table("spacings.yaml")
    return {
        name: Spacing(row["clear"], row.get("centre"), source(row["source"]).key)
        for name, row in table["names"].items()
    }


@dataclass(frozen=True)
class BalustradeTable:
    """A balustrade's mouldings as fractions.

    ``baluster`` in fractions of the baluster's height and reach from its axis; ``base`` (of
    plinth course and pedestal) and ``rail`` (also the pedestal's cap) in fractions of their
    height, reach beyond the body beneath or above.
    """

    baluster: tuple[Member, ...]
    base: tuple[Member, ...]
    rail: tuple[Member, ...]
    source: str
    mark: str

    @property
    def belly(self) -> float:
        """Greatest width over height."""
        return 2.0 * max(m.reach for m in self.baluster)

    @property
    def neck(self) -> float:
        """Least width over height."""
        return 2.0 * min(min(m.foot, m.head) for m in self.baluster)


@cache
def balustrade_table(name: str = "vase") -> BalustradeTable:
    """A balustrade's table by the name of its baluster.

    Raises:
        ValueError: the name is unknown.
    """
    tables = read_table("balusters.yaml")
    if name not in tables:
        raise ValueError(f"baluster {name!r} is unknown; allowed: {', '.join(tables)}")
    row = tables[name]
    groups = {g: tuple(member_of(m) for m in row[g]) for g in ("baluster", "base", "rail")}
    return BalustradeTable(**groups, source=source(row["source"]).key, mark=row["mark"])


_OWN: dict[str, Plate] = {}  # a plate each, of canons that scenes brought along


def plate_of(*, mark: str, **fields: Any) -> Plate:
    """A plate whose every value is known alike."""
    names = ("plate", "upper radius", *GROUPS, PEDESTAL, "shaft", "clear spacing")
    return Plate(square=False, marks=dict.fromkeys(names, mark), **fields)


def keep_own(own: Plate) -> None:
    """Keep the plate of a scene's own canon, by the canon's name; the last read of it counts."""
    _OWN[own.canon] = own


def plate(order: str, canon: str = "vignola") -> Plate:
    """The plate of an order; a pier's stands outside the canons and serves all of them.

    Raises:
        ValueError: the canon is unknown, or has no such order.
    """
    if canon in _OWN:
        if _OWN[canon].order == order:
            return _OWN[canon]
        canon = "vignola"  # a canon of one's own is of one order
    if canon not in (*canons(), PRACTICE):
        raise ValueError(f"canon {canon!r} is unknown; allowed: {', '.join(canons())}")
    found = _find(canon, order) or _find(PRACTICE, order)
    if found is None:
        known = sorted({o for c, o in plates() if c in (canon, PRACTICE)})
        raise ValueError(f"canon {canon!r} has no order {order!r}; allowed: {', '.join(known)}")
    return found
