from dataclasses import replace

import pytest

from massing.design.design import Design
from massing.design.house import ChimneyDesign
from massing.design.opening import FloorWindow, ShuttersDesign
from massing.design.roof import HipRoof
from massing.design.site import SiteDesign
from massing.findings.measures import sash_sizes
from massing.findings.report import findings
from massing.parts.openings.window import window
from tests.helpers.house_designs import door_at, french_at, headed, house, porch, window_at

INCH, FOOT = 0.0254, 0.3048


def design(openings=(), **changes):
    return Design(
        name="test",
        site=SiteDesign("Natchez", 31.56, -91.4, 60.0, "America/Chicago", 180.0, 2026),
        house=house(tuple(openings), **changes),
        porch=porch(),
        roof=HipRoof(0.5, 0.05, "barrel tile", "terracotta"),
    )


def keys(made):
    return {f.key for f in findings(made)}


def test_even_bays_are_questioned():
    # Common practice, no source.
    assert "even bays" in keys(design(bay_centres_m=(-3.0, -1.0, 1.0, 3.0)))
    assert "even bays" not in keys(design())


def test_heads_of_two_kinds_are_noted():
    # Common practice, no source.
    one = [window_at(-4.0, head="lintel"), window_at(4.0, head="lintel")]
    mixed = [window_at(-4.0, head="lintel"), window_at(4.0, 4.9, head="jack arch", height_m=1.5)]
    assert "mixed heads" not in keys(design(one))
    assert "mixed heads" in keys(design(mixed))


def test_sizes_are_those_of_the_built_sash():
    o = window_at(upper_lights=(3, 2), lower_lights=(3, 3), height_m=2.2)
    glass = next(p for p in window(o, 0.1, 0.3) if p.name == "glass").mesh.to_trimesh().split()
    from massing.practice.joinery_sizes import SASH

    sizes = sash_sizes(o)
    wide, _, tall = glass[0].extents - [2 * SASH.rebate_m, 0, 2 * SASH.rebate_m]
    assert (sizes.pane_width_m, sizes.pane_height_m) == pytest.approx((wide, tall))
    foot = min(b.bounds[0, 2] for b in glass) + SASH.rebate_m
    assert sizes.glass_foot_m == pytest.approx(foot)


@pytest.mark.parametrize(
    ("sill", "lights", "wants"),
    [(0.15, (1, 1), True), (0.15, (3, 2), False), (0.7, (1, 1), False)],
)
def test_large_low_panes_want_safety_glass(sill, lights, wants):
    # IRC R308.4.3 (read): over 9 sq ft, bottom under 18 in, top over 36 in.
    o = window_at(
        sill_z_m=0.7 + sill, width_m=1.4, height_m=2.4, upper_lights=lights, lower_lights=lights
    )
    assert ("safety glazing" in keys(design([o]))) is wants


@pytest.mark.parametrize(("sill", "wants"), [(0.4, True), (0.75, False)])
def test_low_sills_high_up_want_a_guard(sill, wants):
    # IRC R312.2.1 (from memory): under 24 in above the floor, over 72 in above the ground.
    assert ("window fall" in keys(design([window_at(0.0, 4.0 + sill)]))) is wants
    assert "window fall" not in keys(design([window_at(0.0, 0.7 + sill)]))


@pytest.mark.parametrize(
    ("width", "height", "wants"), [(1.05, 1.6, False), (0.9, 1.0, True), (0.55, 1.9, True)]
)
def test_small_upper_windows_are_no_way_of_escape(width, height, wants):
    # IRC R310 (read): 5.7 sq ft clear, 24 in high, 20 in wide.
    o = window_at(0.0, 4.8, width_m=width, height_m=height)
    assert ("escape window" in keys(design([o]))) is wants
    below = window_at(0.0, 1.4, width_m=width, height_m=height)
    assert "escape window" not in keys(design([below]))


def test_glass_in_and_beside_doors_is_named():
    # IRC R308.4.1-.2 (read).
    assert "door glazing" in keys(design([door_at()]))
    assert "door glazing" not in keys(design([door_at(sidelights=False)]))
    assert "door glazing" in keys(design([french_at()]))


