"""What stands around the water against closed forms of view factors.

Sources: a level element at the middle of a round wall sees the sky through a disk, cos² of the
wall's height (view factor of an element to a coaxial disk, Howell's catalogue of configuration
factors, B-13; from memory); an endless straight wall takes (1 - cos of its height)/2, as pvlib's
isotropic masking of rows has it (pvlib.shading.sky_diffuse_passias, general reference library, run
here).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from pvlib.shading import sky_diffuse_passias

from noonwater.model.pool_use import Obstruction
from noonwater.year.shade import lit_share, sky_share

STRIP = 3.0
"""[°] An endless wall is cut into strips of this width, each as high as in its middle."""


@pytest.mark.parametrize("height", [5.0, 20.0, 45.0, 80.0])
def test_round_wall(height: float) -> None:
    # Grid of 1 degree: 0.002.
    share = sky_share((Obstruction(0.0, 360.0, height),))
    assert share == pytest.approx(math.cos(math.radians(height)) ** 2, abs=0.002)


@pytest.mark.parametrize("height", [10.0, 30.0, 60.0])
def test_endless_wall(height: float) -> None:
    slope = math.tan(math.radians(height))
    strips = [
        Obstruction(
            bearing % 360.0,
            (bearing + STRIP) % 360.0,
            math.degrees(math.atan(slope * math.cos(math.radians(bearing + STRIP / 2.0)))),
        )
        for bearing in np.arange(-90.0, 90.0, STRIP)
    ]
    # Heights in whole degrees of the grid: 0.005.
    kept = 1.0 - float(sky_diffuse_passias(height))
    assert sky_share(tuple(strips)) == pytest.approx(kept, abs=0.005)


def test_leaves_let_light_through_by_months() -> None:
    # A hedge round half the horizon, in leaf from May to October, lets a fifth through: by hand,
    # 1 - 0.5 * 0.8 * sin² 30°.
    hedge = Obstruction(90.0, 270.0, 30.0, 0.2, (5, 6, 7, 8, 9, 10))
    share = sky_share((hedge,))
    assert share[4:10] == pytest.approx(0.9, abs=0.002)
    assert share[[0, 1, 2, 3, 10, 11]] == pytest.approx(1.0)


def test_beam_behind_a_house() -> None:
    # A house 6 m high, 10 m wide, 10 m south of the water's middle: 31.0° high, 26.6° to each
    # side (trigonometry). A sun at 30° due south is behind it, at 32° above, at 40° east beside.
    house = Obstruction(180.0 - 26.57, 180.0 + 26.57, math.degrees(math.atan(0.6)))
    azimuth, height = np.array([180.0, 180.0, 140.0]), np.array([30.0, 32.0, 30.0])
    found = lit_share((house,), azimuth, height, np.zeros(3, dtype=np.int8))
    assert found == pytest.approx([0.0, 1.0, 1.0])
