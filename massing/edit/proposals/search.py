"""The search: porches spread over the space, resolved and measured, and then those beside the best.

Every design is resolved as the scene file would be, so that what is proposed can be built; nothing
is rendered, and no model is built. The same scene and limits give the same answer, however many
processes work on it.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from functools import cached_property, partial
from multiprocessing import get_context
from typing import Any

import numpy as np
from pydantic import ValidationError

from massing.design.design import Design
from massing.edit.proposals.front import front
from massing.edit.proposals.kinds import MOST, Cluster, Kind, clusters, kind_of
from massing.edit.proposals.limits import Limits, limits_of
from massing.edit.proposals.measures import MEASURES, measured
from massing.edit.proposals.space import Place, Space
from massing.findings import openings, order, spacing
from massing.geometry.mesh import Floats
from massing.resolve.design import by_rule, resolve
from massing.scene.errors import DesignError, SceneError
from massing.scene.layers import laid_over, without_nulls
from massing.scene.load import loaded_scene, read_fields
from massing.scene.origins import Origins
from massing.scene.spec import Scene
from massing.sun.position import SunTime, sun_time

DESIGNS = 5500
"""Porches that are resolved and measured first; those beside the best come on top."""

BEST = 40
"""Kinds of the first front whose neighbours are looked at too."""

_CHUNK = 100
_ALONE = 400  # fewer are done before another process has started
_CHECKS = tuple(
    remark
    for remark in (*order.remark, *spacing.remark, *openings.remark)
    if remark.severity == "check"
)
"""Findings that question a proportion; those on drainage, say, are the designer's at any porch."""


@dataclass(frozen=True)
class Found:
    """One porch that can be built.

    Attributes:
        place: in the space.
        values: its measures, in the order of :data:`~.measures.MEASURES`.
        kind: what it is called different by.
        checks: keys of the findings that question a proportion of it.
    """

    place: Place
    values: tuple[float, ...]
    kind: Kind
    checks: frozenset[str]


@dataclass(frozen=True, eq=False)
class Begun:
    """What proposals begin from: a design of a scene, with its limits and its suns.

    Attributes:
        name: the design that they begin from.
        space: the porches that are allowed.
        drawn: the design as drawn, against which changes and daylight are measured.
        suns: the scene's.
    """

    name: str
    space: Space
    drawn: Design
    suns: tuple[SunTime, ...]

    @property
    def limits(self) -> Limits:
        """What is allowed."""
        return self.space.limits

    def design(self, place: Place, name: str = "") -> Design:
        """The porch at a place, resolved as the scene file would be, no default giving way.

        Raises:
            DesignError: it cannot be built.
        """
        fields = laid_over(self.space.fields, self.space.changes(place))
        try:
            spec = Scene.model_validate(without_nulls(fields))
        except ValidationError as invalid:
            raise DesignError("porch", "fields", str(invalid.errors()[0]["msg"])) from None
        return by_rule(spec, name or self.name, Origins({}, spec.units))

    def found(self, place: Place) -> Found | None:
        """The porch at a place measured; None where it cannot be built."""
        try:
            design = self.design(place)
            checks = frozenset(f.key for remark in _CHECKS for f in remark.on(design))
        except (DesignError, ValueError):
            return None
        values = measured(design, self.drawn, self.suns)
        return Found(place, values, kind_of(design, self.drawn), checks)


def begin(
    path: Any, text: str, design: str | None = None, more: Mapping[str, Any] | None = None
) -> Begun:
    """Make a scene ready for proposals.

    Args:
        path: of the scene file, for messages.
        text: what it holds.
        design: that proposals begin from; by default the one as drawn.
        more: limits laid over the scene's own.

    Raises:
        SceneError: the scene, or that design, cannot be read or built.
        pydantic.ValidationError: ``more`` holds what is no limit.
    """
    fields, lines = read_fields(path, text)
    loaded = loaded_scene(path, fields, lines)
    if isinstance(loaded, list):
        raise loaded[0]
    drawn_name = loaded.scene.as_drawn
    name = design or drawn_name
    own = {key: value for key, value in fields.items() if key not in ("alternatives", "propose")}
    if name != drawn_name:
        own = laid_over(own, fields["alternatives"][name])
    resolved = {}
    for each in dict.fromkeys((drawn_name, name)):
        try:
            resolved[each] = resolve(loaded.designs[each], each, loaded.lines[each])
        except DesignError as fault:
            raise loaded.error(each, fault) from None
    spec, start = loaded.designs[name], resolved[name]
    suns = []
    for index, time in enumerate(loaded.scene.times):
        try:
            suns.append(sun_time(time, start.site))
        except ValueError as fault:
            raise loaded.time_error(index, fault) from None
    limits = limits_of(spec, start, more)
    space = Space(without_nulls(own), start, limits, spec.units, spec)
    if not space.limits.roofs or not all(space.shape):
        raise SceneError(path, None, "propose: given limits that leave no porch; allowed: fewer")
    return Begun(name, space, resolved[drawn_name], tuple(suns))


