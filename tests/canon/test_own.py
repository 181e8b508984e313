"""A canon of one's own: read from a file beside the scene, and held to what can be built."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from massing.build.house import build
from massing.canon.own import MOST_BYTES
from massing.findings.report import findings
from massing.present.ink.engravings import draw_design_plate
from massing.resolve.design import resolve
from massing.scene.errors import SceneError
from massing.scene.load import load_scene

SCENE = """\
title: A house by the river
site: {place: Nowhere, latitude: 41, longitude: -74, front_faces: S}
times: [equinox 12:00]
house: {width: 50 ft, depth: 30 ft, floor: 2 ft, storeys: [11 ft, 10 ft]}
porch: {order: doric, canon: orders/river.yaml, columns: 4, diameter: 12 in}
roof: {covering: plain}
"""
RIVER = """\
canon: river house
order: doric
source: measured on an old porch, 2024
parts_per_module: 12
upper_radius: 10.5
clear_spacing: 3
entasis: lower third straight
flutes: {count: 20}
shaft:
  height: 180
  foot: [{name: cincture, kind: fillet, height: 1, reach: 13}]
  head: [{name: astragal, kind: bead, height: 1, reach: 11.5}]
base: [{name: plinth, kind: fillet, height: 6, reach: 15, square: true}]
capital:
  - {name: necking, kind: fillet, height: 4, reach: 10.5}
  - {name: echinus, kind: ovolo, height: 4, foot: 10.5, head: 14}
  - {name: abacus, kind: fillet, height: 4, reach: 14.5, square: true}
architrave: [{name: fascia, kind: fillet, height: 12, reach: 0}]
frieze: [{name: frieze, kind: fillet, height: 16, reach: 0}]
cornice:
  - {name: bed mould, kind: cyma reversa, height: 4, foot: 0.5, head: 4}
  - {name: corona, kind: fillet, height: 6, reach: 12}
