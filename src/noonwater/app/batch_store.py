"""A batch on disk: what it is of, a part for each chunk that is done, in the end one table.

A part is written beside its place and renamed into it, so a part that is there is whole, however
the run ended; and since it lies under its chunk's number, nothing is there twice.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.app.batch_plan import Chunk
from noonwater.app.batch_row import SUMS, ChunkResult, month_columns
from noonwater.core.errors import Fault, InputError

if TYPE_CHECKING:
    import pyarrow as pa

ABOUT, RESULTS, CHART, PARTS = "batch.json", "results.parquet", "batch.svg", "parts"
FORMAT = 1
KEY = b"noonwater"
"""Of the hash of what a Parquet file was computed from, in its metadata."""
WORDS = {
    "format": "the folder's format",
    "version": "Noonwater's version",
    "table": "the table",
    "base": "the base job",
}


class Store:
    """The folder of one batch.

    Parameters
    ----------
    folder : Path
        Made where it isn't there.
    fields : sequence of str
        Heads of the table that are fields of a job.
    about : dict
        What the batch is of, by `WORDS`: another batch in the folder is refused.

    Raises
    ------
    InputError
        Where the folder holds another batch, or can't be written to.
    """

    def __init__(self, folder: Path, fields: Sequence[str], about: dict[str, str]) -> None:
        self.folder = folder
        self._about = {"format": str(FORMAT), **about}
        self._schema = results_schema(fields)
        self._parts = folder / PARTS
        with _told_of(folder):
            folder.mkdir(parents=True, exist_ok=True)
            self._check_about()

    @property
    def results(self) -> Path:
        """The table of all rows, once there is one."""
        return self.folder / RESULTS

    def holds(self, chunk: Chunk) -> bool:
        """Whether a chunk is done: its part is whole and of just these rows, jobs and weather."""
        import pyarrow.parquet as pq

        try:
            known = pq.read_metadata(self._part(chunk.number))
        except (OSError, ValueError):
            return False
        key = (known.metadata or {}).get(KEY, b"")
        return bool(key == chunk.key.encode() and known.num_rows == len(chunk.rows))

    def keep(self, chunk: Chunk, result: ChunkResult) -> None:
        """Write a chunk's part."""
        import pyarrow as pa

        rows = pa.Table.from_pylist(list(result.rows), self._schema)
        with _told_of(self.folder):
            self._parts.mkdir(exist_ok=True)
            self._write(self._part(chunk.number), [rows], chunk.key)

    def is_finished(self, key: str) -> bool:
        """Whether the table of all rows is there and of the plan with this key."""
        import pyarrow.parquet as pq

        try:
            known = pq.read_metadata(self.results).metadata or {}
        except (OSError, ValueError):
            return False
        return bool(known.get(KEY, b"") == key.encode())

    def finish(self, stretches: Iterable[range], key: str) -> None:
        """Put all parts into one table in the order of the rows, then clear them away.

        Parameters
        ----------
        stretches : iterable of range
            Numbers of the chunks that make each.
        key : str
            Of the plan.
        """
        with _told_of(self.folder):
            self._write(self.results, (self._stretch(numbers) for numbers in stretches), key)
            self.clear_parts()

    def clear_parts(self) -> None:
        """Remove the parts of a finished batch, and what a kill left half written."""
        for path in (*self._parts.glob("*.parquet*"), *self.folder.glob("*.unfinished")):
            path.unlink(missing_ok=True)
        with suppress(OSError):
            self._parts.rmdir()

    def _stretch(self, numbers: range) -> pa.Table:
        import pyarrow as pa
        import pyarrow.parquet as pq

        parts = [pq.read_table(self._part(number)) for number in numbers]
        return pa.concat_tables(parts).sort_by("row")

    def _part(self, number: int) -> Path:
        return self._parts / f"{number:07d}.parquet"

    def _write(self, path: Path, tables: Iterable[pa.Table], key: str) -> None:
        import pyarrow.parquet as pq

        # A name of this process's own: two runs at once write the same rows, each for itself.
        beside = path.with_name(f"{path.name}.{os.getpid()}.unfinished")
        schema = self._schema.with_metadata({KEY: key.encode()})
        try:
            with beside.open("wb") as file:
                with pq.ParquetWriter(file, schema) as writer:
                    for table in tables:
                        writer.write_table(table.replace_schema_metadata(schema.metadata))
                file.flush()
                os.fsync(file.fileno())
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)

    def _check_about(self) -> None:
        path = self.folder / ABOUT
        if not path.exists():
            if any(self.folder.iterdir()):
                raise InputError([_another("files that are no batch's", self.folder)])
            beside = path.with_suffix(f".{os.getpid()}.unfinished")
            beside.write_text(json.dumps(self._about, indent=2) + "\n", encoding="utf-8")
            beside.replace(path)
            return
        try:
            known = json.loads(path.read_text(encoding="utf-8"))
            other = [word for name, word in WORDS.items() if known[name] != self._about[name]]
        except (ValueError, KeyError, TypeError):
            other = list(WORDS.values())
        if other:
            words = f"{' and '.join(other)} {'differs' if len(other) == 1 else 'differ'}"
            raise InputError([_another(f"another batch: {words}", self.folder)])


def results_schema(fields: Sequence[str]) -> pa.Schema:
    """Columns of the results: the row, what was given, the figures, the findings.

    Parameters
    ----------
    fields : sequence of str
        Heads of the table that are fields of a job; they stand in the results as written.
    """
    import pyarrow as pa

    refusal = pa.struct([(name, pa.string()) for name in ("field", "given", "allowed", "remedy")])
    finding = pa.struct([(name, pa.string()) for name in ("rule", "severity", "where")])
    columns: dict[str, pa.DataType] = {"row": pa.int64(), "name": pa.string(), "job": pa.string()}
    columns |= dict.fromkeys(fields, pa.string())
    columns |= {"done": pa.bool_(), "refusals": pa.list_(refusal)}
    columns |= dict.fromkeys((*SUMS, *month_columns()), pa.float64())
    columns |= {"currency": pa.string(), "faults": pa.int64(), "cautions": pa.int64()}
    columns |= {"findings": pa.list_(finding)}
    columns |= dict.fromkeys(("weather_source", "inputs_hash", "version"), pa.string())
    return pa.schema(list(columns.items()))


@contextmanager
def _told_of(folder: Path) -> Iterator[None]:
    """Say an error of the disk in the words of the command."""
    try:
        yield
    except OSError as error:
        fault = Fault("--out", f"'{folder}'", "a folder that can be written to", str(error))
        raise InputError([fault]) from None


def _another(given: str, folder: Path) -> Fault:
    remedy = "name another folder, or remove this one with its results"
    return Fault("--out", f"'{folder}' holds {given}", "an empty folder, or this batch's", remedy)
