"""Makes marsh_road_front.png: an invented builder's elevation for the overlay to be tried on.

Its sizes are the scene's; it is drawn by hand and not by the model.
Run: python scenes/drawings/marsh_road_front.py
"""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

FOOT_PX, FINE = 15.0, 4  # pixels to the foot; drawn finer and made smaller
SIZE_PX = (1240, 700)
MIDDLE_PX, GROUND_PX = 620.0, 606.0

# Feet, as scenes/marsh_road.yaml has them.
HALF_WIDTH, FLOOR, UPPER, WALL_TOP = 33.0, 2 + 4 / 12, 14 + 10 / 12, 26 + 10 / 12
BAYS = (-26.4, -13.2, 0.0, 13.2, 26.4)
WINDOW, SILL = (4.25, 5.0), 2.5
EAVES, ROOF_RISE = 1.05, 10.0
PIER, AXES, BEAM, FLOOR_EDGE = 14 / 12, (-21.75, -7.25, 7.25, 21.75), 15 / 12, 22.6
PORCH_FLOOR, STEPS = 2 + 2 / 12, 6.57


def main() -> None:
    image = Image.new("L", (SIZE_PX[0] * FINE, SIZE_PX[1] * FINE), 247)
    pen = ImageDraw.Draw(image)

    def at(x: float, z: float) -> tuple[float, float]:
        return (MIDDLE_PX + x * FOOT_PX) * FINE, (GROUND_PX - z * FOOT_PX) * FINE

    def line(*points: tuple[float, float], weight: float = 1.0) -> None:
        pen.line([at(*p) for p in points], fill=40, width=round(weight * FINE), joint="curve")

    def box(x0: float, z0: float, x1: float, z1: float, weight: float = 1.0) -> None:
        pen.rectangle((*at(x0, z1), *at(x1, z0)), fill=247)
        line((x0, z0), (x1, z0), (x1, z1), (x0, z1), (x0, z0), weight=weight)

    def sash(x: float, foot: float) -> None:
        half, top = WINDOW[0] / 2, foot + WINDOW[1]
        box(x - half - 0.5, foot, x + half + 0.5, top + 0.5)
        box(x - half - 0.7, foot - 0.35, x + half + 0.7, foot)
        box(x - half, foot, x + half, top)
        line((x - half, foot + WINDOW[1] / 2), (x + half, foot + WINDOW[1] / 2))

    def text(x: float, z: float, words: str, size: float, turn: int = 0) -> None:
        face = ImageFont.load_default(size * FINE)
        _left, _top, right, foot = (round(v) for v in face.getbbox(words))
        patch = Image.new("L", (right + 4, foot + 4), 247)
        ImageDraw.Draw(patch).text((2, 2), words, font=face, fill=40)
        patch = patch.rotate(turn, expand=True, fillcolor=247)
        px, py = at(x, z)
        image.paste(patch, (round(px - patch.width / 2), round(py - patch.height / 2)))

    eaves = HALF_WIDTH + EAVES
    line((-eaves, WALL_TOP), (-eaves + 2 * ROOF_RISE, WALL_TOP + ROOF_RISE))
    line(
        (-eaves + 2 * ROOF_RISE, WALL_TOP + ROOF_RISE),
        (eaves - 2 * ROOF_RISE, WALL_TOP + ROOF_RISE),
    )
    line((eaves, WALL_TOP), (eaves - 2 * ROOF_RISE, WALL_TOP + ROOF_RISE))
    box(-HALF_WIDTH, 0.0, HALF_WIDTH, WALL_TOP)
    line((-HALF_WIDTH, FLOOR), (HALF_WIDTH, FLOOR))
    for x in BAYS:
        sash(x, UPPER + SILL)
        if x:
            sash(x, FLOOR + SILL)
    box(-2.2, FLOOR, 2.2, FLOOR + SILL + WINDOW[1] + 0.4)
    box(-1.7, FLOOR, 1.7, FLOOR + 6.9)
    box(-1.7, FLOOR + 6.9, 1.7, FLOOR + SILL + WINDOW[1])
    for z in (0.9, 3.4):
        box(-1.3, FLOOR + z, -0.15, FLOOR + z + 2.1)
        box(0.15, FLOOR + z, 1.3, FLOOR + z + 2.1)
    box(-eaves, WALL_TOP - 0.45, eaves, WALL_TOP)
    box(-HALF_WIDTH - 0.6, WALL_TOP - 0.9, HALF_WIDTH + 0.6, WALL_TOP - 0.45)
    for x in AXES:
        box(x - PIER / 2, PORCH_FLOOR, x + PIER / 2, WALL_TOP - BEAM - 0.5)
        box(x - 0.75, PORCH_FLOOR, x + 0.75, PORCH_FLOOR + 0.8)
        box(x - 0.75, WALL_TOP - BEAM - 0.4, x + 0.75, WALL_TOP - BEAM)
    box(AXES[0] - 0.6, WALL_TOP - BEAM, AXES[-1] + 0.6, WALL_TOP - 0.5)
    box(AXES[0] - 1.0, WALL_TOP - 0.5, AXES[-1] + 1.0, WALL_TOP + 0.05)
    box(-FLOOR_EDGE, 0.0, FLOOR_EDGE, PORCH_FLOOR)
    for k in range(4):
        box(-STEPS, 0.0, STEPS, PORCH_FLOOR * (4 - k) / 4)
    for x in (-STEPS - 0.6, STEPS + 0.6):
        box(x - 0.6, 0.0, x + 0.6, PORCH_FLOOR)
    line((-41.0, 0.0), (41.0, 0.0), weight=2.5)
    for z in (0.0, FLOOR, WALL_TOP):
        line((-39.8, z), (-37.5, z))
        line((-38.9, z - 0.3), (-38.3, z + 0.3))
    line((-38.6, 0.0), (-38.6, WALL_TOP))
    text(-39.5, (FLOOR + WALL_TOP) / 2, "24'-6\"", 13, 90)
    text(-39.5, FLOOR / 2, "2'-4\"", 9, 90)
    line((-HALF_WIDTH, -2.2), (HALF_WIDTH, -2.2))
    for x in (-HALF_WIDTH, HALF_WIDTH):
        line((x, -2.9), (x, -1.5))
        line((x - 0.3, -2.5), (x + 0.3, -1.9))
    text(0.0, -2.2, " 66'-0\" ", 13)
    text(0.0, -4.6, "FRONT  ELEVATION", 18)
    small = image.resize(SIZE_PX, Image.Resampling.LANCZOS).quantize(16)
    small.save(Path(__file__).with_suffix(".png"), optimize=True)


if __name__ == "__main__":
    main()
