"""Moist air against psychrolib, the open library of the ASHRAE equations.

Source: psychrolib 2.5, ASHRAE Fundamentals 2017 ch. 1; read by running it.
"""

from __future__ import annotations

import importlib
import sys
from unittest import mock

import pytest

from noonwater.physics.air import (
    density_dry_air,
    density_moist_air,
    dew_point,
    humidity_ratio,
    pressure_at_elevation,
    vapour_pressure_at_humidity,
    vapour_pressure_saturation,
)
from noonwater.physics.evaporation import temp_virtual

# With numba at hand psychrolib compiles itself, which takes longer than all its answers here.
with mock.patch.dict(sys.modules, {"numba": None}):
    psychrolib = importlib.import_module("psychrolib")

psychrolib.SetUnitSystem(psychrolib.SI)

# ASHRAE's saturation equation is Hyland-Wexler, ours Buck: 0.2 % apart at most above freezing.
SATURATION = 2e-3


@pytest.mark.parametrize("temp", (0.5, 10.0, 20.0, 30.0, 45.0, 70.0))
@pytest.mark.parametrize("humidity", (0.05, 0.3, 0.6, 1.0))
def test_vapour_pressure_and_dew_point(temp: float, humidity: float) -> None:
    assert vapour_pressure_saturation(temp) == pytest.approx(
        psychrolib.GetSatVapPres(temp), rel=SATURATION
    )
    pressure = psychrolib.GetVapPresFromRelHum(temp, humidity)
    assert vapour_pressure_at_humidity(temp, humidity) == pytest.approx(pressure, rel=SATURATION)
    expected = psychrolib.GetTDewPointFromVapPres(temp, pressure)
    # Below freezing ASHRAE's is a frost point over ice, ours a dew point over water.
    if expected > 0.5:
        assert dew_point(pressure) == pytest.approx(expected, abs=0.04)


@pytest.mark.parametrize("elevation", (-300.0, 0.0, 1500.0, 2317.0, 4000.0))
def test_pressure_at_elevation(elevation: float) -> None:
    expected = psychrolib.GetStandardAtmPressure(elevation)
    assert pressure_at_elevation(elevation) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize("temp", (-5.0, 15.0, 35.0))
@pytest.mark.parametrize("pressure", (78000.0, 101325.0))
@pytest.mark.parametrize("vapour", (200.0, 1500.0, 4000.0))
def test_densities(temp: float, pressure: float, vapour: float) -> None:
    ratio = psychrolib.GetHumRatioFromVapPres(vapour, pressure)
    volume = psychrolib.GetMoistAirVolume(temp, ratio, pressure)
    assert humidity_ratio(vapour, pressure) == pytest.approx(ratio, rel=1e-6)
    assert density_dry_air(temp, vapour, pressure) == pytest.approx(1.0 / volume, rel=1e-5)
    mixture = psychrolib.GetMoistAirDensity(temp, ratio, pressure)
    assert density_moist_air(temp, vapour, pressure) == pytest.approx(mixture, rel=1e-5)


@pytest.mark.parametrize("temp", (5.0, 28.0))
def test_virtual_temperature_is_that_of_dry_air_of_the_same_density(temp: float) -> None:
    pressure, vapour = 90000.0, psychrolib.GetSatVapPres(temp)
    ratio = psychrolib.GetHumRatioFromVapPres(vapour, pressure)
    density = psychrolib.GetMoistAirDensity(temp, ratio, pressure)
    virtual = temp_virtual(temp, vapour, pressure)
    assert psychrolib.GetDryAirDensity(virtual, pressure) == pytest.approx(density, rel=1e-4)
