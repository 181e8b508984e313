"""How fast shadows are found, beside plain Embree on the same mesh and rays in the same run.

    python benchmarks/shadow_speed.py [SCENE] [--design NAME] [--quick]

Raw Embree is embreex's occlusion query alone, its rays laid ready beforehand, one call a sun,
on as many threads. Ours is what the study calls: it finds which points face each sun, starts
their rays clear of the face, and adds up the hours of each half-year. Both are measured turn
by turn over the same suns, so that other work on the machine touches both alike.
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np

from massing.build.house import build
from massing.geometry.mesh import Floats
from massing.geometry.rays import CLEARANCE_M, Caster, threads
from massing.parts.part import Model
from massing.resolve.design import resolve
from massing.scene.load import load_scene
from massing.shadow.elevation import facade_only, see_elevation
from massing.shadow.front import casting_parts
from massing.shadow.study import FACADE_POINTS, YearSuns, facade_grid, year_suns

SCENE = Path(__file__).parents[1] / "scenes" / "marsh_road.yaml"


def main() -> int:
    """Print the figures; 1 when a full year is slower or bigger than it may be."""
    options = _options()
    loaded = load_scene(options.scene)
    names = list(loaded.designs)
    name = options.design or names[min(1, len(names) - 1)]
    design = resolve(loaded.designs[name], name, loaded.lines[name])
    began = time.perf_counter()
    model = Model(tuple(casting_parts(build(design))))
    built = time.perf_counter()
    caster = Caster(model.parts)
    ready = time.perf_counter()
    suns = year_suns(design.site)
    points, normals = _facade(caster, design, FACADE_POINTS)
    print(f"{options.scene.name}, {name}: {caster.triangle_count:,} triangles, {threads()} threads")
    print(f"  model {built - began:.2f} s, ready for rays {ready - built:.2f} s")

    ratio = _against_raw(caster, points, normals, suns, 90 if options.quick else 300)
    print("\nGrowth (ours)")
    _growth(caster, design, suns, options.quick)
    _growth_with_triangles(model, design, suns)
    if options.quick:
        return 0

    print("\nA full year")
    began, cpu = time.perf_counter(), time.process_time()
    hours = caster.lit_sums(points, normals, suns.to_sun, suns.hours)
    seconds, cpu = time.perf_counter() - began, time.process_time() - cpu
    rays = _rays(normals, suns.to_sun)
    peak_gib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20
    pairs = len(hours) * len(suns.to_sun)
    print(f"  {len(hours):,} points x {len(suns.to_sun):,} suns = {pairs:,} pairs, {rays:,} rays:")
    print(f"  {seconds:.1f} s, processor {cpu:.1f} s, peak {peak_gib:.2f} GiB")
    print(f"  {pairs / seconds / 1e6:.1f} million pairs a second")
    if cpu < 0.75 * threads() * seconds:
        print("  (the processor had other work: by the clock this run is slower than it need be)")
    return 0 if ratio >= 0.8 and cpu / threads() < 20.0 and peak_gib < 2.0 else 1


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scene", nargs="?", type=Path, default=SCENE)
    parser.add_argument("--design", help="default: the first alternative")
    parser.add_argument("--quick", action="store_true", help="leave out the full year")
    return parser.parse_args()


def _facade(caster: Caster, design: object, count: int) -> tuple[Floats, Floats]:
    """Exactly ``count`` points on the façade, or all there are of a denser grid."""
    seen = see_elevation(caster, *facade_grid(design, int(1.3 * count)))  # type: ignore[arg-type]
    on_it = seen.of(facade_only)
    points, normals = seen.points[on_it], seen.normals[on_it]
    chosen = np.linspace(0, len(points) - 1, min(count, len(points))).astype(int)
    return points[chosen], normals[chosen]


def _rays(normals: Floats, suns: Floats) -> int:
    """Rays needed: points that face a sun that is up."""
    n, s = normals.astype(np.float32), suns.astype(np.float32)
    return int(sum(int((n @ sun > 0).sum()) for sun in s))


def _against_raw(
    caster: Caster, points: Floats, normals: Floats, suns: YearSuns, count: int
) -> float:
    """Ours over raw by processor time, on ``count`` suns spread over those on the front."""
    front = np.flatnonzero(suns.to_sun[:, 1] < 0)
    chosen = front[np.linspace(0, len(front) - 1, count).astype(int)]
    batches = np.array_split(chosen, 3)
    raw_s = ours_s = raw_cpu = ours_cpu = 0.0
    rays = 0
    for batch in batches:
        ready = [_laid_ready(points, normals, sun) for sun in suns.to_sun[batch]]
        rays += sum(len(origins) for origins, _ in ready)
        wall, cpu = time.perf_counter(), time.process_time()
        with ThreadPoolExecutor(threads()) as pool:
            list(pool.map(lambda r: caster._scene.run(*r, query="OCCLUDED"), ready))
        raw_s, raw_cpu = raw_s + time.perf_counter() - wall, raw_cpu + time.process_time() - cpu
        wall, cpu = time.perf_counter(), time.process_time()
        caster.lit_sums(points, normals, suns.to_sun[batch], suns.hours[batch])
        ours_s, ours_cpu = ours_s + time.perf_counter() - wall, ours_cpu + time.process_time() - cpu
    print(f"\nAgainst raw Embree: {len(points):,} points, {count} suns on the front, {rays:,} rays")
    print(f"  raw  {rays / raw_s / 1e6:6.2f} million rays a second; processor {raw_cpu:.2f} s")
    print(f"  ours {rays / ours_s / 1e6:6.2f} million rays a second; processor {ours_cpu:.2f} s")
    print(f"  ours / raw: {raw_s / ours_s:.0%} by the clock, {raw_cpu / ours_cpu:.0%} by processor")
    return raw_cpu / ours_cpu


def _laid_ready(points: Floats, normals: Floats, sun: Floats) -> tuple[np.ndarray, np.ndarray]:
    facing = normals @ sun > 0
    origins = points[facing] + 10 * CLEARANCE_M * normals[facing]
    return origins.astype(np.float32), sun.astype(np.float32)[None]


def _timed(
    caster: Caster, points: Floats, normals: Floats, suns: YearSuns, chosen: np.ndarray
) -> None:
    wall, cpu = time.perf_counter(), time.process_time()
    caster.lit_sums(points, normals, suns.to_sun[chosen], suns.hours[chosen])
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    pairs = len(points) * len(chosen)
    print(
        f"  {len(points):7,} points {len(chosen):6,} suns {caster.triangle_count:10,} triangles: "
        f"{wall:6.2f} s, processor {cpu:6.2f} s, {1e9 * cpu / pairs:5.0f} ns of it a pair"
    )


def _growth(caster: Caster, design: object, suns: YearSuns, quick: bool) -> None:
    total = len(suns.to_sun)
    few = np.linspace(0, total - 1, 60 if quick else 200).astype(int)
    for count in (1_000, 5_000, 20_000) if quick else (1_000, 5_000, 20_000, 80_000):
        _timed(caster, *_facade(caster, design, count), suns, few)
    for count in (30, 120) if quick else (50, 200, 800):
        chosen = np.linspace(0, total - 1, count).astype(int)
        _timed(caster, *_facade(caster, design, 5_000), suns, chosen)


def _growth_with_triangles(model: Model, design: object, suns: YearSuns) -> None:
    few = np.linspace(0, len(suns.to_sun) - 1, 100).astype(int)
    untiled = [p for p in model.parts if "tiles" not in p.path]
    for parts in (untiled, list(model.parts)):
        caster = Caster(parts)
        _timed(caster, *_facade(caster, design, 5_000), suns, few)


if __name__ == "__main__":
    sys.exit(main())
