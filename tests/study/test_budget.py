"""Before anything is built: what is too much is refused in one line."""

from __future__ import annotations

import pytest

from massing import cli
from massing.edit import budget
from massing.edit.budget import pieces
from massing.scene.errors import SceneError
from massing.study.budget import check_pictures, check_size
from massing.study.study import read_study

SCENE = """\
title: House by the ford
site: {{place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}}
times: [summer solstice 10:00]
house: {{width: {width}, depth: {depth}, storeys: [11 ft, 10 ft], {walls}}}
porch: {{order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}}
roof: {{covering: slate}}
setting:
  trees: [{trees}]
"""


LARGE = "{along: 0 m, before: 200 m, height: 200 m, spread: 200 m}"


@pytest.fixture
def read(tmp_path):
    def read(width="40 ft", depth="30 ft", walls="walls: stucco", trees=""):
        path = tmp_path / "scene.yaml"
        path.write_text(SCENE.format(width=width, depth=depth, walls=walls, trees=trees))
        return read_study(path)

    return read


@pytest.mark.parametrize(
    ("given", "field", "part"),
    [
        ({"walls": "walls: brick, relief: true"}, "house.relief", "house/bricks"),
        ({"width": "120 ft", "depth": "60 ft"}, "roof", "house/roof"),
        (
            {"trees": "{along: 30 m, before: 30 m, height: 15 m, spread: 12 m}"},
            "setting.trees",
            "setting/trees",
        ),
        (
            {"trees": "{along: 0 m, before: 60 m, height: 60 m, spread: 40 m}"},
            "setting.trees",
            "setting/trees",
        ),
    ],
)
def test_the_estimate_is_of_the_size_of_what_is_built(read, given, field, part):
    study = read(**given)
    (built,) = study.models.values()
    count = sum(p.count for p in built.select(part))
    assert count / 2.0 < pieces(study.designs[0])[field] < 2.0 * count


@pytest.mark.parametrize(
    ("given", "field", "most"),
    [
        ({"trees": ", ".join([LARGE] * 6)}, "setting.trees", budget.MOST_PIECES),
        ({"width": "200 m", "depth": "200 m"}, "roof", 500_000),
        ({"width": "200 m", "walls": "walls: brick, relief: true"}, "house.relief", 100_000),
    ],
)
def test_too_much_is_refused_before_it_is_built(read, given, field, most, monkeypatch):
    monkeypatch.setattr("massing.study.study.build", lambda _: pytest.fail("it was built"))
    monkeypatch.setattr(budget, "MOST_PIECES", most)
    with pytest.raises(SceneError, match=rf"\d+: {field}: given about [\d.]+ million pieces"):
        read(**given).build()


@pytest.mark.parametrize(
    "size", [(0, 0), (15, 100), (100, 15), (99999, 99999), (8001, 20), (7000, 7000)]
)
def test_sizes_of_no_picture_are_refused(size):
    with pytest.raises(ValueError, match="allowed: 16 to 8000 pixels each way, up to 34 million"):
        check_size(*size)


@pytest.mark.parametrize("size", [(16, 16), (800, 500), (7680, 4320), (8000, 4000)])
def test_sizes_of_pictures_are_fine(size):
    check_size(*size)


@pytest.mark.parametrize("size", ["99999x99999", "00x00", "1x1", "800", "8e2x500", "-5x5"])
def test_the_command_says_so(size, capsys):
    with pytest.raises(SystemExit) as left:
        cli.main(["study", "scene.yaml", f"--size={size}"])
    assert left.value.code == 2
    assert "allowed: " in capsys.readouterr().err


@pytest.mark.parametrize(
    ("count", "size", "words"),
    [
        (5001, (800, 500), "given 5001 pictures, allowed: up to 5000"),
        (1000, (8000, 4000), "given 32 thousand million pixels in 1000 pictures"),
        (1, (8000, 4000), "GB of memory"),
    ],
)
def test_more_than_a_run_can_have_is_refused(read, monkeypatch, count, size, words):
    monkeypatch.setattr("massing.study.budget.memory_bytes", lambda: 4 * 2**30)
    with pytest.raises(ValueError, match=words):
        check_pictures(count, size, read().designs)
    check_pictures(1, (1600, 1000), read().designs)
