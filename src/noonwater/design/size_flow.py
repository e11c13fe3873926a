"""The flow that a number of panels gets: the same per area, as far as the pump goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from noonwater.catalog import PumpType, bank_panel, pump_named
from noonwater.core.errors import InputError, NotConverged
from noonwater.design.rule import rpm, shown
from noonwater.design.search import (
    covers_bear,
    least_speed,
    runs_without_air,
    solved,
    widest_bypass,
)
from noonwater.design.size_array import array_area
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.flow import StateFlow
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.speeds import speed_for_flow
from noonwater.hydraulics.states import state_at
from noonwater.hydraulics.wanted_flow import setting_for_wanted
from noonwater.model.job import Job

HAND_SET = {
    "diverter with bypass": "bypass valve",
    "diverter with stops": "diverter",
    "hand diverter": "diverter",
}
"""Valve that sets the flow on the roof where the pump can't, by arrangement."""
LEAST_DIVERTER = 0.05
"""[-] A job's diverter opens at least so far."""


@dataclass(frozen=True)
class SetFlow:
    """A job with its pump or its valve set to a flow.

    Attributes
    ----------
    job : Job
        With the setting.
    state : StateFlow or None
        While solar runs; None where the circuit has no answer.
    bounds : tuple of str
        Why this number of panels is not to be had with this pump; empty where it is.
    """

    job: Job
    state: StateFlow | None
    bounds: tuple[str, ...]


def solar_speed(job: Job) -> float:
    """Fastest speed at which a job's solar runs; flows already made speeds. [rpm]."""
    return job.pump.solar_speed or max(
        (period.rpm for period in job.pump.program if period.heats),
        default=max(period.rpm for period in job.pump.program),
    )


def flow_per_area(job: Job) -> float:
    """Flow that the job's panels get per gross area while solar runs. [m/s]."""
    state = solved(job, solar_speed(job), True, job.pool.target)
    return state.array_flow / array_area(job) if state else 0.0


def wanted_per_area(job: Job) -> float:
    """Flow that any number of panels is to get per gross area. [m/s].

    The job's own where its panels bear it; else what the panels are made for, since the job's own
    would bound the number by a flow that nobody wants.
    """
    own, kinds = flow_per_area(job), [bank_panel(bank, job.own_panel) for bank in job.array.banks]
    if all(kind.flow_min <= own * kind.area <= kind.flow_max for kind in kinds):
        return own
    return sum(kind.flow_nominal for kind in kinds) / sum(kind.area for kind in kinds)


def as_set(job: Job) -> SetFlow:
    """Judge a job as it is set."""
    state = solved(job, solar_speed(job), True, job.pool.target)
    return SetFlow(job, state, tuple(_bounds(job, state)))


def set_flow(job: Job, per_area: float) -> SetFlow:
    """Set pump or valve to a flow per area, and as high as keeps the breaker shut.

    Parameters
    ----------
    job : Job
        The job, its flows already made speeds.
    per_area : float
        Wanted, per gross area of the panels. [m/s]

    Returns
    -------
    SetFlow
        At the pump's highest speed, or with the valve at its end, where the flow is not reached. A
        start that doesn't prime at the job's priming speed gets the pump's highest.
    """
    pump = pump_named(job.pump.pump, own=job.own_pump)
    wanted = per_area * array_area(job)
    try:
        if pump.lowest_speed < pump.highest_speed:
            set_job = _with_speed(job, pump, wanted)
        else:
            set_job = _with_valve(job, wanted)
        return as_set(set_job)
    except InputError as error:
        # The job's own edits of the circuit name parts that this array has no more.
        return SetFlow(job, None, tuple(str(fault) for fault in error.faults))
    except NotConverged as error:
        return SetFlow(job, None, (str(error),))


