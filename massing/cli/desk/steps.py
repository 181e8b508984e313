"""The steps of taking sizes off a drawing, by the names that the desk's page asks for them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import isfinite
from typing import Any

from massing.cli.desk.takeoff import DrawingBoard

Step = Callable[[DrawingBoard, Mapping[str, Any]], object]
STEPS: dict[str, Step] = {
    "scene's own": lambda board, _given: board.open_scenes(),
    "page": lambda board, given: board.turn_to(int(given["page"])),
    "known": lambda board, given: board.known(
        _place(given["start"]), _place(given["end"]), str(given["length"]), float(given["reach"])
    ),
    "unscale": lambda board, _given: board.unscale(),
    "straighten": lambda board, given: board.straighten(
        [_place(corner) for corner in given["corners"]],
        str(given["width"]),
        str(given["height"]),
        float(given["reach"]),
    ),
    "click": lambda board, given: board.click(*_place(given["at"]), float(given["reach"])),
    "on": lambda board, _given: board.move_on(),
    "back": lambda board, _given: board.take_back(),
    "ask": lambda board, given: board.ask(str(given["key"])),
    "close": lambda board, _given: board.close(),
}


def _place(given: Any) -> tuple[float, float]:
    x, y = (float(value) for value in given)
    if not (isfinite(x) and isfinite(y)):
        raise ValueError("no place")
    return x, y
