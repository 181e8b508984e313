"""Pictures, and figures, made by other processes and machines, which Dask carries.

Each worker is given one picture and the next to come, in the order asked; a model is sent to a
worker once, and kept there. A worker that is lost gives its pictures back; one that lacks Blender's
module, or stands at another version, is left out. Pictures come back as bytes and land whole here.
A worker needs this package and Blender's module, and runs what it is sent: it belongs in a network
of one's own, or behind certificates (``tls://``).
"""

from __future__ import annotations

import hashlib
import json
import os
import signal
import threading
import time
from collections import Counter, deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import CancelledError, Executor
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from massing.files import claim, temporary_folder, write_whole
from massing.parts.part import Model
from massing.render.driver import run as here
from massing.render.driver.at_worker import other_than, stamp, take_picture, unfit_for
from massing.render.driver.modelfile import save_model
from massing.render.driver.run import ATTEMPTS, FRAME_TIMEOUT_S, ShotResult
from massing.render.driver.shots import Shot

IN_HAND = 2  # pictures at a worker: one being made, one waiting
LOOK_ROUND_S = 2.0
POLL_S = 0.05
LOST_TRIES = 4  # a picture whose worker was lost so often is not tried again
FIRST_WORKER_S = 60.0
ALL_LOST_S = 30.0
SCHEDULER_S = 10.0
MOST_WORKERS = 256
_CERTIFICATE = ("CA_FILE", "CLIENT__CERT", "CLIENT__KEY")


def render_pictures(
    pictures: Sequence[tuple[Model, Shot]], *, workers: str | None = None, **options: Any
) -> list[ShotResult]:
    """Render shots here (see :func:`massing.render.driver.run.render_pictures`) or by workers.

    Args:
        workers: none renders here; a number, by so many processes of this machine; an address
            (``tcp://host:8786``), by the workers of the Dask scheduler there.

    Raises:
        OSError: no scheduler answers, or it has no worker that could be used.
    """
    if not workers or not pictures:
        return here.render_pictures(pictures, **options)
    with _client(workers, options["log_path"]) as client:
        return _Round(client, pictures, **options).run()


def render_shots(model: Model, shots: Sequence[Shot], **options: Any) -> list[ShotResult]:
    """Render shots of one model; see :func:`render_pictures`."""
    return render_pictures([(model, shot) for shot in shots], **options)


@contextmanager
def hands(
    workers: str | None, near: Path, tell: Callable[[str], object] = lambda words: None
) -> Iterator[Executor | None]:
    """What computes for others, figures and not pictures: Blender's module is not asked for.

    Args:
        workers: as for :func:`render_pictures`; None for none.
        near: a file in the folder that is written to.
        tell: hears of workers that are left out.

    Yields:
        An executor whose tasks go to the workers that stand at this version; those of a worker
        that is lost go to another.

    Raises:
        OSError: no scheduler answers, it has no worker that could be used, or all are lost.
    """
    if not workers:
        yield None
        return
    with _client(workers, near) as client:
        fit = _fit_to_compute(client, tell)
        done, lost = threading.Event(), threading.Event()
        watch = threading.Thread(target=_give_up, args=(client, set(fit), done, lost), daemon=True)
        watch.start()
        try:
            yield client.get_executor(
                workers=fit, allow_other_workers=False, retries=LOST_TRIES, pure=False
            )
        except (CancelledError, Exception):  # which of Dask's own depends on the moment
            if not lost.is_set():
                raise
            raise OSError("all workers are lost") from None
        finally:
            done.set()
            watch.join()


def _give_up(client: Any, fit: set[str], done: threading.Event, lost: threading.Event) -> None:
    """End the wait for tasks once no worker has stood for so long: Dask itself would wait on."""
    last = time.monotonic()
    while not done.wait(LOOK_ROUND_S):
        with suppress(Exception):  # the scheduler is gone, and its workers with it
            if fit & set(client.scheduler_info(n_workers=-1)["workers"]):
                last = time.monotonic()
        if time.monotonic() - last > ALL_LOST_S:
            lost.set()
            client.close(timeout=SCHEDULER_S)
            return


def _fit_to_compute(client: Any, tell: Callable[[str], object]) -> list[str]:
    """The workers that stand at this version, once there are any."""
    until = time.monotonic() + FIRST_WORKER_S
    while not client.scheduler_info(n_workers=-1)["workers"] and time.monotonic() < until:
        time.sleep(POLL_S)
    fit = []
    for worker, answer in client.run(other_than, stamp(), on_error="return").items():
        if isinstance(answer, BaseException):
            answer = f"it has no such version: {type(answer).__name__}: {answer}"
        if answer:
            tell(f"the worker at {worker} is left out: {answer.splitlines()[0]}")
        else:
            fit.append(worker)
    if not fit:
        raise OSError("the scheduler has no worker that could be used")
    return fit


