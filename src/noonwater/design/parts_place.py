"""Which parts and pipes of a circuit are already there, and which go on the roof.

The job doesn't say what stands at the pool already. The rule is ours: what filters, heats, cleans
and serves a spa was there before solar, with the pipes between these.
"""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.model.circuit import Circuit, Part, Pipe

EQUIPMENT = frozenset(
    {
        "pool",
        "spa",
        "pump",
        "filter",
        "heater",
        "sanitizer",
        "suction cleaner",
        "pressure cleaner",
    }
)
LINES_THERE = frozenset({"suction", "return", "cleaner", "spa"})
LINES_UP = frozenset({"feed", "roof return", "header"})


@dataclass(frozen=True)
class Places:
    """Names of what lies where.

    Attributes
    ----------
    there, pipes_there : frozenset of str
        Parts and pipes that are not bought.
    roof : frozenset of str
        Parts to buy that go on the roof or on the way up to it.
    """

    there: frozenset[str]
    pipes_there: frozenset[str]
    roof: frozenset[str]


def places_of(circuit: Circuit) -> Places:
    """Tell what is there already and what goes on the roof.

    Parameters
    ----------
    circuit : Circuit
        Of the job, after its edits.

    Returns
    -------
    Places
        There is: pool, spa, filter pump, filter, heater, sanitizer and cleaner; what a suction, a
        cleaner's line or a spa's hangs on; what stands in a return; the pipes of these; and a
        panel with plugged tubes, which has served before.
    """
    pipes: dict[str, list[Pipe]] = {part.name: [] for part in circuit.parts}
    for pipe in circuit.pipes:
        for name in dict.fromkeys((pipe.start[0], pipe.stop[0])):
            pipes[name].append(pipe)
    there = {part.name for part in circuit.parts if _is_there(part, pipes[part.name])}
    pipes_there = {
        pipe.name
        for pipe in circuit.pipes
        if pipe.role in LINES_THERE or {pipe.start[0], pipe.stop[0]} <= there
        if pipe.role != "header"
    }
    up = {p.name for p in circuit.parts if p.kind == "panel" or _is_up(pipes[p.name])}
    # A drain in a header hangs on its tee by a pipe of the pad's role.
    for part in circuit.of_kind("drain"):
        if any(end[0] in up for pipe in pipes[part.name] for end in (pipe.start, pipe.stop)):
            up.add(part.name)
    return Places(frozenset(there), frozenset(pipes_there), frozenset(up - there))


def _is_there(part: Part, pipes: list[Pipe]) -> bool:
    if part.kind in EQUIPMENT or part.plugged > 0.0:
        return True
    if part.kind == "diverter" and {"spa", "cleaner"} & set(part.ports):
        return True
    roles = {pipe.role for pipe in pipes}
    return bool(roles & {"suction", "cleaner", "spa"}) or roles == {"return"}


def _is_up(pipes: list[Pipe]) -> bool:
    roles = {pipe.role for pipe in pipes}
    return "header" in roles or (bool(roles) and roles <= LINES_UP)
