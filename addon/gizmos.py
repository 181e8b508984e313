"""Arrows in the 3D view by which lines of the front are dragged; see :mod:`massing.edit.handles`.

While the hand moves, its new size is written beside the line and a light model follows; when it
rests the whole one does. Letting go is one step of undo, the right button or Escape gives back what
was.
"""

from __future__ import annotations

import contextlib
import time
from typing import Any, ClassVar

import bpy
from bpy_extras.view3d_utils import (
    location_3d_to_region_2d,
    region_2d_to_location_3d,
    region_2d_to_origin_3d,
    region_2d_to_vector_3d,
)
from mathutils import Matrix, Vector

from massing.scene.errors import SceneError

from . import over

_FOLLOWS_S, _RESTS_S = 0.02, 0.25
_WAYS = {"x": Vector((1, 0, 0)), "y": Vector((0, -1, 0)), "z": Vector((0, 0, 1))}
# A double arrow along z, of triangles, about the origin: tip, foot and half width of a head.
_TIP, _FOOT, _WIDE, _STEM = 1.0, 0.4, 0.3, 0.08


def _arrow() -> list[tuple[float, float, float]]:
    corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)]
    points = []
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        for up in (1.0, -1.0):
            foot, tip = up * _FOOT, (0.0, 0.0, up * _TIP)
            points += [(_WIDE * x0, _WIDE * y0, foot), (_WIDE * x1, _WIDE * y1, foot), tip]
        low, high = (_STEM * x0, _STEM * y0, -_FOOT), (_STEM * x1, _STEM * y1, _FOOT)
        points += [low, (_STEM * x1, _STEM * y1, -_FOOT), high]
        points += [low, high, (_STEM * x0, _STEM * y0, _FOOT)]
    return points


class MASSING_GT_line(bpy.types.Gizmo):
    """An arrow on a line of the front; dragged, it changes the field that the line is"""

    bl_idname = "MASSING_GT_line"

    __slots__ = ("before", "by_m", "handle", "place", "shape", "start_m", "words")

    def setup(self) -> None:
        """Blender's call when it is made."""
        self.shape = self.new_custom_shape("TRIS", _arrow())
        self.by_m, self.words, self.before, self.handle = 0.0, "", None, None

    def draw(self, context: bpy.types.Context) -> None:
        """Draw it."""
        self.draw_custom_shape(self.shape)

    def draw_select(self, context: bpy.types.Context, select_id: int) -> None:
        """Draw it where the mouse is looked for."""
        self.draw_custom_shape(self.shape, select_id=select_id)

    def stand(self, handle: Any, place: Vector) -> None:
        """Stand on a handle."""
        self.handle, self.place = handle, place
        turn = Vector((0, 0, 1)).rotation_difference(_WAYS[handle.way]).to_matrix().to_4x4()
        self.matrix_basis = Matrix.Translation(place) @ turn

    def invoke(self, context: bpy.types.Context, event: bpy.types.Event) -> set[str]:
        """Take hold."""
        self.start_m, self.by_m, self.words = self._along(context, event), 0.0, ""
        self.before = context.scene.massing.text
        return {"RUNNING_MODAL"}

    def modal(
        self, context: bpy.types.Context, event: bpy.types.Event, tweak: set[str]
    ) -> set[str]:
        """Follow the mouse; with Shift, a tenth as fast."""
        by_m = self._along(context, event) - self.start_m
        self.by_m = by_m * (0.1 if "PRECISE" in tweak else 1.0)
        self._tell(context)
        return {"RUNNING_MODAL"}

    def exit(self, context: bpy.types.Context, cancel: bool) -> None:
        """Let go: keep the size, or what was before."""
        over.told.clear()
        stop_clocks()
        _waiting.clear()
        if context.area is not None:
            context.area.header_text_set(None)
            context.area.tag_redraw()
        from . import session

        scene, words = context.scene, self.words
        if self.before is not None and scene.massing.text != self.before:
            with contextlib.suppress(SceneError):
                session.take_back(scene, self.before)
        if words and not cancel:
            with contextlib.suppress(RuntimeError):  # the panel has it in its own words
                bpy.ops.massing.set_field(
                    "EXEC_DEFAULT", True, field=_field(self.handle), value=words
                )

    def _along(self, context: bpy.types.Context, event: bpy.types.Event) -> float:
        """How far along its way the mouse is, metres."""
        region, view = context.region, context.region_data
        mouse = Vector((event.mouse_region_x, event.mouse_region_y))
        origin = region_2d_to_origin_3d(region, view, mouse)
        look = region_2d_to_vector_3d(region, view, mouse)
        way = self._way()
        across = self.place - origin
        b = way.dot(look)
        square = 1.0 - b * b
        if square < 1e-6:  # seen end on
            return 0.0
        return float((b * look.dot(across) - way.dot(across)) / square)

    def _way(self) -> Vector:
        way = _WAYS[self.handle.way]
        return -way if self.handle.way == "y" else way

    def _tell(self, context: bpy.types.Context) -> None:
        from massing.edit.handles import dragged, dragged_text, snap_m

        from . import session

        design = session.shown_design(context.scene.massing)
        handle = self.handle
        region, view = context.region, context.region_data
        at = location_3d_to_region_2d(region, view, self.place)
        pixel_m = 0.0
        if at is not None:
            beside = region_2d_to_location_3d(region, view, at + Vector((1.0, 0.0)), self.place)
            pixel_m = (beside - self.place).length
        step = snap_m(design.rounding_m, pixel_m, design.units)
        self.words = dragged_text(handle, self.by_m, step, design.units)
        moved = (dragged(handle, self.by_m, step) - handle.value_m) / handle.per_m
        place = self.place + self._way() * moved
        self.matrix_basis = Matrix.Translation(place) @ self.matrix_basis.to_3x3().to_4x4()
        over.told["dragged"] = (place, f"{handle.words}  {self.words}")
        context.area.header_text_set(f"{handle.words}: {self.words}    Shift: finer    Esc: back")
        context.area.tag_redraw()
        _waiting.clear()
        _waiting.append((context.scene.name, _field(handle), self.words))
        stop_clocks()
        bpy.app.timers.register(_settle, first_interval=_RESTS_S)
        bpy.app.timers.register(_follow, first_interval=_next_s())


