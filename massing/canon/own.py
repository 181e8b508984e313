"""A canon of one's own: a file of members in parts, which a scene names, checked like any stranger.

The file holds one order. Heights and reaches are in parts of the module, reaches of base, shaft and
capital from the axis, those of the entablature from the frieze's face::

    canon: river house          # its name
    order: doric
    source: measured on the old porch, 2024
    parts_per_module: 12
    upper_radius: 10
    clear_spacing: 2.75         # diameters
    entasis: lower third straight
    shaft: {height: 168, foot: [...], head: [...]}
    base:
      - {name: plinth, kind: fillet, height: 6, reach: 17, square: true}
    capital: vignola            # another canon's, scaled; or members of its own, turned
    architrave: [...]
    frieze: [...]
    cornice: [...]

``pedestal`` and ``flutes`` may be left out: they are then Vignola's, scaled, and none.
"""

from __future__ import annotations

import errno
import math
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from massing.canon.entasis import CURVES as ENTASIS
from massing.canon.mouldings import CURVES as MOULDINGS
from massing.canon.order import Member, Ornament
from massing.canon.sources import give_source
from massing.canon.tables import (
    GROUPS,
    PEDESTAL,
    Plate,
    canons,
    keep_own,
    plate,
    plate_of,
    plates,
    scaled,
)
from massing.files import given_path, read_bounded

ENDINGS = (".yaml", ".yml")
MOST_BYTES = 64_000
MOST_MEMBERS = 30  # in one group
_NAME = re.compile(r"[a-z][a-z0-9 ]{0,39}")
_UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
MOST_SIGNS = 200  # signs of a source
_ROWS = ("dentil", "triglyph", "regula", "mutule", "modillion")
_MARK = "given by the scene's own file"
_SLENDER = (3.0, 20.0)  # diameters of a column that can be built
_DEEP = (0.5, 5.0)  # diameters of an entablature


class _Wrong(ValueError):
    """A field that cannot be used: where, what was given, what is allowed."""

    def __init__(self, where: str, given: object, allowed: str) -> None:
        super().__init__(f"{where}: given {_short(given)}, allowed: {allowed}")


def _short(given: object) -> str:
    if given is None:
        return "nothing"
    if isinstance(given, (dict, list)):
        return "a group" if isinstance(given, dict) else f"a list of {len(given)}"
    text = str(given)
    shown = "a sign that is not seen" if _UNSEEN.search(text) else text or "nothing"
    return shown if len(shown) <= 40 else shown[:37] + "..."


def own_canon(folder: Path, name: str) -> str:
    """Read the file that a scene in ``folder`` names; the canon's name, by which it is known since.

    Raises:
        ValueError: no such file within the folder, or one that is no order; one line.
    """
    path = given_path(folder, name)
    try:
        text = read_bounded(path, MOST_BYTES).decode("utf-8-sig")
    except FileNotFoundError:
        raise ValueError(f"given {name}, no such file, allowed: a canon's file") from None
    except UnicodeDecodeError:
        raise ValueError(f"given {name}, not text, allowed: YAML in UTF-8") from None
    except OSError as fault:
        most = f"at most {MOST_BYTES} bytes" if fault.errno == errno.EFBIG else "a canon's file"
        raise ValueError(f"given {name}, {fault.strerror}, allowed: {most}") from None
    try:
        data = YAML(typ="safe", pure=True).load(text)
    except Exception:  # strange text can trip the reader in many ways
        raise ValueError(f"given {name}, which is not YAML, allowed: a canon's file") from None
    try:
        found = _checked(data, name)
    except _Wrong as fault:
        raise ValueError(f"given {name}, {fault}") from None
    keep_own(found)
    return found.canon


