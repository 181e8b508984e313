"""What a builder sent as one picture: PNG, JPEG and their like, a page of a PDF, a DXF.

Read as data from a stranger: told by its content, bounded before anything is decoded or drawn.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import Any

import numpy as np
from PIL import Image, ImageOps

KINDS = ("PNG", "JPEG", "TIFF", "WEBP")
MOST_BYTES = 30_000_000
MOST_PIXELS = 80_000_000
MOST_ENTITIES = 200_000
LONGEST_PX = 4000  # a picture that is measured is made no larger
LEAST_PX = 64
ALLOWED = "PNG, JPEG, TIFF, WebP, PDF or DXF"
_DXF_MARGIN = 0.03
_DXF_DPI = 100.0


@dataclass(frozen=True)
class Opened:
    """A picture to measure in.

    Attributes:
        image: in plain colours, upright, on white.
        metres_per_pixel: where the file itself knows it, as a DXF with units does.
        pages: how many the file has.
    """

    image: Image.Image
    metres_per_pixel: float | None = None
    pages: int = 1


def opened(data: bytes, page: int = 1) -> Opened:
    """The picture that a file's bytes hold; of a PDF the given page, counted from 1.

    Raises:
        ValueError: nothing that is read here; the text says what is allowed.
    """
    if len(data) > MOST_BYTES:
        raise ValueError(f"given {len(data) // 10**6} MB, allowed: {MOST_BYTES // 10**6} MB")
    if data.lstrip()[:5] == b"%PDF-":
        found = _pdf(data, page)
    elif _is_dxf(data):
        found = _dxf(data)
    else:
        found = Opened(_image(data))
    if min(found.image.size) < LEAST_PX:
        wide, tall = found.image.size
        raise ValueError(f"given {wide} by {tall} pixels, allowed: {LEAST_PX} or more each way")
    return found


def _image(data: bytes) -> Image.Image:
    try:
        with warnings.catch_warnings(action="ignore"):
            read = Image.open(io.BytesIO(data), formats=KINDS)
            if read.width * read.height > MOST_PIXELS:
                raise _TooLargeError
            image = ImageOps.exif_transpose(read)
            image.load()
    except (_TooLargeError, Image.DecompressionBombError):
        raise ValueError(
            f"given more, allowed: up to {MOST_PIXELS // 10**6} million pixels"
        ) from None
    except Exception:  # decoders fail in many ways on what was made to make them fail
        raise ValueError(f"given what cannot be read, allowed: {ALLOWED}") from None
    if image.mode[0] in "IF":  # 16 bits or more to the pixel
        values = np.asarray(image, dtype=float)
        span = float(np.ptp(values)) or 1.0
        image = Image.fromarray((255.0 * (values - values.min()) / span).astype(np.uint8))
    plain = Image.new("RGBA", image.size, "white")
    plain.alpha_composite(image.convert("RGBA"))
    return _bounded(plain.convert("RGB"))


class _TooLargeError(ValueError):
    """More pixels than are decoded."""


def _bounded(image: Image.Image) -> Image.Image:
    factor = LONGEST_PX / max(image.size)
    if factor >= 1.0:
        return image
    size = (max(1, round(image.width * factor)), max(1, round(image.height * factor)))
    return image.resize(size, Image.Resampling.LANCZOS)


# --- PDF -----------------------------------------------------------------------------------


def _pdf(data: bytes, page: int) -> Opened:
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError:
        raise ValueError("given a PDF that cannot be read, allowed: one without a key") from None
    try:
        pages = len(document)
        if not 1 <= page <= pages:
            raise ValueError(f"page: given {page}, allowed: 1 to {pages}")
        leaf = document[page - 1]
        longest = max(leaf.get_size())
        if not longest > 0.0:
            raise ValueError("given a page without a size, allowed: one that has something on it")
        image = leaf.render(scale=LONGEST_PX / longest).to_pil().convert("RGB")
    except pypdfium2.PdfiumError:
        raise ValueError("given a page that cannot be read, allowed: another") from None
    finally:
        document.close()
    return Opened(image, pages=pages)


# --- DXF -----------------------------------------------------------------------------------


def _is_dxf(data: bytes) -> bool:
    head = data[:4096].lstrip(b"\xef\xbb\xbf \t\r\n")
    lines = head.splitlines()[:2]
    return data[:22] == b"AutoCAD Binary DXF\r\n\x1a\x00" or (
        len(lines) == 2 and lines[0].strip() in (b"0", b"999") and b"SECTION" in head
    )


def _dxf(data: bytes) -> Opened:
    import ezdxf
    from ezdxf import bbox, recover

    try:
        document, _audit = recover.read(io.BytesIO(data))
        model = document.modelspace()
        if len(model) > MOST_ENTITIES:
            raise _TooLargeError
        box = bbox.extents(model, fast=True)
        image, unit_px = _dxf_drawn(document, model, box)
    except _TooLargeError:
        raise ValueError(f"given more, allowed: up to {MOST_ENTITIES:,} lines") from None
    except (ezdxf.DXFError, OSError, ValueError, ArithmeticError, LookupError, TypeError):
        raise ValueError("given a DXF that cannot be read, allowed: one that opens") from None
    metre = _metres_per_unit(int(document.header.get("$INSUNITS", 0)))
    return Opened(image, None if metre is None else metre / unit_px)


def _dxf_drawn(document: Any, model: Any, box: Any) -> tuple[Image.Image, float]:
    """The model space in black on white, and pixels to its unit."""
    from ezdxf.addons.drawing import Frontend, RenderContext
    from ezdxf.addons.drawing.config import BackgroundPolicy, ColorPolicy, Configuration
    from ezdxf.addons.drawing.matplotlib import MatplotlibBackend
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    if not box.has_data:
        raise ValueError("nothing is drawn")
    low, size = box.extmin, box.size
    longest = max(size.x, size.y)
    if not 0.0 < longest < 1e9:
        raise ValueError("no size")
    margin = _DXF_MARGIN * longest
    wide, tall = size.x + 2.0 * margin, size.y + 2.0 * margin
    unit_px = LONGEST_PX / max(wide, tall)
    pixels = (max(LEAST_PX, round(wide * unit_px)), max(LEAST_PX, round(tall * unit_px)))
    figure = Figure(figsize=(pixels[0] / _DXF_DPI, pixels[1] / _DXF_DPI), dpi=_DXF_DPI)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    config = Configuration(
        background_policy=BackgroundPolicy.WHITE,
        color_policy=ColorPolicy.BLACK,
        lineweight_scaling=0.0,
    )
    backend = MatplotlibBackend(axes, adjust_figure=False)
    Frontend(RenderContext(document), backend, config=config).draw_layout(model)
    axes.set_aspect("auto")
    axes.set_xlim(low.x - margin, low.x - margin + pixels[0] / unit_px)
    axes.set_ylim(low.y - margin, low.y - margin + pixels[1] / unit_px)
    canvas.draw()
    return Image.fromarray(np.asarray(canvas.buffer_rgba())[..., :3].copy(), "RGB"), unit_px


def _metres_per_unit(insert_units: int) -> float | None:
    from ezdxf import units

    if insert_units == 0:
        return None
    try:
        return float(
            units.conversion_factor(units.InsertUnits(insert_units), units.InsertUnits.Meters)
        )
    except (KeyError, IndexError, ValueError, TypeError):
        return None
