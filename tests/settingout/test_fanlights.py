import numpy as np
import pytest

from massing.practice.joinery_sizes import SASH
from massing.settingout.fanlights import (
    bars,
    bow,
    fan_outline,
    fanlight_lights,
)


def test_the_lights_of_a_half_circle_are_alike():
    assert np.diff(bars(0.6, 0.6, 7)) == pytest.approx(np.pi / 7, abs=1e-4)


def test_a_fan_is_symmetrical():
    angles = bars(1.0, 0.5, 9)
    assert angles + angles[::-1] == pytest.approx(np.pi)


def test_the_outline_springs_upright_over_its_foot_rail():
    outline = fan_outline(0.6, 0.4, 7)
    assert outline[:2] == pytest.approx(np.array([(-0.6, -SASH.stile_m), (0.6, -SASH.stile_m)]))
    assert outline[2] == pytest.approx((0.6, 0.0))
    assert outline[:, 1].max() == pytest.approx(0.4, abs=1e-3)
    assert bow(0.6, 0.4, np.array([np.pi / 2]))[0] == pytest.approx((0.0, 0.4))


@pytest.mark.parametrize(
    ("half", "rise", "lights", "ring"),
    [(0.6, 0.7, 7, "none"), (0.6, 0.6, 1, "none"), (0.6, 0.6, 7, "star"), (0.6, 0.3, 41, "ring")],
)
def test_what_cannot_be_a_fan_is_refused(half, rise, lights, ring):
    with pytest.raises(ValueError, match="fanlight"):
        fanlight_lights(half, rise, lights, ring)
