"""What the backup heater does in a step: hold set points, warm the spa; solar comes first."""

from __future__ import annotations

from noonwater.core.jit import inlined
from noonwater.year.command import COOLING, HEATING
from noonwater.year.parameters import (
    HEATED,
    HEATER_ENERGY,
    HEATER_HEAT,
    HEATER_ONLY,
    HEATER_ONLY_ENERGY,
    HEATER_ONLY_HEAT,
    HEATER_ONLY_PUMP_ENERGY,
    HEATER_PUMP_ENERGY,
    KINDS,
    POOL,
    SPA,
    SPA_ENERGY,
    SPA_HEAT,
    Floats,
    Inputs,
    PoolFigures,
)
from noonwater.year.water_drivers import HeaterFigures

NEVER = -1e3
"""[°C] Set point of a heater that rests."""


@inlined
def point_beside_solar(mode: float, heater: HeaterFigures) -> float:
    """Set point of the heater by what solar does: solar first. [°C].

    While solar heats, the heater holds the pool no higher than the owner bears to have it below
    the set point; it never heats against cooling.
    """
    if mode == HEATING:
        return heater.target - heater.solar_lead
    return NEVER if mode == COOLING else heater.target


@inlined
def heater_heat(
    state: Floats,
    ledger: Floats,
    place: int,
    target: float,
    most: float,
    capacity: float,
) -> float:
    """Bring a pool up to its set point [°C] with ``most`` [J] at most; return the heat [J].

    The heater is as strong as it has to be within a step: it holds its set point without a
    deadband (ours; a real one swings by some tenths of a kelvin around the same mean).
    """
    lack = target - state[place]
    if lack <= 0.0:
        return 0.0
    heat: float = min(most, lack * capacity)
    state[place] += heat / capacity
    ledger[KINDS * place + HEATED] += heat
    return heat


@inlined
def heater_energy(heat: float, need: float, temp: float, heater: HeaterFigures) -> float:
    """Fuel or electricity for heat into water of a temperature [J]; ``need`` at 0 °C [-]."""
    return heat * max(need + heater.need_slope * temp, heater.need_least)


@inlined
def step_heater(
    state: Floats,
    record: Floats,
    ledger: Floats,
    hour: int,
    inputs: Inputs,
    i: int,
    mode: float,
    capacity: float,
) -> None:
    """Heat the pool and its twin without solar in step ``i``, and book it.

    ``capacity`` [J/K] is of the water in the pool itself. The pump that the heater calls outside
    its program runs as long as the heater does.
    """
    heater, power, need = inputs.heater, inputs.water.heater_power[i], inputs.water.heater_need[i]
    if power <= 0.0:
        return
    most = power * inputs.control.step
    called = heater.pump_power / power if inputs.drivers.period[i] < 0 else 0.0
    point = point_beside_solar(mode, heater)
    given = heater_heat(state, ledger, POOL, point, most, capacity)
    record[hour, HEATER_HEAT] += given
    record[hour, HEATER_ENERGY] += heater_energy(given, need, state[POOL], heater)
    record[hour, HEATER_PUMP_ENERGY] += given * called
    if inputs.twins[HEATER_ONLY] == 1:
        whole = inputs.pool.capacity
        given = heater_heat(state, ledger, HEATER_ONLY, heater.target, most, whole)
        record[hour, HEATER_ONLY_HEAT] += given
        energy = heater_energy(given, need, state[HEATER_ONLY], heater)
        record[hour, HEATER_ONLY_ENERGY] += energy
        record[hour, HEATER_ONLY_PUMP_ENERGY] += given * called


@inlined
def spa_heat(
    state: Floats,
    ledger: Floats,
    place: int,
    pool: PoolFigures,
    begins: bool,
    ends: bool,
    capacity: float,
) -> float:
    """Heat that brings the spa to its set point as it begins [J]; its warm water spills at the end.

    A spa kept hot has no water in common with the pool: its capacity is zero here.
    """
    warmer = pool.spa_capacity * (pool.spa_target - state[place])
    if ends:
        ledger[KINDS * place + SPA] += warmer
        state[place] += warmer / capacity
    return max(warmer, 0.0) if begins else 0.0


@inlined
def step_spa(
    state: Floats,
    record: Floats,
    ledger: Floats,
    hour: int,
    inputs: Inputs,
    i: int,
    capacity: float,
) -> None:
    """Move the spa by step ``i`` and book what it took from the heater.

    ``capacity`` [J/K] is of the water in the pool itself.
    """
    pool, water = inputs.pool, inputs.water
    if not pool.spa_heated:
        return
    begins = water.spa_in_use[i] == 1 and water.spa_in_use[i - 1] == 0
    ends = water.spa_in_use[i] == 0 and water.spa_in_use[i - 1] == 1
    heat = water.spa_loss[i] * inputs.control.step
    heat += spa_heat(state, ledger, POOL, pool, begins, ends, capacity)
    record[hour, SPA_HEAT] += heat
    need = water.heater_need[i]
    record[hour, SPA_ENERGY] += heater_energy(heat, need, pool.spa_target, inputs.heater)
    if inputs.twins[HEATER_ONLY] == 1:
        spa_heat(state, ledger, HEATER_ONLY, pool, begins, ends, pool.capacity)
