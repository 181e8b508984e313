"""Pack the extension: ``python -m addon.pack [FOLDER] [--study] [--here]`` (default: dist/).

One zip for each platform and each Python of Blender's: the panel, the library as a wheel, and the
wheels that Blender's own Python lacks for what the window does. With ``--study`` also what the
study's sheets, figures and shadows need; with ``--here`` only for the platform and the Python this
runs on. Nothing is downloaded when the extension is installed or run.
"""

from __future__ import annotations

import argparse
import platform
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parent
MANIFEST = "blender_manifest.toml"
PYTHONS = ("3.11", "3.13")  # of Blender 4.2 to 5.0, and from 5.1 on

# What the window needs besides what is in the Python of every Blender since 4.2.
PANEL = (
    "annotated-types",
    "filelock",
    "manifold3d",
    "pydantic",
    "pydantic-core",
    "ruamel-yaml",
    "typing-extensions",
    "typing-inspection",
    "tzdata",
    "tzfpy",
)
# What a study and papers need besides: pictures' words and sheets, fonts, rays, tables on a screen,
# the board's typesetter, the builder's drawings and table.
STUDY = (
    "charset-normalizer",
    "contourpy",
    "cycler",
    "embreex",
    "et-xmlfile",
    "ezdxf",
    "fonttools",
    "kiwisolver",
    "markdown-it-py",
    "matplotlib",
    "mdurl",
    "openpyxl",
    "packaging",
    "pillow",
    "pygments",
    "pyparsing",
    "python-dateutil",
    "reportlab",
    "rich",
    "shapely",
    "typst",
)
# What a zip for the platform and the Python at hand is tried by.
_IMPORTED = ("massing.edit.reading", "massing.sun.position", "manifold3d", "tzfpy", "pydantic")
PLATFORMS = {
    ("Linux", "x86_64"): "linux-x64",
    ("Windows", "AMD64"): "windows-x64",
    ("Darwin", "arm64"): "macos-arm64",
    ("Darwin", "x86_64"): "macos-x64",
}
# By the oldest system that Blender itself runs on.
TAGS = {
    "linux-x64": [
        *(f"manylinux_2_{n}_x86_64" for n in (28, 27, 24, 17, 12, 5)),
        "manylinux2014_x86_64",
    ],
    "windows-x64": ["win_amd64"],
    "macos-arm64": [f"macosx_{n}_0_{kind}" for n in (11, 12) for kind in ("arm64", "universal2")]
    + ["macosx_10_9_universal2"],
    "macos-x64": [f"macosx_10_{n}_x86_64" for n in range(9, 17)]
    + ["macosx_11_0_x86_64", "macosx_10_9_universal2", "macosx_11_0_universal2"],
}


def pack(folder: Path, *, study: bool = False, here: bool = False) -> list[Path]:
    """Pack for every platform and Python, or for those at hand; the zips' paths.

    Raises:
        subprocess.CalledProcessError: pip or Blender's packer would not.
        KeyError: Blender has no build for this platform.
    """
    at_hand = (
        PLATFORMS[platform.system(), platform.machine()],
        ".".join(map(str, sys.version_info[:2])),
    )
    wanted = [at_hand] if here else [(p, v) for p in TAGS for v in PYTHONS]
    folder.mkdir(parents=True, exist_ok=True)
    made = []
    with tempfile.TemporaryDirectory(prefix="massing-pack-") as temporary:
        own = own_wheel(Path(temporary, "own"))
        for target, python in wanted:
            room = Path(temporary, f"{target}-{python}")
            staged = stage(room / "massing")
            (staged / "wheels").mkdir()
            shutil.copy(own, staged / "wheels")
            gather_wheels(staged / "wheels", target, python, (*PANEL, *(STUDY if study else ())))
            write_manifest(staged, target)
            built = build(staged, room)
            name = f"{built.stem}{'-study' if study else ''}-{target}-cp{python.replace('.', '')}"
            made.append(Path(shutil.move(built, folder / f"{name}.zip")))
            check(made[-1], target, python, here=(target, python) == at_hand)
    return made


def check(path: Path, target: str, python: str, *, here: bool) -> None:
    """Unpack a zip and look whether it is whole; where it fits what is at hand, import it.

    Raises:
        ValueError: a wheel is missing, broken, or for another platform or Python.
        subprocess.CalledProcessError: what was unpacked cannot be imported.
    """
    with tempfile.TemporaryDirectory(prefix="massing-check-") as temporary:
        site = Path(temporary, "site")
        with zipfile.ZipFile(path) as packed:
            packed.extractall(Path(temporary, "massing"))
        manifest = tomllib.loads(Path(temporary, "massing", MANIFEST).read_text("utf-8"))
        if manifest["platforms"] != [target]:
            raise ValueError(f"{path.name}: for {manifest['platforms']}, not {target}")
        for name in manifest["wheels"]:
            wheel = Path(temporary, "massing", name)
            if not wheel.exists():
                raise ValueError(f"{path.name}: {name} is missing")
            if not fits(wheel.name, target, python):
                raise ValueError(f"{path.name}: {name} is not for {target}, Python {python}")
            with zipfile.ZipFile(wheel) as unpacked:
                unpacked.extractall(site)
        if here:
            words = f"import sys; sys.path.insert(0, {str(site)!r}); import {', '.join(_IMPORTED)}"
            told = (
                f"; assert all(m.__file__.startswith({str(site)!r}) for m in [massing, manifold3d])"
            )
            _run(sys.executable, "-c", words + told)


