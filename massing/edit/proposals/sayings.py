"""What a proposal is called, and one sentence why it is among the few."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass

from massing.canon import spacings
from massing.design.design import Design
from massing.edit.proposals.kinds import Kind
from massing.edit.proposals.measures import MEASURES
from massing.edit.proposals.search import Found, Outcome
from massing.files import slug
from massing.findings.change import length_words, number_words
from massing.findings.measures import clear_intercolumniations, entablature_ratio, slenderness
from massing.scene.names import LONGEST_NAME

LETTERS = "ABCDEFGH"
_REACH = {"eaves": "to the eaves", "storey": "a storey high", "lower": "within the storey"}
_ROOF = {"pediment": "pediment", "hipped": "hipped roof"}
_GOODS, _BADS = 2, 2


@dataclass(frozen=True)
class Proposal:
    """One of the few.

    Attributes:
        letter: by which it is asked for.
        name: as an alternative would be called.
        found: its place and measures.
        design: it, with every dimension known.
        why: one sentence.
        like: how many of the front are of its kind, or nearest to it.
    """

    letter: str
    name: str
    found: Found
    design: Design
    why: str
    like: int


def proposals(outcome: Outcome, taken: Container[str] = ()) -> list[Proposal]:
    """The proposals of a search in words; ``taken`` are file names that no name may make."""
    made: list[Proposal] = []
    few = outcome.proposals
    names: set[str] = set()
    for letter, cluster, found in zip(LETTERS, outcome.clusters, few, strict=False):
        name = _name(found.kind, lambda each: slug(each) in names or slug(each) in taken)
        names.add(slug(name))
        design = outcome.begun.design(found.place, name)
        made.append(Proposal(letter, name, found, design, _why(found, few, design), cluster.size))
    return made


def _name(kind: Kind, is_taken: object) -> str:
    assert callable(is_taken)
    member = "piers" if kind.order == "pier" else f"{kind.order.title()} columns"
    name = f"{number_words(kind.columns).capitalize()} {member} {_REACH[kind.reach]}"
    more = [_ROOF.get(kind.roof, "balustrade" if kind.balustrade else "")]
    more += ["pedestals" * kind.pedestals, "returns" * bool(kind.side_columns)]
    for word in filter(None, more):
        longer = f"{name}, {word}"
        if len(longer) <= LONGEST_NAME - 4:
            name = longer
    plain, count = name, 1
    while is_taken(name):
        count += 1
        name = f"{plain} {count}"
    return name


def spacing_words(design: Design) -> str:
    """The spacing by its name, or between which it lies, and a wider middle."""
    gaps = clear_intercolumniations(design)
    least, most = min(gaps), max(gaps)
    named = {name: s.clear for name, s in spacings().items()}
    nearest = min(named, key=lambda name: abs(named[name] - least))
    word = nearest if abs(named[nearest] - least) < 0.06 else f"{least:.1f} diameters clear"
    return f"{word}, {most:.1f} before the door" if most > least + 0.06 else word


def _why(found: Found, few: Sequence[Found], design: Design) -> str:
    order, units = design.porch.order, design.units
    member = "piers" if order.square else "columns"
    share = entablature_ratio(order)
    what = (
        f"{spacing_words(design)}; {member} {length_words(order.diameter_m, units)} thick, "
        f"1:{slenderness(order):.1f}, under an entablature {share:.2f} of their height"
    )
    goods, bads = _best_and_worst(found, few, units)
    said = f"{what[:1].upper()}{what[1:]}"
    if goods:
        said += f": of these it has {_joined(goods)}"
    if bads:
        said += f"{'; ' if goods else ', '}the price is {_joined(bads)}"
    return f"{said}."


def _best_and_worst(found: Found, few: Sequence[Found], units: str) -> tuple[list[str], list[str]]:
    """What is said of the measures in which it does best and worst of the few, the rarest first."""
    good: list[tuple[int, int, str]] = []
    bad: list[tuple[int, int, str]] = []
    for i, measure in enumerate(MEASURES):
        own, all_of_it = found.values[i], [each.values[i] for each in few]
        low, high = min(all_of_it), max(all_of_it)
        near = 0.02 * (high - low)
        if high - low < 1e-6:
            continue
        written = measure.written(own, units)
        if own <= low + near:
            good.append((sum(v <= low + near for v in all_of_it), i, measure.good.format(written)))
        if own >= high - near and measure.written(own, units) != measure.written(low, units):
            bad.append((sum(v >= high - near for v in all_of_it), i, measure.bad.format(written)))
    return [w for *_, w in sorted(good)[:_GOODS]], [w for *_, w in sorted(bad)[:_BADS]]


def _joined(words: Sequence[str]) -> str:
    return " and ".join(words)
