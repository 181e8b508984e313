"""Models cut by a plane, against areas and volumes worked by hand."""

import numpy as np
import pytest

from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import box_between, lathe, translations
from massing.parts.part import Model, Part
from massing.view.section import CUT_ROLE, cut_model


def cut_area(parts: list[Part]) -> float:
    total = 0.0
    for part in parts:
        a, b, c = part.mesh.triangles.transpose(1, 0, 2)
        total += 0.5 * float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())
    return total


def test_a_cut_block_keeps_its_part_and_shows_its_section() -> None:
    model = Model((Part(("house", "wall"), "wall", box_between([0, 0, 0], [4, 2, 3])),))
    kept = cut_model(model, (-1.0, 0.0, 0.0), -1.0)  # x <= 1
    body, face = kept.parts
    assert (face.name, face.role) == ("house/wall cut", CUT_ROLE)
    assert cut_area([face]) == pytest.approx(6.0)
    assert np.ptp(face.mesh.vertices[face.mesh.faces].reshape(-1, 3)[:, 0]) == pytest.approx(0.0)
    closed = merged([body.mesh, face.mesh])
    assert closed.volume_m3 == pytest.approx(6.0)


def test_copies_before_the_plane_go_and_those_behind_stay_instances() -> None:
    column = lathe([(0.5, 0.0), (0.5, 3.0)], 64)
    places = translations([(x, 0.0, 0.0) for x in (-4.0, -2.0, 0.0, 2.0)])
    kept = cut_model(Model((Part(("porch", "column"), "order", column, places),)), (-1, 0, 0), 0.0)
    whole, *rest = kept.parts
    assert whole.count == 2
    assert whole.placements is not None
    assert cut_area([p for p in rest if p.role == CUT_ROLE]) == pytest.approx(3.0, rel=0.01)


def test_the_ground_and_parts_behind_the_plane_are_left_alone() -> None:
    sheet = Mesh(
        np.array([[-9.0, -9, 0], [9, -9, 0], [9, 9, 0], [-9, 9, 0]]),
        np.array([[0, 1, 2], [0, 2, 3]]),
    )
    ground = Part(("setting", "ground"), "grass", sheet, solid=False)
    behind = Part(("house", "wall"), "wall", box_between([-3, 0, 0], [-1, 1, 1]))
    kept = cut_model(Model((ground, behind)), (-1, 0, 0), 0.0)
    assert kept.parts == (ground, behind)
