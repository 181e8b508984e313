"""Runs a script in Blender's module, in a process and with a user folder of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]

PRELUDE = """
import json, sys
sys.path.insert(0, {root!r})
import bpy

def tell(**values):
    print("TOLD " + json.dumps(values), flush=True)

def fresh(empty=True):
    import addon
    bpy.ops.wm.read_factory_settings(use_empty=empty)
    addon.register()
    return bpy.context.scene

def attempt(action):
    try:
        action()
    except RuntimeError as fault:
        return str(fault).strip()
    return ""

def change(field, value):
    try:
        bpy.ops.massing.set_field(field=field, value=value)
    except RuntimeError as fault:
        return str(fault).strip()
    return ""

def row(path, scene=None):
    state = (scene or bpy.context.scene).massing
    return next(r for r in (*state.first, *state.found) if r.path == path)

def parts(scene):
    return {{o["massing_part"] for o in scene.objects if "massing_part" in o}}
"""


def blender(script: str, tmp_path: Path, flags: tuple[str, ...] = (), root: Path = ROOT) -> dict:
    """Run a script in Blender's module with a user folder of its own; what it told."""
    path = tmp_path / "script.py"
    path.write_text(PRELUDE.format(root=str(root)) + script, encoding="utf-8")
    user = tmp_path / "user"
    user.mkdir(exist_ok=True)
    done = subprocess.run(
        [sys.executable, *flags, str(path)],
        env={**os.environ, "BLENDER_USER_RESOURCES": str(user)},
        capture_output=True,
        text=True,
        timeout=300,
    )
    told: dict = {}
    for line in done.stdout.splitlines():
        if line.startswith("TOLD "):
            told |= json.loads(line.removeprefix("TOLD "))
    assert done.returncode == 0, done.stdout + done.stderr
    return told
