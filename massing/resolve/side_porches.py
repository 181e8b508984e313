"""Side porches: each by the rules of the front porch, on the house as it is seen from that side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign, StraightPorch
from massing.design.roof import RoofDesign
from massing.design.side_porch import SidePorchDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule
from massing.resolve.clearance import check_clear
from massing.resolve.porch import porch_design
from massing.resolve.porch_order import PORCH_STEP_DOWN_M
from massing.resolve.porch_roofs import check_under_eaves, with_roof
from massing.resolve.under_openings import check_porch_against_house, check_upper_openings
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Door, Porch, Scene, SidePorch
from massing.settingout.eaves import EAVES_EDGE_M, FLASHING_M
from massing.settingout.side_porches import along_side_m, on_plan, seen_from, side_porch_plan
from massing.settingout.side_steps import steps_plan
from massing.units import HAIR_M, at_least, format_length

# Common practice, no source.
DRIVE_M = default("side_porch.drive")
LEAST_DRIVE_M = default("side_porch.least_drive")
DRIVE_LONG_M = default("side_porch.drive_long")
KERB_M = default("side_porch.kerb")
LEAST_DEPTH_M = default("side_porch.depth")
SLEEPING_ENTABLATURE_M = default("side_porch.sleeping_entablature")
FROM_CORNER_M = default("side_porch.from_corner")
_HOUSED_M = 0.005
_KEPT = ("canon", "entasis", "fluted", "ceiling")  # as of the front porch
_OWN = ("steps", "guard", "balustrade", "roof_pitch", "roof_covering", "floor")


def side_porch_designs(
    scene: Scene,
    house: HouseDesign,
    front: PorchDesign,
    levels: tuple[float, ...],
    ground: GroundDesign,
    origins: Origins,
    *,
    driven_under: bool,
) -> tuple[SidePorchDesign, ...]:
    """The side porches of one kind, without their roofs' pitch.

    Args:
        scene: what is asked.
        house: the house with its openings; its doors too where a porte-cochere looks for them.
        front: the front porch.
        levels: heights of the floors and, last, of the walls' top, metres.
        ground: the lie of the ground.
        origins: takes a note of where each number comes from.
        driven_under: whether porte-cocheres are meant, or the porches that doors open on.

    Raises:
        DesignError: one cannot stand as asked.
    """
    made = []
    for i, asked in enumerate(scene.side_porches):
        if (asked.kind == "porte-cochere") != driven_under:
            continue
        _check_side(scene, i)
        made.append(_SidePorch(scene, i, house, front, levels, ground, origins).design())
    return tuple(made)


def with_roofs(
    scene: Scene,
    house: HouseDesign,
    roof: RoofDesign,
    porches: tuple[SidePorchDesign, ...],
    origins: Origins,
) -> tuple[SidePorchDesign, ...]:
    """The side porches with their roofs, once the house and the main roof are known.

    Raises:
        DesignError: a roof, a column by the wall or a guard meets what is behind it.
    """
    sides = [asked.side for asked in scene.side_porches]
    made = []
    for one in porches:
        i = sides.index(one.side)
        own = _scene_of(scene, i, house, one.porch)
        turned = seen_from(house, one.side)
        kept = _Within(origins, i, one.side)
        try:
            porch = with_roof(one.porch, own, turned, roof, kept)
            check_porch_against_house(porch, turned, own)
            check_under_eaves(porch, turned, roof, scene.units)
            check_upper_openings(porch, turned, roof, own)
            check_clear(porch, turned, roof, scene.units)
        except DesignError as fault:
            raise kept.renamed(fault) from None
        assert isinstance(porch, StraightPorch)
        kept.hand_over()
        made.append(replace(one, porch=porch))
    return tuple(made)


class _Within(Origins):
    """Notes of a side porch, taken as of a porch and handed over by its own names."""

    def __init__(self, outer: Origins, i: int, side: str) -> None:
        at = ("side_porches", i)
        lines = {("porch", *path[2:]): line for path, line in outer.lines.items() if path[:2] == at}
        super().__init__(lines, outer.units)
        self.outer, self.name, self.side = outer, f"side_porches.{i}", side

    def renamed(self, fault: DesignError) -> DesignError:
        """A refusal of a porch as one of this side porch."""
        first, _, rest = fault.field.partition(".")
        known = rest.split(".")[0] in SidePorch.model_fields
        field = {"along": "back"}.get(rest, rest if known else "")
        name = f"{self.name}.{field}" if field and first == "porch" else self.name
        given, allowed = (
            text.replace("front/", f"{self.side}/").replace("the front's", "the side's")
            for text in (fault.given, fault.allowed)
        )
        return DesignError(fault.field if first == "roof" else name, given, allowed)

    def hand_over(self) -> None:
        """Its notes to the design's."""
        for name, note in self.notes.items():
            if name.startswith("porch."):
                self.outer.notes.setdefault(f"{self.name}.{name.removeprefix('porch.')}", note)


