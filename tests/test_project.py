"""What the README promises and the set-up does are the same."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from massing import cli
from massing.render.driver.requirements import DEBIAN_PACKAGES, SUPPORTED_PYTHONS
from massing.scene.load import load_scene

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
README = (ROOT / "README.md").read_text()
MAKEFILE = (ROOT / "Makefile").read_text()


def name_of(requirement):
    return re.sub(r"[-_.]+", "-", re.match(r"[\w.-]+", requirement)[0]).lower()


def test_every_dependency_is_held_at_one_version_on_each_python():
    lines = (ROOT / "constraints.txt").read_text().splitlines()
    pins = [line for line in lines if not line.startswith("#")]
    assert all(re.match(r"[\w.-]+==[\w.]+( ;|$)", line) for line in pins)
    held = {name_of(line) for line in pins}
    groups = [PROJECT["dependencies"], *PROJECT["optional-dependencies"].values()]
    asked = {name_of(r) for group in groups for r in group}
    assert asked <= held


def test_the_readme_s_make_commands_exist():
    targets = set(re.findall(r"^([a-z-]+):", MAKEFILE, re.MULTILINE))
    named = set(re.findall(r"(?:`|^    )make ([a-z]+)", README, re.MULTILINE))
    assert {"study", "test"} <= named
    assert named <= targets


def test_the_system_libraries_are_the_same_everywhere():
    listed = re.search(r"^LIBRARIES = (.*)$", MAKEFILE, re.MULTILINE)[1].split()
    assert set(listed) <= set(DEBIAN_PACKAGES.values())
    block = re.search(r"apt-get install (git make.*?)\n\n", README, re.DOTALL)[1]
    in_readme = {w for w in block.replace("\\", " ").split() if w.startswith("lib")}
    assert in_readme == set(listed)


def test_the_pythons_are_the_same_everywhere():
    for major, minor in SUPPORTED_PYTHONS:
        assert f"{major}.{minor}" in README
        assert f"({major}, {minor})" in MAKEFILE
    named = {
        r.split("==")[1].split(";")[0].strip() for r in PROJECT["optional-dependencies"]["render"]
    }
    assert named == set(SUPPORTED_PYTHONS.values())


def test_the_readme_s_scene_is_valid(tmp_path):
    text = re.search(r"```yaml\n(.*?)```", README, re.DOTALL)[1]
    path = tmp_path / "scene.yaml"
    path.write_text(text)
    assert list(load_scene(path).designs) == ["as drawn", "Tuscan"]
    assert len(text.splitlines()) <= 40  # it fits on one screen


def test_the_readme_names_every_command_and_every_file_that_it_shows(capsys):
    with pytest.raises(SystemExit):
        cli.main(["--help"])
    shown = capsys.readouterr().out
    commands = re.findall(r"^    ([a-z]+) ", shown, re.MULTILINE)
    assert {"study", "check", "schema"} <= set(commands)
    for command in commands:
        assert f"`massing {command}" in README
    for name in re.findall(r"`(scenes/[\w/]+\.yaml)`", README):
        assert (ROOT / name).is_file()


def test_the_licence_is_the_one_declared():
    assert PROJECT["license"] == "GPL-3.0-or-later"
    assert "GNU GENERAL PUBLIC LICENSE" in (ROOT / "LICENSE").read_text()[:200]
