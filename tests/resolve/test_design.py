"""From a scene's few words to a design with every dimension known."""

from __future__ import annotations

import contextlib
import random
from typing import Any

import numpy as np
import pytest

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
    site = SITE | groups.pop("site", {})
    scene = Scene.model_validate(
        {"title": "Test", "site": site, "times": ["equinox 12:00"], "house": body, **groups}
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


ORDERS = ("pier", "tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite")


def any_porch(rng: random.Random, order: str, storeys: int) -> dict[str, Any]:
    """What a designer may say of a porch, in words that do not contradict each other."""
    porch: dict[str, Any] = {"order": order, "columns": rng.choice((2, 4, 4, 6))}
    roof = "flat" if storeys == 1 else rng.choice(("flat", "flat", "hipped", "pediment"))
    if order == "pier" and roof == "pediment":
        roof = "flat"
    porch["roof"] = roof
    if roof == "flat" and storeys > 1 and rng.random() < 0.4:
        porch["height"] = "eaves"
    elif roof == "flat" and storeys > 1 and rng.random() < 0.5:
        porch["upper"] = {"guard": {}}
    if roof == "flat" and rng.random() < 0.5:
        porch["balustrade"] = {"filling": rng.choice(("balusters", "parapet"))}
    if rng.random() < 0.4:
        porch["guard"] = {}
    if porch["columns"] > 2 and rng.random() < 0.5:  # two named columns leave a door no room
        porch["spacing"] = rng.choice(("pycnostyle", "systyle", "eustyle", "diastyle", "canon"))
    if order != "pier" and rng.random() < 0.3:
        porch["fluted"] = rng.random() < 0.5
    return porch


def drawn(seed: int) -> Design:
    """A house of one to three storeys behind any porch; orders come in turn."""
    rng = random.Random(seed)
    storeys = rng.choice((1, 2, 2, 3))
    house = {
        "width": f"{rng.uniform(11.0, 22.0):.3f} m",
        "depth": f"{rng.uniform(8.0, 13.0):.3f} m",
        "bays": rng.choice((3, 5, 5, 7)),
        "storeys": [f"{rng.uniform(3.2, 4.2):.3f} m" for _ in range(storeys)],
        "walls": rng.choice(("stucco", "brick", "clapboard", "limestone")),
    }
    roof = {"form": rng.choice(("hip", "gable", "gambrel", "deck"))}
    return design(house, porch=any_porch(rng, ORDERS[seed % len(ORDERS)], storeys), roof=roof)


def test_what_a_designer_may_say_is_built_and_closed() -> None:
    """Nineteen of twenty houses in common practice stand; a sample of them is built."""
    found: dict[int, Design] = {}
    for seed in range(60):
        with contextlib.suppress(DesignError):
            found[seed] = drawn(seed)
    assert len(found) >= 57
    porches = [made.porch for made in found.values()]
    assert {porch.order.order for porch in porches} == set(ORDERS)
    assert sum(porch.upper is not None for porch in porches) >= 6
    assert sum(porch.balustrade is not None for porch in porches) >= 6
    assert sum(porch.guard is not None for porch in porches) >= 6
    for seed in [seed for seed in found if seed % 60 < 3 * len(ORDERS)][::2]:
        for part in build(found[seed]).parts:
            if part.solid:
                mesh = part.mesh.to_trimesh()
                assert mesh.is_watertight, (seed, part.name)
                assert mesh.volume > 0.0, (seed, part.name)
