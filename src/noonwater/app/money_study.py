"""A job's money studied: its price, its year, what it is held against, how sure that is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.money_plain import PlainMoney, plain_money
from noonwater.app.price_list import PriceList, read_price_list
from noonwater.app.study import run_year
from noonwater.app.sureness import sureness_of
from noonwater.core.progress import Told, untold
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.money_against import Against
    from noonwater.design.sure import Sureness
    from noonwater.year.result import YearResult


@dataclass(frozen=True, eq=False)
class MoneyStudy:
    """What a job costs and saves.

    Attributes
    ----------
    job : Job
        With the offer as it was asked for.
    plain : PlainMoney
        Of the year as designed.
    against : tuple of Against
        The own heater first, where there is one with a price, then in the order of the job.
    year : YearResult
        With solar and without.
    sure : Sureness
        Of the year.
    """

    job: Job
    plain: PlainMoney
    against: tuple[Against, ...]
    year: YearResult
    sure: Sureness


def study_money(
    job: Job, folder: Path, prices: Path | str | None = None, told: Told = untold
) -> MoneyStudy:
    """Study what a job costs and saves.

    Parameters
    ----------
    job : Job
        The job.
    folder : Path
        Where the price list that it names is looked for.
    prices : Path or str, optional
        A price list that counts instead of what the job says of its price.
    told : callable, optional
        Is told how far it is.

    Returns
    -------
    MoneyStudy

    Raises
    ------
    InputError
        When the price list or the weather can't be read.
    """
    from noonwater.design.money_against import hold_against

    job, listed = _listed(job, folder, prices)
    year = run_year(job)
    plain = plain_money(job, listed, year)
    sure = sureness_of(job, told)
    against = hold_against(job, year.record, plain.solar, plain.price, sure)
    return MoneyStudy(job, plain, against, year, sure)


def _listed(job: Job, folder: Path, prices: Path | str | None) -> tuple[Job, PriceList | None]:
    offer = job.money.offer
    if prices is not None:
        offer = replace(offer, installed=None, file=str(prices))
        job = replace(job, money=replace(job.money, offer=offer))
        return job, read_price_list(prices, job.money.currency)
    if not offer.file:
        return job, None
    return job, read_price_list(folder / offer.file, job.money.currency)
