"""Bricks at the corners of a wall, asked for through a scene file."""

from __future__ import annotations

import numpy as np
import pytest

from massing.build.house import build
from massing.parts.walls.facing import BRICK_M
from massing.practice.joinery_sizes import BRICK_COURSE_M
from massing.units import INCH_M
from tests.helpers.scene_files import design_of
from tests.helpers.shapes import assert_closed

HOUSE = "width: 40 ft\ndepth: 30 ft\nstoreys: [10 ft, 9 ft]\nwalls: brick\nrelief: true\nbond: "


def by_the_corner(design, wall):
    """Course, and length along the wall, of the bricks that touch the front's right corner."""
    x = design.house.width_m / 2.0
    along, across = (0, x) if wall == "front" else (1, 0.0)
    found = {}
    for part in build(design).parts:
        if part.path[:2] != ("house", "bricks") or part.path[-1] != f"cut {wall}":
            continue
        v = part.mesh.vertices.reshape(-1, 8, 3)
        for low, high in zip(v.min(axis=1), v.max(axis=1), strict=True):
            end = high[along] if wall == "front" else low[along]
            if abs(end - across) < 0.5 * INCH_M:
                course = round((low[2] - design.house.floor_z_m) / BRICK_COURSE_M - 0.07)
                found[course] = (high[along] - low[along], abs(end - across), high[along] > across)
    return found


@pytest.mark.parametrize("bond", ["running", "flemish", "common"])
def test_a_bond_turns_the_corner(tmp_path, bond):
    # Common practice, no source: a stretcher on one face is a header on the other, course about.
    made = design_of(tmp_path, HOUSE + bond)
    front, right = by_the_corner(made, "front"), by_the_corner(made, "right")
    courses = [c for c in range(1, 30) if c in front and c in right and (c + 1) % 6]
    assert len(courses) > 15
    for course in courses:
        long = sorted((front[course][0], right[course][0]))
        assert long[0] == pytest.approx(3.75 * INCH_M, abs=0.5 * INCH_M)
        assert long[1] == pytest.approx(BRICK_M[0], abs=0.5 * INCH_M)
        # No upright joint is left at the arris: one of them goes round it, the other up to it.
        assert min(front[course][1], right[course][1]) < 0.003
    lengths = np.array([front[c][0] for c in courses])
    assert (np.abs(np.diff(lengths)) > 3 * INCH_M).any()


def test_flemish_bond_has_closers_beside_its_corner_headers(tmp_path):
    made = design_of(tmp_path, HOUSE + "flemish")
    parts = [p for p in build(made).parts if p.path == ("house", "bricks", "cut front")]
    assert_closed(parts)
    boxes = parts[0].mesh.vertices.reshape(-1, 8, 3)
    long = boxes[:, :, 0].max(axis=1) - boxes[:, :, 0].min(axis=1)
    near = made.house.width_m / 2.0 - np.abs(boxes[:, :, 0]).max(axis=1)
    closers = (np.abs(long - 1.75 * INCH_M) < 0.2 * INCH_M) & (near < 5 * INCH_M)
    assert closers.sum() > 20
