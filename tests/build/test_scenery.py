"""A model for a picture: the building untouched, its figures' setting replaced by planting."""

from pathlib import Path

import numpy as np
import pytest

from massing.build.scenery import BARE, OWN, REPLACED, pictured, shades
from massing.parts.part import Model
from massing.study.study import read_study

SAID = "setting: {kind: garden, path: gravel}"
ASKED = """setting:
  kind: village street
  trees:
    - {along: -18 m, before: 6 m, height: 11 m, spread: 9 m}
  hedges:
    - {along: 9.5 m, before: 0.8 m, length: 3 m, width: 0.8 m, height: 0.8 m}
  neighbours:
    - {along: 22 m, before: -4 m, width: 10 m, depth: 10 m, eaves: 6 m, ridge: 9.5 m}
"""
SCENES = Path(__file__).parents[2] / "scenes"


@pytest.fixture(scope="module")
def model() -> Model:
    path = SCENES / "vineyard_cottage.yaml"
    text = path.read_text(encoding="utf-8")
    assert SAID in text
    study = read_study(path, text.replace(SAID, ASKED))
    return study.models[study.designs[0].name]


def test_the_building_is_the_same_parts(model: Model) -> None:
    built = [p for p in model.parts if not p.within("setting")]
    shown = [p for p in pictured(model).parts if not p.within("setting")]
    assert [p.key for p in built] == [p.key for p in shown]
    assert all(a.mesh is b.mesh for a, b in zip(built, shown, strict=True))


def test_the_model_itself_has_no_planting(model: Model) -> None:
    """Shadow figures, exports and drawings are made of the model: they know of no garden."""
    assert not [p for p in model.parts if p.within(*OWN)]
    assert model.select(*REPLACED)


def test_masses_give_way_to_what_they_stand_for(model: Model) -> None:
    shown = pictured(model)
    names = {p.name for p in model.select("setting/trees", "setting/walk")}
    assert not names & {p.name for p in shown.parts}
    assert [p for p in shown.parts if p.within("setting", "trees", "1") and BARE in p.path]
    assert shown.select("setting/neighbours", "setting/hedge", "setting/people")
    tree = next(p for p in shown.parts if p.within("setting", "trees") and BARE in p.path)
    assert tree.world_mesh().bounds[1, 2] == pytest.approx(11.0)


def test_a_model_without_scenery_is_left_alone(model: Model) -> None:
    plain = Model(model.parts, model.name, {})
    assert pictured(plain) is plain


def test_trees_alike_are_copies_of_one_mesh(model: Model) -> None:
    shown = pictured(model)
    leaves = [p for p in shown.parts if p.within(*OWN) and p.role.startswith("foliage")]
    assert sum(p.count for p in leaves) > 4 * len({id(p.mesh) for p in leaves})
    faces = {id(p.mesh): len(p.mesh.faces) for p in shown.parts if p.within(*OWN)}
    assert sum(faces.values()) < 900_000


def test_a_crown_s_shadow_is_known_to_meet_the_building_as_by_rays() -> None:
    rng = np.random.default_rng(4)
    building = np.array([[-6.0, 0.0, 0.0], [6.0, 9.0, 7.0]])
    inside = rng.uniform(building[0], building[1], (4000, 3))
    agreed, both = 0, set()
    for _ in range(200):
        low = rng.uniform((-30, -30, 0), (30, 30, 4))
        high = low + rng.uniform(1.0, 9.0, 3)
        to_sun = rng.normal(size=3) * (1, 1, 0.5)
        to_sun[2] = abs(to_sun[2]) + 0.02
        to_sun /= np.linalg.norm(to_sun)
        # Towards the sun from points of the building: does one meet the box?
        with np.errstate(divide="ignore"):
            a, b = (low - inside) / to_sun, (high - inside) / to_sun
        enter, leave = np.minimum(a, b).max(axis=1), np.maximum(a, b).min(axis=1)
        met = bool((leave >= np.maximum(enter, 0.0)).any())
        said = shades(low, high, building, to_sun)
        both.add(met)
        assert said or not met  # never a shadow that was not foreseen
        agreed += said == met
    assert both == {True, False}
    assert agreed > 190
