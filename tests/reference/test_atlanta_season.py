"""Season's heat of an outdoor pool at Atlanta, from figures of a government text.

Source: US Department of Energy figures quoted in a utility's newsletter, April 2005 (read
second-hand): 1000 ft² outdoor pool, uncovered, April to October, gas at 80 % and $1 a therm:
$2130 at 78 °F, $2810 at 80 °F, so 170.4 and 224.8 million Btu of useful heat. Wind, shade and depth
are not stated; tolerance set beforehand: 35 %, and 10 % on the ratio of the two. The wind at the
water is 0.4 of the station's, set beforehand (partly sheltered). Light floor, 1.5 m, no shade.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from pvlib.iotools import read_tmy3

from noonwater.physics.air import vapour_pressure_saturation
from noonwater.physics.convection import convection_coefficient_bowen
from noonwater.physics.evaporation import evaporation_coefficient, evaporation_heat
from noonwater.physics.pool_sun import FLOOR_REFLECTANCE, absorptance_pool
from noonwater.physics.sky import (
    CLOUD_FACTOR,
    EMISSIVITY_WATER,
    emissivity_cloudy,
    emissivity_sky_berdahl_martin_mean,
    longwave_net,
    longwave_sky,
)
from noonwater.physics.water import density_water, heat_capacity_water
from noonwater.physics.wind import EXPOSURE_FACTOR, wind_speed_at_water

AREA, DEPTH = 92.90304, 1.5
MILLION_BTU = 1055.056e6


def season_heat(weather: list[tuple[float, ...]], set_point: float, exposure: float) -> float:
    """Heat [J] that keeps the pool from falling below its set point."""
    sun_share = absorptance_pool(FLOOR_REFLECTANCE["light"], DEPTH)
    capacity = DEPTH * density_water(set_point) * heat_capacity_water(set_point)
    temp, heat = set_point, 0.0
    for sun, air, dew, wind, pressure, cloud in weather:
        water, vapour = vapour_pressure_saturation(temp), vapour_pressure_saturation(dew)
        speed = wind_speed_at_water(wind, exposure)
        coefficient = evaporation_coefficient(speed, temp, air, water, vapour, pressure)
        sky = emissivity_cloudy(emissivity_sky_berdahl_martin_mean(dew), cloud, CLOUD_FACTOR)
        gain = sun_share * sun + longwave_net(temp, longwave_sky(sky, air), EMISSIVITY_WATER)
        gain -= evaporation_heat(coefficient, water, vapour)
        gain -= convection_coefficient_bowen(coefficient, pressure) * (temp - air)
        temp += gain * 3600.0 / capacity
        heat += max(set_point - temp, 0.0) * capacity * AREA
        temp = max(temp, set_point)
    return heat


def read_season(shared: Path) -> list[tuple[float, ...]]:
    path = next((shared / "weather").glob("*[Aa]tlanta*"))
    data = read_tmy3(path, map_variables=True)[0]
    data = data[(data.index.month >= 4) & (data.index.month <= 10)]
    columns = ["ghi", "temp_air", "temp_dew", "wind_speed", "pressure", "OpqCld (tenths)"]
    frame = data[columns].astype(float)
    frame["pressure"] *= 100.0
    frame["OpqCld (tenths)"] *= 0.1
    return list(frame.itertuples(index=False, name=None))


def test_season_at_two_set_points(shared: Path) -> None:
    weather = read_season(shared)
    exposure = EXPOSURE_FACTOR["partly sheltered"]
    warm, warmer = (season_heat(weather, (f - 32.0) / 1.8, exposure) for f in (78.0, 80.0))
    assert warm / MILLION_BTU == pytest.approx(170.4, rel=0.35)
    assert warmer / MILLION_BTU == pytest.approx(224.8, rel=0.35)
    assert warmer / warm == pytest.approx(224.8 / 170.4, rel=0.10)
