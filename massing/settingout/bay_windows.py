"""Where a bay window's faces, roof and foot are, in the front wall's frame."""

from __future__ import annotations

import math

import numpy as np

from massing.design.bay_window import BayWindowDesign
from massing.geometry.mesh import Floats
from massing.geometry.solids import frame
from massing.practice.joinery_sizes import joinery_size
from massing.settingout.roof_planes import RoofPlanes
from massing.settingout.wall_faces import Cut, CutShape

# Common practice, no source.
WALL_M = joinery_size("bay.wall")
REVEAL_M = joinery_size("bay.reveal")
EDGE_M = joinery_size("bay.edge")
OVERHANG_M = joinery_size("bay.overhang")
FLASHING_M = joinery_size("bay.flashing")


def outline(bay: BayWindowDesign, out_m: float = 0.0) -> Floats:
    """Its plan ``(4, 2)`` from the wall's left round its front, ``out_m`` outside its faces.

    The first and last points are on the wall's face.
    """
    half, wide, deep = bay.front_m / 2.0, bay.width_m / 2.0, bay.depth_m
    normal = np.array([deep, -(wide - half)]) / math.hypot(deep, wide - half)  # of the right face
    reach = float(normal @ [wide, 0.0]) + out_m
    front_y = -deep - out_m
    corner = (reach - normal[1] * front_y) / normal[0]
    at_wall = reach / normal[0]
    x = bay.along_m
    points = [(x - at_wall, 0.0), (x - corner, front_y), (x + corner, front_y), (x + at_wall, 0.0)]
    return np.array(points)


def face_frames(bay: BayWindowDesign) -> dict[str, Floats]:
    """The frame ``(4, 4)`` of each face: on the ground at its middle, x to the right outside."""
    points = outline(bay)
    found = {}
    for name, k in (("left", 0), ("front", 1), ("right", 2)):
        start, end = points[k], points[k + 1]
        along = (end - start) / np.linalg.norm(end - start)
        origin = (*((start + end) / 2.0), 0.0)
        found[name] = frame(origin, (*along, 0.0), (-along[1], along[0], 0.0), (0.0, 0.0, 1.0))
    return found


def face_m(shape: str, front_m: float, depth_m: float, name: str) -> float:
    """Length of a face."""
    if name == "front":
        return front_m
    return depth_m * (math.sqrt(2.0) if shape == "canted" else 1.0)


def post_m(shape: str) -> float:
    """What a post takes of a face at each of its ends, the wall's thickness mitred."""
    turn = math.pi / 4.0 if shape == "canted" else math.pi / 2.0
    return WALL_M * math.tan(turn / 2.0) + 0.01


def bay_roof(bay: BayWindowDesign) -> RoofPlanes:
    """Its three slopes of one pitch against the wall."""
    ring = outline(bay, bay.cornice.projection_m + OVERHANG_M)
    z = bay.eaves_z_m + EDGE_M
    a, b, c, d = (np.array([*p, z]) for p in ring)
    run = -ring[1, 1]
    step = ring[3] - ring[2]
    length = float(np.hypot(*step))
    normal_x = -step[1] / length if step[1] < 0 else step[1] / length
    # On the wall a side face's plane is as high as the front's this far in from its foot.
    inwards = run / normal_x
    top_z = z + bay.roof_slope * run
    left, right = np.array([a[0] + inwards, 0.0, top_z]), np.array([d[0] - inwards, 0.0, top_z])
    return RoofPlanes(
        slopes=(np.array([b, c, right, left]), np.array([c, d, right]), np.array([a, b, left])),
        hips=np.array([[b, left], [c, right]]),
        ridges=np.empty((0, 2, 3)),
    )


def top_z_m(bay: BayWindowDesign) -> float:
    """The highest that its roof and flashing reach on the wall."""
    run = bay.depth_m + bay.cornice.projection_m + OVERHANG_M
    return bay.eaves_z_m + EDGE_M + bay.roof_slope * run + FLASHING_M


def reach_m(bay: BayWindowDesign) -> float:
    """Its middle to the farthest of its eaves on the wall."""
    return float(outline(bay, bay.cornice.projection_m + OVERHANG_M)[3, 0]) - bay.along_m


def on_front(bay: BayWindowDesign) -> list[Cut]:
    """What it takes of the front wall's facing."""
    x, half = bay.along_m, bay.width_m / 2.0
    eaves, z = reach_m(bay), bay.eaves_z_m
    planes = bay_roof(bay)
    top_x = float(planes.slopes[0][2, 0]) - x
    low, high = z + EDGE_M, float(planes.slopes[0][2, 2])

    def under(at_z: float) -> float:
        share = min(max((at_z - FLASHING_M - low) / (high - low), 0.0), 1.0)
        return eaves + share * (top_x - eaves)

    return [
        (x - half, 0.0, x + half, bay.cornice_foot_z_m),
        (x - eaves, bay.cornice_foot_z_m, x + eaves, low),
        CutShape(x, low, high + FLASHING_M, under),
    ]
