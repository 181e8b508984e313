"""Files that a page carries: its own style, scripts and fonts, and pictures pressed to a budget."""

from __future__ import annotations

import base64
import io
import json
from collections.abc import Sequence
from functools import cache, lru_cache
from importlib import resources
from pathlib import Path
from typing import Any

from PIL import Image

from massing.present.page.subject import Shown


@cache
def static_text(name: str) -> str:
    return static_bytes(name).decode("utf-8")


@cache
def static_bytes(name: str) -> bytes:
    return resources.files("massing.present.page").joinpath("static", name).read_bytes()


def data_url(content: bytes, kind: str) -> str:
    return f"data:{kind};base64,{base64.b64encode(content).decode('ascii')}"


MODULES = {
    "three-core": "three/three.core.min.js",
    "three": "three/three.module.min.js",
    "three/addons/utils/BufferGeometryUtils.js": "three/BufferGeometryUtils.js",
    "three/addons/loaders/GLTFLoader.js": "three/GLTFLoader.js",
    "three/addons/controls/OrbitControls.js": "three/OrbitControls.js",
    "viewer": "viewer.js",
}
"""Modules by the names they import each other by, and their files under ``static/``."""


def module_source(name: str) -> str:
    """A module's text, importing others by the names of :data:`MODULES`."""
    text = static_text(MODULES[name])
    text = text.replace('"./three.core.min.js"', '"three-core"')
    return text.replace(
        "'../utils/BufferGeometryUtils.js'", "'three/addons/utils/BufferGeometryUtils.js'"
    )


def style() -> str:
    faces = (
        ("normal", 400, "400-normal"),
        ("italic", 400, "400-italic"),
        ("normal", 500, "500-normal"),
    )
    fonts = "".join(
        '@font-face{font-family:"EB Garamond";font-display:block;'
        f"font-style:{style};font-weight:{weight};src:url("
        f"{data_url(static_bytes(f'fonts/eb-garamond-latin-{file}.woff2'), 'font/woff2')}"
        ') format("woff2")}\n'
        for style, weight, file in faces
    )
    return fonts + static_text("page.css")


PICTURE_BUDGET = 11_000_000  # bytes of pictures in the file; finer ones are pressed harder

_QUALITIES = (88, 80, 70, 58, 45)


def pressed(pictures: Sequence[Shown], budget: int = PICTURE_BUDGET) -> list[bytes]:
    """Each picture as WebP, at the best quality at which all together keep to the budget."""
    files = [(p.file, p.file.stat().st_mtime_ns, p.sky) for p in pictures]
    made: list[bytes] = []
    for quality in _QUALITIES:
        made = [webp_of(*file, quality) for file in files]
        if sum(map(len, made)) <= budget:
            break
    return made


@lru_cache(maxsize=400)
def webp_of(file: Path, changed_ns: int, sky: float, quality: int) -> bytes:
    """A picture pressed, without a share ``sky`` of its height at the top; a page that is made
    again as pictures come presses each once."""
    buffer = io.BytesIO()
    with Image.open(file) as image:
        shown = image.crop((0, round(sky * image.height), *image.size))
        shown.convert("RGB").save(buffer, "WEBP", quality=quality, method=2)
    return buffer.getvalue()


def base64_text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")


def script_json(content: Any) -> str:
    """JSON that may stand in a script element."""
    return json.dumps(content, separators=(",", ":")).replace("</", "<\\/")
