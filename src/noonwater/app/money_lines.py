"""A job's money in words, as a contractor reads it to an owner."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from noonwater.app.money_shape import ESTIMATE, HOUR, KWH, NOT_COUNTED
from noonwater.app.money_study import MoneyStudy
from noonwater.app.text import folded, number, table, wrapped
from noonwater.core import digits
from noonwater.core.units import System, show
from noonwater.design.rule import counted

if TYPE_CHECKING:
    from noonwater.design.money_against import Against
    from noonwater.design.money_savings import Worth
    from noonwater.design.sure import Range
    from noonwater.model.money import Terms

CAUTIONS = (
    "Whether an incentive is granted, those who grant it say. A gas heater is for a licensed"
    " fitter, a heat pump and an electric heater for a licensed electrician; local code decides."
)
CARBON_SOURCE = (
    "carbon of gas and propane 40 CFR 98 table NN-1, of electricity as told or 0.37 kg/kWh (mean of"
    " the United States, from memory)"
)
OWN_TERMS = (
    "the own heater alone holds its set point in its months; beside solar it takes less, and part"
    " of solar's heat keeps the pool warmer than that"
)
NAMES = {
    "gas": "a gas heater",
    "propane": "a propane heater",
    "electric": "an electric heater",
    "heat pump": "a heat pump",
}


def money_lines(study: MoneyStudy, system: System) -> list[str]:
    """Tell price, year, savings, assumptions and what is left out."""
    job = study.job
    return [
        f"Money: {job.name}. This is {ESTIMATE}.",
        "",
        *_price_lines(study),
        "",
        *_year_lines(study, system),
        "",
        *_against_lines(study),
        "",
        *_sentences(study),
        *_terms(study),
        "",
        *wrapped(CAUTIONS, ""),
    ]


def about(value: float) -> str:
    """Print an estimate with three digits that count at most."""
    return number(digits.about(value), 0 if abs(value) >= 10.0 or not value else 2)


def _span(found: Range) -> str:
    return f"{about(found.low)} to {about(found.high)}"


def _price_lines(study: MoneyStudy) -> list[str]:
    from noonwater.design.money_offer import received

    price, currency = study.plain.price, study.job.money.currency
    if price is None:
        return ["Price: none is given."]
    rows = []
    if not price.told:
        labour = f"labour, {number(price.hours / HOUR, 1)} h"
        lines = [("parts", price.parts), (labour, price.labour),
                 ("overhead and profit", price.overhead), ("sales tax", price.tax)]  # fmt: skip
        rows = [[name, number(value)] for name, value in lines if value]
    rows.append(["price", number(price.total)])
    left = price.total
    for incentive, amount in received(study.job.money, price.total):
        years = "1 year" if incentive.year == 1 else f"{incentive.year} years"
        when = "at once" if incentive.year == 0 else f"after {years}"
        rows.append([f"{incentive.name}, {when}", number(-amount)])
        left -= amount
    if study.job.money.incentives:
        rows.append(["the owner pays", number(left)])
    return [*table([["Price", currency]], rows), *_list_lines(study)]


def _list_lines(study: MoneyStudy) -> Iterator[str]:
    """Say of each part and row what became of it where that isn't plain."""
    listed, pricing = study.plain.listed, study.plain.pricing
    if listed is None or pricing is None:
        return
    notes = "".join(f"; {note}" for note in listed.notes)
    yield ""
    yield from wrapped(
        f"Price list {listed.source}: {len(listed.rows)} rows read, {len(pricing.priced)} used"
        f" here{notes}.", "  ",
    )  # fmt: skip
    for part in pricing.unpriced:
        near = f"; near: {', '.join(part.near)}" if part.near else ""
        yield from wrapped(f"  without price: {part.part.name}, {part.why}{near}", "    ")
    for fault in listed.faults:
        yield from wrapped(f"  row {fault.line} not used: {fault.text}: {fault.why}", "    ")


