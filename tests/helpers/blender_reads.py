"""Open a file in Blender and say what stands in it: ``python -m tests.helpers.blender_reads FILE``.

Prints JSON: the least and greatest corner of all that is shown, copies included; how many
parts; how many copies; the names.
"""

from __future__ import annotations

import json
import sys

import bpy
import numpy as np


def main(path: str) -> None:
    bpy.ops.wm.read_factory_settings(use_empty=True)
    if path.endswith(".blend"):
        bpy.ops.wm.open_mainfile(filepath=path)
    else:
        bpy.ops.import_scene.gltf(filepath=path)
    low, high, copies, triangles = np.full(3, np.inf), np.full(3, -np.inf), 0, 0
    for shown in bpy.context.evaluated_depsgraph_get().object_instances:
        mesh = shown.object.data
        if not isinstance(mesh, bpy.types.Mesh) or not shown.show_self:
            continue
        above = shown.object.parent
        if above and above.instance_type == "FACES" and not shown.is_instance:
            continue  # what is copied is not itself shown
        points = np.empty(3 * len(mesh.vertices), dtype=np.float32)
        mesh.vertices.foreach_get("co", points)
        matrix = np.array(shown.matrix_world)
        world = points.reshape(-1, 3) @ matrix[:3, :3].T + matrix[:3, 3]
        if len(world):
            low, high = np.minimum(low, world.min(axis=0)), np.maximum(high, world.max(axis=0))
            copies += 1
            triangles += sum(len(face.vertices) - 2 for face in mesh.polygons)
    names = {o.get("massing_part") or o.get("part") for o in bpy.data.objects} - {None}
    parts = sum(1 for o in bpy.data.objects if o.get("massing_part") or o.get("part"))
    content = {
        "bounds": [low.tolist(), high.tolist()],
        "parts": parts,
        "copies": copies,
        "triangles": triangles,
        "names": sorted(names),
        "finishes": len(bpy.data.materials),
    }
    print("READ " + json.dumps(content))


if __name__ == "__main__":
    main(sys.argv[1])
