"""What the owner pays: parts, labour, overhead, tax, less incentives."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.model.money import Incentive, Money, Offer


@dataclass(frozen=True)
class OfferPrice:
    """A price and what it is made of, before incentives.

    Attributes
    ----------
    parts, labour, overhead, tax, total : float
        [currency]; a price told whole has no parts of it.
    hours : float
        Of labour. [s]
    told : bool
        Whether the price is told whole, tax in it.
    """

    total: float
    parts: float = 0.0
    hours: float = 0.0
    labour: float = 0.0
    overhead: float = 0.0
    tax: float = 0.0
    told: bool = False


def told_price(offer: Offer) -> OfferPrice | None:
    """Give a price told whole; None where it isn't."""
    return None if offer.installed is None else OfferPrice(offer.installed, told=True)


def built_price(offer: Offer, parts: float, hours: float) -> OfferPrice:
    """Make a price of parts and labour.

    Parameters
    ----------
    offer : Offer
        Labour rate, further hours, overhead, tax.
    parts : float
        Of all parts, without tax. [currency]
    hours : float
        Of labour that the parts ask for. [s]

    Returns
    -------
    OfferPrice
        Overhead is on parts and labour; tax on what `tax_on` says, overhead in it.
    """
    hours += offer.extra_hours
    labour = hours * (offer.labour_rate or 0.0)
    overhead = offer.overhead * (parts + labour)
    taxed = (parts if offer.tax_on == "parts" else parts + labour) * (1.0 + offer.overhead)
    tax = offer.sales_tax * taxed
    return OfferPrice(parts + labour + overhead + tax, parts, hours, labour, overhead, tax)


def received(money: Money, price: float) -> tuple[tuple[Incentive, float], ...]:
    """Tell what each incentive brings; together never more than the price.

    Parameters
    ----------
    money : Money
        Its incentives, in order.
    price : float
        With tax. [currency]

    Returns
    -------
    tuple of (Incentive, float)
        [currency]
    """
    found, left = [], price
    for incentive in money.incentives:
        amount = min(incentive.received(price), left)
        left -= amount
        found.append((incentive, amount))
    return tuple(found)
