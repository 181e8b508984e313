"""What gives way, how far, and what is said, of resolvers so small that the answer is known.

A toy resolver has a rule's value for a few fields and refuses what one inequality forbids; the
nearest value that stands is then read off it. Lengths come back in the trade's fractions: 5 mm
where that stands, else 1 mm; 1/4 in, else 1/16 in.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from massing.design.design import Design
from massing.resolve.giving_way import changed, value_at, with_defaults_giving_way
from massing.resolve.ways import begins, ways, ways_to_clear
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Scene
from massing.units import format_length
from tests.resolve.test_design import SITE, design

INCH = 0.0254
Path = tuple[str | int, ...]
Toy = Callable[[Mapping[Path, Any]], DesignError | None]
REVEAL, WALL = ("house", "reveal"), ("house", "wall_thickness")
FLOOR, DEPTH = ("house", "floor"), ("porch", "depth")


@cache
def plain() -> Design:
    return design()


def scene(house: dict[str, Any] | None = None, units: str = "metric", **groups: Any) -> Scene:
    body = {"width": "16 m", "depth": "10 m", "storeys": ["3.6 m", "3.6 m"], **(house or {})}
    return Scene.model_validate(
        {"title": "T", "site": SITE, "times": ["equinox 12:00"], "units": units, "house": body}
        | groups
    )


def given_way(
    asked: Scene,
    rules: Mapping[Path, float],
    refuse: Toy,
    lines: Mapping[Path, int] | None = None,
    counted: list[int] | None = None,
) -> Design:
    """The design that a toy makes of a scene, its rules giving way."""

    def resolver(tried: Scene, origins: Origins) -> Design:
        if counted is not None:
            counted.append(1)
        values: dict[Path, Any] = {
            path: origins.choose(path, value_at(tried, path), rule, "a rule")
            for path, rule in rules.items()
        }
        values["scene",] = tried
        refusal = refuse(values)
        if refusal is not None:
            raise refusal
        return replace(plain(), origins=dict(origins.notes))

    return with_defaults_giving_way(asked, lines or {}, resolver)


def too_much(path: Path, most: float, field: str | None = None) -> Toy:
    """Refuses more than so much."""
    name = field or ".".join(map(str, path))

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        value = values[path]
        return DesignError(name, value, f"at most {most}") if value > most + 1e-9 else None

    return refuse


def too_little(path: Path, least: float) -> Toy:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        value, name = values[path], ".".join(map(str, path))
        return DesignError(name, value, f"at least {least}") if value < least - 1e-9 else None

    return refuse


# --- how far -------------------------------------------------------------------------------------


def test_what_stands_by_rule_is_left_alone() -> None:
    tried: list[int] = []
    made = given_way(scene(), {REVEAL: 0.1}, lambda _: None, counted=tried)
    assert len(tried) == 1
    assert made.origins["house.reveal"].value == 0.1
    assert not made.origins["house.reveal"].instead_of


@pytest.mark.parametrize(
    ("units", "rule", "most", "became"),
    [
        ("metric", 0.100, 0.0631, 0.060),
        ("metric", 0.100, 0.0999, 0.095),
        ("metric", 0.100, 0.0812, 0.080),
        ("metric", 0.100, 0.0263, 0.025),
        ("metric", 0.013, 0.0038, 0.003),  # 5 mm does not stand
        ("feet", 4 * INCH, 2.30 * INCH, 2.25 * INCH),
        ("feet", 4 * INCH, 3.99 * INCH, 3.75 * INCH),
        ("feet", 0.8 * INCH, 0.23 * INCH, 0.1875 * INCH),
    ],
)
def test_down_to_the_nearest_even_fraction_that_stands(
    units: str, rule: float, most: float, became: float
) -> None:
    made = given_way(scene(units=units), {REVEAL: rule}, too_much(REVEAL, most))
    origin = made.origins["house.reveal"]
    assert origin.value == pytest.approx(became)
    assert origin.written == format_length(became, units)
    assert origin.instead_of == format_length(rule, units)
    assert origin.source.startswith(f"gives way from {origin.instead_of} by rule: house.reveal, ")
    assert origin.source.endswith(f"allowed: at most {most}")


@pytest.mark.parametrize(
    ("rule", "least", "became"),
    [(0.3, 0.301, 0.305), (0.3, 0.33, 0.33), (0.3, 0.411, 0.415), (0.3, 0.599, 0.6)],
)
def test_up_to_the_nearest_even_fraction_that_stands(
    rule: float, least: float, became: float
) -> None:
    made = given_way(scene(), {WALL: rule}, lambda v: _wall_for_reveal(v, least))
    assert made.origins["house.wall_thickness"].value == pytest.approx(became)


def _wall_for_reveal(values: Mapping[Path, Any], least: float) -> DesignError | None:
    thick = values[WALL] >= least - 1e-9
    return None if thick else DesignError("house.reveal", "so much", "less in such a wall")


@pytest.mark.parametrize(
    ("path", "rule", "bound", "field"),
    [
        (REVEAL, 0.1, 0.0199, "house.reveal"),  # a fifth at least
        (WALL, 0.3, -0.149, "house.reveal"),  # a half at least
        (FLOOR, 0.6, 2.2, "porch.floor"),  # three and a half at most
    ],
)
def test_no_further_than_a_builder_would_go(
    path: Path, rule: float, bound: float, field: str
) -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        value = values[path]
        good = value >= bound if bound > rule else value <= abs(bound)
        return None if good else DesignError(field, "so much", "something else")

    with pytest.raises(DesignError) as refused:
        given_way(scene(), {path: rule}, refuse)
    # nothing typed was tried that would fit, so the house's width is blamed
    assert refused.value.field == "house.width"
    assert refused.value.given == f"16.000 m, with which {field} is so much"
    assert refused.value.allowed == f"what leaves {field} something else"


def test_what_is_typed_does_not_give_way() -> None:
    with pytest.raises(DesignError) as refused:
        given_way(
            scene({"reveal": "100 mm"}),
            {REVEAL: 0.05},
            too_much(REVEAL, 0.0631),
            {("house", "reveal"): 12},
        )
    assert refused.value.field == "house.reveal"
    assert refused.value.given == "0.1"
    # of what is typed, to the millimetre
    assert refused.value.allowed == "at most 0.0631; fits with house.reveal 63 mm (line 12)"


def test_the_least_departure_in_all_gives_way() -> None:
    """A reveal over half its wall: the reveal to 0.9 of its rule, or the wall by a ninth more."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] <= 0.5 * values[WALL] + 1e-9:
            return None
        return DesignError("house.reveal", "so much", "less in such a wall")

    made = given_way(scene(), {REVEAL: 0.2, WALL: 0.36}, refuse)
    assert made.origins["house.reveal"].value == pytest.approx(0.18)
    assert not made.origins["house.wall_thickness"].instead_of

    # where the reveal would have to go to half its rule, and the wall to one and a fifth
    def wide(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] <= 0.1 or values[WALL] >= 0.4287:
            return None
        return DesignError("house.reveal", "so much", "less in such a wall")

    made = given_way(scene(), {REVEAL: 0.2, WALL: 0.36}, wide)
    assert made.origins["house.wall_thickness"].value == pytest.approx(0.43)
    assert not made.origins["house.reveal"].instead_of


