"""What happens if a part is left out: two traces compared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from noonwater.core.errors import Fault, InputError
from noonwater.hydraulics.trace import Deadhead, Trace, trace_case
from noonwater.hydraulics.trace_backflow import Backflow
from noonwater.hydraulics.trace_heat import Seen
from noonwater.hydraulics.trace_opening import Opening
from noonwater.hydraulics.trace_service import Tightness
from noonwater.model.circuit import Circuit, Part, PartKind, Pipe, Port, State

LEAST = 0.5
"""[L] Less water more or less is not told."""

STAYS: tuple[PartKind, ...] = ("pool", "pump")
"""Kinds without which there is no circuit."""


@dataclass(frozen=True)
class Held:
    """Water that a part holds at rest, with the part in question and without it. [L]."""

    part: str
    litres_with: float
    litres_without: float


@dataclass(frozen=True)
class Cost:
    """What water pays for passing the part in one state.

    Attributes
    ----------
    state : str
        Its name.
    head : float
        Lost in the part. [m]
    flow_with, flow_without : float
        Through the pump. [m³/s]
    array_with, array_without : float
        Through all panels. [m³/s]
    """

    state: str
    head: float
    flow_with: float
    flow_without: float
    array_with: float
    array_without: float


@dataclass(frozen=True)
class Without:
    """What changes if a part is left out.

    Attributes
    ----------
    part : Part
        Which.
    trace : Trace
        Without it.
    backflow, backflow_gone : tuple of Backflow
        New, and no more.
    deadheads, deadheads_gone : tuple of Deadhead
        New, and no more.
    floods, floods_gone : tuple of Opening
        Parts that flood when opened, new and no more.
    held : tuple of Held
        Water at rest that stays or goes.
    cost : tuple of Cost
        What the part takes from the flow, by state.
    seen : tuple of Seen
        What heaters and sanitizers see anew.
    tightness : tuple of Tightness
        What shuts the array off for service, with the part and without.
    litres_left : tuple of float
        Water that the winter's steps leave, with the part and without. [L]
    """

    part: Part
    trace: Trace
    backflow: tuple[Backflow, ...]
    backflow_gone: tuple[Backflow, ...]
    deadheads: tuple[Deadhead, ...]
    deadheads_gone: tuple[Deadhead, ...]
    floods: tuple[Opening, ...]
    floods_gone: tuple[Opening, ...]
    held: tuple[Held, ...]
    cost: tuple[Cost, ...]
    seen: tuple[Seen, ...]
    tightness: tuple[Tightness, Tightness]
    litres_left: tuple[float, float]


def leave_out(circuit: Circuit, name: str) -> Circuit:
    """A circuit with plain pipe in a part's place.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    name : str
        Of the part.

    Returns
    -------
    Circuit
        The part's ports joined into one place at its height; a panel's headers run on, each at its
        own height.

    Raises
    ------
    InputError
        A part that is not there, or without which there is no circuit.
    """
    part = _found(circuit, name)
    if part.kind == "panel":
        ends = ((part.ports[0], part.elevation), (part.ports[-1], part.elevation + part.rise))
        joints = tuple(_joint(part, f"{name} {port}", (port,), height) for port, height in ends)
        parts = tuple(
            piece for old in circuit.parts for piece in (joints if old is part else (old,))
        )
        pipes = tuple(_renamed(pipe, part) for pipe in circuit.pipes)
        return replace(circuit, parts=parts, pipes=pipes)
    joint = _joint(part, name, part.ports, part.elevation)
    parts = tuple(joint if old is part else old for old in circuit.parts)
    return replace(circuit, parts=parts)


def trace_without(trace: Trace, name: str) -> Without:
    """Trace a circuit again with a part left out, and compare.

    Parameters
    ----------
    trace : Trace
        With the part.
    name : str
        Of the part.

    Returns
    -------
    Without
        What changes.

    Raises
    ------
    InputError
        A part that is not there, or without which there is no circuit.
    """
    case, part = trace.case, _found(trace.case.circuit, name)
    circuit = leave_out(case.circuit, name)
    states = tuple(_without_position(entry.state, name) for entry in trace.states)
    other = trace_case(replace(case, loop=replace(case.loop, circuit=circuit)), states)

    def backflow(entries: Sequence[Backflow], known: Sequence[Backflow]) -> tuple[Backflow, ...]:
        seen = {(old.state, old.part, old.cause, old.backward) for old in known}
        return tuple(
            new
            for new in entries
            if (new.state, new.part, new.cause, new.backward) not in seen and new.part != name
        )

    def dead(entries: Sequence[Deadhead], known: Sequence[Deadhead]) -> tuple[Deadhead, ...]:
        return tuple(new for new in entries if new not in known)

    def floods(entries: Sequence[Opening], known: Sequence[Opening]) -> tuple[Opening, ...]:
        seen = {old.part for old in known if old.floods}
        return tuple(new for new in entries if new.floods and new.part not in (*seen, name))

    return Without(
        part=part,
        trace=other,
        backflow=backflow(other.backflow, trace.backflow),
        backflow_gone=backflow(trace.backflow, other.backflow),
        deadheads=dead(other.deadheads, trace.deadheads),
        deadheads_gone=dead(trace.deadheads, other.deadheads),
        floods=floods(other.openings, trace.openings),
        floods_gone=floods(trace.openings, other.openings),
        held=_held(trace, other),
        cost=_cost(trace, other, part),
        seen=tuple(view for view in other.seen if _key(view) not in map(_key, trace.seen)),
        tightness=(trace.service.tightness, other.service.tightness),
        litres_left=(trace.winter.litres_left, other.winter.litres_left),
    )


def _key(view: Seen) -> tuple[str, str, str]:
    return view.state, view.part, view.sees


def _found(circuit: Circuit, name: str) -> Part:
    part = next((part for part in circuit.parts if part.name == name), None)
    names = [part.name for part in circuit.parts if part.kind not in STAYS]
    if part is None:
        near = get_close_matches(name, names, 1, 0.5)
        shown = [other for other in names if not other.endswith(" tee")]
        remedy = f'did you mean "{near[0]}"?' if near else ""
        raise InputError([Fault("without", f"no part is called '{name}'", _listed(shown), remedy)])
    if part.kind in STAYS:
        given = f"'{name}', without which there is no circuit"
        raise InputError([Fault("without", given, _listed(names))])
    return part


def _listed(names: Sequence[str]) -> str:
    shown = [name for name in names if " panel " not in name]
    panels = len(names) - len(shown)
    words = ", ".join(f"'{name}'" for name in shown)
    return f"{words}, or one of {panels} panels" if panels else words


def _joint(part: Part, name: str, ports: tuple[str, ...], elevation: float) -> Part:
    return Part(name, "tee", ports, elevation, part.size)


def _renamed(pipe: Pipe, part: Part) -> Pipe:
    def end(port: Port) -> Port:
        return (f"{part.name} {port[1]}", port[1]) if port[0] == part.name else port

    return replace(pipe, start=end(pipe.start), stop=end(pipe.stop))


def _without_position(state: State, name: str) -> State:
    positions = tuple(entry for entry in state.positions if entry[0] != name)
    speeds = tuple(entry for entry in state.speeds if entry[0] != name)
    return replace(state, positions=positions, speeds=speeds)


def _held(trace: Trace, other: Trace) -> tuple[Held, ...]:
    """Water at rest, the pump off, of every part that both traces know."""
    after = {entry.name: entry.litres for entry in other.states[0].parts}
    return tuple(
        Held(entry.name, entry.litres, after[entry.name])
        for entry in trace.states[0].parts
        if entry.name in after and abs(after[entry.name] - entry.litres) > LEAST
    )


def _cost(trace: Trace, other: Trace, part: Part) -> tuple[Cost, ...]:
    panels = [panel.name for panel in trace.case.circuit.of_kind("panel")]
    pump = trace.case.loop.pump.name
    costs = []
    for before, after in zip(trace.states, other.states, strict=True):
        head = before.running.head
        ends = [head.get((part.name, port)) for port in (part.ports[0], part.ports[-1])]
        if ends[0] is None or ends[1] is None:
            continue
        array = [
            sum(entry.running.flow.get(name, 0.0) for name in panels) for entry in (before, after)
        ]
        costs.append(
            Cost(
                before.name,
                abs(ends[0] - ends[1]),
                before.running.flow.get(pump, 0.0),
                after.running.flow.get(pump, 0.0),
                array[0],
                array[1],
            )
        )
    return tuple(costs)
