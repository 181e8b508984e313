"""A folder made to do harm, as a stranger might send it: a scene among traps.

Every trap leaves a trace when it is sprung, so that a test can look for it.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
views: [elevation]
looks: [clay]
house: {width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}
porch: {order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}
drawing:
  image: front.png
  height: {foot: [20, 180], top: [20, 20], length: 20 ft, along: 0 ft}
"""
# Modules that the tool, Blender's module or Python's own library import by these names.
MODULES = ("bpy", "queue", "numpy", "json", "threading", "ctypes", "sitecustomize", "PIL", "runner")
EPS = b"""%!PS-Adobe-3.0 EPSF-3.0
%%BoundingBox: 0 0 200 200
(sprung) (w) file closefile
showpage
"""


@dataclass(frozen=True)
class Trap:
    """The folder, the scene in it, and the precious things outside that it is aimed at."""

    folder: Path
    scene: Path
    precious: Path

    @property
    def sprung(self) -> list[str]:
        """Names of modules whose code ran."""
        return sorted(p.name for p in self.folder.glob("*.sprung"))


def hostile_folder(tmp_path: Path) -> Trap:
    """Lay the traps: modules beside the scene, a program named as an image."""
    folder = tmp_path / "from a stranger"
    folder.mkdir()
    for name in MODULES:
        trace = folder / f"{name}.sprung"
        (folder / f"{name}.py").write_text(f"open({str(trace)!r}, 'w').close()\n")
    (folder / "front.png").write_bytes(EPS)
    scene = folder / "scene.yaml"
    scene.write_text(SCENE)
    precious = tmp_path / "precious"
    precious.mkdir()
    (precious / "will.txt").write_text("all to the cat")
    return Trap(folder, scene, precious)


def link(at: Path, to: Path) -> None:
    """A symbolic link, its folder made."""
    at.parent.mkdir(parents=True, exist_ok=True)
    os.symlink(to, at)
