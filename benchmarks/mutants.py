"""Break one room's lines one at a time, and count the breaks that its tests notice.

    python benchmarks/mutants.py canon            (or: make mutants ROOM=canon)
    python benchmarks/mutants.py resolve --files 'resolve/porch*.py' --survivors

mutmut makes the broken copies and runs the tests that pass through each; this script gives it a
copy of the working tree, one room to break and the tests to ask, and prints the share noticed,
file by file, and on demand each break that was not. A break that never ends counts as noticed.
The copy stands under ``build/mutants``. Breaks that change nothing by Python's own rules (the type
of an array that already has it, ``strict`` of a zip) are left out; those of words alone (messages,
keys) are counted, and given apart.
"""

from __future__ import annotations

import argparse
import ast
import fnmatch
import json
import os
import re
import shutil
import signal
import subprocess
import sys
from glob import glob
from pathlib import Path

TREE = Path(__file__).resolve().parents[1]

# What a room's breaks are, and which tests are asked about them.
ROOMS = {
    "canon": (
        "canon/*",
        "tests/canon tests/published/test_orders.py tests/published/test_palladio.py "
        "tests/published/test_arcades.py tests/published/test_moxon.py",
    ),
    "sun": ("sun/*", "tests/sun tests/published"),
    "findings": ("findings/*", "tests/findings tests/published tests/present/reports"),
    "resolve": ("resolve/*", "tests/resolve tests/scene tests/published tests/findings"),
    "settingout": ("settingout/*", "tests/settingout tests/resolve tests/build tests/parts"),
    "schedule": (
        "present/reports/*size*.py present/reports/schedule.py present/reports/quantities.py",
        "tests/present/reports/test_worked_houses.py tests/present/reports/test_schedule.py",
    ),
    "reports": (
        "present/reports/[btuw]*.py present/reports/shadow_tables.py present/reports/progress.py",
        "tests/present/reports",
    ),
    "shadow": ("shadow/*", "tests/shadow tests/published"),
    "keys": (
        "study/code.py study/manifest.py study/pictures.py",
        "tests/study/test_keys.py tests/study/test_code.py tests/study/test_manifest.py "
        "tests/study/test_pictures.py",
    ),
    "units": ("units.py", "tests/test_units.py"),
    "light": (
        "render/blender/light.py",
        "tests/render/test_light_nodes.py tests/render/test_light.py",
    ),
}

# What asks for Blender is too slow to be asked thousands of times; of the light nothing else knows.
LEFT_OUT = "not render"
ASKED_IN_BLENDER = {"light"}

# A broken program may not eat the machine: its tests get this many times their usual time.
PATIENCE = 4.0


def copy_of_tree(folder: Path) -> None:
    """Every file that git knows or would take, at ``folder``."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=TREE,
        capture_output=True,
        check=False,
    )
    names = listed.stdout.decode().split("\0") if listed.returncode == 0 else []
    names = [name for name in names if name and (TREE / name).is_file()]
    if not names:  # no repository: a copy that was unpacked
        rooms = ("massing", "addon", "tests", "scenes", "benchmarks", "examples")
        found = (path for room in rooms for path in (TREE / room).rglob("*") if path.is_file())
        names = [str(path.relative_to(TREE)) for path in found if "__pycache__" not in path.parts]
        names += [path.name for path in TREE.iterdir() if path.is_file()]
    for name in names:
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(TREE / name, target)


def undecorated(text: str) -> str:
    """A module whose functions are decorated after they are defined, so that mutmut breaks them.

    It leaves decorated functions alone, which findings' remarks are, each and all.

    >>> print(undecorated("@cache\\n@said('x')\\ndef f():\\n    return 1\\n"))
    def f():
        return 1
    f = cache(said('x')(f))
    <BLANKLINE>
    """
    lines = text.splitlines()
    for node in reversed(ast.parse(text).body):
        if isinstance(node, ast.FunctionDef) and node.decorator_list:
            made = node.name
            for decorator in reversed(node.decorator_list):
                made = f"{ast.unparse(decorator)}({made})"
            body = lines[node.lineno - 1 : node.end_lineno]
            first = node.decorator_list[0].lineno - 1
            lines[first : node.end_lineno] = [*body, f"{node.name} = {made}"]
    return "\n".join(lines) + "\n"


# What is remembered between tests (tables, above all) hides a break from all but the first test.
NOTHING_REMEMBERED = """

import os as _os
import sys as _sys


@pytest.fixture(autouse=True, scope="session")
def _nothing_remembered_from_the_start():
    _forget()


