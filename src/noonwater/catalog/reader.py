"""Reads the catalog's tables into frozen dataclasses, and answers a wrong name with the right ones.

Each table has a column ``source`` and a column ``memory`` (yes or no), so a result can count the
figures from memory that it leans on.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import fields
from functools import cache
from importlib.resources import files
from typing import Any, Protocol, TypeVar, get_type_hints

from noonwater.core.errors import Fault, InputError


class Named(Protocol):
    """Anything with a name."""

    @property
    def name(self) -> str:
        """Name that a job uses."""
        ...


Row = TypeVar("Row")
NamedRow = TypeVar("NamedRow", bound=Named)


def table(file: str, row_type: type[Row]) -> tuple[Row, ...]:
    """Read a table of the catalog.

    Parameters
    ----------
    file : str
        Name without folder.
    row_type : type
        Frozen dataclass whose fields are the columns.

    Returns
    -------
    tuple
        Its rows, in the file's order.
    """
    key: Any = row_type
    rows: tuple[Row, ...] = _rows(file, key)
    return rows


@cache
def _rows(file: str, row_type: type[Any]) -> Any:
    text = files("noonwater.catalog").joinpath(file).read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    hints = get_type_hints(row_type)
    names = [field.name for field in fields(row_type)]
    return tuple(
        row_type(**{name: _cell(row[name], hints[name]) for name in names})
        for row in csv.DictReader(lines)
    )


def _cell(text: str, kind: Any) -> Any:
    if kind is bool:
        return {"yes": True, "no": False}[text]
    if kind is str:
        return text
    if text == "":
        return None
    return int(text) if kind is int else float(text)


def named(rows: Iterable[NamedRow], name: str, field: str, what: str) -> NamedRow:
    """Find a row by its name.

    Parameters
    ----------
    rows : iterable
        Rows of one table.
    name : str
        Wanted name.
    field : str
        Path of the job's field that holds it, for the message.
    what : str
        Word for such a part, for the message.

    Returns
    -------
    row
        The row of that name.

    Raises
    ------
    InputError
        With the names that exist.
    """
    known = {row.name: row for row in rows}
    if name in known:
        return known[name]
    allowed = ", ".join(f"'{each}'" for each in known)
    raise InputError([Fault(field, f"no {what} is called '{name}'", allowed, "choose one of them")])
