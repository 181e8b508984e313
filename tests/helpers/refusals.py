"""What becomes of a scene: built, refused in a line that can be followed, or worse."""

from __future__ import annotations

import io
import re
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from dataclasses import field as has
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

from massing.build.house import build
from massing.design.design import Design
from massing.resolve.design import resolve
from massing.scene.errors import DesignError, SceneError
from massing.scene.lines import parse_field
from massing.scene.load import LoadedScene, load_scene

LONGEST_S = 20


@dataclass
class Outcome:
    """What became of a scene.

    Attributes:
        kind: ``built``, ``refused``, ``traceback`` or ``hang``.
        said: the refusal, or the error.
        field: of the refusal, steps as in the file.
        flaws: what is wrong with the refusal's line.
        design: of what was built.
        text: the scene file.
    """

    kind: str
    said: str = ""
    field: tuple[str | int, ...] = ()
    flaws: list[str] = has(default_factory=list)
    design: Design | None = None
    text: str = ""


def as_text(scene: dict[str, Any]) -> str:
    """A scene as a file would have it."""
    out = io.StringIO()
    yaml = YAML(typ="safe", pure=True)
    yaml.default_flow_style = False
    yaml.sort_base_mapping_type_on_output = False  # type: ignore[assignment]
    yaml.dump(scene, out)
    return out.getvalue()


def outcome(scene: dict[str, Any], built: bool = True) -> Outcome:
    """What becomes of a scene, typed as a file, when it is resolved and, if asked, ``built``."""
    text = as_text(scene)
    try:
        with _at_most(LONGEST_S):
            return _outcome(text, built)
    except TimeoutError:
        return Outcome("hang", text=text)
    except Exception as fault:  # the one place that asks whether anything gets through
        return Outcome("traceback", f"{type(fault).__name__}: {fault}", text=text)


def _outcome(text: str, built: bool) -> Outcome:
    try:
        loaded = load_scene(Path("any.yaml"), text)
    except SceneError as fault:
        return Outcome("refused", str(fault), fault.field, ["when read"], text=text)
    name = loaded.scene.as_drawn
    try:
        design = resolve(loaded.scene, name, loaded.lines[name])
    except DesignError as fault:
        told = loaded.error(name, fault)
        return Outcome(
            "refused", str(told), told.field, list(_flaws(told, fault, loaded)), text=text
        )
    if built:
        try:
            build(design)
        except DesignError as fault:
            told = loaded.error(name, fault)
            flaws = ["when built", *_flaws(told, fault, loaded)]
            return Outcome("refused", str(told), told.field, flaws, text=text)
        except ValueError as fault:
            told = loaded.build_error(name, fault)
            flaws = [] if told.field in loaded.file_lines else ["names no field"]
            return Outcome("refused", str(told), told.field, ["when built", *flaws], text=text)
    return Outcome("built", design=design, text=text)


def _flaws(told: SceneError, fault: DesignError, loaded: LoadedScene) -> Iterator[str]:
    if told.field not in loaded.file_lines:
        yield "names an untyped field"
    said = told.detail
    if "given given" in said:
        yield "given given"
    if not fault.allowed.strip():
        yield "no help"
    if loaded.scene.units == "feet" and re.search(r"\d (m|mm|cm)\b", said):
        yield "metres in a feet scene"
    if loaded.scene.units == "metric" and re.search(r"\d\"|\d'-", said):
        yield "feet in a metric scene"
    signed = told.field[-1:] == ("along",)  # to the left of the middle
    if not signed and re.search(r"(?<![\w'])-\d", fault.allowed):
        yield "a negative limit"


@contextmanager
def _at_most(seconds: int) -> Iterator[None]:
    def late(*_: object) -> None:
        raise TimeoutError

    before = signal.signal(signal.SIGPROF, late)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


@dataclass
class Change:
    """A change that a refusal offers, and whether the scene is built with it."""

    field: tuple[str | int, ...]
    value: str
    builds: bool
    said: str = ""


_OFFERED = re.compile(r"([a-z_]+(?:\.[a-z_]+|\[\d+\])+) ([^()]+?) \(line \d+\)")


def fits(refused: Outcome) -> list[Change]:
    """What a refusal says would fit, typed into the scene, each by itself."""
    _, found, tail = refused.said.partition("; fits with ")
    offers = _OFFERED.findall(tail) if found else []
    changes = []
    for name, value in offers:
        path = parse_field(name)
        scene = YAML(typ="safe", pure=True).load(refused.text)
        node = scene
        for step in path[:-1]:
            node = node[step]
        whole = isinstance(node[path[-1]], int) and value.isdecimal()
        node[path[-1]] = int(value) if whole else value
        got = outcome(scene, built=False)
        changes.append(Change(path, value, got.kind == "built", got.said))
    return changes


_LENGTH = (
    r"(\d+'-\d+(?: \d+/\d+)?\"|\d+(?: \d+/\d+)?\"|\d+/\d+\"|\d+(?:\.\d+)? ?(?:mm|cm|m|ft)"
    r"|\d+(?:\.\d+)?(?::12)?)"
)
_LIMITS = (
    re.compile(rf"allowed: at most {_LENGTH}(?![\w.:'/])"),
    re.compile(rf"allowed: at least {_LENGTH}(?![\w.:'/])"),
    re.compile(rf"allowed: {_LENGTH} to {_LENGTH}(?![\w.:'/])"),
    re.compile(rf"allowed: {_LENGTH} or (?:more|less)"),
)


def limits(refused: Outcome) -> list[Change]:
    """The limits that a refusal prints, each typed back: ``builds`` where its field takes it.

    Another field may still be at fault then; the limit was accepted if its own is not.
    """
    if not refused.field or "; fits with" in refused.said.partition("allowed: ")[0]:
        return []
    said = refused.said.partition("; fits with ")[0]
    found = next((m for m in (limit.search(said) for limit in _LIMITS) if m), None)
    changes = []
    for value in found.groups() if found else ():
        scene = YAML(typ="safe", pure=True).load(refused.text)
        node = scene
        try:
            for step in refused.field[:-1]:
                node = node[step]
            before = node[refused.field[-1]]
        except (KeyError, IndexError, TypeError):
            continue
        number = re.fullmatch(r"\d+(\.\d+)?", value)
        if isinstance(before, (dict, list)) or (number and isinstance(before, str)):
            continue
        node[refused.field[-1]] = (
            float(value) if number and "." in value else int(value) if number else value
        )
        got = outcome(scene, built=False)
        taken = got.kind == "built" or got.field != refused.field or _another(refused, got)
        changes.append(Change(refused.field, value, taken, got.said))
    return changes


def _another(first: Outcome, second: Outcome) -> bool:
    """Whether the same field is refused for another reason: what is allowed is said otherwise."""
    words = [
        re.sub(_LENGTH, "", got.said.partition("allowed: ")[2].partition(";")[0])
        for got in (first, second)
    ]
    return words[0] != words[1]
