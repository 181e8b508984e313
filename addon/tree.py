"""A model in the user's own Blender scene: only what was made here is ever replaced.

Every object made carries the design and the part it belongs to and a hash of what it shows.
Where a part changes, its new shape goes into the object that stands, so that what the user hung
on it stays; parts with the same hash are not touched.
"""

from __future__ import annotations

import hashlib
import re
from collections import defaultdict
from collections.abc import Iterable

import bpy
import numpy as np

from massing.parts.part import Model, Part
from massing.practice.finishes import full_role
from massing.render.blender.materials import apply_look
from massing.render.blender.objects import OWN, ROLE, build_part

DESIGN = "massing_design"
PART = "massing_part"
PLACE = "massing_place"
KEY = "massing_key"
NAME = "massing_name"
KIND = "massing_kind"


def lay(scene: bpy.types.Scene, title: str, model: Model, look: str) -> list[str]:
    """Bring a design's objects in line with its model, and hide the other designs'.

    Returns the names of the parts that were made, changed or taken away.
    """
    root = design_collection(scene, title, model.name)
    standing = _standing(scene, model.name)
    touched = []
    for part in model.parts:
        key = part_key(part, full_role(part.role, model.notes))
        old = standing.pop(part.key, [])
        if old and all(o[KEY] == key for o in old):
            continue
        touched.append(part.key)
        new = _made(part, root, look, model, key)
        if [o.instance_type for o in old] == [o.instance_type for o in new]:
            for before, after in zip(old, new, strict=True):
                _take_over(before, after)
        else:
            remove(old)
    for name, left in standing.items():
        touched.append(name)
        remove(left)
    _prune(root)
    show_only(scene, model.name)
    return touched


def look_at(scene: bpy.types.Scene, model: Model, look: str) -> None:
    """Give a design's objects the materials of a look."""
    objects = [o for group in _standing(scene, model.name).values() for o in group if ROLE in o]
    apply_look(objects, look, model.notes)
    for made in objects:
        made[KIND] = made.data.materials[0].name


def part_key(part: Part, role: str) -> str:
    """A hash of all that a part shows: role, shape and placements."""
    digest = hashlib.blake2b(role.encode(), digest_size=16)
    for array in (part.mesh.vertices, part.mesh.faces, part.placements):
        if array is not None:
            digest.update(np.ascontiguousarray(array))
    return digest.hexdigest()


def design_collection(scene: bpy.types.Scene, title: str, name: str) -> bpy.types.Collection:
    """The collection of a design under that of the scene file, made where missing."""
    house = own_collection(scene, "house", title)
    for child in house.children:
        if child.get(DESIGN) == name:
            return child
    made = bpy.data.collections.new(name)
    made[DESIGN] = name
    house.children.link(made)
    return made


def own_collection(scene: bpy.types.Scene, what: str, name: str) -> bpy.types.Collection:
    """The collection kept for one thing in a scene, found by its mark and not by its name."""
    for child in scene.collection.children_recursive:
        if child.get(OWN) == what:
            return child
    made = bpy.data.collections.new(name)
    made[OWN] = what
    scene.collection.children.link(made)
    return made


def show_only(scene: bpy.types.Scene, name: str) -> None:
    """Show one design and hide the others from view and render."""
    for collection in scene.collection.children_recursive:
        if DESIGN in collection:
            collection.hide_viewport = collection.hide_render = collection[DESIGN] != name


def clear(scene: bpy.types.Scene) -> None:
    """Take away all designs; what the user put among them moves up to the scene."""
    remove([o for o in scene.objects if PART in o])
    house = next((c for c in scene.collection.children if c.get(OWN) == "house"), None)
    if house is None:
        return
    for guest in list(house.all_objects):
        scene.collection.objects.link(guest)
    for collection in [*house.children_recursive, house]:
        bpy.data.collections.remove(collection)


def remove(objects: Iterable[bpy.types.Object]) -> None:
    """Remove objects and the meshes that nothing else uses."""
    for made in list(objects):
        mesh = made.data
        bpy.data.objects.remove(made)
        if mesh is not None and mesh.users == 0:
            bpy.data.meshes.remove(mesh)


def _standing(scene: bpy.types.Scene, name: str) -> dict[str, list[bpy.types.Object]]:
    """A design's objects by part, in order; a user's copy of one is the user's."""
    found: dict[tuple[str, int], list[bpy.types.Object]] = defaultdict(list)
    for made in scene.objects:
        if made.get(DESIGN) == name and PART in made:
            found[made[PART], made[PLACE]].append(made)
    standing: dict[str, list[bpy.types.Object]] = defaultdict(list)
    for (part, _), twins in sorted(found.items(), key=lambda item: item[0]):
        ours = next((o for o in twins if o.name == o[NAME]), twins[0])
        standing[part].append(ours)
        for copy in twins:
            if copy is not ours:
                for mark in (DESIGN, PART, PLACE, KEY, NAME):
                    del copy[mark]
    return standing


def _made(
    part: Part, root: bpy.types.Collection, look: str, model: Model, key: str
) -> list[bpy.types.Object]:
    """New objects of a part with their carriers, marked."""
    visible = build_part(part, root)
    apply_look(visible, look, model.notes)
    for made in visible:
        made[KIND] = made.data.materials[0].name
    new = [o for made in visible for o in (made.parent, made) if o is not None]
    leaf, full = part.path[-1], " ".join(part.path[-2:])
    for place, made in enumerate(new):
        made.name = full + re.sub(r"\.\d+$", "", made.name)[len(leaf) :]
        made.data.name = made.name
        made[DESIGN], made[PART], made[PLACE] = model.name, part.key, place
        made[KEY], made[NAME] = key, made.name
    return new


def _take_over(before: bpy.types.Object, after: bpy.types.Object) -> None:
    """Put the new shape into the object that stands, with the material the user gave it."""
    mesh, stale = after.data, before.data
    if before.get(KIND) == after.get(KIND):
        for slot, material in enumerate(stale.materials):
            if slot < len(mesh.materials):
                mesh.materials[slot] = material
            else:
                mesh.materials.append(material)
    for mark in (KEY, KIND, ROLE):
        if mark in after:
            before[mark] = after[mark]
    before.data = mesh
    bpy.data.objects.remove(after)
    if stale.users == 0:
        name = stale.name
        bpy.data.meshes.remove(stale)
        mesh.name = name


def _prune(root: bpy.types.Collection) -> None:
    """Remove folders of parts that have become empty."""
    for collection in reversed(root.children_recursive):
        if "massing_step" in collection and not collection.all_objects:
            bpy.data.collections.remove(collection)
