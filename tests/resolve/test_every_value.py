"""Every value of every field in a scene where it ought to stand."""

from __future__ import annotations

from copy import deepcopy
from itertools import pairwise
from typing import Any

import pytest

from massing.build.house import build
from massing.resolve.design import resolve
from massing.scene.lines import parse_field
from massing.scene.spec import Scene
from massing.scene.spec.written import SPACING_NAMES
from tests.helpers.random_scenes import (
    DRAWS,
    Inches,
    OneOf,
    design_fields,
    fields_by_path,
    length,
    words_of,
)
from tests.resolve.test_design import SITE

FT = {"width": "60 ft", "depth": "36 ft", "storeys": ["12 ft", "10 ft"]}
STRAIGHT = {"order": "tuscan"}
BASES: dict[str, dict[str, Any]] = {
    "": {},
    "house.bond": {"house": {"walls": "brick", "relief": True}},
    "house.coursing": {"house": {"walls": "limestone", "relief": True}},
    "house.rustication": {"house": {"walls": "limestone"}},
    "house.relief": {"house": {"walls": "brick"}},
    "house.clapboard_exposure": {"house": {"walls": "clapboard", "relief": True}},
    "house.centre_bay": {"house": {"rhythm": "wide centre"}},
    "house.pair_spacing": {"house": {"rhythm": "paired", "bays": 6}},
    "house.rhythm": {"house": {"bays": 6}},
    "house.side_door": {"house": {"side_door": {"wall": "left", "bay": 1}}},
    "house.door.fanlight_rise": {"house": {"door": {"fanlight": "elliptical"}}},
    "house.door.fanlight_lights": {"house": {"door": {"fanlight": "semicircular"}}},
    "house.door.fanlight_ring": {"house": {"door": {"fanlight": "semicircular"}}},
    "house.door.surround": {"house": {"door": {"surround": {}}}},
    "house.windows.shutter": {"house": {"windows": [{"shutters": "louvred"}]}},
    "house.windows.hold_backs": {"house": {"windows": [{"shutters": "louvred"}]}},
    "house.windows.rise": {"house": {"windows": [{"head": "segmental arch"}], "walls": "brick"}},
    "house.windows.head": {"house": {"walls": "brick"}},
    "house.windows.leaves": {"house": {"windows": [{"kind": "casement"}]}},
    "house.chimneys": {"house": {"chimneys": [{"along": "20 ft", "back": "12 ft"}]}},
    "house.wings": {"house": {"wings": [{"side": "right"}]}},
    "house.wings.door": {"house": {"wings": [{"side": "right", "door": {}}]}},
    "house.bay_windows": {"house": {"storeys": ["14 ft", "10 ft"], "bay_windows": [{"bay": 1}]}},
    "house.wings.roof.gable": {
        "house": {
            "storeys": ["12 ft"],
            "wings": [{"side": "front", "roof": {"form": "gable"}}],
        }
    },
    "house.wings.along": {"house": {"wings": [{"side": "front"}]}},
    "porch.steps": {"porch": STRAIGHT},
    "porch.upper": {"porch": {"order": "tuscan", "upper": {}}},
    "porch.upper.height": {"house": {"storeys": ["12 ft", "13 ft"]}, "porch": {"upper": {}}},
    "porch.guard": {"porch": {"guard": {}}},
    "porch.balustrade": {"porch": {"balustrade": {}}},
    "porch.roof_pitch": {"porch": {"roof": "hipped"}},
    "porch.roof_covering": {"porch": {"roof": "hipped"}},
    "porch.wrap_length": {"porch": {"wraps": "both"}},
    "side_porches": {"side_porches": [{"side": "left"}]},
    "side_porches.roof_": {"side_porches": [{"side": "left", "roof": "hipped"}]},
    "side_porches.upper": {"side_porches": [{"side": "left", "order": "pier", "upper": {}}]},
    "porch.arcade": {"porch": {"height": "eaves", "arcade": {}}},
    "roof.lower_pitch": {"roof": {"form": "gambrel"}},
    "roof.break_height": {"roof": {"form": "gambrel"}},
    "roof.deck": {"roof": {"form": "deck"}},
    "roof.deck_balustrade": {"roof": {"form": "deck", "deck_balustrade": {}}},
    "roof.gutter_": {"roof": {"gutter": "half round"}},
    "roof.gable": {"roof": {"form": "gable"}},
    "roof.gables": {"roof": {"pitch": "8:12", "gables": [{"along": "18 ft", "width": "16 ft"}]}},
    "roof.gable_foot": {"roof": {"form": "gable", "gable": "raking cornice"}},
    "roof.dormers": {"roof": {"pitch": "10:12", "dormers": {}}},
    "roof.dormers.rise": {"roof": {"pitch": "10:12", "dormers": {"kind": "segmental"}}},
}
"""What a field waits for, by how its name begins; the longest that fits."""