def test_a_low_chimney_is_named():
    # IRC R1003.9 (from memory): 2 ft above anything within 10 ft.
    made = design()
    ridge = 7.0 + 0.5 * (4.5 + 0.3)
    for top, wants in ((ridge + 0.5, True), (ridge + 0.7, False)):
        stack = ChimneyDesign((-0.4, 4.0), (0.4, 5.0), top)
        changed = replace(made, house=replace(made.house, chimneys=(stack,)))
        assert ("low chimney" in keys(changed)) is wants


def test_cautions_defer_to_local_codes():
    openings = [door_at(), window_at(-4.0, 4.3, width_m=0.6)]
    said = [f for f in findings(design(openings)) if f.severity == "caution"]
    assert said
    assert all("local codes and licensed practice decide" in f.text for f in said)


@pytest.mark.parametrize(
    "opening",
    [
        window_at(filling="casement", lower_lights=(2, 4), height_m=2.2),
        window_at(filling="tripartite", width_m=2.2),
        window_at(kind=FloorWindow, sill_z_m=0.7, height_m=2.6),
        headed("elliptical arch", width_m=1.2, height_m=2.2),
    ],
)
def test_sizes_of_every_filling_are_those_built(opening):
    from massing.practice.joinery_sizes import SASH

    glass = next(p for p in window(opening, 0.1, 0.3) if p.name == "glass").mesh.to_trimesh()
    low = [b for b in glass.split() if b.bounds[0, 2] < glass.bounds[0, 2] + 1e-6]
    wide, _, tall = min(low, key=lambda b: abs(b.centroid[0])).extents - [
        2 * SASH.rebate_m,
        0,
        2 * SASH.rebate_m,
    ]
    sizes = sash_sizes(opening)
    assert (sizes.pane_width_m, sizes.pane_height_m) == pytest.approx((wide, tall))
    assert sizes.glass_foot_m == pytest.approx(glass.bounds[0, 2] + SASH.rebate_m)


def test_a_casement_opens_as_a_whole_and_a_sash_by_half():
    size = {"width_m": 1.0, "height_m": 1.4}
    sash, leaves = (sash_sizes(window_at(**size, filling=f)) for f in ("hung", "casement"))
    assert leaves.clear_height_m > 1.9 * sash.clear_height_m
    made = design([window_at(0.0, 4.8, **size, filling="casement")])
    assert "escape window" not in keys(made)
    assert "escape window" in keys(design([window_at(0.0, 4.8, width_m=1.0, height_m=1.1)]))


def test_shutters_that_cannot_cover_are_named():
    # Common practice, no source: leaves half the opening wide, 30 in at the most.
    hung = {"shutters": ShuttersDesign("louvred")}
    assert not keys(design([window_at(**hung)])) & {"shutters under an arch", "wide shutters"}
    arch = design([headed("semicircular arch", **hung)])
    assert "shutters under an arch" in keys(arch)
    said = next(f.text for f in findings(arch) if f.key == "shutters under an arch")
    assert "1'-8 11/16\"" in said  # half of 1.05 m
    wide = window_at(width_m=2.2, filling="tripartite", **hung)
    assert "wide shutters" in keys(design([wide]))


def test_masonry_over_windows_in_boards_is_questioned():
    # Common practice, no source.
    for head, wants in (("elliptical arch", True), ("elliptical casing", False), ("hood", False)):
        made = design([headed(head)], walls="clapboard")
        assert ("masonry heads" in keys(made)) is wants
    assert "masonry heads" not in keys(design([headed("elliptical arch")], walls="brick"))


def test_a_front_without_a_middle_bay_is_questioned():
    # Common practice, no source.
    assert "no middle bay" in keys(design(bay_centres_m=(-4.0, 1.0, 4.0)))
    assert "no middle bay" not in keys(design())


def test_windows_to_the_floor_off_the_porch_want_a_guard():
    # Common practice, no source; the porch's outer columns stand 4.5 m from the middle.
    low = {"sill_z_m": 0.7, "height_m": 2.6, "kind": FloorWindow}
    assert "window to the floor" not in keys(design([window_at(2.0, **low)]))
    assert "window to the floor" in keys(design([window_at(5.0, **low)]))
    assert "window to the floor" in keys(design([window_at(2.0, wall="back", **low)]))