@pytest.fixture(autouse=True)
def _nothing_remembered_while_tests_are_listed():
    if _os.environ.get("MUTANT_UNDER_TEST") == "stats":
        _forget()


def _forget():
    for name, module in list(_sys.modules.items()):
        if name.partition(".")[0] == "massing":
            for value in list(vars(module).values()):
                if hasattr(value, "cache_clear"):
                    value.cache_clear()
"""

# mutmut asks of a break the tests that pass through it. What a file's tests share is made in the
# first of them alone, so all tests of that file are asked; all tests of what runs ``elsewhere``, in
# a process of their own, that nothing is known of.
LAUNCHER = """
import random
import signal

import mutmut.__main__ as mutmut
from mutmut.state import state

listed, collected = mutmut.run_stats_collection, mutmut.collect_source_file_mutation_data
elsewhere, sample = {elsewhere}, {sample}


def all_of_a_file(*arguments, **named):
    broken = state().tests_by_mangled_function_name
    if elsewhere:
        names = (name for _, name, _ in collected(mutant_names=[])[0])
        broken.update((mutmut.mangled_name_from_mutant_name(name), set("?")) for name in names)
    listed(*arguments, **named)
    if elsewhere:
        broken.update((name, set(state().duration_by_test)) for name in broken)
    for tests in state().tests_by_mangled_function_name.values():
        files = set(test.partition("::")[0] for test in tests)
        tests |= set(t for t in state().duration_by_test if t.partition("::")[0] in files)
    mutmut.save_stats()
    spent = state().duration_by_test
    for name, tests in broken.items():
        broken[name] = sorted(tests, key=spent.__getitem__)  # the quickest first


def some_of_all(*, mutant_names):
    broken, of = collected(mutant_names=mutant_names)
    return random.Random(1).sample(broken, min(sample or len(broken), len(broken))), of


mutmut.run_stats_collection = all_of_a_file
mutmut.collect_source_file_mutation_data = some_of_all
if sample:  # in the order drawn, so that a run that is stopped is a smaller sample
    mutmut.estimated_worst_case_time = lambda name: 0.0
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background has it ignored
mutmut.cli()
"""


def named(tests: str) -> list[str]:
    """Files of tests apart by blanks, with what patterns among them stand for."""
    return [f for each in tests.split() for f in sorted(glob(each, root_dir=TREE)) or [each]]


def settings(files: list[str], tests: str, left_out: str = LEFT_OUT) -> str:
    """mutmut's table for pyproject.toml."""
    beside = ["addon", "scenes", "benchmarks", "examples", "README.md", "DEVELOPERS.md"]
    values = {
        "source_paths": ["massing"],
        "only_mutate": files,
        "also_copy": beside + ["LICENSE", "Makefile", "constraints.txt"],
        "pytest_add_cli_args_test_selection": named(tests),
        "pytest_add_cli_args": ["-m", left_out, "-p", "no:cacheprovider", "-p", "no:randomly"],
        "process_isolation": "forkserver",  # nothing that a test remembered is inherited
        "forkserver_warmup": "collect",
        "timeout_multiplier": PATIENCE,
        "timeout_constant": 30.0 if left_out != LEFT_OUT else 5.0,  # s, before that multiple
        "use_git_change_detection": False,
    }
    rows = "\n".join(f"{key} = {json.dumps(value)}" for key, value in values.items())
    return f"\n[tool.mutmut]\n{rows}\n"


def verdicts(folder: Path) -> dict[str, dict[str, int | None]]:
    """Exit code by break, by file."""
    found = {}
    for path in sorted((folder / "mutants" / "massing").rglob("*.meta")):
        codes = json.loads(path.read_text())["exit_code_by_key"]
        if codes:
            found[str(path.relative_to(folder / "mutants" / "massing"))[: -len(".meta")]] = codes
    return found


def differences(folder: Path, found: dict[str, dict[str, int | None]]) -> dict[str, str]:
    """What each break changed, as a diff by its name."""
    from mutmut.mutation.diff_apply import get_diff_for_mutant

    os.chdir(folder)
    return {
        name: get_diff_for_mutant(name, path=Path("massing") / path)
        for path, codes in found.items()
        for name, code in codes.items()
        if code is not None
    }


# What may be dropped or changed without any difference to a caller.
WITHOUT_EFFECT = re.compile(
    r",?\s*(dtype|strict)=\w+|\.astype\((np\.\w+|None|float|int)\)|(?<=[(,])\s*(?=\))|,\s*(?=\))"
)
QUOTED = re.compile(r"""([\"'])(?:\\.|(?!\1).)*\1""")


