"""The extension leaves alone what is not its own: other houses, settings, files, folders."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from massing.render.driver.requirements import check_blender
from tests.helpers.in_blender import ROOT, blender

COTTAGE = ROOT / "scenes" / "vineyard_cottage.yaml"

# More changes, and all scenes, take minutes: MASSING_CHANGES=100 before a release.
CHANGES = int(os.environ.get("MASSING_CHANGES", "40"))
SWEPT = (
    [path.stem for path in sorted((ROOT / "scenes").glob("*.yaml"))]
    if CHANGES >= 100
    else ["marsh_road", "vineyard_cottage", "foundry_lane", "osier_turn"]
)

pytestmark = pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")


@pytest.fixture
def scene_file(tmp_path: Path) -> Path:
    return Path(shutil.copy(COTTAGE, tmp_path / "cottage.yaml"))


# What stands of a house, against the model that its text asks for.
SWEEP = """
import random
import numpy as np
from addon import session, tree
from massing.edit.difference import part_hash, parts_by_key
from massing.edit.reading import reading
from massing.practice.finishes import full_role
from massing.geometry.copies import rigid_groups

def ghosts(scene, what):
    state = scene.massing
    model = reading(state.path, state.text).model(state.shown)
    if len(parts_by_key(model)) != len(model.parts):
        return [[what, "parts share a key"]]
    wanted, here = {}, {}
    for key, part in parts_by_key(model).items():
        groups = rigid_groups(part) if part.placements is not None else [("", part.mesh, None)]
        wanted[key] = [part_hash(part, full_role(part.role, model.notes)),
                       sum(len(m.vertices) for _, m, _ in groups),
                       4 * sum(len(f) for _, _, f in groups if f is not None)]
    for o in state.root.all_objects:
        if o.get("massing_design") == state.shown:
            mine = here.setdefault(o["massing_part"], [o["massing_key"], 0, 0])
            mine[2 if o.instance_type == "FACES" else 1] += len(o.data.vertices)
            part = parts_by_key(model).get(o["massing_part"])
            if part is not None and part.placements is None:
                co = np.empty(3 * len(o.data.vertices), dtype=np.float32)
                o.data.vertices.foreach_get("co", co)
                if not np.array_equal(co, part.mesh.vertices.astype(np.float32).ravel()):
                    mine[0] = "another shape"
    loose = [o.name for o in scene.objects if o.type == "MESH" and "massing_part" not in o]
    wrong = [k for k in {*here, *wanted} if here.get(k) != wanted.get(k)]
    return [[what, sorted(wrong)[:4], loose[:4]]] if wrong or loose else []
"""


@pytest.mark.parametrize("name", SWEPT)
def test_no_ghosts_in_any_bundled_design(tmp_path: Path, name: str) -> None:
    """Parts that share a name, and all that change with a porch, leave nothing behind."""
    told = blender(
        SWEEP
        + f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / f"{name}.yaml")!r})
found, done, meshes = [], 0, []
for design in [d.name for d in scene.massing.designs]:
    scene.massing.design = design
    bpy.ops.ed.undo_push(message="design")
    found += ghosts(scene, design)
    for field, value in (("porch.depth", "9 ft"), ("porch.depth", "2.2 m")):
        if change(field, value):
            scene.massing.tried = scene.massing.fault = ""
            continue
        done += 1
        bpy.ops.ed.undo_push(message=field)
        break
    found += ghosts(scene, design + " changed")
    bpy.ops.ed.undo()
    scene = bpy.context.scene
    found += ghosts(scene, design + " undone")
    bpy.ops.ed.redo()
    scene = bpy.context.scene
    found += ghosts(scene, design + " redone")
    found += [["refresh", len(session.refresh(scene))]] if session.refresh(scene) else []
tell(found=found, done=done, fault=scene.massing.fault)
""",
        tmp_path,
    )
    assert told["found"] == []
    assert told["fault"] == ""
    assert told["done"] >= 3


