"""Bars of the twelve months."""

from __future__ import annotations

import htpy as h
import numpy as np

from noonwater.core.digits import about
from noonwater.core.units import System
from noonwater.drawing.calendar import month_spans
from noonwater.drawing.ink import FINE, HAIR
from noonwater.drawing.lettering import Style, text_line, text_width
from noonwater.drawing.scales import Scale, digits
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box, Floats, hatch, line, rectangle

_INSET = 0.17


def month_boxes(along: Scale, up: Scale, base: Floats, top: Floats) -> tuple[Box, ...]:
    """Rectangles of the months from a base to a top.

    Parameters
    ----------
    along, up : Scale
        Days along the sheet, amounts up the sheet.
    base, top : (12,) array
        [unit of ``up``]
    """
    boxes = []
    for span, low, high in zip(month_spans(), base, top, strict=True):
        inset = _INSET * (along.at(span.end) - along.at(span.start))
        ends = sorted((float(up.at(low)), float(up.at(high))))
        left, right = along.at(span.start) + inset, along.at(span.end) - inset
        boxes.append(Box(left, ends[0], right, ends[1]))
    return tuple(boxes)


def hatched_bars(
    boxes: tuple[Box, ...], colour: str, ground: str, spacing: float, name: str
) -> h.Element:
    """Draw bars by their outline and hatch."""
    return h.g(class_=name)[
        (rectangle(box, fill=ground, colour=colour, weight=FINE, name="bar") for box in boxes),
        hatch(boxes, colour, HAIR, spacing),
    ]


def solid_bars(boxes: tuple[Box, ...], colour: str, name: str) -> h.Element:
    """Draw filled bars."""
    return h.g(class_=name)[(rectangle(box, fill=colour, name="bar") for box in boxes)]


def zero_line(up: Scale, plot: Box, colour: str) -> h.Element:
    """Draw the line that the bars stand on."""
    return line(plot.left, up.at(0.0), plot.right, up.at(0.0), colour, FINE)


def bar_figures(
    amounts: Floats, along: Scale, up: Scale, system: System, form: SheetFormat
) -> h.Element:
    """Write each month's amount over its bar, or only the largest where they would not all fit.

    Parameters
    ----------
    amounts : (12,) array
        [unit of ``up``]
    along, up : Scale
        Days along the sheet, amounts up the sheet.
    system : {"US", "SI"}
        How thousands are set apart.
    form : SheetFormat
        Sizes.
    """
    style = Style(form.note, anchor="middle")
    most = float(np.abs(amounts).max())
    places = 1 if 0.0 < most < 100.0 else 0
    texts = [digits(about(float(amount)), system, places) for amount in amounts]
    column = along.at(28.0) - along.at(0.0)
    fit = all(text_width(text, style) <= column - 2.0 for text in texts)
    shown = range(12) if fit else [int(amounts.argmax())]
    marks = []
    for month in shown:
        span = month_spans()[month]
        centre = _kept_inside(along.at(0.5 * (span.start + span.end)), texts[month], along, style)
        top = float(up.at(max(amounts[month], 0.0)))
        marks.append(text_line(centre, top - 0.35 * form.note, texts[month], style))
    return h.g(class_="figures")[marks]


def _kept_inside(centre: float, text: str, along: Scale, style: Style) -> float:
    half = 0.5 * text_width(text, style)
    return min(max(centre, along.start + half), along.end - half)
