"""How much warmer water should come back from the roof, by the sun and by the hour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.weather_year import month_of_hour
from noonwater.model.job import Job
from noonwater.physics.collector import temp_outlet_bank
from noonwater.year.parameters import Inputs
from noonwater.year.result import YearResult
from noonwater.year.surroundings import Surroundings
from noonwater.year.terms import water_capacity

Floats = NDArray[np.float64]
Hours = NDArray[np.bool_]
Steps = NDArray[np.int64]

HOURS = np.arange(365 * 24) % 24
"""[h] Hour of the day, standard time, of each hour of the year."""

SUN_STEP = 200.0
"""[W/m²] Width of a row of the table over the sun: ours."""
SUN_FROM = (300.0, 500.0, 700.0, 900.0)
"""[W/m²] Where each row begins; the last has no end."""
FEWEST = 12
"""[h] A row with fewer hours in the season is left out: ours."""
CLOCK = (9, 11, 13, 15)
"""[h] Hours of the table by month begin then, standard time."""
CLEAR = 0.9
"""[-] Clear is an hour with this much of the month's most sun at that hour: ours."""
THERMOMETERS = 0.2
"""[K] Error of one good thermometer read at both places, or of two matched ones: ours."""
LOW, HIGH = 0.1, 0.9
"""[-] Ends: four of five hours of such sun lie between."""


@dataclass(frozen=True)
class SunRow:
    """Rise at one strength of the sun.

    Attributes
    ----------
    sun : float
        In the panels' planes, by area; middle of the row. [W/m²]
    low, middle, high : float
        Of four hours of five with such sun in the season's weather, wider by flow and thermometers.
        [K]
    """

    sun: float
    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class ClearRow:
    """Rise in a month's clear hours.

    Attributes
    ----------
    month : int
        1 for January.
    rises : tuple of (float, float) or None
        Least and most at each of `CLOCK`; None where no such hour heats. [K]
    """

    month: int
    rises: tuple[tuple[float, float] | None, ...]


@dataclass(frozen=True)
class ExpectedRise:
    """The rise of one solar state.

    Attributes
    ----------
    by_sun : tuple of SunRow
        Weak sun first.
    by_month : tuple of ClearRow
        Of the months in season.
    """

    by_sun: tuple[SunRow, ...]
    by_month: tuple[ClearRow, ...]


def expected_rise(
    job: Job,
    around: Surroundings,
    inputs: Inputs,
    year: YearResult,
    bank_flows: tuple[float, ...],
    flow_doubt: tuple[float, float] = (1.0, 1.0),
) -> ExpectedRise:
    """Tell how much warmer the water should come back from the roof than it goes there.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Sun on its planes.
    inputs : Inputs
        What the year's loop ran on: the panels' gain and loss in each step.
    year : YearResult
        For the pool's temperature, which goes to the roof.
    bank_flows : tuple of float
        Of the state. [m³/s]
    flow_doubt : tuple of float
        Least and most flow over the expected. [-]

    Returns
    -------
    ExpectedRise
        Settled, the pipes' loss left out: both thermometers stand at the roof, or the pipes are
        short.
    """
    hourly = len(inputs.drivers.temp_air) // len(year.record)
    at = slice(hourly // 2, None, hourly)
    rise = rises(job, inputs, year.pool, bank_flows, at)
    sun = sun_on_panels(job, around, inputs)[at]
    season = inputs.drivers.season[at] > 0
    rows = []
    for middle, here in _by_sun(sun, season):
        low, centre, high = (float(x) for x in np.quantile(rise[here], (LOW, 0.5, HIGH)))
        low, high = _widened(low, high, flow_doubt)
        rows.append(SunRow(middle, low, centre, high))
    months = []
    for month in range(12):
        here = season & (month_of_hour() == month)
        if here.any():
            clear = (_clear(rise, sun, here & (hour == HOURS), flow_doubt) for hour in CLOCK)
            months.append(ClearRow(month + 1, tuple(clear)))
    return ExpectedRise(tuple(rows), tuple(months))


def _widened(low: float, high: float, flow_doubt: tuple[float, float]) -> tuple[float, float]:
    least, most = flow_doubt
    return max(low / most - THERMOMETERS, 0.0), high / least + THERMOMETERS


def _clear(
    rise: Floats, sun: Floats, here: Hours, flow_doubt: tuple[float, float]
) -> tuple[float, float] | None:
    clear = here & (sun >= CLEAR * sun[here].max(initial=0.0)) & (sun > 0.0)
    if not clear.any() or float(rise[clear].max()) <= 0.0:
        return None
    return _widened(float(rise[clear].min()), float(rise[clear].max()), flow_doubt)


def rises(
    job: Job,
    inputs: Inputs,
    pool: Floats,
    bank_flows: tuple[float, ...],
    at: slice | Steps,
) -> Floats:
    """Rise over the roof: the mixed outlet of all banks less the pool.

    Parameters
    ----------
    job : Job
        The job.
    inputs : Inputs
        What the year's loop ran on.
    pool : (hours,) array
        Water that goes to the roof. [°C]
    bank_flows : tuple of float
        [m³/s]
    at : slice or (hours,) array
        The step that stands for each hour.

    Returns
    -------
    (hours,) array
        Settled; 0 where nothing flows. [K]
    """
    outlet = np.vectorize(temp_outlet_bank, otypes=[np.float64])
    drivers, capacity = inputs.drivers, water_capacity(job.pool.target)
    total = np.zeros(len(pool))
    for bank, flow in enumerate(bank_flows):
        if flow <= 0.0:
            continue
        per_area = flow * capacity / inputs.array.area[bank]
        gain, loss = drivers.bank_gain[bank, at], drivers.bank_loss[bank, at]
        total += flow * (outlet(gain, loss, pool, drivers.temp_air[at], per_area) - pool)
    return total / max(sum(bank_flows), 1e-12)


def sun_on_panels(job: Job, around: Surroundings, inputs: Inputs) -> Floats:
    """Sun in the panels' planes, by area.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Sun on its planes.
    inputs : Inputs
        For the panels' areas.

    Returns
    -------
    (steps,) array
        [W/m²]
    """
    area = inputs.array.area
    total = np.zeros(len(inputs.drivers.temp_air))
    for bank, each in zip(job.array.banks, area, strict=True):
        roof = job.roof_named(bank.roof)
        plane = around.planes[roof.pitch, roof.bearing]
        total += each * (plane.beam + plane.sky + plane.ground)
    return np.asarray(total / area.sum())


def _by_sun(sun: Floats, season: Hours) -> Iterator[tuple[float, Hours]]:
    for low in SUN_FROM:
        strongest = low == SUN_FROM[-1]
        here = season & (sun >= low) & (strongest | (sun < low + SUN_STEP))
        if here.sum() >= FEWEST:
            yield low + 0.5 * SUN_STEP, here
