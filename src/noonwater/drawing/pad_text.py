"""All that is written on the pad's plan: names, numbers, and figures along the pipes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import htpy as h

from noonwater.drawing import ink
from noonwater.drawing.lettering import Anchor, Style, middle_baseline, text_line, text_width
from noonwater.drawing.pad_banks import Roof
from noonwater.drawing.pad_graph import Edge
from noonwater.drawing.pad_labels import Free, along, balloon
from noonwater.drawing.pad_lines import STROKES, arrow_box, sort_of
from noonwater.drawing.pad_route import Track
from noonwater.drawing.pad_sketch import PadForm, Place, Sketch, pitch, word_style
from noonwater.drawing.pad_subject import Caption, Subject
from noonwater.drawing.pad_words import Word, size_words
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box

_RUNS = ("suction", "feed", "roof return", "return", "spa", "cleaner")
_LEAST_RUN = 1.0
"""[m] Shorter pipes go without size and length on the plan; the parts list has them."""

Tracks = Mapping[str, Track]


def plan_texts(
    subject: Subject, sketch: Sketch, roof: Roof, tracks: Tracks, taken: Sequence[Box]
) -> list[h.Element]:
    """Write names, numbers and figures, none over anything.

    Parameters
    ----------
    subject : Subject
        What is drawn.
    sketch : Sketch
        Places of the parts.
    roof : Roof
        Places of the banks.
    tracks : mapping of str to track
        The pipes.
    taken : sequence of Box
        What is written or drawn already.
    """
    pad = sketch.pad
    form = pad.form
    free = Free(pad.region, list(taken), tuple(tracks.values()))
    names: list[h.Element] = []
    for place in sketch.places.values():
        free.take(place.box)
        label = place.label_box(form)
        if label is not None:
            free.take(label)
            names += _label(place, label, form)
    for bank in roof.banks.values():
        free.take(bank.box)
        free.take(bank.label)
        names += _lines(bank.lines, bank.label.left, bank.label.top, "start", form)
    for edge in subject.graph.edges:
        track = tracks.get(edge.pipe.name)
        if track and subject.water.moves(edge.pipe.name):
            free.take(arrow_box(track, pad.scale))
    balloons = [
        mark
        for node, count in subject.numbers.items()
        if node in sketch.places
        and (mark := balloon(free, sketch.places[node], count, form)) is not None
    ]
    runs, told = _run_figures(subject, free, tracks, form)
    branches = _branch_figures(subject, (free, form), tracks, told)
    return [
        h.g(class_="labels")[names],
        h.g(class_="balloons")[balloons],
        h.g(class_="runs")[runs, branches],
    ]


def caption_boxes(captions: Sequence[Caption], border: float, pad: PadForm) -> list[Box]:
    """What the words at the border between array and pad cover."""
    style, middle, step = Style(pad.form.note), 0.5 * (pad.up + pad.down), pitch(pad.form)
    count = sum(caption.above for caption in captions)
    boxes = []
    for i, caption in enumerate(captions):
        top = border + (i - count) * step + (-3.0 if caption.above else 3.0)
        half = 0.5 * text_width(caption.text, style)
        boxes.append(Box(middle - half, top, middle + half, top + step))
    return boxes


def write_captions(
    captions: Sequence[Caption], boxes: Sequence[Box], pad: PadForm
) -> list[h.Element]:
    """Write the words at the border between array and pad into their boxes."""
    style, middle = Style(pad.form.note, ink.NOTE, anchor="middle"), 0.5 * (pad.up + pad.down)
    return [
        text_line(middle, middle_baseline(box.middle, style), caption.text, style)
        for caption, box in zip(captions, boxes, strict=True)
    ]


def _run_figures(
    subject: Subject, free: Free, tracks: Tracks, form: SheetFormat
) -> tuple[list[h.Element], set[str]]:
    """Size, length and flow along the long runs; gives also the flows that are told."""
    marks: list[h.Element] = []
    told: set[str] = set()
    for edge in sorted(_long_runs(subject), key=lambda edge: -edge.pipe.length):
        pipe = edge.pipe
        size = f"{size_words(pipe.nominal)}, {subject.told(pipe.length, 'length')}"
        lines = [(size, Style(form.note, ink.NOTE))]
        if subject.water.moves(pipe.name):
            lines.append(_flow_line(subject, edge, form))
        if pipe.name in tracks and (found := along(free, tracks[pipe.name], lines, form)):
            marks += found
            told.add(_flow_key(subject, edge))
    return marks, told


def _flow_key(subject: Subject, edge: Edge) -> str:
    return f"{subject.water.flows.get(edge.pipe.name, 0.0):.7f}"


def _long_runs(subject: Subject) -> list[Edge]:
    graph, rails = subject.graph, subject.rails
    runs = [
        edge for edge in graph.edges if edge.pipe.role in _RUNS and edge.pipe.length >= _LEAST_RUN
    ]
    if not subject.crowded:
        return runs
    inner = {*rails.up_roof, *rails.down_roof, *graph.banks}
    return [edge for edge in runs if not {edge.start, edge.stop} <= inner]


def _branch_figures(
    subject: Subject, room: tuple[Free, SheetFormat], tracks: Tracks, told: set[str]
) -> list[h.Element]:
    """Flow along what leaves the rails, once for water that only goes on."""
    graph, water = subject.graph, subject.water
    free, form = room
    marks: list[h.Element] = []
    for branch in subject.rails.branches:
        edges = (*branch.edges, *(edge for node in branch.nodes for edge in graph.at(node)))
        for edge in edges:
            name, key = edge.pipe.name, _flow_key(subject, edge)
            if not water.moves(name) or name not in tracks or key in told:
                continue
            found = along(free, tracks[name], [_flow_line(subject, edge, form)], form)
            marks += found
            told |= {key} if found else set()
    return marks


def _flow_line(subject: Subject, edge: Edge, form: SheetFormat) -> tuple[str, Style]:
    name = edge.pipe.name
    flow = subject.told(abs(subject.water.flows[name]), "flow")
    colour = STROKES[sort_of(edge.pipe, subject.water)].colour
    return flow, Style(form.note, colour, bold=True)


def _label(place: Place, box: Box, form: SheetFormat) -> list[h.Element]:
    if place.side == "left":
        return _lines(place.lines, box.right, box.top, "end", form)
    if place.side == "right":
        return _lines(place.lines, box.left, box.top, "start", form)
    return _lines(place.lines, 0.5 * (box.left + box.right), box.top, "middle", form)


def _lines(
    lines: Sequence[Word], x: float, top: float, anchor: Anchor, form: SheetFormat
) -> list[h.Element]:
    step = pitch(form)
    styles = [replace(word_style(word, form), anchor=anchor) for word in lines]
    return [
        text_line(x, middle_baseline(top + (i + 0.5) * step, style), word.text, style)
        for i, (word, style) in enumerate(zip(lines, styles, strict=True))
    ]
