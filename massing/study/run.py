"""The main job: which pictures a scene asks for, which of them are new, and their sheets.

A picture is made again only when something it depends on has changed: the built model, the
sun, the camera, the look, the quality, or the code that renders. What each file was made from
is kept as a hash in ``study.json`` beside the pictures. Files appear whole or not at all, and
one run at a time writes to a folder, so that a run can be stopped at any moment and taken up
again.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass
from functools import cache, cached_property
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from massing import __version__
from massing.build.house import build
from massing.design.design import LEVEL, Design, GroundDesign
from massing.files import slug, sole_use, sweep, write_by, write_whole
from massing.geometry.mesh import Floats, Model
from massing.present import words
from massing.present.reports.tables import (
    figures_csv,
    figures_json,
    figures_text,
    findings_text,
    key_line,
)
from massing.present.sheets.contact_sheet import Heading, Panel, contact_sheet
from massing.render.run import ShotResult, render_shots
from massing.render.shots import DRAWN, Shot
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.load import LoadedScene, load_scene
from massing.scene.spec import OwnCamera
from massing.sun.position import SunTime, sun_time
from massing.view.cameras import Camera, camera_for, looking

MANIFEST = "study.json"
SHADOWS = "shadows"
RENDER_LOG = "render.log"
SIZES_PX = {"draft": (800, 500), "final": (1600, 1000)}


@dataclass(frozen=True)
class Study:
    """A scene made ready: its designs with every dimension known, and its suns."""

    loaded: LoadedScene
    designs: tuple[Design, ...]
    suns: tuple[SunTime, ...]

    @cached_property
    def models(self) -> dict[str, Model]:
        """The built model of each design, by name.

        Raises:
            SceneError: parts of a design collide.
        """
        models = {}
        for design in self.designs:
            try:
                models[design.name] = build(design)
            except DesignError as fault:
                raise self.loaded.error(design.name, fault) from None
            except ValueError as fault:
                raise self.loaded.build_error(design.name, fault) from None
        return models

    def build(self) -> None:
        """Build every design now, to know that all can be built.

        Raises:
            SceneError: parts of a design collide.
        """
        _ = self.models

    @cached_property
    def bounds_m(self) -> Floats:
        """``(2, 3)`` box round the buildings of all designs, so that all share one framing."""
        boxes = np.array([model.building_bounds for model in self.models.values()])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


@dataclass(frozen=True)
class Picture:
    """One picture that a scene asks for; ``path`` is under the study's folder.

    ``also`` names the kinds of file it is written as besides; see :data:`~.shots.ALSO`.
    """

    design: str
    view: str
    sun: SunTime
    look: str
    camera: Camera
    path: str
    key: str
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class Outcome:
    """What a run did: files made anew, pictures that stood already, errors of those that failed."""

    folder: Path
    made: tuple[str, ...]
    kept: tuple[str, ...]
    failed: dict[str, str]


def read_study(path: Path | str, text: str | None = None) -> Study:
    """Read and resolve a scene, and set its times in their place.

    Args:
        path: the scene file.
        text: what the file would hold, for a scene that is being edited.

    Raises:
        SceneError: with the line of the fault; also where a time has no sun to light a picture.
    """
    loaded = load_scene(path, text)
    designs = []
    for name, spec in loaded.designs.items():
        try:
            designs.append(resolve(spec, name, loaded.lines[name]))
        except DesignError as fault:
            raise loaded.error(name, fault) from None
    suns = []
    for index, text in enumerate(loaded.scene.times):
        try:
            sun = sun_time(text, designs[0].site)
            if not sun.is_up:
                raise ValueError(f"given {text}, allowed: a time with the sun up; {sun.note}")
        except ValueError as fault:
            raise loaded.time_error(index, fault) from None
        suns.append(sun)
    return Study(loaded, tuple(designs), tuple(suns))


# --- which pictures ------------------------------------------------------------------------


def choose(study: Study, only: Iterable[str]) -> dict[str, set[str]]:
    """What ``only`` picks of each kind: ``designs``, ``times``, ``views``, ``looks``.

    A word picks what it names, or what alone begins with it or holds it, in any case of
    letters. A kind of which nothing is named is left whole.

    Raises:
        ValueError: a word that names nothing, or several things alike.
    """
    scene = study.loaded.scene
    kinds: dict[str, Sequence[str]] = {
        "designs": [design.name for design in study.designs],
        "times": scene.times,
        "views": [*scene.views, *(camera.name for camera in scene.cameras)],
        "looks": scene.looks,
    }
    picked: dict[str, set[str]] = {kind: set() for kind in kinds}
    everything = [(kind, name) for kind, names in kinds.items() for name in names]
    for word in only:
        wanted = " ".join(word.lower().split())
        found: list[tuple[str, str]] = []
        for like in (str.__eq__, str.startswith, str.__contains__):
            found = found or [item for item in everything if like(item[1].lower(), wanted)]
        names = [name for _, name in found]
        if len(found) != 1 or not wanted:
            given = f"--only: given {word}, allowed: "
            if found and wanted:
                raise ValueError(f"{given}one of {', '.join(names)} by more of its name")
            raise ValueError(f"{given}{', '.join(name for _, name in everything)}")
        picked[found[0][0]].add(found[0][1])
    return {kind: picked[kind] or set(names) for kind, names in kinds.items()}


def pictures(
    study: Study,
    quality: str,
    size_px: tuple[int, int] | None = None,
    also: Sequence[str] = (),
) -> list[Picture]:
    """Every picture that the scene asks for, grouped by design."""
    width_px, height_px = size_px or SIZES_PX[quality]
    scene = study.loaded.scene
    focus = focus_points(study.designs)
    ground = study.designs[0].site.ground
    cameras: dict[str, Camera] = {
        view: camera_for(
            view,
            study.bounds_m,
            width_px=width_px,
            height_px=height_px,
            focus=focus,
            ground=ground,
        )
        for view in dict.fromkeys(scene.views)
    }
    cameras |= {own.name: own_camera(own, width_px, height_px, ground) for own in scene.cameras}
    made = []
    for design in study.designs:
        shape = model_hash(study.models[design.name])
        for sun in study.suns:
            for view, camera in cameras.items():
                for look in dict.fromkeys(scene.looks):
                    if look == DRAWN and not camera.is_elevation:
                        continue
                    light = [sun.direction, sun.altitude_deg, sun.dni_w_m2, sun.dhi_w_m2]
                    code = _code_hash("present" if look == DRAWN else "render")
                    key = _hash(shape, camera.to_json(), light, look, quality, code)
                    name = _file_name(view, sun, look)
                    path = f"{slug(design.name)}/{name}"
                    made.append(
                        Picture(design.name, view, sun, look, camera, path, key, tuple(also))
                    )
    return made


def own_camera(
    own: OwnCamera, width_px: int, height_px: int, ground: GroundDesign = LEVEL
) -> Camera:
    """A scene's own camera in the house's frame."""
    stand, target = (
        (p.along, -p.before, p.height + float(ground.z_m(p.along, -p.before)))
        for p in (own.stand, own.look_at)
    )
    return looking(
        own.name,
        stand,
        target,
        focal_mm=1000.0 * own.lens,
        width_px=width_px,
        height_px=height_px,
    )


def _file_name(view: str, sun: SunTime, look: str) -> str:
    return f"{slug(view)}_{slug(sun.label)}_{slug(look)}.png"


def focus_points(designs: Sequence[Design]) -> dict[str, Floats]:
    """What the close views look at, common to all designs; see ``view.cameras.Subject``."""
    capitals, lows, highs = [], [], []
    for design in designs:
        porch = design.porch.highest
        reach = porch.frieze_half_depth_m + porch.order.cornice_projection_m
        across, front_y = porch.axes_m[-1] + reach, porch.column_y_m - reach
        capitals += [
            [x, porch.column_y_m, porch.column_top_z_m]
            for x in porch.axes_m[:: len(porch.axes_m) - 1]
        ]
        lows.append([-across, front_y, porch.column_top_z_m])
        highs.append([across, design.porch.back_y_m, porch.top_z_m])
    low, high = np.min(lows, axis=0), np.max(highs, axis=0)
    front_y = min(_foremost_y(design) for design in designs)
    foot_z = min(0.0, *(design.porch.steps.foot_z_m for design in designs))
    top_z = max(_topmost_z(design) for design in designs)
    return {
        "capital": np.array(capitals),
        "entablature": np.array([low, high]),
        "porch": np.array([[low[0], front_y, foot_z], [high[0], high[1], top_z]]),
        "bay": np.array([[_open_bay_m(designs), 0.0, 0.0]]),
    }


def _foremost_y(design: Design) -> float:
    """Where the porch on its ground reaches farthest before the house: cornice or steps."""
    porch, steps = design.porch, design.porch.steps
    cornice = porch.frieze_half_depth_m + porch.order.cornice_projection_m
    return porch.column_y_m - max(cornice, porch.floor_edge_m + steps.run_m)


def _topmost_z(design: Design) -> float:
    """The top of the porch: its entablature, or the balustrade over it."""
    porch = design.porch.highest
    rail = porch.balustrade.height_m if porch.balustrade else 0.0
    return porch.top_z_m + porch.blocking_course_m + rail


def _open_bay_m(designs: Sequence[Design]) -> float:
    """A place along the front that is clear of every design's columns, the middle if it is."""
    axes = np.concatenate([design.porch.axes_m for design in designs])
    bays = np.concatenate(
        [(np.array(d.porch.axes_m[1:]) + d.porch.axes_m[:-1]) / 2 for d in designs]
    )
    bays = np.append(0.0, bays[bays >= -1e-9])
    clear = np.abs(bays[:, None] - axes).min(axis=1)
    widest = max(design.porch.order.plinth_width_m for design in designs)
    return float(bays[0] if clear[0] > widest else bays[np.argmax(clear)])


