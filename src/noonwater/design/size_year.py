"""What an owner counts of a year: days at the target, temperature, heat, electricity."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.weather_year import month_of_hour
from noonwater.design.doubts import Floats
from noonwater.year import parameters as at
from noonwater.year.parameters import Bytes, Inputs
from noonwater.year.run import Run, steps_per_hour


@dataclass(frozen=True)
class Yield:
    """What a year gives.

    Attributes
    ----------
    days_at_target : int
        Days of the season whose mean is at the target or above: the season's length in comfort. [d]
    hours_at_target : float
        Hours of the year whose mean is. [h]
    season_pool : float
        Mean of the pool over the season. [°C]
    pool : tuple of float
        Monthly means. [°C]
    solar_heat : float
        Brought to the pool in the year. [J]
    pump_energy, pump_energy_added : float
        At the wire in the year; what solar adds to it. [J]
    heater_energy : float
        That the backup heater burns or draws in the year; 0 where there is none. [J]
    """

    days_at_target: int
    hours_at_target: float
    season_pool: float
    pool: tuple[float, ...]
    solar_heat: float
    pump_energy: float
    pump_energy_added: float
    heater_energy: float


def days_at_target(pool: Floats, target: float, season: Bytes) -> int:
    """Count the season's days whose mean is at the target or above.

    Parameters
    ----------
    pool : (8760,) array
        Hourly means. [°C]
    target : float
        [°C]
    season : (365,) array
        1 on the season's days.

    Returns
    -------
    int
        [d]
    """
    warm = pool.reshape(365, 24).mean(axis=1) >= target
    return int((warm & (season == 1)).sum())


def monthly_means(pool: Floats) -> Floats:
    """Mean of a year's hours in each month; (8760,) → (12,). [°C]."""
    month = month_of_hour()
    sums = np.bincount(month, weights=pool, minlength=12)
    return np.asarray(sums / np.bincount(month, minlength=12))


def season_of_day(inputs: Inputs) -> Bytes:
    """Which days are in season, from prepared inputs."""
    return np.asarray(inputs.drivers.season[:: 24 * steps_per_hour(inputs)])


def with_solar(year: Run, inputs: Inputs) -> Yield:
    """Read a settled year's yield with solar."""
    columns = (at.SOLAR_HEAT, at.PUMP_ENERGY, at.PUMP_ENERGY_WITHOUT, at.HEATER_ENERGY)
    heat, energy, anyway, burnt = (_year_sum(year.record[:, column]) for column in columns)
    return _yield(year.record[:, at.POOL_TEMP], inputs, (heat, energy, energy - anyway, burnt))


def without_solar(year: Run, inputs: Inputs) -> Yield:
    """Read the yield of the same pool without solar, with its heater where it has one."""
    energy = _year_sum(year.record[:, at.PUMP_ENERGY_WITHOUT])
    heated = inputs.twins[at.HEATER_ONLY] == 1
    burnt = _year_sum(year.record[:, at.HEATER_ONLY_ENERGY]) if heated else 0.0
    column = at.POOL_TEMP_HEATER_ONLY if heated else at.POOL_TEMP_WITHOUT
    return _yield(year.record[:, column], inputs, (0.0, energy, 0.0, burnt))


def _year_sum(hourly: NDArray[Any]) -> float:
    """Sum by months and then over them, as the year's answer does, to the last digit."""
    return float(sum(np.bincount(month_of_hour(), weights=hourly, minlength=12)))


def _yield(pool: Floats, inputs: Inputs, sums: tuple[float, float, float, float]) -> Yield:
    season, target = season_of_day(inputs), inputs.control.target
    hours = pool.reshape(365, 24)[season == 1]
    return Yield(
        days_at_target=days_at_target(pool, target, season),
        hours_at_target=_year_sum(pool >= target),
        season_pool=float(hours.mean()) if hours.size else float(pool.mean()),
        pool=tuple(float(mean) for mean in monthly_means(pool)),
        solar_heat=sums[0],
        pump_energy=sums[1],
        pump_energy_added=sums[2],
        heater_energy=sums[3],
    )
