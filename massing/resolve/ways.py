"""Which fields may give way to which refusals, and how far from their rule's value.

A row names a field (``*`` any item of a list), how far it may go as shares of the rule's value,
or the whole numbers or words it may take instead, and the refused fields that this can clear, by
how their names begin. How far is common practice, no source: what a builder would still do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from massing.scene.spec import Scene

Path = tuple[str | int, ...]

DOWN = (0.96, 0.9, 0.82, 0.72, 0.6, 0.48, 0.36, 0.25, 0.12, 0.05)
UP = (1.04, 1.1, 1.2, 1.35, 1.6, 2.0, 2.6, 3.5)
"""Steps from a rule's value, as shares of it."""


@dataclass(frozen=True)
class Way:
    """How one field gives way: as shares of its rule's value, in whole numbers, or in words."""

    field: str
    clears: tuple[str, ...]
    least: float = 1.0
    most: float = 1.0
    whole: bool = False
    words: tuple[Any, ...] = ()


_WINDOWS = ("house.windows.", "house.wings.*.windows.")
_UNDER_PORCH = ("porch.height", "porch.upper.height", "porch.roof_pitch")
_BESIDE = (
    "house.bay_spacing",
    "house.bay_centres",
    "house.pair_spacing",
    "house.side_bays",
    "house.corner_pilasters",
    "roof.gutter",
    "porch.spacing",
    "house.door",
    "house.side_door",
)
_COLUMNS = ("porch.", "house.door", "house.corner_pilasters", "roof.gutter", "setting.")


def _size(field: str, least: float, most: float, *clears: str) -> Way:
    return Way(field, clears, least, most)


def _number(field: str, least: int, most: int, *clears: str) -> Way:
    return Way(field, clears, least, most, whole=True)


def _word(field: str, words: tuple[Any, ...], *clears: str) -> Way:
    return Way(field, clears, words=words)


