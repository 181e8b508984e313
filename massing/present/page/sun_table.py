"""The sun of a site's whole year as a table that a page interpolates, and never computes.

Between two entries of a table for every tenth minute of every fifth day the direction errs by
less than a tenth of a degree (measured in the tests).
"""

from __future__ import annotations

import base64
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from massing.design.site import SiteDesign
from massing.sun.instants import instants
from massing.sun.position import clear_sky, site_positions, to_house_frame

DAY_STEP = 5
MINUTE_STEP = 10
MINUTES = 1440
SCALE = 32767  # of a unit vector's components


def sun_table(site: SiteDesign) -> dict[str, Any]:
    """A year of suns in the house's frame, as plain values for JSON.

    ``vectors`` are little-endian int16 ``(d, m, 3)``, towards the sun; ``light`` uint16
    ``(d, m, 2)``, direct and diffuse clear-sky light in W/m2. Row d is day ``DAY_STEP * d`` from
    the first of January, column m minute ``MINUTE_STEP * m`` of the site's clock in January;
    ``shift_min`` is how far the clock of each day of the year is ahead of that one.
    ``from_min`` and ``to_min`` are the whole hours of that clock between which the sun is ever up.
    """
    zone, year = ZoneInfo(site.time_zone), site.year
    noon = [datetime(year, 1, 1, 12, tzinfo=zone) + timedelta(days=d) for d in range(366)]
    january = _offset(noon[0])
    shift = [int((_offset(when) - january).total_seconds() // 60) for when in noon]
    length = (date(year + 1, 1, 1) - date(year, 1, 1)).days

    rows = np.arange(0, 366 + DAY_STEP, DAY_STEP)
    columns = np.arange(0, MINUTES + 1, MINUTE_STEP)
    start = instants([datetime(year, 1, 1, tzinfo=UTC) - january])[0]
    minutes = (rows[:, None] * MINUTES + columns).ravel()
    positions = site_positions(start + minutes.astype("timedelta64[m]"), site)
    vectors = to_house_frame(
        positions.altitude_deg, positions.azimuth_deg, site.front_azimuth_deg
    ).reshape(len(rows), len(columns), 3)
    sky = clear_sky(positions, site.latitude_deg, site.longitude_deg, site.altitude_m)
    light = np.stack([sky.dni_w_m2, sky.dhi_w_m2], axis=-1).reshape(*vectors.shape[:2], 2)

    ever = columns[(vectors[..., 2] > 0.0).any(axis=0)]
    most = max(shift)
    low = max(0, 60 * (int(ever.min()) // 60)) if len(ever) else 0
    high = min(MINUTES, 60 * -(-(int(ever.max()) + most) // 60)) if len(ever) else MINUTES
    return {
        "year": year,
        "days": length,
        "day_step": DAY_STEP,
        "minute_step": MINUTE_STEP,
        "rows": len(rows),
        "columns": len(columns),
        "vectors": _packed(np.round(vectors * SCALE), "<i2"),
        "light": _packed(np.round(light), "<u2"),
        "shift_min": shift[:length],
        "from_min": low,
        "to_min": high,
        "front_azimuth_deg": round(site.front_azimuth_deg, 3),
    }


def _offset(when: datetime) -> timedelta:
    offset = when.utcoffset()
    assert offset is not None
    return offset


def _packed(values: NDArray[np.float64], kind: str) -> str:
    return base64.b64encode(values.astype(kind).tobytes()).decode("ascii")
