"""What solar saves of the job's own heater: the same pool with the heater alone, from the same run.

The heater's own twin holds its set point without solar. Solar before the heater saves less than the
heat that it brings, since part of that keeps the pool above the set point.
"""

from __future__ import annotations

from dataclasses import replace

from noonwater.design.doubts import Floats
from noonwater.design.money_savings import FuelYear, carbon_of
from noonwater.design.money_tariff import electricity_cost
from noonwater.model.job import Job
from noonwater.model.money import Alternative, Money
from noonwater.year import parameters as at

PRICED_AS = {"gas": ("gas", "propane"), "heat pump": ("heat pump",), "electric": ("electric",)}
"""Kinds of alternatives that give a heater's energy its price, by the heater's kind."""


def own_alternative(job: Job) -> Alternative | None:
    """Find what the job's own heater burns or draws, and at which price.

    Parameters
    ----------
    job : Job
        Its heater, and the alternatives of its money.

    Returns
    -------
    Alternative or None
        The first of the heater's kind, there already: nothing is spared of buying or upkeep. One on
        electricity without any pays the tariff. None without a heater, or for gas without a price.
    """
    kind = job.heater.kind
    if kind == "none":
        return None
    for alternative in job.money.alternatives:
        if alternative.kind in PRICED_AS[kind]:
            return replace(alternative, installed=0.0, maintenance=0.0)
    return None if kind == "gas" else Alternative(kind)


def own_fuel(money: Money, alternative: Alternative, record: Floats) -> FuelYear:
    """Tell what the own heater takes less with solar than alone.

    Parameters
    ----------
    money : Money
        Tariff and carbon of electricity.
    alternative : Alternative
        Of `own_alternative`: price and carbon; its efficiency doesn't count, the heater's does.
    record : (8760, RECORD) array
        Of a year with the heater.

    Returns
    -------
    FuelYear
        With the pump that the heater calls outside the program.
    """
    alone = record[:, at.HEATER_ONLY_ENERGY], record[:, at.HEATER_ONLY_PUMP_ENERGY]
    beside = record[:, at.HEATER_ENERGY], record[:, at.HEATER_PUMP_ENERGY]
    energy = float((alone[0] - beside[0]).sum())
    price = alternative.energy_price
    if price is None:
        cost = _electric(money, record, alone[0] + alone[1])
        cost -= _electric(money, record, beside[0] + beside[1])
    else:
        pumped = _electric(money, record, alone[1]) - _electric(money, record, beside[1])
        cost = price * energy + pumped
    pump = float((alone[1] - beside[1]).sum())
    carbon = energy * carbon_of(alternative, money.terms) + pump * money.terms.electricity_carbon
    return FuelYear(energy, cost, carbon)


def _electric(money: Money, record: Floats, use: Floats) -> float:
    below = record[:, at.PUMP_ENERGY_WITHOUT]
    return float(electricity_cost(money, use, below=below).sum())
