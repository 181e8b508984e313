"""Frames into a film, by Blender's own encoder: ``python -m massing.render.blender.film JOB.json``.

The job names the frames in order, frames a second, the file and the log.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import bpy

from massing.render.blender.worker import take_stdout


def main(job_path: str) -> int:
    """Encode the job's frames as H.264 in MP4, tones as they are."""
    job = json.loads(Path(job_path).read_text(encoding="utf-8"))
    say = take_stdout(Path(job["log"]))
    frames = [Path(frame) for frame in job["frames"]]
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    picture = bpy.data.images.load(str(frames[0]))
    render = scene.render
    render.resolution_x, render.resolution_y = (size - size % 2 for size in picture.size)
    render.resolution_percentage = 100
    render.fps = job["frames_per_second"]
    scene.frame_start, scene.frame_end = 1, len(frames)

    editor = scene.sequence_editor_create()
    scene.sequencer_colorspace_settings.name = "sRGB"
    scene.view_settings.view_transform = "Standard"
    scene.view_settings.look = "None"
    strip = editor.strips.new_image(
        "frames", str(frames[0]), channel=1, frame_start=1, fit_method="ORIGINAL"
    )
    strip.directory = str(frames[0].parent)
    for frame in frames[1:]:
        strip.elements.append(frame.name)

    image = render.image_settings
    if hasattr(image, "media_type"):
        image.media_type = "VIDEO"
    image.file_format = "FFMPEG"
    film = render.ffmpeg
    film.format, film.codec = "MPEG4", "H264"
    film.constant_rate_factor = "HIGH"
    film.ffmpeg_preset = "GOOD"
    film.gopsize = job["frames_per_second"]
    for noted in [name for name in dir(render) if name.startswith("use_stamp")]:
        setattr(render, noted, False)  # the same frames are the same file
    render.filepath = job["output"]
    bpy.ops.render.render(animation=True)
    say({"event": "done"})
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
