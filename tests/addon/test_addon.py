"""The extension in Blender's module, without a window: each test in a process of its own."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from pvlib import solarposition

import massing
from massing.files import slug
from massing.render.driver.requirements import check_blender
from massing.scene.load import load_scene
from tests.helpers.in_blender import blender

ROOT = Path(__file__).parents[2]
COTTAGE = ROOT / "scenes" / "vineyard_cottage.yaml"

pytestmark = pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")


@pytest.fixture
def scene_file(tmp_path: Path) -> Path:
    return Path(shutil.copy(COTTAGE, tmp_path / "cottage.yaml"))


def test_registers_twice_and_leaves_nothing(tmp_path: Path) -> None:
    told = blender(
        """
def ours():
    kinds = [k for k in dir(bpy.types) if "massing" in k.lower()]
    lists = [getattr(bpy.app.handlers, name) for name in dir(bpy.app.handlers)]
    handlers = sum(len(found) for found in lists if isinstance(found, list))
    return kinds, dir(bpy.ops.massing), hasattr(bpy.types.Scene, "massing"), handlers

import addon
from addon import gizmos, over
before = ours()
after, drawn = [], []
for _ in range(2):
    addon.register()
    during = ours()
    drawn.append(len(over._handlers))
    for clock in (gizmos._follow, gizmos._settle):
        bpy.app.timers.register(clock, first_interval=60.0)
    addon.unregister()
    clocks = [bpy.app.timers.is_registered(c) for c in (gizmos._follow, gizmos._settle)]
    drawn.append(len(over._handlers) + sum(clocks))
    after.append(ours())
tell(before=before, during=during, after=after, drawn=drawn)
""",
        tmp_path,
    )
    assert told["after"] == [told["before"]] * 2
    assert told["drawn"] == [2, 0, 2, 0], "drawing over the view, and clocks that run"
    assert told["before"][:3] == [[], [], False]
    kinds, operators, on_scene, _ = told["during"]
    assert on_scene
    assert {"open", "refresh", "write", "close", "place_cameras", "render_view"} < set(operators)
    assert "MASSING_PT_file" in kinds


def test_every_property_and_operator_says_what_it_is(tmp_path: Path) -> None:
    told = blender(
        """
state = fresh().massing
row = state.first.add()
told = []
for owner in (state, row):
    for p in owner.bl_rna.properties:
        if p.identifier not in ("rna_type", "name"):
            told.append([p.identifier, p.name, p.description])
tell(
    wordless=[t[0] for t in told if not t[1]],
    # what is drawn in the panel says what it is, and more than its name
    undescribed=[t[0] for t in told if t[0] in
                 ("search", "design", "time", "day", "hour", "minute", "look",
                  "text", "word", "choice", "switch", "count") and len(t[2].split()) < 4],
    choices=[i.description for i in state.bl_rna.properties["look"].enum_items],
    operators=[getattr(bpy.ops.massing, o).get_rna_type().description
               for o in dir(bpy.ops.massing)],
)
""",
        tmp_path,
    )
    assert told["wordless"] == []
    assert told["undescribed"] == []
    assert all(told["operators"])
    assert all(told["choices"])


def test_a_field_s_tooltip_tells_the_rule_behind_it(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
from addon import session
tell(given=session.field_words(scene.massing, "porch.depth"),
     by_rule=session.field_words(scene.massing, "porch.diameter"),
     waits=session.field_words(scene.massing, "porch.balustrade.height"))
""",
        tmp_path,
    )
    assert "Wall face to column axis" in told["given"]
    assert "The rule gives" in told["given"]
    assert "common practice" in told["given"]
    assert "Of the shaft: at its foot" in told["by_rule"]
    assert "Waits for porch.balustrade" in told["waits"]


SETTINGS = """
def settings(of):
    found = {}
    for name in ("render", "cycles", "view_settings", "display_settings"):
        for p in getattr(of, name).bl_rna.properties:
            if p.type in ("INT", "FLOAT", "BOOLEAN", "STRING", "ENUM"):
                value = getattr(getattr(of, name), p.identifier)
                found[name + "." + p.identifier] = list(value) if getattr(
                    p, "is_array", False) else str(value)
    image = of.render.image_settings
    return found | {"kind": image.file_format, "depth": image.color_depth, "world": of.world.name}
"""

