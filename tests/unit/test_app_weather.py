"""Every way of a job to its weather: files, years in them, services, stations, months, rain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import requests
from pvlib import iotools

from noonwater.app import weather as app_weather
from noonwater.app.demos import demo_text
from noonwater.app.job_file import job_text, read_job_text
from noonwater.app.weather import weather_of, weather_spread_of, weather_years_of
from noonwater.core.errors import InputError
from noonwater.model.job import Job
from noonwater.model.site import WeatherFromFile, WeatherOnline, WeatherRough
from tests.skies import Sky, nsrdb_csv

TEXT = demo_text("orchard-hill")
DELHI = Sky(28.6, 77.2, 216.0)

ROUGH = """[weather]
source = "rough"
utc_offset = "5.5 h"
air = ["14 °C", "17 °C", "22.5 °C", "29 °C", "33 °C", "33.5 °C", "31 °C", "30 °C", "29 °C",
       "26 °C", "20.5 °C", "15.5 °C"]
rain = ["20 mm", "22 mm", "17 mm", "16 mm", "31 mm", "83 mm", "210 mm", "249 mm", "124 mm",
        "14 mm", "5 mm", "0.3 in"]
"""


@pytest.fixture(autouse=True)
def nothing_remembered() -> Iterator[None]:
    yield
    for remembered in (app_weather._year, app_weather._file_years, app_weather._online_years):
        remembered.cache_clear()


def job_with(weather: str, latitude: str = "28.6 deg", longitude: str = "77.2 deg") -> Job:
    """The demo job with another weather and place."""
    tables = TEXT.split("\n[")
    kept = [table for table in tables if not table.startswith(("weather]", "site]"))]
    site = f'site]\nlatitude = "{latitude}"\nlongitude = "{longitude}"\nelevation = "216 m"\n'
    return read_job_text("\n[".join([*kept, site, weather.lstrip("[")]))


@pytest.fixture(scope="module")
def three_years(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("files") / "years.csv"
    path.write_text(nsrdb_csv(DELHI, (2011, 2012, 2013), 5.5))
    return path


def test_a_file_of_three_years(three_years: Path) -> None:
    job = job_with(f'[weather]\nsource = "file"\nfile = "{three_years.as_posix()}"\n')
    years = weather_years_of(job)
    assert [year.calendar_year for year in years] == [2011, 2012, 2013]
    chosen = weather_of(job)
    assert chosen.calendar_year in (2011, 2012, 2013)
    assert "3 real years (2011, 2012, 2013)" in chosen.provenance.notes[0]
    spread = weather_spread_of(job)
    assert spread is not None and spread.years == (2011, 2012, 2013)
    assert spread.source == "3 real years of years.csv"


def test_a_year_of_it_by_number(three_years: Path) -> None:
    head = f'[weather]\nsource = "file"\nfile = "{three_years.as_posix()}"\n'
    assert weather_of(job_with(head + "year = 2012\n")).calendar_year == 2012
    with pytest.raises(InputError, match=r"year: 2019; allowed: 2011, 2012, 2013"):
        weather_of(job_with(head + "year = 2019\n"))
    with pytest.raises(InputError, match=r"UTC\+5, but the file says UTC\+5\.5"):
        weather_of(job_with(head + 'utc_offset = "5 h"\n'))


def test_typical_and_made_years_have_no_spread() -> None:
    shipped = job_with('[weather]\nsource = "shipped"\nyear = "Greensboro"\n')
    assert weather_spread_of(shipped) is None
    assert weather_years_of(shipped) == (weather_of(shipped),)
    stations = job_with(
        '[weather]\nsource = "stations"\n', latitude="36.7 deg", longitude="-119.8 deg"
    )
    assert weather_spread_of(stations) is None
    assert weather_of(stations).extremes is not None


def test_rain_and_temperature_alone() -> None:
    job = job_with(ROUGH)
    year = weather_of(job)
    assert year.provenance.kind == "rough estimate"
    assert year.utc_offset == 5.5
    # 1850 kWh/m² by public tables (from memory), ±15 % by the label.
    assert year.sun_global.sum() / 1000.0 == pytest.approx(1850.0, rel=0.15)
    assert weather_spread_of(job) is None
    weather = job.weather
    assert isinstance(weather, WeatherRough)
    assert weather.rain[0] == pytest.approx(0.020)
    assert weather.rain[11] == pytest.approx(0.00762)
    assert read_job_text(job_text(job)) == job


def test_rough_far_from_the_equator_is_refused_in_words() -> None:
    with pytest.raises(InputError, match=r'"rough" at latitude 51°'):
        weather_of(job_with(ROUGH, latitude="51 deg"))


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"0.3 in"', '"3 m"', "weather.rain[11]"),
        ('"0.3 in"', '"3 gal"', "weather.rain[11]"),
        ('"0.3 in"', "7", "weather.rain[11]"),
        ('"5 mm", "0.3 in"', '"5 mm"', "weather.rain: 11 items; allowed: 12"),
        ('rain = ["20 mm"', 'humidity = ["50 %"]\nrain = ["20 mm"', "weather.humidity: 1"),
        ("air = [", "airs = [", "weather.airs"),
    ],
)
def test_faults_of_a_rough_table_are_told_at_their_place(old: str, new: str, words: str) -> None:
    assert old in ROUGH
    with pytest.raises(InputError) as caught:
        job_with(ROUGH.replace(old, new))
    assert words in str(caught.value)
    assert "Traceback" not in str(caught.value)


def test_online_keeps_the_place_and_the_zone(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("NOONWATER_CACHE", str(tmp_path))
    asked: list[Any] = []

    def offline(*args: Any, **kwargs: Any) -> None:
        asked.append(args)
        raise requests.ConnectionError

    monkeypatch.setattr(iotools, "get_pvgis_tmy", offline)
    job = job_with('[weather]\nsource = "online"\nutc_offset = "5.5 h"\n')
    assert job.weather == WeatherOnline("online", "pvgis", 19800.0)
    with pytest.raises(InputError, match="not reached: no network here"):
        weather_of(job)
    assert asked == [(28.6, 77.2)]
    assert read_job_text(job_text(job)) == job
    with pytest.raises(InputError, match=r'weather\.service: "pvgs".*did you mean "pvgis"'):
        job_with('[weather]\nsource = "online"\nservice = "pvgs"\n')


def test_old_files_mean_what_they_meant() -> None:
    job = read_job_text(TEXT)
    told = replace(job, weather=WeatherFromFile("file", "year.epw"))
    text = job_text(told)
    weather = text.partition("[weather]")[2].partition("\n[")[0]
    assert "utc_offset" not in weather and "year =" not in weather
    assert read_job_text(text).weather == WeatherFromFile("file", "year.epw", None, None)
