"""The year: pool with solar, the same pool without, array, pipes and controller, step by step.

One compiled loop. Everything it calls is a plain Python function of the physics room or of this
room, so that tests run the very same lines uncompiled.
"""

from __future__ import annotations

from noonwater.core.jit import compiled
from noonwater.year.array import empty_array, flow_share, start_solar, step_array, stop_solar
from noonwater.year.balance import node_after_step
from noonwater.year.book import book_mode, book_pump, book_temps
from noonwater.year.command import (
    CIRCULATING,
    RESTING,
    command_of,
    mode_in_frost,
    mode_wanted,
)
from noonwater.year.parameters import (
    EVAPORATION,
    POOL,
    RETURN,
    RUNNING,
    SENSOR,
    SINCE,
    STARTS,
    WET,
    WITHOUT,
    Floats,
    Inputs,
)
from noonwater.year.water import step_pool


@compiled
def run_steps(
    inputs: Inputs,
    first: int,
    count: int,
    steps_per_hour: int,
    state: Floats,
    record: Floats,
    ledger: Floats,
) -> None:
    """Run ``count`` steps from step ``first``, around the year's end where they reach it.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    first, count, steps_per_hour : int
        Steps.
    state : (BANKS + banks,) array
        Changed in place.
    record : (hours, RECORD) array
        Hourly means and sums, added to. Temperatures [°C], energies [J], times [s].
    ledger : (LEDGER,) array
        Heat in by kind over the run, added to. [J]

    Notes
    -----
    Named tuples are taken apart before the loop: handing them on whole would count references to
    their arrays in every step, which takes longer than the physics.
    """
    drivers, pool, array, control = inputs.drivers, inputs.pool, inputs.array, inputs.control
    temp_air, periods, covered = drivers.temp_air, drivers.period, drivers.covered
    vapour_pressure, wind = drivers.vapour_pressure, drivers.wind_water
    longwave, pool_sun = drivers.longwave_sky, drivers.pool_sun
    season, cooling, allowed = drivers.season, drivers.cooling, control.solar_in_period
    sensor_gain, sensor_loss = drivers.sensor_gain, drivers.sensor_loss
    power_filter, power_solar = control.power_filter, control.power_solar
    power_priming, priming_time = control.power_priming, control.priming_time
    freeze_row, freeze_trip = control.freeze_row, control.freeze_trip
    by_sensor, drains_in_frost = control.freeze_by_sensor, control.drains_in_frost
    command, valve_travel = command_of(control), control.valve_travel
    step, steps, per_second = control.step, temp_air.shape[0], 1.0 / control.step
    held = array.capacity_water.sum() + array.pipe_water.sum()
    sensor_inertia, link = array.sensor_capacity * per_second, array.sensor_link
    weights = array.area / array.area.sum() / steps_per_hour
    for k in range(count):
        i, hour = (first + k) % steps, k // steps_per_hour
        period = periods[i]
        may_run = period >= 0 and allowed[period] == 1
        mode = mode_wanted(
            state[RUNNING],
            state[SINCE],
            state[POOL],
            state[SENSOR],
            may_run and season[i] == 1,
            may_run and cooling[i] == 1,
            command,
        )
        row, watched = period, state[SENSOR] if by_sensor else temp_air[i]
        if freeze_row >= 0 and mode == RESTING:
            mode = mode_in_frost(state[RUNNING], state[SINCE], watched, freeze_trip, command)
            row = freeze_row if mode == CIRCULATING else period
        if (mode == RESTING) != (state[RUNNING] == RESTING):
            if mode == RESTING:
                stop_solar(state, array, pool, held)
            else:
                delay = valve_travel + array.fill_time[row] * (1.0 - state[WET])
                start_solar(state, array, delay, priming_time)
                record[hour, STARTS] += 1.0
        if drains_in_frost and state[WET] == 1.0 and mode == RESTING and watched < freeze_trip:
            empty_array(state, array, pool, held)
        state[RUNNING] = mode
        state[SINCE] += step
        share = flow_share(state, step)
        heat = step_array(state, ledger, array, drivers, i, row, share, step, per_second)
        air = (temp_air[i], vapour_pressure[i], wind[i], longwave[i], pool_sun[i])
        capacity = pool.capacity - state[WET] * held
        evaporated = step_pool(
            state, ledger, POOL, pool, air, covered[i] == 1, heat, capacity, step
        )
        step_pool(state, ledger, WITHOUT, pool, air, covered[i] == 1, 0.0, pool.capacity, step)
        state[SENSOR] = node_after_step(
            state[SENSOR],
            sensor_inertia,
            sensor_gain[i] + sensor_loss[i] * temp_air[i] + link * state[RETURN],
            sensor_loss[i] + link,
        )
        extra = 0.0
        if row >= 0:
            power = power_filter[row] if mode == RESTING else power_solar[row]
            plain = power_filter[period] if period >= 0 else 0.0
            extra = book_pump(record, hour, state, power, power_priming, plain, step)
        book_mode(record, hour, mode, heat, share * step, extra)
        book_temps(record, hour, state, weights, steps_per_hour)
        record[hour, EVAPORATION] += evaporated * pool.area * step
