"""Curves over a whole number: the scale below, a key of lines, marks that run up the plots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import htpy as h
import numpy as np

from noonwater.drawing.ink import FINE, GRID, HAIR, INK, NOTE
from noonwater.drawing.lettering import (
    Anchor,
    Style,
    line_pitch,
    lines_that_fit,
    middle_baseline,
    text_line,
    text_lines,
    text_width,
)
from noonwater.drawing.scales import Scale, amount_ticks
from noonwater.drawing.sheet import DESK, SheetFormat
from noonwater.drawing.strokes import Box, Floats, line, polyline


def scale_width(form: SheetFormat) -> float:
    """Room left of the plots: their figures, heads of the rows below. [drawing units]."""
    return 78.0 if form.width >= DESK.width else 60.0


@dataclass(frozen=True)
class Stroke:
    """How a curve is drawn.

    Attributes
    ----------
    name : str
        What the key says.
    colour, dash : str
        Of the line.
    weight : float
        [drawing units]
    """

    name: str
    colour: str
    dash: str
    weight: float


@dataclass(frozen=True)
class Mark:
    """A place along the scale with its words.

    Attributes
    ----------
    place : float
        On the scale.
    text : str
        What it is.
    colour, dash : str
        Of the line.
    """

    place: float
    text: str
    colour: str
    dash: str


def count_rules(along: Scale, ticks: Sequence[float], plot: Box) -> h.Element:
    """Draw a fine rule up the plot at each figure of the scale."""
    return h.g(class_="count-rules")[
        (line(along.at(tick), plot.top, along.at(tick), plot.bottom, GRID, HAIR) for tick in ticks)
    ]


def count_ticks(most: float, room: int = 15) -> list[float]:
    """Whole figures from zero that fit below a plot, the last within it."""
    ticks = amount_ticks(0.0, most, room)
    return [float(tick) for tick in ticks if tick <= most and float(tick).is_integer()]


def count_strip(
    along: Scale,
    ticks: Sequence[float],
    rows: Sequence[tuple[str, Sequence[str]]],
    strip: Box,
    form: SheetFormat,
) -> h.Element:
    """Draw rows of figures below the plots, each headed on the left.

    Parameters
    ----------
    along : Scale
        Along the sheet.
    ticks : sequence of float
        Places.
    rows : sequence of (str, sequence of str)
        Head, and a text for each place.
    strip : Box
        Where.
    form : SheetFormat
        Sizes.
    """
    style = Style(form.note, anchor="middle")
    head = Style(form.note, NOTE, anchor="end")
    # The first figure reaches left of its place: the head stands clear of the longest of them.
    first = max((text_width(texts[0], style) for _, texts in rows if texts), default=0.0)
    clear = max(1.5, 0.5 * first / form.note + 0.5) * form.note
    pitch = strip.height / max(len(rows), 1)
    marks: list[h.Element] = [line(strip.left, strip.top, strip.right, strip.top, INK, FINE)]
    for number, (name, texts) in enumerate(rows):
        baseline = middle_baseline(strip.top + (number + 0.5) * pitch, style)
        marks.append(text_line(strip.left - clear, baseline, name, head))
        for tick, text in zip(ticks, texts, strict=True):
            marks.append(text_line(along.at(tick), baseline, text, style))
    return h.g(class_="counts")[marks]


def stroke_key(strokes: Sequence[Stroke], box: Box, form: SheetFormat) -> h.Element:
    """Draw a piece of each curve's line and its name, row by row."""
    style = Style(form.note)
    sample, gap, pitch = 3.0 * form.note, 0.5 * form.note, 1.5 * form.note
    x, y = box.left, box.top + 0.75 * form.note
    marks: list[h.Element] = []
    for stroke in strokes:
        width = sample + gap + text_width(stroke.name, style)
        if x > box.left and x + width > box.right:
            x, y = box.left, y + pitch
        ends = np.array([x, x + sample])
        marks.append(
            polyline(ends, np.array([y, y]), stroke.colour, stroke.weight, dash=stroke.dash)
        )
        marks.append(text_line(x + sample + gap, middle_baseline(y, style), stroke.name, style))
        x += width + 2.0 * form.note
    return h.g(class_="key")[marks]


