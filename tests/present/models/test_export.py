"""Models written for other programs, read back by libraries that are not ours and measured."""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pygltflib
import pytest
import trimesh
from pxr import Usd, UsdGeom, UsdShade

from massing.present.models import building, write_model
from massing.present.models.gltf import glb
from massing.study.study import read_study

SCENES = Path(__file__).parents[3] / "scenes"
MILLIMETRE = 1e-3
DESIGNS = [("marsh_road", "Six Doric columns"), ("vineyard_cottage", "Ionic with a pediment")]

needs_blender = pytest.mark.skipif(
    importlib.util.find_spec("bpy") is None, reason="Blender's module is not installed"
)


@pytest.fixture(scope="module")
def cottage():
    """A porch with stretched and mirrored copies."""
    scene, design = DESIGNS[1]
    model = read_study(SCENES / f"{scene}.yaml").models[design]
    return replace(model, parts=tuple(model.select("porch")))


@pytest.fixture(scope="module", params=DESIGNS, ids=lambda pair: pair[0])
def model(request):
    """A building with copies by the thousand; the second has stretched and mirrored ones."""
    scene, design = request.param
    return building(read_study(SCENES / f"{scene}.yaml").models[design])


def bounds(model):
    boxes = np.array([part.world_mesh().bounds for part in model.parts])
    return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


def y_up(box):
    """A box of the house's frame in one where Y is up."""
    (x0, y0, z0), (x1, y1, z1) = box
    return np.array([[x0, z0, -y1], [x1, z1, -y0]])


def copies(model):
    return sum(part.count for part in model.parts)


def faces(model):
    return sum(len(part.mesh.faces) * part.count for part in model.parts)


# --- glTF --------------------------------------------------------------------------------


def read_accessor(file, index):
    accessor = file.accessors[index]
    view = file.bufferViews[accessor.bufferView]
    kind = np.dtype(
        {5120: "i1", 5122: "<i2", 5123: "<u2", 5125: "<u4", 5126: "<f4"}[accessor.componentType]
    )
    across = {"SCALAR": 1, "VEC3": 3, "VEC4": 4}[accessor.type]
    stride = view.byteStride or kind.itemsize * across
    start = view.byteOffset + (accessor.byteOffset or 0)
    rows = np.frombuffer(file.binary_blob(), np.uint8, stride * accessor.count, start)
    rows = rows.reshape(accessor.count, stride)[:, : kind.itemsize * across]
    values = np.ascontiguousarray(rows).view(kind).astype(float)
    if accessor.normalized:
        values = np.maximum(values / np.iinfo(kind).max, -1.0)
    return values


