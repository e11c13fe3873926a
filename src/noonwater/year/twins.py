"""Which pools a job's year follows beside the one as designed, and what the others would show."""

from __future__ import annotations

import numpy as np

from noonwater.model.job import Job
from noonwater.year import parameters as at
from noonwater.year.parameters import Bytes, Floats


def twins_of(job: Job) -> Bytes:
    """Ask for the pools that differ.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    (POOLS,) array
        1 for each that is wanted: always the pool without solar and heater; the one with the
        heater alone where there is a heater; the bare one where there is a cover.
    """
    wanted = np.zeros(at.POOLS, dtype=np.int8)
    wanted[[at.POOL, at.WITHOUT]] = 1
    wanted[at.HEATER_ONLY] = job.heater.kind != "none"
    wanted[at.BARE] = job.pool.cover.kind != "none"
    return wanted


def filled(record: Floats, twins: Bytes) -> Floats:
    """Give the twins that were not run the temperatures of the one that they equal.

    Parameters
    ----------
    record : (hours, RECORD) array
        Hourly means and sums; left as it is.
    twins : (POOLS,) array
        1 for each that was run.

    Returns
    -------
    (hours, RECORD) array
    """
    whole = record.copy()
    for twin, column in ((at.HEATER_ONLY, at.POOL_TEMP_HEATER_ONLY), (at.BARE, at.POOL_TEMP_BARE)):
        if twins[twin] == 0:
            whole[:, column] = record[:, at.POOL_TEMP_WITHOUT]
    return whole
