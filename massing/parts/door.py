"""An entrance: panelled leaf, frame, threshold, transom light, sidelights and surround.

Everything is in the wall's own frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

import numpy as np

from massing.joinery import doorway_frame, grid_plate, raised_panel, sash, surround, threshold
from massing.mesh import Floats, Mesh, Part, merged
from massing.scene.design import Opening
from massing.sections import SASH, THRESHOLD_M
from massing.solids import lathe
from massing.units import INCH_M

# Members of a six-panelled door: common practice, no source.
_LEAF_M = 1.75 * INCH_M
_STILE_M = 4.5 * INCH_M
_RAIL_M = 4.5 * INCH_M
_LOCK_RAIL_M = 7.0 * INCH_M
_BOTTOM_RAIL_M = 9.0 * INCH_M
_LOCK_HEIGHT_M = 36.0 * INCH_M
_TOP_PANEL_OF_LEAF = 1.0 / 8.0
_CLEAR_M = 0.125 * INCH_M
_MULLION_M = 4.0 * INCH_M
_APRON_OF_LEAF = 0.3  # panel under a sidelight


def door(opening: Opening, reveal_m: float, wall_thickness_m: float) -> list[Part]:
    """An entrance in the wall's frame.

    The opening's width and height hold everything: leaf, jambs, and the lights if any.

    Raises:
        ValueError: the leaf, with its frame and lights, does not fit the opening.
    """
    half, height = opening.width_m / 2.0, opening.height_m
    front = reveal_m - SASH.frame_before_sash_m
    back = min(reveal_m + _LEAF_M + 2.0 * INCH_M, wall_thickness_m)
    if front < 0.0 or back - reveal_m < _LEAF_M:
        raise ValueError(f"{opening.name}: the wall is too thin for a reveal and a door leaf")
    foot, top = THRESHOLD_M, THRESHOLD_M + opening.leaf_height_m + 2.0 * _CLEAR_M
    leaf_half = opening.leaf_width_m / 2.0 + _CLEAR_M
    cells: dict[str, tuple[float, float, float, float]] = {
        "leaf": (-leaf_half, leaf_half, foot, top)
    }
    jamb = SASH.jamb_face_m
    if opening.sidelights:
        inner, outer = leaf_half + _MULLION_M, half - jamb
        cells["left light"] = (-outer, -inner, foot, top)
        cells["right light"] = (inner, outer, foot, top)
    side = half - jamb if opening.sidelights else leaf_half
    if opening.transom:
        cells["transom"] = (-side, side, top + _MULLION_M, height - jamb)
    for name, (x0, x1, z0, z1) in cells.items():
        if min(x1 - x0, z1 - z0) < 4.0 * INCH_M or max(x1, -x0) > half or z1 > height:
            raise ValueError(
                f"{opening.name}: no room for the {name} in an opening of "
                f"{opening.width_m:.2f} x {height:.2f} m"
            )
    return [
        Part("threshold", "stone", threshold(half, reveal_m, back)),
        *surround(opening.width_m, height),
        Part("frame", "trim", doorway_frame(half, height, list(cells.values()), front, back)),
        *_leaf(opening, reveal_m, foot + _CLEAR_M),
        *_lights(cells, reveal_m, opening.leaf_height_m),
    ]


def _leaf(opening: Opening, reveal_m: float, foot_m: float) -> list[Part]:
    """A six-panelled leaf: two small panels at the top, two tall, two below the lock rail."""
    width, height = opening.leaf_width_m, opening.leaf_height_m
    x0 = -width / 2.0
    panel = (width - 3.0 * _STILE_M) / 2.0
    xs = [x0, x0 + _STILE_M, x0 + _STILE_M + panel, _STILE_M / 2.0, _STILE_M / 2.0 + panel, -x0]
    lock = min(_LOCK_HEIGHT_M, 0.45 * height) - _LOCK_RAIL_M / 2.0
    small = _TOP_PANEL_OF_LEAF * height
    zs = [0.0, _BOTTOM_RAIL_M, lock, lock + _LOCK_RAIL_M]
    zs += [height - 2.0 * _RAIL_M - small, height - _RAIL_M - small, height - _RAIL_M, height]
    if panel < 3.0 * INCH_M or min(np.diff(zs)) < 2.0 * INCH_M:
        raise ValueError(f"{opening.name}: a leaf {width:.2f} x {height:.2f} m cannot be panelled")
    x, z = np.array(xs), np.array(zs) + foot_m
    sticking = 0.4 * INCH_M
    wide_x, wide_z = _eased(x, sticking), _eased(z, sticking)
    depths = [0.0, 0.35 * INCH_M, _LEAF_M - 0.35 * INCH_M, _LEAF_M]
    frame = grid_plate([wide_x, x, x, wide_x], [wide_z, z, z, wide_z], depths)
    panels = [
        raised_panel((a, c), (b, d), 0.2 * INCH_M, _LEAF_M - 0.2 * INCH_M, 1.1 * INCH_M)
        for a, b in x[1:-1].reshape(-1, 2)
        for c, d in z[1:-1].reshape(-1, 2)
    ]
    knob_z = foot_m + lock + _LOCK_RAIL_M / 2.0
    knob = _knob().shifted(width / 2.0 - _STILE_M / 2.0, reveal_m, knob_z)
    return [
        Part("leaf/stiles and rails", "door", frame.shifted(y_m=reveal_m)),
        Part("leaf/panels", "door", merged(panels).shifted(y_m=reveal_m)),
        Part("leaf/knob", "metal", knob),
    ]


def _eased(edges: Floats, by_m: float) -> Floats:
    """Panel holes made wider at the face by the sticking's bevel."""
    moved = edges.copy()
    moved[1:-1:2] -= by_m
    moved[2:-1:2] += by_m
    return moved


