"""Processes that work off chunks: a killed one is replaced, the environment is left as it was."""

from __future__ import annotations

import os
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from noonwater.app.batch_plan import Chunk
from noonwater.app.batch_table import Row
from noonwater.app.batch_workers import ENVIRONMENT, MOST_LOSSES, LocalWorkers, Work
from noonwater.core.errors import NoonwaterError
from tests.batches import fatal_work, quick_work

CHUNKS = [Chunk(number, (Row(number + 1, ()),), {}, str(number)) for number in range(12)]


@pytest.fixture(autouse=True)
def compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("noonwater.app.batch_workers.engine_is_compiled", lambda: True)


def worked_off(work: Work, cores: int = 2) -> Iterator[int]:
    workers = LocalWorkers(cores, work)
    try:
        for chunk in CHUNKS:
            workers.take(chunk)
            while workers.full:
                yield from (done.number for _, done in workers.finished())
        while workers.busy:
            yield from (done.number for _, done in workers.finished())
    finally:
        workers.stop()


def test_every_chunk_is_worked_off_once() -> None:
    before = dict(os.environ)
    assert sorted(worked_off(quick_work)) == list(range(12))
    assert dict(os.environ) == before


def test_the_chunks_of_a_killed_process_go_to_another(tmp_path: Path) -> None:
    work = partial(fatal_work, folder=tmp_path, times=2)
    assert sorted(worked_off(work)) == list(range(12))
    assert len(list(tmp_path.glob("fell-*"))) == 2


def test_processes_killed_while_they_wait_are_replaced() -> None:
    workers = LocalWorkers(2, quick_work)
    try:
        workers.take(CHUNKS[0])
        workers.finished()
        for process in workers._own_processes():
            process.kill()
            process.join()
        found = []
        for chunk in CHUNKS:
            workers.take(chunk)
            while workers.full:
                found += workers.finished()
        while workers.busy:
            found += workers.finished()
    finally:
        workers.stop()
    assert sorted(chunk.number for chunk, _ in found) == list(range(12))


def test_a_chunk_that_always_kills_is_named(tmp_path: Path) -> None:
    work = partial(fatal_work, folder=tmp_path, times=99)
    with pytest.raises(NoonwaterError, match=f"rows 3 to 3 ended their worker {MOST_LOSSES} times"):
        list(worked_off(work))
    assert len(list(tmp_path.glob("fell-*"))) == MOST_LOSSES + 1


def test_one_chunk_at_a_time_until_the_engine_is_compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    workers = LocalWorkers(2, quick_work)
    monkeypatch.setattr("noonwater.app.batch_workers.engine_is_compiled", lambda: False)
    try:
        assert not workers.full
        workers.take(CHUNKS[0])
        assert workers.full
        workers.finished()
        assert not workers.full
    finally:
        workers.stop()


def test_libraries_get_one_thread_and_keep_their_memory() -> None:
    workers = LocalWorkers(1, told_environment)
    try:
        workers.take(CHUNKS[0])
        ((_, told),) = workers.finished()
    finally:
        workers.stop()
    assert told == ENVIRONMENT
    assert told["OMP_NUM_THREADS"] == "1"


def told_environment(chunk: Chunk) -> dict[str, str | None]:
    return {name: os.environ.get(name) for name in ENVIRONMENT}
