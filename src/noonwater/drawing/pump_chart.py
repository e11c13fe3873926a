"""Pump and system curves in one chart, with the point that each state settles at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import hypot
from urllib.parse import quote

import htpy as h
import numpy as np

from noonwater.core.units import System, in_system, unit_label
from noonwater.drawing import ink
from noonwater.drawing.axes import value_axis
from noonwater.drawing.inset import inset
from noonwater.drawing.lettering import Style, middle_baseline, text_line, text_width
from noonwater.drawing.scales import Scale, amount_ticks, digits
from noonwater.drawing.sheet import DESK, POCKET, SheetFormat
from noonwater.drawing.strokes import Box, Floats, line, number, polyline, rectangle
from noonwater.hydraulics.curves import CurvePoint, PumpCurve, SystemCurve

Name = tuple[float, float, str]
"""Place of a name [drawing units], and the name."""
FINGER = 22.0
"""[drawing units] Half of what a finger needs; a unit is a CSS pixel."""


@dataclass(frozen=True)
class ChartForm:
    """Room for the chart.

    Attributes
    ----------
    width, height : float
        [drawing units]
    letters : SheetFormat
        Sizes of letters.
    """

    width: float
    height: float
    letters: SheetFormat


SCREEN = ChartForm(620.0, 420.0, DESK)
PHONE = ChartForm(360.0, 330.0, POCKET)


@dataclass(frozen=True)
class OperatingPoint:
    """What a state settles at: its number in the list of states, name, flow [m³/s], head [m]."""

    count: int
    state: str
    flow: float
    head: float


@dataclass(frozen=True)
class _Plane:
    """Places of flow and head on the chart."""

    along: Scale
    up: Scale
    system: System

    def at(self, flow: float, head: float) -> tuple[float, float]:
        return (
            self.along.at(in_system(flow, "flow", self.system)),
            self.up.at(in_system(head, "head", self.system)),
        )

    def through(self, points: Sequence[CurvePoint]) -> tuple[Floats, Floats]:
        places = np.array([self.at(point.flow, point.head) for point in points])
        return places[:, 0], places[:, 1]


def pump_chart(
    pumps: Sequence[PumpCurve],
    systems: Sequence[SystemCurve],
    points: Sequence[OperatingPoint],
    *,
    units: System,
    form: ChartForm = SCREEN,
) -> str:
    """Draw the curves and points.

    Parameters
    ----------
    pumps : sequence of PumpCurve
        One a speed.
    systems : sequence of SystemCurve
        One for each position of the valves.
    points : sequence of OperatingPoint
        Of the states in which the pump runs.
    units : {"US", "SI"}
        Units on the axes.
    form : ChartForm
        Room for it.

    Returns
    -------
    str
        SVG; each point leads to its state.
    """
    note = form.letters.note
    plot = Box(3.4 * note, 2.2 * note, form.width - note, form.height - 3.4 * note)
    plane, flows, heads = _plane(pumps, points, plot, units)
    marks = [
        _axes(plane, (flows, heads), plot, form.letters),
        h.g(class_="pumps")[[_pump(curve, plane, plot) for curve in pumps]],
        h.g(class_="systems")[[_pieces(curve, plane, plot) for curve in systems]],
        h.g(class_="names")[
            _pump_names(pumps, plane, note), _system_names(systems, plane, plot, note)
        ],
        h.g(class_="points")[[_point(points, n, plane, note) for n in range(len(points))]],
        rectangle(plot, colour=ink.INK, weight=ink.FINE),
    ]
    whole = Box(0.0, 0.0, form.width, form.height)
    title = "Pump and system curves with the points of all states"
    return inset(whole, title, marks, role="group")


def _plane(
    pumps: Sequence[PumpCurve], points: Sequence[OperatingPoint], plot: Box, system: System
) -> tuple[_Plane, Floats, Floats]:
    """Axes over all that was measured and all states."""
    most_flow = max([1e-3, *(c.flow_measured for c in pumps), *(1.05 * p.flow for p in points)])
    most_head = max([1.0, *(point.head for curve in pumps for point in curve.points)])
    flows = amount_ticks(0.0, in_system(most_flow, "flow", system), 8)
    heads = amount_ticks(0.0, in_system(most_head, "head", system), 8)
    along = Scale(0.0, float(flows[-1]), plot.left, plot.right)
    up = Scale(0.0, float(heads[-1]), plot.bottom, plot.top)
    return _Plane(along, up, system), flows, heads


def _axes(
    plane: _Plane, ticks: tuple[Floats, Floats], plot: Box, letters: SheetFormat
) -> h.Element:
    flows, heads = ticks
    note, system = letters.note, plane.system
    style = Style(note, anchor="middle")
    marks: list[h.Node] = []
    for flow in flows.tolist():
        x = plane.along.at(flow)
        marks.append(line(x, plot.top, x, plot.bottom, ink.GRID, ink.HAIR))
        marks.append(text_line(x, plot.bottom + 1.3 * note, digits(flow, system), style))
    texts = [digits(head, system) for head in heads.tolist()]
    marks.append(value_axis(heads.tolist(), texts, plane.up, plot, letters))
    flow_unit, head_unit = (unit_label(kind, system) for kind in ("flow", "head"))
    right = Style(note, ink.NOTE, anchor="end")
    marks.append(text_line(0.3 * note, 1.3 * note, f"head, {head_unit}", Style(note, ink.NOTE)))
    foot = plot.bottom + 2.7 * note
    marks.append(text_line(plot.right, foot, f"flow through the pump, {flow_unit}", right))
    return h.g(class_="axes")[marks]


def _pump(curve: PumpCurve, plane: _Plane, plot: Box) -> list[h.Element]:
    """The curve as measured, and finer what lies beyond."""
    shown = [point for point in curve.points if plane.at(point.flow, 0.0)[0] <= plot.right]
    known = [point for point in shown if point.flow <= curve.flow_measured]
    beyond = shown[len(known) - 1 :]
    marks = [polyline(*plane.through(known), ink.INK, ink.MEDIUM, name="pump-curve")]
    if len(beyond) > 1:
        marks.append(polyline(*plane.through(beyond), ink.RULE, ink.FINE, dash="2 4"))
    return marks


def _pieces(curve: SystemCurve, plane: _Plane, plot: Box) -> list[h.Element]:
    """With solar a line for each stretch in which the breaker stands alike; dashed without."""
    marks = []
    for _, group in groupby(curve.points, key=lambda point: curve.solar and point.breaker):
        xs, ys = _inside(*plane.through(list(group)), plot)
        if len(xs) < 2:
            continue
        dash = "" if curve.solar else ink.DASH
        weight = ink.HEAVY if curve.solar else ink.MEDIUM
        marks.append(polyline(xs, ys, ink.WATER, weight, dash=dash, name="system-curve"))
    return marks


def _inside(xs: Floats, ys: Floats, plot: Box) -> tuple[Floats, Floats]:
    """Cut a rising line where it comes in from below and where it leaves the plot."""
    first = int((ys > plot.bottom).sum())  # a booster gives more head than the array asks for
    if first == len(xs):
        return xs[:0], ys[:0]
    if first:
        entry = np.interp(-plot.bottom, -ys[first - 1 : first + 1], xs[first - 1 : first + 1])
        xs, ys = np.append(entry, xs[first:]), np.append(plot.bottom, ys[first:])
    keep = (xs <= plot.right) & (ys >= plot.top)
    last = int(keep.sum())
    if last in (0, len(xs)):
        return xs[:last], ys[:last]
    (x0, x1), (y0, y1) = xs[last - 1 : last + 1], ys[last - 1 : last + 1]
    share = min((plot.right - x0) / (x1 - x0), (plot.top - y0) / (y1 - y0) if y1 < y0 else 1.0)
    end = np.array([x0 + share * (x1 - x0)]), np.array([y0 + share * (y1 - y0)])
    return np.concatenate([xs[:last], end[0]]), np.concatenate([ys[:last], end[1]])


def _pump_names(pumps: Sequence[PumpCurve], plane: _Plane, note: float) -> list[h.Element]:
    """Speeds above their lines, below where another is near; unnamed where there is no room."""
    style = Style(note, halo=True)
    marks: list[h.Element] = []
    ends = [plane.at(curve.points[0].flow, curve.points[0].head) for curve in pumps]
    free = float("inf")
    for (x, y), curve in zip(ends, pumps, strict=True):
        near = any(0.0 < y - other < 1.3 * note for _, other in ends)
        baseline = y + 1.1 * note if near else y - 0.4 * note
        if baseline <= free:
            marks.append(text_line(x + 0.5 * note, baseline, f"{curve.speed:.0f} rpm", style))
            free = baseline - 1.2 * note
    return marks


def _system_names(
    systems: Sequence[SystemCurve], plane: _Plane, plot: Box, note: float
) -> list[h.Element]:
    """Names on the lines, left above the middle of each, where a rising line leaves room."""
    style = Style(note, ink.WATER, bold=True, anchor="end", halo=True)
    named: list[Name] = []
    for curve in systems:
        if not curve.points:
            continue
        xs, ys = _inside(*plane.through(curve.points), plot)
        if len(xs) < 2:
            continue
        x = 0.6 * float(xs[-1]) + 0.4 * float(xs[0])
        y = float(np.interp(x, xs, ys))
        named.append((x - 0.4 * note, y - 0.5 * note, curve_name(curve)))
    return [text_line(x, y, words, style) for x, y, words in _joined(named, 0.9 * note)]


def _joined(named: Sequence[Name], near: float) -> list[Name]:
    """Write names that would lie on each other as one, at the place of the first."""
    apart: list[Name] = []
    for x, y, words in named:
        for n, (left, top, first) in enumerate(apart):
            if abs(x - left) < 4.0 * near and abs(y - top) < near:
                apart[n] = (left, top, f"{first}, {words}")
                break
        else:
            apart.append((x, y, words))
    return apart


def curve_name(curve: SystemCurve) -> str:
    """Name a system curve by what its states share: "solar", "filter"."""
    return curve.states[0].rpartition(" rpm")[0].rpartition(" ")[0] or curve.states[0]


def _point(points: Sequence[OperatingPoint], n: int, plane: _Plane, note: float) -> h.Element:
    """A state's number at its place; the last of several on one place carries all their numbers."""
    point = points[n]
    x, y = plane.at(point.flow, point.head)
    radius = 0.85 * note
    style = Style(note, ink.SHEET, bold=True, anchor="middle")
    here = [each for each in points[: n + 1] if _distance(each, point, plane) < 0.5 * radius]
    count = ", ".join(str(each.count) for each in here)
    wide = max(0.5 * text_width(count, style) + 0.4 * note, radius)
    flow, head = (
        f"{in_system(value, kind, plane.system):.1f} {unit_label(kind, plane.system)}"
        for value, kind in ((point.flow, "flow"), (point.head, "head"))
    )
    return h.a(
        {"aria-label": f"{point.state}: {flow} at {head}", "data-ask": ""},
        href=f"?state={quote(point.state)}",
        class_="point",
    )[
        h.circle(cx=number(x), cy=number(y), r=number(FINGER), fill="none", pointer_events="all"),
        h.rect(
            x=number(x - wide), y=number(y - radius), width=number(2.0 * wide),
            height=number(2.0 * radius), rx=number(radius), fill=ink.HEAT,
        ),
        text_line(x, middle_baseline(y, style), count, style),
    ]  # fmt: skip


def _distance(one: OperatingPoint, other: OperatingPoint, plane: _Plane) -> float:
    (x0, y0), (x1, y1) = plane.at(one.flow, one.head), plane.at(other.flow, other.head)
    return hypot(x1 - x0, y1 - y0)
