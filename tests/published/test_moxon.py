"""What Vignola's English text of 1673 (J. Moxon's) settles, read on the built meshes.

Vignola, or the Compleat Architect, third edition, London 1673; the numerals are its leaves, all
read. M is the module, half the diameter; the models are built with a module of one metre.
"""

import numpy as np
import pytest

from massing.canon import fit_order, plate, spacing_axis_m
from massing.parts.orders.column import column, pedestal
from massing.parts.orders.entablature import entablature

pytestmark = pytest.mark.published

ORDERS = ("tuscan", "doric", "ionic", "corinthian", "composite")


def model_of(order, canon="vignola"):
    return fit_order(order, canon, diameter_m=2.0, pedestal=True)


def beam(fitted):
    half = fitted.upper_diameter_m / 2.0
    path = [(-6.0, -half), (6.0, -half)]
    return entablature(fitted, path, back_m=2.0 * half, column_axes=[(-4.0, 0.0), (4.0, 0.0)])


def bounds(parts, *words):
    """Least and most of all parts whose path has the words ``(2, 3)``."""
    met = [p.world_mesh().bounds for p in parts if set(words) <= set(p.path)]
    assert met, words
    return np.min([b[0] for b in met], axis=0), np.max([b[1] for b in met], axis=0)


# Column with base and capital: 14 (I), 16 (VI), 18 (XII); entablature a quarter of it (I, VI,
# XII); the Corinthian's whole 25 (XIX), the Composite as the Corinthian (XXV).
@pytest.mark.parametrize(
    ("order", "column_m", "beam_m"),
    [("tuscan", 14, 3.5), ("doric", 16, 4), ("ionic", 18, 4.5), ("corinthian", 20, 5),
     ("composite", 20, 5)],
)  # fmt: skip
def test_columns_and_what_they_carry(order, column_m, beam_m):
    fitted = model_of(order)
    low, high = bounds(column(fitted), "column")
    assert high[2] - low[2] == pytest.approx(column_m, abs=1e-6)
    low, high = bounds(beam(fitted), "entablature")
    assert high[2] - low[2] == pytest.approx(beam_m, abs=1e-6)


# Doric: base with its band 1, capital 1, architrave 1, frieze and cornice 1 1/2 (VI); Ionic:
# architrave 1 1/4, frieze 1 1/2, cornice 1 3/4 (XII).
@pytest.mark.parametrize(
    ("order", "heights"),
    [("doric", (1.0, 1.5, 1.5)), ("mutular doric", (1.0, 1.5, 1.5)), ("ionic", (1.25, 1.5, 1.75))],
)
def test_architrave_frieze_and_cornice(order, heights):
    parts = beam(model_of(order))
    architrave, frieze, cornice = (
        bounds(parts, group) for group in ("architrave", "frieze", "cornice")
    )
    assert architrave[1][2] == pytest.approx(heights[0], abs=1e-6)
    assert frieze[1][2] == pytest.approx(sum(heights[:2]), abs=1e-6)
    assert cornice[1][2] == pytest.approx(sum(heights), abs=1e-6)


def test_the_doric_base_and_capital_are_a_module_each():
    """VI; the shaft between them 14."""
    parts = column(model_of("doric"))
    shaft = bounds(parts, "shaft")
    assert (shaft[0][2], shaft[1][2]) == pytest.approx((1.0, 15.0), abs=1e-6)


# A third of the column: 4 2/3 (III), 5 1/3 (IX), 6 (XIV); the Corinthian's 7 (XXII), which the
# Composite keeps (XXV).
@pytest.mark.parametrize(
    ("order", "modules"),
    [("tuscan", 14 / 3), ("doric", 16 / 3), ("ionic", 6), ("corinthian", 7), ("composite", 7)],
)
def test_pedestals(order, modules):
    low, high = bounds(pedestal(model_of(order)), "pedestal")
    assert high[2] - low[2] == pytest.approx(modules, abs=1e-6)


def test_the_corinthian_pedestals_die_is_about_two_squares():
    """XXII: the mere pedestal, without cap and base, may be twice as long as broad."""
    die = next(m for m in plate("corinthian").groups["pedestal"] if m.name == "die")
    assert die.height == pytest.approx(2 * 2 * die.reach)


def test_the_space_between_corinthian_columns():
    """XIX: 4 2/3 modules, so that modillions stand over the columns' middles."""
    fitted = model_of("corinthian")
    axis, _ = spacing_axis_m(fitted, "canon")
    assert axis - 2.0 == pytest.approx(14 / 3)
    modillions = next(m.row for m in fitted.cornice if m.row and m.row.kind == "modillion")
    assert axis / modillions.spacing == pytest.approx(round(axis / modillions.spacing))


def test_the_ionic_volute():
    """XVI: eyes two modules apart, 16 parts high in all, 8 of them over the eye of 2 parts, 6
    under it."""
    fitted = model_of("ionic")
    low, high = bounds(column(fitted), "volutes")
    part = 1.0 / 18.0
    assert high[2] - low[2] == pytest.approx(16 * part, abs=1e-3)
    eye = part  # its half breadth; the first quarter runs 8 1/2 of them out from the axis
    assert high[0] == pytest.approx(1.0 + 8.5 * eye, abs=1e-3)
    top = fitted.column_height_m - sum(m.height for m in fitted.capital[3:])
    assert high[2] == pytest.approx(top, abs=1e-6)


def test_the_ionic_pedestals_cap():
    """From memory of the plate of 1562: astragal, ovolo, corona, cyma reversa and fillet, 10 parts
    out from the die; the socle 8."""
    members = plate("ionic").groups["pedestal"]
    at = next(i for i, m in enumerate(members) if m.name == "die")
    assert [m.name for m in members[at + 1 :]] == [
        "astragal", "ovolo", "corona", "cyma reversa", "fillet",
    ]  # fmt: skip
    (part,) = pedestal(model_of("ionic"))
    z, reach = part.mesh.vertices[:, 2], np.abs(part.mesh.vertices[:, 0])
    die = reach[np.isclose(z, 9 / 18)].min()
    assert (reach[z > 5.5].max() - die) * 18 == pytest.approx(10.0)
    assert (reach[z < 0.2].max() - die) * 18 == pytest.approx(8.0)


@pytest.mark.parametrize(("canon", "parts"), [("vignola", 1.5), ("ware", 2.0)])
@pytest.mark.parametrize("order", ["doric", "mutular doric"])
def test_the_doric_taenia(order, canon, parts):
    """Out from the frieze: Vignola's plate of 1562 from memory; Ware, p. 14, read."""
    fitted = model_of(order, canon)
    low, _ = bounds(beam(fitted), "architrave")
    assert (-low[1] - fitted.upper_diameter_m / 2.0) * 12 == pytest.approx(parts, abs=1e-6)


@pytest.mark.parametrize(("canon", "parts"), [("vignola", 16), ("ware", 15)])
def test_the_corinthian_modillion(canon, parts):
    """Its length: Vignola's plate of 1562 from memory; Ware, p. 19, read."""
    fitted = model_of("corinthian", canon)
    band = next(m for m in fitted.cornice if m.row and m.row.kind == "modillion")
    met = [p for p in beam(fitted) if any("modillion" in word for word in p.path)]
    far = min(p.world_mesh().bounds[0][1] for p in met)
    face = fitted.upper_diameter_m / 2.0 + band.reach
    assert (-far - face) * 18 == pytest.approx(parts, abs=0.3)