def _checked(data: Any, file: str) -> Plate:
    """A plate from a file's fields.

    Raises:
        _Wrong: a field is missing, unknown or not what it may be; it says which.
    """
    fields = _group(data, "the file", _FIELDS, ("pedestal", "flutes"))
    name, order, words = _titled(fields)
    parts = _number(fields["parts_per_module"], "parts_per_module", 1.0, 1000.0)
    shaft = _group(fields["shaft"], "shaft", ("height",), ("foot", "head"))
    count, kind = _flutes(fields)
    if not isinstance(fields["entasis"], str) or fields["entasis"] not in ENTASIS:
        raise _Wrong("entasis", fields["entasis"], ", ".join(ENTASIS))
    groups = {g: _members(fields[g], g, parts) for g in GROUPS if g != "capital"}
    capital, carving, sizes = _capital(fields["capital"], order, parts)
    made = plate_of(
        order=order,
        canon=name,
        source=give_source(name, words, file, _MARK),
        parts_per_module=parts,
        upper_radius=_number(fields["upper_radius"], "upper_radius", 0.3 * parts, parts),
        shaft_height=_number(shaft["height"], "shaft.height", parts, 60.0 * parts),
        groups={**groups, "capital": capital, PEDESTAL: _pedestal(fields, order, parts)},
        shaft_foot=_members(shaft.get("foot") or [], "shaft.foot", parts, least=0),
        shaft_head=_members(shaft.get("head") or [], "shaft.head", parts, least=0),
        entasis=fields["entasis"],
        flutes=count,
        flute_kind=kind,
        clear_spacing_diameters=_number(fields["clear_spacing"], "clear_spacing", 0.5, 12.0),
        capital_kind=carving,
        capital_sizes=sizes,
        mark=_MARK,
    )
    _check_proportions(made)
    return made


_FIELDS = (
    *("canon", "order", "source", "parts_per_module", "upper_radius", "clear_spacing"),
    *("entasis", "shaft", *GROUPS),
)


def _titled(fields: Mapping[str, Any]) -> tuple[str, str, str]:
    """The canon's name, its order, and where its members are from."""
    name, order = str(fields["canon"]), fields["order"]
    if not _NAME.fullmatch(name) or name in canons():
        raise _Wrong("canon", name, "a name in small letters that no author here has")
    known = sorted({o for c, o in plates() if c == "vignola"})
    if order not in known:
        raise _Wrong("order", order, ", ".join(known))
    words = fields["source"]
    if not isinstance(words, str) or not 0 < len(words) <= MOST_SIGNS or _UNSEEN.search(words):
        raise _Wrong("source", words, f"where the members are from, in up to {MOST_SIGNS} signs")
    return name, order, words


def _flutes(fields: Mapping[str, Any]) -> tuple[int, str]:
    """How many flutes, and what stands between them; no word where there are none."""
    flutes = _group(fields.get("flutes") or {"count": 0}, "flutes", ("count",), ("kind",))
    count = _number(flutes["count"], "flutes.count", 0, 60)
    kind = flutes.get("kind", "arris" if count else "")
    if kind not in ("", "arris", "fillet") or count != int(count):
        raise _Wrong("flutes", _short(flutes), "a whole count, kind arris or fillet")
    return int(count), kind if count else ""


def _pedestal(fields: Mapping[str, Any], order: str, parts: float) -> tuple[Member, ...]:
    """The pedestal given, or the order's usual one in the file's parts."""
    given = fields.get("pedestal")
    stand = (
        _as_another(plate(order), PEDESTAL, parts)
        if given is None
        else _members(given, PEDESTAL, parts)
    )
    if not any(m.name == "die" for m in stand):
        raise _Wrong("pedestal", "no die", "members of which one is named die")
    return stand


def _check_proportions(made: Plate) -> None:
    """Refuse a column, an entablature or end mouldings out of all proportion."""
    for what, value, (least, most) in (
        ("column", made.column_diameters, _SLENDER),
        ("entablature", made.entablature_diameters, _DEEP),
    ):
        if not least <= value <= most:
            raise _Wrong(what, f"{value:.3g} diameters high", f"{least:g} to {most:g}")
    ends = sum(m.height for m in (*made.shaft_foot, *made.shaft_head))
    if ends > 0.5 * made.shaft_height:
        raise _Wrong("shaft", f"end mouldings {ends:g} high", "at most half of its height")


def _group(
    data: Any, where: str, needed: tuple[str, ...], other: tuple[str, ...]
) -> dict[str, Any]:
    """A group of fields, all the needed ones there and no strange ones."""
    if not isinstance(data, dict):
        raise _Wrong(where, data, f"a group with {', '.join(needed)}")
    for field in data:
        if field not in (*needed, *other):
            raise _Wrong(f"{where}, {_short(field)}", "a field", ", ".join((*needed, *other)))
    for field in needed:
        if field not in data:
            raise _Wrong(f"{where}, {field}", None, "this field, which every such group has")
    return data


