"""The five-minute loop against an adaptive integrator with events on the same equations.

Source: scipy.integrate.solve_ivp (LSODA, Hindmarsh 1983, ODEPACK), relative tolerance 1e-7,
switches found as events; stepping, draining and decisions are written anew in bench/fine.py.
Computed at each test run, nothing pasted. Tolerance: an hour within 0.1 K and the days' mean within
0.01 K, the house's promise for the year; 0.1 K is a fifth of what a pool owner can feel.
"""

from __future__ import annotations

import numpy as np
import pytest

from bench.fine import fine_run
from noonwater.year import parameters as at
from noonwater.year.parameters import resting_state
from noonwater.year.run import run
from tests.years import made_inputs

PER_DAY = 288


@pytest.mark.parametrize(("first_day", "pool"), [(20, 14.0), (110, 24.0), (200, 28.8)])
def test_three_days_at_fine_steps(first_day: int, pool: float) -> None:
    inputs = made_inputs()
    first, count = first_day * PER_DAY, 3 * PER_DAY
    start = resting_state(pool, float(inputs.drivers.temp_air[first]), 2)
    loop = run(inputs, start, first, count).record
    _, temps = fine_run(inputs, start, first, count, rtol=1e-7)
    fine = temps[:, :2].reshape(72, 12, 2).mean(axis=1)
    for column, place in ((at.POOL_TEMP, 0), (at.POOL_TEMP_WITHOUT, 1)):
        miss = loop[:, column] - fine[:, place]
        assert np.abs(miss).max() < 0.1
        assert abs(miss.mean()) < 0.01
    assert loop[:, at.SOLAR_HEAT].sum() > 0.0
