"""What a state settles at: does water reach the top, does air come in, which answers are stable.

Pressure at the breaker is static pressure. Where air gets in, the array's high point stands at
atmospheric pressure and the water falls freely from there; that holds for a breaker at the feed as
well, because the air it lets in rises to the high point.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from noonwater.catalog import pump_named
from noonwater.core.errors import NotConverged
from noonwater.hydraulics.arrays import PUMP, SHUTOFF
from noonwater.hydraulics.network import Network, build_network
from noonwater.hydraulics.settings import Settings, Water, constants_of
from noonwater.hydraulics.solution import Solution, solve
from noonwater.hydraulics.solver import link_loss
from noonwater.model.circuit import Circuit, Part, Pipe, State

BreakerState = Literal["none", "shut", "open", "dry"]
"""No breaker; shut by pressure; drawing air; no water at it."""

SURPLUS_LEAST = -1e-5
"""[m] A falling leg must have this much to lose; less means that it is not falling freely."""


@dataclass(frozen=True)
class Loop:
    """A circuit with the water and the limits that its states are solved under.

    Attributes
    ----------
    circuit : Circuit
        Parts and pipes.
    water : Water
        What flows.
    settings : Settings
        Switches.
    siphon_limit : float
        Height that the atmosphere can hold up, see `physics.siphon`. [m]
    priming_speed : float
        Speed at each start, 0 where the pump starts at the running speed. [rpm]
    """

    circuit: Circuit
    water: Water
    settings: Settings
    siphon_limit: float
    priming_speed: float = 0.0


@dataclass(frozen=True)
class Operation:
    """What a state settles at.

    Attributes
    ----------
    solution : Solution
        The answer to reckon with.
    breaker : BreakerState
        What the vacuum breaker does.
    primes : bool
        Whether water reaches the top and goes on running.
    lift : float
        Height of the array's high point above the pool's water; 0 where the array is off. [m]
    alternative : Solution or None
        The other stable answer: a siphon where air is reckoned with, air where a siphon is.
    alternative_breaker : BreakerState
        What the breaker does there.
    """

    solution: Solution
    breaker: BreakerState
    primes: bool
    lift: float
    alternative: Solution | None = None
    alternative_breaker: BreakerState = "none"


def operate(loop: Loop, state: State) -> Operation:
    """Find what a state settles at.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Positions and speed.

    Returns
    -------
    Operation
        The answer, and the other stable one if there is one.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    breaker = _part_of_kind(loop.circuit, "vacuum breaker")
    network = build_network(loop.circuit, state, loop.water, loop.settings)
    if not state.solar or state.speed <= 0.0 or network.empty:
        at_rest = _solve(loop, network, state)
        return Operation(at_rest, "dry" if breaker else "none", True, 0.0)
    falls = _falls(loop.circuit, network)
    top = falls[0][0]
    lift = float(network.elevation[top])
    sealed = _solve(loop, network, state)
    siphon = float(sealed.head[top]) - lift > -loop.siphon_limit
    alternative = sealed if siphon else None
    if not _reaches(loop, state, max(state.speed, loop.priming_speed), lift):
        return _dry(loop, state, lift, alternative)
    gauge = top if breaker is None else network.node_of[(breaker.name, breaker.ports[0])]
    draws_air = not siphon or (sealed.head[gauge] < network.elevation[gauge] and bool(breaker))
    suction = bool(sealed.head[top] < lift)
    with_siphon: BreakerState = "shut" if breaker else "none"
    with_air: BreakerState = "open" if breaker else "none"
    if not suction:
        return Operation(sealed, with_siphon, True, lift)
    holds = _reaches(loop, state, state.speed, lift)
    if draws_air or is_priming(state):
        if not holds:
            return _dry(loop, state, lift, alternative)
        return Operation(
            _open(loop, network, state, falls), with_air, True, lift, alternative, with_siphon
        )
    broken = _open(loop, network, state, falls) if holds else None
    return Operation(sealed, with_siphon, True, lift, broken, with_air)


def is_priming(state: State) -> bool:
    """Whether a state is a start, with air still in the top.

    Parameters
    ----------
    state : State
        Named as `model.circuit.State` says.

    Returns
    -------
    bool
        True for "priming 3000 rpm".
    """
    return state.name.startswith("priming")


