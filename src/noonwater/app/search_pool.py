"""Options of a search judged on several cores, each process with a judge of its own."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import current_process, get_context
from typing import TYPE_CHECKING

from noonwater.app.child_process import begin_as_child
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.design.choose_option import Judge, Option
    from noonwater.design.choose_space import Place
    from noonwater.design.money_parts import PriceRow

MOST_CORES = 4
"""More would wait for the search itself."""


@dataclass(frozen=True)
class Question:
    """What a judge judges by.

    Attributes
    ----------
    job : Job
        As it stands, its flows already made speeds.
    wide : Job
        The same with panels on every plane, for the sun on all of them.
    rows : tuple of PriceRow
        The contractor's price list.
    factor : float
        A price told whole over that of the parts. [-]
    borne : frozenset of str
        Cautions that the job has already.
    """

    job: Job
    wide: Job
    rows: tuple[PriceRow, ...]
    factor: float
    borne: frozenset[str]


def judge_of(question: Question) -> Judge:
    """Make a judge that has judged nothing yet."""
    from noonwater.design.choose_option import Judge
    from noonwater.design.choose_space import space_of

    return Judge(
        space_of(question.job),
        surroundings_of(question.wide),
        flows_by_period,
        question.rows,
        question.factor,
        question.borne,
    )


@contextmanager
def judged_side_by_side(
    question: Question, judge: Judge
) -> Iterator[Callable[[Sequence[Place]], Iterable[Option]]]:
    """Judge places on all cores, with the very answers that one core gives.

    Parameters
    ----------
    question : Question
        For the judges of the processes.
    judge : Judge
        Judges here where no process may be begun, or one has died.

    Yields
    ------
    callable
        From places to their options, in the order of the places.
    """
    cores = min(os.cpu_count() or 1, MOST_CORES)
    if cores < 2 or current_process().daemon:
        yield lambda places: map(judge.option, places)
        return
    with ProcessPoolExecutor(
        cores, mp_context=get_context("spawn"), initializer=_begin, initargs=(question,)
    ) as pool:

        def judged(places: Sequence[Place]) -> Iterable[Option]:
            try:
                return list(pool.map(_judged, places))
            except BrokenProcessPool:
                return map(judge.option, places)

        yield judged


_JUDGES: list[Judge] = []
"""Of this process."""


def _begin(question: Question) -> None:
    begin_as_child()
    _JUDGES[:] = [judge_of(question)]


def _judged(place: Place) -> Option:
    return _JUDGES[0].option(place)