CHANGES = """
def standing(scene):
    return {o.name: o.data.session_uid for o in scene.objects if "massing_part" in o}

def lowest(scene, part):
    bpy.context.view_layer.update()
    found = [(o.matrix_world @ v.co).y for o in scene.objects if o.get("massing_part") == part
             for v in o.data.vertices]
    return min(found)
"""


def test_open_change_undo_redo_save_reload(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        CHANGES
        + f"""
scene = fresh()
path = {str(scene_file)!r}
tell(opened=list(bpy.ops.massing.open(filepath=path)))
state = scene.massing
floor = "porch/floor/base"
house = next(c for c in scene.collection.children if c.get("massing_own") == "house")
tell(title=house.name)
tell(tree=[c.name for c in house.children], named=sorted(parts(scene)))

# What the user adds: an object of their own among ours, a modifier, a material, a copy.
mine = bpy.data.objects.new("mine", bpy.data.meshes.new("mine"))
next(c for c in house.children_recursive if c.name == "porch").objects.link(mine)
base = next(o for o in scene.objects if o.get("massing_part") == floor)
base.modifiers.new("worn edges", "BEVEL")
tinted = bpy.data.materials.new("tinted")
base.data.materials[0] = tinted
copy = base.copy()
scene.collection.objects.link(copy)
mine.parent = base

before = standing(scene)
y_before = lowest(scene, floor)
bpy.ops.ed.undo_push(message="user's own")
change("porch.depth", "2.4 m")
bpy.ops.ed.undo_push(message="depth")
after = standing(scene)
tell(
    moved=lowest(scene, floor) - y_before,
    touched=sorted({{bpy.data.objects[n]["massing_part"] for n in before
                    if n in after and before[n] != after[n]}}),
    kept=[base.modifiers[0].name, base.data.materials[0].name, mine.parent.name == base.name,
          "mine" in scene.objects, copy.name in scene.objects, "massing_part" in copy],
    one_each=len(parts(scene)), same_names=sorted(before) == sorted(after | {{copy.name: 0}}),
    fault=state.fault,
)

bpy.ops.ed.undo()
scene = bpy.context.scene
tell(undone=[lowest(scene, floor) - y_before, row("porch.depth").text, scene.massing.fault])
bpy.ops.ed.redo()
scene = bpy.context.scene
tell(redone=[lowest(scene, floor) - y_before, row("porch.depth").text])

blend = {str(tmp_path / "cottage.blend")!r}
bpy.ops.wm.save_as_mainfile(filepath=blend)
bpy.ops.wm.open_mainfile(filepath=blend)
scene = bpy.context.scene
state = scene.massing
tell(linked=state.path == path, design=state.design, depth=row("porch.depth").text,
     findings=len(state.findings), current=sorted(bpy.ops.massing.refresh()))
state.design = "Tuscan"
tell(picked=[state.shown, row("porch.order").choice, row("porch.columns").count, state.fault],
     hidden={{c.name: c.hide_render for c in scene.collection.children_recursive
              if "massing_design" in c}})
""",
        tmp_path,
    )
    assert told["opened"] == ["FINISHED"]
    assert told["tree"] == ["as drawn"]
    assert "porch/floor/base" in told["named"]
    assert told["moved"] == pytest.approx(-0.5, abs=1e-5)  # drawn 1.9 m deep
    assert told["touched"]
    assert all(p.startswith(("porch/", "setting/")) for p in told["touched"])
    assert told["kept"] == ["worn edges", "tinted", True, True, True, False]
    assert told["same_names"]
    assert told["fault"] == ""
    assert told["undone"] == [pytest.approx(0.0, abs=1e-6), "1.9 m", ""]
    assert told["redone"] == [pytest.approx(-0.5, abs=1e-5), "2.4 m"]
    assert told["linked"]
    assert told["design"] == "as drawn"
    assert told["depth"] == "2.4 m"
    assert told["findings"] > 0
    assert told["picked"] == ["Tuscan", "tuscan", 4, ""]
    assert told["hidden"] == {"as drawn": True, "Tuscan": False}


