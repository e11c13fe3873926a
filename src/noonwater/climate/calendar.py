"""Rows of a weather file brought into the order of an ordinary year."""

from __future__ import annotations

import numpy as np

from noonwater.climate.weather_year import DAYS_IN_MONTH, HOURS_IN_YEAR, MONTHS, IntArray
from noonwater.core.errors import Fault, WeatherError

LEAP_DAY = slice(59 * 24, 60 * 24)


def hours_in_order(month: IntArray, day: IntArray, hour: IntArray, source: str) -> IntArray:
    """Row of each hour of an ordinary year.

    Parameters
    ----------
    month, day, hour : array of 8760, or 8784 in a leap year
        Hour by its end, 1 to 24, or 0 for midnight under the new day's date. [-]
    source : str
        Name of the file, for faults.

    Returns
    -------
    array of 8760
        Rows, those of 29 February left out. [-]

    Raises
    ------
    WeatherError
        When a date can't be, or an hour is missing or comes twice.
    """
    rows = len(month)
    leap = rows != HOURS_IN_YEAR
    days = np.array(DAYS_IN_MONTH)
    days[1] += leap
    within = np.clip(month, 1, 12) - 1
    sound = (month == within + 1) & (day >= 1) & (day <= days[within])
    sound &= (hour >= 0) & (hour <= 24)
    before = np.concatenate(([0], np.cumsum(days)[:-1]))
    position = ((before[within] + day - 1) * 24 + hour - 1) % rows
    if not sound.all():
        row = int(np.flatnonzero(~sound)[0])
        given = f"row {row + 1} is month {month[row]}, day {day[row]}, hour {hour[row]}"
        raise _wrong_dates(given, source)
    seen = np.bincount(position, minlength=rows)
    if (seen != 1).any():
        wrong = int(np.flatnonzero(seen != 1)[0])
        start = int(np.searchsorted(np.cumsum(days) * 24, wrong, side="right"))
        date = f"{wrong // 24 - before[start] + 1} {MONTHS[start]}"
        raise _wrong_dates(f"hour {wrong % 24 + 1} of {date} comes {seen[wrong]} times", source)
    order = np.argsort(position)
    return np.delete(order, LEAP_DAY) if leap else order


def _wrong_dates(given: str, source: str) -> WeatherError:
    fault = Fault("dates", given, "each hour of one year once", "fetch the file again")
    return WeatherError([fault], source)
