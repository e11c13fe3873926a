"""The cut of a batch into chunks: each row once, neighbours together, always the same."""

from __future__ import annotations

import random
from itertools import pairwise
from pathlib import Path

import pytest

from noonwater.app import batch_plan
from noonwater.app.batch_plan import Chunk, chunks_of, job_text_of, plan_of
from noonwater.app.batch_table import open_table
from noonwater.app.demos import demo_text
from tests.batches import BASE, HEADS, options, write_csv

BASE_TEXT = job_text_of(BASE)


def chunks(path: Path) -> list[Chunk]:
    return [chunk for stretch in chunks_of(open_table(path), BASE_TEXT) for chunk in stretch]


@pytest.mark.parametrize("count", [1, 15, 16, 17, 700])
def test_each_row_lies_in_one_chunk(tmp_path: Path, count: int) -> None:
    rows = options(count)
    random.Random(3).shuffle(rows)
    found = chunks(write_csv(tmp_path / "options.csv", rows))
    assert [chunk.number for chunk in found] == list(range(len(found)))
    assert sorted(row.number for chunk in found for row in chunk.rows) == list(range(1, count + 1))
    assert max(len(chunk.rows) for chunk in found) <= batch_plan.LARGEST
    assert len({chunk.key for chunk in found}) == len(found)


def test_rows_of_one_circuit_are_neighbours(tmp_path: Path) -> None:
    rows = options(600)
    random.Random(3).shuffle(rows)
    found = chunks(write_csv(tmp_path / "options.csv", rows))
    in_turn = [dict(row.cells) for chunk in found for row in chunk.rows]
    circuits = [(row["pool.target"], row["pump.solar_speed"]) for row in in_turn]
    changes = sum(one != other for one, other in pairwise(circuits))
    assert changes == 5


def test_stretches_bound_what_is_held(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(batch_plan, "STRETCH", 100)
    table = open_table(write_csv(tmp_path / "options.csv", options(250)))
    stretches = list(chunks_of(table, BASE_TEXT))
    assert [sum(len(chunk.rows) for chunk in each) for each in stretches] == [100, 100, 50]
    for place, stretch in enumerate(stretches):
        numbers = [row.number for chunk in stretch for row in chunk.rows]
        assert set(numbers) <= set(range(100 * place + 1, 100 * place + 101))
    plan = plan_of(table, BASE_TEXT)
    assert plan.rows == 250
    assert [list(numbers) for numbers in plan.stretches] == [
        [chunk.number for chunk in stretch] for stretch in stretches
    ]


def test_a_key_moves_with_all_that_its_rows_depend_on(tmp_path: Path) -> None:
    text = demo_text("orchard-hill")
    weather = tmp_path / "place.epw"
    weather.write_text("one year", encoding="utf-8")
    job = tmp_path / "own.toml"

    def key(rows: list[tuple[str, ...]], own: str = text) -> str:
        job.write_text(own, encoding="utf-8")
        heads = (*HEADS, "job", "weather.file")
        return plan_of(open_table(write_csv(tmp_path / "t.csv", rows, heads)), BASE_TEXT).key

    one = [("80 °F", "2400 rpm", "6 °F", "own.toml", "place.epw")]
    first = key(one)
    assert key(one) == first
    assert key([("81 °F", *one[0][1:])]) != first
    assert key(one, text.replace("82 °F", "83 °F")) != first
    assert key([(*one[0][:3], "", "")]) != first
    weather.write_text("another year", encoding="utf-8")
    batch_plan._content.cache_clear()
    assert key(one) != first


def test_a_job_that_cannot_be_read_is_told_with_its_rows(tmp_path: Path) -> None:
    (chunk,) = chunks(write_csv(tmp_path / "t.csv", [("none.toml", "80 °F")], ("job", HEADS[0])))
    assert chunk.jobs["none.toml"].faults[0].given == "there is none of this name"
