"""Offer, incentives, what solar saves, and the ranges of that, on made-up years."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.design.money_against import other_ways
from noonwater.design.money_offer import OfferPrice, built_price, received, told_price
from noonwater.design.money_own_heater import own_alternative, own_fuel
from noonwater.design.money_ranges import believed_years, money_range
from noonwater.design.money_savings import (
    against_nothing,
    cost_of_heat,
    days_gained,
    fuel_year,
    paid,
    solar_year,
    worth,
)
from noonwater.design.sure import Outcomes
from noonwater.model.heater import Heater
from noonwater.model.money import (
    Alternative,
    Incentive,
    Money,
    Offer,
    Terms,
    Tier,
    Window,
)
from noonwater.year import parameters as at
from tests.jobs import example_job

KWH = 3.6e6
FLAT = Money(0.2 / KWH, terms=Terms(life=10, inflation=0.0, discount_rate=0.0))
GAS = Alternative("gas", price=0.05 / KWH, efficiency=0.8)


def made_up_record() -> np.ndarray:
    """8,760 kWh of heat, 876 kWh of the pump with solar and 438 kWh without, even over the year."""
    record = np.zeros((8760, at.RECORD))
    record[:, at.SOLAR_HEAT] = KWH
    record[:, at.PUMP_ENERGY] = 0.1 * KWH
    record[:, at.PUMP_ENERGY_WITHOUT] = 0.05 * KWH
    record[:, at.POOL_TEMP] = 28.0
    record[:, at.POOL_TEMP_HEATER_ONLY] = 24.0
    record[: 24 * 100, at.POOL_TEMP_HEATER_ONLY] = 28.0
    return record


def test_what_solar_brings_and_takes() -> None:
    solar = solar_year(FLAT, made_up_record())
    assert solar.heat == pytest.approx(8760 * KWH)
    assert solar.pump_energy == pytest.approx(438 * KWH)
    assert solar.pump_cost == pytest.approx(438 * 0.2)
    assert solar.pump_price == pytest.approx(0.2 / KWH)
    assert solar.carbon == pytest.approx(438 * 0.37)


def test_a_pool_that_solar_does_not_heat_would_get_no_other_heater_either() -> None:
    record = made_up_record()
    record[:, at.SOLAR_HEAT] = 0.0
    money = replace(FLAT, alternatives=(GAS, Alternative("heat pump", installed=4500.0)))
    job = replace(example_job(), money=money)
    assert other_ways(job, record, solar_year(money, record)) == []
    solar = solar_year(money, made_up_record())
    assert [way.kind for way, _, _ in other_ways(job, made_up_record(), solar)] == [
        "gas", "heat pump",
    ]  # fmt: skip


def test_against_doing_nothing_all_that_solar_takes_is_lost() -> None:
    solar = solar_year(FLAT, made_up_record())
    told = against_nothing(FLAT, solar, OfferPrice(3000.0))
    assert told.saved == pytest.approx(-438 * 0.2)
    assert told.net_present_value == pytest.approx(-3000.0 - 10 * 438 * 0.2)
    assert told.payback_discounted is None


def test_what_gas_would_take() -> None:
    fuel = fuel_year(FLAT, GAS, made_up_record())
    assert fuel.energy == pytest.approx(8760 / 0.8 * KWH)
    assert fuel.cost == pytest.approx(8760 / 0.8 * 0.05)
    assert fuel.carbon == pytest.approx(8760 / 0.8 * 53.06 * 3.412141633e-3, rel=1e-6)


def test_a_heat_pump_pays_the_tariff_of_its_hours_and_the_tiers_above_the_pump() -> None:
    heat_pump = Alternative("heat pump", efficiency=5.0)
    flat = fuel_year(FLAT, heat_pump, made_up_record())
    assert flat.cost == pytest.approx(8760 / 5 * 0.2)
    windows = (Window(0.4 / KWH, "12:00", "18:00"),)
    dear = fuel_year(replace(FLAT, windows=windows), heat_pump, made_up_record())
    assert dear.cost == pytest.approx(8760 / 5 * (0.2 + 0.25 * 0.2))
    # The pump's program alone reaches the limit in every month: all of the heat pump is above it.
    tiers = (Tier(20 * KWH, 0.1 / KWH),)
    tiered = replace(FLAT, house_use=(0.0,) * 12, tiers=tiers)
    assert fuel_year(tiered, heat_pump, made_up_record()).cost == pytest.approx(8760 / 5 * 0.3)


def test_propane_is_priced_by_the_gallon() -> None:
    # 3.84 million Btu a barrel of 42 gallons is 26.8 kWh a gallon.
    propane = Alternative("propane", price_by_volume=2.68 / 0.003785411784)
    assert propane.energy_price == pytest.approx(0.1 / KWH, rel=2e-3)


def test_an_own_price_counts_for_a_heat_pump_too() -> None:
    other = Alternative("heat pump", price=0.1 / KWH, efficiency=5.0)
    assert fuel_year(FLAT, other, made_up_record()).cost == pytest.approx(8760 / 5 * 0.1)


def test_worth_without_interest_is_plain_addition() -> None:
    record = made_up_record()
    solar, fuel = solar_year(FLAT, record), fuel_year(FLAT, GAS, record)
    found = worth(FLAT, solar, GAS, fuel, OfferPrice(2000.0))
    saved = 8760 / 0.8 * 0.05 - 438 * 0.2
    assert found.saved == pytest.approx(saved)
    assert found.net_present_value == pytest.approx(10 * saved - 2000.0)
    assert found.price_at_most == pytest.approx(10 * saved)
    assert found.payback_simple == pytest.approx(2000.0 / saved)
    assert found.payback_discounted == pytest.approx(2000.0 / saved)
    assert found.carbon == pytest.approx(fuel.carbon - solar.carbon)


def test_an_alternative_that_must_be_bought_again_spares_each_purchase() -> None:
    record = made_up_record()
    solar = solar_year(FLAT, record)
    bought = replace(GAS, installed=900.0, life=4)
    plain = worth(FLAT, solar, GAS, fuel_year(FLAT, GAS, record), OfferPrice(2000.0))
    other = worth(FLAT, solar, bought, fuel_year(FLAT, bought, record), OfferPrice(2000.0))
    more = np.array(other.flows) - np.array(plain.flows)
    assert list(np.flatnonzero(more)) == [0, 4, 8]
    assert more.sum() == pytest.approx(3 * 900.0)


def test_without_a_price_only_what_it_may_cost_is_told() -> None:
    record = made_up_record()
    found = worth(FLAT, solar_year(FLAT, record), GAS, fuel_year(FLAT, GAS, record), None)
    assert found.net_present_value is None
    assert found.payback_discounted is None
    at_most = worth(
        FLAT, solar_year(FLAT, record), GAS, fuel_year(FLAT, GAS, record),
        OfferPrice(found.price_at_most),
    )  # fmt: skip
    assert at_most.net_present_value == pytest.approx(0.0, abs=1e-6)


def test_each_price_rises_as_it_is_told() -> None:
    record = made_up_record()
    terms = replace(FLAT.terms, inflation=0.02, electricity_escalation=0.05, maintenance=50.0)
    money = replace(FLAT, terms=terms)
    solar, gas = solar_year(money, record), replace(GAS, escalation=0.03)
    fuel = fuel_year(money, gas, record)
    flows = worth(money, solar, gas, fuel, OfferPrice(1.0)).flows
    expected = [
        fuel.cost * 1.03**year - solar.pump_cost * 1.05**year - 50.0 * 1.02**year
        for year in range(10)
    ]
    assert flows[1:] == pytest.approx(expected)
    electric = Alternative("electric")
    dear = fuel_year(money, electric, record)
    found = worth(money, solar, electric, dear, OfferPrice(1.0)).flows
    assert found[2] == pytest.approx((dear.cost - solar.pump_cost) * 1.05 - 51.0)


def test_incentives_are_received_in_their_year_and_never_exceed_the_price() -> None:
    money = replace(
        FLAT,
        incentives=(
            Incentive("grant", amount=300.0),
            Incentive("credit", share=0.3, cap=250.0, year=2),
            Incentive("gift", amount=5000.0),
        ),
    )
    assert [amount for _, amount in received(money, 1000.0)] == [300.0, 250.0, 450.0]
    flows = paid(money, OfferPrice(1000.0))
    assert (flows[0], flows[2]) == (-250.0, 250.0)
    assert Incentive("share", share=0.3).received(1000.0) == 300.0


def test_an_offer_is_built_of_its_parts() -> None:
    offer = Offer(labour_rate=60.0 / 3600.0, extra_hours=2 * 3600.0, overhead=0.25, sales_tax=0.1)
    price = built_price(offer, 1000.0, 8 * 3600.0)
    assert price.labour == pytest.approx(600.0)
    assert price.overhead == pytest.approx(400.0)
    assert price.tax == pytest.approx(125.0)  # on parts with their overhead
    assert price.total == pytest.approx(2125.0)
    everything = built_price(replace(offer, tax_on="everything"), 1000.0, 8 * 3600.0)
    assert everything.tax == pytest.approx(200.0)
    assert told_price(Offer()) is None
    assert told_price(Offer(installed=5.0)) == OfferPrice(5.0, told=True)


def test_days_gained_are_counted_in_the_open_season() -> None:
    record = made_up_record()
    assert days_gained(record, 27.0, "01-01", "12-31") == 265
    assert days_gained(record, 27.0, "12-22", "04-20") == 10 + 10
    assert days_gained(record, 29.0, "01-01", "12-31") == 0


def test_cost_of_heat_takes_the_incentives_off() -> None:
    record = made_up_record()
    solar = solar_year(FLAT, record)
    cost = cost_of_heat(FLAT, solar, OfferPrice(1000.0))
    assert cost == pytest.approx((1000.0 + 10 * solar.pump_cost) / (10 * solar.heat))
    helped = replace(FLAT, incentives=(Incentive("grant", amount=400.0),))
    assert cost_of_heat(helped, solar, OfferPrice(1000.0)) == pytest.approx(
        (600.0 + 10 * solar.pump_cost) / (10 * solar.heat)
    )


def outcomes(heat: np.ndarray, energy: np.ndarray) -> Outcomes:
    nothing = np.zeros(len(heat))
    return Outcomes(np.zeros((len(heat), 12)), nothing, heat, energy, nothing)


def test_ranges_follow_heat_and_electricity_of_each_belief() -> None:
    record = made_up_record()
    solar, fuel = solar_year(FLAT, record), fuel_year(FLAT, GAS, record)
    share = np.repeat(np.linspace(0.5, 1.5, 11), 9)
    energy = np.full(99, 876 * KWH)
    believed = believed_years(solar, outcomes(share * solar.heat, energy), 876 * KWH)
    span = money_range(FLAT, (solar, believed), GAS, fuel, OfferPrice(2000.0))
    assert span.saved.low == pytest.approx(0.6 * fuel.cost - solar.pump_cost)
    assert span.saved.high == pytest.approx(1.4 * fuel.cost - solar.pump_cost)
    assert span.net_present_value is not None
    assert span.net_present_value.middle == pytest.approx(10 * (fuel.cost - solar.pump_cost) - 2000)
    assert span.payback_low == pytest.approx(2000.0 / span.saved.high)
    assert span.payback_high == pytest.approx(2000.0 / span.saved.low)
    more = believed_years(solar, outcomes(np.array([solar.heat]), np.array([976 * KWH])), 876 * KWH)
    assert more[0].pump_cost - solar.pump_cost == pytest.approx(20.0)


def test_a_belief_in_which_it_never_pays_back_opens_the_range() -> None:
    record = made_up_record()
    solar, fuel = solar_year(FLAT, record), fuel_year(FLAT, GAS, record)
    heat = np.linspace(0.0, 1.0, 11) * solar.heat
    believed = believed_years(solar, outcomes(heat, np.full(11, 876 * KWH)), 876 * KWH)
    span = money_range(FLAT, (solar, believed), GAS, fuel, OfferPrice(2000.0))
    assert span.payback_low is not None
    assert span.payback_high is None


def heated_record() -> np.ndarray:
    """With a heater that takes 3 kWh an hour alone and 1 beside solar, half of its pump called."""
    record = made_up_record()
    record[:, at.HEATER_ONLY_ENERGY] = 3.0 * KWH
    record[:, at.HEATER_ENERGY] = 1.0 * KWH
    record[:, at.HEATER_ONLY_PUMP_ENERGY] = 0.3 * KWH
    record[:, at.HEATER_PUMP_ENERGY] = 0.1 * KWH
    return record


def test_the_own_heater_s_saving_is_what_it_takes_less_beside_solar() -> None:
    gas = own_fuel(FLAT, GAS, heated_record())
    assert gas.energy == pytest.approx(2 * 8760 * KWH)
    assert gas.cost == pytest.approx(2 * 8760 * 0.05 + 0.2 * 8760 * 0.2)
    electric = own_fuel(FLAT, Alternative("electric"), heated_record())
    assert electric.cost == pytest.approx(2.2 * 8760 * 0.2)
    assert electric.carbon == pytest.approx(2.2 * 8760 * 0.37)


def test_the_own_heater_is_priced_as_its_kind_and_spares_no_purchase() -> None:
    bought = replace(GAS, installed=900.0, maintenance=50.0)
    money = replace(FLAT, alternatives=(Alternative("heat pump"), bought))
    job = example_job(money=money, heater=Heater("gas"))
    assert own_alternative(job) == GAS
    assert own_alternative(replace(job, money=FLAT)) is None
    assert own_alternative(replace(job, heater=Heater("electric"))) == Alternative("electric")
    assert own_alternative(replace(job, heater=Heater())) is None