# --- making them ---------------------------------------------------------------------------


def run_study(
    study: Study,
    folder: Path,
    *,
    only: Iterable[str] = (),
    quality: str = "draft",
    size_px: tuple[int, int] | None = None,
    progress: Callable[[int, int, str], object] = lambda done, total, what: None,
    say: Callable[[str], object] = lambda text: None,
    shadows: bool = False,
    also: Sequence[str] = (),
    pairs: bool = False,
    **render_options: Any,
) -> Outcome:
    """Make what is new: pictures, sheets, figures and findings.

    Args:
        folder: where to; made if need be.
        only: names of designs, times, views or looks; see :func:`choose`.
        quality: ``draft`` or ``final``.
        size_px: width and height of a picture, else by quality.
        progress: told how many pictures are done, of how many, and which is in hand or done.
        say: told what a designer should know meanwhile.
        shadows: also measure sun and shadow on the models, in ``shadows/``.
        also: kinds of file, besides PNG, that each picture is written as.
        pairs: also lay each alternative beside the design as drawn, in ``sheets/pairs/``.
        render_options: handed to :func:`massing.render.run.render_shots`.

    Raises:
        ValueError: ``only`` names nothing.
    """
    choice = choose(study, only)
    asked = pictures(study, quality, size_px, also)
    picked = [
        p
        for p in asked
        if p.design in choice["designs"]
        and p.sun.label in choice["times"]
        and p.view in choice["views"]
        and p.look in choice["looks"]
    ]
    with sole_use(folder, lambda: say(f"{folder} is in use by another run; waiting for it")):
        sweep(folder)
        manifest = _read_manifest(folder)
        todo = [p for p in picked if not _stands(study, folder, manifest, p, quality)]
        made, failed = _render(study, folder, manifest, todo, quality, progress, render_options)
        made += _sheets(study, folder, manifest, asked, picked, pairs)
        made += _write_figures(study, folder)
        if shadows:
            made += _measure_shadows(study, folder, manifest, say)
        kept = [p.path for p in picked if p.path not in made and p.path not in failed]
    return Outcome(folder, tuple(made), tuple(kept), failed)


