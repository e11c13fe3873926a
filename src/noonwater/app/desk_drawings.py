"""Drawings for the desk: each as a wide sheet and one for the telephone."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.app.desk import View


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
