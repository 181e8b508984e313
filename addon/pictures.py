"""Cameras and pictures: one view in this Blender, or the whole study by workers of its own.

Pictures are taken in a scene of their own that shows what stands in the user's, so that engine,
size, colour, world and file of the user's scene are left as they are.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import bpy

from massing.files import own_folder, slug, sole_use, write_by
from massing.render.blender.camera import place_camera
from massing.render.blender.light import sky_world
from massing.render.blender.objects import OWN
from massing.render.blender.studio import set_up
from massing.render.driver.shots import Shot
from massing.scene.errors import SceneError
from massing.study.pictures import pictures
from massing.study.study import Study, read_study
from massing.view.camera import Camera

from . import light, session, tree

CAMERA = "massing_view"
PICTURES = "pictures"
VIEWS = "views"


def cameras(scene: bpy.types.Scene, quality: str) -> dict[str, Camera]:
    """The named views of the scene file, framed for all its designs alike.

    Raises:
        SceneError: a design of the scene file is at fault.
    """
    return {p.view: p.camera for p in pictures(_study(scene), quality)}


def place_cameras(scene: bpy.types.Scene, quality: str) -> list[bpy.types.Object]:
    """One camera object for each named view, in a collection of their own."""
    return list(_placed(scene, picture_scene(scene), quality).values())


def _placed(
    scene: bpy.types.Scene, taken_in: bpy.types.Scene, quality: str
) -> dict[str, bpy.types.Object]:
    state = scene.massing
    home = tree.own_collection(scene, "cameras", state.house, "cameras")
    standing = {o[CAMERA]: o for o in home.objects if CAMERA in o and o.library is None}
    placed = {}
    for view, camera in cameras(scene, quality).items():
        taken_in.camera = standing.get(view)
        made = place_camera(taken_in, camera)
        if view not in standing:
            made[CAMERA] = view
            for collection in made.users_collection:
                collection.objects.unlink(made)
            home.objects.link(made)
        placed[view] = made
    if scene.camera is None or tree.ASIDE in scene.camera:
        scene.camera = next(iter(placed.values()), scene.camera)
    return placed


def picture_scene(scene: bpy.types.Scene) -> bpy.types.Scene:
    """The scene that pictures are taken in, showing what stands in the user's now."""
    state = scene.massing
    own = next(
        (
            s
            for s in bpy.data.scenes
            if s.library is None and s.get(OWN) == PICTURES and s.get(tree.HOUSE) == state.house
        ),
        None,
    )
    if own is None:
        own = bpy.data.scenes.new(f"{scene.name} pictures")
        own[OWN], own[tree.HOUSE] = PICTURES, state.house
        own.world = sky_world("sky of pictures")
    shown = [c for c in scene.collection.children if c.get(OWN) != light.LIGHT]
    for child in own.collection.children:
        if child not in shown:
            own.collection.children.unlink(child)
    for child in shown:
        if child.name not in own.collection.children:
            own.collection.children.link(child)
    guests = list(scene.collection.objects)
    for there in own.collection.objects:
        if there not in guests and OWN not in there:
            own.collection.objects.unlink(there)
    for guest in guests:
        if guest.name not in own.collection.objects:
            own.collection.objects.link(guest)
    return own


def put_away(scene: bpy.types.Scene) -> None:
    """Take away the scene that pictures were taken in, and the cameras."""
    house = scene.massing.house
    home = tree.own_collection(scene, "cameras", house, "cameras")
    ours = [o for o in home.objects if CAMERA in o and o.library is None]
    if scene.camera in ours:
        scene.camera = next(
            (o for o in scene.objects if tree.ASIDE in o and o.type == "CAMERA"), None
        )
    for own in [s for s in bpy.data.scenes if s.get(OWN) == PICTURES and s.library is None]:
        if own.get(tree.HOUSE) == house:
            for made in [o for o in own.collection.objects if OWN in o]:
                bpy.data.objects.remove(made)
            world = own.world
            bpy.data.scenes.remove(own)
            if world is not None and world.users == 0:
                bpy.data.worlds.remove(world)
    for made in ours:
        data = made.data
        bpy.data.objects.remove(made)
        if data.users == 0:
            bpy.data.cameras.remove(data)
    if not home.all_objects:
        bpy.data.collections.remove(home)


