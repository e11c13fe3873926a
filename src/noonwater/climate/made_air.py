"""Hours of temperature, dew point and wind made from monthly means, the means kept exactly."""

from __future__ import annotations

from functools import cache

import numpy as np

from noonwater.climate.made_sun import remembering
from noonwater.climate.weather_year import (
    DAYS_IN_MONTH,
    HOURS_IN_YEAR,
    FloatArray,
    month_of_hour,
    monthly_mean,
)

DAY_MEMORY_TEMP = 0.56
"""[-] Lag-1 correlation of day means of temperature; measured on US typical years."""

SPREAD_AT_FREEZING, SPREAD_FALL, SPREAD_LEAST = 5.0, 0.12, 1.0
"""[K], [-], [K] Spread of day means is 5 K less 0.12 K per °C of the month's mean, at least 1 K: US
typical years have 4.6 K in January and 2.1 K in July; tied to temperature, so that it holds south
of the equator and in the tropics; ours."""

SPREAD_BETWEEN_NOONS = 0.9
"""[-] What straight lines between noons leave of the spread of day means; ours, computed."""

DEW_SPREAD, DEW_WITH_AIR = 1.4, 0.65
"""[-] Spread of day means of dew point against temperature's, and their correlation; medians of
eight typical years, 1.24 to 1.85 and 0.07 to 0.85."""

AVERAGE_DAY_SHARE = 0.85
"""[-] Range of the month's average day against the mean of its days' ranges; median of eight
typical years, 0.59 to 0.95."""

RANGE_WITH_SUN = 0.75
"""[-] Share of a day's range that goes with its clearness; median of eight typical years."""

WIND_DAY, WIND_NIGHT = 1.29, 0.81
"""[-] Wind from 11 to 17 h and at night against the mean; measured on US typical years."""

WIND_MEMORY = 0.76
"""[-] Lag-1 correlation of hourly wind; median of eight typical years, 0.63 to 0.91."""

WIND_SHAPE = 2.0
"""[-] Weibull's shape; common practice, no source; its spread of 0.52 lies within the 0.46 to 0.67
of eight typical years."""


def smooth_year(monthly: FloatArray) -> FloatArray:
    """Straight lines between the months' middles whose monthly means are the given ones.

    Parameters
    ----------
    monthly : array of 12
        Any unit.

    Returns
    -------
    array of 8760
        Same unit, at the ends of the hours.
    """
    lines, means = _lines_of_months()
    return np.asarray(np.linalg.solve(means, monthly) @ lines, dtype=np.float64)


@cache
def _lines_of_months() -> tuple[FloatArray, FloatArray]:
    """Line of each month's node by the hour, and its monthly means."""
    ends = np.cumsum(DAYS_IN_MONTH) * 24.0
    middles = ends - 12.0 * np.array(DAYS_IN_MONTH)
    hours = np.arange(1, HOURS_IN_YEAR + 1)
    lines = np.stack([np.interp(hours, middles, node, period=HOURS_IN_YEAR) for node in np.eye(12)])
    return lines, np.stack([monthly_mean(line) for line in lines], axis=1)


def solar_hour(longitude: float, utc_offset: float) -> FloatArray:
    """Mean solar time at the end of each hour.

    Parameters
    ----------
    longitude : float
        [°]
    utc_offset : float
        [h]

    Returns
    -------
    array of 8760
        0 to 24. [h]
    """
    return (np.arange(1.0, HOURS_IN_YEAR + 1.0) + longitude / 15.0 - utc_offset) % 24.0


def day_shape(hour: FloatArray) -> FloatArray:
    """Shape of the average day's temperature, from its mean, for a range of one.

    Parameters
    ----------
    hour : array
        Solar time. [h]

    Returns
    -------
    array
        [-]

    Notes
    -----
    Fits the average days of 255 stations to 0.043 of the range.

    References
    ----------
    .. [1] Erbs, D. G., Klein, S. A. and Beckman, W. A., Estimation of degree-days and ambient
       temperature bin data from monthly-average temperatures, ASHRAE Journal 25(6) (1983) 60-65
       (seen in public code).
    """
    angle = 2.0 * np.pi * (hour - 1.0) / 24.0
    return np.asarray(
        0.4632 * np.cos(angle - 3.805)
        + 0.0984 * np.cos(2.0 * angle - 0.360)
        + 0.0168 * np.cos(3.0 * angle - 0.822)
        + 0.0138 * np.cos(4.0 * angle - 3.513),
        dtype=np.float64,
    )


