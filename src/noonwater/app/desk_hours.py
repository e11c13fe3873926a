"""The year hour by hour, as plain numbers for the page's own drawing."""

from __future__ import annotations

from functools import lru_cache

from noonwater.app.desk import View, studied
from noonwater.core.units import System, in_system
from noonwater.model.job import Job

SERIES = ("pool", "without", "air", "heat", "pump")
"""In this order, each 8,760 values: temperatures in the job's unit, heat and electricity in kW."""

JOULES_IN_KWH = 3.6e6


def hours_of(view: View) -> bytes:
    """Give the year's hours as little-endian 32-bit floats, series by series; none without a year.

    Parameters
    ----------
    view : View
        The job.
    """
    return _hours(view.job, view.system)


@lru_cache(maxsize=8)
def _hours(job: Job, system: System) -> bytes:
    import numpy as np

    year = studied(job).year
    if year is None:
        return b""
    frame = year.frame()
    low, high = (in_system(value, "temperature", system) for value in (0.0, 1.0))
    temperatures = [
        frame[name].to_numpy() * (high - low) + low
        for name in ("pool_C", "pool_without_solar_C", "air_C")
    ]
    powers = [frame[name].to_numpy() for name in ("solar_heat_kWh", "pump_kWh")]
    return np.concatenate([*temperatures, *powers]).astype("<f4").tobytes()
