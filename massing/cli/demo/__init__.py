"""``massing demo``; the scenes beside this file are those of ``scenes/``."""

from __future__ import annotations

import argparse
from pathlib import Path

from massing.cli.shared import FINE, Refused, say

SUMMARY = "write a bundled scene with its drawing, to try the commands on and to change"
HERE = Path(__file__).parent
DEFAULT = "marsh_road"


def scenes() -> list[str]:
    """The bundled scenes' names."""
    return sorted(path.stem for path in HERE.glob("*.yaml"))


def arguments(parser: argparse.ArgumentParser) -> None:
    """Which, and where to."""
    parser.add_argument(
        "name",
        nargs="?",
        default=DEFAULT,
        choices=scenes(),
        metavar="BUNDLED",
        help=f"{', '.join(scenes())} (default: {DEFAULT})",
    )
    parser.add_argument(
        "-o", "--out", type=Path, default=Path(), metavar="FOLDER", help="where to (default: here)"
    )


def run(options: argparse.Namespace) -> int:
    """Write the scene and the images it names; no file that stands is replaced."""
    from massing.files import write_users_own
    from massing.scene.load import load_scene

    source = HERE / f"{options.name}.yaml"
    drawing = load_scene(source).scene.drawing
    names = [source.name, *([drawing.image] if drawing else [])]
    for name in names:
        if (options.out / name).exists():
            raise Refused(f"{options.out / name}: it stands already; allowed: another --out")
    for name in names:
        write_users_own(options.out / name, (HERE / name).read_bytes())
        print(options.out / name)
    scene = options.out / source.name
    return say(FINE, f"Next: massing check {scene}; massing study {scene} --open")