def test_the_hour_moves_lamp_and_sky_and_nothing_else(tmp_path: Path, scene_file: Path) -> None:
    hours = [8.0, 9.5, 11.25, 13.0, 15.75, 17.5]
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
state = scene.massing
state.day = "2026-10-05"
lamp = next(o for o in scene.objects if o.type == "LIGHT")
text = state.text

def rest():
    view = scene.view_settings
    kept = [[o.name, o.data and o.data.session_uid, [list(r) for r in o.matrix_basis]]
            for o in scene.objects if o is not lamp]
    return [kept, view.exposure, view.view_transform, scene.render.engine,
            len(bpy.data.meshes), len(bpy.data.materials)]

before = rest()
sweep, plain = [], []
from mathutils import Vector
for hour in {hours}:
    state.hour, state.minute = int(hour), round(hour % 1 * 60)
    bpy.context.view_layer.update()
    sky = scene.world.node_tree.nodes["sky"]
    x, y, z = scene.display.light_direction
    plain.append(list(lamp.matrix_world.to_3x3().col[2] - Vector((x, -z, y))))
    sweep.append([list(lamp.matrix_world.to_3x3().col[2]), sky.sun_elevation, sky.sun_rotation])
tell(sweep=sweep, plain=plain, same=rest() == before, fault=state.time_fault,
     text=state.text == text, moved=state.time_moved, looked_at=state.time_text)
state.hour = 2
tell(night=[lamp.data.energy, state.sun_note])
state.hour = 9
tell(day=lamp.data.energy)
bpy.ops.massing.step_hour(minutes=-15)
tell(stepped=[state.hour, state.minute])
bpy.ops.massing.keep_time(added=False)
tell(kept=[state.time_text, state.time_moved, state.times[0].name, len(state.times)])
state.hour = 11
bpy.ops.massing.keep_time(added=True)
tell(added=[t.name for t in state.times], index=state.time_index)
state.time = "0"
tell(picked=[state.hour, state.minute])
""",
        tmp_path,
    )
    np.testing.assert_allclose(told["plain"], 0.0, atol=1e-5)
    assert told["same"]
    assert told["fault"] == ""
    assert told["text"]  # moving the hour is only a look until it is kept
    assert told["moved"]
    assert told["looked_at"] == "2026-10-05 17:30"
    assert told["stepped"] == [9, 15]  # 9:30 was left of 17:30
    assert told["kept"] == ["2026-10-05 9:15", False, "2026-10-05 9:15", 3]
    assert told["added"][-1] == "2026-10-05 11:15"
    assert told["index"] == 3
    assert told["picked"] == [9, 15]
    site = load_scene(scene_file).scene.site
    times = pd.DatetimeIndex(
        [pd.Timestamp(2026, 10, 5, tz="Africa/Johannesburg") + pd.Timedelta(hours=h) for h in hours]
    )
    sun = solarposition.spa_python(times, site.latitude, site.longitude)
    altitude = np.radians(sun["apparent_elevation"].to_numpy())
    azimuth = np.radians(sun["azimuth"].to_numpy())
    # The front looks north: to its right, seen from the street, is west; into the house, south.
    assert site.front_faces == 0.0
    towards = np.stack(
        [
            -np.sin(azimuth) * np.cos(altitude),
            -np.cos(azimuth) * np.cos(altitude),
            np.sin(altitude),
        ],
        axis=1,
    )
    lamps = np.array([direction for direction, _, _ in told["sweep"]])
    off = np.degrees(np.arccos(np.clip((lamps * towards).sum(axis=1), -1.0, 1.0)))
    assert off.max() < 0.03  # float32, and refraction at another pressure
    elevations = np.array([elevation for _, elevation, _ in told["sweep"]])
    np.testing.assert_allclose(elevations, altitude, atol=5e-4)
    turned = np.array([rotation for _, _, rotation in told["sweep"]])
    np.testing.assert_allclose(
        np.exp(1j * turned), np.exp(1j * np.arctan2(towards[:, 0], towards[:, 1])), atol=5e-4
    )
    assert told["night"][0] == 0.0
    assert "below the horizon" in told["night"][1]
    assert told["day"] > 0.0


def test_writing_back_keeps_comments_and_the_rest(tmp_path: Path, scene_file: Path) -> None:
    text = scene_file.read_text(encoding="utf-8")
    scene_file.write_text(text.replace("  columns: 4\n", "  columns: 4  # as found\n"), "utf-8")
    text = scene_file.read_text(encoding="utf-8")
    out = tmp_path / "out.yaml"
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
state = scene.massing
state.hour = 9  # a look
same = {str(tmp_path / "same.yaml")!r}
bpy.ops.massing.write(filepath=same)
change("porch.depth", "2.2 m")
state.design = "Tuscan"
row("porch.diameter").text = "360 mm"
row("porch.balustrade").switch = True
row("roof.colour").choice = "buff"
bpy.ops.massing.write(filepath={str(out)!r})
tell(faults=[state.fault, state.time_fault], path=state.path, clean=not state.is_edited)

# Someone else edits the file meanwhile: neither their change nor ours is lost.
open(state.path, "a").write("# a later hand\\n")
change("roof.colour", "grey")
tell(clash=[attempt(lambda: bpy.ops.massing.write(filepath=state.path)),
            attempt(bpy.ops.massing.refresh)], colour=row("roof.colour").choice)
change("roof.colour", "buff")
bpy.ops.massing.refresh()
tell(taken="# a later hand" in state.text, faults_after=state.fault)
""",
        tmp_path,
    )
    assert (tmp_path / "same.yaml").read_text(encoding="utf-8") == text
    assert told["faults"] == ["", ""]
    assert told["path"] == str(out)
    assert told["clean"]
    written = out.read_text(encoding="utf-8").removesuffix("# a later hand\n")
    before, after = text.splitlines(), written.splitlines()
    added = [line for line in after if line not in before]
    assert sorted(line.strip() for line in added) == [
        "balustrade: {}",
        "depth: 2.2 m",
        "diameter: 360 mm",
        "roof: {colour: buff}",
    ]
    assert [line for line in after if "#" in line] == [line for line in before if "#" in line]
    tuscan = load_scene(out).designs["Tuscan"]
    assert tuscan.porch.diameter == pytest.approx(0.36)
    assert tuscan.roof.colour == "buff"
    for clash in told["clash"]:
        assert str(out) in clash
        assert "allowed" in clash
    assert told["colour"] == "grey"
    assert told["taken"]
    assert told["faults_after"] == ""


