"""The builder's drawing and the model's elevation on one sheet: laid over, and side by side."""

from __future__ import annotations

import numpy as np
from PIL import Image

from massing.parts.part import Model
from massing.present.ink.elevation import draw_elevation, line_drawing
from massing.present.sheets.contact_sheet import Heading, Panel, contact_sheet
from massing.sun.angles import CONVENTIONAL_LIGHT
from massing.view.camera import Camera

RED_INK = np.array([0.80, 0.10, 0.06], dtype=np.float32)  # offices correct in red
_VEIL = 0.45  # how far the builder's drawing is faded under the model's lines
_OVER = 0.9  # strength of the model's lines


def laid_over(
    image: Image.Image,
    model: Model,
    camera: Camera,
    heading: tuple[str, str, str],
    *,
    units: str = "feet",
) -> Image.Image:
    """The model's elevation in red line over the drawing, both half transparent.

    Args:
        image: the builder's drawing, of the camera's size.
        heading: title, subject and a line on the scale.
    """
    picture = mixed(image, line_drawing(model, camera))
    panel = Panel(
        "The model over the builder's drawing", "The model in red, the drawing behind", picture
    )
    return contact_sheet(
        [panel], Heading(*heading), units=units, metres_per_pixel=camera.metres_per_pixel
    )


def mixed(image: Image.Image, ink: np.ndarray) -> Image.Image:
    """Red lines of strength ``ink`` ``(h, w)`` over the faded image."""
    paper = np.asarray(image.convert("RGB"), dtype=np.float32) / 255.0
    paper += _VEIL * (1.0 - paper)
    strength = (_OVER * np.asarray(ink, dtype=np.float32))[..., None]
    drawn = paper * (1.0 - strength) + RED_INK * strength
    return Image.fromarray((255.0 * np.clip(drawn, 0.0, 1.0) + 0.5).astype(np.uint8), "RGB")


def side_by_side(
    image: Image.Image,
    model: Model,
    camera: Camera,
    heading: tuple[str, str, str],
    *,
    units: str = "feet",
) -> Image.Image:
    """The drawing and the model's elevation at one scale, in conventional light."""
    drawn = draw_elevation(model, camera, CONVENTIONAL_LIGHT)
    panels = [
        Panel("The builder's drawing", "As given", image),
        Panel("The model", "In ink and wash, shadows at 45°", drawn),
    ]
    return contact_sheet(
        panels, Heading(*heading), units=units, metres_per_pixel=camera.metres_per_pixel
    )
