"""The sheet of settings: heat, watts and worth over the pump's speed or a valve's opening."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import accumulate, pairwise

import htpy as h
import numpy as np

from noonwater.core.units import System
from noonwater.design.tune import PerHour, TuneStudy
from noonwater.drawing import ink
from noonwater.drawing.axes import value_axis
from noonwater.drawing.count_axis import (
    Mark,
    Stroke,
    caption_height,
    count_rules,
    count_strip,
    curve_line,
    mark_lines,
    mark_names,
    panel_caption,
    scale_width,
)
from noonwater.drawing.scales import Scale, amount_ticks, digits
from noonwater.drawing.sheet import (
    DESK,
    Cell,
    SheetFormat,
    cells_in_rows,
    sheet,
    title_block,
    title_block_height,
)
from noonwater.drawing.strokes import Box, Floats, rectangle
from noonwater.drawing.year_days import checked_units

SHEET_NAMES = {"speed": "Pump speed", "bypass valve": "Bypass", "diverter": "Diverter"}


@dataclass(frozen=True)
class _Quantity:
    """What a panel of the sheet shows."""

    name: str
    title: str
    value: Callable[[PerHour], float | None]
    places: int
    colour: str


def tune_chart(study: TuneStudy, *, units: str, version: str, form: SheetFormat = DESK) -> str:
    """Draw what each setting does in the mean hour with water on the roof.

    Parameters
    ----------
    study : TuneStudy
        Settings and choice, in SI.
    units : {"US", "SI"}
        How numbers are written.
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
    system, quantities = checked_units(units), _quantities(study)
    scale = 1.0 if study.handle == "speed" else 100.0
    xs = np.array([setting.value * scale for setting in study.settings])
    marks, rows = _marks(study, scale), cells_in_rows(_cells(study, version), form)
    framed = form.framed
    foot = framed.bottom - title_block_height(rows, form)
    left, right = framed.left + scale_width(form), framed.right - 1.5 * form.note
    names, strip = 1.4 * form.note * len(marks), 2.0 * form.note
    caption = caption_height([each.title for each in quantities], form)
    plot = (foot - framed.top - 1.4 * form.note - names - 3 * caption - strip) / 3.0
    heights = (form.note, names + 0.4 * form.note, *[caption, plot] * 3, strip)
    edges = pairwise(accumulate(heights, initial=framed.top))
    bands = [Box(left, top, right, bottom) for top, bottom in edges]
    plots = [bands[3], bands[5], bands[7]]
    low, high = float(xs[0]), float(xs[-1])
    along = Scale(low, high if high > low else low + 1.0, left, right)
    ticks = [
        float(t) for t in amount_ticks(0.0, high, 15 if form is DESK else 7) if low <= t <= high
    ] or [low]
    unit = "rpm" if study.handle == "speed" else "% open"
    figures = [(unit, [digits(tick, system) for tick in ticks])]
    drawn: list[h.Node] = [
        _forbidden(study, xs, along, plots),
        *(count_rules(along, ticks, box) for box in plots),
    ]
    for quantity, head, box in zip(quantities, bands[2:7:2], plots, strict=True):
        drawn += _panel(study, quantity, (xs, along), (head, box), system, form)
    drawn += [
        mark_lines(marks, along, plots),
        mark_names(marks, along, bands[1], form),
        count_strip(along, ticks, figures, bands[8], form),
        title_block(rows, Box(framed.left, foot, framed.right, framed.bottom), form),
    ]
    title = f"{SHEET_NAMES[study.handle]}: {study.job.name}"
    return sheet(form, title, study.choice.reason, drawn)


def _quantities(study: TuneStudy) -> tuple[_Quantity, ...]:
    currency = study.job.money.currency
    last = _Quantity(
        "net",
        f"Worth of the heat less the added electricity’s, {currency} an hour",
        lambda each: None if each.net is None else 3600.0 * each.net,
        2,
        ink.HEAT,
    )
    if study.worth.heat is None and all(each.power_added <= 0 for each in study.per_hour):
        title = (
            "Pump at the wire beyond what it takes without solar, W (the job has no price of heat)"
        )
        last = _Quantity("added", title, lambda each: each.power_added, 0, ink.HEAT)
    elif study.worth.heat is None:
        last = _Quantity(
            "ratio",
            "Heat for each unit of added electricity, up to 100 (the job has no price of heat)",
            lambda each: min(each.heat / each.power_added, 100.0) if each.power_added > 0 else None,
            0,
            ink.HEAT,
        )
    return (
        _Quantity("heat", "Heat to the pool, kW", lambda each: each.heat / 1e3, 0, ink.WATER),
        _Quantity("power", "Pump at the wire, W", lambda each: each.power, 0, ink.INK),
        last,
    )


