"""Small pictures by Blender's module, measured against plain geometry."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from massing.geometry.solids import box_between, lathe, translations, turned_about_z
from massing.parts.part import Model, Part
from massing.render.driver import process, requirements, run
from massing.render.driver.camera_exposure import (
    EXPOSURE_AT_NOON,
    IN_THE_OPEN,
    exposure_stops,
    facing_sun,
    white_k,
)
from massing.render.driver.labels import write_metadata
from massing.render.driver.modelfile import load_model, save_model
from massing.render.driver.requirements import check_blender
from massing.render.driver.run import render_pictures, render_shots
from massing.render.driver.shots import Shot
from massing.render.driver.sky_table import beam_rgb, clear_sky_w_m2, sky_rgb
from massing.view.camera import Camera
from massing.view.cameras import camera_for
from massing.view.framing import box_corners

PROJECTION_M = 0.5
EDGE_Z_M = 3.0
needs_blender = pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")


def sun_towards(altitude_deg: float, from_normal_deg: float) -> tuple[float, float, float]:
    """Towards a sun that stands so far right of the front's outward normal, seen from above."""
    a, d = np.radians([altitude_deg, from_normal_deg])
    return (float(np.sin(d) * np.cos(a)), float(-np.cos(d) * np.cos(a)), float(np.sin(a)))


def slab_over_wall() -> Model:
    """A plain wall 6 m wide under a straight slab that projects half a metre."""
    wall = box_between([-3.0, 0.0, 0.0], [3.0, 0.3, 3.5])
    slab = box_between([-3.0, -PROJECTION_M, EDGE_Z_M], [3.0, 0.01, 3.2])
    return Model((Part(("house", "wall"), "wall", wall), Part(("house", "slab"), "trim", slab)))


def box_house() -> Model:
    """A block with columns set as copies, one turned and one mirrored."""
    body = box_between([-3.0, 0.0, 0.0], [3.0, 5.0, 4.0])
    column = lathe([(0.2, 0.0), (0.2, 2.5), (0.15, 3.0)], 24)
    return Model(
        (
            Part(("house", "wall", "body"), "wall", body),
            Part(("porch", "columns"), "order", column, translations([[-2, -2, 0], [2, -2, 0]])),
        )
    )


def elevation(width_px: int, height_px: int) -> Camera:
    return Camera(
        "elevation",
        "ortho",
        (0.0, -20.0, 1.75),
        ortho_width_m=7.0,
        width_px=width_px,
        height_px=height_px,
    )


def colour(path: Path) -> np.ndarray:
    """``(height, width, 3)`` channels of a picture, 0 to 255."""
    return np.asarray(Image.open(path).convert("RGB"), dtype=float)


def grey(path: Path) -> np.ndarray:
    return np.asarray(Image.open(path).convert("L"), dtype=float)


SUNS = [(45.0, 0.0), (35.26439, -45.0), (30.0, 40.0)]


@pytest.fixture(scope="module")
def slab_pictures(tmp_path_factory: pytest.TempPathFactory) -> list[Shot]:
    folder = tmp_path_factory.mktemp("slab")
    shots = [
        Shot(
            elevation(168, 96), folder / f"{i}.png", sun_towards(*sun), sun[0], metadata={"n": "é"}
        )
        for i, sun in enumerate(SUNS)
    ]
    used: list[str] = []
    results = render_shots(
        slab_over_wall(), shots, log_path=folder / "log.txt", device="cuda", on_device=used.append
    )
    # With a card the word names it; without, the pictures are made all the same.
    assert used[0].startswith(("CUDA: ", "processor (no CUDA card found)"))
    assert [r.error for r in results] == ["", "", ""]
    return shots


