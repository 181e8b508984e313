"""The text of a scene file, read as plain data with the line of each of its fields."""

from __future__ import annotations

import errno
import re
import sys
import unicodedata
from functools import cache
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.constructor import RoundTripConstructor
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from massing.files import read_bounded
from massing.scene import explain
from massing.scene.errors import SceneError
from massing.scene.lines import FieldPath, Lines
from massing.scene.nodes import MERGE, parsed

STANDARD_INPUT = Path("-")

MAX_BYTES = 100_000  # read in about a second; the bundled scenes have 2 to 4 thousand

MAX_FIELDS = 20_000

MOST_DEEP = 100  # brackets in brackets

LARGEST = 10**15

MOST_SEPARATORS = 12_000  # read in about a second

_TURNING = "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"

_SEPARATORS = ",:[{\n"  # between any two fields stands one of these


class _DatesAsText(RoundTripConstructor):
    """Leaves dates as written, for :mod:`massing.sun.written_times` to read."""


_DatesAsText.add_constructor("tag:yaml.org,2002:timestamp", RoundTripConstructor.construct_yaml_str)


def read_text(path: Path) -> str:
    """The text of a scene file; of standard input where the path is :data:`STANDARD_INPUT`.

    Raises:
        SceneError: the file cannot be read; one line.
    """
    try:
        if path == STANDARD_INPUT:
            return _standard_input().decode("utf-8-sig")
        if path.is_dir():
            raise SceneError(path, None, "is a folder; allowed: a scene file")
        return read_bounded(path, MAX_BYTES).decode("utf-8-sig")
    except FileNotFoundError:
        raise SceneError(path, None, "no such file") from None
    except UnicodeDecodeError:
        raise SceneError(path, None, "not text; allowed: YAML in UTF-8") from None
    except OSError as fault:
        if fault.errno == errno.EFBIG:
            problem = f"too long for a scene; allowed: {MAX_BYTES} bytes"
        else:
            problem = f"cannot be read: {fault.strerror}"
        raise SceneError(path, None, problem) from None
    except SceneError:
        raise
    except ValueError:
        raise SceneError(
            str(path).replace("\0", "?"), None, "no such name; allowed: one without a NUL"
        ) from None


@cache
def _standard_input() -> bytes:
    """What was piped in; it can be read once only, and is asked for more often."""
    data = sys.stdin.buffer.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise OSError(errno.EFBIG, "too long")
    return data


def read_yaml(path: Path, text: str) -> tuple[dict[str, Any], Lines]:
    """A file's text as plain data, and the line of each of its fields."""
    if len(text) > MAX_BYTES or sum(map(text.count, _SEPARATORS)) > MOST_SEPARATORS:
        raise SceneError(path, None, f"too much for a scene; allowed: {MAX_FIELDS} fields")
    if _depth(text) > MOST_DEEP:
        raise SceneError(path, None, "not a scene: nested too deeply")
    try:
        reader = YAML(typ="rt", pure=True)
        reader.Constructor = _DatesAsText
        # Groups that are merged in are taken out of the nodes as they are read, and a directive
        # speaks to the reader: then the text is read afresh.
        node = None if MERGE in text or "%YAML" in text else parsed(text)
        data = reader.load(text) if node is None else reader.constructor.construct_document(node)
    except MarkedYAMLError as fault:
        mark = fault.problem_mark or fault.context_mark
        problem = str(fault.problem).split(' in "<unicode string>"')[0]
        duplicate = re.match(r'found duplicate key "([^"]*)"', problem)
        if duplicate:
            problem = f"{duplicate[1]}: given twice, allowed: once"
        else:
            problem = f"not YAML: {problem}"
        raise SceneError(path, mark.line + 1 if mark else None, problem) from None
    except YAMLError as fault:
        raise SceneError(path, None, f"not YAML: {fault}") from None
    except RecursionError:
        raise SceneError(path, None, "not a scene: nested too deeply") from None
    except Exception:  # strange text can trip the reader itself
        raise SceneError(path, None, "not YAML: it cannot be read") from None
    if data is None:
        raise SceneError(path, None, "empty; allowed: a scene with title, site, house, ...")
    if not isinstance(data, dict):
        found = "a list" if isinstance(data, list) else f"the text {explain.given(data)!r}"
        raise SceneError(path, 1, f"not a scene: given {found}, allowed: fields with values")
    lines: Lines = {}
    return _plain(path, data, (), lines, 1, ()), lines


def _plain(
    path: Path, node: Any, at: FieldPath, lines: Lines, line: int, owners: tuple[int, ...]
) -> Any:
    """The node as plain Python values; notes the line of every field in ``lines``."""
    if len(lines) > MAX_FIELDS:  # repeated anchors can unfold a small file without end
        raise SceneError(path, line, f"too much for a scene; allowed: {MAX_FIELDS} fields")
    if id(node) in owners:
        raise SceneError(path, line, f"{explain.dotted(at)}: refers to itself")
    inside = (*owners, id(node))
    if isinstance(node, CommentedMap):
        plain = {}
        for key, value in node.items():
            if not _shown(str(key)):
                raise SceneError(path, line, f"{explain.dotted(at)}: a name with an unseen sign")
            step = (*at, str(key))
            own = node.lc.data.get(key, [line - 1])[0] + 1 if node.lc.data else line
            lines[step] = own
            plain[str(key)] = _plain(path, value, step, lines, own, inside)
        return plain
    if isinstance(node, CommentedSeq):
        items = []
        for index, value in enumerate(node):
            step = (*at, index)
            own = node.lc.data[index][0] + 1 if node.lc.data else line
            lines[step] = own
            items.append(_plain(path, value, step, lines, own, inside))
        return items
    if isinstance(node, str) and not _shown(node):
        raise SceneError(path, line, f"{explain.dotted(at)}: given a sign that is not seen")
    if node is None or isinstance(node, bool):
        return node
    if isinstance(node, int) and abs(node) > LARGEST:
        raise SceneError(path, line, f"{explain.dotted(at)}: too large a number")
    for kind in (int, float):
        if isinstance(node, kind):
            return kind(node)
    return str(node)


def _depth(text: str) -> int:
    """How deep a text's brackets stand in one another; those in quoted words count too."""
    depth = most = 0
    for bracket in re.findall(r"[\[\]{}]", text):
        depth = depth + 1 if bracket in "[{" else max(depth - 1, 0)
        most = max(most, depth)
    return most


def _shown(text: str) -> bool:
    """Whether a text holds no sign that steers a terminal or turns the way of writing."""
    return not any(
        unicodedata.category(c) in ("Cc", "Cs", "Co", "Cn") or c in _TURNING
        for c in text
        if c not in "\n\t"
    )
