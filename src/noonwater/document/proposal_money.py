"""Savings, options and prices of a proposal, with what is assumed."""

from __future__ import annotations

from noonwater.core.units import System
from noonwater.design.money_against import Against
from noonwater.design.money_offer import received
from noonwater.design.money_savings import electricity_rise, energy_rise
from noonwater.design.offering import OfferOption
from noonwater.document import block
from noonwater.document.language import Language, digits_set, mark, sentence
from noonwater.document.material import Material
from noonwater.document.part_words import part_words
from noonwater.document.proposal_words import (
    KWH,
    LETTERS,
    about_money,
    about_within,
    heater_words,
    months_words,
    option_words,
)
from noonwater.model.money import PROPANE_HEAT
from noonwater.model.site import WeatherShipped

SAVING = {
    (True, True): mark(
        "The other heater keeps the pool as warm as solar does. The saving is what it would cost, "
        "less what the pump takes more for solar ({pump} a year) and upkeep ({upkeep} a year)."
    ),
    (True, False): mark(
        "The other heater keeps the pool as warm as solar does. The saving is what it would cost, "
        "less what the pump takes more for solar ({pump} a year)."
    ),
    (False, True): mark(
        "The other heater keeps the pool as warm as solar does. The saving is what it would cost "
        "and what the pump takes less beside solar ({pump} a year), less upkeep ({upkeep} a year)."
    ),
    (False, False): mark(
        "The other heater keeps the pool as warm as solar does. The saving is what it would cost "
        "and what the pump takes less beside solar ({pump} a year)."
    ),
}
"""By whether the pump takes more for solar, and whether upkeep is told."""

GALLON, THERM = 0.003785411784, 1.05505585262e8
"""[m³], [J]"""
A_KWH = mark("a kWh costs {price}")
SOLD: dict[tuple[str, System], tuple[float, str]] = {
    ("gas", "US"): (THERM, mark("a therm costs {price}")),
    ("propane", "US"): (GALLON * PROPANE_HEAT, mark("a gallon costs {price}")),
}
"""What a fuel is sold by [J]; else it is the kWh."""

NAMED = 8
"""Parts without a price that are named; the parts list has them all."""

WEATHER = {
    "typical-year file": mark("a typical year made from many"),
    "real-year file": mark("a year as it was"),
    "online service": mark("a year from an online service"),
    "station table": mark("a year made from a weather station's monthly means"),
    "monthly means": mark("a year made from monthly means"),
    "rough estimate": mark("a rough estimate of the place's weather"),
}


