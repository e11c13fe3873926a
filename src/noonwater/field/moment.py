"""The hour of the call: which hours of the job's year are like it, and what the roof is in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from noonwater.climate.weather_year import month_of_hour
from noonwater.design.expected_rise import CLEAR, HOURS, Floats, Hours, Steps, rises, sun_on_panels
from noonwater.model.job import Job
from noonwater.physics.collector import temp_stagnation
from noonwater.year import parameters as at
from noonwater.year.parameters import Inputs
from noonwater.year.result import YearResult
from noonwater.year.surroundings import Surroundings

Sky = Literal["clear", "thin cloud", "overcast"]
SKIES: tuple[Sky, ...] = ("clear", "thin cloud", "overcast")

CLOUDED = 0.45
"""[-] Overcast is an hour with less than this of the month's most sun at that hour: ours."""
DAYLIGHT = 200.0
"""[W/m²] Where no hour is told, hours with at least so much sun count: ours."""
MOST = 40
"""[h] So many of the hours that are like it stand for all."""
HOUR = 3600.0


@dataclass(frozen=True)
class Moment:
    """When the telephone rings, as far as it is told.

    Attributes
    ----------
    month : int or None
        1 for January.
    hour : int or None
        Standard time.
    sky : Sky or None
        Now.
    pool : float or None
        The pool's temperature. [°C]
    """

    month: int | None = None
    hour: int | None = None
    sky: Sky | None = None
    pool: float | None = None


class RoofHour(NamedTuple):
    """How warm, and how far from it hours like this one are: mean and standard deviation."""

    mean: float
    spread: float


@dataclass(frozen=True, eq=False)
class RoofYear:
    """A job's year, to look up hours in.

    Attributes
    ----------
    job : Job
        With its pump speeds found.
    inputs : Inputs
        What the year's loop ran on.
    record : (8760, RECORD) array
        What came of it.
    sun : (8760,) array
        In the panels' planes. [W/m²]
    """

    job: Job
    inputs: Inputs
    record: Floats
    sun: Floats


@dataclass(frozen=True, eq=False)
class LikeHours:
    """Hours of the year that are like the one of a call.

    Attributes
    ----------
    year : RoofYear
        They are of.
    steps : (hours,) array
        The step in the middle of each.
    pool, sensor : (hours,) array
        [°C]
    called : float
        Share of them in which solar heats. [-]
    """

    year: RoofYear
    steps: Steps
    pool: Floats
    sensor: Floats
    called: float

    def rise(self, bank_flows: tuple[float, ...]) -> RoofHour:
        """Rise over the roof. [K]."""
        return _told(rises(self.year.job, self.year.inputs, self.pool, bank_flows, self.steps))

    def panels(self, bank_flows: tuple[float, ...]) -> RoofHour:
        """Temperature of the panels by area, half way along where water runs. [°C]."""
        drivers, area = self.year.inputs.drivers, self.year.inputs.array.area
        still = np.vectorize(temp_stagnation, otypes=[np.float64])
        total = np.zeros(len(self.steps))
        for bank, flow in enumerate(bank_flows or (0.0,) * len(area)):
            if flow > 0.0:
                alone = tuple(flow * (n == bank) for n in range(len(area)))
                half = 0.5 * rises(self.year.job, self.year.inputs, self.pool, alone, self.steps)
                total += area[bank] * (self.pool + half)
            else:
                gain, loss = (
                    each[bank, self.steps] for each in (drivers.bank_gain, drivers.bank_loss)
                )
                total += area[bank] * still(gain, loss, drivers.temp_air[self.steps])
        return _told(total / area.sum())

    def sensor_shows(self) -> RoofHour:
        """Temperature of the roof's sensor. [°C]."""
        return _told(self.sensor)


def roof_year(job: Job, around: Surroundings, inputs: Inputs, year: YearResult) -> RoofYear:
    """Gather a job's year.

    Parameters
    ----------
    job : Job
        With its pump speeds found.
    around : Surroundings
        Sun on its planes.
    inputs : Inputs
        What the year's loop ran on.
    year : YearResult
        What came of it.

    Returns
    -------
    RoofYear
    """
    hourly = len(inputs.drivers.temp_air) // len(year.record)
    sun = sun_on_panels(job, around, inputs)[hourly // 2 :: hourly]
    return RoofYear(job, inputs, year.record, sun)


def like_hours(year: RoofYear, moment: Moment) -> LikeHours:
    """Choose the hours that are like the one of a call.

    Parameters
    ----------
    year : RoofYear
        The job's.
    moment : Moment
        What is told of the call.

    Returns
    -------
    LikeHours
        Of a sky that never is in such hours, all of them.
    """
    hourly = len(year.inputs.drivers.temp_air) // len(year.record)
    season = year.inputs.drivers.season[hourly // 2 :: hourly] > 0
    when: Hours = season
    if moment.month:
        month: Hours = np.asarray(month_of_hour() == moment.month - 1)
        # A month that the season cuts in two counts with the days inside it.
        when = month & season if (month & season).any() else month
    when = when & ((moment.hour == HOURS) if moment.hour is not None else year.sun >= DAYLIGHT)
    if not when.any():
        when = np.asarray(year.sun >= DAYLIGHT)
    fitting = when & _skies(year, when, moment.sky)
    hours = np.flatnonzero(fitting if fitting.any() else when)
    hours = hours[:: max(len(hours) // MOST, 1)]
    steps = hours * hourly + hourly // 2
    pool = year.record[hours, at.POOL_TEMP]
    if moment.pool is not None:
        pool = np.full(len(hours), moment.pool)
    sensor = year.record[hours, at.SENSOR_TEMP]
    return LikeHours(year, steps, pool, sensor, _called(year, hours, steps, moment.pool))


def _skies(year: RoofYear, when: Hours, sky: Sky | None) -> Hours:
    if sky is None:
        return when
    most = np.zeros(len(year.sun))
    months = month_of_hour()
    for month in range(12):
        for hour in range(24):
            here = when & (months == month) & (hour == HOURS)
            if here.any():
                most[here] = year.sun[here].max()
    share = year.sun / np.maximum(most, 1e-9)
    clear, clouded = share >= CLEAR, share < CLOUDED
    found = {"clear": clear, "overcast": clouded, "thin cloud": ~clear & ~clouded}
    return np.asarray(found[sky])


def _called(year: RoofYear, hours: Steps, steps: Steps, pool: float | None) -> float:
    """Share of the hours in which solar heats; of a told pool, in which the sensor would call."""
    control, drivers = year.inputs.control, year.inputs.drivers
    if pool is None or not control.differential:
        return float(np.mean(year.record[hours, at.SOLAR_TIME]) / HOUR)
    if pool >= control.target + control.deadband:
        return 0.0
    period = drivers.period[steps]
    allowed = (period >= 0) & (control.solar_in_period[np.maximum(period, 0)] > 0)
    middle = 0.5 * (control.on_difference + control.off_difference)
    warm = year.record[hours, at.SENSOR_TEMP] - pool > middle
    return float(np.mean(allowed & warm & (drivers.season[steps] > 0)))


def _told(values: Floats) -> RoofHour:
    return RoofHour(float(values.mean()), float(values.std()))
