"""Air in the return: which places stand at atmospheric pressure, and which get no water at all.

Every place where a stretch of the roof return begins is one of three: full, under pressure;
falling, at atmospheric pressure with head to spare below it; or dry, because the water does not
rise so far. Lower banks may run while a higher one stands dry.
"""

from __future__ import annotations

from collections import deque
from functools import lru_cache
from typing import cast

import numpy as np

from noonwater.core.errors import NotConverged
from noonwater.hydraulics.arrays import ONE_WAY, OPENING, PUMP, RATIO, SHUTOFF
from noonwater.hydraulics.joint import joint_heads
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.network import Network, port_elevation
from noonwater.hydraulics.settings import constants_of
from noonwater.hydraulics.solution import Solution
from noonwater.hydraulics.solver import link_loss
from noonwater.model.circuit import Circuit, Pipe, State

MISS_LEAST = -1e-3
"""[m] How far a falling place may be short of head to lose, or a full one short of pressure."""

LEVEL = 1e-6
"""[m] Heights closer than this count as equal."""

Fall = tuple[int, int]
"""A node of the return and the link that begins there."""


@lru_cache(maxsize=64)
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
    key = ("dry", node)
    if key not in network.memo:
        network.memo[key] = _links_of_dry(network, node)
    return cast(frozenset[str], network.memo[key])


def _links_of_dry(network: Network, node: int) -> frozenset[str]:
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
        if "falls" not in network.memo:
            network.memo["falls"] = _falls(loop.circuit, network)
        falls = cast(list[Fall], network.memo["falls"])
        solution, backward = _full_or_falling(loop, network, state, falls)
        if not backward:
            return solution, shut
        for node, _ in backward:
            shut |= links_of_dry(network, node)
    raise NotConverged("the open breaker", np.inf, state.name)


def _falls(circuit: Circuit, network: Network) -> list[Fall]:
    """Places of the return where air could stand."""
    return [
        (int(network.links.start[link]), link)
        for pipe in circuit.pipes
        if pipe.role == "roof return" and (link := network.link_of.get(pipe.name)) is not None
    ]


def _full_or_falling(
    loop: Loop, network: Network, state: State, falls: list[Fall]
) -> tuple[Solution, list[Fall]]:
    """Find which places fall; also those that water would have to leave backward."""
    chosen: list[Fall] = []
    worst = 0.0
    solution = None
    for turn in range(8 * len(falls) + 8):
        stuck = _into_dead_ends(network, chosen)
        if stuck and solution is not None:
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
    key = ("dead ends", *falls)
    if key not in network.memo:
        network.memo[key] = _dead_ends(network, falls)
    return cast(list[Fall], network.memo[key])


def _dead_ends(network: Network, falls: list[Fall]) -> list[Fall]:
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
        Judged on the pumps' shut-off heads times their margins; what a bypass or lower banks take
        counts.
    """
    return _reaches_top(loop.careful(), state)


@lru_cache(maxsize=256)
def _reaches_top(careful: Loop, state: State) -> bool:
    # Asked for the start, for the running speed, and for the air in the leg, often of one state.
    full = careful.network(state)
    node = full.node_of[top_pipe(careful.circuit).start]
    return standing_head(careful, state, full, node) >= float(full.elevation[node])


def standing_head(
    loop: Loop, state: State, full: Network, top: int, shut: frozenset[str] | None = None
) -> float:
    """Head under the column that stands below a place of the array while nothing runs over it.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Positions and speed.
    full : Network
        All that can carry water in that state.
    top : int
        Node of the place.
    shut : frozenset of str, optional
        Links that keep the water from it; else all that touch it or what lies as high.

    Returns
    -------
    float
        To which the column would rise, above the pool's water. [m]
    """
    shut = links_of_dry(full, top) if shut is None else shut
    blocked = loop.network(state, shut)
    key = ("column", top, shut)
    if key not in full.memo:
        full.memo[key] = _column(full, blocked, top)
    node, foot, column = cast(tuple[int | None, int | None, list[int]], full.memo[key])
    if node is None:
        return 0.0
    head = sum(_head_at_rest(full, link) for link in column)
    if foot is not None:
        return head + float(loop.solve(blocked, state).head[foot])
    return head + full.levels.get(node, 0.0)


def _column(full: Network, blocked: Network, top: int) -> tuple[int | None, int | None, list[int]]:
    """What stands below a place while nothing runs over it.

    Parameters
    ----------
    full, blocked : Network
        All that can carry water, and what does while the place is dry.
    top : int
        Node of the place, in the first.

    Returns
    -------
    tuple
        Node that the column stands on, None where there is none; its number in the second network
        where water flows there; the column's links from the top down.
    """
    flowing = {
        node: blocked.node_of[port]
        for port, node in full.node_of.items()
        if port in blocked.node_of
    }
    around: dict[int, list[int]] = {}
    # Only upstream: what lies below the high point on the way to the pool is not its foot.
    for link, stop in enumerate(full.links.stop.tolist()):
        around.setdefault(stop, []).append(link)
    queue, seen = deque([(top, list[int]())]), {top}
    while queue:
        node, column = queue.popleft()
        if node in flowing and not blocked.empty:
            return node, flowing[node], column
        if node == 0 or node in full.levels:
            return node, None, column
        for link in around.get(node, []):
            other = int(full.links.start[link])
            if other not in seen:
                seen.add(other)
                queue.append((other, [*column, link]))
    return None, None, []


def _head_at_rest(network: Network, link: int) -> float:
    """Head that a link adds to a column that does not move: pumps add, springs take. [m]."""
    figures = network.links.figures[link]
    if network.links.kind[link] == PUMP:
        return float(figures[SHUTOFF] * figures[RATIO] ** 2)
    return -float(figures[OPENING]) if network.links.kind[link] == ONE_WAY else 0.0
