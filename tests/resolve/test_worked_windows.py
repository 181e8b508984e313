"""Windows worked by hand beside what the resolver makes of few words.

The house: 16 by 10 m, floors at 2 ft and 3.6 m over it, five bays of 3.2 m; walls of stucco. Its
porch is Tuscan, 3.6508 m from its floor to the floor above. Ratios that a scene leaves out are
common practice, no source, unless a line names one.
"""

from __future__ import annotations

from typing import Any

import pytest

from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH = 0.0254
FLOOR_M = 24 * INCH
DIAMETER_M = (3.6 + 2 * INCH) / 8.75  # Vignola's Tuscan: column 7, entablature 1 3/4 diameters
# Over the house's floor: the porch's ceiling, level with an architrave of half a diameter.
CEILING_M = 7.5 * DIAMETER_M - 2 * INCH
CLEAR_M, SILL_M = 2 * INCH, 24 * INCH

pytestmark = pytest.mark.usefixtures("rules_hold")


def windows(*asked: dict[str, Any], wall: str = "front", **house: Any) -> dict[int, Any]:
    """The first window of a wall on each storey."""
    made = design({"windows": list(asked), **house})
    return {
        o.storey: o
        for o in reversed(made.house.openings)
        if o.wall == wall and o.place.startswith("window")
    }


def casing(width_m: float) -> float:
    """A sixth of the opening, Palladio I.25; 8 in at most."""
    return min(width_m / 6, 8 * INCH)


@pytest.mark.parametrize(
    ("bays", "width_m"), [(5, 1.15), (6, 0.38 * 16 / 6), (7, 0.38 * 16 / 7), (9, 0.75)]
)
def test_a_window_is_a_share_of_its_bay_within_limits(bays: int, width_m: float) -> None:
    first = windows({}, bays=bays)
    assert first[0].width_m == pytest.approx(width_m)
    assert first[1].width_m == first[0].width_m


def test_it_is_twice_as_high_as_wide_where_there_is_room() -> None:
    """Palladio I.25; that of the next storey five sixths as high."""
    first = windows({"width": "0.9 m"}, {})
    assert first[0].sill_z_m == pytest.approx(FLOOR_M + SILL_M)
    assert first[0].height_m == pytest.approx(1.8)
    assert first[1].height_m == pytest.approx(1.5)
    assert first[1].width_m == pytest.approx(0.9)
    assert first[1].sill_z_m == pytest.approx(FLOOR_M + 3.6 + SILL_M)


def test_a_storey_may_leave_less() -> None:
    first = windows({})
    left = CEILING_M - CLEAR_M - casing(1.15) - SILL_M
    assert left < 2 * 1.15
    assert first[0].height_m == pytest.approx(left)
    assert windows({"sill": "80 cm"})[0].height_m == pytest.approx(left + SILL_M - 0.8)
    belted = windows({}, belt_courses=True)
    # a belt course of 8 in lies under the floor above, higher than the porch's ceiling
    assert belted[0].height_m == pytest.approx(left)


def test_a_belt_course_comes_down_on_the_windows() -> None:
    plain = windows({"width": "1.15 m"}, {}, storeys=["2.9 m", "3.6 m", "3 m"], wall="back")
    belted = windows(
        {"width": "1.15 m"}, {}, storeys=["2.9 m", "3.6 m", "3 m"], wall="back", belt_courses=True
    )
    # on the first floor: five sixths of the ground floor's, whatever lies over it
    assert plain[1].height_m == belted[1].height_m == pytest.approx(plain[0].height_m * 5 / 6)


@pytest.mark.parametrize(
    ("head", "rise_m", "curve"),
    [
        ("casing", 0.0, "segment"),
        ("segmental arch", 1.0 / 8, "segment"),
        ("elliptical arch", 0.3, "ellipse"),
        ("semicircular arch", 0.5, "segment"),
    ],
)
def test_the_rise_of_a_head(head: str, rise_m: float, curve: str) -> None:
    first = windows({"head": head, "width": "1 m", "height": "1.9 m"})
    soffit = first[0].soffit
    assert (soffit.rise_m, soffit.curve) == (pytest.approx(rise_m), curve)
    assert first[0].head == head
    if head in ("segmental arch", "elliptical arch"):
        given = windows({"head": head, "width": "1 m", "height": "1.9 m", "rise": "24 cm"})
        assert given[0].soffit.rise_m == pytest.approx(0.24)