@pytest.mark.render
@needs_blender
@pytest.mark.parametrize("index", range(len(SUNS)))
def test_shadow_edge_falls_at_projection_times_the_tangent_of_the_profile_angle(
    slab_pictures: list[Shot], index: int
) -> None:
    # tan W = tan(alt) / cos d; the shade-and-shadow rule for a straight edge over a wall.
    altitude, from_normal = np.radians(SUNS[index])
    depth_m = PROJECTION_M * np.tan(altitude) / np.cos(from_normal)
    shot = slab_pictures[index]
    picture = grey(shot.output)
    column = picture[:, 80:88].mean(axis=1)
    edge = shot.camera.project([[0.0, 0.0, EDGE_Z_M - depth_m]])[0, 1]
    under = int(shot.camera.project([[0.0, 0.0, EDGE_Z_M]])[0, 1])
    steps = np.diff(column[under + 3 : int(edge) + 15])
    found = under + 3 + int(np.argmax(steps)) + 1
    assert abs(found - edge) <= 2.0
    shade, lit = column[found - 4], column[found + 4]
    assert 1.3 < lit / shade < 4.0
    assert lit < 250.0
    assert shade > 60.0


@pytest.mark.render
@needs_blender
def test_pictures_carry_their_metadata(slab_pictures: list[Shot]) -> None:
    with Image.open(slab_pictures[0].output) as picture:
        assert picture.size == (168, 96)
        assert picture.info["n"] == "é"
    leftovers = [p.name for p in slab_pictures[0].output.parent.iterdir() if ".tmp" in p.name]
    assert leftovers == []


@pytest.mark.render
@needs_blender
def test_projection_agrees_with_the_rendered_silhouette(tmp_path: Path) -> None:
    model = Model((Part(("house", "wall"), "wall", box_between([-3, 0, 0], [3, 5, 4])),))
    model = replace(model, parts=(*model.parts, ground()))
    corners = box_corners(model.parts[0].mesh.bounds)
    shots = []
    for view in ("elevation", "street"):
        camera = camera_for(view, model.building_bounds, width_px=160, height_px=100)
        for look in ("clay",):
            path = tmp_path / f"{view}-{look}.png"
            shots.append(Shot(camera, path, sun_towards(40.0, 30.0), 40.0, look))
    empty = replace(model, parts=(ground(),))
    assert not any(r.error for r in render_shots(model, shots, log_path=tmp_path / "log"))
    bare = [replace(s, output=s.output.with_name("bare-" + s.output.name)) for s in shots]
    assert not any(r.error for r in render_shots(empty, bare, log_path=tmp_path / "log"))
    for shot, without in zip(shots, bare, strict=True):
        # By colour: a grey wall may be as bright as the sky behind it.
        changed = np.abs(colour(shot.output) - colour(without.output)).max(axis=-1) > 12.0
        pixels = shot.camera.project(corners)
        low, high = pixels.min(axis=0), pixels.max(axis=0)
        rows, columns = np.nonzero(changed[: int(pixels[:, 1].max()) - 12])
        # Left, right and top of the house as seen; its foot is lost in its own cast shadow.
        assert abs(columns.min() - low[0]) <= 2.0
        assert abs(rows.min() - low[1]) <= 2.0
        assert (low > 0).all()
        assert (high < (160, 100)).all()
        assert high[0] - 2.0 <= columns.max() + 1


def ground() -> Part:
    sheet = box_between([-4000, -4000, -0.02], [4000, 4000, -0.01])
    return Part(("setting", "ground"), "grass", sheet, solid=False)


