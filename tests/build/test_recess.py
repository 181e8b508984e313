"""A porch recessed in the house: its room is clear, its walls closed, its openings moved back."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.design.design import Design
from massing.findings.report import findings
from massing.geometry.solids import box_between
from massing.parts.part import Model
from massing.scene.errors import DesignError
from massing.shadow.front import ready_front
from massing.shadow.lines import FLOOR, WALL_IN_PORCH
from massing.shadow.measure import in_sun, sun_reaches
from massing.view.section import cut_model
from tests.build.test_house import test_nothing_floats as none_floats
from tests.helpers.shapes import assert_closed, manifold
from tests.resolve.test_design import design

LOW = {"windows": [{"height": "1.7 m"}, {"height": "1.2 m"}]}


def recessed(house: dict[str, Any] | None = None, **porch: Any) -> Design:
    asked = {"shape": "recessed", "order": "tuscan", "columns": 2, "height": "3.3 m", **porch}
    return design({**LOW, **(house or {})}, porch=asked)


def in_room(made: Design, model: Model) -> dict[str, float]:
    """What stands in the recess behind its antae, by volume (m3), the columns left out."""
    recess = made.house.recess
    assert recess is not None
    foot = made.porch.column_y_m + made.porch.order.foot_width_m / 2.0
    front = max(recess.side_y_m, made.house.wall_thickness_m, foot) + 0.15  # clear of mouldings
    x, floor_z = recess.half_width_m - 1e-3, made.porch.floor_z_m + 1e-3
    low = (-x, front, floor_z)
    room = manifold(box_between(low, (x, recess.depth_m - 0.15, recess.ceiling_z_m - 1e-3)))
    found = {}
    for part in model.parts:
        if part.solid:
            shared = (manifold(part.world_mesh()) ^ room).volume()
            if shared > 1e-6:
                found[part.name] = shared
    return found


@pytest.mark.parametrize(
    ("house", "porch"),
    [
        ({}, {}),
        ({"walls": "clapboard"}, {"order": "doric"}),
        ({"walls": "brick", "wall_thickness": "500 mm"}, {"diameter": "260 mm"}),
        ({}, {"order": "corinthian", "columns": 4, "paired": True, "spacing": "3 m"}),
        ({}, {"order": "doric", "height": "eaves"}),
    ],
)
def test_the_room_is_clear_and_everything_closed(house: dict, porch: dict) -> None:
    made = recessed(house, **porch)
    model = build(made)
    assert_closed(model.parts)
    none_floats(model)
    assert in_room(made, model) == {}


def test_its_columns_and_antae_are_flush_with_one_frieze() -> None:
    made = recessed()
    porch, order = made.porch, made.porch.order
    model = build(made)
    (frieze,) = (p for p in model.parts if p.name == "porch/entablature/frieze")
    face = frieze.mesh.bounds[0][1]
    assert face == pytest.approx(-0.03)
    assert porch.column_y_m - order.upper_diameter_m / 2.0 == pytest.approx(face)
    gaps = np.diff([*porch.axes_m, porch.anta_axis_m])
    assert np.ptp(gaps) < 1e-9
    # the frieze runs over both antae, from outer edge to outer edge
    assert frieze.mesh.bounds[1][0] == pytest.approx(
        porch.anta_axis_m + order.upper_diameter_m / 2.0
    )


def test_the_openings_behind_it_move_to_the_recessed_wall() -> None:
    made = recessed()
    back = {o.name: o.back_m for o in made.house.openings if o.wall == "front"}
    assert back["front/ground/door"] == made.porch.depth_m
    assert back["front/ground/window 2"] == made.porch.depth_m
    assert back["front/ground/window 1"] == 0.0
    assert back["front/first/window 3"] == 0.0
    doors = [p for p in build(made).parts if p.name.startswith("house/") and "/leaf" in p.name]
    assert min(p.world_mesh().bounds[0][1] for p in doors) > made.porch.depth_m - 0.5


def test_the_wall_over_it_is_left_and_the_wall_before_it_is_gone() -> None:
    """By volumes: the front wall loses the mouth and gains back the holes that moved."""
    plain, made = design(LOW, porch={"height": "3.3 m", "columns": 2}), recessed()
    recess, house = made.house.recess, made.house
    assert recess is not None

    def volume(built: Design, name: str) -> float:
        (part,) = (p for p in build(built).parts if p.name == f"house/wall/{name}")
        return part.mesh.volume_m3

    mouth = 2.0 * recess.opening_m * (recess.ceiling_z_m - house.floor_z_m)
    whole = house.width_m * (house.wall_top_z_m - house.floor_z_m) * house.wall_thickness_m
    holes = whole - volume(plain, "front")
    back_whole = (
        2.0
        * (recess.half_width_m + house.wall_thickness_m)
        * (recess.ceiling_z_m + house.wall_thickness_m - house.floor_z_m)
        * house.wall_thickness_m
    )
    moved = back_whole - volume(made, "recess back")
    left = whole - mouth * house.wall_thickness_m - (holes - moved)
    assert volume(made, "front") == pytest.approx(left, rel=1e-6)


def test_a_section_shows_the_recess() -> None:
    made = recessed()
    cut = cut_model(build(made), (-1.0, 0.0, 0.0), 0.4)
    names = {p.name for p in cut.parts if p.role == "cut"}
    assert "porch/entablature/beam cut" in names
    assert "house/wall/front cut" in names
    assert "house/wall/recess back cut" in names


def test_sun_comes_only_so_far_into_it() -> None:
    """The front's soffit edge lets the sun in as far as a similar triangle says."""
    made = recessed()
    front = ready_front(made, build(made))
    sun = np.array([0.0, -1.0, 1.0]) / np.sqrt(2.0)
    shares = in_sun(front, [sun])
    assert shares["porch floor"][0] > 0.05
    assert shares["door, first floor"][0] == 0.0
    (reach,) = (r for r in sun_reaches(front, sun) if r.name == FLOOR)
    porch = made.porch
    # at 45 degrees the shade of the architrave's foremost edge falls as far back as it is high
    from_edge = porch.floor_edge_m - porch.column_y_m
    reached = porch.column_top_z_m - porch.floor_z_m + from_edge
    overhang = max(m.reach for m in (*porch.order.architrave, *porch.order.cornice)) + 0.03
    assert reached - overhang - 0.7 < reach.most_m < reached + 0.05
    assert WALL_IN_PORCH in {line.name for line in front.shade}


