"""The sheet of a batch: how warmth and heat spread over the rows, and over a field of theirs."""

from __future__ import annotations

from dataclasses import dataclass, replace

import htpy as h
import numpy as np

from noonwater.core.units import System, in_system, unit_label
from noonwater.drawing import ink
from noonwater.drawing.axes import value_axis
from noonwater.drawing.lettering import Style, line_pitch, text_line, text_width
from noonwater.drawing.month_bars import hatched_bars
from noonwater.drawing.scales import Scale, amount_ticks, digits, round_ticks
from noonwater.drawing.sheet import (
    DESK,
    Cell,
    SheetFormat,
    cells_in_rows,
    sheet,
    title_block,
    title_block_height,
)
from noonwater.drawing.strokes import Box, Floats, area_between, line, polyline, rectangle

SHEET_NAME = "A batch’s results"
BINS = 24
"""Bars of a distribution, and stretches of a field that takes many values."""
FEWEST, MOST_TICKS = 3, 7


@dataclass(frozen=True, eq=False)
class BatchPicture:
    """What a batch's sheet shows.

    Attributes
    ----------
    job, table : str
        Names, for the title block.
    rows : int
        Of the table.
    season_pool : (done,) array
        Season's mean temperature of each row that has an answer. [°C]
    solar_heat : (done,) array
        [kWh]
    field, unit : str
        The field that is drawn along, and the unit of its values; "" where there is none.
    values : (done,) array or None
        Of the field; NaN where a row leaves it to the base. [unit]
    system : {"US", "SI"}
        Units on the sheet.
    """

    job: str
    table: str
    rows: int
    season_pool: Floats
    solar_heat: Floats
    field: str
    unit: str
    values: Floats | None
    system: System


@dataclass(frozen=True, eq=False)
class _Quantity:
    """A figure as it is drawn: its name, its values in the reader's unit, its colours."""

    name: str
    unit: str
    values: Floats
    colour: str
    tint: str
    key: str


def batch_chart(picture: BatchPicture, form: SheetFormat = DESK) -> str:
    """Draw a batch's results on one sheet.

    Parameters
    ----------
    picture : BatchPicture
        What is shown.
    form : SheetFormat
        The desk's, or the telephone's.

    Returns
    -------
    str
        SVG that stands alone; the same for the same results.
    """
    rows = cells_in_rows(_cells(picture), form)
    framed = form.framed
    foot = framed.bottom - title_block_height(rows, form)
    marks: list[h.Node] = [
        *_columns(picture, Box(framed.left, framed.top, framed.right, foot), form),
        title_block(rows, Box(framed.left, foot, framed.right, framed.bottom), form),
    ]
    return sheet(form, f"{SHEET_NAME}: {picture.job}", _described(picture), marks)


def _cells(picture: BatchPicture) -> tuple[Cell, ...]:
    return (
        Cell("job", picture.job, 0.36, lead=True),
        Cell("sheet", SHEET_NAME, 0.18),
        Cell("table", picture.table, 0.28),
        Cell("rows", digits(picture.rows, picture.system), 0.09),
        Cell("done", digits(len(picture.season_pool), picture.system), 0.09),
    )


def _columns(picture: BatchPicture, room: Box, form: SheetFormat) -> list[h.Node]:
    """Warmth and heat side by side, on a telephone below each other: how the rows spread, and over
    the field that matters."""
    if not len(picture.season_pool):
        style = Style(form.body, ink.NOTE, anchor="middle")
        middle = 0.5 * (room.left + room.right)
        return [text_line(middle, room.middle, "No row has an answer.", style)]
    along = picture.values is not None
    share = 0.46 if along else 1.0
    marks: list[h.Node] = []
    for quantity, box in zip(_quantities(picture), _halves(room, form), strict=True):
        split = box.top + share * box.height
        upper, lower = (
            Box(box.left, top, box.right, bottom)
            for top, bottom in ((box.top, split), (split, box.bottom))
        )
        marks.append(_distribution(quantity, upper, picture, form))
        if along:
            marks.append(_along_field(quantity, lower, picture, form))
    if form is DESK:
        half = 0.5 * (room.left + room.right)
        marks.append(line(half, room.top, half, room.bottom, ink.RULE, ink.FINE))
    return marks


