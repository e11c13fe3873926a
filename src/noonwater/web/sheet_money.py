"""Money: prices, what the owner pays, and what the sun is held against."""

from __future__ import annotations

from collections.abc import Iterator

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_money import incentives_of, money_of, owner_pays, price_trouble
from noonwater.app.desk_prices import price_file_of
from noonwater.app.money_lines import CARBON_SOURCE, CAUTIONS, about
from noonwater.app.money_plain import Held, PlainMoney
from noonwater.app.money_shape import ESTIMATE, NOT_COUNTED
from noonwater.web.fields import items, schedule
from noonwater.web.figures import KWH, figure, plain
from noonwater.web.long_element import long_work
from noonwater.web.ruled import ruled
from noonwater.web.sheet import Sheet

HOUR = 3600.0
NEAR = 3
"""So many parts without a price are named."""


def _body(view: View) -> h.Node:
    money = money_of(view)
    return h.fragment[
        h.p["There is no year to count money by: see below what hinders."]
        if money is None
        else _answer(view, money),
        _list_form(view),
        h.div(class_="columns")[
            schedule(view, ("money", "offer"), title="What the owner pays"),
            schedule(view, ("money", "terms"), title="How the years ahead are counted"),
            schedule(view, ("money",), title="Electricity"),
        ],
        items(view, ("money", "alternatives")),
        items(view, ("money", "incentives")),
        items(view, ("money", "windows")),
        items(view, ("money", "tiers")),
        h.p(class_="caution")[CAUTIONS],
    ]


def _answer(view: View, money: PlainMoney) -> h.Node:
    return h.fragment[
        h.section(aria_label="Price and savings")[
            _figures(view, money),
            h.div(class_="side")[_price(view, money), _against(view, money)],
            _assumed(view, money),
        ],
        long_work(view, "money") if money.held else None,
    ]


def _figures(view: View, money: PlainMoney) -> h.Node:
    currency, pays = view.job.money.currency, owner_pays(view.job, money)
    solar = money.solar
    return h.dl(class_="figures")[
        figure("the owner pays", "–" if pays is None else plain(pays), currency),
        figure("solar heat", about(solar.heat / KWH), "kWh a year", kind="heat"),
        figure("more days at the target", plain(money.days), "a year", kind="water"),
        figure("pump, for solar alone", about(solar.pump_cost), f"{currency} a year"),
        figure(
            "a kWh of solar heat",
            "–" if money.cost_of_heat is None else plain(money.cost_of_heat * KWH, 3),
            currency,
        ),
    ]


def _price(view: View, money: PlainMoney) -> h.Node:

    price, currency = money.price, view.job.money.currency
    if price is None:
        return h.p[
            "No price yet: bring a price list in, or type what the system costs, installed. "
            "Without one nothing says when solar pays back."
        ]
    rows = []
    if not price.told:
        labour = f"labour, {plain(price.hours / HOUR, 1)} h"
        lines = [("parts", price.parts), (labour, price.labour)]
        lines += [("overhead and profit", price.overhead), ("sales tax", price.tax)]
        rows = [[name, plain(value)] for name, value in lines if value]
    rows += [["price", plain(price.total)], *_incentives(view, price.total)]
    pays = owner_pays(view.job, money)
    rows.append(["the owner pays", "–" if pays is None else plain(pays)])
    return h.section(class_="item")[
        ruled(["", currency], rows, "Price", [len(rows) - 1]), _unpriced(money)
    ]


def _incentives(view: View, total: float) -> Iterator[list[str]]:
    for name, year, amount in incentives_of(view.job, total):
        when = "at once" if year == 0 else f"after {year} year{'s' if year > 1 else ''}"
        yield [f"{name}, {when}", plain(-amount)]


def _unpriced(money: PlainMoney) -> h.Node:
    if money.pricing is None or not money.pricing.unpriced:
        return None
    missing = money.pricing.unpriced
    names = ", ".join(part.part.name for part in missing[:NEAR])
    more = f" and {len(missing) - NEAR} more" if len(missing) > NEAR else ""
    return h.p(class_="wrong")[
        f"The price is too low by what these cost, which the list has not: {names}{more}."
    ]


def _against(view: View, money: PlainMoney) -> h.Node:
    currency, life = view.job.money.currency, view.job.money.terms.life
    if not money.held:
        return h.p["Nothing is held against solar yet: add other heat below."]
    heads = ["against", f"costs a year, {currency}", f"solar saves in year 1, {currency}",
             "pays back after, years", f"gain over {life} years, {currency}"]  # fmt: skip
    rows = [[*_held_row(held, life)] for held in money.held]
    return h.section(class_="item")[ruled(heads, rows, "What solar saves")]


def _held_row(held: Held, life: int) -> Iterator[str]:
    worth = held.worth
    yield "own heater, saved" if held.own else held.alternative.kind
    yield about(held.fuel.cost)
    yield about(worth.saved)
    priced = worth.net_present_value is not None
    back = worth.payback_discounted
    yield "" if not priced else f"over {life}" if back is None else plain(back, 1)
    yield "" if worth.net_present_value is None else about(worth.net_present_value)


def _assumed(view: View, money: PlainMoney) -> h.Node:
    terms = view.job.money.terms
    told = [
        f"{terms.life} years of service",
        f"money earns {100 * terms.discount_rate:.3g} % a year elsewhere",
        f"prices rise by {100 * terms.inflation:.3g} % a year",
        f"the pump’s electricity costs {plain(money.solar.pump_price * KWH, 3)}"
        f" {view.job.money.currency} a kWh on the mean",
        "the other heater brings the heat that solar brings, hour by hour",
        CARBON_SOURCE,
    ]
    return h.p(class_="note")[
        f"This is {ESTIMATE}. Assumed: {'; '.join(told)}. Not counted: {'; '.join(NOT_COUNTED)}."
    ]


def _list_form(view: View) -> h.Node:
    kept, trouble = price_file_of(view), price_trouble(view)
    money = money_of(view)
    listed = None if money is None else money.listed
    at = f"/jobs/{view.state.job}/prices"
    return h.form(class_="bring", method="post", action=at, enctype="multipart/form-data",
                  data_now=True)[
        h.label(for_="price-list")["Price list (CSV or XLSX)"],
        h.input(id="price-list", name="prices", type="file", accept=".csv,.xlsx", required=True),
        h.button["Bring it in"],
        None if kept is None else h.a(href=f"{at}.csv")["Parts with their prices, to fill in"],
        h.p(class_="wrong", role="status")[trouble] if trouble else None,
        None
        if listed is None
        else h.p(class_="note")[
            f"{listed.source}: {len(listed.rows)} rows read"
            + "".join(f"; row {f.line} not used: {f.text}: {f.why}" for f in listed.faults[:NEAR])
        ],
    ]  # fmt: skip


MONEY = Sheet(
    "money",
    "Money",
    "Price, savings and payback",
    _body,
    ("long-work.js", "now-forms.js"),
    holds=("money",),
)
