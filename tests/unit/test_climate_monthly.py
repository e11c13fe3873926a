"""Twelve monthly means typed by a user: taken, or refused with every fault at once."""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.climate.monthly import WATT_PER_DAILY_KWH, MonthlyMeans, clearness_of_months
from noonwater.core.errors import WeatherError

# Phoenix by kWh/(m² day), read off the US station table.
SUN = [3.2, 4.3, 5.5, 7.1, 8.0, 8.4, 7.6, 7.1, 6.1, 4.9, 3.6, 3.0]
AIR = [12.6, 14.5, 17.4, 21.7, 26.9, 32.0, 34.2, 33.3, 30.3, 23.9, 16.7, 12.2]


def means(**changes: object) -> MonthlyMeans:
    values: dict[str, object] = {
        "sun_global": [WATT_PER_DAILY_KWH * kwh for kwh in SUN],
        "temp_air": AIR,
        "dew_point": [air - 12.0 for air in AIR],
        "wind_speed": [2.8] * 12,
    }
    return MonthlyMeans(**{**values, **changes})  # type: ignore[arg-type]


def test_a_days_kwh_is_a_mean_of_watts() -> None:
    # 24 kWh in a day of 24 h is 1 kW.
    assert pytest.approx(1000.0) == 24.0 * WATT_PER_DAILY_KWH


def test_arrays_and_lists_are_taken_alike() -> None:
    assert means(temp_air=np.array(AIR)) == means(temp_air=AIR)
    assert means().temp_air == tuple(AIR)
    assert hash(means()) == hash(means())


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"temp_air": AIR[:11]}, "weather.temp_air: 11 values; allowed: 12 values"),
        ({"wind_speed": 3.0}, "weather.wind_speed: 3.0; allowed: 12 numbers"),
        ({"wind_speed": ["calm"] * 12}, "weather.wind_speed"),
        ({"wind_speed": [3.0] * 11 + [-1.0]}, "weather.wind_speed, December: -1"),
        ({"sun_global": [float("nan")] * 12}, "weather.sun_global, January: nan"),
        ({"dew_point": [40.0] * 12}, "weather.dew_point, January: 40"),
        ({"dew_point": [15.0] * 12}, "dew_point, January: 15 °C; allowed: below the air's 12.6"),
        ({"daily_range": [0.0] * 12}, "weather.daily_range, January: 0"),
    ],
)
def test_faults_name_row_month_value_and_range(changes: dict[str, object], words: str) -> None:
    with pytest.raises(WeatherError) as caught:
        means(**changes)
    assert words in str(caught.value)


def test_all_faults_come_at_once() -> None:
    with pytest.raises(WeatherError) as caught:
        means(temp_air=AIR[:11], wind_speed=[-1.0] + [99.0] + [2.0] * 10)
    assert len(caught.value.faults) == 3


def test_clearness_of_a_desert() -> None:
    # Phoenix lies at the clear end of the US: 0.6 to 0.75 in every month.
    clearness = clearness_of_months(means(), 33.45)
    assert (clearness > 0.55).all() and (clearness < 0.76).all()


def test_sun_per_month_instead_of_per_day_is_refused() -> None:
    monthly = means(sun_global=[WATT_PER_DAILY_KWH * kwh * 1.4 for kwh in SUN])
    with pytest.raises(WeatherError, match="per day, not per month") as caught:
        clearness_of_months(monthly, 33.45)
    assert len(caught.value.faults) >= 6
    assert "kWh/m²/day" in str(caught.value)


def test_too_little_sun_is_refused() -> None:
    dim = means(sun_global=list(SUN))
    with pytest.raises(WeatherError, match="sun_global, January"):
        clearness_of_months(dim, 33.45)


def test_the_wrong_hemisphere_is_refused() -> None:
    with pytest.raises(WeatherError, match="look at the latitude"):
        clearness_of_months(means(), -33.45)
