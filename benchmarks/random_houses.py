"""Houses drawn at random over every field: how many are built, refused well, or worse.

    python benchmarks/random_houses.py --number 2000 --seed 1            # any numbers at all
    python benchmarks/random_houses.py --number 2000 --seed 1 --common   # common practice only

Prints how many were built or refused, and of the refusals how many have a flaw: a field that the
scene does not name, no line, no help, the other system's units, a limit that is refused when it
is typed back. ``--resolve`` leaves the building out, ``--meshes`` looks at every mesh of what is
built, ``--show`` writes each refusal and fault with its seed.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, ".")

if TYPE_CHECKING:
    from tests.helpers.refusals import Outcome


def main() -> int:
    """Draw, try, count; exit code 1 where anything was neither built nor refused in a line."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--number", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--common", action="store_true")
    parser.add_argument("--resolve", action="store_true")
    parser.add_argument("--meshes", action="store_true", help="look at every mesh of every house")
    parser.add_argument("--planes", action="store_true", help="and for faces in one plane (slow)")
    parser.add_argument("--at-once", type=int, default=os.cpu_count(), metavar="N")
    parser.add_argument("--show", type=Path, help="write each refusal and fault to this file")
    options = parser.parse_args()
    kinds: Counter[str] = Counter()
    flaws: Counter[str] = Counter()
    fields: Counter[str] = Counter()
    untyped: Counter[str] = Counter()
    meshes: Counter[str] = Counter()
    lines = []
    seeds = [options.seed * 1_000_000 + i for i in range(options.number)]
    ask = partial(
        tried,
        common=options.common,
        built=not options.resolve,
        meshes=options.meshes,
        planes=options.planes,
    )
    with ProcessPoolExecutor(options.at_once) as workers:
        for seed, got, found in workers.map(ask, seeds, chunksize=2):
            kinds[got.kind] += 1
            flaws.update(got.flaws)
            meshes.update({kind for _, kind in found})
            lines += [f"{seed} mesh: {said}" for said, _ in found]
            if got.kind == "built":
                continue
            named = ".".join(str(step) for step in got.field if isinstance(step, str))
            fields[named or got.kind] += 1
            if "names an untyped field" in got.flaws:
                untyped[named] += 1
            lines.append(f"{seed} {got.kind} {got.said} {got.flaws}")
    print(f"{options.number} scenes:", dict(kinds.most_common()))
    refused = max(kinds["refused"], 1)
    print("flaws of refusals:", {k: f"{n} ({n / refused:.1%})" for k, n in flaws.most_common()})
    print("refused by field:", dict(fields.most_common(25)))
    print("untyped ones:", dict(untyped.most_common(25)))
    if options.meshes:
        print("houses with a fault of a mesh:", dict(meshes.most_common()))
    if options.show:
        options.show.write_text("\n".join(lines) + "\n")
    return int(kinds["traceback"] + kinds["hang"] > 0 or bool(meshes))


def tried(
    seed: int, common: bool, built: bool, meshes: bool, planes: bool
) -> tuple[int, Outcome, list[tuple[str, str]]]:
    """What becomes of one seed's scene, and the faults of its meshes, said and by kind."""
    from massing.build.house import build
    from tests.helpers.mesh_faults import coplanar, faults_of_part, floating
    from tests.helpers.random_scenes import scene
    from tests.helpers.refusals import outcome

    got = outcome(scene(seed, common), built=built)
    if not meshes or got.design is None:
        return seed, replace(got, design=None), []
    model = build(got.design)
    faults = [fault for part in model.parts for fault in faults_of_part(part)]
    faults += [*floating(model), *(coplanar(model) if planes else ())]
    found = [(str(fault), fault.kind.partition(" with ")[0]) for fault in faults]
    return seed, replace(got, design=None), found


if __name__ == "__main__":
    sys.exit(main())
