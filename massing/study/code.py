"""A hash of the code that a file is made by: every module it runs through, and the libraries'.

What a module imports is read from its text, so that nothing has to be imported for it, Blender's
module least of all. The tables (YAML) that stand in the folder of a module count with it.
"""

from __future__ import annotations

import ast
import hashlib
import sys
from collections.abc import Iterator
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

import massing

HOME = Path(massing.__file__).parent
DISTRIBUTIONS = {"PIL": "pillow", "ruamel": "ruamel.yaml"}  # named otherwise than they are imported


@cache
def code_hash(*entries: str) -> str:
    """A hash of the modules named, of all of this package that they import, and of libraries.

    >>> code_hash("massing.units") == code_hash("massing.present.ink.elevation")
    False
    """
    digest = hashlib.sha256()
    modules = modules_of(*entries)
    for module in sorted(modules):
        source = _source(module)
        assert source is not None
        digest.update(f"{module}\0".encode() + source.read_bytes())
    for table in sorted({t for m in modules for t in _folder(m).glob("*.yaml")}):
        digest.update(f"{table.name}\0".encode() + table.read_bytes())
    for library in sorted(libraries_of(modules)):
        digest.update(f"{library} {_version(library)}\0".encode())
    return digest.hexdigest()


def modules_of(*entries: str) -> frozenset[str]:
    """The modules of this package that run when those named do, they among them.

    The package's own face is left out: it imports every room, but only for who calls it.
    """
    found: set[str] = set()
    waiting = list(entries)
    while waiting:
        module = waiting.pop()
        if module not in found and _source(module) is not None:
            found.add(module)
            waiting += [name for name in _imports(module) if name.startswith("massing.")]
    return frozenset(found)


def libraries_of(modules: frozenset[str]) -> set[str]:
    """What else those modules import, but for Python's own."""
    names = {name.partition(".")[0] for module in modules for name in _imports(module)}
    return names - {"massing", "__future__"} - sys.stdlib_module_names


@cache
def _imports(module: str) -> tuple[str, ...]:
    """Names that a module's text imports, and the packages they stand in."""
    source = _source(module)
    assert source is not None
    found = []
    for node in _running(ast.parse(source.read_bytes())):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.append(node.module)
            found += [f"{node.module}.{alias.name}" for alias in node.names]
    return tuple(found) + ((module.rpartition(".")[0],) if "." in module else ())


def _running(node: ast.AST) -> Iterator[ast.AST]:
    """A tree's nodes but for what only the reader of types sees."""
    yield node
    if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test):
        children: list[ast.AST] = list(node.orelse)
    else:
        children = list(ast.iter_child_nodes(node))
    for child in children:
        yield from _running(child)


def _source(module: str) -> Path | None:
    path = HOME.joinpath(*module.split(".")[1:])
    for source in (path.with_suffix(".py"), path / "__init__.py"):
        if module.split(".")[0] == "massing" and source.is_file():
            return source
    return None


def _folder(module: str) -> Path:
    source = _source(module)
    assert source is not None
    return source.parent


def _version(library: str) -> str:
    """A library's version; Blender's module may also be the Blender that this runs in."""
    if library in ("bpy", "mathutils"):
        return blender_version()
    try:
        return version(DISTRIBUTIONS.get(library, library))
    except PackageNotFoundError:
        return ""


def blender_version() -> str:
    """The version of Blender's module, or of the Blender that this runs in; "" without either."""
    try:
        return version("bpy")
    except PackageNotFoundError:
        blender = sys.modules.get("bpy")
        return "" if blender is None else str(blender.app.version_string)
