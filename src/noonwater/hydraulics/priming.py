"""The start: at what speed water gets over the top, and at what speed it carries the air down.

Water that merely runs over the top falls through the down leg and leaves the air there; the pump
then keeps paying for the whole lift. Only where the down leg's flow carries air down does the loop
fill, and a siphon relieves the pump.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from noonwater.hydraulics.air import (
    LEVEL,
    reaches_top,
    settle_with_air,
    standing_head,
    top_pipe,
)
from noonwater.hydraulics.edge import least_where_positive
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.network import port_elevation
from noonwater.hydraulics.solution import Solution
from noonwater.model.circuit import Circuit, Pipe, State
from noonwater.physics.siphon import flow_carrying_air

FULL = 0.01
"""[m] Pressure from which a place counts as full of water and no longer at the air's."""


@dataclass(frozen=True)
class Priming:
    """Speeds of a start, the pump's shut-off head taken with its margin.

    Attributes
    ----------
    filter_load : float
        0 clean to 1 due for cleaning. [-]
    speed_flow_begins : float or None
        At which water first runs over the array's high point. It does not carry the air away yet.
        None where the highest speed does not do it. [rpm]
    speed_to_prime : float or None
        At which the flow with the breaker open carries air down the return, or backs up in it and
        fills it. None as above. [rpm]
    down_leg : str
        The pipe that decides; "" where the water need not go down, as from an array below it.
    flow_needed : float
        In that pipe. [m³/s]
    flow_most : float
        In that pipe with air at the top, at the pump's highest speed. [m³/s]
    """

    filter_load: float
    speed_flow_begins: float | None
    speed_to_prime: float | None
    down_leg: str
    flow_needed: float
    flow_most: float


def priming(loop: Loop, state: State, filter_load: float) -> Priming:
    """Find the speeds of a start.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        A solar state: its positions hold, its speed does not.
    filter_load : float
        0 clean to 1 due for cleaning. [-]

    Returns
    -------
    Priming
        Losses of suction, filter, feed and array count, and what a bypass or lower banks take.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    careful = loop.with_settings(True, filter_load)
    pump = loop.pump_type
    low, high = pump.lowest_speed, pump.highest_speed
    legs = tuple(down_legs(loop.circuit))

    def spare_lift(speed: float) -> float:
        start = turning(state, speed)
        full = careful.network(start)
        top = full.node_of[top_pipe(loop.circuit).start]
        return standing_head(careful, start, full, top) - float(full.elevation[top])

    @cache
    def with_air(speed: float) -> Solution:
        return settle_with_air(careful, turning(state, speed))[0]

    def spare_carry(speed: float) -> float:
        return _least_spare(with_air(speed), legs)

    begins = least_where_positive(low, high, spare_lift)
    primes = begins
    if legs and begins is not None:
        primes = least_where_positive(begins, high, spare_carry)
    flows = dict.fromkeys((leg.name for leg in legs), 0.0)
    if begins is not None:
        flows = {leg.name: with_air(high).flow_in(leg.name) for leg in legs}
    leg = min(legs, key=lambda leg: flows[leg.name] / flow_carrying_air(leg.diameter), default=None)
    return Priming(
        filter_load=filter_load,
        speed_flow_begins=begins,
        speed_to_prime=primes,
        down_leg=leg.name if leg else "",
        flow_needed=flow_carrying_air(leg.diameter) if leg else 0.0,
        flow_most=flows[leg.name] if leg else 0.0,
    )


def turning(state: State, speed: float) -> State:
    """The same positions at another speed of the filter pump."""
    return State(f"start {speed:.0f} rpm", speed, state.solar, state.positions, state.speeds)


def down_legs(circuit: Circuit) -> Iterator[Pipe]:
    """Pipes of the return that go down from the array's high point, one after another.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Yields
    ------
    Pipe
        Level stretches and those that rise are left out.
    """
    parts = {part.name: part for part in circuit.parts}
    onward = {pipe.start[0]: pipe for pipe in circuit.pipes if pipe.role == "roof return"}
    pipe: Pipe | None = top_pipe(circuit)
    for _ in circuit.pipes:
        if pipe is None:
            return
        start, stop = (port_elevation(parts[end[0]], end[1]) for end in (pipe.start, pipe.stop))
        if stop < start - LEVEL and start > 0.0:
            yield pipe
        pipe = onward.get(pipe.stop[0])


def carries_air(loop: Loop, state: State) -> bool:
    """Whether a start carries the air down the return, the pump taken with its margin.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Positions, and the speed of the start.

    Returns
    -------
    bool
        Also False where no water gets over the top.
    """
    careful = loop.careful()
    if not reaches_top(careful, state):
        return False
    legs = tuple(down_legs(loop.circuit))
    return not legs or _least_spare(settle_with_air(careful, state)[0], legs) >= 0.0


def _least_spare(solution: Solution, legs: tuple[Pipe, ...]) -> float:
    """How far the worst leg is from holding air: share of flow, or pressure where it is full."""

    def spare(leg: Pipe) -> float:
        carried = solution.flow_in(leg.name) / flow_carrying_air(leg.diameter) - 1.0
        # Where the way back loses more than the leg falls, water backs up and leaves air no room.
        return max(carried, (solution.pressure_head(leg.start) or 0.0) - FULL)

    return min(spare(leg) for leg in legs)
