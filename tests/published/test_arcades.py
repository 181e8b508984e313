"""Arcades against Vignola's measures, on the built mesh."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import massing
from massing.canon.arcades import arcade_rule, column_before_pier_m, impost_members
from massing.design.design import Design
from massing.findings.report import figures, findings
from massing.present.reports.schedule import schedule
from massing.scene.errors import SceneError
from tests.helpers.scene_files import design_of
from tests.helpers.shapes import assert_closed

HOUSE = """\
width: 60 ft
depth: 36 ft
floor: 2 ft
storeys: [14 ft, 11 ft]
bays: 5
"""

# In modules, by G. B. da Vignola, in J. Moxon's English, 1673: Doric VII and VIII, Ionic XIII and
# XIV, Corinthian XX and XXI, Composite as the Corinthian XXV, all read. Tuscan from memory.
MOXON = [
    ("doric", False, 7, 14, 3),
    ("doric", True, 10, 20, 5),
    ("ionic", False, 8.5, 17, 3),
    ("ionic", True, 11, 22, 4),
    ("corinthian", False, 9, 18, 3),
    ("corinthian", True, 12, 25, 4),
    ("composite", False, 9, 18, 3),
    ("composite", True, 12, 25, 4),
    ("tuscan", False, 6.5, 13, 3),
    ("tuscan", True, 8.75, 17.5, 4),
]


def loggia(folder: Path, order: str, *, pedestals: bool = False) -> Design:
    porch = f"order: {order}\ncolumns: 4\nspacing: canon\ndepth: 9 ft\narcade: {{}}\n"
    if pedestals:
        porch += "pedestals: true\n"
    return design_of(folder, HOUSE, porch)


@pytest.mark.parametrize(("order", "pedestals", "clear", "high", "pier"), MOXON)
def test_an_arcade_is_built_to_the_books_measures(
    tmp_path: Path, order: str, pedestals: bool, clear: float, high: float, pier: float
) -> None:
    design = loggia(tmp_path, order, pedestals=pedestals)
    porch = design.porch
    module = porch.order.diameter_m / 2.0
    wall = next(p for p in massing.build_model(design).parts if p.path[-1] == "piers")
    corners = wall.mesh.vertices - [0.0, 0.0, porch.floor_z_m]
    foot = np.unique(corners[np.abs(corners[:, 2]) < 1e-9][:, 0].round(9))
    gaps = np.diff(foot)
    assert gaps[1:-1:2] / module == pytest.approx([clear] * 3)
    assert gaps[2:-2:2] / module == pytest.approx([pier] * 2)
    crowns = corners[np.abs(corners[:, 0]) < 1e-9]  # the middle arch's, at x = 0
    assert crowns[:, 2].min() / module == pytest.approx(high)
    face = corners[:, 1].min()
    assert (face - porch.column_y_m) / module == pytest.approx(1 / 3)  # VII


def test_the_table_is_moxons() -> None:
    for order, pedestals, clear, high, pier in MOXON:
        rule = arcade_rule(order, pedestals=pedestals)
        assert rule is not None
        assert (rule.clear, rule.high, rule.pier) == (clear, high, pier)
    assert arcade_rule("pier", pedestals=False) is None
    assert column_before_pier_m(3.0) == pytest.approx(1.0)


def test_an_impost_is_a_module_high_and_a_third_of_one_out() -> None:
    """Moxon, IX and XV (read)."""
    members = impost_members(1.0)
    assert sum(m.height for m in members) == pytest.approx(1.0)
    assert max(m.reach for m in members) == pytest.approx(1 / 3)


def test_the_parts_are_solid_and_in_their_places(tmp_path: Path) -> None:
    design = loggia(tmp_path, "ionic")
    assert design.porch.arcade is not None
    parts = {p.path[-1]: p for p in massing.build_model(design).parts if "arcade" in p.path}
    assert set(parts) == {
        "piers", "plinths", "imposts", "archivolts", "keystones", "wall over it"
    }  # fmt: skip
    assert_closed(list(parts.values()))
    soffit = design.porch.column_top_z_m
    assert parts["keystones"].mesh.bounds[1, 2] == pytest.approx(soffit)
    assert parts["piers"].mesh.bounds[1, 2] == pytest.approx(soffit)
    assert parts["wall over it"].mesh.bounds[1, 0] < design.porch.half_width_m - 0.01
    spring = design.porch.arcade.bays[0].spring_m + design.porch.floor_z_m
    assert parts["imposts"].mesh.bounds[1, 2] == pytest.approx(spring)
    assert parts["archivolts"].mesh.bounds[0, 2] == pytest.approx(spring)
    assert parts["archivolts"].mesh.bounds[1, 2] <= soffit + 1e-9
    plain = design_of(tmp_path, HOUSE, "order: ionic\narcade: {keystone: false}\nspacing: canon")
    assert not any("keystones" in p.path for p in massing.build_model(plain).parts)


def test_an_arcade_is_told_in_figures_findings_and_sizes(tmp_path: Path) -> None:
    design = loggia(tmp_path, "doric")
    told = {f.key: f.value for f in figures(design)}
    module = design.porch.order.diameter_m / 2.0
    assert told["arch_clear"] == pytest.approx(7 * module)
    assert told["arch_ratio"] == pytest.approx(2.0)
    assert told["clear_widest"] == pytest.approx(told["books_clear"]) == pytest.approx(4.0)
    keys = {f.key for f in findings(design)}
    assert "arches thrust" in keys
    assert not keys & {"arch proportion", "slight piers", "pier in the middle"}
    assert not keys & {"wide spacing", "araeostyle", "slender for spacing"}  # of colonnades
    sizes = [row for row in schedule(design) if row.group == "Arcade"]
    assert {"Pier", "Arch 2 from the left", "Impost: ovolo"} <= {row.item for row in sizes}
    odd = design_of(
        tmp_path,
        HOUSE,
        "order: doric\ncolumns: 3\nspacing: canon\narcade: {pier: 14 in, arch_height: 8 ft}",
    )
    keys = {f.key for f in findings(odd)}
    assert {"arch proportion", "slight piers", "pier in the middle"} <= keys


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ("order: pier\narcade: {}", "porch.arcade"),
        ("order: doric\nshape: semicircular\narcade: {}", "porch.shape"),
        ("order: doric\nguard: {}\narcade: {}", "porch.guard"),
        ("order: doric\nspacing: 4 ft\narcade: {}", "porch.spacing"),
        ("order: doric\nspacing: canon\narcade: {arch_height: 16 ft}", "arch_height"),
    ],
)
@pytest.mark.usefixtures("rules_hold")
def test_what_cannot_be_built_is_refused_in_a_line(tmp_path: Path, fields: str, words: str) -> None:
    with pytest.raises(SceneError, match=words):
        design_of(tmp_path, HOUSE, fields)


ARCHED = "door: {{fanlight: {}, surround: {{order: ionic, engaged: half columns, arch: true}}}}\n"


def test_a_doorway_has_impost_archivolt_and_keystone(tmp_path: Path) -> None:
    """The archivolt is half a diameter broad (A. Fenn, Design and Tradition, read), the impost a
    module high (Moxon, IX and XV, read); the keystone goes up to the architrave."""
    design = design_of(tmp_path, HOUSE + ARCHED.format("semicircular"))
    door = next(o for o in design.house.openings if o.kind == "door")
    assert door.door is not None
    surround = door.door.surround
    assert surround is not None
    module = surround.order.diameter_m / 2.0
    parts = {p.path[-1]: p for p in massing.build_model(design).parts if "arch" in p.path}
    assert set(parts) == {"imposts", "archivolt", "keystone"}
    assert_closed(list(parts.values()))
    low, high = parts["archivolt"].world_mesh().bounds
    assert high[0] - low[0] == pytest.approx(door.width_m + 2.0 * module)
    soffit = door.sill_z_m + surround.order.column_height_m - surround.drop_m
    assert high[2] <= soffit + 1e-9
    assert parts["keystone"].world_mesh().bounds[1, 2] == pytest.approx(soffit)
    impost = parts["imposts"].world_mesh().bounds
    assert impost[1, 2] - impost[0, 2] == pytest.approx(module)
    assert impost[1, 2] == pytest.approx(low[2])
    rows = [row for row in schedule(design) if row.group.endswith(": arch")]
    assert sum(r.height_m or 0.0 for r in rows) == pytest.approx(2 * module, abs=0.01)


@pytest.mark.usefixtures("rules_hold")
def test_a_doorway_without_a_round_head_has_no_arch(tmp_path: Path) -> None:
    with pytest.raises(SceneError, match=r"surround\.arch"):
        design_of(tmp_path, HOUSE + ARCHED.format("none"))
