"""A model to a file that another program reads."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from massing.files import write_by, write_whole
from massing.parts.part import Model

FORMATS: dict[str, str] = {
    "glb": "glTF 2.0, metres, Y up, copies as instances",
    "usd": "USD, metres, Z up, copies as instances",
    "obj": "OBJ with MTL, metres, Y up, copies laid out",
    "stl": "STL, millimetres, Z up, one solid without names",
}
"""What this room writes, and how; ``.blend`` files are Blender's to write."""


def building(model: Model) -> Model:
    """The model without its setting: no ground, figure, walk, trees or neighbours."""
    return replace(model, parts=tuple(part for part in model.parts if not part.within("setting")))


def write_model(model: Model, path: Path) -> tuple[Path, ...]:
    """Write a model in the format of the path's ending; each file is whole or not there.

    Returns:
        The files written: one, or for ``obj`` two.

    Raises:
        ValueError: an ending that is not one of :data:`FORMATS`.
    """
    kind = path.suffix.lower().removeprefix(".")
    if kind == "glb":
        from massing.present.models.gltf import glb

        write_whole(path, glb([model]))
    elif kind == "usd":
        from massing.present.models.usd import write_usd

        write_by(path, lambda temporary: write_usd(model, temporary))
    elif kind == "obj":
        from massing.present.models.plain import obj

        colours = path.with_suffix(".mtl")
        shape, finishes = obj(model, colours.name)
        write_whole(colours, finishes)
        write_whole(path, shape)
        return (path, colours)
    elif kind == "stl":
        from massing.present.models.plain import stl

        write_whole(path, stl(model))
    else:
        raise ValueError(f"given {path.name}, allowed: {', '.join(FORMATS)}")
    return (path,)
