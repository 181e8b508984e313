"""What the packed extension carries, and for whom."""

from __future__ import annotations

from pathlib import Path

import pytest

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
