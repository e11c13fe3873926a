"""Who works off a batch's chunks: processes on this machine's cores."""

from __future__ import annotations

import os
from collections import Counter, deque
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import active_children, get_context
from multiprocessing.process import BaseProcess
from typing import Protocol

from noonwater.app.batch_plan import Chunk
from noonwater.app.batch_row import ChunkResult, run_chunk
from noonwater.app.child_process import begin_as_child
from noonwater.core.errors import NoonwaterError
from noonwater.core.jit import engine_is_compiled

AHEAD = 2
"""Chunks handed out for each core: one that is worked off and one that waits."""
MOST_LOSSES = 3
"""A chunk that alone took its process down this often is not tried again."""
ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS")
KEPT_MEMORY = {
    "MALLOC_MMAP_THRESHOLD_": str(32 * 1024 * 1024),
    "MALLOC_TRIM_THRESHOLD_": str(1024 * 1024 * 1024),
}
"""[bytes] For the GNU allocator: each row makes the same arrays of a megabyte anew, and giving them
back to the system and getting them again takes a sixth of the row's time."""
ENVIRONMENT = {**dict.fromkeys(ONE_THREAD, "1"), **KEPT_MEMORY}

Done = tuple[Chunk, ChunkResult]
Work = Callable[[Chunk], ChunkResult]


class Workers(Protocol):
    """Whoever takes chunks and gives their results, in any order."""

    @property
    def full(self) -> bool:
        """Whether no further chunk should be handed out now."""
        ...

    @property
    def busy(self) -> bool:
        """Whether chunks are out."""
        ...

    def take(self, chunk: Chunk) -> None:
        """Hand out a chunk."""
        ...

    def finished(self) -> list[Done]:
        """Wait until one chunk or more is done."""
        ...

    def stop(self) -> None:
        """Drop what is out."""
        ...

    def close(self) -> None:
        """Let go of whoever worked."""
        ...


class LocalWorkers:
    """Processes of this machine, each on one core.

    Parameters
    ----------
    cores : int
        How many.
    work : callable
        What is done with a chunk; tests put something quicker here.
    """

    def __init__(self, cores: int, work: Work = run_chunk) -> None:
        self._cores, self._work = cores, work
        self._others = set(active_children())
        self._pool = self._new_pool()
        self._out: dict[Future[ChunkResult], Chunk] = {}
        self._again: deque[Chunk] = deque()
        self._losses: Counter[int] = Counter()

    @property
    def full(self) -> bool:
        """Whether each core has its chunk and the next; one at a time until the engine is there."""
        most = AHEAD * self._cores if engine_is_compiled() else 1
        return bool(self._again) or len(self._out) >= most

    @property
    def busy(self) -> bool:
        """Whether chunks are out."""
        return bool(self._out or self._again)

    def take(self, chunk: Chunk) -> None:
        """Hand out a chunk."""
        with _environment_of_workers():
            try:
                self._out[self._pool.submit(self._work, chunk)] = chunk
            except BrokenProcessPool:
                self._again.append(chunk)
                if not self._out:
                    self._begin_anew()

    def finished(self) -> list[Done]:
        """Wait until one chunk or more is done; those of a lost process are worked off again.

        One at a time then, so that it shows which chunk takes its process down.

        Raises
        ------
        NoonwaterError
            When a chunk has lost its process too often.
        """
        alone = None
        if self._again and not self._out:
            alone = self._again.popleft()
            self.take(alone)
        done, lost = [], []
        for future in wait(self._out, return_when=FIRST_COMPLETED).done:
            chunk = self._out.pop(future)
            try:
                done.append((chunk, future.result()))
            except BrokenProcessPool:
                lost.append(chunk)
        if lost:
            self._again.extend([*lost, *self._out.values()])
            self._out.clear()
            self._begin_anew()
        if alone is not None and alone in lost:
            self._losses[alone.number] += 1
            if self._losses[alone.number] >= MOST_LOSSES:
                raise lost_too_often(alone)
        return done

    def stop(self) -> None:
        """End the processes, whatever they do."""
        self._pool.shutdown(wait=False, cancel_futures=True)
        for process in self._own_processes():
            process.terminate()

    def close(self) -> None:
        """Let the processes end."""
        self._pool.shutdown()

    def _new_pool(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(
            self._cores, mp_context=get_context("spawn"), initializer=begin_as_child
        )

    def _begin_anew(self) -> None:
        self._pool.shutdown(wait=False, cancel_futures=True)
        self._pool = self._new_pool()

    def _own_processes(self) -> list[BaseProcess]:
        return [process for process in active_children() if process not in self._others]


def lost_too_often(chunk: Chunk) -> NoonwaterError:
    """Say which rows take their worker down with them."""
    numbers = sorted(row.number for row in chunk.rows)
    return NoonwaterError(
        f"rows {numbers[0]} to {numbers[-1]} ended their worker {MOST_LOSSES} times before they "
        "were done; what is done is kept, and the same command goes on from there"
    )


@contextmanager
def _environment_of_workers() -> Iterator[None]:
    # Read when the new process and its libraries begin; processes begin as chunks are handed out.
    before = {name: os.environ.get(name) for name in ENVIRONMENT}
    os.environ.update(ENVIRONMENT)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
