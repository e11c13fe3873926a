"""A day of the year replayed in the steps in which it was computed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.app.weather import weather_of
from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from noonwater.year.parameters import Inputs

    Floats = NDArray[np.float64]
    Modes = NDArray[np.int8]

DAYS = 365
RESTING, HEATING, COOLING, CIRCULATING = range(4)
"""What the water does on the roof."""


@dataclass(frozen=True, eq=False)
class DayReplay:
    """A day in steps.

    Attributes
    ----------
    day : int
        From 0 for 1 January.
    step : float
        [s]
    pool, sensor, panels, air : (steps,) array
        Temperatures at the end of each step, the air's in its middle. [°C]
    heat : (steps,) array
        From the roof to the pool; negative while it cools or circulates. [W]
    power : (steps,) array
        Of the pump at the wire. [W]
    mode : (steps,) array
        Resting, heating, cooling or circulating against frost.
    """

    day: int
    step: float
    pool: Floats
    sensor: Floats
    panels: Floats
    air: Floats
    heat: Floats
    power: Floats
    mode: Modes


def replay_day(job: Job, day: int) -> DayReplay:
    """Replay a day of the job's settled year.

    Parameters
    ----------
    job : Job
        The job.
    day : int
        From 0 for 1 January to 364.

    Raises
    ------
    InputError
        A day that no year has, or a job without weather.
    NotConverged
        When the year doesn't settle.
    """
    import numpy as np

    from noonwater.year import parameters as at
    from noonwater.year.replay import day_record

    if not 0 <= day < DAYS:
        raise InputError([Fault("day", str(day), f"0 for 1 January to {DAYS - 1}")])
    inputs, starts = _days(job)
    record = day_record(inputs, starts[day], day)
    step, steps = inputs.control.step, len(record)
    times = [record[:, column] for column in (at.SOLAR_TIME, at.COOLING_TIME, at.FREEZE_TIME)]
    heat = record[:, at.SOLAR_HEAT] - record[:, at.COOLING_HEAT] - record[:, at.FREEZE_HEAT]
    return DayReplay(
        day=day,
        step=step,
        pool=record[:, at.POOL_TEMP],
        sensor=record[:, at.SENSOR_TEMP],
        panels=record[:, at.ARRAY_TEMP],
        air=inputs.drivers.temp_air[day * steps : (day + 1) * steps],
        heat=heat / step,
        power=record[:, at.PUMP_ENERGY] / step,
        mode=np.select([each > 0.0 for each in times], [HEATING, COOLING, CIRCULATING], RESTING),
    )


def telling_days(job: Job) -> tuple[tuple[int, str], ...]:
    """Days of the weather worth a look: each month's clearest, the year's warmest and coldest.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of (int, str)
        Days from 0 for 1 January, and why.
    """
    from noonwater.app.text import MONTH_NAMES
    from noonwater.model.pool import DAYS_BEFORE_MONTH

    weather = weather_of(job)
    sun = weather.sun_global.reshape(DAYS, 24).sum(axis=1)
    air = weather.temp_air.reshape(DAYS, 24)
    found = [
        (int(air.min(axis=1).argmin()), "coldest night"),
        (int(air.max(axis=1).argmax()), "warmest day"),
    ]
    for month, name in enumerate(MONTH_NAMES):
        first, last = DAYS_BEFORE_MONTH[month], DAYS_BEFORE_MONTH[month + 1]
        found.append((first + int(sun[first:last].argmax()), f"clearest in {name}"))
    return tuple(found)


@lru_cache(maxsize=4)
def _days(job: Job) -> tuple[Inputs, Floats]:
    from noonwater.year.prepare import prepare
    from noonwater.year.replay import day_starts

    inputs = prepare(job, surroundings_of(job), flows_by_period(job))
    # With its twins, though they are not shown: the year settles on them too.
    return inputs, day_starts(inputs)
