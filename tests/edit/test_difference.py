"""What changed between two models."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.edit.difference import difference, mesh_hash, part_hash, parts_by_key
from massing.geometry.mesh import Mesh
from massing.parts.part import Model, Part


def triangle(size: float = 1.0) -> Mesh:
    corners = np.array([[0.0, 0.0, 0.0], [size, 0.0, 0.0], [0.0, size, 0.0]])
    return Mesh(corners, np.array([[0, 1, 2]]))


def places(*along: float) -> np.ndarray:
    frames = np.tile(np.eye(4), (len(along), 1, 1))
    frames[:, 0, 3] = along
    return frames


BEFORE = Model(
    (
        Part(("porch", "floor"), "stone", triangle()),
        Part(("porch", "column"), "paint", triangle(), places(0.0, 2.0)),
        Part(("hedge",), "foliage", triangle(3.0)),
        Part(("hedge",), "foliage", triangle(4.0)),
        Part(("roof",), "tile", triangle(5.0)),
    )
)


def changed(*parts: Part) -> Model:
    return Model(parts)


def test_nothing_changed() -> None:
    again = changed(*(replace(p, mesh=triangle(p.mesh.vertices.max())) for p in BEFORE.parts))
    assert not difference(BEFORE, again)
    assert not difference(BEFORE, BEFORE)


def test_each_kind_of_change_is_told_apart() -> None:
    floor, column, hedge, other, _roof = BEFORE.parts
    found = difference(
        BEFORE,
        changed(
            replace(floor, mesh=triangle(2.0)),
            replace(column, placements=places(0.0, 3.0)),
            hedge,
            replace(other, role="bark"),
            Part(("steps",), "stone", triangle()),
        ),
    )
    assert found.reshaped == ("porch/floor", "hedge #2")
    assert found.moved == ("porch/column",)
    assert found.added == ("steps",)
    assert found.removed == ("roof",)


def test_one_copy_more_is_a_move() -> None:
    column = BEFORE.parts[1]
    more = changed(*BEFORE.parts[:1], replace(column, placements=places(0.0, 1.0, 2.0)))
    assert difference(BEFORE, more).moved == ("porch/column",)
    alone = changed(*BEFORE.parts[:1], replace(column, placements=None))
    assert difference(BEFORE, alone).moved == ("porch/column",)


def test_keys_are_each_used_once() -> None:
    mesh = triangle()
    names = ["a", "a", "c", "a", "b"]
    model = changed(*(Part((name,), "x", mesh) for name in names))
    keys = parts_by_key(model)
    assert len(keys) == len(names)
    assert list(keys.values()) == list(model.parts)


def test_hashes_tell_shapes_roles_and_places_apart() -> None:
    column = BEFORE.parts[1]
    assert mesh_hash(triangle()) == mesh_hash(triangle())
    hashes = {
        part_hash(column),
        part_hash(column, "stone"),
        part_hash(replace(column, mesh=triangle(1.001))),
        part_hash(replace(column, placements=places(0.0, 2.001))),
        part_hash(replace(column, placements=None)),
    }
    assert len(hashes) == 5
