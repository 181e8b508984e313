"""The written sheets, read back by the libraries of their formats."""

import datetime
import io
import re
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf import recover
from PIL import Image

from massing.build.house import build
from massing.canon import rounded as rounded_order
from massing.design.opening import WindowOpening
from massing.practice.cautions import CAUTION
from massing.practice.joinery_sizes import SASH
from massing.present.drawings.drawing_set import (
    drawing_set,
    heading_of,
    write_set,
)
from massing.present.drawings.dxf import dxf
from massing.present.drawings.elevation_sheets import rows_above
from massing.present.drawings.elevations import building, view_extent
from massing.present.drawings.heights import (
    arcade_levels,
    block_levels,
    ceiling_levels,
    dormer_levels,
    figures_of,
    opening_levels,
    pitches,
    porch_levels,
)
from massing.present.drawings.items import Dimension, Fill, Hatch, Line, Text, hatch_lines
from massing.present.drawings.joinery import leaves_and_glass, placed
from massing.present.drawings.openings import schedule_rows, types
from massing.present.drawings.order_details import order_sheet
from massing.present.drawings.pdf import pdf
from massing.present.drawings.plans import column_names, setting_out_sheet
from massing.present.drawings.scales import PAPERS_MM
from massing.present.drawings.sheet import Sheet
from massing.present.drawings.svg import svg
from massing.present.reports.schedule import schedule
from massing.study.study import read_study
from massing.units import INCH_M, parse_length
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT, visible_lines
from tests.helpers.house_designs import french_at

SCENES = Path(__file__).parents[3] / "scenes"
DAY = datetime.date(2026, 11, 27)


@lru_cache(maxsize=4)
def design(scene="marsh_road", index=2):
    return read_study(SCENES / f"{scene}.yaml").designs[index]


@lru_cache(maxsize=4)
def model(scene="marsh_road", index=2):
    return build(design(scene, index))


def heading():
    return heading_of(design(), "House", DAY, {"issue": "B"})


@lru_cache(maxsize=1)
def order_drawing():
    return order_sheet(design(), heading(), PAPERS_MM["arch c"], "1", ())


@lru_cache(maxsize=1)
def setting_out():
    drawn = design(index=0), model(index=0)
    return setting_out_sheet(*drawn, heading(), PAPERS_MM["arch c"], "1", ())


def read_back(sheet):
    document = ezdxf.read(io.StringIO(dxf(sheet, comment=CAUTION, step_m=design().rounding_m)))
    return document, document.modelspace()


@pytest.mark.parametrize("sheet", [order_drawing, setting_out])
def test_the_auditor_finds_no_error(sheet):
    data = dxf(sheet(), step_m=design().rounding_m).encode("utf-8")
    _, auditor = recover.read(io.BytesIO(data))
    assert not auditor.errors
    assert not auditor.fixes


def test_dxf_has_units_layers_weights_and_a_layout_at_scale():
    sheet = order_drawing()
    document, space = read_back(sheet)
    assert document.dxfversion == "AC1032"  # R2018
    assert document.units == 1  # inches
    assert document.layers.get("CUT").dxf.lineweight == 50
    assert {e.dxf.layer for e in space} >= {"PROFILE", "EDGE", "DIMENSIONS", "TEXT", "SHEET"}
    layout = document.layout("1")
    window = next(v for v in layout.query("VIEWPORT") if v.dxf.status > 1 or v.dxf.id > 1)
    assert window.dxf.view_height * 25.4 / window.dxf.height == pytest.approx(sheet.scale)
    assert ("Caution", CAUTION) in list(document.header.custom_vars)


def test_dxf_dimensions_measure_what_the_sheet_says():
    sheet = order_drawing()
    _, space = read_back(sheet)
    measured = sorted(round(d.get_measurement(), 6) for d in space.query("DIMENSION"))
    said = sorted(
        round(parse_length(item.text) / INCH_M, 6)
        for item in sheet.items
        if isinstance(item, Dimension)
    )
    assert measured == pytest.approx(said, abs=1e-6)
    assert all(d.dxf.text == "<>" for d in space.query("DIMENSION"))


