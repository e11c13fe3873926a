"""A drawing that stands inside a paper: no frame and no title block of its own."""

from __future__ import annotations

from collections.abc import Iterable

import htpy as h

from noonwater.drawing.ink import SHEET, TYPEFACE
from noonwater.drawing.lettering import clean
from noonwater.drawing.strokes import Box, number, rectangle

WIDTH = 720.0
"""[drawing units] A paper's text is as wide: a unit is a quarter of a millimetre."""
NOTE = 11.5
"""[drawing units] Smallest letters: 8 point."""


def inset(box: Box, title: str, marks: Iterable[h.Node], *, role: str = "img") -> str:
    """Put marks on plain ground and give the SVG's text.

    Parameters
    ----------
    box : Box
        What is shown. [drawing units]
    title : str
        For those who hear the drawing; any characters.
    marks : iterable of htpy nodes
        What is drawn.
    role : str
        "img"; "group" where parts of it can be touched.

    Returns
    -------
    str
        A document that stands alone.
    """
    attributes = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": " ".join(number(x) for x in (box.left, box.top, box.width, box.height)),
        "role": role,
        "font-family": TYPEFACE,
    }
    if role != "img":
        attributes["aria-label"] = clean(title)
    drawing = h.svg(attributes)[h.title[clean(title)], rectangle(box, fill=SHEET), marks]
    return f"{drawing}\n"