def test_an_ellipse_of_six_inches_at_least_and_a_segment_of_three_tenths_of_the_height() -> None:
    narrow = {"width": "60 cm", "height": "1.2 m"}
    assert windows({"head": "elliptical arch", "rise": "6.1 in", **narrow})
    for head, rise in (("elliptical arch", "5.9 in"), ("segmental arch", "31 cm")):
        with pytest.raises(DesignError, match=r"windows\.0\.rise"):
            windows({"head": head, "rise": rise, **narrow})
    low = {"head": "segmental arch", "width": "1 m", "height": "1 m"}
    assert windows({"rise": "29 cm", **low})
    with pytest.raises(DesignError, match=r"windows\.0\.rise"):
        windows({"rise": "31 cm", **low})


def test_a_window_to_the_floor_stands_on_it() -> None:
    shut = {"shutters": "louvred", "shutter_side": "left"}
    first = windows({"sill": "0 m", "width": "0.9 m"} | shut, shut)
    assert first[0].sill_z_m == pytest.approx(FLOOR_M)
    assert first[0].height_m == pytest.approx(2 * 0.9 + SILL_M)
    assert first[0].shutters.hold_backs == "beside"  # no wall is left under a leaf
    # the storey above goes by the window that it would be
    assert first[1].height_m == pytest.approx(1.5)
    assert first[1].sill_z_m == pytest.approx(FLOOR_M + 3.6 + SILL_M)
    assert first[1].shutters.hold_backs == "below"
    three = windows({"sill": "0 m", "width": "1.8 m", "kind": "tripartite"}, {})
    assert three[0].height_m == pytest.approx(1.8 + SILL_M)
    with pytest.raises(DesignError, match=r"windows\.1\.sill"):
        windows({}, {"sill": "0 m"})  # over a floor its stone has no room


@pytest.mark.parametrize(
    ("house", "width_m"),
    [
        ({}, 0.6 * 3.2),
        ({"bays": 3, "side_bays": 1}, 2.6),
        ({"bays": 7, "bay_spacing": "2.2 m"}, 1.5),
    ],
)
def test_a_tripartite_window_is_three_fifths_of_its_bay(
    house: dict[str, Any], width_m: float
) -> None:
    """And twice as high as its middle light is wide, which is half of it, where there is room."""
    first = windows({"kind": "tripartite"}, {"kind": "tripartite"}, **house)
    assert first[0].width_m == pytest.approx(width_m)
    assert first[0].filling == "tripartite"
    assert first[1].width_m == first[0].width_m
    if width_m < 2.0:
        assert first[0].height_m == pytest.approx(width_m)


def test_each_kind_has_its_own_width() -> None:
    mixed = windows({"kind": "tripartite"}, {})
    assert mixed[0].width_m == pytest.approx(1.92)
    assert mixed[1].width_m == pytest.approx(1.15)
    other = windows({}, {"kind": "tripartite"})
    assert other[1].width_m == pytest.approx(1.92)


@pytest.mark.parametrize(("width", "leaves"), [("75 cm", 1), ("77 cm", 2), ("1.15 m", 2)])
def test_a_casement_from_two_feet_six_has_two_leaves(width: str, leaves: int) -> None:
    assert windows({"kind": "casement", "width": width})[0].leaves == leaves
    assert windows({"kind": "casement", "width": width, "leaves": 1})[0].leaves == 1