def savings_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set what solar saves against other heat, and what that rests on.

    Parameters
    ----------
    material : Material
        Its offering.
    language : Language
        To write in.
    """
    say, offering = language.say, material.offering
    if not offering.against:
        return [block.Paragraph(say("No other heater was named to hold solar against."))]
    currency = material.job.money.currency
    life = material.job.money.terms.life
    priced = offering.designed.price is not None
    rows = tuple(_against(each, currency, life, priced, language) for each in offering.against)
    heads = (
        say("The same warmth from"), say("would cost a year"), say("solar saves, first year"),
        say("four cases of five"), say("solar's price is back after"),
    )  # fmt: skip
    figures: list[block.Side] = ["right"] * 4
    table = block.Schedule(heads, rows, ("left", *figures), (2, 1.4, 1.4, 1.8, 1.9))
    assumed = (block.Heading(say("What this assumes")), _assumed(material, language))
    return [table, block.Together(assumed)]


def _against(
    each: Against, currency: str, life: int, priced: bool, language: Language
) -> tuple[str, ...]:
    saved = each.span.saved
    return (
        sentence(heater_words(each, language)),
        about_money(each.fuel.cost, currency, language),
        about_money(each.worth.saved, currency, language),
        about_within(saved.low, saved.high, currency, language),
        _payback(each, life, language) if priced else "–",
    )


def _payback(each: Against, life: int, language: Language) -> str:
    say = language.say
    low, high = each.span.payback_low, each.span.payback_high
    if low is None:
        return say("not within {life} years", life=str(life))
    first = language.number(low)
    if high is None:
        return say("{low} years at best, or not within {life}", low=first, life=str(life))
    last = language.number(high)
    if first == last:
        return say("{low} years", low=first)
    return say("{low} to {high} years", low=first, high=last)


def _assumed(material: Material, language: Language) -> block.Points:
    say, money = language.say, material.job.money
    terms, currency = money.terms, money.currency
    pump = material.offering.designed.solar.pump_cost
    more = about_money(abs(pump), currency, language)
    points = [
        say(
            SAVING[pump >= 0.0, terms.maintenance > 0.0],
            pump=more,
            upkeep=language.money(terms.maintenance, currency),
        ),
        *(_heater(each, material, language) for each in material.offering.against),
        say(
            "Prices rise by {inflation} a year, electricity by {electricity}; money earns {rate} a "
            "year elsewhere; the panels serve {life} years. Back means: with interest and rising "
            "prices.",
            inflation=_percent(terms.inflation, language),
            electricity=_percent(electricity_rise(terms), language),
            rate=_percent(terms.discount_rate, language),
            life=str(terms.life),
        ),
        say(
            mark(
                "The range holds four cases of five: wind, shelter, sun, cover and panels as "
                "unsure as they are. Prices to come, wear, and weather from year to year are not "
                "in it."
            )
            if material.sureness.weather_left_out
            else mark(
                "The range holds four cases of five, over the weather of several years. Prices to "
                "come and wear are not in it."
            )
        ),
        say("Weather: {source}.", source=_weather(material, language)),
    ]
    return block.Points(tuple(points))


def _weather(material: Material, language: Language) -> str:
    """Tell where the year comes from; a file by its name, for the papers are for an owner."""
    weather, told = material.year.weather, material.job.weather
    words = language.say(WEATHER[weather.kind])
    if isinstance(told, WeatherShipped):
        return f"{words}, {told.year}"
    name = weather.source.rpartition("/")[2].rpartition("\\")[2]
    return f"{words}, {name}" if weather.kind.endswith("file") else words


def _heater(each: Against, material: Material, language: Language) -> str:
    say, money, alternative = language.say, material.job.money, each.alternative
    values = {
        "heater": sentence(heater_words(each, language)),
        "price": _price_words(each, money.currency, language),
        "rise": _percent(energy_rise(alternative, money.terms), language),
    }
    if each.own:
        text = say(
            "{heater}: {price}, with the pump where the heater calls it, rising by {rise} a year.",
            **values,
        )
    elif alternative.kind == "heat pump":
        cop = language.number(alternative.heat_yield, digits_set(alternative.heat_yield))
        text = say(
            "{heater}: it gives {cop} kWh of heat for each that it draws; {price}, rising by "
            "{rise} a year.",
            cop=cop,
            **values,
        )
    else:
        text = say(
            "{heater}: {share} of its energy reaches the water; {price}, rising by {rise} a year.",
            share=_percent(alternative.heat_yield, language),
            **values,
        )
    if each.alternative.installed and not each.own:
        bought = language.money(each.alternative.installed, money.currency)
        text += " " + say("It would be bought for {price}, which solar spares.", price=bought)
    return text


def _price_words(each: Against, currency: str, language: Language) -> str:
    """Price of a heater's energy in the unit that the owner's bill has."""
    price = each.fuel.cost / each.fuel.energy if each.fuel.energy else 0.0
    energy, text = SOLD.get((each.alternative.kind, language.system), (KWH, A_KWH))
    shown = price * energy
    # Cents, and tenths of a cent where it costs less than a whole piece of money.
    digits = max(2, digits_set(shown, 3 if shown < 1.0 else 2))
    return language.say(text, price=language.money(shown, currency, digits))


def _percent(share: float, language: Language) -> str:
    shown = 100.0 * share
    # Glued: a figure and its sign stay on one line.
    return f"{language.number(shown, 0 if abs(shown - round(shown)) < 0.05 else 1)}\u00a0%"


def option_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set the options with what they give and ask, then what the owner pays.

    Parameters
    ----------
    material : Material
        Its offering.
    language : Language
        To write in.
    """
    say, offering = language.say, material.offering
    target = language.setting(material.job.pool.target, "temperature").replace(" ", "\u00a0")
    heads = (
        say("Option"), say("What it is"), say("Days a year at {target}", target=target),
        say("Gained by it"), say("Pump, a year more"), say("Price with tax"),
    )  # fmt: skip
    rows = tuple(
        _option(place, option, material, language) for place, option in enumerate(offering.options)
    )
    sides: tuple[block.Side, ...] = ("left", "left", "right", "right", "right", "right")
    table = block.Schedule(heads, rows, sides, (0.7, 3.2, 1.2, 1.3, 1.3, 1.8))
    note = say(
        "Without solar the pool as it is now reaches {target} on {days} days of its season. Days "
        "are such whose mean is at the aim or above, in the year reckoned with.",
        target=target,
        days=str(offering.days_without),
    )
    return [block.Together((table, block.Paragraph(note, "small"))), *_prices(material, language)]