@pytest.mark.render
@needs_blender
def test_instances_stand_where_the_placements_say(tmp_path: Path) -> None:
    script = """
import json, sys, numpy as np, bpy
from massing.render.driver.modelfile import load_model
from massing.render.blender.objects import build_model
bpy.ops.wm.read_factory_settings(use_empty=True)
model = load_model(sys.argv[1])
build_model(model, bpy.context.scene.collection)
bpy.context.view_layer.update()
found = []
for item in bpy.context.evaluated_depsgraph_get().object_instances:
    if item.is_instance:
        matrix = np.array(item.matrix_world)
        local = np.array([v.co for v in item.object.data.vertices])
        found.append((local @ matrix[:3, :3].T + matrix[:3, 3]).tolist())
plain = [o.name for o in bpy.context.scene.objects if o.type == "MESH" and not o.parent]
tree = {c.name: sorted(k.name for k in c.children) for c in bpy.data.collections}
with open(sys.argv[2], "w") as file:
    json.dump({"found": found, "plain": plain, "tree": tree}, file)
"""
    rng = np.random.default_rng(5)
    frames = []
    for _ in range(200):
        axis = rng.normal(size=3)
        tilt = 0.01 * rng.normal(size=3)  # tiny turns, as of tiles laid by hand
        matrix = turned_about_z(rng.uniform(0, 6.3), 12.0 * axis)
        skew = np.array([[0, -tilt[2], tilt[1]], [tilt[2], 0, -tilt[0]], [-tilt[1], tilt[0], 0]])
        turn, _ = np.linalg.qr(np.eye(3) + skew)
        matrix[:3, :3] = matrix[:3, :3] @ (turn * np.sign(np.diag(turn)))
        frames.append(matrix)
    frames = np.array(frames)
    frames[::7] = frames[::7] @ np.diag([1.0, -1.0, 1.0, 1.0])
    piece = box_between([0.0, 0.0, 0.0], [0.2, 0.4, 0.02])
    stretched = np.diag([2.0, 1.0, 1.0, 1.0])[None]
    model = Model(
        (
            Part(("roof", "tiles", "field"), "tile", piece, frames),
            Part(("roof", "tiles", "odd"), "tile", piece, stretched),
        )
    )
    save_model(model, tmp_path / "m.npz")
    command = [sys.executable, "-c", script, str(tmp_path / "m.npz"), str(tmp_path / "out.json")]
    subprocess.run(command, check=True, capture_output=True)
    out = json.loads((tmp_path / "out.json").read_text())
    wanted = np.einsum("kij,nj->kni", frames[:, :3, :3], piece.vertices) + frames[:, None, :3, 3]
    found = np.array(out["found"])
    assert found.shape == wanted.shape
    # A mirrored copy may number its corners otherwise; compare each piece as a sorted set.
    assert _sorted_pieces(found) == pytest.approx(_sorted_pieces(wanted), abs=1e-4)
    assert out["plain"].count("odd fitted") == 1
    assert out["tree"]["roof"] == ["tiles"]


def _sorted_pieces(pieces: np.ndarray) -> np.ndarray:
    centres = pieces.mean(axis=1)
    order = np.lexsort(np.round(centres, 3).T)
    spread = np.sort(np.linalg.norm(pieces - centres[:, None], axis=2), axis=1)
    extent = np.concatenate([pieces.min(axis=1), pieces.max(axis=1)], axis=1)
    return np.concatenate([centres, extent, spread], axis=1)[order]


@pytest.mark.render
@needs_blender
def test_what_other_rays_meet_is_the_mean_of_what_the_camera_sees(tmp_path: Path) -> None:
    """A plain sheet under an even sky of one shows its reflectance, whatever its grain."""
    script = """
import json, sys, numpy as np, bpy
from massing.render.blender.materials import MATERIALS, material_for
from massing.render.blender.objects import carrier_mesh
bpy.ops.wm.read_factory_settings(use_empty=True)
scene = bpy.context.scene
scene.render.engine = "CYCLES"
scene.cycles.samples, scene.cycles.use_denoising = 64, False
scene.render.resolution_x = scene.render.resolution_y = 64
scene.render.image_settings.file_format = "OPEN_EXR"
scene.view_settings.view_transform = "Raw"
scene.world = bpy.data.worlds.new("even")
if scene.world.node_tree is None:
    scene.world.use_nodes = True
scene.world.node_tree.nodes["Background"].inputs[0].default_value = (1.0, 1.0, 1.0, 1.0)
camera = bpy.data.objects.new("camera", bpy.data.cameras.new("camera"))
camera.data.type, camera.data.ortho_scale = "ORTHO", 0.99 * 8.0
camera.location, camera.rotation_euler = (0.0, -5.0, 1.0), (np.pi / 2.0, 0.0, 0.0)
scene.collection.objects.link(camera)
scene.camera = camera
# Many small squares, each its own island: tiles and slates differ one from the next.
frames = np.tile(np.eye(4), (64, 1, 1))
frames[:, :3, :3] = [[1, 0, 0], [0, 0, -1], [0, 1, 0]]
frames[:, 0, 3] = np.tile(np.arange(8) - 3.5, 8)
frames[:, 2, 3] = np.repeat(np.arange(8) - 2.5, 8)
sheet = bpy.data.objects.new("sheet", carrier_mesh("sheet", frames))
scene.collection.objects.link(sheet)
out, leaves = {}, []
for role in MATERIALS:
    material = material_for("materials", role)
    nodes = material.node_tree.nodes
    kinds = {n.type for n in nodes}
    if "seen" not in nodes or {"BSDF_PRINCIPLED", "BSDF_GLOSSY"} & kinds:  # plain, glossy
        continue
    plain = nodes["seen"].inputs[1].links[0].from_node
    if plain.type == "EMISSION":  # leaves, whose light ends there
        leaves.append(role)
        continue
    sheet.data.materials.clear()
    sheet.data.materials.append(material)
    scene.render.filepath = sys.argv[1] + "/" + role.replace("/", " ") + ".exr"
    bpy.ops.render.render(write_still=True)
    seen = bpy.data.images.load(scene.render.filepath)
    pixels = np.array(seen.pixels[:]).reshape(-1, 4)[:, :3].mean(axis=0)
    out[role] = [pixels.tolist(), list(plain.inputs["Color"].default_value)[:3]]
with open(sys.argv[1] + "/out.json", "w") as file:
    json.dump([out, leaves], file)
"""
    command = [sys.executable, "-c", script, str(tmp_path)]
    subprocess.run(command, check=True, capture_output=True)
    finishes, leaves = json.loads((tmp_path / "out.json").read_text())
    assert all(role.startswith(("foliage/", "blossom")) for role in leaves), leaves
    assert {"wall/stucco", "wall/brick", "grass", "slate", "foliage"} <= finishes.keys()
    for role, (seen, plain) in finishes.items():
        if role in ("grass", "ground"):  # as bright, but greyer: a choice
            seen, plain = (np.array(rgb) @ [0.2126, 0.7152, 0.0722] for rgb in (seen, plain))
        assert seen == pytest.approx(plain, rel=0.08), role


