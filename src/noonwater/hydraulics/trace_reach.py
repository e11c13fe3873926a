"""Running water: what the pump's water passes, and whether it has a way at all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from noonwater.hydraulics.air import top_pipe
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.operating import operate
from noonwater.hydraulics.solution import Solution
from noonwater.hydraulics.trace_plumbing import Plumbing, Setting, plumbing_of
from noonwater.model.circuit import Circuit, Part, Port, State

CARRIES = 1e-6
"""[m³/s] Less does not count as carrying."""

Shutting = tuple[str, str]
"""A valve and what it is turned against: "shut", or the way of a diverter that is shut."""


@dataclass(frozen=True)
class Running:
    """Water that a running pump moves.

    Attributes
    ----------
    flow : mapping of str to float
        Of each part and pipe that carries, signed in its own direction. [m³/s]
    head : mapping of Port to float
        At the ports that it passes. [m]
    """

    flow: Mapping[str, float]
    head: Mapping[Port, float]

    def heads(self, plumbing: Plumbing) -> dict[int, float]:
        """Head at each place that the water passes. [m]."""
        return {plumbing.place_of[port]: head for port, head in self.head.items()}


STILL = Running({}, {})


def running_of(loop: Loop, state: State) -> Running:
    """What the pump's water passes in a state.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Positions and speed.

    Returns
    -------
    Running
        From the solved network; nothing where the pump stands or has no way.
    """
    if state.speed <= 0.0:
        return STILL
    network = loop.network(state)
    if network.empty:
        return STILL
    has_top = any(pipe.role == "roof return" for pipe in loop.circuit.pipes)
    if state.solar and has_top and top_pipe(loop.circuit).start in network.node_of:
        return _read(loop.circuit, operate(loop, state).solution)
    return _read(loop.circuit, loop.solve(network, state))


def _read(circuit: Circuit, solution: Solution) -> Running:
    flow: dict[str, float] = {}
    head: dict[Port, float] = {}
    for pipe in circuit.pipes:
        if abs(solution.flow_in(pipe.name)) > CARRIES:
            flow[pipe.name] = solution.flow_in(pipe.name)
            for port in (pipe.start, pipe.stop):
                head[port] = float(solution.head[solution.network.node_of[port]])
    for part in circuit.parts:
        own = solution.flow_in(part.name)
        if abs(own) > CARRIES:
            flow[part.name] = own
        elif part.name not in solution.network.link_of and len(part.ports) > 1:
            # Joints and diverters have no link of their own name: they carry if a pipe there does.
            passing = [abs(flow[name]) for name in _pipes_at(circuit, part.name) if name in flow]
            if not part.facts.driven and passing:
                flow[part.name] = max(passing)
    return Running(flow, head)


def _pipes_at(circuit: Circuit, part: str) -> list[str]:
    return [pipe.name for pipe in circuit.pipes if part in (pipe.start[0], pipe.stop[0])]


def driven_parts(circuit: Circuit, state: State | None = None) -> tuple[Part, ...]:
    """Pumps and booster pumps.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : State, optional
        Only those that turn in it.

    Returns
    -------
    tuple of Part
        In the circuit's order.
    """
    return tuple(
        part
        for part in circuit.parts
        if part.facts.driven and (state is None or state.speed_of(part) > 0.0)
    )


def has_way(circuit: Circuit, setting: Setting, pump: Part) -> bool:
    """Whether a pump can draw from open water and push to it.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    setting : Setting
        How the valves stand.
    pump : Part
        A pump or booster pump.

    Returns
    -------
    bool
        False where it would run against a shut valve.
    """
    plumbing = plumbing_of(circuit, setting)
    ends = [plumbing.place_of[(pump.name, port)] for port in (pump.ports[0], pump.ports[-1])]
    return _reaches_water(plumbing, ends[0], pump.name, True) and _reaches_water(
        plumbing, ends[1], pump.name, False
    )


def _reaches_water(plumbing: Plumbing, place: int, without: str, upstream: bool) -> bool:
    arcs = plumbing.into if upstream else plumbing.out
    stack, seen = [place], {place}
    while stack:
        here = stack.pop()
        if here in plumbing.waters:
            return True
        for other, number, _ in arcs[here]:
            passage = plumbing.passages[number]
            if other not in seen and passage.name != without and not passage.seeps:
                seen.add(other)
                stack.append(other)
    return False


def shut_sets(circuit: Circuit, pump: Part, at_most: int = 3) -> tuple[tuple[Shutting, ...], ...]:
    """Smallest sets of valves that, shut together, leave a pump no way.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    pump : Part
        A pump or booster pump.
    at_most : int
        Valves in a set; more at once nobody shuts by mistake.

    Returns
    -------
    tuple of tuple
        None of them contains another.
    """
    shuttings = [(part.name, against) for part in circuit.parts for against in ways_to_shut(part)]
    found: list[frozenset[Shutting]] = []
    for size in range(1, at_most + 1):
        for chosen in combinations(shuttings, size):
            together = frozenset(chosen)
            if len({name for name, _ in chosen}) < size or any(less <= together for less in found):
                continue
            if not has_way(circuit, _setting_of(circuit, dict(chosen)), pump):
                found.append(together)
    return tuple(tuple(sorted(together)) for together in found)


def ways_to_shut(part: Part) -> dict[str, float]:
    """What a valve can be turned against, with its position then.

    Parameters
    ----------
    part : Part
        Any part.

    Returns
    -------
    dict of str to float
        "shut" of a valve with one way; of a diverter the port of each way. None of a drain.
    """
    if not part.facts.settable or part.facts.air:
        return {}
    if len(part.ways) == 1:
        return {"shut": 0.0}
    common = part.ports[0]
    first, second = (next(p for _, p in way if p != common) for way in part.ways)
    return {first: 1.0, second: 0.0}


def _setting_of(circuit: Circuit, turned: dict[str, str]) -> Setting:
    """All valves open, diverters between their stops, drains shut, but for those turned."""
    positions = []
    for part in circuit.parts:
        if part.facts.settable:
            free = 0.0 if part.facts.air else 0.5 if len(part.ways) > 1 else 1.0
            shut = ways_to_shut(part)
            positions.append((part.name, shut[turned[part.name]] if part.name in turned else free))
    return Setting(tuple(sorted(positions)))
