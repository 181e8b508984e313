"""What an alternative changes against the design as drawn, and why, in plain sentences.

Each sentence is made from the two designs' figures and names its source. Three to six are
said: what changed, gravest for the eye first; where less than three things changed, what
stayed is said too. They inform; the designer judges.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from massing.canon import spacings, vitruvius
from massing.canon.sources import cited
from massing.design.design import Design
from massing.findings.change import (
    RULE_OF_SHADOW,
    Change,
    capital,
    length_words,
    members_words,
    part_words,
    telling_sun,
    time_words,
)
from massing.findings.house_changes import (
    bays_changed,
    covering_changed,
    gables_changed,
    masking_changed,
    roof_changed,
    walls_changed,
    width_changed,
    windows_changed,
    wings_changed,
)
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.findings.porch_changes import (
    columns_changed,
    crowning_changed,
    depth_changed,
    entablature_changed,
    porch_changed,
    shadow_changed,
    spacing_changed,
)
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.practice.rules import rules
from massing.sun.position import SunTime

LEAST, MOST = 3, 6


def changes(drawn: Design, design: Design, suns: Sequence[SunTime]) -> list[Change]:
    """Three to six sentences on what ``design`` changes against ``drawn``, and why.

    The shadow is spoken of at the most telling of ``suns``; see :func:`telling_sun`.
    """
    sun = telling_sun(suns)
    makers: list[Callable[[], Iterator[Change]]] = [
        lambda: columns_changed(drawn, design),
        lambda: entablature_changed(drawn, design),
        lambda: spacing_changed(drawn, design),
        lambda: shadow_changed(drawn, design, sun),
        lambda: porch_changed(drawn, design),
        lambda: roof_changed(drawn, design),
        lambda: walls_changed(drawn, design),
        lambda: wings_changed(drawn, design),
        lambda: gables_changed(drawn, design),
        lambda: windows_changed(drawn, design),
        lambda: masking_changed(drawn, design),
        lambda: crowning_changed(drawn, design),
        lambda: depth_changed(drawn, design),
        lambda: covering_changed(drawn, design),
        lambda: bays_changed(drawn, design),
        lambda: width_changed(drawn, design),
    ]
    said = [change for make in makers for change in make()][:MOST]
    kept = (change for change in _kept(design, sun) if change.key not in {c.key for c in said})
    while len(said) < LEAST and (more := next(kept, None)):
        said.append(more)
    return said


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
            f"{capital(time_words(sun))} the cornice's shadow stays "
            f"{length_words(depth_m, b.units)} deep{_eye(b, sun)}.",
            RULE_OF_SHADOW,
            kept=True,
        )
