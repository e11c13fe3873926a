"""What of the pad's drawing can be touched: a sheet of clear places over it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import htpy as h

from noonwater.drawing import ink
from noonwater.drawing.pad_diagram import PadDrawing
from noonwater.drawing.strokes import number

FINGER = 23.0
"""[drawing units] Radius of a place; a unit is about a CSS pixel on both sheets."""


@dataclass(frozen=True)
class Touch:
    """A part that can be touched: name, what is said of it, where that leads, whether chosen."""

    name: str
    words: str
    leads_to: str
    chosen: bool


def pad_touch(drawing: PadDrawing, touches: Sequence[Touch]) -> str:
    """Lay clear places over a pad's drawing.

    Parameters
    ----------
    drawing : PadDrawing
        What they lie over.
    touches : sequence of Touch
        Parts; one that is not drawn has no place.

    Returns
    -------
    str
        SVG of the drawing's size.
    """
    places = [_place(touch, drawing) for touch in touches if touch.name in drawing.middles]
    size = f"0 0 {number(drawing.width)} {number(drawing.height)}"
    label = {"viewBox": size, "role": "group", "aria-label": "Parts of the pad"}
    return str(h.svg(label, xmlns="http://www.w3.org/2000/svg", class_="touch")[places])


def _place(touch: Touch, drawing: PadDrawing) -> h.Element:
    x, y = drawing.middles[touch.name]
    return h.a(
        {"aria-label": f"{touch.name}: {touch.words}", "data-ask": ""},
        href=touch.leads_to,
    )[
        h.circle(
            cx=number(x),
            cy=number(y),
            r=number(FINGER),
            fill="none",
            pointer_events="all",
            stroke=ink.HEAT if touch.chosen else "none",
            stroke_width=number(ink.HEAVY),
        )
    ]