def _year_lines(study: MoneyStudy, system: System) -> list[str]:
    job, solar, currency = study.job, study.plain.solar, study.job.money.currency
    upkeep = job.money.terms.maintenance
    target = show(job.pool.target, "temperature", system, 0)
    more = solar.pump_energy >= 0.0
    text = (
        f"In a year solar brings {about(solar.heat / KWH)} kWh to the pool"
        f" ({_span(_in_kwh(study.sure.solar_heat))} in four cases of five) and"
        f" {counted(study.plain.days, 'more day')} at {target} in the open season. The pump takes"
        f" {about(abs(solar.pump_energy) / KWH)} kWh {'more' if more else 'less'} for it,"
        f" {about(abs(solar.pump_cost))} {currency}"
        + (f", and upkeep is {about(upkeep)} {currency}." if upkeep else ".")
    )
    cost = study.plain.cost_of_heat
    if cost is not None:
        text += (
            f" A kWh of solar heat costs {number(cost * KWH, 3)} {currency} in today's money, the"
            f" price spread over {counted(job.money.terms.life, 'year')}."
        )
    return wrapped(text, "")


def _in_kwh(found: Range) -> Range:
    from noonwater.design.sure import Range

    return Range(found.low / KWH, found.middle / KWH, found.high / KWH)


def _against_lines(study: MoneyStudy) -> list[str]:
    money = study.job.money
    life, currency = money.terms.life, money.currency
    over = counted(life, "year")
    heads = [
        ["", "takes", "costs", "solar saves", "four cases", "pays back", "gain over", "CO2"],
        ["Against", "in a year", "in a year", "in year 1", "of five", "after", over,
         "saved"],
        ["", "kWh", currency, currency, currency, "years", currency, "kg/year"],
    ]  # fmt: skip
    solar, nothing = study.plain.solar, study.plain.nothing
    pays, gain = _pays_and_gain(nothing, life)
    left = ["doing nothing", "0", "0", about(nothing.saved), "", pays, gain, about(-solar.carbon)]
    rows = [left]
    rows += [_against_row(each, life) for each in study.against]
    return table(heads, rows)


def _against_row(each: Against, life: int) -> list[str]:
    worth = each.worth
    return [
        "own heater, saved" if each.own else each.alternative.kind,
        about(each.fuel.energy / KWH),
        about(each.fuel.cost),
        about(worth.saved),
        _span(each.span.saved),
        *_pays_and_gain(worth, life),
        about(worth.carbon),
    ]


def _pays_and_gain(worth: Worth, life: int) -> tuple[str, str]:
    """Years to payback and what is won over the life; neither without a price."""
    years, value = worth.payback_discounted, worth.net_present_value
    if value is None:
        return "", ""
    if years is None:
        return "never" if worth.saved <= 0.0 else f"over {life}", about(value)
    return number(years, 1) if years else "at once", about(value)


def _sentences(study: MoneyStudy) -> list[str]:
    life, currency = study.job.money.terms.life, study.job.money.currency
    told = [
        line for each in study.against for line in wrapped(_sentence(each, life, currency), "  ")
    ]
    return [*told, ""] if told else []


def _sentence(each: Against, life: int, currency: str) -> str:
    """Tell an owner what solar is worth against one alternative."""
    worth, name = each.worth, NAMES[each.alternative.kind]
    beside = f"Against {name} that keeps the pool as warm"
    if each.own:
        beside = "With the own heater kept at its set point and solar ahead of it"
    amount = f"{about(abs(worth.saved))} {currency}"
    text = f"{beside}, solar saves about {amount} in the first year"
    if worth.saved < 0.0:
        text = f"{beside}, solar takes about {amount} more than it saves in the first year"
    if worth.net_present_value is None:
        most = worth.price_at_most
        return f"{text}; it may cost up to {about(most)} {currency}." if most > 0.0 else f"{text}."
    if worth.payback_discounted is None and worth.saved <= 0.0:
        return f"{text} and does not return its price."
    text += f". {_price_words(each, name)} {_comes_back(worth.payback_discounted, life)};"
    text += f" {_cases(each, life)}."
    rate = worth.rate_of_return
    if rate is None:
        return text
    return f"{text} It {'earns' if rate >= 0.0 else 'loses'} {100 * abs(rate):.0f} % a year."


