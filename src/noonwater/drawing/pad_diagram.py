"""The sheet of the pad: the circuit in one state, made from the circuit alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import htpy as h

from noonwater.core.units import System, show
from noonwater.drawing import ink
from noonwater.drawing.pad_layout import Layout, laid_out, plan_height
from noonwater.drawing.pad_plan import draw_plan
from noonwater.drawing.pad_route import Point, Track
from noonwater.drawing.pad_side import Column, fill_column, head_column, state_sentence
from noonwater.drawing.pad_sketch import PadForm
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater
from noonwater.drawing.sheet import (
    DESK,
    POCKET,
    Cell,
    Rows,
    SheetFormat,
    sheet,
    title_block,
    title_block_height,
)
from noonwater.drawing.strokes import Box, line
from noonwater.model.circuit import Circuit


@dataclass(frozen=True)
class PadDrawing:
    """A sheet of the pad, and where things lie on it.

    Attributes
    ----------
    svg : str
        Stands alone; the same for the same circuit and state.
    width, height : float
        [drawing units]
    middles : dict of str to point
        Of all that is drawn, by name. [drawing units]
    tracks : dict of str to track
        Corners of each pipe, by name. [drawing units]
    """

    svg: str
    width: float
    height: float
    middles: dict[str, Point]
    tracks: dict[str, Track]


SHEET_NAME = "Pad diagram"
_SIDE = 300.0
_GROWTH = (1.0, 1.08, 1.16, 1.25, 1.35, 1.5, 1.7, 2.0, 2.4, 3.0)
"""A pad with very many parts gets a larger sheet; printed, its letters are smaller by as much."""


@dataclass(frozen=True)
class PadTitle:
    """What the title block says.

    Attributes
    ----------
    job : str
        Its name.
    pipe : str
        Size of most pipe, in words.
    version : str
        Of Noonwater.
    inputs_hash : str
        Fingerprint of the job.
    """

    job: str
    pipe: str
    version: str
    inputs_hash: str


def pad_diagram(circuit: Circuit, water: PadWater, title: PadTitle, *, units: System) -> PadDrawing:
    """Draw the pad in one state on a sheet for desk and paper.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes; any.
    water : PadWater
        The state.
    title : PadTitle
        For the title block.
    units : {"US", "SI"}
        Units on the sheet.

    Returns
    -------
    PadDrawing
        An A sheet across.
    """
    subject = Subject(circuit, water, units)
    rows = _desk_rows(title, water)
    for growth in _GROWTH:
        form = replace(DESK, width=growth * DESK.width, height=growth * DESK.height)
        framed = form.framed
        foot = framed.bottom - title_block_height(rows, form)
        edge = framed.right - _SIDE - 10.0
        region = Box(framed.left + 6.0, framed.top, edge, foot - 8.0)
        pad = PadForm(form, region, region.left + 165.0, region.right - 165.0, 1.0, stacked=False)
        column = Column(framed.right - _SIDE, framed.right - 10.0, framed.top + 8.0, form)
        head_column(column, subject)
        fill_column(column, subject, title.pipe)
        if plan_height(subject, pad) <= region.height and column.y <= foot:
            break
    divider = line(edge, framed.top, edge, foot, ink.RULE, ink.FINE)
    laid = laid_out(subject, pad)
    marks = [*draw_plan(subject, laid), divider, h.g(class_="side")[column.marks]]
    return _drawing(laid, form, _sheet(subject, title, (form, rows, foot), marks))


def pad_diagram_narrow(
    circuit: Circuit, water: PadWater, title: PadTitle, *, units: System
) -> PadDrawing:
    """Draw the pad in one state on a sheet for a telephone, legible at 390 pixels.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes; any.
    water : PadWater
        The state.
    title : PadTitle
        For the title block.
    units : {"US", "SI"}
        Units on the sheet.

    Returns
    -------
    PadDrawing
        Upright, as tall as it has to be.
    """
    subject = Subject(circuit, water, units)
    rows = _pocket_rows(title, water)
    framed = POCKET.framed
    left, right = framed.left + 8.0, framed.right - 8.0
    head = Column(left, right, framed.top + 6.0, POCKET)
    head_column(head, subject)
    region = Box(framed.left + 2.0, head.y + 6.0, framed.right - 2.0, head.y + 1e5)
    pad = PadForm(POCKET, region, region.left + 104.0, region.right - 104.0, 0.82, True, 3)
    need = 1.06 * plan_height(subject, pad)
    pad = replace(pad, region=replace(region, bottom=region.top + need))
    column = Column(left, right, pad.region.bottom + 10.0, POCKET)
    fill_column(column, subject, title.pipe)
    foot = column.y + 8.0
    form = replace(POCKET, height=foot + title_block_height(rows, POCKET) + POCKET.margin)
    laid = laid_out(subject, pad)
    marks = [
        h.g(class_="head")[head.marks],
        *draw_plan(subject, laid),
        h.g(class_="side")[column.marks],
    ]
    return _drawing(laid, form, _sheet(subject, title, (form, rows, foot), marks))


def _drawing(laid: Layout, form: SheetFormat, svg: str) -> PadDrawing:
    return PadDrawing(svg, form.width, form.height, laid.middles, laid.tracks)


def _desk_rows(title: PadTitle, water: PadWater) -> Rows:
    return (
        (
            Cell("job", title.job, 0.36, lead=True),
            Cell("sheet", SHEET_NAME, 0.12),
            Cell("state", water.state.name, 0.18),
            Cell("pipe", title.pipe, 0.16),
            Cell("Noonwater", title.version, 0.08),
            Cell("inputs", title.inputs_hash[:8], 0.10),
        ),
    )


def _pocket_rows(title: PadTitle, water: PadWater) -> Rows:
    return (
        (Cell("job", title.job, 1.0, lead=True),),
        (Cell("sheet", SHEET_NAME, 0.4), Cell("state", water.state.name, 0.6)),
        (
            Cell("pipe", title.pipe, 0.4),
            Cell("Noonwater", title.version, 0.26),
            Cell("inputs", title.inputs_hash[:8], 0.34),
        ),
    )


def _sheet(
    subject: Subject,
    title: PadTitle,
    frame: tuple[SheetFormat, Rows, float],
    marks: Sequence[h.Node],
) -> str:
    form, rows, foot = frame
    framed = form.framed
    block = title_block(rows, Box(framed.left, foot, framed.right, framed.bottom), form)
    name = f"{SHEET_NAME}: {title.job}, {subject.water.state.name}"
    return sheet(form, name, _described(subject), [*marks, block])


def _described(subject: Subject) -> str:
    """Say what the sheet shows, for those who hear it."""
    figures, system = subject.water.figures, subject.system
    flow, roof = (show(value, "flow", system) for value in (figures.flow, figures.array_flow))
    valves = "; ".join(f"{count} {node}" for node, count in subject.numbers.items())
    return (
        f"{state_sentence(subject.water, system)} {flow} through the pump, {roof} over the roof. "
        f"Numbered valves: {valves or 'none'}. Heights are not to scale."
    )
