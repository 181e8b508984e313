"""A camera of the house frame as Blender's."""

from __future__ import annotations

from math import pi

import bpy
from mathutils import Matrix

from massing.view.camera import SENSOR_WIDTH_MM, Camera

FAR_M = 20_000.0


def place_camera(scene: bpy.types.Scene, camera: Camera) -> bpy.types.Object:
    """Set the scene's camera and picture size; one camera object serves all views."""
    found = scene.camera
    if found is None:
        found = bpy.data.objects.new("camera", bpy.data.cameras.new("camera"))
        scene.collection.objects.link(found)
        scene.camera = found
    data = found.data
    found.name = data.name = camera.name
    found.location = camera.position_m
    lifted = Matrix.Rotation(pi / 2.0 + camera.pitch_rad, 3, "X")
    turned = Matrix.Rotation(camera.yaw_rad, 3, "Z")
    rolled = Matrix.Rotation(camera.roll_rad, 3, "Z")
    found.rotation_euler = (turned @ lifted @ rolled).to_euler()
    data.sensor_fit = "HORIZONTAL"
    data.sensor_width = SENSOR_WIDTH_MM
    data.shift_x, data.shift_y = camera.shift_x, camera.shift_y
    data.clip_start, data.clip_end = 0.05, FAR_M
    data.dof.use_dof = False
    if camera.kind == "ortho":
        data.type, data.ortho_scale = "ORTHO", camera.ortho_width_m
    else:
        data.type, data.lens = "PERSP", camera.focal_mm
    render = scene.render
    render.resolution_x, render.resolution_y = camera.width_px, camera.height_px
    render.resolution_percentage = 100
    render.pixel_aspect_x = render.pixel_aspect_y = 1.0
    return found
