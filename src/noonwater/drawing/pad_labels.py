"""Numbers at valves and figures along pipes, set where nothing else is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import htpy as h

from noonwater.drawing.ink import FINE, INK, SHEET
from noonwater.drawing.lettering import Style, middle_baseline, text_line, text_width
from noonwater.drawing.pad_route import Point, Track, grown, passes
from noonwater.drawing.pad_sketch import Place, pitch
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box, number

_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)


@dataclass
class Free:
    """What is still free on the sheet.

    Attributes
    ----------
    region : Box
        Where labels may stand.
    boxes : list of Box
        Taken by symbols and text.
    tracks : sequence of tracks
        The pipes.
    """

    region: Box
    boxes: list[Box]
    tracks: Sequence[Track] = field(default=())

    def holds(self, box: Box, gap: float = 2.5) -> bool:
        """Whether a rectangle is free."""
        inside = (
            box.left >= self.region.left
            and box.right <= self.region.right
            and box.top >= self.region.top
            and box.bottom <= self.region.bottom
        )
        if not inside or any(box.meets(other, gap) for other in self.boxes):
            return False
        around = grown(box, 3.5)
        return not any(passes(piece, around) for track in self.tracks for piece in pairwise(track))

    def take(self, box: Box) -> None:
        """Take a rectangle."""
        self.boxes.append(box)


def balloon(free: Free, place: Place, count: int, form: SheetFormat) -> h.Element | None:
    """Set a valve's number in a circle beside it, as ISO 6433 numbers items (from memory).

    Parameters
    ----------
    free : Free
        Where it may stand; the circle is taken from it.
    place : Place
        The valve.
    count : int
        Its number.
    form : SheetFormat
        Sizes.

    Returns
    -------
    htpy element or None
        None where no place was free; the valve is in the schedule anyway.
    """
    radius = 0.78 * form.note
    for x, y in _around(place, radius):
        box = Box(x - radius, y - radius, x + radius, y + radius)
        if free.holds(box, 1.0):
            free.take(box)
            return numbered_circle(x, y, count, form)
    return None


def numbered_circle(x: float, y: float, count: int, form: SheetFormat) -> h.Element:
    """Draw a number in a circle."""
    style = Style(form.note, INK, bold=True, anchor="middle")
    return h.g(class_="balloon")[
        h.circle(
            cx=number(x),
            cy=number(y),
            r=number(0.78 * form.note),
            fill=SHEET,
            stroke=INK,
            stroke_width=f"{FINE:.4g}",
        ),
        text_line(x, middle_baseline(y, style), str(count), style),
    ]


def _around(place: Place, radius: float) -> Iterator[Point]:
    box = place.box
    x, y = 0.5 * (box.left + box.right), 0.5 * (box.top + box.bottom)
    for off in (3.5, 9.0, 16.0, 26.0):
        wide = 0.5 * box.width + radius + off
        high = 0.5 * box.height + radius + off
        near = 0.7 * radius + off
        sides = [(x + wide, y), (x - wide, y)]
        corners = [
            (x + wide - near, y - high + near),
            (x + wide - near, y + high - near),
            (x - wide + near, y - high + near),
            (x - wide + near, y + high - near),
        ]
        # Beside a breaker's opening, clear of the pipe that it sits on.
        sides += [(x + wide, box.top + radius), (x - wide, box.top + radius)]
        if place.side == "right":
            sides = [sides[1], sides[0], sides[3], sides[2]]
            corners = corners[2:] + corners[:2]
        far = [(x + wide, y - high), (x + wide, y + high), (x - wide, y - high)]
        yield from sides
        yield from corners
        yield from ((x, y - high), (x, y + high), *far, (x - wide, y + high))


def along(
    free: Free, track: Track, lines: Sequence[tuple[str, Style]], form: SheetFormat
) -> list[h.Element]:
    """Set lines of text beside a pipe.

    Parameters
    ----------
    free : Free
        Where they may stand; their place is taken from it.
    track : Track
        The pipe.
    lines : sequence of (str, Style)
        What to set.
    form : SheetFormat
        Sizes.

    Returns
    -------
    list of htpy elements
        Empty where no place was free.
    """
    width = max(text_width(text, style) for text, style in lines)
    high = len(lines) * pitch(form)
    for box in _beside(track, width, high):
        if free.holds(box):
            free.take(box)
            step = pitch(form)
            return [
                text_line(box.left, middle_baseline(box.top + (i + 0.5) * step, style), text, style)
                for i, (text, style) in enumerate(lines)
            ]
    return []


def _beside(track: Track, width: float, high: float) -> Iterator[Box]:
    pieces = sorted(pairwise(track), key=_length, reverse=True)
    for off in (6.0, 11.0):
        for (x1, y1), (x2, y2) in pieces:
            for share in _SHARES:
                x, y = x1 + share * (x2 - x1), y1 + share * (y2 - y1)
                if abs(x1 - x2) < 0.5:
                    for left in (x + off, x - off - width):
                        yield Box(left, y - 0.5 * high, left + width, y + 0.5 * high)
                else:
                    for top in (y - off - high, y + off):
                        yield Box(x - 0.5 * width, top, x + 0.5 * width, top + high)


def _length(piece: tuple[Point, Point]) -> float:
    return abs(piece[0][0] - piece[1][0]) + abs(piece[0][1] - piece[1][1])
