"""Seconds that a change takes in the extension, for a porch and for a whole house.

Run with the Python of Blender's module: ``python benchmarks/extension_speed.py [SCENE]``.
Wanted: a porch change under 0.2 s, a whole house under 1 s, on one quiet core.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import bpy

import addon
from addon import tree
from massing.build import house as model

REPEATS = 7


def seconds(change: Callable[[int], object]) -> tuple[float, float]:
    """Median wall and processor seconds of a change, made afresh each time."""
    walls, processors = [], []
    for i in range(REPEATS):
        wall, processor = time.perf_counter(), time.process_time()
        change(i)
        walls.append(time.perf_counter() - wall)
        processors.append(time.process_time() - processor)
    return statistics.median(walls), statistics.median(processors)


def main(path: Path) -> None:
    """Time the changes on the last alternative of a scene file."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    addon.register()
    scene = bpy.context.scene
    bpy.ops.massing.open(filepath=str(path))
    state = scene.massing
    state.design = state.designs[-1].name
    state.depth_by = "measured"
    depth_m, diameter_m, bays = state.depth, state.diameter, state.bays
    state.balustrade = True

    def again(_: int) -> None:
        model._house.cache_clear()
        tree.clear(scene)
        bpy.ops.massing.refresh()

    def set_diameter(i: int) -> None:
        state.diameter = diameter_m * (0.97 - 0.01 * i)

    def set_covering(i: int) -> None:
        model._house.cache_clear()
        state.covering = ("plain", "barrel tile")[i % 2]

    state.diameter_by = "measured"
    changes: dict[str, Callable[[int], object]] = {
        "porch depth": lambda i: setattr(state, "depth", depth_m + 0.05 * (i + 1)),
        "column diameter": set_diameter,
        "roof covering": set_covering,
        "whole house again": again,
        "hour": lambda i: setattr(state, "hour", 9.0 + i / 4.0),
    }
    print(f"Blender {bpy.app.version_string}, {path.name}, {state.design}, {REPEATS} times each")
    for name, change in changes.items():
        wall, processor = seconds(change)
        fault = state.fault or state.time_fault
        print(f"{name:20} {wall:6.3f} s  (processor {processor:6.3f} s) {fault}")
    objects = sum(tree.PART in o for o in scene.objects)
    print(f"{objects} objects, {bays} bays")


if __name__ == "__main__":
    default = Path(__file__).parents[1] / "scenes" / "marsh_road.yaml"
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else default)
