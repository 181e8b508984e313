"""A model on disk: one ``.npz`` that another process reads back exactly."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from massing.files import write_by
from massing.geometry.mesh import Mesh
from massing.parts.part import Model, Part

FORMAT = 2


def save_model(model: Model, path: Path) -> None:
    """Write a model; the file appears whole or not at all."""
    arrays: dict[str, Any] = {}
    heads = []
    for i, part in enumerate(model.parts):
        arrays[f"v{i}"] = part.mesh.vertices
        arrays[f"f{i}"] = part.mesh.faces
        if part.placements is not None:
            arrays[f"p{i}"] = part.placements
        heads.append([part.path, part.role, part.solid])
    head = {"format": FORMAT, "name": model.name, "notes": model.notes, "parts": heads}

    def write(temporary: Path) -> None:
        with temporary.open("wb") as file:
            np.savez(file, head=np.array(json.dumps(head)), **arrays)

    write_by(path, write)


def load_model(path: Path) -> Model:
    """The model that :func:`save_model` wrote.

    Raises:
        ValueError: the file is of another format.
    """
    with np.load(path, allow_pickle=False) as file:
        head = json.loads(str(file["head"]))
        if head["format"] != FORMAT:
            raise ValueError(f"{path}: model format {head['format']}, this version reads {FORMAT}")
        parts = tuple(
            Part(
                tuple(path),
                role,
                Mesh(file[f"v{i}"], file[f"f{i}"]),
                file.get(f"p{i}"),
                solid,
            )
            for i, (path, role, solid) in enumerate(head["parts"])
        )
    return Model(parts, head["name"], head["notes"])
