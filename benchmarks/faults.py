"""Runs of a small study that are killed, starved and crossed, and what is left in the end.

    python benchmarks/faults.py --kills 200 --processes 2

Each kill takes a run at a random moment, by INT, TERM or KILL, the parent or its worker; runs of
pictures alone, of everything with sheets, shadows, page and board, and of a day's film take turns.
Several processes try at once, each in folders of its own. After every fault an undisturbed run
goes on from what was left. Printed are, of each kind of fault, how often it was tried and how often
what must hold did not: files are whole or absent meanwhile; no process and no unfinished file is
left; in the end the same files stand as without the fault, to the pixel. ``--minutes`` begins no
further kill after so long. The sums so far are printed as it goes, and when it is interrupted.
"""

from __future__ import annotations

import argparse
import hashlib
import itertools
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import suppress
from pathlib import Path

import numpy as np
from PIL import Image

ROOT = Path(__file__).resolve().parents[1]
SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
views: [elevation]
looks: [drawn]
house: {width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}
porch: {order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}
alternatives:
  Tuscan:
    porch: {order: tuscan, diameter: null, entablature: null}
"""
ENDS = (signal.SIGINT, signal.SIGTERM, signal.SIGKILL)
RUNS = {  # what is run: the command and its options
    "pictures": ("study", "--size", "160x100", "--only", "elevation"),
    "pictures, sheets, shadows and board": ("study", "--size", "160x100", "--also", "board"),
    "film": ("series", "--day", "14 May", "--step", "180", "--view", "elevation", "--look", "clay",
             "--size", "160x100"),
}  # fmt: skip
PASSING = ("render.log", ".massing", ".in-use", "study.json")  # say when, not what


class Bench:
    """A scene, an undisturbed run of it, and what that made."""

    def __init__(self, folder: Path, kind: str = "pictures") -> None:
        """Make the scene, run it once and keep what it made."""
        self.folder, self.kind = folder, kind
        (folder / "scene.yaml").write_text(SCENE)
        self.clean = folder / f"undisturbed-{list(RUNS).index(kind)}"
        began = time.monotonic()
        done = self.start(self.clean)
        said = done.communicate()[1].decode()
        assert done.returncode == 0, f"the undisturbed run failed: {said}"
        self.seconds = time.monotonic() - began
        self.expected = contents(self.clean)

    def start(
        self,
        out: Path,
        environment: Mapping[str, str] | None = None,
        before: Callable[[], None] | None = None,
    ) -> subprocess.Popen[bytes]:
        """Start a run in a session of its own."""
        command, *options = RUNS[self.kind]
        return subprocess.Popen(
            [sys.executable, "-m", "massing", command, "scene.yaml", "--out", str(out), *options],
            cwd=self.folder,
            env={**(os.environ if environment is None else environment), "PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            start_new_session=True,
            preexec_fn=before,
        )

    def faults_after(self, out: Path) -> list[str]:
        """What does not hold after a fault, and after the undisturbed run that follows it."""
        wrong = [f"not whole: {p.name}" for p in out.rglob("*.*") if not whole(p)]
        wrong += [f"left running: {pid}" for pid in running(out)]
        again = self.start(out)
        if again.wait() != 0:
            said = again.stderr.read().decode() if again.stderr else ""
            wrong.append(f"the next run failed: {said.strip()}")
        elif differing := sorted(name for name, _ in contents(out).items() ^ self.expected.items()):
            wrong.append(f"other files than without the fault: {', '.join(differing[:6])}")
        strewn = [p for p in out.rglob(".*") if p.name not in PASSING]
        wrong += [f"left lying: {p.name}" for p in strewn]
        return wrong


def whole(path: Path) -> bool:
    """Whether a finished picture can be read to its end; unfinished ones have hidden names."""
    if any(part.startswith(".") for part in path.parts[-3:]):
        return True
    if path.suffix == ".pdf":
        return path.read_bytes().rstrip().endswith(b"%%EOF")
    if path.suffix == ".html":
        return path.read_text().rstrip().endswith("</html>")
    if path.suffix == ".json":
        return bool(json.loads(path.read_text()))
    if path.suffix != ".png":
        return True
    try:
        with Image.open(path) as picture:
            picture.load()
        return True
    except OSError:
        return False


def contents(out: Path) -> dict[str, str]:
    """A hash of each file; of a picture's pixels."""
    found = {}
    for path in sorted(p for p in out.rglob("*") if p.is_file()):
        name = path.relative_to(out).as_posix()
        if name in PASSING or path.name == ".massing":
            continue
        if path.suffix == ".png":
            with Image.open(path) as picture:
                data = np.asarray(picture.convert("RGB")).tobytes()
        else:
            data = path.read_bytes()
        found[name] = hashlib.sha256(data).hexdigest()
    return found


