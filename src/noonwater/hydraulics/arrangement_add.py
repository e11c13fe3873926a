"""A part put into a pipe of a circuit, on a tee of it, or into a new branch."""

from __future__ import annotations

from dataclasses import replace

from noonwater.core.errors import Fault, InputError
from noonwater.hydraulics.arrangement_plan import SPOOL
from noonwater.model.circuit import KINDS, Circuit, Part, PartKind, Pipe, Port
from noonwater.model.pad_option import AddPart

IN_HEADERS = ("isolation valve", "drain")
"""Kinds that an edit puts between two panels of a bank."""


def added(
    circuit: Circuit, edit: AddPart, places: tuple[Pipe, Pipe | None], row: str, field: str
) -> Circuit:
    """Add a part.

    Parameters
    ----------
    circuit : Circuit
        Before.
    edit : AddPart
        What is added.
    places : tuple of (Pipe, Pipe or None)
        The pipe it is put into, and the one that its branch ends in.
    row : str
        Its row of the catalog.
    field : str
        Path of the edit in the job, for the message.

    Returns
    -------
    Circuit
        After. The first half of a pipe that is cut keeps its name.

    Raises
    ------
    InputError
        A name that is taken, a branch where there can be none, a second vacuum breaker.
    """
    _check(circuit, edit, places, field)
    pipe, to = places
    tee = f"{edit.name} tee"
    if to is not None:
        circuit = _cut(circuit, pipe, tee, "tee", "", edit.at)
        other = next(each for each in circuit.pipes if each.name == to.name)
        far = f"{edit.name} return tee"
        circuit = _cut(circuit, other, far, "tee", "", 0.5)
        circuit = _with(circuit, edit, row, circuit.part(tee).elevation)
        circuit = _joined(circuit, (tee, "branch"), (edit.name, "in"), pipe, SPOOL)
        return _joined(circuit, (edit.name, "out"), (far, "branch"), pipe, SPOOL)
    if edit.kind == "drain":
        circuit = _cut(circuit, pipe, tee, "tee", "", edit.at)
        circuit = _with(circuit, edit, row, circuit.part(tee).elevation)
        return _joined(circuit, (tee, "branch"), (edit.name, "in"), pipe, 0.0)
    return _cut(circuit, pipe, edit.name, edit.kind, row, edit.at)


def _check(circuit: Circuit, edit: AddPart, places: tuple[Pipe, Pipe | None], field: str) -> None:
    pipe, to = places
    taken = {part.name for part in circuit.parts}
    for name in (edit.name, f"{edit.name} tee", f"{edit.name} return tee"):
        if name in taken:
            allowed = "a name that no part of this circuit has"
            raise InputError([Fault(f"{field}.name", f"'{name}' is taken", allowed)])
    for each, key in ((pipe, "pipe"), (to, "to")):
        if each is not None and each.role == "header" and edit.kind not in IN_HEADERS:
            given = f"'{each.name}', a header between panels"
            allowed = f"a pipe of the pad, the feed or the return, for this {edit.kind}"
            remedy = "a header takes an isolation valve or a drain"
            raise InputError([Fault(f"{field}.{key}", given, allowed, remedy)])
    if not edit.name.strip():
        raise InputError([Fault(f"{field}.name", "empty", "a name of its own")])
    if to is not None and edit.kind in ("drain", "vacuum breaker"):
        given = f"a branch to another pipe, for a {edit.kind}"
        raise InputError([Fault(f"{field}.to", given, "none: it opens to the air", "leave it out")])
    if to is not None and to.name == pipe.name:
        raise InputError([Fault(f"{field}.to", "the pipe that it leaves", "another pipe")])
    if to is None and edit.kind == "bypass valve":
        allowed = "the pipe that the bypass ends in"
        remedy = "name it, or add an isolation valve"
        raise InputError([Fault(f"{field}.to", "missing", allowed, remedy)])
    if edit.kind == "vacuum breaker" and circuit.of_kind("vacuum breaker"):
        there = circuit.of_kind("vacuum breaker")[0].name
        allowed = "one in a circuit"
        remedy = f"remove '{there}' first, or pad.breaker = \"none\""
        raise InputError([Fault(f"{field}.kind", "a second vacuum breaker", allowed, remedy)])


def _height(circuit: Circuit, port: Port) -> float:
    part = circuit.part(port[0])
    return part.elevation + (part.rise if port[1] == part.ports[-1] else 0.0)


def _cut(circuit: Circuit, pipe: Pipe, name: str, kind: PartKind, row: str, at: float) -> Circuit:
    """Put a part between the halves of a pipe, at the height of that place."""
    low, high = _height(circuit, pipe.start), _height(circuit, pipe.stop)
    ports = KINDS[kind].ports
    part = Part(name, kind, ports, low + at * (high - low), pipe.nominal, row)
    ends = tuple(fitting for fitting in pipe.fittings if fitting.kind == "exit")
    rest = tuple(fitting for fitting in pipe.fittings if fitting.kind != "exit")
    first = replace(pipe, stop=(name, ports[0]), length=at * pipe.length, fittings=rest)
    second = replace(
        pipe,
        name=f"{name} to {pipe.stop[0]}",
        start=(name, ports[1]),
        length=(1.0 - at) * pipe.length,
        fittings=ends,
    )
    pipes = tuple(
        half for each in circuit.pipes for half in ((first, second) if each is pipe else (each,))
    )
    return replace(circuit, parts=(*circuit.parts, part), pipes=pipes)


def _with(circuit: Circuit, edit: AddPart, row: str, elevation: float) -> Circuit:
    size = circuit.part(f"{edit.name} tee").size
    part = Part(edit.name, edit.kind, KINDS[edit.kind].ports, elevation, size, row)
    return replace(circuit, parts=(*circuit.parts, part))


def _joined(circuit: Circuit, start: Port, stop: Port, like: Pipe, length: float) -> Circuit:
    pipe = replace(
        like,
        name=f"{start[0]} to {stop[0]}",
        start=start,
        stop=stop,
        length=length,
        fittings=(),
        role="pad" if like.role == "header" else like.role,
    )
    return replace(circuit, pipes=(*circuit.pipes, pipe))
