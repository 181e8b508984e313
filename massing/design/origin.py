"""Where a value of a design came from."""

from __future__ import annotations

from dataclasses import dataclass


class Given(str):
    """The source of a value that the scene gives, and the line where it stands, if that is known.

    >>> Given(12), Given().line is None
    ('given, line 12', True)
    """

    line: int | None

    def __new__(cls, line: int | None = None) -> Given:
        made = super().__new__(cls, f"given, line {line}" if line else "given")
        made.line = line
        return made

    def __getnewargs__(self) -> tuple[int | None]:  # type: ignore[override]
        return (self.line,)


@dataclass(frozen=True)
class Origin:
    """A value with its source.

    Attributes:
        value: metres of a length, or a plain number such as a slope or a count; None for words.
        written: the value as it is printed.
        source: the scene's line, or the rule's words with what they stand on; may be empty.
        instead_of: what the rule would have, where it gave way to what the scene says; else empty.

    >>> print(Origin(0.3048, '1\\'-0"', "given, line 12"))
    1'-0" · given, line 12
    """

    value: float | None
    written: str
    source: str = ""
    instead_of: str = ""

    @property
    def given(self) -> bool:
        """Whether the scene gives the value as it stands."""
        return isinstance(self.source, Given)

    def __str__(self) -> str:
        """The value and its source, as both are printed in one line."""
        return f"{self.written} · {self.source}" if self.source else self.written
