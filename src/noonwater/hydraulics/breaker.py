"""The speed that keeps a vacuum breaker shut, for every place it may sit at."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from math import pi
from typing import get_args

from noonwater.catalog.part import breaker_named
from noonwater.core.errors import InputError
from noonwater.hydraulics.air import top_pipe
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.edge import least_where_positive
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.priming import turning
from noonwater.hydraulics.solution import Solution
from noonwater.model.circuit import Part, Port, State
from noonwater.model.job import Job
from noonwater.model.plant import BreakerPlace


@dataclass(frozen=True)
class BreakerSpeed:
    """Speeds that keep a vacuum breaker shut at one place.

    Attributes
    ----------
    place : str
        "high return", "feed", or "none": there the speed at which the siphon does not tear off.
    filter_load : float
        0 clean to 1 due for cleaning. [-]
    speed_static : float or None
        From which the static pressure at it is not under the atmosphere's: the one to go by, a tee
        in the pipe's wall feels no more. None where the highest speed does not do it. [rpm]
    speed_total : float or None
        The same with the velocity head counted in. [rpm]
    pressure_highest : float
        Static, at the pump's highest speed. [Pa]
    """

    place: str
    filter_load: float
    speed_static: float | None
    speed_total: float | None
    pressure_highest: float


def breaker_speeds(job: Job, loop: Loop, state: State) -> tuple[BreakerSpeed, ...]:
    """Speeds that keep a breaker shut, by place and filter.

    Parameters
    ----------
    job : Job
        The job, whose circuit is filled anew with the breaker at each place.
    loop : Loop
        Its circuit's water and limits.
    state : State
        A solar state: its positions hold, its speed does not.

    Returns
    -------
    tuple of BreakerSpeed
        Clean and due for cleaning at each place, solved with the siphon formed. A place that the
        job's own changes of parts do not allow is left out.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    found = []
    for place in get_args(BreakerPlace):
        try:
            circuit = fill_circuit(replace(job, pad=replace(job.pad, breaker=place)))
        except InputError:
            continue
        for load in (0.0, 1.0):
            there = replace(loop, circuit=circuit).with_settings(False, load)
            found.append(breaker_speed(there, state, place, load))
    return tuple(found)


def breaker_speed(loop: Loop, state: State, place: str, filter_load: float) -> BreakerSpeed:
    """Speeds that keep the breaker of a circuit shut.

    Parameters
    ----------
    loop : Loop
        The circuit, with its breaker, and its limits.
    state : State
        A solar state: its positions hold, its speed does not.
    place : str
        Where the breaker sits.
    filter_load : float
        That the loop's settings have. [-]

    Returns
    -------
    BreakerSpeed
        Where there is no breaker, of the array's high point and the siphon's limit.
    """
    pump = loop.pump_type
    breaker = loop.part("vacuum breaker")
    top = top_pipe(loop.circuit).start
    opens = _opening_head(loop, breaker)

    @cache
    def sealed(speed: float) -> Solution:
        at = turning(state, speed)
        return loop.solve(loop.network(at), at)

    def static(solution: Solution) -> float:
        spare = (solution.pressure_head(top) or 0.0) + loop.siphon_limit
        if breaker is None:
            return spare
        return min(spare, (solution.pressure_head(_mouth(breaker)) or 0.0) - opens)

    def total(solution: Solution) -> float:
        return static(solution) + _velocity_head(loop, breaker, solution)

    low, high = pump.lowest_speed, pump.highest_speed
    speed_static = least_where_positive(low, high, lambda speed: static(sealed(speed)))
    speed_total = least_where_positive(low, high, lambda speed: total(sealed(speed)))
    port = top if breaker is None else _mouth(breaker)
    head = sealed(high).pressure_head(port) or 0.0
    pressure = loop.water.density * loop.settings.gravity * head
    return BreakerSpeed(place, filter_load, speed_static, speed_total, pressure)


def _mouth(breaker: Part) -> Port:
    return (breaker.name, breaker.ports[0])


def _opening_head(loop: Loop, breaker: Part | None) -> float:
    if breaker is None:
        return 0.0
    row = breaker_named(breaker.catalog or "vacuum breaker")
    return row.opening_pressure / (loop.water.density * loop.settings.gravity)


def _velocity_head(loop: Loop, breaker: Part | None, solution: Solution) -> float:
    """Velocity head of the fastest water that passes the breaker; 0 where there is none. [m]."""
    name = breaker.name if breaker else ""
    velocities = (
        solution.flow_in(pipe.name) / (0.25 * pi * pipe.diameter**2)
        for pipe in loop.circuit.pipes
        if name in (pipe.start[0], pipe.stop[0])
    )
    return max((velocity**2 for velocity in velocities), default=0.0) / (2 * loop.settings.gravity)
