"""A first answer by six questions outside the United States: its range holds what the town's own
sun, dew point and wind make of the same house.

Sources
-------
- Adelaide, Kent Town: air, dew point, sunshine hours and wind, 3-hourly, 2001 to 2004 (Bureau of
  Meteorology, reference/data/adelaide_3hourly_2001_2004.csv, read); sun by Angstrom's line with
  0.25 and 0.50 as in FAO paper 56 (read there). Rain: long-term means, from memory. The six answers
  have its air and rain alone.
- Munich: monthly means of public climate tables, from memory, within some 2 K and 10 %. The six
  answers have its air, rain and sun.

The town's months are put into the job of the six answers, so that nothing but the weather differs.
A range of nine in ten that held neither would be no range; that it says something is tested by its
width.
"""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path

import numpy as np

from noonwater.app.first_answer import FirstAnswer, FirstRange, first_answer, first_range
from noonwater.app.job_file import job_text, read_job_tables
from noonwater.app.six_questions import first_job
from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.model.job import Job

HOUSE = {"units": "SI", "area": "42", "panels": "10", "pump": "variable medium"}
ADELAIDE_RAIN = "19, 13, 27, 41, 60, 80, 76, 68, 63, 47, 29, 29"
MUNICH = {
    "place": "48.14, 11.58",
    "air": "-0.3, 0.8, 4.7, 8.9, 13.3, 16.8, 18.7, 18.2, 14.2, 9.4, 4.2, 0.9",
    "rain": "48, 43, 60, 66, 97, 120, 130, 120, 85, 75, 62, 60",
    "sun": "1.1, 1.9, 3.1, 4.5, 5.3, 5.7, 5.7, 4.8, 3.5, 2.1, 1.2, 0.9",
    "opens": "05-15",
    "closes": "09-15",
}
MUNICH_DEW = (-3.5, -3.0, -0.5, 2.0, 7.0, 10.5, 12.0, 12.0, 9.5, 5.5, 1.0, -2.0)
MUNICH_WIND = (2.9, 2.8, 2.9, 2.7, 2.4, 2.4, 2.3, 2.1, 2.1, 2.2, 2.4, 2.8)


def adelaide(shared: Path) -> dict[str, list[float]]:
    """Monthly means of what was measured; sun by the hours of sunshine."""
    rows: dict[int, list[list[float]]] = {month: [] for month in range(1, 13)}
    with (shared / "reference" / "data" / "adelaide_3hourly_2001_2004.csv").open() as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            values = [float(row[key] or "nan") for key in ("Temp", "Tdew", "n", "uz")]
            rows[int(row["Month"])].append(values)
    air, dew, hours, wind = np.array([np.nanmean(rows[month], axis=0) for month in rows]).T
    middle = np.array([17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344])
    tilt = np.radians(23.45 * np.sin(2 * np.pi * (284 + middle) / 365))  # Cooper 1969
    day = 24 / np.pi * np.arccos(-np.tan(np.radians(-34.92)) * np.tan(tilt))
    outside = sun_outside_level_of_month(np.array([-34.92]))[0]
    sun = outside * (0.25 + 0.50 * hours / day) * 0.024
    return {"air": air.tolist(), "dew": dew.tolist(), "sun": sun.tolist(), "wind": wind.tolist()}


def with_weather(job: Job, sun: str, air: str, dew: list[float], wind: list[float]) -> Job:
    """The same job under the town's own months."""
    tables = tomllib.loads(job_text(job))
    tables["weather"] = {
        "source": "months",
        "utc_offset": tables["weather"]["utc_offset"],
        "sun": [f"{each} kWh/m2/day" for each in sun.split(",")],
        "air": [f"{each} degC" for each in air.split(",")],
        "dew_point": [f"{each:.2f} degC" for each in dew],
        "wind": [f"{each:.2f} m/s" for each in wind],
    }
    return read_job_tables(tables)


def assert_holds(stated: FirstRange, found: FirstAnswer) -> None:
    for name in ("clear_day", "season_water", "days_at_target", "solar_heat"):
        span, value = getattr(stated, name), getattr(found, name)
        assert span.holds(value), (name, span, value)


def test_adelaide_by_its_air_and_rain(shared: Path) -> None:
    known = adelaide(shared)
    air = ",".join(f"{each:.1f}" for each in known["air"])
    _, six = first_job(
        {**HOUSE, "place": "-34.92, 138.62", "air": air, "rain": ADELAIDE_RAIN, "bearing": "0",
         "opens": "10-15", "closes": "04-15"}
    )  # fmt: skip
    sun = ",".join(f"{each:.3f}" for each in known["sun"])
    stated = first_range(six)
    assert_holds(stated, first_answer(with_weather(six, sun, air, known["dew"], known["wind"])))
    assert stated.season_water.high - stated.season_water.low < 7.0


def test_munich_by_its_air_rain_and_sun() -> None:
    _, six = first_job({**HOUSE, **MUNICH})
    town = with_weather(six, MUNICH["sun"], MUNICH["air"], [*MUNICH_DEW], [*MUNICH_WIND])
    stated = first_range(six)
    assert_holds(stated, first_answer(town))
    assert stated.season_water.high - stated.season_water.low < 7.0
