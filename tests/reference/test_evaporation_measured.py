"""Evaporation against measured pools and published tables.

Sources, as numbered in the project's reference notes:
V-E1, 2    Smith, Jones and Lof 1993, ASHRAE DE-93-12-3, quiet indoor pool (read)
V-E3, 4, 5 Smith, Lof and Jones, Solar Energy 53(1), 1994, 3-7, outdoor heated pool (abstract read)
V-E6       Smith, Lof and Jones, ASHRAE Trans. 104(1A), 1998, paper 4146 (read)
V-E7..16   Shah's table for quiet pools as embedded in public code (read second-hand); HPAC
           Engineering, 27 March 2013 (read)
V-E24      worked example of a public engineering reference (read second-hand)
"""

from __future__ import annotations

import pytest

from noonwater.physics.air import (
    density_dry_air,
    pressure_at_elevation,
    vapour_pressure_at_humidity,
    vapour_pressure_saturation,
)
from noonwater.physics.convection import convection_coefficient_bowen
from noonwater.physics.evaporation import (
    ACTIVITY_ASHRAE,
    EVAPORATION_FACTOR_HIGH,
    EVAPORATION_FACTOR_LOW,
    SWIMMERS_MEASURED,
    activity_factor,
    evaporation_coefficient,
    evaporation_coefficient_high,
    evaporation_coefficient_low,
    evaporation_coefficient_ryan_harleman,
    evaporation_heat,
    evaporation_rate,
)
from noonwater.physics.evaporation_formulas import (
    VDI_2089_TRANSFER,
    evaporation_coefficient_ashrae,
    evaporation_coefficient_iso_tr,
    evaporation_coefficient_mcmillan,
    evaporation_coefficient_penman,
    evaporation_coefficient_penman_1956,
    evaporation_coefficient_richter,
    evaporation_coefficient_rohwer,
    evaporation_coefficient_smith_lof_jones,
    evaporation_rate_humidity_form,
    evaporation_rate_shah_quiet,
    evaporation_rate_vdi_2089,
    evaporation_ratio_shah_occupied,
)
from noonwater.physics.sky import longwave_net

PRESSURE = 101325.0
STILL, WINDY = 63.7e-3, 213e-3
"""Outdoor pool at V near 0 and at 2.2 m/s [W/(m²·Pa)], ± 8 %."""

# Shah's five rows: water, air, evaporation [kg/(m²·h)], dry-air density difference [kg/m³]; 50 %.
SHAH = [
    (28.0, 28.0, 0.1360, 0.0219),
    (28.0, 30.0, 0.0968, 0.0116),
    (29.0, 29.0, 0.1463, 0.0231),
    (30.0, 28.0, 0.1959, 0.0347),
    (30.0, 30.0, 0.1575, 0.0244),
]


def colorado(wind_speed: float, temp_air: float) -> float:
    """Default coefficient at the Colorado pool; its temperatures are ours, not the paper's."""
    air = vapour_pressure_at_humidity(temp_air, 0.5)
    water = vapour_pressure_saturation(28.0)
    return evaporation_coefficient(
        wind_speed, 28.0, temp_air, water, air, pressure_at_elevation(1525.0)
    )


@pytest.mark.parametrize("wind_speed", (0.0, 1.0, 2.2))
def test_ashrae_is_its_us_equation(wind_speed: float) -> None:
    # Eq. 1 in its own units: (95 + 0.425 v) Btu/(h·ft²·inHg); unit conversion only.
    us = 95.0 + 0.425 * wind_speed / 0.00508
    expected = us * 1055.056 / 3600.0 / 0.09290304 / 3386.389
    assert evaporation_coefficient_ashrae(wind_speed) == pytest.approx(expected, rel=5e-4)


def indoor(temp_water: float, temp_air: float) -> tuple[float, float, float]:
    """Shah, default and ASHRAE [kg/(m²·h)] at V = 0 and 50 % humidity."""
    air = vapour_pressure_at_humidity(temp_air, 0.5)
    water = vapour_pressure_saturation(temp_water)
    default = evaporation_coefficient(0.0, temp_water, temp_air, water, air, PRESSURE)
    heats = [
        evaporation_heat(c, water, air) for c in (default, evaporation_coefficient_ashrae(0.0))
    ]
    shah = evaporation_rate_shah_quiet(temp_water, temp_air, air, PRESSURE)
    return 3600.0 * shah, *(3600.0 * evaporation_rate(heat, temp_water) for heat in heats)


def test_quiet_indoor_pool() -> None:
    # V-E1: 0.76 ± 0.045 of ASHRAE at V = 0; V-E2: 0.098 to 0.269 kg/(m²·h) over the tests, whose
    # conditions (here 27-29 °C water, 50 %) are ours.
    ratio = evaporation_coefficient_smith_lof_jones(0.0) / evaporation_coefficient_ashrae(0.0)
    assert ratio == pytest.approx(0.76, abs=0.045)
    for temps in ((27.0, 27.0), (28.0, 28.0), (29.0, 27.0)):
        assert 0.098 <= indoor(*temps)[0] <= 0.269
        assert 0.098 <= ratio * indoor(*temps)[2] <= 0.269


