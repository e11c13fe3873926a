"""What holds of any night: signs, limits, order."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from noonwater.catalog import panel_named
from noonwater.climate.sun import PlaneSun, WeatherSteps
from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.physics.ice import heat_standing, ice_share, latent_of_water, temp_standing
from noonwater.year.night_bodies import FLEXIBLE, RIGID, Body
from noonwater.year.night_dates import Span, ranked_span, span_of
from noonwater.year.night_loop import body_years
from noonwater.year.night_rows import DAYS, beyond_bearing
from noonwater.year.panels import coefficients, panel_drivers

AIR = st.floats(-15.0, 25.0)
NET = st.floats(-130.0, 0.0)
WIND = st.floats(0.0, 6.0)
HEAT = st.floats(-3e6, 3e5)
REST = st.floats(-30.0, 40.0)
LOSS = st.floats(2.0, 40.0)
MASS = st.floats(0.0, 12.0)
NIGHTS = st.lists(st.booleans(), min_size=DAYS, max_size=DAYS).map(np.array)


def dry_temp(air: float, net: float, wind: float) -> float:
    one = np.ones(1)
    sky = STEFAN_BOLTZMANN * (air + KELVIN) ** 4 + net
    steps = WeatherSteps(3600, air * one, air * one, one, wind * one, one, sky * one)
    dark = PlaneSun(0.0 * one, 0.0 * one, 0.0 * one, 0.0 * one)
    gain, loss = panel_drivers(coefficients(panel_named("tube 4x10")), dark, steps, 18.0, 1.0)
    return float(air + gain[0] / loss[0])


@given(AIR, NET, NET, WIND)
def test_a_clearer_sky_is_never_warmer(air: float, net: float, other: float, wind: float) -> None:
    clear, cloudy = sorted((net, other))
    assert dry_temp(air, clear, wind) <= dry_temp(air, cloudy, wind) + 1e-9


@given(AIR, NET, WIND, WIND)
def test_more_wind_brings_the_panel_nearer_to_the_air(
    air: float, net: float, wind: float, other: float
) -> None:
    less, more = sorted((wind, other))
    assert abs(dry_temp(air, net, more) - air) <= abs(dry_temp(air, net, less) - air) + 1e-9


@given(AIR, NET, WIND)
def test_a_panel_lies_between_sky_and_air(air: float, net: float, wind: float) -> None:
    # 0.05 K: what lies below the horizon sends 95 % of a black body at air temperature.
    sky = STEFAN_BOLTZMANN * (air + KELVIN) ** 4 + net
    temp_sky = (sky / STEFAN_BOLTZMANN) ** 0.25 - KELVIN
    assert temp_sky - 0.05 <= dry_temp(air, net, wind) <= air + 1e-9


def figures(mass: float) -> tuple[float, float, float]:
    return 4600.0 + 4200.0 * mass, 4600.0 + 2097.0 * mass, latent_of_water(mass)


@given(HEAT, REST, LOSS, MASS, st.floats(1.0, 7200.0))
def test_a_step_goes_towards_rest_and_never_beyond(
    heat: float, rest: float, loss: float, mass: float, time: float
) -> None:
    capacity, frozen, latent = figures(mass)
    before = temp_standing(heat, capacity, frozen, latent)
    after = heat_standing(heat, rest, loss, time, capacity, frozen, latent)
    temp = temp_standing(after, capacity, frozen, latent)
    assert math.isfinite(after)
    assert min(before, rest) - 1e-9 <= temp <= max(before, rest) + 1e-9
    assert 0.0 <= ice_share(after, latent) <= 1.0
    if rest > before:
        assert after >= heat - 1e-6
    if rest < before:
        assert after <= heat + 1e-6


@given(HEAT, REST, LOSS, MASS, st.floats(1.0, 3600.0), st.integers(2, 9))
def test_a_step_cut_in_parts_is_the_same_step(
    heat: float, rest: float, loss: float, mass: float, time: float, parts: int
) -> None:
    capacity, frozen, latent = figures(mass)
    whole = heat_standing(heat, rest, loss, time, capacity, frozen, latent)
    cut = heat
    for _ in range(parts):
        cut = heat_standing(cut, rest, loss, time / parts, capacity, frozen, latent)
    assert math.isclose(whole, cut, rel_tol=1e-7, abs_tol=1.0)


@given(st.floats(-25.0, 20.0), st.floats(0.0, 15.0), st.floats(-120.0, 0.0), LOSS, MASS)
def test_flexible_panels_are_never_at_risk_where_rigid_ones_are_not(
    mean: float, swing: float, gain: float, loss: float, mass: float
) -> None:
    hours = np.arange(8760.0)
    air = mean + swing * np.cos(2.0 * np.pi * hours / 24.0)
    steady = np.full(8760, 1.0)
    told = [
        body_years(
            [Body("", "", "", bearing, gain * steady, loss * steady, 4600.0, mass, 1.0)], air, 3600
        )
        for bearing in (RIGID, FLEXIBLE)
    ]
    rigid, flexible = (beyond_bearing(each[0]) for each in told)
    assert not np.any(flexible & ~rigid)


@given(st.floats(0.0, 15.0), st.floats(0.0, 15.0), st.floats(-60.0, 0.0), LOSS, MASS)
def test_nothing_freezes_where_air_and_sky_are_warm(
    swing: float, above: float, gain: float, loss: float, mass: float
) -> None:
    hours = np.arange(8760.0)
    air = 0.01 + above - gain / loss + swing * (1.0 + np.cos(2.0 * np.pi * hours / 24.0))
    steady = np.full(8760, 1.0)
    body = Body("", "", "", RIGID, gain * steady, loss * steady, 4600.0, mass, 1.0)
    year = body_years([body], air, 3600)[0]
    assert year.ice.max() == 0.0
    assert year.temp.min() >= 0.0


@given(NIGHTS)
def test_no_night_freezes_between_reopening_and_draining(nights: np.ndarray) -> None:
    span = span_of(nights)
    if span is None:
        assert not nights.any()
        return
    free = (span.first - span.last) % DAYS
    open_days = (span.last + np.arange(free)) % DAYS
    assert not nights[open_days].any()
    assert nights[span.first]
    assert nights[(span.last - 1) % DAYS]


@given(st.integers(0, 364), st.integers(1, 200), st.integers(0, 364))
def test_dates_move_with_the_seasons(first: int, length: int, moved: int) -> None:
    nights = np.zeros(DAYS, dtype=bool)
    nights[(first + np.arange(length)) % DAYS] = True
    span = span_of(np.roll(nights, moved))
    assert span == Span((first + moved) % DAYS, (first + length + moved) % DAYS)


@given(st.lists(st.integers(0, 60), min_size=19, max_size=19), st.integers(0, 364))
def test_rarer_winters_freeze_earlier_and_later(early: list[int], moved: int) -> None:
    years = []
    for shift in early:
        nights = np.zeros(DAYS, dtype=bool)
        nights[280 - shift : 360] = True
        years.append(np.roll(nights, moved))
    often, seldom = ranked_span(years, 5.0), ranked_span(years, 20.0)
    assert often is not None
    assert seldom is not None
    assert (seldom.first - moved) % DAYS <= (often.first - moved) % DAYS
    # One winter of twenty is the earliest of nineteen.
    assert (seldom.first - moved) % DAYS == 280 - max(early)
