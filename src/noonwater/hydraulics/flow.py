"""Flow, head, pressures and watts of pad and array in every operating state of a job."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import pi
from typing import Literal

from noonwater.catalog import pump_named
from noonwater.core.constants import GRAVITY
from noonwater.core.errors import InputError
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.element import hole_of
from noonwater.hydraulics.loop import Loop, loop_of
from noonwater.hydraulics.operating import BreakerState, operate
from noonwater.hydraulics.settings import Settings, Water
from noonwater.hydraulics.solution import Solution
from noonwater.hydraulics.states import job_states, speed_faults, state_at
from noonwater.hydraulics.targets import Targets, targets_of
from noonwater.model.circuit import Circuit, Port, State
from noonwater.model.job import Job
from noonwater.model.plant import Purpose
from noonwater.physics.pump import pump_head, pump_power

ROLES = ("suction", "pad", "feed", "roof return", "return")

TEMP_WATER = 25.0
"""[°C] Water of the pool in its season, where a caller names none."""


@dataclass(frozen=True)
class PipeVelocity:
    """The fastest water in the pipes of one role: which pipe, how fast [m/s]."""

    role: str
    pipe: str
    velocity: float


LEAK = 1e-6
"""[m³/s] Below this a check valve counts as shut: a shut one leaks 1e-8 a metre in the solver."""


@dataclass(frozen=True)
class CheckValve:
    """A check valve in a state: its name, and whether it is open, held shut, or in still water."""

    name: str
    state: Literal["open", "shut", "still"]


@dataclass(frozen=True)
class StateFlow:
    """What flows in one state.

    Attributes
    ----------
    name : str
        Of the state.
    rpm : float
        Of the pump. [rpm]
    solar : bool
        Whether the diverter sends water to the roof.
    flow : float
        Through the pump. [m³/s]
    array_flow : float
        Through all panels. [m³/s]
    heater_flow : float
        Through the heater, of several the least; 0 where there is none. [m³/s]
    head : float
        Of the pump. [m]
    power : float
        Of all pumps at the wire. [W]
    breaker : {"none", "shut", "open", "dry"}
        No breaker; shut by pressure; drawing air; no water at it.
    primes : bool
        False where a solar state gets no water over the array's high point (lower banks may run);
        True in all other states.
    lift : float
        Height of the array's high point above the pool's water; 0 where the array is off. [m]
    bank_flows : tuple of float
        [m³/s]
    panel_flows : tuple of tuple of float
        Of each panel of each bank, from the feed's corner on. [m³/s]
    pressure_filter : float
        Static gauge pressure at the filter's inlet. [Pa]
    pressure_array_high, pressure_array_low : float or None
        Highest and lowest at any header; None where no water runs. [Pa]
    pressure_breaker : float or None
        Static, at the breaker. [Pa]
    velocities : tuple of PipeVelocity
        By role of pipe.
    check_valves : tuple of CheckValve
        Open; held shut, by its spring or by water from behind; or in water that stands still.
    residual : float
        Largest miss of a link's energy balance. [m]
    imbalance : float
        Largest miss of a joint's mass balance. [m³/s]
    alternative : StateFlow or None
        The other stable answer: with a siphon formed where `breaker` is "open" or `primes` is
        False, with air at the high point where it is not.
    leak : float
        Through the diverter's drain-down hole toward the roof while solar is off. [m³/s]
    """

    name: str
    rpm: float
    solar: bool
    flow: float
    array_flow: float
    heater_flow: float
    head: float
    power: float
    breaker: BreakerState
    primes: bool
    lift: float
    bank_flows: tuple[float, ...]
    panel_flows: tuple[tuple[float, ...], ...]
    pressure_filter: float
    pressure_array_high: float | None
    pressure_array_low: float | None
    pressure_breaker: float | None
    velocities: tuple[PipeVelocity, ...]
    check_valves: tuple[CheckValve, ...]
    residual: float
    imbalance: float
    alternative: StateFlow | None = None
    leak: float = 0.0


@dataclass(frozen=True)
class FlowResult:
    """What flows in every state of a job.

    Attributes
    ----------
    states : tuple of StateFlow
        In the order of `states.job_states`.
    circuit : Circuit
        What was solved.
    temp_water : float
        [°C]
    settings : Settings
        Switches that were set.
    targets : Targets or None
        What to set the pad to; None where solar is allowed in no period.
    """

    states: tuple[StateFlow, ...]
    circuit: Circuit
    temp_water: float
    settings: Settings
    targets: Targets | None = None

    def state(self, name: str) -> StateFlow:
        """Find a state by name."""
        return next(state for state in self.states if state.name == name)


def solve_flow(
    job: Job, temp_water: float = TEMP_WATER, settings: Settings | None = None
) -> FlowResult:
    """Solve every operating state of a job.

    Parameters
    ----------
    job : Job
        The whole job.
    temp_water : float
        Of the water in the pipes. [°C]
    settings : Settings, optional
        Switches; the defaults where left out.

    Returns
    -------
    FlowResult
        One entry a state.

    Raises
    ------
    InputError
        A name or a speed that does not exist, with the job's field.
    NotConverged
        A state without an answer.
    """
    found = solve_states(job, temp_water, settings)
    job_loop = loop_of(job, found.circuit, temp_water, found.settings)
    return replace(found, targets=targets_of(job, job_loop, job_states(job)))


def solve_states(
    job: Job, temp_water: float = TEMP_WATER, settings: Settings | None = None
) -> FlowResult:
    """Solve every operating state as `solve_flow` does, without targets, which take longest.

    Parameters and errors are those of `solve_flow`; the result's targets are None.
    """
    settings = settings or Settings()
    circuit = fill_circuit(job)
    job_loop = loop_of(job, circuit, temp_water, settings)
    flows = tuple(state_flow(job_loop, state) for state in job_states(job))
    return FlowResult(flows, circuit, temp_water, settings)


def flow_at(
    job: Job,
    speed: float,
    solar: bool,
    temp_water: float = TEMP_WATER,
    purpose: Purpose = "filter",
) -> StateFlow:
    """Flow at one speed of the pump.

    Parameters
    ----------
    job : Job
        The whole job.
    speed : float
        Of the pump. [rpm]
    solar : bool
        Whether the diverter sends water to the roof.
    temp_water : float
        Of the water in the pipes. [°C]
    purpose : Purpose
        What the pump runs for.

    Returns
    -------
    StateFlow
        Kept, so that the same question on the same circuit is solved once.

    Raises
    ------
    InputError
        A speed that the pump does not have.
    """
    pump = pump_named(job.pump.pump, own=job.own_pump)
    faults = speed_faults(pump, speed, "speed") if speed > 0.0 else []
    if faults:
        raise InputError(faults)
    job_loop = loop_of(job, fill_circuit(job), temp_water, Settings())
    return state_flow(job_loop, state_at(job, speed, solar, purpose))


@lru_cache(maxsize=512)
def state_flow(job_loop: Loop, state: State) -> StateFlow:
    """Flow in one state of a loop.

    Parameters
    ----------
    job_loop : Loop
        The circuit with the water and the limits.
    state : State
        Positions and speeds, at any speed.

    Returns
    -------
    StateFlow
        Kept, so that the same question is solved once.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    found = operate(job_loop, state)
    alternative = None
    if found.alternative is not None:
        alternative = describe_flow(
            job_loop, state, found.alternative, (found.alternative_breaker, True, found.lift)
        )
    return describe_flow(
        job_loop, state, found.solution, (found.breaker, found.primes, found.lift), alternative
    )


