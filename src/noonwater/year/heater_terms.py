"""The backup heater over the year: what it can give in each step and what it needs for it."""

from __future__ import annotations

import numpy as np

from noonwater.model.heater import Heater
from noonwater.physics.heat_pump import (
    COP_KEPT_COOL,
    COP_USUAL,
    HEAT_KEPT_COOL,
    LIFT_LEAST,
    cop_heat_pump,
    heat_heat_pump,
    lift_own,
)
from noonwater.year.calendar import hours_of_step
from noonwater.year.water_drivers import NO_HEATER, Bytes, Floats, HeaterFigures

SOLAR_ROOM = 1.0
"""[K] How far below the pool's target a heater without a set point of its own is set: solar that is
to carry the pool needs room above it. Ours."""
NEVER_SHORT = 1e8
"""[W] Heat of a heater whose size nobody gave."""
WATERS = (10.0, 30.0)
"""[°C] A heat pump's need is a straight line of the water's temperature, drawn through these."""


def heater_terms(
    heater: Heater, pool_target: float, temp_air: Floats, period: Bytes, pump_power: float
) -> tuple[HeaterFigures, Floats, Floats]:
    """Make a heater ready for the loop.

    Parameters
    ----------
    heater : Heater
        The job's.
    pool_target : float
        Solar's target, for a heater without a set point of its own. [°C]
    temp_air : (steps,) array
        Outdoors. [°C]
    period : (steps,) array
        Of the pump's program; -1 where it stands.
    pump_power : float
        Of the pump when the heater calls it. [W]

    Returns
    -------
    tuple of (HeaterFigures, (steps,) array, (steps,) array)
        Figures; heat that it can give [W]; energy for a unit of heat into water of 0 °C [-].
    """
    if heater.kind == "none":
        # A spa that is kept hot without a heater beside the pool has its own electric one.
        return NO_HEATER, np.zeros_like(temp_air), np.ones_like(temp_air)
    hourly = len(temp_air) // 8760
    allowed = hours_of_step(heater.on_from, heater.on_until, heater.months, hourly) == 1
    if not heater.calls_pump:
        allowed &= period >= 0
    power = np.full_like(temp_air, heater.capacity or NEVER_SHORT)
    need, slope, least = np.full_like(temp_air, 1.0), 0.0, 0.0
    if heater.kind == "gas":
        need /= heater.efficiency
    elif heater.kind == "heat pump":
        power, need, slope = _heat_pump(heater, temp_air)
        least = LIFT_LEAST / (heater.cop or COP_USUAL)
        allowed &= temp_air >= heater.cut_off
    figures = HeaterFigures(
        target=set_point(heater, pool_target),
        need_slope=slope,
        solar_lead=heater.solar_lead,
        pump_power=pump_power if heater.calls_pump else 0.0,
        need_least=least,
    )
    return figures, np.where(allowed, power, 0.0), need


def set_point(heater: Heater, pool_target: float) -> float:
    """Give the heater's set point, its own or one that leaves solar room below the target. [°C]."""
    return pool_target - SOLAR_ROOM if heater.target is None else heater.target


def _heat_pump(heater: Heater, temp_air: Floats) -> tuple[Floats, Floats, float]:
    cop = heater.cop or COP_USUAL
    own = lift_own(cop, heater.cop_cool or COP_KEPT_COOL * cop)
    low, high = WATERS
    airs = np.arange(-40.0, 61.0)
    slope = (1.0 / cop_heat_pump(0.0, high, cop, own) - 1.0 / cop_heat_pump(0.0, low, cop, own)) / (
        high - low
    )
    need = [1.0 / cop_heat_pump(float(air), high, cop, own) - slope * high for air in airs]
    rated = heater.capacity or NEVER_SHORT
    cool = heater.capacity_cool or rated * (HEAT_KEPT_COOL if heater.capacity else 1.0)
    power = [heat_heat_pump(float(air), rated, cool) for air in airs]
    return np.interp(temp_air, airs, power), np.interp(temp_air, airs, need), float(slope)
