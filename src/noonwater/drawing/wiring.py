"""What is wired to what: supply, controller, pump, actuators and sensors, in one simple diagram.

Symbols in the manner of IEC 60617 (from memory): contact of a breaker and of a switch, motor,
resistor that depends on temperature, earth.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import htpy as h

from noonwater.drawing import ink
from noonwater.drawing.inset import NOTE, WIDTH, inset
from noonwater.drawing.lettering import (
    Style,
    clean,
    line_pitch,
    lines_that_fit,
    middle_baseline,
    text_line,
    text_lines,
)
from noonwater.drawing.strokes import Box, line, rectangle
from noonwater.drawing.symbols import Point, circle, stroke

DeviceKind = Literal["motor", "sensor"]

SPLIT = 356.0
"""[drawing units] Line voltage stands left of it, low voltage right."""
MAINS = 70.0
BOX_LEFT, BOX_RIGHT = 268.0, 444.0
TOP, HEAD, ROW, FOOT = 60.0, 26.0, 58.0, 40.0
SYMBOL = 500.0
LEAST_ROWS = 4


@dataclass(frozen=True)
class Device:
    """Something on low voltage.

    Attributes
    ----------
    kind : {"motor", "sensor"}
        An actuator's motor, or a thermistor.
    name, note : str
        Beside it, and smaller below: where it sits, its cable.
    """

    kind: DeviceKind
    name: str
    note: str


@dataclass(frozen=True)
class WiringWords:
    """What the diagram says, in the reader's language.

    Attributes
    ----------
    title : str
        For those who hear it.
    mains, low : str
        Heads of the two halves.
    breaker, disconnect, controller, pump, bonding : str
        Names.
    command : str
        At the line from controller to pump: what goes over it.
    nothing : str
        Stands in the right half where there are no devices.
    """

    title: str
    mains: str
    low: str
    breaker: str
    disconnect: str
    controller: str
    pump: str
    bonding: str
    command: str
    nothing: str


def wiring(devices: Sequence[Device], words: WiringWords, *, switched: bool) -> str:
    """Draw the diagram.

    Parameters
    ----------
    devices : sequence of Device
        On low voltage, from top to bottom.
    words : WiringWords
        In the reader's language.
    switched : bool
        Whether the controller's own contact carries the pump's current; else the pump has its
        line and takes a command.

    Returns
    -------
    str
        SVG without a frame.
    """
    rows = max(len(devices), LEAST_ROWS)
    foot = TOP + rows * ROW + 8.0
    body = Box(BOX_LEFT, TOP, BOX_RIGHT, foot)
    pump = (MAINS, foot - 40.0)
    marks: list[h.Node] = [
        _halves(words, foot),
        _supply(words, pump, switched),
        _controller(words.controller, body),
        _pump_lines(words, pump, body, switched),
        _pump(words, pump, foot),
        *(_device(each, TOP + (i + 0.5) * ROW, body) for i, each in enumerate(devices)),
    ]
    if not devices:
        marks.append(_lines(words.nothing, BOX_RIGHT + 20.0, TOP + 40.0, WIDTH, Style(NOTE)))
    return inset(Box(0.0, 0.0, WIDTH, foot + FOOT), words.title, marks)


def _halves(words: WiringWords, foot: float) -> h.Element:
    left, right = Style(NOTE, ink.HEAT, bold=True), Style(NOTE, ink.WATER, bold=True)
    parts = [(0.0, TOP - 8.0), (foot + 4.0, foot + FOOT)]
    border = [stroke([(SPLIT, top), (SPLIT, bottom)], dash=ink.DASH) for top, bottom in parts]
    return h.g(class_="halves")[
        border,
        _lines(words.mains, 4.0, 16.0, SPLIT - 12.0, left),
        _lines(words.low, SPLIT + 12.0, 16.0, WIDTH, right),
    ]


def _supply(words: WiringWords, pump: Point, switched: bool) -> h.Element:
    """From the panel through breaker and disconnect to the controller, and on to the pump."""
    breaker, disconnect, feed = TOP + 14.0, TOP + 78.0, TOP + 116.0
    stop = feed if switched else pump[1] - 22.0
    x = MAINS
    return h.g(class_="mains")[
        _mains([(x, TOP - 14.0), (x, breaker - 12.0)]),
        *_contact(x, breaker, cross=True),
        _mains([(x, breaker + 12.0), (x, disconnect - 12.0)]),
        *_contact(x, disconnect, cross=False),
        _mains([(x, disconnect + 12.0), (x, stop)]),
        _mains([(x, feed), (BOX_LEFT, feed)]),
        _lines(words.breaker, x + 18.0, breaker + 4.0, BOX_LEFT - 8.0, Style(NOTE)),
        _lines(words.disconnect, x + 18.0, disconnect + 4.0, BOX_LEFT - 8.0, Style(NOTE)),
    ]


def _controller(name: str, body: Box) -> h.Element:
    style = Style(1.1 * NOTE, ink.INK, bold=True, anchor="middle")
    lines = lines_that_fit(clean(name), body.width - 16.0, 3, style)
    x, first = 0.5 * (body.left + body.right), body.top + 22.0
    return h.g(class_="controller")[
        rectangle(body, fill=ink.SHEET, colour=ink.INK, weight=ink.MEDIUM),
        stroke([(SPLIT, first + 3 * line_pitch(style)), (SPLIT, body.bottom)], dash="3 3"),
        text_lines(x, first, lines, style),
    ]


def _pump_lines(words: WiringWords, pump: Point, body: Box, switched: bool) -> h.Element:
    y = pump[1]
    ends = [(body.left, y), (pump[0] + 22.0, y)]
    marks: list[h.Node] = []
    if switched:
        inside = body.left + 46.0
        marks += [
            _mains(ends),
            *_contact_across(inside, y),
            _mains([(body.left, y), (inside - 12.0, y)]),
        ]
    else:
        marks.append(stroke(ends, weight=ink.FINE, dash="6 3"))
    style = Style(NOTE, ink.NOTE)
    lines = lines_that_fit(clean(words.command), body.left - pump[0] - 34.0, 3, style)
    base = y - 6.0 - (len(lines) - 1) * line_pitch(style)
    return h.g(class_="command")[marks, text_lines(pump[0] + 30.0, base, lines, style)]


def _pump(words: WiringWords, pump: Point, foot: float) -> h.Element:
    x, y = pump
    name = Style(NOTE, ink.INK, bold=True)
    return h.g(class_="pump")[
        stroke([(x, y + 20.0), (x, foot + 6.0)], dash="8 3 2 3"),
        *_earth(x, foot + 6.0),
        *_motor(x, y, 20.0),
        text_line(x + 24.0, y + 16.0, clean(words.pump), name),
        _lines(words.bonding, x + 18.0, foot + 10.0, BOX_LEFT - 6.0, Style(NOTE, ink.NOTE)),
    ]


def _device(device: Device, y: float, body: Box) -> h.Element:
    style, note = Style(NOTE, ink.INK, bold=True), Style(NOTE, ink.NOTE)
    symbol = _motor(SYMBOL, y, 15.0) if device.kind == "motor" else _thermistor(SYMBOL, y)
    reach = 15.0 if device.kind == "motor" else 17.0
    x = SYMBOL + 26.0
    names = lines_that_fit(clean(device.name), WIDTH - x - 2.0, 2, style)
    notes = lines_that_fit(clean(device.note), WIDTH - x - 2.0, 2, note)
    step = line_pitch(style)
    first = y - 0.5 * (len(names) + len(notes) - 1) * step + 0.36 * NOTE
    return h.g(class_="device")[
        line(body.right, y - 3.0, SYMBOL - reach, y - 3.0, ink.INK, ink.THIN),
        line(body.right, y + 3.0, SYMBOL - reach, y + 3.0, ink.INK, ink.THIN),
        symbol,
        text_lines(x, first, names, style),
        text_lines(x, first + len(names) * step, notes, note),
    ]


def _mains(points: Sequence[Point]) -> h.Element:
    return stroke(points, weight=ink.HEAVY)


def _contact(x: float, y: float, *, cross: bool) -> list[h.Element]:
    """A contact that stands open in a line downwards; crossed, it is a breaker's."""
    marks = [stroke([(x, y + 12.0), (x - 10.0, y - 12.0)], weight=ink.MEDIUM)]
    if cross:
        ends = (((-4.0, -16.0), (4.0, -8.0)), ((4.0, -16.0), (-4.0, -8.0)))
        marks += [
            stroke([(x + a, y + b), (x + c, y + d)], weight=ink.MEDIUM) for (a, b), (c, d) in ends
        ]
    return marks


