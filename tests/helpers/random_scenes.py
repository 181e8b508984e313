"""Scenes drawn at random over every field of a design, as a designer would write them.

Two ways: ``wild`` takes each value from far outside what anyone builds to far inside; ``common``
takes only what is common practice (no source) for a house of its size, and words that agree with
each other. The same seed gives the same scene.
"""

from __future__ import annotations

import random
import typing
from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Any, ForwardRef, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from massing.practice.joinery_sizes import HEADS
from massing.scene.spec import SPACING_NAMES, Steps
from massing.scene.spec.scene import Alterable
from massing.scene.spec.site import GroundSlope

SITE = {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S 20 E"}
LIGHTS = (
    "6 over 6",
    "2 over 2",
    "3x2 over 3x3",
    "1 over 1",
    "three lights wide",
    "2x3",
    "9 over 6",
)


@dataclass(frozen=True)
class Inches:
    """A length in common practice, and whether it may be nothing or less."""

    low: float
    high: float
    anywhere: bool = False


@dataclass(frozen=True)
class OneOf:
    """Written values, each of them common."""

    values: tuple[Any, ...]


Draw = Inches | OneOf

DRAWS: dict[str, Draw] = {
    "GroundSlope.along": OneOf(("level", "1:40", "-1:40", "1:60")),
    "GroundSlope.back": OneOf(("level", "1:40", "-1:40", "1:60")),
    "House.width": Inches(432, 816),
    "House.depth": Inches(312, 480),
    "House.floor": Inches(20, 42),
    "House.storeys": Inches(112, 150),
    "House.wall_thickness": Inches(8, 16),
    "House.reveal": Inches(1.5, 4),
    "House.bays": OneOf((3, 5, 5, 7)),
    "House.side_bays": OneOf((0, 1, 2, 3)),
    "House.bay_spacing": Inches(96, 132),
    "House.centre_bay": Inches(144, 168),
    "House.pair_spacing": Inches(60, 84),
    "House.bay_centres": Inches(-300, 300, anywhere=True),
    "House.cornice": Inches(12, 22),
    "House.clapboard_exposure": Inches(4, 7),
    "Chimney.along": Inches(-160, 160, anywhere=True),
    "Chimney.back": Inches(100, 220),
    "Chimney.width": Inches(24, 42),
    "Chimney.depth": Inches(20, 30),
    "Chimney.height": Inches(24, 48),
    "Wing.width": Inches(168, 264),
    "Wing.depth": Inches(168, 216),
    "Wing.along": Inches(170, 260, anywhere=True),
    "Wing.set_back": Inches(36, 60),
    "Wing.storeys": Inches(96, 108),
    "Wing.bays": OneOf((1, 2)),
    "Wing.bay_spacing": Inches(84, 108),
    "Wing.side_bays": OneOf((0, 1, 2)),
    "Wing.cornice": Inches(8, 14),
    "WingRoof.pitch": OneOf(("4:12", "5:12", "6:12")),
    "WingRoof.overhang": Inches(1, 4),
    "Window.width": Inches(30, 38),
    "Window.height": Inches(56, 66),
    "Window.sill": Inches(20, 30),
    "Window.lights": OneOf(LIGHTS),
    "Window.rise": Inches(4, 6),
    "Window.panel_below": Inches(10, 14),
    "Window.shutter_width": Inches(14, 18),
    "Colours.walls": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.trim": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.columns": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.sash": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.door": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.shutters": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.ceiling": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.floor": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.mortar": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.stone": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "Colours.foundation": OneOf(("chalk", "bottle green", "#8c9a7f")),
    "BayWindow.bay": OneOf((1,)),
    "BayWindow.width": Inches(84, 100),
    "BayWindow.depth": Inches(20, 30),
    "BayWindow.cornice": Inches(5, 9),
    "BayWindow.pitch": OneOf(("3:12", "4:12")),
    "OddWindow.storey": OneOf((1,)),
    "OddWindow.bay": OneOf((1, 2)),
    "Surround.canon": OneOf(("vignola",)),
    "Surround.diameter": Inches(9, 12),
    "Surround.entablature": Inches(16, 20),
    "Door.width": Inches(36, 40),
    "Door.height": Inches(80, 84),
    "Door.fanlight_rise": Inches(16, 19),
    "Door.fanlight_lights": OneOf((5, 7)),
    "WingDoor.bay": OneOf((1,)),
    "WingDoor.number": OneOf((1,)),
    "Wing.floor": Inches(4, 24),
    "WingDoor.landing": Inches(42, 60),
    "SideDoor.bay": OneOf((1, 1, 2)),
    "SideDoor.landing": Inches(42, 60),
    "Steps.width": Inches(60, 96),
    "Steps.riser": Inches(6, 7.5),
    "Steps.tread": Inches(11, 14),
    "SidePorch.back": Inches(140, 260),
    "SidePorch.columns": OneOf((2, 3, 4)),
    "SidePorch.spacing": Inches(72, 110),
    "SidePorch.depth": Inches(80, 130),
    "SidePorch.height": Inches(100, 118),
    "SidePorch.diameter": Inches(9, 13),
    "SidePorch.column_height": Inches(90, 100),
    "SidePorch.entablature": Inches(14, 22),
    "SidePorch.floor": Inches(4, 20),
    "SidePorch.roof_pitch": OneOf(("2:12", "3:12", "4:12")),
    "Porch.canon": OneOf(("vignola",)),
    "Door.bay": OneOf((1, 2, 3)),
    "Porch.along": OneOf(("bay 2", "bay 1", "bays 1 and 2", "4 ft", "-60 in")),
    "Porch.wrap_length": Inches(110, 190),
    "Porch.columns": OneOf((2, 4, 4, 6)),
    "Porch.spacing": Inches(84, 120),
    "Porch.centre_spacing": Inches(120, 132),
    "Porch.paired": Inches(20, 30),
    "Porch.breaking_forward": Inches(2, 4),
    "Porch.blocking_course": Inches(8, 14),
    "Porch.height": Inches(118, 132),
    "Porch.diameter": Inches(11, 15),
    "Porch.column_height": Inches(96, 110),
    "Porch.entablature": Inches(20, 28),
    "Porch.depth": Inches(84, 120),
    "Arcade.pier": Inches(36, 48),
    "Arcade.thickness": Inches(16, 24),
    "Arcade.arch_height": Inches(96, 108),
    "Porch.ceiling_height": Inches(96, 110),
    "Porch.side_columns": OneOf((0, 0, 1)),
    "Porch.floor": Inches(18, 30),
    "Porch.roof_pitch": OneOf(("2:12", "3:12", "4:12")),
    "Balustrade.height": Inches(24, 36),
    "Balustrade.baluster_spacing": Inches(6, 8),
    "UpperPorch.height": Inches(100, 130),
    "UpperPorch.diameter": Inches(9, 12),
    "UpperPorch.column_height": Inches(84, 100),
    "UpperPorch.entablature": Inches(16, 22),
    "Roof.pitch": OneOf(("5:12", "6:12", "8:12")),
    "Roof.lower_pitch": OneOf(("20:12", "24:12")),
    "Roof.break_height": Inches(84, 108),
    "Roof.deck_width": Inches(96, 144),
    "Roof.gutter_width": Inches(5, 6),
    "Roof.overhang": Inches(1, 4),
    "FrontGable.along": Inches(-190, 190, anywhere=True),
    "FrontGable.width": Inches(120, 180),
    "FrontGable.pitch": OneOf(("6:12", "8:12")),
    "GableOpening.width": Inches(14, 24),
    "GableOpening.height": Inches(18, 30),
    "GableOpening.sill": Inches(12, 20),
    "GableOpening.lights": OneOf(LIGHTS),
    "Dormers.count": OneOf((1, 2, 3)),
    "Dormers.centres": Inches(-180, 180, anywhere=True),
    "Dormers.width": Inches(26, 34),
    "Dormers.height": Inches(36, 46),
    "Dormers.sill": Inches(28, 36),
    "Dormers.lights": OneOf(LIGHTS),
    "Dormers.pitch": OneOf(("4:12", "6:12")),
    "Dormers.rise": Inches(7, 9),
    "Dormers.cornice": Inches(4, 6),
    "Hedge.length": Inches(120, 300),
    "Hedge.width": Inches(24, 48),
    "Hedge.height": Inches(24, 48),
    "Tree.height": Inches(240, 600),
    "Tree.spread": Inches(200, 400),
    "Neighbour.width": Inches(400, 700),
    "Neighbour.depth": Inches(300, 500),
    "Neighbour.eaves": Inches(200, 260),
    "Neighbour.ridge": Inches(330, 420),
}
"""Of each field that is no closed set of words; a new field wants a row."""

_PLACED = ("Hedge", "Tree", "Neighbour")  # drawn beside and behind the house, clear of it
_NAMED = {
    "Porch.spacing": SPACING_NAMES,
    "Porch.height": ("eaves", "storey"),
    "UpperPorch.height": ("eaves", "storey"),
}
_COMMON_NAMES = {"Porch.spacing": ("bays", "eustyle", "diastyle", "full width")}
_SWITCHES = ("Porch.paired", "Porch.breaking_forward", "Porch.blocking_course")


def design_fields() -> list[tuple[str, FieldInfo]]:
    """Every leaf that an alternative may change, and the lie of the ground, by model and name."""
    found: dict[str, FieldInfo] = {}

    def walk(model: type[BaseModel]) -> None:
        for name, info in model.model_fields.items():
            owner = _owner(model, name)
            inner = _model_of(info.annotation)
            if inner is not None:
                walk(inner)
            else:
                found[f"{owner}.{name}"] = info

    walk(Alterable)
    walk(GroundSlope)
    return sorted(found.items())


def fields_by_path() -> list[str]:
    """The same leaves, and the groups above them, dotted; ``*`` is any item of a list."""
    found: list[str] = []

    def walk(model: type[BaseModel], at: str) -> None:
        for name, info in model.model_fields.items():
            listed = any(get_origin(kind) is list for kind in kinds_of(info.annotation))
            inner = _model_of(info.annotation)
            found.append(f"{at}{name}")
            own = f"{at}{name}" + (".*" if listed else "")
            if listed:
                found.append(own)
            if inner is not None:
                walk(inner, f"{own}.")

    walk(Alterable, "")
    return found


def _owner(model: type[BaseModel], name: str) -> str:
    """The model in which a field was first written down."""
    bases = [m for m in model.__mro__ if issubclass(m, BaseModel) and name in m.model_fields]
    if model.__name__ in DRAWS or f"{model.__name__}.{name}" in DRAWS:
        return model.__name__
    return bases[-1].__name__


def kinds_of(annotation: Any) -> list[Any]:
    """The plain kinds in a field's type, without None."""
    kinds = [annotation]
    while any(get_origin(kind) in (Union, UnionType, typing.Annotated) for kind in kinds):
        opened = []
        for kind in kinds:
            if get_origin(kind) is typing.Annotated:
                opened.append(get_args(kind)[0])
            else:
                opened += get_args(kind) if get_origin(kind) in (Union, UnionType) else [kind]
        kinds = opened
    return [kind for kind in kinds if kind is not NoneType]


def _model_of(annotation: Any) -> type[BaseModel] | None:
    for kind in kinds_of(annotation):
        if kind == ForwardRef("Steps"):
            return Steps
        if get_origin(kind) is list:
            return _model_of(get_args(kind)[0])
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            return kind
    return None


def words_of(info: FieldInfo) -> tuple[Any, ...]:
    """The closed set of words or switches that a field takes; none where it takes more."""
    kinds = kinds_of(info.annotation)
    words = [w for k in kinds if get_origin(k) is Literal for w in get_args(k)]
    return tuple(words) if words else (True, False) if kinds == [bool] else ()


def length(inches: float, units: str) -> str:
    """A length as a scene in these units would have it, to a quarter inch or 5 mm."""
    if units == "metric":
        return f"{round(inches * 25.4 / 5.0) * 5} mm"
    return f"{round(inches * 4) / 4:g} in"


class _Writer:
    def __init__(self, seed: int, common: bool) -> None:
        self.rng = random.Random(seed)
        self.common = common
        self.units = self.rng.choice(("feet", "feet", "metric"))
        self.share = self.rng.uniform(0.03, 0.2) if common else self.rng.uniform(0.05, 0.5)
        self.many = 0.25 if common else 0.5

    def model(self, model: type[BaseModel]) -> dict[str, Any]:
        made = {}
        for name, info in model.model_fields.items():
            inner = _model_of(info.annotation)
            share = 0.5 * self.share if inner else self.share
            if not info.is_required() and self.rng.random() > share:
                continue
            value = (
                self._group(inner, info) if inner else self._leaf(_owner(model, name), name, info)
            )
            made[name] = value
        return made

    def _group(self, inner: type[BaseModel], info: FieldInfo) -> Any:
        if not any(get_origin(kind) is list for kind in kinds_of(info.annotation)):
            return self.model(inner)
        count = self.rng.choice((1, 1, 2) if self.common else (0, 1, 2, 3))
        most = next((m.max_length for m in info.metadata if hasattr(m, "max_length")), 3)
        return [self.model(inner) for _ in range(min(count, most))]

    def _leaf(self, owner: str, name: str, info: FieldInfo) -> Any:
        key = f"{owner}.{name}"
        words = words_of(info)
        if words:
            return self.rng.choice(words)
        if key in _NAMED and self.rng.random() < 0.6:
            return self.rng.choice(
                _COMMON_NAMES.get(key, _NAMED[key]) if self.common else _NAMED[key]
            )
        if key in _SWITCHES and self.rng.random() < 0.6:
            return self.rng.random() < 0.5
        if name in ("along", "before") and owner == "Placed":
            return length(self._far(name), self.units)
        draw = DRAWS[key]
        if any(get_origin(kind) is list for kind in kinds_of(info.annotation)):
            few = 1 if name == "storeys" else 3
            return [self._value(draw) for _ in range(self.rng.randint(1, few + 1))][:3]
        return self._value(draw)

    def _far(self, name: str) -> float:
        side = self.rng.choice((-1.0, 1.0))
        return (
            side * self.rng.uniform(700, 1200) if name == "along" else self.rng.uniform(-300, 600)
        )

    def _value(self, draw: Draw) -> Any:
        if isinstance(draw, OneOf):
            return self.rng.choice(draw.values)
        low, high = draw.low, draw.high
        if not self.common and draw.anywhere:
            low, high = 1.5 * low, 1.5 * high
        elif not self.common and self.rng.random() < 0.5:
            low, high = 0.4 * low, 2.0 * high
        return length(self.rng.uniform(low, high), self.units)


def scene(seed: int, common: bool = False) -> dict[str, Any]:
    """A scene as plain data, with its units; nearly every optional field now and then."""
    writer = _Writer(seed, common)
    rng = writer.rng
    made = writer.model(Alterable)
    house = made["house"]
    storeys = rng.choice((1, 2, 2) if common else (1, 2, 3))
    house["storeys"] = [writer._value(DRAWS["House.storeys"]) for _ in range(storeys)]
    if common or rng.random() < 0.6:
        _agree(made, storeys, rng, writer)
    if rng.random() < 0.1:
        slope = writer.model(GroundSlope)
        made["site"] = {**SITE, "ground_slope": slope}
    return {
        "title": "Any house",
        "units": writer.units,
        "site": made.pop("site", SITE),
        **made,
        "times": ["equinox 10:00"],
    }


def _agree(made: dict[str, Any], storeys: int, rng: random.Random, writer: _Writer) -> None:
    """Words and numbers that no builder would put together, put right or left out."""
    house, porch = made["house"], made.setdefault("porch", {})
    roof = made.setdefault("roof", {})
    _house_agrees(house, rng, writer)
    windows = [house.get("windows", [])]
    wings = house.get("wings", [])
    windows += [wing.get("windows") or [] for wing in wings]
    for row in windows:
        for i, window in enumerate(row):
            _window_agrees(window, i, house["walls"])
    sides = {wing["side"] for wing in wings}
    if len(sides) < len(wings) or (len(wings) > 1 and "both" in sides):
        del wings[1:]
    for wing in wings:
        wing.pop("chimneys", None)
        wing.pop("bay_spacing", None)
        if wing["side"] == "front":
            wing.pop("set_back", None)
            house.pop("corner_pilasters", None)  # the wing's eaves stand where they would
        else:
            wing.pop("along", None)
        _wing_gable_agrees(wing, storeys)
        if storeys == 1:
            wing.pop("storeys", None)
    for door in (house.get("door"), house.get("side_door"), *(w.get("door") for w in wings)):
        if door is not None:
            _door_agrees(door)
    _porch_agrees(porch, storeys, rng)
    wraps = porch.get("wraps", "none")
    if wraps != "none":
        house.pop("wings", None)
        for name in ("quoins", "corner_pilasters", "belt_courses", "rustication"):
            house.pop(name, None)
    _sides_agree(made, {wraps, *(wing["side"] for wing in wings)}, storeys)
    _roof_agrees(roof, rng)
    del house.get("chimneys", [])[1:]


def _sides_agree(made: dict[str, Any], winged: set[str], storeys: int) -> None:
    """One porch to a side without a wing, and on a porte-cochere nothing of a sitting porch."""
    taken = winged | ({"left", "right"} if "both" in winged else set())
    kept = []
    for one in made.pop("side_porches", []):
        if one["side"] in taken:
            continue
        taken.add(one["side"])
        if one.get("kind") == "porte-cochere":
            for name in ("steps", "guard", "fill", "upper", "depth", "floor"):
                one.pop(name, None)
        for name in ("diameter", "column_height", "entablature"):
            one.pop(name, None)
        if one.get("roof", "flat") == "flat":
            one.pop("roof_pitch", None)
            one.pop("roof_covering", None)
        else:
            one.pop("balustrade", None)
        if one.get("order", made["porch"].get("order")) == "pier":
            one.pop("pedestals", None)
        if storeys == 1:
            one.pop("upper", None)
        kept.append(one)
    if kept:
        made["side_porches"] = kept


def _house_agrees(house: dict[str, Any], rng: random.Random, writer: _Writer) -> None:
    house.setdefault("walls", rng.choice(("stucco", "clapboard", "brick", "limestone")))
    walls = house["walls"]
    for bay in house.get("bay_windows", []):
        for name in ("width", "depth", "pitch", "cornice"):
            bay.pop(name, None)
    del house.get("bay_windows", [])[1:]
    if "odd_windows" in house:
        house["odd_windows"] = [{"bay": 1, "number": rng.choice(("one", "two", "none"))}]
    for name in ("bay_centres", "bay_spacing", "centre_bay", "pair_spacing", "rhythm"):
        house.pop(name, None)
    wide = _inches(house["width"])
    house["bays"] = 3 if wide < 500 else rng.choice((3, 5)) if wide < 640 else rng.choice((5, 7))
    if house["bays"] == 7 and wide < 700:
        house["bays"] = 5
    house["side_bays"] = min(house.get("side_bays", 2), 2 if _inches(house["depth"]) < 360 else 3)
    if rng.random() < 0.15:
        house["rhythm"] = "wide centre"
    if walls == "clapboard":
        house.pop("quoins", None)
        house.pop("wall_thickness", None)
        if "reveal" in house:
            house["reveal"] = writer._value(Inches(1, 1.5))
    if walls == "stucco":
        house.pop("relief", None)
    if walls not in ("limestone", "stucco"):
        house.pop("rustication", None)
    if house.get("quoins"):
        house.pop("corner_pilasters", None)


def _wing_gable_agrees(wing: dict[str, Any], storeys: int) -> None:
    own = wing.get("roof", {})
    level = wing["side"] == "front" and storeys == 1
    if not level:
        own.pop("gable_foot", None)
    else:
        wing.pop("cornice", None)
        for name in ("overhang", "covering"):
            own.pop(name, None)
    if own.get("gable_opening") and (own.get("form") != "gable"):
        own.pop("gable_opening")
    if own.get("form") == "hip":
        own.pop("gable_foot", None)
    _opening_agrees(own.get("gable_opening"))


def _opening_agrees(opening: dict[str, Any] | None) -> None:
    """What stands in a gable: small, by rule but for its kind."""
    for name in ("width", "height", "sill", "lights", "head") if opening else ():
        opening.pop(name, None)  # type: ignore[union-attr]


def _inches(written: str) -> float:
    number, unit = written.split()
    return float(number) / (25.4 if unit == "mm" else 1.0)


def _window_agrees(window: dict[str, Any], storey: int, walls: str) -> None:
    masonry = walls in ("brick", "limestone")
    head = window.get("head", "casing")
    if HEADS[head].of == "brick" and walls != "brick":
        window.pop("head", None)
    if HEADS[head].of == "stone" and not masonry:
        window.pop("head", None)
    line = HEADS[window.get("head", "casing")].line
    if line != "segmental":
        window.pop("rise", None)
    kind = window.get("kind", "sash")
    if kind == "french" and storey:
        window.pop("kind")
    if kind == "tripartite":
        for name in ("width", "height", "lights"):
            window.pop(name, None)
    if kind != "casement":
        window.pop("leaves", None)
    elif window.get("leaves") == 1:
        window.pop("leaves")
    if kind == "casement" and "over" in window.get("lights", ""):
        window["lights"] = "2x3"
    if window.get("head") == "hood on consoles":
        window.pop("shutters", None)


def _door_agrees(door: dict[str, Any]) -> None:
    fanlight = door.get("fanlight", "none")
    if fanlight != "none":
        door.pop("sidelights", None)
        door["transom"] = False
    if fanlight != "elliptical":
        door.pop("fanlight_rise", None)
    if fanlight == "none":
        door.pop("fanlight_lights", None)
        door.pop("fanlight_ring", None)
    if door.get("fanlight_ring") == "swags":
        door.pop("fanlight_lights", None)
    lines = ("level", "segmental") if fanlight == "none" else (fanlight,)
    if "surround" in door or HEADS[door.get("head", "casing")].line not in lines:
        door.pop("head", None)
    if "surround" in door:
        surround = door["surround"]
        if surround.get("order") == "pier":
            surround.pop("pediment", None)
    if door.get("leaves") == 2:
        door.pop("width", None)
        door.pop("sidelights", None)


def _porch_agrees(porch: dict[str, Any], storeys: int, rng: random.Random) -> None:
    pier = porch.get("order") == "pier"
    if pier:
        for name in ("fluted", "entasis", "responds", "balustrade"):
            porch.pop(name, None)
    roof = porch.get("roof", "flat")
    if porch.get("shape", "straight") != "straight":
        for name in (
            *("responds", "breaking_forward", "blocking_course", "side_columns", "paired"),
            *("pedestals", "centre_spacing", "balustrade", "guard", "upper", "steps", "floor"),
            *("spacing", "depth", "roof"),
        ):
            porch.pop(name, None)
        roof = "flat"
    if roof == "flat":
        porch.pop("roof_pitch", None)
    else:
        porch.pop("blocking_course", None)
        porch.pop("balustrade", None)
        porch.pop("height", None)
    if roof == "pediment":
        porch.pop("breaking_forward", None)
        if pier:
            porch.pop("roof")
            porch.pop("roof_pitch", None)
    if porch.get("paired") is True or isinstance(porch.get("paired"), str):
        porch["columns"] = 4
        porch["paired"] = True
        porch.pop("spacing", None)
        porch.pop("side_columns", None)
    if porch.get("wraps", "none") == "none":
        porch.pop("wrap_length", None)
    else:
        for name in (
            *(
                "responds",
                "breaking_forward",
                "blocking_course",
                "side_columns",
                "paired",
                "arcade",
            ),
            *("centre_spacing", "balustrade", "upper", "columns", "spacing", "roof", "height"),
            *("roof_pitch", "ceiling", "shape", "along", "steps"),
        ):
            porch.pop(name, None)
    if porch.get("columns", 4) != 4:
        porch.pop("centre_spacing", None)
    if porch.get("spacing") == "full width":
        porch.pop("along", None)
    if porch.get("spacing") in ("bays", "full width") or porch.get("paired"):
        porch.pop("centre_spacing", None)
    if isinstance(porch.get("breaking_forward"), str):
        porch["breaking_forward"] = True
    if any(name in porch for name in ("diameter", "column_height", "entablature")):
        porch.pop("height", None)  # which follows from them
    if "upper" in porch:
        porch.pop("upper") if storeys == 1 else None
        for name in ("height", "roof", "roof_pitch", "balustrade", "pedestals", "side_columns"):
            porch.pop(name, None)
    if "upper" in porch:
        upper = porch["upper"]
        for name in ("height", "diameter", "column_height", "entablature"):
            upper.pop(name, None)
        if pier or upper.get("order") == "pier":
            porch.pop("upper")


def _roof_agrees(roof: dict[str, Any], rng: random.Random) -> None:
    form = roof.get("form", "hip")
    if form != "gambrel":
        roof.pop("lower_pitch", None)
        roof.pop("break_height", None)
    else:
        for name in ("pitch", "lower_pitch", "break_height"):
            roof.pop(name, None)
    if form != "deck":
        for name in ("deck_width", "deck_surface", "deck_balustrade"):
            roof.pop(name, None)
    for gable in roof.get("gables", []):
        gable.pop("pitch", None)
        _opening_agrees(gable.get("opening"))
    del roof.get("gables", [])[1:]
    _opening_agrees(roof.get("gable_opening"))
    if form != "gable":
        roof.pop("gable", None)
        roof.pop("gable_opening", None)
        roof.pop("gable_foot", None)
    if roof.get("gable") != "raking cornice":
        roof.pop("gable_foot", None)
    if roof.get("gutter", "none") == "none":
        roof.pop("gutter_width", None)
    dormers = roof.get("dormers")
    if dormers is not None:
        for name in ("centres", "count"):  # which must fit the slope
            dormers.pop(name, None)
        roof["pitch"] = rng.choice(("9:12", "10:12"))
        if form == "gambrel":
            roof.pop("pitch")
        kind = dormers.get("kind", "gabled")
        if kind != "segmental":
            dormers.pop("rise", None)
        if kind != "gabled":
            dormers.pop("pitch", None)
