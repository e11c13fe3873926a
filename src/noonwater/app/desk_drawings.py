"""Drawings for the desk: each as a wide sheet and one for the telephone."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from noonwater.app.desk import View, studied
from noonwater.core.errors import NoonwaterError
from noonwater.model.job import Job


@dataclass(frozen=True)
class Drawing:
    """A drawing for two widths of screen, as SVG."""

    wide: str
    narrow: str


def year_drawing(view: View) -> Drawing | None:
    """Draw the pool's year; None where there is none."""
    from noonwater.drawing.year_chart import year_chart, year_chart_narrow

    year, pool = view.studied.year, view.job.pool
    if year is None:
        return None
    wide, narrow = (
        draw(year, units=view.system, opens=pool.opens, closes=pool.closes)
        for draw in (year_chart, year_chart_narrow)
    )
    return Drawing(wide, narrow)


def pad_drawing(view: View, state: str) -> Drawing | None:
    """Draw the pad in a state, the first where the name is none; None where nothing flows."""
    return _pad_drawing(view.job, state)


@lru_cache(maxsize=32)
def _pad_drawing(job: Job, state: str) -> Drawing | None:
    from noonwater.app.pad_answer import answer_pad

    flow = studied(job).flow
    if flow is None:
        return None
    names = [each.name for each in flow.states]
    try:
        sheets = answer_pad(job, state if state in names else names[0]).sheets[0]
    except NoonwaterError:
        return None
    return Drawing(sheets["wide"].svg, sheets["narrow"].svg)
