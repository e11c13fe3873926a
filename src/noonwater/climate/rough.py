"""Monthly sun of a place from what anybody knows of it: its rain and its temperature.

The last rung: no package ships a climatology of sun for the world. Rain tells cloud, a clear sky
with the place's haze tells the most there can be. Between 45° south and 45° north only.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from noonwater.climate.made_air import daily_range_from_clearness
from noonwater.climate.monthly import CLEARNESS_MOST, MonthlyMeans, fault_of_count
from noonwater.climate.outside import sun_outside_level_of_month, sun_outside_of_hour
from noonwater.climate.sky import dew_point_of_hours
from noonwater.climate.sun_path import CALENDAR_YEAR, SECONDS_IN_HOUR, sun_position
from noonwater.climate.weather_year import MONTHS, FloatArray, month_of_hour, monthly_mean
from noonwater.core.errors import Fault, WeatherError
from noonwater.physics.air import pressure_at_elevation

LATITUDE_MOST = 45.0
"""[°] Beyond it the estimate is 13 % too sunny (read); refused."""

UNCERTAINTY_SUN_ROUGH = 0.15
"""[-] What the estimate is labelled with (read)."""

RAIN_MOST = 2500.0
"""[mm] The wettest month of the wettest towns, with some room; ours."""

SHARE_LEAST, SHARE_MOST = 0.2, 1.02
"""[-] Range of the clear sky's share that is believed (read)."""

WIND_USUAL = 3.0
"""[m/s] Where none is typed; ours: US stations have 2.3 to 5.3, half of them below 3.6."""

DEW_BY_RANGE, DEW_BY_RANGE_TOLD = 0.66, 0.77
"""[-] Air less dew point in wet lands, as a share of the daily range: of the typed one, and of the
one that clearness tells, which is that of the average day."""

DEW_DRY, DRY_BELOW, DRY_MOST, DEW_WARM = 3.5, 40.0, 0.6, -5.0
"""[-], [mm], [-], [°C] Where a year's months have less than 40 mm of rain in the mean, air is drier
by 3.5 times the logarithm of the lack, 0.6 at most, for each 10 K above -5 °C. Ours, fitted on 26
US stations from desert to tropics; the limit keeps rainless river and coast lands (Cairo, Dakar)
from the dew points of the high US deserts. docs/decisions/0015-rough-world-climate.md."""


def rough_means(
    latitude: float,
    longitude: float,
    elevation: float,
    *,
    temp_air: Sequence[float],
    rain: Sequence[float],
    humidity: Sequence[float] | None = None,
    wind_speed: Sequence[float] | None = None,
    daily_range: Sequence[float] | None = None,
) -> MonthlyMeans:
    """Monthly means with the sun estimated from rain and temperature.

    Parameters
    ----------
    latitude, longitude : float
        [°]
    elevation : float
        [m]
    temp_air : sequence of 12
        Monthly means. [°C]
    rain : sequence of 12
        Precipitation, snow as water, of each month. [mm]
    humidity : sequence of 12, optional
        Relative, at the mean temperature; without it the dew point is told from daily range and
        rain. [-]
    wind_speed : sequence of 12, optional
        At 10 m over open ground; without it 3 m/s. [m/s]
    daily_range : sequence of 12, optional
        Mean of the days' highest less lowest temperature; without it clearness tells it. [K]

    Returns
    -------
    MonthlyMeans
        Labelled ±15 %.

    Raises
    ------
    WeatherError
        Beyond 45° of latitude, or when a row is not twelve numbers in range.
    """
    _check(latitude, {"temp_air": temp_air, "rain": rain, "humidity": humidity})
    air, wet = np.array(temp_air, dtype=np.float64), np.array(rain, dtype=np.float64)
    clear, haze, noon = clear_sky_of_months(latitude, longitude, elevation)
    outside = sun_outside_level_of_month(np.array([latitude]))[0]
    # Rainless, hot and high the fit runs away; ours: no more than any month is believed to have.
    sun = np.minimum(clear * clear_sky_share(wet, air, noon, haze), CLEARNESS_MOST * outside)
    notes = [
        "sun estimated from monthly rain and temperature (fitted on US stations only), ±15 %",
    ]
    if humidity is not None:
        dew_point = dew_point_of_hours(air, np.array(humidity, dtype=np.float64))
        dew_point = np.minimum(dew_point, air - 0.1)
    else:
        dew_point = np.array(dew_point_by_rain(latitude, sun, air, wet, daily_range))
        notes.append(
            "dew point told from daily range and rain, ±4 K: type humidity where it is known"
        )
    if wind_speed is None:
        wind_speed = [WIND_USUAL] * 12
        notes.append(f"wind taken as {WIND_USUAL:g} m/s")
    return MonthlyMeans(
        sun_global=sun.tolist(),
        temp_air=air.tolist(),
        dew_point=dew_point.tolist(),
        wind_speed=wind_speed,
        daily_range=daily_range,
        source="rough estimate from typed monthly rain and air temperature",
        kind="rough estimate",
        uncertainty_sun=UNCERTAINTY_SUN_ROUGH,
        notes=tuple(notes),
    )


