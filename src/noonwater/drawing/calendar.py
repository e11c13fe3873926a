"""The year along the sheet: months, days and the season, on a scale of 365 days."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from noonwater.climate.weather_year import MONTHS
from noonwater.core.units import System
from noonwater.model.pool import DAYS_BEFORE_MONTH, CalendarDay, day_of_year

DAYS = 365
MONTH_NAMES = tuple(name[:3] for name in MONTHS)


@dataclass(frozen=True)
class Span:
    """Days from the start of the first to the end of the last.

    Attributes
    ----------
    start, end : int
        Whole days since 1 January, 00:00; the end is not included. [d]
    """

    start: int
    end: int

    @property
    def days(self) -> int:
        """Its length. [d]."""
        return self.end - self.start


@dataclass(frozen=True)
class Season:
    """When the pool is open, as spans within the calendar year.

    Attributes
    ----------
    opens, closes : str
        'MM-DD', both days included.
    """

    opens: CalendarDay
    closes: CalendarDay

    @property
    def length(self) -> int:
        """Days open. [d]."""
        return (self._last - self._first) % DAYS + 1

    @property
    def open_spans(self) -> tuple[Span, ...]:
        """One span, or two where the season reaches over the year's end."""
        if self.length == DAYS:
            return (Span(0, DAYS),)
        if self._first <= self._last:
            return (Span(self._first, self._last + 1),)
        return (Span(0, self._last + 1), Span(self._first, DAYS))

    @property
    def closed_spans(self) -> tuple[Span, ...]:
        """What the open spans leave."""
        edges = [0, *(day for span in self.open_spans for day in (span.start, span.end)), DAYS]
        gaps = (Span(edges[i], edges[i + 1]) for i in range(0, len(edges), 2))
        return tuple(span for span in gaps if span.days > 0)

    @property
    def _first(self) -> int:
        return day_of_year(self.opens, "opens")

    @property
    def _last(self) -> int:
        return day_of_year(self.closes, "closes")


def month_spans() -> tuple[Span, ...]:
    """Give the twelve months."""
    return tuple(Span(start, end) for start, end in pairwise(DAYS_BEFORE_MONTH))


def day_name(day: CalendarDay, system: System) -> str:
    """Write a day in the order of its country: "Apr 1" or "1 Apr"."""
    month, _, date = day.partition("-")
    name = MONTH_NAMES[int(month) - 1]
    return f"{name} {int(date)}" if system == "US" else f"{int(date)} {name}"
