"""Cameras and pictures: one view in this Blender, or the whole study by workers of its own."""

from __future__ import annotations

import json
import os
import sys
import tempfile
import threading
from pathlib import Path

import bpy

from massing.files import NotOwnFolderError, claim, own_folder, slug
from massing.render.blender.camera import place_camera
from massing.render.blender.studio import set_up
from massing.render.driver.shots import Shot
from massing.scene.errors import SceneError
from massing.study.pictures import pictures
from massing.study.run import Outcome, run_study
from massing.study.study import Study, read_study
from massing.sun.position import sun_time
from massing.view.cameras import Camera

from . import session, tree

CAMERA = "massing_view"


def cameras(scene: bpy.types.Scene, quality: str) -> dict[str, Camera]:
    """The named views of the scene file, framed for all its designs alike.

    Raises:
        SceneError: a design of the scene file is at fault.
    """
    return {p.view: p.camera for p in pictures(_study(scene), quality)}


def place_cameras(scene: bpy.types.Scene, quality: str) -> list[bpy.types.Object]:
    """One camera object for each named view, in a collection of their own."""
    before = scene.camera
    placed = []
    home = tree.own_collection(scene, "cameras", "cameras")
    for view, camera in cameras(scene, quality).items():
        scene.camera = next((o for o in scene.objects if o.get(CAMERA) == view), None)
        made = place_camera(scene, camera)
        if CAMERA not in made:
            made[CAMERA] = view
            for collection in made.users_collection:
                collection.objects.unlink(made)
            home.objects.link(made)
        placed.append(made)
    kept = before if before is not None and CAMERA not in before else placed[0]
    scene.camera = kept
    return placed


def ready(scene: bpy.types.Scene, view: str, quality: str) -> Path:
    """Set up one view of the design as shown; where its picture goes.

    Raises:
        SceneError: the sun is down, a design is at fault, the view wants the model cut, or the
            folder is not the tool's own.
    """
    state = scene.massing
    camera = cameras(scene, quality)[view]
    sun = sun_time(state.time_text, session.shown_design(state).site)
    for wrong, given, allowed in (
        (camera.cut is not None, view, "a view without a cut; the whole study has it"),
        (not sun.is_up, state.time_text, f"a time with the sun up; {sun.note}"),
    ):
        if wrong:
            raise SceneError(state.path, None, f"given {given}, allowed: {allowed}")
    placed = {o[CAMERA]: o for o in place_cameras(scene, quality)}
    scene.camera = placed[view]
    name = f"{view}_{slug(state.time_text)}_{state.look}.png"
    shot = Shot(
        camera=camera,
        output=folder(scene, quality) / slug(state.shown) / name,
        sun_direction=sun.direction,
        altitude_deg=sun.altitude_deg,
        look=state.look,
        quality=quality,
        beam_w_m2=sun.dni_w_m2,
        diffuse_w_m2=sun.dhi_w_m2,
    )
    set_up(scene, shot, tree.own_collection(scene, "cameras", "cameras"))
    try:
        own_folder(folder(scene, quality))
        claim([shot.output])  # Blender itself will write it
    except NotOwnFolderError as fault:
        raise SceneError(state.path, None, fault) from None
    scene.render.filepath = str(shot.output)
    return shot.output


def folder(scene: bpy.types.Scene, quality: str) -> Path:
    """Where pictures go: renders/ beside the scene file."""
    path = Path(scene.massing.path)
    suffix = "" if quality == "draft" else f"-{quality}"
    return path.parent / "renders" / f"{path.stem}{suffix}"


def _study(scene: bpy.types.Scene) -> Study:
    state = scene.massing
    return read_study(Path(state.path), session.edited(state))


class StudyRun:
    """The whole study in a thread, which leaves Blender free: workers do the rendering."""

    def __init__(self, scene: bpy.types.Scene, quality: str) -> None:
        """Read the study; raises SceneError where it cannot be made."""
        self.study = _study(scene)
        self.folder = folder(scene, quality)
        self.quality = quality
        self.words = "starting"
        self.outcome: Outcome | None = None
        self.fault = ""
        self._stopping = False
        self._command = worker_command()
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Begin; look at :attr:`words`, :attr:`outcome` and :attr:`fault` meanwhile."""
        self._thread.start()

    @property
    def running(self) -> bool:
        """Whether it is still at work."""
        return self._thread.is_alive()

    def stop(self) -> None:
        """End after the picture in hand; what is finished is kept."""
        self._stopping = True

    def wait(self) -> None:
        """Return when it has ended."""
        self._thread.join()

    def _run(self) -> None:
        try:
            # A user folder of their own: a Blender that finds an extension switched off, as
            # these do, takes its packages away from the user's.
            with tempfile.TemporaryDirectory(prefix="massing-") as own:
                self.outcome = run_study(
                    self.study,
                    self.folder,
                    quality=self.quality,
                    progress=self._progress,
                    command=self._command,
                    environment={**os.environ, "BLENDER_USER_RESOURCES": own},
                )
        except _StoppedError:
            self.fault = "stopped; what is finished is kept, render again to go on"
        except Exception as error:  # a thread has no one else to tell
            self.fault = " ".join(str(error).split()) or type(error).__name__

    def _progress(self, done: int, total: int, what: str) -> None:
        self.words = f"{done} of {total} {what}".strip()
        if self._stopping:
            raise _StoppedError


class _StoppedError(Exception):
    """The user asked to stop."""


def worker_command() -> list[str]:
    """How to start a render worker: this Blender without its window, or the module's Python."""
    start = str(Path(__file__).with_name("worker.py"))
    paths = json.dumps([p for p in sys.path if p])
    if bpy.app.binary_path:
        blender = [bpy.app.binary_path, "--background", "--factory-startup"]
        return [*blender, "--python", start, "--", paths]
    return [sys.executable, start, paths]
