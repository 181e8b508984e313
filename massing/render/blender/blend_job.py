"""A model into a file of Blender's own: ``python -m massing.render.blender.blend_job JOB.json``.

The job names the model file, the file to write and the log.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import bpy

from massing.practice.cautions import CAUTION
from massing.render.blender.materials import apply_look
from massing.render.blender.objects import build_model, put_within
from massing.render.blender.worker import take_stdout
from massing.render.driver.modelfile import load_model


def main(job_path: str) -> int:
    """Build the job's model with its materials, in metres, and save it."""
    job = json.loads(Path(job_path).read_text(encoding="utf-8"))
    say = take_stdout(Path(job["log"]))
    model = load_model(Path(job["model"]))
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    units = scene.unit_settings
    units.system = "IMPERIAL" if job["units"] == "feet" else "METRIC"
    units.length_unit = "FEET" if job["units"] == "feet" else "METERS"
    units.scale_length = 1.0  # a unit is a metre; the above is how Blender writes it
    root = bpy.data.collections.new(model.name)
    scene.collection.children.link(root)
    scene["caution"] = CAUTION
    made = build_model(model, root)
    apply_look(made, "materials", model.notes)
    put_within(made)
    bpy.ops.wm.save_as_mainfile(filepath=job["output"], compress=True, relative_remap=False)
    say({"event": "done"})
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