def _with_speed(job: Job, pump: PumpType, wanted: float) -> Job:
    speed = _speed_for(job, pump, wanted)
    for priming in dict.fromkeys((job.pump.priming_speed, pump.highest_speed)):
        tried = _at_speed(job, speed, priming)
        state = solved(tried, speed, True, job.pool.target)
        if state is not None and runs_without_air(state):
            return tried
    primed = _at_speed(job, speed, pump.highest_speed)
    least = least_speed(primed, True, runs_without_air, job.pool.target)
    return primed if least is None else _at_speed(job, max(least, speed), pump.highest_speed)


def _speed_for(job: Job, pump: PumpType, wanted: float) -> float:
    least, most = (
        solved(job, speed, True, job.pool.target)
        for speed in (pump.lowest_speed, pump.highest_speed)
    )
    if most is None or most.array_flow <= wanted:
        return pump.highest_speed
    if least is not None and least.array_flow >= wanted:
        return pump.lowest_speed
    return speed_for_flow(job, wanted, True, job.pool.target)


def _at_speed(job: Job, speed: float, priming: float | None) -> Job:
    started = None if priming is None else max(priming, speed)
    return replace(
        job, pump=replace(job.pump, solar_speed=speed, solar_flow=None, priming_speed=started)
    )


def _with_valve(job: Job, wanted: float) -> Job:
    valve = HAND_SET.get(job.pad.arrangement)
    if valve is None:
        return job
    temp, speed = job.pool.target, solar_speed(job)
    loop = loop_of(job, fill_circuit(job), temp, Settings())
    found = setting_for_wanted(loop, state_at(job, speed, True), valve, wanted)
    if valve == "diverter":
        opening = 1.0 if wanted >= found.most else found.opening or LEAST_DIVERTER
        return replace(job, pad=replace(job.pad, diverter_open=max(opening, LEAST_DIVERTER)))
    opening = (0.0 if wanted >= found.most else 1.0) if found.opening is None else found.opening
    tried = replace(job, pad=replace(job.pad, bypass_open=opening))
    state = solved(tried, speed, True, temp)
    if state is not None and runs_without_air(state):
        return tried
    narrower = widest_bypass(tried, speed, runs_without_air, temp)
    return tried if narrower is None else replace(job, pad=replace(job.pad, bypass_open=narrower))


def _bounds(job: Job, state: StateFlow | None) -> Iterator[str]:
    """Why a number of panels is not to be had; how evenly they share is told by the checks."""
    if state is None:
        yield "the circuit has no answer"
        return
    if not state.primes:
        yield f"at {rpm(state.rpm)} the pump does not lift water over the top"
        return
    fastest = _fastest(job, state)
    if not covers_bear(job, fastest):
        yield f"at {rpm(fastest.rpm)} the pump draws more than its suction covers are rated for"
    if state.breaker == "open":
        yield f"the vacuum breaker draws air at {rpm(state.rpm)}{_nor_faster(job, state)}"
    mean = state.array_flow / array_area(job)
    for bank in job.array.banks:
        panel = bank_panel(bank, job.own_panel)
        flow = mean * panel.area
        for wrong, limit, word in (
            (flow < panel.flow_min, panel.flow_min, "less than its least"),
            (flow > panel.flow_max, panel.flow_max, "more than its most"),
        ):
            if wrong:
                given, allowed = (
                    shown(job, each, "flow", 1 if job.units == "US" else 2)
                    for each in (flow, limit)
                )
                yield f"at {rpm(state.rpm)} a panel gets {given}, {word}, {allowed}"
                return


def _fastest(job: Job, state: StateFlow) -> StateFlow:
    """The start, where it is faster than solar and somebody has told what the covers bear."""
    speed = job.pump.priming_speed
    if speed is None or speed <= state.rpm or job.pad.suction_rating is None:
        return state
    return solved(job, speed, True, job.pool.target) or state


def _nor_faster(job: Job, state: StateFlow) -> str:
    highest = pump_named(job.pump.pump, own=job.own_pump).highest_speed
    if state.rpm >= highest:
        return ""
    fastest = solved(_at_speed(job, highest, highest), highest, True, job.pool.target)
    shut = fastest is not None and runs_without_air(fastest)
    return "" if shut else f", and at every speed up to {rpm(highest)}"