def test_shah_and_default_miss_the_quiet_indoor_pool_by_what_decision_0003_says() -> None:
    # Not a pass: V-E1 wants 0.76 ± 0.045. Shah fits other pools; the default needs air that is
    # cooler than the water, as outdoors at night, to move by itself.
    shah, default, ashrae = indoor(28.0, 28.0)
    assert shah / ashrae == pytest.approx(0.55, abs=0.01)
    assert default / ashrae == pytest.approx(0.39, abs=0.01)


def test_outdoor_pool_still() -> None:
    # V-E3: 0.72 of ASHRAE = 63.7 W/(m²·kPa) ± 8 %.
    assert evaporation_coefficient_smith_lof_jones(0.0) == pytest.approx(STILL, rel=0.08)
    ratio = evaporation_coefficient_smith_lof_jones(0.0) / evaporation_coefficient_ashrae(0.0)
    assert ratio == pytest.approx(0.72, abs=0.01)


def test_outdoor_pool_in_wind() -> None:
    # V-E4: 0.82 of ASHRAE (0.84 in a later version) = 213 W/(m²·kPa) ± 8 % at 2.2 m/s.
    assert evaporation_coefficient_smith_lof_jones(2.2) == pytest.approx(WINDY, rel=0.08)
    ratio = evaporation_coefficient_smith_lof_jones(2.2) / evaporation_coefficient_ashrae(2.2)
    assert ratio == pytest.approx(0.82, abs=0.02)


@pytest.mark.parametrize("temp_air", (5.0, 12.0, 19.0))
def test_range_of_the_default_holds_the_outdoor_pool(temp_air: float) -> None:
    still, windy = colorado(0.0, temp_air), colorado(2.2, temp_air)
    assert evaporation_coefficient_low(still) <= STILL <= evaporation_coefficient_high(still, 0.0)
    # The upper end is Smith-Lof-Jones, 1 % under the measured value, which is known to 8 %; the
    # factor alone reaches it as well.
    assert evaporation_coefficient_low(windy) <= WINDY
    assert EVAPORATION_FACTOR_HIGH * windy >= 0.92 * WINDY
    assert EVAPORATION_FACTOR_LOW * windy < windy < EVAPORATION_FACTOR_HIGH * windy
    assert evaporation_coefficient_high(windy, 2.2) >= 0.92 * WINDY


def test_default_misses_the_windy_pool_by_what_decision_0003_says() -> None:
    # Not a pass: V-E4 wants 1.00 ± 0.08. The wind of the measurement is read as the 2 m wind.
    assert colorado(2.2, 5.0) / WINDY == pytest.approx(0.70, abs=0.01)
    assert colorado(2.2, 19.0) / WINDY == pytest.approx(0.62, abs=0.01)


def test_ryan_harleman_constants_of_public_code() -> None:
    # 3.59 dTv^(1/3) + 4.26 u in W/(m²·mmHg), public code of a US reservoir model (read). The wind
    # constant there is 3 % above ours.
    per_pascal = 1.0 / 133.3224
    air, water = 1000.0, vapour_pressure_saturation(28.0)
    virtual = [(t + 273.0) / (1 - 0.378 * e / PRESSURE) for t, e in ((28.0, water), (20.0, air))]
    for wind in (0.0, 1.0, 5.0):
        expected = (3.59 * (virtual[0] - virtual[1]) ** (1 / 3) + 4.26 * wind) * per_pascal
        ours = evaporation_coefficient_ryan_harleman(wind, 28.0, 20.0, water, air, PRESSURE)
        assert ours == pytest.approx(expected, rel=0.032)


def test_bowen_split_of_overnight_losses() -> None:
    # V-E5: 56 % evaporation, 26 % radiation, 18 % convection, ± 6 points over two nights. The
    # nights' weather is ours: clear, water 28 °C, air 12 °C, half humid, 1525 m.
    pressure, air = pressure_at_elevation(1525.0), vapour_pressure_at_humidity(12.0, 0.5)
    water = vapour_pressure_saturation(28.0)
    coefficient = evaporation_coefficient_smith_lof_jones(0.8)
    evaporation = evaporation_heat(coefficient, water, air)
    convection = convection_coefficient_bowen(coefficient, pressure) * (28.0 - 12.0)
    radiation = -longwave_net(28.0, 0.73 * 5.67e-8 * 285.15**4, 0.95)
    total = evaporation + convection + radiation
    assert 100.0 * evaporation / total == pytest.approx(56.0, abs=6.0)
    assert 100.0 * radiation / total == pytest.approx(26.0, abs=6.0)
    assert 100.0 * convection / total == pytest.approx(18.0, abs=6.0)


