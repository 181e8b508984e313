"""The one caution, by subject, that goes with every size, figure and picture that is given out.

Whoever writes sizes takes its words from here: :data:`CAUTION` where there is a line to spare,
:func:`cautions` where there is room for each subject, :func:`comment` at the head of a table
for other programs, :data:`METADATA` inside a picture file.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum


class Subject(Enum):
    """What a size can hurt someone by; the value is the word for it in the line."""

    GUARD = "guards"
    STAIR = "stairs"
    GLASS = "glass"
    ESCAPE = "escape"
    HEIGHT = "heights"
    WIND = "wind"
    STRUCTURE = "structure"


LOCAL = "local codes and licensed practice decide"
"""The end of a sentence about a limit."""

_SENTENCES: Mapping[Subject, str] = {
    Subject.GUARD: "Guards and balustrades: their height, their openings and the push they must "
    "bear are the local code's.",
    Subject.STAIR: "Stairs and handrails: risers, treads, landings and rails are the local "
    "code's; measure the ground before cutting a flight.",
    Subject.GLASS: "Glass in and beside doors, near floors and by stairs is safety glass where "
    "the local code says so.",
    Subject.ESCAPE: "Doors and windows that people leave by in a fire: their clear openings and "
    "sills are the local code's.",
    Subject.HEIGHT: "Heights of buildings, chimneys and floors over the ground are from the "
    "drawing, not from a survey; what may be built is the local authority's to say.",
    Subject.WIND: "Wind: roofs, porches, parapets and their ties against uplift are for a "
    "licensed engineer.",
    Subject.STRUCTURE: "Columns, beams, lintels, walls and footings: sizes here follow "
    "proportion, not load, and are for a licensed engineer.",
}


def caution(*subjects: Subject) -> str:
    """The caution in one line, of the subjects given, or of all.

    >>> caution(Subject.GUARD, Subject.STAIR)
    'For comparing designs, not for building from: guards and stairs follow local codes and licensed practice.'
    """  # noqa: E501
    words = [subject.value for subject in Subject if not subjects or subject in subjects]
    named = f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else words[0]
    verb = "follow" if len(words) > 1 or (named.endswith("s") and named != "glass") else "follows"
    return (
        f"For comparing designs, not for building from: {named} {verb} local codes and licensed "
        "practice."
    )


def cautions(*subjects: Subject) -> tuple[str, ...]:
    """A sentence for each subject given, or for all, in a fixed order."""
    return tuple(_SENTENCES[s] for s in Subject if not subjects or s in subjects)


CAUTION = caution()


def comment(*subjects: Subject) -> str:
    """The line as the first one of a CSV or another text for programs.

    >>> comment(Subject.WIND)
    '# For comparing designs, not for building from: wind follows local codes and licensed practice.\\n'
    """  # noqa: E501
    return f"# {caution(*subjects)}\n"


METADATA: Mapping[str, str] = {"Disclaimer": CAUTION}
"""For a picture's text fields; PNG's own keyword for a legal disclaimer (ISO/IEC 15948, 11.3.4)."""
