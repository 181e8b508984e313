"""A model in the user's own Blender scene: only what was made here is ever replaced.

A house is one collection, known by an id of its own; several houses, and linked ones, stand side
by side. Every object made carries the house, the design and the part it belongs to, and a hash of
what it shows. Where a part changes, its new shape goes into the object that stands, so that what
the user hung on it stays; parts with the same hash are not touched.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator

import bpy

from massing.edit.difference import frames_hash, mesh_hash, part_hash, parts_by_key
from massing.geometry.copies import rigid_groups
from massing.geometry.mesh import Floats, Mesh
from massing.parts.part import Model, Part
from massing.practice.finishes import full_role
from massing.render.blender.materials import apply_look
from massing.render.blender.objects import (
    OWN,
    ROLE,
    build_part,
    fill_carrier_within,
    fill_shape,
    put_within,
)

HOUSE = "massing_house"
DESIGN = "massing_design"
PART = "massing_part"
PLACE = "massing_place"
KEY = "massing_key"
NAME = "massing_name"
KIND = "massing_kind"
SHAPE = "massing_shape"
ASIDE = "massing_aside"
_MARKS = (HOUSE, DESIGN, PART, PLACE, KEY, NAME, KIND, SHAPE)


def lay(
    scene: bpy.types.Scene,
    root: bpy.types.Collection,
    model: Model,
    look: str,
    *,
    light: bool = False,
) -> list[str]:
    """Bring a design's objects under ``root`` in line with its model.

    What a ``light`` model has not stays as it stands, for the whole one to mend.

    Returns the keys of the parts that were made, changed or taken away.
    """
    home = design_collection(root, model.name)
    standing = _standing(scene, root, model.name)
    touched = []
    for part_key, part in parts_by_key(model).items():
        key = part_hash(part, full_role(part.role, model.notes))
        old = standing.pop(part_key, [])
        if old and all(o[KEY] == key for o in old):
            continue
        touched.append(part_key)
        if not _reshaped(old, part, look, model, key):
            remove(old)
            _make(part, part_key, root, home, look, model, key)
    if light:
        return touched
    for part_key, left in standing.items():
        touched.append(part_key)
        remove(left)
    _prune(home)
    return touched


def stand_at(scene: bpy.types.Scene, root: bpy.types.Collection, name: str, along_m: float) -> None:
    """Stand a design so far to the right; where the user moved a part it stays moved."""
    for group in _standing(scene, root, name).values():
        for made in group:
            ours = made.parent is not None and PART in made.parent
            if not ours and made.delta_location.x != along_m:
                made.delta_location = (along_m, 0.0, 0.0)


def look_at(scene: bpy.types.Scene, root: bpy.types.Collection, model: Model, look: str) -> None:
    """Give a design's objects the materials of a look, but for those with one of the user's."""
    standing = _standing(scene, root, model.name)
    for made in (o for group in standing.values() for o in group if ROLE in o):
        if _wears_ours(made):
            apply_look([made], look, model.notes)
            made[KIND] = made.data.materials[0].name


def design_collection(root: bpy.types.Collection, name: str) -> bpy.types.Collection:
    """The collection of a design under that of its house, made where missing."""
    for child in root.children:
        if child.get(DESIGN) == name:
            return child
    made = bpy.data.collections.new(name)
    made[DESIGN] = name
    root.children.link(made)
    return made


def house_collection(
    scene: bpy.types.Scene, known: bpy.types.Collection | None, house: str
) -> bpy.types.Collection | None:
    """The collection of a house in a scene: the one known, else one with its id, else none."""
    ours = [
        c
        for c in scene.collection.children_recursive
        if c.get(OWN) == "house" and c.get(HOUSE) == house and c.library is None
    ]
    if known is not None and known in ours:
        return known
    return ours[0] if ours else None


def own_collection(
    scene: bpy.types.Scene, what: str, house: str, name: str
) -> bpy.types.Collection:
    """The collection kept for one thing of a house, found by its marks and not by its name."""
    for child in scene.collection.children_recursive:
        if child.get(OWN) == what and child.get(HOUSE) == house and child.library is None:
            return child
    made = bpy.data.collections.new(name)
    made[OWN], made[HOUSE] = what, house
    scene.collection.children.link(made)
    return made


def show_only(root: bpy.types.Collection, names: Iterable[str]) -> None:
    """Show some designs of a house and hide its others from view and render."""
    shown = set(names)
    for child in root.children:
        if DESIGN in child and child.library is None:
            child.hide_viewport = child.hide_render = child[DESIGN] not in shown


def keep_designs(scene: bpy.types.Scene, root: bpy.types.Collection, names: Iterable[str]) -> None:
    """Take away designs of a house that are none any more."""
    kept = set(names)
    for child in [c for c in root.children if c.get(DESIGN, "") not in kept and DESIGN in c]:
        remove([o for o in child.all_objects if _is_ours(o, root)])
        _dissolve(scene, child)


def rename_design(root: bpy.types.Collection, name: str, new: str) -> None:
    """Let what stands of a design stand under its other name."""
    for made in root.all_objects:
        if made.get(DESIGN) == name and made.library is None:
            made[DESIGN] = new
    for child in root.children:
        if child.get(DESIGN) == name and child.library is None:
            child[DESIGN] = child.name = new


def clear(scene: bpy.types.Scene, root: bpy.types.Collection) -> None:
    """Take a house away; what the user put among its parts moves up to the scene."""
    remove(list(_candidates(scene, root)))
    _dissolve(scene, root)


def remove(objects: Iterable[bpy.types.Object]) -> None:
    """Remove objects and the meshes that nothing else uses."""
    for made in list(objects):
        mesh = made.data
        bpy.data.objects.remove(made)
        if mesh is not None and mesh.users == 0:
            bpy.data.meshes.remove(mesh)


# --- what Blender starts with ---------------------------------------------------------------

_START = {"Cube": "MESH", "Light": "LIGHT", "Camera": "CAMERA"}


def put_aside(scene: bpy.types.Scene) -> None:
    """Hide the cube, the lamp and the camera of a new file, where they are as Blender made them."""
    for found in scene.objects:
        shown = not (found.hide_viewport or found.hide_render or found.library)
        if shown and _START.get(found.name) == found.type and _untouched(found):
            found[ASIDE] = True
            found.hide_viewport = found.hide_render = True


def bring_back(scene: bpy.types.Scene) -> None:
    """Show again what :func:`put_aside` hid."""
    for found in scene.objects:
        if found.library is None and ASIDE in found:
            del found[ASIDE]
            found.hide_viewport = found.hide_render = False


def _untouched(found: bpy.types.Object) -> bool:
    if found.type == "MESH":
        mesh = found.data
        same = len(mesh.vertices) == 8 and all(
            abs(abs(c) - 1.0) < 1e-6 for v in mesh.vertices for c in v.co
        )
        return same and not found.modifiers and found.location.length < 1e-6
    return found.parent is None and not found.constraints and found.animation_data is None


# --- what stands ----------------------------------------------------------------------------


def _is_ours(made: bpy.types.Object, root: bpy.types.Collection) -> bool:
    marked = made.get(HOUSE) == root[HOUSE] and PART in made
    return marked and made.library is None and made.override_library is None


def _candidates(scene: bpy.types.Scene, root: bpy.types.Collection) -> Iterator[bpy.types.Object]:
    """Objects of a house, wherever the user moved them, but not those of another copy of it."""
    others = {
        o
        for c in scene.collection.children_recursive
        if c.get(OWN) == "house" and c != root
        for o in c.all_objects
    }
    inside = set(root.all_objects)
    for made in scene.objects:
        if _is_ours(made, root) and (made in inside or made not in others):
            yield made


def _standing(
    scene: bpy.types.Scene, root: bpy.types.Collection, name: str
) -> dict[str, list[bpy.types.Object]]:
    """A design's objects by part, in order; a user's copy of one is the user's."""
    found: dict[tuple[str, int], list[bpy.types.Object]] = defaultdict(list)
    for made in _candidates(scene, root):
        if made.get(DESIGN) == name:
            found[made[PART], made[PLACE]].append(made)
    standing: dict[str, list[bpy.types.Object]] = defaultdict(list)
    for (part, _), twins in sorted(found.items(), key=lambda item: item[0]):
        ours = next((o for o in twins if o.name == o[NAME]), twins[0])
        standing[part].append(ours)
        for copy in twins:
            if copy is not ours:
                for mark in _MARKS:
                    if mark in copy:
                        del copy[mark]
    return standing


