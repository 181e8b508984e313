"""Scenes made to hang the reader or to trip it: one line each, and soon."""

from __future__ import annotations

import os
import time

import pytest

from massing import cli

SCENE = """\
title: x
site: {{place: A, latitude: 44, longitude: 11.5, front_faces: S{site}}}
times: [{time}]
house: {{width: {width}, depth: 30 ft, storeys: [11 ft, 10 ft]{house}}}
porch: {{order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}}
{more}
"""
DRAWING = (
    'drawing: {{image: "{}", height: {{foot: {}, top: [20, 20], length: 20 ft, along: 0 ft}}}}'
)


def scene(width="40 ft", time="summer solstice 10:00", site="", house="", more=""):
    return SCENE.format(width=width, time=time, site=site, house=house, more=more)


def unfolding():
    """Ten names that hold one another eight times each: 8 to the 9th fields."""
    lines = ["a: &a [x, x, x, x, x, x, x, x]"]
    for below, name in zip("abcdefgh", "bcdefghi", strict=True):
        lines.append(f"{name}: &{name} [{', '.join([f'*{below}'] * 8)}]")
    return "\n".join(lines)


FAULTY = {
    "a list for lights": scene(house=", windows: [{lights: [1, 2]}, {}]"),
    "lights of nothing": scene(house=", windows: [{lights: [[0, 0], [0, 0]]}, {}]"),
    "lights that are null": scene(house=", windows: [{lights: [null, null]}, {}]"),
    "a list for a dormer's lights": scene(more="roof: {dormers: {lights: [1, 2]}}"),
    "lights of many digits": scene(house=f", windows: [{{lights: {'9' * 5000} over 1}}, {{}}]"),
    "a length of 400 digits": scene(width="9" * 400 + " ft"),
    "a number of 400 digits": scene(width="9" * 400),
    "a number of 5,000 digits": scene(width="9" * 5000),
    "a number of 5,000 digits by sixteens": scene(width="0x" + "f" * 5000),
    "a length without end": scene(width="1e999 ft"),
    "a fraction of nothing": scene(width="40 1/0 ft"),
    "no number": scene(width=".nan"),
    "without end": scene(width=".inf"),
    "the year 9999": scene(time="9999-12-31 10:00"),
    "the year 1": scene(time="0001-01-01 10:00"),
    "the year 0": scene(time="0000-01-01 10:00"),
    "a leap year that is none": scene(time="2026-02-30 10:00"),
    "a year of 9999 for all": scene(site=", year: 9999"),
    "an image with a NUL": scene(more=DRAWING.format("a\\0b.png", "[20, 180]")),
    "a device as an image": scene(more=DRAWING.format("/dev/zero", "[20, 180]")),
    "a pipe as an image": scene(more=DRAWING.format("pipe", "[20, 180]")),
    "an image with a long name": scene(more=DRAWING.format("x" * 5000, "[20, 180]")),
    "a pixel without end": scene(more=DRAWING.format("front.png", "[1e308, .nan]")),
    "too many bays": scene(house=", bays: 99999999999999999999"),
    "a program": "title: !!python/object/apply:os.system ['touch sprung']\n",
    "names that unfold": unfolding(),
    "a name in itself": "a: &x {<<: *x}\n",
    "brackets in brackets": "[" * 20_000 + "]" * 20_000,
    "braces in braces": "{a: " * 5_000 + "}" * 5_000,
    "groups in groups": "".join(" " * i + f"a{i}:\n" for i in range(400)),
    "many commas": "a: [" + "x," * 49_000 + "]",
    "a long word": "a: " + "x" * 99_000,
    "a long key": "? " + "x" * 90_000 + "\n: 1",
    "3,000 alternatives": scene(
        more="alternatives:\n" + "".join(f"  a{i}: {{porch: {{}}}}\n" for i in range(3000))
    ),
    "two documents": scene() + "---\n" + scene(),
    "escape": 'title: "\\e[31m"\n',
    "nothing": "",
}


@pytest.fixture
def check(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    os.mkfifo("pipe")

    def check(name):
        began = time.process_time()
        code = cli.main(["check", name])
        out, err = capsys.readouterr()
        assert time.process_time() - began < 10.0  # no hang; benchmarks/faults.py has the times
        return code, out, err

    return check


@pytest.mark.parametrize("what", FAULTY)
def test_a_scene_made_to_trip_the_reader_is_refused(check, tmp_path, what):
    (tmp_path / "scene.yaml").write_text(FAULTY[what])
    code, out, err = check("scene.yaml")
    assert (code, out) == (2, "")
    assert all(line.startswith("scene.yaml") for line in err.splitlines())
    assert err.count("\n") >= 1
    assert "Error" not in err
    assert "object" not in err
    assert not (tmp_path / "sprung").exists()


@pytest.mark.parametrize(
    "name",
    ["pipe", "/dev/zero", "/dev/urandom", "/dev/null", ".", "loop", "x" * 5000, "a\0b", "no"],
)
def test_what_is_no_scene_file_is_refused_at_once(check, tmp_path, name):
    (tmp_path / "loop").symlink_to("loop")
    code, out, err = check(name)
    assert (code, out, err.count("\n")) == (2, "", 1)


def test_a_dormer_s_rows_follow_from_its_height_where_only_its_width_is_given(check, tmp_path):
    (tmp_path / "scene.yaml").write_text(scene(more="roof: {dormers: {lights: three lights wide}}"))
    assert check("scene.yaml")[0] == 0
