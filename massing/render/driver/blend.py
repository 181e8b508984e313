"""Have a model saved as a file of Blender's own, by a process that holds Blender. No bpy here."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

from massing.geometry.mesh import Model
from massing.render.driver.modelfile import save_model


def write_blend(model: Model, path: Path, units: str) -> None:
    """Write a model with its materials to a ``.blend`` file, which is whole or not there.

    Args:
        units: ``feet`` or ``metric``, how Blender is to write lengths.

    Raises:
        OSError: nothing came of it; the message holds the last of what Blender said.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".massing-", dir=path.parent) as folder:
        made, log = Path(folder) / "model.blend", Path(folder) / "log.txt"
        save_model(model, Path(folder) / "model.npz")
        job = {
            "model": str((Path(folder) / "model.npz").resolve()),
            "output": str(made.resolve()),
            "log": str(log.resolve()),
            "units": units,
        }
        job_path = Path(folder) / "job.json"
        job_path.write_text(json.dumps(job), encoding="utf-8")
        done = subprocess.run(
            [sys.executable, "-m", "massing.render.blender.blend_job", str(job_path)],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
        )
        if done.returncode or not made.exists():
            said = log.read_text(encoding="utf-8", errors="replace") if log.exists() else ""
            last = (said + done.stderr).strip().splitlines()[-1:] or ["Blender stopped"]
            raise OSError(f"{path}: not written: {last[0]}")
        made.replace(path)
