"""Seconds that a change takes in the extension: a porch's fields, a whole house, the hour, undo.

Run with the Python of Blender's module: ``python benchmarks/extension_speed.py [SCENE [DESIGN]]``.
Wanted, of one quiet core: a porch's field 0.10 to 0.15 s, what moves copies alone 0.05, a whole
house 0.5, the hour 0.01, undo 0.05. Each field takes a value that was not built before.
"""

from __future__ import annotations

import resource
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import bpy

import addon
from addon import session, tree
from massing.build import eaves, facing, house, porch, roof
from massing.edit.reading import reading
from massing.parts.orders import column
from massing.units import parse_length

ROOT = Path(__file__).parents[1]
REPEATS = 20
# What of a house is kept from one change to the next.
KEPT = (house._body, house._house, roof._roofed, eaves._level_run, porch._under_roof)
KEPT += (facing.laid_on_walls, column._column, reading)
LENGTHS = ("porch.diameter", "porch.depth", "porch.entablature", "porch.balustrade.height")


def told(name: str, change: Callable[[int], object], repeats: int = REPEATS) -> None:
    """Make a change so many times and print the median of wall and processor milliseconds."""
    walls, processors, faults = [], [], 0
    for i in range(repeats):
        wall, processor = time.perf_counter(), time.process_time()
        try:
            change(i)
        except RuntimeError:
            faults += 1
        walls.append(time.perf_counter() - wall)
        processors.append(time.process_time() - processor)
    wall, processor = (1e3 * statistics.median(took) for took in (walls, processors))
    refused = f"  {faults} refused" if faults else ""
    print(f"{name:28} {wall:7.0f} ms  (processor {processor:6.0f} ms){refused}")


def _length(written: str) -> float:
    try:
        return parse_length(written)
    except ValueError:
        return 0.0


def main(path: Path, design: str | None) -> None:
    """Time the changes on a design of a scene file, by default its last."""
    bpy.ops.wm.read_factory_settings(use_empty=True)
    start = time.process_time()
    addon.register()
    print(f"{'registering':28} {1e3 * (time.process_time() - start):7.1f} ms of processor")
    bpy.ops.massing.open(filepath=str(path))
    bpy.context.scene.massing.design = design or bpy.context.scene.massing.designs[-1].name
    scene = bpy.context.scene
    print(f"Blender {bpy.app.version_string}, {path.name}, {scene.massing.shown}, {REPEATS} times")

    def set_field(field: str, value: str) -> None:
        bpy.ops.massing.set_field(field=field, value=value)

    for field in LENGTHS:
        base = _length(session.field_stands(scene.massing, field).shown)
        if base:
            told(field, lambda i, f=field, b=base: set_field(f, f"{b + 0.0015 * (i + 1):.4f} m"))
            bpy.ops.massing.unset_field(field=field)
    session._waits = True  # as with a window: what lays coverings anew shows them a moment later
    base = _length(session.field_stands(scene.massing, "porch.entablature").shown)
    told(
        "porch.entablature in a window",
        lambda i: set_field("porch.entablature", f"{base + 0.0015 * (i + 1):.4f} m"),
    )
    took = []
    for i in range(REPEATS):
        try:
            set_field("porch.entablature", f"{base - 0.0015 * (i + 1):.4f} m")
        except RuntimeError:
            continue
        start = time.process_time()
        session.settle(scene)
        took.append(time.process_time() - start)
    then = 1e3 * statistics.median(took)
    print(f"{'  its coverings, then':28} {'':11}(processor {then:6.0f} ms)")
    bpy.ops.massing.unset_field(field="porch.entablature")
    order = session.field_stands(scene.massing, "porch.order").shown
    others = [name for name in ("doric", "ionic", "tuscan") if name != order.lower()]
    for name in ("ionic", "corinthian", order.lower()):
        told(f"porch.order, first {name}", lambda _, n=name: set_field("porch.order", n), 1)
        session.settle(scene)
    session._waits = False
    told("porch.order", lambda i: set_field("porch.order", [*others, order.lower()][i % 3]))
    set_field("porch.order", order.lower())
    told("hour", lambda i: setattr(scene.massing, "minute", (7 * i) % 60))

    def again(_: int) -> None:
        for kept in KEPT:
            kept.cache_clear()
        root = tree.house_collection(scene, scene.massing.root, scene.massing.house)
        tree.remove(list(root.all_objects))
        bpy.ops.massing.refresh()

    told("whole house again", again, 5)
    bpy.ops.ed.undo_push(message="before")
    for i in range(5):
        depth = parse_length(session.field_stands(scene.massing, "porch.depth").shown)
        set_field("porch.depth", f"{depth + 0.01 * (i + 1):.3f} m")
        bpy.ops.ed.undo_push(message=f"depth {i}")
    told("undo", lambda _: bpy.ops.ed.undo(), 4)
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{'memory at its most':28} {used:7.0f} MB")


if __name__ == "__main__":
    given = sys.argv[1:]
    main(
        Path(given[0]) if given else ROOT / "scenes" / "marsh_road.yaml",
        given[1] if len(given) > 1 else None,
    )
