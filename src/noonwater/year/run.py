"""From prepared inputs to the settled year, the clear days and the opening run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from noonwater.core.errors import NotConverged
from noonwater.model.pool import DAYS_BEFORE_MONTH
from noonwater.year import parameters as at
from noonwater.year.array import heat_held
from noonwater.year.loop import run_steps
from noonwater.year.parameters import Bytes, Floats, Inputs, only_designed, resting_state
from noonwater.year.water_drivers import NO_HEATER

SPIN_UP_DAYS = 60
SETTLED = 0.01
"""[K] The year is repeated until its end meets its start this closely."""
MOST_REPEATS = 12
STRETCH_DAYS = 14
"""[d] A season is run in such stretches until the pool is warm: most are within the first."""


@dataclass(frozen=True, eq=False)
class Run:
    """What a stretch of steps did.

    Attributes
    ----------
    record : (hours, RECORD) array
        Hourly means and sums.
    ledgers : (parts, LEDGER) array
        Heat in by kind, in each part that the stretch was run in. [J]
    start, end : (BANKS + banks,) array
        State before and after.
    closure : float
        Heat that the ledger misses over its throughput, the largest of all pools. [-]
    """

    record: Floats
    ledgers: Floats
    start: Floats
    end: Floats
    closure: float

    @property
    def ledger(self) -> Floats:
        """Heat in by kind over the whole stretch, (LEDGER,) array. [J]."""
        return np.asarray(self.ledgers.sum(axis=0))


def steps_per_hour(inputs: Inputs) -> int:
    """Count the steps of an hour."""
    return round(3600.0 / inputs.control.step)


def run(inputs: Inputs, state: Floats, first: int, count: int) -> Run:
    """Run the compiled loop once and check its ledger.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    state : (BANKS + banks,) array
        Start; left as it is.
    first, count : int
        Steps; count in whole hours.

    Returns
    -------
    Run
    """
    return run_parts(inputs, state, first, (count,))


def run_parts(inputs: Inputs, state: Floats, first: int, counts: tuple[int, ...]) -> Run:
    """Run the compiled loop through parts one after the other, with a ledger for each.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    state : (BANKS + banks,) array
        Start; left as it is.
    first : int
        Step.
    counts : tuple of int
        Steps of each part, in whole hours.

    Returns
    -------
    Run
        Of all parts together.
    """
    hourly = steps_per_hour(inputs)
    end = state.copy()
    record = np.zeros((sum(counts) // hourly, at.RECORD))
    ledgers = np.zeros((len(counts), at.LEDGER))
    done = 0
    for ledger, count in zip(ledgers, counts, strict=True):
        run_steps(inputs, first + done, count, hourly, end, record[done // hourly :], ledger)
        done += count
    return Run(record, ledgers, state, end, closure(inputs, state, end, ledgers.sum(axis=0)))


def closure(inputs: Inputs, start: Floats, end: Floats, ledger: Floats) -> float:
    """Relative miss of the heat balance of pool, array and pipes, and of each wanted twin.

    Parameters
    ----------
    inputs : Inputs
        For the heat capacities.
    start, end : (BANKS + banks,) array
        States.
    ledger : (LEDGER,) array
        Heat in between them. [J]

    Returns
    -------
    float
        The largest miss over the sum of the ledger's absolute rows. [-]
    """
    plant = ledger[[at.ARRAY_GAIN, at.ARRAY_LOSS, at.PIPE_LOSS]]
    misses = []
    for place in np.flatnonzero(inputs.twins):
        rows = ledger[at.KINDS * place : at.KINDS * (place + 1)]
        held = inputs.pool.capacity * (end[place] - start[place])
        if place == at.POOL:
            rows = np.append(rows, plant)
            held = heat_held(end, inputs.pool, inputs.array)
            held -= heat_held(start, inputs.pool, inputs.array)
        misses.append(abs(held - rows.sum()) / max(np.abs(rows).sum(), 1.0))
    return float(max(misses))


def settled_year(inputs: Inputs) -> Run:
    """Run the year that ends where it began.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.

    Returns
    -------
    Run
        Of 8760 hours from 1 January, a ledger for each month.

    Raises
    ------
    NotConverged
        When the repeated year doesn't settle, with the remaining drift in kelvin.

    Notes
    -----
    The last two months are run first from the air's mean temperature; the pool forgets most of
    that guess. Then whole years, each from the end of the one before. A pool's memory is weeks,
    so one or two suffice; the drift that is left is part of the result.
    """
    steps = len(inputs.drivers.temp_air)
    mean = float(inputs.drivers.temp_air.mean())
    spin_up = SPIN_UP_DAYS * 24 * steps_per_hour(inputs)
    state = resting_state(max(mean, 0.0), mean, len(inputs.array.area))
    state = run(inputs, state, steps - spin_up, spin_up).end
    months = tuple(int(days) * 24 * steps_per_hour(inputs) for days in np.diff(DAYS_BEFORE_MONTH))
    for _ in range(MOST_REPEATS):
        year = run_parts(inputs, state, 0, months)
        if drift(year) <= SETTLED:
            return year
        state = year.end
    raise NotConverged("The repeated year", drift(year), "all months")


def drift(year: Run) -> float:
    """How far the year's end misses its start, the largest of all pools. [K]."""
    return float(np.abs(year.end - year.start)[: at.POOLS].max())


