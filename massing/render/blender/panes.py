"""Glass, and the rooms behind it."""

from __future__ import annotations

from typing import Any

import bpy

from massing.practice.finishes import (
    BLIND,
    CLAY_WHITE,
    CURTAIN,
    GLASS,
    ROOM_BACK,
    ROOM_CEILING,
    ROOM_FLOOR,
    ROOM_SIDE,
    Rgb,
)
from massing.render.blender.nodes import Graph, Maker, room_light

GLOW = "glow"

# The index at which a single face returns the 0.08 listed for window glass, both faces of a
# pane together: ((n - 1) / (n + 1))^2 = 0.08.
PANE_IOR = 1.79

PANE_ROUGHNESS = 0.05

ROOM_HALF_M, ROOM_DEPTH_M, ROOM_FLOOR_M, ROOM_CEILING_M = 2.3, 4.6, -0.8, 2.5


def pane(colour: Rgb) -> Maker:
    """A pane of a white model: a dark room behind, the sky on its face.

    A pane square to the view would show the horizon as an edge; a little roughness blends sky
    and ground there, as the unevenness of drawn glass does.
    """

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        node = graph.node("BsdfPrincipled", Roughness=0.18, IOR=PANE_IOR)
        graph.feed(node.inputs["Base Color"], colour)
        return graph.surface(node)

    return make


def window_pane(name: str) -> bpy.types.Material:
    """A pane by day: what stands round about on its face by the angle, behind it curtains or a
    blind, each window its own, and a room with walls, floor and ceiling at their distance.

    The room is where the sight line from the eye would meet it: no room is built. It glows as
    daylight leaves it, evenly, for the sun's patches would fall on the pane.
    """
    graph = Graph(name)
    texture = graph.node("TexCoord")
    across, up = graph.split(texture.outputs["Generated"], 0, 2)
    chance = graph.chance()

    room = _room_seen(graph, texture.outputs["Object"])
    glow = graph.tree.nodes.new("ShaderNodeGroup")
    glow.node_tree = room_light()
    inside = graph.node("Emission", Strength=1.0)
    graph.feed(inside.inputs["Color"], _times(graph, room, glow.outputs[0]))

    # Curtains hang straight at the sides, each pair drawn so far; some windows have none.
    out = graph.math("MULTIPLY", graph.math("ABSOLUTE", graph.math("SUBTRACT", across, 0.5)), 2.0)
    part = graph.math("FRACT", graph.math("MULTIPLY", chance, 3.77))
    edge = graph.spread(part, 0.60, 0.84)
    hung = graph.math(
        "GREATER_THAN", graph.math("FRACT", graph.math("MULTIPLY", chance, 7.31)), 0.2
    )
    curtain = graph.math("MULTIPLY", graph.math("GREATER_THAN", out, edge), hung)
    sway = graph.math("MULTIPLY", graph.math("SINE", graph.math("MULTIPLY", up, 2.6)), 1.1)
    folds = graph.math("SINE", graph.math("ADD", graph.math("MULTIPLY", out, 58.0), sway))
    cloth = graph.brightened(CURTAIN, graph.math("ADD", 0.88, graph.math("MULTIPLY", folds, 0.11)))
    # A roller blind is drawn down so far, or not at all.
    drawn = graph.spread(graph.math("FRACT", graph.math("MULTIPLY", chance, 13.7)), 0.62, 1.25)
    blind = graph.math("GREATER_THAN", up, drawn)
    cloth = graph.mix(blind, cloth, BLIND)
    covered = graph.math("MAXIMUM", curtain, blind)
    body = graph.node("MixShader")
    graph.feed(body.inputs[0], covered)
    graph.feed(body.inputs[1], inside.outputs[0])
    # A lamp in the room shines through the cloth.
    hangs = graph.node("AddShader")
    graph.feed(hangs.inputs[0], graph.node("BsdfDiffuse", Color=cloth).outputs[0])
    through = graph.node("Emission", Strength=0.30)
    graph.feed(through.inputs["Color"], _times(graph, cloth, glow.outputs[0]))
    graph.feed(hangs.inputs[1], through.outputs[0])
    graph.feed(body.inputs[2], hangs.outputs[0])

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


def _times(
    graph: Graph, one: bpy.types.NodeSocket, other: bpy.types.NodeSocket
) -> bpy.types.NodeSocket:
    product = graph.node("Mix", data_type="RGBA", blend_type="MULTIPLY")
    graph.feed(product.inputs[0], 1.0)
    graph.feed(product.inputs[6], one)
    graph.feed(product.inputs[7], other)
    return product.outputs[2]


def _room_seen(graph: Graph, place: bpy.types.NodeSocket) -> bpy.types.NodeSocket:
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


def room(name: str) -> bpy.types.Material:
    """A plastered room in a section, with a glow of its own (the node ``GLOW``) for the camera."""
    graph = Graph(name)
    glow = graph.node("Value")
    glow.name = GLOW
    camera = graph.node("LightPath").outputs["Is Camera Ray"]
    seen = graph.math("MULTIPLY", camera, glow.outputs[0])
    both = graph.node("AddShader")
    graph.feed(both.inputs[0], graph.node("BsdfDiffuse", Color=CLAY_WHITE).outputs[0])
    graph.feed(both.inputs[1], graph.node("Emission", Color=CLAY_WHITE, Strength=seen).outputs[0])
    return graph.surface(both)
