"""The pad without words, with a number at each part that a paper speaks of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import htpy as h

from noonwater.core.units import System
from noonwater.drawing.inset import NOTE, WIDTH, inset
from noonwater.drawing.pad_banks import BankLabels
from noonwater.drawing.pad_labels import Free, balloon, numbered_circle
from noonwater.drawing.pad_layout import Layout, laid_out, plan_height
from noonwater.drawing.pad_lines import arrow_box
from noonwater.drawing.pad_plan import draw_parts
from noonwater.drawing.pad_route import Point
from noonwater.drawing.pad_sketch import PadForm, Sketch
from noonwater.drawing.pad_subject import Caption, Subject
from noonwater.drawing.pad_water import PadWater
from noonwater.drawing.sheet import DESK
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import water_body
from noonwater.model.circuit import Circuit

FORM = replace(DESK, note=1.15 * NOTE, body=1.15 * NOTE)
RAIL = 70.0
"""[drawing units] From the drawing's edge to each of its two rails."""
LEAST_HEIGHT = 330.0
ABOVE = 30.0
"""[drawing units] Room over the highest part, for its number."""
BESIDE = 13.0
"""[drawing units] A number that finds no free place stands so far beside its part."""


class _Wordless(Subject):
    """A circuit in a state, drawn without a word."""

    def sketch(self, pad: PadForm) -> Sketch:
        return Sketch(self.graph, self.rails, {}, pad)

    def bank_labels(self) -> BankLabels:
        return dict.fromkeys(self.graph.banks, ())

    def captions(self, pad: PadForm) -> list[Caption]:
        return []


@dataclass(frozen=True)
class NumberedPad:
    """A pad with numbers.

    Attributes
    ----------
    svg : str
        The drawing.
    height : float
        Over its width. [-]
    """

    svg: str
    height: float


def pad_numbered(
    circuit: Circuit, water: PadWater, marks: Mapping[str, int], title: str, units: System
) -> NumberedPad:
    """Draw the pad in one state, with numbers for words.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes; any.
    water : PadWater
        The state.
    marks : mapping of str to int
        Number by name of a part, or of a port of the pool or spa: "pool return".
    title : str
        For those who hear the drawing.
    units : {"US", "SI"}
        Units.
    """
    subject = _Wordless(circuit, water, units)
    region = Box(0.0, 0.0, WIDTH, LEAST_HEIGHT)
    pad = PadForm(FORM, region, RAIL, WIDTH - RAIL, 1.0, stacked=False)
    height = max(LEAST_HEIGHT, plan_height(subject, pad))
    pad = replace(pad, region=replace(region, bottom=height))
    laid = laid_out(subject, pad)
    pool = [water_body(laid.pool)] if subject.graph.pool else []
    numbers = list(_numbers(subject, laid, marks))
    drawn = [h.g(class_="ground")[pool], *draw_parts(subject, laid), h.g[numbers]]
    tops = [place.box.top for place in laid.sketch.places.values()]
    tops += [bank.box.top for bank in laid.roof.banks.values()]
    top = max(0.0, min(tops, default=0.0) - ABOVE)
    whole = replace(pad.region, top=top, bottom=height + 12.0)
    return NumberedPad(inset(whole, title, drawn), whole.height / whole.width)


def _numbers(subject: Subject, laid: Layout, marks: Mapping[str, int]) -> Iterator[h.Element]:
    places = laid.sketch.places
    free = Free(laid.sketch.pad.region, [laid.pool], tuple(laid.tracks.values()))
    for place in places.values():
        free.take(place.box)
    for bank in laid.roof.banks.values():
        free.take(bank.box)
    for edge in subject.graph.edges:
        track = laid.tracks.get(edge.pipe.name)
        if track and subject.water.moves(edge.pipe.name):
            free.take(arrow_box(track, laid.sketch.pad.scale))
    for name, count in marks.items():
        if name in places:
            place = places[name]
            beside = place.box.right + BESIDE, place.y
            yield balloon(free, place, count, FORM) or numbered_circle(*beside, count, FORM)
        elif (end := _port_of(subject, laid, name)) is not None:
            yield numbered_circle(end[0], end[1] + BESIDE, count, FORM)


def _port_of(subject: Subject, laid: Layout, name: str) -> Point | None:
    """Where a port of the pool or spa lies, such as "pool return"."""
    for edge in subject.graph.edges:
        for node in (edge.start, edge.stop):
            end = laid.ends.get((edge.pipe.name, node))
            if end is not None and " ".join(edge.end_at(node)) == name:
                return end.x, end.y
    return None
