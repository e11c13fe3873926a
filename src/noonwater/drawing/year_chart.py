"""The sheet of the pool's year: temperature day by day, the sun's heat, the pump's electricity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

import htpy as h

from noonwater.drawing.axes import (
    closed_ground,
    month_rules,
    month_strip,
    season_strip,
)
from noonwater.drawing.calendar import DAYS, Season
from noonwater.drawing.scales import Scale
from noonwater.drawing.sheet import (
    DESK,
    POCKET,
    Cell,
    SheetFormat,
    sheet,
    title_block,
    title_block_height,
)
from noonwater.drawing.strokes import Box
from noonwater.drawing.year_days import YearDays, checked_season, checked_units, year_days
from noonwater.drawing.year_panels import heat_panel, pump_panel, temperature_panel
from noonwater.drawing.year_words import described
from noonwater.year.result import YearResult

SHEET_NAME = "The pool’s year"


@dataclass(frozen=True)
class _Layout:
    """How the sheet's height is shared out. [drawing units]

    Attributes
    ----------
    form : SheetFormat
        Size of sheet and letters.
    scale_width : float
        Left of the plots, for the figures of the scales.
    caption_lines : tuple of int
        Lines of each panel's caption.
    heat, pump : float
        Heights of the bars' plots; the temperatures get what is left.
    most_ticks : int
        On the temperature scale.
    """

    form: SheetFormat
    scale_width: float
    caption_lines: tuple[int, int, int]
    heat: float
    pump: float
    most_ticks: int


_DESK = _Layout(
    DESK, scale_width=62.0, caption_lines=(1, 1, 1), heat=122.0, pump=82.0, most_ticks=15
)
_POCKET = _Layout(
    POCKET, scale_width=46.0, caption_lines=(2, 1, 2), heat=96.0, pump=64.0, most_ticks=15
)


def year_chart(result: YearResult, *, units: str, opens: str, closes: str) -> str:
    """Draw the pool's year on a sheet for desk and paper.

    Parameters
    ----------
    result : YearResult
        The year, in SI.
    units : {"US", "SI"}
        Units on the sheet.
    opens, closes : str
        Season as 'MM-DD', both days included; it may reach over the year's end.

    Returns
    -------
    str
        SVG that stands alone, an A sheet across; the same for the same result.

    Raises
    ------
    InputError
        For units or days that are none.
    """
    system, season = checked_units(units), checked_season(opens, closes)
    rows = (
        (
            Cell("job", result.job, 0.38, lead=True),
            Cell("sheet", SHEET_NAME, 0.14),
            Cell("weather", _weather(result), 0.30),
            *_maker(result, 0.09, 0.09),
        ),
    )
    return _drawn(result, year_days(result, system), season, rows, _DESK)


def year_chart_narrow(result: YearResult, *, units: str, opens: str, closes: str) -> str:
    """Draw the pool's year on a sheet for a telephone, legible at 390 pixels.

    Parameters
    ----------
    result : YearResult
        The year, in SI.
    units : {"US", "SI"}
        Units on the sheet.
    opens, closes : str
        Season as 'MM-DD', both days included; it may reach over the year's end.

    Returns
    -------
    str
        SVG that stands alone, upright; the same for the same result.

    Raises
    ------
    InputError
        For units or days that are none.
    """
    system, season = checked_units(units), checked_season(opens, closes)
    rows = (
        (Cell("job", result.job, 1.0, lead=True),),
        (Cell("weather", _weather(result), 1.0),),
        (Cell("sheet", SHEET_NAME, 0.4), *_maker(result, 0.28, 0.32)),
    )
    return _drawn(result, year_days(result, system), season, rows, _POCKET)


def _drawn(
    result: YearResult,
    days: YearDays,
    season: Season,
    rows: Sequence[Sequence[Cell]],
    layout: _Layout,
) -> str:
    form, framed = layout.form, layout.form.framed
    foot = framed.bottom - title_block_height(rows, form)
    captions, plots, strips = _shared_out(layout, foot)
    along = Scale(0.0, float(DAYS), plots[0].left, plots[0].right)
    marks: list[h.Node] = [
        *(closed_ground(season, along, plot) for plot in plots),
        *(month_rules(along, plot) for plot in plots),
        temperature_panel(days, along, captions[0], plots[0], form, layout.most_ticks),
        heat_panel(days, along, captions[1], plots[1], form),
        pump_panel(days, along, captions[2], plots[2], form),
        season_strip(season, along, strips[0], days.system, form),
        month_strip(along, strips[1], form),
        title_block(rows, Box(framed.left, foot, framed.right, framed.bottom), form),
    ]
    return sheet(form, f"{SHEET_NAME}: {result.job}", described(result, days, season), marks)


def _shared_out(layout: _Layout, foot: float) -> tuple[list[Box], list[Box], tuple[Box, Box]]:
    """Captions and plots of the three panels, the season's and the months' strips."""
    form, framed = layout.form, layout.form.framed
    captions = [form.note * (0.9 + 1.3 * lines) for lines in layout.caption_lines]
    season, months = 1.9 * form.note, 1.8 * form.note
    fixed = sum(captions) + season + months + layout.heat + layout.pump
    heights = (
        captions[0], season, foot - framed.top - fixed, months,
        captions[1], layout.heat, captions[2], layout.pump,
    )  # fmt: skip
    edges = pairwise(accumulate(heights, initial=framed.top))
    bands = [Box(framed.left, top, framed.right, bottom) for top, bottom in edges]
    right = framed.right - 0.8 * form.note
    inner = [Box(framed.left + layout.scale_width, b.top, right, b.bottom) for b in bands]
    return [bands[0], bands[4], bands[6]], [inner[2], inner[5], inner[7]], (inner[1], inner[3])


def _weather(result: YearResult) -> str:
    # The citation behind a source's name is for the papers; here it would be cut.
    return f"{result.weather.kind}: {result.weather.source.partition(' (')[0]}"


def _maker(result: YearResult, version: float, inputs: float) -> tuple[Cell, Cell]:
    """What computed the year, and from what; the hash tells two years of one job apart."""
    return Cell("Noonwater", result.version, version), Cell(
        "inputs", result.inputs_hash[:8], inputs
    )