def test_a_model_reads_back_as_it_was_written(tmp_path: Path) -> None:
    model = replace(box_house(), name="Ä", notes={"walls": "brick"})
    save_model(model, tmp_path / "m.npz")
    back = load_model(tmp_path / "m.npz")
    assert (back.name, back.notes) == (model.name, model.notes)
    for a, b in zip(model.parts, back.parts, strict=True):
        assert (a.name, a.role, a.solid, a.count) == (b.name, b.role, b.solid, b.count)
        assert np.array_equal(a.mesh.vertices, b.mesh.vertices)
        assert np.array_equal(a.mesh.faces, b.mesh.faces)
    assert list(tmp_path.iterdir()) == [tmp_path / "m.npz"]


def test_sun_and_sky_colours_match_the_first_measurement_of_the_sky_model() -> None:
    # An earlier measurement of the same model in Blender 5, at 15, 38 and 60 degrees.
    for altitude, beam, sky in (
        (15.0, (123, 89, 50), (5.3, 6.7, 8.9)),
        (38.0, (145, 117, 88), (6.9, 8.7, 12.4)),
        (60.0, (150, 124, 99), (7.3, 9.3, 13.7)),
    ):
        assert beam_rgb(altitude) == pytest.approx(np.array(beam), rel=0.01)
        assert sky_rgb(altitude) == pytest.approx(np.array(sky), rel=0.01)


def test_clear_sky_table_is_pvlibs_simplified_solis() -> None:
    from pvlib.clearsky import simplified_solis

    for altitude in (1.0, 10.0, 40.0, 90.0):
        sky = simplified_solis(altitude, aod700=0.1, precipitable_water=1.0)
        assert clear_sky_w_m2(altitude) == pytest.approx((sky["dni"], sky["dhi"]), rel=2e-3)


def test_exposure_follows_hour_and_view_and_keeps_noon_at_its_mark() -> None:
    noon = exposure_stops(895.5, 115.2)
    assert noon == pytest.approx(EXPOSURE_AT_NOON)
    hours = [exposure_stops(*clear_sky_w_m2(altitude)) for altitude in (60, 30, 10, 4, 1)]
    assert hours == sorted(hours)
    # Less than full adaptation: an evening still looks darker than noon.
    light = [0.7 * beam + sky for beam, sky in map(clear_sky_w_m2, (60, 30, 10, 4, 1))]
    seen = [np.log2(e) + stops for e, stops in zip(light, hours, strict=True)]
    assert seen == sorted(seen, reverse=True)
    assert seen[0] - seen[-1] < 1.5


