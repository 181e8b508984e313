"""The alternatives against the design as drawn: what is better, what is worse, in short.

Sentences are made from the designs' figures and findings; they inform, the designer judges.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from massing.design.design import Design
from massing.findings.change import (
    length_words,
    members_words,
    number_words,
    part_words,
    telling_sun,
    time_words,
)
from massing.findings.finding import Finding
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.findings.report import findings
from massing.findings.shadow import cornice_shadow_m
from massing.sun.position import SunTime

_GRAVITY = {"check": 2, "note": 1}  # cautions are no matter of proportion

SUBJECTS = {
    "gave way": "what its rules had to give",
    "wide leaf": "the door's width",
    "door proportion": "the door's shape",
    "door pair": "the pair of doors",
    "doorway entablature": "the doorway's entablature",
    "doorway order": "the doorway's order",
    "even bays": "the middle of the front",
    "no middle bay": "the middle of the front",
    "porch off the bays": "where the porch stands",
    "porch off centre": "where the porch stands",
    "door off the porch": "the door behind the porch",
    "side porch without a door": "the doors to the side porches",
    "shallow side porch": "the side porches' depth",
    "narrow porte-cochere": "the way under the porte-cochere",
    "low porte-cochere": "the way under the porte-cochere",
    "side cornice off the front's": "the line of the porches' cornices",
    "wide wing": "the wings' width",
    "high wing": "the wings' height",
    "leading wing": "the wing before the front",
    "flush wing": "how far the wings stand back",
    "unlike wings": "the wings' likeness",
    "no graduation": "the windows from storey to storey",
    "tall windows": "the windows' shape",
    "squat windows": "the windows' shape",
    "masked openings": "openings behind columns",
    "mixed heads": "the openings' heads",
    "uneven heads": "the line of the windows' heads",
    "masonry heads": "the openings' heads",
    "shutters under an arch": "the shutters",
    "wide shutters": "the shutters",
    "shutters that do not close": "the shutters",
    "shutters on fixed glass": "the shutters",
    "hold-backs beside the leaf": "the shutters",
    "picture windows": "the windows' lights",
    "slender": "how slender the columns are",
    "stout": "how slender the columns are",
    "off canon": "how slender the columns are",
    "slender for spacing": "the columns' slenderness for their spacing",
    "fluted": "the flutes",
    "shallow entablature": "the entablature's depth",
    "deep entablature": "the entablature's depth",
    "diminution": "how the shafts diminish",
    "shallow architrave": "the architrave's depth",
    "upper order wide": "the upper order's thickness",
    "upper order stout": "the upper order's thickness",
    "steep pediment": "the pediment's pitch",
    "tile underlayment": "what lies under the tiles",
    "flat roof": "the fall of the porch's roof",
    "heavy dormers": "the dormers' weight",
    "dormers off the bays": "the dormers' places",
    "gable pitch": "the gables' pitch",
    "door of another time": "the front door's leaf",
    "carriage doors": "the carriage doors",
    "gable off the bays": "the gables' places",
    "many gables": "how many gables there are",
    "wide spacing": "how far apart the columns stand",
    "araeostyle": "how far apart the columns stand",
    "close spacing": "how far apart the columns stand",
    "couples": "the couples' spacing",
    "metopes": "the metopes",
    "arch proportion": "the arches' proportion",
    "slight piers": "the piers' breadth",
    "pier in the middle": "the middle of the front",
    "corner modillions": "the modillions' spacing",
    "balustrade height": "the balustrade's height",
    "stride": "the steps' stride",
}
"""What each question or note on proportion is about, by its key."""


def _subject(key: str) -> str:
    return SUBJECTS.get(key, key)


@dataclass(frozen=True)
class Compared:
    """A design against the one as drawn: subjects that are better, worse, and still in question."""

    better: tuple[str, ...]
    worse: tuple[str, ...]
    still: tuple[str, ...]


def compared(drawn: Design, design: Design) -> Compared:
    """What of a design's proportions is less in question than as drawn, what more, what as much.

    A subject is better where it was questioned and is only noted, or noted and no more spoken of.
    """
    was, now = _in_question(findings(drawn)), _in_question(findings(design))
    better = tuple(s for s in was if now.get(s, 0) < was[s])
    worse = tuple(s for s in now if now[s] > was.get(s, 0))
    return Compared(better, worse, tuple(s for s in now if now[s] == was.get(s)))


def _in_question(said: Iterable[Finding]) -> dict[str, int]:
    grave: dict[str, int] = {}
    for finding in said:
        if finding.severity in _GRAVITY:
            subject = _subject(finding.key)
            grave[subject] = max(grave.get(subject, 0), _GRAVITY[finding.severity])
    return grave


def three_sentences(designs: Sequence[Design], suns: Sequence[SunTime]) -> list[str]:
    """What a designer would say to a client of these designs: what is wrong as drawn, which
    alternative answers most of it, what the light shows.

    Args:
        designs: as drawn first.
        suns: the scene's, of which the most telling is spoken of.
    """
    return [_as_drawn(designs[0]), _answered(designs), _in_the_light(designs, telling_sun(suns))]


def _as_drawn(drawn: Design) -> str:
    keys = {f.key for f in findings(drawn) if f.severity == "check"}
    order, members = drawn.porch.order, members_words(drawn)
    clear, part = clear_intercolumniations(drawn), part_words(entablature_ratio(order))
    of_members = {
        "slender": f"are too thin for their height (1:{slenderness(order):.1f})",
        "wide spacing": f"stand too far apart ({max(clear):.1f} of their widths in the clear)",
        "close spacing": f"stand too close ({min(clear):.1f} of their widths in the clear)",
        "masked openings": "stand before openings",
    }
    of_others = {
        "shallow entablature": f"the entablature, {part} of their height, is too shallow to seem "
        "to carry anything",
        "no graduation": "no storey's windows lead",
    }
    said = [words for key, words in of_members.items() if key in keys]
    said = [f"the {members} {_listed(said)}"] if said else []
    said += [words for key, words in of_others.items() if key in keys]
    rest = dict.fromkeys(_subject(key) for key in keys - of_members.keys() - of_others.keys())
    if said:
        return f"As drawn {'; '.join(said)}."
    questions = f"; to look at again: {_listed(sorted(rest))}" if rest else ""
    return (
        f"As drawn the porch keeps within the canons: {members} of 1:{slenderness(order):.1f}, an "
        f"entablature of {part} of their height{questions}."
    )


def _answered(designs: Sequence[Design]) -> str:
    """Which alternatives leave the fewest questions of proportion, and which they leave."""
    drawn, *others = designs
    if not others:
        return "No alternative is drawn yet to set beside it."
    left = {d.name: _questions(d) for d in designs}
    before, least = len(left[drawn.name]), min(len(left[d.name]) for d in others)
    best = [d for d in others if len(left[d.name]) == least]
    alike = len({tuple(left[d.name]) for d in best}) == 1
    if least >= before:
        if len(best) == len(others) > 1:
            return "None of the alternatives leaves fewer questions than the design as drawn."
        which = f"{_listed([d.name for d in best])} {'leaves' if len(best) == 1 else 'leave'}"
        about = dict.fromkeys(subject for d in best for subject in left[d.name])
        tail = f" the fewest, {_listed(list(about))}" if about else " none either"
        return f"None of the alternatives answers a question left as drawn; {which}{tail}."
    if len(best) == 1:
        lead = "Most of that is answered by"
    else:
        lead = f"{'Both' if len(best) == 2 else _capital(number_words(len(best)))} answer it"
        lead += " alike:" if alike else " as far:"
    sizes = [
        f"{d.name}, {members_words(d)} of 1:{slenderness(d.porch.order):.1f} under an entablature "
        f"of {part_words(entablature_ratio(d.porch.order))}"
        for d in best[:3]
    ]
    if not alike:
        sizes = [
            f"{size}, with {_listed(left[d.name])} to look at"
            for size, d in zip(sizes, best[:3], strict=True)
        ]
        return f"{lead} {'; '.join(sizes)}."
    rest = left[best[0].name]
    tail = f"; to look at again: {_listed(rest)}" if rest else ""
    return f"{lead} {'; '.join(sizes)}{tail}."


def _questions(design: Design) -> list[str]:
    said = [f for f in findings(design) if f.severity == "check"]
    return list(dict.fromkeys(_subject(finding.key) for finding in said))


def _in_the_light(designs: Sequence[Design], sun: SunTime | None) -> str:
    drawn, *others = designs
    depths = {} if sun is None else {d.name: cornice_shadow_m(d, sun) for d in designs}
    was = depths.get(drawn.name)
    if sun is None or was is None:
        return "At none of the scene's hours does the sun stand on the front to show its cornice."
    when = _capital(time_words(sun))
    if not others:
        return f"{when} its cornice's shadow falls {length_words(was, drawn.units)} deep."
    deepest = max(others, key=lambda d: round(depths[d.name] or 0.0, 3))
    shallowest = min(others, key=lambda d: round(depths[d.name] or 0.0, 3))
    deep, shallow = (
        length_words(depths[d.name] or 0.0, drawn.units) for d in (deepest, shallowest)
    )
    among = (
        f"{deep} with {deepest.name} and {shallow} with {shallowest.name}"
        if deep != shallow
        else f"{deep} with {'every alternative' if len(others) > 1 else deepest.name}"
    )
    return (
        f"{when} the cornice's shadow, by which the eye measures its depth, falls {among}, where "
        f"as drawn it falls {length_words(was, drawn.units)}."
    )


def _listed(words: Sequence[str]) -> str:
    *rest, last = words
    return f"{', '.join(rest)} and {last}" if rest else last


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
