"""Where a porch, its columns and the entrance stand along a front, worked by hand.

The house: 16 m wide, five bays of 3.2 m unless others are asked for; its porch Tuscan.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.resolve.bays import about, closest, column_gaps, entrance_bay
from massing.scene.errors import DesignError
from massing.scene.spec import House
from tests.resolve.test_design import design

FIVE = (-6.4, -3.2, 0.0, 3.2, 6.4)
FOUR = (-6.0, -2.0, 2.0, 6.0)

pytestmark = pytest.mark.usefixtures("rules_hold")


@pytest.mark.parametrize(
    ("bays", "middle", "seen"),
    [
        (FIVE, 0.0, FIVE),
        (FIVE, 3.2, (-3.2, 0.0, 3.2)),
        # at the last bay the next of equal ones is taken to stand beyond it
        (FIVE, 6.4, (-3.2, 0.0, 3.2)),
        (FIVE, -6.4, (-3.2, 0.0, 3.2)),
        (FIVE, 1.6, (-4.8, -1.6, 1.6, 4.8)),
        (FIVE, 1.0, ()),
        (FOUR, 2.0, (-4.0, 0.0, 4.0)),
        # but not of unequal ones
        ((-6.0, -1.0, 0.0, 1.0, 6.0), 6.0, (0.0,)),
        ((-6.0, -1.0, 0.0, 1.0, 6.0), 1.0, (0.0,)),
        ((-3.0,), -3.0, (0.0,)),
    ],
)
def test_bays_about_a_porch_s_middle(
    bays: tuple[float, ...], middle: float, seen: tuple[float, ...]
) -> None:
    assert about(bays, middle) == pytest.approx(seen)


@pytest.mark.parametrize(
    ("bays", "columns", "gaps"),
    [
        (FIVE, 4, [3.2] * 3),
        (FIVE, 6, [3.2] * 5),
        (FIVE, 3, [3.2] * 2),
        (FIVE, 8, [3.2] * 7),
        # a wide centre: two columns between the bays beside it, four between those beyond too
        ((-6.0, -3.0, 0.0, 3.0, 6.0), 2, [3.0]),
        ((-7.0, -4.0, 0.0, 4.0, 7.0), 2, [4.0]),
        ((-7.0, -4.0, 0.0, 4.0, 7.0), 4, [3.5, 4.0, 3.5]),
        ((-7.0, -4.0, 0.0, 4.0, 7.0), 3, [4.0, 4.0]),
        ((-7.0, -4.0, 0.0, 4.0, 7.0), 5, [3.0, 4.0, 4.0, 3.0]),
        # beyond the last bay at its own spacing
        ((-7.0, -4.0, 0.0, 4.0, 7.0), 6, [3.0, 3.5, 4.0, 3.5, 3.0]),
        ((-7.0, -4.0, 0.0, 4.0, 7.0), 7, [3.0, 3.0, 4.0, 4.0, 3.0, 3.0]),
        ((-2.0, 2.0), 2, [4.0]),
        ((0.0,), 2, None),
        ((-3.0, 0.0, 2.0), 2, None),
    ],
)
def test_columns_that_follow_the_bays(
    bays: tuple[float, ...], columns: int, gaps: list[float] | None
) -> None:
    found = column_gaps(bays, columns)
    if gaps is None:
        assert found is None
    else:
        assert found == pytest.approx(gaps)


def test_the_nearest_two_bays() -> None:
    assert closest((-7.0, -4.0, 0.0, 3.5), 16.0) == pytest.approx(3.0)
    assert closest((0.0,), 16.0) == 16.0
    assert closest((), 16.0) == 16.0


@pytest.mark.parametrize(
    ("bays", "porch", "bay"),
    [
        (FIVE, 0.0, 2),
        (FIVE, 3.2, 3),
        (FIVE, 2.8, 3),  # the nearest, where the porch stands at none
        (FIVE, 1.6, None),  # between two of them
        (FOUR, 0.0, None),
        ((-3.0, 1.0, 3.0), 0.0, None),
        ((), 0.0, None),
        ((0.0,), 0.0, 0),
        ((2.0,), 1.5, 0),
    ],
)
def test_the_entrance_s_bay(bays: tuple[float, ...], porch: float, bay: int | None) -> None:
    body = {"width": "16 m", "depth": "10 m", "storeys": ["3 m"]}
    assert entrance_bay(House.model_validate(body), porch, bays) == bay
    said = House.model_validate(body | {"door": {"bay": 1}})
    if bays:
        assert entrance_bay(said, porch, bays) == 0
    last = House.model_validate(body | {"door": {"bay": max(len(bays), 1)}})
    if bays:
        assert entrance_bay(last, porch, bays) == len(bays) - 1
    beyond = House.model_validate(body | {"door": {"bay": len(bays) + 1}})
    with pytest.raises(DesignError, match=r"house\.door\.bay: .* from the left"):
        entrance_bay(beyond, porch, bays)


TWO = {"columns": 2, "spacing": "2 m", "diameter": "30 cm", "depth": "2 m"}


@pytest.mark.parametrize(
    ("along", "middle", "door"),
    [
        (None, 0.0, 0.0),
        ("bay 4", 3.2, 3.2),
        ("bay 2", -3.2, -3.2),
        ("3 m", 3.0, 3.2),
        ("-3.4 m", -3.4, -3.2),
        ("bays 3 and 4", 1.6, None),
    ],
)
def test_a_porch_beside_the_middle(along: str | None, middle: float, door: float | None) -> None:
    """Everything of it stands about its own middle; the entrance in the bay nearest that."""
    porch: dict[str, Any] = TWO if along is None else {**TWO, "along": along}
    if door is None:
        house = {"door": {"bay": 4}}
        porch = {**porch, "spacing": "4.4 m"}
        door, apart = 3.2, 4.4
    else:
        house, apart = {}, 2.0
    made = design(house, porch=porch)
    assert made.porch.centre_m == pytest.approx(middle)
    assert made.porch.axes_m == pytest.approx((middle - apart / 2, middle + apart / 2))
    entrance = next(o for o in made.house.openings if o.place == "door")
    assert entrance.along_m == pytest.approx(door)
    ground = [o.along_m for o in made.house.openings if o.wall == "front" and o.storey == 0]
    assert ground == pytest.approx(FIVE)
    back = [o for o in made.house.openings if o.wall == "back" and o.storey == 0]
    assert len(back) == 5


def test_a_porch_stays_before_the_front() -> None:
    room = 8.0 - 1.0 - 0.3 * 9.5 / 12 / 2  # half the front, half a bay, half the frieze
    for along, stands in ((room - 0.002, True), (room + 0.002, False)):
        porch = {**TWO, "along": f"{along} m"}
        if stands:
            assert design({"door": {"bay": 5}, "bays": 5}, porch=porch).porch.centre_m > 0
            continue
        with pytest.raises(DesignError, match=r"porch\.(along|spacing)"):
            design({"door": {"bay": 5}, "bays": 5}, porch=porch)


@pytest.mark.parametrize(
    ("along", "allowed"), [("bay 6", "bay 1 to 5, from the left"), ("bays 5 and 6", "bay 1 to 5")]
)
def test_a_bay_that_the_front_has_not(along: str, allowed: str) -> None:
    with pytest.raises(DesignError) as refused:
        design(porch={**TWO, "along": along})
    assert refused.value.field == "porch.along"
    assert allowed in refused.value.allowed


# --- what goes with a doorway --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("door", "heads"),
    [
        (
            {"fanlight": "semicircular", "head": "lintel"},
            "with a fanlight: casing, semicircular casing, semicircular arch, "
            "stone semicircular arch",
        ),
        (
            {"fanlight": "elliptical", "head": "lintel"},
            "with a fanlight: casing, elliptical casing, elliptical arch, stone elliptical arch",
        ),
        ({"surround": {}, "head": "lintel"}, "with an order about the doorway: casing"),
        (
            {"surround": {}, "fanlight": "semicircular", "head": "semicircular arch"},
            "with an order about the doorway: casing",
        ),
        (
            {"head": "elliptical arch"},
            "with no fanlight: casing, hood, hood on consoles, lintel, jack arch, stone jack arch, "
            "segmental arch",
        ),
    ],
)
def test_heads_that_go_with_a_doorway(door: dict[str, Any], heads: str) -> None:
    with pytest.raises(DesignError) as refused:
        design({"door": door})
    assert (refused.value.field, refused.value.allowed) == ("house.door.head", heads)


def test_a_house_without_a_middle_bay_has_no_entrance_by_rule() -> None:
    made = design({"bays": 4}, porch={"columns": 4, "spacing": "2.2 m"}).house.openings
    assert not [o for o in made if o.place == "door"]
    assert len([o for o in made if o.wall == "front" and o.storey == 0]) == 4


def test_a_recess_leaves_three_feet_and_meets_no_opening() -> None:
    """Behind the antae 3 ft; 2 ft of wall to the corner; 2 in from anta to opening."""
    recess = {"shape": "recessed", "columns": 2, "spacing": "2.4 m", "entablature": "40 cm"}
    neck = design({"bays": 3}, porch=recess).porch.order.upper_diameter_m
    least = neck - 0.03 + 36 * 0.0254
    assert design({"bays": 3}, porch={**recess, "depth": f"{least + 0.001} m"})
    with pytest.raises(DesignError, match=r"porch\.depth: .* 3 ft behind the antae"):
        design({"bays": 3}, porch={**recess, "depth": f"{least - 0.001} m"})
    # its antae stand 3.6 m off, before windows at 3.2 m
    with pytest.raises(DesignError, match=r"porch\.spacing: .* meet front/ground/window"):
        design({"bays": 5}, porch=recess)
    deepest = 10.0 - 2 * 12 * 0.0254 - 24 * 0.0254
    assert design({"bays": 3}, porch={**recess, "depth": f"{deepest - 0.001} m"})
    with pytest.raises(DesignError, match=r"porch\.depth: .* within the house"):
        design({"bays": 3}, porch={**recess, "depth": f"{deepest + 0.001} m"})


def test_columns_are_two_where_four_would_stand_far_apart() -> None:
    """Left to their rule they stand no wider than the books name, the middle as the door wants."""
    for order in ("tuscan", "doric", "ionic", "corinthian"):
        made = design(porch={"order": order})
        axes = made.porch.axes_m
        clears = np.diff(axes) / made.porch.order.diameter_m - 1.0
        assert axes[0] == pytest.approx(-axes[-1])
        assert min(clears) >= 1.5 / 1.02  # pycnostyle, Vitruvius III.3.2
        sides = [*clears[: len(clears) // 2], *clears[len(clears) // 2 + 1 :]]
        assert max(sides, default=0.0) <= 4.0 * 1.02  # araeostyle, by later convention
        door = next(o for o in made.house.openings if o.place == "door")
        reach = 0.4 * made.porch.order.diameter_m
        assert min(abs(x) for x in axes) >= door.width_m / 2 + reach - 1e-6


@pytest.mark.parametrize(
    ("house", "centres"),
    [
        ({"rhythm": "wide centre"}, (-6.5, -3.5, 0.0, 3.5, 6.5)),  # 16 m in 5 1/3 shares
        ({"rhythm": "wide centre", "centre_bay": "4.8 m"}, (-6.6, -3.8, 0.0, 3.8, 6.6)),
        ({"rhythm": "paired", "bays": 5}, (-5.92, -3.68, 0.0, 3.68, 5.92)),
        ({"rhythm": "paired", "bays": 5, "pair_spacing": "2 m"}, (-5.8, -3.8, 0.0, 3.8, 5.8)),
        ({"rhythm": "paired", "bays": 4}, (-5.4, -2.6, 2.6, 5.4)),
        ({"bays": 4, "bay_spacing": "3 m"}, (-4.5, -1.5, 1.5, 4.5)),
        ({"bay_centres": ["5 m", "-5 m", "0 m"]}, (-5.0, 0.0, 5.0)),
        ({"bays": 1}, (0.0,)),
    ],
)
def test_where_bays_stand(house: dict[str, Any], centres: tuple[float, ...]) -> None:
    """A wide centre a third wider; in pairs seven tenths of the bay apart, evenly set."""
    made = design({"windows": [{"width": "80 cm"}], **house}, porch=TWO)
    assert made.house.bay_centres_m == pytest.approx(centres)


def test_bays_one_by_one_say_their_lines() -> None:
    from massing.resolve.design import resolve
    from massing.scene.spec import Scene
    from tests.resolve.test_design import SITE

    body = {"width": "16 m", "depth": "10 m", "storeys": ["3.6 m"], "bay_centres": ["-4 m", "4 m"]}
    scene = Scene.model_validate(
        {"title": "T", "site": SITE, "times": ["equinox 12:00"], "house": body, "porch": TWO}
    )
    made = resolve(scene, "t", {("house", "bay_centres", 1): 9})
    assert made.origins["house.bay_centres.1"].source == "given, line 9"
    assert made.origins["house.bay_centres.1"].value == 4.0


def test_a_guard_stands_two_millimetres_clear_of_a_window() -> None:
    """Its end post of 5 1/2 in on the column's axis; a casing a sixth wide, a lug of 1 in."""
    porch = {"columns": 4, "spacing": "2.2 m", "diameter": "30 cm", "depth": "2 m", "guard": {}}
    apart = 0.5 + 1 / 6 + 0.0254 + 5.5 * 0.0254 / 2 + 0.002
    for at, stands in ((3.3 + apart + 1e-4, True), (3.3 + apart - 1e-4, False)):
        house = {
            "bay_centres": [f"{-at} m", "0 m", f"{at} m"],
            "windows": [{"width": "1 m"}, {}],
            "side_bays": 1,
        }
        if stands:
            assert design(house, porch=porch)
            continue
        with pytest.raises(DesignError, match=r"porch\.guard: .* before front/ground/window"):
            design(house, porch=porch)


