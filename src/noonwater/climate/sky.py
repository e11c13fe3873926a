"""Moist air and sky of a whole year: the physics' formulas over arrays, and cloud from sun."""

from __future__ import annotations

import numpy as np

from noonwater.climate.weather_year import HOURS_IN_YEAR, FloatArray
from noonwater.core.jit import compiled
from noonwater.physics import air, sky

CLOUD_WITHOUT_SUN = 0.6
"""[-] Cover where no day of a month has sun enough to tell it; common practice, no source."""

CLOUD_STEEPNESS = 3.4
CLOUD_DEPTH = 0.75
"""Kasten and Czeplak, Solar Energy 24 (1980) 177-189 (from memory): global under cloud N is
(1 - 0.75 N^3.4) of clear; checked against the opaque cover of the shared years."""

CLEAR_SHARE = 0.9
"""[-] Of Haurwitz's clear sky, which knows no haze, the part that a cloudless day passes; ours,
fitted on the opaque cover of eight typical years: bias of cover +0.04, of sky radiation +2 W/m² on
average and -6 to +5 W/m² by place."""


@compiled
def vapour_pressure_of_hours(dew_point: FloatArray) -> FloatArray:
    """Vapour pressure at each dew point.

    Parameters
    ----------
    dew_point : array
        [°C]

    Returns
    -------
    array
        [Pa]
    """
    result = np.empty_like(dew_point)
    for hour in range(dew_point.size):
        result[hour] = air.vapour_pressure_saturation(dew_point[hour])
    return result


@compiled
def dew_point_of_hours(temp_air: FloatArray, humidity: FloatArray) -> FloatArray:
    """Dew point at each temperature and relative humidity.

    Parameters
    ----------
    temp_air : array
        [°C]
    humidity : array
        Relative, 0.01 to 1. [-]

    Returns
    -------
    array
        [°C]
    """
    result = np.empty_like(temp_air)
    for hour in range(temp_air.size):
        vapour = air.vapour_pressure_at_humidity(temp_air[hour], humidity[hour])
        result[hour] = air.dew_point(vapour)
    return result


@compiled
def longwave_of_hours(
    temp_air: FloatArray, dew_point: FloatArray, cloud_cover: FloatArray
) -> FloatArray:
    """Thermal radiation of the sky onto the level.

    Parameters
    ----------
    temp_air, dew_point : array
        [°C]
    cloud_cover : array
        Opaque, 0 to 1. [-]

    Returns
    -------
    array
        [W/m²]

    Notes
    -----
    Berdahl-Martin's clear sky and the house's cloud factor; no formula is right by day and by
    night, carry `physics.sky.LONGWAVE_DOUBT`.
    """
    result = np.empty_like(temp_air)
    for hour in range(temp_air.size):
        clear = sky.emissivity_sky_berdahl_martin_mean(dew_point[hour])
        cloudy = sky.emissivity_cloudy(clear, cloud_cover[hour], sky.CLOUD_FACTOR)
        result[hour] = sky.longwave_sky(cloudy, temp_air[hour])
    return result


def cloud_cover_from_sun(sun_global: FloatArray, height: FloatArray) -> FloatArray:
    """Cloud cover of each day, told by how much of a clear day's sun came through.

    Parameters
    ----------
    sun_global : array of 8760
        On the level. [W/m²]
    height : array of 8760
        Of the sun at the middle of each hour. [°]

    Returns
    -------
    array of 8760
        Share of the sky, the same for all hours of a day. [-]

    Notes
    -----
    Range: days with a clear-sky mean above 10 W/m²; others take the cover of the days around.

    References
    ----------
    .. [1] Kasten, F. and Czeplak, G., Solar Energy 24 (1980) 177-189 (from memory).
    .. [2] Haurwitz, B., J. Meteorology 2 (1945) 154-166 and 3 (1946) 123-124, as in
       pvlib.clearsky.haurwitz.
    """
    import pandas as pd
    from pvlib import clearsky

    clear_hour = clearsky.haurwitz(pd.Series(90.0 - height))["ghi"].to_numpy()
    clear = CLEAR_SHARE * clear_hour.reshape(365, 24).mean(axis=1)
    through = sun_global.reshape(365, 24).mean(axis=1) / np.maximum(clear, 1e-9)
    cover = (np.clip(1.0 - through, 0.0, CLOUD_DEPTH) / CLOUD_DEPTH) ** (1.0 / CLOUD_STEEPNESS)
    seen = np.flatnonzero(clear > 10.0)
    if seen.size == 0:
        return np.full(HOURS_IN_YEAR, CLOUD_WITHOUT_SUN)
    days = np.interp(np.arange(365), seen, cover[seen], period=365)
    return np.repeat(days, 24)
