"""Words of a proposal: amounts as estimates, options, other heaters, months and days."""

from __future__ import annotations

from noonwater.core import digits
from noonwater.core.units import in_system
from noonwater.design.money_against import Against
from noonwater.design.offering import OfferOption
from noonwater.document.language import Language, mark, sentence

KWH = 3.6e6
DAYS_IN_MONTH = 365.0 / 12.0
DIGITS = 2
"""Digits of an estimate that count."""

COVERS = {
    "bubble": mark("bubble cover"),
    "foam": mark("foam cover"),
    "solid": mark("solid cover"),
    "discs": mark("floating discs"),
    "liquid": mark("liquid cover"),
}
HEATERS = {
    "gas": mark("gas heater"),
    "propane": mark("propane heater"),
    "electric": mark("electric heater"),
    "heat pump": mark("heat pump heater"),
}
CHANGES = {
    "as designed": mark("as drawn up here: {count} panels"),
    "fewer panels": mark("smaller: {count} panels"),
    "more panels": mark("larger: {count} panels"),
    "cover": mark("as drawn up, with the {cover} on at night all year"),
}
LETTERS = "ABC"


def about(value: float) -> float:
    """Round an estimate to the digits that count here."""
    return digits.about(value, DIGITS)


def about_money(value: float, currency: str, language: Language) -> str:
    """Print an estimated amount of money."""
    return language.money(about(value), currency)


def about_within(low: float, high: float, currency: str, language: Language) -> str:
    """Print a range of estimated amounts."""
    first, last = (about_money(value, currency, language) for value in (low, high))
    return first if first == last else language.say("{low} to {high}", low=first, high=last)


def option_words(option: OfferOption, language: Language) -> str:
    """Tell what an option is; one that was told stands as typed."""
    if option.change == "told":
        return option.told
    cover = language.say(COVERS.get(option.job.pool.cover.kind, mark("cover")))
    count = str(option.job.array.panels)
    return sentence(language.say(CHANGES[option.change], count=count, cover=cover))


def heater_words(each: Against, language: Language) -> str:
    """Name what solar is held against."""
    name = language.say(HEATERS[each.alternative.kind])
    return language.say("your own {heater}", heater=name) if each.own else name


def months_words(days: float, language: Language) -> str:
    """Print days as months."""
    return language.say("{count} months", count=language.number(days / DAYS_IN_MONTH, 1))


def area_words(area: float, language: Language) -> str:
    """Print a panel area without false digits."""
    shown = language.number(in_system(area, "area", language.system))
    return f"{shown} {language.unit('area')}"
