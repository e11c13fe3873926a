"""The grammar of a written quantity: "2 1/2 in" is five halves and "inch".

Only listed names leave this file, joined by signs that can't be anything but a unit, so that pint
never sees a user's text.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from fractions import Fraction
from functools import cache
from math import atan2, degrees

from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_table import DEFINITIONS, KEPT_WORDS, SPELLINGS, UNIT_SPELLINGS

LONGEST = 60
_DECIMAL = r"(?:\d{1,30}(?:\.\d{0,30})?|\.\d{1,30})(?:[eE][+-]?\d{1,3}(?!\d))?"
_FRACTION = r"(?:\d{1,9}[\s-]+)?\d{1,9}\s*/\s*[1-9]\d{0,8}"
_NUMBER = rf"(?:{_FRACTION}|{_DECIMAL})(?![\d.])"
_WRITTEN = re.compile(rf"\s*([+-]?)\s*({_NUMBER})\s*(\D.*|)", re.ASCII | re.DOTALL)
_MONEY_FIRST = re.compile(r"\s*([$€£])\s*(\d.*)", re.DOTALL)
_FEET_INCHES = re.compile(
    rf"\s*([+-]?)\s*(\d{{1,9}})\s*(?:'|ft\.?|feet|foot)[\s-]*({_NUMBER})"
    r"\s*(?:\"|''|in\.?|inch|inches)\s*",
    re.ASCII,
)
_FEET_AND = re.compile(rf"\s*([+-]?)\s*(\d{{1,9}})\s*'[\s-]*({_NUMBER})\s*", re.ASCII)
_THOUSANDS = re.compile(r"\s*[+-]?\d{1,3}(?:\s\d{3})+(?![\d/]|\s*/)", re.ASCII)
_PITCH = re.compile(
    r"\s*(\d{1,3}(?:\.\d{1,9})?)(?:\s*[:/]\s*|\s+(?:in|on)\s+)(\d{1,3}(?:\.\d{1,9})?)\s*", re.ASCII
)
_POINTS = [
    "N",
    "NNE",
    "NE",
    "ENE",
    "E",
    "ESE",
    "SE",
    "SSE",
    "S",
    "SSW",
    "SW",
    "WSW",
    "W",
    "WNW",
    "NW",
    "NNW",
]
"""Of the compass, clockwise from north."""
_POWER = r"[A-Za-z_]\w*(?:\*\*-?[1-3])?"
_TERM = rf"(?:{_POWER}|\({_POWER}(?:\*{_POWER})*\))"
_WELL_FORMED = re.compile(rf"{_TERM}(?:[*/]{_TERM})*", re.ASCII)
_FACTOR = re.compile(r"\s*(?:(\*\*|\^)?\s*(-?[1-3])(?!\w)|([*/()])|([^\W\d]\w*))", re.ASCII)


class QuantityError(ValueError):
    """A text that is not the wanted quantity: what was given, what is allowed, what to do."""

    def __init__(self, given: str, allowed: str, remedy: str = "") -> None:
        self.given = given
        self.allowed = allowed
        self.remedy = remedy
        super().__init__(f"{given}; allowed: {allowed}" + (f"; {remedy}" if remedy else ""))


class UnknownUnitError(QuantityError):
    """A unit that is not in the list, or not written as one."""


def number_and_unit(text: str, quantity: Quantity) -> tuple[Fraction, str]:
    """Split a written quantity into an exact number and a unit in pint's words."""
    allowed = allowed_quantity(quantity)
    if len(text) > LONGEST:
        raise QuantityError(quoted(text), allowed, f"at most {LONGEST} characters")
    plain = text
    for sign, meant in SPELLINGS:
        plain = re.sub(sign, meant, plain)
    _refuse_split(text, plain, allowed)
    if money := _MONEY_FIRST.fullmatch(plain):
        number, rest = _split(money[2])
        plain = f"{number} {money[1]}{rest}" if number else plain
    if quantity.kind == "pitch" and (ratio := _PITCH.fullmatch(plain)):
        return _pitch(Fraction(ratio[1]), Fraction(ratio[2]), text, allowed), "degree"
    point = _compass_point(plain) if quantity.kind == "bearing" else None
    if point is not None:
        return point, "degree"
    both = _FEET_INCHES.fullmatch(plain) or _FEET_AND.fullmatch(plain)
    if both and KINDS[quantity.kind].unit == "m":
        length = Fraction(both[2]) * 12 + _fraction(both[3])
        return (-length if both[1] == "-" else length), "inch"
    matched = _WRITTEN.fullmatch(plain)
    if matched is None:
        raise QuantityError(f"{quoted(text)}, no number with a unit", allowed)
    if not matched[3].strip():
        raise QuantityError(f"{quoted(text)}, without a unit", allowed, unit_remedy(text, quantity))
    number_ = _fraction(matched[2])
    try:
        unit = _unit(matched[3], quantity.kind)
    except UnknownUnitError as error:
        remedy = compass_remedy(text) if quantity.kind == "angle" else ""
        given = f"{quoted(text)}, {error.given}"
        raise QuantityError(given, allowed, remedy or error.remedy) from None
    return (-number_ if matched[1] == "-" else number_), unit


def _refuse_split(text: str, plain: str, allowed: str) -> None:
    """Refuse what stands between digits and may mean either decimals or thousands."""
    comma = re.search(r"\d\s*,\s*\d", plain)
    if comma or _THOUSANDS.match(plain):
        raise QuantityError(
            f"{quoted(text)}, with a {'comma' if comma else 'space between thousands'}",
            allowed,
            "write the number with a point for decimals and nothing between thousands:"
            ' "3.5", "15000"',
        )


