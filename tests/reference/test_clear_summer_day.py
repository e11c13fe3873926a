"""Heat of an unglazed array on a clear summer day, through the whole year's machinery.

Source: rating days of six third-party-tested plastic pool panels (directory of 2007, read; daily
heat derived there from the tested coefficients for a half-sine day of 23 MJ/m² with the water 5 K
under and 5 K over the air): 4.1 to 6.6 kWh/m² of gross area. The bounds 3 and 7 kWh/m² are wider,
because a demo's roof, pool and pump's hours are not those of a rating day.
"""

from __future__ import annotations

import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.app.weather import weather_of
from noonwater.year import parameters as at
from noonwater.year.prepare import prepare
from noonwater.year.run import clear_day_rise, settled_year

KWH = 3.6e6


@pytest.mark.parametrize("demo", ["lagoon-court", "orchard-hill", "almond-ranch"])
def test_a_clear_summer_day_brings_three_to_seven_kilowatt_hours(demo: str) -> None:
    job = read_job(FOLDER / f"{demo}.toml")
    inputs = prepare(job, surroundings_of(job), flows_by_period(job))
    without = settled_year(inputs).record[:, at.POOL_TEMP_WITHOUT]
    rise = clear_day_rise(inputs, without, weather_of(job).sun_global)
    heat = rise * inputs.pool.capacity / inputs.array.area.sum() / KWH
    for month in (5, 6, 7):
        assert 3.0 <= heat[month] <= 7.0
