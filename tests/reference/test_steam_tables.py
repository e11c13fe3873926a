"""Water and its vapour against the formulations of IAPWS.

Source: the iapws library (general purpose), IAPWS-95 for the liquid, IAPWS-IF97 for saturation,
the 2006 equation for ice. Read by running it. Tolerances are the ranges the docstrings promise.
"""

from __future__ import annotations

import iapws
import pytest
from iapws.iapws97 import _PSat_T

from noonwater.physics.air import dew_point, vapour_pressure_saturation
from noonwater.physics.water import (
    LATENT_HEAT_FUSION,
    density_water,
    heat_capacity_water,
    latent_heat,
    viscosity_dynamic_water,
    viscosity_water,
)

TEMPS = (0.01, 4.0, 10.0, 20.0, 27.0, 35.0, 50.0, 70.0, 90.0, 99.0)


@pytest.mark.parametrize("temp", TEMPS)
def test_liquid(temp: float) -> None:
    water = iapws.IAPWS95(T=temp + 273.15, P=0.101325)
    assert density_water(temp) == pytest.approx(water.rho, abs=0.02)
    assert heat_capacity_water(temp) == pytest.approx(1000.0 * water.cp, abs=1.0)
    assert viscosity_dynamic_water(temp) == pytest.approx(water.mu, rel=1e-3)
    assert viscosity_water(temp) == pytest.approx(water.nu, rel=1e-3)


@pytest.mark.parametrize("temp", TEMPS)
def test_saturation_pressure(temp: float) -> None:
    expected = 1e6 * _PSat_T(temp + 273.15)
    assert vapour_pressure_saturation(temp) == pytest.approx(expected, rel=1.5e-3)
    # 0.15 % of pressure is at most 0.04 K of dew point.
    assert dew_point(expected) == pytest.approx(temp, abs=0.05)


@pytest.mark.parametrize("temp", TEMPS)
def test_latent_heat(temp: float) -> None:
    kelvin = temp + 273.15
    expected = 1000.0 * (iapws.IAPWS97(T=kelvin, x=1).h - iapws.IAPWS97(T=kelvin, x=0).h)
    assert latent_heat(temp) == pytest.approx(expected, rel=1e-3 if temp <= 60.0 else 4e-3)


def test_latent_heat_in_a_government_text() -> None:
    # US Department of Energy text, read second-hand: 1048 Btu/lb at 80 °F; 0.05 % is its rounding.
    expected = 1048.0 * 2326.0
    assert latent_heat((80.0 - 32.0) / 1.8) == pytest.approx(expected, rel=5e-4)


def test_latent_heat_of_ice() -> None:
    kelvin, megapascal = 273.15, 0.101325
    ice = iapws._iapws._Ice(kelvin, megapascal)["h"]
    water = iapws.IAPWS95(T=kelvin + 0.005, P=megapascal).h
    assert pytest.approx(1000.0 * (water - ice), rel=1e-3) == LATENT_HEAT_FUSION
