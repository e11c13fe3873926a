"""A part taken out of a circuit, and the pipes on both sides of it joined."""

from __future__ import annotations

from dataclasses import replace

from noonwater.core.errors import Fault, InputError
from noonwater.model.circuit import Circuit, Part, Pipe, Port

KEPT = {
    "pool": "there is no circuit without it",
    "spa": "leave out [pad.spa]",
    "pump": "there is no circuit without it",
    "filter": 'write pad.filter = "none"',
    "panel": "give it left_out = true in array.banks.changed",
    "diverter": "choose another arrangement, or leave out what it serves",
    "tee": "remove what is on its branch",
    "suction cleaner": 'write pad.cleaner = "none"',
    "pressure cleaner": 'write pad.cleaner = "none"',
    "plug": "it closes an opening",
}
"""Kinds that an edit does not take out, and what to do instead."""


def removed(circuit: Circuit, part: Part, field: str) -> Circuit:
    """Take a part out.

    Parameters
    ----------
    circuit : Circuit
        Before.
    part : Part
        One of its parts, with two ports in a run or on the branch of a tee.
    field : str
        Path of the job's field, for the message.

    Returns
    -------
    Circuit
        After. Of a branch between two tees, tees and pipes go with it.

    Raises
    ------
    InputError
        A part that can't be left out.
    """
    # A second filter that an edit added may go again; results read the one that is called so.
    if part.kind in KEPT and not (part.kind == "filter" and part.name != "filter"):
        given = f"'{part.name}', a {part.kind}"
        allowed = "a valve, drain, heater, sanitizer, booster pump or vacuum breaker"
        raise InputError([Fault(field, given, allowed, KEPT[part.kind])])
    pipes = circuit.pipes_at(part.name)
    ends = [_other_end(pipe, part.name) for pipe in pipes]
    tees = [end[0] for end in ends if _is_branch(circuit, end)]
    parts = tuple(each for each in circuit.parts if each.name != part.name)
    # A drain has one pipe, a bypass two; each of them hangs on the branch of a tee.
    if len(tees) == len(pipes):
        rest = tuple(pipe for pipe in circuit.pipes if pipe not in pipes)
        circuit = replace(circuit, parts=parts, pipes=rest)
        for tee in tees:
            circuit = _without_tee(circuit, tee)
        return circuit
    into, out_of = (part.name, part.ports[0]), (part.name, part.ports[-1])
    return _joined(replace(circuit, parts=parts), into, out_of)


def _other_end(pipe: Pipe, name: str) -> Port:
    return pipe.stop if pipe.start[0] == name else pipe.start


def _is_branch(circuit: Circuit, end: Port) -> bool:
    return circuit.part(end[0]).kind == "tee" and end[1] == "branch"


def _without_tee(circuit: Circuit, name: str) -> Circuit:
    parts = tuple(each for each in circuit.parts if each.name != name)
    return _joined(replace(circuit, parts=parts), (name, "run in"), (name, "run out"))


def _joined(circuit: Circuit, into: Port, out_of: Port) -> Circuit:
    """Make one pipe of the two that end at a gap, in the size and role of the longer."""
    before = next(pipe for pipe in circuit.pipes if pipe.stop == into)
    after = next(pipe for pipe in circuit.pipes if pipe.start == out_of)
    longer = before if before.length >= after.length else after
    one = replace(
        longer,
        start=before.start,
        stop=after.stop,
        length=before.length + after.length,
        fittings=(*before.fittings, *after.fittings),
    )
    pipes = tuple(
        one if pipe is longer else pipe
        for pipe in circuit.pipes
        if pipe is longer or pipe not in (before, after)
    )
    return replace(circuit, pipes=pipes)