def _solve(loop: Loop, network: Network, state: State) -> Solution:
    return solve(network, loop.water, loop.settings, state.name)


def _part_of_kind(circuit: Circuit, kind: str) -> Part | None:
    return next((part for part in circuit.parts if part.kind == kind), None)


def _dry(loop: Loop, state: State, lift: float, alternative: Solution | None) -> Operation:
    """The state in which no water comes over the top."""
    shut = frozenset([_top_pipe(loop.circuit).name])
    blocked = build_network(loop.circuit, state, loop.water, loop.settings, shut)
    breaker = _part_of_kind(loop.circuit, "vacuum breaker")
    return Operation(
        _solve(loop, blocked, state),
        "dry" if breaker else "none",
        False,
        lift,
        alternative,
        "shut" if breaker else "none",
    )


def _reaches(loop: Loop, state: State, speed: float, lift: float) -> bool:
    """Whether the pump lifts water to the top, its shut-off head taken with its margin."""
    starting = replace(state, speed=speed)
    shut = frozenset([_top_pipe(loop.circuit).name])
    blocked = build_network(loop.circuit, starting, loop.water, loop.settings, shut)
    part = _part_of_kind(loop.circuit, "pump")
    assert part is not None
    pump = pump_named(part.catalog)
    if part.name not in blocked.link_of:
        ratio = speed / pump.rated_speed
        return bool(ratio**2 * pump.head_shutoff * pump.head_margin >= lift)
    # A bypass takes its share before any water rises: what is left at the feed's foot counts.
    blocked.links.figures[blocked.links.kind == PUMP, SHUTOFF] *= pump.head_margin
    foot = next(pipe.start for pipe in loop.circuit.pipes if pipe.role == "feed")
    head = _solve(loop, blocked, state).head[blocked.node_of[foot]]
    return bool(head >= lift)


def _returns(circuit: Circuit) -> list[Pipe]:
    return [pipe for pipe in circuit.pipes if pipe.role == "roof return"]


def _top_pipe(circuit: Circuit) -> Pipe:
    """The return pipe that begins at the array's high point, past the breaker if it sits there."""
    parts = {part.name: part for part in circuit.parts}
    pipes = _returns(circuit)

    def height(pipe: Pipe) -> float:
        part = parts[pipe.start[0]]
        return part.elevation + (part.rise if pipe.start[1] == part.ports[-1] else 0.0)

    # Of stretches equally high the last in flow's direction: only past it the pipe goes down.
    return max(reversed(pipes), key=height)


def _falls(circuit: Circuit, network: Network) -> list[tuple[int, int]]:
    """Places where water could fall freely: the high point, then those below it on the return."""
    onward = {
        int(network.links.start[network.link_of[pipe.name]]): network.link_of[pipe.name]
        for pipe in _returns(circuit)
        if pipe.name in network.link_of
    }
    link = network.link_of[_top_pipe(circuit).name]
    node = int(network.links.start[link])
    falls = [(node, link)]
    while (below := int(network.links.stop[link])) in onward:
        link = onward[below]
        falls.append((below, link))
    return falls


def _open(loop: Loop, network: Network, state: State, falls: list[tuple[int, int]]) -> Solution:
    """Solve with air at the high point, and at joints below it that would lie under vacuum."""
    chosen = [falls[0]]
    for _ in range(len(falls) + 1):
        solution = _solve(loop, network.pinned_at(chosen), state)
        wanted = [
            fall
            for fall in falls
            if fall in chosen or solution.head[fall[0]] < network.elevation[fall[0]]
        ]
        if wanted == chosen:
            break
        chosen = wanted
    surplus = min(_surplus(loop, solution, link) for _, link in chosen)
    if surplus < SURPLUS_LEAST:
        raise NotConverged("the open breaker", surplus, state.name)
    return solution


def _surplus(loop: Loop, solution: Solution, link: int) -> float:
    """Head that a falling leg has to lose beyond its friction. [m]."""

    links = solution.network.links
    loss, _ = link_loss(
        links, constants_of(loop.settings, loop.water), link, float(solution.flow[link])
    )
    drop = solution.head[links.start[link]] - solution.head[links.stop[link]]
    return float(drop - loss) if solution.flow[link] >= 0.0 else float(solution.flow[link])
