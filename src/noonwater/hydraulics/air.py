"""Air in the return: which places stand at atmospheric pressure, and which get no water at all.

Every place where a stretch of the roof return begins is one of three: full, under pressure;
falling, at atmospheric pressure with head to spare below it; or dry, because the water does not
rise so far. Lower banks may run while a higher one stands dry.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

from noonwater.catalog import pump_named
from noonwater.core.errors import NotConverged
from noonwater.hydraulics.arrays import PUMP, SHUTOFF
from noonwater.hydraulics.joint import joint_heads
from noonwater.hydraulics.network import Network, build_network, port_elevation
from noonwater.hydraulics.settings import Settings, Water, constants_of
from noonwater.hydraulics.solution import Solution, solve
from noonwater.hydraulics.solver import link_loss
from noonwater.model.circuit import Circuit, Part, Pipe, State

MISS_LEAST = -1e-3
"""[m] How far a falling place may be short of head to lose, or a full one short of pressure."""

LEVEL = 1e-6
"""[m] Heights closer than this count as equal."""

Fall = tuple[int, int]
"""A node of the return and the link that begins there."""


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

    def network(self, state: State, shut: frozenset[str] = frozenset()) -> Network:
        """The circuit's network in a state, some links shut."""
        return build_network(self.circuit, state, self.water, self.settings, shut)

    def solve(self, network: Network, state: State) -> Solution:
        """Solve one of its networks."""
        return solve(network, self.water, self.settings, state.name)

    def part(self, kind: str) -> Part | None:
        """The first part of a kind."""
        return next((part for part in self.circuit.parts if part.kind == kind), None)


def top_pipe(circuit: Circuit) -> Pipe:
    """The stretch of return that begins at the array's high point.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.

    Returns
    -------
    Pipe
        Of stretches equally high the one that goes down.
    """
    parts = {part.name: part for part in circuit.parts}
    pipes = [pipe for pipe in circuit.pipes if pipe.role == "roof return"]
    starts = {pipe.start[0] for pipe in pipes}

    def rank(pipe: Pipe) -> tuple[float, bool, bool]:
        height = port_elevation(parts[pipe.start[0]], pipe.start[1])
        falls = port_elevation(parts[pipe.stop[0]], pipe.stop[1]) < height - LEVEL
        # Below the water nothing goes down: then the last stretch, that no other one follows.
        return round(height, 6), falls, pipe.stop[0] not in starts

    return max(pipes, key=rank)


def links_of_dry(network: Network, node: int) -> frozenset[str]:
    """Links to shut where water does not rise to a node.

    Parameters
    ----------
    network : Network
        Any.
    node : int
        One of its nodes.

    Returns
    -------
    frozenset of str
        Names of all links that touch it, or what hangs together with it as high or higher: else two
        banks could still circulate through the joint above them.
    """
    level = network.elevation[node] - LEVEL
    ends = list(zip(network.links.start.tolist(), network.links.stop.tolist(), strict=True))
    dry, before = {node}, 0
    while len(dry) > before:
        before = len(dry)
        for start, stop in ends:
            if start in dry or stop in dry:
                dry.update(end for end in (start, stop) if network.elevation[end] >= level)
    return frozenset(
        name
        for name, link in network.link_of.items()
        if ends[link][0] in dry or ends[link][1] in dry
    )


def settle_with_air(
    loop: Loop, state: State, shut: frozenset[str] = frozenset()
) -> tuple[Solution, frozenset[str]]:
    """Solve a state with air in the return.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Positions and speed.
    shut : frozenset of str
        Links at places known to be dry.

    Returns
    -------
    tuple
        The solution, and the names of the links at places that get no water.

    Raises
    ------
    NotConverged
        No set of full, falling and dry places that agrees with itself.
    """
    for _ in range(len(loop.circuit.pipes)):
        network = loop.network(state, shut)
        falls = {
            pipe.name: (int(network.links.start[link]), link)
            for pipe in loop.circuit.pipes
            if pipe.role == "roof return" and (link := network.link_of.get(pipe.name)) is not None
        }
        solution, backward = _full_or_falling(loop, network, state, list(falls.values()))
        if not backward:
            return solution, shut
        for node, _ in backward:
            shut |= links_of_dry(network, node)
    raise NotConverged("the open breaker", np.inf, state.name)


