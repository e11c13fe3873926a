"""Where the water is in every state of a circuit, where it could run, and the steps by hand.

Everything follows from the graph of parts and pipes, from heights, from slopes and from what can be
set. Pipes are taken as straight between the heights of their ends, and to drain where both are
alike; where a slope is told that falls away from the lower end, the level stretch hangs below it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import job_states
from noonwater.hydraulics.trace_backflow import (
    Backflow,
    level_backflow,
    pushed_backflow,
    stop_backflow,
    stopped,
)
from noonwater.hydraulics.trace_heat import Seen, seen_in
from noonwater.hydraulics.trace_opening import Opening, flooding, opened
from noonwater.hydraulics.trace_plumbing import setting_of
from noonwater.hydraulics.trace_reach import (
    Running,
    Shutting,
    driven_parts,
    has_way,
    running_of,
    shut_sets,
)
from noonwater.hydraulics.trace_replay import Case
from noonwater.hydraulics.trace_service import Service, service_steps
from noonwater.hydraulics.trace_standing import PartWater, parts_water
from noonwater.hydraulics.trace_winter import Winter, winter_steps
from noonwater.hydraulics.volume import circuit_volume
from noonwater.model.circuit import State
from noonwater.model.job import Job

TEMP_WATER = 25.0
"""[°C] Water of the pool in its season, where a caller names none."""


@dataclass(frozen=True)
class StateTrace:
    """Where the water is in one state.

    Attributes
    ----------
    state : State
        Positions and speeds.
    parts : tuple of PartWater
        What each part and pipe holds.
    running : Running
        What the pump moves.
    floods : tuple of str
        Open drains that open water runs out of.
    """

    state: State
    parts: tuple[PartWater, ...]
    running: Running
    floods: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Of the state."""
        return self.state.name

    @property
    def litres(self) -> float:
        """Water in all parts and pipes. [L]."""
        return sum(entry.litres for entry in self.parts)

    @property
    def trapped(self) -> float:
        """Water that nothing lets out. [L]."""
        return sum(entry.litres for entry in self.parts if entry.water == "trapped")

    def part(self, name: str) -> PartWater:
        """Find a part or pipe by name."""
        return next(entry for entry in self.parts if entry.name == name)


@dataclass(frozen=True)
class Deadhead:
    """A pump that runs and moves nothing.

    Attributes
    ----------
    pump : str
        Pump or booster pump.
    valves : tuple of (str, str)
        Valves that leave it no way, and what each is turned against; none in a state of the job.
    state : str
        State of the job that it happens in; "" where hands would have to turn the valves so.
    reason : {"no way", "does not lift"}
        Why.
    """

    pump: str
    valves: tuple[Shutting, ...]
    state: str
    reason: Literal["no way", "does not lift"]


@dataclass(frozen=True)
class Trace:
    """All that the graph and the heights say of a circuit.

    Attributes
    ----------
    case : Case
        Circuit and limits.
    states : tuple of StateTrace
        In the job's order.
    backflow : tuple of Backflow
        Water that runs where it should not.
    deadheads : tuple of Deadhead
        Of the job's states, and of every set of valves that could be shut together.
    seen : tuple of Seen
        What heaters and sanitizers see.
    openings : tuple of Opening
        What comes out of each part when it is opened with the pump off.
    service : Service
        Steps that shut the array off while the filter goes on.
    winter : Winter
        Steps out of the season and back.
    """

    case: Case
    states: tuple[StateTrace, ...]
    backflow: tuple[Backflow, ...]
    deadheads: tuple[Deadhead, ...]
    seen: tuple[Seen, ...]
    openings: tuple[Opening, ...]
    service: Service
    winter: Winter

    @property
    def litres_full(self) -> float:
        """Water that the circuit holds when all of it is full. [L]."""
        return 1000.0 * circuit_volume(self.case.circuit)

    def state(self, name: str) -> StateTrace:
        """Find a state by name."""
        return next(entry for entry in self.states if entry.name == name)


