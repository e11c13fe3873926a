"""Every cause of a job with what it makes each reading show at the hour of the call."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise
from math import erf, sqrt

from noonwater.field.cause import CAUSES, Cause
from noonwater.field.expected import Case, Choices, Expected, Normal
from noonwater.field.moment import LikeHours, RoofHour
from noonwater.field.reading import Reading, readings_of
from noonwater.field.signs import signs_of
from noonwater.field.situation import Mark, Situation, Subject, leaking, situations_of
from noonwater.field.solved import ENDS, Solved, solve_all
from noonwater.field.weigh import NONE
from noonwater.hydraulics.flow import StateFlow
from noonwater.hydraulics.trace import Trace, trace_job
from noonwater.hydraulics.trace_without import trace_without

THERMOMETER = 0.4
"""[K] Standard deviation of a difference between two plain thermometers: ours."""
SENSOR = 1.5
"""[K] The same of the sensor's temperature as a controller shows it: ours."""
RISES = (0.7, 5.0)
"""[K] Where water feels a little and much warmer to a hand held in both: ours."""
HAND = 0.7
"""[K] Standard deviation of a hand's judgement of a difference, and of where it says much: ours."""
TOUCHES = (34.0, 45.0)
"""[°C] Where a panel feels warm, and hot: ours."""
TOUCH = 4.0
"""[K] Standard deviation of a hand's judgement of a warmth: ours."""
EMPTY_PIPE = 0.3
"""[K] Water that comes in without the roof's heat is off the pool's by so much: ours."""
LEAST_WEIGHT = 0.02
"""[-] Share of its weight that a cause keeps in hours in which solar hardly ever runs: ours."""
NEEDS_SUN = ("settings", "sensor low", "sensor dead", "table")
"""Causes that are noticed only where solar should run."""
UNASKED = ("sensor high", "other state")
"""Causes by which solar runs at any hour."""
LEAST_BACKFLOW = 3.0
"""[L] Less is not seen after a stop."""


@dataclass(frozen=True, eq=False)
class Known:
    """A job's causes, solved; what the hour adds is not in it.

    Attributes
    ----------
    subject : Subject
        The job and what should run.
    solved : tuple of Solved
        Every cause, by degrees.
    causes : tuple of Cause
        Each once, and that none fits.
    readings : tuple of Reading
        What can be told.
    empties, keeps : bool
        Whether the array drains when its pump stops, and would not with its breaker stuck shut.
    """

    subject: Subject
    solved: tuple[Solved, ...]
    causes: tuple[Cause, ...]
    readings: tuple[Reading, ...]
    empties: bool
    keeps: bool

    @cached_property
    def signs(self) -> tuple[dict[str, Choices], ...]:
        """What is seen and heard, of each solved situation."""
        return tuple(self.signs_of(each) for each in self.solved)

    def signs_of(self, each: Solved) -> dict[str, Choices]:
        """What is seen and heard of one."""
        stuck = "breaker shut" in each.situation.marks
        circuit = self.subject.loop.circuit
        return signs_of(each, circuit, self.empties and not (stuck and self.keeps))

    @property
    def right(self) -> StateFlow:
        """What should flow."""
        return next(each.flow for each in self.solved if each.situation.cause.key == "right")


def know(subject: Subject, temp: float, empties: bool, keeps: bool) -> Known:
    """Solve all causes of a job.

    Parameters
    ----------
    subject : Subject
        The job and what should run.
    temp : float
        Of the water. [°C]
    empties : bool
        Whether the array drains when its pump stops.
    keeps : bool
        Whether it would keep its water if its vacuum breaker were stuck shut.

    Returns
    -------
    Known
    """
    trace = trace_job(subject.job, temp)
    leaks = [found for found in _leaks(subject, trace) if found.marks]
    solved = solve_all((*situations_of(subject), *leaks))
    causes = dict.fromkeys(each.situation.cause for each in solved)
    return Known(
        subject,
        solved,
        (*causes, CAUSES[NONE]),
        readings_of(subject.job, subject.loop.circuit),
        empties,
        keeps,
    )


