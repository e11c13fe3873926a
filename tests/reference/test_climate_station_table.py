"""The station table against its source, and its interpolation against stations left out.

Source
------
reference/climate.md and data/us_station_monthly_means.csv beside the checkout (read): leave-one-out
over 925 stations, neighbours within 25 km removed, six nearest by inverse distance on clearness,
5.5 K/km: annual global RMSE 4.6 % (5th and 95th per cent -7 and +8), monthly 11 %, air temperature
1.8 K, dew point 2.1 K, wind 1.0 m/s.

Tolerances: half a unit of the read figures' last digit.
"""

from __future__ import annotations

import csv
import importlib.util
from pathlib import Path

import numpy as np
import pytest

from noonwater.climate.stations import (
    NEIGHBOURS,
    StationTable,
    distances,
    interpolated,
    station_table,
)
from noonwater.climate.weather_year import DAYS_IN_MONTH

TOOL = Path(__file__).parents[2] / "tools" / "build_station_table.py"
OFF_MAINLAND = ("AK", "HI", "PR", "GU", "VI")


def source_rows(shared: Path) -> list[dict[str, str]]:
    path = shared / "reference" / "data" / "us_station_monthly_means.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_the_table_equals_its_source_within_rounding(shared: Path) -> None:
    rows, table = source_rows(shared), station_table()
    assert len(rows) == len(table.place) == 1020
    singles = {"lat": table.latitude, "lon": table.longitude, "alt": table.elevation,
               "tz": table.utc_offset, "tmin": table.temp_lowest}  # fmt: skip
    for column, values in singles.items():
        np.testing.assert_allclose(values, [float(row[column]) for row in rows], atol=1e-9)
    months = {"tair_C": table.temp_air, "tdew_C": table.dew_point, "wind_m_s": table.wind_speed,
              "dtr_K": table.daily_range, "ghi_kWh_m2_d": table.sun_global * 0.024}  # fmt: skip
    for column, values in months.items():
        expected = [[float(row[f"{column}_{m:02d}"]) for m in range(1, 13)] for row in rows]
        np.testing.assert_allclose(values, expected, atol=1e-9)


def test_the_tool_builds_the_packages_bytes(shared: Path, tmp_path: Path) -> None:
    spec = importlib.util.spec_from_file_location("build_station_table", TOOL)
    assert spec is not None and spec.loader is not None
    tool = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(tool)
    source = shared / "reference" / "data" / "us_station_monthly_means.csv"
    table, first_line = tool.table_of(source)
    built = tool.write(table, tool.provenance_of(source, first_line, len(table["place"])), tmp_path)
    with np.load(built) as new, np.load(tool.TARGET / "us_stations.npz") as old:
        assert sorted(new) == sorted(old)
        for name in new:
            np.testing.assert_array_equal(new[name], old[name])


@pytest.fixture(scope="module")
def left_out() -> dict[str, np.ndarray]:
    """Errors at each mainland station, told by the others farther than 25 km."""
    table: StationTable = station_table()
    state = np.array([name[-2:] for name in table.place])
    mainland = np.flatnonzero(~np.isin(state, OFF_MAINLAND))
    assert mainland.size == 925
    days = np.array(DAYS_IN_MONTH)
    errors: dict[str, list[np.ndarray]] = {
        name: [] for name in ("sun", "month", "air", "dew", "wind")
    }
    for station in mainland:
        latitude, longitude = float(table.latitude[station]), float(table.longitude[station])
        distance = distances(table, latitude, longitude)
        distance[distance < 25.0] = np.inf
        chosen = np.argsort(distance)[:NEIGHBOURS]
        elevation = float(table.elevation[station])
        told = interpolated(table, chosen, distance[chosen], latitude, elevation)
        sun = table.sun_global[station]
        errors["sun"].append((told["sun_global"] @ days) / (sun @ days) - 1.0)
        errors["month"].append(told["sun_global"] / sun - 1.0)
        errors["air"].append(told["temp_air"] - table.temp_air[station])
        errors["dew"].append(told["dew_point"] - table.dew_point[station])
        errors["wind"].append(told["wind_speed"] - table.wind_speed[station])
    return {name: np.array(values) for name, values in errors.items()}


@pytest.mark.parametrize(
    ("name", "limit"),
    [("sun", 0.0465), ("month", 0.115), ("air", 1.85), ("dew", 2.15), ("wind", 1.05)],
)
def test_leave_one_out(left_out: dict[str, np.ndarray], name: str, limit: float) -> None:
    assert np.sqrt(np.mean(left_out[name] ** 2)) <= limit


def test_the_spread_of_annual_sun(left_out: dict[str, np.ndarray]) -> None:
    low, high = np.percentile(left_out["sun"], [5.0, 95.0])
    assert low >= -0.075 and high <= 0.085
