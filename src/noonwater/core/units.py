"""The border: "32 ft" becomes 9.7536, and 29.0 becomes "84.2 °F".

Nothing else in Noonwater knows units. Numbers are kept as exact fractions until the last step, so
"104 °F" is 40 °C and not a hair more, and what is written to a job file reads back to the last bit.
pint is loaded on the first quantity, never on the way to a help text.
"""

from __future__ import annotations

import re
from decimal import Context, Decimal
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil, floor, isfinite
from typing import TYPE_CHECKING, Any, Literal

from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_table import CURRENCIES, CURRENCY_SIGNS, DEFINITIONS, LABELS
from noonwater.core.unit_text import (
    LONGEST,
    QuantityError,
    UnknownUnitError,
    allowed_quantity,
    bare,
    compass_remedy,
    number_and_unit,
    quoted,
    scale_remedy,
    unit_remedy,
    with_article,
)

if TYPE_CHECKING:
    import pint

System = Literal["US", "SI"]
_OTHERWISE = {
    "pitch": r"|\s*[\d.]+\s*[:/]\s*[\d.]+\s*",
    "bearing": r"|[A-Za-z\s-]+",
}
"""Patterns of what has no number with a unit."""


def read_quantity(text: object, quantity: Quantity) -> float:
    """Read a quantity as a person writes it.

    Parameters
    ----------
    text : object
        "32 ft", "2 1/2 in", "29 °C", "4:12"; anything but text is refused.
    quantity : Quantity
        Kind and bounds of the field.

    Returns
    -------
    float
        Value in the kind's SI unit.

    Raises
    ------
    QuantityError
        With what was given and what is allowed.
    """
    if not isinstance(text, str):
        raise QuantityError(bare(text), allowed_quantity(quantity), unit_remedy(text, quantity))
    return _read_text(text, quantity)


@lru_cache(maxsize=2048)
def _read_text(text: str, quantity: Quantity) -> float:
    # Kept, because the options of a batch share most of their texts.
    number, unit = number_and_unit(text, quantity)
    try:
        scale, offset = _to_si(unit, quantity.kind)
    except UnknownUnitError as error:
        remedy = _remedy(text, unit, quantity.kind) or error.remedy
        raise QuantityError(
            f"{quoted(text)}{error.given}", allowed_quantity(quantity), remedy
        ) from None
    value = number * scale + offset
    _check_bounds(text, value, unit, quantity)
    return float(value)


def _remedy(text: str, unit: str, kind: str) -> str:
    if kind == "angle":
        return compass_remedy(text)
    return scale_remedy(text) if unit == "degree" and kind.startswith("temperature") else ""


def show(value: float, kind: str, system: System, digits: int = 1) -> str:
    """Print a result: "84.2 °F".

    Parameters
    ----------
    value : float
        In the kind's SI unit.
    kind : str
        Key of `KINDS`.
    system : {"US", "SI"}
        Units to print in.
    digits : int
        Places after the point.
    """
    shown = in_system(value, kind, system)
    number = f"{shown:.{digits}f}" if isfinite(shown) else "-"
    label = unit_label(kind, system)
    return f"{number}{'' if label == '°' else ' '}{label}"


def in_system(value: float, kind: str, system: System) -> float:
    """Convert a value from the kind's SI unit to the unit it is shown in."""
    scale, offset = _to_si(_system_unit(kind, system), kind)
    return (value - float(offset)) / float(scale)


def unit_label(kind: str, system: System) -> str:
    """Name the unit that a kind is shown in: "gpm", "m³/h"."""
    return LABELS[_system_unit(kind, system)]


def written(value: float, kind: str, system: System, currency: str = "USD") -> str:
    """Write a quantity for a job file, so that it reads back to the last bit.

    Parameters
    ----------
    value : float
        In the kind's SI unit.
    kind : str
        Key of `KINDS`.
    system : {"US", "SI"}
        Units to write in.
    currency : str
        Currency of a price.
    """
    # A temperature of 1e-300 °C takes hundreds of digits in °F: what takes many is written in SI.
    for unit in (_system_unit(kind, system), KINDS[kind].unit):
        scale, offset = _to_si(unit, kind)
        exact = (Fraction(value) - offset) / scale
        for digits in range(5, 25):
            text = _decimal(exact, digits)
            if float(Fraction(text) * scale + offset) == value:
                label = "deg" if unit == "degree" else LABELS[unit]
                label = label.replace("²", "2").replace("³", "3").replace("currency", currency)
                return f"{text} {label}"
    raise ValueError(f"{value} is no number that can be written")


def currencies_of(text: object) -> tuple[str, ...]:
    """Name the currencies that a price's text can be in: one, all of the "$" ones, or any."""
    if not isinstance(text, str):
        return CURRENCIES
    named = tuple(code for code in CURRENCIES if re.search(rf"(?<![A-Z]){code}(?![A-Z])", text))
    meant = (meant for sign, meant in CURRENCY_SIGNS if re.search(sign, text))
    return named or next(meant, CURRENCIES)


