"""Have a model saved as a file of Blender's own, by a process that holds Blender."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

from massing.files import claim, put_in_place, temporary_folder
from massing.parts.part import Model
from massing.render.driver.modelfile import save_model
from massing.render.driver.process import python_command, safe_environment


def write_blend(model: Model, path: Path, units: str) -> None:
    """Write a model with its materials to a ``.blend`` file, which is whole or not there.

    Args:
        units: ``feet`` or ``metric``, how Blender is to write lengths.

    Raises:
        OSError: nothing came of it; the message holds the last of what Blender said.
    """
    with temporary_folder(path) as folder:
        claim([path])
        made, log = folder / "model.blend", folder / "log.txt"
        save_model(model, folder / "model.npz")
        job = {
            "model": str((folder / "model.npz").resolve()),
            "output": str(made.resolve()),
            "log": str(log.resolve()),
            "units": units,
        }
        job_path = folder / "job.json"
        job_path.write_text(json.dumps(job), encoding="utf-8")
        done = subprocess.run(
            [*python_command("massing.render.blender.blend_job"), str(job_path)],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            env=safe_environment(),
        )
        if done.returncode or not made.exists():
            said = log.read_text(encoding="utf-8", errors="replace") if log.exists() else ""
            last = (said + done.stderr).strip().splitlines()[-1:] or ["Blender stopped"]
            raise OSError(f"{path}: not written: {last[0]}")
        put_in_place(made, path)
