"""How pictures by a graphics card differ from the processor's, view by view and look by look.

    python -m benchmarks.processor_and_card [SCENE] [--size 800x500] [--quality final] [-o FOLDER]

The design as drawn at the scene's first hour: every view as a white model and in its materials,
each rendered by both with the same samples. Prints the clock's seconds of both, the structural
similarity (SSIM, scikit-image), the mean difference and the share of pixels that differ by more
than 8 of 255; a card's first picture may take minutes, while its driver compiles for it.
"""

from __future__ import annotations

import argparse
import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image
from skimage.metrics import structural_similarity

from massing.render.driver.run import render_shots
from massing.study.pictures import focus_points, pictures, shot_of
from massing.study.study import read_study
from massing.view.cameras import VIEWS, camera_for

SCENE = Path(__file__).parents[1] / "scenes" / "marsh_road.yaml"
FAR_OFF = 8


def main() -> None:
    """Render each shot by both and print a row for it."""
    options = _options()
    study = read_study(options.scene)
    design = study.designs[0]
    width, height = map(int, options.size.split("x"))
    base = shot_of(study, pictures(study, options.quality, (width, height))[0])
    shots = []
    for view in VIEWS:
        camera = camera_for(
            view,
            study.bounds_m,
            width_px=width,
            height_px=height,
            focus=focus_points(study.designs),
            ground=design.site.ground,
            sun_side=study.sun_side,
            outline_m=study.outline_m,
        )
        shots += [replace(base, camera=camera, look=look, levels=()) for look in LOOKS]
    with tempfile.TemporaryDirectory() as temporary:
        folder = options.out or Path(temporary)
        folder.mkdir(parents=True, exist_ok=True)
        seconds, found = {}, {}
        for device in ("processor", "graphics"):
            named = [
                replace(shot, output=folder / f"{i:02d}_{shot.look}_{device}.png")
                for i, shot in enumerate(shots)
            ]
            results = render_shots(
                study.models[design.name],
                named,
                log_path=folder / "render.log",
                device=device,
                on_device=lambda words, of=device: found.update({of: words}),
                on_quiet=print,
            )
            failed = [result.error for result in results if result.error]
            if failed:
                raise SystemExit(failed[0])
            seconds[device] = [result.seconds for result in results]
            print(f"{device}: {found[device]}, {sum(seconds[device]):.1f} s", flush=True)
        head = ("processor s", "card s", "SSIM", "mean", f">{FAR_OFF}")
        print(f"{'':32}" + "".join(f"{word:>12}" for word in head))
        for i, shot in enumerate(shots):
            both = [
                np.asarray(Image.open(folder / f"{i:02d}_{shot.look}_{d}.png").convert("RGB"))
                for d in ("processor", "graphics")
            ]
            off = np.abs(both[0].astype(int) - both[1])
            ssim = structural_similarity(*both, channel_axis=2)
            print(
                f"{shot.camera.name + ', ' + shot.look:32}"
                f"{seconds['processor'][i]:12.1f}{seconds['graphics'][i]:12.1f}"
                f"{ssim:12.4f}{off.mean():12.2f}{(off.max(axis=2) > FAR_OFF).mean():12.2%}"
            )


LOOKS = ("clay", "materials")


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("scene", nargs="?", type=Path, default=SCENE)
    parser.add_argument("--size", default="800x500")
    parser.add_argument("--quality", default="final", choices=("draft", "final"))
    parser.add_argument("-o", "--out", type=Path, help="keep the pictures there")
    return parser.parse_args()


if __name__ == "__main__":
    main()
