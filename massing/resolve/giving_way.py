"""Defaults that give way: a design is refused only for what was typed.

A rule's value is a first proposal. Where a scene cannot be built with it, the nearest other value
that builds takes its place, and its origin says so; where none does, what was typed clashes, and
the refusal names typed fields with the smallest change of each that would fit.

One search does both. It tries the resolver again and again with some fields set: for each
refusal the fields that :mod:`massing.resolve.ways` says could clear it, first a little off their
rule, then further, the least departure in all first. What is found at a coarse step is then
brought back towards the rule as near as it still stands.
"""

from __future__ import annotations

import heapq
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import count
from math import ceil, floor, inf, log
from typing import Any

from pydantic import BaseModel

from massing.design.design import Design
from massing.resolve.ways import DOWN, UP, Path, Way, ways_to_clear
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Scene, Window
from massing.units import INCH_M, format_length, in_system

MOST_TRIALS = 130  # of one scene, of its defaults: a millisecond or three each
MOST_TRIALS_TYPED = 110  # more, to find changes of what is typed
_TO_BRING_BACK = 40  # more, to bring what was found back towards its rules
MOST_TYPED = 4  # typed fields whose change is told
_FRACTIONS_M = {"feet": (INCH_M / 4.0, INCH_M / 16.0), "metric": (0.005, 0.001)}
_HALVINGS, _HALVINGS_TYPED = 6, 10
_WORD = 0.7  # what another word than the rule's weighs, against a length's share
_NONE = 0.5  # a count of none is as far from its rule as a half would be


Resolver = Callable[[Scene, Origins], Design]
Lines = Mapping[tuple[Any, ...], int]


@dataclass(frozen=True)
class _Trial:
    """What came of resolving a scene with some fields set."""

    design: Design | None
    refusal: DesignError | None
    origins: Origins

    @property
    def fault(self) -> str:
        """The refusal without its numbers, to tell one from another."""
        if self.refusal is None:
            return ""
        return self.refusal.field + re.sub(r"[\d./'\" -]+", " ", self.refusal.allowed)


@dataclass
class _Search:
    """Trials of one scene, kept by what was set."""

    scene: Scene
    lines: Lines
    resolver: Resolver
    left: int = MOST_TRIALS
    kept: dict[tuple[tuple[Path, Any], ...], _Trial] = field(default_factory=dict)

    def tried(self, changes: Mapping[Path, Any]) -> _Trial:
        """The scene resolved with fields set."""
        key = tuple(sorted(((p, _hashable(v)) for p, v in changes.items()), key=repr))
        if key not in self.kept:
            self.left -= 1
            origins = Origins(self.lines, self.scene.units)
            try:
                design = self.resolver(changed(self.scene, changes), origins)
                self.kept[key] = _Trial(design, None, origins)
            except DesignError as refusal:
                self.kept[key] = _Trial(None, refusal, origins)
            except ValueError:
                if not changes:
                    raise
                # A value of ours, far from its rule, that a resolver has no words for.
                self.kept[key] = _Trial(None, DesignError("", "", ""), origins)
        return self.kept[key]

    def spare(self, trials: int) -> bool:
        """Whether so many trials are left."""
        return self.left >= trials


def with_defaults_giving_way(scene: Scene, lines: Lines, resolver: Resolver) -> Design:
    """The design, its defaults as the rules have them or as near as they can be built.

    Args:
        scene: the validated fields.
        lines: line of each field in the scene file.
        resolver: makes the design of a scene as it stands, noting origins.

    Raises:
        DesignError: what is typed cannot stand together.
    """
    search = _Search(scene, lines, resolver)
    first = search.tried({})
    if first.design is not None:
        return first.design
    assert first.refusal is not None
    found = _given_way(search, {})
    if found is not None:
        return _noted(search, _brought_back(search, found))
    clash = _clash(search, first.refusal)
    given, allowed = (in_system(text, scene.units) for text in (clash.given, clash.allowed))
    raise DesignError(clash.field, given, allowed)


# --- the search ------------------------------------------------------------------------------


def _given_way(search: _Search, typed: Mapping[Path, Any]) -> dict[Path, Any] | None:
    """Untyped fields set so that the scene builds, with the least departure; None if none do.

    ``typed`` are changes of typed fields that are held while it searches.
    """
    order = count()
    queue: list[tuple[float, int, dict[Path, Any]]] = [(0.0, next(order), dict(typed))]
    seen: set[tuple[str, ...]] = set()
    best: tuple[float, dict[Path, Any]] | None = None
    while queue and search.spare(1):
        least, _, changes = heapq.heappop(queue)
        if best is not None and least >= best[0]:
            break
        trial = search.tried(changes)
        for weight, further in _steps(search, changes, trial, typed, best[0] if best else inf):
            if search.tried(further).design is not None:
                if best is None or weight < best[0]:
                    best = weight, further
                continue
            name = tuple(sorted(f"{p}{v}" for p, v in further.items()))
            if name not in seen:
                seen.add(name)
                heapq.heappush(queue, (weight, next(order), further))
    return None if best is None else best[1]


