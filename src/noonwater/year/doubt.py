"""Inputs that nobody measured, carried through the year as ranges."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from noonwater.physics.collector_rating import TEST_WIND_RANGE
from noonwater.physics.evaporation import EVAPORATION_FACTOR_HIGH, EVAPORATION_FACTOR_LOW
from noonwater.year import parameters as at
from noonwater.year.panels import TEST_SKY_RANGE
from noonwater.year.parameters import Inputs
from noonwater.year.prepare import Belief
from noonwater.year.result import Uncertain
from noonwater.year.run import settled_year

WATER_WIND_RANGE = (0.6, 1.5)
"""[-] A surveyor's word for the garden's wind may be this wrong: ours, half a step of terrain."""

RANGES: tuple[tuple[str, str, str, tuple[float, float]], ...] = (
    ("wind at the panels' test", "test_wind", "m/s", (TEST_WIND_RANGE[0], TEST_WIND_RANGE[2])),
    ("sky at the panels' test", "test_sky", "W/m²", (TEST_SKY_RANGE[0], TEST_SKY_RANGE[2])),
    ("wind at the water, times", "water_wind", "", WATER_WIND_RANGE),
    (
        "evaporation, times",
        "evaporation",
        "",
        (EVAPORATION_FACTOR_LOW, EVAPORATION_FACTOR_HIGH),
    ),
)


def uncertain_inputs(prepared: Callable[[Belief], Inputs]) -> tuple[Uncertain, ...]:
    """Run the year at both ends of each doubtful input, the others in the middle.

    Parameters
    ----------
    prepared : callable
        Makes the job's inputs for a belief.

    Returns
    -------
    tuple of Uncertain
    """
    found = []
    for name, field, unit, ends in RANGES:
        low, high = (_outcome(prepared(replace(Belief(), **{field: end}))) for end in ends)
        found.append(
            Uncertain(
                name,
                f"{ends[0]:g} {unit}".strip(),
                f"{ends[1]:g} {unit}".strip(),
                solar_heat_low=low[0],
                solar_heat_high=high[0],
                pool_low=low[1],
                pool_high=high[1],
            )
        )
    return tuple(found)


def _outcome(inputs: Inputs) -> tuple[float, float]:
    """Year's solar heat [J] and the pool's mean in its season [°C]."""
    record = settled_year(inputs).record
    hours = len(inputs.drivers.season) // len(record)
    season = inputs.drivers.season[::hours] == 1
    pool = record[season, at.POOL_TEMP] if season.any() else record[:, at.POOL_TEMP]
    return float(record[:, at.SOLAR_HEAT].sum()), float(np.mean(pool))