def trace_job(job: Job, temp_water: float = TEMP_WATER) -> Trace:
    """Trace a job's circuit.

    Parameters
    ----------
    job : Job
        The whole job.
    temp_water : float
        Of the water in the pipes. [°C]

    Returns
    -------
    Trace
        Kept, so that the same question is answered once.

    Raises
    ------
    InputError
        A name or a speed that does not exist, with the job's field.
    NotConverged
        A state without an answer.
    """
    return trace_case(_case_of(job, temp_water), job_states(job))


def trace_states(job: Job, temp_water: float = TEMP_WATER) -> tuple[StateTrace, ...]:
    """Trace a job's states alone, without what follows from them.

    Parameters
    ----------
    job : Job
        The whole job.
    temp_water : float
        Of the water in the pipes. [°C]

    Returns
    -------
    tuple of StateTrace
        Each state begins with everything full: what it can't let go stays.

    Raises
    ------
    InputError
        A name or a speed that does not exist, with the job's field.
    NotConverged
        A state without an answer.
    """
    case = _case_of(job, temp_water)
    return tuple(_trace_state(case, state) for state in job_states(job))


def _case_of(job: Job, temp_water: float) -> Case:
    loop = loop_of(job, fill_circuit(job), temp_water, Settings())
    return Case(loop, job.array.trapped_water)


@lru_cache(maxsize=32)
def trace_case(case: Case, states: tuple[State, ...]) -> Trace:
    """Trace a circuit in its states.

    Parameters
    ----------
    case : Case
        Circuit and limits.
    states : tuple of State
        Positions and speeds; the first is taken as the pump's rest.

    Returns
    -------
    Trace
        Each state begins with everything full: what it can't let go stays.
    """
    traced = tuple(_trace_state(case, state) for state in states)
    standing = traced[0]
    deadheads = [dead for entry in traced for dead in _dead_in(case, entry)]
    deadheads += [
        Deadhead(pump.name, valves, "", "no way")
        for pump in driven_parts(case.circuit)
        for valves in shut_sets(case.circuit, pump)
    ]
    seen = [
        view
        for entry in traced
        if entry.state.speed > 0.0
        for view in seen_in(case.circuit, entry.name, entry.running, standing.parts)
    ]
    rest_setting = setting_of(states[0])
    rest = case.settle(case.plumbing(rest_setting), None)
    return Trace(
        case=case,
        states=traced,
        backflow=tuple(flow for entry in traced for flow in _backflow(case, entry)),
        deadheads=tuple(deadheads),
        seen=tuple(seen),
        openings=opened(
            case.circuit, rest_setting, rest.shares, case.residue, case.loop.siphon_limit
        ),
        service=service_steps(case, states),
        winter=winter_steps(case, states),
    )


@lru_cache(maxsize=64)
def _trace_state(case: Case, state: State) -> StateTrace:
    plumbing = case.plumbing(setting_of(state))
    running = running_of(case.loop, state)
    rest = case.settle(plumbing, None, running)
    parts = parts_water(case.circuit, plumbing, rest, running)
    return StateTrace(state, parts, running, tuple(sorted(flooding(plumbing, rest))))


def _dead_in(case: Case, entry: StateTrace) -> list[Deadhead]:
    """Pumps that turn in a state and move nothing."""
    setting = setting_of(entry.state)
    return [
        Deadhead(
            pump.name,
            (),
            entry.name,
            "does not lift" if has_way(case.circuit, setting, pump) else "no way",
        )
        for pump in driven_parts(case.circuit, entry.state)
        if pump.name not in entry.running.flow
    ]


def _backflow(case: Case, entry: StateTrace) -> Sequence[Backflow]:
    circuit, name = case.circuit, entry.name
    plumbing = case.plumbing(setting_of(entry.state))
    rest = case.settle(plumbing, None, entry.running)
    if entry.state.speed <= 0.0:
        return level_backflow(circuit, plumbing, name, rest)
    after, runs = stopped(plumbing, rest, case.loop.siphon_limit)
    return [
        *stop_backflow(circuit, name, runs),
        *level_backflow(circuit, plumbing, name, after),
        *pushed_backflow(circuit, plumbing, name, entry.running),
    ]
