"""Cylinder across a stream, against a textbook's worked example.

Source: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, example 7.4 (from memory): air
at 26.2 °C and 10 m/s across a cylinder of 12.7 mm at 128 °C; at the film's temperature of 350 K the
viscosity is 20.92e-6 m²/s, the conductivity 0.030 W/(m·K), the Prandtl number 0.70. The book finds
Re = 6071, Nu = 40.6 and h = 96 W/(m²·K) by Churchill and Bernstein, and 102 by measurement.
Tolerances: the last printed digit; for the measurement the 20 % that the authors claim.
"""

from __future__ import annotations

import pytest
from fluids.atmosphere import ATMOSPHERE_1976

from noonwater.physics.probe import (
    CONDUCTIVITY_AIR,
    PRANDTL_AIR,
    VISCOSITY_AIR,
    convection_coefficient_cylinder,
    nusselt_cylinder,
)

DIAMETER, WIND = 0.0127, 10.0


def test_the_worked_example() -> None:
    reynolds = WIND * DIAMETER / 20.92e-6
    assert reynolds == pytest.approx(6071.0, abs=1.0)
    nusselt = nusselt_cylinder(reynolds, 0.70)
    assert nusselt == pytest.approx(40.6, abs=0.1)
    assert nusselt * 0.030 / DIAMETER == pytest.approx(96.0, abs=0.5)
    assert nusselt * 0.030 / DIAMETER == pytest.approx(102.0, rel=0.2)


def test_the_coefficient_is_that_number_in_air_at_27_degrees() -> None:
    found = convection_coefficient_cylinder(2.0, 0.01)
    expected = nusselt_cylinder(2.0 * 0.01 / VISCOSITY_AIR, PRANDTL_AIR) * CONDUCTIVITY_AIR / 0.01
    assert found == pytest.approx(expected)


def test_properties_of_air_are_those_of_the_standard_atmosphere() -> None:
    """Source: U.S. Standard Atmosphere 1976 as fluids reckons it, at 300 K; 3 % between tables."""
    viscosity = ATMOSPHERE_1976.viscosity(300.0)
    density = ATMOSPHERE_1976.density(300.0, 101325.0)
    conductivity = ATMOSPHERE_1976.thermal_conductivity(300.0)
    assert pytest.approx(viscosity / density, rel=0.03) == VISCOSITY_AIR
    assert pytest.approx(conductivity, rel=0.03) == CONDUCTIVITY_AIR
    assert pytest.approx(viscosity * 1005.0 / conductivity, rel=0.03) == PRANDTL_AIR