def _full_or_falling(
    loop: Loop, network: Network, state: State, falls: list[Fall]
) -> tuple[Solution, list[Fall]]:
    """Find which places fall; also those that water would have to leave backward."""
    chosen: list[Fall] = []
    worst = 0.0
    solution = loop.solve(network, state)
    for turn in range(8 * len(falls) + 8):
        stuck = _into_dead_ends(network, chosen)
        if stuck:
            return solution, stuck
        solution = loop.solve(network.pinned_at(chosen), state)
        backward = [fall for fall in chosen if solution.flow[fall[1]] < 0.0]
        misses = [_miss(loop, solution, fall, fall in chosen) for fall in falls]
        worst = min(misses, default=0.0)
        if backward or worst >= MISS_LEAST:
            return solution, backward
        # All at once is quick; one at a time does not go round in circles.
        wrong = [fall for fall, miss in zip(falls, misses, strict=True) if miss < MISS_LEAST]
        if turn > len(falls):
            wrong = [falls[misses.index(worst)]]
        chosen = [fall for fall in falls if (fall in chosen) != (fall in wrong)]
    raise NotConverged("the open breaker", -worst, state.name)


def _into_dead_ends(network: Network, falls: list[Fall]) -> list[Fall]:
    """Falls into a place that has no other way out: nothing can run there."""
    falling = {link for _, link in falls}
    group = list(range(len(network.elevation)))

    def root(node: int) -> int:
        while group[node] != node:
            node = group[node]
        return node

    ends = list(zip(network.links.start.tolist(), network.links.stop.tolist(), strict=True))
    for link, (start, stop) in enumerate(ends):
        if link not in falling:
            group[root(start)] = root(stop)
    held = {root(0)} | {root(node) for node, _ in falls}
    return [fall for fall in falls if root(ends[fall[1]][1]) not in held]


def _miss(loop: Loop, solution: Solution, fall: Fall, falling: bool) -> float:
    """Head by which a place is wrong, negative if it is: vacuum, or nothing left to lose. [m]."""
    node, link = fall
    if not falling:
        return float(solution.head[node] - solution.network.elevation[node])
    links = solution.network.links
    constants = constants_of(loop.settings, loop.water)
    loss, _ = link_loss(links, constants, link, float(solution.flow[link]))
    at_joints = np.zeros(len(solution.flow))
    joint_heads(links, solution.network.joints, constants, solution.flow, at_joints)
    loss += float(at_joints[link])
    return float(solution.head[node] - solution.head[links.stop[link]] - loss)


def reaches_top(loop: Loop, state: State) -> bool:
    """Whether the pump lifts water to the array's high point before any runs over it.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Positions, and the speed of the start.

    Returns
    -------
    bool
        Judged on the pump's shut-off head times its margin; what a bypass or lower banks take
        counts.
    """
    top = top_pipe(loop.circuit)
    full = loop.network(state)
    node = full.node_of[top.start]
    blocked = loop.network(state, links_of_dry(full, node))
    lift = float(full.elevation[node])
    part = loop.part("pump")
    assert part is not None
    pump = pump_named(part.catalog, own=loop.circuit.own_pumps)
    if part.name not in blocked.link_of:
        ratio = state.speed / pump.rated_speed
        return bool(ratio**2 * pump.head_shutoff * pump.head_margin >= lift)
    blocked.links.figures[blocked.links.kind == PUMP, SHUTOFF] *= pump.head_margin
    foot = _foot(full, blocked, node)
    return bool(loop.solve(blocked, state).head[foot] >= lift)


def _foot(full: Network, blocked: Network, top: int) -> int:
    """Node where the column that stands below the high point hangs on what still flows."""
    flowing = {
        node: blocked.node_of[port]
        for port, node in full.node_of.items()
        if port in blocked.node_of
    }
    around: dict[int, list[int]] = {}
    for start, stop in zip(full.links.start.tolist(), full.links.stop.tolist(), strict=True):
        # Only upstream: what lies below the high point on the way to the pool is not its foot.
        around.setdefault(stop, []).append(start)
    queue, seen = deque([top]), {top}
    while queue:
        node = queue.popleft()
        if node in flowing:
            return flowing[node]
        for other in around.get(node, []):
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return 0
