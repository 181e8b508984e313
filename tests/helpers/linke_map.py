"""Makes ``massing/sun/linke_turbidity.npz`` from the map that pvlib carries.

``python -m tests.helpers.linke_map`` writes it again.
"""

from __future__ import annotations

from pathlib import Path

import h5py
import numpy as np
import pvlib

from massing.sun.sky import LINKE_BAND_DEG, LINKE_FILE, LINKE_STEP_DEG

FULL = Path(pvlib.__file__).parent / "data" / "LinkeTurbidities.h5"
CELLS = round(LINKE_STEP_DEG * 12)  # the full map has twelve cells to a degree


def thinned(first_row: int, end_row: int) -> np.ndarray:
    """Rows of the full map thinned to the mean of each half degree, in twentieths."""
    with h5py.File(FULL) as file:
        full = file["LinkeTurbidity"][first_row * CELLS : end_row * CELLS].astype(float)
    rows, columns, months = full.shape
    cells = full.reshape(rows // CELLS, CELLS, columns // CELLS, CELLS, months)
    return np.round(cells.mean(axis=(1, 3))).astype(np.uint8)


def main() -> None:
    """Write the file."""
    rows = round(LINKE_BAND_DEG / LINKE_STEP_DEG)
    bands = {}
    for index in range(round(180 / LINKE_BAND_DEG)):
        band = thinned(index * rows, (index + 1) * rows)
        bands[f"band{index:02d}"] = np.diff(band, axis=1, prepend=np.uint8(0))
    np.savez_compressed(LINKE_FILE, **bands)


if __name__ == "__main__":
    main()
