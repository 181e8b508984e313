"""What a page is made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from massing.design.design import Design
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.scene.load import LoadedScene
from massing.sun.position import SunTime


@dataclass(frozen=True)
class Shown:
    """A picture of a study: of which design, from where, in which light and look, in which file."""

    design: str
    view: str
    sun: SunTime
    look: str
    file: Path
    sky: float = 0.0


@dataclass(frozen=True)
class Subject:
    """All that a page is made from.

    Attributes:
        models: of each design by name.
        bounds_m: ``(2, 3)`` box round the buildings of all designs.
        focus: what close views look at, see :func:`massing.view.cameras.camera_for`.
        pictures: none, some or all that the scene asks for.
        packed: the models as :func:`~.viewer_data.packed_models` packs them, where that is done.
        coming: how many pictures are still being made; while there are, an open page reloads
            itself from its own file.
    """

    loaded: LoadedScene
    designs: tuple[Design, ...]
    models: Mapping[str, Model]
    suns: tuple[SunTime, ...]
    bounds_m: Floats
    focus: Mapping[str, Floats]
    pictures: tuple[Shown, ...]
    packed: bytes | None = None
    coming: int = 0
