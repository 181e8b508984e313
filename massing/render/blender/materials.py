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

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import bpy

from massing.practice.finishes import (
    BARK,
    BRICK,
    BRICK_DARK,
    CEILING,
    CLAPBOARD,
    CLAY_GROUND,
    CLAY_WHITE,
    CONCRETE,
    COPPER,
    CUT,
    DOOR,
    FELT,
    FIGURE,
    FLOOR,
    GLASS,
    GRASS,
    GRAVEL,
    INTERIOR,
    LAID_BRICK,
    LEAF,
    LEAVES,
    LIMESTONE,
    METAL,
    MORTAR,
    MORTAR_TINTED,
    NEIGHBOUR,
    PATINA,
    SHINGLE,
    SHUTTER,
    SLATE,
    STONE,
    STUCCO,
    TILES,
    WALK,
    WHITE_PAINT,
    Rgb,
    part_role,
)
from massing.render.blender.objects import ROLE

GLOW = "glow"

INCH_M = 0.0254


class _Graph:
    """A material's nodes under construction."""

    def __init__(self, name: str) -> None:
        self.material = bpy.data.materials.new(name)
        if self.material.node_tree is None:
            self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.tree.nodes.clear()

    def node(self, kind: str, **values: Any) -> bpy.types.Node:
        """A node; ``values`` are its properties, or its inputs by name (value or socket)."""
        node = self.tree.nodes.new("ShaderNode" + kind)
        properties = {k: v for k, v in values.items() if k in node.bl_rna.properties}
        for key, value in properties.items():
            setattr(node, key, value)
        for key, value in values.items():
            if key not in properties:
                self.feed(node.inputs[key.replace("_", " ")], value)
        return node

    def feed(self, socket: bpy.types.NodeSocket, value: Any) -> None:
        if isinstance(value, bpy.types.NodeSocket):
            self.tree.links.new(value, socket)
        elif isinstance(value, tuple) and len(value) == 3 and socket.type == "RGBA":
            socket.default_value = (*value, 1.0)
        else:
            socket.default_value = value

    def math(self, operation: str, a: Any, b: Any = 0.0) -> bpy.types.NodeSocket:
        node = self.node("Math", operation=operation)
        self.feed(node.inputs[0], a)
        self.feed(node.inputs[1], b)
        return node.outputs[0]

    def mix(self, factor: Any, a: Any, b: Any) -> bpy.types.NodeSocket:
        """A colour between a and b."""
        node = self.node("Mix", data_type="RGBA")
        self.feed(node.inputs[0], factor)
        self.feed(node.inputs[6], a)
        self.feed(node.inputs[7], b)
        return node.outputs[2]

    def spread(self, value: Any, low: float, high: float) -> bpy.types.NodeSocket:
        """A value of 0 to 1 laid over low to high."""
        node = self.node("MapRange", clamp=True)
        self.feed(node.inputs["Value"], value)
        self.feed(node.inputs["To Min"], low)
        self.feed(node.inputs["To Max"], high)
        return node.outputs[0]

    def brightened(self, colour: Any, gain: Any) -> bpy.types.NodeSocket:
        node = self.node("HueSaturation")
        self.feed(node.inputs["Value"], gain)
        self.feed(node.inputs["Color"], colour)
        return node.outputs[0]

    def place(self) -> bpy.types.NodeSocket:
        """Position in metres in the part's own frame."""
        return self.node("TexCoord").outputs["Object"]

    def noise(self, per_metre: float, detail: float = 4.0) -> bpy.types.NodeSocket:
        node = self.node("TexNoise", Scale=per_metre, Detail=detail)
        self.feed(node.inputs["Vector"], self.place())
        return node.outputs[0]

    def each(self) -> bpy.types.NodeSocket:
        """A steady random number, 0 to 1, for each copy of a part and each body of its mesh."""
        copy = self.node("ObjectInfo").outputs["Random"]
        body = self.node("NewGeometry").outputs["Random Per Island"]
        return self.math("FRACT", self.math("ADD", copy, body))

    def on_wall(self) -> tuple[bpy.types.NodeSocket, bpy.types.NodeSocket]:
        """(along, up) in metres on an upright face, whichever way it looks."""
        at = self.node("SeparateXYZ")
        self.feed(at.inputs[0], self.place())
        normal = self.node("SeparateXYZ")
        self.feed(normal.inputs[0], self.node("NewGeometry").outputs["True Normal"])
        sideways = self.math(
            "GREATER_THAN",
            self.math("ABSOLUTE", normal.outputs[0]),
            self.math("ABSOLUTE", normal.outputs[1]),
        )
        x, y = at.outputs[0], at.outputs[1]
        along = self.math(
            "ADD",
            self.math("MULTIPLY", x, self.math("SUBTRACT", 1.0, sideways)),
            self.math("MULTIPLY", y, sideways),
        )
        return along, at.outputs[2]

    def bump(self, height: Any, depth_m: float, strength: float = 1.0) -> bpy.types.NodeSocket:
        node = self.node("Bump", Strength=strength, Distance=depth_m)
        self.feed(node.inputs["Height"], height)
        return node.outputs[0]

    def matte(self, colour: Any, mean: Rgb, *, normal: Any = None) -> bpy.types.Material:
        """A finish without gloss. ``mean`` is its colour as a whole."""
        node = self.node("BsdfDiffuse", Color=colour)
        if normal is not None:
            self.feed(node.inputs["Normal"], normal)
        return self._seen(node, mean)

    def gloss(
        self,
        colour: Any,
        mean: Rgb,
        *,
        roughness: float,
        normal: Any = None,
        coat: float = 0.0,
        metallic: float = 0.0,
        specular: float = 0.35,
    ) -> bpy.types.Material:
        """A finish that shines, more or less. ``mean`` is its colour as a whole."""
        node = self.node("BsdfPrincipled", Roughness=roughness, Metallic=metallic)
        self.feed(node.inputs["Base Color"], colour)
        self.feed(node.inputs["Specular IOR Level"], specular)
        self.feed(node.inputs["Coat Weight"], coat)
        self.feed(node.inputs["Coat Roughness"], 0.12)
        if normal is not None:
            self.feed(node.inputs["Normal"], normal)
        return self._seen(node, mean)

    def _seen(self, finish: bpy.types.Node, mean: Rgb) -> bpy.types.Material:
        """The finish for the camera, its mean for every other ray."""
        mix = self.node("MixShader")
        self.feed(mix.inputs[0], self.node("LightPath").outputs["Is Camera Ray"])
        self.feed(mix.inputs[1], self.node("BsdfDiffuse", Color=mean).outputs[0])
        self.feed(mix.inputs[2], finish.outputs[0])
        return self.surface(mix)

    def surface(self, node: bpy.types.Node) -> bpy.types.Material:
        output = self.node("OutputMaterial")
        self.tree.links.new(node.outputs[0], output.inputs["Surface"])
        return self.material