def _render(
    study: Study,
    folder: Path,
    manifest: dict[str, str],
    todo: Sequence[Picture],
    quality: str,
    progress: Callable[[int, int, str], object],
    options: dict[str, Any],
) -> tuple[list[str], dict[str, str]]:
    """Render, design by design; the manifest is on disk after every finished picture."""
    made: list[str] = []
    failed: dict[str, str] = {}
    progress(0, len(todo), "")
    for name in dict.fromkeys(p.design for p in todo):
        mine = {folder / p.path: p for p in todo if p.design == name}
        for path in mine:
            path.parent.mkdir(parents=True, exist_ok=True)

        def finished(result: ShotResult, mine: dict[Path, Picture] = mine) -> None:
            picture = mine[result.shot.output]
            if result.error:
                failed[picture.path] = result.error
            else:
                made.append(picture.path)
                for path in (result.shot.output, *result.shot.also_files):
                    manifest[path.relative_to(folder).as_posix()] = picture.key
                _write_manifest(folder, manifest)
            progress(len(made) + len(failed), len(todo), _words(picture))

        def started(shot: Shot, mine: dict[Path, Picture] = mine) -> None:
            progress(len(made) + len(failed), len(todo), _words(mine[shot.output]))

        shots = [_shot(study, picture, path, quality) for path, picture in mine.items()]
        log = folder / RENDER_LOG
        hooks: dict[str, Any] = {"on_start": started, "on_done": finished}
        render_shots(study.models[name], shots, log_path=log, **hooks, **options)
    return made, failed


