"""A line of the front follows the hand: its field set to the dragged size moves it as far."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.edit.handles import Handle, dragged, handles
from massing.edit.session import SceneInHand

ROOT = Path(__file__).parents[2]
STEP_M = 0.001
BY_M = 0.06

CASES = [
    (scene, name)
    for scene, names in {
        "marsh_road": ("as drawn", "Six Tuscan columns", "Six Doric columns"),
        "vineyard_cottage": ("as drawn", "Tuscan"),
    }.items()
    for name in names
]


def found(scene: SceneInHand, like: Handle) -> Handle:
    """The same line in the design as it is now."""
    same = [h for h in handles(scene.design()) if (h.field, h.words) == (like.field, like.words)]
    return min(same, key=lambda h: abs(h.at_m - like.at_m))


def gave_way(design):
    """Fields left to their rule that stand otherwise, so that what was typed can be built."""
    return {field for field, origin in design.origins.items() if origin.instead_of}


@pytest.mark.parametrize(("scene", "name"), CASES)
def test_every_line_follows_the_hand(scene, name):
    hand = SceneInHand.open(ROOT / "scenes" / f"{scene}.yaml")
    hand.show(name)
    followed = 0
    before = gave_way(hand.design())
    for line in handles(hand.design()):
        for by in (-BY_M, BY_M):
            size = dragged(line, by, STEP_M)
            assert size == pytest.approx(line.value_m + line.per_m * by, abs=0.51 * STEP_M)
            hand.set(line.field, f"{size:.4f} m")
            if hand.fault is None:
                now = found(hand, line)
                close = 0.51 * STEP_M / abs(line.per_m) + 1e-6
                if gave_way(hand.design()) <= before:
                    assert now.at_m - line.at_m == pytest.approx(by, abs=close), (line.words, by)
                assert now.value_m == pytest.approx(size, abs=1e-6), line.words
                followed += 1
            assert hand.undo()
    assert followed > len(handles(hand.design())), "most drags can be built"


def test_the_lines_of_a_porch_stand_where_its_mesh_does():
    """Against the built model, not the design: shaft, entablature, wall."""
    hand = SceneInHand.open(ROOT / "scenes" / "marsh_road.yaml")
    hand.show("Six Tuscan columns")
    lines = {(h.words, h.way): h for h in handles(hand.design())}
    model = hand.model()
    shafts = model.select("porch/column/shaft")[0].world_mesh().vertices
    edge = lines["shaft's edge", "x"]
    near = (abs(shafts[:, 0] - edge.at_m) < 0.3) & (shafts[:, 2] > edge.low_m)
    assert edge.at_m == pytest.approx(
        shafts[near & (shafts[:, 2] < edge.high_m)][:, 0].max(), abs=2e-3
    )
    architrave = model.select("porch/entablature/architrave")[0].world_mesh().bounds
    assert lines["entablature's foot", "z"].at_m == pytest.approx(architrave[0, 2], abs=1e-6)
    cornice = max(p.world_mesh().bounds[1, 2] for p in model.select("porch/entablature/cornice"))
    assert lines["entablature's top", "z"].at_m == pytest.approx(cornice, abs=1e-3)


def test_a_size_never_vanishes():
    foot = Handle(("porch", "entablature"), "entablature's foot", "z", 3.0, -4.0, 4.0, 0.4, -1.0)
    assert dragged(foot, 10.0, 0.01) == 0.01


@pytest.mark.parametrize(
    ("scene", "floors"),
    [("marsh_road", ["first floor", "second floor"]), ("vineyard_cottage", ["ground floor"])],
)
def test_floors_are_called_as_the_scenes_units_have_them(scene, floors):
    """Common practice, no source: in feet the lowest is the first floor, in metres the ground."""
    design = SceneInHand.open(ROOT / "scenes" / f"{scene}.yaml").design()
    assert [h.words for h in handles(design) if "floor" in h.words] == floors


def test_each_storey_of_the_front_has_its_windows_lines():
    design = SceneInHand.open(ROOT / "scenes" / "foundry_lane.yaml").design()
    heads = [h for h in handles(design) if h.words == "window's head"]
    storeys = range(len(design.house.storey_floors_z_m))
    assert sorted(h.field for h in heads) == [("house", "windows", n, "height") for n in storeys]
    assert all(abs(h.low_m) < design.house.width_m / 2.0 for h in heads), "not a wing's"