def test_lights_are_about_eleven_by_fifteen_inches() -> None:
    """A casement's: what stiles and rails leave, shared out; in whole lights."""
    frame, stile, bottom = 1.75 * INCH, 2 * INCH, 3 * INCH
    for width, height in ((1.1, 1.9), (0.7, 1.5), (0.95, 2.1)):
        asked = {"kind": "casement", "width": f"{width} m", "height": f"{height} m"}
        made = windows(asked)[0]
        wide = (width - 2 * frame) / made.leaves - 2 * stile
        tall = height - 2 * frame - bottom - stile
        across = max(1, round(wide / (11 * INCH)))
        up = max(1, round(tall / (15 * INCH)))
        assert made.upper_lights == made.lower_lights == (across, up)


def test_lights_as_given() -> None:
    hung = windows({"lights": "3x2 over 3x3"})[0]
    assert (hung.upper_lights, hung.lower_lights) == ((3, 2), (3, 3))
    six = windows({})[0]
    assert (six.upper_lights, six.lower_lights) == ((3, 2), (3, 2))
    fixed = windows({"kind": "fixed", "lights": "2x4"})[0]
    assert (fixed.upper_lights, fixed.lower_lights, fixed.leaves) == ((2, 4), (2, 4), 1)
    assert fixed.filling == "fixed"
    plain = windows({"kind": "fixed"})[0]
    assert plain.upper_lights == plain.lower_lights == (1, 1)
    leaf = windows({"kind": "casement", "lights": "2x3"})[0]
    assert (leaf.upper_lights, leaf.lower_lights, leaf.filling) == ((2, 3), (2, 3), "casement")


def test_rows_follow_where_only_lights_across_are_given() -> None:
    """Each as high to its breadth as 15 to 11."""
    wide = 1.1 - 2 * 1.75 * INCH - 2 * 2 * INCH
    for height, lights in ((1.3, "two"), (1.9, "two"), (2.0, "two"), (1.9, "three"), (1.9, "four")):
        asked = {"lights": f"{lights} lights wide", "width": "1.1 m", "height": f"{height} m"}
        made = windows(asked)[0]
        across = {"two": 2, "three": 3, "four": 4}[lights]
        rows = (height - 2 * 1.75 * INCH) / 2 / (wide / across * 15 / 11)
        assert made.upper_lights == (across, round(rows))
        assert made.lower_lights == made.upper_lights


def test_shutters_as_asked() -> None:
    asked = {
        "shutters": "louvred",
        "shutter_width": "45 cm",
        "shutter_side": "left",
        "panel_below": "20 cm",
        "width": "0.9 m",
    }
    made = windows(asked)[0]
    hung = made.shutters
    assert (hung.kind, hung.leaf_m, hung.side) == ("louvred", 0.45, "left")
    assert (made.panel_below_m, hung.closed, hung.hold_backs) == (0.2, False, "below")
    closed = windows({"shutters": "panelled", "shutters_closed": True, "width": "80 cm"})[0]
    assert closed.shutters.closed
    assert closed.shutters.leaf_m is None
    beside = windows({"shutters": "louvred", "hold_backs": "beside", "width": "80 cm"})[0]
    assert beside.shutters.hold_backs == "beside"
    # a leaf of three stiles at least, and no wider than the opening
    for width in ("172 mm", "0.9 m"):
        assert windows(asked | {"shutter_width": width}, bays=3, side_bays=1)
    for width in ("171 mm", "0.902 m"):
        with pytest.raises(DesignError, match="shutter_width"):
            windows(asked | {"shutter_width": width}, bays=3, side_bays=1)


# --- rows of them ------------------------------------------------------------------------------


def test_windows_are_numbered_from_outside() -> None:
    made = design({"side_bays": 3}).house.openings
    of = {
        wall: [(o.place, o.along_m) for o in made if o.wall == wall and o.storey == 1]
        for wall in ("front", "right", "back", "left")
    }
    bays = pytest.approx([-6.4, -3.2, 0.0, 3.2, 6.4])
    sides = pytest.approx([-10 / 3, 0.0, 10 / 3])
    for wall, along in (("front", bays), ("back", bays), ("right", sides), ("left", sides)):
        assert [x for _, x in of[wall]] == along
        assert [place for place, _ in of[wall]] == [f"window {k + 1}" for k in range(len(of[wall]))]
    ground = [o.place for o in made if o.wall == "front" and o.storey == 0]
    assert ground == ["window 1", "window 2", "door", "window 4", "window 5"]
    assert len([o for o in made if o.wall == "back" and o.storey == 0]) == 5