Maker = Callable[[str], bpy.types.Material]


def _times(colour: Rgb, gain: float) -> Rgb:
    return (gain * colour[0], gain * colour[1], gain * colour[2])


def _between(share: float, a: Rgb, b: Rgb) -> Rgb:
    """The mean of b on ``share`` of a face and a on the rest."""
    rest = _times(a, 1.0 - share)
    return (rest[0] + share * b[0], rest[1] + share * b[1], rest[2] + share * b[2])


def _matte(colour: Rgb) -> Maker:
    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        return graph.surface(graph.node("BsdfDiffuse", Color=colour))

    return make


def _painted(colour: Rgb, roughness: float = 0.45) -> Maker:
    """Painted wood: even, with the faintest unevenness of brush and weather."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        uneven = graph.spread(graph.noise(1.5), 0.96, 1.02)
        return graph.gloss(graph.brightened(colour, uneven), colour, roughness=roughness)

    return make


def _stucco(name: str) -> bpy.types.Material:
    graph = _Graph(name)
    uneven = graph.spread(graph.noise(0.7, 4.0), 0.90, 1.06)
    grain = graph.spread(graph.noise(70.0, 1.0), 0.93, 1.07)
    colour = graph.brightened(graph.brightened(STUCCO, uneven), grain)
    return graph.matte(colour, _times(STUCCO, 0.98))


def _clapboard(name: str, exposure_m: float = 4.5 * INCH_M) -> bpy.types.Material:
    """Lapped boards: each slopes out to a shadow line at its butt."""
    graph = _Graph(name)
    _, up = graph.on_wall()
    course = graph.math("DIVIDE", up, exposure_m)
    within = graph.math("FRACT", course)
    tilt = graph.bump(graph.math("SUBTRACT", 1.0, within), 0.5 * INCH_M)
    lap = graph.math("GREATER_THAN", within, 0.93)
    board = graph.node("TexWhiteNoise", noise_dimensions="1D")
    graph.feed(board.inputs["W"], graph.math("FLOOR", course))
    colour = graph.brightened(CLAPBOARD, graph.spread(board.outputs[0], 0.97, 1.02))
    under = _times(CLAPBOARD, 0.45)
    return graph.gloss(
        graph.mix(lap, colour, under), _between(0.07, CLAPBOARD, under), roughness=0.5, normal=tilt
    )


def _coursed(
    name: str,
    first: Rgb,
    second: Rgb,
    joint: Rgb,
    *,
    length_m: float,
    course_m: float,
    joint_m: float,
    relief_m: float,
) -> bpy.types.Material:
    """Masonry in running bond; ``length_m`` and ``course_m`` include one joint."""
    graph = _Graph(name)
    along, up = graph.on_wall()
    at = graph.node("CombineXYZ")
    graph.feed(at.inputs[0], along)
    graph.feed(at.inputs[1], up)
    bond = graph.node("TexBrick", offset=0.5, squash=1.0, Scale=1.0)
    for key, value in {
        "Vector": at.outputs[0],
        "Color1": first,
        "Color2": second,
        "Mortar": joint,
        "Mortar Size": joint_m / 2.0,
        "Mortar Smooth": 0.1,
        "Bias": 0.0,
        "Brick Width": length_m,
        "Row Height": course_m,
    }.items():
        graph.feed(bond.inputs[key], value)
    grain = graph.spread(graph.noise(25.0), 0.88, 1.08)
    recess = graph.math("SUBTRACT", 1.0, bond.outputs[1])
    # Joints are soft at their edges, and what is bent there is a little darker.
    joints = 0.85 * (1.0 - (1.0 - joint_m / length_m) * (1.0 - joint_m / course_m))
    return graph.matte(
        graph.brightened(bond.outputs[0], grain),
        _times(_between(joints, _between(0.5, first, second), joint), 0.95),
        normal=graph.bump(recess, relief_m),
    )


def _brick(name: str) -> bpy.types.Material:
    """Modular brick: 8 in by 2 2/3 in with its 3/8 in joint."""
    return _coursed(
        name,
        BRICK,
        BRICK_DARK,
        MORTAR,
        length_m=8.0 * INCH_M,
        course_m=8.0 / 3.0 * INCH_M,
        joint_m=0.375 * INCH_M,
        relief_m=0.006,
    )


def _ashlar(name: str) -> bpy.types.Material:
    """Smooth limestone in 24 in by 12 in blocks, 3/16 in joints."""
    return _coursed(
        name,
        LIMESTONE,
        (0.47, 0.42, 0.335),
        (0.36, 0.33, 0.27),
        length_m=24.0 * INCH_M,
        course_m=12.0 * INCH_M,
        joint_m=0.1875 * INCH_M,
        relief_m=0.003,
    )


def _rubbed(colour: Rgb, per_metre: float = 6.0) -> Maker:
    """Dressed stone or cast concrete without joints."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        uneven = graph.spread(graph.noise(per_metre, 6.0), 0.84, 1.10)
        return graph.matte(graph.brightened(colour, uneven), _times(colour, 0.97))

    return make


