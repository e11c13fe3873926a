"""Where the sun stands at each step of the year.

The sun's place comes from pvlib's ephemeris, for the days of one ordinary year: typical years are
patched from many years, so no calendar is right for all months. 2003 closes seven of eight typical
years better than 2001 and 2002 (docs/decisions/0007-subhourly-sun.md).
"""

from __future__ import annotations

import warnings
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater.climate.weather_year import HOURS_IN_YEAR, FloatArray, frozen_copy
from noonwater.core.constants import SECONDS_PER_HOUR
from noonwater.core.errors import Fault, InputError

if TYPE_CHECKING:
    import pandas as pd

CALENDAR_YEAR = 2003
SECONDS_IN_HOUR = int(SECONDS_PER_HOUR)


def steps_in_hour(step_seconds: int) -> int:
    """Whole number of steps in an hour.

    Parameters
    ----------
    step_seconds : int
        Length of a step. [s]

    Returns
    -------
    int
        [-]

    Raises
    ------
    InputError
        When the step is not a whole part of an hour.
    """
    whole = 0 < step_seconds <= SECONDS_IN_HOUR and SECONDS_IN_HOUR % step_seconds == 0
    if not whole or step_seconds != int(step_seconds):
        allowed = "whole seconds that divide an hour: 3600, 1800, 900, 600, 300, 60 ..."
        raise InputError([Fault("step", f"{step_seconds} s", allowed, "take 300 s")])
    return SECONDS_IN_HOUR // int(step_seconds)


@lru_cache(maxsize=4)
def sun_position(
    latitude: float,
    longitude: float,
    utc_offset: float,
    step_seconds: int,
    shift: float = 0.0,
) -> tuple[FloatArray, FloatArray]:
    """Height and azimuth of the sun at the middle of each step of the year.

    Parameters
    ----------
    latitude, longitude : float
        North and east are positive. [°]
    utc_offset : float
        Standard time less universal time, fractions allowed. [h]
    step_seconds : int
        Length of a step, a whole part of an hour. [s]
    shift : float
        Added to the time, to test for clocks that are off. [s]

    Returns
    -------
    tuple of two arrays
        Apparent height and azimuth clockwise from north. [°]

    Notes
    -----
    The last four are kept: years are made, checked and spread over the same instants.
    Within 0.01° of the reference algorithm for true height and azimuth; tests/reference.
    """
    from pvlib import solarposition

    times = _instants(utc_offset, step_seconds, shift)
    with warnings.catch_warnings():
        # pvlib still asks pandas for a name that pandas is about to drop.
        warnings.filterwarnings("ignore", message="DatetimeIndex.dayofyear")
        place = solarposition.ephemeris(times, latitude, longitude)
    return (
        frozen_copy(place["apparent_elevation"].to_numpy()),
        frozen_copy(place["azimuth"].to_numpy()),
    )


def _instants(utc_offset: float, step_seconds: int, shift: float) -> pd.DatetimeIndex:
    import pandas as pd

    count = HOURS_IN_YEAR * steps_in_hour(step_seconds)
    first = 0.5 * step_seconds + shift - utc_offset * SECONDS_PER_HOUR
    start = pd.Timestamp(f"{CALENDAR_YEAR}-01-01", tz="UTC") + pd.Timedelta(seconds=first)
    return pd.date_range(start, periods=count, freq=pd.Timedelta(seconds=step_seconds))