def key_rows(strokes: Sequence[Stroke], width: float, form: SheetFormat) -> int:
    """Count the rows that a key takes."""
    style, rows, x = Style(form.note), 1, 0.0
    for stroke in strokes:
        wide = 3.5 * form.note + text_width(stroke.name, style)
        if x > 0.0 and x + wide > width:
            rows, x = rows + 1, 0.0
        x += wide + 2.0 * form.note
    return rows


def mark_lines(marks: Sequence[Mark], along: Scale, plots: Sequence[Box]) -> h.Element:
    """Draw each mark up through all plots."""
    return h.g(class_="marks")[
        (
            polyline(
                np.array([along.at(mark.place)] * 2),
                np.array([plot.top, plot.bottom]),
                mark.colour,
                FINE,
                dash=mark.dash,
            )
            for mark in marks
            for plot in plots
        )
    ]


def mark_names(marks: Sequence[Mark], along: Scale, strip: Box, form: SheetFormat) -> h.Element:
    """Write each mark's words above the plots, a row each, so that none meet."""
    # The last row stays clear of the rule below it.
    pitch = (strip.height - 0.4 * form.note) / max(len(marks), 1)
    drawn: list[h.Element] = []
    names: list[h.Element] = []
    # From the left down: a lead then never runs through the words of a mark to its right.
    for number, mark in enumerate(sorted(marks, key=lambda mark: mark.place)):
        x, y = along.at(mark.place), strip.top + (number + 0.5) * pitch
        style, at = _name_beside(mark, x, strip, form)
        drawn.append(
            polyline(np.array([x, x]), np.array([y - 0.5 * form.note, strip.bottom]), mark.colour,
                     FINE, dash=mark.dash)
        )  # fmt: skip
        names.append(text_line(at, middle_baseline(y, style), mark.text, style))
    return h.g(class_="mark-names")[drawn, names]


def _name_beside(mark: Mark, x: float, strip: Box, form: SheetFormat) -> tuple[Style, float]:
    """Right of its line where it fits, else left, else wherever the sheet has room."""
    wide, gap = text_width(mark.text, Style(form.note)), 0.4 * form.note
    edge = form.framed.left + gap
    anchor: Anchor = "start"
    if wide + form.note <= strip.right - x:
        at = x + gap
    elif wide + gap <= x - edge:
        anchor, at = "end", x - gap
    else:
        at = max(min(x + gap, form.framed.right - gap - wide), edge)
    return Style(form.note, mark.colour, anchor=anchor, halo=True), at


def curve_line(
    counts: Floats, amounts: Floats, scales: tuple[Scale, Scale], stroke: Stroke, name: str
) -> h.Element:
    """Draw one curve over its counts."""
    along, up = scales
    return polyline(
        along.at(counts), up.at(amounts), stroke.colour, stroke.weight, dash=stroke.dash, name=name
    )


def caption_height(titles: Sequence[str], form: SheetFormat) -> float:
    """Height that the longest of some captions takes. [drawing units]."""
    most = max(len(_caption_lines(title, form, INK)[1]) for title in titles)
    return (2.4 + 1.3 * (most - 1)) * form.note


def panel_caption(head: Box, title: str, form: SheetFormat, colour: str = INK) -> h.Element:
    """Rule off a panel of the sheet and head it with what it shows."""
    framed, (style, lines) = form.framed, _caption_lines(title, form, colour)
    first = head.bottom - 0.7 * form.note - (len(lines) - 1) * line_pitch(style)
    return h.g(class_="caption")[
        line(framed.left, head.top, framed.right, head.top, INK, FINE),
        text_lines(framed.left + 0.7 * form.note, first, lines, style),
    ]


def _caption_lines(title: str, form: SheetFormat, colour: str) -> tuple[Style, tuple[str, ...]]:
    style = Style(form.body, colour, bold=True)
    return style, lines_that_fit(title, form.framed.width - 1.4 * form.note, 3, style)
