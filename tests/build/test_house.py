"""The whole building: closed solids, nothing floating, nothing passing through anything."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import manifold3d
import numpy as np
import pytest

from massing.build.house import build
from massing.geometry.mesh import Mesh
from massing.parts.part import Model, Part
from massing.resolve.design import resolve
from massing.scene.load import load_scene

SCENES = Path(__file__).parents[2] / "scenes"
DESIGNS = [
    (path.stem, name) for path in sorted(SCENES.glob("*.yaml")) for name in load_scene(path).designs
]
TOUCH_M = 1e-4  # bodies this near count as touching
# Ornaments are housed a few millimetres in what they stand on.
HOUSED_M = 0.003


@pytest.fixture(scope="module", params=DESIGNS, ids=lambda d: f"{d[0]}: {d[1]}")
def model(request: pytest.FixtureRequest) -> Model:
    scene, name = request.param
    loaded = load_scene(SCENES / f"{scene}.yaml")
    return build(resolve(loaded.designs[name], name, loaded.lines[name]))


def bodies(part: Part) -> list[Mesh]:
    """Each copy of a part as its own mesh."""
    if part.placements is None:
        return [part.mesh]
    return [part.mesh.moved(matrix) for matrix in part.placements]


def manifold(mesh: Mesh) -> manifold3d.Manifold:
    return manifold3d.Manifold(
        manifold3d.Mesh64(
            vert_properties=np.ascontiguousarray(mesh.vertices),
            tri_verts=np.ascontiguousarray(mesh.faces.astype(np.uint64)),
        )
    )


# Joints where one piece is let into another by design.
JOINTS = (
    ("glass", "sash"),
    ("lights", "glass"),
    ("stiles and rails", "panels"),  # tongues in their grooves
    ("roof/flat", "balustrade/base"),  # bedded in the sheet metal's fall
    ("roof/flat", "blocking course"),  # the same
    ("leaves", "panels"),
    ("leaves", "glass"),
    ("/trunk", "/crown"),
    ("pilaster/capital", "capital/volutes"),  # carved of one block
    ("capital/fleurons", "column/abacus"),  # the same
    ("column/capital", "capital/stems"),  # the same
    ("cornice", "/plain ends"),  # carved courses are let into the cornice, their ends too
    ("arcade/archivolts", "arcade/keystones"),
    ("arcade/wall over it", "entablature/beam"),  # which bears in it
    # columns engaged in an arcade's piers are of one block with them
)


def joined(a: Part, b: Part) -> bool:
    names = (a.name, b.name)
    if any(engaged(names[i], names[1 - i]) for i in (0, 1)):
        return True
    return any(
        names[i].endswith(one) and names[1 - i].endswith(other)
        for one, other in JOINTS
        for i in (0, 1)
    )


def engaged(one: str, other: str) -> bool:
    """Whether a column with its pedestal is of one block with the pier of an arcade behind."""
    order = one.startswith("porch/") and ("column/" in one or "pedestal" in one)
    return order and other in ("porch/arcade/piers", "porch/arcade/plinths")


def solids(model: Model) -> list[Part]:
    """What a builder puts up; coverings and bricks are tested with roof and facing."""
    many = ("/tiles/", "/bricks/", "/pots")
    return [p for p in model.parts if p.solid and not any(m in p.name for m in many)]


def test_every_solid_is_closed_and_looks_outward(model: Model) -> None:
    for part in model.parts:
        if part.solid:
            mesh = part.mesh.to_trimesh()
            assert mesh.is_watertight, part.name
            assert mesh.is_winding_consistent, part.name
            assert mesh.volume > 0, part.name


def test_nothing_passes_through_its_neighbour(model: Model) -> None:
    clashes = set()
    for a, b in combinations(solids(model), 2):
        if not joined(a, b):
            clashes |= {(a.name, b.name, round(v, 6)) for v in overlaps(a, b)}
    assert not clashes


def overlaps(a: Part, b: Part) -> list[float]:
    """Shared volumes (m3) of copies of two parts, beyond what is housed."""
    found = []
    others = [(m, m.bounds) for m in bodies(b)]
    for mesh in bodies(a):
        low, high = mesh.bounds
        for other, (other_low, other_high) in others:
            if (np.minimum(high, other_high) - np.maximum(low, other_low) < TOUCH_M).any():
                continue
            shared = (manifold(mesh) ^ manifold(other)).volume()
            face_m2 = min(mesh.to_trimesh().area, other.to_trimesh().area) / 2.0
            if shared > HOUSED_M * face_m2:
                found.append(shared)
    return found


def test_nothing_floats(model: Model) -> None:
    """Every body touches another, and through others the ground."""
    held = [(p.name, m.bounds) for p in solids(model) for m in bodies(p)]
    names = [n for n, _ in held]
    boxes = np.array([b for _, b in held])
    reached = boxes[:, 0, 2] < TOUCH_M
    for _ in range(len(boxes)):
        on = boxes[reached]
        touch = (
            (
                (boxes[:, None, 0] <= on[None, :, 1] + TOUCH_M)
                & (boxes[:, None, 1] >= on[None, :, 0] - TOUCH_M)
            )
            .all(axis=2)
            .any(axis=1)
        )
        if (touch == reached).all():
            break
        reached |= touch
    assert sorted({n for n, r in zip(names, reached, strict=True) if not r}) == []
