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
    BLIND,
    BLOSSOM,
    BOX,
    BRICK,
    BRICK_DARK,
    CEILING,
    CLAPBOARD,
    CLAY_GROUND,
    CLAY_WHITE,
    CONCRETE,
    COPPER,
    CURTAIN,
    CUT,
    CYPRESS,
    DOOR,
    EARTH,
    FELT,
    FIGURE,
    FLAGS,
    FLOOR,
    FRONDS,
    GLASS,
    GLOSSY,
    GRASS,
    GRAVEL,
    HOLLOW,
    INTERIOR,
    KERB,
    LAID_BRICK,
    LEAF,
    LEAVES,
    LIMESTONE,
    METAL,
    MORTAR,
    MORTAR_TINTED,
    NEEDLES,
    NEIGHBOUR,
    NEIGHBOUR_ROOF,
    NEIGHBOUR_ROOF_WARM,
    NEIGHBOURS,
    PATINA,
    PAVING_BRICK,
    PEOPLE,
    PETAL,
    ROOM_BACK,
    ROOM_CEILING,
    ROOM_FLOOR,
    ROOM_SIDE,
    SHINGLE,
    SHUTTER,
    SLATE,
    STONE,
    STREET,
    STUCCO,
    TILES,
    WALK,
    WHITE_PAINT,
    Rgb,
    colour_in,
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

    @classmethod
    def of(cls, tree: bpy.types.NodeTree) -> _Graph:
        """The same for the nodes of a group, which is no material."""
        graph = cls.__new__(cls)
        graph.tree = tree
        return graph

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

    def split(self, vector: Any, *axes: int) -> list[bpy.types.NodeSocket]:
        """Some of a vector's three parts."""
        node = self.node("SeparateXYZ")
        self.feed(node.inputs[0], vector)
        return [node.outputs[axis] for axis in axes]

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

    def far(self, colour: Any, mean: Rgb, *, normal: Any = None) -> bpy.types.Material:
        """A matte finish that fades into the sky at the horizon with its distance from the eye."""
        node = self.node("BsdfDiffuse", Color=colour)
        if normal is not None:
            self.feed(node.inputs["Normal"], normal)
        return self._seen(self.hazed(node), mean)

    def hazed(self, finish: bpy.types.Node) -> bpy.types.Node:
        """A finish seen through the air before it."""
        air = self.tree.nodes.new("ShaderNodeGroup")
        air.node_tree = haze()
        self.material.cycles.emission_sampling = "NONE"
        mix = self.node("MixShader")
        self.feed(mix.inputs[0], air.outputs["Share"])
        self.feed(mix.inputs[1], finish.outputs[0])
        self.feed(mix.inputs[2], air.outputs["Air"])
        return mix

    def _seen(self, finish: bpy.types.Node, mean: Rgb) -> bpy.types.Material:
        """The finish for the camera, its mean for every other ray."""
        mix = self.node("MixShader")
        mix.name = "seen"
        self.feed(mix.inputs[0], self.node("LightPath").outputs["Is Camera Ray"])
        self.feed(mix.inputs[1], self.node("BsdfDiffuse", Color=mean).outputs[0])
        self.feed(mix.inputs[2], finish.outputs[0])
        return self.surface(mix)

    def surface(self, node: bpy.types.Node) -> bpy.types.Material:
        output = self.node("OutputMaterial")
        self.tree.links.new(node.outputs[0], output.inputs["Surface"])
        return self.material


HAZE = "massing haze"
HAZE_FROM_M, HAZE_OVER_M = 45.0, 1300.0  # clear so far; then the air takes 1 - 1/e
HAZE_COLOURS = ("under the sun", "beside the sun", "opposite")


