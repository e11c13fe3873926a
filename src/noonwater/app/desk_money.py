"""A job's money on the desk: price, savings and payback, following each edit."""

from __future__ import annotations

from functools import lru_cache

from noonwater.app.desk import View, studied
from noonwater.app.desk_prices import price_file_of, price_list_of, read_kept
from noonwater.app.money_plain import Held, PlainMoney, plain_money
from noonwater.app.money_tables import priced_parts
from noonwater.app.shelf import Kept
from noonwater.core.errors import InputError, NoonwaterError
from noonwater.model.job import Job


def money_of(view: View) -> PlainMoney | None:
    """Tell what a job costs and saves; None where there is no year.

    A price list that can't be read leaves the price out; `price_trouble` says why.
    """
    return money_with(view.job, price_file_of(view))


def money_with(job: Job, kept: Kept | None) -> PlainMoney | None:
    """Tell what a job costs and saves with a price list that is kept; None without a year."""
    return _money(job) if kept is None else _money(job, kept.name, kept.body)


def price_trouble(view: View) -> str:
    """Say why the price list that a job names can't be used; "" where it can."""
    try:
        price_list_of(view)
    except InputError as error:
        return str(error)
    return ""


def told_first(money: PlainMoney) -> Held | None:
    """What solar is held against in one line: the own heater, or where it pays back soonest.

    None where there is no own heater and solar pays back against nothing.
    """
    own = next((held for held in money.held if held.own), None)
    if own is not None:
        return own
    paid = [held for held in money.held if held.worth.payback_discounted is not None]
    return min(paid, key=lambda held: held.worth.payback_discounted or 0.0, default=None)


def owner_pays(job: Job, money: PlainMoney) -> float | None:
    """What is left of the price when every incentive has come; None without a price."""
    if money.price is None:
        return None
    total = money.price.total
    return total - sum(amount for _, _, amount in incentives_of(job, total))


def incentives_of(job: Job, total: float) -> list[tuple[str, int, float]]:
    """Tell what each incentive brings of a price: its name, after how many years, how much."""
    from noonwater.design.money_offer import received

    return [(each.name, each.year, amount) for each, amount in received(job.money, total)]


def priced_parts_csv(view: View) -> str:
    """Give the job's parts with the prices found, to be filled in and brought in again."""
    from noonwater.design.money_parts import bought
    from noonwater.design.parts_list import parts_list

    money = money_of(view)
    if money is None:
        return priced_parts(view.job, bought(parts_list(view.job)), None)
    return priced_parts(view.job, money.parts, money.pricing)


@lru_cache(maxsize=24)
def _money(job: Job, name: str = "", body: bytes = b"") -> PlainMoney | None:
    year = studied(job).year
    if year is None:
        return None
    try:
        listed = read_kept(name, body, job.money.currency) if name else None
    except InputError:
        listed = None
    try:
        return plain_money(job, listed, year)
    except NoonwaterError:
        return None
