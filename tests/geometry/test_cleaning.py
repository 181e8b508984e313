"""What is left of cutting, made clean: by bodies whose faults are put there on purpose."""

from __future__ import annotations

import numpy as np
import pytest

from massing.geometry.booleans import less
from massing.geometry.cleaning import (
    CRUMB_M3,
    THINNEST_M,
    cleaned,
    heights_m,
    without_scraps,
)
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import bodies, body_of_faces, box_between, lathe, volumes_m3
from massing.parts.part import Model, Part
from tests.helpers.mesh_faults import faults_of_part

UNIT = box_between((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))


def with_a_needle(offset_m: float) -> Mesh:
    """A unit cube with a corner set into one of its edges, ``offset_m`` off it."""
    vertices = np.vstack([UNIT.vertices, [0.5, offset_m, 1.0]])
    top = [i for i, v in enumerate(UNIT.vertices) if v[2] == 1.0 and v[1] == 0.0]
    a, b = top
    faces = []
    for face in UNIT.faces.tolist():
        if a in face and b in face:
            k = next(k for k in range(3) if {face[k], face[(k + 1) % 3]} == {a, b})
            p, q, r = (face[(k + j) % 3] for j in range(3))
            if all(UNIT.vertices[i][2] == 1.0 for i in face):  # the top is split by the corner
                faces += [[p, 8, r], [8, q, r]]
                needle = [q, 8, p]
            else:
                faces.append(face)
        else:
            faces.append(face)
    return Mesh(vertices, np.array([*faces, needle]))


def test_heights_are_those_of_plain_triangles():
    mesh = Mesh(
        np.array([[0.0, 0, 0], [4, 0, 0], [0, 3, 0], [8, 1e-5, 0]]),
        np.array([[0, 1, 2], [0, 1, 3]]),
    )
    # a triangle of 3, 4, 5 stands 12/5 on its longest side; the other is a needle 4/8 of 10 um high
    assert heights_m(mesh) == pytest.approx([2.4, 5e-6], rel=1e-6)


@pytest.mark.parametrize("offset_m", [0.0, 2e-6, -2e-6])
def test_a_corner_on_an_edge_leaves_no_needle(offset_m):
    given = with_a_needle(offset_m)
    assert (heights_m(given) < THINNEST_M).sum() == 1
    made = cleaned(given)
    assert heights_m(made).min() > 0.1
    assert made.volume_m3 == pytest.approx(1.0, abs=1e-5)
    assert list(faults_of_part(Part(("block",), "wall", made))) == []


def test_what_has_no_fault_comes_back_as_it_is():
    turned = lathe([(0.2, 0.0), (0.2, 2.5), (0.15, 3.0)], 24)
    assert cleaned(turned) is turned


def test_dust_is_swept_where_something_was_cut():
    dust = box_between((2.0, 0.0, 0.0), (2.0009, 0.0009, 0.0009))
    assert abs(dust.volume_m3) < CRUMB_M3
    made = cleaned(merged([with_a_needle(0.0), dust]))
    assert len(bodies(made)) == 1


def test_scraps_are_told_by_their_volume():
    both = merged([UNIT, box_between((2.0, 0.0, 0.0), (2.1, 0.1, 0.1))])
    assert without_scraps(both, 0.9e-3) is both
    assert without_scraps(both, 1.1e-3).volume_m3 == pytest.approx(1.0)
    assert len(without_scraps(both, 2.0).faces) == 0


def test_blocks_that_meet_along_an_edge_stay_closed_without_the_strip_between():
    # what is left of a block less two boxes touches along one line
    cut = merged(
        [
            box_between((-1.0, -1.0, -1.0), (0.5, 0.5, 2.0)),
            box_between((0.5, 0.5, -1.0), (2, 2, 2.0)),
        ]
    )
    left = less(UNIT, cut)
    made = cleaned(left)
    assert made.volume_m3 == pytest.approx(0.5)
    kinds = {fault.kind for fault in faults_of_part(Part(("two",), "wall", made))}
    assert kinds == set()


def test_the_checker_finds_what_is_put_there():
    from tests.helpers.mesh_faults import coplanar, floating

    flipped = Mesh(UNIT.vertices, UNIT.faces[:, ::-1])
    opened = Mesh(UNIT.vertices, UNIT.faces[:-1])
    dust = box_between((0.0, 0.0, 0.0), (0.0005, 0.0005, 0.0005))
    stretched = Part(("s",), "wall", UNIT, np.diag([1.0, 1.0, 2.0, 1.0])[None])
    for part, kind in (
        (Part(("n",), "wall", with_a_needle(0.0)), "thin triangles"),
        (Part(("f",), "wall", flipped), "bodies inside out"),
        (Part(("o",), "wall", opened), "open edges"),
        (Part(("d",), "wall", dust), "crumbs"),
        (stretched, "stretched copies"),
    ):
        assert kind in {fault.kind for fault in faults_of_part(part)}
    assert list(faults_of_part(Part(("u",), "wall", UNIT))) == []

    on_top = Part(("a",), "tile", UNIT.shifted(z_m=1.0))
    in_the_air = Part(("b",), "tile", UNIT.shifted(z_m=2.1))
    standing = Part(("c",), "wall", UNIT)
    assert list(floating(Model((standing, on_top)))) == []
    assert [f.part for f in floating(Model((standing, in_the_air)))] == ["b"]

    beside = Part(("e",), "trim", UNIT.shifted(x_m=0.5))  # its front lies in the first one's front
    proud = Part(("g",), "trim", UNIT.shifted(x_m=0.5, y_m=-0.01, z_m=0.01))
    assert "in one plane" in str(next(coplanar(Model((standing, beside)))))
    assert list(coplanar(Model((standing, proud)))) == []
    assert list(coplanar(Model((standing, on_top)))) == []  # their fronts meet in one line


def test_a_body_of_eight_cubic_millimetres_is_no_dust():
    small = box_between((2.0, 0.0, 0.0), (2.002, 0.002, 0.002))
    assert len(bodies(cleaned(merged([with_a_needle(0.0), small])))) == 2


def test_volumes_of_bodies_are_those_of_each_alone():
    both = merged([UNIT, box_between((2.0, 0.0, 0.0), (2.5, 1.0, 3.0)), with_a_needle(2e-6)])
    found = volumes_m3(both, body_of_faces(both))
    assert found == pytest.approx([body.volume_m3 for body in bodies(both)], rel=1e-12)
    assert found[1] == pytest.approx(1.5)