def describe_flow(
    job_loop: Loop,
    state: State,
    solution: Solution,
    verdict: tuple[BreakerState, bool, float],
    alternative: StateFlow | None = None,
) -> StateFlow:
    """Read a state's figures out of a solved network; verdict is breaker, primes and lift."""
    circuit, water = job_loop.circuit, job_loop.water
    breaker, primes, lift = verdict
    pump = next(part for part in circuit.parts if part.kind == "pump")
    flow = solution.flow_in(pump.name)
    head, power = pump_figures(circuit, state, solution)
    panels = _panel_flows(circuit, solution)
    banks = tuple(sum(bank) for bank in panels)
    headers = [
        pressure
        for part in circuit.parts
        if part.kind == "panel"
        for port in part.ports
        if (pressure := _pressure(solution, water, (part.name, port))) is not None
    ]
    standing = water.density * GRAVITY * (head - circuit.part("filter").elevation)
    at_filter = _pressure(solution, water, ("filter", "in"))
    heaters = [part.name for part in circuit.parts if part.kind == "heater"]
    return StateFlow(
        name=state.name,
        rpm=state.speed,
        solar=state.solar,
        flow=flow,
        array_flow=sum(banks),
        heater_flow=min((abs(solution.flow_in(name)) for name in heaters), default=0.0),
        head=head,
        power=power,
        breaker=breaker,
        primes=primes,
        lift=lift,
        bank_flows=banks,
        panel_flows=panels,
        pressure_filter=standing if at_filter is None else at_filter,
        pressure_array_high=max(headers) if headers else None,
        pressure_array_low=min(headers) if headers else None,
        # Above the water that stands there the solver's head is no pressure.
        pressure_breaker=None if breaker == "dry" else _breaker_pressure(circuit, solution, water),
        velocities=_velocities(circuit, solution),
        check_valves=_check_valves(circuit, solution),
        residual=solution.residual,
        imbalance=solution.imbalance(),
        alternative=alternative,
        leak=sum(solution.flow_in(hole_of(part)) for part in circuit.of_kind("diverter")),
    )


