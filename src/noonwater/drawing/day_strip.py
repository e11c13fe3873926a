"""The pump's day as a strip of 24 hours: a bar a period, its ends to be drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import htpy as h

from noonwater.drawing import ink
from noonwater.drawing.inset import inset
from noonwater.drawing.lettering import Style, clean, text_line, text_width
from noonwater.drawing.strokes import Box, hatch, line, number, rectangle

DAY = 24 * 60
GRIP = 44.0
"""[drawing units] Width and height of what a finger takes hold of; a unit is a CSS pixel or more.

Starts are held above and stops below, so that the ends of a short period, and of two that meet, do
not lie over each other.
"""
FLAG = 10.0
"""[drawing units] Of the mark that shows where an end is held."""
TOP, SUN, FOOT = 22.0, 8.0, 88.0
"""[drawing units] Top of the bars, height of the line that marks solar above, foot of the bars."""
LETTERS = 12.5
FILLS = {"filter": ink.WATER_TINT, "clean": ink.WATER_TINT, "spa": ink.HEAT_TINT}
HATCHES = {"clean": ink.WATER, "spa": ink.HEAT}
"""Colour never tells alone: a filter's bar is plain, the others are hatched."""


@dataclass(frozen=True)
class StripForm:
    """Room for the strip.

    Attributes
    ----------
    width : float
        [drawing units]
    hours : int
        Between two figures of the scale.
    key : str
        Begins the ids.
    margin : float
        Left and right of the day. [drawing units]
    """

    width: float
    hours: int
    key: str
    margin: float


SCREEN = StripForm(1180.0, 2, "wide", 20.0)
PHONE = StripForm(390.0, 6, "narrow", 14.0)


@dataclass(frozen=True)
class DayBar:
    """A period of the program.

    Attributes
    ----------
    index : int
        In the program, from 0.
    start, stop : int
        After midnight; a stop before the start is on the next day. [min]
    words : str
        Its speed or flow.
    purpose : str
        "filter", "clean" or "spa".
    solar : bool
        Whether water may go to the roof.
    start_reach, stop_reach : (int, int)
        How far each end can be moved. [min]
    """

    index: int
    start: int
    stop: int
    words: str
    purpose: str
    solar: bool
    start_reach: tuple[int, int]
    stop_reach: tuple[int, int]

    @property
    def spans(self) -> tuple[tuple[int, int], ...]:
        """Stretches of the day that it takes, two where it runs over midnight. [min]."""
        if self.stop > self.start:
            return ((self.start, self.stop),)
        return ((self.start, DAY), (0, self.stop))


@dataclass(frozen=True)
class Along:
    """Minutes of the day along the strip."""

    left: float
    minute: float

    def at(self, minutes: float) -> float:
        """Place of a time. [drawing units]."""
        return self.left + self.minute * minutes


def day_strip(bars: Sequence[DayBar], form: StripForm) -> str:
    """Draw the program of a day.

    Parameters
    ----------
    bars : sequence of DayBar
        The periods.
    form : StripForm
        Room for it.

    Returns
    -------
    str
        SVG with an end of each bar to be focused and drawn.
    """
    along = Along(form.margin, (form.width - 2.0 * form.margin) / DAY)
    marks = [
        _scale(along, form),
        h.g({"data-left": f"{along.left:.4g}", "data-minute": f"{along.minute:.6g}"}, class_="day")[
            [_bar(bar, along) for bar in bars],
            _ends(bars, along, form),
        ],
        _key(bars, form),
    ]
    whole = Box(0.0, 0.0, form.width, FOOT + 48.0)
    return inset(whole, "The pump’s day, midnight to midnight", marks, role="group")


def clock(minutes: int) -> str:
    """Write minutes after midnight as a time of day."""
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _scale(along: Along, form: StripForm) -> h.Element:
    style = Style(LETTERS, ink.NOTE, anchor="middle")
    marks: list[h.Element] = []
    for hour in range(25):
        x, told = along.at(60.0 * hour), hour % form.hours == 0
        marks.append(line(x, TOP - SUN, x, FOOT + (6.0 if told else 0.0), ink.GRID, ink.THIN))
        if told:
            marks.append(text_line(x, FOOT + 18.0, f"{hour}", style))
    marks.append(line(along.at(0), FOOT, along.at(DAY), FOOT, ink.INK, ink.MEDIUM))
    return h.g(class_="scale")[marks]


