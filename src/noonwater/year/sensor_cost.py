"""What a bad sensor costs: the same year run with it and with a good one."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.year import parameters as at
from noonwater.year.parameters import Floats


@dataclass(frozen=True)
class SensorCost:
    """A year with the job's sensor beside the same year with a good one.

    Attributes
    ----------
    solar_heat, solar_heat_good : float
        [J]
    solar_time, solar_time_good : float
        Water on the roof. [s]
    pump_energy, pump_energy_good : float
        [J]
    hours_at_target, hours_at_target_good : float
        [h]
    starts, starts_good : float
        In the year.
    """

    solar_heat: float
    solar_heat_good: float
    solar_time: float
    solar_time_good: float
    pump_energy: float
    pump_energy_good: float
    hours_at_target: float
    hours_at_target_good: float
    starts: float
    starts_good: float

    @property
    def share_lost(self) -> float:
        """Solar heat that the sensor costs, of what a good one brings. [-]."""
        if self.solar_heat_good <= 0.0:
            return 0.0
        return 1.0 - self.solar_heat / self.solar_heat_good


def sensor_cost(record: Floats, record_good: Floats, target: float) -> SensorCost:
    """Set two years side by side.

    Parameters
    ----------
    record, record_good : (hours, RECORD) array
        With the job's sensor and with a good one.
    target : float
        [°C]

    Returns
    -------
    SensorCost
    """

    def sums(of: Floats) -> tuple[float, ...]:
        columns = (at.SOLAR_HEAT, at.SOLAR_TIME, at.PUMP_ENERGY, at.STARTS)
        warm = float((of[:, at.POOL_TEMP] >= target).sum())
        return (*(float(of[:, column].sum()) for column in columns), warm)

    heat, time, pump, starts, warm = sums(record)
    heat_good, time_good, pump_good, starts_good, warm_good = sums(record_good)
    return SensorCost(
        solar_heat=heat,
        solar_heat_good=heat_good,
        solar_time=time,
        solar_time_good=time_good,
        pump_energy=pump,
        pump_energy_good=pump_good,
        hours_at_target=warm,
        hours_at_target_good=warm_good,
        starts=starts,
        starts_good=starts_good,
    )
