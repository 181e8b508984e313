"""What is drawn over the view, stands in it or leaves it, in Blender's module without a window."""

from __future__ import annotations

import shutil
from pathlib import Path

import openpyxl
import pytest

from massing.render.driver.requirements import check_blender
from tests.addon.test_no_harm import SWEEP
from tests.helpers.in_blender import blender

ROOT = Path(__file__).parents[2]
COTTAGE = ROOT / "scenes" / "vineyard_cottage.yaml"

pytestmark = pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")


@pytest.fixture
def scene_file(tmp_path: Path) -> Path:
    return Path(shutil.copy(COTTAGE, tmp_path / "cottage.yaml"))


def test_a_light_model_follows_the_hand_and_the_whole_one_settles(tmp_path: Path) -> None:
    """By the clocks that a drag sets going: no covering is laid until the hand rests."""
    told = blender(
        SWEEP
        + f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
state = scene.massing
state.design = "Six Doric columns"
from addon import gizmos, session
from massing.build import placing
laid = []
for kind, lay in list(placing._LAY.items()):
    placing._LAY[kind] = lambda *given, lay=lay: laid.append(1) or lay(*given)

def foot():
    return min((o.matrix_world @ v.co).z for o in state.root.all_objects
               if o.get("massing_part") == "porch/entablature/frieze" for v in o.data.vertices)

def tiles():
    return sorted(o["massing_key"] for o in state.root.all_objects
                  if o.get("massing_part", "").startswith("house/roof/tiles"))

before, text, rows = (foot(), tiles()), state.text, [r.text for r in state.first]
from massing.units import parse_length
stands = parse_length(session.field_stands(state, "porch.entablature").shown)
gizmos._waiting[:] = [(scene.name, "porch.entablature", f"{{stands + 0.03:.3f}} m")]
gizmos._follow()
light = foot(), tiles(), len(laid), [r.text for r in state.first] == rows
again = tree.lay(scene, state.root, session.read_of(state).light_model(state.shown), state.look,
                 light=True)
gizmos._settle()
whole = foot(), tiles(), len(laid) > 0, ghosts(scene, "settled")
session.take_back(scene, text)
back = [foot(), tiles()] == list(before), ghosts(scene, "back"), state.text == text

# What cannot be built changes nothing.
gizmos._waiting[:] = [(scene.name, "porch.entablature", "3 m")]
gizmos._follow()
gizmos._settle()
tell(before=before, light=light, whole=whole, back=back, again=again,
     refused=[foot(), tiles()] == list(before), text=state.text == text)
""",
        tmp_path,
    )
    foot, tiles = told["before"]
    assert len(tiles) > 3
    assert told["light"][0] < foot - 0.01
    assert told["light"][1:] == [tiles, 0, True], "coverings and rows stay until the hand rests"
    assert told["again"] == []
    assert told["whole"][0] == told["light"][0]
    assert told["whole"][1] != tiles
    assert told["whole"][2:] == [True, []]
    assert told["back"] == [True, [], True]
    assert told["refused"]
    assert told["text"]


def test_in_a_window_the_coverings_follow_a_moment_later(tmp_path: Path) -> None:
    """What moves the eaves is shown at once; undo, saving and pictures find the whole of it."""
    told = blender(
        SWEEP
        + f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
state = scene.massing
state.design = "Six Doric columns"
bpy.ops.ed.undo_push(message="open")
from addon import session
session._waits = True  # as with a window
waits = lambda: bpy.app.timers.is_registered(session._settle_all)

def tiles():
    return sorted(o["massing_key"] for o in bpy.context.scene.massing.root.all_objects
                  if o.get("massing_part", "").startswith("house/roof/tiles"))

laid = [tiles()]
change("porch.depth", "10 ft")
porch = state.unsettled, ghosts(scene, "porch")
from massing.units import parse_length
stands = parse_length(session.field_stands(state, "porch.entablature").shown)
seen, found = [], []
for by in (0.03, 0.06):
    change("porch.entablature", f"{{stands + by:.3f}} m")
    seen.append([tiles() == laid[-1], state.unsettled, waits(), bool(ghosts(scene, "light"))])
    bpy.ops.ed.undo_push(message="deeper")  # as a button does, before anything has settled
    session._settle_all()
    found += ghosts(scene, by)
    laid.append(tiles())
    bpy.app.timers.unregister(session._settle_all)
bpy.ops.ed.undo()
state = bpy.context.scene.massing
undone = state.unsettled, waits()
session._settle_all()
found += ghosts(bpy.context.scene, "undone")
back = tiles() == laid[1]
change("porch.entablature", f"{{stands + 0.09:.3f}} m")
bpy.ops.wm.save_as_mainfile(filepath={str(tmp_path / "saved.blend")!r})
saved = state.unsettled, ghosts(bpy.context.scene, "saved")
change("porch.entablature", f"{{stands + 0.1:.3f}} m")
bpy.ops.massing.mark_assets()
marked = state.unsettled, session.refresh(bpy.context.scene)
before = tiles()
faulty = change("porch.entablature", "3 m")
tell(porch=porch, seen=seen, found=found, distinct=len({{str(t) for t in laid}}), undone=undone,
     back=back, saved=saved, marked=marked, faulty=faulty, still=tiles() == before)
""",
        tmp_path,
    )
    assert told["porch"] == [False, []], "what leaves the roof alone is whole at once"
    assert told["seen"] == [[True, True, True, True]] * 2
    assert told["found"] == []
    assert told["distinct"] == 3
    assert told["undone"] == [True, True]
    assert told["back"]
    assert told["saved"] == told["marked"] == [False, []]
    assert told["faulty"]
    assert told["still"]


