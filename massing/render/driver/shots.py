"""What to photograph: one shot is one picture of one model."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from massing.sun.written_times import DUSK
from massing.view.camera import Camera

DRAWN = "drawn"  # elevations in ink and wash, without Blender
LOOKS = ("clay", "materials", DRAWN)
QUALITIES = ("draft", "final")
GPU_KINDS = ("optix", "cuda", "hip", "metal", "oneapi")
PROCESSOR, GRAPHICS = "processor", "graphics"
SKIES = ("clear", "high cloud", DUSK)
DEVICES = ("auto", PROCESSOR, GRAPHICS)  # what is asked; a kind of card may be named instead
ALSO = {"png16": ("-16.png", 16), "exr": (".exr", 16), "jpg": (".jpg", 8)}  # ending, depth in bits


@dataclass(frozen=True)
class Shot:
    """One picture.

    Attributes:
        camera: view, framing and size.
        output: ``.png``, ``.jpg`` or ``.exr`` file.
        sun_direction: unit vector towards the sun in the house frame (X right along the front,
            Y into the house, Z up).
        altitude_deg: the sun's altitude as seen, for the light's colour.
        look: one of :data:`LOOKS`.
        quality: one of :data:`QUALITIES`.
        beam_w_m2, diffuse_w_m2: the hour's clear sky, facing the sun and on the level; None
            takes a sea-level clear sky.
        exposure_stops: None follows the light, the same for every alternative at that hour.
        depth_bits: 8 or 16, for PNG.
        metadata: written into the file as text.
        also: kinds of :data:`ALSO` that the same picture is written as too, beside ``output``.
        bare: trees that lose their leaves in winter have lost them.
        sky: one of :data:`SKIES`; clouds are seen and change no light; at dusk the sun is down.
        lettering: of a drawing, its name, a line under it and the units of its scale, if it is
            to have a border.
        catcher: the ground is not seen but for the shadows on it, and nothing is behind: a PNG
            with an alpha channel, for a photograph to be laid under.
        weathered: the house's materials are lightly so.
        levels: of a section, what is written at heights over the ground, metres.
    """

    camera: Camera
    output: Path
    sun_direction: tuple[float, float, float]
    altitude_deg: float
    look: str = "clay"
    quality: str = "draft"
    beam_w_m2: float | None = None
    diffuse_w_m2: float | None = None
    exposure_stops: float | None = None
    depth_bits: int = 8
    metadata: Mapping[str, str] = field(default_factory=dict)
    also: tuple[str, ...] = ()
    bare: bool = False
    sky: str = "clear"
    levels: tuple[tuple[str, float], ...] = ()
    lettering: tuple[str, ...] = ()
    catcher: bool = False
    weathered: bool = False

    def __post_init__(self) -> None:
        """Refuse what no worker could render.

        Raises:
            ValueError: unknown look, quality or kind of file, or a sun below the horizon.
        """
        if self.look not in LOOKS:
            raise ValueError(f"{self.look!r} is not a look; allowed: {', '.join(LOOKS)}")
        if self.quality not in QUALITIES:
            raise ValueError(f"{self.quality!r} is not a quality; allowed: {', '.join(QUALITIES)}")
        if self.sky not in SKIES:
            raise ValueError(f"{self.sky!r} is not a sky; allowed: {', '.join(SKIES)}")
        for kind in self.also:
            if kind not in ALSO:
                raise ValueError(f"{kind!r} is not a kind of file; allowed: {', '.join(ALSO)}")
        if self.catcher and (self.look == DRAWN or self.output.suffix.lower() != ".png"):
            raise ValueError(f"{self.output.name}: shadows are caught in a PNG, not drawn")
        if self.look == DRAWN and not (self.camera.is_elevation and self.camera.cut is None):
            raise ValueError(f"view {self.camera.name!r} is no elevation; only these are drawn")
        if not self.sun_direction[2] > 0.0 and self.sky != DUSK:
            raise ValueError(f"{self.output.name}: the sun is below the horizon")

    @property
    def also_files(self) -> dict[Path, int]:
        """The further files and their depths in bits; a drawing has 8 bits and no more."""
        kinds = [ALSO[k] for k in self.also if self.look != DRAWN or ALSO[k][1] == 8]
        return {
            self.output.with_name(f"{self.output.stem}{ending}"): bits for ending, bits in kinds
        }

    def to_json(self) -> dict[str, Any]:
        """Plain values, for :meth:`from_json`."""
        return {
            **self.__dict__,
            "camera": self.camera.to_json(),
            "output": str(self.output),
            "sun_direction": [float(v) for v in self.sun_direction],
            "metadata": dict(self.metadata),
            "also": list(self.also),
            "levels": [list(level) for level in self.levels],
            "lettering": list(self.lettering),
        }

    @classmethod
    def from_json(cls, values: Mapping[str, Any]) -> Shot:
        """The shot that :meth:`to_json` described."""
        x, y, z = values["sun_direction"]
        return cls(
            **{
                **values,
                "camera": Camera.from_json(values["camera"]),
                "output": Path(values["output"]),
                "sun_direction": (x, y, z),
                "also": tuple(values["also"]),
                "levels": tuple((str(name), float(z)) for name, z in values.get("levels", ())),
                "lettering": tuple(values.get("lettering", ())),
            }
        )