def ready(scene: bpy.types.Scene, view: str, quality: str) -> tuple[bpy.types.Scene, Path]:
    """Set up one view of the design as shown: the scene to render, and its picture's place.

    Raises:
        SceneError: the sun is down, a design is at fault, the view wants the model cut, or
            there is no place that pictures may go to.
        NotOwnFolderError: their folder holds what the tool did not make.
    """
    state = scene.massing
    session.settle(scene)
    home = folder(scene, quality, VIEWS)
    known = cameras(scene, quality)
    sun = session.shown_sun(state)
    for wrong, given, allowed in (
        (view not in known, view, f"one of {', '.join(known)}"),
        (
            view in known and known[view].cut is not None,
            view,
            "a view without a cut; the whole study has it",
        ),
        (not sun.is_up, state.time_text, f"a time with the sun up; {sun.note}"),
    ):
        if wrong:
            raise SceneError(state.path, None, f"given {given}, allowed: {allowed}")
    own_folder(home)
    own = picture_scene(scene)
    own.camera = _placed(scene, own, quality)[view]
    name = f"{slug(view)}_{slug(state.time_text)}_{slug(state.look)}.png"
    shot = Shot(
        camera=known[view],
        output=home / slug(state.shown) / name,
        sun_direction=sun.direction,
        altitude_deg=sun.altitude_deg,
        look=state.look,
        quality=quality,
        beam_w_m2=sun.dni_w_m2,
        diffuse_w_m2=sun.dhi_w_m2,
    )
    set_up(own, shot, own.collection)
    return own, shot.output


def take(own: bpy.types.Scene, output: Path, done: Callable[[str], None]) -> None:
    """Render a scene to a file that appears whole or not at all; ``done`` gets a fault or ""."""
    home = output.parents[1]
    kept = Path(tempfile.mkdtemp(prefix="massing-"))
    rendered = kept / f"picture{output.suffix}"
    own.render.filepath = str(rendered)

    def finish(*_: object) -> None:
        _forget()
        fault = ""
        try:
            with sole_use(home, lambda: None):
                write_by(output, lambda temporary: shutil.copyfile(rendered, temporary))
        except OSError as error:
            fault = " ".join(str(error).split())
        shutil.rmtree(kept, ignore_errors=True)
        done(fault)

    def drop(*_: object) -> None:
        _forget()
        shutil.rmtree(kept, ignore_errors=True)
        done("stopped")

    def _forget() -> None:
        on = bpy.app.handlers
        for handlers, ours in ((on.render_complete, finish), (on.render_cancel, drop)):
            if ours in handlers:
                handlers.remove(ours)

    if bpy.app.background:
        bpy.ops.render.render(write_still=True, scene=own.name)
        finish()
        return
    bpy.app.handlers.render_complete.append(finish)
    bpy.app.handlers.render_cancel.append(drop)
    bpy.ops.render.render("INVOKE_DEFAULT", write_still=True, scene=own.name)


def folder(scene: bpy.types.Scene, quality: str, what: str = "") -> Path:
    """Where pictures go: a folder in renders/ beside the scene file, one for each quality.

    Single views have folders of their own: a study's holds only what the study made.

    Raises:
        SceneError: the scene file is not known to be one.
    """
    state = scene.massing
    home = session.output_home(state)
    suffix = "".join(f"-{word}" for word in (what, quality) if word not in ("", "draft"))
    return home / "renders" / f"{session.scene_path(state).stem}{suffix}"


def _study(scene: bpy.types.Scene) -> Study:
    state = scene.massing
    return read_study(session.scene_path(state), session.in_hand(state))


class StudyRun:
    """The whole study in a thread, which leaves Blender free: workers do the rendering."""

    def __init__(self, scene: bpy.types.Scene, quality: str) -> None:
        """Read the study; raises SceneError where it cannot be made."""
        self.study = _study(scene)
        self.folder = folder(scene, quality)
        self.quality = quality
        self.words = "starting"
        self.outcome: Any = None
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
        self.words = "stopping after the picture in hand"

    def wait(self) -> None:
        """Return when it has ended."""
        self._thread.join()

    def told(self) -> tuple[list[str], str]:
        """What went wrong, a line each, and the outcome in a few words."""
        if self.outcome is None:
            return [] if self._stopping else [self.fault], self.fault
        failed = [f"{path}: {error}" for path, error in self.outcome.failed.items()]
        words = f"{len(self.outcome.made)} files made, {len(self.outcome.kept)} pictures kept"
        return failed, f"{words}, {len(failed)} failed" if failed else words

    def _run(self) -> None:
        from massing.study.run import run_study  # what sheets and figures need, when asked for

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
        if self._stopping:
            raise _StoppedError
        self.words = f"{done} of {total} {what}".strip()


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