def test_no_ghosts_after_random_changes(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        SWEEP
        + f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
rng = random.Random(7)
fields = {{
    "porch.order": ["pier", "tuscan", "doric"], "porch.columns": ["2", "4", "6"],
    "porch.roof": ["flat", "hipped", "pediment"], "porch.balustrade": ["yes", "no"],
    "porch.diameter": ["250 mm", "300 mm", ""], "porch.depth": ["1.8 m", "2.2 m"],
    "house.quoins": ["yes", "no"], "house.belt_courses": ["yes", "no"],
    "porch.pedestals": ["yes", "no"], "porch.guard": ["yes", "no"],
    "roof.form": ["hip", "gable"], "roof.covering": ["plain", "slate", "standing seam"],
    "roof.dormers": ["yes", "no"], "porch.responds": ["none", "pilasters"],
}}
found, built, meshes = [], 0, []
for step in range({CHANGES}):
    field = rng.choice(sorted(fields))
    if change(field, rng.choice(fields[field])):
        scene.massing.tried = scene.massing.fault = ""
        continue
    built += 1
    if built % 5 == 0:
        found += ghosts(scene, f"{{step}} {{field}}")
        meshes.append(len([m for m in bpy.data.meshes if m.users == 0]))
found += ghosts(scene, "at the end")
tell(found=found, built=built, meshes=meshes)
""",
        tmp_path,
    )
    assert told["found"] == []
    assert told["built"] >= CHANGES // 2
    assert max(told["meshes"]) == 0


def test_several_houses_and_linked_ones_stand_side_by_side(
    tmp_path: Path, scene_file: Path
) -> None:
    told = blender(
        SWEEP
        + f"""
# A house in a file of its own, to be appended and linked; then the same house twice.
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
other = {str(tmp_path / "other.blend")!r}
bpy.ops.wm.save_as_mainfile(filepath=other)
title = scene.massing.root.name
count = len(scene.massing.root.all_objects)

import shutil
third = other.replace("other", "third")
shutil.copy(other, third)

def bring(link):
    with bpy.data.libraries.load(third, link=link) as (there, here):
        here.collections = [title]
    made = here.collections[0]
    bpy.context.scene.collection.children.link(made)
    return made

def standing(found):
    return len(found.all_objects)

for kind in ("another", "the same"):
    if kind == "another":
        bpy.ops.wm.read_homefile(use_empty=True, use_factory_startup=False)
        scene = bpy.context.scene
        bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
    else:
        bpy.ops.wm.open_mainfile(filepath=other)
        scene = bpy.context.scene
    appended = bring(False)
    linked = bring(True) if kind == "another" else None
    own = scene.massing.root
    counts = [standing(appended), standing(linked) if linked else count]
    faults = [change("porch.depth", "2.6 m"), change("porch.columns", "4")]
    scene.massing.design = scene.massing.designs[1].name
    bpy.ops.massing.refresh()
    found = ghosts(scene, kind)
    after = [standing(appended), standing(linked) if linked else count]
    bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
    then = [standing(appended), standing(linked) if linked else count]
    bpy.ops.massing.close()
    last = [standing(appended), standing(linked) if linked else count]
    tell(**{{kind: [counts, after, then, last], kind + " ghosts": found, kind + " faults": faults,
            kind + " left": [o.name for o in scene.objects if o.library is None
                             and o.name not in appended.all_objects]}})
tell(count=count)
""",
        tmp_path,
    )
    for kind in ("another", "the same"):
        assert told[kind] == [[told["count"]] * 2] * 4, kind
        assert told[f"{kind} ghosts"] == []
        assert told[f"{kind} faults"] == ["", ""]
        assert told[f"{kind} left"] == []


def test_two_scenes_of_a_file_have_a_sky_and_a_house_each(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
first = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
second = bpy.data.scenes.new("second")
bpy.context.window.scene = second
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
before = len(first.objects)
elevation = first.world.node_tree.nodes["sky"].sun_elevation
second.massing.hour = 7
change("porch.depth", "9 ft")
tell(worlds=first.world.name != second.world.name, houses=first.massing.house
     != second.massing.house, same=len(first.objects) == before,
     sky=first.world.node_tree.nodes["sky"].sun_elevation == elevation)
""",
        tmp_path,
    )
    assert told == {"worlds": True, "houses": True, "same": True, "sky": True}


