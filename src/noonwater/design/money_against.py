"""Solar held against each other way to the same warm water."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.design.doubts import Floats
from noonwater.design.money_offer import OfferPrice
from noonwater.design.money_own_heater import own_alternative, own_fuel
from noonwater.design.money_ranges import MoneyRange, believed_years, money_range
from noonwater.design.money_savings import FuelYear, SolarYear, Worth, fuel_year, worth
from noonwater.design.sure import Sureness
from noonwater.model.job import Job
from noonwater.model.money import Alternative
from noonwater.year.parameters import PUMP_ENERGY


@dataclass(frozen=True)
class Against:
    """Solar held against one other way to the same warm water.

    Attributes
    ----------
    alternative : Alternative
        The other heater.
    fuel : FuelYear
        What it takes for the heat that solar brings; of the own heater what solar saves it.
    worth : Worth
        Of solar against it.
    span : MoneyRange
        How sure that is.
    own : bool
        Whether it is the job's own heater, alone and beside solar.
    """

    alternative: Alternative
    fuel: FuelYear
    worth: Worth
    span: MoneyRange
    own: bool = False


def other_ways(
    job: Job, record: Floats, solar: SolarYear
) -> list[tuple[Alternative, FuelYear, bool]]:
    """Find the ways to the same warm water, what each takes in a year, and whether it is there.

    Parameters
    ----------
    job : Job
        Its heater and its money.
    record : (8760, RECORD) array
        Of the year.
    solar : SolarYear
        What solar brings in it.

    Returns
    -------
    list of (Alternative, FuelYear, bool)
        The own heater first, where there is one with a price. None where solar brings no heat:
        nobody would buy another heater for that.
    """
    if solar.heat <= 0.0:
        return []
    money = job.money
    ways = [(other, fuel_year(money, other, record), False) for other in money.alternatives]
    if (own := own_alternative(job)) is not None:
        ways.insert(0, (own, own_fuel(money, own, record), True))
    return ways


def hold_against(
    job: Job, record: Floats, solar: SolarYear, price: OfferPrice | None, sure: Sureness
) -> tuple[Against, ...]:
    """Hold solar against the own heater and each alternative of a job.

    Parameters
    ----------
    job : Job
        Its heater and its money.
    record : (8760, RECORD) array
        Of the year.
    solar : SolarYear
        What solar brings and takes in it.
    price : OfferPrice or None
        What is asked for solar.
    sure : Sureness
        Of the year.

    Returns
    -------
    tuple of Against
        The own heater first, where there is one with a price, then in the order of the job.
    """
    money = job.money
    believed = believed_years(solar, sure.outcomes, float(record[:, PUMP_ENERGY].sum()))
    found = []
    for alternative, fuel, is_own in other_ways(job, record, solar):
        judged = worth(money, solar, alternative, fuel, price)
        span = money_range(money, (solar, believed), alternative, fuel, price)
        found.append(Against(alternative, fuel, judged, span, is_own))
    return tuple(found)