def fits(wheel: str, target: str, python: str) -> bool:
    """Whether a wheel runs on a platform and a Python, by its name.

    >>> fits("tzfpy-1.0-cp39-abi3-win_amd64.whl", "windows-x64", "3.13")
    True
    >>> fits("manifold3d-3.2-cp311-cp311-win_amd64.whl", "windows-x64", "3.13")
    False
    """
    of, abi, platforms = wheel.removesuffix(".whl").split("-")[-3:]
    own = f"cp{python.replace('.', '')}"
    runs = abi in ("none", "abi3") or (abi == own and own in of.split("."))
    return runs and any(tag in ("any", *TAGS[target]) for tag in platforms.split("."))


def stage(folder: Path) -> Path:
    """Lay out what the zip holds, but for wheels and manifest."""
    folder.mkdir(parents=True)
    for source in HERE.glob("*.py"):
        if source.name not in (Path(__file__).name, "third_party.py"):
            shutil.copy(source, folder)
    shutil.copy(HERE / "README.md", folder)
    shutil.copy(ROOT / "LICENSE", folder)
    shutil.copy(ROOT / "massing" / "cli" / "third_party.txt", folder)
    (folder / "scenes").mkdir()
    for scene in (ROOT / "scenes").glob("*.yaml"):
        shutil.copy(scene, folder / "scenes")
    return folder


def build(staged: Path, folder: Path) -> Path:
    """Zip what is laid out, checked by Blender's own packer; the zip's path."""
    made = folder / "made"
    made.mkdir()
    _run(*packer(), "build", "--source-dir", staged, "--output-dir", made)
    (built,) = made.glob("*.zip")
    return built


def own_wheel(folder: Path) -> Path:
    """The library's own wheel, for every platform."""
    _run(*_pip(), "wheel", "--no-deps", "--wheel-dir", folder, ROOT)
    (own,) = folder.glob("massing-*.whl")
    return own


def gather_wheels(folder: Path, target: str, python: str, names: Iterable[str]) -> None:
    """The wheels of packages, by the versions of ``constraints.txt``, for one platform."""
    wanted = pinned((ROOT / "constraints.txt").read_text("utf-8"), names, python)
    tags = [word for tag in TAGS[target] for word in ("--platform", tag)]
    abi = f"cp{python.replace('.', '')}"
    kinds = ("--abi", abi, "--abi", "abi3", "--abi", "none")
    only = ("--only-binary", ":all:", "--no-deps", "--dest", folder)
    _run(*_pip(), "download", *only, *tags, "--python-version", python, *kinds, *wanted)


def pinned(constraints: str, names: Iterable[str], python: str) -> list[str]:
    """``name==version`` of each package for a Python, from lines with markers or without.

    >>> pinned("a-b==1\\nc==1 ; python_full_version < '3.12'\\n"
    ...        "c==2 ; python_full_version >= '3.12'", ["a-b", "c"], "3.13")
    ['a-b==1', 'c==2']

    Raises:
        KeyError: a package that is not pinned.
    """
    minor = int(python.split(".")[1])
    found = {}
    for line in constraints.splitlines():
        told = re.fullmatch(
            r"([\w.-]+)==([^\s;]+)(?:\s*;\s*python_full_version (<|>=) '3\.(\d+)')?\s*", line
        )
        if told is None:
            continue
        name, version, side, than = told.groups()
        if side is None or (minor < int(than)) == (side == "<"):
            found[name.lower()] = f"{name}=={version}"
    return [found[name] for name in names]


def write_manifest(stage: Path, target: str) -> None:
    """The manifest with its platform and wheels."""
    text = (HERE / MANIFEST).read_text(encoding="utf-8")
    wheels = sorted(path.name for path in (stage / "wheels").glob("*.whl"))
    lines = "".join(f'  "./wheels/{name}",\n' for name in wheels)
    head, license_line, rest = text.partition("license =")
    text = f'{head}platforms = ["{target}"]\nwheels = [\n{lines}]\n{license_line}{rest}'
    (stage / MANIFEST).write_text(text, encoding="utf-8")


def packer() -> tuple[str, Path]:
    """Blender's own command for extensions, as its Python module brings it."""
    import addon_utils

    return sys.executable, Path(addon_utils.paths()[0], "bl_pkg", "cli", "blender_ext.py")


def _pip() -> Sequence[str]:
    return (sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check")


def _run(*command: str | Path) -> None:
    subprocess.run([str(word) for word in command], check=True, stdout=subprocess.DEVNULL)


def main() -> None:
    """Pack as the command line asks, and print what was made."""
    parser = argparse.ArgumentParser(description="Pack the Blender extension.")
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT / "dist")
    parser.add_argument("--study", action="store_true", help="with what a whole study needs")
    parser.add_argument("--here", action="store_true", help="for this platform and Python only")
    options = parser.parse_args()
    for path in pack(options.folder, study=options.study, here=options.here):
        print(f"{path.stat().st_size / 1e6:6.1f} MB  {path}")


if __name__ == "__main__":
    main()
