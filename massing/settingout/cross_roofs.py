"""What comes out of the main roof, in plan and height: dormers, and the porch's own gable.

A dormer's own frame has its origin at the middle of its window's foot on the face's outer
plane: x to the right as seen from outside, y into the roof, z up. In it the main roof's deck is
the plane z = slope y - drop.
"""

from __future__ import annotations

import numpy as np

from massing.design.house import HouseDesign
from massing.design.opening import WindowOpening
from massing.design.porch import PorchDesign
from massing.design.roof import DormerDesign, PitchedDormer, RoofDesign, SegmentalDormer, ShedDormer
from massing.geometry.arches import segment
from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import Hole
from massing.practice.coverings import covering
from massing.practice.joinery_sizes import DORMER_FACE_M, SILL_HEIGHT_M, casing_width, joinery_size
from massing.settingout.main_roof import main_slope_of
from massing.settingout.porch import frieze_path
from massing.settingout.roof_planes import RoofPlanes
from massing.settingout.valleys import gable_into, hole_behind, hole_of, shed_into

# Common practice, no source.
CORNER_M = joinery_size("dormer.corner")
FRIEZE_M = joinery_size("dormer.frieze")
PROUD_M = joinery_size("dormer.proud")
OVERHANG_M = joinery_size("dormer.overhang")
DECK_M = joinery_size("dormer.deck")
APRON_M = joinery_size("dormer.apron")
_CLEAR_M = 0.03
_ARC_STEPS = 24
_FAR_M = 60.0


def covering_top_m(name: str) -> float:
    """Top of a covering above the deck; none on a plain roof."""
    return 0.0 if name == "plain" else covering(name).rise_m


def least_drop_m(covering_name: str, main_slope: float) -> float:
    """A dormer's sill above the main deck at its face.

    Covering, flashing and the sill itself stand before it; the sill clears the deck behind it.
    """
    before = covering_top_m(covering_name) * float(np.hypot(1.0, main_slope)) + APRON_M
    return max(before, main_slope * DORMER_FACE_M) + SILL_HEIGHT_M + _CLEAR_M


def half_m(dormer: DormerDesign) -> float:
    """Middle to the outside of the cheeks."""
    return dormer.width_m / 2.0 + casing_width(dormer.width_m) + CORNER_M


def cornice_foot_m(dormer: DormerDesign) -> float:
    """Underside of the cornice over the face."""
    return dormer.height_m + casing_width(dormer.width_m) + FRIEZE_M


def cornice_out_m(dormer: DormerDesign) -> float:
    """Face to the outermost edge of the cornice."""
    return PROUD_M + dormer.cornice.projection_m


def roof_half_m(dormer: DormerDesign) -> float:
    """Middle to the edge of the deck."""
    return half_m(dormer) + cornice_out_m(dormer) + OVERHANG_M


def cornice_top_m(dormer: DormerDesign) -> float:
    """Top of the cornice at its outermost edge; under a shed roof it is sheared to its pitch."""
    top = cornice_foot_m(dormer) + dormer.cornice.height_m
    return top - _rise_back(dormer) * cornice_out_m(dormer)


def eaves_z_m(dormer: DormerDesign) -> float:
    """The deck's upper surface at the eaves."""
    fall = dormer.roof_slope if isinstance(dormer, PitchedDormer) else 0.0
    return cornice_top_m(dormer) - fall * OVERHANG_M + DECK_M


def _rise_back(dormer: DormerDesign) -> float:
    """Rise of cornice and eaves along the cheeks, over run."""
    return dormer.roof_slope if isinstance(dormer, ShedDormer) else 0.0


def window_of(dormer: DormerDesign) -> WindowOpening:
    """Its window, as an opening of its face."""
    return WindowOpening(
        "dormer",
        "front",
        0.0,
        0.0,
        dormer.width_m,
        dormer.height_m,
        upper_lights=dormer.upper_lights,
        lower_lights=dormer.lower_lights,
    )


def main_slope(dormer: DormerDesign) -> Floats:
    """The main roof's deck in the dormer's frame, ``(4, 3)``, far to all sides."""
    s, far = dormer.main_slope, _FAR_M
    corners = np.array([(-far, -far), (far, -far), (far, far), (-far, far)])
    return np.column_stack([corners, s * corners[:, 1] - dormer.drop_m])


def dormer_planes(dormer: PitchedDormer) -> RoofPlanes:
    """The slopes of a gabled or shed dormer's roof.

    Raises:
        ValueError: it does not run back into the main slope.
    """
    make = shed_into if isinstance(dormer, ShedDormer) else gable_into
    front_y = -cornice_out_m(dormer) - OVERHANG_M
    slope, z = dormer.roof_slope, eaves_z_m(dormer)
    return make(roof_half_m(dormer), front_y, z, slope, main_slope(dormer))


def arch(dormer: SegmentalDormer, beyond_m: float = 0.0) -> Floats:
    """A segmental dormer's curve over its cornice, ``(n, 2)`` of (x, z) from left to right.

    It springs from the cornice's outer edges and runs on beyond them.
    """
    half = half_m(dormer) + cornice_out_m(dormer)
    spring = cornice_top_m(dormer)
    radius, centre, _ = segment(2.0 * half, spring + dormer.rise_m, dormer.rise_m)
    x = np.linspace(-half - beyond_m, half + beyond_m, _ARC_STEPS + 1)
    return np.column_stack([x, centre + np.sqrt(radius**2 - x**2)])


