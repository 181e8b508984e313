import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.resolve.bays import column_gaps
from massing.scene.errors import DesignError
from tests.resolve.test_design import design


def centres(**house):
    body = {"side_bays": 0, "width": "24 m", "windows": [{"height": "1.6 m"}], **house}
    made = design(body, porch={"spacing": "2 m"})
    return np.array(made.house.bay_centres_m)


def test_equal_bays_divide_the_front():
    assert centres(bays=6) == pytest.approx([-10, -6, -2, 2, 6, 10])


@pytest.mark.parametrize("bays", [4, 5, 6, 7])
def test_a_wide_centre_leaves_the_rest_equal_and_fills_the_front(bays):
    found = centres(bays=bays, rhythm="wide centre", centre_bay="6 m")
    side = 18.0 / (bays - 1)
    gaps = np.diff(found)
    assert found == pytest.approx(-found[::-1])
    assert found[-1] + side / 2 == pytest.approx(12.0)
    middle = [6.0] if bays % 2 == 0 else [3.0 + side / 2] * 2
    outer = (len(gaps) - len(middle)) // 2
    assert gaps == pytest.approx([side] * outer + middle + [side] * outer)


@pytest.mark.parametrize(
    ("bays", "shape"),
    [(2, "p"), (4, "pp"), (5, "psp"), (6, "ppp"), (9, "ppspp")],
)
def test_pairs_stand_evenly_about_the_middle(bays, shape):
    found = centres(bays=bays, rhythm="paired", pair_spacing="1.4 m", windows=[{"width": "0.8 m"}])
    assert found == pytest.approx(-found[::-1])
    groups, at = [], 0
    for kind in shape:
        size = 2 if kind == "p" else 1
        groups.append(found[at : at + size])
        at += size
    assert at == bays
    assert all(np.ptp(g) == pytest.approx(1.4) for g in groups if len(g) == 2)
    middles = np.array([g.mean() for g in groups])
    if "s" not in shape and len(middles) > 1:
        assert np.diff(middles) == pytest.approx(2 * 24.0 / bays)


@pytest.mark.parametrize("bays", [1, 3, 7])
def test_pairs_that_cannot_balance_are_refused(bays):
    with pytest.raises(DesignError, match=r"house\.bays"):
        centres(bays=bays, rhythm="paired")


def test_free_centres_stand_as_given_and_the_back_faces_the_front():
    made = design(
        {
            "width": "20 m",
            "bay_centres": ["-8 m", "-3.5 m", "0 m", "4 m"],
            "side_bays": 0,
            "windows": [{"height": "1.6 m"}],
        },
        porch={"spacing": "2 m"},
    ).house
    assert made.bay_centres_m == pytest.approx([-8, -3.5, 0, 4])
    back = [o.along_m for o in made.openings if o.wall == "back" and "/ground/" in o.name]
    assert back == pytest.approx([-4, 0, 3.5, 8])
    door = next(o for o in made.openings if o.kind == "door")
    assert door.along_m == 0.0


@pytest.mark.usefixtures("rules_hold")
@pytest.mark.parametrize(
    ("house", "field", "says"),
    [
        ({"bay_centres": ["-3 m", "-3 m"]}, "house.bay_centres", "twice"),
        ({"bay_centres": ["-3 m", "11.9 m"]}, "house.bay_centres", "inside a width"),
        ({"bay_centres": ["-3 m", "3 m"], "bays": 3}, "house.bays", "2, as many"),
        ({"bay_centres": ["-3 m", "3 m"], "rhythm": "paired"}, "house.rhythm", "left out"),
        ({"centre_bay": "5 m"}, "house.centre_bay", "only with rhythm: wide centre"),
        ({"pair_spacing": "2 m"}, "house.pair_spacing", "only with rhythm: paired"),
        ({"rhythm": "wide centre", "centre_bay": "2 m"}, "house.centre_bay", "at least"),
        ({"bays": 4, "rhythm": "paired", "pair_spacing": "9 m"}, "house.pair_spacing", "at most"),
        (
            {"bay_centres": ["-3 m", "-2 m", "0 m"]},
            "house.bay_centres",
            "front/ground/window 1 .* and front/ground/window 2 .*, which collide",
        ),
        (
            {"bays": 4, "rhythm": "paired", "pair_spacing": "1 m"},
            "house.pair_spacing",
            "front/ground/window 1 .* and front/ground/window 2 .*, which collide",
        ),
        (
            {"bay_centres": ["0 m", "1.2 m", "6 m"]},
            "house.door.width",
            "clear of front/ground/window 2",
        ),
        ({"bay_centres": ["0 m", "11.2 m"]}, "house.bay_centres", "front/ground/window 2 .*corner"),
    ],
)
def test_bays_that_cannot_stand_are_refused_in_a_line(house, field, says):
    with pytest.raises(DesignError, match=says) as refusal:
        centres(**house)
    assert refusal.value.field.startswith(field)


def test_columns_stand_between_the_bays_whatever_their_rhythm():
    made = design(
        {"width": "24 m", "bays": 5, "rhythm": "wide centre", "centre_bay": "6 m"},
        porch={"columns": 4, "spacing": "bays"},
    )
    bays = np.array(made.house.bay_centres_m)
    assert made.porch.axes_m == pytest.approx((bays[:-1] + bays[1:]) / 2.0)
    with pytest.raises(DesignError, match="both sides of the middle"):
        design({"width": "24 m", "bay_centres": ["-6 m", "0 m", "5 m"]}, porch={"spacing": "bays"})


@given(
    gaps=st.lists(st.floats(1.5, 6.0), min_size=1, max_size=4),
    middle=st.booleans(),
    columns=st.integers(2, 12),
)
def test_columns_that_follow_the_bays_are_as_many_as_asked_and_balance(gaps, middle, columns):
    right = np.cumsum(gaps)
    found = (*(-right[::-1]), *([0.0] if middle else []), *right)
    made = column_gaps(found, columns)
    assert made is not None
    assert len(made) == columns - 1
    assert made == pytest.approx(made[::-1])
    assert min(made) >= 1.49
