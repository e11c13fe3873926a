"""Controls in the loop: speed after a call, cooling, frost, water that stays, dry panels."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from noonwater.year import parameters as at
from noonwater.year.array import empty_array, heat_held, start_solar
from noonwater.year.calendar import cooling_of_step, season_of_step
from noonwater.year.dry_panels import dry_panel_extremes, dry_panel_temps
from noonwater.year.flows import period_flows
from noonwater.year.parameters import Inputs, resting_state
from noonwater.year.run import Run, run
from tests.years import made_inputs

PER_DAY = 288


def with_control(inputs: Inputs, **fields: Any) -> Inputs:
    return inputs._replace(control=inputs.control._replace(**fields))


def with_drivers(inputs: Inputs, **fields: Any) -> Inputs:
    return inputs._replace(drivers=inputs.drivers._replace(**fields))


def days(inputs: Inputs, first: int, count: int, pool: float) -> Run:
    air = float(inputs.drivers.temp_air[first * PER_DAY])
    return run(inputs, resting_state(pool, air, 2), first * PER_DAY, count * PER_DAY)


@pytest.fixture(scope="module")
def inputs() -> Inputs:
    return made_inputs()


def test_after_a_call_the_programs_speed_returns(inputs: Inputs) -> None:
    early = with_control(inputs, priming_time=0.0, on_difference=20.0, off_difference=17.0)
    record = days(early, 110, 1, 24.0).record
    running = record[:, at.SOLAR_TIME] == 3600.0
    stopped = (record[:, at.SOLAR_TIME] == 0.0) & (record[:, at.STARTS] == 0.0)
    late = stopped & (np.arange(24) >= 15) & (np.arange(24) < 17)
    assert running.any() and late.any()
    np.testing.assert_allclose(record[running, at.PUMP_ENERGY], 500.0 * 3600.0)
    np.testing.assert_allclose(record[late, at.PUMP_ENERGY], 300.0 * 3600.0)
    assert (record[17:, at.PUMP_ENERGY] == 0.0).all(), "after the program the pump stands"


def test_priming_takes_its_own_watts_at_each_start(inputs: Inputs) -> None:
    plain = days(with_control(inputs, priming_time=0.0), 110, 1, 24.0).record
    primed = days(inputs, 110, 1, 24.0).record
    starts = primed[:, at.STARTS].sum()
    more = primed[:, at.PUMP_ENERGY].sum() - plain[:, at.PUMP_ENERGY].sum()
    assert starts >= 1.0
    assert more == pytest.approx(starts * (900.0 - 500.0) * 180.0)


def hot_nights(inputs: Inputs) -> Inputs:
    drivers = inputs.drivers
    every = np.ones_like(drivers.cooling)
    return with_drivers(inputs, cooling=every, period=np.zeros_like(drivers.period))


def test_cooling_runs_at_night_down_to_its_target(inputs: Inputs) -> None:
    plain = with_control(hot_nights(inputs), target=25.0)
    cooled = days(with_control(plain, cooling_target=28.0), 190, 6, 31.0)
    warm = days(plain, 190, 6, 31.0)
    record = cooled.record
    assert record[:, at.COOLING_HEAT].sum() > 0.0
    assert record[:, at.POOL_TEMP].mean() < warm.record[:, at.POOL_TEMP].mean() - 0.2
    by_hour = record[:, at.COOLING_TIME].reshape(6, 24).sum(axis=0)
    assert by_hour[:6].sum() + by_hour[20:].sum() > 0.8 * by_hour.sum()
    cooling = record[:, at.COOLING_TIME] > 0.0
    assert record[cooling, at.POOL_TEMP].min() > 28.0 - inputs.control.deadband - 0.2
    assert record[:, at.POOL_TEMP].min() < 27.5, "below its target the night alone cools it"
    assert record[:, at.SOLAR_HEAT].sum() == 0.0
    delivered = record[:, at.SOLAR_HEAT].sum() - record[:, at.COOLING_HEAT].sum()
    assert cooled.ledger[at.DELIVERED] == pytest.approx(delivered, rel=1e-9)
    assert cooled.closure < 1e-6


def test_cooling_costs_the_pump_beyond_its_program(inputs: Inputs) -> None:
    plain = with_control(hot_nights(inputs), target=25.0, priming_time=0.0, cooling_target=28.0)
    record = days(plain, 190, 3, 31.0).record
    hours = record[:, at.COOLING_ENERGY] / ((500.0 - 300.0) * 3600.0)
    assert hours.sum() > 0.0
    used = record[:, at.PUMP_ENERGY].sum() - record[:, at.PUMP_ENERGY_WITHOUT].sum()
    assert record[:, at.COOLING_ENERGY].sum() == pytest.approx(used)


def with_circulation(inputs: Inputs, **fields: Any) -> Inputs:
    array = inputs.array
    twice = inputs._replace(
        array=array._replace(
            flow_capacity=np.vstack([array.flow_capacity, [[2000.0, 1000.0]]]),
            fill_time=np.array([90.0, 250.0]),
        )
    )
    return with_control(
        twice,
        power_filter=np.array([300.0, 0.0]),
        power_solar=np.array([500.0, 200.0]),
        solar_in_period=np.array([1, 0], dtype=np.int8),
        freeze_row=1,
        **fields,
    )


def test_circulation_against_frost_costs_power_and_heat(inputs: Inputs) -> None:
    cold = with_circulation(inputs, freeze_trip=11.0, target=5.0)
    done = days(cold, 5, 4, 16.0)
    none = days(with_control(inputs, target=5.0), 5, 4, 16.0)
    record = done.record
    hours = record[:, at.FREEZE_TIME].sum() / 3600.0
    assert 20.0 < hours < 96.0
    assert record[:, at.FREEZE_HEAT].sum() > 0.0, "wet panels at night take the pool's heat"
    assert done.end[at.POOL] < none.end[at.POOL]
    extra = record[:, at.PUMP_ENERGY].sum() - record[:, at.PUMP_ENERGY_WITHOUT].sum()
    assert record[:, at.FREEZE_ENERGY].sum() == pytest.approx(extra)
    at_night = record.reshape(4, 24, -1)[:, 2, :]
    assert (at_night[:, at.PUMP_ENERGY] > 0.0).all(), "it calls the pump outside the program"
    assert (at_night[:, at.PUMP_ENERGY_WITHOUT] == 0.0).all()
    assert done.closure < 1e-6


def test_no_circulation_above_the_trip(inputs: Inputs) -> None:
    record = days(with_circulation(inputs, freeze_trip=-5.0), 5, 4, 16.0).record
    assert record[:, at.FREEZE_TIME].sum() == 0.0


def test_a_valve_empties_resting_panels_before_frost(inputs: Inputs) -> None:
    full = inputs._replace(array=inputs.array._replace(drains=False))
    state = resting_state(12.0, 12.0, 2)
    held = float(full.array.capacity_water.sum() + full.array.pipe_water.sum())
    start_solar(state, full.array, 0.0, 0.0)
    state[at.BANKS :] = 4.0
    before = heat_held(state, full.pool, full.array)
    empty_array(state, full.array, full.pool, held)
    assert heat_held(state, full.pool, full.array) == pytest.approx(before, rel=1e-12)
    assert state[at.WET] == 0.0
    drained = days(with_control(full, drains_in_frost=True, freeze_trip=11.0), 20, 3, 12.0)
    assert drained.end[at.WET] == 0.0
    assert drained.closure < 1e-6
    assert days(full, 20, 3, 12.0).end[at.WET] == 1.0, "without it water stays"


def test_water_that_stays_brings_its_heat_at_the_next_start(inputs: Inputs) -> None:
    """Panels full of hot water at a start: the pool gets that heat, and no heat besides."""
    full = inputs._replace(array=inputs.array._replace(drains=False))
    done = days(full, 110, 5, 24.0)
    assert done.closure < 1e-6
    assert done.ledger[at.DELIVERED] == pytest.approx(done.record[:, at.SOLAR_HEAT].sum())
    state = resting_state(24.0, 18.0, 2)
    start_solar(state, full.array, 0.0, 0.0)
    state[at.BANKS :] = 60.0
    state[[at.RUNNING, at.SINCE]] = 0.0
    hot, cool = state.copy(), state.copy()
    cool[at.BANKS :] = 24.0
    noon = 110 * PER_DAY + 144
    more = [run(full, each, noon, 12).record[0, at.SOLAR_HEAT] for each in (hot, cool)]
    stored = float(full.array.capacity_water.sum() + full.array.capacity_dry.sum()) * 36.0
    assert 0.7 * stored < more[0] - more[1] < stored


def test_trapped_water_slows_panels_and_spares_refill() -> None:
    from noonwater.app.study import flows_by_period, surroundings_of
    from noonwater.year.prepare import prepare
    from tests.design_jobs import GOOD, changed

    around, flows = surroundings_of(GOOD, 900), flows_by_period(GOOD)
    plain = prepare(GOOD, around, flows).array
    kept = prepare(changed(array={"trapped_water": 0.25}), around, flows).array
    whole = plain.capacity_dry + plain.capacity_water
    np.testing.assert_allclose(kept.capacity_dry + kept.capacity_water, whole)
    np.testing.assert_allclose(kept.capacity_water, 0.75 * plain.capacity_water)
    assert (kept.fill_time < plain.fill_time).all()


def test_dry_panels_rest_where_gain_and_loss_meet(inputs: Inputs) -> None:
    drivers = inputs.drivers
    temps = dry_panel_temps(drivers)
    balance = drivers.bank_gain - drivers.bank_loss * (temps - drivers.temp_air)
    np.testing.assert_allclose(balance, 0.0, atol=1e-9)
    hottest, coldest = dry_panel_extremes(drivers, 12)
    assert hottest.argmax() in (5, 6) and coldest.argmin() in (0, 11)
    assert coldest.min() < float(drivers.temp_air.min()) - 1.5, "a night's sky is colder than air"


def test_a_resting_dry_bank_follows_it(inputs: Inputs) -> None:
    closed = with_drivers(inputs, season=np.zeros_like(inputs.drivers.season))
    record = days(closed, 180, 2, 24.0).record
    steps = dry_panel_temps(closed.drivers)[:, 180 * PER_DAY : 182 * PER_DAY]
    expected = np.average(steps, axis=0, weights=[20.0, 10.0]).reshape(48, 12).mean(axis=1)
    np.testing.assert_allclose(record[2:, at.ARRAY_TEMP], expected[2:], atol=1.5)


def test_a_rows_flow_and_watts_for_frost() -> None:
    rows = period_flows([[1e-3, 2e-3]], [300.0], [500.0], 900.0, [True], ([5e-4, 1e-3], 200.0))
    assert rows.freeze_row == 1
    np.testing.assert_allclose(rows.bank_flow, [[1e-3, 2e-3], [5e-4, 1e-3]])
    np.testing.assert_allclose(rows.power_solar, [500.0, 200.0])
    assert rows.solar.tolist() == [1, 0], "the program never heats at that row"
    dry = period_flows([[1e-3, 2e-3]], [300.0], [500.0], 900.0, [True], ([0.0, 0.0], 200.0))
    assert dry.freeze_row == -1, "a pump that doesn't lift the water can't circulate it"


def test_cooling_months_in_season() -> None:
    season = season_of_step("05-01", "09-30", 1)
    cooling = cooling_of_step((4, 7, 8), season, 1)
    assert cooling.sum() == (31 + 31) * 24
    assert not cooling_of_step((), season, 1).any()
