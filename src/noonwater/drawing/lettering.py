"""Text on a drawing: made safe, measured, broken into lines that fit, set at a place.

A drawing is made where no browser is, so widths are estimated, on the wide side: the widths are
those of DejaVu Sans, the widest face of the stack in `ink.TYPEFACE`, measured in Chromium. Text
that fits by this table fits in the narrower faces too.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import htpy as h

from noonwater.drawing.ink import INK, SHEET
from noonwater.drawing.strokes import number

Anchor = Literal["start", "middle", "end"]

# [1/1000 of the size] Each group holds the characters up to that width in DejaVu Sans.
_WIDTHS = {
    300: "Iijl",
    345: " ,./:;|\\'-\u00a0",
    415: "ftr()[]!",
    535: "sz?*_`°",
    600: "cvxykLF",
    640: "0123456789abdeghnopquPETY$SZ",
    700: 'ABRVXKC"',
    790: "DGHNOQUw&",
    870: "M+=<>^~#−×–",
}
_WIDTH_OF = {letter: width for width, letters in _WIDTHS.items() for letter in letters}
_WIDEST_LATIN = 1000
_WIDEST = 1500  # emoji in the colour faces reach 1.3 of the size
BOLD = 1.13
ELLIPSIS = "…"
KEPT = 4096
"""Lines of text: most of a drawing stays where it is when one figure changes."""
_TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@dataclass(frozen=True)
class Style:
    """How text is set.

    Attributes
    ----------
    size : float
        Of the letters. [drawing units]
    colour : str
        Of the ink.
    bold : bool
        Heavier letters.
    anchor : {"start", "middle", "end"}
        Which point of the text stands at the given place.
    halo : bool
        Whether the sheet shows around the letters where lines pass behind them.
    """

    size: float
    colour: str = INK
    bold: bool = False
    anchor: Anchor = "start"
    halo: bool = False


def clean(text: str) -> str:
    """Make any text fit for one line of XML: no control or lone half of a pair, single spaces.

    Parameters
    ----------
    text : str
        Whatever was typed.

    Returns
    -------
    str
        The same with whitespace folded; what XML 1.0 cannot hold is shown as U+FFFD, and marks that
        turn the direction of writing are left out.
    """
    kept = (letter for letter in " ".join(text.split()) if letter not in _TURNS)
    return "".join(letter if _in_xml(letter) else "\ufffd" for letter in kept)


def text_width(text: str, style: Style) -> float:
    """Estimate the width of a line, on the wide side. [drawing units]."""
    thousandths = sum(_width(letter) for letter in text)
    return thousandths / 1000.0 * style.size * (BOLD if style.bold else 1.0)


@lru_cache(maxsize=KEPT)
def lines_that_fit(text: str, width: float, count: int, style: Style) -> tuple[str, ...]:
    """Break text into lines of a width; what does not fit ends in an ellipsis.

    Parameters
    ----------
    text : str
        Already `clean`.
    width : float
        Of a line. [drawing units]
    count : int
        Most lines.
    style : Style
        How it will be set.

    Returns
    -------
    tuple of str
        One to ``count`` lines; a word longer than a line is broken.
    """
    lines: list[str] = []
    rest = text
    while rest and len(lines) < count:
        taken = _fitting(rest, width, style)
        if taken < len(rest) and len(lines) == count - 1:
            room = width - text_width(ELLIPSIS, style)
            lines.append(rest[: _fitting(rest, room, style)].rstrip() + ELLIPSIS)
            break
        space = rest.rfind(" ", 1, taken + 1) if taken < len(rest) else -1
        cut = space if space > 0 else taken
        lines.append(rest[:cut].rstrip())
        rest = rest[cut:].lstrip()
    return tuple(lines) or ("",)


@lru_cache(maxsize=KEPT)
def text_line(x: float, baseline: float, content: str, style: Style) -> h.Element:
    """Set one line of text.

    Parameters
    ----------
    x, baseline : float
        Place of the anchor. [drawing units]
    content : str
        Any characters; htpy escapes them.
    style : Style
        How to set it.
    """
    attributes: dict[str, str] = {
        "x": number(x),
        "y": number(baseline),
        "font-size": number(style.size),
        "fill": style.colour,
    }
    if style.bold:
        attributes["font-weight"] = "bold"
    if style.anchor != "start":
        attributes["text-anchor"] = style.anchor
    if style.halo:
        attributes |= {
            "stroke": SHEET,
            "stroke-width": number(style.size * 0.3),
            "stroke-linejoin": "round",
            "paint-order": "stroke",
        }
    return h.text(attributes)[clean(content)]


def text_lines(
    x: float, baseline: float, lines: Sequence[str], style: Style
) -> tuple[h.Element, ...]:
    """Set lines below each other, the first at the baseline."""
    pitch = line_pitch(style)
    return tuple(text_line(x, baseline + i * pitch, line, style) for i, line in enumerate(lines))


def line_pitch(style: Style) -> float:
    """From one baseline to the next. [drawing units]."""
    return style.size * 1.22


def middle_baseline(y: float, style: Style) -> float:
    """Baseline that centres digits and capitals on a height. [drawing units].

    Notes
    -----
    Computed and not left to ``dominant-baseline``, which print converters read differently.
    """
    return y + 0.36 * style.size


def _width(character: str) -> int:
    if character in _WIDTH_OF:
        return _WIDTH_OF[character]
    if unicodedata.category(character) in {"Mn", "Me", "Cf"}:
        return 0
    if unicodedata.east_asian_width(character) in "WF" or ord(character) > 0x2FFF:
        return _WIDEST
    return _WIDEST_LATIN


def _fitting(text: str, width: float, style: Style) -> int:
    """How many characters from the start fit; at least one, never a torn-off accent."""
    used, count = 0.0, 0
    for count, character in enumerate(text):
        used += text_width(character, style)
        if used > width and count:
            return count
    return count + 1


def _in_xml(character: str) -> bool:
    point = ord(character)
    return (
        0x20 <= point < 0x7F
        or 0xA0 <= point <= 0xD7FF
        or 0xE000 <= point <= 0xFFFD
        or 0x10000 <= point <= 0x10FFFF
    )
