"""One step of a pool: what crosses its surface and its shell, what runs in, who bathes in it."""

from __future__ import annotations

from typing import NamedTuple

from noonwater.core.jit import inlined
from noonwater.year.balance import FREEZING, falling_losses, surface_losses
from noonwater.year.parameters import (
    BARE,
    BATHED,
    CONVECTED,
    EVAPORATED,
    FALLING,
    GROUND,
    HEATER_ONLY,
    KINDS,
    MADE_UP,
    PUMPED,
    RADIATED,
    RAIN,
    SUN,
    WITHOUT,
    Bytes,
    Drivers,
    Floats,
    PoolFigures,
)
from noonwater.year.water_drivers import WaterDrivers


class Moment(NamedTuple):
    """One step of the drivers that all pools share, loaded once.

    Attributes are those of `Drivers` and `WaterDrivers`, in their units. Floats only, so that a
    compiled loop hands them on as they are.
    """

    temp_air: float
    vapour_pressure: float
    wind: float
    longwave: float
    sun: float
    activity: float
    falling: float
    ground_gain: float
    rain_gain: float
    rain_flow: float
    rain_heat: float
    splash: float
    temp_mains: float
    bathers: float


@inlined
def moment_of(drivers: Drivers, water: WaterDrivers, i: int) -> Moment:
    """Take step ``i`` out of the drivers."""
    return Moment(
        water.temp_over_water[i],
        drivers.vapour_pressure[i],
        drivers.wind_water[i],
        drivers.longwave_sky[i],
        drivers.pool_sun[i],
        water.activity[i],
        water.falling[i],
        water.ground_gain[i],
        water.rain_gain[i],
        water.rain_flow[i],
        water.rain_heat[i],
        water.splash[i],
        water.temp_mains[i],
        water.bathers[i],
    )


@inlined
def step_pool(
    state: Floats,
    ledger: Floats,
    place: int,
    pool: PoolFigures,
    now: Moment,
    covered: bool,
    heat: float,
    capacity: float,
    scale: float,
) -> float:
    """Move one pool by a step, book what crossed surface and shell, return evaporation [W/m²].

    ``scale`` is water area times step [m²·s]; ``heat`` [J] is booked by the caller, ``capacity``
    [J/K] is of the water in the pool itself. All terms are taken at the temperature before the
    step: a pool moves by some hundredths of a kelvin in it.
    """
    before, temp = state[place], max(state[place], FREEZING)
    evaporated, convected, radiated = surface_losses(
        before,
        now.temp_air,
        now.vapour_pressure,
        now.wind,
        now.longwave,
        pool.pressure,
        pool.evaporation_factor,
        pool.cover_evaporation if covered else now.activity,
        pool.cover_resistance if covered else 0.0,
        pool.coefficient_hall,
    )
    vapour = cooled = 0.0
    if now.falling > 0.0:
        vapour, cooled = falling_losses(
            before,
            now.temp_air,
            now.vapour_pressure,
            pool.pressure,
            pool.evaporation_factor * now.falling,
        )
    sun = now.sun * (pool.cover_sun if covered else 1.0)
    ground = now.ground_gain - pool.ground_loss * temp
    rain = now.rain_gain - now.rain_flow * temp
    made_up = flow_made_up(pool, now, evaporated + vapour) * (now.temp_mains - temp)
    first = KINDS * place
    ledger[first + SUN] += sun * scale
    ledger[first + EVAPORATED] -= evaporated * scale
    ledger[first + CONVECTED] -= convected * scale
    ledger[first + RADIATED] -= radiated * scale
    ledger[first + FALLING] -= (vapour + cooled) * scale
    ledger[first + GROUND] += ground * scale
    ledger[first + RAIN] += rain * scale
    ledger[first + MADE_UP] += made_up * scale
    ledger[first + BATHED] += now.bathers * scale
    lost = evaporated + convected + radiated + vapour + cooled
    gained = sun + ground + rain + made_up + now.bathers - lost
    state[place] = before + (gained * scale + heat) / capacity
    return evaporated + vapour


@inlined
def flow_made_up(pool: PoolFigures, now: Moment, evaporated: float) -> float:
    """Flow of the water that makes up for splash and for vapour beyond the rain. [W/(m²·K)].

    ``evaporated`` is the heat that left with all vapour [W/m²].
    """
    return now.splash + pool.refill * max(evaporated - now.rain_heat, 0.0)


@inlined
def step_twins(
    state: Floats,
    ledger: Floats,
    twins: Bytes,
    pool: PoolFigures,
    now: Moment,
    covered: bool,
    energy: float,
    scale: float,
) -> None:
    """Move the wanted twins by a step; ``energy`` [J] is what the program's own pump took in it."""
    whole = pool.capacity
    if twins[WITHOUT] == 1:
        heat = pump_heat(ledger, WITHOUT, pool.pump_heat, energy)
        step_pool(state, ledger, WITHOUT, pool, now, covered, heat, whole, scale)
    if twins[HEATER_ONLY] == 1:
        heat = pump_heat(ledger, HEATER_ONLY, pool.pump_heat, energy)
        step_pool(state, ledger, HEATER_ONLY, pool, now, covered, heat, whole, scale)
    if twins[BARE] == 1:
        heat = pump_heat(ledger, BARE, pool.pump_heat, energy)
        step_pool(state, ledger, BARE, pool, now, False, heat, whole, scale)


@inlined
def pump_heat(ledger: Floats, place: int, share: float, energy: float) -> float:
    """Heat of the pump to the water, booked [J]; ``share`` of its electricity ``energy`` [J]."""
    heat = share * energy
    ledger[KINDS * place + PUMPED] += heat
    return heat
