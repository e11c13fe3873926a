"""The year: pool as designed, its twins, array, pipes and controller, step by step.

One compiled loop. Everything it calls is a plain Python function of the physics room or of this
room, so that tests run the very same lines uncompiled.
"""

from __future__ import annotations

from noonwater.core.jit import compiled_loop, inlined
from noonwater.year.array import flow_share, step_array, switch_array
from noonwater.year.backup import step_heater, step_spa
from noonwater.year.balance import node_after_step
from noonwater.year.book import book_mode, book_pump, book_temps, book_water
from noonwater.year.command import CIRCULATING, Command, command_of, mode_in_step
from noonwater.year.parameters import POOL, RETURN, SENSOR, STARTS, WET, Floats, Inputs
from noonwater.year.water import flow_made_up, moment_of, pump_heat, step_pool, step_twins


@compiled_loop
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
    The plant moves first, then the designed pool, its twins, spa and heater; the sensor last, so
    that the next step's decision knows what this one did.
    """
    command, steps = command_of(inputs.control), inputs.drivers.temp_air.shape[0]
    held = inputs.array.capacity_water.sum() + inputs.array.pipe_water.sum()
    whole_area, part = inputs.array.area.sum(), 1.0 / steps_per_hour
    for k in range(count):
        i, hour = (first + k) % steps, k // steps_per_hour
        mode = decide(state, inputs, command, i)
        solar, plain, extra = step_plant(state, record, ledger, hour, inputs, i, mode, held)
        capacity = inputs.pool.capacity - state[WET] * held
        step_water(state, record, ledger, hour, inputs, i, solar, plain, extra, capacity)
        step_spa(state, record, ledger, hour, inputs, i, capacity)
        step_heater(state, record, ledger, hour, inputs, i, mode, capacity)
        step_sensor(state, inputs, i)
        book_temps(record, hour, state, inputs.array.area, whole_area, part)


@inlined
def decide(state: Floats, inputs: Inputs, command: Command, i: int) -> float:
    """Give the mode of step ``i``: what water does on the roof in it."""
    drivers, control, period = inputs.drivers, inputs.control, inputs.drivers.period[i]
    may_run = period >= 0 and control.solar_in_period[period] == 1
    may_heat, may_cool = may_run and drivers.season[i] == 1, may_run and drivers.cooling[i] == 1
    watched = state[SENSOR] if control.freeze_by_sensor else drivers.temp_air[i]
    return mode_in_step(state, control, command, may_heat, may_cool, watched)


@inlined
def step_plant(
    state: Floats,
    record: Floats,
    ledger: Floats,
    hour: int,
    inputs: Inputs,
    i: int,
    mode: float,
    held: float,
) -> tuple[float, float, float]:
    """Move array, pipes and pump by step ``i``.

    Returns heat that solar brings to the pool, and the pump's electricity: what the program alone
    takes, what comes on top. [J]
    """
    array, control, step = inputs.array, inputs.control, inputs.control.step
    period = inputs.drivers.period[i]
    row = control.freeze_row if mode == CIRCULATING else period
    watched = state[SENSOR] if control.freeze_by_sensor else inputs.drivers.temp_air[i]
    started = switch_array(state, array, inputs.pool, control, mode, row, watched, held)
    share = flow_share(state, step)
    solar = step_array(state, ledger, array, inputs.drivers, i, row, share, step)
    plain, extra = book_pump(record, hour, state, control, mode, row, period)
    book_mode(record, hour, mode, solar, share * step, extra)
    record[hour, STARTS] += started
    return solar, plain, extra


@inlined
def step_water(
    state: Floats,
    record: Floats,
    ledger: Floats,
    hour: int,
    inputs: Inputs,
    i: int,
    solar: float,
    plain: float,
    extra: float,
    capacity: float,
) -> None:
    """Move the designed pool and its twins by step ``i``.

    ``solar``, ``plain`` and ``extra`` as `step_plant` gives them; ``capacity`` [J/K] is of the
    water in the designed pool itself.
    """
    pool, water = inputs.pool, inputs.water
    now, covered = moment_of(inputs.drivers, water, i), inputs.drivers.covered[i] == 1
    area = pool.area if water.spa_in_use[i] == 1 else pool.area + pool.spa_area
    scale = area * inputs.control.step
    heat = solar + pump_heat(ledger, POOL, pool.pump_heat, plain + extra)
    evaporated = step_pool(state, ledger, POOL, pool, now, covered, heat, capacity, scale)
    book_water(record, hour, evaporated, flow_made_up(pool, now, evaporated), scale)
    step_twins(state, ledger, inputs.twins, pool, now, covered, plain, scale)


@inlined
def step_sensor(state: Floats, inputs: Inputs, i: int) -> None:
    """Move the sensor's body by step ``i``."""
    drivers, array = inputs.drivers, inputs.array
    loss, link = drivers.sensor_loss[i], array.sensor_link
    heat = drivers.sensor_gain[i] + loss * drivers.temp_air[i] + link * state[RETURN]
    inertia = array.sensor_capacity / inputs.control.step
    state[SENSOR] = node_after_step(state[SENSOR], inertia, heat, loss + link)