def gltf_points(file, number, out):
    """World points of a node and all under it, by the specification's order of transforms."""

    def matrix(moved, turned, scaled):
        x, y, z, w = turned
        turn = np.array(
            [
                [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
                [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
                [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
            ]
        )
        full = np.eye(4)
        full[:3, :3], full[:3, 3] = turn * np.asarray(scaled), moved
        return full

    def walk(number, above):
        node = file.nodes[number]
        here = above @ matrix(
            node.translation or [0, 0, 0], node.rotation or [0, 0, 0, 1], node.scale or [1, 1, 1]
        )
        if node.mesh is not None:
            primitive = file.meshes[node.mesh].primitives[0]
            points = read_accessor(file, primitive.attributes.POSITION)
            places = [np.eye(4)]
            instancing = (node.extensions or {}).get("EXT_mesh_gpu_instancing")
            if instancing:
                given = {k: read_accessor(file, a) for k, a in instancing["attributes"].items()}
                count = len(given["TRANSLATION"])
                scale = given.get("SCALE", np.ones((count, 3)))
                places = [
                    matrix(*each)
                    for each in zip(given["TRANSLATION"], given["ROTATION"], scale, strict=True)
                ]
            for place in places:
                both = here @ place
                world = points @ both[:3, :3].T + both[:3, 3]
                out.append([world.min(axis=0), world.max(axis=0)])
        for child in node.children or []:
            walk(child, here)

    walk(number, np.eye(4))


@pytest.mark.parametrize("compact", [False, True], ids=["plain", "compact"])
def test_gltf_read_back(model, compact):
    file = pygltflib.GLTF2.load_from_bytes(glb([model], compact=compact))
    root = file.nodes[file.scenes[0].nodes[0]]
    parts = [file.nodes[child] for child in root.children]
    assert [part.name for part in parts] == [part.name for part in model.parts]
    assert [part.extras["copies"] for part in parts] == [part.count for part in model.parts]
    boxes = []
    gltf_points(file, file.scenes[0].nodes[0], boxes)
    read = np.array([np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]])
    np.testing.assert_allclose(read, y_up(bounds(model)), atol=MILLIMETRE)


def test_every_part_of_a_compact_gltf_stands_in_its_place(model):
    file = pygltflib.GLTF2.load_from_bytes(glb([model], compact=True))
    for number, part in zip(file.nodes[file.scenes[0].nodes[0]].children, model.parts, strict=True):
        boxes = []
        gltf_points(file, number, boxes)
        read = np.array([np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]])
        np.testing.assert_allclose(
            read, part.world_mesh().bounds, atol=MILLIMETRE, err_msg=part.name
        )


def test_designs_share_what_they_have_in_common():
    study = read_study(SCENES / "marsh_road.yaml")
    alike = study.designs[2:4]  # one house under two roofs
    models = [study.models[design.name] for design in alike]
    together, apart = glb(models, compact=True), [glb([m], compact=True) for m in models]
    assert len(together) - len(apart[1]) < 0.1 * len(apart[0])
    file = pygltflib.GLTF2.load_from_bytes(together)
    assert [scene.name for scene in file.scenes] == [design.name for design in alike]
    assert together == glb(models, compact=True)


@needs_blender
def test_gltf_and_blend_as_blender_reads_them(cottage, tmp_path):
    model = cottage
    from massing.render.driver.blend import write_blend

    glb_path, blend_path = tmp_path / "house.glb", tmp_path / "house.blend"
    write_model(model, glb_path)
    write_blend(model, blend_path, "feet")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["house.blend", "house.glb"]
    for path in (glb_path, blend_path):
        read = blender_reads(path)
        np.testing.assert_allclose(read["bounds"], bounds(model), atol=MILLIMETRE)
        assert read["names"] == sorted(part.key for part in model.parts)
        assert read["finishes"] > 5
        assert read["triangles"] == faces(model)
    assert read["copies"] >= len(model.parts)


def blender_reads(path):
    done = subprocess.run(
        [sys.executable, "-m", "tests.helpers.blender_reads", str(path)],
        cwd=Path(__file__).parents[3],
        capture_output=True,
        text=True,
    )
    lines = [line for line in done.stdout.splitlines() if line.startswith("READ ")]
    assert lines, done.stderr[-2000:]
    return json.loads(lines[0][5:])


# --- USD, OBJ, STL -----------------------------------------------------------------------


def test_usd_read_back(model, tmp_path):
    path = tmp_path / "house.usd"
    assert write_model(model, path) == (path,)
    stage = Usd.Stage.Open(str(path))
    assert UsdGeom.GetStageMetersPerUnit(stage) == 1.0
    assert UsdGeom.GetStageUpAxis(stage) == UsdGeom.Tokens.z
    named = [p for p in stage.TraverseAll() if p.GetCustomDataByKey("part")]
    assert sorted(p.GetCustomDataByKey("part") for p in named) == sorted(
        part.name for part in model.parts
    )
    assert all(p.GetDisplayName() == p.GetCustomDataByKey("part").split("/")[-1] for p in named)
    found = 0
    for prim in stage.TraverseAll():
        if prim.IsA(UsdGeom.PointInstancer):
            found += len(UsdGeom.PointInstancer(prim).GetProtoIndicesAttr().Get())
    rigid = sum(part.count for part in model.parts if part.placements is not None)
    assert found >= 0.9 * rigid  # the few stretched copies are laid out as one mesh
    cache = UsdGeom.BBoxCache(Usd.TimeCode.Default(), [UsdGeom.Tokens.default_])
    box = cache.ComputeWorldBound(stage.GetDefaultPrim()).ComputeAlignedRange()
    read = np.array([box.GetMin(), box.GetMax()])
    for part, prim in zip(
        sorted(model.parts, key=lambda p: p.name),
        sorted(named, key=lambda p: p.GetCustomDataByKey("part")),
        strict=True,
    ):
        assert UsdShade.MaterialBindingAPI(prim).ComputeBoundMaterial()[0], part.name
    np.testing.assert_allclose(exact_usd_bounds(stage), bounds(model), atol=MILLIMETRE)
    assert (read[0] <= bounds(model)[0] + MILLIMETRE).all()
    assert (read[1] >= bounds(model)[1] - MILLIMETRE).all()


def exact_usd_bounds(stage):
    """Over every vertex of every copy; the library's own boxes of turned copies are loose."""
    boxes = []
    for prim in stage.Traverse():
        if prim.IsA(UsdGeom.PointInstancer):
            instancer = UsdGeom.PointInstancer(prim)
            piece = stage.GetPrimAtPath(instancer.GetPrototypesRel().GetTargets()[0])
            points = np.array(UsdGeom.Mesh(piece).GetPointsAttr().Get())
            moves = instancer.ComputeInstanceTransformsAtTime(
                Usd.TimeCode.Default(), Usd.TimeCode.Default()
            )
            for move in np.array(moves):
                world = points @ move[:3, :3] + move[3, :3]
                boxes.append([world.min(axis=0), world.max(axis=0)])
        elif prim.IsA(UsdGeom.Mesh) and not prim.GetParent().IsA(UsdGeom.PointInstancer):
            points = np.array(UsdGeom.Mesh(prim).GetPointsAttr().Get())
            boxes.append([points.min(axis=0), points.max(axis=0)])
    return np.array([np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]])