def test_two_fields_give_way_to_two_refusals() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        return too_much(REVEAL, 0.0631)(values) or too_much(FLOOR, 0.5012, "porch.floor")(values)

    made = given_way(scene(), {REVEAL: 0.1, FLOOR: 0.6}, refuse)
    assert made.origins["house.reveal"].value == pytest.approx(0.06)
    assert made.origins["house.floor"].value == pytest.approx(0.5)
    # each says what it gave way to
    assert "at most 0.0631" in made.origins["house.reveal"].source
    assert "porch.floor, 0.6; allowed: at most 0.5012" in made.origins["house.floor"].source


def test_what_need_not_have_given_way_is_put_back() -> None:
    """The first refusal goes with the second: nothing is left of the change that hid it."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[FLOOR] <= 0.5012:
            return None
        if values[REVEAL] > 0.09:
            return DesignError("house.reveal", "so much", "less of it")
        return DesignError("porch.floor", "so high", "a lower one")

    made = given_way(scene(), {REVEAL: 0.1, FLOOR: 0.6}, refuse)
    assert not made.origins["house.reveal"].instead_of
    assert made.origins["house.floor"].value == pytest.approx(0.5)


def test_a_pitch_is_not_rounded() -> None:
    pitch = ("roof", "pitch")
    made = given_way(scene(roof={}), {pitch: 0.5}, too_much(pitch, 0.4301))
    value = made.origins["roof.pitch"].value
    assert value is not None
    assert 0.425 < value <= 0.4301
    assert made.origins["roof.pitch"].instead_of == "6:12"


def test_the_pitch_of_a_wing_is_the_main_one_s_by_rule() -> None:
    own = ("house", "wings", 0, "roof", "pitch")

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        slope = value_at(values["scene",], own)
        if slope is not None and slope <= 0.41:
            return None
        return DesignError("house.wings.0.storeys", "so high", "lower ones")

    made = given_way(scene({"wings": [{"side": "right"}]}), {("roof", "pitch"): 0.5}, refuse)
    origin = made.origins["house.wings.0.roof.pitch"]
    assert origin.instead_of == "6:12"
    assert float(origin.written.removesuffix(":12")) == pytest.approx(12 * 0.41, abs=0.06)


# --- whole numbers and words ---------------------------------------------------------------------


@pytest.mark.parametrize(("most", "became"), [(2, 2), (1, 1), (0, 0)])
def test_whole_numbers_go_step_by_step(most: int, became: int) -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        bays = values["scene",].house.side_bays
        return DesignError("house.side_bays", bays, "fewer") if bays > most else None

    asked = scene()
    assert asked.house.side_bays == 3
    made = given_way(asked, {}, refuse)
    origin = made.origins["house.side_bays"]
    assert (origin.written, origin.instead_of) == (str(became), "3")


def test_words_are_taken_in_their_order() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        panels = values["scene",].house.door.panels
        return (
            DesignError("house.door.panels", panels, "fewer") if panels in ("six", "four") else None
        )

    origin = given_way(scene(), {}, refuse).origins["house.door.panels"]
    assert (origin.written, origin.instead_of) == ("two", "six")


def test_a_switch_may_be_turned_off() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        over = values["scene",].house.door.transom
        return DesignError("house.door.height", "so high", "less") if over else None

    origin = given_way(scene(), {}, refuse).origins["house.door.transom"]
    assert (origin.written, origin.instead_of) == ("false", "true")


def test_a_storey_s_window_is_made_where_none_is_written() -> None:
    sill = ("house", "windows", 1, "sill")

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[sill] > 0.5025:
            return DesignError("house.windows.1.sill", values[sill], "less")
        return None

    made = given_way(scene(), {sill: 0.6096}, refuse)
    assert made.origins["house.windows.1.sill"].value == pytest.approx(0.5)
    grown = changed(scene({"windows": [{"width": "1 m"}]}), {sill: 0.4})
    assert [w.width for w in grown.house.windows] == [1.0, 1.0]
    assert [w.sill for w in grown.house.windows] == [None, 0.4]
    bare = changed(scene(), {sill: 0.4})
    assert [w.sill for w in bare.house.windows] == [None, 0.4]


def test_what_a_path_holds() -> None:
    asked = scene({"windows": [{"width": "1 m"}]})
    assert value_at(asked, ("house", "windows", 0, "width")) == 1.0
    assert value_at(asked, ("house", "windows", 1, "width")) is None
    assert value_at(asked, ("house", "side_door", "width")) is None
    assert value_at(asked, ("house", "nothing")) is None
    assert value_at(changed(asked, {FLOOR: 0.7, DEPTH: 2.0}), FLOOR) == 0.7


# --- what is refused -----------------------------------------------------------------------------


def test_typed_fields_are_told_with_the_least_change_of_each_that_fits() -> None:
    """The least change first; each by what it is called in the scene, and its line."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] <= values[WALL] - 0.0996:
            return None
        return DesignError("house.reveal", "so much", "less in such a wall")

    asked = scene({"reveal": "90 mm", "wall_thickness": "150 mm"})
    lines = {REVEAL: 8, WALL: 9}
    with pytest.raises(DesignError) as refused:
        given_way(asked, {REVEAL: 0.1, WALL: 0.3}, refuse, lines)
    assert refused.value.allowed == (
        "less in such a wall; fits with house.reveal 50 mm (line 8) or "
        "house.wall_thickness 190 mm (line 9)"
    )