WAYS = (
    # the body of the house
    _size("house.reveal", 0.2, 1.0, "house.reveal"),
    _size("house.wall_thickness", 0.5, 2.0, "house.reveal", "house.width", "house.depth", "porch."),
    _size("house.floor", 0.4, 3.5, "porch.floor", "porch.steps", "site.", "house.side_door"),
    _size("house.cornice", 0.3, 1.35, *_WINDOWS, *_UNDER_PORCH, "roof.gable", "house.wings", "house.door", "roof.pitch", "house.corner"),
    _number("house.bays", 1, 9, "house.bay", "house.centre_bay", "house.pair", "house.door", "porch.spacing"),
    _number("house.side_bays", 0, 6, "house.side_bays", "house.side_door.bay", "house.corner_pilasters", "roof.gutter"),
    _size("house.bay_spacing", 0.5, 1.35, "house.bay_spacing", "house.centre_bay", "house.pair", "house.corner_pilasters", "roof.gutter", "house.door", "porch.spacing"),
    _size("house.pair_spacing", 0.5, 1.4, "house.pair_spacing", "house.bay_spacing"),
    _size("house.centre_bay", 0.7, 1.5, "house.centre_bay", "house.bay_spacing", "house.door"),
    # windows
    _size("house.windows.*.height", 0.4, 1.3, *_WINDOWS, *_UNDER_PORCH),
    _size("house.windows.*.sill", 0.15, 1.9, *_WINDOWS, *_UNDER_PORCH),
    _size("house.windows.*.width", 0.5, 1.8, *_WINDOWS, *_BESIDE),
    _size("house.windows.*.rise", 0.3, 2.0, *_WINDOWS, *_UNDER_PORCH),
    _word("house.windows.*.lights", (((2, 2), (2, 2)), ((2, 1), (2, 1)), ((1, 1), (1, 1))), *_WINDOWS),
    _word("house.windows.*.head", ("segmental arch", "elliptical casing", "casing"), *_WINDOWS, *_UNDER_PORCH),
    _word("house.windows.*.kind", ("casement", "sash"), *_WINDOWS),
    _size("house.windows.*.panel_below", 0.2, 1.0, *_WINDOWS),
    _word("house.windows.*.shutters", ("none",), *_WINDOWS),
    # doors
    _size("house.door.width", 0.7, 1.4, "house.door"),
    _size("house.door.height", 0.75, 1.2, "house.door", *_UNDER_PORCH),
    _word("house.door.transom", (False,), "house.door", *_UNDER_PORCH),
    _word("house.door.panels", ("four", "two", "one"), "house.door.panels"),
    _word("house.door.head", ("casing",), "house.door"),
    _size("house.door.fanlight_rise", 0.6, 1.6, "house.door", *_UNDER_PORCH),
    _number("house.door.fanlight_lights", 2, 15, "house.door.fanlight"),
    _word("house.door.fanlight", ("semicircular", "elliptical"), "house.door.fanlight"),
    _size("house.door.surround.diameter", 0.5, 1.5, "house.door"),
    _size("house.door.surround.entablature", 0.4, 1.5, "house.door"),
    _size("house.side_door.width", 0.7, 1.4, "house.side_door"),
    _size("house.side_door.height", 0.75, 1.2, "house.side_door"),
    _word("house.side_door.panels", ("four", "two", "one"), "house.side_door.panels"),
    _word("house.side_door.head", ("casing",), "house.side_door"),
    _size("house.side_door.fanlight_rise", 0.6, 1.6, "house.side_door"),
    _number("house.side_door.fanlight_lights", 2, 15, "house.side_door.fanlight"),
    _word("house.side_door.fanlight", ("semicircular", "elliptical"), "house.side_door.fanlight"),
    _size("house.side_door.surround.diameter", 0.5, 1.5, "house.side_door"),
    _size("house.side_door.surround.entablature", 0.4, 1.5, "house.side_door"),
    _size("house.side_door.landing", 0.7, 2.6, "house.side_door"),
    _size("house.side_door.steps.width", 0.5, 2.0, "house.side_door"),
    _size("house.side_door.steps.riser", 0.6, 1.2, "house.side_door"),
    _size("house.side_door.steps.tread", 0.7, 1.4, "house.side_door"),
    # words of the house that others want
    _word("house.walls", ("clapboard", "brick", "limestone", "stucco"), "house.relief", "house.quoins", "house.rustication"),
    _word("house.rhythm", ("wide centre", "paired", "equal"), "house.centre_bay", "house.pair_spacing", "house.bays", "house.rhythm"),
    _size("house.clapboard_exposure", 0.5, 2.0, "house.clapboard_exposure"),
    # chimneys and wings
    _size("house.chimneys.*.width", 0.5, 1.0, "house.chimneys", "roof.dormers"),
    _size("house.chimneys.*.depth", 0.5, 1.0, "house.chimneys", "roof.dormers"),
    _size("house.wings.*.depth", 0.4, 1.3, "house.wings", "house.side_door"),
    _size("house.wings.*.width", 0.5, 1.6, "house.wings"),
    _size("house.wings.*.set_back", 0.6, 2.6, "house.wings", "house.corner_pilasters", "house.side_door"),
    _size("house.wings.*.storeys.0", 0.72, 1.2, "house.wings"),
    _size("house.wings.*.cornice", 0.4, 1.3, "house.wings"),
    _number("house.wings.*.bays", 1, 4, "house.wings"),
    _number("house.wings.*.side_bays", 0, 3, "house.wings"),
    _size("house.wings.*.bay_spacing", 0.5, 1.3, "house.wings"),
    _size("house.wings.*.roof.pitch", 0.3, 1.0, "house.wings"),
    # the porch
    _size("porch.height", 0.6, 1.4, *_UNDER_PORCH, *_WINDOWS, "house.door", "porch.", "roof.dormers"),
    _size("porch.spacing", 0.25, 2.0, *_COLUMNS),
    _number("porch.columns", 2, 8, "porch.columns", "porch.spacing", "porch.centre_spacing", "porch.paired", "porch.depth"),
    _size("porch.diameter", 0.4, 1.8, *_COLUMNS),
    _size("porch.column_height", 0.6, 1.4, *_UNDER_PORCH, "porch."),
    _size("porch.entablature", 0.4, 1.6, *_UNDER_PORCH, "porch.", "roof.gable"),
    _size("porch.depth", 0.3, 2.6, *_COLUMNS, *_UNDER_PORCH),
    _size("porch.floor", 0.4, 2.0, "porch.floor", "porch.steps", "site.", "porch.height"),
    _size("porch.paired", 0.7, 2.0, "porch."),
    _size("porch.breaking_forward", 0.2, 1.5, "porch.breaking_forward"),
    _size("porch.blocking_course", 0.2, 1.5, "porch.blocking_course", "porch.height"),
    _size("porch.roof_pitch", 0.25, 2.0, *_UNDER_PORCH, "porch.roof", "roof.dormers"),
    _word("porch.roof", ("hipped", "flat"), "porch.roof", "porch.blocking_course", "porch.height"),
    _word("porch.order", ("doric", "ionic", "tuscan"), "porch.roof", "porch.fluted", "porch.entasis", "house.corner_pilasters"),
    _size("porch.steps.width", 0.4, 2.5, "porch.steps", "porch.spacing"),
    _size("porch.steps.riser", 0.5, 1.25, "porch.steps"),
    _size("porch.steps.tread", 0.7, 1.3, "porch.steps"),
    _size("porch.balustrade.height", 0.5, 2.0, "porch.balustrade", "porch.height", "porch.upper.height"),
    _size("porch.balustrade.baluster_spacing", 0.5, 2.0, "porch.balustrade"),
    _size("porch.guard.baluster_spacing", 0.5, 2.0, "porch.guard"),
    _size("porch.upper.height", 0.6, 1.2, "porch.upper", "house.windows", "porch.height"),
    _size("porch.upper.diameter", 0.4, 1.5, "porch.upper"),
    _size("porch.upper.column_height", 0.6, 1.4, "porch.upper"),
    _size("porch.upper.entablature", 0.4, 1.6, "porch.upper"),
    # the roof
    _word("roof.form", ("gable", "gambrel", "deck", "hip"), "roof.lower_pitch", "roof.break_height", "roof.deck", "roof.gable"),
    _word("roof.gable", ("raking cornice",), "roof.gable_foot"),
    _word("roof.gutter", ("half round",), "roof.gutter_width"),
    _size("roof.pitch", 0.4, 3.0, "roof.", "house.wings", "porch.roof", "house.chimneys"),
    _size("roof.lower_pitch", 0.7, 2.0, "roof."),
    _size("roof.break_height", 0.3, 1.6, "roof."),
    _size("roof.deck_width", 0.4, 2.0, "roof.", "house.chimneys"),
    _size("roof.overhang", 0.25, 3.0, "roof.", "porch.depth"),
    _size("roof.gutter_width", 0.7, 1.6, "roof.gutter_width"),
    _size("roof.deck_balustrade.height", 0.5, 1.5, "roof.deck_balustrade"),
    _size("roof.deck_balustrade.baluster_spacing", 0.6, 1.6, "roof.deck_balustrade"),
    _word("roof.dormers.kind", ("segmental", "gabled", "shed"), "roof.dormers.rise", "roof.dormers.pitch"),
    _word("roof.dormers.count", (1, 2, 3), "roof.dormers"),
    _size("roof.dormers.width", 0.5, 1.5, "roof.dormers"),
    _size("roof.dormers.height", 0.5, 1.3, "roof.dormers"),
    _size("roof.dormers.sill", 0.4, 1.8, "roof.dormers"),
    _size("roof.dormers.cornice", 0.4, 1.3, "roof.dormers"),
    _size("roof.dormers.pitch", 0.3, 2.0, "roof.dormers"),
    _size("roof.dormers.rise", 0.5, 1.5, "roof.dormers"),
)  # fmt: skip

