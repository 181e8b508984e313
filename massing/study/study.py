"""A scene made ready: designs resolved, models built when asked for, suns in their place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import numpy as np

from massing.build.house import build
from massing.design.design import Design
from massing.design.setting import SCENERY, Scenery, in_common
from massing.design.site import SiteDesign
from massing.edit.budget import check_pieces
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.resolve.design import resolve
from massing.scene.errors import DesignError, SceneError
from massing.scene.load import LoadedScene, load_scene
from massing.sun.position import SunTime, sun_time
from massing.view.cameras import mean_sun_side
from massing.view.framing import outline_points


@dataclass(frozen=True)
class Study:
    """A scene made ready: its designs with every dimension known, and its suns."""

    loaded: LoadedScene
    designs: tuple[Design, ...]
    suns: tuple[SunTime, ...]

    @cached_property
    def models(self) -> dict[str, Model]:
        """The built model of each design, by name.

        Raises:
            SceneError: parts of a design collide, or they are too many.
        """
        self._check_pieces()
        models = {design.name: self._built(design) for design in self.designs}
        # One street, one wood for all: only what lies at the house's foot is each design's own.
        shared = in_common([Scenery.read(model.notes[SCENERY]) for model in models.values()])
        return {
            name: replace(model, notes=model.notes | {SCENERY: scenery.written()})
            for (name, model), scenery in zip(models.items(), shared, strict=True)
        }

    def build(self) -> None:
        """Build every design now, to know that all can be built.

        Raises:
            SceneError: parts of a design collide, or they are too many.
        """
        _ = self.models

    def check(self) -> None:
        """Say what :meth:`build` would of every design, without coverings and ornament.

        Raises:
            SceneError: parts of a design collide, or they are too many.
        """
        self._check_pieces()
        for design in self.designs:
            self._built(design.unadorned)

    def _check_pieces(self) -> None:
        try:
            check_pieces(self.designs)
        except DesignError as fault:
            raise self.loaded.error(self.designs[0].name, fault) from None

    def _built(self, design: Design) -> Model:
        try:
            return build(design)
        except DesignError as fault:
            raise self.loaded.error(design.name, fault) from None
        except ValueError as fault:
            raise self.loaded.build_error(design.name, fault) from None

    @cached_property
    def bounds_m(self) -> Floats:
        """``(2, 3)`` box round the buildings of all designs, so that all share one framing."""
        boxes = np.array([model.building_bounds for model in self.models.values()])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])

    @cached_property
    def outline_m(self) -> Floats:
        """``(n, 3)`` outermost points of the buildings of all designs."""
        return np.concatenate([outline_points(model) for model in self.models.values()])

    @property
    def sun_side(self) -> float:
        """On which side of the front the scene's suns stand: see ``view.cameras.Subject``."""
        return mean_sun_side([sun.direction for sun in self.suns])


def read_study(path: Path | str, text: str | None = None) -> Study:
    """Read and resolve a scene, and set its times in their place.

    Args:
        path: the scene file.
        text: what the file would hold, for a scene that is being edited.

    Raises:
        SceneError: with the line of the fault; also where a time has no sun to light a picture.
    """
    loaded = load_scene(path, text)
    designs = []
    for name, spec in loaded.designs.items():
        try:
            designs.append(resolve(spec, name, loaded.lines[name]))
        except DesignError as fault:
            raise loaded.error(name, fault) from None
    suns, dark = lit_times(loaded, designs[0].site)
    if dark:
        raise dark[0]
    return Study(loaded, tuple(designs), tuple(suns))


def lit_times(loaded: LoadedScene, site: SiteDesign) -> tuple[list[SunTime], list[SceneError]]:
    """The suns of a scene's times, and the faults of those that have no sun to light a picture."""
    suns, faults = [], []
    for index, text in enumerate(loaded.scene.times):
        try:
            sun = sun_time(text, site)
            if not sun.is_up:
                raise ValueError(f"given {text}, allowed: a time with the sun up; {sun.note}")
        except ValueError as fault:
            faults.append(loaded.time_error(index, fault))
        else:
            suns.append(sun)
    return suns, faults
