"""A job's money against a sheet reckoned hour by hour, with its own tariff, tiers and years ahead.

Nothing of `noonwater.design` is used for what is expected: only the hours of the job's year (heat
to the pool, energy of the pump) and plain sums.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.job_file import read_job_text
from noonwater.app.money_plain import Held, PlainMoney, plain_money
from noonwater.app.study import run_year
from noonwater.model.job import Job
from noonwater.year import parameters as at
from noonwater.year.result import YearResult

KWH = 3.6e6
MONEY = """
[money]
electricity = "0.32 USD/kWh"
currency = "USD"
house_use = ["500 kWh", "450 kWh", "420 kWh", "400 kWh", "430 kWh", "600 kWh", "800 kWh",
    "780 kWh", "560 kWh", "430 kWh", "440 kWh", "510 kWh"]

[[money.windows]]
price = "0.55 USD/kWh"
start = "15:00"
stop = "21:00"
days = "weekdays"
months = [6, 7, 8, 9]

[[money.windows]]
price = "0.21 USD/kWh"
start = "22:00"
stop = "07:00"

[[money.windows]]
price = "0.40 USD/kWh"
start = "15:30"
stop = "21:00"

[[money.tiers]]
above = "0 kWh"
adds = "-0.03 USD/kWh"

[[money.tiers]]
above = "900 kWh"
adds = "0.05 USD/kWh"

[[money.alternatives]]
kind = "gas"
price = "0.11 USD/kWh"
efficiency = "80 %"
installed = "3900 USD"
life = 7
maintenance = "70 USD/year"
escalation = "5 %"

[[money.alternatives]]
kind = "heat pump"
efficiency = "550 %"
installed = "5200 USD"
life = 10

[[money.incentives]]
name = "grant"
share = "20 %"
cap = "1500 USD"
year = 2

[money.offer]
installed = "8900 USD"

[money.terms]
life = 16
discount_rate = "6 %"
inflation = "2.5 %"
electricity_escalation = "4 %"
maintenance = "80 USD/year"
"""
LIFE, RATE, INFLATION, POWER_RISE, FUEL_RISE = 16, 0.06, 0.025, 0.04, 0.05
PRICE, GRANT, UPKEEP = 8900.0, 1500.0, 80.0
HOUSE = (500, 450, 420, 400, 430, 600, 800, 780, 560, 430, 440, 510)


@cache
def job() -> Job:
    text = demo_text("almond-ranch").partition("# Prices are invented")[0]
    return read_job_text(text + MONEY)


@cache
def year() -> YearResult:
    return run_year(job())


@cache
def plain() -> PlainMoney:
    return plain_money(job(), None, year())


def months() -> list[int]:
    """Month of each hour of a year without a leap day, 0 for January."""
    first = date(2023, 1, 1)
    return [(first + timedelta(hours=hour)).month - 1 for hour in range(8760)]


def rate_of(month: int, hour: int, weekday: bool) -> float:
    """Price of a kWh in an hour as the tariff's sheet says it: the first window that holds."""
    total = 0.0
    for half in (0.0, 0.5):
        clock = hour + half
        if weekday and month in (5, 6, 7, 8) and 15.0 <= clock < 21.0:
            total += 0.55
        elif clock >= 22.0 or clock < 7.0:
            total += 0.21
        elif 15.5 <= clock < 21.0:
            total += 0.40
        else:
            total += 0.32
    return total / 2.0


def bill(kwh: list[float]) -> float:
    """What a house pays in a year for some use on top of its own."""
    by_month, cost = [0.0] * 12, 0.0
    for number, (month, use) in enumerate(zip(months(), kwh, strict=True)):
        hour = number % 24
        cost += use * (5 * rate_of(month, hour, True) + 2 * rate_of(month, hour, False)) / 7
        by_month[month] += use
    for own, use in zip(HOUSE, by_month, strict=True):
        over = max(own + use - 900, 0) - max(own - 900, 0)
        cost += -0.03 * (use - over) + 0.05 * over
    return cost


