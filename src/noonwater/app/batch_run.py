"""A batch worked off: chunks handed out, parts kept, how far it is told on the way."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import chain

from noonwater.app.batch_plan import Chunk, JobText, chunks_of, plan_of
from noonwater.app.batch_store import Store
from noonwater.app.batch_table import Table
from noonwater.app.batch_workers import Workers
from noonwater.core.errors import NoonwaterError


@dataclass
class Progress:
    """How far a batch is.

    Attributes
    ----------
    total : int
        Rows of the table.
    kept : int
        Rows that an earlier run had done.
    done, refused : int
        Rows worked off by this run, and the bad ones among them.
    circuits : int
        Whose flow this run solved.
    began : float
        Clock at the start. [s]
    """

    total: int
    kept: int = 0
    done: int = 0
    refused: int = 0
    circuits: int = 0
    began: float = field(default_factory=time.monotonic)

    @property
    def rate(self) -> float:
        """Rows worked off per second. [1/s]."""
        return self.done / max(time.monotonic() - self.began, 1e-9)

    @property
    def left(self) -> float:
        """Time that the rest takes at this rate; infinite before the first row. [s]."""
        rest = self.total - self.kept - self.done
        return rest / self.rate if self.done else float("inf")


Tell = Callable[[Progress], None]


def work_off(
    table: Table, base: JobText | None, store: Store, workers: Callable[[], Workers], tell: Tell
) -> Progress:
    """Work off what is not done yet and put the results together.

    Parameters
    ----------
    table : Table
        The rows.
    base : JobText, optional
        Job of the rows that name none.
    store : Store
        Where the results lie.
    workers : callable
        Gives the workers; not asked where all is done.
    tell : callable
        Is told how far it is.

    Returns
    -------
    Progress
        At the end.

    Raises
    ------
    NoonwaterError
        Where workers are lost for good, or the table changes meanwhile.
    """
    plan = plan_of(table, base)
    progress = Progress(plan.rows)
    if store.is_finished(plan.key):
        progress.kept = plan.rows
        store.clear_parts()
        return progress
    chunks = (chunk for stretch in chunks_of(table, base) for chunk in stretch)
    waiting = _not_held(chunks, store, progress)
    first = next(waiting, None)
    if first is not None:
        _work_off(chain([first], waiting), store, workers(), progress, tell)
    if plan_of(table, base).key != plan.key:
        raise NoonwaterError(
            "the table, or a job or weather file that it names, was changed during the run; start "
            "the same command again"
        )
    store.finish(plan.stretches, plan.key)
    return progress


def _not_held(chunks: Iterator[Chunk], store: Store, progress: Progress) -> Iterator[Chunk]:
    for chunk in chunks:
        if store.holds(chunk):
            progress.kept += len(chunk.rows)
        else:
            yield chunk


def _work_off(
    chunks: Iterator[Chunk], store: Store, workers: Workers, progress: Progress, tell: Tell
) -> None:
    tell(progress)
    try:
        for chunk in chunks:
            workers.take(chunk)
            while workers.full:
                _keep(store, workers, progress, tell)
        while workers.busy:
            _keep(store, workers, progress, tell)
    except BaseException:
        workers.stop()
        raise
    workers.close()


def _keep(store: Store, workers: Workers, progress: Progress, tell: Tell) -> None:
    for chunk, result in workers.finished():
        store.keep(chunk, result)
        progress.done += len(result.rows)
        progress.refused += sum(not row["done"] for row in result.rows)
        progress.circuits += result.circuits
    tell(progress)
