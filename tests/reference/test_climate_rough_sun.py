"""The rough estimate of the sun against places whose sun is known.

Sources
-------
- Sun and air of US stations: the package's station table (Wilcox and Marion 2008, read).
- Rain of US stations: NOAA climate normals 1991-2020 and 1981-2010, inches a month, from memory;
  some may be 10 % off, which moves the estimate by less than 1 %.
- Label of 15 %, coefficients: reference/climate.md beside the checkout (read). They were fitted on
  US stations, so the US part shows that inputs are formed as they were then, not how it does
  elsewhere.
- Elsewhere: Adelaide's sunshine hours (reference/data/adelaide_3hourly_2001_2004.csv, read) with
  Angstrom's formula, 0.25 + 0.50 n/N (FAO Irrigation and Drainage Paper 56, eq. 35, from memory);
  annual sun of seven cities and their monthly air and rain, from memory of public climate tables,
  sun within some 5 %.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.climate.rough import rough_means
from noonwater.climate.stations import distances, station_table
from noonwater.climate.weather_year import FloatArray

KWH = 8.76  # kWh/m² in a year for each W/m²

US = {
    "Phoenix": (33.43, -112.00,
        [0.87, 0.87, 0.83, 0.22, 0.13, 0.02, 0.91, 0.93, 0.57, 0.56, 0.57, 0.74]),
    "Tucson": (32.13, -110.95,
        [0.84, 0.87, 0.57, 0.25, 0.20, 0.20, 2.21, 1.98, 1.32, 0.67, 0.56, 0.94]),
    "Las Vegas": (36.08, -115.15,
        [0.56, 0.80, 0.42, 0.20, 0.07, 0.04, 0.38, 0.32, 0.32, 0.32, 0.30, 0.45]),
    "Albuquerque": (35.04, -106.62,
        [0.38, 0.48, 0.57, 0.61, 0.50, 0.66, 1.50, 1.58, 1.08, 1.02, 0.57, 0.50]),
    "El Paso": (31.77, -106.50,
        [0.40, 0.46, 0.27, 0.23, 0.48, 0.87, 1.55, 2.01, 1.51, 0.61, 0.48, 0.81]),
    "Los Angeles": (33.93, -118.40,
        [2.86, 2.99, 1.73, 0.60, 0.28, 0.08, 0.04, 0.01, 0.13, 0.58, 0.78, 2.15]),
    "San Diego": (32.73, -117.17,
        [1.98, 2.20, 1.46, 0.65, 0.28, 0.05, 0.08, 0.01, 0.12, 0.50, 0.79, 1.67]),
    "Fresno": (36.78, -119.72,
        [2.22, 2.04, 2.06, 1.02, 0.45, 0.18, 0.01, 0.01, 0.11, 0.59, 0.97, 1.83]),
    "Sacramento": (38.50, -121.50,
        [3.66, 3.49, 2.68, 1.22, 0.68, 0.20, 0.00, 0.04, 0.09, 0.88, 1.79, 3.41]),
    "Denver": (39.83, -104.65,
        [0.38, 0.41, 0.86, 1.68, 2.16, 1.94, 2.14, 1.58, 1.35, 0.99, 0.64, 0.35]),
    "Salt Lake City": (40.78, -111.97,
        [1.43, 1.30, 1.75, 2.16, 1.82, 0.95, 0.49, 0.58, 1.06, 1.26, 1.32, 1.40]),
    "Dallas": (32.90, -97.02,
        [2.53, 2.74, 3.29, 3.19, 4.30, 3.75, 2.16, 2.18, 2.67, 4.65, 2.46, 2.74]),
    "Houston": (30.00, -95.37,
        [3.76, 2.97, 3.47, 3.95, 5.01, 6.00, 3.77, 4.84, 4.71, 5.46, 3.87, 4.03]),
    "New Orleans": (29.99, -90.25,
        [5.18, 4.13, 4.36, 5.22, 5.64, 7.62, 6.79, 6.91, 5.11, 3.70, 3.87, 4.82]),
    "Miami": (25.82, -80.30,
        [1.83, 2.15, 2.46, 3.36, 6.32, 10.51, 7.36, 9.58, 10.22, 7.65, 3.53, 2.44]),
    "Tampa": (27.97, -82.53,
        [2.65, 2.62, 2.52, 2.55, 2.60, 7.37, 7.75, 9.03, 6.09, 2.34, 1.40, 2.56]),
    "Atlanta": (33.63, -84.43,
        [4.54, 4.55, 4.68, 3.81, 3.56, 4.54, 4.75, 4.30, 3.82, 3.28, 3.98, 4.57]),
    "Greensboro": (36.10, -79.95,
        [3.19, 2.74, 3.59, 3.71, 3.24, 3.82, 4.64, 3.94, 4.27, 3.16, 3.06, 3.24]),
    "Washington": (38.87, -77.03,
        [2.86, 2.62, 3.50, 3.21, 3.94, 4.20, 4.33, 3.25, 3.93, 3.66, 2.91, 3.41]),
    "New York": (40.65, -73.80,
        [3.64, 3.19, 4.29, 4.09, 3.96, 4.54, 4.60, 4.56, 4.31, 4.38, 3.58, 4.38]),
    "Boston": (42.37, -71.02,
        [3.39, 3.21, 4.17, 3.63, 3.25, 3.89, 3.27, 3.23, 3.56, 4.03, 3.66, 4.30]),
    "Chicago": (41.78, -87.75,
        [1.99, 1.97, 2.45, 3.75, 4.49, 4.10, 3.71, 4.25, 3.19, 3.43, 2.42, 2.11]),
    "Kansas City": (39.30, -94.70,
        [1.15, 1.49, 2.44, 3.73, 5.32, 5.27, 4.45, 4.00, 4.15, 3.23, 2.15, 1.60]),
    "St Louis": (38.75, -90.37,
        [2.59, 2.23, 3.50, 4.73, 4.82, 4.49, 3.93, 3.38, 2.96, 3.15, 3.42, 2.50]),
    "Honolulu": (21.33, -157.93,
        [1.84, 2.00, 2.36, 0.78, 0.82, 0.49, 0.51, 0.75, 0.88, 1.51, 2.23, 2.29]),
    "San Juan": (18.43, -66.00,
        [3.76, 2.47, 1.95, 4.68, 5.90, 4.41, 5.06, 5.46, 5.77, 5.59, 6.35, 5.02]),
}  # fmt: skip
REGIONS = {
    "south-west": ["Phoenix", "Tucson", "Las Vegas", "Albuquerque", "El Paso"],
    "pacific": ["Los Angeles", "San Diego", "Fresno", "Sacramento"],
    "mountains": ["Denver", "Salt Lake City"],
    "gulf": ["Dallas", "Houston", "New Orleans", "Miami", "Tampa"],
    "east": ["Atlanta", "Greensboro", "Washington", "New York", "Boston"],
    "middle": ["Chicago", "Kansas City", "St Louis"],
    "tropics": ["Honolulu", "San Juan"],
}


def told_and_known(name: str) -> tuple[FloatArray, FloatArray]:
    latitude, longitude, inches = US[name]
    table = station_table()
    row = int(np.argmin(distances(table, latitude, longitude)))
    means = rough_means(
        float(table.latitude[row]),
        float(table.longitude[row]),
        float(table.elevation[row]),
        temp_air=table.temp_air[row].tolist(),
        rain=[25.4 * depth for depth in inches],
    )
    return np.array(means.sun_global), table.sun_global[row]


@pytest.mark.parametrize("region", list(REGIONS))
def test_no_region_of_the_us_leaves_the_label(region: str) -> None:
    off = [told.mean() / known.mean() - 1.0 for told, known in map(told_and_known, REGIONS[region])]
    # Half of the label's 15 %: 7.5 % for a place, 5 % for a region.
    assert np.abs(off).max() < 0.075
    assert abs(np.mean(off)) < 0.05


def test_annual_and_monthly_error_over_the_us() -> None:
    pairs = [told_and_known(name) for name in US]
    annual = np.array([told.mean() / known.mean() - 1.0 for told, known in pairs])
    monthly = np.concatenate([told / known - 1.0 for told, known in pairs])
    # Well inside the label of 15 %, or the estimate is formed otherwise than it was fitted.
    assert np.sqrt(np.mean(annual**2)) < 0.05
    assert abs(annual.mean()) < 0.025
    assert np.sqrt(np.mean(monthly**2)) < 0.09


def test_dew_point_over_the_us() -> None:
    off = []
    table = station_table()
    for latitude, longitude, inches in US.values():
        row = int(np.argmin(distances(table, latitude, longitude)))
        means = rough_means(
            float(table.latitude[row]),
            float(table.longitude[row]),
            float(table.elevation[row]),
            temp_air=table.temp_air[row].tolist(),
            rain=[25.4 * depth for depth in inches],
            daily_range=table.daily_range[row].tolist(),
        )
        off.append(np.array(means.dew_point) - table.dew_point[row])
    # The note says ±4 K.
    assert np.sqrt(np.mean(np.square(off))) < 4.0
    assert abs(np.mean(off)) < 1.5


ADELAIDE = (-34.9211, 138.62, 48.0)
ADELAIDE_RAIN = [19.0, 13, 27, 41, 60, 80, 76, 68, 63, 47, 29, 29]
"""[mm] Kent Town, long-term means (from memory)."""


def adelaide_months(shared: Path) -> dict[str, FloatArray]:
    rows: dict[int, list[tuple[float, ...]]] = {month: [] for month in range(1, 13)}
    with (shared / "reference" / "data" / "adelaide_3hourly_2001_2004.csv").open() as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            rows[int(row["Month"])].append(
                (float(row["Temp"]), float(row["Tdew"]), float(row["n"]))
            )
    means = np.array([np.mean(rows[month], axis=0) for month in range(1, 13)])
    return {"temp_air": means[:, 0], "dew_point": means[:, 1], "sunshine": means[:, 2]}


def test_adelaide_by_its_sunshine(shared: Path) -> None:
    months = adelaide_months(shared)
    latitude = ADELAIDE[0]
    middle = np.array([17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344])
    declination = np.radians(23.45 * np.sin(2 * np.pi * (284 + middle) / 365))  # Cooper 1969
    day = 24 / np.pi * np.arccos(-np.tan(np.radians(latitude)) * np.tan(declination))
    outside = sun_outside_level_of_month(np.array([latitude]))[0]
    known = outside * (0.25 + 0.50 * months["sunshine"] / day)
    means = rough_means(*ADELAIDE, temp_air=months["temp_air"].tolist(), rain=ADELAIDE_RAIN)
    told = np.array(means.sun_global)
    assert told.mean() == pytest.approx(known.mean(), rel=0.05)
    np.testing.assert_allclose(told, known, rtol=0.10)
    assert np.sqrt(np.mean((np.array(means.dew_point) - months["dew_point"]) ** 2)) < 4.0


CITIES = {
    # Latitude, longitude, height, annual kWh/m², monthly air, monthly rain.
    "Singapore": (1.35, 103.8, 15, 1640,
        [26.5, 27, 27.5, 28, 28.3, 28.3, 27.9, 27.9, 27.6, 27.6, 27, 26.4],
        [235, 113, 170, 155, 171, 131, 155, 149, 155, 155, 253, 332]),
    "Delhi": (28.6, 77.2, 216, 1850,
        [14, 17, 22.5, 29, 33, 33.5, 31, 30, 29, 26, 20.5, 15.5],
        [20, 22, 17, 16, 31, 83, 210, 249, 124, 14, 5, 8]),
    "Nairobi": (-1.3, 36.8, 1660, 2000,
        [19, 20, 20.5, 20, 19, 17.5, 17, 17.5, 19, 20, 19.5, 19],
        [64, 56, 93, 219, 177, 35, 18, 24, 29, 55, 154, 101]),
    "La Paz": (-16.5, -68.1, 3650, 2100,
        [9, 9, 9, 8.5, 7.5, 6.5, 6, 7, 8, 9, 10, 9.5],
        [130, 105, 75, 30, 12, 8, 8, 14, 30, 40, 48, 90]),
    "Sydney": (-33.9, 151.2, 40, 1650,
        [23, 23, 21.5, 19, 16, 13.5, 13, 14, 16.5, 18.5, 20, 22],
        [100, 120, 130, 130, 120, 130, 98, 80, 70, 77, 84, 78]),
    "Dakar": (14.7, -17.4, 20, 2080,
        [21, 21, 21.5, 22, 23, 26, 27.5, 27.5, 27.7, 27.7, 26, 23.5],
        [1, 1, 0, 0, 0, 15, 75, 215, 145, 40, 3, 1]),
    "Cairo": (30.1, 31.4, 70, 2000,
        [14, 15, 17.5, 21.5, 25, 27.5, 28.5, 28, 26.5, 24, 19, 15],
        [5, 4, 4, 1, 0.5, 0, 0, 0, 0, 0.7, 4, 6]),
}  # fmt: skip


DEW_POINTS = {
    "Singapore": (23.5, 24.0), "Delhi": (8.0, 25.5), "Nairobi": (13.0, 10.5), "La Paz": (4.0, -7.0),
    "Sydney": (17.0, 6.0), "Dakar": (13.0, 23.0), "Cairo": (5.0, 18.0),
}  # fmt: skip
"""[°C] January and July, from memory of public climate tables, within some 2 K."""


def test_dew_points_of_the_world() -> None:
    off = []
    for city, known in DEW_POINTS.items():
        latitude, longitude, elevation, _, air, rain = CITIES[city]
        means = rough_means(latitude, longitude, elevation, temp_air=air, rain=rain)
        off += [means.dew_point[0] - known[0], means.dew_point[6] - known[1]]
    # The note says ±4 K, one standard deviation.
    assert np.sqrt(np.mean(np.square(off))) < 4.0
    assert np.abs(off).max() < 8.0


@pytest.mark.parametrize("city", list(CITIES))
def test_cities_of_the_world_lie_within_the_label(city: str) -> None:
    latitude, longitude, elevation, annual, air, rain = CITIES[city]
    means = rough_means(latitude, longitude, elevation, temp_air=air, rain=rain)
    assert KWH * np.mean(means.sun_global) == pytest.approx(annual, rel=0.15)
