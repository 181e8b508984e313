"""Parts of the design shown, marked for Blender's asset browser: one of each kind."""

from __future__ import annotations

from collections import defaultdict

import bpy

from massing.render.blender.objects import OWN

from . import session, tree

_ASSETS = "assets"
# What stands together under one name, by the first words of a part's path.
KINDS = (
    ("porch", "pedestal"),
    ("porch", "column"),
    ("porch", "corner column"),
    ("porch", "balustrade", "balusters"),
    ("house", "window"),
    ("house", "shutters"),
)


def mark(scene: bpy.types.Scene) -> list[bpy.types.Collection]:
    """A collection for each kind that there is, marked as an asset, its parts' meshes shared.

    What was marked before for this house and design is brought up to date.
    """
    state = scene.massing
    session.settle(scene)
    home = tree.own_collection(scene, _ASSETS, state.house, f"assets of {state.shown}")
    for old in list(home.children):
        for made in list(old.objects):
            bpy.data.objects.remove(made)
        bpy.data.collections.remove(old)
    found: dict[str, list[bpy.types.Object]] = defaultdict(list)
    root = tree.house_collection(scene, state.root, state.house)
    for made in root.all_objects if root is not None else ():
        if made.get(tree.DESIGN) != state.shown or made.get(tree.ROLE) is None:
            continue
        path = tuple(str(made.get(tree.PART, "")).partition(" #")[0].split("/"))
        for kind in KINDS:
            if path[: len(kind)] == kind or _numbered(path, kind):
                found[_name(path, kind)].append(made)
    marked = []
    for name, parts in sorted(found.items()):
        asset = bpy.data.collections.new(f"{name.capitalize()}, {state.shown}")  # the kind is seen
        asset[OWN] = _ASSETS
        home.children.link(asset)
        low = _low(parts)
        for part in parts:
            copy = bpy.data.objects.new(part.name, part.data)
            copy.location = tuple(-c for c in low)
            asset.objects.link(copy)
        asset.asset_mark()
        asset.asset_data.description = f"{name.capitalize()} of {state.shown}, metres"
        asset.asset_data.tags.new(name.split()[0])
        if not bpy.app.background:  # its picture in the browser; without a window none is drawn
            asset.asset_generate_preview()
        marked.append(asset)
    home.hide_viewport = home.hide_render = True
    return marked


def _numbered(path: tuple[str, ...], kind: tuple[str, ...]) -> bool:
    """Whether a step of the path is a kind with a number, as ``window 2``."""
    return len(path) >= len(kind) and all(
        step == word or step.startswith(f"{word} ") for step, word in zip(path, kind, strict=False)
    )


def _name(path: tuple[str, ...], kind: tuple[str, ...]) -> str:
    return path[len(kind) - 1]


def _low(parts: list[bpy.types.Object]) -> tuple[float, float, float]:
    """The point that an asset stands on: the middle of its foot."""
    corners = [corner for part in parts for corner in part.bound_box]
    low = [min(c[i] for c in corners) for i in range(3)]
    high = [max(c[i] for c in corners) for i in range(3)]
    return ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0, low[2])