def _leaks(subject: Subject, trace: Trace) -> Iterator[Situation]:
    """Check valves whose flap is gone, where the trace says that something comes of it."""
    filters = {part.name for part in subject.loop.circuit.of_kind("filter")}
    for part in subject.loop.circuit.of_kind("check valve"):
        marks: set[Mark] = set()
        for flow in trace_without(trace, part.name).backflow:
            if flow.litres <= LEAST_BACKFLOW:
                continue
            if flow.part in filters and flow.backward:
                marks.add("dirt")
            elif flow.cause == "pump pushes":
                marks.add("pushed")
        yield leaking(subject, part.name, frozenset(marks))


def cases_at(known: Known, hours: LikeHours) -> tuple[Case, ...]:
    """Tell what every cause makes each reading show at an hour.

    Parameters
    ----------
    known : Known
        The job's causes.
    hours : LikeHours
        The hours that are like it.

    Returns
    -------
    tuple of Case
        The degrees of each cause share its weight; the last is that none fits.
    """
    counts = Counter(each.situation.cause.key for each in known.solved)
    roof = warmth_of(hours)
    found = [
        Case(
            each.situation.cause.key,
            _weight(each.situation, known.subject.state.solar, hours.called)
            / counts[each.situation.cause.key],
            {**signs, **each.shows, **roof(each)},
        )
        for each, signs in zip(known.solved, known.signs, strict=True)
    ]
    found.append(Case(NONE, CAUSES[NONE].weight, {}))
    total = sum(case.weight for case in found)
    return tuple(Case(case.cause, case.weight / total, case.expected) for case in found)


def warmth_of(hours: LikeHours) -> Callable[[Solved], dict[str, Expected]]:
    """Readings that hang on the sun, of any solved situation at an hour.

    Parameters
    ----------
    hours : LikeHours
        The hours that are like it.
    """
    shows = hours.sensor_shows()

    @cache
    def roof(flows: tuple[float, ...]) -> tuple[RoofHour, RoofHour]:
        return hours.rise(flows), hours.panels(flows)

    return lambda solved: _warm(solved, *roof(solved.flow.bank_flows), shows)


def _weight(situation: Situation, solar: bool, called: float) -> float:
    """Weight of a cause at this hour: whether solar runs, right or with a fault, hangs on it."""
    weight, key = situation.cause.weight, situation.cause.key
    if key == "no reason":
        return max(2.0 * weight * (1.0 - called), LEAST_WEIGHT * weight)
    if key == "sensor high" and solar:
        return weight * max(1.0 - called, LEAST_WEIGHT)
    if (solar and situation.calls and key not in UNASKED) or key in NEEDS_SUN:
        return weight * max(called, LEAST_WEIGHT)
    return weight


def _warm(
    solved: Solved, rise: RoofHour, panels: RoofHour, sensor: RoofHour
) -> dict[str, Expected]:
    """Readings that hang on the sun."""
    situation, flow = solved.situation, solved.flow
    share = flow.array_flow / flow.flow if flow.flow > 0.0 else 0.0
    mean = share * rise.mean
    doubt = share * sqrt(rise.spread**2 + (rise.mean * solved.array_doubt) ** 2)
    away = sqrt(doubt**2 + EMPTY_PIPE**2)
    error = situation.sensor
    sensed = sqrt(sensor.spread**2 + error.spread**2 + SENSOR**2)
    mismatch = error.spread if "other table" in situation.marks else SENSOR
    found: dict[str, Expected] = {
        "rise": Normal(mean, sqrt(away**2 + THERMOMETER**2)),
        "felt": _banded(mean, sqrt(away**2 + HAND**2), RISES),
        "panels": _banded(panels.mean, sqrt(panels.spread**2 + TOUCH**2), TOUCHES),
        "mismatch": Normal(0.0, sqrt(2.0) * mismatch),
    }
    if "dead" not in situation.marks:
        found["sensor"] = Normal(sensor.mean + error.mean, sensed)
    return found


def _banded(mean: float, spread: float, edges: Sequence[float]) -> Choices:
    """Chance of lying below, between and above edges."""
    below = [0.5 * (1.0 + erf((edge - mean) / (spread * sqrt(2.0)))) for edge in edges]
    steps = [0.0, *below, 1.0]
    return tuple(high - low for low, high in pairwise(steps))


def band_of(expected: Normal) -> tuple[float, float]:
    """Ends within which a reading is as it should be."""
    return expected.mean - ENDS * expected.spread, expected.mean + ENDS * expected.spread
