"""One day of the settled year again, kept at every step."""

from __future__ import annotations

import numpy as np

from noonwater.year import parameters as at
from noonwater.year.loop import run_steps
from noonwater.year.parameters import Floats, Inputs
from noonwater.year.run import settled_year, steps_per_hour

DAYS = 365


def day_starts(inputs: Inputs) -> Floats:
    """Give the state in which each day of the settled year begins.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.

    Returns
    -------
    (365, BANKS + banks) array

    Raises
    ------
    NotConverged
        When the year doesn't settle.
    """
    hourly = steps_per_hour(inputs)
    state = settled_year(inputs).start.copy()
    starts = np.zeros((DAYS, len(state)))
    record, ledger = np.zeros((24, at.RECORD)), np.zeros(at.LEDGER)
    for day in range(DAYS):
        starts[day] = state
        run_steps(inputs, day * 24 * hourly, 24 * hourly, hourly, state, record, ledger)
    return starts


def day_record(inputs: Inputs, start: Floats, day: int) -> Floats:
    """Run one day and keep every step.

    Parameters
    ----------
    inputs : Inputs
        Drivers and figures.
    start : (BANKS + banks,) array
        State in which the day begins; left as it is.
    day : int
        From 0 for 1 January.

    Returns
    -------
    (steps of a day, RECORD) array
        The columns of the hourly record, of each step: temperatures at its end [°C], energies of
        it [J], times within it [s].
    """
    steps = 24 * steps_per_hour(inputs)
    record, ledger = np.zeros((steps, at.RECORD)), np.zeros(at.LEDGER)
    # With one step to the hour the loop books every step in a row of its own.
    run_steps(inputs, day * steps, steps, 1, start.copy(), record, ledger)
    return record
