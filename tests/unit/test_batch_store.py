"""A batch on disk: a part is whole or not there, another batch is refused, nothing is doubled."""

from __future__ import annotations

import json
from pathlib import Path

import pyarrow.parquet as pq
import pytest

from noonwater.app.batch_plan import Chunk
from noonwater.app.batch_row import ChunkResult
from noonwater.app.batch_store import Store
from noonwater.app.batch_table import Row
from noonwater.core.errors import InputError

FIELDS = ("pool.target",)
ABOUT = {"version": "0.1.0", "table": "a", "base": "b"}


def chunk_of(number: int, *rows: int, key: str = "key") -> Chunk:
    return Chunk(number, tuple(Row(row, ()) for row in rows), {}, f"{key}{number}")


def result_of(chunk: Chunk) -> ChunkResult:
    fault = {"field": "pool.target", "given": "84", "allowed": "a unit", "remedy": ""}
    rows = tuple(
        {"row": row.number, "pool.target": "84 °F", "done": False, "refusals": [fault]}
        for row in chunk.rows
    )
    return ChunkResult(chunk.number, rows, 0, "0.1.0")


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "out", FIELDS, ABOUT)


def test_a_part_is_held_once_it_is_whole_and_of_these_rows(store: Store) -> None:
    chunk = chunk_of(0, 2, 1)
    assert not store.holds(chunk)
    store.keep(chunk, result_of(chunk))
    assert store.holds(chunk)
    assert not store.holds(chunk_of(0, 2, 1, key="other"))
    assert not store.holds(chunk_of(0, 2))
    assert not store.holds(chunk_of(1, 2, 1))


@pytest.mark.parametrize("left", [0, 4, 0.5, 0.99])
def test_a_part_cut_short_is_worked_off_again(store: Store, left: float) -> None:
    chunk = chunk_of(0, 1, 2, 3)
    store.keep(chunk, result_of(chunk))
    part = next(store.folder.glob("parts/*.parquet"))
    raw = part.read_bytes()
    part.write_bytes(raw[: left if isinstance(left, int) else int(left * len(raw))])
    assert not store.holds(chunk)


def test_the_whole_is_in_the_order_of_the_rows_and_each_once(store: Store) -> None:
    chunks = [chunk_of(0, 3, 1), chunk_of(1, 4, 2), chunk_of(2, 6, 5)]
    for chunk in (*chunks, chunks[0]):
        store.keep(chunk, result_of(chunk))
    left_by_a_kill = store.folder / "parts" / "0000001.parquet.99.unfinished"
    left_by_a_kill.write_bytes(b"half")
    assert not store.is_finished("plan")
    store.finish([range(2), range(2, 3)], "plan")
    assert store.is_finished("plan")
    assert not store.is_finished("another plan")
    found = pq.read_table(store.results)
    assert found["row"].to_pylist() == [1, 2, 3, 4, 5, 6]
    assert found["refusals"][0].as_py()[0]["field"] == "pool.target"
    assert sorted(path.name for path in store.folder.iterdir()) == ["batch.json", "results.parquet"]


def test_a_write_that_is_broken_off_leaves_nothing(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    chunk, write = chunk_of(0, 1, 2), pq.ParquetWriter.write_table

    def broken_off(writer: pq.ParquetWriter, table: object) -> None:
        write(writer, table)
        raise KeyboardInterrupt

    with monkeypatch.context() as patched, pytest.raises(KeyboardInterrupt):
        patched.setattr(pq.ParquetWriter, "write_table", broken_off)
        store.keep(chunk, result_of(chunk))
    assert not store.holds(chunk)
    assert not list((store.folder / "parts").iterdir())
    store.keep(chunk, result_of(chunk))
    with monkeypatch.context() as patched, pytest.raises(KeyboardInterrupt):
        patched.setattr(pq.ParquetWriter, "write_table", broken_off)
        store.finish([range(1)], "plan")
    assert not store.is_finished("plan")
    assert store.holds(chunk)


@pytest.mark.parametrize("name", ["version", "table", "base"])
def test_another_batch_is_refused(store: Store, name: str) -> None:
    Store(store.folder, FIELDS, ABOUT)
    with pytest.raises(InputError, match=r"holds another batch: .* differ"):
        Store(store.folder, FIELDS, {**ABOUT, name: "other"})


def test_a_folder_of_something_else_is_refused(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("keep me", encoding="utf-8")
    with pytest.raises(InputError, match="no batch's"):
        Store(tmp_path, FIELDS, ABOUT)
    (tmp_path / "batch.json").write_text("[]", encoding="utf-8")
    with pytest.raises(InputError, match="holds another batch"):
        Store(tmp_path, FIELDS, ABOUT)


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(InputError, match="--out"):
        Store(tmp_path / "file" / "out", FIELDS, ABOUT)


def test_what_it_is_of_stands_in_the_folder(store: Store) -> None:
    known = json.loads((store.folder / "batch.json").read_text(encoding="utf-8"))
    assert known == {"format": "1", **ABOUT}
