"""Vector elevations: true to scale, hidden lines out, shadows where rays say."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pytest

from massing.geometry.solids import box_between, loft
from massing.parts.part import Model, Part
from massing.present.board.elevation import (
    GROUND_MM,
    UNITS_PER_MM,
    Front,
    Window,
    _lines,
    _Paper,
)
from massing.sun.position import SunTime

WINDOW = Window(-6.0, 6.0, -0.5, 8.0)


def _sun(direction: tuple[float, float, float]) -> SunTime:
    return SunTime("noon", None, 45.0, 180.0, direction, True, 45.0, 45.0, 800.0, 100.0)


@pytest.fixture(scope="module")
def front() -> Front:
    wall = Part(("house", "wall"), "wall", box_between((-5.0, 0.0, 0.0), (5.0, 4.0, 6.0)))
    shelf = Part(("porch", "shelf"), "order", box_between((-2.0, -1.0, 4.0), (2.0, 0.0, 4.5)))
    behind = Part(("house", "box"), "wall", box_between((-1.0, 5.0, 1.0), (1.0, 6.0, 2.0)))
    return Front(Model((wall, shelf, behind), "test"))


def _strokes(svg: str) -> list[np.ndarray]:
    """Points of every stroked path, millimetres from the drawing's foot and left edge."""
    found = []
    for path in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}path"):
        points, width = path.get("d", ""), path.get("stroke-width")
        ground = width == f"{GROUND_MM * UNITS_PER_MM:g}"
        if width is None or ground or points.endswith("z"):  # the outline of the washes
            continue
        for x, y, dx, dy in re.findall(r"M(-?\d+) (-?\d+)l(-?\d+) (-?\d+)", points):
            start = np.array([int(x), int(y)], dtype=float)
            found.append(np.array([start, start + [int(dx), int(dy)]]) / UNITS_PER_MM)
    return found


@pytest.mark.parametrize("scale", [48.0, 100.0, 192.0])
def test_a_drawing_is_true_to_its_scale(front: Front, scale: float) -> None:
    drawn = front.drawn(WINDOW, scale)
    assert drawn.width_mm == pytest.approx(12_000.0 / scale)
    assert drawn.height_mm == pytest.approx(8_500.0 / scale)
    root = ElementTree.fromstring(drawn.svg)
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(
        12_000.0 / scale, abs=0.01
    )
    ends = np.concatenate(_strokes(drawn.svg))
    # the wall's corners, 10 m apart, stand where the scale puts them
    assert ends[:, 0].min() == pytest.approx(1_000.0 / scale, abs=0.03)
    assert np.ptp(ends[:, 0]) == pytest.approx(10_000.0 / scale, abs=0.03)
    assert ends[:, 1].min() == pytest.approx(2_000.0 / scale, abs=0.03)


def test_what_stands_behind_has_no_line(front: Front) -> None:
    scale = 100.0
    for a, b in _strokes(front.drawn(WINDOW, scale).svg):
        middle = (a + b) / 2.0
        x_m, z_m = middle[0] * scale / 1000.0 - 6.0, 8.0 - middle[1] * scale / 1000.0
        inside = abs(x_m) < 1.5 and 0.5 < z_m < 3.0  # where the box behind the wall would be
        assert not inside


def test_a_shelf_throws_its_shadow_as_deep_as_the_profile_angle_says(front: Front) -> None:
    # straight before the front at 45 degrees: a shelf 1 m out shades 1 m under its edge
    direction = (0.0, -np.sqrt(0.5), np.sqrt(0.5))
    svg = front.drawn(WINDOW, 100.0, _sun(direction)).svg
    shade = re.search(r'fill-opacity="0.4"[^>]* d="([^"]+)"', svg)
    assert shade is not None
    lowest = 0.0
    for x, y, rest in re.findall(r"M(-?\d+) (-?\d+)([^Mz]*)", shade[1]):
        at = np.array([int(x), int(y)])
        points = [at]
        for dx, dy in re.findall(r"l(-?\d+) (-?\d+)", rest):
            at = at + [int(dx), int(dy)]
            points.append(at)
        lowest = max(lowest, *(float(p[1]) for p in points))
    foot_m = 8.0 - lowest / UNITS_PER_MM * 0.1
    assert foot_m == pytest.approx(3.0, abs=0.03)  # the shelf's lower edge is at 4 m


def test_without_a_sun_there_is_no_shade_and_without_washes_no_fill(front: Front) -> None:
    assert "fill-opacity" not in front.drawn(WINDOW, 100.0).svg
    bare = front.drawn(WINDOW, 100.0, washes=False).svg
    assert re.findall(r'fill="(?!none)', bare) == []


def test_the_same_model_gives_the_same_drawing(front: Front) -> None:
    again = Front(front.model)
    sun = _sun((0.0, -np.sqrt(0.5), np.sqrt(0.5)))
    assert front.drawn(WINDOW, 96.0, sun).svg == again.drawn(WINDOW, 96.0, sun).svg


def test_flutes_are_lines_only_at_scales_where_they_stand_apart() -> None:
    turn = np.linspace(0.0, 2.0 * np.pi, 240, endpoint=False)
    radius = 0.3 - 0.03 * np.abs(np.sin(10.0 * turn))
    ring = np.column_stack([radius * np.cos(turn), radius * np.sin(turn)])
    shaft = loft([np.column_stack([ring, np.full(len(ring), z)]) for z in (0.0, 3.0)], closed=False)
    parts = (
        Part(("house", "wall"), "wall", box_between([-2.0, 1.0, 0.0], [2.0, 1.2, 4.0])),
        Part(("porch", "column", "shaft"), "order", shaft),
    )
    front = Front(Model(parts, "a column"))
    window = Window(-2.1, 2.1, -0.1, 4.1)
    large, small = (front.drawn(window, scale).svg for scale in (20.0, 192.0))

    def upright(svg: str) -> int:
        return len(re.findall(r"M\d+ \d+l0 -?\d{3,}", svg))

    # Arrises stand 94 mm apart in the middle: 4.7 mm on paper at 1:20, 0.5 mm at 1:192. Five of
    # the twenty, 18 degrees apart, lie within the shaft's sides.
    assert upright(large) == upright(small) + 5


def test_two_halves_of_a_front_are_inked_as_the_whole_is() -> None:
    # A covering's courses crowd on the left and are sparse on the right: in either half they
    # have one width, the whole front's.
    def courses(apart_m: float, left_m: float, right_m: float) -> np.ndarray:
        z = np.arange(0.5, 5.5, apart_m)
        left, right = np.full_like(z, left_m), np.full_like(z, right_m)
        return np.stack([np.column_stack([left, z]), np.column_stack([right, z])], axis=1)

    lines = np.concatenate([courses(0.05, -4.5, -0.5), courses(0.4, 0.5, 4.5)])
    slight = np.ones(len(lines), dtype=bool)

    def widths(window: Window) -> set[str]:
        layers = _lines(lines, np.full(len(lines), 0.1), slight, _Paper(window, 192.0))
        return set(re.findall(r'stroke-width="([\d.]+)"', "".join(layers)))

    left, right = Window(-6.0, 0.0, -0.5, 8.0), Window(0.0, 6.0, -0.5, 8.0)
    assert widths(left) == widths(right) == widths(WINDOW)
    # Poppler draws a path of level and upright lines alone a whole pixel wide each.
    for window in (left, right):
        layers = _lines(lines, np.full(len(lines), 0.1), slight, _Paper(window, 192.0))
        assert all(re.search(r"l[1-9]\d* [1-9]\d*", layer) for layer in layers)
