"""Finishes of walls, roofs and paving: stucco, brick, stone, slates, tiles and gravel."""

from __future__ import annotations

import bpy

from massing.practice.finishes import (
    BRICK,
    BRICK_DARK,
    CLAPBOARD,
    COPPER,
    FELT,
    GRAVEL,
    LIMESTONE,
    MORTAR,
    PATINA,
    STUCCO,
    Rgb,
)
from massing.render.blender.nodes import INCH_M, Graph, Maker, between, times


def stucco(name: str) -> bpy.types.Material:
    graph = Graph(name)
    uneven = graph.spread(graph.noise(0.7, 4.0), 0.90, 1.06)
    grain = graph.spread(graph.noise(70.0, 1.0), 0.93, 1.07)
    colour = graph.brightened(graph.brightened(STUCCO, uneven), grain)
    return graph.matte(colour, times(STUCCO, 0.98))


def clapboard(name: str, exposure_m: float = 4.5 * INCH_M) -> bpy.types.Material:
    """Lapped boards: each slopes out to a shadow line at its butt."""
    graph = Graph(name)
    _, up = graph.on_wall()
    course = graph.math("DIVIDE", up, exposure_m)
    within = graph.math("FRACT", course)
    tilt = graph.bump(graph.math("SUBTRACT", 1.0, within), 0.5 * INCH_M)
    lap = graph.math("GREATER_THAN", within, 0.93)
    board = graph.node("TexWhiteNoise", noise_dimensions="1D")
    graph.feed(board.inputs["W"], graph.math("FLOOR", course))
    colour = graph.brightened(CLAPBOARD, graph.spread(board.outputs[0], 0.97, 1.02))
    under = times(CLAPBOARD, 0.45)
    return graph.gloss(
        graph.mix(lap, colour, under), between(0.07, CLAPBOARD, under), roughness=0.5, normal=tilt
    )


def coursed(
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
    graph = Graph(name)
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
        times(between(joints, between(0.5, first, second), joint), 0.95),
        normal=graph.bump(recess, relief_m),
    )


def brick(name: str) -> bpy.types.Material:
    """Modular brick: 8 in by 2 2/3 in with its 3/8 in joint."""
    return coursed(
        name,
        BRICK,
        BRICK_DARK,
        MORTAR,
        length_m=8.0 * INCH_M,
        course_m=8.0 / 3.0 * INCH_M,
        joint_m=0.375 * INCH_M,
        relief_m=0.006,
    )


def ashlar(name: str) -> bpy.types.Material:
    """Smooth limestone in 24 in by 12 in blocks, 3/16 in joints."""
    return coursed(
        name,
        LIMESTONE,
        (0.47, 0.42, 0.335),
        (0.36, 0.33, 0.27),
        length_m=24.0 * INCH_M,
        course_m=12.0 * INCH_M,
        joint_m=0.1875 * INCH_M,
        relief_m=0.003,
    )


def rubbed(colour: Rgb, per_metre: float = 6.0) -> Maker:
    """Dressed stone or cast concrete without joints."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        uneven = graph.spread(graph.noise(per_metre, 6.0), 0.84, 1.10)
        return graph.matte(graph.brightened(colour, uneven), times(colour, 0.97))

    return make


def laid(colour: Rgb, spread: float, *, per_metre: float = 12.0) -> Maker:
    """Bricks, slates, shingles: each its own shade of one material."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        own = graph.spread(graph.each(), 1.0 - spread, 1.0 + spread)
        mottled = graph.spread(graph.noise(per_metre, 5.0), 0.86, 1.10)
        shade = graph.brightened(graph.brightened(colour, own), mottled)
        return graph.matte(shade, times(colour, 0.98))

    return make


