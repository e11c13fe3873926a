"""The year as a result: frozen, complete, in SI."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from noonwater.climate.weather_year import Provenance, month_of_hour
from noonwater.year import parameters as at
from noonwater.year.month_terms import MonthBackup, MonthHeat, backup_of_months, heat_of_months
from noonwater.year.parameters import Floats
from noonwater.year.sensor_cost import SensorCost
from noonwater.year.terms import water_capacity

if TYPE_CHECKING:
    import pandas as pd

JOULES_IN_KWH = 3.6e6


@dataclass(frozen=True)
class Month:
    """One month of the year.

    Attributes
    ----------
    month : int
        1 for January.
    pool, pool_without_solar : float
        Mean temperature of the water. [°C]
    clear_day_rise : float
        What the array adds on a clear day. [K]
    hours_at_target : float
        Hours whose mean is at or above the target. [h]
    hours_at_target_without_solar : float
        The same without solar. [h]
    solar_heat : float
        Brought to the pool. [J]
    solar_time : float
        Water on the roof. [s]
    pump_energy, pump_energy_without_solar : float
        At the wire. [J]
    pump_cost : float
        In the job's currency.
    starts : float
        Of solar.
    cooling_heat, cooling_time, cooling_energy : float
        Taken out of the pool on the roof [J], in what time [s], with how much electricity beyond
        the program's [J].
    freeze_heat, freeze_time, freeze_energy : float
        The same of the circulation against frost.
    stagnation_highest, dry_lowest : float
        Hottest and coldest that dry panels get. [°C]
    pool_heater_only, pool_bare : float
        Mean of the same water with the heater and without solar; without solar, heater and cover.
        [°C]
    make_up : float
        Water that makes up for vapour beyond the rain, and for splash. [m³]
    heat : MonthHeat
        Where the designed pool's heat came from.
    backup : MonthBackup
        What the heater did.
    """

    month: int
    pool: float
    pool_without_solar: float
    clear_day_rise: float
    hours_at_target: float
    hours_at_target_without_solar: float
    solar_heat: float
    solar_time: float
    pump_energy: float
    pump_energy_without_solar: float
    pump_cost: float
    starts: float
    cooling_heat: float
    cooling_time: float
    cooling_energy: float
    freeze_heat: float
    freeze_time: float
    freeze_energy: float
    stagnation_highest: float
    dry_lowest: float
    pool_heater_only: float
    pool_bare: float
    make_up: float
    heat: MonthHeat
    backup: MonthBackup


@dataclass(frozen=True, eq=False)
class YearResult:
    """The pool's year as designed and without solar, heater or cover, from one run.

    Attributes
    ----------
    job : str
        The job's name.
    months : tuple of Month
        Twelve.
    record : (8760, RECORD) array
        Hourly means and sums; columns in `noonwater.year.parameters`. Read-only. A twin that was
        not run, because nothing tells it from another, has that one's temperatures.
    air, sun : (8760,) array
        Mean air temperature [°C] and sun on level ground [W/m²] of each hour.
    closure : float
        Heat in less heat gained, over the throughput, the largest of the pools' ledgers. [-]
    ledger : (LEDGER,) array
        Heat in by kind. [J]
    settled : float
        Pool at the year's end less at its start, the largest of all. [K]
    days_to_target : float or None
        From the opening day at the unheated pool's temperature to the target; None where the
        season ends first. [d]
    opening_temp : float
        Unheated pool on the opening day. [°C]
    weather : Provenance
        Where the year comes from.
    target : float
        [°C]
    sensor_cost : SensorCost or None
        What the sensor costs against a good one; None where it is one.
    inputs_hash : str
        Of the job and the weather.
    version : str
        Of Noonwater.
    """

    job: str
    months: tuple[Month, ...]
    record: Floats
    air: Floats
    sun: Floats
    closure: float
    ledger: Floats
    settled: float
    days_to_target: float | None
    opening_temp: float
    weather: Provenance
    target: float
    sensor_cost: SensorCost | None
    inputs_hash: str
    version: str

    @property
    def pool(self) -> Floats:
        """Hourly mean of the pool with solar. [°C]."""
        return self.record[:, at.POOL_TEMP]

    @property
    def pool_without_solar(self) -> Floats:
        """Hourly mean of the pool without solar. [°C]."""
        return self.record[:, at.POOL_TEMP_WITHOUT]

    @property
    def pool_heater_only(self) -> Floats:
        """Hourly mean of the pool with its heater and without solar. [°C]."""
        return self.record[:, at.POOL_TEMP_HEATER_ONLY]

    @property
    def pool_bare(self) -> Floats:
        """Hourly mean of the pool without solar, heater and cover. [°C]."""
        return self.record[:, at.POOL_TEMP_BARE]

    @property
    def solar_heat(self) -> Floats:
        """Hourly heat brought to the pool. [J]."""
        return self.record[:, at.SOLAR_HEAT]

    @property
    def pump_price(self) -> float:
        """Mean price of the pump's electricity; 0 where it used none. [currency/J]."""
        energy = sum(month.pump_energy for month in self.months)
        return sum(month.pump_cost for month in self.months) / energy if energy else 0.0

    def frame(self) -> pd.DataFrame:
        """Give the hours as a table, in units that people read, on a made-up year of 365 days."""
        import pandas as pd

        record = self.record
        hours = pd.date_range("2003-01-01", periods=len(record), freq="h", name="hour_start")
        columns = {
            "pool_C": record[:, at.POOL_TEMP],
            "pool_without_solar_C": record[:, at.POOL_TEMP_WITHOUT],
            "air_C": self.air,
            "sun_W_m2": self.sun,
            "solar_heat_kWh": record[:, at.SOLAR_HEAT] / JOULES_IN_KWH,
            "solar_minutes": record[:, at.SOLAR_TIME] / 60.0,
            "pump_kWh": record[:, at.PUMP_ENERGY] / JOULES_IN_KWH,
            "pump_without_solar_kWh": record[:, at.PUMP_ENERGY_WITHOUT] / JOULES_IN_KWH,
            "array_C": record[:, at.ARRAY_TEMP],
            "sensor_C": record[:, at.SENSOR_TEMP],
            "evaporation_kWh": record[:, at.EVAPORATION] / JOULES_IN_KWH,
            "starts": record[:, at.STARTS],
            "cooling_heat_kWh": record[:, at.COOLING_HEAT] / JOULES_IN_KWH,
            "freeze_heat_kWh": record[:, at.FREEZE_HEAT] / JOULES_IN_KWH,
            "pool_heater_only_C": record[:, at.POOL_TEMP_HEATER_ONLY],
            "pool_bare_C": record[:, at.POOL_TEMP_BARE],
            "heater_kWh": record[:, at.HEATER_HEAT] / JOULES_IN_KWH,
            "heater_energy_kWh": record[:, at.HEATER_ENERGY] / JOULES_IN_KWH,
            "heater_only_kWh": record[:, at.HEATER_ONLY_HEAT] / JOULES_IN_KWH,
            "heater_only_energy_kWh": record[:, at.HEATER_ONLY_ENERGY] / JOULES_IN_KWH,
            "spa_kWh": record[:, at.SPA_HEAT] / JOULES_IN_KWH,
            "spa_energy_kWh": record[:, at.SPA_ENERGY] / JOULES_IN_KWH,
        }
        return pd.DataFrame(columns, index=hours)


