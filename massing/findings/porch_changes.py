"""What an alternative changes of the porch: columns, entablature, spacing, shadow and shape."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon import spacings, vitruvius
from massing.canon.sources import cited
from massing.design.design import Design
from massing.findings.change import (
    OWN,
    RULE_OF_SHADOW,
    SAME,
    Change,
    capital,
    differs,
    length_words,
    members_words,
    number_words,
    part_words,
    place_of,
    share_words,
    time_words,
)
from massing.findings.house_changes import _ROOFS
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.findings.porch_place import SEEN_M
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.practice.rules import rules
from massing.sun.position import SunTime

# --- what changed --------------------------------------------------------------------------


def columns_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = slenderness(a.porch.order), slenderness(b.porch.order)
    d_was, d_now = a.porch.order.diameter_m, b.porch.order.diameter_m
    before, after = members_words(a), members_words(b)
    if before == after and not differs(was, now) and not differs(d_was, d_now):
        return
    thick_was, thick_now = length_words(d_was, a.units), length_words(d_now, b.units)
    if before == after:
        text = (
            f"The {after} go from 1:{was:.1f} to 1:{now:.1f}, from {thick_was} to {thick_now} "
            f"{b.porch.order.diameter_at}"
        )
    else:
        text = (
            f"{capital(after)} of 1:{now:.1f}, {thick_now} {b.porch.order.diameter_at}, "
            f"stand where {before} of 1:{was:.1f} stood, {thick_was} wide"
        )
    stout, slender = rules()["slenderness_tuscan"], rules()["slenderness_corinthian"]
    limits = (stout.value, slender.value)
    span = f"Tuscan 1:{stout.value:.0f} to Corinthian 1:{slender.value:.0f}"
    place_was, place_now = place_of(was, *limits), place_of(now, *limits)
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


def entablature_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = entablature_ratio(a.porch.order), entablature_ratio(b.porch.order)
    h_was, h_now = a.porch.order.entablature_height_m, b.porch.order.entablature_height_m
    if not differs(was, now) and not differs(h_was, h_now):
        return
    least, most = rules()["entablature_least"], rules()["entablature_most"]
    verb = "deepens" if h_now > h_was else "is reduced"
    if not differs(was, now):
        text = (
            f"The entablature, {part_words(now)} of the column's height as before, {verb} "
            f"with it from {length_words(h_was, a.units)} to {length_words(h_now, b.units)}"
        )
    elif not differs(h_was, h_now):
        text = (
            f"The entablature stays {length_words(h_now, b.units)} deep, but is {part_words(now)} "
            f"of the column's height where it was {part_words(was)}"
        )
    else:
        text = (
            f"The entablature {verb} from {length_words(h_was, a.units)}, {part_words(was)} of the "
            f"column's height, to {length_words(h_now, b.units)}, {part_words(now)}"
        )
    place_was, place_now = (place_of(v, least.value, most.value) for v in (was, now))
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


def spacing_changed(a: Design, b: Design) -> Iterator[Change]:
    n_was, n_now = len(a.porch.axes_m), len(b.porch.axes_m)
    was, now = max(clear_intercolumniations(a)), max(clear_intercolumniations(b))
    if n_was == n_now and not differs(was, now, 0.04):
        return
    named, wide = spacings(), spacings()["araeostyle"].clear
    moves = "closes" if now < was else "opens"
    if n_was != n_now:
        lead = f"{capital(number_words(n_now))} across the front instead of {number_words(n_was)}: "
    else:
        lead = ""
    nearest = vitruvius.nearest_spacing(now)
    clear = named[nearest].clear
    if now > wide * (1.0 + SAME):
        tail = f", wider than any named spacing, even araeostyle ({wide:g})"
    else:
        tail = f", near {nearest} ({clear:g})"
        if was > wide * (1.0 + SAME):
            tail += "; as drawn it is wider than any named spacing"
    opening = (
        f"the widest clear spacing {moves} from {was:.1f} diameters to {now:.1f}"
        if differs(was, now, 0.04)
        else f"the widest clear spacing stays {now:.1f} diameters"
    )
    yield Change("spacing", f"{capital(lead + opening)}{tail}.", cited(named[nearest].source))


def shadow_changed(a: Design, b: Design, sun: SunTime | None) -> Iterator[Change]:
    was = None if sun is None else cornice_shadow_m(a, sun)
    now = None if sun is None else cornice_shadow_m(b, sun)
    if sun is None or was is None or now is None or not differs(was, now, 0.05):
        return
    order, moves = b.porch.order, "deepens" if now > was else "shrinks"
    out_was, out_now = (d.porch.order.cornice_projection_m for d in (a, b))
    below_m = order.frieze_height_m + order.architrave_height_m
    when = capital(time_words(sun))
    text = (
        f"{when} the cornice's shadow {moves} from {length_words(was, a.units)} to "
        f"{length_words(now, b.units)}, over {share_words(now / below_m)} of frieze and architrave"
    )
    if differs(out_was, out_now):
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
    yield Change("shadow", f"{text}.", RULE_OF_SHADOW)


_SHAPES = {
    "straight": "straight before the wall",
    "semicircular": "a half circle",
    "recessed": "recessed within the house, in antis",
}


def _stands(design: Design) -> str:
    """Where a porch's middle is, as one says it."""
    off = design.porch.centre_m
    if not off:
        return "in the front's middle"
    side = "right" if off > 0.0 else "left"
    bays = [abs(c - off) for c in design.house.bay_centres_m]
    at = f", before bay {bays.index(min(bays)) + 1}" if bays and min(bays) < SEEN_M else ""
    return f"{length_words(abs(off), design.units)} {side} of the front's middle{at}"


def porch_changed(a: Design, b: Design) -> Iterator[Change]:
    if a.porch.shape != b.porch.shape:
        was, now = _SHAPES[a.porch.shape], _SHAPES[b.porch.shape]
        yield Change("shape", f"The porch is {now}, where it was {was}.", OWN)
    if abs(a.porch.centre_m - b.porch.centre_m) > SEEN_M:
        was, now = _stands(a), _stands(b)
        yield Change("place", f"The porch stands {now}, where it stood {was}.", OWN)
    upper_was, upper_now = a.porch.upper, b.porch.upper
    if upper_now and not upper_was:
        d = upper_now.order.diameter_m
        text = (
            f"A second, lighter order stands on the first, its columns "
            f"{length_words(d, b.units)} {upper_now.order.diameter_at}."
        )
        yield Change("upper", text, OWN)
    elif upper_was and not upper_now:
        yield Change("upper", "One order alone carries the porch, where two stood.", OWN)


def crowning_changed(a: Design, b: Design) -> Iterator[Change]:
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
        yield Change("balustrade", "The porch goes without the balustrade over it.", OWN)
    if top_was.roof != top_now.roof:
        text = (
            f"The porch has {_ROOFS.get(top_now.roof, top_now.roof)} where it had "
            f"{_ROOFS.get(top_was.roof, top_was.roof)}."
        )
        yield Change("porch roof", text, OWN)


def depth_changed(a: Design, b: Design) -> Iterator[Change]:
    was, now = a.porch.depth_m, b.porch.depth_m
    if a.porch.shape == b.porch.shape and differs(was, now, 0.04):
        word = "deeper" if now > was else "shallower"
        text = (
            f"The porch is {word}, {length_words(now, b.units)} from wall to column axis instead "
            f"of {length_words(was, a.units)}."
        )
        yield Change("depth", text, OWN)
