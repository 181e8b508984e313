"""What to photograph: one shot is one picture of one model. No bpy here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from massing.views import Camera

DRAWN = "drawn"  # elevations in ink and wash, without Blender
LOOKS = ("clay", "materials", DRAWN)
QUALITIES = ("draft", "final")
GPU_KINDS = ("optix", "cuda", "hip", "metal", "oneapi")
DEVICES = ("auto", "cpu", *GPU_KINDS)


def is_drawable(camera: Camera) -> bool:
    """Whether the drawn look can be had of a view: a level elevation."""
    return camera.kind == "ortho" and camera.pitch_rad == 0.0


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
        metadata: written into PNG files as text.
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

    def __post_init__(self) -> None:
        """Refuse what no worker could render.

        Raises:
            ValueError: unknown look or quality, or a sun below the horizon.
        """
        if self.look not in LOOKS:
            raise ValueError(f"{self.look!r} is not a look; allowed: {', '.join(LOOKS)}")
        if self.quality not in QUALITIES:
            raise ValueError(f"{self.quality!r} is not a quality; allowed: {', '.join(QUALITIES)}")
        if self.look == DRAWN and not is_drawable(self.camera):
            raise ValueError(f"view {self.camera.name!r} is no elevation; only these are drawn")
        if not self.sun_direction[2] > 0.0:
            raise ValueError(f"{self.output.name}: the sun is below the horizon")

    def to_json(self) -> dict[str, Any]:
        """Plain values, for :meth:`from_json`."""
        return {
            **self.__dict__,
            "camera": self.camera.to_json(),
            "output": str(self.output),
            "sun_direction": [float(v) for v in self.sun_direction],
            "metadata": dict(self.metadata),
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
            }
        )
