"""A logger's file: its own year is found, its leap day left out, faults told."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from noonwater.app import measurement
from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.measurement import read_log
from noonwater.app.weather import weather_of
from noonwater.cli.main import main
from noonwater.core.errors import InputError


def log_of(folder: Path, first: str, hours: int, head: str = "pool °C", temp: float = 27.0) -> Path:
    times = pd.date_range(first, periods=hours, freq="h")
    file = folder / "log.csv"
    pd.DataFrame({"time": times, head: np.full(hours, temp)}).to_csv(file, index=False)
    return file


def test_hours_days_and_the_leap_day(tmp_path: Path) -> None:
    year, first, temps = read_log(log_of(tmp_path, "2015-03-01 05:00", 100))
    assert (year, first, len(temps)) == (2015, 59 * 24 + 5, 100)
    year, first, temps = read_log(log_of(tmp_path, "2016-02-28 00:00", 96))
    assert (year, first, len(temps)) == (2016, 58 * 24, 72), "29 February is in no year of weather"
    assert read_log(log_of(tmp_path, "2016-03-01 05:00", 100))[1] == 59 * 24 + 5


def test_degrees_fahrenheit(tmp_path: Path) -> None:
    temps = read_log(log_of(tmp_path, "2015-07-01", 80, "Pool (°F)", 86.0))[2]
    np.testing.assert_allclose(temps, 30.0)


@pytest.mark.parametrize(
    ("first", "hours", "head", "words"),
    [
        ("2015-12-30", 100, "pool °C", "2015 and 2016"),
        ("2015-07-01", 50, "pool °C", "72 hours or more"),
        ("2015-07-01", 80, "water", "pool °F"),
        ("2015-07-01T00:00Z", 80, "pool °C", "zone"),
    ],
)
def test_a_log_that_will_not_do_is_told(
    tmp_path: Path, first: str, hours: int, head: str, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        read_log(log_of(tmp_path, first, hours, head))


def test_a_log_takes_the_weather_of_its_own_year(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    typical = weather_of(read_job(FOLDER / "orchard-hill.toml"))
    years = tuple(replace(typical, calendar_year=year) for year in (2014, 2015, 2016))
    monkeypatch.setattr(measurement, "weather_years_of", lambda job: years)
    job = read_job(FOLDER / "orchard-hill.toml")
    found = measurement._weather_of_log(job, 2015, tmp_path)
    assert found is years[1]
    with pytest.raises(InputError, match="a log of 2019 on weather of 2014, 2015, 2016"):
        measurement._weather_of_log(job, 2019, tmp_path)


def test_a_log_on_a_typical_year_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = log_of(tmp_path, "2015-07-01", 80)
    job = FOLDER / "orchard-hill.toml"
    assert main(["calibrate", str(job), "--log", str(file), "--json"]) == 2
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert "a log of 2015 on weather of typical-year file" in finding["value"]
    assert "bucket test" in finding["remedy"]