def hours(column: int) -> list[float]:
    return [float(value) / KWH for value in year().record[:, column]]


@cache
def pump_more() -> float:
    return bill(hours(at.PUMP_ENERGY)) - bill(hours(at.PUMP_ENERGY_WITHOUT))


def flows(fuel: float, fuel_rise: float, bought: dict[int, float], upkeep: float) -> list[float]:
    """What is won and paid in each year: solar's price and grant, both heaters' costs."""
    found = []
    for number in range(LIFE + 1):
        flow = bought.get(number, 0.0) * (1 + INFLATION) ** number
        if number == 0:
            flow -= PRICE
        else:
            flow += fuel * (1 + fuel_rise) ** (number - 1)
            flow += (upkeep - UPKEEP) * (1 + INFLATION) ** (number - 1)
            flow -= pump_more() * (1 + POWER_RISE) ** (number - 1)
        found.append(flow + (GRANT if number == 2 else 0.0))
    return found


def expect(held: Held, told: list[float]) -> None:
    assert held.worth.flows == pytest.approx(told, rel=1e-9)
    worth = sum(flow / (1 + RATE) ** number for number, flow in enumerate(told))
    assert held.worth.net_present_value == pytest.approx(worth, rel=1e-9)
    balance, last = 0.0, None
    for number, flow in enumerate(told):
        before = balance
        balance += flow / (1 + RATE) ** number
        if before < 0.0 <= balance:
            last = number - 1 + before / (before - balance)
    assert held.worth.payback_discounted == pytest.approx(last, rel=1e-9)


def test_the_pump_pays_its_hours_and_the_tiers_that_the_house_reaches() -> None:
    assert plain().solar.pump_cost == pytest.approx(pump_more(), rel=1e-9)
    in_july = sum(
        use for month, use in zip(months(), hours(at.PUMP_ENERGY), strict=True) if month == 6
    )
    assert HOUSE[6] < 900 < HOUSE[6] + in_july  # the second tier is reached


def test_gas_by_hand() -> None:
    held = plain().held[0]
    burnt = sum(hours(at.SOLAR_HEAT)) / 0.8
    assert held.fuel.energy / KWH == pytest.approx(burnt, rel=1e-9)
    expect(held, flows(0.11 * burnt, FUEL_RISE, {0: 3900.0, 7: 3900.0, 14: 3900.0}, 70.0))


def test_a_heat_pump_by_hand() -> None:
    held = plain().held[1]
    drawn = [heat / 5.5 for heat in hours(at.SOLAR_HEAT)]
    below = hours(at.PUMP_ENERGY_WITHOUT)
    together = bill([one + other for one, other in zip(drawn, below, strict=True)])
    assert held.fuel.cost == pytest.approx(together - bill(below), rel=1e-9)
    expect(held, flows(held.fuel.cost, POWER_RISE, {0: 5200.0, 10: 5200.0}, 0.0))


def test_the_rate_of_return_leaves_nothing() -> None:
    rate = plain().held[1].worth.rate_of_return
    assert rate is not None
    left = sum(flow / (1 + rate) ** n for n, flow in enumerate(plain().held[1].worth.flows))
    assert abs(left) < 1e-4


def test_against_nothing_by_hand() -> None:
    told = flows(0.0, 0.0, {}, 0.0)
    assert plain().nothing.flows == pytest.approx(told, rel=1e-9)


def test_cost_of_heat_by_hand() -> None:
    paid = -sum(f / (1 + RATE) ** n for n, f in enumerate(flows(0.0, 0.0, {}, 0.0)))
    heat = sum(hours(at.SOLAR_HEAT))
    worth = sum(heat * (1 + INFLATION) ** (n - 1) / (1 + RATE) ** n for n in range(1, LIFE + 1))
    cost = plain().cost_of_heat
    assert cost is not None
    assert cost * KWH == pytest.approx(paid / worth, rel=1e-9)
