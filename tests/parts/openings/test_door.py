import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.openings.door import door
from massing.parts.walls.wall import opening_frame, walls
from tests.helpers.house_designs import door_at, house
from tests.helpers.shapes import assert_closed, overlaps


def by_name(parts):
    return {p.name: p for p in parts}


def test_an_entrance_fits_its_hole():
    o = door_at(1.0)
    design = house((o,))
    parts = [p.moved(opening_frame(design, o)) for p in door(o, 0.1, 0.3)]
    assert_closed(parts)
    shell = [p for p in walls(design) if p.role in ("wall", "foundation")]
    housed = {("leaf/stiles and rails", "leaf/panels"), ("lights/sash", "lights/glass")}
    assert {(a, b) for a, b, _ in overlaps(shell + parts)} == housed


def test_the_leaf_is_as_asked_and_six_panelled():
    parts = by_name(door(door_at(), 0.1, 0.3))
    size = parts["leaf/stiles and rails"].mesh.bounds
    assert size[1, 0] - size[0, 0] == pytest.approx(0.95)
    assert size[1, 2] - size[0, 2] == pytest.approx(2.1)
    assert size[0, 1] == pytest.approx(0.1)  # the reveal
    assert len(parts["leaf/panels"].mesh.to_trimesh().split()) == 6


def test_a_plain_door_has_no_lights():
    o = door_at(sidelights=False, transom=False, width_m=1.06, height_m=2.2)
    parts = by_name(door(o, 0.1, 0.3))
    assert "lights/glass" not in parts
    assert_closed(list(parts.values()))


@pytest.mark.parametrize(
    "changes",
    [{"width_m": 1.2}, {"height_m": 2.15}, {"leaf_width_m": 2.0}, {"leaf_width_m": 0.4}],
)
def test_what_does_not_fit_is_refused(changes):
    with pytest.raises(ValueError, match="entrance"):
        door(door_at(**changes), 0.1, 0.3)


@settings(deadline=None, max_examples=40)
@given(
    leaf=st.floats(0.75, 1.2),
    height=st.floats(1.95, 2.6),
    side=st.floats(0.35, 0.6),
    above=st.floats(0.3, 0.8),
    both=st.booleans(),
)
def test_any_entrance_is_closed(leaf, height, side, above, both):
    o = door_at(
        leaf_width_m=leaf,
        leaf_height_m=height,
        width_m=leaf + 2 * (side if both else 0.06),
        height_m=height + above,
        sidelights=both,
    )
    assert_closed(door(o, 0.1, 0.3))