def _make(
    part: Part,
    part_key: str,
    root: bpy.types.Collection,
    home: bpy.types.Collection,
    look: str,
    model: Model,
    key: str,
) -> None:
    """New objects of a part with their carriers, marked."""
    visible = build_part(part, home)
    put_within(visible)
    apply_look(visible, look, model.notes)
    for made in visible:
        made[KIND] = made.data.materials[0].name
        made.display.show_shadows = part.solid  # plain shading takes an open sheet for a body
    new = [o for made in visible for o in (made.parent, made) if o is not None]
    leaf, full = part.path[-1], " ".join(part.path[-2:])
    for place, (made, (_, shape)) in enumerate(zip(new, _shapes(part), strict=True)):
        made.name = full + re.sub(r"\.\d+$", "", made.name)[len(leaf) :]
        made.data.name = made.name
        made[HOUSE], made[DESIGN] = root[HOUSE], model.name
        made[PART], made[PLACE] = part_key, place
        made[KEY], made[NAME], made[SHAPE] = key, made.name, shape


def _shapes(part: Part) -> list[tuple[Mesh | Floats, str]]:
    """What each object of a part holds, in their order: a carrier's frames or a mesh; its hash."""
    found: list[tuple[Mesh | Floats, str]] = []
    for _, mesh, frames in rigid_groups(part):
        if frames is not None:
            found.append((frames, frames_hash(frames)))
        found.append((mesh, mesh_hash(mesh)))
    return found


