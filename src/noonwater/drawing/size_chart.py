"""The sheet of sizes: days at the target, temperature and heat over the number of panels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import accumulate, pairwise

import htpy as h
import numpy as np

from noonwater.core.units import System, in_system, unit_label
from noonwater.design.size import SizeStudy
from noonwater.design.size_curve import SizeCurve, SizePoint
from noonwater.drawing import ink
from noonwater.drawing.axes import value_axis
from noonwater.drawing.count_axis import (
    Mark,
    Stroke,
    caption_height,
    count_rules,
    count_strip,
    count_ticks,
    curve_line,
    key_rows,
    mark_lines,
    mark_names,
    panel_caption,
    scale_width,
    stroke_key,
)
from noonwater.drawing.scales import TEMPERATURE_STEPS, Scale, amount_ticks, digits, ticks_over
from noonwater.drawing.sheet import (
    DESK,
    Cell,
    SheetFormat,
    cells_in_rows,
    sheet,
    title_block,
    title_block_height,
)
from noonwater.drawing.strokes import Box, Floats, number, rectangle
from noonwater.drawing.year_days import checked_units

SHEET_NAME = "Panels"
MOST_CURVES = 5
MOST_DEGREES = 7
PLANE_DASHES = ("14 4 2 4", "2 4", "10 3 2 3 2 3")
KWH = 3.6e6


@dataclass(frozen=True)
class _Quantity:
    """What a panel of the sheet shows: words, value of a point, ticks over a range."""

    name: str
    title: str
    value: Callable[[SizePoint], float]
    ticks: Callable[[float, float], Floats]


def size_chart(study: SizeStudy, *, units: str, version: str, form: SheetFormat = DESK) -> str:
    """Draw what each number of panels gives.

    Parameters
    ----------
    study : SizeStudy
        Curves, in SI.
    units : {"US", "SI"}
        Units on the sheet.
    version : str
        Of Noonwater.
    form : SheetFormat
        The desk's, or the telephone's.

    Returns
    -------
    str
        SVG that stands alone; the same for the same study.

    Raises
    ------
    InputError
        For units that are none.
    """
    system, quantities = checked_units(units), _quantities(checked_units(units))
    curves = _drawn_curves(study)
    strokes = [_stroke(study, curve, place) for place, curve in enumerate(curves)]
    marks = _marks(study)
    rows = cells_in_rows(_cells(study, system, version), form)
    framed = form.framed
    foot = framed.bottom - title_block_height(rows, form)
    inner = (framed.left + scale_width(form), framed.right - 1.5 * form.note)
    key = 1.5 * form.note * key_rows(strokes, inner[1] - inner[0], form)
    names = 1.4 * form.note * max(len(marks), 1)
    caption, strip = caption_height([each.title for each in quantities], form), 3.4 * form.note
    plot = (foot - framed.top - form.note - key - names - 3 * caption - strip) / 3.0
    heights = (form.note, key, names, *[caption, plot] * 3, strip)
    edges = pairwise(accumulate(heights, initial=framed.top))
    bands = [Box(inner[0], top, inner[1], bottom) for top, bottom in edges]
    plots = [bands[4], bands[6], bands[8]]
    most = max(point.panels for curve in curves for point in curve.points)
    along = Scale(0.0, float(most), inner[0], inner[1])
    ticks = count_ticks(float(most), 15 if form is DESK else 8)
    drawn: list[h.Node] = [
        stroke_key(strokes, bands[1], form),
        _out_of_reach(curves[0], along, plots),
        *(count_rules(along, ticks, box) for box in plots),
    ]
    for quantity, head, box in zip(quantities, bands[3:8:2], plots, strict=True):
        drawn += _panel(quantity, curves, strokes, along, (head, box), system, form)
    drawn += [
        mark_lines(marks, along, plots),
        mark_names(marks, along, bands[2], form),
        count_strip(along, ticks, _figures(study, ticks, system), bands[9], form),
        title_block(rows, Box(framed.left, foot, framed.right, framed.bottom), form),
    ]
    return sheet(form, f"{SHEET_NAME}: {study.job.name}", _described(study), drawn)


def _quantities(system: System) -> tuple[_Quantity, ...]:
    degrees = unit_label("temperature", system)
    return (
        _Quantity(
            "days",
            "Days of the season at the target",
            lambda point: float(point.year.days_at_target),
            lambda low, high: amount_ticks(low, high, 6),
        ),
        _Quantity(
            "mean",
            f"Season’s mean of the pool, {degrees}",
            lambda point: in_system(point.year.season_pool, "temperature", system),
            _degree_ticks,
        ),
        _Quantity(
            "heat",
            "Solar heat to the pool in the year, kWh",
            lambda point: point.year.solar_heat / KWH,
            lambda low, high: amount_ticks(low, high, 6),
        ),
    )


def _degree_ticks(low: float, high: float) -> Floats:
    """Whole degrees over a range that is narrower than a year's."""
    for step in TEMPERATURE_STEPS:
        ticks = ticks_over(low, high, step)
        if len(ticks) <= MOST_DEGREES:
            break
    return ticks


