"""The sheet of a search: degrees below the target and running cost over price, options lettered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import floor, log10

import htpy as h

from noonwater.core.units import System, in_system, unit_label
from noonwater.drawing import ink
from noonwater.drawing.axes import value_axis
from noonwater.drawing.count_axis import (
    caption_height,
    count_rules,
    count_strip,
    panel_caption,
    scale_width,
)
from noonwater.drawing.lettering import Style, middle_baseline, text_line
from noonwater.drawing.scales import Scale, digits, ticks_over
from noonwater.drawing.sheet import (
    DESK,
    Cell,
    SheetFormat,
    cells_in_rows,
    sheet,
    title_block,
    title_block_height,
)
from noonwater.drawing.strokes import Box, number, rectangle
from noonwater.drawing.year_days import checked_units

SHEET_NAME = "Trade-off"

Point = tuple[float, float, float]
"""Price, mean of the season below the target [K], running cost."""


@dataclass(frozen=True)
class TradeOff:
    """What is drawn.

    Attributes
    ----------
    job, currency : str
        Name of the job, and what money is in.
    points : tuple of Point
        On the trade-off.
    listed : tuple of (str, float, float, float)
        Letter and point of each option of the short list.
    own : Point
        The job as it stands.
    """

    job: str
    currency: str
    points: tuple[Point, ...]
    listed: tuple[tuple[str, float, float, float], ...]
    own: Point


@dataclass(frozen=True)
class _Panel:
    name: str
    title: str
    value: Callable[[Point], float]


def search_chart(drawn: TradeOff, *, units: str, version: str, form: SheetFormat = DESK) -> str:
    """Draw a trade-off.

    Parameters
    ----------
    drawn : TradeOff
        What is drawn.
    units : {"US", "SI"}
        How numbers are written.
    version : str
        Of Noonwater.
    form : SheetFormat
        The desk's, or the telephone's.

    Returns
    -------
    str
        SVG that stands alone; the same for the same trade-off.

    Raises
    ------
    InputError
        For units that are none.
    """
    system, panels = checked_units(units), _panels(drawn, checked_units(units))
    rows = cells_in_rows(_cells(drawn, version), form)
    framed = form.framed
    foot = framed.bottom - title_block_height(rows, form)
    left, right = framed.left + scale_width(form), framed.right - 2.0 * form.note
    caption, strip = caption_height([each.title for each in panels], form), 2.2 * form.note
    plot = (foot - framed.top - 2 * caption - strip) / 2.0
    edges = pairwise(accumulate((caption, plot, caption, plot, strip), initial=framed.top))
    bands = [Box(left, top, right, bottom) for top, bottom in edges]
    prices = [point[0] for point in (*drawn.points, drawn.own)]
    ticks = _ticks(min(prices), max(prices), 13 if form is DESK else 6)
    along = Scale(ticks[0], ticks[-1], left, right)
    marks: list[h.Node] = []
    for panel, head, box in zip(panels, bands[0:3:2], bands[1:4:2], strict=True):
        marks += [
            count_rules(along, ticks, box),
            *_panel(drawn, panel, along, (head, box), system, form),
        ]
    figures = [(drawn.currency, [digits(tick, system) for tick in ticks])]
    marks += [
        count_strip(along, ticks, figures, bands[4], form),
        title_block(rows, Box(framed.left, foot, framed.right, framed.bottom), form),
    ]
    return sheet(form, f"{SHEET_NAME}: {drawn.job}", _described(drawn), marks)


def _cells(drawn: TradeOff, version: str) -> tuple[Cell, ...]:
    return (
        Cell("job", drawn.job, 0.42, lead=True),
        Cell("sheet", SHEET_NAME, 0.14),
        Cell("dots", "options on the trade-off; a square: as it stands", 0.34),
        Cell("Noonwater", version, 0.10),
    )


def _panels(drawn: TradeOff, system: System) -> tuple[_Panel, _Panel]:
    degrees = unit_label("temperature difference", system)
    return (
        _Panel(
            "shortfall",
            f"Mean of the season’s days below the target, {degrees}",
            lambda point: in_system(point[1], "temperature difference", system),
        ),
        _Panel("running", f"Running cost, {drawn.currency} a year", lambda point: point[2]),
    )


def _panel(
    drawn: TradeOff,
    panel: _Panel,
    along: Scale,
    boxes: tuple[Box, Box],
    system: System,
    form: SheetFormat,
) -> list[h.Node]:
    head, box = boxes
    listed = [(letter, (price, short, cost)) for letter, price, short, cost in drawn.listed]
    values = [panel.value(point) for point in (*drawn.points, drawn.own, *(p for _, p in listed))]
    ticks = _ticks(min(values), max(values), 8)
    pad = 1.2 * form.note
    up = Scale(ticks[0], ticks[-1], box.bottom - pad, box.top + pad)
    places = max(0, -floor(log10(ticks[1] - ticks[0])))
    texts = [digits(tick, system, places) for tick in ticks]
    dots = [
        h.circle(
            cx=number(along.at(point[0])),
            cy=number(up.at(panel.value(point))),
            r="3",
            fill=ink.WATER,
        )
        for point in drawn.points
    ]
    x, y = along.at(drawn.own[0]), up.at(panel.value(drawn.own))
    square = rectangle(
        Box(x - 5.0, y - 5.0, x + 5.0, y + 5.0), fill=ink.SHEET, colour=ink.INK, weight=ink.MEDIUM
    )
    return [
        panel_caption(head, panel.title, form),
        value_axis(ticks, texts, up, box, form),
        h.g(class_=panel.name)[dots],
        [_lettered(letter, along.at(p[0]), up.at(panel.value(p)), form) for letter, p in listed],
        square,
    ]


def _ticks(low: float, high: float, most: int) -> list[float]:
    """Round values over a range that need not hold zero."""
    span = max(high - low, 1e-6 * max(abs(high), 1.0))
    power = 10.0 ** floor(log10(span / most))
    for factor in (1.0, 2.0, 5.0, 10.0, 20.0):
        ticks = ticks_over(low, high, factor * power)
        if len(ticks) <= most:
            break
    return [float(tick) for tick in ticks]


def _lettered(letter: str, x: float, y: float, form: SheetFormat) -> h.Element:
    style = Style(form.note, ink.HEAT, bold=True, anchor="middle")
    radius = 0.8 * form.note
    return h.g(class_="option")[
        h.circle(
            cx=number(x), cy=number(y), r=number(radius), fill=ink.SHEET, stroke=ink.HEAT,
            stroke_width="1.6",
        ),
        text_line(x, middle_baseline(y, style), letter, style),
    ]  # fmt: skip


def _described(drawn: TradeOff) -> str:
    told = "; ".join(
        f"{letter}: {price:,.0f} {drawn.currency}, {short:.1f} K below, {cost:,.0f} a year"
        for letter, price, short, cost in drawn.listed
    )
    return (
        f"Degrees below the target and running cost over price for the options of a search. {told}."
    )
