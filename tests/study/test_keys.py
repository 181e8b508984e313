"""A picture's key moves with everything that it is made from, and with nothing else."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from massing.geometry.mesh import Mesh
from massing.render.driver.shots import DRAWN
from massing.study import code
from massing.study.manifest import model_hash
from massing.study.pictures import picture_key, pictures, shot_of
from massing.study.study import read_study
from tests.helpers.hostile import SCENE

SIZE = (64, 40)


@pytest.fixture(scope="module")
def study(tmp_path_factory):
    path = tmp_path_factory.mktemp("keys") / "scene.yaml"
    path.write_text(SCENE.replace("looks: [clay]", "looks: [clay, drawn]").split("drawing:")[0])
    return read_study(path)


@pytest.fixture(scope="module")
def model(study):
    return study.models["as drawn"]


@pytest.fixture(scope="module")
def shots(study):
    return {p.look: shot_of(study, p) for p in pictures(study, "draft", SIZE)}


def with_part(model, change):
    first, *rest = model.parts
    return replace(model, parts=(change(first), *rest))


def moved(part):
    vertices = part.mesh.vertices.copy()
    vertices[0] += 1e-9
    return replace(part, mesh=Mesh(vertices, part.mesh.faces))


def turned(part):
    return replace(part, mesh=Mesh(part.mesh.vertices, part.mesh.faces[:, [1, 2, 0]]))


MODELS = {
    "a vertex": lambda m: with_part(m, moved),
    "a face": lambda m: with_part(m, turned),
    "a role": lambda m: with_part(m, lambda p: replace(p, role="brick")),
    "a placement": lambda m: with_part(m, lambda p: replace(p, placements=np.eye(4)[None])),
    "solidity": lambda m: with_part(m, lambda p: replace(p, solid=not p.solid)),
    "a part more": lambda m: replace(m, parts=(*m.parts, m.parts[0])),
    "the order of parts": lambda m: replace(m, parts=m.parts[::-1]),
    "a note": lambda m: replace(m, notes={**m.notes, "roof colour": "green"}),
}


@pytest.mark.parametrize("what", MODELS)
def test_the_key_moves_with_the_model(model, what):
    assert model_hash(MODELS[what](model)) != model_hash(model)


def test_the_key_moves_with_a_placement_s_place(model):
    at = [np.eye(4)[None], np.eye(4)[None] + 1e-9]
    first, second = (
        model_hash(with_part(model, lambda p, a=a: replace(p, placements=a))) for a in at
    )
    assert first != second


def with_camera(**changes):
    return lambda s: replace(s, camera=replace(s.camera, **changes))


SHOTS = {
    "the camera's place": with_camera(position_m=(0.0, -30.0, 4.0)),
    "the width it takes in": with_camera(ortho_width_m=20.0),
    "width in pixels": with_camera(width_px=65),
    "height in pixels": with_camera(height_px=41),
    "the sun's direction": lambda s: replace(s, sun_direction=(0.0, -0.6, 0.8)),
    "the sun's altitude": lambda s: replace(s, altitude_deg=s.altitude_deg + 0.001),
    "the beam": lambda s: replace(s, beam_w_m2=s.beam_w_m2 + 0.01),
    "the sky": lambda s: replace(s, diffuse_w_m2=s.diffuse_w_m2 + 0.01),
    "quality": lambda s: replace(s, quality="final"),
    "exposure": lambda s: replace(s, exposure_stops=0.5),
    "bits": lambda s: replace(s, depth_bits=16),
}


@pytest.mark.parametrize("look", ["clay", DRAWN])
@pytest.mark.parametrize("what", SHOTS)
def test_the_key_moves_with_what_is_asked_of_the_renderer(shots, what, look):
    shot = shots[look]
    assert picture_key("shape", SHOTS[what](shot)) != picture_key("shape", shot)


def test_the_key_moves_with_the_model_s_hash_the_look_and_a_section_s_cut(shots):
    clay = shots["clay"]
    cut = replace(clay, camera=replace(clay.camera, cut=(1.0, 0.0, 0.0, 0.0)))
    keys = {
        picture_key("shape", clay),
        picture_key("another", clay),
        picture_key("shape", replace(clay, look="materials")),
        picture_key("shape", shots[DRAWN]),
        picture_key("shape", cut),
    }
    assert len(keys) == 5


def test_the_key_moves_with_words_only_where_they_are_drawn(shots):
    for look, same in (("clay", True), (DRAWN, False)):
        other = replace(shots[look], metadata={"Title": "Another"})
        assert (picture_key("s", other) == picture_key("s", shots[look])) is same
        elsewhere = replace(shots[look], output=Path("elsewhere.png"), also=("jpg",))
        assert picture_key("s", elsewhere) == picture_key("s", shots[look])


def test_the_key_moves_with_the_ground_and_the_turn_of_the_front(tmp_path, study):
    def keys(text):
        path = tmp_path / "scene.yaml"
        path.write_text(text.split("drawing:")[0])
        return {p.key for p in pictures(read_study(path), "draft", SIZE)}

    level = keys(SCENE)
    slope = SCENE.replace("front_faces: S}", 'front_faces: S, ground_slope: {along: "1:20"}}')
    turned = SCENE.replace("front_faces: S}", "front_faces: SSE}")
    assert len({*level, *keys(slope), *keys(turned)}) == 3
    assert keys(SCENE) == level


# --- the code ------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def copied(tmp_path_factory):
    home = tmp_path_factory.mktemp("code") / "massing"
    shutil.copytree(code.HOME, home, ignore=shutil.ignore_patterns("__pycache__"))
    return home


@pytest.fixture
def edited(copied, monkeypatch):
    """The keys' code hash of a maker, before and after a file of the package is edited."""
    monkeypatch.setattr(code, "HOME", copied)

    def edited(maker, file):
        made = []
        path = copied / file
        before = path.read_bytes()
        for text in (before, before + b"\n# changed\n"):
            path.write_bytes(text)
            code.code_hash.cache_clear()
            code._imports.cache_clear()
            made.append(code.code_hash(maker))
        path.write_bytes(before)
        return made

    yield edited
    code.code_hash.cache_clear()
    code._imports.cache_clear()


