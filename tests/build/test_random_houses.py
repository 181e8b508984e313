"""Houses drawn at random: each is built whole and closed, or refused in one clear line."""

from __future__ import annotations

import os
from itertools import combinations
from typing import Any

from hypothesis import HealthCheck, event, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.canon.entasis import CURVES as ENTASIS
from massing.design.design import Design
from massing.design.house import HouseDesign, WingDesign
from massing.design.opening import Opening
from massing.parts.part import Model
from massing.practice.coverings import coverings
from massing.practice.joinery_sizes import HEADS
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.settingout.eaves import covered_run, wing_top
from tests.helpers.shapes import assert_closed, assert_on_the_ground


def inches(low: int, high: int) -> st.SearchStrategy[str]:
    return st.integers(low, high).map(lambda n: f"{n} in")


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


WINDOW = st.fixed_dictionaries(
    {},
    optional={
        "width": inches(26, 54),
        "height": inches(30, 60),
        "sill": st.just("0 in") | inches(4, 40),
        "lights": st.sampled_from(
            ["1 over 1", "2 over 2", "6 over 6", "6 over 9", "3x2 over 3x3", "2x3"]
            + ["three lights wide"]
        ),
        "kind": st.sampled_from(["sash", "sash", "casement", "tripartite", "french"]),
        "head": st.sampled_from(list(HEADS)),
        "shutters": st.sampled_from(["none", "louvred", "panelled", "board"]),
        "shutters_closed": st.booleans(),
        "panel_below": inches(8, 14),
    },
)
WING = st.fixed_dictionaries(
    {"side": st.sampled_from(["left", "right", "both"])},
    optional={
        "width": inches(120, 480),
        "depth": inches(150, 360),
        "set_back": inches(24, 96),
        "storeys": st.lists(inches(100, 140), min_size=1, max_size=1),
        "bays": st.integers(1, 4),
        "windows": st.lists(WINDOW, max_size=1),
        "roof": st.fixed_dictionaries(
            {},
            optional={
                "form": st.sampled_from(["hip", "gable"]),
                "pitch": st.sampled_from(["3:12", "5:12", "9:12"]),
                "covering": st.sampled_from(["slate", "standing seam", "plain"]),
            },
        ),
    },
)
DOOR = {
    "width": inches(30, 42),
    "height": inches(76, 90),
    "leaves": st.sampled_from([1, 2]),
    "panels": st.sampled_from(["one", "two", "three", "four", "five", "six", "eight"]),
    "panelling": st.sampled_from(["raised", "flat"]),
    "glazed": st.booleans(),
    "sidelights": st.booleans(),
    "transom": st.booleans(),
    "fanlight": st.sampled_from(["none", "semicircular", "elliptical"]),
    "fanlight_rise": inches(14, 40),
    "fanlight_lights": st.integers(3, 11),
    "fanlight_ring": st.sampled_from(["none", "ring", "swags"]),
    "head": st.sampled_from(list(HEADS)),
    "surround": st.fixed_dictionaries(
        {"order": st.sampled_from(["tuscan", "doric", "ionic"])},
        optional={
            "engaged": st.sampled_from(["pilasters", "half columns"]),
            "pediment": st.booleans(),
            "entablature": inches(14, 24),
        },
    ),
}
SIDE_STEPS = st.fixed_dictionaries(
    {},
    optional={"riser": inches(5, 8), "tread": inches(10, 15), "width": inches(44, 90)},
)


def agreeing(door: dict[str, Any]) -> dict[str, Any]:
    """Without what its fanlight or surround forbids; those refusals have their own tests."""
    fanlight = door.get("fanlight", "none")
    bare = set() if fanlight == "elliptical" else {"fanlight_rise"}
    if fanlight == "none":
        bare |= {"fanlight_lights", "fanlight_ring"}
    lines = ("level", "segmental") if fanlight == "none" else (fanlight,)
    if "surround" in door or ("head" in door and HEADS[door["head"]].line not in lines):
        bare.add("head")
    return {k: v for k, v in door.items() if k not in bare}


