"""A way to see a job: one value for each input that nobody measured."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.physics.collector_rating import TEST_WIND_RANGE
from noonwater.year.panels import TEST_SKY_RANGE


@dataclass(frozen=True)
class Belief:
    """Inputs that nobody measured; a run is made for one belief, a range from several.

    Attributes
    ----------
    test_wind : float
        Wind at the panels' test. [m/s]
    test_sky : float
        Long-wave excess of the sky over that test. [W/m²]
    water_wind : float
        Times the wind at the water that terrain and shelter give. [-]
    evaporation : float
        Times the default evaporation coefficient. [-]
    efficiency : float
        Times the panels' efficiency. [-]
    sun : float
        Times the sun of the weather's source. [-]
    uncovered : float
        Share of the nights on which the cover is forgotten, where the job tells no habit. [-]
    ground : float
        Times the heat through walls and floor. [-]
    """

    test_wind: float = TEST_WIND_RANGE[1]
    test_sky: float = TEST_SKY_RANGE[1]
    water_wind: float = 1.0
    evaporation: float = 1.0
    efficiency: float = 1.0
    sun: float = 1.0
    uncovered: float = 0.0
    ground: float = 1.0