def test_the_back_is_the_front_seen_from_behind() -> None:
    made = design({"bay_centres": ["-6 m", "-2 m", "0 m", "3 m"]}).house.openings
    back = [o.along_m for o in made if o.wall == "back" and o.storey == 0]
    assert back == pytest.approx([-3.0, 0.0, 2.0, 6.0])


def test_windows_on_the_porch_may_be_french() -> None:
    """From the floor to the others' heads; 11 by 15 in lights in the upper three quarters."""
    made = design(
        {"windows": [{"kind": "french", "width": "1 m"}, {}], "bays": 7},
        porch={"columns": 6, "spacing": "2.2 m", "centre_spacing": "2.4 m"},
    )
    front = {o.place: o for o in made.house.openings if o.wall == "front" and o.storey == 0}
    on, off = front["window 3"], front["window 1"]
    assert on.sill_z_m == pytest.approx(FLOOR_M)
    assert on.head_z_m == pytest.approx(off.head_z_m)
    assert off.sill_z_m == pytest.approx(FLOOR_M + SILL_M)
    assert on.lights == (round(0.5 / (11 * INCH)), round(0.75 * on.height_m / (15 * INCH)))
    assert on.head == "casing"
    assert all(o.sill_z_m > FLOOR_M for o in made.house.openings if o.wall == "back")
    half = made.porch.axes_m[-1]
    french = [o for o in front.values() if o.place != "door" and o.sill_z_m == on.sill_z_m]
    assert french
    assert all(abs(o.along_m) + o.reach_m < half for o in french)
    assert made.house.openings[-1].storey == 1


def test_an_odd_window_in_a_bay() -> None:
    made = design(
        {
            "odd_windows": [
                {"wall": "front", "storey": 2, "bay": 3, "kind": "tripartite", "width": "1.8 m"},
                {"wall": "back", "storey": 1, "bay": 2, "number": "none"},
                {"wall": "back", "storey": 1, "bay": 4, "number": "two"},
                {"wall": "left", "storey": 1, "bay": 1, "number": "two", "width": "60 cm"},
            ]
        }
    )
    by = {(o.wall, o.storey, o.place): o for o in made.house.openings}
    odd = by["front", 1, "window 3"]
    assert (odd.filling, odd.width_m, odd.along_m) == ("tripartite", 1.8, 0.0)
    assert ("back", 0, "window 2") not in by
    plain, a, b = (by["back", 0, f"window {name}"] for name in ("1", "4a", "4b"))
    assert a.width_m == b.width_m == pytest.approx(0.6 * plain.width_m)
    assert (a.along_m + b.along_m) / 2 == pytest.approx(3.2)
    over_all = a.width_m + 2 * (casing(a.width_m) + INCH)  # casing, and the sill's lug beyond it
    assert b.along_m - a.along_m == pytest.approx(over_all + 2 * INCH)
    assert made.origins["house.odd_windows.2.width"].source.startswith("three fifths")
    assert made.origins["house.odd_windows.0.width"].source.startswith("given")
    one, two = (by["left", 0, f"window 1{letter}"] for letter in "ab")
    assert one.width_m == two.width_m == pytest.approx(0.6)
    assert one.along_m < two.along_m


def test_an_odd_window_without_shutters_among_shuttered_ones() -> None:
    house = {
        "windows": [{"shutters": "louvred", "shutter_width": "40 cm", "hold_backs": "beside"}],
        "odd_windows": [{"wall": "back", "storey": 1, "bay": 1, "shutters": "none"}],
    }
    made = design(house).house.openings
    shutters = {o.place: o.shutters for o in made if o.wall == "back" and o.storey == 0}
    assert shutters["window 1"] is None
    assert shutters["window 2"].kind == "louvred"