def test_members_in_drawing_schedule_and_order_are_one_number():
    chosen = design()
    order = rounded_order(chosen.porch.order, chosen.rounding_m)
    members = (
        *order.base,
        *order.shaft_foot,
        *order.shaft_head,
        *order.capital,
        *order.architrave,
        *order.frieze,
        *order.cornice,
    )
    drawn = [d.length_m for d in order_drawing().items if isinstance(d, Dimension) and d.aside]
    assert drawn == pytest.approx([m.height for m in members], abs=1e-9)
    rows = [s for s in schedule(chosen) if s.group == "Entablature: cornice"]
    assert [s.item for s in rows] == [m.name for m in order.cornice]
    for row, member in zip(rows, order.cornice, strict=True):
        assert row.height_m == pytest.approx(member.height, abs=1e-9)
        assert row.across_m == pytest.approx(member.reach, abs=chosen.rounding_m / 2 + 1e-9)


def test_axes_in_drawing_schedule_and_mesh_are_one_number():
    chosen = design(index=0)
    shafts = next(p for p in model(index=0).parts if p.name == "porch/column/shaft")
    built = sorted(shafts.placements[:, 0, 3])
    named = sorted(x for _, (x, _) in column_names(chosen))
    assert built == pytest.approx(named, abs=1e-9)
    _, space = read_back(setting_out())
    spans = [round(d.get_measurement() * INCH_M, 6) for d in space.query("DIMENSION")]
    rows = [s.across_m for s in schedule(chosen) if re.match(r"Axes \d+ to \d+", s.item)]
    assert rows
    for row, (a, b) in zip(rows, pairwise(built), strict=True):
        assert row == pytest.approx(b - a, abs=chosen.rounding_m)
        assert any(abs(span - row) < 1e-6 for span in spans)


def test_levels_are_those_of_the_mesh():
    designs = read_study(SCENES / "marsh_road.yaml").designs
    railed = next(i for i, d in enumerate(designs) if d.porch.balustrade is not None)
    chosen, built = design(index=railed), model(index=railed)
    levels = dict(porch_levels(chosen))
    step = chosen.rounding_m
    cornice = next(p for p in built.parts if p.name == "porch/entablature/cornice")
    assert levels["Top of cornice"] == pytest.approx(cornice.world_mesh().bounds[1, 2], abs=step)
    rail = next(p for p in built.parts if p.name == "porch/balustrade/rail")
    assert levels["Top of balustrade"] == pytest.approx(rail.world_mesh().bounds[1, 2], abs=step)
    architrave = next(p for p in built.parts if p.name == "porch/entablature/architrave")
    low = architrave.world_mesh().bounds[0, 2]
    assert levels["Underside of architrave"] == pytest.approx(low, abs=step)


def test_every_opening_has_one_mark():
    found = types(design())
    marked = [o for _, _, group in found for o in group]
    assert len(marked) == len(set(marked)) == len(design().house.openings)
    assert len({mark for mark, _, _ in found}) == len(found)


def square(units="feet"):
    sheet = Sheet("1", "square", "Square", PAPERS_MM["A3"], 1.0, units)
    ring = np.array([[0.1, 0.1], [0.2, 0.1], [0.2, 0.2], [0.1, 0.2]])
    sheet.items.append(Line("CUT", ring, True))
    return sheet


