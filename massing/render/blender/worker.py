"""The process that holds models in Blender and renders their shots.

Run as ``python -m massing.render.blender.worker JOB.json``. The job names the models' files, the
shots, each with its model, and the log. Standard output carries one JSON object a line: ``ready``,
then per shot ``start`` and ``done`` or ``failed``, and ``alive`` every few seconds; everything
Blender says goes to the log.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from massing.files import open_to_append
from massing.render.driver.shots import Shot

if TYPE_CHECKING:
    from massing.render.blender.studio import Studio

BEAT_S = 5.0
MOST_STANDING = 8


def main(job_path: str) -> int:
    """Render the job's shots; 0 when all succeeded, 1 when any failed."""
    job = json.loads(Path(job_path).read_text(encoding="utf-8"))
    say = take_stdout(Path(job["log"]))
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    threading.Thread(target=beat, args=(say,), daemon=True).start()
    started = time.perf_counter()

    from massing.render.blender.studio import empty_blender

    device = job.get("device", "auto")
    found = empty_blender(device)
    say({"event": "ready", "seconds": time.perf_counter() - started, "device": found})
    models = Models([Path(path) for path in job["models"]], device, Path(job["staging"]))
    failures = 0
    for index, model, values in job["shots"]:
        shot = Shot.from_json(values)
        say({"event": "start", "shot": index})
        began = time.perf_counter()
        try:
            models.studio(model).take(shot)
        except Exception as error:
            failures += 1
            say({"event": "failed", "shot": index, "error": f"{type(error).__name__}: {error}"})
        else:
            seconds = time.perf_counter() - began
            say({"event": "done", "shot": index, "seconds": seconds})
    return 1 if failures else 0


class Models:
    """The job's models, each built when it is first asked for; a few stand at once."""

    def __init__(self, files: list[Path], device: str, staging: Path) -> None:
        self.files, self.device, self.staging = files, device, staging
        self.standing: dict[int, Studio] = {}

    def studio(self, model: int) -> Studio:
        """The studio of a model; the one that was asked for longest ago makes room."""
        from massing.render.blender.studio import Studio
        from massing.render.driver.modelfile import load_model

        studio = self.standing.pop(model, None)
        if studio is None:
            if len(self.standing) >= MOST_STANDING:
                self.standing.pop(next(iter(self.standing))).leave()
            studio = Studio(load_model(self.files[model]), self.device, self.staging)
        self.standing[model] = studio
        return studio


def _leave_with_parent() -> None:
    """Standard input ends when the parent does, however it ends."""
    sys.stdin.read()
    os._exit(3)


def beat(say: Callable[[dict[str, Any]], None]) -> None:
    """A sign of life every few seconds, whatever the picture in hand takes."""
    while True:
        time.sleep(BEAT_S)
        say({"event": "alive"})


def take_stdout(log: Path) -> Any:
    """Keep standard output for messages and send what C code prints to the log."""
    sys.stdout.flush()
    messages = os.fdopen(os.dup(1), "w", encoding="utf-8")
    with open_to_append(log) as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)

    turn = threading.Lock()

    def say(message: dict[str, Any]) -> None:
        with turn:
            messages.write(json.dumps(message) + "\n")
            messages.flush()

    return say


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
