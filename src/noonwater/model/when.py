"""Times of day, days of the year and months, as a job file writes them."""

from __future__ import annotations

import re
from typing import Annotated

from noonwater.core.field import Items, Text, Whole

_TWELVE_HOURS = re.compile(r"(0?[1-9]|1[0-2])(?::([0-5]\d))?\s*([ap])\.?m\.?", re.IGNORECASE)
_NAME_FIRST = re.compile(r"([A-Za-z]{3,9})\.?\s+(\d{1,2})", re.ASCII)
_NAME_LAST = re.compile(r"(\d{1,2})\.?\s+([A-Za-z]{3,9})\.?", re.ASCII)
_NAMES = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)


def minutes_of(time: str, name: str) -> int:
    """Minutes after midnight of 'HH:MM' or '8:30 pm'; '24:00' is the day's end."""
    if half := _TWELVE_HOURS.fullmatch(time.strip()):
        afternoon = half[3].lower() == "p"
        return (int(half[1]) % 12 + 12 * afternoon) * 60 + int(half[2] or 0)
    hours, _, minutes = time.partition(":")
    right = hours.isdecimal() and minutes.isdecimal() and len(minutes) == 2
    total = int(hours) * 60 + int(minutes) if right else -1
    if not right or int(minutes) > 59 or not 0 <= total <= 24 * 60:
        raise ValueError(f"{name} is '{time}'; allowed: a time of day such as '08:00' or '17:30'")
    return total


def plain_time(time: str) -> str:
    """Write a right time of day as 'HH:MM'."""
    minutes = minutes_of(time, "time")
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def minutes_between(start: str, stop: str) -> list[int]:
    """Minutes of the day from start up to stop, over midnight where stop is the earlier."""
    first, last = minutes_of(start, "start"), minutes_of(stop, "stop")
    if last <= first:
        last += 24 * 60
    return [minute % (24 * 60) for minute in range(first, last)]


def day_of_year(day: str, name: str) -> int:
    """Days from 1 January to 'MM-DD', 'April 15' or '15 Apr' in a year of 365."""
    month, _, date = _by_number(day).partition("-")
    if month.isdecimal() and date.isdecimal() and 1 <= int(month) <= 12:
        length = DAYS_BEFORE_MONTH[int(month)] - DAYS_BEFORE_MONTH[int(month) - 1]
        if 1 <= int(date) <= length:
            return DAYS_BEFORE_MONTH[int(month) - 1] + int(date) - 1
    raise ValueError(f"{name} is '{day}'; allowed: month and day such as '04-15' or 'April 15'")


def plain_day(day: str) -> str:
    """Write a right day of the year as 'MM-DD'."""
    month, _, date = _by_number(day).partition("-")
    return f"{int(month):02d}-{int(date):02d}"


def _by_number(day: str) -> str:
    """Put a month's number for its English name; other texts stay."""
    for pattern, month, date in ((_NAME_FIRST, 1, 2), (_NAME_LAST, 2, 1)):
        if (found := pattern.fullmatch(day.strip())) is not None:
            named = [n for n, name in enumerate(_NAMES, 1) if name.startswith(found[month].lower())]
            return f"{named[0]}-{found[date]}" if len(named) == 1 else day
    return day


def refuse_hours_and_months(on_from: str, on_until: str, months: tuple[int, ...]) -> None:
    """Raise ValueError for times and months that no clock or calendar has."""
    minutes_of(on_from, "on_from")
    minutes_of(on_until, "on_until")
    wrong = [month for month in months if not 1 <= month <= 12]
    if wrong:
        raise ValueError(f"months has {wrong}; allowed: whole numbers from 1 to 12")


ClockTime = Annotated[
    str,
    Text(
        "a time of day",
        minutes_of,
        r"^\s*(([01]?\d|2[0-4]):[0-5]\d|(0?[1-9]|1[0-2])(:[0-5]\d)?\s*[aApP]\.?[mM]\.?)\s*$",
        ("08:00", "17:30"),
        plain_time,
    ),
]
"""A time of day as 'HH:MM'; typed also as '8 am'."""
CalendarDay = Annotated[
    str,
    Text(
        "a day of the year",
        day_of_year,
        r"^\s*((0?[1-9]|1[0-2])-[0-3]?\d|[A-Za-z]{3,9}\.?\s+[0-3]?\d|[0-3]?\d\.?\s+[A-Za-z]{3,9}\.?)\s*$",
        ("04-15",),
        plain_day,
    ),
]
"""A day of any year as 'MM-DD'; typed also as 'April 15'."""
MonthNumber = Annotated[int, Whole("month, 1 for January", 1, 12)]
Months = Annotated[tuple[MonthNumber, ...], Items("months, 1 for January", 0, 12)]
"""Months of the year by number."""

ALL_YEAR = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
