"""Make the list of what others made: ``python -m addon.third_party``.

The libraries are those that ``pyproject.toml`` asks for and, one after another, those that they
ask for; each one's licence is what its own description says. Beside them stands what they and
this package carry along under a licence of its own. Run it when a dependency comes or goes.
"""

from __future__ import annotations

import re
import tomllib
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).parent.parent
TABLE = ROOT / "massing" / "cli" / "third_party.txt"

# Where a library's description does not name its licence, by the text that comes with it.
BY_ITS_TEXT = {"embreex": "BSD-2-Clause"}

# What Blender's module for the newer Python asks for besides, so that the list is one for both.
NEWER_BLENDER = {"attrs": "MIT", "cattrs": "MIT"}

# What is carried along in another's box: name, licence. By the notices that come with each.
WITHIN: dict[str, tuple[tuple[str, str], ...]] = {
    "bpy": (("Blender with the libraries in it", "GPL-3.0-or-later and compatible ones"),),
    "embreex": (("Embree", "Apache-2.0"), ("oneTBB", "Apache-2.0")),
    "massing": (
        ("Linke turbidity, monthly means of the world, from pvlib", "BSD-3-Clause"),
        ("towns by GeoNames", "CC-BY-4.0"),
    ),
    "matplotlib": (("STIX fonts", "OFL-1.1"), ("DejaVu fonts", "Bitstream Vera")),
    "numpy": (("OpenBLAS", "BSD-3-Clause"),),
    "pillow": (("FreeType", "FTL"), ("libjpeg-turbo", "IJG"), ("libpng", "libpng-2.0")),
    "pypdfium2": (("PDFium", "BSD-3-Clause"),),
    "shapely": (("GEOS", "LGPL-2.1-or-later"),),
    "tzdata": (("IANA time-zone database", "public domain"),),
    "tzfpy": (("time-zone boundaries from OpenStreetMap", "ODbL-1.0"),),
}
# Carried in the package's own folders, if they are there.
CARRIED = {
    "massing/present/page/static/three": ("three.js", "MIT"),
    "massing/cli/desk/static/three": ("three.js", "MIT"),
    "massing/present/board/fonts": ("EB Garamond fonts", "OFL-1.1"),
    "massing/present/page/static/fonts": ("EB Garamond fonts", "OFL-1.1"),
}


def text() -> str:
    """The list, a line for each library and for each thing within it."""
    lines = [
        "massing is licensed GPL-3.0-or-later (LICENSE). It stands on what others made:",
        "",
        *(
            line
            for name in sorted({*libraries(), *NEWER_BLENDER})
            for line in (f"{name}: {NEWER_BLENDER.get(name) or licence(name)}", *_within(name))
        ),
        "",
        "In massing itself:",
        *_within("massing"),
        *sorted(
            {
                f"    {name}: {under}"
                for folder, (name, under) in CARRIED.items()
                if (ROOT / folder).is_dir()
            }
        ),
    ]
    return "\n".join(lines) + "\n"


def _within(name: str) -> list[str]:
    return [f"    {what}: {under}" for what, under in WITHIN.get(name, ())]


def libraries() -> list[str]:
    """Every library that running the tool needs and that is installed here, by name."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    todo = [*project["dependencies"], *extras["render"], *extras["desk"]]
    found: set[str] = set()
    while todo:
        wanted, _, condition = todo.pop().partition(";")
        name = re.split(r"[\s\[<>=!~(]", wanted.strip())[0].lower().replace("_", "-")
        if not name or name in found or "extra ==" in condition:
            continue
        try:
            todo += metadata.requires(name) or []
        except metadata.PackageNotFoundError:
            continue  # for another platform or another Python
        found.add(name)
    return sorted(found)


def licence(name: str) -> str:
    """A library's licence as its own description names it."""
    about = metadata.metadata(name)
    if said := BY_ITS_TEXT.get(name) or about.get("License-Expression"):
        return said
    kinds = [
        kind.rpartition(" :: ")[2]
        for kind in about.get_all("Classifier") or ()
        if kind.startswith("License ::") and not kind.endswith("OSI Approved")
    ]
    return "; ".join(kinds) or (about.get("License") or "not said").splitlines()[0]


if __name__ == "__main__":
    TABLE.write_text(text(), encoding="utf-8")
    print(TABLE.relative_to(ROOT))
