"""Quantities held to the built mesh, and the workbook read back by its library."""

import io
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import openpyxl
import pytest

from massing.build.house import build
from massing.cli.program import main
from massing.practice.cautions import CAUTION
from massing.present.reports.quantities import quantities
from massing.present.reports.schedule import schedule
from massing.present.reports.workbook import workbook
from massing.study.study import read_study

SCENES = Path(__file__).parents[3] / "scenes"


@lru_cache(maxsize=4)
def built(scene="marsh_road", index=0):
    design = read_study(SCENES / f"{scene}.yaml").designs[index]
    return design, build(design)


def amounts(design, model):
    return {(q.group, q.item): q for q in quantities(design, model)}


def test_a_run_of_moulding_is_as_long_as_the_built_edge():
    design, model = built()
    cornice = next(p for p in model.parts if p.name == "porch/entablature/cornice")
    low, high = cornice.mesh.bounds
    top = max(design.porch.order.cornice, key=lambda m: m.reach)
    # round the outermost edge: the front and the two returns as far as the wall's face
    around = (high[0] - low[0]) + 2.0 * (0.0 - low[1])
    found = amounts(design, model)["Entablature: cornice", top.name]
    assert found.unit == "m"
    assert found.amount == pytest.approx(around, abs=0.02)


def test_walls_and_roof_are_those_of_the_mesh():
    design, model = built()
    found = amounts(design, model)
    house = design.house
    walls = [p.world_mesh() for p in model.parts if p.within("house", "wall")]
    planes = [(1, 0.0), (1, house.depth_m), (0, -house.width_m / 2.0), (0, house.width_m / 2.0)]
    foot = min(mesh.bounds[0, 2] for mesh in walls)
    outer = 2.0 * (house.width_m + house.depth_m) * foot  # the foundation's face, below
    for mesh in walls:
        a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
        across = np.cross(b - a, c - a) / 2.0
        for axis, at in planes:
            on = np.abs(mesh.triangles[:, :, axis] - at).max(axis=1) < 1e-6
            outer += abs(float(across[on, axis].sum()))
    # the mesh is cut for the stone sills too, about a hundredth of the wall
    assert found["House: walls", "net area"].amount == pytest.approx(outer, rel=0.015)
    # a hip of one pitch covers its plan over the cosine of the pitch
    deck = next(p for p in model.parts if p.name == "house/roof/deck").world_mesh()
    plan = np.prod((deck.bounds[1] - deck.bounds[0])[:2])
    slope = np.hypot(1.0, design.roof.slope)
    assert found["Roof", "area"].amount == pytest.approx(plan * slope, rel=0.01)


def test_pieces_are_counted_as_they_stand():
    design, model = built("marsh_road", 4)
    found = amounts(design, model)
    rail = [p for p in model.parts if p.name == "porch/balustrade/balusters"]
    assert found["Porch: pieces", "balusters"].amount == sum(p.count for p in rail) > 0
    assert found["Porch: pieces", "columns"].amount == len(design.porch.perimeter_axes_m)
    assert found["Whole building: pieces", "tiles"].amount > 1000


def test_the_schedule_has_heads_hoods_and_responds():
    groups = {
        s.group
        for name in ("foundry_lane", "osier_turn")
        for design in read_study(SCENES / f"{name}.yaml").designs
        for s in schedule(design)
    }
    assert any(g.startswith("Window heads: ") for g in groups)
    plain, _ = built()
    porch = replace(plain.porch, responds="pilasters")
    assert "Responds" in {s.group for s in schedule(replace(plain, porch=porch))}
    assert "Responds" not in {s.group for s in schedule(plain)}
    assert any(g.startswith("Roof: dormers") for g in groups)


def test_the_workbook_reads_back_with_its_caution():
    design, model = built()
    book = openpyxl.load_workbook(io.BytesIO(workbook([(design, model)])))
    assert book.sheetnames == ["1 as drawn sizes", "1 as drawn amounts"]
    sizes = book["1 as drawn sizes"]
    assert sizes["A2"].value == CAUTION
    assert sizes.max_row - 4 == len(schedule(design))
    heights = [row[4] for row in sizes.iter_rows(min_row=5, values_only=True)]
    assert [h for h in heights if h is not None] == pytest.approx(
        [round(s.height_m * 1000, 1) for s in schedule(design) if s.height_m is not None]
    )


def test_sizes_writes_a_workbook_where_it_is_asked_to(tmp_path, capsys):
    scene = str(SCENES / "marsh_road.yaml")
    out = tmp_path / "sizes.xlsx"
    assert main(["sizes", scene, "--design", "as drawn", "-o", str(out)]) == 0
    assert capsys.readouterr().out.strip() == str(out)
    assert out.read_bytes()[:2] == b"PK"
    assert main(["sizes", scene, "-o", str(tmp_path / "sizes.pdf")]) == 2
    assert "allowed: a name in .xlsx" in capsys.readouterr().err