def months_of_record(
    record: Floats,
    ledgers: Floats,
    target: float,
    clear_day_rise: Floats,
    dry_panels: Floats,
    pump_cost: Floats,
) -> tuple[Month, ...]:
    """Sum the hours into twelve months.

    Parameters
    ----------
    record : (8760, RECORD) array
        Hourly means and sums.
    ledgers : (12, LEDGER) array
        Heat in by kind. [J]
    target : float
        [°C]
    clear_day_rise : (12,) array
        [K]
    dry_panels : (2, 12) array
        Hottest and coldest that dry panels get. [°C]
    pump_cost : (12,) array
        Of the pump's electricity. [currency]

    Returns
    -------
    tuple of Month
    """
    month = month_of_hour()
    hours = np.bincount(month, minlength=12)
    sums = np.stack(
        [np.bincount(month, weights=record[:, column], minlength=12) for column in range(at.RECORD)]
    )
    at_target = np.bincount(month, weights=record[:, at.POOL_TEMP] >= target, minlength=12)
    heat, backup, held = heat_of_months(ledgers), backup_of_months(record), water_capacity(target)
    without = np.bincount(month, weights=record[:, at.POOL_TEMP_WITHOUT] >= target, minlength=12)
    return tuple(
        Month(
            month=m + 1,
            pool=float(sums[at.POOL_TEMP, m] / hours[m]),
            pool_without_solar=float(sums[at.POOL_TEMP_WITHOUT, m] / hours[m]),
            clear_day_rise=float(clear_day_rise[m]),
            hours_at_target=float(at_target[m]),
            hours_at_target_without_solar=float(without[m]),
            solar_heat=float(sums[at.SOLAR_HEAT, m]),
            solar_time=float(sums[at.SOLAR_TIME, m]),
            pump_energy=float(sums[at.PUMP_ENERGY, m]),
            pump_energy_without_solar=float(sums[at.PUMP_ENERGY_WITHOUT, m]),
            pump_cost=float(pump_cost[m]),
            starts=float(sums[at.STARTS, m]),
            cooling_heat=float(sums[at.COOLING_HEAT, m]),
            cooling_time=float(sums[at.COOLING_TIME, m]),
            cooling_energy=float(sums[at.COOLING_ENERGY, m]),
            freeze_heat=float(sums[at.FREEZE_HEAT, m]),
            freeze_time=float(sums[at.FREEZE_TIME, m]),
            freeze_energy=float(sums[at.FREEZE_ENERGY, m]),
            stagnation_highest=float(dry_panels[0, m]),
            dry_lowest=float(dry_panels[1, m]),
            pool_heater_only=float(sums[at.POOL_TEMP_HEATER_ONLY, m] / hours[m]),
            pool_bare=float(sums[at.POOL_TEMP_BARE, m] / hours[m]),
            make_up=float(sums[at.MADE_UP_FLOW, m] / held),
            heat=heat[m],
            backup=backup[m],
        )
        for m in range(12)
    )
