"""Water that runs where it should not: when the pump stops, and while it pushes past a valve."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Literal

from noonwater.hydraulics.trace_levels import (
    LEVEL,
    Rest,
    outlets_of,
    reached_level,
    rise,
    settle,
    sink,
)
from noonwater.hydraulics.trace_plumbing import Passage, Plumbing
from noonwater.hydraulics.trace_reach import Running
from noonwater.model.circuit import Circuit

Cause = Literal["pump stops", "pump pushes", "water stands higher"]

LEAST = 0.05
"""[L] Less is not told."""

LEAST_PUSHED = 3.0
"""[L] Less that is pushed up a way is not told: a short pipe behind a tee stands full and does no
harm."""

HAZARD = frozenset({"filter", "pump", "booster pump", "heater", "sanitizer"})
"""Kinds that water shall not run through unbidden: media to the pool, a turned pump, heat or strong
water in the wrong place."""


@dataclass(frozen=True)
class Backflow:
    """Water through a part that the pump does not send there.

    Attributes
    ----------
    state : str
        That it happens in, or whose pump stops.
    part : str
        Part or pipe that it runs through.
    cause : Cause
        The pump stops; the pump pushes it up a way that no valve bars; two open waters stand at
        different levels.
    backward : bool
        Against the usual direction. A heater that the roof empties through forward is told too.
    litres : float
        At most so much [L]; infinite where open water feeds it.
    """

    state: str
    part: str
    cause: Cause
    backward: bool
    litres: float


Runs = dict[tuple[str, bool], float]
"""Litres through a part or pipe, by its name and whether forward."""


def stopped(plumbing: Plumbing, rest: Rest, siphon_limit: float) -> tuple[Rest, Runs]:
    """Stop the pump and leave every valve as it stands.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under the state's setting.
    rest : Rest
        Water while the pump runs.
    siphon_limit : float
        Height that the atmosphere holds up. [m]

    Returns
    -------
    tuple
        Water after it, and the litres that run meanwhile.
    """
    after = settle(plumbing, rest.shares, None, siphon_limit)
    return after, runs_of(plumbing, rest, after, outlets_of(plumbing, {}))


def runs_of(plumbing: Plumbing, before: Rest, after: Rest, outlets: Mapping[int, float]) -> Runs:
    """Ways that water takes on sinking, to every outlet that takes it as low as any other.

    Parameters
    ----------
    plumbing : Plumbing
        The circuit under one setting.
    before, after : Rest
        Water before and after it sinks.
    outlets : mapping of int to float
        Level at each outlet. [m]

    Returns
    -------
    dict
        At most so many litres.
    """
    runs: Runs = {}
    ways = [sink(plumbing, {place: level}, after.air) for place, level in outlets.items()]
    for number, passage in enumerate(plumbing.passages):
        lost = 1000.0 * passage.volume * (before.shares[number] - after.shares[number])
        if lost <= LEAST:
            continue
        lowest = min((level[end] for level, _ in ways for end in _ends(passage)), default=inf)
        for level, by in ways:
            end = min(_ends(passage), key=lambda place: level[place])
            if level[end] <= lowest + LEVEL:
                own = {(passage.name, end == passage.stop)} if passage.start != passage.stop else ()
                for step in {*own, *_steps(plumbing, end, by)}:
                    runs[step] = runs.get(step, 0.0) + lost
    return runs


def stop_backflow(circuit: Circuit, state: str, runs: Runs) -> list[Backflow]:
    """What to tell of the water that runs when the pump stops.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : str
        Whose pump stops.
    runs : dict
        Litres through parts and pipes.

    Returns
    -------
    list of Backflow
        Through a hazard in either direction; of pumps and filters only backward.
    """
    kinds = {part.name: part.kind for part in circuit.parts}
    return [
        Backflow(state, name, "pump stops", not forward, litres)
        for (name, forward), litres in sorted(runs.items())
        if kinds.get(name) in HAZARD
        and litres > LEAST
        and not (forward and kinds[name] in ("filter", "pump", "booster pump"))
    ]


def pushed_backflow(
    circuit: Circuit, plumbing: Plumbing, state: str, running: Running
) -> list[Backflow]:
    """Water that the running pump pushes up a way against its direction.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    plumbing : Plumbing
        The same under the state's setting.
    state : str
        Its name.
    running : Running
        What the pump moves.

    Returns
    -------
    list of Backflow
        Pipes and panels on a way to the array that the pump's water climbs backward, with what it
        fills them.
    """
    heads = running.heads(plumbing)
    listed = {pipe.name for pipe in circuit.pipes if pipe.role != "header"}
    listed |= {part.name for part in circuit.of_kind("panel")}
    listed -= set(running.flow)
    filled = rise(plumbing, (0.0,) * len(plumbing.passages), heads)
    _, by = reached_level(plumbing, heads)
    panels = {
        plumbing.place_of[(part.name, port)]
        for part in circuit.of_kind("panel")
        for port in part.ports
    }
    told: dict[str, float] = {}
    for place, (number, forward) in by.items():
        passage = plumbing.passages[number]
        litres = 1000.0 * passage.volume * filled[number]
        if forward or passage.name not in listed or litres <= LEAST_PUSHED:
            continue
        # A stub that ends at a shut valve stands full and does no harm.
        if panels & _beyond(plumbing, place, set(heads)):
            told[passage.name] = told.get(passage.name, 0.0) + litres
    return [Backflow(state, name, "pump pushes", True, told[name]) for name in sorted(told)]


def level_backflow(circuit: Circuit, plumbing: Plumbing, state: str, rest: Rest) -> list[Backflow]:
    """Open waters at different levels that run into each other while the pump stands.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    plumbing : Plumbing
        The same under the state's setting.
    state : str
        Its name.
    rest : Rest
        Where the water has come to rest.

    Returns
    -------
    list of Backflow
        Every part on the way, until the levels are equal.
    """
    parts = {part.name for part in circuit.parts}
    told: dict[tuple[str, bool], None] = {}
    for low, level in plumbing.waters.items():
        levels, by = sink(plumbing, {low: level}, rest.air)
        for high, higher in plumbing.waters.items():
            if higher > level + LEVEL and levels[high] <= higher:
                told.update(dict.fromkeys(_steps(plumbing, high, by)))
    return [
        Backflow(state, name, "water stands higher", not forward, inf)
        for name, forward in sorted(told)
        if name in parts
    ]


def _beyond(plumbing: Plumbing, place: int, carrying: set[int]) -> set[int]:
    stack, seen = [place], {place}
    while stack:
        for other, _, _ in plumbing.out[stack.pop()]:
            if other not in seen and other not in carrying:
                seen.add(other)
                stack.append(other)
    return seen


def _ends(passage: Passage) -> tuple[int, int]:
    return passage.start, passage.stop


def _steps(plumbing: Plumbing, place: int, by: tuple[int, ...]) -> set[tuple[str, bool]]:
    """Passages from a place to the outlet, each with whether it is passed forward."""
    steps: set[tuple[str, bool]] = set()
    while by[place] >= 0:
        passage = plumbing.passages[by[place]]
        forward = passage.start == place
        steps.add((passage.name, forward))
        place = passage.stop if forward else passage.start
    return steps
