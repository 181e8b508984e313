"""The spacing that a scene leaves to its rule."""

import numpy as np
import pytest

from massing.findings.measures import clear_intercolumniations, columns_before_openings
from massing.findings.report import findings
from tests.resolve.test_design import design

ON_SPACING = {"wide spacing", "close spacing", "metopes", "slender for spacing", "couples"}
ORDERS = ("pier", "tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite")


@pytest.mark.parametrize("order", ORDERS)
def test_no_order_before_a_house_of_any_width_is_called_ill_spaced(order):
    for width_ft in range(24, 72, 6):
        for storeys in (["11 ft", "10 ft"], ["12 ft"]):
            made = design(
                {
                    "width": f"{width_ft} ft",
                    "depth": "30 ft",
                    "storeys": storeys,
                    "bays": 3 if width_ft < 40 else 5,
                },
                porch={"order": order},
            )
            said = [f.text for f in findings(made) if f.key in ON_SPACING]
            assert not said, (width_ft, storeys, said)
            assert not columns_before_openings(made), (width_ft, storeys)


def test_a_giant_order_follows_the_bays():
    # Tuscan of 8.4 m: diameters of 0.96 m, bays of 3.2 m: 2 1/3 diameters clear.
    made = design(porch={"order": "tuscan", "height": "eaves"})
    assert np.diff(made.porch.axes_m) == pytest.approx([3.2, 3.2, 3.2])
    assert "the house's bays" in str(made.origins["porch.spacing"])


def test_the_middle_pair_is_as_wide_as_the_door_wants_and_no_wider():
    made = design({"door": {"sidelights": True}}, porch={"order": "tuscan", "height": "4 m"})
    door = next(o for o in made.house.openings if o.kind == "door")
    middle = made.porch.axes_m[2]
    shaft = made.porch.order.diameter_m
    assert middle - 0.4 * shaft >= door.width_m / 2.0
    named_m = 3.0 * shaft + shaft  # Vitruvius III.3.6: three diameters in the middle
    assert middle * 2.0 <= max(named_m, door.width_m + 0.8 * shaft + 0.005)


def test_what_is_typed_is_kept():
    made = design(porch={"order": "tuscan", "spacing": "2 m"})
    assert np.diff(made.porch.axes_m) == pytest.approx([2.0, 2.0, 2.0])


def test_couples_stand_apart_as_the_book_has_them():
    made = design(porch={"order": "ionic", "paired": True})
    # Ware p. 44: coupled columns stand 3 1/2 diameters from couple to couple.
    assert clear_intercolumniations(made) == pytest.approx([3.5])
