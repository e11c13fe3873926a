"""Split of a heated pool's losses by night, with the default coefficient and made weather.

Source: V-E5, Smith, Lof and Jones, Solar Energy 53(1), 1994, 3-7 (abstract read): two overnight
tests of an uncovered heated outdoor pool at Fort Collins: 56 % evaporation, 26 % radiation, 18 %
convection; ± 6 points, two nights. Their weather isn't printed: here the nights of April to
September from the United States station table at the place (hours made from monthly means), water
at 28 °C, wind at the water 0.4 of the station's, set beforehand.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from noonwater.climate.weather_year import month_of_hour
from noonwater.model.pool import Pool
from noonwater.model.site import Site, WeatherFromStations
from noonwater.physics.evaporation import EVAPORATION_FACTOR_HIGH, EVAPORATION_FACTOR_LOW
from noonwater.year.balance import surface_losses
from tests.season_jobs import STEP, inputs_of, pool_job

WATER = 28.0


@cache
def split(evaporation_factor: float) -> np.ndarray:
    """Per cent of evaporation, convection, radiation over all the nights."""
    site = Site(40.58, -105.08, 1525.0)
    job = pool_job(site, WeatherFromStations("stations"), Pool(area=50.0, depth=1.5, target=WATER))
    inputs = inputs_of(job, 0.4)
    hours = np.arange(8760)
    night = (hours % 24 >= 21) | (hours % 24 < 6)
    summer = np.isin(month_of_hour(), range(3, 9))
    losses = np.zeros(3)
    for step in np.flatnonzero(night & summer) * (3600 // STEP):
        losses += surface_losses(
            WATER,
            inputs.drivers.temp_air[step],
            inputs.drivers.vapour_pressure[step],
            inputs.drivers.wind_water[step],
            inputs.drivers.longwave_sky[step],
            inputs.pool.pressure,
            evaporation_factor,
            1.0,
            0.0,
        )
    return 100.0 * losses / losses.sum()


def test_overnight_split() -> None:
    evaporation, convection, radiation = split(1.0)
    assert evaporation == pytest.approx(56.0, abs=6.0)
    assert radiation == pytest.approx(26.0, abs=6.0)
    assert convection == pytest.approx(18.0, abs=6.0)


def test_ends_of_the_range_hold_the_measurement() -> None:
    low, high = split(EVAPORATION_FACTOR_LOW), split(EVAPORATION_FACTOR_HIGH)
    assert low[0] < 56.0 < high[0]
    assert high[2] < 26.0 < low[2]