def haze() -> bpy.types.NodeTree:
    """The air between the eye and what is far: the sky at the horizon behind it, and its share.

    Its nodes ``sun``, ``strength``, ``density`` and :data:`HAZE_COLOURS` are set with the light;
    until then there is none. A sky of its own in every material would cost more than a house.
    """
    tree = bpy.data.node_groups.get(HAZE)
    if tree is not None:
        return tree
    tree = bpy.data.node_groups.new(HAZE, "ShaderNodeTree")
    tree.interface.new_socket("Air", in_out="OUTPUT", socket_type="NodeSocketShader")
    tree.interface.new_socket("Share", in_out="OUTPUT", socket_type="NodeSocketFloat")
    graph = _Graph.of(tree)
    sun = graph.node("CombineXYZ")
    sun.name = "sun"
    towards = graph.node("VectorMath", operation="DOT_PRODUCT")
    graph.feed(towards.inputs[0], graph.node("NewGeometry").outputs["Incoming"])
    graph.feed(towards.inputs[1], sun.outputs[0])
    away_from = towards.outputs["Value"]  # the way to the eye: 1 where the sun is behind the eye
    under = graph.math(
        "POWER", graph.math("MAXIMUM", graph.math("MULTIPLY", away_from, -1.0), 0.0), 6.0
    )
    opposite = graph.math("POWER", graph.math("MAXIMUM", away_from, 0.0), 2.0)
    colours = []
    for name in HAZE_COLOURS:
        colour = graph.node("RGB")
        colour.name = name
        colours.append(colour.outputs[0])
    sky = graph.mix(under, graph.mix(opposite, colours[1], colours[2]), colours[0])
    strength, density = graph.node("Value"), graph.node("Value")
    strength.name, density.name = "strength", "density"
    strength.outputs[0].default_value = density.outputs[0].default_value = 0.0
    air = graph.node("Emission", Color=sky, Strength=strength.outputs[0])
    away = graph.node("CameraData").outputs["View Distance"]
    over = graph.math("MAXIMUM", graph.math("SUBTRACT", away, HAZE_FROM_M), 0.0)
    power = graph.math("MULTIPLY", over, graph.math("MULTIPLY", density.outputs[0], -1.0))
    out = tree.nodes.new("NodeGroupOutput")
    tree.links.new(air.outputs[0], out.inputs["Air"])
    share = graph.math("SUBTRACT", 1.0, graph.math("EXPONENT", power))
    tree.links.new(share, out.inputs["Share"])
    return tree


FOLIAGE_GLOW = "massing foliage glow"


def foliage_glow() -> bpy.types.NodeTree:
    """How strongly foliage as a whole shines back, for its colour 1; its value is set with the
    light, and is nothing until then."""
    tree = bpy.data.node_groups.get(FOLIAGE_GLOW)
    if tree is None:
        tree = bpy.data.node_groups.new(FOLIAGE_GLOW, "ShaderNodeTree")
        tree.interface.new_socket("Strength", in_out="OUTPUT", socket_type="NodeSocketFloat")
        value, out = tree.nodes.new("ShaderNodeValue"), tree.nodes.new("NodeGroupOutput")
        value.name, value.outputs[0].default_value = "strength", 0.0
        tree.links.new(value.outputs[0], out.inputs[0])
    return tree


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


def _leaf(colour: Rgb, through: float = 0.45, spread: float = 0.3) -> Maker:
    """Leaves, through which the sun shines, every few of their own green; grey with distance.

    What light other than the camera's meets them ends there, in the glow of foliage by day: in
    a crown it would go on from leaf to leaf, and take more time than the house.
    """

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        cells = graph.node("VectorMath", operation="SNAP")
        graph.feed(cells.inputs[0], graph.place())
        cells.inputs[1].default_value = (0.17, 0.17, 0.17)
        chance = graph.node("TexWhiteNoise", noise_dimensions="3D")
        graph.feed(chance.inputs["Vector"], cells.outputs[0])
        own = graph.node("HueSaturation")
        graph.feed(own.inputs["Value"], graph.spread(chance.outputs[0], 1.0 - spread, 1.0 + spread))
        other = graph.node("ObjectInfo").outputs["Random"]
        graph.feed(own.inputs["Hue"], graph.spread(other, 0.487, 0.510))
        graph.feed(own.inputs["Color"], colour)
        mix = graph.node("MixShader")
        graph.feed(mix.inputs[0], through)
        lit = graph.node("BsdfDiffuse", Color=own.outputs[0])
        graph.feed(mix.inputs[1], lit.outputs[0])
        warm = graph.mix(0.5, own.outputs[0], (1.25 * colour[0], 1.2 * colour[1], 0.6 * colour[2]))
        graph.feed(mix.inputs[2], graph.node("BsdfTranslucent", Color=warm).outputs[0])
        seen = graph.node("MixShader")
        seen.name = "seen"
        graph.feed(seen.inputs[0], graph.node("LightPath").outputs["Is Camera Ray"])
        glow = graph.tree.nodes.new("ShaderNodeGroup")
        glow.node_tree = foliage_glow()
        shine = graph.node("Emission", Color=colour)
        graph.feed(shine.inputs["Strength"], glow.outputs[0])
        graph.feed(seen.inputs[1], shine.outputs[0])
        graph.feed(seen.inputs[2], graph.hazed(mix).outputs[0])
        return graph.surface(seen)

    return make


