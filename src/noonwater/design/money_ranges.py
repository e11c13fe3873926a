"""How sure the money is: each belief about the year judged, and the ranges read off."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from noonwater.design.doubts import Floats
from noonwater.design.money_offer import OfferPrice
from noonwater.design.money_savings import FuelYear, SolarYear, Worth, worth
from noonwater.design.sure import HIGH, LOW, Outcomes, Range, range_of
from noonwater.model.money import Alternative, Money

LEFT_OUT = (
    "prices and how they rise, the life of the panels, wear, and whether the owner heats as much"
    " with another heater"
)
"""What the ranges of money don't hold, beside what the year's own leave out."""


@dataclass(frozen=True)
class MoneyRange:
    """Ranges of what solar is worth against one alternative.

    Attributes
    ----------
    saved : Range
        In the first year. [currency]
    net_present_value : Range or None
        None without a price. [currency]
    payback_low, payback_high : float or None
        Discounted, ends of the range; None where it isn't within its life. [year]
    """

    saved: Range
    net_present_value: Range | None
    payback_low: float | None
    payback_high: float | None


def believed_years(solar: SolarYear, outcomes: Outcomes, pump_energy: float) -> list[SolarYear]:
    """Give what solar brings and takes in each belief.

    Parameters
    ----------
    solar : SolarYear
        Of the year as designed.
    outcomes : Outcomes
        Of the beliefs.
    pump_energy : float
        Of the year as designed, the program's in it. [J]

    Returns
    -------
    list of SolarYear
        Electricity beyond the designed year's at its mean price.
    """
    carbon = solar.carbon / solar.pump_energy if solar.pump_energy else 0.0
    found = []
    for heat, energy in zip(outcomes.solar_heat, outcomes.pump_energy, strict=True):
        more = float(energy) - pump_energy
        found.append(
            replace(
                solar,
                heat=float(heat),
                pump_energy=solar.pump_energy + more,
                pump_cost=solar.pump_cost + more * solar.pump_price,
                carbon=solar.carbon + more * carbon,
            )
        )
    return found


def money_range(
    money: Money,
    years: tuple[SolarYear, list[SolarYear]],
    alternative: Alternative,
    fuel: FuelYear,
    price: OfferPrice | None,
) -> MoneyRange:
    """Judge solar against one alternative in each belief.

    Parameters
    ----------
    money : Money
        Incentives and terms.
    years : tuple of (SolarYear, list of SolarYear)
        As designed, and in each belief.
    alternative : Alternative
        The other heater.
    fuel : FuelYear
        What it takes for the designed year's heat; in a belief as much more as there is more heat.
    price : OfferPrice or None
        What is asked for solar.

    Returns
    -------
    MoneyRange
    """
    designed, believed = years
    judged = []
    for solar in believed:
        share = solar.heat / designed.heat if designed.heat else 0.0
        scaled = FuelYear(fuel.energy * share, fuel.cost * share, fuel.carbon * share)
        judged.append(worth(money, solar, alternative, scaled, price))
    low, high = _payback_ends(judged)
    return MoneyRange(
        saved=range_of(np.array([each.saved for each in judged])),
        net_present_value=None if price is None else range_of(_values(judged)),
        payback_low=low,
        payback_high=high,
    )


def _values(judged: list[Worth]) -> Floats:
    values = [each.net_present_value for each in judged]
    return np.array([value for value in values if value is not None])


def _payback_ends(judged: list[Worth]) -> tuple[float | None, float | None]:
    """Ten and ninety per cent points, where some beliefs may never pay back."""
    never = float("inf")
    years = np.array(
        [never if each.payback_discounted is None else each.payback_discounted for each in judged]
    )
    ends = np.quantile(years, [LOW, HIGH], method="nearest")
    low, high = (float(end) if np.isfinite(end) else None for end in ends)
    return low, high
