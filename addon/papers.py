"""Board, page, drawings and sizes, made by the command line in a process of its own."""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
import tempfile
import threading
from pathlib import Path

import bpy

from massing.files import slug

from . import pictures, session

# What the command is given for each kind, and the name of what it writes in the study's folder.
_MAKES = {
    "board": (("board", "--draft"), "board.pdf"),
    "page": (("page",), "page.html"),
    "drawings": (("drawings", "--format", "pdf", "--format", "dxf"), "drawings"),
    "sizes": (("sizes",), "sizes.xlsx"),
}


class PaperRun:
    """A paper being made of the text in hand; its lines are how far it is."""

    def __init__(self, scene: bpy.types.Scene, kind: str) -> None:
        """Make ready; raises SceneError where there is no place for it."""
        state = scene.massing
        self.folder = pictures.folder(scene, "draft")
        self.words, self.fault = "starting", ""
        self._text = session.in_hand(state)
        self._home = session.output_home(state)
        given, name = _MAKES[kind]
        self._output = self.folder / name
        if kind == "drawings":
            self._output = self.folder / "drawings" / slug(state.shown)
            given = (*given, "--design", state.shown)
        place = ("--out", str(self._output))
        if kind == "page" and self.folder.is_dir():
            place += ("--pictures", str(self.folder))
        self._arguments = [given[0], "-", *given[1:], *place]
        self._said: list[str] = []
        self._process: subprocess.Popen[str] | None = None
        self._stopping = False
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    @property
    def running(self) -> bool:
        """Whether it is still at work."""
        return self._thread.is_alive()

    def stop(self) -> None:
        """End it; nothing half written stays."""
        self._stopping, self.words = True, "stopping"
        if self._process is not None and self._process.poll() is None:
            self._process.terminate()

    def wait(self) -> None:
        """Return when it has ended."""
        self._thread.join()

    def told(self) -> tuple[list[str], str]:
        """What went wrong, and the outcome in a few words."""
        if self.fault:  # to have been stopped is no fault
            return [] if self._stopping else [self.fault], self.fault
        return [], f"Made: {self._output.relative_to(self.folder).as_posix()}"

    def _run(self) -> None:
        try:
            with tempfile.TemporaryDirectory(prefix="massing-") as own:
                self._work(own)
        except OSError as error:  # a thread has no one else to tell
            self.fault = " ".join(str(error).split())

    def _work(self, own: str) -> None:
        self._process = subprocess.Popen(
            [*_command(), json.dumps(self._arguments)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            encoding="utf-8",
            errors="replace",
            cwd=self._home,
            env={**os.environ, "BLENDER_USER_RESOURCES": own, "PYTHONIOENCODING": "utf-8"},
        )
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        if self._stopping:  # before there was a process to end
            self._process.terminate()
        with contextlib.suppress(BrokenPipeError), self._process.stdin as given:
            given.write(self._text)
        for line in self._process.stdout:
            if line.strip():
                self._said.append(line.strip())
                if not self._stopping:
                    self.words = line.strip()[:120]
        code = self._process.wait()
        if self._stopping:
            self.fault = "stopped"
        elif code:
            self.fault = self._said[-1] if self._said else f"ended with code {code}"


def _command() -> list[str]:
    start = str(Path(__file__).with_name("command.py"))
    handed = (json.dumps([p for p in sys.path if p]), json.dumps(pictures.worker_command()))
    if bpy.app.binary_path:
        blender = [bpy.app.binary_path, "--background", "--factory-startup"]
        return [*blender, "--python", start, "--", *handed]
    return [sys.executable, start, *handed]
