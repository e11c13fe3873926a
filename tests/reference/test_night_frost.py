"""Freezing under a clear sky with the air above 0 °C, and convection at plates.

Sources:
V-F2  an owner's report of roof frost at 42 °F air, dew point 32 °F, calm, 4200 ft (read
      second-hand)
V-F3  1 L/m² at 70 W/m²: 4 to 0 °C in 4.0 min, solid in 1.33 h (reference notes)
Mono Basin, dry pan, August 2024: logger and air temperatures of five nights (read)
McAdams, Heat Transmission, Nusselt numbers of plates (from memory), with air of the iapws library
"""

from __future__ import annotations

import pytest
from iapws.humidAir import Air

from noonwater.physics.convection import (
    BOWEN_DOUBT,
    convection_coefficient_plate_up,
    convection_coefficient_watmuff,
)
from noonwater.physics.freezing import (
    cooling_time,
    freezing_coefficient_limit,
    freezing_time,
    temp_surface_dry,
)
from noonwater.physics.sky import emissivity_sky_berdahl_martin_mean, longwave_sky

ROOF_AIR = (42.0 - 32.0) / 1.8


def clear(air: float, dew: float) -> float:
    return longwave_sky(emissivity_sky_berdahl_martin_mean(dew), air)


def test_frost_on_a_roof() -> None:
    # V-F2: the sign, with any of the calm-air convections. Notes: freezes below 12.3 W/(m²·K).
    down = clear(ROOF_AIR, 0.0)
    for coefficient in (
        convection_coefficient_watmuff(0.0),
        convection_coefficient_plate_up(-1.0, ROOF_AIR, 1.0),
    ):
        assert temp_surface_dry(ROOF_AIR, down, 0.95, coefficient) < 0.0
    assert freezing_coefficient_limit(ROOF_AIR, down, 0.95) == pytest.approx(12.3, abs=0.5)


@pytest.mark.parametrize(
    ("air", "dew", "expected"), [(3.0, -4.0, 27.9), (5.0, -4.6, 15.7), (2.0, -1.1, 41.0)]
)
def test_limits_of_the_notes(air: float, dew: float, expected: float) -> None:
    # Dry surface, emissivity 0.95, humidity 60, 50, 80 % as dew points (psychrometric table).
    assert freezing_coefficient_limit(air, clear(air, dew), 0.95) == pytest.approx(
        expected, rel=0.03
    )


def test_dry_pan_at_mono_basin() -> None:
    # Logger -2.6 °C at air 2.0 °C and four other nights; net long-wave at 0 °C of -85 to -90 W/m²
    # by the notes, whose balance gave 15 to 20 W/(m²·K). 2 K: level of the sky's doubt.
    for logger, air in ((-0.8, 4.9), (0.2, 5.1), (-2.6, 2.0), (-3.4, 1.3), (-1.3, 3.0)):
        down = 0.95 * 315.66 - 87.5
        ours = temp_surface_dry(air, down / 0.95, 0.95, 17.5)
        assert ours == pytest.approx(logger, abs=2.0)


def test_time_of_a_film() -> None:
    # V-F3, 1 %.
    assert cooling_time(1.0, 4.0, 0.0, 70.0) / 60.0 == pytest.approx(4.0, rel=0.01)
    assert freezing_time(1.0, 70.0) / 3600.0 == pytest.approx(1.33, rel=0.01)


@pytest.mark.parametrize("temp", (0.0, 10.0, 25.0))
@pytest.mark.parametrize("excess", (-10.0, -3.0, 5.0, 20.0))
def test_plate_against_nusselt_numbers(temp: float, excess: float) -> None:
    # McAdams: 0.14 Ra^(1/3) warm, 0.27 Ra^(1/4) cold, side 2 m; properties of air from iapws. 6 %:
    # ours holds them at 10 °C.
    kelvin = temp + 0.5 * excess + 273.15
    air = Air(T=kelvin, P=0.101325)
    side = 2.0
    rayleigh = 9.80665 * abs(excess) * side**3 / kelvin / (air.nu * air.alfa)
    nusselt = 0.14 * rayleigh ** (1 / 3) if excess > 0.0 else 0.27 * rayleigh**0.25
    ours = convection_coefficient_plate_up(temp + excess, temp, side)
    assert ours == pytest.approx(nusselt * air.k / side, rel=0.06)


def test_bowen_doubt_is_the_ratio_of_the_two_pressures() -> None:
    assert pytest.approx(101.325 / 100.0 - 1.0, abs=5e-4) == BOWEN_DOUBT