def _far(colour: Rgb, spread: float = 0.0) -> Maker:
    """What stands in the distance, even but for single pieces."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        if not spread:
            return graph.far(colour, colour)
        own = graph.spread(graph.each(), 1.0 - spread, 1.0 + spread)
        return graph.far(graph.brightened(colour, own), colour)

    return make


def _courses(colour: Rgb, per_metre: float, spread: float = 0.16) -> Maker:
    """A roof or a wall afar: its courses only as a grain that goes before it could shimmer."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        stretched = graph.node("Mapping")
        graph.feed(stretched.inputs["Vector"], graph.place())
        stretched.inputs["Scale"].default_value = (1.0, 1.0, 3.0)
        grain = graph.node("TexNoise", Scale=per_metre, Detail=2.0)
        graph.feed(grain.inputs["Vector"], stretched.outputs[0])
        shade = graph.spread(grain.outputs[0], 1.0 - spread, 1.0 + spread)
        return graph.far(graph.brightened(colour, shade), colour)

    return make


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


PANE_ROUGHNESS = 0.05
ROOM_HALF_M, ROOM_DEPTH_M, ROOM_FLOOR_M, ROOM_CEILING_M = 2.3, 4.6, -0.8, 2.5


def _pane(colour: Rgb) -> Maker:
    """A pane of a white model: a dark room behind, the sky on its face.

    A pane square to the view would show the horizon as an edge; a little roughness blends sky
    and ground there, as the unevenness of drawn glass does.
    """

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        node = graph.node("BsdfPrincipled", Roughness=0.18, IOR=PANE_IOR)
        graph.feed(node.inputs["Base Color"], colour)
        return graph.surface(node)

    return make


def _window_pane(name: str) -> bpy.types.Material:
    """A pane by day: what stands round about on its face by the angle, behind it curtains or a
    blind, each window its own, and a room with walls, floor and ceiling at their distance.

    The room is where the sight line from the eye would meet it: no room is built. It glows as
    daylight leaves it, evenly, for the sun's patches would fall on the pane.
    """
    graph = _Graph(name)
    texture = graph.node("TexCoord")
    across, up = graph.split(texture.outputs["Generated"], 0, 2)
    chance = graph.node("ObjectInfo").outputs["Random"]

    room = _room_seen(graph, texture.outputs["Object"])
    glow = graph.tree.nodes.new("ShaderNodeGroup")
    glow.node_tree = foliage_glow()
    inside = graph.node("Emission", Color=room)
    graph.feed(inside.inputs["Strength"], glow.outputs[0])

    # Curtains hang from the head and are held back at a third of the height.
    out = graph.math("MULTIPLY", graph.math("ABSOLUTE", graph.math("SUBTRACT", across, 0.5)), 2.0)
    tied = graph.math("ABSOLUTE", graph.math("SUBTRACT", up, 0.34))
    edge = graph.math("SUBTRACT", 0.84, graph.math("MULTIPLY", tied, 0.42))
    hung = graph.math(
        "GREATER_THAN", graph.math("FRACT", graph.math("MULTIPLY", chance, 7.31)), 0.2
    )
    curtain = graph.math("MULTIPLY", graph.math("GREATER_THAN", out, edge), hung)
    folds = graph.math("SINE", graph.math("MULTIPLY", out, 44.0))
    cloth = graph.brightened(CURTAIN, graph.math("ADD", 0.86, graph.math("MULTIPLY", folds, 0.13)))
    # A roller blind is drawn down so far, or not at all.
    drawn = graph.spread(graph.math("FRACT", graph.math("MULTIPLY", chance, 13.7)), 0.62, 1.25)
    blind = graph.math("GREATER_THAN", up, drawn)
    cloth = graph.mix(blind, cloth, BLIND)
    covered = graph.math("MAXIMUM", curtain, blind)
    body = graph.node("MixShader")
    graph.feed(body.inputs[0], covered)
    graph.feed(body.inputs[1], inside.outputs[0])
    graph.feed(body.inputs[2], graph.node("BsdfDiffuse", Color=cloth).outputs[0])

    wave = graph.node("TexNoise", Scale=1.1, Detail=1.0)
    graph.feed(wave.inputs["Vector"], texture.outputs["Object"])
    ripple = graph.bump(wave.outputs[0], 0.012, 0.35)
    mirror = graph.node("BsdfGlossy", Roughness=PANE_ROUGHNESS)
    graph.feed(mirror.inputs["Normal"], ripple)
    share = graph.node("Fresnel", IOR=PANE_IOR)
    both = graph.node("MixShader")
    graph.feed(both.inputs[0], share.outputs[0])
    graph.feed(both.inputs[1], body.outputs[0])
    graph.feed(both.inputs[2], mirror.outputs[0])
    graph.material.cycles.emission_sampling = "NONE"
    return graph._seen(both, GLASS)


