"""Lines and areas of a drawing, as SVG elements with stable numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from math import ceil

import htpy as h
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
KEPT = 4096
"""Strokes: most of a drawing stays where it is when one figure changes."""


@dataclass(frozen=True)
class Box:
    """A rectangle of the sheet; y grows downwards.

    Attributes
    ----------
    left, top, right, bottom : float
        [drawing units]
    """

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right. [drawing units]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom. [drawing units]."""
        return self.bottom - self.top

    @property
    def middle(self) -> float:
        """Height of its middle. [drawing units]."""
        return 0.5 * (self.top + self.bottom)

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        """Whether two rectangles come nearer than a gap."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )


def number(value: float) -> str:
    """Write a coordinate: a tenth of a unit, no trailing zero, no negative zero."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def path_through(xs: Floats, ys: Floats) -> str:
    """Path data of a line through points.

    Notes
    -----
    Each step is relative, which halves the text. Places are rounded before they are subtracted, so
    the steps add up to the rounded places without drift.
    """
    places = np.rint(10.0 * np.stack([xs, ys], axis=1)).astype(np.int64)
    first, steps = places[0], np.diff(places, axis=0).tolist()
    start = f"M{number(first[0] / 10.0)},{number(first[1] / 10.0)}"
    return start + "l" * bool(steps) + " ".join(f"{_tenths(x)},{_tenths(y)}" for x, y in steps)


def _tenths(count: int) -> str:
    whole, tenth = divmod(abs(count), 10)
    text = f"{whole or ''}.{tenth}" if tenth else str(whole)
    return f"-{text}" if count < 0 else text


@lru_cache(maxsize=KEPT)
def line(x1: float, y1: float, x2: float, y2: float, colour: str, weight: float) -> h.Element:
    """Draw a straight line."""
    return h.line(
        x1=number(x1), y1=number(y1), x2=number(x2), y2=number(y2),
        stroke=colour, stroke_width=f"{weight:.4g}",
    )  # fmt: skip


def polyline(
    xs: Floats, ys: Floats, colour: str, weight: float, *, dash: str = "", name: str = ""
) -> h.Element:
    """Draw a line through points; the name is its class, for tests and for the app."""
    return h.path(
        class_=name or None,
        d=path_through(xs, ys),
        fill="none",
        stroke=colour,
        stroke_width=f"{weight:.4g}",
        stroke_dasharray=dash or None,
        stroke_linejoin="round",
    )


def area_between(
    xs: Floats, upper: Floats, lower: Floats, colour: str, *, name: str = ""
) -> h.Element:
    """Fill the area between two lines over the same places."""
    around = path_through(np.concatenate([xs, xs[::-1]]), np.concatenate([upper, lower[::-1]]))
    return h.path(class_=name or None, d=around + "Z", fill=colour, stroke="none")


@lru_cache(maxsize=KEPT)
def rectangle(
    box: Box, *, fill: str = "none", colour: str = "none", weight: float = 0.0, name: str = ""
) -> h.Element:
    """Draw a rectangle."""
    return h.rect(
        class_=name or None,
        x=number(box.left),
        y=number(box.top),
        width=number(box.width),
        height=number(box.height),
        fill=fill,
        stroke=colour if weight else None,
        stroke_width=f"{weight:.4g}" if weight else None,
    )


def hatch(boxes: Iterable[Box], colour: str, weight: float, spacing: float) -> h.Element:
    """Hatch rectangles with lines rising to the right.

    Parameters
    ----------
    boxes : iterable of Box
        What to fill.
    colour : str
        Of the lines.
    weight, spacing : float
        Of the lines; spacing along the edge. [drawing units]

    Notes
    -----
    The lines are computed, not an SVG pattern: a pattern needs an id, and ids clash where several
    drawings stand in one page.
    """
    parts = [part for box in boxes for part in _hatch_lines(box, spacing)]
    return h.path(d="".join(parts), fill="none", stroke=colour, stroke_width=f"{weight:.4g}")


def _hatch_lines(box: Box, spacing: float) -> Iterable[str]:
    # On a line x + y is the same everywhere; multiples of the spacing make neighbours line up.
    first = ceil((box.left + box.top) / spacing) * spacing
    for total in np.arange(first, box.right + box.bottom, spacing):
        left = max(box.left, total - box.bottom)
        right = min(box.right, total - box.top)
        if right - left > 0.2:
            start = f"M{number(left)},{number(total - left)}"
            yield f"{start}L{number(right)},{number(total - right)}"
