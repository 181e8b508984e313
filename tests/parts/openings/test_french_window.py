import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.openings.french_window import french_window
from massing.parts.walls.wall import opening_frame, walls
from tests.helpers.house_designs import french_at, house
from tests.helpers.shapes import assert_closed, overlaps


@pytest.mark.parametrize("transom", [0.0, 0.4])
def test_a_french_window_fills_its_hole(transom):
    o = french_at()
    design = house((o,))
    at = opening_frame(design, o)
    parts = [p.moved(at) for p in french_window(o, 0.1, 0.3, transom)]
    assert_closed(parts)
    shell = [p for p in walls(design) if p.role in ("wall", "foundation")]
    found = {(a, b) for a, b, _ in overlaps(shell + parts)}
    assert found == {("leaves", "panels"), ("leaves", "glass")}


def test_each_leaf_has_its_lights():
    parts = {p.name: p for p in french_window(french_at(), 0.1, 0.3)}
    assert len(parts["glass"].mesh.to_trimesh().split()) == 2 * 2 * 4
    assert len(parts["panels"].mesh.to_trimesh().split()) == 2


@pytest.mark.parametrize(("width", "thickness"), [(1.4, 0.12), (0.5, 0.3)])
def test_what_does_not_fit_is_refused(width, thickness):
    o = french_at(width_m=width)
    with pytest.raises(ValueError, match="french window"):
        french_window(o, 0.1, thickness)


@settings(deadline=None, max_examples=25)
@given(
    width=st.floats(1.0, 2.2),
    height=st.floats(1.9, 3.2),
    lights=st.tuples(st.integers(1, 3), st.integers(2, 6)),
    transom=st.sampled_from([0.0, 0.35]),
)
def test_any_french_window_is_closed(width, height, lights, transom):
    o = french_at(width_m=width, height_m=height, lights=lights)
    assert_closed(french_window(o, 0.1, 0.3, transom))