def back_edge(dormer: DormerDesign) -> Floats:
    """Where a dormer's roof meets the main deck in plan, from its right foot to its left."""
    if isinstance(dormer, SegmentalDormer):
        x, z = arch(dormer, OVERHANG_M)[::-1].T
        return np.column_stack([x, (z + DECK_M + dormer.drop_m) / dormer.main_slope])
    assert isinstance(dormer, PitchedDormer)
    lines = [v.line[:, :2] for v in dormer_planes(dormer).valleys]
    if isinstance(dormer, ShedDormer):
        return lines[0][::-1]
    return np.array([lines[1][0], lines[0][1], lines[0][0]])


def top_m(dormer: DormerDesign) -> float:
    """Where its roof runs out on the main deck."""
    return float(dormer.main_slope * back_edge(dormer)[:, 1].max() - dormer.drop_m)


def cheek_m(dormer: DormerDesign, covering_name: str) -> float:
    """Face back to where the main covering reaches the cornice along the cheeks."""
    top = covering_top_m(covering_name) * float(np.hypot(1.0, dormer.main_slope))
    rise = _rise_back(dormer)
    under = cornice_foot_m(dormer) + dormer.drop_m - top - _CLEAR_M
    return under / (dormer.main_slope - rise)


def dormer_holes(dormer: DormerDesign, covering_name: str) -> tuple[Hole, Hole]:
    """What a dormer asks of the main covering: round its body, and under its roof."""
    half, back = half_m(dormer), cheek_m(dormer, covering_name)
    body = np.array([(-half, 0.0), (half, 0.0), (half, back), (-half, back)])
    edge = back_edge(dormer)
    step = np.abs((edge[1] - edge[0]) / (edge[1, 0] - edge[0, 0]))
    beside = _beside_m(dormer, covering_name)
    front = min(back, float(edge[0, 1] - beside * step[1]) - _CLEAR_M)
    return (
        Hole(body, ("wall", "wall", "clear", "wall")),
        hole_behind(edge, front, beside),
    )


def _beside_m(dormer: DormerDesign, covering_name: str) -> float:
    """How far covering, or verge tiles, stand over the roof's sides, with some play."""
    if covering_name == "plain" or not isinstance(dormer, PitchedDormer):
        return _CLEAR_M
    if isinstance(dormer, ShedDormer):
        return covering(covering_name).ridge_width_m / 2.0 + _CLEAR_M
    return over_eave_m(covering_name, dormer.roof_slope)


def over_eave_m(covering_name: str, slope: float) -> float:
    """How far in plan a covering reaches over an eave, with some play."""
    if covering_name == "plain":
        return _CLEAR_M
    laid, length = covering(covering_name), float(np.hypot(1.0, slope))
    return (laid.overhang_m + slope * laid.rise_m) / length + _CLEAR_M


def dormer_frame(dormer: DormerDesign, along_m: float, house_depth_m: float) -> Floats:
    """The ``(4, 4)`` frame of a dormer whose middle stands at x = ``along_m``."""
    matrix = np.eye(4)
    matrix[:3, 3] = along_m, dormer.face_y_m, dormer.sill_z_m
    if dormer.side == "back":
        matrix[0, 0] = matrix[1, 1] = -1.0
        matrix[1, 3] = house_depth_m - dormer.face_y_m
    return matrix


# --- the porch's gable ---------------------------------------------------------------------


def runs_back(porch: PorchDesign, house: HouseDesign) -> bool:
    """Whether the porch has a gable at the eaves, whose roof runs back into the main one."""
    return house.cornice_continues_porch and porch.highest.roof in ("pediment", "gable")


def porch_gable(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> RoofPlanes:
    """The slopes of that pediment's roof; its eaves are level with the main ones, or over them.

    Raises:
        ValueError: the porch does not stand before the main eaves.
    """
    top = frieze_path(porch, -porch.order.cornice_projection_m)
    half = float(top[2, 0]) - porch.centre_m + roof.overhang_m
    front_y = float(top[1, 1]) - roof.overhang_m
    other = main_slope_of(house, roof)
    carried_z = porch.top_z_m - porch.roof_slope * roof.overhang_m + DECK_M  # on the rakes
    eaves_z = max(float(other[0, 2]), carried_z)
    return gable_into(half, front_y, eaves_z, porch.roof_slope, other, porch.centre_m)


def porch_gable_hole(planes: RoofPlanes, covering_name: str) -> Hole:
    """What it asks of the main covering, out past the eaves."""
    ring = planes.slopes[0]
    slope = float((ring[-1, 2] - ring[0, 2]) / np.abs(ring[-1, 0] - ring[0, 0]))
    return hole_of(planes, float(ring[:, 1].min()), over_eave_m(covering_name, slope))


def porch_hole(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> Hole | None:
    """What the porch's gable takes of the main covering, where it runs back into it."""
    if not runs_back(porch, house):
        return None
    return porch_gable_hole(porch_gable(porch.highest, house, roof), roof.covering)
