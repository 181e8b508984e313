"""From a scene's few words to a design with every dimension known."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.design.design import Design
from massing.design.opening import STOREYS
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene

SITE = {"place": "Testwick", "latitude": 40.0, "longitude": -75.0, "front_faces": "S"}


def design(house: dict[str, Any] | None = None, **groups: Any) -> Design:
    """A resolved design: a plain house with what the test changes."""
    body = {"width": "16 m", "depth": "10 m", "storeys": ["3.6 m", "3.6 m"], **(house or {})}
    scene = Scene.model_validate(
        {"title": "Test", "site": SITE, "times": ["equinox 12:00"], "house": body, **groups}
    )
    return resolve(scene, "test")


def test_an_order_fills_the_height_it_is_given() -> None:
    porch = design(porch={"order": "tuscan", "height": "eaves"}).porch
    assert porch.top_z_m == pytest.approx(0.6096 + 7.2)
    # Vignola's Tuscan: 7 + 1 3/4 diameters (The Canon of the Five Orders).
    assert porch.order.diameter_m == pytest.approx((porch.top_z_m - porch.floor_z_m) / 8.75)


def test_columns_stand_between_the_bays() -> None:
    house = design(porch={"columns": 4, "spacing": "bays"})
    assert house.porch.axes_m == pytest.approx([-4.8, -1.6, 1.6, 4.8])
    assert house.house.bay_centres_m == pytest.approx([-6.4, -3.2, 0.0, 3.2, 6.4])


def test_eustyle_has_its_wider_centre() -> None:
    # Vitruvius III.3.6: 2 1/4 diameters clear, 3 in the middle.
    porch = design(porch={"spacing": "eustyle", "columns": 4, "height": "3.4 m"}).porch
    gaps = np.diff(porch.axes_m) / porch.order.diameter_m - 1.0
    assert gaps == pytest.approx([2.25, 3.0, 2.25])


def test_a_pinned_diameter_leaves_the_height() -> None:
    porch = design(porch={"diameter": "300 mm", "height": "3.4 m"}).porch
    assert porch.order.diameter_m == pytest.approx(0.3)
    assert porch.order.order_height_m == pytest.approx(3.4)


def test_windows_fall_by_a_sixth() -> None:
    openings = design({"windows": [{"height": "1.8 m"}]}).house.openings
    heights = {STOREYS[o.storey]: o.height_m for o in openings if o.kind == "window"}
    assert heights["ground"] == pytest.approx(1.8)
    # One window serves the storeys that are not named.
    assert heights["first"] == pytest.approx(1.8)
    graded = design().house.openings
    heights = {STOREYS[o.storey]: o.height_m for o in graded if o.kind == "window"}
    assert heights["first"] / heights["ground"] == pytest.approx(5 / 6)


def test_the_door_stands_in_the_middle() -> None:
    doors = [o for o in design().house.openings if o.kind == "door"]
    assert [(d.wall, d.along_m) for d in doors] == [("front", 0.0)]


def test_every_number_says_where_it_came_from() -> None:
    origins = design({"floor": "0.5 m"}).origins
    assert "given" in origins["house.floor"].source
    assert "vignola" in origins["porch.diameter"].source
    assert all(origin.written and origin.source for origin in origins.values())


def test_flutes_and_entasis_are_the_canons_unless_asked_for() -> None:
    by_canon = design(porch={"order": "ionic"}).porch
    assert (by_canon.order.flutes, by_canon.order.entasis) == (24, "widest at a third")
    assert not by_canon.responds_fluted
    plain = design(porch={"order": "ionic", "fluted": False, "entasis": "none"}).porch
    assert (plain.order.flutes, plain.order.entasis) == (0, "none")
    chosen = design(porch={"order": "tuscan", "fluted": True, "entasis": "from the base"}).porch
    assert (chosen.order.flutes, chosen.order.flute_kind) == (20, "arris")
    assert chosen.order.entasis == "from the base"
    assert chosen.responds_fluted
    for asked, field in (({"fluted": True}, "fluted"), ({"entasis": "conchoid"}, "entasis")):
        with pytest.raises(DesignError, match=f"porch.{field}: given .*square pier"):
            design(porch={"order": "pier", **asked})


@pytest.mark.usefixtures("rules_hold")
@pytest.mark.parametrize(
    ("house", "porch", "field"),
    [
        ({}, {"spacing": "6 m", "columns": 4}, "porch.spacing"),
        ({}, {"spacing": "300 mm", "depth": "2 m"}, "porch.spacing"),
        ({}, {"height": "9 m"}, "porch.height"),
        ({}, {"height": "5 m"}, "porch.height"),  # crosses the upper windows
        ({}, {"floor": "2 m"}, "porch.floor"),
        ({}, {"depth": "200 mm"}, "porch.depth"),
        ({}, {"columns": 5, "centre_spacing": "4 m"}, "porch.columns"),
        ({}, {"height": "eaves", "roof": "hipped"}, "porch.roof"),
        ({}, {"roof_pitch": "4:12"}, "porch.roof_pitch"),
        ({}, {"paired": True, "columns": 5}, "porch.columns"),
        ({}, {"paired": True, "side_columns": 2}, "porch.side_columns"),
        ({}, {"paired": "300 mm"}, "porch.paired"),
        ({}, {"breaking_forward": True, "roof": "pediment"}, "porch.roof"),
        ({}, {"breaking_forward": "500 mm"}, "porch.breaking_forward"),
        (
            {},
            {"breaking_forward": True, "spacing": "1.9 m", "height": "eaves"},
            "porch.breaking_forward",
        ),
        ({}, {"breaking_forward": True, "shape": "semicircular"}, "porch.breaking_forward"),
        ({}, {"responds": "half columns", "shape": "semicircular"}, "porch.responds"),
        ({}, {"blocking_course": True, "roof": "hipped"}, "porch.blocking_course"),
        ({}, {"spacing": "full width", "shape": "semicircular"}, "porch.spacing"),
        ({}, {"spacing": "full width", "columns": 2, "centre_spacing": "3 m"}, "porch.columns"),
        ({}, {"blocking_course": "2 m"}, "porch.blocking_course"),
        ({"windows": [{"height": "3.5 m"}]}, {}, "house.windows.0.height"),
        (
            {"windows": [{"head": "hood on consoles", "shutters": "louvred"}]},
            {},
            "house.windows.0.shutters",
        ),
        ({"windows": [{"width": "3.1 m"}]}, {}, "house.bay_spacing"),
        ({"side_bays": 8}, {}, "house.side_bays"),
        ({"reveal": "400 mm"}, {}, "house.reveal"),
        ({"bay_spacing": "5 m"}, {}, "house.bay_spacing"),
        ({"door": {"width": "3.4 m"}}, {}, "house.door.width"),
        ({"width": "1 m", "bays": 1}, {"spacing": "1 m"}, "house.width"),
    ],
)
def test_what_cannot_stand_names_its_field(
    house: dict[str, Any], porch: dict[str, Any], field: str
) -> None:
    with pytest.raises(DesignError) as error:
        design(house, porch=porch)
    assert error.value.field == field
    assert error.value.allowed


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    width=st.floats(9.0, 26.0),
    bays=st.integers(2, 9),
    storeys=st.lists(st.floats(3.0, 4.5), min_size=1, max_size=3),
    order=st.sampled_from(["pier", "tuscan", "doric"]),
    columns=st.integers(2, 8),
    eaves=st.booleans(),
    balustrade=st.booleans(),
    roof=st.sampled_from(["flat", "hipped"]),
)
def test_any_design_that_resolves_builds_closed(
    width: float,
    bays: int,
    storeys: list[float],
    order: str,
    columns: int,
    eaves: bool,
    balustrade: bool,
    roof: str,
) -> None:
    porch: dict[str, Any] = {"order": order, "columns": columns, "roof": roof}
    if eaves:
        porch["height"] = "eaves"
    if balustrade:
        porch["balustrade"] = {}
    house = {"width": f"{width:.3f} m", "bays": bays, "storeys": [f"{s:.3f} m" for s in storeys]}
    try:
        found = design(house, porch=porch)
    except DesignError:
        assume(False)
    for part in build(found).parts:
        if part.solid:
            mesh = part.mesh.to_trimesh()
            assert mesh.is_watertight, part.name
            assert mesh.volume > 0.0, part.name