def _room_seen(graph: _Graph, place: bpy.types.NodeSocket) -> bpy.types.NodeSocket:
    """The colour of a room's far wall, side, floor or ceiling, whichever the sight line meets."""
    turned = graph.node("VectorTransform", vector_type="VECTOR")
    turned.convert_from, turned.convert_to = "WORLD", "OBJECT"
    graph.feed(turned.inputs[0], graph.node("NewGeometry").outputs["Incoming"])
    vx, vy, vz = (graph.math("MULTIPLY", v, -1.0) for v in graph.split(turned.outputs[0], 0, 1, 2))
    x, z = graph.split(place, 0, 2)

    def reach(at: Any, way: Any, low: float, high: float) -> bpy.types.NodeSocket:
        """How far along the sight line the nearer of two walls is that it goes towards."""
        ahead = graph.math("GREATER_THAN", way, 0.0)
        wall = graph.math("ADD", low, graph.math("MULTIPLY", ahead, high - low))
        speed = graph.math("MAXIMUM", graph.math("ABSOLUTE", way), 1e-4)
        gap = graph.math("ABSOLUTE", graph.math("SUBTRACT", wall, at))
        return graph.math("DIVIDE", gap, speed)

    back = graph.math(
        "DIVIDE", ROOM_DEPTH_M, graph.math("MAXIMUM", graph.math("ABSOLUTE", vy), 1e-4)
    )
    side = reach(x, vx, -ROOM_HALF_M, ROOM_HALF_M)
    level = reach(z, vz, ROOM_FLOOR_M, ROOM_CEILING_M)
    first = graph.math("MINIMUM", back, graph.math("MINIMUM", side, level))
    is_side = graph.math("LESS_THAN", side, graph.math("MINIMUM", back, level))
    is_level = graph.math("LESS_THAN", level, graph.math("MINIMUM", back, side))
    looks_up = graph.math("GREATER_THAN", vz, 0.0)
    flat = graph.mix(looks_up, ROOM_FLOOR, ROOM_CEILING)
    colour = graph.mix(is_level, graph.mix(is_side, ROOM_BACK, ROOM_SIDE), flat)
    depth = graph.math("MULTIPLY", first, graph.math("ABSOLUTE", vy))
    fading = graph.math("EXPONENT", graph.math("MULTIPLY", depth, -0.30))
    return graph.brightened(colour, fading)


