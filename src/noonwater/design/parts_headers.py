"""How a circuit's panels hang together: joints between their headers, and panels side by side."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.catalog import PanelType, panel_named
from noonwater.model.circuit import Circuit, Part, Pipe, Port

GAP = 1e-6
"""[m] Below it two panels touch."""


@dataclass(frozen=True)
class HeaderJoint:
    """What joins the headers of two panels.

    Attributes
    ----------
    pipes : tuple of Pipe
        Stretches of header from panel to panel.
    ends : tuple of Port
        Ports of panels that it joins.
    fitted : bool
        Whether a valve or a tee stands in it.
    gap : float
        Pipe between the panels, where one is left out. [m]
    """

    pipes: tuple[Pipe, ...]
    ends: tuple[Port, ...]
    fitted: bool
    gap: float

    @property
    def plain(self) -> bool:
        """Whether header meets header."""
        return not self.fitted and self.gap <= GAP


def panel_rows(circuit: Circuit) -> dict[str, PanelType]:
    """Find the row of every panel.

    Parameters
    ----------
    circuit : Circuit
        With the job's own panels.

    Returns
    -------
    dict
        Row by name of the panel.
    """
    panels = circuit.of_kind("panel")
    kinds = {
        name: panel_named(name, own=circuit.own_panels)
        for name in sorted({panel.catalog for panel in panels})
    }
    return {panel.name: kinds[panel.catalog] for panel in panels}


def header_joints(circuit: Circuit, rows: dict[str, PanelType]) -> tuple[HeaderJoint, ...]:
    """Find all joints between the headers of panels.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    rows : dict
        Row by name of the panel, of `panel_rows`.

    Returns
    -------
    tuple of HeaderJoint
        One a pair of headers that meet.
    """
    chains: list[tuple[set[str], list[Pipe]]] = []
    for pipe in circuit.pipes:
        if pipe.role != "header":
            continue
        inner = {end[0] for end in (pipe.start, pipe.stop) if end[0] not in rows}
        same = [chain for chain in chains if chain[0] & inner]
        chains = [chain for chain in chains if not chain[0] & inner]
        names = inner.union(*(chain[0] for chain in same))
        chains.append((names, [pipe, *(each for chain in same for each in chain[1])]))
    return tuple(_joint(names, pipes, rows) for names, pipes in chains)


def side_by_side(circuit: Circuit, joints: tuple[HeaderJoint, ...]) -> tuple[tuple[Part, ...], ...]:
    """Group the panels that touch.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    joints : tuple of HeaderJoint
        Of `header_joints`.

    Returns
    -------
    tuple of tuple of Part
        Each run of panels without a gap.
    """
    runs: list[set[str]] = [{panel.name} for panel in circuit.of_kind("panel")]
    for joint in joints:
        if joint.gap > GAP:
            continue
        names = {name for name, _ in joint.ends}
        touched = [run for run in runs if run & names]
        runs = [run for run in runs if not run & names]
        runs.append(set().union(*touched))
    return tuple(tuple(part for part in circuit.parts if part.name in run) for run in runs)


def _joint(names: set[str], pipes: list[Pipe], rows: dict[str, PanelType]) -> HeaderJoint:
    ends = [end for pipe in pipes for end in (pipe.start, pipe.stop) if end[0] in rows]
    # A stretch of header runs from the middle of one panel to the middle of the next.
    within = sum(sorted(0.5 * rows[name].width for name, _ in ends))
    gap = sum(sorted(pipe.length for pipe in pipes)) - within
    return HeaderJoint(tuple(pipes), tuple(ends), bool(names), gap if gap > GAP else 0.0)
