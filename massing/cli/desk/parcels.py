"""Models and suns as bytes and rows for the page: only what it has not got yet.

A parcel is one JSON line that says what there is, and after it the numbers, 32 bits each and
little end first: for each mesh its vertices and normals ``(n, 3)`` and faces ``(m, 3)``, then for
each set of places its matrices ``(k, 4, 4)``, column by column.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Any
from weakref import WeakKeyDictionary
from zoneinfo import ZoneInfo

import numpy as np

from massing.design.site import SiteDesign
from massing.edit.difference import mesh_hash, parts_by_key
from massing.geometry.creases import Shaded, shaded
from massing.geometry.mesh import Mesh
from massing.parts.part import Model
from massing.practice.finishes import part_role
from massing.sun.position import site_positions, to_house_frame

STEP_MIN = 10  # between the suns of a day
_shaded: WeakKeyDictionary[Mesh, Shaded] = WeakKeyDictionary()


def parcel(model: Model, have: Collection[str]) -> bytes:
    """A model for the page, without the meshes and places whose hashes it ``have`` already."""
    parts, meshes, places, blocks = [], [], [], []
    sent = set(have)
    for key, part in parts_by_key(model).items():
        shape = mesh_hash(part.mesh)
        if shape not in sent:
            sent.add(shape)
            drawn = _drawn(part.mesh)
            meshes.append({"hash": shape, "points": len(drawn.vertices), "faces": len(drawn.faces)})
            blocks += [_floats(drawn.vertices), _floats(drawn.normals), _whole(drawn.faces)]
        stands = ""
        if part.placements is not None:
            stands = _hash(part.placements)
            if stands not in sent:
                sent.add(stands)
                columns = part.placements.transpose(0, 2, 1)
                places.append((stands, len(part.placements), _floats(columns)))
        role = part_role(part.role, model.notes)
        parts.append({"key": key, "mesh": shape, "places": stands, "role": role})
    said = {
        "parts": parts,
        "meshes": meshes,
        "places": [{"hash": name, "count": count} for name, count, _ in places],
        "bounds": model.building_bounds.tolist(),
    }
    line = json.dumps(said, separators=(",", ":")).encode()
    line += b" " * (-(len(line) + 1) % 4) + b"\n"
    return line + b"".join(blocks) + b"".join(block for _, _, block in places)


def _drawn(mesh: Mesh) -> Shaded:
    kept = _shaded.get(mesh)
    if kept is None:
        kept = _shaded[mesh] = shaded(mesh)
    return kept


def _floats(values: Any) -> bytes:
    return np.ascontiguousarray(values, dtype="<f4").tobytes()


def _whole(values: Any) -> bytes:
    return np.ascontiguousarray(values, dtype="<u4").tobytes()


def _hash(values: Any) -> str:
    return hashlib.blake2b(np.ascontiguousarray(values).tobytes(), digest_size=12).hexdigest()


@lru_cache(maxsize=64)
def day_of_suns(site: SiteDesign, day: date) -> list[dict[str, Any]]:
    """Where the sun stands through a day of the place's clock, every :data:`STEP_MIN` minutes.

    Returns:
        ``clock`` (HH:MM), ``altitude_deg`` and ``to_sun``, a unit vector in the house's frame.
    """
    zone = ZoneInfo(site.time_zone)
    start = datetime(day.year, day.month, day.day, tzinfo=zone)
    times = [start + timedelta(minutes=m) for m in range(0, 24 * 60, STEP_MIN)]
    found = site_positions(times, site)
    towards = to_house_frame(found.altitude_deg, found.azimuth_deg, site.front_azimuth_deg)
    return [
        {
            "clock": f"{m // 60:02d}:{m % 60:02d}",
            "altitude_deg": round(float(altitude), 3),
            "to_sun": [round(float(v), 6) for v in to_sun],
        }
        for m, altitude, to_sun in zip(
            range(0, 24 * 60, STEP_MIN), found.altitude_deg, towards, strict=True
        )
    ]