def test_alternatives_stand_side_by_side(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
state = scene.massing

def stands():
    bpy.context.view_layer.update()
    found = {{}}
    for home in state.root.children:
        tops = [o for o in home.all_objects if o.parent is None]
        found[home.name] = [home.hide_viewport, sorted({{round(o.matrix_world.translation.x, 3)
                                                        for o in tops}})]
    return found

alone = stands()
moved = next(o for o in scene.objects if "figure" in o.name)
moved.location.x = 2.0
for entry in list(state.designs)[1:]:
    entry.beside = True
both = stands()
change("porch.depth", "2.3 m")
changed = stands()
fault = state.fault
state.designs[2].beside = False
fewer = stands()
shown = [bool(o.get("massing_part", "").startswith("setting")) for o in scene.objects
         if o.get("massing_design") != state.shown and "massing_part" in o]
tell(alone=alone, both=both, changed=changed, fewer=fewer, fault=fault, settings=sum(shown),
     figure=moved.location.x)
""",
        tmp_path,
    )
    assert told["fault"] == ""
    drawn, tuscan, ionic = "as drawn", "Tuscan", "Ionic with a pediment"
    assert list(told["alone"]) == [drawn]
    wide = 14.4  # of the cottage's walls, as its file has it
    assert told["both"][tuscan] == [False, [round(wide + 6.0, 3)]]
    assert told["both"][ionic] == [False, [round(2 * (wide + 6.0), 3)]]
    assert told["changed"] == told["both"]
    assert told["fewer"][ionic][0] is True
    assert told["fewer"][tuscan] == told["both"][tuscan]
    assert told["settings"] == 0
    assert told["figure"] == 2.0


def test_a_view_a_file_and_assets(tmp_path: Path, scene_file: Path) -> None:
    told = blender(
        f"""
from pathlib import Path
scene = fresh()
path = Path({str(scene_file)!r})
bpy.ops.massing.open(filepath=str(path))
state = scene.massing
from addon import session
session.keep_view(scene, "Gate", (3.0, -12.0, 1.6), (-0.1, 1.0, 0.1), 35.0)
quiet = session.changed_on_disk(state)
path.write_text(path.read_text() + "# by another hand\\n")
noticed = session.changed_on_disk(state)
bpy.ops.massing.mark_assets()
assets = {{c.name: len(c.objects) for c in bpy.data.collections if c.asset_data}}
bpy.ops.massing.mark_assets()
twice = {{c.name: len(c.objects) for c in bpy.data.collections if c.asset_data}}
out = path.with_name("house.glb")
bpy.ops.massing.export("EXEC_DEFAULT", filepath=str(out))
wrong = attempt(lambda: bpy.ops.massing.export("EXEC_DEFAULT", filepath=str(out) + ".stl"))
tell(views=[v.name for v in state.views], quiet=quiet, noticed=noticed, assets=assets,
     twice=twice, size=out.stat().st_size, wrong=wrong)
""",
        tmp_path,
    )
    assert "Gate" in told["views"]
    assert (told["quiet"], told["noticed"]) == (False, True)
    assert told["assets"] == told["twice"]
    assert any(name.startswith("Column, ") for name in told["assets"])
    assert any(name.startswith("Window") for name in told["assets"])
    assert told["size"] > 10_000
    assert "allowed: a name in .glb or .obj" in told["wrong"]


def test_a_paper_is_made_by_a_process_of_its_own(tmp_path: Path, scene_file: Path) -> None:
    """The text in hand, not yet written, is what the paper says."""
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
change("porch.depth", "2.345 m")
bpy.ops.massing.make_paper(kind="sizes")
state = scene.massing
from addon.papers import PaperRun
run = PaperRun(scene, "sizes")
run.start()
run.stop()
run.wait()
tell(outcome=state.outcome, folder=state.outcome_folder, stopped=run.told())
""",
        tmp_path,
    )
    assert told["outcome"] == "Made: sizes.xlsx"
    book = openpyxl.load_workbook(Path(told["folder"], "sizes.xlsx"))
    cells = [str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row]
    assert any("2.345" in cell or "2345" in cell for cell in cells)
    assert told["stopped"] == [[], "stopped"], "what was asked for is no error"


