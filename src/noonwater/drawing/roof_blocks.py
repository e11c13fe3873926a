"""The roof as blocks: each plane square to itself, to one scale, with its panels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

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
    text_width,
)
from noonwater.drawing.strokes import Box, line, number, rectangle

BETWEEN = 0.3
"""[m] Room between two banks of a plane, where there is room: ours, for the drawing alone."""
EAVE = 0.5
"""[m] Room below the panels, where there is room: ours, for the drawing alone."""
SMALLEST, FINER = 2.0, 0.97
"""[drawing units/m], [-] The least scale; each that is tried is a little smaller than the last."""
NAME = Style(1.15 * NOTE, bold=True)
MOST_LINES = 4
"""Of a name over its plane."""
HEAD, FOOT, SIDE, GAP = 68.0, 40.0, 46.0, 26.0
"""[drawing units] Above, below and left of each plane, and between two."""


@dataclass(frozen=True)
class RoofForm:
    """Room for the drawing.

    Attributes
    ----------
    width, highest : float
        [drawing units]
    largest : float
        Scale that is tried first. [drawing units/m]
    key : str
        Begins the ids of what can be touched; empty on paper, where nothing can.
    """

    width: float
    highest: float
    largest: float
    key: str = ""


PAPER = RoofForm(WIDTH, 430.0, 34.0)
SCREEN = RoofForm(1180.0, 470.0, 40.0, "wide")
PHONE = RoofForm(360.0, 2400.0, 24.0, "narrow")
GRIP = 44.0
"""[drawing units] Width of what a finger takes hold of at a bank's end; a unit is a CSS pixel."""


@dataclass(frozen=True)
class BankBlock:
    """Panels side by side.

    Attributes
    ----------
    label : str
        Such as "1: 8 panels".
    panels : tuple of (float, float, bool)
        Width and length of each place [m], and whether a panel is there.
    size : str
        Width and length in words.
    index : int
        Of the bank in the job, from 0.
    spoken : str
        What it is, for those who hear the drawing.
    """

    label: str
    panels: tuple[tuple[float, float, bool], ...]
    size: str
    index: int = 0
    spoken: str = ""

    @property
    def width(self) -> float:
        """Along the eave. [m]."""
        return sum(width for width, _, _ in self.panels)

    @property
    def length(self) -> float:
        """Up the slope. [m]."""
        return max((length for _, length, _ in self.panels), default=0.0)


@dataclass(frozen=True)
class PlaneBlock:
    """A roof plane with its banks.

    Attributes
    ----------
    name : str
        Above it.
    notes : tuple of str
        Below the name: pitch and bearing in words.
    width, slope_length : float
        [m]
    width_text, length_text : str
        At its dimension lines.
    bearing : float
        Way that it faces. [°]
    banks : tuple of BankBlock
        From left to right.
    """

    name: str
    notes: tuple[str, ...]
    width: float
    slope_length: float
    width_text: str
    length_text: str
    bearing: float
    banks: tuple[BankBlock, ...]

    @property
    def width_taken(self) -> float:
        """Of all banks side by side. [m]."""
        return sum(bank.width for bank in self.banks)

    @property
    def drawn_width(self) -> float:
        """Of the plane, or of its banks where they are wider. [m]."""
        return max(self.width, self.width_taken)

    @property
    def drawn_length(self) -> float:
        """Of the plane, or of its panels where they are longer. [m]."""
        return max([self.slope_length, *(bank.length for bank in self.banks)])

    @property
    def fits(self) -> bool:
        """Whether the panels lie within the plane."""
        longest = max((bank.length for bank in self.banks), default=0.0)
        return self.width_taken <= self.width + 1e-6 and longest <= self.slope_length + 1e-6


@dataclass(frozen=True)
class RoofWords:
    """What the drawing says besides: its title, "eave", "N"."""

    title: str
    eave: str
    north: str