SIDE_DOOR = st.fixed_dictionaries(
    {"wall": st.sampled_from(["left", "right", "back"]), "bay": st.integers(1, 4)},
    optional={**DOOR, "landing": inches(36, 72), "steps": SIDE_STEPS},
).map(agreeing)
HOUSE = st.fixed_dictionaries(
    {
        "width": inches(480, 1000),
        "depth": inches(240, 600),
        "storeys": st.lists(inches(126, 170), min_size=1, max_size=3),
        "walls": st.sampled_from(["stucco", "clapboard", "brick", "limestone"]),
        "bays": st.integers(3, 7),
        "side_bays": st.integers(0, 4),
    },
    optional={
        "rhythm": st.sampled_from(["equal", "equal", "wide centre", "paired"]),
        "windows": st.lists(WINDOW, max_size=3),
        "belt_courses": st.booleans(),
        "quoins": st.booleans(),
        "door": st.fixed_dictionaries({}, optional=DOOR).map(agreeing),
        "side_door": SIDE_DOOR,
        "relief": st.booleans(),
        "bond": st.sampled_from(["running", "flemish", "common"]),
        "corner_pilasters": st.sampled_from(["none", "as porch", "doric"]),
        "foundation": st.sampled_from(["concrete", "brick", "stone", "stucco"]),
        "coursing": st.sampled_from(["equal", "alternate"]),
        "rustication": st.sampled_from(["none", "channelled", "v-jointed"]),
        "chimneys": st.lists(
            st.fixed_dictionaries({"along": inches(-300, 300), "back": inches(20, 500)}), max_size=2
        ),
        "wings": st.lists(WING, max_size=2),
    },
)
PORCH = st.fixed_dictionaries(
    {
        "order": st.sampled_from(["pier", "tuscan"]),
        "columns": st.sampled_from([2, 4]),
        "roof": st.sampled_from(["flat", "hipped", "pediment"]),
    },
    optional={
        "fluted": st.booleans(),
        "entasis": st.sampled_from(sorted(ENTASIS)),
        "responds": st.sampled_from(["none", "pilasters", "half columns"]),
        "pedestals": st.booleans(),
        "breaking_forward": st.booleans(),
        "paired": st.booleans(),
        "shape": st.sampled_from(["straight", "recessed", "semicircular"]),
        "spacing": st.sampled_from(["bays", "full width"]),
        "blocking_course": st.sampled_from([True, "9 in"]),
        "side_columns": st.sampled_from([0, 1]),
        "height": st.just("eaves"),
        "steps": st.fixed_dictionaries(
            {"rail": st.sampled_from(["none", "iron", "wood", "by rule"])}
        ),
    },
)
ROOF = st.fixed_dictionaries(
    {
        "form": st.sampled_from(["hip", "gable", "gambrel", "deck"]),
        "covering": st.sampled_from([*sorted(coverings()), "plain"]),
    },
    optional={
        "pitch": st.sampled_from(["4:12", "7:12", "12:12"]),
        "deck_balustrade": st.fixed_dictionaries({}, optional={"panelled": st.booleans()}),
        "deck_surface": st.sampled_from(["metal", "boards"]),
        "gable": st.just("raking cornice"),
        "gutter": st.sampled_from(["half round", "moulded"]),
        "dormers": st.fixed_dictionaries(
            {
                "kind": st.sampled_from(["gabled", "shed", "segmental"]),
                "slope": st.sampled_from(["front", "back", "both"]),
            },
            optional={"count": st.integers(1, 5), "cheeks": st.sampled_from(["boards", "plain"])},
        ),
    },
).map(
    lambda roof: {
        k: v
        for k, v in roof.items()
        if (roof["form"] == "deck" or "deck_" not in k)
        and (roof["form"] == "gable" or k != "gable")
    }
)


def sensible(house: dict[str, Any]) -> dict[str, Any]:
    """Without what its walls cannot have; those refusals have their own tests."""
    masonry = house["walls"] != "clapboard"
    windows = [
        {**w, "shutters": "none"} if w.get("sill") == "0 in" else w
        for w in house.get("windows", [])
    ]
    return {
        **house,
        "windows": windows,
        "relief": house.get("relief", False) and house["walls"] != "stucco",
        "rustication": house.get("rustication", "none")
        if house["walls"] in ("limestone", "stucco")
        else "none",
        "quoins": house.get("quoins", False) and masonry and "corner_pilasters" not in house,
    }


def buildable(porch: dict[str, Any]) -> dict[str, Any]:
    """Without what contradicts the rest, such as a pier's flutes; refusals have their own tests."""
    bare: tuple[str, ...] = ("fluted", "entasis", "responds") if porch["order"] == "pier" else ()
    if porch.get("shape") == "recessed":
        bare += ("responds", "breaking_forward", "blocking_course", "side_columns", "spacing")
        bare += ("pedestals",)
        porch = {**porch, "roof": "flat", "columns": 2}
    if porch.get("shape") == "semicircular":
        bare += ("responds", "breaking_forward", "side_columns", "paired", "spacing")
        porch = {**porch, "roof": "flat", "columns": 4}
    return {
        **{k: v for k, v in porch.items() if k not in bare},
        "paired": "paired" not in bare and porch.get("paired", False) and porch["columns"] >= 4,
        "blocking_course": porch["roof"] == "flat"
        and "blocking_course" not in bare
        and porch.get("blocking_course", False),
    }


