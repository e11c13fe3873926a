"""A year's result made ready to be drawn: days instead of hours, in the reader's units."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.core.errors import Fault, InputError
from noonwater.core.units import System, in_system, unit_label
from noonwater.drawing.calendar import DAYS, Season
from noonwater.drawing.strokes import Floats
from noonwater.year import parameters as at
from noonwater.year.result import JOULES_IN_KWH, YearResult

KWH_IN_MWH = 1000.0
_MOST_IN_KWH = 30_000.0


@dataclass(frozen=True, eq=False)
class YearDays:
    """What the year's sheet shows.

    Attributes
    ----------
    pool, pool_low, pool_high : (365,) array
        Mean, lowest and highest hour of each day, with solar. [temperature_unit]
    pool_without_solar, air : (365,) array
        Mean of each day. [temperature_unit]
    target : float
        [temperature_unit]
    solar_heat, pump_energy, pump_energy_without_solar : (12,) array
        Of each month. [energy_unit]
    without : str
        What the water without solar goes without besides.
    system : {"US", "SI"}
        Units.
    temperature_unit, energy_unit : str
        As written. Heat and electricity share a unit so that one can be held against the other.
    """

    pool: Floats
    pool_low: Floats
    pool_high: Floats
    pool_without_solar: Floats
    air: Floats
    target: float
    solar_heat: Floats
    pump_energy: Floats
    pump_energy_without_solar: Floats
    without: str
    system: System
    temperature_unit: str
    energy_unit: str


def year_days(result: YearResult, system: System) -> YearDays:
    """Take the days' and months' figures from a year's result.

    Parameters
    ----------
    result : YearResult
        In SI.
    system : {"US", "SI"}
        Units to show.

    Raises
    ------
    ValueError
        Where the result holds something that is not a number.
    """
    pool = _by_day("pool", result.pool, system)
    unit, joules = _energy_unit(result)
    return YearDays(
        pool=pool.mean(axis=1),
        pool_low=pool.min(axis=1),
        pool_high=pool.max(axis=1),
        pool_without_solar=_by_day("pool_without_solar", result.pool_without_solar, system).mean(
            axis=1
        ),
        air=_by_day("air", result.air, system).mean(axis=1),
        target=in_system(result.target, "temperature", system),
        solar_heat=_finite("solar_heat", [month.solar_heat / joules for month in result.months]),
        pump_energy=_finite("pump_energy", [month.pump_energy / joules for month in result.months]),
        pump_energy_without_solar=_finite(
            "pump_energy_without_solar",
            [month.pump_energy_without_solar / joules for month in result.months],
        ),
        without="solar or heater" if result.record[:, at.HEATER_HEAT].any() else "solar",
        system=system,
        temperature_unit=unit_label("temperature", system),
        energy_unit=unit,
    )


def checked_units(units: str) -> System:
    """Take the name of a system of units, or refuse it."""
    if units == "US":
        return "US"
    if units == "SI":
        return "SI"
    raise InputError([Fault("units", f"'{units}'", "US or SI", "choose one of the two")])


def checked_season(opens: str, closes: str) -> Season:
    """Take the season's days, or refuse them with what is allowed."""
    season = Season(opens, closes)
    faults = []
    for name, day in (("opens", opens), ("closes", closes)):
        try:
            Season(day, day).open_spans  # noqa: B018
        except ValueError:
            faults.append(Fault(name, f"'{day}'", "month and day such as '04-15'"))
    if faults:
        raise InputError(faults)
    return season


def _by_day(name: str, hourly: Floats, system: System) -> Floats:
    # Two calls give the scale: the border's conversion is exact, but takes one number at a time.
    zero, hundred = (in_system(value, "temperature", system) for value in (0.0, 100.0))
    shown = zero + (hundred - zero) / 100.0 * _finite(name, hourly)
    return shown.reshape(DAYS, 24)


def _finite(name: str, values: Floats | list[float]) -> Floats:
    checked = np.asarray(values, dtype=np.float64)
    if not np.isfinite(checked).all():
        raise ValueError(f"{name} of the year's result holds something that is not a number")
    return checked


def _energy_unit(result: YearResult) -> tuple[str, float]:
    most = max(max(month.solar_heat, month.pump_energy) for month in result.months) / JOULES_IN_KWH
    return ("kWh", JOULES_IN_KWH) if most < _MOST_IN_KWH else ("MWh", JOULES_IN_KWH * KWH_IN_MWH)