def roof_blocks(planes: Sequence[PlaneBlock], words: RoofWords, form: RoofForm = PAPER) -> str:
    """Draw roof planes with their panels to one scale.

    Parameters
    ----------
    planes : sequence of PlaneBlock
        To be drawn.
    words : RoofWords
        In the reader's language.
    form : RoofForm
        Room for it; a paper's unless another is given.

    Returns
    -------
    str
        SVG; each plane as one sees it square to it, the eave below. Banks are centred on the
        plane: where they lie is the roof plan's business.
    """
    scale = form.largest
    rows = _rows(planes, scale, form.width)
    while scale > SMALLEST and (not rows or _height(rows, scale, form.width) > form.highest):
        scale *= FINER
        rows = _rows(planes, scale, form.width)
    rows = rows or [[plane] for plane in planes]
    marks: list[h.Node] = []
    tops = accumulate((_row_height(row, scale, form.width) for row in rows), initial=0.0)
    for row, top in zip(rows, tops, strict=False):
        lefts = accumulate((_cell_width(plane, scale, form.width) for plane in row), initial=0.0)
        bottom = top + _row_height(row, scale, form.width)
        for plane, left in zip(row, lefts, strict=False):
            marks.append(_plane(plane, scale, (left, bottom), words, form))
    whole = Box(0.0, 0.0, form.width, _height(rows, scale, form.width))
    return inset(whole, words.title, marks, role="group" if form.key else "img")


def _rows(planes: Sequence[PlaneBlock], scale: float, room: float) -> list[list[PlaneBlock]]:
    """Planes that stand side by side; none where one is too wide by itself."""
    rows: list[list[PlaneBlock]] = []
    used = room
    for plane in planes:
        width = _cell_width(plane, scale, room)
        if width > room:
            return []
        if used + width > room:
            rows.append([])
            used = 0.0
        rows[-1].append(plane)
        used += width
    return rows


def _cell_width(plane: PlaneBlock, scale: float, room: float) -> float:
    drawn = scale * plane.drawn_width
    notes = max(text_width(clean(note), Style(NOTE)) for note in plane.notes)
    return SIDE + max(drawn, min(notes, room - SIDE - GAP)) + GAP


def _name_lines(plane: PlaneBlock, scale: float, room: float) -> tuple[str, ...]:
    """Name over its plane, in as many lines as keep it off the next plane and on the sheet."""
    width = _cell_width(plane, scale, room) - SIDE - 0.5 * GAP
    return lines_that_fit(clean(plane.name), width, MOST_LINES, NAME)


def _head(plane: PlaneBlock, scale: float, room: float) -> float:
    """Of the words over a plane. [drawing units]."""
    more = len(_name_lines(plane, scale, room)) - 1
    return HEAD + 14.0 * (len(plane.notes) - 2) + more * line_pitch(NAME)


def _row_height(row: Sequence[PlaneBlock], scale: float, room: float) -> float:
    return max(_head(plane, scale, room) + scale * plane.drawn_length for plane in row) + FOOT


def _height(rows: Sequence[Sequence[PlaneBlock]], scale: float, room: float) -> float:
    return sum(_row_height(row, scale, room) for row in rows)


def _plane(
    plane: PlaneBlock, scale: float, corner: tuple[float, float], words: RoofWords, form: RoofForm
) -> h.Element:
    left, bottom = corner
    eave = bottom - FOOT
    edge = Box(
        left + SIDE,
        eave - scale * plane.slope_length,
        left + SIDE + scale * plane.width,
        eave,
    )
    top = eave - scale * plane.drawn_length - 14.0 * (len(plane.notes) - 2)
    notes, key = Style(NOTE, ink.NOTE), form.key
    name = _name_lines(plane, scale, form.width)
    first = top - 43.0 - (len(name) - 1) * line_pitch(NAME)
    return h.g(class_="plane", data_plane=plane.name if key else None)[
        text_lines(edge.left, first, name, NAME),
        text_lines(edge.left, top - 26.0, [clean(note) for note in plane.notes], notes),
        _north(edge.left - 21.0, top - 32.0, plane.bearing, words.north),
        rectangle(edge, colour=ink.INK, weight=ink.MEDIUM, name="edge"),
        _across(edge, plane.width_text, words.eave),
        _up(edge, plane.length_text),
        *_banks(plane, scale, edge, key),
    ]


def _banks(plane: PlaneBlock, scale: float, edge: Box, key: str) -> list[h.Element]:
    spare = plane.width - plane.width_taken
    between = min(BETWEEN, max(spare, 0.0) / (len(plane.banks) + 1))
    taken = plane.width_taken + between * (len(plane.banks) - 1)
    x = edge.left + scale * max(0.5 * (plane.width - taken), 0.0)
    colour = ink.WATER if plane.fits else ink.HEAT
    marks: list[h.Element] = []
    for bank in plane.banks:
        room = 0.5 * max(plane.slope_length - bank.length, 0.0)
        foot = edge.bottom - scale * min(EAVE, room)
        marks.append(_bank(bank, scale, (x, foot), colour, key))
        x += scale * (bank.width + between)
    return marks