def courses(colour: Rgb, per_metre: float, spread: float = 0.16) -> Maker:
    """A roof or a wall afar: its courses only as a grain that goes before it could shimmer."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        stretched = graph.node("Mapping")
        graph.feed(stretched.inputs["Vector"], graph.place())
        stretched.inputs["Scale"].default_value = (1.0, 1.0, 3.0)
        grain = graph.node("TexNoise", Scale=per_metre, Detail=2.0)
        graph.feed(grain.inputs["Vector"], stretched.outputs[0])
        shade = graph.spread(grain.outputs[0], 1.0 - spread, 1.0 + spread)
        return graph.far(graph.brightened(colour, shade), colour)

    return make


def felt_shingles(name: str) -> bpy.types.Material:
    """Felt cut to shingles, in courses of 5 in on a roof of middling slope."""
    graph = Graph(name)
    along, up = graph.on_wall()
    rise = 5.0 * INCH_M * 0.55
    row = graph.math("FLOOR", graph.math("DIVIDE", up, rise))
    shift = graph.math("MULTIPLY", graph.math("FRACT", graph.math("MULTIPLY", row, 0.382)), 0.6)
    tab = graph.math("FLOOR", graph.math("DIVIDE", graph.math("ADD", along, shift), 12.0 * INCH_M))
    cell = graph.node("CombineXYZ")
    graph.feed(cell.inputs[0], row)
    graph.feed(cell.inputs[1], tab)
    chance = graph.node("TexWhiteNoise", noise_dimensions="2D")
    graph.feed(chance.inputs["Vector"], cell.outputs[0])
    own = graph.spread(chance.outputs[0], 0.74, 1.26)
    within = graph.math("FRACT", graph.math("DIVIDE", up, rise))
    butt = graph.spread(graph.math("GREATER_THAN", within, 0.14), 0.62, 1.0)
    shade = graph.brightened(graph.brightened(FELT, own), butt)
    return graph.matte(shade, times(FELT, 0.95))


def copper(name: str) -> bpy.types.Material:
    """Copper gone green, streaked."""
    graph = Graph(name)
    colour = graph.mix(graph.spread(graph.noise(3.0, 5.0), -0.2, 1.0), PATINA, COPPER)
    mean = between(0.4, PATINA, COPPER)
    return graph.gloss(colour, mean, roughness=0.6, metallic=0.15)


def tile(colour: Rgb, glaze: float) -> Maker:
    """Clay tile: each tile its own firing, a little mottled."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        fired = graph.spread(graph.each(), 0.68, 1.28)
        hue = graph.node("HueSaturation")
        other = graph.math("FRACT", graph.math("MULTIPLY", graph.each(), 37.7))
        graph.feed(hue.inputs["Hue"], graph.spread(other, 0.488, 0.512))
        graph.feed(hue.inputs["Saturation"], graph.spread(other, 1.08, 0.85))
        graph.feed(hue.inputs["Value"], fired)
        graph.feed(hue.inputs["Color"], colour)
        mottled = graph.brightened(hue.outputs[0], graph.spread(graph.noise(14.0), 0.85, 1.12))
        pale = max(colour)
        mean = times(between(0.05, colour, (pale, pale, pale)), 0.97)
        if not glaze:
            return graph.matte(mottled, mean)
        return graph.gloss(mottled, mean, roughness=0.45, coat=glaze, specular=0.25)

    return make


def gravel(name: str) -> bpy.types.Material:
    """Raked gravel: stones near the eye, worn tracks farther off."""
    graph = Graph(name)
    stones = graph.node("TexVoronoi", Scale=42.0)
    graph.feed(stones.inputs["Vector"], graph.place())
    own = graph.spread(stones.outputs["Color"], 0.70, 1.28)
    worn = graph.spread(graph.noise(0.8, 3.0), 0.88, 1.10)
    colour = graph.brightened(graph.brightened(GRAVEL, own), worn)
    return graph.far(colour, GRAVEL, normal=graph.bump(stones.outputs[0], 0.012, 0.5))


def pavers(colour: Rgb, long_m: float, wide_m: float, joint_m: float, spread: float) -> Maker:
    """Bricks or flags laid flat in running bond, across the way that a path leads."""

    def make(name: str) -> bpy.types.Material:
        graph = Graph(name)
        x, y, z = graph.split(graph.place(), 0, 1, 2)
        at = graph.node("CombineXYZ")
        graph.feed(at.inputs[0], x)
        graph.feed(at.inputs[1], graph.math("ADD", y, z))  # so that an edge has joints too
        bond = graph.node("TexBrick", offset=0.5, squash=1.0, Scale=1.0)
        for key, value in {
            "Vector": at.outputs[0],
            "Color1": times(colour, 1.0 - spread),
            "Color2": times(colour, 1.0 + spread),
            "Mortar": times(colour, 0.55),
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
        return graph.far(shade, times(colour, 0.94), normal=graph.bump(sunk, 0.004))

    return make
