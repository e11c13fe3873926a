"""Factors of the unit table against two general libraries.

Sources: scipy.constants (CODATA and NIST SP 811 factors, computed by the library from its own
table) and pint's own default registry (Pint 0.24 and newer, default_en.txt), neither of which our
registry loads; both are read when the test runs. Tolerance: 1e-6 for the British thermal unit
(three definitions differ by 6e-7 to 7e-4; ours is the International Table's), 1e-9 elsewhere; inch
of mercury 3e-6 (density of mercury, conventional or at 0 °C).
"""

from __future__ import annotations

from functools import cache
from math import isclose

import pint
import pytest
from scipy import constants

from noonwater.core.quantity import Quantity
from noonwater.core.units import read_quantity


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("1 inch", "length", constants.inch),
        ("1 ft", "length", constants.foot),
        ("1 yd", "length", constants.yard),
        ("1 mile", "length", constants.mile),
        ("1 acre", "area", constants.acre),
        ("1 gal", "volume", constants.gallon),
        ("1 gpm", "flow", constants.gallon / constants.minute),
        ("1 mph", "velocity", constants.mph),
        ("1 knot", "velocity", constants.knot),
        ("1 km/h", "velocity", constants.kmh),
        ("1 deg", "angle", constants.degree * 180 / constants.pi),
        ("1 rad", "angle", 180 / constants.pi),
        ("1 psi", "pressure", constants.psi),
        ("1 bar", "pressure", constants.bar),
        ("1 hp", "power", constants.hp),
        ("1 Btu/h", "power", constants.Btu_IT / constants.hour),
        ("0 °F", "temperature", constants.convert_temperature(0.0, "F", "C")),
        ("100 °F", "temperature", constants.convert_temperature(100.0, "F", "C")),
        ("9 °F", "temperature difference", 9 * constants.degree_Fahrenheit),
    ],
)
def test_factor_agrees_with_scipy(text: str, kind: str, expected: float) -> None:
    assert isclose(read_quantity(text, Quantity(kind, "")), expected, rel_tol=1e-9)


@pytest.mark.parametrize(
    ("text", "kind", "theirs", "unit", "tolerance"),
    [
        ("1 gpm", "flow", "gallon / minute", "m**3/s", 1e-9),
        ("1 cfm", "flow", "ft**3 / minute", "m**3/s", 1e-9),
        ("1 ft_H2O", "pressure", "foot_H2O", "Pa", 1e-9),
        ("1 in_H2O", "pressure", "inch_H2O", "Pa", 1e-9),
        ("1 m_H2O", "pressure", "meter_H2O", "Pa", 1e-9),
        ("1 in_Hg", "pressure", "inch_Hg", "Pa", 3e-6),
        ("1 psi", "pressure", "psi", "Pa", 1e-9),
        ("1 ton", "power", "refrigeration_ton", "W", 1e-6),
        ("1 hp", "power", "horsepower", "W", 1e-9),
        ("1 MMBtu/h", "power", "1e6 Btu/hour", "W", 1e-6),
        ("1 therm/h", "power", "therm / hour", "W", 1e-6),
        ("1 USD/therm", "energy price", "1 / therm", "1/J", 1e-6),
        ("1 kWh/m2/day", "daily sun", "kWh/m**2/day", "J/m**2/day", 1e-9),
        ("1 Btu/ft2/day", "daily sun", "Btu/ft**2/day", "J/m**2/day", 1e-6),
        ("1 rpm", "speed", "rpm", "revolution/minute", 1e-9),
    ],
)
def test_factor_agrees_with_pint(
    text: str, kind: str, theirs: str, unit: str, tolerance: float
) -> None:
    expected = _general().Quantity(theirs).to(unit).magnitude
    assert isclose(read_quantity(text, Quantity(kind, "")), expected, rel_tol=tolerance)


@cache
def _general() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()
