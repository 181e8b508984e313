"""Designs read from scene files that a test writes, as a designer's would be."""

from __future__ import annotations

from pathlib import Path
from textwrap import indent

from massing.design.design import Design
from massing.study.study import read_study

HEAD = """\
title: A house of the tests' own
site: {place: "Beaufort, South Carolina", latitude: 32.43, longitude: -80.67, front_faces: S 20 E}
times: [equinox 10:30]
"""


def design_of(folder: Path, house: str, porch: str = "", more: str = "") -> Design:
    """The design as drawn of a scene file with these fields, each as they stand under its group.

    Raises:
        SceneError: the scene is at fault.
    """
    text = HEAD + "house:\n" + indent(house, "  ")
    if porch:
        text += "\nporch:\n" + indent(porch, "  ")
    file = folder / "house.yaml"
    file.write_text(f"{text}\n{more}\n", encoding="utf-8")
    return read_study(file).designs[0]
