"""Scales, month rules and the season's dimension line, as they are drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import htpy as h

from noonwater.core.units import System
from noonwater.drawing.calendar import MONTH_NAMES, Season, Span, day_name, month_spans
from noonwater.drawing.ink import CLOSED, FINE, GRID, HAIR, INK, NOTE, RULE
from noonwater.drawing.lettering import Style, middle_baseline, text_line, text_width
from noonwater.drawing.scales import Scale
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box, line, rectangle


def value_axis(
    values: Sequence[float], texts: Sequence[str], scale: Scale, plot: Box, form: SheetFormat
) -> h.Element:
    """Draw a rule across the plot at each value and its figure to the left.

    Parameters
    ----------
    values : sequence of float
        [the scale's unit]
    texts : sequence of str
        What stands beside them.
    scale : Scale
        Up the sheet.
    plot : Box
        What the rules cross.
    form : SheetFormat
        Sizes.
    """
    style = Style(form.note, anchor="end")
    marks: list[h.Element] = []
    for value, text in zip(values, texts, strict=True):
        y = scale.at(value)
        marks.append(line(plot.left, y, plot.right, y, GRID, HAIR))
        marks.append(text_line(plot.left - 0.5 * form.note, middle_baseline(y, style), text, style))
    return h.g(class_="value-axis")[marks]


def month_rules(along: Scale, plot: Box) -> h.Element:
    """Draw a fine rule at the start of each month but the first."""
    starts = (along.at(span.start) for span in month_spans()[1:])
    return h.g(class_="month-rules")[
        (line(x, plot.top, x, plot.bottom, GRID, HAIR) for x in starts)
    ]


def month_strip(along: Scale, strip: Box, form: SheetFormat) -> h.Element:
    """Draw the months' names, ruled like a schedule."""
    style = Style(form.note, anchor="middle")
    baseline = middle_baseline(strip.middle, style)
    marks: list[h.Element] = [
        line(strip.left, strip.top, strip.right, strip.top, INK, FINE),
        line(strip.left, strip.bottom, strip.right, strip.bottom, INK, FINE),
    ]
    for span, name in zip(month_spans(), MONTH_NAMES, strict=True):
        left, right = along.at(span.start), along.at(span.end)
        marks.append(text_line(0.5 * (left + right), baseline, name, style))
        if span.start:
            marks.append(line(left, strip.top, left, strip.bottom, RULE, HAIR))
    return h.g(class_="months")[marks]


def closed_ground(season: Season, along: Scale, plot: Box) -> h.Element:
    """Tint the part of the year in which the pool is closed."""
    return h.g(class_="closed")[
        (
            rectangle(
                Box(along.at(span.start), plot.top, along.at(span.end), plot.bottom), fill=CLOSED
            )
            for span in season.closed_spans
        )
    ]


def season_strip(
    season: Season, along: Scale, strip: Box, system: System, form: SheetFormat
) -> h.Element:
    """Draw the season as a dimension line, with the days it opens and closes.

    Parameters
    ----------
    season : Season
        When the pool is open.
    along : Scale
        Days along the sheet.
    strip : Box
        Where.
    system : {"US", "SI"}
        Order of day and month.
    form : SheetFormat
        Sizes.
    """
    marks: list[h.Element] = []
    spans = season.open_spans
    style = Style(form.note, anchor="middle")
    text, placed = _season_name(season, along, system, style)
    for span in spans:
        left, right = along.at(span.start), along.at(span.end)
        gap = 0.5 * (text_width(text, style) + 0.4 * style.size) if span == placed else 0.0
        marks += _dimension_line(left, right, gap, strip.middle)
        # A season that runs over the year's end has no end there.
        ends = [left] if span.start or len(spans) == 1 else []
        ends += [right] if span.end < along.high or len(spans) == 1 else []
        marks += [mark for x in ends for mark in _dimension_end(x, strip, form)]
    longest = max(spans, key=lambda span: span.days)
    if placed is None:
        marks.append(_beside(text, longest, along, strip, style))
    else:
        marks.append(_on_line(text, placed, along, strip, style))
        marks += _closed_names(season, along, strip, Style(form.note, NOTE, anchor="middle"))
    return h.g(class_="season")[marks]


def _dimension_line(left: float, right: float, gap: float, y: float) -> list[h.Element]:
    """Draw from end to end, open where the text stands."""
    centre = 0.5 * (left + right)
    pieces = [(left, centre - gap), (centre + gap, right)] if gap else [(left, right)]
    return [line(start, y, end, y, INK, FINE) for start, end in pieces]


def _dimension_end(x: float, strip: Box, form: SheetFormat) -> list[h.Element]:
    reach = 0.4 * form.note
    y = strip.middle
    return [
        line(x, strip.top + 2.0, x, strip.bottom, INK, HAIR),
        line(x - reach, y + reach, x + reach, y - reach, INK, 1.5 * FINE),
    ]


def _season_name(
    season: Season, along: Scale, system: System, style: Style
) -> tuple[str, Span | None]:
    """Words, and the span that holds them; None where they stand beside it."""
    first, last = day_name(season.opens, system), day_name(season.closes, system)
    texts = [f"open {first} to {last}", f"{first} to {last}"]
    texts = [f"open {first} only"] if season.length == 1 else texts
    texts = ["open all year"] if season.length == along.high else texts
    longest = max(season.open_spans, key=lambda span: span.days)
    found = _text_in(texts, longest, along, style)
    return (texts[0], None) if found is None else (found, longest)


def _closed_names(season: Season, along: Scale, strip: Box, style: Style) -> list[h.Element]:
    return [
        _on_line("closed", span, along, strip, style)
        for span in season.closed_spans
        if _text_in(["closed"], span, along, style)
    ]


def _text_in(texts: Sequence[str], span: Span, along: Scale, style: Style) -> str | None:
    room = along.at(span.end) - along.at(span.start) - 3.0 * style.size
    return next((text for text in texts if text_width(text, style) <= room), None)


def _on_line(text: str, span: Span, along: Scale, strip: Box, style: Style) -> h.Element:
    centre = along.at(0.5 * (span.start + span.end))
    return text_line(centre, middle_baseline(strip.middle, style), text, style)


def _beside(text: str, span: Span, along: Scale, strip: Box, style: Style) -> h.Element:
    """Set the name where the wider part of the strip is."""
    baseline = middle_baseline(strip.middle, style)
    if span.start + span.end < along.high:
        after = replace(style, anchor="start")
        return text_line(along.at(span.end) + style.size, baseline, text, after)
    before = replace(style, anchor="end")
    return text_line(along.at(span.start) - style.size, baseline, text, before)