def _reshaped(old: list[bpy.types.Object], part: Part, look: str, model: Model, key: str) -> bool:
    """Put a part's new shape into the objects that stand; False where they are of another kind.

    A mesh that is this object's alone is filled anew, one that others use is left to them.
    Materials, modifiers and children that the user gave stay.
    """
    shapes = _shapes(part)
    if not old or [o.instance_type == "FACES" for o in old] != [
        not isinstance(what, Mesh) for what, _ in shapes
    ]:
        return False
    for made, (what, shape) in zip(old, shapes, strict=True):
        if made.get(SHAPE) != shape:
            mesh = _own_mesh(made)
            if isinstance(what, Mesh):
                fill_shape(mesh, what)
            else:
                fill_carrier_within(mesh, what)
        made[KEY], made[SHAPE] = key, shape
        if isinstance(what, Mesh) and made.get(ROLE) != part.role:
            made[ROLE] = part.role
            if _wears_ours(made):
                apply_look([made], look, model.notes)
                made[KIND] = made.data.materials[0].name
    return True


def _own_mesh(made: bpy.types.Object) -> bpy.types.Mesh:
    """The object's mesh to be filled anew: its own, or a new one with the same materials."""
    mesh = made.data
    if made.mode == "EDIT":
        made.update_from_editmode()
        bpy.ops.object.mode_set(mode="OBJECT")
    if mesh.users == 1 and mesh.library is None and mesh.shape_keys is None:
        return mesh
    new = bpy.data.meshes.new(made.name)
    for material in mesh.materials:
        new.materials.append(material)
    made.data = new
    return new


def _wears_ours(made: bpy.types.Object) -> bool:
    worn = made.data.materials[0] if made.data.materials else None
    return worn is None or worn.name == made.get(KIND)


def _dissolve(scene: bpy.types.Scene, collection: bpy.types.Collection) -> None:
    """Remove a collection of ours and those in it; whatever is left in them moves up."""
    inner = [c for c in (*collection.children_recursive, collection) if c.library is None]
    for each in inner:
        for guest in list(each.objects):
            if guest.name not in scene.collection.objects:
                scene.collection.objects.link(guest)
        for child in each.children:
            if child.library is not None or not _is_folder(child):
                scene.collection.children.link(child)
    for each in inner:
        if each == collection or _is_folder(each):
            bpy.data.collections.remove(each)


def _is_folder(collection: bpy.types.Collection) -> bool:
    return "massing_step" in collection or DESIGN in collection


def _prune(home: bpy.types.Collection) -> None:
    """Remove folders of parts that have become empty."""
    for collection in reversed(home.children_recursive):
        if "massing_step" in collection and not collection.all_objects:
            bpy.data.collections.remove(collection)