"""


def scene_in(folder: Path, river: str | bytes = RIVER, scene: str = SCENE) -> Path:
    (folder / "orders").mkdir(exist_ok=True)
    data = river.encode() if isinstance(river, str) else river
    (folder / "orders" / "river.yaml").write_bytes(data)
    path = folder / "house.yaml"
    path.write_text(scene)
    return path


def design_of(path: Path):
    loaded = load_scene(path)
    (name, spec), *_ = loaded.designs.items()
    return resolve(spec, name, loaded.lines[name])


def test_a_porch_is_built_by_the_members_of_a_file(tmp_path):
    design = design_of(scene_in(tmp_path))
    order, part = design.porch.order, 0.3048 / 24
    assert (order.canon, order.order) == ("river house", "doric")
    assert (order.base_height_m, order.capital_height_m) == pytest.approx((6 * part, 12 * part))
    assert order.column_height_m / order.entablature_height_m == pytest.approx(198 / 38)
    shaft = next(p for p in build(design).parts if p.name == "porch/column/shaft").mesh
    radius = np.linalg.norm(shaft.vertices[:, :2], axis=1)
    assert radius.max() == pytest.approx(13 * part)
    assert order.upper_diameter_m == pytest.approx(21 * part)
    assert order.cornice_projection_m == pytest.approx(12 / 38 * order.entablature_height_m)


def test_its_source_is_printed_and_its_plate_is_drawn(tmp_path):
    design = design_of(scene_in(tmp_path))
    texts = [t.get_text() for t in draw_design_plate(design).texts]
    assert any("after River House" in text for text in texts)
    assert any("measured on an old porch, 2024" in text for text in texts)
    assert any("Given by the scene's own file" in text for text in texts)
    assert findings(design)


def test_a_capital_may_be_another_canons(tmp_path):
    own = (
        RIVER[: RIVER.index("capital:")]
        + "capital: palladio\n"
        + RIVER[RIVER.index("architrave") :]
    )
    order = design_of(scene_in(tmp_path, own)).porch.order
    assert order.capital[0].name == "necking"
    assert order.capital_height_m == pytest.approx(0.3048 / 2)  # half a diameter (I.15)


def test_the_example_that_the_readme_gives_is_read(tmp_path):
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    example = readme[readme.index("canon: river house") :].partition("```")[0]
    assert design_of(scene_in(tmp_path, example)).porch.order.canon == "river house"


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        ("height: 16", "height: -16", "frieze[1].height: given -16, allowed: a number"),
        ("height: 16", "height: .nan", "frieze[1].height: given nan"),
        ("height: 16", "height: 1e9", "allowed: a number from 0.012 to 144"),
        ("height: 16", "height: yes", "frieze[1].height"),
        ("kind: ovolo", "kind: swan", "capital[2].kind: given swan, allowed: "),
        ("canon: river house", "canon: vignola", "canon: given vignola"),
        ("canon: river house", "canon: ../../x", "canon: given ../../x"),
        ("order: doric", "order: gothic", "order: given gothic"),
        ("order: doric", "order: [doric]", "order: given a list of 1"),
        ("entasis: lower third straight", "entasis: [a]", "entasis: given a list"),
        ("height: 180", "height: 600", "column: given 25.8 diameters high, allowed: 3 to 20"),
        ("upper_radius: 10.5", "upper_radius: 14", "upper_radius: given 14"),
        ("source: measured", "sauce: measured", "sauce"),
        ("reach: 12}", "reach: 12, run: rm}", "run"),
        ("square: true}]", "square: perhaps}]", "base[1].square"),
        ("{count: 20}", "{count: 20.5}", "flutes"),
        ("cornice:", "cornice: []\nx:", "x"),
    ],
)
def test_a_fault_is_one_line_with_file_field_and_what_is_allowed(tmp_path, was, now, words):
    assert was in RIVER
    path = scene_in(tmp_path, RIVER.replace(was, now, 1))
    with pytest.raises(SceneError) as fault:
        load_scene(path)
    said = str(fault.value)
    assert "\n" not in said
    assert said.startswith(f"{path}:5: porch.canon: given orders/river.yaml, ")
    assert words in said


@pytest.mark.parametrize(
    "river",
    [
        b"\xff\xfe\x00bad",
        b"a: [" * 4000,
        b"&a [*a, *a]",
        b"!!python/object/apply:os.system [echo]",
        b"x" * (MOST_BYTES + 1),
        b"",
        b"canon: " + b"a" * 5000,
        b"base: &b [" + b"{name: a, kind: fillet, height: 1, reach: 1}, " * 900 + b"]\n",
    ],
)
def test_a_strangers_file_is_refused_in_a_line(tmp_path, river):
    with pytest.raises(SceneError) as fault:
        load_scene(scene_in(tmp_path, river))
    assert "\n" not in str(fault.value)
    assert len(str(fault.value)) < 700


@pytest.mark.parametrize(
    "name", ["../river.yaml", "/etc/hosts.yaml", "orders/none.yaml", "orders/.yaml"]
)
def test_only_a_file_within_the_scenes_folder_is_read(tmp_path, name):
    folder = tmp_path / "scene"
    folder.mkdir()
    (tmp_path / "river.yaml").write_text(RIVER)
    path = scene_in(folder, scene=SCENE.replace("orders/river.yaml", name))
    with pytest.raises(SceneError, match=r"porch\.canon"):
        load_scene(path)


def test_a_link_out_of_the_folder_is_not_followed(tmp_path):
    folder = tmp_path / "scene"
    folder.mkdir()
    (tmp_path / "river.yaml").write_text(RIVER)
    path = scene_in(folder)
    (folder / "orders" / "river.yaml").unlink()
    (folder / "orders" / "river.yaml").symlink_to(tmp_path / "river.yaml")
    with pytest.raises(SceneError, match="within the scene file's folder"):
        load_scene(path)
