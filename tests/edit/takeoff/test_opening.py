"""Pictures, pages and DXF files as one picture; whatever else is given is one line."""

from __future__ import annotations

import io

import ezdxf
import numpy as np
import pytest
from PIL import Image, ImageDraw

from massing.edit.takeoff.opening import LONGEST_PX, MOST_BYTES, opened
from massing.edit.takeoff.snapping import Picture
from massing.units import FOOT_M, INCH_M


def as_bytes(image: Image.Image, kind: str, **more) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def leaf(size=(300, 200), mark=(40, 60, 90, 120)) -> Image.Image:
    image = Image.new("RGB", size, "white")
    ImageDraw.Draw(image).rectangle(mark, fill="black")
    return image


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF", "WEBP"])
def test_pictures_of_every_kind(kind):
    found = opened(as_bytes(leaf(), kind))
    assert (found.image.mode, found.image.size, found.pages) == ("RGB", (300, 200), 1)
    assert found.metres_per_pixel is None
    assert np.asarray(found.image)[90, 60].max() < 40


def test_a_picture_lies_as_its_camera_held_it_on_white():
    turned = Image.Exif()
    turned[0x0112] = 6  # a quarter turn, EXIF 2.3, orientation
    assert opened(as_bytes(leaf(), "JPEG", exif=turned)).image.size == (200, 300)
    clear = Image.new("RGBA", (80, 80), (0, 0, 0, 0))
    assert opened(as_bytes(clear, "PNG")).image.getpixel((5, 5)) == (255, 255, 255)
    deep = Image.fromarray((np.arange(6400).reshape(80, 80) * 10).astype(np.uint16))
    assert opened(as_bytes(deep, "PNG")).image.getpixel((79, 79)) == (255, 255, 255)


def test_a_large_picture_is_made_smaller():
    image = Image.new("L", (LONGEST_PX * 2, 400), 255)
    assert opened(as_bytes(image, "PNG")).image.width == LONGEST_PX


def test_a_page_of_a_pdf():
    first, second = leaf(), leaf(mark=(200, 20, 280, 180))
    data = as_bytes(first, "PDF", save_all=True, append_images=[second], resolution=72.0)
    one, two = opened(data), opened(data, 2)
    assert (one.pages, two.pages) == (2, 2)
    assert max(one.image.size) == pytest.approx(LONGEST_PX, abs=2)
    k = one.image.width / 300.0
    dark = [
        np.asarray(each.image.convert("L"))[round(100 * k), round(240 * k)] < 60
        for each in (one, two)
    ]
    assert dark == [False, True]
    with pytest.raises(ValueError, match="page: given 3, allowed: 1 to 2"):
        opened(data, 3)


@pytest.mark.parametrize(
    ("units", "unit_m"), [(1, INCH_M), (2, FOOT_M), (4, 0.001), (6, 1.0), (0, None)]
)
def test_a_dxf_knows_its_scale_by_its_units(units, unit_m):
    """$INSUNITS as the DXF reference numbers them: 1 inches, 2 feet, 4 millimetres, 6 metres."""
    document = ezdxf.new()
    document.header["$INSUNITS"] = units
    model = document.modelspace()
    for x in (0.0, 792.0):
        model.add_line((x, 0.0), (x, 322.0))
    model.add_line((-60.0, 0.0), (852.0, 0.0))
    text = io.StringIO()
    document.write(text)
    found = opened(text.getvalue().encode())
    if unit_m is None:
        assert found.metres_per_pixel is None
        return
    assert found.metres_per_pixel is not None
    picture = Picture(found.image)
    width, height = found.image.size
    rows = [np.flatnonzero(picture.grey[height // 2, :] < 200)]
    left, right = rows[0].min(), rows[0].max()
    snaps = [picture.snap(x + 2.0, height / 2.0, 8.0).x for x in (left, right)]
    measured_m = (snaps[1] - snaps[0]) * found.metres_per_pixel
    assert measured_m == pytest.approx(792.0 * unit_m, rel=5e-4)
    assert width > height


BROKEN = {
    "nothing": b"",
    "words": b"the front is to be 66 feet wide",
    "half a PNG": as_bytes(leaf(), "PNG")[:60],
    "a PDF's head": b"%PDF-1.7\nnothing more",
    "a DXF's head": b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nnot a number\n0\nEOF\n",
    "an empty DXF": b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n",
    "a page of hypertext": b"<html><img src=x></html>",
    "too small": as_bytes(leaf((20, 20)), "PNG"),
}


@pytest.mark.parametrize("data", BROKEN.values(), ids=BROKEN)
def test_what_cannot_be_read_is_one_line(data):
    with pytest.raises(ValueError, match=r"^given .*allowed: ") as fault:
        opened(data)
    assert "\n" not in str(fault.value)


def test_too_much_is_refused_before_it_is_read():
    with pytest.raises(ValueError, match="allowed: 30 MB"):
        opened(b"\x89PNG" + b" " * MOST_BYTES)
    with pytest.raises(ValueError, match="million pixels"):
        opened(as_bytes(Image.new("1", (12000, 9000)), "PNG"))
