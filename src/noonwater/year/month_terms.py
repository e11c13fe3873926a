"""A month of the water by its terms: where its heat came from and what the heater did."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.weather_year import month_of_hour
from noonwater.year import parameters as at
from noonwater.year.parameters import Floats


@dataclass(frozen=True)
class MonthHeat:
    """Heat that came to the designed pool in a month, by its way; negative where it left. [J].

    Attributes
    ----------
    sun : float
        Absorbed by the water.
    evaporation, convection, longwave : float
        At the surface.
    falling_water : float
        Evaporation and convection of waterfalls and the like.
    ground : float
        Through walls and floor.
    rain, make_up : float
        Of rain, and of the water that makes up for vapour and splash, against the pool's own.
    bathers : float
        Of their bodies.
    pump : float
        Of the pump's friction.
    heater : float
        Of the backup heater.
    spa : float
        Of a spa's warm water that spills into the pool.
    solar : float
        Of the array, less what cooling and the freeze action took.
    """

    sun: float
    evaporation: float
    convection: float
    longwave: float
    falling_water: float
    ground: float
    rain: float
    make_up: float
    bathers: float
    pump: float
    heater: float
    spa: float
    solar: float


ROWS = (
    at.SUN,
    at.EVAPORATED,
    at.CONVECTED,
    at.RADIATED,
    at.FALLING,
    at.GROUND,
    at.RAIN,
    at.MADE_UP,
    at.BATHED,
    at.PUMPED,
    at.HEATED,
    at.SPA,
    at.DELIVERED,
)
"""Rows of the ledger in the order of `MonthHeat`: the designed pool's stand first."""


@dataclass(frozen=True)
class MonthBackup:
    """What the backup heater did in a month, with solar and without.

    Attributes
    ----------
    heat, only_heat : float
        To the pool, and to its twin that has the heater alone. [J]
    energy, only_energy : float
        Fuel burnt or electricity drawn for it. [J]
    pump_energy, only_pump_energy : float
        Of the pump that the heater called outside its program. [J]
    spa_heat, spa_energy : float
        To the spa, which solar does not heat, and what it took. [J]
    """

    heat: float
    energy: float
    pump_energy: float
    only_heat: float
    only_energy: float
    only_pump_energy: float
    spa_heat: float
    spa_energy: float


COLUMNS = (
    at.HEATER_HEAT,
    at.HEATER_ENERGY,
    at.HEATER_PUMP_ENERGY,
    at.HEATER_ONLY_HEAT,
    at.HEATER_ONLY_ENERGY,
    at.HEATER_ONLY_PUMP_ENERGY,
    at.SPA_HEAT,
    at.SPA_ENERGY,
)
"""Columns of the record in the order of `MonthBackup`."""


def heat_of_months(ledgers: Floats) -> tuple[MonthHeat, ...]:
    """Give the designed pool's heat of each month.

    Parameters
    ----------
    ledgers : (12, LEDGER) array
        Heat in by kind. [J]

    Returns
    -------
    tuple of MonthHeat
    """
    return tuple(MonthHeat(*(float(ledger[row]) for row in ROWS)) for ledger in ledgers)


def backup_of_months(record: Floats) -> tuple[MonthBackup, ...]:
    """Sum what the heater did in each month.

    Parameters
    ----------
    record : (8760, RECORD) array
        Hourly means and sums.

    Returns
    -------
    tuple of MonthBackup
    """
    sums = [np.bincount(month_of_hour(), weights=record[:, c], minlength=12) for c in COLUMNS]
    return tuple(MonthBackup(*(float(value) for value in month)) for month in np.array(sums).T)
