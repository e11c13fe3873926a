"""A batch's table: each row a job with some fields set otherwise, read as a stream."""

from __future__ import annotations

import csv
import hashlib
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from math import isnan
from pathlib import Path
from typing import Any

from noonwater.app.job_faults import nearest
from noonwater.app.job_option import steps_of, value_of
from noonwater.app.job_tables import Slot, slots
from noonwater.core.errors import Fault, InputError
from noonwater.core.unit_text import quoted
from noonwater.model.job import Job

JOB = "job"
"""Head of the column that names each row's own job file."""
TAKEN_OUT = "-"
"""Cell that takes a field out of the job, as `compare` shows one that is left out."""
A_TABLE = "a table in CSV or Parquet, its heads fields of a job"
KEYS_SHOWN = 30
BLOCK = 1 << 20
ROWS_AT_ONCE = 1024

Value = str | int | float | bool | list[Any] | dict[str, Any] | None


@dataclass(frozen=True)
class Row:
    """One row of a table.

    Attributes
    ----------
    number : int
        From 1, the first below the heads; lines without anything in them are not counted.
    cells : tuple of (str, value)
        Field and what the table says of it, without the empty ones.
    job : str
        The row's own job file, as written; "" where it has none.
    trouble : str
        Why it can't be read as a row; "" for a sound one.
    """

    number: int
    cells: tuple[tuple[str, Value], ...]
    job: str = ""
    trouble: str = ""


@dataclass(frozen=True)
class Table:
    """A table of rows on disk.

    Attributes
    ----------
    path : Path
        Where it lies.
    heads : tuple of str
        Of its columns, without empty ones at the end.
    parquet : bool
        Whether it is Parquet, else CSV.
    """

    path: Path
    heads: tuple[str, ...]
    parquet: bool

    @property
    def fields(self) -> tuple[str, ...]:
        """Heads that are fields of a job."""
        return tuple(head for head in self.heads if head != JOB)

    def rows(self) -> Iterator[Row]:
        """Read the rows one after the other; a bad one says why and the next ones follow."""
        return _parquet_rows(self) if self.parquet else _csv_rows(self)

    def fingerprint(self) -> str:
        """Hash of the file's bytes."""
        digest = hashlib.sha256()
        with self.path.open("rb") as file:
            while block := file.read(BLOCK):
                digest.update(block)
        return digest.hexdigest()


def open_table(path: Path | str) -> Table:
    """Open a table and check its heads.

    Parameters
    ----------
    path : Path or str
        CSV with commas, semicolons or tabs, or Parquet.

    Returns
    -------
    Table

    Raises
    ------
    InputError
        With every head that is no field of a job.
    """
    path = Path(path)
    try:
        with path.open("rb") as file:
            start = file.read(4)
        parquet = start == b"PAR1"
        heads = _parquet_heads(path) if parquet else _csv_heads(path, start)
    except (OSError, ValueError, csv.Error) as error:
        if isinstance(error, FileNotFoundError):
            given = "there is none of this name"
        elif path.is_dir():
            given = "a folder"
        else:
            given = f"can't be read: {getattr(error, 'strerror', None) or error}"
        raise InputError([Fault("the file", given, A_TABLE)], str(path)) from None
    faults = _head_faults(heads)
    if faults:
        raise InputError(faults, str(path))
    return Table(path, heads, parquet)


def setting_of(value: Value) -> Any:
    """A cell as a job file's tables would hold it; None takes the field out."""
    if isinstance(value, str):
        return None if value == TAKEN_OUT else value_of(value)
    # A column of whole numbers with gaps comes as floats from many programs.
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def _head_faults(heads: Sequence[str]) -> list[Fault]:
    if not any(heads):
        return [Fault("the file", "no heads", A_TABLE, 'such as "pump.solar_speed,pool.target"')]
    counts = Counter(heads)
    faults = [
        Fault(f"head {quoted(head)}", f"there {count} times", "each field once")
        for head, count in counts.items()
        if count > 1
    ]
    found = (_field_fault(head) for head in counts if head != JOB)
    return [*faults, *(fault for fault in found if fault is not None)]