def _split(text: str) -> tuple[str, str]:
    matched = re.match(_NUMBER, text, re.ASCII)
    return (matched[0], text[matched.end() :]) if matched else ("", text)


def _fraction(text: str) -> Fraction:
    whole, _, over = text.rpartition("/")
    if not whole:
        return Fraction(text)
    parts = re.findall(r"\d+", whole)
    return sum((Fraction(part) for part in parts[:-1]), Fraction(parts[-1]) / Fraction(over))


def _compass_point(text: str) -> Fraction | None:
    """Bearing of "SSW", "south" or "south-west" [°]; None where it is none of the sixteen."""
    word = re.sub(r"[\s-]", "", text).upper()
    for name in ("NORTH", "EAST", "SOUTH", "WEST"):
        word = word.replace(name, name[0])
    return Fraction(45, 2) * _POINTS.index(word) if word in _POINTS else None


def _pitch(rise: Fraction, run: Fraction, text: str, allowed: str) -> Fraction:
    if not run:
        raise QuantityError(f"{quoted(text)}, over a run of nothing", allowed)
    return Fraction(degrees(atan2(float(rise), float(run))))


def _unit(text: str, kind: str) -> str:
    """Unit in pint's words, made of listed names only."""
    for sign, meant in UNIT_SPELLINGS:
        text = re.sub(sign, meant, text)
    if kind == "head":
        text = re.sub(r"_H2O|\s+(?:of )?head", "", text)
    parts: list[str] = []
    at = 0
    text = text.strip()
    while at < len(text):
        factor = _FACTOR.match(text, at)
        if factor is None:
            raise UnknownUnitError(f"{quoted(text)} is no unit", "")
        at = factor.end()
        power, sign, name = factor[2], factor[3], factor[4]
        if name and parts and parts[-1] not in "*/(":
            parts.append("*")
        parts.append(f"**{power}" if power else sign or _known(name, kind))
    unit = "".join(parts)
    if not _WELL_FORMED.fullmatch(unit):
        raise UnknownUnitError(f"{quoted(text)} is no unit", "")
    return unit


def _known(name: str, kind: str) -> str:
    if kind.startswith("temperature"):
        name = {"C": "degC", "F": "degF"}.get(name.upper(), name)
    if kind == "temperature difference" and name in ("degC", "degF"):
        return f"delta_{name}"
    name = KEPT_WORDS.get(name, name)
    if name in _names():
        return name
    stem = KEPT_WORDS.get(name[:-1], name[:-1])
    if name[-1] in "123" and stem in _names():
        return f"{stem}**{name[-1]}"
    likely = [word for word in _names() if word[-1] != "_" and len(word) > 1]
    near = get_close_matches(name, likely, 5, 0.6) if len(name) > 2 else []
    near.sort(key=lambda word: sorted(word) != sorted(name))  # swapped letters before other slips
    remedy = f'did you mean "{near[0]}"?' if near else ""
    raise UnknownUnitError(f'"{name}" is no unit that is known here', "", remedy)


@cache
def _names() -> frozenset[str]:
    defined = (re.split(r"=", line) for line in DEFINITIONS.splitlines() if line.strip())
    words = {part.strip() for parts in defined for part in (parts[0], *parts[2:])}
    return frozenset(words) | {"delta_degC", "delta_degF"}


def quoted(value: object) -> str:
    """Quote what was given on one line of bearable length."""
    text = value if isinstance(value, str) else repr(value)
    text = "".join(sign if sign.isprintable() else "?" for sign in text[: LONGEST + 1])
    return f'"{text}"' if len(text) <= LONGEST else f'"{text[: LONGEST - 3]}..."'


def allowed_quantity(quantity: Quantity) -> str:
    """Say in words what a field takes: its kind and two examples."""
    examples = " or ".join(f'"{example}"' for example in KINDS[quantity.kind].accepted)
    return f"{with_article(quantity.kind)} with its unit, such as {examples}"


def with_article(kind: str) -> str:
    """Put "a" or "an" before a kind's name."""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def bare(value: object) -> str:
    """Say what was given where no text was."""
    if isinstance(value, bool):
        return f"{str(value).lower()}, no quantity"
    if isinstance(value, int | float):
        return f"{value!r}, a bare number"[:LONGEST]
    return f"{quoted(value)}, no quantity"


def unit_remedy(value: object, quantity: Quantity) -> str:
    """Remedy for a bare number: the same number with the units it may have meant."""
    number = str(value).strip()
    if isinstance(value, bool) or not re.fullmatch(r"[-+]?\d{0,9}\.?\d{0,9}", number):
        return ""
    if quantity.kind == "share" and abs(float(number or 0)) <= 1:
        number = f"{float(number or 0) * 100:g}"
    units = [text.partition(" ")[2] for text in KINDS[quantity.kind].accepted]
    return "write " + " or ".join(f'"{number} {unit}"' for unit in units if unit)


def scale_remedy(text: str) -> str:
    """Remedy for a temperature of "84°": the degree's scale."""
    number = re.match(r"\s*([+-]?\d+\.?\d*)", text, re.ASCII)
    return f'write "{number[1]} °F" or "{number[1]} °C"' if number else ""


def compass_remedy(text: str) -> str:
    """Remedy for "80.3 °W": the sign says which side."""
    number = re.match(r"\s*(\d+\.?\d*)", text, re.ASCII)
    if not number or not re.fullmatch(r".*[NSEW]\s*", text, re.DOTALL):
        return ""
    sign = "-" if text.rstrip()[-1] in "SW" else ""
    return f'write "{sign}{number[1]} deg": south and west are negative'
