"""What stands about a doorway, where its places and sizes follow from one another."""

from __future__ import annotations

from dataclasses import replace

from massing.canon import Member
from massing.canon.arcades import archivolt_members
from massing.design.opening import Opening, SurroundDesign


def archivolt_over(opening: Opening, surround: SurroundDesign) -> tuple[Member, ...]:
    """The archivolt about a round-headed doorway, bottom to top: a module broad, or what room
    there is to the architrave."""
    members = archivolt_members(surround.order.diameter_m / 2.0)
    top = surround.order.column_height_m - surround.drop_m
    share = min(1.0, (top - opening.height_m) / sum(m.height for m in members))
    return tuple(replace(m, height=share * m.height) for m in members)
