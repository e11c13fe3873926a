"""Remedies by search: the speed or the opening at which a state comes right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from math import ceil, floor

from noonwater.catalog import pump_named
from noonwater.core.errors import NotConverged
from noonwater.core.units import show
from noonwater.hydraulics.flow import FlowResult, StateFlow, flow_at
from noonwater.model.job import Job

SPEED_STEP = 10.0
"""[rpm] What a variable-speed pump can be set to; common practice, no source."""

OPENING_STEPS = 20
"""A hand sets a valve to a twentieth at best; ours."""

Good = Callable[[StateFlow], bool]


def least_speed(job: Job, solar: bool, good: Good, temp_water: float) -> float | None:
    """Find the least speed at which a state is good.

    Parameters
    ----------
    job : Job
        The job.
    solar : bool
        Whether the diverter sends water to the roof.
    good : callable
        Says of a state whether it is good; bad below some speed and good above.
    temp_water : float
        [°C]

    Returns
    -------
    float or None
        A multiple of `SPEED_STEP`, or the pump's highest. None where that isn't good either, or
        where it takes more flow than the suction covers are rated for. [rpm]
    """
    speed = first_good(speeds_of(job), _judge(job, solar, good, temp_water))
    if speed is None or job.pad.suction_rating is None:
        return speed
    return speed if _judge(job, solar, partial(covers_bear, job), temp_water)(speed) else None


def greatest_speed(
    job: Job, solar: bool, small: Good, works: Good, temp_water: float
) -> float | None:
    """Find the greatest speed at which a quantity is small enough, if the state works there.

    Parameters
    ----------
    job : Job
        The job.
    solar : bool
        Whether the diverter sends water to the roof.
    small : callable
        Good below some speed and bad above.
    works : callable
        Asked at the speed found; it may well be bad at lower ones.
    temp_water : float
        [°C]

    Returns
    -------
    float or None
        A multiple of `SPEED_STEP`, or the pump's lowest. [rpm]
    """
    speed = first_good(speeds_of(job)[::-1], _judge(job, solar, small, temp_water))
    if speed is None or not _judge(job, solar, works, temp_water)(speed):
        return None
    return speed


def runs_without_air(state: StateFlow) -> bool:
    """Say whether a state primes and draws no air; True where the array is off."""
    return state.primes and state.breaker != "open"


def covers_bear(job: Job, state: StateFlow) -> bool:
    """Say whether the pool's suction covers are rated for a state's flow, where a rating is told.

    Parameters
    ----------
    job : Job
        The job.
    state : StateFlow
        One of its states; a spa draws through covers of its own.

    Returns
    -------
    bool
        No remedy recommends a speed beyond it.
    """
    rating = job.pad.suction_rating
    return rating is None or state.flow <= rating or state.name.startswith("spa")


def widest_bypass(job: Job, speed: float, good: Good, temp_water: float) -> float | None:
    """Find how far the hand-set bypass may stand open, less than now, for solar to be good.

    Parameters
    ----------
    job : Job
        The job.
    speed : float
        [rpm]
    good : callable
        Bad above some opening, good below.
    temp_water : float
        [°C]

    Returns
    -------
    float or None
        A twentieth; None where even shut it isn't good, or where there is no bypass. [-]
    """
    return widest_bypass_where(job, _solved_well(speed, good, temp_water))


def widest_bypass_where(job: Job, good: Callable[[Job], bool]) -> float | None:
    """Find how far the hand-set bypass may stand open, less than now, for a job to be good.

    Parameters
    ----------
    job : Job
        The job.
    good : callable
        Says of the job with another opening whether it is good: bad above some opening.

    Returns
    -------
    float or None
        As `widest_bypass`. [-]
    """
    openings = [i / OPENING_STEPS for i in range(OPENING_STEPS + 1)]
    below = [opening for opening in openings if opening < job.pad.bypass_open]
    return first_good(below[::-1], _with_bypass(job, good))


def bypass_words(job: Job, opening: float) -> str:
    """Say how far to close the bypass."""
    if opening == 0.0:
        return "Shut the bypass"
    return f"Close the bypass to {show(opening, 'share', job.units, 0)}"


def narrowest_bypass(
    job: Job, speed: float, small: Good, works: Good, temp_water: float
) -> float | None:
    """Find how far the bypass must be opened beyond now, if the state works then.

    Parameters
    ----------
    job : Job
        The job.
    speed : float
        [rpm]
    small : callable
        Bad below some opening, good above.
    works : callable
        Asked at the opening found.
    temp_water : float
        [°C]

    Returns
    -------
    float or None
        A twentieth. [-]
    """
    openings = [i / OPENING_STEPS for i in range(OPENING_STEPS + 1)]
    above = [opening for opening in openings if opening > job.pad.bypass_open]
    opening = first_good(above, _with_bypass(job, _solved_well(speed, small, temp_water)))
    works_at = _with_bypass(job, _solved_well(speed, works, temp_water))
    borne = _with_bypass(job, _solved_well(speed, partial(covers_bear, job), temp_water))
    if opening is None or not (works_at(opening) and borne(opening)):
        return None
    return opening


def solved(job: Job, speed: float, solar: bool, temp_water: float) -> StateFlow | None:
    """Flow at one speed, None where it has no answer: a search goes on past such a speed."""
    try:
        return flow_at(job, speed, solar, temp_water)
    except NotConverged:
        return None


def speeds_of(job: Job) -> list[float]:
    """List the speeds that the pump can be set to. [rpm]."""
    pump = pump_named(job.pump.pump, own=job.own_pump)
    first, last = ceil(pump.lowest_speed / SPEED_STEP), floor(pump.highest_speed / SPEED_STEP)
    between = [SPEED_STEP * i for i in range(first, last + 1)]
    return sorted({pump.lowest_speed, *between, pump.highest_speed})


def speed_field(job: Job, state: StateFlow) -> str:
    """Path of the job's field that sets a state's speed."""
    if state.name.startswith("priming") and job.pump.priming_speed is not None:
        return "pump.priming_speed"
    if state.solar and job.pump.solar_speed is not None:
        return "pump.solar_speed"
    for i, period in enumerate(job.pump.program):
        if period.rpm == state.rpm and (period.solar or not state.solar):
            return f"pump.program[{i}].speed"
    return "pump.pump"


def running_solar(flow: FlowResult) -> list[StateFlow]:
    """List the states in which water runs through the panels; priming is none of them."""
    return [state for state in flow.states if state.name.startswith("solar") and state.primes]


def priming_of(flow: FlowResult) -> StateFlow | None:
    """Find the state of a start; None where solar is allowed in no period."""
    return next((state for state in flow.states if state.name.startswith("priming")), None)


def _judge(job: Job, solar: bool, good: Good, temp_water: float) -> Callable[[float], bool]:
    def judge(speed: float) -> bool:
        state = solved(job, speed, solar, temp_water)
        return state is not None and good(state)

    return judge


def _solved_well(speed: float, good: Good, temp_water: float) -> Callable[[Job], bool]:
    def judge(job: Job) -> bool:
        state = solved(job, speed, True, temp_water)
        return state is not None and good(state)

    return judge


def _with_bypass(job: Job, good: Callable[[Job], bool]) -> Callable[[float], bool]:
    def judge(opening: float) -> bool:
        if job.pad.arrangement != "diverter with bypass":
            return False
        return good(replace(job, pad=replace(job.pad, bypass_open=opening)))

    return judge


def first_good(values: Sequence[float], good: Callable[[float], bool]) -> float | None:
    """First good one of values that are bad up to some place and good from there on."""
    if not values or not good(values[-1]):
        return None
    bad, right = -1, len(values) - 1
    while right - bad > 1:
        middle = (bad + right) // 2
        if good(values[middle]):
            right = middle
        else:
            bad = middle
    return values[right]
