"""Hours of sun made from monthly means, by chance but with the month's energy exact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.climate.outside import sun_outside_of_hour
from noonwater.climate.sun_path import SECONDS_IN_HOUR, sun_position
from noonwater.climate.weather_year import (
    DAYS_IN_MONTH,
    HOURS_IN_YEAR,
    FloatArray,
    month_of_day,
    month_of_hour,
)

STEP = 300
"""[s] The sun's height is averaged over such steps, the year's default."""

DAY_MEMORY = 0.29
"""[-] Lag-1 correlation of daily clearness (from memory)."""

HOUR_MEMORY = 0.54
"""[-] Lag-1 correlation of hourly clearness, Graham and Hollands 1990 (seen in public code)."""

DULLEST_DAY = 0.05
"""[-] Kmin, the least clearness of a day in Bendt's distribution."""

CLEARNESS_HOUR_MOST = 0.85
"""[-] No hour passes more of the sun outside; ours, near the top of measured hours."""


@dataclass(frozen=True, eq=False)
class SunGeometry:
    """What the sun's path gives each hour of the year.

    Attributes
    ----------
    sine : array of 8760
        Mean over the hour of the sine of the sun's height, zero when down. [-]
    lit : array of 8760
        Share of the hour with the sun up. [-]
    outside : array of 8760
        Sun outside the atmosphere, square to the rays. [W/m²]
    height : array of 8760
        Of the sun at the middle of the hour. [°]
    """

    sine: FloatArray
    lit: FloatArray
    outside: FloatArray
    height: FloatArray