def check_workers(text: str) -> str:
    """A number of processes or a scheduler's address, as it was given.

    Raises:
        ValueError: neither; the text says what is allowed.
    """
    number = text.isdecimal() and 1 <= int(text) <= MOST_WORKERS
    if not number and not text.startswith(("tcp://", "tls://")):
        raise ValueError(
            f"given {text}, allowed: 1 to {MOST_WORKERS} processes of this machine, or a "
            "scheduler's address such as tcp://host:8786 or tls://host:8786"
        )
    return text


@contextmanager
def _client(workers: str, near: Path) -> Iterator[Any]:
    try:
        from distributed import Client, LocalCluster
        from distributed.security import Security
    except ImportError:
        raise OSError("--workers needs Dask; run: pip install 'massing[cluster]'") from None
    if not workers.isdecimal():
        # Asked first: a client that cannot begin waits 20 s when it is thrown away.
        shown = Security().get_connection_args("client")
        if workers.startswith("tls://") and shown.get("ssl_context") is None:
            names = ", ".join(f"DASK_DISTRIBUTED__COMM__TLS__{name}" for name in _CERTIFICATE)
            raise OSError(f"{workers}: no certificate is named; set {names}")
        try:
            client = Client(workers, timeout=SCHEDULER_S, set_as_default=False)
        except (OSError, TypeError, ValueError) as fault:
            last = str(fault).strip().splitlines()[-1:] or [type(fault).__name__]
            raise OSError(f"{workers}: no scheduler answers: {last[0]}") from None
        with client:
            yield client
        return
    # New Pythons find no modules in the working folder, where a stranger's scene may lie.
    before = os.environ.get("PYTHONSAFEPATH")
    os.environ["PYTHONSAFEPATH"] = "1"
    try:
        with (
            temporary_folder(near) as folder,
            _local(
                LocalCluster,
                n_workers=int(workers),
                threads_per_worker=1,
                dashboard_address="127.0.0.1:0",
                local_directory=str(folder.resolve()),
                silence_logs=50,
                memory_limit=0,
            ) as cluster,
            Client(cluster, set_as_default=False) as client,
        ):
            yield client
    finally:
        os.environ.pop("PYTHONSAFEPATH")
        if before is not None:
            os.environ["PYTHONSAFEPATH"] = before


def _local(cluster: Any, **options: Any) -> Any:
    """Start processes that Ctrl-C does not reach: it is this process's, which ends them."""
    if not hasattr(signal, "pthread_sigmask"):
        return cluster(**options)
    # Held back, not ignored: one that comes meanwhile is delivered afterwards.
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        return cluster(**options)
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


# --- on this machine -----------------------------------------------------------------------


@dataclass
class _Sent:
    index: int
    worker: str
    began: float


