"""The tariff: windows, seasons, kinds of day, tiers; sums and orders that must hold."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.climate.weather_year import month_of_hour
from noonwater.design.money_tariff import electricity_cost, hourly_prices
from noonwater.model.money import Money, Tier, Window

HOUR = np.arange(8760) % 24
MONTH = month_of_hour() + 1
FLAT = Money(2.0)
JOULES = st.floats(0, 1e6)
PRICES = st.floats(0, 5)


def test_a_flat_price_is_that_in_every_hour() -> None:
    assert (hourly_prices(FLAT) == 2.0).all()


def test_a_window_holds_in_its_hours_and_months_only() -> None:
    money = replace(FLAT, windows=(Window(7.0, "16:30", "21:00", (6, 7)),))
    prices = hourly_prices(money)
    summer = (MONTH == 6) | (MONTH == 7)
    assert (prices[summer & (HOUR >= 17) & (HOUR < 21)] == 7.0).all()
    assert prices[summer & (HOUR == 16)] == pytest.approx(4.5)  # half of that hour
    assert (prices[~summer | (HOUR < 16) | (HOUR >= 21)] == 2.0).all()


def test_a_window_may_go_over_midnight() -> None:
    prices = hourly_prices(replace(FLAT, windows=(Window(1.0, "22:00", "06:00"),)))
    night = (HOUR >= 22) | (HOUR < 6)
    assert (prices[night] == 1.0).all()
    assert (prices[~night] == 2.0).all()


def test_of_two_windows_the_first_in_the_file_counts() -> None:
    peak, rest = Window(9.0, "17:00", "20:00"), Window(3.0)
    prices = hourly_prices(replace(FLAT, windows=(peak, rest)))
    assert set(prices) == {9.0, 3.0}
    assert set(hourly_prices(replace(FLAT, windows=(rest, peak)))) == {3.0}


def test_a_weekday_price_counts_five_days_in_seven_and_all_of_a_weekday() -> None:
    money = replace(FLAT, windows=(Window(9.0, days="weekdays"),))
    assert hourly_prices(money) == pytest.approx(np.full(8760, (5 * 9.0 + 2 * 2.0) / 7))
    assert (hourly_prices(money, 1.0) == 9.0).all()
    assert (hourly_prices(money, 0.0) == 2.0).all()


def test_tiers_add_above_their_limits_and_a_credit_takes_off() -> None:
    tiers = (Tier(0.0, -0.5), Tier(100.0, 0.0), Tier(300.0, 1.0))
    money = replace(FLAT, house_use=(50.0,) * 12, tiers=tiers)
    use = np.zeros(8760)
    use[:3] = 100.0  # in January: from 50 to 350
    cost = electricity_cost(money, use)
    assert cost[0] == pytest.approx(600.0 - 0.5 * 50.0 + 1.0 * 50.0)
    assert (cost[1:] == 0.0).all()


def test_a_tier_of_the_summer_leaves_the_winter_alone() -> None:
    money = replace(FLAT, house_use=(0.0,) * 12, tiers=(Tier(0.0, 1.0, (7,)),))
    cost = electricity_cost(money, np.ones(8760))
    assert cost[6] == pytest.approx(3 * 744.0)
    assert cost[0] == pytest.approx(2 * 744.0)


@given(PRICES, st.lists(JOULES, min_size=2, max_size=2), st.integers(0, 8759), st.integers(0, 8759))
def test_a_flat_bill_is_the_sum_of_its_hours(
    price: float, joules: list[float], one: int, two: int
) -> None:
    first, second = np.zeros(8760), np.zeros(8760)
    first[one], second[two] = joules
    money = Money(price)
    apart = electricity_cost(money, first).sum() + electricity_cost(money, second).sum()
    assert electricity_cost(money, first + second).sum() == pytest.approx(apart)


@given(JOULES, JOULES, st.lists(st.floats(0, 2), min_size=3, max_size=3), JOULES)
def test_with_rising_tiers_the_same_use_costs_no_less_on_top_of_more(
    low: float, more: float, steps: list[float], use: float
) -> None:
    adds = np.cumsum(steps)
    tiers = tuple(Tier(1e5 * (n + 1), float(add)) for n, add in enumerate(adds))
    hours = np.zeros(8760)
    hours[0] = use
    costs = [
        electricity_cost(Money(1.0, house_use=(house,) * 12, tiers=tiers), hours)[0]
        for house in (low, low + more)
    ]
    assert costs[1] >= costs[0] - 1e-6 * (1 + costs[0])
    assert costs[0] >= use - 1e-9 * (
        1 + low
    )  # the digits lost where two large bills are subtracted


@given(JOULES, JOULES, JOULES)
def test_use_on_top_of_use_costs_what_both_cost_together(
    house: float, first: float, second: float
) -> None:
    money = Money(1.0, house_use=(house,) * 12, tiers=(Tier(3e5, 0.4), Tier(9e5, 0.9)))
    one, two = np.zeros(8760), np.zeros(8760)
    one[5], two[9] = first, second
    together = electricity_cost(money, one + two).sum()
    stacked = electricity_cost(money, one).sum() + electricity_cost(money, two, below=one).sum()
    assert stacked == pytest.approx(together, abs=1e-3)
