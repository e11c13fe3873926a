"""A job's price list on the desk: taken in, kept with the job, read."""

from __future__ import annotations

import re
import tempfile
from functools import lru_cache
from pathlib import Path

from noonwater.app.demos import FOLDER
from noonwater.app.desk import View
from noonwater.app.price_file import LARGEST
from noonwater.app.price_list import PriceList, read_price_list
from noonwater.app.shelf import Kept, Shelf
from noonwater.core.errors import Fault, InputError

PRICES = "prices"
"""Kind of thing on the shelf."""


def price_file_of(view: View) -> Kept | None:
    """Give the price list that a job names; None where it names none or it was not taken in."""
    name = Path(view.job.money.offer.file).name
    if not name:
        return None
    kept = view.shelf.kept(view.state.job, PRICES) if view.shelf else []
    found = next((each for each in kept if each.name == name), None)
    if found is None and name in _demo_lists():
        return Kept(name, "", (FOLDER / name).read_bytes())
    return found


def price_list_of(view: View) -> PriceList | None:
    """Read the price list that a job names.

    Raises
    ------
    InputError
        Where it can't be read, or was not taken in.
    """
    if not view.job.money.offer.file:
        return None
    found = price_file_of(view)
    if found is None:
        raise InputError(
            [
                Fault(
                    "money.offer.file",
                    f"'{view.job.money.offer.file}' is not kept with this job",
                    "a price list that was brought in here",
                    "bring it in on the sheet Money",
                )
            ]
        )
    return read_kept(found.name, found.body, view.job.money.currency)


def take_prices(shelf: Shelf, job: str, name: str, body: bytes, currency: str) -> str:
    """Keep a price list with a job, once it can be read.

    Parameters
    ----------
    shelf : Shelf
        Of the store.
    job : str
        Id.
    name : str
        Of the file.
    body : bytes
        CSV or XLSX.
    currency : str
        Of the job.

    Returns
    -------
    str
        Its name on the shelf, for ``money.offer.file``.

    Raises
    ------
    InputError
        Where it can't be read.
    """
    if len(body) > LARGEST:
        fault = Fault("price list", f"larger than {LARGEST // 1000} kB", "a smaller one")
        raise InputError([fault])
    plain = re.sub(r"[^\w.-]+", "-", Path(name.replace("\\", "/")).name).strip("-.")[:80]
    plain = plain or "prices.csv"
    read_kept(plain, body, currency)
    shelf.keep(job, PRICES, plain, body)
    return plain


@lru_cache(maxsize=8)
def read_kept(name: str, body: bytes, currency: str) -> PriceList:
    """Read a price list that is kept; parameters as of `take_prices`."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(body)
        try:
            return read_price_list(path, currency)
        except InputError as error:
            # The folder is gone when this is read: only the file's name says anything.
            raise InputError(error.faults, name) from None


@lru_cache(maxsize=1)
def _demo_lists() -> frozenset[str]:
    return frozenset(path.name for path in FOLDER.glob("*.csv"))