def test_a_window_over_a_guard_is_not_behind_it() -> None:
    """Its sill's stone of 4 in no lower than the rail's top, 36 in over the porch's floor."""
    porch = {"columns": 4, "spacing": "2.2 m", "diameter": "30 cm", "depth": "2 m", "guard": {}}
    house = {"bay_centres": ["-3.3 m", "0 m", "3.3 m"], "side_bays": 1}
    sill = 34 * 0.0254 + 4 * 0.0254
    for more, stands in ((0.001, True), (-0.004, False)):
        windows = [{"width": "1 m", "height": "1 m", "sill": f"{sill + more} m"}]
        if stands:
            assert design({**house, "windows": windows}, porch=porch)
            continue
        with pytest.raises(DesignError, match=r"porch\.guard"):
            design({**house, "windows": windows}, porch=porch)


def test_a_guard_beside_the_middle_is_asked_by_its_own_place() -> None:
    """The left post of a porch 3.2 m to the right stands before the middle bay's window."""
    porch = {**TWO, "along": "bay 4", "guard": {}}
    made = design({"windows": [{"width": "80 cm"}]}, porch={**porch, "spacing": "3.1 m"})
    assert made.porch.axes_m == pytest.approx((1.65, 4.75))
    with pytest.raises(DesignError, match=r"porch\.guard: .* before front/ground/window 3"):
        design({"windows": [{"width": "80 cm"}]}, porch={**porch, "spacing": "5.4 m"})


