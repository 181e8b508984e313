"""Images that a scene names: read as data from a stranger, never followed or run.

The kind is told by the content and is on a list; the size is known before anything is decoded;
the file lies in the scene file's folder or below it.
"""

from __future__ import annotations

import io
import warnings
from pathlib import Path

from PIL import Image, ImageOps

from massing.files import given_path, read_bounded

__all__ = ["given_image", "given_path"]

KINDS = ("PNG", "JPEG", "TIFF", "WEBP")
MOST_BYTES = 200_000_000
MOST_PIXELS = 80_000_000
ALLOWED = "a PNG, JPEG, TIFF or WebP image, by its path from the scene file's folder"


def given_image(folder: Path, name: str) -> Image.Image:
    """An image that a scene in ``folder`` names, upright, as its file has it.

    Raises:
        ValueError: no such image, or one that is not read; the text says what is allowed.
    """
    path = given_path(folder, name)
    try:
        data = read_bounded(path, MOST_BYTES)
    except FileNotFoundError:
        raise ValueError(f"given {name}, no such file, allowed: {ALLOWED}") from None
    except OSError as fault:
        raise ValueError(f"given {name}, {fault.strerror}, allowed: {ALLOWED}") from None
    try:
        with warnings.catch_warnings(action="ignore"):
            found = Image.open(io.BytesIO(data), formats=KINDS)
            if found.width * found.height > MOST_PIXELS:
                most = f"up to {MOST_PIXELS // 10**6} million pixels"
                raise _TooLargeError(f"given {name}, allowed: {most}")
            image = ImageOps.exif_transpose(found)
            image.load()
    except _TooLargeError:
        raise
    except Image.DecompressionBombError:
        most = f"up to {MOST_PIXELS // 10**6} million pixels"
        raise ValueError(f"given {name}, allowed: {most}") from None
    except Exception:  # decoders fail in many ways on what was made to make them fail
        raise ValueError(f"given {name}, which cannot be read, allowed: {ALLOWED}") from None
    return image


class _TooLargeError(ValueError):
    """More pixels than are decoded."""