def test_a_front_in_its_own_shade_gets_more_exposure_without_a_jump() -> None:
    camera = elevation(100, 60)
    before = [facing_sun(camera, sun_towards(20.0, turn)) for turn in (0.0, 60.0, 90.0, 150.0)]
    assert before[0] == pytest.approx(np.cos(np.radians(20.0)))
    assert before[1] == pytest.approx(np.cos(np.radians(20.0)) * 0.5)
    assert before[2:] == pytest.approx([0.0, 0.0], abs=1e-12)
    steps = [exposure_stops(649.0, 77.0, facing) for facing in np.linspace(0.0, 1.0, 101)]
    assert steps[0] - steps[-1] > 1.0
    assert white_k(0.0) > white_k(0.25) > white_k(0.5) == white_k(1.0)
    assert np.max(np.abs(np.diff(steps))) < 0.05


def test_a_corner_is_exposed_for_its_sunlit_side() -> None:
    bounds = np.array([[-8.0, -2.0, 0.0], [8.0, 10.0, 9.0]])
    camera = camera_for("street", bounds, width_px=96, height_px=60)
    on_front, on_right = sun_towards(20.0, 0.0), np.array([1.0, 0.0, 0.4])
    behind = np.array([-0.5, 0.8, 0.4])
    assert facing_sun(camera, on_front) == pytest.approx(np.cos(np.radians(20.0)))
    assert facing_sun(camera, on_right) == pytest.approx(np.cos(np.arctan(0.4)))
    assert facing_sun(camera, behind) == IN_THE_OPEN


@pytest.mark.parametrize(("suffix", "mode"), [(".png", "RGB"), (".png", "I;16"), (".jpg", "RGB")])
def test_words_go_into_a_picture_file_without_touching_the_picture(
    tmp_path: Path, suffix: str, mode: str
) -> None:
    path = tmp_path / f"a{suffix}"
    Image.linear_gradient("L").convert(mode).save(path)
    with Image.open(path) as picture:
        before = np.asarray(picture)
    write_metadata(path, {"Title": "Corner house", "Comment": "28° up"})
    with Image.open(path) as picture:
        assert np.array_equal(np.asarray(picture), before)
        found = picture.info
    if suffix == ".png":
        assert (found["Title"], found["Comment"]) == ("Corner house", "28° up")
    else:
        assert found["comment"].decode() == "Title: Corner house\nComment: 28° up"


@pytest.mark.render
@needs_blender
def test_every_kind_of_file_is_written_with_its_depth_and_its_words(tmp_path: Path) -> None:
    base = Shot(elevation(48, 32), tmp_path / "a.png", sun_towards(40.0, 20.0), 40.0)
    base = replace(base, metadata={"Title": "Slab"})
    kinds = [("b.png", 16), ("c.jpg", 8), ("d.exr", 8)]
    shots = [replace(base, output=tmp_path / n, depth_bits=bits) for n, bits in kinds]
    results = render_shots(slab_over_wall(), shots, log_path=tmp_path / "log")
    assert not any(r.error for r in results)
    header = (tmp_path / "b.png").read_bytes()[:33]
    assert header[24] == 16  # bit depth in the IHDR chunk, PNG specification 11.2.2
    with Image.open(tmp_path / "b.png") as picture:
        assert picture.info["Title"] == "Slab"
    with Image.open(tmp_path / "c.jpg") as picture:
        assert (picture.size, picture.info["comment"]) == ((48, 32), b"Title: Slab")
    exr = (tmp_path / "d.exr").read_bytes()
    assert exr[:4] == b"\x76\x2f\x31\x01"  # OpenEXR magic number
    assert b"Title: Slab" in exr

    # One render written as every kind is the picture that each kind alone would be.
    again = replace(base, also=("png16", "jpg", "exr"))
    (result,) = render_shots(slab_over_wall(), [again], log_path=tmp_path / "log")
    assert not result.error
    assert {p.name for p in again.also_files} == {"a-16.png", "a.jpg", "a.exr"}
    assert (tmp_path / "a-16.png").read_bytes() == (tmp_path / "b.png").read_bytes()
    assert (tmp_path / "a.jpg").read_bytes() == (tmp_path / "c.jpg").read_bytes()
    assert _exr_pixels(tmp_path / "a.exr") == _exr_pixels(tmp_path / "d.exr")


