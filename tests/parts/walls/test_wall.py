import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.walls.wall import opening_frame, wall_frame, walls
from massing.practice.joinery_sizes import FOUNDATION_PROJECTION_M, SILL_HEIGHT_M, sill_length
from tests.helpers.house_designs import door_at, house, window_at
from tests.helpers.shapes import assert_closed, extent, overlaps

BAYS = (-4.0, 0.0, 4.0)


def bays(wall: str = "front") -> list:
    """A window in every bay of both storeys, and the entrance in the middle below."""
    upper = [window_at(x, 4.9, wall=wall, height_m=1.6) for x in BAYS]
    lower = [window_at(x, wall=wall) for x in BAYS if x]
    return [*upper, *lower, door_at(wall=wall)]


def test_every_wall_is_closed_and_nothing_overlaps():
    design = house((*bays(), window_at(0.0, wall="right"), window_at(2.0, wall="left")))
    parts = walls(design)
    assert_closed(parts)
    assert overlaps(parts) == []


def test_walls_have_the_house_size():
    design = house()
    box = extent([p for p in walls(design) if p.role == "wall"])
    assert box == pytest.approx(np.array([[-7.0, 0.0, 0.7], [7.0, 9.0, 7.0]]))
    box = extent([p for p in walls(design) if p.role == "foundation"])
    out = FOUNDATION_PROJECTION_M
    assert box == pytest.approx(np.array([[-7 - out, -out, 0.0], [7 + out, 9 + out, 0.7]]))


def test_openings_take_their_volume_out_of_the_wall():
    def front(design):
        return next(p for p in walls(design) if p.name == "house/wall/front").mesh.volume_m3

    cut = house((window_at(-4.0), door_at()))
    bed = sill_length(1.05) * SILL_HEIGHT_M
    assert front(house()) - front(cut) == pytest.approx(0.3 * (1.05 * 1.95 + bed + 1.9 * 2.7))


@pytest.mark.parametrize(
    ("wall", "outward"),
    [("front", (0, -1, 0)), ("right", (1, 0, 0)), ("back", (0, 1, 0)), ("left", (-1, 0, 0))],
)
def test_frames_look_outwards_with_x_to_the_right(wall, outward):
    frame = wall_frame(house(), wall)
    assert -frame[:3, 1] == pytest.approx(np.array(outward))
    assert np.cross(frame[:3, 0], frame[:3, 1]) == pytest.approx([0, 0, 1])
    # Seen from outside, right is up x outward ... the observer looks along -outward.
    assert frame[:3, 0] == pytest.approx(np.cross([0, 0, 1], outward))
    foot = opening_frame(house(), window_at(1.0, wall=wall))
    assert foot[:3, 3] == pytest.approx(frame[:3, 3] + frame[:3, 0] + [0, 0, 1.4])


def test_an_unknown_wall_is_named():
    with pytest.raises(ValueError, match="east"):
        wall_frame(house(), "east")


@pytest.mark.parametrize(
    ("openings", "said"),
    [
        ((window_at(6.5),), "corner"),
        ((window_at(0.0, 6.0),), "within the wall"),
        ((window_at(0.0, 0.7),), "within the wall"),
        ((window_at(0.0), window_at(1.1)), "collide"),
        ((window_at(4.2, wall="left"),), "corner"),
    ],
)
def test_openings_that_cannot_be_built_are_refused(openings, said):
    with pytest.raises(ValueError, match=said):
        walls(house(openings))


@settings(deadline=None, max_examples=40)
@given(
    width=st.floats(6.0, 30.0),
    thickness=st.floats(0.15, 0.6),
    bays=st.integers(1, 9),
    share=st.floats(0.2, 0.6),
    storeys=st.integers(1, 3),
)
def test_any_number_of_bays_builds_closed(width, thickness, bays, share, storeys):
    step = (width - 2.0 * thickness - 0.4) / bays
    w = share * step
    openings = tuple(
        window_at((i - (bays - 1) / 2) * step, 0.7 + 3.2 * k + 0.8, width_m=w, height_m=1.6)
        for i in range(bays)
        for k in range(storeys)
    )
    floors = tuple(0.7 + 3.2 * k for k in range(storeys))
    design = house(
        openings,
        width_m=width,
        wall_thickness_m=thickness,
        storey_floors_z_m=floors,
        wall_top_z_m=0.7 + 3.2 * storeys,
    )
    assert_closed(walls(design))