def sides(diff: str, without: re.Pattern[str]) -> tuple[str, str]:
    """A diff's lines before and after, less what ``without`` matches."""
    lines = [line for line in diff.splitlines() if line[:3] not in ("---", "+++")]
    before, after = (
        "\n".join(without.sub("", line[1:]) for line in lines if line[:1] == sign) for sign in "-+"
    )
    return before, after


def kind(diff: str) -> str:
    """``words`` alone, ``nothing`` at all, or a ``number or rule`` that was broken."""
    for name, pattern in (("nothing", WITHOUT_EFFECT), ("words", QUOTED)):
        before, after = sides(diff, pattern)
        if before == after:
            return name
    return "number or rule"


MISSED = (0, 33)  # mutmut's codes of tests that passed, and of no test that came by
ENDLESS = (24, -24, 36, 152, 255)


def print_share(name: str, codes: dict[str, int | None], kinds: dict[str, str]) -> None:
    """One row: all breaks, and those of numbers and rules."""
    row = f"{name:44}"
    for counted in (("words", "number or rule"), ("number or rule",)):
        asked = [codes[n] for n in codes if codes[n] is not None and kinds[n] in counted]
        noticed = sum(code not in MISSED for code in asked)
        row += f" {len(asked):7d} {100 * noticed / max(len(asked), 1):7.1f}%"
    print(row)


def main() -> int:
    """Make the copy, let mutmut run, print what was noticed."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("room", choices=sorted(ROOMS))
    parser.add_argument("--files", help="of the room, e.g. 'resolve/porch*.py', apart by blanks")
    parser.add_argument(
        "--tests", help="to ask instead of the room's, or patterns, apart by blanks"
    )
    parser.add_argument("--at-once", type=int, default=os.cpu_count(), metavar="N")
    parser.add_argument("--sample", type=int, metavar="N", help="ask N breaks drawn at random")
    parser.add_argument(
        "--seconds", type=float, metavar="N", help="then stop and print what stands"
    )
    parser.add_argument("--survivors", action="store_true", help="print each break not noticed")
    parser.add_argument("--folder", type=Path, help="where the copy stands")
    options = parser.parse_args()

    files, tests = ROOMS[options.room]
    files, tests = options.files or files, options.tests or tests
    folder = options.folder or TREE / "build" / "mutants" / options.room
    shutil.rmtree(folder, ignore_errors=True)
    copy_of_tree(folder)
    broken = [
        f"massing/{path.relative_to(folder / 'massing')}"
        for path in sorted((folder / "massing").rglob("*.py"))
        if any(fnmatch.fnmatch(str(path.relative_to(folder / "massing")), f) for f in files.split())
    ]
    for name in broken:
        path = folder / name
        path.write_text(undecorated(path.read_text()))
    with (folder / "pyproject.toml").open("a") as file:
        left_out = "render or not render" if options.room in ASKED_IN_BLENDER else LEFT_OUT
        file.write(settings(broken, tests, left_out))
    with (folder / "tests" / "conftest.py").open("a") as file:
        file.write(NOTHING_REMEMBERED)
    environment = {**os.environ, "PYTHONPATH": os.environ.get("PYTHONPATH", "")}
    elsewhere = options.room in ASKED_IN_BLENDER
    launcher = LAUNCHER.format(elsewhere=elsewhere, sample=options.sample)
    run = [sys.executable, "-c", launcher, "run", "--max-children", str(options.at_once)]
    with (
        (folder / "log.txt").open("w") as log,
        subprocess.Popen(run, cwd=folder, env=environment, stdout=log, stderr=log) as breaking,
    ):
        try:
            failed = breaking.wait(options.seconds)
        except subprocess.TimeoutExpired:
            breaking.send_signal(signal.SIGINT)
            failed = breaking.wait() and 0
    found = verdicts(folder)
    if failed or not found:
        print((folder / "log.txt").read_text()[-3000:], file=sys.stderr)
        return 1
    diffs = differences(folder, found)
    kinds = {name: kind(diff) for name, diff in diffs.items()}
    print(f"{'':44} {'breaks':>7} {'noticed':>8}   of numbers and rules")
    total: dict[str, int | None] = {}
    for path, codes in found.items():
        print_share(path, codes, kinds)
        total |= codes
    print_share(options.room, total, kinds)
    endless = sum(code in ENDLESS for code in total.values())
    unasked = sum(code is None for code in total.values())
    print(f"of {len(total)} breaks {endless} never ended, {unasked} were not asked")
    if options.survivors:
        missed = [n for n, c in total.items() if c in MISSED and kinds[n] == "number or rule"]
        print("\n".join(diffs[name] for name in missed))
    return 0


if __name__ == "__main__":
    sys.exit(main())
