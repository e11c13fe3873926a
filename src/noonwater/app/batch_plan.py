"""A batch cut into chunks: rows of one place and one circuit together, a stretch of rows at a time.

The cut depends on the table alone, never on cores or on what is done already: a run that was killed
finds its chunks again.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import lru_cache
from itertools import islice
from pathlib import Path
from typing import Any

from noonwater.app.batch_table import Row, Table, setting_of
from noonwater.app.job_file import tables_of_text, text_of_file
from noonwater.core.errors import Fault, InputError

STRETCH = 4096
"""Rows that are put in order among themselves, and held at once."""
LARGEST, PARTS = 50, 16
"""A chunk has as many rows as makes this many chunks of a stretch, and no more than that many."""
PLACE = ("site", "weather", "roof")
PLUMBING = ("array", "pad", "pump", "own_pump", "own_panel", "pool.target")
"""What fields of one place, and of one circuit, begin with."""


@dataclass(frozen=True)
class JobText:
    """A job file as text, so that a chunk carries all that its rows need to another machine.

    Attributes
    ----------
    source : str
        Its path.
    text : str
        What it holds.
    faults : tuple of Fault
        Why it can't be read; then there is no text.
    """

    source: str
    text: str
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True)
class Chunk:
    """Rows that are worked off together and whose results lie in one file.

    Attributes
    ----------
    number : int
        From 0.
    rows : tuple of Row
        In the order in which they are worked off.
    jobs : dict
        Job file by a row's `job`; that of "" is the base.
    key : str
        Hash of all that its results depend on, the program's version aside.
    """

    number: int
    rows: tuple[Row, ...]
    jobs: dict[str, JobText]
    key: str


@dataclass(frozen=True)
class Plan:
    """A batch as it is cut.

    Attributes
    ----------
    rows : int
        Of the table.
    stretches : tuple of range
        Numbers of each stretch's chunks.
    key : str
        Hash of all chunks' keys.
    """

    rows: int
    stretches: tuple[range, ...]
    key: str


def plan_of(table: Table, base: JobText | None) -> Plan:
    """Count what `chunks_of` gives, for the same parameters."""
    digest, rows, stretches = hashlib.sha256(), 0, []
    for chunks in chunks_of(table, base):
        rows += sum(len(chunk.rows) for chunk in chunks)
        stretches.append(range(chunks[0].number, chunks[-1].number + 1))
        digest.update("".join(chunk.key for chunk in chunks).encode())
    return Plan(rows, tuple(stretches), digest.hexdigest())


def chunks_of(table: Table, base: JobText | None) -> Iterator[tuple[Chunk, ...]]:
    """Cut a table into chunks.

    Parameters
    ----------
    table : Table
        The rows.
    base : JobText, optional
        Job of the rows that name none.

    Yields
    ------
    tuple of Chunk
        Those of each stretch of rows.
    """
    rows, number = table.rows(), 0
    while stretch := list(islice(rows, STRETCH)):
        stretch.sort(key=_order)
        size = min(LARGEST, -(-len(stretch) // PARTS))
        chunks = []
        for first in range(0, len(stretch), size):
            chunks.append(_chunk(number, stretch[first : first + size], table, base))
            number += 1
        yield tuple(chunks)


def job_text_of(path: Path) -> JobText:
    """Read a job file as text; its faults are told with the rows that need it."""
    try:
        return JobText(str(path), text_of_file(path))
    except InputError as error:
        return JobText(str(path), "", error.faults)


def _order(row: Row) -> tuple[str, ...]:
    # By the cells as written: it costs a wrong neighbour at most where two texts mean one value.
    parts = {name: [cell for cell in row.cells if cell[0].startswith(name)] for name in PLACE}
    plumbing = [cell for cell in row.cells if cell[0].startswith(PLUMBING)]
    return (row.job, *(repr(part) for part in parts.values()), repr(plumbing))


def _chunk(number: int, rows: list[Row], table: Table, base: JobText | None) -> Chunk:
    jobs = {row.job: job_text_of(table.path.parent / row.job) for row in rows if row.job}
    if base is not None:
        jobs[""] = base
    files = sorted({name for row in rows if (name := _weather_file(row, jobs))})
    depends = {
        "rows": [asdict(row) for row in rows],
        "jobs": {name: (job.text, [str(f) for f in job.faults]) for name, job in jobs.items()},
        "weather": [(name, _content(name)) for name in files],
    }
    text = json.dumps(depends, sort_keys=True, default=str)
    return Chunk(number, tuple(rows), jobs, hashlib.sha256(text.encode()).hexdigest())


def _weather_file(row: Row, jobs: dict[str, JobText]) -> str:
    """Path of the weather file that a row's job names; "" where it names none."""
    job = jobs.get(row.job)
    if job is None:
        return ""
    cells, weather = dict(row.cells), _weather_table(job)
    if "weather" in cells:
        weather = setting_of(cells["weather"])
    named = cells.get("weather.file") or (weather or {}).get("file")
    return str(Path(job.source).parent / str(named)) if named else ""


@lru_cache(maxsize=256)
def _weather_table(job: JobText) -> Any:
    try:
        table = tables_of_text(job.text, job.source).get("weather")
    except InputError:
        return None
    return table if isinstance(table, dict) else None


@lru_cache(maxsize=4096)
def _content(name: str) -> str:
    try:
        return hashlib.sha256(Path(name).read_bytes()).hexdigest()
    except (OSError, ValueError):
        return ""