def _panel(
    study: TuneStudy,
    quantity: _Quantity,
    across: tuple[Floats, Scale],
    boxes: tuple[Box, Box],
    system: System,
    form: SheetFormat,
) -> list[h.Node]:
    (xs, along), (head, box) = across, boxes
    pairs = [
        (x, value)
        for x, each, setting in zip(xs.tolist(), study.per_hour, study.settings, strict=True)
        if setting.state.primes and (value := quantity.value(each)) is not None
    ]
    values = np.array([value for _, value in pairs] or [0.0])
    ticks = amount_ticks(float(values.min()), float(values.max()), 6)
    places = quantity.places if float(ticks[1] - ticks[0]) < 1.0 or quantity.places == 0 else 0
    up = Scale(float(ticks[0]), float(ticks[-1]), box.bottom - 0.8 * form.note, box.top + 4.0)
    stroke = Stroke(quantity.title, quantity.colour, "", ink.HEAVY)
    places_of = np.array([x for x, _ in pairs] or [float(xs[0])])
    return [
        panel_caption(head, quantity.title, form, quantity.colour),
        value_axis(
            ticks.tolist(), [digits(float(tick), system, places) for tick in ticks], up, box, form
        ),
        curve_line(places_of, values, (along, up), stroke, quantity.name),
    ]


def _marks(study: TuneStudy, scale: float) -> list[Mark]:
    unit = "rpm" if study.handle == "speed" else "% open"

    def words(text: str, value: float) -> str:
        return f"{text}: {value:,.0f} {unit}" if unit == "rpm" else f"{text}: {value:.0f} {unit}"

    choice, own = study.choice, study.settings[study.own].value * scale
    chosen = study.settings[choice.chosen].value * scale
    marks = [Mark(chosen, words("use", chosen), ink.HEAT, "")]
    if study.own != choice.chosen:
        marks.append(Mark(own, words("this job", own), ink.INK, ink.DASH_DOT))
    if choice.pays_best not in (None, choice.chosen):
        best = study.settings[choice.pays_best or 0].value * scale
        marks.append(Mark(best, words("pays best", best), ink.WATER, ink.DASH))
    if study.handle == "speed":
        for text, speed in (
            ("breaker shut", study.least.breaker_clean),
            ("breaker shut, filter dirty", study.least.breaker_dirty),
            ("primes, filter dirty", study.least.prime_dirty),
        ):
            if speed is not None:
                marks.append(Mark(speed, words(text, speed), ink.NOTE, "2 3"))
    return marks


def _forbidden(study: TuneStudy, xs: Floats, along: Scale, plots: list[Box]) -> h.Element:
    """Tint the settings that may not be used."""
    edges = [float(xs[0]), *(0.5 * (xs[1:] + xs[:-1])).tolist(), float(xs[-1])]
    spans: list[tuple[float, float]] = []
    for i, setting in enumerate(study.settings):
        if not setting.bounds:
            continue
        if spans and spans[-1][1] == edges[i]:
            spans[-1] = (spans[-1][0], edges[i + 1])
        else:
            spans.append((edges[i], edges[i + 1]))
    return h.g(class_="closed")[
        (
            rectangle(Box(along.at(start), plot.top, along.at(end), plot.bottom), fill=ink.CLOSED)
            for start, end in spans
            for plot in plots
        )
    ]


def _cells(study: TuneStudy, version: str) -> tuple[Cell, ...]:
    binds = f"{study.choice.binds} (tinted: not to be used)"
    return (
        Cell("job", study.job.name, 0.38, lead=True),
        Cell("sheet", SHEET_NAMES[study.handle], 0.14),
        Cell("what binds", binds, 0.38),
        Cell("Noonwater", version, 0.10),
    )
