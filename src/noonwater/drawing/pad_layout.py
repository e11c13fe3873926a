"""The plan of a pad laid out: parts set down from array to pool, pipes laid between them."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.drawing.pad_banks import Roof
from noonwater.drawing.pad_levels import pad_zone_height
from noonwater.drawing.pad_place import place_pad
from noonwater.drawing.pad_ports import Ends, pipe_ends
from noonwater.drawing.pad_roof import place_roof, place_roof_branches, roof_height
from noonwater.drawing.pad_route import Point, Router, Track, grown
from noonwater.drawing.pad_sketch import PadForm, Sketch, pitch, put_free
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_text import caption_boxes
from noonwater.drawing.strokes import Box

_POOL = 44.0
_BORDER = 8.0
_POINTS = ("tee", "plug", "vacuum breaker")
"""Kinds that lie on a pipe's line, not at its end."""


@dataclass(frozen=True)
class Layout:
    """Where everything lies.

    Attributes
    ----------
    sketch : Sketch
        Places of the parts.
    roof : Roof
        Places of the banks.
    ends : Ends
        Of the pipes.
    pool : Box
        The pool's.
    border : float
        Down the sheet, between array and pad. [drawing units]
    tracks : dict of str to track
        Of the pipes.
    """

    sketch: Sketch
    roof: Roof
    ends: Ends
    pool: Box
    border: float
    tracks: dict[str, Track]

    @property
    def middles(self) -> dict[str, Point]:
        """Middle of all that is drawn, by name."""
        found = {name: (place.x, place.y) for name, place in self.sketch.places.items()}
        boxes = {name: bank.box for name, bank in self.roof.banks.items()}
        if self.sketch.graph.pool:
            boxes[self.sketch.graph.pool] = self.pool
        return found | {n: (0.5 * (b.left + b.right), b.middle) for n, b in boxes.items()}


def plan_height(subject: Subject, pad: PadForm) -> float:
    """Least height of a region that the plan fits in. [drawing units]."""
    border = len(subject.captions(pad)) * pitch(pad.form) + 2.0 * _BORDER
    roof = roof_height(subject.sketch(pad), subject.bank_labels())
    return roof + border + pad_zone_height(subject.sketch(pad)) + _POOL


def laid_out(subject: Subject, pad: PadForm) -> Layout:
    """Set everything down, from the array at the top to the pool at the foot.

    Parameters
    ----------
    subject : Subject
        What is drawn.
    pad : PadForm
        Measures.
    """
    sketch, region = subject.sketch(pad), pad.region
    roof = place_roof(sketch, subject.bank_labels())
    place_roof_branches(sketch, roof)
    captions = subject.captions(pad)
    above = sum(caption.above for caption in captions)
    border = roof.foot + above * pitch(pad.form) + _BORDER
    top = border + (len(captions) - above) * pitch(pad.form) + _BORDER
    reach = 60.0 * pad.scale
    pool = Box(pad.up - reach, region.bottom - _POOL + 6.0, pad.down + reach, region.bottom - 2.0)
    place_pad(sketch, pool.top, pool.top - top)
    # Whatever no rule has found a place for stands in the middle, clear of the rest.
    for node in subject.graph.parts:
        if node != subject.graph.pool and node not in sketch.places:
            middle = 0.5 * (pad.up + pad.down), 0.5 * (top + pool.top)
            put_free(sketch, sketch.measured(node, "right", "under"), middle)
    ends = pipe_ends(subject.graph, sketch.places, roof.banks, pool, pad.form)
    fixed = [box for place in sketch.places.values() if (box := place.label_box(pad.form))]
    fixed += [grown(bank.label, 2.0) for bank in roof.banks.values()]
    fixed += caption_boxes(captions, border, pad)
    return Layout(sketch, roof, ends, pool, border, _tracks(sketch, roof, ends, fixed))


def _tracks(sketch: Sketch, roof: Roof, ends: Ends, fixed: list[Box]) -> dict[str, Track]:
    """Lay the pipes, straight ones first."""
    places = sketch.places
    bodies = {name: place.box for name, place in places.items()}
    bodies |= {name: bank.box for name, bank in roof.banks.items()}
    points = {name for name, place in places.items() if place.kind in _POINTS}
    router = Router(sketch.pad.region, [])
    tracks: dict[str, Track] = {}
    for edge in sorted(sketch.graph.edges, key=lambda edge: _span(ends, edge.pipe.name)):
        start = ends.get((edge.pipe.name, edge.start))
        stop = ends.get((edge.pipe.name, edge.stop))
        if start is None or stop is None:
            continue
        own = (edge.start, edge.stop)
        router.boxes = fixed + [
            grown(box, -0.6 if name in own else 4.0)
            for name, box in bodies.items()
            if not (name in own and name in points)
        ]
        tracks[edge.pipe.name] = router.lay(start, stop)
    return tracks


def _span(ends: Ends, name: str) -> float:
    """How far a pipe's ends lie apart: straight ones are laid first, then the near."""
    pair = [end for (pipe, _), end in ends.items() if pipe == name]
    dx, dy = abs(pair[0].x - pair[-1].x), abs(pair[0].y - pair[-1].y)
    return dx + dy + (0.0 if min(dx, dy) < 0.5 else 1000.0)
