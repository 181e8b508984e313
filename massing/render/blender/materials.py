"""The looks: which material each role of a part gets.

``clay`` is a matte white model on a mid grey ground with dark panes; ``materials`` is paint,
masonry, tile and glass, drawn by rule at true scale, with seeded variation. Base colours are
linear Rec. 709; where a visible reflectance is published the colour keeps to it, and the hue
is a choice.

Grain shows to the camera alone. Every other ray meets the mean of a finish, matte: the picture
looks the same and is made faster.

A role may name its kind after a slash (``wall/brick``, ``tile/green glazed``); a plain ``wall``
or ``tile`` takes the kind from the model's notes ``walls`` and ``roof colour``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import bpy

from massing.practice.finishes import (
    BARK,
    BLOSSOM,
    BOX,
    CEILING,
    CLAPBOARD,
    CLAY_GROUND,
    CLAY_WHITE,
    CONCRETE,
    CUT,
    CYPRESS,
    DOOR,
    EARTH,
    FIGURE,
    FLAGS,
    FLOOR,
    FRONDS,
    GLOSSY,
    GRAVEL,
    HOLLOW,
    INTERIOR,
    KERB,
    LAID_BRICK,
    LEAF,
    LIMESTONE,
    METAL,
    MORTAR,
    MORTAR_TINTED,
    NEEDLES,
    NEIGHBOUR,
    NEIGHBOUR_ROOF,
    NEIGHBOUR_ROOF_WARM,
    NEIGHBOURS,
    PAVING_BRICK,
    PEOPLE,
    PETAL,
    SHINGLE,
    SHUTTER,
    SLATE,
    STONE,
    STREET,
    TILES,
    WALK,
    WHITE_PAINT,
    colour_in,
    laid_on,
    part_role,
)
from massing.render.blender.masonry import (
    ashlar,
    brick,
    clapboard,
    copper,
    courses,
    felt_shingles,
    gravel,
    laid,
    pavers,
    rubbed,
    stucco,
    tile,
)
from massing.render.blender.nodes import INCH_M, Maker, matte, painted, weather
from massing.render.blender.objects import PART, ROLE
from massing.render.blender.panes import pane, room, window_pane
from massing.render.blender.plants import bark, blades, far, grass, leaf, leaves

CLAY: dict[str, Maker] = {
    "": matte(CLAY_WHITE),
    "glass": pane((0.03, 0.032, 0.035)),
    "interior": matte(INTERIOR),
    "grass": far(CLAY_GROUND),
    "ground": far(CLAY_GROUND),
    "walk": matte((0.36, 0.34, 0.31)),
    "figure": matte((0.10, 0.10, 0.10)),
    **{f"figure/{who}": matte((0.16, 0.155, 0.15)) for who in PEOPLE},
    "foliage": matte((0.38, 0.37, 0.35)),
    "bark": matte((0.38, 0.37, 0.35)),
    "neighbour": matte((0.50, 0.49, 0.47)),
    "plaster": room,
    "cut": matte(CUT),
}

MATERIALS: dict[str, Maker] = {
    "": painted(WHITE_PAINT),
    "paint": painted(WHITE_PAINT),
    "order": painted(WHITE_PAINT),
    "trim": painted(WHITE_PAINT),
    "sash": painted(WHITE_PAINT, 0.35),
    "ceiling": painted(CEILING),
    "floor": painted(FLOOR, 0.4),
    "wall/stucco": stucco,
    "wall/clapboard": clapboard,
    "wall/brick": brick,
    "wall/limestone": ashlar,
    "wall/mortar": rubbed(MORTAR, 10.0),  # behind bricks laid in relief
    "brick": laid(LAID_BRICK, 0.28),
    "ashlar": laid(LIMESTONE, 0.07, per_metre=5.0),
    "siding": painted(CLAPBOARD),
    "slate": laid(SLATE, 0.25, per_metre=6.0),
    "shingle": laid(SHINGLE, 0.22),
    "copper": copper,
    "shutter": painted(laid_on(SHUTTER, "shutter"), 0.35),
    "foliage": leaves,
    "foliage/leaves": leaf(LEAF),
    "foliage/needles": leaf(NEEDLES, 0.25),
    "foliage/cypress": leaf(CYPRESS, 0.2),
    "foliage/fronds": leaf(FRONDS, 0.4, 0.2),
    "foliage/glossy": leaf(GLOSSY, 0.2),
    "foliage/box": leaf(BOX, 0.35),
    "foliage/dark": matte(HOLLOW),
    "blossom": leaf(BLOSSOM, 0.4, 0.2),
    "blossom/white": leaf(PETAL, 0.3, 0.05),
    "earth": rubbed(EARTH, 14.0),
    "paving/gravel": gravel,
    "paving/brick": pavers(PAVING_BRICK, 8.0 * INCH_M, 4.0 * INCH_M, 0.25 * INCH_M, 0.3),
    "paving/flags": pavers(FLAGS, 30.0 * INCH_M, 22.0 * INCH_M, 0.5 * INCH_M, 0.12),
    "paving/street": courses(STREET, 9.0, 0.10),
    "kerb": rubbed(KERB, 5.0),
    "kerb/brick": rubbed(PAVING_BRICK, 9.0),
    "bark": bark(BARK),
    "bark/palm": bark((0.22, 0.185, 0.14)),
    "neighbour": far(NEIGHBOUR),
    "neighbour/trim": far(WHITE_PAINT),
    "neighbour roof": courses(NEIGHBOUR_ROOF, 5.0),
    "neighbour roof/warm": courses(NEIGHBOUR_ROOF_WARM, 5.0),
    **{
        f"neighbour/{kind}": courses(colour, 7.0, 0.07 if kind != "brick" else 0.2)
        for kind, colour in NEIGHBOURS.items()
    },
    "gravel": rubbed(GRAVEL, 60.0),
    "stone": rubbed(STONE),
    "steps": rubbed(STONE),
    "foundation": rubbed(CONCRETE, 3.0),
    "foundation/brick": brick,
    "foundation/stone": ashlar,
    "foundation/stucco": stucco,
    "glass": window_pane,
    "interior": matte(INTERIOR),
    "plaster": room,
    "door": painted(DOOR, 0.25),
    "metal": matte(METAL),  # painted: bare it would mirror a low sun, which no exposure holds
    "mortar": rubbed(MORTAR_TINTED, 10.0),
    "roofing": felt_shingles,
    "grass": grass,
    "ground": grass,
    "grass/blades": blades,
    "walk": rubbed(WALK, 10.0),
    "figure": matte(FIGURE),
    **{f"figure/{who}": matte(tone) for who, tone in PEOPLE.items()},
    "cut": matte(CUT),
    **{f"tile/{kind}": tile(*values) for kind, values in TILES.items()},
}

# Stops added to the hour's exposure: a model all of white wants less light than painted wood
# among brick and grass. The same for every alternative and hour.
LOOK_EXPOSURE = {"clay": 0.2, "materials": 0.0, "drawn": -0.1}

# What is to be drawn stands in Blender as a clay model.
LOOK_TABLES: dict[str, dict[str, Maker]] = {"clay": CLAY, "materials": MATERIALS, "drawn": CLAY}

_ROUGH = ("wall", "brick", "ashlar", "mortar", "stone", "steps", "foundation")  # when painted too


def material_for(look: str, role: str, *, weathered: bool = False) -> bpy.types.Material:
    """The material of a role in a look, made on first use.

    A role not in the look's table takes its first step, else the look's plain finish.
    """
    table = LOOK_TABLES[look]
    role, colour = colour_in(role)
    if colour is not None and look == "materials":
        name = f"{look} {role} {' '.join(f'{c:.4f}' for c in colour)}"
        rough = role.split("/")[0] in _ROUGH
        shown = laid_on(colour, role)
        make = rubbed(shown, 3.0) if rough else painted(shown, 0.4)
        return _made(name, make, weathered)
    key = next((k for k in (role, role.split("/")[0]) if k in table), "")
    name = f"{look} {key or 'plain'}"
    return _made(name, table[key], weathered and look == "materials")


def _made(name: str, make: Maker, weathered: bool) -> bpy.types.Material:
    name += " weathered" if weathered else ""
    standing = bpy.data.materials.get(name)
    if standing is not None:
        return standing
    with weather(weathered):
        return make(name)


def apply_look(
    objects: Iterable[bpy.types.Object],
    look: str,
    notes: Mapping[str, str],
    *,
    opened: bool = False,
    weathered: bool = False,
) -> None:
    """Give every built object its material; meshes stay as they are.

    With ``opened``, in a section, rooms are plastered instead of dark. Behind bricks laid in
    relief the wall is mortar. ``weathered`` tells on the building alone.
    """
    for made in objects:
        role = part_role(made[ROLE], notes)
        outdoors = weathered and not str(made.get(PART, "")).startswith("setting/")
        shown = "plaster" if opened and role == "interior" else role
        material = material_for(look, shown, weathered=outdoors)
        slots = made.data.materials
        if len(slots):
            slots[0] = material
        else:
            slots.append(material)
