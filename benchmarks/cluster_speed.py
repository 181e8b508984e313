"""Pictures per hour by one, two and four workers of this machine, each with its share of the cores.

    python benchmarks/cluster_speed.py scenes/vineyard_cottage.yaml --pictures 24 --workers 1 2 4

Without workers the same pictures are made first by one process with all cores. Starting is counted:
Dask's processes, Blender's, each model sent and built; so few pictures say less of many workers.
Printed besides: bytes of the models sent, bytes of pictures that came back, and whether all are
the same to the pixel.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, ".")


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
        for workers in ("", *map(str, options.workers)):
            folder = Path(place, f"by-{workers or 'none'}")
            jobs = [(study.models[p.design], shot_of(study, p, folder)) for p in asked]
            began = time.monotonic()
            results = render_pictures(jobs, workers=workers, log_path=folder / "render.log")
            seconds = time.monotonic() - began
            failed = [r.error for r in results if r.error]
            made = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*.png")}
            pixels = {
                name: np.asarray(Image.open(p).convert("RGB")).tobytes() for name, p in made.items()
            }
            expected = expected or pixels
            megabytes = sum(p.stat().st_size for p in made.values()) / 1e6
            print(
                f"{workers or 'no'} workers: {seconds:.1f} s, {len(made) / seconds * 3600:.0f} an "
                f"hour, {megabytes:.1f} MB of pictures, {len(failed)} failed, "
                f"{'the same' if pixels == expected else 'OTHER'} pixels",
                flush=True,
            )
            for error in failed[:3]:
                print(f"  {error}")


if __name__ == "__main__":
    main()
