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


def at_clock(text: str) -> int:
    hours, minutes = text.split(":")
    return int(hours) * 12 + int(minutes) // 5


def day_by_hand(inputs: Inputs, felt: dict[str, float], **control: float) -> Run:
    """A day of a pool that stays at 24 °C, with a sensor that feels what is told from a time on."""
    offset = np.zeros(PER_DAY)
    for clock, temp in felt.items():
        offset[at_clock(clock) :] = temp
    stiff = 1e9
    whole = np.tile(offset, 365) - inputs.drivers.temp_air
    told = with_drivers(inputs, sensor_gain=stiff * whole, sensor_loss=np.full_like(whole, stiff))
    pool = inputs.pool._replace(capacity=1e15)
    return days(with_control(told._replace(pool=pool), **control), 110, 1, 24.0)


CLOUDY_DAY = {"00:00": 20.0, "09:00": 28.9, "10:00": 29.1, "11:00": 26.1, "13:00": 25.9}
"""Pool 24 °C, on at 5 K, off at 2 K: starts at 10:00, goes on at 11:00, stops at 13:00. The sensor
is read at a step's end, so each comes a step, five minutes, later."""
DELAY = 35.0 + 90.0
"""[s] Valve from stop to stop, and filling: no water on the roof yet."""


def test_a_cloudy_day_by_hand_on_and_off(inputs: Inputs) -> None:
    record = day_by_hand(inputs, CLOUDY_DAY).record
    assert record[:, at.STARTS].sum() == 1.0
    by_hour = record[:, at.SOLAR_TIME]
    assert by_hour[10] == pytest.approx(55 * 60.0 - DELAY)
    assert by_hour[11] == by_hour[12] == pytest.approx(3600.0)
    assert by_hour[13] == pytest.approx(300.0)
    assert by_hour.sum() == pytest.approx(3 * 3600.0 - DELAY)
    # Watts by hand: 9 h of the program, 500 W for 3 h of it in place of 300 W, 180 s of 900 W.
    energy = 300.0 * 6 * 3600.0 + 500.0 * (3 * 3600.0 - 180.0) + 900.0 * 180.0
    assert record[:, at.PUMP_ENERGY].sum() == pytest.approx(energy)


def test_a_slow_valve_takes_its_travel_from_each_run(inputs: Inputs) -> None:
    record = day_by_hand(inputs, CLOUDY_DAY, valve_travel=200.0).record
    assert record[:, at.SOLAR_TIME].sum() == pytest.approx(3 * 3600.0 - 200.0 - 90.0)


def test_a_shy_day_by_hand_with_least_run_and_rest(inputs: Inputs) -> None:
    # A gleam of five minutes, then another ten minutes after the run that it made is over.
    felt = {"00:00": 20.0, "10:00": 30.0, "10:05": 20.0, "10:30": 30.0, "12:00": 20.0}
    free = day_by_hand(inputs, felt).record
    assert free[:, at.STARTS].sum() == 2.0
    assert free[:, at.SOLAR_TIME].sum() == pytest.approx(300.0 - DELAY + 90 * 60.0 - DELAY)
    held = day_by_hand(inputs, felt, least_run=15 * 60.0, least_rest=30 * 60.0).record
    assert held[:, at.STARTS].sum() == 2.0
    # 10:05 to 10:20 on, to 10:50 off, to 12:05 on.
    assert held[:, at.SOLAR_TIME].sum() == pytest.approx(15 * 60.0 + 75 * 60.0 - 2 * DELAY)
    assert held[10, at.SOLAR_TIME] == pytest.approx(25 * 60.0 - 2 * DELAY)


def test_a_hot_day_by_hand_stops_at_the_target_and_its_deadband(inputs: Inputs) -> None:
    # Nothing but 700 W/m² on 30 m² moves the pool: 21 kW into 56 m³, a kelvin in 3.08 hours.
    drivers, stiff = inputs.drivers, np.full_like(inputs.drivers.temp_air, 1e9)
    running = (drivers.period >= 0).astype(float)
    told = with_drivers(
        inputs,
        bank_gain=np.array([700.0 * running, 700.0 * running]),
        bank_loss=np.zeros_like(drivers.bank_loss),
        sensor_gain=stiff * (60.0 - drivers.temp_air),
        sensor_loss=stiff,
    )
    alone = told._replace(
        pool=inputs.pool._replace(area=1e-6),
        array=inputs.array._replace(pipe_conductance=np.zeros(2)),
    )
    record = days(with_control(alone, target=25.0, deadband=0.4), 110, 1, 24.0).record
    hours = 1.4 * 56.0 * 4.16e6 / 21e3 / 3600.0
    assert record[:, at.STARTS].sum() == 1.0, "it rests above the target, within the deadband"
    assert record[:, at.SOLAR_TIME].sum() / 3600.0 == pytest.approx(hours, abs=0.15)
    assert record[14:, at.POOL_TEMP] == pytest.approx(25.4, abs=0.03)
    below = days(with_control(alone, target=25.0, deadband=0.05), 110, 1, 24.0).record
    assert below[14:, at.POOL_TEMP] == pytest.approx(25.05, abs=0.03)
