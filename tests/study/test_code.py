"""Which modules, tables and libraries a maker's code is: asked of a small package of our own."""

from __future__ import annotations

import hashlib
from importlib.metadata import version

import pytest

from massing.study import code
from massing.study.code import code_hash, libraries_of, modules_of

PACKAGE = {
    "__init__.py": "import massing.everything\n",
    "everything.py": "",
    "units.py": "import math\n",
    "maker/__init__.py": "",
    "maker/main.py": (
        "from __future__ import annotations\n"
        "import json, numpy as np\n"
        "import massing.units\n"
        "from typing import TYPE_CHECKING\n"
        "from massing.shape import mesh\n"
        "from massing.table import value\n"
        "if TYPE_CHECKING:\n"
        "    import massing.seen_by_the_reader\n"
        "    import scipy\n"
        "else:\n"
        "    import massing.instead\n"
        "def later():\n"
        "    import massing.inside\n"
        "    from PIL import Image\n"
        "from . import beside\n"
    ),
    "maker/beside.py": "",
    "maker/limits.yaml": "limit: 1\n",
    "maker/notes.txt": "not code\n",
    "shape/__init__.py": "",
    "shape/mesh.py": "import massing.maker.main\n",
    "table.py": "value = 1\n",
    "seen_by_the_reader.py": "",
    "instead.py": "",
    "inside.py": "import ruamel.yaml\n",
    "apart.py": "",
    "apart.yaml": "a: 1\n",
}
MAKER = "massing.maker.main"


@pytest.fixture
def home(tmp_path, monkeypatch):
    home = tmp_path / "massing"
    for name, text in PACKAGE.items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text(text)
    monkeypatch.setattr(code, "HOME", home)
    forget()
    yield home
    forget()


def forget():
    code.code_hash.cache_clear()
    code._imports.cache_clear()


def test_what_runs_is_what_the_texts_import(home):
    names = ["maker", "maker.main", "units", "shape", "shape.mesh", "table", "instead", "inside"]
    assert modules_of(MAKER) == {f"massing.{name}" for name in names}
    assert modules_of("massing.apart", "massing.units") == {"massing.apart", "massing.units"}
    assert modules_of("massing.none", "numpy") == frozenset()


def test_the_libraries_are_what_is_neither_ours_nor_python_s(home):
    assert libraries_of(modules_of(MAKER)) == {"numpy", "PIL", "ruamel"}
    assert libraries_of(frozenset({"massing.units"})) == set()


def hashed(entry=MAKER):
    forget()
    return code_hash(entry)


def edited(path, text=None):
    """The hash while a file stands otherwise."""
    before = path.read_bytes() if path.exists() else None
    path.write_text(text if text is not None else f"{before.decode()}# changed\n")
    found = hashed()
    if before is None:
        path.unlink()
    else:
        path.write_bytes(before)
    return found


def test_the_hash_moves_with_each_file_that_runs_and_each_table_beside_one(home):
    before = hashed()
    assert hashed() == before
    runs = ["maker/__init__.py", "maker/main.py", "units.py", "shape/__init__.py", "shape/mesh.py"]
    runs += ["table.py", "instead.py", "inside.py", "maker/limits.yaml", "apart.yaml"]
    for name in runs:
        assert edited(home / name) != before, name
    for name in ("apart.py", "maker/beside.py", "seen_by_the_reader.py", "maker/notes.txt"):
        assert edited(home / name) == before, name
    assert edited(home / "__init__.py") == before
    assert edited(home / "maker/more.yaml", "") != before
    assert edited(home / "shape/more.yaml", "") != edited(home / "shape/other.yaml", "")
    assert hashed() == before


def test_the_hash_moves_with_a_module_s_name_and_with_no_more_than_the_text(home):
    same, other = (code_hash(f"massing.{name}") for name in ("everything", "instead"))
    assert same != other  # alike in text
    parts = [("massing.apart", b"")]
    digest = hashlib.sha256()
    for name, text in parts:
        digest.update(name.encode() + b"\0" + text)
    digest.update(b"apart.yaml\0a: 1\n")
    assert code_hash("massing.apart") == digest.hexdigest()


def test_the_hash_moves_with_a_library_s_version(home, monkeypatch):
    real, found = code._version, [hashed()]
    for library in ("numpy", "PIL", "ruamel"):
        monkeypatch.setattr(code, "_version", lambda n, x=library: "0" if n == x else real(n))
        found.append(hashed())
    assert len(set(found)) == 4


def test_a_library_s_version_is_that_of_its_distribution():
    assert code._version("PIL") == version("pillow")
    assert code._version("ruamel") == version("ruamel.yaml")
    assert code._version("numpy") == version("numpy")
    assert code._version("no_such_library") == ""


def test_blender_s_version_is_of_the_module_or_of_the_blender_around(monkeypatch):
    real = code.version

    class Blender:
        class app:
            version_string = "5.9.9 beta"

    def without_bpy(name):
        if name == "bpy":
            raise code.PackageNotFoundError(name)
        return real(name)

    monkeypatch.setattr(code, "version", {"bpy": "5.0.1", "mathutils": "3"}.__getitem__)
    assert [code._version(name) for name in ("bpy", "mathutils")] == ["5.0.1", "5.0.1"]
    monkeypatch.setattr(code, "version", without_bpy)
    monkeypatch.setitem(code.sys.modules, "bpy", Blender)
    assert code.blender_version() == code._version("mathutils") == "5.9.9 beta"
    monkeypatch.delitem(code.sys.modules, "bpy")
    assert code.blender_version() == ""