def daily_range_from_clearness(clearness: FloatArray) -> FloatArray:
    """Range of the average day's temperature where nobody typed one.

    Parameters
    ----------
    clearness : array of 12
        [-]

    Returns
    -------
    array of 12
        [K], at least 2.

    References
    ----------
    .. [1] Erbs, Klein and Beckman 1983, 25.8 K - 5.21 (from memory).
    """
    return np.maximum(25.8 * clearness - 5.21, 2.0)


def temp_air_of_hours(
    monthly: FloatArray,
    average_range: FloatArray,
    relative_clearness: FloatArray,
    hour: FloatArray,
    wander: FloatArray,
) -> FloatArray:
    """Hourly air temperature.

    Parameters
    ----------
    monthly : array of 12
        Means. [°C]
    average_range : array of 12
        Range of the average day. [K]
    relative_clearness : array of 365
        Clearness of each day against its month's. [-]
    hour : array of 8760
        Solar time. [h]
    wander : array of 8760
        Departure of the days from the month. [K]

    Returns
    -------
    array of 8760
        Means of months kept to rounding. [°C]
    """
    months = month_of_hour()
    factor = np.clip(1.0 - RANGE_WITH_SUN + RANGE_WITH_SUN * relative_clearness, 0.3, 1.6)
    swing = average_range[months] * np.repeat(factor, 24) * day_shape(hour)
    made = smooth_year(monthly) + wander + swing
    return np.asarray(made + smooth_year(monthly - monthly_mean(made)), dtype=np.float64)


def wander_of_days(monthly: FloatArray, chance: np.random.Generator) -> FloatArray:
    """Departure of the days' temperature from their month, in one unit for all months.

    Parameters
    ----------
    monthly : array of 12
        Mean temperatures. [°C]
    chance : numpy.random.Generator
        Source of chance.

    Returns
    -------
    array of 8760
        On straight lines between noons. [K]
    """
    days = remembering(chance.standard_normal(365), DAY_MEMORY_TEMP) / SPREAD_BETWEEN_NOONS
    hours = np.arange(1, HOURS_IN_YEAR + 1)
    line = np.interp(hours, 24.0 * np.arange(365) + 12.0, days, period=HOURS_IN_YEAR)
    spread = np.clip(SPREAD_AT_FREEZING - SPREAD_FALL * monthly, SPREAD_LEAST, 6.0)
    return np.asarray(line * smooth_year(spread), dtype=np.float64)


def dew_point_of_made_hours(
    monthly: FloatArray, temp_air: FloatArray, wander: FloatArray, own: FloatArray
) -> FloatArray:
    """Hourly dew point that never exceeds the air's temperature.

    Parameters
    ----------
    monthly : array of 12
        Means, each below the air's. [°C]
    temp_air : array of 8760
        [°C]
    wander, own : array of 8760
        Departure of the days' temperature, and an independent one. [K]

    Returns
    -------
    array of 8760
        Means of months kept to 0.001 K. [°C]
    """
    alone = np.sqrt(1.0 - DEW_WITH_AIR**2)
    free = smooth_year(monthly) + DEW_SPREAD * (DEW_WITH_AIR * wander + alone * own)
    months = month_of_hour()
    low, high = np.full(12, -60.0), np.full(12, 60.0)
    for _ in range(30):
        middle = 0.5 * (low + high)
        above = monthly_mean(np.minimum(free + middle[months], temp_air)) > monthly
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return np.asarray(np.minimum(free + low[months], temp_air), dtype=np.float64)


def wind_speed_of_hours(
    monthly: FloatArray, hour: FloatArray, chance: np.random.Generator
) -> FloatArray:
    """Hourly wind: Weibull, remembering the hour before, stronger in the afternoon.

    Parameters
    ----------
    monthly : array of 12
        Means. [m/s]
    hour : array of 8760
        Solar time. [h]
    chance : numpy.random.Generator
        Source of chance.

    Returns
    -------
    array of 8760
        Means of months kept to rounding. [m/s]
    """
    from scipy.special import ndtr

    knots = [0.0, 7.0, 11.0, 17.0, 21.0, 24.0]
    values = [WIND_NIGHT, WIND_NIGHT, WIND_DAY, WIND_DAY, WIND_NIGHT, WIND_NIGHT]
    part = ndtr(remembering(chance.standard_normal(HOURS_IN_YEAR), WIND_MEMORY))
    gusty = (-np.log1p(-np.minimum(part, 1.0 - 1e-12))) ** (1.0 / WIND_SHAPE)
    made = gusty * np.interp(hour, knots, values)
    return np.asarray(made * (monthly / monthly_mean(made))[month_of_hour()], dtype=np.float64)