def _steps(
    search: _Search,
    changes: dict[Path, Any],
    trial: _Trial,
    held: Mapping[Path, Any],
    most: float,
) -> Iterator[tuple[float, dict[Path, Any]]]:
    """Each way that brings a trial to another refusal, or past them all, with its whole weight.

    Nothing that would weigh ``most`` or more is tried.
    """
    assert trial.refusal is not None
    if not trial.refusal.field:
        return
    base = search.tried(dict(held)).origins
    for path, way in ways_to_clear(search.scene, trial.refusal.field, _notes(trial)):
        if path in held or _is_typed(search.scene, path):
            continue
        for run in _values(way, path, search.scene, base, trial.origins, changes.get(path)):
            for value in run:
                if not search.spare(1):
                    return
                further = {**changes, path: value}
                weight = _weight(search, further, base, trial.origins)
                if weight >= most:
                    break
                tried = search.tried(further)
                if tried.refusal is not None and not tried.refusal.field:
                    continue  # no words for this value: a further one may have them
                if tried.fault != trial.fault:
                    most = weight if tried.design is not None else most
                    yield weight, further
                    break


def _values(
    way: Way, path: Path, scene: Scene, base: Origins, now: Origins, at: Any
) -> list[list[Any]]:
    """Runs of values to try, each from near the rule's away from it."""
    if way.words:
        return [[word] for word in way.words if word != value_at(scene, path)]
    rule = _rule_value(path, scene, base, now)
    if rule is None:
        return []
    if way.whole:
        least, most = int(way.least), int(way.most)
        ordered = sorted(range(least, most + 1), key=lambda n: (abs(n - rule), n))
        return [[n] for n in ordered if n != rule and n != at]
    lower, higher = [], []
    for share in DOWN:
        if share >= way.least and (at is None or share * rule < at - 1e-9 or at > rule):
            lower.append(share * rule)
    for share in UP:
        if share <= way.most and (at is None or share * rule > at + 1e-9 or at < rule):
            higher.append(share * rule)
    return [lower, higher]


def _rule_value(path: Path, scene: Scene, *origins: Origins) -> float | None:
    """What the rule gives for a field, where the resolver has come so far."""
    for each in origins:
        note = each.notes.get(".".join(map(str, path)))
        if note is not None and note.value is not None:
            return note.value
    if path[:2] == ("house", "wings") and path[-2:] == ("roof", "pitch"):
        return _rule_value(("roof", "pitch"), scene, *origins)  # as the main roof's
    value = value_at(scene, path)
    plain = isinstance(value, (int, float)) and not isinstance(value, bool)
    return float(value) if plain else None


def _weight(search: _Search, changes: Mapping[Path, Any], base: Origins, now: Origins) -> float:
    """How far some fields are from what their rules would give."""
    total = 0.0
    for path, value in changes.items():
        rule = _rule_value(path, search.scene, base, now)
        number = isinstance(value, (int, float)) and not isinstance(value, bool)
        if number and rule is not None and rule > 0.0 and value >= 0.0:
            total += 0.1 + abs(log((value or _NONE) / rule))
        else:
            total += _WORD
    return total


def _brought_back(search: _Search, changes: dict[Path, Any]) -> dict[Path, Any]:
    """The same changes, each as near its rule as the scene still builds, in even fractions."""
    search.left = _TO_BRING_BACK
    base = search.tried({}).origins
    for path in list(changes):
        without = {p: v for p, v in changes.items() if p != path}
        if search.tried(without).design is not None:
            changes = without
    for path in list(changes):
        rule = _rule_value(path, search.scene, base, search.tried(changes).origins)
        if rule is None or not isinstance(changes[path], float):
            continue
        stands = partial(_builds, search, changes, path)
        changes = {**changes, path: _nearest(search, stands, path, rule, changes[path])}
    return changes


def _builds(search: _Search, changes: Mapping[Path, Any], path: Path, value: float) -> bool:
    return search.tried({**changes, path: value}).design is not None


def _nearest(
    search: _Search, builds: Callable[[float], bool], path: Path, rule: float, good: float
) -> float:
    """The value nearest ``rule`` with which all builds, in the coarsest fraction that does."""
    bad = rule
    is_typed = _is_typed(search.scene, path)
    for _ in range(_HALVINGS_TYPED if is_typed else _HALVINGS):
        middle = (bad + good) / 2.0
        bad, good = (bad, middle) if builds(middle) else (middle, good)
    if path[-1] in ("pitch", "roof_pitch", "lower_pitch"):
        return good
    steps = _FRACTIONS_M[search.scene.units]
    for step in steps[1:] if is_typed else steps:
        even = step * (floor(good / step + 1e-6) if good < rule else ceil(good / step - 1e-6))
        if even > 0.0 and builds(even):
            return even
    return good