def test_putting_the_house_away_gives_everything_back(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
scene = fresh(empty=False)
world = scene.world
camera = scene.camera

def what():
    return [sorted([o.name, o.hide_render, o.hide_viewport] for o in scene.objects),
            sorted(c.name for c in scene.collection.children_recursive), scene.world.name,
            scene.camera.name, sorted(s.name for s in bpy.data.scenes),
            sorted(w.name for w in bpy.data.worlds), scene.view_settings.exposure,
            scene.unit_settings.system, scene.unit_settings.use_separate,
            scene.render.engine, scene.render.resolution_x, list(scene.display.light_direction)]

before = what()
bpy.ops.massing.open(filepath={str(scene_file)!r})
tell(aside=[[o.name, o.hide_render] for o in scene.objects if o.name in ("Cube", "Light")],
     units=[scene.unit_settings.system, scene.view_settings.exposure, scene.render.engine])
bpy.ops.massing.place_cameras()
scene.world = world  # the user wants their own again
scene.massing.hour = 9
tell(world=scene.world is world)
bpy.ops.massing.close()
tell(same=what() == before, before=before, after=what(), open=scene.massing.is_open)

# A cube that the user has made theirs is not put aside.
bpy.data.objects["Cube"].location.x = 3.0
bpy.data.objects["Light"].location.x = 4.0
bpy.ops.massing.open(filepath={str(scene_file)!r})
tell(theirs=bpy.data.objects["Cube"].hide_render)
""",
        tmp_path,
    )
    assert told["aside"] == [["Cube", True], ["Light", True]]
    assert told["units"] == ["METRIC", 0.0, told["before"][9]]
    assert told["world"]
    assert told["after"] == told["before"]
    assert not told["open"]
    assert not told["theirs"]


def test_a_material_of_the_user_s_stays_through_looks_and_changes(
    tmp_path: Path, scene_file: Path
) -> None:
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
made = next(o for o in scene.objects if o.get("massing_part") == "porch/floor/base")
other = next(o for o in scene.objects if o.get("massing_part") == "porch/entablature/frieze")
made.data.materials[0] = bpy.data.materials.new("tinted")
seen = []
for look in ("clay", "materials"):
    scene.massing.look = look
    seen.append([made.data.materials[0].name, other.data.materials[0].name.split()[0]])
change("porch.depth", "2.2 m")
seen.append([made.data.materials[0].name, scene.massing.fault])
tell(seen=seen)
""",
        tmp_path,
    )
    assert told["seen"] == [["tinted", "clay"], ["tinted", "materials"], ["tinted", ""]]