RISES = st.sampled_from(["level", "1:20", "-1:12", "1:40", "-1:40"])
SLOPE = maybe(st.fixed_dictionaries({}, optional={"along": RISES, "back": RISES}))


def drawn(
    house: dict[str, Any],
    porch: dict[str, Any],
    roof: dict[str, Any],
    slope: dict[str, str] | None = None,
) -> Design:
    return resolve(
        Scene.model_validate(
            {
                "title": "Any house",
                "site": {
                    "place": "Natchez",
                    "latitude": 31.56,
                    "longitude": -91.4,
                    "front_faces": "S",
                    "ground_slope": slope,
                },
                "house": house,
                "porch": porch,
                "roof": roof,
                "times": ["equinox 10:00"],
            }
        ),
        "any",
    )


def apart(one: Opening, other: Opening) -> bool:
    return (
        one.wall != other.wall
        or abs(one.along_m - other.along_m) >= one.width_m / 2 + other.width_m / 2
        or one.back_m != other.back_m
        or one.head_z_m <= other.foot_z_m
        or other.head_z_m <= one.foot_z_m
    )


@settings(
    deadline=None,
    max_examples=int(os.environ.get("RANDOM_HOUSES", "40")),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(house=HOUSE.map(sensible), porch=PORCH.map(buildable), roof=ROOF, slope=SLOPE)
def test_any_house_stands_or_is_refused_in_a_line(house, porch, roof, slope):
    said = ""
    try:
        design = drawn(house, porch, roof, slope)
    except DesignError as refusal:
        said = str(refusal)
    if said:
        assert "\n" not in said
        assert "allowed" in said
        event("refused: " + said.split(":")[0])
        return
    event("built")
    model = build(design)
    assert_closed(model.parts)
    assert_on_the_ground(model, design.site.ground)
    limit_z = design.house.wall_top_z_m - design.house.cornice.height_m
    for wing in design.house.wings:
        assert wing_top(wing.house, wing.roof) <= limit_z
        assert not any(behind(o, wing, design) for o in design.house.openings)
        assert_openings_stand(wing.house)
    assert_openings_stand(design.house)
    for name, low, high in porch_on_wall(model):
        for o in (o for o in design.house.openings if o.wall == "front"):
            beside = o.along_m + o.width_m / 2 <= low[0] or o.along_m - o.width_m / 2 >= high[0]
            assert beside or o.head_z_m <= low[1] or o.foot_z_m >= high[1], (name, o.name)


def porch_on_wall(model: Model) -> list[tuple[str, Any, Any]]:
    """Where ceilings and roofs of a porch before the front touch it: low and high (x, z)."""
    found = []
    for part in model.select("porch"):
        points = part.world_mesh().vertices
        near = points[points[:, 1] > -0.02][:, [0, 2]]
        name = part.name.endswith(("/ceiling", "roof/deck", "roof/flat"))
        if name and len(near) and points[:, 1].max() < 0.05:
            found.append((part.name, near.min(axis=0), near.max(axis=0)))
    return found


def behind(opening: Opening, wing: WingDesign, design: Design) -> bool:
    """Whether a wing's walls or roof cross an opening of the main side wall."""
    if opening.wall != wing.side:
        return False
    sign = 1.0 if wing.side == "right" else -1.0
    y = design.house.depth_m / 2 + sign * opening.along_m
    low, high = covered_run(wing, opening.foot_z_m)
    return y + opening.width_m / 2 > low and y - opening.width_m / 2 < high


def assert_openings_stand(body: HouseDesign) -> None:
    """None crosses a corner, a floor line or another."""
    for opening in body.openings:
        long = body.width_m if opening.wall in ("front", "back") else body.depth_m
        assert abs(opening.along_m) + opening.width_m / 2 < long / 2 - body.wall_thickness_m
        floors = [z for z in (*body.storey_floors_z_m, body.wall_top_z_m) if z > opening.sill_z_m]
        assert opening.head_z_m < min(z for z in floors if z > opening.sill_z_m + 1e-6)
        assert opening.foot_z_m > body.floor_z_m - 1e-6
        if opening.kind == "door":
            assert opening.top_z_m < min(z for z in floors if z > opening.sill_z_m + 1e-6)
    assert all(apart(a, b) for a, b in combinations(body.openings, 2))
