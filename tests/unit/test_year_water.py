"""One step of a pool against sums by hand."""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.year import parameters as at
from noonwater.year.balance import falling_losses, surface_losses
from noonwater.year.parameters import PoolFigures
from noonwater.year.water import Moment, flow_made_up, pump_heat, step_pool, step_twins

POOL = PoolFigures(40.0, 2.3e8, 101325.0, 0.05, 0.85, 0.05, ground_loss=2.0, refill=1.7e-3)
NOW = Moment(
    temp_air=18.0,
    vapour_pressure=1200.0,
    wind=1.0,
    longwave=330.0,
    sun=400.0,
    activity=1.3,
    falling=0.02,
    ground_gain=30.0,
    rain_gain=2.0,
    rain_flow=0.15,
    rain_heat=80.0,
    splash=4.0,
    temp_mains=14.0,
    bathers=25.0,
)
SCALE = 40.0 * 300.0


def state_at(temp: float) -> np.ndarray:
    return np.full(at.BANKS, temp)


def test_an_open_pool_takes_each_term_once() -> None:
    state, ledger = state_at(26.0), np.zeros(at.LEDGER)
    left = step_pool(state, ledger, at.POOL, POOL, NOW, False, 1e6, POOL.capacity, SCALE)
    surface = surface_losses(26.0, 18.0, 1200.0, 1.0, 330.0, 101325.0, 1.0, 1.3, 0.0)
    fallen = falling_losses(26.0, 18.0, 1200.0, 101325.0, 0.02)
    vapour = surface[0] + fallen[0]
    made_up = 4.0 + 1.7e-3 * (vapour - 80.0)
    gained = 400.0 + 30.0 - 2.0 * 26.0 + 2.0 - 0.15 * 26.0 + made_up * (14.0 - 26.0) + 25.0
    gained -= sum(surface) + sum(fallen)
    assert left == pytest.approx(vapour, rel=1e-12)
    assert state[at.POOL] == pytest.approx(26.0 + (gained * SCALE + 1e6) / POOL.capacity, rel=1e-13)
    assert ledger.sum() == pytest.approx(gained * SCALE, rel=1e-12)
    assert ledger[at.MADE_UP] == pytest.approx(made_up * -12.0 * SCALE, rel=1e-12)
    assert state[at.WITHOUT] == 26.0


def test_under_a_cover_falling_water_still_evaporates_and_bathers_stir_nothing() -> None:
    state, ledger = state_at(26.0), np.zeros(at.LEDGER)
    step_pool(state, ledger, at.POOL, POOL, NOW, True, 0.0, POOL.capacity, SCALE)
    covered = surface_losses(26.0, 18.0, 1200.0, 1.0, 330.0, 101325.0, 1.0, 0.05, 0.05)
    assert ledger[at.EVAPORATED] == pytest.approx(-covered[0] * SCALE, rel=1e-12)
    assert ledger[at.SUN] == pytest.approx(0.85 * 400.0 * SCALE, rel=1e-12)
    assert ledger[at.FALLING] < 0.0


def test_rain_is_made_up_before_the_mains() -> None:
    assert flow_made_up(POOL, NOW, 60.0) == 4.0, "it rains more than evaporates: splash alone"
    assert flow_made_up(POOL, NOW, 180.0) == pytest.approx(4.0 + 0.17)


def test_falling_water_warms_in_damp_warm_air() -> None:
    evaporated, convected = falling_losses(15.0, 30.0, 3500.0, 101325.0, 0.05)
    assert evaporated < 0.0
    assert convected < 0.0


def test_twins_share_the_step_and_only_the_bare_one_goes_without_the_cover() -> None:
    state, ledger = state_at(26.0), np.zeros(at.LEDGER)
    twins = np.array([1, 1, 0, 1], dtype=np.int8)
    heated = POOL._replace(pump_heat=0.75)
    step_twins(state, ledger, twins, heated, NOW, True, 1e5, SCALE)
    assert state[at.POOL] == state[at.HEATER_ONLY] == 26.0
    assert state[at.BARE] < state[at.WITHOUT]
    for twin in (at.WITHOUT, at.BARE):
        assert ledger[at.KINDS * twin + at.PUMPED] == 0.75e5


def test_pump_heat_is_booked() -> None:
    ledger = np.zeros(at.LEDGER)
    assert pump_heat(ledger, at.BARE, 0.5, 200.0) == 100.0
    assert ledger[at.KINDS * at.BARE + at.PUMPED] == ledger.sum() == 100.0
