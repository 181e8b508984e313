"""Sizes and the shadow's edge drawn over the 3D view.

What is drawn where is :mod:`massing.edit.over`'s.
"""

from __future__ import annotations

import contextlib
from collections.abc import Sequence

import blf
import bpy
import gpu
from bpy_extras.view3d_utils import location_3d_to_region_2d
from gpu_extras.batch import batch_for_shader
from mathutils import Vector

_INK = (0.05, 0.05, 0.05, 1.0)
_PAPER = (1.0, 1.0, 1.0, 0.85)
_SHADE = (0.80, 0.25, 0.05, 1.0)
_POINTS = 11  # of the words, before the interface's scale

_handlers: list[object] = []
told: dict[str, tuple[Vector, str]] = {}  # a size while its line is dragged, by what drags it


def _open(context: bpy.types.Context) -> bpy.types.PropertyGroup | None:
    state = context.scene.massing
    shown = state.is_open and context.space_data.overlay.show_overlays
    return state if shown and (state.sizes_over or state.shadow_over or told) else None


def _lines(state: bpy.types.PropertyGroup) -> tuple[list, list]:
    """Lines ``(points, colour)`` and words ``(place, text)`` to be drawn."""
    from massing.edit.over import shadow_lines, size_lines
    from massing.scene.errors import SceneError

    from . import session

    lines: list = []
    words: list = [(place, text) for place, text in told.values()]  # the first have room first
    with contextlib.suppress(SceneError):
        if state.shadow_over:
            for shadow in shadow_lines(session.shown_design(state), session.shown_sun(state)):
                end = shadow.points[0]
                top = (end[0], end[1], shadow.from_z_m)
                lines += [([*shadow.points], _SHADE), ([top, end], _SHADE)]
                words.append((Vector(end), f"{shadow.text}  {shadow.words}"))
        if state.sizes_over:
            for size in reversed(size_lines(session.shown_design(state))):
                lines.append(([*size.line], _INK))
                lines += [([end, at], _INK) for end, at in zip(size.ends, size.line, strict=True)]
                words.append((Vector((size.line[0] + size.line[1]) / 2.0), size.text))
    return lines, words


def _draw_lines() -> None:
    context = bpy.context
    state = _open(context)
    if state is None:
        return
    shader = gpu.shader.from_builtin("UNIFORM_COLOR")
    gpu.state.blend_set("ALPHA")
    gpu.state.line_width_set(1.5)
    for points, colour in _lines(state)[0]:
        shader.uniform_float("color", colour)
        batch_for_shader(shader, "LINES", {"pos": [tuple(p) for p in points]}).draw(shader)
    gpu.state.line_width_set(1.0)
    gpu.state.blend_set("NONE")


def _draw_words() -> None:
    context = bpy.context
    state = _open(context)
    if state is None:
        return
    scale = context.preferences.system.ui_scale
    blf.size(0, _POINTS * scale)
    taken: list[tuple[float, float, float, float]] = []
    for place, text in _lines(state)[1]:
        at = location_3d_to_region_2d(context.region, context.region_data, place)
        if at is None:
            continue
        wide, high = blf.dimensions(0, text)
        box = (at.x - wide / 2.0, at.y - high / 2.0, at.x + wide / 2.0, at.y + high / 2.0)
        if any(_meet(box, other) for other in taken):
            continue  # two sizes over each other tell neither; nearer to, both have room
        taken.append(box)
        _paper(box, 3.0 * scale)
        blf.color(0, *_INK)
        blf.position(0, box[0], box[1], 0.0)
        blf.draw(0, text)


def _meet(a: Sequence[float], b: Sequence[float]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _paper(box: Sequence[float], margin: float) -> None:
    x0, y0, x1, y1 = box[0] - margin, box[1] - margin, box[2] + margin, box[3] + margin
    shader = gpu.shader.from_builtin("UNIFORM_COLOR")
    gpu.state.blend_set("ALPHA")
    shader.uniform_float("color", _PAPER)
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y0), (x1, y1), (x0, y1)]
    batch_for_shader(shader, "TRIS", {"pos": corners}).draw(shader)
    gpu.state.blend_set("NONE")


def register() -> None:
    """Begin to draw; nothing is drawn until it is asked for."""
    add = bpy.types.SpaceView3D.draw_handler_add
    _handlers.append(add(_draw_lines, (), "WINDOW", "POST_VIEW"))
    _handlers.append(add(_draw_words, (), "WINDOW", "POST_PIXEL"))


def unregister() -> None:
    """End it."""
    while _handlers:
        bpy.types.SpaceView3D.draw_handler_remove(_handlers.pop(), "WINDOW")
    told.clear()