def clear_sky_share(
    rain: FloatArray, temp_air: FloatArray, noon_sine: FloatArray, turbidity: FloatArray
) -> FloatArray:
    """Share of a clear sky's sun that a month gets.

    Parameters
    ----------
    rain : array of n
        Precipitation of the month. [mm]
    temp_air : array of n
        Mean. [°C]
    noon_sine : array of n
        Sine of the sun's height at noon, mean of the month. [-]
    turbidity : array of n
        Linke's. [-]

    Returns
    -------
    array of n
        0.2 to 1.02. [-]

    References
    ----------
    .. [1] Regression on monthly means of US stations (reference/climate.md beside the checkout,
       read); how well it does is in docs/decisions/0015-rough-world-climate.md.
    """
    wet, warm = np.log1p(rain), temp_air / 10.0
    share = (
        0.946
        - 0.0408 * wet
        - 0.0063 * wet**2
        + 0.0124 * warm
        + 0.0015 * warm**2
        - 0.0919 * noon_sine
        + 0.027 * turbidity
        + 0.0089 * wet * warm
    )
    return np.asarray(np.clip(share, SHARE_LEAST, SHARE_MOST), dtype=np.float64)


@lru_cache(maxsize=8)
def clear_sky_of_months(
    latitude: float, longitude: float, elevation: float
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Sun of a clear sky in each month, the haze it has, and the sun's height at noon.

    Parameters
    ----------
    latitude, longitude : float
        [°]
    elevation : float
        [m]

    Returns
    -------
    tuple of three arrays of 12
        Sun on the level, nights included [W/m²]; Linke turbidity [-]; mean sine of the sun's
        height at noon [-].

    References
    ----------
    .. [1] Ineichen, P. and Perez, R., Solar Energy 73 (2002) 151-157, and the turbidity of Remund
       et al. 2003, as in pvlib.clearsky.
    """
    from pvlib import atmosphere, clearsky, solarposition

    height, _ = sun_position(latitude, longitude, longitude / 15.0, SECONDS_IN_HOUR)
    zenith = 90.0 - height
    haze = _turbidity(latitude, longitude)
    mass = atmosphere.get_relative_airmass(zenith) * pressure_at_elevation(elevation) / 101325.0
    lit = zenith < 90.0
    sky = clearsky.ineichen(
        zenith[lit],
        mass[lit],
        haze[month_of_hour()][lit],
        elevation,
        dni_extra=sun_outside_of_hour()[lit],
    )
    hours = np.zeros(zenith.size)
    hours[lit] = np.nan_to_num(np.asarray(sky["ghi"], dtype=np.float64))
    clear = monthly_mean(hours)
    noon = np.cos(np.radians(latitude) - solarposition.declination_spencer71(np.arange(1, 366)))
    return clear, haze, monthly_mean(np.repeat(np.maximum(noon, 0.0), 24))


def _turbidity(latitude: float, longitude: float) -> FloatArray:
    import pandas as pd
    from pvlib import clearsky

    middles = pd.DatetimeIndex([f"{CALENDAR_YEAR}-{month:02d}-15" for month in range(1, 13)])
    with warnings.catch_warnings():
        # pvlib still asks pandas for a name that pandas is about to drop.
        warnings.filterwarnings("ignore", message="DatetimeIndex.dayofyear")
        found = clearsky.lookup_linke_turbidity(
            middles, latitude, longitude, interp_turbidity=False
        )
    return np.asarray(found, dtype=np.float64)


def dew_point_by_rain(
    latitude: float,
    sun_global: Sequence[float] | FloatArray,
    temp_air: Sequence[float] | FloatArray,
    rain: Sequence[float] | FloatArray,
    daily_range: Sequence[float] | None = None,
) -> list[float]:
    """Dew point where nobody knows the humidity: near the day's lowest temperature, lower in dry
    and hot lands.

    Parameters
    ----------
    latitude : float
        [°]
    sun_global : sequence of 12
        Monthly means on the level, nights included. [W/m²]
    temp_air : sequence of 12
        Monthly means. [°C]
    rain : sequence of 12
        Of each month. [mm]
    daily_range : sequence of 12, optional
        Of the air; without it clearness tells it. [K]

    Returns
    -------
    list of 12
        [°C], ±4 K: docs/decisions/0015-rough-world-climate.md.
    """
    air, wet = np.array(temp_air, dtype=np.float64), np.array(rain, dtype=np.float64)
    if daily_range is not None:
        below = DEW_BY_RANGE * np.array(daily_range, dtype=np.float64)
    else:
        outside = sun_outside_level_of_month(np.array([latitude]))[0]
        clearness = np.array(sun_global, dtype=np.float64) / np.maximum(outside, 1.0)
        below = DEW_BY_RANGE_TOLD * daily_range_from_clearness(clearness)
    lack = min(max(float(np.log1p(DRY_BELOW) - np.log1p(wet.mean())), 0.0), DRY_MOST)
    below = below + DEW_DRY * lack * np.maximum(air - DEW_WARM, 0.0) / 10.0
    return [float(each) for each in air - np.maximum(below, 0.5)]


def _check(latitude: float, rows: dict[str, Sequence[float] | None]) -> None:
    if abs(latitude) > LATITUDE_MOST:
        fault = Fault(
            "weather.source",
            f'"rough" at latitude {latitude:g}°',
            f"{LATITUDE_MOST:g}° south to {LATITUDE_MOST:g}° north: beyond, it is 13 % too sunny",
            "take a weather file, an online typical year, or twelve typed monthly means of the sun",
        )
        raise WeatherError([fault])
    limits = {
        "temp_air": (-60.0, 50.0, "°C"),
        "rain": (0.0, RAIN_MOST, "mm in a month"),
        "humidity": (0.01, 1.0, "as a share, or 1 to 100 %"),
    }
    faults = []
    for name, values in rows.items():
        if values is None:
            continue
        if len(values) != 12:
            faults.append(fault_of_count(name, len(values)))
            continue
        low, high, unit = limits[name]
        faults += [
            Fault(f"weather.{name}, {MONTHS[month]}", f"{value:g}", f"{low:g} to {high:g} {unit}")
            for month, value in enumerate(values)
            if not low <= value <= high
        ]
    if faults:
        raise WeatherError(faults)
