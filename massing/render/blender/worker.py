"""The process that holds one model in Blender and renders its shots.

Run as ``python -m massing.render.blender.worker JOB.json``. The job names the model file, the
shots and the log. Standard output carries one JSON object a line: ``ready``, then per shot
``start`` and ``done`` or ``failed``, and ``alive`` every few seconds; everything Blender says
goes to the log.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from massing.files import open_to_append
from massing.render.driver.shots import Shot

BEAT_S = 5.0


def main(job_path: str) -> int:
    """Render the job's shots; 0 when all succeeded, 1 when any failed."""
    job = json.loads(Path(job_path).read_text(encoding="utf-8"))
    say = take_stdout(Path(job["log"]))
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    threading.Thread(target=_beat, args=(say,), daemon=True).start()
    started = time.perf_counter()

    from massing.render.blender.studio import Studio
    from massing.render.driver.modelfile import load_model

    staging = Path(job["staging"])
    studio = Studio(load_model(Path(job["model"])), job.get("device", "auto"), staging)
    say({"event": "ready", "seconds": time.perf_counter() - started, "device": studio.device})
    failures = 0
    for index, values in job["shots"]:
        shot = Shot.from_json(values)
        say({"event": "start", "shot": index})
        began = time.perf_counter()
        try:
            studio.take(shot)
        except Exception as error:
            failures += 1
            say({"event": "failed", "shot": index, "error": f"{type(error).__name__}: {error}"})
        else:
            seconds = time.perf_counter() - began
            say({"event": "done", "shot": index, "seconds": seconds})
    return 1 if failures else 0


def _leave_with_parent() -> None:
    """Standard input ends when the parent does, however it ends."""
    sys.stdin.read()
    os._exit(3)


def _beat(say: Callable[[dict[str, Any]], None]) -> None:
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