def _contact_across(x: float, y: float) -> list[h.Element]:
    return [
        stroke([(x - 12.0, y), (x + 12.0, y - 10.0)], weight=ink.MEDIUM),
        stroke([(x + 12.0, y), (x + 22.0, y), (x + 22.0, y - 34.0)], weight=ink.MEDIUM),
    ]


def _motor(x: float, y: float, radius: float) -> list[h.Element]:
    style = Style(0.9 * radius, ink.INK, bold=True, anchor="middle")
    return [circle(x, y, radius), text_line(x, middle_baseline(y, style), "M", style)]


def _thermistor(x: float, y: float) -> list[h.Element]:
    body = Box(x - 17.0, y - 7.0, x + 17.0, y + 7.0)
    return [
        rectangle(body, fill=ink.SHEET, colour=ink.INK, weight=ink.MEDIUM),
        stroke([(x - 20.0, y + 13.0), (x - 12.0, y + 13.0), (x + 14.0, y - 13.0)]),
        text_line(x - 30.0, y + 20.0, "θ", Style(NOTE)),
    ]


def _earth(x: float, y: float) -> list[h.Element]:
    bars = ((0.0, 11.0), (4.5, 7.0), (9.0, 3.0))
    return [stroke([(x - w, y + d), (x + w, y + d)], weight=ink.MEDIUM) for d, w in bars]


def _lines(text: str, x: float, baseline: float, right: float, style: Style) -> h.Element:
    lines = lines_that_fit(clean(text), right - x, 3, style)
    return h.g[text_lines(x, baseline, lines, style)]