@pytest.mark.render
@needs_blender
def test_models_that_share_a_worker_are_the_pictures_that_each_alone_would_be(
    tmp_path: Path,
) -> None:
    # Each pane has a blind or curtains of its own: the same ones, whatever was built before.
    light = box_between([-0.6, -0.05, 1.0], [0.6, -0.02, 2.6])
    panes = Part(("house", "panes"), "glass", light, translations([[-1.0, 0, 0], [1.0, 0, 0]]))
    slab, box = (Model((*m.parts, panes)) for m in (slab_over_wall(), box_house()))
    base = Shot(elevation(48, 32), tmp_path / "x.png", sun_towards(40.0, 20.0), 40.0)
    names = ("slab", "box", "slab-materials", "box-materials", "slab-again")
    shots = {
        name: replace(
            base,
            output=tmp_path / f"{name}.png",
            look="materials" if "materials" in name else "clay",
        )
        for name in names
    }
    of = [(slab if name.startswith("slab") else box, shots[name]) for name in names]
    assert not any(r.error for r in render_pictures(of, log_path=tmp_path / "log"))
    alone = replace(shots["box-materials"], output=tmp_path / "alone.png")
    (result,) = render_shots(box, [alone], log_path=tmp_path / "log")
    assert not result.error

    def pixels(name: str) -> bytes:
        return colour(tmp_path / f"{name}.png").tobytes()

    assert pixels("alone") == pixels("box-materials")
    assert pixels("slab-again") == pixels("slab")
    assert len({pixels(name) for name in names[:4]}) == 4


def _exr_pixels(path: Path) -> bytes:
    """The scan lines of an OpenEXR file, past the header's attributes and the offset table."""
    data = path.read_bytes()
    return data[data.index(b"screenWindowWidth") + 100 :]


@pytest.mark.render
@needs_blender
def test_the_cut_earth_keeps_its_tone_in_sun_and_in_shade(tmp_path: Path) -> None:
    suns = {"sun": sun_towards(40.0, 20.0), "shade": np.array([0.3, 0.8, 0.5])}
    camera = elevation(48, 32)
    shots = [Shot(camera, tmp_path / f"{n}.png", tuple(s), 30.0) for n, s in suns.items()]
    assert [facing_sun(camera, s) > 0.5 for s in suns.values()] == [True, False]
    results = render_shots(slab_over_wall(), shots, log_path=tmp_path / "log")
    assert not any(r.error for r in results)
    rows = [np.asarray(Image.open(s.output).convert("RGB"))[-1].mean(axis=0) for s in shots]
    assert np.abs(rows[0] - rows[1]).max() < 4.0  # of 255


FAKE = """
import json, os, sys, time
from pathlib import Path
job = json.loads(Path(sys.argv[-1]).read_text())
def say(**m): print(json.dumps(m), flush=True)
say(event="ready", seconds=0)
for index, _, shot in job["shots"]:
    say(event="start", shot=index)
    output = Path(shot["output"])
    mark = output.with_suffix(".seen")
    first = not mark.exists()
    mark.touch()
    if output.stem == "crash" and first: os.abort()
    if output.stem == "always": os.kill(os.getpid(), 9)
    if output.stem == "hang" and first:
        Path(job["staging"], "half.png").touch()
        time.sleep(60)
    if output.stem == "slow":
        for _ in range(8): time.sleep(0.2); say(event="alive")
    if output.stem == "error" and first: say(event="failed", shot=index, error="no luck"); continue
    output.touch()
    say(event="done", shot=index, seconds=0.0)
"""