def _laid(colour: Rgb, spread: float, *, per_metre: float = 12.0) -> Maker:
    """Bricks, slates, shingles: each its own shade of one material."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        own = graph.spread(graph.each(), 1.0 - spread, 1.0 + spread)
        mottled = graph.spread(graph.noise(per_metre, 5.0), 0.86, 1.10)
        shade = graph.brightened(graph.brightened(colour, own), mottled)
        return graph.matte(shade, _times(colour, 0.98))

    return make


def _leaves(name: str) -> bpy.types.Material:
    """A clipped or natural mass of leaves, dark in its hollows."""
    graph = _Graph(name)
    clumps = graph.spread(graph.noise(2.0, 5.0), 0.65, 1.25)
    leaves = graph.noise(22.0, 4.0)
    colour = graph.brightened(graph.brightened(LEAVES, clumps), graph.spread(leaves, 0.55, 1.3))
    return graph.matte(colour, _times(LEAVES, 0.88), normal=graph.bump(leaves, 0.06))


def _leaf(name: str) -> bpy.types.Material:
    """Single leaves, through which the sun shines."""
    graph = _Graph(name)
    colour = graph.brightened(LEAF, graph.spread(graph.each(), 0.65, 1.25))
    mix = graph.node("MixShader")
    graph.feed(mix.inputs[0], 0.4)
    for socket, kind in zip(mix.inputs[1:], ("BsdfDiffuse", "BsdfTranslucent"), strict=True):
        graph.feed(socket, graph.node(kind, Color=colour).outputs[0])
    return graph.surface(mix)


def _copper(name: str) -> bpy.types.Material:
    """Copper gone green, streaked."""
    graph = _Graph(name)
    colour = graph.mix(graph.spread(graph.noise(3.0, 5.0), -0.2, 1.0), PATINA, COPPER)
    mean = _between(0.4, PATINA, COPPER)
    return graph.gloss(colour, mean, roughness=0.6, metallic=0.15)


def _tile(colour: Rgb, glaze: float) -> Maker:
    """Clay tile: each tile its own firing, a little mottled."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        fired = graph.spread(graph.each(), 0.68, 1.28)
        hue = graph.node("HueSaturation")
        other = graph.math("FRACT", graph.math("MULTIPLY", graph.each(), 37.7))
        graph.feed(hue.inputs["Hue"], graph.spread(other, 0.488, 0.512))
        graph.feed(hue.inputs["Saturation"], graph.spread(other, 1.08, 0.85))
        graph.feed(hue.inputs["Value"], fired)
        graph.feed(hue.inputs["Color"], colour)
        mottled = graph.brightened(hue.outputs[0], graph.spread(graph.noise(14.0), 0.85, 1.12))
        pale = max(colour)
        mean = _times(_between(0.05, colour, (pale, pale, pale)), 0.97)
        if not glaze:
            return graph.matte(mottled, mean)
        return graph.gloss(mottled, mean, roughness=0.45, coat=glaze, specular=0.25)

    return make


