"""The search: the space set out is the one resolved, limits hold, the answer is the same twice."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from pydantic import ValidationError

from massing.edit.proposals import search as searching
from massing.edit.proposals.front import front
from massing.edit.proposals.sayings import proposals
from massing.edit.proposals.search import begin, front_of, search
from massing.edit.proposals.space import CORE
from massing.edit.proposals.writing import with_proposal
from massing.findings.measures import clear_intercolumniations
from massing.resolve.design import resolve
from massing.scene.errors import DesignError, SceneError
from massing.scene.load import load_scene

SCENES = Path(__file__).parents[3] / "scenes"
SMALL = {
    "orders": ["tuscan", "doric"],
    "columns": [4],
    "bays": [5],
    "roofs": ["flat"],
    "keep": ["windows", "height"],
    "without": ["side columns", "pedestals"],
}


def begun(name="marsh_road", more=None, design=None, text=None):
    path = SCENES / f"{name}.yaml"
    return begin(path, text or path.read_text(encoding="utf-8"), design, more)


@pytest.fixture(scope="module")
def small():
    return search(begun(more=SMALL), workers=1)


@pytest.mark.parametrize("name", ["marsh_road", "vineyard_cottage"])
def test_the_space_is_set_out_as_the_resolver_does(name):
    own, checked = begun(name), 0
    for place in own.space.spread(60):
        try:
            design = own.design(place)
        except DesignError:
            continue
        order = design.porch.order
        set_out = {k: float(v[place[:CORE]]) for k, v in own.space.proportions.items()}
        assert order.diameter_m == pytest.approx(set_out["diameter"], abs=1e-4)
        assert order.column_height_m == pytest.approx(set_out["column"], abs=1e-4)
        assert order.entablature_height_m == pytest.approx(set_out["entablature"], abs=1e-4)
        assert design.porch.half_width_m == pytest.approx(set_out["half"], abs=0.05)
        gaps = clear_intercolumniations(design)
        assert min(gaps) == pytest.approx(set_out["least"], abs=0.06)
        assert max(gaps) == pytest.approx(set_out["most"], abs=0.06)
        checked += 1
    assert checked > 15


def test_at_least_five_thousand_porches_are_in_the_space_of_a_bundled_scene():
    assert len(begun().space.places) > 5000
    spread = begun().space.spread(5000)
    assert len(set(spread)) == 5000


def test_the_front_is_that_of_every_pair_of_a_whole_small_space(small):
    """Nothing is sampled in it: every porch is resolved, and each is held against each by hand."""
    assert small.tried == len(small.begun.space.places)
    fewest = min(len(f.checks) for f in small.built)
    sound = [f for f in small.built if len(f.checks) == fewest]
    kept = []
    for own in sound:
        others = [f for f in sound if f.kind.character == own.kind.character and f is not own]
        mine = np.round(own.values, 9)
        better = any(
            (np.round(f.values, 9) <= mine).all() and (np.round(f.values, 9) < mine).any()
            for f in others
        )
        twin = any((np.round(f.values, 9) == mine).all() and f.place < own.place for f in others)
        if not better and not twin:
            kept.append(own.place)
    assert sorted(kept) == sorted(f.place for f in small.front)
    assert len(kept) > 3


def test_an_order_is_held_against_its_own_alone(small):
    orders = {f.kind.order for f in small.front}
    assert orders == {"tuscan", "doric"}
    values = np.array([f.values for f in small.front])
    assert len(front(values)) < len(small.front) == len(front_of(small.front))


def test_the_answer_is_the_same_twice_and_with_more_hands(small, monkeypatch):
    monkeypatch.setattr(searching, "_ALONE", 1)
    again = search(begun(more=SMALL), workers=2)
    assert [f.place for f in again.front] == [f.place for f in small.front]
    assert [f.values for f in again.front] == [f.values for f in small.front]
    assert again.clusters == small.clusters


def test_limits_hold_in_every_porch_that_is_built():
    more = {
        "orders": ["tuscan", "ionic"],
        "columns": [2, 4],
        "roofs": ["flat"],
        "largest_diameter": "16 in",
        "width": "16 ft",
        "keep": ["windows", "bays"],
        "without": ["pedestals", "balustrade", "side columns"],
    }
    own = begun(more=more)
    found = search(own, designs=120, workers=1)
    assert len(found.built) > 30
    inch, foot = 0.0254, 0.3048
    for each in found.built:
        design = own.design(each.place)
        assert each.kind.order in ("tuscan", "ionic")
        assert each.kind.columns in (2, 4)
        assert design.porch.order.diameter_m <= 16 * inch + 1e-6
        assert 2.0 * design.porch.half_width_m <= 16 * foot + 0.5 * inch
        assert not any((each.kind.pedestals, each.kind.balustrade, each.kind.side_columns))
        assert not each.kind.windows_changed
        assert each.kind.bays == 5
    assert found.unavoidable == {"no graduation"}  # the windows are kept


def test_an_entablature_may_be_fixed_and_heights_kept():
    own = begun(more={"entablature": "20 in", "keep": ["height", "windows"], "columns": [4]})
    design = own.design(own.space.spread(5)[0])
    assert design.porch.order.entablature_height_m == pytest.approx(20 * 0.0254)
    assert design.porch.top_z_m == pytest.approx(own.drawn.porch.top_z_m)


def test_limits_of_the_scene_are_taken_and_those_of_the_moment_go_over_them():
    path = SCENES / "marsh_road.yaml"
    text = path.read_text(encoding="utf-8")
    text += "\npropose: {orders: [ionic], largest_diameter: 22 in, keep: [windows]}\n"
    own = begun(text=text)
    assert own.limits.orders == ("ionic",)
    assert own.limits.largest_diameter_m == pytest.approx(22 * 0.0254)
    assert own.limits.keep == {"windows"}
    assert begun(text=text, more={"orders": ["doric"]}).limits.orders == ("doric",)
    with pytest.raises(ValidationError):
        begun(more={"orders": ["gothic"]})
    with pytest.raises(SceneError, match=r"propose\.columns"):
        begun(text=text.replace("keep: [windows]", "columns: [99]"))


def test_proposals_may_begin_from_an_alternative():
    own = begun(design="Six Tuscan columns", more={"keep": ["windows"]})
    assert own.space.start.name == "Six Tuscan columns"
    assert own.limits.bays == (7,)
    assert own.drawn.name == "as drawn"


def test_a_proposal_in_words_and_in_the_scene_letter_for_letter(small):
    path = SCENES / "marsh_road.yaml"
    text = path.read_text(encoding="utf-8")
    few = proposals(small, taken={"four-tuscan-columns-to-the-eaves"})
    assert len({each.name for each in few}) == len(few)
    assert all(each.why.endswith(".") and each.why.count(". ") == 0 for each in few)
    assert "Four Tuscan columns to the eaves" not in {each.name for each in few}
    added = text
    for each in few:
        added = with_proposal(added, small.begun, each)
    lines = iter(added.splitlines())
    assert all(line in lines for line in text.splitlines())  # each line stands, in its order
    assert added.count("# Proposed: ") == len(few)
    loaded = load_scene(path, added)
    for each in few:
        again = resolve(loaded.designs[each.name], each.name)
        assert again == each.design


def test_a_scene_whose_alternatives_stand_on_one_line_takes_a_proposal_too(small):
    path = SCENES / "marsh_road.yaml"
    text = path.read_text(encoding="utf-8")
    start, end = text.index("alternatives:"), text.index("# The builder's elevation")
    one_line = f"{text[:start]}alternatives: {{Deep: {{porch: {{depth: 12 ft}}}}}}\n\n{text[end:]}"
    own = begun(more=SMALL, text=one_line)
    each = proposals(search(own, designs=40, workers=1))[0]
    loaded = load_scene(path, with_proposal(one_line, own, each))
    assert resolve(loaded.designs[each.name], each.name) == each.design


@pytest.mark.parametrize(
    "name", ["Limestone, a deck and a recessed porch", "Brick, round arches, semicircular porch"]
)
def test_from_a_porch_of_any_shape_straight_ones_are_proposed(name):
    path = SCENES / "osier_turn.yaml"
    text = path.read_text(encoding="utf-8")
    own = begin(path, text, name, {"orders": ["tuscan"], "columns": [4], "keep": ["windows"]})
    each = proposals(search(own, designs=20, workers=1))[0]
    assert each.design.porch.shape == "straight"
    loaded = load_scene(path, with_proposal(text, own, each))
    assert resolve(loaded.designs[each.name], each.name) == each.design


def test_from_an_arcade_columns_are_proposed():
    path = SCENES / "marsh_road.yaml"
    text = path.read_text(encoding="utf-8")
    pier = "  order: pier\n  columns: 4\n  diameter: 14 in\n  entablature: 15 in\n"
    assert pier in text
    arcaded = text.replace(pier, "  order: doric\n  columns: 4\n  arcade: true\n", 1)
    shorter = "{width: 4'-3\", height: 4 ft, sill: 2'-6\", lights: 1 over 1}"
    arcaded = arcaded.replace(shorter.replace("4 ft", "5 ft"), shorter)
    own = begun(text=arcaded, more=SMALL)
    assert own.drawn.porch.arcade is not None
    place = own.space.spread(1)[0]
    assert own.design(place).porch.arcade is None
