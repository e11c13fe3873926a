"""What a state settles at: does water reach the top, does air come in, which answers are stable.

Pressure at the breaker is static pressure. A breaker at the feed that lets air in empties the
array's high point too, because the air rises there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from noonwater.hydraulics.air import links_of_dry, reaches_top, settle_with_air, top_pipe
from noonwater.hydraulics.element import hole_of, with_hole
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.priming import carries_air
from noonwater.hydraulics.solution import Solution
from noonwater.model.circuit import State

BreakerState = Literal["none", "shut", "open", "dry"]
"""No breaker; shut by pressure; drawing air; no water at it."""


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
        Whether water gets over the array's high point and goes on doing so.
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


@lru_cache(maxsize=64)
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
    network = loop.network(state)
    breaker = loop.part("vacuum breaker")
    top = network.node_of.get(top_pipe(loop.circuit).start)
    if not state.solar or state.speed <= 0.0 or top is None:
        at_rest = loop.solve(network, state)
        if (leaking := _leaking(loop, state, at_rest)) is not None:
            return leaking
        # Solar by name with a valve shut on the way to the roof: nothing gets there.
        idle = not state.solar or state.speed <= 0.0
        return Operation(at_rest, "dry" if breaker else "none", idle, 0.0)
    lift = float(network.elevation[top])
    sealed = loop.solve(network, state)
    below = float(sealed.head[top]) - lift
    siphon = below > -loop.siphon_limit
    start = replace(state, speed=max(state.speed, loop.priming_speed))
    primes = reaches_top(loop, start)
    gauge = 0.0
    if breaker:
        gauge = sealed.pressure_head((breaker.name, breaker.ports[0])) or 0.0
    if primes and below >= 0.0 and gauge >= 0.0:
        return Operation(sealed, "shut" if breaker else "none", True, lift)
    draws_air = not siphon or gauge < 0.0 or is_priming(state)
    # A start that only runs over the top leaves its air there: no siphon forms.
    formed = primes and not draws_air and carries_air(loop, start)
    with_siphon: tuple[Solution | None, BreakerState] = (
        (sealed, "shut" if breaker else "none") if siphon else (None, "none")
    )
    with_air, runs_over = _with_air(loop, state, links_of_dry(network, top))
    if formed:
        other, word = with_air, _word(loop, runs_over, "open")
        return Operation(sealed, with_siphon[1], True, lift, other, word)
    primes = primes and runs_over
    return Operation(with_air, _word(loop, primes, "open"), primes, lift, *with_siphon)


def _leaking(loop: Loop, state: State, at_rest: Solution) -> Operation | None:
    """The same state with a trickle through the drain-down hole, where it gets over the array.

    With a breaker the array stands empty unless the pump's head at the diverter lifts water to its
    top; without one it is full.
    """
    leaking = with_hole(loop.circuit, state) if state.speed > 0.0 and not state.solar else None
    if leaking is None:
        return None
    network = loop.network(leaking)
    holes = [part for part in loop.circuit.of_kind("diverter") if hole_of(part) in network.link_of]
    top = network.node_of.get(top_pipe(loop.circuit).start)
    if top is None or not holes:
        return None
    lift = float(network.elevation[top])
    breaker = loop.part("vacuum breaker")
    ahead = max(at_rest.pressure_head(part.ways[-1][0]) or 0.0 for part in holes)
    ahead += holes[0].elevation
    if breaker is None:
        sealed = loop.solve(network, leaking)
        full = float(sealed.head[top]) - lift > -loop.siphon_limit
        return Operation(sealed, "none", True, 0.0) if full else None
    if ahead < lift:
        return None
    solution, dry = settle_with_air(loop, leaking)
    if links_of_dry(network, top) <= dry:
        return None
    gauge = solution.pressure_head((breaker.name, breaker.ports[0])) or 0.0
    return Operation(solution, "shut" if gauge > 0.0 else "open", True, 0.0)


def _with_air(loop: Loop, state: State, top: frozenset[str]) -> tuple[Solution, bool]:
    """The answer with air in the top, and whether water still runs over it."""
    reached: frozenset[str] = frozenset()
    solution, dry = settle_with_air(loop, state, reached if reaches_top(loop, state) else top)
    return solution, not top <= dry


def _word(loop: Loop, wet: bool, running: BreakerState) -> BreakerState:
    if loop.part("vacuum breaker") is None:
        return "none"
    return running if wet else "dry"


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
