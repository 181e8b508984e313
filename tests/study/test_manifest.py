"""What a folder's record keeps, and when a file counts as made."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace

import numpy as np
import pytest

from massing import __version__
from massing.geometry.mesh import Mesh
from massing.parts.part import Model, Part
from massing.study import manifest
from massing.study.manifest import MANIFEST, Manifest, hash_of, model_hash

WORDS = {"Title": "A house", "Description": "Front elevation"}


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "a.png").write_bytes(b"a picture")
    (tmp_path / "b.png").write_bytes(b"another")
    return tmp_path


def sha(data):
    return hashlib.sha256(data).hexdigest()


def test_a_file_stands_while_it_is_as_written_and_from_the_same_things(folder):
    kept = Manifest(folder)
    assert not kept.stands("a.png", "key")
    kept.record(["a.png"], "key", WORDS)
    assert kept.stands("a.png", "key")
    assert not kept.stands("a.png", "another key")
    assert not kept.stands("b.png", "key")
    (folder / "a.png").write_bytes(b"a pictur")
    assert not kept.stands("a.png", "key")
    (folder / "a.png").unlink()
    assert not kept.stands("a.png", "key")


def test_the_record_is_on_the_disk_after_each_file(folder):
    kept = Manifest(folder)
    assert kept.folder == folder
    kept.record(["b.png"], "second")
    kept.record(["a.png"], "first", WORDS)
    written = json.loads((folder / MANIFEST).read_text())
    assert MANIFEST == "study.json"
    assert written["version"] == __version__
    assert list(written["files"]) == ["a.png", "b.png"]
    assert written["files"]["a.png"] == {
        "key": "first",
        "sha256": sha(b"a picture"),
        "words": hash_of(WORDS),
    }
    assert written["files"]["b.png"]["sha256"] == sha(b"another")
    assert written["files"]["b.png"]["words"] == hash_of({})
    again = Manifest(folder)
    assert again.stands("a.png", "first")
    assert again.stands("b.png", "second")
    assert again.says("a.png", WORDS)
    assert not again.says("a.png", {**WORDS, "Title": "Another house"})
    assert not again.says("a.png", {})
    assert again.says("b.png", {})
    assert (folder / MANIFEST).read_text().endswith("}\n")


@pytest.mark.parametrize(
    "spoilt",
    [
        "",
        "{",
        "[]",
        '{"files": 1}',
        '{"files": {"a.png": {"key": "x"}}}',
        '{"other": {}}',
        "[" * 9999,
    ],
)
def test_a_spoilt_record_costs_only_time(folder, spoilt):
    (folder / MANIFEST).write_text(spoilt)
    kept = Manifest(folder)
    assert kept.entries == {}
    kept.record(["a.png"], "key")
    assert Manifest(folder).stands("a.png", "key")


def test_no_more_of_a_record_is_read_than_a_record_is(folder, monkeypatch):
    Manifest(folder).record(["a.png"], "key")
    assert manifest.MOST_BYTES == 50_000_000
    size = (folder / MANIFEST).stat().st_size
    monkeypatch.setattr(manifest, "MOST_BYTES", size)
    assert Manifest(folder).stands("a.png", "key")
    monkeypatch.setattr(manifest, "MOST_BYTES", size - 1)
    assert Manifest(folder).entries == {}


def test_a_hash_is_of_the_values_alone():
    assert hash_of({"a": 1, "b": [2, 3]}) == hash_of({"b": [2, 3], "a": 1})
    each = [hash_of(), hash_of(1), hash_of("1"), hash_of(1, 1), hash_of([1, 1]), hash_of(1.5)]
    assert len(set(each)) == 6
    assert hash_of("massing", 1.5) == sha(b'["massing", 1.5]')


def a_model():
    triangle = Mesh(np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0]]), np.array([[0, 1, 2]]))
    return Model(
        parts=(Part(("porch", "column"), "stone", triangle),), name="Tuscan", notes={"a": "b"}
    )


def test_a_model_s_hash_moves_with_its_name_its_parts_and_their_arrays():
    model = a_model()
    (part,) = model.parts
    assert model_hash(model) == model_hash(a_model())
    single = Mesh(part.mesh.vertices.astype(np.float32), part.mesh.faces)
    moves = [
        model,
        replace(model, name="Doric"),
        replace(model, notes={}),
        replace(model, parts=()),
        replace(model, parts=(replace(part, path=("porch", "pier")),)),
        replace(model, parts=(replace(part, placements=np.eye(4)[None]),)),
        replace(model, parts=(replace(part, placements=np.stack([np.eye(4)] * 2)),)),
        replace(model, parts=(replace(part, mesh=single),)),
        replace(model, parts=(replace(part, role="wood"),)),
        replace(model, parts=(replace(part, solid=not part.solid),)),
    ]
    assert len({model_hash(m) for m in moves}) == len(moves)
    # the same numbers laid otherwise in memory are the same model
    turned = Mesh(np.asfortranarray(part.mesh.vertices), part.mesh.faces)
    assert model_hash(replace(model, parts=(replace(part, mesh=turned),))) == model_hash(model)
