"""Pictures cut to their place on a page."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from massing.present.board.pictures import cut_to


def _rows(image: Image.Image) -> np.ndarray:
    """What each row of :func:`_ruled` was numbered."""
    return np.asarray(image)[:, 0]


@pytest.fixture(scope="module")
def ruled() -> Image.Image:
    """Each row has its own number as its tone."""
    return Image.fromarray(np.repeat(np.arange(100, dtype=np.uint8)[:, None], 160, axis=1))


@pytest.mark.parametrize(
    ("sky", "first", "last"),
    [(0.3, 20, 99), (0.2, 20, 99), (0.05, 5, 84), (0.0, 0, 79)],
)
def test_a_tall_picture_loses_sky_and_then_its_foreground(
    ruled: Image.Image, sky: float, first: int, last: int
) -> None:
    rows = _rows(cut_to(ruled, 0.5, sky))
    assert (rows[0], rows[-1]) == (first, last)


def test_a_wide_picture_loses_both_sides_alike(ruled: Image.Image) -> None:
    turned = ruled.transpose(Image.Transpose.ROTATE_90)
    across = np.asarray(cut_to(turned, 2.0))[0]
    assert sorted((int(across[0]), int(across[-1]))) == [10, 89]
