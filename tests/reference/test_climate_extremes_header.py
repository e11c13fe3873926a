"""Return-period temperatures of EPW headers against the handbook's own formula.

Sources
-------
- Headers: design conditions in ../shared/weather's two EPW files (ASHRAE 2009, read).
- Formula: ASHRAE Handbook Fundamentals 2009, chapter 14, eq. 4 and 5 (from memory): the n-year
  extreme is mean -+ F x standard deviation, F = -(sqrt 6/pi) (0.5772 + ln ln[n/(n - 1)]).
  Each number is printed to 0.1 K, so at 50 years both sides may differ by 0.05 + 0.05 + 2.59 x 0.05
  = 0.23 K.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from noonwater.climate.extremes import gumbel_factor, lowest_in_years
from noonwater.climate.files import read_weather_file

FILES = {
    "USA_FL_Miami.Intl.AP.722020_TMY3.epw": (5.1, 3.1, (2.8, 1.1, -0.7, -2.9)),
    "USA_TX_Houston-Bush.Intercontinental.AP.722430_TMY3.epw": (
        -4.4, 3.5, (-7.0, -9.0, -11.0, -13.5),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", list(FILES))
def test_headers_agree_with_the_formula(shared: Path, name: str) -> None:
    weather = read_weather_file(shared / "weather" / name)
    extremes = weather.extremes
    assert extremes is not None and extremes.knows_risk
    mean, spread, listed = FILES[name]
    assert (extremes.mean_lowest, extremes.spread_lowest) == (mean, spread)
    assert extremes.return_temps == listed
    assert extremes.source == "Climate Design Data 2009 ASHRAE Handbook"
    assert extremes.temp_lowest == weather.temp_air.min()
    for years, temp in zip(extremes.return_years, listed, strict=True):
        room = 0.1 + 0.05 * abs(gumbel_factor(years)) + 1e-9
        assert lowest_in_years(extremes, years) == pytest.approx(temp, abs=room)


@pytest.mark.parametrize("name", list(FILES))
def test_the_typical_year_hides_the_cold_one(shared: Path, name: str) -> None:
    weather = read_weather_file(shared / "weather" / name)
    assert weather.extremes is not None
    # One year's coldest hour is near the mean of many years', far above a 20-year one.
    assert weather.temp_air.min() > weather.extremes.return_temps[2] + 3.0


def test_the_factor_by_chance() -> None:
    # Gumbel's law has this quantile: drawn at random, one year in n is colder (definition).
    draws = np.random.default_rng(0).gumbel(size=400_000)
    standard = (draws - draws.mean()) / draws.std()
    for years in (5.0, 20.0, 50.0):
        assert np.mean(standard > gumbel_factor(years)) == pytest.approx(1.0 / years, rel=0.03)
