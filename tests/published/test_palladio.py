"""Palladio's orders member by member, as his text divides them.

The Four Books of Architecture, 1570, book I: chapters 14 to 18, read in Italian, and in the
English of 1735 (Tuscan, Doric, Ionic). Heights in minutes, sixty to the lower diameter.
"""

from fractions import Fraction as F

import numpy as np
import pytest

from massing.canon import fit_order, plate
from massing.parts.orders.column import column, pedestal

pytestmark = pytest.mark.published


def heights(order, group, *names):
    members = plate(order, "palladio").groups[group]
    return [sum(m.height for m in members if m.name == name) for name in names]


def minutes(*values):
    return pytest.approx([float(v) for v in values], rel=1e-9)


@pytest.mark.parametrize(
    ("order", "column", "entablature"),
    [
        ("tuscan", 7, F(7, 4)),  # column read (I.14); entablature from memory
        ("doric", 8, F(115, 60)),  # 7 1/2 to 8; 30 + 45 + 5 + 35 minutes (I.15)
        ("ionic", 9, F(9, 5)),  # a fifth (I.16)
        ("corinthian", F(19, 2), F(19, 10)),  # Aldrich, 1789; a fifth (I.17)
        ("composite", 10, 2),  # I.18; a fifth at second hand
    ],
)
def test_totals(order, column, entablature):
    fitted = fit_order(order, "palladio", diameter_m=1.0)
    assert fitted.column_height_m == pytest.approx(float(column))
    assert fitted.entablature_height_m == pytest.approx(float(entablature))


@pytest.mark.parametrize("order", ["doric", "ionic", "corinthian"])
def test_the_attic_base(order):
    """I.15: half a diameter in three, one the plinth; the rest in four, one the upper torus; of
    what is left half to the lower torus, half to the scotia, each of its fillets a sixth."""
    assert heights(order, "base", "plinth", "lower torus", "scotia", "upper torus", "fillet") == (
        minutes(10, F(15, 2), 5, 5, F(5, 2))
    )
    if order == "doric":
        assert plate(order, "palladio").groups["base"][0].reach == 30 + 10


def test_his_attic_base_is_that_of_vitruvius():
    """Vitruvius III.5.2, Morgan (read): plinth a sixth of the diameter; above it upper torus
    1/12, lower torus and scotia with its fillets 1/8 each."""
    plinth, lower, scotia, upper, fillets = heights(
        "doric", "base", "plinth", "lower torus", "scotia", "upper torus", "fillet"
    )
    parts = [plinth / 60, lower / 60, (scotia + fillets) / 60, upper / 60]
    assert parts == minutes(F(1, 6), F(1, 8), F(1, 8), F(1, 12))


def test_the_doric_capital_and_necking():
    """I.15: in three; annulets and ovolo as one to two; abacus 3/5, cyma 2/3 of the rest; the
    ovolo projects 2/3 of its height, the whole 1/5 of the diameter; astragal as the annulets."""
    names = ("necking", "annulet", "ovolo", "abacus", "cymatium", "fillet")
    assert heights("doric", "capital", *names) == (
        minutes(10, F(10, 3), F(20, 3), 6, F(8, 3), F(4, 3))
    )
    table = plate("doric", "palladio")
    ovolo = next(m for m in table.groups["capital"] if m.name == "ovolo")
    assert ovolo.head - ovolo.foot == pytest.approx(2 / 3 * ovolo.height)
    assert table.groups["capital"][-1].reach - table.upper_radius == pytest.approx(60 / 5)
    astragal, cimbia = table.shaft_head[-1], table.shaft_head[-2]
    assert (astragal.height, astragal.reach) == pytest.approx((10 / 3, 30))
    assert (cimbia.height, cimbia.reach) == pytest.approx((5 / 3, 30 - 5 / 3))
    foot = table.shaft_foot[0]
    assert (foot.height, foot.reach - 30) == pytest.approx((5 / 2, 10 / 3))


def test_the_doric_entablature():
    """I.15: taenia 1/7 of a module, as much out; guttae and fillet 1/6, as 3 to 1; fasciae 3 to
    4; frieze 1 1/2 modules, triglyph one, its cap 1/6; cornice 1 1/6, 2 of 5 1/2 parts of it to
    cavetto and ovolo."""
    rest = 30 - F(30, 7)
    assert heights("doric", "architrave", "first fascia", "second fascia", "taenia") == (
        minutes(rest * F(3, 7), rest * F(4, 7), F(30, 7))
    )
    groups = plate("doric", "palladio").groups
    taenia, frieze = groups["architrave"][-1], groups["frieze"][0]
    assert taenia.reach == pytest.approx(taenia.height)
    assert taenia.row.height + taenia.row.gutta_height == pytest.approx(5)
    assert taenia.row.gutta_height / taenia.row.height == pytest.approx(3)
    assert taenia.row.guttae == 6
    assert (frieze.height, frieze.row.width) == (45, 30)
    assert frieze.row.spacing - frieze.row.width == frieze.height
    cap, *cornice = groups["cornice"]
    assert cap.height == 5
    assert sum(m.height for m in cornice) == pytest.approx(35)
    assert sum(m.height for m in cornice[:3]) == pytest.approx(35 * 2 / 5.5)


