"""Words for what a trace finds: parts in groups, moves, what must be seen, what changes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from noonwater.app.text import number
from noonwater.core.units import System, in_system
from noonwater.document import hand_words
from noonwater.document.language import Language

if TYPE_CHECKING:
    from noonwater.hydraulics.trace import Deadhead
    from noonwater.hydraulics.trace_backflow import Backflow
    from noonwater.hydraulics.trace_replay import Step
    from noonwater.hydraulics.trace_without import Without

LEAST_HEAD = 0.005
"""[m] Less head lost in a part is not told."""

TIGHTNESS = {
    "valves": "shut valves hold the water off on every side",
    "check valve": "on one side only a check valve holds the water off: it may drip",
    "seeps": "the diverter's drain-down hole lets water seep to the array",
    "not": "no valve shuts the array off while the pump runs",
}

PANEL = re.compile(r"(.*) panel (\d+)")


def volume(litres: float, system: System) -> str:
    """Print a small volume: gallons or litres."""
    return hand_words.volume(litres, _english(system))


def grouped(names: Iterable[str]) -> str:
    """List names, panels of a bank in one piece: "bank 1 panels 1 to 6"."""
    banks: dict[str, list[int]] = {}
    words: list[str] = []
    for name in names:
        found = PANEL.fullmatch(name)
        if found is None:
            words.append(name)
            continue
        if found[1] not in banks:
            words.append(found[1])
        banks.setdefault(found[1], []).append(int(found[2]))
    return ", ".join(_panels(word, banks[word]) if word in banks else word for word in words)


def moves_words(steps: Iterable[Step]) -> list[str]:
    """Tell the moves of steps in their order."""
    return hand_words.moves_words(steps, _english("SI"))


def seen_words(step: Step, system: System) -> str:
    """Tell what must be seen before the next step."""
    return hand_words.seen_words(step, _english(system))


def backflow_words(flow: Backflow, system: System) -> str:
    """Tell a backflow."""
    way = "backward through" if flow.backward else "through"
    if flow.cause == "water stands higher":
        return f"{flow.state}: the higher water runs {way} {flow.part} until the levels are equal"
    amount = volume(flow.litres, system)
    if flow.cause == "pump pushes":
        return f"{flow.state}: the pump pushes up to {amount} {way} {flow.part}"
    return f"{flow.state}, pump stops: up to {amount} {way} {flow.part}"


def deadhead_words(dead: Deadhead) -> str:
    """Tell a deadhead."""
    if dead.state:
        why = "has no way" if dead.reason == "no way" else "does not lift the water over the top"
        return f"in state '{dead.state}' the {dead.pump} {why}"
    valves = " and ".join(
        f"{name} {'shut' if against == 'shut' else f'shut against {against}'}"
        for name, against in dead.valves
    )
    return f"{dead.pump}: {valves or 'no way in any position'}"


def without_lines(change: Without, system: System) -> list[str]:
    """Tell what changes if a part is left out."""
    lines = [f"Without the {change.part.name}"]
    told = [f"new: {backflow_words(flow, system)}" for flow in change.backflow]
    told += [f"no more: {backflow_words(flow, system)}" for flow in change.backflow_gone]
    told += [f"new: {deadhead_words(dead)}" for dead in change.deadheads]
    told += [f"no more: {deadhead_words(dead)}" for dead in change.deadheads_gone]
    told += [f"new: {opening.part} floods when opened" for opening in change.floods]
    told += [f"no more: {opening.part} floods when opened" for opening in change.floods_gone]
    for word, entries in (
        ("keep water that else goes", [h for h in change.held if h.litres_without > h.litres_with]),
        ("let their water go", [h for h in change.held if h.litres_without < h.litres_with]),
    ):
        litres = sum(abs(h.litres_without - h.litres_with) for h in entries)
        if entries:
            names = grouped(h.part for h in entries)
            told.append(f"with the pump off these {word}, {volume(litres, system)}: {names}")
    told += _other_changes(change, system)
    lines += [f"  {words}" for words in told] or ["  nothing else changes"]
    return [*lines, *_cost_lines(change, system)]


def _other_changes(change: Without, system: System) -> list[str]:
    told = [f"new: in {view.state} the {view.part} sees {view.sees}" for view in change.seen]
    before, after = change.tightness
    if before != after:
        told.append(f"for service: {TIGHTNESS[after]} (with it: {TIGHTNESS[before]})")
    left = [volume(litres, system) for litres in change.litres_left]
    if left[0] != left[1]:
        told.append(f"the winter's steps leave {left[1]} instead of {left[0]}")
    dry = [cost.state for cost in change.cost if cost.array_with > 0.0 >= cost.array_without]
    if dry:
        told.append(f"no water comes to the roof in {', '.join(dry)}")
    return told


def _cost_lines(change: Without, system: System) -> list[str]:
    from noonwater.core.units import unit_label

    lines = []
    verb = "gives" if change.part.facts.driven else "costs"
    for cost in change.cost:
        if cost.head < LEAST_HEAD or cost.array_with > 0.0 >= cost.array_without:
            continue
        head = number(in_system(cost.head, "head", system), 2)
        flow = [
            number(in_system(value, "flow", system), 1)
            for value in (cost.flow_with, cost.flow_without)
        ]
        array = [
            number(in_system(value, "flow", system), 1)
            for value in (cost.array_with, cost.array_without)
        ]
        unit = unit_label("flow", system)
        lines.append(
            f"  it {verb} {head} {unit_label('head', system)} of head in '{cost.state}': "
            f"{flow[0]} {unit} through the pump instead of {flow[1]}"
            + (f", {array[0]} on the roof instead of {array[1]}" if cost.array_with > 0.0 else "")
        )
    return lines


def _english(system: System) -> Language:
    return Language("en", "en_US", system)


def _panels(bank: str, numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"{bank} panel {numbers[0]}"
    first, last = min(numbers), max(numbers)
    if len(numbers) == last - first + 1:
        return f"{bank} panels {first} to {last}"
    return f"{bank} panels {', '.join(str(n) for n in sorted(numbers))}"
