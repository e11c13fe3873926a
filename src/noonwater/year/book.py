"""What a step leaves in the hourly record."""

from __future__ import annotations

from noonwater.core.jit import inlined
from noonwater.year.balance import FREEZING
from noonwater.year.command import CIRCULATING, COOLING, HEATING, RESTING
from noonwater.year.parameters import (
    ARRAY_TEMP,
    BANKS,
    BARE,
    COOLING_ENERGY,
    COOLING_HEAT,
    COOLING_TIME,
    EVAPORATION,
    FREEZE_ENERGY,
    FREEZE_HEAT,
    FREEZE_TIME,
    HEATER_ONLY,
    MADE_UP_FLOW,
    POOL,
    POOL_TEMP,
    POOL_TEMP_BARE,
    POOL_TEMP_HEATER_ONLY,
    POOL_TEMP_WITHOUT,
    PRIMING,
    PUMP_ENERGY,
    PUMP_ENERGY_WITHOUT,
    SENSOR,
    SENSOR_TEMP,
    SOLAR_HEAT,
    SOLAR_TIME,
    WITHOUT,
    ControlFigures,
    Floats,
)


@inlined
def pump_energy(power: float, power_priming: float, priming: float, step: float) -> float:
    """Electricity of the pump in one step of which it primes a part [J]; times in [s]."""
    return power_priming * priming + power * (step - priming)


@inlined
def book_pump(
    record: Floats,
    hour: int,
    state: Floats,
    control: ControlFigures,
    mode: float,
    row: int,
    period: int,
) -> tuple[float, float]:
    """Book the pump's step; return what the program alone takes and what comes on top. [J].

    ``row`` is of flows and watts, ``period`` of the program; below 0 where the pump stands.
    """
    if row < 0:
        return 0.0, 0.0
    power = control.power_filter[row] if mode == RESTING else control.power_solar[row]
    priming = min(state[PRIMING], control.step)
    state[PRIMING] -= priming
    used = pump_energy(power, control.power_priming, priming, control.step)
    plain = control.power_filter[period] * control.step if period >= 0 else 0.0
    record[hour, PUMP_ENERGY] += used
    record[hour, PUMP_ENERGY_WITHOUT] += plain
    return plain, used - plain


@inlined
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


@inlined
def book_water(record: Floats, hour: int, evaporated: float, made_up: float, scale: float) -> None:
    """Book evaporation [J] and the water that made up for it and for splash, as capacity [J/K].

    ``evaporated`` in [W/m²], ``made_up`` in [W/(m²·K)], ``scale`` is water area times step [m²·s].
    """
    record[hour, EVAPORATION] += evaporated * scale
    record[hour, MADE_UP_FLOW] += made_up * scale


@inlined
def book_temps(
    record: Floats, hour: int, state: Floats, area: Floats, whole: float, part: float
) -> None:
    """Add a step, ``part`` of an hour [-], to the hour's mean temperatures.

    The array's mean is by the banks' ``area`` of the ``whole`` [m²].
    """
    record[hour, POOL_TEMP] += max(state[POOL], FREEZING) * part
    record[hour, POOL_TEMP_WITHOUT] += max(state[WITHOUT], FREEZING) * part
    record[hour, POOL_TEMP_HEATER_ONLY] += max(state[HEATER_ONLY], FREEZING) * part
    record[hour, POOL_TEMP_BARE] += max(state[BARE], FREEZING) * part
    record[hour, SENSOR_TEMP] += state[SENSOR] * part
    warm = 0.0
    for bank in range(area.shape[0]):
        warm += state[BANKS + bank] * area[bank]
    record[hour, ARRAY_TEMP] += warm / whole * part
