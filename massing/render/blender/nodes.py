"""A material's nodes under construction, and the finishes that have no pattern."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import bpy

from massing.practice.finishes import Rgb
from massing.render.blender.objects import CHANCE

INCH_M = 0.0254
# How far a weathered finish goes to the colour of dirt, in streaks, where it lies open, by the
# ground: choices, by eye.
WEATHER_STREAKS, WEATHER_OPEN, WEATHER_SPLASH = 0.09, 0.26, 0.32
WEATHER_RGB: Rgb = (0.115, 0.11, 0.085)


class Graph:
    """A material's nodes under construction; see :func:`weather`."""

    weathers = False

    def __init__(self, name: str) -> None:
        self.material = bpy.data.materials.new(name)
        if self.material.node_tree is None:
            self.material.use_nodes = True
        self.tree = self.material.node_tree
        self.tree.nodes.clear()

    @classmethod
    def of(cls, tree: bpy.types.NodeTree) -> Graph:
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

    def chance(self) -> bpy.types.NodeSocket:
        """A steady random number, 0 to 1, for each part and each of its copies.

        It comes of the part's own key and of where the copy stands. Blender's own random number
        comes of the object's name in Blender, which is another after another design was built.
        """
        own = self.node("Attribute", attribute_type="OBJECT", attribute_name=CHANCE)
        stand = self.node("VectorMath", operation="SNAP")
        self.feed(stand.inputs[0], self.node("ObjectInfo").outputs["Location"])
        stand.inputs[1].default_value = (0.01, 0.01, 0.01)
        made = self.node("TexWhiteNoise", noise_dimensions="4D")
        self.feed(made.inputs["Vector"], stand.outputs[0])
        self.feed(made.inputs["W"], own.outputs["Fac"])
        return made.outputs[0]

    def each(self) -> bpy.types.NodeSocket:
        """A steady random number, 0 to 1, for each copy of a part and each body of its mesh."""
        copy = self.chance()
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

    def aged(self, colour: Any) -> Any:
        """A finish's colour some years old, where the house is to look weathered; else as given.

        Rain streaks what is upright, dirt lies on what is open to the sky, earth splashes what is
        near the ground.
        """
        if not self.weathers:
            return colour
        geometry = self.node("NewGeometry")
        stretched = self.node("Mapping")
        self.feed(stretched.inputs["Vector"], geometry.outputs["Position"])
        stretched.inputs["Scale"].default_value = (4.5, 4.5, 0.22)
        streaks = self.node("TexNoise", Scale=1.0, Detail=5.0)
        self.feed(streaks.inputs["Vector"], stretched.outputs[0])
        ran = self._over(streaks.outputs[0], (0.47, 0.72), WEATHER_STREAKS)
        clouds = self.node("TexNoise", Scale=0.9, Detail=4.0)
        self.feed(clouds.inputs["Vector"], geometry.outputs["Position"])
        uneven = self._over(clouds.outputs[0], (0.3, 0.7), 1.0)
        up = self.split(geometry.outputs["True Normal"], 2)[0]
        lain = self.math("MULTIPLY", self._over(up, (0.35, 0.95), WEATHER_OPEN), uneven)
        z = self.split(geometry.outputs["Position"], 2)[0]
        near = self.math("SUBTRACT", 1.0, self._over(z, (0.05, 0.9), 1.0))
        splashed = self.math("MULTIPLY", self.math("MULTIPLY", near, uneven), WEATHER_SPLASH)
        worst = self.math("MAXIMUM", self.math("MAXIMUM", ran, lain), splashed)
        return self.mix(worst, colour, WEATHER_RGB)

    def _over(self, value: Any, between_: tuple[float, float], most: float) -> Any:
        """Nothing below a range of a value, ``most`` above it, smoothly."""
        node = self.node("MapRange", interpolation_type="SMOOTHSTEP", clamp=True)
        self.feed(node.inputs["Value"], value)
        for key, number in zip(
            ("From Min", "From Max", "To Min", "To Max"), (*between_, 0.0, most), strict=True
        ):
            self.feed(node.inputs[key], number)
        return node.outputs[0]

    def matte(self, colour: Any, mean: Rgb, *, normal: Any = None) -> bpy.types.Material:
        """A finish without gloss. ``mean`` is its colour as a whole."""
        node = self.node("BsdfDiffuse", Color=self.aged(colour))
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
        self.feed(node.inputs["Base Color"], self.aged(colour))
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


Maker = Callable[[str], bpy.types.Material]


@contextmanager
def weather(weathered: bool) -> Iterator[None]:
    """Finishes made meanwhile look weathered, or do not."""
    Graph.weathers, before = weathered, Graph.weathers
    try:
        yield
    finally:
        Graph.weathers = before


def times(colour: Rgb, gain: float) -> Rgb:
    return (gain * colour[0], gain * colour[1], gain * colour[2])


def between(share: float, a: Rgb, b: Rgb) -> Rgb:
    """The mean of b on ``share`` of a face and a on the rest."""
    rest = times(a, 1.0 - share)
    return (rest[0] + share * b[0], rest[1] + share * b[1], rest[2] + share * b[2])


def matte(colour: Rgb) -> Maker:
    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        return graph.surface(graph.node("BsdfDiffuse", Color=colour))

    return make


def painted(colour: Rgb, roughness: float = 0.45) -> Maker:
    """Painted wood: even, with the faintest unevenness of brush and weather."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        uneven = graph.spread(graph.noise(1.5), 0.96, 1.02)
        return graph.gloss(graph.brightened(colour, uneven), colour, roughness=roughness)

    return make


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
    graph = Graph.of(tree)
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


ROOM_LIGHT = "massing room light"
LAMPLIGHT_RGB = (1.0, 0.62, 0.30)  # about 2,700 K beside a white of daylight


def room_light() -> bpy.types.NodeTree:
    """The light in rooms: as foliage shines by day, and that of lamps; colour and strength.

    Its node ``lamps`` says how strongly they are lit: not at all until it is set.
    """
    tree = bpy.data.node_groups.get(ROOM_LIGHT)
    if tree is not None:
        return tree
    tree = bpy.data.node_groups.new(ROOM_LIGHT, "ShaderNodeTree")
    tree.interface.new_socket("Light", in_out="OUTPUT", socket_type="NodeSocketColor")
    graph = Graph.of(tree)
    day = tree.nodes.new("ShaderNodeGroup")
    day.node_tree = foliage_glow()
    lamps = graph.node("Value")
    lamps.name, lamps.outputs[0].default_value = "lamps", 0.0
    lit = []
    for part in LAMPLIGHT_RGB:
        lit.append(
            graph.math("ADD", day.outputs[0], graph.math("MULTIPLY", lamps.outputs[0], part))
        )
    colour = graph.node("CombineColor")
    for socket, value in zip(colour.inputs, lit, strict=True):
        graph.feed(socket, value)
    out = tree.nodes.new("NodeGroupOutput")
    tree.links.new(colour.outputs[0], out.inputs[0])
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
