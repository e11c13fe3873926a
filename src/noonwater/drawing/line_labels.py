"""Names set directly on the lines of a chart, where they are easiest to read.

Each name tries every place along its own line, above and below. A place counts by how far the
other lines are and how level its own line runs there. No other line may pass between a name and its
line unless a leader ties them; names never meet each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import htpy as h
import numpy as np

from noonwater.drawing.ink import THIN
from noonwater.drawing.lettering import Style, text_line, text_width
from noonwater.drawing.strokes import Box, Floats, line, number

_STRIDE = 5
_NEAR = 0.45
_LED = (1.6, 3.0, 5.0, 8.0)
_SLOPE = 0.6
_RISE = 1.1  # height of a name over its size


@dataclass(frozen=True)
class NamedLine:
    """A line of a chart and its name.

    Attributes
    ----------
    name : str
        What is written.
    style : Style
        How; anchored in the middle.
    upper, lower : array
        The line at each place along the sheet, or the edges of its band. [drawing units]
    strength : float
        How much it disturbs where it crosses a name or its leader. [-]
    """

    name: str
    style: Style
    upper: Floats
    lower: Floats
    strength: float = 1.0


@dataclass(frozen=True)
class _Place:
    box: Box
    score: float
    tie: float | None

    @property
    def parts(self) -> tuple[Box, ...]:
        """What it covers: the name, and its leader if it has one."""
        if self.tie is None:
            return (self.box,)
        x = 0.5 * (self.box.left + self.box.right)
        start, end = sorted((self.tie, self.box.middle))
        return (self.box, Box(x, start, x, end))


@dataclass(frozen=True)
class _Around:
    """Heights of the lines under a name, and right under its middle."""

    own: tuple[float, float]
    others: tuple[tuple[float, float, float], ...]
    own_here: tuple[float, float]
    others_here: tuple[tuple[float, float, float], ...]


def line_labels(lines: Sequence[NamedLine], xs: Floats, plot: Box) -> list[h.Element]:
    """Set each line's name.

    Parameters
    ----------
    lines : sequence of NamedLine
        The first choose first.
    xs : array
        Places along the sheet that the lines are given at. [drawing units]
    plot : Box
        Names stay inside.

    Returns
    -------
    list of elements
        A name, and a leader with a dot on the line where the name stands off.
    """
    marks: list[h.Element] = []
    taken: list[Box] = []
    for index, named in enumerate(lines):
        others = [other for i, other in enumerate(lines) if i != index]
        places = sorted(_places(named, others, xs, plot), key=lambda place: -place.score)
        best = next((place for place in places if not _meets(place, taken, named.style)), None)
        if best is not None:
            taken += best.parts
            marks += _marks(named, best)
    return marks


def _meets(place: _Place, taken: Sequence[Box], style: Style) -> bool:
    gap = 0.5 * style.size
    return any(part.meets(box, gap) for part in place.parts for box in taken)


def _places(
    named: NamedLine, others: Sequence[NamedLine], xs: Floats, plot: Box
) -> Iterator[_Place]:
    size = named.style.size
    half = 0.5 * text_width(named.name, named.style)
    left, right = plot.left + 0.4 * size + half, plot.right - 0.4 * size - half
    for centre in range(0, len(xs), _STRIDE):
        x = float(xs[centre])
        if left <= x <= right:
            under = slice(*np.searchsorted(xs, [x - half - 2.0, x + half + 2.0]))
            here = slice(centre, centre + 1)
            around = _Around(
                own=_extent(named, under),
                others=tuple((*_extent(other, under), other.strength) for other in others),
                own_here=_extent(named, here),
                others_here=tuple((*_extent(other, here), other.strength) for other in others),
            )
            boxes = Box(x - half, plot.top + 2.0, x + half, plot.bottom - 2.0)
            yield from _near_places(boxes, size, around)
            yield from _led_places(boxes, size, around)


def _near_places(column: Box, size: float, around: _Around) -> Iterator[_Place]:
    """Right above and below the line; the way to it has to be free."""
    high, low = around.own
    slope = _SLOPE * (low - high)
    for bottom in (high - _NEAR * size, low + (_NEAR + _RISE) * size):
        box = Box(column.left, bottom - _RISE * size, column.right, bottom)
        if column.top <= box.top and box.bottom <= column.bottom:
            reach = Box(box.left, min(box.top, low), box.right, max(box.bottom, high))
            yield _Place(box, _room(reach, size, around.others) - slope, None)


def _led_places(column: Box, size: float, around: _Around) -> Iterator[_Place]:
    """Farther off, with a leader; it should cross little and end where its line is alone."""
    high, low = around.own
    for offset in _LED:
        for bottom, tie in (
            (high - offset * size, around.own_here[0]),
            (low + (offset + _RISE) * size, around.own_here[1]),
        ):
            box = Box(column.left, bottom - _RISE * size, column.right, bottom)
            if column.top <= box.top and box.bottom <= column.bottom:
                start, end = sorted((tie, box.middle))
                crossed = sum(
                    strength
                    for up, down, strength in around.others_here
                    if up < end and down > start
                )
                lost = any(
                    up - 0.4 * size < tie < down + 0.4 * size for up, down, _ in around.others_here
                )
                penalty = (2.0 + offset + 2.5 * crossed + 6.0 * lost) * size
                yield _Place(box, _room(box, size, around.others) - penalty, tie)


def _room(box: Box, size: float, others: Sequence[tuple[float, float, float]]) -> float:
    """Free height to the nearest other line; far below zero where a strong one runs through."""
    most = 3.0 * size  # more air than three letters does not make it read better
    free = ((max(up - box.bottom, box.top - down), strength) for up, down, strength in others)
    return min(
        (
            min(clear, most) if clear > 0.2 * size else -8.0 * size * strength
            for clear, strength in free
        ),
        default=most,
    )


def _extent(named: NamedLine, under: slice) -> tuple[float, float]:
    return float(named.upper[under].min()), float(named.lower[under].max())


def _marks(named: NamedLine, place: _Place) -> list[h.Element]:
    box, style = place.box, named.style
    x = 0.5 * (box.left + box.right)
    marks = [text_line(x, box.bottom - 0.25 * style.size, named.name, style)]
    if place.tie is not None:
        edge = box.bottom if place.tie > box.bottom else box.top
        dot = h.circle(cx=number(x), cy=number(place.tie), r="2", fill=style.colour)
        marks = [line(x, edge, x, place.tie, style.colour, THIN), dot, *marks]
    return marks