_waiting: list[tuple[str, str, str]] = []  # the size that the model follows to
_followed: list[float] = []  # when the light model last did


def _next_s() -> float:
    """Seconds until the light model may follow again."""
    return max(_followed[0] + _FOLLOWS_S - time.monotonic(), 0.0) if _followed else 0.0


def _follow() -> None:
    """Let the light model follow the hand that moves."""
    _show(light=True)
    _followed[:] = [time.monotonic()]


def _settle() -> None:
    """Let the whole model follow the hand that rests."""
    _show(light=False)
    _waiting.clear()


def _show(*, light: bool) -> None:
    """What cannot be built is told when the hand lets go."""
    from . import session

    for name, field, words in _waiting:
        scene = bpy.data.scenes.get(name)
        if scene is not None and scene.massing.is_open:
            with contextlib.suppress(SceneError):
                session.try_out(scene, field, words, light=light)
    if not light:  # the panel's rows have changed too
        for window in bpy.context.window_manager.windows:
            for area in window.screen.areas:
                area.tag_redraw()


def stop_clocks() -> None:
    """Stop what waits for a hand that moves, or rests."""
    for clock in (_follow, _settle):
        if bpy.app.timers.is_registered(clock):
            bpy.app.timers.unregister(clock)


def _field(handle: Any) -> str:
    from massing.scene.explain import dotted

    return dotted(handle.field)


class MASSING_GGT_lines(bpy.types.GizmoGroup):
    """The arrows on the lines of what is selected: the porch, or the house"""

    bl_idname = "MASSING_GGT_lines"
    bl_label = "Lines of the Front"
    bl_space_type = "VIEW_3D"
    bl_region_type = "WINDOW"
    bl_options: ClassVar = {"3D", "PERSISTENT", "SHOW_MODAL_ALL"}

    @classmethod
    def poll(cls, context: bpy.types.Context) -> bool:
        """Whether a house is open, and its lines are asked for."""
        state = context.scene.massing
        return state.is_open and state.lines_over and context.mode == "OBJECT"

    def setup(self, context: bpy.types.Context) -> None:
        """Blender's call when it is first shown."""
        self._stand(context)

    def refresh(self, context: bpy.types.Context) -> None:
        """Blender's call after a change."""
        self._stand(context)

    def draw_prepare(self, context: bpy.types.Context) -> None:
        """Blender's call before each drawing."""
        if not over.told:
            self._stand(context)

    def _stand(self, context: bpy.types.Context) -> None:
        wanted = _handles(context)
        while len(self.gizmos) < len(wanted):
            made = self.gizmos.new(MASSING_GT_line.bl_idname)
            made.color, made.alpha = (0.05, 0.35, 0.75), 0.8
            made.color_highlight, made.alpha_highlight = (0.95, 0.55, 0.1), 1.0
            made.scale_basis = 0.24
            made.use_draw_modal = True
        for gizmo, (handle, place) in zip(self.gizmos, wanted, strict=False):
            gizmo.hide = False
            if not gizmo.is_modal:  # one that is dragged measures from where it was taken
                gizmo.stand(handle, place)
        for gizmo in list(self.gizmos)[len(wanted) :]:
            gizmo.hide = True


def _handles(context: bpy.types.Context) -> list[tuple[Any, Vector]]:
    """The handles of what is selected, and where the arrow of each stands."""
    from massing.edit.handles import depth_handles, handles

    from . import session, tree

    try:
        design = session.shown_design(context.scene.massing)
    except SceneError:
        return []
    chosen = context.object
    part = str(chosen.get(tree.PART, "")) if chosen is not None and chosen.select_get() else ""
    first = "house" if part.startswith("house") else "porch"
    porch = design.porch
    front_y = porch.column_y_m - porch.frieze_half_depth_m
    found = []
    for handle in (*handles(design), *depth_handles(design)):
        if handle.field[0] != first:
            continue
        y = 0.0 if first == "house" else front_y
        middle = (handle.low_m + handle.high_m) / 2.0
        if handle.way == "y":
            place = (handle.low_m, handle.at_m, porch.floor_z_m)
        elif handle.way == "x":
            place = (handle.at_m, y, middle)
        else:
            place = (handle.high_m if first == "porch" else middle, y, handle.at_m)
        found.append((handle, Vector(place)))
    return found


_CLASSES = (MASSING_GT_line, MASSING_GGT_lines)

register, _unregister = bpy.utils.register_classes_factory(_CLASSES)


def unregister() -> None:
    """Take the arrows away, and the clocks that wait for a hand."""
    stop_clocks()
    _waiting.clear()
    _unregister()
