"""What surfaces are finished with: a colour for each material role, with and without its grain.

A part carries a role (``order``, ``wall``, ``tile``). A role may name its kind after a slash
(``wall/brick``, ``tile/green glazed``); a plain ``wall`` or ``tile`` takes the kind from the
model's notes ``walls`` and ``roof colour``. Colours are linear Rec. 709.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from massing.practice.palette import PAINTED, linear

Rgb = tuple[float, float, float]

# Visible reflectance: white lime plaster 0.75, vermilion clay 0.19, buff clay 0.53, grey brick
# 0.23, window glass 0.08: common practice, no source; limestone 0.35-0.55, grass 0.06 and concrete
# 0.20-0.32 from memory. The rest is choice.
WHITE_PAINT: Rgb = (0.78, 0.76, 0.70)
BLACK_PAINT = 0.04  # reflects so much of the light, at the least: common practice, no source
BLACK_SHUTTER = 0.085  # a choice, so that the darkest in shade shows its louvres
CLAY_WHITE: Rgb = (0.60, 0.59, 0.57)
CLAY_GROUND: Rgb = (0.30, 0.28, 0.25)
STUCCO: Rgb = (0.66, 0.59, 0.47)
CLAPBOARD: Rgb = (0.70, 0.69, 0.63)
BRICK: Rgb = (0.36, 0.155, 0.10)
BRICK_DARK: Rgb = (0.22, 0.085, 0.06)
MORTAR: Rgb = (0.50, 0.46, 0.39)
LIMESTONE: Rgb = (0.52, 0.47, 0.38)
STONE: Rgb = (0.42, 0.40, 0.36)
CONCRETE: Rgb = (0.32, 0.31, 0.29)
GRASS: Rgb = (0.084, 0.124, 0.039)
GLASS: Rgb = (0.012, 0.015, 0.018)
INTERIOR: Rgb = (0.03, 0.028, 0.025)
DOOR: Rgb = (0.025, 0.055, 0.045)
SLATE: Rgb = (0.115, 0.125, 0.145)
SHINGLE: Rgb = (0.23, 0.19, 0.15)
LEAVES: Rgb = (0.12, 0.18, 0.06)
LEAF: Rgb = (0.25, 0.34, 0.11)  # a leaf by itself; the mass is darker for the hollows in it
BARK: Rgb = (0.13, 0.10, 0.075)
NEIGHBOUR: Rgb = (0.42, 0.40, 0.36)
SHUTTER: Rgb = (0.030, 0.055, 0.044)
GRAVEL: Rgb = (0.40, 0.36, 0.29)
PATINA: Rgb = (0.19, 0.36, 0.29)
COPPER: Rgb = (0.30, 0.17, 0.11)
MORTAR_TINTED: Rgb = (0.19, 0.165, 0.14)
FELT: Rgb = (0.09, 0.09, 0.09)
METAL: Rgb = (0.16, 0.17, 0.17)
CURTAIN: Rgb = (0.52, 0.49, 0.42)
BLIND: Rgb = (0.48, 0.45, 0.37)
# A room as its walls send daylight back, for how strongly foliage does: see the pane.
ROOM_BACK: Rgb = (0.30, 0.26, 0.21)
ROOM_SIDE: Rgb = (0.36, 0.32, 0.26)
ROOM_CEILING: Rgb = (0.50, 0.47, 0.41)
ROOM_FLOOR: Rgb = (0.20, 0.14, 0.09)
NEEDLES: Rgb = (0.13, 0.20, 0.09)
CYPRESS: Rgb = (0.095, 0.150, 0.065)
FRONDS: Rgb = (0.19, 0.27, 0.09)
GLOSSY: Rgb = (0.10, 0.17, 0.06)
BOX: Rgb = (0.15, 0.24, 0.075)
HOLLOW: Rgb = (0.075, 0.11, 0.04)  # what is seen between leaves
BLOSSOM: Rgb = (0.62, 0.22, 0.30)
PETAL: Rgb = (0.78, 0.76, 0.68)
EARTH: Rgb = (0.075, 0.055, 0.04)
PAVING_BRICK: Rgb = (0.27, 0.135, 0.095)
FLAGS: Rgb = (0.34, 0.33, 0.30)
STREET: Rgb = (0.16, 0.155, 0.15)
KERB: Rgb = (0.38, 0.37, 0.34)
NEIGHBOURS: dict[str, Rgb] = {
    "white": (0.60, 0.59, 0.55),
    "brick": (0.27, 0.135, 0.095),
    "grey": (0.33, 0.35, 0.35),
    "cream": (0.55, 0.48, 0.35),
}
NEIGHBOUR_ROOF: Rgb = (0.12, 0.125, 0.135)
NEIGHBOUR_ROOF_WARM: Rgb = (0.22, 0.16, 0.12)
CUT: Rgb = (0.42, 0.17, 0.13)  # sections were washed in red
# A section's cut faces as they are washed: masonry red, timber ochre, metal blue, earth and stone
# grey; common practice, no source.
POCHE: dict[str, Rgb] = {
    "masonry": CUT,
    "stone": (0.27, 0.26, 0.25),
    "timber": (0.47, 0.31, 0.13),
    "metal": (0.13, 0.20, 0.30),
}
_CUT_AS = {
    "masonry": ("wall", "brick", "tile", "foundation/brick", "mortar"),
    "stone": ("foundation", "ashlar", "stone", "steps", "slate", "wall/limestone", "walk"),
    "metal": ("metal", "copper", "glass"),
}
FIGURE: Rgb = (0.045, 0.045, 0.05)
PEOPLE: dict[str, Rgb] = {
    "man": (0.135, 0.138, 0.148),
    "woman": (0.18, 0.155, 0.148),
    "child": (0.21, 0.20, 0.175),
}
FLOOR: Rgb = (0.24, 0.24, 0.235)
CEILING: Rgb = (0.55, 0.63, 0.62)
TILES: dict[str, tuple[Rgb, float]] = {  # colour, gloss of the glaze
    "terracotta": ((0.34, 0.125, 0.065), 0.0),
    "green glazed": ((0.05, 0.09, 0.042), 1.0),
    "buff": ((0.60, 0.52, 0.37), 0.0),
    "grey": ((0.24, 0.23, 0.22), 0.0),
}
WALK: Rgb = (0.38, 0.35, 0.30)
LAID_BRICK: Rgb = (0.30, 0.125, 0.08)
DEFAULT_KINDS = {"wall": "stucco", "tile": "terracotta"}
KIND_NOTES = {"wall": "walls", "tile": "roof colour"}
PAINTED_NOTE = "colours"  # the note of what is painted, a line of JSON
IN_RELIEF = "in relief"  # the note of what the walls are faced with, piece by piece


def _between(share: float, a: Rgb, b: Rgb) -> Rgb:
    """The mean of b on ``share`` of a face and a on the rest."""
    x, y, z = ((1.0 - share) * p + share * q for p, q in zip(a, b, strict=True))
    return (x, y, z)


@dataclass(frozen=True)
class Finish:
    """A role's finish as a whole, for whoever draws it without grain.

    Attributes:
        name: as a builder would say it.
        colour: linear Rec. 709.
        roughness: 0 mirrors, 1 is matte.
        uneven: how far single pieces differ in brightness, as a share.
    """

    name: str
    colour: Rgb
    roughness: float = 0.9
    uneven: float = 0.0


FINISHES: dict[str, Finish] = {
    "": Finish("white paint", WHITE_PAINT, 0.5),
    "paint": Finish("white paint", WHITE_PAINT, 0.5),
    "order": Finish("white paint", WHITE_PAINT, 0.5),
    "trim": Finish("white paint", WHITE_PAINT, 0.5),
    "sash": Finish("white paint, sash", WHITE_PAINT, 0.4),
    "ceiling": Finish("ceiling paint", CEILING, 0.5),
    "floor": Finish("floor paint", FLOOR, 0.4),
    "wall/stucco": Finish("stucco", STUCCO),
    "wall/clapboard": Finish("clapboard", CLAPBOARD, 0.5),
    "wall/brick": Finish("brick wall", _between(0.15, _between(0.5, BRICK, BRICK_DARK), MORTAR)),
    "wall/limestone": Finish("limestone", LIMESTONE),
    "wall/mortar": Finish("mortar", MORTAR),
    "brick": Finish("brick", LAID_BRICK, uneven=0.28),
    "ashlar": Finish("ashlar", LIMESTONE, uneven=0.07),
    "siding": Finish("clapboard", CLAPBOARD, 0.5),
    "slate": Finish("slate", SLATE, 0.7, uneven=0.25),
    "shingle": Finish("wood shingle", SHINGLE, uneven=0.22),
    "copper": Finish("weathered copper", _between(0.4, PATINA, COPPER), 0.6),
    "shutter": Finish("shutter paint", SHUTTER, 0.4),
    "foliage": Finish("foliage", LEAVES),
    "foliage/leaves": Finish("leaves", LEAF, uneven=0.25),
    "foliage/needles": Finish("needles", NEEDLES, uneven=0.25),
    "foliage/cypress": Finish("cypress", CYPRESS, uneven=0.25),
    "foliage/fronds": Finish("fronds", FRONDS, uneven=0.2),
    "foliage/glossy": Finish("glossy leaves", GLOSSY, 0.4, uneven=0.25),
    "foliage/box": Finish("box leaves", BOX, uneven=0.25),
    "foliage/dark": Finish("hollow of foliage", HOLLOW),
    "blossom": Finish("blossom", BLOSSOM, uneven=0.2),
    "blossom/white": Finish("white blossom", PETAL),
    "earth": Finish("dug earth", EARTH),
    "paving/gravel": Finish("gravel path", GRAVEL),
    "paving/brick": Finish("laid brick", PAVING_BRICK),
    "paving/flags": Finish("flagstones", FLAGS),
    "paving/street": Finish("street", STREET),
    "kerb": Finish("stone kerb", KERB),
    "kerb/brick": Finish("brick edging", PAVING_BRICK),
    "neighbour roof": Finish("neighbour's roof", NEIGHBOUR_ROOF),
    "neighbour roof/warm": Finish("neighbour's roof", NEIGHBOUR_ROOF_WARM),
    "neighbour/trim": Finish("neighbour's trim", WHITE_PAINT, 0.5),
    **{
        f"neighbour/{kind}": Finish(f"neighbour, {kind}", colour)
        for kind, colour in NEIGHBOURS.items()
    },
    "bark": Finish("bark", BARK),
    "neighbour": Finish("neighbour", NEIGHBOUR),
    "gravel": Finish("gravel", GRAVEL),
    "stone": Finish("stone", STONE),
    "steps": Finish("stone", STONE),
    "foundation": Finish("concrete", CONCRETE),
    "foundation/brick": Finish(
        "brick foundation", _between(0.15, _between(0.5, BRICK, BRICK_DARK), MORTAR)
    ),
    "foundation/stone": Finish("stone foundation", LIMESTONE),
    "foundation/stucco": Finish("stucco foundation", STUCCO),
    "glass": Finish("window glass", GLASS, 0.1),
    "interior": Finish("dark room", INTERIOR),
    "plaster": Finish("plaster", CLAY_WHITE),
    "door": Finish("door paint", DOOR, 0.3),
    "metal": Finish("painted metal", METAL, 0.6),
    "mortar": Finish("tinted mortar", MORTAR_TINTED),
    "roofing": Finish("roofing felt", FELT),
    "grass": Finish("grass", GRASS),
    "ground": Finish("grass", GRASS),
    "grass/blades": Finish("blades of grass", GRASS, uneven=0.25),
    "walk": Finish("walk", WALK),
    "figure": Finish("figure", FIGURE),
    **{f"figure/{who}": Finish(f"figure of a {who}", tone) for who, tone in PEOPLE.items()},
    "cut": Finish("cut face", CUT),
    **{
        f"tile/{kind}": Finish(f"{kind} tile", colour, 0.9 - 0.45 * glaze, uneven=0.25)
        for kind, (colour, glaze) in TILES.items()
    },
}

CLAY_FINISHES: dict[str, Finish] = {
    "": Finish("clay", CLAY_WHITE),
    "glass": Finish("clay, glass", (0.03, 0.032, 0.035), 0.1),
    "interior": Finish("clay, dark room", INTERIOR),
    "grass": Finish("clay, ground", CLAY_GROUND),
    "ground": Finish("clay, ground", CLAY_GROUND),
    "walk": Finish("clay, walk", (0.36, 0.34, 0.31)),
    "figure": Finish("clay, figure", (0.10, 0.10, 0.10)),
    "foliage": Finish("clay, foliage", (0.38, 0.37, 0.35)),
    "bark": Finish("clay, bark", (0.38, 0.37, 0.35)),
    "neighbour": Finish("clay, neighbour", (0.50, 0.49, 0.47)),
}


def finish_of(role: str, table: Mapping[str, Finish] = FINISHES) -> Finish:
    """The finish of a full role; one not in the table takes its first step's, else the plain one.

    >>> finish_of("tile/terracotta").name, finish_of("stone/dressed").name, finish_of("?").name
    ('terracotta tile', 'stone', 'white paint')
    """
    role, colour = colour_in(role)
    key = next((k for k in (role, role.split("/")[0]) if k in table), "")
    if colour is None or table is not FINISHES:
        return table[key]
    return replace(table[key], name=f"{table[key].name}, painted", colour=colour)


def poche(role: str) -> str:
    """What a cut through a role is washed as: a key of :data:`POCHE`.

    >>> poche("wall/brick"), poche("foundation"), poche("foundation/brick"), poche("order")
    ('masonry', 'stone', 'masonry', 'timber')
    """
    for name in (role, role.split("/")[0]):
        found = next((kind for kind, roles in _CUT_AS.items() if name in roles), None)
        if found:
            return found
    return "timber"


def laid_on(colour: Rgb, role: str = "") -> Rgb:
    """A painted colour as it stands in daylight: no paint is darker than black paint. A shutter's
    is weathered, and its louvres shade themselves; its least is higher.

    >>> [round(c, 3) for c in laid_on((0.0, 0.0, 0.0))], laid_on((0.2, 0.3, 0.1))
    ([0.04, 0.04, 0.04], (0.2, 0.3, 0.1))
    """
    red, green, blue = colour
    least = BLACK_SHUTTER if role == "shutter" else BLACK_PAINT
    wanting = max(0.0, least - (0.2126 * red + 0.7152 * green + 0.0722 * blue))
    return (red + wanting, green + wanting, blue + wanting) if wanting else colour


def part_role(role: str, notes: Mapping[str, str]) -> str:
    """The full role of a part of a model with these notes, as the pictures have it.

    Behind bricks laid in relief the wall is mortar. What the house's colours paint ends in the
    colour, as ``door/#1f3a2d``.
    """
    behind = role == "wall" and notes.get(IN_RELIEF) == "brick"
    full = "wall/mortar" if behind else full_role(role, notes)
    colour = _paints(notes.get(PAINTED_NOTE, "{}")).get(full)
    return full if colour is None else f"{full}/{colour}"


@lru_cache(maxsize=64)
def _paints(note: str) -> dict[str, str]:
    """The colour that each role is painted, of a model's note."""
    said = json.loads(note)
    return {role: said[word] for word, roles in PAINTED.items() if word in said for role in roles}


def colour_in(role: str) -> tuple[str, Rgb | None]:
    """A full role without the colour it is painted, and that colour, linear, if it has one.

    >>> colour_in("door/#000000"), colour_in("tile/buff")
    (('door', (0.0, 0.0, 0.0)), ('tile/buff', None))
    """
    base, mark, hexed = role.rpartition("/#")
    return (base, linear(f"#{hexed}")) if mark else (role, None)


def full_role(role: str, notes: Mapping[str, str]) -> str:
    """The role with its kind: ``wall`` on a house whose notes say brick is ``wall/brick``."""
    if role in DEFAULT_KINDS:
        return f"{role}/{notes.get(KIND_NOTES[role], DEFAULT_KINDS[role])}"
    return role
