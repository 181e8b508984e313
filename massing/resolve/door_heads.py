"""What frames or spans a doorway: as the scene asks, or as its fanlight and wall want it."""

from __future__ import annotations

from massing.design.kinds import HEAD_NAMES, HeadName
from massing.practice.joinery_sizes import HEADS, SEGMENT_OF_WIDTH
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Door

# A masonry wall turns an arch of its own stuff over a fanlight: common practice, no source.
_ARCH_OF: dict[str, dict[str, HeadName]] = {
    "brick": {"semicircular": "semicircular arch", "elliptical": "elliptical arch"},
    "limestone": {
        "semicircular": "stone semicircular arch",
        "elliptical": "stone elliptical arch",
    },
}


def door_head(door: Door, walls: str, dotted: str, origins: Origins) -> HeadName:
    """One of :data:`massing.practice.joinery_sizes.HEADS` for a door in a wall of ``walls``.

    Raises:
        DesignError: the head asked for does not go with the fanlight or the surround.
    """
    if door.head is None:
        if door.surround is not None or door.fanlight == "none" or walls not in _ARCH_OF:
            return "casing"
        head = _ARCH_OF[walls][door.fanlight]
        origins.say(f"{dotted}.head", head, f"over a fanlight in {walls} (common practice)")
        return head
    allowed = _allowed(door)
    if door.head not in allowed:
        beside = "an order about the doorway" if door.surround else "a fanlight"
        if not door.surround and door.fanlight == "none":
            beside = "no fanlight"
        raise DesignError(f"{dotted}.head", door.head, f"with {beside}: {', '.join(allowed)}")
    return door.head


def _allowed(door: Door) -> list[HeadName]:
    if door.surround is not None:
        return ["casing"]
    lines = ("level", "segmental") if door.fanlight == "none" else (door.fanlight,)
    follows = [name for name in HEAD_NAMES if HEADS[name].line in lines]
    return follows if "casing" in follows else ["casing", *follows]


def segment_rise_m(head: str, wide_m: float) -> float:
    """The rise of a segmental head over a doorway ``wide_m`` wide; 0 under any other."""
    return SEGMENT_OF_WIDTH * wide_m if HEADS[head].line == "segmental" else 0.0