def clear_day_rise(
    inputs: Inputs, temp_without: Floats, sun: Floats, rank: Sequence[int] = (0,) * 12
) -> Floats:
    """Degrees that a clear day adds in each month.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    temp_without : (8760,) array
        Hourly mean of the pool without solar. [°C]
    sun : (8760,) array
        On level ground. [W/m²]
    rank : sequence of int
        For each month which of its days to take: 0 is the clearest, 1 the next.

    Returns
    -------
    (12,) array
        Heat that the array brings on the month's clear day, over the pool's heat capacity. [K]

    Notes
    -----
    Ours: the clearest day is the one with the most sun on level ground in the month. The pool
    starts it as warm as the pool without solar then is, no target stops the array, and the season
    is open: what the plant can do, not what the owner lets it.
    """
    hourly = steps_per_hour(inputs)
    open_inputs = inputs._replace(
        control=inputs.control._replace(target=99.0, cooling_target=999.0),
        heater=NO_HEATER,
        twins=only_designed(),
        drivers=inputs.drivers._replace(season=_always(inputs.drivers.season)),
    )
    days = sun.reshape(365, 24).sum(axis=1)
    rise = np.zeros(12)
    for month in range(12):
        first, last = DAYS_BEFORE_MONTH[month], DAYS_BEFORE_MONTH[month + 1]
        day = first + int(np.argsort(-days[first:last], kind="stable")[rank[month]])
        state = _state_on(inputs, day, temp_without)
        heat = run(open_inputs, state, day * 24 * hourly, 24 * hourly).record[:, at.SOLAR_HEAT]
        rise[month] = heat.sum() / inputs.pool.capacity
    return rise


def days_to_target(
    inputs: Inputs, temp_without: Floats, opening_day: int, season_days: int
) -> tuple[float | None, float]:
    """Days from opening the unheated pool to its first hour at the target.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    temp_without : (8760,) array
        Hourly mean of the pool without solar. [°C]
    opening_day : int
        Days from 1 January.
    season_days : int
        Length of the season. [d]

    Returns
    -------
    tuple of (float or None, float)
        Days, None where the season ends first; temperature at opening. [d], [°C]
    """
    hourly = steps_per_hour(inputs)
    state = _state_on(inputs, opening_day, temp_without)
    inputs = inputs._replace(twins=only_designed())
    opening = float(state[at.POOL])
    for day in range(0, season_days, STRETCH_DAYS):
        days = min(STRETCH_DAYS, season_days - day)
        stretch = run(inputs, state, (opening_day + day) * 24 * hourly, days * 24 * hourly)
        warm = np.flatnonzero(stretch.record[:, at.POOL_TEMP] >= inputs.control.target)
        if len(warm):
            return float(24 * day + warm[0]) / 24.0, opening
        state = stretch.end
    return None, opening


def _state_on(inputs: Inputs, day: int, temp_without: Floats) -> Floats:
    first = day * 24 * steps_per_hour(inputs)
    air = float(inputs.drivers.temp_air[first])
    return resting_state(float(temp_without[day * 24]), air, len(inputs.array.area))


def _always(season: Bytes) -> Bytes:
    return np.ones_like(season)