@pytest.mark.parametrize(("order", "total"), [("ionic", 108), ("corinthian", 114)])
def test_entablatures_in_twelve(order, total):
    """I.16 and 17: architrave, frieze, cornice as 4, 3, 5; a fifth of the architrave cymatium,
    the rest in twelve: 3, 4 and 5 to the fasciae, the two lower with their astragals; the cornice
    projects as much as its height."""
    table = plate(order, "palladio")
    shares = [table.group_height(g) for g in ("architrave", "frieze", "cornice")]
    assert shares == minutes(total * F(4, 12), total * F(3, 12), total * F(5, 12))
    first, bead, second, bead_2, third, *cymatium = (m.height for m in table.groups["architrave"])
    part = F(total, 3) * F(4, 5) / 12
    assert [first + bead, second + bead_2, third] == minutes(3 * part, 4 * part, 5 * part)
    assert sum(cymatium) == pytest.approx(total / 15)
    reach = max(m.reach for m in table.groups["cornice"])
    assert reach == pytest.approx(shares[2])


@pytest.mark.parametrize(
    ("order", "parts", "divisions"),
    [
        ("ionic", F(31, 4), [("ovolo", 2), ("modillion", 2), ("crown", F(15, 4))]),
        ("corinthian", F(17, 2), [("cyma", 1), ("dentil", 1), ("ovolo", 1), ("modillion", 2),
                                  ("crown", F(7, 2))]),
    ],
)  # fmt: skip
def test_cornices_in_parts(order, parts, divisions):
    """I.16: 7 3/4 parts, two to cavetto and ovolo, two to the modillions, 3 3/4 to corona and
    cymas. I.17: 8 1/2, one each to cyma, dentils and ovolo, two and 3 1/2."""
    cornice = plate(order, "palladio").groups["cornice"]
    edges = [0.0]
    for member in cornice:
        edges.append(edges[-1] + member.height)
    part, reached = edges[-1] / float(parts), 0.0
    for _, count in divisions:
        reached += part * float(count)
        assert min(abs(edge - reached) for edge in edges) < 1e-6
    modillions = next(m.row for m in cornice if m.row and m.row.kind == "modillion")
    assert modillions.spacing - modillions.width == pytest.approx(2 * modillions.width)


def test_spacings():
    """Doric a little under three diameters (I.15), Ionic 2 1/4 (I.16), Composite 1 1/2 (I.18);
    Corinthian two (Aldrich, Elements of Civil Architecture, 1789); read."""
    clear = {o: plate(o, "palladio").clear_spacing_diameters for o in ("doric", "ionic",
             "corinthian", "composite")}  # fmt: skip
    assert clear == {"doric": 2.75, "ionic": 2.25, "corinthian": 2, "composite": 1.5}


def test_the_ionic_abacus_and_eyes():
    """I.16 (read): the abacus 19 parts of which the foot has 18, so 63.3 minutes; the eyes plumb a
    part in from its corners, so 56.7 apart; the volutes 8 parts high. On the built capital."""
    fitted = fit_order("ionic", "palladio", diameter_m=60.0)
    parts = column(fitted)
    (abacus,) = (p.mesh.bounds for p in parts if p.name == "column/abacus")
    assert (
        abacus[1, 0] - abacus[0, 0]
        == pytest.approx(60 * 19 / 18)
        == pytest.approx(63.333, abs=1e-3)
    )
    (volutes,) = (p.world_mesh().bounds for p in parts if "volutes" in p.path)
    part = 60 / 18
    eye = volutes[1, 0] - 8.5 * part / 2.0  # its first quarter runs 8 1/2 half eyes out
    assert 2.0 * eye == pytest.approx(60 * 17 / 18, abs=1e-3)
    assert volutes[1, 2] - volutes[0, 2] == pytest.approx(8 * part, abs=0.05)


def test_the_tuscan():
    """I.14 (read): seven diameters, a quarter less at the top; base half a diameter in two, its
    plinth round, the other in four, one the fillet; a sixth of the diameter out; the pedestal
    plain and a diameter high. Entablature 1 3/4 by the whole of 9 3/4 (Gwilt, art. 2557, read)."""
    assert heights("tuscan", "base", "plinth", "torus", "cimbia") == (
        minutes(15, F(45, 4), F(15, 4))
    )
    fitted = fit_order("tuscan", "palladio", diameter_m=60.0, pedestal=True)
    parts = column(fitted)
    assert not any(p.name == "column/plinth" for p in parts)  # square plinths have that name
    (base,) = (p.mesh for p in parts if p.name == "column/base")
    reach = np.linalg.norm(base.vertices[:, :2], axis=1)
    assert reach[base.vertices[:, 2] < 10].max() == pytest.approx(40.0)
    (shaft,) = (p.mesh for p in parts if p.name == "column/shaft")
    neck = shaft.vertices[np.isclose(shaft.vertices[:, 2], 30 + 360 - 6.5)]
    assert np.linalg.norm(neck[:, :2], axis=1).min() == pytest.approx(0.75 * 30)
    assert fitted.column_height_m == pytest.approx(7 * 60)
    assert fitted.entablature_height_m == pytest.approx(1.75 * 60)
    (stand,) = pedestal(fitted)
    assert stand.mesh.bounds[1, 2] == pytest.approx(60.0)
    assert len(np.unique(stand.mesh.vertices[:, 0].round(6))) == 2  # plain
