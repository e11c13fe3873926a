"""The job's clock and calendar, spread over the steps of a year of 365 days."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from noonwater.model.plant import Period
from noonwater.model.pool import DAYS_BEFORE_MONTH, Cover, day_of_year, minutes_of
from noonwater.model.when import minutes_between
from noonwater.year.parameters import Bytes, Floats

DAYS = 365
MINUTES_IN_DAY = 24 * 60

FORGOTTEN_USUAL = 0.1
"""[-] Share of nights on which an owner forgets the cover, where the job doesn't tell it. Common
practice, no source: the middle of the doubt about it (`noonwater.design.doubts`)."""

GOLDEN = 0.6180339887498949
"""[-] Spreads the forgotten days evenly over any stretch of the year: ours."""


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


def hours_of_step(
    on_from: str, on_until: str, months: tuple[int, ...], steps_per_hour: int
) -> Bytes:
    """Whether the clock stands between two times, in some months.

    Parameters
    ----------
    on_from, on_until : str
        'HH:MM'; over midnight where the second is the earlier.
    months : tuple of int
        1 for January. A night that begins in one of them counts to its own months.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (steps,) array
        1 where it does.
    """
    by_minute = np.zeros(MINUTES_IN_DAY, dtype=np.int8)
    by_minute[minutes_between(on_from, on_until)] = 1
    day = np.tile(by_minute[_middle_minutes(steps_per_hour)], DAYS)
    inside = np.isin(month_of_step(steps_per_hour) + 1, months)
    return np.asarray(day * inside, dtype=np.int8)


def covered_in_step(cover: Cover, steps_per_hour: int, temp_air: Floats | None = None) -> Bytes:
    """Whether the cover lies on the water in each step.

    Parameters
    ----------
    cover : Cover
        Kind, hours and months, and how its owner keeps to them.
    steps_per_hour : int
        Steps.
    temp_air : (steps,) array, optional
        For a cover that goes on only when the air is cold. [°C]

    Returns
    -------
    (steps,) array
        1 where it lies.

    Notes
    -----
    The air is looked at when the cover would go on. A forgotten day's whole night is open.
    """
    steps = DAYS * 24 * steps_per_hour
    if cover.kind == "none":
        return np.zeros(steps, dtype=np.int8)
    lies = hours_of_step(cover.on_from, cover.on_until, cover.months, steps_per_hour)
    used = np.ones(DAYS, dtype=bool)
    if cover.only_below is not None and temp_air is not None:
        first = minutes_of(cover.on_from, "on_from") * steps_per_hour // 60
        used &= temp_air[np.arange(DAYS) * 24 * steps_per_hour + first] < cover.only_below
    used &= ~forgotten_days(forgotten_share(cover))
    return np.asarray(lies * used[evening_of_step(cover.on_from, steps_per_hour)], dtype=np.int8)


def forgotten_share(cover: Cover) -> float:
    """Share of the days on which the cover is forgotten: as told, else the usual. [-]."""
    if cover.forgotten is None:
        return FORGOTTEN_USUAL
    return 1.0 / cover.forgotten if cover.forgotten else 0.0


def forgotten_days(share: float) -> NDArray[np.bool_]:
    """Tell of each day of the year whether something is forgotten on it, ``share`` of them. [-].

    The days of a smaller share are among those of a larger one.
    """
    return np.asarray((np.arange(DAYS) * GOLDEN) % 1.0 < share)


def evening_of_step(on_from: str, steps_per_hour: int) -> NDArray[np.int64]:
    """Day on which the stretch that began at 'HH:MM' and holds each step began."""
    early = _middle_minutes(steps_per_hour) < minutes_of(on_from, "on_from")
    day = np.repeat(np.arange(DAYS), 24 * steps_per_hour)
    return np.asarray((day - np.tile(early, DAYS)) % DAYS, dtype=np.int64)


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