def children(pid: int) -> list[int]:
    """Processes that a process of ours started."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdecimal():
            try:
                state = (entry / "stat").read_text().rpartition(")")[2].split()
            except OSError:
                continue
            if int(state[1]) == pid:
                found.append(int(entry.name))
    return found


def running(out: Path) -> list[int]:
    """Processes that still name the folder, a while after their run was ended."""
    for _ in range(20):
        found = []
        for entry in Path("/proc").iterdir():
            if entry.name.isdecimal() and int(entry.name) != os.getpid():
                try:
                    if str(out).encode() in (entry / "cmdline").read_bytes():
                        found.append(int(entry.name))
                except OSError:
                    continue
        if not found:
            return []
        time.sleep(0.5)
    return found


def kill_once(bench: Bench, out: Path, seed: int) -> tuple[str, list[str]]:
    """One run killed at a random moment."""
    dice = random.Random(seed)
    end, worker = dice.choice(ENDS), dice.random() < 0.5
    run = bench.start(out)
    time.sleep(dice.uniform(0.05, 1.0) * bench.seconds)
    targets = children(run.pid) if worker else [run.pid]
    for pid in targets[:1] or [run.pid]:
        if run.poll() is None:
            with suppress(ProcessLookupError):
                os.kill(pid, end)
    run.communicate()
    whom = "worker" if worker and targets else "run"
    faults = [f"seed {seed}: {fault}" for fault in bench.faults_after(out)]
    shutil.rmtree(out, ignore_errors=True)
    return f"{bench.kind}: {end.name} to the {whom}", faults


def full_disk(bench: Bench, out: Path) -> list[str]:
    """No file may grow beyond 20 kB: writing fails as on a full disk."""
    limit = (20_000, 20_000)
    run = bench.start(out, before=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, limit))
    said = run.communicate()[1].decode()
    code = run.returncode
    wrong = [] if code == 1 and "Traceback" not in said else [f"exit {code}: {said[-200:]}"]
    return wrong + bench.faults_after(out)


def folder_gone(bench: Bench, out: Path) -> list[str]:
    """The output folder is moved away while the run is at work."""
    run = bench.start(out)
    time.sleep(0.6 * bench.seconds)
    if out.exists():
        shutil.move(out, out.with_name(f"{out.name} moved"))
    said = run.communicate()[1].decode()
    wrong = [said[-200:]] if "Traceback" in said else []
    return wrong + bench.faults_after(out)


def two_at_once(bench: Bench, out: Path) -> list[str]:
    """Two runs for one folder."""
    runs = [bench.start(out) for _ in range(2)]
    wrong = [f"exit {run.returncode}" for run in runs if run.wait() != 0]
    return wrong + bench.faults_after(out)


def bare(bench: Bench, out: Path) -> list[str]:
    """No HOME, the C locale, nothing of the user's environment."""
    run = bench.start(out, environment={"PATH": os.environ["PATH"], "LC_ALL": "C"})
    wrong = [] if run.wait() == 0 else [f"exit {run.returncode}"]
    return wrong + bench.faults_after(out)


def clocks_off(bench: Bench, out: Path) -> list[str]:
    """What stands is of the year 1990 or 2100 by its dates."""
    bench.start(out).wait()
    for k, path in enumerate(sorted(out.rglob("*"))):
        os.utime(path, ((631152000.0, 4102444800.0)[k % 2],) * 2)
    return bench.faults_after(out)


def stopped_worker(bench: Bench, out: Path) -> list[str]:
    """The worker is stopped, not ended, and the run killed: neither is left."""
    run = bench.start(out)
    until = time.monotonic() + 3.0 * bench.seconds
    while not (workers := children(run.pid)) and run.poll() is None and time.monotonic() < until:
        time.sleep(0.02)
    for pid in workers[:1]:
        os.kill(pid, signal.SIGSTOP)
    time.sleep(0.2)
    run.send_signal(signal.SIGINT)
    run.wait()
    return bench.faults_after(out)


