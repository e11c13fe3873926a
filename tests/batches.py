"""Tables of options for the tests of batches, and what single runs make of their rows."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterable, Mapping
from itertools import product
from pathlib import Path
from typing import Any

from noonwater import __version__
from noonwater.app.batch_plan import Chunk, chunks_of, job_text_of
from noonwater.app.batch_row import ChunkResult, run_chunk
from noonwater.app.batch_table import open_table
from noonwater.app.demos import FOLDER

BASE = FOLDER / "orchard-hill.toml"
HEADS = ("pool.target", "pump.solar_speed", "controls.on_difference")
"""One hill of options: three targets and two speeds make six circuits."""


def options(count: int) -> list[tuple[str, ...]]:
    targets = ("80 °F", "82 °F", "84 °F")
    speeds = ("2400 rpm", "2800 rpm")
    differences = (f"{6 + 0.5 * i} °F" for i in range(200))
    rows = [row[::-1] for row in product(differences, speeds, targets)]
    return [(target, speed, difference) for target, speed, difference in rows[:count]]


def write_csv(path: Path, rows: Iterable[tuple[str, ...]], heads: tuple[str, ...] = HEADS) -> Path:
    lines = [",".join(each) for each in (heads, *rows)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def worked_off(table: Path, base: Path = BASE) -> list[dict[str, Any]]:
    """All rows in this one process, without files and workers between, in order."""
    stretches = chunks_of(open_table(table), job_text_of(base))
    rows = [row for stretch in stretches for chunk in stretch for row in run_chunk(chunk).rows]
    return sorted(rows, key=lambda row: row["row"])


def read_results(folder: Path) -> list[dict[str, Any]]:
    import pyarrow.parquet as pq

    found: list[dict[str, Any]] = pq.read_table(folder / "results.parquet").to_pylist()
    return found


def assert_same(found: list[dict[str, Any]], expected: list[Mapping[str, Any]]) -> None:
    """Every row once and in order, every figure to its last digit."""
    assert [row["row"] for row in found] == [row["row"] for row in expected]
    for one, other in zip(found, expected, strict=True):
        assert {key: value for key, value in one.items() if value is not None} == {
            key: value for key, value in other.items() if value is not None
        }


def quick_work(chunk: Chunk) -> ChunkResult:
    """Stand in for the engine where only the handing out is tested."""
    rows = tuple({"row": row.number, "done": True} for row in chunk.rows)
    return ChunkResult(chunk.number, rows, 0, __version__)


def fatal_work(chunk: Chunk, folder: Path, times: int) -> ChunkResult:
    """The same, but chunk 2 takes its process down as often as said."""
    marks = len(list(folder.glob("fell-*")))
    if chunk.number == 2 and marks < times:
        (folder / f"fell-{marks}").touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return quick_work(chunk)
