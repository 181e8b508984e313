"""Small resolved designs of our own for the tests of the house's parts."""

from __future__ import annotations

from massing.canon import FittedCornice, FittedOrder, Member
from massing.design.house import HouseDesign
from massing.design.opening import (
    CurvedHead,
    DoorOpening,
    FrenchWindow,
    Opening,
    StepsDesign,
    WindowOpening,
)
from massing.design.porch import PorchDesign, StraightPorch
from massing.geometry.arches import Curve
from massing.practice.joinery_sizes import HEADS

CORNICE = FittedCornice((Member("corona", "fillet", 0.3, 0.3, 0.3),))


def window_at(
    along_m: float = 0.0,
    sill_z_m: float = 1.4,
    *,
    kind: type[WindowOpening] = WindowOpening,
    **changes: object,
) -> WindowOpening:
    """A window of 1.05 by 1.95 m in the front wall, on a sill or of another kind."""
    given: dict[str, object] = {
        "place": f"window at {along_m}",
        "storey": 0,
        "wall": "front",
        "along_m": along_m,
        "sill_z_m": sill_z_m,
        "width_m": 1.05,
        "height_m": 1.95,
    }
    return kind(**{**given, **changes})  # type: ignore[arg-type]


def headed(head: str, along_m: float = 0.0, **changes: object) -> WindowOpening:
    """A window under a head, with the rise that is usual for it."""
    width = float(changes.get("width_m", 1.05))  # type: ignore[arg-type]
    line = HEADS[head].line
    rises = {"segmental": width / 8.0, "semicircular": width / 2.0, "elliptical": 0.3 * width}
    curve: Curve = "ellipse" if line == "elliptical" else "segment"
    curved = CurvedHead(rises[line], curve) if line in rises else None
    return window_at(along_m, **{"head": head, "curved": curved, **changes})


def door_at(along_m: float = 0.0, **changes: object) -> DoorOpening:
    """An entrance with sidelights and a transom in the front wall."""
    given: dict[str, object] = {
        "place": "entrance",
        "wall": "front",
        "along_m": along_m,
        "sill_z_m": 0.7,
        "width_m": 1.9,
        "height_m": 2.7,
        "leaf_width_m": 0.95,
        "leaf_height_m": 2.1,
        "sidelights": True,
        "transom": True,
    }
    return DoorOpening(**{**given, **changes})  # type: ignore[arg-type]


def french_at(along_m: float = 0.0, **changes: object) -> FrenchWindow:
    """A pair of glazed leaves, two lights by four each, in the front wall."""
    given: dict[str, object] = {
        "place": "french window",
        "wall": "front",
        "along_m": along_m,
        "sill_z_m": 0.7,
        "width_m": 1.4,
        "height_m": 2.5,
        "lights": (2, 4),
    }
    return FrenchWindow(**{**given, **changes})  # type: ignore[arg-type]


def house(openings: tuple[Opening, ...] = (), **changes: object) -> HouseDesign:
    """A two-storey house 14 by 9 m."""
    given: dict[str, object] = {
        "width_m": 14.0,
        "depth_m": 9.0,
        "wall_thickness_m": 0.3,
        "reveal_m": 0.1,
        "walls": "stucco",
        "floor_z_m": 0.7,
        "storey_floors_z_m": (0.7, 4.0),
        "wall_top_z_m": 7.0,
        "bay_centres_m": (-4.0, 0.0, 4.0),
        "openings": openings,
        "cornice": CORNICE,
        "cornice_continues_porch": False,
    }
    return HouseDesign(**{**given, **changes})  # type: ignore[arg-type]


def porch(**changes: object) -> PorchDesign:
    """A four-columned porch of 9 m, with a plain order."""
    order = FittedOrder(
        order="tuscan",
        canon="vignola",
        diameter_m=0.5,
        upper_diameter_m=0.42,
        base=(Member("plinth", "fillet", 0.25, 0.34, 0.34, square=True),),
        shaft_height_m=2.9,
        capital=(Member("abacus", "fillet", 0.25, 0.3, 0.3, square=True),),
        architrave=(Member("architrave", "fillet", 0.3, 0.0, 0.0),),
        frieze=(Member("frieze", "fillet", 0.3, 0.0, 0.0),),
        cornice=(Member("corona", "fillet", 0.3, 0.3, 0.3),),
    )
    given: dict[str, object] = {
        "order": order,
        "axes_m": (-4.5, -1.5, 1.5, 4.5),
        "axis_depth_m": 2.4,
        "floor_z_m": 0.64,
        "floor_edge_m": 0.45,
        "flight": StepsDesign(width_m=2.6, risers=4, riser_m=0.16, tread_m=0.32),
        "balustrade": None,
        "guard": None,
        "roof": "flat",
        "roof_pitch": None,
    }
    return StraightPorch(**{**given, **changes})  # type: ignore[arg-type]
