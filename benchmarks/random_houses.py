"""Houses drawn at random over every field: how many are built, refused well, or worse.

    python benchmarks/random_houses.py --number 2000 --seed 1            # any numbers at all
    python benchmarks/random_houses.py --number 2000 --seed 1 --common   # common practice only

Prints how many were built or refused, and of the refusals how many have a flaw: a field that the
scene does not name, no line, no help, the other system's units, a limit that is refused when it
is typed back. ``--resolve`` leaves the building out, ``--show`` prints the refusals.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, ".")


def main() -> int:
    """Draw, try, count; exit code 1 where anything was neither built nor refused in a line."""
    from tests.helpers.random_scenes import scene
    from tests.helpers.refusals import outcome

    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--number", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--common", action="store_true")
    parser.add_argument("--resolve", action="store_true")
    parser.add_argument("--show", type=Path, help="write each refusal to this file")
    options = parser.parse_args()
    kinds: Counter[str] = Counter()
    flaws: Counter[str] = Counter()
    fields: Counter[str] = Counter()
    untyped: Counter[str] = Counter()
    lines = []
    for i in range(options.number):
        seed = options.seed * 1_000_000 + i
        got = outcome(scene(seed, options.common), built=not options.resolve)
        kinds[got.kind] += 1
        flaws.update(got.flaws)
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
    if options.show:
        options.show.write_text("\n".join(lines) + "\n")
    return int(kinds["traceback"] + kinds["hang"] > 0)


if __name__ == "__main__":
    sys.exit(main())
