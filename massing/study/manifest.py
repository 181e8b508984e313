"""What stands in a study's folder, and what each file was made from.

``study.json`` keeps, beside each file, a hash of all that it depends on: its key.
"""

from __future__ import annotations

import hashlib
import json
import sys
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import numpy as np

from massing import __version__
from massing.files import write_whole
from massing.geometry.mesh import Model

MANIFEST = "study.json"


def model_hash(model: Model) -> str:
    """A hash of all that a model shows: names, roles, shapes and placements."""
    digest = hashlib.sha256()
    for part in model.parts:
        digest.update(f"{part.name}\0{part.role}\0{part.count}\0".encode())
        for array in (part.mesh.vertices, part.mesh.faces, part.placements):
            if array is not None:
                digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()


@cache
def code_hash(room: str) -> str:
    """A hash of one room's code, ``.`` being the hall; for the one that renders, of Blender too."""
    digest = hashlib.sha256()
    for source in sorted((Path(__file__).parent.parent / room).rglob("*.py")):
        digest.update(source.read_bytes())
    if room == "render":
        digest.update(_blender_version().encode())
    return digest.hexdigest()


def _blender_version() -> str:
    """The version of Blender's module, or of the Blender that this runs in; "" without either."""
    try:
        return version("bpy")
    except PackageNotFoundError:
        blender = sys.modules.get("bpy")
        return "" if blender is None else str(blender.app.version_string)


def hash_of(*values: Any) -> str:
    return hashlib.sha256(json.dumps(values, sort_keys=True).encode()).hexdigest()


def stands(folder: Path, manifest: dict[str, str], path: str, key: str) -> bool:
    return manifest.get(path) == key and (folder / path).is_file()


def read_manifest(folder: Path) -> dict[str, str]:
    try:
        files = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"]
        return {str(path): str(key) for path, key in files.items()}
    except (OSError, ValueError, KeyError, AttributeError, TypeError):
        return {}


def write_manifest(folder: Path, manifest: dict[str, str]) -> None:
    content = {"version": __version__, "files": dict(sorted(manifest.items()))}
    write_whole(folder / MANIFEST, json.dumps(content, indent=1) + "\n")