def _stands(
    study: Study, folder: Path, manifest: dict[str, str], picture: Picture, quality: str
) -> bool:
    """Whether the picture stands as it would be made now, in every kind of file asked for."""
    shot = _shot(study, picture, folder / picture.path, quality)
    files = [path.relative_to(folder).as_posix() for path in (shot.output, *shot.also_files)]
    return all(_current(folder, manifest, path, picture.key) for path in files)


def _words(picture: Picture) -> str:
    return f"{picture.design} · {picture.view} · {picture.sun.label} · {picture.look}"


def _shot(study: Study, picture: Picture, path: Path, quality: str) -> Shot:
    sun = picture.sun
    return Shot(
        camera=picture.camera,
        output=path,
        sun_direction=sun.direction,
        altitude_deg=sun.altitude_deg,
        look=picture.look,
        quality=quality,
        beam_w_m2=sun.dni_w_m2,
        diffuse_w_m2=sun.dhi_w_m2,
        metadata={
            "Title": f"{study.loaded.scene.title}: {picture.design}",
            "Description": f"{words.view_and_look(picture.view, picture.look)}; "
            f"{words.light_line(study.loaded.scene.site.place, sun)}",
            "Software": f"massing {__version__}, {quality}",
        },
        also=picture.also,
    )


def _sheets(
    study: Study,
    folder: Path,
    manifest: dict[str, str],
    asked: Sequence[Picture],
    picked: Sequence[Picture],
    pairs: bool,
) -> list[str]:
    """A sheet for each time, view and look picked, of all designs whose pictures are current.

    With ``pairs``, also one for each alternative picked, beside the design as drawn.
    """
    drawn = study.designs[0].name
    made = []
    for sheet in dict.fromkeys((p.sun, p.view, p.look) for p in picked):
        group = [
            p
            for p in asked
            if (p.sun, p.view, p.look) == sheet and _current(folder, manifest, p.path, p.key)
        ]
        groups = {f"sheets/{Path(p.path).name}": group for p in group[:1]}
        if pairs and group and group[0].design == drawn:
            chosen = {p.design for p in picked}
            groups |= {
                f"sheets/pairs/{slug(p.design)}_{Path(p.path).name}": [group[0], p]
                for p in group[1:]
                if p.design in chosen
            }
        made += [
            path for path, of in groups.items() if _lay_sheet(study, folder, manifest, path, of)
        ]
    return made