def _halves(room: Box, form: SheetFormat) -> tuple[Box, Box]:
    across, down = 0.5 * (room.left + room.right), room.middle
    if form is DESK:
        return (
            Box(room.left, room.top, across, room.bottom),
            Box(across, room.top, room.right, room.bottom),
        )
    return (
        Box(room.left, room.top, room.right, down),
        Box(room.left, down, room.right, room.bottom),
    )


def _quantities(picture: BatchPicture) -> tuple[_Quantity, _Quantity]:
    zero, one = (in_system(value, "temperature", picture.system) for value in (0.0, 1.0))
    pool = zero + (one - zero) * picture.season_pool
    unit = unit_label("temperature", picture.system)
    return (
        _Quantity("Season’s mean pool", unit, pool, ink.WATER, ink.WATER_TINT, "pool"),
        _Quantity("Solar heat in the year", "kWh", picture.solar_heat, ink.HEAT, ink.HEAT_TINT,
                  "heat"),
    )  # fmt: skip


def _distribution(
    quantity: _Quantity, room: Box, picture: BatchPicture, form: SheetFormat
) -> h.Element:
    """Bars: how many rows lie in each stretch of the figure."""
    plot = _plot(room, form)
    ticks = round_ticks(float(quantity.values.min()), float(quantity.values.max()), MOST_TICKS)
    counts, edges = np.histogram(quantity.values, BINS, (float(ticks[0]), float(ticks[-1])))
    across = Scale(float(ticks[0]), float(ticks[-1]), plot.left, plot.right)
    most = amount_ticks(0.0, float(counts.max()), MOST_TICKS - 2)
    up = Scale(float(most[0]), float(most[-1]), plot.bottom, plot.top)
    boxes = tuple(
        Box(float(across.at(low)), float(up.at(float(count))), float(across.at(high)), plot.bottom)
        for count, low, high in zip(counts, edges[:-1], edges[1:], strict=True)
        if count
    )
    texts = [digits(float(tick), picture.system) for tick in most]
    return h.g(class_=f"{quantity.key}-rows")[
        value_axis(most.tolist(), texts, up, plot, form),
        hatched_bars(boxes, quantity.colour, quantity.tint, 0.5 * form.note, "bars"),
        _ground(ticks, across, plot, picture.system, form),
        _caption(room, plot, f"{quantity.name}, {quantity.unit}", "rows by their result",
                 quantity.colour, form),
    ]  # fmt: skip


def _along_field(
    quantity: _Quantity, room: Box, picture: BatchPicture, form: SheetFormat
) -> h.Element:
    """The figure against the varied field: middle row, and the band of eight rows of ten."""
    assert picture.values is not None
    plot = _plot(room, form)
    places, bands = _bands(picture.values, quantity.values)
    low, middle, high = bands
    ticks = round_ticks(float(places.min()), float(places.max()), MOST_TICKS)
    heights = round_ticks(float(low.min()), float(high.max()), MOST_TICKS)
    across = Scale(float(ticks[0]), float(ticks[-1]), plot.left, plot.right)
    up = Scale(float(heights[0]), float(heights[-1]), plot.bottom, plot.top)
    xs = across.at(places)
    note = f"over {picture.field}" + (f", {picture.unit}" if picture.unit else "")
    return h.g(class_=f"{quantity.key}-field")[
        area_between(xs, up.at(high), up.at(low), quantity.tint, name="band"),
        value_axis(heights.tolist(), _figures(heights, picture.system), up, plot, form),
        polyline(xs, up.at(middle), quantity.colour, ink.HEAVY, name="middle"),
        [rectangle(_dot(float(x), float(y)), fill=quantity.colour, name="dot")
         for x, y in zip(xs, up.at(middle), strict=True)],
        _ground(ticks, across, plot, picture.system, form),
        _caption(room, plot, f"{quantity.name}, {quantity.unit}",
                 f"{note}; line: middle row; band: 8 of 10", quantity.colour, form),
    ]  # fmt: skip


