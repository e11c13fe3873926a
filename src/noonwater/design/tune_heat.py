"""What heat each setting of pump or valve brings in the hours in which solar runs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.weather_year import month_of_hour
from noonwater.core.jit import compiled
from noonwater.design.doubts import Floats
from noonwater.physics.collector import heat_of_bank
from noonwater.year import parameters as at
from noonwater.year.parameters import Inputs
from noonwater.year.run import steps_per_hour


@dataclass(frozen=True, eq=False)
class SolarHours:
    """The hours in which a job's own year has water on the roof.

    Attributes
    ----------
    place : (hours,) array of int
        Of each in the year.
    month : (hours,) array of int
        0 for January.
    time : (hours,) array
        That water is on the roof. [s]
    temp_pool, temp_air : (hours,) array
        [°C]
    bank_gain, bank_loss : (banks, hours) array
        Of the panels at air temperature [W/m²], and to the air [W/(m²·K)].
    area : (banks,) array
        [m²]
    power_filter : (hours,) array
        What the pump takes without solar. [W]
    """

    place: np.ndarray
    month: np.ndarray
    time: Floats
    temp_pool: Floats
    temp_air: Floats
    bank_gain: Floats
    bank_loss: Floats
    area: Floats
    power_filter: Floats


def solar_hours(inputs: Inputs, record: Floats) -> SolarHours:
    """Pick the hours with water on the roof.

    Parameters
    ----------
    inputs : Inputs
        Of a year.
    record : (8760, RECORD) array
        Of the same year, settled; its hours against frost and for cooling are left out.

    Returns
    -------
    SolarHours
        Means over each hour.
    """
    steps, drivers = steps_per_hour(inputs), inputs.drivers
    time = record[:, at.SOLAR_TIME] - record[:, at.COOLING_TIME] - record[:, at.FREEZE_TIME]
    place = np.flatnonzero((time > 0.0) & (record[:, at.SOLAR_HEAT] > 0.0))
    period = drivers.period.reshape(-1, steps).max(axis=1)[place]
    banks = len(inputs.array.area)
    gain, loss = (
        series.reshape(banks, -1, steps).mean(axis=2)[:, place]
        for series in (drivers.bank_gain, drivers.bank_loss)
    )
    return SolarHours(
        place=place,
        month=month_of_hour()[place],
        time=time[place],
        temp_pool=record[place, at.POOL_TEMP],
        temp_air=drivers.temp_air.reshape(-1, steps).mean(axis=1)[place],
        bank_gain=np.ascontiguousarray(gain),
        bank_loss=np.ascontiguousarray(loss),
        area=inputs.array.area,
        power_filter=inputs.control.power_filter[np.maximum(period, 0)],
    )


def heat_rates(hours: SolarHours, flow_capacity: Floats) -> Floats:
    """Heat that each setting would bring in each hour, the panels settled.

    Parameters
    ----------
    hours : SolarHours
        Weather and water as they were in the job's own year.
    flow_capacity : (settings, banks) array
        Mass flow times heat capacity through each bank. [W/K]

    Returns
    -------
    (settings, hours) array
        [W]; losses of pipes, filling and draining are left out, which are alike at all settings.
    """
    heat = np.zeros((len(flow_capacity), len(hours.place)))
    _fill_heat(
        hours.bank_gain,
        hours.bank_loss,
        hours.area,
        hours.temp_pool,
        hours.temp_air,
        flow_capacity,
        heat,
    )
    return heat


@compiled
def _fill_heat(
    gain: Floats,
    loss: Floats,
    area: Floats,
    temp_pool: Floats,
    temp_air: Floats,
    flow_capacity: Floats,
    heat: Floats,
) -> None:
    for setting in range(heat.shape[0]):
        for bank in range(area.shape[0]):
            rate = flow_capacity[setting, bank] / area[bank]
            for hour in range(heat.shape[1]):
                heat[setting, hour] += area[bank] * heat_of_bank(
                    gain[bank, hour], loss[bank, hour], temp_pool[hour], temp_air[hour], rate
                )
