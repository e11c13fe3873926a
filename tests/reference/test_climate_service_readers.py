"""PVGIS and NSRDB texts against pvlib's own readers, and made years far from the US.

Sources
-------
- Readers: pvlib.iotools.read_pvgis_tmy, read_pvgis_hourly, read_nsrdb_psm4, used directly on texts
  in the services' layouts (layouts read in pvlib's public test files).
- Adelaide: measured every three hours, 2001 to 2004 (reference/data beside the checkout, read).
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest
from pvlib import iotools

from noonwater.climate.files import read_weather_file
from noonwater.climate.generator import make_year
from noonwater.climate.monthly import MonthlyMeans
from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.climate.weather_year import FloatArray
from tests.skies import Sky, nsrdb_csv, pvgis_typical_csv

FRESNO = Sky(36.75, -119.75, 100.0)


def test_nsrdb_against_pvlibs_reader(tmp_path: Path) -> None:
    text = nsrdb_csv(FRESNO, (2011,), -8.0)
    data, meta = iotools.read_nsrdb_psm4(io.StringIO(text))
    path = tmp_path / "year.csv"
    path.write_text(text)
    weather = read_weather_file(path)
    assert (weather.latitude, weather.longitude) == (meta["latitude"], meta["longitude"])
    assert (weather.elevation, weather.utc_offset) == (meta["altitude"], meta["Time Zone"])
    # Stamps at the half hour stand for the hour: the very numbers of the file.
    np.testing.assert_array_equal(weather.sun_global, data["ghi"])
    np.testing.assert_array_equal(weather.sun_beam, data["dni"])
    # What is measured at half past comes to the full hour as the mean of two rows.
    between = 0.5 * (data["temp_air"].to_numpy() + np.roll(data["temp_air"], -1))
    np.testing.assert_allclose(weather.temp_air, between)


def test_pvgis_against_pvlibs_reader(tmp_path: Path) -> None:
    sky = Sky(45.0, 8.0, 250.0)
    text = pvgis_typical_csv(sky, 0.5)
    data, _ = iotools.read_pvgis_tmy(io.BytesIO(text.encode()), pvgis_format="csv")
    path = tmp_path / "year.csv"
    path.write_text(text)
    weather = read_weather_file(path)
    # Sun of half past each hour UTC is the mean of the hour, one later by the clock of UTC+1.
    np.testing.assert_array_equal(weather.sun_global, np.roll(data["ghi"], 1))
    # Air of 00:00 UTC is what 01:00 of that clock has, the end of its first hour.
    np.testing.assert_array_equal(weather.temp_air, data["temp_air"])
    np.testing.assert_array_equal(weather.pressure, data["pressure"])
    # Annual sun is the service's own.
    assert weather.sun_global.sum() == pytest.approx(data["ghi"].sum())


def adelaide(shared: Path) -> dict[str, FloatArray]:
    """Means by month and by hour of day: air, dew point, wind, sunshine hours."""
    names = ("Temp", "Tdew", "uz", "n")
    table = []
    with (shared / "reference" / "data" / "adelaide_3hourly_2001_2004.csv").open() as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            values = [float(row[name]) if row[name] not in ("", "NA") else np.nan for name in names]
            table.append([int(row["Month"]), int(row["Hour"]), *values])
    rows = np.array(table)
    by_month = [np.nanmean(rows[rows[:, 0] == month, 2:], axis=0) for month in range(1, 13)]
    by_hour = [np.nanmean(rows[rows[:, 1] == hour, 2:], axis=0) for hour in range(0, 24, 3)]
    return {"months": np.array(by_month), "hours": np.array(by_hour)}


def test_made_hours_in_adelaide_follow_the_measured_day(shared: Path) -> None:
    known = adelaide(shared)
    air, dew, wind, sunshine = known["months"].T
    outside = sun_outside_level_of_month(np.array([-34.92]))[0]
    sun = outside * (0.25 + 0.50 * sunshine / np.linspace(12.0, 12.0, 12))
    means = MonthlyMeans(sun.tolist(), air.tolist(), dew.tolist(), wind.tolist())
    year = make_year(means, -34.92, 138.62, 48.0, 9.5, seed=1)
    made = year.temp_air.reshape(365, 24).mean(axis=0)[np.arange(-1, 21, 3)]
    # Shape of the day fitted on stations of the US, in a zone of half an hour: sunrise a little
    # late, afternoon a little long; 2 K is a sixth of the range.
    assert np.abs(made - known["hours"][:, 0]).max() < 2.0
    assert np.sqrt(np.mean((made - known["hours"][:, 0]) ** 2)) < 1.2
    # Summer is in January, noon near 12:15 by the clock of UTC+9:30.
    assert int(np.argmax(year.sun_global.reshape(365, 24).mean(axis=0))) in (11, 12)
    months = year.temp_air[: 31 * 24].mean(), year.temp_air[181 * 24 : 212 * 24].mean()
    assert months[0] > months[1] + 8.0