# --- what is said ----------------------------------------------------------------------------


def _noted(search: _Search, changes: Mapping[Path, Any]) -> Design:
    """The design found, with a word at each field that gave way: from what, and why."""
    design, why = search.tried(changes).design, search.tried({}).refusal
    assert design is not None
    assert why is not None
    base = search.tried({}).origins
    origins = dict(design.origins)
    for path, value in changes.items():
        name = ".".join(map(str, path))
        others = {p: v for p, v in changes.items() if p != path}
        against = search.tried(others).refusal or why
        rule = _rule_value(path, search.scene, base, search.tried(others).origins)
        was = _said(search.scene, path, rule if rule is not None else _word_by_rule(search, path))
        own = origins.get(name)
        said = own.written if own is not None else _said(search.scene, path, value)
        if own is None:
            search.tried(changes).origins.say(name, said)
            own = search.tried(changes).origins.notes[name]
        source = f"gives way from {was} by rule: {_sentence(against)}"
        origins[name] = replace(own, written=said, source=source, instead_of=was)
    return replace(design, origins=origins)


def _sentence(refusal: DesignError) -> str:
    """Why a rule's value cannot stand, as it would have been refused."""
    return f"{_shown(_parsed(refusal.field))}, {refusal.given}; allowed: {refusal.allowed}"


def _word_by_rule(search: _Search, path: Path) -> Any:
    note = search.tried({}).origins.notes.get(".".join(map(str, path)))
    return note.written if note is not None else value_at(search.scene, path)


