"""Changes of a scene's text: what they say afterwards, and what stays letter for letter."""

from __future__ import annotations

import pytest

from massing.edit import writing
from massing.scene.edit import plain_scene, without_entry

TEXT = """\
# A house by the water.
title: Pond house
site:
  place: Savannah   # a public town
  latitude: 32.08
  longitude: -81.09
  front_faces: S 20 E
times:
  - equinox 10:00  # morning
  - equinox 15:00
house:
  width: 48 ft
  depth: 32 ft
  storeys: [11 ft, 10 ft]
  windows:
    - width: 3 ft   # narrow
      height: 6 ft
    - {width: 3 ft, height: 5 ft}
porch:
  order: pier
  columns: 4     # as found
  # shallow, says the client
  depth: 7 ft
alternatives:
  # the first thought
  Tuscan:
    house: &wide {bays: 7}
    porch:
      order: tuscan   # plain
      depth: 9 ft
  # the second thought
  Doric:
    house: *wide
    porch: {order: doric, balustrade: {}}
  Pier: {porch: {columns: 6}}
looks: [clay]
"""


def lines_gone_and_come(before: str, after: str) -> tuple[list[str], list[str]]:
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        (("porch", "depth"), ["  depth: 7 ft"]),
        (("porch", "columns"), ["  columns: 4     # as found"]),
        (("site", "place"), ["  place: Savannah   # a public town"]),
        (("times", 0), ["  - equinox 10:00  # morning"]),
        (("house", "windows", 1), ["    - {width: 3 ft, height: 5 ft}"]),
        (("looks",), ["looks: [clay]"]),
    ],
)
def test_a_field_left_out_takes_its_own_line_only(
    path: tuple[str | int, ...], gone: list[str]
) -> None:
    after = writing.unset_field(TEXT, path)
    assert lines_gone_and_come(TEXT, after) == (gone, [])


def test_the_first_field_of_an_item_leaves_its_dash() -> None:
    after = writing.unset_field(TEXT, ("house", "windows", 0, "width"))
    assert "    - height: 6 ft\n" in after
    assert plain_scene(after)["house"]["windows"][0] == {"height": "6 ft"}


def test_the_last_field_of_a_group_leaves_an_empty_group() -> None:
    one = "porch:\n  balustrade:\n    height: 3 ft\n  columns: 4\n"
    after = writing.unset_field(one, ("porch", "balustrade", "height"))
    assert plain_scene(after) == {"porch": {"balustrade": {}, "columns": 4}}
    assert "  columns: 4\n" in after


def test_an_alternative_s_field_left_out_is_as_drawn_again() -> None:
    after = writing.unset_field(TEXT, ("porch", "depth"), "Tuscan")
    assert lines_gone_and_come(TEXT, after) == (["      depth: 9 ft"], [])
    alone = writing.unset_field(TEXT, ("porch",), "Pier")
    assert plain_scene(alone)["alternatives"]["Pier"] == {"porch": {}}


def test_what_others_share_they_keep() -> None:
    mine = writing.unset_field(TEXT, ("house", "bays"), "Tuscan")
    assert plain_scene(mine)["alternatives"]["Tuscan"]["house"] == {}
    assert plain_scene(mine)["alternatives"]["Doric"]["house"] == {"bays": 7}
    theirs = writing.unset_field(TEXT, ("house", "bays"), "Doric")
    assert plain_scene(theirs)["alternatives"]["Tuscan"]["house"] == {"bays": 7}
    assert plain_scene(theirs)["alternatives"]["Doric"]["house"] == {}


def test_an_alternative_that_others_refer_to_can_go() -> None:
    more = TEXT.replace("  Pier: {porch", "  Pier: {house: *wide, porch")
    after = writing.delete_alternative(more, "Tuscan")
    data = plain_scene(after)["alternatives"]
    assert list(data) == ["Doric", "Pier"]
    assert data["Doric"]["house"] == data["Pier"]["house"] == {"bays": 7}
    assert "    house: &wide {bays: 7}\n" in after
    assert "{house: *wide, porch" in after
    merged = "a: &a {x: 1}\nb: {<<: *a, y: 2}\nc: *a\n"
    assert plain_scene(without_entry(merged, ("a",))) == {"b": {"x": 1, "y": 2}, "c": {"x": 1}}


def test_a_field_merged_in_can_be_left_out() -> None:
    shared = "a: &a {depth: 8 ft, columns: 4}\nporch: {<<: *a, order: pier}\n"
    assert plain_scene(without_entry(shared, ("porch", "depth")))["porch"] == {
        "columns": 4,
        "order": "pier",
    }
    assert plain_scene(without_entry(shared, ("porch", "depth")))["a"] == plain_scene(shared)["a"]


