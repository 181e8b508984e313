"""Sizes of the house in the builder's schedule: levels, ground, corners, eaves, roof and wings."""

from __future__ import annotations

from dataclasses import replace

from massing.design.design import Design
from massing.design.opening import WindowOpening
from massing.design.roof import DeckRoof, GableRoof, GambrelRoof
from massing.present.reports.opening_sizes import door_rows, opening_rows
from massing.present.reports.porch_sizes import balustrade_rows
from massing.present.reports.sizes import Size, rounded, stacked
from massing.settingout.cross_gables import peak_z_m
from massing.settingout.cross_roofs import cornice_out_m, half_m
from massing.units import floor_name


def level_rows(design: Design, step: float) -> list[Size]:
    """Floors and the walls' top, and the plan."""
    house = design.house
    tops = [*house.storey_floors_z_m, house.wall_top_z_m]
    floors = range(len(house.storey_floors_z_m))
    labels = [*(floor_name(i, design.units).capitalize() for i in floors), "Wall top"]
    rows = []
    before = 0.0
    for label, level in zip(labels, tops, strict=True):
        top = rounded(level, step)
        rows.append(Size("House: levels", label, 1, top - before, top, "the ground"))
        before = top
    plan = (("Front", house.width_m), ("Side", house.depth_m), ("Wall", house.wall_thickness_m))
    for label, length in plan:
        of = "thickness" if label == "Wall" else "width"
        rows.append(Size("House: plan", label, 1, across_m=rounded(length, step), across_of=of))
    return rows


def ground_rows(design: Design, step: float) -> list[Size]:
    """Sloping ground at the corners of the house, over that at the middle of its front."""
    lie, house = design.site.ground, design.house
    if lie.level:
        return []
    half, depth = house.width_m / 2.0, house.depth_m
    corners = {
        "Front left": (-half, 0.0),
        "Front right": (half, 0.0),
        "Back left": (-half, depth),
        "Back right": (half, depth),
    }
    of = "the ground at the middle of the front"
    return [
        Size("House: ground", name, 1, None, rounded(float(lie.z_m(*at)), step), of)
        for name, at in corners.items()
    ]


def corner_pilaster_rows(design: Design, step: float) -> list[Size]:
    """The three parts of a corner pilaster, from its floor; one on each face of a corner."""
    house = design.house
    order = house.corner_pilasters
    if order is None:
        return []
    feet = [0.0, order.base_height_m, order.base_height_m + order.shaft_height_m]
    tops = [*feet[1:], order.column_height_m]
    wide = (order.foot_width_m, order.upper_diameter_m, order.upper_diameter_m)
    datum = f"the {floor_name(0, design.units)}"
    rows = []
    for item, foot, top_m, across in zip(
        ("base", "shaft", "capital"), feet, tops, wide, strict=True
    ):
        top = rounded(top_m, step)
        height, width = top - rounded(foot, step), rounded(across, step)
        of = "plinth" if item == "base" else "shaft's face"
        rows.append(Size("House: corner pilasters", item, 4, height, top, datum, width, of))
    return rows


def dormer_rows(design: Design, step: float) -> list[Size]:
    """Each row of dormers: windows, faces and cornices, and where they stand."""
    rows = []
    for row in design.roof.dormers:
        group, count = f"Roof: dormers, {row.side}", len(row.centres_m)
        sill = rounded(row.sill_z_m - design.house.wall_top_z_m, step)
        height, over = rounded(row.height_m, step), "the walls' top"
        width, face = rounded(row.width_m, step), rounded(2.0 * half_m(row), step)
        back = rounded(row.face_y_m, step)
        cornice, out = rounded(row.cornice.height_m, step), rounded(cornice_out_m(row), step)
        rows += [
            Size(group, "window", count, height, sill + height, over, width, "width of opening"),
            Size(group, "face", count, across_m=face, across_of="width"),
            Size(group, "face behind the wall's", count, across_m=back, across_of="face to face"),
            Size(group, "cornice", count, cornice, across_m=out, across_of="projection"),
        ]
        for i, axis in enumerate(row.centres_m):
            where = rounded(axis, step)
            side = "left of the middle" if where < 0 else "right of the middle"
            item = f"Dormer {i + 1}, {side if where else 'in the middle'}"
            rows.append(Size(group, item, 1, across_m=abs(where), across_of="axis"))
    return rows