# The index at which a single face returns the 0.08 listed for window glass, both faces of a
# pane together: ((n - 1) / (n + 1))^2 = 0.08.
PANE_IOR = 1.79


def _pane(colour: Rgb) -> Maker:
    """A pane seen from outside by day: a dark room behind, the sky on its face.

    A pane square to the view would show the horizon as an edge; a little roughness blends sky
    and ground there, as the unevenness of drawn glass does.
    """

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        node = graph.node("BsdfPrincipled", Roughness=0.18, IOR=PANE_IOR)
        graph.feed(node.inputs["Base Color"], colour)
        return graph.surface(node)

    return make


def _grass(name: str) -> bpy.types.Material:
    """Grass in patches and tufts; finer than a tuft would only be noise in the picture."""
    graph = _Graph(name)
    patches = graph.spread(graph.noise(0.35, 3.0), 0.75, 1.2)
    tufts = graph.noise(9.0, 1.0)
    colour = graph.brightened(graph.brightened(GRASS, patches), graph.spread(tufts, 0.80, 1.18))
    return graph.matte(colour, _times(GRASS, 0.965))


def _room(name: str) -> bpy.types.Material:
    """A plastered room in a section, with a glow of its own (the node ``GLOW``) for the camera."""
    graph = _Graph(name)
    glow = graph.node("Value")
    glow.name = GLOW
    camera = graph.node("LightPath").outputs["Is Camera Ray"]
    seen = graph.math("MULTIPLY", camera, glow.outputs[0])
    both = graph.node("AddShader")
    graph.feed(both.inputs[0], graph.node("BsdfDiffuse", Color=CLAY_WHITE).outputs[0])
    graph.feed(both.inputs[1], graph.node("Emission", Color=CLAY_WHITE, Strength=seen).outputs[0])
    return graph.surface(both)