TYPED = (
    _size("house.width", 0.3, 3.0, ""),
    _size("house.depth", 0.3, 3.0, "house.", "roof.", "porch.depth"),
    _size("house.storeys.*", 0.6, 1.6, ""),
)
"""What a scene always gives: told among the typed fields whose change would fit."""


def ways_to_clear(
    scene: Scene, refused: str, notes: Mapping[str, Any], typed: bool = False
) -> Iterator[tuple[Path, Way]]:
    """Fields that can clear a refusal, the refused one first, each with how it gives way."""
    rows = [way for way in (*WAYS, *(TYPED if typed else ())) if _clears(way, refused)]
    rows.sort(key=lambda way: not _alike(way.field, refused))
    for way in rows:
        for path in _paths(scene, way.field):
            yield path, way


def _clears(way: Way, refused: str) -> bool:
    plain = refused.split(".")
    return _alike(way.field, refused) or any(_begins(start, plain) for start in way.clears)


def _begins(start: str, steps: list[str]) -> bool:
    """Whether a refused field's name begins so; ``*`` stands for a number."""
    wanted = start.split(".")
    if len(wanted) > len(steps):
        return False
    pairs = list(zip(wanted, steps, strict=False))
    exact = all(w == s or (w == "*" and s.isdecimal()) for w, s in pairs[:-1])
    return exact and (pairs[-1][1].startswith(pairs[-1][0]) or pairs[-1][0] == "*")


def _alike(field: str, refused: str) -> bool:
    a, b = field.split("."), refused.split(".")
    return len(a) == len(b) and all(x == y or (x == "*" and y.isdecimal()) for x, y in zip(a, b))


def _paths(scene: Scene, field: str) -> Iterator[Path]:
    """The field in a scene: once for each storey's window, each chimney, each wing."""
    steps = field.split(".")
    if "*" not in steps:
        if _group_stands(scene, steps):
            yield tuple(int(step) if step.isdecimal() else step for step in steps)
        return
    at = steps.index("*")
    owner: Any = scene
    for step in steps[:at]:
        owner = getattr(owner, step)
    number = len(scene.house.storeys) if steps[at - 1] == "windows" else len(owner)
    for i in range(number):
        yield tuple(i if step == "*" else int(step) if step.isdecimal() else step for step in steps)


def _group_stands(scene: Scene, steps: list[str]) -> bool:
    node: Any = scene
    for step in steps[:-1]:
        node = getattr(node, step, None)
    return node is not None