def _bands(values: Floats, figures: Floats) -> tuple[Floats, Floats]:
    """Places along the field, and 10, 50 and 90 % points of the figure there."""
    known = np.isfinite(values)
    values, figures = values[known], figures[known]
    places, group = np.unique(values, return_inverse=True)
    if len(places) > BINS:
        edges = np.unique(np.quantile(values, np.linspace(0.0, 1.0, BINS + 1)))
        group = np.clip(np.searchsorted(edges, values, side="right") - 1, 0, len(edges) - 2)
        here = np.unique(group)
        places = np.array([values[group == each].mean() for each in here])
        group = np.searchsorted(here, group)
    points = [np.quantile(figures[group == each], [0.1, 0.5, 0.9]) for each in range(len(places))]
    return places, np.array(points).T


def _plot(room: Box, form: SheetFormat) -> Box:
    return Box(
        room.left + 5.2 * form.note,
        room.top + 4.0 * form.note,
        room.right - 3.0 * form.note,
        room.bottom - 2.4 * form.note,
    )


def _dot(x: float, y: float) -> Box:
    reach = 2.2
    return Box(x - reach, y - reach, x + reach, y + reach)


def _figures(ticks: Floats, system: System) -> list[str]:
    step = float(ticks[1] - ticks[0])
    places = 0 if step >= 1.0 else 1 if step >= 0.1 else 2
    return [digits(float(tick), system, places) for tick in ticks]


def _ground(
    ticks: Floats, across: Scale, plot: Box, system: System, form: SheetFormat
) -> h.Element:
    """The line below a plot, its values and their ticks."""
    style = Style(form.note, anchor="middle")
    marks: list[h.Element] = [
        line(plot.left, plot.bottom, plot.right, plot.bottom, ink.INK, ink.FINE)
    ]
    for tick, text in zip(ticks.tolist(), _figures(ticks, system), strict=True):
        x = float(across.at(tick))
        marks.append(line(x, plot.bottom, x, plot.bottom + 0.4 * form.note, ink.INK, ink.HAIR))
        marks.append(text_line(x, plot.bottom + 1.5 * form.note, text, style))
    return h.g(class_="ground")[marks]


def _caption(
    room: Box, plot: Box, lead: str, note: str, colour: str, form: SheetFormat
) -> h.Element:
    """Head a plot with what it shows; the note beside it, or below where it is long."""
    bold, plain = Style(form.body, colour, bold=True), Style(form.note, ink.NOTE, anchor="end")
    left, baseline = room.left + 0.7 * form.note, room.top + 1.5 * form.note
    room_left = plot.right - left - text_width(lead, bold) - 2.0 * form.note
    if text_width(note, plain) <= room_left:
        beside = text_line(plot.right, baseline, note, plain)
    else:
        below = replace(plain, anchor="start")
        beside = text_line(left, baseline + line_pitch(bold), note, below)
    return h.g(class_="caption")[
        line(room.left, room.top, room.right, room.top, ink.INK, ink.FINE),
        text_line(left, baseline, lead, bold),
        beside,
    ]


def _described(picture: BatchPicture) -> str:
    """Say the sheet in words, for those who hear it."""
    if not len(picture.season_pool):
        return f"No row of {picture.rows} has an answer."
    told = []
    for quantity in _quantities(picture):
        low, middle, high = np.quantile(quantity.values, [0.1, 0.5, 0.9])
        told.append(
            f"{quantity.name}: middle row {middle:.1f} {quantity.unit}, eight rows of ten "
            f"{low:.1f} to {high:.1f}."
        )
    along = f" Drawn over {picture.field}." if picture.field else ""
    return f"{len(picture.season_pool)} of {picture.rows} rows. {' '.join(told)}{along}"
