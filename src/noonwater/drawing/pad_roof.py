"""Where the array stands on the sheet: banks side by side, or one above the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil

from noonwater.drawing.lettering import Style, text_width
from noonwater.drawing.pad_banks import CROWDED, BankLabels, BankPlace, Roof, port_of, spokes_of
from noonwater.drawing.pad_sketch import PadForm, Sketch, broken, pitch, put_free, word_style
from noonwater.drawing.pad_stack import stacked_roof
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import VENT

BESIDE = 160.0
"""[drawing units] A label of this width stands beside its bank and saves height."""


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
    pad, rails = sketch.pad, sketch.rails
    region, form, k = pad.region, pad.form, pad.scale
    spokes = [spokes_of(branch, sketch) for branch in rails.banks]
    names = [bank for branch in rails.banks for bank in branch.nodes if bank in sketch.graph.banks]
    count = max(len(names), 1)
    lead_in = 0.0 if _corner(sketch) else 30.0 * k
    left, right = pad.up + lead_in, pad.down - 70.0 * k
    gap = 30.0 * k if count <= CROWDED else 8.0
    slot = (pad.down - 14.0 * k - left) / count
    beside = slot >= BESIDE + 60.0
    widest = min(190.0, slot - BESIDE if beside else (right - left - (count - 1) * gap) / count)
    panels = max([len(sketch.graph.banks[name].panels) for name in names], default=1)
    slim = min(24.0, widest / panels)
    widths = [max(slim * len(sketch.graph.banks[n].panels), min(14.0, widest)) for n in names]
    step = slot if count <= CROWDED else (right - left - widths[-1]) / (count - 1)
    deep = 1.0 * max([len(before) for _, before, _ in spokes], default=0) * 34.0 * k
    high = 1.0 * max([len(after) for _, _, after in spokes], default=0) * 34.0 * k
    over = max(2.0 * pitch(form) + VENT * k + 12.0, 40.0)
    y_return = region.top + over
    top = y_return + 22.0 * k + high
    block = Box(0.0, top, widest, top + 46.0 * k)
    y_feed = block.bottom + 22.0 * k + deep
    if beside:
        tallest = max([len(broken(labels[name], BESIDE - 22.0, pad)) for name in names], default=0)
        y_feed = max(y_feed, y_return + tallest * pitch(form) + 22.0)
    banks: dict[str, BankPlace] = {}
    lowest = y_feed
    shown = _shown(labels, names, step, pad)
    for i, name in enumerate(names):
        x = left - min(6.0, 0.5 * widths[i]) + i * step
        box = Box(x, block.top, x + widths[i], block.bottom)
        if beside:
            lines = broken(labels[name], BESIDE - 22.0, pad)
            tall = len(lines) * pitch(form)
            place = box.right + 10.0, 0.5 * (y_return + y_feed - tall)
        else:
            inset = 22.0 if i == 0 else 16.0
            room = min(max(widest, step - 8.0), pad.down - 8.0 - x) - inset
            lines = broken(labels[name], max(room, 40.0), pad) if name in shown else ()
            tall = len(lines) * pitch(form)
            place = x + inset, y_feed + 10.0
        wide = max((text_width(w.text, word_style(w, form)) for w in lines), default=0.0)
        label = Box(*place, place[0] + wide, place[1] + tall)
        banks[name] = BankPlace(sketch.graph.banks[name], box, lines, label)
        lowest = max(lowest, label.bottom)
    _line_nodes(sketch, banks, y_feed, y_return)
    for bank, before, after in spokes:
        _stem(sketch, before, banks[bank].port(port_of(sketch, bank, "low")), 1.0)
        _stem(sketch, after, banks[bank].port(port_of(sketch, bank, "high")), -1.0)
    foot = max(lowest, _tail(sketch, y_feed, y_return)) + 8.0
    return Roof(banks, foot)


def _shown(labels: BankLabels, names: Sequence[str], step: float, pad: PadForm) -> frozenset[str]:
    """Banks whose labels are set: every one, or every so many as there is room for."""
    if len(names) <= CROWDED:
        return frozenset(names)
    style = Style(pad.form.note, bold=True)
    wide = max(text_width(word.text, style) for name in names for word in labels[name])
    return frozenset(names[:: max(1, ceil((wide + 8.0) / step))])


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
    joins = {
        "low": _joins(sketch, banks, "low", sketch.rails.up_roof),
        "high": _joins(sketch, banks, "high", sketch.rails.down_roof),
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


def _joins(
    sketch: Sketch, banks: dict[str, BankPlace], level: str, rail: Sequence[str]
) -> dict[str, float]:
    """Where a bank meets a line: the place of its header's end, for the node that it joins."""
    found: dict[str, float] = {}
    for branch in sketch.rails.banks:
        bank, _, _ = spokes_of(branch, sketch)
        for node in (branch.start, branch.stop):
            if node in rail and bank in banks:
                x = banks[bank].port(port_of(sketch, bank, level))[0]
                last_first = level == "high"
                if node in found:
                    x = max(found[node], x) if last_first else min(found[node], x)
                found[node] = x
    return found


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
