"""The job's choice of weather, turned into a year."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job
from noonwater.model.site import (
    Site,
    Weather,
    WeatherFromFile,
    WeatherFromMonths,
    WeatherFromStations,
    WeatherShipped,
)

if TYPE_CHECKING:
    from noonwater.climate.weather_year import WeatherYear

SECONDS_IN_DAY = 86400.0

SHIPPED_FILES = {
    "Miami": "12839.tm2",
    "Greensboro": "723170TYA.CSV",
    "Sand Point": "703165TY.csv",
}
"""Typical years that lie in pvlib's data folder: TMY2 Miami FL; TMY3 Greensboro NC, Sand Point AK."""


def weather_of(job: Job) -> WeatherYear:
    """Read or make the year that a job names.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    WeatherYear

    Raises
    ------
    InputError
        When the file is no weather file, or the site has no stations near it.
    """
    return _year(job.weather, job.site)


@lru_cache(maxsize=4)
def _year(weather: Weather, site: Site) -> WeatherYear:
    if isinstance(weather, WeatherFromFile):
        from noonwater.climate.files import read_weather_file

        return read_weather_file(weather.file)
    if isinstance(weather, WeatherShipped):
        return _shipped(weather.year)
    if isinstance(weather, WeatherFromStations):
        from noonwater.climate.generator import make_year
        from noonwater.climate.stations import monthly_means_at, utc_offset_at

        place = site.latitude, site.longitude, site.elevation
        offset = utc_offset_at(site.latitude, site.longitude)
        return make_year(monthly_means_at(*place), *place, offset, seed=weather.seed)
    return _typed(weather, site)


def _shipped(name: str) -> WeatherYear:
    import pvlib
    from noonwater.climate.files import read_weather_file

    file = Path(pvlib.__file__).parent / "data" / SHIPPED_FILES[name]
    if not file.is_file():
        raise InputError(
            [Fault("weather.year", f'"{name}"', "a year that an installed library ships",
                   "the installed pvlib lacks it: install the pinned packages again")]
        )
    return read_weather_file(file)


def _typed(weather: WeatherFromMonths, site: Site) -> WeatherYear:
    from noonwater.climate.generator import make_year
    from noonwater.climate.monthly import MonthlyMeans

    means = MonthlyMeans(
        sun_global=tuple(sun / SECONDS_IN_DAY for sun in weather.sun),
        temp_air=weather.air,
        dew_point=weather.dew_point,
        wind_speed=weather.wind,
        daily_range=weather.daily_range or None,
    )
    return make_year(
        means,
        site.latitude,
        site.longitude,
        site.elevation,
        weather.utc_offset / 3600.0,
        seed=weather.seed,
    )