def test_a_refusal_at_a_default_blames_what_was_typed() -> None:
    """By the change that fits, the others after it."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[WALL] >= 0.1896:
            return None
        return DesignError("house.reveal", "so much", "less in such a wall")

    with pytest.raises(DesignError) as refused:
        given_way(scene({"wall_thickness": "150 mm"}), {WALL: 0.3}, refuse)
    assert refused.value.field == "house.wall_thickness"
    assert refused.value.given == "150 mm, with which house.reveal is so much"
    assert refused.value.allowed == "190 mm"


def test_a_typed_change_may_want_defaults_to_give_way_too() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] > 0.0631:
            return DesignError("house.reveal", "so much", "less of it")
        return too_much(FLOOR, 0.5012, "porch.floor")(values)

    with pytest.raises(DesignError, match=r"fits with house\.reveal 63 mm"):
        given_way(scene({"reveal": "100 mm"}), {REVEAL: 0.1, FLOOR: 0.6}, refuse)


def test_a_count_is_told_as_one() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        bays = values["scene",].house.side_bays
        return DesignError("house.side_bays", bays, "more") if bays < 3 else None

    with pytest.raises(DesignError, match=r"more; fits with house\.side_bays 3$"):
        given_way(scene({"side_bays": 1}), {}, refuse)


def test_what_a_scene_always_gives_is_told_after_less() -> None:
    """By the share of what is typed: a tenth of the reveal, a hair of width or depth."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        body = values["scene",].house
        if body.width > 17.5 or body.depth > 10.2:
            return None
        return too_much(REVEAL, 0.0902)(values)

    with pytest.raises(DesignError) as refused:
        given_way(scene({"reveal": "100 mm"}), {REVEAL: 0.1}, refuse)
    told = refused.value.allowed.split("; fits with ")[1].split(" or ")
    assert told[0] == "house.reveal 90 mm"
    assert [text.split()[0] for text in told[1:]] == ["house.depth", "house.width"]
    for text, least in zip(told[1:], (10.2, 17.5), strict=True):
        assert least < float(text.split()[1]) <= least + 0.004


