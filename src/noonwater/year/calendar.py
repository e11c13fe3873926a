"""The job's clock and calendar, spread over the steps of a year of 365 days."""

from __future__ import annotations

import numpy as np

from noonwater.model.plant import Period, minutes_between
from noonwater.model.pool import DAYS_BEFORE_MONTH, Cover, day_of_year
from noonwater.year.parameters import Bytes

DAYS = 365
MINUTES_IN_DAY = 24 * 60


def period_of_step(program: tuple[Period, ...], steps_per_hour: int) -> Bytes:
    """Which period of the pump's program runs in each step.

    Parameters
    ----------
    program : tuple of Period
        The pump's day.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
        Index into the program; -1 where the pump stands. A step belongs to the period that holds
        its middle.
    """
    by_minute = np.full(MINUTES_IN_DAY, -1, dtype=np.int8)
    for index, period in enumerate(program):
        by_minute[minutes_between(period.start, period.stop)] = index
    return np.tile(by_minute[_middle_minutes(steps_per_hour)], DAYS)


def covered_in_step(cover: Cover, steps_per_hour: int) -> Bytes:
    """Whether the cover lies on the water in each step.

    Parameters
    ----------
    cover : Cover
        Kind, hours and months. A night that begins in a covered month counts to its own months.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
        1 where it lies.
    """
    steps = DAYS * 24 * steps_per_hour
    if cover.kind == "none":
        return np.zeros(steps, dtype=np.int8)
    by_minute = np.zeros(MINUTES_IN_DAY, dtype=np.int8)
    by_minute[minutes_between(cover.on_from, cover.on_until)] = 1
    day = np.tile(by_minute[_middle_minutes(steps_per_hour)], DAYS)
    months = np.isin(month_of_step(steps_per_hour) + 1, cover.months)
    return np.asarray(day * months, dtype=np.int8)


def season_of_step(opens: str, closes: str, steps_per_hour: int) -> Bytes:
    """Whether solar may heat in each step: from the opening day to the closing day, both included.

    Parameters
    ----------
    opens, closes : str
        'MM-DD'; a season may reach over the year's end.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
        1 in season.
    """
    first, last = day_of_year(opens, "opens"), day_of_year(closes, "closes")
    day = np.arange(DAYS)
    inside = (day - first) % DAYS <= (last - first) % DAYS
    return np.repeat(inside.astype(np.int8), 24 * steps_per_hour)


def cooling_of_step(months: tuple[int, ...], season: Bytes, steps_per_hour: int) -> Bytes:
    """Whether solar may cool in each step: in its months, in season.

    Parameters
    ----------
    months : tuple of int
        1 for January.
    season : (steps,) array
        1 in season.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
        1 where it may.
    """
    inside = np.isin(month_of_step(steps_per_hour) + 1, months)
    return np.asarray(season * inside, dtype=np.int8)


def month_of_step(steps_per_hour: int) -> Bytes:
    """Month of each step, 0 for January.

    Parameters
    ----------
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
    """
    lengths = np.diff(DAYS_BEFORE_MONTH)
    return np.repeat(np.arange(12, dtype=np.int8), lengths * 24 * steps_per_hour)


def _middle_minutes(steps_per_hour: int) -> np.ndarray:
    length = 60.0 / steps_per_hour
    middles = (np.arange(24 * steps_per_hour) + 0.5) * length
    return middles.astype(np.int64)