def _bank(
    bank: BankBlock, scale: float, corner: tuple[float, float], colour: str, key: str
) -> h.Element:
    left, foot = corner
    marks: list[h.Element] = []
    x = left
    for width, length, there in bank.panels:
        box = Box(x, foot - scale * length, x + scale * width, foot)
        fill = ink.WATER_TINT if there else "none"
        marks.append(rectangle(box, fill=fill, colour=colour, weight=ink.THIN, name="panel"))
        x += scale * width
    middle, half = 0.5 * (left + x), foot - 0.5 * scale * bank.length
    style = Style(NOTE, ink.INK, bold=True, anchor="middle", halo=True)
    small = Style(NOTE, ink.INK, anchor="middle", halo=True)
    words = [text_line(middle, middle_baseline(half - 8.0, style), clean(bank.label), style)]
    if text_width(bank.size, small) < x - left:
        words.append(text_line(middle, middle_baseline(half + 8.0, small), bank.size, small))
    if not key:
        return h.g(class_="bank")[marks, words]
    held = Box(left, foot - scale * bank.length, x, foot)
    return _touchable(bank, scale, held, key)[marks, words, _grip(held)]


def _touchable(bank: BankBlock, scale: float, box: Box, key: str) -> h.Element:
    """What can be focused and drawn: its value is the number of panels."""
    count = len(bank.panels)
    return h.g(
        {
            "aria-valuenow": str(count),
            "aria-valuemin": "1",
            "aria-valuemax": "60",
            "aria-valuetext": bank.label,
            "aria-label": bank.spoken,
            "data-bank": str(bank.index),
            "data-step": number(box.width / count if count else scale),
        },
        id=f"bank-{key}-{bank.index}",
        class_="bank",
        tabindex="0",
        role="slider",
    )


def _grip(box: Box) -> h.Element:
    """The end that is drawn to add or take away panels: two strokes, and room for a finger."""
    room = Box(box.right - 0.5 * GRIP, box.top, box.right + 0.5 * GRIP, box.bottom)
    return h.g(class_="grip")[
        h.rect(
            x=number(room.left),
            y=number(room.top),
            width=number(room.width),
            height=number(room.height),
            fill="none",
            pointer_events="all",
        ),
        [
            line(x, box.middle - 9.0, x, box.middle + 9.0, ink.INK, ink.MEDIUM)
            for x in (box.right - 2.0, box.right + 2.0)
        ],
    ]


def _across(edge: Box, text: str, eave: str) -> h.Element:
    y = edge.bottom + 12.0
    style = Style(NOTE, anchor="middle")
    return h.g(class_="dimension")[
        line(edge.left, y, edge.right, y, ink.RULE, ink.FINE),
        *(_tick(x, y) for x in (edge.left, edge.right)),
        text_line(0.5 * (edge.left + edge.right), y + 14.0, f"{eave} {text}", style),
    ]


def _up(edge: Box, text: str) -> h.Element:
    x, y = edge.left - 12.0, edge.middle
    style = Style(NOTE, anchor="middle")
    turned = h.g(transform=f"rotate(-90 {number(x - 6.0)} {number(y)})")[
        text_line(x - 6.0, y, text, style)
    ]
    return h.g(class_="dimension")[
        line(x, edge.top, x, edge.bottom, ink.RULE, ink.FINE),
        *(_tick(x, end) for end in (edge.top, edge.bottom)),
        turned,
    ]


def _tick(x: float, y: float) -> h.Element:
    return line(x - 4.0, y + 4.0, x + 4.0, y - 4.0, ink.INK, 1.5 * ink.FINE)


def _north(x: float, y: float, bearing: float, word: str) -> h.Element:
    """An arrow to the north: up the slope one looks against the way the plane faces."""
    turn = (180.0 - bearing) % 360.0
    return h.g(class_="north", transform=f"rotate({turn:.0f} {number(x)} {number(y)})")[
        h.path(
            d=f"M{number(x)},{number(y - 12.0)}l5,14h-10z",
            fill=ink.INK,
            stroke="none",
        ),
        line(x, y, x, y + 13.0, ink.INK, ink.MEDIUM),
        text_line(x, y - 14.0, word, Style(NOTE, anchor="middle")),
    ]