def test_faults_are_the_line_of_the_command_and_change_nothing(
    tmp_path: Path, scene_file: Path
) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text(scene_file.read_text("utf-8").replace("columns: 4", "columns: 40"), "utf-8")
    line = subprocess.run(
        [sys.executable, "-m", "massing", "check", str(bad)], capture_output=True, text=True
    ).stderr.strip()
    told = blender(
        CHANGES
        + f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
state = scene.massing
before = standing(scene)
fault = attempt(lambda: bpy.ops.massing.open(filepath={str(bad)!r}))
missing = attempt(lambda: bpy.ops.massing.open(filepath={str(tmp_path / "none.yaml")!r}))
tell(fault=fault, missing=missing, kept=[state.path, standing(scene) == before])
depth = row("porch.depth")
depth.text = "100 mm"
tell(shape=state.fault, stands=standing(scene) == before, given=depth.text, red=depth.at_fault)
state.design = "Tuscan"
tell(stays=[state.design, state.shown])
tell(unwritten=attempt(lambda: bpy.ops.massing.write(filepath={str(tmp_path / "no.yaml")!r})))
depth.text = "1.9 m"
tell(healed=state.fault, white=depth.at_fault)
row("porch.columns").count = 40
tell(line=change("porch.columns", "50"))
tell(back=change("porch.columns", "4"), none=state.fault)
state.day = "never"
tell(time=state.time_fault)
state.day = "14 May"
tell(time_healed=state.time_fault)
scene.massing.path = ""
tell(closed=bpy.ops.massing.refresh.poll())
""",
        tmp_path,
    )
    assert f"{bad}:" in line
    assert told["fault"] == f"Error: {line}"
    assert told["missing"] == f"Error: {tmp_path / 'none.yaml'}: no such file"
    assert told["kept"] == [str(scene_file), True]
    assert "porch.depth: given 100 mm, allowed: at least" in told["shape"]
    assert told["red"]
    assert not told["white"]
    assert told["stands"]
    assert told["given"] == "100 mm"
    assert told["stays"] == ["as drawn", "as drawn"]
    assert told["shape"].partition(": ")[2] in told["unwritten"]
    assert not (tmp_path / "no.yaml").exists()
    assert f"{scene_file}:" in told["line"]
    assert "porch.columns: given 50, allowed: a whole number, 2 to 16" in told["line"]
    assert told["back"] == told["none"] == ""
    assert told["healed"] == ""
    assert "'never " in told["time"]
    assert told["time_healed"] == ""
    assert not told["closed"]


def test_cameras_a_view_the_study_and_an_export(tmp_path: Path, scene_file: Path) -> None:
    text = scene_file.read_text(encoding="utf-8").split("alternatives:")[0]
    text += "times: [equinox 14:00]\nviews: [elevation, street]\nlooks: [clay]\n"
    scene_file.write_text(text, encoding="utf-8")
    told = blender(
        SETTINGS
        + f"""
import massing.study.run
massing.study.pictures.SIZES_PX["draft"] = (64, 40)
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
own = bpy.data.objects.new("own camera", bpy.data.cameras.new("own camera"))
scene.collection.objects.link(own)
scene.camera = own
scene.render.resolution_x, scene.cycles.samples = 333, 7
before = settings(scene)
scene.massing.hour = 14
bpy.ops.massing.place_cameras()
bpy.ops.massing.place_cameras()
cameras = {{o.name: [o.data.type, list(o.location)] for o in scene.objects if o.type == "CAMERA"}}
tell(cameras=cameras, still=scene.camera is own)
from addon import pictures
wanted = pictures.cameras(scene, "draft")
tell(wanted={{v: [c.kind, list(c.position_m)] for v, c in wanted.items()}})
bpy.ops.massing.render_view(view="street")
tell(changed=sorted(k for k, v in settings(scene).items() if before[k] != v))
tell(pictures=[s.name for s in bpy.data.scenes])
tell(study=list(bpy.ops.massing.render_study()))
glb = {str(tmp_path / "house.glb")!r}
bpy.ops.export_scene.gltf(filepath=glb, use_visible=True, export_gpu_instances=True)
""",
        tmp_path,
    )
    kinds = {"ortho": "ORTHO", "perspective": "PERSP"}
    for view, (kind, position) in told["wanted"].items():
        assert told["cameras"][view] == [kinds[kind], pytest.approx(position, rel=1e-6)]
    assert set(told["cameras"]) == {*told["wanted"], "own camera"}
    assert told["still"]
    assert told["changed"] == []
    renders = tmp_path / "renders" / "cottage"
    single = renders.with_name("cottage-views") / "as-drawn"
    assert (single / "street_equinox-14-00_materials.png").exists()
    assert told["study"] == ["FINISHED"]
    names = sorted(p.name for p in renders.glob("as-drawn/*.png"))
    assert names == [f"{view}_{slug('equinox 14:00')}_clay.png" for view in ("elevation", "street")]
    exported = (tmp_path / "house.glb").read_bytes()
    assert b"EXT_mesh_gpu_instancing" in exported
    assert b'"entablature frieze"' in exported


# --- the packed extension ------------------------------------------------------------------


def test_the_manifest_agrees_with_the_library() -> None:
    manifest = tomllib.loads((ROOT / "addon" / "blender_manifest.toml").read_text("utf-8"))
    assert manifest["schema_version"] == "1.0.0"
    assert manifest["version"] == massing.__version__
    assert manifest["blender_version_min"] == "4.2.0"
    assert manifest["license"] == ["SPDX:GPL-3.0-or-later"]
    assert manifest["permissions"].keys() == {"files"}
    # Names under example.org are nobody's (RFC 2606): the project's placeholders lead nowhere.
    assert re.fullmatch(r"https://[a-z]+\.example\.org", manifest["website"])
    assert re.fullmatch(r"[\w ]+ <[a-z]+@example\.org>", manifest["maintainer"])
    assert len(manifest["tagline"]) <= 64
    assert not manifest["tagline"].endswith(".")


# What Blender's own Python brings.
BLENDERS_OWN = ("bpy", "numpy*", "requests", "urllib3", "idna", "certifi", "charset_normalizer")
BLENDERS_OWN += ("zstandard", "Cython", "cython.py", "cattrs", "cattr", "attrs", "attr")

INSTALLED = """
state = bpy.ops.extensions.package_install_files(
    filepath={zip!r}, repo="user_default", enable_on_install=True)
import massing
tell(installed=list(state), library=massing.__file__)
bpy.ops.massing.open(filepath={scene!r})
state = bpy.context.scene.massing
bpy.ops.massing.set_field(field="porch.depth", value="2.3 m")
tell(shown=state.shown, fault=state.fault, parts=len(bpy.data.objects))
tell(written=list(bpy.ops.massing.write(filepath={out!r})))
tell(cameras=list(bpy.ops.massing.place_cameras()))
"""


def packer() -> tuple[str, str]:
    script = "import addon_utils; print('AT', addon_utils.paths()[0])"
    told = subprocess.run(
        [sys.executable, "-c", f"import bpy; {script}"], capture_output=True, text=True
    )
    (folder,) = [w.removeprefix("AT ") for w in told.stdout.splitlines() if w.startswith("AT ")]
    return sys.executable, str(Path(folder, "bl_pkg", "cli", "blender_ext.py"))


def test_the_packed_panel_validates_installs_and_runs(tmp_path: Path, scene_file: Path) -> None:
    """Without its wheels, which the tests' own Python has."""
    script = f"""
from pathlib import Path
from addon import pack
stage = pack.stage(Path({str(tmp_path / "stage")!r}))
(stage / "wheels").mkdir()
pack.write_manifest(stage, "linux-x64")
tell(zip=str(pack.build(stage, Path({str(tmp_path)!r}))))
"""
    packed = blender(script, tmp_path)["zip"]
    names = zipfile.ZipFile(packed).namelist()
    assert "third_party.txt" in names
    assert "blender_manifest.toml" in names
    assert not [name for name in names if "pack.py" in name or "pycache" in name]
    subprocess.run([*packer(), "validate", packed], check=True, capture_output=True)
    out = tmp_path / "out.yaml"
    told = blender(INSTALLED.format(zip=packed, scene=str(scene_file), out=str(out)), tmp_path)
    assert told["installed"] == told["written"] == told["cameras"] == ["FINISHED"]
    assert told["shown"] == "as drawn"
    assert told["fault"] == ""
    assert told["parts"] > 30
    assert load_scene(out).scene.porch.depth == pytest.approx(2.3)


ZIP = os.environ.get("MASSING_ZIP", "")


@pytest.mark.skipif(not ZIP, reason="MASSING_ZIP names no packed extension; make extension")
def test_the_whole_zip_runs_in_a_blender_that_has_nothing_else(
    tmp_path: Path, scene_file: Path
) -> None:
    subprocess.run([*packer(), "validate", ZIP], check=True, capture_output=True)
    manifest = tomllib.loads(zipfile.ZipFile(ZIP).read("blender_manifest.toml").decode())
    assert any("/massing-" in wheel for wheel in manifest["wheels"])
    bare = tmp_path / "bare"
    bare.mkdir()
    packages = Path(np.__file__).parents[1]
    for name in BLENDERS_OWN:
        for found in packages.glob(name):
            (bare / found.name).symlink_to(found)
    out = tmp_path / "out.yaml"
    script = INSTALLED.format(zip=str(Path(ZIP).resolve()), scene=str(scene_file), out=str(out))
    told = blender(script, tmp_path, flags=("-S",), root=bare)
    assert told["installed"] == told["written"] == told["cameras"] == ["FINISHED"]
    assert Path(told["library"]).is_relative_to(tmp_path / "user")
    assert told["fault"] == ""
    assert load_scene(out).scene.porch.depth == pytest.approx(2.3)
