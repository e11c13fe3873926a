"""A contractor's own price list: columns found by the words of their heads, each row told of.

The list may have its columns in any order, and further ones; rows before the heads are its title.
A row that can't be read is told with its number and why: nothing is dropped without a word.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from noonwater.app.price_cells import amount, decimal_comma, hours, other_currency, pack, sizes
from noonwater.app.price_file import A_PRICE_LIST, Cell, CellTable, read_cells
from noonwater.core.errors import Fault, InputError
from noonwater.design.money_parts import PriceRow
from noonwater.design.money_words import part_words

HEAD_ROWS = 40
"""The heads are looked for in so many rows."""

LARGEST_PRICE = 1e8
"""[currency] As in a job file."""

HEADS: tuple[tuple[str, str], ...] = (
    ("skip", r"total|extended|importe|qty|quantity|cantidad|menge|stock|sku|code|number|no|#|"
             r"labou?r (?:cost|price|rate)|margin|date"),
    ("price", r"price|cost|precio|costo|coste|preis|rate|\$|€|£"),
    ("hours", r"hours?|hrs?|labou?r|horas|mano de obra|stunden|arbeit"),
    ("size", r"sizes?|dimensions?|diameter|medida|tamaño|grösse|masse|abmessung(?:en)?"),
    ("unit", r"units?|uom|per|sold by|unidad|einheit"),
    ("part", r"part|pieza|teil"),
    ("name", r"names?|items?|descriptions?|products?|materials?|article|artículo|articulo|"
             r"descripción|descripcion|bezeichnung|artikel"),
)  # fmt: skip
"""Columns and the words that name them, as a regular expression in folded letters ("ss" for "ß");
of two the first counts."""


@dataclass(frozen=True)
class RowFault:
    """A row that is not used: its number, what it says, why not."""

    line: int
    text: str
    why: str


@dataclass(frozen=True)
class PriceList:
    """A price list, read.

    Attributes
    ----------
    rows : tuple of PriceRow
        Those that have a name and a price.
    faults : tuple of RowFault
        All others that aren't empty, and doubles.
    columns : dict of str to str
        What each column was taken for: its head by meaning.
    notes : tuple of str
        How numbers were read.
    source : str
        File and sheet.
    """

    rows: tuple[PriceRow, ...]
    faults: tuple[RowFault, ...]
    columns: dict[str, str]
    notes: tuple[str, ...]
    source: str


def read_price_list(path: Path | str, currency: str) -> PriceList:
    """Read a price list.

    Parameters
    ----------
    path : Path or str
        CSV or XLSX.
    currency : str
        The job's; a row that names another is not used.

    Returns
    -------
    PriceList
        Of the first sheet that has a row of heads.

    Raises
    ------
    InputError
        Where it can't be read or has no column of names or prices.
    """
    tables = read_cells(path)
    with_heads = (table for table in tables if _head_row(table) is not None)
    return price_list(next(with_heads, tables[0]), currency, str(path))


def price_list(table: CellTable, currency: str, file: str = "") -> PriceList:
    """Make sense of a table of cells; parameters as of `read_price_list`."""
    start, columns, notes = _heads(table, file)
    heads = table.rows[start][1]
    body = table.rows[start + 1 :]
    comma = {
        key: decimal_comma((_at(row, columns.get(key)) for _, row in body), table.separator)
        for key in ("price", "hours")
    }
    unit = _unit_of_head(str(heads[columns["size"]])) if "size" in columns else ""
    rows: list[PriceRow] = []
    faults: list[RowFault] = []
    first: dict[tuple[object, ...], PriceRow] = {}
    for line, cells in body:
        found = _row(line, {key: _at(cells, at) for key, at in columns.items()},
                     comma=comma, unit=unit, currency=currency)  # fmt: skip
        if isinstance(found, RowFault):
            faults.append(found)
            continue
        key = (found.words, tuple(round(size, 4) for size in found.sizes), found.per)
        double = first.setdefault(key, found)
        if double is found or found.per == "job":
            rows.append(found)
        else:
            faults.append(RowFault(line, found.text, f"row {double.line} has the same part"))
    if comma["price"]:
        notes.append("commas are for decimals")
    taken = {key: str(heads[at]).strip() for key, at in columns.items()}
    return PriceList(tuple(rows), tuple(faults), taken, tuple(notes), table.source)


def _heads(table: CellTable, file: str) -> tuple[int, dict[str, int], list[str]]:
    """Find the row of heads, which column is what, and what was left out there."""
    found = _head_row(table)
    if found is not None:
        return found
    seen = ", ".join(str(cell).strip() for cell in table.rows[0][1] if str(cell).strip())
    fault = Fault(
        "price list",
        f"no row of heads; the first row says {seen[:80]!r}",
        f"{A_PRICE_LIST} with heads such as part, size, unit, price, hours",
        "name the columns of parts and prices in one row",
    )
    raise InputError([fault], file)


def _head_row(table: CellTable) -> tuple[int, dict[str, int], list[str]] | None:
    for number, (_, row) in enumerate(table.rows[:HEAD_ROWS]):
        columns, notes = _columns(row)
        if "price" in columns and ("name" in columns or "part" in columns):
            return number, columns, notes
    return None


def _columns(row: tuple[Cell, ...]) -> tuple[dict[str, int], list[str]]:
    found: dict[str, int] = {}
    notes = []
    for at, cell in enumerate(row):
        meaning = "" if isinstance(cell, float) else _meaning(cell)
        if meaning in ("", "skip"):
            continue
        if meaning in found:
            used, left = _text(row[found[meaning]]), _text(cell)
            notes.append(f"of the columns '{used}' and '{left}' the first is used")
        else:
            found[meaning] = at
    return found, notes


def _meaning(head: str) -> str:
    """What a head names: of several words the one that stands first in `HEADS`."""
    plain = head.casefold()
    if re.search(r"part\s*(?:no|number|#)", plain):
        return "skip"
    for meaning, words in HEADS:
        if re.search(rf"(?<!\w)(?:{words})(?!\w)", plain):
            return meaning
    return ""


def _unit_of_head(head: str) -> str:
    found = re.search(r"\b(mm|cm|inch|inches|in|ft|m)\b\.?\s*\)?\s*$", head.casefold())
    return found[1] if found else ""


def _at(row: tuple[Cell, ...], at: int | None) -> Cell:
    return row[at] if at is not None and at < len(row) else ""


def _text(cell: Cell) -> str:
    return f"{cell:g}" if isinstance(cell, float) else " ".join(cell.split())


def _row(
    line: int, cells: dict[str, Cell], *, comma: dict[str, bool], unit: str, currency: str
) -> PriceRow | RowFault:
    """Read one row, or say why it is not used."""
    name = _text(cells.get("part", "")) or _text(cells.get("name", ""))
    shown = name or ", ".join(_text(cell) for cell in cells.values() if _text(cell))
    priced = cells.get("price", "")
    other = other_currency(priced, currency)
    price = amount(priced, comma["price"])
    sold = pack(_text(cells.get("unit", "")))
    size = sizes(_text(cells.get("size", "")), unit)
    work = cells.get("hours", "")
    labour = 0.0 if not _text(work) else hours(work, comma["hours"])
    why = ""
    if not name or not re.search(r"\w", name):
        why = "no name"
    elif not _text(priced):
        why = "no price"
    elif other:
        why = f"its price {_text(priced)!r} is in {other}, the job's currency is {currency}"
    elif price is None or not 0.0 <= price <= LARGEST_PRICE:
        why = f"its price {_text(priced)!r} is no amount"
    elif sold is None:
        why = f"its unit {_text(cells['unit'])!r} is not known"
    elif size is None:
        why = f"its size {_text(cells['size'])!r} can't be read"
    elif labour is None:
        why = f"its hours {_text(work)!r} are no number"
    if why or price is None or sold is None or size is None or labour is None:
        return RowFault(line, shown[:80], why)
    words, inside = _name_and_size(name)
    return PriceRow(line, name, words, size or inside, *sold, price=price, hours=labour)


_NUMBER = r"\d+(?:[\s-]\d+/\d+|\.\d+|/\d+)?"
_INCH = rf"{_NUMBER}\s*(?:inch(?:es)?\b|in\b|\"|”|″|mm\b)"
_INSIDE = re.compile(
    rf"(?<![\w./-])({_INCH}(?:\s*[x×]\s*{_INCH})*"
    rf"|{_NUMBER}\s*(?:ft|')?\s*[x×]\s*{_NUMBER}\s*(?:ft\b|')?)",
    re.IGNORECASE,
)
"""A size in a name: '2 in', '2" x 1-1/2"', '4x12', but not the 90 of an elbow."""


def _name_and_size(name: str) -> tuple[frozenset[str], tuple[float, ...]]:
    """Words of a name, and the size that stands in it."""
    found = _INSIDE.search(name)
    size = sizes(found[1]) if found else None
    if not found or not size:
        return part_words(name), ()
    return part_words(name[: found.start()] + " " + name[found.end() :]), size
