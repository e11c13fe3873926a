"""What a heater or sanitizer sees: the sun's hot water, water that stood hot, or standing water."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from noonwater.hydraulics.trace_reach import Running
from noonwater.hydraulics.trace_standing import PartWater
from noonwater.model.circuit import Circuit

Sees = Literal["pool water", "solar water", "stagnant water", "hot standing water"]
"""Water straight from the pool; warmed by the panels; none moves while the pump runs; the first of
a start, which stood in the panels in the sun."""

LEAST = 0.5
"""[L] Less standing water in the panels is not told."""


@dataclass(frozen=True)
class Seen:
    """What one heater or sanitizer sees in a state.

    Attributes
    ----------
    state : str
        Name.
    part : str
        The heater or sanitizer.
    sees : Sees
        In a word.
    litres : float
        Of hot standing water; else 0. [L]
    """

    state: str
    part: str
    sees: Sees
    litres: float = 0.0


def seen_in(
    circuit: Circuit, state: str, running: Running, standing: Sequence[PartWater]
) -> tuple[Seen, ...]:
    """What heaters and sanitizers see while the pump runs.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : str
        Its name.
    running : Running
        What the pump moves.
    standing : sequence of PartWater
        What every part holds while the pump stands.

    Returns
    -------
    tuple of Seen
        One or two entries for each.
    """
    panels = {part.name for part in circuit.of_kind("panel")}
    from_panels = _downstream(circuit, running, panels & set(running.flow))
    hot = sum(
        entry.litres
        for entry in standing
        if entry.name in panels and entry.name in running.flow and entry.water != "drained"
    )
    seen: list[Seen] = []
    for part in circuit.of_kind("heater", "sanitizer"):
        if part.name not in running.flow:
            seen.append(Seen(state, part.name, "stagnant water"))
        elif part.name not in from_panels:
            seen.append(Seen(state, part.name, "pool water"))
        else:
            seen.append(Seen(state, part.name, "solar water"))
            if hot > LEAST:
                seen.append(Seen(state, part.name, "hot standing water", hot))
    return tuple(seen)


def _downstream(circuit: Circuit, running: Running, parts: set[str]) -> set[str]:
    """Parts that water from some others passes, up to the open water."""
    bodies = {part.name for part in circuit.parts if part.facts.body}
    after: dict[str, set[str]] = {}
    for pipe in circuit.pipes:
        flow = running.flow.get(pipe.name, 0.0)
        if flow != 0.0:
            ends = (pipe.start[0], pipe.stop[0]) if flow > 0.0 else (pipe.stop[0], pipe.start[0])
            after.setdefault(ends[0], set()).add(ends[1])
    reached: set[str] = set()
    stack = list(parts)
    while stack:
        for other in after.get(stack.pop(), ()):
            if other not in reached and other not in bodies:
                reached.add(other)
                stack.append(other)
    return reached