# Said by other tests: what places things by themselves, and lists given one by one.
_ELSEWHERE = ("setting.", "house.bay_centres", "roof.dormers.centres", "house.storeys")
_TURNS: dict[str, dict[str, Any]] = {
    "stone": {"house": {"walls": "limestone"}},
    "main slope": {"house": {"storeys": ["11 ft"]}},
}


def _paths() -> dict[str, list[str]]:
    """Dotted paths of each leaf, by model and field."""
    found: dict[str, list[str]] = {}
    keys = [key for key, _ in design_fields()]
    for path in fields_by_path():
        steps = path.split(".")
        for key in keys:
            if key.split(".")[1] == steps[-1] and _owns(key.split(".")[0], steps[:-1]):
                found.setdefault(key, []).append(path)
    return found


_OWNERS = {
    "House": ("house",),
    "Window": ("house.windows.*",),
    "Door": ("house.door", "house.side_door"),
    "SideDoor": ("house.side_door",),
    "WingDoor": ("house.wings.*.door",),
    "Surround": ("house.door.surround",),
    "Steps": ("porch.steps",),
    "PorchSteps": ("porch.steps",),
    "Chimney": ("house.chimneys.*",),
    "Wing": ("house.wings.*",),
    "WingRoof": ("house.wings.*.roof",),
    "Porch": ("porch",),
    "UpperPorch": ("porch.upper",),
    "Roof": ("roof",),
    "Dormers": ("roof.dormers",),
    "Balustrade": ("porch.balustrade", "porch.guard", "roof.deck_balustrade"),
    "Arcade": ("porch.arcade",),
    "SidePorch": ("side_porches.*",),
    "SleepingPorch": ("side_porches.*.upper",),
}


def _owns(model: str, steps: list[str]) -> bool:
    return ".".join(steps) in _OWNERS.get(model, ())


def _values(key: str, info: Any) -> list[Any]:
    words = words_of(info)
    if words:
        return list(words)
    draw = DRAWS[key]
    if isinstance(draw, OneOf):
        return list(dict.fromkeys(draw.values))
    assert isinstance(draw, Inches)
    named = list(SPACING_NAMES) if key == "Porch.spacing" else []
    return [*named, length((draw.low + draw.high) / 2.0, "feet")]


def _merged(one: Any, other: Any) -> Any:
    if isinstance(one, dict) and isinstance(other, dict):
        return {k: _merged(one.get(k), other.get(k)) for k in {**one, **other}}
    return one if other is None else other


def _with(scene: dict[str, Any], path: str, value: Any) -> None:
    steps = list(parse_field(path.replace("*", "0")))
    node: Any = scene
    for step, following in pairwise(steps):
        empty: Any = [] if isinstance(following, int) else {}
        if isinstance(step, int):
            while len(node) <= step:
                node.append({})
            node = node[step]
        else:
            node = node.setdefault(step, empty)
    node[steps[-1]] = value


def cases() -> list[tuple[str, Any]]:
    """Every value of every field, as ``(path, value)``."""
    infos = dict(design_fields())
    return [
        (path, value)
        for key, paths in sorted(_paths().items())
        for path in paths
        if not path.startswith(_ELSEWHERE)
        for value in _values(key, infos[key])
    ]


def scene_for(path: str, value: Any) -> dict[str, Any]:
    """A scene in which the field ought to stand with that value."""
    plain = path.replace(".*", "")
    base = deepcopy(BASES)[max((name for name in BASES if plain.startswith(name)), key=len)]
    scene = _merged({"house": dict(FT), "porch": dict(STRAIGHT), "roof": {}}, base)
    value = [value] if path.endswith("storeys") else value
    for word, more in _TURNS.items():
        if isinstance(value, str) and value.startswith(word):
            scene = _merged(scene, deepcopy(more))
    _with(scene, path, value)
    return {"title": "Test", "site": SITE, "times": ["equinox 12:00"], **scene}


def test_every_value_of_every_field_stands_somewhere():
    refused = []
    tried = cases()
    for path, value in tried:
        try:
            resolve(Scene.model_validate(scene_for(path, value)), "test")
        except ValueError as fault:
            refused.append((path, value, " ".join(str(fault).split())[:160]))
    assert len(tried) > 300
    assert refused == []


@pytest.mark.parametrize("case", cases()[::45], ids=str)
def test_and_is_built(case):
    assert build(resolve(Scene.model_validate(scene_for(*case)), "test")).parts
