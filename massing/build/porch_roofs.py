"""The porch's roof, put together: deck, covering, and what closes its ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from massing.build.dormers import deck_of, on_deck
from massing.build.placing import covered
from massing.canon import FittedOrder
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign, SemicircularPorch, WrappedPorch
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import extrude, prism
from massing.parts.orders.entablature import entablature
from massing.parts.part import Part, under
from massing.parts.roofs.deck import FLAT_SLAB_M, deck, flat_roof, lean_to_hip
from massing.settingout.cross_roofs import porch_gable
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.main_roof import main_slope_of
from massing.settingout.porch import FRIEZE_BOARD_M, flat_fall, frieze_path, path_before
from massing.settingout.porch_roofs import own_roof, porch_edge, porch_planes, slab_z
from massing.units import INCH_M

# Common practice, no source.
_CHEEK_M = 4.0 * INCH_M  # thickness of a lean-to's closed end, and of a gable's wall
_BARGE_M = (7.0 * INCH_M, 1.25 * INCH_M)  # depth and thickness of a board under a verge
_RETURN_OF_PROJECTION = 1.5  # a cornice that turns in under a gable, of its projection
_SOFFIT_CLEAR_M = 0.002


def porch_roof(porch: PorchDesign, design: Design) -> list[Part]:
    """The roof over the highest order, against the wall, at the eaves or under the main slope."""
    house = design.house
    match porch.roof:
        case "flat":
            made = _flat(porch, design)
        case "hipped":
            made = _hipped(porch, design)
        case "lean-to" | "main slope":
            made = _sloped(porch, design)
        case _:
            made = _gable_wall(porch, design) if porch.roof == "gable" else []
            into = house.cornice_continues_porch
            made += (_gable_into_main_roof if into else _gable_to_wall)(porch, design)
    return under("roof", made)


def gabled(
    order: FittedOrder,
    path: Floats,
    *,
    back_m: float,
    column_axes: Floats | None = None,
    groups: Sequence[str] = ("architrave", "frieze"),
    before: Floats | None = None,
    after: Floats | None = None,
) -> list[Part]:
    """An entablature whose front cornice is left out under a plain gable but for short returns.

    ``path`` ``(k, 2)`` as of :func:`massing.build.placing.pedimented`.
    """
    half = len(path) // 2
    left, right = path[half - 1], path[half]
    kept: dict[str, Any] = {"column_axes": column_axes, "back_m": back_m}
    turn = np.array([_RETURN_OF_PROJECTION * order.cornice_projection_m, 0.0])
    turn = np.minimum(turn, 0.4 * (right - left))
    parts = entablature(order, path, groups=groups, before=before, after=after, **kept)
    runs = (
        (np.concatenate([path[:half], [left + turn]]), {"before": before}),
        (np.concatenate([[right - turn], path[half:]]), {"after": after}),
    )
    for run, ends in runs:
        parts += entablature(order, run, groups=("cornice",), **ends, **kept)  # type: ignore[arg-type]
    return parts


def _flat(porch: PorchDesign, design: Design) -> list[Part]:
    house = design.house
    back_y = -eaves_reach(house, design.roof) if house.cornice_continues_porch else 0.0
    outline = path_before(porch, back_y, FRIEZE_BOARD_M)
    foot_z = porch.top_z_m - FLAT_SLAB_M
    fall = flat_fall(porch, under_eaves=house.cornice_continues_porch)
    if isinstance(porch, SemicircularPorch):
        return [Part(("flat",), "metal", extrude(outline, FLAT_SLAB_M).shifted(z_m=foot_z))]
    if porch.breaks_forward_m:
        return [Part(("flat",), "metal", _falling(outline, foot_z, fall))]
    return flat_roof(outline[1], (outline[2, 0], back_y), foot_z, fall)


def _falling(outline: Floats, foot_z: float, fall: float) -> Mesh:
    """A flat over any outline, falling to the front as :func:`flat_roof` does."""
    slab = extrude(outline, FLAT_SLAB_M)
    x, y, z = slab.vertices.T
    top = fall * (y - y.min())
    return Mesh(np.column_stack([x, y, z + foot_z + np.where(z > 0.0, top, 0.0)]), slab.faces)


def _hipped(porch: PorchDesign, design: Design) -> list[Part]:
    if isinstance(porch, WrappedPorch):
        planes = porch_planes(porch, design.house, design.roof)
        body = [Part(("deck",), "trim", deck(planes, EAVES_EDGE_M))]
        return covered(body, planes, own_roof(porch, design.roof))
    half, front_y = porch_edge(porch, design.roof)
    low, high = (porch.centre_m - half, front_y), (porch.centre_m + half, 0.0)
    body = lean_to_hip(low, high, porch.top_z_m, porch.roof_slope, EAVES_EDGE_M)
    planes = porch_planes(porch, design.house, design.roof)
    return covered(body, planes, own_roof(porch, design.roof))


def _sloped(porch: PorchDesign, design: Design) -> list[Part]:
    """One slope up to the wall, or to the main eaves: deck, closed ends, boards at the verges."""
    roof, house = design.roof, design.house
    planes = porch_planes(porch, house, roof)
    (ring,) = planes.slopes
    (x0, y0), (x1, y1) = ring[0, :2], ring[2, :2]
    foot_z, head_z = float(ring[0, 2]) - EAVES_EDGE_M, float(ring[2, 2]) - EAVES_EDGE_M
    under_deck = [(y0, foot_z), (y1, head_z)]
    section = [*under_deck, *((y, z + EAVES_EDGE_M) for y, z in reversed(under_deck))]
    across, up = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    boards = prism(section, (x0, 0.0, 0.0), across, up, x1 - x0)
    deep, thick = _BARGE_M
    cut = min(deep / porch.roof_slope, 0.5 * (y1 - y0))  # its foot is cut level
    low_y = y0 + cut
    barge = [(low_y, foot_z + porch.roof_slope * cut), (y1, head_z)]
    barge += [(y1, head_z - deep), (low_y, foot_z + porch.roof_slope * cut - 0.02)]
    barge = barge[::-1]
    runs = [prism(barge, (x, 0.0, 0.0), across, up, thick) for x in (x0, x1 - thick)]
    body = [
        Part(("deck",), "trim", boards),
        Part(("barge boards",), "trim", merged(runs)),
        *_cheeks(porch, design, y1, head_z),
    ]
    return covered(body, planes, own_roof(porch, roof))


def _cheeks(porch: PorchDesign, design: Design, head_y: float, head_z: float) -> list[Part]:
    """The ends between the cornice and the deck, over the frieze's faces, home to the wall."""
    house = design.house
    path = frieze_path(porch, FRIEZE_BOARD_M)
    left, right, front_y = float(path[1, 0]), float(path[2, 0]), float(path[1, 1])
    foot_z = porch.top_z_m - 0.5 * porch.order.cornice_height_m
    ring = [(front_y, foot_z), (0.0, foot_z)]
    if head_y < 0.0:  # under the main eaves: below their cornice, and up to the deck before it
        out = FRIEZE_BOARD_M + house.cornice.projection_m
        low_z = house.wall_top_z_m - house.cornice.height_m
        if low_z > foot_z:
            ring += [(0.0, low_z), (-out, low_z)]
        ring += [(-out, head_z), (head_y, head_z)] if -out > head_y else [(head_y, head_z)]
    else:
        ring.append((0.0, slab_z(porch, design.roof, 0.0)))
    ring.append((front_y, slab_z(porch, design.roof, front_y)))
    across, up = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    ends = [prism(ring, (at, 0.0, 0.0), across, up, _CHEEK_M) for at in (left, right - _CHEEK_M)]
    return [Part(("ends",), _boarding(house), merged(ends))]