def test_a_blender_file_made_to_do_harm_writes_nowhere_else(
    tmp_path: Path, scene_file: Path
) -> None:
    """It names a view with a path in it, and a scene file that is not its own."""
    home, victim = tmp_path / "home", tmp_path / "victim"
    home.mkdir()
    victim.mkdir()
    (victim / "scene.yaml").write_text(scene_file.read_text("utf-8"), "utf-8")
    before = sorted(p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*"))
    told = blender(
        f"""
import massing.study.pictures
massing.study.pictures.SIZES_PX["draft"] = (32, 20)
scene = fresh()
text = open({str(scene_file)!r}).read()
bad = text.replace("views:", "cameras: [{{name: '../../../../evil', stand: {{along: 0 m, "
    "before: 20 m}}, look_at: {{along: 0 m, before: 0 m}}}}]\\nviews:")
open({str(home / "own.yaml")!r}, "w").write(bad)
bpy.ops.massing.open(filepath={str(home / "own.yaml")!r})
scene.massing.hour = 14
first = attempt(lambda: bpy.ops.massing.render_view(view="../../../../evil"))
scene.massing.views[0].name = "../../../../evil two"
second = attempt(lambda: bpy.ops.massing.render_view(view="../../../../evil two"))
from addon import session
session.opened.clear()  # as in a Blender that only opened the file
scene.massing.path = {str(victim / "scene.yaml")!r}
third = attempt(lambda: bpy.ops.massing.render_view(view=scene.massing.views[1].name))
fourth = attempt(bpy.ops.massing.render_study)
row_ = scene.massing.found.add()
row_.path = "../../etc"
row_.text = "harm"
tell(first=first, second=second, third=third, fourth=fourth)
""",
        tmp_path,
    )
    assert told["first"] == ""
    assert "given ../../../../evil two, allowed: one of" in told["second"]
    for refused in (told["third"], told["fourth"]):
        assert "given by a Blender file from elsewhere" in refused
    after = {p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*")} - set(before)
    ours = ("home/own.yaml", "home/renders", "user", "script.py")
    assert [path for path in sorted(after) if not path.startswith(ours)] == []
    assert [p.name for p in (home / "renders" / "own-views" / "as-drawn").iterdir()] == [
        "evil_summer-solstice-14-00_materials.png"
    ]


def test_a_moved_folder_keeps_its_house(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
import os, shutil
scene = fresh()
os.makedirs({str(tmp_path / "old")!r})
shutil.move({str(scene_file)!r}, {str(tmp_path / "old" / "cottage.yaml")!r})
bpy.ops.massing.open(filepath={str(tmp_path / "old" / "cottage.yaml")!r})
bpy.ops.wm.save_as_mainfile(filepath={str(tmp_path / "old" / "house.blend")!r})
shutil.move({str(tmp_path / "old")!r}, {str(tmp_path / "new")!r})
bpy.ops.wm.open_mainfile(filepath={str(tmp_path / "new" / "house.blend")!r})
from addon import pictures, session
session.opened.clear()
state = bpy.context.scene.massing
tell(refreshed=list(bpy.ops.massing.refresh()), at=str(session.scene_path(state)),
     pictures=str(pictures.folder(bpy.context.scene, "draft")))
""",
        tmp_path,
    )
    assert told["refreshed"] == ["FINISHED"]
    assert told["at"] == str(tmp_path / "new" / "cottage.yaml")
    assert told["pictures"] == str(tmp_path / "new" / "renders" / "cottage")


def test_a_refused_size_is_a_step_of_undo_of_its_own(tmp_path: Path, scene_file: Path) -> None:
    """As the buttons call it: what comes back is what stood before it, not the step before."""
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
bpy.ops.ed.undo_push(message="open")

def give(value):
    call = lambda: bpy.ops.massing.set_field("EXEC_DEFAULT", True, field="porch.depth", value=value)
    return attempt(call)

def now():
    state = bpy.context.scene.massing
    return [session.field_stands(state, "porch.depth").shown, bool(state.fault)]

from addon import session
seen = [now()]
faults = [give("2.1 m")]
seen.append(now())
faults.append(give("0.1 m"))
seen.append(now())
bpy.ops.ed.undo()
seen.append(now())
bpy.ops.ed.undo()
seen.append(now())
tell(seen=seen, faults=[bool(f) for f in faults])
""",
        tmp_path,
    )
    before, changed, refused, once, twice = told["seen"]
    assert told["faults"] == [False, True]
    assert changed == ["2.1 m", False]
    assert refused == ["0.1 m", True]
    assert once == changed
    assert twice == before


def test_what_a_finding_or_a_fault_asks_for_can_be_done_in_the_panel(
    tmp_path: Path, scene_file: Path
) -> None:
    """Nine bays want another spacing; a deeper entablature wants lower windows."""
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
state = scene.massing
change("house.bay_spacing", "9'-3\\"")
first = change("house.bays", "9")
second = change("house.bay_spacing", "7 ft")
bpy.ops.massing.open(filepath={str(scene_file)!r})
deeper = change("porch.entablature", "500 mm")
tell(first=first, second=second, deeper=deeper)
state.search = "window height"
tell(rows=[r.path for r in state.found])
state.search = ""
from massing.edit.fields import scene_fields
from addon import session
read = session.read_of(state)
every = [f.name for f in scene_fields(read, state.shown)]
reached = []
for name in every:
    state.search = name
    reached.append(name in [r.path for r in (*state.first, *state.found)])
tell(every=len(every), unreached=[n for n, r in zip(every, reached) if not r])
""",
        tmp_path,
    )
    assert "bay_spacing" in told["first"]
    assert told["second"] == ""
    assert "house.windows[1].height" in told["rows"]
    assert told["every"] > 150
    assert told["unreached"] == []


def test_alternatives_from_the_panel(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        SWEEP
        + f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
state = scene.massing
before = [d.name for d in state.designs]
bpy.ops.massing.add_alternative(name="Deeper")
change("porch.depth", "2.3 m")
bpy.ops.massing.rename_design(name="Deeper still")
bpy.ops.massing.move_alternative(steps=-5)
tell(names=[d.name for d in state.designs], shown=state.shown,
     ghosts=ghosts(scene, "renamed"),
     collections=sorted(c.name for c in state.root.children))
bpy.ops.massing.delete_alternative()
tell(after=[d.name for d in state.designs] == before, last=state.shown,
     left=[o.name for o in scene.objects if o.get("massing_design") == "Deeper still"],
     none=attempt(bpy.ops.massing.delete_alternative),
     twice=attempt(lambda: bpy.ops.massing.add_alternative(name="Tuscan")))
""",
        tmp_path,
    )
    assert told["names"][:2] == ["as drawn", "Deeper still"]
    assert told["shown"] == "Deeper still"
    assert told["ghosts"] == []
    assert told["collections"] == ["Deeper still", "as drawn"]
    assert told["after"]
    assert told["last"] == "as drawn"
    assert told["left"] == []
    assert "allowed: an alternative" in told["none"]
    assert "given Tuscan again" in told["twice"]


def test_a_house_begun_in_the_panel(tmp_path: Path) -> None:
    """From answers, and from each of the bundled scenes; neither is a file of the user's yet."""
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.new_house(units="metric", width="12 m", bays="5")
state = scene.massing
tell(designs=len(state.designs), fault=state.fault, edited=state.is_edited, shown=state.shown)
tell(refused=attempt(lambda: bpy.ops.massing.new_house(width="banana")), still=state.path)
tell(no_place=attempt(lambda: bpy.ops.massing.render_view(view=state.views[0].name)))
out = {str(tmp_path / "mine.yaml")!r}
tell(written=list(bpy.ops.massing.write(filepath=out)), clean=not state.is_edited)
names = [i.identifier for i in
         bpy.ops.massing.open_bundled.get_rna_type().properties["name"].enum_items]
bpy.ops.massing.open_bundled(name="vineyard_cottage")
tell(names=names, opened=state.path)
""",
        tmp_path,
    )
    assert told["designs"] >= 3
    assert told["fault"] == ""
    assert told["edited"]
    assert "width: given banana" in told["refused"]
    assert told["still"] == "new_house.yaml"
    assert "write this one first" in told["no_place"]
    assert told["written"] == ["FINISHED"]
    assert told["clean"]
    assert sorted(told["names"]) == sorted(p.stem for p in (ROOT / "scenes").glob("*.yaml"))
    assert told["opened"] == "vineyard_cottage.yaml"


def test_a_glb_holds_every_triangle_of_the_model(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
import json, struct
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
from massing.edit.reading import reading
state = scene.massing
model = reading(state.path, state.text).model(state.shown)
out = {str(tmp_path / "house.glb")!r}
found = []
for packed in (False, True):
    bpy.ops.export_scene.gltf(filepath=out, use_visible=True, export_gpu_instances=packed)
    data = open(out, "rb").read()
    (length,) = struct.unpack("<I", data[12:16])
    file = json.loads(data[20:20 + length])
    size = [sum(file["accessors"][p["indices"]]["count"] // 3 for p in m["primitives"])
            for m in file["meshes"]]
    count = 0
    for node in file["nodes"]:
        if "mesh" in node:
            many = node.get("extensions", {{}}).get("EXT_mesh_gpu_instancing")
            copies = file["accessors"][many["attributes"]["TRANSLATION"]]["count"] if many else 1
            count += copies * size[node["mesh"]]
    found.append(count)
tell(found=found, wanted=sum(len(p.mesh.faces) * p.count for p in model.parts))
""",
        tmp_path,
    )
    assert told["found"] == [told["wanted"]] * 2


def test_registering_loads_nothing_of_the_library_s_weight(tmp_path: Path) -> None:
    told = blender(
        """
before = set(sys.modules)
import addon
addon.register()
heavy = ("pydantic", "ruamel", "numpy", "scipy", "pandas", "PIL", "matplotlib", "trimesh",
         "manifold3d", "massing.build", "massing.scene.spec", "massing.sun", "massing.render")
tell(heavy=[m for m in sys.modules if m in heavy and m not in before and m != "numpy"])
""",
        tmp_path,
    )
    assert told["heavy"] == []


def test_values_are_said_as_the_scene_file_says_them(tmp_path: Path) -> None:
    """A bearing stays one, lengths are in the file's fractions, an hour in hours and minutes."""
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
state = scene.massing
state.design = "Six Doric columns"
change("porch.depth", "9'-11 5/16\\"")
for field in ("porch.depth", "porch.diameter"):
    bpy.ops.massing.nudge_field(field=field, steps=1)
state.hour, state.minute = 12, 30
rows = {{r.path: r.text for r in (*state.first, *state.found)}}
tell(rows=rows, time=state.time_text, fault=state.fault)
""",
        tmp_path,
    )
    rows = told["rows"]
    assert told["fault"] == ""
    assert rows["site.front_faces"] == "S 25 E"
    assert rows["porch.depth"] == "10'-0\""
    assert rows["porch.diameter"] == "2'-7\""
    assert told["time"] == "summer solstice 12:30"
    lengths = [text for text in rows.values() if "'" in text or '"' in text]
    assert len(lengths) >= 5
    assert [text for text in lengths if "." in text] == []