def _bark(colour: Rgb) -> Maker:
    """Bark: furrows up the trunk."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        stretched = graph.node("Mapping")
        graph.feed(stretched.inputs["Vector"], graph.place())
        stretched.inputs["Scale"].default_value = (1.0, 1.0, 0.22)
        furrow = graph.node("TexNoise", Scale=16.0, Detail=4.0)
        graph.feed(furrow.inputs["Vector"], stretched.outputs[0])
        shade = graph.spread(furrow.outputs[0], 0.5, 1.45)
        relief = graph.bump(furrow.outputs[0], 0.03, 0.6)
        return graph.far(graph.brightened(colour, shade), colour, normal=relief)

    return make


def _gravel(name: str) -> bpy.types.Material:
    """Raked gravel: stones near the eye, worn tracks farther off."""
    graph = _Graph(name)
    stones = graph.node("TexVoronoi", Scale=42.0)
    graph.feed(stones.inputs["Vector"], graph.place())
    own = graph.spread(stones.outputs["Color"], 0.70, 1.28)
    worn = graph.spread(graph.noise(0.8, 3.0), 0.88, 1.10)
    colour = graph.brightened(graph.brightened(GRAVEL, own), worn)
    return graph.far(colour, GRAVEL, normal=graph.bump(stones.outputs[0], 0.012, 0.5))


def _pavers(colour: Rgb, long_m: float, wide_m: float, joint_m: float, spread: float) -> Maker:
    """Bricks or flags laid flat in running bond, across the way that a path leads."""

    def make(name: str) -> bpy.types.Material:
        graph = _Graph(name)
        x, y, z = graph.split(graph.place(), 0, 1, 2)
        at = graph.node("CombineXYZ")
        graph.feed(at.inputs[0], x)
        graph.feed(at.inputs[1], graph.math("ADD", y, z))  # so that an edge has joints too
        bond = graph.node("TexBrick", offset=0.5, squash=1.0, Scale=1.0)
        for key, value in {
            "Vector": at.outputs[0],
            "Color1": _times(colour, 1.0 - spread),
            "Color2": _times(colour, 1.0 + spread),
            "Mortar": _times(colour, 0.55),
            "Mortar Size": joint_m / 2.0,
            "Mortar Smooth": 0.2,
            "Bias": 0.0,
            "Brick Width": long_m,
            "Row Height": wide_m,
        }.items():
            graph.feed(bond.inputs[key], value)
        worn = graph.spread(graph.noise(1.3, 4.0), 0.82, 1.14)
        grain = graph.spread(graph.noise(30.0, 2.0), 0.9, 1.08)
        shade = graph.brightened(graph.brightened(bond.outputs[0], worn), grain)
        sunk = graph.math("SUBTRACT", 1.0, bond.outputs[1])
        return graph.far(shade, _times(colour, 0.94), normal=graph.bump(sunk, 0.004))

    return make


def _grass(name: str) -> bpy.types.Material:
    """A lawn: broad patches, the mower's drift, tufts, and near the eye the blades' own grain.

    Each grain goes where it would be finer than a pixel; far off there is the meadow's tone.
    """
    graph = _Graph(name)
    away = graph.node("CameraData").outputs["View Distance"]
    patches = graph.spread(graph.noise(0.22, 3.0), 0.50, 1.50)
    drift = graph.spread(graph.noise(0.06, 2.0), 0.65, 1.35)
    tufts = graph.noise(6.0, 2.0)
    blades = graph.noise(55.0, 2.0)
    near = graph.node("MapRange", clamp=True)
    graph.feed(near.inputs["Value"], away)
    for key, value in {"From Min": 6.0, "From Max": 26.0, "To Min": 1.0, "To Max": 0.0}.items():
        graph.feed(near.inputs[key], value)
    fine = graph.mix(near.outputs[0], (1.0, 1.0, 1.0), graph.spread(blades, 0.2, 1.8))
    colour = graph.brightened(graph.brightened(GRASS, patches), drift)
    colour = graph.brightened(colour, graph.spread(tufts, 0.6, 1.4))
    dry = graph.spread(graph.noise(0.5, 3.0), -1.1, 1.25)
    colour = graph.mix(graph.math("MAXIMUM", dry, 0.0), colour, _DRY_GRASS)
    both = graph.node("Mix", data_type="RGBA", blend_type="MULTIPLY")
    graph.feed(both.inputs[0], 1.0)
    graph.feed(both.inputs[6], colour)
    graph.feed(both.inputs[7], fine)
    relief = graph.math("MULTIPLY", near.outputs[0], graph.math("ADD", blades, tufts))
    return graph.far(both.outputs[2], _GRASS_BOUNCE, normal=graph.bump(relief, 0.02, 0.7))


# As bright as the lawn and half as green: the eye takes the green of a lawn's light on white paint
# away, and a picture's white balance does not.
_GRASS_BOUNCE: Rgb = (0.100, 0.1145, 0.0745)
_DRY_GRASS: Rgb = (0.13, 0.155, 0.05)


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
    "grass": _far(CLAY_GROUND),
    "ground": _far(CLAY_GROUND),
    "walk": _matte((0.36, 0.34, 0.31)),
    "figure": _matte((0.10, 0.10, 0.10)),
    **{f"figure/{who}": _matte((0.16, 0.155, 0.15)) for who in PEOPLE},
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
    "foliage/leaves": _leaf(LEAF),
    "foliage/needles": _leaf(NEEDLES, 0.25),
    "foliage/cypress": _leaf(CYPRESS, 0.2),
    "foliage/fronds": _leaf(FRONDS, 0.4, 0.2),
    "foliage/glossy": _leaf(GLOSSY, 0.2),
    "foliage/box": _leaf(BOX, 0.35),
    "foliage/dark": _matte(HOLLOW),
    "blossom": _leaf(BLOSSOM, 0.4, 0.2),
    "blossom/white": _leaf(PETAL, 0.3, 0.05),
    "earth": _rubbed(EARTH, 14.0),
    "paving/gravel": _gravel,
    "paving/brick": _pavers(PAVING_BRICK, 8.0 * INCH_M, 4.0 * INCH_M, 0.25 * INCH_M, 0.3),
    "paving/flags": _pavers(FLAGS, 30.0 * INCH_M, 22.0 * INCH_M, 0.5 * INCH_M, 0.12),
    "paving/street": _courses(STREET, 9.0, 0.10),
    "kerb": _rubbed(KERB, 5.0),
    "kerb/brick": _rubbed(PAVING_BRICK, 9.0),
    "bark": _bark(BARK),
    "bark/palm": _bark((0.22, 0.185, 0.14)),
    "neighbour": _far(NEIGHBOUR),
    "neighbour/trim": _far(WHITE_PAINT),
    "neighbour roof": _courses(NEIGHBOUR_ROOF, 5.0),
    "neighbour roof/warm": _courses(NEIGHBOUR_ROOF_WARM, 5.0),
    **{
        f"neighbour/{kind}": _courses(colour, 7.0, 0.07 if kind != "brick" else 0.2)
        for kind, colour in NEIGHBOURS.items()
    },
    "gravel": _rubbed(GRAVEL, 60.0),
    "stone": _rubbed(STONE),
    "steps": _rubbed(STONE),
    "foundation": _rubbed(CONCRETE, 3.0),
    "foundation/brick": _brick,
    "foundation/stone": _ashlar,
    "foundation/stucco": _stucco,
    "glass": _window_pane,
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
    **{f"figure/{who}": _matte(tone) for who, tone in PEOPLE.items()},
    "cut": _matte(CUT),
    **{f"tile/{kind}": _tile(*values) for kind, values in TILES.items()},
}

# Stops added to the hour's exposure: a model all of white wants less light than painted wood
# among brick and grass. The same for every alternative and hour.
LOOK_EXPOSURE = {"clay": 0.2, "materials": 0.0, "drawn": -0.1}

# What is to be drawn stands in Blender as a clay model.
LOOK_TABLES: dict[str, dict[str, Maker]] = {"clay": CLAY, "materials": MATERIALS, "drawn": CLAY}


_ROUGH = ("wall", "brick", "ashlar", "mortar", "stone", "steps", "foundation")  # when painted too


def material_for(look: str, role: str) -> bpy.types.Material:
    """The material of a role in a look, made on first use.

    A role not in the look's table takes its first step, else the look's plain finish.
    """
    table = LOOK_TABLES[look]
    role, colour = colour_in(role)
    if colour is not None and look == "materials":
        name = f"{look} {role} {' '.join(f'{c:.4f}' for c in colour)}"
        rough = role.split("/")[0] in _ROUGH
        make = _rubbed(colour, 3.0) if rough else _painted(colour, 0.4)
        return bpy.data.materials.get(name) or make(name)
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