def bad_scenes_s() -> float:
    """The longest that ``check`` takes for a scene made to hang it, processor seconds."""
    sys.path.insert(0, str(ROOT))
    from tests.scene.test_hostile import FAULTY

    longest = 0.0
    with tempfile.TemporaryDirectory() as folder:
        for text in FAULTY.values():
            scene = Path(folder, "scene.yaml")
            scene.write_text(text)
            before = resource.getrusage(resource.RUSAGE_CHILDREN)
            subprocess.run(
                [sys.executable, "-m", "massing", "check", str(scene)],
                capture_output=True,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
            )
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            longest = max(
                longest, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
            )
    return longest


def main() -> None:
    """Print what was tried and what did not hold."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="kinds of fault whose name holds this")
    parser.add_argument("--processes", type=int, default=1, help="runs that are tried at once")
    parser.add_argument("--minutes", type=float, default=1e6)
    options = parser.parse_args()
    until = time.monotonic() + 60.0 * options.minutes
    others = (full_disk, folder_gone, two_at_once, bare, clocks_off, stopped_worker)
    tried: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    with (
        tempfile.TemporaryDirectory(prefix="faults-", ignore_cleanup_errors=True) as folder,
        ThreadPoolExecutor(options.processes, initializer=own_cores) as pool,
    ):
        benches = list(pool.map(lambda kind: Bench(Path(folder), kind), RUNS))
        for bench in benches:
            print(
                f"{bench.kind}: undisturbed {bench.seconds:.1f} s, {len(bench.expected)} files",
                flush=True,
            )
        jobs = [
            pool.submit(one_fault, fault, benches[0], Path(folder, fault.__name__))
            for fault in others
            if options.only in fault.__name__
        ]
        for k in range(options.kills):
            bench, out = benches[k % len(benches)], Path(folder, f"kill-{k:04}")
            seed = options.seed * 1_000_000 + k
            jobs.append(pool.submit(in_time, until, kill_once, bench, out, seed))
        try:
            for job in as_completed(jobs):
                if done := job.result():
                    note(*done, tried, wrong)
        except KeyboardInterrupt:
            print("interrupted; so far:", flush=True)
            pool.shutdown(wait=False, cancel_futures=True)
            print_sums(tried, wrong)
            raise SystemExit(130) from None
    print_sums(tried, wrong)
    print(f"the slowest hostile scene: {bad_scenes_s():.1f} processor s to refuse")


def print_sums(tried: Counter[str], wrong: Counter[str]) -> None:
    """How often each kind of fault was tried, and how often not all held."""
    for kind, count in sorted(tried.items()):
        print(f"{kind}: {count} tried, {wrong[kind]} not as it must be")
    print(json.dumps({"tried": sum(tried.values()), "wrong": sum(wrong.values())}), flush=True)


_seats = itertools.count()


def own_cores() -> None:
    """Two cores for all that this thread starts, so that many runs at once do not crowd."""
    cores = sorted(os.sched_getaffinity(0))
    first = 2 * next(_seats)
    os.sched_setaffinity(0, {cores[first % len(cores)], cores[(first + 1) % len(cores)]})


def one_fault(
    fault: Callable[[Bench, Path], list[str]], bench: Bench, out: Path
) -> tuple[str, list[str]]:
    """One of the faults that are tried once, by the first line of what it says of itself."""
    kind = (fault.__doc__ or "").split(":")[0].rstrip(".")
    return kind, fault(bench, out)


Tried = tuple[str, list[str]]


def in_time(
    until: float, fault: Callable[[Bench, Path, int], Tried], bench: Bench, out: Path, seed: int
) -> Tried | None:
    """The fault, if its time has not run out."""
    return fault(bench, out, seed) if time.monotonic() < until else None


def note(kind: str, faults: list[str], tried: Counter[str], wrong: Counter[str]) -> None:
    """Count one trial and say what did not hold."""
    tried[kind] += 1
    wrong[kind] += bool(faults)
    for fault in faults:
        print(f"  {kind}: {fault}", flush=True)
    if sum(tried.values()) % 10 == 0:
        print(f"{sum(tried.values())} tried, {sum(wrong.values())} wrong", flush=True)


if __name__ == "__main__":
    main()