def _scene_of(scene: Scene, i: int, house: HouseDesign, like: PorchDesign | None = None) -> Scene:
    """The scene as it is read for a side porch: its own porch before a front as deep as the house.

    ``like`` is that porch where it is known.
    """
    asked = scene.side_porches[i]
    roof = asked.roof or "flat"
    update: dict[str, Any] = {"roof": roof, "responds": "none"}
    update |= {name: getattr(scene.porch, name) for name in _KEPT}
    update |= {name: getattr(asked, name) for name in _OWN}
    if like is not None:
        update |= {"height": like.order.whole_height_m, "order": like.order.order}
        update["upper"] = asked.upper
    porch = Porch().model_copy(update=update)
    body = scene.house.model_copy(
        update={
            "width": house.depth_m,
            "depth": house.width_m,
            "bays": max(scene.house.side_bays, 1),
            "bay_centres": None,
            "cornice": house.cornice.height_m,
            "door": Door(),
        }
    )
    return scene.model_copy(update={"porch": porch, "house": body})


def _check_side(scene: Scene, i: int) -> None:
    """Raise DesignError for a side that something else stands at."""
    asked = scene.side_porches[i]
    if any(other.side == asked.side for other in scene.side_porches[:i]):
        raise DesignError(f"side_porches.{i}.side", f"{asked.side} twice", "one porch to a side")
    if any(wing.side in (asked.side, "both") for wing in scene.house.wings):
        raise DesignError(
            f"side_porches.{i}.side", f"{asked.side}, where a wing stands", "a side without a wing"
        )
    if asked.kind == "porte-cochere":
        for field, said in (("steps", "steps"), ("guard", "guard")):
            if field in asked.model_fields_set and getattr(asked, field) is not None:
                raise DesignError(f"side_porches.{i}.{field}", said, "none, where one drives under")
        if asked.fill != "open":
            raise DesignError(f"side_porches.{i}.fill", asked.fill, "open, where one drives under")
        if asked.upper is not None:
            raise DesignError(
                f"side_porches.{i}.upper", "a sleeping porch", "none, over a porte-cochere"
            )


