"""Finishes of what grows, and of what stands far off."""

from __future__ import annotations

import bpy

from massing.practice.finishes import GRASS, LEAVES, Rgb
from massing.render.blender.nodes import Graph, Maker, foliage_glow, times


def leaves(name: str) -> bpy.types.Material:
    """A clipped or natural mass of leaves, dark in its hollows."""
    graph = Graph(name)
    clumps = graph.spread(graph.noise(2.0, 5.0), 0.65, 1.25)
    leaves = graph.noise(22.0, 4.0)
    colour = graph.brightened(graph.brightened(LEAVES, clumps), graph.spread(leaves, 0.55, 1.3))
    return graph.matte(colour, times(LEAVES, 0.88), normal=graph.bump(leaves, 0.06))


def leaf(colour: Rgb, through: float = 0.45, spread: float = 0.3) -> Maker:
    """Leaves, through which the sun shines, every few of their own green; grey with distance.

    What light other than the camera's meets them ends there, in the glow of foliage by day: in
    a crown it would go on from leaf to leaf, and take more time than the house.
    """

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        cells = graph.node("VectorMath", operation="SNAP")
        graph.feed(cells.inputs[0], graph.place())
        cells.inputs[1].default_value = (0.17, 0.17, 0.17)
        chance = graph.node("TexWhiteNoise", noise_dimensions="3D")
        graph.feed(chance.inputs["Vector"], cells.outputs[0])
        own = graph.node("HueSaturation")
        graph.feed(own.inputs["Value"], graph.spread(chance.outputs[0], 1.0 - spread, 1.0 + spread))
        other = graph.chance()
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


def far(colour: Rgb, spread: float = 0.0) -> Maker:
    """What stands in the distance, even but for single pieces."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        if not spread:
            return graph.far(colour, colour)
        own = graph.spread(graph.each(), 1.0 - spread, 1.0 + spread)
        return graph.far(graph.brightened(colour, own), colour)

    return make


def bark(colour: Rgb) -> Maker:
    """Bark: furrows up the trunk."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        stretched = graph.node("Mapping")
        graph.feed(stretched.inputs["Vector"], graph.place())
        stretched.inputs["Scale"].default_value = (1.0, 1.0, 0.22)
        furrow = graph.node("TexNoise", Scale=16.0, Detail=4.0)
        graph.feed(furrow.inputs["Vector"], stretched.outputs[0])
        shade = graph.spread(furrow.outputs[0], 0.5, 1.45)
        relief = graph.bump(furrow.outputs[0], 0.03, 0.6)
        return graph.far(graph.brightened(colour, shade), colour, normal=relief)

    return make


def grass(name: str) -> bpy.types.Material:
    """A lawn: broad patches, the mower's drift, tufts, and near the eye the blades' own grain.

    Each grain goes where it would be finer than a pixel; far off there is the meadow's tone, paler
    and drier the flatter it is looked along.
    """
    graph = Graph(name)
    away = graph.node("CameraData").outputs["View Distance"]
    blades = graph.noise(55.0, 2.0)
    tufts = graph.noise(6.0, 2.0)
    near = _ranged(graph, away, (6.0, 26.0), (1.0, 0.0))
    fine = graph.mix(near, (1.0, 1.0, 1.0), graph.spread(blades, 0.35, 1.65))
    colour = graph.brightened(_lawn(graph, graph.place()), graph.spread(tufts, 0.75, 1.25))
    colour = graph.mix(_ranged(graph, away, (14.0, 90.0), (0.0, 0.62)), colour, _FAR_GRASS)
    both = graph.node("Mix", data_type="RGBA", blend_type="MULTIPLY")
    graph.feed(both.inputs[0], 1.0)
    graph.feed(both.inputs[6], colour)
    graph.feed(both.inputs[7], fine)
    relief = graph.math("MULTIPLY", near, graph.math("ADD", blades, tufts))
    return graph.far(both.outputs[2], _GRASS_BOUNCE, normal=graph.bump(relief, 0.02, 0.7))


def blades(name: str) -> bpy.types.Material:
    """Blades of the same lawn: dark at the foot, each patch a little its own, lit through."""
    graph = Graph(name)
    geometry = graph.node("NewGeometry")
    up = graph.split(graph.node("TexCoord").outputs["Generated"], 2)[0]
    rise = _ranged(graph, up, (0.0, 0.9), (1.15, 2.3))
    own = graph.spread(geometry.outputs["Random Per Island"], 0.82, 1.2)
    gain = graph.math("MULTIPLY", rise, own)
    colour = graph.brightened(_lawn(graph, geometry.outputs["Position"]), gain)
    lit = graph.node("BsdfDiffuse", Color=colour)
    through = graph.node("BsdfTranslucent", Color=graph.mix(0.4, colour, _DRY_GRASS))
    mix = graph.node("MixShader")
    graph.feed(mix.inputs[0], 0.45)
    graph.feed(mix.inputs[1], lit.outputs[0])
    graph.feed(mix.inputs[2], through.outputs[0])
    return graph.surface(mix)


def _lawn(graph: Graph, place: bpy.types.NodeSocket) -> bpy.types.NodeSocket:
    """A lawn's colour in patches, at a place of the ground."""

    def noise(per_metre: float, detail: float) -> bpy.types.NodeSocket:
        node = graph.node("TexNoise", Scale=per_metre, Detail=detail)
        graph.feed(node.inputs["Vector"], place)
        return node.outputs[0]

    patches = graph.spread(noise(0.22, 3.0), 0.68, 1.32)
    drift = graph.spread(noise(0.06, 2.0), 0.78, 1.22)
    colour = graph.brightened(graph.brightened(GRASS, patches), drift)
    dry = graph.spread(noise(0.5, 3.0), -0.9, 1.35)
    return graph.mix(graph.math("MAXIMUM", dry, 0.0), colour, _DRY_GRASS)


def _ranged(
    graph: Graph, value: bpy.types.NodeSocket, over: tuple[float, float], to: tuple[float, float]
) -> bpy.types.NodeSocket:
    node = graph.node("MapRange", clamp=True)
    graph.feed(node.inputs["Value"], value)
    for key, number in zip(("From Min", "From Max", "To Min", "To Max"), (*over, *to), strict=True):
        graph.feed(node.inputs[key], number)
    return node.outputs[0]


# As bright as the lawn and half as green: the eye takes the green of a lawn's light on white paint
# away, and a picture's white balance does not.
_GRASS_BOUNCE: Rgb = (0.109, 0.1248, 0.0812)

_DRY_GRASS: Rgb = (0.150, 0.160, 0.062)
_FAR_GRASS: Rgb = (0.135, 0.165, 0.068)
