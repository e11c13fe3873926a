"""One step of pipes and panels, wet or dry; filling them and draining them."""

from __future__ import annotations

from noonwater.core.jit import inlined
from noonwater.year.balance import node_after_step
from noonwater.year.command import RESTING
from noonwater.year.parameters import (
    ARRAY_GAIN,
    ARRAY_LOSS,
    BANKS,
    DELAY,
    DELIVERED,
    FEED,
    PIPE_LOSS,
    POOL,
    PRIMING,
    RUNNING,
    SINCE,
    WET,
    ArrayFigures,
    ControlFigures,
    Drivers,
    Floats,
    PoolFigures,
)


@inlined
def start_solar(state: Floats, array: ArrayFigures, delay: float, priming: float) -> None:
    """Fill panels and pipes with pool water, unless they still hold it."""
    state[DELAY] = delay
    state[PRIMING] = priming
    state[SINCE] = 0.0
    if state[WET] == 1.0:
        return
    state[WET] = 1.0
    for bank in range(array.area.shape[0]):
        dry, water = array.capacity_dry[bank], array.capacity_water[bank]
        state[BANKS + bank] = (dry * state[BANKS + bank] + water * state[POOL]) / (dry + water)
    for pipe in range(2):
        dry, water = array.pipe_wall[pipe], array.pipe_water[pipe]
        state[FEED + pipe] = (dry * state[FEED + pipe] + water * state[POOL]) / (dry + water)


@inlined
def stop_solar(state: Floats, array: ArrayFigures, pool: PoolFigures, held: float) -> None:
    """Stop the water; let panels and pipes drain into the pool, where they can."""
    state[DELAY] = state[PRIMING] = state[SINCE] = 0.0
    if array.drains:
        empty_array(state, array, pool, held)


@inlined
def empty_array(state: Floats, array: ArrayFigures, pool: PoolFigures, held: float) -> None:
    """Let the water of panels and pipes, ``held`` [J/K] of it, run into the pool."""
    heat = (pool.capacity - held) * state[POOL]
    for bank in range(array.area.shape[0]):
        heat += array.capacity_water[bank] * state[BANKS + bank]
    for pipe in range(2):
        heat += array.pipe_water[pipe] * state[FEED + pipe]
    state[POOL] = heat / pool.capacity
    state[WET] = 0.0


@inlined
def switch_array(
    state: Floats,
    array: ArrayFigures,
    pool: PoolFigures,
    control: ControlFigures,
    mode: float,
    row: int,
    watched: float,
    held: float,
) -> float:
    """Bring water to the roof or take it off, as the mode asks; return 1 for a start [-].

    ``watched`` [°C] empties a resting array that could freeze.
    """
    started = 0.0
    if mode != RESTING and state[RUNNING] == RESTING:
        delay = control.valve_travel + array.fill_time[row] * (1.0 - state[WET])
        start_solar(state, array, delay, control.priming_time)
        started = 1.0
    elif mode == RESTING and state[RUNNING] != RESTING:
        stop_solar(state, array, pool, held)
    cold = control.drains_in_frost and watched < control.freeze_trip
    if cold and mode == RESTING and state[WET] == 1.0:
        empty_array(state, array, pool, held)
    state[RUNNING] = mode
    state[SINCE] += control.step
    return started


@inlined
def flow_share(state: Floats, step: float) -> float:
    """Part of a step in which water flows through the array [-]; counts the delay down."""
    if state[RUNNING] == RESTING:
        return 0.0
    share: float = max(0.0, step - state[DELAY]) / step
    state[DELAY] = max(0.0, state[DELAY] - step)
    return share


@inlined
def step_pipe(
    state: Floats,
    ledger: Floats,
    pipe: int,
    array: ArrayFigures,
    temp_in: float,
    flow_capacity: float,
    temp_air: float,
    step: float,
) -> float:
    """Move the feed (0) or the roof return (1) by a step; return its outlet temperature [°C]."""
    loss = array.pipe_conductance[pipe]
    inertia = (array.pipe_wall[pipe] + array.pipe_water[pipe] * state[WET]) / step
    heat = loss * temp_air + flow_capacity * temp_in
    temp: float = node_after_step(state[FEED + pipe], inertia, heat, loss + flow_capacity)
    ledger[PIPE_LOSS] -= loss * (temp - temp_air) * step
    state[FEED + pipe] = temp
    return temp


@inlined
def step_array(
    state: Floats,
    ledger: Floats,
    array: ArrayFigures,
    drivers: Drivers,
    i: int,
    period: int,
    share: float,
    step: float,
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
    inlet = step_pipe(state, ledger, 0, array, state[POOL], total, temp_air, step)
    taken = gained = lost = 0.0
    for bank in range(banks):
        through = 2.0 * array.flow_capacity[period, bank] * share if share > 0.0 else 0.0
        loss = drivers.bank_loss[bank, i] * array.area[bank]
        gain = drivers.bank_gain[bank, i] * array.area[bank]
        capacity = array.capacity_dry[bank] + array.capacity_water[bank] * state[WET]
        heat = gain + loss * temp_air + through * inlet
        temp = node_after_step(state[BANKS + bank], capacity / step, heat, loss + through)
        state[BANKS + bank] = temp
        taken += through * (temp - inlet)
        gained += gain
        lost += loss * (temp - temp_air)
    ledger[ARRAY_GAIN] += gained * step
    ledger[ARRAY_LOSS] -= lost * step
    mixed = inlet + taken / total if total > 0.0 else inlet
    outlet = step_pipe(state, ledger, 1, array, mixed, total, temp_air, step)
    delivered: float = total * (outlet - state[POOL]) * step
    ledger[DELIVERED] += delivered
    return delivered


@inlined
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