def _lay_sheet(
    study: Study, folder: Path, manifest: dict[str, str], path: str, group: Sequence[Picture]
) -> bool:
    """Lay one sheet where it does not stand already; whether it was laid."""
    scene = study.loaded.scene
    by_name = {design.name: design for design in study.designs}
    sun, view, look = group[0].sun, group[0].view, group[0].look
    lines = {p.design: key_line(by_name[p.design], sun) for p in group}
    heading = Heading(
        scene.title, words.view_and_look(view, look), words.light_line(scene.site.place, sun)
    )
    key = _hash([p.key for p in group], lines, asdict(heading), scene.units, _code_hash("present"))
    if _current(folder, manifest, path, key):
        return False
    panels = [
        Panel(p.design, lines[p.design], Image.open(folder / p.path).convert("RGB")) for p in group
    ]
    camera = group[0].camera
    scale = camera.metres_per_pixel if camera.kind == "ortho" else None
    image = contact_sheet(panels, heading, units=scene.units, metres_per_pixel=scale)
    write_by(folder / path, image.save)
    manifest[path] = key
    _write_manifest(folder, manifest)
    return True


def _measure_shadows(
    study: Study, folder: Path, manifest: dict[str, str], say: Callable[[str], object]
) -> list[str]:
    """Sun and shadow on the models, measured again only when models, suns or code changed."""
    from massing.study.shadows import write_shadows

    shapes = [model_hash(study.models[design.name]) for design in study.designs]
    suns = [[sun.label, sun.when and sun.when.isoformat(), sun.direction] for sun in study.suns]
    code = [_code_hash("."), _code_hash("present")]
    key = _hash(shapes, suns, asdict(study.designs[0].site), study.loaded.scene.units, code)
    mark = f"{SHADOWS}/shadows.csv"
    if _current(folder, manifest, mark, key):
        return []
    report = write_shadows(study, folder / SHADOWS, say=say)
    manifest[mark] = key
    _write_manifest(folder, manifest)
    return [f"{SHADOWS}/{name}" for name in report.made]


def _write_figures(study: Study, folder: Path) -> list[str]:
    """Figures and findings, as files that are touched only when they change."""
    contents = {
        "figures.json": figures_json(study.designs, study.suns),
        "figures.csv": figures_csv(study.designs, study.suns),
        "figures.txt": figures_text(study.designs, study.suns),
        "findings.txt": findings_text(study.designs),
    }
    made = []
    for name, text in contents.items():
        path = folder / name
        if not path.exists() or path.read_bytes() != text.encode("utf-8"):
            write_whole(path, text)
            made.append(name)
    return made


# --- what has changed ----------------------------------------------------------------------


def model_hash(model: Model) -> str:
    """A hash of all that a model shows: names, roles, shapes and placements."""
    digest = hashlib.sha256()
    for part in model.parts:
        digest.update(f"{part.name}\0{part.role}\0{part.count}\0".encode())
        for array in (part.mesh.vertices, part.mesh.faces, part.placements):
            if array is not None:
                digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()


@cache
def _code_hash(room: str) -> str:
    """A hash of one room's code, ``.`` being the hall; for the one that renders, of Blender too."""
    digest = hashlib.sha256()
    for source in sorted((Path(__file__).parent.parent / room).rglob("*.py")):
        digest.update(source.read_bytes())
    if room == "render":
        digest.update(_blender_version().encode())
    return digest.hexdigest()


def _blender_version() -> str:
    """The version of Blender's module, or of the Blender that this runs in; "" without either."""
    try:
        return version("bpy")
    except PackageNotFoundError:
        blender = sys.modules.get("bpy")
        return "" if blender is None else str(blender.app.version_string)


def _hash(*values: Any) -> str:
    return hashlib.sha256(json.dumps(values, sort_keys=True).encode()).hexdigest()


def _current(folder: Path, manifest: dict[str, str], path: str, key: str) -> bool:
    return manifest.get(path) == key and (folder / path).is_file()


def _read_manifest(folder: Path) -> dict[str, str]:
    try:
        files = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))["files"]
        return {str(path): str(key) for path, key in files.items()}
    except (OSError, ValueError, KeyError, AttributeError, TypeError):
        return {}


def _write_manifest(folder: Path, manifest: dict[str, str]) -> None:
    content = {"version": __version__, "files": dict(sorted(manifest.items()))}
    write_whole(folder / MANIFEST, json.dumps(content, indent=1) + "\n")
