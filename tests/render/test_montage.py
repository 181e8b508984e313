"""Photographs made by our own renderer: their cameras are found, and shadows fall where rays say.

What is known in them is measured in the pictures, not reckoned by the camera that is sought.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh
from PIL import Image, ImageDraw, ImageFilter

from massing import cli
from massing.build.house import build
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.rays import Caster
from massing.geometry.solids import translations
from massing.parts.part import Model, Part
from massing.practice.cautions import CAUTION
from massing.present.sheets.in_photograph import between_pixels
from massing.render.driver.requirements import check_blender
from massing.render.driver.run import render_shots
from massing.render.driver.shots import Shot
from massing.study.montage import LONGEST_PX, read_photograph
from massing.study.study import read_study
from massing.view.camera import Camera
from massing.view.photograph import solve_camera
from tests.study.test_montage import SIZE, camera, photograph
from tests.view.test_photograph import HOUSE, taken

WIDE = 240  # of a montage, pixels; two thirds as tall

pytestmark = [
    pytest.mark.render,
    pytest.mark.skipif(check_blender() is not None, reason="no Blender module here"),
]


def drawn_by_a_lens(straight: Floats, focal_px: float, bend: float) -> Floats:
    """A straight picture as a lens draws it: a place r focal lengths out comes to r + bend r^3,
    its inverse read off a table of the same."""
    tall, wide = straight.shape[:2]
    y, x = np.mgrid[0:tall, 0:wide] + 0.5
    out = np.stack([x - wide / 2, y - tall / 2], axis=-1) / focal_px
    r = np.linspace(0.0, 1.5, 20001)
    radius = np.linalg.norm(out, axis=-1)
    share = np.interp(radius, r + bend * r**3, r) / np.maximum(radius, 1e-12)
    places = focal_px * out * share[..., None] + [wide / 2, tall / 2]
    return between_pixels(straight, places)


def middles(cover: Floats, near: Floats) -> Floats:
    """The middle of what is seen round each of some places."""
    found = []
    for x, y in near:
        left, top = int(x) - 9, int(y) - 9
        box = cover[top : top + 19, left : left + 19]
        v, u = np.mgrid[0:19, 0:19] + 0.5
        found.append([left + (box * u).sum() / box.sum(), top + (box * v).sum() / box.sum()])
    return np.array(found)


@pytest.fixture(scope="module")
def marks(tmp_path_factory: pytest.TempPathFactory) -> tuple[Camera, Floats]:
    """A camera and what it sees of little balls at known points: how far each pixel is covered."""
    folder = tmp_path_factory.mktemp("marks")
    true = replace(taken(-24.0, 23.0, 29.0, 5.0, 0.8), width_px=800, height_px=534)
    ball = trimesh.creation.icosphere(subdivisions=3, radius=0.06)
    mesh = Mesh(np.array(ball.vertices), np.array(ball.faces))
    little = Part(("marks",), "paint", mesh, solid=False, placements=translations(HOUSE))
    # The sun overhead, so that their shadows lie far below them.
    shot = Shot(true, folder / "marks.png", (0.0, 0.0, 1.0), 90.0, catcher=True)
    (done,) = render_shots(Model((little,), "marks"), [shot], log_path=folder / "log.txt")
    assert not done.error
    with Image.open(shot.output) as picture:
        cover = np.asarray(picture.convert("RGBA"), dtype=float) / 255.0
    return true, np.where(cover[..., :3].sum(axis=-1) > 0.1, cover[..., 3], 0.0)


@pytest.mark.parametrize("bend", [0.0, -0.1])
def test_the_camera_of_our_own_photograph_is_found(
    marks: tuple[Camera, Floats], bend: float
) -> None:
    """Focal length to half a percent, place to 2 cm, points within a pixel."""
    true, seen = marks
    focal_px = true.focal_mm / 36.0 * true.width_px
    if bend:
        seen = drawn_by_a_lens(seen[..., None], focal_px, bend)[..., 0]
    away = (true.project(HOUSE) - np.array([true.width_px, true.height_px]) / 2) / focal_px
    about = true.project(HOUSE) + focal_px * bend * away * (away**2).sum(axis=1)[:, None]
    found = solve_camera(middles(seen, about), HOUSE, (true.width_px, true.height_px))
    assert found.camera.focal_mm == pytest.approx(true.focal_mm, rel=0.005)
    assert np.linalg.norm(np.subtract(found.camera.position_m, true.position_m)) < 0.02
    assert found.misses_px.max() < 1.0
    assert found.bend == pytest.approx(bend, abs=0.01)


def covered(camera: Camera, parts: list[Part]) -> Floats:
    """Pixels that parts take in a picture, and the next two round them."""
    image = Image.new("L", (camera.width_px, camera.height_px))
    pen = ImageDraw.Draw(image)
    for part in parts:
        mesh = part.world_mesh()
        seen = camera.project(mesh.vertices)
        for face in mesh.faces:
            pen.polygon([tuple(corner) for corner in seen[face]], fill=255)
    return np.asarray(image.filter(ImageFilter.MaxFilter(5))) > 0


def on_the_ground(camera: Camera, right_px: Floats, down_px: Floats) -> Floats:
    """Where pixels of a picture meet level ground ``(n, 3)``; NaN from near the horizon up."""
    right, up, forward = camera.axes
    scale = camera.focal_mm / 36.0 * camera.width_px
    x, y = (right_px - camera.width_px / 2) / scale, (camera.height_px / 2 - down_px) / scale
    ways = forward + x[:, None] * right + y[:, None] * up
    ways[ways[:, 2] > -0.02] = np.nan
    eye = np.array(camera.position_m)
    met: Floats = eye - eye[2] / ways[:, 2:] * ways
    return met


def test_a_montage_s_shadow_falls_where_rays_say(tmp_path, monkeypatch, capsys) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setitem(LONGEST_PX, "draft", WIDE)
    grey = 170
    Image.new("RGB", SIZE, (grey, grey, grey)).save("site.png")
    kept = np.zeros(SIZE[::-1], dtype=np.uint8)
    kept[:, 450:] = 255
    Image.fromarray(kept).save("trees.png")
    high = camera(up_m=12.0, pitch_rad=-0.35)  # from above, to see the ground well
    text = photograph(by=high, more="  mask: trees.png\n  time: summer solstice 07:45")
    taller = "alternatives: {Taller: {house: {storeys: [3.4 m, 3.4 m]}}}\n"
    Path("scene.yaml").write_text(text.replace("[3.2 m, 3 m]", "[3.2 m]") + taller)
    assert cli.main(["montage", "scene.yaml", "--design", "Taller", "-o", "out"]) == 0
    assert CAUTION in " ".join(capsys.readouterr().out.split())
    path = Path("out/taller_montage.png")
    with Image.open(path) as picture:
        assert picture.info["Disclaimer"] == CAUTION
        made = np.asarray(picture.convert("RGB"), dtype=int)
    assert (made[:, WIDE * 3 // 4 + 2 :] == grey).all()  # what stands before the house stays

    study = read_study("scene.yaml")
    site = read_photograph(study.loaded, study.designs[0], LONGEST_PX["draft"])
    model = study.models["Taller"]
    house = Caster([part for part in model.parts if not part.within("setting")])
    was = Caster([p for p in study.models["as drawn"].parts if not p.within("setting")])
    sees = replace(high, width_px=WIDE, height_px=WIDE * 2 // 3)
    v, u = np.mgrid[2 : WIDE * 2 // 3 : 2, 0 : WIDE * 3 // 4 - 2 : 2]
    bare = build(next(d for d in study.designs if d.name == "Taller").unlaid)  # far fewer faces
    shown = [part for part in bare.parts if not part.within("setting")]
    free = ~covered(sees, shown)[v, u].ravel()
    u, v = u.ravel()[free], v.ravel()[free]
    ground = on_the_ground(sees, u + 0.5, v + 0.5)
    level = np.array([[0.0, 0.0, 1.0]])
    tone, sun = made[v, u].mean(axis=-1), np.array(site.light.direction)
    lit, before = house.lit(ground, level, sun), was.lit(ground, level, sun)
    # Clear of the edges: places whose neighbours a pixel round agree.
    rounds = [on_the_ground(sees, u + 0.5 + dx, v + 0.5 + dy) for dx in (-1, 1) for dy in (-1, 1)]
    sure = np.array(
        [(house.lit(at, level, sun) == lit) & (was.lit(at, level, sun) == before) for at in rounds]
    ).all(axis=0)
    # What the old house shades is dark in a photograph already, and is not darkened twice.
    new = sure & ~lit & before
    both = sure & ~lit & ~before
    assert new.sum() > 40
    assert both.sum() > 20
    assert (tone[new] < 0.78 * grey).mean() > 0.97
    assert (tone[both] > 0.9 * grey).mean() > 0.97
    assert (tone[sure & lit] > 0.85 * grey).mean() > 0.97

    when = path.stat().st_mtime_ns  # made once, and kept
    assert cli.main(["montage", "scene.yaml", "--design", "Taller", "-o", "out"]) == 0
    assert path.stat().st_mtime_ns == when
