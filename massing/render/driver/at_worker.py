"""What runs at a worker: whether it is of the same version, and one picture after the other.

The sending side is :mod:`massing.render.driver.cluster`.
"""

from __future__ import annotations

import hashlib
import json
import platform
import subprocess
import tempfile
import threading
import time
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import massing
from massing.render.driver.process import how_it_died, python_command, safe_environment
from massing.render.driver.requirements import check_blender
from massing.render.driver.run import START_TIMEOUT_S, Messages
from massing.render.driver.shots import Shot


@cache
def stamp() -> str:
    """What must be alike on both sides: this package, text by text, and Blender's version."""
    digest = hashlib.sha256()
    home = Path(massing.__file__).parent
    for path in sorted([*home.rglob("*.py"), *home.rglob("*.yaml")]):
        digest.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes())
    try:
        blender = version("bpy")
    except PackageNotFoundError:
        blender = "none"
    return f"massing {massing.__version__} ({digest.hexdigest()[:12]}), Blender {blender}"


def unfit_for(asked: str) -> str:
    """Why this process cannot make pictures of another's version; "" where it can."""
    return check_blender() or other_than(asked)


def other_than(asked: str) -> str:
    """Why this process is of another version; "" where it is not."""
    mine = stamp()
    return "" if mine == asked else f"it has {mine}, here is {asked}"


_turn = threading.Lock()
_standing: dict[str, _Standing] = {}


class _Standing:
    """A render process that stands by in this worker, and the models it was given."""

    def __init__(self, device: str) -> None:
        # Under Dask's own folder of this worker, which it clears away even after a kill.
        from distributed import get_worker

        above = get_worker().local_directory
        self.folder = Path(tempfile.mkdtemp(prefix="pictures-", dir=above))
        self.log = self.folder / "render.log"
        job = self.folder / "job.json"
        job.write_text(
            json.dumps({"log": str(self.log), "device": device, "staging": str(self.folder)})
        )
        with self.log.open("a") as log:
            self.process = subprocess.Popen(
                [*python_command("massing.render.blender.standing"), str(job)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=log,
                text=True,
                start_new_session=True,
                env=safe_environment(),
            )
        assert self.process.stdout is not None
        self.messages = Messages(self.process.stdout, lambda words: None)
        ready = self.messages.next(START_TIMEOUT_S)
        if ready is None:
            raise OSError(f"{how_it_died(self.process.wait())}: {self.last_words()}")
        self.device = str(ready.get("device", ""))

    def last_words(self) -> str:
        lines = self.log.read_text(errors="replace").strip().splitlines()
        return lines[-1] if lines else platform.node()

    def take(self, name: str, model: bytes, shot: Shot, timeout_s: float) -> None:
        """Make a picture's files; :class:`OSError` and :class:`TimeoutError` where it cannot."""
        path = self.folder / f"{name}.npz"
        if not path.exists():
            path.write_bytes(model)
        assert self.process.stdin is not None
        wanted = {"shot": 0, "model": str(path), "values": shot.to_json()}
        self.process.stdin.write(json.dumps(wanted) + "\n")
        self.process.stdin.flush()
        while message := self.messages.next(timeout_s):
            if message["event"] == "failed":
                raise ValueError(message["error"])
            if message["event"] == "done":
                return
        raise OSError(f"{how_it_died(self.process.wait())}: {self.last_words()}")

    def end(self) -> None:
        self.process.kill()
        self.process.wait()


def take_picture(
    name: str, model: bytes, values: dict[str, Any], device: str, timeout_s: float
) -> dict[str, Any]:
    """Make one picture on a worker: its files' bytes by name, seconds, device, and any error."""
    began = time.perf_counter()
    answer: dict[str, Any] = {"files": {}, "error": "", "device": ""}
    with _turn:  # a worker of several threads makes one picture at a time
        try:
            standing = _standing.get(device)
            if standing is None:
                standing = _standing[device] = _Standing(device)
            answer["device"] = standing.device
            with tempfile.TemporaryDirectory(dir=standing.folder) as folder:
                shot = Shot.from_json({**values, "output": str(Path(folder, values["output"]))})
                standing.take(name, model, shot, timeout_s)
                for path in (shot.output, *shot.also_files):
                    answer["files"][path.name] = path.read_bytes()
        except ValueError as fault:  # of this picture; the process stands
            answer["error"] = str(fault)
        except (OSError, TimeoutError) as fault:
            answer["error"] = str(fault)
            if broken := _standing.pop(device, None):
                broken.end()
    answer["seconds"] = time.perf_counter() - began
    return answer