def quantity_core_schema(quantity: Quantity) -> Any:
    """Describe a quantity to pydantic: read it from text."""
    from pydantic_core import core_schema

    def read(text: object) -> float:
        return read_quantity(text, quantity)

    return core_schema.no_info_plain_validator_function(read)


def quantity_json_schema(quantity: Quantity) -> dict[str, Any]:
    """Describe a quantity in the published schema."""
    kind = KINDS[quantity.kind]
    range_ = _range_words(quantity, kind.metric)
    ratio = _OTHERWISE.get(quantity.kind, "")
    number = r"\s*[-+−]?\s*[$€£]?\s*(?:\d|\.\d|[½¼¾⅓⅔⅛⅜⅝⅞])"
    return {
        "type": "string",
        "description": f"{quantity.meaning}: {with_article(quantity.kind)} with its unit, {range_}",
        "examples": list(kind.accepted),
        "pattern": f"^(?:{number}[^A-Za-z°%'\"]*[A-Za-z°%'\"$€£¢].*{ratio})$",
        "maxLength": LONGEST,
    }


@cache
def _registry() -> pint.UnitRegistry[Any]:
    # The table is text in the package: no definition file, and so none of pint's files on disk.
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(
        None, non_int_type=Fraction, cache_folder=None
    )
    registry.load_definitions([line for line in DEFINITIONS.splitlines() if line.strip()])
    return registry


@lru_cache(maxsize=1024)
def _to_si(unit: str, kind: str) -> tuple[Fraction, Fraction]:
    """Scale and offset from a unit to a kind's SI unit, exact."""
    import pint

    registry, wanted = _registry(), KINDS[kind].unit
    try:
        zero = registry.Quantity(Fraction(0), unit).to(wanted).magnitude
        one = registry.Quantity(Fraction(1), unit).to(wanted).magnitude
    except pint.DimensionalityError:
        raise UnknownUnitError(_dimension_words(unit), "") from None
    except (pint.PintError, ArithmeticError, ValueError, TypeError, AttributeError):
        raise UnknownUnitError(", no unit for this", "") from None
    return Fraction(one) - Fraction(zero), Fraction(zero)


def _check_bounds(text: str, value: Fraction, unit: str, quantity: Quantity) -> None:
    # As floats: 3.6 USD/kWh is 1e-6 per joule, and a float's 1e-6 is a hair less than that.
    try:
        if quantity.low <= float(value) <= quantity.high:
            return
    except OverflowError:
        raise QuantityError(quoted(text), "a number of bearable size") from None
    raise QuantityError(quoted(text), _range_words(quantity, unit))


def _range_words(quantity: Quantity, unit: str) -> str:
    scale, offset = _to_si(unit, quantity.kind)
    label = _label_as_given(unit)

    def user(bound: float, inward: int) -> str:
        exact = (Fraction(bound) - offset) / scale
        if not exact:
            return f"0{label}"
        # As a decimal: a bound of 5e-324 is a fraction that no float holds.
        step = Fraction(10) ** ((Decimal(exact.numerator) / exact.denominator).adjusted() - 3)
        near = round(exact / step) * step
        # The number that is printed must itself be allowed.
        if not quantity.low <= float(near * scale + offset) <= quantity.high:
            near = (ceil if inward > 0 else floor)(exact / step) * step
        return f"{_decimal(near, 6)}{label}"

    low = user(quantity.low, 1) if isfinite(quantity.low) else ""
    high = user(quantity.high, -1) if isfinite(quantity.high) else ""
    if low and high:
        return f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else "any"


def _decimal(exact: Fraction, digits: int) -> str:
    """Decimal digits of a fraction, without an exponent where it stays readable."""
    context = Context(prec=digits)
    number = context.divide(Decimal(exact.numerator), Decimal(exact.denominator))
    text = f"{number.normalize(context):f}"
    return text if len(text) < digits + 8 else f"{number.normalize(context)}"


def _label_as_given(unit: str) -> str:
    label = LABELS.get(unit)
    if label is None:
        words = re.sub(r"delta_deg|deg(?=[CF]\b)", "°", unit).replace("**", "")
        label = re.sub(r"_\b", "", words)
    return "" if label == "" else label if label == "°" else f" {label}"


def _dimension_words(unit: str) -> str:
    dimension = _registry().parse_units(unit).dimensionality
    for kind in KINDS.values():
        if _registry().parse_units(kind.unit).dimensionality == dimension:
            return f", {with_article(kind.name)}"
    return ""


def _system_unit(kind: str, system: System) -> str:
    return KINDS[kind].us if system == "US" else KINDS[kind].metric