def bay_window_rows(design: Design, step: float) -> list[Size]:
    """Each bay window: its plan, its lights, its cornice."""
    rows = []
    for i, bay in enumerate(design.house.bay_windows):
        group, datum = f"House: bay window {i + 1}, {bay.shape}", "the ground floor"
        wide, out = rounded(bay.width_m, step), rounded(bay.depth_m, step)
        rows += [
            Size(group, "on the wall", 1, across_m=wide, across_of="width"),
            Size(group, "before the wall", 1, across_m=out, across_of="projection"),
        ]
        for name, light, count in (("middle light", bay.front, 1), ("side light", bay.side, 2)):
            height, across = rounded(light.height_m, step), rounded(light.width_m, step)
            head = rounded(light.head_z_m - bay.floor_z_m, step)
            of = "width of opening"
            rows.append(Size(group, name, count, height, head, datum, across, of))
        top = rounded(bay.eaves_z_m - bay.floor_z_m, step)
        high, over = rounded(bay.cornice.height_m, step), rounded(bay.cornice.projection_m, step)
        rows.append(Size(group, "cornice", 1, high, top, datum, over, "projection"))
    return rows


def gable_rows(design: Design, step: float) -> list[Size]:
    """Gables over parts of the walls, and what stands in a gable's wall."""
    house, rows = design.house, []
    for i, gable in enumerate(design.roof.gables):
        group = f"Roof: gable {i + 1}, {gable.wall}"
        wide, where = rounded(gable.width_m, step), rounded(gable.along_m, step)
        side = "left of the middle" if where < 0 else "right of the middle"
        ridge = rounded(peak_z_m(gable, house, design.roof) - house.wall_top_z_m, step)
        rows += [
            Size(group, "wall", 1, ridge, ridge, "the walls' top", wide, "width"),
            Size(
                group, side if where else "in the middle", 1, across_m=abs(where), across_of="axis"
            ),
        ]
        rows += gable_window_rows(group, gable.opening, 1, house.wall_top_z_m, step)
    if isinstance(design.roof, GableRoof):
        top_z = house.wall_top_z_m
        rows += gable_window_rows("Roof: gables at the ends", design.roof.opening, 2, top_z, step)
    return rows


def gable_window_rows(
    group: str, opening: WindowOpening | None, count: int, top_z_m: float, step: float
) -> list[Size]:
    """The window or louvre in a gable, over the walls' top."""
    if opening is None:
        return []
    height, width = rounded(opening.height_m, step), rounded(opening.width_m, step)
    head = rounded(opening.head_z_m - top_z_m, step)
    kind = "louvre" if opening.filling == "louvre" else "window"
    over = "the walls' top"
    return [Size(group, kind, count, height, head, over, width, "width of opening")]


def eaves_rows(design: Design, step: float) -> list[Size]:
    """The eaves' cornice member by member, where it is not the porch's."""
    house = design.house
    if house.cornice_continues_porch:
        return []
    foot = house.wall_top_z_m - house.cornice.height_m
    members, of = house.cornice.members, "projection from the wall"
    return stacked("House: cornice", members, foot, "the ground", 1, step, of)


_ACROSS = {"Front": "Side", "Side": "Front"}  # of a wing that is turned to the front


def wing_rows(design: Design, step: float) -> list[Size]:
    """Each wing as the house is scheduled, and where it stands."""
    rows = []
    for wing in design.house.wings:
        own = replace(design, house=wing.house)
        name = f"{wing.side} wing".capitalize()
        out, back = ("Stands out", "before") if wing.ahead else ("Set back", "behind")
        far = rounded(abs(wing.set_back_m), step)
        rows.append(Size(f"{name}: plan", out, 1, across_m=far, across_of=f"{back} the front"))
        openings = tuple(replace(o, wing=wing.side) for o in wing.house.openings)
        seen = replace(own, house=replace(wing.house, openings=openings))
        for size in [*level_rows(own, step), *eaves_rows(own, step), *opening_rows(seen, step)]:
            item = _ACROSS.get(size.item, size.item) if wing.ahead else size.item
            rows.append(replace(size, group=size.group.replace("House", name, 1), item=item))
        opening = wing.roof.opening if isinstance(wing.roof, GableRoof) else None
        if wing.gable is not None:
            opening = wing.gable.opening
        rows += gable_window_rows(f"{name}: gable", opening, 1, wing.house.wall_top_z_m, step)
        for size in door_rows(own, step):
            rows.append(replace(size, group=size.group.replace("Side door", f"{name}: door", 1)))
    return rows


def roof_rows(design: Design, step: float) -> list[Size]:
    """Setting out of a roof that breaks or is cut off, and the balustrade on it."""
    roof, group = design.roof, "House: roof"
    if isinstance(roof, GambrelRoof):
        rise = rounded(roof.lower_slope * roof.break_run_m, step)
        run = rounded(roof.break_run_m, step)
        return [Size(group, "Break of the slopes", 2, rise, rise, "the eaves", run, "from eaves")]
    if isinstance(roof, DeckRoof):
        run = rounded(roof.deck_run_m, step)
        rise = rounded(roof.slope * roof.deck_run_m, step)
        flat = Size(group, "Curb of the flat", 1, rise, rise, "the eaves", run, "from eaves")
        return [flat, *balustrade_rows("Balustrade on the roof", roof.deck_balustrade, step)]
    return []