def _price_words(each: Against, name: str) -> str:
    """Set the price beside what is saved, or beside the heater that is spared."""
    spares, times = bool(each.alternative.installed), each.worth.payback_simple
    after = "With interest and rising prices it"
    if not times:
        why = f"no more than that of {name} it spares" if spares else "nothing"
        return f"Its price is {why}. {after}"
    spared = f", less that of {name} it spares," if spares else ""
    return f"Its price{spared} is {number(times, 1 if times < 100.0 else 0)} times that. {after}"


def _comes_back(years: float | None, life: int) -> str:
    if years is None:
        return f"does not come back within {counted(life, 'year')}"
    return f"comes back after {number(years, 1)} years" if years else "pays from the first day"


def _cases(each: Against, life: int) -> str:
    """How sure the payback is."""
    low, high = each.span.payback_low, each.span.payback_high
    if low is None:
        return "nor does it in four cases of five"
    if high is None:
        best = f"after {number(low, 1)} years" if low else "from the first day"
        return f"at best {best}, at worst not within {life}"
    if not high:
        return "so it does in four cases of five"
    return f"in four cases of five after {number(low, 1)} to {number(high, 1)} years"


def _terms(study: MoneyStudy) -> list[str]:
    from noonwater.design.money_ranges import LEFT_OUT
    from noonwater.design.money_savings import electricity_rise

    money = study.job.money
    terms = money.terms
    rise = electricity_rise(terms)
    parts = [
        f"{counted(terms.life, 'year')} of service",
        f"money earns {_percent(terms.discount_rate)} a year elsewhere",
        f"prices rise by {_percent(terms.inflation)} a year, electricity by {_percent(rise)}",
        f"the pump's electricity costs {number(study.plain.solar.pump_price * KWH, 3)}"
        f" {money.currency} a kWh on the mean",
        *(_alternative_terms(each, terms, money.currency) for each in study.against),
        *(OWN_TERMS for each in study.against if each.own),
        "the other heater brings the heat that solar brings, hour by hour, and is never too small",
    ]
    left = [study.sure.weather_left_out and f"weather from year to year, for"
            f" {study.sure.weather_left_out}", LEFT_OUT]  # fmt: skip
    return [
        *wrapped(folded("Assumed", parts), "  "),
        *wrapped(folded("Not in the ranges", left), "  "),
        *wrapped(folded("Not counted", NOT_COUNTED), "  "),
        *wrapped(
            folded(
                "Sources",
                [
                    f"weather {study.year.weather.source}",
                    CARBON_SOURCE,
                    f"inputs {study.year.inputs_hash}",
                ],
            ),
            "  ",
        ),
    ]


def _percent(share: float) -> str:
    return f"{100 * share:.3g} %"


def _alternative_terms(each: Against, terms: Terms, currency: str) -> str:
    from noonwater.design.money_savings import energy_rise

    alternative, fuel = each.alternative, each.fuel
    price = fuel.cost / fuel.energy * KWH if fuel.energy else 0.0
    if each.own:
        return (
            f"the own heater's energy at {number(price, 3)} {currency} a kWh, the pump that it"
            f" calls counted in, rising by {_percent(energy_rise(alternative, terms))}"
        )
    how = f"{_percent(alternative.heat_yield)} of its energy in the water"
    if alternative.kind == "heat pump":
        how = f"a COP of {alternative.heat_yield:.3g}"
    bought = f", bought for {number(alternative.installed)}" if alternative.installed else ""
    return (
        f"{NAMES[alternative.kind]} with {how}, at {number(price, 3)} {currency} a kWh rising by"
        f" {_percent(energy_rise(alternative, terms))}{bought}"
    )
