"""How pipes are drawn: by what their water is, and where it goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import htpy as h
import numpy as np

from noonwater.drawing.ink import AIR, DASH_DOT, FINE, HEAT, HEAVY, SHEET, WATER
from noonwater.drawing.lettering import clean
from noonwater.drawing.pad_route import Point, Track
from noonwater.drawing.pad_water import WARMED, PadWater
from noonwater.drawing.strokes import Box, number, polyline
from noonwater.model.circuit import Pipe

Sort = Literal["water", "warmed", "full", "trapped", "empty"]
"""Pool water that moves, such that has been through the panels, and what stands: told apart by
weight, dash and heads alone, without colour."""

STILL: tuple[Sort, ...] = ("empty", "trapped", "full")


@dataclass(frozen=True)
class Stroke:
    """How a pipe is drawn: colour, weight [drawing units] and dash."""

    colour: str
    weight: float
    dash: str = ""


STROKES: Mapping[Sort, Stroke] = {
    "water": Stroke(WATER, HEAVY),
    "warmed": Stroke(HEAT, 5.0),
    "full": Stroke(WATER, FINE),
    "trapped": Stroke(WATER, FINE, DASH_DOT),
    "empty": Stroke(AIR, FINE, "3 4"),
}
_HEAD = 6.0


def sort_of(pipe: Pipe, water: PadWater) -> Sort:
    """What a pipe's water is in a state."""
    held = water.holds(pipe.name)
    if held != "carries":
        return held
    return "warmed" if water.warmed.get(pipe.name, 0.0) >= WARMED else "water"


def pipe_line(track: Track, sort: Sort, scale: float, name: str = "") -> h.Element:
    """Draw a pipe; warmed water as two lines, so that it reads without colour.

    Parameters
    ----------
    track : Track
        Its corners.
    sort : Sort
        What is in it.
    scale : float
        Of its weight. [-]
    name : str
        Of the pipe, for the app.
    """
    xs, ys = (np.array([point[i] for point in track]) for i in (0, 1))
    stroke = STROKES[sort]
    # Thin lines keep their weight where symbols are small.
    weight = stroke.weight * (1.0 if sort in STILL else scale)
    marks = [polyline(xs, ys, stroke.colour, weight, dash=stroke.dash, name="pipe")]
    if sort == "warmed":
        marks.append(polyline(xs, ys, SHEET, 0.36 * weight, name="core"))
    return h.g({"class": f"run {sort}", "data-part": clean(name) or None})[marks]


def arrow_heads(track: Track, ahead: bool, sort: Sort, scale: float) -> list[h.Element]:
    """Draw where the water goes: a head on the longest straight, and on a second one if long.

    Parameters
    ----------
    track : Track
        The pipe's corners.
    ahead : bool
        Whether it goes from the first to the last.
    sort : Sort
        Still water has no heads.
    scale : float
        Of the head. [-]
    """
    if sort in STILL:
        return []
    points = track if ahead else tuple(reversed(track))
    pieces = sorted(pairwise(points), key=_length, reverse=True)
    long = [piece for piece in pieces if _length(piece) >= 90.0][1:2]
    shown = [piece for piece in pieces[:1] if _length(piece) >= 2.2 * _HEAD * scale]
    return [_head(piece, STROKES[sort].colour, scale) for piece in (*shown, *long)]


def arrow_box(track: Track, scale: float) -> Box:
    """What a head on the longest straight covers."""
    (x1, y1), (x2, y2) = max(pairwise(track), key=_length)
    x, y, reach = 0.5 * (x1 + x2), 0.5 * (y1 + y2), (_HEAD + 1.0) * scale
    return Box(x - reach, y - reach, x + reach, y + reach)


def _head(piece: tuple[Point, Point], colour: str, scale: float) -> h.Element:
    (x1, y1), (x2, y2) = piece
    length = max(_length(piece), 1e-6)
    dx, dy = (x2 - x1) / length, (y2 - y1) / length
    size = min(_HEAD * scale, 0.45 * length)
    x, y = 0.5 * (x1 + x2) + 0.8 * size * dx, 0.5 * (y1 + y2) + 0.8 * size * dy
    corners: Sequence[Point] = (
        (x, y),
        (x - 1.7 * size * dx - 0.9 * size * dy, y - 1.7 * size * dy + 0.9 * size * dx),
        (x - 1.7 * size * dx + 0.9 * size * dy, y - 1.7 * size * dy - 0.9 * size * dx),
    )
    places = " ".join(f"{number(px)},{number(py)}" for px, py in corners)
    return h.polygon(class_="arrow", points=places, fill=colour, stroke=SHEET, stroke_width="0.8")


def _length(piece: tuple[Point, Point]) -> float:
    return abs(piece[0][0] - piece[1][0]) + abs(piece[0][1] - piece[1][1])
