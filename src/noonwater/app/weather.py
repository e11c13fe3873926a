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
    WeatherOnline,
    WeatherRough,
    WeatherShipped,
)

if TYPE_CHECKING:
    from noonwater.climate.monthly import MonthlyMeans
    from noonwater.climate.weather_year import WeatherYear
    from noonwater.climate.years import YearlySpread

SECONDS_IN_DAY = 86400.0
SECONDS_IN_HOUR = 3600.0

SHIPPED_FILES = {
    "Miami": "12839.tm2",
    "Greensboro": "723170TYA.CSV",
    "Sand Point": "703165TY.csv",
}
"""Typical years in pvlib's data folder: TMY2 Miami FL; TMY3 Greensboro NC and Sand Point AK."""


def weather_of(job: Job) -> WeatherYear:
    """Read or make the year that a job names.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    WeatherYear
        Of several real years the one named, else the most ordinary one.

    Raises
    ------
    InputError
        When the file is no weather file, a service can't be reached, or the site has no stations
        near it.
    """
    return _year(job.weather, job.site)


def weather_years_of(job: Job) -> tuple[WeatherYear, ...]:
    """All years that stand behind a job's weather.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of WeatherYear
        The real years of a file or service that has several; else the one year.

    Raises
    ------
    InputError
        As `weather_of`.
    """
    weather, site = job.weather, job.site
    if isinstance(weather, WeatherFromFile):
        return _file_years(weather.file, weather.utc_offset)
    if isinstance(weather, WeatherOnline):
        return _online_years(weather, site)
    return (weather_of(job),)


def weather_spread_of(job: Job) -> YearlySpread | None:
    """How the years differ that stand behind a job's weather.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    YearlySpread or None
        None where the source is one year, or made, so that the spread has no source. [-], [K]

    Raises
    ------
    InputError
        As `weather_of`.
    """
    from noonwater.climate.years import yearly_spread

    return yearly_spread(weather_years_of(job))


@lru_cache(maxsize=4)
def _year(weather: Weather, site: Site) -> WeatherYear:
    if isinstance(weather, WeatherFromFile | WeatherOnline):
        from noonwater.climate.years import one_of, year_named

        if isinstance(weather, WeatherOnline):
            return one_of(_online_years(weather, site))
        years = _file_years(weather.file, weather.utc_offset)
        if weather.year is not None:
            return year_named(years, weather.year, Path(weather.file).name)
        return one_of(years)
    if isinstance(weather, WeatherShipped):
        return _shipped(weather.year)
    if isinstance(weather, WeatherFromStations):
        from noonwater.climate.generator import make_year
        from noonwater.climate.stations import monthly_means_at, utc_offset_at

        place = site.latitude, site.longitude, site.elevation
        offset = utc_offset_at(site.latitude, site.longitude)
        return make_year(monthly_means_at(*place), *place, offset, seed=weather.seed)
    return _made(weather, site)


@lru_cache(maxsize=2)
def _file_years(file: str, utc_offset: float | None) -> tuple[WeatherYear, ...]:
    from noonwater.climate.files import read_weather_years

    return read_weather_years(file, utc_offset=_hours(utc_offset))


@lru_cache(maxsize=2)
def _online_years(weather: WeatherOnline, site: Site) -> tuple[WeatherYear, ...]:
    from noonwater.climate.online import weather_years_online

    offset = _hours(weather.utc_offset)
    return weather_years_online(weather.service, site.latitude, site.longitude, offset)


def _hours(seconds: float | None) -> float | None:
    return None if seconds is None else seconds / SECONDS_IN_HOUR


def _shipped(name: str) -> WeatherYear:
    import pvlib

    from noonwater.climate.files import read_weather_file

    file = Path(pvlib.__file__).parent / "data" / SHIPPED_FILES[name]
    if not file.is_file():
        raise InputError(
            [
                Fault(
                    "weather.year",
                    f'"{name}"',
                    "a year that an installed library ships",
                    "the installed pvlib lacks it: install the pinned packages again",
                )
            ]
        )
    return read_weather_file(file)


def monthly_means_of(job: Job) -> MonthlyMeans:
    """Monthly means behind a year that is made of what was typed.

    Parameters
    ----------
    job : Job
        Its weather is "months" or "rough".

    Raises
    ------
    InputError
        When it is another source, or its rows are out of range.
    """
    if not isinstance(job.weather, WeatherFromMonths | WeatherRough):
        raise InputError([Fault("weather.source", job.weather.source, "months or rough")])
    return _means(job.weather, job.site)


def _means(weather: WeatherFromMonths | WeatherRough, site: Site) -> MonthlyMeans:
    return _rough(weather, site) if isinstance(weather, WeatherRough) else _typed(weather)


def _made(weather: WeatherFromMonths | WeatherRough, site: Site) -> WeatherYear:
    from noonwater.climate.generator import make_year

    return make_year(
        _means(weather, site),
        site.latitude,
        site.longitude,
        site.elevation,
        weather.utc_offset / SECONDS_IN_HOUR,
        seed=weather.seed,
    )


def _typed(weather: WeatherFromMonths) -> MonthlyMeans:
    from noonwater.climate.monthly import MonthlyMeans

    return MonthlyMeans(
        sun_global=tuple(sun / SECONDS_IN_DAY for sun in weather.sun),
        temp_air=weather.air,
        dew_point=weather.dew_point,
        wind_speed=weather.wind,
        daily_range=weather.daily_range or None,
    )


def _rough(weather: WeatherRough, site: Site) -> MonthlyMeans:
    from noonwater.climate.rough import rough_means

    return rough_means(
        site.latitude,
        site.longitude,
        site.elevation,
        temp_air=weather.air,
        rain=tuple(1000.0 * depth for depth in weather.rain),
        humidity=weather.humidity or None,
        wind_speed=weather.wind or None,
        daily_range=weather.daily_range or None,
    )