def test_lengths_in_a_refusal_are_in_the_scene_s_units() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError:
        return DesignError("house.reveal", "0.3048 m of it", "at most 0.1524 m")

    with pytest.raises(DesignError) as refused:
        given_way(scene({"reveal": "1 ft"}, "feet"), {REVEAL: 0.1}, refuse)
    assert refused.value.given == "1'-0\" of it"
    assert refused.value.allowed == 'at most 6"'


def test_a_value_of_ours_that_a_resolver_has_no_words_for_is_passed_over() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] < 0.09:
            raise ValueError("no root")
        return too_much(REVEAL, 0.0999)(values)

    made = given_way(scene(), {REVEAL: 0.1}, refuse)
    assert made.origins["house.reveal"].value == pytest.approx(0.095)

    def broken(_: Mapping[Path, Any]) -> DesignError | None:
        raise ValueError("no root")

    with pytest.raises(ValueError, match="no root") as raised:
        given_way(scene(), {REVEAL: 0.1}, broken)
    assert not isinstance(raised.value, DesignError)


def test_the_search_is_bounded() -> None:
    """130 trials of defaults, 110 more of what is typed."""

    def refuse(values: Mapping[Path, Any]) -> DesignError:
        letters = "".join(chr(97 + int(d)) for d in f"{sum(values[p] for p in rules) * 1e6:.0f}")
        return DesignError("porch.spacing", "so much", f"never {letters}")  # always another one

    rules: dict[Path, float] = {DEPTH: 2.0, ("porch", "spacing"): 2.4, ("porch", "height"): 3.0}
    tried: list[int] = []
    with pytest.raises(DesignError):
        given_way(scene(porch={"diameter": "40 cm"}), rules, refuse, counted=tried)
    assert 130 < len(tried) <= 240


