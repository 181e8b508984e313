"""The flight before a porch: its risers on the ground there, its width, its rails."""

from __future__ import annotations

from collections.abc import Sequence

from massing.design.kinds import RailKind
from massing.design.opening import StepsDesign
from massing.design.porch import PorchDesign, WrappedPorch
from massing.design.site import GroundDesign
from massing.practice.defaults import default, said_default
from massing.practice.rules import rule
from massing.resolve.ground import flight
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import PorchSteps
from massing.units import HAIR_M, at_least, format_length

# Common practice, no source.
RISER_M = default("steps.riser")
TREAD_M = default("steps.tread")
RAILED_FLIGHT_M = default("steps.railed")
NEWEL_ROOM_M = default("steps.newel")


def porch_steps(
    steps: PorchSteps, porch: PorchDesign, ground: GroundDesign, origins: Origins
) -> StepsDesign:
    """The flight from the ground before a porch, as far as it is known, up to its floor.

    Raises:
        DesignError: risers that the ground's slope does not let meet it.
    """
    riser = origins.choose(
        ("porch", "steps", "riser"),
        steps.riser,
        RISER_M,
        said_default("steps.riser", origins.units),
    )
    tread = origins.choose(
        ("porch", "steps", "tread"),
        steps.tread,
        TREAD_M,
        said_default("steps.tread", origins.units),
    )
    edge_y = porch.column_y_m - porch.floor_edge_m
    axes = [x - porch.centre_m for x in porch.axes_m]

    def ground_before(out_m: float) -> float:
        return float(ground.z_m(porch.centre_m, edge_y - out_m))

    floor_z = porch.floor_z_m
    count, foot_z = flight("porch.steps.riser", floor_z, riser, tread, ground_before, origins.units)
    rise = (floor_z - foot_z) / count
    origins.note("porch.steps.riser", rise, f"{count} equal risers to the porch floor")
    return StepsDesign(
        width_m=origins.choose(
            ("porch", "steps", "width"),
            steps.width,
            _between_plinths_m(_beside(porch, axes), porch.order.foot_width_m),
            "the middle bay, or three of five or more, between plinths (common practice)",
        ),
        risers=count,
        riser_m=rise,
        tread_m=tread,
        rail=_rail(steps, count, origins),
        foot_z_m=foot_z,
    )


def _beside(porch: PorchDesign, axes: Sequence[float]) -> Sequence[float]:
    """Axes from the porch's middle, of couples the nearer; round a corner the middle pair's."""
    if isinstance(porch, WrappedPorch):
        near = min(abs(a) for a in axes if abs(a) > 1e-9)  # one may stand in the middle
        return (-near, near)
    return axes[::2] if porch.couple_axis_m else axes


def _between_plinths_m(inner: Sequence[float], foot_width_m: float) -> float:
    """The middle bay, or the middle three of five or more; ``inner`` of couples the nearer."""
    right = [a for a in inner if a > 1e-9]
    outer = right[1] if len(inner) >= 6 else right[0]
    return 2.0 * outer - foot_width_m


def _rail(steps: PorchSteps, risers: int, origins: Origins) -> RailKind:
    """The handrail's kind; a single riser has none."""
    if steps.rail == "by rule":
        least = rule("handrail_by_rule")
        rail: RailKind = "iron" if risers >= least.value else "none"
        origins.say("porch.steps.rail", rail, least.cited)
        return rail
    return steps.rail if risers > 1 else "none"


def check_rail(porch: PorchDesign, units: str) -> None:
    """Raise DesignError where newels would stand in a column's foot, or the flight is narrow."""
    if porch.steps.rail == "none":
        return
    half, foot = porch.steps.width_m / 2.0, porch.order.foot_width_m / 2.0
    if half < RAILED_FLIGHT_M / 2.0 - HAIR_M:
        raise DesignError(
            "porch.steps.width",
            format_length(porch.steps.width_m, units),
            f"{at_least(RAILED_FLIGHT_M, units)} or more, for a rail each side",
        )
    for axis in porch.axes_m:
        off = porch.from_middle_m(axis)
        if off - foot < half - 1e-6 and off + foot > half - NEWEL_ROOM_M:
            raise DesignError(
                "porch.steps.width",
                format_length(porch.steps.width_m, units),
                "a flight whose sides, where the newels stand, are clear of the columns' feet",
            )
