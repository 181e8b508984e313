"""The doorway put together: its order about it, and the landing and steps of its own."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from massing.build.doorway import doorway, surround, surround_cut
from massing.build.house import build
from massing.canon import ORDERS
from massing.design.opening import DoorDesign
from massing.findings.report import findings
from massing.parts.walls.wall import opening_frame, walls
from massing.present.reports.schedule import schedule
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.settingout.wall_faces import CutShape
from tests.helpers.house_designs import door_at
from tests.helpers.shapes import assert_closed, extent, overlaps

SITE = {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"}
HOUSED = [
    {"leaf/stiles and rails", "leaf/panels"},
    {"leaf/stiles and rails", "leaf/glass"},
    {"leaf/knob", "leaf/meeting bead"},
    {"lights/sash", "lights/glass"},
    {"fanlight/sash", "fanlight/glass"},
    {"fanlight/sash", "fanlight/hub"},
]


def resolved(door=None, side_door=None, porch=None, **house_fields):
    """A house of one high storey over another, with a deep porch."""
    given = {
        "width": "64 ft",
        "depth": "40 ft",
        "floor": "28 in",
        "storeys": ["16 ft", "11 ft"],
        "bays": 5,
        "side_bays": 3,
        "windows": [{"width": "3 ft", "height": "7 ft"}, {"width": "3 ft", "height": "5 ft"}],
        "door": door or {},
        **house_fields,
    }
    if side_door:
        given["side_door"] = side_door
    before = {"order": "tuscan", "columns": 4, "depth": "12 ft", "height": "storey"}
    before |= porch or {}
    fields = {"title": "Doors", "site": SITE, "house": given, "porch": before}
    return resolve(Scene.model_validate({**fields, "times": ["equinox 10:00"]}), "doors")


def entrance(design):
    return next(o for o in design.house.openings if o.name == "front/ground/door")


@pytest.mark.parametrize("engaged", ["pilasters", "half columns"])
@pytest.mark.parametrize("order", ORDERS)
def test_any_order_stands_about_the_doorway_and_meets_nothing_else(order, engaged):
    design = resolved({"height": "80 in", "surround": {"order": order, "engaged": engaged}})
    opening = entrance(design)
    made = surround(opening, opening.door.surround)
    assert_closed(made)
    at = opening_frame(design.house, opening)
    joinery = [p.moved(at) for p in doorway(opening, 0.1, 0.3)]
    shell = [p for p in walls(design.house) if p.role in ("wall", "foundation")]
    framing = [p for p in joinery if not p.name.startswith("surround/")]
    orders = [p for p in joinery if p.name.startswith("surround/")]
    met = {(a, b) for a, b, _ in overlaps(framing + orders, 1e-6)}
    assert not {
        m for m in met if m[0] in {p.name for p in framing} and m[1] in {p.name for p in orders}
    }
    # What stands on the wall is let into it, and into the water table, by millimetres only.
    for part, _, shared in overlaps(orders + shell, 1e-6):
        assert shared < 0.003 * 4.0 * 4.0, part
    assert extent(orders)[0, 2] == pytest.approx(design.porch.floor_z_m)


@pytest.mark.parametrize(
    ("walls", "door"),
    [
        ("brick", {"head": "jack arch"}),
        ("brick", {"head": "segmental arch", "transom": False}),
        ("brick", {"head": "segmental arch", "sidelights": True}),
        ("brick", {"fanlight": "semicircular"}),
        ("limestone", {"fanlight": "elliptical", "sidelights": True}),
        ("limestone", {"head": "lintel", "leaves": 2}),
        ("clapboard", {"head": "hood"}),
        ("clapboard", {"head": "hood on consoles"}),
        ("brick", {"head": "hood on consoles"}),
    ],
)
def test_what_spans_a_doorway_meets_the_facing_and_the_joinery_without_crossing(walls, door):
    """Voussoirs, lintel and hood are let 3 mm into the wall; all else they butt."""
    design = resolved(door, {"wall": "left", "bay": 2, **door}, walls=walls, relief=True)
    model = build(design)
    heads = [p for p in model.parts if "head/" in p.name]
    assert {p.name.split("/")[1] for p in heads} == {"head", "side door"}
    assert_closed(model.parts)
    near = [
        p
        for p in model.parts
        if p.name.startswith("house/") and p not in heads and not p.name.startswith("house/roof")
    ]
    for part in heads:
        low, high = part.world_mesh().bounds
        for other in near:
            box = other.world_mesh().bounds
            if (box[1] < low).any() or (box[0] > high).any():
                continue
            shared = sum(v for _, _, v in overlaps([part, other], 1e-9))
            assert shared <= 0.0031 * part.world_mesh().to_trimesh().area / 2.0, other.name
            if "/wall/" not in other.name:
                # Stones beside a curve are cut by chords: within a millimetre of an arch's back.
                assert shared < 5e-5, (part.name, other.name)


def test_a_segmental_doorway_s_transom_stops_at_the_springing():
    parts = doorway(entrance(resolved({"head": "segmental arch"}, walls="brick")), 0.1, 0.3)
    opening = entrance(resolved({"head": "segmental arch"}, walls="brick"))
    light = next(p for p in parts if p.name == "lights/sash")
    assert light.mesh.bounds[1, 2] < opening.soffit.springing_z_m
    frame = next(p for p in parts if p.name == "frame")
    assert frame.mesh.bounds[1, 2] == pytest.approx(opening.height_m)
    # An eighth of the width: common practice, no source.
    assert opening.soffit.rise_m == pytest.approx(opening.width_m / 8)


def test_the_entablature_rests_on_the_columns_and_the_columns_on_the_porch():
    design = resolved({"height": "80 in", "surround": {"order": "ionic"}})
    opening, order = entrance(design), entrance(design).door.surround.order
    parts = {p.name: extent([p]) for p in surround(opening, opening.door.surround)}
    soffit = parts["entablature/architrave"][0, 2]
    assert parts["pilaster/shaft"][0, 2] > parts["pilaster/base"][0, 2]
    assert soffit + opening.door.surround.drop_m == pytest.approx(order.column_height_m)
    top = parts["entablature/cornice"][1, 2]
    assert top - soffit == pytest.approx(order.entablature_height_m)
    assert opening.door.surround.top_m == pytest.approx(top)
    assert -parts["entablature/frieze"][0, 1] == pytest.approx(opening.door.surround.out_m)
    assert parts["entablature/cornice"][1, 0] <= opening.reach_m + 1e-9


def test_the_frieze_stands_over_the_pilasters_faces():
    design = resolved({"height": "80 in", "surround": {"order": "tuscan"}})
    opening = entrance(design)
    parts = {p.name: extent([p]) for p in surround(opening, opening.door.surround)}
    shaft, frieze = parts["pilaster/shaft"], parts["entablature/frieze"]
    order = opening.door.surround.order
    neck = max(m.reach for m in order.shaft_head) - order.upper_diameter_m / 2
    assert shaft[1, 0] - neck <= frieze[1, 0] + 1e-9
    assert frieze[1, 0] == pytest.approx(opening.door.surround.axis_m + order.upper_diameter_m / 2)


def test_a_pediment_takes_the_level_cornice_s_place_and_ends_at_the_wall():
    plain = resolved({"height": "80 in", "surround": {"order": "doric"}})
    crowned = resolved({"height": "80 in", "surround": {"order": "doric", "pediment": True}})
    opening = entrance(crowned)
    parts = surround(opening, opening.door.surround)
    names = {p.name for p in parts}
    assert {"pediment/tympanum", "pediment/raking cornice"} <= names
    assert extent(parts)[1, 2] == pytest.approx(opening.door.surround.top_m, abs=1e-6)
    assert extent(parts)[1, 1] < 0.003  # let into the wall by no more than its housing
    assert opening.door.surround.top_m > entrance(plain).door.surround.top_m
    assert_closed(parts)


def test_the_facing_leaves_room_for_the_surround():
    design = resolved({"height": "80 in", "surround": {"order": "ionic", "pediment": True}})
    opening = entrance(design)
    cuts = surround_cut(opening)
    for part in surround(opening, opening.door.surround):
        (x0, _, z0), (x1, _, z1) = extent([part]) + [0.0, 0.0, opening.sill_z_m]
        if z0 < design.house.floor_z_m:
            z0 = design.house.floor_z_m
        for z in np.linspace(z0, z1, 7):
            shapes = [c.over(z, z + 1e-6) if isinstance(c, CutShape) else c for c in cuts]
            wide = max((s[2] for s in shapes if s[1] <= z + 1e-6 and s[3] >= z - 1e-6), default=0)
            if part.name in ("board", "entablature/core", "entablature/frieze"):
                assert wide >= x1 - 1e-6, (part.name, z)
                assert -wide <= x0 + 1e-6
    assert surround_cut(door_at()) == []


@pytest.mark.parametrize("wall", ["left", "right", "back", "front"])
def test_a_side_door_takes_a_window_s_place_with_steps_from_the_ground(wall):
    bay = 1 if wall == "front" else 2  # the front's second stands before the porch's end
    plain, design = resolved(), resolved(side_door={"wall": wall, "bay": bay})
    before = {o.name for o in plain.house.openings}
    now = {o.name for o in design.house.openings}
    assert before - now == {f"{wall}/ground/window {bay}"}
    assert now - before == {f"{wall}/ground/side door"}
    door = next(o for o in design.house.openings if o.name.endswith("side door"))
    flight = door.door.steps
    assert flight.riser_m <= 6.5 * 0.0254 + 1e-9
    model = build(design)
    assert_closed(model.parts)
    parts = model.select("house/side door")
    steps = [p for p in parts if "/steps/" in p.name or "/landing/" in p.name]
    low, high = extent(steps)
    assert (low[2], high[2]) == pytest.approx((0.0, flight.risers * flight.riser_m))
    half = {"left": 0, "right": 0, "back": 1, "front": 1}[wall]
    face = {
        "front": 0.0,
        "left": -design.house.width_m / 2,
        "right": design.house.width_m / 2,
        "back": design.house.depth_m,
    }[wall]
    if wall in ("left", "front"):
        assert high[half] <= face
    else:
        assert low[half] >= face


def test_a_second_door_on_the_porch_stands_on_its_floor():
    given = {"wall": "front", "bay": 2}
    design = resolved(side_door=given, porch={"columns": 6, "spacing": "9 ft"})
    plain = resolved(porch={"columns": 6, "spacing": "9 ft"})
    door = next(o for o in design.house.openings if o.name == "front/ground/side door")
    assert door.door.steps is None
    assert not door.entrance
    assert [o.place for o in design.house.doors if o.entrance] == ["door"]
    leaves = [r.group for r in schedule(design) if r.item.startswith("leaf")]
    assert sorted(leaves) == ["Entrance", "Side door"]
    assert_closed(build(design).parts)
    # What is said of the front's own door does not change with a second one beside it.
    assert {f.key for f in findings(design)} == {f.key for f in findings(plain)}


def test_a_second_front_door_half_on_the_porch_or_in_the_entrance_is_refused():
    with pytest.raises(DesignError, match="wholly on the porch"):
        resolved(side_door={"wall": "front", "bay": 2}, porch={"columns": 4, "spacing": "8 ft"})
    with pytest.raises(DesignError, match="1, 2, 4, 5, a bay of the front wall"):
        resolved(side_door={"wall": "front", "bay": 3})
    two = [{"bay": 1, "number": "two"}]  # called 1a and 1b
    with pytest.raises(DesignError, match="given 1, allowed: 2, 4, 5, a bay of the front wall"):
        resolved(side_door={"wall": "front", "bay": 1}, odd_windows=two)


def test_landing_and_flight_meet_without_passing_through():
    design = resolved(side_door={"wall": "right", "bay": 1})
    parts = build(design).select("house/side door/landing", "house/side door/steps")
    shell = [p for p in walls(design.house) if p.role in ("wall", "foundation")]
    assert overlaps(parts + shell) == []


@settings(deadline=None, max_examples=12, suppress_health_check=[HealthCheck.too_slow])
@given(
    fanlight=st.sampled_from(["semicircular", "elliptical"]),
    ring=st.sampled_from(["none", "ring", "swags"]),
    leaves=st.sampled_from([1, 2]),
    lights=st.booleans(),
    panels=st.sampled_from(["two", "four", "six", "eight"]),
    wide=st.integers(32, 42),
)
def test_any_fanlight_fits_its_curved_hole(fanlight, ring, leaves, lights, panels, wide):
    door = {
        "fanlight": fanlight,
        "fanlight_ring": ring,
        "leaves": leaves,
        "sidelights": lights and fanlight == "elliptical",
        "panels": panels,
        "width": f"{wide * leaves} in",
    }
    design = resolved(door)
    opening = entrance(design)
    parts = [p.moved(opening_frame(design.house, opening)) for p in doorway(opening, 0.1, 0.3)]
    assert_closed(parts)
    shell = [p for p in walls(design.house) if p.role in ("wall", "foundation")]
    for a, b, _ in overlaps(shell + parts):
        assert {a, b} in HOUSED, (a, b)
    inside = [p for p in parts if p.name.startswith(("fanlight", "frame", "leaf", "lights"))]
    low, high = extent(inside)
    assert low[0] >= -opening.width_m / 2 - 1e-9
    assert high[2] <= opening.head_z_m + 1e-9


def test_leaves_of_a_pair_meet_at_the_middle():
    o = door_at(
        sidelights=False,
        transom=False,
        width_m=2.0,
        leaf_width_m=1.76,
        height_m=2.25,
        door=DoorDesign(leaves=2),
    )
    parts = {p.name: p for p in doorway(o, 0.1, 0.3)}
    leaves = parts["leaf/stiles and rails"].mesh.to_trimesh().split()
    assert len(leaves) == 2
    edges = sorted(float(x) for leaf in leaves for x in leaf.bounds[:, 0])
    assert edges[2] - edges[1] == pytest.approx(0.003175)
    assert edges[0] == pytest.approx(-0.88)
    assert len(parts["leaf/knob"].mesh.to_trimesh().split()) == 2


def test_a_house_of_boards_or_bricks_builds_round_its_surround():
    for walls_ in ("brick", "clapboard"):
        design = resolved(
            {"height": "80 in", "surround": {"order": "tuscan"}}, walls=walls_, relief=True
        )
        model = build(design)
        assert_closed(model.parts)
        name = "house/bricks" if walls_ == "brick" else "house/clapboards"
        facing, board = model.select(name), model.select("house/surround/board")
        assert facing
        assert board
        assert overlaps(facing[-1:] + board, 1e-9) == []
        front = [p for p in facing if p.name.endswith("front")]
        assert overlaps(front + board, 1e-9) == []


def test_a_house_keeps_its_even_bays_without_a_door():
    assert all(o.kind != "door" for o in resolved(bays=6).house.openings)