def _knob() -> Mesh:
    """A round knob on its rose, standing out towards -y from y = 0."""
    angle = np.radians(np.linspace(-60.0, 90.0, 11))
    ball = np.column_stack([0.028 * np.cos(angle), 0.058 + 0.022 * np.sin(angle)])
    profile = np.concatenate([[(0.034, 0.0), (0.034, 0.004), (0.014, 0.008), (0.012, 0.03)], ball])
    profile[-1, 0] = 0.0
    turned = np.array([[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
    return lathe(profile, 24).moved(turned)


def _lights(
    cells: dict[str, tuple[float, float, float, float]], reveal_m: float, leaf_height_m: float
) -> list[Part]:
    """Sidelights over panelled aprons, and the transom light."""
    wood, panes, panels = [], [], []
    pane = 10.0 * INCH_M
    for name, (x0, x1, z0, z1) in cells.items():
        if name == "leaf":
            continue
        sill = z0
        if name != "transom":
            sill = z0 + _APRON_OF_LEAF * leaf_height_m
            rail = SASH.stile_m
            xs = np.array([x0, x0 + rail, x1 - rail, x1])
            zs = np.array([z0, z0 + rail, sill - rail, sill])
            panels.append(grid_plate([xs, xs], [zs, zs], [0.0, SASH.thickness_m]))
            panels.append(
                raised_panel(
                    (xs[1], zs[1]), (xs[2], zs[2]), 0.005, SASH.thickness_m - 0.005, 0.6 * INCH_M
                )
            )
        across = max(1, round((x1 - x0) / pane))
        up = max(1, round((z1 - sill) / (1.25 * pane)))
        made = sash((x0, sill), (x1, z1), (across, up), SASH.stile_m, SASH.stile_m)
        wood.append(made[0])
        panes.append(made[1])
    if not wood:
        return []
    parts = [
        Part("lights/sash", "sash", merged(wood).shifted(y_m=reveal_m)),
        Part("lights/glass", "glass", merged(panes).shifted(y_m=reveal_m)),
    ]
    if panels:
        parts.append(Part("lights/aprons", "trim", merged(panels).shifted(y_m=reveal_m)))
    return parts
