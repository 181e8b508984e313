"""Doors in the fronts of wings, with steps of their own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from massing.design.house import HouseDesign, WingDesign
from massing.design.kinds import Wall
from massing.design.site import GroundDesign
from massing.resolve.doors import with_second_door
from massing.resolve.ground import ground_before_wall
from massing.resolve.setting import plans_meet
from massing.resolve.wing_fields import as_house_fields
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Wing
from massing.settingout.side_steps import steps_plan, wing_steps_plan


def with_wing_doors(
    spec: House, house: HouseDesign, ground: GroundDesign, origins: Origins
) -> HouseDesign:
    """The house with the doors of its wings.

    Raises:
        DesignError: a door does not fit where it is asked for, or its steps meet a side door's.
    """
    asked = {side: i for i, wing in enumerate(spec.wings) for side in _sides(wing)}
    made = []
    for wing in house.wings:
        i = asked[wing.side]
        own = _with_door(wing, spec.wings[i], i, ground, origins)
        plan, other = wing_steps_plan(own), steps_plan(house)
        if plan is not None and other is not None and plans_meet(plan, other):
            raise DesignError(
                f"house.wings.{i}.door.bay",
                "steps that meet the side door's",
                "a bay clear of them, or another for house.side_door",
            )
        made.append(own)
    return replace(house, wings=tuple(made))


def _sides(wing: Wing) -> tuple[str, ...]:
    return ("right", "left") if wing.side == "both" else (wing.side,)


def _with_door(
    wing: WingDesign, spec: Wing, i: int, ground: GroundDesign, origins: Origins
) -> WingDesign:
    door = spec.door
    if door is None:
        return wing
    if door.panels == "carriage" and "leaves" not in door.model_fields_set:
        door = door.model_copy(update={"leaves": 2})
    wall: Wall = "right" if wing.ahead else "front"  # of its own frame
    if spec.side == "both" and wing.side == "left":
        row = [o for o in wing.house.openings if o.wall == wall and o.storey == 0]
        last = door.bay + door.number - 1
        door = door.model_copy(update={"bay": max(len(row) + 1 - last, 1)})

    def before(along_m: float) -> Callable[[float], float]:
        return ground_before_wall(wing.house, wall, along_m, ground, wing.on_plan)

    with as_house_fields(spec, i, origins) as own:
        body = wing.house
        for k in range(door.number):
            one = door.model_copy(update={"bay": door.bay + k})
            body = with_second_door(body, one, wall, ("house", "door"), before, own)
            made = [o for o in body.doors if o.wall == wall]
            door = door.model_copy(update={"height": made[0].leaf_height_m})  # all alike
        stands = [o for o in body.doors if o.door.steps]
        if door.number > 1 and stands:
            raise DesignError(
                "house.door.number",
                door.number,
                "1, but for doors on the ground: with a lower floor of the wing's own",
            )
    return replace(wing, house=body)