def test_bowen_against_a_psychrometric_constant() -> None:
    # FAO 56 eq. 8 (from memory): 0.665e-3 P, equal transfer of heat and vapour; Bowen's constant
    # is 8 % lower because vapour diffuses faster than heat.
    for pressure in (80000.0, 101325.0):
        ours = convection_coefficient_bowen(0.1, pressure) / 0.1
        assert ours == pytest.approx(0.665e-3 * pressure, rel=0.11)
        assert ours < 0.665e-3 * pressure


def test_pool_in_use() -> None:
    # V-E6: 15-20 swimmers per 1000 ft²: 1.26 of ASHRAE, 1.70 of quiet (0.74 of ASHRAE), ± 10 %.
    # ASHRAE's factor of a public pool is 1: the measured pool in use is 26 % above that equation.
    factor = activity_factor(SWIMMERS_MEASURED)
    assert factor * 0.74 == pytest.approx(1.26 * ACTIVITY_ASHRAE["public"], rel=0.10)
    assert activity_factor(0.0) == 1.0


@pytest.mark.parametrize(("water", "air", "rate", "difference"), SHAH)
def test_shah_quiet(water: float, air: float, rate: float, difference: float) -> None:
    # V-E7..15: ± 1 % on the rate; the density difference is printed to 3 digits.
    vapour = vapour_pressure_at_humidity(air, 0.5)
    ours = 3600.0 * evaporation_rate_shah_quiet(water, air, vapour, PRESSURE)
    assert ours == pytest.approx(rate, rel=0.01)
    saturated = vapour_pressure_saturation(water)
    room, surface = (
        density_dry_air(air, vapour, PRESSURE),
        density_dry_air(water, saturated, PRESSURE),
    )
    assert room - surface == pytest.approx(difference, rel=0.02)


def test_shah_occupied() -> None:
    # V-E16: 28/28 °C, 50 %, 0.10 swimmers/m²: 1.970 and 0.268 kg/(m²·h), ± 1 %; the published US
    # form is 1.9 - 336 d_rho + 57 N with lb/ft³ and swimmers/ft².
    ratio = evaporation_ratio_shah_occupied(0.0219, 0.10)
    assert ratio == pytest.approx(1.970, rel=0.01)
    assert ratio * 0.1360 == pytest.approx(0.268, rel=0.01)
    us = 1.9 - 336.0 * 0.0219 / 16.01846 + 57.0 * 0.10 * 0.09290304
    assert ratio == pytest.approx(us, rel=0.01)


def test_vdi_quiet_pool_lies_by_the_measured_pool() -> None:
    # Both stand for a quiet indoor pool; no worked example at hand, so the bounds of V-E2 serve.
    vapour = vapour_pressure_at_humidity(30.0, 0.5)
    quiet = evaporation_rate_vdi_2089(VDI_2089_TRANSFER["quiet"], 28.0, 30.0, vapour)
    assert 0.08 <= 3600.0 * quiet <= 0.269


def test_humidity_form() -> None:
    # V-E24: (25 + 19·0.5)·500 m²·(0.019826 - 0.0115) = 143.6 kg/h = 0.0399 kg/s.
    rate = evaporation_rate_humidity_form(0.5, 0.019826, 0.0115)
    assert 500.0 * 3600.0 * rate == pytest.approx(143.6, rel=0.005)
    assert 500.0 * rate == pytest.approx(0.0399, rel=0.005)


@pytest.mark.parametrize("wind_speed", (0.0, 2.0))
def test_penman_in_an_evaporation_library(wind_speed: float) -> None:
    # 2.6 (1 + 0.536 u) mm/(day·kPa), documentation of an open evaporation library (read); its
    # latent heat is 2.45 MJ/kg. 6.43 against 6.37: 1 %.
    expected = 2.6 * (1.0 + 0.536 * wind_speed) * 2.45e6 / 86400.0 / 1000.0
    assert evaporation_coefficient_penman(wind_speed) == pytest.approx(expected, rel=0.012)


def test_rohwer_at_the_height_of_a_mountain_pan() -> None:
    # Reference notes: 1.13 times at 79.9 kPa against 101.3 kPa (computed there from the formula).
    high = evaporation_coefficient_rohwer(1.0, 20.0, 79900.0)
    assert high / evaporation_coefficient_rohwer(1.0, 20.0, 101325.0) == pytest.approx(
        1.13, abs=0.01
    )


def test_lake_formulas_lie_by_the_fits_to_measured_water() -> None:
    # Best fits to measured evaporation (reference notes): pan 62 + 21.4 u, lakes 2.5 + 28.4 u and
    # -0.9 + 21.9 u W/(m²·kPa). At 3 m/s these lake and pool formulas stay between the lowest
    # lake's 65 and twice the pan's 126.
    for formula in (
        evaporation_coefficient_mcmillan,
        evaporation_coefficient_richter,
        evaporation_coefficient_penman_1956,
        evaporation_coefficient_iso_tr,
    ):
        assert 0.065 <= formula(3.0) <= 0.252
