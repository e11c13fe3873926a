"""A circuit as a drawing sees it: the panels of a bank are one thing, everything else is itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from noonwater.model.circuit import Circuit, Part, Pipe, Port


@dataclass(frozen=True)
class Bank:
    """Panels whose headers are joined.

    Attributes
    ----------
    name : str
        What its panels' names have in common.
    panels : tuple of Part
        In the circuit's order, from the feed's corner on.
    """

    name: str
    panels: tuple[Part, ...]

    @property
    def low(self) -> float:
        """Height of its lower header above the pool's water. [m]."""
        return min(min(part.elevation, part.elevation + part.rise) for part in self.panels)

    @property
    def high(self) -> float:
        """Height of its upper header above the pool's water. [m]."""
        return max(max(part.elevation, part.elevation + part.rise) for part in self.panels)


@dataclass(frozen=True)
class Edge:
    """A pipe between two things that are drawn."""

    pipe: Pipe
    start: str
    stop: str

    def end_at(self, node: str) -> Port:
        """The port by which it touches one of its two ends."""
        return self.pipe.start if node == self.start else self.pipe.stop

    def other(self, node: str) -> str:
        """Its other end."""
        return self.stop if node == self.start else self.start


@dataclass(frozen=True)
class PadGraph:
    """What is drawn, and what joins it.

    Attributes
    ----------
    parts : dict of str to Part
        Everything but panels and what closes their headers.
    banks : dict of str to Bank
        By name.
    edges : tuple of Edge
        Pipes, in the circuit's order, without the headers inside a bank.
    """

    parts: dict[str, Part]
    banks: dict[str, Bank]
    edges: tuple[Edge, ...]

    @property
    def nodes(self) -> tuple[str, ...]:
        """Names of all that is drawn."""
        return (*self.parts, *self.banks)

    def kind(self, node: str) -> str:
        """Kind of a part, or "bank"."""
        return "bank" if node in self.banks else str(self.parts[node].kind)

    def at(self, node: str) -> tuple[Edge, ...]:
        """All edges that touch a node."""
        return tuple(edge for edge in self.edges if node in (edge.start, edge.stop))

    def between(self, one: str, other: str) -> tuple[Edge, ...]:
        """All edges that join two nodes."""
        return tuple(edge for edge in self.at(one) if edge.other(one) == other)

    @property
    def pool(self) -> str:
        """The body of water that everything hangs on: the first pool, else the first body."""
        bodies = [name for name, part in self.parts.items() if part.kind == "pool"]
        bodies += [name for name, part in self.parts.items() if is_body(part)]
        return bodies[0] if bodies else ""


def is_body(part: Part) -> bool:
    """Whether a part is an open body of water."""
    return part.kind in ("pool", "spa")


def pad_graph(circuit: Circuit) -> PadGraph:
    """Draw the panels of each bank together.

    Parameters
    ----------
    circuit : Circuit
        Any parts and pipes.

    Returns
    -------
    PadGraph
        Pipes that join a part to itself are left out.
    """
    panels = {part.name: part for part in circuit.parts if part.kind == "panel"}
    groups = _joined(panels, circuit.pipes)
    taken: set[str] = {part.name for part in circuit.parts if part.kind != "panel"}
    banks: dict[str, Bank] = {}
    node_of = {part.name: part.name for part in circuit.parts}
    for group in groups:
        name = _free_name(_common_name(group), taken)
        taken.add(name)
        banks[name] = Bank(name, tuple(panels[panel] for panel in group))
        node_of |= dict.fromkeys(group, name)
    ends = [(pipe, node_of[pipe.start[0]], node_of[pipe.stop[0]]) for pipe in circuit.pipes]
    plugs = {part.name for part in circuit.parts if part.kind == "plug"}
    closing = {
        plug
        for pipe, start, stop in ends
        for plug, node in ((start, stop), (stop, start))
        if plug in plugs and node in banks
    }
    edges = tuple(
        Edge(pipe, start, stop)
        for pipe, start, stop in ends
        if start != stop and not {start, stop} & closing
    )
    parts = {p.name: p for p in circuit.parts if p.name not in panels and p.name not in closing}
    return PadGraph(parts, banks, edges)


def _joined(panels: Iterable[str], pipes: Iterable[Pipe]) -> list[list[str]]:
    """Groups of panels that pipes join without anything between."""
    group: dict[str, list[str]] = {panel: [panel] for panel in panels}
    for pipe in pipes:
        one, other = pipe.start[0], pipe.stop[0]
        if one in group and other in group and group[one] is not group[other]:
            merged = group[one] + group[other]
            group |= dict.fromkeys(merged, merged)
    order = {panel: i for i, panel in enumerate(group)}
    seen: list[list[str]] = []
    for members in group.values():
        if members not in seen:
            seen.append(members)
    return [sorted(members, key=order.__getitem__) for members in seen]


def _common_name(names: list[str]) -> str:
    stems = {name.rpartition(" panel ")[0] for name in names}
    stem = stems.pop() if len(stems) == 1 else ""
    return stem or names[0]


def _free_name(name: str, taken: set[str]) -> str:
    return name if name not in taken else _free_name(f"{name} panels", taken)
