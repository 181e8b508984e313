"""Pictures by Dask's workers: the same as without, though one is killed and one is too old."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from contextlib import ExitStack
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import massing
from massing.geometry.solids import box_between
from massing.parts.part import Model, Part
from massing.render.driver import at_worker, cluster, run
from massing.render.driver.requirements import check_blender
from massing.render.driver.shots import Shot
from massing.view.cameras import camera_for

pytest.importorskip("distributed")
HOME = Path(massing.__file__).parents[1]


def slab_over_wall(projection_m: float) -> Model:
    wall = box_between([-3.0, 0.0, 0.0], [3.0, 0.3, 3.5])
    slab = box_between([-3.0, -projection_m, 3.0], [3.0, 0.01, 3.2])
    return Model((Part(("house", "wall"), "wall", wall), Part(("house", "slab"), "trim", slab)))


def shots(folder: Path, design: str, count: int) -> list[Shot]:
    bounds = np.array([(-3.0, -0.5, 0.0), (3.0, 0.3, 3.5)])
    camera = camera_for("elevation", bounds, width_px=48, height_px=32)
    suns = np.radians(np.linspace(25.0, 65.0, count))
    return [
        Shot(
            camera,
            folder / design / f"{i}.png",
            (0.0, -float(np.cos(sun)), float(np.sin(sun))),
            float(np.degrees(sun)),
        )
        for i, sun in enumerate(suns)
    ]


def pixels(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): Image.open(path).convert("RGB").tobytes()
        for path in sorted(folder.rglob("*.png"))
    }


@pytest.fixture
def scheduler(tmp_path):
    """A scheduler and what starts a worker of it: a process each."""
    with ExitStack() as stack:
        place = tmp_path / "scheduler.json"

        def start(name: str, *options: str, home: Path = HOME) -> subprocess.Popen[bytes]:
            process = subprocess.Popen(
                [sys.executable, "-m", "distributed.cli.dask_" + name, *options],
                env={**os.environ, "PYTHONPATH": str(home)},
                cwd=tmp_path,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
            stack.callback(process.wait)
            stack.callback(process.kill)
            return process

        quiet = ("--no-dashboard", "--scheduler-file", str(place))
        start("scheduler", "--host", "127.0.0.1", "--port", "0", *quiet)

        def worker(home: Path = HOME) -> subprocess.Popen[bytes]:
            own = ("--no-nanny", "--nthreads", "2", "--local-directory", str(tmp_path))
            return start("worker", *quiet, *own, home=home)

        yield place, worker


def another_version(home: Path) -> Path:
    """A home of this package that is not quite what it is here."""
    shutil.copytree(
        HOME / "massing", home / "massing", ignore=shutil.ignore_patterns("__pycache__")
    )
    face = home / "massing" / "__init__.py"
    face.write_text(face.read_text() + "\n# as it was\n")
    return home


def standing(place: Path, workers: int) -> str:
    """The scheduler's address, once so many workers have come."""
    from distributed import Client

    until = time.monotonic() + 60.0
    while not place.exists() and time.monotonic() < until:
        time.sleep(0.05)
    address = str(json.loads(place.read_text())["address"])
    with Client(address, set_as_default=False) as client:
        client.wait_for_workers(workers, timeout=90)
    return address


@pytest.mark.render
@pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")
def test_pictures_are_the_same_though_a_worker_is_killed_and_one_is_too_old(scheduler, tmp_path):
    place, worker = scheduler
    old = another_version(tmp_path / "old")
    workers = [worker(), worker(), worker(old)]
    address = standing(place, 3)
    models = {"shallow": slab_over_wall(0.3), "deep": slab_over_wall(0.6)}
    heard: list[str] = []
    done: list[str] = []

    def landed(result: run.ShotResult) -> None:
        done.append(result.shot.output.name)
        if len(done) == 1:
            workers[0].send_signal(signal.SIGKILL)

    def asked(folder: Path) -> list[tuple[Model, Shot]]:
        return [(model, s) for name, model in models.items() for s in shots(folder, name, 4)]

    there, here = tmp_path / "there", tmp_path / "here"
    results = cluster.render_pictures(
        asked(there),
        workers=address,
        log_path=there / "render.log",
        on_done=landed,
        on_quiet=heard.append,
    )
    assert [r.error for r in results] == [""] * 8
    assert len(done) == 8
    assert sum("is left out: it has massing" in line for line in heard) == 1
    assert sum("is lost; its pictures go to others" in line for line in heard) == 1
    assert max(r.attempts for r in results) > 1  # what the killed one had was made by another
    run.render_pictures(asked(here), log_path=here / "render.log")
    assert pixels(there) == pixels(here)
    assert len(set(pixels(here).values())) == 8


