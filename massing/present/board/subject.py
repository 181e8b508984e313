"""What a board is made from, and a board ready to be typeset."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from massing.design.design import Design
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.present.board.elevation import Window
from massing.scene.load import LoadedScene
from massing.sun.position import SunTime

VIEWS = ("street", "close-up")


@dataclass(frozen=True)
class BuildersDrawing:
    """The builder's own elevation beside the model's.

    Attributes:
        given, over: the drawing, and the model's lines over it, of one size.
        metres_per_pixel: of both.
        window: what part of the front they show.
        words: how they agree, in lines.
    """

    given: Image.Image
    over: Image.Image
    metres_per_pixel: float
    window: Window
    words: tuple[str, ...]


@dataclass(frozen=True)
class Subject:
    """All that a board is made from.

    Attributes:
        models: of each design by name.
        pictures: the files of each design by name, then by view, those of :data:`VIEWS`.
        sky: of each view the share of a picture's height that is sky over every design's house.
        look: of the pictures.
        light: the sun of the pictures and elevations.
        logo: an image file's ending and content.
        printed_on: where the scene gives no date.
    """

    loaded: LoadedScene
    designs: tuple[Design, ...]
    models: Mapping[str, Model]
    suns: tuple[SunTime, ...]
    pictures: Mapping[str, Mapping[str, Path]]
    look: str
    light: SunTime
    printed_on: date
    logo: tuple[str, bytes] | None = None
    drawing: BuildersDrawing | None = None
    after: str | None = None
    sky: Mapping[str, float] = field(default_factory=dict)

    @property
    def units(self) -> str:
        """``feet`` or ``metric``."""
        return self.loaded.scene.units

    @cached_property
    def bounds_m(self) -> Floats:
        """``(2, 3)`` box round the buildings of all designs."""
        boxes = np.array([self.models[d.name].building_bounds for d in self.designs])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


@dataclass
class Contents:
    """A board ready to be typeset.

    Attributes:
        values: plain values, for JSON.
        files: pictures and drawings by the names that ``values`` has.
    """

    values: dict[str, Any]
    files: dict[str, bytes] = field(default_factory=dict)


Say = Callable[[int, int, str], object]
