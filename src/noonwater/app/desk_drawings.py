"""Drawings for the desk: each as a wide sheet and one for the telephone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from noonwater.app.desk import View, studied
from noonwater.model.job import Job

WIDTH = "width"
"""What a view is asked for: how wide the screen is."""
FORMS = ("wide", "narrow")


@dataclass(frozen=True)
class Drawing:
    """A drawing for two widths of screen, as SVG; "" where that width was not asked for."""

    wide: str
    narrow: str


def year_drawing(view: View) -> Drawing | None:
    """Draw the pool's year; None where there is none."""
    if view.studied.year is None:
        return None
    return drawing_of(view, lambda form: _year_chart(view.job, form))


def drawing_of(view: View, draw: Callable[[str], str]) -> Drawing:
    """Draw for the screen that asks, for both widths where it hasn't said how wide it is.

    Parameters
    ----------
    view : View
        Says how wide the screen is.
    draw : callable
        Gives the SVG for "wide" or "narrow".
    """
    asked = view.asked.get(WIDTH, "")
    wide, narrow = (draw(form) if asked in ("", form) else "" for form in FORMS)
    return Drawing(wide, narrow)


@lru_cache(maxsize=32)
def _year_chart(job: Job, form: str) -> str:
    from noonwater.drawing.year_chart import year_chart, year_chart_narrow

    year, pool = studied(job).year, job.pool
    if year is None:
        return ""
    draw = year_chart if form == "wide" else year_chart_narrow
    return draw(year, units=job.units, opens=pool.opens, closes=pool.closes)
