"""What a pad's sheet is drawn of: circuit, state and units, with all that follows from them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from noonwater.core.units import System, show, unit_label
from noonwater.drawing import ink
from noonwater.drawing.lettering import Style, lines_that_fit
from noonwater.drawing.pad_banks import CROWDED, BankLabels
from noonwater.drawing.pad_graph import PadGraph, pad_graph
from noonwater.drawing.pad_rails import Rails, find_rails
from noonwater.drawing.pad_sketch import PadForm, Sketch
from noonwater.drawing.pad_water import PadWater
from noonwater.drawing.pad_words import (
    bank_words,
    height_words,
    heights_words,
    node_words,
    valve_numbers,
)
from noonwater.model.circuit import Circuit


@dataclass(frozen=True)
class Caption:
    """A line of words at the border between array and pad."""

    text: str
    above: bool


@dataclass(frozen=True)
class Subject:
    """A circuit in a state.

    Attributes
    ----------
    circuit : Circuit
        Parts and pipes.
    water : PadWater
        The state.
    system : {"US", "SI"}
        Units on the sheet.
    """

    circuit: Circuit
    water: PadWater
    system: System

    @cached_property
    def graph(self) -> PadGraph:
        """What is drawn."""
        return pad_graph(self.circuit)

    @cached_property
    def rails(self) -> Rails:
        """Its order."""
        return find_rails(self.graph)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Numbers of the valves."""
        return valve_numbers(self.graph, self.order)

    @property
    def order(self) -> tuple[str, ...]:
        """Names of all that is drawn in the order in which water meets it, branches last."""
        rails, pool = self.rails, self.graph.pool
        names = [*((pool,) if pool else ()), *rails.up]
        names += [node for branch in rails.banks for node in branch.nodes]
        names += [*rails.down, *(node for branch in rails.branches for node in branch.nodes)]
        return tuple(dict.fromkeys(names))

    def sketch(self, pad: PadForm) -> Sketch:
        """An empty sketch with its labels."""
        labels = {
            node: node_words(self.graph, node, self.water, self.system, brief=pad.stacked)
            for node in self.graph.parts
        }
        return Sketch(self.graph, self.rails, labels, pad)

    def name_of(self, node: str) -> str:
        """What a node is called on the sheet."""
        return node

    def told(self, value: float, kind: str) -> str:
        """A quantity with its unit."""
        return show(value, kind, self.system)

    def bank_labels(self) -> BankLabels:
        """Words below each bank."""
        return {
            name: bank_words(bank, self.water, self.system, brief=self.crowded)
            for name, bank in self.graph.banks.items()
        }

    @property
    def crowded(self) -> bool:
        """Whether there are more banks than have room for words."""
        return len(self.graph.banks) > CROWDED

    def captions(self, pad: PadForm) -> list[Caption]:
        """Words on both sides of the border between array and pad."""
        over: list[str] = []
        banks = self.graph.banks.values()
        if self.crowded:
            where, unit = "in" if pad.stacked else "below", unit_label("flow", self.system)
            over.append(f"{where} each bank: its number, its panels, its flow in {unit}")
        if banks:
            ends = min(bank.low for bank in banks), max(bank.high for bank in banks)
            over.append(f"array: {heights_words(*ends, self.system)} the pool’s water")
        pumps = [part for part in self.graph.parts.values() if part.kind == "pump"]
        under = [
            f"pad: {height_words(part.elevation, self.system)} the pool’s water"
            for part in pumps[:1]
        ]
        style, room = Style(pad.form.note, ink.NOTE), pad.down - pad.up - 28.0
        return [
            Caption(line, above)
            for texts, above in ((over, True), (under, False))
            for text in texts
            for line in lines_that_fit(text, room, 3, style)
        ]
