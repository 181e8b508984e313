"""A remark on a design, and the register in which each file here keeps its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from massing.canon.sources import cited
from massing.design.design import Design
from massing.practice.cautions import LOCAL
from massing.practice.rules import NO_CODE, Rule, code_for, limit_names, rule

Severity = Literal["note", "check", "caution"]

SLACK = 1.02  # departures under two per cent are not worth a word
HAIR_M = 1e-6


@dataclass(frozen=True)
class Finding:
    """One remark on a design: ``note`` informs, ``check`` questions a proportion, ``caution``
    touches safety. ``key`` is stable; ``source`` says whose rule it is, with its mark."""

    key: str
    severity: Severity
    text: str
    source: str


Saying = str | tuple[str, str]
"""A sentence without its stop; or with a source, where that is not the remark's rules'."""

Says = Callable[..., Iterable[Saying]]


@dataclass(frozen=True)
class Remark:
    """What is said under one key, and the rules of the book that it goes by.

    Attributes:
        by: names of rules and limits (:mod:`massing.practice.rules`), which are handed to
            ``says`` after the design.
        sources: keys of sources, where no rule with a number stands behind it.
        says: a sentence for each place where the rule is not kept.
    """

    key: str
    severity: Severity
    by: tuple[str, ...]
    sources: tuple[str, ...]
    says: Says

    def on(self, design: Design) -> Iterator[Finding]:
        """The findings; none where a limit is asked for that no code held here gives."""
        held = [_held(name, design) for name in self.by]
        if any(each is None for each in held):
            return
        rows = [each for each in held if each is not None]
        said = cited([*(row.source for row in rows), *self.sources])
        for saying in self.says(design, *rows):
            text, source = (saying, said) if isinstance(saying, str) else saying
            deferred = self.severity != "caution" or text.endswith(NO_CODE)
            end = "." if deferred else f"; {LOCAL}."
            end = end if not text.endswith("?") else ""
            yield Finding(self.key, self.severity, text + end, source)


def _held(name: str, design: Design) -> Rule | None:
    if name not in limit_names():
        return rule(name)
    code = code_for(design.site.time_zone)
    return code.limits.get(name) if code else None


class Remarks(list[Remark]):
    """The remarks of one file, in the order in which they are written there.

    Called, it is the decorator that enters a function:

    >>> remark = Remarks()
    >>> @remark("many columns", "note", "slenderness_tuscan")
    ... def many_columns(design, least):
    ...     yield "The columns are many"
    >>> remark[0].key, remark[0].by
    ('many columns', ('slenderness_tuscan',))
    """

    def __call__(
        self, key: str, severity: Severity, *by: str, source: str | tuple[str, ...] = ()
    ) -> Callable[[Says], Says]:
        sources = (source,) if isinstance(source, str) else source

        def enter(says: Says) -> Says:
            self.append(Remark(key, severity, by, sources, says))
            return says

        return enter
