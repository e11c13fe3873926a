"""The three panels of the year's sheet, on one axis of days."""

from __future__ import annotations

from dataclasses import replace

import htpy as h
import numpy as np

from noonwater.core.digits import about
from noonwater.drawing import ink
from noonwater.drawing.axes import value_axis
from noonwater.drawing.calendar import DAYS
from noonwater.drawing.lettering import Style, line_pitch, text_line, text_width
from noonwater.drawing.line_labels import NamedLine, line_labels
from noonwater.drawing.month_bars import (
    bar_figures,
    hatched_bars,
    month_boxes,
    solid_bars,
    zero_line,
)
from noonwater.drawing.scales import Scale, amount_ticks, digits, temperature_ticks
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box, Floats, area_between, hatch, line, polyline, rectangle
from noonwater.drawing.year_days import YearDays

_DAYS_NOTES = (
    "mean of each day; band: its lowest to highest hour; tint: added by {adding}",
    "daily mean and range; tint: added by {adding}",
)
_LEAST_SPAN = {"SI": 15.0, "US": 30.0}


def temperature_panel(
    days: YearDays, along: Scale, caption: Box, plot: Box, form: SheetFormat, most_ticks: int
) -> h.Element:
    """Draw the water day by day with solar and without, the air and the target.

    Parameters
    ----------
    days : YearDays
        What is drawn.
    along : Scale
        Days along the sheet.
    caption, plot : Box
        Where.
    form : SheetFormat
        Sizes.
    most_ticks : int
        Most figures on the scale.
    """
    drawn = np.concatenate(
        [days.pool_low, days.pool_high, days.pool_without_solar, days.air, [days.target]]
    )
    low, high = float(drawn.min()), float(drawn.max())
    ticks = temperature_ticks(low, high, most_ticks, _LEAST_SPAN[days.system])
    up = Scale(ticks[0], ticks[-1], plot.bottom - form.note, plot.top + form.note)
    texts = [digits(float(tick), days.system) for tick in ticks]
    texts[-1] += f" {days.temperature_unit}"
    xs = along.at(np.arange(DAYS, dtype=np.float64) + 0.5)
    pool, without = up.at(days.pool), up.at(days.pool_without_solar)
    air, target = up.at(days.air), np.full(DAYS, up.at(days.target), dtype=np.float64)
    band = (up.at(days.pool_high), up.at(days.pool_low))
    notes = tuple(note.format(adding=_adding(days)) for note in _DAYS_NOTES)
    return h.g(class_="temperature")[
        area_between(xs, pool, without, ink.HEAT_TINT, name="gain"),
        area_between(xs, *band, ink.WATER_TINT, name="day-range"),
        value_axis(ticks.tolist(), texts, up, plot, form),
        polyline(xs, air, ink.AIR, ink.THIN * form.weight, name="air"),
        polyline(
            np.array([plot.left, plot.right]),
            target[:2],
            ink.INK,
            ink.FINE,
            dash=ink.DASH_DOT,
            name="target",
        ),
        polyline(
            xs,
            without,
            ink.WATER,
            ink.MEDIUM * form.weight,
            dash=ink.DASH,
            name="pool-without-solar",
        ),
        polyline(xs, pool, ink.WATER, ink.HEAVY * form.weight, name="pool"),
        line_labels(_named(days, band, without, air, target, form), xs, plot),
        _caption(caption, plot, "Pool temperature", notes, form, ink.WATER),
    ]


def heat_panel(
    days: YearDays, along: Scale, caption: Box, plot: Box, form: SheetFormat
) -> h.Element:
    """Draw the heat that the panels bring to the pool in each month.

    Parameters
    ----------
    days : YearDays
        What is drawn.
    along : Scale
        Days along the sheet.
    caption, plot : Box
        Where.
    form : SheetFormat
        Sizes.
    """
    amounts, unit = days.solar_heat, days.energy_unit
    axis, up = _amount_axis(amounts, days, plot, form, 5)
    boxes = month_boxes(along, up, np.zeros(12), amounts)
    total = f"{_total(amounts, days)} {unit} in the year"
    return h.g(class_="heat")[
        axis,
        hatched_bars(boxes, ink.HEAT, ink.HEAT_TINT, 0.5 * form.note, "solar-heat"),
        zero_line(up, plot, ink.INK),
        bar_figures(amounts, along, up, days.system, form),
        _caption(caption, plot, f"Solar heat to the pool, {unit}", (total,), form, ink.HEAT),
    ]