def pump_figures(circuit: Circuit, state: State, solution: Solution) -> tuple[float, float]:
    """Head of the filter pump [m], and power of all pumps at the wire [W].

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : State
        For the pumps' speeds.
    solution : Solution
        Of that state.
    """
    head = power = 0.0
    for part in circuit.of_kind("pump", "booster pump"):
        speed = state.speed_of(part)
        if speed <= 0.0:
            continue
        pump = pump_named(part.catalog, own=circuit.own_pumps)
        ratio, flow = speed / pump.rated_speed, solution.flow_in(part.name)
        power += pump_power(flow, ratio, pump.power_floor, pump.power_turning, pump.power_flow)
        if part.kind == "pump":
            head = pump_head(flow, ratio, pump.head_shutoff, pump.fall, pump.exponent)
    return head, power


def _check_valves(circuit: Circuit, solution: Solution) -> tuple[CheckValve, ...]:
    return tuple(
        CheckValve(
            part.name,
            ("open" if solution.flow_in(part.name) > LEAK else "shut")
            if part.name in solution.network.link_of
            else "still",
        )
        for part in circuit.of_kind("check valve")
    )


def _pressure(solution: Solution, water: Water, port: Port) -> float | None:
    head = solution.pressure_head(port)
    return None if head is None else water.density * GRAVITY * head


def _breaker_pressure(circuit: Circuit, solution: Solution, water: Water) -> float | None:
    breakers = circuit.of_kind("vacuum breaker")
    return (
        _pressure(solution, water, (breakers[0].name, breakers[0].ports[0])) if breakers else None
    )


def _panel_flows(circuit: Circuit, solution: Solution) -> tuple[tuple[float, ...], ...]:
    banks: dict[str, list[float]] = {}
    for part in circuit.parts:
        if part.kind == "panel":
            bank = part.name.rpartition(" panel ")[0]
            banks.setdefault(bank, []).append(solution.flow_in(part.name))
    return tuple(tuple(flows) for flows in banks.values())


def _velocities(circuit: Circuit, solution: Solution) -> tuple[PipeVelocity, ...]:
    fastest: dict[str, PipeVelocity] = {}
    for pipe in circuit.pipes:
        area = 0.25 * pi * pipe.diameter**2
        here = PipeVelocity(pipe.role, pipe.name, abs(solution.flow_in(pipe.name)) / area)
        if pipe.role not in fastest or here.velocity > fastest[pipe.role].velocity:
            fastest[pipe.role] = here
    return tuple(fastest[role] for role in ROLES if role in fastest)