def test_what_a_recess_takes_of_the_house() -> None:
    """Its floor reaches 3 in past the anta's foot, which is as far out as a column's plinth."""
    recess = {"shape": "recessed", "columns": 2, "spacing": "2.4 m", "entablature": "40 cm"}
    made = design({"bays": 3}, porch=recess)
    order = made.porch.order
    foot = order.upper_diameter_m / 2 + (order.foot_width_m - order.diameter_m) / 2
    assert made.house.recess.apron_m == pytest.approx(3.6 + foot + 3 * 0.0254)
    assert made.house.recess.ceiling_z_m == made.porch.ceiling_z_m


def test_an_opening_behind_a_recess_is_under_its_ceiling() -> None:
    recess = {"shape": "recessed", "columns": 2, "spacing": "2.4 m", "entablature": "1 m"}
    tall = {"bays": 3, "windows": [{}, {}], "door": {"height": "2.6 m", "transom": False}}
    made = design({**tall, "door": {"transom": False}}, porch=recess).porch
    over = 0.12 + (36 * 0.0254 + 0.24) / 6 + 2 * 0.0254
    most = made.ceiling_z_m - 24 * 0.0254 - over
    assert design({**tall, "door": {"height": f"{most - 0.002} m", "transom": False}}, porch=recess)
    with pytest.raises(DesignError) as refused:
        design({**tall, "door": {"height": f"{most + 0.002} m", "transom": False}}, porch=recess)
    assert refused.value.field in ("porch.height", "house.door.height")