class _Round:
    """The pictures of one call, and who has which."""

    def __init__(
        self,
        client: Any,
        pictures: Sequence[tuple[Model, Shot]],
        *,
        log_path: Path,
        on_done: Callable[[ShotResult], None] | None = None,
        on_start: Callable[[Shot], None] | None = None,
        on_device: Callable[[str], None] | None = None,
        on_quiet: Callable[[str], object] | None = None,
        device: str = "auto",
        timeout_s: float = FRAME_TIMEOUT_S,
    ) -> None:
        self.client, self.pictures, self.device, self.timeout_s = (
            client,
            pictures,
            device,
            timeout_s,
        )
        self.on_done = on_done or (lambda result: None)
        self.on_start = on_start or (lambda shot: None)
        self.on_device = on_device or (lambda words: None)
        self.tell = on_quiet or (lambda words: None)
        self.log_path = log_path
        self.waiting = deque(range(len(pictures)))
        self.sent: dict[Any, _Sent] = {}
        self.results: dict[int, ShotResult] = {}
        self.tries: Counter[int] = Counter()
        self.losses: Counter[int] = Counter()
        self.usable: dict[str, bool] = {}
        self.packed: dict[int, tuple[str, bytes]] = {}  # by the model's id
        self.held: dict[tuple[str, str], Any] = {}  # a model's bytes, by hash and worker

    def run(self) -> list[ShotResult]:
        """See every picture home."""
        shots = [shot for _, shot in self.pictures]
        claim(path for shot in shots for path in (shot.output, *shot.also_files))
        with temporary_folder(shots[0].output) as folder:
            for model, _ in self.pictures:
                if id(model) not in self.packed:
                    save_model(model, folder / "model.npz")
                    data = (folder / "model.npz").read_bytes()
                    self.packed[id(model)] = (hashlib.sha256(data).hexdigest(), data)
        looked, alone_since = 0.0, time.monotonic()
        try:
            while len(self.results) < len(shots):
                now = time.monotonic()
                if now - looked >= LOOK_ROUND_S:
                    self._look_round()
                    looked = now
                if any(self.usable.values()):
                    alone_since = now
                elif now - alone_since > FIRST_WORKER_S or self.usable:
                    self._nobody(now - alone_since)
                self._hand_out()
                self._take_in()
        finally:
            with suppress(Exception):  # the scheduler may be gone
                self.client.cancel(list(self.sent), force=True)
        return [self.results[i] for i in range(len(shots))]

    def _nobody(self, seconds: float) -> None:
        if seconds > FIRST_WORKER_S or not self.results:
            raise OSError("the scheduler has no worker that could be used")

    def _look_round(self) -> None:
        """Ask new workers what they are, and take back what lost ones had."""
        self._scheduler_stands()
        standing = set(self.client.scheduler_info(n_workers=-1)["workers"])
        for gone in self.usable.keys() - standing:
            if self.usable[gone]:
                self._gone(gone)
            else:
                del self.usable[gone]
        for future, sent in list(self.sent.items()):
            if sent.worker not in self.usable:
                self._lost(future)
        new = sorted(standing - self.usable.keys())
        if not new:
            return
        try:
            said = self.client.run(unfit_for, stamp(), workers=new, on_error="return")
        except (OSError, KeyError, ValueError):  # one of them went meanwhile
            self._scheduler_stands()
            return
        for worker in new:
            answer = said.get(worker, "it does not answer")
            if isinstance(answer, BaseException):
                answer = f"it has no such version: {type(answer).__name__}: {answer}"
            self.usable[worker] = not answer
            if answer:
                self.tell(f"the worker at {worker} is left out: {answer.splitlines()[0]}")

    def _scheduler_stands(self) -> None:
        if self.client.status != "running":
            raise OSError("the scheduler is lost")

    def _gone(self, worker: str) -> None:
        del self.usable[worker]  # if it comes back it is asked again
        self.tell(f"the worker at {worker} is lost; its pictures go to others")

    def _hand_out(self) -> None:
        load = Counter(sent.worker for sent in self.sent.values())
        for depth in range(IN_HAND):
            for worker in [w for w, fit in self.usable.items() if fit]:
                if self.waiting and load[worker] == depth:
                    self._send(self.waiting.popleft(), worker)
                    load[worker] += 1

    def _send(self, index: int, worker: str) -> None:
        model, shot = self.pictures[index]
        name, data = self.packed[id(model)]
        if (name, worker) not in self.held:
            try:
                (held,) = self.client.scatter([data], workers=[worker], hash=False)
            except (OSError, KeyError):  # KeyError: the scheduler has noticed before us
                self._scheduler_stands()
                self.waiting.appendleft(index)
                self._gone(worker)
                return
            self.held[name, worker] = held
        self.on_start(shot)
        bare = replace(shot, output=Path(shot.output.name)).to_json()
        self.tries[index] += 1
        key = hashlib.sha256(json.dumps([name, bare, stamp()], sort_keys=True).encode()).hexdigest()
        future = self.client.submit(
            take_picture,
            name,
            self.held[name, worker],
            bare,
            self.device,
            self.timeout_s,
            key=f"picture-{key}-{index}-{self.tries[index]}",
            workers=[worker],
            allow_other_workers=False,
            pure=False,
            retries=0,
        )
        self.sent[future] = _Sent(index, worker, time.perf_counter())

    def _take_in(self) -> None:
        ended = [future for future in self.sent if future.status != "pending"]
        if not ended:
            time.sleep(POLL_S)
        for future in ended:
            if future.status == "finished":
                self._landed(future)
            else:
                self._lost(future)

    def _landed(self, future: Any) -> None:
        try:
            answer = future.result(timeout=60)
        except Exception:  # its worker was lost before the bytes were fetched
            self._lost(future)
            return
        sent = self.sent.pop(future)
        shot = self.pictures[sent.index][1]
        error, files = answer["error"], answer["files"]
        self.on_device(answer["device"])
        if error and self.tries[sent.index] - self.losses[sent.index] < ATTEMPTS:
            self.waiting.appendleft(sent.index)
            return
        if not error:
            # The picture itself comes last: where it stands, the others stand too.
            for path in (*shot.also_files, shot.output):
                write_whole(path, files[path.name])
        self._close(sent.index, answer["seconds"], error and f"{sent.worker}: {error}")

    def _lost(self, future: Any) -> None:
        """A picture whose worker went; another has it next."""
        sent = self.sent.pop(future)
        for held in [key for key in self.held if key[1] == sent.worker]:
            del self.held[held]
        with suppress(Exception):
            self.client.cancel([future], force=True)
        self.losses[sent.index] += 1
        if self.losses[sent.index] >= LOST_TRIES:
            self._close(sent.index, 0.0, f"{LOST_TRIES} workers were lost over it")
        else:
            self.waiting.appendleft(sent.index)

    def _close(self, index: int, seconds: float, error: str) -> None:
        shot = self.pictures[index][1]
        self.results[index] = ShotResult(shot, seconds, error, self.tries[index])
        self.on_done(self.results[index])
