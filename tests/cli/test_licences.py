"""The list of what others made names every library that the tool needs, each with a licence."""

from __future__ import annotations

import re

from addon.third_party import TABLE, libraries, licence, text
from massing.cli import main

LINE = re.compile(r"^(?:    )?(?P<name>\S[^:]*): (?P<licence>\S.*)$")


def listed() -> dict[str, str]:
    lines = (LINE.match(line) for line in TABLE.read_text(encoding="utf-8").splitlines())
    return {m["name"]: m["licence"] for m in lines if m}


def test_the_command_prints_the_list(capsys):
    assert main(["licences"]) == 0
    assert capsys.readouterr().out == TABLE.read_text(encoding="utf-8")


def test_the_list_names_every_library_that_is_needed():
    """When a dependency comes or goes: ``python -m addon.third_party``."""
    assert set(libraries()) <= set(listed())
    made = {m["name"] for line in text().splitlines() if (m := LINE.match(line))}
    assert made <= set(listed())


def test_every_library_says_its_licence():
    for name in libraries():
        assert licence(name) not in ("", "not said"), name
    assert all(listed().values())


def test_what_is_carried_along_is_named_by_its_own_licence():
    known = listed()
    assert known["time-zone boundaries from OpenStreetMap"] == "ODbL-1.0"
    assert known["Embree"] == "Apache-2.0"
    assert known["STIX fonts"] == "OFL-1.1"