# --- which fields --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("start", "name", "whether"),
    [
        ("house.bay", "house.bay_spacing", True),
        ("house.bay", "house.bays", True),
        ("house.bay", "house", False),
        ("house.bay_spacing", "house.bay", False),
        ("house.windows.", "house.windows.0.height", True),
        ("house.wings.*.windows.", "house.wings.1.windows.0.sill", True),
        ("house.wings.*.windows.", "house.wings.right.windows.0", False),
        ("house.chimneys.*", "house.chimneys.0", True),
        ("porch", "porch.upper.height", True),
        ("porch.upper", "porch.guard", False),
        ("", "anything.at.all", True),
        ("roof.dormers", "house.dormers", False),
    ],
)
def test_how_a_refused_field_s_name_begins(start: str, name: str, whether: bool) -> None:
    assert begins(start, name.split(".")) is whether


def paths(asked: Scene, refused: str, typed: bool = False) -> list[str]:
    found = ways_to_clear(asked, refused, {}, typed)
    return [".".join(map(str, path)) for path, _ in found]


def test_the_refused_field_is_tried_first() -> None:
    for refused in ("house.reveal", "porch.depth", "roof.pitch", "porch.guard.baluster_spacing"):
        first = paths(scene(porch={"guard": {}}), refused)[0]
        assert first == refused
    assert paths(scene(), "house.windows.1.sill")[:2] == [
        "house.windows.0.sill",
        "house.windows.1.sill",
    ]


def test_fields_of_groups_that_the_scene_has_not_are_left_out() -> None:
    without = paths(scene(), "roof.dormers.sill")
    assert not [name for name in without if name.startswith("roof.dormers")]
    assert "roof.dormers.sill" in paths(scene(roof={"dormers": {}}), "roof.dormers.sill")
    assert paths(scene(), "house.chimneys.0.along") == ["roof.pitch", "roof.deck_width"]
    two = scene({"chimneys": [{"along": "1 m", "back": "5 m"}, {"along": "4 m", "back": "5 m"}]})
    named = paths(two, "house.chimneys.0.along")
    assert {f"house.chimneys.{k}.{size}" for k in (0, 1) for size in ("width", "depth")} < {*named}
    storeys = scene({"storeys": ["3 m", "3 m", "3 m"], "windows": [{}]})
    assert [n for n in paths(storeys, "house.windows.0.rise") if n.endswith("rise")] == [
        f"house.windows.{k}.rise" for k in range(3)
    ]


def test_what_a_scene_always_gives_is_only_told() -> None:
    untyped = paths(scene(), "house.reveal")
    assert not {"house.width", "house.depth", "house.storeys.0"} & {*untyped}
    told = paths(scene(), "house.reveal", typed=True)
    assert {"house.width", "house.depth", "house.storeys.0", "house.storeys.1"} <= {*told}
    # and all of the refused field's group
    assert "house.cornice" in told
    assert "house.cornice" not in untyped
    assert "roof.pitch" not in told


def test_rows_as_they_are_written() -> None:
    rows = {way.field: way for way in ways()}
    reveal, bays, panels = rows["house.reveal"], rows["house.bays"], rows["house.door.panels"]
    assert (reveal.least, reveal.most, reveal.whole, reveal.typed) == (0.2, 1, False, False)
    assert (bays.least, bays.most, bays.whole) == (1, 9, True)
    assert panels.words == ("four", "two", "one")
    assert rows["house.width"].typed
    assert rows["house.windows.*.lights"].words[0] == ((2, 2), (2, 2))
    # a group's name stands for its names
    assert "porch.upper.height" in rows["house.cornice"].clears
    assert "under_porch" not in rows["house.cornice"].clears


# --- the same field again, and others ------------------------------------------------------------


