"""A contractor's prices for the variants of a job."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.money_findings import list_findings
from noonwater.app.price_list import read_price_list
from noonwater.core.errors import Fault, InputError
from noonwater.core.finding import Finding
from noonwater.core.units import currencies_of
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.money_parts import PriceRow


@dataclass(frozen=True)
class Prices:
    """What variants of a job are priced by.

    Attributes
    ----------
    rows : tuple of PriceRow
        Of the price list; empty where there is none: generic prices then count.
    factor : float
        A price told whole over that of the parts; 1 where a list counts instead. [-]
    findings : tuple of Finding
        Rows of the list that are not used.
    """

    rows: tuple[PriceRow, ...]
    factor: float
    findings: tuple[Finding, ...]


def prices_of(job: Job, folder: Path, prices: Path | str | None = None) -> Prices:
    """Read what a job is priced by.

    Parameters
    ----------
    job : Job
        The job, as it stands.
    folder : Path
        Where the price list that it names is looked for.
    prices : Path or str, optional
        A price list that counts instead of what the job says of its price.

    Returns
    -------
    Prices

    Raises
    ------
    InputError
        Where the list can't be read.
    """
    from noonwater.design.system_price import price_factor

    named = folder / job.money.offer.file if job.money.offer.file else None
    file = named if prices is None else prices
    listed = None if file is None else read_price_list(file, job.money.currency)
    rows = () if listed is None else listed.rows
    factor = price_factor(job, rows) if prices is None else 1.0
    return Prices(rows, factor, tuple(list_findings(listed)))


def refuse_currency(job: Job, option: str, text: str) -> None:
    """Refuse an amount in another currency than the job's.

    Parameters
    ----------
    job : Job
        The job.
    option : str
        Name of the option that was typed.
    text : str
        The amount; "" where none was.

    Raises
    ------
    InputError
        Where it names another.
    """
    if text and job.money.currency not in currencies_of(text):
        allowed = f"the job's currency, {job.money.currency}"
        raise InputError([Fault(option, f"'{text}'", allowed)])
