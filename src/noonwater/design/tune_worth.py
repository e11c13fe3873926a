"""What a unit of heat and a unit of electricity are worth in each hour."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from noonwater.climate.weather_year import month_of_hour
from noonwater.design.doubts import Floats
from noonwater.design.money_own_heater import own_alternative
from noonwater.design.money_tariff import electricity_cost, hourly_prices
from noonwater.model.job import Job
from noonwater.model.money import Alternative
from noonwater.physics.heat_pump import COP_USUAL

NO_HEAT_PRICE = (
    "the job has no price of the heat that solar displaces (money.alternatives, or --heat-price)"
)


@dataclass(frozen=True, eq=False)
class Worth:
    """Prices by the hour.

    Attributes
    ----------
    electricity : (8760,) array
        What a unit more costs, the tier that the house is in counted. [currency/J]
    heat : (8760,) array or None
        What a unit of heat to the pool saves; None where the job has no price of it. [currency/J]
    words : str
        What the heat is valued at, or why it isn't.
    """

    electricity: Floats
    heat: Floats | None
    words: str


def worth_of(job: Job, use: Floats, heat_price: float | None = None) -> Worth:
    """Find the prices by the hour.

    Parameters
    ----------
    job : Job
        Its tariff, its own heater, its alternatives.
    use : (8760,) array
        What the pump draws, which tiers count. [J]
    heat_price : float, optional
        Of the heat itself, told otherwise. [currency/J]

    Returns
    -------
    Worth
    """
    electricity = _marginal(job, use)
    if heat_price is not None:
        return Worth(electricity, np.full(len(use), heat_price), "the price of heat that was told")
    displaced = displaced_by(job)
    if displaced is None:
        return Worth(electricity, None, NO_HEAT_PRICE)
    price = displaced.energy_price
    heat = (electricity if price is None else np.full(len(use), price)) / displaced.heat_yield
    paid = "at the tariff" if price is None else "at its price in the job"
    whose = "" if own_alternative(job) is None else "its own "
    share = f"{100.0 * displaced.heat_yield:.0f} %"
    words = f"what it displaces: {whose}{displaced.kind} {paid}, {share} of it to the water"
    return Worth(electricity, heat, words)


def displaced_by(job: Job) -> Alternative | None:
    """What solar's heat stands in for: the own heater, an alternative of its kind, or the first."""
    own, heater = own_alternative(job), job.heater
    if own is not None:
        yields = {"gas": heater.efficiency, "heat pump": heater.cop or COP_USUAL, "electric": 1.0}
        return replace(own, efficiency=yields[heater.kind])
    alike = (each for each in job.money.alternatives if each.kind in job.pad.heater)
    return next(alike, next(iter(job.money.alternatives), None))


def _marginal(job: Job, use: Floats) -> Floats:
    """Price of one unit more in each hour. [currency/J]."""
    prices = hourly_prices(job.money)
    if not job.money.tiers:
        return prices
    month = month_of_hour()
    # A joule in every hour is too little to reach the next tier and more than a float's last digit.
    little = np.ones(len(use))
    cost = electricity_cost(job.money, little, below=use)
    plain = np.bincount(month, weights=little * prices, minlength=12)
    adds = (cost - plain) / np.bincount(month, weights=little, minlength=12)
    return np.asarray(prices + np.round(adds * 3.6e6, 6)[month] / 3.6e6)