def _number(value: Any, where: str, least: float, most: float) -> float:
    good = isinstance(value, (int, float)) and not isinstance(value, bool)
    if not good or not math.isfinite(value) or not least <= value <= most:
        raise _Wrong(where, value, f"a number from {least:g} to {most:g}")
    return float(value)


def _members(data: Any, where: str, parts: float, least: int = 1) -> tuple[Member, ...]:
    if not isinstance(data, list) or not least <= len(data) <= MOST_MEMBERS:
        raise _Wrong(where, data, f"a list of {least} to {MOST_MEMBERS} members")
    return tuple(_member(row, f"{where}[{i + 1}]", parts) for i, row in enumerate(data))


def _member(data: Any, where: str, parts: float) -> Member:
    row = _group(
        data,
        where,
        ("name", "kind", "height"),
        ("reach", "foot", "head", "square", "recess", "row"),
    )
    name, kind, square = row["name"], row["kind"], row.get("square", False)
    if not isinstance(name, str) or not _NAME.fullmatch(name):
        raise _Wrong(f"{where}.name", name, "the member's name, in small letters")
    if not isinstance(kind, str) or kind not in MOULDINGS:
        raise _Wrong(f"{where}.kind", kind, ", ".join(MOULDINGS))
    if not isinstance(square, bool):
        raise _Wrong(f"{where}.square", square, "true or false")
    if "reach" not in row and not {"foot", "head"} <= set(row):
        raise _Wrong(f"{where}.reach", None, "reach, or foot and head")
    far = 8.0 * parts
    height = _number(row["height"], f"{where}.height", 0.001 * parts, 12.0 * parts)
    foot, head = (
        _number(row.get(end, row.get("reach")), f"{where}.{end}", 0.0, far)
        for end in ("foot", "head")
    )
    recess = _number(row.get("recess", 0.0), f"{where}.recess", 0.0, 0.9 * height)
    ornament = _ornament(row["row"], f"{where}.row", height, far) if "row" in row else None
    plain: dict[str, Any] = {"square": square, "recess": recess, "row": ornament}
    return Member(name, kind, height, foot, head, **plain)


def _ornament(data: Any, where: str, height: float, far: float) -> Ornament:
    row = _group(
        data, where, ("kind", "width", "spacing", "reach", "height"), ("guttae", "gutta_height")
    )
    if row["kind"] not in _ROWS:
        raise _Wrong(f"{where}.kind", row["kind"], ", ".join(_ROWS))
    width = _number(row["width"], f"{where}.width", 0.01 * far / 8.0, far)
    guttae = _number(row.get("guttae", 0), f"{where}.guttae", 0, 12)
    if guttae != int(guttae):
        raise _Wrong(f"{where}.guttae", guttae, "a whole number")
    return Ornament(
        kind=row["kind"],
        width=width,
        spacing=_number(row["spacing"], f"{where}.spacing", 1.05 * width, 4.0 * far),
        reach=_number(row["reach"], f"{where}.reach", 0.0, far),
        height=_number(row["height"], f"{where}.height", 0.05 * height, height),
        guttae=int(guttae),
        gutta_height=_number(row.get("gutta_height", 0.0), f"{where}.gutta_height", 0.0, far),
    )


def _capital(
    data: Any, order: str, parts: float
) -> tuple[tuple[Member, ...], str, tuple[tuple[str, float], ...]]:
    """Its members, how it is carved and the sizes of that: turned ones of its own, or another's."""
    if not isinstance(data, str):
        return _members(data, "capital", parts), "turned", ()
    if data not in canons() or (data, order) not in plates():
        having = sorted(c for c, o in plates() if o == order)
        raise _Wrong("capital", data, f"members, or the canon of one: {', '.join(having)}")
    like = plate(order, data)
    share = parts / like.parts_per_module
    sizes = tuple((name, size * share) for name, size in like.capital_sizes)
    return _as_another(like, "capital", parts), like.capital_kind, sizes


def _as_another(like: Plate, group: str, parts: float) -> tuple[Member, ...]:
    share = parts / like.parts_per_module
    return tuple(scaled(m, share, share) for m in like.groups[group])
