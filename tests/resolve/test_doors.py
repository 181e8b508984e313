"""What a scene's doors resolve to, and what is refused."""

import pytest

from massing.findings import doors
from massing.findings.report import findings
from massing.scene.errors import DesignError
from tests.build.test_doorway import entrance, resolved


@pytest.mark.usefixtures("rules_hold")
@pytest.mark.parametrize(
    ("door", "side", "field"),
    [
        ({"fanlight": "semicircular", "sidelights": True}, None, "house.door.fanlight"),
        ({"fanlight_rise": "1 ft"}, None, "house.door.fanlight_rise"),
        ({"fanlight": "elliptical", "fanlight_rise": "3 ft"}, None, "house.door.fanlight_rise"),
        ({"fanlight_ring": "ring"}, None, "house.door.fanlight_ring"),
        ({"fanlight": "semicircular", "height": "13 ft"}, None, "house.door.fanlight"),
        ({"surround": {"order": "tuscan"}, "height": "12 ft"}, None, "house.door.surround"),
        ({"surround": {"diameter": "5 ft"}}, None, "house.door.surround.diameter"),
        ({"width": "14 ft"}, None, "house.door.width"),
        ({"head": "semicircular arch"}, None, "house.door.head"),
        ({"head": "jack arch", "fanlight": "semicircular"}, None, "house.door.head"),
        ({"head": "hood", "surround": {"order": "ionic"}}, None, "house.door.head"),
        ({"head": "hood", "height": "14 ft"}, None, "house.door.height"),
        (
            None,
            {"wall": "left", "bay": 2, "head": "hood", "height": "14 ft"},
            "house.side_door.height",
        ),
        (None, {"wall": "left", "bay": 4}, "house.side_door.bay"),
        (None, {"wall": "left", "bay": 2, "landing": "1 ft"}, "house.side_door.landing"),
        (None, {"wall": "left", "bay": 2, "steps": {"width": "1 ft"}}, "house.side_door.steps"),
        (None, {"wall": "left", "bay": 1, "steps": {"width": "20 ft"}}, "house.side_door.bay"),
    ],
)
def test_what_cannot_stand_is_said_in_one_line(door, side, field):
    with pytest.raises(DesignError) as refusal:
        resolved(door, side)
    assert refusal.value.field.startswith(field)
    assert "\n" not in str(refusal.value)


@pytest.mark.usefixtures("rules_hold")
def test_a_wing_over_the_side_door_is_refused():
    with pytest.raises(DesignError, match="wing"):
        resolved(None, {"wall": "left", "bay": 2}, wings=[{"side": "left"}])


def test_a_surround_leaves_the_leaf_what_the_ceiling_allows():
    design = resolved({"surround": {"order": "ionic"}})
    opening = entrance(design)
    assert opening.top_z_m <= design.porch.ceiling_z_m - 0.045
    assert opening.leaf_height_m <= 7 * 0.3048 + 1e-9


def test_the_order_about_a_door_is_the_canon_s_unless_pinned():
    order = entrance(resolved({"surround": {"order": "ionic"}})).door.surround.order
    # Vignola's Ionic: 9 diameters, the entablature a quarter of the column (from memory).
    assert order.column_height_m / order.diameter_m == pytest.approx(9.0)
    assert order.entablature_height_m / order.column_height_m == pytest.approx(0.25)
    pinned = entrance(resolved({"surround": {"order": "ionic", "diameter": "9 in"}}))
    assert pinned.door.surround.order.diameter_m == pytest.approx(9 * 0.0254)


def test_a_half_circle_rises_half_its_width_and_an_ellipse_as_asked():
    round_ = entrance(resolved({"fanlight": "semicircular"}))
    assert round_.soffit.rise_m == pytest.approx(round_.width_m / 2)
    assert round_.soffit.curve == "segment"
    flat = entrance(
        resolved({"fanlight": "elliptical", "fanlight_rise": "18 in", "sidelights": True})
    )
    assert flat.soffit.rise_m == pytest.approx(18 * 0.0254)
    assert flat.soffit.curve == "ellipse"


@pytest.mark.parametrize(
    ("walls", "head"),
    [
        ("brick", "elliptical arch"),
        ("limestone", "stone elliptical arch"),
        ("stucco", "casing"),
        ("clapboard", "casing"),
    ],
)
def test_masonry_turns_an_arch_over_a_fanlight_and_other_walls_have_a_casing(walls, head):
    given = {"fanlight": "elliptical", "sidelights": True}
    assert entrance(resolved(given, walls=walls)).head == head
    assert entrance(resolved({**given, "head": "casing"}, walls=walls)).head == "casing"
    assert entrance(resolved({}, walls=walls)).head == "casing"


def test_a_head_stays_under_the_porch_s_ceiling():
    for head in ("jack arch", "segmental arch", "hood", "lintel"):
        design = resolved({"head": head})
        assert entrance(design).top_z_m <= design.porch.ceiling_z_m - 0.045


def test_a_brick_arch_over_a_door_in_boards_is_remarked_on():
    design = resolved(None, {"wall": "left", "bay": 2, "head": "jack arch"}, walls="clapboard")
    assert "masonry heads" in {f.key for f in findings(design)}


def keys(design):
    """What is said of doors, their steps and landings."""
    of_doors = {remark.key for remark in doors.remark}
    said = {f.key for f in findings(design)}
    return {key for key in said if key in of_doors or key.startswith(("side door", "landing"))}


def test_doors_as_found_say_nothing():
    assert keys(resolved()) == set()


@pytest.mark.parametrize(
    ("door", "side", "key"),
    [
        ({"width": "32 in"}, None, "egress door"),
        ({"height": "77 in"}, None, "egress door"),
        ({"width": "4 ft"}, None, "wide leaf"),
        ({"width": "4 ft", "height": "7 ft"}, None, "door proportion"),
        ({"leaves": 2, "width": "5 ft"}, None, "door pair"),
        ({"surround": {"order": "ionic", "entablature": "10 in"}}, None, "doorway entablature"),
        ({"surround": {"order": "pier"}}, None, "doorway order"),
        (None, {"wall": "left", "bay": 2, "steps": {"riser": "9 in"}}, "side door riser"),
        (None, {"wall": "left", "bay": 2, "steps": {"tread": "9 in"}}, "side door tread"),
        (None, {"wall": "left", "bay": 2, "landing": "34 in"}, "landing"),
        (None, {"wall": "left", "bay": 2}, "side door handrail"),
    ],
)
def test_what_books_and_codes_question_is_found(door, side, key):
    found = {f.key: f for f in findings(resolved(door, side))}
    assert key in found
    if found[key].severity == "caution":
        assert "local codes" in found[key].text


def test_a_high_landing_wants_a_guard():
    design = resolved(None, {"wall": "left", "bay": 2}, floor="40 in")
    assert "side door guard" in keys(design)


def test_an_egress_side_door_answers_for_a_narrow_entrance():
    assert "egress door" in keys(resolved({"width": "30 in"}))
    assert "egress door" not in keys(resolved({"width": "30 in"}, {"wall": "left", "bay": 2}))
