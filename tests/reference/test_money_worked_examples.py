"""Present worth, rate of return, payback and level cost against published worked examples.

Sources, each read where it says so:
[1] Gitman, L. J., Principles of Managerial Finance, Brief, 3rd ed., 2003, p. 346, as given in the
    reference of numpy 1.16, numpy.npv and numpy.irr (read).
[2] Textbook chapter 9, question 9.1, "cash flow, cumulative cash flow, discounted cash flow", with
    its answer (read at transtutors.com, question 1309389).
[3] Engineering Economy, lecture 8, "Finding the simple and discounted payback period for a set of
    cash flows", slide 18 and after (read at slideplayer.com, 3824978).
[4] Worked answer on a levelised cost: 1.50 a watt installed, capacity factor 22 %, ten years at
    8 %, 0.04 a kWh for upkeep (read at qammunity.org, 11588887).
[5] Worked answer on a solar water heater for 1,080 that saves 280.8 a year (read at
    drjackthetutor.com, 1155163).
[6] Fuller, S. K., Petersen, S. R., Life-Cycle Costing Manual, NIST Handbook 135, 1995, uniform
    present value factors at 3 % and 7 % (from memory).
[7] Duffie, J. A., Beckman, W. A., Solar Engineering of Thermal Processes, P1 of the example of the
    P1, P2 method: 20 years, 10 % of inflation, 8 % of discount (from memory).
Tolerances: half of the last digit that is printed, unless said otherwise.
"""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.design.money_flows import (
    growing,
    level_cost,
    payback,
    present_worth,
    present_worth_factor,
    rate_of_return,
)
from noonwater.design.money_offer import OfferPrice
from noonwater.design.money_savings import FuelYear, SolarYear, worth
from noonwater.model.money import Alternative, Money, Terms


def test_present_worth_and_rate_of_return_of_the_library_s_own_source() -> None:
    flows = np.array([-100.0, 39.0, 59.0, 55.0, 20.0])  # [1]
    assert present_worth(flows, 0.281) == pytest.approx(-0.0084785916, abs=1e-9)
    assert rate_of_return(flows) == pytest.approx(0.2809484, abs=1e-7)


def test_discounted_flows_payback_and_worth() -> None:
    flows = np.array([-200.0, 50.0, 60.0, 70.0, 200.0])  # [2]
    assert present_worth(flows, 0.10) == pytest.approx(84.23, abs=0.015)  # sum of four roundings
    assert payback(flows) == pytest.approx(3.10, abs=0.005)
    within = payback(flows, 0.10)
    assert within is not None
    assert 3.0 < within < 4.0  # "between Years 3 and 4"


def test_simple_and_discounted_payback_in_whole_years() -> None:
    flows = np.array([-42000.0, 12000.0, 11000.0, 10000.0, 10000.0, 9000.0])  # [3]
    simple, discounted = payback(flows), payback(flows, 0.06)
    assert simple is not None
    assert discounted is not None
    assert (np.ceil(simple), np.ceil(discounted)) == (4.0, 5.0)
    for years, balance in zip(range(2, 7), (-30679, -20889, -12493, -4572, 2153), strict=True):
        assert present_worth(flows[:years], 0.06) == pytest.approx(balance, abs=1.0)


def test_level_cost_of_a_plant_that_makes_the_same_each_year() -> None:
    per_kw, made = 1500.0, 8760 * 0.22  # [4]
    costs = np.concatenate([[per_kw], np.full(10, 0.04 * made)])
    assert level_cost(costs, made, 0.0, 0.08) == pytest.approx(0.1559, abs=0.0001)


def test_price_over_the_first_year_s_saving() -> None:
    money = Money(terms=Terms(life=10, inflation=0.0, maintenance=0.0))  # [5]
    found = worth(
        money, SolarYear(1.0, 0.0, 0.0, 0.0, 0.0), Alternative("electric"),
        FuelYear(1.0, 280.8, 0.0), OfferPrice(1080.0, told=True),
    )  # fmt: skip
    assert found.payback_simple == pytest.approx(3.85, abs=0.005)


@pytest.mark.parametrize(
    ("rate", "years", "factor"),
    [(0.03, 10, 8.53), (0.03, 15, 11.94), (0.03, 20, 14.88), (0.03, 25, 17.41), (0.07, 25, 11.65)],
)
def test_uniform_present_value_factors(rate: float, years: int, factor: float) -> None:
    assert present_worth_factor(years, 0.0, rate) == pytest.approx(factor, abs=0.006)  # [6]


def test_factor_of_fuel_that_rises_faster_than_money_earns() -> None:
    assert present_worth_factor(20, 0.10, 0.08) == pytest.approx(22.169, abs=0.0006)  # [7]
    assert present_worth_factor(20, 0.08, 0.08) == pytest.approx(20 / 1.08)  # its limit, N/(1+d)


def test_the_first_year_is_told_at_today_s_prices() -> None:
    # [7] writes the sum as (1+i)^(j-1)/(1+d)^j for the years j from 1.
    assert list(growing(100.0, 0.10, 3)) == pytest.approx([100.0, 110.0, 121.0])
