"""Send shots to a render worker and see them home: progress, faults, one retry."""

from __future__ import annotations

import json
import queue
import subprocess
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Generator, Mapping, Sequence
from contextlib import closing, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import IO, Any

from massing.files import claim, open_to_append, put_in_place, temporary_folder
from massing.parts.part import Model
from massing.render.driver.modelfile import save_model
from massing.render.driver.process import (
    how_it_died,
    python_command,
    safe_environment,
    worker_command,
)
from massing.render.driver.shots import DEVICES, GPU_KINDS, PROCESSOR, Shot

START_TIMEOUT_S = 180.0
FRAME_TIMEOUT_S = 1800.0
QUIET_S = 60.0  # without a sign of life: the user is told
LOST_S = 600.0  # the worker is taken for hung
SLOW_S = 20.0  # a card's first picture takes longer only while it is made ready
MAKING_READY = (
    "the graphics card's first picture is long in coming: where Blender's module has no program "
    "for a card, the card's driver compiles one now. That happens once for a card and a version of "
    "either and may take ten minutes; the driver keeps it (NVIDIA's where CUDA_CACHE_PATH says). "
    "--device processor renders without"
)
ATTEMPTS = 2
_NO_SHOT = -1


@dataclass(frozen=True)
class ShotResult:
    """How one shot ended; ``error`` is empty when its file is there."""

    shot: Shot
    seconds: float
    error: str = ""
    attempts: int = 1


def render_shots(model: Model, shots: Sequence[Shot], **options: Any) -> list[ShotResult]:
    """Render shots of one model; see :func:`render_pictures`."""
    return render_pictures([(model, shot) for shot in shots], **options)


def render_pictures(
    pictures: Sequence[tuple[Model, Shot]],
    *,
    log_path: Path,
    on_done: Callable[[ShotResult], None] | None = None,
    on_start: Callable[[Shot], None] | None = None,
    on_device: Callable[[str], None] | None = None,
    on_quiet: Callable[[str], object] | None = None,
    device: str = "auto",
    timeout_s: float = FRAME_TIMEOUT_S,
    command: Sequence[str] | None = None,
    environment: Mapping[str, str] | None = None,
) -> list[ShotResult]:
    """Render shots, each of its model, in their order, in one worker process for all.

    A model is built there once, when it is first asked for.
    A frame whose worker crashes, is killed or takes longer than ``timeout_s`` is tried once
    more in a fresh worker, and the other frames go on; so is one whose worker shows no sign of
    life for ten minutes, of which ``on_quiet`` is told a line after one. Each finished frame is
    whole on disk when ``on_done`` is told. Blender's own words are added to ``log_path``.
    ``device`` is one of :data:`massing.render.driver.shots.DEVICES`; ``on_device`` is told which
    one a worker found.
    ``command`` starts a worker, the path of the job added, in ``environment`` or in this own one;
    by default as :func:`massing.render.driver.process.worker_command` says.

    Returns:
        One result per shot, in the order given; look at ``error`` of each.

    Raises:
        ValueError: unknown device.
    """
    if device not in (*DEVICES, *GPU_KINDS):
        raise ValueError(f"{device!r} is not a device; allowed: {', '.join(DEVICES)}")
    shots = [shot for _, shot in pictures]
    results: dict[int, ShotResult] = {}
    tries: Counter[int] = Counter()

    def close(index: int, seconds: float, error: str) -> None:
        results[index] = ShotResult(shots[index], seconds, error, tries[index])
        if on_done:
            on_done(results[index])

    claim(path for shot in shots for path in (shot.output, *shot.also_files))
    with temporary_folder(shots[0].output if shots else log_path) as folder:
        models = {id(model): model for model, _ in pictures}
        files = {key: folder / f"model-{i}.npz" for i, key in enumerate(models)}
        for key, path in files.items():
            save_model(models[key], path)
        file_of = {i: files[id(model)] for i, (model, _) in enumerate(pictures)}
        while waiting := {i: s for i, s in enumerate(shots) if i not in results}:
            session = _session(
                waiting,
                file_of,
                log_path,
                timeout_s,
                on_start or (lambda shot: None),
                on_device or (lambda words: None),
                on_quiet or (lambda words: None),
                device,
                command or worker_command(),
                environment,
            )
            # Closed here and not by chance later, where a second interrupt would be lost.
            with closing(session):
                for index, seconds, error in session:
                    tries[index] += 1
                    if index == _NO_SHOT:
                        if tries[index] >= ATTEMPTS:
                            for i in waiting.keys() - results.keys():
                                close(i, 0.0, error)
                    elif not error or tries[index] >= ATTEMPTS:
                        close(index, seconds, error)
    return [results[i] for i in range(len(shots))]


