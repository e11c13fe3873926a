"""Banks of panels on the sheet, and where pipes meet them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from noonwater.drawing.pad_graph import Bank
from noonwater.drawing.pad_rails import Branch
from noonwater.drawing.pad_sketch import Sketch
from noonwater.drawing.pad_words import Word
from noonwater.drawing.strokes import Box
from noonwater.model.circuit import Port

CROWDED = 5
"""More banks than this are drawn small, with bare figures below them."""


@dataclass(frozen=True)
class BankPlace:
    """A bank on the sheet.

    Attributes
    ----------
    bank : Bank
        Which.
    box : Box
        Its panels, from upper to lower header.
    lines : tuple of Word
        Its label.
    label : Box
        Where that stands.
    sideways : bool
        Whether pipes meet it at its ends, not from below and above.
    """

    bank: Bank
    box: Box
    lines: tuple[Word, ...]
    label: Box
    sideways: bool = False

    def port(self, port: Port) -> tuple[float, float]:
        """Where a pipe meets a header: at the panel's outer edge if it is the first or last."""
        names = [panel.name for panel in self.bank.panels]
        index = names.index(port[0]) if port[0] in names else 0
        count = len(names)
        if self.sideways and index in (0, count - 1):
            first = index == 0 and (count > 1 or port[1] == "low")
            inset = min(6.0, 0.3 * self.box.height)
            y = self.box.bottom - inset if port[1] == "low" else self.box.top + inset
            return self.box.left if first else self.box.right, y
        share = (index + 0.5) / count
        if index in (0, count - 1):
            inset = min(6.0, 0.5 * self.box.width) / self.box.width
            share = inset if index == 0 and (count > 1 or port[1] == "low") else 1.0 - inset
        low = port[1] == "low"
        return self.box.left + share * self.box.width, self.box.bottom if low else self.box.top


@dataclass(frozen=True)
class Roof:
    """The array on the sheet.

    Attributes
    ----------
    banks : dict of str to BankPlace
        By name.
    foot : float
        Where the array's part of the sheet ends. [drawing units]
    """

    banks: dict[str, BankPlace]
    foot: float


BankLabels = dict[str, tuple[Word, ...]]


def spokes_of(branch: Branch, sketch: Sketch) -> tuple[str, list[str], list[str]]:
    """A bank, what stands between the feed and it, and between it and the return."""
    graph = sketch.graph
    bank = next(node for node in branch.nodes if node in graph.banks)
    cut = branch.nodes.index(bank)
    before, after = list(branch.nodes[:cut]), list(branch.nodes[cut + 1 :])
    before = [node for node in before if node not in graph.banks]
    after = [node for node in after if node not in graph.banks]
    return bank, before, after


def port_of(sketch: Sketch, bank: str, level: str) -> Port:
    """The port of a bank's lower or upper header that a pipe joins."""
    ports = [edge.end_at(bank) for edge in sketch.graph.at(bank)]
    panel = sketch.graph.banks[bank].panels[0].name
    return next((port for port in ports if port[1] == level), (panel, level))


def header_ends(
    sketch: Sketch, banks: Mapping[str, BankPlace], level: str, rail: Sequence[str]
) -> dict[str, list[tuple[float, float]]]:
    """Ends of the banks' headers that each node of a rail joins.

    Parameters
    ----------
    sketch : Sketch
        What is drawn.
    banks : mapping of str to BankPlace
        Where they stand.
    level : {"low", "high"}
        Which headers.
    rail : sequence of str
        Nodes of one rail.
    """
    found: dict[str, list[tuple[float, float]]] = {}
    for branch in sketch.rails.banks:
        bank, _, _ = spokes_of(branch, sketch)
        for node in (branch.start, branch.stop):
            if node in rail and bank in banks:
                end = banks[bank].port(port_of(sketch, bank, level))
                found.setdefault(node, []).append(end)
    return found
