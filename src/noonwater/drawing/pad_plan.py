"""The plan of a pad: parts set down, pipes laid, symbols drawn, words written."""

from __future__ import annotations

from itertools import pairwise

import htpy as h

from noonwater.drawing import ink
from noonwater.drawing.lettering import Style, clean, middle_baseline, text_line
from noonwater.drawing.pad_banks import Roof
from noonwater.drawing.pad_layout import Layout
from noonwater.drawing.pad_lines import STILL, Sort, arrow_heads, pipe_line, sort_of
from noonwater.drawing.pad_ports import Ends
from noonwater.drawing.pad_route import Track
from noonwater.drawing.pad_sketch import PadForm, Place
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_text import caption_boxes, plan_texts, write_captions
from noonwater.drawing.pad_words import least_fed
from noonwater.drawing.strokes import Box, line
from noonwater.drawing.symbols import OPPOSITE, Look, Way, panels_block, symbol, water_body


def draw_plan(subject: Subject, laid: Layout) -> list[h.Node]:
    """Draw a circuit in a state.

    Parameters
    ----------
    subject : Subject
        What is drawn.
    laid : Layout
        Where it lies.
    """
    pad, border = laid.sketch.pad, laid.border
    region, captions = pad.region, subject.captions(laid.sketch.pad)
    covered = caption_boxes(captions, border, pad)
    taken = [*covered, laid.pool, Box(region.left, border - 1.0, region.right, border + 1.0)]
    return [
        h.g(class_="ground")[
            line(region.left + 4.0, border, region.right - 4.0, border, ink.RULE, ink.HAIR),
            write_captions(captions, covered, pad),
            _pool(subject, laid),
        ],
        *draw_parts(subject, laid),
        *plan_texts(subject, laid.sketch, laid.roof, laid.tracks, taken),
    ]


def draw_parts(subject: Subject, laid: Layout) -> list[h.Node]:
    """Draw pipes, banks and parts without a word.

    Parameters
    ----------
    subject : Subject
        What is drawn.
    laid : Layout
        Where it lies.
    """
    return [
        *_pipes(subject, laid.tracks, laid.sketch.pad),
        *_banks(subject, laid.roof),
        *_symbols(subject, laid),
    ]


def _pool(subject: Subject, laid: Layout) -> list[h.Element]:
    """The pool, its name in the widest gap between its pipes."""
    name, box = subject.graph.pool, laid.pool
    if not name:
        return []
    style = Style(laid.sketch.pad.form.body, ink.INK, bold=True, anchor="middle")
    pipes = [end.x for (_, node), end in laid.ends.items() if node == name]
    edges = sorted([box.left, *pipes, box.right - 24.0])
    left, right = max(pairwise(edges), key=lambda gap: gap[1] - gap[0])
    base = middle_baseline(box.top + 0.62 * box.height, style)
    return [
        h.g({"class": "part", "data-part": clean(name)})[
            water_body(box),
            text_line(0.5 * (left + right), base, clean(subject.name_of(name)), style),
        ]
    ]


def _pipes(subject: Subject, tracks: dict[str, Track], pad: PadForm) -> list[h.Element]:
    """Still water below, warmed water on top, and the heads over all."""
    lines: dict[Sort, list[h.Element]] = {sort: [] for sort in (*STILL, "water", "warmed")}
    heads: list[h.Element] = []
    for edge in subject.graph.edges:
        track, name = tracks.get(edge.pipe.name), edge.pipe.name
        if track is None:
            continue
        sort = sort_of(edge.pipe, subject.water)
        lines[sort].append(pipe_line(track, sort, pad.scale, name))
        ahead = subject.water.flows.get(name, 0.0) > 0.0
        heads += arrow_heads(track, ahead, sort, pad.scale)
    whole = [mark for marks in lines.values() for mark in marks]
    return [h.g(class_="pipes")[whole], h.g(class_="arrows")[heads]]


def _banks(subject: Subject, roof: Roof) -> list[h.Element]:
    marks: list[h.Element] = []
    for name, place in roof.banks.items():
        least = least_fed(place.bank, subject.water)
        marked = frozenset[int]() if least is None else frozenset({least})
        block = panels_block(place.box, len(place.bank.panels), marked)
        marks.append(h.g({"class": "bank", "data-part": clean(name)})[block])
    return marks


def _symbols(subject: Subject, laid: Layout) -> list[h.Element]:
    marks: list[h.Element] = []
    for node, place in laid.sketch.places.items():
        ways = _sides(subject, laid.ends, node)
        if place.kind == "tee" and len(ways) < 3:
            continue
        look = Look(
            place.x,
            place.y,
            place.axis,
            laid.sketch.pad.scale,
            tuple(dict.fromkeys(ways.values())),
            _shut(subject, place, ways),
            place.vent,
        )
        marks.append(h.g({"class": "part", "data-part": clean(node)})[symbol(place.kind, look)])
    return marks


def _sides(subject: Subject, ends: Ends, node: str) -> dict[str, Way]:
    """Side of a part at which each of its joined ports lies."""
    return {
        edge.end_at(node)[1]: ends[edge.pipe.name, node].way
        for edge in subject.graph.at(node)
        if (edge.pipe.name, node) in ends
    }


def _shut(subject: Subject, place: Place, ways: dict[str, Way]) -> frozenset[Way]:
    """Sides of a valve that are shut in this state."""
    part = subject.graph.parts[place.node]
    if part.kind == "vacuum breaker":
        shut = subject.water.figures.breaker == "shut"
        return frozenset({place.vent}) if shut else frozenset()
    if not part.facts.settable:
        return frozenset()
    opening = subject.water.position_of(part)
    if part.kind != "diverter":
        return frozenset({place.axis, OPPOSITE[place.axis]}) if opening <= 0.005 else frozenset()
    closed: tuple[str, ...] = ()
    if opening >= 0.995:
        closed = part.ports[-2:-1]
    elif opening <= 0.005:
        closed = part.ports[-1:]
    return frozenset(ways[port] for port in closed if port in ways)
