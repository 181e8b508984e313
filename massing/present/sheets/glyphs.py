"""Fonts for what the house style's own font has no shapes for, such as Chinese names.

Blender's module brings fonts of many scripts; without it the machine's own are looked through.
Where neither has a shape, a box is set, so that nothing is lost without being seen.
"""

from __future__ import annotations

from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path

from PIL import ImageFont

PLAIN_UP_TO = "\u024f"  # Latin letters; every font here has these
_SYSTEM = (
    "/usr/share/fonts",
    "/usr/local/share/fonts",
    "/Library/Fonts",
    "/System/Library/Fonts",
    "C:/Windows/Fonts",
)
_WIDE = (
    "cjk",
    "han",
    "droidsansfallback",
    "wqy",
    "unifont",
    "arialuni",
    "pingfang",
    "hiragino",
    "simsun",
    "msgothic",
    "malgun",
    "yugoth",
)


def set_in(text: str, face: ImageFont.FreeTypeFont) -> ImageFont.FreeTypeFont:
    """The font to set a line in: ``face`` where it has all of the line's shapes."""
    strange = [c for c in text if c > PLAIN_UP_TO and c.isalpha()]
    if not strange or _has(str(face.path), "".join(strange)):
        return face
    for path in candidates():
        if _has(path, "".join(strange)):
            return _font(path, int(face.size))
    return _font(str(_boxes()), int(face.size))


@cache
def candidates() -> tuple[str, ...]:
    """Font files that may have what the house style's lacks, Blender's first."""
    found: list[Path] = []
    spec = find_spec("bpy")
    for place in (spec.submodule_search_locations or ()) if spec else ():
        found += sorted(Path(place).glob("*/datafiles/fonts/Noto Sans CJK*"))
        found += sorted(Path(place).glob("*/datafiles/fonts/NotoSans*"))
    for folder in map(Path, _SYSTEM):
        for path in sorted(folder.rglob("*")) if folder.is_dir() else ():
            name = path.name.lower().replace(" ", "").replace("-", "").replace("_", "")
            if path.suffix.lower() in (".ttf", ".ttc", ".otf") and any(w in name for w in _WIDE):
                found.append(path)
    return tuple(map(str, found))


def _boxes() -> Path:
    """A font that sets a box for what it lacks; the house style's sets nothing."""
    spec = find_spec("matplotlib")
    assert spec is not None
    assert spec.submodule_search_locations
    return Path(spec.submodule_search_locations[0], "mpl-data", "fonts", "ttf", "DejaVuSans.ttf")


@lru_cache(maxsize=32)
def _font(path: str, size_px: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(path, size_px)


@lru_cache(maxsize=256)
def _has(path: str, letters: str) -> bool:
    """Whether a font has a shape of its own for each letter: not its sign for a missing one."""
    try:
        font = _font(path, 24)
        missing = bytes(font.getmask("\U0010fffe"))
        return all(bytes(font.getmask(c)) != missing for c in set(letters))
    except OSError:
        return False
