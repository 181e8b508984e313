"""Full-size profiles, held to the mouldings they are drawn from and measured as printed."""

import io
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import ezdxf
import numpy as np
import pytest
import shapely
from ezdxf import recover

from massing.build.house import build
from massing.canon import Member
from massing.canon.mouldings import CURVES, stack
from massing.parts.orders.column import shaft_profile
from massing.practice.cautions import CAUTION
from massing.present.drawings.arcs import TOLERANCE_M, curve_items, profile_items
from massing.present.drawings.dxf import dxf
from massing.present.drawings.full_size_pages import CHECK_MM, tiled_pdf
from massing.present.drawings.heights import order_of
from massing.present.drawings.items import Arc, Line, Spline
from massing.present.drawings.marks import Words, marks
from massing.present.drawings.profiles import (
    entasis_table,
    profile_sheet,
    profiles,
    write_profiles,
)
from massing.study.study import read_study
from massing.units import INCH_M

SCENES = Path(__file__).parents[3] / "scenes"


@lru_cache(maxsize=4)
def design(scene="marsh_road", index=2):
    return read_study(SCENES / f"{scene}.yaml").designs[index]


@pytest.mark.parametrize("kind", ["ovolo", "cavetto", "torus", "cyma recta", "cyma reversa"])
def test_circles_stay_arcs(kind):
    points = CURVES[kind](0.1, 0.1 if kind == "torus" else 0.15, 0.05, 48)
    items = curve_items(points, kind, "PROFILE")
    assert all(isinstance(i, Arc) for i in items)
    assert len(items) == (2 if kind.startswith("cyma") else 1)
    joined = np.concatenate([i.points for i in items])
    away = shapely.distance(shapely.linestrings(points), shapely.points(joined))
    assert away.max() < TOLERANCE_M


@pytest.mark.parametrize("kind", ["ovolo", "cyma recta", "scotia", "sleeve"])
def test_a_smooth_curve_read_back_from_dxf_lies_within_its_tolerance(kind):
    points = CURVES[kind](0.16, 0.05, 0.09, 48) if kind == "sleeve" else None
    points = CURVES[kind](0.05, 0.12, 0.04, 48) if points is None else points
    true = CURVES[kind](*(0.16, 0.05, 0.09) if kind == "sleeve" else (0.05, 0.12, 0.04), 400)
    items = curve_items(points, kind, "PROFILE")
    assert any(isinstance(i, Spline) for i in items)
    sheet = profile_sheet(profiles(design())[0], "1", "metric")
    sheet.items[:] = items
    space = ezdxf.read(io.StringIO(dxf(sheet))).modelspace()
    line = shapely.linestrings(true)
    for spline in space.query("SPLINE"):
        read = np.array([(p.x, p.y) for p in spline.flattening(1e-4)]) / 1000.0
        assert shapely.distance(line, shapely.points(read)).max() < TOLERANCE_M


def test_a_profile_is_the_edge_that_is_built():
    members = order_of(design()).base
    edge = shapely.linestrings(stack(members, steps=200))
    drawn = [i for i in profile_items(members) if isinstance(i, (Line, Arc, Spline))]
    points = np.concatenate([i.points for i in drawn])
    assert shapely.distance(edge, shapely.points(points)).max() < TOLERANCE_M
    # and nothing of the edge is left out: its pieces meet end to end from foot to head
    whole = shapely.union_all([shapely.linestrings(i.points).buffer(1e-4) for i in drawn])
    assert whole.geom_type == "Polygon"
    assert shapely.covers(whole.buffer(1e-3), edge)


def test_a_hollow_under_the_corona_is_drawn():
    corona = Member("corona", "fillet", 0.1, 0.3, 0.3, recess=0.02)
    below = Member("fillet", "fillet", 0.02, 0.1, 0.1)
    heights = np.concatenate([i.points for i in profile_items([below, corona])])[:, 1]
    assert np.isclose(heights, 0.04).any()


def test_entasis_stations_measure_the_built_shaft():
    chosen = design()
    shaft = next(p for p in build(chosen).parts if p.name == "porch/column/shaft")
    profile = shaft_profile(order_of(chosen))
    assert len(entasis_table(chosen)) == 13
    for z, diameter in entasis_table(chosen):
        assert diameter / 2 == pytest.approx(np.interp(z, profile[:, 1], profile[:, 0]), abs=1e-9)
    reach = np.linalg.norm(shaft.mesh.vertices[:, :2], axis=1).max()
    widest = max(d for _, d in entasis_table(chosen)) / 2.0
    assert widest <= reach + chosen.rounding_m