def test_a_part_in_edit_mode_and_a_copy_survive_a_change(tmp_path: Path, scene_file: Path) -> None:
    """A copy that shares a part's mesh keeps it; the part itself follows."""
    told = blender(
        f"""
scene = fresh()
bpy.ops.massing.open(filepath={str(scene_file)!r})
part = next(o for o in scene.objects if o.get("massing_part") == "porch/entablature/cornice")
copy = bpy.data.objects.new("mine", part.data)
scene.collection.objects.link(copy)
before = len(copy.data.vertices), [round(c, 3) for c in copy.bound_box[0]]
bpy.context.view_layer.objects.active = part
bpy.ops.object.mode_set(mode="EDIT")
fault = change("porch.depth", "2.5 m")
after = len(copy.data.vertices), [round(c, 3) for c in copy.bound_box[0]]
low = min(v.co.y for v in part.data.vertices)
tell(before=before, after=after, fault=fault, mode=part.mode, same=part.data == copy.data,
     low=low, kept=min(v.co.y for v in copy.data.vertices))
""",
        tmp_path,
    )
    assert told["fault"] == ""
    assert told["before"] == told["after"]
    assert not told["same"]
    assert told["low"] < told["kept"] - 0.4


def test_a_change_builds_what_it_touches_and_reads_what_it_wrote(tmp_path: Path) -> None:
    """Calls are counted, not seconds: of six Doric columns 280,000 before, 120,000 now."""
    told = blender(
        f"""
import cProfile, pstats
scene = fresh()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
scene.massing.design = "Six Doric columns"
found = {{}}
for field, values in (("porch.depth", ("10'-2\\"", "10'-3\\"")), ("hour", (10, 11))):
    for value in values:
        watch = cProfile.Profile()
        watch.enable()
        if field == "hour":
            scene.massing.hour = value
        else:
            change(field, value)
        watch.disable()
    stats = pstats.Stats(watch).stats
    ran = [f"{{at[0].replace(chr(92), '/').partition('massing/')[2]}} {{at[2]}}" for at in stats
           if "massing/" in at[0]]
    found[field] = [sum(told[1] for told in stats.values()), ran]
tell(found=found, fault=scene.massing.fault)
""",
        tmp_path,
    )
    assert told["fault"] == ""
    calls, ran = told["found"]["porch.depth"]
    assert "parts/orders/balustrade.py balustrade" in ran
    for idle in (
        "parts/roofs/tiles.py lay_tiles",
        "parts/walls/wall.py walls",
        "parts/openings/window.py windows",
        "geometry/solids.py _union",
        "geometry/booleans.py mesh_of",
        "build/wings.py scribed",
    ):
        assert idle not in ran
        name = idle.split()
        assert f"def {name[1]}(" in (ROOT / "massing" / name[0]).read_text("utf-8"), idle
    assert calls < 160_000
    calls, ran = told["found"]["hour"]
    assert calls < 15_000
    assert not [name for name in ran if name.startswith(("build/", "parts/", "resolve/"))]