@pytest.fixture
def fake_worker(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    script = tmp_path / "fake_worker.py"
    script.write_text(FAKE)
    real = subprocess.Popen

    def popen(command: list[str], **options: object) -> subprocess.Popen:
        return real([command[0], str(script), command[-1]], **options)

    monkeypatch.setattr(run.subprocess, "Popen", popen)


def shots_named(folder: Path, *names: str) -> list[Shot]:
    camera = Camera("x", "ortho", (0.0, 0.0, 0.0))
    return [Shot(camera, folder / f"{n}.png", (0.0, -0.6, 0.8), 53.0) for n in names]


@pytest.mark.usefixtures("fake_worker")
def test_a_crash_an_error_and_a_hang_are_each_tried_once_more(tmp_path: Path) -> None:
    told = []
    shots = shots_named(tmp_path / "out", "a", "crash", "error", "hang", "b")
    (tmp_path / "out").mkdir()
    results = render_shots(
        box_house(), shots, log_path=tmp_path / "log", on_done=told.append, timeout_s=3.0
    )
    assert [r.error for r in results] == [""] * 5
    assert [r.attempts for r in results] == [1, 2, 2, 2, 1]
    assert len(told) == 5
    assert all(s.output.exists() for s in shots)
    assert not [p for p in (tmp_path / "out").iterdir() if p.suffix not in (".png", ".seen")]


def test_a_process_may_be_told_how_its_workers_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As within Blender's own program, where no other Python has a module of it."""
    script = tmp_path / "own_worker.py"
    script.write_text(FAKE)
    monkeypatch.setattr(process, "_workers_by", [])
    monkeypatch.setattr(requirements.importlib.util, "find_spec", lambda name: None)
    assert "not installed" in (check_blender() or "")
    process.start_workers_by([sys.executable, str(script)])
    assert check_blender() is None
    (tmp_path / "out").mkdir()
    shots = shots_named(tmp_path / "out", "a")
    (made,) = render_shots(box_house(), shots, log_path=tmp_path / "log")
    assert made.error == ""
    assert made.attempts == 1
    assert shots[0].output.read_bytes() == b""  # as that worker leaves it


@pytest.mark.usefixtures("fake_worker")
def test_a_frame_that_fails_twice_is_reported_and_the_others_are_made(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    shots = shots_named(tmp_path / "out", "always", "b")
    results = render_shots(box_house(), shots, log_path=tmp_path / "log")
    assert "want of memory" in results[0].error
    assert results[0].attempts == 2
    assert results[1].error == ""
    assert shots[1].output.exists()


@pytest.mark.usefixtures("fake_worker")
def test_an_interrupt_ends_the_worker_and_leaves_nothing_half_written(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    shots = shots_named(tmp_path / "out", "hang")
    # A shell that starts this in the background has it ignore interrupts.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    threading.Timer(1.5, os.kill, (os.getpid(), signal.SIGINT)).start()
    began = time.perf_counter()
    try:
        with pytest.raises(KeyboardInterrupt):
            render_shots(box_house(), shots, log_path=tmp_path / "log", timeout_s=30.0)
    finally:
        signal.signal(signal.SIGINT, before)
    assert time.perf_counter() - began < 10.0
    assert not [p for p in (tmp_path / "out").iterdir() if p.suffix not in (".png", ".seen")]


@pytest.mark.usefixtures("fake_worker")
def test_a_worker_without_a_sign_of_life_is_told_of_and_started_afresh(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "QUIET_S", 0.4)
    monkeypatch.setattr(run, "LOST_S", 1.2)
    told: list[str] = []
    shots = shots_named(tmp_path / "out", "hang", "b")
    (tmp_path / "out").mkdir()
    results = render_shots(
        box_house(), shots, log_path=tmp_path / "log", on_quiet=told.append, timeout_s=60.0
    )
    assert [(r.error, r.attempts) for r in results] == [("", 2), ("", 1)]
    (line,) = told
    assert line.startswith("no sign of life from the render worker for 0 s")


@pytest.mark.usefixtures("fake_worker")
def test_a_worker_that_is_at_work_for_long_gives_signs_of_life(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "QUIET_S", 0.8)
    monkeypatch.setattr(run, "LOST_S", 1.0)
    told: list[str] = []
    shots = shots_named(tmp_path / "out", "slow")
    (tmp_path / "out").mkdir()
    (result,) = render_shots(
        box_house(), shots, log_path=tmp_path / "log", on_quiet=told.append, timeout_s=60.0
    )
    assert (result.error, result.attempts, told) == ("", 1, [])


@pytest.mark.parametrize("found", ["CUDA: a new card", "processor (no graphics card found)"])
@pytest.mark.usefixtures("fake_worker")
def test_a_card_that_is_made_ready_is_spoken_of_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, found: str
) -> None:
    script = tmp_path / "fake_worker.py"
    script.write_text(FAKE.replace('event="ready"', f'event="ready", device={found!r}'))
    monkeypatch.setattr(run, "SLOW_S", 0.4)
    told: list[str] = []
    shots = shots_named(tmp_path / "out", "slow", "slow2")
    (tmp_path / "out").mkdir()
    results = render_shots(box_house(), shots, log_path=tmp_path / "log", on_quiet=told.append)
    assert [result.error for result in results] == ["", ""]
    assert told == ([run.MAKING_READY] if found.startswith("CUDA") else [])
    for words in ("once", "ten minutes", "--device processor"):
        assert words in run.MAKING_READY


def test_the_real_worker_beats(tmp_path: Path) -> None:
    source = Path(run.__file__).parents[1] / "blender" / "worker.py"
    beat = float(re.search(r"^BEAT_S = ([\d.]+)$", source.read_text(), re.MULTILINE)[1])
    assert 2 * beat < run.QUIET_S < run.LOST_S < run.FRAME_TIMEOUT_S


def test_a_shot_without_sun_or_with_an_unknown_look_is_refused() -> None:
    shot = shots_named(Path(), "a")[0]
    with pytest.raises(ValueError, match="below the horizon"):
        replace(shot, sun_direction=(0.0, -1.0, -0.1))
    with pytest.raises(ValueError, match="allowed: clay"):
        replace(shot, look="sepia")
    assert Shot.from_json(json.loads(json.dumps(shot.to_json()))) == shot


def test_an_unknown_device_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="allowed: auto, processor, graphics"):
        render_shots(box_house(), [], log_path=tmp_path / "log", device="abacus")


def test_missing_libraries_are_named_with_the_package_that_brings_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(requirements.importlib.util, "find_spec", lambda name: object())
    missing = ["libSM.so.6", "libX11.so.6"]
    failed = subprocess.CompletedProcess((), 1, "", "ImportError")
    monkeypatch.setattr(requirements, "missing_libraries", lambda: missing)
    monkeypatch.setattr(requirements.subprocess, "run", lambda *a, **k: failed)
    assert check_blender() == (
        "Blender's module needs libSM.so.6, libX11.so.6; on Debian or Ubuntu run: "
        "apt-get install libsm6 libx11-6"
    )


def test_a_python_without_a_build_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(requirements.importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(requirements.sys, "version_info", (3, 12, 1))
    assert "no build for Python 3.12; use Python 3.11 or 3.13" in (check_blender() or "")


@pytest.mark.render
@needs_blender
def test_high_cloud_is_seen_in_the_sky_and_changes_no_light(tmp_path: Path) -> None:
    """Light on a wall is the clear sky's: only the camera meets the clouds."""
    model = box_house()
    camera = camera_for("street", model.building_bounds, width_px=120, height_px=75)
    shots = [
        Shot(camera, tmp_path / f"{sky}.png", sun_towards(40.0, -40.0), 40.0, sky=sky)
        for sky in ("clear", "high cloud")
    ]
    results = render_shots(model, shots, log_path=tmp_path / "log.txt")
    assert [r.error for r in results] == ["", ""]
    clear, cloudy = (colour(shot.output) for shot in shots)
    sky = np.s_[:12]
    assert np.abs(clear[sky] - cloudy[sky]).mean() > 2.0
    x, y = camera.project([[2.0, 0.0, 1.5]])[0].astype(int)
    wall = np.s_[y - 3 : y + 4, x - 3 : x + 4]
    assert cloudy[wall] == pytest.approx(clear[wall], abs=2.0)
    with pytest.raises(ValueError, match="allowed: clear, high cloud"):
        replace(shots[0], sky="storm")


@needs_blender
@pytest.mark.render
def test_a_film_says_nothing_of_when_it_was_made(tmp_path: Path) -> None:
    frames = [tmp_path / f"{i}.png" for i in range(2)]
    for i, frame in enumerate(frames):
        Image.new("RGB", (32, 20), (90 * i, 40, 40)).save(frame)
    film = tmp_path / "film.mp4"
    run.encode_film(frames, film, frames_per_second=8, log_path=tmp_path / "render.log")
    data = film.read_bytes()
    assert data[4:8] == b"ftyp"
    assert re.search(rb"20\d\d.\d\d.\d\d", data) is None
