from dataclasses import replace

import pytest

from massing.build.house import build
from massing.geometry.solids import box_between, translations
from massing.parts.part import Model, Part, under
from massing.study.study import read_study

BLOCK = box_between((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))


def part(*words: str) -> Part:
    return Part(words, "trim", BLOCK)


def test_a_path_is_printed_with_slashes_and_found_by_its_first_words():
    cornice = part("porch", "entablature", "cornice")
    assert cornice.name == "porch/entablature/cornice"
    assert cornice.within("porch", "entablature")
    assert not cornice.within("porch", "entab")
    assert under("porch", [part("floor")])[0].path == ("porch", "floor")


def test_one_word_of_a_path_gives_way_to_others():
    respond = part("pilaster", "base")
    assert respond.renamed("pilaster", "anta", "left").path == ("anta", "left", "base")
    assert respond.renamed("pil", "anta") is respond


def test_a_name_in_one_piece_is_refused():
    with pytest.raises(TypeError, match="tuple of words"):
        Part("porch/floor", "stone", BLOCK)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="tuple of words"):
        Part(("porch", "floor/flags"), "stone", BLOCK)


def test_parts_of_one_path_are_numbered_anew_in_every_model():
    hedge = part("setting", "hedge")
    model = Model((hedge, part("setting", "walk"), hedge, hedge))
    keys = ["setting/hedge", "setting/walk", "setting/hedge #2", "setting/hedge #3"]
    assert [p.key for p in model.parts] == keys
    assert [p.key for p in replace(model, parts=model.parts[2:]).parts] == [keys[0], keys[2]]
    assert [p.name for p in model.parts].count("setting/hedge") == 3


def test_every_part_of_a_built_house_has_a_key_of_its_own():
    designs = read_study("scenes/vineyard_cottage.yaml").designs
    parts = build(next(d for d in designs if d.porch.roof == "pediment")).parts
    assert len({p.key for p in parts}) == len(parts)
    assert len({p.name for p in parts}) < len(parts)


def test_copies_of_a_part_lie_where_their_frames_put_them():
    posts = part("post").placed(translations([(0.0, 0.0, 0.0), (4.0, 0.0, 0.0)]))
    assert posts.count == 2
    assert posts.world_mesh().bounds.tolist() == [[0.0, 0.0, 0.0], [5.0, 1.0, 1.0]]
