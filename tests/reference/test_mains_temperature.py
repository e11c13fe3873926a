"""Mains water against measured and tabulated temperatures.

Sources: tap water of a house in south-west London, 2008 to 2010, 22 readings of a running tap
(read, a householder's public log); cold water at the inlet in cities of the United States, a table
of water heater sellers (read second-hand; the year's means). Air means of the cities and of London
from the normals of 1981 to 2010 (from memory, to some tenths of a degree).
"""

from __future__ import annotations

import math
from datetime import date

import pytest

from noonwater.physics.mains import temp_mains

LONDON_AIR, LONDON_SWING = 11.3, 13.4
LONDON_TAP = {
    date(2008, 8, 30): 19.0,
    date(2008, 11, 19): 14.0,
    date(2008, 12, 3): 10.0,
    date(2009, 6, 2): 17.0,
    date(2009, 6, 27): 20.0,
    date(2009, 8, 30): 20.0,
    date(2009, 10, 22): 16.0,
    date(2009, 12, 7): 11.0,
    date(2009, 12, 15): 10.0,
    date(2010, 1, 9): 6.0,
    date(2010, 1, 20): 8.0,
    date(2010, 4, 3): 10.0,
    date(2010, 4, 25): 13.0,
    date(2010, 5, 23): 15.0,
    date(2010, 6, 26): 19.0,
    date(2010, 7, 17): 21.0,
    date(2010, 9, 12): 19.0,
    date(2010, 10, 18): 15.0,
    date(2010, 11, 6): 15.0,
    date(2010, 11, 28): 11.0,
    date(2010, 12, 3): 9.0,
    date(2010, 12, 20): 8.0,
}

CITIES = {
    # The year's mean of the air and its swing of monthly means, tabulated water; all in °F.
    "Anchorage": (37.0, 42.0, 38.6),
    "Boston": (51.5, 44.5, 59.3),
    "Rochester": (48.2, 46.0, 57.0),
    "Birmingham": (62.9, 37.5, 71.7),
    "Baltimore": (55.2, 44.0, 56.8),
}


def test_readings_of_a_tap() -> None:
    misses = [
        temp_mains(day.timetuple().tm_yday, LONDON_AIR, LONDON_SWING, False) - temp
        for day, temp in LONDON_TAP.items()
    ]
    # 3 K is what the formula's docstring promises for the mean; the two winters were the coldest
    # in decades, and days of one household scatter more.
    assert abs(sum(misses) / len(misses)) < 1.5
    assert math.sqrt(sum(miss * miss for miss in misses) / len(misses)) < 3.0
    assert max(map(abs, misses)) < 6.0


@pytest.mark.parametrize("city", CITIES)
def test_cities(city: str) -> None:
    mean, swing, tap = CITIES[city]
    days = range(1, 366)
    temps = [temp_mains(day, (mean - 32.0) / 1.8, swing / 1.8, False) for day in days]
    assert sum(temps) / 365 == pytest.approx((tap - 32.0) / 1.8, abs=3.0)


def test_hand_worked_year() -> None:
    # At 44 °F (6.667 °C) the source's ratio is 0.4 and its lag 35 days: least on day 50 or 51, the
    # mean 6 °F above the air, half of 0.4 of the swing to each side.
    days = [temp_mains(day, 12.0 / 1.8, 20.0, False) for day in range(1, 366)]
    assert 1 + days.index(min(days)) in (50, 51)
    assert min(days) == pytest.approx(10.0 - 4.0, abs=0.01)
    assert max(days) == pytest.approx(10.0 + 4.0, abs=0.01)


def test_south_is_half_a_year_away() -> None:
    # 0.986 degrees a day, 182.5 days: half a turn to 0.05 degrees.
    for day in (10.0, 100.0, 180.0):
        north = temp_mains(day + 182.5, 16.0, 14.0, False)
        assert temp_mains(day, 16.0, 14.0, True) == pytest.approx(north, abs=0.02)


def test_never_ice() -> None:
    assert min(temp_mains(day, -7.0, 45.0, False) for day in range(1, 366)) >= 0.0
