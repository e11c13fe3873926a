"""Cells of a price list: amounts of money, sizes, what a price is for."""

from __future__ import annotations

import re
from collections.abc import Iterable
from math import isfinite

from noonwater.app.price_file import Cell
from noonwater.core.quantity import Quantity
from noonwater.core.unit_table import CURRENCIES
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import currencies_of, read_quantity
from noonwater.design.money_parts import Per

LENGTH = Quantity("length", "size or length", 0.001, 1000)
HOURS = Quantity("time", "work", 0, 3.6e6)
COUNTS = {"each": 1.0, "ea": 1.0, "pc": 1.0, "pcs": 1.0, "piece": 1.0, "pieces": 1.0, "unit": 1.0,
          "pair": 2.0, "dozen": 12.0, "can": 1.0, "pieza": 1.0, "pza": 1.0, "c/u": 1.0,
          "stk": 1.0, "stück": 1.0, "set": 1.0, "kit": 1.0}  # fmt: skip
"""Words for pieces, and how many they are."""
JOB_WORDS = frozenset({"job", "per job", "lump sum", "ls", "trabajo", "pauschal"})
"""What a price is for that every job has once."""
LARGEST_BARE_INCH, LEAST_BARE_MM = 8.0, 12.0
"""A size without unit: inches up to the one, millimetres from the other; ours."""

_NUMBER = re.compile(r"[-+]?\d[\d.,'’\s]*|[-+]?[.,]\d+")
_SIGN = re.compile(r"(?:[A-Z]{1,3})?\$|[€£]|[A-Z]{3}|\bFr\.?|\bR\b|\s")
_AFTER = frozenset({"", "-", "/h", "/hr", "h", "hr", "hrs", ".-", ".–", "each", "ea", "ea.", "/ea",
                    "/each"})  # fmt: skip
"""What may stand beside a number and a currency's sign."""
_BY = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_WRAPPED = "box|pack|pk|bag|roll|coil|spool|reel|length|stick"
_PACK = re.compile(
    rf"(?:(?:per|a|(?:{_WRAPPED})(?:\s+of)?)\s+)*(?:(?:{_WRAPPED})\s*/\s*)?(.*?)"
    rf"(?:\s+(?:{_WRAPPED})s?)?"
)
_COUNTED = re.compile(r"(\d+)\s*(?:pk|pack|ct|pcs?|pieces?|x|/box|/bag)?")


def decimal_comma(cells: Iterable[Cell], separator: str) -> bool:
    """Tell whether a column of amounts has commas for decimals.

    Parameters
    ----------
    cells : iterable of Cell
        Of the column.
    separator : str
        Between the cells of its CSV file; a file with ";" is from where the comma is for decimals.

    Returns
    -------
    bool
        Told by the first amount that can be read in one way only.
    """
    for cell in cells:
        text = str(cell) if isinstance(cell, str) else ""
        found = _NUMBER.search(text)
        digits = found[0].strip() if found else ""
        comma, point = digits.rfind(","), digits.rfind(".")
        if comma >= 0 and (point >= 0 or len(digits) - comma - 1 != 3 or digits.count(",") > 1):
            return comma > point and digits.count(",") == 1
        if comma < 0 <= point and (len(digits) - point - 1 != 3 or digits.count(".") > 1):
            return digits.count(".") > 1
    return separator == ";"


def amount(cell: Cell, comma: bool) -> float | None:
    """Read a number with signs of currency and thousands around it.

    Parameters
    ----------
    cell : Cell
        "$ 1,250.00", "1.250,00 EUR", or a number.
    comma : bool
        Whether commas are for decimals.

    Returns
    -------
    float or None
        None where it is no number.
    """
    if isinstance(cell, float):
        return cell if isfinite(cell) else None
    found = _NUMBER.findall(cell)
    if len(found) != 1 or _SIGN.sub("", _NUMBER.sub(" ", cell)) not in _AFTER:
        return None
    thousands, decimal = (".", ",") if comma else (",", ".")
    digits = re.sub(r"[\s'’]", "", found[0]).rstrip(".,")
    groups = rf"\d+|\d{{1,3}}(?:\{thousands}\d{{3}})+"
    if not re.fullmatch(rf"[-+]?(?:(?:{groups})(?:\{decimal}\d*)?|\{decimal}\d+)", digits):
        return None
    return float(digits.replace(thousands, "").replace(decimal, "."))


def other_currency(cell: Cell, currency: str) -> str:
    """Currency that an amount names where it is not the job's; "" where it is or none is named."""
    if not isinstance(cell, str):
        return ""
    meant = currencies_of(cell)
    return "" if meant == CURRENCIES or currency in meant else meant[0]


def hours(cell: Cell, comma: bool) -> float | None:
    """Read labour: bare hours, or a time with its unit [s]; None where it is neither."""
    if isinstance(cell, str) and re.search(r"\d\s*(min|s|sec|h|hr|hrs|hours?)\b", cell):
        try:
            return read_quantity(cell.strip(), HOURS)
        except QuantityError:
            return None
    found = amount(cell, comma)
    return None if found is None or found < 0 else 3600.0 * found


def sizes(text: str, unit: str = "") -> tuple[float, ...] | None:
    """Read a size: "2 in", "1-1/2", "63 mm", "4x12 ft".

    Parameters
    ----------
    text : str
        Of the cell.
    unit : str
        That the column's head names, for bare numbers.

    Returns
    -------
    tuple of float or None
        In rising order [m]; empty for an empty cell; None where it can't be read.
    """
    parts = _BY.split(re.sub(r"\bbore\b", "", text).strip().strip("."))
    if parts == [""]:
        return ()
    last = re.search(r"[A-Za-z'\"”″′’]+\s*$", parts[-1])
    common = last[0].strip() if last else ""
    found = []
    for part in parts:
        own = part if re.search(r"[A-Za-z'\"”″′’]\s*$", part) else f"{part} {common}".strip()
        size = _size(own, unit, len(parts))
        if size is None:
            return None
        found.append(size)
    return tuple(sorted(found))


def _size(text: str, unit: str, count: int) -> float | None:
    if re.search(r"[A-Za-z'\"”″′’]\s*$", text):
        return _length(text)
    if unit:
        return _length(f"{text} {unit}")
    if count > 1:
        return _length(f"{text} ft")  # a panel, 4x12
    number = _length(f"{text} m")
    if number is None:
        return None
    if number <= LARGEST_BARE_INCH:
        return _length(f"{text} in")
    return _length(f"{text} mm") if number >= LEAST_BARE_MM else None


def _length(text: str) -> float | None:
    try:
        return read_quantity(text, LENGTH)
    except QuantityError:
        return None


def pack(text: str) -> tuple[Per, float] | None:
    """Read what a price is for: "each", "ft", "20 ft", "box of 10", "job".

    Parameters
    ----------
    text : str
        Of the cell; empty: each.

    Returns
    -------
    tuple of (Per, float) or None
        Pieces [-] or length [m]; None where it can't be read.
    """
    plain = " ".join(text.casefold().strip(" ./").split())
    if plain in JOB_WORDS:
        return "job", 1.0
    plain = (_PACK.fullmatch(plain) or [plain, plain])[1].strip()
    if plain in COUNTS or not plain:
        return "each", COUNTS.get(plain, 1.0)
    counted = _COUNTED.fullmatch(plain)
    if counted and int(counted[1]) > 0:
        return "each", float(counted[1])
    length = _length(plain if plain[0].isdigit() else f"1 {plain}")
    return None if length is None else ("length", length)
