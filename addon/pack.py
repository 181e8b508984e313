"""Pack the extension: ``python -m addon.pack [FOLDER]`` (default: dist/).

The zip holds the panel, the library as a wheel, and the wheels that Blender's own Python lacks,
for the Python and the platform this runs on: run it with the Python of the Blender that the
extension is for. Nothing is downloaded when the extension is installed or run.
"""

from __future__ import annotations

import platform
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parent
MANIFEST = "blender_manifest.toml"

# In the Python of every Blender since 4.2.
BLENDER_HAS = (
    "certifi",
    "charset-normalizer",
    "cython",
    "idna",
    "numpy",
    "requests",
    "urllib3",
    "zstandard",
)
PLATFORMS = {
    ("Linux", "x86_64"): "linux-x64",
    ("Windows", "AMD64"): "windows-x64",
    ("Darwin", "arm64"): "macos-arm64",
    ("Darwin", "x86_64"): "macos-x64",
}


def pack(folder: Path) -> Path:
    """Pack for this Python and platform; the zip's path.

    Raises:
        subprocess.CalledProcessError: pip or Blender's packer would not.
        KeyError: Blender has no build for this platform.
    """
    target = PLATFORMS[platform.system(), platform.machine()]
    with tempfile.TemporaryDirectory(prefix="massing-pack-") as temporary:
        staged = stage(Path(temporary, "massing"))
        gather_wheels(staged / "wheels")
        write_manifest(staged, target)
        built = build(staged, Path(temporary))
        folder.mkdir(parents=True, exist_ok=True)
        python = f"cp{sys.version_info.major}{sys.version_info.minor}"
        return Path(shutil.move(built, folder / f"{built.stem}-{target}-{python}.zip"))


def stage(folder: Path) -> Path:
    """Lay out what the zip holds, but for wheels and manifest."""
    folder.mkdir(parents=True)
    for source in HERE.glob("*.py"):
        if source.name not in (Path(__file__).name, "third_party.py"):
            shutil.copy(source, folder)
    shutil.copy(ROOT / "LICENSE", folder)
    shutil.copy(ROOT / "massing" / "cli" / "third_party.txt", folder)
    return folder


def build(staged: Path, folder: Path) -> Path:
    """Zip what is laid out, checked by Blender's own packer; the zip's path."""
    made = folder / "made"
    made.mkdir()
    _run(*packer(), "build", "--source-dir", staged, "--output-dir", made)
    (built,) = made.glob("*.zip")
    return built


def gather_wheels(folder: Path) -> None:
    """The library's wheel, and those it needs that Blender lacks."""
    pip = (sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check")
    _run(*pip, "wheel", "--no-deps", "--wheel-dir", folder, ROOT)
    (own,) = folder.glob("massing-*.whl")
    constraints = ROOT / "constraints.txt"
    only = ("--only-binary", ":all:", "--dest", folder, "--constraint", constraints)
    _run(*pip, "download", *only, own)
    for wheel in folder.glob("*.whl"):
        if wheel.name.split("-")[0].lower().replace("_", "-") in BLENDER_HAS:
            wheel.unlink()


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


def _run(*command: str | Path) -> None:
    subprocess.run([str(word) for word in command], check=True, stdout=subprocess.DEVNULL)


if __name__ == "__main__":
    print(pack(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "dist"))
