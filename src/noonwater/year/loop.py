"""The year: pool with solar, the same pool without, array, pipes and controller, step by step.

One compiled loop. Everything it calls is a plain Python function of the physics room or of this
room, so that tests run the very same lines uncompiled.
"""

from __future__ import annotations

from noonwater.core.jit import compiled, formula
from noonwater.year.balance import FREEZING, node_after_step, solar_wanted, surface_losses
from noonwater.year.parameters import (
    ARRAY_GAIN,
    ARRAY_LOSS,
    ARRAY_TEMP,
    BANKS,
    DELAY,
    DELIVERED,
    EVAPORATION,
    FEED,
    PIPE_LOSS,
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
    SUN,
    SUN_WITHOUT,
    WET,
    WITHOUT,
    ArrayFigures,
    Drivers,
    Floats,
    Inputs,
    PoolFigures,
)


@formula
def step_pool(
    state: Floats,
    ledger: Floats,
    place: int,
    pool: PoolFigures,
    air: tuple[float, float, float, float, float],
    covered: bool,
    heat: float,
    capacity: float,
    step: float,
) -> float:
    """Move one pool by a step, book what crossed its surface, return the evaporation [W/m²].

    ``air`` is temperature [°C], vapour pressure [Pa], wind at the water [m/s], long-wave and
    absorbed sun [W/m²]: loaded once a step, so that both pools share what depends on them alone.
    """
    temp_air, vapour_pressure, wind, longwave, absorbed = air
    evaporated, convected, radiated = surface_losses(
        state[place],
        temp_air,
        vapour_pressure,
        wind,
        longwave,
        pool.pressure,
        pool.evaporation_factor,
        pool.cover_evaporation if covered else 1.0,
        pool.cover_resistance if covered else 0.0,
    )
    sun = absorbed * (pool.cover_sun if covered else 1.0)
    first = SUN if place == POOL else SUN_WITHOUT
    scale = pool.area * step
    ledger[first] += sun * scale
    ledger[first + 1] -= evaporated * scale
    ledger[first + 2] -= convected * scale
    ledger[first + 3] -= radiated * scale
    state[place] += ((sun - evaporated - convected - radiated) * scale + heat) / capacity
    return evaporated


@formula
def start_solar(state: Floats, array: ArrayFigures, delay: float, priming: float) -> None:
    """Fill panels and pipes with pool water, unless they still hold it."""
    state[RUNNING] = 1.0
    state[DELAY] = delay
    state[PRIMING] = priming
    if state[WET] == 1.0:
        return
    state[WET] = 1.0
    for bank in range(array.area.shape[0]):
        dry, water = array.capacity_dry[bank], array.capacity_water[bank]
        state[BANKS + bank] = (dry * state[BANKS + bank] + water * state[POOL]) / (dry + water)
    for pipe in range(2):
        dry, water = array.pipe_wall[pipe], array.pipe_water[pipe]
        state[FEED + pipe] = (dry * state[FEED + pipe] + water * state[POOL]) / (dry + water)


@formula
def stop_solar(state: Floats, array: ArrayFigures, pool: PoolFigures, held: float) -> None:
    """Let panels and pipes drain into the pool, where they can."""
    state[RUNNING] = state[DELAY] = state[PRIMING] = 0.0
    if not array.drains:
        return
    heat = (pool.capacity - held) * state[POOL]
    for bank in range(array.area.shape[0]):
        heat += array.capacity_water[bank] * state[BANKS + bank]
    for pipe in range(2):
        heat += array.pipe_water[pipe] * state[FEED + pipe]
    state[POOL] = heat / pool.capacity
    state[WET] = 0.0


@formula
def step_pipe(
    state: Floats,
    ledger: Floats,
    pipe: int,
    array: ArrayFigures,
    temp_in: float,
    flow_capacity: float,
    temp_air: float,
    step: float,
    per_second: float,
) -> float:
    """Move the feed (0) or the roof return (1) by a step; return its outlet temperature [°C]."""
    loss = array.pipe_conductance[pipe]
    inertia = (array.pipe_wall[pipe] + array.pipe_water[pipe] * state[WET]) * per_second
    heat = loss * temp_air + flow_capacity * temp_in
    temp: float = node_after_step(state[FEED + pipe], inertia, heat, loss + flow_capacity)
    ledger[PIPE_LOSS] -= loss * (temp - temp_air) * step
    state[FEED + pipe] = temp
    return temp


@formula
def step_array(
    state: Floats,
    ledger: Floats,
    array: ArrayFigures,
    drivers: Drivers,
    i: int,
    period: int,
    share: float,
    step: float,
    per_second: float,
) -> float:
    """Move pipes and panels by a step; return the heat brought to the pool in it [J].

    ``share`` is the part of the step in which water flows. A bank's node is its mean water
    temperature, and outlet - inlet = 2 (mean - inlet): ISO 9806's arithmetic mean.
    """
    temp_air = drivers.temp_air[i]
    banks = array.area.shape[0]
    total = 0.0
    if share > 0.0:
        for bank in range(banks):
            total += array.flow_capacity[period, bank] * share
    inlet = step_pipe(state, ledger, 0, array, state[POOL], total, temp_air, step, per_second)
    taken = gained = lost = 0.0
    for bank in range(banks):
        through = 2.0 * array.flow_capacity[period, bank] * share if share > 0.0 else 0.0
        loss = drivers.bank_loss[bank, i] * array.area[bank]
        gain = drivers.bank_gain[bank, i] * array.area[bank]
        capacity = array.capacity_dry[bank] + array.capacity_water[bank] * state[WET]
        heat = gain + loss * temp_air + through * inlet
        temp = node_after_step(state[BANKS + bank], capacity * per_second, heat, loss + through)
        state[BANKS + bank] = temp
        taken += through * (temp - inlet)
        gained += gain
        lost += loss * (temp - temp_air)
    ledger[ARRAY_GAIN] += gained * step
    ledger[ARRAY_LOSS] -= lost * step
    mixed = inlet + taken / total if total > 0.0 else inlet
    outlet = step_pipe(state, ledger, 1, array, mixed, total, temp_air, step, per_second)
    delivered: float = total * (outlet - state[POOL]) * step
    ledger[DELIVERED] += delivered
    return delivered


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


@formula
def heat_held(state: Floats, pool: PoolFigures, array: ArrayFigures) -> float:
    """Heat in pool, panels and pipes of the solar plant above 0 °C [J], for the closure."""
    held = array.capacity_water.sum() + array.pipe_water.sum()
    heat = (pool.capacity - state[WET] * held) * state[POOL]
    for bank in range(array.area.shape[0]):
        capacity = array.capacity_dry[bank] + state[WET] * array.capacity_water[bank]
        heat += capacity * state[BANKS + bank]
    for pipe in range(2):
        heat += (array.pipe_wall[pipe] + state[WET] * array.pipe_water[pipe]) * state[FEED + pipe]
    return float(heat)
