"""What Blender's module needs of this machine, and what to do where it is missing."""

from __future__ import annotations

import importlib.util
import re
import shutil
import subprocess
import sys

from massing.render.driver.process import how_it_died, safe_environment, workers_are_given

# Debian 12 and Ubuntu package of each library that Blender's module is linked to, found by
# loading it on a bare system.
DEBIAN_PACKAGES = {
    "libX11.so.6": "libx11-6",
    "libXrender.so.1": "libxrender1",
    "libXfixes.so.3": "libxfixes3",
    "libXi.so.6": "libxi6",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libSM.so.6": "libsm6",
    "libICE.so.6": "libice6",
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libXext.so.6": "libxext6",
    "libxcb.so.1": "libxcb1",
    "libXau.so.6": "libxau6",
    "libXdmcp.so.6": "libxdmcp6",
    "libuuid.so.1": "libuuid1",
    "libbsd.so.0": "libbsd0",
    "libmd.so.0": "libmd0",
    "libGLX.so.0": "libglx0",
    "libGLdispatch.so.0": "libglvnd0",
    "libstdc++.so.6": "libstdc++6",
    "libgcc_s.so.1": "libgcc-s1",
}
SUPPORTED_PYTHONS = {(3, 11): "5.0.1", (3, 13): "5.2.3"}


def check_blender() -> str | None:
    """None when Blender's module can be imported here, else one line that says what to do.

    Where this process was told how its workers start, that is theirs to say.
    """
    if workers_are_given():
        return None
    if importlib.util.find_spec("bpy") is None:
        wanted = SUPPORTED_PYTHONS.get(sys.version_info[:2])
        if wanted is None:
            here = ".".join(map(str, sys.version_info[:2]))
            ours = " or ".join(".".join(map(str, v)) for v in SUPPORTED_PYTHONS)
            return f"Blender's module has no build for Python {here}; use Python {ours}"
        return f"Blender's module is not installed; run: pip install bpy=={wanted}"
    trial = subprocess.run(
        [sys.executable, "-P", "-c", "import bpy"],
        capture_output=True,
        text=True,
        env=safe_environment(),
    )
    if trial.returncode == 0:
        return None
    missing = missing_libraries() or re.findall(r"(lib[\w+.-]+\.so[.\d]*): cannot", trial.stderr)
    if missing:
        packages = sorted({DEBIAN_PACKAGES.get(m, f"(package holding {m})") for m in missing})
        return (
            f"Blender's module needs {', '.join(missing)}; on Debian or Ubuntu run: "
            f"apt-get install {' '.join(packages)}"
        )
    last = (trial.stderr.strip().splitlines() or [how_it_died(trial.returncode)])[-1]
    return f"Blender's module cannot be loaded: {last}"


def missing_libraries() -> list[str]:
    """Shared libraries that Blender's module is linked to and this system lacks."""
    found = importlib.util.find_spec("bpy")
    lister = shutil.which("ldd")
    if found is None or found.origin is None or lister is None:
        return []
    return unresolved(subprocess.run([lister, found.origin], capture_output=True, text=True).stdout)


def unresolved(listing: str) -> list[str]:
    """Names marked as not found in the loader's listing.

    >>> unresolved("libX11.so.6 => not found\\n libm.so.6 => /lib/libm.so.6 (0x0)")
    ['libX11.so.6']
    """
    return sorted(set(re.findall(r"(\S+) => not found", listing)))