def _option(
    place: int, option: OfferOption, material: Material, language: Language
) -> tuple[str, ...]:
    currency = material.job.money.currency
    return (
        LETTERS[place],
        option_words(option, language),
        str(option.days),
        months_words(option.days - material.offering.days_without, language),
        about_money(option.solar.pump_cost, currency, language),
        price_words(option, currency, language),
    )


def price_words(option: OfferOption, currency: str, language: Language) -> str:
    """Tell an option's price; what nobody priced is on request, never made up."""
    say = language.say
    if option.price is None:
        return say("on request")
    price = language.money(option.price.total, currency)
    if option.unpriced:
        price = say("from {price}", price=price)
    return say("{price} and the cover", price=price) if option.new_cover else price


def _prices(material: Material, language: Language) -> list[block.Block]:
    say, offering = language.say, material.offering
    rows: list[tuple[str, str]] = []
    for letter, option in zip(LETTERS, offering.options, strict=False):
        if option.price is None:
            rows.append((say("price of option {letter}", letter=letter), ""))
        if option.unpriced:
            rows.append((say("option {letter}, on top", letter=letter), ""))
        if option.new_cover and option.price is not None:
            rows.append((say("option {letter}: price of the cover", letter=letter), ""))
    rows += _paid(offering.designed, material, language)
    blocks: list[block.Block] = [block.Paragraph(text) for text in _on_top(material, language)]
    if rows:
        blocks.append(block.Facts(tuple(rows)))
    return [block.Together(tuple(blocks))] if blocks else []


def _on_top(material: Material, language: Language) -> list[str]:
    """Name the parts that no price is known of, once for all options that lack the same."""
    say = language.say
    lacking: dict[str, list[str]] = {}
    for letter, option in zip(LETTERS, material.offering.options, strict=False):
        names = list(dict.fromkeys(part_words(row, language) for row in option.unpriced))
        told = ", ".join(names[:NAMED])
        if len(names) > NAMED:
            told = say("{parts} and {count} more", parts=told, count=str(len(names) - NAMED))
        if told:
            lacking.setdefault(told, []).append(letter)
    return [
        say(
            "No price is known yet in {letters} for: {parts}.",
            letters=", ".join(letters),
            parts=told,
        )
        for told, letters in lacking.items()
    ]


def _paid(option: OfferOption, material: Material, language: Language) -> list[tuple[str, str]]:
    """Tax in the price, what others give, what the owner pays in the end; of option A."""
    say, money = language.say, material.job.money
    if option.price is None:
        return []
    rows = []
    if option.price.tax:
        tax = language.money(option.price.tax, money.currency)
        rows.append((say("sales tax in the price of option A"), tax))
    left = option.price.total
    for incentive, amount in received(money, left):
        left -= amount
        name = f"{incentive.name}, {_when(incentive.year, language)}"
        rows.append((name, language.money(-amount, money.currency)))
    if money.incentives:
        rows.append((say("you pay in the end for option A"), language.money(left, money.currency)))
    return rows


def _when(year: int, language: Language) -> str:
    if year == 0:
        return language.say("at once")
    if year == 1:
        return language.say("after a year")
    return language.say("after {years} years", years=str(year))
