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


def test_what_is_copied_is_seen_at_its_places_alone(tmp_path: Path) -> None:
    """A view shows it once more where it was made: within the house, and not before the door."""
    told = blender(
        f"""
import numpy as np
from mathutils import Vector
scene = fresh()

def stands():
    bpy.context.view_layer.update()
    walls = [o for o in scene.massing.root.all_objects
             if o.get("massing_part", "").startswith("house/wall")
             and o["massing_design"] == scene.massing.shown]
    points = np.array([o.matrix_world @ v.co for o in walls for v in o.data.vertices])
    low, high = points.min(axis=0), points.max(axis=0)
    astray, copies = [], {{}}
    for i in bpy.context.evaluated_depsgraph_get().object_instances:
        made = i.object.original
        if made.parent is None or made.parent.instance_type != "FACES":
            continue
        if i.is_instance:
            copies.setdefault(made.name, []).append(list(i.matrix_world.translation))
            continue
        box = np.array([i.matrix_world @ Vector(c) for c in made.bound_box])
        if (box[:, :2] < low[:2] + 0.3).any() or (box[:, :2] > high[:2] - 0.3).any():
            astray.append(made.name)
    columns = sorted(round(at[0], 3) for name, places in copies.items() if "shaft" in name
                     for at in places)
    return astray, len(copies), columns

bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
found = [stands()]
scene.massing.design = "Six Doric columns"
found.append(stands())
bpy.ops.ed.undo_push(message="before")
change("porch.columns", "4")
found.append(stands())
change("porch.columns", "6")
change("porch.depth", "11 ft")
found.append(stands())
from addon import session
axes = sorted(round(x, 3) for x in session.shown_design(scene.massing).porch.axes_m)
tell(found=found, axes=axes)
""",
        tmp_path,
    )
    for astray, copied, _ in told["found"]:
        assert astray == []
        assert copied > 5
    assert told["found"][1][2] == told["found"][3][2] == told["axes"]
    assert len(told["found"][2][2]) == 4
