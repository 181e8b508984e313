"""A proposal as a small line elevation with its shadows, in seconds and without a renderer."""

from __future__ import annotations

from dataclasses import replace

from massing.build.house import build
from massing.design.design import Design
from massing.design.setting import SettingDesign
from massing.present.board.elevation import Drawn, Front, Window
from massing.sun.position import SunTime

FINEST_M = 0.08  # what hides a line for less is lost at these scales
_BESIDE_M, _UNDER_M, _OVER_M = 0.8, 0.4, 0.5


def small(design: Design) -> Design:
    """The design without what is too small to be drawn: tiles, bricks, flutes; nor its setting."""
    return replace(
        design,
        house=replace(design.house, relief=False),
        porch=replace(design.porch, order=replace(design.porch.order, flutes=0)),
        roof=replace(design.roof, covering="plain"),
        setting=SettingDesign(),
        scale_figure=False,
    )


def window_of(design: Design) -> Window:
    """The part of the front that is drawn: house and wings, roof and all."""
    low, high = build(small(design)).building_bounds
    reach = max(abs(float(low[0])), abs(float(high[0]))) + _BESIDE_M
    return Window(-reach, reach, -_UNDER_M, float(high[2]) + _OVER_M)


def widest(windows: list[Window]) -> Window:
    """One window for all of several, so that they stand at one scale on one ground line."""
    return Window(
        min(w.left_m for w in windows),
        max(w.right_m for w in windows),
        min(w.foot_m for w in windows),
        max(w.top_m for w in windows),
    )


def drawn(design: Design, window: Window, width_mm: float, sun: SunTime | None) -> Drawn:
    """The front as SVG, so many millimetres wide, with the shadows that ``sun`` throws.

    Raises:
        ValueError: parts of the design collide.
    """
    scale = 1000.0 * window.width_m / width_mm
    front = Front(build(small(design)), FINEST_M)
    return front.drawn(window, scale, sun if sun is not None and sun.on_front else None)
