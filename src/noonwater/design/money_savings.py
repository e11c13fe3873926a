"""What the sun saves: against doing nothing, and against other ways to the same warm water.

A heater that holds this very pool at the temperatures that it has with solar brings, hour by hour,
the heat that solar brings: that follows from the pool's balance and asks for no second run. Solar
heats in the open season only, so all of that heat counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.design.doubts import Floats
from noonwater.design.money_flows import (
    growing,
    level_cost,
    payback,
    present_worth,
    rate_of_return,
)
from noonwater.design.money_offer import OfferPrice, received
from noonwater.design.money_tariff import electricity_cost
from noonwater.model.money import CARBON, Alternative, Money, Terms
from noonwater.year import parameters as at
from noonwater.year.calendar import season_of_step


@dataclass(frozen=True)
class SolarYear:
    """What solar brings and takes in a year at today's prices.

    Attributes
    ----------
    heat : float
        Brought to the pool. [J]
    pump_energy : float
        Electricity of the pump beyond its program without solar. [J]
    pump_cost : float
        Of it. [currency]
    pump_price : float
        Mean price of the pump's electricity with solar. [currency/J]
    carbon : float
        Of that electricity. [kg]
    """

    heat: float
    pump_energy: float
    pump_cost: float
    pump_price: float
    carbon: float


@dataclass(frozen=True)
class FuelYear:
    """What an alternative would take in a year for the same heat, at today's prices.

    Attributes
    ----------
    energy : float
        Burnt or drawn. [J]
    cost : float
        Of it. [currency]
    carbon : float
        Of it. [kg]
    """

    energy: float
    cost: float
    carbon: float


@dataclass(frozen=True)
class Worth:
    """What solar is worth against one alternative.

    Attributes
    ----------
    saved : float
        In the first year, upkeep of both counted. [currency]
    flows : tuple of float
        Net, year 0 to the end of its life. [currency]
    price_at_most : float
        What the owner could pay so that nothing is won or lost. [currency]
    net_present_value : float or None
        None without a price. [currency]
    rate_of_return : float or None
        None without a price, or where there is none. [-]
    payback_simple : float or None
        What the owner pays over what the first year saves. [year]
    payback_discounted : float or None
        None also where it isn't within its life. [year]
    carbon : float
        Saved in a year. [kg]
    """

    saved: float
    flows: tuple[float, ...]
    price_at_most: float
    net_present_value: float | None
    rate_of_return: float | None
    payback_simple: float | None
    payback_discounted: float | None
    carbon: float


def solar_year(money: Money, record: Floats) -> SolarYear:
    """Tell what solar brings and takes.

    Parameters
    ----------
    money : Money
        Tariff and carbon of electricity.
    record : (8760, RECORD) array
        Of the year.

    Returns
    -------
    SolarYear
    """
    with_solar, without = record[:, at.PUMP_ENERGY], record[:, at.PUMP_ENERGY_WITHOUT]
    cost = float(electricity_cost(money, with_solar).sum())
    energy = float(with_solar.sum())
    more = energy - float(without.sum())
    return SolarYear(
        heat=float(record[:, at.SOLAR_HEAT].sum()),
        pump_energy=more,
        pump_cost=cost - float(electricity_cost(money, without).sum()),
        pump_price=cost / energy if energy else money.electricity,
        carbon=more * money.terms.electricity_carbon,
    )


def fuel_year(money: Money, alternative: Alternative, record: Floats) -> FuelYear:
    """Tell what an alternative takes for the heat that solar brings.

    Parameters
    ----------
    money : Money
        Tariff and carbon of electricity.
    alternative : Alternative
        The other heater; one on electricity pays the tariff of the hours in which solar heats.
    record : (8760, RECORD) array
        Of the year.

    Returns
    -------
    FuelYear
    """
    use = record[:, at.SOLAR_HEAT] / alternative.heat_yield
    energy = float(use.sum())
    price = alternative.energy_price
    if price is None:
        below = record[:, at.PUMP_ENERGY_WITHOUT]
        cost = float(electricity_cost(money, use, below=below).sum())
    else:
        cost = price * energy
    return FuelYear(energy, cost, energy * carbon_of(alternative, money.terms))


def carbon_of(alternative: Alternative, terms: Terms) -> float:
    """Carbon dioxide of a unit of an alternative's energy. [kg/J]."""
    if alternative.carbon is not None:
        return alternative.carbon
    return CARBON.get(alternative.kind, terms.electricity_carbon)


