"""The search against a grid of some 5,000 options of each demo job: is its best as good or better?

``python -m bench.choose [DEMO ...]`` takes some minutes a job. For each of many weights of price,
shortfall and running cost, those that the search walks by and as many drawn at random that it does
not know, the best of the search's tries is held against the best of the whole grid.
"""

from __future__ import annotations

import sys
import time
from itertools import product

import numpy as np

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.priced import prices_of
from noonwater.app.search_answer import TRIES
from noonwater.app.search_pool import Question, judge_of, judged_side_by_side
from noonwater.app.size_answer import on_every_plane
from noonwater.app.study import check_job
from noonwater.catalog import pipe_named
from noonwater.design.choose_option import Option
from noonwater.design.choose_search import WEIGHTS, Scalar, front, search_options
from noonwater.design.choose_space import Axis, Place, Space
from noonwater.design.system_price import price_factor
from noonwater.hydraulics.speeds import with_speeds
from noonwater.model.job import Job

DEMOS = ("almond-ranch", "lagoon-court", "orchard-hill")
CLOSE = 1e-9
LEVELS = {"longest bank": (2, 4), "pace": (0, 1), "difference": (1, 2), "from": (2, 3),
          "until": (1, 2)}  # fmt: skip
"""Numbers of the values that a sensible person would try."""


def question_of(job: Job) -> Question:
    """What options of a job are judged by."""
    rows = prices_of(job, FOLDER).rows
    borne = frozenset(f.rule for f in check_job(job) if f.severity != "fault")
    return Question(job, on_every_plane(job), rows, price_factor(job, rows), borne)


def grid(space: Space) -> list[Place]:
    """Places of the grid: panels in even steps, two values or three of all else."""
    several = len(space.rooms) > 1
    levels = []
    for number, axis in enumerate(space.axes):
        last = len(axis.values) - 1
        if axis.name == "panels":
            count = (5, 4)[min(number, 1)] if several else 13
            low = 0.3 if number == 0 else 0.0
            steps = [low + (1.0 - low) * step / (count - 1) for step in range(count)]
            levels.append(sorted({round(step * last) for step in steps}))
        elif axis.name == "pipe":
            own = _own_pipe(space, axis)
            levels.append([own, min(own + 1, last)])
        else:
            levels.append(list(LEVELS.get(axis.name, range(last + 1))))
    return list(product(*levels))


def _own_pipe(space: Space, axis: Axis) -> int:
    pipe = pipe_named(space.job.pad.pipe, space.job.pad.schedule)
    return axis.values.index(pipe) if pipe in axis.values else 0


def against(name: str) -> bool:
    """Hold a search against the grid; tells whether it is as good or better for every weight."""
    job = read_job(FOLDER / f"{name}.toml")
    job = with_speeds(job, job.pool.target)
    question = question_of(job)
    begun, judge = time.perf_counter(), judge_of(question)
    with judged_side_by_side(question, judge) as side_by_side:
        found = search_options(judge, 1, TRIES, side_by_side=side_by_side)
    _say(name, f"search of {len(judge.known)}, {len(found)} valid", begun)
    begun, places = time.perf_counter(), grid(judge.space)
    with judged_side_by_side(question, judge_of(question)) as side_by_side:
        every = [option for option in side_by_side(places) if option.valid]
    _say(name, f"grid of {len(places)}, {len(every)} valid", begun)
    return _held(name, found, every)


def _matches(mine: Option, other: Option) -> bool:
    return all(a <= 1.01 * b for a, b in zip(mine.aims, other.aims, strict=True))


def _say(name: str, what: str, begun: float) -> None:
    print(f"{name}: {what}, {time.perf_counter() - begun:.0f} s", flush=True)


def _held(name: str, found: list[Option], every: list[Option]) -> bool:
    rng = np.random.default_rng(11)
    drawn = [tuple(float(x) for x in rng.dirichlet((1.0, 1.0, 1.0))) for _ in range(32)]
    both = front([*front(found), *front(every)])
    worse = []
    for weight in (*WEIGHTS, *drawn):
        scale = Scalar(both, weight)
        ours, theirs = (min(map(scale.of, options)) for options in (found, every))
        if ours > theirs + CLOSE:
            worse.append((weight, ours, theirs))
    trade_off = front(every)
    near = sum(any(_matches(mine, option) for mine in found) for option in trade_off)
    count = len(WEIGHTS) + len(drawn)
    print(
        f"{name}: as good or better for {count - len(worse)} of {count} weights; of the grid's"
        f" trade-off {near} of {len(trade_off)} are matched or beaten within 1 % in all three",
        flush=True,
    )
    for weight, ours, theirs in worse:
        told = ", ".join(f"{part:.2f}" for part in weight)
        print(f"  worse at {told}: {ours:.4f} against {theirs:.4f}")
    return not worse


if __name__ == "__main__":
    held = [against(name) for name in sys.argv[1:] or DEMOS]
    sys.exit(0 if all(held) else 1)