class _SidePorch:
    """One side porch being resolved."""

    def __init__(
        self,
        scene: Scene,
        i: int,
        house: HouseDesign,
        front: PorchDesign,
        levels: tuple[float, ...],
        ground: GroundDesign,
        origins: Origins,
    ) -> None:
        self.asked, self.scene, self.i = scene.side_porches[i], scene, i
        self.house, self.front, self.levels, self.ground = house, front, levels, ground
        self.origins, self.units = origins, origins.units
        self.driven = self.asked.kind == "porte-cochere"

    def design(self) -> SidePorchDesign:
        asked, side = self.asked, self.asked.side
        x, y = on_plan(self.house, side, 0.0, 0.0)
        ground = self.ground.seen_from(x, y, 1 if side == "right" else -1)
        kept = _Within(self.origins, self.i, side)
        try:
            made = self._porch(ground, kept)
        except DesignError as fault:
            raise kept.renamed(fault) from None
        if self.driven:
            made = replace(made, flight=None)
            kept.notes = {k: v for k, v in kept.notes.items() if ".steps." not in k}
        kept.hand_over()
        one = SidePorchDesign(
            side,
            asked.kind,
            made,
            asked.fill,
            asked.upper.fill if asked.upper else "open",
            self._before_drive_m(),
        )
        self._check_places(one)
        return one

    def _porch(self, ground: GroundDesign, kept: _Within) -> StraightPorch:
        """By the front porch's height, so that both cornices are level; else by its own rule."""
        scene = _scene_of(self.scene, self.i, self.house)
        asked = self.asked
        floor_z = self._floor_m()
        order = asked.order or self.scene.porch.order
        columns = asked.columns or (2 if self.driven else 4)
        update: dict[str, Any] = {
            "order": order,
            "columns": columns,
            "pedestals": self.driven and order != "pier"
            if asked.pedestals is None
            else asked.pedestals,
            "floor": floor_z,
            "diameter": asked.diameter,
            "column_height": asked.column_height,
            "entablature": asked.entablature,
        }
        if order != self.scene.porch.order:
            update |= {"entasis": None, "fluted": None}
        level = self._level_height_m(floor_z)
        heights: list[float | None] = [level, None]
        if asked.height is not None:
            heights = [asked.height]
        elif scene.porch.roof != "flat" or (asked.column_height and asked.entablature):
            heights = [None]
        if asked.upper is not None:
            update["upper"] = self._sleeping(asked.upper)
        for height in heights:
            own = scene.porch.model_copy(update={**update, "height": height})
            try:
                return self._set_out(scene, own, ground, kept)
            except DesignError:
                if height is heights[-1]:
                    raise
        raise AssertionError

    def _set_out(
        self, scene: Scene, own: Porch, ground: GroundDesign, kept: _Within
    ) -> StraightPorch:
        """The porch with spacing and depth: by rule as the front's, or as the side leaves room."""
        asked = self.asked
        trial = own.model_copy(update={"spacing": 3.0, "depth": 3.0, "upper": None})
        first = porch_design(self._with(scene, trial), self.levels, (), ground, _quiet(kept))
        spacing = self._spacing_m(own.columns, first, kept)
        depth = self._depth_m(first, kept)
        back = self.origins.choose(
            ("side_porches", self.i, "back"),
            asked.back,
            self.house.depth_m / 2.0,
            "the middle of the side",
        )
        along = along_side_m(self.house, asked.side, back)
        update = {"spacing": spacing, "depth": depth, "along": along if asked.back else None}
        porch = self._with(scene, own.model_copy(update=update))
        made = porch_design(porch, self.levels, (), ground, kept)
        assert isinstance(made, StraightPorch)
        return made

    def _with(self, scene: Scene, own: Porch) -> Scene:
        return scene.model_copy(update={"porch": own})

    def _floor_m(self) -> float:
        """A kerb's height, or as the front porch's, a step below the house's at the least."""
        rule, why = min(self.front.floor_z_m, self.levels[0] - PORCH_STEP_DOWN_M), "as the front's"
        if self.driven:
            rule, why = KERB_M, "a kerb to keep wheels off (common practice)"
        at = ("side_porches", self.i, "floor")
        return self.origins.choose(at, self.asked.floor, rule, why)

    def _level_height_m(self, floor_z: float) -> float | None:
        """The height that brings the cornice level with the front's; None where it is too high."""
        top_z = self.front.top_z_m
        if len(self.levels) < 3:  # of one storey: its flat roof under the house's cornice
            limit_z = self.house.wall_top_z_m - self.house.cornice.height_m
            top_z = min(top_z, limit_z - EAVES_EDGE_M - FLASHING_M - _HOUSED_M)
        if self.asked.upper is not None or top_z > self.levels[1] + HAIR_M:
            return None
        return top_z - floor_z

    def _sleeping(self, upper: Any) -> Any:
        """The sleeping porch's order: posts under a light beam, up to under the house's cornice."""
        if len(self.levels) < 3:
            raise DesignError("porch.upper", "a sleeping porch", "a house of two storeys for it")
        floor_z = self.levels[1] - PORCH_STEP_DOWN_M
        if self.asked.height is not None:
            floor_z = self._floor_m() + self.asked.height
        limit_z = self.house.wall_top_z_m - self.house.cornice.height_m
        room = limit_z - EAVES_EDGE_M - FLASHING_M - _HOUSED_M - floor_z
        update: dict[str, Any] = {"order": upper.order or "pier"}
        if upper.height is None and (upper.column_height is None or upper.entablature is None):
            update["height"] = room
            if upper.entablature is None and upper.column_height is None:
                update["entablature"] = SLEEPING_ENTABLATURE_M
        return upper.model_copy(update=update)

    def _spacing_m(self, columns: int, first: PorchDesign, kept: _Within) -> float:
        at = ("side_porches", self.i, "spacing")
        reach = first.order.upper_diameter_m + 2.0 * first.order.cornice_projection_m
        room = self.house.depth_m - 2.0 * FROM_CORNER_M - reach
        wide = DRIVE_LONG_M if self.driven else max(self.front.open_gaps_m, default=3.0)
        most = room / (columns - 1)
        why = "as of the front porch"
        if self.driven:
            why = f"{default_rule('side_porch.drive_long').said(self.units)} (common practice)"
        if wide > most:
            why = "what the side leaves"
        return self.origins.choose(at, self.asked.spacing, min(wide, most), why)

    def _depth_m(self, first: PorchDesign, kept: _Within) -> float:
        at = ("side_porches", self.i, "depth")
        if self.driven:
            row = default_rule("side_porch.drive")
            rule = self._before_drive_m() + DRIVE_M + first.order.foot_width_m / 2.0
            depth = self.origins.choose(
                at, self.asked.depth, rule, f"{row.said(self.units)} (common practice)"
            )
            least = rule - DRIVE_M + LEAST_DRIVE_M
            if depth < least - HAIR_M:
                raise DesignError(
                    "porch.depth",
                    format_length(depth, self.units),
                    f"{at_least(least, self.units)} or more, to leave a car "
                    f"{format_length(LEAST_DRIVE_M, self.units)} clear",
                )
            return depth
        row = default_rule("side_porch.depth")
        return self.origins.choose(
            at, self.asked.depth, LEAST_DEPTH_M, f"{row.said(self.units)} (common practice)"
        )

    def _before_drive_m(self) -> float:
        """How far a door's landing and steps stand out from the wall under a porte-cochere."""
        if not self.driven:
            return 0.0
        plan = steps_plan(self.house)
        half = self.house.width_m / 2.0
        if plan is None:
            return 0.0
        beyond = plan[2] - half if self.asked.side == "right" else -half - plan[0]
        return max(beyond, 0.0)

    def _check_places(self, one: SidePorchDesign) -> None:
        """Raise DesignError where floor or cornice pass the side wall's ends."""
        low, high = side_porch_plan(self.house, one)[1::2]
        if low >= FROM_CORNER_M - HAIR_M and high <= self.house.depth_m - FROM_CORNER_M + HAIR_M:
            return
        field = "back" if self.asked.back is not None else "spacing"
        room = self.house.depth_m - 2.0 * FROM_CORNER_M
        raise DesignError(
            f"side_porches.{self.i}.{field}",
            f"a porch from {format_length(low, self.units)} to {format_length(high, self.units)} "
            "behind the front",
            f"within {format_length(FROM_CORNER_M, self.units)} and "
            f"{format_length(FROM_CORNER_M + room, self.units)}, clear of the corners",
        )


def _quiet(kept: Origins) -> Origins:
    """A taker of notes that are not handed on."""
    return Origins(kept.lines, kept.units)


def porches_by_wall(porches: tuple[SidePorchDesign, ...]) -> Mapping[str, PorchDesign]:
    """The porches that doors open on, by wall."""
    return {one.side: one.porch for one in porches if one.kind == "porch"}