def test_pdf_at_full_size_measures_right_to_a_tenth_of_a_millimetre():
    pdfium = pytest.importorskip("pypdfium2")
    page = pdfium.PdfDocument(pdf([square()], title="t", subject=CAUTION))[0]
    assert page.get_size()[0] / 72.0 * 25.4 == pytest.approx(420.0, abs=0.1)
    dots = np.asarray(page.render(scale=10.0, grayscale=True).to_numpy()).reshape(
        round(page.get_size()[1] * 10.0), -1
    )
    row = np.flatnonzero(dots[len(dots) // 2] < 128)
    dot_mm = 25.4 / 720.0
    # the outer edges of a line half a millimetre wide
    assert (row[-1] + 1 - row[0]) * dot_mm == pytest.approx(100.0 + 0.5, abs=0.1)
    assert row[0] * dot_mm == pytest.approx(100.0 - 0.25, abs=0.1)


def test_svg_is_in_millimetres_of_the_paper():
    text = svg(square(), title="t", description=CAUTION)
    assert 'width="420mm"' in text
    assert "M100.000 197.000L200.000 197.000" in text
    assert CAUTION in text


@pytest.mark.parametrize("view", [FRONT, RIGHT, BACK, LEFT], ids=lambda v: v.name)
def test_the_elevations_outline_is_the_masks(view):
    """Against the silhouette of all triangles, filled by another library at 20 mm a pixel."""
    from PIL import ImageDraw

    parts = building(model(index=0))
    first, last = view_extent(parts, view)
    ends = visible_lines(parts, view).ends
    step, low, high = 0.02, first - 0.5, last + 0.5
    size = np.ceil((high - low) / step).astype(int)
    mask = Image.new("1", (int(size[0]), int(size[1])))
    draw = ImageDraw.Draw(mask)
    for part in parts:
        for triangle in (part.world_mesh().triangles @ view.axes[:2].T - low) / step:
            draw.polygon([tuple(p) for p in triangle], fill=1)
    solid = np.asarray(mask)
    clear = [~np.roll(solid, by, axis) for axis in (0, 1) for by in (1, -1)]
    edge = np.argwhere(solid & np.any(clear, axis=0))
    heavy = shapely.multilinestrings(shapely.linestrings(ends))
    away = shapely.distance(heavy, shapely.points((edge[:, ::-1] + 0.5) * step + low))
    assert away.max() < step  # every pixel of the outline, within a pixel
    assert (ends.min(axis=(0, 1)) >= first - 1e-3).all()
    assert (ends.max(axis=(0, 1)) <= last + 1e-3).all()


def test_a_set_is_written_whole(tmp_path):
    house, built = design(index=0), model(index=0)
    title = heading_of(house, "House", DAY, {"issue": "B", "client": "A client"})
    sheets = drawing_set(house, built, title, "arch c", ["A finding."], None)
    names = [s.name for s in sheets]
    assert names[:4] == [
        "front-elevation",
        "right-side-elevation",
        "rear-elevation",
        "left-side-elevation",
    ]
    assert {"ground-plan", "porch-setting-out", "porch-section", "order"} <= set(names)
    files = write_set(sheets[5:8], title, tmp_path, house.rounding_m)
    assert sorted(p.suffix for p in files) == [".dxf"] * 3 + [".pdf"] + [".svg"] * 3
    for sheet in sheets:
        words = [i.text for i in sheet.items if isinstance(i, Text)]
        assert "A client" in words
        assert any(w in CAUTION for w in words if w.startswith("For comparing designs"))
        wide, tall = sheet.size_m
        for item in sheet.items:
            if isinstance(item, Line):
                assert (item.points >= -1e-6).all()
                assert (item.points <= [wide + 1e-6, tall + 1e-6]).all()
    plan = sheets[names.index("ground-plan")]
    assert sum(isinstance(i, Fill) and i.layer == "POCHE" for i in plan.items) == 1


def test_sashes_and_glass_are_those_that_their_sections_leave():
    """By hand, for a hung window of 3 ft by 5 ft, six over six, in inches.

    Between jambs the hole is the width less two jambs; three lights across leave the width less
    two stiles and two bars, a third each, and glass goes a rebate into the wood at each side.
    """
    one = next(p for p in placed(design()) if isinstance(p.opening, WindowOpening))
    leaves, panes = leaves_and_glass(one)
    hole = one.opening.width_m - 2.0 * SASH.jamb_face_m
    assert [leaf[0] for leaf in leaves] == pytest.approx([hole, hole], abs=1e-6)
    tall = one.opening.height_m - 2.0 * SASH.jamb_face_m
    assert sum(leaf[1] for leaf in leaves) == pytest.approx(tall + SASH.meeting_rail_m, abs=1e-6)
    light = (hole - 2.0 * SASH.stile_m - 2.0 * SASH.bar_m) / 3.0
    assert len(panes) == 12
    assert [p[0] for p in panes] == pytest.approx([light + 2.0 * SASH.rebate_m] * 12, abs=1e-6)


def test_a_french_windows_leaves_are_a_pair_beside_each_other():
    """By hand: between jambs, less the play at both sides and in the middle, half to each."""
    one = replace(
        next(p for p in placed(design()) if isinstance(p.opening, WindowOpening)),
        opening=french_at(),
    )
    leaves, panes = leaves_and_glass(one)
    clear = 3 / 32 * INCH_M
    each = (1.4 - 2.0 * SASH.jamb_face_m - 3.0 * clear) / 2.0
    assert [leaf[0] for leaf in leaves] == pytest.approx([each, each], abs=1e-6)
    assert len(panes) == 2 * 2 * 4
    (row,) = schedule_rows([("A", one, [one])], figures_of(design()))
    assert row[1] == "French window"
    assert row[7] == "2 leaves of 2 x 4"


def test_wings_and_dormers_are_in_the_schedule_and_drawn_where_they_stand():
    wide = read_study(SCENES / "orchard_road.yaml").designs[0]
    wing = wide.house.wings[0]
    of_wing = [p for p in placed(wide) if p.where.startswith("right wing")]
    assert len(of_wing) == len(wing.house.openings) > 0
    front = [p for p in of_wing if p.opening.wall == "front"]
    assert all(p.middle_m[0] > wide.house.width_m / 2.0 for p in front)
    assert {p.middle_m[1] for p in front} == {wing.set_back_m}
    high = read_study(SCENES / "osier_turn.yaml").designs[1]
    row = high.roof.dormers[0]
    found = [p for p in placed(high) if p.floor_z_m is None]
    assert [p.middle_m[0] for p in found] == pytest.approx(list(row.centres_m))
    glass = next(
        p
        for p in build(high).parts
        if p.name.startswith("house/roof/dormers") and p.role == "glass"
    )
    low = glass.world_mesh().bounds[0]
    assert low[2] > found[0].opening.sill_z_m
    assert abs(low[1] - found[0].middle_m[1]) < 0.2


def test_levels_of_sills_heads_and_ceiling_are_the_meshes():
    house, built = design(), model()
    levels = dict(opening_levels(house, "front"))
    panes = [
        p.world_mesh().bounds[:, 2] for p in built.parts if p.name.startswith("house/window A")
    ]
    low = [o.sill_z_m for o in house.house.openings if o.wall == "front" and o.storey == 0]
    assert levels["Sills, first floor"] == pytest.approx(max(low), abs=house.rounding_m)
    assert any(b[0] < levels["Heads, first floor"] <= b[1] + 1e-3 for b in panes)
    name, ceiling = ceiling_levels(house)[0]
    boards = next(p for p in built.parts if p.name.startswith("porch/ceiling"))
    assert name == "Porch ceiling"
    assert ceiling == pytest.approx(boards.world_mesh().bounds[0, 2], abs=house.rounding_m)


def test_pitches_are_the_roofs():
    said = dict(pitches(read_study(SCENES / "osier_turn.yaml").designs[1]))
    assert said["Lower slope"] == pytest.approx(20.0 / 12.0)
    assert said["Dormers"] == pytest.approx(8.0 / 12.0)


def test_filled_areas_are_written_in_pieces_without_holes():
    """Some programs fill wedges between a border and its holes; three holes, two above another."""
    holes = [shapely.box(x, y, x + 1.0, y + 1.0) for x, y in ((1.0, 1.0), (1.2, 3.0), (5.0, 2.0))]
    area = shapely.MultiPolygon([shapely.box(0.0, 0.0, 8.0, 6.0) - shapely.union_all(holes)])
    sheet = Sheet("1", "fill", "Fill", PAPERS_MM["A3"], 50.0, "metric")
    sheet.items.append(Fill("SHADOW", area))
    space = ezdxf.read(io.StringIO(dxf(sheet))).modelspace()
    pieces = [h for h in space.query("HATCH") if h.dxf.layer == "SHADOW"]
    assert {len(h.paths) for h in pieces} == {1}
    rings = [shapely.Polygon([v[:2] for v in h.paths[0].vertices]) for h in pieces]
    assert sum(r.area for r in rings) == pytest.approx(45.0e6)
    assert shapely.union_all(rings).area == pytest.approx(45.0e6)
    assert not any(shapely.intersects(r, shapely.Point(1500.0, 3500.0)) for r in rings)


def test_hatching_is_of_a_known_name_or_line_by_line():
    """Programs that look a pattern up by its name leave out one that they do not know."""
    area = shapely.MultiPolygon([shapely.box(0.0, 0.0, 4.0, 3.0)])
    sheet = Sheet("1", "hatch", "Hatch", PAPERS_MM["A3"], 50.0, "metric")
    courses = Hatch("MATERIAL", area, ((0.0, 0.11),), "SLATE")
    sheet.items += [courses, Hatch("MATERIAL", area, ((45.0, 0.035),), "TIMBER")]
    space = ezdxf.read(io.StringIO(dxf(sheet))).modelspace()
    (grain,) = space.query("HATCH")
    assert grain.dxf.pattern_name == "ANSI31"
    assert grain.dxf.pattern_angle == 0.0
    (line,) = grain.pattern.lines
    assert line.angle == 45.0
    assert np.hypot(*line.offset) == pytest.approx(35.0, abs=1e-6)
    written = [e for e in space.query("LINE") if e.dxf.layer == "MATERIAL"]
    assert len(written) == len(hatch_lines(courses)) == 28  # from 0 up, 3 m high
    assert {round(e.dxf.start.y % 110.0, 6) % 110.0 for e in written} == {0.0}


def test_dormers_stand_on_the_elevation_where_they_are_built():
    """Their row of dimensions, and the levels of sills and heads, against the panes of the mesh."""
    high = read_study(SCENES / "osier_turn.yaml").designs[1]
    ((words, places),) = [row for row in rows_above(high, FRONT) if row[0] == "Dormers"]
    assert words == "Dormers"
    half = high.house.width_m / 2.0
    row = high.roof.dormers[0]
    assert places == pytest.approx([-half, *row.centres_m, half], abs=high.rounding_m)
    mirrored = [-x for x in reversed(places)]
    turned = replace(high, roof=replace(high.roof, dormers=(replace(row, side="back"),)))
    assert dict(rows_above(turned, BACK))["Dormers"] == pytest.approx(mirrored)
    glass = next(
        p
        for p in build(high).parts
        if p.name.startswith("house/roof/dormers") and p.role == "glass"
    )
    low, top = glass.world_bounds[:, 2]
    levels = dict(dormer_levels(high, "front"))
    assert levels["Dormers' sills"] < low < top < levels["Dormers' heads"]
    assert levels["Dormers' heads"] - top < 0.15
    assert not dormer_levels(high, "back")


def test_wings_have_their_levels():
    wide = read_study(SCENES / "orchard_road.yaml").designs[0]
    levels = dict(block_levels(wide, build(wide)))
    wing = wide.house.wings[0]
    top = next(z for name, z in levels.items() if name.startswith("Wall top"))
    assert top == pytest.approx(wing.house.wall_top_z_m, abs=wide.rounding_m)
    ridge = next(z for name, z in levels.items() if name.startswith("Ridge"))
    assert ridge > top + 0.5


def test_a_porch_off_the_middle_is_written_alike_to_both_sides_of_its_own():
    """Bays that are equal read equal, from a middle that is on no step of the builder's."""
    from massing.settingout.porch import on_step_along

    porch = design(index=0).porch
    off = replace(porch, centre_m=0.3337, axes_m=tuple(x + 0.3337 for x in porch.axes_m))
    step = INCH_M / 8.0
    axes = [on_step_along(off, x, step) for x in off.axes_m]
    gaps = [b - a for a, b in pairwise(axes)]
    assert gaps == pytest.approx(gaps[::-1], abs=1e-9)
    assert axes == pytest.approx(off.axes_m, abs=step)
    assert [x / step for x in axes] == pytest.approx([round(x / step) for x in axes], abs=1e-6)


def test_an_arcades_arches_are_measured_as_they_are_built():
    """Piers in the setting-out plan and heights of springing and crown, against the mesh."""
    house, built = design("heron_bluff", 1), model("heron_bluff", 1)
    piers = next(p for p in built.parts if p.name == "porch/arcade/piers").world_mesh()
    impost = next(p for p in built.parts if p.name == "porch/arcade/imposts")
    levels = arcade_levels(house)
    step = house.rounding_m
    assert min(z for _, z in levels) == pytest.approx(impost.world_bounds[1, 2], abs=2.0 * step)
    sheet = setting_out_sheet(house, built, heading(), PAPERS_MM["arch c"], "1", ())
    chains: dict[float, list[float]] = {}
    for item in sheet.items:
        if isinstance(item, Dimension) and not item.upright:
            chains.setdefault(round(float(item.feet[0][1]), 6), []).append(item.length_m)
    top = chains[max(chains)]
    assert len(top) == 2 * len(house.porch.arcade.bays) + 1
    assert sum(top) == pytest.approx(np.ptp(piers.vertices[:, 0]), abs=2.0 * step)