def sun_geometry(latitude: float, longitude: float, utc_offset: float) -> SunGeometry:
    """Average the sun's path over each hour.

    Parameters
    ----------
    latitude, longitude : float
        [°]
    utc_offset : float
        [h]

    Returns
    -------
    SunGeometry
        [-] and [W/m²]
    """
    steps = SECONDS_IN_HOUR // STEP
    height = sun_position(latitude, longitude, utc_offset, STEP)[0].reshape(-1, steps)
    sine = np.sin(np.radians(np.maximum(height, 0.0)))
    middle = 0.5 * (height[:, steps // 2 - 1] + height[:, steps // 2])
    return SunGeometry(
        sine=sine.mean(axis=1),
        lit=(sine > 0.0).mean(axis=1),
        outside=sun_outside_of_hour(),
        height=middle,
    )


def clearness_of_days(clearness: FloatArray, chance: np.random.Generator) -> FloatArray:
    """Daily clearness after Bendt, in an order that remembers the day before.

    Parameters
    ----------
    clearness : array of 12
        Monthly mean clearness. [-]
    chance : numpy.random.Generator
        Source of chance.

    Returns
    -------
    array of 365
        [-]

    Notes
    -----
    The n days of a month are the distribution's quantiles (d - 1/2)/n.

    References
    ----------
    .. [1] Bendt, P., Collares-Pereira, M. and Rabl, A., Solar Energy 27 (1981) 1-5; equations
       2.9.4 to 2.9.6 of Duffie and Beckman, Solar engineering of thermal processes, 5th ed., p. 76
       (seen in public code).
    """
    wander = remembering(chance.standard_normal(365), DAY_MEMORY)
    months = month_of_day()
    days = np.empty(365)
    for month, count in enumerate(DAYS_IN_MONTH):
        quantiles = bendt_quantiles(float(clearness[month]), (np.arange(count) + 0.5) / count)
        ranks = np.argsort(np.argsort(wander[months == month], kind="stable"), kind="stable")
        days[months == month] = quantiles[ranks]
    return days


def bendt_quantiles(clearness: float, part: FloatArray) -> FloatArray:
    """Quantiles of daily clearness in a month.

    Parameters
    ----------
    clearness : float
        Monthly mean, taken within 0.15 to 0.8. [-]
    part : array of n
        Share of the days that are duller. [-]

    Returns
    -------
    array of n
        [-]
    """
    mean = min(max(clearness, 0.15), 0.8)
    most = 0.6313 + 0.267 * mean - 11.9 * (mean - 0.75) ** 8
    span = (most - DULLEST_DAY) / (most - mean)
    steepness = -1.498 + (1.184 * span - 27.182 * np.exp(-1.5 * span)) / (most - DULLEST_DAY)
    low, high = np.exp(steepness * DULLEST_DAY), np.exp(steepness * most)
    return np.asarray(np.log(low + part * (high - low)) / steepness, dtype=np.float64)


def sun_global_of_hours(
    monthly: FloatArray, days: FloatArray, sky: SunGeometry, chance: np.random.Generator
) -> FloatArray:
    """Hourly sun on the level after Graham and Hollands, each month's mean kept.

    Parameters
    ----------
    monthly : array of 12
        Sun on the level, mean over day and night. [W/m²]
    days : array of 365
        Daily clearness. [-]
    sky : SunGeometry
        The sun's path.
    chance : numpy.random.Generator
        Source of chance.

    Returns
    -------
    array of 8760
        [W/m²]

    Notes
    -----
    Range: clipping to the clearest hour comes before the months are made exact again, so an hour
    exceeds it only where a month's mean leaves no room.

    References
    ----------
    .. [1] Graham, V. A. and Hollands, K. G. T., A method to generate synthetic hourly solar
       radiation globally, Solar Energy 44 (1990) 333-341 (seen in public code).
    """
    level = sky.outside * sky.sine
    lit = sky.sine > 0.0
    daily = np.repeat(np.clip(days, 0.03, 0.85), 24)
    trend = _trend(daily, np.maximum(sky.sine / np.maximum(sky.lit, 1e-9), 0.02))
    noise = np.zeros(HOURS_IN_YEAR)
    noise[lit] = remembering(chance.standard_normal(int(lit.sum())), HOUR_MEMORY)
    spread = 0.16 * np.sin(np.pi * np.minimum(daily / 0.9, 1.0))
    hours = np.where(lit, np.clip(trend + spread * noise, 0.02, CLEARNESS_HOUR_MOST), 0.0)
    target = days * level.reshape(365, 24).sum(axis=1)
    for _ in range(4):
        got = (hours * level).reshape(365, 24).sum(axis=1)
        factor = np.repeat(target / np.maximum(got, 1e-9), 24)
        hours = np.where(lit, np.clip(hours * factor, 0.01, CLEARNESS_HOUR_MOST), 0.0)
    return _months_kept(hours, level, monthly)


def sun_split(sun_global: FloatArray, sky: SunGeometry) -> tuple[FloatArray, FloatArray]:
    """Beam and diffuse of each hour, after Erbs.

    Parameters
    ----------
    sun_global : array of 8760
        On the level. [W/m²]
    sky : SunGeometry
        The sun's path.

    Returns
    -------
    tuple of two arrays of 8760
        Beam square to the sun, and diffuse. [W/m²]

    Notes
    -----
    Beam is what closes the hour: it times the mean sine of the sun's height is global less diffuse.
    With the sun lower than 3° all is diffuse.

    References
    ----------
    .. [1] Erbs, D. G., Klein, S. A. and Duffie, J. A., Solar Energy 28 (1982) 293-302, as in
       pvlib.irradiance.erbs.
    """
    from pvlib import irradiance

    up = np.minimum(sky.sine / np.maximum(sky.lit, 1e-9), 1.0)
    zenith = np.degrees(np.arccos(up))
    # While it shines: an hour that the sun is up for a part only is judged by that part.
    bright = sun_global / np.maximum(sky.lit, 1e-9) * (sky.lit > 0.0)
    days = 1 + np.arange(HOURS_IN_YEAR) // 24
    parts = irradiance.erbs(bright, zenith, days)
    diffuse = np.clip(np.asarray(parts["dhi"]) * sky.lit, 0.0, sun_global)
    diffuse = np.where(sky.lit > 0.0, diffuse, sun_global)
    beam = (sun_global - diffuse) / np.maximum(up, 1e-9)
    return np.where(diffuse < sun_global, beam, 0.0), diffuse


def remembering(noise: FloatArray, memory: float) -> FloatArray:
    """First-order chain of unit variance.

    Parameters
    ----------
    noise : array of n
        Independent, unit variance. [-]
    memory : float
        Correlation of neighbours, below 1. [-]

    Returns
    -------
    array of n
        [-]
    """
    from scipy.signal import lfilter

    driven = noise * np.sqrt(1.0 - memory * memory)
    driven[0] = noise[0]
    return np.asarray(lfilter([1.0], [1.0, -memory], driven), dtype=np.float64)


def _trend(daily: FloatArray, sine: FloatArray) -> FloatArray:
    lift = daily - 1.167 * daily**3 * (1.0 - daily)
    rise = 0.979 * (1.0 - daily)
    depth = 1.141 * (1.0 - daily) / daily
    return np.asarray(lift + rise * np.exp(-depth / sine), dtype=np.float64)


def _months_kept(hours: FloatArray, level: FloatArray, monthly: FloatArray) -> FloatArray:
    months = month_of_hour()
    count = np.bincount(months)
    for _ in range(30):
        got = np.bincount(months, weights=hours * level) / count
        factor = np.where(got > 0.0, monthly / np.maximum(got, 1e-12), 0.0)
        if np.all(np.abs(factor[monthly > 0.0] - 1.0) < 1e-12):
            break
        hours = np.minimum(hours * factor[months], CLEARNESS_HOUR_MOST)
    # Last, without the clip: the month's energy counts for more than one hour's limit.
    got = np.bincount(months, weights=hours * level) / count
    return hours * level * np.where(got > 0.0, monthly / np.maximum(got, 1e-12), 0.0)[months]
