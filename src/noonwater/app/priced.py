"""A contractor's prices for the variants of a job."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.price_list import read_price_list
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.money_parts import PriceRow


def price_rows(job: Job, folder: Path, prices: Path | str | None = None) -> tuple[PriceRow, ...]:
    """Read the price list that a job names.

    Parameters
    ----------
    job : Job
        The job.
    folder : Path
        Where the price list that it names is looked for.
    prices : Path or str, optional
        A price list that counts instead.

    Returns
    -------
    tuple of PriceRow
        Empty where there is none: generic prices then count.

    Raises
    ------
    InputError
        Where it can't be read.
    """
    if prices is not None:
        return read_price_list(prices, job.money.currency).rows
    file = job.money.offer.file
    return read_price_list(folder / file, job.money.currency).rows if file else ()
