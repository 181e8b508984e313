"""Doors against the Edinburgh Encyclopaedia, part 2, on doors (read)."""

from massing.practice.rules import rules
from tests.build.test_doorway import entrance, resolved

FOOT = 0.3048


def test_the_encyclopaedia_s_doors():
    # Small doors 3:7, large 1:2; one leaf at most 3 ft 6 in; two leaves 6 to 8 ft.
    limits = rules()
    assert abs(limits["door_small"].value - 3 / 7) < 1e-9
    assert abs(limits["door_large"].value - 1 / 2) < 1e-9
    assert abs(limits["door_leaf_most"].value - 3.5 * FOOT) < 1e-9
    assert abs(limits["door_pair_least"].value - 6 * FOOT) < 1e-9
    assert abs(limits["door_pair_most"].value - 8 * FOOT) < 1e-9


def test_doors_by_rule_have_the_encyclopaedia_s_proportions():
    single = entrance(resolved())
    assert abs(single.leaf_width_m / single.leaf_height_m - 3 / 7) < 1e-6
    pair = entrance(resolved({"leaves": 2}))
    assert 6 * FOOT - 1e-9 <= pair.leaf_width_m <= 8 * FOOT


def test_a_door_with_a_transom_stands_level_with_the_windows_heads():
    # "Heads level with the windows": the same page.
    design = resolved()
    heads = {round(o.head_z_m, 6) for o in design.house.openings if "front/ground" in o.name}
    assert len(heads) == 1