@dataclass(frozen=True, eq=False)
class Outcome:
    """What a search found.

    Attributes:
        begun: what it began from.
        tried: how many porches were resolved, those that cannot be built too.
        built: those that can be, as they were found.
        unavoidable: keys of findings that every one of them has.
        front: those that no finding questions beyond these, and that nothing of their character
            betters.
        clusters: the proposals, as places in ``front``.
    """

    begun: Begun
    tried: int
    built: tuple[Found, ...]
    unavoidable: frozenset[str]
    front: tuple[Found, ...]
    clusters: tuple[Cluster, ...]

    @property
    def proposals(self) -> list[Found]:
        """Those that stand for their clusters."""
        return [self.front[cluster.chosen] for cluster in self.clusters]

    @cached_property
    def values(self) -> Floats:
        """``(n, k)`` measures of the front."""
        return np.array([f.values for f in self.front]).reshape(-1, len(MEASURES))


def search(
    begun: Begun,
    *,
    designs: int = DESIGNS,
    most: int = MOST,
    workers: int | None = None,
    others: Executor | None = None,
    progress: Callable[[int, int], object] = lambda done, total: None,
) -> Outcome:
    """Look for better porches.

    Args:
        designs: how many are looked at first.
        most: of proposals.
        workers: processes; by default one for each core.
        others: what measures instead, such as other machines.
        progress: told how many are done, and of how many.
    """
    first = begun.space.spread(designs)
    with _Hands(begun, workers, len(first), others) as hands:
        total = len(first)
        known = dict(
            zip(first, hands.found(first, lambda done: progress(done, total)), strict=True)
        )
        _, best = _front(known)
        groups = clusters(_values(best), [f.kind for f in best], BEST)
        places = [best[g.chosen].place for g in groups]
        beside = dict.fromkeys(p for place in places for p in begun.space.beside(place))
        more = [place for place in beside if place not in known]
        whole = total + len(more)
        rest = hands.found(more, lambda done: progress(total + done, whole))
        known |= dict(zip(more, rest, strict=True))
    unavoidable, kept = _front(known)
    groups = clusters(_values(kept), [f.kind for f in kept], most)
    built = tuple(f for f in known.values() if f is not None)
    return Outcome(begun, len(known), built, unavoidable, tuple(kept), tuple(groups))


def _values(found: Sequence[Found]) -> Floats:
    return np.array([f.values for f in found]).reshape(-1, len(MEASURES))


def _front(known: Mapping[Place, Found | None]) -> tuple[frozenset[str], list[Found]]:
    """Findings that no design escapes, and the designs with no other that nothing betters.

    Where every design has some finding beyond those, the ones with the fewest are kept.
    """
    built = [known[place] for place in sorted(known)]
    standing = [f for f in built if f is not None]
    if not standing:
        return frozenset(), []
    unavoidable = frozenset.intersection(*(f.checks for f in standing))
    fewest = min(len(f.checks) for f in standing)
    sound = [f for f in standing if len(f.checks) == fewest]
    return unavoidable, front_of(sound)


def front_of(found: Sequence[Found]) -> list[Found]:
    """Those that nothing of their own character betters, in the order given.

    An order, a height, a pediment or a balustrade is chosen for its own sake. No measure tells its
    worth, and each costs work: held against all others, nothing but plain Tuscan would be left.
    """
    groups: dict[tuple[object, ...], list[int]] = {}
    for i, each in enumerate(found):
        groups.setdefault(each.kind.character, []).append(i)
    kept = [
        members[i]
        for members in groups.values()
        for i in front(_values([found[m] for m in members]))
    ]
    return [found[i] for i in sorted(kept)]


def _measured_by(begun: Begun, chunk: Sequence[Place]) -> list[Found | None]:
    return [begun.found(place) for place in chunk]


class _Hands:
    """Processes that measure porches; none where there are few."""

    def __init__(
        self, begun: Begun, workers: int | None, count: int, others: Executor | None
    ) -> None:
        cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
        self._begun, self._count = begun, workers if workers is not None else int(cores or 1)
        self._pool: ProcessPoolExecutor | None = None
        self._others = others
        if others is None and self._count > 1 and count >= _ALONE:
            self._pool = ProcessPoolExecutor(
                self._count, get_context("spawn"), initializer=_take, initargs=(begun,)
            )

    def __enter__(self) -> _Hands:
        return self

    def __exit__(self, *_: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    def found(self, places: Sequence[Place], told: Callable[[int], object]) -> list[Found | None]:
        """The porches at places, in their order."""
        chunks = [places[i : i + _CHUNK] for i in range(0, len(places), _CHUNK)]
        made: Iterable[list[Found | None]]
        if self._others is not None:
            made = self._others.map(partial(_measured_by, self._begun), chunks)
        elif self._pool is not None:
            made = self._pool.map(_measure, chunks)
        else:
            made = ([self._begun.found(place) for place in chunk] for chunk in chunks)
        found: list[Found | None] = []
        for chunk in made:
            found += chunk
            told(len(found))
        return found


_IN_HAND: list[Begun] = []


def _take(begun: Begun) -> None:
    _IN_HAND[:] = [begun]


def _measure(places: Sequence[Place]) -> list[Found | None]:
    return [_IN_HAND[0].found(place) for place in places]
