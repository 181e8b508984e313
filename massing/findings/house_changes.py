"""What an alternative changes of the house: windows, roof, wings, walls and width."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from massing.canon.sources import cited
from massing.design.design import Design
from massing.design.kinds import WingSide
from massing.findings.change import OWN, SAME, Change, capital, differs, length_words, number_words
from massing.findings.measures import columns_before_openings, windows_by_storey
from massing.practice.rules import rules


def windows_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = windows_by_storey(a), windows_by_storey(b)
    if not was or not now:
        return
    rule = rules()["upper_storey"]
    if len(was) > 1 and len(now) > 1:
        ratio_was = was[1].height_m / was[0].height_m
        ratio_now = now[1].height_m / now[0].height_m
        if differs(ratio_was, ratio_now, 0.04):
            heights = [length_words(w.height_m, b.units) for w in (*now[:2], *was[:2])]
            before = (
                f"both were {heights[2]}"
                if abs(ratio_was - 1.0) < SAME
                else f"they were {heights[2]} and {heights[3]}"
            )
            text = f"The windows are {heights[0]} high below and {heights[1]} above, where {before}"
            if ratio_now <= 0.97 < ratio_was:
                text += ": the lowest storey leads"
            elif ratio_now > 0.97:
                text += ": no storey leads"
            yield Change("windows", f"{text}.", rule.cited)
            return
    shape_was, shape_now = (w[0].height_m / w[0].width_m for w in (was, now))
    if differs(shape_was, shape_now, 0.04):
        squat, tall = rules()["window_squat"], rules()["window_tall"]
        text = (
            f"The lowest storey's windows go from {shape_was:.2f} to {shape_now:.2f} times as "
            f"high as wide; the books give {squat.value:.2f} to {tall.value:.2f}."
        )
        yield Change("windows", text, cited([squat.source, tall.source]))


def masking_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = len(columns_before_openings(a)), len(columns_before_openings(b))
    if was == now:
        return
    counted = f"{number_words(now)} {'opening stands' if now == 1 else 'openings stand'}"
    text = (
        f"{capital(counted)} behind a column, seen square on, where "
        f"{number_words(was) if was else 'none'} {'do' if was > 1 else 'does'} as drawn."
    )
    yield Change("masked", text, "common practice, no source")


_ROOFS = {
    "flat": "a flat roof",
    "hipped": "a hipped roof",
    "pediment": "a pediment",
    "gable": "a plain gable",
    "lean-to": "a lean-to roof",
    "main slope": "the main slope carried down over it",
}


def roof_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.roof, b.roof
    if was.form != now.form or differs(was.slope, now.slope):
        kinds = [f"a {r.form} roof of {12 * r.slope:.3g}:12" for r in (now, was)]
        yield Change("roof", f"The house has {kinds[0]} where it had {kinds[1]}.", OWN)


def covering_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.roof, b.roof
    if (was.covering, was.colour) != (now.covering, now.colour):
        kinds = [_covered(r.covering, r.colour) for r in (now, was)]
        if kinds[0] == kinds[1]:
            return
        yield Change("covering", f"The roof is {kinds[0]} where it was {kinds[1]}.", OWN)


def _covered(covering: str, colour: str) -> str:
    """A covering in words; only tiles and what has no covering of its own are coloured."""
    name = covering.replace("s tile", "S tile")
    return f"{name} in {colour}" if "tile" in covering or covering == "plain" else name


def wings_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = (sorted(w.side for w in d.house.wings) for d in (a, b))
    if was != now:
        said = f"The house has {_wings(now)} where it had {_wings(was)}."
        yield Change("wings", said, OWN)


def gables_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = (len([g for g in d.roof.gables if g.wall == "front"]) for d in (a, b))
    if was != now:
        counted = [
            f"{number_words(n) if n else 'no'} gable{'s' if n != 1 else ''}" for n in (now, was)
        ]
        text = f"The front has {counted[0]} of its own in the roof where it had {counted[1]}."
        yield Change("gables", text, OWN)


def _wings(sides: Sequence[WingSide]) -> str:
    beside = [side for side in sides if side != "front"]
    kinds = ["two wings" if len(beside) > 1 else f"one wing on the {side}" for side in beside[:1]]
    ahead = ["one wing before the front"] if len(beside) < len(sides) else []
    return " and ".join(kinds + ahead) or "no wings"


def walls_changed(a: Design, b: Design) -> Iterator[Change]:
    if a.house.walls != b.house.walls:
        text = f"The walls are {b.house.walls} where they were {a.house.walls}."
        yield Change("walls", text, OWN)


def bays_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = len(a.house.bay_centres_m), len(b.house.bay_centres_m)
    if was != now:
        text = f"The front has {number_words(now)} bays where it had {number_words(was)}."
        yield Change("bays", text, OWN)


def width_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.house.width_m, b.house.width_m
    if differs(was, now):
        text = (
            f"The house is {length_words(now, b.units)} wide where it was "
            f"{length_words(was, a.units)}."
        )
        yield Change("width", text, OWN)