def _field_fault(head: str) -> Fault | None:
    """What is wrong with a head; None for the path of a field."""
    name, steps = f"head {quoted(head)}", steps_of(head)
    if not steps:
        allowed = 'a field of a job, such as "pump.solar_speed" or "array.banks[0].panels"'
        return Fault(name, "no path of a field", allowed)
    place = [Slot(Job)]
    for step in steps:
        if isinstance(step, int):
            place = [slot.item for slot in place if slot.item is not None]
            if not place:
                return Fault(name, f"no list at [{step}]", "a field of a job")
            continue
        known: dict[str, list[Slot]] = {}
        for model in (model for slot in place for model in slot.models):
            for key, slot in slots(model).items():
                known.setdefault(key, []).append(slot)
        if step not in known:
            allowed = ", ".join(list(known)[:KEYS_SHOWN]) or "nothing further"
            return Fault(name, f"no such key: {step}", allowed, nearest(step, known))
        place = known[step]
    return None


def _csv_heads(path: Path, start: bytes) -> tuple[str, ...]:
    if start[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise ValueError("text in UTF-16, save it as UTF-8")
    with path.open(encoding="utf-8-sig", errors="surrogateescape") as file:
        first = next(file, "")
    heads = [head.strip() for head in _split(first, _delimiter(first))]
    while heads and not heads[-1]:
        heads.pop()
    return tuple(heads)


def _csv_rows(table: Table) -> Iterator[Row]:
    number = 0
    with table.path.open(encoding="utf-8-sig", errors="surrogateescape") as file:
        mark = _delimiter(next(file, ""))
        # Line by line: a quote that is never closed then costs its own row, not all below it.
        for line in file:
            if line.strip(f"{mark} \t\r\n"):
                number += 1
                yield _csv_row(table, number, line, mark)


def _csv_row(table: Table, number: int, line: str, mark: str) -> Row:
    if any("\udc80" <= sign <= "\udcff" for sign in line):
        # No UTF-8: a spreadsheet on Windows writes "°" so where it is not asked for that.
        try:
            line = line.encode("utf-8", "surrogateescape").decode("cp1252")
        except UnicodeDecodeError:
            return Row(number, (), trouble="a byte that is no sign; save the table as UTF-8")
    try:
        cells = [cell.strip() for cell in _split(line, mark)]
    except csv.Error as error:
        return Row(number, (), trouble=f"no row of CSV: {error}")
    while len(cells) > len(table.heads) and not cells[-1]:
        cells.pop()
    if len(cells) != len(table.heads):
        return Row(number, (), trouble=f"{len(cells)} cells under {len(table.heads)} heads")
    return _row(number, dict(zip(table.heads, cells, strict=True)))


def _split(line: str, mark: str) -> list[str]:
    return next(csv.reader([line], delimiter=mark, strict=True), [])


def _delimiter(heads: str) -> str:
    return max((",", ";", "\t"), key=heads.count)


def _parquet_heads(path: Path) -> tuple[str, ...]:
    import pyarrow.parquet as pq

    with pq.ParquetFile(path) as file:
        return tuple(name.strip() for name in file.schema_arrow.names)


def _parquet_rows(table: Table) -> Iterator[Row]:
    import pyarrow as pa
    import pyarrow.parquet as pq

    number = 0
    try:
        with pq.ParquetFile(table.path) as file:
            for batch in file.iter_batches(batch_size=ROWS_AT_ONCE):
                for values in zip(*(column.to_pylist() for column in batch.columns), strict=True):
                    number += 1
                    yield _row(number, dict(zip(table.heads, values, strict=True)))
    except (OSError, pa.ArrowException) as error:
        given = f"broken after row {number}: {str(error).splitlines()[0]}"
        raise InputError([Fault("the file", given, A_TABLE)], str(table.path)) from None


def _row(number: int, values: dict[str, Any]) -> Row:
    cells = {head: _plain(value) for head, value in values.items()}
    job = cells.pop(JOB, None)
    kept = tuple((head, value) for head, value in cells.items() if not _empty(value))
    return Row(number, kept, "" if _empty(job) else str(job))


def _plain(value: Any) -> Any:
    """A cell without blanks around it; days and times of day as a job file writes them."""
    if isinstance(value, str):
        return value.strip()
    if isinstance(value, date) and not isinstance(value, datetime):
        return f"{value:%m-%d}"
    return f"{value:%H:%M}" if isinstance(value, time) else value


def _empty(value: Any) -> bool:
    return value is None or value == "" or (isinstance(value, float) and isnan(value))
