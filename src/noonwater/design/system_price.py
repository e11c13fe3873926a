"""What any variant of a job costs: the contractor's list first, generic prices for the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

from noonwater.catalog.price import cover_price, generic_prices
from noonwater.design.money_offer import OfferPrice, built_price
from noonwater.design.money_parts import Per, PriceRow, bought, price_parts
from noonwater.design.money_words import part_words
from noonwater.design.parts_list import parts_list
from noonwater.design.parts_row import PartRow
from noonwater.model.job import Job
from noonwater.model.pool import CoverKind

LABOUR_RATE = 65.0 / 3600.0
"""[USD/s] Of one worker where the job tells none: order of magnitude, from memory."""
PER: dict[str, Per] = {"each": "each", "length": "length", "job": "job"}
PANEL_BY_AREA = 48.0
"""[USD/m²] Of a panel without a price of its own, from memory."""


@dataclass(frozen=True)
class SystemPrice:
    """A price and where it comes from.

    Attributes
    ----------
    total : float
        Installed, overhead and tax in it, incentives not taken off. [currency]
    parts : float
        Of it, what the parts cost. [currency]
    hours : float
        Of labour. [s]
    from_memory : float
        Share of the parts' cost that generic prices made. [-]
    unpriced : tuple of str
        Parts that neither list has.
    """

    total: float
    parts: float
    hours: float
    from_memory: float
    unpriced: tuple[str, ...]


def system_price(job: Job, rows: Sequence[PriceRow] = ()) -> SystemPrice:
    """Price a job's system by its parts.

    Parameters
    ----------
    job : Job
        The job, or a variant of it.
    rows : sequence of PriceRow
        The contractor's price list; none where he has told none.

    Returns
    -------
    SystemPrice
        Labour, overhead and tax as the job's offer says.

    Raises
    ------
    InputError
        An edit of the circuit that can't be made.
    """
    pricing = price_parts(bought(parts_list(job)), rows)
    rest = price_parts([each.part for each in pricing.unpriced], _generic(bool(rows)))
    panels = [_by_area(each.part) for each in rest.unpriced if each.part.kind == "panel"]
    generic = rest.cost + sum(panels)
    parts, hours = pricing.cost + generic, pricing.hours + rest.hours
    built = _built(job, parts, hours)
    unpriced = tuple(each.part.name for each in rest.unpriced if each.part.kind != "panel")
    return SystemPrice(
        built.total, parts, built.hours, generic / parts if parts > 0.0 else 0.0, unpriced
    )


def price_factor(job: Job, rows: Sequence[PriceRow] = ()) -> float:
    """What a price told whole is over the parts' price of the same job; 1 where none or 0 is told.

    Parameters
    ----------
    job : Job
        As it stands, which the told price is for.
    rows : sequence of PriceRow
        The contractor's price list.

    Returns
    -------
    float
        Variants of the job are priced by their parts, times this: ours. [-]
    """
    told, parts = job.money.offer.installed, system_price(job, rows).total
    # Nothing for all of it says nothing of what a panel more costs.
    return told / parts if told and parts else 1.0


def cover_cost(job: Job, kind: CoverKind) -> tuple[float, float]:
    """Price of a new cover, and what its renewal costs a year. [currency]."""
    row = cover_price(kind)
    if row is None:
        return 0.0, 0.0
    price = row.price * job.pool.area
    return price, price / row.life


def _built(job: Job, parts: float, hours: float) -> OfferPrice:
    offer = job.money.offer
    rate = LABOUR_RATE if offer.labour_rate is None else offer.labour_rate
    return built_price(replace(offer, labour_rate=rate), parts, hours)


@cache
def _generic(without_job: bool) -> tuple[PriceRow, ...]:
    """Generic prices as rows of a price list; what every job has once is in the contractor's."""
    return tuple(
        PriceRow(
            line=number,
            text=row.name,
            words=part_words(row.name),
            sizes=(row.size,) if row.size else (),
            per=PER[row.per],
            pack=row.pack,
            price=row.price,
            hours=row.hours,
        )
        for number, row in enumerate(generic_prices(), start=1)
        if row.per != "job" or not without_job
    )


def _by_area(part: PartRow) -> float:
    area = part.sizes[0] * part.sizes[1] if len(part.sizes) == 2 else 0.0
    return PANEL_BY_AREA * area * part.quantity