def test_a_field_gives_way_further_where_that_is_not_enough() -> None:
    """Each refusal of another kind: first for the sash, then for the frame."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] > 0.081:
            return DesignError("house.reveal", "so much", "less for the sash")
        if values[REVEAL] > 0.0512:
            return DesignError("house.reveal", "so much", "less for the frame")
        return None

    made = given_way(scene(), {REVEAL: 0.1}, refuse)
    assert made.origins["house.reveal"].value == pytest.approx(0.05)

    def thicker(values: Mapping[Path, Any]) -> DesignError | None:
        if values[WALL] < 0.33:
            return DesignError("house.reveal", "so much", "less for the sash")
        if values[WALL] < 0.4951:
            return DesignError("house.reveal", "so much", "less for the frame")
        return None

    made = given_way(scene(), {WALL: 0.3}, thicker)
    assert made.origins["house.wall_thickness"].value == pytest.approx(0.5)


def test_a_typed_field_leaves_it_to_the_next() -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] <= values[WALL] - 0.0985:
            return None
        return DesignError("house.reveal", "so much", "less in such a wall")

    made = given_way(scene({"reveal": "100 mm"}), {REVEAL: 0.05, WALL: 0.15}, refuse)
    assert made.origins["house.reveal"].source == "given"
    assert made.origins["house.wall_thickness"].value == pytest.approx(0.2)


def test_two_changes_weigh_as_both_together() -> None:
    """The reveal to 0.48 of its rule; or the wall to 1.35 and then the floor to 0.6 of theirs."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[REVEAL] <= 0.0512:
            return None
        if values[WALL] < 0.4:
            return DesignError("house.reveal", "so much", "less in such a wall")
        if values[FLOOR] > 0.37:
            return DesignError("porch.floor", "so high", "a lower one")
        return None

    made = given_way(scene(), {REVEAL: 0.1, WALL: 0.3, FLOOR: 0.6}, refuse)
    assert made.origins["house.reveal"].value == pytest.approx(0.05)
    assert not made.origins["house.wall_thickness"].instead_of
    assert not made.origins["house.floor"].instead_of


def test_a_length_near_its_rule_goes_before_another_word() -> None:
    """A word weighs 0.7; a door's height at three quarters of its rule 0.1 and ln 4/3."""
    height = ("house", "door", "height")

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        over = values["scene",].house.door.transom
        if not over or values[height] <= 1.73:
            return None
        return DesignError("house.door.height", "so high", "less")

    made = given_way(scene(), {height: 2.1}, refuse)
    assert made.origins["house.door.height"].value == pytest.approx(1.73, abs=0.006)
    assert "house.door.transom" not in made.origins
    # where three quarters are not enough, the word
    made = given_way(
        scene(),
        {height: 2.1},
        lambda v: (
            None
            if not v["scene",].house.door.transom or v[height] <= 1.5
            else DesignError("house.door.height", "so high", "less")
        ),
    )
    assert made.origins["house.door.transom"].instead_of == "true"
    assert not made.origins["house.door.height"].instead_of


@pytest.mark.parametrize(("least", "became"), [(5, "5"), (6, "6"), (7, None)])
def test_a_count_goes_no_further_than_its_most(least: int, became: str | None) -> None:
    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        bays = values["scene",].house.side_bays
        return DesignError("house.side_bays", bays, "more") if bays < least else None

    if became is None:
        with pytest.raises(DesignError):
            given_way(scene(), {}, refuse)
        return
    assert given_way(scene(), {}, refuse).origins["house.side_bays"].written == became


def test_a_value_that_a_resolver_cannot_take_is_stepped_over() -> None:
    """Between 94 and 99 mm there is no root; 90 mm stand."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if 0.094 < values[REVEAL] < 0.099:
            raise ValueError("no root")
        return too_much(REVEAL, 0.0939)(values)

    made = given_way(scene(), {REVEAL: 0.1}, refuse)
    assert made.origins["house.reveal"].value == pytest.approx(0.09)


def test_a_change_that_the_next_makes_needless_is_put_back() -> None:
    """The reveal gives way first, then the wall, which alone would have been enough."""

    def refuse(values: Mapping[Path, Any]) -> DesignError | None:
        if values[WALL] >= 0.3287:
            return None
        if values[REVEAL] > 0.0951:
            return DesignError("house.reveal", "so much", "less of it")
        return DesignError("house.width", "so wide", "thicker walls")

    made = given_way(scene(), {REVEAL: 0.1, WALL: 0.3}, refuse)
    assert not made.origins["house.reveal"].instead_of
    assert made.origins["house.wall_thickness"].value == pytest.approx(0.33)
