"""Signs, limits, monotony and round trips of the heat functions over their declared ranges."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from noonwater.physics.air import (
    density_dry_air,
    density_moist_air,
    dew_point,
    humidity_ratio,
    pressure_at_elevation,
    vapour_pressure_at_humidity,
    vapour_pressure_saturation,
)
from noonwater.physics.collector import (
    collector_gain,
    collector_heat_quasi_dynamic,
    collector_heat_steady,
    heat_of_bank,
    temp_after,
    temp_outlet_bank,
    temp_stagnation,
)
from noonwater.physics.collector_rating import (
    coefficients_quasi_dynamic,
    efficiency_still_air,
    flow_factor,
    iam_ashrae,
    loss_coefficient_from_inlet,
)
from noonwater.physics.convection import convection_coefficient_plate_up
from noonwater.physics.cover import covered_conductance, covered_dry_share
from noonwater.physics.evaporation import (
    evaporation_coefficient,
    evaporation_coefficient_high,
    evaporation_coefficient_low,
    evaporation_heat,
)
from noonwater.physics.freezing import freezing_coefficient_limit, temp_surface_dry
from noonwater.physics.pool_sun import (
    absorptance_pool,
    absorptance_pool_beam,
    reflectance_surface,
    transmittance_water,
)
from noonwater.physics.sky import (
    emissivity_cloudy,
    emissivity_sky_berdahl_martin_mean,
    emissivity_sky_walton,
    longwave_emitted,
    longwave_net,
    longwave_on_tilt,
    longwave_sky,
    temp_sky,
)
from noonwater.physics.water import density_water, latent_heat, viscosity_water
from noonwater.physics.wind import wind_speed_log_law

water_temps = st.floats(0.0, 45.0)
air_temps = st.floats(-25.0, 48.0)
humidities = st.floats(0.02, 1.0)
winds = st.floats(0.0, 12.0)
pressures = st.floats(65000.0, 105000.0)
steps = st.floats(0.05, 5.0)
suns = st.floats(0.0, 1200.0)
excesses = st.floats(-150.0, 20.0)
losses = st.floats(0.5, 40.0)
flows = st.floats(1.0, 1000.0)


def coefficient(
    wind: float, water: float, air: float, humidity: float, pressure: float
) -> tuple[float, float, float]:
    saturated = vapour_pressure_saturation(water)
    vapour = vapour_pressure_at_humidity(air, humidity)
    per_pascal = evaporation_coefficient(wind, water, air, saturated, vapour, pressure)
    return per_pascal, saturated, vapour


@given(winds, water_temps, air_temps, humidities, pressures, steps)
def test_wind_never_lowers_evaporation(
    wind: float, water: float, air: float, humidity: float, pressure: float, more: float
) -> None:
    calm, saturated, vapour = coefficient(wind, water, air, humidity, pressure)
    windy, _, _ = coefficient(wind + more, water, air, humidity, pressure)
    assert windy > calm >= 0.0
    heat = evaporation_heat(calm, saturated, vapour)
    assert heat == 0.0 or math.copysign(1.0, heat) == math.copysign(1.0, saturated - vapour)
    if saturated > vapour:
        assert evaporation_heat(windy, saturated, vapour) >= heat


@given(winds, water_temps, air_temps, humidities, pressures)
def test_range_holds_the_default(
    wind: float, water: float, air: float, humidity: float, pressure: float
) -> None:
    default, _, _ = coefficient(wind, water, air, humidity, pressure)
    assert evaporation_coefficient_low(default) <= default
    assert default < evaporation_coefficient_high(default, wind)


@given(winds, st.floats(0.0, 40.0), air_temps, humidities, pressures, steps)
def test_warmer_water_evaporates_more(
    wind: float, water: float, air: float, humidity: float, pressure: float, more: float
) -> None:
    heat = evaporation_heat(*coefficient(wind, water, air, humidity, pressure))
    warmer = evaporation_heat(*coefficient(wind, water + more, air, humidity, pressure))
    assume(heat >= 0.0)
    assert warmer >= heat


@given(st.floats(-40.0, 99.0), steps)
def test_saturation_rises_and_inverts(temp: float, more: float) -> None:
    pressure = vapour_pressure_saturation(temp)
    assert vapour_pressure_saturation(temp + more) > pressure
    assert dew_point(pressure) == pytest.approx(temp, abs=1e-9)


@given(st.floats(-20.0, 45.0), humidities, pressures)
def test_moist_air_is_lighter_than_dry(temp: float, humidity: float, pressure: float) -> None:
    vapour = vapour_pressure_at_humidity(temp, humidity)
    dry = density_dry_air(temp, vapour, pressure)
    mixture = density_moist_air(temp, vapour, pressure)
    assert dry < mixture < density_moist_air(temp, 0.0, pressure)
    assert mixture == pytest.approx(dry * (1.0 + humidity_ratio(vapour, pressure)), rel=1e-5)


@given(st.floats(-400.0, 5000.0), st.floats(1.0, 500.0))
def test_pressure_falls_with_height(elevation: float, more: float) -> None:
    assert pressure_at_elevation(elevation + more) < pressure_at_elevation(elevation)


@given(st.floats(5.0, 98.0), steps)
def test_water_gets_lighter_thinner_and_easier_to_evaporate(temp: float, more: float) -> None:
    assert density_water(temp + more) < density_water(temp)
    assert viscosity_water(temp + more) < viscosity_water(temp)
    assert latent_heat(temp + more) < latent_heat(temp)


@given(winds, st.floats(2.0, 30.0), st.floats(0.5, 30.0), st.floats(0.0002, 1.5))
def test_log_law_returns(speed: float, low: float, high: float, roughness: float) -> None:
    assume(low > 1.3 * roughness and high > 1.3 * roughness)
    there = wind_speed_log_law(speed, low, high, roughness, roughness)
    back = wind_speed_log_law(there, high, low, roughness, roughness)
    assert back == pytest.approx(speed, rel=1e-9, abs=1e-12)
    assert (there >= speed) == (high >= low) or there == pytest.approx(speed)


@given(air_temps, st.floats(-60.0, 30.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_sky_stays_below_black(air: float, dew: float, cover: float, factor: float) -> None:
    assume(dew <= air)
    clear = emissivity_sky_berdahl_martin_mean(dew)
    cloudy = emissivity_cloudy(clear, cover, factor)
    assert 0.5 < clear <= cloudy <= 1.0
    assert longwave_sky(cloudy, air) <= longwave_emitted(air, 1.0) + 1e-9
    assert temp_sky(longwave_sky(cloudy, air)) <= air + 1e-6
    assert emissivity_sky_walton(dew, air, cover) >= emissivity_sky_walton(dew, air, 0.0)


@given(air_temps, steps, st.floats(100.0, 450.0), st.floats(0.1, 1.0))
def test_net_longwave_falls_with_surface_temperature(
    temp: float, more: float, down: float, emissivity: float
) -> None:
    assert longwave_net(temp + more, down, emissivity) < longwave_net(temp, down, emissivity)
    assert longwave_net(temp_sky(down), down, emissivity) == pytest.approx(0.0, abs=1e-6)


@given(st.floats(100.0, 450.0), st.floats(100.0, 500.0), st.floats(0.0, 90.0))
def test_tilt_lies_between_sky_and_ground(sky: float, ground: float, tilt: float) -> None:
    plane = longwave_on_tilt(sky, ground, tilt)
    assert min(sky, ground) - 1e-9 <= plane <= max(sky, ground) + 1e-9


@given(suns, air_temps, air_temps, winds, excesses, steps)
def test_collector_heat_falls_with_water_temperature(
    sun: float, water: float, air: float, wind: float, excess: float, more: float
) -> None:
    def heat(temp: float) -> float:
        return collector_heat_steady(sun, temp, air, wind, excess, 0.85, 0.02, 14.0, 2.0)

    assert heat(water + more) < heat(water)
    assert collector_gain(sun + 1.0, wind, excess, 0.85, 0.02) >= collector_gain(
        sun, wind, excess, 0.85, 0.02
    )


@given(suns, air_temps, air_temps, excesses, st.floats(0.3, 0.95), st.floats(0.0, 0.07))
def test_both_collector_equations_agree_at_3_m_s(
    sun: float, water: float, air: float, excess: float, eta0: float, bu: float
) -> None:
    steady = collector_heat_steady(sun, water, air, 3.0, excess, eta0, bu, 14.0, 2.0)
    c1, c3, c4, c6 = coefficients_quasi_dynamic(eta0, bu, 14.0, 2.0)
    dynamic = collector_heat_quasi_dynamic(
        sun, sun, water, air, 3.0, excess, 0.0, eta0, c1, 0.0, c3, c4, 0.0, c6
    )
    assert dynamic == pytest.approx(steady, abs=1e-9)


@given(st.floats(-150.0, 1000.0), losses, air_temps, air_temps, flows)
def test_bank_conserves_energy_and_stays_in_bounds(
    gain: float, loss: float, inlet: float, air: float, flow: float
) -> None:
    outlet = temp_outlet_bank(gain, loss, inlet, air, flow)
    heat = heat_of_bank(gain, loss, inlet, air, flow)
    settled = temp_stagnation(gain, loss, air)
    assert heat == pytest.approx(flow * (outlet - inlet), rel=1e-6, abs=1e-6)
    assert min(inlet, settled) - 1e-6 <= outlet <= max(inlet, settled) + 1e-6
    more = heat_of_bank(gain, loss, inlet, air, 1.5 * flow)
    assert abs(more) >= abs(heat) - 1e-9


@given(st.floats(-150.0, 1000.0), losses, air_temps, air_temps, flows)
def test_two_half_banks_in_series_are_one(
    gain: float, loss: float, inlet: float, air: float, flow: float
) -> None:
    middle = temp_outlet_bank(gain, loss, inlet, air, 2.0 * flow)
    outlet = temp_outlet_bank(gain, loss, middle, air, 2.0 * flow)
    assert outlet == pytest.approx(temp_outlet_bank(gain, loss, inlet, air, flow), abs=1e-6)


@given(losses, st.floats(50.0, 1000.0), flows)
def test_flow_factor(loss: float, test: float, use: float) -> None:
    factor = flow_factor(loss, use, test)
    assert (factor >= 1.0 - 1e-9) if use >= test else (factor <= 1.0 + 1e-9)
    assert loss_coefficient_from_inlet(loss, loss + test) > loss


@given(st.floats(0.4, 1.0), st.floats(0.0, 4.5), st.floats(0.0, 0.067), st.floats(-100.0, 0.0))
def test_still_air_efficiency_is_not_below_the_tested(
    efficiency: float, wind: float, bu: float, excess: float
) -> None:
    assert efficiency_still_air(efficiency, wind, bu, excess, 900.0) >= efficiency - 1e-12


@given(st.floats(0.0, 95.0), st.floats(-0.25, 0.0), st.floats(-0.02, 0.15))
def test_angle_modifier_stays_sane(angle: float, slope: float, curve: float) -> None:
    assert 0.0 <= iam_ashrae(angle, slope, curve) <= 1.15


@given(air_temps, air_temps, st.floats(1.0, 1e5), st.floats(1.0, 1e5))
def test_lag_never_overshoots(start: float, end: float, time: float, constant: float) -> None:
    temp = temp_after(start, end, time, constant)
    assert min(start, end) - 1e-9 <= temp <= max(start, end) + 1e-9


@given(st.floats(0.0, 0.8), st.floats(0.2, 4.0), steps)
def test_pool_absorbs_more_when_deeper_or_darker(floor: float, depth: float, more: float) -> None:
    here = absorptance_pool(floor, depth)
    assert 0.0 < here < 1.0
    assert absorptance_pool(floor, depth + more) >= here - 1e-12
    assert absorptance_pool(floor + 0.1, depth) <= here + 1e-12
    assert transmittance_water(depth + more) < transmittance_water(depth)


@given(st.floats(0.0, 0.8), st.floats(0.2, 4.0), st.floats(0.0, 90.0))
def test_beam_share_and_surface_bounds(floor: float, depth: float, incidence: float) -> None:
    assert 0.0 <= reflectance_surface(incidence) <= 1.0
    assert -1e-12 <= absorptance_pool_beam(floor, depth, incidence) < 1.0


@given(st.floats(0.0, 1.0), st.floats(0.5, 60.0))
def test_cover_only_insulates(resistance: float, top: float) -> None:
    assert covered_conductance(resistance, top) <= top
    share = covered_dry_share(resistance, top)
    assert covered_conductance(resistance, top) == pytest.approx(share * top)


@given(st.floats(0.5, 15.0), st.floats(180.0, 330.0), st.floats(0.5, 60.0))
def test_dry_surface_freezes_just_below_the_limit(
    air: float, down: float, convection: float
) -> None:
    limit = freezing_coefficient_limit(air, down, 0.95)
    temp = temp_surface_dry(air, down, 0.95, convection)
    assume(abs(convection - limit) > 0.02 * abs(limit) + 0.02)
    assert (temp < 0.0) == (convection < limit)
    balance = longwave_net(temp, down, 0.95) + convection * (air - temp)
    assert balance == pytest.approx(0.0, abs=0.01 * (convection + 5.0))


@given(st.floats(-20.0, 30.0), st.floats(0.1, 30.0), st.floats(0.5, 10.0))
def test_warm_plate_convects_more_than_a_cold_one(air: float, excess: float, side: float) -> None:
    warm = convection_coefficient_plate_up(air + excess, air, side)
    assert warm > convection_coefficient_plate_up(air - excess, air, side) > 0.0 or excess < 1.0
