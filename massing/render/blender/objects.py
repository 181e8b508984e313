"""A model as Blender's meshes, instances and collections.

A part with placements becomes one mesh and one carrier: a small square per placement, on whose
face Blender draws the mesh, turned as the face is turned. Thousands of tiles cost one mesh and
no node tree, and exporters see them as instances.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import radians
from zlib import crc32

import bpy
import numpy as np
from mathutils import Matrix

from massing.geometry.copies import rigid_groups
from massing.geometry.mesh import Floats, Mesh
from massing.parts.part import Model, Part
from massing.view.foreground import may_hide

CREASE_DEG = 30.0  # edges sharper than this stay crisp, curves below it read smooth
CARRIER_HALF_M = 0.5
ROLE = "massing_role"
CHANCE = "massing_chance"  # a number of the part's own, 0 to 1, that its materials vary by
PART = "massing_part"
MAY_HIDE = "massing_may_hide"  # an elevation leaves it out where it stands before the building
OWN = "massing_own"  # kept on lamp, world and sheets, so that a user's own of that name are left


def build_model(model: Model, parent: bpy.types.Collection) -> list[bpy.types.Object]:
    """Every part as objects under ``parent``, in collections by the steps of its name.

    Returns the objects that carry a visible mesh; their role is kept under :data:`ROLE`.
    """
    shared: Shared = {}
    return [o for part in model.parts for o in build_part(part, parent, shared)]


Shared = dict[tuple[Mesh, str], bpy.types.Mesh]
"""Blender's meshes by the mesh they were made of and its role, for parts that are the same one."""


def build_part(
    part: Part, parent: bpy.types.Collection, shared: Shared | None = None
) -> list[bpy.types.Object]:
    """The objects of one part; see :func:`build_model`."""
    *folders, leaf = part.path
    made = _objects(part, leaf, _collection(folders, parent), {} if shared is None else shared)
    for each in made:
        each[PART], each[MAY_HIDE] = part.key, may_hide(part)
        each[CHANCE] = crc32(part.key.encode()) / 2.0**32
    return made


def _objects(
    part: Part, leaf: str, collection: bpy.types.Collection, shared: Shared
) -> list[bpy.types.Object]:
    if part.placements is None:
        return [_object(leaf, part.mesh, part.role, collection, shared)]
    made = []
    for suffix, mesh, frames in rigid_groups(part):
        if frames is None:
            made.append(_object(leaf + suffix, mesh, part.role, collection, shared))
            continue
        child = _object(leaf + suffix, mesh, part.role, collection, shared)
        carrier = bpy.data.objects.new(f"{leaf}{suffix} places", carrier_mesh(leaf, frames))
        collection.objects.link(carrier)
        child.parent = carrier
        carrier.instance_type = "FACES"
        carrier.use_instance_faces_scale = False
        carrier.show_instancer_for_render = False
        carrier.show_instancer_for_viewport = False
        made.append(child)
    return made


WITHIN_M = (0.0, 4.0, 0.0)
"""Behind the front: what is copied stands here too in a view, though in no picture, and hiding it
would take its copies out of what other programs are given."""


def put_within(made: Iterable[bpy.types.Object]) -> None:
    """Stand what is copied within the house; its copies stay at their places."""
    for each in made:
        carrier = each.parent
        if carrier is not None and carrier.instance_type == "FACES":
            carrier.data.transform(Matrix.Translation([-c for c in WITHIN_M]))
            carrier.location = WITHIN_M


def fill_carrier_within(data: bpy.types.Mesh, frames: Floats) -> None:
    """As :func:`fill_carrier`, for a carrier that :func:`put_within` has moved."""
    moved = frames.copy()
    moved[:, :3, 3] -= WITHIN_M
    fill_carrier(data, moved)


def carrier_mesh(name: str, frames: Floats) -> bpy.types.Mesh:
    """One square per frame ``(k, 4, 4)``, centred on its origin, facing its Z, first side its X."""
    data = bpy.data.meshes.new(f"{name} places")
    fill_carrier(data, frames)
    return data


def fill_carrier(data: bpy.types.Mesh, frames: Floats) -> None:
    """Give a mesh the squares of :func:`carrier_mesh` in place of what it has."""
    a = CARRIER_HALF_M
    square = np.array([[-a, -a, 0.0], [a, -a, 0.0], [a, a, 0.0], [-a, a, 0.0]])
    corners = np.einsum("nij,kj->nki", frames[:, :3, :3], square) + frames[:, None, :3, 3]
    faces = np.arange(4 * len(frames)).reshape(-1, 4)
    if len(data.polygons) == len(frames):
        _places(data, corners)
        data.update()
        return
    _fill(data, corners.reshape(-1, 3), faces)


def fill_shape(data: bpy.types.Mesh, mesh: Mesh) -> None:
    """Give a mesh a part's shape in place of what it has, edges sharp and curves smooth."""
    _fill(data, mesh.vertices, mesh.faces)
    data.shade_smooth()
    data.set_sharp_from_angle(angle=radians(CREASE_DEG))


def _fill(data: bpy.types.Mesh, vertices: Floats, faces: np.ndarray) -> None:
    data.clear_geometry()
    count, sides = faces.shape
    data.vertices.add(len(vertices))
    _places(data, vertices)
    data.loops.add(count * sides)
    corners = data.attributes[".corner_vert"].data
    corners.foreach_set("value", np.ascontiguousarray(faces, dtype=np.int32).ravel())
    data.polygons.add(count)
    data.polygons.foreach_set("loop_start", np.arange(0, count * sides, sides, dtype=np.int32))
    data.update(calc_edges=True)


def _places(data: bpy.types.Mesh, points: Floats) -> None:
    """Where a mesh's vertices are: as the attribute they are kept in, fifty times as quick."""
    where = data.attributes["position"].data
    where.foreach_set("vector", np.ascontiguousarray(points, dtype=np.float32).ravel())


def _object(
    name: str, mesh: Mesh, role: str, collection: bpy.types.Collection, shared: Shared
) -> bpy.types.Object:
    data = shared.get((mesh, role))
    if data is None:
        data = shared[mesh, role] = bpy.data.meshes.new(name)
        fill_shape(data, mesh)
    made = bpy.data.objects.new(name, data)
    made[ROLE] = role
    collection.objects.link(made)
    return made


def _collection(steps: list[str], parent: bpy.types.Collection) -> bpy.types.Collection:
    """The collection at the end of a path, made where missing.

    Blender's names are global, so each is found by the path kept on it.
    """
    for step in steps:
        for child in parent.children:
            if child.get("massing_step") == step:
                parent = child
                break
        else:
            child = bpy.data.collections.new(step)
            child["massing_step"] = step
            parent.children.link(child)
            parent = child
    return parent
