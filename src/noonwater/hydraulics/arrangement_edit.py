"""Edits of a filled circuit, one after the other: each gives a new circuit or says why it can't."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from difflib import get_close_matches

from noonwater.catalog import (
    breaker_named,
    check_valve_named,
    diverter_named,
    filter_named,
    fitting_named,
    heater_named,
    pipe_named,
    pump_named,
    sanitizer_named,
)
from noonwater.core.errors import Fault, InputError
from noonwater.hydraulics.arrangement_add import added
from noonwater.hydraulics.arrangement_remove import removed
from noonwater.model.circuit import Circuit, Fitting, Part, Pipe
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart, RemovePart, SetPart, SetPipe

ELSEWHERE = {
    "pump": "pump.pump says which pump",
    "panel": "array.banks says which panel, and changed which one of them is another",
    "pool": "it has no row",
    "spa": "it has no row",
    "suction cleaner": "pad.cleaner says which cleaner",
    "pressure cleaner": "pad.cleaner says which cleaner",
}
"""Kinds whose row is not set by an edit, and what sets it."""


def edited(circuit: Circuit, job: Job) -> Circuit:
    """Make a job's edits of its circuit.

    Parameters
    ----------
    circuit : Circuit
        As the arrangement filled it.
    job : Job
        The whole job.

    Returns
    -------
    Circuit
        After all edits, in the job's order.

    Raises
    ------
    InputError
        The first edit that can't be made: a name that the circuit does not have, a part that can't
        be taken out, a row that the catalog does not have.
    """
    for number, edit in enumerate(job.pad.edit):
        field = f"pad.edit[{number}]"
        if isinstance(edit, AddPart):
            pipe = pipe_called(circuit, edit.pipe, f"{field}.pipe")
            to = pipe_called(circuit, edit.to, f"{field}.to") if edit.to else None
            row = _row_added(edit, circuit, f"{field}.catalog")
            circuit = added(circuit, edit, (pipe, to), row, field)
        elif isinstance(edit, RemovePart):
            part = part_called(circuit, edit.part, f"{field}.part")
            circuit = removed(circuit, part, f"{field}.part")
        elif isinstance(edit, SetPipe):
            circuit = _with_pipe(circuit, edit, job.pad.schedule, field)
        else:
            circuit = _with_part(circuit, edit, field)
    return circuit


def part_called(circuit: Circuit, name: str, field: str) -> Part:
    """Find a part; a wrong name is answered with the likely ones.

    Parameters
    ----------
    circuit : Circuit
        Where to look.
    name : str
        Wanted.
    field : str
        Path of the job's field, for the message.

    Returns
    -------
    Part
        The part.

    Raises
    ------
    InputError
        No part of that name.
    """
    for part in circuit.parts:
        if part.name == name:
            return part
    raise InputError([_unknown("part", name, [part.name for part in circuit.parts], field)])


def pipe_called(circuit: Circuit, name: str, field: str) -> Pipe:
    """Find a pipe; a wrong name is answered with the likely ones.

    Parameters
    ----------
    circuit : Circuit
        Where to look.
    name : str
        Wanted.
    field : str
        Path of the job's field, for the message.

    Returns
    -------
    Pipe
        The pipe.

    Raises
    ------
    InputError
        No pipe of that name.
    """
    for pipe in circuit.pipes:
        if pipe.name == name:
            return pipe
    raise InputError([_unknown("pipe", name, [pipe.name for pipe in circuit.pipes], field)])


def _unknown(what: str, name: str, known: list[str], field: str) -> Fault:
    near = get_close_matches(name, known, 1, 0.6)
    # An array of many panels has hundreds of pieces: the pad's come first in the list.
    shown = [each for each in known if " panel " not in each]
    allowed = ", ".join(f"'{each}'" for each in shown)
    if len(shown) < len(known):
        allowed += ", and the panels' own"
    remedy = f'did you mean "{near[0]}"?' if near else ""
    return Fault(field, f"no {what} of this circuit is called '{name}'", allowed, remedy)


def _row_of(kind: str, name: str, circuit: Circuit, field: str) -> str:
    """Name of a row of the catalog, checked; "" where the kind has none and none is asked for."""
    readers: dict[str, Callable[[], object]] = {
        "check valve": lambda: check_valve_named(name, field),
        "filter": lambda: filter_named(name, field),
        "heater": lambda: heater_named(name, field),
        "sanitizer": lambda: sanitizer_named(name, field),
        "vacuum breaker": lambda: breaker_named(name, field),
        "diverter": lambda: diverter_named(name, field),
        "booster pump": lambda: pump_named(name, field, circuit.own_pumps),
    }
    if kind not in readers:
        if name:
            remedy = ELSEWHERE.get(kind, "leave it out")
            raise InputError([Fault(field, f"'{name}'", f"no row, for this is a {kind}", remedy)])
        return ""
    readers[kind]()
    return name


PLAIN_ROWS = {
    "check valve": "swing",
    "filter": "cartridge",
    "heater": "gas",
    "sanitizer": "feeder",
    "vacuum breaker": "vacuum breaker",
    "booster pump": "single mini",
}
"""Rows of parts that an edit adds without naming one."""


def _row_added(edit: AddPart, circuit: Circuit, field: str) -> str:
    return _row_of(edit.kind, edit.catalog or PLAIN_ROWS.get(edit.kind, ""), circuit, field)


def _with_pipe(circuit: Circuit, edit: SetPipe, schedule: str, field: str) -> Circuit:
    pipe = pipe_called(circuit, edit.pipe, f"{field}.pipe")
    if edit.length is None and edit.size is None and edit.slope is None and not edit.fittings:
        allowed = "length, size, slope or fittings"
        raise InputError([Fault(field, "nothing to set", allowed, "say what the pipe is to be")])
    if edit.slope is not None and pipe.role == "header":
        given, allowed = "that of a header", "another pipe's"
        remedy = "array.banks says how a bank's headers slope"
        raise InputError([Fault(f"{field}.slope", given, allowed, remedy)])
    fittings = pipe.fittings
    for number, piece in enumerate(edit.fittings):
        fitting_named(piece.kind, f"{field}.fittings[{number}].kind")
        fittings = (*fittings, Fitting(piece.kind, piece.count))
    changed = replace(
        pipe,
        length=pipe.length if edit.length is None else edit.length,
        slope=pipe.slope if edit.slope is None else edit.slope,
        fittings=fittings,
    )
    if edit.size is not None:
        size = pipe_named(edit.size, schedule, f"{field}.size")
        changed = replace(changed, diameter=size.diameter, nominal=size.nominal)
    pipes = tuple(changed if each is pipe else each for each in circuit.pipes)
    return replace(circuit, pipes=pipes)


def _with_part(circuit: Circuit, edit: SetPart, field: str) -> Circuit:
    part = part_called(circuit, edit.part, f"{field}.part")
    if edit.elevation is None and not edit.catalog:
        raise InputError([Fault(field, "nothing to set", "elevation or catalog")])
    if edit.elevation is not None and part.kind in ("pool", "spa", "panel"):
        remedy = "roof.eave_height, pad.spa.elevation: heights are above the pool's water"
        fault = Fault(f"{field}.elevation", f"that of a {part.kind}", "another part's", remedy)
        raise InputError([fault])
    changed = part
    if edit.elevation is not None:
        changed = replace(changed, elevation=edit.elevation)
    if edit.catalog:
        row = _row_of(part.kind, edit.catalog, circuit, f"{field}.catalog")
        changed = replace(changed, catalog=row)
    parts = tuple(changed if each is part else each for each in circuit.parts)
    return replace(circuit, parts=parts)
