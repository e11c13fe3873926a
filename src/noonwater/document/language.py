"""Language, numbers, dates and units of a paper.

Texts are English in the code and looked up in gettext catalogues (`locale/es/*.po`, one a module);
a test fails on a text that a catalogue lacks or no longer needs. Names of parts come from the trade
glossary, `locale/glossary.csv`: one name each.
"""

from __future__ import annotations

import csv
import datetime
import re
from dataclasses import dataclass
from functools import cache
from math import isfinite
from pathlib import Path

from noonwater.core.errors import Fault, InputError
from noonwater.core.units import System, in_system, unit_label

FOLDER = Path(__file__).parent / "locale"
LOCALES = {"en": "en_US", "es": "es_US"}
"""Languages, each with the locale of its numbers where nobody says another."""

_DIGITS = re.compile(r"\d+")
_SPEED = re.compile(r"\b\d{4,}(?= rpm\b)")
_LETTERS_AT_FIGURE = re.compile(r"(?<=[A-Z])(?=\d)")


def mark(text: str) -> str:
    """Mark a text for the catalogues; it is looked up later, by `Language.say`."""
    return text


def sentence(text: str) -> str:
    """Begin with a capital."""
    return text[:1].upper() + text[1:]


@dataclass(frozen=True)
class Language:
    """One language with its manner of writing numbers, and the units to write in.

    Attributes
    ----------
    code : str
        "en" or "es".
    locale : str
        Of numbers and dates: "es_US".
    system : {"US", "SI"}
        Units.
    """

    code: str
    locale: str
    system: System

    def say(self, text: str, **values: str) -> str:
        """Give a text in this language.

        Parameters
        ----------
        text : str
            In English, as the catalogues have it; places for values stand in braces.
        **values : str
            What goes into the places; never looked up.
        """
        said = text if self.code == "en" else _catalogue(self.code).get(text, text)
        return said.format(**values) if values else said

    def part(self, name: str) -> str:
        """Name a part, pipe or state; a name that the job's author made up stays as typed."""
        named = name if self.code == "en" else self._named(name)
        return _SPEED.sub(lambda found: self.number(float(found[0])), named)

    def _named(self, name: str) -> str:
        known = self._known(name)
        if known:
            return known
        first, _, last = name.partition(" to ")
        start, end = self._known(first), self._known(last)
        return self.say("{start} to {end}", start=start, end=end) if start and end else name

    def _known(self, name: str) -> str:
        found = glossary(self.code).get(_DIGITS.sub("#", name), "")
        for place, number in enumerate(_DIGITS.findall(name), start=1):
            found = found.replace(f"#{place}", number)
        return found

    def number(self, value: float, digits: int = 0) -> str:
        """Print a number; never '-0'."""
        from babel.numbers import format_decimal

        if not isfinite(value):
            return "–"
        rounded = round(value, digits) + 0.0
        places = f"#,##0.{'0' * digits}" if digits else "#,##0"
        return str(format_decimal(rounded, format=places, locale=self.locale))

    def money(self, value: float, currency: str, digits: int = 0) -> str:
        """Print an amount of money."""
        from babel.numbers import format_currency

        places = f"¤#,##0.{'0' * digits}" if digits else "¤#,##0"
        printed = format_currency(
            round(value, digits) + 0.0,
            currency,
            format=places,
            locale=self.locale,
            currency_digits=False,
        )
        # CLDR sets letters apart from figures ("USD 230"); the library leaves that out.
        return _LETTERS_AT_FIGURE.sub("\u00a0", str(printed))

    def quantity(self, value: float, kind: str, digits: int = 0) -> str:
        """Print a quantity with its unit; value in the kind's SI unit."""
        label = unit_label(kind, self.system)
        number = self.number(in_system(value, kind, self.system), digits)
        return f"{number}{'' if label == '°' else ' '}{label}"

    def setting(self, value: float, kind: str, most: int = 1) -> str:
        """Print what somebody set as exactly as it was set, in the fewest digits up to the most."""
        return self.quantity(value, kind, digits_set(in_system(value, kind, self.system), most))

    def unit(self, kind: str) -> str:
        """Name the unit that a kind is printed in."""
        return unit_label(kind, self.system)

    def within(self, low: float, high: float, kind: str, digits: int = 0) -> str:
        """Print a range: "82 to 86 °F"; one figure where both print alike."""
        first, last = (
            self.number(in_system(value, kind, self.system), digits) for value in (low, high)
        )
        if first == last:
            return self.quantity(low, kind, digits)
        label = self.unit(kind)
        unit = label if label == "°" else f" {label}"
        return self.say("{low} to {high}", low=first, high=last) + unit

    def date(self, day: datetime.date) -> str:
        """Print a date."""
        from babel.dates import format_date

        return str(format_date(day, format="medium", locale=self.locale))

    def month(self, month: int, short: bool = True) -> str:
        """Name a month, 1 to 12."""
        from babel.dates import get_month_names

        names = get_month_names("abbreviated" if short else "wide", "stand-alone", self.locale)
        return str(names[month])


def digits_set(shown: float, most: int = 1) -> int:
    """Fewest digits behind the point that print a figure as exactly as the most would."""
    exact = round(shown, most)
    return next(digits for digits in range(most + 1) if round(shown, digits) == exact)


def language_of(code: str, system: System, locale: str = "") -> Language:
    """Choose a language.

    Parameters
    ----------
    code : str
        "en" or "es".
    system : {"US", "SI"}
        Units.
    locale : str
        Of numbers and dates; the language's usual one where empty.

    Raises
    ------
    InputError
        For a language that has no catalogue, or a locale that nobody knows.
    """
    from babel import Locale, UnknownLocaleError

    if code not in LOCALES:
        allowed = ", ".join(LOCALES)
        raise InputError([Fault("language", f"'{code}'", allowed, "choose one of these")])
    wanted = locale or LOCALES[code]
    try:
        Locale.parse(wanted)
    except (ValueError, UnknownLocaleError):
        fault = Fault("locale", f"'{wanted}'", "a locale such as es_US", "write it so")
        raise InputError([fault]) from None
    return Language(code, wanted, system)


@cache
def _catalogue(code: str) -> dict[str, str]:
    from babel.messages.pofile import read_po

    known: dict[str, str] = {}
    for path in sorted((FOLDER / code).glob("*.po")):
        with path.open("rb") as file:
            found = read_po(file, locale=code)
        known.update(
            {str(entry.id): str(entry.string) for entry in found if entry.id and entry.string}
        )
    return known


@cache
def glossary(code: str) -> dict[str, str]:
    """Names of parts in a language by their English name.

    # stands for a number; #2 for the second of the English name.
    """
    with (FOLDER / "glossary.csv").open(encoding="utf-8", newline="") as file:
        return {row["en"]: row[code] for row in csv.DictReader(file)}
