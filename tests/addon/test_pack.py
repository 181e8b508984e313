"""What the packed extension carries, and for whom."""

from __future__ import annotations

import subprocess
import zipfile
from pathlib import Path

import pytest

from addon import pack
from massing.render.driver.requirements import check_blender
from tests.helpers.in_blender import ROOT, blender

pytestmark = pytest.mark.skipif(check_blender() is not None, reason="no Blender module here")

# What of a package is imported, where that is not its own name.
IMPORTED_AS = {"ruamel-yaml": "ruamel", "pillow": "PIL", "fonttools": "fontTools"}


def test_the_window_needs_nothing_but_what_the_small_zip_carries(tmp_path: Path) -> None:
    told = blender(
        f"""
import addon
before = set(sys.modules)
addon.register()
bpy.ops.massing.open(filepath={str(ROOT / "scenes" / "marsh_road.yaml")!r})
change("porch.depth", "9 ft")
bpy.ops.massing.place_cameras()
from addon import pack
loaded = {{m.split(".")[0] for m in sys.modules}} - {{m.split(".")[0] for m in before}}
tell(loaded=sorted(m for m in loaded - sys.stdlib_module_names if not m.startswith("_")),
     panel=pack.PANEL, study=pack.STUDY)
""",
        tmp_path,
    )
    carried = {IMPORTED_AS.get(name, name.replace("-", "_")) for name in told["panel"]}
    # numpy is Blender's; the compiled half of the YAML reader is used where it happens to be.
    assert set(told["loaded"]) - carried <= {"addon", "massing", "numpy", "bmesh"}
    assert not {IMPORTED_AS.get(n, n) for n in told["study"]} & set(told["loaded"])


def test_every_wheel_is_pinned_for_both_pythons(tmp_path: Path) -> None:
    told = blender(
        """
from addon import pack
text = (pack.ROOT / "constraints.txt").read_text("utf-8")
found = {v: pack.pinned(text, (*pack.PANEL, *pack.STUDY), v) for v in pack.PYTHONS}
from addon.picture_operators import FOR_PAPERS
import doctest
tell(found=found, platforms=sorted(pack.TAGS), hosts=sorted(pack.PLATFORMS.values()),
     needed=FOR_PAPERS, study=pack.STUDY, failed=doctest.testmod(pack).failed)
try:
    pack.pinned(text, ["nobody"], "3.13")
except KeyError:
    tell(refused=True)
""",
        tmp_path,
    )
    for pins in told["found"].values():
        assert all("==" in pin for pin in pins)
    assert told["platforms"] == told["hosts"]
    assert {name.lower() for name in told["needed"]} <= {
        IMPORTED_AS.get(n, n).lower() for n in told["study"]
    }
    assert told["failed"] == 0
    assert told["refused"]


def zipped(
    folder: Path, wheels: list[str], listed: list[str], platform: str = "windows-x64"
) -> Path:
    path = folder / "a.zip"
    with zipfile.ZipFile(path, "w") as packed:
        quoted = ", ".join(f'"./wheels/{name}"' for name in listed)
        packed.writestr(
            "blender_manifest.toml", f'platforms = ["{platform}"]\nwheels = [{quoted}]\n'
        )
        for name in wheels:
            inner = folder / name
            with zipfile.ZipFile(inner, "w") as wheel:
                wheel.writestr("module.py", "")
            packed.write(inner, f"wheels/{name}")
    return path


@pytest.mark.parametrize(
    ("listed", "platform", "problem"),
    [
        (["a-1-py3-none-any.whl", "b-1-cp39-abi3-win_amd64.whl"], "windows-x64", None),
        (["a-1-py3-none-any.whl", "c-1-py3-none-any.whl"], "windows-x64", "is missing"),
        (["d-1-cp311-cp311-win_amd64.whl"], "windows-x64", "not for windows-x64, Python 3.13"),
        (["e-1-cp313-cp313-macosx_11_0_arm64.whl"], "windows-x64", "is not for"),
        (["a-1-py3-none-any.whl"], "linux-x64", "not windows-x64"),
    ],
)
def test_each_zip_is_unpacked_and_looked_at(
    tmp_path: Path, listed: list[str], platform: str, problem: str | None
) -> None:
    path = zipped(tmp_path, [n for n in listed if n[0] != "c"], listed, platform)
    if problem is None:
        pack.check(path, "windows-x64", "3.13", here=False)
    else:
        with pytest.raises(ValueError, match=problem):
            pack.check(path, "windows-x64", "3.13", here=False)


def test_what_is_at_hand_is_imported(tmp_path: Path) -> None:
    path = zipped(tmp_path, ["a-1-py3-none-any.whl"], ["a-1-py3-none-any.whl"])
    with pytest.raises(subprocess.CalledProcessError):  # nothing of the library is in it
        pack.check(path, "windows-x64", "3.13", here=True)