def _panel(
    quantity: _Quantity,
    curves: list[SizeCurve],
    strokes: list[Stroke],
    along: Scale,
    boxes: tuple[Box, Box],
    system: System,
    form: SheetFormat,
) -> list[h.Node]:
    head, box = boxes
    values = [[quantity.value(point) for point in curve.points] for curve in curves]
    flat = [value for row in values for value in row]
    ticks = quantity.ticks(min(flat), max(flat))
    up = Scale(float(ticks[0]), float(ticks[-1]), box.bottom - 0.8 * form.note, box.top + 4.0)
    texts = [digits(float(tick), system) for tick in ticks]
    lines = [
        curve_line(np.array([float(p.panels) for p in curve.points]), np.array(row),
                   (along, up), stroke, quantity.name)
        for curve, row, stroke in zip(curves, values, strokes, strict=True)
    ]  # fmt: skip
    return [
        panel_caption(head, quantity.title, form),
        value_axis(ticks.tolist(), texts, up, box, form),
        lines[::-1],
        _dots(curves[0], values[0], along, up),
    ]


def _dots(curve: SizeCurve, values: list[float], along: Scale, up: Scale) -> h.Element:
    """A dot at each number of panels, a ring at the knee."""
    marks = []
    for point, value in zip(curve.points, values, strict=True):
        at_knee = point.panels == curve.knee
        marks.append(
            h.circle(
                cx=number(along.at(float(point.panels))),
                cy=number(up.at(value)),
                r="6" if at_knee else "2.5",
                fill=ink.SHEET if at_knee else ink.WATER,
                stroke=ink.HEAT if at_knee else "none",
                stroke_width="2.5" if at_knee else "0",
            )
        )
    return h.g(class_="points")[marks]


def _drawn_curves(study: SizeStudy) -> list[SizeCurve]:
    """The job's planes with both covers, then each plane with the job's cover."""
    first = study.curves[0]
    alone = [
        curve
        for curve in study.curves
        if curve.cover == first.cover and curve.planes != first.planes
    ]
    pair = [curve for curve in study.curves if curve.planes == first.planes]
    return [*pair, *alone][:MOST_CURVES]


def _stroke(study: SizeStudy, curve: SizeCurve, place: int) -> Stroke:
    covered = "no cover" if curve.cover == "none" else f"{curve.cover} cover"
    name = f"{' + '.join(curve.planes)}, {covered}"
    if curve.planes == study.curves[0].planes:
        dash = "" if place == 0 else ink.DASH
        return Stroke(name, ink.WATER, dash, ink.HEAVY if place == 0 else ink.MEDIUM)
    return Stroke(name, ink.INK, PLANE_DASHES[place % len(PLANE_DASHES)], ink.MEDIUM)


def _marks(study: SizeStudy) -> list[Mark]:
    curve = study.curves[0]
    marks = []
    if curve.knee is not None:
        marks.append(Mark(curve.knee, f"knee: {curve.knee} panels", ink.HEAT, ""))
    if study.own is not None:
        own = study.own.panels
        marks.append(Mark(own, f"this job: {own} panels", ink.INK, ink.DASH_DOT))
    words = {
        "roof": "the roof holds {}",
        "pump": "the pump serves {}",
        "pump, fewest": "the pump serves {} or more",
        "flow": "the pump gives {} the wanted flow",
    }
    last = curve.points[-1].panels
    for limit in study.limits:
        planes = set(curve.planes)
        whole = limit.planes == curve.planes or (limit.name == "roof" and len(planes) == 1)
        if limit.name in words and whole and set(limit.planes) <= planes:
            text = words[limit.name].format(limit.panels)
            marks.append(Mark(min(limit.panels, last), text, ink.NOTE, "2 3"))
    return marks


def _out_of_reach(curve: SizeCurve, along: Scale, plots: list[Box]) -> h.Element:
    """Tint the numbers of panels that this pump does not serve."""
    counts = [point.panels for point in curve.points]
    edges = [0.0, *((a + b) / 2.0 for a, b in pairwise(counts)), float(counts[-1])]
    return h.g(class_="closed")[
        (
            rectangle(
                Box(along.at(edges[i]), plot.top, along.at(edges[i + 1]), plot.bottom),
                fill=ink.CLOSED,
            )
            for i, point in enumerate(curve.points)
            if point.bounds
            for plot in plots
        )
    ]


def _figures(study: SizeStudy, ticks: list[float], system: System) -> list[tuple[str, list[str]]]:
    points = [point for curve in study.curves for point in curve.points if point.panels]
    each = points[0].area / points[0].panels
    areas = [digits(in_system(tick * each, "area", system), system) for tick in ticks]
    return [
        ("panels", [digits(tick, system) for tick in ticks]),
        (unit_label("area", system), areas),
    ]


def _cells(study: SizeStudy, system: System, version: str) -> tuple[Cell, ...]:
    pool = study.job.pool
    target = digits(in_system(pool.target, "temperature", system), system)
    wish = f"{target} {unit_label('temperature', system)}, {pool.opens} to {pool.closes}"
    return (
        Cell("job", study.job.name, 0.42, lead=True),
        Cell("sheet", SHEET_NAME, 0.14),
        Cell("target and season", wish, 0.34),
        Cell("Noonwater", version, 0.10),
    )


def _described(study: SizeStudy) -> str:
    curve = study.curves[0]
    last = curve.points[-1]
    knee = "" if curve.knee is None else f" The knee of the heat lies at {curve.knee} panels."
    return (
        f"Curves of days at the target, mean temperature and heat over the number of panels on"
        f" {' and '.join(curve.planes)}: without panels {curve.points[0].year.days_at_target} days,"
        f" with {last.panels} panels {last.year.days_at_target} days.{knee}"
    )
