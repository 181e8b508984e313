"""What the tool makes, written down, to show that a change of its insides changes nothing of it.

    python benchmarks/snapshot.py draw designs.json          # random scenes, the same every time
    python benchmarks/snapshot.py write designs.json old.json    # in the checkout as it was
    python benchmarks/snapshot.py write designs.json new.json    # in the changed one
    python benchmarks/snapshot.py compare old.json new.json  # exit code 1 where they differ

Of every design of the bundled scenes and of each random one: its numbers, a hash of every part's
mesh, placements and role under the part's name, figures, findings and sizes, or why it was refused.
The checkout it is called from is the one it looks at; `draw` once and `write` in both.
"""

from __future__ import annotations

import argparse
import dataclasses
import hashlib
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, ".")

DIGITS = 7  # of a metre: a tenth of a thousandth of a millimetre
COUNT = 900  # of random scenes, of which about 400 can be built


def draw(out: Path, count: int) -> None:
    """Write random scenes as the tests of the whole house draw them, always the same."""
    from hypothesis import HealthCheck, given, settings
    from hypothesis import strategies as st

    from tests.build import test_random_houses as houses

    drawn: list[dict[str, Any]] = []

    @settings(
        max_examples=count,
        derandomize=True,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(
        houses.HOUSE.map(houses.sensible),
        houses.PORCH.map(houses.buildable),
        houses.ROOF,
        st.one_of(st.none(), houses.SLOPE),
    )
    def keep(house: Any, porch: Any, roof: Any, slope: Any) -> None:
        site = {"place": "Natchez", "latitude": 31.56, "longitude": -91.4}
        site |= {"front_faces": "S 20 E"} | ({"ground_slope": slope} if slope else {})
        scene = {"title": "Any house", "site": site, "house": house, "porch": porch}
        drawn.append(scene | {"roof": roof, "times": ["equinox 10:00"]})

    keep()
    out.write_text(json.dumps(drawn))
    print(f"{len(drawn)} scenes in {out}")


def write(designs: Path, out: Path) -> None:
    """Write down what this checkout makes of the bundled scenes and of ``designs``."""
    from massing.resolve.design import resolve
    from massing.scene.errors import DesignError
    from massing.scene.spec import Scene
    from massing.study.study import read_study
    from massing.sun.position import sun_time

    found: dict[str, Any] = {}
    for path in sorted(Path("scenes").glob("*.yaml")):
        study = read_study(path)
        for design in study.designs:
            found[f"{path.stem}/{design.name}"] = _made(design, study.suns)
    for i, raw in enumerate(json.loads(designs.read_text())):
        try:
            design = resolve(Scene.model_validate(raw), "any")
        except DesignError as fault:
            found[f"random {i}"] = {"refused": str(fault)}
            continue
        found[f"random {i}"] = _made(design, [sun_time(t, design.site) for t in raw["times"]])
    out.write_text(json.dumps(found))
    built = sum("parts" in made for made in found.values())
    print(f"{built} built, {len(found) - built} refused, in {out}")


def _made(design: Any, suns: Any) -> dict[str, Any]:
    from massing.build.house import build
    from massing.present.reports.schedule import schedule_csv
    from massing.present.reports.tables import figures_json, findings_text

    made: dict[str, Any] = {
        "numbers": sorted(_numbers(design)),
        "figures": figures_json([design], suns),
        "findings": findings_text([design]),
        "sizes": schedule_csv([design]),
    }
    try:
        model = build(design)
    except ValueError as fault:
        return made | {"refused": str(fault)}
    parts: dict[str, list[str]] = {}
    for part in model.parts:
        parts.setdefault(part.name, []).append(_hash(part))
    return made | {"parts": parts}


def _numbers(value: Any) -> Iterator[float]:
    """Every number of a design, whatever its field is called."""
    if dataclasses.is_dataclass(value):
        for each in dataclasses.fields(value):
            if each.name != "origins":
                yield from _numbers(getattr(value, each.name))
    elif isinstance(value, (list, tuple)):
        for each in value:
            yield from _numbers(each)
    elif isinstance(value, float) and value:  # a nought may as well be left out
        yield round(value, 9)


def _hash(part: Any) -> str:
    digest = hashlib.sha256(np.round(part.mesh.vertices, DIGITS).astype("f8").tobytes())
    digest.update(part.mesh.faces.astype("i8").tobytes())
    if part.placements is not None:
        digest.update(np.round(part.placements, DIGITS).tobytes())
    digest.update(part.role.encode())
    return digest.hexdigest()[:16]


def compare(old: Path, new: Path) -> int:
    """Print the designs that differ, and in what."""
    before, after = (json.loads(path.read_text()) for path in (old, new))
    differ = 0
    for name, was in before.items():
        now = after.get(name, {})
        for field in sorted({*was, *now}):
            a, b = was.get(field), now.get(field)
            if a == b:
                continue
            differ += 1
            if isinstance(a, dict) and isinstance(b, dict):
                a, b = (sorted(k for k in {*a, *b} if a.get(k) != b.get(k)), "")
            print(f"{name}: {field}: {str(a)[:200]} {str(b)[:200]}")
    print(f"{differ} differences in {len(before)} designs")
    return int(differ > 0)


def main() -> int:
    """Draw, write or compare."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    commands = parser.add_subparsers(dest="command", required=True)
    for command, files in (
        ("draw", ["out"]),
        ("write", ["designs", "out"]),
        ("compare", ["old", "new"]),
    ):
        asked = commands.add_parser(command)
        for file in files:
            asked.add_argument(file, type=Path)
        if command == "draw":
            asked.add_argument("--count", type=int, default=COUNT)
    options = parser.parse_args()
    match options.command:
        case "draw":
            draw(options.out, options.count)
        case "write":
            write(options.designs, options.out)
        case _:
            return compare(options.old, options.new)
    return 0


if __name__ == "__main__":
    sys.exit(main())
