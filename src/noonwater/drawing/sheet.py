"""The drawing sheet: white paper, ink frame, and the title block at its foot.

Every drawing of Noonwater is one such sheet. A drawing fills the space above the title block.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import htpy as h

from noonwater.drawing.ink import FINE, INK, NOTE, RULE, SHEET, TYPEFACE
from noonwater.drawing.lettering import (
    ELLIPSIS,
    Style,
    clean,
    line_pitch,
    lines_that_fit,
    text_line,
    text_lines,
)
from noonwater.drawing.strokes import Box, line, number, rectangle


@dataclass(frozen=True)
class SheetFormat:
    """Size of a sheet and of the letters on it. [drawing units]

    Attributes
    ----------
    width, height : float
        Of the sheet.
    margin : float
        From its edge to the frame.
    note, body, lead : float
        Sizes of letters: captions and scales, values, the job's name.
    frame : float
        Weight of the frame.
    weight : float
        Of the drawn lines, over those of `ink`. [-]
    """

    width: float
    height: float
    margin: float
    note: float
    body: float
    lead: float
    frame: float
    weight: float

    @property
    def framed(self) -> Box:
        """Inside of the frame."""
        return Box(self.margin, self.margin, self.width - self.margin, self.height - self.margin)


# An A sheet across: on A4 or Letter with 10 mm of margin a unit is 0.23 mm, the smallest letters
# are 8 point.
DESK = SheetFormat(1188.0, 840.0, 14.0, note=12.5, body=14.0, lead=18.0, frame=2.2, weight=1.0)
# A telephone's width; a unit is a CSS pixel at 390 px.
POCKET = SheetFormat(390.0, 720.0, 5.0, note=11.0, body=12.0, lead=14.0, frame=1.6, weight=0.75)


@dataclass(frozen=True)
class Cell:
    """A field of the title block.

    Attributes
    ----------
    label : str
        What it says.
    text : str
        Any characters.
    share : float
        Of the row's width; the shares of a row add up to 1. [-]
    lead : bool
        Whether it is set large.
    """

    label: str
    text: str
    share: float
    lead: bool = False


Rows = Sequence[Sequence[Cell]]
_MOST_LINES = 2
NARROWEST = 0.22
"""[-] Share of a telephone's row that the longest label takes."""


def cells_in_rows(cells: Sequence[Cell], form: SheetFormat) -> tuple[tuple[Cell, ...], ...]:
    """One row of a title block; on a telephone the first cell by itself and the others below it.

    Parameters
    ----------
    cells : sequence of Cell
        Their shares add up to 1.
    form : SheetFormat
        Sizes.
    """
    if form.width >= DESK.width:
        return (tuple(cells),)
    lead, *rest = cells
    shares = [max(cell.share / sum(each.share for each in rest), NARROWEST) for cell in rest]
    below = tuple(
        replace(cell, share=share / sum(shares)) for cell, share in zip(rest, shares, strict=True)
    )
    return ((replace(lead, share=1.0),), below)


def title_block_height(rows: Rows, form: SheetFormat) -> float:
    """Height that a title block takes; a row is as tall as its longest text. [drawing units]."""
    return sum(_row_height(row, form) for row in rows)


def title_block(rows: Rows, box: Box, form: SheetFormat) -> h.Element:
    """Draw the ruled title block.

    Parameters
    ----------
    rows : sequence of rows of Cell
        From top to bottom.
    box : Box
        Where; its height is `title_block_height` and its width the frame's.
    form : SheetFormat
        Sizes.
    """
    marks: list[h.Element] = []
    top = box.top
    for row in rows:
        bottom, left = top + _row_height(row, form), box.left
        marks.append(line(box.left, top, box.right, top, INK, FINE))
        for cell in row:
            right = left + cell.share * box.width
            marks += _cell_marks(cell, left, top, form)
            if cell is not row[-1]:
                marks.append(line(right, top, right, bottom, RULE, FINE))
            left = right
        top = bottom
    return h.g(class_="title-block")[marks]


def sheet(form: SheetFormat, title: str, description: str, marks: Iterable[h.Node]) -> str:
    """Put marks on a framed sheet and give the SVG's text.

    Parameters
    ----------
    form : SheetFormat
        Size.
    title, description : str
        For those who hear the drawing; any characters.
    marks : iterable of htpy nodes
        What is drawn.

    Returns
    -------
    str
        A document that stands alone and can be put into a page as it is: no style sheet, no script,
        no ids, no address but the one that names SVG.
    """
    attributes = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {number(form.width)} {number(form.height)}",
        "role": "img",
        "font-family": TYPEFACE,
        "style": "font-variant-numeric:tabular-nums",
    }
    whole = Box(0.0, 0.0, form.width, form.height)
    drawing = h.svg(attributes)[
        h.title[clean(title)],
        h.desc[clean(description)],
        rectangle(whole, fill=SHEET),
        marks,
        rectangle(form.framed, colour=INK, weight=form.frame, name="frame"),
    ]
    return f"{drawing}\n"


def _padding(form: SheetFormat) -> float:
    return 0.6 * form.note


def _row_height(row: Sequence[Cell], form: SheetFormat) -> float:
    settings = [_set_in_cell(cell, form) for cell in row]
    return 2.1 * form.note + max(len(lines) * line_pitch(style) for style, lines in settings)


def _cell_marks(cell: Cell, left: float, top: float, form: SheetFormat) -> list[h.Element]:
    x, baseline = left + _padding(form), top + 1.35 * form.note
    style, lines = _set_in_cell(cell, form)
    return [
        text_line(x, baseline, cell.label, Style(form.note, NOTE)),
        *text_lines(x, baseline + line_pitch(style), lines, style),
    ]


def _set_in_cell(cell: Cell, form: SheetFormat) -> tuple[Style, tuple[str, ...]]:
    """Largest letters in which the text is whole; the smallest, cut short, where it never is."""
    width = cell.share * form.framed.width - 2.0 * _padding(form)
    content = clean(cell.text)
    sizes = (form.lead, form.body, form.note) if cell.lead else (form.body, form.note)
    for size in sizes:
        style = Style(size, bold=cell.lead)
        count = _MOST_LINES + (cell.lead and size == form.note)
        lines = lines_that_fit(content, width, count, style)
        if sum(map(len, lines)) >= len(content.replace(" ", "")) and lines[-1][-1:] != ELLIPSIS:
            break
    return style, lines
