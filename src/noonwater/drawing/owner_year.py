"""The pool's year for its owner: months as most years have them, with solar and without."""

from __future__ import annotations

from dataclasses import dataclass, replace

import htpy as h
import numpy as np

from noonwater.core.units import System, in_system
from noonwater.drawing import ink
from noonwater.drawing.axes import closed_ground, month_rules, value_axis
from noonwater.drawing.calendar import DAYS, Season, month_spans
from noonwater.drawing.inset import NOTE, WIDTH, inset
from noonwater.drawing.lettering import Style, clean, middle_baseline, text_line, text_width
from noonwater.drawing.scales import Scale, digits, temperature_ticks
from noonwater.drawing.sheet import DESK
from noonwater.drawing.strokes import Box, Floats, hatch, line, polyline, rectangle

FORM = replace(DESK, note=NOTE, body=NOTE)
HEIGHT = 300.0
KEY = 24.0
STRIP = 20.0
WEEK = 7
MOST_TICKS = 9
LEAST_SPAN = {"SI": 10.0, "US": 18.0}


@dataclass(frozen=True)
class OwnerYearWords:
    """What the drawing says, in the reader's language.

    Attributes
    ----------
    title : str
        For those who hear it.
    with_solar, without_solar, target : str
        Names in the key.
    months : tuple of str
        Twelve short names.
    unit : str
        Of the temperatures.
    """

    title: str
    with_solar: str
    without_solar: str
    target: str
    months: tuple[str, ...]
    unit: str


@dataclass(frozen=True, eq=False)
class OwnerYear:
    """What is drawn, in SI.

    Attributes
    ----------
    ranges : tuple of (float, float)
        Of each month with solar. [°C]
    without : (365,) array
        Daily mean without solar. [°C]
    target : float
        [°C]
    season : Season
        When the pool is open.
    """

    ranges: tuple[tuple[float, float], ...]
    without: Floats
    target: float
    season: Season


def owner_year(year: OwnerYear, words: OwnerYearWords, system: System) -> str:
    """Draw the months with solar as ranges, the unheated pool as a line.

    Parameters
    ----------
    year : OwnerYear
        What is drawn.
    words : OwnerYearWords
        In the reader's language.
    system : {"US", "SI"}
        Units.

    Returns
    -------
    str
        SVG without a frame.
    """
    plot = Box(44.0, KEY, WIDTH - 6.0, HEIGHT - STRIP)
    without = np.array([in_system(float(x), "temperature", system) for x in _weekly(year.without)])
    ranges = [
        (in_system(low, "temperature", system), in_system(high, "temperature", system))
        for low, high in year.ranges
    ]
    target = in_system(year.target, "temperature", system)
    up = _up([*(x for pair in ranges for x in pair), *without, target], plot, system)
    along = Scale(0.0, float(DAYS), plot.left, plot.right)
    xs = along.at(np.arange(DAYS, dtype=np.float64) + 0.5)
    ticks = temperature_ticks(up.low, up.high, MOST_TICKS, 0.0)
    texts = [digits(float(tick), system) for tick in ticks]
    marks: list[h.Node] = [
        closed_ground(year.season, along, plot),
        month_rules(along, plot),
        value_axis(ticks.tolist(), texts, up, plot, FORM),
        text_line(plot.left - 6.0, plot.top - 8.0, words.unit, Style(NOTE, anchor="end")),
        _boxes(ranges, along, up, year.season),
        line(plot.left, up.at(target), plot.right, up.at(target), ink.INK, ink.FINE),
        polyline(xs, up.at(without), ink.WATER, ink.HEAVY, dash=ink.DASH, name="without-solar"),
        _months(words.months, along, Box(plot.left, plot.bottom, plot.right, HEIGHT)),
        _key(words, plot),
    ]
    return inset(Box(0.0, 0.0, WIDTH, HEIGHT + 4.0), words.title, marks)


def _weekly(days: Floats) -> Floats:
    """Mean over a week around each day: an owner counts in weeks."""
    around = np.concatenate([days[-(WEEK // 2) :], days, days[: WEEK // 2]])
    return np.convolve(around, np.full(WEEK, 1.0 / WEEK), mode="valid")


def _up(values: list[float], plot: Box, system: System) -> Scale:
    ticks = temperature_ticks(min(values), max(values), MOST_TICKS, LEAST_SPAN[system])
    return Scale(float(ticks[0]), float(ticks[-1]), plot.bottom, plot.top + 6.0)


def _boxes(ranges: list[tuple[float, float]], along: Scale, up: Scale, season: Season) -> h.Element:
    """A hatched box from low to high over the open days of each month."""
    boxes = [
        Box(
            along.at(max(span.start, part.start)) + 2.0,
            up.at(high) - 1.0,
            along.at(min(span.end, part.end)) - 2.0,
            up.at(low) + 1.0,
        )
        for span, (low, high) in zip(month_spans(), ranges, strict=True)
        for part in season.open_spans
        if min(span.end, part.end) - max(span.start, part.start) > 2
    ]
    return h.g(class_="with-solar")[
        (rectangle(b, fill=ink.HEAT_TINT, colour=ink.HEAT, weight=ink.FINE) for b in boxes),
        hatch(boxes, ink.HEAT, ink.HAIR, 6.0),
    ]


def _months(names: tuple[str, ...], along: Scale, strip: Box) -> h.Element:
    style = Style(NOTE, anchor="middle")
    base = middle_baseline(strip.middle, style)
    return h.g(class_="months")[
        line(strip.left, strip.top, strip.right, strip.top, ink.INK, ink.FINE),
        (
            text_line(along.at(0.5 * (span.start + span.end)), base, clean(name), style)
            for span, name in zip(month_spans(), names, strict=True)
        ),
    ]


def _key(words: OwnerYearWords, plot: Box) -> h.Element:
    style = Style(NOTE)
    y, x = 10.0, plot.left + 18.0
    marks: list[h.Node] = []
    swatch = Box(x, y - 6.0, x + 22.0, y + 4.0)
    marks += [
        rectangle(swatch, fill=ink.HEAT_TINT, colour=ink.HEAT, weight=ink.FINE),
        hatch([swatch], ink.HEAT, ink.HAIR, 6.0),
    ]
    drawn = (
        (words.with_solar, None),
        (words.without_solar, (ink.WATER, ink.HEAVY, ink.DASH)),
        (words.target, (ink.INK, ink.FINE, "")),
    )
    for text, stroke in drawn:
        if stroke is not None:
            ends = (np.array([x, x + 22.0]), np.array([y - 1.0, y - 1.0]))
            marks.append(polyline(*ends, stroke[0], stroke[1], dash=stroke[2]))
        marks.append(text_line(x + 28.0, y + 3.0, clean(text), style))
        x += 28.0 + text_width(text, style) + 14.0
    return h.g(class_="key")[marks]