CLAY: dict[str, Maker] = {
    "": _matte(CLAY_WHITE),
    "glass": _pane((0.03, 0.032, 0.035)),
    "interior": _matte(INTERIOR),
    "grass": _matte(CLAY_GROUND),
    "ground": _matte(CLAY_GROUND),
    "walk": _matte((0.36, 0.34, 0.31)),
    "figure": _matte((0.10, 0.10, 0.10)),
    "foliage": _matte((0.38, 0.37, 0.35)),
    "bark": _matte((0.38, 0.37, 0.35)),
    "neighbour": _matte((0.50, 0.49, 0.47)),
    "plaster": _room,
    "cut": _matte(CUT),
}

MATERIALS: dict[str, Maker] = {
    "": _painted(WHITE_PAINT),
    "paint": _painted(WHITE_PAINT),
    "order": _painted(WHITE_PAINT),
    "trim": _painted(WHITE_PAINT),
    "sash": _painted(WHITE_PAINT, 0.35),
    "ceiling": _painted(CEILING),
    "floor": _painted(FLOOR, 0.4),
    "wall/stucco": _stucco,
    "wall/clapboard": _clapboard,
    "wall/brick": _brick,
    "wall/limestone": _ashlar,
    "wall/mortar": _rubbed(MORTAR, 10.0),  # behind bricks laid in relief
    "brick": _laid(LAID_BRICK, 0.28),
    "ashlar": _laid(LIMESTONE, 0.07, per_metre=5.0),
    "siding": _painted(CLAPBOARD),
    "slate": _laid(SLATE, 0.25, per_metre=6.0),
    "shingle": _laid(SHINGLE, 0.22),
    "copper": _copper,
    "shutter": _painted(SHUTTER, 0.35),
    "foliage": _leaves,
    "foliage/leaves": _leaf,
    "bark": _rubbed(BARK, 8.0),
    "neighbour": _rubbed(NEIGHBOUR, 0.5),
    "gravel": _rubbed(GRAVEL, 60.0),
    "stone": _rubbed(STONE),
    "steps": _rubbed(STONE),
    "foundation": _rubbed(CONCRETE, 3.0),
    "foundation/brick": _brick,
    "foundation/stone": _ashlar,
    "foundation/stucco": _stucco,
    "glass": _pane(GLASS),
    "interior": _matte(INTERIOR),
    "plaster": _room,
    "door": _painted(DOOR, 0.25),
    "metal": _matte(METAL),  # painted: bare it would mirror a low sun, which no exposure holds
    "mortar": _rubbed(MORTAR_TINTED, 10.0),
    "roofing": _rubbed(FELT, 2.0),
    "grass": _grass,
    "ground": _grass,
    "walk": _rubbed(WALK, 10.0),
    "figure": _matte(FIGURE),
    "cut": _matte(CUT),
    **{f"tile/{kind}": _tile(*values) for kind, values in TILES.items()},
}

# Stops added to the hour's exposure: a model all of white wants less light than painted wood
# among brick and grass. The same for every alternative and hour.
LOOK_EXPOSURE = {"clay": -0.1, "materials": 0.0, "drawn": -0.1}

# What is to be drawn stands in Blender as a clay model.
LOOK_TABLES: dict[str, dict[str, Maker]] = {"clay": CLAY, "materials": MATERIALS, "drawn": CLAY}


def material_for(look: str, role: str) -> bpy.types.Material:
    """The material of a role in a look, made on first use.

    A role not in the look's table takes its first step, else the look's plain finish.
    """
    table = LOOK_TABLES[look]
    key = next((k for k in (role, role.split("/")[0]) if k in table), "")
    name = f"{look} {key or 'plain'}"
    return bpy.data.materials.get(name) or table[key](name)


def apply_look(
    objects: Iterable[bpy.types.Object],
    look: str,
    notes: Mapping[str, str],
    *,
    opened: bool = False,
) -> None:
    """Give every built object its material; meshes stay as they are.

    With ``opened``, in a section, rooms are plastered instead of dark. Behind bricks laid in
    relief the wall is mortar.
    """
    for made in objects:
        role = part_role(made[ROLE], notes)
        material = material_for(look, "plaster" if opened and role == "interior" else role)
        slots = made.data.materials
        if len(slots):
            slots[0] = material
        else:
            slots.append(material)