def test_every_dxf_passes_the_auditor_and_measures_in_inches():
    chosen = design()
    for i, profile in enumerate(profiles(chosen)):
        sheet = profile_sheet(profile, str(i + 1), chosen.units)
        text = dxf(sheet, comment=CAUTION, step_m=chosen.rounding_m)
        document, auditor = recover.read(io.BytesIO(text.encode()))
        assert not auditor.errors, profile.name
        assert document.units == 1
    base = profile_sheet(profiles(chosen)[0], "1", chosen.units)
    space = ezdxf.read(io.StringIO(dxf(base))).modelspace()
    torus = max(space.query("ARC"), key=lambda a: a.dxf.radius)
    member = next(m for m in order_of(chosen).base if m.kind == "torus" and m.name == "torus")
    radii = [a.dxf.radius for a in space.query("ARC")]
    assert min(abs(r - member.height / 2.0 / INCH_M) for r in radii) < 1e-6
    assert torus.dxf.layer == "PROFILE"


def test_pages_print_the_check_square_right_and_say_where_they_belong():
    pdfium = pytest.importorskip("pypdfium2")
    sheet = profile_sheet(profiles(design())[0], "1", "feet")
    book = pdfium.PdfDocument(tiled_pdf([sheet], "letter", "feet", "t"))
    page = book[0]
    wide, tall = page.get_size()
    assert (wide / 72.0, tall / 72.0) == pytest.approx((8.5, 11.0), abs=1e-3)
    text = page.get_textpage().get_text_range()
    assert f"Page 1 of {len(book)}" in text
    assert "4 in apart" in text
    scale = 12.0
    dots = page.render(scale=scale, grayscale=True).to_numpy()
    dots = dots.reshape(dots.shape[0], -1)
    dot_mm = 25.4 / 72.0 / scale
    # the marks' upright legs, in a row just inside the upper pair, left of the drawing's ink
    middle_mm = 12.0 + 8.0 + (279.4 - 32.0) / 2.0
    row = round((279.4 - middle_mm - CHECK_MM["feet"] / 2.0 + 3.0) / dot_mm)
    ink = np.flatnonzero(dots[row] < 245) * dot_mm
    corner = (215.9 - CHECK_MM["feet"]) / 2.0
    left = ink[np.abs(ink - corner) < 1.0].mean()
    right = ink[np.abs(ink - corner - CHECK_MM["feet"]) < 1.0].mean()
    assert right - left == pytest.approx(101.6, abs=0.1)


def test_no_words_of_a_profile_lie_over_one_another():
    for i, profile in enumerate(profiles(design())):
        sheet = profile_sheet(profile, str(i + 1), "feet")
        rows: dict[float, list[tuple[float, float]]] = {}
        from massing.present.drawings.lettering import text_width_mm

        for mark in marks(sheet):
            if isinstance(mark, Words):
                wide = text_width_mm(mark.text, mark.height_mm, mark.face)
                left = mark.at[0] - (wide if mark.anchor == "right" else 0.0)
                rows.setdefault(round(mark.at[1], 1), []).append((left, left + wide))
        for spans in rows.values():
            spans.sort()
            for (_, end), (start, _) in pairwise(spans):
                assert end <= start + 1e-6, profile.name


def test_the_ionic_has_its_volute_in_arcs(tmp_path):
    ionic = design("vineyard_cottage", 2)
    found = {p.name: p for p in profiles(ionic)}
    arcs = [i for i in found["Volute template"].items if isinstance(i, Arc)]
    assert len(arcs) == 25  # two lines of twelve quarter circles, and the eye
    files = write_profiles(ionic, tmp_path, "A4")
    assert [f.name for f in files][-2:] == ["profiles-a4.pdf", "profiles-long-sheets.pdf"]
    assert all(f.stat().st_size > 1000 for f in files)


def test_a_casings_template_is_the_casing_that_is_built():
    """Against the mesh: a jamb cut level, its ring of corners one by one."""
    found = [p for p in profiles(design()) if p.name.startswith("Casing")]
    built = next(p for p in build(design()).parts if p.name == "house/window A/casing")
    foot = built.mesh.vertices[:, 2] < built.mesh.bounds[0, 2] + 1e-6
    jamb = built.mesh.vertices[foot & (built.mesh.vertices[:, 0] > 0.0)]
    along = jamb[:, 0] - jamb[:, 0].min()
    out = jamb[:, 1].max() - jamb[:, 1]
    rings = [next(i for i in p.items if isinstance(i, Line)).points for p in found]
    ring = min(rings, key=lambda r: abs(r[:, 0].max() - along.max()))
    corners = shapely.points(np.column_stack([along, out]))
    assert len(ring) == 8
    assert shapely.distance(shapely.multipoints(ring), corners).max() < 1e-6
    assert (
        shapely.distance(
            shapely.multipoints(np.column_stack([along, out])), shapely.points(ring)
        ).max()
        < 1e-6
    )


def test_arcades_and_what_else_is_moulded_have_templates():
    """Names of every run of mouldings that the model is built of, and each template once."""
    arcade = [p.name for p in profiles(design("heron_bluff", 1))]
    assert {"Impost of the arcade", "Archivolt of the arcade"} <= set(arcade)
    dormers = [p.name for p in profiles(design("osier_turn", 1))]
    assert "Hood" in dormers
    assert sum(name.startswith("Casing") for name in dormers) >= 2  # a dormer's is narrower
    for names in (arcade, dormers):
        assert len(set(names)) == len(names)
