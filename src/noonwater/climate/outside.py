"""Sun outside the atmosphere on the level: what a place can get at most."""

from __future__ import annotations

import numpy as np

from noonwater.climate.weather_year import FloatArray, day_of_hour, month_of_day


def sun_outside_of_day() -> FloatArray:
    """Sun outside the atmosphere, square to the rays, on each day.

    Returns
    -------
    array of 365
        [W/m²]
    """
    from pvlib import irradiance

    return np.asarray(irradiance.get_extra_radiation(np.arange(1, 366)), dtype=np.float64)


def sun_outside_of_hour() -> FloatArray:
    """Sun outside the atmosphere, square to the rays, in each hour.

    Returns
    -------
    array of 8760
        [W/m²]
    """
    return sun_outside_of_day()[day_of_hour()]


def sun_outside_level_of_day(latitude: FloatArray) -> FloatArray:
    """Mean over day and night of the sun outside the atmosphere, on the level.

    Parameters
    ----------
    latitude : array of n
        [°]

    Returns
    -------
    array of n x 365
        [W/m²]

    Notes
    -----
    H0 = G0/π (cos φ cos δ sin ω + ω sin φ sin δ), ω the hour angle of sunset; polar day and night
    included. Eq. 1.10.3 of [1]_ (from memory); declination after Spencer 1971, as in pvlib.

    References
    ----------
    .. [1] Duffie and Beckman, Solar engineering of thermal processes, section 1.10.
    """
    from pvlib import solarposition

    declination = solarposition.declination_spencer71(np.arange(1, 366))[None, :]
    angle = np.radians(np.clip(latitude, -89.99, 89.99))[:, None]
    sunset = np.arccos(np.clip(-np.tan(angle) * np.tan(declination), -1.0, 1.0))
    level = np.cos(angle) * np.cos(declination) * np.sin(sunset)
    level = level + sunset * np.sin(angle) * np.sin(declination)
    return np.asarray(np.maximum(sun_outside_of_day() / np.pi * level, 0.0), dtype=np.float64)


def sun_outside_level_of_month(latitude: FloatArray) -> FloatArray:
    """Monthly mean of the sun outside the atmosphere, on the level, nights included.

    Parameters
    ----------
    latitude : array of n
        [°]

    Returns
    -------
    array of n x 12
        [W/m²]
    """
    days = sun_outside_level_of_day(latitude)
    months = month_of_day()
    return np.stack([days[:, months == month].mean(axis=1) for month in range(12)], axis=1)