def _boarding(house: HouseDesign) -> str:
    """What closes a porch roof's ends: the wall's own boards, or boards of the trim."""
    return "wall" if house.walls == "clapboard" else "trim"


def _gable_to_wall(porch: PorchDesign, design: Design) -> list[Part]:
    """Boarding on the raking cornices' backs, or on the gable's wall, run to the house."""
    roof, slope, edge = design.roof, porch.roof_slope, EAVES_EDGE_M
    half, front_y = porch_edge(porch, roof)
    eaves_z = porch.top_z_m - slope * roof.overhang_m
    peak_z = eaves_z + slope * half
    section = [(-half, eaves_z), (0.0, peak_z), (half, eaves_z)]
    section += [(half, eaves_z + edge), (0.0, peak_z + edge), (-half, eaves_z + edge)]
    at = (porch.centre_m, 0.0, 0.0)
    boards = prism(section, at, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), -front_y)
    planes = porch_planes(porch, design.house, roof)
    body = [Part(("deck",), "trim", boards)]
    if porch.roof == "gable":
        body += _barge_boards(porch.centre_m, half, front_y, eaves_z, slope)
    return covered(body, planes, own_roof(porch, roof))


def _barge_boards(
    middle: float, half: float, front_y: float, eaves_z: float, slope: float
) -> list[Part]:
    """Boards under the front edge of a gable's deck, their feet cut level."""
    deep, thick = _BARGE_M
    deep *= float(np.hypot(1.0, slope))
    foot = min(deep / slope, 0.5 * half)
    peak_z = eaves_z + slope * half
    over = [
        (foot - half, eaves_z + slope * foot),
        (0.0, peak_z),
        (half - foot, eaves_z + slope * foot),
    ]
    under_edge = [(half - foot, eaves_z + slope * foot - deep), (0.0, peak_z - deep)]
    under_edge.append((foot - half, eaves_z + slope * foot - deep))
    ring = [*over, *under_edge][::-1]
    board = prism(ring, (middle, front_y + thick, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), thick)
    return [Part(("barge boards",), "trim", board)]


