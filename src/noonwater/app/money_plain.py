"""A job's money without its ranges: quick enough to follow each edit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.app.price_list import PriceList
    from noonwater.design.money_offer import OfferPrice
    from noonwater.design.money_parts import Pricing
    from noonwater.design.money_savings import FuelYear, SolarYear, Worth
    from noonwater.design.parts_row import PartRow
    from noonwater.model.money import Alternative
    from noonwater.year.parameters import Floats
    from noonwater.year.result import YearResult


@dataclass(frozen=True)
class Held:
    """Solar held against one other way to the same warm water.

    Attributes
    ----------
    alternative : Alternative
        The other heater.
    fuel : FuelYear
        What it takes for the heat that solar brings; of the own heater what solar saves it.
    worth : Worth
        Of solar against it.
    own : bool
        Whether it is the job's own heater, alone and beside solar.
    """

    alternative: Alternative
    fuel: FuelYear
    worth: Worth
    own: bool


@dataclass(frozen=True, eq=False)
class PlainMoney:
    """What a job costs and saves in the year as designed.

    Attributes
    ----------
    price : OfferPrice or None
        None where neither the job nor a price list gives one.
    parts : tuple of PartRow
        What is bought.
    pricing : Pricing or None
        Parts priced; None without a price list.
    listed : PriceList or None
        The price list.
    solar : SolarYear
        What solar brings and takes in a year.
    held : tuple of Held
        The own heater first, where there is one with a price, then in the order of the job.
    nothing : Worth
        Of solar against doing nothing, whose heat is free.
    days : int
        More at the target in the open season. [d]
    cost_of_heat : float or None
        Level, in today's money; None without a price or heat. [currency/J]
    """

    price: OfferPrice | None
    parts: tuple[PartRow, ...]
    pricing: Pricing | None
    listed: PriceList | None
    solar: SolarYear
    held: tuple[Held, ...]
    nothing: Worth
    days: int
    cost_of_heat: float | None


def plain_money(job: Job, listed: PriceList | None, year: YearResult) -> PlainMoney:
    """Tell what a job costs and saves in the year as designed.

    Parameters
    ----------
    job : Job
        With the offer as it was asked for.
    listed : PriceList or None
        A price list that counts.
    year : YearResult
        Its year.
    """
    from noonwater.design.money_parts import bought
    from noonwater.design.money_savings import (
        against_nothing,
        cost_of_heat,
        days_gained,
        solar_year,
    )
    from noonwater.design.parts_list import parts_list

    parts, pool = bought(parts_list(job)), job.pool
    pricing, price = _priced(job, parts, listed)
    solar = solar_year(job.money, year.record)
    return PlainMoney(
        price=price,
        parts=parts,
        pricing=pricing,
        listed=listed,
        solar=solar,
        held=_held(job, year.record, solar, price),
        nothing=against_nothing(job.money, solar, price),
        days=days_gained(year.record, pool.target, pool.opens, pool.closes),
        cost_of_heat=None if price is None else cost_of_heat(job.money, solar, price),
    )


def _priced(
    job: Job, parts: tuple[PartRow, ...], listed: PriceList | None
) -> tuple[Pricing | None, OfferPrice | None]:
    from noonwater.design.money_offer import built_price, told_price
    from noonwater.design.money_parts import price_parts

    offer = job.money.offer
    if listed is None:
        return None, told_price(offer)
    pricing = price_parts(parts, listed.rows)
    return pricing, built_price(offer, pricing.cost, pricing.hours)


def _held(job: Job, record: Floats, solar: SolarYear, price: OfferPrice | None) -> tuple[Held, ...]:
    from noonwater.design.money_against import other_ways
    from noonwater.design.money_savings import worth

    return tuple(
        Held(other, fuel, worth(job.money, solar, other, fuel, price), is_own)
        for other, fuel, is_own in other_ways(job, record, solar)
    )
