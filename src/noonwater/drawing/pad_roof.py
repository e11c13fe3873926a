"""Where the array stands on the sheet: banks side by side, or one above the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from noonwater.drawing.pad_banks import (
    BankLabels,
    BankPlace,
    Roof,
    header_ends,
    port_of,
    spokes_of,
)
from noonwater.drawing.pad_row import measured_row, placed_banks
from noonwater.drawing.pad_sketch import Sketch, put_free
from noonwater.drawing.pad_stack import stacked_roof


def roof_height(sketch: Sketch, labels: BankLabels) -> float:
    """Height that the array takes. [drawing units]."""
    trial = replace(sketch, places={})
    return place_roof(trial, labels).foot - sketch.pad.region.top


def place_roof(sketch: Sketch, labels: BankLabels) -> Roof:
    """Set down the array, from the top of the drawing's region.

    Parameters
    ----------
    sketch : Sketch
        Added to.
    labels : dict of str to tuple of Word
        Below each bank, unbroken.
    """
    return (stacked_roof if sketch.pad.stacked else _across)(sketch, labels)


def _across(sketch: Sketch, labels: BankLabels) -> Roof:
    """Banks side by side, the feed below them, the return above."""
    lead_in = 0.0 if _corner(sketch) else 30.0 * sketch.pad.scale
    row = measured_row(sketch, labels, lead_in)
    banks = placed_banks(sketch, labels, row)
    _line_nodes(sketch, banks, row.y_feed, row.y_return)
    for branch in sketch.rails.banks:
        bank, before, after = spokes_of(branch, sketch)
        _stem(sketch, before, banks[bank].port(port_of(sketch, bank, "low")), 1.0)
        _stem(sketch, after, banks[bank].port(port_of(sketch, bank, "high")), -1.0)
    lowest = max((place.label.bottom for place in banks.values()), default=row.y_feed)
    foot = max(lowest, row.y_feed, _tail(sketch, row.y_feed, row.y_return)) + 8.0
    return Roof(banks, foot)


def _corner(sketch: Sketch) -> bool:
    """Whether the feed's rail ends in the array's own corner, from which it turns."""
    return bool(sketch.rails.up_roof) and any(
        sketch.graph.kind(node) == "tee" for node in sketch.rails.up_roof
    )


def _stem(sketch: Sketch, nodes: Sequence[str], port: tuple[float, float], sign: float) -> None:
    """What stands between a header and its line."""
    k = sketch.pad.scale
    for i, node in enumerate(reversed(nodes) if sign > 0.0 else nodes):
        place = replace(sketch.measured(node, "up", "right"), lines=())
        sketch.put(place, port[0], port[1] + sign * (30.0 * i + 26.0) * k)


def _line_nodes(
    sketch: Sketch, banks: dict[str, BankPlace], y_feed: float, y_return: float
) -> None:
    """Tees at their banks' corners, everything else between its neighbours on the line."""
    low = header_ends(sketch, banks, "low", sketch.rails.up_roof)
    high = header_ends(sketch, banks, "high", sketch.rails.down_roof)
    joins = {
        "low": {node: min(x for x, _ in ends) for node, ends in low.items()},
        "high": {node: max(x for x, _ in ends) for node, ends in high.items()},
    }
    feed = list(sketch.rails.up_roof)
    first = next((i for i, node in enumerate(feed) if node in joins["low"]), len(feed))
    for node in feed[first:]:
        sketch.put(sketch.measured(node, "right", "under"), joins["low"].get(node, 0.0), y_feed)
    _fill_in(sketch, feed[first:], joins["low"], (sketch.pad.up, sketch.pad.down - 40.0), y_feed)
    line, _ = _return_line(sketch, joins["high"])
    start = min((box.box.left for box in banks.values()), default=sketch.pad.up)
    if banks:
        ends = [place.port(port_of(sketch, name, "high"))[0] for name, place in banks.items()]
        start = max(min(ends), start)
    _fill_in(sketch, line, joins["high"], (start, sketch.pad.down), y_return)


def _return_line(sketch: Sketch, joins: dict[str, float]) -> tuple[list[str], list[str]]:
    """What lies along the return at the top, and what stands below on the rail."""
    rail = list(sketch.rails.down_roof)
    last = max((i for i, node in enumerate(rail) if node in joins), default=-1)
    while last + 1 < len(rail) and sketch.graph.kind(rail[last + 1]) == "vacuum breaker":
        last += 1
    return rail[: last + 1], rail[last + 1 :]


def _fill_in(
    sketch: Sketch,
    line: Sequence[str],
    joins: dict[str, float],
    ends: tuple[float, float],
    y: float,
) -> None:
    """Set down a line's nodes: what no bank holds is spread between those that one holds."""
    known = [(i, joins[node]) for i, node in enumerate(line) if node in joins]
    if not any(sketch.graph.kind(node) == "tee" for node in line if node in joins):
        # A breaker or valve right at a bank stands beside its corner, not on it.
        known = []
    fixed = [(-1, ends[0]), *known, (len(line), ends[1])]
    side = "over" if y < sketch.pad.region.top + 140.0 else "under"
    for (i, x), (j, x_next) in pairwise(fixed):
        for n in range(max(i, 0), j):
            share = (n - i) / (j - i)
            place = sketch.measured(line[n], "right", side)  # type: ignore[arg-type]
            sketch.put(place, x + share * (x_next - x), y)


def _tail(sketch: Sketch, y_feed: float, y_return: float) -> float:
    """Nodes of the array that stand on the rails, and its spurs; gives where they end."""
    pad, rails = sketch.pad, sketch.rails
    up = [node for node in rails.up_roof if node not in sketch.places]
    down = [node for node in rails.down_roof if node not in sketch.places]
    ends = [y_feed]
    y = y_feed
    for node in reversed(up):
        place = sketch.measured(node, "up", "left")
        y += 0.5 * sketch.height(place) + 8.0
        sketch.put(place, pad.up, y)
        y += 0.5 * sketch.height(place)
        ends.append(y)
    y = y_return + 30.0
    for node in down:
        place = sketch.measured(node, "down", "right")
        y += 0.5 * sketch.height(place)
        sketch.put(place, pad.down, y)
        y += 0.5 * sketch.height(place)
        ends.append(y)
    return max(ends)


def place_roof_branches(sketch: Sketch, roof: Roof) -> None:
    """Set down drains and the like that hang on the array's lines.

    Parameters
    ----------
    sketch : Sketch
        Added to.
    roof : Roof
        The array.
    """
    at_roof = {*sketch.rails.up_roof, *sketch.rails.down_roof}
    for branch in sketch.rails.branches:
        if branch.start not in at_roof or any(node in sketch.places for node in branch.nodes):
            continue
        start = sketch.places[branch.start]
        x, y = start.x, start.y
        up_rail = abs(x - sketch.pad.up) < 1.0
        for node in branch.nodes:
            axis = "left" if up_rail else "down"
            place = replace(sketch.measured(node, axis, "right"), lines=())  # type: ignore[arg-type]
            x, y = (x - 34.0, y) if up_rail else (x, y + 30.0)
            put_free(sketch, place, (x, y))