def _gable_wall(porch: PorchDesign, design: Design) -> list[Part]:
    """The wall of a plain gable, on the frieze's back, up to the deck."""
    roof, slope = design.roof, porch.roof_slope
    half, _ = porch_edge(porch, roof)
    path = frieze_path(porch, FRIEZE_BOARD_M)
    x, y = float(path[2, 0]) - porch.centre_m, float(path[1, 1])
    if design.house.cornice_continues_porch:
        planes = porch_gable(porch, design.house, roof)
        eaves_z = float(planes.slopes[0][0, 2]) - _deck_m(porch, design)
    else:
        eaves_z = porch.top_z_m - slope * roof.overhang_m
    foot_z = porch.top_z_m - porch.order.cornice_height_m
    side_z = eaves_z + slope * (half - x) - _SOFFIT_CLEAR_M
    peak_z = eaves_z + slope * half - _SOFFIT_CLEAR_M
    ring = [(-x, foot_z), (x, foot_z), (x, side_z), (0.0, peak_z), (-x, side_z)]
    at = (porch.centre_m, y + _CHEEK_M, 0.0)
    wall = prism(ring, at, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), _CHEEK_M)
    return [Part(("gable",), _boarding(design.house), wall)]


def _deck_m(porch: PorchDesign, design: Design) -> float:
    """Upright thickness of the deck of a gable that runs back into the main roof."""
    planes = porch_gable(porch, design.house, design.roof)
    foot_z = porch.top_z_m - porch.roof_slope * design.roof.overhang_m
    return float(planes.slopes[0][0, 2]) - foot_z


def _gable_into_main_roof(porch: PorchDesign, design: Design) -> list[Part]:
    """The deck carried by the raking cornices, run back into the main slope, with valleys."""
    house, roof = design.house, design.roof
    planes = porch_gable(porch, house, roof)
    # They have come down under the overhang.
    boards = deck_of(planes, _deck_m(porch, design))
    main = main_slope_of(house, roof)
    body = on_deck([boards], main, EAVES_EDGE_M + 1.0)
    if porch.roof == "gable":
        half, front_y = porch_edge(porch, roof)
        eaves_z = porch.top_z_m - porch.roof_slope * roof.overhang_m
        body += _barge_boards(porch.centre_m, half, front_y, eaves_z, porch.roof_slope)
    return covered(body, planes, own_roof(porch, roof))
