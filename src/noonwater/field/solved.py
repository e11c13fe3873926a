"""Every situation solved: what gauge and meters show, with the spread that the doubts leave."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from math import sqrt

import numpy as np

from noonwater.core.errors import NotConverged
from noonwater.design.expected_readings import GAUGE, METER, PUMP_HEAD
from noonwater.field.change import filter_at
from noonwater.field.expected import Floats, Normal
from noonwater.field.situation import IN_USE, Situation
from noonwater.hydraulics.flow import StateFlow
from noonwater.hydraulics.loop import Loop
from noonwater.model.circuit import State

ENDS = 2.0
"""[-] An end of a doubt is taken as so many standard deviations from its middle: ours."""
NEEDLE = 3.4e3
"""[Pa] Half a psi: standard deviation of reading a needle out over the telephone: ours."""
DISPLAY = 15.0
"""[rpm] The same of a pump's display, with its rounding and slip: ours."""
EVEN = 1.0 / sqrt(12.0)
"""[-] Standard deviation of what lies evenly over a step, exact."""
LEAK_GAUGE = 0.07
"""[-] Air in the pump takes about so much of the gauge, and makes it waver by as much: ours."""


@dataclass(frozen=True)
class Solved:
    """A situation with its answer.

    Attributes
    ----------
    situation : Situation
        What was solved.
    flow : StateFlow
        In the middle of the doubts.
    ends : tuple of StateFlow
        At their ends.
    shows : dict of str to Normal
        What gauge, flow meter, speed and watts show.
    array_doubt : float
        Standard deviation of the array's flow over its mean. [-]
    """

    situation: Situation
    flow: StateFlow
    ends: tuple[StateFlow, ...]
    shows: dict[str, Normal]
    array_doubt: float


def solve_all(situations: Sequence[Situation]) -> tuple[Solved, ...]:
    """Solve situations.

    Parameters
    ----------
    situations : sequence of Situation
        The degrees of a cause one after the other.

    Returns
    -------
    tuple of Solved
        Without those that have no answer.
    """
    found = [solved for each in situations if (solved := _solve(each)) is not None]
    grouped = groupby(found, key=lambda each: each.situation.cause.key)
    return tuple(each for _, same in grouped for each in _grained(list(same)))


def _solve(situation: Situation) -> Solved | None:
    try:
        middle = situation.solve(situation.loop, situation.state)
        if middle is None:
            return None
        pairs = [
            tuple(situation.solve(loop, state) or middle for loop, state in pair)
            for pair in _doubts(situation)
        ]
    except NotConverged:
        return None

    def spread(value: Callable[[StateFlow], float]) -> float:
        halves = [0.5 * (value(pair[1]) - value(pair[0])) / ENDS for pair in pairs]
        return sqrt(sum(half * half for half in halves))

    gauge = sqrt(spread(_gauge) ** 2 + (GAUGE / ENDS) ** 2 + NEEDLE**2)
    shows = {
        "gauge": Normal(_gauge(middle), gauge),
        "flow": Normal(middle.flow, _metered(spread(_flow), middle.flow, 2e-5)),
        "speed": Normal(situation.speed, DISPLAY),
        "power": Normal(middle.power, _metered(spread(_power), middle.power, 5.0)),
    }
    if "air" in situation.marks:
        shows["gauge"] = _wavering(shows["gauge"])
    array = spread(_array) / middle.array_flow if middle.array_flow > 0.0 else 0.0
    return Solved(situation, middle, tuple(end for pair in pairs for end in pair), shows, array)


def solve_beside(situation: Situation, one: Solved, other: Solved, right: Solved) -> Solved | None:
    """Solve two causes at once in the middle of the doubts; the spreads come from each alone.

    Parameters
    ----------
    situation : Situation
        Both in one circuit.
    one, other : Solved
        Each alone.
    right : Solved
        Neither: its spread is in both.

    Returns
    -------
    Solved or None
        Without ends; None where it has no answer.
    """
    try:
        flow = situation.solve(situation.loop, situation.state)
    except NotConverged:
        return None
    if flow is None:
        return None
    means = {
        "gauge": _gauge(flow), "flow": flow.flow, "speed": situation.speed, "power": flow.power,
    }  # fmt: skip
    if "air" in situation.marks:
        means["gauge"] -= LEAK_GAUGE * abs(means["gauge"])
    shows = {
        key: Normal(mean, float(beside(*(each.shows[key].spread for each in (one, other, right)))))
        for key, mean in means.items()
    }
    return Solved(situation, flow, (), shows, max(one.array_doubt, other.array_doubt))


def beside(one: Floats | float, other: Floats | float, right: Floats | float) -> Floats:
    """Spread that two causes have at once, by those of each alone and of neither.

    Parameters
    ----------
    one, other, right : array or float
        Standard deviations; what is in all three counts once.

    Returns
    -------
    array
        Never less than either's.
    """
    squares = np.square(one), np.square(other)
    return np.asarray(np.sqrt(np.maximum(sum(squares) - np.square(right), np.maximum(*squares))))


def _doubts(situation: Situation) -> Iterator[tuple[tuple[Loop, State], ...]]:
    """Low and high end of each doubt, as loop and state."""
    loop, state = situation.loop, situation.state
    weak, strong = sqrt(1.0 - PUMP_HEAD), sqrt(1.0 + PUMP_HEAD)
    yield tuple((loop, replace(state, speed=state.speed * each)) for each in (weak, strong))
    load = loop.settings.filter_load
    yield tuple((filter_at(loop, load + each), state) for each in (-IN_USE, IN_USE))
    yield tuple(
        (replace(loop, settings=replace(loop.settings, tees=tees)), state) for tees in (False, True)
    )


def _metered(spread: float, value: float, least: float) -> float:
    return sqrt(spread**2 + (METER * value / ENDS) ** 2 + least**2)


def _wavering(gauge: Normal) -> Normal:
    waver = LEAK_GAUGE * abs(gauge.mean)
    return Normal(gauge.mean - waver, sqrt(gauge.spread**2 + waver**2))


def _grained(same: list[Solved]) -> Iterator[Solved]:
    """Degrees of a cause, each as wide as its step to the next: what is between can be too."""
    for n, each in enumerate(same):
        near = [same[m] for m in (n - 1, n + 1) if 0 <= m < len(same)]
        shows = {}
        for key, normal in each.shows.items():
            steps = [abs(other.shows[key].mean - normal.mean) for other in near]
            grain = EVEN * max(steps, default=0.0)
            shows[key] = Normal(normal.mean, sqrt(normal.spread**2 + grain**2))
        yield replace(each, shows=shows)


def _gauge(flow: StateFlow) -> float:
    return flow.pressure_filter


def _flow(flow: StateFlow) -> float:
    return flow.flow


def _power(flow: StateFlow) -> float:
    return flow.power


def _array(flow: StateFlow) -> float:
    return flow.array_flow
