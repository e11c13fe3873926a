"""What electricity costs by the hour: windows, seasons, kinds of day, tiers of monthly use."""

from __future__ import annotations

import numpy as np

from noonwater.climate.weather_year import month_of_hour
from noonwater.design.doubts import Floats
from noonwater.model.money import Money, Tier
from noonwater.model.when import minutes_between

TYPICAL_WEEK = 5.0 / 7.0
"""[-] Share of weekdays in a year of no certain calendar; holidays are not told apart."""


def hourly_prices(money: Money, weekday: Floats | float = TYPICAL_WEEK) -> Floats:
    """Price of electricity in each hour of the year, below the first tier.

    Parameters
    ----------
    money : Money
        The tariff; its clock is that of the pump's program.
    weekday : float or (8760,) array
        Share of each hour that is of a weekday: 5/7 through a typical year, where no hour has a
        day of the week; 0 or 1 in a real one. [-]

    Returns
    -------
    (8760,) array
        Mean over the hour's minutes. [currency/J]
    """
    by_minute = np.full((2, 12, 24 * 60), money.electricity)
    # Backwards, so that of two windows that hold at once the first in the file counts.
    for window in reversed(money.windows):
        minutes = np.array(minutes_between(window.start, window.stop))
        months = np.array(window.months) - 1
        for kind, name in enumerate(("weekends", "weekdays")):
            if window.days in ("all days", name):
                by_minute[kind][np.ix_(months, minutes)] = window.price
    by_hour = by_minute.reshape(2, 12, 24, 60).mean(axis=3)
    month = month_of_hour()
    hour = np.arange(len(month)) % 24
    weekend, week = by_hour[:, month, hour]
    return np.asarray(weekend + weekday * (week - weekend))


def electricity_cost(
    money: Money,
    use: Floats,
    *,
    below: Floats | None = None,
    weekday: Floats | float = TYPICAL_WEEK,
) -> Floats:
    """Cost of some use of electricity, on top of what the house uses anyway.

    Parameters
    ----------
    money : Money
        The tariff, and the house's other use by month.
    use : (8760,) array
        Electricity of each hour, even over the hour. [J]
    below : (8760,) array, optional
        Further use that comes before it in the tiers, such as the pump's without solar. [J]
    weekday : float or (8760,) array
        As of `hourly_prices`. [-]

    Returns
    -------
    (12,) array
        By month; what is paid without any use is not in it. [currency]
    """
    month = month_of_hour()
    prices = hourly_prices(money, weekday)
    cost = np.bincount(month, weights=use * prices, minlength=12).astype(float)
    if not money.tiers:
        return cost
    base = np.array(money.house_use)
    if below is not None:
        base = base + np.bincount(month, weights=below, minlength=12)
    top = np.asarray(base + np.bincount(month, weights=use, minlength=12), float)
    return cost + _tier_cost(money.tiers, top) - _tier_cost(money.tiers, base)


def _tier_cost(tiers: tuple[Tier, ...], use: Floats) -> Floats:
    """What the tiers add to each month's use. [currency]."""
    added = np.zeros(12)
    for month in range(12):
        held = sorted((t for t in tiers if month + 1 in t.months), key=lambda tier: tier.above)
        ends = [tier.above for tier in held[1:]] + [np.inf]
        for tier, end in zip(held, ends, strict=False):
            added[month] += tier.adds * max(0.0, min(float(use[month]), end) - tier.above)
    return added