def test_an_item_that_is_not_there_yet_is_made_with_those_before_it() -> None:
    bare = "house: {storeys: [11 ft, 10 ft]}"
    after = writing.set_field(bare, ("house", "windows", 1, "height"), "6 ft")
    assert plain_scene(after)["house"]["windows"] == [{}, {"height": "6 ft"}]


def test_an_alternative_s_item_leaves_the_design_as_drawn() -> None:
    after = writing.set_field(TEXT, ("house", "windows", 1, "height"), "4 ft", "Pier")
    data = plain_scene(after)
    assert data["house"] == plain_scene(TEXT)["house"]
    assert data["alternatives"]["Pier"]["house"]["windows"] == [
        {"width": "3 ft", "height": "6 ft"},
        {"width": "3 ft", "height": "4 ft"},
    ]


def test_what_all_share_is_set_for_all() -> None:
    after = writing.set_field(TEXT, ("site", "latitude"), 40.5, "Doric")
    assert lines_gone_and_come(TEXT, after) == (["  latitude: 32.08"], ["  latitude: 40.5"])


def test_one_more_time() -> None:
    after = writing.add_item(TEXT, ("times",), "14 May 16:00")
    assert lines_gone_and_come(TEXT, after) == ([], ["  - 14 May 16:00"])
    assert plain_scene(after)["times"][-1] == "14 May 16:00"


def test_an_alternative_more_and_one_less() -> None:
    more = writing.add_alternative(TEXT, "Ionic: wide")
    assert list(plain_scene(more)["alternatives"]) == ["Tuscan", "Doric", "Pier", "Ionic: wide"]
    assert lines_gone_and_come(TEXT, more)[0] == []
    assert writing.delete_alternative(more, "Ionic: wide") == TEXT
    less = writing.delete_alternative(TEXT, "Pier")
    assert lines_gone_and_come(TEXT, less) == (["  Pier: {porch: {columns: 6}}"], [])


def test_the_first_and_the_last_alternative() -> None:
    bare = "title: A\nporch: {columns: 4}"
    first = writing.add_alternative(bare, "Deep")
    assert plain_scene(first)["alternatives"] == {"Deep": {"porch": {}}}
    assert plain_scene(writing.delete_alternative(first, "Deep")) == plain_scene(bare)


def test_a_copy_keeps_its_comments() -> None:
    plain = TEXT.replace("&wide ", "").replace("*wide", "{bays: 7}")
    copied = writing.add_alternative(plain, "Second", like="Tuscan")
    data = plain_scene(copied)["alternatives"]
    assert data["Second"] == data["Tuscan"]
    assert copied.count("order: tuscan   # plain") == 2
    shared = writing.add_alternative(TEXT, "Second", like="Tuscan")
    assert shared.count("&wide") == 1
    assert plain_scene(shared)["alternatives"]["Second"]["house"] == {"bays": 7}


def test_another_name_in_the_same_place() -> None:
    after = writing.rename_alternative(TEXT, "Doric", "Doric, fluted")
    assert list(plain_scene(after)["alternatives"]) == ["Tuscan", "Doric, fluted", "Pier"]
    assert lines_gone_and_come(TEXT, after) == (["  Doric:"], ["  'Doric, fluted':"])


def test_another_order_takes_comments_along() -> None:
    after = writing.order_alternatives(TEXT, ["Pier", "Tuscan", "Doric"])
    assert list(plain_scene(after)["alternatives"]) == ["Pier", "Tuscan", "Doric"]
    assert sorted(after.splitlines()) == sorted(TEXT.splitlines())
    assert "  # the first thought\n  Tuscan:" in after
    assert writing.order_alternatives(after, ["Tuscan", "Doric", "Pier"]) == TEXT
    flow = "alternatives: {A: {porch: {}}, B: {roof: {}}}"
    swapped = "alternatives: {B: {roof: {}}, A: {porch: {}}}"
    assert writing.order_alternatives(flow, ["B", "A"]) == swapped
    with pytest.raises(KeyError):
        writing.order_alternatives(TEXT, ["Tuscan", "Doric"])


def test_line_breaks_stay_as_they_are() -> None:
    text = TEXT.replace("\n", "\r\n")
    for after in (
        writing.unset_field(text, ("porch", "depth")),
        writing.add_alternative(text, "New"),
        writing.add_item(text, ("times",), "14 May 16:00"),
        writing.order_alternatives(text, ["Pier", "Tuscan", "Doric"]),
    ):
        assert after.count("\n") == after.count("\r\n")
        assert plain_scene(after)
