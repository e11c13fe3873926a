"""The compiled loop against its own lines uncompiled, its ledger, filling and draining."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from noonwater.year import parameters as at
from noonwater.year.array import heat_held, start_solar, stop_solar
from noonwater.year.loop import run_steps
from noonwater.year.parameters import Inputs, only_designed, resting_state
from noonwater.year.run import STRETCH_DAYS, days_to_target, drift, run, settled_year
from tests.years import made_inputs, with_heater, with_spa, with_terms

STEPS_PER_DAY = 288


@pytest.fixture(scope="module")
def inputs() -> Inputs:
    return made_inputs()


def everything() -> Inputs:
    """Four pools, all that comes to them, a heater and a spa."""
    return with_spa(with_heater(with_terms(made_inputs()), 27.0, 8e3, 1.0))


@pytest.mark.parametrize("made", [made_inputs, everything])
def test_uncompiled_lines_give_the_same_two_days(made: Callable[[], Inputs]) -> None:
    inputs = made()
    start = resting_state(22.0, 18.0, 2)
    compiled = run(inputs, start, 100 * STEPS_PER_DAY, 2 * STEPS_PER_DAY)
    state, record, ledger = start.copy(), np.zeros((48, at.RECORD)), np.zeros(at.LEDGER)
    run_steps.py_func(inputs, 100 * STEPS_PER_DAY, 2 * STEPS_PER_DAY, 12, state, record, ledger)
    np.testing.assert_allclose(compiled.end, state, rtol=1e-12)
    np.testing.assert_allclose(compiled.record, record, rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(compiled.ledger, ledger, rtol=1e-9, atol=1e-3)
    assert compiled.record[:, at.SOLAR_HEAT].sum() > 0.0


@pytest.mark.parametrize("made", [made_inputs, everything])
def test_heat_balance_closes_and_the_year_meets_itself(made: Callable[[], Inputs]) -> None:
    year = settled_year(made())
    assert year.closure < 1e-12
    assert drift(year) <= 0.01
    assert year.ledger[at.DELIVERED] == pytest.approx(year.record[:, at.SOLAR_HEAT].sum(), rel=1e-9)


def test_the_ledger_would_see_a_leak(inputs: Inputs) -> None:
    """The closure is no tautology: heat that appears from nowhere shows."""
    leaky = inputs._replace(pool=inputs.pool._replace(capacity=inputs.pool.capacity * 1.001))
    year = settled_year(inputs)
    from noonwater.year.run import closure

    start = year.start.copy()
    start[at.POOL] += 1.0
    assert closure(leaky, start, year.end, year.ledger) > 1e-6


@pytest.mark.parametrize("drains", [True, False])
def test_filling_and_draining_keep_the_heat(inputs: Inputs, drains: bool) -> None:
    array = inputs.array._replace(drains=drains)
    state = resting_state(27.0, 45.0, 2)
    held = float(array.capacity_water.sum() + array.pipe_water.sum())
    before = heat_held(state, inputs.pool, array)
    start_solar(state, array, 60.0, 180.0)
    assert heat_held(state, inputs.pool, array) == pytest.approx(before, rel=1e-12)
    assert 27.0 < state[at.BANKS] < 45.0, "hot dry panels warm the water that fills them"
    state[at.BANKS :] = 35.0
    filled = heat_held(state, inputs.pool, array)
    stop_solar(state, array, inputs.pool, held)
    assert heat_held(state, inputs.pool, array) == pytest.approx(filled, rel=1e-12)
    assert state[at.WET] == (0.0 if drains else 1.0)
    assert (state[at.POOL] > 27.0) == drains, "drained warm water reaches the pool"


def test_a_pool_below_freezing_shows_ice_not_supercooled_water(inputs: Inputs) -> None:
    cold = inputs.drivers._replace(
        temp_air=np.full_like(inputs.drivers.temp_air, -15.0),
        pool_sun=np.zeros_like(inputs.drivers.pool_sun),
    )
    water = inputs.water._replace(temp_over_water=cold.temp_air)
    end = run(
        inputs._replace(drivers=cold, water=water),
        resting_state(1.0, -15.0, 2),
        0,
        20 * STEPS_PER_DAY,
    )
    assert end.record[:, at.POOL_TEMP].min() == 0.0
    assert end.end[at.WITHOUT] < 0.0, "the heat state counts the ice"


def test_a_month_has_its_ledger_and_all_of_them_the_year(inputs: Inputs) -> None:
    year = settled_year(inputs)
    month = run(inputs, year.start, 0, 31 * STEPS_PER_DAY)
    np.testing.assert_allclose(year.ledgers[0], month.ledger, rtol=1e-12)
    np.testing.assert_allclose(year.ledgers.sum(axis=0), year.ledger, rtol=1e-12)
    assert year.ledgers.shape == (12, at.LEDGER)


def test_twins_leave_the_designed_pool_alone() -> None:
    inputs, start = everything(), resting_state(22.0, 18.0, 2)
    whole = run(inputs, start, 100 * STEPS_PER_DAY, 2 * STEPS_PER_DAY)
    alone = run(
        inputs._replace(twins=only_designed()), start, 100 * STEPS_PER_DAY, 2 * STEPS_PER_DAY
    )
    np.testing.assert_array_equal(whole.record[:, at.POOL_TEMP], alone.record[:, at.POOL_TEMP])
    assert alone.end[at.WITHOUT] == start[at.WITHOUT] != whole.end[at.WITHOUT]


def test_valve_travel_and_filling_cost_flow_time(inputs: Inputs) -> None:
    slow = inputs._replace(control=inputs.control._replace(valve_travel=3600.0))
    start = resting_state(22.0, 18.0, 2)
    quick_day = run(inputs, start, 100 * STEPS_PER_DAY, STEPS_PER_DAY).record
    slow_day = run(slow, start, 100 * STEPS_PER_DAY, STEPS_PER_DAY).record
    lost = quick_day[:, at.SOLAR_TIME].sum() - slow_day[:, at.SOLAR_TIME].sum()
    starts = slow_day[:, at.STARTS].sum()
    assert lost == pytest.approx(starts * (3600.0 - 35.0), abs=900.0)


def test_no_season_no_solar(inputs: Inputs) -> None:
    closed = inputs._replace(
        drivers=inputs.drivers._replace(season=np.zeros_like(inputs.drivers.season))
    )
    year = run(closed, resting_state(22.0, 18.0, 2), 0, 365 * STEPS_PER_DAY)
    assert year.record[:, at.SOLAR_TIME].sum() == 0.0
    np.testing.assert_allclose(
        year.record[:, at.POOL_TEMP], year.record[:, at.POOL_TEMP_WITHOUT], rtol=1e-12
    )


def test_days_to_target_in_stretches_are_those_of_one_long_run(inputs: Inputs) -> None:
    without = settled_year(inputs).record[:, at.POOL_TEMP_WITHOUT]
    found = []
    for opening, days in ((0, 200), (100, 90), (330, 60)):
        for target in (15.0, 24.0, 29.0, 45.0):
            wanted = inputs._replace(control=inputs.control._replace(target=target))
            state = resting_state(
                float(without[24 * opening]),
                float(inputs.drivers.temp_air[opening * STEPS_PER_DAY]),
                len(inputs.array.area),
            )
            season = run(wanted, state, opening * STEPS_PER_DAY, days * STEPS_PER_DAY).record
            warm = np.flatnonzero(season[:, at.POOL_TEMP] >= target)
            expected = float(warm[0]) / 24.0 if len(warm) else None
            assert days_to_target(wanted, without, opening, days) == (expected, state[at.POOL])
            found.append(expected)
    assert None in found
    assert any(each is not None and each > STRETCH_DAYS for each in found)
