"""The year: pool with solar, the same pool without, array, pipes and controller, step by step.

One compiled loop. Everything it calls is a plain Python function of the physics room or of this
room, so that tests run the very same lines uncompiled.
"""

from __future__ import annotations

from noonwater.core.jit import compiled, formula
from noonwater.year.array import start_solar, step_array, stop_solar
from noonwater.year.balance import FREEZING, node_after_step, solar_wanted
from noonwater.year.parameters import (
    ARRAY_TEMP,
    BANKS,
    DELAY,
    EVAPORATION,
    POOL,
    POOL_TEMP,
    POOL_TEMP_WITHOUT,
    PRIMING,
    PUMP_ENERGY,
    PUMP_ENERGY_WITHOUT,
    RUNNING,
    SENSOR,
    SENSOR_TEMP,
    SOLAR_HEAT,
    SOLAR_TIME,
    STARTS,
    WET,
    WITHOUT,
    Floats,
    Inputs,
)
from noonwater.year.water import step_pool


@formula
def pump_energy(power: float, power_priming: float, priming: float, step: float) -> float:
    """Electricity of the pump in one step of which it primes a part [J]; times in [s]."""
    return power_priming * priming + power * (step - priming)


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
    temp_air, periods, season = drivers.temp_air, drivers.period, drivers.season
    vapour_pressure, wind = drivers.vapour_pressure, drivers.wind_water
    longwave, pool_sun, covered = drivers.longwave_sky, drivers.pool_sun, drivers.covered
    sensor_gain, sensor_loss = drivers.sensor_gain, drivers.sensor_loss
    allowed, power_filter, power_solar = (
        control.solar_in_period,
        control.power_filter,
        control.power_solar,
    )
    step, differential = control.step, control.differential
    steps = temp_air.shape[0]
    held = array.capacity_water.sum() + array.pipe_water.sum()
    per_second = 1.0 / step
    sensor_inertia = array.sensor_capacity * per_second
    weights = array.area / array.area.sum() / steps_per_hour
    for k in range(count):
        i = (first + k) % steps
        hour = k // steps_per_hour
        period = periods[i]
        wanted = False
        if period >= 0 and season[i] == 1 and allowed[period] == 1:
            wanted = not differential or solar_wanted(
                state[RUNNING] == 1.0,
                state[POOL],
                state[SENSOR],
                control.target,
                control.deadband,
                control.on_difference,
                control.off_difference,
            )
        if wanted and state[RUNNING] == 0.0:
            delay = control.valve_travel + array.fill_time[period] * (1.0 - state[WET])
            start_solar(state, array, delay, control.priming_time)
            record[hour, STARTS] += 1.0
        elif not wanted and state[RUNNING] == 1.0:
            stop_solar(state, array, pool, held)
        share = 0.0
        if wanted:
            share = max(0.0, step - state[DELAY]) / step
            state[DELAY] = max(0.0, state[DELAY] - step)
        heat = step_array(state, ledger, array, drivers, i, period, share, step, per_second)
        capacity = pool.capacity - state[WET] * held
        air = (temp_air[i], vapour_pressure[i], wind[i], longwave[i], pool_sun[i])
        lies = covered[i] == 1
        evaporated = step_pool(state, ledger, POOL, pool, air, lies, heat, capacity, step)
        step_pool(state, ledger, WITHOUT, pool, air, lies, 0.0, pool.capacity, step)
        state[SENSOR] = node_after_step(
            state[SENSOR],
            sensor_inertia,
            sensor_gain[i] + sensor_loss[i] * temp_air[i],
            sensor_loss[i],
        )
        if period >= 0:
            priming = min(state[PRIMING], step)
            state[PRIMING] -= priming
            power = power_solar[period] if wanted else power_filter[period]
            used = pump_energy(power, control.power_priming, priming, step)
            record[hour, PUMP_ENERGY] += used
            record[hour, PUMP_ENERGY_WITHOUT] += power_filter[period] * step
        record[hour, POOL_TEMP] += max(state[POOL], FREEZING) / steps_per_hour
        record[hour, POOL_TEMP_WITHOUT] += max(state[WITHOUT], FREEZING) / steps_per_hour
        record[hour, SENSOR_TEMP] += state[SENSOR] / steps_per_hour
        for bank in range(weights.shape[0]):
            record[hour, ARRAY_TEMP] += state[BANKS + bank] * weights[bank]
        record[hour, SOLAR_HEAT] += heat
        record[hour, SOLAR_TIME] += share * step
        record[hour, EVAPORATION] += evaporated * pool.area * step
