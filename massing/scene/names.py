"""Names that become file names: no two of one scene may make the same."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import get_args

from massing.files import slug
from massing.scene import explain
from massing.scene.errors import SceneError
from massing.scene.lines import FieldPath, Lines, fault_at
from massing.scene.spec import Scene
from massing.scene.spec.pictures import LookName, ViewName

MOST_TIMES = 40

LONGEST_NAME = 60

OWN_FOLDERS = tuple(
    "sheets pairs shadows masks series overlay montage models plates board page drawings "
    "profiles film proposals".split()
)


def kept_names() -> dict[str, str]:
    """File names that nothing in a scene may have, and what each names."""
    kept = dict.fromkeys(OWN_FOLDERS, "a folder of the tool's own")
    kept |= dict.fromkeys(map(slug, get_args(ViewName)), "a view")
    return kept | dict.fromkeys(map(slug, get_args(LookName)), "a look")


def faulty_names(
    path: Path, lines: Lines, base: Scene, taken: dict[str, str]
) -> Iterator[SceneError]:
    """One namespace for all that names files: no two names may make one file name.

    What has a file name is noted in ``taken``, for what comes after to keep clear of.
    """
    named: list[tuple[FieldPath, str, str]] = [
        (("as_drawn",), base.as_drawn, "the design as drawn"),
        *((("cameras", i, "name"), c.name, "a camera") for i, c in enumerate(base.cameras)),
    ]
    for field, name, what in named:
        allowed = take_name(name, what, taken)
        if allowed:
            detail = f"given {explain.given(name)}, allowed: {allowed}"
            yield fault_at(path, lines, field, detail)
    if len(base.times) > MOST_TIMES:
        detail = f"given {len(base.times)}, allowed: up to {MOST_TIMES}"
        yield fault_at(path, lines, ("times",), detail)
    for index, text in enumerate(base.times):
        if taken.get(slug(text)) == "a time":
            yield fault_at(path, lines, ("times", index), f"given {text} again, allowed: once")
        elif slug(text) in taken:
            detail = f"given {text}, allowed: a time whose words name nothing else"
            yield fault_at(path, lines, ("times", index), detail)
        taken[slug(text)] = "a time"


def take_name(name: str, what: str, taken: dict[str, str]) -> str:
    """Note a name's file name; or what would be allowed instead."""
    own = slug(name)
    if not own or len(name) > LONGEST_NAME:
        return f"a name of its own with letters or figures, up to {LONGEST_NAME}"
    if own in taken:
        return f"a name of its own; {own} names {taken[own]}"
    taken[own] = what
    return ""