RENDERED = "massing.render.blender.worker"  # drawn elevations too
FILES = [
    *((RENDERED, f"render/blender/{n}.py") for n in ("studio", "light", "materials", "objects")),
    *((RENDERED, f"render/blender/{n}.py") for n in ("backdrop", "camera", "quality", "worker")),
    *((RENDERED, f"render/driver/{n}.py") for n in ("camera_exposure", "sky_table", "shots")),
    *((RENDERED, f"view/{n}.py") for n in ("camera", "foreground", "ground_line", "section")),
    *((RENDERED, n) for n in ("geometry/mesh.py", "geometry/copies.py", "practice/finishes.py")),
    *((RENDERED, n) for n in ("geometry/rays.py", "present/sheets/paper.py")),
    (RENDERED, "present/ink/elevation.py"),
    ("massing.study.shadows", "shadow/front.py"),
    ("massing.study.shadows", "sun/sky.py"),
    ("massing.present.sheets.contact_sheet", "present/sheets/paper.py"),
]


@pytest.mark.parametrize(("maker", "file"), FILES)
def test_the_key_moves_with_the_code_of_every_room_it_runs_through(edited, maker, file):
    before, after = edited(maker, file)
    assert before != after


@pytest.mark.parametrize("file", ["findings/report.py", "cli/study.py", "build/house.py"])
def test_the_key_stays_when_other_rooms_change(edited, file):
    before, after = edited(RENDERED, file)
    assert before == after


@pytest.mark.parametrize("library", ["bpy", "numpy", "PIL", "embreex", "manifold3d"])
def test_the_key_moves_with_the_libraries_versions(monkeypatch, library):
    before = code.code_hash(RENDERED)
    real = code._version
    monkeypatch.setattr(code, "_version", lambda n: "0.0" if n == library else real(n))
    code.code_hash.cache_clear()
    assert code.code_hash(RENDERED) != before
    code.code_hash.cache_clear()


def test_blender_s_version_is_its_module_s_or_its_own(monkeypatch):
    def missing(name):
        raise code.PackageNotFoundError(name)

    class Blender:
        class app:
            version_string = "5.9.9"

    monkeypatch.setattr(code, "version", missing)
    monkeypatch.setitem(code.sys.modules, "bpy", Blender)
    assert code.blender_version() == "5.9.9"
    assert code._version("bpy") == "5.9.9"