def _session(
    shots: dict[int, Shot],
    file_of: Mapping[int, Path],
    log_path: Path,
    timeout_s: float,
    on_start: Callable[[Shot], None],
    on_device: Callable[[str], None],
    on_quiet: Callable[[str], object],
    device: str,
    command: Sequence[str],
    environment: Mapping[str, str] | None,
) -> Generator[tuple[int, float, str]]:
    """One worker's life: yields (shot, seconds, error) as frames end.

    A fault of the worker itself is laid to the frame in hand, or to no shot when it had none.
    """
    models = list(dict.fromkeys(file_of[i] for i in shots))
    folder = models[0].parent
    job = {
        "models": [str(path) for path in models],
        "log": str(log_path.resolve()),
        "device": device,
        "staging": str(folder.resolve()),
        "shots": [
            [i, models.index(file_of[i]), replace(s, output=s.output.resolve()).to_json()]
            for i, s in shots.items()
        ],
    }
    job_path = folder / "job.json"
    job_path.write_text(json.dumps(job), encoding="utf-8")
    with open_to_append(log_path) as log:
        # A session of its own, so that Ctrl-C reaches this process first and not the worker.
        worker = subprocess.Popen(
            [*command, str(job_path)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
            start_new_session=True,
            env=safe_environment(environment),
        )
    current, fault, began, ended = _NO_SHOT, "", time.perf_counter(), 0
    try:
        assert worker.stdout is not None
        messages = Messages(worker.stdout, on_quiet)
        limit_s = START_TIMEOUT_S
        while message := messages.next(limit_s):
            limit_s = timeout_s
            index = message.get("shot", _NO_SHOT)
            if message["event"] == "start":
                current, began = index, time.perf_counter()
                on_start(shots[index])
            elif message["event"] == "ready":
                on_device(message.get("device", ""))
                if not message.get("device", PROCESSOR).startswith(PROCESSOR):
                    messages.if_slow = MAKING_READY
            elif message["event"] in ("done", "failed"):
                current, ended = _NO_SHOT, ended + 1
                messages.if_slow = ""
                yield index, time.perf_counter() - began, message.get("error", "")
    except TimeoutError as error:
        fault = str(error)
    finally:
        code = _stop(worker, patient=not fault and sys.exc_info()[0] is None)
    if current != _NO_SHOT or ended == 0:
        reason = fault or how_it_died(code)
        yield current, time.perf_counter() - began, f"{reason}; see {log_path}"


class Messages:
    """The worker's lines, with a limit on how long to wait for each."""

    def __init__(self, stream: IO[str], on_quiet: Callable[[str], object]) -> None:
        self._lines: queue.Queue[str] = queue.Queue()
        self._stream = stream
        self._on_quiet = on_quiet
        self.if_slow = ""  # what to tell, once, where the next message is long in coming
        self._alive = time.monotonic()
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        for line in self._stream:
            self._alive = time.monotonic()
            # Blender may have something of its own to say first.
            if line.startswith("{") and json.loads(line).get("event") != "alive":
                self._lines.put(line)
        self._lines.put("")

    def next(self, timeout_s: float) -> dict[str, Any] | None:
        """The next message, or None at the end.

        Raises:
            TimeoutError: nothing came in time, or no sign of life at all.
        """
        began = time.monotonic()
        until, told = began + timeout_s, False
        while True:
            with suppress(queue.Empty):
                wait_s = max(min(until - time.monotonic(), QUIET_S / 4.0, SLOW_S / 4.0), 0.0)
                line = self._lines.get(timeout=wait_s)
                return json.loads(line) if line else None
            now = time.monotonic()
            quiet_s = now - self._alive
            if self.if_slow and now - began >= SLOW_S:
                self._on_quiet(self.if_slow)
                self.if_slow = ""
            if now >= until:
                raise TimeoutError(f"the render worker hung: nothing for {timeout_s:.0f} s")
            if quiet_s >= LOST_S:
                raise TimeoutError(f"the render worker hung: no sign of life for {quiet_s:.0f} s")
            if quiet_s >= QUIET_S and not told:
                told = True
                self._on_quiet(
                    f"no sign of life from the render worker for {quiet_s:.0f} s; "
                    f"it is given {LOST_S / 60.0:.0f} minutes, then started afresh"
                )


def _stop(worker: subprocess.Popen[str], *, patient: bool) -> int:
    """End the worker if it has not ended; its exit code, negative for a signal."""
    assert worker.stdin is not None
    worker.stdin.close()
    try:
        return worker.wait(timeout=20.0 if patient else 0.1)
    except subprocess.TimeoutExpired:
        worker.kill()
        return worker.wait()
    except BaseException:  # an interrupt while waiting leaves no worker behind
        worker.kill()
        raise


def encode_film(
    frames: Sequence[Path],
    output: Path,
    *,
    frames_per_second: int,
    log_path: Path,
    environment: Mapping[str, str] | None = None,
) -> None:
    """Encode pictures of one size and one folder as an MP4, which appears whole or not at all.

    Raises:
        OSError: no film came of it; the message names the log.
        ValueError: no frames, or frames of several folders.
    """
    if len({frame.parent for frame in frames}) != 1:
        raise ValueError("a film needs frames, all in one folder")
    claim([output])
    with temporary_folder(output) as folder:
        film = folder / "film.mp4"
        job = {
            "frames": [str(frame.resolve()) for frame in frames],
            "frames_per_second": frames_per_second,
            "output": str(film.resolve()),
            "log": str(log_path.resolve()),
        }
        job_path = folder / "job.json"
        job_path.write_text(json.dumps(job), encoding="utf-8")
        with open_to_append(log_path) as log:
            done = subprocess.run(
                [*python_command("massing.render.blender.film"), str(job_path)],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=log,
                env=safe_environment(environment),
            )
        if done.returncode or not film.exists():
            raise OSError(f"no film was made: {how_it_died(done.returncode)}; see {log_path}")
        put_in_place(film, output)
