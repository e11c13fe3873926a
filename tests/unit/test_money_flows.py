"""Years ahead: what must hold for any investment, and the corners where there is no answer."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.design.money_flows import level_cost, payback, present_worth, rate_of_return

PRICES = st.floats(1.0, 1e5)
INCOMES = st.lists(st.floats(0.0, 1e5), min_size=1, max_size=30)
RATES = st.floats(0.0, 0.5)


def invested(price: float, incomes: list[float]) -> np.ndarray:
    return np.array([-price, *incomes])


@given(PRICES, INCOMES, RATES, st.floats(0.001, 0.3))
def test_worth_falls_as_money_earns_more_elsewhere(
    price: float, incomes: list[float], rate: float, more: float
) -> None:
    flows = invested(price, incomes)
    assert present_worth(flows, rate + more) <= present_worth(flows, rate) + 1e-6


@given(PRICES, INCOMES)
def test_at_the_rate_of_return_nothing_is_won_or_lost(price: float, incomes: list[float]) -> None:
    flows = invested(price, incomes)
    rate = rate_of_return(flows)
    if rate is not None and -0.9 < rate < 10.0:
        assert present_worth(flows, rate) == pytest.approx(0.0, abs=1e-4 * (price + sum(incomes)))


@given(PRICES, INCOMES, RATES)
def test_discounted_payback_is_no_earlier_and_agrees_with_the_worth(
    price: float, incomes: list[float], rate: float
) -> None:
    flows = invested(price, incomes)
    simple, discounted = payback(flows), payback(flows, rate)
    if discounted is not None:
        assert simple is not None
        assert simple <= discounted + 1e-9
    value = present_worth(flows, rate)
    if abs(value) > 1e-6 * price:
        assert (discounted is None) == (value < 0.0)


def test_flows_of_one_sign_have_no_rate_of_return() -> None:
    assert rate_of_return(np.array([-1.0, -2.0])) is None
    assert rate_of_return(np.array([0.0, 2.0])) is None


def test_money_that_comes_first_and_is_given_back_earns_nothing() -> None:
    assert rate_of_return(np.array([800.0, -17.0, -17.0])) is None


def test_what_is_never_owed_is_paid_back_at_once() -> None:
    assert payback(np.array([10.0, 1.0])) == 0.0


def test_a_later_loss_counts_in_the_payback() -> None:
    # Paid back in year 1, owed again by a new heater in year 2, for good in year 3.
    assert payback(np.array([-10.0, 10.0, -5.0, 10.0])) == pytest.approx(2.5)


def test_no_heat_has_no_cost() -> None:
    assert level_cost(np.array([5.0, 1.0]), 0.0, 0.0, 0.05) is None


def test_level_cost_in_today_s_money_pays_all_costs() -> None:
    costs = np.array([1000.0, 20.0, 30.0])
    cost = level_cost(costs, 50.0, 0.03, 0.07)
    assert cost is not None
    income = np.array([0.0, 50.0 * cost, 50.0 * cost * 1.03])
    assert present_worth(income - costs, 0.07) == pytest.approx(0.0, abs=1e-9)
