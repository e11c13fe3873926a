"""What is offered to an owner: options with their years and prices, held against other heat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.job_file import read_job
from noonwater.app.job_option import read_option
from noonwater.app.price_list import PriceList, read_price_list
from noonwater.app.study import run_year
from noonwater.core.errors import Fault, InputError, NoonwaterError
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.money_offer import OfferPrice
    from noonwater.design.money_parts import PriceRow, Pricing
    from noonwater.design.offering import Change, Offering, OfferOption
    from noonwater.design.parts_row import PartRow
    from noonwater.design.sure import Sureness
    from noonwater.year.result import YearResult

MOST_TOLD = 2
"""Options that may be told beside the design."""


@dataclass(frozen=True)
class OfferSource:
    """What an offer is made from beside the job.

    Attributes
    ----------
    folder : Path or None
        Where the price list that the job names is looked for; None: no list counts.
    told : tuple of (str, Job)
        Options as they were asked for; the rule makes them where empty.
    tax : float
        Sales tax of the contractor's profile, where the job tells none. [-]
    listed : PriceList or None
        A price list that counts instead of the one that the job names.
    """

    folder: Path | None = None
    told: tuple[tuple[str, Job], ...] = field(default=())
    tax: float = 0.0
    listed: PriceList | None = None


def offer_source(
    path: Path | str, options: Sequence[str], prices: Path | str | None = None
) -> OfferSource:
    """Look beside a job file for what its offer is made from.

    Parameters
    ----------
    path : Path or str
        The job file.
    options : sequence of str
        "field=value; field=value", at most two: what is offered beside the job.
    prices : Path or str, optional
        A price list that counts instead of the one that the job names.

    Raises
    ------
    InputError
        With every fault of an option, for too many, or for a price list that can't be read.
    """
    if len(options) > MOST_TOLD:
        allowed = f"at most {MOST_TOLD}: a proposal holds three in all"
        raise InputError([Fault("--with", f"{len(options)} options", allowed, "leave some out")])
    told = tuple((option, read_option(path, option)) for option in options)
    listed = None if prices is None else read_price_list(prices, read_job(path).money.currency)
    return OfferSource(Path(path).parent, told, listed=listed)


def study_offering(job: Job, year: YearResult, sure: Sureness, source: OfferSource) -> Offering:
    """Study what is offered.

    Parameters
    ----------
    job : Job
        With its pump speeds found.
    year : YearResult
        Of the job.
    sure : Sureness
        Of the year.
    source : OfferSource
        Price list, options, tax.

    Returns
    -------
    Offering

    Raises
    ------
    InputError
        When the price list can't be read.
    """
    from noonwater.design.money_against import hold_against
    from noonwater.design.offering import Offering
    from noonwater.hydraulics.speeds import with_speeds

    rows = _rows(job, source)
    options = [_option("as designed", "", _taxed(job, source), rows, year)]
    for change, told, variant in _variants(job, source):
        try:
            ready = _taxed(with_speeds(variant, variant.pool.target), source)
            option = _option(change, told, ready, rows)
            options.append(replace(option, new_cover=_new_cover(job, variant)))
        except NoonwaterError:
            if told:
                raise
    designed = options[0]
    pricing = None if rows is None else _pricing(job, rows)
    against = hold_against(designed.job, year.record, designed.solar, designed.price, sure)
    return Offering(tuple(options), pricing, against, _days(job, year, with_solar=False))


def _rows(job: Job, source: OfferSource) -> tuple[PriceRow, ...] | None:
    if source.listed is not None:
        return source.listed.rows
    file = job.money.offer.file
    if source.folder is None or not file:
        return None
    return read_price_list(source.folder / file, job.money.currency).rows


def _taxed(job: Job, source: OfferSource) -> Job:
    offer = job.money.offer
    if offer.sales_tax or not source.tax:
        return job
    offer = replace(offer, sales_tax=source.tax)
    return replace(job, money=replace(job.money, offer=offer))


def _variants(job: Job, source: OfferSource) -> Sequence[tuple[Change, str, Job]]:
    from noonwater.design.offering import usual_options

    if source.told:
        return [("told", text, variant) for text, variant in source.told]
    return [(change, "", variant) for change, variant in usual_options(job)]


def _new_cover(job: Job, variant: Job) -> bool:
    kind = variant.pool.cover.kind
    return kind not in ("none", job.pool.cover.kind)


def _pricing(job: Job, rows: Sequence[PriceRow]) -> Pricing:
    from noonwater.design.money_parts import bought, price_parts
    from noonwater.design.parts_list import parts_list

    return price_parts(bought(parts_list(job)), rows)


def _option(
    change: Change,
    told: str,
    job: Job,
    rows: Sequence[PriceRow] | None,
    year: YearResult | None = None,
) -> OfferOption:
    from noonwater.design.money_savings import solar_year
    from noonwater.design.offering import OfferOption

    year = run_year(job) if year is None else year
    price, unpriced = _price(change, job, rows)
    days = _days(job, year, with_solar=True)
    solar = solar_year(job.money, year.record)
    return OfferOption(change, told, job, price, unpriced, year, days, solar)


def _price(
    change: Change, job: Job, rows: Sequence[PriceRow] | None
) -> tuple[OfferPrice | None, tuple[PartRow, ...]]:
    """Price by the list; a price told whole is for the design alone."""
    from noonwater.design.money_offer import built_price, told_price

    if rows is None:
        return (told_price(job.money.offer) if change == "as designed" else None), ()
    pricing = _pricing(job, rows)
    price = built_price(job.money.offer, pricing.cost, pricing.hours)
    return price, tuple(each.part for each in pricing.unpriced)


def _days(job: Job, year: YearResult, *, with_solar: bool) -> int:
    from noonwater.design.size_year import days_at_target
    from noonwater.year.calendar import season_of_step

    season = season_of_step(job.pool.opens, job.pool.closes, 1).reshape(365, 24)[:, 0]
    pool = year.pool if with_solar else year.pool_without_solar
    return days_at_target(pool, job.pool.target, season)
