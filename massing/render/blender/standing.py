"""A render process that stands by: shots come one a line and are answered one a line.

Run as ``python -m massing.render.blender.standing JOB.json``, where a cluster's worker wants
pictures one by one. The job names the log, the device and where unfinished files stand. Standard
input carries ``{"shot": index, "model": path, "values": {...}}`` a line, standard output what
:mod:`massing.render.blender.worker` says.
"""

from __future__ import annotations

import json
import os
import queue
import sys
import threading
from pathlib import Path

from massing.render.blender.worker import Models, beat, take_stdout
from massing.render.driver.shots import Shot


def main(job_path: str) -> int:
    """Render what is asked until the asking process ends."""
    job = json.loads(Path(job_path).read_text(encoding="utf-8"))
    say = take_stdout(Path(job["log"]))
    asked: queue.Queue[str] = queue.Queue()
    threading.Thread(target=_listen, args=(asked,), daemon=True).start()
    threading.Thread(target=beat, args=(say,), daemon=True).start()

    from massing.render.blender.studio import empty_blender

    device = job["device"]
    say({"event": "ready", "device": empty_blender(device)})
    models = Models([], device, Path(job["staging"]))
    while True:
        wanted = json.loads(asked.get())
        path, index = Path(wanted["model"]), wanted["shot"]
        say({"event": "start", "shot": index})
        if path not in models.files:
            models.files.append(path)
        try:
            models.studio(models.files.index(path)).take(Shot.from_json(wanted["values"]))
        except Exception as error:
            say({"event": "failed", "shot": index, "error": f"{type(error).__name__}: {error}"})
        else:
            say({"event": "done", "shot": index})


def _listen(asked: queue.Queue[str]) -> None:
    """Standard input ends when the asking process does, however it ends."""
    for line in sys.stdin:
        asked.put(line)
    os._exit(3)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