def _said(scene: Scene, path: Path, value: Any) -> str:
    """A field's value as the scene's writer would have it."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (str, int)):
        return str(value)
    if isinstance(value, BaseModel):
        return "a group of fields"
    if isinstance(value, (list, tuple)):
        return ", ".join(_said(scene, path, each) for each in value)
    if path[-1] in ("pitch", "roof_pitch", "lower_pitch"):
        return f"{12.0 * value:.4g}:12"
    if path[-1] in ("columns", "bays", "side_bays", "count", "side_columns"):
        return f"{value:g}"
    return format_length(value, scene.units)


def _clash(search: _Search, refusal: DesignError) -> DesignError:
    """The refusal as one of typed fields, with the smallest change of each that would fit."""
    found = list(_smallest_changes(search, refusal))
    own = _parsed(refusal.field)
    others = [(path, text) for path, text in found if path != own]
    if _is_typed(search.scene, own):
        fits = [(path, text) for path, text in found if path == own] + others
        return _told(search, refusal.field, refusal.given, refusal.allowed, fits)
    if others:
        path, text = others[0]
        typed = _said(search.scene, path, value_at(search.scene, path))
        given = f"{typed}, with which {_shown(own)} is {refusal.given}"
        return _told(search, _dotted(path), given, text, others[1:])
    behind = _behind(search)
    if behind is not None:
        return behind
    path = _leaf_of(search.scene, _nearest_typed(search.scene, own), refusal)
    typed = _said(search.scene, path, value_at(search.scene, path))
    given = f"{typed}, with which {_shown(own)} is {refusal.given}"
    return DesignError(_dotted(path), given, f"what leaves {_shown(own)} {refusal.allowed}")


def _behind(search: _Search) -> DesignError | None:
    """What is typed and was refused alike whichever way the first refusal was cleared; or None.

    It clashes by itself, and the first refusal only hid it.
    """
    met = Counter(
        (trial.refusal.field, trial.refusal.given, trial.refusal.allowed)
        for changes, trial in search.kept.items()
        if trial.refusal is not None
        and trial.refusal.field
        and _is_typed(search.scene, _parsed(trial.refusal.field))
        and not any(_is_typed(search.scene, path) for path, _ in changes)
    )
    most = met.most_common(1)
    return DesignError(*most[0][0]) if most and most[0][1] > 1 else None


def _told(
    search: _Search, name: str, given: str, allowed: str, fits: list[tuple[Path, str]]
) -> DesignError:
    said = []
    for path, text in fits[:MOST_TYPED]:
        line = search.lines.get(path)
        said.append(f"{_shown(path)} {text}" + (f" (line {line})" if line else ""))
    tail = f"; fits with {' or '.join(said)}" if said else ""
    return DesignError(name, given, allowed + tail)


def _smallest_changes(search: _Search, refusal: DesignError) -> Iterator[tuple[Path, str]]:
    """Typed fields, and the value nearest what is typed with which all builds."""
    scene, first = search.scene, search.tried({})
    search.left = MOST_TRIALS_TYPED
    told: list[tuple[float, Path, str]] = []
    for path, way in ways_to_clear(scene, refusal.field, _notes(first), typed=True):
        if not _is_typed(scene, path) or way.words:
            continue
        typed = value_at(scene, path)
        if isinstance(typed, bool) or not isinstance(typed, (int, float)):
            continue
        best = _smallest_change(search, path, way, typed)
        if best is not None:
            share = abs(log(best / typed)) if min(best, typed) > 0.0 else _WORD
            told.append((share, path, _said(scene, path, best)))
    for _, path, text in sorted(told, key=lambda each: each[0]):
        yield path, text


def _smallest_change(search: _Search, path: Path, way: Way, typed: float) -> float | None:
    """The value nearest what is typed with which the scene builds; None where none tried does.

    First where it builds with the rules' own values; else where the refusal is gone, if the scene
    then builds with other defaults.
    """
    fault = search.tried({}).fault

    def builds(value: float) -> bool:
        return search.spare(1) and search.tried({path: value}).design is not None

    def cleared(value: float) -> bool:
        return search.spare(1) and search.tried({path: value}).fault != fault

    if way.whole:
        numbers = sorted(range(int(way.least), int(way.most) + 1), key=lambda n: abs(n - typed))
        return next((n for n in numbers if n != typed and builds(n)), None)
    found = []
    for shares in (DOWN, UP):
        for stands in (builds, cleared):
            coarse = next((share * typed for share in shares if stands(share * typed)), None)
            if coarse is None:
                continue
            value = _nearest(search, stands, path, typed, coarse)
            if builds(value) or _given_way(search, {path: value}) is not None:
                found.append(value)
                break
    return min(found, key=lambda value: abs(value - typed), default=None)


# --- fields by their path --------------------------------------------------------------------


def value_at(scene: Scene, path: Path) -> Any:
    """What a scene holds at a path; None where nothing stands there."""
    node: Any = scene
    for step in path:
        if isinstance(step, int):
            node = node[step] if isinstance(node, list) and step < len(node) else None
        else:
            node = getattr(node, step, None)
        if node is None:
            return None
    return node


def _is_typed(scene: Scene, path: Path) -> bool:
    """Whether the scene says something at a path; a switch says nothing of its amount."""
    node: Any = scene
    for step in path:
        if isinstance(step, int):
            if not isinstance(node, list) or step >= len(node):
                return False
            node = node[step]
        elif isinstance(node, BaseModel):
            if step not in node.model_fields_set:
                return False
            node = getattr(node, step)
        else:
            return False
    return node is not None and not (
        node is True and path[-1] in ("paired", "breaking_forward", "blocking_course")
    )


def changed(scene: Scene, changes: Mapping[Path, Any]) -> Scene:
    """A scene with fields set; a storey's window that is not written down is made first."""
    for path, value in changes.items():
        scene = _with(scene, path, value)
    return scene


def _with(node: Any, path: Path, value: Any) -> Any:
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, int):
        items = list(node or [])
        while len(items) <= step:  # the last serves the rest
            items.append(items[-1] if items else Window())
        items[step] = _with(items[step], rest, value)
        return items
    inner = getattr(node, step)
    return node.model_copy(update={step: _with(inner, rest, value)})


def _nearest_typed(scene: Scene, own: Path) -> Path:
    """The typed field that a refused one belongs to most closely."""
    for end in range(len(own) - 1, 0, -1):
        if _is_typed(scene, own[:end]) and end > 1:
            return own[:end]
    return ("house", "storeys", 0) if "height" in str(own[-1]) else ("house", "width")


def _leaf_of(scene: Scene, path: Path, refusal: DesignError) -> Path:
    """The field of a group that a refusal is about: one that it names, else the first size."""
    group = value_at(scene, path)
    if not isinstance(group, BaseModel):
        return path
    sizes = [
        name
        for name in type(group).model_fields
        if name in group.model_fields_set
        and isinstance(getattr(group, name), (int, float, list))
        and not isinstance(getattr(group, name), bool)
    ]
    said = re.findall(r"[a-z_]+", f"{refusal.field} {refusal.allowed}")
    named = [name for name in sizes if name in said]
    return (*path, (named or sizes)[0]) if sizes else path


def _notes(trial: _Trial) -> Mapping[str, Any]:
    return trial.origins.notes


def _parsed(dotted: str) -> Path:
    return tuple(int(step) if step.isdecimal() else step for step in dotted.split("."))


def _dotted(path: Path) -> str:
    return ".".join(map(str, path))


def _shown(path: Path) -> str:
    """A path as the scene's writer counts, from one."""
    text = ""
    for step in path:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if text else step
    return text


def _hashable(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