def test_figures_are_computed_by_workers_of_this_version_alone(scheduler, tmp_path):
    place, worker = scheduler
    old = another_version(tmp_path / "old")
    worker(), worker(old)
    address = standing(place, 2)
    heard: list[str] = []
    with cluster.hands(address, tmp_path / "figures.json", heard.append) as others:
        assert others is not None
        assert list(others.map(abs, [-1, 2, -3])) == [1, 2, 3]
        where = set(others.map(lambda _: __import__("massing").__file__, range(6)))
    assert where == {str(HOME / "massing" / "__init__.py")}
    assert len(heard) == 1
    assert "is left out: it has massing" in heard[0]


def certificates(place: Path) -> tuple[Path, Path, Path]:
    """An authority of our own, a certificate that it signs, and its key."""
    ca, ca_key, own, key, asked = (
        place / name for name in ("ca.pem", "ca.key", "own.pem", "own.key", "own.csr")
    )
    new = ("-newkey", "rsa:2048", "-nodes")
    for words in (
        ("req", "-x509", *new, "-subj", "/CN=office", "-keyout", ca_key, "-out", ca),
        ("req", *new, "-subj", "/CN=massing", "-keyout", key, "-out", asked),
        ("x509", "-req", "-in", asked, "-CA", ca, "-CAkey", ca_key, "-CAcreateserial", "-out", own),
    ):
        subprocess.run(["openssl", *words], check=True, capture_output=True)
    return ca, own, key


@pytest.mark.skipif(shutil.which("openssl") is None, reason="nothing here makes certificates")
def test_behind_certificates_only_who_has_one_computes_and_lost_workers_are_told(
    tmp_path, monkeypatch
):
    import dask.config

    ca, own, key = certificates(tmp_path)
    place = tmp_path / "scheduler.json"
    shown = ("--tls-ca-file", ca, "--tls-cert", own, "--tls-key", key, "--no-dashboard")
    shown += ("--scheduler-file", place)
    mine = {"ca-file": str(ca), "client.cert": str(own), "client.key": str(key)}
    mine = {f"distributed.comm.tls.{name}": path for name, path in mine.items()}
    monkeypatch.setattr(cluster, "SCHEDULER_S", 5.0)
    monkeypatch.setattr(cluster, "ALL_LOST_S", 1.0)
    with ExitStack() as stack:

        def start(name: str, *options: str) -> subprocess.Popen[bytes]:
            words = [sys.executable, "-m", "distributed.cli.dask_" + name, *map(str, shown)]
            process = subprocess.Popen(
                [*words, *options],
                env={**os.environ, "PYTHONPATH": str(HOME)},
                cwd=tmp_path,
                stderr=subprocess.DEVNULL,
            )
            stack.callback(process.wait)
            stack.callback(process.kill)
            return process

        start("scheduler", "--protocol", "tls", "--host", "127.0.0.1", "--port", "0")
        worker = start("worker", "--no-nanny", "--local-directory", str(tmp_path))
        until = time.monotonic() + 60.0
        while not place.exists() and time.monotonic() < until:
            time.sleep(0.05)
        address = json.loads(place.read_text())["address"]
        assert address.startswith("tls://")
        near = tmp_path / "figures.json"
        with pytest.raises(OSError, match="no certificate"), cluster.hands(address, near):
            pass

        def computed() -> list[int]:
            with cluster.hands(address, near) as others:
                assert others is not None
                assert list(others.map(abs, [-1, 2])) == [1, 2]
                worker.kill()
                return list(others.map(abs, range(-3, 0)))

        with dask.config.set(mine), pytest.raises(OSError, match="all workers are lost"):
            computed()


def test_without_workers_nobody_else_computes(tmp_path):
    with cluster.hands(None, tmp_path / "figures.json") as others:
        assert others is None


def test_a_worker_without_blender_or_of_another_version_says_so(monkeypatch):
    monkeypatch.setattr(at_worker, "check_blender", lambda: None)
    assert at_worker.unfit_for(at_worker.stamp()) == ""
    assert at_worker.unfit_for("massing 9").startswith(f"it has {at_worker.stamp()}")
    monkeypatch.setattr(at_worker, "check_blender", lambda: "Blender's module is not installed")
    assert at_worker.unfit_for(at_worker.stamp()) == "Blender's module is not installed"


@pytest.mark.parametrize("given", ["0", "300", "host:8786", "-2", "udp://host:1", ""])
def test_other_words_for_workers_are_refused_in_a_line(given):
    with pytest.raises(ValueError, match="allowed: 1 to 256 processes of this machine"):
        cluster.check_workers(given)


def test_no_scheduler_is_one_line(tmp_path, monkeypatch):
    monkeypatch.setattr(cluster, "SCHEDULER_S", 0.5)
    model, shot = slab_over_wall(0.3), shots(tmp_path, "one", 1)[0]
    with pytest.raises(OSError, match=r"tcp://127\.0\.0\.1:9: no scheduler answers"):
        cluster.render_pictures(
            [(model, shot)], workers="tcp://127.0.0.1:9", log_path=tmp_path / "log"
        )