def test_the_wall_on_the_beam_is_for_an_engineer() -> None:
    # common practice, no source
    assert "wall over recess" in {f.key for f in findings(recessed())}


@pytest.mark.parametrize(
    ("house", "porch", "field"),
    [
        ({}, {"roof": "hipped"}, "porch.roof"),
        ({}, {"guard": {}}, "porch.guard"),
        ({}, {"balustrade": {}}, "porch.balustrade"),
        ({}, {"upper": {}}, "porch.upper"),
        ({}, {"side_columns": 1}, "porch.side_columns"),
        ({}, {"responds": "pilasters"}, "porch.responds"),
        ({}, {"pedestals": True}, "porch.pedestals"),
        ({}, {"floor": "300 mm"}, "porch.floor"),
        ({}, {"depth": "700 mm"}, "porch.depth"),
        ({}, {"depth": "9.5 m"}, "porch.depth"),
        ({}, {"columns": 4}, "porch.spacing"),  # as wide as the house
        ({}, {"spacing": "2.2 m"}, "porch.spacing"),  # its antae meet windows
    ],
)
def test_what_a_recess_cannot_have_names_its_field(
    house: dict, porch: dict, field: str, rules_hold: None
) -> None:
    with pytest.raises(DesignError) as error:
        recessed(house, **porch)
    assert error.value.field == field


@settings(deadline=None, max_examples=15, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(["pier", "tuscan", "doric", "ionic"]),
    st.floats(2.4, 3.4),
    st.floats(1.4, 4.0),
    st.sampled_from(["stucco", "clapboard", "brick"]),
    st.sampled_from(["250 mm", "350 mm", None]),
)
def test_any_recess_is_closed_and_clear_or_refused(
    order: str, spacing: float, depth: float, walls: str, diameter: str | None
) -> None:
    try:
        made = recessed(
            {"walls": walls, "windows": [{"width": "0.7 m", "height": "1.5 m"}]},
            order=order,
            spacing=f"{spacing:.3f} m",
            depth=f"{depth:.3f} m",
            diameter=diameter,
        )
    except DesignError as refusal:
        event(f"refused: {refusal.field}")
        return
    event("built")
    model = build(made)
    assert_closed(model.parts)
    assert in_room(made, model) == {}


@pytest.mark.parametrize("walls", ["brick", "clapboard"])
def test_relief_goes_on_round_the_recess_clear_of_its_openings(walls: str) -> None:
    made = recessed({"walls": walls, "relief": True})
    recess = made.house.recess
    assert recess is not None
    parts = [p for p in build(made).parts if p.name.startswith("house/recess/")]
    assert_closed(parts)
    points = np.concatenate([p.world_mesh().vertices for p in parts])
    x, y, z = points.T
    assert np.abs(x).max() < recess.half_width_m + 0.01  # let a little into the wall
    assert y.max() < recess.depth_m + 0.01
    assert z.min() > made.house.floor_z_m - 1e-6
    assert z.max() < recess.ceiling_z_m + 1e-6
    on_back = y > recess.depth_m - 0.05
    for opening in (o for o in made.house.openings if o.back_m):
        inside = np.abs(x - opening.along_m) < opening.width_m / 2.0 - 1e-3
        inside &= (z > opening.sill_z_m + 1e-3) & (z < opening.head_z_m - 1e-3)
        assert not (inside & on_back).any()
