"""From prepared inputs to the settled year, the clear days and the opening run."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.core.errors import NotConverged
from noonwater.model.pool import DAYS_BEFORE_MONTH
from noonwater.year import parameters as at
from noonwater.year.array import heat_held
from noonwater.year.loop import run_steps
from noonwater.year.parameters import Bytes, Floats, Inputs, resting_state

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
    ledger : (LEDGER,) array
        Heat in by kind. [J]
    start, end : (BANKS + banks,) array
        State before and after.
    closure : float
        Heat that the ledger misses over its throughput, the larger of both pools. [-]
    """

    record: Floats
    ledger: Floats
    start: Floats
    end: Floats
    closure: float


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
    hourly = steps_per_hour(inputs)
    end = state.copy()
    record = np.zeros((count // hourly, at.RECORD))
    ledger = np.zeros(at.LEDGER)
    run_steps(inputs, first, count, hourly, end, record, ledger)
    return Run(record, ledger, state, end, closure(inputs, state, end, ledger))


def closure(inputs: Inputs, start: Floats, end: Floats, ledger: Floats) -> float:
    """Relative miss of the heat balance of pool, array and pipes, and of the pool without solar.

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
        The larger miss over the sum of the ledger's absolute rows. [-]
    """
    solar_rows = ledger[[at.SUN, at.EVAPORATED, at.CONVECTED, at.RADIATED, at.ARRAY_GAIN]]
    solar_rows = np.append(solar_rows, ledger[[at.ARRAY_LOSS, at.PIPE_LOSS]])
    plain_rows = ledger[at.SUN_WITHOUT : at.RADIATED_WITHOUT + 1]
    held = heat_held(end, inputs.pool, inputs.array) - heat_held(start, inputs.pool, inputs.array)
    plain = inputs.pool.capacity * (end[at.WITHOUT] - start[at.WITHOUT])
    miss = abs(held - solar_rows.sum()) / max(np.abs(solar_rows).sum(), 1.0)
    miss_plain = abs(plain - plain_rows.sum()) / max(np.abs(plain_rows).sum(), 1.0)
    return float(max(miss, miss_plain))


def settled_year(inputs: Inputs) -> Run:
    """Run the year that ends where it began.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.

    Returns
    -------
    Run
        Of 8760 hours from 1 January.

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
    for _ in range(MOST_REPEATS):
        year = run(inputs, state, 0, steps)
        if drift(year) <= SETTLED:
            return year
        state = year.end
    raise NotConverged("The repeated year", drift(year), "all months")


def drift(year: Run) -> float:
    """How far the year's end misses its start, the larger of both pools. [K]."""
    return float(np.abs(year.end - year.start)[[at.POOL, at.WITHOUT]].max())


def clear_day_rise(inputs: Inputs, temp_without: Floats, sun: Floats) -> Floats:
    """Degrees that a clear day adds in each month.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    temp_without : (8760,) array
        Hourly mean of the pool without solar. [°C]
    sun : (8760,) array
        On level ground. [W/m²]

    Returns
    -------
    (12,) array
        Heat that the array brings on the month's clearest day, over the pool's heat capacity. [K]

    Notes
    -----
    Ours: the clearest day is the one with the most sun on level ground in the month. The pool
    starts it as warm as the pool without solar then is, no target stops the array, and the season
    is open: what the plant can do, not what the owner lets it.
    """
    hourly = steps_per_hour(inputs)
    open_inputs = inputs._replace(
        control=inputs.control._replace(target=99.0, cooling_target=999.0),
        drivers=inputs.drivers._replace(season=_always(inputs.drivers.season)),
    )
    days = sun.reshape(365, 24).sum(axis=1)
    rise = np.zeros(12)
    for month in range(12):
        first, last = DAYS_BEFORE_MONTH[month], DAYS_BEFORE_MONTH[month + 1]
        day = first + int(np.argmax(days[first:last]))
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
