"""What an alternative changes against the design as drawn, and why, in plain sentences.

Each sentence is made from the two designs' figures and names its source. Three to six are
said: what changed, gravest for the eye first; where less than three things changed, what
stayed is said too. They inform; the designer judges.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from massing.canon import spacings, vitruvius
from massing.canon.sources import cited
from massing.design.design import Design
from massing.findings.measures import (
    clear_intercolumniations,
    columns_before_openings,
    entablature_ratio,
    slenderness,
    windows_by_storey,
)
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.practice.rules import rules
from massing.sun.position import SunTime
from massing.units import INCH_M, format_feet_inches

LEAST, MOST = 3, 6
_SAME = 0.02  # departures under two per cent are not worth a word
_OWN = "the designs' own figures"
_RULE_OF_SHADOW = "profile angle, ASHRAE Fundamentals, Fenestration; sun by NREL's algorithm"
_NUMBERS = "no one two three four five six seven eight nine ten eleven twelve".split()


@dataclass(frozen=True)
class Change:
    """One plain sentence on what an alternative changes, or keeps.

    Attributes:
        key: a stable name.
        text: the sentence.
        source: whose rule or measure it speaks by.
        kept: it says what stayed as drawn.
    """

    key: str
    text: str
    source: str
    kept: bool = False


def changes(drawn: Design, design: Design, suns: Sequence[SunTime]) -> list[Change]:
    """Three to six sentences on what ``design`` changes against ``drawn``, and why.

    The shadow is spoken of at the most telling of ``suns``; see :func:`telling_sun`.
    """
    sun = telling_sun(suns)
    makers: list[Callable[[], Iterator[Change]]] = [
        lambda: _columns(drawn, design),
        lambda: _entablature(drawn, design),
        lambda: _spacing(drawn, design),
        lambda: _shadow(drawn, design, sun),
        lambda: _porch(drawn, design),
        lambda: _main_roof(drawn, design),
        lambda: _walls(drawn, design),
        lambda: _wings(drawn, design),
        lambda: _windows(drawn, design),
        lambda: _masked(drawn, design),
        lambda: _crowning(drawn, design),
        lambda: _depth(drawn, design),
        lambda: _covering(drawn, design),
        lambda: _bays(drawn, design),
        lambda: _width(drawn, design),
    ]
    said = [change for make in makers for change in make()][:MOST]
    kept = (change for change in _kept(design, sun) if change.key not in {c.key for c in said})
    while len(said) < LEAST and (more := next(kept, None)):
        said.append(more)
    return said


def telling_sun(suns: Sequence[SunTime]) -> SunTime | None:
    """The sun that shows a cornice best: on the front, its profile angle nearest to 45 degrees,
    at which a shadow is as deep as what throws it stands out (the draughtsman's convention)."""
    on_front = [sun for sun in suns if sun.profile_angle_deg is not None]
    return min(on_front, key=lambda s: abs((s.profile_angle_deg or 0.0) - 45.0), default=None)


# --- words ---------------------------------------------------------------------------------


def time_words(sun: SunTime) -> str:
    """A sun's time as it is spoken.

    Beside a named day the day's name stands, else its date.
    """
    if sun.when is None:
        return "in the draughtsman's light, at 45°"
    hour, minute = sun.when.hour, sun.when.minute
    part = "in the morning" if hour < 12 else "in the afternoon" if hour < 18 else "in the evening"
    named = re.search(r"(?:\w+ )?(?:equinox|solstice)", sun.label)
    day = f"at the {named[0]}" if named else f"on {sun.when.day} {sun.when:%B}"
    if (hour, minute) in ((12, 0), (0, 0)):
        return f"at {'noon' if hour else 'midnight'} {day}"
    return f"at {clock_words(hour, minute)} {part} {day}"


def clock_words(hour: int, minute: int) -> str:
    """A clock time in words where it falls on a quarter, else in figures.

    >>> clock_words(10, 30), clock_words(16, 45), clock_words(12, 0), clock_words(9, 20)
    ('half past ten', 'a quarter to five', "twelve o'clock", '9:20')
    """
    this, following = (_NUMBERS[(h - 1) % 12 + 1] for h in (hour, hour + 1))
    spoken = {
        0: f"{this} o'clock",
        15: f"a quarter past {this}",
        30: f"half past {this}",
        45: f"a quarter to {following}",
    }
    return spoken.get(minute, f"{(hour - 1) % 12 + 1}:{minute:02d}")


def length_words(length_m: float, units: str) -> str:
    """A length as a sentence has it: to a quarter of an inch, or to 5 mm.

    >>> length_words(0.2873, "feet"), length_words(0.2873, "metric"), length_words(5.4864, "metric")
    ('11 1/4"', '285 mm', '5.49 m')
    """
    if units == "metric":
        millimetres = 5 * round(length_m / 0.005)
        return f"{millimetres} mm" if abs(length_m) < 1.0 else f"{length_m:.2f} m"
    inches = length_m / INCH_M
    return format_feet_inches(length_m, 4 if abs(inches) < 24.0 else 2)


def number_words(count: int) -> str:
    """A small number in words.

    >>> number_words(6), number_words(14)
    ('six', '14')
    """
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def part_words(ratio: float) -> str:
    """A share as one part of so many: ``a quarter``, ``1/15``, ``1/4.2``."""
    parts = 1.0 / ratio
    near = abs(parts - round(parts)) < 0.05
    words = {3: "a third", 4: "a quarter", 5: "a fifth", 6: "a sixth"}
    return words.get(round(parts), f"1/{parts:.0f}") if near else f"1/{parts:.1f}"


def _share_words(share: float) -> str:
    """How much of a height a shadow covers, in words."""
    names = {
        0.1: "a tenth", 0.2: "a fifth", 0.25: "a quarter", 1 / 3: "a third", 0.4: "two fifths",
        0.5: "half", 0.6: "three fifths", 2 / 3: "two thirds", 0.75: "three quarters",
        0.9: "nine tenths",
    }  # fmt: skip
    if share >= 0.97:
        return "the whole"
    near = min(names, key=lambda value: abs(value - share))
    return f"about {names[near]}" if share > 0.07 else "hardly any"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def members_words(design: Design) -> str:
    """What stands in the porch: ``piers``, ``Doric columns``."""
    order = design.porch.order
    return "piers" if order.square else f"{order.order.title()} columns"


def _differs(a: float, b: float, least: float = _SAME) -> bool:
    return abs(a - b) > least * max(abs(a), abs(b), 1e-9)


# --- what changed --------------------------------------------------------------------------


def _columns(a: Design, b: Design) -> Iterator[Change]:
    was, now = slenderness(a.porch.order), slenderness(b.porch.order)
    d_was, d_now = a.porch.order.diameter_m, b.porch.order.diameter_m
    before, after = members_words(a), members_words(b)
    if before == after and not _differs(was, now) and not _differs(d_was, d_now):
        return
    thick_was, thick_now = length_words(d_was, a.units), length_words(d_now, b.units)
    if before == after:
        text = (
            f"The {after} go from 1:{was:.1f} to 1:{now:.1f}, from {thick_was} to {thick_now} "
            f"{b.porch.order.diameter_at}"
        )
    else:
        text = (
            f"{_capital(after)} of 1:{now:.1f}, {thick_now} {b.porch.order.diameter_at}, "
            f"stand where {before} of 1:{was:.1f} stood, {thick_was} wide"
        )
    stout, slender = rules()["slenderness_tuscan"], rules()["slenderness_corinthian"]
    limits = (stout.value, slender.value)
    span = f"Tuscan 1:{stout.value:.0f} to Corinthian 1:{slender.value:.0f}"
    place_was, place_now = _place(was, *limits), _place(now, *limits)
    if place_now:
        word = "slenderer" if place_now > 0 else "stouter"
        text += f"; still {word}" if place_was == place_now else f"; {word}"
        text += f" than any of the orders ({span})"
    elif place_was:
        word = "slenderer" if place_was > 0 else "stouter"
        text += f": as drawn the {before} are {word} than any of the orders ({span})"
    else:
        text += f", within the orders' range ({span})"
    yield Change("columns", f"{text}.", stout.cited)


def _place(value: float, least: float, most: float) -> int:
    """-1 below, 0 within, 1 above a range, to two per cent."""
    return -1 if value < least / (1.0 + _SAME) else int(value > most * (1.0 + _SAME))


def _entablature(a: Design, b: Design) -> Iterator[Change]:
    was, now = entablature_ratio(a.porch.order), entablature_ratio(b.porch.order)
    h_was, h_now = a.porch.order.entablature_height_m, b.porch.order.entablature_height_m
    if not _differs(was, now) and not _differs(h_was, h_now):
        return
    least, most = rules()["entablature_least"], rules()["entablature_most"]
    verb = "deepens" if h_now > h_was else "is reduced"
    if not _differs(was, now):
        text = (
            f"The entablature, {part_words(now)} of the column's height as before, {verb} "
            f"with it from {length_words(h_was, a.units)} to {length_words(h_now, b.units)}"
        )
    elif not _differs(h_was, h_now):
        text = (
            f"The entablature stays {length_words(h_now, b.units)} deep, but is {part_words(now)} "
            f"of the column's height where it was {part_words(was)}"
        )
    else:
        text = (
            f"The entablature {verb} from {length_words(h_was, a.units)}, {part_words(was)} of the "
            f"column's height, to {length_words(h_now, b.units)}, {part_words(now)}"
        )
    place_was, place_now = (_place(v, least.value, most.value) for v in (was, now))
    if place_now < 0:
        text += "; less than the canons' fifth, it seems too shallow to carry"
    elif place_now > 0:
        text += "; more than the canons' quarter"
    elif place_was < 0:
        text += ": the canons give a fifth to a quarter, and less seems too shallow to carry"
    elif place_was > 0:
        text += ": the canons give a fifth to a quarter, and more seems heavy"
    else:
        text += ", within the canons' fifth to a quarter"
    yield Change("entablature", f"{text}.", cited([most.source, least.source]))


def _spacing(a: Design, b: Design) -> Iterator[Change]:
    n_was, n_now = len(a.porch.axes_m), len(b.porch.axes_m)
    was, now = max(clear_intercolumniations(a)), max(clear_intercolumniations(b))
    if n_was == n_now and not _differs(was, now, 0.04):
        return
    named, wide = spacings(), spacings()["araeostyle"].clear
    moves = "closes" if now < was else "opens"
    if n_was != n_now:
        lead = (
            f"{_capital(number_words(n_now))} across the front instead of {number_words(n_was)}: "
        )
    else:
        lead = ""
    nearest = vitruvius.nearest_spacing(now)
    clear = named[nearest].clear
    if now > wide * (1.0 + _SAME):
        tail = f", wider than any named spacing, even araeostyle ({wide:g})"
    else:
        tail = f", near {nearest} ({clear:g})"
        if was > wide * (1.0 + _SAME):
            tail += "; as drawn it is wider than any named spacing"
    opening = (
        f"the widest clear spacing {moves} from {was:.1f} diameters to {now:.1f}"
        if _differs(was, now, 0.04)
        else f"the widest clear spacing stays {now:.1f} diameters"
    )
    yield Change("spacing", f"{_capital(lead + opening)}{tail}.", cited(named[nearest].source))


def _shadow(a: Design, b: Design, sun: SunTime | None) -> Iterator[Change]:
    was = None if sun is None else cornice_shadow_m(a, sun)
    now = None if sun is None else cornice_shadow_m(b, sun)
    if sun is None or was is None or now is None or not _differs(was, now, 0.05):
        return
    order, moves = b.porch.order, "deepens" if now > was else "shrinks"
    out_was, out_now = (d.porch.order.cornice_projection_m for d in (a, b))
    below_m = order.frieze_height_m + order.architrave_height_m
    when = _capital(time_words(sun))
    text = (
        f"{when} the cornice's shadow {moves} from {length_words(was, a.units)} to "
        f"{length_words(now, b.units)}, over {_share_words(now / below_m)} of frieze and architrave"
    )
    if _differs(out_was, out_now):
        text += (
            f": the cornice stands out {length_words(out_now, b.units)} instead of "
            f"{length_words(out_was, a.units)}"
        )
    eye_was, eye_now = (shadow_under_corona(d, sun) for d in (a, b))
    if eye_was is not None and eye_now is not None:
        text += (
            f". From the corona's edge down it is {length_words(eye_now.depth_m, b.units)} deep "
            f"where it was {length_words(eye_was.depth_m, a.units)}"
        )
    yield Change("shadow", f"{text}.", _RULE_OF_SHADOW)


_SHAPES = {
    "straight": "straight before the wall",
    "semicircular": "a half circle",
    "recessed": "recessed within the house, in antis",
}


def _porch(a: Design, b: Design) -> Iterator[Change]:
    if a.porch.shape != b.porch.shape:
        was, now = _SHAPES[a.porch.shape], _SHAPES[b.porch.shape]
        yield Change("shape", f"The porch is {now}, where it was {was}.", _OWN)
    upper_was, upper_now = a.porch.upper, b.porch.upper
    if upper_now and not upper_was:
        d = upper_now.order.diameter_m
        text = (
            f"A second, lighter order stands on the first, its columns "
            f"{length_words(d, b.units)} {upper_now.order.diameter_at}."
        )
        yield Change("upper", text, _OWN)
    elif upper_was and not upper_now:
        yield Change("upper", "One order alone carries the porch, where two stood.", _OWN)


def _windows(a: Design, b: Design) -> Iterator[Change]:
    was, now = windows_by_storey(a), windows_by_storey(b)
    if not was or not now:
        return
    rule = rules()["upper_storey"]
    if len(was) > 1 and len(now) > 1:
        ratio_was = was[1].height_m / was[0].height_m
        ratio_now = now[1].height_m / now[0].height_m
        if _differs(ratio_was, ratio_now, 0.04):
            heights = [length_words(w.height_m, b.units) for w in (*now[:2], *was[:2])]
            before = (
                f"both were {heights[2]}"
                if abs(ratio_was - 1.0) < _SAME
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
    if _differs(shape_was, shape_now, 0.04):
        squat, tall = rules()["window_squat"], rules()["window_tall"]
        text = (
            f"The lowest storey's windows go from {shape_was:.2f} to {shape_now:.2f} times as "
            f"high as wide; the books give {squat.value:.2f} to {tall.value:.2f}."
        )
        yield Change("windows", text, cited([squat.source, tall.source]))


def _masked(a: Design, b: Design) -> Iterator[Change]:
    was, now = len(columns_before_openings(a)), len(columns_before_openings(b))
    if was == now:
        return
    counted = f"{number_words(now)} {'opening stands' if now == 1 else 'openings stand'}"
    text = (
        f"{_capital(counted)} behind a column, seen square on, where "
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


def _crowning(a: Design, b: Design) -> Iterator[Change]:
    top_was, top_now = a.porch.highest, b.porch.highest
    least, most = rules()["balustrade_least"], rules()["balustrade_most"]
    rail_was, rail_now = top_was.balustrade, top_now.balustrade
    if rail_now and not rail_was:
        share = rail_now.height_m / top_now.order.entablature_height_m
        kind = "parapet" if rail_now.filling == "parapet" else "balustrade"
        text = (
            f"A {kind} of {length_words(rail_now.height_m, b.units)} crowns the porch, {share:.2f} "
            f"of the entablature's height (the books have {least.written} to {most.written})."
        )
        yield Change("balustrade", text, cited([most.source, least.source]))
    elif rail_was and not rail_now:
        yield Change("balustrade", "The porch goes without the balustrade over it.", _OWN)
    if top_was.roof != top_now.roof:
        text = (
            f"The porch has {_ROOFS.get(top_now.roof, top_now.roof)} where it had "
            f"{_ROOFS.get(top_was.roof, top_was.roof)}."
        )
        yield Change("porch roof", text, _OWN)


def _depth(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.porch.depth_m, b.porch.depth_m
    if a.porch.shape == b.porch.shape and _differs(was, now, 0.04):
        word = "deeper" if now > was else "shallower"
        text = (
            f"The porch is {word}, {length_words(now, b.units)} from wall to column axis instead "
            f"of {length_words(was, a.units)}."
        )
        yield Change("depth", text, _OWN)


def _main_roof(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.roof, b.roof
    if was.form != now.form or _differs(was.slope, now.slope):
        kinds = [f"a {r.form} roof of {12 * r.slope:.3g}:12" for r in (now, was)]
        yield Change("roof", f"The house has {kinds[0]} where it had {kinds[1]}.", _OWN)


def _covering(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.roof, b.roof
    if (was.covering, was.colour) != (now.covering, now.colour):
        kinds = [_covered(r.covering, r.colour) for r in (now, was)]
        if kinds[0] == kinds[1]:
            return
        yield Change("covering", f"The roof is {kinds[0]} where it was {kinds[1]}.", _OWN)


def _covered(covering: str, colour: str) -> str:
    """A covering in words; only tiles and what has no covering of its own are coloured."""
    name = covering.replace("s tile", "S tile")
    return f"{name} in {colour}" if "tile" in covering or covering == "plain" else name


def _wings(a: Design, b: Design) -> Iterator[Change]:
    was, now = (sorted(wing.side for wing in d.house.wings) for d in (a, b))
    if was != now:
        kinds = [
            "no wings" if not w else "two wings" if len(w) > 1 else f"one wing on the {w[0]}"
            for w in (now, was)
        ]
        yield Change("wings", f"The house has {kinds[0]} where it had {kinds[1]}.", _OWN)


def _walls(a: Design, b: Design) -> Iterator[Change]:
    if a.house.walls != b.house.walls:
        text = f"The walls are {b.house.walls} where they were {a.house.walls}."
        yield Change("walls", text, _OWN)


def _bays(a: Design, b: Design) -> Iterator[Change]:
    was, now = len(a.house.bay_centres_m), len(b.house.bay_centres_m)
    if was != now:
        text = f"The front has {number_words(now)} bays where it had {number_words(was)}."
        yield Change("bays", text, _OWN)


def _width(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.house.width_m, b.house.width_m
    if _differs(was, now):
        text = (
            f"The house is {length_words(now, b.units)} wide where it was "
            f"{length_words(was, a.units)}."
        )
        yield Change("width", text, _OWN)


def _eye(design: Design, sun: SunTime) -> str:
    under = shadow_under_corona(design, sun)
    if under is None:
        return ""
    return f", {length_words(under.depth_m, design.units)} from the corona's edge down"


# --- what stayed ---------------------------------------------------------------------------


def _kept(b: Design, sun: SunTime | None) -> Iterator[Change]:
    order = b.porch.order
    thick = length_words(order.diameter_m, b.units)
    stout, most = rules()["slenderness_tuscan"], rules()["entablature_most"]
    yield Change(
        "columns",
        f"The {members_words(b)} stay as drawn: 1:{slenderness(b.porch.order):.1f}, {thick} "
        f"{'wide' if order.square else order.diameter_at}.",
        stout.cited,
        kept=True,
    )
    yield Change(
        "entablature",
        f"The entablature stays {length_words(order.entablature_height_m, b.units)} high, "
        f"{part_words(entablature_ratio(b.porch.order))} of the column's height.",
        most.cited,
        kept=True,
    )
    clear = max(clear_intercolumniations(b))
    yield Change(
        "spacing",
        f"The widest clear spacing stays {clear:.1f} diameters.",
        cited(spacings()[vitruvius.nearest_spacing(clear)].source),
        kept=True,
    )
    depth_m = None if sun is None else cornice_shadow_m(b, sun)
    if sun is not None and depth_m is not None:
        yield Change(
            "shadow",
            f"{_capital(time_words(sun))} the cornice's shadow stays "
            f"{length_words(depth_m, b.units)} deep{_eye(b, sun)}.",
            _RULE_OF_SHADOW,
            kept=True,
        )
