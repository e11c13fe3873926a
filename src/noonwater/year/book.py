"""What a step leaves in the hourly record."""

from __future__ import annotations

from noonwater.core.jit import formula
from noonwater.year.balance import FREEZING
from noonwater.year.command import CIRCULATING, COOLING, HEATING
from noonwater.year.parameters import (
    ARRAY_TEMP,
    BANKS,
    COOLING_ENERGY,
    COOLING_HEAT,
    COOLING_TIME,
    FREEZE_ENERGY,
    FREEZE_HEAT,
    FREEZE_TIME,
    POOL,
    POOL_TEMP,
    POOL_TEMP_WITHOUT,
    PRIMING,
    PUMP_ENERGY,
    PUMP_ENERGY_WITHOUT,
    SENSOR,
    SENSOR_TEMP,
    SOLAR_HEAT,
    SOLAR_TIME,
    WITHOUT,
    Floats,
)


@formula
def pump_energy(power: float, power_priming: float, priming: float, step: float) -> float:
    """Electricity of the pump in one step of which it primes a part [J]; times in [s]."""
    return power_priming * priming + power * (step - priming)


@formula
def book_pump(
    record: Floats,
    hour: int,
    state: Floats,
    power: float,
    power_priming: float,
    power_plain: float,
    step: float,
) -> float:
    """Book the pump's step; return what it took beyond filtering [J]. Powers in [W], step in [s].

    ``power_plain`` is the program's own, 0 where the pump would stand.
    """
    priming = min(state[PRIMING], step)
    state[PRIMING] -= priming
    used = pump_energy(power, power_priming, priming, step)
    plain = power_plain * step
    record[hour, PUMP_ENERGY] += used
    record[hour, PUMP_ENERGY_WITHOUT] += plain
    return used - plain


@formula
def book_mode(
    record: Floats, hour: int, mode: float, heat: float, time: float, extra: float
) -> None:
    """Book heat to the pool [J], time with water on the roof [s] and extra electricity [J]."""
    if mode == HEATING:
        record[hour, SOLAR_HEAT] += heat
        record[hour, SOLAR_TIME] += time
    elif mode == COOLING:
        record[hour, COOLING_HEAT] -= heat
        record[hour, COOLING_TIME] += time
        record[hour, COOLING_ENERGY] += extra
    elif mode == CIRCULATING:
        record[hour, FREEZE_HEAT] -= heat
        record[hour, FREEZE_TIME] += time
        record[hour, FREEZE_ENERGY] += extra


@formula
def book_temps(
    record: Floats, hour: int, state: Floats, weights: Floats, steps_per_hour: int
) -> None:
    """Add a step's share to the hour's mean temperatures; ``weights`` of the banks hold it."""
    record[hour, POOL_TEMP] += max(state[POOL], FREEZING) / steps_per_hour
    record[hour, POOL_TEMP_WITHOUT] += max(state[WITHOUT], FREEZING) / steps_per_hour
    record[hour, SENSOR_TEMP] += state[SENSOR] / steps_per_hour
    for bank in range(weights.shape[0]):
        record[hour, ARRAY_TEMP] += state[BANKS + bank] * weights[bank]
