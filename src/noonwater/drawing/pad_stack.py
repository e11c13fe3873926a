"""An array whose banks stand one above the other, as a telephone has room for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from noonwater.drawing.pad_banks import CROWDED, BankLabels, BankPlace, Roof, header_ends, spokes_of
from noonwater.drawing.pad_sketch import Sketch, broken, pitch, put_free
from noonwater.drawing.pad_words import Word
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import VENT


def stacked_roof(sketch: Sketch, labels: BankLabels) -> Roof:
    """Banks one above the other: the feed up on the left, the return up beside it and over."""
    pad, rails, region = sketch.pad, sketch.rails, sketch.pad.region
    names = [bank for branch in rails.banks for bank in branch.nodes if bank in sketch.graph.banks]
    inside = [sketch.graph.kind(node) for node in rails.down_roof[:-1]]
    # A breaker between two banks needs room for its number as well.
    over = pad.down - (50.0 if "vacuum breaker" in inside else 40.0)
    same_way = _same_way(sketch)
    inner = over if same_way else pad.down
    head = _head(sketch)
    banks, y = _piled(sketch, labels, names, (inner - 12.0, region.top + head + 16.0))
    low = header_ends(sketch, banks, "low", rails.up_roof)
    high = header_ends(sketch, banks, "high", rails.down_roof)
    joins_low = {node: max(y for _, y in ends) for node, ends in low.items()}
    joins_high = {node: min(y for _, y in ends) for node, ends in high.items()}
    foot = _rise(sketch, rails.up_roof, joins_low, pad.up, y)
    down_foot = _rise_or_fall(sketch, joins_high, inner, region.top + head, same_way)
    for branch in rails.banks:
        bank, before, after = spokes_of(branch, sketch)
        box = banks[bank].box
        for nodes, x in ((before, box.left), (after, box.right)):
            for node in nodes:
                place = replace(sketch.measured(node, "right", "under"), lines=())
                put_free(sketch, place, (x, box.bottom))
    return Roof(banks, max(y, foot, down_foot) + 6.0)


def _piled(
    sketch: Sketch, labels: BankLabels, names: Sequence[str], corner: tuple[float, float]
) -> tuple[dict[str, BankPlace], float]:
    """Set the banks down, the last of the feed at the top; gives also where they end."""
    pad, (right, y) = sketch.pad, corner
    left, crowded = pad.up + 16.0, len(names) > CROWDED
    banks: dict[str, BankPlace] = {}
    for name in reversed(names):
        lines = broken(_in_a_line(labels[name], crowded), right - left - 4.0, pad)
        box = Box(left, y, right, y + (22.0 if crowded else 34.0))
        top = box.bottom + 4.0
        label = Box(left + 4.0, top, right, top + len(lines) * pitch(pad.form))
        banks[name] = BankPlace(sketch.graph.banks[name], box, lines, label, sideways=True)
        y = label.bottom + 14.0
    return banks, y


def _in_a_line(label: tuple[Word, ...], crowded: bool) -> tuple[Word, ...]:
    """Bare figures set after each other."""
    return (Word(" · ".join(word.text for word in label), "figure"),) if crowded else label


def _same_way(sketch: Sketch) -> bool:
    """Whether the return picks banks up in the order in which the feed reaches them."""
    rails = sketch.rails
    order = [
        rails.down.index(node)
        for branch in rails.banks
        for node in (branch.start, branch.stop)
        if node in rails.down
    ]
    return order == sorted(order)


def _head(sketch: Sketch) -> float:
    """Room above the return where it goes over the top. [drawing units]."""
    kinds = [sketch.graph.kind(node) for node in sketch.rails.down_roof]
    if kinds[-1:] != ["vacuum breaker"]:
        return 14.0
    return VENT * sketch.pad.scale + 3.0 * pitch(sketch.pad.form) + 6.0


def _rise(
    sketch: Sketch, rail: Sequence[str], joins: dict[str, float], x: float, foot: float
) -> float:
    """Set nodes up a rail, each at its bank or below the next that has one; gives the lowest."""
    lowest = foot
    tees = {node: y for node, y in joins.items() if sketch.graph.kind(node) == "tee"}
    below = foot
    for i, node in enumerate(rail):
        place = sketch.measured(node, "up", "left")
        if node in tees:
            sketch.put(place, x, tees[node])
            continue
        later = [tees[other] for other in rail[i + 1 :] if other in tees]
        if later or not tees:
            below += sketch.height(place)
            sketch.put(place, x, below - 0.5 * sketch.height(place))
            lowest = max(lowest, below)
        else:
            put_free(sketch, place, (x, min(tees.values()) - sketch.height(place)))
    # The first of several stands lowest.
    free = [sketch.places[node] for node in rail if node not in tees]
    for place, y in zip(free, sorted((p.y for p in free), reverse=True), strict=True):
        sketch.places[place.node] = replace(place, y=y)
    return lowest


def _rise_or_fall(
    sketch: Sketch, joins: dict[str, float], x: float, top: float, rising: bool
) -> float:
    """Set down the return: up beside the banks and over the top, or down beside them."""
    pad, rail = sketch.pad, list(sketch.rails.down_roof)
    tees = {node: y for node, y in joins.items() if sketch.graph.kind(node) == "tee"}
    for node, y in tees.items():
        sketch.put(sketch.measured(node, "up" if rising else "down", "right"), x, y)
    last = max((rail.index(node) for node in tees), default=-1)
    between = [node for node in rail[:last] if node not in tees]
    after = rail[last + 1 :]
    for node in between:
        before = [tees[n] for n in rail[: rail.index(node)] if n in tees]
        later = [tees[n] for n in rail[rail.index(node) :] if n in tees]
        ends = [*(before[-1:] or [max(tees.values()) + 60.0]), later[0]]
        place = sketch.measured(node, "up" if rising else "down", "right")
        sketch.put(replace(place, lines=()), x, 0.5 * sum(ends))
    if after and rising:
        # At the very top, where the return goes over.
        place = sketch.measured(after[0], "right", "over")
        sketch.put(place, 0.5 * (x + pad.down), top)
        after = after[1:]
    y = top + 10.0
    for node in after:
        place = sketch.measured(node, "down", "right")
        y += 0.5 * sketch.height(place)
        sketch.put(place, pad.down, y)
        y += 0.5 * sketch.height(place)
    return y
