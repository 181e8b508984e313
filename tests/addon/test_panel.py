"""What the panel draws, measured without a window; how a view stands once a scene is opened."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.render.driver.requirements import check_blender
from tests.helpers.in_blender import ROOT, blender

pytestmark = pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")

DRAW = """
from types import SimpleNamespace
from addon import panel
from tests.helpers.measured_layout import PANEL, TABS, Layout

def cut(wide=260):
    found = []
    at_scale_1 = SimpleNamespace(system=SimpleNamespace(ui_scale=1.0))
    context = SimpleNamespace(scene=bpy.context.scene, preferences=at_scale_1,
                              region=SimpleNamespace(width=wide))
    for kind in panel._CLASSES:
        if not hasattr(kind, "poll") or kind.poll(context):
            drawn = Layout()
            kind.draw(SimpleNamespace(layout=drawn), context)
            found += [f"{kind.bl_label}: {text}" for text in drawn.cut(wide - TABS - PANEL)]
    return found
"""


@pytest.mark.parametrize("name", sorted(p.stem for p in (ROOT / "scenes").glob("*.yaml")))
def test_no_text_is_cut_in_a_panel_of_260_pixels(tmp_path: Path, name: str) -> None:
    """Closed, opened, with every design shown, a fault, every state that has words of its own."""
    told = blender(
        DRAW
        + f"""
scene = fresh()
state = scene.massing
found = cut()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / f"{name}.yaml")!r})
for design in [d.name for d in state.designs]:
    state.design = design
    found += cut()
state.search = "width"
state.progress = "12 of 48 pictures"
found += cut()
state.progress, state.outcome = "", "36 files made, 12 pictures kept, 1 failed"
state.hour = 23
found += cut()
change("porch.depth", "100 mm")
state.search = "dormer pitch"
found += cut()
tell(found=sorted(set(found)), faulty=bool(state.fault), narrow=len(cut(150)))
""",
        tmp_path,
    )
    assert told["found"] == []
    assert told["faulty"]
    assert told["narrow"] > 5, "the measure tells what is cut"


def test_open_leaves_a_shading_in_which_the_sun_s_shadow_shows(tmp_path: Path) -> None:
    """In each 3D view of the window; put away, each is shaded as it was."""
    told = blender(
        f"""
scene = fresh(empty=False)
spaces = [a.spaces.active for a in bpy.context.screen.areas if a.type == "VIEW_3D"]
spaces[0].shading.type = "WIREFRAME"

def stands():
    return [[s.shading.type, s.shading.show_shadows, round(s.shading.shadow_intensity, 3)]
            for s in spaces]

before = stands()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
opened = stands()
from addon import session

def towards():
    sun = session.shown_sun(scene.massing)
    x, y, z = scene.display.light_direction
    return sum(a * b for a, b in zip((x, -z, y), sun.direction)), sun.is_up

lit = [towards()]
scene.massing.hour = scene.massing.hour + 2
lit.append(towards())
throws = [o.display.show_shadows for o in scene.massing.root.all_objects
          if o.get("massing_part") == "porch/entablature/cornice"]
cube = scene.objects["Cube"].hide_viewport
bpy.ops.massing.shade(way="daylight")
daylight = [[s.shading.type, s.shading.use_scene_lights, s.shading.use_scene_world] for s in spaces]
energy = next(o for o in scene.objects if o.type == "LIGHT" and not o.hide_viewport).data.energy
bpy.ops.massing.close()
tell(views=len(spaces), before=before, opened=opened, lit=lit, throws=throws, cube=cube,
     daylight=daylight, energy=energy, after=stands())
""",
        tmp_path,
    )
    assert told["views"] >= 1
    for kind, shadows, strength in told["opened"]:
        assert (kind, shadows) == ("SOLID", True)
        assert strength > 0.3
    for along, up in told["lit"]:
        assert up
        assert along == pytest.approx(1.0, abs=1e-4), "plain shading's light is the hour's sun"
    assert told["throws"] == [True]
    assert told["cube"], "the start cube throws no shadow on the door"
    assert told["daylight"] == [["MATERIAL", True, True]] * told["views"]
    assert told["energy"] > 0.0
    assert told["after"] == told["before"]


def test_what_is_copied_stands_nowhere_but_at_its_places(tmp_path: Path) -> None:
    """As a view shows it: no column, baluster or tile of its own at the scene's origin."""
    told = blender(
        f"""
scene = fresh()

def astray():
    shown = bpy.context.evaluated_depsgraph_get().object_instances
    kept = [(i.object.original.name, i.is_instance) for i in shown if i.object.type == "MESH"]
    carried = {{o.name for o in scene.objects if o.parent and o.parent.instance_type == "FACES"}}
    return [[name for name, copied in kept if name in carried and not copied][:3],
            len({{name for name, copied in kept if copied}}), len(carried)]

bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
found = [astray()]
scene.massing.design = "Six Doric columns"
found.append(astray())
scene.massing.designs[0].beside = True
found.append(astray())
bpy.ops.ed.undo_push(message="before")
change("porch.order", "ionic")
found.append(astray())
bpy.ops.ed.undo_push(message="after")
for step in (bpy.ops.ed.undo, bpy.ops.ed.redo):
    step()
    scene = bpy.context.scene
    found.append(astray())
tell(found=found)
""",
        tmp_path,
    )
    for astray, copied, _ in told["found"]:
        assert astray == []
        assert copied > 5
    assert told["found"][2][1] == told["found"][2][2], "all that is copied is seen"
