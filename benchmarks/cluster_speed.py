"""Pictures per hour by one, two and four workers, each on cores of its own as on its own machine.

    python benchmarks/cluster_speed.py scenes/vineyard_cottage.yaml --pictures 24 --cores 2

Without workers the same pictures are made first by one process on as many cores. Starting Blender
and sending and building each model is counted, starting Dask is not; few pictures say little of
many workers.
Printed besides: bytes of the models sent, bytes of pictures that came back, and whether all are
the same to the pixel.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, ".")


@contextmanager
def machines(count: int, cores: int, place: Path) -> Iterator[str]:
    """A scheduler with so many workers, each held to cores of its own; its address."""
    all_cores = sorted(os.sched_getaffinity(0))
    seats = [set(all_cores[i * cores : (i + 1) * cores]) or set(all_cores) for i in range(count)]
    if not count:
        os.sched_setaffinity(0, all_cores[:cores])
        yield ""
        os.sched_setaffinity(0, all_cores)
        return
    from distributed import Client

    found = place / f"scheduler-{count}.json"
    common = ("--scheduler-file", str(found), "--no-dashboard")
    with ExitStack() as stack:

        def start(name: str, *options: str, on: set[int]) -> None:
            process = subprocess.Popen(
                [sys.executable, "-m", f"distributed.cli.dask_{name}", *common, *options],
                env={**os.environ, "PYTHONPATH": "."},
                stderr=subprocess.DEVNULL,
                preexec_fn=lambda: os.sched_setaffinity(0, on),
            )
            stack.callback(process.wait)
            stack.callback(process.kill)

        start("scheduler", "--host", "127.0.0.1", "--port", "0", on=set(all_cores))
        for seat in seats:
            start("worker", "--no-nanny", "--local-directory", str(place), on=seat)
        while not found.exists():
            time.sleep(0.1)
        address = json.loads(found.read_text())["address"]
        with Client(address, set_as_default=False) as client:
            client.wait_for_workers(count, timeout=120)
        yield address


def main() -> None:
    """Print a line for each number of workers."""
    from massing.render.driver.cluster import render_pictures
    from massing.render.driver.modelfile import save_model
    from massing.study.pictures import pictures, shot_of
    from massing.study.study import read_study

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("scene", type=Path)
    parser.add_argument("--pictures", type=int, default=24)
    parser.add_argument("--size", type=int, nargs=2, default=(800, 500))
    parser.add_argument("--cores", type=int, default=2, help="of each worker")
    parser.add_argument("--workers", type=int, nargs="*", default=(1, 2, 4))
    options = parser.parse_args()
    study = read_study(options.scene)
    study.build()
    asked = pictures(study, "draft", tuple(options.size), ())[: options.pictures]
    expected: dict[str, bytes] = {}
    with tempfile.TemporaryDirectory() as place:
        sizes = []
        for name in {p.design for p in asked}:
            save_model(study.models[name], Path(place, "model.npz"))
            sizes.append(Path(place, "model.npz").stat().st_size)
        print(f"{len(asked)} pictures of {len(sizes)} models, {sum(sizes) / 1e6:.1f} MB of models")
        for workers in (0, *options.workers):
            folder = Path(place, f"by-{workers}")
            jobs = [(study.models[p.design], shot_of(study, p, folder)) for p in asked]
            with machines(workers, options.cores, Path(place)) as address:
                began = time.monotonic()
                results = render_pictures(jobs, workers=address, log_path=folder / "render.log")
                seconds = time.monotonic() - began
            failed = [r.error for r in results if r.error]
            made = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*.png")}
            pixels = {
                name: np.asarray(Image.open(p).convert("RGB")).tobytes() for name, p in made.items()
            }
            expected = expected or pixels
            megabytes = sum(p.stat().st_size for p in made.values()) / 1e6
            print(
                f"{workers or 'no'} workers of {options.cores} cores: {seconds:.1f} s, "
                f"{len(made) / seconds * 3600:.0f} an hour, {megabytes:.1f} MB, "
                f"{len(failed)} failed, {'the same' if pixels == expected else 'OTHER'} pixels",
                flush=True,
            )
            for error in failed[:3]:
                print(f"  {error}")


if __name__ == "__main__":
    main()