def test_obj_read_back(cottage, tmp_path):
    model = cottage
    path = tmp_path / "house.obj"
    assert write_model(model, path) == (path, tmp_path / "house.mtl")
    scene = trimesh.load_scene(path, split_object=True, group_material=False)
    np.testing.assert_allclose(scene.bounds, y_up(bounds(model)), atol=MILLIMETRE)
    assert sum(len(g.faces) for g in scene.geometry.values()) == faces(model)
    assert len(scene.geometry) == len(model.parts)


def test_stl_read_back(cottage, tmp_path):
    model = cottage
    path = tmp_path / "house.stl"
    write_model(model, path)
    read = trimesh.load_mesh(path)
    np.testing.assert_allclose(read.bounds / 1000.0, bounds(model), atol=MILLIMETRE)
    assert len(read.faces) == faces(model)
    inside = sum(part.mesh.volume_m3 * part.count for part in model.parts)
    assert read.volume / 1e9 == pytest.approx(inside, rel=1e-3)  # closed, and faces outwards


def test_an_unknown_format_writes_nothing(model, tmp_path):
    with pytest.raises(ValueError, match=r"given house.xyz, allowed: glb, usd, obj, stl"):
        write_model(model, tmp_path / "house.xyz")
    assert not list(tmp_path.iterdir())


def glb_triangles(file, number):
    """Triangles of a node and all under it, each as often as it is set."""
    node = file.nodes[number]
    found = sum(glb_triangles(file, child) for child in node.children or [])
    if node.mesh is None:
        return found
    instancing = (node.extensions or {}).get("EXT_mesh_gpu_instancing")
    times = 1
    if instancing:
        times = file.accessors[instancing["attributes"]["TRANSLATION"]].count
    primitive = file.meshes[node.mesh].primitives[0]
    return found + times * file.accessors[primitive.indices].count // 3


@pytest.mark.parametrize("compact", [False, True], ids=["plain", "compact"])
def test_no_triangle_is_lost_in_gltf(model, compact):
    """Each copy counted as often as it stands; a reader without instancing counts it once."""
    file = pygltflib.GLTF2.load_from_bytes(glb([model], compact=compact))
    root = file.nodes[file.scenes[0].nodes[0]]
    for number, part in zip(root.children, model.parts, strict=True):
        assert glb_triangles(file, number) == len(part.mesh.faces) * part.count, part.name