def electricity_rise(terms: Terms) -> float:
    """Yearly rise of the price of electricity; that of all prices where none is told. [-]."""
    told = terms.electricity_escalation
    return terms.inflation if told is None else told


def energy_rise(alternative: Alternative, terms: Terms) -> float:
    """Yearly rise of the price of an alternative's energy. [-]."""
    if alternative.escalation is not None:
        return alternative.escalation
    return terms.inflation if alternative.burns else electricity_rise(terms)


def running_costs(terms: Terms, solar: SolarYear) -> Floats:
    """Electricity and upkeep of solar through its life, year 0 first. [currency]."""
    pump = growing(solar.pump_cost, electricity_rise(terms), terms.life)
    upkeep = growing(terms.maintenance, terms.inflation, terms.life)
    return np.concatenate([[0.0], pump + upkeep])


def worth(
    money: Money,
    solar: SolarYear,
    alternative: Alternative,
    fuel: FuelYear,
    price: OfferPrice | None,
) -> Worth:
    """Judge solar against one alternative over its life.

    Parameters
    ----------
    money : Money
        Incentives and terms.
    solar : SolarYear
        What solar brings and takes.
    alternative : Alternative
        The other heater.
    fuel : FuelYear
        What that takes for the same heat.
    price : OfferPrice or None
        What is asked for solar.

    Returns
    -------
    Worth
    """
    terms = money.terms
    income = _avoided(terms, alternative, fuel) - running_costs(terms, solar)
    saved = fuel.cost + alternative.maintenance - solar.pump_cost - terms.maintenance
    at_most = present_worth(income, terms.discount_rate)
    carbon = fuel.carbon - solar.carbon
    if price is None:
        return Worth(saved, tuple(income.tolist()), at_most, None, None, None, None, carbon)
    flows = income + paid(money, price)
    first_cost = -float(paid(money, price).sum()) - alternative.installed
    return Worth(
        saved=saved,
        flows=tuple(flows.tolist()),
        price_at_most=at_most,
        net_present_value=present_worth(flows, terms.discount_rate),
        rate_of_return=rate_of_return(flows),
        payback_simple=max(0.0, first_cost / saved) if saved > 0.0 else None,
        payback_discounted=payback(flows, terms.discount_rate),
        carbon=carbon,
    )


def against_nothing(money: Money, solar: SolarYear, price: OfferPrice | None) -> Worth:
    """Judge solar against a pool that nobody heats; parameters as of `worth`."""
    return worth(money, solar, Alternative("electric"), FuelYear(0.0, 0.0, 0.0), price)


def paid(money: Money, price: OfferPrice) -> Floats:
    """What the owner pays and receives for it, year 0 to the end of its life. [currency]."""
    flows = np.zeros(money.terms.life + 1)
    flows[0] = -price.total
    for incentive, amount in received(money, price.total):
        if incentive.year < len(flows):
            flows[incentive.year] += amount
    return flows


def cost_of_heat(money: Money, solar: SolarYear, price: OfferPrice) -> float | None:
    """Level cost of solar heat in today's money, incentives off. [currency/J]."""
    terms = money.terms
    costs = running_costs(terms, solar) - paid(money, price)
    return level_cost(costs, solar.heat, terms.inflation, terms.discount_rate)


def _avoided(terms: Terms, alternative: Alternative, fuel: FuelYear) -> Floats:
    """What the alternative would have cost: buying it again and again, fuel, upkeep."""
    flows = np.zeros(terms.life + 1)
    flows[1:] = growing(fuel.cost, energy_rise(alternative, terms), terms.life)
    flows[1:] += growing(alternative.maintenance, terms.inflation, terms.life)
    for year in range(0, terms.life, alternative.life):
        flows[year] += alternative.installed * (1.0 + terms.inflation) ** year
    return flows


def days_gained(record: Floats, target: float, opens: str, closes: str) -> int:
    """Days more at the target in the open season than without solar, the heater alone where one is.

    Parameters
    ----------
    record : (8760, RECORD) array
        Of the year.
    target : float
        [°C]
    opens, closes : str
        'MM-DD'.

    Returns
    -------
    int
        [d]
    """
    season = season_of_step(opens, closes, 1).reshape(365, 24)[:, 0] == 1
    warm, without = (
        record[:, column].reshape(365, 24).mean(axis=1) >= target
        for column in (at.POOL_TEMP, at.POOL_TEMP_HEATER_ONLY)
    )
    return int((warm & season).sum() - (without & season).sum())
