"""The five orders side by side in raking light, for the README.

    python examples/orders_picture.py [--out FOLDER] [--quality draft|final]

Two pictures: the whole orders on one ground at one scale, to one lower diameter; and their
capitals and entablatures enlarged, on one level; each with its name under it. The sun stands as
in a draughtsman's shades and shadows, down the diagonal of a cube from over the left shoulder.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np
from PIL import Image

from massing.canon import FittedOrder, fit_order
from massing.geometry.mesh import Floats
from massing.geometry.solids import box_between
from massing.parts.orders.column import column
from massing.parts.orders.entablature import entablature
from massing.parts.part import Model, Part
from massing.present.sheets.paper import font, set_line, sheet, text_width
from massing.render.driver.run import render_shots
from massing.render.driver.shots import Shot
from massing.view.camera import Camera

ORDERS = ("tuscan", "doric", "ionic", "corinthian", "composite")
DIAMETER_M = 0.5
APART_M = 3.3 * DIAMETER_M
DIAGONAL = np.array([-1.0, -1.0, 1.0]) / np.sqrt(3.0)
ALTITUDE_DEG = 35.26
FAR_M = 30.0


def at(x_m: float, z_m: float) -> Floats:
    """A placement ``(4, 4)``."""
    frame = np.eye(4)
    frame[0, 3], frame[2, 3] = x_m, z_m
    return frame


def standing(fitted: FittedOrder, x_m: float, z_m: float) -> list[Part]:
    """One column under a square of its entablature."""
    half = fitted.upper_diameter_m / 2.0
    square = [(-half, -half), (half, -half), (half, half), (-half, half)]
    beam = entablature(fitted, square, closed=True, back_m=0.9 * half, column_axes=np.zeros((1, 2)))
    raised = [p.moved(at(0.0, fitted.column_height_m)) for p in beam]
    return [p.moved(at(x_m, z_m)).under(fitted.order) for p in [*column(fitted), *raised]]


def label(path: Path, camera: Camera, places: list[float]) -> None:
    """Write each order's name, and its slenderness, under it on a strip of paper."""
    with Image.open(path) as opened:
        picture = opened.convert("RGB")
    size_px = round(picture.width / 75)
    roman, italic = font("roman", size_px), font("italic", round(0.8 * size_px))
    whole = sheet(picture.width, picture.height + 3 * size_px)
    whole.paste(picture, (0, 0))
    for name, x_m in zip(ORDERS, places, strict=True):
        middle = float(camera.project([[x_m, 0.0, 0.0]])[0, 0])
        slender = fit_order(name, diameter_m=DIAMETER_M).column_height_m / DIAMETER_M
        lines = ((name.capitalize(), roman, 0.35), (f"1:{slender:g}", italic, 1.65))
        for words, face, down in lines:
            left = middle - text_width(words, face) / 2.0
            set_line(whole, (left, picture.height + down * size_px), words, face)
    whole.save(path, quality=90)


def main() -> int:
    """Render both pictures; 1 if one failed."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--out", type=Path, default=Path("renders/examples"))
    parser.add_argument("--quality", choices=("draft", "final"), default="draft")
    options = parser.parse_args()
    orders = [fit_order(name, diameter_m=DIAMETER_M) for name in ORDERS]
    places = [(i - (len(orders) - 1) / 2.0) * APART_M for i in range(len(orders))]
    wide = len(orders) * APART_M
    ground = Part(("setting", "ground"), "ground", box_between((-40, -40, -0.2), (40, 40, 0.0)))

    whole = [p for o, x in zip(orders, places, strict=True) for p in standing(o, x, 0.0)]
    top = max(o.order_height_m for o in orders)
    tall = Camera(
        "orders",
        "ortho",
        (0.0, -FAR_M, top / 2.0),
        ortho_width_m=1.02 * wide,
        width_px=1300,
        height_px=round(1300 * (top + 0.5) / (1.02 * wide)),
    )

    level = 10.0
    close = [
        p
        for o, x in zip(orders, places, strict=True)
        for p in standing(o, x, level - o.column_height_m + o.capital_height_m)
    ]
    shown = 4.8 * DIAMETER_M
    view = Camera(
        "capitals",
        "ortho",
        (0.0, -FAR_M, level + shown / 2.0 - 0.9 * DIAMETER_M),
        ortho_width_m=1.02 * wide,
        width_px=1800,
        height_px=round(1800 * shown / (1.02 * wide)),
    )
    failed = False
    for name, parts, camera in (("orders", [*whole, ground], tall), ("capitals", close, view)):
        shot = Shot(
            camera,
            options.out / f"{name}.jpg",
            tuple(DIAGONAL.tolist()),
            ALTITUDE_DEG,
            quality=options.quality,
        )
        log = options.out / f"{name}.log"
        (result,) = render_shots(Model(tuple(parts), name), [shot], log_path=log)
        print(f"{shot.output}: {result.error or f'{result.seconds:.0f} s'}")
        failed |= bool(result.error)
        if not result.error:
            log.unlink(missing_ok=True)
            label(shot.output, camera, places)
    return int(failed)


if __name__ == "__main__":
    sys.exit(main())