def pump_panel(
    days: YearDays, along: Scale, caption: Box, plot: Box, form: SheetFormat
) -> h.Element:
    """Draw the pump's electricity in each month: what it takes anyway, and what solar adds.

    Parameters
    ----------
    days : YearDays
        What is drawn.
    along : Scale
        Days along the sheet.
    caption, plot : Box
        Where.
    form : SheetFormat
        Sizes.
    """
    amounts, unit = days.pump_energy, days.energy_unit
    anyway = np.minimum(amounts, days.pump_energy_without_solar)
    axis, up = _amount_axis(amounts, days, plot, form, 4)
    spacing = 0.4 * form.note
    total = f"{_total(amounts, days)} {unit} in the year"
    return h.g(class_="pump")[
        axis,
        hatched_bars(
            month_boxes(along, up, np.zeros(12), anyway), ink.INK, ink.SHEET, spacing, "pump-anyway"
        ),
        solid_bars(month_boxes(along, up, anyway, amounts), ink.INK, "pump-added"),
        zero_line(up, plot, ink.INK),
        bar_figures(amounts, along, up, days.system, form),
        _caption(caption, plot, f"Pump electricity, {unit}", (total,), form, ink.INK),
        _pump_key(caption, f"Pump electricity, {unit}", _adding(days), form),
    ]


def _named(
    days: YearDays,
    band: tuple[Floats, Floats],
    without: Floats,
    air: Floats,
    target: Floats,
    form: SheetFormat,
) -> list[NamedLine]:
    style = Style(form.body, ink.WATER, anchor="middle", halo=True)
    note = replace(style, size=form.note, colour=ink.NOTE)
    wanted = f"target {_plain(days.target, days)} {days.temperature_unit}"
    return [
        NamedLine("with solar", replace(style, bold=True), *band),
        NamedLine(f"without {days.without}", style, without, without),
        NamedLine(wanted, replace(note, colour=ink.INK), target, target),
        NamedLine("air", note, air, air, strength=0.3),
    ]


def _adding(days: YearDays) -> str:
    """What adds to the water without solar."""
    return days.without.replace(" or ", " and ")


def _plain(value: float, days: YearDays) -> str:
    return digits(value, days.system, 1).removesuffix(".0")


def _total(amounts: Floats, days: YearDays) -> str:
    total = about(float(amounts.sum()))
    return digits(total, days.system, 1 if 0.0 < abs(total) < 100.0 else 0)


def _amount_axis(
    amounts: Floats, days: YearDays, plot: Box, form: SheetFormat, most: int
) -> tuple[h.Element, Scale]:
    ticks = amount_ticks(float(amounts.min()), float(amounts.max()), most)
    up = Scale(ticks[0], ticks[-1], plot.bottom - 0.7 * form.note, plot.top + 1.3 * form.note)
    places = 0 if float(ticks[1] - ticks[0]) >= 1.0 else 1
    texts = [digits(float(tick), days.system, places) for tick in ticks]
    return value_axis(ticks.tolist(), texts, up, plot, form), up


def _caption(
    caption: Box, plot: Box, lead: str, notes: tuple[str, ...], form: SheetFormat, colour: str
) -> h.Element:
    """Head a panel with what it shows, and to the right or below what else is to be known."""
    bold = Style(form.body, colour, bold=True)
    plain = Style(form.note, ink.NOTE, anchor="end")
    left, right = caption.left + 0.7 * form.note, plot.right
    baseline = caption.top + 1.0 * form.note + 0.4 * form.body
    note = next((text for text in notes if _length(text, plain) <= right - left), notes[-1])
    one_line = _length(lead, bold) + _length(note, plain) + 2 * form.note <= right - left
    below = baseline + line_pitch(bold)
    beside = text_line(right, baseline, note, plain)
    under = text_line(left, below, note, replace(plain, anchor="start"))
    return h.g(class_="caption")[
        line(caption.left, caption.top, caption.right, caption.top, ink.INK, ink.FINE),
        text_line(left, baseline, lead, bold),
        beside if one_line else under,
    ]


def _pump_key(caption: Box, lead: str, adding: str, form: SheetFormat) -> h.Element:
    """Say what hatched and solid mean, after the caption or in its second line."""
    bold, plain = Style(form.body, ink.INK, bold=True), Style(form.note, ink.NOTE)
    side = 0.8 * form.note
    tall = caption.height > 3.0 * form.note
    left = caption.left + 0.7 * form.note
    x = left if tall else left + _length(lead, bold) + 2.0 * form.note
    baseline = caption.top + 1.0 * form.note + 0.4 * form.body + (line_pitch(bold) if tall else 0.0)
    marks: list[h.Element] = []
    for text in ("runs anyway", f"added by {adding}"):
        swatch = Box(x, baseline - side, x + side, baseline)
        solid = text.startswith("added")
        fill = ink.INK if solid else ink.SHEET
        marks.append(rectangle(swatch, fill=fill, colour=ink.INK, weight=ink.FINE))
        if not solid:
            marks.append(hatch([swatch], ink.INK, ink.HAIR, 0.4 * form.note))
        marks.append(text_line(x + side + 0.4 * form.note, baseline, text, plain))
        x += side + 1.8 * form.note + _length(text, plain)
    return h.g(class_="key")[marks]


def _length(text: str, style: Style) -> float:
    return text_width(text, style)