def _bar(bar: DayBar, along: Along) -> h.Element:
    marks: list[h.Element] = []
    for first, last in bar.spans:
        box = Box(along.at(first), TOP, along.at(last), FOOT)
        marks.append(rectangle(box, fill=FILLS[bar.purpose]))
        if bar.purpose in HATCHES:
            marks.append(hatch([box], HATCHES[bar.purpose], ink.HAIR, 9.0))
        marks.append(rectangle(box, colour=ink.WATER, weight=ink.FINE, name="period"))
        if bar.solar:
            sun = Box(box.left, TOP - SUN, box.right, TOP)
            marks.append(rectangle(sun, fill=ink.HEAT, name="solar"))
    return h.g(class_="bar")[marks, _bar_words(bar, along)]


def _bar_words(bar: DayBar, along: Along) -> list[h.Element]:
    first, last = max(bar.spans, key=lambda span: span[1] - span[0])
    room, middle = along.minute * (last - first) - 12.0, along.at(0.5 * (first + last))
    bold, plain = (Style(LETTERS, bold=b, anchor="middle", halo=True) for b in (True, False))
    times = f"{clock(bar.start)} to {clock(bar.stop)}"
    short = [bar.purpose, bar.words]
    lines = [(times, bold), (f"{bar.purpose}, {bar.words}", plain)]
    if max(text_width(text, style) for text, style in lines) > room:
        lines = [(text, plain) for text in short]
    y = 0.5 * (TOP + FOOT) - 3.0
    return [
        text_line(middle, y + 16.0 * n, clean(text), style)
        for n, (text, style) in enumerate(lines)
        if text_width(text, style) <= room
    ]


def _ends(bars: Sequence[DayBar], along: Along, form: StripForm) -> list[h.Element]:
    marks: list[h.Element] = []
    for end in ("start", "stop"):
        places = [along.at(bar.start if end == "start" else bar.stop) for bar in bars]
        for bar, x in zip(bars, places, strict=True):
            apart = min((abs(x - other) for other in places if other != x), default=GRIP)
            half = 0.5 * min(GRIP, apart)
            middle = 0.5 * (TOP - SUN + FOOT)
            top = middle - GRIP if end == "start" else middle
            marks.append(_end(bar, end, Box(x - half, top, x + half, top + GRIP), form))
    return marks


def _end(bar: DayBar, end: str, grip: Box, form: StripForm) -> h.Element:
    minutes, reach = (bar.start, bar.start_reach) if end == "start" else (bar.stop, bar.stop_reach)
    x = 0.5 * (grip.left + grip.right)
    return h.g(
        {
            "aria-label": f"{end.capitalize()} of period {bar.index + 1}",
            "aria-valuenow": str(minutes),
            "aria-valuemin": str(reach[0]),
            "aria-valuemax": str(reach[1]),
            "aria-valuetext": clock(minutes),
            "data-period": str(bar.index),
            "data-end": end,
        },
        id=f"{end}-{form.key}-{bar.index}",
        class_="end",
        tabindex="0",
        role="slider",
    )[
        h.rect(
            class_="hold",
            x=number(grip.left),
            y=number(grip.top),
            width=number(grip.width),
            height=number(grip.height),
            fill="none",
            pointer_events="all",
        ),
        line(x, TOP - SUN, x, FOOT + 4.0, ink.INK, ink.HEAVY),
        _flag(x, end),
    ]


def _flag(x: float, end: str) -> h.Element:
    """A small flag into the period, above at its start and below at its stop."""
    up, over = (1.0, 1.0) if end == "start" else (-1.0, -1.0)
    y = TOP - SUN if end == "start" else FOOT + 4.0
    steps = f"l{number(over * FLAG)},0l{number(-over * FLAG)},{number(up * FLAG)}z"
    return h.path(d=f"M{number(x)},{number(y)}{steps}", fill=ink.INK)


def _key(bars: Sequence[DayBar], form: StripForm) -> h.Element:
    """What the marks are, as far as they occur."""
    style = Style(LETTERS, ink.NOTE)
    x, y = 20.0, FOOT + 40.0
    marks: list[h.Element] = []
    shown = list(dict.fromkeys(bar.purpose for bar in bars))
    words = [*shown, *(["solar allowed"] if any(bar.solar for bar in bars) else [])]
    for word in words:
        box = Box(x, y - 10.0, x + 16.0, y)
        if word in FILLS:
            marks.append(rectangle(box, fill=FILLS[word], colour=ink.WATER, weight=ink.FINE))
            if word in HATCHES:
                marks.append(hatch([box], HATCHES[word], ink.HAIR, 5.0))
        else:
            marks.append(rectangle(Box(x, y - 8.0, x + 16.0, y - 2.0), fill=ink.HEAT))
        marks.append(text_line(x + 22.0, y, word, style))
        x += 40.0 + text_width(word, style)
    return h.g(class_="key")[marks]
