"""Pictures of a board, cut to their place and written as files."""

from __future__ import annotations

import io
from collections.abc import Callable

from PIL import Image

from massing.present.board.layout import Scale

_JPEG_QUALITY = 92
_CUTS = (0.0, 0.02, 0.04, 0.06, 0.08, 0.10, 0.12, 0.14, 0.16)  # of a picture's sky


def least_cut(natural: float, scale_at: Callable[[float], Scale]) -> float:
    """The height over width that a picture is cut to, by as little as lets the drawing under it
    have the largest scale."""
    aspects = [natural * (1.0 - cut) for cut in _CUTS]
    return min(aspects, key=lambda aspect: (scale_at(aspect).ratio, -aspect))


def cut_to(image: Image.Image, aspect: float, sky: float = 0.0) -> Image.Image:
    """The picture cut to a height over width.

    What is too wide loses both sides; what is too tall loses sky, ``sky`` of its height at the
    most, and the rest of its foreground, so that no roof is cut.
    """
    wide, tall = image.size
    if tall > aspect * wide:
        kept = max(1, round(aspect * wide))
        top = min(tall - kept, round(sky * tall))
        return image.crop((0, top, wide, top + kept))
    kept = max(1, round(tall / aspect))
    left = (wide - kept) // 2
    return image.crop((left, 0, left + kept, tall))


def jpeg(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", quality=_JPEG_QUALITY, subsampling=0, optimize=True)
    return buffer.getvalue()


def png(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.convert("RGB").save(buffer, "PNG", optimize=True)
    return buffer.getvalue()
