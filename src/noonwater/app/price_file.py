"""A price list as a table of cells: CSV as spreadsheets save it, or XLSX."""

from __future__ import annotations

import csv
import io
import warnings
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from noonwater.core.errors import Fault, InputError

LARGEST = 5_000_000
"""[bytes] A list of ten thousand rows is a tenth of this."""
UNPACKED = 50_000_000
"""[bytes] Most that an XLSX file may hold when it is unpacked."""
MOST_ROWS, MOST_COLUMNS = 20_000, 60
A_PRICE_LIST = "a price list as CSV or XLSX"

Cell = str | float
"""A number as a spreadsheet holds it, or text."""
_Sheet = tuple[list[tuple[int, tuple[Cell, ...]]], str, str]


@dataclass(frozen=True)
class CellTable:
    """Cells of one sheet.

    Attributes
    ----------
    rows : tuple of (int, tuple of Cell)
        Number of the row in the file and its cells; empty rows left out.
    source : str
        File, and the sheet where there are several.
    separator : str
        Between the cells of a CSV file; "" for XLSX.
    """

    rows: tuple[tuple[int, tuple[Cell, ...]], ...]
    source: str
    separator: str


def read_cells(path: Path | str) -> tuple[CellTable, ...]:
    """Read a price list's cells, sheet by sheet.

    Parameters
    ----------
    path : Path or str
        CSV or XLSX, told by what the file holds.

    Returns
    -------
    tuple of CellTable
        One or more; of an XLSX file each sheet that holds anything.

    Raises
    ------
    InputError
        Where it can't be read.
    """
    path = Path(path)
    raw = _bytes_of(path)
    sheets = _workbook(raw, path) if raw.startswith(b"PK") else [_text_rows(raw, path)]
    tables = []
    for rows, source, separator in sheets:
        filled = [(line, row) for line, row in rows if any(str(cell).strip() for cell in row)]
        if filled:
            tables.append(CellTable(tuple(filled), source, separator))
    if not tables:
        raise _refused(path, "empty")
    return tuple(tables)


def _refused(path: Path, given: str, remedy: str = "") -> InputError:
    return InputError([Fault("price list", given, A_PRICE_LIST, remedy)], str(path))


def _bytes_of(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise _refused(path, "there is no such file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _refused(path, "a folder" if path.is_dir() else f"can't be read: {reason}") from None
    if len(raw) > LARGEST:
        raise _refused(path, f"larger than {LARGEST // 1000} kB")
    if raw.startswith(b"\xd0\xcf\x11\xe0"):
        raise _refused(path, "a spreadsheet of the old binary form", "save it as XLSX or CSV")
    return raw


def _text_rows(raw: bytes, path: Path) -> _Sheet:
    text = _decoded(raw)
    if "\x00" in text:
        raise _refused(path, "no text: it holds null bytes")
    head = text.splitlines()[:20]
    # By lines, not by signs: names and decimal commas hold more commas than a short row has cells.
    separator = max(";\t|,", key=lambda mark: sum(mark in line for line in head))
    reader = csv.reader(io.StringIO(text), delimiter=separator)
    rows: list[tuple[int, tuple[Cell, ...]]] = []
    try:
        for row in reader:
            rows.append((reader.line_num, tuple(row[:MOST_COLUMNS])))
            if len(rows) > MOST_ROWS:
                raise _refused(path, f"more than {MOST_ROWS} rows")
    except csv.Error as error:
        raise _refused(path, f"row {reader.line_num + 1} is no CSV: {error}") from None
    return rows, path.name, separator


def _decoded(raw: bytes) -> str:
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        # What spreadsheets on Windows save as plain CSV; every byte means something in it.
        return raw.decode("cp1252", errors="replace")


def _workbook(raw: bytes, path: Path) -> list[_Sheet]:
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            if sum(item.file_size for item in packed.infolist()) > UNPACKED:
                raise _refused(path, f"more than {UNPACKED // 1_000_000} MB when unpacked")
        with warnings.catch_warnings():
            # It warns of what it leaves out: print areas, rules of colour, checks of input.
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
            several = len(book.worksheets) > 1
            return [
                (
                    _sheet_rows(each, path),
                    f"{path.name}, {each.title}" if several else path.name,
                    "",
                )
                for each in book.worksheets
            ]
    except InputError:
        raise
    except Exception as error:
        # Any byte of the file may be wrong, and the library raises whatever it meets there.
        raise _refused(path, f"no XLSX file: {type(error).__name__}", "save it anew") from None


def _sheet_rows(sheet: Any, path: Path) -> list[tuple[int, tuple[Cell, ...]]]:
    rows: list[tuple[int, tuple[Cell, ...]]] = []
    cells = sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True)
    for line, row in enumerate(cells, start=1):
        found = tuple(_cell(value) for value in row)
        if any(found_cell != "" for found_cell in found):
            rows.append((line, found))
        if line > MOST_ROWS:
            raise _refused(path, f"more than {MOST_ROWS} rows")
    return rows


def _cell(value: object) -> Cell:
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value)
    return float(value) if isinstance(value, int | float) else str(value)
